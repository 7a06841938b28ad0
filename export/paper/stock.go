package paper

import (
	"fmt"
	"slices"
	"strings"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/written"
)

// Collection is what the list of a collection says: who is here today.
type Collection struct {
	Issued  model.Moment
	Rows    []CollectionRow // in the order of a walk through the house; those in no place last
	Version string          // of the program
	tables  *knowledge.Tables
}

// CollectionRow is one animal of the list.
type CollectionRow struct {
	written.Row
	Meal care.Meal // the last one that it took
	Fed  model.Day // when; 0: no meal taken is on record
}

// GatherCollection reads all who are here with where they live, the last weight and the
// last meal taken.
func GatherCollection(v model.View, t *knowledge.Tables) (Collection, error) {
	c := Collection{Issued: v.Now(), tables: t}
	rows, err := written.Rows(v, model.PlaceID{}, v.Now())
	if err != nil {
		return c, fmt.Errorf("gather the list of a collection: %w", err)
	}
	scales, err := husbandry.ReadScales(v)
	if err != nil {
		return c, fmt.Errorf("gather the list of a collection: %w", err)
	}
	for _, row := range rows {
		one := CollectionRow{Row: row}
		if !row.Noted.Mass.IsZero() {
			one.Last = row.Noted
		}
		_, one.Last.Doubtful = scales.Doubts(one.Last.With, one.Last.At)
		if one.Meal, one.Fed, err = lastTaken(v, row.Animal.ID); err != nil {
			return c, fmt.Errorf("gather the list of a collection: %w", err)
		}
		c.Rows = append(c.Rows, one)
	}
	return c, nil
}

// CollectionList is the paper with all who are here: who they are, where they live, the
// last weight and the last meal. It says nothing of how they are.
func CollectionList(c Collection, text Text, size Size) Document {
	l := listed{text, c.tables}
	title, say := text.Say("paper.collection.kicker"), text.Say
	t := Table{Columns: []Column{{Fixed: 6, Style: smallStyle, Align: AlignRight}, {Title: say("paper.sitter.whom"), Share: 2, Style: smallInk}, {Title: say("field.species"), Share: 2.4, Style: smallInk},
		{Title: say("paper.collection.lives"), Share: 2, Style: smallInk}, {Title: say("field.mass"), Share: 1.5, Style: smallInk}, {Title: say("paper.collection.fed"), Share: 1.9, Style: smallInk}}}
	var all []animals.Stored
	for i, row := range c.Rows {
		a := row.Animal
		all = append(all, a)
		last := say("paper.weigh-sheet.never")
		if !row.Last.Mass.IsZero() {
			last = text.Mass(row.Last.Mass)
			if row.Last.Doubtful {
				last = say("paper.mass.doubtful", gaps{"Mass": row.Last.Mass})
			}
			last += "\n" + text.DayShort(row.Last.At.Day())
		}
		fed := say("paper.collection.none")
		if row.Fed > 0 {
			fed = text.DayShort(row.Fed)
			if prey := l.worded(a.Animal).prey(row.Meal); prey != "" {
				fed = prey + "\n" + fed
			}
		}
		box := say("paper.collection.unhoused")
		if row.Box != "" {
			box = Clean(row.Box)
		}
		if a.Status == animals.OnLoan {
			box = say("animals.status." + string(a.Status))
		}
		t.Rows = append(t.Rows, []Cell{{Text: fmt.Sprint(i + 1)}, {Text: l.name(a.Animal)}, {Text: l.kind(a.Animal)}, {Text: box}, {Text: last}, {Text: fed}})
	}
	blocks := []Block{Paragraph{title, smallBold.In(Accent)}, Paragraph{text.Count("paper.collection.head", len(c.Rows)), titleStyle}, Space(1)}
	if len(c.Rows) == 0 {
		blocks = append(blocks, Paragraph{say("paper.power-cut.nobody"), textStyle})
	} else {
		blocks = append(blocks, l.tally(all), t)
	}
	blocks = append(blocks, Paragraph{say("paper.collection.caution") + " " + say("paper.quarantine.issued", issuedBy(c.Issued, c.Version, c.tables)), smallStyle})
	return l.paper(title, c.Issued, size, blocks)
}

