package shelfview

import (
	"cmp"
	"image"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"

	"coilward/ui/look"
	"coilward/ui/widgets"
)

// strip is one line of the shelf in sight: one picture, and its words as texts
// of the window.
type strip struct {
	view    *View
	line    line
	row     Row
	width   float32
	way     []segment // as far as this line shows it
	surface *canvas.Raster
	picture *image.RGBA
	dark    bool
	words   []fyne.CanvasObject
}

func newStrip(v *View) *strip {
	s := &strip{view: v}
	s.surface = canvas.NewRaster(s.paint)
	return s
}

// set shows a line; nothing is drawn anew where it is the same.
func (s *strip) set(l line, row Row, width float32, way []leg) {
	dark := look.Dark()
	parts := segments(l, way)
	same := s.words != nil && slices.Equal(s.way, parts) && sameLine(s.line, l) && s.row.same(row) && s.width == width && s.dark == dark
	moved := s.line.y != l.y
	s.line, s.row, s.width, s.way = l, row, width, parts
	if same && !moved {
		return
	}
	s.surface.Move(fyne.NewPos(0, l.y-above))
	s.surface.Resize(fyne.NewSize(width, l.height+above+beneath))
	s.dark = dark
	s.write()
	if !same {
		s.picture = nil
		s.surface.Refresh()
	}
}

// above and beneath are how far a line's picture reaches past it.
const (
	above   = 8
	beneath = 2
)

func sameLine(a, b line) bool {
	if a.form != b.form || a.height != b.height || a.boxH != b.boxH || a.end != b.end || a.first != b.first || a.room != b.room || a.gutter != b.gutter ||
		a.boxY-a.y != b.boxY-b.y || len(a.cells) != len(b.cells) {
		return false
	}
	for i, c := range a.cells {
		d := b.cells[i]
		if c.x != d.x || c.w != d.w || c.at.Box != d.at.Box || c.current != d.current {
			return false
		}
	}
	return true
}

// paint draws the line; it is drawn anew only for another size.
func (s *strip) paint(w, h int) image.Image {
	if s.width <= 0 || w <= 0 || h <= 0 {
		return image.NewRGBA(image.Rect(0, 0, 1, 1))
	}
	if s.picture == nil || s.picture.Rect.Dx() != w || s.picture.Rect.Dy() != h {
		s.view.kept.fresh()
		b := newBrush(w, h, s.width, &s.view.kept)
		l := s.line
		l.shift(above - l.y)
		b.line(l, s.row, s.view.words)
		b.way(l, s.row, s.way)
		s.picture = b.picture
	}
	return s.picture
}

// shift moves a line up or down.
func (l *line) shift(by float32) {
	l.y, l.boxY, l.boardY, l.tagY = l.y+by, l.boxY+by, l.boardY+by, l.tagY+by
	cells := make([]cell, len(l.cells))
	for i, c := range l.cells {
		c.y += by
		cells[i] = c
	}
	l.cells = cells
}

// objects are the picture and the words.
func (s *strip) objects(to []fyne.CanvasObject) []fyne.CanvasObject {
	return append(append(to, s.surface), s.words...)
}

// write makes the words.
func (s *strip) write() {
	p := &page{}
	p.line(s.line, s.row, s.view.words)
	s.words = p.words
	if s.words == nil {
		s.words = []fyne.CanvasObject{}
	}
}

// page sets words at places.
type page struct{ words []fyne.CanvasObject }

type side uint8

const (
	left side = iota
	middle
	right
)

// set sets what a person wrote, cut where it is too long, its line about y.
func (p *page) set(text string, kind look.Type, tone look.Tone, x, y, most float32, from side) {
	if text == "" || most < 8 {
		return
	}
	width := min(most, ceil(kind.Width(text)))
	switch from {
	case middle:
		x -= width / 2
	case right:
		x -= width
	}
	t := widgets.Line(text, kind, tone).Cuts()
	t.Move(fyne.NewPos(round(x), round(y-kind.Line/2)))
	t.Resize(fyne.NewSize(width, kind.Line))
	p.words = append(p.words, t)
}

// say sets words of ours, whole or not at all.
func (p *page) say(text string, kind look.Type, tone look.Tone, x, y, most float32, from side) bool {
	if text == "" || ceil(kind.Width(text)) > most {
		return false
	}
	p.set(text, kind, tone, x, y, most, from)
	return true
}

