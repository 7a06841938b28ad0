package paper

import (
	"fmt"
	"math"
	"strings"

	"coilward/model/care"
	"coilward/model/exam"
	"coilward/model/history"
	"coilward/model/knowledge"
)

// How many of a kind the tables of the record print; the newest are printed, and
// the aside of the table says how many there are.
const (
	printedChecks  = 8
	printedLooks   = 6
	printedWeights = 12
	printedEntries = 10
	printedPhotos  = 4
)

// newest are the last n of a list.
func newest[E any](list []E, n int) []E { return list[max(0, len(list)-n):] }

func (r record) evidence() []Block {
	blocks := []Block{
		Heading{Level: 1, Text: r.say("paper.record.evidence")},
		Paragraph{Text: r.say("paper.record.evidence.text")},
	}
	if len(r.Checks) > 0 {
		blocks = append(blocks, r.matrix()...)
	}
	if len(r.all) > 0 {
		blocks = append(append(blocks, r.overTime()), r.lookByLook()...)
	}
	if t, ok := r.reasons(); ok {
		blocks = append(blocks, t...)
	}
	if len(r.Samples) > 0 {
		blocks = append(blocks, r.tests()...)
	}
	blocks = append(blocks, r.proves()...)
	if r.Quarantine != nil {
		blocks = append(blocks, QuarantineBlocks(*r.Quarantine, r.text)...)
	}
	blocks = append(blocks, r.behaviour()...)
	switch {
	case len(r.Weights) == 1: // one makes no line: the table below has it
		blocks = append(blocks, r.weightHead())
	case len(r.Weights) > 1:
		blocks = append(blocks, Keep{r.weightHead(),
			Figure{H: 62, Min: 44, Words: r.weightWords(), Draw: r.growth(), Caption: r.growthSigns()}}, Paragraph{r.trend(), smallStyle})
	}
	blocks = append(blocks, r.entryTables()...)
	blocks = append(blocks, r.photos()...)
	if len(r.Notes) > 0 {
		blocks = append(blocks, r.notes()...)
	}
	blocks = append(blocks, r.words())
	if len(*r.long) > 0 {
		t := Table{Columns: []Column{{Title: r.say("paper.table.what"), Fixed: 40, Style: smallStyle}, {Title: r.say("paper.table.written"), Share: 1, Style: smallInk}}}
		for _, l := range *r.long {
			t.Rows = append(t.Rows, []Cell{{Text: l[0]}, {Text: l[1]}})
		}
		blocks = append(blocks, Heading{Level: 2, Text: r.say("paper.long")}, t)
	}
	return blocks
}

func (r record) ofAll(printed, all int) string {
	if printed >= all {
		return r.text.Count("paper.all", all)
	}
	return r.text.Count("paper.newest", printed, gaps{"All": all})
}

// matrix is stop by stop what each of the last checks answered.
func (r record) matrix() []Block {
	checks := newest(r.Checks, printedChecks)
	t := Table{Columns: []Column{{Title: r.say("paper.matrix.stop"), Share: 1, Style: smallStyle}}}
	extents := []Cell{{Text: r.say("paper.matrix.extent")}}
	for _, c := range checks {
		t.Columns = append(t.Columns, Column{Title: r.text.DayShort(c.At.Day()), Fixed: 14.3, Align: AlignCentre, Style: tinyStyle})
		extents = append(extents, Cell{Text: r.say("paper.extent." + string(c.Extent(r.Tables)))})
	}
	t.Rows = append(t.Rows, extents)
	for _, s := range walked(r.Tables) {
		row := []Cell{{Text: r.say("stop." + string(s.ID))}}
		for _, c := range checks {
			row = append(row, r.matrixCell(c, s.ID))
		}
		t.Rows = append(t.Rows, row)
	}
	head := Heading{Level: 2, Text: r.say("paper.matrix"), Aside: r.ofAll(len(checks), len(r.Checks))}
	return []Block{Keep{head, t, r.legend()}}
}

func (r record) matrixCell(c Checked, stop knowledge.StopID) Cell {
	present, gone := r.stands(c.ID, stop)
	sign, clear := looked(c.look(stop))
	switch {
	case len(present) > 0:
		words := ""
		for _, s := range present {
			words += numberWords(s.number, !s.quiet())
		}
		return Cell{Words: words, Draw: func(cv Canvas, b Box) { drawNumbers(cv, b, present) }}
	case gone:
		return signCell(Diamond, Ink2)
	case clear:
		return signCell(sign, Line)
	}
	return signCell(sign, Ink)
}

