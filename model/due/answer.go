package due

import (
	"crypto/sha256"
	"errors"
	"fmt"
	"slices"
	"strings"

	"coilward/model"
	"coilward/model/knowledge"
	"coilward/model/medicine"
	"coilward/model/positives"
)

// Version is the newest form of an answer's body.
const Version = 2 // 1 knew no visit

// What is what a person answers to an obligation. Values are frozen; the text is
// "due.answer." + value.
type What string

// The answers.
const (
	DoneElsewhere What = "done"  // done, but not noted here: by a vet, at a friend's
	PutOff        What = "later" // until a day
	NotNeeded     What = "not-needed"
)

// Whats are the answers in the order in which they are offered.
func Whats() []What { return []What{DoneElsewhere, PutOff, NotNeeded} }

// Answer is the body of an answer's document. It speaks for the obligation of
// its key alone.
type Answer struct {
	Key
	What What `json:"what"`
	// Until is the day on which the obligation asks again; 0: it does not.
	Until model.Day       `json:"until,omitempty"`
	Why   string          `json:"why,omitempty"`
	Level knowledge.Level `json:"level,omitempty"` // of the obligation when it was answered
	// Visit is the one that gave the answer and takes it along; zero: a person gave it.
	Visit medicine.VisitID `json:"visit,omitzero"`
}

// AnswerID names an answer.
type AnswerID struct{ model.ID }

// Stored is an answer with its document's header.
type Stored struct {
	ID AnswerID
	At model.Moment
	By model.PersonID
	Answer
}

// Read reads an answer's document.
func Read(d model.Document) (Stored, error) {
	s := Stored{ID: AnswerID{d.ID}, At: d.At, By: d.By}
	if d.Type != model.TypeAnswer {
		return s, fmt.Errorf("read answer %s: the document is of type %s", d.ID, d.Type)
	}
	return s, d.Decode(Version, &s.Answer)
}

// Check refuses a stored answer with a value that no command would have taken.
func (a Answer) Check() *model.Refusal {
	switch {
	case a.What != DoneElsewhere && a.What != PutOff && a.What != NotNeeded:
		return mend("answer", string(a.What), "choice.unknown", nil)
	case a.Job == "" || a.Cause == "" || a.Subject.ID.IsZero():
		return mend("answer", string(a.What), "due.gone", nil)
	}
	return model.CheckText("why", a.Why, maxWhy)
}

// subject is the obligation as a subject, under which its answers are found.
func (k Key) subject() model.Subject {
	sum := sha256.Sum256([]byte(strings.Join([]string{string(k.Subject.Kind), k.Subject.ID.String(), string(k.Job), k.Cause}, "\x00")))
	return model.Subject{Kind: model.SubjectObligation, ID: model.ID(sum[:16])}
}

// answerTo finds the newest answer to an obligation and its document. One that a
// newer version has written is passed over: the obligation asks.
func answerTo(v model.View, k Key) (d model.Document, answer *Stored, err error) {
	var failed error
	err = v.Timeline(k.subject(), model.Beginning, model.EndOfTime, func(doc model.Document) bool {
		if doc.Type != model.TypeAnswer {
			return true
		}
		s, err := Read(doc)
		if errors.Is(err, model.ErrNewer) {
			return true
		}
		d, answer, failed = doc, &s, err
		return false
	})
	if err = errors.Join(err, failed); err != nil {
		return d, nil, fmt.Errorf("read the answers to what is due: %w", err)
	}
	return d, answer, nil
}

// answered puts the answers to obligations, where one speaks for them.
func answered(v model.View, t *knowledge.Tables, all []Obligation, today model.Day) (err error) {
	for i := range all {
		if _, all[i].Answer, err = answerTo(v, all[i].Key); err != nil {
			return err
		}
		if a := all[i].Answer; a != nil && !a.speaks(t, all[i], today) {
			all[i].Answer = nil
		}
	}
	return nil
}

// speaks reports whether an answer reaches no further than one that is given on
// that day could. One that does was given while the clock was ahead, and would
// silence the obligation for as long as it was wrong. A day more is left to those
// who travel.
func (a Answer) speaks(t *knowledge.Tables, o Obligation, today model.Day) bool {
	c := Respond{Tables: t, What: a.What}
	most := c.until(o, today)
	if a.What == PutOff {
		most = c.Most(o, today)
	}
	return a.Until == 0 || a.Until <= most+1
}

