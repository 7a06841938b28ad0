package samples

import (
	"slices"

	"coilward/model"
	"coilward/model/knowledge"
)

// Act is what is to be done next with a sample. Values are frozen; the text is
// "samples.act." + value.
type Act string

// The acts.
const (
	NoAct     Act = "" // its result is in, or it gives none
	ActTake   Act = "take"
	ActPost   Act = "post"
	ActArrive Act = "arrive" // note that it arrived
	ActEnter  Act = "enter"  // its results
	ActAskLab Act = "ask-lab"
)

// Way is where a sample stands on its way to its results.
type Way struct {
	Stage  Stage
	Since  model.Day // it came to that stage
	Mark   model.Day // the last day on which it is not late; 0: nobody waits for it
	Within int       // the days from Since to Mark
	Own    bool      // Within follows from the lab's own past, not from the table
	Late   bool      // the mark has passed
	Ahead  bool      // it is laid out for Since, which is still to come
	Next   Act
}

// Way tells where the sample stands on a day. took are the days of the lab's earlier
// answers, as PastOf gives them. That the lab was asked moves no mark.
func (s Stored) Way(t *knowledge.Tables, took []int, today model.Day) Way {
	w := Way{Stage: s.Stage(), Since: s.since()}
	var usual knowledge.StageID
	switch w.Stage {
	case ToTake:
		usual, w.Next = knowledge.StageToTake, ActTake
	case Taken:
		usual, w.Next = knowledge.StageTaken, ActPost
	case Sent:
		usual, w.Next = knowledge.StageSent, ActArrive
	case AtLab:
		usual, w.Next = knowledge.StageAtLab, ActEnter
	default:
		return w
	}
	u, _ := t.Usual(usual)
	w.Within = u.Days
	switch m, _ := t.Material(s.Material); {
	case w.Stage == Taken && m.Keeps > 0:
		w.Within = m.Keeps
	case w.Stage == AtLab:
		w.Within, w.Own = Late(took, u.Days), len(took) >= enough
	}
	w.Mark = w.Since + model.Day(w.Within)
	if s.Ahead(today) {
		w.Ahead, w.Next = true, NoAct
		return w
	}
	if w.Late = today > w.Mark; w.Late && (w.Stage == Sent || w.Stage == AtLab) {
		w.Next = ActAskLab
	}
	return w
}

// since is the day on which the sample came to its stage; one that is laid out for a day
// ahead is to be taken from then on. One whose coming to the lab nobody noted is there, as
// far as is known, since it left.
func (s Stored) since() model.Day {
	switch s.Stage() {
	case ToTake:
		if s.Planned != nil {
			return max(s.At.Day(), s.Planned.Day)
		}
		return s.At.Day()
	case Voided:
		return s.Void.At.Day()
	case Reported:
		return s.answered()
	}
	return s.lastStep().at.Day()
}

// answered is the day on which the last thing had its first result.
func (s Sample) answered() (day model.Day) {
	for _, of := range s.For {
		if i := slices.IndexFunc(s.Results, func(r Result) bool { return r.Of == of }); i >= 0 {
			day = max(day, s.Results[i].At.Day())
		}
	}
	return day
}

// PastOf are the days that a lab's earlier answers took, from the day on which each
// sample came there, or left where that is not known, to its last first result. A
// result that was put right later counts by its first day.
func PastOf(all []Stored, lab model.PersonID) (took []int) {
	if lab.IsZero() {
		return nil
	}
	for _, s := range all {
		if s.Lab == lab && s.Stage() == Reported {
			took = append(took, int(s.answered()-s.lastStep().at.Day()))
		}
	}
	return took
}
