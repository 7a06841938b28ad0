package climate

import (
	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/climate"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// ownForm asks for the keeper's own numbers for a measure of a zone.
type ownForm struct {
	*particulars.SideForm
	page    *Page
	zone    climate.Zone
	measure climate.Measure
	filled  map[string]string // what was put into the fields, and not typed
}

// target opens it.
func (p *Page) target() {
	if p.holds() || p.of.IsZero() {
		return
	}
	f := &ownForm{SideForm: particulars.NewSideForm(p.window), page: p, zone: climate.Warm, measure: climate.Temperature, filled: map[string]string{}}
	f.Command = func(place.Answer) (model.Command, error) { return f.command() }
	f.Done = func() {
		p.form = nil
		p.read()
		p.window.Focus(nil)
	}
	parts := []fyne.CanvasObject{widgets.Para(p.say("climate.set-target-what"), look.Note, look.Soft), f.zones(), f.measures(), f.four(true), f.four(false),
		f.Field("target-why", "", widgets.FieldOptions{Hint: p.say("climate.target-why-hint")})}
	f.fill()
	f.Build(p.say("climate.set-target"), p.say("particulars.keep"), p.leave, parts...)
	p.form = f.SideForm
	p.build()
	p.window.Focus(f.Named(climate.TargetFields(true)[0]).Focusable())
}

// zones is a choice among those where an animal can be.
func (f *ownForm) zones() fyne.CanvasObject {
	p := f.page
	var values, words []string
	for _, z := range climate.Zones() {
		if z.Inside() {
			values, words = append(values, string(z)), append(words, p.say("climate.zone."+string(z)))
		}
	}
	return particulars.NewFew(p.say("field.climate-zone"), values, words, string(f.zone), func(v string) { f.zone = climate.Zone(v); f.fill() }).Container
}

func (f *ownForm) measures() fyne.CanvasObject {
	p := f.page
	var values, words []string
	for _, m := range climate.Measures() {
		values, words = append(values, string(m)), append(words, p.say("climate.measure."+string(m)))
	}
	return particulars.NewFew(p.say("field.target-measure"), values, words, string(f.measure), func(v string) { f.measure = climate.Measure(v); f.fill() }).Container
}

// four are the fields of the four numbers by day or by night.
func (f *ownForm) four(day bool) fyne.CanvasObject {
	p, part, fields := f.page, "climate.four.night", climate.TargetFields(day)
	if day {
		part = "climate.four.day"
	}
	number := func(i int, key string) fyne.CanvasObject {
		return widgets.Grow(f.Field(fields[i], "", widgets.FieldOptions{Label: p.say(key)}))
	}
	return widgets.Col(look.S8, widgets.Line(p.say(part), look.BodyBold, look.Ink),
		widgets.RowFill(look.S8, number(0, "climate.four.hard-low"), number(1, "climate.four.soft-low")),
		widgets.RowFill(look.S8, number(2, "climate.four.soft-high"), number(3, "climate.four.hard-high")))
}

// fill puts the numbers that stand into the fields; what was typed stays.
func (f *ownForm) fill() {
	put := func(name, said string) {
		if field := f.Named(name); field != nil && field.Text() == f.filled[name] {
			field.SetText(said)
			f.filled[name] = said
		}
	}
	aims := f.page.kit.Air.Aims
	for _, day := range []bool{true, false} {
		target, ok := aims.Of(f.zone, f.measure)(model.Beginning, day)
		for i, name := range climate.TargetFields(day) {
			said := ""
			if ok {
				said = f.page.amount(f.measure, target.Four()[i])
			}
			put(name, said)
		}
	}
	own, _ := aims.OwnOf(f.zone, f.measure)
	put("target-why", own.Why)
}

func (f *ownForm) command() (model.Command, error) {
	own := climate.Own{Zone: f.zone, Measure: f.measure, Why: f.Text("target-why")}
	for i, of := range []**climate.Target{&own.Day, &own.Night} {
		var err error
		if *of, err = f.typed(i == 0); err != nil {
			return nil, err
		}
	}
	return climate.SetTarget{Place: f.page.of, By: f.page.window.By(), Own: own}, nil
}

// typed are the four numbers of a part; nil: none was typed.
func (f *ownForm) typed(day bool) (*climate.Target, error) {
	var numbers [4]*int
	for i, name := range climate.TargetFields(day) {
		text := f.Text(name)
		if text == "" {
			continue
		}
		n, err := f.number(text)
		if err != nil {
			return nil, particulars.At(name, err)
		}
		numbers[i] = &n
	}
	return climate.TargetFrom(day, numbers)
}

// number reads a typed one, in hundredths.
func (f *ownForm) number(text string) (int, error) {
	if f.measure == climate.Humidity {
		return f.page.window.Text().ParseHumidity(text)
	}
	warmth, err := f.page.window.Text().ParseTemperature(text)
	return int(max(-100_00, min(1000_00, warmth.Hundredths))), err // what cannot stand is refused by its rule
}
