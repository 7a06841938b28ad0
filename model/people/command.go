package people

import (
	"errors"
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"coilward/model"
)

// MaxName is the most signs that a person's name may have.
const MaxName = 80

// Add brings a person into the collection.
type Add struct{ Person Person }

// Name is "people.add".
func (Add) Name() string { return "people.add" }

// Plan writes the person.
func (c Add) Plan(v model.View) (model.Writes, error) {
	return write(v, model.Document{Type: model.TypePerson, ID: v.NewID(), At: v.Now()}, c.Person, "people.done.add")
}

// Change renames a person; Base is the revision that the change was made on.
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

// Remove takes a person out; the entries that the person made keep the mark of
// who made them, without a name.
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
	return model.Writes{Remove: []model.ID{d.ID}, Label: label("people.done.remove", p.Person)}, nil
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
	p.Name = strings.Join(strings.Fields(p.Name), " ")
	if r := check(p); r != nil {
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

func check(p Person) *model.Refusal {
	n := utf8.RuneCountInString(p.Name)
	switch {
	case n == 0:
		return refusal(p, "person.empty", nil)
	case n > MaxName:
		return refusal(p, "text.long", map[string]model.Gap{"Signs": model.CountGap(n), "Most": model.CountGap(MaxName)})
	case !utf8.ValidString(p.Name) || strings.ContainsFunc(p.Name, unicode.IsControl):
		return refusal(p, "text.control", nil)
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
