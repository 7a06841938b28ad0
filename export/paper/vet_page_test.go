package paper_test

import (
	"strings"
	"testing"

	"coilward/export/paper"
	"coilward/export/papertest"
)

// The page for a vet is one page, whatever stands in the records, and says what is open,
// what is asked and what cannot be told.
func TestThePageForAVetIsOnePage(t *testing.T) {
	all := map[string]paper.Facts{"ordinary": papertest.Bramble(t)}
	for name, typed := range papertest.Hostile() {
		all[name] = papertest.Typed(t, typed)
	}
	for name, f := range all {
		for _, size := range []paper.Size{paper.A4, paper.Letter} {
			d := paper.VetPage(f, papertest.Keys{}, size)
			if n := len(paper.Layout(d)); n != 1 {
				t.Errorf("%s: %d pages", name, n)
			}
		}
	}
	plain := paper.Plain(paper.VetPage(papertest.Bramble(t), papertest.Keys{}, paper.A4))
	for _, want := range []string{"Bramble", "paper.vet.questions", "paper.vet.ask-finding{", "paper.vet.checked", "paper.unknown", "paper.vet.caution", "paper.vet.meals", "paper.weights"} {
		if !strings.Contains(plain, want) {
			t.Errorf("it does not say %q:\n%s", want, plain)
		}
	}
}
