package shelf

import (
	"slices"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/husbandry"
	"coilward/model/wording"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/place"
	"coilward/ui/widgets"
	"coilward/ui/widgets/shelfview"
)

// fields is a form of fields in the side column, with one act.
type fields struct {
	*particulars.SideForm
	page *Page
}

func newFields(p *Page) *fields {
	f := &fields{SideForm: particulars.NewSideForm(p.window), page: p}
	f.Done = p.leave
	return f
}

// settle makes the form of its parts.
func (f *fields) settle(title, act string, parts ...fyne.CanvasObject) {
	f.Build(title, act, f.page.leave, parts...)
}

func (f *fields) content() fyne.CanvasObject { return f.Content }

func (f *fields) first() fyne.Focusable { return f.First() }

func (f *fields) enter() { f.Keep() }

// number is a whole number up to most; an empty field is that many.
func (f *fields) number(name string, empty, most int) (int, error) {
	if f.Text(name) == "" {
		return empty, nil
	}
	n, err := f.page.window.Text().ParseCount(f.Text(name), most)
	return n, particulars.At(name, err)
}

func (f *fields) length(name string) (l model.Length, err error) {
	if f.Text(name) == "" {
		return l, nil
	}
	l, err = f.page.window.Text().ParseLength(f.Text(name))
	return l, particulars.At(name, err)
}

// A room has so many shelves and boxes where nothing else is typed.
const (
	usualShelves = 1
	usualBoxes   = 4
)

// newRoomForm sets up a room: so many shelves with so many boxes each.
func newRoomForm(p *Page) *fields {
	f := newFields(p)
	t, unit := p.window.Text(), p.say("shelf.unit.length")
	if t.Units().Imperial {
		unit = p.say("shelf.unit.inches")
	}
	f.settle(p.say("shelf.room.title"), p.say("shelf.room.do"),
		f.Field("place-name", "", widgets.FieldOptions{Hint: p.say("shelf.room.hint")}),
		widgets.RowTop(look.S8, widgets.GrowBy(1, f.Field("shelves", "", widgets.FieldOptions{Hint: t.Number(usualShelves)})), widgets.GrowBy(1, f.Field("boxes", "", widgets.FieldOptions{Hint: t.Number(usualBoxes)}))),
		f.Field("width", "", widgets.FieldOptions{Unit: unit}),
		widgets.Para(p.say("shelf.room.what"), look.Note, look.Soft))
	f.Command = func(place.Answer) (model.Command, error) {
		shelves, err := f.number("shelves", usualShelves, husbandry.MaxShelves)
		boxes, err2 := f.number("boxes", usualBoxes, husbandry.MaxBoxes)
		width, err3 := f.length("width")
		for _, e := range []error{err, err2, err3} {
			if e != nil {
				return nil, e
			}
		}
		rack, refusal := husbandry.RackOf(husbandry.RackPlan{Rack: husbandry.Place{Name: f.Text("place-name"), Kind: husbandry.Room},
			Shelf:   husbandry.Place{Name: p.say("shelf.room.shelf", wording.Gaps{"Number": "{shelf}"}), Kind: husbandry.Shelf},
			Box:     husbandry.Place{Name: "{letter}{box}", Kind: husbandry.Tub, Size: husbandry.Size{Width: width}},
			Shelves: shelves, Boxes: boxes})
		if refusal != nil {
			return nil, refusal
		}
		return husbandry.AddPlaces{Branches: []husbandry.Branch{rack}}, nil
	}
	return f
}

// newBoxesForm adds boxes at the end of a shelf.
func newBoxesForm(p *Page, row Row) form {
	f := newFields(p)
	next := nextName(row)
	width := model.Length{}
	if n := len(row.Boxes); n > 0 {
		width = row.Boxes[n-1].Place.Size.Width
	}
	typed := width.Typed
	if typed == "" && !width.IsZero() {
		typed = p.window.Text().Length(width)
	}
	kind := husbandry.Tub
	kinds := slices.DeleteFunc(husbandry.PlaceKinds(), func(k husbandry.PlaceKind) bool { return !k.Houses() })
	few := particulars.NewFew(p.say("field.place-kind"), texts(kinds), wordsOf(p, kinds, "husbandry.place-kind."), string(kind), func(v string) { kind = husbandry.PlaceKind(v) })
	shelf := widgets.Button(widgets.Plain, widgets.Act{Label: p.say("shelf.shelf.add"), Icon: "plus", Do: func() { p.addShelf(row) }})
	f.settle(p.say("shelf.box.add-to", wording.Gaps{"Where": p.house.places.Title(row.Place)}), p.say("shelf.box.add"),
		f.Field("place-name", next, widgets.FieldOptions{}), few.Container, f.Field("width", typed, widgets.FieldOptions{}), widgets.HLine(), shelf)
	f.Command = func(place.Answer) (model.Command, error) {
		width, err := f.length("width")
		if err != nil {
			return nil, err
		}
		return husbandry.AddPlaces{Parent: row.Place, Branches: []husbandry.Branch{{Place: husbandry.Place{Name: f.Text("place-name"), Kind: kind, Size: husbandry.Size{Width: width}}}}}, nil
	}
	f.Done = func() { // the next one can follow
		for _, r := range p.rows {
			if r.Place == row.Place {
				p.show(newBoxesForm(p, r))
				return
			}
		}
		p.leave()
	}
	return f
}

