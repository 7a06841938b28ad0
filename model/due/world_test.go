package due_test

import (
	"context"
	"errors"
	"sync"
	"testing"
	"time"

	"coilward/assets"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/collection"
	"coilward/model/due"
	"coilward/model/exam"
	"coilward/model/knowledge"
	"coilward/model/storetest"
)

// world is a collection with one animal, which came into the records 400
// days ago, or on the day on which it hatched.
type world struct {
	t      testing.TB
	c      *collection.Collection
	clock  *storetest.Clock
	tables *knowledge.Tables
	book   *due.Book
	animal model.AnimalID
}

// loaded are the tables of the program, read once for all tests.
var loaded = sync.OnceValues(func() (*knowledge.Tables, error) { return knowledge.Load(assets.Knowledge()) })

func newWorld(t testing.TB, a animals.Animal) *world {
	t.Helper()
	tables, err := loaded()
	if err != nil {
		t.Fatal(err)
	}
	c, clock := storetest.New(t)
	w := &world{t: t, c: c, clock: clock, tables: tables, book: due.NewBook(tables)}
	c.Subscribe(func(change collection.Change) { w.book.Touch(change.Sequence, change.Subjects, change.Types...) })
	ago := 400
	if !a.Hatched.IsZero() {
		ago = min(ago, int(w.today()-a.Hatched.Day))
	}
	clock.Set(storetest.Start().AddDate(0, 0, -ago))
	w.animal = w.add(a)
	clock.Set(storetest.Start())
	return w
}

func (w *world) add(a animals.Animal) model.AnimalID {
	w.t.Helper()
	return model.AnimalID{ID: w.do(animals.Add{Animal: a}).Documents[0]}
}

func (w *world) do(c model.Command) collection.Change {
	w.t.Helper()
	change, err := w.c.Do(c)
	if err != nil {
		w.t.Fatal(err)
	}
	return change
}

func (w *world) refused(c model.Command, reason string) {
	w.t.Helper()
	_, err := w.c.Do(c)
	if r := (*model.Refusal)(nil); !errors.As(err, &r) || r.Reason != reason {
		w.t.Errorf("got %v, want the refusal %s", err, reason)
	}
}

func (w *world) now() model.Moment { return model.MomentOf(w.clock.Now()) }

func (w *world) today() model.Day { return w.now().Day() }

// about is of that many days ago, at the hour of the present.
func (w *world) about(ago int) care.About {
	at := w.now()
	at.UTC -= int64(ago) * 86400
	return care.About{Animal: w.animal, At: at, Confirmed: model.Confirmed{"mass.unlike", "day.before-arrival", "day.before-hatched"}}
}

func (w *world) weigh(ago int, grams int64) {
	w.t.Helper()
	w.do(care.Weigh{About: w.about(ago), Weight: care.Weight{Mass: model.Grams(grams)}, Again: model.Grams(grams)})
}

func (w *world) feed(ago int, o care.Outcome) {
	w.t.Helper()
	w.do(care.Feed{About: w.about(ago), Meal: care.Meal{Prey: care.Rat, Outcome: o}})
}

// check looks at every stop and notes findings at their stops; short is a brief look.
func (w *world) check(ago int, short bool, found map[knowledge.StopID]knowledge.FindingID) {
	w.t.Helper()
	took := int64(600)
	if short {
		took = 5
	}
	w.walk(ago, took, func(d *exam.Draft) {
		for stop, what := range found {
			d.Findings = append(d.Findings, exam.Finding{Standing: exam.New, Stop: stop, What: what, Grade: exam.Slight, Rough: true, At: d.Begun})
		}
	})
}

// walk looks at every stop, and keeps the check as it was changed, after so many seconds.
func (w *world) walk(ago int, took int64, change func(*exam.Draft)) {
	w.t.Helper()
	at := w.about(ago).At
	at.UTC -= 3600
	var problems []exam.StoredProblem
	var id model.EntryID
	if err := w.c.View(func(v model.View) (err error) {
		id.ID = v.NewID()
		problems, err = exam.Problems(v, w.animal)
		return err
	}); err != nil {
		w.t.Fatal(err)
	}
	d := exam.Begin(w.tables, exam.Beginning{Check: id, Animal: w.animal, At: at, Problems: problems})
	for i := range d.Stops {
		d.Stops[i].Look, d.Stops[i].At = exam.Seen, at
	}
	change(&d)
	end := at
	end.UTC += took
	w.do(exam.Finish{Tables: w.tables, Draft: d, At: end})
}

func (w *world) list() due.List {
	w.t.Helper()
	l, err := w.book.Bring(context.Background(), w.c, nil)
	if err != nil {
		w.t.Fatal(err)
	}
	return l
}

// of are the items of a job.
func (w *world) of(j due.Job) []due.Item {
	w.t.Helper()
	var all []due.Item
	for _, i := range w.list().Items {
		if i.Job == j {
			all = append(all, i)
		}
	}
	return all
}

func (w *world) one(j due.Job) due.Item {
	w.t.Helper()
	all := w.of(j)
	if len(all) != 1 {
		w.t.Fatalf("%s is due %d times, want once: %+v", j, len(all), all)
	}
	return all[0]
}

func (w *world) pass(d time.Duration) { w.clock.Pass(d) }

func ball() animals.Animal {
	return animals.Animal{Name: "Juniper", Species: "python-regius"}
}
