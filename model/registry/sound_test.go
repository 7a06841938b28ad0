package registry_test

import (
	"encoding/json"
	"errors"
	"testing"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/exam"
	"coilward/model/registry"
	"coilward/model/round"
)

func TestSound(t *testing.T) {
	today := model.NewDay(2027, 6, 9)
	for name, c := range map[string]struct {
		document      model.Document
		sound, valued bool // valued: a value is at fault, not the form
	}{
		"weight":            {model.Document{Type: model.TypeEntry, Kind: care.KindWeight, Body: json.RawMessage(`{"mass":{"mg":1432000}}`)}, true, false},
		"negative weight":   {model.Document{Type: model.TypeEntry, Kind: care.KindWeight, Body: json.RawMessage(`{"mass":{"mg":-9223372036854775808}}`)}, false, true},
		"weight of a text":  {model.Document{Type: model.TypeEntry, Kind: care.KindWeight, Body: json.RawMessage(`{"mass":"heavy"}`)}, false, false},
		"meal of nothing":   {model.Document{Type: model.TypeEntry, Kind: care.KindMeal, Body: json.RawMessage(`{}`)}, false, true},
		"check of a list":   {model.Document{Type: model.TypeEntry, Kind: exam.KindCheck, Body: json.RawMessage(`[]`)}, false, false},
		"problem unseen":    {model.Document{Type: model.TypeProblem, Body: json.RawMessage(`{}`)}, false, false},
		"nameless animal":   {model.Document{Type: model.TypeAnimal, Body: json.RawMessage(`{}`)}, false, true},
		"answer to nothing": {model.Document{Type: model.TypeAnswer, Body: json.RawMessage(`{"what":"done"}`)}, false, true},
		"answer of a list":  {model.Document{Type: model.TypeAnswer, Body: json.RawMessage(`[]`)}, false, false},
		"person of a list":  {model.Document{Type: model.TypePerson, Body: json.RawMessage(`[]`)}, false, false},
		"sample of nobody":  {model.Document{Type: model.TypeSample, Body: json.RawMessage(`{"material":"faeces","for":["ferlavirus"]}`)}, false, true},
		"sample of a list":  {model.Document{Type: model.TypeSample, Body: json.RawMessage(`[]`)}, false, false},
		"sample": {model.Document{Type: model.TypeSample, Subjects: []model.Subject{{Kind: model.SubjectAnimal, ID: model.ID{1}}},
			Body: json.RawMessage(`{"material":"faeces","for":["ferlavirus"]}`)}, true, false},
		"quarantine of nobody": {model.Document{Type: model.TypeQuarantine, Body: json.RawMessage(`{"protocol":"python"}`)}, false, true},
		"quarantine of a list": {model.Document{Type: model.TypeQuarantine, Body: json.RawMessage(`[]`)}, false, false},
		"quarantine": {model.Document{Type: model.TypeQuarantine, At: model.Moment{UTC: 1}, Subjects: []model.Subject{{Kind: model.SubjectAnimal, ID: model.ID{1}}},
			Body: json.RawMessage(`{"protocol":"python"}`)}, true, false},
		"protocol of nothing":    {model.Document{Type: model.TypeProtocol, Body: json.RawMessage(`{}`)}, false, true},
		"protocol of a list":     {model.Document{Type: model.TypeProtocol, Body: json.RawMessage(`[]`)}, false, false},
		"protocol":               {model.Document{Type: model.TypeProtocol, Body: json.RawMessage(`{"id":"own","days":30,"within":30,"weight":95,"watch":90}`)}, true, false},
		"figures of nothing":     {model.Document{Type: model.TypeFigures, Body: json.RawMessage(`{}`)}, false, true},
		"figures of a list":      {model.Document{Type: model.TypeFigures, Body: json.RawMessage(`[]`)}, false, false},
		"figures of a certainty": {model.Document{Type: model.TypeFigures, Body: json.RawMessage(`{"table":"prior","row":"ferlavirus-any","values":{"prior":{"low":0,"assumed":1,"high":2}},"by":"vet","why":"a survey"}`)}, false, true},
		"figures":                {model.Document{Type: model.TypeFigures, Body: json.RawMessage(`{"table":"prior","row":"ferlavirus-any","values":{"prior":{"low":1,"assumed":1,"high":2}},"by":"vet","why":"a survey"}`)}, true, false},
		"positive of nobody":     {model.Document{Type: model.TypePositive, Body: json.RawMessage(`{"sample":"01000000-0000-0000-0000-000000000000","agent":"ferlavirus"}`)}, false, true},
		"positive of a list":     {model.Document{Type: model.TypePositive, Body: json.RawMessage(`[]`)}, false, false},
		"positive closed as nobody closes": {model.Document{Type: model.TypePositive, Subjects: []model.Subject{{Kind: model.SubjectAnimal, ID: model.ID{1}}},
			Body: json.RawMessage(`{"sample":"01000000-0000-0000-0000-000000000000","agent":"ferlavirus","closed":{"at":{"utc":1},"why":"luck"}}`)}, false, true},
		"positive": {model.Document{Type: model.TypePositive, Subjects: []model.Subject{{Kind: model.SubjectAnimal, ID: model.ID{1}}},
			Body: json.RawMessage(`{"sample":"01000000-0000-0000-0000-000000000000","agent":"ferlavirus"}`)}, true, false},
		"round of nobody": {model.Document{Type: model.TypeRound, Body: json.RawMessage(`{"order":"ill-newcomers","stops":[]}`)}, false, true},
		"round of a list": {model.Document{Type: model.TypeRound, Body: json.RawMessage(`[]`)}, false, false},
		"round of one twice": {model.Document{Type: model.TypeRound,
			Body: json.RawMessage(`{"order":"ill-newcomers","stops":[{"animals":["01000000-0000-0000-0000-000000000000","01000000-0000-0000-0000-000000000000"]}]}`)}, false, true},
		"round ended before it began": {model.Document{Type: model.TypeRound, At: model.Moment{UTC: 9},
			Body: json.RawMessage(`{"order":"ill-newcomers","stops":[{"animals":["01000000-0000-0000-0000-000000000000"]}],"ended":{"utc":1}}`)}, false, true},
		"round":                {model.Document{Type: model.TypeRound, Body: json.RawMessage(`{"order":"ill-newcomers","stops":[{"animals":["01000000-0000-0000-0000-000000000000"]}]}`)}, true, false},
		"look of no class":     {model.Document{Type: model.TypeEntry, Kind: round.KindLook, Body: json.RawMessage(`{"animals":["01000000-0000-0000-0000-000000000000"],"class":"clean"}`)}, false, true},
		"look into an own box": {model.Document{Type: model.TypeEntry, Kind: round.KindLook, Body: json.RawMessage(`{"animals":["01000000-0000-0000-0000-000000000000"],"class":"ill"}`)}, true, false},
		"later kind":           {model.Document{Type: model.TypeEntry, Kind: "swab", Body: json.RawMessage(`[]`)}, true, false},
		"later form":           {model.Document{Type: model.TypeEntry, Kind: care.KindMeal, Version: 99, Body: json.RawMessage(`[]`)}, true, false},
	} {
		err := registry.Sound(c.document, today)
		if (err == nil) != c.sound || errors.As(err, new(*model.Refusal)) != c.valued {
			t.Errorf("%s: %v", name, err)
		}
	}
}
