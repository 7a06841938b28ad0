package powercut

import (
	"fmt"
	"slices"

	"coilward/model"
	"coilward/model/husbandry"
)

// Kind is the kind of the entry of a power cut. Its subjects are the places that it was in
// and the animals that lived there then; its moment is when it began. The value is frozen.
const Kind = "power-cut"

// Version is the newest form of the body.
const Version = 1

// Cut is the body of an entry: a time without heating.
type Cut struct {
	Until model.Moment `json:"until"`
	// Whole says that all rooms were without power, and those who lived in none too.
	Whole bool `json:"whole,omitempty"`
	// Coldest is the lowest temperature that was seen; nil: it was not measured.
	Coldest *model.Temperature `json:"coldest,omitempty"`
	Note    string             `json:"note,omitempty"`
}

// Stored is a power cut with its entry.
type Stored struct {
	ID       model.EntryID
	Revision uint32
	From     model.Moment
	By       model.PersonID
	Places   []model.PlaceID
	Animals  []model.AnimalID // who lived there then, as the records said when it was noted
	Cut
}

// Read reads an entry of a power cut.
func Read(d model.Document) (Stored, error) {
	s := Stored{ID: model.EntryID{ID: d.ID}, Revision: d.Revision, From: d.At, By: d.By}
	if d.Type != model.TypeEntry || d.Kind != Kind {
		return s, fmt.Errorf("read entry %s as a power cut: it is of kind %q", d.ID, d.Kind)
	}
	for _, about := range d.Subjects {
		switch about.Kind {
		case model.SubjectPlace:
			s.Places = append(s.Places, model.PlaceID{ID: about.ID})
		case model.SubjectAnimal:
			s.Animals = append(s.Animals, model.AnimalID{ID: about.ID})
		}
	}
	return s, d.Decode(Version, &s.Cut)
}

// All are the power cuts of a collection, the newest first, and how many there are beside
// them that cannot be read. The error is that of the store.
func All(v model.View) (all []Stored, unread int, err error) {
	err = v.All(model.TypeEntry, func(d model.Document) bool {
		if d.Kind != Kind {
			return true
		}
		s, failed := Read(d)
		if failed != nil {
			unread++
			return true
		}
		all = append(all, s)
		return true
	})
	slices.SortFunc(all, func(a, b Stored) int {
		if a.From.UTC != b.From.UTC {
			return int(max(-1, min(1, b.From.UTC-a.From.UTC)))
		}
		return slices.Compare(b.ID.ID[:], a.ID.ID[:])
	})
	if err != nil {
		return nil, 0, fmt.Errorf("read the power cuts: %w", err)
	}
	return all, unread, nil
}

// Lived are the animals that lived in some places, or in what stands in them, at any
// moment of a time.
func Lived(h *husbandry.House, places []model.PlaceID, from, until model.Moment) []model.AnimalID {
	var all []model.AnimalID
	for _, p := range places {
		for _, s := range h.Lived(p, from, until) {
			all = append(all, s.Animal)
		}
	}
	slices.SortFunc(all, func(a, b model.AnimalID) int { return slices.Compare(a.ID[:], b.ID[:]) })
	return slices.Compact(all)
}

// The lowest and the highest temperature that a room may have had, in hundredths of a
// degree Celsius.
const (
	ColdestSeen = -4000
	WarmestSeen = 5000
)

// MaxNote is the most signs that a note may have.
const MaxNote = 10_000

// Check tells what of a power cut that began at that moment cannot stand, whatever the
// collection holds; nil if nothing.
func (c Cut) Check(from model.Moment) *model.Refusal {
	switch {
	case from.IsZero():
		return mend("cut-from", "", "day.empty", nil)
	case c.Until.IsZero():
		return mend("cut-until", "", "day.empty", nil)
	case c.Until.UTC <= from.UTC:
		return mend("cut-until", "", "power-cut.backwards", nil)
	case c.Coldest != nil && (c.Coldest.Hundredths < ColdestSeen || c.Coldest.Hundredths > WarmestSeen):
		return mend("coldest", c.Coldest.Typed, "power-cut.temperature", map[string]model.Gap{"Least": model.TemperatureGap(ColdestSeen), "Most": model.TemperatureGap(WarmestSeen)})
	}
	return model.CheckText("note", c.Note, MaxNote)
}

// Sound reads a document of this package and looks for values that no command would have
// taken; known is false for a document of another.
func Sound(d model.Document, now model.Moment) (known bool, err error) {
	if d.Type != model.TypeEntry || d.Kind != Kind {
		return false, nil
	}
	s, err := Read(d)
	if err != nil {
		return true, err
	}
	if r := first(s.Check(s.From), ahead(s.From, s.Until, now)); r != nil {
		return true, r
	}
	return true, nil
}

// ahead refuses what lies in the future.
func ahead(from, until, now model.Moment) *model.Refusal {
	for _, m := range []struct {
		field string
		at    model.Moment
	}{{"cut-from", from}, {"cut-until", until}} {
		if m.at.UTC > now.UTC+60 {
			if m.at.Day() == now.Day() {
				hour := func(at model.Moment) string { return at.Time().Format("15:04") }
				return mend(m.field+"-hour", hour(m.at), "hour.future", map[string]model.Gap{"Hour": model.TextGap(hour(m.at)), "Now": model.TextGap(hour(now))})
			}
			return mend(m.field, m.at.Day().String(), "day.future", map[string]model.Gap{"Today": model.DayGap(now.Day())})
		}
	}
	return nil
}

func first(all ...*model.Refusal) *model.Refusal {
	for _, r := range all {
		if r != nil {
			return r
		}
	}
	return nil
}

func mend(field, value, reason string, gaps map[string]model.Gap) *model.Refusal {
	return &model.Refusal{Field: field, Value: value, Reason: reason, Gaps: gaps, Answer: model.Mend}
}

func ask(confirmed model.Confirmed, field, value, reason string, gaps map[string]model.Gap) *model.Refusal {
	if confirmed.Has(reason) {
		return nil
	}
	return &model.Refusal{Field: field, Value: value, Reason: reason, Gaps: gaps, Answer: model.Confirm}
}
