package medicine

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"coilward/model"
)

// VisitVersion and QuestionVersion are the newest forms of the two bodies.
const (
	VisitVersion    = 1
	QuestionVersion = 1
)

// MaxQuestion is the most signs of a question, so that some of them stand on one page.
const MaxQuestion = 400

// VisitID names a visit, QuestionID a question to a vet.
type (
	VisitID    struct{ model.ID }
	QuestionID struct{ model.ID }
)

// Visit is the body of a visit's document: an animal is seen by a vet. Its document's At
// is when that is planned, and once it is held when it took place.
type Visit struct {
	Vet      model.PersonID `json:"vet,omitzero"`
	Practice string         `json:"practice,omitempty"` // where no vet of the people is named, or beside one
	Reason   string         `json:"reason,omitempty"`
	Held     *Held          `json:"held,omitempty"` // nil: it is planned
}

// Held is what was noted of a visit that took place.
type Held struct {
	Noted  model.Moment    `json:"noted"`
	By     model.PersonID  `json:"by,omitzero"`    // who noted it
	Said   string          `json:"said,omitempty"` // what was found and said, in the vet's words as they were reported
	Photos []model.PhotoID `json:"photos,omitempty"`
}

// Question is the body of the document of a question to a vet. Its document's At is when
// it was noted. It waits for no certain visit, and is open until it is answered or
// withdrawn.
type Question struct {
	Words     string      `json:"words"` // exactly as it is to be asked
	Answer    *VetsAnswer `json:"answer,omitempty"`
	Withdrawn *Withdrawal `json:"withdrawn,omitempty"`
}

// VetsAnswer is what a vet answered; of a visit where it was given at one.
type VetsAnswer struct {
	Answer
	Visit VisitID `json:"visit,omitzero"`
}

// Withdrawal says since when a question is not asked any more.
type Withdrawal struct {
	At  model.Moment   `json:"at"`
	By  model.PersonID `json:"by,omitzero"`
	Why string         `json:"why,omitempty"`
}

// Open reports whether the question still waits for its answer.
func (q Question) Open() bool { return q.Answer == nil && q.Withdrawn == nil }

// StoredVisit is a visit with what its document's header says.
type StoredVisit struct {
	ID       VisitID
	Revision uint32
	At       model.Moment
	By       model.PersonID // who planned it, or noted it where it was not planned
	Animal   model.AnimalID
	Visit
}

// StoredQuestion is a question with what its document's header says.
type StoredQuestion struct {
	ID       QuestionID
	Revision uint32
	Asked    model.Moment
	By       model.PersonID
	Animal   model.AnimalID
	Question
}

// ReadVisit reads a visit's document.
func ReadVisit(d model.Document) (StoredVisit, error) {
	s := StoredVisit{ID: VisitID{d.ID}, Revision: d.Revision, At: d.At, By: d.By}
	if d.Type != model.TypeVisit {
		return s, fmt.Errorf("read visit %s: the document is of type %s", d.ID, d.Type)
	}
	s.Animal, _ = d.Animal()
	return s, d.Decode(VisitVersion, &s.Visit)
}

// ReadQuestion reads a question's document.
func ReadQuestion(d model.Document) (StoredQuestion, error) {
	s := StoredQuestion{ID: QuestionID{d.ID}, Revision: d.Revision, Asked: d.At, By: d.By}
	if d.Type != model.TypeQuestion {
		return s, fmt.Errorf("read question %s: the document is of type %s", d.ID, d.Type)
	}
	s.Animal, _ = d.Animal()
	return s, d.Decode(QuestionVersion, &s.Question)
}

func (s StoredVisit) document() (model.Document, error) {
	d := model.Document{Type: model.TypeVisit, ID: s.ID.ID, Revision: s.Revision, At: s.At, By: s.By, Subjects: []model.Subject{s.Animal.Subject()}}
	return d, d.Encode(VisitVersion, s.Visit)
}

func (s StoredQuestion) document() (model.Document, error) {
	d := model.Document{Type: model.TypeQuestion, ID: s.ID.ID, Revision: s.Revision, At: s.Asked, By: s.By, Subjects: []model.Subject{s.Animal.Subject()}}
	return d, d.Encode(QuestionVersion, s.Question)
}