// Commands are the commands of this package, one of each, empty.
func Commands() []model.Command {
	return []model.Command{Respond{}, Withdraw{}, HoldVisit{}, ChangeVisit{}, RemoveVisit{}}
}

// Respond answers an obligation. A new answer takes the place of an earlier one.
type Respond struct {
	Tables *knowledge.Tables
	Key    Key
	What   What
	Until  model.Day // of PutOff
	Why    string
	By     model.PersonID
	at     *medicine.StoredVisit // that answers; its day is the one that the answer counts from
}

// Name is "due.answer".
func (Respond) Name() string { return "due.answer" }

// Plan writes the answer. It is refused for what is no longer due. What a finding
// or a vet asks for is not put aside without a reason, and only for as long as the
// tables say: time alone closes neither, and whether it is done with is for the
// vet to say. An emergency can be called done, with what was done, and goes on
// being shown; it can neither be put off nor be called not needed.
func (c Respond) Plan(v model.View) (model.Writes, error) {
	o, name, err := find(v, c.Tables, c.Key)
	if err != nil {
		return model.Writes{}, err
	}
	today := v.Now().Day()
	if r := c.check(o, today); r != nil {
		return model.Writes{}, r
	}
	d, earlier, err := answerTo(v, c.Key)
	if err != nil {
		return model.Writes{}, err
	}
	if earlier == nil {
		d = model.Document{Type: model.TypeAnswer, ID: v.NewID(), Subjects: []model.Subject{c.Key.Subject, c.Key.subject()}}
	}
	d.At, d.By = v.Now(), c.By
	a := Answer{Key: c.Key, What: c.What, Until: c.until(o, today), Why: strings.TrimSpace(c.Why), Level: o.Level}
	if c.at != nil {
		a.Visit, a.Until = c.at.ID, c.until(o, c.at.At.Day())
	}
	if err := d.Encode(Version, a); err != nil {
		return model.Writes{}, err
	}
	return model.Writes{Put: []model.Document{d}, Label: model.Label{Key: "due.noted." + string(c.What), Gaps: map[string]model.Gap{
		"Name": model.TextGap(name), "Job": model.KeyGap("due.job." + string(c.Key.Job)), "Day": model.DayGap(a.Until)}}}, nil
}

// until is the day on which the obligation asks again that was answered on a day.
func (c Respond) until(o Obligation, today model.Day) model.Day {
	switch {
	case c.What == PutOff:
		return c.Until
	case o.Most > 0:
		return today + model.Day(o.Most)
	case o.Level >= knowledge.VetWithinDays:
		return today + model.Day(c.Tables.Value(knowledge.ValueAnswerVet))
	case o.Level > knowledge.Nothing:
		return today + model.Day(c.Tables.Value(knowledge.ValueAnswerLook))
	case o.Every > 0:
		return today + model.Day(o.Every)
	}
	return 0
}

func (c Respond) check(o Obligation, today model.Day) *model.Refusal {
	answer := string(c.What)
	switch {
	case c.What != DoneElsewhere && c.What != PutOff && c.What != NotNeeded:
		return mend("answer", answer, "choice.unknown", nil)
	case o.Level >= knowledge.EmergencyToday && c.What != DoneElsewhere:
		return mend("answer", answer, "due.emergency", nil)
	case o.Job == Positive && c.What == NotNeeded:
		return mend("answer", "", "due.positive", nil)
	case o.medicinal() && c.What != PutOff:
		return mend("answer", "", "due.medicine", nil)
	case strings.TrimSpace(c.Why) == "" && c.wantsWhy(o):
		return mend("why", "", c.without(), nil)
	}
	if r := model.CheckText("why", c.Why, maxWhy); r != nil || c.What != PutOff {
		return r
	}
	most := c.Most(o, today)
	switch {
	case c.Until <= today:
		return mend("until", c.Until.String(), "due.until-past", map[string]model.Gap{"Today": model.DayGap(today)})
	case c.Until > most && o.Level >= knowledge.VetWithinDays:
		return mend("until", c.Until.String(), "due.until-vet", map[string]model.Gap{"Most": model.DayGap(most)})
	case c.Until > most:
		return mend("until", c.Until.String(), "due.until-far", map[string]model.Gap{"Most": model.DayGap(most)})
	}
	return nil
}

// wantsWhy reports whether the answer needs a reason: what a finding or a vet
// asks for always, the jobs of every day only where they are not needed.
func (c Respond) wantsWhy(o Obligation) bool {
	return o.Level > knowledge.Nothing || c.What == NotNeeded
}

