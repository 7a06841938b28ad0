package plan_test

import (
	"reflect"
	"slices"
	"testing"

	"fyne.io/fyne/v2"

	"coilward/ui/place"
	"coilward/ui/uitest"
)

// Escape leads back and throws away nothing that was typed; wrong values are told from the
// top to the foot.
func TestEscapeKeepsWhatIsTyped(t *testing.T) {
	w := open(t, "en")
	uitest.Tap(t, w.Content(), "Gorse")
	wrong := []int{target, latest, rounds, apart, largest, test, swab, budget}
	for _, i := range wrong {
		typeInto(w, i, "x")
	}
	uitest.Key(w.Canvas(), fyne.KeyEscape)
	w.Go(place.Route{To: place.Plan})
	good := map[int]string{target: "1", rounds: "4", apart: "42", largest: "5", test: "30", swab: "3"}
	for _, i := range wrong {
		fields := uitest.Entries(w.Content())
		if got := stands(fields[i]); got != "x" {
			t.Errorf("in field %d stands %q", i, got)
		}
		uitest.Tap(t, w.Content(), "Work it out")
		if got := slices.Index(uitest.Entries(w.Content()), w.Canvas().Focused()); got != i {
			t.Errorf("field %d is wrong, and field %d is refused", i, got)
		}
		typeInto(w, i, good[i])
	}
}

func stands(field fyne.Focusable) string {
	return reflect.ValueOf(field).Elem().FieldByName("Text").String()
}
