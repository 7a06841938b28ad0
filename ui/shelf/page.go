// Package shelf is the home of the window: the rooms as they stand, box by box,
// with what is due, and the jobs that are done on that picture.
package shelf

import (
	"context"
	"errors"
	"slices"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/collection"
	"coilward/model/due"
	"coilward/model/exam"
	"coilward/model/husbandry"
	"coilward/model/round"
	"coilward/ui/jotting"
	"coilward/ui/look"
	"coilward/ui/place"
	"coilward/ui/widgets"
	"coilward/ui/widgets/shelfview"
)

// formWidth is the column that forms open in.
const formWidth float32 = 360

// Page is the shelf.
type Page struct {
	window place.Window
	house  *House
	rows   []Row         // in sight
	room   model.PlaceID // the tab; zero: the whole house
	today  model.Day
	stale  []model.AnimalID // changed since the page was last in sight
	moved  bool             // places or stays were
	tubed  bool             // samples, or who takes them, were
	turned bool             // something was taken back, or brought back

	walk    *Walk
	through *through // where the walk is a round
	job     setting  // what a walk was begun with
	sought  model.ID // what the route leads to; zero: nothing in particular
	// roomAsked tells that the route asks for a new room, which leads back.
	roomAsked bool
	typed     string // digits of the mass so far
	anew      bool   // the next digit begins a new mass
	notice    notice // stands at the stop until the next act
	note      string // goes with the next entry
	asked     model.Moment
	last      string // what was noted last, read back
	moving    *moving

	view             *shelfview.View
	jot              *jotting.Line   // kept over rebuilding, with what is typed in it
	jots             bool            // it is in sight
	said, choices    *fyne.Container // what the line says, and the jobs: one of the two is shown
	root, head, foot *fyne.Container
	column           *fyne.Container // head, body and foot
	body, side       *fyne.Container
	form             form
	lit              *lit // the walk's panel
}

// form is what stands in the side column.
type form interface {
	content() fyne.CanvasObject
	// enter is what Enter does.
	enter()
}

var (
	_ place.Place  = (*Page)(nil)
	_ place.Keys   = (*Page)(nil)
	_ place.Misser = (*Page)(nil)
	_ place.Actor  = (*Page)(nil)
	_ place.Jotter = (*Page)(nil)
	_ place.Undoer = (*Page)(nil)
)

// New makes the place; it reads nothing before it is shown.
func New(w place.Window) *Page {
	p := &Page{window: w, view: shelfview.New(viewWords(w.Text()))}
	p.view.OnOpen, p.view.OnMove = p.open, p.drop
	p.head, p.foot, p.body, p.side = widgets.Stack(), widgets.Stack(), widgets.Stack(), widgets.Stack()
	p.side.Hide()
	p.column = widgets.Col(look.S12, p.head, widgets.Grow(p.body), p.foot)
	page := widgets.Pad(p.column, look.S16, look.S24, look.S8, look.S24)
	p.root = widgets.RowFill(0, widgets.Grow(page), p.side)
	p.jot = jotting.New(w)
	p.jot.OnSaid = p.jotSaid
	return p
}

func (p *Page) say(key string, gaps ...map[string]any) string {
	return p.window.Text().Say(key, gaps...)
}

// Content implements place.Place.
func (p *Page) Content() fyne.CanvasObject { return p.root }

// Show implements place.Place. The page place.NewRoom asks for a room, and leads back
// once it stands.
func (p *Page) Show(r place.Route) {
	p.sought, p.roomAsked = r.Subject, r.Page == place.NewRoom
	today := p.window.Now().Day()
	if p.house == nil || today != p.today {
		p.today = today
		p.load()
		return
	}
	p.refresh(p.stale, p.moved)
	p.checked()
	p.seek()
}

// seek goes to the box of the route's subject: the box itself, or the one in
// which the animal lives.
func (p *Page) seek() {
	if p.roomAsked && p.house != nil && p.walk == nil && !p.window.ReadOnly() {
		p.roomAsked = false
		f := newRoomForm(p)
		f.Done = func() {
			p.leave()
			p.window.Back()
		}
		p.show(f)
		return
	}
	if p.sought.IsZero() || p.house == nil || p.walk != nil {
		return
	}
	find := func() (shelfview.At, bool) {
		for r, row := range p.rows {
			for b, box := range row.Boxes {
				if box.Place.ID.ID == p.sought || slices.Contains(animalsOf(box), model.AnimalID{ID: p.sought}) {
					return shelfview.At{Row: r, Box: b}, true
				}
			}
		}
		return shelfview.At{}, false
	}
	at, found := find()
	if !found && !p.room.IsZero() { // it is in another room
		p.room = model.PlaceID{}
		p.build()
		at, found = find()
	}
	p.sought = model.ID{}
	if found {
		p.view.SetCurrent(at)
		p.keys()
	}
}

