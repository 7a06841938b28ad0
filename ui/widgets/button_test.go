package widgets

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"coilward/ui/look"
)

// The words of a button are in a tone that is read on its ground, and so they are
// while it cannot be pressed; pressed again it has its own.
func TestAButtonIsReadInEveryState(t *testing.T) {
	test.NewTempApp(t).Settings().SetTheme(look.NewTheme(look.ByDay))
	reads := map[look.Tone][]look.Tone{ // tones that the test of contrast holds against each other
		look.Well: {look.Ink, look.Soft}, look.Sheet: {look.Ink, look.Soft}, look.Accent: {look.OnAccent}, look.Clear: {look.Accent},
	}
	for rank, own := range map[Rank]look.Tone{Plain: look.Ink, Primary: look.OnAccent, Quiet: look.Accent} {
		b := Button(rank, Act{Label: "Keep", Icon: "tick", Key: "Enter"})
		renderer := test.WidgetRenderer(b)
		tone := func() look.Tone {
			var found *Text
			var walk func(o fyne.CanvasObject)
			walk = func(o fyne.CanvasObject) {
				switch o := o.(type) {
				case *Text:
					found = o
				case *fyne.Container:
					for _, in := range o.Objects {
						walk(in)
					}
				}
			}
			for _, o := range renderer.Objects() {
				walk(o)
			}
			return found.Tone()
		}
		check := func(want look.Tone) {
			t.Helper()
			ground := buttonGround(rank, b.State()).Fill
			readable := false
			for _, r := range reads[ground] {
				readable = readable || r == tone()
			}
			if tone() != want || !readable {
				t.Errorf("rank %d, %+v: words of tone %v on %v, want %v", rank, b.State(), tone(), ground, want)
			}
		}
		check(own)
		b.Disable()
		check(look.Soft)
		b.Enable()
		check(own)
	}
}
