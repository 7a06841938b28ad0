package due_test

import (
	"context"
	"errors"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/contact"
	"coilward/model/due"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/newcomers"
	"coilward/model/quarantine"
	"coilward/model/samples"
)

// household is a world with animals in two rooms, for which commands are drawn.
type household struct {
	*world
	animals []model.AnimalID
	boxes   []model.PlaceID
	done    int // what can be undone of it
}

func newHousehold(t testing.TB) *household {
	h := &household{world: newWorld(t, ball())}
	h.animals = []model.AnimalID{h.animal}
	for _, name := range []string{"Ash", "Birch"} {
		a := ball()
		a.Name = name
		h.animals = append(h.animals, h.add(a))
	}
	for _, name := range []string{"North", "South"} {
		room := husbandry.Branch{Place: husbandry.Place{Name: name, Kind: husbandry.Room}, Below: []husbandry.Branch{
			{Place: husbandry.Place{Name: "1", Kind: husbandry.Tub}}, {Place: husbandry.Place{Name: "2", Kind: husbandry.Tub}}}}
		for _, id := range h.do(husbandry.AddPlaces{Branches: []husbandry.Branch{room}}).Documents[1:] {
			h.boxes = append(h.boxes, model.PlaceID{ID: id})
		}
	}
	for i, id := range h.animals {
		h.do(husbandry.Move{Animal: id, Place: h.boxes[i], At: h.about(30).At, Confirmed: confirmed})
	}
	h.do(quarantine.Begin{Tables: h.tables, Animal: h.animals[1], Arrived: h.about(30).At, Protocol: "python", Confirmed: confirmed})
	return h
}

// confirmed is whatever these commands ask about.
var confirmed = model.Confirmed{"place.shared", "day.before-arrival", "quarantine.unmet", "sample.over-weekend", "sample.kept-long", "house.shared", "sample.long-way", "mass.unlike", "positive.move", "positive.leave"}

// documents are all of a type that can be read.
func documents[T any](t testing.TB, h *household, all func(model.View) ([]T, error)) (list []T) {
	t.Helper()
	if err := h.c.View(func(v model.View) (err error) { list, err = all(v); return err }); err != nil {
		t.Fatal(err)
	}
	return list
}

// revisionOf is the present revision of an animal.
func (h *household) revisionOf(id model.AnimalID) uint32 {
	all := documents(h.t, h, animals.All)
	for _, a := range all {
		if a.ID == id {
			return a.Revision
		}
	}
	return 0
}

