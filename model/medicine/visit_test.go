package medicine_test

import (
	"errors"
	"maps"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/medicine"
	"coilward/model/people"
)

func (w *world) visit(id model.ID) (s medicine.StoredVisit) {
	w.t.Helper()
	if err := w.View(func(v model.View) (err error) { s, err = medicine.FindVisit(v, medicine.VisitID{ID: id}); return err }); err != nil {
		w.t.Fatal(err)
	}
	return s
}

func (w *world) question(id model.ID) (s medicine.StoredQuestion) {
	w.t.Helper()
	if err := w.View(func(v model.View) (err error) {
		s, err = medicine.FindQuestion(v, medicine.QuestionID{ID: id})
		return err
	}); err != nil {
		w.t.Fatal(err)
	}
	return s
}

func (w *world) plan(day int) medicine.PlanVisit {
	return medicine.PlanVisit{Animal: w.animal, At: moment(day, 15), By: w.keeper, Visit: medicine.Visit{Vet: w.vet, Reason: "a scab that stays"}}
}

func (w *world) ask(words string) model.ID {
	w.t.Helper()
	return w.must(medicine.AskQuestion{Animal: w.animal, At: moment(1, 9), By: w.keeper, Words: words})
}

// A visit is planned, held with the answer to one of two questions, and plans the next
// one, in one change that is taken back whole.
func TestVisit(t *testing.T) {
	w := newWorld(t)
	one, other := w.ask("  What is\u00a0the scab? "), w.ask("May she bathe?")
	if q := w.question(one); q.Words != "What is the scab?" || !q.Open() || q.By != w.keeper {
		t.Fatalf("asked: %+v", q)
	}
	id := w.must(w.plan(3))
	w.clock.Set(time.Date(2027, 3, 3, 18, 0, 0, 0, time.UTC))
	held := medicine.HoldVisit{ID: medicine.VisitID{ID: id}, Base: 1, At: moment(3, 15), By: w.keeper, Visit: medicine.Visit{Vet: w.vet, Held: &medicine.Held{Said: " looked at it under the lamp ", Photos: []model.PhotoID{"0a"}}},
		Answers: []medicine.Answered{{Question: medicine.QuestionID{ID: one}, Base: 1, Said: "Leave it alone."}}, Next: moment(17, 15)}
	done, err := w.Do(held)
	if err != nil || len(done.Documents) != 3 {
		t.Fatalf("%v, %d documents", err, len(done.Documents))
	}
	s := w.visit(id)
	if s.Held == nil || s.Held.Said != "looked at it under the lamp" || s.Held.By != w.keeper || s.Held.Noted.Day() != moment(3, 0).Day() || s.By != w.keeper {
		t.Errorf("held: %+v", s)
	}
	if q := w.question(one); q.Open() || q.Answer.Said != "Leave it alone." || q.Answer.Visit.ID != id || q.Answer.At != moment(3, 15) {
		t.Errorf("answered: %+v", q)
	}
	if !w.question(other).Open() {
		t.Error("what was not answered is closed")
	}
	if next := w.visit(done.Documents[2]); next.Held != nil || next.At != moment(17, 15) || next.Vet != w.vet {
		t.Errorf("next: %+v", next)
	}
	w.refused("held twice", medicine.HoldVisit{ID: medicine.VisitID{ID: id}, Base: 2, At: moment(3, 15), Visit: held.Visit}, "visit.held")

	// a corrected day takes its answers along, a word is put right, the words of the answer too
	w.must(medicine.ChangeVisit{ID: s.ID, Base: 2, At: moment(2, 10), Visit: medicine.Visit{Practice: "The practice at the mill", Held: &medicine.Held{Said: "as before"}}})
	if s = w.visit(id); s.Held == nil || s.Held.By != w.keeper || s.Held.Photos != nil || s.Practice == "" || w.question(one).Answer.At != moment(2, 10) {
		t.Errorf("changed: %+v, %+v", s, w.question(one))
	}
	w.must(medicine.ChangeQuestion{ID: medicine.QuestionID{ID: one}, Base: 3, Words: "What is this scab?", Said: "Leave it"})
	if q := w.question(one); q.Words != "What is this scab?" || q.Answer.Said != "Leave it" {
		t.Errorf("changed: %+v", q)
	}
	for range 3 {
		if _, err := w.Undo(); err != nil {
			t.Fatal(err)
		}
	}
	if s := w.visit(id); s.Held != nil || s.At != moment(3, 15) || !w.question(one).Open() {
		t.Errorf("undone: %+v", s)
	}
	if err := w.View(func(v model.View) error {
		all, err := medicine.VisitsOf(v, w.animal)
		if len(all) != 1 {
			t.Errorf("the next visit stays: %+v", all)
		}
		return err
	}); err != nil {
		t.Fatal(err)
	}
	w.must(medicine.RemoveVisit{ID: medicine.VisitID{ID: id}})
	if err := w.View(func(v model.View) error { _, err := v.Document(id); return err }); !errors.Is(err, model.ErrNotFound) {
		t.Errorf("it is not taken out: %v", err)
	}
}

