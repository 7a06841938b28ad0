package medicine

import (
	"slices"

	"coilward/model"
)

// MaxDoses is the most doses that one course plans.
const MaxDoses = 400

const day = 24 // hours

// Planned is one dose of the plan.
type Planned struct {
	Number  int // from 1
	Step    int // index
	Day     model.Day
	Minutes int // after midnight; told only where Clock
	// Clock says that the hour matters: doses are less than a day or no whole days apart.
	Clock bool
}

// at is the planned minute, counted from the day 1970-01-01 of the place's clock.
func (p Planned) at() int64 { return int64(p.Day)*day*60 + int64(p.Minutes) }

// minutesOf is a moment counted alike.
func minutesOf(m model.Moment) int64 {
	local := m.UTC + int64(m.Offset)
	minutes := local / 60
	if local%60 < 0 {
		minutes--
	}
	return minutes
}

// Plan are the doses as the vet planned them, in order; no more than MaxDoses and one
// over, which Check refuses.
func (p Prescription) Plan() []Planned {
	var all []Planned
	begins := p.Begins.Day()
	first := int(minutesOf(p.Begins) - int64(begins)*day*60)
	for i, s := range p.Steps {
		for k := 0; s.Times == 0 || k < s.Times; k++ {
			minutes := first + k*s.Every*60
			one := Planned{Number: len(all) + 1, Step: i, Day: begins + model.Day(s.Day-1+minutes/(day*60)), Minutes: minutes % (day * 60), Clock: s.Every%day != 0}
			over := !p.Last.IsZero() && one.Day > p.Last.Day && s.Times == 0
			next := i+1 < len(p.Steps) && one.Day >= begins+model.Day(p.Steps[i+1].Day-1) && s.Times == 0
			if over || next || len(all) > MaxDoses || s.Times == 0 && p.Last.IsZero() && i+1 == len(p.Steps) || k > 0 && s.Every <= 0 {
				break
			}
			all = append(all, one)
		}
	}
	return all
}

// State is how it stands with a planned dose.
type State uint8

// The states.
const (
	ToCome   State = iota
	DueToday       // or by the hour since some hours
	Unsaid         // its time is past, and nobody has said what became of it
	WasGiven
	WasLeftOut
	WasMissed // and the vet has said a word on it
	AskVet    // was missed, and the vet has not been asked
)

// Cell is one dose of a course's calendar.
type Cell struct {
	Planned
	State State
	Said  *Dose
}

// Calendar are all planned doses with what became of them, as of now. Of a course that
// is over what was to come is left out.
func (p Prescription) Calendar(now model.Moment) []Cell {
	plan := p.Plan()
	var cells []Cell
	for i, one := range plan {
		c := Cell{Planned: one, State: ToCome}
		said, there := p.Dose(one.Number)
		switch {
		case there && said.Did == Given:
			c.State = WasGiven
		case there && said.Did == LeftOut:
			c.State = WasLeftOut
		case there && said.Answer == nil:
			c.State = AskVet
		case there:
			c.State = WasMissed
		case p.past(plan, i, now):
			c.State = Unsaid
		case one.Day <= now.Day():
			c.State = DueToday
		}
		if there {
			c.Said = &said
		} else if !p.Open() && (c.State != Unsaid || one.Day > p.Ended.At.Day()) {
			continue
		}
		cells = append(cells, c)
	}
	return cells
}

// past reports whether the time of a dose is over: its day, or where the hour matters
// half of the time to the next dose.
func (p Prescription) past(plan []Planned, i int, now model.Moment) bool {
	one := plan[i]
	if !one.Clock {
		return now.Day() > one.Day
	}
	return minutesOf(now) > one.at()+int64(p.Steps[one.Step].Every)*60/2
}

// OfToday reports whether a dose of a course that goes on is planned for the day of now,
// given or not, or one of earlier days is still to be told.
func (p Prescription) OfToday(now model.Moment) bool {
	return p.Open() && slices.ContainsFunc(p.Calendar(now), func(c Cell) bool { return c.Day == now.Day() || c.State == Unsaid })
}

// Next is the first dose of which nobody has said anything; false: none is left.
func (p Prescription) Next() (Planned, bool) {
	for _, one := range p.Plan() {
		if _, said := p.Dose(one.Number); !said {
			return one, true
		}
	}
	return Planned{}, false
}

// Tally counts the doses of the plan by what became of them.
type Tally struct{ Planned, Given, LeftOut, Missed, Unsaid int }

// Tally counts the doses as of now.
func (p Prescription) Tally(now model.Moment) Tally {
	t := Tally{Planned: len(p.Plan())}
	for _, c := range p.Calendar(now) {
		switch c.State {
		case WasGiven:
			t.Given++
		case WasLeftOut:
			t.LeftOut++
		case WasMissed, AskVet:
			t.Missed++
		case Unsaid:
			t.Unsaid++
		}
	}
	return t
}
