package table

import "coilward/model/care"

// Field is what a column holds. The text is "field." + value; NotTaken is a
// column that is left out.
type Field string

// The fields that say which animal a row is about.
const (
	NotTaken Field = ""
	Name     Field = "name"
	Code     Field = "code"
	Chip     Field = "chip"
	Mark     Field = "mark" // the id that this program wrote for the animal
)

// The fields of an animal.
const (
	Species   Field = "species"
	Sex       Field = "sex"
	SexHow    Field = "sex-how"
	Hatched   Field = "hatched"
	Morph     Field = "morph"
	Origin    Field = "origin"
	Permits   Field = "permits"
	SourceOf  Field = "source"
	From      Field = "from"
	Since     Field = "since"
	SnoutVent Field = "snout-vent"
	Status    Field = "status"
	StatusDay Field = "status-day"
	ChipSite  Field = "chip-site"
	Measured  Field = "measured"  // when the length was taken
	ChipRead  Field = "chip-read" // when the chip was last read
	ChipKind  Field = "chip-standard"
)

// The fields of entries.
const (
	OnDay     Field = "day"
	AtTime    Field = "time"
	Zone      Field = "zone" // the clock that the time was read from
	Remark    Field = "note"
	MassOf    Field = "mass"
	Gut       Field = "gut"
	Prey      Field = "prey"
	PreySize  Field = "prey-size"
	PreyMass  Field = "prey-mass"
	Count     Field = "count"
	PreyState Field = "prey-state"
	Outcome   Field = "outcome"
	BatchOf   Field = "batch" // the batch of feeders of a meal
	BroughtUp Field = "brought-up"
	Skin      Field = "skin"
	EyeCaps   Field = "stuck-eye-caps"
	TailTip   Field = "stuck-tail-tip"
	Faeces    Field = "faeces"
	Urates    Field = "urates"
)

// The fields of stays: an animal in a place, from when to when. The zone of the
// beginning is Zone. What the place stands in may have columns of its own.
const (
	StayRoom     Field = "stay-room"
	StayRack     Field = "stay-rack"
	StayShelf    Field = "stay-shelf"
	StayPlace    Field = "stay-place"
	StayFrom     Field = "stay-from"
	StayFromTime Field = "stay-from-time"
	StayTo       Field = "to"
	StayToTime   Field = "to-time"
	StayToZone   Field = "to-zone"
)

// The fields of samples. A sample has a row for each thing that it is looked
// through for; the rows of one are told by SampleMark, else by the number of the
// kit. Each moment is one cell: the day, the time and the clock.
const (
	SampleMark    Field = "sample"
	Material      Field = "material"
	SampleSite    Field = "sample-site"
	LookedFor     Field = "looked-for"
	SampleOutcome Field = "sample-outcome"
	Method        Field = "method"
	Reported      Field = "reported"
	Report        Field = "report"
	ResultNote    Field = "result-note"
	Corrected     Field = "corrected"
	KitNumber     Field = "kit-number"
	KitLot        Field = "kit-lot"
	KitExpires    Field = "kit-expires"
	PlannedOn     Field = "planned"       // the day for which a plan has laid it out
	PlannedRound  Field = "planned-round" // of the plan, from 1
	PlannedOf     Field = "planned-of"    // how many rounds the plan has
	TakenOn       Field = "taken"
	TakenBy       Field = "taken-by"
	Storage       Field = "storage"
	Posted        Field = "posted"
	Courier       Field = "courier"
	Tracking      Field = "tracking"
	Lab           Field = "lab"
	Arrived       Field = "arrived"
	Void          Field = "void"
	Voided        Field = "voided"
	VoidNote      Field = "void-note"
)

// placeKind is what the words for kinds of place are kept under.
const placeKind Field = "place-kind"

// Listing is what a sheet lists. The text is "movein.lists." + value.
type Listing string

// The listings. NotListed is a sheet that is left out.
const (
	NotListed Listing = ""
	Animals   Listing = "animals"
	Weights   Listing = "weights"
	Meals     Listing = "meals"
	Sheds     Listing = "sheds"
	Wastes    Listing = "wastes"
	Notes     Listing = "notes"
	Stays     Listing = "stays"
	Samples   Listing = "samples"
)

