package newcomers_test

import (
	"encoding/json"
	"testing"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/collection"
	ui "coilward/ui/newcomers"
)

// spoilt is a quarantine that no version can read.
type spoilt struct{ id model.AnimalID }

func (spoilt) Name() string { return "quarantine.spoilt" }

func (s spoilt) Plan(v model.View) (model.Writes, error) {
	d := model.Document{Type: model.TypeQuarantine, ID: v.NewID(), Version: 1, At: v.Now(), Subjects: []model.Subject{s.id.Subject()}, Body: json.RawMessage(`[]`)}
	return model.Writes{Put: []model.Document{d}, Label: model.Label{Key: "quarantine.done.begin", Gaps: map[string]model.Gap{"Animal": model.TextGap("Siskin")}}}, nil
}

// A quarantine that cannot be read is named, and its animal not offered for another; the
// other newcomers stand on the page as ever.
func TestAQuarantineThatCannotBeReadIsNamed(t *testing.T) {
	for language, want := range map[string]string{"en": "Siskin, in quarantine since", "de": "Siskin, in Quarantäne seit"} {
		w := open(t, plain(), language, func(c *collection.Collection) {
			one(t, 10)(c)
			siskin := made(t, c, animals.Add{Animal: animals.Animal{Name: "Siskin", Status: animals.Kept}})
			do(t, c, animals.Add{Animal: animals.Animal{Name: "Wren", Status: animals.Kept}})
			do(t, c, spoilt{model.AnimalID{ID: siskin}})
		})
		if !w.Shows(want) || !w.Shows("Dunnock") {
			t.Errorf("%s: %q is not said", language, want)
		}
		if err := w.Collection().View(func(v model.View) error {
			b, err := ui.Load(v, tables(t))
			if len(b.Free) != 1 || b.Free[0].Name != "Wren" || len(b.Open) != 1 || len(b.Unread) != 1 {
				t.Errorf("free %+v; %d open, %d unread", b.Free, len(b.Open), len(b.Unread))
			}
			return err
		}); err != nil {
			t.Error(err)
		}
	}
}
