package demo

import (
	"slices"
	"testing"
	"time"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/history"
	"coilward/model/knowledge"
	"coilward/model/weight"
)

// In the story one animal loses a little all the time and is looked at again for it, a
// winter fast raises no alarm, and a clutch breaks the course of the weights.
func TestWeightsOfTheStory(t *testing.T) {
	c, tables := filled(t, time.Date(2027, 1, 20, 9, 0, 0, 0, time.UTC))
	fasting := 0
	err := c.View(func(v model.View) error {
		all, err := animals.All(v)
		if err != nil {
			return err
		}
		today := v.Now().Day()
		for _, a := range all {
			r, err := history.Read(tables, v, a, v.Now())
			if err != nil {
				return err
			}
			loss := r.Loss(tables, today)
			switch a.Name {
			case "Mallow":
				if loss.Level != knowledge.LookAgain || loss.Reason != weight.Slow {
					t.Errorf("Mallow: %v by %v, want a slow loss", loss.Level, loss.Reason)
				}
			case "Bramble":
				if day := today - 380; !slices.Contains(r.Breaks(tables, today), day) {
					t.Errorf("Bramble's weights break at %v, want at %v too", r.Breaks(tables, today), day)
				}
			}
			if fast, fasts := r.Fasting(tables, today); fasts && a.Status.Here() {
				fasting++
				if loss.Level != knowledge.Nothing || len(fast.Days) == 0 {
					t.Errorf("%s, in a winter fast: %v by %v", a.Name, loss.Level, loss.Reason)
				}
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if fasting == 0 {
		t.Error("nobody fasts in January")
	}
}
