package care

import (
	"fmt"

	"coilward/model"
	"coilward/model/knowledge"
)

// The kinds of entry. Values are frozen; the text is "kind." + value.
const (
	KindWeight = "weight"
	KindMeal   = "meal"
	KindShed   = "shed"
	KindWaste  = "waste" // faeces and urates
	KindNote   = "note"
	KindPhoto  = "photo"
)

// Version is the newest form of any body of this package. The second form of a
// weight names the scale; a weight without one keeps the first.
// The third form of photos names the pose, the finding and who said when.
// The fourth form of a meal names its batch.
const Version = 4

// version is the form in which a body is written: the oldest that holds all of it.
func version(b Body) int {
	if m, ok := b.(Meal); ok && !m.Batch.IsZero() {
		return 4
	}
	if p, ok := b.(Photo); ok && (p.Pose != "" || !p.Problem.IsZero() || p.Dated != "") {
		return 3
	}
	if w, ok := b.(Weight); ok && !w.With.IsZero() {
		return 2
	}
	return 1
}

// Kinds are the kinds of entry of this package that the animal's page offers to
// note, in order.
func Kinds() []string {
	return []string{KindWeight, KindMeal, KindBlue, KindShed, KindWaste, KindClutch, KindMiteLook, KindMiteTreatment, KindBath, KindFluids, KindNote, KindPhoto}
}

// Body is what an entry says: one of Weight, Meal, Shed, Waste, Note, Photo, MiteLook,
// MiteTreatment, Blue, Clutch, Bath, Fluids.
type Body interface {
	// Kind is the entry's kind.
	Kind() string
	check() *model.Refusal
	note() string
	photos() []model.PhotoID
}

// Beside is what every entry may carry beside what it is about.
type Beside struct {
	Note   string          `json:"note,omitempty"`
	Photos []model.PhotoID `json:"photos,omitempty"`
}

func (b Beside) note() string            { return b.Note }
func (b Beside) photos() []model.PhotoID { return b.Photos }

// Weight is one weighing.
type Weight struct {
	Mass model.Mass `json:"mass"`
	Gut  Gut        `json:"gut,omitempty"`
	// With is the scale, zero where it is not said.
	With model.InstrumentID `json:"with,omitzero"`
	Beside
}

// Gut tells what the animal carried when it was weighed. Values are frozen; the
// text is "care.gut." + value, and "care.gut.unknown" of the zero value.
type Gut string

// The states of the gut at a weighing. Two weights can be compared when both
// were taken with an empty gut or just before a feeding of the usual rhythm.
const (
	GutUnknown    Gut = ""
	GutEmpty      Gut = "empty"
	GutBeforeMeal Gut = "before-meal"
	GutFed        Gut = "fed"
)

// Guts are the states in the order in which they are offered.
func Guts() []Gut { return []Gut{GutEmpty, GutBeforeMeal, GutFed} }

// Comparable reports whether the weight can stand in a trend.
func (w Weight) Comparable() bool { return w.Gut == GutEmpty || w.Gut == GutBeforeMeal }

// Kind is KindWeight.
func (Weight) Kind() string { return KindWeight }

// Meal is one offer of prey and what became of it.
type Meal struct {
	Prey    Prey       `json:"prey,omitempty"`
	Size    PreySize   `json:"size,omitempty"`
	Each    model.Mass `json:"each,omitzero"`   // of one prey item
	Count   int        `json:"count,omitempty"` // items; 0 is not said
	State   PreyState  `json:"state,omitempty"`
	Outcome Outcome    `json:"outcome"`
	// Batch is the batch of feeders that it was of, zero where it is not said.
	Batch model.BatchID `json:"batch,omitzero"`
	// BroughtUp is the day on which it was regurgitated; only of Regurgitated.
	BroughtUp model.Date `json:"broughtUp,omitzero"`
	Beside
}

// Kind is KindMeal.
func (Meal) Kind() string { return KindMeal }

// Total is the mass of all items together, zero if not known.
func (m Meal) Total() model.Mass {
	return model.Mass{Milligrams: m.Each.Milligrams * int64(max(m.Count, 1))}
}

// Prey is a kind of prey. Values are frozen; the text is "care.prey." + value.
type Prey string

