package main

import (
	"fmt"
	"io"
	"maps"
	"strings"
	"unicode"

	"coilward/model"
)

// longestSaid is how many signs of one thing a line has room for; a path is said
// whole.
const longestSaid = 200

// oneLine is a text of any origin on one line: what would break it is a space, what
// would steer the terminal a sign for it, and what is longer than most signs ends
// with …; 0: however long it is.
func oneLine(said string, most int) string {
	said = strings.Join(strings.Fields(strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r): // the separators of lines and paragraphs too
			return ' '
		case unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r):
			return unicode.ReplacementChar
		}
		return r
	}, said)), " ")
	if signs := []rune(said); most > 0 && len(signs) > most {
		return string(signs[:most]) + "…"
	}
	return said
}

// inLine are gaps that can neither break a line nor make it look like two.
func inLine(with gaps) gaps {
	said := maps.Clone(with)
	for name, value := range said {
		if text, is := value.(string); is {
			said[name] = oneLine(text, mostOf(name))
		}
	}
	return said
}

// mostOf is how many signs a gap may have: a path, and what was put together of
// others, is said whole.
func mostOf(gap string) int {
	switch gap {
	case "File", "Folder", "Problem", "Twin":
		return 0
	}
	return longestSaid
}

// line says something, on one line whatever it names.
func (p *program) line(key string, with gaps) {
	fmt.Fprintln(p.out, p.text.Say(key, inLine(with)))
}

// counted is line for a text that depends on a number.
func (p *program) counted(key string, n int, with gaps) {
	fmt.Fprintln(p.out, p.text.Count(key, n, inLine(with)))
}

// refusal is a refusal on one line.
func (p *program) refusal(r *model.Refusal) string {
	said := *r
	said.Gaps = maps.Clone(r.Gaps)
	for name, gap := range said.Gaps {
		if gap.Kind == model.GapText {
			gap.Text = oneLine(gap.Text, mostOf(name))
			said.Gaps[name] = gap
		}
	}
	return oneLine(p.text.Refusal(&said), 0)
}

// plain writes lines without what would steer a terminal: names and damaged data
// come from files of any kind. Each call writes whole characters.
type plain struct{ to io.Writer }

// Write implements io.Writer.
func (p plain) Write(line []byte) (int, error) {
	said := strings.Map(func(r rune) rune {
		if r != '\n' && r != '\t' && (unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r)) {
			return unicode.ReplacementChar
		}
		return r
	}, string(line))
	if _, err := io.WriteString(p.to, said); err != nil {
		return 0, err
	}
	return len(line), nil
}
