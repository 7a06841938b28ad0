package animals

import (
	"fmt"
	"strings"

	"coilward/model"
)

// Add brings a new animal into the collection. It is refused where the animal
// cannot stand (Check), or where an animal that is here has the same name or chip.
type Add struct{ Animal Animal }

// Name is "animals.add".
func (Add) Name() string { return "animals.add" }

// Plan writes the animal.
func (c Add) Plan(v model.View) (model.Writes, error) {
	a := tidy(c.Animal)
	if err := fits(v, model.AnimalID{}, a); err != nil {
		return model.Writes{}, err
	}
	d := model.Document{Type: model.TypeAnimal, ID: v.NewID(), At: v.Now()}
	return write(d, a, "animals.done.add")
}

// Change replaces what is known of an animal; Base is the revision that the
// change was made on.
type Change struct {
	ID     model.AnimalID
	Base   uint32
	Animal Animal
}

// Name is "animals.change".
func (Change) Name() string { return "animals.change" }

// Plan writes the animal anew.
func (c Change) Plan(v model.View) (model.Writes, error) {
	d, err := document(v, c.ID)
	if err != nil {
		return model.Writes{}, err
	}
	a := tidy(c.Animal)
	if err := fits(v, c.ID, a); err != nil {
		return model.Writes{}, err
	}
	d.Revision = c.Base
	return write(d, a, "animals.done.change")
}

// SetStatus says that an animal was sold, died, came back and so on.
type SetStatus struct {
	ID     model.AnimalID
	Base   uint32
	Status Status
	Day    model.Date
}

// Name is "animals.status".
func (SetStatus) Name() string { return "animals.status" }

// Plan writes the animal with its new status.
func (c SetStatus) Plan(v model.View) (model.Writes, error) {
	d, err := document(v, c.ID)
	if err != nil {
		return model.Writes{}, err
	}
	stored, err := Decode(d)
	if err != nil {
		return model.Writes{}, err
	}
	a := stored.Animal
	a.Status, a.StatusDay = c.Status, c.Day
	if err := fits(v, c.ID, tidy(a)); err != nil {
		return model.Writes{}, err
	}
	d.Revision = c.Base
	return write(d, tidy(a), "animals.done.status")
}

// Remove takes an animal out that was entered by mistake. One with entries is
// refused: its days would hang in the air; its status can be changed instead.
type Remove struct{ ID model.AnimalID }

// Name is "animals.remove".
func (Remove) Name() string { return "animals.remove" }

// Plan removes the animal.
func (c Remove) Plan(v model.View) (model.Writes, error) {
	d, err := document(v, c.ID)
	if err != nil {
		return model.Writes{}, err
	}
	a, err := Decode(d)
	if err != nil {
		return model.Writes{}, err
	}
	entries := 0
	err = v.Timeline(c.ID.Subject(), model.Beginning, model.EndOfTime, func(model.Document) bool { entries++; return true })
	if err != nil {
		return model.Writes{}, fmt.Errorf("read the entries of %s: %w", a.Name, err)
	}
	if entries > 0 {
		return model.Writes{}, mend("name", a.Name, "animal.has-entries", map[string]model.Gap{"Entries": model.CountGap(entries)})
	}
	return model.Writes{Remove: []model.ID{d.ID}, Label: label("animals.done.remove", a.Animal)}, nil
}

// Commands are the commands of this package, one of each, empty.
func Commands() []model.Command { return []model.Command{Add{}, Change{}, SetStatus{}, Remove{}} }

func document(v model.View, id model.AnimalID) (model.Document, error) {
	d, err := v.Document(id.ID)
	if err != nil {
		return d, fmt.Errorf("read animal %s: %w", id, err)
	}
	if d.Type != model.TypeAnimal {
		return d, fmt.Errorf("read animal %s, which is a document of type %s: %w", id, d.Type, model.ErrNotFound)
	}
	return d, nil
}

func tidy(a Animal) Animal {
	for _, line := range []*string{&a.Name, &a.Code, &a.Morph, &a.Origin, &a.Permits, &a.From} {
		*line = strings.TrimSpace(*line)
	}
	if a.Status == "" {
		a.Status = Kept
	}
	if a.Status == Kept {
		a.StatusDay = model.Date{}
	}
	return a
}

func fits(v model.View, id model.AnimalID, a Animal) error {
	if r := a.Check(v.Now().Day()); r != nil {
		return r
	}
	if !a.Status.Here() {
		return nil
	}
	all, err := All(v)
	if err != nil {
		return err
	}
	return refused(newNames(all, id).check(a))
}

// names are those of the animals that are here, which no other may have.
type names struct{ byName, byChip map[string]Animal }

// newNames are the names of all but one.
func newNames(all []Stored, but model.AnimalID) *names {
	n := &names{map[string]Animal{}, map[string]Animal{}}
	for _, other := range all {
		if other.ID != but {
			n.put(other.Animal)
		}
	}
	return n
}

func (n *names) put(a Animal) {
	if !a.Status.Here() {
		return
	}
	if _, taken := n.byName[Fold(a.Name)]; !taken {
		n.byName[Fold(a.Name)] = a
	}
	if _, taken := n.byChip[a.Chip.Digits]; !taken {
		n.byChip[a.Chip.Digits] = a
	}
}

func (n *names) check(a Animal) *model.Refusal {
	if !a.Status.Here() {
		return nil
	}
	if other, taken := n.byName[Fold(a.Name)]; taken {
		return mend("name", a.Name, "name.twice", map[string]model.Gap{"Other": model.TextGap(other.title())})
	}
	if other, taken := n.byChip[a.Chip.Digits]; taken && !a.Chip.IsZero() {
		return mend("chip", a.Chip.Digits, "chip.twice", map[string]model.Gap{"Other": model.TextGap(other.title())})
	}
	return nil
}

// refused keeps a refusal that is none from becoming an error that is not nil.
func refused(r *model.Refusal) error {
	if r == nil {
		return nil
	}
	return r
}

func (a Animal) title() string {
	if a.Code == "" {
		return a.Name
	}
	return a.Name + " (" + a.Code + ")"
}

func write(d model.Document, a Animal, done string) (model.Writes, error) {
	if err := d.Encode(Version, a); err != nil {
		return model.Writes{}, err
	}
	return model.Writes{Put: []model.Document{d}, Label: label(done, a)}, nil
}

func label(key string, a Animal) model.Label {
	return model.Label{Key: key, Gaps: map[string]model.Gap{
		"Animal": model.TextGap(a.Name), "Status": model.KeyGap("animals.status." + string(a.Status)),
	}}
}
