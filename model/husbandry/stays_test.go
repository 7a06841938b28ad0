package husbandry_test

import (
	"errors"
	"strings"
	"testing"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/husbandry"
)

func TestMovesThatCannotStand(t *testing.T) {
	w := begin(t)
	shelf := w.place(model.PlaceID{}, "Shelf", husbandry.Shelf)
	one, two := w.place(shelf, "one", husbandry.Tub), w.place(shelf, "two", husbandry.Vivarium)
	asp, brook := w.animal("Asp"), w.animal("Brook")
	w.do(husbandry.Move{Animal: asp, Place: one, At: ago(20)})
	move := func(place model.PlaceID, at model.Moment) husbandry.Move {
		return husbandry.Move{Animal: asp, Place: place, At: at}
	}
	vague := ago(10)
	vague.Precision = model.ToMonth
	soon, later := ago(0), ago(0)
	soon.UTC, later.UTC = soon.UTC+60, later.UTC+61
	for _, c := range []struct {
		name    string
		command model.Command
		field   string
		want    string
	}{
		{"onto a shelf", move(shelf, ago(5)), "stay-place", "house.no-enclosure"},
		{"into nothing", move(model.PlaceID{ID: model.ID{99}}, ago(5)), "stay-place", "house.gone"},
		{"without a day", move(two, model.Moment{}), "from", "day.empty"},
		{"some day of a month", move(two, vague), "from", "day.vague"},
		{"tomorrow", move(two, ago(-1)), "from", "day.future"},
		{"more than a minute ahead", move(two, later), "from", "day.future"},
		{"where it lives already", move(one, ago(5)), "stay-place", "stay.there"},
		{"where it lives later", move(one, ago(21)), "from", "stay.there-later"},
		{"at the same minute", move(two, ago(20)), "from", "stay.same"},
		{"before it hatched", husbandry.Move{Animal: asp, Place: two, At: model.Moment{UTC: 0, Precision: model.ToDay}}, "from", "day.before-hatching"},
		{"before it came", move(two, ago(1300)), "from", "day.before-arrival"},
		{"with a long note", husbandry.Move{Animal: asp, Place: two, At: ago(5), Note: strings.Repeat("a", 10_001)}, "note", "text.long"},
		{"of nobody", husbandry.MoveAll{At: ago(5)}, "stay-animal", "move.nobody"},
		{"of one twice", husbandry.MoveAll{At: ago(5), Moves: []husbandry.Relocation{{Animal: brook, Place: two}, {Animal: brook, Place: one}}}, "stay-animal", "move.twice"},
		{"to where another lives", husbandry.Move{Animal: brook, Place: one, At: ago(5)}, "stay-place", "house.shared"},
		{"before it came, so confirmed", husbandry.Move{Animal: brook, Place: two, At: ago(1300), Confirmed: model.Confirmed{"day.before-arrival"}}, "", ""},
		{"a minute ahead", husbandry.Move{Animal: brook, Place: one, At: soon, Confirmed: model.Confirmed{"house.shared"}}, "", ""},
	} {
		if r := w.refuses(c.name, c.command, c.want); r != nil && r.Field != c.field {
			t.Errorf("%s: at field %q, want %q", c.name, r.Field, c.field)
		}
	}
	w.missing("of what is no animal", husbandry.Move{Animal: model.AnimalID(one), Place: two, At: ago(5)})
	w.missing("of nobody that is there", husbandry.Move{Animal: model.AnimalID{ID: model.ID{99}}, Place: two, At: ago(5)})
}

