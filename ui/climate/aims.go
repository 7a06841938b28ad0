package climate

import (
	"strings"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/climate"
	"coilward/model/knowledge"
	"coilward/model/wording"
	"coilward/ui/look"
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
	p.ownNumbers(column)
	set := widgets.Button(widgets.Plain, widgets.Act{Label: p.say("climate.set-target"), Do: p.target})
	if p.window.ReadOnly() {
		set.Disable()
	}
	column.Add(widgets.Row(0, set, widgets.Fill()))
	degrees := func(hundredths int) model.Temperature { return model.Temperature{Hundredths: int64(hundredths)} }
	column.Add(widgets.Para(p.say("climate.limits", wording.Gaps{"Surface": degrees(limits.Surface), "Air": degrees(limits.Air), "Cold": degrees(limits.Cold), "Hours": limits.LongestCold / 3600}), look.Note, look.Soft))
	column.Add(widgets.Space(0, look.S8))
}

// ownNumbers tells the keeper's own numbers, and who says so.
func (p *Page) ownNumbers(column *fyne.Container) {
	for _, own := range p.kit.Air.Aims.Own {
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
