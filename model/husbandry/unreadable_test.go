package husbandry_test

import (
	"encoding/json"
	"testing"

	"coilward/model"
	"coilward/model/husbandry"
	"coilward/model/storetest"
)

// What cannot be read is said by every query and command that needs it; it is
// never left out in silence.
func TestWhatCannotBeReadIsSaid(t *testing.T) {
	for _, c := range []struct {
		name  string
		spoil func(*world, model.PlaceID, model.AnimalID, model.InstrumentID) model.Document
		fails map[string]bool
	}{
		{"a place", func(*world, model.PlaceID, model.AnimalID, model.InstrumentID) model.Document {
			return model.Document{Type: model.TypePlace}
		},
			map[string]bool{"house": true, "remove place": true, "add": true, "clean": true}},
		{"the room of its place", func(w *world, p model.PlaceID, _ model.AnimalID, _ model.InstrumentID) model.Document {
			tub := model.Document{Type: model.TypePlace, ID: p.ID, At: ago(20), Revision: 1}
			if err := tub.Encode(1, husbandry.Place{Name: "one", Kind: husbandry.Tub, Parent: model.PlaceID{ID: model.ID{88}}}); err != nil {
				w.Fatal(err)
			}
			w.do(storetest.Put{Documents: []model.Document{tub}})
			return model.Document{Type: model.TypePlace}
		},
			map[string]bool{"house": true, "house of": true, "move": true, "move out": true, "remove place": true, "add": true, "clean": true}},
		{"a stay", func(_ *world, p model.PlaceID, a model.AnimalID, _ model.InstrumentID) model.Document {
			return model.Document{Type: model.TypeStay, Subjects: []model.Subject{p.Subject(), a.Subject()}}
		}, map[string]bool{"house": true, "house of": true, "move": true, "move out": true}},
		{"an animal", func(*world, model.PlaceID, model.AnimalID, model.InstrumentID) model.Document {
			return model.Document{Type: model.TypeAnimal}
		},
			map[string]bool{"house": true}},
		{"a tool", func(*world, model.PlaceID, model.AnimalID, model.InstrumentID) model.Document {
			return model.Document{Type: model.TypeTool}
		},
			map[string]bool{"tools": true, "add tool": true, "remove place": true}},
		{"an instrument", func(*world, model.PlaceID, model.AnimalID, model.InstrumentID) model.Document {
			return model.Document{Type: model.TypeInstrument}
		}, map[string]bool{"instruments": true, "remove place": true, "add instrument": true}},
		{"a cleaning", func(_ *world, p model.PlaceID, _ model.AnimalID, _ model.InstrumentID) model.Document {
			return model.Document{Type: model.TypeEntry, Kind: husbandry.KindCleaning, Subjects: []model.Subject{p.Subject()}}
		}, map[string]bool{"cleanings": true}},
		{"a check", func(_ *world, _ model.PlaceID, _ model.AnimalID, i model.InstrumentID) model.Document {
			return model.Document{Type: model.TypeEntry, Kind: husbandry.KindInstrumentCheck, Subjects: []model.Subject{i.Subject()}}
		}, map[string]bool{"checks": true}},
	} {
		w := begin(t)
		tub, other, asp := w.place(model.PlaceID{}, "one", husbandry.Tub), w.place(model.PlaceID{}, "two", husbandry.Tub), w.animal("Asp")
		scale := model.InstrumentID{ID: w.do(husbandry.AddInstrument{Instrument: husbandry.Instrument{Name: "Scale", Kind: husbandry.Scale}}).Documents[0]}
		w.do(husbandry.Move{Animal: asp, Place: tub, At: ago(9)})
		spoilt := c.spoil(w, tub, asp, scale)
		spoilt.ID, spoilt.At, spoilt.Body = model.ID{88}, ago(20), json.RawMessage(`7`)
		w.do(storetest.Put{Documents: []model.Document{spoilt}})
		view := func(read func(model.View) error) func() error { return func() error { return w.View(read) } }
		plan := func(c model.Command) func() error {
			return view(func(v model.View) error { _, err := c.Plan(v); return err })
		}
		for name, try := range map[string]func() error{
			"house":          view(func(v model.View) error { _, err := husbandry.ReadHouse(v); return err }),
			"house of":       view(func(v model.View) error { _, err := husbandry.ReadHouseOf(v, asp); return err }),
			"tools":          view(func(v model.View) error { _, err := husbandry.Tools(v); return err }),
			"instruments":    view(func(v model.View) error { _, err := husbandry.Instruments(v); return err }),
			"cleanings":      view(func(v model.View) error { _, err := husbandry.Cleanings(v, tub.Subject()); return err }),
			"checks":         view(func(v model.View) error { _, err := husbandry.Checks(v, scale); return err }),
			"add":            plan(husbandry.AddPlaces{Branches: []husbandry.Branch{{Place: husbandry.Place{Name: "three", Kind: husbandry.Tub}}}}),
			"add tool":       plan(husbandry.AddTool{Tool: husbandry.Tool{Name: "Hook", Kind: husbandry.Hook}}),
			"move":           plan(husbandry.Move{Animal: asp, Place: other, At: ago(3)}),
			"move out":       plan(husbandry.MoveOut{Animal: asp, At: ago(3)}),
			"remove place":   plan(husbandry.RemovePlace{ID: other}),
			"clean":          plan(husbandry.Clean{Tables: w.tables, Places: []model.PlaceID{tub}, At: ago(3), Cleaning: husbandry.Cleaning{Extent: husbandry.Full}}),
			"add instrument": plan(husbandry.AddInstrument{Instrument: husbandry.Instrument{Name: "Thermometer", Kind: husbandry.Thermometer}}),
		} {
			err := try()
			if (err != nil) != c.fails[name] {
				t.Errorf("%s: %s: %v", c.name, name, err)
			}
		}
	}
}