// nextName counts the last box's name on: A4 after A3.
func nextName(row Row) string {
	if len(row.Boxes) == 0 {
		return ""
	}
	last := row.Boxes[len(row.Boxes)-1].Place.Name
	head := strings.TrimRight(last, "0123456789")
	n, err := strconv.Atoi(last[len(head):])
	if err != nil {
		return ""
	}
	return head + strconv.Itoa(n+1)
}

// addShelf adds an empty shelf beside the one of a row.
func (p *Page) addShelf(row Row) {
	parent := row.Place
	if s, ok := p.house.places.Place(row.Place); ok && s.Kind == husbandry.Shelf {
		parent = s.Parent
	}
	n := 1
	for _, s := range p.house.places.In(parent) {
		if s.Kind == husbandry.Shelf {
			n++
		}
	}
	p.window.Do(func(place.Answer) model.Command {
		return husbandry.AddPlaces{Parent: parent, Branches: []husbandry.Branch{{Place: husbandry.Place{Name: p.say("shelf.room.shelf", wording.Gaps{"Number": n}), Kind: husbandry.Shelf}}}}
	}, func(err error) {
		p.told(err)
		if err == nil {
			p.leave()
		}
	})
}

// card is what is known of a box, and what can be done with it.
type card struct {
	page     *Page
	row      Row
	box      Box
	contents fyne.CanvasObject
}

func newBoxCard(p *Page, row Row, box Box) form {
	c := &card{page: p, row: row, box: box}
	var parts []fyne.CanvasObject
	for _, a := range box.Animals {
		parts = append(parts, c.animal(a))
	}
	if len(box.Animals) == 0 {
		parts = append(parts, widgets.Para(p.say("shelf.card.empty"), look.Body, look.Soft))
	}
	act := func(key, icon string, do func()) {
		parts = append(parts, widgets.Button(widgets.Plain, widgets.Act{Label: p.say(key), Icon: icon, Do: do}))
	}
	if !row.Loose {
		act("shelf.card.house", "plus", c.choose)
	}
	if len(box.Animals) > 0 {
		act("shelf.card.move", "move", func() { p.leave(); p.move(p.boxAt(box)) })
		if row.Loose {
			act("shelf.card.into", "right", c.chooseBox)
		} else {
			act("shelf.card.out", "open", func() { p.askMove(box.Animals, model.PlaceID{}) })
		}
	}
	if !row.Loose {
		if len(p.rowAnimals(row)) > 0 && len(p.house.Rows) > 1 {
			act("shelf.card.move-all", "move", func() { p.moveAll("shelf.card.move-all", row, p.house.Rows) })
		}
		if whole := p.house.Whole(row.Room); len(p.house.Rooms) > 1 && len(p.rowAnimals(whole)) > 0 {
			act("shelf.card.move-room", "move", func() {
				var rooms []Row
				for _, r := range p.house.Rooms {
					rooms = append(rooms, p.house.Whole(r.ID))
				}
				p.moveAll("shelf.card.move-room", whole, rooms)
			})
		}
		act("shelf.card.change", "note", func() { p.show(newChangeForm(p, box)) })
		if len(box.Animals) == 0 {
			act("shelf.card.remove", "bin", c.remove)
		}
	}
	title := p.house.places.Title(box.Place.ID)
	if row.Loose {
		title = p.say("shelf.loose")
	}
	main := widgets.Act{Label: p.say("shelf.card.house"), Key: "Enter", Do: c.choose}
	if len(box.Animals) > 0 {
		main = widgets.Act{Label: p.say("shelf.card.open", wording.Gaps{"Who": box.Animals[0].Name}), Key: "Enter", Do: c.enter}
	}
	if len(box.Animals) == 0 {
		parts = slices.Delete(parts, 1, 2) // it is the main act
	}
	c.contents = particulars.Column(title, p.leave, widgets.Col(look.S12, parts...), widgets.Big(widgets.Button(widgets.Primary, main)))
	return c
}

func (c *card) content() fyne.CanvasObject { return c.contents }

