package climate

import (
	"coilward/model"
	"coilward/model/climate"
	"coilward/model/husbandry"
	"coilward/ui/particulars"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// zones is a choice among zones.
func (p *Page) zones(chosen climate.Zone, picked func(climate.Zone)) *particulars.Few {
	var values, words []string
	for _, z := range climate.Zones() {
		values, words = append(values, string(z)), append(words, p.say("climate.zone."+string(z)))
	}
	return particulars.NewFew(p.say("field.climate-zone"), values, words, string(chosen), func(v string) { picked(climate.Zone(v)) })
}

// sensors are the instruments that read the air and are in use.
func (p *Page) sensors() (all []husbandry.StoredInstrument) {
	for _, i := range p.kit.Instruments {
		if i.Closed.IsZero() && i.Kind != husbandry.Scale && i.Kind != husbandry.UVLamp {
			all = append(all, i)
		}
	}
	return all
}

// with is a choice among the instruments.
func (p *Page) with(none string, chosen model.InstrumentID) *particulars.Pick {
	var values []string
	var choices []widgets.Choice
	for _, i := range p.sensors() {
		values, choices = append(values, i.ID.String()), append(choices, widgets.Choice{Label: i.Name})
	}
	value := ""
	if !chosen.IsZero() {
		value = chosen.String()
	}
	return particulars.NewPick(p.window, p.say("field.climate-with"), none, values, choices, value)
}

func (p *Page) picked(pick *particulars.Pick) model.InstrumentID {
	for _, i := range p.sensors() {
		if i.ID.String() == pick.Value() {
			return i.ID
		}
	}
	return model.InstrumentID{}
}

// note asks for a reading that was taken by hand.
func (p *Page) note() {
	if p.holds() || p.of.IsZero() {
		return
	}
	t, now := p.window.Text(), p.window.Now()
	f := particulars.NewSideForm(p.window)
	zone := climate.Basking
	if place, _ := p.kit.House.Place(p.of); !place.Kind.Houses() {
		zone = climate.RoomAir
	}
	with := p.with(p.say("climate.unsaid"), model.InstrumentID{})
	f.Picks("climate-with", with)
	zones := p.zones(zone, func(z climate.Zone) { zone = z })
	f.Chosen = func() string { return string(zone) + with.Value() }
	f.Command = func(place.Answer) (model.Command, error) {
		c := climate.Note{Key: climate.Key{Place: p.of, Zone: zone, With: p.picked(with)}, By: p.window.By(), Reading: climate.Reading{Temperature: climate.NoTemperature, Humidity: climate.NoHumidity}}
		day, err := t.ParseDay(f.Text("reading-at"), now.Day())
		if err != nil {
			return nil, particulars.At("reading-at", err)
		}
		minutes, err := t.ParseTime(f.Text("reading-hour"))
		if err != nil {
			return nil, particulars.At("reading-hour", err)
		}
		c.At = model.MomentOn(p.window.Now(), day, minutes, model.ToMinute)
		if typed := f.Text("reading-temperature"); typed != "" {
			warmth, err := t.ParseTemperature(typed)
			if err != nil {
				return nil, particulars.At("reading-temperature", err)
			}
			if warmth.Hundredths < climate.Coldest || warmth.Hundredths > climate.Hottest {
				return nil, &model.Refusal{Field: "reading-temperature", Value: typed, Reason: "climate.temperature", Answer: model.Mend, Gaps: map[string]model.Gap{"Least": model.TemperatureGap(climate.Coldest), "Most": model.TemperatureGap(climate.Hottest)}}
			}
			c.Reading.Temperature = int16(warmth.Hundredths)
		}
		if typed := f.Text("reading-humidity"); typed != "" {
			humidity, err := t.ParseHumidity(typed)
			if err != nil {
				return nil, particulars.At("reading-humidity", err)
			}
			c.Reading.Humidity = int16(humidity)
		}
		if typed := f.Text("reading-uv"); typed != "" {
			c.UV = &climate.UVReading{}
			if c.UV.Index, err = t.ParseUV(typed); err != nil {
				return nil, particulars.At("reading-uv", err)
			}
			if far := f.Text("reading-distance"); far != "" {
				if c.UV.Distance, err = t.ParseSize(far); err != nil {
					return nil, particulars.At("reading-distance", err)
				}
			}
		} else if far := f.Text("reading-distance"); far != "" {
			c.UV = &climate.UVReading{Index: climate.NoUV}
			if c.UV.Distance, err = t.ParseSize(far); err != nil {
				return nil, particulars.At("reading-distance", err)
			}
		}
		return c, nil
	}
	f.Done = func() {
		p.form, p.last = nil, 0
		p.read()
		p.window.Focus(nil)
	}
	when := widgets.RowFill(8, widgets.Grow(f.Day("reading-at", "", now.Day())), widgets.Fix(112, 0, f.Field("reading-hour", t.Time(now), widgets.FieldOptions{Hint: p.say("power-cut.hour-hint")})))
	f.Build(p.say("climate.note"), p.say("particulars.keep"), p.leave, zones.Container, when,
		f.Field("reading-temperature", "", widgets.FieldOptions{}), f.Field("reading-humidity", "", widgets.FieldOptions{}),
		f.Field("reading-uv", "", widgets.FieldOptions{}), f.Field("reading-distance", "", widgets.FieldOptions{}), with.Container)
	p.form = f
	p.build()
	p.window.Focus(f.Named("reading-temperature").Focusable())
}

func (p *Page) leave() {
	p.form = nil
	p.build()
	p.window.Focus(nil)
}
