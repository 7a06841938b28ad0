package written

import (
	"encoding/json"
	"fmt"
	"slices"

	"coilward/model"
	"coilward/model/exam"
	"coilward/model/knowledge"
)

// Draft is the sheet for a check that is being typed in: the check so far, and what was
// typed.
type Draft struct {
	exam.Draft
	Typed Typed `json:"typed"`
}

// Typed is what was typed of a sheet for a check.
type Typed struct {
	Uncoded bool           `json:"uncoded,omitempty"` // the sheet has no code: its animal was chosen
	By      model.PersonID `json:"by,omitzero"`
	Mass    string         `json:"mass,omitempty"`
	Lines   []string       `json:"lines,omitempty"` // those that were taken, the oldest first
}

// AllFine is the line of a sheet whose other boxes are all ticked fine.
const AllFine = "*"

// ReadDraft reads a draft that was written as JSON.
func ReadDraft(raw []byte) (Draft, error) {
	var d Draft
	check, err := exam.ReadDraft(raw)
	if err != nil {
		return Draft{}, err
	}
	if err := json.Unmarshal(raw, &d); err != nil {
		return Draft{}, fmt.Errorf("read the draft of a sheet: %w", err)
	}
	d.Draft = check
	return d, nil
}

// Take is the draft after a line that was typed: AllFine, or one that Read reads. The error
// is a *model.Refusal; that of a line that cannot be read has the field "line".
func (d Draft) Take(t *knowledge.Tables, w Words, typed string) (Draft, error) {
	at := d.Begun
	if typed == AllFine {
		d.Draft = d.Fine(t, at)
	} else {
		line, err := Read(t, d.Draft, w, typed)
		if err != nil {
			return d, err
		}
		check, err := line.Put(t, d.Draft, at)
		if err != nil {
			return d, err
		}
		d.Draft = check
	}
	d.Draft = d.Go(min(d.Index, len(d.Stops)-1))
	d.Typed.Lines = append(slices.Clip(d.Typed.Lines), typed)
	return d, nil
}

// Onto is what was typed, taken again line by line onto a check as it began; photos stay
// with their findings. Lines that do not fit it any more are lost, and told.
func (d Draft) Onto(t *knowledge.Tables, w Words, begun exam.Draft) (again Draft, lost []string) {
	again = Draft{Draft: begun, Typed: d.Typed}
	again.Typed.Lines = nil
	for _, typed := range d.Typed.Lines {
		next, err := again.Take(t, w, typed)
		if err != nil {
			lost = append(lost, typed)
			continue
		}
		again = next
	}
	for _, had := range d.Findings {
		for i, f := range again.Findings {
			if f.Stop == had.Stop && f.What == had.What && f.Place == had.Place && len(had.Photos) > 0 {
				f.Photos = had.Photos
				again.Draft = again.ChangeFinding(i, f)
			}
		}
	}
	return again, lost
}
