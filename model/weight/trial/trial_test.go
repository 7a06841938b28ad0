package trial_test

import (
	"os"
	"path/filepath"
	"reflect"
	"runtime"
	"strings"
	"testing"

	"coilward/assets"
	"coilward/model/knowledge"
	"coilward/model/weight/trial"
)

func tables(t testing.TB) *knowledge.Tables {
	t.Helper()
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	return tables
}

// The figures that are asked of the alarm of a loss, at a weighing that errs by 2 %.
func TestFigures(t *testing.T) {
	if testing.Short() {
		t.Skip("weighs some thousand animals for a year")
	}
	tb := tables(t)
	for _, noise := range []trial.Noise{{Percent: 2}, {Percent: 2, Tails: 5}} {
		for _, every := range []int{7, 14, 30} {
			f := trial.Run(tb, trial.Plan{Animal: trial.Steady(), Noise: noise, Every: every, Days: 365, Animals: 1000, Seed: 1})
			if got := f.PerHundredYears(f.LookAgain + f.Vet); got > 1 {
				t.Errorf("%+v, weighed every %d days: %.2f false alarms per 100 years, want at most 1", noise, every, got)
			}
		}
	}
	for every, by := range map[int]int{7: 90, 14: 120} {
		f := trial.Run(tb, trial.Plan{Animal: trial.Losing(3), Noise: trial.Noise{Percent: 2}, Every: every, Days: 150, Animals: 500, Seed: 1})
		if day, reached := f.By(f.First, 0.9); !reached || day > by {
			t.Errorf("weighed every %d days, 9 in 10 of those losing 3 %% a month are found by day %d (%v), want %d", every, day, reached, by)
		}
	}
	growing := trial.Run(tb, trial.Plan{Animal: trial.Growing(), Noise: trial.Noise{Percent: 2}, Every: 7, Days: 365, Animals: 2000, Seed: 1})
	if got := growing.PerHundredYears(growing.Vet); got > 5 {
		t.Errorf("%.2f false alarms per 100 years of a growing juvenile, want at most 5", got)
	}
	starving := trial.Run(tb, trial.Plan{Animal: trial.Starving(), Noise: trial.Noise{Percent: 2}, Every: 7, Days: 28, Animals: 4000, Seed: 1})
	if got := starving.Share(starving.FirstVet, 21); got < 0.85 {
		t.Errorf("%.2f of the starving hatchlings are found by day 21, want .85", got)
	}
	fast := trial.Run(tb, trial.Plan{Animal: trial.Fasting(7, 120), Noise: trial.Noise{Percent: 2}, Every: 14, Days: 120, Animals: 500, Seed: 1})
	if got := fast.Share(fast.First, 120); got > 0.02 {
		t.Errorf("%.2f of the fasts that lose 7 %% in 120 days raise an alarm, want .02 at most", got)
	}
}

// Without noise the rule says at once what it says.
func TestWithoutNoise(t *testing.T) {
	tb := tables(t)
	steady := trial.Run(tb, trial.Plan{Animal: trial.Steady(), Every: 7, Days: 365, Animals: 3, Seed: 1})
	if len(steady.First) != 0 || steady.LookAgain+steady.Vet != 0 {
		t.Errorf("an adult that keeps its mass raises an alarm: %+v", steady)
	}
	losing := trial.Run(tb, trial.Plan{Animal: trial.Losing(5), Every: 7, Days: 365, Animals: 50, Seed: 1})
	early, _ := losing.By(losing.First, 0.01)
	late, all := losing.By(losing.First, 1)
	if !all || late-early > 7 {
		t.Errorf("the first alarm comes from day %d to %d (of all: %v), want within a week", early, late, all)
	}
	if _, reached := losing.By(losing.First, 0); reached {
		t.Error("none of them is found by a day")
	}
	if losing.Share(losing.First, late) != 1 || losing.Share(losing.First, early-1) != 0 {
		t.Error("the share is not that of the days")
	}
}

func TestTheSameSeed_TheSameFigures(t *testing.T) {
	tb := tables(t)
	plan := trial.Plan{Animal: trial.Losing(3), Noise: trial.Noise{Percent: 3, Tails: 5}, Every: 7, Days: 90, Animals: 20, Seed: 7}
	one, two := trial.Run(tb, plan), trial.Run(tb, plan)
	if !reflect.DeepEqual(one, two) {
		t.Errorf("%+v and %+v", one, two)
	}
	plan.Seed++
	if reflect.DeepEqual(one, trial.Run(tb, plan)) {
		t.Error("another seed gives the same")
	}
}

// TestTheDevelopersTable holds the table in DEVELOPERS.md against the figures. A
// change of the rule prints the new one.
func TestTheDevelopersTable(t *testing.T) {
	if testing.Short() || runtime.GOARCH != "amd64" {
		t.Skip("weighs some thousand animals; other processors round the last bit otherwise")
	}
	text, err := os.ReadFile(filepath.Join("..", "..", "..", "DEVELOPERS.md"))
	if err != nil {
		t.Fatal(err)
	}
	if table := trial.Table(tables(t)); !strings.Contains(string(text), table) {
		t.Errorf("DEVELOPERS.md does not hold this table:\n%s", table)
	}
}
