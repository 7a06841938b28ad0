package demo

import (
	"encoding/binary"
	"fmt"
	"slices"

	"coilward/model"
)

// bench is a view over which commands can be planned one after another before
// any of them is kept. It shows only what lies on it. Ids are counted, so that
// the same story gives the same ids on the same day.
type bench struct {
	now      model.Moment
	sequence uint64
	made     uint64
	order    []model.ID
	present  map[model.ID]model.Document
	about    map[model.Subject][]model.ID // by At, oldest first
}

func newBench(v model.View) *bench {
	return &bench{now: v.Now(), sequence: v.Sequence(), present: map[model.ID]model.Document{}, about: map[model.Subject][]model.ID{}}
}

// Sequence implements model.View.
func (b *bench) Sequence() uint64 { return b.sequence }

// Now implements model.View.
func (b *bench) Now() model.Moment { return b.now }

// NewID implements model.View: version 7 of RFC 9562 with the present day's
// first moment as its time and a count in place of chance.
func (b *bench) NewID() model.ID {
	b.made++
	var id model.ID
	binary.BigEndian.PutUint64(id[:8], uint64(b.now.Day())*86400_000<<16)
	id[6], id[7] = 0x70, 0
	binary.BigEndian.PutUint64(id[8:], b.made)
	id[8] = 0x80 | id[8]&0x3f
	return id
}

// Document implements model.View.
func (b *bench) Document(id model.ID) (model.Document, error) {
	d, ok := b.present[id]
	if !ok {
		return model.Document{}, fmt.Errorf("document %s: %w", id, model.ErrNotFound)
	}
	d.Revision = 1
	return d, nil
}

// Revisions implements model.View: on the bench nothing has a past.
func (b *bench) Revisions(id model.ID) ([]model.Document, error) {
	d, err := b.Document(id)
	return []model.Document{d}, err
}

// All implements model.View.
func (b *bench) All(t model.DocumentType, visit func(model.Document) bool) error {
	for _, id := range b.order {
		if d, ok := b.present[id]; ok && d.Type == t && !visit(d) {
			return nil
		}
	}
	return nil
}

// Timeline implements model.View.
func (b *bench) Timeline(s model.Subject, from, to int64, visit func(model.Document) bool) error {
	list := b.about[s]
	for i := len(list) - 1; i >= 0; i-- {
		d := b.present[list[i]]
		if d.At.UTC >= from && d.At.UTC < to && !visit(d) {
			return nil
		}
	}
	return nil
}

// take lays the writes of one command down.
func (b *bench) take(w model.Writes) error {
	if len(w.Remove) > 0 {
		return fmt.Errorf("the story takes nothing back")
	}
	for _, d := range w.Put {
		_, known := b.present[d.ID]
		if !known {
			b.order = append(b.order, d.ID)
		}
		d.Revision = 0
		b.present[d.ID] = d
		for _, s := range d.Subjects {
			if !known {
				b.index(s, d)
			}
		}
	}
	b.sequence++
	return nil
}

func (b *bench) index(s model.Subject, d model.Document) {
	list := b.about[s]
	i := len(list)
	for i > 0 && b.present[list[i-1]].At.UTC > d.At.UTC {
		i--
	}
	b.about[s] = slices.Insert(list, i, d.ID)
}

// documents are all that lies on the bench, in the order in which it came.
func (b *bench) documents() []model.Document {
	all := make([]model.Document, 0, len(b.order))
	for _, id := range b.order {
		all = append(all, b.present[id])
	}
	return all
}
