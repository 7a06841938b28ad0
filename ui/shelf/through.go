package shelf

import (
	"errors"
	"slices"
	"strings"

	"fyne.io/fyne/v2"

	"coilward/export/paper"
	"coilward/model"
	"coilward/model/knowledge"
	"coilward/model/round"
	"coilward/model/wording"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/place"
	"coilward/ui/widgets"
	"coilward/ui/widgets/shelfview"
)

// through is a round that is gone through: its boxes in the order of the walk, and what
// lies before each.
type through struct {
	id       model.RoundID
	order    knowledge.RoundOrder
	legs     []leg
	barriers []round.Barrier
}

// leg is one box of a round: as it was begun with, and as it stands now.
type leg struct {
	planned round.Planned
	stop    round.Stop
}

// class is the class that rules at a stop.
func (t *through) class(i int) round.Class { return round.Rules(t.order, t.legs[i].stop.Classes) }

// dwellers are the animals of some rows as a round finds them; those not housed yet
// come last.
func (p *Page) dwellers(rows []Row) (all []round.Dweller) {
	for _, loose := range []bool{false, true} {
		for _, row := range rows {
			if row.Loose != loose {
				continue
			}
			for _, box := range row.Boxes {
				for _, a := range box.Animals {
					d := round.Dweller{Animal: a.ID, Place: box.Place.ID, Facts: a.facts, Reasons: a.reasons, Agents: a.agents}
					var mass model.Mass
					if len(a.Weights) > 0 {
						mass = a.Weights[0].Mass
					}
					d.Young = round.Young(p.window.Tables(), a.Hatched, mass, p.today)
					if !loose {
						d.Room = p.house.places.Room(box.Place.ID)
					}
					all = append(all, d)
				}
			}
		}
	}
	return all
}

// stopsThrough are the boxes of some rows as stops of a walk, in the order in which they
// stand.
func stopsThrough(rows []Row) (stops []Stop) {
	for _, row := range rows {
		for _, box := range row.Boxes {
			switch {
			case row.Loose:
				for _, a := range box.Animals {
					stops = append(stops, Stop{Animal: a.ID})
				}
			case len(box.Animals) > 0:
				stops = append(stops, Stop{Place: box.Place.ID})
			}
		}
	}
	return stops
}

// lastRound is the newest round; found is false where there is none, or it could not be
// read.
func (p *Page) lastRound() (s round.Stored, found bool) {
	err := p.window.Collection().View(func(v model.View) error {
		all, err := round.Last(v, 1)
		if len(all) > 0 {
			s, found = all[0], true
		}
		return err
	})
	if err != nil {
		p.window.Fault("shelf.fault", err)
	}
	return s, found && err == nil
}

// setOut asks in which order a round is gone through, or whether the one that is open
// is gone on with.
type setOut struct {
	page     *Page
	last     round.Stored
	found    bool
	order    knowledge.RoundOrder
	apart    bool
	contents *fyne.Container
}

func newSetOut(p *Page) *setOut {
	s := &setOut{page: p, contents: widgets.Stack()}
	s.last, s.found = p.lastRound()
	var before []round.Stored
	if s.found {
		before = []round.Stored{s.last}
	}
	s.order = round.Chosen(p.window.Tables(), before)
	if s.found && s.last.Day() == p.today && !s.last.Open() { // the other part is next
		s.apart = !s.last.Apart
	}
	s.fill()
	return s
}

func (s *setOut) content() fyne.CanvasObject { return s.contents }

// parts are what there is to go through, by the order that is chosen.
func (s *setOut) parts() []round.Part {
	return round.Parts(s.order, s.stops())
}

// stops are the boxes in sight.
func (s *setOut) stops() []round.Stop {
	return round.Stops(s.page.window.Tables(), s.page.dwellers(s.page.rows))
}

// part is the one that is chosen; of one alone that one.
func (s *setOut) part() round.Part {
	parts := s.parts()
	for _, part := range parts {
		if part.Apart == s.apart {
			return part
		}
	}
	return parts[0]
}

func (s *setOut) open() bool { return s.found && s.last.Open() }

