package feeders

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/feeders"
	"coilward/model/wording"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// usesShown is how many of the last uses a form shows.
const usesShown = 8

func (p *Page) add() {
	if !p.holds() {
		p.show(p.batchForm(nil), model.BatchID{})
	}
}

func (p *Page) edit(s feeders.Standing) { p.show(p.batchForm(&s), s.ID) }

// batchForm asks what is known of a batch; one that is there is thawed out of here.
func (p *Page) batchForm(before *feeders.Standing) *particulars.SideForm {
	f := particulars.NewSideForm(p.window)
	t, b, title := p.window.Text(), feeders.Batch{}, p.say("feeders.add")
	var parts []fyne.CanvasObject
	if before != nil {
		b, title = before.Batch, before.Name
		parts = append(parts, p.thawing(f, *before)...)
	}
	count, each := "", b.Each.Typed
	if b.Count > 0 {
		count = strconv.Itoa(b.Count)
	}
	if each == "" && !b.Each.IsZero() {
		each = t.Mass(b.Each)
	}
	prey, size := pick(p, "prey", care.Preys(), "care.prey.", b.Prey), pick(p, "prey-size", care.PreySizes(), "care.prey-size.", b.Size)
	hint := widgets.FieldOptions{Hint: p.say("particulars.hint.date")}
	parts = append(parts, f.Field("batch-name", b.Name, widgets.FieldOptions{Hint: p.say("feeders.name-hint")}), f.Picks("prey", prey), f.Picks("prey-size", size),
		widgets.RowTop(look.S8, widgets.GrowBy(1, f.Field("batch-count", count, widgets.FieldOptions{})), widgets.GrowBy(1, f.Field("prey-mass", each, widgets.FieldOptions{}))),
		f.Field("freezer", b.Freezer, widgets.FieldOptions{Hint: p.say("feeders.freezer-hint")}), f.Field("bought", particulars.Typed(p.window, b.Bought), hint),
		f.Field("frozen", particulars.Typed(p.window, b.Frozen), hint), f.Field("best-before", particulars.Typed(p.window, b.Best), hint),
		f.Field("note", b.Note, widgets.FieldOptions{Rows: 2}))
	if before != nil && len(before.Uses) == 0 {
		parts = append(parts, widgets.Button(widgets.Quiet, widgets.Act{Label: p.say("feeders.remove"), Icon: "bin", Do: func() {
			f.Do(feeders.Remove{ID: before.ID}, p.kept)
		}}))
	}
	f.Chosen = func() string { return fmt.Sprint(prey.Value(), size.Value()) }
	f.Command = func(place.Answer) (model.Command, error) {
		after := feeders.Batch{Name: f.Text("batch-name"), Prey: care.Prey(prey.Value()), Size: care.PreySize(size.Value()), Freezer: f.Text("freezer"), Note: f.Text("note")}
		var err error
		if after.Count, err = t.ParseCount(f.Text("batch-count"), feeders.MaxCount); err != nil {
			return nil, particulars.At("batch-count", err)
		}
		if typed := f.Text("prey-mass"); typed != "" {
			if after.Each, err = t.ParseMass(typed); err != nil {
				return nil, particulars.At("prey-mass", err)
			}
		}
		for name, to := range map[string]*model.Date{"bought": &after.Bought, "frozen": &after.Frozen} {
			if *to, err = particulars.ReadDate(p.window, name, f.Text(name)); err != nil {
				return nil, err
			}
		}
		if after.Best, err = particulars.ReadDateInFull(p.window, "best-before", f.Text("best-before")); err != nil {
			return nil, err
		}
		if before == nil {
			return feeders.Add{Batch: after, By: p.window.By()}, nil
		}
		return feeders.Change{Tables: p.window.Tables(), ID: before.ID, Base: before.Revision, Batch: after}, nil
	}
	f.Done = p.kept
	f.Build(title, p.say("particulars.keep"), p.close, parts...)
	return f
}

// thawing says how a batch stands, thaws out of it, and lists what happened to it.
func (p *Page) thawing(f *particulars.SideForm, s feeders.Standing) []fyne.CanvasObject {
	t := p.window.Text()
	parts := []fyne.CanvasObject{widgets.Para(t.Say("feeders.left", wording.Gaps{"Left": s.Left, "Count": s.Count}), look.LeadBold, look.Ink)}
	for _, said := range p.against(s) {
		parts = append(parts, widgets.Caution(said))
	}
	if s.Thawed > 0 {
		parts = append(parts, widgets.Para(t.Count("feeders.thawed", s.Thawed), look.Body, look.Ink))
	}
	if s.Left > 0 {
		parts = append(parts, widgets.Caution(p.say(feeders.RefreezeCaution)))
		field := f.Field("thaw-count", "1", widgets.FieldOptions{})
		f.Named("thaw-count").OnEnter = func() { p.thaw(f, s) }
		parts = append(parts, widgets.Row(look.S8, widgets.Grow(field), widgets.Button(widgets.Plain, widgets.Act{Label: p.say("feeders.thaw"), Do: func() { p.thaw(f, s) }})))
	}
	if s.Left > 0 && (s.Doubtful != 0 || s.Over(p.today)) {
		field := f.Field("thrown-count", "", widgets.FieldOptions{Hint: p.say("feeders.look-hint")})
		f.Named("thrown-count").OnEnter = func() { p.look(f, s) }
		parts = append(parts, widgets.RowTop(look.S8, widgets.Grow(field), widgets.Button(widgets.Plain, widgets.Act{Label: p.say("feeders.look"), Do: func() { p.look(f, s) }})))
	}
	list := widgets.Col(0)
	for i, u := range s.Uses {
		if i == usesShown {
			list.Add(widgets.Para(t.Count("feeders.more-uses", len(s.Uses)-i), look.Note, look.Soft))
			break
		}
		list.Add(p.use(u))
	}
	if len(s.Uses) > 0 {
		parts = append(parts, widgets.Col(look.S4, widgets.Line(p.say("feeders.uses"), look.NoteBold, look.Soft), list))
	}
	return append(parts, widgets.HLine())
}

