package survey

import (
	"fmt"
	"math"
)

// most that are counted out one by one; a greater group is as good as a large one.
const mostCounted = 100_000

// chances are those of the whole numbers from one on.
type chances struct {
	from int
	of   []float64
}

// below is the chance of fewer than so many.
func (c chances) below(many int) float64 {
	sum := 0.0
	for i, p := range c.of {
		if c.from+i < many {
			sum += p
		}
	}
	return min(1, sum)
}

// spread are the chances of low to high, of which it is known how many times that of k
// is the one of k - 1. The ratio must fall. They are worked out from the greatest one
// outward and made to sum to 1: factorials would overflow, and their logarithms lose the
// digits that a tie is decided by.
func spread(low, high int, ratio func(k int) float64) chances {
	at := low
	for at < high && ratio(at+1) > 1 {
		at++
	}
	c := chances{low, make([]float64, high-low+1)}
	c.of[at-low] = 1
	sum := 1.0
	for k := at + 1; k <= high; k++ {
		c.of[k-low] = c.of[k-low-1] * ratio(k)
		sum += c.of[k-low]
	}
	for k := at; k > low; k-- {
		c.of[k-low-1] = c.of[k-low] / ratio(k)
		sum += c.of[k-low-1]
	}
	for i := range c.of {
		c.of[i] /= sum
	}
	return c
}

// binomial are the chances of so many hits in n draws, each with that chance.
func binomial(n int, hit float64) chances {
	odds := hit / (1 - hit)
	return spread(0, n, func(k int) float64 { return float64(n-k+1) / float64(k) * odds })
}

// hypergeometric are the chances of so many marked among those drawn, without putting
// back.
func hypergeometric(all, marked, drawn int) chances {
	rest := all - marked - drawn
	return spread(max(0, -rest), min(marked, drawn), func(k int) float64 {
		return float64(marked-k+1) * float64(drawn-k+1) / (float64(k) * float64(rest+k))
	})
}

// sum are the chances of the sum of two numbers, both from 0 on, that do not depend on
// each other.
func (c chances) sum(d chances) chances {
	s := chances{of: make([]float64, len(c.of)+len(d.of)-1)}
	for i, p := range c.of {
		for j, q := range d.of {
			s.of[i+j] += p * q
		}
	}
	return s
}

// anyOf is the chance of one hit at least in n draws: 1 - (1-hit)^n.
func anyOf(hit float64, n int) float64 {
	if n == 0 {
		return 0
	}
	return -math.Expm1(float64(n) * math.Log1p(-hit))
}

// most is how many draws are worked out: more animals than anybody can test.
const most = 1_000_000_000

// draws is the fewest draws in which a hit is as likely as wanted.
func draws(hit, wanted float64) (int, error) {
	about := math.Log1p(-wanted) / math.Log1p(-hit)
	if about > most {
		return 0, fmt.Errorf("with a chance of %v at each, more than %d would be needed", hit, most)
	}
	n := max(1, int(about))
	if reaches(anyOf(hit, n), wanted) {
		return n, nil
	}
	return n + 1, nil
}

// roundUp is the next whole number, but for what a sum of chances may be off by.
func roundUp(v float64) int { return int(math.Ceil(v * (1 - tolerance))) }
