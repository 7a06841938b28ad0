package animal

import (
	"strings"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/care"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/widgets"
)

// treatmentPart asks what was done against mites, on whose advice, and until when it
// acts. It proposes neither a product nor a dose.
type treatmentPart struct {
	form *entryForm
	in   fyne.CanvasObject
}

func newTreatmentPart(f *entryForm, m care.MiteTreatment) part {
	until := ""
	if !m.Until.IsZero() {
		until = f.window.Text().Date(m.Until)
	}
	return &treatmentPart{f, widgets.Col(look.S16, widgets.Caution(f.say(care.MiteTreatmentCaution)),
		f.field("treatment", m.What, widgets.FieldOptions{}), f.field("advised", m.Advised, widgets.FieldOptions{}),
		f.field("acts-until", until, widgets.FieldOptions{Hint: f.say("particulars.hint.date")}))}
}

func (p *treatmentPart) content() fyne.CanvasObject { return p.in }

func (p *treatmentPart) first() fyne.Focusable { return p.form.fields["treatment"].Focusable() }

func (p *treatmentPart) body(beside care.Beside) (care.Body, error) {
	typed := func(name string) string { return strings.TrimSpace(p.form.fields[name].Text()) }
	m := care.MiteTreatment{What: typed("treatment"), Advised: typed("advised"), Beside: beside}
	if typed("acts-until") == "" {
		return m, nil
	}
	now := p.form.window.Now().Day()
	until, err := p.form.window.Text().ParseDayAhead(typed("acts-until"), now)
	m.Until = model.Date{Day: until, Precision: model.ToDay}
	return m, particulars.At("acts-until", err)
}
