package due_test

import (
	"strings"
	"testing"

	"coilward/model"
	"coilward/model/due"
	"coilward/model/knowledge"
	"coilward/model/quarantine"
	"coilward/model/samples"
	"coilward/model/storetest"
)

// A newcomer of which an entry cannot be read is told as unread, once; what the others
// owe stands as it did.
func TestAnUnreadableNewcomerHidesNoOther(t *testing.T) {
	w := newWorld(t, ball())
	other := ball()
	other.Name = "Ash"
	w.clock.Set(storetest.Start().AddDate(0, 0, -400))
	ids := []model.AnimalID{w.animal, w.add(other)}
	w.clock.Set(storetest.Start())
	for _, id := range ids {
		w.do(quarantine.Begin{Tables: w.tables, Animal: id, Arrived: w.now(), Protocol: "python", Confirmed: confirmed})
	}
	owed := func(of model.AnimalID) (planned int) {
		for _, i := range w.list().Items {
			if i.Subject == of.Subject() && strings.HasPrefix(i.Cause, "quarantine/") {
				planned++
			}
		}
		return planned
	}
	before := owed(ids[0])
	if before == 0 || owed(ids[1]) != before {
		t.Fatalf("nothing is wrong: %d, %d", before, owed(ids[1]))
	}
	bad := model.Document{Type: model.TypeEntry, Kind: "weight", Version: 1, ID: model.ID{0: 7}, At: w.now(), Subjects: []model.Subject{ids[1].Subject()}, Body: []byte(`{"mass":"x"}`)}
	w.do(storetest.Put{Documents: []model.Document{bad}})
	for _, book := range []*due.Book{w.book, due.NewBook(w.tables)} {
		w.book = book
		if got := owed(ids[0]); got != before {
			t.Errorf("the other owes %d, want %d", got, before)
		}
		l := w.list()
		if len(l.Unread) != 1 || l.Unread[0].Of.Subject != ids[1].Subject() || l.Unread[0].Err == nil || owed(ids[1]) != 0 {
			t.Errorf("unread: %+v", l.Unread)
		}
	}
}

// A sample that cannot be read is told of its animal, and hides no other sample.
func TestAnUnreadableSampleHidesNoOther(t *testing.T) {
	w := newWorld(t, ball())
	other := ball()
	other.Name = "Ash"
	id := w.add(other)
	w.do(samples.Prepare{Tables: w.tables, Each: []samples.New{{Animals: []model.AnimalID{id}, Sample: samples.Sample{Material: "choanal-swab", For: []knowledge.AgentID{"serpentovirus"}, Taken: w.now()}}}, Confirmed: confirmed})
	if n := len(w.of(due.PostSample)); n != 1 {
		t.Fatalf("nothing is wrong: %d to post", n)
	}
	w.do(storetest.Put{Documents: []model.Document{{Type: model.TypeSample, Version: 1, ID: model.ID{0: 7}, At: w.now(), Subjects: []model.Subject{w.animal.Subject()}, Body: []byte(`{"for":"x"}`)}}})
	for _, book := range []*due.Book{w.book, due.NewBook(w.tables)} {
		w.book = book
		l := w.list()
		if n := len(w.of(due.PostSample)); n != 1 || len(l.Unread) != 1 || l.Unread[0].Of.Subject != w.animal.Subject() {
			t.Errorf("%d to post, unread: %+v", n, l.Unread)
		}
	}
}

// A quarantine that cannot be read is told of its animal, and hides nothing of what other
// newcomers owe; one whose animal is not known is told without a name.
func TestAnUnreadableQuarantineHidesNoOther(t *testing.T) {
	w := newWorld(t, ball())
	other := ball()
	other.Name = "Ash"
	w.clock.Set(storetest.Start().AddDate(0, 0, -400))
	id := w.add(other)
	w.clock.Set(storetest.Start())
	w.do(quarantine.Begin{Tables: w.tables, Animal: id, Arrived: w.now(), Protocol: "python", Confirmed: confirmed})
	looks := func() (n int) {
		for _, i := range w.of(due.MiteLook) {
			if i.Subject == id.Subject() && strings.HasPrefix(i.Cause, "quarantine/") {
				n++
			}
		}
		return n
	}
	before := looks()
	if before == 0 {
		t.Fatal("nothing is wrong, and no look is due")
	}
	for n, subjects := range [][]model.Subject{{w.animal.Subject()}, nil} {
		w.do(storetest.Put{Documents: []model.Document{{Type: model.TypeQuarantine, Version: 1, ID: model.ID{byte(n + 1)}, At: w.now(), Subjects: subjects, Body: []byte(`[]`)}}})
	}
	for _, book := range []*due.Book{w.book, due.NewBook(w.tables)} {
		w.book = book
		l := w.list()
		if len(l.Unread) != 2 || !l.Unread[0].Of.Subject.ID.IsZero() || l.Unread[1].Of.Subject != w.animal.Subject() || looks() != before {
			t.Errorf("%d looks, want %d; unread: %+v", looks(), before, l.Unread)
		}
	}
}
