package paper

import (
	"fmt"
	"strconv"
	"strings"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/body"
	"coilward/model/care"
	"coilward/model/exam"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/label"
	"coilward/model/written"
)

// CheckSheet is what the sheet for one check says before anything is written on it.
type CheckSheet struct {
	Code   label.Written
	Animal animals.Animal // without a name: of an animal that is written on the sheet
	Where  string         // it lives; empty: not known
	Last   care.Weighed   // the last weight; without a mass there is none
	Open   []exam.StoredProblem
	// Numbers are the numbers of all its findings.
	Numbers map[model.ProblemID]int
}

// GatherCheckSheets reads the sheets of some animals for a day, in their order. Each sheet
// has an id of its own. The zero animal gives a sheet without an animal.
func GatherCheckSheets(v model.View, of []model.AnimalID, day model.Day) ([]CheckSheet, error) {
	house, err := husbandry.ReadHouse(v)
	if err != nil {
		return nil, fmt.Errorf("gather sheets for checks: %w", err)
	}
	var sheets []CheckSheet
	for _, id := range of {
		s := CheckSheet{Code: label.Written{Kind: label.CheckSheet, ID: v.NewID(), Of: id.ID, Day: day}}
		if !id.IsZero() {
			if err := s.read(v, house, id); err != nil {
				return nil, err
			}
		}
		sheets = append(sheets, s)
	}
	return sheets, nil
}

func (s *CheckSheet) read(v model.View, house *husbandry.House, id model.AnimalID) error {
	a, err := readAnimal(v, id)
	if err != nil {
		return err
	}
	s.Animal = a.Animal
	if stay, lives := house.Where(id, v.Now()); lives {
		s.Where = house.Title(stay.Place)
	}
	series, err := care.Series(v, id)
	if err != nil {
		return err
	}
	if n := len(series); n > 0 {
		s.Last = series[n-1]
	}
	problems, _, err := exam.LegibleProblems(v, id)
	if err != nil {
		return err
	}
	s.Numbers = exam.Numbers(problems)
	for _, p := range problems {
		if p.Open() {
			s.Open = append(s.Open, p)
		}
	}
	return nil
}

// CheckSheetsPaper are sheets to be written on, a page for each, and with key one page more
// that names what is looked for at each stop by the numbers of the check. The error names
// the sheet whose code cannot be made.
func CheckSheetsPaper(sheets []CheckSheet, tables *knowledge.Tables, text Text, size Size, key bool) (Document, error) {
	d := Document{Title: text.Say("paper.check-sheet.kicker"), Subject: text.Say("paper.check-sheet.what"), Language: text.Language(), Size: size,
		FootLeft: text.Say("paper.check-sheet.kicker"), FootMiddle: text.Say("paper.check-sheet.foot"),
		PageOf: func(page, total int) string { return text.Say("paper.page-of", gaps{"Page": page, "Total": total}) }}
	d.Size.Top, d.Size.Bottom = sheetMargin, size.Bottom
	for _, s := range sheets {
		code, err := codeOf(s.Code.Text())
		if err != nil {
			return Document{}, fmt.Errorf("the sheet of %s: %w", s.Animal.Name, err)
		}
		w := checkSheet{s, tables, text, code}
		d.Sections = append(d.Sections, Section{Name: w.name(), Fit: true, Blocks: w.blocks()})
	}
	if key {
		d.Sections = append(d.Sections, Section{Name: text.Say("paper.check-sheet.key"), Fit: true, Blocks: lookedFor(tables, text)})
	}
	return d.tellingMissing(text), nil
}

// sheetMargin is the margin above what is written on: a page of stops is full.
const sheetMargin = 10

// checkSheet is a sheet with what is needed to word and draw it.
type checkSheet struct {
	CheckSheet
	tables *knowledge.Tables
	text   Text
	code   square
}

func (s checkSheet) say(key string, g ...map[string]any) string { return s.text.Say(key, g...) }

