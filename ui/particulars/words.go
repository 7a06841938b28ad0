package particulars

import (
	"unicode"
	"unicode/utf8"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/wording"
)

// SexSign is the sign of the sex, or nothing where it is not known.
func SexSign(s animals.Sex) string {
	switch s {
	case animals.Female:
		return "♀"
	case animals.Male:
		return "♂"
	}
	return ""
}

// SexWord is the word for the sex.
func SexWord(t *wording.Text, s animals.Sex) string {
	if s == animals.SexUnknown {
		return Capital(t.Say("animals.sex.unknown"))
	}
	return Capital(t.Say("animals.sex." + string(s)))
}

// Hatched says when an animal hatched and how old it is on a day; empty where
// nothing is known.
func Hatched(t *wording.Text, d model.Date, today model.Day) string {
	if d.IsZero() {
		return ""
	}
	age := t.Age(d, today)
	if age == "" {
		return t.Say("particulars.hatched", wording.Gaps{"Date": d})
	}
	return t.Say("particulars.hatched-age", wording.Gaps{"Date": d, "Age": age})
}

// Change says how a mass stands against an earlier one: "36 g less".
func Change(t *wording.Text, now, before model.Mass) string {
	switch d := now.Milligrams - before.Milligrams; {
	case d > 0:
		return t.Say("change.more", wording.Gaps{"Mass": model.Mass{Milligrams: d}})
	case d < 0:
		return t.Say("change.less", wording.Gaps{"Mass": model.Mass{Milligrams: -d}})
	}
	return t.Say("change.same")
}

// Capital is the text with its first letter large, as a choice or a title of its
// own begins.
func Capital(s string) string {
	first, size := utf8.DecodeRuneInString(s)
	if size == 0 {
		return s
	}
	return string(unicode.ToUpper(first)) + s[size:]
}

// Lower is the text with its first letter small, as it stands inside a sentence.
func Lower(s string) string {
	first, size := utf8.DecodeRuneInString(s)
	if size == 0 {
		return s
	}
	return string(unicode.ToLower(first)) + s[size:]
}
