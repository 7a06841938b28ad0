package newcomers_test

import (
	"maps"
	"slices"
	"strconv"
	"testing"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/exam"
	"coilward/model/newcomers"
	"coilward/model/storetest"
)

// noted notes as many entries of the newcomer as there are, one after the other, two
// hours apart, the last right now: as papers bring them that are taken in.
func (w *world) noted(n int, body func(i int) care.Body) {
	w.t.Helper()
	var all []model.Document
	for i := range n {
		b := body(i)
		d := model.Document{Type: model.TypeEntry, Kind: b.Kind(), ID: model.ID{7, 0, byte(i >> 16), byte(i >> 8), byte(i)}, At: w.now(), Subjects: []model.Subject{w.animal.Subject()}}
		d.At.UTC -= int64(n-1-i) * 2 * 3600
		if err := d.Encode(care.Version, b); err != nil {
			w.t.Fatal(err)
		}
		all = append(all, d)
	}
	w.do(storetest.Put{Documents: all})
}

// BenchmarkAll asks how one that came 90 days ago and has many entries stands: four times as many cost about
// four times as much, also where one of long ago was for the vet.
func BenchmarkAll(b *testing.B) {
	meal := func(int) care.Body { return care.Meal{Prey: care.Rat, Outcome: care.Took} }
	kinds := map[string]func(i int) care.Body{
		"meals": meal,
		"prey brought up": func(i int) care.Body {
			if i == 5 {
				return care.Meal{Prey: care.Rat, Outcome: care.Regurgitated}
			}
			return meal(i)
		},
		"prey brought up often": func(i int) care.Body {
			if i%10 == 5 {
				return care.Meal{Prey: care.Rat, Outcome: care.Regurgitated}
			}
			return meal(i)
		},
		"weights": func(i int) care.Body { return care.Weight{Mass: model.Grams(int64(1200 + i%3))} },
		"sheds":   func(i int) care.Body { return care.Shed{Skin: care.Whole, StuckEyeCaps: care.Yes} },
		"faeces":  func(i int) care.Body { return care.Waste{Faeces: []care.Trait{care.Blood}} },
		"looks":   func(int) care.Body { return care.MiteLook{Grade: care.NoMites, Where: []care.MiteWhere{care.OnAnimal}} },
		"mites":   func(int) care.Body { return care.MiteLook{Grade: care.OneMite, Where: []care.MiteWhere{care.OnAnimal}} },
	}
	for _, name := range slices.Sorted(maps.Keys(kinds)) {
		body := kinds[name]
		for _, n := range []int{1_000, 5_000, 20_000} {
			b.Run(name+"/"+strconv.Itoa(n), func(b *testing.B) {
				w := begin(b)
				w.check(exam.Seen)
				w.on(90)
				w.noted(n, body)
				for b.Loop() {
					if err := w.c.View(func(v model.View) error { _, err := newcomers.All(v, w.tables); return err }); err != nil {
						b.Fatal(err)
					}
				}
				b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(n), "ns/entry")
			})
		}
	}
}
