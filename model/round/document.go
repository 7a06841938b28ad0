package round

import (
	"cmp"
	"fmt"
	"slices"

	"coilward/model"
	"coilward/model/knowledge"
)

// Version is the newest form of the bodies of this package.
const Version = 1

// KindLook is the kind of the entry of a look into one box on a round; its subject is
// the round. The value is frozen.
const KindLook = "round-look"

// Planned is one box of a round as it was begun.
type Planned struct {
	Place   model.PlaceID    `json:"place,omitzero"`
	Animals []model.AnimalID `json:"animals"`
}

// Round is the body of a round's document.
type Round struct {
	Order knowledge.RoundID `json:"order"`
	Apart bool              `json:"apart,omitempty"` // of those who are gone through in a round of their own
	Stops []Planned         `json:"stops"`           // in the order in which they were to be gone through
	// Again is that a round was gone through on that day before, and that what has to
	// lie between was said to have been done.
	Again bool         `json:"again,omitempty"`
	Ended model.Moment `json:"ended,omitzero"` // zero: it is open
}

// Look is the body of the entry of a look into one box.
type Look struct {
	Place   model.PlaceID    `json:"place,omitzero"`
	Animals []model.AnimalID `json:"animals"`
	// Class is the frozen name of the class that ruled then.
	Class  string `json:"class"`
	Passed bool   `json:"passed,omitempty"` // left out this time
	Note   string `json:"note,omitempty"`
}

// StoredLook is a look with what its document's header says.
type StoredLook struct {
	ID model.EntryID
	At model.Moment
	By model.PersonID
	Look
}

// Stored is a round with what its document's header says, and the looks of it in the
// order in which they were noted.
type Stored struct {
	ID       model.RoundID
	Revision uint32
	At       model.Moment
	By       model.PersonID
	Round
	Looks []StoredLook
}

// Day is the day up to which the round was gone on with.
func (s Stored) Day() model.Day {
	day := s.At.Day()
	for _, l := range s.Looks {
		day = max(day, l.At.Day())
	}
	return max(day, s.Ended.Day())
}

// Open reports whether the round was not ended.
func (s Stored) Open() bool { return s.Ended.IsZero() }

// Of is the look into the box of an animal; ok is false where there was none.
func (s Stored) Of(a model.AnimalID) (l StoredLook, ok bool) {
	for _, one := range s.Looks {
		if slices.Contains(one.Animals, a) {
			l, ok = one, true // the newest: one that was left out may be looked at after all
		}
	}
	return l, ok
}

// Count is how many boxes were looked at, left out, and not reached.
func (s Stored) Count() (looked, passed, left int) {
	for _, p := range s.Stops {
		switch l, there := s.Of(p.Animals[0]); {
		case !there:
			left++
		case l.Passed:
			passed++
		default:
			looked++
		}
	}
	return looked, passed, left
}

// Reached is the latest class by an order that was looked at; ok is false where nothing
// was looked at.
func (s Stored) Reached(o knowledge.RoundOrder) (c Class, ok bool) {
	for _, l := range s.Looks {
		is, known := classOf(l.Class)
		if known && !l.Passed && (!ok || Rank(o, is) > Rank(o, c)) {
			c, ok = is, true
		}
	}
	return c, ok
}

func classOf(name string) (Class, bool) {
	i := slices.IndexFunc(Classes(), func(c Class) bool { return c.String() == name })
	return Class(max(i, 0)), i >= 0
}

// read reads a round's document; the looks stand by themselves.
func read(d model.Document) (Stored, error) {
	s := Stored{ID: model.RoundID{ID: d.ID}, Revision: d.Revision, At: d.At, By: d.By}
	if d.Type != model.TypeRound {
		return s, fmt.Errorf("read round %s: the document is of type %s", d.ID, d.Type)
	}
	return s, d.Decode(Version, &s.Round)
}

// ReadLook reads the entry of a look; known is false where a document is something
// else.
func ReadLook(d model.Document) (l StoredLook, known bool, err error) {
	if d.Type != model.TypeEntry || d.Kind != KindLook {
		return l, false, nil
	}
	l = StoredLook{ID: model.EntryID{ID: d.ID}, At: d.At, By: d.By}
	return l, true, d.Decode(Version, &l.Look)
}