func (s *setOut) fill() {
	p, t := s.page, s.page.window.Text()
	var body []fyne.CanvasObject
	begin := widgets.Act{Label: p.say("shelf.job.begin"), Key: "Enter", Do: s.enter}
	if s.open() {
		looked, passed, left := s.last.Count()
		begin.Label = p.say("round.go-on")
		body = append(body, widgets.Para(t.Say("round.still-open", wording.Gaps{"Day": s.last.At.Day(), "Looked": looked, "Passed": passed, "Left": left}), look.Body, look.Ink),
			widgets.Button(widgets.Plain, widgets.Act{Label: p.say("round.end-it"), Do: s.end}))
	} else {
		body = append(body, widgets.Line(p.say("field.round-order"), look.Note, look.Soft))
		for _, o := range p.window.Tables().Rounds() {
			body = append(body, widgets.OneRow(o.ID == s.order.ID, p.say("round.order."+string(o.ID)), t.Source(o.Source), "", func() {
				s.order = o
				s.fill()
			}))
		}
		if parts := s.parts(); len(parts) > 1 {
			body = append(body, widgets.Line(p.say("round.which"), look.Note, look.Soft))
			for _, part := range parts {
				key := "round.part.others"
				if part.Apart {
					key = "round.part.apart"
				}
				body = append(body, widgets.OneRow(part.Apart == s.part().Apart, p.say(key), t.Count("shelf.boxes", len(part.Stops)), "", func() {
					s.apart = part.Apart
					s.fill()
				}))
			}
		}
		if rooms := s.part().Shared; len(rooms) > 0 {
			var names []string
			for _, id := range rooms {
				names = append(names, p.house.places.Title(id))
			}
			body = append(body, widgets.Caution(t.Say("round.shared", wording.Gaps{"Rooms": strings.Join(names, ", ")})))
		}
		if s.found && s.last.Day() == p.today { // another one on the same day
			if _, looked := s.last.Reached(s.order); looked {
				for n, words := range paper.BarrierWords(t, round.BetweenRounds(p.window.Tables(), s.last, s.stops())) {
					kind := look.Note
					if n == 0 {
						kind = look.BodyBold
					}
					body = append(body, widgets.Para(words, kind, look.Ink))
				}
			}
		}
		body = append(body, widgets.Para(p.say("round.how"), look.Note, look.Soft))
	}
	s.contents.Objects = []fyne.CanvasObject{particulars.Column(p.say("shelf.job.round"), p.leave, widgets.Col(look.S12, body...), widgets.Big(widgets.Button(widgets.Primary, begin)))}
	s.contents.Refresh()
}

// enter begins the round, or goes on with the one that is open.
func (s *setOut) enter() {
	p := s.page
	if s.open() {
		p.goOn(s.last)
		return
	}
	c := round.Begin{Tables: p.window.Tables(), Order: s.order.ID, Apart: s.part().Apart, By: p.window.By()}
	for _, stop := range s.part().Stops {
		c.Stops = append(c.Stops, round.Planned{Place: stop.Place, Animals: stop.Animals})
	}
	p.window.Do(func(a place.Answer) model.Command {
		c.Confirmed = a.Confirmed
		return c
	}, func(err error) {
		var r *model.Refusal
		switch {
		case errors.As(err, &r):
			p.window.Tell(p.say("shelf.job.round"), p.window.Text().Refusal(r))
		case err == nil:
			if begun, found := p.lastRound(); found {
				p.goOn(begun)
			}
		}
	})
}

// end ends a round that is open, without going on with it.
func (s *setOut) end() {
	s.page.endRound(s.last.ID, func() { s.page.show(newSetOut(s.page)) })
}

// endRound ends a round.
func (p *Page) endRound(id model.RoundID, then func()) {
	var s round.Stored
	if err := p.window.Collection().View(func(v model.View) (err error) { s, err = round.Find(v, id); return err }); err != nil {
		p.window.Fault("shelf.fault", err)
		return
	}
	p.window.Do(func(place.Answer) model.Command { return round.End{Round: s.ID, Base: s.Revision} }, func(err error) {
		if err == nil {
			then()
		}
	})
}

