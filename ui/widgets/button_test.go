package widgets

import (
	"slices"
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

// A chip is as wide on as off, and shows by its tick which it is, also once it is
// pressed.
func TestAChipStaysAsWideAsItIs(t *testing.T) {
	test.NewTempApp(t).Settings().SetTheme(look.NewTheme(look.ByDay))
	for _, icon := range []string{"", "eye"} {
		off, on := Chip(icon, "Serpentovirus", false, nil), Chip(icon, "Serpentovirus", true, nil)
		ticked := func(p *Press) (seen bool) {
			test.WidgetRenderer(p)
			var walk func(o fyne.CanvasObject)
			walk = func(o fyne.CanvasObject) {
				if i, is := o.(*Icon); is && i.Visible() {
					seen = seen || i.name == "tick"
				}
				if c, is := o.(*fyne.Container); is {
					for _, in := range c.Objects {
						walk(in)
					}
				}
			}
			walk(p.content)
			return seen
		}
		if off.MinSize() != on.MinSize() {
			t.Errorf("%q: %v off, %v on", icon, off.MinSize(), on.MinSize())
		}
		if ticked(off) || !ticked(on) {
			t.Errorf("%q: ticked off %t, on %t", icon, ticked(off), ticked(on))
		}
		off.SetOn(true)
		if off.MinSize() != on.MinSize() || !ticked(off) {
			t.Errorf("%q, pressed: %v, ticked %t", icon, off.MinSize(), ticked(off))
		}
	}
}

// A tick turns at each press, and by hand without telling.
func TestATickTurns(t *testing.T) {
	var told []bool
	tick := NewTick(true, "Gorse", "PR-2", func(on bool) { told = append(told, on) })
	shown := func() bool { return tick.mark.Visible() && tick.box.ground.Fill == look.Accent }
	for i, want := range []bool{true, false, true} {
		if tick.On() != want || shown() != want {
			t.Errorf("after %d presses it is %v and shows %v", i, tick.On(), shown())
		}
		tick.Row.Tapped(nil)
	}
	tick.Turn(true)
	if !slices.Equal(told, []bool{false, true, false}) || !tick.On() || !shown() {
		t.Errorf("told %v, is %v, shows %v", told, tick.On(), shown())
	}
}
