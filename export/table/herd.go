package table

import (
	"slices"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/knowledge"
)

// one is an animal that a row can be about: of the collection, or new.
type one struct {
	id      model.AnimalID // zero: new
	new     int
	name    string // folded
	code    string // folded
	chip    string
	here    bool
	species knowledge.SpeciesID
}

// herd are all animals that rows can be about.
type herd struct {
	marks, chips, codes, names map[string][]*one
	folded                     map[string]string // what was folded already
}

func newHerd(known []animals.Stored) *herd {
	h := &herd{map[string][]*one{}, map[string][]*one{}, map[string][]*one{}, map[string][]*one{}, map[string]string{}}
	for _, a := range known {
		h.put(&one{id: a.ID}, a.Animal, a.ID.String())
	}
	return h
}

func (h *herd) fold(text string) string {
	f, ok := h.folded[text]
	if !ok {
		f = animals.Fold(text)
		h.folded[text] = f
	}
	return f
}

// put makes an animal known.
func (h *herd) put(o *one, a animals.Animal, mark string) {
	o.name, o.code, o.chip, o.here, o.species = h.fold(a.Name), h.fold(a.Code), a.Chip.Digits, a.Status.Here(), a.Species
	for _, key := range []struct {
		in  map[string][]*one
		key string
	}{{h.marks, mark}, {h.chips, o.chip}, {h.codes, o.code}, {h.names, o.name}} {
		if key.key != "" {
			key.in[key.key] = append(key.in[key.key], o)
		}
	}
}

// sought is what a row says of which animal it is about.
type sought struct{ name, code, chip, mark string }

// find are the animals that a row can be about: by the id, else the chip, else
// the code, else the name; what is said beside must not speak against it.
func (h *herd) find(s sought) []*one {
	name, code := h.fold(s.name), h.fold(s.code)
	fits := func(o *one) bool {
		return (name == "" || o.name == name) && (code == "" || o.code == "" || o.code == code) && (s.chip == "" || o.chip == "" || o.chip == s.chip)
	}
	for _, by := range []struct {
		in  map[string][]*one
		key string
	}{{h.marks, s.mark}, {h.chips, s.chip}, {h.codes, code}, {h.names, name}} {
		if by.key == "" {
			continue
		}
		var found []*one
		for _, o := range by.in[by.key] {
			if fits(o) {
				found = append(found, o)
			}
		}
		if len(found) > 0 {
			return fewer(found)
		}
	}
	return nil
}

// fewer are those that are here, where there is exactly one of them.
func fewer(found []*one) []*one {
	here := slices.DeleteFunc(slices.Clone(found), func(o *one) bool { return !o.here })
	if len(found) > 1 && len(here) == 1 {
		return here
	}
	return found
}
