package care_test

import (
	"errors"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/collection"
	"coilward/model/storetest"
)

type home struct {
	*collection.Collection
	clock *storetest.Clock
	juno  model.AnimalID
}

func begin(t *testing.T) home {
	t.Helper()
	c, clock := storetest.New(t)
	done, err := c.Do(animals.Add{Animal: animals.Animal{Name: "Juno",
		Hatched: model.Date{Day: model.NewDay(2023, 6, 1), Precision: model.ToMonth}, Since: model.Date{Day: model.NewDay(2024, 1, 5), Precision: model.ToDay}}})
	if err != nil {
		t.Fatal(err)
	}
	return home{c, clock, model.AnimalID{ID: done.Documents[0]}}
}

func (h home) about(ago time.Duration) care.About {
	return care.About{Animal: h.juno, At: model.MomentOf(storetest.Start().Add(-ago))}
}

func (h home) weigh(t *testing.T, ago time.Duration, grams int64) model.ID {
	t.Helper()
	done, err := h.Do(care.Weigh{About: h.about(ago), Weight: care.Weight{Mass: model.Grams(grams), Gut: care.GutEmpty}})
	if err != nil {
		t.Fatal(err)
	}
	return done.Documents[0]
}

func reason(err error) string {
	var r *model.Refusal
	switch {
	case err == nil:
		return ""
	case errors.As(err, &r):
		return r.Reason
	}
	return err.Error()
}

const day = 24 * time.Hour

func TestTypedMassAgainstTheLastTwo(t *testing.T) {
	g := model.Grams
	for _, c := range []struct {
		typed    int64
		before   []int64
		heaviest int64
		want     care.Judgement
	}{
		{140, nil, 3500, care.Plausible},
		{182, []int64{140}, 3500, care.Plausible}, // 1.3 times exactly
		{183, []int64{140}, 3500, care.Asks},
		{107, []int64{140}, 3500, care.Asks},
		{108, []int64{140}, 3500, care.Plausible},
		{420, []int64{140}, 3500, care.Asks}, // 3 times exactly
		{421, []int64{140}, 3500, care.WantsTypingAgain},
		{46, []int64{140}, 3500, care.WantsTypingAgain},
		{14_000, []int64{140}, 3500, care.AboveHeaviest},
		{3500, []int64{3000}, 3500, care.Plausible},
		{3501, []int64{3000}, 3500, care.AboveHeaviest},
		{14_000, []int64{140}, 0, care.WantsTypingAgain},
		{140, []int64{900, 140, 140}, 3500, care.Plausible}, // the third back does not count
		{140, []int64{900, 140}, 3500, care.WantsTypingAgain},
		{0, nil, 3500, care.NotAMass},
		{-1, nil, 3500, care.NotAMass},
	} {
		var before []model.Mass
		for _, b := range c.before {
			before = append(before, g(b))
		}
		if got, _ := care.JudgeMass(g(c.typed), before, g(c.heaviest)); got != c.want {
			t.Errorf("%d g after %v: %d, want %d", c.typed, c.before, got, c.want)
		}
	}
}

func TestFartherFromTheLastIsNeverMilder(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		before := []model.Mass{model.Grams(rapid.Int64Range(20, 3000).Draw(r, "before"))}
		near := rapid.Int64Range(before[0].Milligrams, 3_400_000).Draw(r, "near")
		far := rapid.Int64Range(near, 4_000_000).Draw(r, "far")
		a, _ := care.JudgeMass(model.Mass{Milligrams: near}, before, model.Grams(3500))
		b, _ := care.JudgeMass(model.Mass{Milligrams: far}, before, model.Grams(3500))
		if b < a {
			r.Fatalf("%d mg is judged %d, %d mg %d", near, a, far, b)
		}
	})
}

func TestWeighing(t *testing.T) {
	h := begin(t)
	h.weigh(t, 7*day, 140)
	weigh := func(ago time.Duration, grams int64, change func(*care.Weigh)) string {
		c := care.Weigh{About: h.about(ago), Weight: care.Weight{Mass: model.Grams(grams)}, Heaviest: model.Grams(3500)}
		if change != nil {
			change(&c)
		}
		_, err := h.Do(c)
		return reason(err)
	}
	for _, c := range []struct{ name, got, want string }{
		{"zero", weigh(0, 0, nil), "mass.zero"},
		{"14 kg for a 140 g animal", weigh(0, 14_000, nil), "mass.heaviest"},
		{"1,400 g asked to be typed again", weigh(0, 1400, nil), "mass.far"},
		{"typed otherwise", weigh(0, 1400, func(c *care.Weigh) { c.Again = model.Grams(140) }), "mass.far"},
		{"tomorrow", weigh(-day, 141, nil), "day.future"},
		{"the same minute", weigh(7*day, 141, nil), "mass.twice"},
		{"before hatching", weigh(5*365*day, 141, nil), "day.before-hatched"},
		{"before arrival", weigh(3*365*day+200*day, 141, nil), "day.before-arrival"},
		{"before arrival, confirmed", weigh(3*365*day+200*day, 141, func(c *care.Weigh) { c.Confirmed = model.Confirmed{"day.before-arrival"} }), ""},
		{"unlike", weigh(time.Hour, 190, nil), "mass.unlike"},
		{"unlike, confirmed", weigh(time.Hour, 190, func(c *care.Weigh) { c.Confirmed = model.Confirmed{"mass.unlike"} }), ""},
		{"far, typed again", weigh(0, 700, func(c *care.Weigh) { c.Again = model.Grams(700) }), ""},
	} {
		if c.got != c.want {
			t.Errorf("%s: %q, want %q", c.name, c.got, c.want)
		}
	}
}

