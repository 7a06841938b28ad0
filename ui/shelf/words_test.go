package shelf

import (
	"testing"

	"coilward/assets"
	"coilward/model/due"
	"coilward/model/knowledge"
	"coilward/model/wording"
	"coilward/ui/look"
	"coilward/ui/uitest"
	"coilward/ui/widgets/shelfview"
)

// What is for the vet, and an emergency, is told as what it is, before what is late;
// the word of each fits below the narrowest box in every language.
func TestWordsOfWhatIsUrgent(t *testing.T) {
	uitest.App(t, uitest.Looks()[0])
	languages, err := wording.Load(assets.Text())
	if err != nil {
		t.Fatal(err)
	}
	for _, language := range []string{"en", "de"} {
		w := words{text: languages.In(language, wording.Units{})}
		item := func(j due.Job, l knowledge.Level, s due.State) due.Item {
			return due.Item{Obligation: due.Obligation{Key: due.Key{Job: j}, Level: l}, State: s}
		}
		all := w.due([]due.Item{item(due.Check, knowledge.Nothing, due.Late), item(due.SeeVet, knowledge.VetWithinDays, due.Alert), item(due.SeeVet, knowledge.EmergencyToday, due.Alert)})
		for i, want := range []shelfview.Urgency{shelfview.EveryDay, shelfview.ForVet, shelfview.Emergency} {
			if d := all[i]; d.Urgent != want || (want != shelfview.EveryDay) != (d.Short != "") {
				t.Errorf("%s: %+v, want urgency %d", language, d, want)
			}
			const narrowest, around = 60, 10
			if width := look.NoteBold.Width(all[i].Short); width > narrowest-around {
				t.Errorf("%s: %q is %g wide", language, all[i].Short, width)
			}
		}
	}
}

// Whatever is due has a sign of its own and a short word in every language.
func TestEveryJobHasItsSign(t *testing.T) {
	languages, err := wording.Load(assets.Text())
	if err != nil {
		t.Fatal(err)
	}
	of := map[shelfview.Sign]due.Job{}
	for _, j := range due.Jobs() {
		sign := signOf(j)
		if other, taken := of[sign]; taken || sign == shelfview.SignOther {
			t.Errorf("%s has the sign of %q", j, other)
		}
		of[sign] = j
		for _, language := range []string{"en", "de"} {
			if !languages.In(language, wording.Units{}).Has("shelf.due." + string(j)) {
				t.Errorf("%s: no short word for %s", language, j)
			}
		}
	}
}
