package animal

import (
	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/exam"
	"coilward/model/knowledge"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// checkColumn is a kept check as it was told then, beside the page.
type checkColumn struct {
	page  *Page
	doc   model.Document
	check exam.Check
}

func (c *checkColumn) say(key string, gaps ...map[string]any) string { return c.page.say(key, gaps...) }

// content is the column: when and by whom, how urgent and why, what was found,
// and which stops were not looked at.
func (c *checkColumn) content() fyne.CanvasObject {
	t := c.page.window.Text()
	when := joined(t.Moment(c.doc.At), c.page.life.By(t, c.doc.By))
	parts := []fyne.CanvasObject{
		widgets.Para(when, look.Body, look.Soft),
		widgets.Para(c.say("extent."+string(c.check.Extent(c.page.window.Tables()))), look.BodyBold, look.Ink),
	}
	parts = append(parts, c.page.verdictParts(c.check.Verdict)...)
	parts = append(parts, c.found()...)
	parts = append(parts, c.stops("animal.check.not-looked", exam.NotLooked), c.stops("animal.check.not-answered", exam.NotYet), c.stops("animal.check.left", exam.LeftToVet))
	if c.check.Note != "" {
		parts = append(parts, widgets.Para(c.check.Note, look.Body, look.Ink))
	}
	remove := widgets.Button(widgets.Quiet, widgets.Act{Label: c.say("animal.check.remove"), Icon: "bin", Do: c.remove})
	if c.page.window.ReadOnly() {
		remove.Disable()
	}
	correct := widgets.Button(widgets.Quiet, widgets.Act{Label: c.say("animal.check.correct"), Icon: "note", Do: c.correct})
	if c.page.window.ReadOnly() {
		correct.Disable()
	}
	parts = append(parts, widgets.Wrap(look.S8, correct, remove))
	shut := widgets.Big(widgets.Button(widgets.Plain, widgets.Act{Label: c.say("particulars.close"), Key: "Esc", Do: c.page.closeForm}))
	return particulars.Column(c.say("kind.check"), c.page.closeForm, widgets.Col(look.S12, parts...), shut)
}

// correct opens the check to be put right: a size or a photo added later, an
// answer that was wrong.
func (c *checkColumn) correct() {
	c.page.window.Go(place.Route{To: place.Check, Subject: c.page.id.ID, Page: c.doc.ID.String()})
}

// verdictParts are a verdict in words: how urgent, what to do, and every reason
// with its source.
func (p *Page) verdictParts(v exam.Verdict) []fyne.CanvasObject {
	if v.Level == knowledge.Nothing {
		return nil
	}
	u := urgencyOf(v.Level)
	parts := []fyne.CanvasObject{
		widgets.Wrap(0, widgets.Step(u, p.say("urgency."+v.Level.String()))),
		widgets.Para(p.say("urgency."+v.Level.String()+".act"), look.Body, look.Ink),
		widgets.Line(p.say("animal.check.reasons"), look.NoteBold, look.Soft),
	}
	for _, r := range v.Reasons {
		parts = append(parts, widgets.Col(0, widgets.Para(p.say("reason."+string(r.Rule)), look.Body, look.Ink),
			widgets.Para(p.say("animal.check.source", map[string]any{"Source": p.window.Text().Source(r.Source)}), look.Note, look.Faint)))
	}
	return parts
}

// found are the findings, new ones first, as they stood then.
func (c *checkColumn) found() []fyne.CanvasObject {
	changes := c.check.Changes()
	if len(changes) == 0 {
		return nil
	}
	t := c.page.window.Text()
	parts := []fyne.CanvasObject{widgets.Line(c.say("animal.check.found"), look.NoteBold, look.Soft)}
	for _, f := range changes {
		where, grade, size := "", "", ""
		if f.Now.Place.Region != "" {
			where = c.page.regionWords(f.Now)
		}
		if f.Now.Grade > exam.Ungraded {
			grade = c.say(f.Now.Grade.Key())
		}
		if !f.Now.Size.IsZero() {
			size = t.Length(f.Now.Size)
		}
		parts = append(parts, widgets.Col(0, widgets.Para(c.say("finding."+string(f.What)), look.Body, look.Ink),
			widgets.Para(joined(where, grade, size, c.say(f.Standing.Key()), f.Now.Note), look.Note, look.Soft)))
	}
	return parts
}

// stops names the stops with an answer; nothing where there are none.
func (c *checkColumn) stops(caption string, answer exam.Look) fyne.CanvasObject {
	var names []string
	for _, s := range c.check.Stops {
		if s.Look == answer {
			names = append(names, c.say("stop."+string(s.Stop)))
		}
	}
	column := widgets.Col(0, widgets.Line(c.say(caption), look.NoteBold, look.Soft), widgets.Para(joined(names...), look.Body, look.Ink))
	setVisible(column, len(names) > 0)
	return column
}

func (c *checkColumn) remove() {
	c.page.window.Do(func(place.Answer) model.Command { return exam.Remove{Entry: model.EntryID{ID: c.doc.ID}} }, func(err error) {
		if err == nil {
			c.page.reading = nil
			c.page.load()
			c.page.window.Focus(nil)
		}
	})
}
