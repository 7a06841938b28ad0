package samples

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"coilward/model"
	"coilward/model/knowledge"
)

// sampled is what this package must know of an animal; its fields are named as in
// the animal's own document.
type sampled struct {
	Name      string     `json:"name"`
	Hatched   model.Date `json:"hatched"`
	Since     model.Date `json:"since"`
	Status    string     `json:"status"`
	StatusDay model.Date `json:"statusDay"`

	written model.Moment
}

// The newest forms of the documents of others that are read here.
const (
	animalVersion = 1
	personVersion = 2
)

// Many checks and makes samples one after the other, each by the rules of a new
// one and compared with those of the collection and those made before it. It is
// valid as long as its view.
type Many struct {
	view    model.View
	tables  *knowledge.Tables
	animals map[model.AnimalID]sampled
	kits    map[string]Stored // by the folded number
	labs    map[model.PersonID]bool
}

// NewMany begins beside the samples of the collection that can be read: what cannot be
// is no reason to leave the others as they are.
func NewMany(v model.View, t *knowledge.Tables) (*Many, error) {
	all, _, err := Legible(v)
	if err != nil {
		return nil, fmt.Errorf("read the samples: %w", err)
	}
	m := &Many{view: v, tables: t, animals: map[model.AnimalID]sampled{}, kits: map[string]Stored{}, labs: map[model.PersonID]bool{}}
	for _, s := range all {
		m.put(s)
	}
	return m, nil
}

func (m *Many) put(s Stored) {
	if s.Kit.Number != "" {
		m.kits[strings.ToLower(s.Kit.Number)] = s
	}
}

// Beside makes an animal or a person known that is to be written by the same
// command.
func (m *Many) Beside(d model.Document) error {
	if d.Type == model.TypePerson {
		_, isLab, err := decodePerson(d)
		m.labs[model.PersonID{ID: d.ID}] = isLab
		return err
	}
	a, err := decodeSampled(d)
	if err == nil {
		m.animals[model.AnimalID{ID: d.ID}] = a
	}
	return err
}

func decodeSampled(d model.Document) (a sampled, err error) {
	if d.Type != model.TypeAnimal {
		return a, fmt.Errorf("read animal %s, which is a document of type %s: %w", d.ID, d.Type, model.ErrNotFound)
	}
	a.written = d.Written
	return a, d.Decode(animalVersion, &a)
}

func (m *Many) animal(id model.AnimalID) (sampled, error) {
	if a, known := m.animals[id]; known {
		return a, nil
	}
	d, err := m.view.Document(id.ID)
	if err != nil {
		return sampled{}, fmt.Errorf("read animal %s: %w", id, err)
	}
	a, err := decodeSampled(d)
	if err == nil {
		m.animals[id] = a
	}
	return a, err
}

// Make checks a new sample and gives its document. The error is a *model.Refusal
// where it cannot stand or where it must be asked whether it is so.
func (m *Many) Make(s Stored, confirmed model.Confirmed) (model.Document, error) {
	return m.make(s, nil, confirmed)
}

// make checks a sample that was another before, nil: it is new. What was asked
// when it was taken is not asked again.
func (m *Many) make(s Stored, was *Stored, confirmed model.Confirmed) (model.Document, error) {
	s.Sample = s.tidy()
	if s.ID.IsZero() {
		s.ID = model.SampleID{ID: m.view.NewID()}
	}
	if s.At.IsZero() {
		s.At = m.view.Now()
	}
	if r := first(pool(s.Animals), s.Check(m.view.Now()), s.known(m.tables), m.once(s)); r != nil {
		return model.Document{}, r
	}
	if r := s.doubts(m.tables, was, m.view.Now().Day(), confirmed); r != nil {
		return model.Document{}, r
	}
	asks := was == nil || was.Taken != s.Taken || !slices.Equal(was.Animals, s.Animals)
	for _, id := range s.Animals {
		if !asks {
			break
		}
		a, err := m.animal(id)
		if err != nil {
			return model.Document{}, err
		}
		if r := a.there(s.Taken, confirmed); r != nil {
			return model.Document{}, r
		}
	}
	if err := m.lab(s.Lab, s.Revision == 0); err != nil {
		return model.Document{}, err
	}
	d, err := s.document()
	if err == nil {
		m.put(s)
	}
	return d, err
}

