package welfare

import (
	"slices"
	"strings"

	"coilward/model"
	"coilward/model/knowledge"
)

// The kinds of entry. Values are frozen; the text is "kind." + value.
const (
	KindObservation = "observation"
	KindHandling    = "handling"
	KindChange      = "change-tried"
	KindPerson      = "person-contact" // about a person alone: it is on no page and no paper of an animal
)

// Version is the newest form of any body of this package.
const Version = 1

// Kinds are the kinds of entry about an animal, in the order in which they are offered.
func Kinds() []string { return []string{KindObservation, KindHandling, KindChange} }

// Body is what an entry says: one of Observation, Handling, Change, PersonContact.
type Body interface {
	// Kind is the entry's kind.
	Kind() string
	// check tells what cannot stand, whatever the tables say; nil if nothing.
	check() *model.Refusal
}

// The bounds of what is taken in.
const (
	maxNote    = 10_000
	maxLine    = 200
	maxMinutes = 24 * 60
	maxTimes   = 100
	maxScans   = 60
	maxBreaths = 600
	maxSeconds = 900
	minSeconds = 10
)

// Observation is what was seen on one visit. A sheet of scans is one observation.
type Observation struct {
	Setting knowledge.Setting  `json:"setting"`
	Signs   []knowledge.SignID `json:"signs,omitempty"`
	// None is that it was watched and no sign of the list was seen.
	None    bool     `json:"none,omitempty"`
	Breaths *Breaths `json:"breaths,omitempty"` // nil: not counted
	Scans   []Scan   `json:"scans,omitempty"`   // in their order
	Note    string   `json:"note,omitempty"`
}

// Breaths are breaths as they were counted.
type Breaths struct {
	Count   int `json:"count"`
	Seconds int `json:"seconds"`
}

// Tenths are the breaths of a minute, in tenths, to the nearest.
func (b Breaths) Tenths() int { return (b.Count*600 + b.Seconds/2) / b.Seconds }

// Scan is what was seen at one moment of a sheet.
type Scan struct {
	After int              `json:"after"`          // seconds from the beginning
	Sign  knowledge.SignID `json:"sign,omitempty"` // empty: none of the list
}

// Kind is KindObservation.
func (Observation) Kind() string { return KindObservation }

// Seen are all signs of the visit, those of its scans too, each once, in the order in which
// they stand.
func (o Observation) Seen() []knowledge.SignID {
	all := slices.Clone(o.Signs)
	for _, s := range o.Scans {
		if s.Sign != "" && !slices.Contains(all, s.Sign) {
			all = append(all, s.Sign)
		}
	}
	return all
}

func (o Observation) check() *model.Refusal {
	if !slices.Contains(knowledge.Settings(), o.Setting) {
		return mend("setting", string(o.Setting), "choice.unknown", nil)
	}
	for i, s := range o.Signs {
		if s == "" || slices.Contains(o.Signs[:i], s) {
			return mend("signs", string(s), "choice.unknown", nil)
		}
	}
	switch {
	case len(o.Signs) == 0 && len(o.Scans) == 0 && !o.None && o.Breaths == nil:
		return mend("signs", "", "signs.empty", nil)
	case o.None && len(o.Seen()) > 0:
		return mend("signs", "", "signs.none-alone", nil)
	case len(o.Scans) > maxScans:
		return mend("scans", "", "scans.many", map[string]model.Gap{"Most": model.CountGap(maxScans)})
	}
	for i, s := range o.Scans {
		if s.After < 0 || s.After > maxMinutes*60 || i > 0 && s.After < o.Scans[i-1].After {
			return mend("scans", "", "scans.order", nil)
		}
	}
	return first(o.Breaths.check(), model.CheckText("note", o.Note, maxNote))
}

func (b *Breaths) check() *model.Refusal {
	if b == nil {
		return nil
	}
	return first(within("breaths", b.Count, 0, maxBreaths), within("breath-seconds", b.Seconds, minSeconds, maxSeconds))
}

// Handling is one time that an animal was in the hand or held, or was offered the hand.
type Handling struct {
	Lifts     int `json:"lifts,omitempty"`
	Hand      int `json:"hand,omitempty"`      // minutes in the hand
	Container int `json:"container,omitempty"` // minutes in a bag or tub
	Restraint int `json:"restraint,omitempty"` // minutes held against its will
	// Why is why it was held; empty where it was not.
	Why      knowledge.RestraintID `json:"why,omitempty"`
	Came     bool                  `json:"came,omitempty"`     // by itself
	DrewBack int                   `json:"drewBack,omitempty"` // times
	Note     string                `json:"note,omitempty"`
}

// Kind is KindHandling.
func (Handling) Kind() string { return KindHandling }

func (h Handling) check() *model.Refusal {
	held := h.Restraint > 0
	switch {
	case h == Handling{Note: h.Note}:
		return mend("lifts", "", "handling.empty", nil)
	case held && h.Why == "":
		return mend("restraint-why", "", "restraint.why", nil)
	case !held && h.Why != "":
		return mend("restraint-minutes", "", "restraint.minutes", nil)
	}
	return first(within("lifts", h.Lifts, 0, maxTimes), within("hand-minutes", h.Hand, 0, maxMinutes), within("container-minutes", h.Container, 0, maxMinutes),
		within("restraint-minutes", h.Restraint, 0, maxMinutes), within("drew-back", h.DrewBack, 0, maxTimes), model.CheckText("note", h.Note, maxNote))
}

