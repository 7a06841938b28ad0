package demo

import (
	"testing"
	"time"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/atease"
	"coilward/model/knowledge"
	"coilward/model/welfare"
)

// The story shows what it is there for: a change that helped, and one of which it cannot be
// told yet.
func TestHowTheyAre(t *testing.T) {
	c, tables := filled(t, time.Date(2027, 3, 3, 9, 30, 0, 0, time.UTC))
	want := map[string]welfare.Verdict{"Linnet": welfare.Helped, "Kestrel": welfare.TooFewBefore}
	if err := c.View(func(v model.View) error {
		all, err := animals.All(v)
		if err != nil {
			return err
		}
		for _, a := range all {
			verdict, is := want[a.Name]
			if !is {
				continue
			}
			k, err := atease.Read(v, tables, a, v.Now())
			if err != nil {
				return err
			}
			for _, e := range k.Entries {
				if change, tried := e.Body.(welfare.Change); tried {
					h, err := welfare.DidItHelp(tables, change, e.At.Day(), k.Visits, nil, v.Now().Day())
					if err != nil || h.Verdict != verdict {
						t.Errorf("%s: %+v, %v", a.Name, h, err)
					}
					delete(want, a.Name)
				}
			}
			if visits := welfare.In(knowledge.Untouched, k.Visits); len(visits) < 8 {
				t.Errorf("%s has %d visits", a.Name, len(visits))
			}
		}
		return nil
	}); err != nil {
		t.Fatal(err)
	}
	if len(want) > 0 {
		t.Errorf("no change was tried of %v", want)
	}
}
