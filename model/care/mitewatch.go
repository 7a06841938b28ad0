package care

import (
	"maps"
	"slices"

	"coilward/model"
	"coilward/model/knowledge"
)

// MiteDays are the looks for mites at an animal that count, by day: those of one day
// count once, as the worst of them.
type MiteDays map[model.Day]MiteGrade

// MiteDaysOf are the looks among some entries.
func MiteDaysOf(entries []Entry) MiteDays {
	m := MiteDays{}
	for _, e := range entries {
		if look, ok := e.Body.(MiteLook); ok {
			m.Add(e.At.Day(), look)
		}
	}
	return m
}

// Add takes a look, where it counts.
func (m MiteDays) Add(day model.Day, look MiteLook) {
	if look.Counts() {
		m[day] = max(m[day], look.Grade)
	}
}

// Positive reports whether mites were seen on any of the days.
func (m MiteDays) Positive() bool {
	for _, g := range m {
		if g.Positive() {
			return true
		}
	}
	return false
}

// Seen is the last day until a day on which mites were seen; 0: on none.
func (m MiteDays) Seen(until model.Day) (last model.Day) {
	for day, g := range m {
		if g.Positive() && day <= until {
			last = max(last, day)
		}
	}
	return last
}

// Gone reports whether looks say that what was seen on a day is there no longer:
// at so many later days none were seen, the first and the last of them at least as
// far apart as the table says. A single look may miss them, and a speck is neither.
// Source: common practice, no source.
func (m MiteDays) Gone(t *knowledge.Tables, since model.Day, looks int) bool {
	clear := m.clear(since)
	return len(clear) > 0 && len(clear) >= looks && clear[len(clear)-1]-clear[0] >= model.Day(t.Value(knowledge.ValueMiteApart))
}

// clear are the days after that day on which none were seen, oldest first.
func (m MiteDays) clear(after model.Day) (days []model.Day) {
	for day, g := range m {
		if day > after && g == NoMites {
			days = append(days, day)
		}
	}
	slices.Sort(days)
	return days
}

// MiteWatch is what follows from mites that were seen, or from a speck.
type MiteWatch struct {
	Mites model.Day // on which they were seen last; 0: only a speck was
	Acts  model.Day // the last on which a treatment acts, where the watch counts from there; 0: it does not
	Ends  model.Day // the first on which a look that sees none can end it; 0: only a speck was
	Last  model.Day // of the last look
	Speck bool      // it saw a speck, which is neither none seen nor mites
	Next  model.Day // of the next look
	Every int       // days from one look to the next
}

// Watch is what is still watched for on a day; watching is false where nothing is:
// no mites were seen, or the watch was over on some day up to that one. The watch
// lasts so many days from the later of the last mites and the last day on which a
// treatment acts that was begun before it was over: so long mites may be hidden. It
// is over at a look that sees none on its last day or later, if from one such look to
// the next it was never longer than the table says; after a longer gap it begins again
// at the next one, at the earliest today. Time alone ends nothing: where nobody has
// looked since, it stays open, however old the mites or the speck are. What is still to
// come counts nothing. Source of the days and the gap: their rows of the table.
func (m MiteDays) Watch(t *knowledge.Tables, treated []Treated, lasts Lasting, today model.Day) (w MiteWatch, watching bool) {
	for _, day := range slices.Sorted(maps.Keys(m)) {
		if day > today {
			break
		}
		w.Last, w.Speck = day, m[day] == MiteSpeck
		if m[day].Positive() {
			w.Mites = day
		}
	}
	if w.Mites == 0 && !w.Speck {
		return MiteWatch{}, false
	}
	w.Every = t.Value(knowledge.ValueLookMites)
	if w.Speck {
		w.Every = t.Value(knowledge.ValueLookSpeck)
	}
	w.Next = w.Last + model.Day(w.Every)
	if w.Mites == 0 {
		return w, true
	}
	course := m.CourseOf(t, w.Mites, lasts, today)
	for _, one := range treated {
		if one.On > today || course.Over != 0 && one.On > course.Over {
			break
		}
		if one.Acts > max(w.Mites, w.Acts) {
			w.Acts = one.Acts
			course = m.CourseOf(t, w.Acts, lasts, today)
		}
	}
	if course.Over == 0 {
		w.Ends = course.Ends
		return w, true
	}
	if w.Speck { // seen since
		return MiteWatch{Last: w.Last, Speck: true, Next: w.Next, Every: w.Every}, true
	}
	return MiteWatch{}, false
}

// Decided reports whether no older look can say otherwise of what is watched for: mites
// were seen at one of these, or none was at looks so near each other that any watch of
// before is over.
func (m MiteDays) Decided(t *knowledge.Tables) bool {
	if m.Positive() {
		return true
	}
	var first, last model.Day
	for _, day := range m.clear(0) {
		if first == 0 || day-last > model.Day(t.Value(knowledge.ValueMiteGap)) {
			first = day
		}
		if last = day; last-first >= model.Day(t.Value(knowledge.ValueMiteWatchCool)) {
			return true
		}
	}
	return false
}

// Lasting is for how many days a watch lasts, by what is known of the days up to one.
type Lasting func(until model.Day) (days int)

// Course is how far a watch for mites has come.
type Course struct {
	From model.Day // from which on it counts: later than it began where looks were too far apart
	Ends model.Day // the first on which a look that sees none can end it
	Over model.Day // on which one did; 0: not yet
}

// CourseOf is Course for as many days as the watch lasts by what is known of its own
// days: what comes after it was over makes it no longer.
func (m MiteDays) CourseOf(t *knowledge.Tables, from model.Day, lasts Lasting, today model.Day) Course {
	least := t.Value(knowledge.ValueMiteWatch)
	c := m.Course(t, from, least, today)
	until := today
	if c.Over != 0 {
		until = c.Over
	}
	if days := lasts(until); days != least {
		return m.Course(t, from, days, today)
	}
	return c
}

// Course is how far a watch that counts from a day has come on another, if none were
// seen since: it lasts so many days, and is over at a look that sees none on its last
// day or later, if from one such look to the next it was never longer than the table
// says; after a longer gap it counts from the next one, at the earliest from today.
func (m MiteDays) Course(t *knowledge.Tables, from model.Day, days int, today model.Day) Course {
	c := Course{From: from}
	last, gap := from, model.Day(t.Value(knowledge.ValueMiteGap))
	for _, day := range m.clear(from) {
		if day > today {
			break
		}
		if day-last > gap {
			c.From = day
		}
		if last = day; day >= c.From+model.Day(days) {
			c.Over = day
			break
		}
	}
	if c.Over == 0 && today-last > gap {
		c.From = today
	}
	c.Ends = c.From + model.Day(days)
	return c
}
