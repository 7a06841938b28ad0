package exam

import (
	"fmt"

	"coilward/model"
	"coilward/model/body"
	"coilward/model/knowledge"
)

// Look is the answer of one stop: how it was looked at, or why not. Values are
// frozen. Whether a stop is clear is no answer of its own: it is a stop that
// was seen or felt and where nothing stands.
type Look string

// The answers of a stop. An unopened mouth is NotLooked.
const (
	NotYet    Look = ""
	Seen      Look = "seen"
	Felt      Look = "felt"
	NotLooked Look = "not looked"
	LeftToVet Look = "left to the vet"
)

// Looked reports whether the stop was looked at by the keeper.
func (l Look) Looked() bool { return l == Seen || l == Felt }

// Answered is one stop with its answer and the time of it.
type Answered struct {
	Stop knowledge.StopID `json:"stop"`
	Look Look             `json:"look,omitempty"`
	At   model.Moment     `json:"at,omitzero"`
}

// Grade is how bad a finding is.
type Grade uint8

// The grades, slightest first. Ungraded is the zero value and stands nowhere.
const (
	Ungraded Grade = iota
	Slight
	Marked
	Severe
)

func gradeNames() [4]string { return [4]string{"", "slight", "marked", "severe"} }

// String is the grade's frozen id, whose text is "grade." + id.
func (g Grade) String() string {
	if names := gradeNames(); int(g) < len(names) {
		return names[g]
	}
	return fmt.Sprintf("Grade(%d)", uint8(g))
}

// MarshalText writes the grade's id.
func (g Grade) MarshalText() ([]byte, error) {
	if g > Severe {
		return nil, fmt.Errorf("write grade %d: there is none such", uint8(g))
	}
	return []byte(g.String()), nil
}

// UnmarshalText reads a grade's id.
func (g *Grade) UnmarshalText(text []byte) error {
	for i, name := range gradeNames() {
		if name == string(text) {
			*g = Grade(i)
			return nil
		}
	}
	return fmt.Errorf("read grade %q: want slight, marked or severe", text)
}

// Standing is how a finding stands against the last look at it. Values are
// frozen; the text is "standing." + id.
type Standing string

// The standings. Unasked is an earlier finding that this check did not answer.
const (
	Unasked  Standing = ""
	New      Standing = "new"
	Same     Standing = "same"
	Better   Standing = "better"
	Worse    Standing = "worse"
	Gone     Standing = "gone"
	CameBack Standing = "came-back"
	// Closed is no look of the keeper's: a vet has said that it is done with.
	Closed Standing = "closed"
)

// Present reports whether a finding that stands so is there.
func (s Standing) Present() bool { return s != Gone && s != Closed }

// Finding is one thing noted in a check.
type Finding struct {
	Problem  model.ProblemID     `json:"problem,omitzero"` // the chain it belongs to; none: a new one
	Standing Standing            `json:"standing"`         // New or CameBack
	Stop     knowledge.StopID    `json:"stop"`
	What     knowledge.FindingID `json:"what"`
	// Place is where it is; the zero Place is the whole animal.
	Place    body.Place      `json:"place"`
	Rough    bool            `json:"rough,omitempty"` // nobody pointed: Place is only the stop's own
	Grade    Grade           `json:"grade"`
	Size     model.Length    `json:"size,omitzero"` // the longest way across; zero: not measured
	Note     string          `json:"note,omitempty"`
	Photos   []model.PhotoID `json:"photos,omitempty"`
	Baseline bool            `json:"baseline,omitempty"` // this animal's own since it is known
	Differs  bool            `json:"differs,omitempty"`  // looks unlike this animal's own earlier photo
	Old      bool            `json:"old,omitempty"`      // known not to be fresh
	Sheds    int             `json:"sheds,omitempty"`    // sheds that it has outlasted or come back with; 0 is one
	At       model.Moment    `json:"at"`
	VetBy    model.Day       `json:"vetBy,omitzero"` // as set on before: CameBack as in Earlier, or by an everyday entry
}

// Is reports whether two findings of one walk are the same one, whatever was said
// of it since.
func (f Finding) Is(other Finding) bool {
	return f.Stop == other.Stop && f.What == other.What && f.At == other.At
}

