package paper_test

import (
	"strconv"
	"testing"

	"coilward/export/paper"
	"coilward/export/papertest"
	"coilward/model"
	"coilward/model/care"
	"coilward/model/storetest"
)

// noted notes so many entries, two hours apart, the last right now.
func (k *kept) noted(n int, body func(i int) care.Body) {
	k.t.Helper()
	var all []model.Document
	for i := range n {
		b := body(i)
		d := model.Document{Type: model.TypeEntry, Kind: b.Kind(), ID: model.ID{7, 0, byte(i >> 16), byte(i >> 8), byte(i)}, At: k.now(), By: k.by, Subjects: []model.Subject{k.animal.Subject()}}
		d.At.UTC -= int64(n-1-i) * 2 * 3600
		if err := d.Encode(care.Version, b); err != nil {
			k.t.Fatal(err)
		}
		all = append(all, d)
	}
	k.do(storetest.Put{Documents: all})
}

// BenchmarkPapers makes the papers of an animal of many entries: four times as many cost
// about four times as much.
func BenchmarkPapers(b *testing.B) {
	took := care.Meal{Prey: care.Rat, Outcome: care.Took}
	kinds := []struct {
		name string
		body func(i int) care.Body
	}{
		{"meals", func(int) care.Body { return took }},
		{"all", func(i int) care.Body {
			return [...]care.Body{took, took, care.Weight{Mass: model.Grams(int64(1200 + i%7)), Gut: care.GutEmpty}, care.Meal{Outcome: care.Regurgitated},
				care.Shed{Skin: care.Whole, StuckEyeCaps: care.Yes}, care.Waste{Faeces: []care.Trait{care.Blood}}, care.Note{Text: "drank"},
				care.MiteLook{Grade: care.MiteGrades()[i%3], Where: []care.MiteWhere{care.OnAnimal}}}[i%8]
		}},
	}
	for _, kind := range kinds {
		for _, n := range []int{1_000, 5_000, 20_000} {
			k := keep(b)
			k.noted(n, kind.body)
			f := k.facts()
			measure := func(what string, do func()) {
				b.Run(kind.name+"/"+what+"/"+strconv.Itoa(n), func(b *testing.B) {
					for b.Loop() {
						do()
					}
					b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(n), "ns/entry")
				})
			}
			measure("gather", func() { k.facts() })
			measure("page for a vet", func() { paper.VetPage(f, papertest.Text(b, "en"), paper.A4) })
			measure("record", func() { paper.Layout(paper.HealthRecord(f, papertest.Text(b, "en"), paper.A4)) })
		}
	}
}
