package newcomers

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/newcomers"
	"coilward/model/quarantine"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

func caption(words string) fyne.CanvasObject { return widgets.Line(words, look.NoteBold, look.Soft) }

// lookForMites asks what was seen at a look, by its figure, and where was looked.
func (p *Page) lookForMites(n newcomers.Newcomer) {
	if p.holds() {
		return
	}
	f, m, seen := newForm(p), care.MiteLook{}, false
	f.of = n.Quarantine.ID
	inside := widgets.Stack()
	var show func()
	pick := func(i int) {
		if grades := care.MiteGrades(); i < len(grades) {
			m.Grade, seen = grades[i], true
			show()
		}
	}
	show = func() {
		rows := widgets.Col(look.S4)
		for i, grade := range care.MiteGrades() {
			figure := strconv.Itoa(int(grade))
			words := particulars.Capital(p.say("care.mites." + figure))
			said := widgets.RowTop(look.S8, widgets.KeyCap(figure), widgets.Grow(widgets.Para(words, look.Body, look.Ink)))
			rows.Add(widgets.Tile(figure+" "+words, widgets.Pad(said, look.S8, look.S8), seen && m.Grade == grade, func() { pick(i) }))
		}
		where := widgets.Wrap(look.S8)
		for _, w := range care.MiteWheres() {
			where.Add(widgets.Chip("", particulars.Capital(p.say("care.mites.where."+string(w))), slices.Contains(m.Where, w), func() {
				m.Where = toggled(care.MiteWheres(), m.Where, w)
				show()
			}))
		}
		places := widgets.Col(look.S8, caption(p.say("field.mite-where")), where)
		if slices.Contains(m.Where, care.InBath) {
			places.Add(widgets.Para(p.say(care.MiteBathCaution), look.Note, look.Ink))
		}
		if len(m.Where) > 0 && !m.Counts() {
			places.Add(widgets.Para(p.say("mites.not-on-animal"), look.Note, look.Ink))
		}
		inside.Objects = []fyne.CanvasObject{widgets.Col(look.S16, widgets.Col(look.S8, caption(p.say("field.mites")), rows), places)}
		inside.Refresh()
		f.Refresh()
	}
	show()
	f.byFigures(pick)
	f.Chosen = func() string { return fmt.Sprint(seen, m.Grade, m.Where) }
	f.Command = func(a place.Answer) (model.Command, error) {
		if !seen {
			return nil, &model.Refusal{Field: "mites", Reason: "mites.grade", Answer: model.Mend}
		}
		at, err := f.Moment("day", model.Moment{})
		return care.LookForMites{About: care.About{Animal: n.Animal.ID, At: at, By: p.window.By(), Confirmed: a.Confirmed}, MiteLook: m}, err
	}
	f.open(p.say("newcomers.look-at", map[string]any{"Animal": n.Animal.Name}), p.say("particulars.keep"),
		inside, f.Day("day", p.say("field.day"), p.board.Today), widgets.Para(p.say("newcomers.look-how"), look.Note, look.Soft))
}

// toggled are some with one more or less of them, in the order in which they are offered.
func toggled[T comparable](all, some []T, one T) (now []T) {
	for _, a := range all {
		if slices.Contains(some, a) != (a == one) {
			now = append(now, a)
		}
	}
	return now
}

// release names what is not met, asks why where something is not, and keeps it.
func (p *Page) release(n newcomers.Newcomer) {
	if p.holds() {
		return
	}
	f, w := newForm(p), p.words()
	f.of = n.Quarantine.ID
	act, parts := p.say("newcomers.release"), []fyne.CanvasObject{}
	if found := p.detected(n); found != nil {
		act, parts = p.say("newcomers.release-although"), append(parts, found)
	}
	unmet, rows, why := n.Gate.Unmet(), widgets.Col(look.S12), p.say("newcomers.release-why")
	if len(unmet) == 0 {
		why = p.say("newcomers.release-why-earlier") // an earlier day is judged by what was known then
		parts = append(parts, widgets.Para(p.say("newcomers.release-met"), look.Body, look.Ink))
	} else {
		for _, l := range unmet {
			rows.Add(widgets.RowTop(look.S8, widgets.Pad(widgets.NewSign(stateSign(l.State), 16, look.Soft, look.Sheet), 2, 0), widgets.Grow(widgets.Col(0, widgets.Para(w.held(l), look.BodyBold, look.Ink), widgets.Para(w.reasons(l), look.Note, look.Soft)))))
		}
		parts = append(parts, widgets.Caution(w.Count("newcomers.release-unmet", len(unmet))))
	}
	parts = append(parts, f.field("why", why, "", widgets.FieldOptions{Hint: p.say("newcomers.release-why-hint")}), f.Day("released", p.say("newcomers.released-on"), p.board.Today), rows, widgets.Para(p.say("newcomers.release-says"), look.Note, look.Soft))
	f.Command = func(a place.Answer) (model.Command, error) {
		at, err := f.Moment("released", model.Moment{})
		c := newcomers.Release{Tables: p.window.Tables(), ID: n.Quarantine.ID, Base: n.Quarantine.Revision, At: at, By: p.window.By(), Why: f.Text("why"), Confirmed: a.Confirmed}
		if c.Why == "" || at.Day() == n.Gate.Day { // the reason is asked for first, and what the form names is not asked about once more
			c.Confirmed = append(slices.Clone(a.Confirmed), quarantine.AsksUnmet)
		}
		return c, err
	}
	f.Done = func() {
		p.folded = false
		p.close()
	}
	f.open(p.say("newcomers.release-of", map[string]any{"Animal": n.Animal.Name}), act, parts...)
}

