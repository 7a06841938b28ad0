package welfare

import (
	"errors"
	"fmt"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/knowledge"
)

// Observe notes what was seen on a visit. With an entry, it changes that one; Base is the
// revision that the change was made on. So it is with the other commands.
type Observe struct {
	Tables *knowledge.Tables
	care.About
	Observation
	Entry model.EntryID
	Base  uint32
}

// Name is "welfare.observe".
func (Observe) Name() string { return "welfare.observe" }

// Plan writes the observation. It is refused for signs that the tables do not offer in its
// setting, which are named, and where nothing is said.
func (c Observe) Plan(v model.View) (model.Writes, error) {
	var apart []string
	for _, id := range c.Seen() {
		s, known := c.Tables.Sign(id)
		if !known {
			return model.Writes{}, mend("signs", string(id), "choice.unknown", nil)
		}
		if s.Says[c.Setting] == knowledge.NotOffered {
			apart = append(apart, "sign."+string(id))
		}
	}
	if len(apart) > 0 {
		return model.Writes{}, mend("setting", string(c.Setting), "signs.not-offered", map[string]model.Gap{"Signs": model.KeysGap(apart...), "Setting": model.KeyGap("setting." + string(c.Setting))})
	}
	return write(v, c.About, c.Observation, c.Entry, c.Base)
}

// Handle notes a handling.
type Handle struct {
	Tables *knowledge.Tables
	care.About
	Handling
	Entry model.EntryID
	Base  uint32
}

// Name is "welfare.handle".
func (Handle) Name() string { return "welfare.handle" }

// Plan writes the handling. It is refused where the animal was held and it is not said why.
func (c Handle) Plan(v model.View) (model.Writes, error) {
	if _, known := c.Tables.Restraint(c.Why); c.Why != "" && !known {
		return model.Writes{}, mend("restraint-why", string(c.Why), "choice.unknown", nil)
	}
	return write(v, c.About, c.Handling, c.Entry, c.Base)
}

// Try notes a change that is tried from a day on.
type Try struct {
	care.About
	Change
	Entry model.EntryID
	Base  uint32
}

// Name is "welfare.try".
func (Try) Name() string { return "welfare.try" }

// Plan writes the change.
func (c Try) Plan(v model.View) (model.Writes, error) {
	return write(v, c.About, c.Change, c.Entry, c.Base)
}

// NoteContact notes that a person had to do with an animal: a bite, a child, a pregnant
// person. It is an entry about the person alone. One that is changed keeps its person and its
// animal.
type NoteContact struct {
	Person    model.PersonID
	At        model.Moment
	By        model.PersonID
	Confirmed model.Confirmed
	PersonContact
	Entry model.EntryID
	Base  uint32
}

// Name is "welfare.person".
func (NoteContact) Name() string { return "welfare.person" }

// Plan writes the entry. It is refused where the person or the animal is not known: an animal
// that a contact alone names can be removed, and the contact after it.
func (c NoteContact) Plan(v model.View) (model.Writes, error) {
	if r := c.PersonContact.check(); r != nil {
		return model.Writes{}, r
	}
	if _, err := named(v, c.Animal.ID, model.TypeAnimal); errors.Is(err, model.ErrNotFound) && !c.Entry.IsZero() {
		return model.Writes{}, mend("animal", "", "contact.animal-missing", nil)
	}
	if err := care.CheckSeen(v, care.About{Animal: c.Animal, At: c.At, By: c.By, Confirmed: c.Confirmed}); err != nil {
		return model.Writes{}, err
	}
	name, err := named(v, c.Person.ID, model.TypePerson)
	if errors.Is(err, model.ErrNotFound) {
		return model.Writes{}, mend("person", "", "contact.nobody", nil)
	}
	if err != nil {
		return model.Writes{}, err
	}
	kept := func(e Entry) bool {
		before, is := e.Body.(PersonContact)
		return is && e.Person == c.Person && before.Animal == c.Animal
	}
	return put(v, c.Person.Subject(), c.At, c.By, c.PersonContact, c.Entry, c.Base, name, kept)
}

