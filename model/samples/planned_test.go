package samples_test

import (
	"errors"
	"slices"
	"testing"

	"coilward/model"
	"coilward/model/knowledge"
	"coilward/model/samples"
)

// round is a sample for a round of a plan of two, so many days from now.
func round(n, ahead int, of ...model.AnimalID) samples.New {
	s := samples.Sample{Material: "choanal-swab", For: []knowledge.AgentID{"serpentovirus"}}
	s.Planned = &samples.Planned{Day: ago(0).Day() + model.Day(ahead), Round: n, Of: 2}
	return samples.New{Animals: of, Sample: s}
}

// A sample that is laid out for a day ahead asks for nothing before it, and is late by the
// days of the table from that day on.
func TestWay_LaidOutAhead(t *testing.T) {
	tables := begin(t).tables
	usual, _ := tables.Usual(knowledge.StageToTake)
	for _, c := range []struct {
		day  int // after today
		want samples.Way
	}{
		{0, samples.Way{Ahead: true}}, {41, samples.Way{Ahead: true}}, {42, samples.Way{Next: samples.ActTake}},
		{42 + usual.Days, samples.Way{Next: samples.ActTake}}, {43 + usual.Days, samples.Way{Next: samples.ActTake, Late: true}},
	} {
		s := samples.Stored{At: ago(0), Sample: round(2, 42).Sample}
		c.want.Stage, c.want.Since, c.want.Within = samples.ToTake, ago(0).Day()+42, usual.Days
		c.want.Mark = c.want.Since + model.Day(usual.Days)
		if got := s.Way(tables, nil, ago(0).Day()+model.Day(c.day)); got != c.want {
			t.Errorf("after %d days: %+v, want %+v", c.day, got, c.want)
		}
	}
	s := samples.Stored{At: ago(0), Sample: round(1, -3).Sample}
	if w := s.Way(tables, nil, ago(0).Day()); w.Since != ago(0).Day() || w.Ahead {
		t.Errorf("laid out after its day: %+v", w)
	}
	s.Planned.Day, s.Taken = ago(0).Day()+9, ago(0)
	if w := s.Way(tables, nil, ago(0).Day()); w.Ahead || w.Next != samples.ActPost || s.Ahead(ago(0).Day()) {
		t.Errorf("taken before its day: %+v", w)
	}
	tray := followed(t, func(s *samples.Stored) { s.Sample = round(2, 5).Sample }, func(s *samples.Stored) { s.Sample = round(1, 0).Sample })
	if all, _ := tray.OnWay(); all != 1 || !slices.Equal(numbers(tray.Before(samples.Sent)), []int{2}) || !slices.Equal(numbers(tray.LaidOut(tray[0].Animals[0], "", tray[0].For)), []int{2}) ||
		!tray[0].Lies(ago(0).Day()) || !slices.Equal(tray[0].Others(), []samples.Act{samples.ActTake}) || tray[1].Others() != nil || !slices.Equal(numbers(tray.Owed(tray[0].Animals[0])), []int{2}) {
		t.Errorf("of one ahead and one for today: %d on the way, %v, others %v and %v", all, tray.Before(samples.Sent), tray[0].Others(), tray[1].Others())
	}
}

