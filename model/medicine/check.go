package medicine

import (
	"slices"
	"strconv"
	"strings"

	"coilward/model"
	"coilward/model/knowledge"
)

// The most signs of a line and of words, the most steps of a course, the most photos,
// the longest time from one dose to the next in hours, and the longest course in days.
const (
	MaxLine   = 200
	MaxWords  = 10_000
	MaxSteps  = 12
	MaxPhotos = 20
	MaxEvery  = 24 * 120
	MaxDays   = 366
)

// maxMillionths is the most of any amount: 100,000 of its unit.
const maxMillionths = 100_000_000_000

func mend(field, value, reason string, gaps map[string]model.Gap) *model.Refusal {
	return &model.Refusal{Field: field, Value: value, Reason: reason, Gaps: gaps, Answer: model.Mend}
}

func ask(c model.Confirmed, field, value, reason string, gaps map[string]model.Gap) *model.Refusal {
	if c.Has(reason) {
		return nil
	}
	return &model.Refusal{Field: field, Value: value, Reason: reason, Gaps: gaps, Answer: model.Confirm}
}

// deliberate asks what is not to be said by habit.
func deliberate(c model.Confirmed, field, value, reason string, gaps map[string]model.Gap) *model.Refusal {
	r := ask(c, field, value, reason, gaps)
	if r != nil {
		r.Answer = model.Deliberate
	}
	return r
}

// past wants a day that is known and does not lie ahead.
func past(field string, at, now model.Moment) *model.Refusal {
	switch value := at.Day().String(); {
	case at.IsZero():
		return mend(field, "", "day.empty", nil)
	case at.Precision == model.ToMonth || at.Precision == model.ToYear:
		return mend(field, value, "day.vague", nil)
	case at.Day() > now.Day() || (at.Precision == model.ToMinute || at.Precision == "") && at.UTC > now.UTC+60:
		return mend(field, value, "day.future", map[string]model.Gap{"Today": model.DayGap(now.Day())})
	}
	return nil
}

func empty(field, value string, most int) *model.Refusal {
	if strings.TrimSpace(value) == "" {
		return mend(field, "", "text.empty", nil)
	}
	return model.CheckLine(field, value, most)
}

// first is the first of some refusals that is one.
func first(all ...*model.Refusal) *model.Refusal {
	for _, r := range all {
		if r != nil {
			return r
		}
	}
	return nil
}

// Check tells what of the prescription cannot stand; nil if nothing. now is the present
// moment. It goes by the order in which a form asks, so that what stands above comes first.
func (s Stored) Check(now model.Moment) *model.Refusal {
	if r := first(s.checkHead(now), s.checkAmounts(), s.checkSteps(), s.checkDays(), s.checkPlan(), model.CheckLine("lot", s.Pack.Lot, MaxLot), s.checkWords()); r != nil {
		return r
	}
	for i, d := range s.Doses {
		if i > 0 && d.Number <= s.Doses[i-1].Number {
			return mend("dose", strconv.Itoa(d.Number), "choice.unknown", nil)
		}
		if r := s.checkDose(d, now); r != nil {
			return r
		}
	}
	return s.checkEnded(now)
}

// checkHead wants what is given, by whose word, since when and how.
func (s Stored) checkHead(now model.Moment) *model.Refusal {
	if s.Animal.IsZero() {
		return mend("name", "", "medicine.nobody", nil)
	}
	if r := first(empty("medicine", s.Medicine, MaxLine), model.CheckLine("reason", s.Reason, MaxLine)); r != nil {
		return r
	}
	if s.Vet.IsZero() {
		return mend("vet", "", "medicine.no-vet", nil)
	}
	if r := past("day", s.Prescribed, now); r != nil {
		return r
	}
	switch {
	case !slices.Contains(Forms(), s.Form):
		return mend("form", string(s.Form), "choice.unknown", nil)
	case !slices.Contains(Routes(), s.Route):
		return mend("route", string(s.Route), "medicine.no-route", nil)
	}
	return nil
}

// checkWords wants what else the vet said within its bounds, and said where nothing else
// tells how it is given.
func (s Stored) checkWords() *model.Refusal {
	switch r := model.CheckText("words", s.Words, MaxWords); {
	case r != nil:
		return r
	case s.Route == OtherRoute && strings.TrimSpace(s.Words) == "":
		return mend("words", "", "medicine.route-words", nil)
	case len(s.Photos) > MaxPhotos:
		return mend("photo", strconv.Itoa(len(s.Photos)), "photo.many", map[string]model.Gap{"Most": model.CountGap(MaxPhotos)})
	}
	return nil
}

