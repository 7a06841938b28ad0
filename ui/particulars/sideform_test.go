package particulars_test

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/collection"
	"coilward/model/people"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/place"
	"coilward/ui/uitest"
	"coilward/ui/widgets"
)

// asking is a place that is nothing but a form about a person.
type asking struct {
	form *particulars.SideForm
	done int
	left int
}

func newAsking(w place.Window) *asking {
	a := &asking{form: particulars.NewSideForm(w)}
	private := false
	a.form.Chosen = func() string { return map[bool]string{true: "private"}[private] }
	a.form.Command = func(place.Answer) (model.Command, error) {
		day, err := a.form.Moment("day", model.Moment{})
		if err != nil {
			return nil, err
		}
		return people.Add{Person: people.Person{Name: a.form.Text("person"), Note: day.Day().String(), Private: private}}, nil
	}
	a.form.Done = func() { a.done++ }
	a.form.Build("Who", "Keep it", func() { a.left++ }, a.form.Field("person", "", widgets.FieldOptions{}), a.form.Day("day", "", w.Now().Day()),
		widgets.CheckRow(false, "Private", "", "", func(on bool) { private = on }))
	return a
}

func (a *asking) Content() fyne.CanvasObject { return a.form.Content }
func (a *asking) Show(place.Route)           {}
func (a *asking) Hide()                      {}
func (a *asking) Changed(collection.Change)  {}
func (a *asking) TypedRune(rune)             {}
func (a *asking) TypedKey(k *fyne.KeyEvent)  {}

func openAsking(t *testing.T) (*uitest.Opened, *asking) {
	t.Helper()
	var a *asking
	w := uitest.Open(t, uitest.Setting{Look: uitest.Look{Shine: look.ByDay, Width: 480, Height: 800, Scale: 1}, Language: "en",
		Fill: func(*collection.Collection) {}, Place: place.People, Make: func(w place.Window) place.Place { a = newAsking(w); return a }})
	w.Go(place.Route{To: place.People})
	return w, a
}

func known(w *uitest.Opened) (all []people.Stored) {
	if err := w.Collection().View(func(v model.View) (err error) { all, err = people.All(v); return err }); err != nil {
		w.T.Fatal(err)
	}
	return all
}

// What cannot stand is said at its field, which takes the keys, and what was typed
// stays; once it is put right, Enter keeps it from any line.
func TestAFormSaysAtTheFieldWhatCannotStand(t *testing.T) {
	w, a := openAsking(t)
	w.Focus(a.form.Named("day").Focusable())
	a.form.Named("person").Type("Wren Alder")
	a.form.Named("day").Type("the day after")
	a.form.Keep()
	if said := a.form.Named("day").Refusal(); said == "" {
		t.Error("a day that is none is not refused at its field")
	}
	if w.Canvas().Focused() != a.form.Named("day").Focusable() {
		t.Error("the refused field has not got the keys")
	}
	if got := a.form.Text("person"); got != "Wren Alder" || len(known(w)) != 0 {
		t.Errorf("after the refusal %q stands there, %d kept", got, len(known(w)))
	}
	a.form.Named("day").Type(w.Text().DayShort(w.Now().Day()))
	uitest.Key(w.Canvas(), fyne.KeyReturn)
	if all := known(w); len(all) != 1 || all[0].Name != "Wren Alder" || all[0].Note != w.Now().Day().String() || a.done != 1 {
		t.Errorf("kept %+v, told %d times", all, a.done)
	}
}

// What is refused and belongs to no field stands above all, with the field's name,
// and goes when the form is judged anew.
func TestAFormSaysWhatBelongsToNoField(t *testing.T) {
	w, a := openAsking(t)
	r := &model.Refusal{Field: "address", Reason: "text.empty", Answer: model.Mend}
	a.form.Refuse(r)
	if !uitest.Shows(a.form.Content, w.Text().Refusal(r)) {
		t.Errorf("what belongs to no field is not said: %q", uitest.Texts(a.form.Content))
	}
	a.form.At = func(*model.Refusal) *widgets.Field { return a.form.Named("person") }
	a.form.Whose = func() string { return "Wren" }
	a.form.Refuse(r)
	if said := a.form.Named("person").Refusal(); !strings.HasPrefix(said, "Wren: ") {
		t.Errorf("at the field that another stands for is said %q", said)
	}
	a.form.At, a.form.Whose = nil, nil
	a.form.Named("person").Type("Wren Alder")
	a.form.Keep()
	if uitest.Shows(a.form.Content, w.Text().Refusal(r)) {
		t.Error("what was refused before still stands there")
	}
}

// A form holds what was typed or chosen, and nothing that stood there at first.
func TestAFormHoldsWhatWasTypedOrChosen(t *testing.T) {
	w, a := openAsking(t)
	if a.form.Touched() || a.form.Holds() {
		t.Error("an untouched form holds something")
	}
	a.form.Named("person").Type("  ")
	if a.form.Touched() {
		t.Error("blanks are held")
	}
	a.form.Named("person").Type("Wren")
	w.Focus(nil)
	if !a.form.Holds() || w.Canvas().Focused() != a.form.Named("person").Focusable() {
		t.Error("what was typed is not held, or the keys do not go back to it")
	}
	if !uitest.Shows(a.form.Content, w.Text().Say("particulars.holds")) {
		t.Error("that it is held is not said")
	}
	a.form.Named("person").Type("")
	uitest.Tap(t, a.form.Content, "Private")
	if !a.form.Touched() {
		t.Error("what was chosen is not held")
	}
}

// A field that is left out is neither asked nor held.
func TestAFieldMayBeLeftOut(t *testing.T) {
	_, a := openAsking(t)
	a.form.Named("person").Type("Wren")
	a.form.LeaveOut(func(name string) bool { return name == "person" })
	if a.form.Named("person") != nil || a.form.Text("person") != "" || a.form.First() != a.form.Named("day").Focusable() {
		t.Error("a field that was left out is still there")
	}
}

// One key throws away nothing that was typed or chosen: it is said first, and the same once
// more leaves; what is typed after that is said again. An untouched form is left at once.
func TestAFormIsNotLeftWithWhatItHolds(t *testing.T) {
	w, a := openAsking(t)
	said := w.Text().Say("particulars.leave")
	if a.form.Leave(); a.left != 1 || w.Shows(said) {
		t.Fatal("an untouched form asks")
	}
	a.form.Named("person").Type("Ada")
	if a.form.Leave(); a.left != 1 || !w.Shows(said) || a.form.Text("person") != "Ada" {
		t.Fatalf("left %d times; shows %q", a.left, uitest.Texts(w.Content()))
	}
	a.form.Named("person").Type("Ada Fern")
	if a.form.Leave(); a.left != 1 {
		t.Error("left although more was typed since it was said")
	}
	if a.form.Leave(); a.left != 2 {
		t.Error("it cannot be left")
	}
	uitest.Tap(t, w.Content(), "Private") // chosen, not typed
	if a.form.Leave(); a.left != 2 {
		t.Error("left with what was chosen")
	}
}
