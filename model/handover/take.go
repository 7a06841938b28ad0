package handover

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"sync"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/knowledge"
	"coilward/model/newcomers"
	"coilward/model/people"
)

// Kind is the kind of the entry that remembers what was taken in of an animal. There
// is one of each animal, revised each time. The value is frozen.
const Kind = "her-papers"

// Version is the newest form of its body. The first one knew no animal with another id, the second
// not who came with the papers.
const Version = 3

// Taken is its body.
type Taken struct {
	Animal model.AnimalID `json:"animal"`        // of the papers
	Into   model.AnimalID `json:"into,omitzero"` // that it is here, where that has another id; zero: the same
	Key    string         `json:"key"`           // fingerprint of the key that signed
	Sum    string         `json:"sha256"`        // of the signed list
	Issued int64          `json:"issued"`        // seconds since 1970
	Day    model.Day      `json:"day"`           // on which it was issued
	Sums   []Sum          `json:"entries"`       // as they were taken in, so that what was changed here stays
	// Hands are those who came with the papers of it, these or earlier ones.
	Hands []model.PersonID `json:"hands,omitempty"`
}

// Here is the animal that the papers are of, as it is called by id here.
func (t Taken) Here() model.AnimalID {
	if t.Into.IsZero() {
		return t.Animal
	}
	return t.Into
}

// Sum is one entry as it was taken in.
type Sum struct {
	Entry model.EntryID `json:"id"`
	Sum   string        `json:"sum"`
}

// TakenID is the id of the entry that remembers what was taken in of an animal.
func TakenID(animal model.AnimalID) model.ID { return derived("taken", animal.ID, "") }

// derived is an id that is the same each time.
func derived(what string, of model.ID, more string) model.ID {
	sum := sha256.Sum256([]byte("coilward " + what + "\n" + of.String() + "\n" + more))
	var id model.ID
	copy(id[:], sum[:])
	id[6], id[8] = id[6]&0x0f|0x80, id[8]&0x3f|0x80 // RFC 9562, version 8: of one's own making
	return id
}

// TakenOf is what was taken in of an animal last; ok is false where nothing was.
func TakenOf(v model.View, animal model.AnimalID) (t Taken, revision uint32, ok bool, err error) {
	d, err := v.Document(TakenID(animal))
	if errors.Is(err, model.ErrNotFound) {
		return t, 0, false, nil
	}
	if err != nil {
		return t, 0, false, fmt.Errorf("read what was taken in of animal %s: %w", animal, err)
	}
	t, err = ReadTaken(d)
	return t, d.Revision, err == nil, err
}

// ReadTaken reads the entry that remembers.
func ReadTaken(d model.Document) (t Taken, err error) {
	if d.Type != model.TypeEntry || d.Kind != Kind {
		return t, fmt.Errorf("read entry %s as papers: it is of kind %q", d.ID, d.Kind)
	}
	return t, d.Decode(Version, &t)
}

// Sound tells whether a document of this package can stand; known is false for others.
func Sound(d model.Document) (known bool, err error) {
	if d.Type != model.TypeEntry || d.Kind != Kind {
		return false, nil
	}
	t, err := ReadTaken(d)
	if err == nil && (t.Animal.IsZero() || t.Key == "" || t.Sum == "" || d.ID != TakenID(t.Animal)) {
		err = fmt.Errorf("read papers %s: they name no animal or no key", d.ID)
	}
	return true, err
}

// The reasons of what is asked.
const (
	AskOlder    = "papers.older"     // later papers were taken in already
	AskOtherKey = "papers.other-key" // those before were signed by another key
)

// TakeIn takes in an animal with its papers: it is added with what the papers say of
// it, or what is not known of it here is filled in; entries that are not here are put
// in, and those that were not changed here are brought to what the papers say. One
// that comes begins its quarantine; one that is here already goes on as it is.
//
// An animal that was entered by hand before its papers came has another id here. With
// Into what the papers say goes to that one, then and each time after; what stands here
// of it stays. What was noted here by hand and what the papers tell alike of the same day
// stands once, as it was noted here.
//
// Checks, samples and quarantines of the one before are not taken in: they are told
// by the papers, and count for nothing here.
type TakeIn struct {
	Tables    *knowledge.Tables
	Record    Record
	Key, Sum  string
	Photos    []model.PhotoID // kept in the collection, in the order of the record's; empty: not kept
	Called    string          // what it is called here; empty: as in the papers
	Into      model.AnimalID  // which of those here it is; zero: the one with its id, or a new one
	Place     model.PlaceID   // zero: none yet
	At        model.Moment    // of the arrival
	Protocol  knowledge.ProtocolID
	By        model.PersonID
	Confirmed model.Confirmed
}

