package wording

import (
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/nicksnyder/go-i18n/v2/i18n"

	"coilward/model"
)

// Text is one voice: a language and units. It does not change and may be used
// from any goroutine.
type Text struct {
	code      string
	units     Units
	catalogue *catalogue
	localizer *i18n.Localizer
	words     *calendarWords
	sources   map[string]string
}

// Gaps fill the gaps of a text by name. Strings stand as they are; int, int64,
// model.Mass, Length, Temperature, Day, Date, Moment and Gap are written as the
// language does.
type Gaps = map[string]any

// Language is the code, such as "en" or "de".
func (t *Text) Language() string { return t.code }

// Units are the units it speaks in.
func (t *Text) Units() Units { return t.units }

// Has reports whether there is a text of the key.
func (t *Text) Has(key string) bool { return t.catalogue.texts[key] != nil }

// Say is the text of a key with its gaps filled; a key without a text stands in
// ⟦brackets⟧.
func (t *Text) Say(key string, gaps ...Gaps) string {
	return t.localize(&i18n.LocalizeConfig{MessageID: key, TemplateData: t.fill(gaps)})
}

// Count is a text that depends on a number, which fills the gap Count.
func (t *Text) Count(key string, n int, gaps ...Gaps) string {
	data := t.fill(gaps)
	data["Count"] = t.Number(int64(n))
	return t.localize(&i18n.LocalizeConfig{MessageID: key, TemplateData: data, PluralCount: n})
}

func (t *Text) localize(c *i18n.LocalizeConfig) string {
	if !t.Has(c.MessageID) {
		return "⟦" + c.MessageID + "⟧"
	}
	said, err := t.localizer.Localize(c)
	if err != nil {
		return "⟦" + c.MessageID + "⟧"
	}
	said = strings.ReplaceAll(said, "<no value>", "⟦…⟧")
	return strings.ReplaceAll(strings.ReplaceAll(said, stopped+".", ""), stopped, "")
}

// stopped marks, while a text is put together, the end of what fills a gap and ends with a full
// stop, as a short month does: a full stop of the text behind it is left out.
const stopped = "\uE000"

func (t *Text) fill(all []Gaps) Gaps {
	data := Gaps{}
	for _, gaps := range all {
		for name, value := range gaps {
			data[name] = t.write(value)
			if said, is := data[name].(string); is && strings.HasSuffix(said, ".") {
				data[name] = said + stopped
			}
		}
	}
	return data
}

func (t *Text) write(value any) any {
	switch v := value.(type) {
	case int:
		return t.Number(int64(v))
	case int64:
		return t.Number(v)
	case model.Mass:
		return t.Mass(v)
	case model.Length:
		return t.Length(v)
	case model.Temperature:
		return t.Temperature(v)
	case model.Day:
		return t.Day(v)
	case model.Date:
		return t.Date(v)
	case model.Moment:
		return t.Moment(v)
	case model.Gap:
		return t.Gap(v)
	case model.Label:
		return t.Label(v)
	}
	return value
}

// Gap is a gap of a label or refusal, written out.
func (t *Text) Gap(g model.Gap) string {
	switch g.Kind {
	case model.GapKey:
		return t.Say(g.Text)
	case model.GapKeys:
		var said []string
		for _, key := range strings.Fields(g.Text) {
			said = append(said, t.Say(key))
		}
		return strings.Join(said, "; ")
	case model.GapTemperature:
		return t.Temperature(model.Temperature{Hundredths: g.Number})
	case model.GapMass:
		return t.Mass(model.Mass{Milligrams: g.Number})
	case model.GapLength:
		return t.Length(model.Length{Tenths: g.Number})
	case model.GapDay:
		return t.Day(model.Day(g.Number))
	case model.GapCount:
		return t.Number(g.Number)
	case model.GapShare:
		return t.Percent(int(g.Number))
	}
	return g.Text
}

// Label is a label in words. A gap named Count chooses the plural form.
func (t *Text) Label(l model.Label) string { return t.gapped(l.Key, l.Gaps) }

func (t *Text) gapped(key string, model map[string]model.Gap) string {
	gaps := Gaps{}
	for name, g := range model {
		gaps[name] = g
	}
	if count, ok := model["Count"]; ok {
		return t.Count(key, int(count.Number), gaps)
	}
	return t.Say(key, gaps)
}

// longestQuote is how much of a typed value is repeated in a refusal, in signs.
const longestQuote = 60

// Refusal says which field and value cannot stand, why, and what to do.
func (t *Text) Refusal(r *model.Refusal) string {
	gaps := Gaps{"Field": t.Say("field." + r.Field), "Value": quotable(t.told(r.Value)), "Why": t.Why(r)}
	if strings.TrimSpace(r.Value) == "" {
		return t.Say("wording.refusal.empty", gaps)
	}
	return t.Say("wording.refusal", gaps)
}

// Why is the refusal without field and value, to stand at the field itself.
func (t *Text) Why(r *model.Refusal) string { return t.gapped("refusal."+r.Reason, r.Gaps) }

// told is a value that cannot stand as the language writes it: a day in its own style,
// everything else as it was typed.
func (t *Text) told(value string) string {
	var day model.Day
	if len(value) == len("2006-01-02") && day.UnmarshalText([]byte(value)) == nil {
		return t.DayShort(day)
	}
	return value
}

func quotable(value string) string {
	value = strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7f || r == utf8.RuneError {
			return '·'
		}
		return r
	}, value)
	if utf8.RuneCountInString(value) > longestQuote {
		return string([]rune(value)[:longestQuote]) + "…"
	}
	return value
}

// Number is a whole number, with its thousands apart from 10,000 on.
func (t *Text) Number(n int64) string {
	digits := strconv.FormatInt(n, 10)
	sign := ""
	if n < 0 {
		sign, digits = "−", digits[1:]
	}
	if len(digits) > 4 {
		for i := len(digits) - 3; i > 0; i -= 3 {
			digits = digits[:i] + t.grouping() + digits[i:]
		}
	}
	return sign + digits
}

func (t *Text) german() bool { return t.code == "de" }

func (t *Text) grouping() string {
	if t.german() {
		return "."
	}
	return ","
}

func (t *Text) point() string {
	if t.german() {
		return ","
	}
	return "."
}
