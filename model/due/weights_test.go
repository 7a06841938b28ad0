package due_test

import (
	"math"
	"strings"
	"testing"
	"time"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/due"
	"coilward/model/history"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/storetest"
	"coilward/model/weight"
)

// A scale that fails its check makes the weights of it doubtful: no alarm rests on them,
// from the moment on at which the check is noted, and until one is good.
func TestADoubtfulWeightRaisesNoAlarm(t *testing.T) {
	w := newWorld(t, ball())
	scale := w.instrument(husbandry.Instrument{Name: "Scale", Kind: husbandry.Scale})
	for ago := 100; ago > 0; ago -= 10 {
		w.weigh(ago, 1500)
	}
	light := func(ago int, grams int64) {
		w.do(care.Weigh{About: w.about(ago), Weight: care.Weight{Mass: model.Grams(grams), With: scale}, Again: model.Grams(grams)})
	}
	light(5, 1300)
	light(2, 1300)
	vets := w.of(due.SeeVet)
	if len(vets) != 1 || vets[0].Reasons[0].Key != "due.why.loss.far" || len(vets[0].Reasons) != 1 {
		t.Fatalf("13 %% below: %+v", vets)
	}
	w.proves(scale, 0, false)
	if vets = w.of(due.SeeVet); len(vets) != 0 {
		t.Errorf("the scale failed: %+v", vets)
	}
	w.weigh(1, 1180)
	w.weigh(0, 1180)
	if vets = w.of(due.SeeVet); len(vets) != 1 || len(vets[0].Reasons) != 2 || vets[0].Reasons[1].Key != "due.why.loss-doubtful" || vets[0].Reasons[1].Gaps["Count"].Number != 2 {
		t.Errorf("sound weights beside two that do not count: %+v", vets)
	}
}

// A slow fall makes a weighing due soon, and no vet; a move breaks it, and what was read
// lately tells the same as all there is.
func TestASlowFallIsLookedAtAgain(t *testing.T) {
	w := newWorld(t, ball())
	for ago := 196; ago >= 0; ago -= 7 {
		w.weigh(ago, 1500-int64(196-ago)*5/14)
		if ago%14 == 0 {
			w.feed(ago, care.Took)
		}
	}
	told := w.one(due.Weigh)
	if told.Reasons[0].Key != "due.why.loss.slow" || told.Every != 7 || len(w.of(due.SeeVet)) != 0 {
		t.Errorf("1 %% in 30 days, for half a year: %+v, vets %+v", told, w.of(due.SeeVet))
	}
	same := func(want weight.Reason) {
		t.Helper()
		if err := w.c.View(func(v model.View) error {
			a, err := animals.Find(v, w.animal)
			if err != nil {
				return err
			}
			lately, err := history.Lately(w.tables, v, a, nil, v.Now())
			if err != nil {
				return err
			}
			all, err := history.Read(w.tables, v, a, v.Now())
			if err != nil {
				return err
			}
			if got := lately.Loss(w.tables, w.today()); got.Reason != want || got.Reason != all.Loss(w.tables, w.today()).Reason {
				t.Errorf("lately %v, in all %v, want %v", got.Reason, all.Loss(w.tables, w.today()).Reason, want)
			}
			if last, whole := lately.Trend(w.tables, w.today()), all.Trend(w.tables, w.today()); last.Share != whole.Share || len(last.Of) != len(whole.Of) || last.From != whole.From {
				t.Errorf("lately %+v, in all %+v", last, whole)
			}
			return nil
		}); err != nil {
			t.Fatal(err)
		}
	}
	same(weight.Slow)
	w.do(husbandry.Move{Animal: w.animal, Place: w.tub("Tub 1", 14), At: w.about(40).At})
	if told = w.one(due.Weigh); told.Reasons[0].Key != "due.why.weighed" {
		t.Errorf("after a move: %+v", told)
	}
	same(weight.NoLoss)
}

