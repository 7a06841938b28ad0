package main

import (
	"errors"
	"flag"
	"fmt"
	"os"
	"path/filepath"

	"coilward/model/store"
)

// collectionFile is the file of a collection inside its folder.
const collectionFile = "collection.db"

// verifyFolder reads every record of a collection's file and of its snapshots.
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
	paths := []string{filepath.Join(folder, collectionFile)}
	for _, s := range snapshots {
		paths = append(paths, s.Path)
	}
	bad := 0
	for _, path := range paths {
		report, err := p.verify(path)
		if err != nil {
			return err
		}
		if len(report.Problems) == 0 {
			fmt.Fprintln(p.out, p.text.Say("ctl.verify.good", gaps{"File": path}))
			continue
		}
		bad++
		for _, problem := range report.Problems {
			fmt.Fprintln(p.out, p.text.Say("ctl.verify.bad", gaps{"File": path, "Problem": problem}))
		}
	}
	if bad > 0 {
		return refuse("collection", folder, "ctl.verify.failed")
	}
	return nil
}

// onlyFolder is the one argument, a collection's folder.
func (p *program) onlyFolder(arguments []string) (string, error) {
	rest, err := parse(flag.NewFlagSet("", flag.ContinueOnError), arguments)
	if err != nil {
		return "", err
	}
	return one(rest)
}

// backup makes a verified snapshot in the collection's folder of backups.
func (p *program) backup(arguments []string) (err error) {
	folder, err := p.onlyFolder(arguments)
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
	fmt.Fprintln(p.out, p.text.Say("ctl.backup.done", gaps{"File": made.Path}))
	return nil
}

// restore puts a snapshot in the place of a collection; without --from, the
// newest one.
func (p *program) restore(arguments []string) error {
	flags := flag.NewFlagSet("restore", flag.ContinueOnError)
	folder := flags.String("collection", "", "")
	from := flags.String("from", "", "")
	rest, err := parse(flags, arguments)
	if err != nil || len(rest) > 0 || *folder == "" {
		return errors.Join(errUsage, err)
	}
	if *from == "" {
		newest, ok, err := store.NewestSnapshot(*folder)
		if err != nil {
			return err
		}
		if !ok {
			return refuse("collection", *folder, "ctl.restore.none")
		}
		*from = newest.Path
	}
	aside, err := store.Restore(*folder, *from, p.options())
	if err != nil {
		return err
	}
	fmt.Fprintln(p.out, p.text.Say("ctl.restore.done", gaps{"Folder": *folder, "File": *from}))
	if aside != "" {
		fmt.Fprintln(p.out, p.text.Say("ctl.restore.aside", gaps{"File": aside}))
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
	s, err := p.open(folder)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, s.Close()) }()
	if err := store.DumpFile(s, *out); err != nil {
		return err
	}
	fmt.Fprintln(p.out, p.text.Say("ctl.dump.done", gaps{"File": *out}))
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
	file, err := os.Open(path)
	if err != nil {
		return refuseFile(path, "ctl.file.unreadable", err)
	}
	defer func() { err = errors.Join(err, file.Close()) }()
	if err := store.Load(file, *folder); err != nil {
		return err
	}
	fmt.Fprintln(p.out, p.text.Say("ctl.load.done", gaps{"Folder": *folder, "File": path}))
	return nil
}
