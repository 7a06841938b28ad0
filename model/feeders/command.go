package feeders

import (
	"fmt"
	"strings"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/knowledge"
)

// Commands are the commands of this package, one of each, empty.
func Commands() []model.Command {
	return []model.Command{Add{}, Change{}, Remove{}, ThawOut{}, Fail{}, LookThrough{}, RemoveEntry{}}
}

// Add brings a batch into the stock.
type Add struct {
	Batch Batch
	By    model.PersonID
}

// Name is "feeders.add".
func (Add) Name() string { return "feeders.add" }

// Plan writes the batch.
func (c Add) Plan(v model.View) (model.Writes, error) {
	return write(v, model.Document{Type: model.TypeBatch, ID: v.NewID(), At: v.Now(), By: c.By}, c.Batch, "feeders.done.add")
}

// Change replaces what is known of a batch; Base is the revision that the change was
// made on. It is refused where more was used than it would hold.
type Change struct {
	Tables *knowledge.Tables
	ID     model.BatchID
	Base   uint32
	Batch  Batch
}

// Name is "feeders.change".
func (Change) Name() string { return "feeders.change" }

// Plan writes the batch anew.
func (c Change) Plan(v model.View) (model.Writes, error) {
	s, err := Of(c.Tables, v, c.ID, model.EntryID{})
	if err != nil {
		return model.Writes{}, err
	}
	if used := s.Count - s.Left; c.Batch.Count > 0 && c.Batch.Count < used {
		return model.Writes{}, mend("batch-count", "", "batch.used", map[string]model.Gap{"Count": model.CountGap(used)})
	}
	d, err := v.Document(c.ID.ID)
	if err != nil {
		return model.Writes{}, err
	}
	d.Revision = c.Base
	return write(v, d, c.Batch, "feeders.done.change")
}

func write(v model.View, d model.Document, b Batch, done string) (model.Writes, error) {
	b.Name, b.Freezer, b.Note = strings.Join(strings.Fields(b.Name), " "), strings.Join(strings.Fields(b.Freezer), " "), strings.TrimSpace(b.Note)
	if r := b.Check(v.Now().Day()); r != nil {
		return model.Writes{}, r
	}
	if err := d.Encode(Version, b); err != nil {
		return model.Writes{}, err
	}
	return model.Writes{Put: []model.Document{d}, Label: label(done, b)}, nil
}

func label(key string, b Batch) model.Label {
	return model.Label{Key: key, Gaps: map[string]model.Gap{"Name": model.TextGap(b.Name), "Count": model.CountGap(b.Count)}}
}

// Remove takes a batch out that nothing was taken from and nothing happened to.
type Remove struct{ ID model.BatchID }

// Name is "feeders.remove".
func (Remove) Name() string { return "feeders.remove" }

// Plan removes the batch.
func (c Remove) Plan(v model.View) (model.Writes, error) {
	d, err := v.Document(c.ID.ID)
	if err != nil {
		return model.Writes{}, fmt.Errorf("remove batch %s: %w", c.ID, err)
	}
	s, err := Decode(d)
	if err != nil {
		return model.Writes{}, err
	}
	uses, err := usesOf(v, c.ID, model.EntryID{})
	if err != nil {
		return model.Writes{}, err
	}
	if len(uses) > 0 {
		return model.Writes{}, mend("batch", "", "batch.kept", map[string]model.Gap{"Count": model.CountGap(len(uses))})
	}
	return model.Writes{Remove: []model.ID{d.ID}, Label: label("feeders.done.remove", s.Batch)}, nil
}

// ThawOut notes prey that is thawed out.
type ThawOut struct {
	Tables *knowledge.Tables
	Batch  model.BatchID
	Thaw
	At        model.Moment
	By        model.PersonID
	Confirmed model.Confirmed
}

// Name is "feeders.thaw".
func (ThawOut) Name() string { return "feeders.thaw" }

// Plan writes the thawing. It is refused for more than lies in the freezer, and asks as
// a meal of the batch does.
func (c ThawOut) Plan(v model.View) (model.Writes, error) {
	if r := first(checkMoment(c.At, v.Now()), c.Thaw.Check()); r != nil {
		return model.Writes{}, r
	}
	s, err := Of(c.Tables, v, c.Batch, model.EntryID{})
	if err != nil {
		return model.Writes{}, err
	}
	if r := first(s.Short("thaw-count", c.Count, s.Left), s.Ask(c.Tables, c.At.Day(), c.Confirmed)); r != nil {
		return model.Writes{}, r
	}
	d := model.Document{Type: model.TypeEntry, ID: v.NewID(), Kind: KindThaw, At: c.At, By: c.By, Subjects: []model.Subject{c.Batch.Subject()}}
	if err := d.Encode(Version, c.Thaw); err != nil {
		return model.Writes{}, err
	}
	l := label("feeders.done.thaw", s.Batch)
	l.Gaps["Count"] = model.CountGap(c.Count)
	return model.Writes{Put: []model.Document{d}, Label: l}, nil
}

