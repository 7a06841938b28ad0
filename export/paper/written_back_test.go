package paper_test

import (
	"bytes"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

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

// Of every paper, in both languages, what its tree says in words is read out of the finished
// file by a second library, and the file is sound. What figures say they say by drawing.
func TestEveryPaperIsReadBack(t *testing.T) {
	k := furnished(t)
	list, err := due.NewBook(k.tables).Bring(t.Context(), k.c, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, language := range []string{"en", "de"} {
		var papers map[string]paper.Document
		k.view(func(v model.View) error {
			papers = papersOf(t, k, v, list, "1.0.0", papertest.Text(t, language))
			return nil
		})
		for which, d := range papers {
			var file bytes.Buffer
			if err := pdf.Write(&file, d, k.now().Time()); err != nil {
				t.Fatalf("%s, %s: %v", which, language, err)
			}
			papertest.Checked(t, file.Bytes())
			read := wordsOf(strings.Join(papertest.PagesOf(t, file.Bytes()), "\n"))
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
