package main

import (
	"fmt"
	"image"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/collection"
	"coilward/model/husbandry"
	"coilward/model/store"
)

// How many animals move in, and what each weighs: the first so much, every next
// one a little more.
const (
	movedIn    = 60
	firstGrams = 1000
	moreGrams  = 7
	gained     = 12 // at the second weighing
)

// TestMoveIn takes the real program from an empty collection to a day's work: a
// spreadsheet of sixty animals, one of where they live, a feeding, a weighing, and
// a step back. Then it reads the store.
func TestMoveIn(t *testing.T) {
	j := begin(t)
	j.bring("1-animals.csv", herd(), 0, j.clicking(image.Pt(1066, 717)))
	j.bring("2-stays.csv", homes(), 1, j.clicking(image.Pt(988, 249)), j.clicking(image.Pt(1066, 717)))
	j.shows("move-in-shelf", j.pressing("ctrl+1"))
	j.feedNight()
	j.weighDay()
	j.shows("move-in-undone", j.pressing("ctrl+z"))
	j.quit()
	j.checkDaysWork()
}

// herd is a spreadsheet of animals with a first weight.
func herd() string {
	var rows strings.Builder
	rows.WriteString("Name,Code,Species,Sex,Hatched,Weight,Weighed on\n")
	for i := range movedIn {
		fmt.Fprintf(&rows, "%s,P-%02d,Python regius,%s,%d-03-15,%d g,2026-01-20\n", nameOf(i), i+1, []string{"female", "male"}[i%2], 2018+i%6, gramsOf(i))
	}
	return rows.String()
}

// homes is a spreadsheet of where they live: two racks of five shelves of six.
func homes() string {
	var rows strings.Builder
	rows.WriteString("Animal,Place,From\n")
	for i := range movedIn {
		fmt.Fprintf(&rows, "%s,Back room / Rack %d / Shelf %d / Box %d,2025-11-05\n", nameOf(i), 1+i/30, 1+i%30/6, 1+i%6)
	}
	return rows.String()
}

func nameOf(i int) string {
	return []string{"Ash", "Birch", "Clover", "Dill", "Elder", "Fern"}[i%6] + " " + []string{"one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"}[i/6]
}

func gramsOf(i int) int64 { return int64(firstGrams + i*moreGrams) }

// bring puts a spreadsheet into the home folder, chooses it in the dialog, where
// the files stand in a row after the folder above, and does what its preview asks.
func (j *journey) bring(name, rows string, place int, acts ...func() error) {
	j.Helper()
	if err := os.WriteFile(filepath.Join(j.home, name), []byte(rows), 0o600); err != nil {
		j.Fatal(err)
	}
	j.shows("bring-"+name, j.pressing("ctrl+i"))
	j.shows("choose-"+name, j.clicking(image.Pt(688, 485)))
	j.shows("chosen-"+name, j.clicking(image.Pt(423+84*place, 220)))
	j.shows("preview-"+name, j.clicking(image.Pt(1116, 698)))
	for i, act := range acts {
		j.shows(fmt.Sprintf("brought-%d-%s", i+1, name), act)
	}
}

// feedNight feeds everybody the same: one key a box.
func (j *journey) feedNight() {
	j.Helper()
	j.shows("feed", j.pressing("1"))
	j.shows("feed-all", j.pressing("Return")) // nobody was ever fed, so all are due
	for range movedIn {
		j.keys("1")
	}
	j.settle("fed")
	j.shows("after-feeding", j.pressing("Escape"))
}

// weighDay weighs everybody: the figures and Enter a box.
func (j *journey) weighDay() {
	j.Helper()
	j.shows("weigh", j.pressing("2")) // all are due, so it begins at once
	for i := range movedIn {
		if err := j.screen.types(j.ctx, fmt.Sprintf("%d", gramsOf(i)+gained)); err != nil {
			j.Fatal(err)
		}
		j.keys("Return")
	}
	j.settle("weighed")
	j.shows("after-weighing", j.pressing("Escape"))
}

// checkDaysWork finds every animal in its box, with its meal and both weights, but
// for the one weight that was taken back.
func (j *journey) checkDaysWork() {
	j.Helper()
	kept, err := store.Open(j.collection, store.Options{Now: time.Now, Verifier: store.VerifyHere})
	if err != nil {
		j.Fatal(err)
	}
	defer kept.Close()
	all, err := collection.New(kept, collection.Options{Now: time.Now})
	if err != nil {
		j.Fatal(err)
	}
	err = all.View(func(v model.View) error {
		stored, err := animals.All(v)
		if err != nil {
			return err
		}
		house, err := husbandry.ReadHouse(v)
		if err != nil {
			return err
		}
		if len(stored) != movedIn {
			j.Errorf("the store holds %d animals, want %d", len(stored), movedIn)
		}
		back := 0
		for i, a := range stored {
			meals, weights, err := day(v, a.ID)
			if err != nil {
				return err
			}
			stay, lives := house.Where(a.ID, v.Now())
			want := fmt.Sprintf("Back room, Rack %d, Shelf %d, Box %d", 1+i/30, 1+i%30/6, 1+i%6)
			if a.Name != nameOf(i) || !lives || house.Title(stay.Place) != want {
				j.Errorf("animal %d is %s in %q, want %s in %s", i, a.Name, house.Title(stay.Place), nameOf(i), want)
			}
			if len(meals) != 1 || meals[0].Outcome != care.Took {
				j.Errorf("%s has the meals %+v, want one taken", a.Name, meals)
			}
			switch {
			case len(weights) == 1 && weights[0] == gramsOf(i):
				back++
			case len(weights) != 2 || weights[0] != gramsOf(i)+gained || weights[1] != gramsOf(i):
				j.Errorf("%s has the weights %v, want %d and before it %d g", a.Name, weights, gramsOf(i)+gained, gramsOf(i))
			}
		}
		if back != 1 {
			j.Errorf("%d weights were taken back, want one", back)
		}
		return nil
	})
	if err != nil {
		j.Fatal(err)
	}
}

// day are the meals of an animal and its weights in grams, newest first.
func day(v model.View, id model.AnimalID) (meals []care.Meal, grams []int64, err error) {
	var failed error
	err = v.Timeline(id.Subject(), model.Beginning, model.EndOfTime, func(d model.Document) bool {
		var e care.Entry
		if e, _, failed = care.Decode(d); failed != nil {
			return false
		}
		switch body := e.Body.(type) {
		case care.Meal:
			meals = append(meals, body)
		case care.Weight:
			grams = append(grams, body.Mass.Milligrams/1000)
		}
		return true
	})
	if err == nil {
		err = failed
	}
	return meals, grams, err
}
