package drawing

import (
	"cmp"
	"math"
	"slices"
)

// Spread moves labels along a line just so far that none covers another and all
// stay between from and to; their order is kept. at are their middles and sizes
// their extents, label by label, as are the middles returned. Where there is too
// little room for all they share it.
func Spread(at, sizes []float64, from, to float64) []float64 {
	order := make([]int, len(at))
	total := 0.0
	for i := range order {
		order[i] = i
		total += sizes[i]
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(at[a], at[b]) })
	share := 1.0
	if room := to - from; total > room {
		share = max(room, 0) / total
	}
	// Packed tightly, each label has its place behind those before it. How far
	// behind that place it wants to stand must not fall along the order: runs in
	// which it falls stand at their mean, which moves them least.
	var runs []run
	packed := make([]float64, len(at))
	end := 0.0
	for _, i := range order {
		packed[i] = end + sizes[i]*share/2
		end += sizes[i] * share
		last := run{at[i] - packed[i], []int{i}}
		for len(runs) > 0 && runs[len(runs)-1].mean > last.mean {
			last = runs[len(runs)-1].and(last)
			runs = runs[:len(runs)-1]
		}
		runs = append(runs, last)
	}
	out := make([]float64, len(at))
	for _, r := range runs {
		for _, i := range r.labels {
			out[i] = packed[i] + max(from, min(to-end, r.mean))
		}
	}
	return out
}

// run is labels that touch, with how far behind their packed places they stand.
type run struct {
	mean   float64
	labels []int
}

func (r run) and(next run) run {
	n, m := float64(len(r.labels)), float64(len(next.labels))
	return run{(r.mean*n + next.mean*m) / (n + m), append(r.labels, next.labels...)}
}

// Apart moves points that are closer than least away from each other, within the
// box as far as it has room. Points on one spot go round it.
func Apart(points []Point, least float64, within Rectangle) []Point {
	out := slices.Clone(points)
	for range 60 {
		moved := false
		for i := range out {
			for k := range i {
				d := out[i].Sub(out[k])
				gap := d.Length()
				if gap >= least*.999 {
					continue
				}
				if gap < least*1e-6 {
					y, x := math.Sincos(float64(i) * 2.4)
					d, gap = Point{X: x, Y: y}, 1
				}
				push := d.Mul((least - out[i].Sub(out[k]).Length()) / 2 / gap)
				out[i], out[k], moved = out[i].Add(push), out[k].Sub(push), true
			}
		}
		for i, p := range out {
			out[i] = Point{X: max(within.Min.X, min(within.Max.X, p.X)), Y: max(within.Min.Y, min(within.Max.Y, p.Y))}
		}
		if !moved {
			break
		}
	}
	return out
}