// Hide implements place.Place. A walk goes on when the page is shown again, and a form
// with what was typed; the card of a box is left.
func (p *Page) Hide() {
	if _, is := p.form.(*card); is {
		p.form = nil
		p.build()
	}
}

// load reads everything, off the window's thread.
func (p *Page) load() {
	var house *House
	tables, now, kept, book := p.window.Tables(), p.window.Now(), p.window.Collection(), p.window.Due()
	p.window.Task(p.say("shelf.reading"), func(ctx context.Context, progress func(float64)) error {
		var all map[model.AnimalID]*Animal
		var places *husbandry.House
		var scales husbandry.Scales
		var tubes *Tubes
		err := kept.View(func(v model.View) (err error) {
			if all, err = LoadAnimals(v, tables, now, func(share float64) { progress(share / 2) }); err == nil {
				places, err = husbandry.ReadHouse(v)
			}
			if err == nil {
				scales, err = husbandry.ReadScales(v)
			}
			if err == nil {
				tubes, err = ReadTubes(v, tables)
			}
			return err
		})
		if err != nil {
			return err
		}
		list, err := book.Bring(ctx, kept, func(share float64) { progress(.5 + share/2) })
		if err == nil {
			house = Arrange(tables, places, scales, all, list, now)
			house.Lay(tubes)
		}
		return err
	}, func(err error) {
		if err != nil {
			if !errors.Is(err, context.Canceled) {
				p.window.Fault("shelf.fault", err)
			}
			return
		}
		p.house, p.stale, p.moved, p.tubed = house, nil, false, false
		p.build()
		p.keys()
		p.seek()
	})
}

// Changed implements place.Place: only what the change touched is read again.
func (p *Page) Changed(c collection.Change) {
	p.hear(c)
	if p.house != nil {
		p.refresh(p.stale, p.moved)
	}
}

// Missed implements place.Misser.
func (p *Page) Missed(c collection.Change) { p.hear(c) }

// hear keeps what has to be read again.
func (p *Page) hear(c collection.Change) {
	p.jot.Changed()
	p.turned = p.turned || c.Undone || c.Redone
	for _, s := range c.Subjects {
		if id := (model.AnimalID{ID: s.ID}); s.Kind == model.SubjectAnimal && !slices.Contains(p.stale, id) {
			p.stale = append(p.stale, id)
		}
	}
	for _, t := range c.Types {
		p.moved = p.moved || t == model.TypePlace || t == model.TypeStay || t == model.TypeAnimal
		p.tubed = p.tubed || t == model.TypeSample || t == model.TypePerson
	}
}

// large is how many animals a house has where the reading of all places takes long
// enough to be done beside the window's thread.
const large = 500

// refresh reads those animals again, the places where they were changed, and
// what is due.
func (p *Page) refresh(ids []model.AnimalID, moved bool) {
	p.stale, p.moved = nil, false
	tubes := p.house.tubes
	if p.tubed {
		tubes = nil
	}
	p.tubed = false
	kept, book := p.window.Collection(), p.window.Due()
	if !moved || p.house.Len() < large {
		f, err := p.read(context.Background(), kept, book, ids, moved, p.house.places, tubes)
		p.take(f, err, ids, moved)
		return
	}
	var f fresh
	places := p.house.places
	p.window.Task(p.say("shelf.reading"), func(ctx context.Context, _ func(float64)) (err error) {
		f, err = p.read(ctx, kept, book, ids, moved, places, tubes)
		return err
	}, func(err error) { p.take(f, err, ids, moved) })
}

// fresh is what was read again.
type fresh struct {
	now     model.Moment
	animals map[model.AnimalID]*Animal // nil: no longer here
	places  *husbandry.House
	scales  husbandry.Scales
	tubes   *Tubes
	list    due.List
}

// read reads again what a change touched; tubes is nil where it touched samples. It
// changes nothing of the page.
func (p *Page) read(ctx context.Context, kept *collection.Collection, book *due.Book, ids []model.AnimalID, moved bool, places *husbandry.House, tubes *Tubes) (f fresh, err error) {
	f = fresh{now: p.window.Now(), animals: map[model.AnimalID]*Animal{}, places: places, tubes: tubes}
	if f.list, err = book.Bring(ctx, kept, nil); err != nil {
		return f, err
	}
	err = kept.View(func(v model.View) (err error) {
		for _, id := range ids {
			if f.animals[id], err = LoadAnimal(v, p.window.Tables(), id, f.now); err != nil {
				return err
			}
		}
		if moved {
			if f.places, err = husbandry.ReadHouse(v); err != nil {
				return err
			}
		}
		if f.tubes == nil {
			if f.tubes, err = ReadTubes(v, p.window.Tables()); err != nil {
				return err
			}
		}
		f.scales, err = husbandry.ReadScales(v)
		return err
	})
	return f, err
}

