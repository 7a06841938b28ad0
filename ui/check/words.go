package check

import (
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/body"
	"coilward/model/exam"
)

// placeWords says where a place is, as on the record: region, side and percent
// of length where it lies on trunk or tail.
func placeWords(w words, p body.Place) string {
	region := w.Say("region." + string(p.Region))
	switch p.Part {
	case body.Trunk:
		return w.Say("check.place.trunk", map[string]any{"Region": region, "Percent": p.Percent()})
	case body.Tail:
		return w.Say("check.place.tail", map[string]any{"Region": region, "Percent": p.Percent()})
	case "":
		return w.Say("check.place.whole")
	}
	return region
}

// whereWords says where a finding is, or that nobody pointed to its place.
func whereWords(w words, p body.Place, rough bool) string {
	if rough {
		return w.Say("check.rough", map[string]any{"Place": placeWords(w, p)})
	}
	return placeWords(w, p)
}

// glimpseWords says how something stood at a look: how bad, and its size.
func glimpseWords(w words, grade exam.Grade, g exam.Glimpse) string {
	if g.Size.IsZero() {
		return w.Say(grade.Key())
	}
	return w.Say("check.graded", map[string]any{"Grade": w.Say(grade.Key()), "Size": w.Length(g.Size)})
}

// sexWord is the word for the sex, empty where it is not known.
func sexWord(w words, s animals.Sex) string {
	if s == animals.SexUnknown {
		return ""
	}
	return w.Say("animals.sex." + string(s))
}

// massWord is the last mass, empty where none is noted.
func massWord(t interface{ Mass(model.Mass) string }, m model.Mass) string {
	if m.IsZero() {
		return ""
	}
	return t.Mass(m)
}
