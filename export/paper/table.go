package paper

import "math"

// columnGap is the space between the columns of a table, in millimetres, and
// signIndent the room a sign takes before its text.
const (
	columnGap  = 3.0
	signIndent = 3.6
	rowPadding = 1.5
)

// tableLayout is a table with the places of its columns.
type tableLayout struct {
	Table
	s      scale
	w      float64
	xs, ws []float64
}

func table(s scale, b Table, w float64) []piece {
	t := tableLayout{b, s, w, make([]float64, len(b.Columns)), make([]float64, len(b.Columns))}
	t.place()
	header := t.header()
	var out []piece
	if header != nil {
		out = append(out, *header)
	}
	for i := range b.Rows {
		row := t.row(i)
		if header == nil && i == 0 {
			row[0].before = .6 * s.kind
		}
		for k := range row {
			row[k].header = header
		}
		out = append(out, row...)
	}
	if b.Note != "" && len(out) > 0 {
		out[len(out)-1].stick = true
		out = append(out, paragraph(s, Paragraph{b.Note, smallStyle}, w)...)
	}
	return out
}

func (t *tableLayout) place() {
	fixed, shares := columnGap*float64(len(t.Columns)-1), 0.0
	for _, c := range t.Columns {
		fixed += c.Fixed
		shares += c.Share
	}
	x := 0.0
	for i, c := range t.Columns {
		t.ws[i] = c.Fixed
		if c.Share > 0 {
			t.ws[i] = (t.w - fixed) * c.Share / shares
		}
		t.xs[i] = x
		x += t.ws[i] + columnGap
	}
}

// header is the row of titles, or nil where no column has one.
func (t *tableLayout) header() *piece {
	st := t.s.style(tinyStyle)
	titles := make([][]line, len(t.Columns))
	most, titled := 1, false
	for i, c := range t.Columns {
		titles[i] = wrap(st, c.Title, t.ws[i])
		most = max(most, len(titles[i]))
		titled = titled || c.Title != ""
	}
	if !titled {
		return nil
	}
	h := st.Lead*float64(most) + rowPadding*t.s.kind
	return &piece{h: h, before: gapBlock * t.s.kind, stick: true, draw: func(c Canvas, x, y float64) {
		for i, lines := range titles {
			drawLines(c, lines, st, x+t.xs[i], y+st.Lead*float64(most-len(lines)), t.ws[i], t.Columns[i].Align)
		}
		c.Path(segment(x, y+h-.5, x+t.w, y+h-.5), Paint{Stroke: Ink2, Width: .2})
	}}
}

// longRow is the number of lines from which a row may break over pages.
const longRow = 15

// cellLayout is a cell with its text broken into lines.
type cellLayout struct {
	Cell
	st     Style
	lines  []line
	indent float64
}

func (t *tableLayout) cells(i int) (cells []cellLayout, most int) {
	for k, cell := range t.Rows[i] {
		q := cellLayout{Cell: cell, st: t.s.style(t.Columns[k].Style.orElse(textStyle))}
		if cell.Sign != NoSign {
			q.indent = signIndent * t.s.kind
		}
		if cell.Text != "" {
			q.lines = wrap(q.st, cell.Text, t.ws[k]-q.indent)
		}
		most = max(most, len(q.lines))
		cells = append(cells, q)
	}
	return cells, most
}

// joint is how many of the first lines of a long row stay together, so that a few lines in
// a larger style do not pull apart those beside them.
func joint(cells []cellLayout, most int) (n int) {
	least := 0.0 // of the longest
	for _, q := range cells {
		if len(q.lines) == most && (least == 0 || q.st.Lead < least) {
			least = q.st.Lead
		}
	}
	n = 1
	for _, q := range cells {
		if q.st.Lead > least {
			n = max(n, int(math.Ceil(q.st.Lead*float64(len(q.lines))/least)))
		}
	}
	return min(n, most)
}

// row is row i: one piece, or where it is long one for each line behind the first ones.
func (t *tableLayout) row(i int) []piece {
	cells, most := t.cells(i)
	if most < longRow {
		p := t.slice(cells, 0, most, true, i == len(t.Rows)-1)
		p.stick = i == 0 || i == len(t.Rows)-2
		return []piece{p}
	}
	var out []piece
	for from, to := 0, joint(cells, most); from < most; from, to = to, to+1 {
		p := t.slice(cells, from, to, to == most, i == len(t.Rows)-1)
		p.stick = from == 0 || to == most-1
		out = append(out, p)
	}
	return out
}

// slice is the lines from to before to of a row; end closes the row, last the table.
func (t *tableLayout) slice(cells []cellLayout, from, to int, end, last bool) piece {
	h := 0.0
	for _, q := range cells {
		lines := min(to, max(len(q.lines), 1)) - from
		h = max(h, q.st.Lead*float64(max(lines, 0)))
	}
	top := 0.0
	if from == 0 {
		top = .7 * t.s.kind
	}
	h += top
	if end {
		h += .8 * t.s.kind
	}
	return piece{h: h, draw: func(c Canvas, x, y float64) {
		for k, q := range cells {
			t.drawCell(c, k, q, from, to, Box{x + t.xs[k], y, x + t.xs[k] + t.ws[k], y + h}, y+top)
		}
		switch {
		case t.Bare || !end:
		case last:
			c.Path(segment(x, y+h, x+t.w, y+h), Paint{Stroke: Line, Width: .18})
		default:
			c.Path(segment(x, y+h, x+t.w, y+h), Paint{Stroke: Hair, Width: .13})
		}
	}}
}

func (t *tableLayout) drawCell(c Canvas, column int, q cellLayout, from, to int, b Box, y float64) {
	if from == 0 {
		if q.Draw != nil {
			q.Draw(c, b)
		}
		if q.Sign != NoSign {
			r := 1.05 * t.s.kind
			drawSign(c, q.Sign, b.X0+r, y+q.st.Lead*.52, r, q.st.Tone)
		}
	}
	lines := q.lines[min(from, len(q.lines)):min(to, len(q.lines))]
	drawLines(c, lines, q.st, b.X0+q.indent, y, b.W()-q.indent, t.Columns[column].Align)
}
