package samples

import (
	"fmt"
	"slices"

	"coilward/model"
	"coilward/model/knowledge"
)

// Version is the newest form of a sample's body. The first knew no method of a result, the
// second no plan.
const Version = 3

// Sample is the body of a sample's document. The animals stand in its header,
// more than one where it is pooled. Its document's At is when it was taken;
// before that, when it was prepared.
type Sample struct {
	Kit      Kit                  `json:"kit,omitzero"`
	Material knowledge.MaterialID `json:"material"`
	Site     string               `json:"site,omitempty"` // where on the animal, in words
	For      []knowledge.AgentID  `json:"for"`            // what it is looked through for
	Taken    model.Moment         `json:"taken,omitzero"`
	TakenBy  model.PersonID       `json:"takenBy,omitzero"`
	Storage  string               `json:"storage,omitempty"` // how it was kept, in words
	Posted   model.Moment         `json:"posted,omitzero"`
	Courier  string               `json:"courier,omitempty"`
	Tracking string               `json:"tracking,omitempty"` // the courier's number
	Lab      model.PersonID       `json:"lab,omitzero"`
	Arrived  model.Moment         `json:"arrived,omitzero"` // at the lab
	Asked    []Asked              `json:"asked,omitempty"`  // the lab, in the order in which it was asked
	Void     *Void                `json:"void,omitempty"`
	Results  []Result             `json:"results,omitempty"` // in the order in which they were entered
	Note     string               `json:"note,omitempty"`
	Planned  *Planned             `json:"planned,omitempty"` // nil: for no plan
}

// Kit is what the sample is taken with.
type Kit struct {
	Number  string     `json:"number,omitempty"` // on its tube
	Lot     string     `json:"lot,omitempty"`
	Expires model.Date `json:"expires,omitzero"`
}

// Asked says that the lab was asked where the results are.
type Asked struct {
	At   model.Moment   `json:"at"`
	By   model.PersonID `json:"by,omitzero"`
	Note string         `json:"note,omitempty"`
}

// Void says that a sample never gave a result.
type Void struct {
	At   model.Moment `json:"at"`
	Why  Why          `json:"why"`
	Note string       `json:"note,omitempty"`
}

// Why is why a sample gives no result. Values are frozen; the text is
// "samples.why." + value.
type Why string

// Why a sample gives no result.
const (
	Lost    Why = "lost"
	Expired Why = "expired"
	Spoiled Why = "spoiled"
	Refused Why = "refused" // by the lab
)

// Whys are all of them, in the order in which they are offered.
func Whys() []Why { return []Why{Lost, Expired, Spoiled, Refused} }

// Result is what a lab said of one thing. The last one of a thing counts; those
// before it were corrected and are kept.
type Result struct {
	Of      knowledge.AgentID `json:"of"`
	Outcome Outcome           `json:"outcome"`
	Method  knowledge.Method  `json:"method,omitempty"` // by which the lab looked; empty: the usual one of the material
	At      model.Moment      `json:"at"`               // when the lab reported it
	Report  string            `json:"report,omitempty"` // the report's number
	Photos  []model.PhotoID   `json:"photos,omitempty"` // of the report
	Note    string            `json:"note,omitempty"`
	// Why is why an earlier result of the same thing was corrected.
	Why string `json:"why,omitempty"`
}

// Outcome is what was found of one thing. Values are frozen; the text is
// "samples.outcome." + value.
type Outcome string

// The outcomes. Pending is no result and is never stored.
const (
	Pending      Outcome = ""
	Detected     Outcome = "detected"
	NotDetected  Outcome = "not-detected"
	Inconclusive Outcome = "inconclusive"
	Inhibited    Outcome = "inhibited" // the test failed on what was in the sample
	NotDone      Outcome = "not-done"
)

// Outcomes are those that a lab can report, in the order in which they are
// offered.
func Outcomes() []Outcome { return []Outcome{Detected, NotDetected, Inconclusive, Inhibited, NotDone} }

// Stage is how far a sample came. Values are frozen; the text is
// "samples.stage." + value.
type Stage string

// The stages, in their order; Voided ends every one of them but the last.
const (
	ToTake   Stage = "to-take"
	Taken    Stage = "taken"
	Sent     Stage = "sent"
	AtLab    Stage = "at-lab"
	Reported Stage = "reported"
	Voided   Stage = "void"
)

// Stages are all stages.
func Stages() []Stage { return []Stage{ToTake, Taken, Sent, AtLab, Reported, Voided} }

// Stage is how far the sample came: reported where each thing has a result.
func (s Sample) Stage() Stage {
	switch {
	case s.Void != nil:
		return Voided
	case len(s.For) > 0 && !slices.ContainsFunc(s.For, func(a knowledge.AgentID) bool { return s.Outcome(a) == Pending }):
		return Reported
	case !s.Arrived.IsZero() || len(s.Results) > 0: // a lab that answered has it
		return AtLab
	case !s.Posted.IsZero():
		return Sent
	case !s.Taken.IsZero():
		return Taken
	}
	return ToTake
}

