package animal_test

import (
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"coilward/assets"
	"coilward/export/paper"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/collection"
	"coilward/model/exam"
	"coilward/model/history"
	"coilward/model/knowledge"
	"coilward/model/storetest"
	"coilward/ui/animal"
	roster "coilward/ui/animals"
)

// story is one animal whose records page, roster and paper must tell alike.
type story struct {
	t      *testing.T
	c      *collection.Collection
	clock  *storetest.Clock
	tables *knowledge.Tables
	id     model.AnimalID
}

func tell(t *testing.T) *story {
	t.Helper()
	s := &story{t: t}
	var err error
	if s.tables, err = knowledge.Load(assets.Knowledge()); err != nil {
		t.Fatal(err)
	}
	s.c, s.clock = storetest.New(t)
	s.id.ID = s.do(animals.Add{Animal: animals.Animal{Name: "Wren", Status: animals.Kept}})
	return s
}

func (s *story) do(c model.Command) model.ID {
	s.t.Helper()
	s.clock.Pass(time.Hour)
	change, err := s.c.Do(c)
	if err != nil {
		s.t.Fatalf("%s: %v", c.Name(), err)
	}
	return change.Documents[0]
}

func (s *story) view(read func(model.View) error) {
	s.t.Helper()
	if err := s.c.View(read); err != nil {
		s.t.Fatal(err)
	}
}

func (s *story) about() care.About {
	var a care.About
	s.view(func(v model.View) error { a = care.About{Animal: s.id, At: v.Now()}; return nil })
	return a
}

// check walks the animal; what was open before gets that answer.
func (s *story) check(earlier exam.Key, marks map[knowledge.StopID][]knowledge.FindingID) {
	s.t.Helper()
	var d exam.Draft
	s.view(func(v model.View) error {
		problems, err := exam.Problems(v, s.id)
		records, failed := history.Read(s.tables, v, animals.Stored{ID: s.id}, v.Now())
		d = exam.Begin(s.tables, exam.Beginning{Check: model.EntryID{ID: v.NewID()}, Animal: s.id, At: v.Now(), Problems: problems, Context: records.Context})
		if err == nil {
			err = failed
		}
		return err
	})
	press := func(key exam.Key) {
		var err error
		if d, err = d.Press(s.tables, key, d.Begun); err != nil {
			s.t.Fatal(err)
		}
	}
	for !d.AtEnd() {
		here, _ := d.Stop()
		if _, asking := d.Asking(); asking {
			press(earlier)
			continue
		}
		for _, what := range marks[here] {
			d = d.Mark(s.tables, what, d.Begun)
		}
		delete(marks, here)
		press(exam.KeyEnter)
	}
	s.do(exam.Finish{Tables: s.tables, Draft: d, At: d.Begun})
}

func (s *story) problems() (all []exam.StoredProblem) {
	s.view(func(v model.View) (err error) { all, err = exam.Problems(v, s.id); return err })
	return all
}

// TestPageRosterAndPaperSayTheSame holds what the three tell of the same records
// against each other.
func TestPageRosterAndPaperSayTheSame(t *testing.T) {
	at := func(stop knowledge.StopID, what ...knowledge.FindingID) map[knowledge.StopID][]knowledge.FindingID {
		return map[knowledge.StopID][]knowledge.FindingID{stop: what}
	}
	const gone = exam.Key('4')
	for _, c := range []struct {
		name string
		tell func(*story)
		want knowledge.Level
	}{
		{"several signs of the airways", func(s *story) { s.check(0, at("airway", "airway-discharge", "froth")) }, knowledge.EmergencyToday},
		{"gaping after a meal", func(s *story) {
			s.do(care.Feed{About: s.about(), Meal: care.Meal{Outcome: care.Took}})
			s.clock.Pass(-30 * time.Minute)
			s.check(0, at("rest", "gaping"))
		}, knowledge.LookAgain},
		{"prolapse beside an overdue look", func(s *story) {
			s.check(0, at("snout", "nose-rub"))
			s.clock.Pass(60 * 24 * time.Hour)
			s.check('1', at("vent", "prolapse"))
		}, knowledge.EmergencyToday},
		{"worms in faeces", func(s *story) {
			s.do(care.RecordWaste{About: s.about(), Waste: care.Waste{Faeces: []care.Trait{care.Worms}}})
		}, knowledge.VetWithinDays},
		{"regurgitated twice", func(s *story) {
			s.do(care.Feed{About: s.about(), Meal: care.Meal{Outcome: care.Regurgitated}})
			s.do(care.Feed{About: s.about(), Meal: care.Meal{Outcome: care.Regurgitated}})
		}, knowledge.VetWithinDays},
		{"emergency gone without a vet", func(s *story) {
			s.check(0, at("vent", "prolapse"))
			s.clock.Pass(24 * time.Hour)
			s.check(gone, nil)
		}, knowledge.VetWithinDays},
		{"closed by a vet", func(s *story) {
			s.check(0, at("vent", "prolapse"))
			s.do(exam.Close{Problem: s.problems()[0].ID, At: s.about().At, Note: "replaced"})
		}, knowledge.Nothing},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := tell(t)
			c.tell(s)
			s.view(func(v model.View) error {
				life, err := animal.LoadLife(v, s.tables, s.id)
				if err != nil {
					return err
				}
				page := life.Standing(s.tables, v.Now())
				row, _, err := roster.LoadOne(v, s.tables, s.id, v.Now())
				if err != nil {
					return err
				}
				g, err := paper.Gather(v, paper.Gathering{Animal: s.id, Tables: s.tables})
				if err != nil {
					return err
				}
				printed := g.Facts().Standing()
				if page.Level() != c.want || row.Level != c.want || printed.Level() != c.want {
					t.Errorf("page %q, roster %q, paper %q: want %q", page.Level(), row.Level, printed.Level(), c.want)
				}
				if diff := cmp.Diff(page.Due(), printed.Due()); diff != "" {
					t.Errorf("due, page (-) and paper (+):\n%s", diff)
				}
				if page.Apart() != printed.Apart() {
					t.Errorf("keep apart: page %t, paper %t", page.Apart(), printed.Apart())
				}
				return nil
			})
		})
	}
}