// Earlier is an open finding of an earlier check, with its answer in this one.
type Earlier struct {
	Problem  model.ProblemID     `json:"problem"`
	Stop     knowledge.StopID    `json:"stop"`
	What     knowledge.FindingID `json:"what"`
	Baseline bool                `json:"baseline,omitempty"`
	Since    model.Moment        `json:"since"`              // the first look at it
	Before   Glimpse             `json:"before"`             // the last look before this check
	Now      Glimpse             `json:"now"`                // Standing Unasked: not answered
	Sheds    int                 `json:"sheds,omitempty"`    // sheds that it has outlasted so far
	Worsened bool                `json:"worsened,omitempty"` // worse at an earlier look, and not better since
	// WorsenedAgain is worse at two earlier looks or more, and not better since.
	WorsenedAgain bool `json:"worsenedAgain,omitempty"`
	// VetBy is the day by which a vet was to see it when this check began; zero:
	// none was set. A later look puts it off no more.
	VetBy model.Day `json:"vetBy,omitzero"`
}

// Glimpse is one look at a problem.
type Glimpse struct {
	Check    model.EntryID   `json:"check,omitzero"` // none: not in a check
	At       model.Moment    `json:"at,omitzero"`
	Standing Standing        `json:"standing,omitempty"`
	Grade    Grade           `json:"grade,omitempty"`
	Place    body.Place      `json:"place"`
	Rough    bool            `json:"rough,omitempty"` // nobody pointed: Place is only the stop's own
	Size     model.Length    `json:"size,omitzero"`
	Note     string          `json:"note,omitempty"`
	Photos   []model.PhotoID `json:"photos,omitempty"`
	Differs  bool            `json:"differs,omitempty"`
	Old      bool            `json:"old,omitempty"`
}

// Problem is the chain of one thing over the checks.
type Problem struct {
	Stop     knowledge.StopID    `json:"stop"`
	What     knowledge.FindingID `json:"what"`
	Baseline bool                `json:"baseline,omitempty"`
	Word     string              `json:"word,omitempty"` // since when it is the animal's own, or which vet said so
	Glimpses []Glimpse           `json:"glimpses"`       // oldest first, at least one
}

// Last is the latest look at the problem.
func (p Problem) Last() Glimpse { return p.Glimpses[len(p.Glimpses)-1] }

// First is the earliest look at the problem.
func (p Problem) First() Glimpse { return p.Glimpses[0] }

// Open reports whether the problem was there at the last look.
func (p Problem) Open() bool { return p.Last().Standing.Present() }

// Worsened reports whether the problem was worse at some look and has been no
// better since: what is an animal's own is quiet no longer then.
func (p Problem) Worsened() bool { return p.worsenings() > 0 }

// worsenings is how many times the problem was worse since it was last new,
// better or back.
func (p Problem) worsenings() int {
	n := 0
	for i := len(p.Glimpses) - 1; i >= 0; i-- {
		switch p.Glimpses[i].Standing {
		case Same:
		case Worse:
			n++
		default:
			return n
		}
	}
	return n
}

// Steady reports whether a later check has seen the problem the same, and it was
// no worse since.
func (p Problem) Steady() bool {
	return len(p.Glimpses) > 1 && p.Last().Standing == Same && !p.Worsened()
}

// kept is how many sheds the problem has outlasted or come back with: it counts
// one for each time it came, and one for each shed while it was there.
func (p Problem) kept(sheds []model.Moment) int {
	n := len(p.arrivals())
	for _, shed := range sheds {
		for i, g := range p.Glimpses {
			if g.Standing.Present() && g.At.Before(shed) && (i+1 == len(p.Glimpses) || !p.Glimpses[i+1].At.Before(shed)) {
				n++
			}
		}
	}
	return n
}

// StoredProblem is a problem with the id it is kept under.
type StoredProblem struct {
	ID model.ProblemID
	Problem
}

// ShedPhase is where the animal is in its shed. Values are frozen.
type ShedPhase string

// The shed phases.
const (
	ShedUnknown ShedPhase = ""
	ShedNone    ShedPhase = "none"
	ShedBefore  ShedPhase = "before" // dull, eyes opaque or just cleared
)

// Age is the age class. Values are frozen.
type Age string

// The age classes.
const (
	AgeUnknown Age = ""
	Hatchling  Age = "hatchling"
	Juvenile   Age = "juvenile"
	Subadult   Age = "subadult"
	Adult      Age = "adult"
)

// Context is what the rules must know beside the findings. It is given, not
// found: from the animal's own records, or as the keeper says. Its zero value
// is "nothing known", which every rule takes the careful way.
type Context struct {
	Shed         ShedPhase         `json:"shed,omitempty"`
	LastMeal     model.Moment      `json:"lastMeal,omitzero"` // the last meal taken
	Gravid       bool              `json:"gravid,omitempty"`
	Temperature  model.Temperature `json:"temperature,omitzero"` // of the body, as measured; zero: not measured
	Age          Age               `json:"age,omitempty"`
	Mass         model.Mass        `json:"mass,omitzero"`
	LosingWeight bool              `json:"losingWeight,omitempty"`
	// Regurgitations are the moments of earlier ones, this check's left out.
	Regurgitations []model.Moment `json:"regurgitations,omitempty"`
}

