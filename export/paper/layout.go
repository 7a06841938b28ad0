package paper

// piece is a part of a page that never breaks.
type piece struct {
	h, before float64
	stick     bool // on the same page as the next one
	header    *piece
	draw      func(c Canvas, x, y float64)
	mark      *Heading
	shrink    func(stretch float64) piece // with lower figures, to stay on this page
}

// scale is how a section is laid out: type scales the letters, stretch the
// figures (0: Min, 1: H).
type scale struct{ kind, stretch float64 }

// The vertical rhythm in millimetres.
const (
	gapParagraph = 1.2
	gapBlock     = 2.6
	gapSmallHead = 3.0
	gapHead      = 6.0
)

func (s scale) style(st Style) Style { return st.scaled(s.kind) }

// orElse is st, or other where st is not given.
func (st Style) orElse(other Style) Style {
	if st.Pt == 0 {
		return other
	}
	return st
}

func pieces(s scale, blocks []Block, w float64) []piece {
	var out []piece
	for _, b := range blocks {
		out = append(out, piecesOf(s, b, w)...)
	}
	return out
}

func piecesOf(s scale, b Block, w float64) []piece {
	switch b := b.(type) {
	case Heading:
		return []piece{heading(s, b, w)}
	case Paragraph:
		return paragraph(s, b, w)
	case List:
		return list(s, b, w)
	case Grid:
		return grid(s, b, w)
	case Table:
		return table(s, b, w)
	case Figure:
		return shrinkable(s, func(s scale) piece { return figure(s, b, w) })
	case Chips:
		return []piece{chips(s, b, w)}
	case Columns:
		return []piece{columns(s, b, w)}
	case Keep:
		return keep(s, b, w)
	case Rule:
		return []piece{rule(s, b, w)}
	case Space:
		return []piece{{h: float64(b) * s.kind}}
	case Signatures:
		return []piece{signatures(s, b, w)}
	}
	return nil
}

// together stacks blocks into a single piece.
func together(s scale, blocks []Block, w float64) piece {
	parts := pieces(s, blocks, w)
	var h float64
	for i, p := range parts {
		if i > 0 {
			h += p.before
		}
		h += p.h
	}
	return piece{h: h, before: gapBlock * s.kind, draw: func(c Canvas, x, y float64) {
		for i, p := range parts {
			if i > 0 {
				y += p.before
			}
			if p.draw != nil {
				p.draw(c, x, y)
			}
			y += p.h
		}
	}}
}

// tallest is the height above which a Keep may break, as nothing could hold it.
const tallest = 200

func keep(s scale, b Keep, w float64) []piece {
	if together(scale{s.kind, 0}, b, w).h > tallest {
		return pieces(s, b, w)
	}
	return shrinkable(s, func(s scale) piece {
		p := together(s, b, w)
		if len(b) > 0 {
			if h, ok := b[0].(Heading); ok { // the space above and the bookmark are the heading's
				p.before, p.mark = heading(s, h, w).before, &h
			}
			_, p.stick = b[len(b)-1].(Heading)
		}
		return p
	})
}

func shrinkable(s scale, lay func(s scale) piece) []piece {
	p := lay(s)
	p.shrink = func(stretch float64) piece {
		s.stretch = min(s.stretch, stretch)
		return lay(s)
	}
	return []piece{p}
}

func heading(s scale, b Heading, w float64) piece {
	st, before := headStyle, gapHead
	switch b.Level {
	case 1:
		st = titleStyle
	case 3:
		st, before = subStyle, gapSmallHead
	}
	st, aside := s.style(st), s.style(smallStyle)
	asideWidth := 0.0
	if b.Aside != "" {
		asideWidth = lineWidth(aside, b.Aside) + 4
	}
	below := asideWidth > 0 && lineWidth(st, b.Text)+asideWidth > w
	textWidth := w
	if !below {
		textWidth -= asideWidth
	}
	lines := wrap(st, b.Text, textWidth)
	textHeight := st.Lead * float64(len(lines))
	h := textHeight
	var asides []line
	if below {
		asides = wrap(aside, b.Aside, w)
		h += aside.Lead * float64(len(asides))
	}
	if b.Level == 2 {
		h += 1.6 * s.kind
	}
	return piece{h: h, before: before * s.kind, stick: true, mark: &b, draw: func(c Canvas, x, y float64) {
		drawLines(c, lines, st, x, y, w, AlignLeft)
		if below {
			drawLines(c, asides, aside, x, y+textHeight, w, AlignLeft)
		} else if asideWidth > 0 {
			put(c, x+w, y+st.baseline(), AlignRight, aside, b.Aside)
		}
		if b.Level == 2 {
			ry := y + h - .7*s.kind
			c.Path(segment(x, ry, x+w, ry), Paint{Stroke: Ink, Width: .25})
		}
	}}
}

