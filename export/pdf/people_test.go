package pdf

import (
	"strings"
	"testing"

	"coilward/export/paper"
	"coilward/export/papertest"
	"coilward/model/people"
)

func called() []people.Stored {
	return []people.Stored{
		{Person: people.Person{Name: "Dr. Wren Alder", Roles: []people.Role{people.Vet}, Phones: []string{"01 23 45 (8 to 18)"}, Address: "Mill Lane 3\nOtterby"}},
		{Person: people.Person{Name: "Night line", Roles: []people.Role{people.OutOfHours}, Phones: []string{"0999 1234"}}},
	}
}

// What the card says must be found in the file by another reader.
func TestTheCardIsReadBack(t *testing.T) {
	for _, language := range []string{"en", "de"} {
		text := papertest.Text(t, language)
		file := mustWrite(t, paper.EmergencyCard(papertest.Bramble(t), called(), text))
		papertest.Checked(t, file)
		pages := papertest.PagesOf(t, file)
		if len(pages) != 2 {
			t.Errorf("%s: %d pages, want a front and a back", language, len(pages))
		}
		all := squeezed(strings.Join(pages, ""))
		for _, want := range []string{"Bramble", "M-09", "276 098 102 204 417", "Dr. Wren Alder", "01 23 45", "0999 1234", "Mill Lane 3, Otterby",
			text.Say("paper.card.kicker"), text.Say("finding.pink-belly"), text.Say("paper.card.cautions"), text.Say("paper.card.said")} {
			if !strings.Contains(all, squeezed(want)) {
				t.Errorf("%s: the file does not say %q", language, want)
			}
		}
	}
}

func TestTheCardHoldsWhateverWasTyped(t *testing.T) {
	for name, typed := range papertest.Hostile() {
		t.Run(name, func(t *testing.T) {
			who := called()
			who[0].Name, who[0].Phones, who[0].Address = typed, []string{typed}, typed
			file := mustWrite(t, paper.EmergencyCard(papertest.Typed(t, typed), who, papertest.Text(t, "de")))
			papertest.PagesOf(t, file)
			papertest.Checked(t, file)
		})
	}
}