// Stock is what the paper about the stock on a day says.
type Stock struct {
	Issued model.Moment
	Day    model.Day // at whose end
	// Here were surely there, Unsure are those of whom it cannot be told; by name.
	Here, Unsure []StockRow
	Version      string // of the program
	// Told puts on the paper from whom the animals came, which may name people.
	Told   bool
	tables *knowledge.Tables
}

// StockRow is one animal with where it lived at the end of the day; empty: not known.
type StockRow struct {
	animals.Stored
	Box string
}

// GatherStock reads who was in the stock at the end of a day.
func GatherStock(v model.View, t *knowledge.Tables, day model.Day) (Stock, error) {
	s := Stock{Issued: v.Now(), Day: day, tables: t}
	all, err := animals.All(v)
	if err != nil {
		return s, fmt.Errorf("gather the stock on a day: %w", err)
	}
	house, err := husbandry.ReadHouse(v)
	if err != nil {
		return s, fmt.Errorf("gather the stock on a day: %w", err)
	}
	slices.SortStableFunc(all, func(a, b animals.Stored) int { return model.Natural(animals.Fold(a.Name), animals.Fold(b.Name)) })
	end := model.MomentOn(v.Now(), day, 24*60-1, model.ToDay)
	rows := func(list []animals.Stored) (rows []StockRow) {
		for _, a := range list {
			row := StockRow{Stored: a}
			if stay, housed := house.Where(a.ID, end); housed {
				row.Box = house.Title(stay.Place)
			}
			rows = append(rows, row)
		}
		return rows
	}
	here, unsure := animals.InStock(all, day)
	s.Here, s.Unsure = rows(here), rows(unsure)
	return s, nil
}

// StockPaper is the stock on a day as an authority asks for it: species by its scientific
// name, sex, hatching, marking, source code, permits and since when; with those of whom it
// cannot be told on a list of their own.
func StockPaper(s Stock, text Text, size Size) Document {
	l := listed{text, s.tables}
	title, say := text.Say("paper.stock.kicker"), text.Say
	var all []animals.Stored
	for _, row := range s.Here {
		all = append(all, row.Stored)
	}
	blocks := []Block{Paragraph{title, smallBold.In(Accent)}, Paragraph{say("paper.stock.head", gaps{"Day": s.Day}), titleStyle},
		Paragraph{text.Count("paper.stock.count", len(s.Here)), sayStyle}, Space(1)}
	if len(all) > 0 {
		blocks = append(blocks, l.tally(all), l.stock(s, s.Here))
	}
	if len(s.Unsure) > 0 {
		blocks = append(blocks, Heading{Level: 2, Text: say("paper.stock.unsure"), Aside: text.Count("paper.stock.animals", len(s.Unsure))}, Paragraph{say("paper.stock.unsure-text"), smallInk}, l.stock(s, s.Unsure))
	}
	blocks = append(blocks, Keep{Rule{Ink, .25}, Paragraph{say("paper.stock.caution") + " " + say("paper.quarantine.issued", issuedBy(s.Issued, s.Version, s.tables)), smallStyle},
		Signatures{say("paper.sign.keeper"), say("paper.stock.sign")}})
	return l.paper(title, s.Issued, size, blocks)
}

// stock are the animals of a list of the stock.
func (l listed) stock(s Stock, rows []StockRow) Table {
	say := l.text.Say
	t := Table{Columns: []Column{{Fixed: 6, Style: smallStyle, Align: AlignRight}, {Title: say("paper.sitter.whom"), Share: 1.7, Style: smallInk}, {Title: say("field.species"), Share: 2.1, Style: smallInk},
		{Title: say("field.chip"), Share: 1.7, Style: smallInk}, {Title: say("paper.stock.origin"), Share: 2.2, Style: smallInk}, {Title: say("paper.stock.since"), Share: 1.9, Style: smallInk}}}
	for i, row := range rows {
		a := row.Animal
		chip := say("paper.stock.no-chip")
		if !a.Chip.IsZero() {
			chip = grouped(cut(Clean(a.Chip.Digits), 2*longestCode))
		}
		t.Rows = append(t.Rows, []Cell{{Text: fmt.Sprint(i + 1)}, {Text: l.name(a)}, {Text: l.kind(a)}, {Text: chip}, {Text: l.origin(a)}, {Text: l.came(s, row)}})
	}
	return t
}

