package climate_test

import (
	"errors"
	"strings"
	"testing"

	"coilward/model"
	"coilward/model/climate"
	"coilward/model/collection"
)

func ownOf(t *testing.T, c *collection.Collection, place model.PlaceID) (all []climate.Own) {
	t.Helper()
	if err := c.View(func(v model.View) (err error) {
		all, _, err = climate.OwnTargets(v, place)
		return err
	}); err != nil {
		t.Fatal(err)
	}
	return all
}

func TestOwnTargets(t *testing.T) {
	h := begin(t)
	four := &climate.Target{HardLow: 2000, SoftLow: 2600, SoftHigh: 3000, HardHigh: 3600}
	cooler := &climate.Target{HardLow: 1800, SoftLow: 2000, SoftHigh: 2200, HardHigh: 3000}
	warm := climate.Own{Zone: climate.Warm, Measure: climate.Temperature, Day: four, Night: cooler, Why: "my vet"}
	set := func(o climate.Own) collection.Change {
		t.Helper()
		done, err := h.Do(climate.SetTarget{Place: h.place, Own: o})
		if err != nil {
			t.Fatal(err)
		}
		return done
	}
	if done := set(warm); done.Label.Key != "climate.done.target" || done.Label.Gaps["Place"].Text != "A1" {
		t.Errorf("done %+v", done.Label)
	}
	set(climate.Own{Zone: climate.Basking, Measure: climate.Temperature, Day: four})
	set(climate.Own{Zone: climate.Warm, Measure: climate.Humidity, Night: &climate.Target{HardHigh: 10000}})
	all := ownOf(t, h.Collection, h.place)
	if len(all) != 3 || all[0].Zone != climate.Basking || all[1].Measure != climate.Temperature || *all[1].Day != *four || *all[1].Night != *cooler || all[1].Why != "my vet" || all[2].Day != nil {
		t.Fatalf("%+v", all)
	}
	if target, ok := all[1].At(true); !ok || target != *four {
		t.Errorf("by day %+v", target)
	}
	if target, ok := all[1].At(false); !ok || target != *cooler {
		t.Errorf("by night %+v", target)
	}
	if _, ok := all[0].At(false); ok {
		t.Error("by night none is set")
	}
	if len(ownOf(t, h.Collection, h.other)) != 0 {
		t.Error("another place has them too")
	}
	warm.Night = nil
	set(warm) // the newest stands
	if all = ownOf(t, h.Collection, h.place); len(all) != 3 || all[1].Night != nil {
		t.Errorf("%+v", all)
	}
	if done := set(warm); len(done.Documents) != 0 {
		t.Error("what stands so is written again")
	}
	if done := set(climate.Own{Zone: climate.Warm, Measure: climate.Temperature}); done.Label.Key != "climate.done.target-table" {
		t.Errorf("done %+v", done.Label)
	}
	if all = ownOf(t, h.Collection, h.place); len(all) != 2 || all[0].Zone != climate.Basking || all[1].Measure != climate.Humidity {
		t.Errorf("%+v", all)
	}
}

