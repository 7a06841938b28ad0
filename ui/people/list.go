package people

import (
	"slices"
	"strings"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/people"
)

// Load reads the people of the collection: those with the first role first, then
// by name; those without a role last.
func Load(v model.View) ([]people.Stored, error) {
	all, err := people.All(v)
	rank := func(p people.Stored) int {
		if len(p.Roles) == 0 {
			return len(people.Roles())
		}
		return slices.Index(people.Roles(), p.Roles[0])
	}
	slices.SortStableFunc(all, func(a, b people.Stored) int {
		if r := rank(a) - rank(b); r != 0 {
			return r
		}
		return model.Natural(animals.Fold(a.Name), animals.Fold(b.Name))
	})
	return all, err
}

// Found are the indexes of those in whom something that was searched for stands.
func Found(all []people.Stored, search string) []int {
	wanted := animals.Fold(strings.TrimSpace(search))
	var found []int
	for i, p := range all {
		known := strings.Join(append([]string{p.Name, p.Address, p.Note}, p.Phones...), "\n")
		if strings.Contains(animals.Fold(known), wanted) {
			found = append(found, i)
		}
	}
	return found
}
