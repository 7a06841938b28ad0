package main

import (
	"errors"
	"flag"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"

	"coilward/export/lines"
	"coilward/export/table"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/collection"
	"coilward/model/comparing"
	"coilward/model/feeders"
	"coilward/model/husbandry"
	"coilward/model/importing"
	"coilward/model/memory"
	"coilward/model/people"
	"coilward/model/store"
	"coilward/model/wording"
)

// The forms in which a collection goes out.
const (
	asCSV   = "csv"   // a folder with a file for each table
	asXLSX  = "xlsx"  // one workbook with a sheet for each
	asLines = "jsonl" // everything, as dump writes it
)

// exporting is what "export" was asked for.
type exporting struct{ folder, out, format, language string }

// export writes a collection as tables, or everything as lines of JSON.
func (p *program) export(arguments []string) error {
	w := exporting{}
	flags := flag.NewFlagSet("export", flag.ContinueOnError)
	flags.StringVar(&w.folder, "collection", "", "")
	flags.StringVar(&w.out, "out", "", "")
	flags.StringVar(&w.format, "format", "", "")
	flags.StringVar(&w.language, "lang", p.language, "")
	rest, err := parse(flags, arguments)
	if err != nil || len(rest) > 0 || w.folder == "" || w.out == "" {
		return errors.Join(errUsage, err)
	}
	if w.format == "" {
		w.format = formatOf(w.out)
	}
	if !slices.Contains(p.languages.Codes(), w.language) {
		return refuse("ctl.language", w.language, "ctl.language.unknown")
	}
	switch w.format {
	case asLines:
		return p.linesOut(w)
	case asCSV, asXLSX:
		return p.tablesOut(w)
	}
	return refuse("ctl.format", w.format, "ctl.format.unknown")
}

// formatOf is the form that a file's name asks for.
func formatOf(path string) string {
	switch extension := strings.ToLower(filepath.Ext(path)); extension {
	case "." + asXLSX, "." + asLines:
		return extension[1:]
	}
	return asCSV
}

// linesOut writes everything as dump does, and beside it the schema of the lines.
func (p *program) linesOut(w exporting) error {
	beside := lines.Beside(w.out)
	if err := errors.Join(usable(beside, runtime.GOOS), outside(beside, w.folder), over(beside, lines.Beginning, "ctl.file.no-schema")); err != nil {
		return err
	}
	if err := p.dump([]string{w.folder, "--out", w.out}); err != nil {
		return err
	}
	if err := lines.WriteSchema(beside); err != nil {
		return refuseFile(beside, "ctl.file.unwritable", err)
	}
	p.line("ctl.export.schema", gaps{"File": beside})
	return nil
}

func (p *program) tablesOut(w exporting) (err error) {
	if w.format == asCSV {
		err = errors.Join(outside(w.out, w.folder), emptyFolder(w.out))
	} else {
		err = errors.Join(usable(w.out, runtime.GOOS), outside(w.out, w.folder), over(w.out, "PK\x03\x04", "ctl.file.no-xlsx"))
	}
	if err != nil {
		return err
	}
	laid, err := p.lay(w)
	if err != nil {
		return err
	}
	if w.format == asCSV {
		err = table.WriteFolder(w.out, laid.Book, p.languages.In(w.language, wording.Units{}))
	} else {
		err = table.WriteFile(w.out, laid.Book)
	}
	if err != nil {
		return refuseFile(w.out, "ctl.file.unwritable", err)
	}
	for _, s := range laid.Book.Sheets {
		p.line("ctl.export.sheet", gaps{"Sheet": s.Name, "Rows": len(s.Rows) - 1})
	}
	p.line("ctl.export.done", gaps{"File": w.out})
	if laid.Unread > 0 {
		p.counted("tables.unread", laid.Unread, nil)
	}
	left := 0
	for _, n := range laid.Left {
		left += n
	}
	if left > 0 {
		p.counted("ctl.export.left", left, nil)
	}
	return nil
}

