package round_test

import (
	"errors"
	"slices"
	"testing"

	"coilward/model"
	"coilward/model/round"
)

func TestReadException(t *testing.T) {
	for typed, want := range map[string]round.Exception{
		"3":                  {Box: 2, Passed: true},
		" 3 ":                {Box: 2, Passed: true},
		"1 shed  lies there": {Box: 0, Note: "shed  lies there"},
		"4 7":                {Box: 3, Note: "7"},
		"4-":                 {Box: 3, NotReached: true},
	} {
		if got, err := round.ReadException(typed, 4); err != nil || got != want {
			t.Errorf("%q: %+v, %v", typed, got, err)
		}
	}
	for typed, why := range map[string]string{"": "round.line", "0": "round.line", "5": "round.line", "shed": "round.line", "-1": "round.line", "3--": "round.line", "3- shed": "round.line-more", "3 a\x00": "text.control"} {
		if _, err := round.ReadException(typed, 4); reason(err) != why {
			t.Errorf("%q: %v, want %s", typed, err, why)
		}
	}
}

// Nothing that was typed of a box behind the end is lost without a word: it is refused, in
// either order; the same once more takes it back.
func TestWith(t *testing.T) {
	left, noted, end, sooner := round.Exception{Box: 2, Passed: true}, round.Exception{Box: 7, Note: "calm"}, round.Exception{Box: 6, NotReached: true}, round.Exception{Box: 5, NotReached: true}
	for name, c := range map[string]struct {
		before []round.Exception
		with   round.Exception
		want   []round.Exception
		why    string
	}{
		"the first":                  {nil, left, []round.Exception{left}, ""},
		"once more":                  {[]round.Exception{left, noted}, left, []round.Exception{noted}, ""},
		"another of the box":         {[]round.Exception{left}, round.Exception{Box: 2, Note: "in blue"}, []round.Exception{{Box: 2, Note: "in blue"}}, ""},
		"a note behind the end":      {[]round.Exception{end}, noted, nil, "round.line-after"},
		"an end before a note":       {[]round.Exception{noted}, end, nil, "round.line-after"},
		"one before the end":         {[]round.Exception{end}, left, []round.Exception{end, left}, ""},
		"another end":                {[]round.Exception{end}, sooner, []round.Exception{sooner}, ""},
		"of the box that is the end": {[]round.Exception{end}, round.Exception{Box: 6, Passed: true}, []round.Exception{{Box: 6, Passed: true}}, ""},
	} {
		got, err := round.With(c.before, c.with, "typed")
		if reason(err) != c.why || c.why == "" && (err != nil || !slices.Equal(got, c.want)) {
			t.Errorf("%s: %+v, %v", name, got, err)
		}
		var r *model.Refusal
		if errors.As(err, &r) && (r.Gaps["End"] != model.CountGap(7) || r.Gaps["Box"] != model.CountGap(8)) {
			t.Errorf("%s: the boxes named are %+v", name, r.Gaps)
		}
	}
}

// Every box is kept as printed, but for the exceptions; from where the round ended on
// nothing is.
func TestSheet_Looks(t *testing.T) {
	o, _ := tablesOf.Round("ill-newcomers")
	s := round.Sheet{Order: o}
	for i, c := range []round.Class{round.Resident, round.Resident, round.NearPositive, round.Ill} {
		s.Part.Stops = append(s.Part.Stops, round.Stop{Place: place(i), Animals: []model.AnimalID{animal(i)}, Classes: []round.Class{c}})
	}
	told := func(looks []round.Look) (all []string) {
		for _, l := range looks {
			word := l.Class + " " + l.Note
			if l.Passed {
				word += "left out"
			}
			all = append(all, word)
		}
		return all
	}
	for name, c := range map[string]struct {
		exceptions []round.Exception
		want       []string
	}{
		"as printed": {nil, []string{"resident ", "resident ", "near-positive ", "ill "}},
		"some":       {[]round.Exception{{Box: 1, Passed: true}, {Box: 2, Note: "shed"}}, []string{"resident ", "resident left out", "near-positive shed", "ill "}},
		"the end":    {[]round.Exception{{Box: 2, NotReached: true}, {Box: 0, Note: "shed"}}, []string{"resident shed", "resident "}},
		"the last":   {[]round.Exception{{Box: 3, NotReached: true}}, []string{"resident ", "resident ", "near-positive "}},
		"put right":  {[]round.Exception{{Box: 0, Passed: true}, {Box: 0, Note: "shed"}}, []string{"resident shed", "resident ", "near-positive ", "ill "}},
	} {
		looks := s.Looks(c.exceptions)
		if got := told(looks); !slices.Equal(got, c.want) {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
		for i, l := range looks {
			if l.Place != place(i) || !slices.Equal(l.Animals, s.Part.Stops[i].Animals) {
				t.Errorf("%s: box %d is %+v", name, i, l)
			}
		}
	}
	planned := s.Planned()
	if len(planned) != 4 || planned[3].Place != place(3) || !slices.Equal(planned[3].Animals, s.Part.Stops[3].Animals) {
		t.Errorf("planned %+v", planned)
	}
}

// A sheet is found among those of all orders by the order of its boxes; where none is like
// it, that is said, and it is of the order that was chosen last.
func TestReadSheet(t *testing.T) {
	b := newBegun(t, 3)
	read := func(matches func([]round.Stop) bool) (s round.Sheet) {
		t.Helper()
		if err := b.View(func(v model.View) (err error) { s, err = round.ReadSheet(v, tablesOf, matches); return err }); err != nil {
			t.Fatal(err)
		}
		return s
	}
	if s := read(func([]round.Stop) bool { return false }); s.Alike || s.Order.ID != tablesOf.Rounds()[0].ID || len(s.Part.Stops) != 3 {
		t.Errorf("none alike: %+v", s)
	}
	n := 0
	third := read(func(stops []round.Stop) bool { n++; return n == 3 })
	if !third.Alike || third.Order.ID != tablesOf.Rounds()[1].ID {
		t.Errorf("the third that is tried is of %s", third.Order.ID)
	}
	empty := newBegun(t, 0)
	err := empty.View(func(v model.View) error {
		_, err := round.ReadSheet(v, tablesOf, func([]round.Stop) bool { return false })
		return err
	})
	if reason(err) != "round.nobody" {
		t.Errorf("nobody is here: %v", err)
	}
}