// Sign is a finding as the rules see it.
type Sign struct {
	Stop     knowledge.StopID    `json:"stop"`
	What     knowledge.FindingID `json:"what"`
	Grade    Grade               `json:"grade"`
	Standing Standing            `json:"standing"`
	Baseline bool                `json:"baseline,omitempty"`
	Differs  bool                `json:"differs,omitempty"`
	Sheds    int                 `json:"sheds,omitempty"`    // sheds that it has outlasted
	Old      bool                `json:"old,omitempty"`      // known not to be fresh
	Worsened bool                `json:"worsened,omitempty"` // worse at an earlier look, and not better since
	// WorseAgain is worse once more after it was worse, and no better since.
	WorseAgain bool            `json:"worseAgain,omitempty"`
	Place      body.Place      `json:"place"`
	Rough      bool            `json:"rough,omitempty"` // nobody pointed: Place is only the stop's own
	Problem    model.ProblemID `json:"problem,omitzero"`
	Seen       model.Day       `json:"seen"` // when it was last looked at
	// VetBy is the day by which a vet was to see it already; zero: none was set.
	VetBy model.Day `json:"vetBy,omitzero"`
}

// Facts are all that a verdict rests on.
type Facts struct {
	At      model.Moment
	Signs   []Sign
	Context Context
}

// Verdict is what the tables say about the facts.
type Verdict struct {
	Level   knowledge.Level `json:"level,omitempty"`
	Reasons []Reason        `json:"reasons,omitempty"` // most urgent first
	Signs   []Sign          `json:"signs,omitempty"`   // what the reasons point into
	Day     model.Day       `json:"day"`
	// VetWithin is how many days "vet within days" was when this was said.
	VetWithin int    `json:"vetWithin"`
	Tables    string `json:"tables"` // hash of the tables that said so
}

// Reason is one rule that matched.
type Reason struct {
	Rule    knowledge.RuleID `json:"rule"`
	Level   knowledge.Level  `json:"level"`
	Signs   []int            `json:"signs"` // indexes into Verdict.Signs
	Again   int              `json:"again,omitempty"`
	Today   bool             `json:"today,omitempty"` // look again on the very day
	IfWorse knowledge.Level  `json:"ifWorse,omitempty"`
	// Worsened is that the level is what the rule says if it gets worse, since it
	// did.
	Worsened bool `json:"worsened,omitempty"`
	// Assumed are the numbers behind the level that are a choice of this program.
	Assumed []knowledge.ValueID `json:"assumed,omitempty"`
	Isolate bool                `json:"isolate,omitempty"`
	Source  string              `json:"source"`
}

// Obligation is something that a check makes due.
type Obligation struct {
	Kind  ObligationKind `json:"kind"`
	By    model.Day      `json:"by"`
	Signs []int          `json:"signs,omitempty"` // indexes into Verdict.Signs
}

// ObligationKind tells what is due. Values are frozen; the text is "due." + id.
type ObligationKind string

// The kinds of obligation.
const (
	SeeVet    ObligationKind = "see-vet"
	LookThere ObligationKind = "look-again"
)

// Walk is what was answered and noted on the way along one animal.
type Walk struct {
	Begun    model.Moment `json:"begun"`
	Stops    []Answered   `json:"stops"` // in the order of the walk
	Findings []Finding    `json:"findings,omitempty"`
	Earlier  []Earlier    `json:"earlier,omitempty"` // every problem that was open before
	Context  Context      `json:"context"`
	Note     string       `json:"note,omitempty"`
}

// Check is the body of an entry of kind "check": a finished walk and what the
// tables of that day said about it.
type Check struct {
	Walk
	Finished model.Moment `json:"finished"`
	Verdict  Verdict      `json:"verdict"`
}

// The frozen names under which checks and problems are kept.
const (
	KindCheck      = "check"
	CheckVersion   = 2 // 1 knew no day that was set on for the vet, and not which places nobody pointed to
	ProblemVersion = 1
)

// Extent is how much a check says about the whole animal. The text is
// "extent." + id.
type Extent string

// The extents.
const (
	// BriefLook is a check without a finding that was finished too soon to be
	// one, whatever its stops say.
	BriefLook Extent = "brief"
	// PartCheck leaves at least one stop not looked at.
	PartCheck Extent = "part"
	// FullCheck has every stop seen, felt or left to the vet.
	FullCheck Extent = "full"
)
