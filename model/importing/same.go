package importing

import (
	"encoding/json"
	"fmt"
	"strings"

	"coilward/model"
	"coilward/model/care"
)

// Sameness is alike of two entries about one animal that say the same of the
// same moment, as exactly as that is known. How a quantity was typed makes no
// difference.
func Sameness(at model.Moment, b care.Body) string {
	when := at.Day().String()
	if at.Precision == model.ToMinute {
		when = fmt.Sprint(at.UTC / 60)
	}
	raw, err := json.Marshal(plain(b))
	if err != nil {
		// a body is numbers and texts, which can always be written
		panic(fmt.Sprintf("write a body of kind %s: %v", b.Kind(), err))
	}
	return when + " " + b.Kind() + " " + string(raw)
}

// plain is the body without what a table cannot say, which are its photos, the
// scale and how its quantities were typed, without the batch of feeders, which makes
// no other meal, and without spaces around its words.
func plain(b care.Body) care.Body {
	switch b := b.(type) {
	case care.Weight:
		b.Mass.Typed, b.With, b.Beside = "", model.InstrumentID{}, unpictured(b.Beside)
		return b
	case care.Meal:
		b.Each.Typed, b.Batch, b.Beside = "", model.BatchID{}, unpictured(b.Beside)
		return b
	case care.Shed:
		b.Beside = unpictured(b.Beside)
		return b
	case care.Waste:
		b.Beside = unpictured(b.Beside)
		return b
	case care.Note:
		b.Text, b.Photos = strings.TrimSpace(b.Text), nil
		return b
	}
	return b
}

func unpictured(b care.Beside) care.Beside { return care.Beside{Note: strings.TrimSpace(b.Note)} }
