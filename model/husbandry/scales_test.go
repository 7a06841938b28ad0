package husbandry_test

import (
	"encoding/json"
	"testing"

	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/husbandry"
	"coilward/model/storetest"
)

func (w *world) scales() (s husbandry.Scales) {
	w.Helper()
	if err := w.View(func(v model.View) (err error) { s, err = husbandry.ReadScales(v); return err }); err != nil {
		w.Fatal(err)
	}
	return s
}

func (w *world) instrument(name string, kind husbandry.InstrumentKind) model.InstrumentID {
	w.Helper()
	return model.InstrumentID{ID: w.do(husbandry.AddInstrument{Instrument: husbandry.Instrument{Name: name, Kind: kind}}).Documents[0]}
}

func (w *world) checked(id model.InstrumentID, days int, good bool) {
	w.Helper()
	w.do(husbandry.CheckInstrument{Instrument: id, At: ago(days), Check: husbandry.InstrumentCheck{Good: good}})
}

// A weight is doubtful where its scale failed after it and was not good since.
func TestWeightsOfAFailedScaleAreDoubtful(t *testing.T) {
	w := begin(t)
	small, other := w.instrument("Small scale", husbandry.Scale), w.instrument("Bench", husbandry.Scale)
	warm := w.instrument("Warm end", husbandry.Thermometer)
	for days, good := range map[int]bool{40: true, 20: true, 10: false, 5: true} {
		w.checked(small, days, good)
	}
	w.checked(warm, 3, false)
	s := w.scales()
	for _, c := range []struct {
		name string
		with model.InstrumentID
		ago  int
		want bool
	}{
		{"before the last good one", small, 25, false}, {"between good and failed", small, 15, true}, {"between failed and good", small, 7, true}, {"after it is good again", small, 2, false},
		{"of another scale", other, 15, false}, {"of no scale", model.InstrumentID{}, 15, false}, {"of one that is not there", model.InstrumentID{ID: model.ID{9}}, 15, false}, {"of a thermometer", warm, 15, false},
	} {
		if _, doubtful := s.Doubts(c.with, ago(c.ago)); doubtful != c.want {
			t.Errorf("%s: %v", c.name, doubtful)
		}
	}
	if name, _ := s.Doubts(small, ago(15)); name != "Small scale" {
		t.Errorf("it is called %q", name)
	}
	if s[small].Failed || s[other].Failed || len(s) != 2 {
		t.Errorf("%+v", s)
	}
	w.checked(other, 0, false)
	if !w.scales()[other].Failed {
		t.Error("a failed check is not told")
	}
}

// The scale used last is offered again, or the only one; never one that is no
// longer used.
func TestTheUsualScale(t *testing.T) {
	w := begin(t)
	none := model.InstrumentID{}
	if got := w.scales().Usual(none); got != none {
		t.Errorf("without a scale: %v", got)
	}
	one := w.instrument("B", husbandry.Scale)
	if got := w.scales().Usual(none); got != one {
		t.Errorf("the only one: %v", got)
	}
	two := w.instrument("a", husbandry.Scale)
	if s := w.scales(); s.Usual(none) != none || s.Usual(two) != two || s.InUse()[0].ID != two {
		t.Errorf("of two: %v, %v", s.Usual(none), s.Usual(two))
	}
	w.checked(two, 3, true)
	w.do(husbandry.RemoveInstrument{ID: two})
	if s := w.scales(); s.Usual(two) != one || len(s.InUse()) != 1 || len(s) != 2 {
		t.Errorf("no longer used: %v of %v", s.Usual(two), s)
	}
	w.do(storetest.Put{Documents: []model.Document{{Type: model.TypeInstrument, ID: model.ID{9}, Version: 1, At: ago(0), Body: json.RawMessage(`[]`)}}})
	if s := w.scales(); len(s) != 2 {
		t.Errorf("one that cannot be read hides others: %v", s)
	}
}

// A reading is doubtful exactly where the next check of its instrument after it
// failed, or the last before it: whatever the order in which they were noted.
func TestDoubtfulIsBetweenGoodChecks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		hours := rapid.SliceOfNDistinct(rapid.IntRange(1, 60), 0, 8, rapid.ID).Draw(t, "hours")
		at := func(hour, minute int) model.Moment {
			return model.Moment{UTC: int64(hour)*3600 + int64(minute)*60, Precision: model.ToMinute}
		}
		var checks []husbandry.Checked
		good := map[int]bool{}
		for _, h := range hours {
			good[h] = rapid.Bool().Draw(t, "good")
			checks = append(checks, husbandry.Checked{Entry: model.EntryID{ID: model.ID{byte(h)}}, At: at(h, 0), InstrumentCheck: husbandry.InstrumentCheck{Good: good[h]}})
		}
		spans := husbandry.Doubtful(checks)
		for hour := range 62 {
			want := false
			for h := hour; h >= 0; h-- { // the last before it
				if ok, is := good[h]; is {
					want = !ok
					break
				}
			}
			for h := hour + 1; h < 62; h++ { // the next after it
				if ok, is := good[h]; is {
					want = want || !ok
					break
				}
			}
			if got := husbandry.In(spans, at(hour, 30)); got != want {
				t.Fatalf("at %d:30 doubtful is %v with %v", hour, got, good)
			}
		}
	})
}