// without is the reason of the refusal of an answer without a reason.
func (c Respond) without() string {
	switch c.What {
	case PutOff:
		return "due.why-later"
	case NotNeeded:
		return "due.why-not-needed"
	}
	return "due.why-done"
}

// Most is the last day up to which the obligation can be put off.
func (c Respond) Most(o Obligation, today model.Day) model.Day {
	switch {
	case o.Most > 0:
		return today + model.Day(o.Most)
	case o.Level >= knowledge.VetWithinDays:
		return today + model.Day(c.Tables.Value(knowledge.ValueVetWithin))
	case o.Level > knowledge.Nothing:
		return today + model.Day(c.Tables.Value(knowledge.ValueAnswerLook))
	}
	return today + model.Day(c.Tables.Value(knowledge.ValueAnswerLater))
}

// putOffFirst is for how many days putting off is offered at first. Source: assumed.
const putOffFirst = 7

// Offered is the day that is offered at first for putting an obligation off: a week
// on, or as far as it can be put off.
func (c Respond) Offered(o Obligation, today model.Day) model.Day {
	return min(today+putOffFirst, c.Most(o, today))
}

// Answers are what a person may answer to an obligation; an emergency can be
// called done and nothing else, and a positive ends by being closed alone.
func Answers(o Obligation) []What {
	switch {
	case o.Level >= knowledge.EmergencyToday:
		return []What{DoneElsewhere}
	case o.Job == Positive:
		return []What{DoneElsewhere, PutOff}
	case o.medicinal():
		return []What{PutOff}
	}
	return Whats()
}

// Withdraw takes an answer back: the obligation asks again.
type Withdraw struct{ Answer AnswerID }

// Name is "due.withdraw".
func (Withdraw) Name() string { return "due.withdraw" }

// Plan removes the answer.
func (c Withdraw) Plan(v model.View) (model.Writes, error) {
	d, err := v.Document(c.Answer.ID)
	if err != nil {
		return model.Writes{}, fmt.Errorf("take back answer %s: %w", c.Answer, err)
	}
	a, err := Read(d)
	if err != nil {
		return model.Writes{}, err
	}
	return model.Writes{Remove: []model.ID{d.ID}, Label: model.Label{Key: "due.noted.withdrawn", Gaps: map[string]model.Gap{"Job": model.KeyGap("due.job." + string(a.Job))}}}, nil
}

// maxWhy is the most signs that a reason may have.
const maxWhy = 1000

func mend(field, value, reason string, gaps map[string]model.Gap) *model.Refusal {
	return &model.Refusal{Field: field, Value: value, Reason: reason, Gaps: gaps, Answer: model.Mend}
}

// find is the obligation of that key as it stands now, with the name of what it
// is about, or a refusal.
func find(v model.View, t *knowledge.Tables, k Key) (Obligation, string, error) {
	all, name, err := owed(v, t, k.Subject)
	if err != nil && !errors.Is(err, model.ErrNotFound) {
		return Obligation{}, "", err
	}
	for _, o := range all {
		if o.Key == k {
			return o, name, nil
		}
	}
	if all, name, err = findTogether(v, t, k); err != nil {
		return Obligation{}, "", err
	}
	for _, o := range all {
		if o.Key == k {
			return o, name, nil
		}
	}
	return Obligation{}, "", mend("answer", "", "due.gone", nil)
}

// owed is all that an animal, a place or an instrument owes, with its name.
func owed(v model.View, t *knowledge.Tables, s model.Subject) ([]Obligation, string, error) {
	switch s.Kind {
	case model.SubjectAnimal:
		l, err := read(t, v, model.AnimalID{ID: s.ID}, problems{})
		if err = errors.Join(err, l.err); err != nil {
			return nil, "", err
		}
		tubes, err := samplesDue(v, t, positives.Known{})
		if err != nil {
			return nil, "", err
		}
		courses, err := prescribedDue(v, t)
		id := model.AnimalID{ID: s.ID}
		return slices.Concat(l.due, tubes.of[id], courses.of[id]), l.facts.Animal.Name, err
	case model.SubjectPlace:
		return findIn(v, t, model.PlaceID{ID: s.ID})
	case model.SubjectLot:
		return findBatch(v, t, model.BatchID{ID: s.ID})
	case model.SubjectInstrument:
		return findAt(v, t, model.InstrumentID{ID: s.ID})
	}
	return nil, "", nil
}