func TestEntriesThatCannotStand(t *testing.T) {
	h := begin(t)
	for name, c := range map[string]struct {
		command model.Command
		want    string
	}{
		"a meal without an outcome":          {care.Feed{About: h.about(0)}, "outcome.empty"},
		"prey that is none":                  {care.Feed{About: h.about(0), Meal: care.Meal{Prey: "stone", Outcome: care.Took}}, "choice.unknown"},
		"brought up before the meal":         {care.Feed{About: h.about(0), Meal: care.Meal{Outcome: care.Regurgitated, BroughtUp: model.Date{Day: model.NewDay(2027, 6, 1), Precision: model.ToDay}}}, "brought-up.before-meal"},
		"brought up, but taken":              {care.Feed{About: h.about(9 * day), Meal: care.Meal{Outcome: care.Took, BroughtUp: model.Date{Day: model.NewDay(2027, 6, 1), Precision: model.ToDay}}}, "brought-up.not"},
		"an empty note":                      {care.WriteNote{About: h.about(0), Note: care.Note{Text: "  "}}, "note.empty"},
		"a note of 10,001 signs":             {care.WriteNote{About: h.about(0), Note: care.Note{Text: strings.Repeat("ß", 10_001)}}, "text.long"},
		"a note with NUL":                    {care.WriteNote{About: h.about(0), Note: care.Note{Text: "a\x00b"}}, "text.control"},
		"no photo":                           {care.AddPhoto{About: h.about(0)}, "photo.empty"},
		"nothing seen of faeces and urates":  {care.RecordWaste{About: h.about(0)}, "waste.empty"},
		"no faeces and soft ones":            {care.RecordWaste{About: h.about(0), Waste: care.Waste{Faeces: []care.Trait{care.Soft, care.NoneSeen}}}, "waste.none-alone"},
		"a shed that came off in some way":   {care.RecordShed{About: h.about(0), Shed: care.Shed{Skin: "perhaps"}}, "choice.unknown"},
		"an entry without a day":             {care.RecordShed{About: care.About{Animal: h.juno}}, "day.empty"},
		"a shed of which nothing was looked": {care.RecordShed{About: h.about(0)}, ""},
	} {
		if _, err := h.Do(c.command); reason(err) != c.want {
			t.Errorf("%s: %v, want %s", name, err, c.want)
		}
	}
}

func TestGoneAnimalsTakeNoMeals(t *testing.T) {
	for _, status := range animals.Statuses() {
		h := begin(t)
		sold := model.Date{Day: model.NewDay(2027, 6, 5), Precision: model.ToDay}
		if _, err := h.Do(animals.SetStatus{ID: h.juno, Base: 1, Status: status, Day: sold}); err != nil && status != animals.Kept {
			t.Fatal(err)
		}
		feed := func(ago time.Duration) string {
			_, err := h.Do(care.Feed{About: h.about(ago), Meal: care.Meal{Outcome: care.Took}})
			return reason(err)
		}
		want := map[bool]string{true: "", false: "animal.gone-since"}[status.Here()]
		if got := feed(0); got != want {
			t.Errorf("%s: %q, want %q", status, got, want)
		}
		if got := feed(4 * day); got != "" {
			t.Errorf("%s, on the day itself: %q", status, got)
		}
	}
}

