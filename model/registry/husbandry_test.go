package registry_test

import (
	"pgregory.net/rapid"
	"slices"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/storetest"
)

// one is one of those that there are, if there is any.
func one[T any](t *rapid.T, all []T) (found T, ok bool) {
	if len(all) == 0 {
		return found, false
	}
	return rapid.SampledFrom(all).Draw(t, "one"), true
}

func must[T any](t *rapid.T, found T, err error) T {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
	return found
}

func earlier(t *rapid.T, v model.View) model.Moment {
	at := v.Now()
	at.UTC -= rapid.Int64Range(0, 365*24*60*60).Draw(t, "ago")
	if rapid.Bool().Draw(t, "to the day") {
		at.Precision = model.ToDay
	}
	return at
}

// yes answers every question of this package.
var yes = model.Confirmed{"house.shared", "day.before-arrival", "clean.does-not", "clean.partly", "clean.too-short", "clean.time", "clean.mixed"}

// few is how many must be there for one to be removed: the other commands need
// some that stay.
const few = 2

// inHouse draws a command for a house that has the animals of a collection.
func inHouse(draw func(*rapid.T, model.View, *husbandry.House) model.Command) storetest.Generator {
	return func(t *rapid.T, v model.View) model.Command {
		h, err := husbandry.ReadHouse(v)
		return draw(t, v, must(t, h, err))
	}
}

func ofPlace(draw func(*rapid.T, model.View, *husbandry.House, husbandry.StoredPlace) model.Command) storetest.Generator {
	return inHouse(func(t *rapid.T, v model.View, h *husbandry.House) model.Command {
		p, ok := one(t, h.Places())
		if !ok {
			return nil
		}
		return draw(t, v, h, p)
	})
}

// enclosures are the places in which an animal can live now.
func enclosures(h *husbandry.House) (found []husbandry.StoredPlace) {
	for _, p := range h.Places() {
		if _, closed := h.Closed(p.ID); p.Kind.Houses() && !closed {
			found = append(found, p)
		}
	}
	return found
}

func intoEnclosure(draw func(*rapid.T, model.View, animals.Stored, husbandry.StoredPlace) model.Command) storetest.Generator {
	return ofAnimal(func(t *rapid.T, v model.View, a animals.Stored) model.Command {
		h, err := husbandry.ReadHouse(v)
		p, ok := one(t, enclosures(must(t, h, err)))
		if !ok {
			return nil
		}
		return draw(t, v, a, p)
	})
}

func ofStay(draw func(*rapid.T, model.View, husbandry.StoredStay) model.Command) storetest.Generator {
	return func(t *rapid.T, v model.View) model.Command {
		d, ok := pick(t, v, model.TypeStay, present)
		if !ok {
			return nil
		}
		s, err := husbandry.DecodeStay(d)
		return draw(t, v, must(t, s, err))
	}
}

func ofTool(least int, draw func(*rapid.T, husbandry.StoredTool) model.Command) storetest.Generator {
	return func(t *rapid.T, v model.View) model.Command {
		all, err := husbandry.Tools(v)
		tool, ok := one(t, must(t, all, err))
		if !ok || len(all) < least {
			return nil
		}
		return draw(t, tool)
	}
}

func ofInstrument(least int, draw func(*rapid.T, model.View, husbandry.StoredInstrument) model.Command) storetest.Generator {
	return func(t *rapid.T, v model.View) model.Command {
		all, err := husbandry.Instruments(v)
		i, ok := one(t, must(t, all, err))
		if !ok || len(all) < least {
			return nil
		}
		return draw(t, v, i)
	}
}

func drawTub(t *rapid.T) husbandry.Place {
	return husbandry.Place{Name: drawName(t), Kind: rapid.SampledFrom([]husbandry.PlaceKind{husbandry.Tub, husbandry.Vivarium, husbandry.Enclosure}).Draw(t, "kind"),
		CleanEvery: rapid.IntRange(0, 60).Draw(t, "every"), Note: drawText(t)}
}

func drawCleaning(t *rapid.T, tables *knowledge.Tables) husbandry.Cleaning {
	means, target := rapid.SampledFrom(tables.Means()).Draw(t, "means"), rapid.SampledFrom(tables.Targets()).Draw(t, "target")
	return husbandry.Cleaning{Extent: rapid.SampledFrom(husbandry.CleanExtents()).Draw(t, "extent"), Against: []knowledge.TargetID{target.ID},
		Uses: []husbandry.Use{{Means: means.ID, Minutes: rapid.IntRange(0, 60).Draw(t, "minutes")}}, Note: drawText(t)}
}

