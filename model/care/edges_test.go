package care_test

import (
	"errors"
	"strings"
	"testing"
	"time"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/knowledge"
	"coilward/model/storetest"
)

// on is an entry of Juno's noted at noon of that day, known to the day.
func (h home) on(year int, month time.Month, day int) care.About {
	return care.About{Animal: h.juno, At: model.Moment{UTC: time.Date(year, month, day, 12, 0, 0, 0, time.UTC).Unix(), Precision: model.ToDay}}
}

func date(precision model.Precision, year int, month time.Month, day int) model.Date {
	return model.Date{Day: model.NewDay(year, month, day), Precision: precision}
}

// The last value that is taken stands, the next one is refused. The limits are
// assumed: far beyond what an animal or a keeper comes to.
func TestLimitsOfWhatAnEntrySays(t *testing.T) {
	h := begin(t)
	meal := func(each int64, count int) model.Command {
		return care.Feed{About: h.about(0), Meal: care.Meal{Each: model.Mass{Milligrams: each}, Count: count, Outcome: care.Took}}
	}
	note := func(signs, photos int) model.Command {
		return care.WriteNote{About: h.about(0), Note: care.Note{Text: strings.Repeat("ß", signs), Photos: make([]model.PhotoID, photos)}}
	}
	waste := func(faeces, urates []care.Trait) model.Command {
		return care.RecordWaste{About: h.about(0), Waste: care.Waste{Faeces: faeces, Urates: urates}}
	}
	type seen = []care.Trait
	for _, c := range []struct {
		name    string
		command model.Command
		want    string
	}{
		{"a note of 10,000 signs", note(10_000, 0), ""},
		{"50 photos", note(1, 50), ""},
		{"51 photos", note(1, 51), "photo.many"},
		{"photos without a word", note(0, 1), ""},
		{"prey of 30 kg", meal(care.HeaviestPrey, 1), ""},
		{"prey of more", meal(care.HeaviestPrey+1, 1), "prey.heavy"},
		{"prey of less than nothing", meal(-1, 1), "mass.none"},
		{"prey of which nothing is said", meal(0, 0), ""},
		{"100 items", meal(0, 100), ""},
		{"101 items", meal(0, 101), "count.range"},
		{"fewer items than none", meal(0, -1), "count.range"},
		{"two traits", waste(seen{care.Formed, care.Mucus}, nil), ""},
		{"one trait twice", waste(seen{care.Soft, care.Soft}, nil), "choice.unknown"},
		{"a trait of urates in faeces", waste(seen{care.White}, nil), "choice.unknown"},
		{"nothing in the urates", waste(seen{care.Formed}, seen{care.NoneSeen}), ""},
		{"no urates, and white ones", waste(nil, seen{care.NoneSeen, care.White}), "waste.none-alone"},
	} {
		if _, err := h.Do(c.command); reason(err) != c.want {
			t.Errorf("%s: %v, want %q", c.name, err, c.want)
		}
	}
}

func TestTheDayThatPreyWasBroughtUp(t *testing.T) {
	h := begin(t) // the clock stands at 9 June 2027
	for _, c := range []struct {
		day  model.Date
		want string
	}{
		{date(model.ToDay, 2027, 6, 9), ""},
		{date(model.ToDay, 2027, 6, 10), "day.future"},
		{date(model.ToDay, 2027, 5, 20), ""}, // the day of the meal
		{date(model.ToDay, 2027, 5, 19), "brought-up.before-meal"},
		{date(model.ToMonth, 2027, 5, 1), ""},
		{date(model.ToMonth, 2027, 4, 1), "brought-up.before-meal"},
		{date(model.ToYear, 2027, 1, 1), ""},
		{date(model.ToYear, 2026, 1, 1), "brought-up.before-meal"},
	} {
		_, err := h.Do(care.Feed{About: h.on(2027, 5, 20), Meal: care.Meal{Outcome: care.Regurgitated, BroughtUp: c.day}})
		if reason(err) != c.want {
			t.Errorf("%s to the %s: %v, want %q", c.day.Day, c.day.Precision, err, c.want)
		}
	}
}