func TestCorrectingAndUndoing(t *testing.T) {
	h := begin(t)
	id := model.EntryID{ID: h.weigh(t, 7*day, 140)}
	change := care.Change{Entry: id, Base: 1, About: h.about(7 * day), Body: care.Weight{Mass: model.Grams(142), Gut: care.GutEmpty}}
	corrected := func() bool {
		var is bool
		err := h.View(func(v model.View) error {
			present, err := v.Document(id.ID)
			if err != nil {
				return err
			}
			all, err := v.Revisions(id.ID)
			_, is = care.Corrected(present, all)
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
		return is
	}
	if corrected() {
		t.Error("corrected before it was changed")
	}
	h.clock.Pass(time.Hour)
	if _, err := h.Do(change); err != nil {
		t.Fatal(err)
	}
	if !corrected() {
		t.Error("not corrected after it was changed")
	}
	if _, err := h.Do(change); !errors.Is(err, model.ErrConflict) {
		t.Errorf("a change on an old revision: %v", err)
	}
	if _, err := h.Undo(); err != nil {
		t.Fatal(err)
	}
	if corrected() {
		t.Error("corrected after the change was undone")
	}
	change.Body = care.Note{Text: "x"}
	if _, err := h.Do(change); err == nil {
		t.Error("a weight became a note")
	}
	if _, err := h.Do(care.Remove{Entry: id}); err != nil {
		t.Error(err)
	}
}

func TestSeriesIsOldestFirst(t *testing.T) {
	h := begin(t)
	for i, grams := range []int64{140, 150, 147} {
		h.weigh(t, time.Duration(30-i*7)*day, grams)
	}
	err := h.View(func(v model.View) error {
		series, err := care.Series(v, h.juno)
		if err != nil {
			return err
		}
		if len(series) != 3 || series[0].Mass != model.Grams(140) || series[1].Mass != model.Grams(150) || series[2].Mass != model.Grams(147) {
			t.Errorf("%+v", series)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

func TestEveryKindIsReadBack(t *testing.T) {
	h := begin(t)
	for _, c := range []model.Command{
		care.Weigh{About: h.about(0), Weight: care.Weight{Mass: model.Grams(140), Beside: care.Beside{Note: "on the new scale"}}},
		care.Feed{About: h.about(0), Meal: care.Meal{Prey: care.Rat, Size: care.Pinky, Each: model.Grams(12), Count: 2, State: care.Thawed, Outcome: care.Refused}},
		care.RecordShed{About: h.about(0), Shed: care.Shed{Skin: care.Whole, StuckEyeCaps: care.No}},
		care.RecordWaste{About: h.about(0), Waste: care.Waste{Urates: []care.Trait{care.White}}},
		care.LookForMites{About: h.about(0), MiteLook: care.MiteLook{Grade: care.MiteSpeck, Where: []care.MiteWhere{care.WhitePaper, care.OnAnimal}}},
		care.WriteNote{About: h.about(0), Note: care.Note{Text: "moved"}},
		care.RecordBlue{About: h.about(0)},
		care.RecordClutch{About: h.about(0), Clutch: care.Clutch{Eggs: 6}},
		care.TreatMites{About: h.about(0), MiteTreatment: care.MiteTreatment{What: "as written", Advised: "Dr Heron"}},
		care.Bathe{Tables: shipped(t), About: h.about(0), Bath: care.Bath{Warm: model.Temperature{Hundredths: 2800}, Minutes: 10}},
		care.GiveFluids{Tables: shipped(t), About: h.about(0), Fluids: care.Fluids{What: "as written", Advised: "Dr Heron"}},
		care.AddPhoto{About: h.about(0), Photo: care.Photo{Photos: []model.PhotoID{"0a"}}},
	} {
		if _, err := h.Do(c); err != nil {
			t.Errorf("%s: %v", c.Name(), err)
		}
	}
	seen := map[string]bool{}
	err := h.View(func(v model.View) error {
		return v.Timeline(h.juno.Subject(), model.Beginning, model.EndOfTime, func(d model.Document) bool {
			e, ok, err := care.Decode(d)
			if err != nil || !ok || e.Body.Kind() != d.Kind || e.Animal != h.juno {
				t.Errorf("%s: %+v, %v, %v", d.Kind, e, ok, err)
			}
			seen[d.Kind] = true
			return true
		})
	})
	if err != nil || len(seen) != len(care.Kinds()) {
		t.Errorf("%v, %v", seen, err)
	}
}

// An animal or an entry that was removed in the meantime is refused in words.
func TestWhatIsNoMoreInTheRecordsIsRefused(t *testing.T) {
	h := begin(t)
	id := model.EntryID{ID: h.weigh(t, day, 140)}
	remove := care.Remove{Entry: id}
	if _, err := h.Do(remove); err != nil {
		t.Fatal(err)
	}
	weight := care.Weight{Mass: model.Grams(141)}
	refused := func(name string, c model.Command, field, want string) {
		t.Helper()
		_, err := h.Do(c)
		var r *model.Refusal
		if !errors.As(err, &r) || r.Field != field || r.Reason != want || r.Answer != model.Mend {
			t.Errorf("%s: %v, want %s at %s", name, err, want, field)
		}
	}
	refused("an entry removed twice", remove, "entry", "entry.missing")
	refused("an entry that was removed", care.Change{Entry: id, Base: 1, About: h.about(day), Body: weight}, "entry", "entry.missing")
	refused("the pose of its photo", care.SetPose{Tables: shipped(t), Entry: id, Base: 1}, "entry", "entry.missing")
	if _, err := h.Do(animals.Remove{ID: h.juno}); err != nil {
		t.Fatal(err)
	}
	refused("a weight", care.Weigh{About: h.about(day), Weight: weight}, "animal", "animal.missing")
	refused("looks at several", care.NoMitesSeen{Animals: []model.AnimalID{h.juno}, At: h.about(day).At}, "animal", "animal.missing")
	refused("photos", care.AddPhotos{Tables: shipped(t), Shots: []care.Shot{{Animal: h.juno, At: h.about(day).At, Photo: model.PhotoID(strings.Repeat("a", 64)), Dated: care.ByCamera}}}, "animal", "animal.missing")
}
