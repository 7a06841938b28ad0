package evidence_test

import (
	"testing"

	"coilward/model"
	"coilward/model/evidence"
)

// BenchmarkCourse works out ten years of one animal with 60 results for four things, as
// of the day of each result, over all ends of all ranges. Its bound is 20 ms. Plain beside
// it is the same by Bayes' rule alone: one multiplication for each result at each end.
func BenchmarkCourse(b *testing.B) {
	c := evidence.Case{
		Ways:    []evidence.Way{{Sensitivity: evidence.Range{Low: .6, Mid: .85, High: .92}, Share: evidence.Range{Low: .1, Mid: .3, High: .6}, Specificity: .995, Spread: 3, Usable: .95}},
		Animals: []evidence.Animal{{Prior: evidence.Range{Low: .05, Mid: .2, High: .4}, Exposed: []evidence.Exposure{{From: 900, To: 960, Daily: evidence.Range{Low: .001, Mid: .005, High: .02}}}}},
	}
	c.Latent.Low, c.Latent.Mid, c.Latent.High = 7, 14, 42
	var days []model.Day
	for n := range 15 { // 15 of each of four things: 60
		day := model.Day(60 + n*240)
		c.Samples = append(c.Samples, single(day, false))
		days = append(days, day)
	}
	b.Run("ranges", func(b *testing.B) {
		for b.Loop() {
			for range 4 {
				c.Course(0, days)
			}
		}
	})
	b.Run("plain", func(b *testing.B) {
		for b.Loop() {
			p := .2
			for range 4 * 15 * 43 {
				p = p * .15 / (p*.15 + (1-p)*.995)
			}
			kept = p
		}
	})
}

var kept float64

// BenchmarkLinked works out twelve animals in pools of four in four rounds.
func BenchmarkLinked(b *testing.B) {
	c := evidence.Case{Ways: []evidence.Way{{Sensitivity: evidence.Range{Low: .6, Mid: .85, High: .92}, Share: evidence.Range{Low: .1, Mid: .3, High: .6}, Specificity: .995, Spread: 3, Usable: .95}}}
	var everyone []int
	for n := range 12 {
		c.Animals = append(c.Animals, evidence.Animal{Prior: evidence.Range{Low: .05, Mid: .2, High: .4}})
		everyone = append(everyone, n)
	}
	for round := range 4 {
		for n := range 3 {
			var of []int
			for i := range 4 {
				of = append(of, (n*4+i+round*2)%12)
			}
			c.Samples = append(c.Samples, evidence.Sample{Day: model.Day(30 + 42*round), Of: of})
		}
	}
	b.Run("one", func(b *testing.B) {
		for b.Loop() {
			c.Chance(0, 200)
		}
	})
	b.Run("at least one", func(b *testing.B) {
		for b.Loop() {
			c.AtLeastOne(everyone, 200)
		}
	})
}
