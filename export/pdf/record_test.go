package pdf

import (
	"os"
	"path/filepath"
	"testing"

	"coilward/export/paper"
	"coilward/export/papertest"
)

func TestLook(t *testing.T) {
	for _, l := range []string{"en", "de"} {
		for n, s := range map[string]paper.Size{"A4": paper.A4, "Letter": paper.Letter} {
			d := paper.HealthRecord(papertest.Bramble(t), papertest.Text(t, l), s)
			os.WriteFile(filepath.Join("/tmp/paperwork", l+n+".pdf"), mustWrite(t, d), 0o644)
			os.WriteFile(filepath.Join("/tmp/paperwork", l+n+".txt"), []byte(paper.Plain(d)), 0o644)
		}
	}
}
