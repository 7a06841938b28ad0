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

func (r Records) said(t *knowledge.Tables, i int) []Said {
	signs := r.signs(i)
	if len(signs) == 0 {
		return nil
	}
	return []Said{{Entry: r.Entries[i].ID, Verdict: r.judged(t, i, signs)}}
}

func (r Records) judged(t *knowledge.Tables, i int, signs []exam.Sign) exam.Verdict {
	return exam.Urgency(t, exam.Facts{At: r.Entries[i].At, Signs: signs, Context: r.contextAt(i)})
}

// still tells of each entry what of it still speaks at a moment, newest first:
// what was seen of faeces and urates until later entries say the contrary, old
// skin until a shed says that there was none, and the last prey brought up as
// long as the tables remember it.
func (r Records) still(t *knowledge.Tables, at model.Moment) []Said {
	var said []Said
	var known contrary
	for i, e := range r.Entries {
		signs := slices.DeleteFunc(r.signs(i), func(s exam.Sign) bool { return known.of(e, s, at, t) })
		if len(signs) > 0 {
			said = append(said, Said{Entry: e.ID, Verdict: r.judged(t, i, signs)})
		}
		known.learn(e)
	}
	return said
}

// contrary is what entries newer than the one at hand say.
type contrary struct {
	caps, tip bool // a shed has told
	broughtUp bool
	waste     map[traced]bool // told by a newer entry already
	clean     map[traced]int  // newer entries that saw that part without it
	mites     miteLooks
}

// miteLooks are looks for mites newer than the entry at hand.
type miteLooks struct {
	any, positive bool
	none          int // looks at which none were seen
}

// settled reports whether they say all there is to say: that mites were seen, or
// at two looks none, since a single look may miss them. A speck says neither.
// Source: common practice, no source.
func (m miteLooks) settled() bool { return m.positive || m.none > 1 }

func (m *miteLooks) learn(look care.MiteLook) {
	m.any, m.positive = true, m.positive || look.Grade.Positive()
	if look.Grade == care.NoMites {
		m.none++
	}
}

// traced is a finding in faeces or in urates.
type traced struct {
	what   knowledge.FindingID
	urates bool
}

// cleanNeeded is how many later entries without it end a finding: two for blood
// and worms, which do not show each time. Source: common practice, no source.
func cleanNeeded(what knowledge.FindingID) int {
	if what == "waste-blood" || what == "worms" {
		return 2
	}
	return 1
}

// of reports whether a sign of an entry speaks no longer.
func (c *contrary) of(e care.Entry, s exam.Sign, at model.Moment, t *knowledge.Tables) bool {
	switch body := e.Body.(type) {
	case care.Meal:
		return c.broughtUp || int(at.Day()-e.At.Day()) > t.Value(knowledge.ValueRegurgitation)
	case care.Shed:
		return s.What == stuckCap && c.caps || s.What == tailRing && c.tip
	case care.Waste:
		for _, f := range wasteFindings(body) {
			if f.what == s.What && !c.ended(f) {
				return false
			}
		}
		return true
	case care.MiteLook:
		return c.mites.settled() || !c.mites.any && at.Day()-e.At.Day() > lookedBack(t)
	}
	return false
}

// ended reports whether newer entries have told of a finding, or have not seen
// it often enough.
func (c *contrary) ended(f traced) bool { return c.waste[f] || c.clean[f] >= cleanNeeded(f.what) }

// learn takes what an entry says, for those before it.
func (c *contrary) learn(e care.Entry) {
	switch body := e.Body.(type) {
	case care.Meal:
		c.broughtUp = c.broughtUp || body.Outcome == care.Regurgitated
	case care.Shed:
		c.caps = c.caps || body.StuckEyeCaps != care.NotLooked
		c.tip = c.tip || body.StuckTailTip != care.NotLooked
	case care.Waste:
		c.learnWaste(body)
	case care.MiteLook:
		c.mites.learn(body)
	}
}

func (c *contrary) learnWaste(w care.Waste) {
	if c.waste == nil {
		c.waste, c.clean = map[traced]bool{}, map[traced]int{}
	}
	found := wasteFindings(w)
	for _, f := range found {
		c.waste[f] = true
	}
	for _, f := range traceable() {
		if sawPart(w, f) && !slices.Contains(found, f) {
			c.clean[f]++
		}
	}
}