// emptyFolder wants a folder in which nothing is yet, or none.
func emptyFolder(path string) error {
	files, err := os.ReadDir(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return refuseFile(path, "ctl.file.unwritable", err)
	case len(files) > 0:
		return refuse("ctl.folder", path, "ctl.salvage.there")
	}
	return nil
}

// lay reads a collection as tables.
func (p *program) lay(w exporting) (laid table.Laid, err error) {
	c, shut, err := p.read(w.folder)
	if err != nil {
		return laid, err
	}
	defer func() { err = errors.Join(err, shut()) }()
	err = c.View(func(v model.View) (err error) {
		laid, err = table.Lay(v, table.NewWords(p.languages, p.tables), p.languages.In(w.language, wording.Units{}), nil)
		return err
	})
	return laid, err
}

// bringing is what "import" was asked for.
type bringing struct {
	folder                string
	paths                 []string
	fresh, strangers, yes bool
	partly, places        bool
	// days are the days of all weights and of all stays where no column says one, or that
	// they are left out.
	days map[table.Asked]string
}

// daysAsked are the flags that say a day which a sheet does not.
var daysAsked = map[table.Asked]string{table.AsksWeighed: "weighed", table.AsksHoused: "living-since"}

// bring brings tables into a collection, as one change.
func (p *program) bring(arguments []string) (err error) {
	w := bringing{days: map[table.Asked]string{}}
	flags := flag.NewFlagSet("import", flag.ContinueOnError)
	for asked, name := range daysAsked {
		flags.Func(name, "", func(typed string) error { w.days[asked] = typed; return nil })
	}
	flags.StringVar(&w.folder, "collection", "", "")
	flags.BoolVar(&w.fresh, "new", false, "")
	flags.BoolVar(&w.strangers, "strangers", false, "")
	flags.BoolVar(&w.places, "places", false, "")
	flags.BoolVar(&w.yes, "yes", false, "")
	flags.BoolVar(&w.partly, "partly", false, "")
	flags.BoolVar(&p.takeOver, "take-over", false, "")
	if w.paths, err = parse(flags, arguments); err != nil || len(w.paths) == 0 || w.folder == "" {
		return errors.Join(errUsage, err)
	}
	for asked, typed := range w.days {
		if w.days[asked], err = p.dayOfAll(typed); err != nil {
			return err
		}
	}
	book, err := openTables(w.paths)
	if err != nil {
		return err
	}
	making := w.fresh && !store.Exists(w.folder)
	var taken table.Taken
	var j importing.Judgement
	if making { // what is refused leaves no empty collection behind
		if taken, j, err = p.judgeAlone(book, w); err != nil {
			return err
		}
		if j.Made() == 0 {
			return refuse("table", book.Name, "ctl.import.none")
		}
		made := beginning(w.folder)
		defer func() { // after it was closed
			if err != nil {
				err = errors.Join(err, made.takeBack())
			}
		}()
	}
	open := p.open
	if w.fresh {
		open = p.openOrMake
	}
	s, err := open(w.folder)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, s.Close()) }()
	c, err := collection.New(s, collection.Options{Now: p.now})
	if err != nil {
		return err
	}
	if !making {
		if taken, j, err = p.judged(c, book, w); err != nil {
			return err
		}
	}
	if j.Made() > 0 {
		if _, err := c.Do(j.Good()); err != nil {
			return err
		}
	}
	if j.Unread > 0 {
		p.counted("movein.unread", j.Unread, nil)
	}
	p.line("ctl.import.done", gaps{"Animals": j.Animals, "Entries": j.Entries, "Places": j.Places, "Stays": j.Stays, "Samples": j.Samples, "People": j.People, "There": j.There, "Known": taken.Known})
	return nil
}

// dayOfAll reads the day that a flag says, or that what it is of is left out.
func (p *program) dayOfAll(typed string) (string, error) {
	if typed == table.LeaveOut {
		return typed, nil
	}
	on, err := p.dayBehind(typed)
	return on.String(), err
}

