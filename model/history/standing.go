package history

import (
	"slices"
	"sort"
	"strconv"

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
	stuck := r.shedsInRow()
	for i, e := range r.Entries {
		if signs := r.signs(t, i, stuck[i]); len(signs) > 0 {
			said = append(said, Said{Entry: e.ID, Verdict: r.judged(t, i, signs)})
		}
	}
	return said
}

func (r Records) judged(t *knowledge.Tables, i int, signs []exam.Sign) exam.Verdict {
	return exam.Urgency(t, exam.Facts{At: r.Entries[i].At, Signs: signs, Context: r.contextAt(i)})
}

// still tells of each entry what of it still speaks at a moment, newest first:
// what was seen of faeces and urates until later entries say the contrary, old
// skin until a shed says that there was none, and the last prey brought up as
// long as the tables remember it.
//
// gone is what was for the vet and has ended so lately, without a vet's word, that
// it goes on asking: counted from the day on which it was noted.
func (r Records) still(t *knowledge.Tables, at model.Moment) (said []Said, gone []Part) {
	known := contrary{t: t, check: r.lastWhole(t, at)}
	stuck := r.shedsInRow()
	for i, e := range r.Entries {
		var stands, ended []exam.Sign
		for _, s := range r.signs(t, i, stuck[i]) {
			switch {
			case !known.of(e, s, at):
				stands = append(stands, s)
			case known.sawGone(e, s):
				ended = append(ended, s)
			}
		}
		if len(stands) > 0 {
			said = append(said, Said{Entry: e.ID, Verdict: r.judged(t, i, stands)})
		}
		if on, asks := known.goneOn(e, at); asks && len(ended) > 0 {
			if v := r.judged(t, i, ended); v.Level >= knowledge.VetWithinDays {
				gone = append(gone, Part{From: FromGone, Entry: e.ID, Day: v.Day, Gone: on, Verdict: v})
			}
		}
		known.learn(e)
	}
	return said, gone
}

// lastWhole is the newest check that was no brief look, of the days that the rules
// look back; nil: there is none.
func (r Records) lastWhole(t *knowledge.Tables, at model.Moment) *exam.StoredCheck {
	i := slices.IndexFunc(r.Checks, func(c exam.StoredCheck) bool {
		return c.Extent(t) != exam.BriefLook && at.Day()-c.Begun.Day() <= lookedBack(t)
	})
	if i < 0 {
		return nil
	}
	return &r.Checks[i]
}

// lookedAt reports whether the newest check looked, after an entry, at every stop
// where such a finding is looked for: what is there now, it has told.
func (c *contrary) lookedAt(e care.Entry, s exam.Sign) bool {
	if c.check == nil || c.check.Begun.Before(e.At) {
		return false
	}
	looked := false
	for _, stop := range c.t.Stops() {
		if slices.Contains(stop.Choices, s.What) {
			if looked = c.check.At(stop.ID).Look.Looked(); !looked {
				return false
			}
		}
	}
	return looked
}

// sawGone reports whether what ended a sign is that it was not there any more, and
// not that something newer tells of it.
func (c *contrary) sawGone(e care.Entry, s exam.Sign) bool {
	switch body := e.Body.(type) {
	case care.Shed:
		if c.lookedAt(e, s) {
			return !slices.ContainsFunc(c.check.Signs(), func(found exam.Sign) bool { return found.What == s.What })
		}
		return s.What == findingOf(c.t, knowledge.TellShed, eyeCap) && !c.capStands || s.What == findingOf(c.t, knowledge.TellShed, tailTip) && !c.tipStands
	case care.Waste:
		return !slices.ContainsFunc(wasteFindings(c.t, body), func(f traced) bool { return f.what == s.What && c.waste[f] })
	}
	return false
}

// goneOn is since when what an entry told of faeces, urates or a shed is gone, as
// far as that is not too long ago to ask for a vet's word: the newest look since
// that could have shown it.
func (c *contrary) goneOn(e care.Entry, at model.Moment) (on model.Day, asks bool) {
	switch e.Body.(type) {
	case care.Waste:
		on = c.lastWaste
	case care.Shed:
		on = c.lastShed
		if c.check != nil && !c.check.Begun.Before(e.At) {
			on = max(on, c.check.Begun.Day())
		}
	}
	return on, on > 0 && int(at.Day()-e.At.Day()) <= c.t.Value(knowledge.ValueVetWord)
}

