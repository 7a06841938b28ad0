package meals_test

import (
	"errors"
	"testing"
	"time"

	"pgregory.net/rapid"

	"coilward/assets"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/collection"
	"coilward/model/knowledge"
	"coilward/model/meals"
	"coilward/model/storetest"
)

func shipped(t *testing.T) *knowledge.Tables {
	t.Helper()
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	return tables
}

func meal(id byte, ago int, grams int64, o care.Outcome) care.Entry {
	at := model.MomentOf(storetest.Start().Add(-time.Duration(ago) * 24 * time.Hour))
	return care.Entry{ID: model.EntryID{ID: model.ID{id}}, At: at, Body: care.Meal{Prey: care.Rat, Each: model.Grams(grams), Outcome: o}}
}

// The shares by class, and half of them after prey was brought up. Source: common
// practice, no source.
func TestBandOf(t *testing.T) {
	tables := shipped(t)
	for name, c := range map[string]struct {
		mass        int64
		meals       []care.Entry
		least, most int64 // milligrams
		after       bool
	}{
		"hatchling of 80 g":          {80, nil, 8_000, 12_000, false},
		"juvenile of 300 g":          {300, nil, 30_000, 36_000, false},
		"subadult of 800 g":          {800, nil, 56_000, 80_000, false},
		"adult of 1500 g":            {1500, nil, 60_000, 105_000, false},
		"mass not known":             {0, nil, 0, 0, false},
		"kept":                       {1500, []care.Entry{meal(1, 3, 90, care.Took)}, 60_000, 105_000, false},
		"it came up":                 {1500, []care.Entry{meal(1, 3, 200, care.Regurgitated)}, 30_000, 52_500, true},
		"less than the band came up": {1500, []care.Entry{meal(1, 3, 70, care.Regurgitated)}, 30_000, 35_000, true},
		"nothing was said of it":     {1500, []care.Entry{meal(1, 3, 0, care.Regurgitated)}, 30_000, 52_500, true},
		"noted by itself":            {1500, []care.Entry{meal(2, 3, 0, care.Regurgitated), meal(1, 5, 70, care.Took)}, 30_000, 35_000, true},
		"refused since":              {1500, []care.Entry{meal(2, 1, 70, care.Refused), meal(1, 20, 200, care.Regurgitated)}, 30_000, 52_500, true},
		"one kept since":             {1500, []care.Entry{meal(2, 1, 40, care.Took), meal(1, 20, 200, care.Regurgitated)}, 60_000, 105_000, false},
	} {
		got := meals.BandOf(tables, tables.RhythmOf(model.Grams(c.mass)), model.Grams(c.mass), c.meals)
		if got.Least.Milligrams != c.least || got.Most.Milligrams != c.most || got.After != c.after {
			t.Errorf("%s: %+v", name, got)
		}
	}
}

// A heavier animal of one class gets no less, and nothing that came up makes it more.
func TestBandOf_Properties(t *testing.T) {
	tables := shipped(t)
	rapid.Check(t, func(t *rapid.T) {
		class := rapid.SampledFrom(tables.Rhythms()).Draw(t, "class")
		mass, more := model.Grams(rapid.Int64Range(1, 5000).Draw(t, "mass")), rapid.Int64Range(0, 500).Draw(t, "more")
		plain := meals.BandOf(tables, class, mass, nil)
		heavier := meals.BandOf(tables, class, model.Mass{Milligrams: mass.Milligrams + more*1000}, nil)
		after := meals.BandOf(tables, class, mass, []care.Entry{meal(1, 3, rapid.Int64Range(0, 900).Draw(t, "prey"), care.Regurgitated)})
		if plain.Least.Milligrams > plain.Most.Milligrams || heavier.Most.Milligrams < plain.Most.Milligrams || heavier.Least.Milligrams < plain.Least.Milligrams {
			t.Fatalf("%+v, heavier %+v", plain, heavier)
		}
		if after.Least.Milligrams > after.Most.Milligrams || after.Most.Milligrams*2 > plain.Most.Milligrams {
			t.Fatalf("%+v, after it came up %+v", plain, after)
		}
	})
}

// bench is a collection with one animal of 1500 g.
type bench struct {
	*testing.T
	*collection.Collection
	clock  *storetest.Clock
	animal model.AnimalID
}

