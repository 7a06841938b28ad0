package tray

import (
	"fmt"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/chances"
	"coilward/model/knowledge"
	"coilward/model/samples"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// newGiveUpForm asks why a sample gives no result.
func newGiveUpForm(p *Page, s Sample) *form {
	f := newForm(p).about([]Sample{s})
	why := ""
	var values, said []string
	for _, one := range samples.Whys() {
		values, said = append(values, string(one)), append(said, particulars.Capital(p.say("samples.why."+string(one))))
	}
	few := particulars.NewFew(p.say("field.void"), values, said, "", func(v string) { why = v })
	parts := []fyne.CanvasObject{newMany(p, []Sample{s}, nil).Container, few.Container, f.dayField("voided", p.tray.Today), f.Field("note", "", widgets.FieldOptions{Rows: 2})}
	f.Chosen = func() string { return why }
	f.Command = func(a place.Answer) (model.Command, error) {
		at, err := f.moment("voided", model.Moment{})
		if err != nil {
			return nil, err
		}
		if why == "" {
			return nil, &model.Refusal{Field: "void", Reason: "tray.why", Answer: model.Mend}
		}
		return samples.GiveUp{Tables: p.window.Tables(), ID: s.ID, Base: s.Revision, Void: samples.Void{At: at, Why: samples.Why(why), Note: f.Text("note")}, Confirmed: a.Confirmed}, nil
	}
	f.Done = func() { p.kept(s.ID) }
	return f.settle(p.say("tray.give-up"), p.say("tray.give-up.keep"), parts...)
}

// newCorrectForm puts the result of one thing right; the earlier one stays and is
// shown.
func newCorrectForm(p *Page, s Sample, of knowledge.AgentID) *form {
	f := newForm(p).about([]Sample{s})
	w := p.words()
	before, _ := s.Result(of)
	outcome := ""
	var values, said []string
	for _, o := range samples.Outcomes() {
		values, said = append(values, string(o)), append(said, w.outcome(o))
	}
	chosen := map[knowledge.AgentID]knowledge.Method{}
	if before.Method != "" {
		chosen[of] = before.Method
	}
	by := newMethods(p, []Sample{s}, []knowledge.AgentID{of}, chosen)
	would := newEffects(p, func() []chances.Supposed {
		return []chances.Supposed{{Sample: s.ID, Of: of, Outcome: samples.Outcome(outcome), Method: by.chosen[of]}}
	}, func() {
		if f.Content != nil {
			f.Content.Refresh()
		}
	})
	by.changed = would.ask
	few := particulars.NewFew(p.say("field.sample-outcome"), values, said, "", func(v string) {
		outcome = v
		would.ask()
	})
	parts := []fyne.CanvasObject{newMany(p, []Sample{s}, nil).Container,
		widgets.Para(w.agent(of)+": "+w.outcome(before.Outcome)+", "+w.DayShort(before.At.Day()), look.Body, look.Ink),
		few.Container, would.Container, by.Container, f.dayField("reported", p.tray.Today), f.Field("report", before.Report, widgets.FieldOptions{}),
		f.Field("why", "", widgets.FieldOptions{Label: p.say("field.corrected")}), f.Field("note", "", widgets.FieldOptions{Rows: 2})}
	f.Chosen = func() string { return fmt.Sprint(outcome, by.chosen) }
	f.Command = func(a place.Answer) (model.Command, error) {
		at, err := f.moment("reported", model.Moment{})
		if err != nil {
			return nil, err
		}
		if outcome == "" {
			return nil, &model.Refusal{Field: "outcome", Reason: "tray.outcome", Answer: model.Mend}
		}
		r := samples.Result{Of: of, Outcome: samples.Outcome(outcome), Method: by.chosen[of], At: at, Report: f.Text("report"), Photos: before.Photos, Note: f.Text("note"), Why: f.Text("why")}
		return samples.Correct{Tables: p.window.Tables(), ID: s.ID, Base: s.Revision, Result: r, Confirmed: a.Confirmed}, nil
	}
	f.Done = func() { p.kept(s.ID) }
	return f.settle(p.say("tray.correct"), p.say("particulars.keep"), parts...)
}

// newChangeForm puts right all that is known of a sample but its results.
func newChangeForm(p *Page, s Sample) *form {
	f := newForm(p).about([]Sample{s})
	h := newHerd(p, s.Animals)
	what := newWhatFor(p, s.Sample)
	lab, labShown := p.labPick(s.Lab)
	h.changed, h.enter = func() {}, f.Keep
	typed := func(m model.Moment) string {
		if m.IsZero() {
			return ""
		}
		return p.window.Text().DayShort(m.Day())
	}
	pair := func(a, b fyne.CanvasObject) fyne.CanvasObject {
		return widgets.RowTop(look.S12, widgets.Grow(a), widgets.Grow(b))
	}
	line := func(name, value string) fyne.CanvasObject { return f.Field(name, value, widgets.FieldOptions{}) }
	parts := []fyne.CanvasObject{h.Container, what.content}
	if s.Planned != nil {
		parts = append(parts, line("planned", p.window.Text().DayShort(s.Planned.Day)))
	}
	parts = append(parts,
		pair(line("kit-number", s.Kit.Number), line("kit-lot", s.Kit.Lot)), line("kit-expires", particulars.Typed(p.window, s.Kit.Expires)),
		line("sample-site", s.Site), line("storage", s.Storage),
		pair(line("taken", typed(s.Taken)), line("posted", typed(s.Posted))), line("arrived", typed(s.Arrived)), labShown,
		pair(line("courier", s.Courier), line("tracking", s.Tracking)), f.Field("note", s.Note, widgets.FieldOptions{Rows: 2}))
	f.Chosen = func() string { return fmt.Sprint(h.ids(), what.material, what.of, what.by.Value(), lab.Value()) }
	f.Command = func(a place.Answer) (model.Command, error) {
		after := s.Sample
		after.Material, after.For, after.TakenBy, after.Lab = what.material, what.lookedFor(), p.picked(what.by), p.picked(lab)
		after.Site, after.Storage, after.Courier, after.Tracking, after.Note = f.Text("sample-site"), f.Text("storage"), f.Text("courier"), f.Text("tracking"), f.Text("note")
		after.Kit.Number, after.Kit.Lot = f.Text("kit-number"), f.Text("kit-lot")
		var err error
		if after.Kit.Expires, err = particulars.ReadDateInFull(p.window, "kit-expires", f.Text("kit-expires")); err != nil {
			return nil, err
		}
		if s.Planned != nil {
			planned := *s.Planned
			if planned.Day, err = p.window.Text().ParseDayAhead(f.Text("planned"), p.tray.Today); err != nil {
				return nil, particulars.At("planned", err)
			}
			after.Planned = &planned
		}
		for _, step := range []struct {
			field string
			at    *model.Moment
		}{{"taken", &after.Taken}, {"posted", &after.Posted}, {"arrived", &after.Arrived}} {
			if *step.at, err = f.moment(step.field, *step.at); err != nil {
				return nil, err
			}
		}
		return samples.Change{Tables: p.window.Tables(), ID: s.ID, Base: s.Revision, Animals: h.ids(), Sample: after, Confirmed: a.Confirmed}, nil
	}
	f.At = func(r *model.Refusal) *widgets.Field {
		if r.Field == "name" {
			return h.search
		}
		return nil
	}
	f.Refused = what.said
	f.Keys = h.search.Focusable
	f.Done = func() { p.kept(s.ID) }
	return f.settle(p.say("tray.change"), p.say("particulars.keep"), parts...)
}
