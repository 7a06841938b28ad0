package wording

import (
	"strings"
	"unicode/utf8"

	"github.com/nicksnyder/go-i18n/v2/i18n"
)

func pseudoTexts(english map[string]*i18n.Message) map[string]*i18n.Message {
	texts := make(map[string]*i18n.Message, len(english))
	for key, m := range english {
		made := *m
		for _, form := range []*string{&made.Zero, &made.One, &made.Two, &made.Few, &made.Many, &made.Other} {
			if *form != "" {
				*form = pseudo(*form)
			}
		}
		texts[key] = &made
	}
	return texts
}

// pseudo keeps the gaps and makes everything else longer and accented.
func pseudo(english string) string {
	accents := strings.NewReplacer("a", "á", "e", "é", "i", "î", "o", "ö", "u", "ü", "A", "Å", "E", "Ê", "O", "Ø", "U", "Ü", "c", "ç", "n", "ñ", "s", "š", "y", "ý", "z", "ž")
	var b strings.Builder
	words := 0
	for rest := english; rest != ""; {
		plain, gap := rest, ""
		if from := strings.Index(rest, "{{"); from >= 0 {
			if to := strings.Index(rest[from:], "}}"); to >= 0 {
				plain, gap = rest[:from], rest[from:from+to+2]
			}
		}
		b.WriteString(accents.Replace(plain))
		b.WriteString(gap)
		words += utf8.RuneCountInString(plain)
		rest = rest[len(plain)+len(gap):]
	}
	more := max(2, words*4/10) - 2 // the brackets count
	return "[" + b.String() + padding(max(more, 0)) + "]"
}

// padding is so many signs, in words no longer than those of a language.
func padding(signs int) string {
	var b strings.Builder
	for i := range signs {
		if i%7 == 6 {
			b.WriteByte(' ')
			continue
		}
		b.WriteByte('~')
	}
	return b.String()
}
