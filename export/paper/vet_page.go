package paper

import (
	"slices"
	"strings"
	"unicode/utf8"

	"coilward/model/body"
	"coilward/model/care"
	"coilward/model/evidence"
	"coilward/model/knowledge"
	"coilward/model/medicine"
)

// How much of each stands on the page for a vet, so that it stays one page.
const (
	vetMeals     = 3
	vetCourses   = 3
	vetTests     = 2
	vetBeside    = 3 // fluids, treatments and clutches, of their own
	vetQuestions = 4
	vetUnknown   = 3
	vetBreaths   = 3
	vetLines     = 2   // to write on
	vetHeadSigns = 420 // signs of what stands, at the head
	vetWords     = 110 // signs of one line of a list, twice of what must not be cut early
	vetLong      = 160 // signs of what is not known, or was given beside courses
)

// VetPage is one animal on one page for a vet who sees it: what is open, on the drawing,
// weights, meals, tests and medicines as they were noted, what is asked, how much was
// looked at and what cannot be told. It names no illness and proposes nothing.
func VetPage(f Facts, text Text, size Size) Document {
	d := vetPage(f, text, size, true)
	if len(Layout(d)) > 1 { // the chart's words take less room than the chart
		d = vetPage(f, text, size, false)
	}
	return d
}

// vetChart is the least height at which the chart of weights can be read, in millimetres.
const vetChart = 27

// vetDrawing is the least height of a drawing on which a place can be told, in millimetres.
const vetDrawing = 18

// vetPage is that page with the weights as a chart, or in words.
func vetPage(f Facts, text Text, size Size, charted bool) Document {
	now := f.Standing()
	r := record{Facts: f, text: text, now: now, all: f.standings(now), long: &[][2]string{}}
	name := r.brief("paper.long.name", f.Animal.Name, longestTitle)
	blocks := []Block{r.vetHead(name), Rule{Ink, .25}, r.vetDrawings()}
	if len(r.all) > 0 {
		blocks = append(blocks, r.findings())
	}
	switch {
	case len(r.Weights) > 1 && !charted:
		blocks = append(blocks, r.weightHead(), Paragraph{r.weightWords(), smallInk})
	case len(r.Weights) > 1:
		blocks = append(blocks, r.weightHead(), Figure{H: 34, Min: vetChart, Words: r.weightWords(), Draw: r.growth(), Caption: r.growthSigns()})
	}
	unknown := vetUnknown
	if len(r.proved()) > 0 && len(r.Courses) >= vetCourses { // what was given and found goes first
		unknown = 1
	}
	blocks = append(blocks,
		Columns{Shares: []float64{1, 1}, Gap: 8, Rule: true, Parts: [][]Block{
			append([]Block{Heading{Level: 3, Text: r.say("paper.vet.meals")}, List{Dot, r.vetMeals(), smallInk}}, r.vetBeside()...),
			{Heading{Level: 3, Text: r.say("paper.vet.medicines")}, List{Dot, r.vetMedicines(), smallInk}, Heading{Level: 3, Text: r.say("paper.vet.tests")}, List{Dot, r.vetTests(), smallInk}},
		}},
		Rule{Ink, .25},
		Columns{Shares: []float64{1, 1}, Gap: 8, Rule: true, Parts: [][]Block{
			{Heading{Level: 3, Text: r.say("paper.vet.questions")}, List{HollowDia, r.vetAsks(), smallInk}},
			{Heading{Level: 3, Text: r.say("paper.unknown")}, List{HollowDia, r.fewOf(r.unknown(), unknown, vetLong), smallStyle}},
		}})
	blocks = append(append(append(blocks, r.vetProves()...), append(r.vetBehaviour(), r.vetVisited()...)...), r.vetOpenQuestions()...)
	blocks = append(blocks, r.vetAir()...)
	blocks = append(blocks, Heading{Level: 3, Text: r.say("paper.vet.said")})
	lines := vetLines
	if len(r.Courses) > 1 || len(r.vetBeside()) > 0 || len(r.proved()) > 0 { // much was given or found: what it was goes first
		lines = 1
	}
	for range lines {
		blocks = append(blocks, Signatures{""})
	}
	blocks = append(blocks, Paragraph{Strong(r.say("paper.caution.head")) + " " + r.say("paper.vet.caution"), smallStyle})
	return Document{
		Title:      text.Say("paper.vet.title", gaps{"Name": name}),
		Subject:    text.Say("paper.record.issued", gaps{"Day": f.Issued.Day()}),
		Language:   text.Language(),
		Size:       size,
		FootLeft:   name,
		FootMiddle: text.Say("paper.vet.foot", gaps{"Day": f.Issued.Day()}),
		PageOf:     r.pageOf,
		Sections:   []Section{{Name: text.Say("paper.vet.kicker"), Fit: true, Blocks: blocks}},
	}.tellingMissing(text)
}

