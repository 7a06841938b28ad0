package shelf

import (
	"errors"
	"strings"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/husbandry"
	"coilward/model/welfare"
	"coilward/model/wording"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/place"
	"coilward/ui/widgets"
	"coilward/ui/widgets/shelfview"
)

// moving is who is on the way to another box, while its box is chosen by key.
type moving struct {
	from  Box
	typed string // letters of the target's name so far
}

// move takes up who lives in a box; the target is chosen with the arrows, or by
// typing its name.
func (p *Page) move(at shelfview.At) {
	if at.Row >= len(p.rows) || at.Box >= len(p.rows[at.Row].Boxes) || len(p.rows[at.Row].Boxes[at.Box].Animals) == 0 || len(p.house.Rooms) == 0 {
		return
	}
	p.form = nil
	p.moving = &moving{from: p.rows[at.Row].Boxes[at.Box]}
	p.view.Aim(true)
	p.build()
	p.keys()
}

// visit notes what was seen of the animal in a box; what is kept leads back to the shelf.
func (p *Page) visit(at shelfview.At) {
	if at.Row >= len(p.rows) || at.Box >= len(p.rows[at.Row].Boxes) || len(p.rows[at.Row].Boxes[at.Box].Animals) == 0 || p.window.ReadOnly() {
		return
	}
	p.window.Go(place.Route{To: place.Animal, Subject: p.rows[at.Row].Boxes[at.Box].Animals[0].ID.ID, Page: welfare.KindObservation})
}

func (p *Page) moveKey(k fyne.KeyName, enter bool) {
	switch {
	case k == fyne.KeyEscape:
		p.settle()
	case enter:
		p.pick(p.view.Current())
	case k == fyne.KeyBackspace && p.moving.typed != "":
		signs := []rune(p.moving.typed)
		p.moving.typed = string(signs[:len(signs)-1])
		p.build()
	}
}

// moveRune goes to the box whose name, or who of its animals, begins with what is
// typed.
func (p *Page) moveRune(r rune) {
	p.moving.typed += string(r)
	typed := animals.Fold(p.moving.typed)
	for i, row := range p.rows {
		for k, box := range row.Boxes {
			if begins(box, typed) {
				p.view.SetCurrent(shelfview.At{Row: i, Box: k})
				p.build()
				return
			}
		}
	}
	p.build()
}

func begins(b Box, typed string) bool {
	if strings.HasPrefix(animals.Fold(b.Place.Name), typed) || b.Place.Code != "" && strings.HasPrefix(animals.Fold(b.Place.Code), typed) {
		return true
	}
	for _, a := range b.Animals {
		if strings.HasPrefix(animals.Fold(a.Name), typed) {
			return true
		}
	}
	return false
}

// settle ends the choice of a target.
func (p *Page) settle() {
	p.moving = nil
	p.view.Aim(false)
	p.build()
	p.keys()
}

// movingBar says how the target is chosen.
func (p *Page) movingBar() fyne.CanvasObject {
	said := p.say("shelf.move.how", wording.Gaps{"Who": namesOf(p.moving.from.Animals)})
	typed := p.moving.typed
	row := widgets.Row(look.S16, widgets.NewIcon("move", 20, look.Accent), widgets.Grow(widgets.Line(said, look.BodyBold, look.Ink).Cuts()),
		widgets.Line(typed, look.Lead, look.Accent).Cuts(),
		widgets.Row(look.S8, widgets.KeyCap("Enter"), widgets.Line(p.say("shelf.move.here"), look.Body, look.Soft)),
		widgets.Row(look.S8, widgets.KeyCap("Esc"), widgets.Line(p.say("window.cancel"), look.Body, look.Soft)))
	return widgets.Fix(0, 40, widgets.NewBox(widgets.Ground{Fill: look.DaysBg, Line: look.LitLine, Width: 1, Radius: look.RBase}), widgets.MiddleUpright(widgets.Pad(row, 0, look.S16)))
}

func namesOf(all []*Animal) string {
	var names []string
	for _, a := range all {
		names = append(names, a.Name)
	}
	return strings.Join(names, ", ")
}

// pick is the target that was chosen by key.
func (p *Page) pick(at shelfview.At) {
	from := p.moving.from
	row := p.rows[at.Row]
	if at.Box >= len(row.Boxes) {
		return
	}
	p.settle()
	p.askMove(from.Animals, row.Boxes[at.Box].Place.ID)
}

// drop is the target of a drag.
func (p *Page) drop(from, to shelfview.At) {
	if from.Row >= len(p.rows) || to.Row >= len(p.rows) || from.Box >= len(p.rows[from.Row].Boxes) || to.Box >= len(p.rows[to.Row].Boxes) {
		return
	}
	target := p.rows[to.Row].Boxes[to.Box].Place.ID
	if p.rows[from.Row].Loose && target.IsZero() {
		return
	}
	p.askMove(p.rows[from.Row].Boxes[from.Box].Animals, target)
}

