package husbandry

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"coilward/model"
)

func id(n byte) model.ID         { return model.ID{15: n} }
func place(n byte) model.PlaceID { return model.PlaceID{ID: id(n)} }
func minute(day, m int) model.Moment {
	return model.Moment{UTC: int64(day)*86400 + int64(m)*60, Precision: model.ToMinute}
}
func onDay(day int) model.Moment { return dayMoment(model.Day(day)) }

func stay(n byte, at model.PlaceID, from, to model.Moment) StoredStay {
	return StoredStay{ID: model.StayID{ID: id(n)}, Until: to, Stay: Stay{Place: at, From: from, To: to}}
}

// said is stays in short, without their ids.
func said(stays []StoredStay) string {
	slices.SortFunc(stays, byTime)
	text := ""
	for _, s := range stays {
		text += fmt.Sprintf("%d:%d-%d ", s.Place.ID[15], s.From.UTC, s.To.UTC)
	}
	return text
}

func apply(stays []StoredStay, moved StoredStay) ([]StoredStay, *clash) {
	changed, c := settle(stays, moved)
	if c != nil {
		return stays, c
	}
	for _, s := range changed {
		stays = slices.DeleteFunc(slices.Clone(stays), func(o StoredStay) bool { return o.ID == s.ID })
		stays = append(stays, s)
	}
	slices.SortFunc(stays, byTime)
	return stays, nil
}

func drawMoment(t *rapid.T) model.Moment {
	day := rapid.IntRange(1, 12).Draw(t, "day")
	if rapid.Bool().Draw(t, "to the day") {
		return onDay(day)
	}
	return minute(day, rapid.IntRange(0, 1439).Draw(t, "minute"))
}

// No sequence of accepted moves gives stays that overlap, or two that are open.
func TestSettle_StaysNeverOverlap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var stays []StoredStay
		for n := range rapid.IntRange(1, 10).Draw(t, "moves") {
			if len(stays) > 0 && rapid.IntRange(0, 4).Draw(t, "out") == 0 {
				at := drawMoment(t)
				if ended, ok := leave(stays, at); ok && lasts(ended.Stay) == nil {
					stays = append(slices.DeleteFunc(stays, func(s StoredStay) bool { return s.ID == ended.ID }), ended)
					slices.SortFunc(stays, byTime)
				}
				continue
			}
			stays, _ = apply(stays, stay(byte(n+1), place(byte(rapid.IntRange(1, 3).Draw(t, "place"))), drawMoment(t), model.Moment{}))
		}
		open := 0
		for i, s := range stays {
			if s.To.IsZero() {
				open++
			}
			if r := lasts(s.Stay); r != nil {
				t.Fatalf("%v: %v", s, r)
			}
			for _, o := range stays[:i] {
				if s.overlaps(o.Stay) || o.overlaps(s.Stay) {
					t.Fatalf("%v overlaps %v", s.Stay, o.Stay)
				}
			}
		}
		if open > 1 {
			t.Fatalf("%d open stays", open)
		}
	})
}

// Moves to places of their own at days of their own give the same stays in
// whatever order they are entered.
func TestSettle_OrderOfInputDoesNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		days := rapid.SliceOfNDistinct(rapid.IntRange(1, 30), 1, 8, rapid.ID).Draw(t, "days")
		var moves []StoredStay
		for n, day := range days {
			at := onDay(day)
			if rapid.Bool().Draw(t, "to the minute") {
				at = minute(day, 9*60)
			}
			moves = append(moves, stay(byte(n+1), place(byte(n+1)), at, model.Moment{}))
		}
		enter := func(moves []StoredStay) string {
			var stays []StoredStay
			for _, m := range moves {
				var c *clash
				if stays, c = apply(stays, m); c != nil {
					t.Fatalf("%v: %s", m, c.reason)
				}
			}
			return said(stays)
		}
		sorted := slices.Clone(moves)
		slices.SortFunc(sorted, byTime)
		if a, b := enter(sorted), enter(rapid.Permutation(moves).Draw(t, "order")); a != b {
			t.Fatalf("by time %s, otherwise %s", a, b)
		}
	})
}

