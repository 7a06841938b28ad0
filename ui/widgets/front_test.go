package widgets

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2/test"

	"coilward/ui/look"
)

// A path keeps its end, whole, for as long as that alone fits.
func TestShortenFront(t *testing.T) {
	test.NewTempApp(t)
	const path = "Lock room, Long rack, Shelf B, Box 5: looked at"
	for width := look.Body.Width(path) + 1; width > 30; width -= 3 {
		got := shortenFront(path, look.Body, width)
		if look.Body.Width(got) > width+.5 {
			t.Errorf("%q is wider than %g", got, width)
		}
		if end := strings.TrimLeft(got, "… "); !strings.HasSuffix(path, end) {
			t.Errorf("at %g: %q", width, got)
		}
		if look.Body.Width("… Box 5: looked at") <= width && !strings.HasSuffix(got, "Box 5: looked at") {
			t.Errorf("at %g the box is lost: %q", width, got)
		}
	}
	if got := shortenFront(path, look.Body, look.Body.Width("… Shelf B, Box 5: looked at")+1); got != "… Shelf B, Box 5: looked at" {
		t.Errorf("%q", got)
	}
}
