package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"

	"coilward/model"
	"coilward/model/collection"
	"coilward/model/comparing"
	"coilward/model/photo"
	"coilward/model/registry"
	"coilward/model/store"
)

// The files of a collection inside its folder.
const (
	collectionFile = "collection.db"
	lockFile       = "collection.lock"
)

// verifyFolder reads every record of a collection's file and of its backups, and holds
// every photo, and what lies at the second place, against its sum.
func (p *program) verifyFolder(arguments []string) error {
	folder, err := p.onlyFolder(arguments)
	if err != nil {
		return err
	}
	if !store.Exists(folder) {
		return refuse("collection", folder, "ctl.collection.none")
	}
	snapshots, err := store.Snapshots(folder)
	if err != nil {
		return err
	}
	path := filepath.Join(folder, collectionFile)
	whole, err := p.verifyFile(path)
	if err != nil {
		return err
	}
	examined, err := p.examine(folder, whole)
	if err != nil {
		return err
	}
	spoilt, wholeBackup := map[string]bool{}, false
	for _, s := range snapshots {
		good := false
		if i := slices.IndexFunc(examined.Found, func(f store.Finding) bool { return f.Path == s.Path }); i >= 0 {
			p.found(examined.Found[i]) // its bytes are not those that were kept, whatever can be read of it
		} else if good, err = p.verifyFile(s.Path); err != nil {
			return err
		}
		if wholeBackup = wholeBackup || good; !good {
			spoilt[s.Path] = true
		}
	}
	beside := p.beside(examined, spoilt)
	switch {
	case !whole && !wholeBackup:
		return refuse("collection", folder, "ctl.verify.salvage")
	case !whole:
		return refuse("collection", folder, "ctl.verify.failed")
	case len(spoilt) > 0:
		return refuse("collection", folder, "ctl.verify.backups")
	case beside > 0:
		return refuse("collection", folder, "ctl.verify.found")
	}
	return nil
}

// verifyFile reads one file and says whether it is whole, and if not, what it is.
func (p *program) verifyFile(path string) (whole bool, err error) {
	report, err := p.verify(path)
	if err != nil {
		return false, err
	}
	if len(report.Problems) > 0 {
		key := "ctl.verify.bad"
		switch {
		case report.Foreign:
			key = "ctl.verify.foreign"
		case report.Newer:
			key = "ctl.verify.newer"
		}
		p.line(key, gaps{"File": path})
		return false, nil
	}
	problems, err := p.unsound(path)
	if err != nil {
		return false, err
	}
	for _, problem := range problems {
		p.line("ctl.verify.value", gaps{"File": path, "Problem": problem})
	}
	if len(problems) == 0 {
		p.line("ctl.verify.good", gaps{"File": path})
	}
	return len(problems) == 0, nil
}

// examine holds the files beside the collection's against their sums. Where the
// collection itself is not whole, it is not known which photos there should be.
func (p *program) examine(folder string, whole bool) (store.Examined, error) {
	var photos map[model.PhotoID]bool
	if whole {
		if err := p.reading(filepath.Join(folder, collectionFile), func(v model.View) (err error) {
			photos, err = photo.In(v)
			return err
		}); err != nil {
			return store.Examined{}, err
		}
	}
	return store.Examine(context.Background(), folder, p.options(), photos, func(float64) {})
}

// found says what is wrong with a file, and what to do.
func (p *program) found(f store.Finding) {
	var said []string
	for _, key := range f.Keys() {
		said = append(said, p.text.Say(key, inLine(gaps{"When": model.MomentOf(f.Good.Local()), "Twin": f.Twin})))
	}
	p.line("ctl.verify.value", gaps{"File": f.Path, "Problem": strings.Join(said, " ")})
}

// beside names each file beside the collection's that is not as it should be, but for
// those that were named already, and tells how many.
func (p *program) beside(e store.Examined, named map[string]bool) (found int) {
	for _, f := range e.Found {
		if !named[f.Path] {
			found++
			p.found(f)
		}
	}
	if e.Photos > 0 {
		p.counted("ctl.verify.photos", e.Photos, nil)
	}
	switch {
	case e.Away:
		p.line("ctl.verify.away", gaps{"Folder": e.Second})
	case e.Second != "":
		p.line("ctl.verify.second", gaps{"Folder": e.Second})
	}
	return found
}

