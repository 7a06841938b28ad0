package history

import (
	"errors"
	"testing"
	"time"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/exam"
	"coilward/model/storetest"
)

// entry is an entry of everyday care as it is kept, so many minutes after the
// clock of a new collection.
func entry(t *testing.T, id byte, animal model.ID, minutes int64, b care.Body) model.Document {
	t.Helper()
	d := storetest.Entry(model.ID{id}, animal, storetest.Start().Unix()+60*minutes, b)
	d.Kind = b.Kind()
	return d
}

func grams(g int64) care.Weight { return care.Weight{Mass: model.Grams(g)} }

func TestReadIsUpToAMoment(t *testing.T) {
	c, _ := storetest.New(t)
	added, err := c.Do(animals.Add{Animal: animals.Animal{Name: "Juno", Hatched: model.Date{Day: model.NewDay(2027, 4, 1), Precision: model.ToDay}}})
	if err != nil {
		t.Fatal(err)
	}
	juno := added.Documents[0]
	check := storetest.Entry(model.ID{6}, juno, storetest.Start().Unix(), "another capability's")
	kept := []model.Document{
		entry(t, 1, juno, -50, care.Meal{Outcome: care.Took}),
		entry(t, 2, juno, -40, care.Meal{Outcome: care.Took}),
		entry(t, 3, juno, -30, care.Meal{Outcome: care.Refused}),
		entry(t, 4, juno, -20, grams(140)), entry(t, 5, juno, -10, grams(150)), check,
		entry(t, 7, juno, 0, care.Shed{}), entry(t, 8, juno, 1, grams(190)),
	}
	if _, err := c.Do(storetest.Put{Documents: kept}); err != nil {
		t.Fatal(err)
	}
	read := func() (r Records, err error) {
		err = c.View(func(v model.View) error {
			animal, failed := animals.Find(v, model.AnimalID{ID: juno})
			if failed == nil {
				r, failed = Read(tables(t), v, animal, v.Now())
			}
			return failed
		})
		return r, err
	}
	r, err := read()
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Entries) != 6 || len(r.Weights) != 2 || len(r.Sheds) != 1 || r.Sheds[0].UTC != storetest.Start().Unix() {
		t.Errorf("%d entries, %d weights, sheds %v: want what is there up to this very moment", len(r.Entries), len(r.Weights), r.Sheds)
	}
	if r.Context.Mass != model.Grams(150) || r.Weights[0].Mass != model.Grams(150) || r.Context.Age != exam.Hatchling {
		t.Errorf("context %+v: want the last mass and the age", r.Context)
	}
	if want := kept[1].At; r.Context.LastMeal != want {
		t.Errorf("last meal taken %v, want %v", r.Context.LastMeal, want)
	}

	later := entry(t, 9, juno, -5, grams(700))
	later.Version = care.Version + 1
	if _, err := c.Do(storetest.Put{Documents: []model.Document{later}}); err != nil {
		t.Fatal(err)
	}
	if after, err := read(); err != nil || len(after.Entries) != len(r.Entries) {
		t.Errorf("an entry of a newer version: %d entries, %v", len(after.Entries), err)
	}
	broken := entry(t, 10, juno, -5, grams(700))
	broken.Body = []byte(`{"mass":"heavy"}`)
	if _, err := c.Do(storetest.Put{Documents: []model.Document{broken}}); err != nil {
		t.Fatal(err)
	}
	if _, err := read(); err == nil {
		t.Error("an entry that cannot be read was passed over")
	}
}

// closed is a view whose days cannot be read.
type closed struct{ model.View }

var errClosed = errors.New("the store is closed")

func (closed) Timeline(model.Subject, int64, int64, func(model.Document) bool) error {
	return errClosed
}

func TestReadTellsThatItFailed(t *testing.T) {
	if _, err := Read(tables(t), closed{}, animals.Stored{}, model.MomentOf(storetest.Start())); !errors.Is(err, errClosed) {
		t.Errorf("%v", err)
	}
}

// Prey brought up speaks for as many days as the tables remember it, and for no
// day more.
func TestHowLongPreyBroughtUpStands(t *testing.T) {
	const remembered = 30 // of the table of values
	r := records(1000, meal(care.Regurgitated))
	for days, want := range map[int]int{0: 1, remembered: 1, remembered + 1: 0} {
		if got, _ := r.still(tables(t), day(300+days)); len(got) != want {
			t.Errorf("after %d days: %d stand, want %d", days, len(got), want)
		}
	}
}

// What an entry says is judged by what was known at its own time: a weight of
// the same moment counts, a later one does not.
func TestTheMassOfTheSameMomentCounts(t *testing.T) {
	at := model.MomentOf(storetest.Start().Add(-time.Hour))
	for _, c := range []struct {
		weighed model.Moment
		want    model.Mass
	}{{at, model.Grams(150)}, {model.MomentOf(storetest.Start()), model.Mass{}}} {
		var r Records
		r.add(care.Entry{At: c.weighed, Body: grams(150)})
		r.add(care.Entry{At: at, Body: meal(care.Regurgitated)})
		if got := r.contextAt(1).Mass; got != c.want {
			t.Errorf("weighed at %v: %+v, want %+v", c.weighed, got, c.want)
		}
	}
}
