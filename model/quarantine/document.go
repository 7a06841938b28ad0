package quarantine

import (
	"cmp"
	"fmt"
	"slices"

	"coilward/model"
	"coilward/model/knowledge"
)

// Version is the newest form of the bodies of this package.
const Version = 1

// The most signs that a line and a reason may have.
const (
	MaxLine = 200
	MaxWhy  = 1000
)

// Quarantine is the body of the document of a newcomer's quarantine. Its animal
// stands in the header; the document's At is the arrival.
type Quarantine struct {
	Protocol knowledge.ProtocolID `json:"protocol"`
	Released *Release             `json:"released,omitempty"` // nil: it is open
	Note     string               `json:"note,omitempty"`
}

// Release is how a quarantine ended, with the list as it was said then.
type Release struct {
	At       model.Moment   `json:"at"`
	By       model.PersonID `json:"by,omitzero"`
	Why      string         `json:"why,omitempty"` // where something was not met
	Asked    Protocol       `json:"asked"`         // as it was then
	Lines    []Line         `json:"lines"`
	Earliest model.Day      `json:"earliest"`
	Tables   string         `json:"tables"` // hash of the tables that the list was made by
}

// Unmet are the lines that were not met.
func (r Release) Unmet() []Line { return Gate{Lines: r.Lines}.Unmet() }

// Stored is a quarantine with what its document's header says.
type Stored struct {
	ID       model.QuarantineID
	Revision uint32
	Animal   model.AnimalID
	Arrived  model.Moment
	By       model.PersonID
	Quarantine
}

// Open reports whether it was not released.
func (s Stored) Open() bool { return s.Released == nil }

// Read reads a quarantine's document.
func Read(d model.Document) (Stored, error) {
	s := Stored{ID: model.QuarantineID{ID: d.ID}, Revision: d.Revision, Arrived: d.At, By: d.By}
	if d.Type != model.TypeQuarantine {
		return s, fmt.Errorf("read quarantine %s: the document is of type %s", d.ID, d.Type)
	}
	s.Animal, _ = d.Animal()
	return s, d.Decode(Version, &s.Quarantine)
}

// Document is the stored quarantine as a document.
func (s Stored) Document() (model.Document, error) {
	d := model.Document{Type: model.TypeQuarantine, ID: s.ID.ID, Revision: s.Revision, At: s.Arrived, By: s.By, Subjects: []model.Subject{s.Animal.Subject()}}
	return d, d.Encode(Version, s.Quarantine)
}

// Illegible says that a quarantine cannot be read, and what its document's header says of
// it: whether it is open is not known.
type Illegible struct {
	ID      model.QuarantineID
	Animal  model.AnimalID
	Arrived model.Moment
	Err     error
}

// Error says what is wrong with the quarantine.
func (i *Illegible) Error() string { return i.Err.Error() }

// Unwrap is what is wrong; model.ErrNewer where a newer version of the program wrote it.
func (i *Illegible) Unwrap() error { return i.Err }

// Legible are the quarantines of the collection that can be read, the earliest arrival
// first, and the others.
func Legible(v model.View) (all []Stored, unread []*Illegible, err error) {
	if err = v.All(model.TypeQuarantine, sort(&all, &unread)); err != nil {
		return nil, nil, fmt.Errorf("read the quarantines: %w", err)
	}
	slices.SortFunc(all, compare)
	return all, unread, nil
}

// LegibleOf are the quarantines of an animal that can be read, the earliest first, and the
// others.
func LegibleOf(v model.View, animal model.AnimalID) (all []Stored, unread []*Illegible, err error) {
	if err = v.Timeline(animal.Subject(), model.Beginning, model.EndOfTime, sort(&all, &unread)); err != nil {
		return nil, nil, fmt.Errorf("read the quarantines of an animal: %w", err)
	}
	slices.SortFunc(all, compare)
	return all, unread, nil
}

