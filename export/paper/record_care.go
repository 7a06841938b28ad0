package paper

import (
	"slices"
	"strconv"
	"strings"

	"coilward/model"
	"coilward/model/care"
)

// The widths of the columns of entries, in millimetres.
const (
	dayWidth  = 28
	massWidth = 20
)

func (r record) column(key string, fixed float64) Column {
	return Column{Title: r.say(key), Fixed: fixed, Style: smallStyle}
}

func (r record) noteColumn() Column {
	return Column{Title: r.say("paper.table.note"), Share: 1, Style: smallStyle}
}

// entryTables are the newest weights, meals, sheds, faeces and urates, and
// looks for mites.
func (r record) entryTables() []Block {
	var blocks []Block
	add := func(level int, key string, t Table, all int) {
		if all > 0 {
			blocks = append(blocks, Heading{Level: level, Text: r.say(key), Aside: r.ofAll(len(t.Rows), all)}, noted(t))
		}
	}
	add(3, "paper.table.weights", r.weightTable(), len(r.Weights))
	add(2, "paper.table.courses", r.courseTable(), len(r.Courses))
	add(2, "paper.table.visits", r.visitTable(), len(r.Visits))
	add(2, "paper.table.meals", r.mealTable(), len(r.Meals))
	add(2, "paper.table.sheds", r.shedTable(), len(r.Sheds))
	add(2, "paper.table.waste", r.wasteTable(), len(r.Waste))
	add(2, "paper.table.mites", r.miteTable(), len(r.MiteLooks))
	add(2, "paper.table.beside", r.besideTable(), len(r.Beside))
	add(2, "paper.table.power-cuts", r.powerCutTable(), len(r.PowerCuts))
	add(2, "paper.table.air", r.airTable(), len(r.Air.Lately))
	return blocks
}

// besideTable are the clutches, the times in blue, baths, fluids and treatments against
// mites, as they were noted.
func (r record) besideTable() Table {
	t := Table{Columns: []Column{r.column("paper.table.day", dayWidth), r.column("paper.table.what", 44), {Title: r.say("paper.table.how"), Share: 1, Style: smallStyle}, r.noteColumn()}}
	backwards(newest(r.Beside, printedEntries), func(b Dated[care.Body]) {
		how, note := r.beside(b.Body)
		t.Rows = append(t.Rows, []Cell{{Text: r.text.Day(b.At.Day())}, {Text: r.say("kind." + b.Body.Kind())}, {Text: how}, {Text: Clean(note)}})
	})
	return t
}

// beside is how such an entry says that it was, and what was noted with it.
func (r record) beside(b care.Body) (how, note string) {
	warm := func(c model.Temperature) string {
		if c.Hundredths == 0 {
			return ""
		}
		return r.text.Temperature(c)
	}
	switch b := b.(type) {
	case care.Clutch:
		if b.Eggs > 0 {
			how = r.text.Count("animal.day.clutch", b.Eggs)
		}
		return how, b.Note
	case care.Bath:
		minutes := ""
		if b.Minutes > 0 {
			minutes = r.text.Count("animal.day.bath", b.Minutes)
		}
		return strings.Join(filled(warm(b.Warm), minutes), ", "), b.Note
	case care.Fluids:
		return strings.Join(filled(Clean(b.What), Clean(b.Advised), warm(b.Warm)), "; "), b.Note
	case care.MiteTreatment:
		return strings.Join(filled(Clean(b.What), Clean(b.Advised)), "; "), b.Note
	case care.Blue:
		return "", b.Note
	}
	return "", ""
}

// noted is a table whose last column is for notes, without it where there is none: what
// was seen has its room.
func noted(t Table) Table {
	last := len(t.Columns) - 1
	if slices.ContainsFunc(t.Rows, func(row []Cell) bool { return row[last].Text != "" }) {
		return t
	}
	t.Columns = t.Columns[:last]
	for i, row := range t.Rows {
		t.Rows[i] = row[:last]
	}
	return t
}

func (r record) weightTable() Table {
	mass := Column{Title: r.say("paper.table.mass"), Fixed: massWidth, Align: AlignRight, Style: smallInk}
	t := Table{Columns: []Column{r.column("paper.table.day", dayWidth), mass, r.column("paper.table.gut", 38), r.noteColumn()}}
	backwards(newest(r.Weights, printedWeights), func(w Dated[care.Weight]) {
		gut := "unknown"
		if w.Body.Gut != care.GutUnknown {
			gut = string(w.Body.Gut)
		}
		t.Rows = append(t.Rows, []Cell{{Text: r.text.Day(w.At.Day())}, {Text: r.text.Mass(w.Body.Mass)}, {Text: r.say("care.gut." + gut)}, {Text: strings.Join(filled(r.doubt(w), Clean(w.Body.Note)), "; ")}})
	})
	return t
}

// doubt says that a weight was taken on a scale that failed its check; empty: it
// was not.
func (r record) doubt(w Dated[care.Weight]) string {
	name, doubtful := r.Scales.Doubts(w.Body.With, w.At)
	if !doubtful {
		return ""
	}
	return r.say("instruments.doubtful-weight", gaps{"Scale": Clean(name)})
}

// mass is a weight as it stands in a sentence, with a word where it is doubtful.
func (r record) mass(w Dated[care.Weight]) string {
	if r.doubt(w) != "" {
		return r.say("paper.mass.doubtful", gaps{"Mass": w.Body.Mass})
	}
	return r.text.Mass(w.Body.Mass)
}

