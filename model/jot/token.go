package jot

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"coilward/model"
)

// Longest is the most signs that a line may have.
const Longest = 500

// token is one word of a line.
type token struct {
	from, to int    // in bytes of the line
	text     string // as typed, without quotes
	folded   string
	quoted   bool
	comma    bool // a comma or the like stands behind it
	colon    bool
}

func parts(r rune) bool { return unicode.IsSpace(r) || r == ',' || r == ';' }

// quotes are the pairs that a name may stand in.
func quotes(open rune) (closing string) {
	switch open {
	case '"':
		return `"`
	case '“':
		return "”"
	case '„':
		return "“”"
	case '»':
		return "«"
	case '«':
		return "»"
	}
	return ""
}

// split parts a line into words. A comma between two digits belongs to the number.
func split(line string) ([]token, *model.Refusal) {
	if n := utf8.RuneCountInString(line); n > Longest {
		return nil, refuse(line, "text.long", map[string]model.Gap{"Signs": model.CountGap(n), "Most": model.CountGap(Longest)})
	}
	if !utf8.ValidString(line) || strings.ContainsFunc(line, func(r rune) bool { return unicode.IsControl(r) && r != '\t' }) {
		return nil, refuse(line, "text.control", nil)
	}
	var tokens []token
	for at := 0; at < len(line); {
		r, size := utf8.DecodeRuneInString(line[at:])
		switch {
		case unicode.IsSpace(r):
			at += size
		case r == ',' || r == ';':
			if n := len(tokens); n > 0 {
				tokens[n-1].comma = true
			}
			at += size
		default:
			t := next(line, at)
			tokens = append(tokens, t)
			at = t.to
			if t.colon {
				at++
			}
		}
	}
	return tokens, nil
}

// next is the word that begins at a byte of the line.
func next(line string, at int) token {
	first, size := utf8.DecodeRuneInString(line[at:])
	if closing := quotes(first); closing != "" {
		if end := strings.IndexAny(line[at+size:], closing); end > 0 {
			end += at + size
			_, last := utf8.DecodeRuneInString(line[end:])
			if rest := line[end+last:]; rest == "" || strings.IndexFunc(rest, parts) == 0 || rest[0] == ':' {
				text := line[at+size : end]
				return token{from: at, to: end + last, text: text, folded: fold(text), quoted: true, colon: strings.HasPrefix(rest, ":")}
			}
		}
	}
	to := at
	for to < len(line) {
		r, size := utf8.DecodeRuneInString(line[to:])
		if parts(r) && !(r == ',' && digitAt(line, to-1) && digitAt(line, to+1)) {
			break
		}
		to += size
	}
	t := token{from: at, to: to}
	if to-at > 1 && line[to-1] == ':' {
		t.to, t.colon = to-1, true
	}
	t.text = line[t.from:t.to]
	t.folded = fold(t.text)
	return t
}

func digitAt(line string, at int) bool {
	return at >= 0 && at < len(line) && line[at] >= '0' && line[at] <= '9'
}

func refuse(value, reason string, gaps map[string]model.Gap) *model.Refusal {
	return &model.Refusal{Field: "line", Value: value, Reason: reason, Gaps: gaps, Answer: model.Mend}
}
