package powercut

import (
	"errors"
	"fmt"
	"slices"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/exam"
	"coilward/model/history"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
)

// Commands are the commands of this package, one of each, empty.
func Commands() []model.Command { return []model.Command{Note{}, Change{}, Remove{}, LookedQuiet{}} }

// The reasons of what is asked.
const (
	AskLong  = "power-cut.long"  // it went on for more than LongDays
	AskTwice = "power-cut.twice" // another one stands of the same time and place
)

// LongDays is how many days a power cut may go on before it is asked about. Assumed.
const LongDays = 7

// Note notes a power cut in some places, or in all where it was Whole.
type Note struct {
	Places    []model.PlaceID
	From      model.Moment
	By        model.PersonID
	Cut       Cut
	Confirmed model.Confirmed
}

// Name is "powercut.note".
func (Note) Name() string { return "powercut.note" }

// Plan writes the power cut, with the animals that lived there then. It is refused where
// nobody did, where it ended before it began, and where any of it lies in the future.
func (c Note) Plan(v model.View) (model.Writes, error) {
	return c.write(v, model.Document{Type: model.TypeEntry, ID: v.NewID(), Kind: Kind}, "power-cut.done")
}

func (c Note) write(v model.View, d model.Document, done string) (model.Writes, error) {
	if r := first(c.Cut.Check(c.From), ahead(c.From, c.Cut.Until, v.Now())); r != nil {
		return model.Writes{}, r
	}
	house, err := husbandry.ReadHouse(v)
	if err != nil {
		return model.Writes{}, err
	}
	places := slices.Clone(c.Places)
	if c.Cut.Whole {
		places = nil
		for _, p := range house.Places() {
			if p.Parent.IsZero() {
				places = append(places, p.ID)
			}
		}
	}
	for _, id := range places {
		if _, known := house.Place(id); !known {
			return model.Writes{}, mend("rooms", "", "house.gone", nil)
		}
	}
	if len(places) == 0 && !c.Cut.Whole {
		return model.Writes{}, mend("rooms", "", "power-cut.nowhere", nil)
	}
	lived := Lived(house, places, c.From, c.Cut.Until)
	if c.Cut.Whole {
		if lived, err = withoutPlace(v, house, lived, c.From, c.Cut.Until); err != nil {
			return model.Writes{}, err
		}
	}
	if len(lived) == 0 {
		return model.Writes{}, mend("rooms", "", "power-cut.nobody", nil)
	}
	if r, err := c.asks(v, d, house, places); err != nil || r != nil {
		return model.Writes{}, orError(r, err)
	}
	d.At, d.By, d.Subjects = c.From, c.By, nil
	for _, id := range places {
		d.Subjects = append(d.Subjects, id.Subject())
	}
	for _, id := range lived {
		d.Subjects = append(d.Subjects, id.Subject())
	}
	slices.SortFunc(d.Subjects, func(a, b model.Subject) int { return slices.Compare(a.ID[:], b.ID[:]) })
	d.Subjects = slices.Compact(d.Subjects)
	if err := d.Encode(Version, c.Cut); err != nil {
		return model.Writes{}, err
	}
	return model.Writes{Put: []model.Document{d}, Label: model.Label{Key: done, Gaps: map[string]model.Gap{
		"Day": model.DayGap(c.From.Day()), "Count": model.CountGap(len(lived))}}}, nil
}

// withoutPlace adds those who are here, came before its end and lived in no place that is
// known.
func withoutPlace(v model.View, h *husbandry.House, lived []model.AnimalID, from, until model.Moment) ([]model.AnimalID, error) {
	all, err := animals.All(v)
	if err != nil {
		return nil, err
	}
	for _, a := range all {
		_, housed := h.Where(a.ID, until)
		if _, before := h.Where(a.ID, from); housed || before || !a.Status.Here() || a.Status == animals.OnLoan || a.Begun() > until.Day() {
			continue
		}
		lived = append(lived, a.ID)
	}
	return lived, nil
}

// asks asks about a long one, and about another of the same time and place.
func (c Note) asks(v model.View, d model.Document, h *husbandry.House, places []model.PlaceID) (*model.Refusal, error) {
	if days := (c.Cut.Until.UTC - c.From.UTC) / 86400; days >= LongDays {
		if r := ask(c.Confirmed, "cut-until", "", AskLong, map[string]model.Gap{"Days": model.CountGap(int(days))}); r != nil {
			return r, nil
		}
	}
	others, _, err := All(v)
	if err != nil {
		return nil, err
	}
	for _, o := range others {
		if o.ID.ID == d.ID || o.From.UTC >= c.Cut.Until.UTC || c.From.UTC >= o.Until.UTC {
			continue
		}
		if slices.ContainsFunc(places, func(p model.PlaceID) bool {
			return slices.ContainsFunc(o.Places, func(q model.PlaceID) bool { return p == q || h.Room(p) == q || h.Room(q) == p })
		}) {
			return ask(c.Confirmed, "cut-from", "", AskTwice, map[string]model.Gap{"Day": model.DayGap(o.From.Day())}), nil
		}
	}
	return nil, nil
}

