// Package comparing says what two states of a collection do not have alike, in the
// terms of who keeps it: how much of each kind, and each thing by its name. It is
// what a person looks at before a backup takes the place of the collection.
package comparing

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/collection"
	"coilward/model/husbandry"
	"coilward/model/people"
	"coilward/model/photo"
	"coilward/model/quarantine"
)

// Way is how a thing differs, seen from the collection as it is now.
type Way uint8

// The ways.
const (
	Gone    Way = iota // it is there now and not in the other state
	Back               // it is in the other state and not there now
	Changed            // it is in both, but not alike
)

// Line is one thing that differs.
type Line struct {
	Way   Way
	Type  model.DocumentType
	Kind  string       // of an entry
	Names []string     // its own, or those of what it is about; empty: none is known
	At    model.Moment // when it happened
}

// Count is how much differs of one kind.
type Count struct {
	Type                model.DocumentType
	Kind                string
	Gone, Back, Changed int
}

// Side is what one state holds.
type Side struct{ Animals, Entries int }

// Summary is what differs between the collection now and another state of it.
type Summary struct {
	Now, Then Side
	// Another: the other state is of another collection. Who compares the files says it.
	Another bool
	// Newest is when the newest entry of the other state happened; zero: it has none.
	Newest model.Moment
	Counts []Count // animals and persons first, then entries by kind
	Lines  []Line  // by kind as in Counts, newest first
	// Missing are photos that the other state names and that are not among the
	// photos that are kept.
	Missing []model.PhotoID
}

// Same reports whether nothing differs.
func (s Summary) Same() bool { return len(s.Lines) == 0 }

// Key is the text of a kind of thing. An entry of a kind that only a newer version
// knows is an entry.
func Key(t model.DocumentType, kind string, has func(key string) bool) string {
	if t == model.TypeEntry && kind != "" && has("kind."+kind) {
		return "kind." + kind
	}
	if key := "keeping.type." + string(t); has(key) {
		return key
	}
	return "keeping.type.entry"
}

// Compare reads both states; kept tells whether a photo is there. It ends with the
// error of ctx before the next document once that is done.
func Compare(ctx context.Context, now, then *collection.Collection, kept func(model.PhotoID) bool) (Summary, error) {
	d, err := collection.Differ(ctx, now, then)
	if err != nil {
		return Summary{}, err
	}
	var s Summary
	if s.Now, err = Holds(now); err == nil {
		s.Then, err = Holds(then)
	}
	if err != nil {
		return Summary{}, err
	}
	names := map[model.ID]string{}
	for _, c := range []*collection.Collection{then, now} { // as it is called now, where both have it
		if err := c.View(func(v model.View) error { return read(ctx, v, names) }); err != nil {
			return Summary{}, fmt.Errorf("read the names of what differs: %w", err)
		}
	}
	s.add(d, names)
	err = then.View(func(v model.View) (err error) {
		if s.Missing, err = missing(ctx, v, kept); err != nil {
			return err
		}
		return errors.Join(v.All(model.TypeEntry, func(d model.Document) bool {
			if d.At.UTC > s.Newest.UTC || s.Newest == (model.Moment{}) {
				s.Newest = d.At
			}
			return ctx.Err() == nil
		}), ctx.Err())
	})
	if err != nil {
		return Summary{}, fmt.Errorf("look for the photos of a backup: %w", err)
	}
	return s, nil
}

// Holds is how much a state holds. It reads keys alone.
func Holds(c *collection.Collection) (s Side, err error) {
	if s.Animals, err = c.Count(model.TypeAnimal); err == nil {
		s.Entries, err = c.Count(model.TypeEntry)
	}
	return s, err
}

