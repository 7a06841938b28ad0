package check

import (
	"context"
	"errors"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/collection"
	"coilward/model/exam"
	"coilward/model/photo"
	"coilward/model/written"
	"coilward/ui/look"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// Page is the place in which one animal is checked.
type Page struct {
	window  place.Window
	root    *fyne.Container
	animal  animals.Stored
	mass    model.Mass // last one noted; zero: none
	meal    care.AfterMeal
	rests   bool // after that meal, neither lifted nor felt yet
	session *session
	walk    *walkPage // nil on the end page
	layers  layers
	kept    *kept      // the kept check that is put right; nil: a new one
	paper   *fromPaper // the sheet that is typed in; nil: the check is made here
}

// kept is a check that is put right.
type kept struct {
	entry    model.EntryID
	revision uint32
	finished model.Moment
}

// layers is what the person has chosen to see on the drawing.
type layers struct{ organs bool }

var (
	_ place.Place   = (*Page)(nil)
	_ place.Actor   = (*Page)(nil)
	_ place.Keys    = (*Page)(nil)
	_ place.Dropper = (*Page)(nil)
)

// New makes the place; it reads nothing before it is shown.
func New(w place.Window) *Page {
	return &Page{window: w, root: container.NewStack()}
}

// Content implements place.Place.
func (p *Page) Content() fyne.CanvasObject { return p.root }

// Show begins a check of the route's animal, or goes on with the one that was
// broken off. A route whose page is an entry puts that kept check right; one whose page is
// the code of a sheet, or place.FromPaper, types in a sheet.
func (p *Page) Show(r place.Route) {
	animal := model.AnimalID{ID: r.Subject}
	if paper, ok := paperOf(p.window, r); ok {
		p.showPaper(paper, animal)
		return
	}
	entry, err := model.ParseID(r.Page)
	if err != nil {
		p.window.Fault("check.begin", err)
		return
	}
	if p.session != nil && p.paper == nil && p.session.draft.Animal == animal && p.entry() == entry {
		p.draw()
		return
	}
	begun, err := p.begin(animal, model.EntryID{ID: entry})
	if err != nil {
		p.window.Fault("check.begin", err)
		return
	}
	p.session, p.walk = begun, nil
	p.draw()
}

// showPaper shows the page on which a sheet is typed in.
func (p *Page) showPaper(paper *fromPaper, animal model.AnimalID) {
	same := p.session != nil && p.paper != nil && p.session.draft.Animal == animal && p.paper.typed.Uncoded == paper.typed.Uncoded
	if !same || !paper.typed.Uncoded && p.paper.sheet != paper.sheet {
		begun, err := p.beginPaper(paper, animal)
		if err != nil {
			p.window.Fault("check.begin", err)
			return
		}
		p.session, p.walk = begun, nil
	}
	p.draw()
	if p.paper.page != nil {
		p.paper.page.toLine()
	}
}

// entry is the kept check that is put right, zero for a new one.
func (p *Page) entry() model.ID {
	if p.kept == nil {
		return model.ID{}
	}
	return p.kept.entry.ID
}

func (p *Page) begin(animal model.AnimalID, entry model.EntryID) (*session, error) {
	start, err := gather(p.window, animal)
	if err != nil {
		return nil, err
	}
	p.animal, p.mass, p.kept, p.paper = start.animal, start.mass, nil, nil
	p.meal, p.rests = start.meal, start.rests
	draft := exam.Begin(p.window.Tables(), start.beginning)
	if !entry.IsZero() {
		if p.kept, draft, err = reopen(p.window, p.animal, entry); err != nil {
			return nil, err
		}
	}
	if earlier, broken := p.broughtBack(); broken {
		draft = earlier.Draft
	}
	return newSession(p.window.Tables(), p.window.Text(), draft, start.beginning.Problems), nil
}

// subject is what the draft is kept under: the animal, or the check that is put
// right or that a sheet becomes.
func (p *Page) subject() model.ID {
	if p.paper != nil {
		return p.paper.sheet.ID
	}
	if p.kept != nil {
		return p.kept.entry.ID
	}
	return p.animal.ID.ID
}

// broughtBack is the draft that was broken off. One that cannot be read is set
// aside, and said. Nothing was typed of one that was no sheet's.
func (p *Page) broughtBack() (written.Draft, bool) {
	raw, err := p.window.Drafts().Read(p.subject())
	if errors.Is(err, model.ErrNotFound) {
		return written.Draft{}, false
	}
	var d written.Draft
	if err == nil {
		d, err = written.ReadDraft(raw)
	}
	if err == nil {
		err = d.Sound(p.window.Tables())
	}
	if err == nil && d.Animal == p.animal.ID {
		d.Draft = d.Resume(p.window.Tables())
		return d, true
	}
	if name, setErr := p.window.Drafts().SetAside(p.subject()); setErr == nil {
		t := p.window.Text()
		p.window.Tell(t.Say("check.draft.unreadable.title"), t.Say("check.draft.unreadable", map[string]any{"File": name}))
	} else {
		p.window.Fault("check.draft", errors.Join(err, setErr))
	}
	return written.Draft{}, false
}

// Hide implements place.Place. The draft was kept at every change.
func (p *Page) Hide() {}

// Changed implements place.Place: the animal's name or photo may be another.
func (p *Page) Changed(collection.Change) {
	if p.session == nil {
		return
	}
	if start, err := gather(p.window, p.session.draft.Animal); err == nil {
		p.animal, p.mass = start.animal, start.mass
	}
}

// keep stores the draft. A draft that cannot be kept is said, and the check goes
// on: it is still on the screen.
func (p *Page) keep() {
	var draft any = p.session.draft
	if p.paper != nil {
		draft = p.sheetDraft()
	}
	if err := p.window.Drafts().Save(p.subject(), draft); err != nil {
		p.window.Fault("check.draft", err)
	}
}

// draw shows the stop one is at, or the end page.
func (p *Page) draw() {
	if p.session.draft.AtEnd() {
		p.walk = nil
		p.root.Objects = []fyne.CanvasObject{p.endPage()}
	} else if p.paper != nil {
		if p.paper.page == nil {
			p.paper.page = newPaperPage(p)
		}
		p.root.Objects = []fyne.CanvasObject{p.paper.page.content}
		p.paper.page.show()
	} else {
		if p.walk == nil {
			p.walk = newWalkPage(p)
			p.root.Objects = []fyne.CanvasObject{p.walk.content}
		}
		p.walk.show()
	}
	p.root.Refresh()
	p.window.ActionsChanged()
}

// changed keeps the draft and shows it.
func (p *Page) changed() {
	p.keep()
	p.draw()
}

// press forwards a key and says where it is refused.
func (p *Page) press(key exam.Key) {
	if p.session == nil {
		return
	}
	if p.paper != nil {
		p.pressPaper(key)
		return
	}
	err := p.session.press(key, p.window.Now())
	var refusal *model.Refusal
	if errors.As(err, &refusal) {
		p.walk.refuse(p.window.Text().Refusal(refusal))
		return
	}
	p.changed()
}

// pressPaper does what a key does while a sheet is typed in: from the end one goes back to
// its lines.
func (p *Page) pressPaper(key exam.Key) {
	if key == exam.KeyBack && p.session.draft.AtEnd() {
		p.goTo(len(p.session.draft.Stops) - 1)
		p.paper.page.toLine()
	}
}

// TypedRune implements place.Keys: the numpad, and the letters of the details.
func (p *Page) TypedRune(r rune) {
	switch {
	case p.session == nil:
	case strings.ContainsRune("0123456789.,-+", r):
		p.press(exam.Key(r))
	case p.walk != nil:
		p.walk.letter(r)
	}
}

// TypedKey implements place.Keys.
func (p *Page) TypedKey(k *fyne.KeyEvent) {
	if p.session == nil {
		return
	}
	switch k.Name {
	case fyne.KeyReturn, fyne.KeyEnter:
		if p.session.draft.AtEnd() {
			p.finish()
			return
		}
		p.press(exam.KeyEnter)
	case fyne.KeyEscape:
		if p.walk != nil && p.walk.clearTyped() {
			p.window.Focus(nil)
			return
		}
		p.pause()
	case fyne.KeyUp, fyne.KeyDown, fyne.KeyLeft, fyne.KeyRight:
		if p.paper == nil {
			p.move(k.Name)
		}
	}
}

// move goes to the stop before or behind, or moves the chosen finding.
func (p *Page) move(key fyne.KeyName) {
	switch key {
	case fyne.KeyUp:
		p.goTo(p.session.draft.Index - 1)
	case fyne.KeyDown:
		p.goTo(p.session.draft.Index + 1)
	case fyne.KeyLeft:
		p.nudge(-1)
	case fyne.KeyRight:
		p.nudge(1)
	}
}

// goTo goes to a stop without answering the one that is left.
func (p *Page) goTo(index int) {
	p.session.take(p.session.draft.Go(index))
	p.changed()
}

// nudge moves the chosen finding along the body: a millimetre where the animal's
// length is known, a tenth of a percent otherwise.
func (p *Page) nudge(step int) {
	if p.session.nudge(step, p.animal.Length.SnoutVent.Tenths) {
		p.changed()
	}
}

// pause leaves the check as it is; it goes on from here next time.
func (p *Page) pause() {
	p.keep()
	p.window.Back()
}

// finish keeps the check and goes to the animal.
func (p *Page) finish() { p.finishTo(place.Route{To: place.Animal, Page: "body"}) }

// finishAndPrint keeps the check and goes to the animal's papers.
func (p *Page) finishAndPrint() { p.finishTo(place.Route{To: place.Papers}) }

func (p *Page) finishTo(next place.Route) {
	draft := p.session.draft
	next.Subject = draft.Animal.ID
	make, err := p.keeps()
	if err != nil {
		p.refused(err)
		return
	}
	p.window.Do(make, func(err error) {
		if p.refused(err) || err != nil {
			return
		}
		p.done()
		p.window.Go(next)
	})
}

// keeps is what keeps the check; the error is a *model.Refusal.
func (p *Page) keeps() (func(place.Answer) model.Command, error) {
	if p.paper != nil {
		return p.keepPaper()
	}
	draft := p.session.draft
	return func(place.Answer) model.Command {
		if p.kept != nil {
			return exam.Change{Tables: p.window.Tables(), Entry: p.kept.entry, Based: p.kept.revision, Walk: draft.Walk, By: p.window.By(), At: p.kept.finished}
		}
		return exam.Finish{Tables: p.window.Tables(), Draft: draft, By: p.window.By(), At: p.window.Now()}
	}, nil
}

// refused says why a check cannot be kept; it is false where that is not refused.
func (p *Page) refused(err error) bool {
	var refusal *model.Refusal
	if !errors.As(err, &refusal) {
		return false
	}
	t := p.window.Text()
	p.window.Tell(t.Say("check.refused"), t.Refusal(refusal))
	return true
}

// done forgets the draft of a check that is kept or was put away.
func (p *Page) done() {
	if err := p.window.Drafts().Discard(p.subject()); err != nil {
		p.window.Fault("check.draft", err)
	}
	p.session, p.walk, p.kept, p.paper = nil, nil, nil, nil
}

// putAway asks, and then throws the whole draft away.
func (p *Page) putAway() {
	t := p.window.Text()
	var close func()
	close = p.window.ShowSheet(widgets.Sheet{
		Title:   t.Say("check.put-away.title"),
		Content: widgets.Para(t.Say("check.put-away.ask", map[string]any{"Name": p.animal.Name}), bodyText, inkTone),
		Width:   440,
		Cancel:  t.Say("check.put-away.no"),
		Acts: []widgets.Act{{Label: t.Say("check.put-away.yes"), Do: func() {
			close()
			animal := p.session.draft.Animal.ID
			p.done()
			p.window.Go(place.Route{To: place.Animal, Subject: animal})
		}}},
	})
}

// Actions implements place.Actor.
func (p *Page) Actions() []place.Action {
	if p.session == nil {
		return nil
	}
	t := p.window.Text()
	list := []place.Action{
		{Label: t.Say("check.act.pause"), Menu: place.MenuEntry, Key: fyne.KeyW, Do: p.pause},
		{Label: t.Say("check.act.end"), Menu: place.MenuEntry, Key: fyne.KeyE, Off: p.session.draft.AtEnd(), Do: func() { p.goTo(len(p.session.draft.Stops)) }},
		{Label: t.Say("check.act.put-away"), Menu: place.MenuEntry, Key: fyne.KeyX, Modifier: fyne.KeyModifierShortcutDefault | fyne.KeyModifierShift, Do: p.putAway},
	}
	if p.walk != nil {
		list = append(list, p.walk.actions()...)
	}
	return list
}

// Dropped implements place.Dropper: pictures go to the chosen finding.
func (p *Page) Dropped(paths []string) {
	if p.session == nil || p.session.chosen < 0 {
		t := p.window.Text()
		p.window.Tell(t.Say("check.photo.nowhere.title"), t.Say("check.photo.nowhere"))
		return
	}
	for _, path := range paths {
		p.addPhoto(path)
	}
}

// addPhoto stores a picture and gives it to the finding that is chosen now.
func (p *Page) addPhoto(path string) {
	t, chosen, draft := p.window.Text(), p.session.chosen, p.session.draft
	if chosen < 0 || chosen >= len(draft.Findings) {
		return
	}
	finding := draft.Findings[chosen]
	var kept photo.Kept
	p.window.Task(t.Say("check.photo"), func(context.Context, func(float64)) (err error) {
		kept, err = p.window.Photos().KeepFile(path)
		return err
	}, func(err error) {
		var refusal *model.Refusal
		switch {
		case errors.As(err, &refusal):
			p.window.Tell(t.Say("check.photo.refused"), t.Refusal(refusal))
		case err != nil:
			p.window.Fault("check.photo", err)
		case p.session == nil || p.session.draft.Check != draft.Check || chosen >= len(p.session.draft.Findings) || !p.session.draft.Findings[chosen].Is(finding):
			p.window.Tell(t.Say("check.photo.nowhere.title"), t.Say("check.photo.gone"))
		default:
			p.givePhoto(chosen, kept)
		}
	})
}

// givePhoto gives a photo to a finding. Where its camera says another day than that of
// the finding, it is asked whether it shows what is seen now.
func (p *Page) givePhoto(chosen int, kept photo.Kept) {
	t, draft := p.window.Text(), p.session.draft
	finding := draft.Findings[chosen]
	give := func() {
		if p.session != nil && p.session.draft.Check == draft.Check && chosen < len(p.session.draft.Findings) && p.session.draft.Findings[chosen].Is(finding) && p.session.addPhoto(chosen, kept.ID) {
			p.changed()
		}
	}
	at, other := photo.OtherDay([]photo.Taken{kept.Taken}, finding.At.Day(), p.window.Now())
	if !other {
		give()
		return
	}
	var leave func()
	leave = p.window.ShowSheet(widgets.Sheet{Title: t.Say("check.photo.other-day.title", map[string]any{"Day": at.Day()}),
		Content: widgets.Para(t.Say("check.photo.other-day", map[string]any{"Day": finding.At.Day()}), look.Body, look.Ink),
		Acts:    []widgets.Act{{Label: t.Say("check.photo.other-day.keep"), Do: func() { leave(); give() }}},
		Cancel:  t.Say("check.photo.other-day.leave")})
}