// The kinds of prey.
const (
	Mouse      Prey = "mouse"
	Rat        Prey = "rat"
	SoftFurred Prey = "soft-furred-rat" // multimammate mouse, as the trade calls it
	Gerbil     Prey = "gerbil"
	Hamster    Prey = "hamster"
	GuineaPig  Prey = "guinea-pig"
	Rabbit     Prey = "rabbit"
	Chick      Prey = "chick"
	Quail      Prey = "quail"
	OtherPrey  Prey = "other"
)

// Preys are the kinds of prey in the order in which they are offered.
func Preys() []Prey {
	return []Prey{Mouse, Rat, SoftFurred, Gerbil, Hamster, GuineaPig, Rabbit, Chick, Quail, OtherPrey}
}

// PreySize is the trade's size word for a rodent. Values are frozen; the text is
// "care.prey-size." + value.
type PreySize string

// The sizes, smallest first.
const (
	SizeUnsaid PreySize = ""
	Pinky      PreySize = "pinky"
	Fuzzy      PreySize = "fuzzy"
	Hopper     PreySize = "hopper"
	Weaner     PreySize = "weaner"
	SmallAdult PreySize = "small"
	Medium     PreySize = "medium"
	Large      PreySize = "large"
)

// PreySizes are the sizes in the order in which they are offered.
func PreySizes() []PreySize {
	return []PreySize{Pinky, Fuzzy, Hopper, Weaner, SmallAdult, Medium, Large}
}

// PreyState is how the prey was offered. Values are frozen; the text is
// "care.prey-state." + value.
type PreyState string

// The states. Live prey can hurt a snake badly; the form says so.
const (
	StateUnsaid PreyState = ""
	Thawed      PreyState = "thawed"
	Fresh       PreyState = "fresh"
	Live        PreyState = "live"
)

// PreyStates are the states in the order in which they are offered.
func PreyStates() []PreyState { return []PreyState{Thawed, Fresh, Live} }

// Outcome is what became of a meal. Values are frozen; the text is
// "care.outcome." + value.
type Outcome string

// The outcomes.
const (
	Took         Outcome = "took"
	Refused      Outcome = "refused"
	Regurgitated Outcome = "regurgitated"
)

// Outcomes are all outcomes in the order in which they are offered.
func Outcomes() []Outcome { return []Outcome{Took, Refused, Regurgitated} }

// Shed is one shed skin, looked at or not.
type Shed struct {
	Skin Skin `json:"skin,omitempty"`
	// StuckEyeCaps and StuckTailTip say whether old skin stayed there.
	StuckEyeCaps Told `json:"stuckEyeCaps,omitempty"`
	StuckTailTip Told `json:"stuckTailTip,omitempty"`
	Beside
}

// Kind is KindShed.
func (Shed) Kind() string { return KindShed }

// Skin is how a shed skin came off. Values are frozen; the text is
// "care.skin." + value, and "care.skin.unknown" of the zero value.
type Skin string

// The ways a skin came off.
const (
	SkinNotLooked Skin = ""
	Whole         Skin = "whole"
	InPieces      Skin = "pieces"
)

// Told is the answer to a question that may not have been looked into. Values
// are frozen; the text is "care.told." + value, and "care.told.unknown" of the
// zero value.
type Told string

// The answers.
const (
	NotLooked Told = ""
	Yes       Told = "yes"
	No        Told = "no"
)

// Waste is what was seen of faeces and urates.
type Waste struct {
	Faeces []Trait `json:"faeces,omitempty"`
	Urates []Trait `json:"urates,omitempty"`
	Beside
}

// Kind is KindWaste.
func (Waste) Kind() string { return KindWaste }

// Trait is one thing seen of faeces or urates. Values are frozen; the texts are
// "care.faeces." and "care.urates." + value.
type Trait string

// What can be seen. NoneSeen stands alone.
const (
	NoneSeen  Trait = "none"
	Formed    Trait = "formed"
	Soft      Trait = "soft"
	Watery    Trait = "watery"
	Blood     Trait = "blood"
	Mucus     Trait = "mucus"
	Worms     Trait = "worms"
	RawPrey   Trait = "undigested"
	White     Trait = "white"
	Cream     Trait = "cream"
	Yellow    Trait = "yellow"
	Green     Trait = "green"
	HardLumps Trait = "hard"
	Gritty    Trait = "gritty" // orange, pink or like grit
)

// FaecesTraits and UratesTraits are what can be seen of each, in the order in
// which it is offered.
func FaecesTraits() []Trait {
	return []Trait{Formed, Soft, Watery, Blood, Mucus, Worms, RawPrey, NoneSeen}
}