// dayBehind reads a day that is not ahead.
func (p *program) dayBehind(typed string) (model.Day, error) {
	today := model.DayOf(p.now())
	on, err := p.text.ParseDay(typed, today)
	if err == nil && on > today {
		err = &model.Refusal{Field: "day", Value: typed, Reason: "day.future", Answer: model.Mend, Gaps: map[string]model.Gap{"Today": model.DayGap(today)}}
	}
	return on, err
}

// begun is a folder in which a collection is made, with what lay there before.
type begun struct {
	folder string
	there  map[string]bool
}

func beginning(folder string) begun {
	b := begun{folder: folder, there: map[string]bool{}}
	for path := folder; ; path = filepath.Dir(path) { // folders above it may be made too
		if _, err := os.Stat(path); err == nil || filepath.Dir(path) == path {
			b.there[path] = true
			break
		}
	}
	files, err := os.ReadDir(folder)
	if err != nil {
		return b
	}
	for _, f := range files {
		b.there[filepath.Join(folder, f.Name())] = true
	}
	return b
}

// takeBack clears away the collection that was made, and the folders that were made
// for it and are empty; nothing that lay there before.
func (b begun) takeBack() error {
	var err error
	for _, name := range []string{collectionFile, lockFile, store.PhotosFolder, store.BackupsFolder, store.DraftsFolder} {
		if path := filepath.Join(b.folder, name); !b.there[path] {
			if gone := os.Remove(path); gone != nil && !errors.Is(gone, fs.ErrNotExist) {
				err = errors.Join(err, gone)
			}
		}
	}
	for path := b.folder; err == nil && !b.there[path]; path = filepath.Dir(path) {
		if gone := os.Remove(path); gone != nil && !errors.Is(gone, fs.ErrNotExist) {
			err = gone
		}
	}
	return err
}

// judgeAlone judges rows as the first of a collection that is not there yet.
func (p *program) judgeAlone(b table.Book, w bringing) (taken table.Taken, j importing.Judgement, err error) {
	c, err := collection.New(memory.Open(), collection.Options{Now: p.now})
	if err != nil {
		return taken, j, err
	}
	return p.judged(c, b, w)
}

// judged tells what would come of the rows, and refuses where one cannot be
// brought in and is not to be left out.
func (p *program) judged(c *collection.Collection, b table.Book, w bringing) (taken table.Taken, j importing.Judgement, err error) {
	if err := c.View(func(v model.View) (err error) { taken, j, err = p.judge(v, b, w); return err }); err != nil {
		return taken, j, err
	}
	if bad := p.tellBad(taken, j); bad > 0 && !w.partly {
		return taken, j, refuse("table", b.Name, "ctl.import.rows")
	}
	return taken, j, nil
}

// openTables opens what paths name as one book: a workbook, or CSV files, or a
// folder of such.
func openTables(paths []string) (table.Book, error) {
	var files []string
	for _, path := range paths {
		if info, err := os.Stat(path); err != nil || !info.IsDir() {
			files = append(files, path)
			continue
		}
		entries, err := os.ReadDir(path)
		if err != nil {
			return table.Book{}, refuseFile(path, "ctl.file.unreadable", err)
		}
		for _, e := range entries {
			if strings.EqualFold(filepath.Ext(e.Name()), "."+asCSV) {
				files = append(files, filepath.Join(path, e.Name()))
			}
		}
	}
	var books []table.Book
	for _, path := range files {
		if formatOf(path) == asLines {
			return table.Book{}, refuse("ctl.file", path, "ctl.import.dump")
		}
		b, err := table.Open(path)
		if err != nil {
			return table.Book{}, err
		}
		if b.Comma == 0 && len(files) > 1 {
			return table.Book{}, refuse("ctl.file", path, "ctl.import.workbook")
		}
		books = append(books, b)
	}
	switch len(books) {
	case 0:
		return table.Book{}, refuse("ctl.folder-of-tables", strings.Join(paths, ", "), "ctl.import.nothing")
	case 1:
		return books[0], nil
	}
	return table.Beside(strings.Join(paths, ", "), books...), nil
}