func (s Stored) checkAmounts() *model.Refusal {
	c := s.Concentration
	switch {
	case s.Form != PerKilogram && (!c.IsZero() || s.Measure != ""):
		return mend("concentration", c.Typed, "medicine.no-use", nil)
	case s.Form != PerKilogram:
		return nil
	case s.Measure != Milligrams && s.Measure != Millilitres:
		return mend("dose", string(s.Measure), "choice.unknown", nil)
	case s.Measure == Millilitres && !c.IsZero():
		return mend("concentration", c.Typed, "medicine.no-use", nil)
	case s.Measure == Milligrams && c.IsZero():
		return mend("concentration", c.Typed, "medicine.no-concentration", nil)
	case s.Measure == Milligrams && (c.Millionths < 0 || c.Millionths > maxMillionths):
		return mend("concentration", c.Typed, "medicine.range", nil)
	}
	return nil
}

// checkDays wants the days of a course in their order.
func (s Stored) checkDays() *model.Refusal {
	begins, prescribed := s.Begins.Day(), s.Prescribed.Day()
	switch value := begins.String(); {
	case s.Begins.IsZero():
		return mend("begins", "", "day.empty", nil)
	case s.Begins.Precision == model.ToMonth || s.Begins.Precision == model.ToYear:
		return mend("begins", value, "day.vague", nil)
	case begins < prescribed:
		return mend("begins", value, "medicine.begins-before", map[string]model.Gap{"Day": model.DayGap(prescribed)})
	case begins > prescribed+MaxDays:
		return mend("begins", value, "medicine.far", map[string]model.Gap{"Most": model.DayGap(prescribed + MaxDays)})
	}
	for _, end := range []struct {
		field, reason string
		date          model.Date
		from          model.Day
	}{{"last-day", "medicine.stop-before", s.Last, begins}, {"recheck", "medicine.recheck-before", s.Recheck, prescribed}} {
		switch value := end.date.Day.String(); {
		case end.date.IsZero():
		case end.date.Precision != model.ToDay:
			return mend(end.field, value, "day.vague", nil)
		case end.date.Day < end.from:
			return mend(end.field, value, end.reason, map[string]model.Gap{"Day": model.DayGap(end.from)})
		case end.date.Day > end.from+MaxDays:
			return mend(end.field, value, "medicine.far", map[string]model.Gap{"Most": model.DayGap(end.from + MaxDays)})
		}
	}
	return nil
}

func (s Stored) checkSteps() *model.Refusal {
	if n := len(s.Steps); n == 0 || n > MaxSteps {
		return mend("steps", strconv.Itoa(n), "medicine.steps", map[string]model.Gap{"Most": model.CountGap(MaxSteps)})
	}
	for i, step := range s.Steps {
		last := i+1 == len(s.Steps)
		number := map[string]model.Gap{"Step": model.CountGap(i + 1)}
		switch value := strconv.Itoa(step.Day); {
		case i == 0 && step.Day != 1:
			return mend("from-day", value, "medicine.first-day", nil)
		case i > 0 && step.Day <= s.Steps[i-1].Day || step.Day > MaxDays:
			return mend("from-day", value, "medicine.step-order", number)
		case step.Times < 0 || step.Times > MaxDoses:
			return mend("times", strconv.Itoa(step.Times), "medicine.times", map[string]model.Gap{"Most": model.CountGap(MaxDoses), "Step": model.CountGap(i + 1)})
		case step.Times == 0 && last && s.Last.IsZero():
			return mend("times", "", "medicine.no-end", number)
		case step.Times != 1 && (step.Every <= 0 || step.Every > MaxEvery):
			return mend("every", strconv.Itoa(step.Every), "medicine.every", map[string]model.Gap{"Most": model.CountGap(MaxEvery / day), "Step": model.CountGap(i + 1)})
		case step.Times == 1 && step.Every != 0:
			return mend("every", strconv.Itoa(step.Every), "medicine.one-every", number)
		}
		if r := s.checkStep(step); r != nil {
			if r.Gaps == nil {
				r.Gaps = number
			}
			r.Gaps["Step"] = number["Step"]
			return r
		}
	}
	return nil
}

func (s Stored) checkStep(step Step) *model.Refusal {
	if s.Form == InWords {
		if !step.Dose.IsZero() {
			return mend("dose", step.Dose.Typed, "medicine.no-use", nil)
		}
		return empty("what-is-done", step.Words, MaxLine)
	}
	switch d := step.Dose; {
	case d.IsZero():
		return mend("dose", d.Typed, "medicine.no-dose", nil)
	case d.Millionths < 0 || d.Millionths > maxMillionths:
		return mend("dose", d.Typed, "medicine.range", nil)
	case s.Form == Volume && d.Millionths%1000 != 0:
		return mend("dose", d.Typed, "medicine.too-fine", nil)
	}
	return model.CheckLine("what-is-done", step.Words, MaxLine)
}

