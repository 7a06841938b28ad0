package due_test

import (
	"slices"
	"testing"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/contact"
	"coilward/model/due"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/samples"
)

// What was detected is an alert until a positive is opened or it is answered; the list of
// an open one is due thing by thing until it is closed.
func TestPositive(t *testing.T) {
	w := newWorld(t, ball())
	w.list()
	on := w.sample([]model.AnimalID{w.animal}, func(s *samples.Sample) { s.Taken = w.ago(9) })
	w.do(samples.Enter{Tables: w.tables, At: w.ago(3), Rows: []samples.Row{{On: on, Found: []samples.Found{{Of: "serpentovirus", Outcome: samples.Detected}}}}})
	o := w.one(due.Positive)
	if o.State != due.Alert || o.Act != due.ActPositive || o.Reasons[0].Key != "due.why.detected" || o.Subject != w.animal.Subject() {
		t.Errorf("detected: %+v", o)
	}
	if l := w.list(); !l.Positives.Detected[w.animal] {
		t.Errorf("not opened, marked: %+v", l.Positives)
	}
	notNeeded := func(o due.Item) {
		t.Helper()
		w.refused(due.Respond{Tables: w.tables, Key: o.Key, What: due.NotNeeded, Why: "looks fine"}, "due.positive")
		if slices.Contains(due.Answers(o.Obligation), due.NotNeeded) {
			t.Error("a positive is offered to be called not needed")
		}
	}
	notNeeded(o)
	w.do(due.Respond{Tables: w.tables, Key: o.Key, What: due.PutOff, Until: w.today() + 2, Why: "the vet rings back"})
	if o := w.one(due.Positive); o.State != due.Answered {
		t.Errorf("answered: %+v", o)
	}
	positive := contact.PositiveID{ID: w.do(contact.Open{Tables: w.tables, Sample: on.ID, Agent: "serpentovirus"}).Documents[0]}
	o = w.one(due.Positive)
	if o.State != due.Alert || o.Level != knowledge.VetWithinDays || o.Reasons[0].Key != "due.why.positive-next" || o.Reasons[0].Gaps["Act"].Text != "positive.act.stop-moves" {
		t.Errorf("open: %+v", o)
	}
	notNeeded(o)
	if l := w.list(); !l.Positives.Detected[w.animal] || len(l.Positives.Near) != 0 {
		t.Errorf("marked: %+v", l.Positives)
	}
	// It stays a matter for the vet until the vet was called, whatever else was done.
	called := false
	for i, act := range w.tables.PositiveActs() {
		w.do(contact.Act{Tables: w.tables, ID: positive, Base: uint32(i + 1), Act: act.ID, At: w.now()})
		called = called || act.ID == contact.CallVet
		if o := w.one(due.Positive); (o.Level == knowledge.VetWithinDays) == called {
			t.Errorf("%s was done, the vet called is %v: %+v", act.ID, called, o)
		}
	}
	if o := w.one(due.Positive); o.Reasons[0].Key != "due.why.positive-close" {
		t.Errorf("all done: %+v", o)
	}
	notNeeded(w.one(due.Positive))
	w.do(samples.Correct{Tables: w.tables, ID: on.ID, Base: 2, Result: samples.Result{Of: "serpentovirus", Outcome: samples.NotDetected, At: w.now(), Why: "mixed up"}})
	if o := w.one(due.Positive); o.Reasons[0].Key != "due.why.positive-corrected" {
		t.Errorf("corrected: %+v", o)
	}
	w.do(contact.Close{ID: positive, Base: uint32(len(w.tables.PositiveActs()) + 1), Why: contact.Corrected, At: w.now()})
	if all := w.of(due.Positive); len(all) != 0 {
		t.Errorf("closed: %+v", all)
	}
}

// Who is near is told anew with each move, also where only places change.
func TestPositive_WhoIsNearIsToldAnew(t *testing.T) {
	w := newWorld(t, ball())
	w.list()
	rooms := []model.PlaceID{}
	for _, name := range []string{"Loft", "Cellar"} {
		room := model.PlaceID{ID: w.do(husbandry.AddPlaces{Branches: []husbandry.Branch{{Place: husbandry.Place{Name: name, Kind: husbandry.Room}}}}).Documents[0]}
		for _, box := range []string{"One", "Two"} {
			rooms = append(rooms, model.PlaceID{ID: w.do(husbandry.AddPlaces{Parent: room, Branches: []husbandry.Branch{{Place: husbandry.Place{Name: name + " " + box, Kind: husbandry.Tub}}}}).Documents[0]})
		}
	}
	other := w.add(animals.Animal{Name: "Other", Status: animals.Kept})
	yes := model.Confirmed{"day.before-arrival"}
	w.do(husbandry.Move{Animal: w.animal, Place: rooms[0], At: w.ago(20), Confirmed: yes})
	w.do(husbandry.Move{Animal: other, Place: rooms[2], At: w.ago(20), Confirmed: yes})
	on := w.sample([]model.AnimalID{w.animal}, func(s *samples.Sample) { s.Taken = w.ago(9) })
	w.do(samples.Enter{Tables: w.tables, At: w.ago(3), Rows: []samples.Row{{On: on, Found: []samples.Found{{Of: "serpentovirus", Outcome: samples.Detected}}}}})
	w.do(contact.Open{Tables: w.tables, Sample: on.ID, Agent: "serpentovirus"})
	if near := w.list().Positives.Near; near[other] {
		t.Error("near in another room")
	}
	w.do(husbandry.Move{Animal: other, Place: rooms[1], At: w.ago(1), Confirmed: yes})
	if near := w.list().Positives.Near; !near[other] {
		t.Error("not near in the same room")
	}
}

// That it may be a false alarm is never said where a sign of the airway is open: it would
// comfort where the vet is needed.
func TestPositive_NoComfortWithSignsOfTheAirway(t *testing.T) {
	w := newWorld(t, ball())
	w.list()
	on := w.sample([]model.AnimalID{w.animal}, func(s *samples.Sample) { s.Taken, s.For = w.ago(9), []knowledge.AgentID{"ferlavirus"} })
	w.do(samples.Enter{Tables: w.tables, At: w.ago(3), Rows: []samples.Row{{On: on, Found: []samples.Found{{Of: "ferlavirus", Outcome: samples.Detected}}}}})
	doubt := func() bool {
		t.Helper()
		return slices.ContainsFunc(w.one(due.Positive).Reasons, func(l model.Label) bool { return l.Key == "due.why.detected-doubt" })
	}
	if !doubt() {
		t.Error("it is not said that it may be a false alarm")
	}
	w.watch(0, nil, "heavy-breathing")
	if doubt() {
		t.Error("that it may be a false alarm is said beside heavy breathing on a visit")
	}
	if _, err := w.c.Undo(); err != nil || !doubt() {
		t.Errorf("undone: %v", err)
	}
	w.check(1, false, map[knowledge.StopID]knowledge.FindingID{"airway": "airway-discharge"})
	if doubt() {
		t.Error("that it may be a false alarm is said beside an open sign of the airway")
	}
}
