package paper_test

import (
	"bytes"
	"os/exec"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"github.com/pdfcpu/pdfcpu/pkg/api"
	pdfmodel "github.com/pdfcpu/pdfcpu/pkg/pdfcpu/model"

	"coilward/export/paper"
	"coilward/export/papertest"
	"coilward/export/pdf"
	"coilward/model"
	"coilward/model/due"
)

// drawnSign is the word of a sign, which pages draw.
var drawnSign = regexp.MustCompile(`\[[^\]]*\]`)

// wordsOf are the words of four letters and more of a text, in small letters.
func wordsOf(text string) (all []string) {
	for _, word := range strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !unicode.IsLetter(r) }) {
		if utf8.RuneCountInString(word) > 3 {
			all = append(all, word)
		}
	}
	return all
}

// saysWhatItIs holds title, language, bookmarks and what made it of a file, and that it names
// nobody as who wrote it.
func saysWhatItIs(t *testing.T, which string, d paper.Document, file []byte, language string) {
	t.Helper()
	configuration := pdfmodel.NewDefaultConfiguration()
	configuration.Offline = true
	ctx, err := api.ReadValidateAndOptimize(bytes.NewReader(file), configuration)
	if err != nil {
		t.Fatalf("%s, %s: %v", which, language, err)
	}
	if d.Title == "" || ctx.Title != d.Title || !strings.HasPrefix(ctx.Creator, "Coilward") || ctx.Author != "" {
		t.Errorf("%s, %s: title %q, want %q; creator %q, author %q", which, language, ctx.Title, d.Title, ctx.Creator, ctx.Author)
	}
	catalogue, err := ctx.Catalog()
	if err != nil {
		t.Fatalf("%s, %s: %v", which, language, err)
	}
	if said := catalogue.StringEntry("Lang"); said == nil || *said != language {
		t.Errorf("%s: language %v, want %s", which, said, language)
	}
	for _, title := range bytes.SplitAfter(file, []byte("/Title ("))[1:] {
		if !bytes.HasPrefix(title, []byte{0xfe, 0xff}) { // ISO 32000-1, 7.9.2.2
			t.Errorf("%s, %s: a title is no UTF-16: %.40q", which, language, title)
		}
	}
	bookmarks, err := api.Bookmarks(bytes.NewReader(file), configuration)
	if err != nil {
		t.Fatalf("%s, %s: bookmarks: %v", which, language, err)
	}
	var opens, marked []int
	before := 0
	for i := range d.Sections {
		one := d
		one.Sections = d.Sections[i : i+1]
		opens, before = append(opens, before+1), before+len(paper.Layout(one))
	}
	for _, b := range bookmarks {
		marked = append(marked, b.PageFrom)
	}
	if !slices.Equal(marked, opens) || !strings.HasPrefix(bookmarks[0].Title, d.Title) {
		t.Errorf("%s, %s: bookmarks %v, of the pages %v, want them of %v and the first to name the paper", which, language, bookmarks, marked, opens)
	}
}

// promised are words of a promise that no paper makes, by language.
var promised = map[string]*regexp.Regexp{
	"en": regexp.MustCompile(`(?i)\bhealthy\b|\bfit for|free of (dis|mite|par|inf)|\b(mite|disease|parasite)-free\b|guarantee|\bsafe to (sell|buy)`),
	"de": regexp.MustCompile(`(?i)\bgesund(e|es|er|en|em)?\b|verkaufsfähig|zum Verkauf geeignet|frei von|(milben|krankheits|parasiten)frei|garantier`),
}

// Of every paper, in both languages, what its tree says in words is read out of the finished
// file by a second library, and the file is sound. What figures say they say by drawing.
func TestEveryPaperIsReadBack(t *testing.T) {
	k := furnished(t)
	list, err := due.NewBook(k.tables).Bring(t.Context(), k.c, nil)
	if err != nil {
		t.Fatal(err)
	}
	for i, language := range []string{"en", "de", "en", "de"} {
		one, other := paper.A4, paper.Letter
		if i > 1 {
			one, other = other, one
		}
		var papers map[string]paper.Document
		k.view(func(v model.View) error {
			papers = papersOn(t, k, v, list, "1.0.0", papertest.Text(t, language), one, other)
			return nil
		})
		for which, d := range papers {
			var file bytes.Buffer
			if err := pdf.Write(&file, d, k.now().Time()); err != nil {
				t.Fatalf("%s, %s: %v", which, language, err)
			}
			if _, err := exec.LookPath("qpdf"); err != nil {
				t.Log("qpdf is not installed: `go run ./cmd/dev test` installs it")
			} else {
				papertest.Checked(t, file.Bytes())
			}
			saysWhatItIs(t, which, d, file.Bytes(), language)
			pages := strings.Join(papertest.PagesOf(t, file.Bytes()), "\n")
			if found := promised[language].FindString(pages + d.Title + d.Subject); found != "" {
				t.Errorf("%s, %s: the paper says %q", which, language, found)
			}
			read := wordsOf(pages)
			slices.Sort(read)
			if len(read) == 0 {
				t.Errorf("%s, %s: no word is read back", which, language)
			}
			_, said, _ := strings.Cut(paper.Plain(d), "\n\n==") // the title is none of the pages'
			for line := range strings.Lines(said) {
				if strings.HasPrefix(line, "[figure") || strings.HasPrefix(line, " ") {
					continue
				}
				for _, word := range wordsOf(drawnSign.ReplaceAllString(line, "")) {
					if _, there := slices.BinarySearch(read, word); !there {
						t.Errorf("%s, %s: %q of the line %q is not read back", which, language, word, strings.TrimSpace(line))
					}
				}
			}
		}
	}
}