func orError(r *model.Refusal, err error) error {
	if r != nil {
		return r
	}
	return err
}

// Change puts a power cut right; Base is the revision that the change was made on.
type Change struct {
	Entry model.EntryID
	Base  uint32
	Note
}

// Name is "powercut.change".
func (Change) Name() string { return "powercut.change" }

// Plan writes it anew by the rules of a new one, with those who lived there by what the
// records say now.
func (c Change) Plan(v model.View) (model.Writes, error) {
	d, err := find(v, c.Entry)
	if err != nil {
		return model.Writes{}, err
	}
	d.Revision = c.Base
	return c.Note.write(v, d, "power-cut.changed")
}

// Remove takes a power cut out, and with it the watch.
type Remove struct{ Entry model.EntryID }

// Name is "powercut.remove".
func (Remove) Name() string { return "powercut.remove" }

// Plan removes the entry.
func (c Remove) Plan(v model.View) (model.Writes, error) {
	d, err := find(v, c.Entry)
	if err != nil {
		return model.Writes{}, err
	}
	return model.Writes{Remove: []model.ID{d.ID}, Label: model.Label{Key: "power-cut.removed", Gaps: map[string]model.Gap{"Day": model.DayGap(d.At.Day())}}}, nil
}

func find(v model.View, id model.EntryID) (model.Document, error) {
	d, err := v.Document(id.ID)
	if err != nil {
		return d, fmt.Errorf("read the power cut %s: %w", id, err)
	}
	_, err = Read(d)
	return d, err
}

// LookedQuiet notes of animals that they lay at rest, breathed without a sound and with the
// mouth shut: for each a check of that one stop. One with an open finding there is
// looked at in a check of its own, where the finding is judged.
type LookedQuiet struct {
	Tables  *knowledge.Tables
	Animals []model.AnimalID
	By      model.PersonID
}

// Name is "powercut.quiet".
func (LookedQuiet) Name() string { return "powercut.quiet" }

// Plan writes the checks.
func (c LookedQuiet) Plan(v model.View) (all model.Writes, err error) {
	if len(c.Animals) == 0 {
		return all, mend("animals", "", "power-cut.no-look", nil)
	}
	for i, id := range c.Animals {
		if slices.Contains(c.Animals[:i], id) {
			continue
		}
		w, err := c.look(v, id)
		if err != nil {
			return model.Writes{}, err
		}
		all.Put, all.Remove = append(all.Put, w.Put...), append(all.Remove, w.Remove...)
	}
	all.Label = model.Label{Key: "power-cut.looked", Gaps: map[string]model.Gap{"Count": model.CountGap(len(c.Animals))}}
	return all, nil
}

func (c LookedQuiet) look(v model.View, id model.AnimalID) (model.Writes, error) {
	a, err := animals.Find(v, id)
	if err != nil {
		return model.Writes{}, err
	}
	if !a.Status.Here() {
		return model.Writes{}, mend("animals", a.Name, "power-cut.not-here", map[string]model.Gap{"Name": model.TextGap(a.Name)})
	}
	records, err := history.Read(c.Tables, v, a, v.Now())
	if err != nil {
		return model.Writes{}, err
	}
	problems, illegible, err := exam.LegibleProblems(v, id)
	if err = errors.Join(err, errors.Join(illegible...)); err != nil {
		return model.Writes{}, err
	}
	if OpenAtRest(c.Tables, problems) {
		return model.Writes{}, mend("animals", a.Name, "power-cut.open", map[string]model.Gap{"Name": model.TextGap(a.Name)})
	}
	standing := records.Stand(c.Tables, problems, v.Now())
	draft := exam.Begin(c.Tables, exam.Beginning{Check: model.EntryID{ID: v.NewID()}, Animal: id, At: v.Now(), Problems: problems,
		Context: records.Context, Sheds: records.Sheds, StuckCaps: records.StuckCaps(), VetBy: standing.VetFor(), Noted: standing.VetNoted()})
	draft.Context.Gravid = records.Gravid()
	for i := range draft.Stops {
		if draft.Stops[i].Stop == knowledge.Rest {
			draft.Stops[i].Look, draft.Stops[i].At = exam.Seen, v.Now()
		}
	}
	return exam.Finish{Tables: c.Tables, Draft: draft, By: c.By}.Plan(v)
}

// OpenAtRest reports whether a finding is open that the look at an animal at rest has to
// judge: one of it at rest, or one that tells of its airways.
func OpenAtRest(t *knowledge.Tables, problems []exam.StoredProblem) bool {
	return slices.ContainsFunc(problems, func(p exam.StoredProblem) bool {
		return p.Open() && !p.Baseline && (p.Stop == knowledge.Rest || slices.Contains(t.Cluster(knowledge.Breathing), p.What))
	})
}
