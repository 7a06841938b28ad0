package due

import (
	"errors"
	"fmt"
	"strings"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/medicine"
)

// prescribed are what the book keeps of courses of medicine and of visits to a vet: what is
// due, by the animal that it is for.
type prescribed struct {
	of       map[model.AnimalID][]Obligation
	measured map[model.AnimalID]bool  // of whom a fixed volume is given
	unread   map[model.AnimalID]error // those of whom a prescription cannot be read; nobody: of whom is not known
	err      error                    // why none can be read
}

// checkPrescribed reads all prescriptions and visits anew, where a change may have touched one: they
// are few, and each holds its own doses. It reports whether anything was read.
func (b *Book) checkPrescribed(c Source) (anew bool) {
	b.marks.Lock()
	read := b.medicine
	b.medicine = false
	b.marks.Unlock()
	if !read {
		return false
	}
	if err := c.View(func(v model.View) (err error) {
		if b.courses, err = prescribedDue(v, b.tables); err != nil {
			return err
		}
		for _, due := range b.courses.of {
			if err := answered(v, b.tables, due, v.Now().Day()); err != nil {
				return err
			}
		}
		return nil
	}); err != nil {
		b.courses = prescribed{err: err}
	}
	b.marks.Lock()
	defer b.marks.Unlock()
	b.measured = b.courses.measured
	b.medicine = b.medicine || b.courses.err != nil || len(b.courses.unread) > 0
	return true
}

// prescribedDue is what is due of all courses and visits of animals that are here.
func prescribedDue(v model.View, t *knowledge.Tables) (found prescribed, err error) {
	found = prescribed{of: map[model.AnimalID][]Obligation{}, measured: map[model.AnimalID]bool{}, unread: map[model.AnimalID]error{}}
	var courses []medicine.Stored
	if err := v.All(model.TypePrescription, func(d model.Document) bool {
		s, illegible := medicine.Read(d)
		switch {
		case illegible != nil:
			found.unread[s.Animal] = illegible
		case s.Open():
			courses = append(courses, s)
		}
		return true
	}); err != nil {
		return found, fmt.Errorf("read the prescriptions: %w", err)
	}
	visiting, err := readVisits(v, found.unread)
	if err != nil {
		return found, err
	}
	if err := visiting.due(v, t, found.of); err != nil {
		return found, err
	}
	doubting := husbandry.Doubting(v)
	for _, s := range courses {
		a, err := animals.Find(v, s.Animal)
		if errors.Is(err, model.ErrNotFound) {
			continue
		}
		if err != nil {
			return found, err
		}
		if !a.Status.Here() {
			continue
		}
		if s.Rechecked(visiting.visits[s.Animal]) {
			s.Recheck = model.Date{}
		}
		var last care.Weighed
		if s.Form == medicine.Volume {
			found.measured[s.Animal] = true
			if last, _, err = medicine.LastWeight(v, s.Animal, v.Now()); err != nil {
				return found, err
			}
			if doubting(last.With, last.At) {
				last = care.Weighed{}
			}
		}
		for _, feeder := range Feeders() {
			if feeder.Course == nil {
				continue
			}
			for _, o := range feeder.Course(t, s, last, v.Now()) {
				o.Subject = s.Animal.Subject()
				found.of[s.Animal] = append(found.of[s.Animal], o)
			}
		}
	}
	return found, nil
}

