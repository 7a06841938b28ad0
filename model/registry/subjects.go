package registry

import (
	"bytes"
	"cmp"
	"crypto/sha256"
	"encoding/json"
	"errors"
	"slices"
	"strconv"
	"strings"

	"coilward/model"
	"coilward/model/assumed"
	"coilward/model/contact"
	"coilward/model/knowledge"
	"coilward/model/quarantine"
	"coilward/model/round"
	"coilward/model/samples"
)

// Surroundings are what a document is held against: the tables, and what else the
// collection holds.
type Surroundings struct {
	tables    *knowledge.Tables
	today     model.Day
	types     map[model.ID]model.DocumentType // of all that is there
	protocols map[knowledge.ProtocolID]bool   // the keeper's own
	was       func(model.ID) (bool, error)    // it was there once, whatever became of it
}

// Around are the surroundings of every document that a view shows, while it lasts.
func Around(v model.View, t *knowledge.Tables) (Surroundings, error) {
	s := Surroundings{tables: t, today: v.Now().Day(), types: map[model.ID]model.DocumentType{}, protocols: map[knowledge.ProtocolID]bool{}}
	s.was = func(id model.ID) (bool, error) {
		all, err := v.Revisions(id)
		if errors.Is(err, model.ErrNotFound) {
			return false, nil
		}
		return len(all) > 0, err
	}
	for _, t := range model.DocumentTypes() {
		if err := v.All(t, func(d model.Document) bool {
			s.types[d.ID] = t
			if own, err := quarantine.ReadOwn(d); err == nil {
				s.protocols[own.Protocol.ID] = true
			}
			return true
		}); err != nil {
			return s, err
		}
	}
	return s, nil
}

// Sound is Sound of a document among others: beside its own values it is held against
// the tables and against what it names. The error is a *model.Refusal where a value is
// at fault.
func (s Surroundings) Sound(d model.Document) error {
	return cmp.Or(s.held(d), Sound(d, s.today), s.about(d), s.known(d))
}

// about wants a document to be about what is of the kind that it is taken for, and is
// there or was once: what was there may have been taken out.
func (s Surroundings) about(d model.Document) error {
	for _, about := range d.Subjects {
		want, known := map[model.SubjectKind]model.DocumentType{model.SubjectAnimal: model.TypeAnimal, model.SubjectPerson: model.TypePerson,
			model.SubjectPlace: model.TypePlace, model.SubjectTool: model.TypeTool, model.SubjectLot: model.TypeBatch, model.SubjectInstrument: model.TypeInstrument, model.SubjectRound: model.TypeRound}[about.Kind]
		if !known {
			continue
		}
		if err := s.is(want, about.ID); err != nil {
			return err
		}
		if want != model.TypeAnimal && slices.Contains([]model.DocumentType{model.TypeSample, model.TypeQuarantine, model.TypePositive, model.TypeProblem, model.TypePrescription, model.TypeVisit, model.TypeQuestion}, d.Type) {
			return mend("about", about.ID.String(), "document.animals", map[string]model.Gap{"Is": model.KeyGap("keeping.type." + string(want))})
		}
	}
	return nil
}

// is wants an id to be that of a document of a type, or of one that was there once.
func (s Surroundings) is(want model.DocumentType, id model.ID) error {
	gaps := map[string]model.Gap{"Want": model.KeyGap("keeping.type." + string(want))}
	is, there := s.types[id]
	switch {
	case id.IsZero() || is == want:
		return nil
	case there:
		gaps["Is"] = model.KeyGap("keeping.type." + string(is))
		return mend("about", id.String(), "document.misnamed", gaps)
	}
	was, err := s.was(id)
	if err != nil || was {
		return err
	}
	return mend("about", id.String(), "document.never", gaps)
}

// named are the types of what bodies name by id, by the key that the id stands under.
var named = map[string]model.DocumentType{
	"by": model.TypePerson, "takenBy": model.TypePerson, "lab": model.TypePerson, "vet": model.TypePerson,
	"sample": model.TypeSample, "batch": model.TypeBatch, "problem": model.TypeProblem, "visit": model.TypeVisit, "place": model.TypePlace, "in": model.TypePlace, "with": model.TypeInstrument,
}

// earliest is the first day that anything in a collection may be of.
var earliest = model.NewDay(1900, 1, 1)

// held looks through header and body of a document for moments, days, photos and ids
// that cannot be. What is no JSON is said by whoever reads the body.
func (s Surroundings) held(d model.Document) error {
	if err := cmp.Or(notBefore(d.At.UTC, d.At.IsZero()), s.is(model.TypePerson, d.By.ID)); err != nil {
		return err
	}
	read := json.NewDecoder(bytes.NewReader(d.Body))
	read.UseNumber()
	var body any
	if err := read.Decode(&body); err != nil {
		return nil
	}
	return s.value("", body)
}

func (s Surroundings) value(key string, value any) error {
	switch value := value.(type) {
	case map[string]any:
		return s.fields(value)
	case []any:
		for _, v := range value {
			if err := s.value(key, v); err != nil {
				return err
			}
		}
	case string:
		return s.word(key, value)
	}
	return nil
}