// drawNumbers draws up to three numbers side by side, and a plus for more.
func drawNumbers(c Canvas, b Box, present []standing) {
	const r, most = 1.5, 3
	shown := present[:min(len(present), most)]
	x := b.Centre().X - (2*r+.3)*float64(len(shown)-1)/2
	for _, s := range shown {
		drawNumber(c, x, b.Centre().Y, r, s.number, !s.quiet())
		x += 2*r + .3
	}
	if len(present) > most {
		put(c, x-r, b.Centre().Y+.9, AlignLeft, smallBold, "+")
	}
}

// legend explains the signs of the matrix, in as many lines as it needs.
func (r record) legend() Block {
	type entry struct {
		words string
		draw  func(c Canvas, x, y float64)
	}
	sign := func(s Sign, dark bool, key string) entry {
		return entry{r.say(key), func(c Canvas, x, y float64) {
			if dark {
				drawSign(c, s, x, y, 1.2, Ink)
			} else {
				drawSign(c, s, x, y, 1.2, Line)
			}
		}}
	}
	number := func(filled bool, key string) entry {
		return entry{r.say(key), func(c Canvas, x, y float64) { drawNumber(c, x, y, 1.4, 1, filled) }}
	}
	entries := []entry{
		sign(Felt, false, "paper.legend.felt"), sign(Seen, false, "paper.legend.seen"), sign(NotLooked, true, "paper.legend.not-looked"),
		sign(LeftToVet, true, "paper.legend.vet"), sign(Diamond, true, "paper.legend.gone"), number(true, "paper.legend.open"), number(false, "paper.legend.quiet"),
	}
	var words []string
	for _, e := range entries {
		words = append(words, e.words)
	}
	return Figure{H: 9, Words: strings.Join(words, ", "), Draw: func(c Canvas, b Box) {
		x, y := b.X0, b.Y0+2
		for _, e := range entries {
			w := 3.8 + lineWidth(smallStyle, e.words)
			if x > b.X0 && x+w > b.X1 {
				x, y = b.X0, y+4.6
			}
			e.draw(c, x+1.3, y)
			put(c, x+3.8, y+.9, AlignLeft, smallStyle, e.words)
			x += w + 5
		}
	}}
}

func (r record) overTime() Block {
	var words []string
	for _, s := range r.all {
		state := r.say("paper.chart.still")
		if !s.Open() {
			state = r.text.Day(s.Last().At.Day())
		}
		words = append(words, fmt.Sprintf("%s: %s – %s", r.what(s.StoredProblem), r.text.Day(s.First().At.Day()), state))
	}
	return Keep{Heading{Level: 2, Text: r.say("paper.overtime"), Aside: r.say("paper.overtime.aside")},
		Figure{H: 52, Min: 40, Words: strings.Join(words, "; "), Draw: r.bodyTime()}}
}

// lookByLook is each finding with its last looks, as chosen at the check.
func (r record) lookByLook() []Block {
	t := Table{Columns: []Column{{Fixed: 3.4}, {Title: r.say("paper.looks.finding"), Share: 1, Style: smallInk}, {Title: r.say("paper.looks.looks"), Share: 2.1, Style: smallStyle}}}
	for _, s := range r.all {
		var looks []string
		for _, g := range newest(s.Glimpses, printedLooks) {
			looks = append(looks, r.glimpse(g))
		}
		words := strings.Join(looks, "\n")
		if hidden := len(s.Glimpses) - printedLooks; hidden > 0 {
			words = r.text.Count("paper.looks.earlier", hidden, gaps{"Day": day(s.First().At)}) + "\n" + words
		}
		first := Cell{Sign: Diamond}
		if s.number > 0 {
			first = numberCell(s.number, !s.quiet())
		}
		t.Rows = append(t.Rows, []Cell{first, {Text: Strong(r.what(s.StoredProblem)) + r.asks(s)}, {Text: words}})
	}
	return []Block{Heading{Level: 2, Text: r.say("paper.looks"), Aside: r.say("paper.looks.aside")}, t}
}

// glimpse is one look in words.
func (r record) glimpse(g exam.Glimpse) string {
	parts := []string{Strong(r.text.Day(g.At.Day()))}
	if g.Standing != exam.Unasked {
		parts = append(parts, r.lower("standing."+string(g.Standing)))
	}
	if g.Grade != exam.Ungraded && g.Standing.Present() {
		parts = append(parts, r.lower("grade."+g.Grade.String()))
	}
	if !g.Size.IsZero() {
		parts = append(parts, r.text.Length(g.Size))
	}
	words := strings.Join(parts, ", ")
	if g.Note != "" {
		words += ": " + Clean(g.Note)
	}
	return words
}

