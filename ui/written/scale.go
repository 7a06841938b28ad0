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
	*fyne.Container
	of        *weighing
	reference *widgets.Field
	reading   *widgets.Field
	good      *bool // nil: not said
}

func newScaleCheck(w *weighing) *scaleCheck {
	c := &scaleCheck{of: w, Container: widgets.Stack()}
	c.build()
	return c
}

// The results, as they are chosen.
const (
	passed = "good"
	failed = "failed"
)

func (c *scaleCheck) build() {
	w := c.of
	field := func(name string) *widgets.Field {
		f := widgets.NewField("", widgets.FieldOptions{Label: w.say("field." + name), Unit: particulars.MassUnit(w.page.window.Text())})
		f.OnTyped = func(string) { f.Accept() }
		f.OnEnter = c.note
		return f
	}
	c.reference, c.reading, c.good = field("reference"), field("reading"), nil
	result := particulars.NewFew(w.say("field.check-result"), []string{passed, failed},
		[]string{particulars.Capital(w.say("husbandry.check.good")), particulars.Capital(w.say("husbandry.check.failed"))}, "", func(v string) {
			good := v == passed
			c.good = &good
		})
	c.Objects = []fyne.CanvasObject{widgets.RowTop(look.S12, widgets.GrowBy(1, c.reference.Container), widgets.GrowBy(1, c.reading.Container), result.Container,
		widgets.Pad(widgets.Button(widgets.Plain, widgets.Act{Label: w.say("instruments.note-check"), Icon: "check", Do: c.note}), look.S24, 0, 0, 0))}
	c.Refresh()
}

// note notes the check of the scale that is picked, as of the day of the sheet.
func (c *scaleCheck) note() {
	w := c.of
	window := w.page.window
	text := window.Text()
	scale := particulars.PickedScale(w.scale, w.scales)
	if scale.IsZero() {
		w.scale.Refuse(w.say("written.scale.which"))
		return
	}
	var check husbandry.InstrumentCheck
	for _, one := range []struct {
		field *widgets.Field
		name  string
		shown *string
	}{{c.reference, "reference", &check.Reference}, {c.reading, "reading", &check.Reading}} {
		var err error
		var r *model.Refusal
		if *one.shown, err = particulars.ReadShown(text, husbandry.Scale, one.name, strings.TrimSpace(one.field.Text())); errors.As(err, &r) {
			one.field.Refuse(text.Why(r))
			window.Focus(one.field.Focusable())
			return
		}
	}
	if c.good == nil {
		c.reading.Refuse(text.Why(&model.Refusal{Field: "check-result", Reason: "instrument.result", Answer: model.Mend}))
		return
	}
	check.Good = *c.good
	by := particulars.PickedHand(w.who)
	window.Do(func(place.Answer) model.Command {
		return husbandry.CheckInstrument{Instrument: scale, At: w.at(), By: by, Check: check}
	}, func(err error) {
		var r *model.Refusal
		switch {
		case errors.As(err, &r):
			c.reading.Refuse(text.Why(r))
		case err == nil:
			c.build()
			w.next(-1)
		}
	})
}
