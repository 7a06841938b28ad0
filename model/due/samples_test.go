package due_test

import (
	"slices"
	"testing"
	"time"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/due"
	"coilward/model/knowledge"
	"coilward/model/people"
	"coilward/model/samples"
)

// sample is a new swab for a virus, as far as it came.
func (w *world) sample(of []model.AnimalID, change func(*samples.Sample)) samples.On {
	w.t.Helper()
	s := samples.Sample{Material: "choanal-swab", For: []knowledge.AgentID{"serpentovirus"}}
	change(&s)
	c := samples.Prepare{Tables: w.tables, Each: []samples.New{{Animals: of, Sample: s}}, Confirmed: model.Confirmed{"day.before-arrival", "sample.kit-expires"}}
	return samples.On{ID: model.SampleID{ID: w.do(c).Documents[0]}, Base: 1}
}

func (w *world) found(of samples.On, ago int) {
	w.t.Helper()
	w.do(samples.Enter{Tables: w.tables, At: w.about(ago).At, Rows: []samples.Row{{On: of, Found: []samples.Found{{Of: "serpentovirus", Outcome: samples.NotDetected}}}}})
}

func (w *world) ago(days int) model.Moment { return w.about(days).At }

// Each stage makes its own job due, by the days of the tables. Sources: two weeks for a kit,
// three days on the way and two weeks at the lab, common practice, no source; 48 hours in a
// fridge, from memory.
func TestSamplesOnTheirWay(t *testing.T) {
	for name, c := range map[string]struct {
		change func(*world, *samples.Sample)
		job    due.Job
		state  due.State
		reason string
	}{
		"a round of a plan":   {func(w *world, s *samples.Sample) { s.Planned = &samples.Planned{Day: w.today(), Round: 1, Of: 3} }, due.TakeSample, due.Later, "due.why.sample-planned"},
		"a round that passed": {func(w *world, s *samples.Sample) { s.Planned = &samples.Planned{Day: w.today() - 15, Round: 1, Of: 3} }, due.TakeSample, due.Later, "due.why.sample-planned"},
		"a kit":               {func(*world, *samples.Sample) {}, due.TakeSample, due.Later, "due.why.sample-take"},
		"taken now":           {func(w *world, s *samples.Sample) { s.Taken = w.ago(0) }, due.PostSample, due.Later, "due.why.sample-post"},
		"taken two days ago":  {func(w *world, s *samples.Sample) { s.Taken = w.ago(2) }, due.PostSample, due.Today, "due.why.sample-post"},
		"taken long ago":      {func(w *world, s *samples.Sample) { s.Taken = w.ago(3) }, due.PostSample, due.Late, "due.why.sample-post"},
		"on its way":          {func(w *world, s *samples.Sample) { s.Taken, s.Posted = w.ago(3), w.ago(3) }, due.AskLab, due.Later, "due.why.parcel"},
		"long on its way":     {func(w *world, s *samples.Sample) { s.Taken, s.Posted = w.ago(4), w.ago(4) }, due.AskLab, due.Today, "due.why.parcel"},
		"two weeks at a lab":  {func(w *world, s *samples.Sample) { s.Taken, s.Arrived = w.ago(14), w.ago(14) }, due.AskLab, due.Later, "due.why.lab-usual"},
		"a day more at a lab": {func(w *world, s *samples.Sample) { s.Taken, s.Arrived = w.ago(15), w.ago(15) }, due.AskLab, due.Today, "due.why.lab-usual"},
	} {
		w := newWorld(t, ball())
		w.list()
		w.sample([]model.AnimalID{w.animal}, func(s *samples.Sample) { c.change(w, s) })
		o := w.one(c.job)
		if o.State != c.state || o.Reasons[0].Key != c.reason || o.Act != due.ActTray || o.Subject != w.animal.Subject() {
			t.Errorf("%s: %+v", name, o)
		}
		if mouth := o.Caution == "stop.mouth.caution"; mouth != (c.job == due.TakeSample) {
			t.Errorf("%s: the caution is %q", name, o.Caution)
		}
	}
}

