package handover

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/exam"
	"coilward/model/handover"
	"coilward/model/knowledge"
	"coilward/model/samples"
	"coilward/model/wording"
)

// Part is one heading of what is told, with its lines.
type Part struct {
	Title string
	Lines []string
}

// Told is what papers tell, in words: who it is, what was checked and by whom, and
// with equal rank what was not.
type Told struct {
	Name, Who string
	// Seal says what the signature proves and what not.
	Seal         string
	Fingerprint  string
	Issued       string
	Compared     []string // with papers that were taken in before; empty: there is nothing to say
	Checked, Not Part
	Caution      string
}

type gaps = map[string]any

// telling is a record while it is put into words.
type telling struct {
	handover.Record
	tables *knowledge.Tables
	text   *wording.Text
	hands  map[model.PersonID]string
}

// Tell puts papers into words.
func Tell(p *Papers, tables *knowledge.Tables, text *wording.Text) Told {
	t := telling{Record: p.Record, tables: tables, text: text, hands: map[model.PersonID]string{}}
	for _, h := range p.Record.Hands {
		t.hands[h.ID] = h.Name
	}
	out := Told{Name: p.Record.Animal.Name, Who: t.who(), Fingerprint: p.Key.Fingerprint(), Caution: text.Say("handover.caution")}
	out.Seal = text.Say("handover.seal", gaps{"Key": out.Fingerprint})
	out.Issued = text.Say("handover.issued", gaps{"Day": p.Record.Issued.Day, "Version": p.Record.Issued.Program})
	out.Checked = Part{text.Say("handover.checked"), t.checked()}
	out.Not = Part{text.Say("handover.not"), t.not()}
	return out
}

// Compared says how papers stand to those that were taken in before: that they are older,
// signed with another key, or the very same. Empty: there is nothing to say.
func Compared(p *Papers, s handover.Stand, text *wording.Text) (lines []string) {
	if s.OtherKey {
		lines = append(lines, text.Say("handover.other-key", gaps{"Before": s.Before.Key}))
	}
	if s.Older {
		lines = append(lines, text.Say("handover.older", gaps{"Day": s.Before.Day, "Issued": p.Record.Issued.Day}))
	}
	if s.Same && !s.OtherKey {
		lines = append(lines, text.Say("handover.same"))
	}
	return lines
}

// word is the text of an id of the tables, or that this version does not know it.
func (t telling) word(prefix, id string) string {
	if t.text.Has(prefix + id) {
		return t.text.Say(prefix + id)
	}
	return t.text.Say("handover.unknown", gaps{"Id": id})
}

func (t telling) say(key string, with gaps) string { return t.text.Say(key, with) }

func (t telling) who() string {
	a := t.Animal
	var parts []string
	add := func(s string) { parts = append(parts, s) }
	if a.Species != "" {
		add(t.species())
	}
	if a.Sex != animals.SexUnknown {
		sex := t.word("animals.sex.", string(a.Sex))
		if a.SexHow != animals.HowUnknown {
			sex += " (" + t.word("animals.sex-how.", string(a.SexHow)) + ")"
		}
		add(sex)
	}
	if !a.Hatched.IsZero() {
		add(t.say("handover.hatched", gaps{"Date": a.Hatched}))
	}
	if a.Morph != "" {
		add(a.Morph)
	}
	if !a.Chip.IsZero() {
		add(t.say("handover.chip", gaps{"Digits": a.Chip.Digits}))
	}
	if a.Source != animals.SourceNone {
		add(t.say("handover.source", gaps{"Code": string(a.Source), "Words": t.word("animals.source.", string(a.Source))}))
	}
	return strings.Join(parts, " · ")
}

func (t telling) species() string {
	if s, known := t.tables.Species(t.Animal.Species); known && s.Latin != "" {
		return s.Latin
	}
	return t.word("species.", string(t.Animal.Species))
}

// by is by whom something was done.
func (t telling) by(id model.PersonID) string {
	if name := t.hands[id]; name != "" {
		return name
	}
	return t.text.Say("handover.nobody")
}

// counted are the checks that count as having looked: a brief look does not.
func (t telling) counted() []handover.Check {
	return slices.DeleteFunc(slices.Clone(t.Checks), func(c handover.Check) bool { return c.Extent == exam.BriefLook })
}

