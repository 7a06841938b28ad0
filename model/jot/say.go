package jot

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"coilward/model"
	"coilward/model/care"
)

// Say writes a reading as a line that has this reading alone, in the words of a
// language: whom, what, the day in the form of ISO 8601, the note. The names must
// be those that it was read with, and now the present moment then. Two animals
// whose name and code are alike cannot be told apart in a line.
func (l *Lexicon) Say(r Reading, names Names, language string, now model.Moment) string {
	w := writing{lexicon: l, names: names, language: language}
	if r.Question != "" { // whatever is behind the name is asked
		w.when(r, now)
		w.add(w.usual(asked))
		w.whom(r)
		w.line.WriteByte(':')
		w.add(r.Question)
		return w.line.String()
	}
	w.whom(r)
	note := w.body(r.Body)
	if r.Cleaning != nil {
		w.add(said(&w, inClean, r.Cleaning.Extent))
		note = r.Cleaning.Note
	}
	w.when(r, now)
	if note != "" {
		w.add(w.usual(noted) + ":")
		w.add(note)
	}
	return w.line.String()
}

// when writes a moment that is not now.
func (w *writing) when(r Reading, now model.Moment) {
	if r.At == now {
		return
	}
	w.add(r.At.Day().String())
	if r.At.Precision == model.ToMinute {
		w.add(r.At.Time().Format("15:04"))
	}
}

// writing is a line as far as it is written.
type writing struct {
	lexicon  *Lexicon
	names    Names
	language string
	line     strings.Builder
}

func (w *writing) add(words ...string) {
	for _, word := range words {
		if word == "" {
			continue
		}
		if w.line.Len() > 0 {
			w.line.WriteByte(' ')
		}
		w.line.WriteString(word)
	}
}

// usual is the first word for a meaning; that of another language where this one
// has none.
func (w *writing) usual(m meaning) string {
	if word := w.lexicon.usual[w.language][m]; word != "" {
		return word
	}
	for _, code := range w.lexicon.Languages() {
		if word := w.lexicon.usual[code][m]; word != "" {
			return word
		}
	}
	return ""
}

// said is the usual word for a value; empty for none.
func said[T ~string](w *writing, group string, value T) string {
	if value == "" {
		return ""
	}
	return w.usual(meaning(group + string(value)))
}

func (w *writing) whom(r Reading) {
	switch {
	case r.All:
		w.add(w.usual(all))
	case r.Group != "":
		w.add(w.quoted(r.Group))
	case r.Cleaning != nil:
		for i, id := range r.Places {
			if i > 0 {
				w.line.WriteByte(',')
			}
			w.add(w.quoted(w.names.Box(id).Name))
		}
	default:
		for i, id := range r.Animals {
			if i > 0 {
				w.line.WriteByte(',')
			}
			w.add(w.who(id))
		}
	}
}

// who is the shortest sure way to name an animal: its name, its code where others
// are called alike.
func (w *writing) who(id model.AnimalID) string {
	at := w.names.index(id)
	if at < 0 {
		return ""
	}
	a := w.names.animals[at]
	for _, name := range []string{a.Name, a.Code} {
		if full, _, _ := w.names.named(fold(strings.TrimSpace(name))); slices.Equal(full, []int{at}) {
			return w.quoted(name)
		}
	}
	return w.quoted(a.Name)
}

// quoted is a name, in quotes where it could be taken for something else.
func (w *writing) quoted(name string) string {
	name = strings.Join(strings.Fields(name), " ")
	folded := fold(name)
	_, _, longer := w.names.named(folded + " ")
	letters := !strings.ContainsFunc(name, func(r rune) bool { return !unicode.IsLetter(r) })
	if letters && !longer && w.lexicon.longest[folded] == 0 {
		return name
	}
	for _, pair := range []string{`""`, "»«", "“”", "«»"} {
		signs := []rune(pair)
		if !strings.ContainsRune(name, signs[1]) {
			return string(signs[0]) + name + string(signs[1])
		}
	}
	return name
}

// body writes what a reading notes, and gives the note that belongs at the end.
func (w *writing) body(b Body) (note string) {
	switch b := b.(type) {
	case care.Weight:
		if b.Gut != "" {
			w.add(w.usual(weighs)) // "fed" alone may be a meal
		}
		w.add(mass(b.Mass), said(w, inGut, b.Gut))
		return b.Note
	case care.Meal:
		w.meal(b)
		return b.Note
	case care.Shed:
		w.shed(b)
		return b.Note
	case care.Blue:
		w.add(w.usual(inBlue))
		return b.Note
	case care.Waste:
		w.traits(faeces, b.Faeces)
		if len(b.Faeces) > 0 && len(b.Urates) > 0 {
			w.line.WriteByte(',')
		}
		w.traits(urates, b.Urates)
		return b.Note
	case care.MiteLook:
		w.add(w.usual(mites))
		for _, where := range b.Where {
			w.add(said(w, inWhere, where))
		}
		w.add(strconv.Itoa(int(b.Grade)))
		return b.Note
	case care.Note:
		return b.Text
	}
	return ""
}

func (w *writing) meal(m care.Meal) {
	w.add(said(w, inOutcome, m.Outcome))
	if m.Count > 0 {
		w.add(fmt.Sprintf("%dx", m.Count))
	}
	w.add(said(w, inSize, m.Size), said(w, inPrey, m.Prey))
	if !m.Each.IsZero() {
		w.add(mass(m.Each))
	}
	w.add(said(w, inState, m.State))
}

func (w *writing) shed(s care.Shed) {
	told := func(t care.Told, left, off meaning) string {
		switch t {
		case care.Yes:
			return w.usual(left)
		case care.No:
			return w.usual(off)
		}
		return ""
	}
	w.add(w.usual(shed), said(w, inSkin, s.Skin), told(s.StuckEyeCaps, capsLeft, capsOff), told(s.StuckTailTip, tipLeft, tipOff))
}

func (w *writing) traits(section meaning, traits []care.Trait) {
	if len(traits) == 0 {
		return
	}
	w.add(w.usual(section))
	for _, t := range traits {
		w.add(said(w, inTrait, t))
	}
}

// mass writes a mass to the milligram so that no sign in it can part thousands:
// in grams with at most two decimals, or in kilograms with six.
func mass(m model.Mass) string {
	places, of, unit := 2, int64(1000), "g"
	if m.Milligrams%10 != 0 {
		places, of, unit = 6, 1_000_000, "kg"
	}
	text := strconv.FormatInt(m.Milligrams/of, 10)
	if rest := m.Milligrams % of; rest != 0 {
		decimals := fmt.Sprintf("%0*d", len(strconv.FormatInt(of, 10))-1, rest)[:places]
		if unit == "g" {
			decimals = strings.TrimRight(decimals, "0")
		}
		text += "." + decimals
	}
	return text + " " + unit
}
