package medicine

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
)

// Prescribe notes what a vet prescribed.
type Prescribe struct {
	Tables    *knowledge.Tables
	Animal    model.AnimalID
	At        model.Moment
	By        model.PersonID
	Confirmed model.Confirmed
	Prescription
}

// Name is "medicine.prescribe".
func (Prescribe) Name() string { return "medicine.prescribe" }

// Plan writes the prescription with the last weight of the animal. It is refused without
// a person who is a vet, and asks about a dose of more than the tables' millilitres per
// kilogram.
func (c Prescribe) Plan(v model.View) (model.Writes, error) {
	s := Stored{ID: PrescriptionID{v.NewID()}, Prescribed: c.At, By: c.By, Animal: c.Animal, Prescription: c.Prescription}
	s.Doses, s.Ended = nil, nil
	if r := past("day", c.At, v.Now()); r != nil {
		return model.Writes{}, r
	}
	of, err := readSubject(v, s.Animal)
	if err != nil {
		return model.Writes{}, err
	}
	if of.gone(c.At.Day()) {
		return model.Writes{}, of.refusal("day", c.At.Day())
	}
	return s.fresh(v, c.Tables, c.Confirmed, "medicine.done.prescribe")
}

// fresh writes a prescription as it is now on paper.
func (s Stored) fresh(v model.View, t *knowledge.Tables, c model.Confirmed, done string) (model.Writes, error) {
	w, weighed, err := LastWeight(v, s.Animal, EndOf(s.Prescribed))
	if err != nil {
		return model.Writes{}, err
	}
	s.Mass, s.Weighed = model.Mass{}, model.Date{}
	if weighed {
		s.Mass, s.Weighed = w.Mass, model.Date{Day: w.At.Day(), Precision: model.ToDay}
	}
	s.tidy()
	if r := first(s.Check(v.Now()), s.asks(t, c)); r != nil {
		return model.Writes{}, r
	}
	if err := isVet(v, s.Vet, "medicine.no-vet"); err != nil {
		return model.Writes{}, err
	}
	if err := s.ofVisit(v); err != nil {
		return model.Writes{}, err
	}
	return s.write(v, done, nil)
}

// ofVisit wants the visit at which it was written, where one is named, to be one of the
// animal that was held by then. One that was taken out since stays named.
func (s Stored) ofVisit(v model.View) error {
	if s.Visit.IsZero() {
		return nil
	}
	visit, err := FindVisit(v, s.Visit)
	switch {
	case errors.Is(err, model.ErrNotFound):
		return nil
	case err != nil:
		return err
	case visit.Animal != s.Animal || visit.Held == nil || visit.At.Day() > s.Prescribed.Day():
		return mend("visit", visit.At.Day().String(), "medicine.visit-other", map[string]model.Gap{"Day": model.DayGap(s.Prescribed.Day())})
	}
	return nil
}

func (s *Stored) tidy() {
	s.Medicine, s.Reason, s.Words = strings.Join(strings.Fields(s.Medicine), " "), strings.TrimSpace(s.Reason), strings.TrimSpace(s.Words)
	s.Pack.Lot = strings.Join(strings.Fields(s.Pack.Lot), " ")
	s.Steps = slices.Clone(s.Steps)
	for i := range s.Steps {
		s.Steps[i].Words = strings.TrimSpace(s.Steps[i].Words)
	}
}

// Change puts right what was noted of a prescription, or what the vet has changed since;
// the revision before keeps what stood there. The words on its doses stay.
type Change struct {
	Tables    *knowledge.Tables
	ID        PrescriptionID
	Base      uint32
	At        model.Moment
	Confirmed model.Confirmed
	Prescription
}

// Name is "medicine.change".
func (Change) Name() string { return "medicine.change" }

// Plan writes the prescription anew, by the rules of a new one. A plan that no longer
// has a dose of which something was said is refused.
func (c Change) Plan(v model.View) (model.Writes, error) {
	s, err := Find(v, c.ID)
	if err != nil {
		return model.Writes{}, err
	}
	if r := s.closed(); r != nil {
		return model.Writes{}, r
	}
	doses := s.Doses
	s.Revision, s.Prescribed, s.Prescription = c.Base, c.At, c.Prescription
	s.Doses, s.Ended = doses, nil
	return s.fresh(v, c.Tables, c.Confirmed, "medicine.done.change")
}

