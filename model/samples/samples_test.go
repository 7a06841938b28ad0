package samples_test

import (
	"errors"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"coilward/assets"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/collection"
	"coilward/model/knowledge"
	"coilward/model/people"
	"coilward/model/samples"
	"coilward/model/storetest"
)

const (
	serpento knowledge.AgentID    = "serpentovirus"
	crypto   knowledge.AgentID    = "cryptosporidium-serpentis"
	swab     knowledge.MaterialID = "choanal-swab"
)

// bench is a collection with animals and a lab, in which samples are followed.
type bench struct {
	*testing.T
	*collection.Collection
	tables            *knowledge.Tables
	clock             *storetest.Clock
	juno, brook, gone model.AnimalID // gone was sold ten days ago
	dead              model.AnimalID // died ten days ago
	lab, friend       model.PersonID
}

func ago(days int) model.Moment {
	return model.MomentOf(storetest.Start().Add(-time.Duration(days) * 24 * time.Hour))
}

func on(days int) model.Date { return model.Date{Day: ago(days).Day(), Precision: model.ToDay} }

func begin(t *testing.T) *bench {
	t.Helper()
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	c, clock := storetest.New(t)
	b := &bench{T: t, Collection: c, tables: tables, clock: clock}
	animal := func(name string, s animals.Status, day model.Date) model.AnimalID {
		return model.AnimalID{ID: b.do(animals.Add{Animal: animals.Animal{Name: name, Status: s, StatusDay: day, Hatched: on(500), Since: on(300)}})}
	}
	b.juno, b.brook = animal("Juno", animals.Kept, model.Date{}), animal("Brook", animals.Kept, model.Date{})
	b.gone, b.dead = animal("Kestrel", animals.Sold, on(10)), animal("Rowan", animals.Died, on(10))
	b.lab = model.PersonID{ID: b.do(people.Add{Person: people.Person{Name: "The lab", Roles: []people.Role{people.Lab}}})}
	b.friend = model.PersonID{ID: b.do(people.Add{Person: people.Person{Name: "A friend"}})}
	return b
}

func (b *bench) do(c model.Command) model.ID {
	b.Helper()
	done, err := b.Do(c)
	if err != nil {
		b.Fatalf("%s: %v", c.Name(), err)
	}
	return done.Documents[0]
}

// refused is the reason why a command cannot stand; empty: it stands.
func (b *bench) refused(c model.Command) string {
	b.Helper()
	_, err := b.Do(c)
	var r *model.Refusal
	switch {
	case err == nil:
		return ""
	case errors.As(err, &r):
		return r.Reason
	}
	return err.Error()
}

func (b *bench) read(id model.SampleID) (s samples.Stored) {
	b.Helper()
	if err := b.View(func(v model.View) error {
		d, err := v.Document(id.ID)
		if err != nil {
			return err
		}
		s, err = samples.Read(d)
		return err
	}); err != nil {
		b.Fatal(err)
	}
	return s
}

func plain() samples.Sample {
	return samples.Sample{Kit: samples.Kit{Number: "K 7", Lot: "L1", Expires: on(-100)}, Material: swab, For: []knowledge.AgentID{serpento, crypto}}
}

func (b *bench) prepared(s samples.Sample, of ...model.AnimalID) model.SampleID {
	b.Helper()
	return model.SampleID{ID: b.do(samples.Prepare{Tables: b.tables, Each: []samples.New{{Animals: of, Sample: s}}})}
}

// row is what a report says of one sample.
func row(id model.SampleID, base uint32, found ...samples.Found) []samples.Row {
	return []samples.Row{{On: samples.On{ID: id, Base: base}, Found: found}}
}

func (b *bench) stage(id model.SampleID, want samples.Stage) {
	b.Helper()
	if got := b.read(id).Stage(); got != want {
		b.Errorf("%s, want %s", got, want)
	}
}

