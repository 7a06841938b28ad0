package model

import "strings"

// View reads one unchanging state of a collection. It is valid only inside the
// call it was given to.
type View interface {
	// Sequence counts the changes made so far.
	Sequence() uint64
	// Now is the present moment by the collection's clock.
	Now() Moment
	// NewID makes an id for a new document.
	NewID() ID
	// Document is the present revision, or ErrNotFound (removed ones too).
	Document(id ID) (Document, error)
	// Revisions are all revisions ever written, oldest first.
	Revisions(id ID) ([]Document, error)
	// All visits the present documents of a type by id until visit returns false.
	All(t DocumentType, visit func(Document) bool) error
	// Timeline visits the present documents about a subject with
	// from <= At.UTC < to, newest first (ties: newest id first), until visit
	// returns false. Documents that are subjects themselves (animals,
	// persons, places, tools, instruments) are not on timelines.
	Timeline(s Subject, from, to int64, visit func(Document) bool) error
}

// The widest span of a timeline, in seconds since 1970.
const (
	Beginning int64 = -1 << 62
	EndOfTime int64 = 1 << 62
)

// Command is one thing a person does to a collection, as a plain value. Plan
// turns it into writes from what the view shows; it changes nothing itself,
// asks no clock but v.Now and makes no id but v.NewID.
type Command interface {
	// Name is frozen and unique, such as "care.weigh": it stands in the journal.
	Name() string
	// Plan fails with a *Refusal where what was entered cannot stand.
	Plan(v View) (Writes, error)
}

// Writes is what a command wants to change, all of it or nothing.
type Writes struct {
	// Put holds new documents (Revision 0) and changed ones (Revision = the one
	// the change is based on; another present revision is an ErrConflict).
	Put []Document
	// Remove takes documents out of the present state; their revisions stay.
	Remove []ID
	// Label says what was done, for the undo bar and the journal.
	Label Label
}

// Label is a text by key with its gaps, to be worded later in any language.
type Label struct {
	Key  string         `json:"key"`
	Gaps map[string]Gap `json:"gaps,omitempty"`
}

// Gap is one value that a text names.
type Gap struct {
	Kind   GapKind `json:"kind"`
	Text   string  `json:"text,omitempty"`
	Number int64   `json:"n,omitempty"`
}

// GapKind tells how a gap is written out. Values are frozen.
type GapKind string

// The kinds of gap.
const (
	GapText   GapKind = "text"   // Text as it is: a name, what was typed
	GapKey    GapKind = "key"    // Text is itself a key of the catalogue
	GapKeys   GapKind = "keys"   // Text is keys of the catalogue with a space between, written out one after the other
	GapMass   GapKind = "mass"   // Number is milligrams
	GapLength GapKind = "length" // Number is tenths of a millimetre
	GapDay    GapKind = "day"    // Number is a Day
	GapCount  GapKind = "count"  // Number as it is
	GapShare  GapKind = "share"  // Number is hundredths of a percent

	GapTemperature GapKind = "temperature" // Number is hundredths of a degree Celsius
)

// TextGap is a gap filled with s as it is.
func TextGap(s string) Gap { return Gap{Kind: GapText, Text: s} }

// KeyGap is a gap filled with another text of the catalogue.
func KeyGap(key string) Gap { return Gap{Kind: GapKey, Text: key} }

// KeysGap is a gap filled with other texts of the catalogue, one after the other.
func KeysGap(keys ...string) Gap { return Gap{Kind: GapKeys, Text: strings.Join(keys, " ")} }

// MassGap is a gap filled with a mass.
func MassGap(m Mass) Gap { return Gap{Kind: GapMass, Number: m.Milligrams} }

// LengthGap is a gap filled with a length.
func LengthGap(l Length) Gap { return Gap{Kind: GapLength, Number: l.Tenths} }

// DayGap is a gap filled with a day.
func DayGap(d Day) Gap { return Gap{Kind: GapDay, Number: int64(d)} }

// ShareGap is a gap filled with a share in hundredths of a percent.
func ShareGap(hundredths int) Gap { return Gap{Kind: GapShare, Number: int64(hundredths)} }

// TemperatureGap is a gap filled with a temperature in hundredths of a degree Celsius.
func TemperatureGap(hundredths int64) Gap { return Gap{Kind: GapTemperature, Number: hundredths} }

// CountGap is a gap filled with a number.
func CountGap(n int) Gap { return Gap{Kind: GapCount, Number: int64(n)} }

// Answer is what a person may do about a refusal.
type Answer string

// The answers to a refusal.
const (
	// Mend: it cannot stand; something else must be entered.
	Mend Answer = "mend"
	// Confirm: it may be right; saying so is enough.
	Confirm Answer = "confirm"
	// Deliberate: it may be right, but an animal may come to harm if it is not; saying so is
	// enough, but not by the key that says yes to other questions.
	Deliberate Answer = "deliberate"
	// TypeAgain: it may be right, but must be typed a second time.
	TypeAgain Answer = "type again"
)

// Refusal is the error of an entry that cannot stand as it is: which field,
// which value, why and what to do, by keys of the catalogue ("field." + Field,
// "refusal." + Reason). The screen shows it at the field and keeps what was typed.
type Refusal struct {
	Field  string // such as "mass", "chip", "day"
	Value  string // as typed
	Reason string // such as "mass.zero"
	Gaps   map[string]Gap
	Answer Answer
}

// Error is the refusal in terms of its keys, for logs; people are shown its text.
func (r *Refusal) Error() string {
	return "field " + r.Field + ", value " + r.Value + ": " + r.Reason
}
