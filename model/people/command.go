package people

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"unicode"

	"coilward/model"
)

// The most signs that a name, a phone number with what is said of it, an address
// and a note may have, and the most numbers of one person.
const (
	MaxName    = 80
	MaxPhone   = 80
	MaxPhones  = 5
	MaxAddress = 500
	MaxNote    = 10_000
)

// fewestDigits is how many digits a phone number has at least: those of the
// shortest numbers that are called in need.
const fewestDigits = 3

// Add brings a person into the collection.
type Add struct{ Person Person }

// Name is "people.add".
func (Add) Name() string { return "people.add" }

// Plan writes the person.
func (c Add) Plan(v model.View) (model.Writes, error) {
	return write(v, model.Document{Type: model.TypePerson, ID: v.NewID(), At: v.Now()}, c.Person, "people.done.add")
}

// Change replaces what is known of a person; Base is the revision that the
// change was made on.
type Change struct {
	ID     model.PersonID
	Base   uint32
	Person Person
}

// Name is "people.change".
func (Change) Name() string { return "people.change" }

// Plan writes the person anew.
func (c Change) Plan(v model.View) (model.Writes, error) {
	d, err := document(v, c.ID)
	if err != nil {
		return model.Writes{}, err
	}
	d.Revision = c.Base
	return write(v, d, c.Person, "people.done.change")
}

// Remove takes a person out, with the entries about that person, such as a bite: nobody would
// see them any more. The entries that the person made stay, and keep the
// mark of who made them, without a name. The earlier forms of the document stay in
// the collection, as those of every document do, and so do its backups; and the
// journal names who was removed.
type Remove struct{ ID model.PersonID }

// Name is "people.remove".
func (Remove) Name() string { return "people.remove" }

// Plan removes the person.
func (c Remove) Plan(v model.View) (model.Writes, error) {
	d, err := document(v, c.ID)
	if err != nil {
		return model.Writes{}, err
	}
	p, err := Decode(d)
	if err != nil {
		return model.Writes{}, err
	}
	about, err := About(v, c.ID)
	return model.Writes{Remove: append(about, d.ID), Label: label("people.done.remove", p.Person)}, err
}

// About are the entries about a person that are present: what befell that person, not what
// the person noted.
func About(v model.View, id model.PersonID) (all []model.ID, err error) {
	err = v.Timeline(id.Subject(), model.Beginning, model.EndOfTime, func(d model.Document) bool {
		if d.Type == model.TypeEntry {
			all = append(all, d.ID)
		}
		return true
	})
	if err != nil {
		return nil, fmt.Errorf("read what befell person %s: %w", id, err)
	}
	return all, nil
}

// Commands are the commands of this package, one of each, empty.
func Commands() []model.Command { return []model.Command{Add{}, Change{}, Remove{}} }

func document(v model.View, id model.PersonID) (model.Document, error) {
	d, err := v.Document(id.ID)
	if err != nil {
		return d, fmt.Errorf("read person %s: %w", id, err)
	}
	if d.Type != model.TypePerson {
		return d, fmt.Errorf("read person %s, which is a document of type %s: %w", id, d.Type, model.ErrNotFound)
	}
	return d, nil
}

func write(v model.View, d model.Document, p Person, done string) (model.Writes, error) {
	p = p.tidied()
	if r := p.Check(); r != nil {
		return model.Writes{}, r
	}
	all, err := All(v)
	if err != nil {
		return model.Writes{}, err
	}
	for _, other := range all {
		if other.ID.ID != d.ID && strings.EqualFold(other.Name, p.Name) {
			return model.Writes{}, refusal(p, "person.twice", map[string]model.Gap{"Other": model.TextGap(other.Name)})
		}
	}
	if err := d.Encode(Version, p); err != nil {
		return model.Writes{}, err
	}
	return model.Writes{Put: []model.Document{d}, Label: label(done, p)}, nil
}

// tidied is the person without needless spaces, empty lines and roles twice.
func (p Person) tidied() Person {
	p.Name = strings.Join(strings.Fields(p.Name), " ")
	p.Address, p.Note = strings.TrimSpace(p.Address), strings.TrimSpace(p.Note)
	var phones []string
	for _, one := range p.Phones {
		if one = strings.Join(strings.Fields(one), " "); one != "" {
			phones = append(phones, one)
		}
	}
	p.Phones = phones
	roles := p.Roles
	p.Roles = nil
	for _, r := range roles {
		if !slices.Contains(p.Roles, r) {
			p.Roles = append(p.Roles, r)
		}
	}
	slices.SortStableFunc(p.Roles, func(a, b Role) int { return slices.Index(Roles(), a) - slices.Index(Roles(), b) })
	return p
}

// Check refuses a person with a value that cannot stand.
func (p Person) Check() *model.Refusal {
	if p.Name == "" {
		return refusal(p, "person.empty", nil)
	}
	if r := model.CheckLine("person", p.Name, MaxName); r != nil {
		return r
	}
	for _, role := range p.Roles {
		if !slices.Contains(Roles(), role) {
			return &model.Refusal{Field: "roles", Value: string(role), Reason: "person.role", Answer: model.Mend}
		}
	}
	if r := checkPhones(p.Phones); r != nil {
		return r
	}
	if r := model.CheckText("address", p.Address, MaxAddress); r != nil {
		return r
	}
	return model.CheckText("note", p.Note, MaxNote)
}

func checkPhones(phones []string) *model.Refusal {
	if len(phones) > MaxPhones {
		return &model.Refusal{Field: "phones", Value: phones[MaxPhones], Reason: "person.phones", Answer: model.Mend,
			Gaps: map[string]model.Gap{"Most": model.CountGap(MaxPhones)}}
	}
	for _, one := range phones {
		if r := model.CheckLine("phones", one, MaxPhone); r != nil {
			return r
		}
		digits := 0
		for _, sign := range one {
			if unicode.IsDigit(sign) {
				digits++
			}
		}
		if digits < fewestDigits {
			return &model.Refusal{Field: "phones", Value: one, Reason: "person.phone", Answer: model.Mend,
				Gaps: map[string]model.Gap{"Phone": model.TextGap(one)}}
		}
	}
	return nil
}

func refusal(p Person, reason string, gaps map[string]model.Gap) *model.Refusal {
	return &model.Refusal{Field: "person", Value: p.Name, Reason: reason, Gaps: gaps, Answer: model.Mend}
}

func label(key string, p Person) model.Label {
	return model.Label{Key: key, Gaps: map[string]model.Gap{"Person": model.TextGap(p.Name)}}
}

// NameOf is the person's name; empty for none, and for one who was taken out.
func NameOf(v model.View, id model.PersonID) (string, error) {
	if id.IsZero() {
		return "", nil
	}
	d, err := document(v, id)
	if errors.Is(err, model.ErrNotFound) {
		return "", nil
	}
	if err != nil {
		return "", err
	}
	p, err := Decode(d)
	return p.Name, err
}
