package due_test

import (
	"testing"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/body"
	"coilward/model/due"
	"coilward/model/exam"
	"coilward/model/history"
)

// stand is the animal's standing as its page tells it.
func (w *world) stand() (s history.Standing) {
	w.t.Helper()
	if err := w.c.View(func(v model.View) error {
		all, err := exam.Problems(v, w.animal)
		if err != nil {
			return err
		}
		a, err := animals.Find(v, w.animal)
		if err != nil {
			return err
		}
		records, err := history.Read(w.tables, v, a, v.Now())
		s = records.Stand(w.tables, all, v.Now())
		return err
	}); err != nil {
		w.t.Fatal(err)
	}
	return s
}

// Of two sores that were seen on one day and are gone, an answer speaks for the one that it
// was given to, though both ask for the vet by the same day.
func TestAnswerTo_SpeaksForItsOwnCause(t *testing.T) {
	w := newWorld(t, ball())
	sore := func(along int) exam.Finding {
		return exam.Finding{Standing: exam.New, Stop: "skin", What: "sore", Grade: exam.Slight, Place: body.OnTrunk(along, 0), At: w.about(3).At}
	}
	w.walk(3, 600, func(d *exam.Draft) { d.Findings = []exam.Finding{sore(2000), sore(6000)} })
	w.walk(1, 600, func(d *exam.Draft) {
		for i := range d.Earlier {
			d.Earlier[i].Now = exam.Glimpse{Standing: exam.Gone, At: d.Begun}
		}
	})
	asked, stands := w.of(due.SeeVet), w.stand()
	owed := stands.Due()
	if len(asked) != 2 || len(owed) != 2 || owed[0].By != owed[1].By || len(owed[0].For) != 1 || owed[0].For[0] != owed[1].For[0] {
		t.Fatalf("%+v, %+v", asked, owed)
	}
	w.do(w.answer(asked[1], due.DoneElsewhere, 0, "seen by the vet"))
	items, spoken := w.list().Items, 0
	for _, o := range owed {
		i, answered := due.AnswerTo(items, w.animal, stands, o)
		if due.KeyOf(w.animal, stands, o) == asked[1].Key {
			spoken++
			if !answered || i.Answer.Why != "seen by the vet" {
				t.Errorf("the one that was answered: %+v", i)
			}
		} else if answered {
			t.Errorf("an answer to another speaks for %+v", o)
		}
	}
	if spoken != 1 {
		t.Errorf("%d of two are of the key that was answered", spoken)
	}
	w.pass(14 * day)
	stands = w.stand()
	for _, o := range stands.Due() {
		if i, answered := due.AnswerTo(w.list().Items, w.animal, stands, o); answered {
			t.Errorf("it asks again: %+v", i)
		}
	}
}
