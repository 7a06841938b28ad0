package exam

import (
	"encoding/json"
	"fmt"
	"slices"

	"coilward/model"
	"coilward/model/body"
	"coilward/model/knowledge"
)

// Draft is a check in progress, as a plain value: every operation gives a new
// draft and leaves the old one as it was.
type Draft struct {
	Form   int            `json:"form"`
	Check  model.EntryID  `json:"check"` // the entry that it will become
	Animal model.AnimalID `json:"animal"`
	Tables string         `json:"tables"` // hash of the tables it was begun with
	Index  int            `json:"index"`  // the stop one is at; len(Stops) is the end page
	// Pointed is where the next finding goes; the zero Place: the stop's own.
	Pointed body.Place `json:"pointed,omitzero"`
	// Past are the closed problems, so that what comes back is known again.
	Past []Earlier `json:"past,omitempty"`
	// StuckCaps is how many sheds in a row, up to the last, left an eye cap.
	StuckCaps int `json:"stuckCaps,omitempty"`
	// Noted are the days by which a vet was to see what entries of everyday care
	// tell; since form 2.
	Noted map[knowledge.FindingID]model.Day `json:"noted,omitempty"`
	Walk
}

// draftForm is the form in which drafts are written; those of form 1 can be read.
const draftForm = 2

// Beginning is what a check begins with.
type Beginning struct {
	Check    model.EntryID
	Animal   model.AnimalID
	At       model.Moment
	Problems []StoredProblem // all of the animal's, open and closed
	Context  Context
	Sheds    []model.Moment // the animal's sheds, in any order
	// StuckCaps is how many sheds in a row, up to the last, left an eye cap by
	// what was noted of them.
	StuckCaps int
	// VetBy are the days by which a vet was to see a problem, as set on before.
	VetBy map[model.ProblemID]model.Day
	// Noted are those days for what entries of everyday care tell.
	Noted map[knowledge.FindingID]model.Day
}

// Begin is a draft at its first stop, with every open problem still to be asked
// about.
func Begin(t *knowledge.Tables, b Beginning) Draft {
	d := Draft{Form: draftForm, Check: b.Check, Animal: b.Animal, Tables: t.Hash(), StuckCaps: b.StuckCaps, Noted: b.Noted, Walk: Walk{Begun: b.At, Context: b.Context}}
	for _, s := range t.Stops() {
		d.Stops = append(d.Stops, Answered{Stop: s.ID})
	}
	d.Context.Regurgitations = slices.Clone(b.Context.Regurgitations)
	for _, p := range b.Problems {
		e := Earlier{
			Problem: p.ID, Stop: p.Stop, What: p.What, Baseline: p.Baseline, Since: p.First().At, Before: p.Last(),
			Sheds: p.kept(b.Sheds), Worsened: p.Worsened(), WorsenedAgain: p.worsenings() > 1, VetBy: sooner(b.VetBy[p.ID], b.Noted[p.What]),
		}
		if p.What == knowledge.StuckEyeCap {
			e.Sheds = max(e.Sheds, b.StuckCaps)
		}
		if p.Open() {
			d.Earlier = append(d.Earlier, e)
			continue
		}
		d.Past = append(d.Past, e)
		if p.What == knowledge.Regurgitated {
			d.Context.Regurgitations = append(d.Context.Regurgitations, p.arrivals()...)
		}
	}
	return d
}

// sooner is the earlier of two days; zero: none.
func sooner(a, b model.Day) model.Day {
	if a == 0 || b != 0 && b < a {
		return b
	}
	return a
}

// arrivals are the moments at which the problem began or came back.
func (p Problem) arrivals() []model.Moment {
	var at []model.Moment
	for i, g := range p.Glimpses {
		if i == 0 || g.Standing == CameBack {
			at = append(at, g.At)
		}
	}
	return at
}

// Again is a kept check as a draft, at its end page, to be put right by Change; b
// is what it began with, so that what is noted now is judged as it was then.
func Again(t *knowledge.Tables, b Beginning, c Check) Draft {
	d := Begin(t, b)
	d.Walk, d.Index = c.Walk, len(c.Stops)
	d.Past = slices.DeleteFunc(d.Past, func(p Earlier) bool { return d.taken(p.Problem) })
	return d
}

// Before are problems as they stood before a check: without its looks and those
// after it, and without the problems that it or a later one found first.
func Before(problems []StoredProblem, check model.EntryID, begun model.Moment) []StoredProblem {
	var before []StoredProblem
	for _, p := range problems {
		p.Glimpses = slices.DeleteFunc(slices.Clone(p.Glimpses), func(g Glimpse) bool { return g.Check == check || !g.At.Before(begun) })
		if len(p.Glimpses) > 0 {
			before = append(before, p)
		}
	}
	return before
}

