package round

import (
	"cmp"
	"slices"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/husbandry"
	"coilward/model/infested"
	"coilward/model/knowledge"
	"coilward/model/positives"
)

// House is who is here, as a round finds them, and what they and their boxes are called.
type House struct {
	Dwellers []Dweller // in the order of rooms, racks and shelves; those not housed come last, by name
	Names    map[model.AnimalID]string
	Boxes    map[model.PlaceID]string
	// Unread are the animals whose records cannot be read, by name: as what they count, and
	// whether they left mites behind, is not known.
	Unread []string
}

// ReadHouse reads all animals that are here.
func ReadHouse(v model.View, t *knowledge.Tables) (House, error) {
	h := House{Names: map[model.AnimalID]string{}, Boxes: map[model.PlaceID]string{}}
	now := v.Now()
	all, err := animals.All(v)
	if err != nil {
		return h, err
	}
	places, err := husbandry.ReadHouse(v)
	if err != nil {
		return h, err
	}
	marks, err := positives.Marked(v, t)
	if err != nil {
		return h, err
	}
	owns, looked := map[model.AnimalID]Own{}, map[model.AnimalID]infested.Animal{}
	for _, a := range all {
		if !a.Status.Here() {
			continue
		}
		d, own, err := dweller(v, t, a, places, now)
		if err != nil {
			h.Unread = append(h.Unread, a.Name)
			continue
		}
		looked[a.ID] = own.Infested(a)
		h.Dwellers, h.Names[a.ID], owns[a.ID] = append(h.Dwellers, d), a.Name, own
		if !d.Place.IsZero() {
			h.Boxes[d.Place] = places.Title(d.Place)
		}
	}
	mites, unread := infested.Read(v, t, places, all, looked)
	h.Unread = append(h.Unread, unread...)
	for i := range h.Dwellers {
		d := &h.Dwellers[i]
		own := owns[d.Animal]
		d.Facts, d.Agents = FactsOf(t, d.Animal, own, places, mites, marks, now), marks.Agents[d.Animal]
		d.Reasons = ReasonsOf(d.Facts, d.Animal, own, places, marks)
	}
	h.sort(places)
	return h, nil
}

// sort puts the dwellers in the order of the places, those not housed last, by name.
func (h House) sort(places *husbandry.House) {
	rank := map[model.PlaceID]int{}
	for i, p := range places.Places() {
		rank[p.ID] = i + 1
	}
	at := func(d Dweller) int {
		if n := rank[d.Place]; n > 0 {
			return n
		}
		return len(rank) + 1
	}
	slices.SortFunc(h.Dwellers, func(a, b Dweller) int {
		return cmp.Or(cmp.Compare(at(a), at(b)), model.Natural(animals.Fold(h.Names[a.Animal]), animals.Fold(h.Names[b.Animal])), slices.Compare(a.Animal.ID[:], b.Animal.ID[:]))
	})
}

// dweller reads one animal, but for what follows from those who live in its room.
func dweller(v model.View, t *knowledge.Tables, a animals.Stored, places *husbandry.House, now model.Moment) (Dweller, Own, error) {
	known, err := Know(v, t, a, now)
	if err != nil {
		return Dweller{}, Own{}, err
	}
	d := Dweller{Animal: a.ID}
	if stay, lives := places.Where(a.ID, now); lives {
		d.Place, d.Room = stay.Place, places.Room(stay.Place)
	}
	var mass model.Mass
	if len(known.Records.Weights) > 0 {
		mass = known.Records.Weights[0].Mass
	}
	d.Young = Young(t, a.Hatched, mass, now.Day())
	return d, known.Own, nil
}