// All rounds are laid out by one command, and one undo takes them back. A new plan stands in
// place of what an earlier one has left.
func TestLayOut(t *testing.T) {
	b := begin(t)
	ash, birch := b.juno, b.brook
	b.do(samples.LayOut{Tables: b.tables, Each: []samples.New{round(1, 0, ash), round(1, 0, birch), round(2, 42, ash), round(2, 42, birch)}})
	if n := b.count(); n != 4 {
		t.Fatalf("%d samples", n)
	}
	if _, err := b.Undo(); err != nil || b.count() != 0 {
		t.Fatalf("after undo: %d samples, %v", b.count(), err)
	}
	done, err := b.Do(samples.LayOut{Tables: b.tables, Each: []samples.New{round(1, 0, ash), round(2, 42, ash), round(1, 0, birch), round(2, 42, birch)}})
	if err != nil {
		t.Fatal(err)
	}
	first := model.SampleID{ID: done.Documents[0]}
	b.do(samples.Take{Tables: b.tables, Of: []samples.On{{ID: first, Base: 1}}, At: ago(0)})
	single := b.prepared(plain(), ash)
	b.do(samples.LayOut{Tables: b.tables, Each: []samples.New{round(1, 30, ash), round(2, 60, ash)}})
	// what was taken, what is for no plan and what is of others stays
	if n := b.count(); n != 1+1+2+2 || b.read(first).Stage() != samples.Taken || b.read(single).Planned != nil {
		t.Errorf("after another plan of one animal: %d samples", n)
	}
	taken := round(1, 0, ash)
	taken.Sample.Taken = ago(0)
	without := round(1, 0, ash)
	without.Sample.Planned = nil
	for reason, c := range map[string]model.Command{
		"sample.not-planned": samples.LayOut{Tables: b.tables, Each: []samples.New{taken}},
		"sample.none":        samples.LayOut{Tables: b.tables},
	} {
		if got := b.refused(c); got != reason {
			t.Errorf("refused with %q, want %q", got, reason)
		}
	}
	if got := b.refused(samples.LayOut{Tables: b.tables, Each: []samples.New{without}}); got != "sample.not-planned" {
		t.Errorf("for no plan: %q", got)
	}
}

// What is laid out can be given up as long as it was not taken.
func TestCallOff(t *testing.T) {
	b := begin(t)
	done, err := b.Do(samples.LayOut{Tables: b.tables, Each: []samples.New{round(1, 0, b.juno), round(2, 42, b.juno)}})
	if err != nil {
		t.Fatal(err)
	}
	ids := []model.SampleID{{ID: done.Documents[0]}, {ID: done.Documents[1]}}
	b.do(samples.CallOff{Of: ids})
	if b.count() != 0 {
		t.Errorf("%d are left", b.count())
	}
	if _, err := b.Undo(); err != nil || b.count() != 2 {
		t.Fatalf("after undo %d are there: %v", b.count(), err)
	}
	b.do(samples.Take{Tables: b.tables, Of: []samples.On{{ID: ids[0], Base: b.read(ids[0]).Revision}}, At: ago(0)})
	for reason, of := range map[string][]model.SampleID{"sample.not-planned": ids, "sample.twice": {ids[1], ids[1]}, "sample.none": nil} {
		if got := b.refused(samples.CallOff{Of: of}); got != reason {
			t.Errorf("refused with %q, want %q", got, reason)
		}
	}
	single := b.prepared(plain(), b.juno)
	if got := b.refused(samples.CallOff{Of: []model.SampleID{single}}); got != "sample.not-planned" {
		t.Errorf("for no plan: %q", got)
	}
	if _, err := b.Do(samples.CallOff{Of: []model.SampleID{{ID: model.ID{9}}}}); !errors.Is(err, model.ErrNotFound) {
		t.Errorf("one that is not there: %v", err)
	}
}

func TestPlannedIsOneOfItsPlan(t *testing.T) {
	b := begin(t)
	for _, c := range []struct {
		planned samples.Planned
		reason  string
	}{
		{samples.Planned{Day: ago(0).Day(), Round: 0, Of: 2}, "sample.round"}, {samples.Planned{Day: ago(0).Day(), Round: 3, Of: 2}, "sample.round"},
		{samples.Planned{Day: ago(0).Day(), Round: 1, Of: samples.MaxRounds + 1}, "sample.round"}, {samples.Planned{Day: ago(0).Day(), Round: 0, Of: 0}, "sample.round"},
		{samples.Planned{Day: model.NewDay(1999, 12, 31), Round: 1, Of: 1}, "sample.planned-day"}, {samples.Planned{Day: model.NewDay(2200, 1, 1), Round: 1, Of: 1}, "sample.planned-day"},
	} {
		n := round(1, 0, b.juno)
		n.Sample.Planned = &c.planned
		if got := b.refused(samples.LayOut{Tables: b.tables, Each: []samples.New{n}}); got != c.reason {
			t.Errorf("%+v: refused with %q, want %q", c.planned, got, c.reason)
		}
	}
	for _, good := range []samples.Planned{{Day: model.NewDay(2000, 1, 1), Round: 1, Of: 1}, {Day: model.NewDay(2199, 12, 31), Round: samples.MaxRounds, Of: samples.MaxRounds}} {
		n := round(1, 0, b.juno)
		n.Sample.Planned = &good
		b.do(samples.LayOut{Tables: b.tables, Each: []samples.New{n}})
	}
}