// checked is what was looked at, with days and hands.
func (t telling) checked() []string {
	results, out := t.results() // what was detected goes before everything
	if checks := t.counted(); len(checks) > 0 {
		last := checks[len(checks)-1]
		looked, full := 0, 0
		for _, c := range checks {
			if c.Extent == exam.FullCheck {
				full++
			}
		}
		for _, s := range last.Stops {
			if s.Look.Looked() {
				looked++
			}
		}
		out = append(out, t.say("handover.checks", gaps{"Number": len(checks), "First": checks[0].When.Day, "Last": last.When.Day, "Full": full, "Extent": t.word("extent.", string(last.Extent)), "Looked": looked, "Stops": len(last.Stops), "By": t.by(last.By)}))
	}
	open := t.open()
	if c := t.gravest(open); c.Level >= knowledge.VetWithinDays {
		out = append(out, t.judged(c))
	}
	out = append(out, told(t, open, func(p handover.Problem) string {
		return t.say("handover.finding", gaps{"Finding": t.word("finding.", string(p.What)), "Stop": t.where(p.Found), "Since": p.Since.Day, "Last": p.Last.Day})
	})...)
	for _, kind := range []string{care.KindWeight, care.KindMeal, care.KindShed, care.KindMiteLook} {
		if line := t.care(kind); line != "" {
			out = append(out, line)
		}
	}
	out = append(out, results...)
	out = append(out, told(t, t.Quarantines, t.quarantine)...)
	if t.Courses+t.Visits > 0 {
		out = append(out, t.say("handover.paper", gaps{"Courses": t.Courses, "Visits": t.Visits}))
	}
	if n := len(t.Photos); n > 0 {
		out = append(out, t.say("handover.photos", gaps{"Number": n}))
	}
	if len(out) == 0 {
		out = append(out, t.text.Say("handover.checked.none"))
	}
	return out
}

// open are the findings that were still there when somebody last looked.
func (t telling) open() []handover.Problem {
	return slices.DeleteFunc(slices.Clone(t.Problems), func(p handover.Problem) bool { return !p.Standing.Present() })
}

// where is the stop of a finding, or that it is of the whole animal.
func (t telling) where(f handover.Found) string {
	if f.Place.Whole() && !f.Rough {
		return t.text.Say("zone.whole")
	}
	return t.word("stop.", string(f.Stop))
}

// gravest is the check that asked for most: the last one that counts, or any, brief ones too,
// of the day on which a finding that is still open was last looked at. Of those that asked for
// as much it is the one by which a vet is wanted first.
func (t telling) gravest(open []handover.Problem) (most handover.Check) {
	all := slices.DeleteFunc(slices.Clone(t.Checks), func(c handover.Check) bool {
		return !slices.ContainsFunc(open, func(p handover.Problem) bool { return p.Last.Day == c.When.Day })
	})
	if counted := t.counted(); len(counted) > 0 {
		all = append(all, counted[len(counted)-1])
	}
	for _, c := range all {
		sooner := c.VetBy != 0 && (most.VetBy == 0 || c.VetBy < most.VetBy)
		if c.Level > most.Level || c.Level == most.Level && sooner {
			most = c
		}
	}
	return most
}

func (t telling) quarantine(q handover.Quarantine) string {
	protocol := t.word("protocol.", string(q.Protocol))
	if q.Released == nil {
		return t.say("handover.quarantine.open", gaps{"Protocol": protocol, "From": q.Arrived.Day})
	}
	unmet := 0
	for _, l := range q.Lines {
		if l.State == "not-met" || l.State == "cannot-tell" {
			unmet++
		}
	}
	return t.say("handover.quarantine", gaps{"Protocol": protocol, "From": q.Arrived.Day, "Until": q.Released.Day, "Unmet": unmet})
}

// mostTold is how many lines tell of one thing: no animal has as many, and a window that
// shows tens of thousands stands still.
const mostTold = 200

// told are lines of what runs from the oldest to the newest: of the newest, and how many more
// there are.
func told[V any](t telling, all []V, say func(V) string) (lines []string) {
	left := max(0, len(all)-mostTold)
	for _, v := range all[left:] {
		lines = append(lines, say(v))
	}
	if left > 0 {
		lines = append(lines, t.text.Count("handover.more", left))
	}
	return lines
}