// name is the animal's, or that it is to be written on the sheet.
func (s checkSheet) name() string {
	if s.Animal.Name == "" {
		return s.say("paper.check-sheet.any")
	}
	return cut(strings.Join(strings.Fields(Clean(s.Animal.Name)), " "), longestTitle)
}

func (s checkSheet) blocks() []Block {
	blocks := []Block{s.head(), s.fields(), s.whole(), s.close(), s.stops()}
	return append(blocks, Paragraph{s.say("paper.check-sheet.caution"), smallInk})
}

// codeSide is how wide the code of a sheet is with its quiet zone, in millimetres.
const codeSide = 27

// head names the animal, beside the sheet's code.
func (s checkSheet) head() Block {
	words := []Block{Paragraph{s.say("paper.check-sheet.kicker"), smallBold.In(Accent)}}
	if s.Animal.Name == "" {
		words = append(words, Space(1), Signatures{s.say("paper.check-sheet.any")})
	} else {
		words = append(words, Paragraph{s.name(), titleStyle})
		facts := filled(cut(Clean(s.Animal.Code), longestCode), Clean(s.Where))
		if !s.Last.Mass.IsZero() {
			facts = append(facts, s.say("paper.check-sheet.last", gaps{"Mass": s.Last.Mass, "Day": s.Last.At.Day()}))
		}
		words = append(words, Paragraph{strings.Join(facts, " · "), textStyle})
	}
	words = append(words, Space(1), Paragraph{s.say("paper.check-sheet.how"), smallStyle})
	return Columns{Shares: []float64{174 - codeSide - 4, codeSide}, Gap: 4, Parts: [][]Block{words, {codeFigure(s.code, s.Code, s.text)}}}
}

// codeFigure is a sheet's code, with the signs by which people tell it.
func codeFigure(code square, w label.Written, text Text) Figure {
	number := text.Say("paper.written.number", gaps{"Number": w.Number()})
	return Figure{H: codeSide + tinyStyle.Lead, Words: number, Draw: func(c Canvas, b Box) {
		square := b
		square.Y1 = b.Y1 - tinyStyle.Lead
		code.draw(c, square)
		putIn(c, b.Centre().X, square.Y1+tinyStyle.baseline()-.8, b.W(), AlignCentre, tinyStyle, number)
	}}
}

// fields are the day that the sheet is for, who writes and the weight.
func (s checkSheet) fields() Block {
	return writeFields([]writeField{
		{s.say("paper.check-sheet.day"), s.text.Day(s.Code.Day), 3},
		{s.say("field.person"), "", 3},
		{s.say("field.mass"), "", 2},
	})
}

// writeField is something to be filled in: its name, and what stands there already.
type writeField struct {
	name, value string
	share       float64
}

// writeFields are fields beside each other, each with a line to write on.
func writeFields(fields []writeField) Figure {
	const gap = 5
	var words []string
	shares := 0.0
	for _, f := range fields {
		words = append(words, strings.TrimSpace(f.name+": "+f.value))
		shares += f.share
	}
	return Figure{H: 9, Words: strings.Join(words, "; "), Draw: func(c Canvas, b Box) {
		x := b.X0
		for _, f := range fields {
			w := (b.W() - gap*float64(len(fields)-1)) * f.share / shares
			putIn(c, x, b.Y0+tinyStyle.baseline(), w, AlignLeft, tinyStyle, f.name)
			putIn(c, x, b.Y1-1.3, w, AlignLeft, textStyle, f.value)
			c.Path(segment(x, b.Y1, x+w, b.Y1), Paint{Stroke: Ink2, Width: .2})
			x += w + gap
		}
	}}
}

// whole and close are the drawings with the numbers of the stops: the animal from both
// sides, and its head.
func (s checkSheet) whole() Block {
	return Columns{Shares: []float64{1, 1}, Gap: 4, Parts: [][]Block{{s.view(body.Above, 38, 24)}, {s.view(body.Underside, 38, 24)}}}
}

func (s checkSheet) close() Block {
	return Columns{Shares: []float64{1, 1, 1}, Gap: 4, Parts: [][]Block{{s.view(body.HeadLeft, 22, 14)}, {s.view(body.HeadRight, 22, 14)}, {s.view(body.OpenMouth, 22, 14)}}}
}

