package quarantine

import (
	"fmt"
	"slices"
	"strings"

	"coilward/model"
	"coilward/model/knowledge"
)

// newcomer is what this package must know of an animal; its fields are named as in
// the animal's own document.
type newcomer struct {
	Name   string     `json:"name"`
	Since  model.Date `json:"since"`
	Status string     `json:"status"`
}

const animalVersion = 1

func readNewcomer(v model.View, id model.AnimalID) (n newcomer, err error) {
	d, err := v.Document(id.ID)
	if err == nil && d.Type != model.TypeAnimal {
		err = model.ErrNotFound
	}
	if err == nil {
		err = d.Decode(animalVersion, &n)
	}
	if err != nil {
		return n, fmt.Errorf("read who is in quarantine: %w", err)
	}
	return n, nil
}

// here reports whether the animal is kept here now.
func (n newcomer) here() bool { return n.Status == "" || n.Status == "kept" || n.Status == "loan" }

// Begin begins the quarantine of an animal on the day of its arrival. One that comes
// back begins another.
type Begin struct {
	Tables    *knowledge.Tables
	Animal    model.AnimalID
	Arrived   model.Moment
	Protocol  knowledge.ProtocolID
	Note      string
	By        model.PersonID
	Confirmed model.Confirmed
}

// Name is "quarantine.begin".
func (Begin) Name() string { return "quarantine.begin" }

// Plan writes the quarantine. It is refused where another one is open, or cannot be read
// and so may be.
func (c Begin) Plan(v model.View) (model.Writes, error) {
	n, err := readNewcomer(v, c.Animal)
	if err != nil {
		return model.Writes{}, err
	}
	if !n.here() {
		return model.Writes{}, mend("name", n.Name, "animal.gone", map[string]model.Gap{"Animal": model.TextGap(n.Name), "Status": model.KeyGap("animals.status." + n.Status)})
	}
	earlier, unread, err := LegibleOf(v, c.Animal)
	if err != nil {
		return model.Writes{}, err
	}
	for _, q := range earlier {
		switch {
		case q.Open():
			return model.Writes{}, mend("arrival", c.Arrived.Day().String(), "quarantine.open", map[string]model.Gap{"Animal": model.TextGap(n.Name), "Day": model.DayGap(q.Arrived.Day())})
		case q.Released.At.Day() > c.Arrived.Day():
			return model.Writes{}, mend("arrival", c.Arrived.Day().String(), "quarantine.released-later", map[string]model.Gap{"Animal": model.TextGap(n.Name), "Day": model.DayGap(q.Released.At.Day())})
		}
	}
	if len(unread) > 0 {
		return model.Writes{}, mend("arrival", c.Arrived.Day().String(), "quarantine.unread", map[string]model.Gap{"Animal": model.TextGap(n.Name), "Day": model.DayGap(unread[0].Arrived.Day())})
	}
	s := Stored{ID: model.QuarantineID{ID: v.NewID()}, Animal: c.Animal, Arrived: c.Arrived, By: c.By, Quarantine: Quarantine{Protocol: c.Protocol, Note: strings.TrimSpace(c.Note)}}
	return write(v, c.Tables, n, s, c.Confirmed, "quarantine.done.begin")
}

// write writes a quarantine by the rules of a new one.
func write(v model.View, t *knowledge.Tables, n newcomer, s Stored, confirmed model.Confirmed, done string) (model.Writes, error) {
	if r := s.Check(v.Now()); r != nil {
		return model.Writes{}, r
	}
	if since := n.Since; !since.IsZero() && s.Arrived.Day() < since.Day && !confirmed.Has("day.before-arrival") {
		return model.Writes{}, &model.Refusal{Field: "arrival", Value: s.Arrived.Day().String(), Reason: "day.before-arrival", Answer: model.Confirm,
			Gaps: map[string]model.Gap{"Animal": model.TextGap(n.Name), "Since": model.DayGap(since.Day)}}
	}
	offers, err := Offers(v, t)
	if err != nil {
		return model.Writes{}, err
	}
	if _, known := Offer(offers, s.Protocol); !known {
		return model.Writes{}, mend("protocol", string(s.Protocol), "choice.unknown", nil)
	}
	d, err := s.Document()
	if err != nil {
		return model.Writes{}, err
	}
	return model.Writes{Put: []model.Document{d}, Label: model.Label{Key: done, Gaps: map[string]model.Gap{"Animal": model.TextGap(n.Name)}}}, nil
}

