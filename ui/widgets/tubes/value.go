// Package tubes shows samples as tubes that lie along a line of days, a band for
// each stage from the kit to the result: the further right, the longer in its
// stage. Values go in, callbacks come out.
package tubes

// Sign is what is told of a tube by a mark of its own outline, beside words and
// colour.
type Sign uint8

// The signs.
const (
	OnWay    Sign = iota // none
	Late                 // a diamond
	Found                // a triangle
	NotFound             // a ring
	NoAnswer             // a ring with a dash
	Ahead                // none; its time has not come
)

// Tube is one sample.
type Tube struct {
	Key    string // tells it from all others
	Name   string // whom it is of
	Line   string // how it stands, in few words
	Act    string // what is to be done with it next, as a verb; empty: nothing
	Tip    string
	Sign   Sign
	Days   int // how long it has been in its stage, or of one ahead how long until then
	Mark   int // the days after which it is late; 0: it is never
	Chosen bool
}

// Band is one stage.
type Band struct {
	Title, Below string
	// Mark is after how many days most of its tubes are late, 0: never; MarkSaid says
	// what the mark stands for. A tube with another mark shows its own.
	Mark     int
	MarkSaid string
	Note     string // what holds for its tubes; empty: nothing is said
	Tubes    []Tube
}

// Words are what the tray says by itself.
type Words struct {
	Days   func(n int) string // "3 days", at the line's beginning
	Many   func(n int) string // "8 samples", of tubes that are folded into one
	Choose string             // what the cap of a tube is pressed for
}

// slot is a tube that is shown, or several that are folded into one.
type slot struct {
	Tube
	band, lane int
	keys       []string
	x, y, w    float32
	actX, actW float32 // the verb; 0: it has none, or no room for it
}

// holds reports whether a sample is in the slot.
func (s slot) holds(key string) bool {
	for _, k := range s.keys {
		if k == key {
			return true
		}
	}
	return false
}