// protocolPick chooses among the protocols that there are.
func (p *Page) protocolPick(chosen *knowledge.ProtocolID) fyne.CanvasObject {
	var ids, titles []string
	for _, o := range p.board.Offers {
		ids, titles = append(ids, string(o.Protocol.ID)), append(titles, p.window.Text().Label(o.Own.Title()))
	}
	return particulars.NewFew(p.say("field.protocol"), ids, titles, string(*chosen), func(v string) { *chosen = knowledge.ProtocolID(v) }).Container
}

// change asks for another protocol or day of arrival, or takes the quarantine out.
func (p *Page) change(n newcomers.Newcomer) {
	if p.holds() {
		return
	}
	f, q := newForm(p), n.Quarantine
	f.of = q.ID
	protocol := q.Protocol
	f.Chosen = func() string { return string(protocol) }
	f.Command = func(a place.Answer) (model.Command, error) {
		at, err := f.Moment("arrival", q.Arrived)
		return quarantine.Change{Tables: p.window.Tables(), ID: q.ID, Base: q.Revision, Arrived: at, Protocol: protocol, Note: f.Text("note"), Confirmed: a.Confirmed}, err
	}
	remove := widgets.Button(widgets.Quiet, widgets.Act{Label: p.say("newcomers.remove"), Icon: "bin", Do: func() {
		f.Do(quarantine.Remove{ID: q.ID}, p.close)
	}})
	f.open(p.say("newcomers.change-of", map[string]any{"Animal": n.Animal.Name}), p.say("particulars.keep"),
		f.Day("arrival", p.say("newcomers.arrived-on"), q.Arrived.Day()), p.protocolPick(&protocol),
		f.field("note", p.say("field.note"), q.Note, widgets.FieldOptions{Rows: 2}), widgets.Row(0, remove, widgets.Fill()))
}

// enclosures are those that a newcomer can live in, the free ones first.
func (p *Page) enclosures() (places []string, titles []widgets.Choice) {
	for _, r := range p.board.Places {
		detail := p.say("newcomers.room-free")
		if r.Taken {
			detail = p.say("newcomers.room-taken")
		}
		places, titles = append(places, r.ID.String()), append(titles, widgets.Choice{Label: r.Title, Detail: detail})
	}
	return places, titles
}

// settle asks where a newcomer that has no place yet lives. Where there is no enclosure
// a room is made on the shelf first, which leads back.
func (p *Page) settle(n newcomers.Newcomer) {
	if p.holds() {
		return
	}
	places, titles := p.enclosures()
	if len(places) == 0 {
		p.settling = n.Quarantine.ID
		p.window.Go(place.Route{To: place.Shelf, Page: place.NewRoom})
		return
	}
	f, room := newForm(p), particulars.NewPick(p.window, p.say("newcomers.room"), p.say("newcomers.room-later"), places, titles, "")
	f.of = n.Quarantine.ID
	f.Chosen = room.Value
	f.Command = func(a place.Answer) (model.Command, error) {
		if room.Value() == "" {
			return nil, &model.Refusal{Field: "place", Reason: "newcomers.place", Answer: model.Mend}
		}
		at, err := f.Moment("day", n.Quarantine.Arrived)
		if err != nil {
			return nil, err
		}
		id, err := model.ParseID(room.Value())
		return husbandry.Move{Animal: n.Animal.ID, Place: model.PlaceID{ID: id}, At: at, By: p.window.By(), Confirmed: a.Confirmed}, err
	}
	f.open(p.say("newcomers.place-of", map[string]any{"Animal": n.Animal.Name}), p.say("particulars.keep"), f.Picks("place", room), f.Day("day", p.say("newcomers.lives-since"), n.Quarantine.Arrived.Day()))
}

func (p *Page) arriveNew() { p.arrive(model.AnimalID{}) }

// built is the choice of a room that is made with the arrival.
const built = "new"