// Change replaces the protocol, the day of the arrival and the note of an open
// quarantine.
type Change struct {
	Tables    *knowledge.Tables
	ID        model.QuarantineID
	Base      uint32 // the revision that the change was made on
	Arrived   model.Moment
	Protocol  knowledge.ProtocolID
	Note      string
	Confirmed model.Confirmed
}

// Name is "quarantine.change".
func (Change) Name() string { return "quarantine.change" }

// Plan writes the quarantine anew. It is refused where it has ended.
func (c Change) Plan(v model.View) (model.Writes, error) {
	s, err := Find(v, c.ID)
	if err != nil {
		return model.Writes{}, err
	}
	if r := s.ended(); r != nil {
		return model.Writes{}, r
	}
	n, err := readNewcomer(v, s.Animal)
	if err != nil {
		return model.Writes{}, err
	}
	s.Revision, s.Arrived, s.Protocol, s.Note = c.Base, c.Arrived, c.Protocol, strings.TrimSpace(c.Note)
	return write(v, c.Tables, n, s, c.Confirmed, "quarantine.done.change")
}

// ended refuses what is done to a quarantine that has ended.
func (s Stored) ended() *model.Refusal {
	if s.Open() {
		return nil
	}
	return mend("released", s.Released.At.Day().String(), "quarantine.ended", map[string]model.Gap{"Day": model.DayGap(s.Released.At.Day())})
}

// Remove takes out a quarantine that was begun by mistake.
type Remove struct{ ID model.QuarantineID }

// Name is "quarantine.remove".
func (Remove) Name() string { return "quarantine.remove" }

// Plan removes the quarantine.
func (c Remove) Plan(v model.View) (model.Writes, error) {
	s, err := Find(v, c.ID)
	if err != nil {
		return model.Writes{}, err
	}
	n, err := readNewcomer(v, s.Animal)
	if err != nil {
		return model.Writes{}, err
	}
	return model.Writes{Remove: []model.ID{c.ID.ID}, Label: model.Label{Key: "quarantine.done.remove", Gaps: map[string]model.Gap{"Animal": model.TextGap(n.Name)}}}, nil
}

// AsksUnmet is the reason of the question whether one is released of whom something is
// not met.
const AsksUnmet = "quarantine.unmet"

// End ends an open quarantine with the list as it was just judged; whoever judges it
// has the facts. It is refused where a line is not met and that was not confirmed, and
// then without a reason.
func End(v model.View, s Stored, name string, g Gate, tables string, why string, at model.Moment, by model.PersonID, confirmed model.Confirmed) (model.Writes, error) {
	if r := s.ended(); r != nil {
		return model.Writes{}, r
	}
	why = strings.TrimSpace(why)
	if unmet := len(g.Unmet()); unmet > 0 && !confirmed.Has(AsksUnmet) {
		return model.Writes{}, &model.Refusal{Field: "released", Value: at.Day().String(), Reason: AsksUnmet, Answer: model.Confirm,
			Gaps: map[string]model.Gap{"Animal": model.TextGap(name), "Count": model.CountGap(unmet), "First": model.KeyGap("quarantine.item." + string(g.Unmet()[0].Item))}}
	}
	s.Released = &Release{At: at, By: by, Why: why, Asked: g.Protocol, Lines: g.Lines, Earliest: g.Earliest, Tables: tables}
	if r := s.Check(v.Now()); r != nil {
		return model.Writes{}, r
	}
	d, err := s.Document()
	if err != nil {
		return model.Writes{}, err
	}
	return model.Writes{Put: []model.Document{d}, Label: model.Label{Key: "quarantine.done.release", Gaps: map[string]model.Gap{"Animal": model.TextGap(name)}}}, nil
}

