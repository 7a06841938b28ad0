package medicine

import (
	"errors"
	"slices"
	"strings"

	"coilward/model"
)

// PlanVisit plans that an animal is seen by a vet.
type PlanVisit struct {
	Animal    model.AnimalID
	At        model.Moment // day, or day and hour
	By        model.PersonID
	Confirmed model.Confirmed
	Visit
}

// Name is "medicine.visit-plan".
func (PlanVisit) Name() string { return "medicine.visit-plan" }

// Plan writes the visit as planned. A day that is past is refused, and one more than
// MaxDays ahead; a second visit on one day is asked about.
func (c PlanVisit) Plan(v model.View) (model.Writes, error) {
	s := StoredVisit{ID: VisitID{v.NewID()}, At: c.At, By: c.By, Animal: c.Animal, Visit: c.Visit}
	s.Held = nil
	return s.fresh(v, StoredVisit{}, c.Confirmed, "medicine.done.visit-plan")
}

// fresh writes a visit by the rules of a new one; before is what stood there.
func (s StoredVisit) fresh(v model.View, before StoredVisit, c model.Confirmed, done string) (model.Writes, error) {
	s.tidy()
	now := v.Now()
	of, err := readSubject(v, s.Animal)
	if err != nil {
		return model.Writes{}, err
	}
	if !s.At.IsZero() { // the day stands above what else is judged
		if r := s.ahead(now, before); r != nil {
			return model.Writes{}, r
		}
	}
	if r := s.Check(now); r != nil {
		return model.Writes{}, r
	}
	if r := of.seen(s.At.Day(), c); r != nil {
		return model.Writes{}, r
	}
	if !s.Vet.IsZero() && s.Vet != before.Vet {
		if err := isVet(v, s.Vet, "visit.whose"); err != nil {
			return model.Writes{}, err
		}
	}
	if s.At.Day() != before.At.Day() {
		if err := s.alone(v, before.ID, c); err != nil {
			return model.Writes{}, err
		}
	}
	return s.write(v, of, done)
}

// ahead wants a planned visit to lie ahead, within a year; one that was planned for its
// day before may stay there.
func (s StoredVisit) ahead(now model.Moment, before StoredVisit) *model.Refusal {
	day, today := s.At.Day(), now.Day()
	switch {
	case s.Held != nil || day == before.At.Day():
		return nil
	case day < today:
		return mend("day", day.String(), "visit.past", map[string]model.Gap{"Today": model.DayGap(today)})
	case day > today+MaxDays:
		return mend("day", day.String(), "medicine.far", map[string]model.Gap{"Most": model.DayGap(today + MaxDays)})
	}
	return nil
}

// alone asks where another visit of the animal stands on the same day; before is one that
// does not stand there any more, though it is still kept so.
func (s StoredVisit) alone(v model.View, before VisitID, c model.Confirmed) error {
	all, err := VisitsOf(v, s.Animal)
	if err != nil && !errors.Is(err, model.ErrNewer) {
		return err
	}
	if slices.ContainsFunc(all, func(o StoredVisit) bool { return o.ID != s.ID && o.ID != before && o.At.Day() == s.At.Day() }) {
		if r := ask(c, "day", s.At.Day().String(), "visit.twice", map[string]model.Gap{"Day": model.DayGap(s.At.Day())}); r != nil {
			return r
		}
	}
	return nil
}

func (s *StoredVisit) tidy() {
	s.Practice, s.Reason = strings.Join(strings.Fields(s.Practice), " "), strings.TrimSpace(s.Reason)
	if s.Held != nil {
		held := *s.Held
		held.Said, held.Photos = strings.TrimSpace(held.Said), slices.Clone(held.Photos)
		s.Held = &held
	}
}

func (s StoredVisit) write(v model.View, of subject, done string) (model.Writes, error) {
	d, err := s.document()
	return model.Writes{Put: []model.Document{d}, Label: s.label(of, done)}, err
}

func (s StoredVisit) label(of subject, done string) model.Label {
	return model.Label{Key: done, Gaps: map[string]model.Gap{"Animal": model.TextGap(of.Name), "Day": model.DayGap(s.At.Day())}}
}

// Answered is the vet's answer to one question.
type Answered struct {
	Question QuestionID
	Base     uint32
	Said     string
}

