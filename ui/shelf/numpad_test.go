package shelf_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"coilward/model/care"
	"coilward/model/collection"
	"coilward/ui/look"
	"coilward/ui/uitest"
	"coilward/ui/widgets"
)

// pad presses keys that stand on a numpad, '\n' for its own Enter, and fails on others.
func (h *hand) pad(keys string) {
	h.T.Helper()
	for _, k := range keys {
		switch {
		case k == '\n':
			h.key(fyne.KeyEnter)
		case strings.ContainsRune("0123456789.,-+*/", k):
			h.press(string(k))
		default:
			h.T.Fatalf("%q is on no numpad", k)
		}
	}
}

// Each job is walked, gone back in, and ended with the keys of a numpad alone, and most
// are begun so.
func TestJobsByTheNumpadAlone(t *testing.T) {
	for job, c := range map[string]struct {
		keys  string
		count [2]int // entries of the two animals
	}{
		"feed":  {"1\n" + "1" + "-" + "2" + "1" + "\n", [2]int{1, 1}}, // took, no: refused
		"weigh": {"2" + "1432\n" + "85\n" + "\n", [2]int{1, 1}},
		"skip":  {"2" + "/" + "85\n" + "\n", [2]int{0, 1}},
		"mites": {"3" + "12" + "2" + "\n" + "0" + "2" + "\n", [2]int{1, 1}}, // in the first place, in the second and not after all
	} {
		h := open(t, uitest.Looks()[0], "en", func(c *collection.Collection) { room(t, c, "Loft", 1, 2, "Juniper", "Brook") })
		h.pad(c.keys)
		for i, name := range []string{"Juniper", "Brook"} {
			if n := len(h.entries(name)); n != c.count[i] {
				t.Errorf("%s: %s has %d entries, want %d; shown %q", job, name, n, c.count[i], uitest.Texts(h.top()))
			}
		}
		if job == "mites" && !slices.Equal(h.entries("Juniper")[0].(care.MiteLook).Where, care.MiteWheres()[:1]) {
			t.Errorf("%s: looked for them at %v", job, h.entries("Juniper")[0])
		}
		if job == "feed" && h.entries("Juniper")[0].(care.Meal).Outcome != care.Refused {
			t.Errorf("%s: going back put nothing right: %+v", job, h.entries("Juniper"))
		}
		if h.pad("2"); !h.Shows("Weigh") || !h.Shows("Juniper") {
			t.Errorf("%s: after its end no other job begins: %q", job, uitest.Texts(h.top()))
		}
	}
}

// Who it is and what was typed is read from a metre and a half: capitals there have at
// least 16 minutes of arc. Source of the minutes: from memory, ISO 9241-303. The unit of
// the screen is the 96th part of an inch; capitals have seven tenths of the size.
func TestAWalkIsReadFromAMetreAndAHalf(t *testing.T) {
	const metre, least = 1000.0, 16.0 / 60
	arc := func(size float32) float64 {
		return 2 * math.Atan(float64(size)*.7*25.4/96/2/(1.5*metre)) * 180 / math.Pi
	}
	if a := arc(look.FarCount.Size); a < least {
		t.Fatalf("the smallest step that counts as read has %.1f minutes", a*60)
	}
	h := open(t, uitest.Look{Shine: look.ByDay, Width: 1280, Height: 800, Scale: 1}, "en", func(c *collection.Collection) { room(t, c, "Loft", 4, 15, many(60)...) })
	h.pad("21432")
	far := map[string]bool{}
	uitest.Walk(h.Content(), func(s uitest.Seen) bool {
		if text, is := s.Object.(*widgets.Text); is && text.HeightFor(h.Canvas().Size().Width) >= look.FarCount.Line {
			far[text.Text()] = true
		}
		return true
	})
	for _, want := range []string{many(1)[0], "1432"} {
		if !far[want] {
			t.Errorf("%q does not stand large; large are %v", want, far)
		}
	}
}