// ChangeProtocol sets what a protocol asks: one of the table as the keeper wants it,
// or one of the keeper's own; with an empty id it is a new one.
type ChangeProtocol struct {
	Tables    *knowledge.Tables
	Own       Own
	Base      uint32 // the revision that the change was made on; 0: it was not changed yet
	Confirmed model.Confirmed
}

// Name is "quarantine.protocol".
func (ChangeProtocol) Name() string { return "quarantine.protocol" }

// Plan writes the protocol. One that can never be met is refused, and it is said why.
func (c ChangeProtocol) Plan(v model.View) (model.Writes, error) {
	offers, err := Offers(v, c.Tables)
	if err != nil {
		return model.Writes{}, err
	}
	d := model.Document{Type: model.TypeProtocol, ID: v.NewID(), Revision: c.Base, At: v.Now()}
	own := c.Own
	own.Name = strings.Join(strings.Fields(own.Name), " ")
	if own.Protocol.ID == "" {
		own.Protocol.ID = knowledge.ProtocolID(d.ID.String())
	}
	if before, known := Offer(offers, own.Protocol.ID); known && !before.Document.IsZero() {
		d.ID = before.Document
	}
	if _, ours := c.Tables.Protocol(own.Protocol.ID); !ours && own.Name == "" {
		return model.Writes{}, mend("protocol-name", "", "text.empty", nil)
	}
	if r := CheckProtocol(c.Tables, own, c.Confirmed); r != nil {
		return model.Writes{}, r
	}
	if err := d.Encode(Version, own); err != nil {
		return model.Writes{}, err
	}
	return model.Writes{Put: []model.Document{d}, Label: model.Label{Key: "quarantine.done.protocol", Gaps: map[string]model.Gap{"Protocol": own.gap()}}}, nil
}

// gap is what the protocol is called.
func (o Own) gap() model.Gap {
	if o.Name != "" {
		return model.TextGap(o.Name)
	}
	return model.KeyGap("protocol." + string(o.Protocol.ID))
}

// Title is what the protocol is called, as a text.
func (o Own) Title() model.Label {
	return model.Label{Key: "quarantine.protocol", Gaps: map[string]model.Gap{"Protocol": o.gap()}}
}

// ResetProtocol takes a change of a protocol back to the table, and takes out one of
// the keeper's own. Open quarantines keep none that is gone.
type ResetProtocol struct{ Document model.ID }

// Name is "quarantine.protocol-reset".
func (ResetProtocol) Name() string { return "quarantine.protocol-reset" }

// Plan removes the protocol's document. One of the keeper's own that an open
// quarantine goes by is kept, and while one that cannot be read may go by it.
func (c ResetProtocol) Plan(v model.View) (model.Writes, error) {
	d, err := v.Document(c.Document)
	if err != nil {
		return model.Writes{}, fmt.Errorf("take back protocol %s: %w", c.Document, err)
	}
	s, err := ReadOwn(d)
	if err != nil {
		return model.Writes{}, err
	}
	if s.Protocol.ID == knowledge.ProtocolID(d.ID.String()) {
		all, unread, err := Legible(v)
		switch {
		case err != nil:
			return model.Writes{}, err
		case slices.ContainsFunc(all, func(q Stored) bool { return q.Open() && q.Protocol == s.Protocol.ID }):
			return model.Writes{}, mend("protocol", s.Name, "protocol.used", nil)
		case len(unread) > 0:
			return model.Writes{}, mend("protocol", s.Name, "protocol.used-unread", map[string]model.Gap{"Day": model.DayGap(unread[0].Arrived.Day())})
		}
	}
	return model.Writes{Remove: []model.ID{d.ID}, Label: model.Label{Key: "quarantine.done.protocol-reset", Gaps: map[string]model.Gap{"Protocol": s.gap()}}}, nil
}

// Commands are the commands of this package, one of each, empty.
func Commands() []model.Command {
	return []model.Command{Begin{}, Change{}, Remove{}, ChangeProtocol{}, ResetProtocol{}}
}
