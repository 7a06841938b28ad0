package animal_test

import (
	"strings"
	"testing"
	"time"

	"coilward/model"
	"coilward/model/body"
	"coilward/model/due"
	"coilward/model/exam"
	"coilward/ui/look"
	"coilward/ui/uitest"
)

// walk keeps a check of now of the animal, as it was changed.
func (h *hand) walk(name string, change func(*exam.Draft)) {
	h.T.Helper()
	b := exam.Beginning{Animal: h.Animal(name).ID, At: model.MomentOf(h.Clock.Now().Add(-time.Minute))}
	if err := h.Collection().View(func(v model.View) (err error) {
		b.Check.ID = v.NewID()
		b.Problems, err = exam.Problems(v, b.Animal)
		return err
	}); err != nil {
		h.T.Fatal(err)
	}
	d := exam.Begin(h.Tables(), b)
	for i := range d.Stops {
		d.Stops[i].Look, d.Stops[i].At = exam.Seen, d.Begun
	}
	change(&d)
	if _, err := h.Collection().Do(exam.Finish{Tables: h.Tables(), Draft: d}); err != nil {
		h.T.Fatal(err)
	}
}

// What was answered of one sore stands at that one, and not at another that asks for the vet
// by the same day.
func TestPage_AnAnswerStandsAtItsOwnCause(t *testing.T) {
	h := open(t, "en", small, look.ByDay, one(t))
	h.walk("Wren", func(d *exam.Draft) {
		for _, along := range []int{2000, 6000} {
			d.Findings = append(d.Findings, exam.Finding{Standing: exam.New, Stop: "skin", What: "sore", Grade: exam.Slight, Place: body.OnTrunk(along, 0), At: d.Begun})
		}
	})
	h.Clock.Pass(24 * time.Hour)
	h.walk("Wren", func(d *exam.Draft) {
		for i := range d.Earlier {
			d.Earlier[i].Now = exam.Glimpse{Standing: exam.Gone, At: d.Begun}
		}
	})
	list, err := due.NewBook(h.Tables()).Bring(t.Context(), h.Collection(), nil)
	if err != nil {
		t.Fatal(err)
	}
	wanted := due.ToSeeVet(list.Items)
	if len(wanted) != 2 || wanted[0].By != wanted[1].By {
		t.Fatalf("%+v", wanted)
	}
	if _, err := h.Collection().Do(due.Respond{Tables: h.Tables(), Key: wanted[0].Key, What: due.DoneElsewhere, Why: "seen under the lamp"}); err != nil {
		t.Fatal(err)
	}
	h.show("Wren", "days")
	said := 0
	for _, text := range uitest.Texts(h.Content()) {
		said += strings.Count(text, "seen under the lamp")
	}
	if said != 1 {
		t.Errorf("the answer to one of two is said %d times: %q", said, uitest.Texts(h.Content()))
	}
}
