package newcomers

import (
	"slices"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/exam"
	"coilward/model/history"
	"coilward/model/knowledge"
	"coilward/model/quarantine"
	"coilward/model/samples"
)

// ArrivalKind is what is done when an animal has come. Values are frozen; the text is
// "newcomers.arrival." + value.
type ArrivalKind string

// What is done on arrival, in its order. Source: common practice, no source.
const (
	ArriveWeigh  ArrivalKind = "weigh"
	ArrivePhotos ArrivalKind = "photos" // of the standard poses
	ArriveCheck  ArrivalKind = "check"
	ArriveMites  ArrivalKind = "mites" // on the animal itself, on white paper
	ArriveSwab   ArrivalKind = "swab"
)

// ArrivalKinds are all of them.
func ArrivalKinds() []ArrivalKind {
	return []ArrivalKind{ArriveWeigh, ArrivePhotos, ArriveCheck, ArriveMites, ArriveSwab}
}

// ArrivalStep is one thing that is done when an animal has come.
type ArrivalStep struct {
	Kind       ArrivalKind
	From, By   model.Day
	Done       bool
	On         []model.ID         // the entries or the sample that it was done with
	Have, Want int                // poses; of the others one
	Poses      []knowledge.PoseID // that are missing
}

// arrival is the guided list of an arrival.
func (r *reader) arrival(n Newcomer, records history.Records, taken []samples.Stored) []ArrivalStep {
	arrived := n.Quarantine.Arrived.Day()
	step := func(kind ArrivalKind, on ...model.ID) ArrivalStep {
		s := ArrivalStep{Kind: kind, From: arrived, By: arrived + model.Day(r.t.Value(knowledge.ValueArrivalBy)), Want: 1, On: on, Done: len(on) > 0}
		if s.Done {
			s.Have = 1
		}
		return s
	}
	first := func(is func(care.Body) bool) (on []model.ID) {
		for _, e := range slices.Backward(records.Entries) {
			if e.At.Day() >= arrived && is(e.Body) {
				return []model.ID{e.ID.ID}
			}
		}
		return nil
	}
	weighed := first(func(b care.Body) bool { _, is := b.(care.Weight); return is })
	looked := first(func(b care.Body) bool { look, is := b.(care.MiteLook); return is && look.Counts() })
	var checked []model.ID
	for _, c := range slices.Backward(records.Checks) {
		if c.Begun.Day() >= arrived && c.Extent(r.t) == exam.FullCheck && checked == nil {
			checked = []model.ID{c.ID.ID}
		}
	}
	all := []ArrivalStep{step(ArriveWeigh, weighed...), r.posed(step(ArrivePhotos), records, arrived), step(ArriveCheck, checked...), step(ArriveMites, looked...)}
	if len(n.Protocol.For) == 0 {
		return all
	}
	swab := step(ArriveSwab, r.swabbed(n.Protocol.Protocol, taken, arrived)...)
	swab.From, swab.By = arrived+model.Day(r.t.Value(knowledge.ValueSwabFrom)), arrived+model.Day(r.t.Value(knowledge.ValueSwabBy))
	return append(all, swab)
}

// posed tells which of the standard poses were photographed since the arrival.
func (r *reader) posed(s ArrivalStep, records history.Records, arrived model.Day) ArrivalStep {
	by := map[knowledge.PoseID]model.ID{}
	for _, e := range records.Entries {
		if p, is := e.Body.(care.Photo); is && e.At.Day() >= arrived && p.Pose != "" {
			by[p.Pose] = e.ID.ID
		}
	}
	s.Want = len(r.t.Poses())
	for _, p := range r.t.Poses() {
		entry, there := by[p.ID]
		if !there {
			s.Poses = append(s.Poses, p.ID)
			continue
		}
		if s.Have++; !slices.Contains(s.On, entry) {
			s.On = append(s.On, entry)
		}
	}
	s.Done = s.Have == s.Want
	return s
}

// swabbed is the first sample since the arrival that is looked through for what the
// protocol asks.
func (r *reader) swabbed(p quarantine.Protocol, taken []samples.Stored, arrived model.Day) []model.ID {
	var first samples.Stored
	for _, s := range taken {
		asked := slices.ContainsFunc(p.For, func(a knowledge.Asked) bool {
			return slices.ContainsFunc(a.Agents, func(of knowledge.AgentID) bool { return slices.Contains(s.For, of) && !r.t.Silent(of, s.Material) })
		})
		if asked && !s.Taken.IsZero() && s.Taken.Day() >= arrived && s.Void == nil && (first.Taken.IsZero() || s.Taken.UTC < first.Taken.UTC) {
			first = s
		}
	}
	if first.Taken.IsZero() {
		return nil
	}
	return []model.ID{first.ID.ID}
}

// Propose is the quarantine that is offered where an animal came from elsewhere and
// was given a place: the default protocol from the day on which it came. ok is false
// where it hatched here, is here no more, or has been in quarantine since it came.
// The error is that of a quarantine that cannot be read.
func Propose(v model.View, t *knowledge.Tables, id model.AnimalID) (b quarantine.Begin, ok bool, err error) {
	a, err := animals.Find(v, id)
	if err != nil || !a.Status.Here() || a.Since.IsZero() || a.Since == a.Hatched {
		return b, false, err
	}
	arrived := model.MomentOn(v.Now(), a.Since.Day, model.Noon, model.ToDay)
	if arrived.Day() > v.Now().Day() || int(v.Now().Day()-a.Since.Day) > t.Value(knowledge.ValueNewcomer) {
		return b, false, nil
	}
	earlier, err := quarantine.Of(v, id)
	if err != nil || len(earlier) > 0 {
		return b, false, err
	}
	return quarantine.Begin{Tables: t, Animal: id, Arrived: arrived, Protocol: Usual}, true, nil
}

// Usual is the protocol that is offered first. Source: hobby practice for pythons,
// at least 90 days.
const Usual knowledge.ProtocolID = "python"