// Fail notes that a freezer failed, for all batches in it that have something left.
type Fail struct {
	Tables *knowledge.Tables
	Failure
	At model.Moment
	By model.PersonID
}

// Name is "feeders.freezer-failed".
func (Fail) Name() string { return "feeders.freezer-failed" }

// Plan writes one entry about all of them. It is refused where there is none.
func (c Fail) Plan(v model.View) (model.Writes, error) {
	c.Freezer = strings.Join(strings.Fields(c.Freezer), " ")
	if r := first(checkMoment(c.At, v.Now()), c.Failure.Check()); r != nil {
		return model.Writes{}, r
	}
	all, err := All(c.Tables, v)
	if err != nil {
		return model.Writes{}, err
	}
	d := model.Document{Type: model.TypeEntry, ID: v.NewID(), Kind: KindFreezer, At: c.At, By: c.By}
	for _, s := range all {
		if s.Left > 0 && s.Freezer == c.Freezer {
			d.Subjects = append(d.Subjects, s.ID.Subject())
		}
	}
	if len(d.Subjects) == 0 {
		return model.Writes{}, mend("freezer", c.Freezer, "freezer.empty", nil)
	}
	if err := d.Encode(Version, c.Failure); err != nil {
		return model.Writes{}, err
	}
	return model.Writes{Put: []model.Document{d}, Label: model.Label{Key: "feeders.done.failed", Gaps: map[string]model.Gap{
		"Freezer": model.TextGap(c.Freezer), "Count": model.CountGap(len(d.Subjects))}}}, nil
}

// LookThrough notes that a batch was looked through, and what of it was thrown away.
type LookThrough struct {
	Tables *knowledge.Tables
	Batch  model.BatchID
	Look
	At model.Moment
	By model.PersonID
}

// Name is "feeders.look".
func (LookThrough) Name() string { return "feeders.look" }

// Plan writes the look. It is refused for more thrown away than lies in the freezer.
func (c LookThrough) Plan(v model.View) (model.Writes, error) {
	if r := first(checkMoment(c.At, v.Now()), c.Look.Check()); r != nil {
		return model.Writes{}, r
	}
	s, err := Of(c.Tables, v, c.Batch, model.EntryID{})
	if err != nil {
		return model.Writes{}, err
	}
	if r := s.Short("thrown-count", c.Thrown, s.Left); r != nil {
		return model.Writes{}, r
	}
	d := model.Document{Type: model.TypeEntry, ID: v.NewID(), Kind: KindLook, At: c.At, By: c.By, Subjects: []model.Subject{c.Batch.Subject()}}
	if err := d.Encode(Version, c.Look); err != nil {
		return model.Writes{}, err
	}
	l := label("feeders.done.look", s.Batch)
	l.Gaps["Count"] = model.CountGap(c.Thrown)
	return model.Writes{Put: []model.Document{d}, Label: l}, nil
}

// RemoveEntry takes a thawing, a failure or a look out that was noted by mistake.
type RemoveEntry struct{ Entry model.EntryID }

// Name is "feeders.entry.remove".
func (RemoveEntry) Name() string { return "feeders.entry.remove" }

// Plan removes the entry.
func (c RemoveEntry) Plan(v model.View) (model.Writes, error) {
	d, err := v.Document(c.Entry.ID)
	if err != nil {
		return model.Writes{}, fmt.Errorf("remove entry %s: %w", c.Entry, err)
	}
	if d.Type != model.TypeEntry || d.Kind != KindThaw && d.Kind != KindFreezer && d.Kind != KindLook {
		return model.Writes{}, fmt.Errorf("remove entry %s: kind %q is not one of the stock of feeders", c.Entry, d.Kind)
	}
	return model.Writes{Remove: []model.ID{d.ID}, Label: model.Label{Key: "feeders.done.entry-remove", Gaps: map[string]model.Gap{"Kind": model.KeyGap("kind." + d.Kind)}}}, nil
}

func checkMoment(at, now model.Moment) *model.Refusal {
	switch {
	case at.IsZero():
		return mend("day", "", "day.empty", nil)
	case at.Day() > now.Day() || at.Precision == model.ToMinute && at.UTC > now.UTC+60:
		return mend("day", at.Day().String(), "day.future", map[string]model.Gap{"Today": model.DayGap(now.Day())})
	}
	return nil
}

// TakenBy refuses a meal of more than there is of its batch, and asks as the batch does;
// nothing of a meal that names none. except is the entry that is changed.
func TakenBy(t *knowledge.Tables, v model.View, about care.About, m care.Meal, except model.EntryID) error {
	if m.Batch.IsZero() {
		return nil
	}
	s, err := Of(t, v, m.Batch, except)
	if err != nil {
		return err
	}
	with := Stand(t, s.Stored, append(s.Uses, Use{At: about.At, Animal: about.Animal, Meal: &m}), v.Now().Day())
	if r := s.Short("count", items(m), items(m)+min(0, with.Left)); r != nil {
		return r
	}
	if r := s.Ask(t, about.At.Day(), about.Confirmed); r != nil && m.Outcome != care.Regurgitated {
		return r
	}
	return nil
}
