package body

import (
	"strconv"
	"strings"
	"unicode"

	"coilward/model"
)

// ParsePlace reads a place as people type it, in English or German: a percent of
// snout–vent length and a side, in either order ("62 left", "62 l", "belly 40",
// "62,5 % links"), or of the tail ("tail 30", "Schwanz 30 rechts"). Without a
// side it is the middle of the back. What cannot be read is a *model.Refusal of
// the field "place".
func ParsePlace(text string) (Place, error) {
	r := reading{text: text, along: -1}
	for _, word := range words(text) {
		if err := r.word(word); err != nil {
			return Place{}, err
		}
	}
	switch {
	case r.along < 0:
		return Place{}, r.refuse("place.number", "")
	case r.tail:
		return OnTail(r.along, r.angle), nil
	}
	return OnTrunk(r.along, r.angle), nil
}

type reading struct {
	text        string
	along       int // −1: none yet
	angle       int
	sided, tail bool
}

func (r *reading) refuse(reason, word string) error {
	return &model.Refusal{Field: "place", Value: r.text, Reason: reason,
		Gaps: map[string]model.Gap{"Word": model.TextGap(word)}, Answer: model.Mend}
}

func (r *reading) word(word string) error {
	if unicode.IsDigit(rune(word[0])) {
		return r.number(word)
	}
	switch angle, known := sideNamed(word); {
	case known && r.sided:
		return r.refuse("place.twice", word)
	case known:
		r.angle, r.sided = angle, true
	case word == "tail" || word == "schwanz":
		r.tail = true
	case word == "%":
	default:
		return r.refuse("place.word", word)
	}
	return nil
}

func (r *reading) number(word string) error {
	if r.along >= 0 {
		return r.refuse("place.twice", word)
	}
	v, err := strconv.ParseFloat(strings.Replace(word, ",", ".", 1), 64)
	if err != nil {
		return r.refuse("place.word", word)
	}
	if !(v <= 100) {
		return r.refuse("place.range", word)
	}
	r.along = int(v*100 + .5)
	return nil
}

// words cuts the text at spaces and where digits meet letters, in small letters.
func words(text string) []string {
	var out []string
	for _, field := range strings.Fields(strings.ToLower(text)) {
		for field != "" {
			n := numberLength(field)
			if n == 0 {
				n = wordLength(field)
			}
			out = append(out, field[:n])
			field = field[n:]
		}
	}
	return out
}

func numberLength(s string) int {
	n := 0
	for n < len(s) && (s[n] >= '0' && s[n] <= '9' || n > 0 && (s[n] == '.' || s[n] == ',')) {
		n++
	}
	return n
}

func wordLength(s string) int {
	if s[0] == '%' {
		return 1
	}
	for i := 1; i < len(s); i++ {
		if s[i] >= '0' && s[i] <= '9' || s[i] == '%' {
			return i
		}
	}
	return len(s)
}

// sideNamed is the angle that a word or its first letter stands for.
func sideNamed(word string) (angle int, known bool) {
	switch word {
	case "l", "left", "links":
		return 90, true
	case "r", "right", "rechts":
		return -90, true
	case "b", "belly", "bauch":
		return 180, true
	case "back", "top", "rücken", "ruecken", "oben":
		return 0, true
	}
	return 0, false
}

// FromSpans is the share of snout–vent length (0–10000) after so many
// hand-spans from the snout, given in tenths of a span, with the span's and the
// animal's snout–vent length in one unit; not ok past the vent or without lengths.
func FromSpans(tenths int, span, snoutVent int64) (along int, ok bool) {
	if tenths < 0 || span <= 0 || snoutVent <= 0 {
		return 0, false
	}
	a := (int64(tenths)*span*Full/10 + snoutVent/2) / snoutVent
	return int(a), a <= Full
}

// FromBellyScale is the share of snout–vent length (0–10000) at a belly scale
// counted from the first behind the throat (1) of so many before the vent. The
// scales lie evenly along the trunk behind the head.
func FromBellyScale(scale, count int) (along int, ok bool) {
	if scale < 1 || scale > count || count > 1000 {
		return 0, false
	}
	return HeadShare + ((2*scale-1)*(Full-HeadShare)+count)/(2*count), true
}