// courses makes the doses of a course due by their days. What nobody has said of earlier
// ones is asked once, a missed one is a question to the vet; none is made up for.
func courses(_ *knowledge.Tables, s medicine.Stored, _ care.Weighed, now model.Moment) (all []Obligation) {
	cause := s.ID.String()
	gaps := func(more map[string]model.Gap) map[string]model.Gap {
		out := map[string]model.Gap{"Medicine": model.TextGap(s.Medicine)}
		for name, gap := range more {
			out[name] = gap
		}
		return out
	}
	due := func(o Obligation, by model.Day, key string, more map[string]model.Gap) {
		o.Since, o.From, o.By, o.Act = s.Prescribed.Day(), by, by, ActMedicine
		o.Reasons = append(why(key, gaps(more)), o.Reasons...)
		all = append(all, o)
	}
	cells := s.Calendar(now)
	var unsaid, missed []medicine.Cell
	coming := false
	for i, c := range cells {
		switch c.State {
		case medicine.Unsaid:
			unsaid = append(unsaid, c)
		case medicine.AskVet:
			missed = append(missed, c)
		case medicine.DueToday, medicine.ToCome:
			if c.State == medicine.ToCome && coming {
				continue
			}
			coming = coming || c.State == medicine.ToCome
			o := Obligation{Key: Key{Job: GiveDose, Cause: fmt.Sprintf("%s/%d", cause, c.Number)}, Most: 1}
			more := map[string]model.Gap{"Number": model.CountGap(c.Number), "Count": model.CountGap(len(cells))}
			if c.Clock {
				o.Reasons = append(o.Reasons, model.Label{Key: "due.why.dose-hour", Gaps: map[string]model.Gap{"Hour": hour(model.MomentOn(now, c.Day, c.Minutes, model.ToMinute))}})
			}
			if s.Pack.Expired(c.Day) {
				o.Caution = "due.caution.pack"
			}
			if i == len(cells)-1 {
				o.Reasons = append(o.Reasons, model.Label{Key: "due.why.dose-last"})
			}
			due(o, c.Day, "due.why.dose", more)
		}
	}
	if n := len(unsaid); n > 0 {
		due(Obligation{Key: Key{Job: CourseWord, Cause: cause + "/said/" + numbers(unsaid)}, Level: knowledge.LookAgain, Most: 1}, unsaid[0].Day, "due.why.dose-unsaid", map[string]model.Gap{"Doses": model.CountGap(n), "Day": model.DayGap(unsaid[0].Day)})
	}
	if n := len(missed); n > 0 {
		due(Obligation{Key: Key{Job: CourseWord, Cause: cause + "/asked/" + numbers(missed)}, Level: knowledge.VetWithinDays, Most: 1}, missed[0].Said.At.Day(), "due.why.dose-missed", map[string]model.Gap{"Doses": model.CountGap(n), "Day": model.DayGap(missed[0].Day)})
	}
	if _, left := s.Next(); !left && len(cells) > 0 {
		due(Obligation{Key: Key{Job: CourseWord, Cause: cause + "/through"}}, cells[len(cells)-1].Day, "due.why.course-through", nil)
	}
	return all
}

// volumes makes it a matter for the vet where the weight has changed since a fixed volume
// was written; the volume stays as it was written. last is the last weight that can be
// gone by.
func volumes(t *knowledge.Tables, s medicine.Stored, last care.Weighed, _ model.Moment) []Obligation {
	if !s.Apart(t, last.Mass) {
		return nil
	}
	day := last.At.Day()
	return []Obligation{{Key: Key{Job: SeeVet, Cause: fmt.Sprintf("volume/%s/%d", s.ID, s.Revision)}, Level: knowledge.VetWithinDays, Since: day, From: day, By: day, Act: ActVet,
		Brief:   briefly("due.brief.volume", map[string]model.Gap{"Medicine": model.TextGap(s.Medicine)}),
		Reasons: why("due.why.volume", map[string]model.Gap{"Medicine": model.TextGap(s.Medicine), "Before": model.MassGap(s.Mass), "Now": model.MassGap(last.Mass)})}}
}

// rechecks makes the day due on which a vet wants to see an animal again.
func rechecks(_ *knowledge.Tables, s medicine.Stored, _ care.Weighed, _ model.Moment) []Obligation {
	if s.Recheck.IsZero() {
		return nil
	}
	day := s.Recheck.Day
	return []Obligation{{Key: Key{Job: VetVisit, Cause: s.ID.String() + "/recheck/" + day.String()}, Since: s.Prescribed.Day(), From: day, By: day, Act: ActMedicine,
		Reasons: why("due.why.recheck", map[string]model.Gap{"Medicine": model.TextGap(s.Medicine), "Day": model.DayGap(day)})}}
}

// numbers name doses in a cause.
func numbers(cells []medicine.Cell) string {
	var all []string
	for _, c := range cells {
		all = append(all, fmt.Sprint(c.Number))
	}
	return strings.Join(all, ",")
}