// reasons are what the tables said of the open findings, with their sources.
func (r record) reasons() ([]Block, bool) {
	t := Table{Columns: []Column{{Fixed: 3.4}, {Title: r.say("paper.reasons.level"), Fixed: 36, Style: smallInk}, {Title: r.say("paper.reasons.reason"), Share: 1.5, Style: smallInk}, {Title: r.say("paper.reasons.source"), Share: 1, Style: smallStyle}}}
	cautions := map[knowledge.StopID]bool{}
	var said []string
	caution := func(stop knowledge.StopID) {
		if key := "stop." + string(stop) + ".caution"; !cautions[stop] && r.text.Has(key) {
			cautions[stop] = true
			said = append(said, Strong(r.say("stop."+string(stop))+":")+" "+r.say(key))
		}
	}
	for _, s := range r.all {
		first := Cell{Sign: Diamond}
		if s.number > 0 {
			first = numberCell(s.number, !s.quiet())
		}
		for _, p := range s.parts {
			t.Rows = append(t.Rows, r.reasonRows(first, p)...)
			caution(s.Stop)
		}
	}
	for _, p := range r.now.Parts {
		if p.From == history.FromEntry {
			t.Rows = append(t.Rows, r.reasonRows(Cell{Sign: Dot}, p)...)
			caution(p.Verdict.Signs[0].Stop)
		}
	}
	if len(t.Rows) == 0 {
		return nil, false
	}
	blocks := []Block{Heading{Level: 2, Text: r.say("paper.reasons"), Aside: r.say("paper.reasons.aside")}, t}
	if len(said) > 0 {
		blocks = append(blocks, List{Mark: Triangle, Items: said, Style: smallInk})
	}
	return blocks, true
}

// reasonRows are all that the tables said in one verdict.
func (r record) reasonRows(first Cell, p history.Part) [][]Cell {
	var rows [][]Cell
	for _, reason := range p.Verdict.Reasons {
		level := Strong(r.say("urgency."+reason.Level.String())) + "\n" + r.say("paper.said-on", gaps{"Day": p.Day})
		if reason.IfWorse > reason.Level {
			level += "\n" + r.say("paper.reasons.if-worse", gaps{"Level": r.say("paper.asks." + reason.IfWorse.String())})
		}
		words := r.say("reason." + string(reason.Rule))
		if reason.Isolate {
			words += "\n" + Strong(r.say("paper.sentence.apart"))
		}
		rows = append(rows, []Cell{first, {Text: level}, {Text: words}, {Text: Clean(r.text.Source(reason.Source))}})
	}
	return rows
}

func (r record) weightHead() Heading {
	first, last := r.Weights[0], r.Weights[len(r.Weights)-1]
	return Heading{Level: 2, Text: r.say("paper.weights"), Aside: r.text.Count("paper.weights.aside", len(r.Weights), gaps{"First": first.At.Day(), "Last": last.At.Day()})}
}

func (r record) weightWords() string {
	first, last := r.Weights[0], r.Weights[len(r.Weights)-1]
	return r.say("paper.chart.weights.words", gaps{"First": r.mass(first), "FirstDay": first.At.Day(), "Last": r.mass(last), "LastDay": last.At.Day()})
}

// growthSigns tells what the signs of the chart are, of those that it has.
func (r record) growthSigns() string {
	said, records := r.say("chart.weights.signs"), r.records()
	if fast, fasts := records.Fasting(r.Tables, r.Issued.Day()); fasts && len(fast.Days) > 0 {
		said += " " + r.say("chart.weights.fast")
	}
	if len(records.Breaks(r.Tables, r.Issued.Day())) > 0 {
		said += " " + r.say("chart.weights.breaks")
	}
	return said
}

// trend says how the weights go, up to the day of issue.
func (r record) trend() string {
	var said []string
	for _, label := range r.Trend().Words(r.Tables) {
		said = append(said, labelled(r.text, label))
	}
	return strings.Join(said, " ")
}

// backwards visits a list from its end.
func backwards[E any](list []E, visit func(E)) {
	for i := len(list) - 1; i >= 0; i-- {
		visit(list[i])
	}
}