// Name is "handover.take-in".
func (TakeIn) Name() string { return "handover.take-in" }

// Commands are the commands of this package, one of each, empty.
func Commands() []model.Command { return []model.Command{TakeIn{}} }

// Plan writes all of it or nothing. It is refused where there is nothing new, and asks
// where the papers are older than those before or signed by another key.
func (c TakeIn) Plan(v model.View) (model.Writes, error) {
	r := c.Record
	if err := r.check(); err != nil {
		return model.Writes{}, fmt.Errorf("take in her papers: %w", err)
	}
	for _, w := range r.whens() {
		if w.Day > v.Now().Day()+1 {
			return model.Writes{}, mend("day", w.Day.String(), "day.future", map[string]model.Gap{"Today": model.DayGap(v.Now().Day())})
		}
	}
	// papers of a clock that was ahead would make all that come after them the older ones
	if issued := r.Issued.last(); issued > v.Now().Day()+1 {
		return model.Writes{}, mend("papers", r.Animal.Name, "papers.ahead", map[string]model.Gap{"Issued": model.DayGap(issued), "Today": model.DayGap(v.Now().Day())})
	}
	before, revision, ever, err := TakenOf(v, r.Animal.ID)
	if err != nil {
		return model.Writes{}, err
	}
	if ever {
		if refusal := c.against(before); refusal != nil {
			return model.Writes{}, refusal
		}
	}
	here, err := c.here(v, before)
	if err != nil {
		return model.Writes{}, err
	}
	p := &newcomers.Planned{View: v}
	comes, known, err := c.animal(p, here)
	if err != nil {
		return model.Writes{}, err
	}
	t := taking{TakeIn: c, p: p, here: here, before: map[model.EntryID]string{}, planned: map[model.ID]bool{TakenID(r.Animal.ID): true}}
	if known { // of one that was removed here, everything comes anew
		for _, s := range before.Sums {
			t.before[s.Entry] = s.Sum
		}
	}
	t.came = slices.Clone(before.Hands)
	if t.noted, err = t.byHand(); err != nil {
		return model.Writes{}, err
	}
	if err := t.hands(); err != nil {
		return model.Writes{}, err
	}
	if err := t.entries(); err != nil {
		return model.Writes{}, err
	}
	if !comes && len(p.Writes.Put) == 0 {
		return model.Writes{}, mend("papers", r.Animal.Name, "papers.nothing-new", map[string]model.Gap{"Animal": model.TextGap(r.Animal.Name)})
	}
	if comes {
		if err := p.Plan(newcomers.Arrive{Tables: c.Tables, Known: here, Place: c.Place, At: c.At, Protocol: c.Protocol, By: c.By, Confirmed: c.Confirmed}); err != nil {
			return model.Writes{}, err
		}
	}
	d := model.Document{Type: model.TypeEntry, ID: TakenID(r.Animal.ID), Kind: Kind, Revision: revision, At: v.Now(), By: c.By}
	taken := Taken{Animal: r.Animal.ID, Key: c.Key, Sum: c.Sum, Issued: r.Issued.UTC, Day: r.Issued.Day, Sums: t.sums, Hands: t.came}
	if here != r.Animal.ID {
		taken.Into = here
	}
	if err := d.Encode(Version, taken); err != nil {
		return model.Writes{}, err
	}
	p.Writes.Put = append(p.Writes.Put, d)
	p.Writes.Label = model.Label{Key: "handover.done", Gaps: map[string]model.Gap{"Animal": model.TextGap(c.called())}}
	return p.Writes, nil
}

// against holds the papers against those that were taken in before.
func (c TakeIn) against(before Taken) *model.Refusal {
	gaps := map[string]model.Gap{"Day": model.DayGap(before.Day), "Issued": model.DayGap(c.Record.Issued.Day), "Before": model.TextGap(before.Key), "Key": model.TextGap(c.Key)}
	if before.Key != c.Key && !c.Confirmed.Has(AskOtherKey) {
		return &model.Refusal{Field: "papers", Value: c.Record.Animal.Name, Reason: AskOtherKey, Answer: model.Deliberate, Gaps: gaps}
	}
	if before.Issued > c.Record.Issued.UTC && !c.Confirmed.Has(AskOlder) {
		return &model.Refusal{Field: "papers", Value: c.Record.Animal.Name, Reason: AskOlder, Answer: model.Confirm, Gaps: gaps}
	}
	return nil
}