// goOn walks through a round from where it stands: what was noted comes first, then the
// rest, in the order of the classes as they are now.
func (p *Page) goOn(s round.Stored) {
	tables := p.window.Tables()
	p.room, p.rows = model.PlaceID{}, p.house.In(model.PlaceID{})
	t := &through{id: s.ID}
	t.order, _ = tables.Round(s.Order)
	now := map[model.AnimalID]round.Stop{}
	for _, stop := range round.Stops(tables, p.dwellers(p.rows)) {
		for _, a := range stop.Animals {
			now[a] = stop
		}
	}
	var rest []leg
	for _, planned := range s.Stops {
		stop, here := now[planned.Animals[0]]
		_, noted := s.Of(planned.Animals[0])
		switch l := (leg{planned, stop}); {
		case !here: // no longer here
		case noted:
			t.legs = append(t.legs, l)
		default:
			rest = append(rest, l)
		}
	}
	noted := len(t.legs)
	slices.SortStableFunc(rest, func(a, b leg) int {
		return round.Rank(t.order, round.Rules(t.order, a.stop.Classes)) - round.Rank(t.order, round.Rules(t.order, b.stop.Classes))
	})
	t.legs = append(t.legs, rest...)
	stops, walk := make([]round.Stop, 0, len(t.legs)), make([]Stop, 0, len(t.legs))
	for _, l := range t.legs {
		stop := Stop{Place: l.stop.Place}
		if stop.Place.IsZero() {
			stop.Animal = l.planned.Animals[0]
		}
		stops, walk = append(stops, l.stop), append(walk, stop)
	}
	t.barriers = round.Barriers(tables, t.order, stops)
	p.form, p.through, p.walk, p.last = nil, t, NewWalk(round.Through, walk), ""
	for i := range noted {
		l, _ := s.Of(t.legs[i].planned.Animals[0])
		a := Answer{Mark: Done, Entry: l.ID}
		if l.Passed {
			a.Mark = Skipped
		}
		p.walk.Answer(i, a)
	}
	p.began()
}

// lookedInto notes that the box one is at was looked at, or left out.
func (p *Page) lookedInto(passed bool) {
	i := p.walk.At()
	if i >= len(p.through.legs) {
		return
	}
	if was := p.walk.Of(i).Mark; was == Done || was == Skipped && passed { // it stands already
		p.walk.next()
		p.began()
		return
	}
	t := p.through
	l := round.Look{Animals: t.legs[i].planned.Animals, Class: t.class(i).String(), Passed: passed, Note: p.note}
	answer := Answer{Mark: Done}
	if passed {
		answer.Mark = Skipped
	}
	newest := func(v model.View) (model.ID, error) {
		s, err := round.Find(v, t.id)
		if err != nil || len(s.Looks) == 0 {
			return model.ID{}, errors.Join(err, model.ErrNotFound)
		}
		return s.Looks[len(s.Looks)-1].ID.ID, nil
	}
	p.window.Do(func(place.Answer) model.Command {
		return round.LookInto{Tables: p.window.Tables(), Round: t.id, Look: l, By: p.window.By()}
	}, p.noted(p.walk, i, newest, answer))
}

// checkHere opens the check of the animal one is at; the round goes on when the shelf is
// shown again.
func (p *Page) checkHere() {
	if i := p.walk.At(); i < len(p.through.legs) {
		p.window.Go(place.Route{To: place.Check, Subject: p.through.legs[i].planned.Animals[0].ID})
	}
}

// throughPlates are the answers at a box of a round.
func (p *Page) throughPlates() []plate {
	return []plate{{"Enter", p.say("round.looked"), true, func() { p.lookedInto(false) }},
		{p.say("shelf.cap.point"), p.say("shelf.key.check"), false, p.checkHere}, {"/", p.say("round.leave-out"), false, func() { p.lookedInto(true) }}}
}

