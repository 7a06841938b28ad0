package care_test

import (
	"testing"
	"time"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/storetest"
)

// A clutch may be noted uncounted; of a male it is asked.
func TestClutch(t *testing.T) {
	c, clock := storetest.New(t)
	add := func(sex animals.Sex) model.AnimalID {
		done, err := c.Do(animals.Add{Animal: animals.Animal{Name: "Wren " + string(sex), Species: "python-regius", Sex: sex, Status: animals.Kept}})
		if err != nil {
			t.Fatal(err)
		}
		return model.AnimalID{ID: done.Documents[0]}
	}
	female, male, unknown := add(animals.Female), add(animals.Male), add("")
	at := model.MomentOf(clock.Now().Add(-time.Hour))
	for name, w := range map[string]struct {
		animal model.AnimalID
		eggs   int
		yes    string
		reason string
	}{
		"counted":                {female, 6, "", ""},
		"uncounted":              {female, 0, "", ""},
		"as many as can be":      {female, care.MostEggs, "", ""},
		"more than any lays":     {female, care.MostEggs + 1, "", "number.range"},
		"fewer than none":        {female, -1, "", "number.range"},
		"of unknown sex":         {unknown, 5, "", ""},
		"stands as male":         {male, 5, "", care.AskMale},
		"stands as male, it did": {male, 5, care.AskMale, ""},
	} {
		command := care.RecordClutch{About: care.About{Animal: w.animal, At: at, Confirmed: model.Confirmed{w.yes}}, Clutch: care.Clutch{Eggs: w.eggs}}
		if _, err := c.Do(command); reason(err) != w.reason || w.reason == "" && err != nil {
			t.Errorf("%s: %v, want %q", name, err, w.reason)
		}
	}
	if _, err := c.Do(care.RecordShed{About: care.About{Animal: male, At: at}, Shed: care.Shed{Skin: care.Whole}}); err != nil {
		t.Errorf("a male sheds: %v", err)
	}
}