func TestNoEntryIsOfTheFuture(t *testing.T) {
	h := begin(t)
	now := model.MomentOf(storetest.Start())
	for _, c := range []struct {
		seconds   int64
		precision model.Precision
		want      string
	}{
		{60, model.ToMinute, ""}, // clocks of two machines are that far apart
		{61, model.ToMinute, "day.future"},
		{3 * 3600, model.ToDay, ""}, // later on the same day, where only the day is known
		{24 * 3600, model.ToDay, "day.future"},
	} {
		at := now
		at.UTC, at.Precision = at.UTC+c.seconds, c.precision
		_, err := h.Do(care.WriteNote{About: care.About{Animal: h.juno, At: at}, Note: care.Note{Text: "seen"}})
		if reason(err) != c.want {
			t.Errorf("%d s ahead to the %s: %v, want %q", c.seconds, c.precision, err, c.want)
		}
	}
}

func TestTheFirstDays(t *testing.T) {
	h := begin(t) // hatched in June 2023, here since 5 January 2024
	const hatched, arrived = "day.before-hatched", "day.before-arrival"
	for _, c := range []struct {
		about     care.About
		confirmed model.Confirmed
		want      string
	}{
		{h.on(2024, 1, 5), nil, ""},
		{h.on(2024, 1, 4), nil, arrived},
		{h.on(2023, 6, 1), nil, arrived},
		{h.on(2023, 5, 31), nil, hatched},
		{h.on(2023, 5, 31), model.Confirmed{hatched}, arrived},
		{h.on(2023, 5, 31), model.Confirmed{hatched, arrived}, ""},
	} {
		c.about.Confirmed = c.confirmed
		_, err := h.Do(care.WriteNote{About: c.about, Note: care.Note{Text: "told by the one before"}})
		if reason(err) != c.want {
			t.Errorf("%s, confirmed %v: %v, want %q", c.about.At.Day(), c.confirmed, err, c.want)
		}
	}
}

// What an animal that has left can still have: its body may be weighed and words
// be added, but it eats no more.
func TestEveryKindOfEntryOfAnAnimalThatHasLeft(t *testing.T) {
	left := map[model.Precision]model.Date{
		"":            {},
		model.ToDay:   date(model.ToDay, 2027, 5, 31),
		model.ToMonth: date(model.ToMonth, 2027, 5, 1),
	}
	for precision, on := range left {
		h := begin(t)
		if _, err := h.Do(animals.SetStatus{ID: h.juno, Base: 1, Status: animals.Died, Day: on}); err != nil {
			t.Fatal(err)
		}
		gone := "animal.gone-since"
		if precision == "" {
			gone = "animal.gone"
		}
		for kind, want := range map[string]string{
			care.KindMeal: gone, care.KindShed: gone, care.KindWeight: "animal.gone-asks",
			care.KindWaste: "animal.gone-asks", care.KindMiteLook: "animal.gone-asks", care.KindNote: "", care.KindPhoto: "",
		} {
			if _, err := h.Do(command(shipped(t), h.on(2027, 6, 1), kind)); reason(err) != want {
				t.Errorf("%s the day after (%q): %v, want %q", kind, precision, err, want)
			}
			if precision != "" {
				want = ""
			}
			if _, err := h.Do(command(shipped(t), h.on(2027, 5, 31), kind)); reason(err) != want {
				t.Errorf("%s on the last day (%q): %v, want %q", kind, precision, err, want)
			}
		}
		about := h.on(2027, 6, 2)
		about.Confirmed = model.Confirmed{"animal.gone-asks"}
		if _, err := h.Do(command(shipped(t), about, care.KindWaste)); err != nil {
			t.Errorf("confirmed: %v", err)
		}
	}
}