// vetHead is who the animal is, and what stands about it in one line each.
func (r record) vetHead(name string) Block {
	return Columns{Shares: []float64{1.2, 1}, Gap: 8, Parts: [][]Block{
		{Paragraph{r.say("paper.vet.kicker"), smallBold.In(Accent)}, Paragraph{name, titleStyle}, Paragraph{r.identity() + r.marked(), smallInk}},
		{Paragraph{r.vetStands(), smallInk}, Paragraph{r.vetLooked(), smallStyle}},
	}}
}

// vetStands are as many of the sentences of what stands, the gravest first, as have room, and
// that there are more.
func (r record) vetStands() string {
	all := r.sentences()
	said := cut(all[0], vetHeadSigns)
	for i, sentence := range all[1:] {
		if utf8.RuneCountInString(said)+utf8.RuneCountInString(sentence) > vetHeadSigns {
			return said + " " + r.text.Count("paper.vet.more-sentences", len(all)-1-i)
		}
		said += " " + sentence
	}
	return said
}

// vetLooked says how much was looked at: how many whole checks there were, and the last.
func (r record) vetLooked() string {
	checks := r.counted()
	if len(checks) == 0 {
		return r.say("paper.vet.never-checked")
	}
	return r.text.Count("paper.vet.checked", len(checks), gaps{"Day": r.text.Day(checks[len(checks)-1].At.Day())})
}

func (r record) vetMeals() []string {
	var all []string
	backwards(newest(r.Meals, vetMeals), func(m Dated[care.Meal]) {
		line := r.text.DayShort(m.At.Day()) + ": " + r.outcome(m.Body)
		if prey := r.prey(m.Body); prey != "" {
			line += ", " + prey
		}
		all = append(all, line)
	})
	if len(all) == 0 {
		all = append(all, r.say("paper.vet.none-noted"))
	}
	return r.fewOf(all, vetMeals, vetWords)
}

// vetMedicines are the courses that go on, then the newest of those that are over.
func (r record) vetMedicines() []string {
	all := r.currentCourses()
	backwards(r.Courses, func(c Prescribed) {
		if !c.Open() && len(all) <= vetCourses {
			all = append(all, r.say("paper.medicine.before", gaps{"Medicine": Clean(c.Medicine), "Day": r.text.DayShort(c.Prescribed.Day()), "Doses": Doses(r.text, c.Prescription, r.Issued)}))
		}
	})
	if len(all) == 0 {
		return []string{r.say("paper.vet.none-noted")}
	}
	if len(all) >= vetCourses { // so that they leave room on the page
		return r.fewOf(all, vetCourses, vetWords)
	}
	return r.fewOf(all, vetCourses, 2*vetWords)
}

// vetBeside are the newest fluids, treatments against mites and clutches, in a line each:
// however many courses there are, they stand.
func (r record) vetBeside() []Block {
	var all []string
	backwards(r.Beside, func(b Dated[care.Body]) {
		switch b.Body.(type) {
		case care.Fluids, care.MiteTreatment, care.Clutch:
			how, note := r.beside(b.Body)
			all = append(all, strings.Join(filled(r.text.DayShort(b.At.Day())+": "+r.say("kind."+b.Body.Kind()), how, Clean(note)), "; "))
		}
	})
	if len(all) == 0 {
		return nil
	}
	return []Block{Heading{Level: 3, Text: r.say("paper.vet.beside")}, List{Dot, r.fewOf(all, vetBeside, vetLong), smallInk}}
}

