package plan

import (
	"context"
	"fmt"
	"slices"

	"coilward/model"
)

// Answer is what a search found.
type Answer struct {
	// Plans that are enough, within budget and time, of which no other is both cheaper (in
	// what is expected at what is assumed) and sooner known; the cheapest first.
	Plans []Plan
	// Tried are all sizes of pools and numbers of rounds, done alike with all animals of which
	// not enough is known, that are known in time.
	Tried []Point
	// Why there are no plans.
	Why []Reason
}

// Point is a plan that was tried.
type Point struct {
	Size, Rounds int
	Known        model.Day
	Cost         float64 // expected with retests, in cents
	Enough       bool
}

// sketch is a plan of which cost and last day are known.
type sketch struct {
	acts []act // of each group
	days []model.Day
	cost float64
}

// Search finds the plans that reach the target: for each group of animals of which the same
// is known, one size of pools and a number of rounds, on days that lie whole weeks after the
// first on which a sample can see. Groups end together; who needs fewer rounds joins later.
// Of plans that cost the same and are known on the same day it is the one with fewer
// rounds, then with smaller pools.
//
// progress, if there is one, is told how much of the work is done. Search ends early with
// the error of ctx. Facts that Check refuses are an error.
func (f Facts) Search(ctx context.Context, progress func(done, all int)) (Answer, error) {
	if refused := f.Check(); refused != nil {
		return Answer{}, refused
	}
	if ongoing := f.ongoing(); len(ongoing) > 0 {
		return Answer{Why: []Reason{{Why: Ongoing, Animals: ongoing}}}, nil
	}
	p := f.planner()
	s := search{planner: p, ctx: ctx, progress: progress, all: len(p.groups) + 1}
	return s.answer()
}

// search is a planner that tells how far it is.
type search struct {
	*planner
	ctx       context.Context
	progress  func(done, all int)
	done, all int
}

// step tells that one part of the work is done.
func (s *search) step() error {
	s.done++
	if s.progress != nil {
		s.progress(s.done, s.all)
	}
	if err := s.ctx.Err(); err != nil {
		return fmt.Errorf("searching plans for %d animals: %w", len(s.Animals), err)
	}
	return nil
}

func (s *search) answer() (a Answer, err error) {
	var tables []table
	for _, g := range s.groups {
		tables = append(tables, s.table(g))
		if err := s.step(); err != nil {
			return a, err
		}
	}
	if !slices.ContainsFunc(tables, func(t table) bool { return !t.enough() }) {
		return Answer{Why: []Reason{{Why: Already}}}, nil
	}
	a.Tried = s.tried(tables)
	for i, t := range tables {
		if t.best(s.Rounds) == nil {
			a.Why = append(a.Why, s.tooMany(s.groups[i]))
		}
	}
	if len(a.Why) > 0 {
		return a, nil
	}
	frontier := s.frontier(tables)
	a.Why = s.limits(frontier)
	frontier = slices.DeleteFunc(frontier, func(k sketch) bool { return s.late(k) || s.dear(k) })
	s.all += len(frontier)
	if err := s.step(); err != nil {
		return Answer{}, err
	}
	for _, k := range slices.Backward(frontier) {
		a.Plans = append(a.Plans, s.plan(k.days, k.acts))
		if err := s.step(); err != nil {
			return Answer{}, err
		}
	}
	return a, nil
}

// frontier are the plans of which none is both cheaper and sooner, the soonest first.
func (s *search) frontier(tables []table) (all []sketch) {
	last := last(s.groups) + model.Day((s.Rounds-1)*s.apart())
	for day := s.start(); day <= last; day += week {
		k, ok := s.until(day, tables)
		if ok && (len(all) == 0 || k.cost < all[len(all)-1].cost-tie) {
			all = append(all, k)
		}
	}
	return all
}

// apart are the days between two rounds of the search.
func (f Facts) apart() int { return (f.Apart + week - 1) / week * week }

// until is the cheapest plan whose last samples are taken on this day; ok is false where
// there is none.
func (s *search) until(day model.Day, tables []table) (k sketch, ok bool) {
	most := 0
	for i, t := range tables {
		fits := 0
		if day >= s.groups[i].first {
			fits = min(s.Rounds, int(day-s.groups[i].first)/s.apart()+1)
		}
		best := t.best(fits)
		if best == nil {
			return k, false
		}
		k.acts = append(k.acts, best.act)
		k.cost += best.cost
		most = max(most, best.rounds)
	}
	for n := range most {
		k.days = append(k.days, day-model.Day((most-1-n)*s.apart()))
	}
	return k, true
}

func (f Facts) knownOn(k sketch) model.Day {
	return k.days[len(k.days)-1] + model.Day(f.LabDays)
}

func (f Facts) late(k sketch) bool { return f.after(f.knownOn(k)) }

func (f Facts) dear(k sketch) bool { return f.above(k.cost) }

// after and above report whether a day is later, and a cost higher, than is wanted.
func (f Facts) after(known model.Day) bool { return f.Latest != 0 && known > f.Latest }

func (f Facts) above(cost float64) bool { return f.Budget != 0 && cost > float64(f.Budget)+tie }

// tried are the plans that do alike with all groups of which not enough is known.
func (s *search) tried(tables []table) (all []Point) {
	var first model.Day
	for i, g := range s.groups {
		if !tables[i].enough() {
			first = max(first, g.first)
		}
	}
	for size := 1; size <= s.Largest; size++ {
		for rounds := 1; rounds <= s.Rounds; rounds++ {
			p := Point{Size: size, Rounds: rounds, Enough: true, Known: first + model.Day((rounds-1)*s.apart()+s.LabDays)}
			fits := false
			for _, t := range tables {
				if t.enough() {
					continue
				}
				c := t.of(size, rounds)
				p.Cost += c.cost
				p.Enough = p.Enough && c.reaches
				fits = fits || c.size == size
			}
			if fits && !s.after(p.Known) {
				all = append(all, p)
			}
		}
	}
	return all
}