// UratesTraits are what can be seen of urates.
func UratesTraits() []Trait {
	return []Trait{White, Cream, Yellow, Gritty, HardLumps, Green, Blood, NoneSeen}
}

// Note is words alone.
type Note struct {
	Text   string          `json:"text"`
	Photos []model.PhotoID `json:"photos,omitempty"`
}

// Kind is KindNote.
func (Note) Kind() string              { return KindNote }
func (n Note) note() string            { return n.Text }
func (n Note) photos() []model.PhotoID { return n.Photos }

// Photo is pictures with a caption.
type Photo struct {
	Photos  []model.PhotoID `json:"photos"`
	Caption string          `json:"caption,omitempty"`
	// Pose is the standard pose that the animal is in; none where it is in no such.
	Pose knowledge.PoseID `json:"pose,omitempty"`
	// Problem is the finding that the pictures show; zero: none.
	Problem model.ProblemID `json:"problem,omitzero"`
	Dated   Dated           `json:"dated,omitempty"`
}

// Dated tells who says when a photo was taken. Values are frozen; the text is
// "photos.dated." + value.
type Dated string

// Who says when a photo was taken.
const (
	ByKeeper Dated = ""
	ByCamera Dated = "camera" // the clock of the camera, in the photo's EXIF
	ByFile   Dated = "file"   // the time of its file, which the keeper agreed to
)

// Kind is KindPhoto.
func (Photo) Kind() string              { return KindPhoto }
func (p Photo) note() string            { return p.Caption }
func (p Photo) photos() []model.PhotoID { return p.Photos }

// Entry is one entry of this package with its header.
type Entry struct {
	ID       model.EntryID
	Revision uint32
	Animal   model.AnimalID
	At       model.Moment
	By       model.PersonID
	Written  model.Moment
	Body     Body
}

// Decode reads an entry of one of this package's kinds. ok is false, without an
// error, for a document of another kind.
func Decode(d model.Document) (e Entry, ok bool, err error) {
	read := map[string]func(model.Document) (Body, error){
		KindWeight: decode[Weight], KindMeal: decode[Meal], KindShed: decode[Shed],
		KindWaste: decode[Waste], KindNote: decode[Note], KindPhoto: decode[Photo], KindMiteLook: decode[MiteLook],
		KindMiteTreatment: decode[MiteTreatment], KindBlue: decode[Blue], KindClutch: decode[Clutch], KindBath: decode[Bath], KindFluids: decode[Fluids],
	}[d.Kind]
	if d.Type != model.TypeEntry || read == nil {
		return Entry{}, false, nil
	}
	animal, _ := d.Animal()
	e = Entry{ID: model.EntryID{ID: d.ID}, Revision: d.Revision, Animal: animal, At: d.At, By: d.By, Written: d.Written}
	e.Body, err = read(d)
	return e, true, err
}

func decode[B Body](d model.Document) (Body, error) {
	var b B
	err := d.Decode(Version, &b)
	return b, err
}

// DecodeWeight reads an entry of kind "weight".
func DecodeWeight(d model.Document) (Weight, error) { return decodeAs[Weight](d) }

// DecodeMeal reads an entry of kind "meal".
func DecodeMeal(d model.Document) (Meal, error) { return decodeAs[Meal](d) }

// DecodeShed reads an entry of kind "shed".
func DecodeShed(d model.Document) (Shed, error) { return decodeAs[Shed](d) }

// DecodeWaste reads an entry of kind "waste".
func DecodeWaste(d model.Document) (Waste, error) { return decodeAs[Waste](d) }

// DecodeNote reads an entry of kind "note".
func DecodeNote(d model.Document) (Note, error) { return decodeAs[Note](d) }

// DecodePhoto reads an entry of kind "photo".
func DecodePhoto(d model.Document) (Photo, error) { return decodeAs[Photo](d) }

// DecodeMiteLook reads an entry of kind "mite-look".
func DecodeMiteLook(d model.Document) (MiteLook, error) { return decodeAs[MiteLook](d) }

func decodeAs[B Body](d model.Document) (B, error) {
	var b B
	if d.Kind != b.Kind() {
		return b, fmt.Errorf("read entry %s as %s: it is of kind %q", d.ID, b.Kind(), d.Kind)
	}
	return b, d.Decode(Version, &b)
}