func ceil(v float32) float32 { return float32(int(v + .999)) }

// cellOf are the sizes that both the picture and the words go by.
type inside struct {
	bed     float32 // height of the bedding
	side    float32 // of a coil
	coilX   float32 // left edge of the first coil
	coilEnd float32
	coilY   float32 // middle
	textX   float32
	note    []string // what stands below the name, in one line or two
}

// wideBox is how wide a box is whose animal lies beside its name, however long that
// is; leastCoil how large the animal is at least in one that is narrower.
const (
	wideBox   = 156
	leastCoil = 40
)

// besideSide is the side of an animal that lies beside its name, in a box with so much
// height above the bedding.
func besideSide(c cell, b Box, height float32) float32 {
	side := min(height-6, 84)
	if c.w < 200 {
		side = min(side, c.w*.36)
	}
	if c.w < wideBox {
		side = min(side, c.w-42-look.Name.Width(b.Called())) // 12 for the mark of its class
		side = min(side, c.w-30-widestOf(laid(b.Note, c.w-30-leastCoil)))
	}
	return side
}

// beside reports whether the one animal of a box lies beside its name.
func beside(c cell, b Box, height float32) bool {
	return len(b.Dwellers) < 2 && c.h < leastTall && (c.w >= wideBox || besideSide(c, b, height) >= leastCoil)
}

// roomyInside lays out a box of a roomy line.
func roomyInside(c cell, b Box) inside {
	n := float32(min(3, len(b.Dwellers)))
	in := inside{bed: round(min(max(6, c.h*.13), 36))}
	top := c.y + c.h - in.bed
	switch {
	case c.h >= leastTall: // names above, the animal below
		in.side = min(c.h-in.bed-84, c.w-40, 150)
		span := min(c.w-32, in.side*(1+(n-1)*.8))
		in.coilX, in.coilEnd = c.x+(c.w-span)/2, c.x+(c.w+span)/2
		in.coilY, in.textX = top-in.side/2+8, c.x+16
	case beside(c, b, top-c.y):
		in.side = besideSide(c, b, top-c.y)
		in.coilX, in.coilEnd = c.x+10, c.x+10+in.side
		in.coilY, in.textX = top-in.side/2+5, c.x+in.side+20
		in.note = laid(b.Note, c.x+c.w-10-in.textX)
	default:
		in.side, in.note = min(top-c.y-38, c.w*.5, 64), []string{b.Note}
		if largest := min(top-c.y-28, c.w*.5, 64); n < 2 && in.side < largest { // up to the name, beside what stands below it
			note := laid(b.Note, c.w-21-min(largest, leastCoil))
			if side := min(largest, c.w-21-widestOf(note)); side > in.side {
				in.side, in.note = side, note
			}
		}
		in.coilEnd = c.x + c.w - 9
		in.coilX = max(c.x+8, in.coilEnd-in.side*(1+(n-1)*.8))
		in.coilY, in.textX = top-in.side/2+4, c.x+10
	}
	return in
}

// laid are the words below a name: in one line, or in two where that is wider than
// most.
func laid(note string, most float32) []string {
	lines := []string{note}
	if ceil(look.Note.Width(note)) <= most {
		return lines
	}
	for i, sign := range note {
		if sign != ' ' {
			continue
		}
		if two := []string{note[:i], note[i+1:]}; widestOf(two) < widestOf(lines) {
			lines = two
		}
	}
	return lines
}

func widestOf(lines []string) (width float32) {
	for _, l := range lines {
		width = max(width, ceil(look.Note.Width(l)))
	}
	return width
}

// line paints a line of boxes.
func (b *brush) line(l line, row Row, w Words) {
	b.rect(l.gutter-8, l.boardY, l.end-l.gutter+16, l.boardH, look.Wood)
	b.rect(l.gutter-8, l.boardY+l.boardH-1, l.end-l.gutter+16, 1, look.WoodEdge)
	if l.form == roomy {
		b.classes(l, row, w)
	}
	for _, c := range l.cells {
		box := row.Boxes[c.at.Box]
		switch l.form {
		case roomy:
			b.roomy(c, box)
		case dense:
			b.dense(c, box)
		case compact:
			b.compact(c, box)
		case lit:
			b.litLine(c, box)
		}
		if l.form == roomy || l.form == dense {
			b.tags(c, box, l)
		}
	}
}