func (s Stored) closed() *model.Refusal {
	if s.Open() {
		return nil
	}
	return mend("medicine", s.Medicine, "medicine.over", map[string]model.Gap{"Medicine": model.TextGap(s.Medicine), "Day": model.DayGap(s.Ended.At.Day())})
}

// Tell says what became of one planned dose: it was given, left out or missed. Mass is
// a weight taken for it, which is noted as well; without one the last stored counts.
type Tell struct {
	Tables    *knowledge.Tables
	ID        PrescriptionID
	Base      uint32
	Number    int // of the plan
	Did       Did
	At        model.Moment
	By        model.PersonID
	Mass      model.Mass
	Heaviest  model.Mass // of the species; zero: not known
	Again     model.Mass // as typed a second time, where that was asked for
	Site      int        // percent of the body; 0: not said
	Why, Note string
	Confirmed model.Confirmed
}

// Name is "medicine.dose".
func (Tell) Name() string { return "medicine.dose" }

// Plan writes the word on the dose. One of which something was said already is refused.
// It asks where the weight is old, unless the vet does not want the animal lifted, where
// the scale that it was taken on failed its check, where the volume is too small to be measured, and where a dose is given before or after its
// time or twice.
func (c Tell) Plan(v model.View) (model.Writes, error) {
	s, err := Find(v, c.ID)
	if err != nil {
		return model.Writes{}, err
	}
	of, err := readSubject(v, s.Animal)
	if err != nil {
		return model.Writes{}, err
	}
	d := Dose{Number: c.Number, Did: c.Did, At: c.At, By: c.By, Why: strings.TrimSpace(c.Why), Note: strings.TrimSpace(c.Note)}
	if c.Did != LeftOut {
		d.Why = ""
	}
	if r := first(s.closed(), past("day", c.At, v.Now()), s.said(c.Number)); r != nil {
		return model.Writes{}, r
	}
	s.Revision = c.Base
	plan := s.Plan()
	if c.Number < 1 || c.Number > len(plan) {
		return model.Writes{}, s.checkDose(d, v.Now())
	}
	var more model.Writes
	if c.Did == Given {
		if of.gone(c.At.Day()) {
			return model.Writes{}, of.refusal("day", c.At.Day())
		}
		d.Site = c.Site
		if more, err = c.draw(v, s, plan[c.Number-1], &d); err != nil {
			return model.Writes{}, err
		}
		if r := first(s.checkDose(d, v.Now()), s.timely(plan, d, c.Confirmed), site(c.Tables, d, c.Confirmed)); r != nil {
			return model.Writes{}, r
		}
	}
	s.Doses = append(slices.Clip(s.Doses), d)
	slices.SortFunc(s.Doses, func(a, b Dose) int { return a.Number - b.Number })
	w, err := s.write(v, "medicine.done."+string(c.Did), map[string]model.Gap{"Number": model.CountGap(c.Number), "Count": model.CountGap(len(plan))})
	w.Put = append(w.Put, more.Put...)
	return w, err
}

// draw works out the volume of a dose, and notes the weight that was taken for it.
func (c Tell) draw(v model.View, s Stored, one Planned, d *Dose) (more model.Writes, err error) {
	if s.Form == InWords {
		return more, nil
	}
	weight, weighed, err := LastWeight(v, s.Animal, EndOf(c.At))
	if err != nil {
		return more, err
	}
	if !c.Mass.IsZero() {
		weight, weighed = care.Weighed{At: c.At, Weight: care.Weight{Mass: c.Mass}}, true
		more, err = care.Weigh{About: care.About{Animal: s.Animal, At: c.At, By: c.By, Confirmed: c.Confirmed}, Weight: weight.Weight, Heaviest: c.Heaviest, Again: c.Again}.Plan(v)
		if err != nil {
			return more, err
		}
	}
	if s.Form == PerKilogram {
		if !weighed {
			return more, mend("mass", "", "medicine.no-weight", nil)
		}
		d.Mass, d.Weighed = weight.Mass, model.Date{Day: weight.At.Day(), Precision: model.ToDay}
		scales, err := husbandry.ReadScales(v)
		if err != nil {
			return more, err
		}
		if scale, doubtful := scales.Doubts(weight.With, weight.At); doubtful {
			if r := deliberate(c.Confirmed, "mass", "", "medicine.weight-doubtful", map[string]model.Gap{"Mass": model.MassGap(weight.Mass), "Scale": model.TextGap(scale)}); r != nil {
				return more, r
			}
		}
		if !s.NotLifted && Old(c.Tables, weight.At.Day(), c.At.Day()) {
			if r := ask(c.Confirmed, "mass", "", "medicine.weight-old", map[string]model.Gap{"Mass": model.MassGap(weight.Mass), "Day": model.DayGap(weight.At.Day()), "Days": model.CountGap(c.Tables.Value(knowledge.ValueDoseWeightOld))}); r != nil {
				return more, r
			}
		}
	}
	drawn := s.Draw(c.Tables, one.Step, weight.Mass, weight.At.Day())
	d.Drawn = drawn.Drawn
	if drawn.Small {
		gaps := map[string]model.Gap{"Volume": model.CountGap(int(nearest(drawn.Exact.Mul(decimal.New(1000, 0)), decimal.New(1, 0)))), "Least": model.CountGap(c.Tables.Value(knowledge.ValueDoseSmallest))}
		if r := ask(c.Confirmed, "dose", "", "medicine.small", gaps); r != nil {
			return more, r
		}
	}
	return more, nil
}

