package due_test

import (
	"testing"

	"coilward/model"
	"coilward/model/due"
	"coilward/model/knowledge"
)

// What is offered for putting off can stand: a week on, and as far as a matter for
// the vet can be put off.
func TestFirstDayOffered(t *testing.T) {
	tables, err := loaded()
	if err != nil {
		t.Fatal(err)
	}
	for level, want := range map[knowledge.Level]model.Day{knowledge.Nothing: 107, knowledge.LookAgain: 107, knowledge.VetWithinDays: 103} {
		if got := (due.Respond{Tables: tables}).Offered(due.Obligation{Level: level}, 100); got != want {
			t.Errorf("level %s: day %d, want %d", level, got, want)
		}
	}
}

// An emergency can be called done and nothing else.
func TestWhatIsOffered(t *testing.T) {
	for level, want := range map[knowledge.Level]int{knowledge.Nothing: 3, knowledge.LookAgain: 3, knowledge.VetWithinDays: 3, knowledge.EmergencyToday: 1} {
		if got := due.Answers(due.Obligation{Level: level}); len(got) != want || got[0] != due.DoneElsewhere {
			t.Errorf("level %s: %v", level, got)
		}
	}
}

// What is answered is what presses no more, what is late is what should be done by
// now.
func TestStatesThatPress(t *testing.T) {
	for _, s := range []due.State{due.Alert, due.Late, due.Today, due.Later, due.Answered} {
		if s.Presses() != (s == due.Alert || s == due.Late || s == due.Today) || s.Overdue() != (s == due.Alert || s == due.Late) {
			t.Errorf("state %d: presses %v, overdue %v", s, s.Presses(), s.Overdue())
		}
	}
}