// checkPlan wants each step to be over before the next begins, and all before the last
// day.
func (s Stored) checkPlan() *model.Refusal {
	plan := s.Plan()
	if len(plan) > MaxDoses {
		return mend("times", strconv.Itoa(len(plan)), "medicine.times", map[string]model.Gap{"Most": model.CountGap(MaxDoses)})
	}
	for i, one := range plan {
		switch {
		case i > 0 && one.at() <= plan[i-1].at():
			return mend("from-day", strconv.Itoa(s.Steps[one.Step].Day), "medicine.step-order", map[string]model.Gap{"Step": model.CountGap(one.Step + 1)})
		case !s.Last.IsZero() && one.Day > s.Last.Day:
			return mend("last-day", s.Last.Day.String(), "medicine.stop-early", map[string]model.Gap{"Number": model.CountGap(one.Number), "Day": model.DayGap(one.Day)})
		case one.Day > s.Begins.Day()+MaxDays:
			return mend("times", strconv.Itoa(s.Steps[one.Step].Times), "medicine.long", map[string]model.Gap{"Most": model.CountGap(MaxDays)})
		}
	}
	return nil
}

func (s Stored) checkDose(d Dose, now model.Moment) *model.Refusal {
	value := strconv.Itoa(d.Number)
	switch {
	case d.Number < 1 || d.Number > len(s.Plan()):
		return mend("dose", value, "medicine.no-such-dose", map[string]model.Gap{"Count": model.CountGap(len(s.Plan()))})
	case !slices.Contains(Dids(), d.Did):
		return mend("did", string(d.Did), "choice.unknown", nil)
	case d.Site < 0 || d.Site > 100:
		return mend("site", strconv.Itoa(d.Site), "medicine.site", nil)
	case d.Site != 0 && !s.Route.Injected():
		return mend("site", strconv.Itoa(d.Site), "medicine.no-use", nil)
	case d.Drawn < 0 || d.Mass.Milligrams < 0:
		return mend("mass", d.Mass.Typed, "mass.none", nil)
	case d.Did == Given && s.Form == PerKilogram && d.Mass.IsZero():
		return mend("mass", "", "medicine.no-weight", nil)
	case d.At.Day() < s.Prescribed.Day():
		return mend("day", d.At.Day().String(), "medicine.before", map[string]model.Gap{"Day": model.DayGap(s.Prescribed.Day())})
	case d.Did == LeftOut && strings.TrimSpace(d.Why) == "":
		return mend("why-left-out", "", "medicine.why", nil)
	}
	if d.Answer != nil {
		switch {
		case d.Did != Missed:
			return mend("vet-said", d.Answer.Said, "medicine.no-use", nil)
		case d.Answer.At.Day() < d.At.Day():
			return mend("day", d.Answer.At.Day().String(), "medicine.answer-before", map[string]model.Gap{"Day": model.DayGap(d.At.Day())})
		case strings.TrimSpace(d.Answer.Said) == "":
			return mend("vet-said", "", "text.empty", nil)
		}
		if r := first(past("day", d.Answer.At, now), model.CheckText("vet-said", d.Answer.Said, MaxWords)); r != nil {
			return r
		}
	}
	return first(past("day", d.At, now), model.CheckLine("why-left-out", d.Why, MaxLine), model.CheckText("note", d.Note, MaxWords))
}

func (s Stored) checkEnded(now model.Moment) *model.Refusal {
	e := s.Ended
	if e == nil {
		return nil
	}
	switch {
	case !slices.Contains(Whys(), e.Why):
		return mend("why", string(e.Why), "choice.unknown", nil)
	case e.At.Day() < s.Prescribed.Day():
		return mend("day", e.At.Day().String(), "medicine.before", map[string]model.Gap{"Day": model.DayGap(s.Prescribed.Day())})
	case (e.Why == Otherwise || e.Why == VetsWord) && strings.TrimSpace(e.Note) == "":
		return mend("note", "", "medicine.end-note", nil)
	}
	return first(past("day", e.At, now), model.CheckText("note", e.Note, MaxWords))
}

// asks is what is asked of doses that are larger than usual, for a mass.
func (s Stored) asks(t *knowledge.Tables, c model.Confirmed) *model.Refusal {
	for i, step := range s.Steps {
		if s.Large(t, i, s.Mass) {
			return ask(c, "dose", step.Dose.Typed, "medicine.large", map[string]model.Gap{"Most": model.CountGap(t.Value(knowledge.ValueDoseMost)), "Step": model.CountGap(i + 1)})
		}
	}
	return nil
}

// Sound reads the document of a prescription, a visit or a question and looks for values
// that no command would have taken. The error is a *model.Refusal where a value is at
// fault.
func Sound(d model.Document, now model.Moment) error {
	switch d.Type {
	case model.TypeVisit:
		s, err := ReadVisit(d)
		return checked(s, err, now)
	case model.TypeQuestion:
		s, err := ReadQuestion(d)
		return checked(s, err, now)
	}
	s, err := Read(d)
	return checked(s, err, now)
}

func checked(s interface {
	Check(now model.Moment) *model.Refusal
}, err error, now model.Moment) error {
	if err != nil {
		return err
	}
	if r := s.Check(now); r != nil {
		return r
	}
	return nil
}
