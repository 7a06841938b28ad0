package due

import (
	"cmp"
	"slices"
	"strings"

	"coilward/model"
	"coilward/model/knowledge"
)

// Job is what is to be done. Values are frozen: they stand in answers. The text
// is "due.job." + value.
type Job string

// The jobs.
const (
	SeeVet    Job = "see-vet"
	LookAgain Job = "look-again" // at a finding
	Offer     Job = "offer"      // food
	Weigh     Job = "weigh"
	Check     Job = "check"     // from snout to tail tip
	ShedLook  Job = "shed-look" // eye caps and tail tip after a shed
	Clean     Job = "clean"     // a place, all over
	MiteLook  Job = "mite-look"

	CheckInstrument Job = "check-instrument" // against something known
	ChangeLamp      Job = "change-lamp"      // one whose share of UV is not known any more

	TakeSample Job = "take-sample" // with a kit that is laid out
	PostSample Job = "post-sample"
	AskLab     Job = "ask-lab" // where a late sample or its result is

	Release Job = "release" // from quarantine
	Clothes Job = "clothes" // the keeper's, after mites in a room

	RoomLook Job = "room-look" // where several in a room tell the same

	TakePhotos Job = "take-photos" // of the standard poses, on arrival

	ColdLook Job = "cold-look" // at the breathing, after a power cut

	BatchLook Job = "batch-look" // at feeders that came up, or whose freezer failed

	GiveDose   Job = "give-dose"
	CourseWord Job = "course-word" // on a course of medicine: what became of a dose, what the vet said of a missed one, that it is over
	VetVisit   Job = "vet-visit"

	Positive Job = "positive" // something was detected: to open it, and what is next of its list
)

// Jobs are all jobs, the most urgent kinds first.
func Jobs() []Job {
	return []Job{SeeVet, Positive, CourseWord, GiveDose, VetVisit, LookAgain, ColdLook, RoomLook, BatchLook, ShedLook, MiteLook, Clothes, TakeSample, PostSample, AskLab, Weigh, Offer, Check, TakePhotos, Release, Clean, CheckInstrument, ChangeLamp}
}

// Key names one obligation: for one subject, one job, from one cause. A new cause
// makes a new obligation, which older answers do not speak for.
type Key struct {
	Subject model.Subject `json:"subject"`
	Job     Job           `json:"job"`
	// Cause is what made it due, such as the ids of a check and its findings. It
	// is compared and never read.
	Cause string `json:"cause"`
}

// Obligation is one thing that is due.
type Obligation struct {
	Key
	// From is the first day on which it can be done, By the day by which it should
	// be: no earlier than From.
	From, By model.Day
	Since    model.Day // what By is counted from
	// Level is how urgent what made it due is; Nothing for the jobs of every day.
	Level knowledge.Level
	// Once says that it is asked on its day alone and is late on none after it:
	// an offer to an adult that fasts.
	Once bool
	// Most is for how many days it can be answered or put off at the most; 0: as
	// long as the table says for its level.
	Most int
	// Every is after how many days it is due again; 0 for what comes only by a
	// new cause.
	Every int
	For   []knowledge.FindingID // what it is for, where it is for findings
	// Reasons say why, the weightiest first; at least one.
	Reasons []model.Label
	// Brief says in a few words what a vet is to see, where that is no finding; nil: For says it.
	Brief   *model.Label
	Caution string // key of what is to be heeded, empty: nothing
	Act     Act
	// Answer is the person's last answer, where one speaks for it.
	Answer *Stored
}

// Act is what answers an obligation by doing it. The text is "due.act." + value.
type Act string

// The acts. Each is a form or a place of the window.
const (
	ActVet   Act = "vet"   // see what is open, print the paper for the vet, note the vet's word
	ActCheck Act = "check" // begin a check
	ActWeigh Act = "weigh"
	ActFeed  Act = "feed"
	ActClean Act = "clean"
	ActMites Act = "mites"

	ActInstrument Act = "instrument" // note a check, or the day of a new lamp

	ActTray Act = "tray" // what is next with a sample

	ActNewcomers Act = "newcomers" // how its quarantine stands, and its release

	ActPositive Act = "positive"

	ActMedicine Act = "medicine" // say what became of a dose, and what the vet said
	ActVisit    Act = "visit"    // go to a vet, with the questions

	ActRoom Act = "room" // show it on the shelf

	ActFeeders Act = "feeders"

	ActPowerCut Act = "power-cut" // note the look, or begin a check

	ActPhotos Act = "photos"
)

// Acts are all acts.
func Acts() []Act {
	return []Act{ActVet, ActCheck, ActWeigh, ActFeed, ActClean, ActMites, ActInstrument, ActTray, ActNewcomers, ActPositive, ActMedicine, ActVisit, ActRoom, ActFeeders, ActPowerCut, ActPhotos}
}

// medicinal reports whether the obligation is answered by saying what became of a dose, and
// by nothing else.
func (o Obligation) medicinal() bool { return o.Job == GiveDose || o.Job == CourseWord }

// State is where an obligation stands on a day.
type State uint8

// The states, in the order in which they are told.
const (
	Alert    State = iota // an emergency or a matter for the vet, not answered
	Late                  // its day has passed
	Today                 // today is its day
	Later                 // its day is to come, or it was put off
	Answered              // an answer stands, for good or about a matter for the vet
)

// Presses reports whether something is to be done today, or was before.
func (s State) Presses() bool { return s <= Today }

// Overdue reports whether it should be done by now: an alert, or late.
func (s State) Overdue() bool { return s <= Late }

// State tells where the obligation stands. An emergency is an alert whatever was
// answered.
func (o Obligation) State(today model.Day) State {
	by := o.day(today)
	switch {
	case o.Level >= knowledge.EmergencyToday:
		return Alert
	case o.over() || o.Level >= knowledge.VetWithinDays && o.answered(today):
		return Answered
	case o.Level >= knowledge.VetWithinDays:
		return Alert
	case by > today:
		return Later
	case by < today && !o.Once:
		return Late
	}
	return Today
}

// day is the day by which it is due with the answer that was given.
func (o Obligation) day(today model.Day) model.Day {
	if o.Answer == nil {
		return o.By
	}
	if o.Level >= knowledge.VetWithinDays && !o.answered(today) {
		return o.By
	}
	return max(o.By, o.Answer.Until)
}

// Day is the day by which it is due, as far as it was not put off to a later one.
func (o Obligation) Day(today model.Day) model.Day { return o.day(today) }

// answered reports whether an answer stands on that day.
func (o Obligation) answered(today model.Day) bool {
	return o.Answer != nil && (o.Answer.Until == 0 || o.Answer.Until > today)
}

// over reports whether an answer has done away with it for good.
func (o Obligation) over() bool {
	return o.Answer != nil && o.Answer.Until == 0 && o.Level < knowledge.VetWithinDays
}

// compare puts the most urgent first, then by day, and gives every two different
// obligations of one subject an order.
func compare(a, b Obligation) int {
	return cmp.Or(cmp.Compare(b.Level, a.Level), cmp.Compare(a.By, b.By), cmp.Compare(rank(a.Job), rank(b.Job)), strings.Compare(a.Cause, b.Cause))
}

func rank(j Job) int { return slices.Index(Jobs(), j) }
