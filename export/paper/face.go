package paper

import (
	"io/fs"
	"slices"
	"strings"
	"sync"
	"unicode"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"coilward/assets"
)

// Face is one of the faces a paper is set in.
type Face uint8

// The faces. Signs and SignsBold stand in where a sign such as ♀ is in none of
// the others; the layout chooses them, run by run.
const (
	Serif     Face = iota // speaks: titles, the one sentence
	SerifBold             //
	Sans                  // works: text, tables
	Bold                  //
	Italic                // names of species
	Signs                 //
	SignsBold             //
	faceCount
)

// lastSign is the highest sign that is looked for in a face: letters, marks and
// signs of the languages written in Latin, Greek and Cyrillic.
const lastSign = 0x2FFF

// faceData is one embedded face as it is needed for setting lines.
type faceData struct {
	name     string
	ttf      []byte
	advances [lastSign + 1]uint16 // thousandths of the size; 0: not in the face
}

// faces loads each face once, on first use; it never changes afterwards.
var faces = [faceCount]func() *faceData{
	Serif:     embedded("NotoSerif-Regular"),
	SerifBold: embedded("NotoSerif-Bold"),
	Sans:      embedded("NotoSans-Regular"),
	Bold:      embedded("NotoSans-Bold"),
	Italic:    embedded("NotoSans-Italic"),
	Signs:     sync.OnceValue(func() *faceData { return mustLoad("Go-Regular", goregular.TTF) }),
	SignsBold: sync.OnceValue(func() *faceData { return mustLoad("Go-Bold", gobold.TTF) }),
}

func embedded(name string) func() *faceData {
	return sync.OnceValue(func() *faceData {
		ttf, err := fs.ReadFile(assets.Fonts(), name+".ttf")
		if err != nil {
			panic("paper: the embedded face " + name + " cannot be read: " + err.Error())
		}
		return mustLoad(name, ttf)
	})
}

// mustLoad reads the widths of a face that is part of the program.
func mustLoad(name string, ttf []byte) *faceData {
	parsed, err := sfnt.Parse(ttf)
	if err != nil {
		panic("paper: the embedded face " + name + " cannot be read: " + err.Error())
	}
	f := &faceData{name: name, ttf: ttf}
	var buffer sfnt.Buffer
	em := fixed.Int26_6(parsed.UnitsPerEm())
	for r := rune(0x20); r <= lastSign; r++ {
		glyph, err := parsed.GlyphIndex(&buffer, r)
		if err != nil || glyph == 0 {
			continue
		}
		advance, err := parsed.GlyphAdvance(&buffer, glyph, em<<6, font.HintingNone)
		if err == nil && advance > 0 {
			f.advances[r] = uint16((int(advance>>6)*1000 + int(em)/2) / int(em))
		}
	}
	return f
}

func (f *faceData) has(r rune) bool { return r >= 0 && r <= lastSign && f.advances[r] > 0 }

// Name is the face's name, unique among the faces.
func (f Face) Name() string { return faces[f]().name }

// TrueType is the face's file; it must not be changed.
func (f Face) TrueType() []byte { return faces[f]().ttf }

// bold is the face's heavier sister.
func (f Face) bold() Face {
	if f == Serif || f == SerifBold {
		return SerifBold
	}
	return Bold
}

// signs is the face that stands in for signs f lacks.
func (f Face) signs() Face {
	if f == Bold || f == SerifBold {
		return SignsBold
	}
	return Signs
}

// missing stands where a sign cannot be printed; Unprintable finds such signs.
const missing = '\u25A1'

// tellingMissing is the paper with a last line that says what the box stands for, where a
// sign in it cannot be printed.
func (d Document) tellingMissing(text Text) Document {
	if strings.ContainsFunc(Plain(d), func(r rune) bool { return r == missing || unicode.IsGraphic(r) && !printable(r) }) {
		last := &d.Sections[len(d.Sections)-1]
		note := text.Say("paper.record.unprintable", gaps{"Box": string(missing)})
		last.Blocks = slices.Clone(last.Blocks)
		if end, is := last.Blocks[len(last.Blocks)-1].(Paragraph); is && end.Style == smallStyle {
			last.Blocks[len(last.Blocks)-1] = Paragraph{end.Text + " " + note, smallStyle} // which takes the least room
		} else {
			last.Blocks = append(last.Blocks, Paragraph{note, smallStyle})
		}
	}
	return d
}

// faceOf is the face that prints r beside text in f, and what is printed.
func faceOf(f Face, r rune) (Face, rune) {
	switch {
	case r == '\u202F' || r == '\u2009': // thin spaces
		r = '\u00A0'
	case r == '\t':
		r = ' '
	}
	if faces[f]().has(r) {
		return f, r
	}
	if faces[f.signs()]().has(r) {
		return f.signs(), r
	}
	return f.signs(), missing
}

// Width is how wide s is in a face at a size in points, in millimetres.
func Width(f Face, pt float64, s string) float64 {
	thousandths := 0
	for _, r := range s {
		face, shown := faceOf(f, r)
		thousandths += int(faces[face]().advances[shown])
	}
	return float64(thousandths) * pt * millimetresPerPoint / 1000
}

// setRun writes s on a canvas, run by run of the faces that have its signs, and
// returns where it ends.
func setRun(c Canvas, x, y float64, f Face, pt float64, st Style, s string) float64 {
	var run strings.Builder
	current := f
	flush := func() {
		if run.Len() > 0 {
			c.Text(x, y, current, pt, st.Tone, run.String())
			x += Width(current, pt, run.String())
			run.Reset()
		}
	}
	for _, r := range s {
		face, shown := faceOf(f, r)
		if face != current {
			flush()
			current = face
		}
		run.WriteRune(shown)
	}
	flush()
	return x
}
