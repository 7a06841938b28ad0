package quarantine

import (
	"slices"

	"coilward/model"
	"coilward/model/knowledge"
)

// Protocol is what is asked.
type Protocol = knowledge.Protocol

// Facts are what is known of a newcomer on a day. What lies after that day counts
// nothing.
type Facts struct {
	Today   model.Day
	Arrived model.Day
	// Nowhere is that no place is noted for it: who shares its room is not known.
	Nowhere bool
	// Restarts are those that came into its room since, and its own move to others.
	Restarts []Restart
	Mites    Mites
	Results  []Result // of samples that were taken, those without an answer too
	Checks   []Check
	Open     Open
	Meals    []Meal // taken and kept down
	// Kept is the day of the last meal kept, also of before the arrival; 0: none is known.
	Kept    model.Day
	Weights []Weight
	// Weighings are the days on which it was weighed, comparably or not.
	Weighings []model.Day
	// FastsSince is the day from which on its fast counts as one; 0: it does not fast.
	FastsSince model.Day
	// Losing is that a vet should hear of its loss of weight.
	Losing bool
	// OfferEvery is how many days after an offer it is offered food again.
	OfferEvery int
	Sheds      []Shed
}

// Restart is a day from which on all in the room begin to count anew.
type Restart struct {
	Day  model.Day
	Stay model.StayID
	Name string // of who came in; empty: it came to others itself, or was near a positive
	// Positive is what was detected in somebody that it was in one room with on that day
	// last, NearTo who that is; zero: it is of another kind.
	Positive model.ID
	NearTo   string
	// Still is that the two live in one room now.
	Still bool
	// Agent is what was detected in it, Speaks the first sampling day of which "not
	// detected" says that it was not caught there; 0: no figure of that is known.
	Agent  knowledge.AgentID
	Speaks model.Day
	// Confined is that what was detected does not go through a room: no day begins again.
	Confined bool
}

// Mites are how far its watch for mites has come, by the one rule for it.
type Mites struct {
	Days int       // for how long is watched
	Cool bool      // because it is cool where it lives, or not known how warm
	From model.Day // from which on the watch counts now; 0: nobody has looked yet
	Why  MitesWhy
	On   []model.EntryID // what From rests on, and what ended it
	Ends model.Day       // the first day on which a look that sees none can end it
	Over model.Day       // on which one did; 0: none yet
	Last model.Day       // of the last look that counts; 0: none yet
	Next model.Day       // of the next look; 0: none is due by the watch
	// Speck is the day of a speck that no look has answered yet; 0: there is none.
	Speck model.Day
	// Glances are the looks since Last, or since the arrival, that do not count: they saw
	// none, and the animal itself was not looked at.
	Glances int
}

// MitesWhy is why a watch for mites counts from its day. Values are frozen; the text
// is "quarantine.mites." + value.
type MitesWhy string

// Why the watch counts from its day.
const (
	FromLook      MitesWhy = "look"      // the first one after the arrival
	FromMites     MitesWhy = "mites"     // the last live one in the room
	FromTreatment MitesWhy = "treatment" // it acts until then, and hides them
	FromGap       MitesWhy = "gap"       // looks were too far apart
)

// Outcome is what was found of one thing in one sample.
type Outcome uint8

// The outcomes. Nothing is inconclusive, inhibited or not done: it counts as if
// nobody had looked.
const (
	Waiting Outcome = iota
	NotDetected
	Detected
	Nothing
)

// Result is one thing that a sample is looked through for.
type Result struct {
	Sample   model.SampleID
	Of       knowledge.AgentID
	Taken    model.Day
	Reported model.Day // 0: not yet
	Void     model.Day // on which it was given up; 0: it was not
	Outcome  Outcome
	Speaks   bool // "not detected" in such a sample says something
	Weak     bool // and not much: it is missed often there
	Faeces   bool // it is of faeces
	// Pool is that several animals are in it: what was not detected in all together may
	// be in one of them.
	Pool bool
	// Settled is the day on which a positive of what was detected was closed because the
	// lab put it right, it was not confirmed, or the vet said so; 0: it was not.
	Settled model.Day
}

// Sampled are the days on which some samples were taken, each once, the first first.
func (f Facts) Sampled(some []model.ID) (days []model.Day) {
	for _, r := range f.Results {
		if slices.Contains(some, r.Sample.ID) && !slices.Contains(days, r.Taken) {
			days = append(days, r.Taken)
		}
	}
	slices.Sort(days)
	return days
}

// Check is a check from snout to tail tip, or a part of one.
type Check struct {
	Entry model.EntryID
	Day   model.Day
	// Full is that every stop was seen, felt or left to the vet; a mouth that was not
	// opened was not looked at.
	Full bool
	Left int // stops that were not looked at
}

// Open is what stands of checks and of the entries of the days.
type Open struct {
	Known bool // somebody has looked since the arrival
	// Grave is that something stands above "look again".
	Grave bool
	On    []model.ID
	Since model.Day // since when nothing stands above it, where nothing does
}

// Meal is a meal that was taken and kept down.
type Meal struct {
	Entry model.EntryID
	Day   model.Day
}

// Weight is a comparable weight: with an empty gut, or right before a meal.
type Weight struct {
	Entry model.EntryID
	Day   model.Day
	Mass  model.Mass
	// Cost is the share, in hundredths of a percent, that the fast of now is known to
	// cost at the most by that day; 0: it did not fast yet.
	Cost int
	// Doubtful is that its scale, called Scale, failed the check after it.
	Doubtful bool
	Scale    string
}

// Shed is one shed skin.
type Shed struct {
	Entry model.EntryID
	Day   model.Day
	Whole bool // and nothing stayed on the eyes or the tail tip
}
