package feeders

import (
	"cmp"
	"errors"
	"slices"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/knowledge"
)

// Use is one thing that happened to a batch. Values are exclusive: a meal, a thawing, a
// failure of its freezer, or a look through it.
type Use struct {
	Entry   model.EntryID
	At      model.Moment
	Animal  model.AnimalID // of a meal
	Meal    *care.Meal
	Thaw    *Thaw
	Failure *Failure
	Look    *Look
}

// Standing is a batch with what follows from its uses.
type Standing struct {
	Stored
	Uses []Use // newest first
	// Left is how many items lie in the freezer.
	Left int
	// Thawed is how many were thawed out and can still be offered today.
	Thawed int
	// Doubtful is since when it is in doubt whether it can be offered, because its
	// freezer failed and it was not looked through since; 0: it is not.
	Doubtful model.Day
	// Up are the meals of it that came up, as far as their entries say so.
	Up []Use
}

// items is how many items of prey a meal was.
func items(m care.Meal) int { return max(m.Count, 1) }

// Stand works out what follows from the uses of a batch, on a day. A meal is taken from
// what was thawed out before it, as long as that keeps by the tables, and beyond that
// from the freezer. What came up by an entry of its own is of the meal of the same animal
// before it, as far back as one is digested by the tables, and takes nothing more.
func Stand(t *knowledge.Tables, s Stored, uses []Use, today model.Day) Standing {
	stand := Standing{Stored: s, Uses: slices.Clone(uses), Left: s.Count}
	slices.SortStableFunc(stand.Uses, func(a, b Use) int {
		return cmp.Or(cmp.Compare(b.At.UTC, a.At.UTC), slices.Compare(b.Entry.ID[:], a.Entry.ID[:]))
	})
	keeps := model.Day(t.Value(knowledge.ValueThawedKeeps))
	type thawed struct {
		on   model.Day
		left int
	}
	var out []thawed
	eaten := map[model.AnimalID]model.Day{} // the last meal of each that has not come up
	for _, u := range slices.Backward(stand.Uses) {
		switch {
		case u.Thaw != nil:
			stand.Left -= u.Thaw.Count
			out = append(out, thawed{u.At.Day(), u.Thaw.Count})
		case u.Failure != nil:
			stand.Doubtful = u.At.Day()
		case u.Look != nil:
			stand.Left -= u.Look.Thrown
			stand.Doubtful = 0
		case u.Meal != nil:
			n, came := items(*u.Meal), u.Meal.Outcome == care.Regurgitated
			if on, ate := eaten[u.Animal]; came && u.Meal.BroughtUp.IsZero() && ate && int(u.At.Day()-on) <= t.Value(knowledge.ValueFed) {
				n = 0
			}
			switch {
			case came:
				stand.Up = append(stand.Up, u)
				delete(eaten, u.Animal)
			case u.Meal.Outcome == care.Took:
				eaten[u.Animal] = u.At.Day()
			}
			for i := range out {
				if on := u.At.Day(); out[i].on <= on && on <= out[i].on+keeps {
					taken := min(n, out[i].left)
					out[i].left, n = out[i].left-taken, n-taken
				}
			}
			stand.Left -= n
		}
	}
	for _, o := range out {
		if o.on <= today && today <= o.on+keeps {
			stand.Thawed += o.left
		}
	}
	return stand
}

// Over reports whether a batch is past the day before which it is best.
func (s Standing) Over(today model.Day) bool { return !s.Best.IsZero() && today >= s.Best.Day }

// ManyUp reports whether so many meals of a batch came up that it tells of the batch.
// Source: assumed, three.
func (s Standing) ManyUp(t *knowledge.Tables) bool {
	return len(s.Up) >= t.Value(knowledge.ValueBatchUp)
}

// Of reads how a batch stands at the moment of a view; except leaves one entry out.
func Of(t *knowledge.Tables, v model.View, id model.BatchID, except model.EntryID) (Standing, error) {
	d, err := v.Document(id.ID)
	if errors.Is(err, model.ErrNotFound) || err == nil && d.Type != model.TypeBatch {
		return Standing{}, mend("batch", "", "batch.gone", nil)
	}
	if err != nil {
		return Standing{}, err
	}
	s, err := Decode(d)
	if err != nil {
		return Standing{}, err
	}
	uses, err := usesOf(v, id, except)
	return Stand(t, s, uses, v.Now().Day()), err
}

