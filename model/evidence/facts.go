package evidence

import (
	"math"
	"strconv"

	"coilward/model"
)

// Range is a figure as it is known: at least, assumed, at most.
type Range struct{ Low, Mid, High float64 }

// Exactly is a figure that is known.
func Exactly(x float64) Range { return Range{x, x, x} }

// AtLeast is the range with each of its values no less than that of another.
func (r Range) AtLeast(o Range) Range {
	return Range{max(r.Low, o.Low), max(r.Mid, o.Mid), max(r.High, o.High)}
}

// amiss is the value of a range that lies outside low and high or is not in its order; there is
// false where all three stand.
func (r Range) amiss(low, high float64) (value float64, there bool) {
	for _, v := range r.all() {
		if !(v >= low && v <= high) {
			return v, true
		}
	}
	switch {
	case r.Low > r.Mid:
		return r.Low, true
	case r.Mid > r.High:
		return r.High, true
	}
	return 0, false
}

// Way is what is known of one way of looking for a thing.
type Way struct {
	Sensitivity, Share          Range
	Specificity, Spread, Usable float64
}

// Check refuses a way of which no chance can be worked out, at any end of its ranges.
func (w Way) Check() *model.Refusal {
	for _, r := range []struct {
		field string
		Range
	}{{"sensitivity", w.Sensitivity}, {"share", w.Share}} {
		if value, there := r.amiss(0, 1); there {
			return refuse(r.field, value, "chance.order")
		}
	}
	for _, s := range w.Sensitivity.all() {
		for _, share := range w.Share.all() {
			if refused := w.figures(s, share).Check(); refused != nil {
				return refused
			}
		}
	}
	return nil
}

func (r Range) all() []float64 { return []float64{r.Low, r.Mid, r.High} }

func (w Way) figures(sensitivity, share float64) Figures {
	return Figures{Sensitivity: sensitivity, Specificity: w.Specificity, Share: share, Spread: w.Spread, Usable: w.Usable}
}

// Figures are those that are assumed.
func (w Way) Figures() Figures { return w.figures(w.Sensitivity.Mid, w.Share.Mid) }

// Animal is what is known of one animal before any sample.
type Animal struct {
	Arrived model.Day
	// Prior is the chance that such an arrival carries the thing, above 0 and below 1. If it
	// does, it is taken to have caught it on that day.
	Prior Range
	// Exposed are the days on which it may have caught it since.
	Exposed []Exposure
	// Elsewhere are pools with animals that are not in the case.
	Elsewhere []Elsewhere
}

// Elsewhere is a pool that an animal was in with others of which nothing more is told. It
// counts where it may make the chance of another greater, never lower.
type Elsewhere struct {
	Day  model.Day // on which it was taken
	Size int       // how many animals were in it
	By   int       // which of Case.Ways
	// Detected is that something was detected in it.
	Detected bool
}

// Exposure is a time in which an animal may have caught the thing.
type Exposure struct {
	From, To model.Day // both counted
	Daily    Range     // the chance on each of its days, at least 0 and below 1
}

// Sample is an answer about the thing, which says something of it.
type Sample struct {
	Day      model.Day // on which it was taken
	Of       []int     // whose it is, as places in Case.Animals; more than one: a pool of as many
	By       int       // which of Case.Ways
	Detected bool
}

// Case is what is known of one thing in animals that may share samples.
type Case struct {
	// Latent are the days after catching the thing on which no sample can find it.
	Latent  struct{ Low, Mid, High int }
	Ways    []Way
	Animals []Animal
	Samples []Sample
}

// Check refuses a case of which no chance can be worked out.
func (c Case) Check() *model.Refusal {
	latent := Range{float64(c.Latent.Low), float64(c.Latent.Mid), float64(c.Latent.High)}
	if value, there := latent.amiss(0, mostLatent); there {
		return refuse("latent", value, "chance.latent")
	}
	for _, w := range c.Ways {
		if refused := w.Check(); refused != nil {
			return refused
		}
	}
	for _, a := range c.Animals {
		if value, there := a.Prior.amiss(math.SmallestNonzeroFloat64, math.Nextafter(1, 0)); there {
			return refuse("prior", value, "chance.prior")
		}
		for _, e := range a.Exposed {
			if value, there := e.Daily.amiss(0, math.Nextafter(1, 0)); there {
				return refuse("daily", value, "chance.daily")
			}
		}
	}
	for _, s := range c.Samples {
		if refused := c.sample(s); refused != nil {
			return refused
		}
	}
	return nil
}

// mostLatent is longer than any latent time that is told of, in days.
const mostLatent = 3 * 366

// mostPooled is far above what any laboratory pools.
const mostPooled = 200

func (c Case) sample(s Sample) *model.Refusal {
	counted := map[int]bool{}
	for _, i := range s.Of {
		if i < 0 || i >= len(c.Animals) || counted[i] {
			return &model.Refusal{Field: "pool", Value: strconv.Itoa(len(s.Of)), Reason: "chance.pool"}
		}
		counted[i] = true
	}
	switch {
	case len(s.Of) == 0 || len(s.Of) > mostPooled:
		return &model.Refusal{Field: "pool", Value: strconv.Itoa(len(s.Of)), Reason: "chance.pool"}
	case s.By < 0 || s.By >= len(c.Ways):
		return &model.Refusal{Field: "method", Value: strconv.Itoa(s.By), Reason: "chance.mute"}
	}
	return nil
}
