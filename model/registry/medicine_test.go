package registry_test

import (
	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/due"
	"coilward/model/knowledge"
	"coilward/model/medicine"
	"coilward/model/people"
	"coilward/model/storetest"
)

// medicineGenerators draw what is done with prescriptions.
func medicineGenerators(tables *knowledge.Tables) storetest.Generators {
	ofOpen := func(fits func(medicine.Stored) bool, draw func(*rapid.T, model.View, medicine.Stored) model.Command) storetest.Generator {
		return func(t *rapid.T, v model.View) model.Command {
			d, ok := pick(t, v, model.TypePrescription, func(d model.Document) bool {
				s, err := medicine.Read(d)
				return err == nil && s.Open() && fits(s)
			})
			if !ok {
				return nil
			}
			s, err := medicine.Read(d)
			return draw(t, v, must(t, s, err))
		}
	}
	any := func(medicine.Stored) bool { return true }
	yes := model.Confirmed{"medicine.large", "medicine.weight-old", "medicine.weight-doubtful", "medicine.small", "medicine.twice", "medicine.early", "medicine.late", "medicine.site-far"}
	tell := func(t *rapid.T, v model.View, s medicine.Stored, did medicine.Did) model.Command {
		next, left := s.Next()
		if !left || s.Prescribed.Day() > v.Now().Day() {
			return nil
		}
		return medicine.Tell{Tables: tables, ID: s.ID, Base: s.Revision, Number: next.Number, Did: did, At: v.Now(), Why: drawText(t), Note: drawText(t), Confirmed: yes}
	}
	of := func(s medicine.Stored, fits func(medicine.Dose) bool) int {
		for _, d := range s.Doses {
			if fits(d) {
				return d.Number
			}
		}
		return 0
	}
	asked := func(d medicine.Dose) bool { return d.Did == medicine.Missed && d.Answer == nil }
	other := func(d medicine.Dose) bool { return !asked(d) }
	return storetest.Generators{
		"medicine.prescribe": drawPrescribe(tables),
		"medicine.change": ofOpen(any, func(t *rapid.T, _ model.View, s medicine.Stored) model.Command {
			s.Words, s.Reason = drawText(t), drawText(t)
			return medicine.Change{Tables: tables, ID: s.ID, Base: s.Revision, At: s.Prescribed, Confirmed: yes, Prescription: s.Prescription}
		}),
		"medicine.dose": ofOpen(any, func(t *rapid.T, v model.View, s medicine.Stored) model.Command {
			if of(s, asked) == 0 && rapid.Bool().Draw(t, "missed") { // only those can be answered; those that were given can be taken back
				return tell(t, v, s, medicine.Missed)
			}
			return tell(t, v, s, rapid.SampledFrom(medicine.Dids()).Draw(t, "did"))
		}),
		"medicine.take-back": ofOpen(func(s medicine.Stored) bool { return of(s, other) > 0 }, func(_ *rapid.T, _ model.View, s medicine.Stored) model.Command {
			return medicine.TakeBack{ID: s.ID, Base: s.Revision, Number: of(s, other)}
		}),
		"medicine.answer": ofOpen(func(s medicine.Stored) bool { return of(s, asked) > 0 }, func(t *rapid.T, v model.View, s medicine.Stored) model.Command {
			return medicine.AnswerMissed{ID: s.ID, Base: s.Revision, Number: of(s, asked), At: v.Now(), Said: drawText(t)}
		}),
		"medicine.end": ofOpen(func(s medicine.Stored) bool { return len(s.Doses) > 0 && of(s, asked) == 0 }, func(t *rapid.T, v model.View, s medicine.Stored) model.Command {
			return medicine.End{ID: s.ID, Base: s.Revision, At: v.Now(), Why: rapid.SampledFrom([]medicine.Why{medicine.VetsWord, medicine.Otherwise, medicine.Gone}).Draw(t, "why"), Note: drawText(t)}
		}),
		"medicine.remove": func(t *rapid.T, v model.View) model.Command {
			d, ok := pick(t, v, model.TypePrescription, func(d model.Document) bool { s, err := medicine.Read(d); return err == nil && !s.Open() })
			if !ok {
				return nil
			}
			return medicine.Remove{ID: medicine.PrescriptionID{ID: d.ID}}
		},
	}
}

