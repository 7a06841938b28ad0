package plan

import (
	"strconv"

	"coilward/model"
	"coilward/model/evidence"
)

// Animal is what is known of one animal before a plan begins.
type Animal struct {
	// Chance that it carries the thing, as it is known now; above 0 and below 1.
	Chance evidence.Range
	// Exposed is the last day on which it may have caught the thing: that of its arrival or
	// of its last contact. Who did is seen by samples once the latent days are over.
	Exposed model.Day
	// Ongoing: the contact goes on, so that there is no such day.
	Ongoing bool
	// Earlier is how many samples of this animal alone, in which the thing was not detected,
	// are in Chance. The more there are, the less it sheds if it carries the thing.
	Earlier int
	// Others are such samples that were looked through in other ways than the plan's will be: who
	// sheds little is missed by each of them.
	Others []Missed
	// Alone: it shares no pool, whatever Facts.Largest and Lab say. In quarantine single samples are
	// wanted.
	Alone bool
}

// Missed are earlier samples of one animal alone in which the thing was not detected.
type Missed struct {
	By    evidence.Way
	Times int
}

// Lab is what a laboratory asks for; no rounds: nothing.
type Lab struct {
	Rounds int
	Pool   int // animals in a pool; 1: each singly
	Apart  int // days between rounds
}

// Price is what is paid, in cents.
type Price struct {
	Test int64 // for what the lab does with one sample or one pool
	Swab int64 // for what one animal is sampled with
}

// OneTest is the price by which tests are counted where nobody said what they cost.
const OneTest = 100

// OrTests is the price, or where nothing was said that by which tests are counted.
func (p Price) OrTests() (price Price, counted bool) {
	if p == (Price{}) {
		return Price{Test: OneTest}, true
	}
	return p, false
}

// Facts are what a plan rests on.
type Facts struct {
	Way evidence.Way
	// Latent are the days after catching the thing on which no sample can find it.
	Latent  struct{ Low, Mid, High int }
	Animals []Animal
	Today   model.Day

	Target   float64 // the most chance that is left of each animal; above 0 and below 1
	Cautious bool    // the target holds at the worst end of the ranges, not at what is assumed
	Price    Price
	Budget   int64     // the most that is expected to be paid, retests included, in cents; 0: no limit
	Latest   model.Day // by which all is to be known; 0: no limit
	LabDays  int       // from taking a sample to its answer, as is usual
	Largest  int       // the most animals in a pool; 1: no pools
	Rounds   int       // the most rounds
	Apart    int       // the fewest days between two rounds; the search rounds them up to whole weeks
	Lab      Lab
}

// The limits of what is planned.
const (
	MostAnimals = 1000
	MostPool    = 20
	MostRounds  = 26
	MostDays    = 3 * 366 // between two rounds, and until an answer
	mostCents   = 1_000_000_000
	mostEarlier = 100
)

// Check refuses facts of which no plan can be made. Beside those of evidence.Case the
// fields are "plan.animals", "plan.chance", "plan.earlier", "plan.target", "plan.test",
// "plan.swab", "plan.budget", "plan.latest", "plan.lab-days", "plan.largest", "plan.rounds", "plan.apart",
// "plan.lab-rounds", "plan.lab-pool", "plan.lab-apart".
func (f Facts) Check() *model.Refusal {
	c := evidence.Case{Latent: f.Latent, Ways: []evidence.Way{f.Way}}
	if refused := c.Check(); refused != nil {
		return refused
	}
	for _, a := range f.Animals {
		if c := a.Chance; !(c.Low > 0 && c.Low <= c.Mid && c.Mid <= c.High && c.High < 1) {
			return &model.Refusal{Field: "plan.chance", Value: strconv.FormatFloat(c.Mid, 'g', -1, 64), Reason: "plan.chance"}
		}
	}
	for _, a := range f.Animals {
		for _, o := range a.Others {
			if refused := o.By.Check(); refused != nil {
				return refused
			}
		}
	}
	for _, p := range []struct {
		field string
		cents int64
	}{{"plan.test", f.Price.Test}, {"plan.swab", f.Price.Swab}, {"plan.budget", f.Budget}} {
		if p.cents < 0 || p.cents > mostCents {
			return &model.Refusal{Field: p.field, Value: strconv.FormatInt(p.cents, 10), Reason: "plan.price"}
		}
	}
	if refused := f.counted(); refused != nil {
		return refused
	}
	return f.Limits()
}

// Limits refuses what a person may ask for and nothing can keep: a target that no chance can
// have, a budget where nothing costs anything, a last day that is over, and of the laboratory pools
// without rounds, or larger ones than are wanted. The fields are "plan.target", "plan.budget",
// "plan.latest", "plan.lab-rounds" and "plan.lab-pool".
func (f Facts) Limits() *model.Refusal {
	switch {
	case !(f.Target > 0 && f.Target < 1):
		return &model.Refusal{Field: "plan.target", Value: strconv.FormatFloat(f.Target*100, 'g', -1, 64), Reason: "plan.target"}
	case f.Lab.Rounds == 0 && f.Lab.Pool > 0:
		return &model.Refusal{Field: "plan.lab-rounds", Reason: "plan.lab-rounds", Gaps: map[string]model.Gap{"Pool": model.CountGap(f.Lab.Pool)}}
	case f.Lab.Pool > f.Largest:
		return &model.Refusal{Field: "plan.lab-pool", Value: strconv.Itoa(f.Lab.Pool), Reason: "plan.lab-pool", Gaps: map[string]model.Gap{"Most": model.CountGap(f.Largest)}}
	case f.Budget != 0 && f.Price == (Price{}):
		return &model.Refusal{Field: "plan.budget", Value: strconv.FormatInt(f.Budget, 10), Reason: "plan.budget"}
	case f.Latest != 0 && f.Latest < f.Today:
		return &model.Refusal{Field: "plan.latest", Value: f.Latest.String(), Reason: "plan.latest", Gaps: map[string]model.Gap{"Today": model.DayGap(f.Today)}}
	}
	return nil
}

// counted refuses whole numbers that are out of their limits.
func (f Facts) counted() *model.Refusal {
	rows := []whole{
		{"plan.animals", int64(len(f.Animals)), 1, MostAnimals},
		{"plan.lab-days", int64(f.LabDays), 0, MostDays},
		{"plan.largest", int64(f.Largest), 1, MostPool},
		{"plan.rounds", int64(f.Rounds), 1, MostRounds},
		{"plan.apart", int64(f.Apart), 1, MostDays},
	}
	for _, a := range f.Animals {
		rows = append(rows, whole{"plan.earlier", int64(a.Earlier), 0, mostEarlier})
		for _, o := range a.Others {
			rows = append(rows, whole{"plan.earlier", int64(o.Times), 1, mostEarlier})
		}
	}
	if f.Lab != (Lab{}) {
		rows = append(rows, whole{"plan.lab-rounds", int64(f.Lab.Rounds), 1, MostRounds}, whole{"plan.lab-pool", int64(f.Lab.Pool), 1, MostPool}, whole{"plan.lab-apart", int64(f.Lab.Apart), 1, MostDays})
	}
	for _, r := range rows {
		if r.value < r.least || r.value > r.most {
			return &model.Refusal{Field: r.field, Value: strconv.FormatInt(r.value, 10), Reason: "number.range",
				Gaps: map[string]model.Gap{"Least": model.CountGap(int(r.least)), "Most": model.CountGap(int(r.most))}}
		}
	}
	return nil
}

// whole is a whole number and its limits, both allowed.
type whole struct {
	field              string
	value, least, most int64
}
