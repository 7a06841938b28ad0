package powercut_test

import (
	"encoding/json"
	"strings"
	"testing"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/collection"
	"coilward/model/powercut"
	"coilward/ui/uitest"
)

// spoilt is a power cut that no version can read.
type spoilt struct{}

func (spoilt) Name() string { return "power-cut.spoilt" }

func (spoilt) Plan(v model.View) (model.Writes, error) {
	all, err := animals.All(v)
	if err != nil {
		return model.Writes{}, err
	}
	d := model.Document{Type: model.TypeEntry, Kind: powercut.Kind, ID: v.NewID(), Version: powercut.Version, At: v.Now(), Subjects: []model.Subject{all[0].ID.Subject()}, Body: json.RawMessage(`[]`)}
	return model.Writes{Put: []model.Document{d}, Label: model.Label{Key: "power-cut.removed", Gaps: map[string]model.Gap{"Day": model.DayGap(v.Now().Day())}}}, nil
}

// One power cut that cannot be read is said; whom to call and the order stand as ever, and
// another can be noted.
func TestAPowerCutThatCannotBeReadHidesNothing(t *testing.T) {
	w := open(t, plain(), "en", func(c *collection.Collection) {
		two(t)(c)
		if _, err := c.Do(spoilt{}); err != nil {
			t.Fatal(err)
		}
	})
	if !w.Shows("cannot be read") || !w.Shows("Sorrel") || !w.Shows("Tansy") {
		t.Fatalf("shown %q", uitest.Texts(w.Content()))
	}
	now := model.MomentOf(w.Now().Time())
	from := now
	from.UTC -= 3600
	if _, err := w.Collection().Do(powercut.Note{From: from, Cut: powercut.Cut{Until: now, Whole: true}}); err != nil {
		t.Errorf("another is refused: %v", err)
	}
	if !strings.Contains(strings.Join(uitest.Texts(w.Content()), " "), "cannot be read") || len(cuts(w)) != 1 {
		t.Errorf("shown %q", uitest.Texts(w.Content()))
	}
}
