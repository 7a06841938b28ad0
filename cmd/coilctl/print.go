package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strconv"
	"strings"

	"coilward/export/paper"
	"coilward/export/pdf"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/due"
	"coilward/model/people"
	"coilward/model/photo"
	"coilward/model/store"
	"coilward/model/wording"
)

// printing is what "print" was asked for.
type printing struct {
	folder, animal, out, size, language string
	organs                              bool
	private, sampleNotes                bool // from whom it came and why it was released; what was noted of samples
	days                                int  // that the paper for the sitter is for

	// Of cards: the place whose boxes get one, the sheet and its first free label,
	// whether animals get them instead, and the keeper named on them.
	place, sheet, keeper string
	first                string
	ofAnimals            bool

	keyless, anyone bool // sheets for checks without the list of what is looked for; one without an animal

	day string // of which the stock is asked for; empty: today

	with []string // private people who are named all the same

	paper string // which one
	of    sampling
}

// sizes are the sizes of paper by the names they are asked for with.
func sizes() map[string]paper.Size {
	return map[string]paper.Size{"a4": paper.A4, "letter": paper.Letter}
}

// The papers, by the names that they are asked for with.
const (
	healthRecord  = "health-record"
	emergencyCard = "emergency-card"
	vetPage       = "vet"
	quarantined   = "quarantine"
	sitterPaper   = "sitter"
	roundSheet    = "round"
	powerCut      = "power-cut"
	boxCards      = "cards"
	checkSheets   = "check-sheet"
	weighSheet    = "weigh-sheet"
	labForm       = "lab-form"
	tubeLabels    = "tube-labels"
	collectionOf  = "collection-list"
	stockOn       = "stock"
	doorSheet     = "door-sheet"
)

// ofOne are the papers of one animal, and ofHouse those of the house or of a part of it; a
// sheet for a check is of either.
func ofOne() []string { return []string{healthRecord, emergencyCard, vetPage, quarantined} }
func ofHouse() []string {
	return []string{sitterPaper, roundSheet, powerCut, weighSheet, boxCards, labForm, tubeLabels, collectionOf, stockOn, doorSheet}
}

// papers are all papers.
func papers() []string { return slices.Concat(ofOne(), ofHouse(), []string{checkSheets}) }

// print writes a paper as a PDF file.
func (p *program) print(arguments []string) (err error) {
	w := printing{}
	flags := flag.NewFlagSet("print", flag.ContinueOnError)
	flags.StringVar(&w.folder, "collection", "", "")
	flags.StringVar(&w.animal, "animal", "", "")
	flags.StringVar(&w.out, "out", "", "")
	flags.StringVar(&w.size, "paper", "A4", "")
	flags.StringVar(&w.language, "lang", p.language, "")
	flags.BoolVar(&w.organs, "organs", false, "")
	flags.BoolVar(&w.private, "from-whom", false, "")
	flags.BoolVar(&w.sampleNotes, "sample-notes", false, "")
	flags.IntVar(&w.days, "days", 14, "")
	flags.StringVar(&w.place, "place", "", "")
	flags.StringVar(&w.day, "day", "", "")
	flags.StringVar(&w.sheet, "sheet", "", "")
	flags.StringVar(&w.keeper, "keeper", "", "")
	flags.StringVar(&w.first, "first", "1", "")
	flags.BoolVar(&w.ofAnimals, "animals", false, "")
	flags.BoolVar(&w.keyless, "without-list", false, "")
	flags.BoolVar(&w.anyone, "any-animal", false, "")
	flags.Func("with", "", func(name string) error { w.with = append(w.with, name); return nil })
	flags.Func("tube", "", func(number string) error { w.of.tubes = append(w.of.tubes, number); return nil })
	flags.BoolVar(&w.of.urgent, "urgent", false, "")
	flags.BoolVar(&w.of.signs, "signs", false, "")
	flags.BoolVar(&w.of.treatments, "treatments", false, "")
	rest, err := parse(flags, arguments)
	if err != nil {
		return err
	}
	if len(rest) == 1 && !slices.Contains(papers(), rest[0]) {
		return &model.Refusal{Field: "ctl.paper", Value: rest[0], Reason: "ctl.paper.unknown", Answer: model.Mend, Gaps: map[string]model.Gap{"Papers": model.TextGap(strings.Join(papers(), ", "))}}
	}
	if len(rest) != 1 || w.folder == "" || w.out == "" || rest[0] != checkSheets && (w.animal == "") != slices.Contains(ofHouse(), rest[0]) {
		return errUsage
	}
	if w.days < 1 || w.days > mostDays {
		return refuse("ctl.days", strconv.Itoa(w.days), "ctl.days.range")
	}
	size, ok := sizes()[strings.ToLower(w.size)]
	if !ok {
		return refuse("ctl.size", w.size, "ctl.size.unknown")
	}
	if !slices.Contains(p.languages.Codes(), w.language) {
		return refuse("ctl.language", w.language, "ctl.language.unknown")
	}
	if err := errors.Join(usable(w.out, runtime.GOOS), outside(w.out, w.folder), over(w.out, "%PDF-", "ctl.file.no-pdf")); err != nil {
		return err
	}
	switch w.paper = rest[0]; w.paper {
	case checkSheets, weighSheet:
		return p.printToWrite(w, size)
	case roundSheet:
		return p.printRound(w, size)
	case powerCut:
		return p.printPowerCut(w, size)
	case collectionOf, stockOn:
		return p.printList(w, size)
	case doorSheet:
		return p.printDoorSheet(w, size)
	case labForm, tubeLabels:
		return p.printSamples(w, size)
	case sitterPaper:
		return p.printSitter(w, size)
	case boxCards:
		return p.printCards(w)
	case quarantined:
		return p.printQuarantine(w, size)
	}
	facts, called, err := p.facts(w)
	if err != nil {
		return err
	}
	facts.Organs, facts.SampleNotes = w.organs, w.sampleNotes
	text := p.languages.In(w.language, wording.Units{})
	d, done := paper.HealthRecord(facts, text, size), "ctl.print.done"
	if rest[0] == emergencyCard {
		d, done = paper.EmergencyCard(facts, called, text), "ctl.print.card"
	}
	if rest[0] == vetPage {
		d, done = paper.VetPage(facts, text, size), "ctl.print.vet"
	}
	if err := pdf.WriteFile(w.out, d.By(version()), facts.Issued.Time()); err != nil {
		return refuseFile(w.out, "ctl.file.unwritable", err)
	}
	p.line(done, gaps{"File": w.out, "Animal": facts.Animal.Name})
	return nil
}