// Two that swap share nothing; where one comes to another it is asked, by the
// name of who is there, and only where the times meet.
func TestSharing(t *testing.T) {
	w := begin(t)
	one, two, three := w.place(model.PlaceID{}, "one", husbandry.Tub), w.place(model.PlaceID{}, "two", husbandry.Tub), w.place(model.PlaceID{}, "three", husbandry.Tub)
	asp, brook, cress := w.animal("Asp"), w.animal("Brook"), w.animal("Cress")
	w.do(husbandry.MoveAll{At: ago(40), Moves: []husbandry.Relocation{{Animal: asp, Place: one}, {Animal: brook, Place: two}}})
	done := w.do(husbandry.MoveAll{At: ago(30), Moves: []husbandry.Relocation{{Animal: asp, Place: two}, {Animal: brook, Place: one}}})
	if done.Label.Key != "husbandry.done.move-all" || done.Label.Gaps["Count"].Number != 2 || len(done.Documents) != 4 {
		t.Errorf("%+v", done)
	}
	r := w.refuses("to both", husbandry.Move{Animal: cress, Place: one, At: ago(35)}, "house.shared")
	if r.Answer != model.Confirm || r.Gaps["Other"].Text != "Asp" || r.Gaps["Animal"].Text != "Cress" || r.Gaps["Place"].Text != "one" {
		t.Errorf("%+v", r)
	}
	both := husbandry.MoveAll{At: ago(20), Moves: []husbandry.Relocation{{Animal: asp, Place: three}, {Animal: brook, Place: three}}}
	w.refuses("both into one", both, "house.shared")
	if len(w.house().Stays(asp)) != 2 {
		t.Error("one of them moved")
	}
	both.Confirmed = model.Confirmed{"house.shared"}
	w.do(both)
	if living := w.house().Living(three, ago(0)); len(living) != 2 || living[0] != asp && living[0] != brook {
		t.Errorf("%v", living)
	}
	w.do(husbandry.MoveOut{Animal: asp, At: ago(10)})
	w.do(husbandry.MoveOut{Animal: brook, At: ago(10)})
	w.refuses("into the room that they left", husbandry.Move{Animal: cress, Place: three, At: ago(10)}, "")
	w.do(animals.SetStatus{ID: cress, Base: 1, Status: animals.Died, Day: onDay(6)})
	w.refuses("where one died", husbandry.Move{Animal: asp, Place: three, At: ago(5)}, "")
	w.refuses("where one lived still", husbandry.Move{Animal: brook, Place: three, At: ago(7)}, "house.shared")
	w.refuses("of the dead, after", husbandry.Move{Animal: cress, Place: one, At: ago(5)}, "animal.gone")
	w.refuses("of the dead, on its last day", husbandry.Move{Animal: cress, Place: one, At: ago(6)}, "")
}

func TestMoveOut(t *testing.T) {
	w := begin(t)
	tub, asp := w.place(model.PlaceID{}, "Box", husbandry.Tub), w.animal("Asp")
	w.refuses("that lives nowhere", husbandry.MoveOut{Animal: asp, At: ago(5)}, "stay.nowhere")
	w.do(husbandry.Move{Animal: asp, Place: tub, At: ago(20)})
	w.refuses("before it moved in", husbandry.MoveOut{Animal: asp, At: ago(21)}, "stay.nowhere")
	w.refuses("at the minute of moving in", husbandry.MoveOut{Animal: asp, At: ago(20)}, "stay.end-first")
	w.refuses("tomorrow", husbandry.MoveOut{Animal: asp, At: ago(-1)}, "day.future")
	w.missing("of nobody", husbandry.MoveOut{Animal: model.AnimalID{ID: model.ID{99}}, At: ago(5)})
	done := w.do(husbandry.MoveOut{Animal: asp, At: ago(5)})
	if s := w.house().Stays(asp)[0]; s.To != ago(5) || done.Label.Gaps["Place"].Text != "Box" || done.Label.Gaps["Animal"].Text != "Asp" {
		t.Errorf("%+v, %+v", s, done.Label)
	}
	w.refuses("twice", husbandry.MoveOut{Animal: asp, At: ago(4)}, "stay.nowhere")
	w.refuses("on the day of moving in", husbandry.MoveOut{Animal: asp, At: dayAgo(20)}, "")
}

