package registry_test

import (
	"errors"
	"testing"

	"coilward/assets"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/contact"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/quarantine"
	"coilward/model/samples"
	"coilward/model/storetest"
)

// These packages know an animal's status by its frozen values alone: each refuses, or
// asks about, one that has left, and only such.
func TestWhoIsHereIsKnownTheSameEverywhere(t *testing.T) {
	tables := tablesOf(t)
	for _, status := range append(animals.Statuses(), "") {
		c, clock := storetest.New(t)
		id, place := model.AnimalID{ID: model.ID{1}}, model.PlaceID{ID: model.ID{2}}
		at := model.Moment{UTC: clock.Now().Unix(), Precision: model.ToMinute}
		animal := model.Document{Type: model.TypeAnimal, ID: id.ID}
		tub := model.Document{Type: model.TypePlace, ID: place.ID, At: at}
		if err := errors.Join(animal.Encode(animals.Version, animals.Animal{Name: "Kestrel", Status: status}), tub.Encode(1, husbandry.Place{Name: "Tub", Kind: husbandry.Tub})); err != nil {
			t.Fatal(err)
		}
		if _, err := c.Do(storetest.Put{Documents: []model.Document{animal, tub}}); err != nil {
			t.Fatal(err)
		}
		for _, command := range []model.Command{
			care.Feed{About: care.About{Animal: id, At: at}, Meal: care.Meal{Outcome: care.Refused}},
			husbandry.Move{Animal: id, Place: place, At: at},
			quarantine.Begin{Tables: tables, Animal: id, Arrived: at, Protocol: "long"},
			samples.Prepare{Tables: tables, Each: []samples.New{{Animals: []model.AnimalID{id}, Sample: samples.Sample{Material: "choanal-swab", For: []knowledge.AgentID{"serpentovirus"}, Taken: at}}},
				Confirmed: model.Confirmed{"sample.over-weekend", "sample.kept-long"}},
		} {
			_, err := c.Do(command)
			var refused *model.Refusal
			if err != nil && !errors.As(err, &refused) {
				t.Fatal(command.Name(), err)
			}
			if (err == nil) != status.Here() || refused != nil && refused.Reason != "animal.gone" && refused.Reason != "animal.gone-asks" {
				t.Errorf("%s of an animal with status %q: %v", command.Name(), status, err)
			}
		}
	}
}

// Contact knows a sample's results by their frozen values alone: the result that counts
// of a thing is for it the one that counts for samples, and "detected" the same word.
func TestTheResultThatCountsIsTheSameForAPositive(t *testing.T) {
	tables := tablesOf(t)
	const agent, other = knowledge.AgentID("serpentovirus"), knowledge.AgentID("cryptosporidium-serpentis")
	detected := 0
	try := func(results ...samples.Result) {
		t.Helper()
		c, clock := storetest.New(t)
		at := model.Moment{UTC: clock.Now().Unix(), Precision: model.ToMinute}
		animal := model.Document{Type: model.TypeAnimal, ID: model.ID{1}}
		sample := model.Document{Type: model.TypeSample, ID: model.ID{3}, At: at, Subjects: []model.Subject{{Kind: model.SubjectAnimal, ID: animal.ID}}}
		body := samples.Sample{Material: "choanal-swab", For: []knowledge.AgentID{agent, other}, Taken: at, Results: results}
		if err := errors.Join(animal.Encode(animals.Version, animals.Animal{Name: "Kestrel"}), sample.Encode(samples.Version, body)); err != nil {
			t.Fatal(err)
		}
		if _, err := c.Do(storetest.Put{Documents: []model.Document{animal, sample}}); err != nil {
			t.Fatal(err)
		}
		_, err := c.Do(contact.Open{Tables: tables, Sample: model.SampleID{ID: sample.ID}, Agent: agent})
		if err != nil && !errors.As(err, new(*model.Refusal)) {
			t.Fatal(err)
		}
		counts := body.Outcome(agent) == samples.Detected
		if (err == nil) != counts {
			t.Errorf("results %v: detected is %v, opening a positive says %v", results, counts, err)
		}
		if counts {
			detected++
		}
	}
	try()
	for _, last := range samples.Outcomes() {
		try(samples.Result{Of: agent, Outcome: last})
		try(samples.Result{Of: other, Outcome: last})
		for _, first := range samples.Outcomes() {
			try(samples.Result{Of: agent, Outcome: first}, samples.Result{Of: agent, Outcome: last, Why: "run again"})
			try(samples.Result{Of: agent, Outcome: first}, samples.Result{Of: other, Outcome: last})
		}
	}
	if detected == 0 {
		t.Error("nothing was detected")
	}
}

func tablesOf(t *testing.T) *knowledge.Tables {
	t.Helper()
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	return tables
}