// through is the panel of a box on a round: what lies before it, who lives in it, and as
// what they count.
func (l *lit) through(p *Page, i int, width float32) fyne.CanvasObject {
	var names []string
	var coils []fyne.CanvasObject
	words := paper.BarrierWords(p.window.Text(), p.through.barriers[i])
	side := float32(96)
	if len(words) > 0 { // which take the room
		side = 56
	}
	for n, id := range p.through.legs[i].planned.Animals {
		a := p.house.Animal(id)
		if a == nil {
			continue
		}
		names = append(names, a.Name)
		if n < 3 {
			coils = append(coils, snake(a, side))
		}
	}
	who := p.throughWho(i, names, width-float32(len(coils))*(side+look.S8)-look.S24, len(words) > 0)
	head := widgets.Row(look.S24, widgets.Row(look.S8, coils...), widgets.Grow(widgets.Col(look.S4, who...)))
	if len(words) == 0 {
		return widgets.MiddleUpright(head)
	}
	between := l.between(p, head, words, width)
	return widgets.Col(look.S8, head, widgets.Grow(widgets.Scroll(between)))
}

// farBetween are the sizes of what lies before a box, to be read from where the animals are:
// of what is always done, and of the rest.
var farBetween = [][2]look.Type{{look.FarSmall.Bold(), look.FarSmall}, {look.FarSmall.Bold(), look.Lead}, {look.LeadBold, look.Lead}, {look.LeadBold, look.Body}, {look.BodyBold, look.Note}}

// between is what lies before a box, below its head, as large as the picture lets it stand whole.
func (l *lit) between(p *Page, head fyne.CanvasObject, words []string, width float32) (between fyne.CanvasObject) {
	for _, kinds := range farBetween {
		var lines []fyne.CanvasObject
		for n, w := range words {
			lines = append(lines, widgets.Para(w, kinds[min(n, 1)], look.Ink))
		}
		between = widgets.Tinted(look.DaysBg, look.S8, look.S12, widgets.Col(2, lines...))
		l.needs = widgets.HeightFor(widgets.Col(look.S8, head, between), width-edges) + 2*look.S12
		if l.needs <= p.view.MostNeed() {
			break
		}
	}
	return between
}

// throughWho says who lives in a box of a round, where, and as what they count and why; beside
// what lies before it, it stands smaller.
func (p *Page) throughWho(i int, names []string, room float32, beside bool) (who []fyne.CanvasObject) {
	leg, t := p.through.legs[i], p.window.Text()
	steps, small := nameSteps, look.LeadBold
	if beside {
		steps, small = nameSteps[3:], look.BodyBold
	}
	called := strings.Join(names, ", ")
	who = append(who, widgets.Line(called, big(called, room, steps...), look.Ink).Cuts())
	where := p.placeOf(Stop{Place: leg.stop.Place})
	class := p.through.class(i)
	said := particulars.Capital(className(t, class))
	why := paper.RoundReasons(t, leg.stop, class, func(id model.AnimalID) string { return p.called(Stop{Animal: id}) })
	if !beside {
		who = append(who, widgets.Line(where, big(where, room, look.FarSmall, look.Lead), look.Soft).CutsFront())
		where = ""
	} else {
		said += " ·"
	}
	who = append(who, widgets.Row(look.S8, widgets.Fix(20, 20, shelfview.NewMark(shelfview.Class(class))), widgets.Line(said, small, look.Ink),
		widgets.Grow(widgets.Line(where, small, look.Ink).CutsFront())))
	if why != "" {
		who = append(who, widgets.Para(why, look.Body, look.Ink))
	}
	if p.note != "" {
		who = append(who, widgets.Line(p.note, look.LeadBold, look.Accent).Cuts())
	}
	if p.notice.words != "" {
		who = append(who, p.noticed())
	}
	return who
}

// throughEnd says what became of a round, and ends it.
func (p *Page) throughEnd(back widgets.Act) fyne.CanvasObject {
	t, w := p.window.Text(), p.walk
	sentence := t.Say("round.went", wording.Gaps{"Looked": w.Count(Done), "All": len(w.Stops), "Passed": w.Count(Skipped)})
	if p.notice.words != "" {
		sentence = p.notice.words
	}
	return widgets.EmptyPage(widgets.NewIcon(iconOf(w.Job), 48, look.Accent), p.say("shelf.walk.end"), sentence,
		widgets.Act{Label: p.say("round.end-it"), Key: "Enter", Do: p.endThrough}, widgets.Act{Label: p.say("round.leave-open"), Key: "Esc", Do: p.end}, back)
}

func (p *Page) endThrough() { p.endRound(p.through.id, p.end) }