// The life of a sample, step by step, from the kit to a result. Source: common practice, no source.
func TestLife(t *testing.T) {
	b := begin(t)
	id := b.prepared(plain(), b.juno, b.brook)
	b.stage(id, samples.ToTake)
	b.do(samples.Take{Tables: b.tables, Of: []samples.On{{ID: id, Base: 1}}, At: ago(20), By: b.friend, Site: "left", Storage: "fridge"})
	b.stage(id, samples.Taken)
	if s := b.read(id); s.At != ago(20) || s.TakenBy != b.friend || s.Site != "left" {
		t.Errorf("%+v", s)
	}
	b.do(samples.Post{Tables: b.tables, Of: []samples.On{{ID: id, Base: 2}}, At: ago(19), Lab: b.lab, Courier: "by bicycle", Tracking: "12"})
	b.stage(id, samples.Sent)
	b.do(samples.Arrive{Tables: b.tables, Of: []samples.On{{ID: id, Base: 3}}, At: ago(18)})
	b.stage(id, samples.AtLab)
	b.do(samples.Enter{Tables: b.tables, At: ago(9), Number: "R-1", Photos: []model.PhotoID{"0a"}, Rows: row(id, 4, samples.Found{Of: serpento, Outcome: samples.Inhibited})})
	b.stage(id, samples.AtLab) // one thing has no result yet
	b.do(samples.Enter{Tables: b.tables, At: ago(9), Number: "R-1", Rows: row(id, 5, samples.Found{Of: crypto, Outcome: samples.NotDetected})})
	b.stage(id, samples.Reported)
	s := b.read(id)
	if s.LookedThrough(serpento) || !s.LookedThrough(crypto) {
		t.Error("an inhibited result counts, or one that is none does not")
	}
	b.do(samples.Correct{Tables: b.tables, ID: id, Base: 6, Result: samples.Result{Of: serpento, Outcome: samples.Detected, At: ago(5), Report: "R-2", Why: "run again"}})
	if s := b.read(id); s.Outcome(serpento) != samples.Detected || len(s.Results) != 3 || s.Results[0].Outcome != samples.Inhibited || s.Results[0].Report != "R-1" {
		t.Errorf("the earlier result is not kept: %+v", s.Results)
	}
	if _, err := b.Undo(); err != nil || b.read(id).Outcome(serpento) != samples.Inhibited {
		t.Error("undo does not bring the earlier one back")
	}
	b.do(samples.Remove{ID: id})
	lost := b.prepared(plain(), b.juno) // its number is free again
	b.do(samples.GiveUp{Tables: b.tables, ID: lost, Base: 1, Void: samples.Void{At: ago(1), Why: samples.Lost}})
	b.stage(lost, samples.Voided)
}

