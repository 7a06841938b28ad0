package table

import (
	"strings"
	"unicode"

	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/samples"
	"coilward/model/wording"
)

// Words are what columns and values are called, in every language.
type Words struct {
	headings map[Field][]string          // as said, folded
	sheets   map[Listing][]string        // what sheets and files are called
	values   map[Field]map[string]string // word → value
	keys     map[Field]map[string]string // value → the key of its text
	names    map[Field]map[string]bool   // words by which a value itself goes, in any language
	units    map[string]string           // word → unit
	text     *wording.Text               // to read quantities and days with
}

// NewWords reads the words from the texts of all languages. What a thing is
// called on the screen is a word for it, and "movein.also." says more of them,
// parted by bars.
func NewWords(languages *wording.Languages, tables *knowledge.Tables) *Words {
	w := &Words{headings: map[Field][]string{}, sheets: map[Listing][]string{}, values: map[Field]map[string]string{}, keys: map[Field]map[string]string{}, names: map[Field]map[string]bool{}, units: units(), text: languages.In("en", wording.Units{})}
	for _, code := range languages.Codes() {
		t := languages.In(code, wording.Units{})
		for _, l := range Listings() {
			w.sheets[l] = append(w.sheets[l], also(t, "movein.lists."+string(l), string(l))...)
			for _, f := range l.Fields() {
				w.headings[f] = append(w.headings[f], also(t, "field."+string(f), string(f))...)
			}
		}
		for _, set := range sets(tables) {
			w.keys[set.field] = set.values
			words := w.values[set.field]
			if words == nil {
				words = map[string]string{}
				w.values[set.field], w.names[set.field] = words, map[string]bool{}
			}
			for value, key := range set.values {
				w.names[set.field][folded(t.Say(key))], w.names[set.field][folded(value)] = true, true
				for _, word := range append(also(t, key, string(set.field)+"."+key[strings.LastIndexByte(key, '.')+1:]), folded(value)) {
					if _, taken := words[word]; !taken && word != "" {
						words[word] = value
					}
				}
			}
		}
	}
	for _, s := range tables.SpeciesList() {
		if s.Latin != "" {
			w.values[Species][folded(s.Latin)] = string(s.ID)
		}
	}
	return w
}

// also are the text of a key and the other words for what has that name.
func also(t *wording.Text, key, name string) []string {
	all := []string{folded(t.Say(key))}
	if more := "movein.also." + name; t.Has(more) {
		for _, word := range strings.Split(t.Say(more), "|") {
			all = append(all, folded(word))
		}
	}
	return all
}

// set are the values of a field with the keys of their texts.
type set struct {
	field  Field
	values map[string]string
}

func sets(tables *knowledge.Tables) []set {
	var species []knowledge.SpeciesID
	for _, s := range tables.SpeciesList() {
		species = append(species, s.ID)
	}
	told := choices("care.told.", true, care.Yes, care.No)
	return []set{
		{Species, choices("species.", false, species...)},
		{Sex, choices("animals.sex.", true, animals.Female, animals.Male)},
		{SexHow, choices("animals.sex-how.", false, animals.SexHows()...)},
		{SourceOf, choices("animals.source.", false, animals.SourceCodes()...)},
		{Status, choices("animals.status.", false, animals.Statuses()...)},
		{ChipKind, choices("animals.chip.", false, animals.ChipISO, animals.ChipOther)},
		{ChipSite, choices("animals.chip-site.", false, animals.ChipSites()...)},
		{Gut, choices("care.gut.", true, care.Guts()...)},
		{Prey, choices("care.prey.", false, care.Preys()...)},
		{PreySize, choices("care.prey-size.", false, care.PreySizes()...)},
		{PreyState, choices("care.prey-state.", false, care.PreyStates()...)},
		{Outcome, choices("care.outcome.", false, care.Outcomes()...)},
		{Skin, choices("care.skin.", true, care.Whole, care.InPieces)},
		{EyeCaps, told}, {TailTip, told},
		{Faeces, choices("care.faeces.", false, care.FaecesTraits()...)},
		{Urates, choices("care.urates.", false, care.UratesTraits()...)},
		{Material, choices("material.", false, ids(tables.Materials(), func(m knowledge.Material) knowledge.MaterialID { return m.ID })...)},
		{LookedFor, choices("agent.", false, ids(tables.Agents(), func(a knowledge.Agent) knowledge.AgentID { return a.ID })...)},
		{SampleOutcome, choices("samples.outcome.", false, samples.Outcomes()...)},
		{Method, choices("method.", false, knowledge.Methods()...)},
		{Void, choices("samples.why.", false, samples.Whys()...)},
		{placeKind, choices("husbandry.place-kind.", false, husbandry.PlaceKinds()...)},
	}
}

func ids[T any, ID ~string](all []T, of func(T) ID) (found []ID) {
	for _, one := range all {
		found = append(found, of(one))
	}
	return found
}

// choices are values with the keys of their texts; unknown is the zero value's.
func choices[T ~string](prefix string, unknown bool, values ...T) map[string]string {
	all := map[string]string{}
	for _, v := range values {
		all[string(v)] = prefix + string(v)
	}
	if unknown {
		all[""] = prefix + "unknown"
	}
	return all
}

// folded is a word as words are compared: without case, and with every sign that
// is no letter and no digit as a space.
func folded(word string) string {
	return strings.Join(strings.FieldsFunc(animals.Fold(word), func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r) && !strings.ContainsRune("?.%", r)
	}), " ")
}

// units are the words for the units that a heading or a cell may name.
func units() map[string]string {
	return map[string]string{
		"g": "g", "gr": "g", "gramm": "g", "gram": "g", "grams": "g", "kg": "kg", "kilo": "kg", "kilogramm": "kg", "kilogram": "kg", "kilograms": "kg",
		"oz": "oz", "ounce": "oz", "ounces": "oz", "unzen": "oz", "lb": "lb", "lbs": "lb", "pound": "lb", "pounds": "lb",
		"mm": "mm", "cm": "cm", "m": "m", "in": "in", "inch": "in", "inches": "in", "zoll": "in", "ft": "ft", "feet": "ft",
	}
}

// heading is a heading apart: its words, and the unit that it names at its end.
func (w *Words) heading(text string) (words, unit string) {
	words = strings.ReplaceAll(folded(text), ".", "")
	if i := strings.LastIndexByte(words, ' '); i > 0 {
		if found, ok := w.units[words[i+1:]]; ok {
			return strings.TrimSuffix(words[:i], " in"), found
		}
	}
	return words, ""
}

// named is the field of a listing that the words of a heading stand for.
func (w *Words) named(l Listing, words string) Field {
	for _, f := range l.Fields() {
		for _, name := range w.headings[f] {
			if strings.ReplaceAll(name, ".", "") == words {
				return f
			}
		}
	}
	return NotTaken
}

// another reports whether a word is none by which a value of the field goes itself,
// but one that stands for it.
func (w *Words) another(f Field, word string) bool { return !w.names[f][folded(word)] }

// value is what a word stands for.
func (w *Words) value(f Field, word string) (string, bool) {
	word = folded(word)
	v, ok := w.values[f][word]
	if !ok {
		v, ok = w.values[f][strings.Trim(word, ". ")]
	}
	return v, ok
}