// A result between two rounds counts where it is of the same thing, in one of the animals,
// and came after the plan was made.
func TestOvertaken(t *testing.T) {
	mine, other := model.AnimalID{ID: model.ID{7}}, model.AnimalID{ID: model.ID{8}}
	laid := samples.Stored{At: ago(10), Animals: []model.AnimalID{mine, {ID: model.ID{6}}}, Sample: round(2, 30).Sample}
	result := func(of knowledge.AgentID, o samples.Outcome, days int, animal model.AnimalID) samples.Stored {
		s := stored(func(s *samples.Sample) {
			s.For, s.Taken = []knowledge.AgentID{of}, ago(40)
			s.Results = []samples.Result{{Of: of, Outcome: o, At: ago(days)}}
		})
		s.Animals = []model.AnimalID{animal}
		return s
	}
	corrected := result("serpentovirus", samples.Detected, 3, mine)
	corrected.Results = append(corrected.Results, samples.Result{Of: "serpentovirus", Outcome: samples.NotDetected, At: ago(2), Why: "mixed up"})
	taken := laid
	taken.Taken = ago(1)
	for name, c := range map[string]struct {
		of, result samples.Stored
		want       bool
	}{
		"detected since":      {laid, result("serpentovirus", samples.Detected, 3, mine), true},
		"detected before":     {laid, result("serpentovirus", samples.Detected, 11, mine), false},
		"not detected":        {laid, result("serpentovirus", samples.NotDetected, 3, mine), false},
		"another thing":       {laid, result("ferlavirus", samples.Detected, 3, mine), false},
		"another animal":      {laid, result("serpentovirus", samples.Detected, 3, other), false},
		"corrected":           {laid, corrected, false},
		"the round was taken": {taken, result("serpentovirus", samples.Detected, 3, mine), false},
	} {
		if got := samples.Overtaken([]samples.Stored{c.of, c.result}, c.of); (len(got) == 1 && got[0] == "serpentovirus") != c.want || len(got) > 1 {
			t.Errorf("%s: %v", name, got)
		}
	}
}

// The rest of a plan are the samples that were laid out with one, in their rounds.
func TestTray_Plan(t *testing.T) {
	put := func(n, ahead, at int, change func(*samples.Stored)) func(*samples.Stored) {
		return func(s *samples.Stored) {
			s.Sample, s.At = round(n, ahead).Sample, ago(at)
			change(s)
		}
	}
	same := func(*samples.Stored) {}
	tray := followed(t, put(2, 42, 3, same), put(1, 0, 3, same), put(1, 0, 3, func(s *samples.Stored) { s.Taken = ago(0) }), put(2, 42, 4, same),
		put(2, 42, 3, func(s *samples.Stored) { s.For = []knowledge.AgentID{"ferlavirus"} }), put(2, 42, 3, func(s *samples.Stored) { s.Planned.Of = 3 }), func(s *samples.Stored) { s.At = ago(3) })
	if got := numbers(tray.Plan(tray[0])); !slices.Equal(got, []int{2, 1}) {
		t.Errorf("of the first: %v", got)
	}
	for _, i := range []int{2, 6} {
		if got := tray.Plan(tray[i]); got != nil {
			t.Errorf("of number %d: %v", i+1, numbers(got))
		}
	}
}
