package samples_test

import (
	"testing"

	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/knowledge"
	"coilward/model/samples"
)

// stored is a sample that was prepared thirty days ago.
func stored(change func(*samples.Sample)) samples.Stored {
	s := samples.Stored{At: ago(30), Sample: samples.Sample{Material: swab, For: []knowledge.AgentID{serpento, crypto}}}
	change(&s.Sample)
	if !s.Taken.IsZero() {
		s.At = s.Taken
	}
	return s
}

// Where a sample stands, since when and what is to be done next. Sources: 48 hours in a
// fridge, from memory; faeces under 24 hours old, common practice, no source; two weeks at the lab, two weeks until a kit is used and three days
// on the way, common practice, no source.
func TestWay(t *testing.T) {
	tables := begin(t).tables
	found := func(at model.Moment, of ...knowledge.AgentID) (all []samples.Result) {
		for _, a := range of {
			all = append(all, samples.Result{Of: a, Outcome: samples.NotDone, At: at})
		}
		return all
	}
	for name, c := range map[string]struct {
		s    samples.Stored
		took []int
		want samples.Way
	}{
		"to take":         {stored(func(*samples.Sample) {}), nil, samples.Way{Stage: samples.ToTake, Since: ago(30).Day(), Mark: ago(16).Day(), Within: 14, Late: true, Next: samples.ActTake}},
		"taken":           {stored(func(s *samples.Sample) { s.Taken = ago(2) }), nil, samples.Way{Stage: samples.Taken, Since: ago(2).Day(), Mark: ago(0).Day(), Within: 2, Next: samples.ActPost}},
		"taken long ago":  {stored(func(s *samples.Sample) { s.Taken = ago(3) }), nil, samples.Way{Stage: samples.Taken, Since: ago(3).Day(), Mark: ago(1).Day(), Within: 2, Late: true, Next: samples.ActPost}},
		"faeces":          {stored(func(s *samples.Sample) { s.Material, s.Taken = "faeces", ago(1) }), nil, samples.Way{Stage: samples.Taken, Since: ago(1).Day(), Mark: ago(0).Day(), Within: 1, Next: samples.ActPost}},
		"faeces, old":     {stored(func(s *samples.Sample) { s.Material, s.Taken = "faeces", ago(2) }), nil, samples.Way{Stage: samples.Taken, Since: ago(2).Day(), Mark: ago(1).Day(), Within: 1, Late: true, Next: samples.ActPost}},
		"faeces, sent":    {stored(func(s *samples.Sample) { s.Material, s.Taken, s.Posted = "faeces", ago(3), ago(2) }), nil, samples.Way{Stage: samples.Sent, Since: ago(2).Day(), Mark: ago(-1).Day(), Within: 3, Next: samples.ActArrive}},
		"sent":            {stored(func(s *samples.Sample) { s.Taken, s.Posted = ago(9), ago(3) }), nil, samples.Way{Stage: samples.Sent, Since: ago(3).Day(), Mark: ago(0).Day(), Within: 3, Next: samples.ActArrive}},
		"long on its way": {stored(func(s *samples.Sample) { s.Taken, s.Posted = ago(9), ago(4) }), nil, samples.Way{Stage: samples.Sent, Since: ago(4).Day(), Mark: ago(1).Day(), Within: 3, Late: true, Next: samples.ActAskLab}},
		"at the lab":      {stored(func(s *samples.Sample) { s.Taken, s.Arrived = ago(19), ago(14) }), []int{1, 1, 1, 1}, samples.Way{Stage: samples.AtLab, Since: ago(14).Day(), Mark: ago(0).Day(), Within: 14, Next: samples.ActEnter}},
		"late by its own": {stored(func(s *samples.Sample) { s.Taken, s.Arrived = ago(19), ago(9) }), []int{4, 5, 5, 5, 6}, samples.Way{Stage: samples.AtLab, Since: ago(9).Day(), Mark: ago(1).Day(), Within: 8, Own: true, Late: true, Next: samples.ActAskLab}},
		"asked":           {stored(func(s *samples.Sample) { s.Taken, s.Arrived, s.Asked = ago(19), ago(15), []samples.Asked{{At: ago(1)}} }), nil, samples.Way{Stage: samples.AtLab, Since: ago(15).Day(), Mark: ago(1).Day(), Within: 14, Late: true, Next: samples.ActAskLab}},
		"half answered":   {stored(func(s *samples.Sample) { s.Taken, s.Posted, s.Results = ago(9), ago(5), found(ago(1), serpento) }), nil, samples.Way{Stage: samples.AtLab, Since: ago(5).Day(), Mark: ago(-9).Day(), Within: 14, Next: samples.ActEnter}},
		"answered": {stored(func(s *samples.Sample) {
			s.Taken, s.Results = ago(9), append(found(ago(4), serpento, crypto), found(ago(1), crypto)...)
		}), nil, samples.Way{Stage: samples.Reported, Since: ago(4).Day()}},
		"void": {stored(func(s *samples.Sample) { s.Taken, s.Void = ago(9), &samples.Void{At: ago(2), Why: samples.Lost} }), nil, samples.Way{Stage: samples.Voided, Since: ago(2).Day()}},
	} {
		if got := c.s.Way(tables, c.took, ago(0).Day()); got != c.want {
			t.Errorf("%s: %+v, want %+v", name, got, c.want)
		}
	}
}