// sawPart reports whether the part in which a finding would be was there to be
// seen.
func sawPart(w care.Waste, f traced) bool {
	traits := w.Faeces
	if f.urates {
		traits = w.Urates
	}
	return len(traits) > 0 && (!slices.Contains(traits, care.NoneSeen) || f.what == "no-urates")
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
			cap := sign("eye-left", stuckCap)
			cap.Sheds = r.shedsWith(i)
			signs = append(signs, cap)
		}
		if body.StuckTailTip == care.Yes {
			signs = append(signs, sign("tail-tip", tailRing))
		}
	case care.Waste:
		for _, f := range wasteFindings(body) {
			s := sign(knowledge.Waste, f.what)
			if r.alsoBefore(i, f.what) {
				s.Standing = exam.Same
			}
			if !slices.ContainsFunc(signs, func(other exam.Sign) bool { return other.What == s.What }) {
				signs = append(signs, s)
			}
		}
	case care.MiteLook:
		if grade, positive := mitesSeen()[body.Grade]; positive {
			seen := sign("skin", mites)
			seen.Grade = grade
			signs = append(signs, seen)
		}
	}
	return signs
}

// shedsWith counts the sheds in a row, back from the entry of that index, after
// which an eye cap was left; one that was not looked at ends no row.
func (r Records) shedsWith(i int) int {
	n := 0
	for _, e := range r.Entries[i:] {
		shed, ok := e.Body.(care.Shed)
		if ok && shed.StuckEyeCaps == care.No {
			break
		}
		if ok && shed.StuckEyeCaps == care.Yes {
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
			return slices.ContainsFunc(wasteFindings(waste), func(f traced) bool { return f.what == what })
		}
	}
	return false
}

// mitesSeen is how bad each positive grade of a look for mites is. Source: common
// practice, no source.
func mitesSeen() map[care.MiteGrade]exam.Grade {
	return map[care.MiteGrade]exam.Grade{care.OneMite: exam.Slight, care.SeveralMites: exam.Marked, care.MitesAllAround: exam.Severe}
}

// The findings that a shed tells of, and that of a look for mites.
const (
	mites    knowledge.FindingID = "mites"
	stuckCap knowledge.FindingID = "stuck-eye-cap"
	tailRing knowledge.FindingID = "shed-ring"
)

// traits are the findings of the tables that traits of faeces and of urates
// stand for. Source: common practice, no source.
func traits() (faeces, urates map[care.Trait]knowledge.FindingID) {
	faeces = map[care.Trait]knowledge.FindingID{
		care.Blood: "waste-blood", care.Mucus: "waste-mucus", care.Watery: "waste-watery", care.Worms: "worms", care.RawPrey: "waste-prey",
	}
	urates = map[care.Trait]knowledge.FindingID{
		care.Blood: "waste-blood", care.Green: "waste-foul", care.HardLumps: "hard-urates", care.NoneSeen: "no-urates",
		care.Gritty: "gritty-urates", care.Yellow: "yellow-urates",
	}
	return faeces, urates
}

// traceable are all findings that faeces and urates can tell.
func traceable() []traced {
	return wasteFindings(care.Waste{Faeces: care.FaecesTraits(), Urates: care.UratesTraits()})
}

// wasteFindings are the findings that an entry of faeces and urates tells.
func wasteFindings(w care.Waste) []traced {
	faeces, urates := traits()
	var found []traced
	for _, trait := range w.Faeces {
		if what, known := faeces[trait]; known {
			found = append(found, traced{what, false})
		}
	}
	for _, trait := range w.Urates {
		if what, known := urates[trait]; known {
			found = append(found, traced{what, true})
		}
	}
	return found
}

// Says is what the tables would say of an entry of everyday care that is not kept
// yet, made after all others.
func (r Records) Says(t *knowledge.Tables, e care.Entry) exam.Verdict {
	r.Entries = append([]care.Entry{e}, r.Entries...)
	return r.judged(t, 0, r.signs(0))
}
