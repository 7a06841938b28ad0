package paper

import (
	"strings"
	"testing"
	"unicode/utf8"
)

func TestFileName(t *testing.T) {
	for _, c := range []struct{ name, want string }{
		{"Bramble", "Bramble.pdf"}, {"CON", "_CON.pdf"}, {"con.old", "_con.old.pdf"}, {"COM1", "_COM1.pdf"}, {"COM¹", "_COM¹.pdf"}, {"COM10", "COM10.pdf"},
		{"a:b/c\\d", "a_b_c_d.pdf"}, {"dots...", "dots.pdf"}, {"  ", "_.pdf"}, {"", "_.pdf"}, {"..", "_.pdf"}, {"Łąka ♀", "Łąka ♀.pdf"},
		{"\x00a\u202eb", "_a_b.pdf"}, {"NUL ", "_NUL.pdf"}, {"line\nbreak", "line_break.pdf"},
	} {
		if got := FileName(".pdf", c.name); got != c.want {
			t.Errorf("FileName(%q) = %q, want %q", c.name, got, c.want)
		}
	}
}

func FuzzFileName(f *testing.F) {
	for _, s := range []string{"CON.", "a\xff", strings.Repeat("ß", 300), "aux.x"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, name string) {
		got := FileName(".pdf", name)
		base := strings.TrimSuffix(got, ".pdf")
		if !utf8.ValidString(got) || base == "" || len(base) > longestName+1 || reserved(base) ||
			strings.ContainsAny(got, "<>:\"/\\|?*\x00\n") || base != strings.TrimRight(base, " .") {
			t.Fatalf("FileName(%q) = %q", name, got)
		}
	})
}
