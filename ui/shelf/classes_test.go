package shelf_test

import (
	"strconv"
	"testing"

	"coilward/model"
	"coilward/model/husbandry"
	"coilward/model/newcomers"
	"coilward/ui/uitest"
)

// Who is a newcomer is counted as one in the legend, whatever else rules: the shelf says
// the same number as the list of newcomers.
func TestTheLegendCountsEveryNewcomer(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en", nil)
	var open int
	var rooms []string
	if err := h.Collection().View(func(v model.View) error {
		all, err := newcomers.All(v, h.Tables())
		if err != nil {
			return err
		}
		open = len(all)
		house, err := husbandry.ReadHouse(v)
		if err != nil {
			return err
		}
		for _, p := range house.Places() {
			if p.Parent.IsZero() && p.Closed.IsZero() {
				rooms = append(rooms, p.Name)
			}
		}
		return err
	}); err != nil {
		t.Fatal(err)
	}
	if open < 2 {
		t.Fatalf("only %d newcomers in the sample", open)
	}
	counted := 0
	for _, room := range rooms {
		uitest.Tap(t, h.Content(), room)
		words := uitest.Texts(h.Content())
		for i, word := range words { // over the boxes it stands without a number
			if word != h.Text().Say("round.class.newcomer") || i == 0 {
				continue
			}
			if n, err := strconv.Atoi(words[i-1]); err == nil {
				counted += n
			}
		}
	}
	if counted != open {
		t.Errorf("%d newcomers are counted in %v, %d are listed", counted, rooms, open)
	}
}