func TestVisit_Refuses(t *testing.T) {
	w := newWorld(t)
	sold := model.AnimalID{ID: w.must(animals.Add{Animal: animals.Animal{Name: "Rook", Status: animals.Sold, StatusDay: onDay(-5)}})}
	dead := model.AnimalID{ID: w.must(animals.Add{Animal: animals.Animal{Name: "Merle", Status: animals.Died, StatusDay: onDay(-5)}})}
	young := model.AnimalID{ID: w.must(animals.Add{Animal: animals.Animal{Name: "Wisp", Hatched: onDay(-2)}})}
	friend := model.PersonID{ID: w.must(people.Add{Person: people.Person{Name: "Ben"}})}
	plan := func(change func(*medicine.PlanVisit)) medicine.PlanVisit {
		c := w.plan(4)
		change(&c)
		return c
	}
	hold := func(change func(*medicine.HoldVisit)) medicine.HoldVisit {
		c := medicine.HoldVisit{Animal: w.animal, At: moment(1, 9), Visit: medicine.Visit{Vet: w.vet}}
		change(&c)
		return c
	}
	planned := medicine.VisitID{ID: w.must(w.plan(3))}
	open, of := medicine.QuestionID{ID: w.ask("Why?")}, medicine.QuestionID{ID: w.must(medicine.AskQuestion{Animal: young, At: moment(1, 9), Words: "And this one?"})}
	withdrawn := medicine.QuestionID{ID: w.ask("Who?")}
	w.must(medicine.WithdrawQuestion{ID: withdrawn, Base: 1, At: moment(1, 10), Why: "seen since"})
	answer := func(q medicine.QuestionID, said string) medicine.HoldVisit {
		return hold(func(c *medicine.HoldVisit) { c.Answers = []medicine.Answered{{Question: q, Base: 1, Said: said}} })
	}
	for name, c := range map[string]struct {
		do     planner
		field  string
		value  string
		reason string
	}{
		"planned for a day past":            {plan(func(c *medicine.PlanVisit) { c.At = moment(-1, 9) }), "day", "2027-02-27", "visit.past"},
		"planned for a year that is far":    {plan(func(c *medicine.PlanVisit) { c.At.UTC += 400 * 86400 }), "day", "2028-04-07", "medicine.far"},
		"planned for a month":               {plan(func(c *medicine.PlanVisit) { c.At.Precision = model.ToMonth }), "day", "2027-03-04", "day.vague"},
		"planned for no day":                {plan(func(c *medicine.PlanVisit) { c.At = model.Moment{} }), "day", "", "day.empty"},
		"at nobody":                         {plan(func(c *medicine.PlanVisit) { c.Vet = model.PersonID{} }), "vet", "", "visit.whose"},
		"at a friend":                       {plan(func(c *medicine.PlanVisit) { c.Vet = friend }), "vet", "Ben", "medicine.not-a-vet"},
		"at somebody unknown":               {plan(func(c *medicine.PlanVisit) { c.Vet = model.PersonID{ID: w.animal.ID} }), "vet", "", "visit.whose"},
		"a second one that day":             {w.plan(3), "day", "2027-03-03", "visit.twice"},
		"of an animal that was sold":        {plan(func(c *medicine.PlanVisit) { c.Animal = sold }), "day", "2027-03-04", "visit.gone"},
		"held tomorrow":                     {hold(func(c *medicine.HoldVisit) { c.At = moment(2, 9) }), "day", "2027-03-02", "day.future"},
		"a planned one held before its day": {hold(func(c *medicine.HoldVisit) { c.ID, c.Base, c.At = planned, 1, moment(3, 9) }), "day", "2027-03-03", "day.future"},
		"one of another animal":             {hold(func(c *medicine.HoldVisit) { c.ID, c.Base, c.Animal = planned, 1, young }), "visit", "2027-03-03", "visit.other"},
		"held before it hatched":            {hold(func(c *medicine.HoldVisit) { c.Animal, c.At = young, moment(-3, 9) }), "day", "2027-02-25", "day.before-hatched"},
		"held after it was sold":            {hold(func(c *medicine.HoldVisit) { c.Animal = sold }), "day", "2027-03-01", "visit.gone"},
		"the next before this one":          {hold(func(c *medicine.HoldVisit) { c.Next = moment(1, 12) }), "next-visit", "2027-03-01", "visit.next-before"},
		"the next in a year that is far":    {hold(func(c *medicine.HoldVisit) { c.Next = moment(400, 12) }), "next-visit", "2028-04-03", "medicine.far"},
		"an answer without words":           {answer(open, " "), "answer", "", "text.empty"},
		"an answer about another animal":    {answer(of, "no"), "answer", "no", "question.other"},
		"an answer to what is withdrawn":    {answer(withdrawn, "no"), "answer", "no", "question.withdrawn"},
		"an answer before the question": {hold(func(c *medicine.HoldVisit) {
			c.At, c.Answers = moment(0, 9), []medicine.Answered{{Question: open, Base: 1, Said: "no"}}
		}), "answer", "no", "question.before"},
		"a question without words":   {medicine.AskQuestion{Animal: w.animal, At: moment(1, 9), Words: " "}, "question", "", "text.empty"},
		"a question like a letter":   {medicine.AskQuestion{Animal: w.animal, At: moment(1, 9), Words: strings.Repeat("x", medicine.MaxQuestion+1)}, "question", strings.Repeat("x", medicine.MaxQuestion+1), "text.long"},
		"a question about one sold":  {medicine.AskQuestion{Animal: sold, At: moment(1, 9), Words: "Why?"}, "question", "Why?", "visit.gone"},
		"answered without words":     {medicine.AnswerQuestion{ID: open, Base: 1, At: moment(1, 9)}, "answer", "", "text.empty"},
		"answered in the future":     {medicine.AnswerQuestion{ID: open, Base: 1, At: moment(2, 9), Said: "so"}, "day", "2027-03-02", "day.future"},
		"answered though withdrawn":  {medicine.AnswerQuestion{ID: withdrawn, Base: 2, At: moment(1, 9), Said: "so"}, "answer", "so", "question.withdrawn"},
		"withdrawn before it was":    {medicine.WithdrawQuestion{ID: open, Base: 1, At: moment(0, 9)}, "day", "2027-02-28", "question.before"},
		"withdrawn twice":            {medicine.WithdrawQuestion{ID: withdrawn, Base: 2, At: moment(1, 9)}, "why", "", "question.withdrawn"},
		"opened though it is open":   {medicine.ReopenQuestion{ID: open, Base: 1}, "question", "Why?", "question.open"},
		"prescribed at a plan alone": {func() planner { c := w.course(); c.Visit = planned; return c }(), "visit", "2027-03-03", "medicine.visit-other"},
	} {
		_, err := w.Do(c.do)
		var r *model.Refusal
		if !errors.As(err, &r) || r.Reason != c.reason || r.Field != c.field || r.Value != c.value {
			t.Errorf("%s: %v", name, err)
		}
	}
	// a dead animal may still be looked at, and asked about
	w.must(medicine.HoldVisit{Animal: dead, At: moment(1, 9), Visit: medicine.Visit{Vet: w.vet}})
	w.must(medicine.AskQuestion{Animal: dead, At: moment(1, 9), Words: "What did she die of?"})
	// a prescription names the visit at which it was written, also once that is taken out
	at := medicine.VisitID{ID: w.must(hold(func(*medicine.HoldVisit) {}))}
	course := w.course()
	course.Visit = at
	id := w.must(course)
	w.must(medicine.RemoveVisit{ID: at})
	s := w.read(id)
	if s.Visit != at {
		t.Errorf("prescribed at %v", s.Visit)
	}
	w.must(medicine.Change{Tables: w.tables, ID: s.ID, Base: 1, At: s.Prescribed, Prescription: s.Prescription})
}

