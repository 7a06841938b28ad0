package paper_test

import (
	"strings"
	"testing"

	"coilward/export/paper"
	"coilward/export/papertest"
	"coilward/model"
	"coilward/model/care"
	"coilward/model/exam"
	"coilward/model/people"
)

// practices are a vet and a number for the night, and one who is private.
func practices() []people.Stored {
	stored := func(n byte, p people.Person) people.Stored {
		return people.Stored{ID: model.PersonID{ID: model.ID{15: n}}, Person: p}
	}
	return []people.Stored{
		stored(1, people.Person{Name: "Night line", Roles: []people.Role{people.OutOfHours}, Phones: []string{"0999 1234", "0999 1235 (second line)"}}),
		stored(2, people.Person{Name: "Dr. Wren Alder", Roles: []people.Role{people.Vet, people.Lab}, Phones: []string{"01 23 45 (Mon to Fri, 8 to 18)"}, Address: "Mill Lane 3\nOtterby", Note: "owes me a box"}),
		stored(3, people.Person{Name: "Ash", Roles: []people.Role{people.Hand}, Phones: []string{"0777 4321"}, Private: true}),
		stored(4, people.Person{Name: "Buyer", Roles: []people.Role{people.Buyer}, Phones: []string{"0666"}}),
	}
}

func TestWhoIsCalled(t *testing.T) {
	names := func(all []people.Stored) (n []string) {
		for _, p := range all {
			n = append(n, p.Name)
		}
		return n
	}
	if got := strings.Join(names(paper.Callable(practices(), paper.SitterRoles())), ", "); got != "Dr. Wren Alder, Night line, Ash" {
		t.Errorf("called are %s", got)
	}
	if got := strings.Join(names(paper.Open(paper.Callable(practices(), paper.SitterRoles()))), ", "); got != "Dr. Wren Alder, Night line" {
		t.Errorf("without the private: %s", got)
	}
}

func TestTheCardSaysWhomToCallAndWhatIsKnown(t *testing.T) {
	f := papertest.Bramble(t)
	plain := paper.Plain(paper.EmergencyCard(f, paper.Callable(practices(), paper.CardRoles()), papertest.Keys{}))
	for _, want := range []string{"Bramble", "Dr. Wren Alder", "\n01 23 45\n(Mon to Fri, 8 to 18)\n", "0999 1235", "Mill Lane 3, Otterby", "People.role.out-of-hours",
		"paper.card.own{Day=2026-10-14 Finding=finding.scar", "finding.pink-belly", "Level=urgency.vet-within-days", "paper.card.entries{", "paper.card.cautions-text",
		"paper.card.shed: 2027-02-23", "<common practice, no source>"} {
		if !strings.Contains(plain, want) {
			t.Errorf("the card does not say %q:\n%s", want, plain)
		}
	}
	for _, not := range []string{"owes me", "paper.call.nobody", "finding.mites"} {
		if strings.Contains(plain, not) {
			t.Errorf("the card says %q", not)
		}
	}
}

// A card without anybody to call has lines to write on, and says nothing of what
// is not noted.
func TestACardOfNothing(t *testing.T) {
	f := papertest.Bramble(t)
	f.Problems, f.Checks, f.Meals, f.Sheds, f.Waste = nil, nil, nil, nil, nil
	f.Meals = []paper.Dated[care.Meal]{{At: f.Issued, Body: care.Meal{Outcome: care.Refused}}}
	f.Weights = nil
	plain := paper.Plain(paper.EmergencyCard(f, nil, papertest.Keys{}))
	if !strings.Contains(plain, "paper.card.nothing") {
		t.Errorf("it is not said that nothing is known:\n%s", plain)
	}
	if n := strings.Count(plain, "paper.call.nobody"); n != 2 {
		t.Errorf("%d lines to write on, want one for the vet and one for out of hours", n)
	}
	if n := strings.Count(plain, "paper.card.not-noted"); n != 4 {
		t.Errorf("%d of four are not noted:\n%s", n, plain)
	}
}

// The card names no dose and no medicine, and gives no verdict.
func TestTheCardProposesNothing(t *testing.T) {
	for language, words := range map[string][]string{
		"en": {"healthy", "free of", " mg", " ml", "dose", "antibiotic", "guarantee"},
		"de": {"gesund,", "ist gesund", "frei von", " mg", " ml", "dosis", "antibiotik", "garantiert"},
	} {
		plain := strings.ToLower(paper.Plain(paper.EmergencyCard(papertest.Bramble(t), practices()[:2], papertest.Text(t, language))))
		for _, w := range words {
			if strings.Contains(plain, w) {
				t.Errorf("%s: the card says %q", language, w)
			}
		}
	}
}

func TestTheCardHasAFrontAndABack(t *testing.T) {
	for _, language := range []string{"en", "de"} {
		for name, called := range map[string][]people.Stored{"nobody": nil, "two": practices()[:2]} {
			d := paper.EmergencyCard(papertest.Bramble(t), called, papertest.Text(t, language))
			if pages := paper.Layout(d); len(pages) != 2 || pages[0].Section == pages[1].Section {
				t.Errorf("%s, %s: %d pages", language, name, len(pages))
			}
			if plain := paper.Plain(d); strings.ContainsAny(plain, "⟦□") {
				t.Errorf("a text is missing or cannot be printed: %s", lineWith(plain, "⟦□"))
			}
		}
	}
}