// looks reads the looks of a round.
func (s *Stored) looks(v model.View) error {
	var failed error
	err := v.Timeline(s.ID.Subject(), model.Beginning, model.EndOfTime, func(d model.Document) bool {
		l, known, err := ReadLook(d)
		if failed = err; err == nil && known {
			s.Looks = append(s.Looks, l)
		}
		return err == nil
	})
	slices.Reverse(s.Looks) // the oldest first
	if err = cmp.Or(err, failed); err != nil {
		return fmt.Errorf("read the looks of round %s: %w", s.ID, err)
	}
	return nil
}

// Find reads one round with its looks.
func Find(v model.View, id model.RoundID) (Stored, error) {
	d, err := v.Document(id.ID)
	if err != nil {
		return Stored{}, fmt.Errorf("read round %s: %w", id, err)
	}
	s, err := read(d)
	if err == nil {
		err = s.looks(v)
	}
	return s, err
}

// Typed is the newest round that was kept of a sheet, as is tells; ok is false where there is
// none.
func Typed(v model.View, is func(Stored) bool) (s Stored, ok bool, err error) {
	all, err := rounds(v)
	if err != nil {
		return Stored{}, false, err
	}
	i := slices.IndexFunc(all, is)
	if i < 0 {
		return Stored{}, false, nil
	}
	return all[i], true, nil
}

// rounds are all rounds without their looks, newest first; those that cannot be read are
// left out.
func rounds(v model.View) (all []Stored, err error) {
	err = v.All(model.TypeRound, func(d model.Document) bool {
		if s, err := read(d); err == nil {
			all = append(all, s)
		}
		return true
	})
	if err != nil {
		return nil, fmt.Errorf("read the rounds: %w", err)
	}
	slices.SortFunc(all, func(a, b Stored) int {
		return cmp.Or(cmp.Compare(b.At.UTC, a.At.UTC), slices.Compare(b.ID.ID[:], a.ID.ID[:]))
	})
	return all, nil
}

// Last are the newest rounds with their looks, newest first, at most so many; those
// that cannot be read are left out.
func Last(v model.View, most int) ([]Stored, error) {
	all, err := rounds(v)
	if err != nil {
		return nil, err
	}
	all = all[:min(most, len(all))]
	for i := range all {
		if err := all[i].looks(v); err != nil {
			return nil, err
		}
	}
	return all, nil
}

// Chosen is the order of the newest round, and where there was none the one that is
// offered first.
func Chosen(t *knowledge.Tables, last []Stored) knowledge.RoundOrder {
	if len(last) > 0 {
		if o, known := t.Round(last[0].Order); known {
			return o
		}
	}
	return t.Rounds()[0]
}

// Check tells what of the round cannot stand; nil if nothing.
func (r Round) Check() *model.Refusal {
	if len(r.Stops) == 0 {
		return mend("round", "", "round.nobody", nil)
	}
	seen := map[model.AnimalID]bool{}
	for _, s := range r.Stops {
		if len(s.Animals) == 0 {
			return mend("round", "", "round.nobody", nil)
		}
		for _, a := range s.Animals {
			if a.IsZero() || seen[a] {
				return mend("round", a.String(), "round.twice", nil)
			}
			seen[a] = true
		}
	}
	return nil
}

// MaxNote is the most signs of a look's note.
const MaxNote = 10_000

// Check tells what of the look cannot stand; nil if nothing.
func (l Look) Check() *model.Refusal {
	if _, known := classOf(l.Class); !known {
		return mend("class", l.Class, "choice.unknown", nil)
	}
	if len(l.Animals) == 0 {
		return mend("round", "", "round.nobody", nil)
	}
	return model.CheckText("note", l.Note, MaxNote)
}

// Sound reads a document of this package and looks for what the program would never
// have taken; known is false where it is of another.
func Sound(d model.Document, now model.Moment) (known bool, err error) {
	var r *model.Refusal
	switch {
	case d.Type == model.TypeRound:
		s, err := read(d)
		if err != nil {
			return true, err
		}
		if r = s.Check(); r == nil && (!s.Ended.IsZero() && s.Ended.Before(s.At) || now.Before(s.Ended)) {
			r = mend("round", s.Ended.Day().String(), "round.ended-when", nil)
		}
	case d.Type == model.TypeEntry && d.Kind == KindLook:
		l, _, err := ReadLook(d)
		if err != nil {
			return true, err
		}
		r = l.Check()
	default:
		return false, nil
	}
	if r != nil {
		return true, r
	}
	return true, nil
}

func mend(field, value, reason string, gaps map[string]model.Gap) *model.Refusal {
	return &model.Refusal{Field: field, Value: value, Reason: reason, Gaps: gaps, Answer: model.Mend}
}