// classes draws the line over each run of boxes of one class: where the line
// changes, the gloves change.
func (b *brush) classes(l line, row Row, w Words) {
	for _, r := range runs(l, row) {
		y := l.boxY - 11
		b.mark(r.class, r.x0+6, y, 5)
		if r.also != Resident {
			b.mark(r.also, r.x0+20, y, 5)
		}
		if at := r.head() + r.word(w); at < r.x1 {
			b.classLine(r.class, at, r.x1, y)
		}
	}
}

// run is a run of boxes of one class, and of one that applies as well.
type run struct {
	class, also Class
	x0, x1      float32
}

// head is where its marks end and its word begins.
func (r run) head() float32 {
	if r.also != Resident {
		return r.x0 + 31
	}
	return r.x0 + 17
}

func runs(l line, row Row) (all []run) {
	for _, c := range l.cells {
		box := row.Boxes[c.at.Box]
		if box.Empty() {
			continue
		}
		if n := len(all); n > 0 && all[n-1].class == box.Class && all[n-1].also == box.Also {
			all[n-1].x1 = c.x + c.w
			continue
		}
		all = append(all, run{box.Class, box.Also, c.x, c.x + c.w})
	}
	return all
}

// word is how wide the class's word is over the run, 0 where it finds no room.
func (r run) word(w Words) float32 {
	width := ceil(look.NoteBold.Width(w.Class[r.class]))
	if r.head()+width > r.x1 {
		return 0
	}
	return width + 8
}

func (b *brush) roomy(c cell, box Box) {
	if box.Empty() || box.Loose {
		b.bare(c, box)
	}
	if box.Empty() {
		return
	}
	in := roomyInside(c, box)
	if !box.Loose {
		line, edge := look.Edge, float32(1)
		switch box.Class {
		case NearPositive, Ill:
			line, edge = box.Class.tone(), 1.5
		}
		b.glass(c.x, c.y, c.w, c.h, in.bed, look.Sheet, line, edge, false)
	}
	b.snakes(box.Dwellers, in.coilX, in.coilEnd, in.coilY, in.side)
}

// saysAdd reports whether the place where a box is added has room to say so.
func saysAdd(c cell, b Box) bool {
	return c.h >= leastRoomy && ceil(look.NoteBold.Width(b.Note)) <= c.w-8
}

// bare draws a box that nobody lies in, or a place without a box.
func (b *brush) bare(c cell, box Box) {
	if box.Dirty {
		b.hatch(c.x+3, c.y+3, c.w-6, c.h-6, look.Fleck)
	}
	b.glass(c.x, c.y, c.w, c.h, 0, "", look.Edge, 1.1, true)
	if box.Adds {
		x, y, r := c.x+c.w/2, c.y+c.h/2, float32(8)
		if saysAdd(c, box) {
			y -= 10
		}
		b.stroke(polyline(x-r, y, x+r, y), 1.6, look.Accent)
		b.stroke(polyline(x, y-r, x, y+r), 1.6, look.Accent)
	}
}

func denseSide(c cell) float32 { return min(c.h-22, 44, c.w*.5) }

// airy reports whether a box of a dense line has room for what a roomy one shows.
func airy(c cell) bool { return c.h >= 66 && c.w >= 110 }

func (b *brush) dense(c cell, box Box) {
	if airy(c) {
		b.roomy(c, box)
		if !box.Empty() {
			b.marks(box, c.x+c.w-13, c.y+14, 6)
		}
		return
	}
	if box.Empty() || box.Loose {
		b.bare(c, box)
	}
	if box.Empty() {
		return
	}
	if !box.Loose {
		line, edge := look.Edge, float32(1)
		if box.Class != Resident {
			line, edge = box.Class.tone(), 1.5
		}
		b.glass(c.x, c.y, c.w, c.h, 0, box.Class.ground(), line, edge, box.Class == NearPositive)
	}
	side := denseSide(c)
	b.snakes(box.Dwellers, c.x+6, c.x+c.w-max(20, marksWidth(box)+4), c.y+c.h-side/2-3, side)
	b.marks(box, c.x+c.w-11, c.y+c.h-11, 5)
}

