package collection

import (
	"bytes"
	"encoding/json"
	"fmt"
	"slices"

	"coilward/model"
)

// Change tells what one command, undo or redo did. What is shown of any of its
// documents or subjects is out of date.
type Change struct {
	Sequence  uint64 // of the journal; unchanged if the command had nothing to write
	Documents []model.ID
	// Subjects are those that the documents are, were or have been about, and the
	// documents themselves where they are animals, persons, places, tools or instruments.
	Subjects []model.Subject
	Types    []model.DocumentType // of the documents
	Label    model.Label          // what was done, or what was undone or redone
	Undone   bool                 // it took an earlier change back
	Redone   bool                 // it took an undo back
	Settled  bool                 // no person did it, and undo passes it by
}

// Empty reports whether nothing was changed.
func (c Change) Empty() bool { return len(c.Documents) == 0 }

// alteration is a change while it is being written.
type alteration struct {
	writer  Writer
	written map[model.ID]model.Document // new revisions, not yet readable by key
	change  Change
}

// move sets the present revisions of all steps, indexes included.
func (a *alteration) move(steps []Step) error {
	for _, s := range steps {
		if err := a.step(s); err != nil {
			return err
		}
	}
	return nil
}

func (a *alteration) step(s Step) error {
	present, err := head(a.writer, s.ID)
	if err != nil {
		return err
	}
	if present != s.Old {
		return fmt.Errorf("change document %s from revision %d: its present revision is %d: %w", s.ID, s.Old, present, model.ErrConflict)
	}
	if err := a.each(s.ID, s.Old, a.drop); err != nil {
		return err
	}
	a.change.Documents = append(a.change.Documents, s.ID)
	return a.each(s.ID, s.New, a.show)
}

// each runs act on a revision if there is one.
func (a *alteration) each(id model.ID, n uint32, act func(model.Document) error) error {
	if n == 0 {
		return nil
	}
	d, ok := a.written[id]
	if !ok || d.Revision != n {
		var err error
		if d, err = revision(a.writer, id, n); err != nil {
			return err
		}
	}
	a.note(d)
	return act(d)
}

func (a *alteration) note(d model.Document) {
	for _, s := range append(itself(d), d.Subjects...) {
		if !slices.Contains(a.change.Subjects, s) {
			a.change.Subjects = append(a.change.Subjects, s)
		}
	}
	if !slices.Contains(a.change.Types, d.Type) {
		a.change.Types = append(a.change.Types, d.Type)
	}
}

// itself is the subject that a document is, if it is one.
func itself(d model.Document) []model.Subject {
	switch d.Type {
	case model.TypeAnimal:
		return []model.Subject{model.AnimalID{ID: d.ID}.Subject()}
	case model.TypePerson:
		return []model.Subject{model.PersonID{ID: d.ID}.Subject()}
	case model.TypePlace:
		return []model.Subject{model.PlaceID{ID: d.ID}.Subject()}
	case model.TypeTool:
		return []model.Subject{model.ToolID{ID: d.ID}.Subject()}
	case model.TypeInstrument:
		return []model.Subject{model.InstrumentID{ID: d.ID}.Subject()}
	case model.TypeBatch:
		return []model.Subject{model.BatchID{ID: d.ID}.Subject()}
	}
	return nil
}

func (a *alteration) show(d model.Document) error {
	if bytes.Equal(d.Body, forgottenBody) {
		return fmt.Errorf("show revision %d of %s: what it said was wiped out: %w", d.Revision, d.ID, model.ErrConflict)
	}
	return show(a.writer, d)
}

func (a *alteration) drop(d model.Document) error {
	if err := a.writer.Delete(Heads, d.ID[:]); err != nil {
		return err
	}
	for _, row := range rows(d) {
		if err := a.writer.Delete(row.bucket, row.key); err != nil {
			return err
		}
	}
	return nil
}

// show makes a revision the present one.
func show(w Writer, d model.Document) error {
	n := encodeNumber(d.Revision)
	if err := w.Put(Heads, d.ID[:], n); err != nil {
		return err
	}
	for _, row := range rows(d) {
		if err := w.Put(row.bucket, row.key, n); err != nil {
			return err
		}
	}
	return nil
}

// row is one place of an index.
type row struct {
	bucket Bucket
	key    []byte
}

// rows are the places of the indexes at which a present document stands. They
// follow from the document alone, so that undo finds them again.
func rows(d model.Document) []row {
	all := []row{{ByType, typeKey(d.Type, d.ID)}}
	if len(itself(d)) > 0 {
		return all
	}
	for _, s := range d.Subjects {
		all = append(all, row{BySubject, subjectKey(s, d.At.UTC, d.ID)})
	}
	return all
}

// write stores a new revision of a document, based on the one that it names.
func (a *alteration) write(d model.Document, now model.Moment) (Step, error) {
	if err := check(d); err != nil {
		return Step{}, err
	}
	newest, err := highest(a.writer, d.ID)
	if err != nil {
		return Step{}, err
	}
	step := Step{ID: d.ID, Old: d.Revision, New: newest + 1}
	d.Revision, d.Written = newest+1, now
	value, err := encodeRevision(d)
	if err != nil {
		return Step{}, err
	}
	a.written[d.ID] = d
	return step, a.writer.Put(Revisions, revisionKey(d.ID, d.Revision), value)
}

// encodeRevision leaves the characters < > & of the body as they are, because
// a body of unknown kind is kept as it was written.
func encodeRevision(d model.Document) ([]byte, error) {
	var buffer bytes.Buffer
	encoder := json.NewEncoder(&buffer)
	encoder.SetEscapeHTML(false)
	if err := encoder.Encode(d); err != nil {
		return nil, fmt.Errorf("write %s %s: %w", d.Type, d.ID, err)
	}
	return bytes.TrimSuffix(buffer.Bytes(), []byte("\n")), nil
}

// check refuses documents that no command may write.
func check(d model.Document) error {
	switch {
	case d.ID.IsZero():
		return fmt.Errorf("write a document of type %q: it has no id", d.Type)
	case d.Type == "" || bytes.ContainsRune([]byte(d.Type), 0):
		return fmt.Errorf("write document %s: its type is %q", d.ID, d.Type)
	case len(d.Body) == 0:
		return fmt.Errorf("write %s %s: it has no body", d.Type, d.ID)
	}
	for _, s := range d.Subjects {
		if s.Kind == "" || s.ID.IsZero() || bytes.ContainsRune([]byte(s.Kind), 0) {
			return fmt.Errorf("write %s %s: its subject %q %s names nothing", d.Type, d.ID, s.Kind, s.ID)
		}
	}
	return nil
}
