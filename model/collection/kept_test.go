package collection_test

import (
	"encoding/json"
	"fmt"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/collection"
	"coilward/model/memory"
	"coilward/model/storetest"
)

// What is held in memory is what stands in the store, whatever is written, taken
// back and brought back, and whatever a reader appends to what it was given.
func TestWhatIsHeldIsWhatIsStored(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		clock, store := storetest.NewClock(), memory.Open()
		open := func() *collection.Collection {
			c, err := collection.New(store, collection.Options{Now: clock.Now})
			if err != nil {
				t.Fatal(err)
			}
			return c
		}
		all := func(c *collection.Collection) (found []model.Document) {
			for _, of := range model.DocumentTypes() {
				if err := c.View(func(v model.View) error {
					return v.All(of, func(d model.Document) bool {
						found = append(found, d)
						_ = append(d.Body, "and more"...)
						_ = append(d.Subjects, model.Subject{Kind: model.SubjectPlace})
						return true
					})
				}); err != nil {
					t.Fatal(err)
				}
			}
			return found
		}
		c := open()
		revisions := map[byte]uint32{}
		for step := range rapid.IntRange(1, 15).Draw(t, "steps") {
			switch rapid.IntRange(0, 3).Draw(t, "what") {
			case 0, 1:
				n := byte(rapid.IntRange(1, 4).Draw(t, "document"))
				of := []model.DocumentType{model.TypePlace, model.TypeStay, model.TypeAnimal, model.TypeEntry}[n-1]
				d := model.Document{Type: of, ID: model.ID{n}, Revision: revisions[n], At: model.MomentOf(clock.Now()), Version: 1, Subjects: []model.Subject{{Kind: model.SubjectAnimal, ID: model.ID{9}}},
					Body: json.RawMessage(fmt.Sprintf(`{"n":%d}`, step))}
				if _, err := c.Do(storetest.Put{Documents: []model.Document{d}}); err != nil {
					t.Fatal(err)
				}
			case 2:
				_, _ = c.Undo() // there may be nothing to undo
			case 3:
				_, _ = c.Redo()
			}
			held := all(c)
			for n := range byte(5) {
				revisions[n] = 0
			}
			for _, d := range held {
				revisions[d.ID[0]] = d.Revision
			}
			if diff := cmp.Diff(all(open()), held); diff != "" {
				t.Fatalf("stored (-), held (+):\n%s", diff)
			}
			if diff := cmp.Diff(held, all(c)); diff != "" {
				t.Fatalf("read twice:\n%s", diff)
			}
		}
	})
}
