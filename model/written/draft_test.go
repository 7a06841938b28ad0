package written_test

import (
	"encoding/json"
	"reflect"
	"slices"
	"testing"

	"coilward/model"
	"coilward/model/exam"
	"coilward/model/written"
)

// taken is a draft after lines, each of which is taken.
func taken(t *testing.T, d written.Draft, lines ...string) written.Draft {
	t.Helper()
	for _, line := range lines {
		next, err := d.Take(tables(t), words(t, "en"), line)
		if err != nil {
			t.Fatalf("%q: %v", line, err)
		}
		d = next
	}
	return d
}

// A draft is read back as it was written, with what was typed; that of a check by the window
// has nothing typed.
func TestADraftIsReadBack(t *testing.T) {
	begun := begun(t, tables(t))
	d := taken(t, written.Draft{Draft: begun, Typed: written.Typed{Uncoded: true, By: model.PersonID{ID: model.ID{7}}, Mass: "1085"}}, "15 3 62l", written.AllFine)
	for _, c := range []struct {
		draft any
		want  written.Typed
	}{{d, d.Typed}, {begun, written.Typed{}}} {
		raw, err := json.Marshal(c.draft)
		if err != nil {
			t.Fatal(err)
		}
		got, err := written.ReadDraft(raw)
		if err != nil || !reflect.DeepEqual(got.Typed, c.want) || got.Check != begun.Check {
			t.Errorf("%+v, %v, want %+v", got.Typed, err, c.want)
		}
	}
	if _, err := written.ReadDraft([]byte(`{"typed":{}}`)); err == nil {
		t.Error("a draft of no animal is read")
	}
	if raw, err := exam.ReadDraft([]byte(`{"form":99}`)); err == nil {
		t.Errorf("of a newer form: %+v", raw)
	}
}

// A line that is not taken changes nothing; one that is taken leaves the draft before as it was.
func TestTakeALine(t *testing.T) {
	before := taken(t, written.Draft{Draft: begun(t, tables(t))}, "15 3 62l")
	if d, err := before.Take(tables(t), words(t, "en"), "15 wings"); err == nil || !reflect.DeepEqual(d, before) {
		t.Errorf("%v, %+v", err, d.Typed)
	}
	a, b := taken(t, before, "8 ."), taken(t, before, "8 =")
	if got := [][]string{before.Typed.Lines, a.Typed.Lines, b.Typed.Lines}; !reflect.DeepEqual(got, [][]string{{"15 3 62l"}, {"15 3 62l", "8 ."}, {"15 3 62l", "8 ="}}) {
		t.Errorf("lines %q", got)
	}
	if a.At("mouth").Look != exam.LeftToVet || b.At("mouth").Look != exam.Seen || before.At("mouth").Look != exam.NotYet {
		t.Errorf("mouth: %q, %q, before %q", a.At("mouth").Look, b.At("mouth").Look, before.At("mouth").Look)
	}
}

// The lines taken anew onto the beginning come to the same, in their order, and photos stay;
// without the last line it is taken back, and a line that fits no more is told.
func TestLinesTakenAnew(t *testing.T) {
	tb, w := tables(t), words(t, "en")
	begun := begun(t, tb)
	lines := []string{"15 3 62l", "16 same", written.AllFine, "8 .", "16 worse"}
	d := taken(t, written.Draft{Draft: begun, Typed: written.Typed{Mass: "1085"}}, lines...)
	f := d.Findings[0]
	f.Photos = []model.PhotoID{"a"}
	d.Draft = d.ChangeFinding(0, f)

	again, lost := d.Onto(tb, w, begun)
	if len(lost) > 0 || !reflect.DeepEqual(again.Walk, d.Walk) || !reflect.DeepEqual(again.Typed, d.Typed) {
		t.Errorf("lost %q; %+v, want %+v", lost, again, d)
	}
	shorter := d
	shorter.Typed.Lines = lines[:4]
	if again, _ := shorter.Onto(tb, w, begun); again.Earlier[2].Now.Standing != exam.Unasked || again.At("mouth").Look != exam.LeftToVet || again.Typed.Mass != "1085" {
		t.Errorf("without the last line: %+v", again.Earlier[2].Now)
	}
	fresh := exam.Begin(tb, exam.Beginning{Check: begun.Check, Animal: begun.Animal, At: noon}) // nothing was open then
	again, lost = d.Onto(tb, w, fresh)
	if want := []string{"16 same", "16 worse"}; !slices.Equal(lost, want) || !slices.Equal(again.Typed.Lines, []string{"15 3 62l", written.AllFine, "8 ."}) {
		t.Errorf("lost %q, want %q; kept %q", lost, want, again.Typed.Lines)
	}
}