// visitGenerators draw what is done with visits and questions.
func visitGenerators(tables *knowledge.Tables) storetest.Generators {
	yes := model.Confirmed{"visit.twice", "day.before-hatched"}
	visit := func(held bool, draw func(*rapid.T, model.View, medicine.StoredVisit) model.Command) storetest.Generator {
		return func(t *rapid.T, v model.View) model.Command {
			d, ok := pick(t, v, model.TypeVisit, func(d model.Document) bool {
				s, err := medicine.ReadVisit(d)
				return err == nil && (s.Held != nil) == held
			})
			if !ok {
				return nil
			}
			s, err := medicine.ReadVisit(d)
			return draw(t, v, must(t, s, err))
		}
	}
	question := func(open bool, draw func(*rapid.T, model.View, medicine.StoredQuestion) model.Command) storetest.Generator {
		return func(t *rapid.T, v model.View) model.Command {
			d, ok := pick(t, v, model.TypeQuestion, func(d model.Document) bool {
				s, err := medicine.ReadQuestion(d)
				return err == nil && s.Open() == open && s.Asked.Day() <= v.Now().Day()
			})
			if !ok {
				return nil
			}
			s, err := medicine.ReadQuestion(d)
			return draw(t, v, must(t, s, err))
		}
	}
	held := func(t *rapid.T, v model.View, s medicine.StoredVisit) model.Command {
		s.Held = &medicine.Held{Said: drawText(t)}
		c := medicine.HoldVisit{ID: s.ID, Base: s.Revision, Animal: s.Animal, At: v.Now(), Confirmed: yes, Visit: s.Visit}
		if q, ok := pick(t, v, model.TypeQuestion, func(d model.Document) bool {
			q, err := medicine.ReadQuestion(d)
			return err == nil && q.Open() && q.Animal == s.Animal && q.Asked.Day() <= v.Now().Day()
		}); ok {
			c.Answers = []medicine.Answered{{Question: medicine.QuestionID{ID: q.ID}, Base: q.Revision, Said: drawText(t)}}
		}
		if rapid.Bool().Draw(t, "again") {
			c.Next = model.MomentOn(v.Now(), v.Now().Day()+7, model.Noon, model.ToDay)
		}
		holds := due.HoldVisit{Tables: tables, HoldVisit: c, Why: drawText(t)}
		wanted := due.ToSeeVet(bring(t, due.NewBook(tables), seen{v}).BySubject()[s.Animal.Subject()])
		if len(wanted) > 0 {
			holds.About = []due.Key{rapid.SampledFrom(wanted).Draw(t, "wanted").Key}
		}
		return holds
	}
	return storetest.Generators{
		"medicine.visit-plan": ofAnimal(func(t *rapid.T, v model.View, a animals.Stored) model.Command {
			return medicine.PlanVisit{Animal: a.ID, At: model.MomentOn(v.Now(), v.Now().Day()+model.Day(rapid.IntRange(0, 300).Draw(t, "days")), model.Noon, model.ToDay), Confirmed: yes, Visit: medicine.Visit{Practice: drawText(t), Reason: drawText(t)}}
		}),
		"due.visit-hold": func(t *rapid.T, v model.View) model.Command {
			if rapid.Bool().Draw(t, "planned") {
				return visit(false, held)(t, v)
			}
			return ofAnimal(func(t *rapid.T, v model.View, a animals.Stored) model.Command {
				return held(t, v, medicine.StoredVisit{Animal: a.ID, Visit: medicine.Visit{Practice: drawText(t)}})
			})(t, v)
		},
		"due.visit-change": visit(true, func(t *rapid.T, _ model.View, s medicine.StoredVisit) model.Command {
			s.Held.Said, s.Reason = drawText(t), drawText(t)
			s.At.UTC -= 86400 * int64(rapid.IntRange(0, 1).Draw(t, "sooner"))
			return due.ChangeVisit{Tables: tables, Why: drawText(t), ChangeVisit: medicine.ChangeVisit{ID: s.ID, Base: s.Revision, At: s.At, Confirmed: yes, Visit: s.Visit}}
		}),
		"due.visit-remove": func(t *rapid.T, v model.View) model.Command {
			return visit(rapid.Bool().Draw(t, "held"), func(_ *rapid.T, _ model.View, s medicine.StoredVisit) model.Command {
				return due.RemoveVisit{RemoveVisit: medicine.RemoveVisit{ID: s.ID}}
			})(t, v)
		},
		"medicine.question-ask": ofAnimal(func(t *rapid.T, v model.View, a animals.Stored) model.Command {
			return medicine.AskQuestion{Animal: a.ID, At: v.Now(), Words: drawText(t)}
		}),
		"medicine.question-change": question(true, func(t *rapid.T, _ model.View, s medicine.StoredQuestion) model.Command {
			return medicine.ChangeQuestion{ID: s.ID, Base: s.Revision, Words: drawText(t)}
		}),
		"medicine.question-answer": question(true, func(t *rapid.T, v model.View, s medicine.StoredQuestion) model.Command {
			return medicine.AnswerQuestion{ID: s.ID, Base: s.Revision, At: v.Now(), Said: drawText(t)}
		}),
		"medicine.question-withdraw": question(true, func(t *rapid.T, v model.View, s medicine.StoredQuestion) model.Command {
			return medicine.WithdrawQuestion{ID: s.ID, Base: s.Revision, At: v.Now(), Why: drawText(t)}
		}),
		"medicine.question-reopen": question(false, func(_ *rapid.T, _ model.View, s medicine.StoredQuestion) model.Command {
			return medicine.ReopenQuestion{ID: s.ID, Base: s.Revision}
		}),
	}
}

func drawPrescribe(tables *knowledge.Tables) storetest.Generator {
	return func(t *rapid.T, v model.View) model.Command {
		vet, ok := pick(t, v, model.TypePerson, func(d model.Document) bool { p, err := people.Decode(d); return err == nil && p.Is(people.Vet) })
		if !ok {
			return nil
		}
		return ofAnimal(func(t *rapid.T, v model.View, a animals.Stored) model.Command {
			p := medicine.Prescription{Medicine: drawText(t), Vet: model.PersonID{ID: vet.ID}, Form: rapid.SampledFrom(medicine.Forms()).Draw(t, "form"), Route: medicine.ByMouth, Begins: v.Now(),
				Steps: []medicine.Step{{Day: 1, Times: rapid.IntRange(1, 9).Draw(t, "times")}}}
			if p.Steps[0].Times > 1 {
				p.Steps[0].Every = rapid.IntRange(1, 99).Draw(t, "every")
			}
			switch p.Form {
			case medicine.Volume:
				p.Steps[0].Dose = medicine.Amount{Millionths: 300_000, Typed: "0.3"}
			case medicine.PerKilogram:
				p.Measure, p.Concentration, p.Steps[0].Dose = medicine.Milligrams, medicine.Amount{Millionths: 50_000_000}, medicine.Amount{Millionths: 20_000_000}
			default:
				p.Steps[0].Words = drawText(t)
			}
			return medicine.Prescribe{Tables: tables, Animal: a.ID, At: v.Now(), Confirmed: model.Confirmed{"medicine.large"}, Prescription: p}
		})(t, v)
	}
}