// enter opens the animal, or houses one in an empty box.
func (c *card) enter() {
	if len(c.box.Animals) == 0 {
		c.choose()
		return
	}
	c.page.window.Go(place.Route{To: place.Animal, Subject: c.box.Animals[0].ID.ID})
}

// animal is one of the box: coil, name, as what it counts, mass, what is due.
func (c *card) animal(a *Animal) fyne.CanvasObject {
	p, t := c.page, c.page.window.Text()
	lines := []fyne.CanvasObject{widgets.Line(a.Name, look.Name, look.Ink).Cuts(), widgets.Line(p.words().mass(a), look.Note, look.Soft)}
	for _, class := range a.Classes {
		lines = append(lines, widgets.Row(look.S8, widgets.Fix(12, 12, shelfview.NewMark(shelfview.Class(class))), widgets.Line(className(t, class), look.Note, look.Soft)))
	}
	for _, d := range once(p.words().due(a.Due)) {
		tone, kind := look.Soft, look.Note
		switch {
		case d.Urgent == shelfview.Emergency:
			tone, kind = look.Today, look.NoteBold
		case d.Urgent == shelfview.ForVet:
			tone, kind = look.Days, look.NoteBold
		case d.Late:
			tone, kind = look.Ink, look.NoteBold
			d.Word = p.say("shelf.card.late", wording.Gaps{"What": d.Word})
		}
		lines = append(lines, widgets.Line(d.Word, kind, tone))
	}
	content := widgets.Pad(widgets.RowTop(look.S12, snake(a, 56), widgets.Grow(widgets.Col(2, lines...))), look.S8)
	return widgets.NewPress(a.Name, content, pressGround, func() { p.window.Go(place.Route{To: place.Animal, Subject: a.ID.ID}) })
}

// choose lists those not housed yet first, then all others, to live here.
func (c *card) choose() {
	p := c.page
	var all []*Animal
	var choices []widgets.Choice
	take := func(loose bool) {
		for _, row := range p.house.Rows {
			for _, b := range row.Boxes {
				for _, a := range b.Animals {
					if row.Loose == loose && b.Place.ID != c.box.Place.ID {
						where := p.say("shelf.loose")
						if !loose {
							where = p.house.places.Title(b.Place.ID)
						}
						all, choices = append(all, a), append(choices, widgets.Choice{Label: a.Name, Detail: where})
					}
				}
			}
		}
	}
	take(true)
	take(false)
	p.chooseOf(p.say("shelf.card.house"), choices, func(i int) { p.askMove([]*Animal{all[i]}, c.box.Place.ID) })
}

// chooseBox lists the boxes that these may move into.
func (c *card) chooseBox() {
	p := c.page
	var all []model.PlaceID
	var choices []widgets.Choice
	for _, row := range p.house.Rows {
		for _, b := range row.Boxes {
			if !row.Loose && b.Place.ID != c.box.Place.ID {
				who := p.say("shelf.empty-box")
				if len(b.Animals) > 0 {
					who = namesOf(b.Animals)
				}
				all, choices = append(all, b.Place.ID), append(choices, widgets.Choice{Label: p.house.places.Title(b.Place.ID), Detail: who})
			}
		}
	}
	p.chooseOf(p.say("shelf.card.into"), choices, func(i int) { p.askMove(c.box.Animals, all[i]) })
}

// chooseOf lays a choice of many over the page.
func (p *Page) chooseOf(title string, choices []widgets.Choice, chosen func(i int)) {
	list := widgets.NewChoiceList(p.say("shelf.choose.hint"), p.say("shelf.choose.none"), choices)
	var leave func()
	list.OnChosen = func(i int) { leave(); chosen(i) }
	leave = p.window.ShowSheet(widgets.Sheet{Title: title, Width: 480, Height: 520, Content: list.Container, First: list.Search().Focusable(), Cancel: p.say("window.cancel")})
}

// moveAll moves everyone of a shelf, or of a whole room, to another one, box by
// box.
func (p *Page) moveAll(title string, from Row, targets []Row) {
	var rows []Row
	var choices []widgets.Choice
	for _, r := range targets {
		if !r.Loose && r.Place != from.Place && len(r.Boxes) > 0 {
			rows, choices = append(rows, r), append(choices, widgets.Choice{Label: p.house.places.Title(r.Place), Detail: p.window.Text().Count("shelf.boxes", len(r.Boxes))})
		}
	}
	p.chooseOf(p.say(title), choices, func(i int) {
		moves, fits := Pair(from, rows[i])
		if !fits {
			p.window.Tell(p.say("shelf.refused"), p.say("shelf.move.too-few", wording.Gaps{"Where": p.house.places.Title(rows[i].Place)}))
			return
		}
		p.askMoveAll(moves, rows[i])
	})
}