// judge reads every row and tells what would come of it. What a sheet does not
// tell is asked in the window alone.
func (p *program) judge(v model.View, b table.Book, w bringing) (taken table.Taken, j importing.Judgement, err error) {
	known, err := animals.All(v)
	if err != nil {
		return taken, j, err
	}
	house, err := husbandry.ReadHouse(v)
	if err != nil {
		return taken, j, err
	}
	persons, err := people.All(v)
	if err != nil {
		return taken, j, err
	}
	batches, err := feeders.Batches(v)
	if err != nil {
		return taken, j, err
	}
	newPlaces := table.PlacesLeft
	if w.places {
		newPlaces = table.PlacesMade
	}
	words := table.NewWords(p.languages, p.tables)
	var takings []table.Taking
	open := 0
	for i, s := range b.Sheets {
		t, questions := table.Settle(b, i, words.Guess(s), v.Now().Day())
		for _, q := range questions {
			said := w.days[q.Asks]
			if said != "" && (said != table.LeaveOut || t.Lists == table.Animals) {
				t = t.Answer(q, said)
				continue
			}
			open++
			asked := s.Name
			if q.Column >= 0 {
				asked = t.Columns[q.Column].Heading
			}
			with := gaps{"Column": asked, "Example": q.Example}
			if q.Asks == table.AsksTwin {
				with["Other"], with["Field"] = t.Columns[t.TwinOf(q.Column)].Heading, p.text.Say("field."+string(t.Columns[q.Column].Twin))
			}
			p.line("movein.asks."+string(q.Asks), with)
		}
		takings = append(takings, t)
		if t.Lists == table.NotListed {
			p.line("ctl.import.sheet", gaps{"Sheet": s.Name})
		}
		if left := t.Left(s); len(left) > 0 {
			p.line("ctl.import.left", gaps{"Sheet": s.Name, "Columns": strings.Join(left, ", ")})
		}
		if placed := words.Placed(t); len(placed) > 0 {
			p.line("movein.placed", gaps{"Columns": strings.Join(placed, ", ")})
		}
	}
	if open > 0 {
		return taken, j, refuse("table", b.Name, "ctl.import.asks")
	}
	taken, err = table.Take(b, takings, table.Given{Words: words, Tables: p.tables, Known: known, House: house, People: persons, Batches: batches, Now: v.Now(), Strangers: w.strangers, NewPlaces: newPlaces})
	if err != nil {
		return taken, j, err
	}
	for {
		j, err = taken.Rows.Judge(v, nil)
		if err != nil || !w.yes {
			return taken, j, err
		}
		raised := table.Doubts(j)
		maps.DeleteFunc(raised, func(reason string, _ []importing.Refused) bool { return taken.Rows.Confirmed.Has(reason) })
		if len(raised) == 0 {
			return taken, j, nil
		}
		taken.Rows.Confirmed = append(taken.Rows.Confirmed, slices.Sorted(maps.Keys(raised))...)
	}
}

// tellBad names the rows that cannot be brought in.
func (p *program) tellBad(taken table.Taken, j importing.Judgement) (bad int) {
	all := slices.Clone(taken.Bad)
	for _, r := range j.Refused {
		all = append(all, table.BadOf(r, func(*model.Refusal) string { return "" }))
	}
	for _, b := range all {
		for _, f := range b.Faults() {
			p.line("ctl.import.row", gaps{"Sheet": b.Sheet, "Line": b.Line, "Part": p.text.Say(comparing.Key(b.Part.Type, b.Part.Kind, p.text.Has)), "Problem": p.refusal(f.Refusal)})
		}
	}
	return len(all)
}