// Hoped is what a change was hoped to do. It is said when the change is tried, so that
// nobody looks afterwards for what has got better. Values are frozen; the text is
// "welfare.hoped." + value.
type Hoped string

// What can be hoped for.
const (
	LessUnease Hoped = "less-unease"
	MoreEase   Hoped = "more-ease"
)

// Hopes are all of them, in the order in which they are offered.
func Hopes() []Hoped { return []Hoped{LessUnease, MoreEase} }

// Change is a change that was tried from a day on: that of its entry.
type Change struct {
	What    string            `json:"what"`
	Setting knowledge.Setting `json:"setting"` // in which it is judged
	Hoped   Hoped             `json:"hoped"`
	// AfterBad is that it was tried because things had been bad: they often get better by
	// themselves then.
	AfterBad bool   `json:"afterBad,omitempty"`
	Note     string `json:"note,omitempty"`
}

// Kind is KindChange.
func (Change) Kind() string { return KindChange }

func (c Change) check() *model.Refusal {
	switch {
	case strings.TrimSpace(c.What) == "":
		return mend("change-what", "", "text.empty", nil)
	case !slices.Contains(knowledge.Settings(), c.Setting):
		return mend("setting", string(c.Setting), "choice.unknown", nil)
	case !slices.Contains(Hopes(), c.Hoped):
		return mend("hoped", string(c.Hoped), "choice.unknown", nil)
	}
	return first(model.CheckLine("change-what", c.What, maxLine), model.CheckText("note", c.Note, maxNote))
}

// Contacted is what befell a person. Values are frozen; the text is "welfare.contact." + value.
type Contacted string

// What can befall a person.
const (
	Bite     Contacted = "bite"
	Child    Contacted = "child"    // a child had contact
	Pregnant Contacted = "pregnant" // a pregnant person had contact
	Weakened Contacted = "weakened" // one whose defences are weak had contact
	Contact  Contacted = "contact"
)

// Contacts are all of them, in the order in which they are offered.
func Contacts() []Contacted { return []Contacted{Bite, Child, Pregnant, Weakened, Contact} }

// PersonContact is an entry about a person who had to do with an animal.
type PersonContact struct {
	What Contacted `json:"what"`
	// Animal is the one that the person had to do with.
	Animal model.AnimalID `json:"animal"`
	Washed bool           `json:"washed,omitempty"` // hands, or the wound, right after
	Doctor bool           `json:"doctor,omitempty"` // was asked
	Note   string         `json:"note,omitempty"`
}

// Kind is KindPerson.
func (PersonContact) Kind() string { return KindPerson }

func (c PersonContact) check() *model.Refusal {
	switch {
	case !slices.Contains(Contacts(), c.What):
		return mend("contacted", string(c.What), "choice.unknown", nil)
	case c.Animal.IsZero():
		return mend("animal", "", "text.empty", nil)
	}
	return model.CheckText("note", c.Note, maxNote)
}

// Entry is one entry of this package with its header.
type Entry struct {
	ID       model.EntryID
	Revision uint32
	Animal   model.AnimalID
	Person   model.PersonID // of a PersonContact
	At       model.Moment
	By       model.PersonID
	Body     Body
}

// Decode reads an entry of one of this package's kinds. ok is false, without an error, for
// a document of another kind.
func Decode(d model.Document) (e Entry, ok bool, err error) {
	read := map[string]func(model.Document) (Body, error){
		KindObservation: decode[Observation], KindHandling: decode[Handling], KindChange: decode[Change], KindPerson: decode[PersonContact],
	}[d.Kind]
	if d.Type != model.TypeEntry || read == nil {
		return Entry{}, false, nil
	}
	e = Entry{ID: model.EntryID{ID: d.ID}, Revision: d.Revision, At: d.At, By: d.By}
	for _, s := range d.Subjects {
		switch s.Kind {
		case model.SubjectAnimal:
			e.Animal = model.AnimalID{ID: s.ID}
		case model.SubjectPerson:
			e.Person = model.PersonID{ID: s.ID}
		}
	}
	e.Body, err = read(d)
	return e, true, err
}

func decode[B Body](d model.Document) (Body, error) {
	var b B
	err := d.Decode(Version, &b)
	return b, err
}

// Sound reads a document of this package and looks for what no command would have taken;
// known is false where it is of another.
func Sound(d model.Document) (known bool, err error) {
	e, known, err := Decode(d)
	if !known || err != nil {
		return known, err
	}
	if r := e.Body.check(); r != nil {
		return true, r
	}
	return true, nil
}

func within(field string, n, least, most int) *model.Refusal {
	if n < least || n > most {
		return mend(field, "", "number.range", map[string]model.Gap{"Least": model.CountGap(least), "Most": model.CountGap(most)})
	}
	return nil
}

func mend(field, value, reason string, gaps map[string]model.Gap) *model.Refusal {
	return &model.Refusal{Field: field, Value: value, Reason: reason, Gaps: gaps, Answer: model.Mend}
}

func first(refusals ...*model.Refusal) *model.Refusal {
	for _, r := range refusals {
		if r != nil {
			return r
		}
	}
	return nil
}