func mend(field, value, reason string, gaps map[string]model.Gap) *model.Refusal {
	return &model.Refusal{Field: field, Value: value, Reason: reason, Gaps: gaps, Answer: model.Mend}
}

func (c TakeIn) called() string {
	if c.Called != "" {
		return c.Called
	}
	return c.Record.Animal.Name
}

// here is the id that the animal has here: the one that it had when papers of it were taken
// in before, the one that was chosen, or that of the papers.
func (c TakeIn) here(v model.View, before Taken) (model.AnimalID, error) {
	own := c.Record.Animal.ID
	if !before.Into.IsZero() {
		if _, err := v.Document(before.Into.ID); err == nil {
			own = before.Into
		} else if !errors.Is(err, model.ErrNotFound) {
			return own, fmt.Errorf("take in her papers: %w", err)
		}
	}
	if c.Into.IsZero() || c.Into == own {
		return own, nil
	}
	switch known, err := animals.Find(v, own); {
	case err == nil:
		return own, mend("into", known.Name, "papers.here", map[string]model.Gap{"Animal": model.TextGap(known.Name)})
	case !errors.Is(err, model.ErrNotFound):
		return own, err
	}
	_, err := animals.Find(v, c.Into)
	return c.Into, err
}

// animal adds the animal, or fills in what is not known of it here; comes tells that it
// was not here, known that it is known here.
func (c TakeIn) animal(p *newcomers.Planned, here model.AnimalID) (comes, known bool, err error) {
	d, err := p.Document(here.ID)
	if errors.Is(err, model.ErrNotFound) {
		return true, false, c.add(p, here)
	}
	if err != nil {
		return false, true, fmt.Errorf("take in her papers: %w", err)
	}
	if d.Type != model.TypeAnimal {
		return false, true, taken(here.ID)
	}
	stored, err := animals.Decode(d)
	if err != nil {
		return false, true, err
	}
	a := stored.Animal
	comes = !a.Status.Here()
	if comes {
		a.Status, a.StatusDay, a.Since = animals.Kept, model.Date{}, model.Date{Day: c.At.Day(), Precision: model.ToDay}
	}
	c.fill(&a)
	was, err := json.Marshal(stored.Animal)
	if err != nil {
		return false, true, fmt.Errorf("take in her papers: %w", err)
	}
	if now, err := json.Marshal(a); err != nil || string(now) == string(was) {
		return comes, true, err
	}
	return comes, true, p.Plan(animals.Change{ID: stored.ID, Base: stored.Revision, Animal: a})
}

func (c TakeIn) add(p *newcomers.Planned, here model.AnimalID) error {
	many, err := animals.NewMany(p)
	if err != nil {
		return err
	}
	a := animals.Animal{Name: c.called(), Status: animals.Kept, Since: model.Date{Day: c.At.Day(), Precision: model.ToDay}}
	c.fill(&a)
	d, err := many.Make(a)
	if err != nil {
		return err
	}
	d.ID = here.ID
	p.Writes.Put = append(p.Writes.Put, d)
	return nil
}

// taken is the refusal of an id that something else has here.
func taken(id model.ID) *model.Refusal {
	return mend("papers", id.String(), "papers.id", nil)
}

// fill fills in what is not known of an animal.
func (c TakeIn) fill(a *animals.Animal) {
	from := c.Record.Animal
	if a.Species == "" {
		a.Species = from.Species
	}
	if a.Sex == animals.SexUnknown {
		a.Sex, a.SexHow = from.Sex, from.SexHow
	}
	if a.Hatched.IsZero() {
		a.Hatched = from.Hatched
	}
	if a.Morph == "" {
		a.Morph = from.Morph
	}
	if a.Source == animals.SourceNone {
		a.Source = from.Source
	}
	if a.Chip.IsZero() {
		a.Chip = from.Chip
	}
	if a.Length.IsZero() && from.Length > 0 {
		a.Length = animals.Measured{SnoutVent: model.Length{Tenths: from.Length}, On: from.Measured}
	}
	for i, photo := range c.Record.Photos {
		if id := c.photo(i); photo.Portrait && id != "" && a.Portrait == "" {
			if !slices.Contains(a.Photos, id) {
				a.Photos = append(slices.Clone(a.Photos), id)
			}
			a.Portrait = id
		}
	}
}