func drawCheck(t *rapid.T) husbandry.InstrumentCheck {
	return husbandry.InstrumentCheck{Good: rapid.Bool().Draw(t, "good"), Reading: drawText(t), Reference: drawText(t)}
}

func miteGenerators() storetest.Generators {
	where := []care.MiteWhere{care.WhitePaper, care.OnAnimal}
	return storetest.Generators{
		"care.mite-look": ofAnimal(func(t *rapid.T, v model.View, a animals.Stored) model.Command {
			return care.LookForMites{About: drawAbout(t, v, a.ID), MiteLook: care.MiteLook{Grade: rapid.SampledFrom(care.MiteGrades()).Draw(t, "grade"), Where: where}}
		}),
		"care.mite-treatment": ofAnimal(func(t *rapid.T, v model.View, a animals.Stored) model.Command {
			return care.TreatMites{About: drawAbout(t, v, a.ID), MiteTreatment: care.MiteTreatment{What: drawText(t), Advised: drawText(t)}}
		}),
		"care.mites-none-seen": ofAnimal(func(t *rapid.T, v model.View, a animals.Stored) model.Command {
			about := drawAbout(t, v, a.ID)
			list := []model.AnimalID{a.ID}
			if d, ok := pick(t, v, model.TypeAnimal, present); ok {
				list = append(list, model.AnimalID{ID: d.ID})
			}
			return care.NoMitesSeen{Animals: list, Where: where, At: about.At, Confirmed: about.Confirmed}
		}),
	}
}