func usesOf(v model.View, id model.BatchID, except model.EntryID) (uses []Use, err error) {
	var failed error
	err = v.Timeline(id.Subject(), model.Beginning, model.EndOfTime, func(d model.Document) bool {
		u := Use{Entry: model.EntryID{ID: d.ID}, At: d.At}
		if d.Type != model.TypeEntry || u.Entry == except {
			return true
		}
		switch d.Kind {
		case care.KindMeal:
			m, err := care.DecodeMeal(d)
			failed, u.Meal = err, &m
			u.Animal, _ = d.Animal()
		case KindThaw:
			u.Thaw = &Thaw{}
			failed = d.Decode(Version, u.Thaw)
		case KindFreezer:
			u.Failure = &Failure{}
			failed = d.Decode(Version, u.Failure)
		case KindLook:
			u.Look = &Look{}
			failed = d.Decode(Version, u.Look)
		default:
			return true
		}
		if errors.Is(failed, model.ErrNewer) { // what a newer version has written is passed over
			failed = nil
			return true
		}
		uses = append(uses, u)
		return failed == nil
	})
	return uses, errors.Join(err, failed)
}

// Batches reads every batch, but those that a newer version has written.
func Batches(v model.View) (all []Stored, err error) {
	var failed error
	err = v.All(model.TypeBatch, func(d model.Document) bool {
		var s Stored
		if s, failed = Decode(d); failed == nil {
			all = append(all, s)
		} else if errors.Is(failed, model.ErrNewer) {
			failed = nil
		}
		return failed == nil
	})
	return all, errors.Join(err, failed)
}

// All reads how every batch stands: those with something left first, of these the one
// that is best before the earliest day.
func All(t *knowledge.Tables, v model.View) (all []Standing, err error) {
	var ids []model.BatchID
	if err := v.All(model.TypeBatch, func(d model.Document) bool {
		ids = append(ids, model.BatchID{ID: d.ID})
		return true
	}); err != nil {
		return nil, err
	}
	for _, id := range ids {
		s, err := Of(t, v, id, model.EntryID{})
		if errors.Is(err, model.ErrNewer) {
			continue
		}
		if err != nil {
			return nil, err
		}
		all = append(all, s)
	}
	slices.SortFunc(all, func(a, b Standing) int {
		empty := func(s Standing) int { return min(1, max(0, 1-s.Left-s.Thawed)) }
		best := func(s Standing) model.Day {
			if s.Best.IsZero() {
				return model.Day(1 << 30)
			}
			return s.Best.Day
		}
		return cmp.Or(cmp.Compare(empty(a), empty(b)), cmp.Compare(best(a), best(b)), slices.Compare(a.ID.ID[:], b.ID.ID[:]))
	})
	return all, nil
}

// The questions that a batch can raise, by the reasons of their refusals.
const (
	AskDoubtful = "batch.doubtful"
	AskOver     = "batch.over"
	AskUp       = "batch.up"
)

// Ask asks whether prey of a batch is offered although its freezer failed, it is past
// its day, or too many meals of it came up.
func (s Standing) Ask(t *knowledge.Tables, on model.Day, yes model.Confirmed) *model.Refusal {
	ask := func(reason string, gaps map[string]model.Gap) *model.Refusal {
		if yes.Has(reason) {
			return nil
		}
		return &model.Refusal{Field: "batch", Reason: reason, Answer: model.Confirm, Gaps: gaps}
	}
	if s.Doubtful != 0 && on >= s.Doubtful {
		if r := ask(AskDoubtful, map[string]model.Gap{"Day": model.DayGap(s.Doubtful), "Freezer": model.TextGap(s.Freezer)}); r != nil {
			return r
		}
	}
	if s.Over(on) {
		if r := ask(AskOver, map[string]model.Gap{"Day": model.DayGap(s.Best.Day)}); r != nil {
			return r
		}
	}
	if s.ManyUp(t) {
		return ask(AskUp, map[string]model.Gap{"Count": model.CountGap(len(s.Up))})
	}
	return nil
}

// Short refuses to take more from a batch than there is.
func (s Standing) Short(field string, n, have int) *model.Refusal {
	if n <= have {
		return nil
	}
	return mend(field, "", "batch.short", map[string]model.Gap{"Count": model.CountGap(n), "Left": model.CountGap(have)})
}