// Whatever was typed of a person is laid out.
func TestTheCardHoldsWhateverWasTyped(t *testing.T) {
	for name, typed := range papertest.Hostile() {
		called := []people.Stored{{Person: people.Person{Name: typed, Roles: []people.Role{people.Vet}, Phones: []string{typed}, Address: typed}}}
		if pages := paper.Layout(paper.EmergencyCard(papertest.Typed(t, typed), called, papertest.Text(t, "de"))); len(pages) == 0 {
			t.Errorf("%s: no page", name)
		}
	}
}

// Who is private is not named by a record, even of what that person wrote.
func TestWhoIsPrivateStandsOnNoRecord(t *testing.T) {
	k := keep(t)
	k.do(care.WriteNote{About: k.about(), Note: care.Note{Text: "drank"}})
	if f := k.facts(); f.Notes[0].By != "Mira" {
		t.Fatalf("by %q", f.Notes[0].By)
	}
	k.do(people.Change{ID: k.by, Base: 1, Person: people.Person{Name: "Mira", Private: true}})
	if f := k.facts(); f.Notes[0].By != "" {
		t.Errorf("the record names %q, who is private", f.Notes[0].By)
	}
}

// What went by the keeper's word alone still stands on the card, until a vet has
// closed it.
func TestTheCardNamesWhatWentWithoutAVetsWord(t *testing.T) {
	f := papertest.Bramble(t)
	gone := -1
	for i := range f.Problems {
		if f.Problems[i].What == "bleeding" {
			gone = i
		}
	}
	if gone < 0 {
		t.Fatal("nothing bled")
	}
	last := &f.Problems[gone].Glimpses[len(f.Problems[gone].Glimpses)-1]
	f.Issued.UTC = last.At.UTC + 24*60*60
	named := func() bool {
		return strings.Contains(paper.Plain(paper.EmergencyCard(f, nil, papertest.Keys{})), "paper.gone.no-word")
	}
	if !named() {
		t.Errorf("it is not named:\n%s", paper.Plain(paper.EmergencyCard(f, nil, papertest.Keys{})))
	}
	last.Standing = exam.Closed
	if named() {
		t.Error("what a vet has closed is named")
	}
}

// A young animal that keeps no meal, and mites that were seen and not looked for
// since, stand on the card as on every page.
func TestTheCardKnowsWhatThePagesKnow(t *testing.T) {
	f := papertest.Bramble(t)
	f.Checks, f.Problems, f.Sheds, f.Waste, f.Meals, f.Weights = nil, nil, nil, nil, nil, nil
	f.Animal.Hatched = model.Date{Day: f.Issued.Day() - 60, Precision: model.ToDay}
	f.MiteLooks = f.MiteLooks[:1]
	f.MiteLooks[0].At = f.Issued
	text := papertest.Text(t, "en")
	for begun, unfed := range map[model.Day]bool{f.Issued.Day() - 40: true, f.Issued.Day() - 5: false, 0: false} {
		f.Begun = begun
		plain := paper.Plain(paper.EmergencyCard(f, nil, text))
		if strings.Contains(plain, "no meal is in the records") != unfed {
			t.Errorf("since day %d, unfed %v: %s", begun, unfed, plain)
		}
		if !strings.Contains(plain, text.Say("finding.mites")) {
			t.Errorf("mites seen today are not named: %s", plain)
		}
	}
}

// Blood in faeces that did not show again went without a vet's word: card and
// record say so as the pages do.
func TestTheCardNamesWhatWentOfTheDays(t *testing.T) {
	f := papertest.Bramble(t)
	f.Checks, f.Problems, f.Sheds, f.MiteLooks = nil, nil, nil, nil
	waste := func(ago int64, traits ...care.Trait) paper.Dated[care.Waste] {
		return paper.Dated[care.Waste]{At: model.Moment{UTC: f.Issued.UTC - ago*86400}, Body: care.Waste{Faeces: traits, Urates: []care.Trait{care.White}}}
	}
	text := papertest.Text(t, "en")
	for ago, said := range map[int64]bool{8: true, 40: false} {
		f.Waste = []paper.Dated[care.Waste]{waste(ago, care.Blood), waste(4, care.Formed), waste(1, care.Formed)}
		want := text.Say("paper.sentence.gone", map[string]any{"Finding": text.Say("finding.waste-blood"), "Day": f.Issued.Day() - 1})
		for name, plain := range map[string]string{"card": paper.Plain(paper.EmergencyCard(f, nil, text)), "record": paper.Plain(paper.HealthRecord(f, text, paper.A4))} {
			if strings.Contains(plain, want) != said {
				t.Errorf("the %s of blood %d days ago, said: %v\n%s", name, ago, said, plain)
			}
		}
	}
}
