package paper

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
)

// The marks of runs inside a text. They are control signs, which Clean takes
// out of everything a person typed, so that no typed text can be a mark.
const (
	markStrong  = '\x01'
	markSpecies = '\x02'
	markEnd     = '\x03'
)

// Strong is s set heavier than the text around it.
func Strong(s string) string { return string(markStrong) + s + string(markEnd) }

// Species is s set as the name of a species: italic.
func Species(s string) string { return string(markSpecies) + s + string(markEnd) }

// Clean makes what a person typed printable: letters put together (NFC), cut
// UTF-8, control signs and what no face has shown as a box, signs without any
// shape taken out. The result holds no mark of runs; line breaks stay.
func Clean(s string) string {
	s = norm.NFC.String(strings.ToValidUTF8(s, string(missing)))
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\n':
			return r
		case r == '\t' || r == '\r' || r == '\u2028' || r == '\u2029':
			return ' '
		case unicode.Is(unicode.Cf, r) || unicode.Is(unicode.Variation_Selector, r):
			return -1
		case unicode.IsControl(r) || r == utf8.RuneError || !printable(r):
			return missing
		}
		return r
	}, s)
}

// printable reports whether some face of the papers has the sign.
func printable(r rune) bool {
	_, shown := faceOf(Sans, r)
	return shown != missing || r == missing
}

// run is a piece of a line in one face.
type run struct {
	text string
	face Face
}

// runsOf splits a text at its marks.
func runsOf(s string, base Face) []run {
	var out []run
	face, start := base, 0
	cut := func(end int, next Face) {
		if end > start {
			out = append(out, run{s[start:end], face})
		}
		face, start = next, end+1
	}
	for i := range len(s) {
		switch s[i] {
		case markStrong:
			cut(i, base.bold())
		case markSpecies:
			cut(i, Italic)
		case markEnd:
			cut(i, base)
		}
	}
	cut(len(s), base)
	return out
}

// bare is a text without its marks.
func bare(s string) string {
	return strings.Map(func(r rune) rune {
		if r == markStrong || r == markSpecies || r == markEnd {
			return -1
		}
		return r
	}, s)
}

func lineWidth(st Style, s string) float64 {
	var w float64
	for _, r := range runsOf(s, st.Face) {
		w += Width(r.face, st.Pt, r.text)
	}
	return w
}

// put sets one line of text, standing by its baseline left of, around or right of x.
func put(c Canvas, x, y float64, a Align, st Style, s string) {
	switch a {
	case AlignCentre:
		x -= lineWidth(st, s) / 2
	case AlignRight:
		x -= lineWidth(st, s)
	}
	for _, r := range runsOf(s, st.Face) {
		x = setRun(c, x, y, r.face, st.Pt, st, r.text)
	}
}

// putIn is put for a text that may be too long: it ends in … where the width ends.
func putIn(c Canvas, x, y, width float64, a Align, st Style, s string) {
	put(c, x, y, a, st, shorten(st, s, width))
}

func shorten(st Style, s string, width float64) string {
	if lineWidth(st, s) <= width {
		return s
	}
	s = bare(s)
	room := width - Width(st.Face, st.Pt, "…")
	end := 0
	for i, r := range s {
		if room -= Width(st.Face, st.Pt, string(r)); room < 0 && i > 0 {
			break
		}
		end = i + utf8.RuneLen(r)
	}
	return strings.TrimRight(s[:end], " ") + "…"
}

type line struct {
	runs []run
	w    float64
}

// wrap breaks text at spaces, never at no-break spaces. When the last line
// would hold one short word, the paragraph is set a little narrower instead.
func wrap(st Style, s string, width float64) []line {
	lines := wrapAt(st, s, width)
	n := len(lines)
	if n < 2 || n > 12 || lines[n-1].w >= width*.16 {
		return lines
	}
	for k := .97; k > .80; k -= .03 {
		narrower := wrapAt(st, s, width*k)
		if len(narrower) > n {
			break
		}
		if narrower[n-1].w >= width*.22 {
			return narrower
		}
	}
	return lines
}

func wrapAt(st Style, s string, width float64) []line {
	width = max(width, 4) // a column too narrow must not hang the layout
	var out []line
	for part := range strings.SplitSeq(strings.ReplaceAll(s, " %", "\u00a0%"), "\n") { // a number stays with its sign
		out = append(out, wrapLine(st, part, width)...)
	}
	return out
}

// wordsOf cuts a text at its spaces; a word may change its face inside.
func wordsOf(s string, base Face) [][]run {
	var words [][]run
	var word []run
	for _, r := range runsOf(s, base) {
		for i, piece := range strings.Split(r.text, " ") {
			if i > 0 {
				words = append(words, word)
				word = nil
			}
			if piece != "" {
				word = append(word, run{piece, r.face})
			}
		}
	}
	return append(words, word)
}

func wrapLine(st Style, s string, width float64) []line {
	var out []line
	var l line
	for _, word := range wordsOf(s, st.Face) {
		space := 0.0
		if len(l.runs) > 0 {
			space = Width(l.runs[len(l.runs)-1].face, st.Pt, " ")
		}
		if len(l.runs) > 0 && l.w+space+wordWidth(st, word) > width+.01 {
			out, l = append(out, l), line{}
		}
		for wordWidth(st, word) > width+.01 {
			var head []run
			head, word = cutWord(st, word, width)
			out = append(out, line{head, wordWidth(st, head)})
		}
		l = l.with(st, word)
	}
	return append(out, l)
}

// with is the line and one more word; the space takes the face of the word
// before it, so that words in one face stay one run.
func (l line) with(st Style, word []run) line {
	if len(word) == 0 {
		return l
	}
	if len(l.runs) > 0 {
		last := &l.runs[len(l.runs)-1]
		last.text += " "
		l.w += Width(last.face, st.Pt, " ")
		if last.face == word[0].face {
			last.text += word[0].text
			l.w += Width(last.face, st.Pt, word[0].text)
			word = word[1:]
		}
	}
	l.runs = append(l.runs, word...)
	l.w += wordWidth(st, word)
	return l
}

func wordWidth(st Style, word []run) float64 {
	var w float64
	for _, r := range word {
		w += Width(r.face, st.Pt, r.text)
	}
	return w
}

// cutWord cuts a word that is wider than its column: after a hyphen or slash
// where there is one, otherwise where the width ends. The head is never empty.
func cutWord(st Style, word []run, width float64) (head, rest []run) {
	first := word[0]
	letters := []rune(first.text)
	n, w := 0, 0.0
	for n < len(letters) && (n == 0 || w+Width(first.face, st.Pt, string(letters[n])) <= width) {
		w += Width(first.face, st.Pt, string(letters[n]))
		n++
	}
	if n == len(letters) {
		return word[:1:1], word[1:]
	}
	for k := n; k > n/2; k-- {
		if letters[k-1] == '-' || letters[k-1] == '/' {
			n = k
			break
		}
	}
	head = []run{{string(letters[:n]), first.face}}
	rest = append([]run{{string(letters[n:]), first.face}}, word[1:]...)
	return head, rest
}

func drawLines(c Canvas, lines []line, st Style, x, y, w float64, a Align) {
	for i, l := range lines {
		at := x
		switch a {
		case AlignRight:
			at = x + w - l.w
		case AlignCentre:
			at = x + (w-l.w)/2
		}
		base := y + st.Lead*float64(i) + st.baseline()
		for _, r := range l.runs {
			at = setRun(c, at, base, r.face, st.Pt, st, r.text)
		}
	}
}
