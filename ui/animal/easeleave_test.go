package animal_test

import (
	"reflect"
	"slices"
	"testing"
	"time"

	"fyne.io/fyne/v2"

	"coilward/ui/look"
	"coilward/ui/uitest"
)

// eases opens each form of the page of ease, with how many of its fields, from the first,
// take numbers or days alone, and how many fields stand before these.
var eases = map[string]struct{ before, strict int }{
	"ease.act.handling": {0, 6},
	"ease.act.change":   {1, 1},
	"ease.act.tally":    {0, 1},
	"ease.act.person":   {0, 1},
	"ease.act.breaths":  {0, 1},
	"ease.act.scans":    {0, 1},
}

// holds is what stands in the field at that place.
func (h *hand) holds(i int) string {
	return reflect.ValueOf(uitest.Entries(h.Content())[i]).Elem().FieldByName("Text").String()
}

// One key throws away no count and no sheet that has begun, though no field was typed into.
func TestEase_EscapeKeepsWhatRuns(t *testing.T) {
	for act, began := range map[string]struct{ keys, said string }{"ease.act.breaths": {"  ", "1 breaths, 0:00"}, "ease.act.scans": {"o", "0:00  Slow exploring"}} {
		h := open(t, "en", small, look.ByDay, one(t))
		h.show("Wren", "ease")
		uitest.Tap(t, h.Content(), h.Text().Say(act))
		h.press(began.keys)
		h.page.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
		if !h.Shows(began.said) || !h.Shows(h.Text().Say("particulars.leave")) {
			t.Errorf("%s: thrown away unsaid: %q", act, uitest.Texts(h.Content()))
		}
		h.page.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
		if h.Shows(began.said) {
			t.Errorf("%s: it cannot be left", act)
		}
		if !h.Shows(h.Text().Say("ease.no-visit-yet")) {
			t.Errorf("%s: what was left is kept", act)
		}
	}
}

// One key throws away nothing that was typed into a form of ease.
func TestEase_EscapeSaysWhatIsNotKept(t *testing.T) {
	for act := range eases {
		h := open(t, "en", small, look.ByDay, one(t))
		h.show("Wren", "ease")
		uitest.Tap(t, h.Content(), h.Text().Say(act))
		h.page.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
		if len(uitest.Entries(h.Content())) != 0 {
			t.Errorf("%s: one that nobody touched is not left", act)
			continue
		}
		uitest.Tap(t, h.Content(), h.Text().Say(act))
		all := uitest.Entries(h.Content())
		h.fill(len(all)-1, "left the bowl")
		for range 2 {
			if len(uitest.Entries(h.Content())) == 0 {
				t.Errorf("%s: what was typed is thrown away unsaid", act)
				break
			}
			h.page.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
			if !h.Shows(h.Text().Say("particulars.leave")) && len(uitest.Entries(h.Content())) != 0 {
				t.Errorf("%s: that it is not kept is not said", act)
			}
		}
		if len(uitest.Entries(h.Content())) != 0 {
			t.Errorf("%s: it cannot be left", act)
		}
	}
}

// Wrong values are said at their fields from the top to the foot, and what was typed stays.
func TestEase_WrongValuesFromTheTop(t *testing.T) {
	for act, fields := range eases {
		h := open(t, "en", small, look.ByDay, one(t))
		h.show("Wren", "ease")
		uitest.Tap(t, h.Content(), h.Text().Say(act))
		all := uitest.Entries(h.Content())
		switch act {
		case "ease.act.tally":
			h.press("7h")
		case "ease.act.scans":
			h.press("o")
		case "ease.act.breaths":
			h.press(" ")
			h.Clock.Pass(20 * time.Second)
			h.press(" 0")
		}
		for i := range fields.before {
			h.fill(i, "a hide more")
		}
		var was []string
		for i := fields.before; i < fields.before+fields.strict; i++ {
			was = append(was, h.holds(i))
			h.fill(i, "x")
		}
		for i := fields.before; i < fields.before+fields.strict; i++ {
			uitest.Tap(t, h.Content(), h.Text().Say("particulars.keep"))
			if got := slices.Index(all, h.Window().Canvas().Focused()); got != i || h.holds(i) != "x" {
				t.Errorf("%s: field %d is wrong, and field %d is refused; there stands %q", act, i, got, h.holds(i))
			}
			h.fill(i, was[i-fields.before])
		}
	}
}
