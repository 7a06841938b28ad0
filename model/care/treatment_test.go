package care_test

import (
	"errors"
	"testing"

	"coilward/model"
	"coilward/model/care"
)

// A treatment is kept in the keeper's words; it hides mites as long as it acts.
func TestATreatmentAgainstMites(t *testing.T) {
	h := begin(t)
	about := h.about(0)
	day := about.At.Day()
	until := func(days int) model.Date {
		return model.Date{Day: day + model.Day(days), Precision: model.ToDay}
	}
	for name, c := range map[string]struct {
		m       care.MiteTreatment
		refused string
		acts    model.Day
	}{
		"until a day":        {care.MiteTreatment{What: "as the practice said", Advised: "Dr. Example", Until: until(21)}, "", 21},
		"until nobody knows": {care.MiteTreatment{What: "bathed"}, "", 0},
		"on its day alone":   {care.MiteTreatment{What: "bathed", Until: until(0)}, "", 0},
		"for a year":         {care.MiteTreatment{What: "bathed", Until: until(366)}, "", 366},
		"of nothing":         {care.MiteTreatment{What: "  "}, "text.empty", 0},
		"before it was done": {care.MiteTreatment{What: "bathed", Until: until(-1)}, "mites.acts-before", 0},
		"for too long":       {care.MiteTreatment{What: "bathed", Until: until(367)}, "mites.acts-long", 0},
		"until some month":   {care.MiteTreatment{What: "bathed", Until: model.Date{Day: day, Precision: model.ToMonth}}, "day.vague", 0},
		"in two lines":       {care.MiteTreatment{What: "bathed\ntwice"}, "text.control", 0},
		"by two lines":       {care.MiteTreatment{What: "bathed", Advised: "a\nb"}, "text.control", 0},
	} {
		done, err := h.Do(care.TreatMites{About: about, MiteTreatment: c.m})
		var r *model.Refusal
		if errors.As(err, &r); (c.refused == "") != (err == nil) || r != nil && r.Reason != c.refused {
			t.Errorf("%s: %v, want %q", name, err, c.refused)
		}
		if err != nil {
			continue
		}
		err = h.View(func(v model.View) error {
			d, err := v.Document(done.Documents[0])
			if err != nil {
				return err
			}
			e, ours, err := care.Decode(d)
			if body, is := e.Body.(care.MiteTreatment); !ours || !is || body.What != c.m.What || body.Acts(day) != day+c.acts {
				t.Errorf("%s: %+v, %v", name, e.Body, err)
			}
			return err
		})
		if err != nil {
			t.Error(name, err)
		}
	}
}

// What is changed keeps to the bounds of what is new.
func TestAChangedTreatmentKeepsToItsBounds(t *testing.T) {
	h := begin(t)
	about := h.about(0)
	done, err := h.Do(care.TreatMites{About: about, MiteTreatment: care.MiteTreatment{What: "as the practice said"}})
	if err != nil {
		t.Fatal(err)
	}
	for days, want := range map[int]string{-1: "mites.acts-before", 367: "mites.acts-long", 366: ""} {
		_, err := h.Do(care.Change{Entry: model.EntryID{ID: done.Documents[0]}, Base: 1, About: about,
			Body: care.MiteTreatment{What: "as the practice said", Until: model.Date{Day: about.At.Day() + model.Day(days), Precision: model.ToDay}}})
		if reason(err) != want {
			t.Errorf("until %d days on: %v, want %q", days, err, want)
		}
	}
}
