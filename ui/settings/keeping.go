package settings

import (
	"context"
	"log/slog"
	"maps"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/comparing"
	"coilward/model/photo"
	"coilward/model/wording"
	"coilward/ui/look"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// backupsShown is how many backups the page lists.
const backupsShown = 8

// keeping is the group about where the collection lies and its backups.
func (p *Page) keeping() fyne.CanvasObject {
	text, keeping := p.w.Text(), p.w.Keeping()
	if keeping.Folder() == "" {
		return widgets.Card(look.S24, widgets.Group(text.Say("window.settings.collection"), text.Say("window.settings.sample")))
	}
	folder := widgets.Col(look.S4, widgets.Line(text.Say("window.settings.folder"), look.NoteBold, look.Soft),
		widgets.Line(keeping.Folder(), look.Body, look.Ink).Cuts())
	backUp := widgets.Button(widgets.Plain, widgets.Act{Label: text.Say("window.settings.backup"), Icon: "plus", Do: p.backUp})
	if p.w.ReadOnly() {
		backUp.Disable()
	}
	acts := widgets.Wrap(look.S8,
		widgets.Button(widgets.Plain, widgets.Act{Label: text.Say("window.settings.show"), Icon: "open", Do: func() { p.w.Open(keeping.Folder()) }}),
		widgets.Button(widgets.Plain, widgets.Act{Label: text.Say("window.settings.other"), Icon: "folder", Do: p.w.ChooseCollection}), backUp)
	parts := append([]fyne.CanvasObject{folder, acts, p.second(), p.check()}, p.backups()...)
	return widgets.Card(look.S24, widgets.Group(text.Say("window.settings.collection"), "", parts...))
}

// second is about the second place for backups: which it is, whether everything is
// there, and what to do where it is not.
func (p *Page) second() fyne.CanvasObject {
	text := p.w.Text()
	second, err := p.w.Keeping().Second()
	if err != nil {
		p.w.Fault("keeping.second.unread", err)
	}
	choose := func(label string) fyne.CanvasObject {
		press := widgets.Button(widgets.Plain, widgets.Act{Label: text.Say(label), Icon: "folder", Do: func() { p.w.ChooseFolder(p.chooseSecond) }})
		if p.w.ReadOnly() {
			press.Disable()
		}
		return press
	}
	parts := []fyne.CanvasObject{widgets.Line(text.Say("keeping.second"), look.NoteBold, look.Soft)}
	if second.Folder == "" {
		parts = append(parts, widgets.Para(text.Say("keeping.second.none"), look.Body, look.Soft))
		return widgets.Col(look.S8, widgets.Col(look.S4, parts...), widgets.Wrap(look.S8, choose("keeping.second.choose")))
	}
	parts = append(parts, widgets.Line(second.Folder, look.Body, look.Ink).Cuts(), p.stands(second))
	if second.Photos > 0 {
		parts = append(parts, widgets.Para(text.Count("keeping.second.photos", second.Photos), look.Note, look.Days))
	}
	return widgets.Col(look.S8, widgets.Col(look.S4, parts...), widgets.Wrap(look.S8, choose("keeping.second.other"),
		widgets.Button(widgets.Plain, widgets.Act{Label: text.Say("keeping.second.leave"), Do: func() { p.chooseSecond("") }})))
}

// stands says whether everything is at the second place.
func (p *Page) stands(second place.Second) fyne.CanvasObject {
	text := p.w.Text()
	switch {
	case second.Why != "":
		return widgets.Para(text.Say("keeping.second.why-"+second.Why, wording.Gaps{"Since": second.Since})+" "+text.Say("keeping.second.first-goes-on"), look.Note, look.Days)
	case second.Photos > 0:
		return widgets.Para(text.Say("keeping.second.part", wording.Gaps{"When": second.Whole}), look.Note, look.Soft)
	case second.Whole != (model.Moment{}):
		return widgets.Para(text.Say("keeping.second.whole", wording.Gaps{"When": second.Whole}), look.Note, look.Often)
	}
	return widgets.Para(text.Say("keeping.second.never"), look.Note, look.Soft)
}

// chooseSecond remembers a second place and brings to it at once what it lacks.
func (p *Page) chooseSecond(folder string) {
	if phone := p.w.Settings().Phone; folder != "" && phone != "" && photo.Within(folder, phone) {
		p.w.Fault("keeping.second.not-chosen", &model.Refusal{Field: "second", Value: folder, Reason: "second.inbox", Answer: model.Mend})
		return
	}
	if err := p.w.Keeping().ChooseSecond(folder); err != nil {
		p.w.Fault("keeping.second.not-chosen", err)
		return
	}
	if folder == "" {
		p.build()
		return
	}
	p.backUp()
}

// backups lists the newest backups, each with whether it was read back whole.
func (p *Page) backups() []fyne.CanvasObject {
	text := p.w.Text()
	all, err := p.w.Keeping().Backups()
	if err != nil {
		p.w.Fault("window.fault.read", err)
	}
	p.listed = nil
	if len(all) == 0 {
		return []fyne.CanvasObject{widgets.Para(text.Say("window.settings.nobackup"), look.Body, look.Soft)}
	}
	rows := []fyne.CanvasObject{widgets.Line(text.Say("window.settings.backups"), look.NoteBold, look.Soft)}
	p.listed = all[:min(len(all), backupsShown)]
	for _, b := range p.listed {
		rows = append(rows, p.backup(b))
	}
	if more := len(all) - backupsShown; more > 0 {
		rows = append(rows, widgets.Line(text.Count("window.settings.more", more), look.Note, look.Soft))
	}
	return []fyne.CanvasObject{widgets.Col(look.S4, rows...)}
}

// lookInto counts what the listed backups hold that were not counted yet, and shows
// it. What could not be counted, or was stopped, is tried again when the page is gone
// to again.
func (p *Page) lookInto() {
	if p.counting {
		return
	}
	var fresh []place.Backup
	for _, b := range p.listed {
		if _, known := p.holds[b.Path]; !known && !p.asked[b.Path] {
			fresh = append(fresh, b)
			p.asked[b.Path] = true
		}
	}
	if len(fresh) == 0 {
		return
	}
	p.counting = true
	keeping := p.w.Keeping()
	found := map[string]comparing.Side{}
	p.w.Task(p.w.Text().Say("keeping.counting"), func(ctx context.Context, _ func(float64)) error {
		for _, b := range fresh {
			if ctx.Err() != nil {
				return ctx.Err()
			}
			side, err := keeping.Holds(b)
			if err != nil { // the row says nothing of it; restoring says why
				slog.Warn("look into a backup", "error", err)
				continue
			}
			found[b.Path] = side
		}
		return nil
	}, func(error) {
		p.counting = false
		maps.Copy(p.holds, found)
		if len(found) > 0 {
			p.build()
			return
		}
		p.lookInto() // others may have been listed meanwhile
	})
}

func (p *Page) backup(b place.Backup) fyne.CanvasObject {
	text := p.w.Text()
	icon, tone, word := "tick", look.Often, text.Say("window.settings.verified")
	switch {
	case b.Aside:
		icon, tone, word = "undo", look.Soft, text.Say("keeping.aside")
	case !b.Verified:
		icon, tone, word = "caution", look.Days, text.Say("window.settings.unverified")
	}
	switch {
	case b.Second && b.Here:
		word = text.Say("keeping.both", wording.Gaps{"What": word})
	case b.Second:
		word = text.Say("keeping.there", wording.Gaps{"What": word})
	}
	if side, counted := p.holds[b.Path]; counted {
		word = text.Say("keeping.holds", wording.Gaps{"What": word, "Animals": side.Animals, "Entries": side.Entries})
	}
	size := text.Say("window.settings.size", wording.Gaps{"Size": text.Decimal(max((b.Bytes+50_000)/100_000, 1), 1)})
	return widgets.Row(look.S8, widgets.NewIcon(icon, 16, tone), widgets.Grow(widgets.Col(0, widgets.Line(text.Moment(b.At), look.Body, look.Ink).Cuts(), widgets.Para(word, look.Note, tone))),
		widgets.Line(size, look.Note, look.Soft), p.restore(b))
}

// restore is the way back to a backup; one that was never read back is not
// offered. What was set aside is read whole before it is put back.
func (p *Page) restore(b place.Backup) fyne.CanvasObject {
	press := widgets.Button(widgets.Quiet, widgets.Act{Label: p.w.Text().Say("window.settings.restore"), Do: func() { p.w.Restore(b) }})
	if !b.Verified && !b.Aside || p.w.ReadOnly() {
		press.Disable()
	}
	return widgets.Fix(0, 32, press)
}

func (p *Page) backUp() { p.w.BackUp(p.build) }
