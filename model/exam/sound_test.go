package exam_test

import (
	"encoding/json"
	"testing"

	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/body"
	"coilward/model/exam"
)

func TestDraftsThatNoCheckCouldHaveMadeAreUnsound(t *testing.T) {
	tb := tables(t)
	at := model.Moment{UTC: 1_800_000_000}
	begun := exam.Begin(tb, exam.Beginning{Check: model.EntryID{ID: model.ID{1}}, Animal: model.AnimalID{ID: model.ID{2}}, At: at})
	marked := begun.Mark(tb, tb.Findings()[0].ID, at)
	changed := func(change func(*exam.Draft)) exam.Draft {
		raw, err := json.Marshal(marked)
		if err != nil {
			t.Fatal(err)
		}
		d, err := exam.ReadDraft(raw)
		if err != nil {
			t.Fatal(err)
		}
		change(&d)
		return d
	}
	for name, c := range map[string]struct {
		draft exam.Draft
		sound bool
	}{
		"begun":         {begun, true},
		"marked":        {changed(func(*exam.Draft) {}), true},
		"stop":          {changed(func(d *exam.Draft) { d.Stops[0].Stop = "wing" }), false},
		"older stop":    {changed(func(d *exam.Draft) { d.Stops[0].Stop, d.Tables = "wing", "older" }), true},
		"answer":        {changed(func(d *exam.Draft) { d.Stops[0].Look = "smelt" }), false},
		"finding":       {changed(func(d *exam.Draft) { d.Findings[0].What = "feather" }), false},
		"standing":      {changed(func(d *exam.Draft) { d.Findings[0].Standing = "flying" }), false},
		"far place":     {changed(func(d *exam.Draft) { d.Findings[0].Place = body.Place{Part: body.Trunk, Along: 1 << 40} }), false},
		"turned place":  {changed(func(d *exam.Draft) { d.Findings[0].Place = body.Place{Part: body.Tail, Angle: -1 << 40} }), false},
		"unknown view":  {changed(func(d *exam.Draft) { d.Pointed = body.Place{Part: body.Head, View: "inside"} }), false},
		"unknown part":  {changed(func(d *exam.Draft) { d.Pointed = body.Place{Part: "wing"} }), false},
		"unknown skin":  {changed(func(d *exam.Draft) { d.Pointed = body.Place{Part: body.Trunk, Region: "wing"} }), false},
		"negative size": {changed(func(d *exam.Draft) { d.Findings[0].Size.Tenths = -5 }), false},
		"earlier place": {changed(func(d *exam.Draft) {
			d.Earlier = []exam.Earlier{{Stop: d.Stops[0].Stop, What: tb.Findings()[0].ID, Before: exam.Glimpse{Place: body.Place{Part: body.Trunk, Along: -1}}}}
		}), false},
		"past finding": {changed(func(d *exam.Draft) { d.Past = []exam.Earlier{{Stop: d.Stops[0].Stop, What: "feather"}} }), false},
	} {
		if err := c.draft.Sound(tb); (err == nil) != c.sound {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestEveryDraftOfACheckIsSound(t *testing.T) {
	tb := tables(t)
	rapid.Check(t, func(rt *rapid.T) {
		if err := drawDraft(rt, tb).Sound(tb); err != nil {
			rt.Fatal(err)
		}
	})
}
