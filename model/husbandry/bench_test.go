package husbandry_test

import (
	"encoding/binary"
	"encoding/json"
	"fmt"
	"testing"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/collection"
	"coilward/model/husbandry"
	"coilward/model/storetest"
)

const (
	manyAnimals = 2000
	theirStays  = 4
)

// crowd is a collection in memory: 20 racks of 100 boxes, an animal for each box,
// and four stays for each animal, the last of them open.
func crowd(b *testing.B) *collection.Collection {
	b.Helper()
	c, _ := storetest.New(b)
	var docs []model.Document
	id := func(of byte, n int) model.ID {
		id := model.ID{0: of}
		binary.BigEndian.PutUint32(id[12:], uint32(n+1))
		return id
	}
	put := func(d model.Document, body any) {
		if err := d.Encode(1, body); err != nil {
			b.Fatal(err)
		}
		docs = append(docs, d)
	}
	for rack := range manyAnimals / 100 {
		put(model.Document{Type: model.TypePlace, ID: id(1, rack), At: ago(900)}, husbandry.Place{Name: fmt.Sprint("Rack ", rack), Kind: husbandry.Rack, Order: rack})
	}
	for n := range manyAnimals {
		put(model.Document{Type: model.TypePlace, ID: id(2, n), At: ago(900)},
			husbandry.Place{Name: fmt.Sprint("Box ", n), Kind: husbandry.Tub, Code: fmt.Sprint("B", n), Order: n % 100, Parent: model.PlaceID{ID: id(1, n/100)}})
		animal := model.AnimalID{ID: id(3, n)}
		put(model.Document{Type: model.TypeAnimal, ID: animal.ID}, animals.Animal{Name: fmt.Sprint("Snake ", n), Species: "python-regius", Status: animals.Kept, Morph: "wild type", Origin: "bred here"})
		for stay := range theirStays {
			from := 800 - 200*stay
			body := map[string]any{}
			if stay < theirStays-1 {
				body["to"] = ago(from - 200)
			}
			place := model.PlaceID{ID: id(2, (n+stay)%manyAnimals)}
			put(model.Document{Type: model.TypeStay, ID: id(4, n*theirStays+stay), At: ago(from), Subjects: []model.Subject{animal.Subject(), place.Subject()}}, body)
		}
	}
	if _, err := c.Do(storetest.Put{Documents: docs}); err != nil {
		b.Fatal(err)
	}
	return c
}

func BenchmarkReadHouse2000(b *testing.B) {
	c := crowd(b)
	for b.Loop() {
		err := c.View(func(v model.View) error {
			h, err := husbandry.ReadHouse(v)
			if err == nil && (len(h.Places()) != manyAnimals+manyAnimals/100 || len(h.Stays(model.AnimalID{ID: model.ID{0: 3, 15: 1}})) != theirStays) {
				b.Fatalf("%d places", len(h.Places()))
			}
			return err
		})
		if err != nil {
			b.Fatal(err)
		}
	}
}

// The peer: the same documents, each body read as JSON and left.
func BenchmarkReadHouse2000Raw(b *testing.B) {
	c := crowd(b)
	for b.Loop() {
		n := 0
		err := c.View(func(v model.View) error {
			read := func(of model.DocumentType, into func() any) error {
				return v.All(of, func(d model.Document) bool {
					n++
					return json.Unmarshal(d.Body, into()) == nil
				})
			}
			var place husbandry.Place
			var animal struct {
				Name, Status string
				StatusDay    model.Date
			}
			var stay struct{ To model.Moment }
			for of, into := range map[model.DocumentType]any{model.TypePlace: &place, model.TypeAnimal: &animal, model.TypeStay: &stay} {
				if err := read(of, func() any { return into }); err != nil {
					return err
				}
			}
			return nil
		})
		if err != nil || n != manyAnimals*(2+theirStays)+manyAnimals/100 {
			b.Fatalf("%d documents, %v", n, err)
		}
	}
}

// What the page of one animal reads of the same house.
func BenchmarkReadHouseOfOne2000(b *testing.B) {
	c := crowd(b)
	for b.Loop() {
		err := c.View(func(v model.View) error {
			_, err := husbandry.ReadHouseOf(v, model.AnimalID{ID: model.ID{0: 3, 15: 1}})
			return err
		})
		if err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkResidents2000(b *testing.B) {
	c := crowd(b)
	var h *husbandry.House
	if err := c.View(func(v model.View) (err error) { h, err = husbandry.ReadHouse(v); return err }); err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if n := len(h.Residents(ago(0))); n != manyAnimals {
			b.Fatalf("%d boxes are lived in", n)
		}
	}
}

// What moving one animal reads of the same house.
func BenchmarkMove2000(b *testing.B) {
	c := crowd(b)
	move := husbandry.Move{Animal: model.AnimalID{ID: model.ID{0: 3, 15: 1}}, Place: model.PlaceID{ID: model.ID{0: 2, 15: 9}}, At: ago(1), Confirmed: model.Confirmed{"house.shared"}}
	for b.Loop() {
		err := c.View(func(v model.View) error {
			w, err := move.Plan(v)
			if err == nil && len(w.Put) != 2 {
				b.Fatalf("%d stays are written", len(w.Put))
			}
			return err
		})
		if err != nil {
			b.Fatal(err)
		}
	}
}

// The same house after every place in it was changed once: what each was before is read
// as well.
func BenchmarkReadHouseChanged2000(b *testing.B) {
	c := crowd(b)
	var places []model.Document
	if err := c.View(func(v model.View) error {
		return v.All(model.TypePlace, func(d model.Document) bool { places = append(places, d); return true })
	}); err != nil {
		b.Fatal(err)
	}
	if _, err := c.Do(storetest.Put{Documents: places}); err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if err := c.View(func(v model.View) error { _, err := husbandry.ReadHouse(v); return err }); err != nil {
			b.Fatal(err)
		}
	}
}