func TestOwnTargetsThatCannotStand(t *testing.T) {
	h := begin(t)
	for name, c := range map[string]struct {
		own           climate.Own
		field, reason string
	}{
		"a room":            {climate.Own{Zone: climate.RoomAir, Measure: climate.Temperature}, "climate-zone", "choice.unknown"},
		"no zone":           {climate.Own{Measure: climate.Temperature}, "climate-zone", "choice.unknown"},
		"no measure":        {climate.Own{Zone: climate.Warm}, "target-measure", "choice.unknown"},
		"nothing, not set":  {climate.Own{Zone: climate.Warm, Measure: climate.Humidity}, "target-day-soft-low", "climate.target-none"},
		"good below hard":   {climate.Own{Zone: climate.Warm, Measure: climate.Temperature, Day: &climate.Target{HardLow: 2001, SoftLow: 2000, SoftHigh: 2500, HardHigh: 3000}}, "target-day-soft-low", "climate.target-order"},
		"good ends before":  {climate.Own{Zone: climate.Warm, Measure: climate.Temperature, Night: &climate.Target{HardLow: 2000, SoftLow: 2600, SoftHigh: 2500, HardHigh: 3000}}, "target-night-soft-high", "climate.target-order"},
		"hard below good":   {climate.Own{Zone: climate.Warm, Measure: climate.Temperature, Night: &climate.Target{HardLow: 2000, SoftLow: 2000, SoftHigh: 2500, HardHigh: 2499}}, "target-night-hard-high", "climate.target-order"},
		"below nothing":     {climate.Own{Zone: climate.Warm, Measure: climate.Temperature, Day: &climate.Target{HardLow: -1, HardHigh: 1}}, "target-day-hard-low", "climate.target-range.temperature"},
		"hotter than any":   {climate.Own{Zone: climate.Warm, Measure: climate.Temperature, Day: &climate.Target{HardHigh: 6001}}, "target-day-hard-high", "climate.target-range.temperature"},
		"more than all":     {climate.Own{Zone: climate.Hide, Measure: climate.Humidity, Day: &climate.Target{HardHigh: 10001}}, "target-day-hard-high", "climate.target-range.humidity"},
		"why at any length": {climate.Own{Zone: climate.Warm, Measure: climate.Humidity, Day: &climate.Target{HardHigh: 10000}, Why: strings.Repeat("a", climate.LongestWhy+1)}, "target-why", "text.long"},
	} {
		_, err := h.Do(climate.SetTarget{Place: h.place, Own: c.own})
		r := (*model.Refusal)(nil)
		if !errors.As(err, &r) || r.Field != c.field || r.Reason != c.reason {
			t.Errorf("%s: %v, %+v", name, err, r)
		}
	}
	for value, target := range map[string]climate.Target{"70.55": {HardHigh: 7055}, "-0.05": {HardLow: -5}, "0.00": {HardLow: 1}, "61.00": {HardHigh: 6100}} { // as they are named
		_, err := h.Do(climate.SetTarget{Place: h.place, Own: climate.Own{Zone: climate.Warm, Measure: climate.Temperature, Day: &target}})
		if r := (*model.Refusal)(nil); !errors.As(err, &r) || r.Value != value {
			t.Errorf("%+v: %v, want %q named", target, err, value)
		}
	}
	for name, place := range map[string]model.PlaceID{"none": {}, "one that is not there": {ID: model.ID{7}}} {
		if _, err := h.Do(climate.SetTarget{Place: place, Own: climate.Own{Zone: climate.Warm, Measure: climate.Humidity, Day: &climate.Target{HardHigh: 9000}}}); err == nil {
			t.Errorf("of %s", name)
		}
	}
	for _, ends := range []climate.Own{
		{Zone: climate.Warm, Measure: climate.Temperature, Day: &climate.Target{HardHigh: 6000}},
		{Zone: climate.Warm, Measure: climate.Humidity, Day: &climate.Target{SoftLow: 10000, SoftHigh: 10000, HardHigh: 10000}, Why: strings.Repeat("a", climate.LongestWhy)},
	} {
		if _, err := h.Do(climate.SetTarget{Place: h.place, Own: ends}); err != nil {
			t.Error(err)
		}
	}
}

