package widgets

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"coilward/ui/look"
)

// Text is text in a step of the scale and a tone. Its lines stand on the step's
// own line height, so that columns of text share one grid.
type Text struct {
	widget.BaseWidget
	text  string
	kind  look.Type
	tone  look.Tone
	align fyne.TextAlign
	wraps bool
	cuts  bool
	ends  bool // what is cut is cut in front
	kept  kept
}

// kept is what was last measured of a text: the window asks for the size of
// everything at every frame.
type kept struct {
	text   string
	kind   look.Type
	broken [2]broken // for the last two widths
	narrow float32   // of its longest word; 0: not measured
}

type broken struct {
	width float32
	lines []string
}

// measured is what is kept of the text as it is now.
func (t *Text) measured() *kept {
	if t.kept.text != t.text || t.kept.kind != t.kind {
		t.kept = kept{text: t.text, kind: t.kind}
	}
	return &t.kept
}

var _ Flow = (*Text)(nil)

// Line is text of one line, which needs its whole width.
func Line(text string, kind look.Type, tone look.Tone) *Text {
	t := &Text{text: text, kind: kind, tone: tone}
	t.ExtendBaseWidget(t)
	return t
}

// Para is text that wraps to the width it is given.
func Para(text string, kind look.Type, tone look.Tone) *Text {
	t := Line(text, kind, tone)
	t.wraps = true
	return t
}

// Right sets the text flush right.
func (t *Text) Right() *Text { t.align = fyne.TextAlignTrailing; return t }

// Centred sets the text in the middle.
func (t *Text) Centred() *Text { t.align = fyne.TextAlignCenter; return t }

// Cuts lets the line end in "…" where it does not fit. For what people wrote
// only; our own words get the room they need.
func (t *Text) Cuts() *Text { t.cuts = true; return t }

// CutsFront lets the line begin with "…" where it does not fit: for a path, of which the end
// tells the most.
func (t *Text) CutsFront() *Text { t.cuts, t.ends = true, true; return t }

// Text is the text as it was set.
func (t *Text) Text() string { return t.text }

// Tone is the tone that the text is set in.
func (t *Text) Tone() look.Tone { return t.tone }

// SetText changes the text.
func (t *Text) SetText(text string) {
	if t.text != text {
		t.text = text
		layouts.Add(1)
		t.Refresh()
	}
}

// SetTone changes the tone.
func (t *Text) SetTone(tone look.Tone) {
	if t.tone != tone {
		t.tone = tone
		t.Refresh()
	}
}

// SetKind changes the step of the scale.
func (t *Text) SetKind(kind look.Type) {
	if t.kind != kind {
		t.kind = kind
		layouts.Add(1)
		t.Refresh()
	}
}

// Short tells whether the text has less room than it needs: it ends in "…",
// or something of it is hidden.
func (t *Text) Short() bool {
	size := t.Size()
	if t.wraps {
		return t.HeightFor(size.Width) > size.Height+.5 || t.widest(size.Width) > size.Width+.5
	}
	return t.kind.Width(t.text) > size.Width+.5
}

// MayBeCut tells whether the text was allowed to end in "…".
func (t *Text) MayBeCut() bool { return t.cuts }

func (t *Text) widest(width float32) (w float32) {
	for _, line := range t.lines(width) {
		w = max(w, t.kind.Width(line))
	}
	return w
}

// lines breaks the text for a width; 0 stands for no end.
func (t *Text) lines(width float32) []string {
	if !t.wraps {
		if t.cuts && width > 0 {
			if t.ends {
				return []string{shortenFront(t.text, t.kind, width)}
			}
			return []string{shorten(t.text, t.kind, width)}
		}
		return []string{t.text}
	}
	k := t.measured()
	for _, b := range k.broken {
		if b.width == width && b.lines != nil {
			return b.lines
		}
	}
	var out []string
	for par := range strings.SplitSeq(t.text, "\n") {
		out = append(out, breakLines(par, t.kind, width)...)
	}
	k.broken[0], k.broken[1] = broken{width, out}, k.broken[0]
	return out
}

