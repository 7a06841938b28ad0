package model

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// CheckText tells what of a text cannot stand: signs that cannot be written, or
// more than so many of them. Line breaks and tabs may stand in it.
func CheckText(field, value string, most int) *Refusal {
	refusal := &Refusal{Field: field, Value: value, Answer: Mend}
	if !utf8.ValidString(value) || strings.ContainsFunc(value, unwritable) {
		refusal.Reason = "text.control"
		return refusal
	}
	if n := utf8.RuneCountInString(value); n > most {
		refusal.Reason, refusal.Gaps = "text.long", map[string]Gap{"Signs": CountGap(n), "Most": CountGap(most)}
		return refusal
	}
	return nil
}

// CheckLine tells what of a text of one line cannot stand: what CheckText says,
// a line break or a tab, or that nothing of it can be seen though it is not
// empty.
func CheckLine(field, value string, most int) *Refusal {
	if r := CheckText(field, value, most); r != nil {
		return r
	}
	if strings.ContainsAny(value, "\n\t\u2028\u2029") || value != "" && !strings.ContainsFunc(value, visible) {
		return &Refusal{Field: field, Value: value, Reason: "text.control", Answer: Mend}
	}
	return nil
}

// unwritable are control signs, the sign that stands for unreadable bytes, and
// those that turn the direction of what follows them.
func unwritable(r rune) bool {
	turns := r >= '\u202a' && r <= '\u202e' || r >= '\u2066' && r <= '\u2069'
	return unicode.IsControl(r) && r != '\n' && r != '\t' || r == utf8.RuneError || turns
}

func visible(r rune) bool {
	return unicode.IsGraphic(r) && !unicode.IsSpace(r) && !unicode.Is(unicode.Mn, r) && r != '\u2800' && r != '\u3164' && r != '\u115f' && r != '\u1160'
}