func TestChangeAndRemoveStay(t *testing.T) {
	w := begin(t)
	shelf := w.place(model.PlaceID{}, "Shelf", husbandry.Shelf)
	one, two, three := w.place(shelf, "one", husbandry.Tub), w.place(shelf, "two", husbandry.Tub), w.place(shelf, "three", husbandry.Tub)
	asp, brook := w.animal("Asp"), w.animal("Brook")
	w.do(husbandry.Move{Animal: asp, Place: one, At: ago(40)})
	w.do(husbandry.Move{Animal: asp, Place: two, At: ago(20)})
	w.do(husbandry.Move{Animal: brook, Place: three, At: ago(40)})
	first := w.house().Stays(asp)[0]
	change := func(place model.PlaceID, from, to model.Moment) husbandry.ChangeStay {
		return husbandry.ChangeStay{ID: first.ID, Base: w.house().Stays(asp)[0].Revision, Place: place, From: from, To: to}
	}
	r := w.refuses("into its next stay", change(one, ago(40), ago(19)), "stay.overlap")
	if r.Gaps["Other"].Text != "Shelf, two" || r.Gaps["Place"].Text != "Shelf, one" || r.Gaps["OtherTo"].Text != "husbandry.today" || r.Gaps["OtherFrom"].Number != int64(ago(20).Day()) {
		t.Errorf("%+v", r.Gaps)
	}
	second := w.house().Stays(asp)[1]
	w.refuses("into its stay before", husbandry.ChangeStay{ID: second.ID, Base: second.Revision, Place: two, From: ago(21)}, "stay.overlap")
	w.refuses("without an end", change(one, ago(40), model.Moment{}), "stay.overlap")
	w.refuses("ended before it begins", change(one, ago(40), ago(41)), "stay.end-first")
	w.refuses("ended as it begins", change(one, ago(40), ago(40)), "stay.end-first")
	w.refuses("begun tomorrow", change(one, ago(-1), model.Moment{}), "day.future")
	w.refuses("ended tomorrow", change(one, ago(40), ago(-1)), "day.future")
	w.refuses("begun some day", change(one, model.Moment{}, ago(30)), "day.empty")
	w.refuses("on a shelf", change(shelf, ago(40), ago(20)), "house.no-enclosure")
	w.refuses("nowhere", change(model.PlaceID{ID: model.ID{99}}, ago(40), ago(20)), "house.gone")
	w.refuses("before it came", change(one, ago(1300), ago(20)), "day.before-arrival")
	w.refuses("with a bell in the note", husbandry.ChangeStay{ID: first.ID, Base: first.Revision, Place: one, From: ago(40), To: ago(20), Note: "\a"}, "text.control")
	w.refuses("where another lives", change(three, ago(40), ago(20)), "house.shared")
	w.missing("one that is not there", husbandry.ChangeStay{ID: model.StayID{ID: model.ID{99}}, Place: one, From: ago(40)})
	shared := change(three, ago(40), ago(20))
	shared.Confirmed = model.Confirmed{"house.shared"}
	w.do(shared)
	again := change(three, ago(40), ago(20))
	again.Note = "beside Brook"
	w.refuses("of which only the note is changed", again, "")
	w.do(change(one, ago(38), ago(30)))
	if s := w.house().Stays(asp)[0]; s.Place != one || s.From != ago(38) || s.To != ago(30) || s.Until != ago(30) || s.Note != "" {
		t.Errorf("%+v", s)
	}
	if _, err := w.Do(husbandry.ChangeStay{ID: first.ID, Base: first.Revision, Place: one, From: ago(38), To: ago(30)}); !errors.Is(err, model.ErrConflict) {
		t.Errorf("on an old revision: %v", err)
	}
	done := w.do(husbandry.RemoveStay{ID: first.ID})
	if s := w.house().Stays(asp); len(s) != 1 || s[0].Place != two || done.Label.Gaps["Animal"].Text != "Asp" || done.Label.Gaps["Place"].Text != "Shelf, one" {
		t.Errorf("%+v, %+v", s, done.Label)
	}
	w.missing("removed twice", husbandry.RemoveStay{ID: first.ID})
}

// A place that is closed takes an animal as long as it was in use.
func TestMovesIntoAPlaceThatWasClosedLater(t *testing.T) {
	for closed, want := range map[int]string{9: "", 10: "", 11: "house.closed"} {
		w := begin(t)
		one, two, asp := w.place(model.PlaceID{}, "one", husbandry.Tub), w.place(model.PlaceID{}, "two", husbandry.Tub), w.animal("Asp")
		w.do(husbandry.Move{Animal: asp, Place: one, At: ago(20)})
		done := w.do(husbandry.Move{Animal: asp, Place: two, At: ago(10)})
		if done.Label.Key != "husbandry.done.move" || done.Label.Gaps["Animal"].Text != "Asp" || done.Label.Gaps["Place"].Text != "two" {
			t.Errorf("%+v", done.Label)
		}
		old := w.add(model.PlaceID{}, husbandry.Place{Name: "old", Kind: husbandry.Tub, Closed: onDay(closed)})
		w.refuses("closed later", husbandry.Move{Animal: asp, Place: old, At: ago(15)}, want)
	}
}

// By whom and why stands with the stay.
func TestWhatAStayCarries(t *testing.T) {
	w := begin(t)
	tub, asp, by := w.place(model.PlaceID{}, "one", husbandry.Tub), w.animal("Asp"), model.PersonID{ID: model.ID{7}}
	w.do(husbandry.Move{Animal: asp, Place: tub, At: dayAgo(20), By: by, Note: "the heater failed"})
	s := w.house().Stays(asp)[0]
	if s.By != by || s.Note != "the heater failed" || s.From != dayAgo(20) || s.Revision != 1 || !s.To.IsZero() {
		t.Errorf("%+v", s)
	}
	w.do(husbandry.ChangeStay{ID: s.ID, Base: 1, Place: tub, From: dayAgo(20), Note: "its heater"})
	if s = w.house().Stays(asp)[0]; !s.By.IsZero() || s.Note != "its heater" || s.Revision != 2 {
		t.Errorf("%+v", s)
	}
}
