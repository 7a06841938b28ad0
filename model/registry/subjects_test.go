package registry_test

import (
	"errors"
	"testing"

	"coilward/model"
	"coilward/model/registry"
)

// A document that takes a person for an animal is named; one about somebody who was
// taken out is not, nor one about what was due.
func TestMisnamed(t *testing.T) {
	animal, person, gone := model.ID{1}, model.ID{2}, model.ID{3}
	types := map[model.ID]model.DocumentType{animal: model.TypeAnimal, person: model.TypePerson}
	for name, c := range map[string]struct {
		about model.Subject
		wrong bool
	}{
		"an animal":             {model.Subject{Kind: model.SubjectAnimal, ID: animal}, false},
		"a person as an animal": {model.Subject{Kind: model.SubjectAnimal, ID: person}, true},
		"an animal as a place":  {model.Subject{Kind: model.SubjectPlace, ID: animal}, true},
		"one taken out":         {model.Subject{Kind: model.SubjectAnimal, ID: gone}, false},
		"what was due":          {model.Subject{Kind: model.SubjectObligation, ID: animal}, false},
	} {
		err := registry.Misnamed(model.Document{Subjects: []model.Subject{{Kind: model.SubjectAnimal, ID: animal}, c.about}}, types)
		if r := (*model.Refusal)(nil); errors.As(err, &r) != c.wrong || (err != nil) != c.wrong {
			t.Errorf("%s: %v", name, err)
		}
	}
}