// breakLines breaks at spaces; a no-break space holds a number and its unit
// together.
func breakLines(par string, kind look.Type, width float32) []string {
	var out []string
	line, reach := "", float32(0) // reach: how wide the line is, by its words
	space, near := kind.Width(" "), kind.Size+width/16
	for word := range strings.SplitSeq(par, " ") {
		own := kind.Width(word)
		if line == "" {
			line, reach = word, own
			continue
		}
		try, far := line+" "+word, reach+space+own
		// A whole line is measured only where its words do not tell whether it fits.
		if width > 0 && far > width-near && (far > width+near || kind.Width(try) > width) {
			out = append(out, line)
			try, far = word, own
		}
		line, reach = try, far
	}
	return append(out, line)
}

func shorten(text string, kind look.Type, width float32) string {
	if kind.Width(text) <= width+.5 {
		return text
	}
	signs := []rune(text)
	for len(signs) > 1 && kind.Width(strings.TrimSpace(string(signs))+"…") > width {
		signs = signs[:len(signs)-1]
	}
	return strings.TrimSpace(string(signs)) + "…"
}

// shortenFront leaves out whole steps of a path in front; of the last one alone signs.
func shortenFront(text string, kind look.Type, width float32) string {
	if kind.Width(text) <= width+.5 {
		return text
	}
	rest := text
	for _, after, more := strings.Cut(rest, ", "); more; _, after, more = strings.Cut(rest, ", ") {
		if rest = after; kind.Width("… "+rest) <= width+.5 {
			return "… " + rest
		}
	}
	signs := []rune(rest)
	for len(signs) > 1 && kind.Width("…"+strings.TrimSpace(string(signs))) > width {
		signs = signs[1:]
	}
	return "…" + strings.TrimSpace(string(signs))
}

// HeightFor implements Flow.
func (t *Text) HeightFor(width float32) float32 {
	if !t.wraps {
		return t.kind.Line
	}
	return t.kind.Line * float32(len(t.lines(width)))
}

func (t *Text) minWidth() (w float32) {
	switch {
	case t.cuts:
		return t.kind.Width("…")
	case !t.wraps:
		return wholeUp(t.kind.Width(t.text))
	}
	k := t.measured()
	if k.narrow == 0 {
		for word := range strings.FieldsFuncSeq(t.text, func(r rune) bool { return r == ' ' || r == '\n' }) {
			k.narrow = max(k.narrow, t.kind.Width(word))
		}
	}
	return wholeUp(k.narrow)
}

// CreateRenderer implements fyne.Widget.
func (t *Text) CreateRenderer() fyne.WidgetRenderer {
	r := &textRenderer{t: t, size: t.Size()}
	r.build()
	return r
}

type textRenderer struct {
	t       *Text
	size    fyne.Size
	objects []fyne.CanvasObject
}

func (r *textRenderer) Destroy()                     {}
func (r *textRenderer) Objects() []fyne.CanvasObject { return r.objects }

func (r *textRenderer) MinSize() fyne.Size {
	w := r.t.minWidth()
	return fyne.NewSize(w, r.t.HeightFor(max(w, r.size.Width)))
}

func (r *textRenderer) Layout(size fyne.Size) {
	if size == r.size {
		return
	}
	r.size = size
	layouts.Add(1)
	r.build()
}

func (r *textRenderer) Refresh() {
	r.build()
	canvas.Refresh(r.t)
}

// build makes one canvas.Text per line and face.
func (r *textRenderer) build() {
	r.objects = r.objects[:0:0]
	for i, line := range r.t.lines(r.size.Width) {
		r.setLine(line, float32(i)*r.t.kind.Line)
	}
}

func (r *textRenderer) setLine(line string, y float32) {
	kind, x := r.t.kind, float32(0)
	switch spare := r.size.Width - kind.Width(line); r.t.align {
	case fyne.TextAlignTrailing:
		x = spare
	case fyne.TextAlignCenter:
		x = spare / 2
	}
	for _, run := range kind.Runs(line) {
		o := canvas.NewText(run.Text, look.Of(r.t.tone))
		o.TextSize, o.TextStyle, o.FontSource = kind.Size, run.Face.Style(), run.Face.Source()
		size := o.MinSize()
		o.Resize(size)
		o.Move(fyne.NewPos(whole(x), whole(y+(kind.Line-size.Height)/2)))
		r.objects = append(r.objects, o)
		x += size.Width
	}
}
