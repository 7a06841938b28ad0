package quarantine_test

import (
	"errors"
	"testing"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/quarantine"
	"coilward/model/storetest"
)

// A quarantine that cannot be read, or that a newer version wrote, is told by its header;
// the others are read.
func TestTheLegibleAndTheOthers(t *testing.T) {
	w := begin(t)
	other := w.add(animals.Animal{Name: "Ash"})
	kept := w.do(w.begun(w.ago(3), "python"))
	for id, d := range map[byte]model.Document{1: {Version: 1, Body: []byte(`[]`)}, 2: {Version: quarantine.Version + 1, Body: []byte(`{}`)}} {
		d.Type, d.ID, d.At, d.Subjects = model.TypeQuarantine, model.ID{id}, w.ago(5), []model.Subject{other.Subject()}
		w.do(storetest.Put{Documents: []model.Document{d}})
	}
	newer := 0
	err := w.c.View(func(v model.View) error {
		for _, read := range []func() ([]quarantine.Stored, []*quarantine.Illegible, error){
			func() ([]quarantine.Stored, []*quarantine.Illegible, error) { return quarantine.Legible(v) },
			func() ([]quarantine.Stored, []*quarantine.Illegible, error) { return quarantine.LegibleOf(v, other) },
		} {
			all, unread, err := read()
			if err != nil || len(unread) != 2 {
				t.Fatalf("%d unread, %v", len(unread), err)
			}
			for _, s := range all {
				if s.ID.ID != kept || s.Animal != w.animal {
					t.Errorf("read: %+v", s)
				}
			}
			for _, i := range unread {
				if i.Animal != other || i.Arrived != w.ago(5) || i.Error() == "" {
					t.Errorf("not read: %+v", i)
				}
				if errors.Is(i, model.ErrNewer) {
					newer++
				}
			}
		}
		if all, _, err := quarantine.Legible(v); err != nil || len(all) != 1 {
			t.Errorf("%d are read, %v", len(all), err)
		}
		var illegible *quarantine.Illegible
		if all, err := quarantine.All(v); !errors.As(err, &illegible) || all != nil {
			t.Errorf("all: %v, %v", all, err)
		}
		if all, err := quarantine.Of(v, w.animal); err != nil || len(all) != 1 {
			t.Errorf("of the first: %v, %v", all, err)
		}
		return nil
	})
	if err != nil || newer != 2 {
		t.Errorf("%d of a newer version, want 2; %v", newer, err)
	}
}

// Where one cannot be read it may be open: no other is begun, and no protocol of the
// keeper's own goes; what the table says comes back as ever.
func TestWhatMayRestOnOneThatCannotBeRead(t *testing.T) {
	w := begin(t)
	python, _ := w.tables.Protocol("python")
	python.Days = 100
	changed := w.do(quarantine.ChangeProtocol{Tables: w.tables, Own: quarantine.Own{Protocol: python}})
	python.ID = ""
	mine := w.do(quarantine.ChangeProtocol{Tables: w.tables, Own: quarantine.Own{Name: "Mine", Protocol: python}})
	w.do(storetest.Put{Documents: []model.Document{{Type: model.TypeQuarantine, Version: 1, ID: model.ID{1}, At: w.ago(5), Subjects: []model.Subject{w.animal.Subject()}, Body: []byte(`[]`)}}})
	w.refused(w.begun(w.ago(3), "python"), "arrival", "quarantine.unread", model.Mend)
	w.refused(quarantine.ResetProtocol{Document: mine}, "protocol", "protocol.used-unread", model.Mend)
	w.do(quarantine.ResetProtocol{Document: changed})
	other := w.begun(w.ago(3), "python")
	other.Animal = w.add(animals.Animal{Name: "Ash"})
	w.do(other)
	w.do(storetest.Remove{IDs: []model.ID{{1}}})
	w.do(quarantine.ResetProtocol{Document: mine})
	w.do(w.begun(w.ago(3), "python"))
}
