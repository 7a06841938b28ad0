package round_test

import (
	"math/rand/v2"
	"slices"
	"testing"

	"coilward/assets"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/history"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/positives"
	"coilward/model/round"
	"coilward/model/storetest"
)

// Whatever an animal weighed: a loss at look again makes it one to look at again, a loss for
// the vet makes it ill, and nothing else does; each with the reason that says so.
func TestALossIsOfTheClassOfItsLevel(t *testing.T) {
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	found := map[knowledge.Level]int{}
	for seed := range uint64(40) {
		draw := rand.New(rand.NewPCG(seed, 7))
		c, clock := storetest.New(t)
		do := func(command model.Command) model.ID {
			t.Helper()
			change, err := c.Do(command)
			if err != nil {
				t.Fatal(command.Name(), err)
			}
			return change.Documents[0]
		}
		id := model.AnimalID{ID: do(animals.Add{Animal: animals.Animal{Name: "Ash", Species: "python-regius", Status: animals.Kept}})}
		lost := int64(draw.IntN(14)) // in percent, in the last three weeks
		for ago := 98; ago >= 0; ago -= 7 {
			grams := int64(1500)
			if ago < 21 {
				grams -= grams * lost / 100
			}
			do(care.Weigh{About: care.About{Animal: id, At: model.MomentOf(clock.Now().AddDate(0, 0, -ago))}, Weight: care.Weight{Mass: model.Grams(grams)}, Again: model.Grams(grams)})
		}
		if err := c.View(func(v model.View) error {
			a, err := animals.Find(v, id)
			if err != nil {
				return err
			}
			house, err := husbandry.ReadHouse(v)
			if err != nil {
				return err
			}
			records, err := history.Lately(tables, v, a, nil, v.Now())
			if err != nil {
				return err
			}
			level := records.Stand(tables, nil, v.Now()).Loss.Level
			known, err := round.Know(v, tables, a, v.Now())
			if err != nil {
				return err
			}
			own := known.Own
			facts := round.FactsOf(tables, id, own, house, nil, positives.Marks{}, v.Now())
			want, why := round.Resident, []round.Why(nil)
			switch level {
			case knowledge.LookAgain:
				want, why = round.LookAgain, []round.Why{round.WhyLighter}
			case knowledge.VetWithinDays:
				want, why = round.Ill, []round.Why{round.WhyLoss}
			}
			var got []round.Why
			for _, r := range round.ReasonsOf(facts, id, own, house, positives.Marks{}) {
				got = append(got, r.Why)
				if r.Since.Day == 0 {
					t.Errorf("%d %%: %v since no day", lost, r.Why)
				}
			}
			if found[level]++; facts.Class() != want || !slices.Equal(got, why) {
				t.Errorf("%d %% lost, at %v: %v for %v, want %v for %v", lost, level, facts.Class(), got, want, why)
			}
			return nil
		}); err != nil {
			t.Fatal(err)
		}
	}
	if len(found) != 3 {
		t.Errorf("too few kinds of loss: %v", found)
	}
}
