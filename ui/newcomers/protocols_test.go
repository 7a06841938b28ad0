package newcomers_test

import (
	"testing"

	"coilward/model"
	"coilward/model/quarantine"
	"coilward/ui/uitest"
)

func offers(t testing.TB, w *uitest.Opened) (all []quarantine.Offered) {
	t.Helper()
	if err := w.Collection().View(func(v model.View) (err error) { all, err = quarantine.Offers(v, tables(t)); return err }); err != nil {
		t.Fatal(err)
	}
	return all
}

// A protocol that could never be met is refused with why, what was typed stays; a
// change stands beside the table and can be taken back.
func TestAProtocolIsChangedAndTakenBack(t *testing.T) {
	w := open(t, plain(), "en", nobody)
	uitest.Tap(t, w.Content(), "The protocols")
	uitest.Tap(t, w.Content(), "Change") // the first: 30 days
	fields := uitest.Entries(w.Content())
	w.Focus(fields[0])
	uitest.Type(w.Canvas(), "5") // behind the 30
	uitest.Tap(t, w.Content(), "Reptarenavirus")
	uitest.Tap(t, w.Content(), "Keep")
	if !w.Shows("No sample of a living python says anything of Reptarenavirus") || offers(t, w)[0].Changed {
		t.Fatalf("a protocol that can never be met stands: %q", uitest.Texts(w.Content()))
	}
	uitest.Tap(t, w.Content(), "Reptarenavirus")
	uitest.Tap(t, w.Content(), "Keep")
	changed := offers(t, w)[0]
	if !changed.Changed || changed.Days <= 30 || len(changed.For) != 2 {
		t.Fatalf("%+v", changed)
	}
	if !w.Shows("changed by you") {
		t.Error("it is not said that it was changed")
	}
	uitest.Tap(t, w.Content(), "Back to the table")
	if back := offers(t, w)[0]; back.Changed || back.Days != 30 {
		t.Errorf("%+v", back)
	}
}