func (r record) vetTests() []string {
	all := r.fewOf(r.detections(), vetTests, 2*vetWords)
	signs := 2 * vetWords
	if len(r.proved()) > 0 { // the chances stand beside them
		signs = vetWords / 2
	}
	if known := r.knownTestsWithin(signs); known != "" {
		all = append(all, known)
	}
	if len(all) == 0 {
		all = append(all, r.say("paper.vet.none-noted"))
	}
	return all
}

// vetAsks are what the records leave open for a vet: what is a matter for one, breathing
// first, missed doses, volumes whose weight has changed.
func (r record) vetAsks() []string {
	all := []string{r.breathingAsks()}
	for _, cut := range r.Chilled {
		all = append(all, r.say("paper.vet.ask-chilled", gaps{"Day": cut.Until.Day()}))
	}
	for _, c := range r.Chances {
		if t, open := c.Open(); open && c.Act == evidence.Vet {
			all = append(all, r.say("paper.vet.ask-detected", gaps{"Agent": r.agent(c.Of), "Day": t.Reported.Day()}))
		}
	}
	for _, p := range r.Positives {
		if p.Near {
			all = append(all, r.say("paper.vet.ask-near", gaps{"Agent": r.agent(p.Agent), "Day": p.Since}))
		}
	}
	for _, s := range r.all {
		if s.level >= knowledge.VetWithinDays {
			all = append(all, r.say("paper.vet.ask-finding", gaps{"Finding": r.what(s.StoredProblem), "Day": s.First().At.Day()}))
		}
	}
	if r.now.Loss.ForVet() {
		all = append(all, r.loss(r.now.Loss))
	}
	for _, c := range r.Courses {
		all = append(all, r.courseAsks(c)...)
	}
	all = slices.DeleteFunc(all, func(s string) bool { return s == "" })
	if len(all) == 0 {
		all = append(all, r.say("paper.vet.nothing-asked"))
	}
	return r.fewOf(all, vetQuestions, 2*vetWords)
}

// fewOf are the first of some lines, each cut to what stands on a line or two, and how
// many more there are.
func (r record) fewOf(all []string, most, signs int) []string {
	var few []string
	for _, line := range all[:min(len(all), most)] {
		few = append(few, cut(line, signs))
	}
	if over := len(all) - most; over > 0 {
		few = append(few, r.text.Count("paper.vet.more", over))
	}
	return few
}

// vetDrawings is the animal from above and from below with what is open, and its head
// where a finding is placed on it.
func (r record) vetDrawings() Block {
	row := Columns{Shares: []float64{1, 1}, Gap: 8, Parts: [][]Block{{r.view(body.Above, 34, vetDrawing)}, {r.view(body.Underside, 34, vetDrawing)}}}
	for _, v := range r.vetHeads() {
		row.Shares, row.Parts = append(row.Shares, .5), append(row.Parts, []Block{r.view(v, 34, vetDrawing)})
	}
	return row
}

// courseAsks are what a course that goes on leaves open for the vet.
func (r record) courseAsks(c Prescribed) (all []string) {
	if !c.Open() {
		return nil
	}
	for _, cell := range c.Calendar(r.Issued) {
		if cell.State == medicine.AskVet {
			all = append(all, r.say("paper.vet.ask-missed", gaps{"Medicine": Clean(c.Medicine), "Day": r.text.DayShort(cell.Day)}))
		}
	}
	if n := len(r.Weights); n > 0 && c.Apart(r.Tables, r.Weights[n-1].Body.Mass) {
		all = append(all, r.say("paper.vet.ask-volume", gaps{"Medicine": Clean(c.Medicine), "Before": r.text.Mass(c.Mass), "Now": r.text.Mass(r.Weights[n-1].Body.Mass)})+r.vetDoubt(r.Weights[n-1]))
	}
	return all
}

// vetDoubt says behind a question that goes by a weight that it is doubtful.
func (r record) vetDoubt(w Dated[care.Weight]) string {
	if said := r.doubt(w); said != "" {
		return " (" + said + ")"
	}
	return ""
}
