package due

import (
	"errors"
	"fmt"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/knowledge"
	"coilward/model/medicine"
)

// visiting is what was noted of visits to a vet, by the animal.
type visiting struct {
	visits map[model.AnimalID][]medicine.StoredVisit
	open   map[model.AnimalID]int // questions
}

// readVisits reads visits and questions. Those that cannot be read are noted with their
// animal.
func readVisits(v model.View, unread map[model.AnimalID]error) (visiting, error) {
	all := visiting{map[model.AnimalID][]medicine.StoredVisit{}, map[model.AnimalID]int{}}
	err := v.All(model.TypeVisit, func(d model.Document) bool {
		s, illegible := medicine.ReadVisit(d)
		if illegible != nil {
			unread[s.Animal] = illegible
			return true
		}
		all.visits[s.Animal] = append(all.visits[s.Animal], s)
		return true
	})
	if err == nil {
		err = v.All(model.TypeQuestion, func(d model.Document) bool {
			s, illegible := medicine.ReadQuestion(d)
			switch {
			case illegible != nil:
				unread[s.Animal] = illegible
			case s.Open():
				all.open[s.Animal]++
			}
			return true
		})
	}
	if err != nil {
		return all, fmt.Errorf("read the visits to a vet: %w", err)
	}
	return all, nil
}

// due is what visits of animals that are here make due.
func (all visiting) due(v model.View, t *knowledge.Tables, into map[model.AnimalID][]Obligation) error {
	for id, visits := range all.visits {
		a, err := animals.Find(v, id)
		if errors.Is(err, model.ErrNotFound) {
			continue
		}
		if err != nil {
			return err
		}
		if !a.Status.Here() {
			continue
		}
		for _, s := range visits {
			for _, feeder := range Feeders() {
				if feeder.Visit == nil {
					continue
				}
				for _, o := range feeder.Visit(t, s, all.open[id], v.Now()) {
					o.Subject = id.Subject()
					into[id] = append(into[id], o)
				}
			}
		}
	}
	return nil
}

// visits makes a planned visit due on its day, with the number of questions that are
// open; once the day is past it asks whether the visit was held.
func visits(_ *knowledge.Tables, s medicine.StoredVisit, open int, now model.Moment) []Obligation {
	if s.Held != nil {
		return nil
	}
	day := s.At.Day()
	o := Obligation{Key: Key{Job: VetVisit, Cause: s.ID.String()}, Since: day, From: day, By: day, Act: ActVisit}
	switch {
	case day < now.Day():
		o.Cause, o.Level = o.Cause+"/held/"+day.String(), knowledge.LookAgain
		o.Reasons = why("due.why.visit-past", map[string]model.Gap{"Day": model.DayGap(day)})
	case s.At.Precision == model.ToMinute:
		o.Reasons = why("due.why.visit-hour", map[string]model.Gap{"Hour": hour(s.At)})
	default:
		o.Reasons = why("due.why.visit", nil)
	}
	if s.Reason != "" {
		o.Reasons = append(o.Reasons, model.Label{Key: "due.why.visit-for", Gaps: map[string]model.Gap{"Reason": model.TextGap(s.Reason)}})
	}
	if open > 0 {
		o.Reasons = append(o.Reasons, model.Label{Key: "due.why.visit-questions", Gaps: map[string]model.Gap{"Questions": model.CountGap(open)}})
	}
	return []Obligation{o}
}

// hour tells the hour of a dose or a visit as every hour is told, such as "08:05".
func hour(at model.Moment) model.Gap { return model.TextGap(at.Time().Format("15:04")) }
