package shell_test

import (
	"errors"
	"testing"
	"time"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/ui/place"
	"coilward/ui/uitest"
)

// What was taken back is said by its name, with the way to bring it back, until
// something else is done.
func TestTheBarSaysWhatWasUndone(t *testing.T) {
	b := open(t, uitest.Looks()[0], "en", nil)
	b.OpenCollection("/collections/Old Mill")
	add := func(name string) {
		t.Helper()
		if _, err := b.c.Do(animals.Add{Animal: animals.Animal{Name: name}}); err != nil {
			t.Fatal(err)
		}
	}
	shows := func(part string) bool { return uitest.Shows(b.Window().Canvas().Content(), part) }
	add("Ash")
	add("Brook")
	if shows("Undone") {
		t.Error("something is undone before anything was")
	}
	b.Undo()
	if !shows("Undone: ") || !shows("Brook") || shows("Ash") {
		t.Errorf("%q", uitest.Texts(b.Window().Canvas().Content()))
	}
	uitest.Tap(t, b.Window().Canvas().Content(), "Redo")
	if shows("Undone: ") || !shows("Brook") {
		t.Errorf("after redo: %q", uitest.Texts(b.Window().Canvas().Content()))
	}
	b.Undo()
	b.Undo()
	if !shows("Undone: ") || !shows("Ash") {
		t.Errorf("of two the older: %q", uitest.Texts(b.Window().Canvas().Content()))
	}
	add("Clover")
	if shows("Undone: ") {
		t.Error("it stays after something else was done")
	}
}

// Enter says yes to a question only once it was in sight for a while: who presses
// Enter twice has not read it. Its button works at once.
func TestEnterTwiceIsNoAnswer(t *testing.T) {
	for name, c := range map[string]struct {
		after time.Duration
		tap   bool
		noted bool
	}{
		"at once": {0, false, false}, "after half a second": {500 * time.Millisecond, false, false},
		"after a second": {time.Second, false, true}, "with the clock set back": {-30 * time.Second, false, true}, "by its button": {0, true, true},
	} {
		b := open(t, uitest.Looks()[0], "en", nil)
		b.OpenCollection("/collections/Old Mill")
		change, err := b.c.Do(animals.Add{Animal: animals.Animal{Name: "Ash"}})
		if err != nil {
			t.Fatal(err)
		}
		id := model.AnimalID{ID: change.Documents[0]}
		weigh := func(grams int64) {
			at := model.MomentOf(b.clock.Now())
			b.Do(func(a place.Answer) model.Command {
				return care.Weigh{About: care.About{Animal: id, At: at, Confirmed: a.Confirmed}, Weight: care.Weight{Mass: model.Grams(grams)}}
			}, nil)
		}
		weigh(1500)
		b.clock.Pass(time.Minute)
		weigh(1000)
		if b.Window().Canvas().Overlays().Top() == nil {
			t.Fatalf("%s: a loss of a third is not asked about", name)
		}
		if b.clock.Pass(c.after); c.tap {
			uitest.Tap(t, uitest.Top(b.Window().Canvas()), "Yes, it is so")
		} else {
			uitest.Key(b.Window().Canvas(), fyne.KeyReturn)
		}
		n := 0
		if err := b.c.View(func(v model.View) error {
			return v.Timeline(id.Subject(), model.Beginning, model.EndOfTime, func(d model.Document) bool {
				if d.Kind == care.KindWeight {
					n++
				}
				return true
			})
		}); err != nil {
			t.Fatal(err)
		}
		if noted := n == 2; noted != c.noted {
			t.Errorf("%s: noted %v, want %v", name, noted, c.noted)
		}
	}
}

// harms asks before something that may do harm.
type harms struct{ confirmed model.Confirmed }

func (harms) Name() string { return "harms" }

func (c harms) Plan(model.View) (model.Writes, error) {
	if !c.confirmed.Has("medicine.late") {
		return model.Writes{}, &model.Refusal{Field: "day", Reason: "medicine.late", Answer: model.Deliberate,
			Gaps: map[string]model.Gap{"Number": model.CountGap(2), "Day": model.DayGap(20_000)}}
	}
	return model.Writes{}, errDone
}

var errDone = errors.New("it went through")

// What may do harm is said by its button alone, however long it was in sight.
func TestEnterIsNoAnswerWhereItMayDoHarm(t *testing.T) {
	b := open(t, uitest.Looks()[0], "en", nil)
	b.OpenCollection("/collections/Old Mill")
	var ended error
	b.Do(func(a place.Answer) model.Command { return harms{a.Confirmed} }, func(err error) { ended = err })
	canvas := b.Window().Canvas()
	b.clock.Pass(time.Hour)
	uitest.Key(canvas, fyne.KeyReturn)
	if ended != nil || canvas.Overlays().Top() == nil {
		t.Fatalf("Enter said yes: %v", ended)
	}
	uitest.Tap(t, uitest.Top(canvas), "Yes, it is so")
	if !errors.Is(ended, errDone) {
		t.Errorf("its button ends with %v", ended)
	}
}

// With a numpad alone a question is left by minus, and nothing is noted; one that asks
// for the value again too, where a figure goes into its field.
func TestMinusLeavesAQuestion(t *testing.T) {
	minusLeaves(t, 1000)
	minusLeaves(t, 100)
}

func minusLeaves(t *testing.T, second int64) {
	t.Helper()
	b := open(t, uitest.Looks()[0], "en", nil)
	b.OpenCollection("/collections/Old Mill")
	change, err := b.c.Do(animals.Add{Animal: animals.Animal{Name: "Ash"}})
	if err != nil {
		t.Fatal(err)
	}
	id := model.AnimalID{ID: change.Documents[0]}
	for i, grams := range []int64{1500, second} {
		at := model.MomentOf(b.clock.Now())
		b.Do(func(a place.Answer) model.Command {
			return care.Weigh{About: care.About{Animal: id, At: at, Confirmed: a.Confirmed}, Weight: care.Weight{Mass: model.Grams(grams)}}
		}, nil)
		b.clock.Pass(time.Minute)
		if asked := b.Window().Canvas().Overlays().Top() != nil; asked != (i == 1) {
			t.Fatalf("%d g: asked is %t", grams, asked)
		}
	}
	sequence := func() (n uint64) {
		if err := b.c.View(func(v model.View) error { n = v.Sequence(); return nil }); err != nil {
			t.Fatal(err)
		}
		return n
	}
	before := sequence()
	uitest.Type(b.Window().Canvas(), "5")
	if b.Window().Canvas().Overlays().Top() == nil {
		t.Error("a figure leaves it")
	}
	uitest.Key(b.Window().Canvas(), fyne.KeyBackspace)
	uitest.Type(b.Window().Canvas(), "-")
	if b.Window().Canvas().Overlays().Top() != nil || sequence() != before {
		t.Error("minus does not leave it, or something was noted")
	}
}