// said refuses a second word on a dose.
func (s Stored) said(number int) *model.Refusal {
	d, there := s.Dose(number)
	if !there {
		return nil
	}
	return mend("dose", "", "medicine.said", map[string]model.Gap{"Number": model.CountGap(number), "Did": model.KeyGap("medicine.did." + string(d.Did)), "Day": model.DayGap(d.At.Day())})
}

// timely asks where a dose is given before its day or long after it, or so soon after
// another that one of them may be one too many.
func (s Stored) timely(plan []Planned, d Dose, c model.Confirmed) *model.Refusal {
	one := plan[d.Number-1]
	every := s.Steps[one.Step].Every
	at, day := minutesOf(d.At), d.At.Day()
	gaps := map[string]model.Gap{"Number": model.CountGap(d.Number), "Day": model.DayGap(one.Day)}
	for _, other := range s.Doses {
		if other.Did != Given || other.Number == d.Number {
			continue
		}
		apart := at - minutesOf(other.At)
		near := max(apart, -apart) < int64(every)*60/2 && other.At.Precision == model.ToMinute && d.At.Precision == model.ToMinute
		if near || !one.Clock && other.At.Day() == day {
			return deliberate(c, "day", day.String(), "medicine.twice", map[string]model.Gap{"Number": model.CountGap(other.Number), "Day": model.DayGap(other.At.Day())})
		}
	}
	hours := int64(every) * 60 / 2
	switch {
	case day < one.Day && (!one.Clock || one.at()-at > hours):
		return deliberate(c, "day", day.String(), "medicine.early", gaps)
	case day > one.Day && (!one.Clock || at-one.at() > hours):
		return deliberate(c, "day", day.String(), "medicine.late", gaps)
	}
	return nil
}

func site(t *knowledge.Tables, d Dose, c model.Confirmed) *model.Refusal {
	most := t.Value(knowledge.ValueDoseSite)
	if d.Site <= most {
		return nil
	}
	return ask(c, "site", fmt.Sprint(d.Site), "medicine.site-far", map[string]model.Gap{"Most": model.CountGap(most)})
}

// TakeBack takes back the word on a dose; the revision before keeps it.
type TakeBack struct {
	ID     PrescriptionID
	Base   uint32
	Number int
}

// Name is "medicine.take-back".
func (TakeBack) Name() string { return "medicine.take-back" }

// Plan writes the course without that word.
func (c TakeBack) Plan(v model.View) (model.Writes, error) {
	return edit(v, c.ID, c.Base, "medicine.done.take-back", func(s *Stored, gaps map[string]model.Gap) *model.Refusal {
		if _, said := s.Dose(c.Number); !said {
			return mend("dose", "", "medicine.unsaid", map[string]model.Gap{"Number": model.CountGap(c.Number)})
		}
		gaps["Number"] = model.CountGap(c.Number)
		s.Doses = slices.DeleteFunc(slices.Clone(s.Doses), func(d Dose) bool { return d.Number == c.Number })
		return nil
	})
}

// AnswerMissed notes what the vet said of a dose that was missed.
type AnswerMissed struct {
	ID     PrescriptionID
	Base   uint32
	Number int
	At     model.Moment
	By     model.PersonID
	Said   string
}