// take shows what was read again; where that failed it is read with the next
// change.
func (p *Page) take(f fresh, err error, ids []model.AnimalID, moved bool) {
	if err == nil && p.walk != nil && p.turned {
		err = p.window.Collection().View(func(v model.View) error {
			p.walk.Recall(func(a Answer) (Answer, bool) { return recalled(v, a, f.tubes) })
			return nil
		})
		p.last, p.notice = "", notice{} // they may tell of what was taken back
	}
	if err != nil {
		p.stale, p.moved, p.tubed = append(p.stale, ids...), p.moved || moved, true
		if !errors.Is(err, context.Canceled) {
			p.window.Fault("shelf.fault", err)
		}
		return
	}
	for id, a := range f.animals {
		if a == nil {
			delete(p.house.animals, id)
		} else {
			p.house.animals[id] = a
		}
	}
	p.house = Arrange(p.window.Tables(), f.places, f.scales, p.house.animals, f.list, f.now)
	p.house.Lay(f.tubes)
	p.turned = false
	p.build()
}

// recalled is what an answer's entry says now; false where it is gone.
func recalled(v model.View, a Answer, tubes *Tubes) (Answer, bool) {
	d, err := v.Document(a.Entry.ID)
	if err != nil {
		return a, false
	}
	if d.Type == model.TypeSample {
		return recalledSample(d, a, tubes)
	}
	if e, ok, err := care.Decode(d); err == nil && ok {
		entry := a.Entry
		a = answerOf(e.Body)
		a.Entry = entry
	}
	return a, true
}

// checked looks, after a check was opened from a walk, whether one was kept.
func (p *Page) checked() {
	if p.walk == nil || p.walk.Job != round.Check || p.asked.IsZero() {
		return
	}
	stop, here := p.walk.Here()
	if !here {
		return
	}
	var kept model.EntryID
	err := p.window.Collection().View(func(v model.View) error {
		now := p.window.Now()
		now.UTC++
		latest, found, err := exam.Latest(v, stop.Animal, now)
		if found && !latest.Finished.Before(p.asked) {
			kept = latest.ID
		}
		return err
	})
	if err != nil {
		p.window.Fault("shelf.fault", err)
		return
	}
	p.asked = model.Moment{}
	if !kept.IsZero() {
		if newest, found := p.newest(); found && newest.Wrote(kept.ID) {
			p.walk.Noted(newest.Sequence)
		}
		p.walk.Answer(p.walk.At(), Answer{Mark: Done, Entry: kept})
	}
	p.build()
}

// rooms are the tabs: the whole house where there is more than one room.
func (p *Page) tabs() []Room {
	rooms := p.house.Rooms
	if len(rooms) > 1 {
		all := Room{Name: p.say("shelf.all-rooms"), Count: p.house.Len()}
		rooms = append([]Room{all}, rooms...)
	}
	return rooms
}

// build shows everything anew.
func (p *Page) build() {
	if p.house == nil {
		return
	}
	if !p.room.IsZero() && !slices.ContainsFunc(p.house.Rooms, func(r Room) bool { return r.ID == p.room }) {
		p.room = model.PlaceID{}
	}
	p.rows = p.house.In(p.room)
	p.jots = false
	p.showSide()
	if p.walk != nil {
		p.root.Layout.Layout(p.root.Objects, p.root.Size()) // what stands in the lamp is made for its width
		p.buildWalk()
	} else {
		p.buildRest()
	}
	p.root.Refresh()
	p.window.ActionsChanged()
}

func (p *Page) words() words {
	return words{text: p.window.Text(), house: p.house, walk: p.walk, through: p.through}
}

// open shows who lies in a box; in a walk it goes there.
func (p *Page) open(at shelfview.At) {
	if p.moving != nil {
		p.pick(at)
		return
	}
	row := p.rows[at.Row]
	if at.Box >= len(row.Boxes) {
		p.show(newBoxesForm(p, row))
		return
	}
	box := row.Boxes[at.Box]
	if p.walk == nil {
		p.show(newBoxCard(p, row, box))
		return
	}
	for i, stop := range p.walk.Stops {
		if box.holds(stop) {
			p.walk.Jump(i)
			p.began()
			return
		}
	}
}

