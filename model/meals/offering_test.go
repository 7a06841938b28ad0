package meals_test

import (
	"errors"
	"testing"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/exam"
	"coilward/model/history"
	"coilward/model/meals"
	"coilward/model/storetest"
)

// What the records of an adult of 1500 g tell before a meal: offered again after 14 days
// and after one that came up after the wait of the tables, which remember it for 30 days;
// within 8 days of a meal it is that which comes up. Sources: rhythm.txt and values.txt.
func TestOf(t *testing.T) {
	tables := shipped(t)
	today := model.MomentOf(storetest.Start()).Day()
	batch, older := model.BatchID{ID: model.ID{7}}, model.BatchID{ID: model.ID{8}}
	from := func(id byte, ago int, o care.Outcome, b model.BatchID) care.Entry {
		e := meal(id, ago, 80, o)
		m := e.Body.(care.Meal)
		m.Batch = b
		e.Body = m
		return e
	}
	note := care.Entry{ID: model.EntryID{ID: model.ID{99}}, At: model.MomentOf(storetest.Start()), Body: care.Note{Text: "calm"}}
	none := model.BatchID{}
	for name, c := range map[string]struct {
		entries []care.Entry
		next    model.Day // from today on; -99: nothing was offered
		of      model.BatchID
		times   int
	}{
		"nothing":                        {nil, -99, none, 0},
		"a note":                         {[]care.Entry{note}, -99, none, 0},
		"taken on the last day it fills": {[]care.Entry{note, from(1, 8, care.Took, batch)}, 6, batch, 0},
		"taken the day before":           {[]care.Entry{from(1, 9, care.Took, batch)}, 5, none, 0},
		"taken today":                    {[]care.Entry{from(1, 0, care.Took, batch)}, 14, batch, 0},
		"refused since":                  {[]care.Entry{from(2, 1, care.Refused, older), from(1, 3, care.Took, batch)}, 13, batch, 0},
		"refused alone":                  {[]care.Entry{from(2, 1, care.Refused, older)}, 13, none, 0},
		"one later, by a wrong clock":    {[]care.Entry{from(2, -2, care.Took, older), from(1, 3, care.Took, batch)}, 16, batch, 0},
		"came up already":                {[]care.Entry{from(2, 2, care.Regurgitated, batch), from(1, 3, care.Took, batch)}, 12, none, 1},
		"twice in 30 days":               {[]care.Entry{from(3, 20, care.Regurgitated, none), from(2, 30, care.Regurgitated, none), from(1, 31, care.Regurgitated, none)}, -6, none, 2},
	} {
		got := meals.Of(tables, "Brook", history.Records{Context: exam.Context{Mass: model.Grams(1500)}, Entries: c.entries}, today)
		next := got.Next - today
		if got.Next == 0 {
			next = -99
		}
		if next != c.next || got.Of != c.of || got.Times != c.times || got.Name != "Brook" {
			t.Errorf("%s: next in %d days, of %v, %d times", name, next, got.Of, got.Times)
		}
	}
}

// The question names how large a share of the animal a meal is.
func TestAskNamesTheShare(t *testing.T) {
	b := begin(t)
	_, err := b.Do(meals.Offer{Tables: shipped(t), About: b.about(0), Meal: rat(150, care.Took)})
	var r *model.Refusal
	if !errors.As(err, &r) || r.Reason != meals.AskMore || r.Gaps["Share"] != model.ShareGap(1000) || r.Gaps["Prey"] != model.MassGap(model.Grams(150)) || r.Gaps["Mass"] != model.MassGap(model.Grams(1500)) {
		t.Errorf("%+v", r)
	}
}

// A meal of an animal that was removed in the meantime is refused at its field, without a question.
func TestOfferToNobody(t *testing.T) {
	b := begin(t)
	about := b.about(0)
	about.Animal = model.AnimalID{ID: model.ID{1}}
	_, err := b.Do(meals.Offer{Tables: shipped(t), About: about, Meal: rat(50, care.Took)})
	var r *model.Refusal
	if !errors.As(err, &r) || r.Field != "animal" || r.Reason != "animal.missing" || r.Answer != model.Mend {
		t.Errorf("%v", err)
	}
}
