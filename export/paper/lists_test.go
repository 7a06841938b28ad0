package paper_test

import (
	"strings"
	"testing"
	"time"

	"coilward/export/paper"
	"coilward/export/papertest"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/husbandry"
)

// hashless is a paper in the text form, with a word for the hash of the tables.
func hashless(k *kept, d paper.Document) string {
	hash := k.tables.Hash()
	return strings.ReplaceAll(paper.Plain(d), strings.Join([]string{hash[:4], hash[4:8], hash[8:12]}, "\u00a0"), "HASH")
}

// stocked is a house with one of each that a list has to tell apart.
func stocked(t *testing.T) *kept {
	k := keep(t)
	day := k.now().Day()
	room := k.do(husbandry.AddPlaces{Branches: []husbandry.Branch{{Place: husbandry.Place{Name: "Weir room", Kind: husbandry.Room}}}})
	box := k.do(husbandry.AddPlaces{Parent: model.PlaceID{ID: room}, Branches: []husbandry.Branch{{Place: husbandry.Place{Name: "Mill box", Kind: husbandry.Enclosure}}}})
	add := func(a animals.Animal) { k.do(animals.Add{Animal: a}) }
	to := func(p model.Precision, d model.Day) model.Date { return model.Date{Day: d, Precision: p} }
	k.do(husbandry.Move{Animal: k.animal, Place: model.PlaceID{ID: box}, At: k.now()})
	k.do(care.Weigh{About: k.about(), Weight: care.Weight{Mass: model.Grams(1450), Gut: care.GutEmpty}})
	k.do(care.Feed{About: k.about(), Meal: care.Meal{Prey: care.Rat, Outcome: care.Took}})
	add(animals.Animal{Name: "Ash", Code: "A-2", Species: "morelia-spilota", Sex: animals.Female, SexHow: animals.HowProbed, Status: animals.Kept, Since: to(model.ToDay, day-400), From: "a keeper upstream",
		Source: animals.SourceBred, Permits: "breeder’s note 12 of 2024", Chip: animals.Chip{Digits: "276098100123456", Standard: animals.ChipISO}})
	add(animals.Animal{Name: "Brook", Status: animals.OnLoan, StatusDay: to(model.ToDay, day-3), Since: to(model.ToDay, day-500)})
	add(animals.Animal{Name: "Cinder", Status: animals.Sold, StatusDay: to(model.ToDay, day-20), Since: to(model.ToDay, day-500)})
	add(animals.Animal{Name: "Dune", Status: animals.Escaped, Since: to(model.ToDay, day-500)})
	return k
}

func TestCollectionList(t *testing.T) {
	k := stocked(t)
	var c paper.Collection
	k.view(func(v model.View) (err error) { c, err = paper.GatherCollection(v, k.tables); return err })
	c.Version = "1.0.0"
	golden(t, "collection.golden.txt", hashless(k, paper.CollectionList(c, papertest.Keys{}, paper.A4)))
}

// A last weight of a scale that has failed its check since is called doubtful.
func TestCollectionList_DoubtfulWeight(t *testing.T) {
	k := keep(t)
	scale := model.InstrumentID{ID: k.do(husbandry.AddInstrument{Instrument: husbandry.Instrument{Name: "Scale", Kind: husbandry.Scale}})}
	check := func(good bool) {
		k.do(husbandry.CheckInstrument{Instrument: scale, At: k.now(), Check: husbandry.InstrumentCheck{Good: good, Reading: "193 g", Reference: "200 g"}})
		k.clock.Pass(24 * time.Hour)
	}
	check(true)
	k.do(care.Weigh{About: k.about(), Weight: care.Weight{Mass: model.Grams(1450), Gut: care.GutEmpty, With: scale}})
	for _, good := range []bool{true, false} {
		if !good {
			k.clock.Pass(24 * time.Hour)
			check(good)
		}
		var c paper.Collection
		k.view(func(v model.View) (err error) { c, err = paper.GatherCollection(v, k.tables); return err })
		if said := paper.Plain(paper.CollectionList(c, papertest.Keys{}, paper.A4)); !strings.Contains(said, "1450000mg") && !strings.Contains(said, "1450") || strings.Contains(said, "paper.mass.doubtful") == good {
			t.Errorf("the last check of the scale was good: %v\n%s", good, said)
		}
	}
}

// The stock of three weeks ago counts the one that was sold since, and lists apart of whom
// nobody knows when it was gone; from whom they came is said only where that is asked for.
func TestStock(t *testing.T) {
	k := stocked(t)
	var s paper.Stock
	k.view(func(v model.View) (err error) {
		s, err = paper.GatherStock(v, k.tables, v.Now().Day()-21)
		return err
	})
	s.Version = "1.0.0"
	said := hashless(k, paper.StockPaper(s, papertest.Keys{}, paper.A4))
	golden(t, "stock.golden.txt", said)
	if strings.Contains(said, "upstream") {
		t.Error("from whom one came, unasked")
	}
	s.Told = true
	if !strings.Contains(paper.Plain(paper.StockPaper(s, papertest.Keys{}, paper.A4)), "paper.stock.from{From=a keeper upstream}") {
		t.Error("from whom one came was asked for")
	}
}

// A door sheet is one page to a room, with who is behind the door.
func TestDoorSheet(t *testing.T) {
	k := stocked(t)
	var s paper.DoorSheet
	k.view(func(v model.View) (err error) {
		s, err = paper.GatherDoorSheet(v, k.tables, model.PlaceID{})
		return err
	})
	d := paper.DoorSheetPaper(s, nil, papertest.Keys{}, paper.A4)
	golden(t, "door.golden.txt", paper.Plain(d))
	for _, size := range []paper.Size{paper.A4, paper.Letter} {
		for _, language := range []string{"en", "de"} {
			if pages := paper.Layout(paper.DoorSheetPaper(s, nil, papertest.Text(t, language), size)); len(pages) != len(s.Rooms) {
				t.Errorf("%s %v: %d pages for %d rooms", language, size, len(pages), len(s.Rooms))
			}
		}
	}
	k.view(func(v model.View) (err error) {
		s, err = paper.GatherDoorSheet(v, k.tables, model.PlaceID{ID: v.NewID()})
		return err
	})
	if len(s.Rooms) != 0 {
		t.Errorf("rooms of a place that holds none: %+v", s.Rooms)
	}
}
