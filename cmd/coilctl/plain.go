package main

import (
	"io"
	"strings"
	"unicode"
)

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