// reading reads one file that was verified.
func (p *program) reading(path string, read func(model.View) error) (err error) {
	s, err := store.OpenReadOnly(path)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, s.Close()) }()
	c, err := collection.New(s, collection.Options{Now: p.now})
	if err != nil {
		return err
	}
	return c.View(read)
}

// unsound names the documents of a whole file that cannot be read, or that hold
// a value which the program would not have taken.
func (p *program) unsound(path string) (problems []string, err error) {
	err = p.reading(path, func(v model.View) error {
		around, err := registry.Around(v, p.tables)
		if err != nil {
			return err
		}
		for _, kind := range model.DocumentTypes() {
			if err := v.All(kind, func(d model.Document) bool {
				if err := around.Sound(d); err != nil {
					problems = append(problems, p.text.Say("ctl.verify.document", gaps{"ID": d.ID.String(), "Problem": p.cause(err)}))
				}
				return true
			}); err != nil {
				return err
			}
		}
		return nil
	})
	return problems, err
}

// cause is what is wrong with a record, in words.
func (p *program) cause(err error) string {
	var refusal *model.Refusal
	if errors.As(err, &refusal) {
		return p.refusal(refusal)
	}
	return p.text.Say("ctl.verify.unreadable")
}

// onlyFolder is the one argument, a collection's folder.
func (p *program) onlyFolder(arguments []string) (string, error) {
	flags := flag.NewFlagSet("", flag.ContinueOnError)
	flags.BoolVar(&p.takeOver, "take-over", false, "")
	rest, err := parse(flags, arguments)
	if err != nil {
		return "", err
	}
	return one(rest)
}

// backup makes a verified snapshot in the collection's folder of backups, and
// brings it to the second place: the one that was chosen, or that of --to.
func (p *program) backup(arguments []string) (err error) {
	flags := flag.NewFlagSet("backup", flag.ContinueOnError)
	to := flags.String("to", "", "")
	flags.BoolVar(&p.takeOver, "take-over", false, "")
	rest, err := parse(flags, arguments)
	if err != nil {
		return err
	}
	folder, err := one(rest)
	if err != nil {
		return err
	}
	flags.Visit(func(f *flag.Flag) {
		if f.Name == "to" && *to == "" { // not the chosen one: an empty variable is a mistake
			err = errUsage
		}
	})
	if err != nil {
		return err
	}
	s, err := p.open(folder)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, s.Close()) }()
	made, err := s.Snapshot()
	if err != nil {
		return err
	}
	p.line("ctl.backup.done", gaps{"File": made.Path})
	photos, err := p.photosIn(s)
	if err != nil {
		return err
	}
	bring := s.BringSecond
	if *to != "" {
		bring = func(ctx context.Context, photos map[model.PhotoID]bool) (store.Brought, error) {
			return s.BackUpTo(ctx, *to, photos)
		}
	}
	brought, err := bring(context.Background(), photos)
	if err != nil || brought.Inside == "" {
		return err
	}
	with := gaps{"Folder": brought.Inside, "Backups": brought.Snapshots, "Photos": brought.Photos}
	if brought.Damaged+brought.Missing == 0 {
		p.line("ctl.backup.second", with)
		return nil
	}
	p.line("ctl.backup.second-part", with)
	if brought.Damaged > 0 {
		p.counted("ctl.backup.damaged", brought.Damaged, nil)
	}
	if brought.Missing > 0 {
		p.counted("ctl.backup.missing", brought.Missing, nil)
	}
	return nil
}

// photosIn are the photos that the records of an open collection name.
func (p *program) photosIn(s *store.Store) (photos map[model.PhotoID]bool, err error) {
	c, err := collection.New(s, collection.Options{Now: p.now})
	if err != nil {
		return nil, err
	}
	err = c.View(func(v model.View) (err error) {
		photos, err = photo.In(v)
		return err
	})
	return photos, err
}

