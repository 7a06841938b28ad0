// Package people keeps the people who look after the animals: each entry says
// who made it. Its documents are of type model.TypePerson.
package people

import (
	"fmt"

	"coilward/model"
)

// Version is the newest form of a person's body.
const Version = 1

// Person is the body of a person's document.
type Person struct {
	Name string `json:"name"`
}

// Stored is a person with the document's id and revision.
type Stored struct {
	ID       model.PersonID
	Revision uint32
	Person
}

// Decode reads a person's document.
func Decode(d model.Document) (Stored, error) {
	s := Stored{ID: model.PersonID{ID: d.ID}, Revision: d.Revision}
	if d.Type != model.TypePerson {
		return s, fmt.Errorf("read person %s: the document is of type %s", d.ID, d.Type)
	}
	return s, d.Decode(Version, &s.Person)
}

// All are the people of the collection, in the order in which they were added.
func All(v model.View) ([]Stored, error) {
	var all []Stored
	var failed error
	err := v.All(model.TypePerson, func(d model.Document) bool {
		var s Stored
		if s, failed = Decode(d); failed == nil {
			all = append(all, s)
		}
		return failed == nil
	})
	if err == nil {
		err = failed
	}
	if err != nil {
		return nil, fmt.Errorf("read the people: %w", err)
	}
	return all, nil
}