func TestAYearIsOverOnItsLastDay(t *testing.T) {
	h := begin(t)
	if _, err := h.Do(animals.SetStatus{ID: h.juno, Base: 1, Status: animals.Sold, Day: date(model.ToYear, 2025, 1, 1)}); err != nil {
		t.Fatal(err)
	}
	if _, err := h.Do(command(shipped(t), h.on(2025, 12, 31), care.KindMeal)); err != nil {
		t.Errorf("on 31 December: %v", err)
	}
	if _, err := h.Do(command(shipped(t), h.on(2026, 1, 1), care.KindMeal)); reason(err) != "animal.gone-since" {
		t.Errorf("on 1 January: %v", err)
	}
}

// command notes an entry of that kind.
func command(tables *knowledge.Tables, a care.About, kind string) model.Command {
	return map[string]model.Command{
		care.KindWeight:        care.Weigh{About: a, Weight: care.Weight{Mass: model.Grams(140)}},
		care.KindMeal:          care.Feed{About: a, Meal: care.Meal{Outcome: care.Took}},
		care.KindShed:          care.RecordShed{About: a},
		care.KindWaste:         care.RecordWaste{About: a, Waste: care.Waste{Urates: []care.Trait{care.White}}},
		care.KindMiteLook:      care.LookForMites{About: a, MiteLook: care.MiteLook{Where: []care.MiteWhere{care.WaterBowl}}},
		care.KindBlue:          care.RecordBlue{About: a},
		care.KindClutch:        care.RecordClutch{About: a},
		care.KindMiteTreatment: care.TreatMites{About: a, MiteTreatment: care.MiteTreatment{What: "as written", Advised: "Dr Heron"}},
		care.KindBath:          care.Bathe{Tables: tables, About: a},
		care.KindFluids:        care.GiveFluids{Tables: tables, About: a, Fluids: care.Fluids{What: "as written", Advised: "Dr Heron"}},
		care.KindNote:          care.WriteNote{About: a, Note: care.Note{Text: "seen"}},
		care.KindPhoto:         care.AddPhoto{About: a, Photo: care.Photo{Photos: []model.PhotoID{"0a"}}},
	}[kind]
}

func TestWhatAJudgementIsAgainst(t *testing.T) {
	heaviest := model.Mass{Milligrams: care.HeaviestMass}
	for _, c := range []struct {
		typed   model.Mass
		before  []model.Mass
		want    care.Judgement
		against model.Mass
	}{
		{heaviest, nil, care.Plausible, model.Mass{}},
		{model.Mass{Milligrams: care.HeaviestMass + 1}, nil, care.NotAMass, model.Mass{}},
		{model.Grams(140), []model.Mass{model.Grams(139)}, care.Plausible, model.Mass{}},
		{model.Grams(140), []model.Mass{{}}, care.Plausible, model.Mass{}}, // nothing to compare with
		{model.Grams(200), []model.Mass{model.Grams(150), model.Grams(190)}, care.Asks, model.Grams(150)},
		{model.Grams(200), []model.Mass{model.Grams(150), model.Grams(20)}, care.WantsTypingAgain, model.Grams(20)},
		{model.Grams(200), []model.Mass{model.Grams(150), model.Grams(140)}, care.Asks, model.Grams(150)},
	} {
		if got, against := care.JudgeMass(c.typed, c.before, model.Mass{}); got != c.want || against != c.against {
			t.Errorf("%+v after %+v: %d against %+v, want %d against %+v", c.typed, c.before, got, against, c.want, c.against)
		}
	}
}

func TestChangingAWeightThatWasConfirmed(t *testing.T) {
	h := begin(t)
	h.weigh(t, 30*day, 140)
	done, err := h.Do(care.Weigh{About: h.about(0), Weight: care.Weight{Mass: model.Grams(1400)}, Again: model.Grams(1400)})
	if err != nil {
		t.Fatal(err)
	}
	change := care.Change{Entry: model.EntryID{ID: done.Documents[0]}, Base: 1, About: h.about(0), Body: care.Weight{Mass: model.Grams(1400), Gut: care.GutFed}}
	if _, err := h.Do(change); err != nil {
		t.Errorf("a mass that stood already: %v", err)
	}
	change.Base, change.Body = 2, care.Weight{Mass: model.Mass{Milligrams: 1_500_000, Typed: "1,5 kg"}}
	var r *model.Refusal
	if _, err := h.Do(change); !errors.As(err, &r) || r.Reason != "mass.far" || r.Value != "1,5 kg" {
		t.Errorf("another mass, as typed: %v", err)
	}
	change.Body = care.Weight{Mass: model.Grams(1500)}
	if _, err := h.Do(change); !errors.As(err, &r) || r.Value != "1500000 mg" {
		t.Errorf("another mass, not typed: %v", err)
	}
}