// judged is what the tables of the day asked for after a check.
func (t telling) judged(c handover.Check) string {
	line := t.say("handover.judged", gaps{"Day": c.When.Day, "Level": t.text.Say("urgency." + c.Level.String())})
	if c.VetBy != 0 {
		line += " " + t.say("handover.vet-by", gaps{"Day": c.VetBy})
	}
	return line
}

// answers are what stands of a sample's results: of each thing the last, and nothing of a
// sample of which nothing comes.
func answers(s handover.Sample) (all []handover.Result) {
	if s.Void != "" {
		return nil
	}
	for _, r := range s.Results {
		all = append(slices.DeleteFunc(all, func(o handover.Result) bool { return o.Of == r.Of }), r)
	}
	return all
}

// answered is one answer of a lab, and the sample that it is of.
type answered struct {
	handover.Sample
	handover.Result
}

// results are what labs found, a line for each answer that stands: apart what was detected.
func (t telling) results() (others, detected []string) {
	var found, rest []answered
	excluded := true
	for _, s := range t.Samples {
		for _, r := range answers(s) {
			if r.Outcome == samples.Detected {
				found = append(found, answered{s, r})
				continue
			}
			excluded = excluded && r.Outcome != samples.NotDetected
			rest = append(rest, answered{s, r})
		}
	}
	line := func(a answered) string { return t.result(a.Sample, a.Result) }
	others, detected = told(t, rest, line), told(t, found, line)
	if !excluded {
		others = append(others, t.text.Say("tray.not-proof"))
	}
	if len(detected) > 0 {
		detected = append(detected, t.text.Say("handover.detected"))
	}
	return others, detected
}

func (t telling) result(s handover.Sample, r handover.Result) string {
	day := r.When.Day
	if s.Taken != nil {
		day = s.Taken.Day
	}
	line := t.say("handover.result", gaps{"Agent": t.word("agent.", string(r.Of)), "Outcome": t.word("samples.outcome.", string(r.Outcome)), "Material": t.word("material.", string(s.Material)), "Day": day})
	if r.Method == knowledge.Antibodies {
		line += " " + t.text.Say("handover.antibodies")
	}
	if s.Lab != "" {
		line += " " + t.say("handover.lab", gaps{"Lab": s.Lab})
	}
	if r.Report != "" {
		line += " " + t.say("handover.report", gaps{"Number": r.Report})
	}
	if s.Others > 0 {
		line += " " + t.text.Say("handover.pool")
	}
	return line
}

// of are the entries of a kind.
func (t telling) of(kind string) []handover.Entry {
	return slices.DeleteFunc(slices.Clone(t.Entries), func(e handover.Entry) bool { return e.Kind != kind })
}

// care is one line about the entries of a kind; empty: there are none.
func (t telling) care(kind string) string {
	all := t.of(kind)
	if len(all) == 0 {
		return ""
	}
	first, last := all[0], all[len(all)-1]
	body, err := last.Care()
	if err != nil { // a record with such an entry is not read
		return ""
	}
	with := gaps{"Number": len(all), "First": first.When.Day, "Last": last.When.Day, "By": t.by(last.By)}
	switch b := body.(type) {
	case care.Weight:
		with["Mass"] = t.text.Mass(b.Mass)
		if last.Doubtful {
			with["Mass"] = t.say("paper.mass.doubtful", gaps{"Mass": b.Mass})
		}
		return t.say("handover.weights", with)
	case care.Meal:
		refused := 0
		for _, e := range all[max(0, len(all)-10):] {
			if m, err := e.Care(); err == nil && m.(care.Meal).Outcome != care.Took {
				refused++
			}
		}
		with["Outcome"], with["Refused"], with["Of"] = t.word("care.outcome.", string(b.Outcome)), refused, min(10, len(all))
		return t.say("handover.meals", with)
	case care.Shed:
		with["Skin"] = t.text.Say("care.skin.unknown")
		if b.Skin != care.SkinNotLooked {
			with["Skin"] = t.word("care.skin.", string(b.Skin))
		}
		return t.say("handover.sheds", with)
	case care.MiteLook:
		with["Grade"] = t.word("care.mites.", strconv.Itoa(int(b.Grade)))
		return t.say("handover.mites", with)
	}
	return ""
}