// view is a view with the numbers of the stops that it shows best; rings, because nothing
// is found yet.
func (s checkSheet) view(view body.ViewID, height, least float64) Figure {
	var pins []pin
	var words []string
	for i, stop := range s.tables.Stops() {
		place := exam.Middle(s.tables, stop.ID)
		if len(stop.Regions) > 0 && place.Best() == view {
			pins = append(pins, pin{number: i + 1, place: place})
			words = append(words, strconv.Itoa(i+1))
		}
	}
	title := s.say("paper.view." + string(view))
	return Figure{H: height, Min: least, Words: title + ": " + strings.Join(words, ", "), Draw: bodyView(view, title, pins, body.Options{Net: body.CoarseNet, Flat: true})}
}

// The columns of the stops, in millimetres: the names, and the three boxes; and how high
// their rows are.
const (
	stopNames  = 57.0
	tickWide   = 17.0
	tickSide   = 4.4
	ticksHigh  = 3.6
	stopHigh   = 6.8
	beforeHigh = 5.4
)

// stops are the rows to be ticked, each stop with what is open there from before.
func (s checkSheet) stops() Figure {
	type row struct {
		high  float64
		words string
		draw  Draw
	}
	rows := []row{{ticksHigh, s.ticks(), s.drawTicks}}
	for i, stop := range s.tables.Stops() {
		name := s.say("stop." + string(stop.ID))
		if stop.Way == knowledge.Opened {
			name = s.say("paper.check-sheet.opened", gaps{"Stop": name})
		}
		rows = append(rows, row{stopHigh, strconv.Itoa(i+1) + " " + name + strings.Repeat(" [ ]", 3), func(c Canvas, b Box) { drawStop(c, b, i+1, name) }})
		for _, p := range s.Open {
			if p.Stop == stop.ID {
				was := s.before(p)
				rows = append(rows, row{beforeHigh, was.words(), was.draw})
			}
		}
	}
	f := Figure{}
	var words []string
	for _, r := range rows {
		f.H += r.high
		words = append(words, r.words)
	}
	whole := f.H
	f.Min, f.Words = f.H*leastShare, strings.Join(words, "; ")
	f.Draw = func(c Canvas, b Box) {
		share, y := b.H()/whole, b.Y0
		for _, r := range rows {
			r.draw(c, Box{b.X0, y, b.X1, y + r.high*share})
			y += r.high * share
		}
	}
	return f
}

// leastShare is how low the rows may become, as a share of their height: a box still stands
// clear of the next.
const leastShare = .78

func (s checkSheet) ticks() string {
	return s.say("paper.check-sheet.fine") + " · " + s.say("paper.check-sheet.something") + " · " + s.say("paper.check-sheet.not-looked")
}

// drawTicks sets the words over the boxes.
func (s checkSheet) drawTicks(c Canvas, b Box) {
	for i, key := range []string{"paper.check-sheet.fine", "paper.check-sheet.something", "paper.check-sheet.not-looked"} {
		putIn(c, b.X0+stopNames+tickWide*(float64(i)+.5), b.Y0+tinyStyle.baseline(), tickWide-.6, AlignCentre, tinyStyle.In(Ink), s.say(key))
	}
	x := b.X0 + stopNames + 3*tickWide + 2
	putIn(c, x, b.Y0+tinyStyle.baseline(), b.X1-x, AlignLeft, tinyStyle.In(Ink), s.say("paper.check-sheet.words"))
}

// drawStop draws a stop: its number and name, three boxes to tick and a line for words.
func drawStop(c Canvas, b Box, number int, name string) {
	y := b.Centre().Y
	drawNumber(c, b.X0+2, y, 1.75, number, false)
	putIn(c, b.X0+5, y+textStyle.Pt*millimetresPerPoint*.36, stopNames-6, AlignLeft, textStyle, name)
	for i := range 3 {
		drawBox(c, b.X0+stopNames+tickWide*(float64(i)+.5), y, tickSide)
	}
	c.Path(segment(b.X0+stopNames+3*tickWide+2, b.Y1-.6, b.X1, b.Y1-.6), Paint{Stroke: Line, Width: .18})
}