// use is one thing that happened to a batch; a meal leads to its animal, anything else
// is taken back here.
func (p *Page) use(u feeders.Use) fyne.CanvasObject {
	t := p.window.Text()
	said, act := "", widgets.Act{}
	switch {
	case u.Meal != nil:
		said = t.Say("animal.day.meal-" + string(u.Meal.Outcome))
		act = widgets.Act{Label: p.say("feeders.to-animal"), Do: func() { p.window.Go(place.Route{To: place.Animal, Subject: u.Animal.ID, Page: "days"}) }}
	case u.Thaw != nil:
		said = t.Count("feeders.use-thaw", u.Thaw.Count)
	case u.Look != nil:
		said = t.Count("feeders.use-look", u.Look.Thrown)
	default:
		said = t.Say("kind." + feeders.KindFreezer)
	}
	if u.Meal == nil {
		act = widgets.Act{Label: p.say("feeders.take-back"), Do: func() {
			p.window.Do(func(place.Answer) model.Command { return feeders.RemoveEntry{Entry: u.Entry} }, func(err error) {
				if err == nil {
					p.read()
				}
			})
		}}
	}
	words := widgets.Col(0, widgets.Para(said, look.Body, look.Ink), widgets.Line(t.DayShort(u.At.Day()), look.Note, look.Soft))
	return widgets.Row(look.S8, widgets.Grow(widgets.Pad(words, look.S4, 0)), widgets.Button(widgets.Quiet, act))
}

// thaw notes as many as stand in the field.
func (p *Page) thaw(f *particulars.SideForm, s feeders.Standing) {
	p.note(f, s, "thaw-count", func(count int, a place.Answer) model.Command {
		return feeders.ThawOut{Tables: p.window.Tables(), Batch: s.ID, Thaw: feeders.Thaw{Count: count}, At: p.window.Now(), By: p.window.By(), Confirmed: a.Confirmed}
	})
}

// look notes that the batch was looked through, and as many thrown away as stand in the
// field.
func (p *Page) look(f *particulars.SideForm, s feeders.Standing) {
	p.note(f, s, "thrown-count", func(count int, _ place.Answer) model.Command {
		return feeders.LookThrough{Tables: p.window.Tables(), Batch: s.ID, Look: feeders.Look{Thrown: count}, At: p.window.Now(), By: p.window.By()}
	})
}

// none is how it is typed that nothing was thrown away.
const none = "0"

// note keeps what a count in a field makes, and shows the batch as it is then.
func (p *Page) note(f *particulars.SideForm, s feeders.Standing, field string, command func(count int, a place.Answer) model.Command) {
	count, err := 0, error(nil)
	if typed := f.Text(field); typed != none {
		count, err = p.window.Text().ParseCount(typed, feeders.MaxCount)
	}
	if err != nil {
		f.Refuse(particulars.At(field, err))
		return
	}
	p.window.Do(func(a place.Answer) model.Command { return command(count, a) }, func(err error) {
		if err != nil {
			f.Refuse(err)
			return
		}
		p.form = nil
		p.read()
		if i := slices.IndexFunc(p.all, func(one feeders.Standing) bool { return one.ID == s.ID }); i >= 0 {
			p.edit(p.all[i])
		}
	})
}

// fail asks which freezer failed.
func (p *Page) fail() {
	if p.holds() || len(p.all) == 0 {
		return
	}
	f := particulars.NewSideForm(p.window)
	var names []string
	for _, s := range p.all {
		if s.Left > 0 && s.Freezer != "" && !slices.Contains(names, s.Freezer) {
			names = append(names, s.Freezer)
		}
	}
	slices.Sort(names)
	freezer := strings.Join(names[:min(1, len(names))], "")
	f.Command = func(place.Answer) (model.Command, error) {
		return feeders.Fail{Tables: p.window.Tables(), Failure: feeders.Failure{Freezer: f.Text("freezer"), Note: f.Text("note")}, At: p.window.Now(), By: p.window.By()}, nil
	}
	f.Done = p.kept
	f.Build(p.say("feeders.fail"), p.say("particulars.keep"), p.close, widgets.Caution(p.say("feeders.caution.failed")),
		widgets.Para(p.say("feeders.known", wording.Gaps{"Freezers": strings.Join(names, ", ")}), look.Note, look.Soft),
		f.Field("freezer", freezer, widgets.FieldOptions{}), f.Field("note", "", widgets.FieldOptions{Rows: 2}))
	p.show(f, model.BatchID{})
}

// pick is a choice of many, by the texts of a family.
func pick[V ~string](p *Page, field string, values []V, family string, chosen V) *particulars.Pick {
	var ids []string
	var choices []widgets.Choice
	for _, v := range values {
		ids, choices = append(ids, string(v)), append(choices, widgets.Choice{Label: particulars.Capital(p.say(family + string(v)))})
	}
	return particulars.NewPick(p.window, p.say("field."+field), particulars.Capital(p.say("particulars.unsaid")), ids, choices, string(chosen))
}
