package particulars_test

import (
	"testing"

	"fyne.io/fyne/v2"

	"coilward/model/collection"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/place"
	"coilward/ui/uitest"
	"coilward/ui/widgets"
)

// picking is a place that is nothing but a choice.
type picking struct{ pick *particulars.Pick }

func (p *picking) Content() fyne.CanvasObject { return p.pick.Container }
func (p *picking) Show(place.Route)           {}
func (p *picking) Hide()                      {}
func (p *picking) Changed(collection.Change)  {}

// After a choice was made, or left, the keys are on the field that opened it, which
// opens again by Enter.
func TestAPickKeepsTheKeys(t *testing.T) {
	var p *picking
	w := uitest.Open(t, uitest.Setting{Look: uitest.Look{Shine: look.ByDay, Width: 480, Height: 600, Scale: 1}, Language: "en",
		Fill: func(*collection.Collection) {}, Place: place.People, Make: func(w place.Window) place.Place {
			p = &picking{particulars.NewPick(w, "Colour", "None", []string{"red", "green"}, []widgets.Choice{{Label: "Red one"}, {Label: "Green one"}}, "red")}
			return p
		}})
	w.Go(place.Route{To: place.People})
	field := uitest.Press(t, w.Content(), "Colour").(*widgets.Press)
	w.Focus(field)
	for _, c := range []struct {
		keys  []fyne.KeyName
		value string
		shown string
	}{
		{[]fyne.KeyName{fyne.KeyDown, fyne.KeyReturn}, "green", "Green one"},
		{[]fyne.KeyName{fyne.KeyUp, fyne.KeyUp, fyne.KeyReturn}, "", "None"},
		{[]fyne.KeyName{fyne.KeyReturn}, "", "None"},
	} {
		uitest.Key(w.Canvas(), fyne.KeyReturn)
		if uitest.Top(w.Canvas()) == w.Content() {
			t.Fatal("Enter on the field opens no choice")
		}
		for _, k := range c.keys {
			uitest.Key(w.Canvas(), k)
		}
		if p.pick.Value() != c.value || !w.Shows(c.shown) {
			t.Errorf("after %v: %q is chosen, want %q shown as %q", c.keys, p.pick.Value(), c.value, c.shown)
		}
		if w.Canvas().Focused() != fyne.Focusable(field) || uitest.Press(t, w.Content(), "Colour") != fyne.Tappable(field) {
			t.Errorf("after %v the keys are at %T", c.keys, w.Canvas().Focused())
		}
	}
}
