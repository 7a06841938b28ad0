package jotting

import (
	"slices"
	"strconv"
	"strings"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/jot"
	"coilward/model/wording"
	"coilward/ui/particulars"
)

// sentence says what a reading would note: of whom, what and when.
func sentence(t *wording.Text, r jot.Reading, names jot.Names, now model.Moment) string {
	whom, said := who(t, r, names), what(t, r.Body)
	if c := r.Cleaning; c != nil {
		whom, said = boxes(t, r, names), joined(t.Say("husbandry.extent."+string(c.Extent)), note(t, c.Note))
	}
	if r.Question != "" {
		said = t.Say("jot.question", wording.Gaps{"Text": r.Question})
	}
	return particulars.Capital(t.Say("jot.said", wording.Gaps{"Who": whom, "What": said, "When": when(t, r.At, now)}))
}

// boxes are the boxes of a reading, with what they stand in.
func boxes(t *wording.Text, r jot.Reading, names jot.Names) string {
	shown := r.Places
	if len(shown) > mostNamed {
		shown = shown[:mostNamed-1]
	}
	var said []string
	for _, id := range shown {
		said = append(said, names.Box(id).Title)
	}
	if more := len(r.Places) - len(shown); more > 0 {
		return t.Count("jot.boxes.more", more, wording.Gaps{"Names": strings.Join(said, "; ")})
	}
	return strings.Join(said, "; ")
}

// mostNamed is how many animals are named one by one.
const mostNamed = 4

func who(t *wording.Text, r jot.Reading, names jot.Names) string {
	if r.All {
		return t.Count("jot.who.all", len(r.Animals))
	}
	shown := r.Animals
	if len(shown) > mostNamed {
		shown = shown[:mostNamed-1]
	}
	said := make([]string, len(shown))
	for i, id := range shown {
		said[i] = names.Name(id)
	}
	who := strings.Join(said, ", ")
	if more := len(r.Animals) - len(shown); more > 0 {
		who = t.Count("jot.who.more", more, wording.Gaps{"Names": who})
	}
	if r.Group != "" {
		who = t.Say("jot.who.group", wording.Gaps{"Group": r.Group, "Names": who})
	}
	return who
}

// when says of which moment it is; a day is named so that a slip shows.
func when(t *wording.Text, at, now model.Moment) string {
	switch {
	case at == now:
		return t.Say("jot.when.now")
	case at.Day() != now.Day():
		return t.Weekday(at.Day()) + ", " + t.Moment(at)
	case at.Precision == model.ToMinute:
		return t.Say("calendar.today") + ", " + t.Time(at)
	}
	return t.Say("calendar.today")
}

func what(t *wording.Text, b jot.Body) string {
	switch b := b.(type) {
	case care.Weight:
		return joined(t.Mass(b.Mass), value(t, "care.gut.", b.Gut), note(t, b.Note))
	case care.Meal:
		return joined(value(t, "care.outcome.", b.Outcome), prey(t, b), value(t, "care.prey-state.", b.State), note(t, b.Note))
	case care.Shed:
		return joined(t.Say("kind.shed"), value(t, "care.skin.", b.Skin), stuck(t, "field.stuck-eye-caps", b.StuckEyeCaps),
			stuck(t, "field.stuck-tail-tip", b.StuckTailTip), note(t, b.Note))
	case care.Blue:
		return joined(t.Say("kind.blue"), note(t, b.Note))
	case care.Waste:
		return joined(traits(t, "field.faeces", "care.faeces.", b.Faeces), traits(t, "field.urates", "care.urates.", b.Urates), note(t, b.Note))
	case care.MiteLook:
		return joined(t.Say("animal.day.mites", wording.Gaps{"Seen": t.Say("care.mites." + strconv.Itoa(int(b.Grade)))}),
			list(t, "care.mites.where.", b.Where), note(t, b.Note))
	case care.Note:
		return note(t, b.Text)
	}
	return ""
}

// joined puts pieces side by side, the empty ones left out.
func joined(pieces ...string) string {
	return strings.Join(slices.DeleteFunc(pieces, empty), " · ")
}

func empty(s string) bool { return s == "" }

// value is the word for a value; empty where nothing was said.
func value[T ~string](t *wording.Text, family string, v T) string {
	if v == "" {
		return ""
	}
	return t.Say(family + string(v))
}

func list[T ~string](t *wording.Text, family string, values []T) string {
	words := make([]string, len(values))
	for i, v := range values {
		words[i] = t.Say(family + string(v))
	}
	return strings.Join(words, ", ")
}

func traits(t *wording.Text, field, family string, seen []care.Trait) string {
	if len(seen) == 0 {
		return ""
	}
	return t.Say(field) + ": " + list(t, family, seen)
}

func stuck(t *wording.Text, field string, told care.Told) string {
	if told == care.NotLooked {
		return ""
	}
	return t.Say(field) + ": " + t.Say("care.told."+string(told))
}

func note(t *wording.Text, text string) string {
	if text == "" {
		return ""
	}
	return t.Say("jot.note", wording.Gaps{"Text": text})
}

// prey is what was offered, such as "2 × rat, small adult, 60 g each".
func prey(t *wording.Text, m care.Meal) string {
	what := value(t, "care.prey.", m.Prey)
	if m.Count > 0 {
		what = strings.TrimSpace(strconv.Itoa(m.Count) + " × " + what)
	}
	said := []string{what, value(t, "care.prey-size.", m.Size)}
	if !m.Each.IsZero() {
		said = append(said, t.Say("jot.meal.each", wording.Gaps{"Mass": m.Each}))
	}
	return strings.Join(slices.DeleteFunc(said, empty), ", ")
}

// why says why a line cannot be noted. The reasons of a line name its words
// themselves; those of an amount or a day are said with what was typed.
func why(t *wording.Text, p jot.Problem) string {
	if strings.HasPrefix(p.Refusal.Reason, "jot.") || strings.HasPrefix(p.Refusal.Reason, "note.") {
		return t.Why(p.Refusal)
	}
	return t.Refusal(p.Refusal)
}