// filled are those of some texts that say something.
func filled(texts ...string) []string {
	return slices.DeleteFunc(texts, func(text string) bool { return text == "" })
}

func (r record) mealTable() Table {
	mass := Column{Title: r.say("paper.table.mass"), Fixed: massWidth, Align: AlignRight, Style: smallStyle}
	outcome := Column{Title: r.say("paper.table.outcome"), Fixed: 34, Style: smallInk}
	t := Table{Columns: []Column{r.column("paper.table.offered", dayWidth), r.column("paper.table.prey", 54), mass, outcome, r.noteColumn()}}
	if habit := r.habit(); habit != "" {
		t.Note = capital(habit) + "."
	}
	backwards(newest(r.Meals, printedEntries), func(m Dated[care.Meal]) {
		total, sign := "", Ring
		if !m.Body.Each.IsZero() {
			total = r.text.Mass(m.Body.Total())
		}
		if m.Body.Outcome == care.Took {
			sign = Dot
		}
		t.Rows = append(t.Rows, []Cell{{Text: r.text.Day(m.At.Day())}, {Text: r.prey(m.Body)}, {Text: total}, {Text: r.outcome(m.Body), Sign: sign}, {Text: Clean(m.Body.Note)}})
	})
	return t
}

// prey is what was offered, such as "2 × rat, weaner, thawed".
func (r record) prey(m care.Meal) string {
	var parts []string
	for _, part := range []struct{ prefix, value string }{
		{"care.prey.", string(m.Prey)}, {"care.prey-size.", string(m.Size)}, {"care.prey-state.", string(m.State)},
	} {
		if part.value != "" {
			parts = append(parts, r.say(part.prefix+part.value))
		}
	}
	words := strings.Join(parts, ", ")
	if m.Count > 1 {
		words = r.text.Count("paper.prey.several", m.Count, gaps{"Prey": words})
	}
	return words
}

func (r record) outcome(m care.Meal) string {
	words := r.say("care.outcome." + string(m.Outcome))
	if m.Outcome == care.Regurgitated && !m.BroughtUp.IsZero() {
		words += ", " + r.text.Date(m.BroughtUp)
	}
	return words
}

func (r record) whatColumn() Column {
	return Column{Title: r.say("paper.table.what"), Share: 1.9, Style: smallInk}
}

func (r record) shedTable() Table {
	t := Table{Columns: []Column{r.column("paper.table.day", dayWidth), r.whatColumn(), r.noteColumn()}}
	backwards(newest(r.Sheds, printedEntries), func(s Dated[care.Shed]) {
		words := []string{r.orUnknown("care.skin.", string(s.Body.Skin)),
			r.say("paper.shed.eye-caps", gaps{"Told": r.orUnknown("care.told.", string(s.Body.StuckEyeCaps))}),
			r.say("paper.shed.tail-tip", gaps{"Told": r.orUnknown("care.told.", string(s.Body.StuckTailTip))})}
		t.Rows = append(t.Rows, []Cell{{Text: r.text.Day(s.At.Day())}, {Text: strings.Join(words, "; ")}, {Text: Clean(s.Body.Note)}})
	})
	return t
}

// orUnknown is the text of a value, or of "unknown" where nothing was said.
func (r record) orUnknown(prefix, value string) string {
	if value == "" {
		value = "unknown"
	}
	return r.say(prefix + value)
}

func (r record) wasteTable() Table {
	t := Table{Columns: []Column{r.column("paper.table.day", dayWidth), r.whatColumn(), r.noteColumn()}}
	backwards(newest(r.Waste, printedEntries), func(w Dated[care.Waste]) {
		words := []string{r.say("paper.waste.faeces", gaps{"Seen": r.traits("care.faeces.", w.Body.Faeces)}), r.say("paper.waste.urates", gaps{"Seen": r.traits("care.urates.", w.Body.Urates)})}
		t.Rows = append(t.Rows, []Cell{{Text: r.text.Day(w.At.Day())}, {Text: strings.Join(words, "; ")}, {Text: Clean(w.Body.Note)}})
	})
	return t
}

func (r record) traits(prefix string, traits []care.Trait) string {
	if len(traits) == 0 {
		return r.say("paper.waste.not-noted")
	}
	var words []string
	for _, t := range traits {
		words = append(words, r.say(prefix+string(t)))
	}
	return strings.Join(words, ", ")
}

func (r record) miteTable() Table {
	t := Table{Columns: []Column{r.column("paper.table.day", dayWidth), r.whatColumn(), r.noteColumn()}}
	backwards(newest(r.MiteLooks, printedEntries), func(m Dated[care.MiteLook]) {
		t.Rows = append(t.Rows, []Cell{{Text: r.text.Day(m.At.Day())}, {Text: r.mitesSeen(m.Body)}, {Text: Clean(m.Body.Note)}})
	})
	return t
}

// mitesSeen is what was seen and where was looked: none seen is not none there.
func (r record) mitesSeen(m care.MiteLook) string {
	var where []string
	for _, w := range m.Where {
		where = append(where, r.say("care.mites.where."+string(w)))
	}
	return r.say("paper.mites.seen", gaps{"Seen": r.mites(m), "Where": strings.Join(where, ", ")})
}

func (r record) mites(m care.MiteLook) string {
	return r.say("care.mites." + strconv.Itoa(int(m.Grade)))
}
