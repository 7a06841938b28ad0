// Package handover is the page for her papers: the signed file that came with an
// animal, told on one page, and the way to take the animal in with it. It can be
// shown without a collection.
package handover

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"image"
	"image/jpeg"
	"path/filepath"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"

	"coilward/export/handover"
	"coilward/export/paper"
	"coilward/model"
	"coilward/model/collection"
	record "coilward/model/handover"
	"coilward/model/newcomers"
	"coilward/ui/look"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// Page is the place; a route's page is the path of the file. It is used on Fyne's
// goroutine only.
type Page struct {
	w    place.Window
	root *fyne.Container
	path string
	// begin begins a collection, where there is none to take an animal into, and leave
	// goes away; nil: the page is a place of the window.
	begin, leave func()

	papers   *handover.Papers // as they were read; their file is closed
	told     handover.Told
	portrait image.Image
	called   *widgets.Field
	busy     bool
}

var _ place.Place = (*Page)(nil)

// New makes the place.
func New(w place.Window) *Page { return &Page{w: w, root: widgets.Stack()} }

// Alone is the page of a file where no collection is open: begin goes to where one is
// begun, leave back.
func Alone(w place.Window, path string, begin, leave func()) fyne.CanvasObject {
	p := New(w)
	p.begin, p.leave = begin, leave
	p.open(path)
	return p.root
}

// Content implements place.Place.
func (p *Page) Content() fyne.CanvasObject { return p.root }

// Show implements place.Place.
func (p *Page) Show(r place.Route) {
	if r.Page != "" {
		p.open(r.Page)
	}
}

// Hide implements place.Place.
func (p *Page) Hide() {}

// Changed implements place.Place.
func (p *Page) Changed(collection.Change) {}

func (p *Page) say(key string, gaps ...map[string]any) string { return p.w.Text().Say(key, gaps...) }

// put shows an object.
func (p *Page) put(o fyne.CanvasObject) {
	p.root.Objects = []fyne.CanvasObject{o}
	p.root.Refresh()
}

// open reads the file beside Fyne's goroutine and shows what it tells.
func (p *Page) open(path string) {
	p.path, p.papers, p.portrait = path, nil, nil
	p.put(widgets.EmptyPage(nil, p.say("handover.opening"), filepath.Base(path), widgets.Act{}))
	tables, text := p.w.Tables(), p.w.Text()
	var papers *handover.Papers
	var told handover.Told
	var portrait image.Image
	p.w.Task(p.say("handover.opening"), func(context.Context, func(float64)) (err error) {
		var shut func() error
		if papers, shut, err = handover.OpenFile(path); err != nil {
			return err
		}
		defer func() { err = errors.Join(err, shut()) }()
		told, portrait = handover.Tell(papers, tables, text), portraitOf(papers)
		return nil
	}, func(err error) {
		switch {
		case p.path != path: // another was asked for meanwhile
		case err != nil:
			p.refused(err)
		default:
			p.papers, p.told, p.portrait = papers, told, portrait
			p.build()
		}
	})
}

// mostPixels is the largest portrait that is shown: what is signed by a stranger may
// still be too large to make room for.
const mostPixels = 8_000_000

// portraitOf is the portrait, or nil where there is none that can be shown.
func portraitOf(p *handover.Papers) image.Image {
	for i, photo := range p.Record.Photos {
		if !photo.Portrait {
			continue
		}
		raw, err := p.Photo(i)
		if err != nil {
			return nil
		}
		if shown, err := jpeg.DecodeConfig(bytes.NewReader(raw)); err != nil || shown.Width*shown.Height > mostPixels {
			return nil
		}
		picture, err := jpeg.Decode(bytes.NewReader(raw))
		if err != nil {
			return nil
		}
		return picture
	}
	return nil
}

// refused says why a file is not told.
func (p *Page) refused(err error) {
	why := p.say("window.fault.reason", map[string]any{"Reason": err.Error()})
	var fault *handover.Fault
	if errors.As(err, &fault) {
		why = p.w.Text().Why(fault.Refusal())
	}
	acts := []widgets.Act{{Label: p.say("handover.other"), Icon: "open", Do: p.choose}}
	if p.leave != nil {
		acts = append(acts, widgets.Act{Label: p.say("window.back"), Do: p.leave})
	}
	p.put(widgets.EmptyPage(widgets.Disc("caution", 72, look.Today, look.TodayBg), p.say("handover.refused", map[string]any{"File": filepath.Base(p.path)}), why, acts[0], acts[1:]...))
}

func (p *Page) choose() { p.w.ChooseFile([]string{handover.Extension}, p.open) }

// build shows what the papers tell on one page.
func (p *Page) build() {
	head := widgets.Header(p.told.Name, p.told.Who)
	seal := widgets.Tinted(look.Well, look.S16, look.S16, widgets.Col(look.S8,
		widgets.Para(p.told.Seal, look.Body, look.Ink), widgets.Para(p.told.Issued, look.Note, look.Soft)))
	left := widgets.Col(look.S24, p.card(p.told.Checked))
	right := widgets.Col(look.S24, p.card(p.told.Not))
	top := widgets.Col(look.S16, head, seal)
	if p.portrait != nil {
		picture := canvas.NewImageFromImage(p.portrait)
		picture.FillMode = canvas.ImageFillContain
		top = widgets.Col(0, widgets.RowTop(look.S24, widgets.Fix(160, 160, picture), widgets.Grow(widgets.Col(look.S16, head, seal))))
	}
	page := widgets.Col(look.S24, top, p.acts(),
		widgets.RowTop(look.S24, widgets.Grow(left), widgets.Grow(right)),
		widgets.Para(p.told.Caution, look.Body, look.Soft))
	p.put(widgets.Scroll(widgets.Pad(page, look.S24, look.S24)))
}