func TestATargetIsSound(t *testing.T) {
	d := model.Document{Type: model.TypeEntry, Kind: climate.KindTarget}
	for name, c := range map[string]struct {
		body  climate.Own
		sound bool
	}{
		"one that stands":  {climate.Own{Zone: climate.Warm, Measure: climate.Humidity, Day: &climate.Target{HardHigh: 9000}}, true},
		"one out of order": {climate.Own{Zone: climate.Warm, Measure: climate.Humidity, Day: &climate.Target{HardLow: 1}}, false},
	} {
		if err := d.Encode(climate.Version, c.body); err != nil {
			t.Fatal(err)
		}
		if known, err := climate.Sound(d, model.Moment{}); !known || (err == nil) != c.sound {
			t.Errorf("%s: %t, %v", name, known, err)
		}
	}
	d.Body = []byte("{")
	if known, err := climate.Sound(d, model.Moment{}); !known || err == nil {
		t.Error("a damaged one is sound")
	}
	if _, err := climate.DecodeTarget(model.Document{Type: model.TypeEntry, Kind: "shed"}); err == nil {
		t.Error("a shed is read as a target")
	}
}

// broken writes own numbers of a later version, which cannot be read.
type broken struct{ climate.SetTarget }

func (c broken) Plan(v model.View) (model.Writes, error) {
	w, err := c.SetTarget.Plan(v)
	for i := range w.Put {
		w.Put[i].Version++
	}
	return w, err
}

// Own numbers that cannot be read are counted, and what is set beside them is written even
// where older ones are the same.
func TestOwnTargetsThatCannotBeRead(t *testing.T) {
	h := begin(t)
	own := climate.Own{Zone: climate.Warm, Measure: climate.Humidity, Day: &climate.Target{HardHigh: 9000}}
	h.do(climate.SetTarget{Place: h.place, Own: own})
	other := own
	other.Day = &climate.Target{HardHigh: 8000}
	h.do(broken{climate.SetTarget{Place: h.place, Own: other}})
	if err := h.View(func(v model.View) error {
		all, unread, err := climate.OwnTargets(v, h.place)
		if len(all) != 1 || unread != 1 {
			t.Errorf("%d read, %d not", len(all), unread)
		}
		return err
	}); err != nil {
		t.Fatal(err)
	}
	if done := h.do(climate.SetTarget{Place: h.place, Own: own}); len(done.Documents) != 1 {
		t.Error("it is not written, though the newest cannot be read")
	}
	h.do(climate.SetTarget{Place: h.place, Own: climate.Own{Zone: climate.Warm, Measure: climate.Temperature}})
}

// Four numbers are a target, none are none, and some alone are asked for the first that lacks.
func TestTargetFrom(t *testing.T) {
	n := []int{2000, 2600, 3000, 3600}
	four := [4]*int{&n[0], &n[1], &n[2], &n[3]}
	if got, err := climate.TargetFrom(true, four); err != nil || *got != (climate.Target{HardLow: 2000, SoftLow: 2600, SoftHigh: 3000, HardHigh: 3600}) {
		t.Errorf("%+v, %v", got, err)
	}
	if got, err := climate.TargetFrom(false, [4]*int{}); err != nil || got != nil {
		t.Errorf("%+v, %v", got, err)
	}
	for i := range four {
		for _, day := range []bool{true, false} {
			some := four
			some[i] = nil
			r := (*model.Refusal)(nil)
			if got, err := climate.TargetFrom(day, some); got != nil || !errors.As(err, &r) || r.Field != climate.TargetFields(day)[i] || r.Reason != "climate.target-missing" {
				t.Errorf("without number %d: %+v, %v", i, got, err)
			}
		}
	}
}

// What stands so already is not written again, be it the first of all.
func TestTheSameOwnNumbersAgain(t *testing.T) {
	h := begin(t)
	c := climate.SetTarget{Place: h.place, Own: climate.Own{Zone: climate.Basking, Measure: climate.Temperature, Day: &climate.Target{HardLow: 2000, SoftLow: 3100, SoftHigh: 3300, HardHigh: 4000}, Why: "the vet"}}
	for i, n := range []int{1, 0} {
		if done := h.do(c); len(done.Documents) != n {
			t.Errorf("time %d: %d documents", i+1, len(done.Documents))
		}
	}
	c.Own.Why = "another vet"
	if done := h.do(c); len(done.Documents) != 1 {
		t.Error("another reason is not written")
	}
}