// HoldVisit notes that a visit took place: what was said, the answers to questions, and
// the next visit, in one change. Without an ID it was not planned. The command is due.HoldVisit,
// which answers with it what a vet was to see.
type HoldVisit struct {
	ID        VisitID // zero: it was not planned
	Base      uint32
	Animal    model.AnimalID // zero: that of the planned visit
	At        model.Moment
	By        model.PersonID
	Confirmed model.Confirmed
	Visit                  // with what was said; Noted and By are set here
	Answers   []Answered   // in the order in which they are shown
	Next      model.Moment // when the vet wants to see the animal again; zero: not said
}

// Plan writes the visit as held, first of all, closes each question with its answer, and
// plans the next visit at the same vet. A visit that was held already, or that is of another
// animal, is refused; so are an answer without words, one to a question that is not open or
// was noted after the visit, and a next visit before this one. Gaps "Step" of a refusal is the
// place of the answer.
func (c HoldVisit) Plan(v model.View) (model.Writes, error) {
	s, before := StoredVisit{ID: VisitID{v.NewID()}, By: c.By, Animal: c.Animal}, StoredVisit{}
	if !c.ID.IsZero() {
		var err error
		if before, err = FindVisit(v, c.ID); err != nil {
			return model.Writes{}, err
		}
		if before.Held != nil {
			return model.Writes{}, mend("day", before.At.Day().String(), "visit.held", map[string]model.Gap{"Day": model.DayGap(before.At.Day())})
		}
		if !c.Animal.IsZero() && c.Animal != before.Animal {
			return model.Writes{}, mend("visit", before.At.Day().String(), "visit.other", map[string]model.Gap{"Day": model.DayGap(before.At.Day())})
		}
		s = before
	}
	s.Revision, s.At, s.Visit = c.Base, c.At, c.Visit
	held := Held{}
	if c.Held != nil {
		held = *c.Held
	}
	held.Noted, held.By = v.Now(), c.By
	s.Held = &held
	w, err := s.fresh(v, before, c.Confirmed, "medicine.done.visit-hold")
	if err != nil {
		return model.Writes{}, err
	}
	for i, a := range c.Answers {
		d, err := s.answer(v, a, c.By)
		if err != nil {
			return model.Writes{}, placed(err, i+1)
		}
		w.Put = append(w.Put, d)
	}
	if c.Next.IsZero() {
		return w, nil
	}
	next, err := s.next(v, c.Next, c.By, c.Confirmed)
	w.Put = append(w.Put, next.Put...)
	return w, err
}

// answer is a question with its answer of this visit.
func (s StoredVisit) answer(v model.View, a Answered, by model.PersonID) (model.Document, error) {
	q, err := FindQuestion(v, a.Question)
	if err != nil {
		return model.Document{}, err
	}
	if q.Animal != s.Animal {
		return model.Document{}, mend("answer", a.Said, "question.other", map[string]model.Gap{"Question": model.TextGap(q.Words)})
	}
	if r := q.closed("answer", a.Said); r != nil {
		return model.Document{}, r
	}
	q.Revision = a.Base
	q.Answer = &VetsAnswer{Answer: Answer{At: s.At, By: by, Said: strings.TrimSpace(a.Said)}, Visit: s.ID}
	if r := q.Check(v.Now()); r != nil {
		if r.Field == "day" { // of the visit, against the day of this question
			r.Field, r.Value = "answer", a.Said
		}
		return model.Document{}, r
	}
	return q.document()
}

// placed says of a refusal which of several answers it is about.
func placed(err error, place int) error {
	var r *model.Refusal
	if errors.As(err, &r) {
		if r.Gaps == nil {
			r.Gaps = map[string]model.Gap{}
		}
		r.Gaps["Step"] = model.CountGap(place)
	}
	return err
}

// next plans the visit that a vet has asked for at this one.
func (s StoredVisit) next(v model.View, at model.Moment, by model.PersonID, c model.Confirmed) (model.Writes, error) {
	if at.Day() <= s.At.Day() {
		return model.Writes{}, mend("next-visit", at.Day().String(), "visit.next-before", map[string]model.Gap{"Day": model.DayGap(s.At.Day())})
	}
	next := StoredVisit{ID: VisitID{v.NewID()}, At: at, By: by, Animal: s.Animal, Visit: Visit{Vet: s.Vet, Practice: s.Practice, Reason: s.Reason}}
	w, err := next.fresh(v, s, c, "medicine.done.visit-plan")
	var r *model.Refusal
	if errors.As(err, &r) && r.Field == "day" {
		r.Field = "next-visit"
	}
	return w, err
}