// Listings are what a sheet can list, in the order in which it is offered.
func Listings() []Listing {
	return []Listing{Animals, Weights, Meals, Sheds, Wastes, Notes, Stays, Samples}
}

// kind is the kind of entry that a sheet lists; empty: none.
func (l Listing) kind() string {
	return map[Listing]string{Weights: care.KindWeight, Meals: care.KindMeal, Sheds: care.KindShed, Wastes: care.KindWaste, Notes: care.KindNote}[l]
}

// who are the fields that say which animal it is, and when those of every entry.
func who() []Field  { return []Field{Name, Code, Chip, Mark} }
func when() []Field { return []Field{OnDay, AtTime, Zone, Remark} }

// within are the fields of what a place stands in, outermost first.
func within() []Field { return []Field{StayRoom, StayRack, StayShelf} }

// own are the fields that belong to one listing alone.
func (l Listing) own() []Field {
	switch l {
	case Animals:
		return []Field{Species, Sex, SexHow, Hatched, Morph, Origin, SourceOf, Permits, From, Since, SnoutVent, Measured, ChipKind, ChipSite, ChipRead, Status, StatusDay}
	case Weights:
		return []Field{MassOf, Gut}
	case Meals:
		return []Field{Prey, PreySize, PreyMass, Count, PreyState, Outcome, BroughtUp, BatchOf}
	case Sheds:
		return []Field{Skin, EyeCaps, TailTip}
	case Wastes:
		return []Field{Faeces, Urates}
	case Samples:
		return []Field{SampleMark, Material, SampleSite, LookedFor, SampleOutcome, Method, Reported, Report, ResultNote, Corrected, KitNumber, KitLot, KitExpires,
			PlannedOn, PlannedRound, PlannedOf, TakenOn, TakenBy, Storage, Posted, Courier, Tracking, Lab, Arrived, Void, Voided, VoidNote}
	case Stays:
		return []Field{StayPlace, StayFrom, StayFromTime, Zone, StayTo, StayToTime, StayToZone}
	}
	return nil
}

// Fields are what a column of a sheet can hold that lists this. A list of animals
// may tell one weight of each, and where it lives. Of stays, what is called a box is the place, where
// of others it may be how an animal is called.
func (l Listing) Fields() []Field {
	all := append(who(), l.own()...)
	switch l {
	case NotListed:
		return nil
	case Animals:
		return append(append(append(all, Remark, MassOf, OnDay), within()...), StayPlace, StayFrom)
	case Stays:
		return append(append(append(l.own(), within()...), who()...), Remark)
	case Samples:
		return append(append(l.own(), who()...), Remark)
	}
	return append(all, when()...)
}

// reading is how the text of a field is read.
type reading uint8

const (
	asText reading = iota
	asChip
	asDay  // a day
	asDate // a day, a month or a year
	asTime
	asMass
	asLength
	asCount
	asChoice
	asChoices
)

func (f Field) reading() reading {
	switch f {
	case Chip:
		return asChip
	case OnDay, StayFrom, StayTo, PlannedOn, TakenOn, Posted, Arrived, Reported, Voided:
		return asDay
	case Hatched, Since, StatusDay, Measured, ChipRead, BroughtUp, KitExpires:
		return asDate
	case AtTime, StayFromTime, StayToTime:
		return asTime
	case MassOf, PreyMass:
		return asMass
	case SnoutVent:
		return asLength
	case Count, PlannedRound, PlannedOf:
		return asCount
	case Species, Sex, SexHow, SourceOf, Status, ChipKind, ChipSite, Gut, Prey, PreySize, PreyState, Outcome, Skin, EyeCaps, TailTip, Material, LookedFor, SampleOutcome, Method, Void:
		return asChoice
	case Faeces, Urates:
		return asChoices
	}
	return asText
}

// measured reports whether the field's numbers need a style and a unit.
func (f Field) measured() bool { return f.reading() == asMass || f.reading() == asLength }

// dated reports whether the field's days need a style.
func (f Field) dated() bool { return f.reading() == asDay || f.reading() == asDate }

// usual is the unit of a quantity that stands without one, where no heading says
// otherwise.
func (f Field) usual() string {
	if f.reading() == asLength {
		return "cm"
	}
	return "g"
}
