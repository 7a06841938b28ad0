package plan_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"coilward/model"
	"coilward/model/evidence"
	"coilward/model/evidence/plan"
)

// draws is how many times a plan is carried out in a simulation.
const draws = 100_000

// TestPlan_SaysWhatHappens carries plans out on animals that are drawn from the picture,
// with all that follows something detected, and wants what the plan says within four
// standard errors.
func TestPlan_SaysWhatHappens(t *testing.T) {
	usual := world{se: .85, sp: .98, share: .3, spread: 3, usable: .97, test: 3200, swab: 300}
	alike := world{se: .6, sp: .99, share: .5, spread: 2, usable: .96, test: 2500, swab: 450}
	for name, c := range map[string]struct {
		world
		herd
		plan.Lab
	}{
		"one animal, twice":               {usual, herd{count: 1, chance: .2}, plan.Lab{Rounds: 2, Pool: 1, Apart: 42}},
		"three singly, three times":       {alike, herd{count: 3, chance: .3}, plan.Lab{Rounds: 3, Pool: 1, Apart: 14}},
		"a pool of three, twice":          {usual, herd{count: 3, chance: .15}, plan.Lab{Rounds: 2, Pool: 3, Apart: 14}},
		"seven in pools of three, thrice": {alike, herd{count: 7, chance: .1}, plan.Lab{Rounds: 3, Pool: 3, Apart: 7}},
		"one that was missed twice":       {alike, herd{count: 1, chance: .4, earlier: 2}, plan.Lab{Rounds: 2, Pool: 1, Apart: 7}},
		"a pool of four missed before":    {usual, herd{count: 4, chance: .3, earlier: 1}, plan.Lab{Rounds: 2, Pool: 4, Apart: 7}},
	} {
		t.Run(name, func(t *testing.T) {
			w := c.world.at(even())
			h := c.herd
			h.chance = w.now(c.herd)
			f := w.told(h)
			f.Lab = c.Lab
			p := asked(t, f, plan.AsLab)
			var pools []int
			for _, pool := range p.Parts[0].Pools {
				pools = append(pools, len(pool.Animals))
			}
			s := (&trial{world: w, draw: rand.New(rand.NewPCG(7, 26)), before: c.herd, pools: pools, rounds: c.Rounds}).run()
			s.cost.within(t, "expected cost", p.Expected)
			s.clear.within(t, "chance that nothing is detected", p.Clear)
			s.alarmed.within(t, "chance of a false alarm", p.FalseAlarm)
			if c.herd.earlier == 0 || pools[0] == 1 {
				s.after.within(t, "chance that is left", p.Parts[0].Pools[0].After)
			}
		})
	}
}

// now is the chance of an animal of a herd whose chance was that before its earlier samples.
func (w world) now(h herd) float64 {
	carries, clean := 0.0, (1-h.chance)*math.Pow(w.sp, float64(h.earlier))
	for _, p := range w.grid {
		carries += h.chance * p.weight * w.missedBefore(h, p.z)
	}
	return carries / (carries + clean)
}

// trial carries a plan out again and again.
type trial struct {
	world
	draw   *rand.Rand
	before herd
	pools  []int
	rounds int
}

// mean of values that were drawn.
type mean struct{ n, sum, squares float64 }

func (m *mean) add(value float64) { m.n++; m.sum += value; m.squares += value * value }

func (m mean) within(t *testing.T, what string, told evidence.Range) {
	t.Helper()
	got := m.sum / m.n
	if se := math.Sqrt(max(0, m.squares/m.n-got*got) / m.n); m.n < 1000 || math.Abs(got-told.Mid) > 4*se {
		t.Errorf("%s: the plan says %v, in %v draws it is %v ± %v", what, told.Mid, m.n, got, se)
	}
}

type happened struct{ cost, clear, alarmed, after mean }

func (t *trial) run() (all happened) {
	for range draws {
		cost, detected, alarmed, first := 0.0, false, false, false
		for n, size := range t.pools {
			o := t.pool(size)
			cost += o.cost
			detected, alarmed = detected || o.detected, alarmed || o.alarmed
			if n == 0 {
				first = o.first
				if !o.detected {
					all.after.add(number(first))
				}
			}
		}
		all.cost.add(cost)
		all.clear.add(number(!detected))
		all.alarmed.add(number(alarmed))
	}
	return all
}

func number(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

// done is what became of one pool.
type done struct {
	cost                     float64
	detected, alarmed, first bool
}

// pool draws the animals of one pool, again until their earlier samples have not detected
// anything, and carries the plan out on them.
func (t *trial) pool(size int) (o done) {
	carries := make([]bool, size)
	var z float64
	for missed := false; !missed; {
		z, missed = t.draw.NormFloat64(), true
		for i := range carries {
			carries[i] = t.draw.Float64() < t.before.chance
			for range t.before.earlier {
				missed = missed && !t.sample(carries[i:i+1], z)
			}
		}
	}
	o.first = carries[0]
	for range t.rounds {
		o.cost += t.test + float64(size)*t.swab
		if !t.sample(carries, z) {
			continue
		}
		o.detected = true
		o.alarmed = o.alarmed || !some(carries)
		confirmed := false
		for i, carrier := range carries {
			if size > 1 {
				o.cost += t.test + t.swab
				if !t.sample(carries[i:i+1], z) {
					continue
				}
				o.alarmed = o.alarmed || !carrier
			}
			o.cost += t.test + t.swab
			confirmed = t.sample(carries[i:i+1], z) || confirmed
		}
		if confirmed {
			break
		}
	}
	return o
}

func some(carries []bool) bool {
	for _, c := range carries {
		if c {
			return true
		}
	}
	return false
}

// sample draws the answer of one sample or pool: the cycle of each carrier is drawn, the
// sample may be unusable, and what is not detected may be so by mistake.
func (t *trial) sample(of []bool, z float64) bool {
	carriers := 0
	for _, c := range of {
		if c {
			carriers++
		}
	}
	if carriers > 0 && t.draw.Float64() < t.usable {
		later := math.Log2(float64(len(of)) / float64(carriers))
		cycle := t.spread*(math.Sqrt(t.share)*z+math.Sqrt(1-t.share)*t.draw.NormFloat64()) + later
		if cycle < t.margin*t.spread {
			return true
		}
	}
	return t.draw.Float64() >= t.sp
}

// A plan may rest on a day that is long past; nothing is drawn before today.
func TestPlan_BeginsToday(t *testing.T) {
	f := facts()
	for i := range f.Animals {
		f.Animals[i].Exposed = today - 400
	}
	for _, k := range []plan.Kind{plan.TwoSwabs, plan.PoolThenSingles, plan.AsLab} {
		if first := asked(t, f, k).Days[0]; first != today {
			t.Errorf("the first day is %v, want %v", first, today)
		}
	}
	f.Animals[2].Exposed = today
	if first := asked(t, f, plan.TwoSwabs).Days[0]; first != today+model.Day(14) {
		t.Errorf("the first day is %v, want the end of the latent days", first)
	}
}
