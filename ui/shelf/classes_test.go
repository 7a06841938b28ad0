package shelf_test

import (
	"strconv"
	"testing"
	"time"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/collection"
	"coilward/model/husbandry"
	"coilward/model/newcomers"
	"coilward/ui/place"
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

// A box in the room of one that had mites and was sold is shown as near mites (common practice, no
// source).
func TestMitesThatStayedBehindAreShown(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en", func(c *collection.Collection) { room(t, c, "Loft", 1, 3, "Ash", "Brook") })
	near := func() int {
		h.Go(place.Route{To: place.Shelf})
		words := uitest.Texts(h.Content())
		for i, word := range words { // over the boxes it stands without a number
			if word != h.Text().Say("round.class.near-positive") || i == 0 {
				continue
			}
			if n, err := strconv.Atoi(words[i-1]); err == nil {
				return n
			}
		}
		return 0
	}
	if n := near(); n != 0 {
		t.Fatalf("%d are near before: %q", n, uitest.Texts(h.Content()))
	}
	ash := h.Animal("Ash")
	do(t, h.Collection(), care.LookForMites{About: care.About{Animal: ash.ID, At: model.MomentOf(h.Clock.Now())}, MiteLook: care.MiteLook{Grade: care.SeveralMites, Where: []care.MiteWhere{care.OnAnimal}}})
	h.Clock.Pass(24 * time.Hour)
	do(t, h.Collection(), animals.SetStatus{ID: ash.ID, Base: ash.Revision, Status: animals.Sold, Day: model.Date{Day: model.MomentOf(h.Clock.Now()).Day(), Precision: model.ToDay}})
	if n := near(); n != 1 {
		t.Errorf("%d are near, want Brook: %q", n, uitest.Texts(h.Content()))
	}
}