// Result is the one that counts of a thing; ok is false where there is none.
func (s Sample) Result(of knowledge.AgentID) (r Result, ok bool) {
	for _, r := range slices.Backward(s.Results) {
		if r.Of == of {
			return r, true
		}
	}
	return r, false
}

// Outcome is what was found of a thing, Pending where nobody said yet.
func (s Sample) Outcome(of knowledge.AgentID) Outcome {
	r, _ := s.Result(of)
	return r.Outcome
}

// LookedThrough reports whether the sample says anything of a thing: it was
// detected or not. Everything else counts as if it had not been looked through.
func (s Sample) LookedThrough(of knowledge.AgentID) bool {
	o := s.Outcome(of)
	return s.Void == nil && (o == Detected || o == NotDetected)
}

// Method is by which the lab looked for a thing, empty: by the usual one of the material,
// or nobody looked yet.
func (s Sample) Method(of knowledge.AgentID) knowledge.Method {
	r, _ := s.Result(of)
	return r.Method
}

// Speaks reports whether the sample says anything of a thing in the animals that it
// is of. "Detected" always does. "Not detected" does where the thing can be found in
// that material, and the lab looked for the thing itself: who has no antibodies may have
// caught it lately. Pending, inconclusive, inhibited, not done and void never do.
func Speaks(t *knowledge.Tables, s Sample, of knowledge.AgentID) bool {
	return s.LookedThrough(of) && (s.Outcome(of) == Detected || !t.Silent(of, s.Material) && s.Method(of) != knowledge.Antibodies)
}

// enough are the answers of a lab by which it is measured.
const enough = 5

// Late is how many days a lab may take before it is asked, from the days that its
// earlier answers took: from five of them on the larger of 1.5 times their median
// and their median and 3 days, else the usual number.
func Late(took []int, usual int) int {
	if len(took) < enough {
		return usual
	}
	sorted := slices.Sorted(slices.Values(took))
	twice := sorted[(len(sorted)-1)/2] + sorted[len(sorted)/2] // the median, twice
	return max((3*twice+3)/4, (twice+1)/2+3)
}

// Stored is a sample with what its document's header says.
type Stored struct {
	ID       model.SampleID
	Revision uint32
	At       model.Moment
	By       model.PersonID
	Animals  []model.AnimalID
	Sample
}

// Read reads a sample's document. One with more than MaxResults results is not read.
func Read(d model.Document) (Stored, error) {
	s, err := decode(d)
	if err == nil && len(s.Results) > MaxResults {
		err = fmt.Errorf("read sample %s: it has %d results, at most %d are read", d.ID, len(s.Results), MaxResults)
	}
	return s, err
}

func decode(d model.Document) (Stored, error) {
	s := Stored{ID: model.SampleID{ID: d.ID}, Revision: d.Revision, At: d.At, By: d.By}
	if d.Type != model.TypeSample {
		return s, fmt.Errorf("read sample %s: the document is of type %s", d.ID, d.Type)
	}
	for _, about := range d.Subjects {
		if about.Kind == model.SubjectAnimal {
			s.Animals = append(s.Animals, model.AnimalID{ID: about.ID})
		}
	}
	return s, d.Decode(Version, &s.Sample)
}

func (s Stored) document() (model.Document, error) {
	d := model.Document{Type: model.TypeSample, ID: s.ID.ID, Revision: s.Revision, At: s.At, By: s.By}
	if !s.Taken.IsZero() {
		d.At = s.Taken
	}
	for _, a := range s.Animals {
		d.Subjects = append(d.Subjects, a.Subject())
	}
	return d, d.Encode(Version, s.Sample)
}

// All are the samples of the collection, in the order in which they were
// prepared. The error is that of the first that cannot be read.
func All(v model.View) ([]Stored, error) {
	all, unread, err := Legible(v)
	if err == nil && len(unread) > 0 {
		err = unread[0]
	}
	if err != nil {
		return nil, fmt.Errorf("read the samples: %w", err)
	}
	return all, nil
}

// Illegible says that a sample cannot be read, and what its document's header says of it.
type Illegible struct {
	ID      model.SampleID
	At      model.Moment
	Animals []model.AnimalID
	Err     error
}

// Error says what is wrong with the sample.
func (i *Illegible) Error() string { return i.Err.Error() }

// Unwrap is what is wrong; model.ErrNewer where a newer version of the program wrote it.
func (i *Illegible) Unwrap() error { return i.Err }

// Legible are the samples that can be read, in the order of All. unread has an *Illegible
// for each of the others.
func Legible(v model.View) (all []Stored, unread []error, err error) {
	err = v.All(model.TypeSample, func(d model.Document) bool {
		s, err := Read(d)
		if err != nil {
			unread = append(unread, &Illegible{ID: s.ID, At: s.At, Animals: s.Animals, Err: err})
		} else {
			all = append(all, s)
		}
		return true
	})
	return all, unread, err
}