// widestText is the measure of running text in sizes of its type: about ninety
// signs to a line.
const widestText = 48

func paragraph(s scale, b Paragraph, w float64) []piece {
	st := s.style(b.Style.orElse(textStyle))
	w = min(w, st.Pt*millimetresPerPoint*widestText)
	return linesOf(st, wrap(st, b.Text, w), 0, w, gapParagraph*s.kind)
}

// linesOf sets lines as pieces that may break over pages, but never after the
// first line or before the last. Few lines stay together.
func linesOf(st Style, lines []line, indent, w, before float64) []piece {
	if len(lines) < 6 {
		return []piece{{h: st.Lead * float64(len(lines)), before: before, draw: func(c Canvas, x, y float64) {
			drawLines(c, lines, st, x+indent, y, w, AlignLeft)
		}}}
	}
	out := make([]piece, len(lines))
	for i := range lines {
		out[i] = piece{h: st.Lead, stick: i == 0 || i == len(lines)-2, draw: func(c Canvas, x, y float64) {
			drawLines(c, lines[i:i+1], st, x+indent, y, w, AlignLeft)
		}}
	}
	out[0].before = before
	return out
}

func list(s scale, b List, w float64) []piece {
	st := s.style(b.Style.orElse(textStyle))
	em := st.Pt * millimetresPerPoint
	indent := em * 1.35
	var out []piece
	for i, item := range b.Items {
		before := .7 * s.kind
		if i == 0 {
			before = gapParagraph * s.kind
		}
		item := linesOf(st, wrap(st, item, w-indent), indent, w-indent, before)
		first := item[0].draw
		item[0].draw = func(c Canvas, x, y float64) {
			r := em * .3
			drawSign(c, b.Mark, x+r+.1, y+st.Lead*.52, r, st.Tone)
			first(c, x, y)
		}
		out = append(out, item...)
	}
	return out
}

type gridCell struct {
	name, value []line
	x           float64
}

func grid(s scale, b Grid, w float64) []piece {
	columns := max(b.Columns, 1)
	const gap = 6.0
	cw := (w - gap*float64(columns-1)) / float64(columns)
	nameWidth := b.NameW
	if nameWidth == 0 {
		nameWidth = .34
	}
	name, value := s.style(smallStyle), s.style(b.Style.orElse(textStyle))
	rows := (len(b.Pairs) + columns - 1) / columns
	var out []piece
	for r := range rows {
		var cells []gridCell
		h := value.Lead
		for c := range columns {
			if i := c*rows + r; i < len(b.Pairs) {
				cell := gridCell{wrap(name, b.Pairs[i][0], cw*nameWidth-1.5), wrap(value, b.Pairs[i][1], cw*(1-nameWidth)), float64(c) * (cw + gap)}
				h = max(h, value.Lead*float64(len(cell.value)), name.Lead*float64(len(cell.name))+.5)
				cells = append(cells, cell)
			}
		}
		before := .5 * s.kind
		if r == 0 {
			before = gapBlock * s.kind
		}
		out = append(out, piece{h: h, before: before, draw: func(c Canvas, x, y float64) {
			for _, q := range cells {
				drawLines(c, q.name, name, x+q.x, y+value.baseline()-name.baseline(), cw, AlignLeft)
				drawLines(c, q.value, value, x+q.x+cw*nameWidth, y, cw, AlignLeft)
			}
		}})
	}
	return out
}

