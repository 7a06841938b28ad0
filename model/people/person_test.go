package people_test

import (
	"errors"
	"slices"
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

func TestWhatIsKnownOfAPerson(t *testing.T) {
	whole := people.Person{Name: "Ines Feld", Roles: []people.Role{people.Sitter, people.Vet, people.Sitter}, Phones: []string{"", " 01 23 45  ", "112"},
		Address: " Mill Lane 3\nOtterby ", Note: "has a key", Private: true}
	c, _ := storetest.New(t)
	done, err := c.Do(people.Add{Person: whole})
	if err != nil {
		t.Fatal(err)
	}
	var all []people.Stored
	if err := c.View(func(v model.View) (err error) { all, err = people.All(v); return err }); err != nil {
		t.Fatal(err)
	}
	got := all[0]
	if got.ID.ID != done.Documents[0] || !slices.Equal(got.Roles, []people.Role{people.Vet, people.Sitter}) ||
		!slices.Equal(got.Phones, []string{"01 23 45", "112"}) || got.Address != "Mill Lane 3\nOtterby" || got.Note != "has a key" || !got.Private ||
		!got.Is(people.Vet) || got.Is(people.Lab) {
		t.Errorf("%+v", got)
	}
}

func TestRefusalsNameFieldAndValue(t *testing.T) {
	many := []string{"111", "112", "113", "114", "115", "116"}
	for name, one := range map[string]struct {
		change               func(*people.Person)
		field, value, reason string
	}{
		"a word as a number":  {func(p *people.Person) { p.Phones = []string{"0123", "ask Jo"} }, "phones", "ask Jo", "person.phone"},
		"two digits":          {func(p *people.Person) { p.Phones = []string{"12"} }, "phones", "12", "person.phone"},
		"too many numbers":    {func(p *people.Person) { p.Phones = many }, "phones", "116", "person.phones"},
		"a long number":       {func(p *people.Person) { p.Phones = []string{strings.Repeat("1", 81)} }, "phones", strings.Repeat("1", 81), "text.long"},
		"a role of nobody":    {func(p *people.Person) { p.Roles = []people.Role{"wizard"} }, "roles", "wizard", "person.role"},
		"a long address":      {func(p *people.Person) { p.Address = strings.Repeat("a", 501) }, "address", strings.Repeat("a", 501), "text.long"},
		"a bell in the note":  {func(p *people.Person) { p.Note = "a\ab" }, "note", "a\ab", "text.control"},
		"a cut sign":          {func(p *people.Person) { p.Address = "Gr\xc3" }, "address", "Gr\xc3", "text.control"},
		"a number over lines": {func(p *people.Person) { p.Phones = []string{"0123\x00"} }, "phones", "0123\x00", "text.control"},
	} {
		p := people.Person{Name: "Ines Feld"}
		one.change(&p)
		c, _ := storetest.New(t)
		_, err := c.Do(people.Add{Person: p})
		var r *model.Refusal
		if !errors.As(err, &r) || r.Field != one.field || r.Value != one.value || r.Reason != one.reason {
			t.Errorf("%s: %v, want %s %q %s", name, err, one.field, one.value, one.reason)
		}
	}
}

// A person as the first form of the body told of them is read by this one.
func TestTheFirstFormIsRead(t *testing.T) {
	d := model.Document{Type: model.TypePerson}
	if err := d.Encode(1, map[string]string{"name": "Ines Feld"}); err != nil {
		t.Fatal(err)
	}
	if got, err := people.Decode(d); err != nil || got.Name != "Ines Feld" || got.Private || got.Roles != nil {
		t.Errorf("%+v, %v", got, err)
	}
}

// What a removal leaves behind is what the window says of it: earlier forms stay.
func TestARemovedPersonsEarlierFormsStay(t *testing.T) {
	c, _ := storetest.New(t)
	done, err := c.Do(people.Add{Person: people.Person{Name: "Ines Feld", Phones: []string{"0123"}}})
	if err != nil {
		t.Fatal(err)
	}
	id := done.Documents[0]
	if _, err := c.Do(people.Remove{ID: model.PersonID{ID: id}}); err != nil {
		t.Fatal(err)
	}
	err = c.View(func(v model.View) error {
		all, err := people.All(v)
		if err != nil || len(all) != 0 {
			t.Errorf("%v, %v", all, err)
		}
		forms, err := v.Revisions(id)
		if len(forms) == 0 || !strings.Contains(string(forms[0].Body), "0123") {
			t.Errorf("the earlier forms are %v", forms)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	if label, _ := c.CanUndo(); label.Gaps["Person"].Text != "Ines Feld" {
		t.Errorf("the journal says %v", label)
	}
}
