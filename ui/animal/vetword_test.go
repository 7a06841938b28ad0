package animal_test

import (
	"testing"

	"coilward/ui/look"
	"coilward/ui/uitest"
)

// A vet's word closes a finding from the list beside the body, and not without a
// word of what the vet said.
func TestBody_AVetCloses(t *testing.T) {
	h := open(t, "en", small, look.ByDay, nil)
	h.show("Juniper", "body")
	uitest.Tap(t, h.Content(), "Firm lump")
	uitest.Tap(t, h.Content(), "A vet has closed this")
	close := func() { uitest.Tap(t, h.Window().Canvas().Overlays().Top(), "Close the finding") }
	close()
	if !uitest.Shows(h.Window().Canvas().Overlays().Top(), "Write what the vet said") {
		t.Errorf("closed without a word, or not refused: %q", uitest.Texts(h.Window().Canvas().Overlays().Top()))
	}
	h.typed("felt it, nothing to do")
	close()
	if !h.Shows("2 gone") {
		t.Errorf("after closing: %q", uitest.Texts(h.Content()))
	}
	h.Undo()
	if !h.Shows("1 gone") {
		t.Error("closing is not undone")
	}
}

// A slight finding is called the animal's own from the list beside the body, and
// taken back there.
func TestBody_ItsOwn(t *testing.T) {
	h := open(t, "en", small, look.ByDay, nil)
	h.show("Bramble", "body")
	uitest.Tap(t, h.Content(), h.Text().Say("finding.scar"))
	uitest.Tap(t, h.Content(), "It is this animal’s own")
	h.typed("since it came")
	uitest.Tap(t, h.Window().Canvas().Overlays().Top(), "Keep it as its own")
	if !h.Shows("It is not this animal’s own") {
		t.Errorf("after keeping: %q", uitest.Texts(h.Content()))
	}
	uitest.Tap(t, h.Content(), "It is not this animal’s own")
	if h.Shows("It is not this animal’s own") || !h.Shows("It is this animal’s own") {
		t.Errorf("taken back: %q", uitest.Texts(h.Content()))
	}
}