// Name is "medicine.answer".
func (AnswerMissed) Name() string { return "medicine.answer" }

// Plan writes the vet's word.
func (c AnswerMissed) Plan(v model.View) (model.Writes, error) {
	return edit(v, c.ID, c.Base, "medicine.done.answer", func(s *Stored, gaps map[string]model.Gap) *model.Refusal {
		gaps["Number"] = model.CountGap(c.Number)
		return s.answer(c.Number, Answer{At: c.At, By: c.By, Said: strings.TrimSpace(c.Said)})
	})
}

// answer puts the vet's word to a missed dose.
func (s *Stored) answer(number int, a Answer) *model.Refusal {
	s.Doses = slices.Clone(s.Doses)
	for i, d := range s.Doses {
		if d.Number == number && d.Did == Missed {
			s.Doses[i].Answer = &a
			return nil
		}
	}
	return mend("dose", "", "medicine.not-missed", map[string]model.Gap{"Number": model.CountGap(number)})
}

// End says that a course is over.
type End struct {
	ID   PrescriptionID
	Base uint32
	At   model.Moment
	By   model.PersonID
	Why  Why
	Note string
}

// Name is "medicine.end".
func (End) Name() string { return "medicine.end" }

// Plan writes the course as over. That the plan is through is refused while a planned
// dose is without a word.
func (c End) Plan(v model.View) (model.Writes, error) {
	return edit(v, c.ID, c.Base, "medicine.done.end", func(s *Stored, _ map[string]model.Gap) *model.Refusal {
		if next, left := s.Next(); left && c.Why == Finished {
			return mend("why", string(c.Why), "medicine.not-through", map[string]model.Gap{"Number": model.CountGap(next.Number), "Day": model.DayGap(next.Day)})
		}
		s.Ended = &Ended{At: c.At, By: c.By, Why: c.Why, Note: strings.TrimSpace(c.Note)}
		return nil
	})
}

// Remove takes a prescription out that should not stand there. Its revisions stay.
type Remove struct{ ID PrescriptionID }

// Name is "medicine.remove".
func (Remove) Name() string { return "medicine.remove" }

// Plan removes the prescription.
func (c Remove) Plan(v model.View) (model.Writes, error) {
	s, err := Find(v, c.ID)
	if err != nil {
		return model.Writes{}, err
	}
	label, err := s.label(v, "medicine.done.remove", nil)
	return model.Writes{Remove: []model.ID{c.ID.ID}, Label: label}, err
}

// Commands are the commands of this package, one of each, empty.
func Commands() []model.Command {
	return []model.Command{Prescribe{}, Change{}, Tell{}, TakeBack{}, AnswerMissed{}, End{}, Remove{},
		PlanVisit{}, AskQuestion{}, ChangeQuestion{}, AnswerQuestion{}, WithdrawQuestion{}, ReopenQuestion{}}
}

// edit changes a course that goes on, by the rules of new ones.
func edit(v model.View, id PrescriptionID, base uint32, done string, change func(*Stored, map[string]model.Gap) *model.Refusal) (model.Writes, error) {
	s, err := Find(v, id)
	if err != nil {
		return model.Writes{}, err
	}
	if r := s.closed(); r != nil {
		return model.Writes{}, r
	}
	s.Revision = base
	gaps := map[string]model.Gap{}
	if r := change(&s, gaps); r != nil {
		return model.Writes{}, r
	}
	return s.write(v, done, gaps)
}

func (s Stored) write(v model.View, done string, gaps map[string]model.Gap) (model.Writes, error) {
	if r := s.Check(v.Now()); r != nil {
		return model.Writes{}, r
	}
	label, err := s.label(v, done, gaps)
	if err != nil {
		return model.Writes{}, err
	}
	d, err := s.document()
	return model.Writes{Put: []model.Document{d}, Label: label}, err
}

func (s Stored) label(v model.View, done string, gaps map[string]model.Gap) (model.Label, error) {
	of, err := readSubject(v, s.Animal)
	if err != nil && !errors.Is(err, model.ErrNotFound) {
		return model.Label{}, err
	}
	all := map[string]model.Gap{"Animal": model.TextGap(of.Name), "Medicine": model.TextGap(s.Medicine)}
	for name, gap := range gaps {
		all[name] = gap
	}
	return model.Label{Key: done, Gaps: all}, nil
}
