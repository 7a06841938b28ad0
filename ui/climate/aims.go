package climate

import (
	"strings"
	"time"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/climate"
	"coilward/model/indoors"
	"coilward/model/knowledge"
	"coilward/model/wording"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// aims tells whose numbers the readings are judged by, and asks for own ones where the
// tables have none.
func (p *Page) aims(column *fyne.Container) {
	a, limits := p.kit.Air.Aims, climate.LimitsOf(p.window.Tables())
	column.Add(widgets.Line(p.say("climate.aims"), look.Section, look.Ink))
	species := ""
	if a.Species != "" {
		species = p.say("species." + string(a.Species))
	}
	switch {
	case a.Lack == "":
		column.Add(widgets.Para(p.table(a.Species), look.Body, look.Ink))
	case len(a.Own) > 0:
		column.Add(widgets.Para(p.say("climate.aims-own"), look.Body, look.Ink))
	default:
		column.Add(widgets.Para(p.say("climate.lack."+string(a.Lack), wording.Gaps{"Species": species}), look.Body, look.Days))
	}
	if a.UnreadOwn > 0 {
		column.Add(widgets.Para(p.say("climate.own-unread"), look.Body, look.Today))
	}
	for _, own := range a.Own {
		for _, part := range []struct {
			of  *climate.Target
			key string
		}{{own.Day, "climate.own-day"}, {own.Night, "climate.own-night"}} {
			if part.of == nil {
				continue
			}
			said := p.say(part.key, wording.Gaps{"Zone": p.say("climate.zone." + string(own.Zone)), "Measure": p.say("climate.measure." + string(own.Measure)),
				"From": p.amount(own.Measure, part.of.SoftLow), "Until": p.amount(own.Measure, part.of.SoftHigh), "Least": p.amount(own.Measure, part.of.HardLow), "Most": p.amount(own.Measure, part.of.HardHigh)})
			if own.Why != "" {
				said += " " + p.say("climate.own-why", wording.Gaps{"Why": own.Why})
			}
			column.Add(widgets.Para(said, look.Note, look.Ink))
		}
	}
	set := widgets.Button(widgets.Plain, widgets.Act{Label: p.say("climate.set-target"), Do: p.target})
	if p.window.ReadOnly() {
		set.Disable()
	}
	column.Add(widgets.Row(0, set, widgets.Fill()))
	degrees := func(hundredths int) model.Temperature { return model.Temperature{Hundredths: int64(hundredths)} }
	column.Add(widgets.Para(p.say("climate.limits", wording.Gaps{"Surface": degrees(limits.Surface), "Air": degrees(limits.Air), "Cold": degrees(limits.Cold), "Hours": limits.LongestCold / 3600}), look.Note, look.Soft))
	column.Add(widgets.Space(0, look.S8))
}

// table tells whose numbers those of the tables are, and when others hold.
func (p *Page) table(of knowledge.SpeciesID) string {
	tables, t := p.window.Tables(), p.window.Text()
	light := climate.LightOf(tables)
	clock := func(minutes int) string {
		return t.Time(model.MomentOn(p.window.Now(), p.window.Now().Day(), minutes, model.ToMinute))
	}
	said := p.say("climate.aims-table", wording.Gaps{"Species": p.say("species." + string(of)), "From": clock(light.From), "Until": clock(light.Until)})
	var zones []string
	for _, z := range climate.Zones() {
		if target, other := climate.BeforeShed(tables, of, z); other {
			zones = append(zones, p.say("climate.aims-shed-zone", wording.Gaps{"Zone": p.say("climate.zone." + string(z)), "From": t.Percent(target.SoftLow), "Until": t.Percent(target.SoftHigh)}))
		}
	}
	if len(zones) > 0 {
		said += " " + p.say("climate.aims-shed", wording.Gaps{"Zones": strings.Join(zones, ", "), "Days": tables.Value(knowledge.ValueShedHumidity)})
	}
	return said
}

// target asks for the keeper's own numbers for a measure of a zone.
func (p *Page) target() {
	if p.holds() || p.of.IsZero() {
		return
	}
	f := particulars.NewSideForm(p.window)
	zone, measure := climate.Warm, climate.Temperature
	filled := map[string]string{} // what was put into the fields, and not typed
	fill := func() {
		for _, day := range []bool{true, false} {
			target, ok := p.kit.Air.Aims.Of(zone, measure)(model.Beginning, day)
			for i, name := range climate.TargetFields(day) {
				said := ""
				if ok {
					said = p.amount(measure, target.Four()[i])
				}
				if field := f.Named(name); field != nil && field.Text() == filled[name] { // what was typed stays
					field.SetText(said)
					filled[name] = said
				}
			}
		}
		own, _ := p.kit.Air.Aims.OwnOf(zone, measure)
		if field := f.Named("target-why"); field != nil && field.Text() == filled["target-why"] {
			field.SetText(own.Why)
			filled["target-why"] = own.Why
		}
	}
	var values, words []string
	for _, z := range climate.Zones() {
		if z.Inside() {
			values, words = append(values, string(z)), append(words, p.say("climate.zone."+string(z)))
		}
	}
	zones := particulars.NewFew(p.say("field.climate-zone"), values, words, string(zone), func(v string) { zone = climate.Zone(v); fill() })
	values, words = nil, nil
	for _, m := range climate.Measures() {
		values, words = append(values, string(m)), append(words, p.say("climate.measure."+string(m)))
	}
	measures := particulars.NewFew(p.say("field.target-measure"), values, words, string(measure), func(v string) { measure = climate.Measure(v); fill() })
	f.Command = func(place.Answer) (model.Command, error) {
		own := climate.Own{Zone: zone, Measure: measure, Why: f.Text("target-why")}
		for i, of := range []**climate.Target{&own.Day, &own.Night} {
			var err error
			if *of, err = p.typedTarget(f, i == 0, measure); err != nil {
				return nil, err
			}
		}
		return climate.SetTarget{Place: p.of, By: p.window.By(), Own: own}, nil
	}
	f.Done = func() {
		p.form = nil
		p.read()
		p.window.Focus(nil)
	}
	parts := []fyne.CanvasObject{widgets.Para(p.say("climate.set-target-what"), look.Note, look.Soft), zones.Container, measures.Container}
	for _, day := range []bool{true, false} {
		part := "climate.four.night"
		if day {
			part = "climate.four.day"
		}
		rows, fields := widgets.Col(look.S8, widgets.Line(p.say(part), look.BodyBold, look.Ink)), climate.TargetFields(day)
		number := func(i int, key string) fyne.CanvasObject {
			return widgets.Grow(f.Field(fields[i], "", widgets.FieldOptions{Label: p.say(key)}))
		}
		rows.Add(widgets.RowFill(look.S8, number(0, "climate.four.hard-low"), number(1, "climate.four.soft-low")))
		rows.Add(widgets.RowFill(look.S8, number(2, "climate.four.soft-high"), number(3, "climate.four.hard-high")))
		parts = append(parts, rows)
	}
	parts = append(parts, f.Field("target-why", "", widgets.FieldOptions{Hint: p.say("climate.target-why-hint")}))
	fill()
	f.Build(p.say("climate.set-target"), p.say("particulars.keep"), p.leave, parts...)
	p.form = f
	p.build()
	p.window.Focus(f.Named(climate.TargetFields(true)[0]).Focusable())
}

// typedTarget are the four numbers of a part; nil: none was typed.
func (p *Page) typedTarget(f *particulars.SideForm, day bool, m climate.Measure) (*climate.Target, error) {
	var numbers [4]*int
	for i, name := range climate.TargetFields(day) {
		text := f.Text(name)
		if text == "" {
			continue
		}
		if m == climate.Humidity {
			n, err := p.window.Text().ParseHumidity(text)
			if err != nil {
				return nil, particulars.At(name, err)
			}
			numbers[i] = &n
			continue
		}
		warmth, err := p.window.Text().ParseTemperature(text)
		if err != nil {
			return nil, particulars.At(name, err)
		}
		n := int(max(-100_00, min(1000_00, warmth.Hundredths))) // what cannot stand is refused by its rule
		numbers[i] = &n
	}
	return climate.TargetFrom(day, numbers)
}

// nowhere is what is chosen for readings that are taken out.
const nowhere = "nowhere"

// elsewhere asks where readings of a zone belong that were put there by mistake.
func (p *Page) elsewhere(z indoors.Zone) {
	if p.holds() {
		return
	}
	first, last := model.EndOfTime, model.Beginning
	for _, r := range z.Readings {
		first, last = min(first, r.At), max(last, r.At)
	}
	for _, u := range z.UV {
		first, last = min(first, u.At), max(last, u.At)
	}
	t := p.window.Text()
	f := particulars.NewSideForm(p.window)
	var values []string
	var choices []widgets.Choice
	for _, one := range p.kit.House.Places() {
		if _, closed := p.kit.House.Closed(one.ID); !closed || one.ID == p.of {
			values, choices = append(values, one.ID.String()), append(choices, widgets.Choice{Label: p.kit.House.Title(one.ID)})
		}
	}
	to := particulars.NewPick(p.window, p.say("field.climate-place"), "", values, choices, p.of.String())
	f.Picks("climate-place", to)
	where := string(z.Zone)
	values, words := []string{}, []string{}
	for _, one := range climate.Zones() {
		values, words = append(values, string(one)), append(words, p.say("climate.zone."+string(one)))
	}
	zones := particulars.NewFew(p.say("field.climate-zone"), append(values, nowhere), append(words, p.say("climate.nowhere")), where, func(v string) { where = v })
	f.Chosen = func() string { return where + to.Value() }
	f.Command = func(place.Answer) (model.Command, error) {
		span := climate.Span{From: first, Until: last + 1}
		for _, end := range []struct {
			day, hour string
			at        *int64
			more      int64
			was       int64
		}{{"move-from", "move-from-hour", &span.From, 0, first}, {"move-until", "move-until-hour", &span.Until, 60, last}} {
			day, err := t.ParseDay(f.Text(end.day), p.window.Now().Day())
			if err != nil {
				return nil, particulars.At(end.day, err)
			}
			minutes, err := t.ParseTime(f.Text(end.hour))
			if err != nil {
				return nil, particulars.At(end.hour, err)
			}
			if at := model.MomentOn(p.window.Now(), day, minutes, model.ToMinute).UTC; at != end.was-end.was%60 {
				*end.at = at + end.more
			}
		}
		c := climate.Move{Key: z.Key, Span: span, By: p.window.By()}
		if where != nowhere {
			for _, one := range p.kit.House.Places() {
				if one.ID.String() == to.Value() {
					c.To = climate.Key{Place: one.ID, Zone: climate.Zone(where), With: z.With}
				}
			}
		}
		return c, nil
	}
	f.Done = func() {
		p.form = nil
		p.read()
		p.window.Focus(nil)
	}
	hour := func(at int64) string { return t.Time(p.at(at)) }
	ends := func(day, hourName string, at int64) fyne.CanvasObject {
		return widgets.RowFill(look.S8, widgets.Grow(f.Day(day, "", p.at(at).Day())), widgets.Fix(112, 0, f.Field(hourName, hour(at), widgets.FieldOptions{Label: p.say("field.reading-hour"), Hint: p.say("power-cut.hour-hint")})))
	}
	with := z.Instrument
	if with == "" {
		with = p.say("climate.by-hand")
	}
	f.Build(p.say("climate.elsewhere"), p.say("climate.elsewhere-do"), p.leave,
		widgets.Para(p.say("climate.elsewhere-what", wording.Gaps{"Zone": p.say("climate.zone." + string(z.Zone)), "Instrument": with}), look.Note, look.Soft),
		ends("move-from", "move-from-hour", first), ends("move-until", "move-until-hour", last), to.Container, zones.Container)
	p.form = f
	p.build()
	p.window.Focus(f.First())
}

// at is a second on the clock of the place.
func (p *Page) at(second int64) model.Moment {
	return model.MomentOf(time.Unix(second, 0).In(p.kit.loc))
}
