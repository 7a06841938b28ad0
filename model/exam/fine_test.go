package exam_test

import (
	"testing"

	"coilward/model"
	"coilward/model/body"
	"coilward/model/exam"
	"coilward/model/knowledge"
)

// On a sheet whose boxes are all ticked fine every stop was looked at in its usual way but
// a mouth, which was not opened, and what is said already stays.
func TestFine(t *testing.T) {
	tb := tables(t)
	noted := goTo(begin(tb), "skin").Mark(tb, "scar", morning)
	left, err := goTo(noted, "vent").Answer(exam.LeftToVet, morning)
	if err != nil {
		t.Fatal(err)
	}
	before := left.Answers()
	d := left.Fine(tb, later(morning, 60))
	for _, s := range tb.Stops() {
		want := map[knowledge.Way]exam.Look{knowledge.Seen: exam.Seen, knowledge.Felt: exam.Felt, knowledge.Opened: exam.NotLooked}[s.Way]
		if s.ID == "vent" {
			want = exam.LeftToVet
		}
		if got := d.At(s.ID); got.Look != want {
			t.Errorf("%s: %q, want %q", s.ID, got.Look, want)
		}
	}
	if len(d.Findings) != 1 || left.Answers() != before {
		t.Errorf("findings %v; the draft before has %d answers", d.Findings, left.Answers())
	}
}

// A stop with an earlier finding is not fine before that was answered.
func TestFineLeavesWhatWasThereBefore(t *testing.T) {
	tb := tables(t)
	d := begin(tb, problem(scabID, "skin", "sore", body.OnTrunk(6000, 0), exam.New)).Fine(tb, morning)
	if got := d.At("skin").Look; got != exam.NotYet {
		t.Errorf("unasked: %q", got)
	}
	d = d.AnswerEarlier(0, exam.Same, morning).Fine(tb, morning)
	if got := d.At("skin").Look; got != exam.Seen {
		t.Errorf("answered: %q", got)
	}
}

// How long a check took that was written on paper nobody knows: it is no brief look.
func TestACheckFromPaperIsNoBriefLook(t *testing.T) {
	tb := tables(t)
	d := begin(tb)
	if got := d.Fine(tb, morning).Finish(tb, morning).Extent(tb); got != exam.BriefLook {
		t.Errorf("by the clock: %s", got)
	}
	d.Begun.Precision = model.ToDay
	if got := d.Fine(tb, d.Begun).Finish(tb, d.Begun).Extent(tb); got != exam.PartCheck {
		t.Errorf("from paper: %s", got)
	}
}
