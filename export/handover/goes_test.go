package handover

import (
	"maps"
	"reflect"
	"slices"
	"testing"

	"coilward/export/paper"
	"coilward/model/care"
	"coilward/model/knowledge"
)

// plant puts its name into every text of a value that somebody may have typed, as deep as it
// goes; lists, pointers and bodies that are empty are given one.
func plant(v reflect.Value, name string, deep int) {
	switch v.Kind() {
	case reflect.String:
		if v.Type() == reflect.TypeFor[string]() && v.CanSet() {
			v.SetString("Q" + name)
		}
	case reflect.Pointer:
		if deep > 0 && v.CanSet() && v.Type() != reflect.TypeFor[*knowledge.Tables]() {
			v.Set(reflect.New(v.Type().Elem()))
			plant(v.Elem(), name, deep-1)
		}
	case reflect.Slice:
		if deep > 0 && v.CanSet() && v.Type().Elem().Kind() != reflect.Uint8 {
			v.Set(reflect.MakeSlice(v.Type(), 1, 1))
			plant(v.Index(0), name, deep-1)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			plant(v.Field(i), v.Type().Field(i).Name, deep)
		}
	}
}

// found are the names of the texts of a value that somebody may have typed and that are not
// empty.
func found(v reflect.Value, name string, all map[string]bool) {
	switch v.Kind() {
	case reflect.String:
		if v.Type() == reflect.TypeFor[string]() && v.String() != "" {
			all[name] = true
		}
	case reflect.Pointer, reflect.Interface:
		if !v.IsNil() && v.Type() != reflect.TypeFor[*knowledge.Tables]() {
			found(v.Elem(), name, all)
		}
	case reflect.Slice:
		for i := range v.Len() {
			found(v.Index(i), name, all)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			found(v.Field(i), v.Type().Field(i).Name, all)
		}
	}
}

// Of all that somebody may type only this goes with an animal, as FORMAT.md tells.
func TestWhatGoes(t *testing.T) {
	goes := []string{
		"Name", "Morph", "Digits", "Permits", // who it is, and its proofs
		"By", "Vet", "Lab", "Advised", // of people who are not private
		"Said", "Words", "Medicine", "Reason", "What", "Word", // what a vet said and prescribed, what was done and tried, and why
		"Report", "Site", "Typed", // of a result, of a sample, and a number as it was typed
		"Fingerprint", "Key", "Source", "Tables", "Version", // of the program, its tables and the key
	}
	slices.Sort(goes)
	var f paper.Facts
	value := reflect.ValueOf(&f).Elem()
	for i := range value.NumField() {
		if name := value.Type().Field(i).Name; name != "Tables" && name != "Chances" {
			plant(value.Field(i), name, 8)
		}
	}
	bodies := []care.Body{care.Clutch{}, care.Blue{}, care.Bath{}, care.MiteTreatment{}, care.Photo{}}
	for _, b := range bodies {
		own := reflect.New(reflect.TypeOf(b)).Elem()
		plant(own, "Body", 8)
		f.Beside = append(f.Beside, paper.Dated[care.Body]{Body: own.Interface().(care.Body)})
	}
	f.Chances = nil
	withoutPrivate(&f)
	all := map[string]bool{}
	found(reflect.ValueOf(f), "", all)
	if got := slices.Sorted(maps.Keys(all)); !slices.Equal(got, goes) {
		t.Errorf("what goes is %q, want %q", got, goes)
	}
}
