package handover

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"

	"coilward/export/paper"
	"coilward/export/pdf"
	"coilward/model"
	"coilward/model/disk"
	"coilward/model/handover"
	"coilward/model/knowledge"
	"coilward/model/photo"
)

// Making is of whom papers are made, and with what.
type Making struct {
	Animal   model.AnimalID
	Tables   *knowledge.Tables
	Pictures paper.Pictures
	Text     paper.Text // of the health record
	Size     paper.Size
	Program  string // its version
	Key      Key
}

// Viewer reads one state of a collection.
type Viewer interface {
	View(read func(model.View) error) error
}

// Made tells what was written.
type Made struct {
	Name   string // of the animal
	Day    model.Day
	Unread int // photos that could not be read and did not go along
}

// Make writes the papers of an animal. progress is told the share that is done.
func Make(ctx context.Context, w io.Writer, from Viewer, m Making, progress func(float64)) (Made, error) {
	pictures := func(id model.PhotoID, longest int) ([]byte, error) { // the paper takes them as they are
		raw, err := m.Pictures(id, longest)
		if err != nil {
			return nil, err
		}
		return bare(raw)
	}
	var told handover.Gathered
	var gathered paper.Gathered
	err := from.View(func(v model.View) (err error) {
		if told, err = handover.Gather(v, m.Tables, m.Animal, m.Program); err != nil {
			return err
		}
		gathered, err = paper.Gather(v, paper.Gathering{Animal: m.Animal, Tables: m.Tables, Pictures: pictures, Version: m.Program, WithoutNotes: true})
		return err
	})
	if err != nil {
		return Made{}, err
	}
	c := Contents{Record: told.Record}
	c.Record.Photos = nil
	made := Made{Name: told.Record.Animal.Name, Day: told.Record.Issued.Day}
	for i, id := range told.Photos {
		if err := ctx.Err(); err != nil {
			return made, err
		}
		raw, err := pictures(id, photo.Page)
		if err != nil {
			made.Unread++
			c.Record.Unread++
			continue
		}
		c.Photos, c.Record.Photos = append(c.Photos, raw), append(c.Record.Photos, told.Record.Photos[i])
		progress(float64(i+1) / float64(len(told.Photos)+1))
	}
	facts := gathered.Facts()
	withoutPrivate(&facts, m.Text)
	facts.Seal = paper.Seal{Fingerprint: m.Key.Public().Fingerprint(), Code: m.Key.Public().Code()}
	var printed bytes.Buffer
	if err := pdf.Write(&printed, paper.HealthRecord(facts, m.Text, m.Size), facts.Issued.Time().UTC()); err != nil {
		return made, err
	}
	c.Paper = printed.Bytes()
	if err := Write(w, c, m.Key); err != nil {
		return made, fmt.Errorf("make the papers of %s: %w", made.Name, err)
	}
	progress(1)
	return made, nil
}

// MakeFile is Make into a file, whole or not at all. The error of a file that could not
// be written is a *disk.Fault.
func MakeFile(ctx context.Context, path string, from Viewer, m Making, progress func(float64)) (Made, error) {
	var file bytes.Buffer
	made, err := Make(ctx, &file, from, m, progress)
	if err != nil {
		return made, err
	}
	return made, disk.Write(path, file.Bytes())
}

// OpenFile is Open of a file; shut gives it up. What is no file, be it a folder, a pipe or a
// device, is not opened: to open one may wait for ever.
func OpenFile(path string) (p *Papers, shut func() error, err error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, nil, fmt.Errorf("open her papers: %w", err)
	}
	if !info.Mode().IsRegular() {
		return nil, nil, fault("", NotPapers, nil)
	}
	file, err := os.Open(path)
	if err != nil {
		return nil, nil, fmt.Errorf("open her papers: %w", err)
	}
	info, err = file.Stat()
	if err == nil && !info.Mode().IsRegular() { // another lies there since
		err = fault("", NotPapers, nil)
	}
	if err == nil {
		p, err = Open(file, info.Size())
	}
	if err != nil {
		return nil, nil, errors.Join(err, file.Close())
	}
	return p, file.Close, nil
}
