package animal

import (
	"cmp"
	"slices"

	"coilward/export/paper"
	"coilward/model"
	"coilward/model/medicine"
	"coilward/model/wording"
	"coilward/ui/particulars"
)

// What the days call a course of medicine, and what was said of one of its doses: parts
// of a document of their own, and no entries.
const (
	kindCourse = "prescription"
	kindDose   = "dose"
)

// toldDose is one dose as the days show it.
type toldDose struct {
	Medicine string
	Count    int // of all planned doses
	medicine.Dose
}

// addCourse puts a course on the day on which it was prescribed, and each word on one of
// its doses on its own.
func (l *Life) addCourse(d model.Document) {
	d.Kind = kindCourse
	l.Days.Entries = append(l.Days.Entries, d)
	c, err := medicine.Read(d)
	if err != nil {
		l.unread++
		return
	}
	for _, dose := range c.Doses {
		line := model.Document{Type: d.Type, ID: d.ID, Kind: kindDose, At: dose.At, By: dose.By, Subjects: d.Subjects}
		if err := line.Encode(medicine.Version, toldDose{c.Medicine, len(c.Plan()), dose}); err == nil {
			l.Days.Entries = append(l.Days.Entries, line)
		}
	}
	slices.SortStableFunc(l.Days.Entries, func(a, b model.Document) int { return cmp.Compare(b.At.UTC, a.At.UTC) })
}

// tellCourse says what was prescribed, and how far it came.
func (l *Life) tellCourse(t *wording.Text, d model.Document) (told, error) {
	c, err := medicine.Read(d)
	if err != nil {
		return told{}, err
	}
	ended := ""
	if !c.Open() {
		ended = t.Say("medicine.ended", wording.Gaps{"Day": t.DayShort(c.Ended.At.Day()), "Why": t.Say("medicine.why." + string(c.Ended.Why))})
	}
	return told{title: t.Say("medicine.day.prescribed", wording.Gaps{"Medicine": c.Medicine}), detail: joined(paper.Course(t, c.Prescription), ended), photo: first(c.Photos)}, nil
}

// tellDose says what became of a dose.
func tellDose(t *wording.Text, d model.Document) (told, error) {
	var dose toldDose
	if err := d.Decode(medicine.Version, &dose); err != nil {
		return told{}, err
	}
	line := told{title: dose.Medicine + ": " + t.Say("medicine.did."+string(dose.Did)), detail: joined(
		t.Say("medicine.day.dose", wording.Gaps{"Number": dose.Number, "Count": dose.Count}), dose.Why, firstLine(dose.Note))}
	if dose.Drawn > 0 {
		line.side = t.Microlitres(dose.Drawn)
	}
	if dose.Answer != nil {
		line.detail = joined(line.detail, t.Say("medicine.vet-said", wording.Gaps{"Day": t.DayShort(dose.Answer.At.Day()), "Said": firstLine(dose.Answer.Said)}))
	}
	line.title = particulars.Capital(line.title)
	return line, nil
}
