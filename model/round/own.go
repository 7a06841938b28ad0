package round

import (
	"coilward/model"
	"coilward/model/care"
	"coilward/model/exam"
	"coilward/model/history"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/positives"
)

// Own is what an animal's records alone tell of its class. It stays as it is until
// something is noted of the animal, or the day is over.
type Own struct {
	level   knowledge.Level
	forVet  bool
	lighter bool // by so much that one looks again
	looks   care.MiteDays
	treated []care.Treated // against mites
	said    []Reason       // what stands
	mites   model.Day      // on which they were last seen; 0: not in the records
}

// OwnOf reads it out of an animal's records and problems.
func OwnOf(t *knowledge.Tables, records history.Records, problems []exam.StoredProblem, now model.Moment) Own {
	standing := records.Stand(t, problems, now)
	looks := records.MiteDays()
	return Own{level: standing.Level(), forVet: standing.ForVet(), lighter: standing.Loss.Level == knowledge.LookAgain, looks: looks, treated: records.Treated(), said: saidOf(standing, problems), mites: looks.Seen(now.Day())}
}

// FactsOf joins what an animal's own records tell with the house that it lives in and
// with the positives that are open.
func FactsOf(t *knowledge.Tables, id model.AnimalID, own Own, house *husbandry.House, marks positives.Marks, now model.Moment) Facts {
	today := now.Day()
	watch, _ := own.looks.Watch(t, own.treated, func(model.Day) int { return t.Value(knowledge.ValueMiteWatchCool) }, today)
	if watch.Mites != 0 { // what the longest watch does not watch for, no other does
		watch, _ = own.looks.Watch(t, own.treated, house.MitesLast(t, id, own.looks.Seen(today), now), today)
	}
	return Facts{Level: own.level, ForVet: own.forVet, Lighter: own.lighter, MiteWatch: watch.Mites != 0,
		Newcomer: house.Newcomer(t, id, today), Detected: marks.Detected[id], NearPositive: marks.Near[id]}
}
