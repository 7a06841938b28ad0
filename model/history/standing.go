package history

import (
	"slices"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/exam"
	"coilward/model/knowledge"
)

// Said is what the tables say of one everyday entry, on the day it was noted.
type Said struct {
	Entry   model.EntryID
	Verdict exam.Verdict
}

// Judge tells what each everyday entry deserves by the tables, as far as it
// deserves anything: what stood in faeces and urates, prey brought up, and old
// skin left at an eye or the tail tip. Each is judged by what was known when it
// was noted.
func (r Records) Judge(t *knowledge.Tables) []Said {
	var said []Said
	for i := range r.Entries {
		said = append(said, r.said(t, i)...)
	}
	return said
}

// Standing is what Judge tells of the entries that still stand at a moment.
func (r Records) Standing(t *knowledge.Tables, at model.Moment) []Said {
	var said []Said
	for _, i := range r.lately(t, at) {
		said = append(said, r.said(t, i)...)
	}
	return said
}

func (r Records) said(t *knowledge.Tables, i int) []Said {
	e := r.Entries[i]
	signs := r.signs(i)
	if len(signs) == 0 {
		return nil
	}
	return []Said{{Entry: e.ID, Verdict: exam.Urgency(t, exam.Facts{At: e.At, Signs: signs, Context: r.contextAt(i)})}}
}

// Stand is what the tables say at a moment about the problems that are open and
// what still stands of everyday entries: what an animal stands with when nobody
// looks at it anew.
func (r Records) Stand(t *knowledge.Tables, problems []exam.StoredProblem, at model.Moment) exam.Verdict {
	facts := exam.Facts{At: at, Context: r.Context}
	for _, i := range r.lately(t, at) {
		facts.Signs = append(facts.Signs, r.signs(i)...)
	}
	if slices.ContainsFunc(facts.Signs, func(s exam.Sign) bool { return s.What == knowledge.Regurgitated }) {
		facts.Context.Regurgitations = r.Context.Regurgitations[1:] // newest first: the first is the sign itself
	}
	facts.Signs = append(facts.Signs, exam.Open(problems)...)
	return exam.Urgency(t, facts)
}

// lately are the indexes of the entries that still speak at a moment: the last
// one of faeces and urates, the last shed, and the last prey brought up as long
// as the tables remember it.
func (r Records) lately(t *knowledge.Tables, at model.Moment) []int {
	var still []int
	seen := map[string]bool{}
	for i, e := range r.Entries {
		kind := e.Body.Kind()
		old := int(at.Day()-e.At.Day()) > t.Value(knowledge.ValueRegurgitation)
		if seen[kind] || kind == care.KindMeal && (old || !broughtUp(e)) {
			continue
		}
		seen[kind] = true
		still = append(still, i)
	}
	return still
}

func broughtUp(e care.Entry) bool {
	m, ok := e.Body.(care.Meal)
	return ok && m.Outcome == care.Regurgitated
}

// contextAt is the context as it was at the entry of that index: only earlier
// regurgitations count, and a mass that was weighed by then. What was weighed
// later tells nothing of a young animal's mass.
func (r Records) contextAt(i int) exam.Context {
	c := r.Context
	c.Mass = model.Mass{}
	c.Regurgitations = slices.DeleteFunc(slices.Clone(c.Regurgitations), func(m model.Moment) bool { return !m.Before(r.Entries[i].At) })
	for _, w := range r.Weights {
		if !r.Entries[i].At.Before(w.At) {
			c.Mass = w.Mass
			break
		}
	}
	return c
}

// signs are the findings that the entry of that index tells.
func (r Records) signs(i int) []exam.Sign {
	e := r.Entries[i]
	sign := func(stop knowledge.StopID, what knowledge.FindingID) exam.Sign {
		return exam.Sign{Stop: stop, What: what, Grade: exam.Slight, Standing: exam.New, Sheds: 1, Seen: e.At.Day()}
	}
	var signs []exam.Sign
	switch body := e.Body.(type) {
	case care.Meal:
		if body.Outcome == care.Regurgitated {
			signs = append(signs, sign("neck", knowledge.Regurgitated))
		}
	case care.Shed:
		if body.StuckEyeCaps == care.Yes {
			cap := sign("eye-left", "stuck-eye-cap")
			cap.Sheds = r.shedsWith(i)
			signs = append(signs, cap)
		}
		if body.StuckTailTip == care.Yes {
			signs = append(signs, sign("tail-tip", "shed-ring"))
		}
	case care.Waste:
		for _, what := range wasteFindings(body) {
			s := sign(knowledge.Waste, what)
			if r.alsoBefore(i, what) {
				s.Standing = exam.Same
			}
			signs = append(signs, s)
		}
	}
	return signs
}

// shedsWith counts the sheds in a row, back from the entry of that index, after
// which an eye cap was left.
func (r Records) shedsWith(i int) int {
	n := 0
	for _, e := range r.Entries[i:] {
		if shed, ok := e.Body.(care.Shed); ok {
			if shed.StuckEyeCaps != care.Yes {
				break
			}
			n++
		}
	}
	return n
}

// alsoBefore reports whether the entry of faeces and urates before that index
// told the same.
func (r Records) alsoBefore(i int, what knowledge.FindingID) bool {
	for _, e := range r.Entries[i+1:] {
		if waste, ok := e.Body.(care.Waste); ok {
			return slices.Contains(wasteFindings(waste), what)
		}
	}
	return false
}

// wasteFindings are the findings of the tables that traits of faeces and urates
// stand for. Source: common practice, no source.
func wasteFindings(w care.Waste) []knowledge.FindingID {
	faeces := map[care.Trait]knowledge.FindingID{
		care.Blood: "waste-blood", care.Mucus: "waste-mucus", care.Watery: "waste-foul", care.Worms: "worms", care.RawPrey: "waste-prey",
	}
	urates := map[care.Trait]knowledge.FindingID{
		care.Blood: "waste-blood", care.Green: "waste-foul", care.HardLumps: "gritty-urates", care.NoneSeen: "no-urates",
	}
	var found []knowledge.FindingID
	add := func(what knowledge.FindingID, known bool) {
		if known && !slices.Contains(found, what) {
			found = append(found, what)
		}
	}
	for _, trait := range w.Faeces {
		what, known := faeces[trait]
		add(what, known)
	}
	for _, trait := range w.Urates {
		what, known := urates[trait]
		add(what, known)
	}
	return found
}