// photo is the n-th photo as it was kept; empty: it was not.
func (c TakeIn) photo(n int) model.PhotoID {
	if n < len(c.Photos) {
		return c.Photos[n]
	}
	return ""
}

// taking is what is written beside the animal itself.
type taking struct {
	TakeIn
	p       *newcomers.Planned
	here    model.AnimalID
	before  map[model.EntryID]string
	planned map[model.ID]bool // entries that are put in, and the one that remembers
	noted   map[string]int    // how often each thing was noted by hand, by day
	sums    []Sum
	came    []model.PersonID        // with the papers of this animal
	own     map[model.PersonID]bool // people here whom no papers brought
	// same are those who came before with the same key under the same name, and have another id
	// here: the seller entered them anew.
	same map[model.PersonID]model.PersonID
}

// byHand counts what was noted here of an animal that was entered by hand, and came with no
// papers of it.
func (t *taking) byHand() (map[string]int, error) {
	noted := map[string]int{}
	if t.here == t.Record.Animal.ID {
		return noted, nil
	}
	theirs := map[model.ID]bool{}
	for _, e := range t.Record.Entries {
		theirs[e.ID.ID] = true
	}
	err := t.p.View.Timeline(t.here.Subject(), model.Beginning, model.EndOfTime, func(d model.Document) bool {
		if _, came := t.before[model.EntryID{ID: d.ID}]; !came && !theirs[d.ID] {
			if thing := thingOf(d); thing != "" {
				noted[thing]++
			}
		}
		return true
	})
	if err != nil {
		return nil, fmt.Errorf("take in her papers: %w", err)
	}
	return noted, nil
}

// thingOf is what an entry tells and of which day, in a form that is the same for what two
// people noted of one thing: of a weight its grams, of a meal prey, number and outcome, of
// whatever else all that papers tell of it. Empty: papers tell nothing of its kind.
func thingOf(d model.Document) string {
	if d.Type != model.TypeEntry {
		return ""
	}
	e, known, err := care.Decode(d)
	if err != nil || !known {
		return ""
	}
	said, told := bare(e.Body)
	if !told {
		return ""
	}
	switch b := said.(type) {
	case care.Weight:
		said = care.Weight{Mass: b.Mass}
	case care.Meal:
		said = care.Meal{Prey: b.Prey, Count: max(1, b.Count), Outcome: b.Outcome, BroughtUp: b.BroughtUp}
	}
	raw, err := json.Marshal(said)
	if err != nil {
		return ""
	}
	return d.At.Day().String() + " " + d.Kind + " " + string(raw)
}

// brought are the people who came with papers of any animal.
func brought(v model.View) (map[model.PersonID]bool, error) {
	all := map[model.PersonID]bool{}
	var failed error
	err := v.All(model.TypeEntry, func(d model.Document) bool {
		if d.Kind != Kind {
			return true
		}
		var t Taken
		if t, failed = ReadTaken(d); failed != nil {
			return false
		}
		for _, h := range t.Hands {
			all[h] = true
		}
		return true
	})
	return all, errors.Join(err, failed)
}

// hands puts in those who did what is told. They are no hands here, so that nobody
// takes them for one who works in this house. Who is here and was brought by no papers did
// nothing on the word of papers: anybody who was given papers of this house knows the id. What
// they are said to have done is taken in as done by nobody who is named.
func (t *taking) hands() error {
	t.own, t.same = map[model.PersonID]bool{}, map[model.PersonID]model.PersonID{}
	came := sync.OnceValues(func() (map[model.PersonID]bool, error) { return brought(t.p.View) })
	for _, h := range t.Record.Hands {
		d, err := t.p.Document(h.ID.ID)
		if err == nil && d.Type != model.TypePerson {
			return taken(h.ID.ID)
		}
		if err == nil {
			before, err := came()
			if err != nil {
				return fmt.Errorf("take in her papers: %w", err)
			}
			t.own[h.ID] = !before[h.ID]
			continue
		}
		if !errors.Is(err, model.ErrNotFound) {
			return fmt.Errorf("take in her papers: %w", err)
		}
		// the key beside the name tells whose word it is, and keeps it from being another's name
		name := []rune(h.Name)
		with := " (" + t.Key + ")"
		if most := people.MaxName - len([]rune(with)); len(name) > most {
			name = name[:most]
		}
		id := h.ID
		switch err := t.p.Plan(people.Add{Person: people.Person{Name: string(name) + with, Roles: []people.Role{people.Breeder}}}); {
		case err == nil:
			t.p.Last().ID = h.ID.ID
		default:
			before, failed := came()
			if failed != nil {
				return fmt.Errorf("take in her papers: %w", failed)
			}
			if id, failed = t.again(err, before); failed != nil {
				return failed
			}
			t.same[h.ID] = id
		}
		if !slices.Contains(t.came, id) {
			t.came = append(t.came, id)
		}
	}
	return nil
}

