package handover

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"maps"
	"os"
	"reflect"

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
	withoutPrivate(&facts)
	for id, scale := range facts.Scales {
		scale.Name = m.Text.Say("handover.a-scale")
		facts.Scales[id] = scale
	}
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

// private are the texts that stay with the keeper, by the names of their fields in
// whatever is told.
func private() map[string]bool {
	return map[string]bool{"Note": true, "Caption": true, "Zone": true, "Origin": true, "From": true, "Code": true, "Courier": true, "Tracking": true, "Storage": true, "Practice": true, "Why": true,
		"Number": true, "Lot": true, "NearTo": true, "RoomTitle": true, "Scale": true}
}

// unnamed are what stands in place of names of others in what a sentence says of the animal:
// who they are is nothing for those who read its papers.
func unnamed() map[string]model.Gap {
	return map[string]model.Gap{"Name": model.KeyGap("handover.unnamed"), "Scale": model.KeyGap("handover.a-scale")}
}

// withoutPrivate empties the private texts of the facts, and takes out the names of others.
func withoutPrivate(f *paper.Facts) {
	f.Notes, f.SampleNotes = nil, false
	facts := reflect.ValueOf(f).Elem()
	for i := range facts.NumField() {
		// what the tests say names no one, and is shared
		if name := facts.Type().Field(i).Name; name != "Tables" && name != "Chances" {
			empty(facts.Field(i), private())
		}
	}
}

// empty empties the named texts of a value, as deep as it goes. What a pointer, a list or
// an interface holds is copied first.
func empty(v reflect.Value, names map[string]bool) {
	switch v.Kind() {
	case reflect.Pointer:
		if v.IsNil() || v.Type() == reflect.TypeFor[*knowledge.Tables]() || !v.CanSet() {
			return
		}
		own := reflect.New(v.Type().Elem())
		own.Elem().Set(v.Elem())
		empty(own.Elem(), names)
		v.Set(own)
	case reflect.Interface:
		if v.IsNil() || !v.CanSet() || v.Elem().Kind() == reflect.Pointer {
			return
		}
		own := reflect.New(v.Elem().Type()).Elem()
		own.Set(v.Elem())
		empty(own, names)
		v.Set(own)
	case reflect.Slice:
		if v.IsNil() || v.Type().Elem().Kind() == reflect.Uint8 || !v.CanSet() {
			return
		}
		own := reflect.MakeSlice(v.Type(), v.Len(), v.Len())
		reflect.Copy(own, v)
		for i := range own.Len() {
			empty(own.Index(i), names)
		}
		v.Set(own)
	case reflect.Map:
		if said, is := v.Interface().(map[string]model.Gap); is && v.CanSet() {
			v.Set(reflect.ValueOf(withoutNames(said)))
		}
	case reflect.Struct:
		for i := range v.NumField() {
			field := v.Field(i)
			switch {
			case !field.CanSet():
			case names[v.Type().Field(i).Name] && field.Type() == reflect.TypeFor[string]():
				field.SetString("")
			default:
				empty(field, names)
			}
		}
	}
}

func withoutNames(said map[string]model.Gap) map[string]model.Gap {
	own := maps.Clone(said)
	for gap, in := range unnamed() {
		if named, there := own[gap]; there && named.Kind == model.GapText {
			own[gap] = in
		}
	}
	return own
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

// OpenFile is Open of a file; shut gives it up.
func OpenFile(path string) (p *Papers, shut func() error, err error) {
	file, err := os.Open(path)
	if err != nil {
		return nil, nil, fmt.Errorf("open her papers: %w", err)
	}
	info, err := file.Stat()
	if err == nil && !info.Mode().IsRegular() {
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