// apart stands between names of which some have a comma in them.
const apart = "; "

// not is what was not looked at, and what is not known.
func (t telling) not() []string {
	var out []string
	add := func(key string) { out = append(out, t.text.Say(key)) }
	checks := t.counted()
	if len(checks) == 0 {
		add("handover.not.checks")
	} else {
		never, last := t.unlooked(checks)
		if len(never) > 0 {
			out = append(out, t.say("handover.not.stops", gaps{"Stops": strings.Join(never, apart)}))
		}
		if len(last) > 0 {
			out = append(out, t.say("handover.not.last", gaps{"Stops": strings.Join(last, apart)}))
		}
	}
	if tests := t.untested(); len(tests) > 0 {
		out = append(out, t.say("handover.not.tests", gaps{"Agents": strings.Join(tests, apart)}))
	}
	open := slices.DeleteFunc(slices.Clone(t.Samples), func(s handover.Sample) bool { return s.Taken == nil || len(answers(s)) > 0 })
	out = append(out, told(t, open, func(s handover.Sample) string {
		return t.say("handover.not.result", gaps{"Material": t.word("material.", string(s.Material)), "Day": s.Taken.Day})
	})...)
	a := t.Animal
	for _, gap := range []struct {
		missing bool
		key     string
	}{
		{len(t.of(care.KindWeight)) == 0, "handover.not.weights"}, {len(t.of(care.KindMeal)) == 0, "handover.not.meals"},
		{len(t.of(care.KindShed)) == 0, "handover.not.sheds"}, {len(t.of(care.KindMiteLook)) == 0, "handover.not.mites"},
		{len(t.Quarantines) == 0, "handover.not.quarantine"}, {a.Hatched.IsZero(), "handover.not.hatched"},
		{a.Sex == animals.SexUnknown || a.SexHow == animals.HowUnknown, "handover.not.sex"}, {a.Source == animals.SourceNone, "handover.not.source"},
	} {
		if gap.missing {
			add(gap.key)
		}
	}
	if t.Unread > 0 {
		out = append(out, t.say("handover.not.unread", gaps{"Number": t.Unread}))
	}
	add("handover.not.beside")
	add("handover.not.rest")
	return out
}

// unlooked are the stops that no check looked at, and those that only the last one did
// not.
func (t telling) unlooked(checks []handover.Check) (never, last []string) {
	looked := map[knowledge.StopID]bool{}
	lastLooked := map[knowledge.StopID]bool{}
	for i, c := range checks {
		for _, s := range c.Stops {
			looked[s.Stop] = looked[s.Stop] || s.Look.Looked()
			lastLooked[s.Stop] = i == len(checks)-1 && s.Look.Looked()
		}
	}
	for _, s := range t.tables.Stops() {
		switch name := t.word("stop.", string(s.ID)); {
		case s.Way == knowledge.Noted:
		case !looked[s.ID]:
			never = append(never, name)
		case !lastLooked[s.ID]:
			last = append(last, name)
		}
	}
	return never, last
}

// untested are the things that samples are looked through for and of which no lab gave an
// answer that says anything. "Detected" always does; "not detected" does in what the thing can
// be found in, and not by antibodies.
func (t telling) untested() []string {
	answered := map[knowledge.AgentID]bool{}
	for _, s := range t.Samples {
		for _, r := range answers(s) {
			_, speaks := t.tables.Sight(r.Of, t.Animal.Species, s.Material, r.Method)
			answered[r.Of] = answered[r.Of] || r.Outcome == samples.Detected || speaks && r.Outcome == samples.NotDetected
		}
	}
	var out []string
	for _, a := range t.tables.Agents() {
		if !answered[a.ID] {
			out = append(out, t.word("agent.", string(a.ID)))
		}
	}
	return out
}

// Lines are all that is told, as lines of plain text.
func (t Told) Lines() []string {
	out := []string{t.Name, t.Who, ""}
	out = append(append(out, t.Compared...), t.Seal, t.Issued)
	for _, p := range []Part{t.Checked, t.Not} {
		out = append(out, "", p.Title)
		for _, line := range p.Lines {
			out = append(out, fmt.Sprintf("  - %s", line))
		}
	}
	return append(out, "", t.Caution)
}