// ChangeVisit puts right what was noted of a visit, planned or held; the revision before
// keeps what stood there. The command is due.ChangeVisit.
type ChangeVisit struct {
	ID        VisitID
	Base      uint32
	At        model.Moment
	Confirmed model.Confirmed
	Visit     // what was said, of a visit that was held
}

// Plan writes the visit anew. Whether it was held stays as it is. Answers that were given
// at it move with its day, and are refused where they would stand before their questions.
func (c ChangeVisit) Plan(v model.View) (model.Writes, error) {
	before, err := FindVisit(v, c.ID)
	if err != nil {
		return model.Writes{}, err
	}
	s := before
	s.Revision, s.At, s.Visit = c.Base, c.At, c.Visit
	if s.Held = before.Held; s.Held != nil {
		held := *before.Held
		held.Said, held.Photos = "", nil
		if c.Held != nil {
			held.Said, held.Photos = c.Held.Said, c.Held.Photos
		}
		s.Held = &held
	}
	w, err := s.fresh(v, before, c.Confirmed, "medicine.done.visit-change")
	if err != nil || before.At == s.At {
		return w, err
	}
	answers, err := s.answers(v)
	if err != nil {
		return model.Writes{}, err
	}
	for _, q := range answers {
		moved := *q.Answer
		moved.At, q.Answer = s.At, &moved
		if r := q.Check(v.Now()); r != nil {
			return model.Writes{}, r
		}
		d, err := q.document()
		if err != nil {
			return model.Writes{}, err
		}
		w.Put = append(w.Put, d)
	}
	return w, nil
}

// answers are the questions that were answered at this visit.
func (s StoredVisit) answers(v model.View) ([]StoredQuestion, error) {
	all, err := QuestionsOf(v, s.Animal)
	return slices.DeleteFunc(all, func(q StoredQuestion) bool { return q.Answer == nil || q.Answer.Visit != s.ID }), err
}

// RemoveVisit takes out a visit that does not take place or should not stand there. Its
// revisions stay. The command is due.RemoveVisit.
type RemoveVisit struct{ ID VisitID }

// Plan removes the visit. What was answered at it stays answered, with its day.
func (c RemoveVisit) Plan(v model.View) (model.Writes, error) {
	s, err := FindVisit(v, c.ID)
	if err != nil {
		return model.Writes{}, err
	}
	of, err := readSubject(v, s.Animal)
	if err != nil && !errors.Is(err, model.ErrNotFound) {
		return model.Writes{}, err
	}
	return model.Writes{Remove: []model.ID{c.ID.ID}, Label: s.label(of, "medicine.done.visit-remove")}, nil
}

// seen tells why the animal cannot have been at a vet on that day, or asks.
func (s subject) seen(on model.Day, c model.Confirmed) *model.Refusal {
	switch {
	case s.gone(on) && s.Status != died:
		return mend("day", on.String(), "visit.gone", map[string]model.Gap{"Animal": model.TextGap(s.Name), "Status": model.KeyGap("animals.status." + s.Status)})
	case !s.Hatched.IsZero() && on < s.Hatched.Day:
		return ask(c, "day", on.String(), "day.before-hatched", map[string]model.Gap{"Animal": model.TextGap(s.Name), "Hatched": model.DayGap(s.Hatched.Day)})
	}
	return nil
}

// AskQuestion notes a question to the vet. It waits for the next visit.
type AskQuestion struct {
	Animal model.AnimalID
	At     model.Moment
	By     model.PersonID
	Words  string
}

// Name is "medicine.question-ask".
func (AskQuestion) Name() string { return "medicine.question-ask" }

// Plan writes the question.
func (c AskQuestion) Plan(v model.View) (model.Writes, error) {
	s := StoredQuestion{ID: QuestionID{v.NewID()}, Asked: c.At, By: c.By, Animal: c.Animal, Question: Question{Words: c.Words}}
	of, err := readSubject(v, s.Animal)
	if err != nil {
		return model.Writes{}, err
	}
	if of.gone(c.At.Day()) && of.Status != died {
		return model.Writes{}, mend("question", c.Words, "visit.gone", map[string]model.Gap{"Animal": model.TextGap(of.Name), "Status": model.KeyGap("animals.status." + of.Status)})
	}
	return s.write(v, "medicine.done.question-ask")
}

// ChangeQuestion puts right the words of a question, and of its answer where it has one.
type ChangeQuestion struct {
	ID    QuestionID
	Base  uint32
	Words string
	Said  string // of one that was answered
}

