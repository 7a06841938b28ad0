package paper

import (
	"fmt"
	"strconv"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/due"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/medicine"
)

// Prescribed is a course with the name of the vet who prescribed it; empty: not to be
// named, or no longer there.
type Prescribed struct {
	Vet string
	medicine.Stored
}

// addCourse takes one course; they come newest first.
func (g *Gathered) addCourse(d model.Document, names map[model.PersonID]string) {
	s, err := medicine.Read(d)
	if err != nil {
		g.facts.Unknown[string(d.Type)]++
		return
	}
	g.facts.Courses = append([]Prescribed{{names[s.Vet], s}}, g.facts.Courses...)
}

// courseTable are the courses as the vet wrote them, and how many of their doses were
// given. It declares what was noted, and judges none of it.
func (r record) courseTable() Table {
	t := Table{Columns: []Column{r.column("paper.table.day", dayWidth), r.whatColumn(), r.noteColumn()}}
	backwards(newest(r.Courses, printedEntries), func(c Prescribed) {
		what := Strong(Clean(c.Medicine)) + ": " + Clean(Course(r.text, c.Prescription)) + "\n" + r.prescriber(c) + "; " + Doses(r.text, c.Prescription, r.Issued)
		note := Clean(c.Reason)
		if c.Ended != nil {
			note = joinedBy(r.say("medicine.ended", gaps{"Day": r.text.DayShort(c.Ended.At.Day()), "Why": r.say("medicine.why." + string(c.Ended.Why))}), note)
		}
		t.Rows = append(t.Rows, []Cell{{Text: r.text.Day(c.Prescribed.Day())}, {Text: what}, {Text: note}})
	})
	return t
}

func (r record) prescriber(c Prescribed) string {
	if c.Vet == "" {
		return r.say("paper.medicine.by-vet")
	}
	return r.say("medicine.by", gaps{"Vet": Clean(c.Vet), "Day": r.text.DayShort(c.Prescribed.Day())})
}

// currentCourses are the courses that go on, for a vet who does not know the animal.
func (r record) currentCourses() (all []string) {
	for _, c := range r.Courses {
		if c.Open() {
			all = append(all, r.say("paper.medicine.current", gaps{"Medicine": Clean(c.Medicine), "Course": Clean(Course(r.text, c.Prescription)), "Doses": Doses(r.text, c.Prescription, r.Issued)}))
		}
	}
	return all
}

// Dosing is one dose that whoever looks after the animals gives.
type Dosing struct {
	medicine.Planned
	Course  medicine.Stored
	Count   int // of all planned doses
	Mass    model.Mass
	Weighed model.Day
	Scale   string // on which it was weighed, where that failed its check
}

// addDoses puts every planned dose of those days on its day, also those that come after
// the next one.
func (s *Sitting) addDoses(v model.View, list due.List) error {
	scales, err := husbandry.ReadScales(v)
	if err != nil {
		return fmt.Errorf("gather the doses: %w", err)
	}
	for _, owner := range list.Owners {
		if owner.Subject.Kind != model.SubjectAnimal || owner.Animal.Status == animals.OnLoan {
			continue
		}
		courses, err := medicine.Of(v, owner.Animal.ID)
		if err != nil {
			return fmt.Errorf("gather what %s is given: %w", owner.Name, err)
		}
		for _, c := range courses {
			if !c.Open() {
				continue
			}
			w, _, err := medicine.LastWeight(v, owner.Animal.ID, v.Now())
			if err != nil {
				return err
			}
			scale, doubtful := scales.Doubts(w.With, w.At)
			if !doubtful {
				scale = ""
			}
			for _, cell := range c.Calendar(v.Now()) {
				if cell.Said == nil && cell.State != medicine.Unsaid && cell.Day <= s.Until {
					s.Tasks = append(s.Tasks, Task{Day: cell.Day, Of: owner.Subject, Whom: owner.Name, Job: due.GiveDose, Dose: &Dosing{Planned: cell.Planned, Course: c, Count: len(c.Plan()), Mass: w.Mass, Weighed: w.At.Day(), Scale: scale}})
				}
			}
		}
	}
	return nil
}

// words say what is given, how much of it and how, and what is never to be done.
func (d Dosing) words(t Text, tables *knowledge.Tables) string {
	said := t.Say("paper.medicine.dose", gaps{"Medicine": Clean(d.Course.Medicine), "Number": strconv.Itoa(d.Number), "Count": strconv.Itoa(d.Count), "Course": Clean(Course(t, d.Course.Prescription))})
	if d.Clock {
		said += " " + t.Say("due.why.dose-hour", gaps{"Hour": fmt.Sprintf("%02d:%02d", d.Minutes/60, d.Minutes%60)})
	}
	if how := Arithmetic(t, tables, d.Course.Prescription, d.Step, d.Mass, d.Weighed); how != "" {
		said += "\n" + Strong(Volume(t, tables, d.Course.Prescription, d.Step, d.Mass)) + ": " + how + d.doubt(t)
	}
	for _, against := range d.against(t, tables) {
		said += "\n" + against
	}
	if d.Course.Pack.Expired(d.Day) {
		said += "\n" + Strong(t.Say("medicine.expired", gaps{"Day": d.Course.Pack.Expires}))
	}
	if d.Course.Route.Injected() {
		said += "\n" + t.Say("medicine.inject-caution")
	}
	return said + "\n" + t.Say("paper.medicine.never")
}

// against is what has to be asked of the vet before a dose is given by that weight.
func (d Dosing) against(t Text, tables *knowledge.Tables) (all []string) {
	if d.Course.Apart(tables, d.Mass) {
		all = append(all, Strong(t.Say("medicine.apart", gaps{"Before": d.Course.Mass, "Now": d.Mass}))+d.doubt(t))
	}
	switch {
	case d.Course.Form != medicine.PerKilogram:
		return all
	case d.Mass.IsZero():
		return append(all, Strong(t.Say("medicine.unweighed")))
	case d.Course.Draw(tables, d.Step, d.Mass, d.Weighed).Small:
		all = append(all, Strong(t.Say("medicine.too-small")))
	}
	if !d.Course.NotLifted && medicine.Old(tables, d.Weighed, d.Day) {
		all = append(all, Strong(t.Say("paper.medicine.weight-old", gaps{"Days": strconv.Itoa(tables.Value(knowledge.ValueDoseWeightOld))})))
	}
	return all
}

// doubt says behind what goes by its weight that the scale failed its check.
func (d Dosing) doubt(t Text) string {
	if d.Scale == "" {
		return ""
	}
	return " " + t.Say("medicine.weight-doubtful", gaps{"Scale": Clean(d.Scale)})
}
