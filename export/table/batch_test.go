package table_test

import (
	"strings"
	"testing"

	"coilward/export/table"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/collection"
	"coilward/model/feeders"
	"coilward/model/importing"
	"coilward/model/storetest"
)

// stocked is a collection with one animal, and batches of feeders called so, in which a
// meal of each was noted.
func stocked(t *testing.T, names ...string) *collection.Collection {
	t.Helper()
	c, _ := storetest.New(t)
	do := func(command model.Command) model.ID {
		done, err := c.Do(command)
		if err != nil {
			t.Fatal(err)
		}
		return done.Documents[0]
	}
	animal := model.AnimalID{ID: do(animals.Add{Animal: animals.Animal{Name: "Kestrel", Status: animals.Kept}})}
	for i, name := range names {
		batch := model.BatchID{ID: do(feeders.Add{Batch: feeders.Batch{Name: name, Prey: care.Rat, Count: 9}})}
		at := model.MomentOf(storetest.Start())
		at.UTC -= int64(i+1) * 86400
		do(care.Feed{About: care.About{Animal: animal, At: at}, Meal: care.Meal{Prey: care.Rat, Outcome: care.Took, Batch: batch}})
	}
	return c
}

// taken are the rows of a book, read for the stock of a collection.
func (d desk) taken(t *testing.T, b table.Book, c *collection.Collection) table.Taken {
	t.Helper()
	takings, _ := d.settled(b)
	given := d.given()
	err := c.View(func(v model.View) (err error) {
		if given.Batches, err = feeders.Batches(v); err == nil {
			given.Known, err = animals.All(v)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	taken, err := table.Take(b, takings, given)
	if err != nil {
		t.Fatal(err)
	}
	return taken
}

// Two batches of one name go out by their ids, and each meal comes back to its own.
func TestMealsComeBackToTheirBatches(t *testing.T) {
	d := newDesk(t)
	for _, names := range [][]string{{"Rats, May", "Mice"}, {"Rats, May", "rats, may"}} {
		c := stocked(t, names...)
		taken := d.taken(t, d.laid(t, c, "de").Book, c)
		of := map[model.BatchID]bool{}
		for _, e := range taken.Rows.Entries {
			if m, is := e.Body.(care.Meal); is {
				of[m.Batch] = true
			}
		}
		if len(taken.Bad) > 0 || len(of) != 2 || of[model.BatchID{}] {
			t.Errorf("%q: bad %+v, batches %v", names, taken.Bad, of)
		}
	}
}

// A batch that the stock does not know is asked about, and the meal comes in without it
// once that is said; a name that two batches have is refused.
func TestABatchThatTheStockDoesNotKnow(t *testing.T) {
	d := newDesk(t)
	book, err := table.Read("meals.csv", []byte("Name,Day,Prey,Result,Batch\nKestrel,2027-01-05,rat,took,Mice\n"))
	if err != nil {
		t.Fatal(err)
	}
	c := stocked(t)
	rows := d.taken(t, book, c).Rows
	judge := func() (j importing.Judgement) {
		t.Helper()
		err := c.View(func(v model.View) (err error) {
			j, err = rows.Judge(v, nil)
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
		return j
	}
	if j := judge(); len(j.Refused) != 1 || j.Refused[0].Refusal.Answer != model.Confirm || j.Refused[0].Refusal.Value != "Mice" || len(table.Doubts(j)) != 1 {
		t.Fatalf("not asked: %+v", j.Refused)
	}
	rows.Confirmed = model.Confirmed{"movein.batch-unknown"}
	if j := judge(); len(j.Refused) != 0 || j.Entries != 1 {
		t.Errorf("confirmed: %+v", j)
	}
	taken := d.taken(t, book, stocked(t, "Mice", "mice"))
	if len(taken.Bad) != 1 || taken.Bad[0].Refusal.Reason != "table.batches-several" || !strings.EqualFold(taken.Bad[0].Column, "batch") {
		t.Errorf("a name of two: %+v", taken.Bad)
	}
}