// marks draws the mark of a box's class, and left of it that of the one that applies as
// well.
func (b *brush) marks(box Box, x, y, r float32) {
	if box.Class != Resident {
		b.mark(box.Class, x, y, r)
	}
	if box.Also != Resident {
		b.mark(box.Also, x-14, y, r)
	}
}

// marksWidth is how much of a box's width its marks take.
func marksWidth(box Box) float32 {
	switch {
	case box.Class == Resident:
		return 0
	case box.Also == Resident:
		return 16
	}
	return 30
}

// compact is a box of a line that is not walked just now.
func (b *brush) compact(c cell, box Box) {
	if box.Empty() && box.State == Resting {
		b.glass(c.x, c.y, c.w, c.h, 0, "", look.Hair, 1.1, true)
		return
	}
	fill, line := box.State.ground()
	b.glass(c.x, c.y, c.w, c.h, 0, fill, line, 1, false)
	x := c.x + 8
	if side := compactSide(c); side > 0 {
		b.snakes(box.Dwellers[:min(1, len(box.Dwellers))], c.x+6, c.x+6+side, c.y+c.h/2, side)
		x = c.x + side + 12
		if box.State == Resting {
			b.veil(c.x+2, c.y+2, side+8, c.h-4, look.Paper, .6)
		}
	}
	if box.State != Resting {
		_, word := compactLines(c, box)
		b.state(box.State, x+6, word, 5)
	}
}

// compactSide is the coil's side in a compact box; none where it is narrow.
func compactSide(c cell) float32 {
	if c.w < 116 {
		return 0
	}
	return min(c.h-12, 42)
}

// litLine is a box of the line that is walked: the current one in the lamp, its
// neighbours tall and narrow.
func (b *brush) litLine(c cell, box Box) {
	if c.current {
		b.fill(rounded(c.x-6, c.y-6, c.w+12, c.h+6, 11), look.Wash)
		b.glass(c.x, c.y, c.w, c.h, 34, look.Sheet, look.Accent, 3, false)
		return
	}
	if box.Empty() && box.State == Resting {
		b.glass(c.x, c.y, c.w, c.h, 0, "", look.Hair, 1.1, true)
		return
	}
	fill, line := box.State.ground()
	const bed = 30
	b.glass(c.x, c.y, c.w, c.h, bed, fill, line, 1, false)
	side := min(c.w-14, 88)
	b.snakes(box.Dwellers[:min(1, len(box.Dwellers))], c.x+(c.w-side)/2, c.x+(c.w+side)/2, c.y+c.h-bed-side/2+6, side)
	if box.State == Resting {
		b.veil(c.x+2, c.y+c.h-bed-side, c.w-4, side+bed-2, look.Paper, .6)
		return
	}
	b.state(box.State, c.x+c.w/2, c.y+50, 7)
}

// tag is one thing that hangs from the board.
type tag struct {
	due  Due
	x, w float32
	word string  // empty: a sign alone
	text float32 // where the word begins
	bare bool    // the word alone
}

// tagsOf lays out what hangs below a box: with words where all of them find
// room; elsewhere what is urgent with its short word, without the sign where even
// that is too long, and the rest as signs.
func tagsOf(c cell, box Box, l line) []tag {
	tags, width := tagsWith(box, l, func(d Due) (string, bool) { return d.Word, false })
	if width > c.w {
		tags, width = tagsWith(box, l, func(d Due) (string, bool) { return urgentWord(d), false })
	}
	if width > c.w {
		tags, _ = tagsWith(box, l, func(d Due) (string, bool) { return urgentWord(d), d.Urgent != EveryDay })
	}
	x := c.x + 2
	for i := range tags {
		if i > 0 && x+tags[i].w > c.x+c.w+3 {
			return tags[:i]
		}
		tags[i].text += x
		tags[i].x = x
		x += tags[i].w + 4
	}
	return tags
}

func urgentWord(d Due) string {
	if d.Urgent == EveryDay {
		return ""
	}
	return d.short()
}

