package shelfview

import (
	"testing"

	"pgregory.net/rapid"

	"coilward/ui/look"
	"coilward/ui/uitest"
)

// However narrow the box and whatever else hangs from it: what is urgent hangs
// first and keeps its word, nothing that has room for it is left out, and what is
// urgent, late or neither never looks alike.
func TestTags_UrgentKeepsItsWord(t *testing.T) {
	uitest.App(t, uitest.Looks()[0])
	rapid.Check(t, func(t *rapid.T) {
		box := Box{Dwellers: []Dweller{{Name: "Ash"}}}
		urgent := map[Urgency]bool{}
		for _, u := range rapid.SliceOfN(rapid.SampledFrom([]Urgency{EveryDay, EveryDay, ForVet, Emergency}), 1, 5).Draw(t, "due") {
			if u == EveryDay || !urgent[u] {
				urgent[u] = true
				box.Due = append(box.Due, Due{Sign: SignVet, Word: map[Urgency]string{EveryDay: "look again", ForVet: "vet", Emergency: "emergency"}[u], Short: map[Urgency]string{Emergency: "today!"}[u], Urgent: u, Late: rapid.Bool().Draw(t, "late")})
			}
		}
		c := cell{x: 100, w: float32(rapid.IntRange(narrowest, widest).Draw(t, "width"))}
		tags := tagsOf(c, box, line{form: rapid.SampledFrom([]form{roomy, dense}).Draw(t, "form")})
		for i, tag := range tags {
			if i > 0 && tags[i-1].due.Urgent < tag.due.Urgent {
				t.Fatalf("%+v before %+v", tags[i-1], tag)
			}
			if tag.due.Urgent != EveryDay && (tag.word == "" || tag.text+tag.kind().Width(tag.word) > tag.x+tag.w) {
				t.Fatalf("%+v has no word, or one without room", tag)
			}
			if end := tag.x + tag.w; end > c.x+c.w+3 {
				t.Fatalf("%+v ends at %g, the box at %g", tag, end, c.x+c.w)
			}
		}
		if first := tags[0].due.Urgent; (first == Emergency) != urgent[Emergency] {
			t.Fatalf("first hangs %+v", tags[0])
		}
	})
	seen := map[look.Tone]Due{}
	for _, d := range []Due{{}, {Late: true}, {Urgent: ForVet, Late: true}, {Urgent: Emergency, Late: true}, {Done: true}} {
		_, _, ink := tag{due: d}.tones()
		if other, taken := seen[ink]; taken {
			t.Errorf("%+v and %+v are both %s", d, other, ink)
		}
		seen[ink] = d
	}
}
