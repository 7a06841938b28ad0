package tray_test

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"coilward/model/samples"
	"coilward/ui/uitest"
)

// said counts the texts below the head of the effects that contain some words.
func (a *acts) said(words string) (n int) {
	_, below, _ := strings.Cut(strings.Join(uitest.Texts(a.Content()), "\n"), "What these results make of the chance, as of today")
	all := strings.Split(below, "\n")
	for i, text := range all {
		if strings.Contains(text, words) && (i == 0 || !strings.HasPrefix(all[i-1], text)) { // a text is there once more as its lines are drawn
			n++
		}
	}
	return n
}

// As outcomes are entered, each animal's chance stands below the sheet before and after,
// with what follows; what cannot speak says why, and has no figure. The figures are those
// of the tables: 5 to 40 in 100 before any sample; the swab was taken on the day of arrival.
func TestTheSheetSaysWhatAnswersMakeOfTheChance(t *testing.T) {
	a := posted(t, "Serpentovirus", "Reptarenavirus")
	a.later(2)
	a.key(fyne.KeyReturn)
	a.tap("Arrived")
	a.key(fyne.KeyReturn)
	a.key(fyne.KeyReturn)
	if a.said(" → ") != 0 || a.Shows("What these results make of the chance, as of today") {
		t.Errorf("before anything is entered: %q", uitest.Texts(a.Content()))
	}
	a.typed("2")
	if a.said("5 to 40 in 100 → ") != 1 || a.said("Yarrow, Serpentovirus") != 1 || a.said("says little: so early") != 1 || a.said("The next sample is worth taking from") != 1 {
		t.Errorf("after one: %q", uitest.Texts(a.Content()))
	}
	a.typed("2")
	if a.said(" → ") != 1 || a.said("No figure is worked out for Reptarenavirus") != 1 || a.said("A number would promise") != 1 {
		t.Errorf("of what cannot speak: %q", uitest.Texts(a.Content()))
	}
	a.typed("1")
	if a.said(" → ") != 2 || a.said("It was detected: call your vet") != 1 {
		t.Errorf("after one that was detected: %q", uitest.Texts(a.Content()))
	}
	a.typed("3")
	if a.said(" → ") != 2 || a.said("Reptarenavirus:") != 0 {
		t.Errorf("what is inconclusive has an effect: %q", uitest.Texts(a.Content()))
	}
	keep(a.Opened, "effects")
	for _, s := range all(a.Opened).Samples {
		if s.Outcome("serpentovirus") != samples.Pending {
			t.Fatal("it is kept before anybody said so")
		}
	}
}

// Where a result is put right, what that makes of the chance stands beside the choice.
func TestPuttingRightSaysWhatItMakesOfTheChance(t *testing.T) {
	a := posted(t, "Serpentovirus")
	a.later(2)
	a.key(fyne.KeyReturn)
	a.tap("Arrived")
	a.key(fyne.KeyReturn)
	a.key(fyne.KeyReturn)
	a.typed("22222222")
	a.typed("0")
	a.tap("Keep the results")
	tubesOf(a.Opened).Open(all(a.Opened).Samples[0].ID.String())
	if len(tubesOf(a.Opened).Together()) > 1 {
		a.tap("Yarrow")
	}
	a.tap("Put the result right")
	if a.said(" → ") != 0 {
		t.Errorf("before it is chosen: %q", uitest.Texts(a.Content()))
	}
	a.tap("detected")
	if a.said(" → ") != 1 || a.said("call your vet") != 1 {
		t.Errorf("after it is chosen: %q", uitest.Texts(a.Content()))
	}
	a.tap("inconclusive")
	if a.said(" → ") != 0 {
		t.Errorf("what is inconclusive has an effect: %q", uitest.Texts(a.Content()))
	}
}
