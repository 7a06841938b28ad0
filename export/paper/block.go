package paper

import "image/color"

// Document is a whole paper.
type Document struct {
	Title, Subject string
	Language       string // "en", "de"
	Version        string // of the program that made it; empty: not said
	Size           Size
	Sections       []Section
	// Footless says that the pages have no running foot, such as sheets of labels.
	Footless bool
	// Foot is what the running foot says left and in the middle.
	FootLeft, FootMiddle string
	// PageOf words the page number at the right of the foot, such as "2 of 5".
	PageOf func(page, total int) string
}

// By is the paper as one made by a version of the program.
func (d Document) By(version string) Document {
	d.Version = version
	return d
}

// Section starts on a new page; with Fit it is shrunk to stay on one if it can.
type Section struct {
	Name   string
	Fit    bool
	Blocks []Block
}

// Block is a node of the tree.
type Block interface{ block() }

// Heading opens a part; Aside stands at the right on the same line.
type Heading struct {
	Level int // 1 title, 2 head, 3 small head
	Text  string
	Aside string
}

// Paragraph is running text with runs made by Strong and Species.
type Paragraph struct {
	Text  string
	Style Style // zero: text
}

// List is a list of short statements with one mark for all.
type List struct {
	Mark  Sign
	Items []string
	Style Style
}

// Grid is a list of names and values.
type Grid struct {
	Pairs   [][2]string
	Columns int     // 0: one
	NameW   float64 // share of a column's width, 0: a third
	Style   Style   // of the values; zero: text
}

// Align is how the text of a column stands.
type Align uint8

// The ways text may stand.
const (
	AlignLeft Align = iota
	AlignRight
	AlignCentre
)

// Column is a column of a table: a share of the width, or fixed millimetres.
type Column struct {
	Title string
	Share float64
	Fixed float64
	Align Align
	Style Style // zero: text
}

// Cell is text with or without a sign before it, or a drawing; Words says a
// drawing in words.
type Cell struct {
	Text  string
	Sign  Sign
	Draw  Draw
	Words string
}

// Table has a header that returns on every page it runs over.
type Table struct {
	Columns []Column
	Rows    [][]Cell
	Bare    bool // no rules between rows
	Note    string
}

// Figure is a drawing with a caption. Words says it for those who cannot see it
// and in the text form. Between Min and H its height gives way where space is short.
type Figure struct {
	H, Min  float64
	Draw    Draw
	Caption string
	Words   string
}

// Draw paints a figure into a box.
type Draw func(c Canvas, b Box)

// Chip is a short fact in a frame.
type Chip struct {
	Text string
	Sign Sign
}

// Chips is a row of chips that wraps.
type Chips []Chip

// Columns stand side by side and break only together.
type Columns struct {
	Shares []float64
	Gap    float64
	Parts  [][]Block
	Rule   bool // hairline between
}

// Keep holds blocks together on one page where they fit one, and with what follows where
// the last of them is a heading.
type Keep []Block

// Rule is a line across.
type Rule struct {
	Tone  color.NRGBA
	Width float64
}

// Space is empty paper, in millimetres.
type Space float64

// Signatures are lines to sign on, with what stands under each.
type Signatures []string

func (Heading) block()    {}
func (Paragraph) block()  {}
func (List) block()       {}
func (Grid) block()       {}
func (Table) block()      {}
func (Figure) block()     {}
func (Chips) block()      {}
func (Columns) block()    {}
func (Keep) block()       {}
func (Rule) block()       {}
func (Space) block()      {}
func (Signatures) block() {}