// draws are commands that change what animals owe because of each other; nil: there is
// nothing for it yet.
func (h *household) draws(r *rapid.T, id model.AnimalID) []func() model.Command {
	agent := knowledge.AgentID("serpentovirus")
	at := h.now()
	at.UTC -= 86400 * int64(rapid.SampledFrom([]int{0, 0, 0, 3, 20}).Draw(r, "ago"))
	about := care.About{Animal: id, At: at, Confirmed: confirmed}
	return []func() model.Command{
		func() model.Command {
			return husbandry.Move{Animal: id, Place: rapid.SampledFrom(h.boxes).Draw(r, "box"), At: at, Confirmed: confirmed}
		},
		func() model.Command { return husbandry.MoveOut{Animal: id, At: h.now()} },
		func() model.Command {
			return quarantine.Begin{Tables: h.tables, Animal: id, Arrived: at, Protocol: rapid.SampledFrom([]knowledge.ProtocolID{"python", "long"}).Draw(r, "protocol"), Confirmed: confirmed}
		},
		func() model.Command {
			return care.LookForMites{About: about, MiteLook: care.MiteLook{Grade: rapid.SampledFrom(care.MiteGrades()).Draw(r, "grade"), Where: care.MiteWheres()}}
		},
		func() model.Command {
			return care.TreatMites{About: about, MiteTreatment: care.MiteTreatment{What: "as the vet said"}}
		},
		func() model.Command {
			return care.Weigh{About: about, Weight: care.Weight{Mass: model.Grams(900), Gut: care.GutEmpty}, Again: model.Grams(900)}
		},
		func() model.Command { return care.Feed{About: about, Meal: care.Meal{Outcome: care.Took}} },
		func() model.Command {
			return samples.Prepare{Tables: h.tables, Each: []samples.New{{Animals: []model.AnimalID{id}, Sample: samples.Sample{Material: "choanal-swab", For: []knowledge.AgentID{agent}, Taken: at}}}, Confirmed: confirmed}
		},
		func() model.Command {
			all := documents(h.t, h, samples.All)
			if len(all) == 0 {
				return nil
			}
			s := rapid.SampledFrom(all).Draw(r, "sample")
			found := samples.Found{Of: agent, Outcome: rapid.SampledFrom([]samples.Outcome{samples.Detected, samples.NotDetected}).Draw(r, "outcome")}
			return samples.Enter{Tables: h.tables, At: h.now(), Number: "R", Rows: []samples.Row{{On: samples.On{ID: s.ID, Base: s.Revision}, Found: []samples.Found{found}}}, Confirmed: confirmed}
		},
		func() model.Command {
			all := documents(h.t, h, samples.All)
			if len(all) == 0 {
				return nil
			}
			return contact.Open{Tables: h.tables, Sample: rapid.SampledFrom(all).Draw(r, "sample").ID, Agent: agent}
		},
		func() model.Command {
			all := documents(h.t, h, contact.All)
			if len(all) == 0 {
				return nil
			}
			p := rapid.SampledFrom(all).Draw(r, "positive")
			return contact.Close{ID: p.ID, Base: p.Revision, Why: rapid.SampledFrom([]contact.Why{contact.Gone, contact.VetsWord, contact.NotConfirmed}).Draw(r, "why"), Note: "so it is", At: h.now()}
		},
		func() model.Command {
			all := documents(h.t, h, quarantine.All)
			if len(all) == 0 {
				return nil
			}
			q := rapid.SampledFrom(all).Draw(r, "quarantine")
			return newcomers.Release{Tables: h.tables, ID: q.ID, Base: q.Revision, At: h.now(), Why: "so it is", Confirmed: confirmed}
		},
		func() model.Command {
			status := rapid.SampledFrom(animals.Statuses()).Draw(r, "status")
			return animals.SetStatus{ID: id, Base: h.revisionOf(id), Status: status, Day: model.Date{Day: h.today(), Precision: model.ToDay}}
		},
		func() model.Command {
			items := h.list().Items
			if len(items) == 0 {
				return nil
			}
			return h.answer(rapid.SampledFrom(items).Draw(r, "item"), rapid.SampledFrom(due.Whats()).Draw(r, "answer"), 2, "so it is")
		},
		func() model.Command {
			own := quarantine.Own{Protocol: knowledge.Protocol{ID: "long", Days: rapid.IntRange(30, 200).Draw(r, "days"), Within: 30, CheckWithin: 7, Weight: 95, Watch: 90}}
			return quarantine.ChangeProtocol{Tables: h.tables, Own: own}
		},
	}
}

// step does one of the draws or takes the last change back, and tells its name.
func (h *household) step(r *rapid.T) string {
	id := rapid.SampledFrom(h.animals).Draw(r, "animal")
	draws := h.draws(r, id)
	what := rapid.IntRange(0, len(draws)).Draw(r, "what")
	if what == len(draws) {
		if h.done > 0 {
			h.done--
			if _, err := h.c.Undo(); err != nil {
				r.Fatal(err)
			}
		}
		return "undo"
	}
	command := draws[what]()
	if command == nil {
		return ""
	}
	change, err := h.c.Do(command)
	if refusal := (*model.Refusal)(nil); errors.As(err, &refusal) {
		return command.Name() + " refused: " + refusal.Reason
	} else if err != nil && !errors.Is(err, model.ErrNotFound) && !errors.Is(err, model.ErrConflict) {
		r.Fatal(err)
	}
	if !change.Empty() {
		h.done++
	}
	return command.Name()
}

// A book that is told of each change says what a new one finds, whoever is in
// quarantine, sampled, treated or near a positive, and whoever moves, comes and goes.
func TestWhatIsOwedTogetherIsReadAnewWhereItWasTouched(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		h := newHousehold(t)
		h.list()
		var steps []string
		for range rapid.IntRange(1, 14).Draw(r, "steps") {
			steps = append(steps, h.step(r))
			h.pass(time.Duration(rapid.SampledFrom([]int{0, 0, 0, 1, 60, 24 * 60, 8 * 24 * 60}).Draw(r, "minutes")) * time.Minute)
			fresh, err := due.NewBook(h.tables).Bring(context.Background(), h.c, nil)
			if err != nil {
				r.Fatal(err)
			}
			if len(fresh.Unread) > 0 {
				r.Fatalf("%v: %v", steps, fresh.Unread[0].Err)
			}
			if diff := cmp.Diff(fresh, h.list(), cmpopts.IgnoreUnexported(due.Owner{}), cmpopts.EquateErrors(), cmpopts.EquateEmpty()); diff != "" {
				r.Fatalf("%v: found anew (-), by the book (+):\n%s", steps, diff)
			}
		}
	})
}