// ReadDraft reads a draft that was written as JSON.
func ReadDraft(raw []byte) (Draft, error) {
	var d Draft
	if err := json.Unmarshal(raw, &d); err != nil {
		return Draft{}, fmt.Errorf("read the draft of a check: %w", err)
	}
	switch {
	case d.Form > draftForm:
		return Draft{}, fmt.Errorf("read the draft of a check (form %d, known up to %d): %w", d.Form, draftForm, model.ErrNewer)
	case d.Form < 1 || d.Check.IsZero() || d.Animal.IsZero() || len(d.Stops) == 0:
		return Draft{}, fmt.Errorf("read the draft of a check: it names no animal or no stop")
	case d.Index < 0 || d.Index > len(d.Stops):
		return Draft{}, fmt.Errorf("read the draft of a check: stop %d of %d", d.Index, len(d.Stops))
	}
	d.Form = draftForm
	return d, nil
}

// Stop is the stop one is at; none on the end page.
func (d Draft) Stop() (knowledge.StopID, bool) {
	if d.Index < 0 || d.Index >= len(d.Stops) {
		return "", false
	}
	return d.Stops[d.Index].Stop, true
}

// AtEnd reports whether the walk has come to the end page.
func (d Draft) AtEnd() bool { return d.Index >= len(d.Stops) }

// Asking is the index into Earlier of the next earlier finding at this stop that
// wants an answer.
func (d Draft) Asking() (int, bool) {
	stop, ok := d.Stop()
	if !ok {
		return 0, false
	}
	i := slices.IndexFunc(d.Earlier, func(e Earlier) bool { return e.Stop == stop && e.Now.Standing == Unasked })
	return max(i, 0), i >= 0
}

// Go is the draft at the stop of that index; len(Stops) is the end page.
func (d Draft) Go(index int) Draft {
	d.Index = min(max(index, 0), len(d.Stops))
	d.Pointed = body.Place{}
	return d
}

// Point is the draft with the place to which the next finding goes.
func (d Draft) Point(place body.Place) Draft {
	d.Pointed = place
	return d
}

// Answer stores the answer of the stop one is at and goes on to the next.
func (d Draft) Answer(look Look, at model.Moment) (Draft, error) {
	stop, ok := d.Stop()
	if !ok {
		return d, nil
	}
	if look.Looked() {
		if i, asking := d.Asking(); asking {
			return d, refuse("earlier", "", "exam.earlier-unanswered", map[string]model.Gap{
				"Finding": findingGap(d.Earlier[i].What),
			})
		}
	}
	if look == NotLooked && (d.found(stop) || d.asked(stop)) {
		return d, refuse("stop", "", "exam.noted-there", map[string]model.Gap{"Stop": model.KeyGap("stop." + string(stop))})
	}
	d.Stops = slices.Clone(d.Stops)
	d.Stops[d.Index] = Answered{Stop: stop, Look: look, At: at}
	return d.Go(d.Index + 1), nil
}

func refuse(field, value, reason string, gaps map[string]model.Gap) error {
	return &model.Refusal{Field: field, Value: value, Reason: reason, Gaps: gaps, Answer: model.Mend}
}

// Mark notes a finding at the stop one is at. Where none was pointed to, the
// same finding again is a worse one, up to severe; otherwise a new one is noted
// at the place pointed to or in the middle of the stop. What is noted where a
// closed problem of its kind was is that problem come back.
func (d Draft) Mark(t *knowledge.Tables, what knowledge.FindingID, at model.Moment) Draft {
	stop, ok := d.Stop()
	if !ok {
		return d
	}
	if i := d.last(stop, what); i >= 0 && d.Pointed == (body.Place{}) {
		return d.raise(i)
	}
	f := Finding{Stop: stop, What: what, Standing: New, Place: d.Pointed, Grade: Slight, At: at, VetBy: d.Noted[what]}
	if f.Place == (body.Place{}) {
		f.Place = Middle(t, stop)
		f.Rough = f.Place != body.Place{}
	}
	if what == knowledge.StuckEyeCap {
		f.Sheds = d.StuckCaps
	}
	for _, p := range d.Past {
		if p.What == what && body.Same(p.Before.Place, f.Place) && !d.taken(p.Problem) {
			f.Problem, f.Standing, f.Sheds, f.VetBy = p.Problem, CameBack, max(f.Sheds, p.Sheds+1), sooner(f.VetBy, p.VetBy)
		}
	}
	d.Findings = append(slices.Clip(d.Findings), f)
	d.Pointed = body.Place{}
	return d.looked(t, stop, at)
}