// show opens a form in the side column.
func (p *Page) show(f form) {
	p.form = f
	p.build()
	if first, ok := f.(interface{ first() fyne.Focusable }); ok && first.first() != nil {
		p.window.Focus(first.first())
		return
	}
	p.keys()
}

// keys gives the keys to the picture, where it is shown.
func (p *Page) keys() {
	defer p.jotSaid()
	for _, o := range p.body.Objects {
		if o == fyne.CanvasObject(p.view) {
			p.window.Focus(p.view)
			return
		}
	}
	p.window.Focus(nil)
}

func (p *Page) showSide() {
	p.side.Objects = nil
	if p.form != nil {
		p.side.Objects = []fyne.CanvasObject{widgets.RowFill(0, widgets.VLine(), widgets.Fix(formWidth, 0, widgets.Filled(look.Sheet, 0), p.form.content()))}
		p.side.Show()
	} else {
		p.side.Hide()
	}
	p.side.Refresh()
}

// leave closes the side column.
func (p *Page) leave() {
	p.form = nil
	p.build()
	p.keys()
}

// Jot implements place.Jotter: the line stands on the shelf at rest.
func (p *Page) Jot() bool {
	if p.jots {
		p.window.Focus(p.jot.Focusable())
		p.jotSaid()
	}
	return p.jots
}

// Noted implements place.Jotter.
func (p *Page) Noted(f fyne.Focusable) bool { return p.jot.Noted(f) }

// TypedKey implements place.Keys.
func (p *Page) TypedKey(k *fyne.KeyEvent) {
	enter := k.Name == fyne.KeyReturn || k.Name == fyne.KeyEnter
	switch {
	case p.house == nil:
	case p.form != nil && k.Name == fyne.KeyEscape:
		if holds, is := p.form.(interface{ Leave() }); is {
			holds.Leave()
			return
		}
		p.leave()
	case p.form != nil && enter:
		p.form.enter()
	case p.moving != nil:
		p.moveKey(k.Name, enter)
	case p.walk != nil:
		p.walkKey(k.Name, enter)
	case k.Name == fyne.KeyEscape: // from the line, which keeps what is typed
		p.keys()
	case enter && len(p.rows) > 0:
		p.open(p.view.Current())
	}
}

// TypedRune implements place.Keys.
func (p *Page) TypedRune(r rune) {
	switch {
	case p.house == nil:
	case p.moving != nil:
		p.moveRune(r)
	case p.walk != nil:
		p.walkRune(r)
	case p.figure(r):
	case r >= '1' && int(r-'1') < len(jobs()):
		p.choose(jobs()[r-'1'])
	case r == 'm' || r == 'M':
		p.move(p.view.Current())
	case r == 'v' || r == 'V':
		p.visit(p.view.Current())
	}
}

// figure does what a figure stands for in the form beside the shelf; false where it stands
// for nothing there.
func (p *Page) figure(r rune) bool {
	s, sets := p.form.(*setup)
	if i := int(r - '1'); sets && i >= 0 && i < len(s.figures) {
		s.figures[i]()
		return true
	}
	return false
}

// Actions implements place.Actor.
func (p *Page) Actions() []place.Action {
	off := p.house == nil || p.walk != nil
	return []place.Action{
		{Label: p.say("roster.add"), Menu: place.MenuEntry, Key: fyne.KeyN, Off: p.walk != nil || p.window.ReadOnly(), Do: func() { p.window.Go(place.Route{To: place.Animals, Page: "new"}) }},
		{Label: p.say("shelf.act.room"), Menu: place.MenuEntry, Key: fyne.KeyN, Modifier: fyne.KeyModifierShortcutDefault | fyne.KeyModifierShift, Off: off, Do: func() { p.show(newRoomForm(p)) }},
		{Label: p.say("shelf.act.visit"), Menu: place.MenuEntry, Off: off || p.house.Len() == 0 || p.window.ReadOnly(), Do: func() { p.visit(p.view.Current()) }},
		{Label: p.say("shelf.act.move"), Menu: place.MenuEntry, Key: fyne.KeyM, Off: off || p.house.Len() == 0, Do: func() { p.move(p.view.Current()) }},
	}
}

// animalsOf are the animals of a box.
func animalsOf(b Box) (ids []model.AnimalID) {
	for _, a := range b.Animals {
		ids = append(ids, a.ID)
	}
	return ids
}

// about is what every entry of a walk says.
func (p *Page) about(animal model.AnimalID, at model.Moment, a place.Answer) care.About {
	return care.About{Animal: animal, At: at, By: p.window.By(), Confirmed: a.Confirmed}
}
