package paper

import (
	"cmp"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"coilward/model"
	"coilward/model/chart"
	"coilward/model/drawing"
	"coilward/model/exam"
	"coilward/model/knowledge"
	"coilward/model/newcomers"
	"coilward/model/quarantine"
)

// Quarantine is what papers state of an animal's quarantine: the list as of the day of
// the paper, or as it was said at the release.
type Quarantine struct {
	newcomers.Newcomer
	Issued model.Moment
	Tables *knowledge.Tables
	By     string // who released it; empty: not known, or private
	// Positives are those that are not closed and concern the animal.
	Positives []OpenPositive
	Version   string // of the program
	// Told puts on the paper from whom the animal came, and the reason of a release in
	// the keeper's words: both may speak of people.
	Told  bool
	rests map[model.ID]rest
}

// rest is something that a line rests on.
type rest struct {
	day  model.Day
	kind string // the text is "kind." + kind
}

// GatherQuarantine reads an animal's open quarantine, or its last; ok is false where it
// has none.
func GatherQuarantine(v model.View, t *knowledge.Tables, animal model.AnimalID) (q Quarantine, ok bool, err error) {
	n, ok, err := newcomers.Of(v, t, animal)
	if err != nil || !ok {
		return q, false, err
	}
	q = Quarantine{Newcomer: n, Issued: v.Now(), Tables: t, rests: map[model.ID]rest{}}
	for _, l := range n.Gate.Lines {
		for _, id := range l.On {
			d, err := v.Document(id)
			switch {
			case errors.Is(err, model.ErrNotFound):
				continue // it was taken out since
			case err != nil:
				return q, false, fmt.Errorf("gather what a quarantine rests on: %w", err)
			}
			if r, known := restOf(d); known {
				q.rests[id] = r
			}
		}
	}
	if r := n.Quarantine.Released; r != nil {
		by, err := person(v, r.By)
		if err != nil {
			return q, false, err
		}
		if !by.Private {
			q.By = by.Name
		}
	}
	q.Positives, err = openPositives(v, t, animal)
	return q, err == nil, err
}

// restOf is what a document is called as something that a line rests on; known is
// false for one that has no name as such.
func restOf(d model.Document) (r rest, known bool) {
	r.day = d.At.Day()
	switch d.Type {
	case model.TypeSample, model.TypeStay, model.TypePositive:
		r.kind = string(d.Type)
	case model.TypeEntry:
		r.kind = d.Kind
	case model.TypeProblem: // it was seen in a check
		r.kind = exam.KindCheck
	}
	return r, r.kind != ""
}

// QuarantineReport is the paper about one quarantine: each line with the day on which
// it turned true, what it rests on, and what is not met and why. It never says that an
// animal carries nothing, or how it is.
func QuarantineReport(q Quarantine, text Text, size Size) Document {
	s := quarantined{Quarantine: q, text: text}
	name := s.brief(q.Animal.Name)
	d := Document{
		Title: text.Say("paper.quarantine.title", gaps{"Name": name}), Subject: text.Say("paper.record.issued", gaps{"Day": q.Issued.Day()}),
		Language: text.Language(), Size: size, FootLeft: name, FootMiddle: text.Say("paper.record.issued", gaps{"Day": q.Issued.Day()}),
		PageOf: func(page, total int) string { return text.Say("paper.page-of", gaps{"Page": page, "Total": total}) },
	}
	blocks := []Block{Paragraph{s.say("paper.quarantine.kicker"), smallBold.In(Accent)}, Paragraph{name, nameStyle}}
	if open := saidOfPositives(q.Positives, "paper.quarantine.positive", text); len(open) > 0 {
		blocks = append(blocks, List{Triangle, open, textStyle})
	}
	blocks = append(blocks, Paragraph{s.sentence(), sayStyle}, Rule{Ink, .25})
	blocks = append(append(blocks, s.who()...), Space(2))
	blocks = append(blocks, s.blocks()...)
	blocks = append(blocks, Rule{Ink, .25},
		Columns{Shares: []float64{1, 1}, Gap: 8, Parts: [][]Block{{Paragraph{s.issued(), smallStyle}}, {Paragraph{s.say("paper.quarantine.caution"), smallStyle}}}},
		Signatures{s.say("paper.sign.keeper"), s.say("paper.sign.vet")})
	d.Sections = []Section{{Name: s.say("paper.quarantine.kicker"), Fit: true, Blocks: blocks}}
	return d.tellingMissing(text)
}