// mostDays is the longest time that a paper for the sitter is made for.
const mostDays = 60

// called are those who have one of the roles; of the private ones those alone who
// were asked for by name.
func (w printing) called(all []people.Stored, roles []people.Role) ([]people.Stored, error) {
	callable := paper.Callable(all, roles)
	for _, name := range w.with {
		if !slices.ContainsFunc(callable, func(p people.Stored) bool { return strings.EqualFold(p.Name, name) }) {
			return nil, refuse("ctl.with", name, "ctl.with.unknown")
		}
	}
	return slices.DeleteFunc(callable, func(p people.Stored) bool {
		return p.Private && !slices.ContainsFunc(w.with, func(name string) bool { return strings.EqualFold(p.Name, name) })
	}), nil
}

// calledIn are those of a collection who have one of the roles, as called picks them.
func (w printing) calledIn(v model.View, roles []people.Role) ([]people.Stored, error) {
	all, err := people.All(v)
	if err != nil {
		return nil, err
	}
	return w.called(all, roles)
}

// printed is a paper that was made, when it was issued, and what is said of it.
type printed struct {
	document paper.Document
	issued   model.Moment
	done     string
	said     gaps
}

// printOf writes a paper that is made of a collection.
func (p *program) printOf(w printing, of func(v model.View, text *wording.Text) (printed, error)) (err error) {
	c, shut, err := p.read(w.folder)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, shut()) }()
	var made printed
	err = c.View(func(v model.View) (err error) {
		made, err = of(v, p.languages.In(w.language, wording.Units{}))
		return err
	})
	if err != nil {
		return err
	}
	if err := pdf.WriteFile(w.out, made.document.By(version()), made.issued.Time()); err != nil {
		return refuseFile(w.out, "ctl.file.unwritable", err)
	}
	p.line(made.done, made.said)
	return nil
}

// printSitter writes the paper for whoever looks after the animals.
func (p *program) printSitter(w printing, size paper.Size) (err error) {
	c, shut, err := p.read(w.folder)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, shut()) }()
	list, err := due.NewBook(p.tables).Bring(context.Background(), c, nil)
	if err != nil {
		return err
	}
	var all []people.Stored
	var sitting paper.Sitting
	err = c.View(func(v model.View) (err error) {
		if all, err = people.All(v); err != nil {
			return err
		}
		sitting, err = paper.GatherSitting(v, p.tables, list, w.days)
		return err
	})
	if err != nil {
		return err
	}
	called, err := w.called(all, paper.SitterRoles())
	if err != nil {
		return err
	}
	d := paper.SitterPaper(sitting, called, p.tables, p.languages.In(w.language, wording.Units{}), size)
	if err := pdf.WriteFile(w.out, d.By(version()), sitting.Issued.Time()); err != nil {
		return refuseFile(w.out, "ctl.file.unwritable", err)
	}
	p.line("ctl.print.sitter", gaps{"File": w.out, "From": sitting.From, "Until": sitting.Until})
	return nil
}

