package exam_test

import (
	"testing"

	"coilward/model"
	"coilward/model/exam"
	"coilward/model/knowledge"
)

// What an everyday entry had set on for the vet is not put off by noting the same
// in a check.
func TestAnEntrysDayForTheVetHoldsInACheck(t *testing.T) {
	tb := tables(t)
	at := model.Moment{UTC: int64(model.NewDay(2027, 6, 9)) * 86_400}
	set := at.Day() - 2
	d := exam.Begin(tb, exam.Beginning{Check: model.EntryID{ID: model.ID{1}}, Animal: model.AnimalID{ID: model.ID{2}}, At: at,
		Noted: map[knowledge.FindingID]model.Day{knowledge.Regurgitated: set, "mites": set + 1}})
	at2 := -1
	for i, s := range d.Stops {
		if stop, _ := tb.Stop(s.Stop); contains(stop.Choices, knowledge.Regurgitated) {
			at2 = i
			break
		}
	}
	d = d.Go(at2).Mark(tb, knowledge.Regurgitated, at)
	if got := d.Findings[0].VetBy; got != set {
		t.Errorf("set on for %v, want %v", got, set)
	}
	if by, wanted := d.Verdict(tb, at).VetBy(); !wanted || by > set {
		t.Errorf("the vet by %v, %v; want no later than %v", by, wanted, set)
	}
	if other := d.Go(at2).Mark(tb, knowledge.Other, at); len(other.Findings) == 2 && other.Findings[1].VetBy != 0 {
		t.Errorf("another finding took the day: %v", other.Findings[1].VetBy)
	}
}

func contains(all []knowledge.FindingID, one knowledge.FindingID) bool {
	for _, a := range all {
		if a == one {
			return true
		}
	}
	return false
}

// A check of version 1, as it lies in collections of old, is read whole. It knew
// no day that was set on for the vet, and no place that nobody pointed to in its
// verdict.
func TestACheckOfVersion1IsRead(t *testing.T) {
	body := `{"begun":{"utc":1000000,"precision":"minute"},"stops":[{"stop":"skin","look":"seen","at":{"utc":1000060,"precision":"minute"}}],
"findings":[{"standing":"new","stop":"skin","what":"mites","place":{},"grade":"slight","at":{"utc":1000060,"precision":"minute"}}],
"finished":{"utc":1000600,"precision":"minute"},
"verdict":{"level":"vet-within-days","reasons":[{"rule":"mites","level":"vet-within-days","signs":[0],"source":"common practice, no source"}],
"signs":[{"stop":"skin","what":"mites","grade":"slight","standing":"new","place":{},"seen":"1970-01-12"}],"day":"1970-01-12","vetWithin":5,"tables":"old"}}`
	c, err := exam.ReadCheck(model.Document{Type: model.TypeEntry, Kind: exam.KindCheck, Version: 1, Body: []byte(body)})
	if err != nil {
		t.Fatal(err)
	}
	by, wanted := c.Verdict.VetBy()
	if len(c.Findings) != 1 || c.Findings[0].What != "mites" || c.Findings[0].VetBy != 0 || !wanted || by != 16 {
		t.Errorf("read %+v; the vet by %v, %v", c, by, wanted)
	}
}
