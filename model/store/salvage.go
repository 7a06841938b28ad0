package store

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"

	"coilward/model"
	"coilward/model/collection"
)

// SalvageReport tells what was brought back from a damaged file.
type SalvageReport struct {
	Revisions int // revisions of documents found
	Entries   int // journal entries found
	Lost      int // journal entries known to be missing
	// Uncertain are documents whose present revision the journal could not tell:
	// their newest revision that was found is shown, even if it had been undone
	// or the document removed. A person should look at them.
	Uncertain []model.ID
	// Erased are documents that had been erased for good and of which the damaged file
	// still held what they said: it was left out. It is still in the damaged file.
	Erased int
}

// pieces are the whole records found in a damaged file.
type pieces struct {
	revisions map[string][]byte
	entries   map[uint64][]byte
	form      []byte
	forgotten map[model.ID]bool // documents that were erased for good
	label     model.Label       // what the journal says in the place of what named them
}

// Salvage reads a damaged file byte by byte, without bbolt, keeps every record
// whose checksum and name fit, and makes a new file of them. Revisions and
// journal entries never change, so it does not matter in which page, used or
// freed, one is found.
func Salvage(path, fresh string) (SalvageReport, error) {
	if _, err := os.Stat(fresh); err == nil {
		return SalvageReport{}, fmt.Errorf("salvage into %s: there is a file already", fresh)
	}
	data, err := os.ReadFile(path)
	if err != nil {
		return SalvageReport{}, fault(path, "read the damaged file", err)
	}
	found := search(data)
	if len(found.revisions) == 0 {
		return SalvageReport{}, &Fault{Kind: ErrDamaged, Path: path, Err: errors.New("no whole record was found in it")}
	}
	erased := found.erase()
	entries, report := found.mend()
	report.Erased = erased
	return report, build(fresh, func(s *Store) error { return found.fill(s, entries) })
}

// SalvageFolder salvages the damaged file of a folder and puts what was found in
// its place, as Restore does with a backup: the damaged file is kept, and
// setAside is where.
func SalvageFolder(folder string, o Options) (report SalvageReport, setAside string, err error) {
	fresh := filepath.Join(folder, BackupsFolder, "salvaged-"+randomName()+snapshotEnd)
	if err := makeFolders(folder); err != nil {
		return report, "", err
	}
	if report, err = Salvage(filepath.Join(folder, fileName), fresh); err != nil {
		return report, "", err
	}
	setAside, err = Restore(folder, fresh, o)
	return report, setAside, errors.Join(err, removeIfThere(fresh))
}

func search(data []byte) *pieces {
	p := &pieces{revisions: map[string][]byte{}, entries: map[uint64][]byte{}, forgotten: map[model.ID]bool{}}
	for {
		at := bytes.Index(data, []byte(mark))
		if at < 0 {
			return p
		}
		data = data[at:]
		var r record
		if _, err := r.decode(data); err == nil {
			p.take(r)
		}
		// Not the record's length: a record may lie within another's value.
		data = data[len(mark):]
	}
}

// take keeps the records of which all others are made.
func (p *pieces) take(r record) {
	switch {
	case r.bucket == collection.Revisions && len(r.key) == 20:
		p.revisions[string(r.key)] = r.value
		if _, was, err := collection.Wipe(r.value); err == nil && was {
			p.forgotten[idOf(string(r.key))] = true
		}
	case r.bucket == collection.Journal && len(r.key) == 8:
		sequence := binary.BigEndian.Uint64(r.key)
		if newer(r.value, p.entries[sequence]) {
			p.entries[sequence] = r.value
		}
	case r.bucket == collection.Control && bytes.Equal(r.key, formKey):
		p.form = r.value
	}
}

// idOf is the document of a revision's key.
func idOf(key string) (id model.ID) {
	copy(id[:], key)
	return id
}