// QuarantineBlocks are the lines of a quarantine and its looks for mites as a part of
// another paper, which names no other animal.
func QuarantineBlocks(q Quarantine, text Text) []Block {
	s := quarantined{q, text, text.Say("paper.quarantine.another")}
	blocks := s.blocks()
	head := Keep{Heading{Level: 2, Text: s.say("paper.quarantine.kicker")}, Paragraph{s.sentence(), textStyle}, blocks[0]}
	return append([]Block{head}, blocks[1:]...)
}

// quarantined is a quarantine with what is needed to word it.
type quarantined struct {
	Quarantine
	text    Text
	another string // what stands for the names of other animals, empty: they are told
}

func (s quarantined) say(key string, g ...map[string]any) string { return s.text.Say(key, g...) }

func (s quarantined) brief(typed string) string {
	return cut(strings.Join(strings.Fields(Clean(typed)), " "), longestTitle)
}

// open reports whether it was not released by the day of the paper.
func (s quarantined) open() bool { return s.Quarantine.Quarantine.Open() }

// sentence says how the quarantine stands.
func (s quarantined) sentence() string {
	if s.open() {
		return s.say("paper.quarantine.open", s.standing())
	}
	return s.say("paper.quarantine.released", s.standing())
}

// standing is what is said of how it stands: of one that was released, on which day.
func (s quarantined) standing() gaps {
	asked := len(s.Gate.Lines)
	words := gaps{"Count": countOfDays(s.Quarantine, s.text), "Met": asked - len(s.Gate.Unmet()), "Asked": asked}
	if !s.open() {
		words["On"] = s.Quarantine.Quarantine.Released.At.Day()
	}
	return words
}

// countOfDays is how far the days have come, of those asked for: since the arrival, and
// since they began again, as the list counts them.
func countOfDays(q Quarantine, text Text) string {
	for _, l := range q.Gate.Lines {
		if l.Item == quarantine.InRoom && l.Again != 0 {
			return text.Say("paper.quarantine.day-again", gaps{"Day": q.Day, "Have": l.Have, "Days": l.Want})
		}
	}
	if q.Day > q.Protocol.Days {
		return text.Say("paper.quarantine.day-over", gaps{"Day": q.Day, "Days": q.Protocol.Days})
	}
	return text.Say("paper.quarantine.day", gaps{"Day": q.Day, "Days": q.Protocol.Days})
}

// who is what the quarantine is of, and by what it goes.
func (s quarantined) who() []Block {
	unknown := s.say("paper.quarantine.unknown")
	from := unknown
	if s.Animal.From != "" {
		from = cut(strings.Join(strings.Fields(Clean(s.Animal.From)), " "), longestFact)
	}
	room := unknown
	if s.RoomTitle != "" {
		room = cut(Clean(s.RoomTitle), longestFact)
	}
	pairs := [][2]string{
		{s.say("paper.quarantine.came"), s.text.DayShort(s.Quarantine.Quarantine.Arrived.Day())},
		{s.say("paper.quarantine.room"), room},
		{s.say("field.protocol"), cut(Clean(labelled(s.text, s.Protocol.Title())), longestFact)},
	}
	if s.Told {
		pairs = slices.Insert(pairs, 1, [2]string{s.say("paper.quarantine.from"), from})
	}
	var reason []Block
	if r := s.Quarantine.Quarantine.Released; r != nil {
		by := cmp.Or(cut(Clean(s.By), longestFact), unknown)
		pairs = append(pairs, [2]string{s.say("paper.quarantine.on"), s.text.DayShort(r.At.Day())}, [2]string{s.say("paper.quarantine.by"), by})
		if r.Why != "" {
			why := s.say("paper.quarantine.why-noted")
			if s.Told {
				why = Clean(r.Why)
			}
			reason = append(reason, Grid{Pairs: [][2]string{{s.say("paper.quarantine.why"), why}}, NameW: .165}) // in line with the names above
		}
	} else {
		pairs = append(pairs, [2]string{s.say("paper.quarantine.earliest"), s.earliest()})
	}
	return append([]Block{Grid{Pairs: pairs, Columns: 2}}, reason...)
}

