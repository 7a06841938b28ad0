package due_test

import (
	"strconv"
	"testing"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/knowledge"
	"coilward/model/quarantine"
	"coilward/model/storetest"
	"coilward/model/welfare"
)

// BenchmarkOfMany brings what is due of one animal in quarantine of many entries after it
// was touched: four times as many cost about four times as much.
func BenchmarkOfMany(b *testing.B) {
	took := care.Meal{Prey: care.Rat, Outcome: care.Took}
	kinds := []struct {
		name string
		body func(i int) care.Body
	}{
		{"meals", func(int) care.Body { return took }},
		{"all", func(i int) care.Body {
			return [...]care.Body{took, took, care.Weight{Mass: model.Grams(int64(1200 + i%7)), Gut: care.GutEmpty}, care.Meal{Prey: care.Rat, Outcome: care.Refused},
				care.Shed{Skin: care.Whole, StuckEyeCaps: care.Yes}, care.Waste{Faeces: []care.Trait{care.Formed}}, care.Note{Text: "drank"},
				care.MiteLook{Grade: care.MiteGrades()[i%3], Where: []care.MiteWhere{care.OnAnimal}}}[i%8]
		}},
		{"breaths", nil},
	}
	for _, kind := range kinds {
		for _, n := range []int{1_000, 5_000, 20_000} {
			w := newWorld(b, animals.Animal{Name: "Juniper", Species: "python-regius", Status: animals.Kept})
			arrived := w.now()
			arrived.UTC -= 90 * 86400
			w.do(quarantine.Begin{Tables: w.tables, Animal: w.animal, Arrived: arrived, Protocol: "python"})
			var all []model.Document
			for i := range n {
				d := model.Document{Type: model.TypeEntry, ID: model.ID{7, 0, byte(i >> 16), byte(i >> 8), byte(i)}, At: w.now(), Subjects: []model.Subject{w.animal.Subject()}}
				d.At.UTC -= int64(n-1-i) * 2 * 3600
				var err error
				if kind.body == nil {
					d.Kind = welfare.KindObservation
					err = d.Encode(welfare.Version, welfare.Observation{Setting: knowledge.Untouched, None: true, Breaths: &welfare.Breaths{Count: 20 + i%7, Seconds: 120}})
				} else {
					body := kind.body(i)
					d.Kind, err = body.Kind(), d.Encode(care.Version, body)
				}
				if err != nil {
					b.Fatal(err)
				}
				all = append(all, d)
			}
			w.do(storetest.Put{Documents: all})
			b.Run(kind.name+"/"+strconv.Itoa(n), func(b *testing.B) {
				for b.Loop() {
					w.book.Touch(0, []model.Subject{w.animal.Subject()})
					if w.list(); b.Failed() {
						b.FailNow()
					}
				}
				b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(n), "ns/entry")
			})
		}
	}
}
