// Package shelfview shows a room as it stands: a line per shelf, a box per
// enclosure in its order and rough size, who lies in it, its class and what is
// due on it. In a walk the current box grows in its own place. Values go in,
// callbacks come out.
package shelfview

import (
	"slices"

	"coilward/ui/widgets/coil"
)

// Class is what an animal counts as when the room is gone through. It is never
// told by colour alone: each has a mark, a pattern of line and a word, which the
// caller gives.
type Class uint8

// The classes, in the order in which they are served.
const (
	Resident     Class = iota // a square, a thin line
	LookAgain                 // a ring with a dot, a dotted line
	NearPositive              // a half-filled diamond, a dashed line
	Newcomer                  // a gate, a double line
	Ill                       // a triangle, a thick line
)

// Classes are all of them, in their order.
func Classes() []Class { return []Class{Resident, LookAgain, NearPositive, Newcomer, Ill} }

// Sign is a small drawing for something that is done.
type Sign uint8

// The signs.
const (
	SignOther   Sign = iota // a dot
	SignFeed                // a bowl
	SignWeigh               // a weight
	SignLook                // an eye
	SignCheck               // a glass
	SignMites               // a mite
	SignClean               // a broom
	SignSwab                // a swab
	SignDose                // a syringe
	SignVet                 // a case
	SignShed                // a skin
	SignWater               // a drop
	SignWarmth              // a thermometer
	SignPost                // a parcel
	SignPhone               // a receiver
	SignFound               // a tube with something in it
	SignRelease             // a gate with a way out
	SignClothes             // a shirt
	SignLamp                // a lamp
	SignGauge               // a dial
	SignNote                // a sheet with lines
	SignDay                 // a leaf of a calendar
	SignRoom                // a door ajar
	SignFreezer             // a flake of frost
	SignPhotos              // a camera
)

// Due is something that hangs from the board below a box, because it is to be
// done.
type Due struct {
	Sign   Sign
	Word   string
	Short  string // the word where Word finds no room; empty: as Word
	Urgent Urgency
	Late   bool
	Done   bool // today
}

// Urgency is how urgent something due is. What is urgent hangs before all else and
// keeps its word where others keep a sign alone.
type Urgency uint8

// The urgencies.
const (
	EveryDay Urgency = iota // late or not
	ForVet                  // within days
	Emergency
)

// short is the word where there is little room.
func (d Due) short() string {
	if d.Short == "" {
		return d.Word
	}
	return d.Short
}

// Dweller is an animal in a box.
type Dweller struct {
	Name string
	Coat coil.Coat
}

// State is how a box stands in a walk.
type State uint8

// The states, told by mark and word.
const (
	Resting State = iota // no walk, or not in it
	ToDo                 // a ring
	Overdue              // a half diamond
	Good                 // a tick
	Bad                  // a cross
	Passed               // a bar
)

// Box is one enclosure.
type Box struct {
	Name     string // of the box; shown where nobody lies in it
	Dwellers []Dweller
	Note     string // second line: the last mass, or what the box waits for
	Corner   string // in the upper corner, such as its warmth; may be left out
	Class    Class
	Also     Class // the next one that applies as well, with a mark of its own; Resident: none
	Width    int   // rough, in centimetres; 0: as most
	Dirty    bool  // waits for cleaning
	Loose    bool  // no box at all: an animal that is not housed yet
	Adds     bool  // the place where another box is added
	Due      []Due
	Tip      string // under the pointer

	State State  // in a walk
	Word  string // what became of it
	// Station is its place on the way of the walk, from 1, which is shown as a line along the
	// boards; 0: there is none.
	Station int
}

// Empty reports whether nobody lies in the box.
func (b Box) Empty() bool { return len(b.Dwellers) == 0 }

// Called is what the box is called by those in it, or by its own name.
func (b Box) Called() string {
	switch len(b.Dwellers) {
	case 0:
		return b.Name
	case 1:
		return b.Dwellers[0].Name
	}
	called := b.Dwellers[0].Name
	for _, d := range b.Dwellers[1:] {
		called += ", " + d.Name
	}
	return called
}

// Counts says that a class applies: of all that do, the last two in their order show.
func (b *Box) Counts(c Class) {
	switch {
	case c > b.Class:
		b.Class, b.Also = c, b.Class
	case c < b.Class:
		b.Also = max(b.Also, c)
	}
}

func (b Box) same(c Box) bool {
	return b.Name == c.Name && b.Note == c.Note && b.Corner == c.Corner && b.Class == c.Class && b.Also == c.Also && b.Width == c.Width && b.Dirty == c.Dirty &&
		b.Loose == c.Loose && b.Adds == c.Adds && b.Tip == c.Tip && b.State == c.State && b.Word == c.Word && b.Station == c.Station &&
		slices.Equal(b.Dwellers, c.Dwellers) && slices.Equal(b.Due, c.Due)
}

// Row is one shelf.
type Row struct {
	Room, Name string // Room is said where it differs from the row before
	Boxes      []Box
}

func (r Row) same(s Row) bool {
	return r.Room == s.Room && r.Name == s.Name && slices.EqualFunc(r.Boxes, s.Boxes, Box.same)
}

// At is a box by its row and its number in it.
type At struct{ Row, Box int }

// Words are what the view itself says.
type Words struct {
	Class [5]string // by Class
	Empty string
	Above func(shelves int) string // in a walk: so many more that way
	Below func(shelves int) string
}
