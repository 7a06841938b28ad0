package handover_test

import (
	"bytes"
	"encoding/json"
	"reflect"
	"testing"
	"unicode"

	"pgregory.net/rapid"

	"coilward/export/handover"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	record "coilward/model/handover"
	"coilward/model/knowledge"
	"coilward/model/samples"
)

// drawRecord is a record as it may stand, in any script.
func drawRecord(t *rapid.T) record.Record {
	letters := []*unicode.RangeTable{unicode.L, unicode.Nd}
	line := func(name string) string {
		return rapid.StringOfN(rapid.RuneFrom([]rune("<>&\"'\\/=🐍"), letters...), 1, 40, 200).Draw(t, name)
	}
	taken := map[model.ID]bool{{}: true}
	id := func() (id model.ID) {
		for taken[id] {
			copy(id[:], rapid.SliceOfN(rapid.Byte(), 16, 16).Draw(t, "id"))
		}
		taken[id] = true
		return id
	}
	when := func() record.When {
		w := record.When{Day: model.NewDay(2020, 1, 1) + model.Day(rapid.IntRange(0, 3000).Draw(t, "day")), Precision: rapid.SampledFrom([]model.Precision{model.ToMinute, model.ToDay, model.ToMonth, model.ToYear}).Draw(t, "precision")}
		if w.Precision == model.ToMinute {
			w.Minute = rapid.IntRange(0, 24*60-1).Draw(t, "minute")
		}
		return w
	}
	several := func(name string, most int, one func()) {
		for range rapid.IntRange(0, most).Draw(t, name) {
			one()
		}
	}
	r := record.Record{Form: record.Form, Animal: record.Animal{ID: model.AnimalID{ID: id()}, Name: line("name"), Species: "python-regius", Sex: animals.Male, SexHow: animals.HowProbed, Morph: line("morph")},
		Issued: record.Issued{UTC: rapid.Int64Range(0, 1<<40).Draw(t, "issued"), Day: when().Day, Program: "0.8.0", Tables: "ab"},
		Unread: rapid.IntRange(0, 9).Draw(t, "unread"), Courses: rapid.IntRange(0, 9).Draw(t, "courses"), Visits: rapid.IntRange(0, 9).Draw(t, "visits")}
	hands := []model.PersonID{{}}
	several("hands", 3, func() {
		r.Hands = append(r.Hands, record.Hand{ID: model.PersonID{ID: id()}, Name: line("hand")})
		hands = append(hands, r.Hands[len(r.Hands)-1].ID)
	})
	by := func() model.PersonID { return rapid.SampledFrom(hands).Draw(t, "by") }
	several("entries", 5, func() {
		body := care.Weight{Mass: model.Mass{Milligrams: rapid.Int64Range(1000, 5_000_000).Draw(t, "mass")}}
		raw, err := json.Marshal(body)
		if err != nil {
			t.Fatal(err)
		}
		r.Entries = append(r.Entries, record.Entry{ID: model.EntryID{ID: id()}, Kind: care.KindWeight, When: when(), By: by(), Body: raw})
	})
	several("checks", 2, func() {
		r.Checks = append(r.Checks, record.Check{ID: model.EntryID{ID: id()}, When: when(), By: by(), Extent: "full", Stops: []record.Stop{{Stop: "mouth", Look: "seen"}}})
	})
	several("samples", 2, func() {
		at := when()
		r.Samples = append(r.Samples, record.Sample{ID: model.SampleID{ID: id()}, Taken: &at, Material: "oral-swab", For: []knowledge.AgentID{"serpentovirus"}, Lab: line("lab"),
			Results: []record.Result{{Of: "serpentovirus", Outcome: samples.NotDetected, When: when(), Report: line("report")}}})
	})
	several("quarantines", 2, func() {
		r.Quarantines = append(r.Quarantines, record.Quarantine{Arrived: when(), Protocol: "python"})
	})
	several("photos", 2, func() { r.Photos = append(r.Photos, record.Photo{When: when()}) })
	return r
}

// Whatever is told comes back as it was, and what is made of it again is the same file.
func TestAnyRecordComesBack(t *testing.T) {
	k, photo := key(t), photograph(t, 16, 8)
	rapid.Check(t, func(t *rapid.T) {
		c := handover.Contents{Record: drawRecord(t), Paper: append([]byte("%PDF-"), rapid.SliceOf(rapid.Byte()).Draw(t, "paper")...)}
		for range c.Record.Photos {
			c.Photos = append(c.Photos, photo)
		}
		var file, again bytes.Buffer
		if err := handover.Write(&file, c, k); err != nil {
			t.Fatal(err)
		}
		p, err := open(file.Bytes())
		if err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(p.Record, c.Record) {
			t.Fatalf("told %+v, read %+v", c.Record, p.Record)
		}
		if paper, err := p.Paper(); err != nil || !bytes.Equal(paper, c.Paper) {
			t.Fatalf("the paper %q, %v", paper, err)
		}
		c.Record = p.Record
		if err := handover.Write(&again, c, k); err != nil || !bytes.Equal(again.Bytes(), file.Bytes()) {
			t.Fatalf("made again it is another file: %v", err)
		}
	})
}