// tagsWith are the tags with these words, the urgent ones first, and how wide they
// are together.
func tagsWith(box Box, l line, word func(Due) (word string, bare bool)) (tags []tag, width float32) {
	sign, after, bare := float32(24), float32(8), float32(5)
	if l.form == dense {
		sign, after, bare = 20, 6, 3
	}
	for _, d := range box.Due {
		t := tag{due: d, w: 26, text: sign}
		switch t.word, t.bare = word(d); {
		case t.word == "":
		case t.bare:
			t.text = bare
			t.w = 2*bare + ceil(t.kind().Width(t.word))
		default:
			t.w = sign + ceil(t.kind().Width(t.word)) + after
		}
		tags = append(tags, t)
		width += t.w + 4
	}
	slices.SortStableFunc(tags, func(a, b tag) int { return cmp.Compare(b.due.Urgent, a.due.Urgent) })
	return tags, width - 4
}

func (t tag) kind() look.Type {
	if t.due.Late || t.due.Urgent != EveryDay {
		return look.NoteBold
	}
	return look.Note
}

// tones are never the same for two urgencies: what is late is not what is for the
// vet.
func (t tag) tones() (fill, line, ink look.Tone) {
	switch {
	case t.due.Urgent == Emergency:
		return look.TodayBg, look.Today, look.Today
	case t.due.Urgent == ForVet:
		return look.DaysBg, look.Days, look.Days
	case t.due.Late:
		return look.Sheet, look.Soft, look.Ink
	case t.due.Done:
		return look.Paper, look.Hair, look.Accent
	}
	return look.Sheet, look.Edge, look.Soft
}

func (b *brush) tags(c cell, box Box, l line) {
	for _, t := range tagsOf(c, box, l) {
		fill, line, ink := t.tones()
		late := t.due.Late && t.due.Urgent == EveryDay
		if l.form == dense {
			b.tagSign(t, t.x+9, l.tagY+11, 5, ink)
			if late && t.word == "" {
				b.halfDiamond(t.x+18, l.tagY+6, 4, ink)
			} else if late {
				b.halfDiamond(t.x+t.w-4, l.tagY+7, 3.5, ink)
			}
			continue
		}
		b.rect(t.x+t.w/2-1, l.tagY, 2, 4, line)
		b.glass(t.x, l.tagY+4, t.w, 22, 0, fill, line, 1, false)
		b.tagSign(t, t.x+13, l.tagY+15, 5.5, ink)
		if late { // its own shape too
			b.halfDiamond(t.x+t.w-1, l.tagY+5, 4, ink)
		}
	}
}

func (b *brush) tagSign(t tag, x, y, r float32, ink look.Tone) {
	switch {
	case t.bare:
	case t.due.Done:
		b.state(Good, x, y, r)
	default:
		b.sign(t.due.Sign, x, y, 15, ink)
	}
}

// line sets the words of a line.
func (p *page) line(l line, row Row, w Words) {
	if l.first {
		y := l.boxY + 12
		if l.room && row.Room != "" {
			kind := look.Name
			if l.form != roomy {
				kind = look.BodyBold
			}
			p.set(row.Room, kind, look.Ink, 0, y, l.gutter-16, left)
			y += 20
		}
		if !(l.form == compact || l.form == dense && l.boxH < 60) || !l.room || row.Room == "" || y+8 < l.boardY {
			p.set(row.Name, look.Note, look.Faint, 0, y, l.gutter-16, left)
		}
	}
	if l.form == roomy {
		for _, r := range runs(l, row) {
			if r.word(w) > 0 {
				p.say(w.Class[r.class], look.NoteBold, r.class.tone(), r.head(), l.boxY-11, r.x1-r.head(), left)
			}
		}
	}
	for _, c := range l.cells {
		box := row.Boxes[c.at.Box]
		p.station(l, c, box)
		switch {
		case c.current:
		case box.Empty() && !(box.State != Resting && (l.form == compact || l.form == lit)):
			p.empty(c, box, w)
		case l.form == roomy:
			p.roomy(c, box)
		case l.form == dense:
			p.dense(c, box)
		case l.form == compact:
			p.compact(c, box)
		case l.form == lit:
			p.tall(c, box)
		}
		if l.form == roomy || l.form == dense {
			y := l.tagY + 15
			if l.form == dense {
				y = l.tagY + 11
			}
			for _, t := range tagsOf(c, box, l) {
				_, _, ink := t.tones()
				p.say(t.word, t.kind(), ink, t.text, y, t.x+t.w-t.text, left)
			}
		}
	}
}