// printQuarantine writes the report of an animal's quarantine.
func (p *program) printQuarantine(w printing, size paper.Size) error {
	return p.printOf(w, func(v model.View, text *wording.Text) (printed, error) {
		animal, err := find(v, w.animal)
		if err != nil {
			return printed{}, err
		}
		q, found, err := paper.GatherQuarantine(v, p.tables, animal)
		if err != nil {
			return printed{}, err
		}
		if !found {
			return printed{}, refuse("ctl.animal", w.animal, "ctl.quarantine.none")
		}
		q.Version, q.Told = version(), w.private
		return printed{paper.QuarantineReport(q, text, size), q.Issued, "ctl.print.quarantine", gaps{"File": w.out, "Animal": q.Animal.Name}}, nil
	})
}

// usable refuses a path that cannot become a file: a folder, a name that the
// system keeps for itself, or a folder that is not there.
func usable(path, system string) error {
	base := filepath.Base(path)
	if system == "windows" && paper.FileName("", base) != base {
		return refuse("ctl.file", path, "ctl.file.name")
	}
	if info, err := os.Stat(path); err == nil && info.IsDir() {
		return refuse("ctl.file", path, "ctl.file.folder")
	}
	if info, err := os.Stat(filepath.Dir(path)); err != nil || !info.IsDir() {
		return refuse("ctl.file", path, "ctl.file.no-folder")
	}
	return nil
}

// outside refuses a path within a collection's folder, where a paper or a dump
// could take the place of the collection itself or of its backups. Links are
// followed, and names compared as the system does.
func outside(path, folder string) error {
	kept, err := os.Stat(folder)
	if err != nil {
		return refuse("collection", folder, "ctl.collection.none")
	}
	within, err := filepath.Abs(filepath.Dir(path))
	if err == nil {
		within, err = filepath.EvalSymlinks(within)
	}
	if err != nil {
		return refuse("ctl.file", path, "ctl.file.no-folder")
	}
	for {
		if info, err := os.Stat(within); err == nil && os.SameFile(info, kept) {
			return refuse("ctl.file", path, "ctl.file.inside")
		}
		above := filepath.Dir(within)
		if above == within {
			return nil
		}
		within = above
	}
}

// over refuses to write over anything but an ordinary file that begins as one of
// the kind that is to be written.
func over(path, beginning, reason string) error {
	info, err := os.Stat(path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil || !info.Mode().IsRegular() {
		return refuse("ctl.file", path, reason)
	}
	f, err := os.Open(path)
	if err != nil {
		return refuseFile(path, "ctl.file.unreadable", err)
	}
	defer f.Close()
	begins := make([]byte, len(beginning))
	if _, err := io.ReadFull(f, begins); err != nil || string(begins) != beginning {
		return refuse("ctl.file", path, reason)
	}
	return nil
}

// facts opens the collection and reads what the papers of an animal state, and who
// is called.
func (p *program) facts(w printing) (facts paper.Facts, called []people.Stored, err error) {
	c, shut, err := p.read(w.folder)
	if err != nil {
		return facts, nil, err
	}
	defer func() { err = errors.Join(err, shut()) }()
	photos := photo.At(filepath.Join(w.folder, store.PhotosFolder))
	var gathered paper.Gathered
	err = c.View(func(v model.View) error {
		if called, err = people.All(v); err != nil {
			return err
		}
		animal, err := find(v, w.animal)
		if err != nil {
			return err
		}
		gathered, err = paper.Gather(v, paper.Gathering{Animal: animal, Tables: p.tables, Pictures: photos.JPEG, Version: version()})
		return err
	})
	if err != nil {
		return facts, nil, err
	}
	if called, err = w.called(called, paper.CardRoles()); err != nil {
		return facts, nil, err
	}
	return gathered.Facts(), called, nil
}

// find is the animal of that name, code or id; several that go by it are told
// apart by their ids.
func find(v model.View, wanted string) (model.AnimalID, error) {
	all, err := animals.All(v)
	if err != nil {
		return model.AnimalID{}, err
	}
	var found []animals.Stored
	for _, a := range all {
		if strings.EqualFold(a.Name, wanted) || a.Code != "" && strings.EqualFold(a.Code, wanted) || a.ID.String() == wanted {
			found = append(found, a)
		}
	}
	switch len(found) {
	case 0:
		return model.AnimalID{}, refuse("ctl.animal", wanted, "ctl.animal.none")
	case 1:
		return found[0].ID, nil
	}
	var ids []string
	for _, a := range found {
		ids = append(ids, fmt.Sprintf("%s (%s)", a.ID, strings.Join(strings.Fields(a.Name+" "+a.Code), " ")))
	}
	return model.AnimalID{}, &model.Refusal{Field: "ctl.animal", Value: wanted, Reason: "ctl.animal.several", Answer: model.Mend,
		Gaps: map[string]model.Gap{"Which": model.TextGap(strings.Join(ids, ", "))}}
}
