package table

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// A spreadsheet takes a cell that begins with one of these signs for a formula.
// Source: OWASP, "CSV Injection": equals, plus, minus, at, tab, carriage return
// and line feed, and their full-width forms.
const dangerous = "=+-@\t\r\n＝＋－＠"

// quote before a dangerous beginning makes it a text.
const quote = "'"

// neutralised is a text that no spreadsheet takes for a formula. A text that
// already stands behind such quotes gets one more, so that restored undoes it.
func neutralised(text string) string {
	if begins(text) {
		return quote + text
	}
	return text
}

// restored is the text that was neutralised.
func restored(cell string) string {
	if rest, quoted := strings.CutPrefix(cell, quote); quoted && begins(rest) {
		return rest
	}
	return cell
}

// begins reports whether a text begins dangerously behind its quotes and spaces:
// some programs leave out the spaces before a formula.
func begins(text string) bool {
	text = strings.TrimLeftFunc(text, func(r rune) bool {
		return strings.ContainsRune(quote, r) || unicode.IsSpace(r) && !strings.ContainsRune(dangerous, r)
	})
	r, size := utf8.DecodeRuneInString(text)
	return size > 0 && r != utf8.RuneError && strings.ContainsRune(dangerous, r)
}

// Neutralised is a text as a cell that no spreadsheet takes for a formula.
func Neutralised(text string) string { return neutralised(text) }