func (h home) present(id model.ID) bool {
	return h.View(func(v model.View) error { _, err := v.Document(id); return err }) == nil
}

func TestRemovingEntries(t *testing.T) {
	h := begin(t)
	id := h.weigh(t, 0, 140)
	done, err := h.Do(care.Remove{Entry: model.EntryID{ID: id}})
	if err != nil || h.present(id) {
		t.Errorf("still there: %v", err)
	}
	if done.Label.Key != "care.removed.weight" || done.Label.Gaps["Animal"].Text != "Juno" || done.Label.Gaps["Mass"].Number != 140_000 {
		t.Errorf("label %+v", done.Label)
	}
	if _, err := h.Do(care.Remove{Entry: model.EntryID{ID: id}}); reason(err) != "entry.missing" {
		t.Errorf("removed twice: %v", err)
	}
	other, orphan := storetest.Entry(model.ID{7}, h.juno.ID, 0, "x"), storetest.Entry(model.ID{8}, model.ID{99}, 0, care.Note{Text: "x"})
	orphan.Kind = care.KindNote
	if _, err := h.Do(storetest.Put{Documents: []model.Document{other, orphan}}); err != nil {
		t.Fatal(err)
	}
	if _, err := h.Do(care.Remove{Entry: model.EntryID{ID: other.ID}}); err == nil || !h.present(other.ID) {
		t.Errorf("an entry of another capability: %v", err)
	}
	if _, err := h.Do(care.Remove{Entry: model.EntryID{ID: orphan.ID}}); err != nil || h.present(orphan.ID) {
		t.Errorf("an entry whose animal is not there: %v", err)
	}
}

func TestWhatCannotBeChanged(t *testing.T) {
	h := begin(t)
	id := model.EntryID{ID: h.weigh(t, 0, 140)}
	weight := care.Weight{Mass: model.Grams(141)}
	for name, c := range map[string]care.Change{
		"nothing said":      {Entry: id, Base: 1, About: h.about(0)},
		"another animal's":  {Entry: id, Base: 1, About: care.About{Animal: model.AnimalID{ID: model.ID{99}}, At: h.about(0).At}, Body: weight},
		"not there":         {Entry: model.EntryID{ID: model.ID{99}}, Base: 1, About: h.about(0), Body: weight},
		"of another animal": {Entry: model.EntryID{ID: h.juno.ID}, Base: 1, About: h.about(0), Body: weight},
	} {
		if _, err := h.Do(c); err == nil {
			t.Errorf("%s: changed", name)
		}
	}
	if _, err := h.Do(care.Feed{About: care.About{Animal: model.AnimalID(id), At: h.about(0).At}, Meal: care.Meal{Outcome: care.Took}}); reason(err) != "animal.missing" {
		t.Errorf("a meal of what is no animal: %v", err)
	}
}

func TestSeriesReadsWeightsAlone(t *testing.T) {
	h := begin(t)
	for _, kind := range care.Kinds() {
		if _, err := h.Do(command(shipped(t), h.about(0), kind)); err != nil {
			t.Fatal(err)
		}
	}
	series := func() (all []care.Weighed, err error) {
		err = h.View(func(v model.View) (failed error) { all, failed = care.Series(v, h.juno); return failed })
		return all, err
	}
	if all, err := series(); err != nil || len(all) != 1 || all[0].Mass != model.Grams(140) {
		t.Errorf("%+v, %v", all, err)
	}
	later := storetest.Entry(model.ID{7}, h.juno.ID, 0, care.Weight{})
	later.Kind, later.Version = care.KindWeight, care.Version+1
	if _, err := h.Do(storetest.Put{Documents: []model.Document{later}}); err != nil {
		t.Fatal(err)
	}
	if all, err := series(); !errors.Is(err, model.ErrNewer) || all != nil {
		t.Errorf("a weight of a newer version: %+v, %v", all, err)
	}
}