func figure(s scale, b Figure, w float64) piece {
	h := b.H
	if b.Min > 0 {
		h = b.Min + (b.H-b.Min)*s.stretch
	}
	st := s.style(smallStyle)
	var lines []line
	total := h
	if b.Caption != "" {
		lines = wrap(st, b.Caption, w)
		total += .8 + st.Lead*float64(len(lines))
	}
	return piece{h: total, before: gapBlock * s.kind, draw: func(c Canvas, x, y float64) {
		b.Draw(c, Box{x, y, x + w, y + h})
		drawLines(c, lines, st, x, y+h+.8, w, AlignLeft)
	}}
}

func chips(s scale, b Chips, w float64) piece {
	const padding, gap, signWidth = 1.9, 1.8, 3.2
	st := s.style(smallBold)
	h := st.Lead + 1.5
	boxes := make([]Box, len(b))
	texts := make([]string, len(b))
	x, y := 0.0, 0.0
	for i, chip := range b {
		extra := 2 * padding
		if chip.Sign != NoSign {
			extra += signWidth
		}
		texts[i] = shorten(st, chip.Text, w-extra)
		cw := lineWidth(st, texts[i]) + extra
		if x > 0 && x+cw > w {
			x, y = 0, y+h+1.4
		}
		boxes[i] = Box{x, y, x + cw, y + h}
		x += cw + gap
	}
	return piece{h: y + h, before: 1.8 * s.kind, draw: func(c Canvas, ox, oy float64) {
		for i, chip := range b {
			q := Box{ox + boxes[i].X0, oy + boxes[i].Y0, ox + boxes[i].X1, oy + boxes[i].Y1}
			c.Path(rounded(q, 1), Paint{Stroke: Ink, Width: .2})
			at := q.X0 + padding
			if chip.Sign != NoSign {
				drawSign(c, chip.Sign, at+1, q.Y0+h/2, 1, Ink)
				at += signWidth
			}
			put(c, at, q.Y0+.75+st.baseline(), AlignLeft, st, texts[i])
		}
	}}
}

func columns(s scale, b Columns, w float64) piece {
	gap := b.Gap
	if gap == 0 {
		gap = 7
	}
	var sum float64
	for _, share := range b.Shares {
		sum += share
	}
	inner := w - gap*float64(len(b.Parts)-1)
	parts, xs := make([]piece, len(b.Parts)), make([]float64, len(b.Parts))
	x, h, before := 0.0, 0.0, gapBlock*s.kind
	for i, blocks := range b.Parts {
		cw := inner * b.Shares[i] / sum
		parts[i], xs[i] = together(s, blocks, cw), x
		x += cw + gap
		h = max(h, parts[i].h)
		if len(blocks) > 0 { // columns that open with a heading keep its distance
			if head, ok := blocks[0].(Heading); ok {
				before = max(before, heading(s, head, cw).before)
			}
		}
	}
	return piece{h: h, before: before, draw: func(c Canvas, ox, y float64) {
		for i, p := range parts {
			p.draw(c, ox+xs[i], y)
			if b.Rule && i > 0 {
				at := ox + xs[i] - gap/2
				c.Path(segment(at, y, at, y+h), Paint{Stroke: Hair, Width: .15})
			}
		}
	}}
}

func rule(s scale, b Rule, w float64) piece {
	return piece{h: .3, before: gapBlock * s.kind, draw: func(c Canvas, x, y float64) {
		c.Path(segment(x, y, x+w, y), Paint{Stroke: b.Tone, Width: max(b.Width, .15)})
	}}
}

func signatures(s scale, b Signatures, w float64) piece {
	const gap = 7.0
	st := s.style(tinyStyle)
	cw := (w - gap*float64(len(b)-1)) / float64(max(len(b), 1))
	under := make([][]line, len(b))
	h := 0.0
	for i, words := range b {
		under[i] = wrap(st, words, cw)
		h = max(h, st.Lead*float64(len(under[i])))
	}
	room := 9 * s.kind
	return piece{h: room + 1 + h, before: gapBlock * s.kind, draw: func(c Canvas, x, y float64) {
		for i := range b {
			at := x + float64(i)*(cw+gap)
			c.Path(segment(at, y+room, at+cw, y+room), Paint{Stroke: Ink2, Width: .2})
			drawLines(c, under[i], st, at, y+room+1, cw, AlignLeft)
		}
	}}
}
