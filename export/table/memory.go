package table

import (
	"encoding/json"
	"slices"
)

// Memory is how sheets were taken by hand, to be proposed where one with the
// same headings comes again; the latest stands last. It holds what each column
// was matched with, and no answer to what a value means: that is of one file.
type Memory []Remembered

// Remembered is how one sheet was taken.
type Remembered struct {
	Headings string `json:"headings"` // with what the sheet was guessed to list
	Taking   Taking `json:"taking"`
}

// mostRemembered is how many sheets are kept in mind.
const mostRemembered = 50

// ReadMemory reads what String wrote; what cannot be read is no memory.
func ReadMemory(text string) Memory {
	var m Memory
	if json.Unmarshal([]byte(text), &m) != nil {
		return nil
	}
	return m
}

// String is the memory as text, to be kept.
func (m Memory) String() string {
	raw, err := json.Marshal(m)
	if err != nil || len(m) == 0 {
		return ""
	}
	return string(raw)
}

// Recall is how a sheet with these headings was taken the last time by hand; ok
// is false where none was, or where what was kept does not fit.
func (m Memory) Recall(w *Words, guessed Taking) (t Taking, ok bool) {
	i := m.index(w.signature(guessed))
	if i < 0 || !m[i].Taking.fits(guessed) {
		return guessed, false
	}
	t = m[i].Taking
	t.Heading, t.Columns = guessed.Heading, slices.Clone(t.Columns)
	for at := range t.Columns {
		t.Columns[at].Heading = guessed.Columns[at].Heading
	}
	return t, true
}

// Keep is the memory with how a sheet was taken; one that was taken as guessed, with
// nothing asked, is forgotten.
func (m Memory) Keep(w *Words, guessed, taken Taking) Memory {
	signature := w.signature(guessed)
	all := slices.DeleteFunc(slices.Clone(m), func(r Remembered) bool { return r.Headings == signature })
	kept, plain := taken.matched(), guessed.matched()
	asked := slices.ContainsFunc(guessed.Columns, func(c Column) bool { return c.Twin != NotTaken })
	if !asked && kept.Lists == plain.Lists && slices.Equal(kept.Columns, plain.Columns) {
		return all
	}
	all = append(all, Remembered{signature, kept})
	return all[max(0, len(all)-mostRemembered):]
}

func (m Memory) index(signature string) int {
	return slices.IndexFunc(m, func(r Remembered) bool { return r.Headings == signature })
}

// signature is alike of sheets with the same headings that look as if they listed
// the same.
func (w *Words) signature(guessed Taking) string {
	text := string(guessed.Lists)
	for _, c := range guessed.Columns {
		text += "|" + folded(c.Heading)
	}
	return text
}

// matched is the taking with what each column was matched with alone.
func (t Taking) matched() Taking {
	m := Taking{Lists: t.Lists}
	for _, c := range t.Columns {
		m.Columns = append(m.Columns, Column{Field: c.Field, Unit: c.Unit})
	}
	return m
}

// fits reports whether a kept taking can be one of a sheet: another version of the
// program may have kept it.
func (t Taking) fits(guessed Taking) bool {
	if len(t.Columns) != len(guessed.Columns) || t.Lists != NotListed && !slices.Contains(Listings(), t.Lists) {
		return false
	}
	seen := map[Field]bool{}
	for _, c := range t.Columns {
		if c.Field == NotTaken {
			continue
		}
		if seen[c.Field] || !slices.Contains(t.Lists.Fields(), c.Field) {
			return false
		}
		seen[c.Field] = true
	}
	return true
}
