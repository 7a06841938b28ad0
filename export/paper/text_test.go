package paper

import (
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"pgregory.net/rapid"
)

func TestClean(t *testing.T) {
	for name, c := range map[string]struct{ typed, want string }{
		"plain":               {"Bramble", "Bramble"},
		"letters":             {"Zażółć gęślą jaźń, Größe ß Ö", "Zażółć gęślą jaźń, Größe ß Ö"},
		"signs":               {"♀ ♂ ° → ≥ ≤ ½ €", "♀ ♂ ° → ≥ ≤ ½ €"},
		"two-part letters":    {"u\u0308ber", "über"},
		"emoji":               {"fed 🐍!", "fed □!"},
		"emoji of two":        {"❤\ufe0f ok", "□ ok"},
		"zero":                {"a\x00b", "a□b"},
		"cut UTF-8":           {"Gr\xc3", "Gr□"},
		"marks of runs":       {"\x01bold\x03", "□bold□"},
		"right to left":       {"שלום", "□□□□"},
		"turned text":         {"\u202egpj.exe", "gpj.exe"},
		"line breaks and tab": {"a\tb\nc\u2028d", "a b\nc d"},
	} {
		if got := Clean(c.typed); got != c.want {
			t.Errorf("%s: Clean(%q) = %q, want %q", name, c.typed, got, c.want)
		}
	}
}

func FuzzClean(f *testing.F) {
	for _, s := range []string{"", "a\x00", "\xff\xfe", "🐍", "\u202e", "é\u0301\u0301"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, typed string) {
		clean := Clean(typed)
		if !utf8.ValidString(clean) {
			t.Fatalf("Clean(%q) = %q is not UTF-8", typed, clean)
		}
		for _, r := range clean {
			if r != '\n' && (unicode.IsControl(r) || r > lastSign) {
				t.Fatalf("Clean(%q) keeps %U", typed, r)
			}
		}
		if again := Clean(clean); again != clean {
			t.Fatalf("Clean(Clean(%q)) = %q, want %q", typed, again, clean)
		}
	})
}

func TestEveryLetterOfTheLanguagesIsInEveryFace(t *testing.T) {
	letters := "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789ÄÖÜäöüßẞĄĆĘŁŃÓŚŹŻąćęłńóśźżÆØÅæøåÉÈÊËéèêëÇçñÑ°%–—·…„“”‚‘’«»§±×µ€£½"
	for f := Serif; f <= Italic; f++ {
		for _, r := range letters {
			if face, shown := faceOf(f, r); face != f || shown != r {
				t.Errorf("%s: %q is set in %s as %q", f.Name(), r, face.Name(), shown)
			}
		}
	}
	for _, r := range "♀♂→≥≤" {
		if face, shown := faceOf(Sans, r); face != Signs || shown != r {
			t.Errorf("%q is set in %s as %q, want it from %s", r, face.Name(), shown, Signs.Name())
		}
	}
}

func linesText(lines []line) string {
	var parts []string
	for _, l := range lines {
		var b strings.Builder
		for _, r := range l.runs {
			b.WriteString(r.text)
		}
		parts = append(parts, b.String())
	}
	return strings.Join(parts, "\n")
}

func squeezed(s string) string {
	return strings.Map(func(r rune) rune {
		if r == ' ' || r == '\n' {
			return -1
		}
		return r
	}, s)
}

func TestWrapKeepsEveryLetterAndTheWidth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		typed := rapid.StringOf(rapid.RuneFrom([]rune("aäłm W.-/\n♀□\u00a0"))).Draw(t, "text")
		if rapid.Bool().Draw(t, "strong") {
			typed = Strong(typed) + " " + typed
		}
		width := rapid.Float64Range(-3, 80).Draw(t, "width")
		lines := wrap(textStyle, typed, width)
		if got, want := squeezed(linesText(lines)), squeezed(bare(typed)); got != want {
			t.Fatalf("letters changed: %q, want %q", got, want)
		}
		for _, l := range lines {
			var w float64
			letters := 0
			for _, r := range l.runs {
				w += Width(r.face, textStyle.Pt, r.text)
				letters += len([]rune(strings.TrimRight(r.text, " ")))
			}
			if diff := w - l.w; diff > .001 || diff < -.001 {
				t.Fatalf("a line says it is %.3f mm wide and is %.3f", l.w, w)
			}
			if w > max(width, 4)+1.5 && letters > 1 {
				t.Fatalf("line %q is %.2f mm wide, the column %.2f", linesText([]line{l}), w, width)
			}
		}
	})
}

func TestWrapBreaksAtSpacesOnly(t *testing.T) {
	for width := 16.0; width < 60; width++ {
		got := linesText(wrap(textStyle, "the last weighing was 1,416\u00a0g on 2\u00a0March\u00a02027, at 62 % of it", width))
		for piece := range strings.SplitSeq(got, "\n") {
			if strings.HasSuffix(piece, "1,416") || strings.HasPrefix(piece, "g ") || strings.HasPrefix(piece, "%") {
				t.Errorf("a number stands apart from its unit:\n%s", got)
			}
		}
	}
}

func TestShortenEndsWithinTheWidth(t *testing.T) {
	long := strings.Repeat("Wildwasser", 40)
	for _, width := range []float64{1, 10, 40} {
		got := shorten(tinyStyle, long, width)
		if w := lineWidth(tinyStyle, got); w > max(width, 4.5) || !strings.HasSuffix(got, "…") {
			t.Errorf("shorten to %.0f mm = %q, %.1f mm wide", width, got, w)
		}
	}
}
