package pdf

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"coilward/export/paper"
	"coilward/export/papertest"
)

// rendered is the first page as a grey picture of 150 dots to the inch, where there is a
// program that draws one; else no picture.
func rendered(t *testing.T, file []byte) string {
	program, err := exec.LookPath("pdftoppm")
	if err != nil {
		t.Log("pdftoppm is not installed: no code is read from a page")
		return ""
	}
	path := filepath.Join(t.TempDir(), "paper")
	if err := os.WriteFile(path+".pdf", file, 0o600); err != nil {
		t.Fatal(err)
	}
	if out, err := exec.Command(program, "-gray", "-png", "-singlefile", "-r", "150", path+".pdf", path).CombinedOutput(); err != nil {
		t.Fatalf("pdftoppm: %v\n%s", err, out)
	}
	return path + ".png"
}

// The key that signed the papers stands on the first page, for people and as a code; without
// one there is no place left empty.
func TestARecordNamesTheKeyThatSignedIt(t *testing.T) {
	f := papertest.Bramble(t)
	for _, language := range []string{"en", "de"} {
		for _, size := range []paper.Size{paper.A4, paper.Letter} {
			f.Seal = paper.Seal{}
			text := papertest.Text(t, language)
			unsigned := papertest.PagesOf(t, mustWrite(t, paper.HealthRecord(f, text, size)))
			f.Seal = paper.Seal{Fingerprint: "12AB 34CD 56EF 7890 ABCD", Code: "COILWARD-KEY:12AB34CD56EF7890ABCD"}
			file := mustWrite(t, paper.HealthRecord(f, text, size))
			signed := papertest.PagesOf(t, file)
			if picture := rendered(t, file); picture != "" && !codesOf(t, picture)[f.Seal.Code] {
				t.Errorf("%s: the code of the key is not read from the grey page", language)
			}
			if first := strings.ReplaceAll(signed[0], "\n", " "); !strings.Contains(first, "7890 ABCD") {
				t.Errorf("%s: the first page does not name the key", language)
			}
			if len(signed) != len(unsigned) || strings.Contains(strings.Join(unsigned, " "), text.Say("paper.seal")[:12]) {
				t.Errorf("%s: %d pages signed, %d unsigned", language, len(signed), len(unsigned))
			}
		}
	}
}
