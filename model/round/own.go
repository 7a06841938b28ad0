package round

import (
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/due"
	"coilward/model/exam"
	"coilward/model/history"
	"coilward/model/husbandry"
	"coilward/model/infested"
	"coilward/model/knowledge"
	"coilward/model/positives"
	"coilward/model/powercut"
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
	cuts    []powercut.Stored
	chilled model.Day // on which a power cut ended that chilled it, and no answer speaks for that; 0: none
}

// Known is what the records of one animal tell, with what that was read from.
type Known struct {
	Own
	Records  history.Records
	Problems []exam.StoredProblem
	Unread   []error           // why some of its problems cannot be read
	Cuts     []powercut.Stored // that it lived through, newest first, as far back as the rest was read
}

// Know reads the records of an animal, as far back as its class needs them.
func Know(v model.View, t *knowledge.Tables, a animals.Stored, now model.Moment) (k Known, err error) {
	if k.Problems, k.Unread, err = exam.LegibleProblems(v, a.ID); err != nil {
		return k, err
	}
	days := &powercut.Days{View: v}
	if k.Records, err = history.Lately(t, days, a, k.Problems, now); err != nil {
		return k, err
	}
	k.Own, k.Cuts = ownOf(t, k.Records, k.Problems, now), days.Cuts
	k.cuts = days.Cuts
	open, err := due.UnansweredChilling(v, t, a.ID, days.Cuts)
	for _, cut := range open {
		k.chilled = max(k.chilled, cut.Until.Day())
	}
	return k, err
}

// ownOf reads it out of an animal's records and problems, but for its power cuts.
func ownOf(t *knowledge.Tables, records history.Records, problems []exam.StoredProblem, now model.Moment) Own {
	standing := records.Stand(t, problems, now)
	looks := records.MiteDays()
	return Own{level: standing.Level(), forVet: standing.ForVet(), lighter: standing.Loss.Level == knowledge.LookAgain, looks: looks, treated: records.Treated(), said: saidOf(standing, problems), mites: looks.Seen(now.Day())}
}

// watched reports whether the watch for mites that were seen on an animal is not over.
func (own Own) watched(t *knowledge.Tables, id model.AnimalID, house *husbandry.House, now model.Moment) bool {
	today := now.Day()
	watch, _ := own.looks.Watch(t, own.treated, func(model.Day) int { return t.Value(knowledge.ValueMiteWatchCool) }, today)
	if watch.Mites != 0 { // what the longest watch does not watch for, no other does
		watch, _ = own.looks.Watch(t, own.treated, house.MitesLast(t, id, own.looks.Seen(today), now), today)
	}
	return watch.Mites != 0
}

// Infested is what an animal's own records tell of mites in its rooms.
func (own Own) Infested(a animals.Stored) infested.Animal {
	return infested.Animal{Name: a.Name, Status: a.Status, Looks: own.looks, Treated: own.treated}
}

// FactsOf joins what an animal's own records tell with the house that it lives in, with the
// rooms in which mites are watched for and with the positives that are open.
func FactsOf(t *knowledge.Tables, id model.AnimalID, own Own, house *husbandry.House, mites infested.Rooms, marks positives.Marks, now model.Moment) Facts {
	f := Facts{Level: own.level, ForVet: own.forVet, Lighter: own.lighter, Chilled: own.chilled, MiteWatch: own.watched(t, id, house, now),
		Newcomer: house.Newcomer(t, id, now.Day()), Detected: marks.Detected[id], NearPositive: marks.Near[id]}
	if !f.MiteWatch {
		room, _ := mites.Near(id, house, now)
		f.NearMites = room.Seen
	}
	return f
}