// A fast through the store, weighed weekly: one that loses 7 % in 120 days stays as it is,
// one at the measured rate is looked at again once it has lost 10 % and is for the vet at
// 15 %, and a juvenile that keeps nothing is for the vet by week 4. Source of the rate:
// McCue 2007, 18.3 % in 168 days from two weeks after the meal.
func TestThreeFasts(t *testing.T) {
	type first struct{ look, vet int }
	story := func(a animals.Animal, grams float64, days int, lost func(day int) float64) (f first) {
		w := newWorld(t, a)
		w.check(100, false, nil)
		for ago := 140; ago >= 0; ago -= 7 {
			if ago > 0 {
				w.weigh(ago, int64(grams))
			}
			if ago%14 == 0 {
				w.feed(ago, care.Took)
			}
		}
		for day := 7; day <= days; day += 7 {
			w.pass(7 * 24 * time.Hour)
			w.feed(1, care.Refused)
			w.weigh(0, int64(math.Round(grams*(1-lost(day)))))
			for _, vet := range w.of(due.SeeVet) {
				if f.vet == 0 && vet.Level >= knowledge.VetWithinDays {
					f.vet = day
				}
			}
			if strings.HasPrefix(w.one(due.Weigh).Reasons[0].Key, "due.why.loss.") && f.look == 0 && f.vet == 0 {
				f.look = day
			}
		}
		return f
	}
	if got := story(ball(), 1500, 120, func(day int) float64 { return .07 * float64(day) / 120 }); got != (first{}) {
		t.Errorf("7 %% in 120 days: %+v, want nothing", got)
	}
	measured := func(day int) float64 { return -math.Expm1(math.Log1p(-.183) / 168 * float64(max(0, day-14))) }
	got := story(ball(), 1500, 168, measured)
	if got.look == 0 || got.vet == 0 || measured(got.look) < .10 || measured(got.look-14) > .10 || measured(got.vet) < .15 || measured(got.vet-14) > .15 {
		t.Errorf("the measured rate: %+v, want look again within two weeks of 10 %%, the vet within two of 15 %%", got)
	}
	young := ball()
	young.Hatched = model.Date{Day: model.MomentOf(storetest.Start()).Day() - 200, Precision: model.ToDay}
	if got := story(young, 150, 35, func(day int) float64 { return .002 * float64(day) }); got.vet == 0 || got.vet > 28 {
		t.Errorf("a juvenile: %+v, want the vet by day 28", got)
	}
}

// Where most animals that were weighed on one day with one scale have changed alike, the
// scale is to be checked at once, until it is; where one alone has, it is not.
func TestMostAnimalsChangedAlike(t *testing.T) {
	w := newWorld(t, ball())
	scale := w.instrument(husbandry.Instrument{Name: "Scale", Kind: husbandry.Scale})
	w.proves(scale, 20, true)
	all := []model.AnimalID{w.animal}
	for _, name := range []string{"Ash", "Birch", "Cedar", "Dogwood"} {
		a := ball()
		a.Name, a.Code = name, ""
		all = append(all, w.add(a))
	}
	weigh := func(id model.AnimalID, ago int, grams int64) {
		about := w.about(ago)
		about.Animal = id
		w.do(care.Weigh{About: about, Weight: care.Weight{Mass: model.Grams(grams), With: scale}, Again: model.Grams(grams)})
	}
	for i, id := range all {
		weigh(id, 16, 1000+int64(i)*100)
		if i > 0 {
			weigh(id, 2, (1000+int64(i)*100)*95/100)
		}
	}
	if o := w.one(due.CheckInstrument); o.State != due.Later || o.Reasons[0].Key != "due.why.instrument-checked" {
		t.Errorf("four animals: %+v", o)
	}
	weigh(all[0], 2, 951)
	o := w.one(due.CheckInstrument)
	if o.State == due.Later || len(o.Reasons) != 2 || o.Reasons[0].Key != "due.why.scale-alike" || o.Reasons[0].Gaps["Share"].Number != -500 || model.Day(o.Reasons[0].Gaps["Day"].Number) != w.today()-2 {
		t.Errorf("five animals: %+v", o)
	}
	w.proves(scale, 0, true)
	if o = w.one(due.CheckInstrument); o.State != due.Later || o.Reasons[0].Key != "due.why.instrument-checked" {
		t.Errorf("checked since: %+v", o)
	}
}