// photos are the newest photo of each standard pose, which of them have none, and the
// newest others; or that there is none. What cannot be read is told on the first page.
func (r record) photos() []Block {
	if r.AllPhotos == 0 && r.Animal.Portrait == "" {
		return []Block{Keep{Heading{Level: 2, Text: r.say("paper.photos")}, List{HollowDia, []string{r.say("paper.photos.none")}, smallInk}}}
	}
	if len(r.Photos) == 0 {
		return nil
	}
	var posed, others []Photo
	missing := map[knowledge.PoseID]bool{}
	for _, pose := range r.Tables.Poses() {
		missing[pose.ID] = true
	}
	for _, p := range r.Photos {
		if p.Pose == "" {
			others = append(others, p)
			continue
		}
		missing[p.Pose] = false
		posed = append(posed, p)
	}
	lead := Keep{Heading{Level: 2, Text: r.say("paper.photos"), Aside: r.ofAll(len(r.Photos), r.AllPhotos)}}
	var none []string
	for _, pose := range r.Tables.Poses() {
		if missing[pose.ID] {
			none = append(none, r.say("pose."+string(pose.ID)))
		}
	}
	if len(none) > 0 {
		lead = append(lead, List{HollowDia, []string{r.pair("paper.photos.no-pose", strings.Join(none, ", "))}, smallInk})
	}
	blocks := photoRows(lead, posed, 3, r.photoWords)
	if len(posed) > 0 {
		lead = Keep{Heading{Level: 3, Text: r.say("paper.photos.others")}}
	}
	return append(blocks, photoRows(lead, others, 2, r.photoWords)...)
}

// photoRows are photos, so many beside each other, each row whole and the first one with
// what leads it.
func photoRows(lead Keep, photos []Photo, beside int, words func(Photo) string) (blocks []Block) {
	for i := 0; i < len(photos); i += beside {
		row := Columns{Gap: 8}
		for k := range beside {
			row.Shares, row.Parts = append(row.Shares, 1), append(row.Parts, nil)
			if i+k < len(photos) {
				p := photos[i+k]
				shape := float64(p.Height) / math.Max(float64(p.Width), 1)
				row.Parts[k] = []Block{Figure{H: min(124/float64(beside), 166/float64(beside)*shape), Draw: picture(p), Words: words(p), Caption: words(p)}}
			}
		}
		blocks, lead = append(blocks, append(lead, row)), nil
	}
	return blocks
}

func (r record) photoWords(p Photo) string {
	words := r.text.Day(p.Day)
	if p.Pose != "" {
		words = r.say("pose."+string(p.Pose)) + ", " + words
	}
	if p.Caption != "" {
		words = r.brief("paper.long.caption", p.Caption, longestFact) + ", " + words
	}
	for _, s := range r.all {
		if s.ID == p.Problem && !p.Problem.IsZero() {
			words = r.what(s.StoredProblem) + ", " + words
			if s.number > 0 {
				words = fmt.Sprintf("%d: %s", s.number, words)
			}
		}
	}
	return words
}

func (r record) notes() []Block {
	t := Table{Columns: []Column{{Title: r.say("paper.table.day"), Fixed: 28, Style: smallStyle}, {Title: r.say("paper.table.by"), Fixed: 30, Style: smallStyle}, {Title: r.say("paper.table.written"), Share: 1, Style: smallInk}}}
	backwards(r.Notes, func(n Dated[care.Note]) {
		t.Rows = append(t.Rows, []Cell{{Text: r.text.Day(n.At.Day())}, {Text: Clean(n.By)}, {Text: Clean(n.Body.Text)}})
	})
	return []Block{Heading{Level: 2, Text: r.say("paper.notes"), Aside: r.ofAll(len(t.Rows), len(r.Notes))}, t}
}

// words explains the words that a stranger to the paper needs.
func (r record) words() Block {
	pair := func(key string) [2]string { return [2]string{r.say(key), r.say(key + ".text")} }
	style := smallInk
	return Keep{Heading{Level: 2, Text: r.say("paper.words")},
		Columns{Shares: []float64{1, 1}, Gap: 8, Parts: [][]Block{
			{Grid{NameW: .3, Style: style, Pairs: [][2]string{pair("paper.words.percent"), pair("paper.words.not-looked"), pair("paper.words.clear")}}},
			{Grid{NameW: .3, Style: style, Pairs: [][2]string{pair("paper.words.comparable"), pair("paper.words.brief"), pair("paper.words.open")}}},
		}}}
}
