package registry_test

import (
	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/newcomers"
	"coilward/model/quarantine"
	"coilward/model/storetest"
)

// quarantined answers every question of quarantines.
var quarantined = model.Confirmed{"day.before-arrival", "protocol.short", "quarantine.unmet"}

// ofQuarantine draws a command for a quarantine that fits.
func ofQuarantine(draw func(*rapid.T, model.View, quarantine.Stored) model.Command, fits func(quarantine.Stored) bool) storetest.Generator {
	return func(t *rapid.T, v model.View) model.Command {
		d, ok := pick(t, v, model.TypeQuarantine, func(d model.Document) bool {
			s, err := quarantine.Read(d)
			return err == nil && fits(s)
		})
		if !ok {
			return nil
		}
		s, err := quarantine.Read(d)
		return draw(t, v, must(t, s, err))
	}
}

func drawProtocol(t *rapid.T, tables *knowledge.Tables) knowledge.ProtocolID {
	return rapid.SampledFrom(tables.Protocols()).Draw(t, "protocol").ID
}

func quarantineGenerators(tables *knowledge.Tables) storetest.Generators {
	return storetest.Generators{
		"quarantine.begin": ofAnimal(func(t *rapid.T, v model.View, a animals.Stored) model.Command {
			return quarantine.Begin{Tables: tables, Animal: a.ID, Arrived: earlier(t, v), Protocol: drawProtocol(t, tables), Note: drawText(t), Confirmed: quarantined}
		}),
		"newcomers.arrive": func(t *rapid.T, v model.View) model.Command {
			house, err := husbandry.ReadHouse(v)
			c := newcomers.Arrive{Tables: tables, Animal: drawAnimal(t), At: earlier(t, v), Protocol: drawProtocol(t, tables), Note: drawText(t), Confirmed: append(quarantined, yes...)}
			if places := enclosures(must(t, house, err)); len(places) > 0 && rapid.Bool().Draw(t, "into one that is there") {
				c.Place = rapid.SampledFrom(places).Draw(t, "place").ID
			} else if rapid.Bool().Draw(t, "into one that is made") {
				c.Build = &husbandry.Branch{Place: husbandry.Place{Name: drawName(t), Kind: husbandry.Room}, Below: []husbandry.Branch{{Place: husbandry.Place{Name: drawName(t), Kind: husbandry.Tub}}}}
			}
			return c
		},
		"quarantine.change": ofQuarantine(func(t *rapid.T, v model.View, s quarantine.Stored) model.Command {
			return quarantine.Change{Tables: tables, ID: s.ID, Base: s.Revision, Arrived: earlier(t, v), Protocol: drawProtocol(t, tables), Note: drawText(t), Confirmed: quarantined}
		}, quarantine.Stored.Open),
		"quarantine.release": ofQuarantine(func(t *rapid.T, v model.View, s quarantine.Stored) model.Command {
			return newcomers.Release{Tables: tables, ID: s.ID, Base: s.Revision, At: v.Now(), Why: drawText(t), Confirmed: quarantined}
		}, quarantine.Stored.Open),
		"quarantine.remove": ofQuarantine(func(_ *rapid.T, _ model.View, s quarantine.Stored) model.Command {
			return quarantine.Remove{ID: s.ID}
		}, func(quarantine.Stored) bool { return true }),
		"quarantine.protocol": func(t *rapid.T, v model.View) model.Command {
			offers, err := quarantine.Offers(v, tables)
			o := rapid.SampledFrom(must(t, offers, err)).Draw(t, "of")
			o.Days, o.Meals = rapid.IntRange(1, 400).Draw(t, "days"), rapid.IntRange(0, 5).Draw(t, "meals")
			if o.Name != "" || rapid.Bool().Draw(t, "named") {
				o.Name = drawName(t)
			}
			if !o.Changed && rapid.Bool().Draw(t, "own") {
				o.Name, o.Protocol.ID = drawName(t), ""
			}
			return quarantine.ChangeProtocol{Tables: tables, Own: o.Own, Base: o.Revision, Confirmed: quarantined}
		},
		"quarantine.protocol-reset": func(t *rapid.T, v model.View) model.Command {
			d, ok := pick(t, v, model.TypeProtocol, func(model.Document) bool { return true })
			if !ok {
				return nil
			}
			return quarantine.ResetProtocol{Document: d.ID}
		},
	}
}
