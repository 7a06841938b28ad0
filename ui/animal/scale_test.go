package animal_test

import (
	"testing"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/collection"
	"coilward/model/husbandry"
	"coilward/model/storetest"
	"coilward/ui/animal"
	"coilward/ui/look"
	"coilward/ui/uitest"
)

// The only scale is offered, a weight names it, and it is marked once a check
// fails, and no longer once the check is taken back.
func TestAWeightNamesItsScaleAndIsMarkedWhenThatFails(t *testing.T) {
	var scale model.InstrumentID
	h := open(t, "en", small, look.ByDay, func(c *collection.Collection) {
		one(t)(c)
		done, err := c.Do(husbandry.AddInstrument{Instrument: husbandry.Instrument{Name: "Kitchen scale", Kind: husbandry.Scale}})
		if err != nil {
			t.Fatal(err)
		}
		scale = model.InstrumentID{ID: done.Documents[0]}
	})
	h.show("Wren", care.KindWeight)
	h.typed("141")
	uitest.Tap(t, h.Content(), "Keep")
	w, is := h.entries()[0].Body.(care.Weight)
	if !is || w.With != scale {
		t.Fatalf("kept %+v", h.entries()[0])
	}
	if h.Shows("doubtful") {
		t.Error("doubtful without a check that failed")
	}
	if _, err := h.Collection().Do(husbandry.CheckInstrument{Instrument: scale, At: model.MomentOf(storetest.Start()), Check: husbandry.InstrumentCheck{}}); err != nil {
		t.Fatal(err)
	}
	if !h.Shows("doubtful: Kitchen scale failed its check") {
		t.Errorf("among the days: %q", uitest.Texts(h.Content()))
	}
	h.show("Wren", animal.PageWeight)
	if !h.Shows("doubtful: Kitchen scale failed its check") {
		t.Errorf("beside the chart: %q", uitest.Texts(h.Content()))
	}
	h.show("Wren", care.KindWeight)
	if !h.Shows("Kitchen scale failed its last check") {
		t.Errorf("the form does not warn: %q", uitest.Texts(h.Content()))
	}
	h.key(fyne.KeyEscape)
	h.Undo()
	h.show("Wren", animal.PageDays)
	if h.Shows("doubtful") {
		t.Error("still marked, though the check was taken back")
	}
}