func husbandryGenerators(tables *knowledge.Tables) storetest.Generators {
	return storetest.Generators{
		"husbandry.places.add": func(t *rapid.T, _ model.View) model.Command {
			rack, r := husbandry.RackOf(husbandry.RackPlan{Rack: husbandry.Place{Name: drawName(t), Kind: husbandry.Rack}, Shelves: 2, Boxes: rapid.IntRange(1, 2).Draw(t, "boxes"),
				Shelf: husbandry.Place{Name: "shelf {shelf}", Kind: husbandry.Shelf}, Box: husbandry.Place{Name: "{letter}{box}", Kind: husbandry.Tub}})
			if r != nil {
				t.Fatal(r)
			}
			return husbandry.AddPlaces{Branches: []husbandry.Branch{{Place: husbandry.Place{Name: drawName(t), Kind: husbandry.Room}, Below: []husbandry.Branch{rack}}, {Place: drawTub(t)}}}
		},
		"husbandry.place.change": ofPlace(func(t *rapid.T, _ model.View, _ *husbandry.House, p husbandry.StoredPlace) model.Command {
			p.Name, p.Note = drawName(t), drawText(t)
			return husbandry.ChangePlace{ID: p.ID, Base: p.Revision, Place: p.Place}
		}),
		"husbandry.place.move": ofPlace(func(t *rapid.T, _ model.View, h *husbandry.House, p husbandry.StoredPlace) model.Command {
			c := husbandry.MovePlace{ID: p.ID, Parent: p.Parent}
			if outer, ok := one(t, h.Places()); ok && rapid.Bool().Draw(t, "elsewhere") {
				c.Parent = outer.ID
			} else if before, ok := one(t, h.In(p.Parent)); ok && before.ID != p.ID {
				c.Before = before.ID
			}
			return c
		}),
		"husbandry.place.remove": ofPlace(func(t *rapid.T, v model.View, h *husbandry.House, p husbandry.StoredPlace) model.Command {
			open := enclosures(h)
			if len(open) < 2*few {
				return nil
			}
			empty := slices.DeleteFunc(open, func(p husbandry.StoredPlace) bool { return len(h.Living(p.ID, v.Now())) > 0 })
			if e, ok := one(t, empty); ok && (len(open) < 4*few || rapid.Bool().Draw(t, "empty")) {
				p = e
			}
			return husbandry.RemovePlace{ID: p.ID}
		}),
		"husbandry.move": intoEnclosure(func(t *rapid.T, v model.View, a animals.Stored, p husbandry.StoredPlace) model.Command {
			return husbandry.Move{Animal: a.ID, Place: p.ID, At: earlier(t, v), Note: drawText(t), Confirmed: yes}
		}),
		"husbandry.move-all": intoEnclosure(func(t *rapid.T, v model.View, a animals.Stored, p husbandry.StoredPlace) model.Command {
			moves := []husbandry.Relocation{{Animal: a.ID, Place: p.ID}}
			if d, ok := pick(t, v, model.TypeAnimal, present); ok && d.ID != a.ID.ID {
				moves = append(moves, husbandry.Relocation{Animal: model.AnimalID{ID: d.ID}, Place: p.ID})
			}
			return husbandry.MoveAll{Moves: moves, At: earlier(t, v), Confirmed: yes}
		}),
		"husbandry.move-out": ofStay(func(t *rapid.T, v model.View, s husbandry.StoredStay) model.Command {
			return husbandry.MoveOut{Animal: s.Animal, At: earlier(t, v)}
		}),
		"husbandry.stay.change": ofStay(func(t *rapid.T, v model.View, s husbandry.StoredStay) model.Command {
			return husbandry.ChangeStay{ID: s.ID, Base: s.Revision, Place: s.Place, From: s.From, To: s.To, Note: drawText(t), Confirmed: yes}
		}),
		"husbandry.stay.remove": ofStay(func(_ *rapid.T, _ model.View, s husbandry.StoredStay) model.Command {
			return husbandry.RemoveStay{ID: s.ID}
		}),
		"husbandry.tool.add": func(t *rapid.T, _ model.View) model.Command {
			return husbandry.AddTool{Tool: husbandry.Tool{Name: drawName(t), Kind: rapid.SampledFrom(husbandry.ToolKinds()).Draw(t, "kind")}}
		},
		"husbandry.tool.change": ofTool(1, func(t *rapid.T, s husbandry.StoredTool) model.Command {
			s.Name = drawName(t)
			return husbandry.ChangeTool{ID: s.ID, Base: s.Revision, Tool: s.Tool}
		}),
		"husbandry.tool.remove": ofTool(1, func(_ *rapid.T, s husbandry.StoredTool) model.Command { return husbandry.RemoveTool{ID: s.ID} }),
		"husbandry.instrument.add": func(t *rapid.T, _ model.View) model.Command {
			return husbandry.AddInstrument{Instrument: husbandry.Instrument{Name: drawName(t), Kind: rapid.SampledFrom(husbandry.InstrumentKinds()).Draw(t, "kind")}}
		},
		"husbandry.instrument.change": ofInstrument(1, func(t *rapid.T, _ model.View, i husbandry.StoredInstrument) model.Command {
			i.Name = drawName(t)
			return husbandry.ChangeInstrument{ID: i.ID, Base: i.Revision, Instrument: i.Instrument}
		}),
		"husbandry.instrument.remove": ofInstrument(few, func(_ *rapid.T, _ model.View, i husbandry.StoredInstrument) model.Command {
			return husbandry.RemoveInstrument{ID: i.ID}
		}),
		"husbandry.instrument.check": ofInstrument(1, func(t *rapid.T, v model.View, i husbandry.StoredInstrument) model.Command {
			return husbandry.CheckInstrument{Instrument: i.ID, At: earlier(t, v), Check: drawCheck(t)}
		}),
		"husbandry.clean": ofPlace(func(t *rapid.T, v model.View, _ *husbandry.House, p husbandry.StoredPlace) model.Command {
			return husbandry.Clean{Tables: tables, Places: []model.PlaceID{p.ID}, At: earlier(t, v), Cleaning: drawCleaning(t, tables), Confirmed: yes}
		}),
		"husbandry.entry.change": ofHouseEntry(func(t *rapid.T, v model.View, d model.Document) model.Command {
			c := husbandry.ChangeEntry{Tables: tables, Entry: model.EntryID{ID: d.ID}, Base: d.Revision, At: earlier(t, v), Confirmed: yes}
			if d.Kind == husbandry.KindInstrumentCheck {
				check := drawCheck(t)
				c.Check = &check
				return c
			}
			before, err := husbandry.DecodeCleaning(d)
			cleaning := drawCleaning(t, tables)
			c.Places, c.Tools, c.Cleaning = must(t, before, err).Places, before.Tools, &cleaning
			return c
		}),
		"husbandry.entry.remove": ofHouseEntry(func(_ *rapid.T, _ model.View, d model.Document) model.Command {
			return husbandry.RemoveEntry{Entry: model.EntryID{ID: d.ID}}
		}),
	}
}

func ofHouseEntry(draw func(*rapid.T, model.View, model.Document) model.Command) storetest.Generator {
	return func(t *rapid.T, v model.View) model.Command {
		d, ok := pick(t, v, model.TypeEntry, func(d model.Document) bool {
			return d.Kind == husbandry.KindCleaning || d.Kind == husbandry.KindInstrumentCheck
		})
		if !ok {
			return nil
		}
		return draw(t, v, d)
	}
}