// VisitsOf are the visits of an animal, planned ones too, the newest first. One that
// cannot be read is the error, with the others.
func VisitsOf(v model.View, animal model.AnimalID) ([]StoredVisit, error) {
	return listed(v, animal, model.TypeVisit, ReadVisit)
}

// QuestionsOf are the questions of an animal, the newest first. One that cannot be read
// is the error, with the others.
func QuestionsOf(v model.View, animal model.AnimalID) ([]StoredQuestion, error) {
	return listed(v, animal, model.TypeQuestion, ReadQuestion)
}

// FindVisit reads one visit.
func FindVisit(v model.View, id VisitID) (StoredVisit, error) {
	d, err := v.Document(id.ID)
	if err != nil {
		return StoredVisit{}, fmt.Errorf("read visit %s: %w", id, err)
	}
	return ReadVisit(d)
}

// FindQuestion reads one question.
func FindQuestion(v model.View, id QuestionID) (StoredQuestion, error) {
	d, err := v.Document(id.ID)
	if err != nil {
		return StoredQuestion{}, fmt.Errorf("read question %s: %w", id, err)
	}
	return ReadQuestion(d)
}

// Check tells what of the visit cannot stand; nil if nothing. now is the present moment.
func (s StoredVisit) Check(now model.Moment) *model.Refusal {
	switch value := s.At.Day().String(); {
	case s.Animal.IsZero():
		return mend("name", "", "visit.nobody", nil)
	case s.Vet.IsZero() && strings.TrimSpace(s.Practice) == "":
		return mend("vet", "", "visit.whose", nil)
	case s.At.IsZero():
		return mend("day", "", "day.empty", nil)
	case s.At.Precision == model.ToMonth || s.At.Precision == model.ToYear:
		return mend("day", value, "day.vague", nil)
	}
	if r := first(model.CheckLine("practice", s.Practice, MaxLine), model.CheckLine("reason", s.Reason, MaxLine)); r != nil || s.Held == nil {
		return r
	}
	if n := len(s.Held.Photos); n > MaxPhotos {
		return mend("photo", strconv.Itoa(n), "photo.many", map[string]model.Gap{"Most": model.CountGap(MaxPhotos)})
	}
	return first(past("day", s.At, now), model.CheckText("vet-said", s.Held.Said, MaxWords))
}

// Check tells what of the question cannot stand; nil if nothing. now is the present
// moment.
func (s StoredQuestion) Check(now model.Moment) *model.Refusal {
	if s.Animal.IsZero() {
		return mend("name", "", "visit.nobody", nil)
	}
	if r := first(empty("question", s.Words, MaxQuestion), past("day", s.Asked, now)); r != nil {
		return r
	}
	asked := s.Asked.Day()
	before := func(at model.Moment) *model.Refusal {
		if at.Day() >= asked {
			return nil
		}
		return mend("day", at.Day().String(), "question.before", map[string]model.Gap{"Day": model.DayGap(asked), "Question": model.TextGap(s.Words)})
	}
	switch a, w := s.Answer, s.Withdrawn; {
	case a != nil && w != nil:
		return mend("answer", a.Said, "question.both", nil)
	case a != nil && strings.TrimSpace(a.Said) == "":
		return mend("answer", "", "text.empty", nil)
	case a != nil:
		return first(model.CheckText("answer", a.Said, MaxWords), past("day", a.At, now), before(a.At))
	case w != nil:
		return first(model.CheckLine("why", w.Why, MaxLine), past("day", w.At, now), before(w.At))
	}
	return nil
}

// Rechecked reports whether a visit of the animal stands in the place of the recheck that
// the vet wants: one on its day, planned or held, or one that was held since.
func (s Stored) Rechecked(visits []StoredVisit) bool {
	return slices.ContainsFunc(visits, func(v StoredVisit) bool {
		day := v.At.Day()
		return !s.Recheck.IsZero() && (day == s.Recheck.Day || v.Held != nil && day > s.Recheck.Day)
	})
}

// AllAfter reports whether visits are planned, and every one of them after the day by which
// a vet is to see the animal.
func AllAfter(by model.Day, visits []StoredVisit) bool {
	planned := slices.DeleteFunc(slices.Clone(visits), func(v StoredVisit) bool { return v.Held != nil })
	return len(planned) > 0 && !slices.ContainsFunc(planned, func(v StoredVisit) bool { return v.At.Day() <= by })
}