func TestWhatCountsAsCorrected(t *testing.T) {
	written := model.Moment{UTC: 500}
	revision := func(n uint32, body string, at int64, by byte) model.Document {
		return model.Document{Revision: n, Body: []byte(body), At: model.Moment{UTC: at}, By: model.PersonID{ID: model.ID{by}}, Written: written}
	}
	first := revision(1, "140 g", 100, 1)
	for name, c := range map[string]struct {
		present model.Document
		want    bool
	}{
		"another mass":   {revision(2, "142 g", 100, 1), true},
		"another time":   {revision(2, "140 g", 160, 1), true},
		"another person": {revision(2, "140 g", 100, 2), true},
		"changed back":   {revision(3, "140 g", 100, 1), false},
		"the first":      {first, false},
	} {
		for order, all := range map[string][]model.Document{"newest first": {c.present, first}, "oldest first": {first, c.present}} {
			at, got := care.Corrected(c.present, all)
			if got != c.want || got && at != written {
				t.Errorf("%s, %s: %v at %v", name, order, got, at)
			}
		}
	}
	if at, got := care.Corrected(first, []model.Document{first}); got || !at.IsZero() {
		t.Errorf("never changed: %v at %v", got, at)
	}
	if _, got := care.Corrected(revision(2, "142 g", 100, 1), nil); got {
		t.Error("corrected, though nothing tells what it said first")
	}
}

func TestOnlyEntriesOfEverydayCareAreRead(t *testing.T) {
	entry := func(kind model.DocumentType, of string) model.Document {
		d := storetest.Entry(model.ID{7}, model.ID{1}, 0, care.Note{Text: "x"})
		d.Type, d.Kind = kind, of
		return d
	}
	for name, c := range map[string]struct {
		d    model.Document
		want bool
	}{
		"a note":            {entry(model.TypeEntry, care.KindNote), true},
		"a check":           {entry(model.TypeEntry, "check"), false},
		"a problem so told": {entry(model.TypeProblem, care.KindNote), false},
	} {
		if _, got, err := care.Decode(c.d); got != c.want || err != nil {
			t.Errorf("%s: %v, %v", name, got, err)
		}
	}
	if n, err := care.DecodeNote(entry(model.TypeEntry, care.KindNote)); err != nil || n.Text != "x" {
		t.Errorf("as a note: %+v, %v", n, err)
	}
	if _, err := care.DecodeMeal(entry(model.TypeEntry, care.KindNote)); err == nil {
		t.Error("a note was read as a meal")
	}
	later := entry(model.TypeEntry, care.KindNote)
	later.Version = care.Version + 1
	if _, got, err := care.Decode(later); !got || !errors.Is(err, model.ErrNewer) {
		t.Errorf("a newer note: %v, %v", got, err)
	}
}

// An empty gut, or just before a meal, is what makes two weights comparable.
// Source: common practice, no source.
func TestComparableWeights(t *testing.T) {
	for gut, want := range map[care.Gut]bool{care.GutUnknown: false, care.GutEmpty: true, care.GutBeforeMeal: true, care.GutFed: false} {
		if got := (care.Weight{Gut: gut}).Comparable(); got != want {
			t.Errorf("%q: %v", gut, got)
		}
	}
}

func TestMassOfAMeal(t *testing.T) {
	for count, want := range map[int]int64{0: 12, 1: 12, 3: 36} {
		if got := (care.Meal{Each: model.Grams(12), Count: count}).Total(); got != model.Grams(want) {
			t.Errorf("%d items: %+v, want %d g", count, got, want)
		}
	}
}
