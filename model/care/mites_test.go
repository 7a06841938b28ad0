package care_test

import (
	"errors"
	"slices"
	"testing"
	"time"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/storetest"
)

func TestMiteLooksThatCannotStand(t *testing.T) {
	h := begin(t)
	type where = []care.MiteWhere
	for _, c := range []struct {
		grade care.MiteGrade
		where where
		field string
		want  string
	}{
		{care.NoMites, where{care.WhitePaper}, "", ""},
		{care.MitesAllAround, care.MiteWheres(), "", ""},
		{-1, where{care.WhitePaper}, "mites", "choice.unknown"},
		{care.MitesAllAround + 1, where{care.WhitePaper}, "mites", "choice.unknown"},
		{care.NoMites, nil, "mite-where", "mites.where"},
		{care.OneMite, where{"ceiling"}, "mite-where", "choice.unknown"},
		{care.OneMite, where{care.WaterBowl, care.WaterBowl}, "mite-where", "choice.unknown"},
	} {
		_, err := h.Do(care.LookForMites{About: h.about(0), MiteLook: care.MiteLook{Grade: c.grade, Where: c.where}})
		var r *model.Refusal
		if errors.As(err, &r) && r.Field != c.field || reason(err) != c.want {
			t.Errorf("grade %d at %v: %v, want %s at %s", c.grade, c.where, err, c.want, c.field)
		}
	}
	for grade, want := range map[care.MiteGrade]bool{care.NoMites: false, care.MiteSpeck: false, care.OneMite: true, care.SeveralMites: true, care.MitesAllAround: true} {
		if grade.Positive() != want {
			t.Errorf("grade %d positive: %v", grade, !want)
		}
	}
}

