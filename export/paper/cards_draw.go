package paper

import (
	"slices"
	"strconv"
	"strings"

	"coilward/model/animals"
	"coilward/model/knowledge"
)

// The measures of a card in millimetres. A code is at least leastCode wide, so
// that a telephone reads it from a hand's breadth away.
const (
	leastCode = 15
	mostCode  = 32
	// usualHeight is the height of the card whose type is set in the usual sizes.
	usualHeight = 37
	// leastScale is how small the type of a card may get before it says less.
	leastScale = .5
	mostScale  = 2.4
)

// drawnCard is a card with its code.
type drawnCard struct {
	cardLines
	code square
}

// cardLines is a card with what is needed to word it.
type cardLines struct {
	Card
	keeper string
	tables *knowledge.Tables
	text   Text
	tells  bool // what the sign stands for that is set where the typeface has none
}

// cardLine is one line of a card.
type cardLine struct {
	text  string
	style Style
	code  string // set after the text, never cut
	above float64
}

var (
	cardTitle = Style{Serif, 14, 5.8, Ink}
	cardCode  = Style{Bold, 10.5, 4.6, Ink}
	cardName  = Style{Bold, 9.6, 4.3, Ink}
	cardText  = Style{Sans, 7.8, 3.5, Ink}
	cardSmall = Style{Sans, 6.6, 3.0, Ink2}
)

// lines are the lines of the card, with so many of the animals named one by one.
func (c cardLines) lines(named int) []cardLine {
	all := []cardLine{{text: Clean(c.Title), style: cardTitle}}
	if c.Within != "" {
		all = append(all, cardLine{text: Clean(c.Within), style: cardSmall})
	}
	if c.Code != "" {
		all = append(all, cardLine{code: Clean(c.Code), style: cardCode, above: .4})
	}
	if _, is := c.Names.Animal(); is {
		for _, l := range c.Lives {
			all = append(all, c.about(l, 1.2)...)
		}
	} else {
		all = append(all, c.residents(named)...)
	}
	if c.keeper != "" {
		all = append(all, cardLine{text: c.text.Say("paper.cards.keeper", gaps{"Name": Clean(c.keeper)}), style: cardSmall, above: 1.2})
	}
	if c.tells && slices.ContainsFunc(all, func(l cardLine) bool { return strings.ContainsRune(l.text+l.code, missing) }) {
		box := cardLine{text: c.text.Say("paper.cards.box", gaps{"Box": string(missing)}), style: cardSmall}
		all = slices.Insert(all, 1, box) // beside the code there may be no room for it
	}
	return all
}

// residents are who lives in a place.
func (c cardLines) residents(named int) []cardLine {
	if len(c.Lives) == 0 {
		return []cardLine{{text: c.text.Say("paper.cards.empty"), style: cardText.In(Ink3), above: 1.6}}
	}
	var all []cardLine
	for _, l := range c.Lives[:named] {
		all = append(all, cardLine{text: Clean(l.Name), style: cardName, code: Clean(l.Code), above: 1.4})
		all = append(all, c.about(l, 0)...)
	}
	if more := len(c.Lives) - named; more > 0 {
		all = append(all, cardLine{text: c.text.Count("paper.cards.more", more), style: cardText, above: 1.4})
	}
	return all
}

// about is the species, the sex and the year of hatching.
func (c cardLines) about(l Living, above float64) []cardLine {
	var all []cardLine
	if species := c.species(l.Species); species != "" {
		all = append(all, cardLine{text: species, style: cardText, above: above})
	}
	var parts []string
	if sign := map[animals.Sex]string{animals.Female: "♀ ", animals.Male: "♂ "}[l.Sex]; sign != "" {
		parts = append(parts, sign+c.text.Say("animals.sex."+string(l.Sex)))
	}
	if !l.Hatched.IsZero() {
		year, _, _ := l.Hatched.Day.Date()
		parts = append(parts, c.text.Say("paper.cards.hatched", gaps{"Year": strconv.Itoa(year)}))
	}
	if len(parts) > 0 {
		all = append(all, cardLine{text: strings.Join(parts, ", "), style: cardText})
	}
	return all
}

func (c cardLines) species(id knowledge.SpeciesID) string {
	s, known := c.tables.Species(id)
	switch {
	case known && s.Latin != "":
		return Species(s.Latin)
	case known:
		return c.text.Say("species." + string(id))
	}
	return Clean(string(id))
}

// words is the card as text.
func (c cardLines) words() string {
	var all []string
	for _, l := range c.lines(len(c.Lives)) {
		all = append(all, bare(strings.TrimSpace(l.text+" "+l.code)))
	}
	return strings.Join(all, ", ")
}

