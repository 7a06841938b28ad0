package pdf

import (
	"bytes"
	"os"
	"os/user"
	"strings"
	"testing"

	"github.com/pdfcpu/pdfcpu/pkg/api"
	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/model"

	"coilward/export/paper"
	"coilward/export/papertest"
)

// A file says its title, its language and which version made it, and nothing of the machine
// or of who sat at it.
func TestAFileSaysWhatItIs(t *testing.T) {
	for _, language := range []string{"en", "de"} {
		for _, size := range []paper.Size{paper.A4, paper.Letter} {
			d := paper.HealthRecord(papertest.Bramble(t), papertest.Text(t, language), size)
			file := mustWrite(t, d)
			configuration := model.NewDefaultConfiguration()
			configuration.Offline = true
			ctx, err := api.ReadValidateAndOptimize(bytes.NewReader(file), configuration)
			if err != nil {
				t.Fatal(err)
			}
			if ctx.Title != d.Title || ctx.Creator != "Coilward 1.0.0" || ctx.Author != "" {
				t.Errorf("%s: title %q, creator %q, author %q", language, ctx.Title, ctx.Creator, ctx.Author)
			}
			catalogue, err := ctx.Catalog()
			if err != nil {
				t.Fatal(err)
			}
			if said := catalogue.StringEntry("Lang"); said == nil || *said != language {
				t.Errorf("language %v, want %s", said, language)
			}
			if outlines, _ := catalogue.Find("Outlines"); outlines == nil {
				t.Errorf("%s: no bookmarks", language)
			}
			words := []string{"/home/", "/tmp/", "Users"}
			if who, err := user.Current(); err == nil && len(who.Username) > 4 {
				words = append(words, who.Username)
			}
			if host, err := os.Hostname(); err == nil && len(host) > 4 {
				words = append(words, host)
			}
			for _, word := range words {
				if strings.Contains(string(file), word) {
					t.Errorf("%s: the file says %q", language, word)
				}
			}
			papertest.Checked(t, file)
		}
	}
}
