package table

import (
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// texts draws texts that begin with what matters here, more often than chance.
func texts() *rapid.Generator[string] {
	return rapid.Custom(func(t *rapid.T) string {
		begin := rapid.SliceOfN(rapid.SampledFrom(strings.Split("'|=|+|-|@|\t|\r|\n|＝|＋|－|＠| |\u00a0|\u3000|x|\xff", "|")), 0, 5).Draw(t, "begin")
		return strings.Join(begin, "") + rapid.String().Draw(t, "rest")
	})
}

// What goes out neutralised comes in as it was, and is no formula on its way, not
// even in a program that leaves out the spaces before one.
func TestNeutralisedComesBack(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		text := texts().Draw(r, "text")
		cell := neutralised(text)
		if back := restored(cell); back != text {
			r.Fatalf("%q went out as %q and came back as %q", text, cell, back)
		}
		for _, shown := range []string{cell, strings.TrimSpace(cell), strings.TrimLeft(cell, " \u00a0\u3000")} {
			for _, sign := range []string{"=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠"} {
				// spaces around it alone are no formula
				if strings.HasPrefix(shown, sign) {
					r.Fatalf("%q went out as %q, which begins with %q", text, cell, sign)
				}
			}
		}
		row := Row{Cells: []string{cell}}
		if got := row.cell(0); got != text && (cell != text || got != strings.TrimSpace(text)) {
			r.Fatalf("%q is read from its cell as %q", text, got)
		}
	})
}

// Examples of OWASP, "CSV Injection", and of texts that are none.
func TestWhatIsNeutralised(t *testing.T) {
	for text, want := range map[string]string{
		"": "", "Juno": "Juno", "'t was late": "'t was late", "5 - 3": "5 - 3",
		"=1+2": "'=1+2", `=1+2";=1+2`: `'=1+2";=1+2`, "+49 30 1": "'+49 30 1", "-": "'-", "@SUM(A1)": "'@SUM(A1)",
		"\tx": "'\tx", "\rx": "'\rx", "\nx": "'\nx", "＝1": "'＝1", " =1": "' =1", "'=1": "''=1", "' =1": "'' =1",
	} {
		if got := neutralised(text); got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}
