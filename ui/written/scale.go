package written

import (
	"errors"
	"strings"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/husbandry"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// scaleCheck takes what stands on a sheet for weighing of its scale: the known mass that was
// laid on it, what it showed, and whether that is good enough, as the keeper says.
type scaleCheck struct {
	of                 *weighing
	scale              model.InstrumentID
	reference, reading *widgets.Field
	result             string
	leave              func()
}

// The results, as they are chosen.
const (
	passed = "good"
	failed = "failed"
)

// askScale asks what the scale showed that is picked.
func (w *weighing) askScale() {
	c := &scaleCheck{of: w, scale: particulars.PickedScale(w.scale, w.scales)}
	if c.scale.IsZero() {
		w.scale.Refuse(w.say("written.scale.which"))
		w.page.content.Refresh() // what stands below makes room for the reason
		return
	}
	field := func(name string) *widgets.Field {
		f := widgets.NewField("", widgets.FieldOptions{Label: w.say("field." + name), Unit: particulars.MassUnit(w.page.window.Text())})
		f.OnTyped = func(string) { f.Accept() }
		return f
	}
	c.reference, c.reading = field("reference"), field("reading")
	result := particulars.NewFew(w.say("field.check-result"), []string{passed, failed},
		[]string{particulars.Capital(w.say("husbandry.check.good")), particulars.Capital(w.say("husbandry.check.failed"))}, "", func(v string) {
			c.result = v
			c.reading.Accept()
		})
	c.leave = w.page.window.ShowSheet(widgets.Sheet{
		Title: w.say("written.scale.showed"), Width: 480, Cancel: w.say("window.cancel"), First: c.reference.Focusable(),
		Content: widgets.Col(look.S16, widgets.Para(w.say("instruments.how.scale"), look.Note, look.Soft),
			widgets.RowTop(look.S12, widgets.GrowBy(1, c.reference.Container), widgets.GrowBy(1, c.reading.Container)), result.Container),
		Acts: []widgets.Act{{Label: w.say("instruments.note-check"), Do: c.note}},
	})
}

// note notes the check as of the day of the sheet.
func (c *scaleCheck) note() {
	w := c.of
	window := w.page.window
	text := window.Text()
	refuse := func(f *widgets.Field, r *model.Refusal) {
		f.Refuse(text.Why(r))
		window.Focus(f.Focusable())
	}
	check := husbandry.InstrumentCheck{Good: c.result == passed}
	for _, one := range []struct {
		field *widgets.Field
		name  string
		shown *string
	}{{c.reference, "reference", &check.Reference}, {c.reading, "reading", &check.Reading}} {
		var err error
		var r *model.Refusal
		if *one.shown, err = particulars.ReadShown(text, husbandry.Scale, one.name, strings.TrimSpace(one.field.Text())); errors.As(err, &r) {
			refuse(one.field, r)
			return
		}
	}
	if c.result == "" {
		refuse(c.reading, &model.Refusal{Field: "check-result", Reason: "instrument.result", Answer: model.Mend})
		return
	}
	at, by := w.at(), particulars.PickedHand(w.who)
	window.Do(func(place.Answer) model.Command {
		return husbandry.CheckInstrument{Instrument: c.scale, At: at, By: by, Check: check}
	}, func(err error) {
		var r *model.Refusal
		switch {
		case errors.As(err, &r):
			refuse(c.reading, r)
		case err == nil:
			c.leave()
			w.next(-1)
		}
	})
}

// scaleAct leads to the check of the scale.
func (w *weighing) scaleAct() fyne.CanvasObject {
	return widgets.Button(widgets.Plain, widgets.Act{Label: w.say("written.scale.showed"), Icon: "gauge", Do: w.askScale})
}