// A lab that has answered five times is measured by its own days; that it was asked is
// told and puts nothing off; an answer ends it.
func TestAskLab(t *testing.T) {
	w := newWorld(t, ball())
	lab := model.PersonID{ID: w.do(people.Add{Person: people.Person{Name: "The lab", Roles: []people.Role{people.Lab}}}).Documents[0]}
	of := []model.AnimalID{w.animal}
	for i := range 5 {
		w.found(w.sample(of, func(s *samples.Sample) { s.Lab, s.Taken, s.Arrived = lab, w.ago(60+i), w.ago(60+i) }), 56+i) // four days each
	}
	late := w.sample(of, func(s *samples.Sample) { s.Lab, s.Taken, s.Arrived = lab, w.ago(9), w.ago(9) })
	o := w.one(due.AskLab)
	if o.State != due.Late || o.By != w.today()-1 || o.Reasons[0].Key != "due.why.lab-own" || o.Reasons[0].Gaps["Days"].Number != 7 {
		t.Errorf("nine days at a lab that takes four: %+v", o) // 4 + 3 days
	}
	w.do(samples.Ask{Tables: w.tables, Of: []samples.On{late}, Asked: samples.Asked{At: w.ago(0)}})
	asked := w.one(due.AskLab)
	if asked.State != due.Late || len(asked.Reasons) != 2 || asked.Reasons[1].Key != "due.why.lab-asked" || asked.Key != o.Key {
		t.Errorf("asked: %+v", asked)
	}
	w.do(w.answer(asked, due.PutOff, 3, ""))
	if put := w.one(due.AskLab); put.State != due.Later {
		t.Errorf("put off: %+v", put)
	}
	late.Base++
	w.found(late, 0)
	if all := w.of(due.AskLab); len(all) != 0 {
		t.Errorf("answered: %+v", all)
	}
}

// A kit that expires is due by its last day.
func TestKitExpires(t *testing.T) {
	w := newWorld(t, ball())
	w.sample([]model.AnimalID{w.animal}, func(s *samples.Sample) {
		s.Kit.Expires = model.Date{Day: w.today() + 5, Precision: model.ToDay}
	})
	if o := w.one(due.TakeSample); o.By != w.today()+5 || o.Reasons[1].Key != "due.why.kit-expires" {
		t.Errorf("%+v", o)
	}
}

// A pool owes once, by the first that is still here; what was taken of one that left is
// not lost, a kit for it is owed by nobody.
func TestPoolOwesOnce(t *testing.T) {
	w := newWorld(t, ball())
	other := w.add(animals.Animal{Name: "Other", Status: animals.Kept})
	pool := []model.AnimalID{other, w.animal}
	w.list()
	w.sample(pool, func(s *samples.Sample) { s.Taken = w.ago(0) })
	if o := w.one(due.PostSample); o.Subject != other.Subject() {
		t.Errorf("%+v", o)
	}
	gone := func(id model.AnimalID, base uint32) {
		t.Helper()
		w.do(animals.SetStatus{ID: id, Base: base, Status: animals.Sold, Day: model.Date{Day: w.today(), Precision: model.ToDay}})
	}
	gone(other, 1)
	if o := w.one(due.PostSample); o.Subject != w.animal.Subject() {
		t.Errorf("the first left: %+v", o)
	}
	w.sample([]model.AnimalID{w.animal}, func(*samples.Sample) {})
	gone(w.animal, 1)
	if o := w.one(due.PostSample); o.Subject != other.Subject() {
		t.Errorf("both left: %+v", o)
	}
	if all := w.of(due.TakeSample); len(all) != 0 {
		t.Errorf("a kit for one that left: %+v", all)
	}
	if !slices.ContainsFunc(w.list().Items, func(i due.Item) bool { return i.Job == due.PostSample && i.Of.Name == "Other" }) {
		t.Error("it is not told by its name")
	}
}

// A round of a plan is due from its day on; what was detected since the plan was made is
// said of it.
func TestARoundOfAPlan(t *testing.T) {
	w := newWorld(t, ball())
	w.list()
	w.sample([]model.AnimalID{w.animal}, func(s *samples.Sample) { s.Planned = &samples.Planned{Day: w.today() + 42, Round: 2, Of: 3} })
	o := w.one(due.TakeSample)
	if o.From != w.today()+42 || o.By != w.today()+56 || o.State != due.Later || len(o.Reasons) != 1 || o.Reasons[0].Gaps["Round"].Number != 2 || o.Reasons[0].Gaps["Of"].Number != 3 {
		t.Errorf("ahead: %+v", o)
	}
	first := w.sample([]model.AnimalID{w.animal}, func(s *samples.Sample) { s.Taken = w.ago(0) })
	w.do(samples.Enter{Tables: w.tables, At: w.ago(0), Rows: []samples.Row{{On: first, Found: []samples.Found{{Of: "serpentovirus", Outcome: samples.Detected}}}}})
	if o := w.one(due.TakeSample); len(o.Reasons) != 2 || o.Reasons[1].Key != "due.why.plan-overtaken" {
		t.Errorf("after something was detected: %+v", o)
	}
	w.pass(43 * 24 * time.Hour)
	if o := w.one(due.TakeSample); o.State == due.Late || o.From != w.today()-1 {
		t.Errorf("a day after its day: %+v", o)
	}
}