// read notes the names of all that has one. What cannot be read has none.
func read(ctx context.Context, v model.View, names map[model.ID]string) error {
	for _, t := range []model.DocumentType{model.TypeAnimal, model.TypePerson, model.TypePlace, model.TypeTool, model.TypeInstrument, model.TypeProtocol} {
		if err := v.All(t, func(d model.Document) bool {
			if name := nameOf(d); name != "" {
				names[d.ID] = name
			}
			return ctx.Err() == nil
		}); err != nil {
			return err
		}
		if err := ctx.Err(); err != nil {
			return err
		}
	}
	return nil
}

// nameOf is what a document itself is called; empty: it has no name or cannot be
// read.
func nameOf(d model.Document) string {
	switch d.Type {
	case model.TypeAnimal:
		a, err := animals.Decode(d)
		return unless(err, cmp.Or(a.Name, a.Code))
	case model.TypePerson:
		p, err := people.Decode(d)
		return unless(err, p.Person.Name)
	case model.TypePlace:
		p, err := husbandry.DecodePlace(d)
		return unless(err, p.Name)
	case model.TypeTool:
		t, err := husbandry.DecodeTool(d)
		return unless(err, t.Name)
	case model.TypeInstrument:
		i, err := husbandry.DecodeInstrument(d)
		return unless(err, i.Name)
	case model.TypeProtocol:
		p, err := quarantine.ReadOwn(d)
		return unless(err, p.Name)
	}
	return ""
}

func unless(err error, name string) string {
	if err != nil {
		return ""
	}
	return name
}

func (s *Summary) add(d collection.Difference, names map[model.ID]string) {
	for _, gone := range d.First {
		s.Lines = append(s.Lines, line(Gone, gone, names))
	}
	for _, back := range d.Second {
		s.Lines = append(s.Lines, line(Back, back, names))
	}
	for _, pair := range d.Changed {
		s.Lines = append(s.Lines, line(Changed, pair.First, names))
	}
	slices.SortStableFunc(s.Lines, func(a, b Line) int {
		return cmp.Or(cmp.Compare(rank(a.Type), rank(b.Type)), strings.Compare(a.Kind, b.Kind), cmp.Compare(b.At.UTC, a.At.UTC), slices.Compare(a.Names, b.Names))
	})
	for _, l := range s.Lines {
		last := len(s.Counts) - 1
		if last < 0 || s.Counts[last].Type != l.Type || s.Counts[last].Kind != l.Kind {
			s.Counts = append(s.Counts, Count{Type: l.Type, Kind: l.Kind})
			last++
		}
		switch l.Way {
		case Gone:
			s.Counts[last].Gone++
		case Back:
			s.Counts[last].Back++
		case Changed:
			s.Counts[last].Changed++
		}
	}
}

func rank(t model.DocumentType) int {
	if at := slices.Index(model.DocumentTypes(), t); at >= 0 {
		return at
	}
	return len(model.DocumentTypes())
}

func line(way Way, d model.Document, names map[model.ID]string) Line {
	l := Line{Way: way, Type: d.Type, At: d.At}
	if d.Type == model.TypeEntry {
		l.Kind = d.Kind
	}
	if own := cmp.Or(names[d.ID], nameOf(d)); own != "" {
		l.Names = []string{own}
		return l
	}
	for _, about := range d.Subjects {
		if name := names[about.ID]; name != "" && !slices.Contains(l.Names, name) {
			l.Names = append(l.Names, name)
		}
	}
	return l
}

// missing are the photos that a state names and that are not kept. It looks into
// bodies of every kind, those that only a newer version knows too.
func missing(ctx context.Context, v model.View, kept func(model.PhotoID) bool) (all []model.PhotoID, err error) {
	seen := map[model.PhotoID]bool{}
	for _, t := range model.DocumentTypes() {
		if err := v.All(t, func(d model.Document) bool {
			for _, id := range photo.Named(d.Body) {
				if !seen[id] && !kept(id) {
					all = append(all, id)
				}
				seen[id] = true
			}
			return ctx.Err() == nil
		}); err != nil {
			return nil, err
		}
		if err := ctx.Err(); err != nil {
			return nil, err
		}
	}
	slices.Sort(all)
	return all, nil
}
