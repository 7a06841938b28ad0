package instruments_test

import (
	"testing"

	"coilward/model"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/ui/place"
	"coilward/ui/uitest"
)

// A tool that was cleaned with what does not work on what it was to work on is not
// told as if it were clean. Source of the effect: studies of C. parvum oocysts, as
// in the tables.
func TestACleaningInVainIsSaid(t *testing.T) {
	w := open(t, plain(), "en", some(t), place.Route{Page: "tools"})
	clean := func(with knowledge.MeansID) {
		t.Helper()
		w.Clock.Pass(60e9)
		if _, err := w.Collection().Do(husbandry.Clean{Tables: w.Tables(), Tools: []model.ToolID{kit(w).Tools[0].ID}, At: model.MomentOf(w.Clock.Now()),
			Cleaning: husbandry.Cleaning{Extent: husbandry.Full, Uses: []husbandry.Use{{Means: with, Minutes: 10}}, Against: []knowledge.TargetID{"cryptosporidium"}}, Confirmed: model.Confirmed{"clean.does-not"}}); err != nil {
			t.Fatal(err)
		}
	}
	clean("ethanol-70")
	if !w.Shows("does not work on this: Cryptosporidium") {
		t.Errorf("%q", uitest.Texts(w.Content()))
	}
	clean("hydrogen-peroxide-6")
	if w.Shows("does not work") {
		t.Errorf("what works is said not to: %q", uitest.Texts(w.Content()))
	}
}
