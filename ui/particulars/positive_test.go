package particulars_test

import (
	"fmt"
	"testing"

	"coilward/assets"
	"coilward/model"
	"coilward/model/collection"
	"coilward/model/knowledge"
	"coilward/model/storetest"
	"coilward/model/wording"
	"coilward/ui/particulars"
	"coilward/ui/place"
)

// refusing is a window whose every command ends with the same error.
type refusing struct {
	place.Window
	text     *wording.Text
	with     error
	all      *collection.Collection
	sentence string
}

func (w *refusing) Text() *wording.Text                { return w.text }
func (w *refusing) Tables() *knowledge.Tables          { return nil }
func (w *refusing) By() model.PersonID                 { return model.PersonID{} }
func (w *refusing) Collection() *collection.Collection { return w.all }
func (w *refusing) Tell(_, sentence string)            { w.sentence = sentence }
func (w *refusing) Do(_ func(place.Answer) model.Command, done func(error)) {
	done(w.with)
}

// A refusal that another error stands around is said as well.
func TestAPositiveThatCannotBeOpenedIsSaid(t *testing.T) {
	languages, err := wording.Load(assets.Text())
	if err != nil {
		t.Fatal(err)
	}
	c, _ := storetest.New(t)
	r := &model.Refusal{Field: "sample", Reason: "sample.none", Answer: model.Mend}
	for _, with := range []error{r, fmt.Errorf("open a positive: %w", r)} {
		w := &refusing{text: languages.In("en", wording.Units{}), with: with, all: c}
		particulars.OpenPositive(w, model.SampleID{}, "")
		if want := w.text.Refusal(r); w.sentence != want {
			t.Errorf("of %v is said %q, want %q", with, w.sentence, want)
		}
	}
}