// Pair gives each lived-in box of a shelf a box of another one, in their order;
// fits is false where there are too few.
func Pair(from, to Row) (moves []husbandry.Relocation, fits bool) {
	next := 0
	for _, b := range from.Boxes {
		if len(b.Animals) == 0 {
			continue
		}
		if next >= len(to.Boxes) {
			return nil, false
		}
		for _, a := range b.Animals {
			moves = append(moves, husbandry.Relocation{Animal: a.ID, Place: to.Boxes[next].Place.ID})
		}
		next++
	}
	return moves, true
}

// askMoveAll says who goes where, and asks from when.
func (p *Page) askMoveAll(moves []husbandry.Relocation, to Row) {
	q := newWhen(p)
	list := widgets.Col(2)
	for _, m := range moves {
		list.Add(widgets.Row(look.S12, widgets.Grow(widgets.Line(p.house.Animal(m.Animal).Name, look.Body, look.Ink).Cuts()), widgets.Line(p.house.places.Title(m.Place), look.Body, look.Soft)))
	}
	var leave func()
	do := func() {
		at, err := q.moment()
		if err != nil {
			q.refuse(err)
			return
		}
		leave()
		p.relocate(moves, at)
	}
	leave = p.window.ShowSheet(widgets.Sheet{Title: p.say("shelf.move.all-to", wording.Gaps{"Where": p.house.places.Title(to.Place)}), Width: 520, Height: 560,
		Content: widgets.Col(look.S16, widgets.Grow(widgets.Scroll(list)), q.object),
		Acts:    []widgets.Act{{Label: p.say("shelf.move.do"), Key: "Enter", Do: do}}, Cancel: p.say("window.cancel")})
}

func (c *card) remove() {
	p := c.page
	p.window.Do(func(place.Answer) model.Command { return husbandry.RemovePlace{ID: c.box.Place.ID} }, func(err error) {
		p.told(err)
		if err == nil {
			p.leave()
		}
	})
}

// boxAt is where a box stands in the picture.
func (p *Page) boxAt(b Box) shelfview.At {
	for r, row := range p.rows {
		for k, box := range row.Boxes {
			same := box.Place.ID == b.Place.ID
			if row.Loose {
				same = len(b.Animals) > 0 && box.Animals[0] == b.Animals[0]
			}
			if same {
				return shelfview.At{Row: r, Box: k}
			}
		}
	}
	return p.view.Current()
}

func (p *Page) rowAnimals(r Row) (ids []model.AnimalID) {
	for _, b := range r.Boxes {
		ids = append(ids, animalsOf(b)...)
	}
	return ids
}

// newChangeForm changes what is known of a box.
func newChangeForm(p *Page, box Box) form {
	f := newFields(p)
	t, pl := p.window.Text(), box.Place
	length := func(l model.Length) string {
		if l.Typed == "" && !l.IsZero() {
			return t.Length(l)
		}
		return l.Typed
	}
	warmth := func(c model.Temperature) string {
		if c.Typed == "" && c != (model.Temperature{}) {
			return t.Temperature(c)
		}
		return c.Typed
	}
	every := ""
	if pl.CleanEvery > 0 {
		every = strconv.Itoa(pl.CleanEvery)
	}
	f.settle(p.say("shelf.card.change"), p.say("particulars.keep"),
		f.Field("place-name", pl.Name, widgets.FieldOptions{}), f.Field("place-code", pl.Code, widgets.FieldOptions{}), f.Field("width", length(pl.Size.Width), widgets.FieldOptions{}),
		widgets.RowTop(look.S8, widgets.GrowBy(1, f.Field("warm-end", warmth(pl.Zones.Warm), widgets.FieldOptions{})), widgets.GrowBy(1, f.Field("cool-end", warmth(pl.Zones.Cool), widgets.FieldOptions{}))),
		f.Field("clean-every", every, widgets.FieldOptions{Unit: p.say("shelf.unit.days")}), f.Field("note", pl.Note, widgets.FieldOptions{Rows: 2}))
	f.Command = func(place.Answer) (model.Command, error) {
		after := pl.Place
		after.Name, after.Code, after.Note = f.Text("place-name"), f.Text("place-code"), f.Text("note")
		var err error
		if after.Size.Width, err = f.length("width"); err != nil {
			return nil, err
		}
		for name, end := range map[string]*model.Temperature{"warm-end": &after.Zones.Warm, "cool-end": &after.Zones.Cool} {
			if *end = (model.Temperature{}); f.Text(name) != "" {
				if *end, err = t.ParseTemperature(f.Text(name)); err != nil {
					return nil, particulars.At(name, err)
				}
			}
		}
		if after.CleanEvery, err = f.number("clean-every", 0, husbandry.MaxEvery); err != nil {
			return nil, err
		}
		return husbandry.ChangePlace{ID: pl.ID, Base: pl.Revision, Place: after}, nil
	}
	return f
}