// drawBox is a box to tick, around x, y.
func drawBox(c Canvas, x, y, side float64) {
	c.Path(Box{x - side/2, y - side/2, x + side/2, y + side/2}.Path(), Paint{Fill: White, Stroke: Ink, Width: .35})
}

// asked is a finding that is open from before, with boxes for how it stands now.
type asked struct {
	number int
	was    string
	now    []string
}

func (s checkSheet) before(p exam.StoredProblem) asked {
	r := record{text: s.text}
	q := asked{number: s.Numbers[p.ID],
		was: s.say("paper.check-sheet.before", gaps{"Finding": s.at(p), "Grade": r.lower("grade." + p.Last().Grade.String()), "Day": s.text.DayShort(p.Last().At.Day())})}
	for _, now := range []exam.Standing{exam.Same, exam.Better, exam.Worse, exam.Gone} {
		q.now = append(q.now, r.lower("standing."+string(now)))
	}
	return q
}

// at is a finding with how far along the body and on which side it is: its stop stands above.
func (s checkSheet) at(p exam.StoredProblem) string {
	words, place := s.say("finding."+string(p.What)), p.Last().Place
	if p.Last().Rough || place.Part != body.Trunk && place.Part != body.Tail {
		return words
	}
	words += ", " + s.text.Percent(place.Along)
	if side := place.Side(); side != "" {
		words += " " + s.say("side."+string(side))
	}
	return words
}

func (q asked) words() string {
	return numberWords(q.number, true) + " " + q.was + " [ ] " + strings.Join(q.now, " [ ] ")
}

func (q asked) draw(c Canvas, b Box) {
	const each, side = 18.5, 3.6
	y, at := b.Centre().Y, b.X1-each*float64(len(q.now))
	base := y + smallInk.Pt*millimetresPerPoint*.36
	drawNumber(c, b.X0+7, y, 1.5, q.number, true)
	st, was := narrowed(smallInk, q.was, at-b.X0-12)
	put(c, b.X0+10, base, AlignLeft, st, was)
	for i, word := range q.now {
		x := at + each*float64(i)
		drawBox(c, x+side/2, y, side)
		putIn(c, x+side+1, base, each-side-1.5, AlignLeft, smallInk, word)
	}
}

// lookedFor is the page that names what is looked for at each stop, by the numbers by
// which it is typed in.
func lookedFor(tables *knowledge.Tables, text Text) []Block {
	t := Table{Columns: []Column{{Fixed: 6}, {Share: 1, Style: smallBold}, {Share: 4, Style: smallInk}}}
	for i, stop := range tables.Stops() {
		var names []string
		for n, what := range stop.Choices {
			names = append(names, Strong(strconv.Itoa(n+1))+"\u00a0"+strings.ReplaceAll(text.Say("finding."+string(what)), " ", "\u00a0"))
		}
		t.Rows = append(t.Rows, []Cell{numberCell(i+1, false), {Text: text.Say("stop." + string(stop.ID))}, {Text: strings.Join(names, "   ")}})
	}
	return []Block{Heading{Level: 1, Text: text.Say("paper.check-sheet.key")}, Paragraph{text.Say("paper.check-sheet.key-what"), textStyle}, t,
		Paragraph{text.Say("paper.check-sheet.line"), textStyle}, Paragraph{text.Say("paper.check-sheet.caution"), smallInk}}
}

// SheetAnimals are the animals of a place as they have sheets: in the order of
// written.Residents, which that for weighing has too.
func SheetAnimals(v model.View, in model.PlaceID) ([]model.AnimalID, error) {
	rows, err := written.Residents(v, in, v.Now())
	if err != nil {
		return nil, err
	}
	var all []model.AnimalID
	for _, r := range rows {
		all = append(all, r.Animal.ID)
	}
	return all, nil
}