// arrive begins the quarantine of an animal that has come: one that is known, or a new
// one, which is added and put in its place with it.
func (p *Page) arrive(who model.AnimalID) {
	if p.holds() {
		return
	}
	f, protocol := newForm(p), newcomers.Usual
	var ids []string
	var choices []widgets.Choice
	for _, a := range p.board.Free {
		ids, choices = append(ids, a.ID.String()), append(choices, widgets.Choice{Label: a.Name, Detail: a.Code})
	}
	places, titles := p.enclosures()
	places, titles = slices.Insert(places, 0, built), slices.Insert(titles, 0, widgets.Choice{Label: p.say("newcomers.room-new"), Icon: "plus"})
	value, came := "", p.board.Today
	if !who.IsZero() {
		value = who.String()
	}
	if i := slices.IndexFunc(p.board.Free, func(a animals.Stored) bool { return a.ID == who }); i >= 0 && !p.board.Free[i].Since.IsZero() {
		came = p.board.Free[i].Since.Day
	}
	known := particulars.NewPick(p.window, p.say("newcomers.who"), p.say("newcomers.who-new"), ids, choices, value)
	room := particulars.NewPick(p.window, p.say("newcomers.room"), p.say("newcomers.room-later"), places, titles, "")
	fresh := widgets.Col(look.S16, f.field("name", p.say("field.name"), "", widgets.FieldOptions{}), f.field("from", p.say("newcomers.from-whom"), "", widgets.FieldOptions{}))
	day := f.Day("arrival", p.say("newcomers.arrived-on"), came)
	build := widgets.Col(look.S16, f.field("room", p.say("newcomers.room-name"), "", widgets.FieldOptions{}), f.field("place-name", p.say("newcomers.enclosure-name"), "", widgets.FieldOptions{}))
	shown := func(o fyne.CanvasObject, show bool) {
		if show {
			o.Show()
		} else {
			o.Hide()
		}
	}
	show := func() {
		shown(fresh, known.Value() == "")
		shown(build, room.Value() == built)
		f.Refresh()
	}
	known.OnPicked, room.OnPicked = show, show
	show()
	parts := []fyne.CanvasObject{}
	if len(ids) > 0 {
		parts = append(parts, f.Picks("animal", known))
	}
	parts = append(parts, fresh, day, f.Picks("place", room), build, p.protocolPick(&protocol), widgets.Para(p.say("newcomers.arrive-then"), look.Note, look.Soft))
	f.Chosen = func() string { return known.Value() + room.Value() + string(protocol) }
	f.also = map[string]string{"since": "arrival", "stay-place": "place-name"}
	f.Command = func(a place.Answer) (model.Command, error) {
		at, err := f.Moment("arrival", model.Moment{})
		if err != nil {
			return nil, err
		}
		c := newcomers.Arrive{Tables: p.window.Tables(), At: at, Protocol: protocol, By: p.window.By(), Confirmed: a.Confirmed}
		if known.Value() != "" {
			c.Known.ID, err = model.ParseID(known.Value())
		} else {
			c.Animal = animals.Animal{Name: f.Text("name"), From: f.Text("from"), Since: model.Date{Day: at.Day(), Precision: model.ToDay}, Status: animals.Kept}
		}
		switch {
		case err != nil || room.Value() == "":
		case room.Value() == built:
			var refused *model.Refusal
			for _, name := range []string{"place-name", "room"} {
				if f.Text(name) != "" {
					continue
				}
				if refused != nil { // both are said at once, the keys go to the first
					f.Named(refused.Field).Refuse(p.window.Text().Why(refused))
				}
				refused = &model.Refusal{Field: name, Reason: "text.empty", Answer: model.Mend}
			}
			if refused != nil {
				return nil, refused
			}
			c.Build = &husbandry.Branch{Place: husbandry.Place{Name: f.Text("room"), Kind: husbandry.Room}, Below: []husbandry.Branch{{Place: husbandry.Place{Name: f.Text("place-name"), Kind: husbandry.Enclosure}}}}
		default:
			c.Place.ID, err = model.ParseID(room.Value())
		}
		return c, err
	}
	f.Done = func() { p.begun(known.Value(), f.Text("name")) }
	f.open(p.say("newcomers.arrive"), p.say("newcomers.begin"), parts...)
}

// begun shows the quarantine that was just begun: of the animal that was known, or of
// the new one of that name, which nobody else has who is here.
func (p *Page) begun(known, name string) {
	name = strings.Join(strings.Fields(name), " ")
	p.form = nil
	p.read()
	for _, n := range p.board.Open {
		if id := n.Animal.ID.String(); id == known || known == "" && n.Animal.Name == name {
			p.chosen = n.Quarantine.ID
		}
	}
	p.close()
	p.toChosen()
}
