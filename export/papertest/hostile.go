package papertest

import (
	"strings"
	"testing"

	"coilward/export/paper"
	"coilward/model/care"
)

// Hostile are texts that a paper must survive, by what is hard about them.
func Hostile() map[string]string {
	return map[string]string{
		"long name":       "Anneliese-Wilhelmina von der Großen Schlangenhöhle zu Unterwiesenthal an der Zschopau",
		"one long word":   strings.Repeat("ñ", 3000),
		"10,000 signs":    strings.Repeat("She drank, then went back. ", 371),
		"many lines":      strings.Repeat("line\n", 400),
		"emoji":           "🐍 fed 🐁 👍🏽 👩‍👩‍👧",
		"zero":            "a\x00b\x00",
		"cut UTF-8":       "Gr\xc3 \xf0\x9f\x90",
		"right to left":   "נחש \u202egpj.\u202c ثعبان",
		"marks and signs": "*bold* _under_ \x01x\x03 {{.Name}} %s \\ ( ) <b>",
		"combined":        strings.Repeat("a\u0301\u0308\u0323", 50),
		"spaces":          " \u00a0 \u2009 \u3000 \t ",
	}
}

// Typed is Bramble with the same text typed into every field that takes one.
func Typed(t testing.TB, typed string) paper.Facts {
	f := Bramble(t)
	a := &f.Animal
	a.Name, a.Code, a.Morph, a.Origin, a.Permits, a.From, a.Chip.Digits = typed, typed, typed, typed, typed, typed, typed
	for i := range f.Problems {
		p := &f.Problems[i]
		p.What = "other"
		for k := range p.Glimpses {
			p.Glimpses[k].Note = typed
		}
	}
	for i := range f.Checks {
		f.Checks[i].By, f.Checks[i].Note = typed, typed
	}
	f.Weights[0].Body.Note, f.Meals[0].Body.Note, f.Sheds[0].Body.Note, f.Waste[0].Body.Note = typed, typed, typed, typed
	sample := &f.Samples[0]
	sample.Lab, sample.Site, sample.Note = typed, typed, typed
	for i := range sample.Results {
		sample.Results[i].Report, sample.Results[i].Note, sample.Results[i].Why = typed, typed, typed
	}
	f.Notes = append(f.Notes, paper.Dated[care.Note]{At: f.Issued, By: typed, Body: care.Note{Text: typed}})
	f.Photos[0].Caption = typed
	f.Unknown = map[string]int{typed: 3}
	f.Version = typed
	f.Issued.Zone = typed
	return f
}
