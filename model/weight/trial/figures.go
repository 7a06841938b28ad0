package trial

import (
	"math"
	"math/rand/v2"
	"slices"

	"coilward/model"
	"coilward/model/knowledge"
	"coilward/model/weight"
)

// The trial: weights before day 0 give the rule something to hold against; the first
// day of the calendar is any.
const (
	weighedBefore = 200
	dayZero       = model.Day(20_000)
)

// Plan is how a trial is made.
type Plan struct {
	Animal  Animal
	Noise   Noise
	Every   int // days from one weighing to the next
	Days    int // of the story
	Animals int
	Seed    uint64
}

// Figures are what came of a trial.
type Figures struct {
	Animals int
	Days    int
	// LookAgain and Vet count how often an alarm began, over all animals.
	LookAgain, Vet int
	// First are the days of the first alarm of those that had one, and FirstVet of the
	// first for the vet, both in their order.
	First, FirstVet []int
}

// PerHundredYears is a count as a rate: for 100 animals and a year.
func (f Figures) PerHundredYears(count int) float64 {
	return float64(count) * 100 * 365.25 / float64(f.Animals*f.Days)
}

// By is the day by which such a share of the animals had an alarm, of First or
// FirstVet; none where fewer ever had one.
func (f Figures) By(days []int, share float64) (day int, reached bool) {
	nth := int(math.Ceil(share * float64(f.Animals)))
	if nth < 1 || nth > len(days) {
		return 0, false
	}
	return days[nth-1], true
}

// Share is the share of the animals that had an alarm by a day.
func (f Figures) Share(days []int, by int) float64 {
	count := 0
	for _, day := range days {
		if day <= by {
			count++
		}
	}
	return float64(count) / float64(f.Animals)
}

// Run makes a trial. The same plan gives the same figures.
func Run(t *knowledge.Tables, p Plan) Figures {
	source := rand.NewPCG(p.Seed, 0)
	chance, err := rand.New(source), p.Noise.drawing(source)
	f := Figures{Animals: p.Animals, Days: p.Days}
	for range p.Animals {
		f.take(p.follow(t, chance.IntN(p.Every), err))
	}
	slices.Sort(f.First)
	slices.Sort(f.FirstVet)
	return f
}

// alarm is what the rule said at a weighing.
type alarm struct {
	day   int
	level knowledge.Level
}

// take counts the alarms of one animal; one that goes on is one.
func (f *Figures) take(said []alarm) {
	before := knowledge.Nothing
	for i, a := range said {
		if a.level >= knowledge.VetWithinDays && before < knowledge.VetWithinDays {
			f.Vet++
		}
		if a.level == knowledge.LookAgain && before == knowledge.Nothing {
			f.LookAgain++
		}
		before = said[i].level
	}
	if i := slices.IndexFunc(said, func(a alarm) bool { return a.level > knowledge.Nothing }); i >= 0 {
		f.First = append(f.First, said[i].day)
	}
	if i := slices.IndexFunc(said, func(a alarm) bool { return a.level >= knowledge.VetWithinDays }); i >= 0 {
		f.FirstVet = append(f.FirstVet, said[i].day)
	}
}

// follow weighs one animal for the whole of its story and asks the rule at each
// weighing from day 0 on.
func (p Plan) follow(t *knowledge.Tables, first int, err func() float64) (said []alarm) {
	mass := math.Log(p.Animal.Grams)
	for day := -1; day >= -weighedBefore; day-- {
		mass -= math.Log1p(p.Animal.Daily(day))
	}
	facts := weight.Facts{Usual: p.Animal.Usual, GoodBefore: p.Animal.GoodBefore}
	for day := -weighedBefore; day <= p.Days; day++ {
		if (day+weighedBefore)%p.Every == first {
			grams := math.Exp(mass + err())
			facts.On = dayZero + model.Day(day)
			facts.Weighings = slices.Insert(facts.Weighings, 0, weight.Weighing{Day: facts.On, Mass: model.Mass{Milligrams: int64(math.Round(grams * 1000))}})
			if day >= 0 {
				facts.Meal = p.Animal.lastMeal(day)
				said = append(said, alarm{day, weight.Judge(t, facts).Level})
			}
		}
		mass += math.Log1p(p.Animal.Daily(day))
	}
	return said
}

// lastMeal is the last meal kept before a day.
func (a Animal) lastMeal(day int) model.Day {
	if a.Fasts {
		return dayZero
	}
	return dayZero + model.Day(day-day%a.Usual)
}
