package widgets_test

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"coilward/ui/look"
	"coilward/ui/uitest"
	"coilward/ui/widgets"
)

// Lines break where they would if each were measured as a whole, word by word.
func TestLinesBreakWhereTheyAreFull(t *testing.T) {
	uitest.App(t, uitest.Looks()[0])
	words := []string{"", "a", "i", "AVATAR", "To", "LYV.", "♀", "größer", "als", "Quarantäneprotokoll", "1084", "g,", "蛇", "W", "noch", "nicht"}
	rapid.Check(t, func(t *rapid.T) {
		par := strings.Join(rapid.SliceOfN(rapid.SampledFrom(words), 0, 40).Draw(t, "words"), " ")
		kind := rapid.SampledFrom([]look.Type{look.Body, look.Note, look.Tiny, look.Heading, look.Name}).Draw(t, "kind")
		width := float32(rapid.IntRange(0, 600).Draw(t, "width"))
		var want []string
		line := ""
		for word := range strings.SplitSeq(par, " ") {
			try := word
			if line != "" {
				try = line + " " + word
			}
			if line != "" && width > 0 && kind.Width(try) > width {
				want = append(want, line)
				try = word
			}
			line = try
		}
		if want, got := append(want, line), widgets.BreakLines(par, kind, width); !slices.Equal(got, want) {
			t.Fatalf("%q in %.0f is broken as %q, want %q", par, width, got, want)
		}
	})
}