// A lab's days are counted from the arrival, else from the posting, to the last first result.
func TestPastOf(t *testing.T) {
	lab, other := model.PersonID{ID: model.ID{1}}, model.PersonID{ID: model.ID{2}}
	sample := func(lab model.PersonID, posted, arrived int, results ...samples.Result) samples.Stored {
		return stored(func(s *samples.Sample) {
			s.Lab, s.Taken, s.Posted, s.Results = lab, ago(40), ago(posted), results
			if arrived >= 0 {
				s.Arrived = ago(arrived)
			}
		})
	}
	at := func(of knowledge.AgentID, days int) samples.Result {
		return samples.Result{Of: of, Outcome: samples.NotDetected, At: ago(days)}
	}
	all := []samples.Stored{
		sample(lab, 30, 28, at(serpento, 20), at(crypto, 18)),                  // 10
		sample(lab, 30, -1, at(crypto, 25), at(serpento, 25)),                  // 5
		sample(lab, 30, 28, at(serpento, 20)),                                  // not all is in
		sample(lab, 30, 28, at(serpento, 20), at(crypto, 20), at(serpento, 1)), // 8: put right later
		sample(other, 30, 28, at(serpento, 20), at(crypto, 18)),
		sample(model.PersonID{}, 30, 28, at(serpento, 20), at(crypto, 18)),
	}
	got := samples.PastOf(all, lab)
	if len(got) != 3 || got[0] != 10 || got[1] != 5 || got[2] != 8 {
		t.Errorf("%v, want 10, 5 and 8", got)
	}
	if none := samples.PastOf(all, model.PersonID{}); none != nil {
		t.Errorf("of no lab: %v", none)
	}
}

// As days pass, a sample that nobody touches only gets later, and never changes its
// stage; to ask the lab is next only of what is late and has left.
func TestWayProperty(t *testing.T) {
	tables := begin(t).tables
	rapid.Check(t, func(r *rapid.T) {
		s := stored(func(s *samples.Sample) {
			days := rapid.IntRange(0, 30).Draw(r, "taken")
			for _, step := range []*model.Moment{&s.Taken, &s.Posted, &s.Arrived} {
				if !rapid.Bool().Draw(r, "went on") {
					break
				}
				*step = ago(days)
				days = rapid.IntRange(0, days).Draw(r, "days")
			}
		})
		took := rapid.SliceOfN(rapid.IntRange(0, 40), 0, 8).Draw(r, "took")
		day := ago(rapid.IntRange(0, 30).Draw(r, "day")).Day()
		before, after := s.Way(tables, took, day), s.Way(tables, took, day+model.Day(rapid.IntRange(0, 60).Draw(r, "later")))
		if before.Late && !after.Late || before.Stage != after.Stage || before.Mark != after.Mark {
			r.Errorf("%+v, then %+v", before, after)
		}
		if after.Late != (after.Next == samples.ActAskLab) && (after.Stage == samples.Sent || after.Stage == samples.AtLab) || after.Next == samples.ActAskLab && s.Posted.IsZero() && s.Arrived.IsZero() {
			r.Errorf("next %s: %+v", after.Next, after)
		}
	})
}
