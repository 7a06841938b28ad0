package knowledge

// MeansID names a means of cleaning or disinfection by its chemical class and
// strength. Its text is "means." + id.
type MeansID string

// TargetID names what a means is to work on, such as mites. Its text is
// "target." + id.
type TargetID string

// Means is one means of cleaning.
type Means struct {
	ID     MeansID
	Class  MeansClass
	Source string
}

// MeansClass is what a means is chemically, as far as it matters for what it
// must never be mixed with. Values are frozen.
type MeansClass string

// The classes.
const (
	Chlorine MeansClass = "chlorine" // gives off poisonous gas with ammonia and with acids
	Ammonia  MeansClass = "ammonia"
	Acid     MeansClass = "acid"
	OtherUse MeansClass = "other"
)

// Target is one thing that a means may be used against.
type Target struct {
	ID     TargetID
	Source string
}

// Effect is one row of what a means does against a target.
type Effect struct {
	Means  MeansID
	Target TargetID
	Works  Works
	// Minutes is the contact time of the source: at least so long where it
	// works; where it does not, how long was tried. 0: not given.
	Minutes int
	Source  string
}

// Works is whether a means works. Values are frozen.
type Works string

// The answers.
const (
	FullyWorks  Works = "yes"
	PartlyWorks Works = "partly"
	NotWorks    Works = "no"
)
