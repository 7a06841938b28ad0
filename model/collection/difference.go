package collection

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"slices"

	"coilward/model"
)

// Difference is what two states of one collection do not have alike, in the order
// of the documents' ids.
type Difference struct {
	First   []model.Document // present in the first alone
	Second  []model.Document // present in the second alone
	Changed []Pair           // present in both, but not alike
}

// Pair is one document as it stands in two states.
type Pair struct{ First, Second model.Document }

// Empty reports whether both are alike.
func (d Difference) Empty() bool { return len(d.First)+len(d.Second)+len(d.Changed) == 0 }

// Mirrored is the difference seen from the other side.
func (d Difference) Mirrored() Difference {
	m := Difference{First: d.Second, Second: d.First}
	for _, p := range d.Changed {
		m.Changed = append(m.Changed, Pair{First: p.Second, Second: p.First})
	}
	return m
}

// Differ compares the present documents of two collections: two states of one, or
// what two machines made of one. What was changed and then changed back is alike,
// however many revisions that took. It reads both whole, with a view of each open
// meanwhile, and ends with the error of ctx before the next document once that is
// done.
func Differ(ctx context.Context, first, second *Collection) (d Difference, err error) {
	err = first.store.View(func(a Reader) error {
		return second.store.View(func(b Reader) (err error) {
			d, err = differ(ctx, a, b)
			return err
		})
	})
	if err != nil {
		return Difference{}, fmt.Errorf("compare two collections: %w", err)
	}
	return d, nil
}

func differ(ctx context.Context, a, b Reader) (d Difference, err error) {
	first, err := heads(a)
	if err != nil {
		return d, err
	}
	second, err := heads(b)
	if err != nil {
		return d, err
	}
	for _, h := range first {
		if err := ctx.Err(); err != nil {
			return d, err
		}
		n, ok := second.number(h.id)
		if !ok {
			if err := add(&d.First, a, h); err != nil {
				return d, err
			}
			continue
		}
		pair, alike, err := compared(a, b, h, n)
		if err != nil {
			return d, err
		}
		if !alike {
			d.Changed = append(d.Changed, pair)
		}
	}
	for _, h := range second {
		if err := ctx.Err(); err != nil {
			return d, err
		}
		if _, ok := first.number(h.id); !ok {
			if err := add(&d.Second, b, h); err != nil {
				return d, err
			}
		}
	}
	return d, nil
}

// present is one present document: its id and the number of its revision.
type present struct {
	id model.ID
	n  uint32
}

// presents are all present documents, in the order of their ids.
type presents []present

func (p presents) number(id model.ID) (uint32, bool) {
	at, ok := slices.BinarySearchFunc(p, id, func(h present, id model.ID) int { return bytes.Compare(h.id[:], id[:]) })
	if !ok {
		return 0, false
	}
	return p[at].n, true
}

func heads(r Reader) (all presents, err error) {
	walkError := r.Walk(Heads, nil, nil, false, func(key, value []byte) bool {
		var h present
		if h.id, err = idAtEnd(key); err == nil {
			h.n, err = decodeNumber(value)
		}
		all = append(all, h)
		return err == nil
	})
	return all, errors.Join(walkError, err)
}

func add(to *[]model.Document, r Reader, h present) error {
	d, err := revision(r, h.id, h.n)
	*to = append(*to, d)
	return err
}

// compared reads a document only where its stored bytes differ.
func compared(a, b Reader, h present, n uint32) (p Pair, alike bool, err error) {
	if h.n == n {
		first, err := a.Get(Revisions, revisionKey(h.id, n))
		if err != nil {
			return p, false, err
		}
		second, err := b.Get(Revisions, revisionKey(h.id, n))
		if err != nil || bytes.Equal(first, second) {
			return p, err == nil, err
		}
	}
	if p.First, err = revision(a, h.id, h.n); err == nil {
		p.Second, err = revision(b, h.id, n)
	}
	return p, alikeDocuments(p.First, p.Second), err
}

// alikeDocuments reports whether two revisions say the same.
func alikeDocuments(a, b model.Document) bool {
	return a.Type == b.Type && a.Kind == b.Kind && a.Version == b.Version && a.At == b.At && a.By == b.By &&
		slices.Equal(a.Subjects, b.Subjects) && bytes.Equal(a.Body, b.Body)
}

// Count is how many documents of a type are present. It reads keys alone.
func (c *Collection) Count(t model.DocumentType) (n int, err error) {
	prefix := typePrefix(t)
	err = c.store.View(func(r Reader) error {
		return r.Walk(ByType, prefix, after(prefix), false, func(_, _ []byte) bool { n++; return true })
	})
	if err != nil {
		return 0, fmt.Errorf("count the documents of type %s: %w", t, err)
	}
	return n, nil
}