// contrary is what entries newer than the one at hand say.
type contrary struct {
	t         *knowledge.Tables
	caps, tip bool // a shed has told
	// capStands and tipStands are that the newest that told has told of old skin.
	capStands, tipStands bool
	broughtUp            bool
	waste                map[traced]bool // told by a newer entry already
	clean                map[traced]int  // newer entries that saw that part without it
	mites                care.MiteDays   // looks newer

	check               *exam.StoredCheck // the newest that was no brief look
	lastShed, lastWaste model.Day         // of the newest such entry
}

// traced is a finding in faeces or in urates.
type traced struct {
	what   knowledge.FindingID
	urates bool
	ends   int // later entries without it that end it
}

// of reports whether a sign of an entry speaks no longer.
func (c *contrary) of(e care.Entry, s exam.Sign, at model.Moment) bool {
	switch body := e.Body.(type) {
	case care.Meal:
		return c.broughtUp || int(at.Day()-e.At.Day()) > c.t.Value(knowledge.ValueRegurgitation)
	case care.Shed:
		return s.What == findingOf(c.t, knowledge.TellShed, eyeCap) && c.caps || s.What == findingOf(c.t, knowledge.TellShed, tailTip) && c.tip || c.lookedAt(e, s)
	case care.Waste:
		for _, f := range wasteFindings(c.t, body) {
			if f.what == s.What && !c.ended(f) {
				return false
			}
		}
		return true
	case care.MiteLook:
		return c.mitesSettled(e.At.Day(), mitesEnd(c.t, body.Grade))
	}
	return false
}

// ended reports whether newer entries have told of a finding, or have not seen
// it often enough.
func (c *contrary) ended(f traced) bool { return c.waste[f] || c.clean[f] >= f.ends }

// mitesSettled reports whether newer looks for mites say all there is to say of
// those of a day: that mites were seen again, or that they are gone after so many
// days on which none were seen.
func (c *contrary) mitesSettled(day model.Day, days int) bool {
	return c.mites.Positive() || c.mites.Gone(c.t, day, days)
}

// learn takes what an entry says, for those before it.
func (c *contrary) learn(e care.Entry) {
	switch body := e.Body.(type) {
	case care.Meal:
		c.broughtUp = c.broughtUp || body.Outcome == care.Regurgitated
	case care.Shed:
		c.lastShed = max(c.lastShed, e.At.Day())
		if !c.caps {
			c.caps, c.capStands = body.StuckEyeCaps != care.NotLooked, body.StuckEyeCaps == care.Yes
		}
		if !c.tip {
			c.tip, c.tipStands = body.StuckTailTip != care.NotLooked, body.StuckTailTip == care.Yes
		}
	case care.Waste:
		c.lastWaste = max(c.lastWaste, e.At.Day())
		c.learnWaste(body)
	case care.MiteLook:
		if c.mites == nil {
			c.mites = care.MiteDays{}
		}
		c.mites.Add(e.At.Day(), body)
	}
}

func (c *contrary) learnWaste(w care.Waste) {
	if c.waste == nil {
		c.waste, c.clean = map[traced]bool{}, map[traced]int{}
	}
	found := wasteFindings(c.t, w)
	for _, f := range found {
		c.waste[f] = true
	}
	for _, f := range traceable(c.t) {
		if sawPart(c.t, w, f) && !slices.Contains(found, f) {
			c.clean[f]++
		}
	}
}

// sawPart reports whether the part in which a finding would be was there to be
// seen.
func sawPart(t *knowledge.Tables, w care.Waste, f traced) bool {
	traits := w.Faeces
	if f.urates {
		traits = w.Urates
	}
	return len(traits) > 0 && (!slices.Contains(traits, care.NoneSeen) || f.what == findingOf(t, knowledge.TellUrates, string(care.NoneSeen)))
}

// contextAt is the context as it was at the entry of that index: only earlier
// regurgitations count, and a mass that was weighed by then. What was weighed
// later tells nothing of a young animal's mass.
func (r Records) contextAt(i int) exam.Context {
	c := r.Context
	c.Mass = model.Mass{}
	at := r.Entries[i].At
	c.Regurgitations = c.Regurgitations[sort.Search(len(c.Regurgitations), func(i int) bool { return c.Regurgitations[i].Before(at) }):]
	if w := sort.Search(len(r.Weights), func(i int) bool { return !at.Before(r.Weights[i].At) }); w < len(r.Weights) {
		c.Mass = r.Weights[w].Mass
	}
	return c
}