// again is who has the name already for which somebody was refused, where that one was brought
// by papers: the name ends in the key, so it is the word of the same key that they are one.
// Otherwise it is refused as before.
func (t *taking) again(refused error, brought map[model.PersonID]bool) (model.PersonID, error) {
	var twice *model.Refusal
	if !errors.As(refused, &twice) || twice.Reason != "person.twice" {
		return model.PersonID{}, refused
	}
	all, err := people.All(t.p)
	if err != nil {
		return model.PersonID{}, fmt.Errorf("take in her papers: %w", err)
	}
	for _, p := range all {
		if p.Name == twice.Gaps["Other"].Text && (brought[p.ID] || slices.Contains(t.came, p.ID)) {
			return p.ID, nil
		}
	}
	return model.PersonID{}, refused
}

// entries puts in the entries and the photos.
func (t *taking) entries() error {
	about := []model.Subject{t.here.Subject()}
	for _, e := range t.Record.Entries {
		if t.own[e.By] {
			e.By = model.PersonID{}
		}
		if here, is := t.same[e.By]; is {
			e.By = here
		}
		d := model.Document{Type: model.TypeEntry, ID: e.ID.ID, Kind: e.Kind, Version: 1, At: e.When.Moment(t.p.Now()), By: e.By, Subjects: about, Body: e.Body}
		if err := t.put(d, sumOf(e)); err != nil {
			return err
		}
	}
	for i, photo := range t.Record.Photos {
		id := t.photo(i)
		if id == "" || photo.Portrait || photo.When.IsZero() || slices.Contains(t.Photos[:i], id) {
			continue
		}
		d := model.Document{Type: model.TypeEntry, ID: derived("photo", t.Record.Animal.ID.ID, string(id)), Kind: care.KindPhoto, At: photo.When.Moment(t.p.Now()), Subjects: about}
		if err := d.Encode(photoVersion, care.Photo{Photos: []model.PhotoID{id}, Pose: photo.Pose}); err != nil {
			return err
		}
		if err := t.put(d, string(id)); err != nil {
			return err
		}
	}
	return nil
}

// photoVersion is the form of photos that names the pose.
const photoVersion = 3

// sumOf is an entry in sixteen digits. That it is doubtful is only told, and not taken in.
func sumOf(e Entry) string {
	e.Doubtful = false
	raw, err := json.Marshal(e)
	if err != nil { // its body was read as JSON before
		raw = e.Body
	}
	sum := sha256.Sum256(raw)
	return hex.EncodeToString(sum[:8])
}

// put puts in one entry. One that is here and was changed here, or that was taken out
// here, stays as it is. Those that are planned are not asked for one by one: there may be
// very many.
func (t *taking) put(d model.Document, sum string) error {
	if t.planned[d.ID] {
		return taken(d.ID)
	}
	t.planned[d.ID] = true
	id := model.EntryID{ID: d.ID}
	t.sums = append(t.sums, Sum{id, sum})
	before, ever := t.before[id]
	here, err := t.p.View.Document(d.ID)
	switch {
	case errors.Is(err, model.ErrNotFound):
		if ever {
			return nil
		}
		if thing := thingOf(d); t.noted[thing] > 0 {
			t.noted[thing]--
			return nil
		}
		t.p.Writes.Put = append(t.p.Writes.Put, d)
		return nil
	case err != nil:
		return fmt.Errorf("take in her papers: %w", err)
	}
	if animal, about := here.Animal(); here.Type != model.TypeEntry || !about || animal != t.here {
		return taken(d.ID)
	}
	if !ever || before == sum || here.Kind != d.Kind || !t.untouched(here) {
		return nil
	}
	d.Revision = here.Revision
	t.p.Writes.Put = append(t.p.Writes.Put, d)
	return nil
}

// untouched tells that an entry is as it was taken in.
func (t *taking) untouched(d model.Document) bool {
	e := Entry{ID: model.EntryID{ID: d.ID}, Kind: d.Kind, When: whenOf(d.At), By: d.By, Body: d.Body}
	return d.Kind != care.KindPhoto && sumOf(e) == t.before[e.ID]
}
