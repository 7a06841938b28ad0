package husbandry_test

import (
	"slices"
	"testing"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/husbandry"
)

// A tool that goes to newcomers and to others may carry what one has to the other.
// That a newcomer counts as one for 90 days: seen, hobby quarantine pages; others
// name 30 to 365 days.
func TestAToolBetweenNewcomersAndOthers(t *testing.T) {
	w := begin(t)
	today := ago(0).Day()
	day := func(n int) model.Date { return model.Date{Day: today - model.Day(n), Precision: model.ToDay} }
	change := w.do(husbandry.AddPlaces{Branches: []husbandry.Branch{
		{Place: husbandry.Place{Name: "Main", Kind: husbandry.Room}, Below: []husbandry.Branch{{Place: husbandry.Place{Name: "A", Kind: husbandry.Tub}}, {Place: husbandry.Place{Name: "B", Kind: husbandry.Tub}}}},
		{Place: husbandry.Place{Name: "Arrivals", Kind: husbandry.Room}, Below: []husbandry.Branch{{Place: husbandry.Place{Name: "C", Kind: husbandry.Tub}}}}}})
	place := func(i int) model.PlaceID { return model.PlaceID{ID: change.Documents[i]} }
	house := func(a animals.Animal, in model.PlaceID) model.AnimalID {
		id := model.AnimalID{ID: w.do(animals.Add{Animal: a}).Documents[0]}
		w.do(husbandry.Move{Animal: id, Place: in, At: ago(0)})
		return id
	}
	old, bred := house(animals.Animal{Name: "Ash", Since: day(90)}, place(1)), house(animals.Animal{Name: "Elm", Hatched: day(20), Since: day(20)}, place(2))
	mixed := func(in model.PlaceID) (newcomers, others []model.AnimalID) {
		t.Helper()
		if err := w.View(func(v model.View) error {
			h, err := husbandry.ReadHouse(v)
			if err == nil {
				newcomers, others = h.Mixed(w.tables, husbandry.Tool{Name: "Hook", Kind: husbandry.Hook, Place: in}, ago(0))
			}
			return err
		}); err != nil {
			t.Fatal(err)
		}
		return newcomers, others
	}
	if n, o := mixed(model.PlaceID{}); n != nil || o != nil {
		t.Errorf("without a newcomer: %v, %v", n, o)
	}
	late := house(animals.Animal{Name: "Oak", Since: day(89)}, place(4))
	if n, o := mixed(model.PlaceID{}); len(n) != 1 || n[0] != late || len(o) != 2 || o[0] != old || o[1] != bred {
		t.Errorf("everywhere: %v, %v", n, o)
	}
	for _, room := range []int{0, 3, 4} {
		if n, o := mixed(place(room)); n != nil || o != nil {
			t.Errorf("in place %d alone: %v, %v", room, n, o)
		}
	}
}

// What follows from its checks stands with an instrument.
func TestAnInstrumentStandsWithItsChecks(t *testing.T) {
	w := begin(t)
	id := model.InstrumentID{ID: w.do(husbandry.AddInstrument{Instrument: husbandry.Instrument{Name: "Scale", Kind: husbandry.Scale}}).Documents[0]}
	for days, good := range map[int]bool{9: true, 4: false} {
		w.do(husbandry.CheckInstrument{Instrument: id, At: ago(days), Check: husbandry.InstrumentCheck{Good: good, Reading: "193 g", Reference: "200 g"}})
	}
	if err := w.View(func(v model.View) error {
		all, err := husbandry.Standings(v, w.tables)
		if err != nil {
			return err
		}
		last, ok := all[0].Last()
		if len(all) != 1 || len(all[0].Checks) != 2 || !ok || last.Good || !all[0].Check.Failed || len(all[0].Doubtful) != 1 || !husbandry.In(all[0].Doubtful, ago(6)) || husbandry.In(all[0].Doubtful, ago(9)) {
			t.Errorf("%+v", all)
		}
		if good, known := husbandry.LastGood(all[0].Checks); !known || good.At != ago(9) {
			t.Errorf("the last good one: %+v", good)
		}
		return nil
	}); err != nil {
		t.Fatal(err)
	}
	if _, ok := (husbandry.Standing{}).Last(); ok {
		t.Error("a last check of none")
	}
}

// Instruments and tools in use come first, each by its name; a tool stands with its
// newest cleaning, and one that is no longer used carries nothing to anybody.
func TestReadKit(t *testing.T) {
	w := begin(t)
	room := w.do(husbandry.AddPlaces{Branches: []husbandry.Branch{{Place: husbandry.Place{Name: "Main", Kind: husbandry.Room}, Below: []husbandry.Branch{
		{Place: husbandry.Place{Name: "A", Kind: husbandry.Tub}}, {Place: husbandry.Place{Name: "B", Kind: husbandry.Tub}}}}}}).Documents
	for i, a := range []animals.Animal{{Name: "Ash"}, {Name: "Oak", Since: onDay(5)}} {
		id := model.AnimalID{ID: w.do(animals.Add{Animal: a}).Documents[0]}
		w.do(husbandry.Move{Animal: id, Place: model.PlaceID{ID: room[i+1]}, At: ago(0)})
	}
	for _, i := range []husbandry.Instrument{{Name: "anvil scale", Kind: husbandry.Scale, Closed: onDay(1)}, {Name: "Wall probe", Kind: husbandry.Thermometer}, {Name: "bench scale", Kind: husbandry.Scale}} {
		w.do(husbandry.AddInstrument{Instrument: i})
	}
	var hook model.ToolID
	for _, tool := range []husbandry.Tool{{Name: "Bag", Kind: husbandry.Bag, Closed: onDay(1)}, {Name: "Hook", Kind: husbandry.Hook}} {
		hook = model.ToolID{ID: w.do(husbandry.AddTool{Tool: tool}).Documents[0]}
	}
	for _, days := range []int{9, 2, 6} {
		w.do(husbandry.Clean{Tables: w.tables, Tools: []model.ToolID{hook}, At: ago(days), Cleaning: husbandry.Cleaning{Extent: husbandry.Full}})
	}
	if err := w.View(func(v model.View) error {
		k, err := husbandry.ReadKit(v, w.tables)
		if err != nil {
			return err
		}
		var names []string
		for _, i := range k.Instruments {
			names = append(names, i.Name)
		}
		for _, one := range k.Tools {
			names = append(names, one.Name)
		}
		if want := []string{"bench scale", "Wall probe", "anvil scale", "Hook", "Bag"}; !slices.Equal(names, want) {
			t.Errorf("in the order %q, want %q", names, want)
		}
		if used := k.Tools[0]; used.Cleaned.At != ago(2) || len(used.Newcomers) != 1 || len(used.Others) != 1 {
			t.Errorf("the hook: %+v", used)
		}
		if unused := k.Tools[1]; !unused.Cleaned.At.IsZero() || unused.Newcomers != nil || unused.Others != nil {
			t.Errorf("the bag: %+v", unused)
		}
		return nil
	}); err != nil {
		t.Fatal(err)
	}
}
