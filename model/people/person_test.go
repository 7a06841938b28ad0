package people_test

import (
	"errors"
	"strings"
	"testing"

	"coilward/model"
	"coilward/model/people"
	"coilward/model/storetest"
)

func TestPeopleComeAreRenamedAndGo(t *testing.T) {
	c, _ := storetest.New(t)
	done, err := c.Do(people.Add{Person: people.Person{Name: "  Ines   Feld "}})
	if err != nil {
		t.Fatal(err)
	}
	id := model.PersonID{ID: done.Documents[0]}
	name := func() string {
		var name string
		if err := c.View(func(v model.View) (err error) { name, err = people.NameOf(v, id); return err }); err != nil {
			t.Fatal(err)
		}
		return name
	}
	if name() != "Ines Feld" {
		t.Errorf("she is called %q", name())
	}
	if _, err := c.Do(people.Change{ID: id, Base: 1, Person: people.Person{Name: "Ines Au"}}); err != nil || name() != "Ines Au" {
		t.Errorf("%q, %v", name(), err)
	}
	for typed, want := range map[string]string{"": "person.empty", "INES AU": "person.twice", strings.Repeat("n", 81): "text.long", "a\x00": "text.control"} {
		_, err := c.Do(people.Add{Person: people.Person{Name: typed}})
		var r *model.Refusal
		if !errors.As(err, &r) || r.Reason != want {
			t.Errorf("%.20q: %v, want %s", typed, err, want)
		}
	}
	if _, err := c.Do(people.Remove{ID: id}); err != nil || name() != "" {
		t.Errorf("%q, %v", name(), err)
	}
}
