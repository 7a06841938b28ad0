package paper

import (
	"math"
	"strconv"

	"coilward/model/chances"
	"coilward/model/chart"
	"coilward/model/evidence"
)

// How the bars of chances are drawn, in millimetres: how wide their column is, and how high
// the bars are before the samples and now; and how far apart the lines across them are, as a
// part of the width.
const (
	chanceWidth  = 58
	chanceBefore = 2.6
	chanceNow    = 1.5
	chanceApart  = .1
)

// chanceTicks are the chances that have a line across the bars.
func chanceTicks() []float64 { return chart.WholeOddsScale().Lines(chanceApart) }

// chanceAt is where in a box a chance stands, on the scale of the screen.
func chanceAt(b Box, p float64) float64 { return b.X0 + b.W()*chart.WholeOddsScale().At(p) }

// leavesOpen is what the tests leave open, a line and a bar for each thing.
func (r record) leavesOpen() []Block {
	all := r.proved()
	t := Table{Columns: []Column{{Share: 1, Style: smallInk}, {Fixed: chanceWidth}}}
	for _, c := range all {
		row := []Cell{{Text: r.vetChance(c)}, {}}
		if c.Known() {
			row[1] = Cell{Draw: r.chanceBar(c)}
		}
		t.Rows = append(t.Rows, row)
	}
	if len(t.Rows) > 0 {
		t.Rows = append(t.Rows, []Cell{{Text: r.say("paper.chances.carries") + " " + r.say("paper.chances.brief") + ". " + r.say("paper.chances.behind")}, {Draw: r.chanceTicksSaid()}})
	}
	blocks := Keep{Heading{Level: 2, Text: r.say("paper.open-chances"), Aside: r.say("paper.open-chances.aside")}}
	if r.NoChances {
		blocks = append(blocks, Paragraph{r.say("paper.chances.failed"), smallInk})
	}
	if len(t.Rows) > 0 {
		blocks = append(blocks, t)
	}
	if len(blocks) == 1 {
		return nil
	}
	return []Block{blocks}
}

// before is the chance before the first sample that says something; without one there is
// none.
func before(c chances.Chance) (before evidence.Range, there bool) {
	for _, s := range c.Steps {
		if s.Mute == "" {
			return s.Before, true
		}
	}
	return before, false
}

// chanceBar is the range of a chance as a bar in a frame, which is what it was before.
func (r record) chanceBar(c chances.Chance) Draw {
	return func(canvas Canvas, b Box) {
		chanceLines(canvas, b)
		middle := (b.Y0 + b.Y1) / 2
		bar := func(of evidence.Range, height float64, paint Paint) {
			from, to := chanceAt(b, of.Low), chanceAt(b, of.High)
			to = max(to, from+.6)
			canvas.Path(Box{from, middle - height/2, to, middle + height/2}.Path(), paint)
		}
		if was, there := before(c); there {
			bar(was, chanceBefore, Paint{Fill: White, Stroke: Ink2, Width: .2})
		}
		bar(c.Now, chanceNow, Paint{Fill: Accent})
	}
}

func chanceLines(canvas Canvas, b Box) {
	for _, p := range chanceTicks() {
		x := chanceAt(b, p)
		canvas.Path(segment(x, b.Y0, x, b.Y1), Paint{Stroke: Hair, Width: .15})
	}
}

// chanceTicksSaid is what the lines across the bars are, in animals of a hundred.
func (r record) chanceTicksSaid() Draw {
	return func(canvas Canvas, b Box) {
		ticks := chanceTicks()
		for i, p := range ticks {
			tenths := int64(math.Round(p * 1000))
			said := r.text.Decimal(tenths, 1)
			if tenths%10 == 0 {
				said = strconv.FormatInt(tenths/10, 10)
			}
			align := AlignCentre
			if i == len(ticks)-1 {
				align = AlignRight
			}
			put(canvas, chanceAt(b, p), b.Y0+tinyStyle.Lead, align, tinyStyle, said)
		}
	}
}