// once refuses a kit that another sample was taken with.
func (m *Many) once(s Stored) *model.Refusal {
	other, used := m.kits[strings.ToLower(s.Kit.Number)]
	if s.Kit.Number == "" || !used || other.ID == s.ID {
		return nil
	}
	return mend("kit-number", s.Kit.Number, "sample.kit-used", map[string]model.Gap{"Animals": model.TextGap(m.names(other.Animals)), "Day": model.DayGap(other.At.Day())})
}

// names are the names of some animals; those that are not there any more are left
// out.
func (m *Many) names(all []model.AnimalID) string {
	const shown = 3
	var names []string
	for _, id := range all {
		if a, err := m.animal(id); err == nil {
			names = append(names, a.Name)
		}
	}
	if len(names) > shown {
		names = append(slices.Clip(names[:shown]), "…")
	}
	return strings.Join(names, ", ")
}

// lastDay is the last day that the date can be.
func lastDay(d model.Date) model.Day {
	year, month, _ := d.Day.Date()
	switch d.Precision {
	case model.ToMonth:
		return model.NewDay(year, month+1, 0)
	case model.ToYear:
		return model.NewDay(year, 12, 31)
	}
	return d.Day
}

// there tells why no sample can be of the animal on that day, or asks: one that
// died may have been examined afterwards.
func (a sampled) there(taken model.Moment, confirmed model.Confirmed) *model.Refusal {
	if taken.IsZero() {
		return nil
	}
	day, value := taken.Day(), taken.Day().String()
	gone := a.Status != "" && a.Status != "kept" && a.Status != "loan" && (a.StatusDay.IsZero() || day > lastDay(a.StatusDay))
	doubt := func(reason, gap string, with model.Gap) *model.Refusal {
		if confirmed.Has(reason) {
			return nil
		}
		return &model.Refusal{Field: "taken", Value: value, Reason: reason, Answer: model.Confirm, Gaps: map[string]model.Gap{"Animal": model.TextGap(a.Name), gap: with}}
	}
	status := model.KeyGap("animals.status." + a.Status)
	switch {
	case !a.Hatched.IsZero() && day < a.Hatched.Day:
		return mend("taken", value, "day.before-hatching", map[string]model.Gap{"Hatched": model.DayGap(a.Hatched.Day)})
	case gone && (a.Status == "died" || a.StatusDay.IsZero()):
		return doubt("animal.gone-asks", "Status", status)
	case gone:
		return mend("taken", value, "animal.gone", map[string]model.Gap{"Animal": model.TextGap(a.Name), "Status": status})
	case !a.Since.IsZero() && day < a.Since.Day:
		return doubt("day.before-arrival", "Since", model.DayGap(a.Since.Day))
	}
	return nil
}

// lab wants the lab to be one among the people; fresh: the sample is new.
func (m *Many) lab(id model.PersonID, fresh bool) error {
	if id.IsZero() || m.labs[id] {
		return nil
	}
	d, err := m.view.Document(id.ID)
	if errors.Is(err, model.ErrNotFound) && !fresh {
		return nil // taken out since: the sample keeps the mark of it
	}
	if err != nil && !errors.Is(err, model.ErrNotFound) {
		return fmt.Errorf("read the lab %s: %w", id, err)
	}
	if err == nil && d.Type == model.TypePerson {
		name, isLab, err := decodePerson(d)
		if err != nil {
			return err
		}
		if m.labs[id] = isLab; isLab {
			return nil
		}
		return mend("lab", name, "sample.no-lab", nil)
	}
	return mend("lab", "", "sample.no-lab", nil)
}

// decodePerson is what this package must know of a person.
func decodePerson(d model.Document) (name string, isLab bool, err error) {
	var person struct {
		Name  string   `json:"name"`
		Roles []string `json:"roles"`
	}
	err = d.Decode(personVersion, &person)
	return person.Name, slices.Contains(person.Roles, "lab"), err
}
