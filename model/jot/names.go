package jot

import (
	"cmp"
	"slices"
	"strings"

	"coilward/model"
)

// Animal is an animal that a line may name.
type Animal struct {
	ID         model.AnimalID
	Name, Code string
}

// Place is a room or a shelf that a line may name for the animals in it, or a box
// for the one that lives there, or to be cleaned.
type Place struct {
	Name    string
	Code    string // of a box
	Title   string // of a box, with what it stands in
	Animals []model.AnimalID
	Box     model.PlaceID // zero: no box
}

// Names are whom a line may name, made ready for reading.
type Names struct {
	animals []Animal
	places  []Place
	keys    []key // sorted
}

// key is one way to name someone.
type key struct {
	folded string
	who    int  // index of the animal, or of the place behind all animals
	whole  bool // a code: its beginning names nobody
	other  bool // spelled without umlauts, as nobody wrote it
}

// Known are the names of animals and places. "All" is the animals given.
func Known(animals []Animal, places []Place) Names {
	n := Names{animals: animals, places: places}
	for i, a := range animals {
		n.add(a.Name, i, false)
		n.add(a.Code, i, true)
	}
	for i, p := range places {
		n.add(p.Name, len(animals)+i, !p.Box.IsZero())
		if fold(p.Code) != fold(p.Name) {
			n.add(p.Code, len(animals)+i, true)
		}
	}
	slices.SortFunc(n.keys, func(a, b key) int { return cmp.Or(strings.Compare(a.folded, b.folded), a.who-b.who) })
	return n
}

func (n *Names) add(name string, who int, whole bool) {
	folded := fold(strings.TrimSpace(name))
	if folded == "" {
		return
	}
	n.keys = append(n.keys, key{folded, who, whole, false})
	if spelled := spelledOut(folded); spelled != folded {
		n.keys = append(n.keys, key{spelled, who, whole, true})
	}
}

// from is the first key that does not come before the word.
func (n Names) from(folded string) int {
	at, _ := slices.BinarySearchFunc(n.keys, folded, func(k key, word string) int { return strings.Compare(k.folded, word) })
	return at
}

// named are those whom the word names in full, and those whose name begins so.
// A spelling without umlauts names someone where nobody is written so. begins tells
// whether anything begins so, be it a code.
func (n Names) named(folded string) (full, beginning []int, begins bool) {
	var other []int
	for at := n.from(folded); at < len(n.keys) && strings.HasPrefix(n.keys[at].folded, folded); at++ {
		begins = true
		k := n.keys[at]
		switch {
		case k.folded == folded && k.other:
			other = append(other, k.who)
		case k.folded == folded && !slices.Contains(full, k.who):
			full = append(full, k.who)
		case k.folded != folded && !k.whole && !slices.Contains(beginning, k.who):
			beginning = append(beginning, k.who)
		}
	}
	if len(full) == 0 {
		full = other
	}
	return full, beginning, begins
}

// of are the indices of the animals that someone stands for, and whether it is a
// place.
func (n Names) of(who int) (animals []int, place bool) {
	if who < len(n.animals) {
		return []int{who}, false
	}
	for _, id := range n.places[who-len(n.animals)].Animals {
		if i := n.index(id); i >= 0 {
			animals = append(animals, i)
		}
	}
	return animals, true
}

// box is the place that someone stands for, where that is a box.
func (n Names) box(who int) (p Place, is bool) {
	if who < len(n.animals) {
		return p, false
	}
	p = n.places[who-len(n.animals)]
	return p, !p.Box.IsZero()
}

// Box is a box that a line can name; zero for one that is not known.
func (n Names) Box(id model.PlaceID) Place {
	if i := slices.IndexFunc(n.places, func(p Place) bool { return p.Box == id }); i >= 0 && !id.IsZero() {
		return n.places[i]
	}
	return Place{}
}

func (n Names) index(id model.AnimalID) int {
	return slices.IndexFunc(n.animals, func(a Animal) bool { return a.ID == id })
}

// name is what someone is called.
func (n Names) name(who int) string {
	if who < len(n.animals) {
		return n.animals[who].Name
	}
	return n.places[who-len(n.animals)].Name
}

// Name is what an animal is called; empty for one that is not known.
func (n Names) Name(id model.AnimalID) string {
	if i := n.index(id); i >= 0 {
		return n.animals[i].Name
	}
	return ""
}