// erase wipes out what documents said that had been erased for good, and what the
// journal calls them: freed pages of a file that was not written anew yet still hold
// it. It tells how many said something.
func (p *pieces) erase() int {
	for _, value := range p.entries {
		var e collection.Entry
		if json.Unmarshal(value, &e) == nil && e.Command == collection.Forgotten {
			p.label = e.Label
			for _, id := range e.Forgot {
				p.forgotten[id] = true
			}
		}
	}
	said := map[model.ID]bool{}
	for key, value := range p.revisions {
		id := idOf(key)
		if !p.forgotten[id] {
			continue
		}
		without, was, err := collection.Wipe(value)
		if err != nil {
			delete(p.revisions, key)
			continue
		}
		p.revisions[key], said[id] = without, said[id] || !was
	}
	erased := 0
	for _, still := range said {
		if still {
			erased++
		}
	}
	return erased
}

// newer decides between two entries of one sequence: one was written, but never
// committed, before the power went.
func newer(a, b []byte) bool {
	var first, second collection.Entry
	if json.Unmarshal(a, &first) != nil {
		return false
	}
	return b == nil || json.Unmarshal(b, &second) != nil || !first.At.Before(second.At)
}

// mend makes a journal without gaps: entries that are missing are replaced by
// such as say so, and one more at the end sets every document whose revisions
// do not fit the journal to its newest one.
func (p *pieces) mend() ([]collection.Entry, SalvageReport) {
	report := SalvageReport{Revisions: len(p.revisions), Entries: len(p.entries)}
	var last uint64
	var at model.Moment
	for sequence := range p.entries {
		last = max(last, sequence)
	}
	present := map[model.ID]uint32{}
	named := map[model.ID]uint32{}
	var entries []collection.Entry
	for sequence := uint64(1); sequence <= last; sequence++ {
		var e collection.Entry
		if value, ok := p.entries[sequence]; !ok || json.Unmarshal(value, &e) != nil || e.Sequence != sequence {
			e = collection.Entry{Sequence: sequence, At: at, Command: collection.Lost}
			report.Lost++
		}
		at = e.At
		for _, s := range e.Steps {
			if p.forgotten[s.ID] {
				e.Label = p.label
			}
			present[s.ID] = s.New
			named[s.ID] = max(named[s.ID], s.New)
		}
		entries = append(entries, e)
	}
	steps := p.uncertain(present, named)
	for _, s := range steps {
		if !p.forgotten[s.ID] {
			report.Uncertain = append(report.Uncertain, s.ID)
		}
	}
	if report.Lost > 0 || len(steps) > 0 {
		entries = append(entries, collection.Entry{Sequence: last + 1, At: at, Command: collection.Lost, Steps: steps})
	}
	return entries, report
}

// uncertain are the steps to the newest found revision of each document whose
// present one is missing, or that has revisions which the journal does not name.
func (p *pieces) uncertain(present, named map[model.ID]uint32) []collection.Step {
	newest := map[model.ID]uint32{}
	for key := range p.revisions {
		id := idOf(key)
		newest[id] = max(newest[id], binary.BigEndian.Uint32([]byte(key[16:])))
		if _, ok := present[id]; !ok {
			present[id] = 0
		}
	}
	var steps []collection.Step
	for id, n := range present {
		if p.forgotten[id] { // it was removed before it was erased
			if n != 0 {
				steps = append(steps, collection.Step{ID: id, Old: n})
			}
			continue
		}
		_, whole := p.revisions[string(binary.BigEndian.AppendUint32(id[:], n))]
		if newest[id] > named[id] || n != 0 && !whole {
			steps = append(steps, collection.Step{ID: id, Old: n, New: newest[id]})
		}
	}
	slices.SortFunc(steps, func(a, b collection.Step) int { return bytes.Compare(a.ID[:], b.ID[:]) })
	return steps
}

func (p *pieces) fill(s *Store, entries []collection.Entry) error {
	return s.Update(func(w collection.Writer) error {
		if err := p.fillControl(w); err != nil {
			return err
		}
		for key, value := range p.revisions {
			if err := w.Put(collection.Revisions, []byte(key), value); err != nil {
				return err
			}
		}
		for _, e := range entries {
			value, err := json.Marshal(e)
			if err != nil {
				return err
			}
			if err := w.Put(collection.Journal, binary.BigEndian.AppendUint64(nil, e.Sequence), value); err != nil {
				return err
			}
		}
		return collection.Rebuild(w)
	})
}

func (p *pieces) fillControl(w collection.Writer) error {
	if p.form == nil {
		return writeForm(w)
	}
	return w.Put(collection.Control, formKey, p.form)
}
