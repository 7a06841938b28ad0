// Package feeders is the stock of frozen prey: batches, what of them was thawed out and
// offered, and what happened to the freezer. What is left is never written down: it
// follows from the meals and thawings that name a batch.
package feeders

import (
	"fmt"
	"strings"

	"coilward/model"
	"coilward/model/care"
)

// Version is the newest form of any body of this package.
const Version = 1

// The kinds of entry about batches. Values are frozen.
const (
	KindThaw    = "thaw"
	KindFreezer = "freezer-failure"
	KindLook    = "batch-look"
)

// RefreezeCaution is the key of what stands beside every thawing. Source: common
// practice, no source.
const RefreezeCaution = "feeders.caution.refreeze"

// Batch is prey of one kind and size that was bought together.
type Batch struct {
	Name    string        `json:"name"` // by which the keeper knows it
	Prey    care.Prey     `json:"prey"`
	Size    care.PreySize `json:"size,omitempty"`
	Each    model.Mass    `json:"each,omitzero"` // of one prey item
	Count   int           `json:"count"`         // items bought
	Bought  model.Date    `json:"bought,omitzero"`
	Frozen  model.Date    `json:"frozen,omitzero"`
	Best    model.Date    `json:"best,omitzero"`     // before this day
	Freezer string        `json:"freezer,omitempty"` // what the keeper calls it
	Note    string        `json:"note,omitempty"`
}

// Thaw is prey taken out of the freezer to be offered. What is not offered is thrown
// away.
type Thaw struct {
	Count int    `json:"count"`
	Note  string `json:"note,omitempty"`
}

// Failure is that a freezer failed: all that lay in it is in doubt.
type Failure struct {
	Freezer string `json:"freezer"`
	Note    string `json:"note,omitempty"`
}

// Look is that a batch was looked through, such as after its freezer failed: what was found
// thawed or is not wanted any more is thrown away, and of the rest nothing is in doubt.
type Look struct {
	Thrown int    `json:"thrown"` // items thrown away; 0: none
	Note   string `json:"note,omitempty"`
}

// Stored is a batch with its document's header.
type Stored struct {
	ID       model.BatchID
	Revision uint32
	Added    model.Moment
	Batch
}

// The most that a batch and its lines hold.
const (
	MaxCount = 100_000
	MaxLine  = 60
	MaxNote  = 1000
)

// Check tells what of a batch cannot stand on a day; nil if nothing.
func (b Batch) Check(today model.Day) *model.Refusal {
	known := false
	for _, p := range care.Preys() {
		known = known || p == b.Prey
	}
	sized := b.Size == care.SizeUnsaid
	for _, s := range care.PreySizes() {
		sized = sized || s == b.Size
	}
	switch {
	case strings.TrimSpace(b.Name) == "":
		return mend("batch-name", "", "text.empty", nil)
	case b.Prey == "":
		return mend("prey", "", "choice.empty", nil)
	case !known:
		return mend("prey", string(b.Prey), "choice.unknown", nil)
	case !sized:
		return mend("prey-size", string(b.Size), "choice.unknown", nil)
	case b.Each.Milligrams < 0:
		return mend("prey-mass", b.Each.Typed, "mass.none", nil)
	case b.Each.Milligrams > care.HeaviestPrey:
		return mend("prey-mass", b.Each.Typed, "prey.heavy", map[string]model.Gap{"Most": model.MassGap(model.Mass{Milligrams: care.HeaviestPrey})})
	case b.Count < 1 || b.Count > MaxCount:
		return mend("batch-count", "", "number.range", map[string]model.Gap{"Least": model.CountGap(1), "Most": model.CountGap(MaxCount)})
	case b.Bought.Day > today:
		return mend("bought", b.Bought.Day.String(), "day.future", map[string]model.Gap{"Today": model.DayGap(today)})
	case b.Frozen.Day > today:
		return mend("frozen", b.Frozen.Day.String(), "day.future", map[string]model.Gap{"Today": model.DayGap(today)})
	case !b.Best.IsZero() && b.Best.Day < max(b.Bought.Day, b.Frozen.Day):
		return mend("best-before", b.Best.Day.String(), "batch.best", map[string]model.Gap{"Day": model.DayGap(max(b.Bought.Day, b.Frozen.Day))})
	}
	return first(model.CheckLine("batch-name", b.Name, MaxLine), model.CheckLine("freezer", b.Freezer, MaxLine), model.CheckText("note", b.Note, MaxNote))
}

// Check tells what of a thawing cannot stand by itself; nil if nothing.
func (t Thaw) Check() *model.Refusal {
	if t.Count < 1 || t.Count > MaxCount {
		return mend("thaw-count", "", "number.range", map[string]model.Gap{"Least": model.CountGap(1), "Most": model.CountGap(MaxCount)})
	}
	return model.CheckText("note", t.Note, MaxNote)
}

// Check tells what of a failure cannot stand by itself; nil if nothing.
func (f Failure) Check() *model.Refusal {
	if f.Freezer == "" {
		return mend("freezer", "", "text.empty", nil)
	}
	return first(model.CheckLine("freezer", f.Freezer, MaxLine), model.CheckText("note", f.Note, MaxNote))
}

// Check tells what of a look cannot stand by itself; nil if nothing.
func (l Look) Check() *model.Refusal {
	if l.Thrown < 0 || l.Thrown > MaxCount {
		return mend("thrown-count", "", "number.range", map[string]model.Gap{"Least": model.CountGap(0), "Most": model.CountGap(MaxCount)})
	}
	return model.CheckText("note", l.Note, MaxNote)
}

// Decode reads a batch's document.
func Decode(d model.Document) (Stored, error) {
	s := Stored{ID: model.BatchID{ID: d.ID}, Revision: d.Revision, Added: d.At}
	if d.Type != model.TypeBatch {
		return s, fmt.Errorf("read batch %s: the document is of type %s", d.ID, d.Type)
	}
	return s, d.Decode(Version, &s.Batch)
}

// Sound reads a document of this package and looks for values that no command would
// have taken; known is false for a document of another package. The error is a
// *model.Refusal where a value is at fault.
func Sound(d model.Document, today model.Day) (known bool, err error) {
	var r *model.Refusal
	switch {
	case d.Type == model.TypeBatch:
		var b Stored
		if b, err = Decode(d); err == nil {
			r = b.Check(today)
		}
	case d.Type == model.TypeEntry && d.Kind == KindThaw:
		var t Thaw
		if err = d.Decode(Version, &t); err == nil {
			r = t.Check()
		}
	case d.Type == model.TypeEntry && d.Kind == KindFreezer:
		var f Failure
		if err = d.Decode(Version, &f); err == nil {
			r = f.Check()
		}
	case d.Type == model.TypeEntry && d.Kind == KindLook:
		var l Look
		if err = d.Decode(Version, &l); err == nil {
			r = l.Check()
		}
	default:
		return false, nil
	}
	if r != nil {
		err = r
	}
	return true, err
}

func mend(field, value, reason string, gaps map[string]model.Gap) *model.Refusal {
	return &model.Refusal{Field: field, Value: value, Reason: reason, Gaps: gaps, Answer: model.Mend}
}

func first(all ...*model.Refusal) *model.Refusal {
	for _, r := range all {
		if r != nil {
			return r
		}
	}
	return nil
}
