package medicine_test

import (
	"strconv"
	"testing"

	"coilward/model"
	"coilward/model/medicine"
)

// stored is a course of ten days of an animal that stands.
func stored(change func(*medicine.Stored)) medicine.Stored {
	p := perKilogram("20", "50")
	p.Vet, p.Begins = model.PersonID{ID: model.ID{2}}, moment(1, 9)
	s := medicine.Stored{Animal: model.AnimalID{ID: model.ID{1}}, Prescribed: moment(1, 9), Prescription: p}
	change(&s)
	return s
}

func given(number, day int) medicine.Dose {
	return medicine.Dose{Number: number, Did: medicine.Given, At: moment(day, 9), Mass: model.Grams(1450), Drawn: 580}
}

// What is just possible of a course stands, and one more does not: days, doses, steps,
// amounts, photos, and what is noted of a dose and of the end.
func TestTheLimitsOfACourse(t *testing.T) {
	const most = 100_000_000_000 // millionths
	steps := func(n int) func(*medicine.Stored) {
		return func(s *medicine.Stored) {
			s.Steps = nil
			for i := range n {
				s.Steps = append(s.Steps, medicine.Step{Day: i + 1, Times: 1, Dose: amount("20")})
			}
		}
	}
	step := func(day, times, every int) func(*medicine.Stored) {
		return func(s *medicine.Stored) {
			s.Steps = []medicine.Step{{Day: day, Times: times, Every: every, Dose: amount("20")}}
		}
	}
	dose := func(d medicine.Dose) func(*medicine.Stored) {
		return func(s *medicine.Stored) { s.Doses = []medicine.Dose{d} }
	}
	site := func(route medicine.Route, site int) func(*medicine.Stored) {
		return func(s *medicine.Stored) {
			d := given(1, 1)
			d.Site = site
			s.Route, s.Doses = route, []medicine.Dose{d}
		}
	}
	photos := func(n int) func(*medicine.Stored) {
		return func(s *medicine.Stored) {
			for i := range n {
				s.Photos = append(s.Photos, model.PhotoID("0"+strconv.FormatInt(int64(i), 16)))
			}
		}
	}
	last := func(day int) func(*medicine.Stored) {
		return func(s *medicine.Stored) { s.Last = onDay(day) }
	}
	recheck := func(days int) func(*medicine.Stored) {
		return func(s *medicine.Stored) { s.Recheck = onDay(1 + days) }
	}
	missed := func(answered int) func(*medicine.Stored) {
		return dose(medicine.Dose{Number: 2, Did: medicine.Missed, At: moment(3, 9), Answer: &medicine.Answer{At: moment(answered, 9), Said: "go on"}})
	}
	ended := func(day int, why medicine.Why, note string) func(*medicine.Stored) {
		return func(s *medicine.Stored) { s.Ended = &medicine.Ended{At: moment(day, 9), Why: why, Note: note} }
	}
	for name, c := range map[string]struct {
		change func(*medicine.Stored)
		want   string // the reason; none: it stands
	}{
		"as it was prescribed":               {func(*medicine.Stored) {}, ""},
		"the most steps":                     {steps(medicine.MaxSteps), ""},
		"a step more":                        {steps(medicine.MaxSteps + 1), "medicine.steps"},
		"no step":                            {steps(0), "medicine.steps"},
		"the longest between two":            {step(1, 2, medicine.MaxEvery), ""},
		"longer between two":                 {step(1, 2, medicine.MaxEvery+1), "medicine.every"},
		"no time between two":                {step(1, 2, 0), "medicine.every"},
		"the most doses":                     {step(1, medicine.MaxDoses, 12), ""},
		"a dose more":                        {step(1, medicine.MaxDoses+1, 12), "medicine.times"},
		"less than no dose":                  {step(1, -1, 24), "medicine.times"},
		"it begins on its second day":        {step(2, 1, 0), "medicine.first-day"},
		"the last day is that of the dose":   {last(10), ""},
		"the last day is before the dose":    {last(9), "medicine.stop-early"},
		"looked at again on that day":        {recheck(0), ""},
		"looked at again before":             {recheck(-1), "medicine.recheck-before"},
		"looked at again in a year":          {recheck(medicine.MaxDays), ""},
		"looked at again later":              {recheck(medicine.MaxDays + 1), "medicine.far"},
		"the largest dose":                   {func(s *medicine.Stored) { s.Steps[0].Dose.Millionths = most }, ""},
		"a larger dose":                      {func(s *medicine.Stored) { s.Steps[0].Dose.Millionths = most + 1 }, "medicine.range"},
		"the strongest solution":             {func(s *medicine.Stored) { s.Concentration.Millionths = most }, ""},
		"a stronger solution":                {func(s *medicine.Stored) { s.Concentration.Millionths = most + 1 }, "medicine.range"},
		"a strength of less than nothing":    {func(s *medicine.Stored) { s.Concentration.Millionths = -1 }, "medicine.range"},
		"the most photos":                    {photos(medicine.MaxPhotos), ""},
		"a photo more":                       {photos(medicine.MaxPhotos + 1), "photo.many"},
		"the last dose of the plan":          {dose(given(10, 10)), ""},
		"a dose beyond the plan":             {dose(given(11, 11)), "medicine.no-such-dose"},
		"a dose of no number":                {dose(given(0, 1)), "medicine.no-such-dose"},
		"two doses in their order":           {func(s *medicine.Stored) { s.Doses = []medicine.Dose{given(1, 1), given(2, 2)} }, ""},
		"one dose twice":                     {func(s *medicine.Stored) { s.Doses = []medicine.Dose{given(1, 1), given(1, 2)} }, "choice.unknown"},
		"a needle at the tip of the tail":    {site(medicine.UnderSkin, 100), ""},
		"a needle behind it":                 {site(medicine.UnderSkin, 101), "medicine.site"},
		"a needle before the snout":          {site(medicine.UnderSkin, -1), "medicine.site"},
		"a needle by mouth":                  {site(medicine.ByMouth, 30), "medicine.no-use"},
		"the vet answered on the same day":   {missed(3), ""},
		"the vet answered the day before":    {missed(2), "medicine.answer-before"},
		"ended on the day of the begin":      {ended(1, medicine.VetsWord, "by telephone"), ""},
		"ended before it began":              {ended(0, medicine.VetsWord, "by telephone"), "medicine.before"},
		"ended by the vet, without a word":   {ended(2, medicine.VetsWord, " "), "medicine.end-note"},
		"ended otherwise, without a word":    {ended(2, medicine.Otherwise, ""), "medicine.end-note"},
		"ended otherwise, as the note says":  {ended(2, medicine.Otherwise, "it was sold"), ""},
		"ended for a reason that is unknown": {ended(2, "none such", "a note"), "choice.unknown"},
	} {
		got := ""
		if r := stored(c.change).Check(moment(31, 12)); r != nil {
			got = r.Reason
		}
		if got != c.want {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
	}
}
