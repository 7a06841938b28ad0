package paper

import "strings"

// Page is laid out and ready to be drawn.
type Page struct {
	Section string
	opens   string // the bookmark of its section, of which it is the first page
	pieces  []placed
	// Left is the height in millimetres that stayed empty; below zero the page
	// runs over, which only a piece taller than a page can cause.
	Left float64
}

type placed struct {
	p piece
	y float64
}

// Layout breaks the document into pages.
func Layout(d Document) []Page {
	var out []Page
	for i, s := range d.Sections {
		pages := section(d, s)
		pages[0].opens = d.bookmark(i)
		out = append(out, pages...)
	}
	return out
}

// bookmark is what leads to a section. The first names the paper too.
func (d Document) bookmark(section int) string {
	name := Clean(bare(d.Sections[section].Name))
	switch {
	case section > 0:
		return name
	case strings.Contains(strings.ToLower(d.Title), strings.ToLower(name)):
		return bare(d.Title)
	}
	return bare(d.Title) + ": " + name
}

// section lays out one section; one that must fit a page gives way step by
// step, figures first, then type, and runs on where even that is not enough.
func section(d Document, s Section) []Page {
	first := flow(d, s, scale{1, 1})
	switch {
	case len(first) == 1:
		return first
	case !s.Fit:
		return withoutStub(d, s, first)
	}
	for _, kind := range []float64{1, .98, .96, .94, .92, .90, .88, .86} {
		if len(flow(d, s, scale{kind, 0})) > 1 {
			continue
		}
		for _, stretch := range []float64{.75, .5, .25} {
			if pages := flow(d, s, scale{kind, stretch}); len(pages) == 1 {
				return pages
			}
		}
		return flow(d, s, scale{kind, 0})
	}
	return first
}

// least is the height in millimetres of a last page that stands for itself.
const least = 40

// withoutStub are the pages of a section without a last page of a few lines, where figures
// and type that give way a little make room for them on the page before.
func withoutStub(d Document, s Section, first []Page) []Page {
	if first[len(first)-1].Left < d.Size.H-d.Size.Top-d.Size.Bottom-least {
		return first
	}
	for _, kind := range []float64{1, .98, .96} {
		if pages := flow(d, s, scale{kind, 0}); len(pages) < len(first) {
			return pages
		}
	}
	return first
}

// flowing is the state of filling pages.
type flowing struct {
	size   Size
	name   string
	bottom float64
	page   Page
	y      float64
	done   []Page
}

func flow(d Document, s Section, sc scale) []Page {
	f := flowing{size: d.Size, name: s.Name, bottom: d.Size.H - d.Size.Bottom, page: Page{Section: s.Name}, y: d.Size.Top}
	all := pieces(sc, s.Blocks, d.Size.W-d.Size.Left-d.Size.Right)
	for i := 0; i < len(all); {
		j := i
		for j < len(all)-1 && all[j].stick {
			j++
		}
		f.add(all[i : j+1])
		i = j + 1
	}
	f.page.Left = f.bottom - f.y
	return append(f.done, f.page)
}

// add puts a group that sticks together on this page or the next. A group
// taller than a page is put piece by piece.
func (f *flowing) add(group []piece) {
	if len(group) > 1 && f.heightOn(group, false) > f.bottom-f.size.Top {
		for _, p := range group {
			f.add([]piece{p})
		}
		return
	}
	if len(group) == 1 && f.started() {
		group[0] = f.squeezed(group[0])
	}
	if f.started() && f.y+f.heightOn(group, true) > f.bottom+.01 {
		f.turn(group[0].header)
	}
	for _, p := range group {
		f.place(p)
	}
}

func (f *flowing) started() bool { return len(f.page.pieces) > 0 }

// heightOn is how much a group needs, with or without the space above it.
func (f *flowing) heightOn(group []piece, started bool) float64 {
	var h float64
	for i, p := range group {
		if i > 0 || started {
			h += p.before
		}
		h += p.h
	}
	return h
}

// squeezed lowers the figures of a piece that nearly fits this page.
func (f *flowing) squeezed(p piece) piece {
	if p.shrink == nil || f.y+p.before+p.h <= f.bottom+.01 {
		return p
	}
	for stretch := .9; stretch > -.05; stretch -= .1 {
		if q := p.shrink(max(stretch, 0)); f.y+q.before+q.h <= f.bottom+.01 {
			return q
		}
	}
	return p
}

// turn begins the next page; a table that runs over repeats its header.
func (f *flowing) turn(header *piece) {
	f.page.Left = f.bottom - f.y
	f.done = append(f.done, f.page)
	f.page, f.y = Page{Section: f.name}, f.size.Top
	if header != nil {
		f.place(*header)
	}
}

func (f *flowing) place(p piece) {
	if f.started() {
		f.y += p.before
	}
	f.page.pieces = append(f.page.pieces, placed{p, f.y})
	f.y += p.h
}

// DrawPage paints page number n of total, counted from 1.
func DrawPage(c Canvas, d Document, p Page, n, total int) {
	if !d.Footless {
		drawFoot(c, d, n, total)
	}
	if p.opens != "" {
		c.Mark(0, p.opens, 0)
	}
	for _, q := range p.pieces {
		if m := q.p.mark; m != nil && m.Level < 3 && m.Text != p.Section {
			c.Mark(m.Level-1, bare(m.Text), q.y)
		}
		if q.p.draw != nil {
			q.p.draw(c, d.Size.Left, q.y)
		}
	}
}

// drawFoot writes the running foot: who, what, which page of how many.
func drawFoot(c Canvas, d Document, n, total int) {
	size := d.Size
	y := size.H - 8.6
	w := size.W - size.Left - size.Right
	c.Path(segment(size.Left, y-3.6, size.W-size.Right, y-3.6), Paint{Stroke: Hair, Width: .15})
	putIn(c, size.Left, y, w*.25, AlignLeft, tinyStyle, d.FootLeft)
	putIn(c, size.W/2, y, w*.48, AlignCentre, tinyStyle, d.FootMiddle)
	if d.PageOf != nil {
		put(c, size.W-size.Right, y, AlignRight, tinyStyle.As(Bold).In(Ink), d.PageOf(n, total))
	}
}