func TestSettle(t *testing.T) {
	none := model.Moment{}
	for _, c := range []struct {
		name  string
		stays []StoredStay
		to    model.PlaceID
		at    model.Moment
		want  string // stays after, or the reason of the clash
	}{
		{"the first", nil, place(1), onDay(3), said([]StoredStay{stay(9, place(1), onDay(3), none)})},
		{"onwards", []StoredStay{stay(1, place(1), onDay(1), none)}, place(2), onDay(3), said([]StoredStay{stay(1, place(1), onDay(1), onDay(3)), stay(9, place(2), onDay(3), none)})},
		{"between two", []StoredStay{stay(1, place(1), onDay(1), onDay(9)), stay(2, place(2), onDay(9), none)}, place(3), onDay(3),
			said([]StoredStay{stay(1, place(1), onDay(1), onDay(3)), stay(9, place(3), onDay(3), onDay(9)), stay(2, place(2), onDay(9), none)})},
		{"before the first", []StoredStay{stay(1, place(1), onDay(5), none)}, place(2), onDay(3), said([]StoredStay{stay(9, place(2), onDay(3), onDay(5)), stay(1, place(1), onDay(5), none)})},
		{"into a gap, until the next", []StoredStay{stay(1, place(1), onDay(1), onDay(2)), stay(2, place(1), onDay(9), none)}, place(2), onDay(4),
			said([]StoredStay{stay(1, place(1), onDay(1), onDay(2)), stay(9, place(2), onDay(4), onDay(9)), stay(2, place(1), onDay(9), none)})},
		{"out ends it still", []StoredStay{stay(1, place(1), onDay(1), onDay(8))}, place(2), onDay(4), said([]StoredStay{stay(1, place(1), onDay(1), onDay(4)), stay(9, place(2), onDay(4), onDay(8))})},
		{"at the end of the last", []StoredStay{stay(1, place(1), onDay(1), onDay(4))}, place(2), onDay(4), said([]StoredStay{stay(1, place(1), onDay(1), onDay(4)), stay(9, place(2), onDay(4), none)})},
		{"there already", []StoredStay{stay(1, place(1), onDay(1), none)}, place(1), onDay(3), "stay.there"},
		{"there later", []StoredStay{stay(1, place(1), onDay(5), none)}, place(1), onDay(3), "stay.there-later"},
		{"on the same day", []StoredStay{stay(1, place(1), onDay(3), none)}, place(2), minute(3, 600), "stay.same"},
		{"at the same minute", []StoredStay{stay(1, place(1), minute(3, 600), none)}, place(2), minute(3, 600), "stay.same"},
		{"a minute later", []StoredStay{stay(1, place(1), minute(3, 600), none)}, place(2), minute(3, 601), said([]StoredStay{stay(1, place(1), minute(3, 600), minute(3, 601)), stay(9, place(2), minute(3, 601), none)})},
	} {
		stays, clashed := apply(c.stays, stay(9, c.to, c.at, none))
		got := said(stays)
		if clashed != nil {
			got = clashed.reason
		}
		if got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
	}
}

func TestStay_CoversAndOverlapsAtTheEdges(t *testing.T) {
	s := Stay{From: minute(3, 600), To: minute(5, 600)}
	for at, want := range map[model.Moment]bool{minute(3, 599): false, minute(3, 600): true, minute(5, 599): true, minute(5, 600): false,
		onDay(2): false, onDay(3): true, onDay(4): true, onDay(5): false} {
		if s.covers(at) != want {
			t.Errorf("%v: %v", at, !want)
		}
	}
	for _, c := range []struct {
		from, to model.Moment
		want     bool
	}{
		{minute(1, 0), minute(3, 600), false}, {minute(1, 0), minute(3, 601), true}, {minute(5, 599), model.Moment{}, true}, {minute(5, 600), model.Moment{}, false},
		{onDay(5), model.Moment{}, false}, {onDay(4), onDay(4), true}, {onDay(1), onDay(3), false}, {onDay(1), onDay(4), true},
	} {
		o := Stay{From: c.from, To: c.to}
		if s.overlaps(o) != c.want || o.overlaps(s) != c.want {
			t.Errorf("%v to %v: %v", c.from, c.to, !c.want)
		}
	}
	for _, c := range []struct {
		from, to model.Moment
		lasts    bool
	}{
		{minute(3, 1), minute(3, 1), false}, {minute(3, 1), minute(3, 2), true}, {minute(3, 2), minute(3, 1), false}, {onDay(3), onDay(3), true},
		{onDay(3), onDay(2), false}, {minute(3, 1), onDay(3), true}, {minute(3, 1), model.Moment{}, true},
	} {
		if (lasts(Stay{From: c.from, To: c.to}) == nil) != c.lasts {
			t.Errorf("%v to %v: %v", c.from, c.to, !c.lasts)
		}
	}
}

func TestDoubtful(t *testing.T) {
	check := func(day int, good bool) Checked {
		return Checked{Entry: model.EntryID{ID: id(byte(day))}, At: minute(day, 600), InstrumentCheck: InstrumentCheck{Good: good}}
	}
	none := model.Moment{}
	for _, c := range []struct {
		name   string
		checks []Checked
		want   []Span
	}{
		{"never checked", nil, nil},
		{"good", []Checked{check(1, true), check(5, true)}, nil},
		{"failed at first", []Checked{check(5, false)}, []Span{{none, none}}},
		{"failed after a good one", []Checked{check(1, true), check(5, false)}, []Span{{minute(1, 600), none}}},
		{"failed and mended", []Checked{check(1, true), check(5, false), check(6, false), check(7, true), check(9, true)}, []Span{{minute(1, 600), minute(7, 600)}}},
		{"twice", []Checked{check(1, false), check(2, true), check(3, true), check(4, false), check(5, true)}, []Span{{none, minute(2, 600)}, {minute(3, 600), minute(5, 600)}}},
	} {
		backwards := slices.Clone(c.checks)
		slices.Reverse(backwards)
		if got := Doubtful(c.checks); !slices.Equal(got, c.want) || !slices.Equal(Doubtful(backwards), c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
	spans := []Span{{minute(1, 600), minute(5, 600)}}
	for at, want := range map[model.Moment]bool{minute(1, 600): false, minute(1, 601): true, minute(5, 599): true, minute(5, 600): false, minute(6, 0): false,
		onDay(1): true, onDay(5): true, onDay(6): false, onDay(0): false} {
		if In(spans, at) != want {
			t.Errorf("%v: %v", at.Time().Format(time.DateTime), !want)
		}
	}
	if !In([]Span{{}}, minute(9, 0)) || In(nil, minute(9, 0)) {
		t.Error("without bounds")
	}
}
