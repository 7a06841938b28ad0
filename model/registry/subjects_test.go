package registry_test

import (
	"encoding/json"
	"errors"
	"testing"

	"coilward/assets"
	"coilward/model"
	"coilward/model/care"
	"coilward/model/collection"
	"coilward/model/knowledge"
	"coilward/model/registry"
	"coilward/model/storetest"
)

// A document among others: what it names must be there, or have been, be of the kind
// that it is taken for, and stand in the tables; nothing is older than 1900.
func TestSoundAmongOthers(t *testing.T) {
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	animal, person, gone, place := model.ID{1}, model.ID{2}, model.ID{3}, model.ID{4}
	clock := storetest.NewClock()
	c, err := collection.New(storetest.Memory(), collection.Options{Now: clock.Now})
	if err != nil {
		t.Fatal(err)
	}
	there := []model.Document{
		{Type: model.TypeAnimal, ID: animal, Version: 1, Body: json.RawMessage(`{"name":"Kestrel","status":"kept"}`)},
		{Type: model.TypePerson, ID: person, Version: 1, Body: json.RawMessage(`{"name":"Lab"}`)},
		{Type: model.TypePerson, ID: gone, Version: 1, Body: json.RawMessage(`{"name":"Gone"}`)},
		{Type: model.TypePlace, ID: place, Version: 1, Body: json.RawMessage(`{}`)},
	}
	_, err = c.Do(storetest.Put{Documents: there})
	if err == nil {
		_, err = c.Do(storetest.Remove{IDs: []model.ID{gone}})
	}
	if err != nil {
		t.Fatal(err)
	}
	of := func(id model.ID) model.Subject { return model.Subject{Kind: model.SubjectAnimal, ID: id} }
	const sum = "00112233445566778899aabbccddeeff00112233445566778899aabbccddeeff"
	for name, d := range map[string]struct {
		typed  model.DocumentType
		about  []model.Subject
		body   string
		at     int64
		reason string // empty: sound
	}{
		"a note":                 {model.TypeEntry, []model.Subject{of(animal)}, `{"text":"well"}`, 1, ""},
		"of nobody ever":         {model.TypeEntry, []model.Subject{of(model.ID{9})}, `{"text":"well"}`, 1, "document.never"},
		"of a person":            {model.TypeEntry, []model.Subject{of(person)}, `{"text":"well"}`, 1, "document.misnamed"},
		"of a place":             {model.TypeEntry, []model.Subject{of(animal), {Kind: model.SubjectPlace, ID: animal}}, `{"text":"well"}`, 1, "document.misnamed"},
		"of what was due":        {model.TypeEntry, []model.Subject{of(animal), {Kind: model.SubjectObligation, ID: person}}, `{"text":"well"}`, 1, ""},
		"before 1900":            {model.TypeEntry, []model.Subject{of(animal)}, `{"text":"well"}`, -2208988800 - 2*86400, "document.before"},
		"a long time before":     {model.TypeEntry, []model.Subject{of(animal)}, `{"text":"well"}`, -1 << 63, "document.before"},
		"a photo":                {model.TypeEntry, []model.Subject{of(animal)}, `{"text":"well","photos":["` + sum + `"]}`, 1, ""},
		"a photo elsewhere":      {model.TypeEntry, []model.Subject{of(animal)}, `{"text":"well","photos":["../../../etc/passwd"]}`, 1, "document.photo"},
		"sample":                 {model.TypeSample, []model.Subject{of(animal)}, `{"material":"faeces","for":["ferlavirus"]}`, 1, ""},
		"sample to a lab":        {model.TypeSample, []model.Subject{of(animal)}, `{"material":"faeces","for":["ferlavirus"],"lab":"` + person.String() + `"}`, 1, ""},
		"sample to a lab gone":   {model.TypeSample, []model.Subject{of(animal)}, `{"material":"faeces","for":["ferlavirus"],"lab":"` + gone.String() + `"}`, 1, ""},
		"sample to an animal":    {model.TypeSample, []model.Subject{of(animal)}, `{"material":"faeces","for":["ferlavirus"],"lab":"` + animal.String() + `"}`, 1, "document.misnamed"},
		"sample to nobody":       {model.TypeSample, []model.Subject{of(animal)}, `{"material":"faeces","for":["ferlavirus"],"lab":"` + model.ID{8}.String() + `"}`, 1, "document.never"},
		"sample of a path":       {model.TypeSample, []model.Subject{of(animal)}, `{"material":"../../etc","for":["ferlavirus"]}`, 1, "document.unknown"},
		"sample for luck":        {model.TypeSample, []model.Subject{of(animal)}, `{"material":"faeces","for":["luck"]}`, 1, "document.unknown"},
		"sample of a place too":  {model.TypeSample, []model.Subject{of(animal), {Kind: model.SubjectPlace, ID: place}}, `{"material":"faeces","for":["ferlavirus"]}`, 1, "document.animals"},
		"sample taken long ago":  {model.TypeSample, []model.Subject{of(animal)}, `{"material":"faeces","for":["ferlavirus"],"taken":{"utc":-9223372036854775808}}`, 1, "document.before"},
		"sample taken never":     {model.TypeSample, []model.Subject{of(animal)}, `{"material":"faeces","for":["ferlavirus"],"taken":{"utc":-99223372036854775808}}`, 1, "document.before"},
		"quarantine":             {model.TypeQuarantine, []model.Subject{of(animal)}, `{"protocol":"python"}`, 1, ""},
		"quarantine of year 1":   {model.TypeQuarantine, []model.Subject{of(animal)}, `{"protocol":"python"}`, -62135596800, "document.before"},
		"quarantine of a person": {model.TypeQuarantine, []model.Subject{{Kind: model.SubjectPerson, ID: person}}, `{"protocol":"python"}`, 1, "quarantine.nobody"},
		"quarantine by luck":     {model.TypeQuarantine, []model.Subject{of(animal)}, `{"protocol":"luck"}`, 1, "document.unknown"},
		"release of less than nothing": {model.TypeQuarantine, []model.Subject{of(animal)},
			`{"protocol":"python","released":{"at":{"utc":1000},"asked":{"id":"python","days":-5},"lines":[]}}`, 1, "document.negative"},
		"release of a line nobody knows": {model.TypeQuarantine, []model.Subject{of(animal)},
			`{"protocol":"python","released":{"at":{"utc":1000},"why":"so","asked":{"id":"python","days":5},"lines":[{"item":"luck","state":"met"}]}}`, 1, "document.unknown"},
		"positive without its sample": {model.TypePositive, []model.Subject{of(animal)}, `{"sample":"09000000-0000-0000-0000-000000000000","agent":"ferlavirus"}`, 1, "document.never"},
		"positive of an animal":       {model.TypePositive, []model.Subject{of(animal)}, `{"sample":"` + animal.String() + `","agent":"ferlavirus"}`, 1, "document.misnamed"},
		"animal hatched in year 1":    {model.TypeAnimal, nil, `{"name":"Juno","status":"kept","hatched":{"day":"0001-01-01","precision":"day"}}`, 0, "document.before"},
	} {
		doc := model.Document{Type: d.typed, ID: model.ID{7}, Version: 1, Subjects: d.about, Body: json.RawMessage(d.body)}
		if d.at != 0 {
			doc.At = model.Moment{UTC: d.at, Precision: model.ToMinute}
		}
		if d.typed == model.TypeEntry {
			doc.Kind = care.KindNote
		}
		if err := c.View(func(v model.View) error {
			around, err := registry.Around(v, tables)
			if err != nil {
				return err
			}
			var r *model.Refusal
			switch err := around.Sound(doc); {
			case d.reason == "" && err != nil:
				t.Errorf("%s: %v", name, err)
			case d.reason != "" && (!errors.As(err, &r) || r.Reason != d.reason):
				t.Errorf("%s: %v, want %s", name, err, d.reason)
			}
			return nil
		}); err != nil {
			t.Fatal(err)
		}
	}
}