func begin(t *testing.T) bench {
	t.Helper()
	c, clock := storetest.New(t)
	b := bench{T: t, Collection: c, clock: clock}
	b.animal.ID = b.do(animals.Add{Animal: animals.Animal{Name: "Brook", Status: animals.Kept}})
	b.do(care.Weigh{About: b.about(0), Weight: care.Weight{Mass: model.Grams(1500)}})
	return b
}

func (b bench) about(ago time.Duration) care.About {
	return care.About{Animal: b.animal, At: model.MomentOf(b.clock.Now().Add(-ago))}
}

func (b bench) do(c model.Command) model.ID {
	b.Helper()
	done, err := b.Do(c)
	if err != nil {
		b.Fatalf("%s: %v", c.Name(), err)
	}
	return done.Documents[0]
}

func reason(err error) string {
	var r *model.Refusal
	if errors.As(err, &r) {
		return r.Reason
	}
	return ""
}

func rat(grams int64, o care.Outcome) care.Meal {
	return care.Meal{Prey: care.Rat, Each: model.Grams(grams), Count: 1, Outcome: o}
}

func TestOffer_AsksAndForbidsNothing(t *testing.T) {
	b := begin(t)
	tables, day := shipped(t), 24*time.Hour
	offer := func(m care.Meal, yes ...string) error {
		_, err := b.Do(meals.Offer{Tables: tables, About: care.About{Animal: b.animal, At: model.MomentOf(b.clock.Now()), Confirmed: yes}, Meal: m})
		return err
	}
	if err := offer(rat(105, care.Took)); err != nil {
		t.Errorf("as much as the table says: %v", err)
	}
	b.clock.Pass(14 * day)
	if err := offer(rat(106, care.Took)); reason(err) != meals.AskMore {
		t.Errorf("more than that: %v", err)
	}
	if err := offer(rat(400, care.Regurgitated)); err != nil {
		t.Errorf("what came up is asked about: %v", err)
	}
	b.clock.Pass(13 * day)
	if err := offer(rat(30, care.Refused)); reason(err) != meals.AskWaits {
		t.Errorf("before the wait is over: %v", err)
	}
	b.clock.Pass(day)
	if err := offer(rat(60, care.Took)); reason(err) != meals.AskAfter {
		t.Errorf("as large as ever after it came up: %v", err)
	}
	if err := offer(rat(60, care.Took), meals.AskAfter); err != nil {
		t.Errorf("although it was said to be so: %v", err)
	}
}

// A correction that leaves mass, day and outcome alone is not asked about again.
func TestOffer_AsksOfACorrectionOnlyWhatItChanges(t *testing.T) {
	b := begin(t)
	c := meals.Offer{Tables: shipped(t), About: b.about(0), Meal: rat(400, care.Took)}
	c.Confirmed = model.Confirmed{meals.AskMore}
	c.Entry, c.Base, c.Confirmed = model.EntryID{ID: b.do(c)}, 1, nil
	c.State = care.Thawed
	if _, err := b.Do(c); err != nil {
		t.Errorf("another state: %v", err)
	}
	c.Base, c.Each = 2, model.Grams(500)
	if _, err := b.Do(c); reason(err) != meals.AskMore {
		t.Errorf("more prey: %v", err)
	}
}

// A meal of one that is no longer here names the day on which it left.
func TestOffer_NotToOneThatIsGone(t *testing.T) {
	for _, status := range []animals.Status{animals.Died, animals.Sold} {
		b := begin(t)
		b.do(animals.SetStatus{ID: b.animal, Base: 1, Status: status, Day: model.Date{Day: model.MomentOf(b.clock.Now()).Day(), Precision: model.ToDay}})
		b.clock.Pass(48 * time.Hour)
		_, err := b.Do(meals.Offer{Tables: shipped(t), About: b.about(0), Meal: rat(50, care.Took)})
		var r *model.Refusal
		if !errors.As(err, &r) || r.Reason != "animal.gone-since" || r.Gaps["Day"] != model.DayGap(model.MomentOf(storetest.Start()).Day()) {
			t.Errorf("%s: %v", status, err)
		}
	}
}