// askMove asks who of them moves, and from when. A zero place: they are taken out
// of theirs.
func (p *Page) askMove(who []*Animal, to model.PlaceID) {
	stays := map[model.AnimalID]bool{}
	q := newWhen(p)
	people := widgets.Col(0)
	var fill func()
	fill = func() {
		people.Objects = nil
		for _, a := range who {
			if len(who) > 1 {
				people.Add(widgets.CheckRow(!stays[a.ID], a.Name, "", "", func(on bool) { stays[a.ID] = !on; fill() }))
			}
		}
		people.Refresh()
	}
	fill()
	problem := widgets.Stack()
	problem.Hide()
	var leave func()
	do := func() {
		at, err := q.moment()
		if err != nil {
			q.refuse(err)
			return
		}
		var moves []husbandry.Relocation
		for _, a := range who {
			if !stays[a.ID] {
				moves = append(moves, husbandry.Relocation{Animal: a.ID, Place: to})
			}
		}
		if len(moves) == 0 {
			return
		}
		leave()
		p.relocate(moves, at)
	}
	title, act := p.say("shelf.move.to", wording.Gaps{"Who": namesOf(who), "Where": p.house.places.Title(to)}), "shelf.move.do"
	if to.IsZero() {
		title, act = p.say("shelf.move.out", wording.Gaps{"Who": namesOf(who)}), "shelf.move.out-do"
	}
	leave = p.window.ShowSheet(widgets.Sheet{Title: title, Content: widgets.Col(look.S16, people, q.object),
		Acts: []widgets.Act{{Label: p.say(act), Key: "Enter", Do: do}}, Cancel: p.say("window.cancel")})
}

// relocate moves them, or takes them out of their places.
func (p *Page) relocate(moves []husbandry.Relocation, at model.Moment) {
	by := p.window.By()
	p.window.Do(func(a place.Answer) model.Command {
		switch m := moves[0]; {
		case len(moves) > 1 && !m.Place.IsZero():
			return husbandry.MoveAll{Moves: moves, At: at, By: by, Confirmed: a.Confirmed}
		case m.Place.IsZero():
			return husbandry.MoveOut{Animal: m.Animal, At: at}
		default:
			return husbandry.Move{Animal: m.Animal, Place: m.Place, At: at, By: by, Confirmed: a.Confirmed}
		}
	}, func(err error) {
		p.told(err)
		if err == nil && moves[0].Place.IsZero() && len(moves) > 1 {
			p.relocate(moves[1:], at)
		}
	})
}

// told says a refusal that no field can show.
func (p *Page) told(err error) {
	var r *model.Refusal
	if errors.As(err, &r) {
		p.window.Tell(p.say("shelf.refused"), p.window.Text().Refusal(r))
	}
}

// when asks from when something holds: from now on, from today on, or from an
// earlier day on.
type when struct {
	page   *Page
	chosen int
	day    *widgets.Field
	object *fyne.Container
}

func newWhen(p *Page) *when {
	q := &when{page: p, day: widgets.NewField("", widgets.FieldOptions{Label: p.say("field.day"), Hint: p.say("particulars.hint.date")})}
	q.day.Container.Hide()
	q.day.OnTyped = func(string) { q.day.Accept() }
	parts := widgets.NewSegments(36, 0, func(i int) {
		q.chosen = i
		if i == 2 {
			q.day.Container.Show()
		} else {
			q.day.Container.Hide()
		}
		q.object.Refresh()
		if i == 2 {
			p.window.Focus(q.day.Focusable())
		}
	}, widgets.Choice{Label: p.say("shelf.when.now")}, widgets.Choice{Label: p.say("shelf.when.today")}, widgets.Choice{Label: p.say("shelf.when.earlier")})
	q.object = widgets.Col(look.S12, widgets.Line(p.say("shelf.when"), look.Note, look.Soft), parts.Container, q.day.Container)
	return q
}

// moment is from when.
func (q *when) moment() (model.Moment, error) {
	now := q.page.window.Now()
	switch q.chosen {
	case 0:
		return now, nil
	case 1:
		now.Precision = model.ToDay
		return now, nil
	}
	day, err := q.page.window.Text().ParseDay(q.day.Text(), now.Day())
	if err != nil {
		return now, particulars.At("day", err)
	}
	at := model.MomentOf(now.Time().AddDate(0, 0, int(day-now.Day())))
	at.Zone, at.Precision = now.Zone, model.ToDay
	return at, nil
}

func (q *when) refuse(err error) {
	var r *model.Refusal
	if errors.As(err, &r) {
		q.day.Refuse(q.page.window.Text().Why(r))
		q.page.window.Focus(q.day.Focusable())
	}
}
