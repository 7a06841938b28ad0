// Package demo is the sample collection: an invented keeper's three years with
// twelve snakes in an old lock house, with their boxes and what is done to them. Nobody
// and nothing in it is real. Its days are relative to the present one, and it is the same every time. It is made by
// the same commands as any other collection, laid out as one change, so that it
// can be undone in one go.
package demo

import (
	"fmt"
	"time"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/collection"
	"coilward/model/exam"
	"coilward/model/knowledge"
)

// Words are the texts of the language that the story is told in.
type Words interface {
	Say(key string, gaps ...map[string]any) string
	// Decimal writes n / 10^places.
	Decimal(n int64, places int) string
}

// Fill lays the sample collection out in an empty collection.
func Fill(c *collection.Collection, t *knowledge.Tables, w Words) error {
	if _, err := c.Do(lay{tables: t, words: w}); err != nil {
		return fmt.Errorf("lay out the sample collection: %w", err)
	}
	return nil
}

// lay is the one command that makes everything.
type lay struct {
	tables *knowledge.Tables
	words  Words
}

// Name is "demo.lay".
func (lay) Name() string { return "demo.lay" }

// Plan tells the scenario on a bench and takes what lies there in the end.
func (l lay) Plan(v model.View) (model.Writes, error) {
	s := newScenario(v, l.tables, l.words)
	if err := s.tell(); err != nil {
		return model.Writes{}, err
	}
	return model.Writes{Put: s.bench.documents(), Label: model.Label{Key: "demo.done", Gaps: map[string]model.Gap{
		"Animals": model.CountGap(len(s.residents())),
	}}}, nil
}

// scenario is the story while it is told.
type scenario struct {
	bench  *bench
	tables *knowledge.Tables
	words  Words
	now    model.Moment
	people []model.PersonID // by the order of around
	house  house
	// decoded and walked are the entries of everyday care and the checks that were
	// read once.
	decoded map[model.ID]care.Entry
	walked  map[model.ID]exam.StoredCheck
}

func newScenario(v model.View, t *knowledge.Tables, w Words) *scenario {
	return &scenario{bench: newBench(v), tables: t, words: w, now: v.Now(), decoded: map[model.ID]care.Entry{}, walked: map[model.ID]exam.StoredCheck{}}
}

// say is a text of the story.
func (s *scenario) say(key string) string { return s.words.Say(key) }

// at is a moment so many days ago, at that time of the day by the keeper's clock.
func (s *scenario) at(daysAgo, hour, minute int) model.Moment {
	now := s.now.Time()
	t := time.Date(now.Year(), now.Month(), now.Day()-daysAgo, hour, minute, 0, 0, now.Location())
	m := model.MomentOf(t)
	m.Zone = s.now.Zone
	return m
}

// day is the day so many days ago.
func (s *scenario) day(daysAgo int) model.Day { return s.now.Day() - model.Day(daysAgo) }

// do carries out one command on the bench.
func (s *scenario) do(c model.Command) error {
	w, err := c.Plan(s.bench)
	if err != nil {
		return fmt.Errorf("%s: %w", c.Name(), err)
	}
	return s.bench.take(w)
}
