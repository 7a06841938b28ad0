package history

import (
	"maps"
	"slices"
	"strconv"
	"testing"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/exam"
)

// BenchmarkRead judges an animal of many entries, read back as far as is needed and all of
// them: four times as many cost about four times as much.
func BenchmarkRead(b *testing.B) {
	tb := tables(b)
	took, brought := care.Meal{Outcome: care.Took}, care.Meal{Outcome: care.Regurgitated}
	kinds := map[string]func(i int) care.Body{
		"meals":           func(int) care.Body { return took },
		"prey brought up": func(int) care.Body { return brought },
		"meals and weights": func(i int) care.Body {
			return [...]care.Body{took, care.Weight{Mass: model.Grams(1200), Gut: care.GutFed}}[i%2]
		},
		"weights":           func(int) care.Body { return care.Weight{Mass: model.Grams(1200)} },
		"sheds that stay":   func(int) care.Body { return care.Shed{StuckEyeCaps: care.Yes, StuckTailTip: care.Yes} },
		"faeces with blood": func(int) care.Body { return waste(care.Blood, care.White) },
		"looks for mites":   func(int) care.Body { return mitesAt(care.NoMites) },
		"mites":             func(i int) care.Body { return mitesAt([...]care.MiteGrade{care.OneMite, care.NoMites}[i%2]) },
		"all": func(i int) care.Body {
			return [...]care.Body{took, took, care.Weight{Mass: model.Grams(1200)}, brought, care.Shed{StuckEyeCaps: care.NotLooked}, waste(care.Blood, care.Green)}[i%6]
		},
	}
	for _, name := range slices.Sorted(maps.Keys(kinds)) {
		for _, n := range []int{5_000, 20_000} {
			l := timeline{read: new(int)}
			put := func(kind string, version int, body any) {
				d := model.Document{Type: model.TypeEntry, Kind: kind, ID: model.ID{1, byte(len(l.days) >> 16), byte(len(l.days) >> 8), byte(len(l.days))}, At: day(20_000)}
				d.At.UTC -= int64(len(l.days)) * 2 * 3600
				if err := d.Encode(version, body); err != nil {
					b.Fatal(err)
				}
				l.days = append(l.days, d)
			}
			put(exam.KindCheck, exam.CheckVersion, exam.Check{})
			for i := range n {
				body := kinds[name](i)
				put(body.Kind(), care.Version, body)
			}
			measure := func(how string, read func() (Records, error)) {
				b.Run(name+"/"+how+"/"+strconv.Itoa(n), func(b *testing.B) {
					for b.Loop() {
						r, err := read()
						if err != nil {
							b.Fatal(err)
						}
						r.Stand(tb, nil, day(20_000))
					}
					b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(n), "ns/entry")
				})
			}
			measure("lately", func() (Records, error) { return Lately(tb, l, animals.Stored{}, nil, day(20_000)) })
			measure("all", func() (Records, error) { return Read(tb, l, animals.Stored{}, day(20_000)) })
		}
	}
}
