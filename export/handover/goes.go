package handover

import (
	"reflect"
	"strings"

	"coilward/export/paper"
	"coilward/model"
	"coilward/model/knowledge"
)

// goes are the texts of the health record that go with an animal, each by its type and
// field, with what FORMAT.md calls it; those with nothing behind them are the program's own.
// Whatever else somebody may type stays with the keeper, so that a new text stays until
// somebody puts it here.
func goes() map[string]string {
	return map[string]string{
		"animals.Animal.Name":            "the animal's name",
		"animals.Animal.Morph":           "morph",
		"animals.Animal.Permits":         "permits and proofs of origin",
		"animals.Chip.Digits":            "chip",
		"paper.Checked.By":               "names of people who are not marked private",
		"paper.Dated.By":                 "names of people who are not marked private",
		"paper.Quarantine.By":            "names of people who are not marked private",
		"paper.Sampled.Lab":              "names of people who are not marked private",
		"paper.Prescribed.Vet":           "names of people who are not marked private",
		"paper.Visited.Vet":              "names of people who are not marked private",
		"medicine.Prescription.Medicine": "what a vet prescribed",
		"medicine.Prescription.Words":    "what a vet prescribed",
		"medicine.Step.Words":            "what a vet prescribed",
		"medicine.Held.Said":             "what a vet said at a visit",
		"care.Fluids.What":               "what was given as fluids or against mites",
		"care.Fluids.Advised":            "who advised it",
		"care.MiteTreatment.What":        "what was given as fluids or against mites",
		"care.MiteTreatment.Advised":     "who advised it",
		"samples.Result.Report":          "numbers of a lab's reports",
		"medicine.Amount.Typed":          "numbers as they were typed",
		"model.Length.Typed":             "numbers as they were typed",
		"model.Mass.Typed":               "numbers as they were typed",
		"model.Temperature.Typed":        "numbers as they were typed",
		"paper.Facts.Version":            "",
		"paper.Facts.Unknown":            "",
		"paper.Quarantine.Version":       "",
		"paper.Seal.Fingerprint":         "",
		"paper.Seal.Code":                "",
		"exam.Verdict.Tables":            "",
		"exam.Reason.Source":             "",
		"quarantine.Release.Tables":      "",
		"model.Label.Key":                "",
		"model.Label.Gaps":               "",
		"assumed.Row.ID":                 "",
		"knowledge.Carrier.Source":       "",
		"knowledge.Prior.ID":             "",
		"knowledge.Prior.Source":         "",
		"knowledge.Protocol.Source":      "",
		"knowledge.Sight.ID":             "",
		"knowledge.Sight.Source":         "",
	}
}

// instead are the keys of what stands in place of texts that stay, where a sentence would
// have a hole.
func instead() map[string]string {
	return map[string]string{
		"husbandry.Instrument.Name": "handover.a-scale",
		"quarantine.Own.Name":       "handover.own-protocol",
		"quarantine.Restart.Name":   "handover.unnamed",
		"assumed.Own.Why":           "handover.own-why",
	}
}

// unnamed is the key of what stands in place of what somebody typed in a gap of a sentence.
// Who others are is nothing for those who read an animal's papers.
func unnamed(gap string) string {
	if gap == "Scale" {
		return "handover.a-scale"
	}
	return "handover.unnamed"
}

// withoutPrivate empties all texts of the facts that do not go, and takes out the notes,
// the questions to a vet, and the changes that were tried, which are nothing without the
// keeper's words.
func withoutPrivate(f *paper.Facts, text paper.Text) {
	f.Notes, f.SampleNotes, f.Questions = nil, false, nil
	f.WithoutZone = true
	if f.Behaviour != nil {
		own := *f.Behaviour
		own.Changes, f.Behaviour = nil, &own
	}
	s := sieve{goes: goes(), instead: map[string]string{}}
	for field, key := range instead() {
		s.instead[field] = text.Say(key)
	}
	s.sift(reflect.ValueOf(f).Elem(), "")
}

// sieve lets through what goes.
type sieve struct {
	goes, instead map[string]string
}

// sift empties what does not go of a value that stands in a field, as deep as it goes. What a
// pointer, a list, a map or an interface holds is copied first: others hold it too.
func (s sieve) sift(v reflect.Value, field string) {
	if !v.CanSet() { // of another package's own: tests list those with texts in them, and hold that none of these is printed
		return
	}
	switch v.Kind() {
	case reflect.String:
		if v.Type() == reflect.TypeFor[string]() && v.String() != "" && !s.through(field) {
			v.SetString(s.instead[field])
		}
	case reflect.Pointer:
		if !v.IsNil() && v.Type() != reflect.TypeFor[*knowledge.Tables]() {
			own := reflect.New(v.Type().Elem())
			own.Elem().Set(v.Elem())
			s.sift(own.Elem(), field)
			v.Set(own)
		}
	case reflect.Interface:
		switch {
		case v.IsNil():
		case v.Type() == reflect.TypeFor[error](): // its words may name files and people
			v.SetZero()
		default:
			own := reflect.New(v.Elem().Type()).Elem()
			own.Set(v.Elem())
			s.sift(own, field)
			v.Set(own)
		}
	case reflect.Array:
		for i := range v.Len() {
			s.sift(v.Index(i), field)
		}
	case reflect.Slice:
		if v.IsNil() || v.Type().Elem().Kind() == reflect.Uint8 {
			return
		}
		own := reflect.MakeSlice(v.Type(), v.Len(), v.Len())
		reflect.Copy(own, v)
		for i := range own.Len() {
			s.sift(own.Index(i), field)
		}
		v.Set(own)
	case reflect.Map:
		s.siftMap(v, field)
	case reflect.Struct:
		for i := range v.NumField() {
			s.sift(v.Field(i), fieldOf(v.Type(), i))
		}
	}
}

func (s sieve) siftMap(v reflect.Value, field string) {
	if v.IsNil() {
		return
	}
	if v.Type().Key() == reflect.TypeFor[string]() && !s.through(field) {
		v.SetZero()
		return
	}
	own := reflect.MakeMapWithSize(v.Type(), v.Len())
	for _, key := range v.MapKeys() {
		one := reflect.New(v.Type().Elem()).Elem()
		one.Set(v.MapIndex(key))
		if gap, is := one.Interface().(model.Gap); is {
			if gap.Kind == model.GapText {
				gap = model.KeyGap(unnamed(key.String()))
			}
			one.Set(reflect.ValueOf(gap))
		} else {
			s.sift(one, field)
		}
		own.SetMapIndex(key, one)
	}
	v.Set(own)
}

func (s sieve) through(field string) bool {
	_, through := s.goes[field]
	return through
}

// fieldOf is what goes calls the i-th field of a type.
func fieldOf(t reflect.Type, i int) string {
	name, _, _ := strings.Cut(t.String(), "[") // of a type with a type in it, the first alone
	return name + "." + t.Field(i).Name
}