// restore puts a snapshot in the place of a collection; without --from, the
// newest one. With --preview it says what differs and changes nothing.
func (p *program) restore(arguments []string) error {
	flags := flag.NewFlagSet("restore", flag.ContinueOnError)
	folder := flags.String("collection", "", "")
	from := flags.String("from", "", "")
	preview := flags.Bool("preview", false, "")
	another := flags.Bool("another", false, "")
	flags.BoolVar(&p.takeOver, "take-over", false, "")
	rest, err := parse(flags, arguments)
	if err != nil || len(rest) > 0 || *folder == "" {
		return errors.Join(errUsage, err)
	}
	if *from == "" {
		newest, ok, err := store.NewestBackup(*folder, p.options())
		if err != nil {
			return err
		}
		if !ok {
			return refuse("collection", *folder, "ctl.restore.none")
		}
		*from = newest.Path
	}
	if _, err := os.Stat(*from); err != nil {
		return refuseFile(*from, "ctl.file.unreadable", err)
	}
	if store.IsDump(*from) {
		return refuse("ctl.file", *from, "ctl.restore.dump")
	}
	if *preview {
		return p.preview(*folder, *from)
	}
	if !*another {
		if err := p.sameCollection(*folder, *from); err != nil {
			return err
		}
	}
	aside, err := store.Restore(*folder, *from, p.options())
	if err != nil {
		return err
	}
	p.line("ctl.restore.done", gaps{"Folder": *folder, "File": *from})
	if aside != "" {
		p.line("ctl.restore.aside", gaps{"File": aside})
	}
	copies, err := store.KeyCopies(*folder)
	for _, c := range copies {
		p.line("ctl.restore.key", gaps{"File": c.Path})
	}
	return err
}

// sameCollection refuses a backup of another collection. What cannot be read does not
// tell which it is.
func (p *program) sameCollection(folder, from string) error {
	now, err := store.OpenReadOnly(filepath.Join(folder, collectionFile))
	if err != nil {
		return nil
	}
	defer now.Close()
	then, err := store.OpenVerified(from, p.options())
	if err != nil {
		return nil // restoring says why
	}
	defer then.Close()
	if other, err := now.Another(then); err != nil || !other {
		return nil
	}
	return refuse("ctl.file", from, "ctl.restore.another")
}

// preview says what restoring a file would change.
func (p *program) preview(folder, from string) (err error) {
	now, err := p.openToRead(folder)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, now.Close()) }()
	then, err := store.OpenVerified(from, p.options())
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, then.Close()) }()
	present, err := collection.New(now, collection.Options{Now: p.now})
	if err != nil {
		return err
	}
	other, err := collection.New(then, collection.Options{Now: p.now})
	if err != nil {
		return err
	}
	s, err := comparing.Compare(context.Background(), present, other, photo.At(filepath.Join(folder, store.PhotosFolder)).Has)
	if err != nil {
		return err
	}
	if s.Another, err = now.Another(then); err != nil {
		return err
	}
	p.differs(from, s)
	return nil
}

// differs writes what differs, each thing on a line of its own.
func (p *program) differs(from string, s comparing.Summary) {
	say := p.line
	if s.Another {
		say("keeping.another", gaps{"Name": store.NameOf(from), "Animals": s.Then.Animals})
		if s.Newest != (model.Moment{}) {
			say("keeping.another.newest", gaps{"Day": s.Newest.Day()})
		}
	}
	say("ctl.preview.now", gaps{"Animals": s.Now.Animals, "Entries": s.Now.Entries})
	say("ctl.preview.then", gaps{"File": from, "Animals": s.Then.Animals, "Entries": s.Then.Entries})
	if s.Same() {
		say("keeping.same", gaps{})
	}
	for _, c := range s.Counts {
		say("ctl.preview.count", gaps{"Kind": p.text.Say(comparing.Key(c.Type, c.Kind, p.text.Has)), "Gone": c.Gone, "Back": c.Back, "Changed": c.Changed})
	}
	ways := [...]string{comparing.Gone: "keeping.way.gone", comparing.Back: "keeping.way.back", comparing.Changed: "keeping.way.changed"}
	for _, l := range s.Lines {
		say("ctl.preview.line", gaps{"Way": p.text.Say(ways[l.Way]), "Kind": p.text.Say(comparing.Key(l.Type, l.Kind, p.text.Has)), "Names": strings.Join(l.Names, ", "), "When": l.At})
	}
	for _, id := range s.Missing {
		say("ctl.preview.photo", gaps{"Photo": string(id)})
	}
	p.line("ctl.preview.nothing-done", nil)
}