// A question is open until it is answered or withdrawn, in whatever order that comes; each
// step is undone and done again.
func TestQuestion_OpenUntilItIsClosed(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		w := newWorld(t)
		fates := map[medicine.QuestionID]string{}
		for range rapid.IntRange(1, 6).Draw(r, "questions") {
			id := medicine.QuestionID{ID: w.ask("Why?")}
			fates[id] = rapid.SampledFrom([]string{"open", "answered", "at a visit", "withdrawn", "opened again"}).Draw(r, "fate")
		}
		open := func() (all []medicine.QuestionID) {
			if err := w.View(func(v model.View) error {
				questions, err := medicine.QuestionsOf(v, w.animal)
				for _, q := range questions {
					if q.Open() {
						all = append(all, q.ID)
					}
				}
				return err
			}); err != nil {
				r.Fatal(err)
			}
			return all
		}
		byID := func(a, b medicine.QuestionID) int { return strings.Compare(a.String(), b.String()) }
		ids := slices.SortedFunc(maps.Keys(fates), byID)
		done := 0
		do := func(c planner) {
			if _, err := w.Do(c); err != nil {
				r.Fatalf("%T: %v", c, err)
			}
			done++
		}
		now := moment(1, 10)
		for _, id := range rapid.Permutation(ids).Draw(r, "order") {
			switch fates[id] {
			case "answered":
				do(medicine.AnswerQuestion{ID: id, Base: 1, At: now, Said: "so"})
			case "at a visit":
				do(medicine.HoldVisit{Animal: w.animal, At: now, Confirmed: model.Confirmed{"visit.twice"}, Visit: medicine.Visit{Vet: w.vet}, Answers: []medicine.Answered{{Question: id, Base: 1, Said: "so"}}})
			case "withdrawn":
				do(medicine.WithdrawQuestion{ID: id, Base: 1, At: now})
			case "opened again":
				do(medicine.WithdrawQuestion{ID: id, Base: 1, At: now})
				do(medicine.ReopenQuestion{ID: id, Base: 2})
			}
		}
		var want []medicine.QuestionID
		for _, id := range ids {
			if fates[id] == "open" || fates[id] == "opened again" {
				want = append(want, id)
			}
		}
		same := func(when string, want []medicine.QuestionID) {
			got := open()
			if slices.SortFunc(got, byID); !slices.Equal(got, want) {
				r.Fatalf("%s open are %v, want %v", when, got, want)
			}
		}
		same("then", want)
		for range done {
			if _, err := w.Undo(); err != nil {
				r.Fatal(err)
			}
		}
		same("undone", ids)
		for range done {
			if _, err := w.Redo(); err != nil {
				r.Fatal(err)
			}
		}
		same("done again", want)
	})
}

