package weight

import (
	"math"
	"slices"

	"coilward/model"
	"coilward/model/knowledge"
	"coilward/model/stats"
)

// confidence is that of the interval of a trend. Source: assumed, as is usual.
const confidence = 0.95

// Break is what breaks a trend: weights of before it are not of one piece with those
// after it. Its text is "trend.from." + String.
type Break uint8

// The breaks.
const (
	NoBreak  Break = iota
	Clutch         // the animal was no longer gravid
	Moved          // it came to another place
	Fasting        // it keeps no meal since that one
	FedAgain       // it ate after a fast
)

// String is the break's frozen name.
func (b Break) String() string {
	return [...]string{"none", "clutch", "moved", "fast", "fed"}[b]
}

// Trend is the course of the weights that compare, of the last 210 days at the most and
// since the last thing that breaks it. Shares are in hundredths of a percent of the mass
// in 30 days, below zero where it falls.
type Trend struct {
	Of    []Weighing // newest first; of several weighings of a day their middle counts
	Since model.Day  // of the oldest of them; 0: of none
	Days  int        // from the oldest to the newest
	On    int        // days with a weighing
	// From is what broke it, and Broke when; NoBreak: nothing of those days.
	From  Break
	Broke model.Day
	// Known is that they are enough for a trend; what follows is zero otherwise.
	Known     bool
	Share     int
	Low, High int     // the true share lies between them, with a confidence of 95 %
	Chance    float64 // of so clear a rise or fall where there is none, 0 to 1
	Daily     float64 // by how much the logarithm of the mass rises in a day
	Log       float64 // of the mass in milligrams that the trend has on the newest day
}

// Falls reports whether all shares that the trend may have are falls.
func (t Trend) Falls() bool { return t.Known && t.High < 0 }

// Rises reports whether all shares that the trend may have are rises.
func (t Trend) Rises() bool { return t.Known && t.Low > 0 }

// TrendOf is the median slope over all pairs of the logarithms of the masses, with
// Kendall's interval, and the chance of Mann and Kendall's test; six days with a weighing
// at least, over 60 days. Source: Sen 1968, Mann 1945, Kendall 1975; how many weights and
// days: common practice, no source.
func TrendOf(t *knowledge.Tables, f Facts) Trend {
	c := courseOf(t, f)
	if !c.Known {
		return c.Trend
	}
	return c.trend()
}

// course are the weights of a trend as numbers, the oldest first.
type course struct {
	Trend
	days, logs []float64 // days since the oldest, and logarithms of the masses in milligrams
	order      int       // pairs that rise less pairs that fall
}

// courseOf takes the weights that a trend is of, with the chance of their rise or fall.
func courseOf(t *knowledge.Tables, f Facts) (c course) {
	list := f.compared()
	if len(list) == 0 {
		return c
	}
	what, broke := f.brokenBy(t)
	far := list[0].Day - model.Day(t.Value(knowledge.ValueLosingFar))
	if broke >= far {
		c.From, c.Broke = what, broke
	}
	if c.Of = within(list, max(broke, far), list[0].Day); len(c.Of) == 0 {
		return c
	}
	c.Since = c.Of[len(c.Of)-1].Day
	c.Days = int(list[0].Day - c.Since)
	c.days, c.logs = daily(c.Of)
	if c.On = len(c.days); c.On < t.Value(knowledge.ValueTrendWeights) || c.Days < t.Value(knowledge.ValueTrendDays) {
		return c
	}
	order, err := stats.MannKendall(c.days, c.logs)
	if c.Known = err == nil; c.Known { // a mass of zero has no logarithm
		c.Chance, c.order = order.P, order.S
	}
	return c
}

// trend adds the slope.
func (c course) trend() Trend {
	slope, err := stats.TheilSen(c.days, c.logs, confidence)
	if c.Known = err == nil; !c.Known {
		return c.Trend
	}
	c.Daily, c.Share, c.Low, c.High = slope.Slope, inMonth(slope.Slope), inMonth(slope.Low), inMonth(slope.High)
	c.Log = stats.Median(c.logs) + slope.Slope*(float64(c.Days)-stats.Median(c.days))
	return c.Trend
}

// At is the mass that the trend has on a day of its own; zero where it is not known.
func (t Trend) At(day model.Day) model.Mass {
	if !t.Known {
		return model.Mass{}
	}
	log := t.Log + t.Daily*float64(day-t.Since-model.Day(t.Days))
	return model.Mass{Milligrams: int64(math.Round(math.Exp(log)))}
}

// lost is the share that was lost over the days of the trend, in hundredths of a percent.
func (t Trend) lost() int {
	return int(math.Round(10_000 * -math.Expm1(t.Daily*float64(t.Days))))
}

// brokenBy is the last thing that breaks a trend, and its day.
func (f Facts) brokenBy(t *knowledge.Tables) (what Break, day model.Day) {
	later := func(b Break, on model.Day) {
		if on > day && on <= f.On {
			what, day = b, on
		}
	}
	later(Clutch, f.Break)
	for _, on := range f.Moves {
		later(Moved, on)
	}
	if f.Fasts(t) {
		later(Fasting, f.Meal)
	} else {
		later(FedAgain, f.Fed)
	}
	return what, day
}

// daily are the days of the weighings, counted from the oldest, and the logarithms of
// their masses in milligrams, the middle one of each day, the oldest first.
func daily(newestFirst []Weighing) (days, logs []float64) {
	oldest := newestFirst[len(newestFirst)-1].Day
	for to := len(newestFirst); to > 0; {
		from := to - 1
		for from > 0 && newestFirst[from-1].Day == newestFirst[to-1].Day {
			from--
		}
		days = append(days, float64(newestFirst[from].Day-oldest))
		logs = append(logs, math.Log(float64(middle(slices.Clone(newestFirst[from:to])).Mass.Milligrams)))
		to = from
	}
	return days, logs
}

// inMonth is a slope of logarithms by the day as a share in 30 days, in hundredths of a
// percent, of a hundredfold at the most.
func inMonth(slope float64) int {
	return int(math.Round(10_000 * math.Expm1(min(slope*30, math.Log(101)))))
}
