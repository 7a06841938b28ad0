package animal_test

import (
	"testing"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/collection"
	"coilward/ui/look"
)

// manyDays fills a collection with one animal of 5,000 days.
func manyDays(b *testing.B) func(*collection.Collection) {
	return func(c *collection.Collection) {
		if _, err := c.Do(animals.Add{Animal: animals.Animal{Name: "Wren"}}); err != nil {
			b.Fatal(err)
		}
		for from := 0; from < 5000; from += 50 {
			if _, err := c.Do(notes(from)); err != nil {
				b.Fatal(err)
			}
		}
	}
}

// notes writes fifty days of weights, notes, sheds and meals, from so many days ago.
type notes int

func (notes) Name() string { return "test.notes" }

func (n notes) Plan(v model.View) (model.Writes, error) {
	all, err := animals.All(v)
	if err != nil {
		return model.Writes{}, err
	}
	w := model.Writes{Label: model.Label{Key: "care.done.note"}}
	bodies := []care.Body{care.Weight{Mass: model.Grams(1400)}, care.Note{Text: "Calm at dusk"}, care.Shed{Skin: care.Whole}, care.Meal{Outcome: care.Took, Prey: care.Rat}}
	for i := int(n); i < int(n)+50; i++ {
		at := v.Now()
		at.UTC -= int64(i+1) * 86400
		body := bodies[i%len(bodies)]
		d := model.Document{Type: model.TypeEntry, Kind: body.Kind(), ID: v.NewID(), At: at, Subjects: []model.Subject{all[0].ID.Subject()}}
		if err := d.Encode(care.Version, body); err != nil {
			return w, err
		}
		w.Put = append(w.Put, d)
	}
	return w, nil
}

// From the route to the page with its days in sight.
func BenchmarkOpen5000Days(b *testing.B) {
	h := open(b, "en", small, look.ByDay, manyDays(b))
	h.show("Wren", "days")
	b.ResetTimer()
	for b.Loop() {
		h.show("Wren", "days")
	}
}