func (s Surroundings) fields(all map[string]any) error {
	if utc, is := all["utc"].(json.Number); is {
		at, err := utc.Int64()
		if err != nil {
			return mend("day", utc.String(), "document.before", nil)
		}
		return notBefore(at, at == 0 && len(all) == 1)
	}
	for key, value := range all {
		if err := s.value(key, value); err != nil {
			return err
		}
	}
	return nil
}

// word looks at a text that stands under a key.
func (s Surroundings) word(key, word string) error {
	switch want, id := named[key], (model.ID{}); {
	case key == "day":
		var day model.Day
		if day.UnmarshalText([]byte(word)) == nil && day < earliest {
			return mend("day", word, "document.before", nil)
		}
	case key == "photos", key == "photo", key == "portrait":
		if word != "" && (len(word) != 2*sha256.Size || strings.Trim(word, "0123456789abcdef") != "") {
			return mend("photo", word, "document.photo", nil)
		}
	case want != "" && id.UnmarshalText([]byte(word)) == nil:
		return s.is(want, id)
	}
	return nil
}

func notBefore(utc int64, unknown bool) error {
	const day = 24 * 60 * 60
	if first := int64(earliest)*day - day; unknown || utc >= first { // whatever the zone
		return nil
	}
	return mend("day", strconv.FormatInt(utc, 10), "document.before", nil)
}

// known wants what a document names of the tables to stand in them.
func (s Surroundings) known(d model.Document) error {
	switch d.Type {
	case model.TypeSample:
		var b samples.Sample
		if d.Decode(samples.Version, &b) != nil { // said before, or of a newer form
			return nil
		}
		if _, ok := s.tables.Material(b.Material); !ok {
			return unknown("material", string(b.Material))
		}
		return s.agents(b.For)
	case model.TypeQuarantine:
		q, err := quarantine.Read(d)
		if err != nil {
			return nil
		}
		return s.quarantine(q)
	case model.TypeProtocol:
		own, err := quarantine.ReadOwn(d)
		if err != nil {
			return nil
		}
		return s.asked(own.Protocol)
	case model.TypeFigures:
		f, err := assumed.Read(d)
		if err != nil {
			return nil
		}
		if _, ok := f.Agent(s.tables); !ok {
			return unknown("row", f.ID)
		}
	case model.TypePositive:
		p, err := contact.Read(d)
		if err != nil {
			return nil
		}
		for _, did := range p.Done {
			if !slices.ContainsFunc(s.tables.PositiveActs(), func(a knowledge.PositiveAct) bool { return a.ID == did.Act }) {
				return unknown("positive-act", string(did.Act))
			}
		}
		return s.agents([]knowledge.AgentID{p.Agent})
	case model.TypeRound:
		var r round.Round
		if d.Decode(round.Version, &r) != nil {
			return nil
		}
		if _, ok := s.tables.Round(r.Order); !ok {
			return unknown("round-order", string(r.Order))
		}
		for _, stop := range r.Stops {
			if err := s.dwell(stop.Animals); err != nil {
				return err
			}
		}
	case model.TypeEntry:
		if l, known, err := round.ReadLook(d); known && err == nil {
			return s.dwell(l.Animals)
		}
	}
	return nil
}

// dwell wants animals that a body names to be there, or to have been.
func (s Surroundings) dwell(all []model.AnimalID) error {
	for _, a := range all {
		if err := s.is(model.TypeAnimal, a.ID); err != nil {
			return err
		}
	}
	return nil
}

func (s Surroundings) agents(all []knowledge.AgentID) error {
	for _, a := range all {
		if _, ok := s.tables.Agent(a); !ok {
			return unknown("looked-for", string(a))
		}
	}
	return nil
}

func (s Surroundings) asked(p knowledge.Protocol) error {
	for _, a := range p.For {
		if err := s.agents(a.Agents); err != nil {
			return err
		}
	}
	return nil
}

// quarantine looks at the protocol, and at the list as it was said at the release. A
// protocol that was the keeper's own then may be gone.
func (s Surroundings) quarantine(q quarantine.Stored) error {
	r := q.Released
	if r == nil {
		if _, ok := s.tables.Protocol(q.Protocol); !ok && !s.protocols[q.Protocol] {
			return unknown("protocol", string(q.Protocol))
		}
		return nil
	}
	for _, l := range r.Lines {
		switch {
		case !slices.Contains(quarantine.Items(), l.Item):
			return unknown("released", string(l.Item))
		case !slices.Contains(quarantine.States(), l.State):
			return unknown("released", string(l.State))
		}
		for _, count := range []int{l.Have, l.Want} {
			if count < 0 {
				return mend("released", strconv.Itoa(count), "document.negative", nil)
			}
		}
	}
	if r.Asked.Days < 0 {
		return mend("protocol-days", strconv.Itoa(r.Asked.Days), "document.negative", nil)
	}
	return s.asked(r.Asked)
}

func unknown(field, value string) error { return mend(field, value, "document.unknown", nil) }

func mend(field, value, reason string, gaps map[string]model.Gap) *model.Refusal {
	return &model.Refusal{Field: field, Value: value, Reason: reason, Gaps: gaps, Answer: model.Mend}
}
