package settings

import (
	"context"
	"errors"
	"strings"

	"fyne.io/fyne/v2"

	"coilward/model/wording"
	"coilward/ui/look"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// findingsShown is how many files that are not as they should be the page names.
const findingsShown = 12

// check is about reading every photo and backup again: how to, and what the last time
// found.
func (p *Page) check() fyne.CanvasObject {
	text := p.w.Text()
	parts := []fyne.CanvasObject{widgets.Para(text.Say("keeping.examine.what"), look.Body, look.Soft)}
	examine := widgets.Button(widgets.Plain, widgets.Act{Label: text.Say("keeping.examine"), Icon: "tick", Do: p.examine})
	if p.busy {
		examine.Disable()
	}
	acts := []fyne.CanvasObject{examine}
	if e := p.examined; e != nil {
		parts = append(parts, p.found(*e)...)
		if e.Mend != nil && !p.w.ReadOnly() {
			mend := widgets.Button(widgets.Plain, widgets.Act{Label: text.Say("keeping.examine.mend"), Icon: "undo", Do: p.mend})
			if p.busy {
				mend.Disable()
			}
			acts = append(acts, mend)
		}
	}
	return widgets.Col(look.S8, widgets.Col(look.S8, parts...), widgets.Wrap(look.S8, acts...))
}

// found says what was found, each file with what is wrong and what to do.
func (p *Page) found(e place.Examined) []fyne.CanvasObject {
	text := p.w.Text()
	var parts []fyne.CanvasObject
	if n := len(e.Found); n > 0 {
		parts = append(parts, widgets.Para(text.Count("keeping.examine.found", n, wording.Gaps{"When": e.At}), look.BodyBold, look.Days))
	} else {
		parts = append(parts, widgets.Para(text.Say("keeping.examine.good", wording.Gaps{"When": e.At, "Photos": e.Photos, "Backups": e.Backups}), look.Note, look.Often))
	}
	if e.Away {
		parts = append(parts, widgets.Para(text.Say("keeping.examine.away"), look.Note, look.Days))
	}
	for _, f := range e.Found[:min(len(e.Found), findingsShown)] {
		var said []string
		for _, key := range f.Keys {
			said = append(said, text.Say(key, wording.Gaps{"When": f.Good, "Twin": f.Twin}))
		}
		parts = append(parts, widgets.Col(0, widgets.Para(f.Path, look.NoteBold, look.Ink), widgets.Para(strings.Join(said, " "), look.Note, look.Ink)))
	}
	if more := len(e.Found) - findingsShown; more > 0 {
		parts = append(parts, widgets.Line(text.Count("keeping.examine.more", more), look.Note, look.Soft))
	}
	return parts
}

// examine reads every file off Fyne's goroutine.
func (p *Page) examine() {
	keeping := p.w.Keeping()
	var found place.Examined
	p.busy = true
	p.build()
	p.w.Task(p.w.Text().Say("keeping.examine.doing"), func(ctx context.Context, progress func(float64)) (err error) {
		found, err = keeping.Examine(ctx, progress)
		return err
	}, func(err error) {
		p.busy = false
		switch {
		case err == nil:
			p.examined = &found
		case !errors.Is(err, context.Canceled):
			p.w.Fault("keeping.examine.fault", err)
		}
		p.build()
	})
}

// mend brings the good copies, and looks again.
func (p *Page) mend() {
	mend := p.examined.Mend
	p.busy = true
	p.build()
	p.w.Task(p.w.Text().Say("keeping.examine.mending"), func(ctx context.Context, _ func(float64)) error {
		_, err := mend(ctx)
		return err
	}, func(err error) {
		p.busy = false
		if err != nil && !errors.Is(err, context.Canceled) {
			p.w.Fault("keeping.examine.mend-fault", err)
		}
		p.examine()
	})
}
