package due_test

import (
	"slices"
	"testing"
	"time"

	"coilward/model"
	"coilward/model/due"
	"coilward/model/knowledge"
	"coilward/model/welfare"
)

// watch notes a visit without touching, of so many days ago.
func (w *world) watch(ago int, breaths *welfare.Breaths, signs ...knowledge.SignID) {
	w.t.Helper()
	o := welfare.Observation{Setting: knowledge.Untouched, Signs: signs, Breaths: breaths, None: len(signs) == 0 && breaths == nil}
	w.do(welfare.Observe{Tables: w.tables, About: w.about(ago), Observation: o})
}

func keys(o due.Obligation) (all []string) {
	for _, r := range o.Reasons {
		all = append(all, r.Key)
	}
	return all
}

// Open mouth on a visit is an emergency until it was watched again, untouched, and breathed
// calmly; then a vet's answer stands for it, and a month on it is no longer due.
func TestBreathing_OfAVisitIsDue(t *testing.T) {
	w := newWorld(t, ball())
	if due := w.of(due.SeeVet); len(due) > 0 {
		t.Fatalf("before: %+v", due)
	}
	w.watch(0, nil, knowledge.OpenMouth)
	i := w.one(due.SeeVet)
	if i.Level != knowledge.EmergencyToday || i.State != due.Alert || i.By != w.today() || i.Since != w.today() || i.Act != due.ActVet || i.Brief == nil || !slices.Equal(keys(i.Obligation), []string{"due.why.breathing-open"}) {
		t.Errorf("open mouth: %+v", i)
	}
	if r := due.Worst(w.list().BySubject()[w.animal.Subject()]); r != knowledge.EmergencyToday {
		t.Errorf("the animal's level: %v", r)
	}
	w.pass(time.Hour)
	w.watch(0, nil)
	i = w.one(due.SeeVet)
	within := model.Day(w.tables.Value(knowledge.ValueVetWithin))
	if i.Level != knowledge.VetWithinDays || i.State != due.Alert || i.By != w.today()+within || !slices.Equal(keys(i.Obligation), []string{"due.why.breathing"}) {
		t.Errorf("calm since: %+v", i)
	}
	w.do(due.Respond{Tables: w.tables, Key: i.Key, What: due.DoneElsewhere, Why: "seen by the vet"})
	if i = w.one(due.SeeVet); i.State != due.Answered {
		t.Errorf("answered: %+v", i)
	}
	w.pass(30 * 24 * time.Hour)
	if all := w.of(due.SeeVet); len(all) > 0 {
		t.Errorf("a month on: %+v", all)
	}
}

func TestBreathing_HeavyOrFarAboveItsOwn(t *testing.T) {
	w := newWorld(t, ball())
	w.watch(3, nil, "heavy-breathing")
	if i := w.one(due.SeeVet); i.Level != knowledge.VetWithinDays || i.Since != w.today()-3 || !slices.Equal(keys(i.Obligation), []string{"due.why.breathing"}) {
		t.Errorf("heavy: %+v", i)
	}
	w = newWorld(t, ball())
	for ago := range 3 {
		w.watch(380-ago, &welfare.Breaths{Count: 4, Seconds: 120})
	}
	w.watch(1, &welfare.Breaths{Count: 9, Seconds: 120})
	if i := w.one(due.SeeVet); i.Level != knowledge.VetWithinDays || i.Since != w.today()-1 || !slices.Equal(keys(i.Obligation), []string{"due.why.breaths-far"}) {
		t.Errorf("far above its own of a year ago: %+v", i)
	}
	if slices.ContainsFunc(w.of(due.Offer), func(i due.Item) bool { return i.Caution != "due.caution.ask-vet" }) {
		t.Error("food is offered without asking the vet")
	}
}
