package main

import (
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"coilward/export/paper"
	"coilward/model"
	"coilward/model/collection"
	"coilward/model/people"
)

// Who is private stands on a paper only where it is asked for by name.
func TestPrivatePeopleAreNamedWhenAskedFor(t *testing.T) {
	one := func(name string, private bool, roles ...people.Role) people.Stored {
		return people.Stored{ID: model.PersonID{ID: model.ID{name[0]}}, Person: people.Person{Name: name, Private: private, Roles: roles}}
	}
	all := []people.Stored{one("Open", false, people.Vet), one("Hidden", true, people.Vet), one("Elsewhere", true, people.Buyer)}
	for with, want := range map[string][]string{"": {"Open"}, "hidden": {"Open", "Hidden"}, "Open": {"Open"}, "Elsewhere": nil, "Nobody": nil} {
		w := printing{}
		if with != "" {
			w.with = []string{with}
		}
		called, err := w.called(all, paper.CardRoles())
		var names []string
		for _, p := range called {
			names = append(names, p.Name)
		}
		if !slices.Equal(names, want) || (err != nil) != (want == nil) {
			t.Errorf("with %q: %v, %v", with, names, err)
		}
	}
	folder := kept(t, "Kestrel")
	within(t, folder, func(c *collection.Collection) {
		if _, err := c.Do(people.Add{Person: all[1].Person}); err != nil {
			t.Fatal(err)
		}
	})
	file := filepath.Join(t.TempDir(), "card.pdf")
	mustDo(t, "print", "emergency-card", "--collection", folder, "--animal", "kestrel", "--out", file, "--with", "Hidden")
	mustDo(t, "print", "sitter", "--collection", folder, "--out", file, "--with", "Hidden")
	if code, _, said := ctl("en", "print", "sitter", "--collection", folder, "--out", file, "--with", "Nobody"); code != exitFailed || !strings.Contains(said, "--with") || !strings.Contains(said, "Nobody") {
		t.Errorf("code %d, %q", code, said)
	}
}