// Name is "medicine.question-change".
func (ChangeQuestion) Name() string { return "medicine.question-change" }

// Plan writes the question anew.
func (c ChangeQuestion) Plan(v model.View) (model.Writes, error) {
	return editQuestion(v, c.ID, c.Base, "medicine.done.question-change", func(s *StoredQuestion) *model.Refusal {
		s.Words = c.Words
		if s.Answer != nil {
			answer := *s.Answer
			answer.Said, s.Answer = strings.TrimSpace(c.Said), &answer
		}
		return nil
	})
}

// AnswerQuestion notes what a vet answered, without a visit: by telephone, in a letter.
type AnswerQuestion struct {
	ID   QuestionID
	Base uint32
	At   model.Moment
	By   model.PersonID
	Said string
}

// Name is "medicine.question-answer".
func (AnswerQuestion) Name() string { return "medicine.question-answer" }

// Plan closes the question with the answer. One that is not open is refused.
func (c AnswerQuestion) Plan(v model.View) (model.Writes, error) {
	return editQuestion(v, c.ID, c.Base, "medicine.done.question-answer", func(s *StoredQuestion) *model.Refusal {
		r := s.closed("answer", c.Said)
		s.Answer = &VetsAnswer{Answer: Answer{At: c.At, By: c.By, Said: strings.TrimSpace(c.Said)}}
		return r
	})
}

// WithdrawQuestion says that a question is not asked any more.
type WithdrawQuestion struct {
	ID   QuestionID
	Base uint32
	At   model.Moment
	By   model.PersonID
	Why  string // need not be said
}

// Name is "medicine.question-withdraw".
func (WithdrawQuestion) Name() string { return "medicine.question-withdraw" }

// Plan closes the question without an answer. One that is not open is refused.
func (c WithdrawQuestion) Plan(v model.View) (model.Writes, error) {
	return editQuestion(v, c.ID, c.Base, "medicine.done.question-withdraw", func(s *StoredQuestion) *model.Refusal {
		r := s.closed("why", c.Why)
		s.Withdrawn = &Withdrawal{At: c.At, By: c.By, Why: strings.TrimSpace(c.Why)}
		return r
	})
}

// ReopenQuestion takes back that a question was answered or withdrawn; the revision before
// keeps what stood there.
type ReopenQuestion struct {
	ID   QuestionID
	Base uint32
}

// Name is "medicine.question-reopen".
func (ReopenQuestion) Name() string { return "medicine.question-reopen" }

// Plan writes the question as open. One that is open is refused.
func (c ReopenQuestion) Plan(v model.View) (model.Writes, error) {
	return editQuestion(v, c.ID, c.Base, "medicine.done.question-reopen", func(s *StoredQuestion) *model.Refusal {
		if s.Open() {
			return mend("question", s.Words, "question.open", nil)
		}
		s.Answer, s.Withdrawn = nil, nil
		return nil
	})
}

// closed refuses a second word on a question.
func (s StoredQuestion) closed(field, value string) *model.Refusal {
	switch {
	case s.Answer != nil:
		return mend(field, value, "question.answered", map[string]model.Gap{"Question": model.TextGap(s.Words), "Day": model.DayGap(s.Answer.At.Day())})
	case s.Withdrawn != nil:
		return mend(field, value, "question.withdrawn", map[string]model.Gap{"Question": model.TextGap(s.Words), "Day": model.DayGap(s.Withdrawn.At.Day())})
	}
	return nil
}

func editQuestion(v model.View, id QuestionID, base uint32, done string, change func(*StoredQuestion) *model.Refusal) (model.Writes, error) {
	s, err := FindQuestion(v, id)
	if err != nil {
		return model.Writes{}, err
	}
	s.Revision = base
	if r := change(&s); r != nil {
		return model.Writes{}, r
	}
	return s.write(v, done)
}

func (s StoredQuestion) write(v model.View, done string) (model.Writes, error) {
	s.Words = strings.Join(strings.Fields(s.Words), " ")
	if r := s.Check(v.Now()); r != nil {
		return model.Writes{}, r
	}
	of, err := readSubject(v, s.Animal)
	if err != nil && !errors.Is(err, model.ErrNotFound) {
		return model.Writes{}, err
	}
	d, err := s.document()
	return model.Writes{Put: []model.Document{d}, Label: model.Label{Key: done, Gaps: map[string]model.Gap{"Animal": model.TextGap(of.Name)}}}, err
}