// looks are the looks for mites at an animal, newest first.
func looks(t *testing.T, h home, animal model.AnimalID) (all []care.MiteLook) {
	t.Helper()
	err := h.View(func(v model.View) error {
		return v.Timeline(animal.Subject(), model.Beginning, model.EndOfTime, func(d model.Document) bool {
			m, err := care.DecodeMiteLook(d)
			if err != nil {
				t.Error(err)
			}
			all = append(all, m)
			return true
		})
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}

func TestNoMitesSeen(t *testing.T) {
	h := begin(t)
	done, err := h.Do(animals.Add{Animal: animals.Animal{Name: "Fenn"}})
	if err != nil {
		t.Fatal(err)
	}
	fenn := model.AnimalID{ID: done.Documents[0]}
	now, where := model.MomentOf(storetest.Start()), []care.MiteWhere{care.WhitePaper, care.OnAnimal}
	none := care.NoMitesSeen{Animals: []model.AnimalID{h.juno, fenn, h.juno}, Where: where, At: now}
	if done, err = h.Do(none); err != nil || len(done.Documents) != 2 || done.Label.Key != "care.done.no-mites-seen" || done.Label.Gaps["Count"].Number != 2 {
		t.Fatalf("%+v, %v", done, err)
	}
	for _, animal := range []model.AnimalID{h.juno, fenn} {
		if seen := looks(t, h, animal); len(seen) != 1 || seen[0].Grade != care.NoMites || !slices.Equal(seen[0].Where, where) {
			t.Errorf("%+v", seen)
		}
	}
	if _, err = h.Undo(); err != nil || len(looks(t, h, fenn)) != 0 || len(looks(t, h, h.juno)) != 0 {
		t.Errorf("after one undo: %v", err)
	}
	none.StruckOff = []model.AnimalID{h.juno}
	if done, err = h.Do(none); err != nil || len(done.Documents) != 1 || len(looks(t, h, fenn)) != 1 || done.Label.Key != "care.done.mite-look" || done.Label.Gaps["Animal"].Text != "Fenn" || done.Label.Gaps["Grade"].Text != "care.mites.0" {
		t.Errorf("one struck off: %+v, %v", done, err)
	}
	for _, c := range []struct {
		name   string
		change func(*care.NoMitesSeen)
		want   string
	}{
		{"everybody struck off", func(c *care.NoMitesSeen) { c.StruckOff = c.Animals }, "mites.nobody"},
		{"nobody", func(c *care.NoMitesSeen) { c.Animals = nil }, "mites.nobody"},
		{"nowhere", func(c *care.NoMitesSeen) { c.Where = nil }, "mites.where"},
		{"tomorrow", func(c *care.NoMitesSeen) { c.At.UTC += 86_400 }, "day.future"},
		{"before one of them came", func(c *care.NoMitesSeen) { c.StruckOff, c.At = nil, h.on(2024, 1, 4).At }, "day.before-arrival"},
		{"so confirmed", func(c *care.NoMitesSeen) {
			c.StruckOff, c.At, c.Confirmed = nil, h.on(2024, 1, 4).At, model.Confirmed{"day.before-arrival"}
		}, ""},
	} {
		again := none
		c.change(&again)
		if _, err := h.Do(again); reason(err) != c.want {
			t.Errorf("%s: %v, want %s", c.name, err, c.want)
		}
	}
	if _, err := h.Do(care.NoMitesSeen{Animals: []model.AnimalID{{ID: model.ID{99}}}, Where: where, At: now}); reason(err) != "animal.missing" {
		t.Errorf("of nobody's animal: %v", err)
	}
}

// A weight names its scale in the second form; without one it keeps the first,
// which older versions read.
func TestWeightNamesItsScale(t *testing.T) {
	h := begin(t)
	scale := model.Document{Type: model.TypeInstrument, ID: model.ID{5}, Version: 1, Body: []byte(`{"name":"Scale","kind":"scale"}`)}
	if _, err := h.Do(storetest.Put{Documents: []model.Document{scale}}); err != nil {
		t.Fatal(err)
	}
	weigh := func(with model.ID, ago time.Duration) (model.Document, error) {
		done, err := h.Do(care.Weigh{About: h.about(ago), Weight: care.Weight{Mass: model.Grams(140), With: model.InstrumentID{ID: with}}})
		if err != nil {
			return model.Document{}, err
		}
		var d model.Document
		err = h.View(func(v model.View) (err error) { d, err = v.Document(done.Documents[0]); return err })
		return d, err
	}
	for _, c := range []struct {
		with    model.ID
		version int
		want    string
	}{{model.ID{}, 1, ""}, {scale.ID, 2, ""}, {model.ID{99}, 0, "scale.none"}, {h.juno.ID, 0, "scale.none"}} {
		d, err := weigh(c.with, time.Duration(c.version)*day)
		if reason(err) != c.want || d.Version != c.version {
			t.Errorf("with %s: form %d, %v, want form %d, %q", c.with, d.Version, err, c.version, c.want)
			continue
		}
		if w, err := care.DecodeWeight(d); c.want == "" && (err != nil || w.With.ID != c.with) {
			t.Errorf("read back: %+v, %v", w, err)
		}
	}
	err := h.View(func(v model.View) error {
		many := care.NewMany(v)
		for with, want := range map[model.ID]string{{}: "", scale.ID: "", {99}: "scale.none", h.juno.ID: "scale.none"} {
			about := h.about(5 * day)
			about.At.UTC += int64(with[0]) * 60
			_, err := many.Make(care.New{About: about, Body: care.Weight{Mass: model.Grams(140), With: model.InstrumentID{ID: with}}})
			if reason(err) != want {
				t.Errorf("of many, with %s: %v, want %q", with, err, want)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

// What is seen anywhere counts; "none seen" only where the animal itself was looked at,
// and that is said where it is noted. Source: common practice, no source.
func TestAGlanceIsNoLookAtTheAnimal(t *testing.T) {
	type where = []care.MiteWhere
	for _, c := range []struct {
		grade  care.MiteGrade
		where  where
		counts bool
	}{
		{care.NoMites, where{care.OnAnimal}, true},
		{care.NoMites, care.MiteWheres(), true},
		{care.NoMites, where{care.WhitePaper}, false},
		{care.NoMites, where{care.WhitePaper, care.WaterBowl, care.InEnclosure, care.InBath}, false},
		{care.MiteSpeck, where{care.WaterBowl}, true},
		{care.OneMite, where{care.InBath}, true},
	} {
		look, m := care.MiteLook{Grade: c.grade, Where: c.where}, care.MiteDays{}
		m.Add(1000, look)
		if look.Counts() != c.counts || (len(m) == 1) != c.counts {
			t.Errorf("grade %d at %v: counts %v, %v", c.grade, c.where, look.Counts(), m)
		}
	}
	h := begin(t)
	done, err := h.Do(animals.Add{Animal: animals.Animal{Name: "Fenn"}})
	if err != nil {
		t.Fatal(err)
	}
	fenn, now := model.AnimalID{ID: done.Documents[0]}, model.MomentOf(storetest.Start())
	for _, c := range []struct {
		command model.Command
		want    string
	}{
		{care.NoMitesSeen{Animals: []model.AnimalID{h.juno, fenn}, Where: where{care.WhitePaper}, At: now}, "care.done.no-mites-seen-glance"},
		{care.NoMitesSeen{Animals: []model.AnimalID{fenn}, Where: where{care.WhitePaper}, At: now}, "care.done.mite-look-glance"},
		{care.LookForMites{About: h.about(0), MiteLook: care.MiteLook{Where: where{care.WaterBowl}}}, "care.done.mite-look-glance"},
		{care.LookForMites{About: h.about(0), MiteLook: care.MiteLook{Where: where{care.OnAnimal}}}, "care.done.mite-look"},
	} {
		if done, err := h.Do(c.command); err != nil || done.Label.Key != c.want {
			t.Errorf("%s: %s, %v, want %s", c.command.Name(), done.Label.Key, err, c.want)
		}
	}
}
