package paper_test

import (
	"strings"
	"testing"
	"time"

	"coilward/export/paper"
	"coilward/export/papertest"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/contact"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/samples"
)

// detected opens a positive of serpentovirus in a sample of some animal.
func (k *kept) detected(of model.AnimalID) contact.PositiveID {
	k.t.Helper()
	id := model.SampleID{ID: k.do(samples.Prepare{Tables: k.tables, Each: []samples.New{{Animals: []model.AnimalID{of},
		Sample: samples.Sample{Material: "choanal-swab", For: []knowledge.AgentID{"serpentovirus"}, Taken: k.now()}}}})}
	k.clock.Pass(24 * time.Hour)
	k.do(samples.Enter{Tables: k.tables, At: k.now(), Rows: []samples.Row{{On: samples.On{ID: id, Base: 1}, Found: []samples.Found{{Of: "serpentovirus", Outcome: samples.Detected}}}}})
	return contact.PositiveID{ID: k.do(contact.Open{Tables: k.tables, Sample: id, Agent: "serpentovirus"})}
}

// A positive that is open stands on the record and the emergency card of its animal,
// and of one that shared the room; on those of no other, and on none once it is closed.
func TestAnOpenPositiveIsToldOfItsAnimalAndOfThoseNear(t *testing.T) {
	k := keep(t)
	house := func(name string) model.PlaceID {
		return model.PlaceID{ID: k.do(husbandry.AddPlaces{Branches: []husbandry.Branch{{Place: husbandry.Place{Name: name, Kind: husbandry.Vivarium}}}})}
	}
	mate := model.AnimalID{ID: k.do(animals.Add{Animal: animals.Animal{Name: "Alder"}})}
	far := model.AnimalID{ID: k.do(animals.Add{Animal: animals.Animal{Name: "Rowan"}})}
	room := house("Room")
	for _, move := range []husbandry.Move{{Animal: k.animal, Place: room, At: k.now()}, {Animal: mate, Place: room, At: k.now(), Confirmed: model.Confirmed{"house.shared"}}, {Animal: far, Place: house("Barn"), At: k.now()}} {
		k.do(move)
	}
	k.clock.Pass(72 * time.Hour)
	positive := k.detected(k.animal)
	told := func(animal model.AnimalID) string {
		t.Helper()
		own := *k
		own.animal = animal
		f := own.facts()
		record := paper.Plain(paper.HealthRecord(f, papertest.Keys{}, paper.A4))
		card := paper.Plain(paper.EmergencyCard(f, nil, papertest.Keys{}))
		var found []string
		for _, key := range []string{"paper.positive.own", "paper.positive.near"} {
			switch on, also := strings.Contains(record, key), strings.Contains(card, key); {
			case on != also:
				t.Errorf("%s stands on one paper alone", key)
			case on:
				found = append(found, key)
			}
		}
		return strings.Join(found, " ")
	}
	if own, near, none := told(k.animal), told(mate), told(far); own != "paper.positive.own" || near != "paper.positive.near" || none != "" {
		t.Errorf("own %q, near %q, far %q", own, near, none)
	}
	k.do(contact.Close{ID: positive, Base: 1, Why: contact.Otherwise, Note: "looked at twice", At: k.now()})
	if own, near := told(k.animal), told(mate); own != "" || near != "" {
		t.Errorf("closed: own %q, near %q", own, near)
	}
}

// What was detected stands on the papers before anybody opened a positive for it, and the
// quarantine report says at its top that it was.
func TestWhatWasDetectedIsToldBeforeAPositiveIsOpened(t *testing.T) {
	k, _ := inQuarantine(t)
	id := model.SampleID{ID: k.do(samples.Prepare{Tables: k.tables, Each: []samples.New{{Animals: []model.AnimalID{k.animal},
		Sample: samples.Sample{Material: "choanal-swab", For: []knowledge.AgentID{"serpentovirus"}, Taken: k.now()}}}})}
	k.clock.Pass(24 * time.Hour)
	reported := k.now()
	k.do(samples.Enter{Tables: k.tables, At: reported, Rows: []samples.Row{{On: samples.On{ID: id, Base: 1}, Found: []samples.Found{{Of: "serpentovirus", Outcome: samples.Detected}}}}})
	f := k.facts()
	about := "{Agent=agent.serpentovirus Day=" + reported.Day().String() + "}"
	for key, plain := range map[string]string{"paper.positive.own": paper.Plain(paper.HealthRecord(f, papertest.Keys{}, paper.A4)),
		"paper.quarantine.positive": paper.Plain(paper.QuarantineReport(k.quarantined(), papertest.Keys{}, paper.A4))} {
		if !strings.Contains(plain, key+about) {
			t.Errorf("%s is not said:\n%s", key, plain)
		}
	}
}

// The quarantine stands in the record behind the tests, where there was one.
func TestTheRecordTellsTheQuarantine(t *testing.T) {
	k, _ := inQuarantine(t)
	if said := paper.Plain(paper.HealthRecord(k.facts(), papertest.Keys{}, paper.A4)); !strings.Contains(said, "paper.quarantine.asked") {
		t.Errorf("the quarantine is not told: %s", said)
	}
	if said := paper.Plain(paper.HealthRecord(keep(t).facts(), papertest.Keys{}, paper.A4)); strings.Contains(said, "paper.quarantine") {
		t.Error("one is told that never was")
	}
}