// issued is by which version and tables the paper was made, and what its list rests on.
func (s quarantined) issued() string {
	said := Strong(s.say("paper.issued.head")) + " " + s.say("paper.quarantine.issued", issuedBy(s.Issued, s.Version, s.Tables))
	if source := s.Protocol.Source; source != "" {
		said += " " + s.say("paper.quarantine.source", gaps{"Source": Clean(s.text.Source(source))})
	}
	return said
}

// earliest is the earliest day of the release; there is none while something holds it that
// days alone do not settle.
func (s quarantined) earliest() string {
	switch {
	case s.Gate.Met:
		return s.say("paper.quarantine.met-now")
	case s.Gate.Undated():
		return s.say("paper.quarantine.no-date")
	}
	return s.say("paper.quarantine.not-before", gaps{"Day": max(s.Gate.Earliest, s.Issued.Day())})
}

// blocks are the lines, and the looks for mites.
func (s quarantined) blocks() []Block {
	t := Table{Note: s.say("paper.quarantine.note"), Columns: []Column{
		{Title: s.say("paper.quarantine.line"), Share: 1.45, Style: smallInk}, {Title: s.say("paper.quarantine.state"), Fixed: 25, Style: smallInk},
		{Title: s.say("paper.quarantine.on-what"), Share: 1.4, Style: smallStyle}, {Title: s.say("paper.quarantine.not-why"), Share: 3.8, Style: smallStyle}}}
	for _, l := range s.Gate.Lines {
		t.Rows = append(t.Rows, []Cell{{Text: s.line(l)}, {Text: s.state(l), Sign: signOf(l.State)}, {Text: s.on(l)}, {Text: s.reasons(l)}})
	}
	blocks := []Block{Heading{Level: 2, Text: s.say("paper.quarantine.asked"), Aside: s.say("paper.quarantine.of", gaps{"Met": len(s.Gate.Lines) - len(s.Gate.Unmet()), "Asked": len(s.Gate.Lines)})}, t}
	if !s.Protocol.Mites {
		return blocks
	}
	head := Heading{Level: 2, Text: s.say("paper.quarantine.mites")}
	if len(s.Looks) == 0 { // there is nothing to draw
		return append(blocks, Keep{head, Paragraph{s.looked(), textStyle}})
	}
	return append(blocks, Keep{head, Figure{H: 46, Min: 25, Draw: s.watch(), Caption: s.say("paper.quarantine.mites-caption"), Words: s.looked()}})
}

func signOf(state quarantine.State) Sign {
	switch state {
	case quarantine.Met:
		return Tick
	case quarantine.Watch:
		return Watched
	case quarantine.CannotTell:
		return Untold
	}
	return Unmet
}

// line is what is asked, with how much of it there is.
func (s quarantined) line(l quarantine.Line) string {
	if l.Item == quarantine.Weighed && l.Have == 0 {
		return s.say("quarantine.item.weight")
	}
	var agents []string
	for _, of := range l.Agents {
		agents = append(agents, s.say("agent."+string(of)))
	}
	return s.say("newcomers.line."+string(l.Item), gaps{"Agent": strings.Join(agents, " / "), "Have": l.Have, "Want": l.Want})
}

// state is how a line stands, with the day on which it turned true; of one that is not
// met there is none.
func (s quarantined) state(l quarantine.Line) string {
	said := s.say("quarantine.state." + string(l.State))
	if l.State.Met() && l.Since > 0 {
		said += "\n" + s.text.DayShort(l.Since)
	}
	return said
}

