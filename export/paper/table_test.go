package paper

import (
	"image/color"
	"math"
	"slices"
	"strings"
	"testing"
)

// baselines is a sheet that keeps how high the texts of one size stand.
type baselines struct {
	sheet
	size float64
	at   []float64
}

func (b *baselines) Text(x, y float64, f Face, size float64, c color.NRGBA, text string) {
	b.sheet.Text(x, y, f, size, c, text)
	if size == b.size && strings.Contains(text, "word") {
		b.at = append(b.at, y)
	}
}

// The lines of a long row stand as far apart as those of a short one, also beside a name in a
// larger style.
func TestALongRowIsNotPulledApart(t *testing.T) {
	large := Style{Bold, smallInk.Pt * 2, smallInk.Lead * 2, Ink}
	for _, words := range []int{3, 60, 400} {
		for _, name := range []string{"Ash", strings.Repeat("Ash ", 20)} {
			d := document(A4, Table{Columns: []Column{{Share: 1, Style: large}, {Share: 1, Style: smallInk}}, Rows: [][]Cell{{{Text: name}, {Text: strings.Repeat("word ", words)}}}})
			pages := Layout(d)
			for i, p := range pages {
				b := &baselines{sheet: sheet{t: t}, size: smallInk.Pt}
				DrawPage(b, d, p, i+1, len(pages))
				slices.Sort(b.at)
				b.at = slices.Compact(b.at)
				for n := range max(1, len(b.at)) - 1 {
					if apart := b.at[n+1] - b.at[n]; math.Abs(apart-smallInk.Lead) > .01 {
						t.Errorf("%d words beside %q: line %d stands %.2f mm below the one before, want %.2f", words, name, n+2, apart, smallInk.Lead)
					}
				}
				if len(b.at) < 1 {
					t.Errorf("%d words: nothing is on page %d", words, i+1)
				}
			}
		}
	}
}