// salvage makes a new collection of all that can still be read of a damaged one,
// with the photos and drafts that lie beside it.
func (p *program) salvage(arguments []string) error {
	flags := flag.NewFlagSet("salvage", flag.ContinueOnError)
	out := flags.String("out", "", "")
	rest, err := parse(flags, arguments)
	if err != nil {
		return err
	}
	folder, err := one(rest)
	if err != nil || *out == "" {
		return errors.Join(errUsage, err)
	}
	if !store.Exists(folder) {
		return refuse("collection", folder, "ctl.collection.none")
	}
	if err := outside(*out, folder); err != nil {
		return err
	}
	files, missing := os.ReadDir(*out)
	if len(files) > 0 || missing != nil && !errors.Is(missing, fs.ErrNotExist) {
		return refuse("ctl.folder", *out, "ctl.salvage.there")
	}
	if err := os.MkdirAll(*out, 0o700); err != nil {
		return refuseFile(*out, "ctl.file.unwritable", err)
	}
	report, err := store.Salvage(filepath.Join(folder, collectionFile), filepath.Join(*out, collectionFile))
	if err != nil && missing != nil {
		err = errors.Join(err, os.Remove(*out))
	}
	if err != nil {
		return err
	}
	for _, beside := range []string{store.PhotosFolder, store.DraftsFolder} {
		from := filepath.Join(folder, beside)
		if _, err := os.Lstat(from); errors.Is(err, fs.ErrNotExist) { // a link that leads nowhere is said
			continue
		}
		if err := os.CopyFS(filepath.Join(*out, beside), os.DirFS(from)); err != nil {
			return refuseFile(from, "ctl.salvage.beside", err)
		}
	}
	p.line("ctl.salvage.done", gaps{"Folder": *out, "Revisions": report.Revisions, "Lost": report.Lost})
	if report.Erased > 0 {
		p.counted("keeping.salvage.erased", report.Erased, gaps{"File": filepath.Join(folder, collectionFile)})
	}
	for _, id := range report.Uncertain {
		p.line("ctl.salvage.uncertain", gaps{"ID": id.String()})
	}
	return nil
}

// dump writes everything that a collection holds as lines of text.
func (p *program) dump(arguments []string) (err error) {
	flags := flag.NewFlagSet("dump", flag.ContinueOnError)
	out := flags.String("out", "", "")
	rest, err := parse(flags, arguments)
	if err != nil {
		return err
	}
	folder, err := one(rest)
	if err != nil || *out == "" {
		return errors.Join(errUsage, err)
	}
	if err := errors.Join(usable(*out, runtime.GOOS), outside(*out, folder)); err != nil {
		return err
	}
	s, err := p.openToRead(folder)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, s.Close()) }()
	if err := store.DumpFile(s, *out); errors.Is(err, store.ErrNoDump) {
		return refuse("ctl.file", *out, "ctl.file.no-dump")
	} else if err != nil {
		return err
	}
	p.line("ctl.dump.done", gaps{"File": *out})
	return nil
}

// load makes a collection of a dump, in a folder that holds none.
func (p *program) load(arguments []string) (err error) {
	flags := flag.NewFlagSet("load", flag.ContinueOnError)
	folder := flags.String("collection", "", "")
	rest, err := parse(flags, arguments)
	if err != nil {
		return err
	}
	path, err := one(rest)
	if err != nil || *folder == "" {
		return errors.Join(errUsage, err)
	}
	if store.Exists(*folder) {
		return refuse("collection", *folder, "ctl.load.there")
	}
	if info, err := os.Stat(path); err == nil && !info.Mode().IsRegular() { // a pipe would be waited for
		return refuse("ctl.file", path, "ctl.load.no-file")
	}
	file, err := os.Open(path)
	if err != nil {
		return refuseFile(path, "ctl.file.unreadable", err)
	}
	defer func() { err = errors.Join(err, file.Close()) }()
	if err := store.Load(file, *folder); errors.Is(err, store.ErrBadDump) {
		return refuseFile(path, "ctl.load.bad", err)
	} else if err != nil {
		return err
	}
	p.line("ctl.load.done", gaps{"Folder": *folder, "File": path})
	problems, err := p.unsound(filepath.Join(*folder, collectionFile))
	for _, problem := range problems {
		fmt.Fprintln(p.out, problem)
	}
	return err
}
