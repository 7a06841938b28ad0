// Package people keeps the people round the animals: who looks after them, so
// that each entry says who made it, and who is called, asked or sold to. Its
// documents are of type model.TypePerson.
package people

import (
	"fmt"
	"slices"

	"coilward/model"
)

// Version is the newest form of a person's body. Form 1 had the name alone.
const Version = 2

// Person is the body of a person's document. Only the name must be given.
type Person struct {
	Name    string   `json:"name"`
	Roles   []Role   `json:"roles,omitempty"` // in the order of Roles()
	Phones  []string `json:"phones,omitempty"`
	Address string   `json:"address,omitempty"`
	Note    string   `json:"note,omitempty"`    // stands on no paper
	Private bool     `json:"private,omitempty"` // left out of every paper that does not ask for this person
}

// Role is what somebody is to the animals. Values are frozen; the text is
// "people.role." + value.
type Role string

// The roles.
const (
	Vet        Role = "vet"
	OutOfHours Role = "out-of-hours" // called when the vet is closed
	Sitter     Role = "sitter"       // looks after the animals for a time
	Hand       Role = "hand"         // does what entries tell of
	Lab        Role = "lab"
	Breeder    Role = "breeder"
	Buyer      Role = "buyer"
)

// Roles are all roles, those that are called first at the head.
func Roles() []Role { return []Role{Vet, OutOfHours, Sitter, Hand, Lab, Breeder, Buyer} }

// Works reports whether entries may be somebody's: of who does the work or looks
// after the animals for a time, and of who is said to be nothing yet.
func (p Person) Works() bool { return len(p.Roles) == 0 || p.Is(Hand) || p.Is(Sitter) }

// Is reports whether the person has a role.
func (p Person) Is(r Role) bool { return slices.Contains(p.Roles, r) }

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