// How far what stands on a card keeps from its edge, in millimetres. That of a large one may
// be the edge of the paper, where printers leave some 4 mm white (from memory).
const (
	cardMargin  = 4
	largeMargin = 5
	largeCard   = 60 // how high it is at least
)

// draw sets the card into its box: the code at the lower right, and the lines
// beside it and above it, as large as they fit.
func (c drawnCard) draw(canvas Canvas, b Box) {
	margin := min(cardMargin, b.H()*.11)
	if b.H() >= largeCard {
		margin = largeMargin
	}
	side := max(leastCode, min(mostCode, b.H()*.52, b.W()*.36))
	whole := c.code.withQuiet(side)
	inset := max(margin-(whole-side)/2, 0)
	square := Box{b.X1 - inset - whole, b.Y1 - inset - whole, b.X1 - inset, b.Y1 - inset}
	column := cardColumn{Box{b.X0 + margin, b.Y0 + margin, b.X1 - margin, b.Y1 - margin}, square}
	for _, l := range column.fit(c.cardLines, min(mostScale, b.H()/usualHeight)) {
		l.draw(canvas)
	}
	c.code.draw(canvas, square)
}

// cardColumn is where the lines of a card go: a box, but not over the code.
type cardColumn struct {
	Box
	code Box
}

// setLine is a line with the place that it has got.
type setLine struct {
	cardLine
	Box
	scale float64
}

// fit sets the lines in the largest type that has room for all of them; where even
// the smallest has not, the last animals are counted and not named.
func (k cardColumn) fit(c cardLines, largest float64) []setLine {
	var set []setLine
	for named := len(c.Lives); named >= 0; named-- {
		for scale := largest; scale >= leastScale-.001; scale -= .05 {
			var fits bool
			if set, fits = k.set(c.lines(named), scale); fits {
				return set
			}
		}
	}
	return set
}

// set sets lines from the top down; fits is false where they do not end above the
// bottom.
func (k cardColumn) set(lines []cardLine, scale float64) (set []setLine, fits bool) {
	y := k.Y0
	for i, l := range lines {
		l.style = l.style.scaled(scale)
		if i > 0 {
			y += l.above * scale
		}
		set = append(set, setLine{l, k.at(y, l.style.Lead), scale})
		y += l.style.Lead
		if l.code != "" && l.text != "" && !set[i].beside() {
			l.text, set[i].code = "", "" // the code has a line of its own
			set = append(set[:i+1], setLine{l, k.at(y, l.style.Lead), scale})
			y += l.style.Lead
		}
	}
	return set, y <= k.Y1+.01
}

// at is the room for a line at a height: narrower where the code is beside it.
func (k cardColumn) at(y, lead float64) Box {
	b := Box{k.X0, y, k.X1, y + lead}
	if b.Y1 > k.code.Y0 {
		b.X1 = k.code.X0
	}
	return b
}

// codeGap is the space before a code that stands behind a name, and codeShare the
// share of a line that it may take there.
const (
	codeGap   = 1.6
	codeShare = .6
)

func (l setLine) codeWidth() float64 { return lineWidth(l.style, l.code) }

// beside reports whether the code has room behind the text.
func (l setLine) beside() bool { return l.codeWidth() <= l.W()*codeShare }

// draw sets the line: a text that is too long is set smaller, then cut; a code is
// set as small as it must be to stand whole.
func (l setLine) draw(c Canvas) {
	room := l.W()
	if l.text != "" {
		if l.code != "" {
			room -= l.codeWidth() + codeGap*l.scale
		}
		st, text := narrowed(l.style, l.text, room)
		put(c, l.X0, l.Y0+l.style.baseline(), AlignLeft, st, text)
		if l.code != "" {
			put(c, l.X0+lineWidth(st, text)+codeGap*l.scale, l.Y0+l.style.baseline(), AlignLeft, l.style.In(Ink2), l.code)
		}
		return
	}
	st := l.style
	if w := l.codeWidth(); w > room {
		st.Pt *= room / w
	}
	put(c, l.X0, l.Y0+l.style.baseline(), AlignLeft, st, l.code)
}

// narrowest is how small a text is set, of its size, before it is cut.
const narrowest = .7

// narrowed is a text set smaller, down to narrowest, and then cut, so that it has
// room in a width.
func narrowed(st Style, text string, width float64) (Style, string) {
	if w := lineWidth(st, text); w > width {
		st.Pt *= max(narrowest, width/w*.999)
	}
	return st, shorten(st, text, width)
}
