package animals

import "coilward/model"

// Many checks and makes new animals one after the other, each by the rules of
// Add, without reading the whole collection anew for each of them: an animal is
// compared with those of the collection and those made before it. It is valid as
// long as its view.
type Many struct {
	view  model.View
	names *names
}

// NewMany begins beside the animals of the collection.
func NewMany(v model.View) (*Many, error) {
	all, err := All(v)
	if err != nil {
		return nil, err
	}
	return &Many{view: v, names: newNames(all, model.AnimalID{})}, nil
}

// Make checks an animal and gives its document. The error is a *model.Refusal
// where the animal cannot stand.
func (m *Many) Make(a Animal) (model.Document, error) {
	a = tidy(a)
	if r := a.Check(m.view.Now().Day()); r != nil {
		return model.Document{}, r
	}
	if r := m.names.check(a); r != nil {
		return model.Document{}, r
	}
	d := model.Document{Type: model.TypeAnimal, ID: m.view.NewID(), At: m.view.Now()}
	if err := d.Encode(Version, a); err != nil {
		return model.Document{}, err
	}
	m.names.put(a)
	return d, nil
}
