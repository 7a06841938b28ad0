package paper

import (
	"strconv"
	"strings"

	"coilward/model"
	"coilward/model/knowledge"
	"coilward/model/medicine"
)

// Course says in one line how a course is given, as the vet wrote it.
func Course(t Text, p medicine.Prescription) string {
	var steps []string
	for i := range p.Steps {
		steps = append(steps, courseStep(t, p, i))
	}
	line := strings.Join(steps, "; ") + ", " + t.Say("medicine.route."+string(p.Route))
	if p.Form == medicine.PerKilogram && p.Measure == medicine.Milligrams {
		line += ", " + t.Millionths(p.Concentration.Millionths) + " mg/ml"
	}
	return line
}

// courseStep says one step: what is given, how often, and from which day where the course
// has several.
func courseStep(t Text, p medicine.Prescription, i int) string {
	s := p.Steps[i]
	say := s.Words
	switch p.Form {
	case medicine.Volume:
		say = joinedBy(t.Millionths(s.Dose.Millionths)+" ml", s.Words)
	case medicine.PerKilogram:
		say = joinedBy(t.Millionths(s.Dose.Millionths)+" "+string(p.Measure)+"/kg", s.Words)
	}
	if s.Times != 1 {
		between := " "
		if s.Words != "" { // words of the vet are told apart from how often
			between = ", "
		}
		say += between + t.Interval(s.Every)
	}
	if s.Times > 0 {
		say += ", " + t.Count("medicine.times", s.Times)
	}
	if len(p.Steps) > 1 {
		say = t.Say("medicine.from-day", gaps{"Day": strconv.Itoa(s.Day)}) + ": " + say
	}
	return say
}

func joinedBy(a, b string) string {
	if b == "" {
		return a
	}
	return a + ", " + b
}

// Volume is the volume of a step as a syringe shows it; empty where there is none, or none
// can be worked out.
func Volume(t Text, tables *knowledge.Tables, p medicine.Prescription, step int, mass model.Mass) string {
	if p.Form == medicine.InWords || p.Form == medicine.PerKilogram && mass.IsZero() {
		return ""
	}
	return t.Microlitres(p.Draw(tables, step, mass, 0).Drawn)
}

// Arithmetic says how the volume of a dose by weight was worked out, and what it comes
// to once it is rounded; empty where nothing is to be worked out.
func Arithmetic(t Text, tables *knowledge.Tables, p medicine.Prescription, step int, mass model.Mass, weighed model.Day) string {
	if p.Form != medicine.PerKilogram || mass.IsZero() {
		return ""
	}
	d := p.Draw(tables, step, mass, weighed)
	words := gaps{"Dose": t.Millionths(p.Steps[step].Dose.Millionths) + " " + string(p.Measure) + "/kg", "Mass": t.Millionths(mass.Milligrams) + " kg",
		"Exact": t.Millionths(d.Exact.Shift(6).IntPart()) + " ml", "Day": t.DayShort(weighed)}
	key := "medicine.worked-out-fluid"
	if p.Measure == medicine.Milligrams {
		key = "medicine.worked-out"
		words["Concentration"] = t.Millionths(p.Concentration.Millionths) + " mg/ml"
	}
	line := t.Say(key, words)
	if d.Mark > 0 {
		line += " " + t.Say("medicine.rounded", gaps{"Mark": t.Microlitres(d.Mark), "Drawn": t.Microlitres(d.Drawn), "Implied": t.Decimal((d.Implied+5_000)/10_000, 2) + " " + string(p.Measure) + "/kg", "Off": signed(t, d.Off)})
	}
	return line
}

// signed is a share in tenths of a percent with its sign.
func signed(t Text, tenths int64) string {
	sign := ""
	if tenths > 0 {
		sign = "+"
	}
	return sign + t.Percent(int(tenths*10))
}

// Doses says how many doses of a course were given, left out and missed by now.
func Doses(t Text, p medicine.Prescription, now model.Moment) string {
	tally := p.Tally(now)
	said := []string{t.Say("medicine.tally", gaps{"Given": strconv.Itoa(tally.Given), "Planned": strconv.Itoa(tally.Planned)})}
	for _, part := range []struct {
		key string
		n   int
	}{{"medicine.tally-left-out", tally.LeftOut}, {"medicine.tally-missed", tally.Missed}, {"medicine.tally-unsaid", tally.Unsaid}} {
		if part.n > 0 {
			said = append(said, t.Say(part.key, gaps{"Count": strconv.Itoa(part.n)}))
		}
	}
	return strings.Join(said, ", ")
}
