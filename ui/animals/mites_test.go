package animals_test

import (
	"slices"
	"testing"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/collection"
	"coilward/ui/look"
	"coilward/ui/uitest"
)

// Who is watched for mites still, after looks that saw none have ended the finding, stands
// so in the list until the watch is over: 77 days, where it is not known how warm it is.
func TestRoster_SaysWhoIsWatchedForMites(t *testing.T) {
	h := open(t, "en", fyne.NewSize(1280, 800), look.ByDay, func(c *collection.Collection) {
		if _, err := c.Do(animals.Add{Animal: animals.Animal{Name: "Wren"}}); err != nil {
			t.Fatal(err)
		}
	})
	says := func() bool { return slices.Contains(uitest.Texts(h.Content()), "watched for mites") }
	see := func(ago int, g care.MiteGrade) {
		t.Helper()
		at := model.MomentOn(h.Now(), h.Now().Day()-model.Day(ago), model.Noon, model.ToDay)
		if _, err := h.Collection().Do(care.LookForMites{About: care.About{Animal: h.Animal("Wren").ID, At: at}, MiteLook: care.MiteLook{Grade: g, Where: []care.MiteWhere{care.OnAnimal}}}); err != nil {
			t.Fatal(err)
		}
	}
	see(100, care.NoMites)
	if says() {
		t.Error("one in which none were seen is said to be watched")
	}
	see(84, care.OneMite)
	for ago := 77; ago > 7; ago -= 7 {
		see(ago, care.NoMites)
	}
	if !says() {
		t.Errorf("it is not said: %q", uitest.Texts(h.Content()))
	}
	see(7, care.NoMites)
	if says() {
		t.Errorf("the watch is over, and it is said still: %q", uitest.Texts(h.Content()))
	}
}
