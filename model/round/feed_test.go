package round_test

import (
	"testing"

	"pgregory.net/rapid"

	"coilward/assets"
	"coilward/model"
	"coilward/model/care"
	"coilward/model/knowledge"
	"coilward/model/round"
)

func meal(day model.Day, m care.Meal) care.Entry {
	return care.Entry{At: model.Moment{UTC: int64(day) * 86400, Precision: model.ToDay}, Body: m}
}

// Food waits 14 days after prey was brought up: common practice, no source.
func TestAgainstFood(t *testing.T) {
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	up, took := care.Meal{Prey: care.Rat, Outcome: care.Regurgitated}, care.Meal{Prey: care.Rat, Outcome: care.Took}
	for _, c := range []struct {
		name  string
		class round.Class
		meals []care.Entry
		want  round.Against
	}{
		{"nothing", round.Resident, nil, round.Against{}},
		{"ill", round.Ill, nil, round.Against{ForVet: true}},
		{"a newcomer", round.Newcomer, []care.Entry{meal(95, took)}, round.Against{}},
		{"brought up 13 days ago", round.Resident, []care.Entry{meal(87, up)}, round.Against{BroughtUp: 87, From: 101}},
		{"brought up 14 days ago", round.Resident, []care.Entry{meal(86, up)}, round.Against{}},
		{"a meal kept since", round.LookAgain, []care.Entry{meal(99, took), meal(95, up)}, round.Against{}},
		{"both", round.Ill, []care.Entry{meal(99, up)}, round.Against{ForVet: true, BroughtUp: 99, From: 113}},
	} {
		if got := (round.Own{}).AgainstFood(tables, c.class, c.meals, 100); got != c.want {
			t.Errorf("%s: %+v, want %+v", c.name, got, c.want)
		}
	}
}

func TestUsualMeal(t *testing.T) {
	rat, mouse := care.Meal{Prey: care.Rat, Each: model.Grams(60), Outcome: care.Refused}, care.Meal{Prey: care.Mouse, Outcome: care.Took}
	for _, c := range []struct {
		name  string
		meals [][]care.Entry
		want  care.Prey
	}{
		{"nobody", nil, ""}, {"nothing said", [][]care.Entry{{meal(9, care.Meal{Outcome: care.Took})}}, ""},
		{"most of them", [][]care.Entry{{meal(1, rat)}, {meal(2, rat), meal(1, mouse)}, {meal(9, mouse)}}, care.Rat},
		{"of equally many the newest", [][]care.Entry{{meal(1, rat)}, {meal(2, mouse)}}, care.Mouse},
		{"the last that was said", [][]care.Entry{{meal(9, care.Meal{Outcome: care.Took}), meal(1, rat)}}, care.Rat},
	} {
		m, ok := round.UsualMeal(c.meals)
		if m.Prey != c.want || ok != (c.want != "") || m.Outcome != "" || c.want == care.Rat && m.Each != model.Grams(60) {
			t.Errorf("%s: %+v, %v", c.name, m, ok)
		}
	}
}

// The usual meal does not go by the order of the animals, where no two were fed on
// one day.
func TestUsualMeal_OrderDoesNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		days := rapid.SliceOfNDistinct(rapid.IntRange(1, 50), 1, 8, rapid.ID).Draw(t, "days")
		var meals [][]care.Entry
		for _, d := range days {
			meals = append(meals, []care.Entry{meal(model.Day(d), care.Meal{Prey: rapid.SampledFrom(care.Preys()[:3]).Draw(t, "prey")})})
		}
		a, _ := round.UsualMeal(meals)
		b, _ := round.UsualMeal(rapid.Permutation(meals).Draw(t, "order"))
		if a.Prey != b.Prey {
			t.Fatalf("%+v, in another order %+v", a, b)
		}
	})
}

// Nobody who may carry something is offered food before its turn.
func TestOfferedFirst(t *testing.T) {
	offered := []care.Entry{meal(1, care.Meal{Outcome: care.Refused})}
	for _, c := range round.Classes() {
		if round.OfferedFirst(c, nil) != (c == round.Resident || c == round.LookAgain) || round.OfferedFirst(c, offered) {
			t.Errorf("of class %v", c)
		}
	}
	if round.NeverOffered(offered) || !round.NeverOffered([]care.Entry{{Body: care.Weight{}}}) {
		t.Error("what is no offer counts as one, or an offer as none")
	}
}
