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
	"coilward/model/animals"
	"coilward/model/collection"
	record "coilward/model/handover"
	"coilward/model/newcomers"
	"coilward/ui/look"
	"coilward/ui/particulars"
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
	stand    record.Stand // to the collection; nothing where there is none
	portrait image.Image
	called   *widgets.Field
	which    *particulars.Pick // of the animals here; nil: there is nothing to ask
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
	from := p.w.Collection()
	if p.begin != nil {
		from = nil
	}
	var papers *handover.Papers
	var told handover.Told
	var stand record.Stand
	var portrait image.Image
	p.w.Task(p.say("handover.opening"), func(context.Context, func(float64)) (err error) {
		var shut func() error
		if papers, shut, err = handover.OpenFile(path); err != nil {
			return err
		}
		defer func() { err = errors.Join(err, shut()) }()
		told, portrait = handover.Tell(papers, tables, text), portraitOf(papers)
		if from == nil {
			return nil
		}
		err = from.View(func(v model.View) (err error) {
			stand, err = record.StandOf(v, papers.Record, papers.Key.Fingerprint(), papers.Sum)
			return err
		})
		told.Compared = handover.Compared(papers, stand, text)
		return err
	}, func(err error) {
		switch {
		case p.path != path: // another was asked for meanwhile
		case err != nil:
			p.refused(err)
		default:
			p.papers, p.told, p.stand, p.portrait = papers, told, stand, portrait
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
	said := widgets.Col(look.S16, head)
	if len(p.told.Compared) > 0 {
		said.Add(caution(p.told.Compared))
	}
	said.Add(seal)
	top := said
	if p.portrait != nil {
		picture := canvas.NewImageFromImage(p.portrait)
		picture.FillMode = canvas.ImageFillContain
		top = widgets.Col(0, widgets.RowTop(look.S24, widgets.Fix(160, 160, picture), widgets.Grow(said)))
	}
	page := widgets.Col(look.S24, top, p.acts(),
		widgets.RowTop(look.S24, widgets.Grow(left), widgets.Grow(right)),
		widgets.Para(p.told.Caution, look.Body, look.Soft))
	p.put(widgets.Scroll(widgets.Pad(page, look.S24, look.S24)))
}

// caution is what has to be known before the rest is read.
func caution(lines []string) fyne.CanvasObject {
	said := widgets.Col(look.S8)
	for _, line := range lines {
		said.Add(widgets.RowTop(look.S8, widgets.NewIcon("caution", 20, look.Today), widgets.Grow(widgets.Para(line, look.Body, look.Ink))))
	}
	return widgets.Tinted(look.TodayBg, look.S16, look.S16, said)
}

func (p *Page) card(part handover.Part) fyne.CanvasObject {
	lines := widgets.Col(look.S8)
	for _, line := range part.Lines {
		lines.Add(widgets.Para(line, look.Body, look.Ink))
	}
	return widgets.Card(look.S24, widgets.Col(look.S12, widgets.Para(part.Title, look.Section, look.Ink), lines)) // the title has room in a narrow window too
}

// acts are what can be done with the papers.
func (p *Page) acts() fyne.CanvasObject {
	save := widgets.Button(widgets.Plain, widgets.Act{Label: p.say("handover.save"), Icon: "papers", Do: p.save})
	if p.begin != nil {
		return widgets.Wrap(look.S8,
			widgets.Button(widgets.Primary, widgets.Act{Label: p.say("handover.begin"), Icon: "newcomer", Do: p.begin}), save,
			widgets.Button(widgets.Quiet, widgets.Act{Label: p.say("window.back"), Do: p.leave}))
	}
	p.called, p.which = nil, nil
	if here := p.name(p.stand.Here); here != "" {
		return widgets.Col(look.S8, widgets.Para(p.say("handover.here", map[string]any{"Name": here}), look.Body, look.Ink), p.taking(p.stand.Lives))
	}
	p.called = widgets.NewField(p.told.Name, widgets.FieldOptions{Label: p.say("handover.called")})
	called := widgets.Fix(320, 0, p.called.Container)
	form := widgets.Wrap(look.S16, called)
	all := widgets.Col(look.S8, form)
	comes, more := p.taking(false), p.taking(true)
	more.Hide()
	if len(p.stand.Candidates) > 0 {
		p.which = p.picking()
		p.which.OnPicked = func() {
			into, chosen := p.into()
			show(called, !chosen)
			show(comes, !into.Lives)
			show(more, into.Lives)
			form.Refresh()
			all.Refresh()
		}
		form.Add(widgets.Fix(320, 0, p.which.Container))
		if first := p.stand.Candidates[0]; first.SameChip {
			all.Add(widgets.Para(p.say("handover.which.chip-said", map[string]any{"Name": first.Name}), look.Body, look.Ink))
		}
		all.Add(widgets.Para(p.say("handover.which.what"), look.Note, look.Soft))
	}
	all.Add(comes)
	all.Add(more)
	return all
}

func show(o fyne.CanvasObject, yes bool) {
	if yes {
		o.Show()
	} else {
		o.Hide()
	}
}

// taking are the ways to take it in: as a newcomer, or what is new of one that is here.
func (p *Page) taking(lives bool) *fyne.Container {
	take, what := "handover.take", "handover.take.what"
	if lives {
		take, what = "handover.take.more", "handover.take.more-what"
	}
	act := widgets.Button(widgets.Primary, widgets.Act{Label: p.say(take), Icon: "newcomer", Do: p.take})
	if p.w.ReadOnly() {
		act.Disable()
	}
	save := widgets.Button(widgets.Plain, widgets.Act{Label: p.say("handover.save"), Icon: "papers", Do: p.save})
	return widgets.Col(look.S8, widgets.Wrap(look.S8, act, save), widgets.Para(p.say(what), look.Note, look.Soft))
}

// picking is the choice of which animal here it is.
func (p *Page) picking() *particulars.Pick {
	var values []string
	var choices []widgets.Choice
	for _, c := range p.stand.Candidates {
		choice := widgets.Choice{Label: c.Name}
		if c.SameChip {
			choice.Detail = p.say("handover.which.chip")
		}
		values, choices = append(values, c.ID.String()), append(choices, choice)
	}
	return particulars.NewPick(p.w, p.say("handover.which"), p.say("handover.which.new"), values, choices, "")
}

// name is what an animal here is called; empty: it is not here.
func (p *Page) name(id model.AnimalID) (name string) {
	if id.IsZero() {
		return ""
	}
	err := p.w.Collection().View(func(v model.View) error {
		a, err := animals.Find(v, id)
		name = a.Name
		return err
	})
	if err != nil {
		p.w.Fault("handover.failed", err)
	}
	return name
}

// into is the animal here that was chosen; chosen is false for a new one, or the one with
// its id.
func (p *Page) into() (c record.Candidate, chosen bool) {
	if p.which == nil {
		return c, false
	}
	for _, c := range p.stand.Candidates {
		if c.ID.String() == p.which.Value() {
			return c, true
		}
	}
	return c, false
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

// take takes the animal in. What is asked is asked, and what is refused is refused, before
// a photo is kept.
func (p *Page) take() {
	if p.busy {
		return
	}
	p.busy = true
	papers := p.papers
	into, _ := p.into()
	c := record.TakeIn{Tables: p.w.Tables(), Record: papers.Record, Key: papers.Key.Fingerprint(), Sum: papers.Sum, Into: into.ID, At: p.w.Now(), Protocol: newcomers.Usual, By: p.w.By()}
	if p.called != nil {
		c.Called = p.called.Text()
	}
	for i := range papers.Photos() { // a photo is kept under its sum
		c.Photos = append(c.Photos, model.PhotoID(papers.PhotoSum(i)))
	}
	p.w.Do(func(a place.Answer) model.Command {
		c.Confirmed = a.Confirmed
		return rehearsed{c}
	}, func(err error) {
		if err != nil {
			p.taken(c, err)
			return
		}
		p.keep(c)
	})
}

// rehearsed is a command that is planned, with all that it asks and refuses, and writes nothing.
type rehearsed struct{ model.Command }

// Plan is the command's own refusal, or nothing to write.
func (r rehearsed) Plan(v model.View) (model.Writes, error) {
	_, err := r.Command.Plan(v)
	return model.Writes{}, err
}

// keep keeps the photos, then takes the animal in. Photos that cannot be read are left out,
// and said.
func (p *Page) keep(c record.TakeIn) {
	photos, left := p.w.Photos(), 0
	p.w.Task(p.say("handover.taking"), func(ctx context.Context, progress func(float64)) (err error) {
		now, shut, err := p.again()
		if err != nil {
			return err
		}
		defer func() { err = errors.Join(err, shut()) }()
		for i := range c.Photos {
			if err := ctx.Err(); err != nil {
				return err
			}
			raw, err := now.Photo(i)
			if err != nil {
				return err
			}
			one, err := photos.Keep(fmt.Sprintf("%d.jpg", i+1), bytes.NewReader(raw))
			var refusal *model.Refusal
			switch {
			case errors.As(err, &refusal):
				left++
			case err != nil:
				return err
			}
			c.Photos[i] = one.ID
			progress(float64(i+1) / float64(len(c.Photos)))
		}
		return nil
	}, func(err error) {
		if err != nil {
			p.busy = false
			p.w.Fault("handover.failed", err)
			return
		}
		p.w.Do(func(a place.Answer) model.Command {
			c.Confirmed = append(c.Confirmed, a.Confirmed...)
			return c
		}, func(err error) {
			p.taken(c, err)
			if err == nil && left > 0 {
				p.w.Tell(p.told.Name, p.say("handover.photos.left", map[string]any{"Number": left}))
			}
		})
	})
}

// taken goes to the animal, or says why it was not taken in.
func (p *Page) taken(c record.TakeIn, err error) {
	p.busy = false
	var refusal *model.Refusal
	switch {
	case err == nil:
		p.w.Go(place.Route{To: place.Animal, Subject: p.here(c).ID})
	case errors.As(err, &refusal) && refusal.Field == "name" && p.called != nil:
		p.called.Refuse(p.w.Text().Why(refusal))
	case errors.As(err, &refusal) && refusal.Field == "into" && p.which != nil:
		p.which.Refuse(p.w.Text().Why(refusal))
	case errors.As(err, &refusal):
		p.w.Tell(p.say("handover.failed"), p.w.Text().Refusal(refusal))
	}
}

// here is the animal as which papers were taken in.
func (p *Page) here(c record.TakeIn) model.AnimalID {
	id := c.Record.Animal.ID
	err := p.w.Collection().View(func(v model.View) error {
		t, _, known, err := record.TakenOf(v, id)
		if known {
			id = t.Here()
		}
		return err
	})
	if err != nil {
		p.w.Fault("handover.failed", err)
	}
	return id
}
