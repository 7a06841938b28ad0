package animal_test

import (
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/exam"
	"coilward/ui/animal"
	"coilward/ui/look"
	"coilward/ui/place"
	"coilward/ui/uitest"
)

// Among the days stands what photos show and who said when they were taken; a
// changed caption keeps it; and a press leads to all photos of the animal.
func TestPhotos_TellWhatTheyShow(t *testing.T) {
	h := open(t, "en", fyne.NewSize(1280, 800), look.ByDay, nil)
	bramble := h.Animal("Bramble").ID
	var problem exam.StoredProblem
	if err := h.Collection().View(func(v model.View) error {
		all, err := exam.Problems(v, bramble)
		problem = all[slices.IndexFunc(all, func(p exam.StoredProblem) bool { return p.Open() })]
		return err
	}); err != nil {
		t.Fatal(err)
	}
	shot := care.Shot{Animal: bramble, At: h.Now(), Photo: model.PhotoID(strings.Repeat("0a", 32)), Pose: "vent", Problem: problem.ID, Dated: care.ByCamera}
	if _, err := h.Collection().Do(care.AddPhotos{Tables: h.Tables(), Shots: []care.Shot{shot}}); err != nil {
		t.Fatal(err)
	}
	h.show("Bramble", animal.PageDays)
	want := "Vent · " + h.Text().Say("finding."+string(problem.What)) + " · day by the camera"
	if !h.Shows(want) {
		t.Fatalf("%q is missing: %q", want, uitest.Texts(h.Content()))
	}
	uitest.Tap(t, h.Content(), "1 photo")
	fields := uitest.Entries(h.Content())
	h.Canvas().Focus(fields[len(fields)-1])
	uitest.Type(h.Canvas(), "after the shed")
	uitest.Tap(t, h.Content(), "Keep")
	var kept []care.Posed
	if err := h.Collection().View(func(v model.View) (err error) { kept, err = care.Photos(v, bramble); return err }); err != nil {
		t.Fatal(err)
	}
	if b := kept[0].Body; b.Caption != "after the shed" || b.Pose != "vent" || b.Problem != problem.ID || b.Dated != care.ByCamera {
		t.Errorf("with its caption changed: %+v", b)
	}
	uitest.Tap(t, h.Content(), "Photos")
	if n := len(h.Went); n == 0 || h.Went[n-1] != (place.Route{To: place.Photos, Subject: bramble.ID}) {
		t.Errorf("went %v", h.Went)
	}
}