// Remove takes an entry of this package out.
type Remove struct{ Entry model.EntryID }

// Name is "welfare.remove".
func (Remove) Name() string { return "welfare.remove" }

// Plan removes the entry.
func (c Remove) Plan(v model.View) (model.Writes, error) {
	d, e, err := present(v, c.Entry)
	if err != nil {
		return model.Writes{}, err
	}
	of, as := e.Animal.ID, model.TypeAnimal
	if d.Kind == KindPerson {
		of, as = e.Person.ID, model.TypePerson
	}
	name, err := named(v, of, as)
	if err != nil && !errors.Is(err, model.ErrNotFound) {
		return model.Writes{}, err
	}
	return model.Writes{Remove: []model.ID{d.ID}, Label: label("welfare.removed.", d.Kind, name)}, nil
}

// Commands are the commands of this package, one of each, empty.
func Commands() []model.Command {
	return []model.Command{Observe{}, Handle{}, Try{}, NoteContact{}, Remove{}}
}

// write writes an entry about an animal, a new one or one that is changed: that keeps its
// kind and its animal.
func write(v model.View, about care.About, b Body, id model.EntryID, base uint32) (model.Writes, error) {
	if r := b.check(); r != nil {
		return model.Writes{}, r
	}
	if err := care.CheckSeen(v, about); err != nil {
		return model.Writes{}, err
	}
	name, err := named(v, about.Animal.ID, model.TypeAnimal)
	if err != nil {
		return model.Writes{}, err
	}
	return put(v, about.Animal.Subject(), about.At, about.By, b, id, base, name, func(e Entry) bool { return e.Animal == about.Animal })
}

// put writes an entry about somebody, a new one or one that is changed: that keeps its kind and
// whose it is.
func put(v model.View, of model.Subject, at model.Moment, by model.PersonID, b Body, id model.EntryID, base uint32, name string, kept func(Entry) bool) (model.Writes, error) {
	d, done := model.Document{Type: model.TypeEntry, Kind: b.Kind(), Subjects: []model.Subject{of}}, "welfare.done."
	if id.IsZero() {
		d.ID = v.NewID()
	} else {
		before, e, err := present(v, id)
		if err != nil {
			return model.Writes{}, err
		}
		if before.Kind != d.Kind || !kept(e) {
			return model.Writes{}, fmt.Errorf("change entry %s: it keeps its kind, %s, and whose it is", id, before.Kind)
		}
		d, done = before, "welfare.changed."
		d.Revision = base
	}
	d.At, d.By = at, by
	err := d.Encode(Version, b)
	return model.Writes{Put: []model.Document{d}, Label: label(done, d.Kind, name)}, err
}

func label(done, kind, name string) model.Label {
	return model.Label{Key: done + kind, Gaps: map[string]model.Gap{"Name": model.TextGap(name)}}
}

func present(v model.View, id model.EntryID) (model.Document, Entry, error) {
	d, err := v.Document(id.ID)
	if errors.Is(err, model.ErrNotFound) {
		return d, Entry{}, mend("entry", "", "entry.missing", nil)
	}
	if err != nil {
		return d, Entry{}, fmt.Errorf("read entry %s: %w", id, err)
	}
	e, ok, err := Decode(d)
	if err == nil && !ok {
		err = fmt.Errorf("read entry %s: kind %q is none of how an animal is", id, d.Kind)
	}
	return d, e, err
}

// newest are the newest forms of what is named.
var newest = map[model.DocumentType]int{model.TypeAnimal: 1, model.TypePerson: 2}

// named is the name of an animal or a person, as its own document has it.
func named(v model.View, id model.ID, as model.DocumentType) (string, error) {
	d, err := v.Document(id)
	if err != nil {
		return "", fmt.Errorf("read %s %s: %w", as, id, err)
	}
	if d.Type != as {
		return "", fmt.Errorf("read %s %s, which is a document of type %s: %w", as, id, d.Type, model.ErrNotFound)
	}
	var of struct {
		Name string `json:"name"`
	}
	return of.Name, d.Decode(newest[as], &of)
}