// on is what a line rests on, the earliest first.
func (s quarantined) on(l quarantine.Line) string {
	var all []rest
	for _, id := range l.On {
		if r, there := s.rests[id]; there {
			all = append(all, r)
		}
	}
	slices.SortStableFunc(all, func(a, b rest) int { return cmp.Compare(a.day, b.day) })
	var said []string
	for _, r := range all {
		said = append(said, s.say("newcomers.entry", gaps{"Kind": s.say("kind." + r.kind), "Day": s.text.DayShort(r.day)}))
	}
	return strings.Join(said, "\n")
}

// reasons are why a line stands as it does.
func (s quarantined) reasons(l quarantine.Line) string {
	var all []string
	for _, r := range l.Reasons {
		if _, named := r.Gaps["Name"]; named && s.another != "" {
			r.Gaps = maps.Clone(r.Gaps)
			r.Gaps["Name"] = model.TextGap(s.another)
			all = append(all, capital(Clean(labelled(s.text, r))))
			continue
		}
		all = append(all, Clean(labelled(s.text, r)))
	}
	return strings.Join(all, " ")
}

// watch draws the looks for mites.
func (s quarantined) watch() Draw {
	m := s.Facts.Mites
	data := chart.WatchData{Today: s.Gate.Day, From: m.From, Ends: m.Ends, Over: m.Over, TodaySaid: s.text.DayOfYear(s.Gate.Day), GapSaid: s.say("newcomers.gap"), Words: chart.Words{Calendar: s.text, Measure: Measure}}
	for g := range data.Grades {
		data.Grades[g] = s.say("newcomers.grade." + strconv.Itoa(g))
	}
	last := model.Day(0) // of its own looks
	for _, l := range s.Looks {
		data.Looks = append(data.Looks, chart.Look{Day: l.Day, Grade: int(l.Grade), Other: l.Mate, Passing: l.Glance})
		if l.Mate || l.Glance {
			continue
		}
		if last > 0 && int(l.Day-last) > s.Tables.Value(knowledge.ValueMiteGap) {
			data.Gaps = append(data.Gaps, chart.Gap{From: last, To: l.Day})
		}
		last = l.Day
	}
	if m.From > 0 {
		data.FromSaid = s.say("newcomers.mites-from." + string(m.Why))
		data.EndsSaid = s.say("newcomers.mites-ends", gaps{"Days": m.Days, "Day": s.text.DayOfYear(m.Ends)})
	}
	if m.Over > 0 {
		data.EndsSaid = s.say("newcomers.mites-over", gaps{"Day": s.text.DayOfYear(m.Over)})
	}
	return Drawn(func(pen drawing.Pen, w, h float64) { chart.NewWatch(data, w, h, chartType).Draw(pen) })
}

// looked are the looks for mites in words.
func (s quarantined) looked() string {
	if len(s.Looks) == 0 {
		return s.say("quarantine.why.mites-no-look")
	}
	var all []string
	for _, l := range s.Looks {
		said := s.say("newcomers.looked", gaps{"Day": l.Day, "Seen": s.say("care.mites." + strconv.Itoa(int(l.Grade)))})
		if l.Mate {
			said += ", " + s.say("newcomers.looked-mate")
		}
		if l.Glance {
			said += ", " + s.say("newcomers.looked-glance")
		}
		all = append(all, said)
	}
	return strings.Join(all, "; ")
}

// labelled is a label of the rules in words.
func labelled(text Text, l model.Label) string {
	words := gaps{}
	for name, g := range l.Gaps {
		switch g.Kind {
		case model.GapKey:
			words[name] = text.Say(g.Text)
		case model.GapMass:
			words[name] = model.Mass{Milligrams: g.Number}
		case model.GapLength:
			words[name] = model.Length{Tenths: g.Number}
		case model.GapDay:
			words[name] = model.Day(g.Number)
		case model.GapTemperature:
			words[name] = text.Temperature(model.Temperature{Hundredths: g.Number})
		case model.GapCount:
			words[name] = int(g.Number)
		case model.GapShare:
			words[name] = text.Percent(int(g.Number))
		default:
			words[name] = Clean(g.Text)
		}
	}
	if count, counted := l.Gaps["Count"]; counted {
		return text.Count(l.Key, int(count.Number), words)
	}
	return text.Say(l.Key, words)
}