// looked is the draft in which the stop one is at was looked at in its usual
// way: what is noted at a stop was seen or felt there.
func (d Draft) looked(t *knowledge.Tables, id knowledge.StopID, at model.Moment) Draft {
	stop, known := t.Stop(id)
	if !known || d.Stops[d.Index].Look.Looked() {
		return d
	}
	d.Stops = slices.Clone(d.Stops)
	d.Stops[d.Index] = Answered{Stop: id, Look: d.usual(stop), At: at}
	return d
}

// taken reports whether a finding of this walk already continues the problem.
func (d Draft) taken(p model.ProblemID) bool {
	return slices.ContainsFunc(d.Findings, func(f Finding) bool { return f.Problem == p })
}

// last is the index of the latest finding of that kind at the stop, or -1.
func (d Draft) last(stop knowledge.StopID, what knowledge.FindingID) int {
	for i := len(d.Findings) - 1; i >= 0; i-- {
		if d.Findings[i].Stop == stop && d.Findings[i].What == what {
			return i
		}
	}
	return -1
}

func (d Draft) raise(i int) Draft {
	f := d.Findings[i]
	f.Grade = min(f.Grade+1, Severe)
	f.Baseline = false // only what is slight is an animal's own
	return d.ChangeFinding(i, f)
}

// Apart is the draft in which the finding at that index is a thing of its own
// and not an earlier problem come back.
func (d Draft) Apart(i int) Draft {
	f := d.Findings[i]
	f.Problem, f.Standing, f.Sheds, f.VetBy = model.ProblemID{}, New, 0, d.Noted[f.What]
	if f.What == knowledge.StuckEyeCap {
		f.Sheds = d.StuckCaps
	}
	return d.ChangeFinding(i, f)
}

// ChangeFinding is the draft with another finding at that index: its grade,
// size, place, note or photos.
func (d Draft) ChangeFinding(i int, f Finding) Draft {
	d.Findings = slices.Clone(d.Findings)
	d.Findings[i] = f
	return d
}

// RemoveFinding is the draft without the finding at that index.
func (d Draft) RemoveFinding(i int) Draft {
	d.Findings = slices.Delete(slices.Clone(d.Findings), i, i+1)
	return d
}

// AnswerEarlier answers how an earlier finding stands now; Unasked takes the
// answer back. A worse one is one grade up, a better one is one grade down.
func (d Draft) AnswerEarlier(i int, standing Standing, at model.Moment) Draft {
	e := d.Earlier[i]
	e.Now = Glimpse{}
	if standing != Unasked {
		e.Now = Glimpse{At: at, Standing: standing, Grade: moved(e.Before.Grade, standing), Place: e.Before.Place, Rough: e.Before.Rough,
			Differs: e.Before.Differs, Old: e.Before.Old}
	}
	return d.setEarlier(i, e)
}

// ChangeEarlier is the draft with another present look at that earlier finding.
func (d Draft) ChangeEarlier(i int, now Glimpse) Draft {
	e := d.Earlier[i]
	e.Now = now
	return d.setEarlier(i, e)
}

func (d Draft) setEarlier(i int, e Earlier) Draft {
	d.Earlier = slices.Clone(d.Earlier)
	d.Earlier[i] = e
	return d
}

func moved(before Grade, standing Standing) Grade {
	switch standing {
	case Worse:
		return min(before+1, Severe)
	case Better:
		return max(before, Marked) - 1
	}
	return before
}

// Verdict is what the tables say about the draft as it stands.
func (d Draft) Verdict(t *knowledge.Tables, at model.Moment) Verdict {
	return Urgency(t, d.Facts(at))
}

// Finish is the check that the draft makes when it ends at that moment.
func (d Draft) Finish(t *knowledge.Tables, at model.Moment) Check {
	return d.judged(t, at)
}

// Resume is a draft of an earlier day brought to the present tables: stops that
// the tables no longer have are dropped if they have no answer, new ones are to
// be answered.
func (d Draft) Resume(t *knowledge.Tables) Draft {
	if d.Tables == t.Hash() {
		return d
	}
	here, walking := d.Stop()
	var stops []Answered
	for _, s := range t.Stops() {
		stops = append(stops, d.At(s.ID))
	}
	for _, s := range d.Stops {
		if _, known := t.Stop(s.Stop); !known && s.Look != NotYet {
			stops = append(stops, s)
		}
	}
	d.Stops, d.Tables = stops, t.Hash()
	if !walking {
		return d.Go(len(stops))
	}
	return d.Go(slices.IndexFunc(stops, func(s Answered) bool { return s.Stop == here }))
}
