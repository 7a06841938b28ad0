package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io/fs"
	"path/filepath"
	"runtime"
	"slices"
	"strings"

	"coilward/export/handover"
	"coilward/model"
	record "coilward/model/handover"
	"coilward/model/photo"
	"coilward/model/store"
	"coilward/model/wording"
)

// makePapers writes the papers of an animal, signed with the key of a file, which is
// made where there is none.
func (p *program) makePapers(arguments []string) (err error) {
	var folder, animal, key, out, size, language string
	flags := flag.NewFlagSet("make-papers", flag.ContinueOnError)
	flags.StringVar(&folder, "collection", "", "")
	flags.StringVar(&animal, "animal", "", "")
	flags.StringVar(&key, "key", "", "")
	flags.StringVar(&out, "out", "", "")
	flags.StringVar(&size, "paper", "A4", "")
	flags.StringVar(&language, "lang", p.language, "")
	rest, err := parse(flags, arguments)
	switch {
	case err != nil:
		return err
	case len(rest) != 0 || folder == "" || animal == "" || key == "" || out == "":
		return errUsage
	case !slices.Contains(p.languages.Codes(), language):
		return refuse("ctl.language", language, "ctl.language.unknown")
	case filepath.Ext(out) != handover.Extension:
		return refuse("ctl.file", out, "ctl.papers.extension")
	}
	sheet, known := sizes()[strings.ToLower(size)]
	if !known {
		return refuse("ctl.size", size, "ctl.size.unknown")
	}
	if err := errors.Join(usable(out, runtime.GOOS), outside(out, folder), over(out, "PK\x03\x04", "ctl.papers.other"), usable(key, runtime.GOOS), outside(key, folder)); err != nil {
		return err
	}
	c, shut, err := p.read(folder)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, shut()) }()
	var id model.AnimalID
	if err := c.View(func(v model.View) (err error) { id, err = find(v, animal); return err }); err != nil {
		return err
	}
	signing, fresh, err := handover.KeyIn(key, model.DayOf(p.now()))
	if err != nil {
		return refuseFile(key, "ctl.papers.key", errors.New(err.Error())) // here the path may be wrong: no settings tell of this key
	}
	if fresh { // a path that was mistyped is seen by it
		fmt.Fprintln(p.errors, p.text.Say("ctl.papers.key-made", inLine(gaps{"File": key, "Key": signing.Public().Fingerprint()})))
	}
	photos := photo.At(filepath.Join(folder, store.PhotosFolder))
	made, err := handover.MakeFile(context.Background(), out, c, handover.Making{Animal: id, Tables: p.tables, Pictures: photos.JPEG,
		Text: p.languages.In(language, wording.Units{}), Size: sheet, Program: version(), Key: signing}, func(float64) {})
	var refusal *model.Refusal
	switch {
	case errors.As(err, &refusal):
		return refusal
	case err != nil:
		return refuseFile(out, "ctl.file.unwritable", err)
	}
	p.line("ctl.papers.made", gaps{"Animal": made.Name, "File": out, "Key": signing.Public().Fingerprint()})
	if made.Unread > 0 {
		p.line("ctl.papers.unread", gaps{"Number": made.Unread})
	}
	return nil
}

// openPapers tells what papers say. It needs no collection; beside one it says too whether
// they are older than those that were taken in there, or signed with another key. What was
// changed since it was signed is refused, and nothing of it told.
func (p *program) openPapers(arguments []string) (err error) {
	language, folder := p.language, ""
	flags := flag.NewFlagSet("open-papers", flag.ContinueOnError)
	flags.StringVar(&language, "lang", language, "")
	flags.StringVar(&folder, "collection", "", "")
	rest, err := parse(flags, arguments)
	if err != nil {
		return err
	}
	file, err := one(rest)
	if err != nil {
		return err
	}
	if !slices.Contains(p.languages.Codes(), language) {
		return refuse("ctl.language", language, "ctl.language.unknown")
	}
	papers, shut, err := handover.OpenFile(file)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return refuse("ctl.file", file, "ctl.papers.none")
	case err != nil:
		return refuseFile(file, "ctl.file.unreadable", err)
	}
	defer func() { err = errors.Join(err, shut()) }()
	text := p.languages.In(language, wording.Units{})
	told := handover.Tell(papers, p.tables, text)
	if folder != "" {
		stand, err := p.stand(folder, papers)
		if err != nil {
			return err
		}
		told.Compared = handover.Compared(papers, stand, text)
	}
	for _, line := range told.Lines() {
		fmt.Fprintln(p.out, line)
	}
	return nil
}

// stand is how papers stand to a collection.
func (p *program) stand(folder string, papers *handover.Papers) (s record.Stand, err error) {
	c, shut, err := p.read(folder)
	if err != nil {
		return s, err
	}
	defer func() { err = errors.Join(err, shut()) }()
	err = c.View(func(v model.View) (err error) {
		s, err = record.StandOf(v, papers.Record, papers.Key.Fingerprint(), papers.Sum)
		return err
	})
	return s, err
}