func (p *Page) card(part handover.Part) fyne.CanvasObject {
	lines := widgets.Col(look.S8)
	for _, line := range part.Lines {
		lines.Add(widgets.Para(line, look.Body, look.Ink))
	}
	return widgets.Card(look.S24, widgets.Group(part.Title, "", lines))
}

// acts are what can be done with the papers.
func (p *Page) acts() fyne.CanvasObject {
	save := widgets.Button(widgets.Plain, widgets.Act{Label: p.say("handover.save"), Icon: "papers", Do: p.save})
	if p.begin != nil {
		return widgets.Wrap(look.S8,
			widgets.Button(widgets.Primary, widgets.Act{Label: p.say("handover.begin"), Icon: "newcomer", Do: p.begin}), save,
			widgets.Button(widgets.Quiet, widgets.Act{Label: p.say("window.back"), Do: p.leave}))
	}
	p.called = widgets.NewField(p.told.Name, widgets.FieldOptions{Label: p.say("handover.called")})
	take := widgets.Button(widgets.Primary, widgets.Act{Label: p.say("handover.take"), Icon: "newcomer", Do: p.take})
	if p.w.ReadOnly() {
		take.Disable()
	}
	return widgets.Col(look.S8, widgets.Fix(320, 0, p.called.Container), widgets.Wrap(look.S8, take, save),
		widgets.Para(p.say("handover.take.what"), look.Note, look.Soft))
}

// again opens the file once more, for what is done with it; one that is another by now is
// refused.
func (p *Page) again() (*handover.Papers, func() error, error) {
	now, shut, err := handover.OpenFile(p.path)
	if err != nil {
		return nil, nil, err
	}
	if now.Sum != p.papers.Sum || now.Key.Fingerprint() != p.papers.Key.Fingerprint() {
		return nil, nil, errors.Join(fmt.Errorf("open %s again: it is another file by now", filepath.Base(p.path)), shut())
	}
	return now, shut, nil
}

// save writes the printed record beside.
func (p *Page) save() {
	name := paper.FileName(".pdf", p.told.Name, p.papers.Record.Issued.Day.String())
	p.w.SaveAs(name, func(path string) {
		p.w.Task(p.say("papers.saving"), func(context.Context, func(float64)) (err error) {
			now, shut, err := p.again()
			if err != nil {
				return err
			}
			defer func() { err = errors.Join(err, shut()) }()
			return now.WritePaper(path)
		}, func(err error) {
			if err != nil {
				p.w.Fault("papers.not-saved", err)
				return
			}
			p.w.Tell(p.say("papers.saved"), path)
		})
	})
}

// take keeps the photos and takes the animal in.
func (p *Page) take() {
	if p.busy {
		return
	}
	p.busy = true
	papers, photos := p.papers, p.w.Photos()
	kept := make([]model.PhotoID, papers.Photos())
	p.w.Task(p.say("handover.taking"), func(ctx context.Context, progress func(float64)) (err error) {
		now, shut, err := p.again()
		if err != nil {
			return err
		}
		defer func() { err = errors.Join(err, shut()) }()
		for i := range kept {
			if err := ctx.Err(); err != nil {
				return err
			}
			raw, err := now.Photo(i)
			if err != nil {
				return err
			}
			one, err := photos.Keep(fmt.Sprintf("%d.jpg", i+1), bytes.NewReader(raw))
			if err != nil {
				return err
			}
			kept[i] = one.ID
			progress(float64(i+1) / float64(len(kept)))
		}
		return nil
	}, func(err error) {
		if err != nil {
			p.busy = false
			p.w.Fault("handover.failed", err)
			return
		}
		p.note(papers, kept)
	})
}

func (p *Page) note(papers *handover.Papers, kept []model.PhotoID) {
	p.w.Do(func(a place.Answer) model.Command {
		return record.TakeIn{Tables: p.w.Tables(), Record: papers.Record, Key: papers.Key.Fingerprint(), Sum: papers.Sum, Photos: kept, Called: p.called.Text(),
			At: p.w.Now(), Protocol: newcomers.Usual, By: p.w.By(), Confirmed: a.Confirmed}
	}, func(err error) {
		p.busy = false
		var refusal *model.Refusal
		switch {
		case err == nil:
			p.w.Go(place.Route{To: place.Animal, Subject: papers.Record.Animal.ID.ID})
		case errors.As(err, &refusal) && refusal.Field == "name":
			p.called.Refuse(p.w.Text().Why(refusal))
		case errors.As(err, &refusal):
			p.w.Tell(p.say("handover.failed"), p.w.Text().Refusal(refusal))
		}
	})
}