// origin is the source code and the permits, or that they are not on record.
func (l listed) origin(a animals.Animal) string {
	said := []string{l.text.Say("paper.stock.no-source")}
	if a.Source != animals.SourceNone {
		said[0] = l.text.Say("paper.source", gaps{"Code": string(a.Source), "Words": l.text.Say("animals.source." + string(a.Source))})
	}
	if a.Permits == "" {
		return strings.Join(append(said, l.text.Say("paper.stock.no-permit")), "\n")
	}
	return strings.Join(append(said, Strong(cut(Clean(a.Permits), 2*longestFact))), "\n")
}

// came is since when it is here, from whom where that is told, and what became of it.
func (l listed) came(s Stock, row StockRow) string {
	a := row.Animal
	said := []string{l.text.Say("paper.stock.since-unknown")}
	if !a.Since.IsZero() {
		said[0] = l.text.Date(a.Since)
	}
	if s.Told && a.From != "" {
		said = append(said, l.text.Say("paper.stock.from", gaps{"From": cut(Clean(a.From), longestFact)}))
	}
	switch {
	case a.Status == animals.Kept || a.Status == "":
	case a.StatusDay.IsZero():
		said = append(said, l.text.Say("animals.status."+string(a.Status)))
	default:
		said = append(said, l.text.Say("paper.stock.left", gaps{"Status": l.text.Say("animals.status." + string(a.Status)), "Date": a.StatusDay}))
	}
	return strings.Join(said, "\n")
}

// listed words animals as lists name them.
type listed struct {
	text   Text
	tables *knowledge.Tables
}

// worded is the animal with the words of the health record.
func (l listed) worded(a animals.Animal) record {
	return record{Facts: Facts{Animal: a, Tables: l.tables}, text: l.text, long: &[][2]string{}}
}

// name is an animal's name and code.
func (l listed) name(a animals.Animal) string {
	name := Strong(cut(Clean(a.Name), longestTitle))
	if a.Code != "" {
		name += "\u00a0· " + cut(Clean(a.Code), longestCode)
	}
	return name
}

// kind is what an animal is: species, sex and how it is known, hatching.
func (l listed) kind(a animals.Animal) string {
	r := l.worded(a)
	hatched := l.text.Say("paper.hatched.unknown")
	if !a.Hatched.IsZero() {
		hatched = l.text.Say("paper.hatched", gaps{"Date": a.Hatched})
	}
	return r.species() + ", " + r.sex() + "\n" + hatched
}

// sexWords are the keys of how a tally names the sexes.
var sexWords = map[animals.Sex]string{animals.Female: "animals.sex.female", animals.Male: "animals.sex.male", animals.SexUnknown: "paper.sex.unknown"}

// tally counts the animals by species and sex.
func (l listed) tally(all []animals.Stored) Block {
	type counted struct {
		name  string
		sexes map[animals.Sex]int
		n     int
	}
	var kinds []*counted
	for _, a := range all {
		name := l.worded(a.Animal).species()
		i := slices.IndexFunc(kinds, func(k *counted) bool { return k.name == name })
		if i < 0 {
			i, kinds = len(kinds), append(kinds, &counted{name: name, sexes: map[animals.Sex]int{}})
		}
		kinds[i].n++
		kinds[i].sexes[a.Sex]++
	}
	slices.SortStableFunc(kinds, func(a, b *counted) int { return b.n - a.n })
	var items []string
	for _, k := range kinds {
		var sexes []string
		for _, sex := range []animals.Sex{animals.Female, animals.Male, animals.SexUnknown} {
			if n := k.sexes[sex]; n > 0 {
				sexes = append(sexes, fmt.Sprint(n)+"\u00a0"+l.text.Say(sexWords[sex]))
			}
		}
		items = append(items, fmt.Sprintf("%s: %d (%s)", k.name, k.n, strings.Join(sexes, ", ")))
	}
	return List{Dot, items, textStyle}
}

// paper is a list as a document.
func (l listed) paper(title string, issued model.Moment, size Size, blocks []Block) Document {
	return Document{Title: title, Subject: l.text.Say("paper.record.issued", gaps{"Day": issued.Day()}), Language: l.text.Language(), Size: size,
		FootLeft: title, FootMiddle: l.text.Say("paper.record.issued", gaps{"Day": issued.Day()}),
		PageOf:   func(page, total int) string { return l.text.Say("paper.page-of", gaps{"Page": page, "Total": total}) },
		Sections: []Section{{Name: title, Blocks: blocks}},
	}.tellingMissing(l.text)
}