// sort takes each quarantine that it is shown to those that can be read, or to the others.
func sort(all *[]Stored, unread *[]*Illegible) func(model.Document) bool {
	return func(d model.Document) bool {
		if d.Type != model.TypeQuarantine {
			return true
		}
		if s, err := Read(d); err != nil {
			*unread = append(*unread, &Illegible{ID: s.ID, Animal: s.Animal, Arrived: s.Arrived, Err: err})
		} else {
			*all = append(*all, s)
		}
		return true
	}
}

func compare(a, b Stored) int {
	return cmp.Or(cmp.Compare(a.Arrived.UTC, b.Arrived.UTC), slices.Compare(a.ID.ID[:], b.ID.ID[:]))
}

// All are those of Legible. The error is that of the first that cannot be read.
func All(v model.View) ([]Stored, error) { return whole(Legible(v)) }

// Of are those of LegibleOf. The error is that of the first that cannot be read.
func Of(v model.View, animal model.AnimalID) ([]Stored, error) { return whole(LegibleOf(v, animal)) }

func whole(all []Stored, unread []*Illegible, err error) ([]Stored, error) {
	if err == nil && len(unread) > 0 {
		err = fmt.Errorf("read a quarantine: %w", unread[0])
	}
	if err != nil {
		return nil, err
	}
	return all, nil
}

// Find reads one quarantine.
func Find(v model.View, id model.QuarantineID) (Stored, error) {
	d, err := v.Document(id.ID)
	if err != nil {
		return Stored{}, fmt.Errorf("read quarantine %s: %w", id, err)
	}
	return Read(d)
}

// Own is the body of a protocol's document: one of the keeper's own, or the keeper's
// change of one of the table.
type Own struct {
	Name string `json:"name,omitempty"` // of the keeper's own; those of the table are called by their text
	Protocol
}

// StoredOwn is that with what its document's header says.
type StoredOwn struct {
	ID       model.ID
	Revision uint32
	Own
}

// ReadOwn reads a protocol's document.
func ReadOwn(d model.Document) (StoredOwn, error) {
	s := StoredOwn{ID: d.ID, Revision: d.Revision}
	if d.Type != model.TypeProtocol {
		return s, fmt.Errorf("read protocol %s: the document is of type %s", d.ID, d.Type)
	}
	return s, d.Decode(Version, &s.Own)
}

// Offered is a protocol that can be chosen.
type Offered struct {
	Own
	Changed  bool     // by the keeper, or the keeper's own
	Spoilt   bool     // the keeper's change cannot be read, or cannot stand: the table's own holds
	Document model.ID // where it is
	Revision uint32
}

// Offers are the protocols that can be chosen: those of the table, as the keeper has
// changed them, then the keeper's own, in the order in which they came to be. One of
// the keeper's own that cannot be read or cannot stand is left out.
func Offers(v model.View, t *knowledge.Tables) ([]Offered, error) {
	var all []Offered
	for _, p := range t.Protocols() {
		all = append(all, Offered{Own: Own{Protocol: p}})
	}
	err := v.All(model.TypeProtocol, func(d model.Document) bool {
		s, err := ReadOwn(d)
		i := slices.IndexFunc(all, func(o Offered) bool { return o.Protocol.ID == s.Protocol.ID })
		switch o := (Offered{Own: s.Own, Changed: true, Document: s.ID, Revision: s.Revision}); {
		case err != nil || checkOwn(s.Own) != nil:
			if i >= 0 {
				all[i].Spoilt, all[i].Changed, all[i].Document, all[i].Revision = true, true, s.ID, s.Revision
			}
		case i >= 0:
			all[i] = o
		default:
			all = append(all, o)
		}
		return true
	})
	if err != nil {
		return nil, fmt.Errorf("read the protocols of quarantine: %w", err)
	}
	return all, nil
}

// Offer is the one of that id among some.
func Offer(all []Offered, id knowledge.ProtocolID) (Offered, bool) {
	i := slices.IndexFunc(all, func(o Offered) bool { return o.Protocol.ID == id })
	if i < 0 {
		return Offered{}, false
	}
	return all[i], true
}