func (p *page) empty(c cell, box Box, w Words) {
	x, y := c.x+c.w/2, c.y+c.h/2
	if box.Adds {
		if saysAdd(c, box) {
			p.say(box.Note, look.NoteBold, look.Accent, x, y+14, c.w-8, middle)
		}
		return
	}
	if c.h < leastRoomy-16 {
		p.set(box.Name, look.Note, look.Faint, x, y, c.w-10, middle)
		return
	}
	said := w.Empty
	if box.Note != "" {
		said = box.Note
	}
	p.set(box.Name, look.Body, look.Faint, x, y-9, c.w-10, middle)
	p.say(said, look.Note, look.Faint, x, y+10, c.w-8, middle)
}

func (p *page) roomy(c cell, box Box) {
	in := roomyInside(c, box)
	edge := c.x + c.w - 10
	switch {
	case c.h >= leastTall:
		room := edge - in.textX
		if box.Corner != "" && p.say(box.Corner, look.Note, look.Faint, c.x+c.w-14, c.y+24, 60, right) {
			room -= 52
		}
		p.set(box.Called(), look.Heading, look.Ink, in.textX, c.y+26, room, left)
		p.say(box.Note, look.Body, look.Soft, in.textX, c.y+52, edge-in.textX, left)
	case beside(c, box, c.h-in.bed):
		if box.Corner != "" {
			p.say(box.Corner, look.Tiny, look.Faint, c.x+c.w-8, c.y+13, 60, right)
		}
		mid := c.y + (c.h-in.bed)/2 + 2
		if len(in.note) > 1 {
			mid -= 7
		}
		p.set(box.Called(), look.Name, look.Ink, in.textX, mid-7, edge-in.textX, left)
		p.note(in.note, in.textX, mid+14, edge-in.textX)
	default:
		kind := look.Name
		if c.w < 116 {
			kind = look.Body
		}
		p.set(box.Called(), kind, look.Ink, c.x+10, c.y+16, c.w-18, left)
		y := c.y + 36
		if len(in.note) > 1 {
			y -= 4
		}
		p.note(in.note, c.x+10, y, c.w-18)
	}
}

// note says what stands below a name: all of it or nothing.
func (p *page) note(lines []string, x, y, most float32) {
	if widestOf(lines) > most {
		return
	}
	for i, l := range lines {
		p.say(l, look.Note, look.Soft, x, y+14*float32(i), most, left)
	}
}

func (p *page) dense(c cell, box Box) {
	if airy(c) {
		if box.Class != Resident {
			box.Corner = "" // the class's mark stands there
		}
		p.roomy(c, box)
		return
	}
	p.set(box.Called(), look.Note, look.Ink, c.x+6, c.y+11, c.w-10, left)
	n := float32(min(3, len(box.Dwellers)) - 1)
	from := c.x + 10 + denseSide(c)*(1+.8*n)
	to := c.x + c.w - 6
	to -= marksWidth(box)
	p.say(box.Note, look.Tiny, look.Soft, from, c.y+c.h-14, to-from, left)
}

func (p *page) compact(c cell, box Box) {
	x, tone := c.x+8, look.Ink
	if side := compactSide(c); side > 0 {
		x = c.x + side + 12
	}
	if box.State == Resting {
		tone = look.Faint
	}
	name, word := compactLines(c, box)
	p.set(box.Called(), look.NoteBold, tone, x, name, c.x+c.w-6-x, left)
	at := x
	if box.State != Resting {
		at += 16
	}
	p.say(box.Word, look.Tiny, box.State.tone(), at, word, c.x+c.w-5-at, left)
}

// compactLines are the middles of the two lines of words in a compact box; they stand clear
// of the disc of a station.
func compactLines(c cell, box Box) (name, word float32) {
	middle := c.y + c.h/2
	if box.Station > 0 {
		middle -= 4
	}
	return middle - 8, middle + 9
}

func (p *page) tall(c cell, box Box) {
	tone := look.Ink
	if box.State == Resting {
		tone = look.Faint
	}
	kind := look.Name
	if c.w < 90 {
		kind = look.Body
	}
	p.set(box.Called(), kind, tone, c.x+c.w/2, c.y+24, c.w-10, middle)
	p.say(box.Word, look.Note, box.State.tone(), c.x+c.w/2, tallWord(c, box), c.w-8, middle)
}

// tallWord is the middle of the words of a tall box's state.
func tallWord(c cell, box Box) float32 {
	if box.State == Resting {
		return c.y + 46
	}
	return c.y + 70
}