// signs are the findings that the entry of that index tells; an eye cap was left at so
// many sheds in a row up to it.
func (r Records) signs(t *knowledge.Tables, i, stuck int) []exam.Sign {
	e := r.Entries[i]
	var signs []exam.Sign
	tell := func(entry knowledge.TellEntry, noted string) *exam.Sign {
		row, tells := t.Tell(entry, noted)
		if !tells || slices.ContainsFunc(signs, func(other exam.Sign) bool { return other.What == row.Finding }) {
			return nil
		}
		signs = append(signs, exam.Sign{Stop: row.Stop, What: row.Finding, Grade: exam.Grade(row.Grade), Standing: exam.New, Sheds: 1, Seen: e.At.Day()})
		return &signs[len(signs)-1]
	}
	switch body := e.Body.(type) {
	case care.Meal:
		tell(knowledge.TellMeal, string(body.Outcome))
	case care.Shed:
		if body.StuckEyeCaps == care.Yes {
			if kept := tell(knowledge.TellShed, eyeCap); kept != nil {
				kept.Sheds = stuck
			}
		}
		if body.StuckTailTip == care.Yes {
			tell(knowledge.TellShed, tailTip)
		}
	case care.Waste:
		for _, part := range []struct {
			entry  knowledge.TellEntry
			traits []care.Trait
		}{{knowledge.TellFaeces, body.Faeces}, {knowledge.TellUrates, body.Urates}} {
			for _, trait := range part.traits {
				if s := tell(part.entry, string(trait)); s != nil && r.alsoBefore(t, i, s.What) {
					s.Standing = exam.Same
				}
			}
		}
	case care.MiteLook:
		tell(knowledge.TellMites, strconv.Itoa(int(body.Grade)))
	}
	return signs
}

// What is noted of a shed, by the names of the tables.
const (
	eyeCap  = "eye-cap"
	tailTip = "tail-tip"
)

// findingOf is the finding that a thing noted stands for.
func findingOf(t *knowledge.Tables, entry knowledge.TellEntry, noted string) knowledge.FindingID {
	row, _ := t.Tell(entry, noted)
	return row.Finding
}

// MiteDays are the looks for mites of the records.
func (r Records) MiteDays() care.MiteDays { return care.MiteDaysOf(r.Entries) }

// Treated are the treatments against mites of the records.
func (r Records) Treated() []care.Treated { return care.TreatedOf(r.Entries) }

// mitesEnd is on how many days none are seen before what a look of that grade has
// told ends.
func mitesEnd(t *knowledge.Tables, grade care.MiteGrade) int {
	row, _ := t.Tell(knowledge.TellMites, strconv.Itoa(int(grade)))
	return row.Ends
}

// shedsInRow counts for each entry the sheds in a row, back from it, after which an eye
// cap was left; one that was not looked at ends no row.
func (r Records) shedsInRow() []int {
	rows, n := make([]int, len(r.Entries)), 0
	for i, e := range slices.Backward(r.Entries) {
		if shed, ok := e.Body.(care.Shed); ok {
			switch shed.StuckEyeCaps {
			case care.No:
				n = 0
			case care.Yes:
				n++
			}
		}
		rows[i] = n
	}
	return rows
}

// alsoBefore reports whether the entry of faeces and urates before that index
// told the same.
func (r Records) alsoBefore(t *knowledge.Tables, i int, what knowledge.FindingID) bool {
	for _, e := range r.Entries[i+1:] {
		if waste, ok := e.Body.(care.Waste); ok {
			return slices.ContainsFunc(wasteFindings(t, waste), func(f traced) bool { return f.what == what })
		}
	}
	return false
}

// traceable are all findings that faeces and urates can tell.
func traceable(t *knowledge.Tables) []traced {
	return wasteFindings(t, care.Waste{Faeces: care.FaecesTraits(), Urates: care.UratesTraits()})
}

// wasteFindings are the findings that an entry of faeces and urates tells.
func wasteFindings(t *knowledge.Tables, w care.Waste) []traced {
	var found []traced
	of := func(entry knowledge.TellEntry, traits []care.Trait) {
		for _, trait := range traits {
			if row, tells := t.Tell(entry, string(trait)); tells {
				found = append(found, traced{row.Finding, entry == knowledge.TellUrates, row.Ends})
			}
		}
	}
	of(knowledge.TellFaeces, w.Faeces)
	of(knowledge.TellUrates, w.Urates)
	return found
}

// Says is what the tables would say of an entry of everyday care that is not kept
// yet, made after all others.
func (r Records) Says(t *knowledge.Tables, e care.Entry) exam.Verdict {
	r.Entries = append([]care.Entry{e}, r.Entries...)
	return r.judged(t, 0, r.signs(t, 0, r.shedsInRow()[0]))
}