// A visit that is held before its day makes room on it: the next one there is not asked
// about as a second one of that day.
func TestVisit_HeldEarlyIsNoSecondOne(t *testing.T) {
	w := newWorld(t)
	id := w.must(w.plan(10))
	w.clock.Set(time.Date(2027, 3, 3, 18, 0, 0, 0, time.UTC))
	w.must(medicine.HoldVisit{ID: medicine.VisitID{ID: id}, Base: 1, At: moment(3, 15), Visit: medicine.Visit{Vet: w.vet, Held: &medicine.Held{}}, Next: moment(10, 15)})
	w.refused("a second one on the day of the next", w.plan(10), "visit.twice")
}

// Visits are all too late where none of those that are planned is on the day or before it.
func TestVisit_AllAfter(t *testing.T) {
	planned := func(days ...int) (all []medicine.StoredVisit) {
		for _, d := range days {
			all = append(all, medicine.StoredVisit{At: moment(d, 15)})
		}
		return all
	}
	held := medicine.StoredVisit{At: moment(2, 15), Visit: medicine.Visit{Held: &medicine.Held{}}}
	for i, c := range []struct {
		visits []medicine.StoredVisit
		want   bool
	}{{nil, false}, {planned(5), false}, {planned(6), true}, {planned(6, 4), false}, {[]medicine.StoredVisit{held}, false}, {append(planned(6), held), true}} {
		if got := medicine.AllAfter(moment(5, 0).Day(), c.visits); got != c.want {
			t.Errorf("%d: %v", i, got)
		}
	}
}

// What cannot stand of a visit is refused from top to bottom: its day before its vet.
func TestVisit_RefusedFromTopToBottom(t *testing.T) {
	w := newWorld(t)
	past := w.plan(3)
	past.Vet = model.PersonID{}
	w.clock.Set(time.Date(2027, 3, 6, 18, 0, 0, 0, time.UTC))
	w.refused("past and without a vet", past, "visit.past")
	past.At = moment(8, 15)
	w.refused("without a vet", past, "visit.whose")
}