// What cannot stand, each with its reason.
func TestRefusals(t *testing.T) {
	b := begin(t)
	taken := func(days int) samples.Sample {
		s := plain()
		s.Kit.Number, s.Taken = "", ago(days)
		return s
	}
	with := func(s samples.Sample, change func(*samples.Sample)) samples.Sample { change(&s); return s }
	used := b.prepared(plain(), b.juno)
	for name, c := range map[string]struct {
		of     []model.AnimalID
		sample samples.Sample
		want   string
	}{
		"good":                   {[]model.AnimalID{b.juno}, taken(5), ""},
		"a pool without animals": {nil, taken(5), "sample.nobody"},
		"an animal twice":        {[]model.AnimalID{b.juno, b.juno}, taken(5), "sample.animal-twice"},
		"an animal gone before":  {[]model.AnimalID{b.juno, b.gone}, taken(5), "animal.gone"},
		"an animal still here":   {[]model.AnimalID{b.gone}, taken(15), ""},
		"after death":            {[]model.AnimalID{b.dead}, taken(5), "animal.gone-asks"},
		"before hatching":        {[]model.AnimalID{b.juno}, taken(501), "day.before-hatching"},
		"before arrival":         {[]model.AnimalID{b.juno}, taken(400), "day.before-arrival"},
		"taken in the future":    {[]model.AnimalID{b.juno}, taken(-2), "day.future"},
		"a day not known":        {[]model.AnimalID{b.juno}, with(taken(5), func(s *samples.Sample) { s.Taken.Precision = model.ToMonth }), "day.vague"},
		"a kit used twice":       {[]model.AnimalID{b.juno}, with(taken(5), func(s *samples.Sample) { s.Kit.Number = "k  7" }), "sample.kit-used"},
		"a kit past its day":     {[]model.AnimalID{b.juno}, with(taken(5), func(s *samples.Sample) { s.Kit.Expires = on(6) }), "sample.kit-expired"},
		"a kit on its last day":  {[]model.AnimalID{b.juno}, with(taken(5), func(s *samples.Sample) { s.Kit.Expires = on(5) }), ""},
		"for nothing":            {[]model.AnimalID{b.juno}, with(taken(5), func(s *samples.Sample) { s.For = nil }), "sample.for-nothing"},
		"for one thing twice":    {[]model.AnimalID{b.juno}, with(taken(5), func(s *samples.Sample) { s.For = []knowledge.AgentID{crypto, crypto} }), "sample.for-twice"},
		"for a thing not known":  {[]model.AnimalID{b.juno}, with(taken(5), func(s *samples.Sample) { s.For = []knowledge.AgentID{"dragon-pox"} }), "choice.unknown"},
		"of a thing not known":   {[]model.AnimalID{b.juno}, with(taken(5), func(s *samples.Sample) { s.Material = "breath" }), "choice.unknown"},
		"posted before":          {[]model.AnimalID{b.juno}, with(taken(5), func(s *samples.Sample) { s.Posted = ago(6) }), "sample.order"},
		"posted but not taken":   {[]model.AnimalID{b.juno}, with(taken(5), func(s *samples.Sample) { s.Taken, s.Posted = model.Moment{}, ago(4) }), "sample.not-taken"},
		"arrived before":         {[]model.AnimalID{b.juno}, with(taken(5), func(s *samples.Sample) { s.Posted, s.Arrived = ago(3), ago(4) }), "sample.order"},
		"posted on the same day": {[]model.AnimalID{b.juno}, with(taken(5), func(s *samples.Sample) { s.Posted = ago(5); s.Posted.UTC -= 60; s.Posted.Precision = model.ToDay }), ""},
		"brought there":          {[]model.AnimalID{b.juno}, with(taken(5), func(s *samples.Sample) { s.Arrived, s.Lab = ago(4), b.lab }), ""},
		"no lab":                 {[]model.AnimalID{b.juno}, with(taken(5), func(s *samples.Sample) { s.Lab = b.friend }), "sample.no-lab"},
		"with a result": {[]model.AnimalID{b.juno}, with(taken(5), func(s *samples.Sample) {
			s.Results = []samples.Result{{Of: crypto, Outcome: samples.Detected, At: ago(1)}}
		}), "sample.not-taken"},
		"a line that goes on":      {[]model.AnimalID{b.juno}, with(taken(5), func(s *samples.Sample) { s.Courier = string(make([]byte, 300)) }), "text.control"},
		"an animal that is no one": {[]model.AnimalID{{ID: b.lab.ID}}, taken(5), "do samples.prepare: read animal " + b.lab.ID.String() + ", which is a document of type person: not found"},
	} {
		if got := b.refused(samples.Prepare{Tables: b.tables, Each: []samples.New{{Animals: c.of, Sample: c.sample}}}); got != c.want {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
	}
	b.do(samples.Take{Tables: b.tables, Of: []samples.On{{ID: used, Base: 1}}, At: ago(5)})
	result := func(of knowledge.AgentID, o samples.Outcome, days int) samples.Result {
		return samples.Result{Of: of, Outcome: o, At: ago(days)}
	}
	enter := func(r ...samples.Result) model.Command {
		c := samples.Enter{Tables: b.tables, Rows: row(used, b.read(used).Revision)}
		for _, r := range r {
			c.At, c.Rows[0].Found = r.At, append(c.Rows[0].Found, samples.Found{Of: r.Of, Outcome: r.Outcome})
		}
		return c
	}
	for name, c := range map[string]struct {
		command model.Command
		want    string
	}{
		"a result before the sampling": {enter(result(crypto, samples.Detected, 6)), "sample.result-first"},
		"a result of the future":       {enter(result(crypto, samples.Detected, -2)), "day.future"},
		"of what was not looked for":   {enter(result("ferlavirus", samples.Detected, 1)), "sample.not-looked-for"},
		"a pending one":                {enter(result(crypto, samples.Pending, 1)), "choice.unknown"},
		"by a method that is none":     {samples.Enter{Tables: b.tables, At: ago(1), Rows: []samples.Row{{On: samples.On{ID: used, Base: 2}, Found: []samples.Found{{Of: crypto, Outcome: samples.Detected, Method: "smell"}}}}}, "choice.unknown"},
		"without a day":                {enter(samples.Result{Of: crypto, Outcome: samples.Detected}), "day.empty"},
		"none":                         {enter(), "text.empty"},
		"taken again":                  {samples.Take{Tables: b.tables, Of: []samples.On{{ID: used, Base: 2}}, At: ago(4)}, "sample.already"},
		"posted without a day":         {samples.Post{Tables: b.tables, Of: []samples.On{{ID: used, Base: 2}}}, "day.empty"},
		"corrected without one":        {samples.Correct{Tables: b.tables, ID: used, Base: 2, Result: result(crypto, samples.Detected, 1)}, "sample.no-result"},
	} {
		if got := b.refused(c.command); got != c.want {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
	}
	b.do(enter(result(crypto, samples.Inconclusive, 1)))
	revision := b.read(used).Revision
	for name, c := range map[string]struct {
		command model.Command
		want    string
	}{
		"entered twice":            {enter(result(crypto, samples.NotDetected, 1)), "sample.result-there"},
		"corrected without saying": {samples.Correct{Tables: b.tables, ID: used, Base: revision, Result: result(crypto, samples.NotDetected, 1)}, "sample.why"},
		"given up":                 {samples.GiveUp{Tables: b.tables, ID: used, Base: revision, Void: samples.Void{At: ago(0), Why: samples.Lost}}, "sample.has-result"},
		"its taking put off":       {samples.Change{Tables: b.tables, ID: used, Base: revision, Animals: []model.AnimalID{b.juno}, Sample: taken(0)}, "sample.result-first"},
		"no longer looked for": {samples.Change{Tables: b.tables, ID: used, Base: revision, Animals: []model.AnimalID{b.juno},
			Sample: with(taken(5), func(s *samples.Sample) { s.For = []knowledge.AgentID{serpento} })}, "sample.not-looked-for"},
		"put right": {samples.Change{Tables: b.tables, ID: used, Base: revision, Animals: []model.AnimalID{b.brook}, Sample: taken(6)}, ""},
	} {
		if name == "put right" {
			continue // last: it changes the revision
		}
		if got := b.refused(c.command); got != c.want {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
	}
	b.do(samples.Change{Tables: b.tables, ID: used, Base: revision, Animals: []model.AnimalID{b.brook}, Sample: taken(6)})
	if s := b.read(used); s.Outcome(crypto) != samples.Inconclusive || !slices.Equal(s.Animals, []model.AnimalID{b.brook}) || s.At != ago(6) {
		t.Errorf("put right: %+v", s)
	}
	void := b.prepared(taken(3), b.juno)
	b.do(samples.GiveUp{Tables: b.tables, ID: void, Base: 1, Void: samples.Void{At: ago(1), Why: samples.Spoiled}})
	if got := b.refused(samples.Post{Tables: b.tables, Of: []samples.On{{ID: void, Base: 2}}, At: ago(0)}); got != "sample.void" {
		t.Errorf("posted after it was given up: %q", got)
	}
	if got := b.refused(samples.GiveUp{Tables: b.tables, ID: b.prepared(taken(3), b.juno), Base: 1, Void: samples.Void{At: ago(4), Why: samples.Lost}}); got != "sample.order" {
		t.Errorf("given up before it was taken: %q", got)
	}
	// what was asked when it was taken is not asked again
	late := model.SampleID{ID: b.do(samples.Prepare{Tables: b.tables, Confirmed: model.Confirmed{"sample.kit-expired", "animal.gone-asks"},
		Each: []samples.New{{Animals: []model.AnimalID{b.dead}, Sample: with(taken(5), func(s *samples.Sample) { s.Kit.Expires = on(6) })}}})}
	b.do(samples.Post{Tables: b.tables, Of: []samples.On{{ID: late, Base: 1}}, At: ago(4)})
	// the lab may be taken out afterwards; the sample goes on
	kept := b.prepared(with(taken(5), func(s *samples.Sample) { s.Lab = b.lab }), b.juno)
	b.do(people.Remove{ID: b.lab})
	b.do(samples.Post{Tables: b.tables, Of: []samples.On{{ID: kept, Base: 1}}, At: ago(4)})
}

// From five answers of a lab on it is the larger of one and a half times their median
// and of their median and three days; before that the usual number. Source: assumed.
func TestLate(t *testing.T) {
	for _, c := range []struct {
		took []int
		want int
	}{
		{nil, 14}, {[]int{1, 1, 1, 1}, 14}, {[]int{2, 2, 2, 2, 2}, 5}, {[]int{30, 4, 10, 8, 9}, 14}, {[]int{4, 5, 6, 7, 8, 9}, 10}, {[]int{20, 20, 20, 20, 20}, 30},
	} {
		if got := samples.Late(c.took, 14); got != c.want {
			t.Errorf("%v: %d, want %d", c.took, got, c.want)
		}
	}
}

// Whatever results come in whatever order, only the last one of a thing counts,
// nothing but "detected" and "not detected" counts as looked through, none is
// lost, and the stage follows from what is there.
func TestResultsProperty(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		s := samples.Sample{Material: swab, For: []knowledge.AgentID{serpento, crypto, "ferlavirus"}, Taken: ago(20)}
		last := map[knowledge.AgentID]samples.Outcome{}
		for range rapid.IntRange(0, 8).Draw(r, "results") {
			of := rapid.SampledFrom(s.For).Draw(r, "of")
			o := rapid.SampledFrom(samples.Outcomes()).Draw(r, "outcome")
			result := samples.Result{Of: of, Outcome: o, At: ago(rapid.IntRange(0, 20).Draw(r, "days"))}
			if last[of] != samples.Pending {
				result.Why = "again"
			}
			s.Results, last[of] = append(s.Results, result), o
		}
		if refusal := s.Check(ago(0)); refusal != nil {
			r.Fatal(refusal)
		}
		all := true
		for _, of := range s.For {
			if s.Outcome(of) != last[of] {
				r.Errorf("%s: %s, want %s", of, s.Outcome(of), last[of])
			}
			if want := last[of] == samples.Detected || last[of] == samples.NotDetected; s.LookedThrough(of) != want {
				r.Errorf("%s after %q counts: %t", of, last[of], !want)
			}
			all = all && last[of] != samples.Pending
		}
		if (s.Stage() == samples.Reported) != all {
			r.Errorf("stage %s", s.Stage())
		}
	})
}

// Days that run backwards are refused, others are not.
func TestDaysProperty(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		days := rapid.SliceOfN(rapid.IntRange(0, 30), 4, 4).Draw(r, "days")
		s := samples.Sample{Material: swab, For: []knowledge.AgentID{crypto}, Taken: ago(days[0]), Posted: ago(days[1]), Arrived: ago(days[2]),
			Results: []samples.Result{{Of: crypto, Outcome: samples.NotDetected, At: ago(days[3])}}}
		forward := slices.IsSortedFunc(days, func(a, b int) int { return b - a })
		if (s.Check(ago(0)) == nil) != forward {
			r.Errorf("%v: %v", days, s.Check(ago(0)))
		}
	})
}
