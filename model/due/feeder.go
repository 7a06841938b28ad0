package due

import (
	"slices"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/feeders"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/medicine"
	"coilward/model/newcomers"
	"coilward/model/samples"
)

// Feeder is one source of obligations: a pure function from facts.
type Feeder struct {
	Name string
	Jobs []Job // that it can make due
	// Feed is of what is known of an animal, Place of a place in which somebody
	// lives, Instrument of an instrument in use, Sample of one on its way, with the
	// days that its lab took before, Detected of what was detected; a feeder has one of
	// them.
	Feed       func(t *knowledge.Tables, f Facts) []Obligation
	Place      func(t *knowledge.Tables, h *husbandry.House, id model.PlaceID, cleanings []husbandry.Cleaned) []Obligation
	Instrument func(t *knowledge.Tables, i husbandry.StoredInstrument, checks []husbandry.Checked) []Obligation
	// Newcomer is of an animal in quarantine, Room of a room with those who live there.
	Newcomer func(t *knowledge.Tables, n newcomers.Newcomer, today model.Day) []Obligation
	Room     func(t *knowledge.Tables, r room) []Obligation
	Sample   func(t *knowledge.Tables, s samples.Stored, took []int, today model.Day) []Obligation
	Detected func(t *knowledge.Tables, d Detection) []Obligation
	// Batch is of one of feeders.
	Batch func(t *knowledge.Tables, s feeders.Standing, today model.Day) []Obligation
	// Course is of a course of medicine that goes on; last is the last weighing that can be
	// gone by, told where a fixed volume is given.
	Course func(t *knowledge.Tables, s medicine.Stored, last care.Weighed, now model.Moment) []Obligation
	// Visit is of a visit to a vet, with the number of questions that are open.
	Visit func(t *knowledge.Tables, s medicine.StoredVisit, open int, now model.Moment) []Obligation
}

// Feeders are all of them. What is due is what they say, and nothing else.
func Feeders() []Feeder {
	return []Feeder{
		{Name: "findings", Jobs: []Job{SeeVet, LookAgain}, Feed: findings},
		{Name: "loss of weight", Jobs: []Job{SeeVet}, Feed: loss},
		{Name: "young without a meal", Jobs: []Job{SeeVet}, Feed: unfed},
		{Name: "breathing on visits", Jobs: []Job{SeeVet}, Feed: breathing},
		{Name: "sheds", Jobs: []Job{ShedLook}, Feed: sheds},
		{Name: "cycles of shedding", Jobs: []Job{ShedLook}, Feed: cycles},
		{Name: "faeces missed", Jobs: []Job{LookAgain}, Feed: missed},
		{Name: "weights", Jobs: []Job{Weigh}, Feed: weights},
		{Name: "meals", Jobs: []Job{Offer}, Feed: meals},
		{Name: "checks", Jobs: []Job{Check}, Feed: checks},
		{Name: "power cuts", Jobs: []Job{ColdLook}, Feed: cold},
		{Name: "looks for mites", Jobs: []Job{MiteLook}, Feed: mites},
		{Name: "doses", Jobs: []Job{GiveDose, CourseWord}, Course: courses},
		{Name: "volumes", Jobs: []Job{SeeVet}, Course: volumes},
		{Name: "rechecks", Jobs: []Job{VetVisit}, Course: rechecks},
		{Name: "visits", Jobs: []Job{VetVisit}, Visit: visits},
		{Name: "positives", Jobs: []Job{Positive}, Detected: detected},
		{Name: "mites in the room", Jobs: []Job{MiteLook, Clothes}, Room: nearMites},
		{Name: "signs in a room", Jobs: []Job{RoomLook}, Room: roomSigns},
		{Name: "quarantine", Jobs: []Job{Weigh, MiteLook, TakeSample, Check, TakePhotos, Release}, Newcomer: quarantined},
		{Name: "samples", Jobs: []Job{TakeSample, PostSample, AskLab}, Sample: onTheWay},
		{Name: "cleanings", Jobs: []Job{Clean}, Place: cleaning},
		{Name: "checks of instruments", Jobs: []Job{CheckInstrument}, Instrument: instrumentChecks},
		{Name: "batches of feeders", Jobs: []Job{BatchLook}, Batch: batches},
		{Name: "lamps", Jobs: []Job{ChangeLamp}, Instrument: lamps},
	}
}

// derive is what is due for an animal, the most urgent first. An animal that is
// no longer here owes nothing, one on loan only what was found on it.
func derive(t *knowledge.Tables, f Facts) []Obligation {
	if !f.Animal.Status.Here() {
		return nil
	}
	var all []Obligation
	for _, feeder := range Feeders() {
		if feeder.Feed == nil {
			continue
		}
		for _, o := range feeder.Feed(t, f) {
			o.Subject = f.Animal.ID.Subject()
			o.By = max(o.By, o.From)
			all = append(all, o)
		}
	}
	if f.Animal.Status == animals.OnLoan {
		all = slices.DeleteFunc(all, func(o Obligation) bool { return o.Level == knowledge.Nothing })
	}
	slices.SortFunc(all, compare)
	return all
}

// ill reports whether something stands that is a matter for the vet.
func (f Facts) ill() bool {
	return f.Standing.ForVet()
}

// unlifted moves a job for which the animal is lifted behind its rest after a
// meal.
func (o Obligation) unlifted(f Facts) Obligation {
	if f.Rest > o.From {
		o.From = f.Rest
		if f.Rest >= o.By {
			o.By, o.Caution = f.Rest, "due.caution.rest"
		}
	}
	return o
}

// briefly is a label for Obligation.Brief.
func briefly(key string, gaps map[string]model.Gap) *model.Label {
	return &model.Label{Key: key, Gaps: gaps}
}

func why(key string, gaps map[string]model.Gap) []model.Label {
	return []model.Label{{Key: key, Gaps: gaps}}
}
