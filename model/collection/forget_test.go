package collection_test

import (
	"encoding/hex"
	"errors"
	"strings"
	"testing"

	"coilward/model"
	"coilward/model/collection"
	"coilward/model/storetest"
)

var erased = model.Label{Key: "test.erased"}

// named is a command whose label names what it writes.
type named struct {
	storetest.Put
	name string
}

func (n named) Plan(v model.View) (model.Writes, error) {
	w, err := n.Put.Plan(v)
	w.Label.Gaps = map[string]model.Gap{"Name": model.TextGap(n.name)}
	return w, err
}

func TestForgetWipesOutWhatWasSaid(t *testing.T) {
	s := storetest.Memory()
	clock := storetest.NewClock()
	c := collectionOn(t, s, clock)
	do(t, c, put(storetest.Entry(second, animal, 5, "stays")))
	do(t, c, named{storetest.Put{Documents: []model.Document{storetest.Entry(first, animal, 5, "Wren Alder")}}, "Wren Alder"})
	do(t, c, put(changed(t, c, first, "Wren Alder, 12 Mill Lane")))
	if _, err := c.Forget(erased, first); !errors.Is(err, model.ErrConflict) {
		t.Fatalf("a present document was forgotten: %v", err)
	}
	do(t, c, storetest.Remove{IDs: []model.ID{first}})
	var heard []collection.Change
	defer c.Subscribe(func(change collection.Change) { heard = append(heard, change) })()
	if _, err := c.Forget(erased, first); err != nil {
		t.Fatal(err)
	}
	all := storetest.Everything(t, s)
	holds := func(text string) bool { return strings.Contains(all, hex.EncodeToString([]byte(text))) }
	if holds("Wren") || holds("Mill Lane") || !holds("stays") {
		t.Errorf("the store holds\n%s", all)
	}
	if len(heard) != 1 || heard[0].Empty() || heard[0].Label.Key != erased.Key {
		t.Errorf("heard %+v", heard)
	}
	if err := s.View(collection.Check); err != nil {
		t.Error(err)
	}
	if _, err := c.Undo(); !errors.Is(err, collection.ErrNothing) {
		t.Errorf("undo: %v, want ErrNothing", err)
	}
	if body(t, c, first) != "-" || body(t, c, second) != `"stays"` {
		t.Errorf("present: %s, %s", body(t, c, first), body(t, c, second))
	}
	do(t, c, put(storetest.Entry(model.ID{9}, animal, 6, "next")))
	if _, err := c.Undo(); err != nil {
		t.Errorf("what came after cannot be undone: %v", err)
	}
	if _, err := c.Forget(erased, model.ID{77}); !errors.Is(err, model.ErrNotFound) {
		t.Errorf("forget what never was: %v, want ErrNotFound", err)
	}
}
