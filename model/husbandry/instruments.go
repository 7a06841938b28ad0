package husbandry

import (
	"cmp"
	"fmt"
	"slices"

	"coilward/model"
)

// AddInstrument brings an instrument into the collection.
type AddInstrument struct{ Instrument Instrument }

// Name is "husbandry.instrument.add".
func (AddInstrument) Name() string { return "husbandry.instrument.add" }

// Plan writes the instrument.
func (c AddInstrument) Plan(v model.View) (model.Writes, error) {
	return c.Instrument.write(v, model.Document{Type: model.TypeInstrument, ID: v.NewID(), At: v.Now()}, "husbandry.done.instrument-add")
}

// ChangeInstrument replaces what is known of an instrument; Base is the revision
// that the change was made on. It keeps its kind.
type ChangeInstrument struct {
	ID         model.InstrumentID
	Base       uint32
	Instrument Instrument
}

// Name is "husbandry.instrument.change".
func (ChangeInstrument) Name() string { return "husbandry.instrument.change" }

// Plan writes the instrument anew. Where nothing would change it writes nothing.
func (c ChangeInstrument) Plan(v model.View) (model.Writes, error) {
	d, before, err := findInstrument(v, c.ID)
	if err != nil {
		return model.Writes{}, err
	}
	if c.Instrument.Kind != before.Kind {
		return model.Writes{}, mend("instrument-kind", string(c.Instrument.Kind), "instrument.kind", nil)
	}
	if c.Base == d.Revision && c.Instrument == before.Instrument {
		return model.Writes{}, nil
	}
	d.Revision = c.Base
	return c.Instrument.write(v, d, "husbandry.done.instrument-change")
}

// RemoveInstrument takes an instrument out; one with checks is kept as closed
// from today on. Weights that name it keep its name.
type RemoveInstrument struct{ ID model.InstrumentID }

// Name is "husbandry.instrument.remove".
func (RemoveInstrument) Name() string { return "husbandry.instrument.remove" }

// Plan removes or closes the instrument.
func (c RemoveInstrument) Plan(v model.View) (model.Writes, error) {
	d, i, err := findInstrument(v, c.ID)
	if err != nil {
		return model.Writes{}, err
	}
	i.Closed = today(v)
	return removed(v, d, i.ID.Subject(), i.Instrument, named("husbandry.done.instrument-remove", "Instrument", i.Name))
}

// CheckInstrument notes a check of an instrument against something known.
type CheckInstrument struct {
	Instrument model.InstrumentID
	At         model.Moment
	By         model.PersonID
	Check      InstrumentCheck
}

// Name is "husbandry.instrument.check".
func (CheckInstrument) Name() string { return "husbandry.instrument.check" }

// Plan writes the check.
func (c CheckInstrument) Plan(v model.View) (model.Writes, error) {
	_, i, err := findInstrument(v, c.Instrument)
	if err != nil {
		return model.Writes{}, err
	}
	d := model.Document{Type: model.TypeEntry, ID: v.NewID(), Kind: KindInstrumentCheck, Subjects: []model.Subject{c.Instrument.Subject()}}
	return c.Check.write(v, d, c.At, c.By, i.Name, "husbandry.done.instrument-check")
}

func (c InstrumentCheck) write(v model.View, d model.Document, at model.Moment, by model.PersonID, name, done string) (model.Writes, error) {
	if err := first(checkMoment("day", at, v.Now()), c.Check()); err != nil {
		return model.Writes{}, err
	}
	d.At, d.By = at, by
	result := "husbandry.check.good"
	if !c.Good {
		result = "husbandry.check.failed"
	}
	label := named(done, "Instrument", name)
	label.Gaps["Result"] = model.KeyGap(result)
	return put(d, c, label)
}

// Check tells what of the check cannot stand; nil if nothing.
func (c InstrumentCheck) Check() *model.Refusal {
	for _, r := range []*model.Refusal{model.CheckLine("reading", c.Reading, MaxLine), model.CheckLine("reference", c.Reference, MaxLine), model.CheckText("note", c.Note, MaxNote)} {
		if r != nil {
			return r
		}
	}
	return nil
}

// Check tells what of the instrument cannot stand on the given day; nil if nothing.
func (i Instrument) Check(today model.Day) *model.Refusal {
	for _, r := range []*model.Refusal{checkName("instrument-name", i.Name), checkChoice("instrument-kind", i.Kind, InstrumentKinds()),
		model.CheckLine("place-code", i.Code, MaxName), model.CheckText("note", i.Note, MaxNote), checkPast("in-use", i.InUse, today),
		checkPast("closed", i.Closed, today), checkEvery("check-every", i.CheckEvery)} {
		if r != nil {
			return r
		}
	}
	if !i.Closed.IsZero() && i.InUse.Day > i.Closed.Day {
		return mend("closed", i.Closed.Day.String(), "stay.end-first", map[string]model.Gap{"From": model.DayGap(i.InUse.Day)})
	}
	return nil
}

func (i Instrument) write(v model.View, d model.Document, done string) (model.Writes, error) {
	i.Name, i.Code = tidy(i.Name), tidy(i.Code)
	if err := first(i.Check(v.Now().Day())); err != nil {
		return model.Writes{}, err
	}
	if err := stands(v, i.Place); err != nil {
		return model.Writes{}, err
	}
	all, err := Instruments(v)
	if err != nil {
		return model.Writes{}, err
	}
	for _, o := range all {
		if o.ID.ID != d.ID && i.Closed.IsZero() && o.Closed.IsZero() && fold(o.Name) == fold(i.Name) {
			return model.Writes{}, mend("instrument-name", i.Name, "instrument.twice", map[string]model.Gap{"Other": model.TextGap(o.Name)})
		}
	}
	return put(d, i, named(done, "Instrument", i.Name))
}

func findInstrument(v model.View, id model.InstrumentID) (model.Document, StoredInstrument, error) {
	d, err := v.Document(id.ID)
	if err != nil {
		return d, StoredInstrument{}, fmt.Errorf("read instrument %s: %w", id, err)
	}
	i, err := DecodeInstrument(d)
	return d, i, err
}

// DecodeCheck reads an entry of kind "instrument-check".
func DecodeCheck(d model.Document) (Checked, error) {
	c := Checked{Entry: model.EntryID{ID: d.ID}, Revision: d.Revision, At: d.At, By: d.By}
	if d.Kind != KindInstrumentCheck {
		return c, fmt.Errorf("read entry %s as a check of an instrument: it is of kind %q", d.ID, d.Kind)
	}
	for _, s := range d.Subjects {
		if s.Kind == model.SubjectInstrument {
			c.Instrument = model.InstrumentID{ID: s.ID}
		}
	}
	return c, d.Decode(Version, &c.InstrumentCheck)
}

// Checks are the checks of an instrument, oldest first.
func Checks(v model.View, id model.InstrumentID) ([]Checked, error) {
	found, err := entries(v, id.Subject(), KindInstrumentCheck, DecodeCheck)
	slices.Reverse(found)
	return found, err
}

// entries are the entries of a kind about a subject, newest first.
func entries[T any](v model.View, about model.Subject, kind string, decode func(model.Document) (T, error)) ([]T, error) {
	var found []T
	var failed error
	err := v.Timeline(about, model.Beginning, model.EndOfTime, func(d model.Document) bool {
		if d.Kind != kind {
			return true
		}
		var one T
		if one, failed = decode(d); failed == nil {
			found = append(found, one)
		}
		return failed == nil
	})
	if err == nil {
		err = failed
	}
	if err != nil {
		return nil, fmt.Errorf("read each %s of %s %s: %w", kind, about.Kind, about.ID, err)
	}
	return found, nil
}

// LastGood is the newest check of those that was good.
func LastGood(checks []Checked) (last Checked, known bool) {
	return lastOf(checks, func(c Checked) bool { return c.Good })
}

// LastCheck is the newest check, of two at the same moment the later one of the
// list; ok is false where there is none.
func LastCheck(checks []Checked) (last Checked, ok bool) {
	return lastOf(checks, func(Checked) bool { return true })
}

func lastOf(checks []Checked, counts func(Checked) bool) (last Checked, ok bool) {
	for _, c := range checks {
		if counts(c) && (!ok || !c.At.Before(last.At)) {
			last, ok = c, true
		}
	}
	return last, ok
}

// Span is the time from a moment to another; a zero From is the beginning, a
// zero To the end of time.
type Span struct{ From, To model.Moment }

// Doubtful are the spans in which an instrument's readings are doubtful: from
// the last good check before a failed one (from the beginning where there is
// none) to the next good check (to the end where there is none). The order of
// checks does not matter.
func Doubtful(checks []Checked) []Span {
	sorted := slices.Clone(checks)
	slices.SortStableFunc(sorted, func(a, b Checked) int {
		return cmp.Or(cmp.Compare(a.At.UTC, b.At.UTC), slices.Compare(a.Entry.ID[:], b.Entry.ID[:]))
	})
	var spans []Span
	var good model.Moment // the last good one
	failing := false
	for _, c := range sorted {
		switch {
		case !c.Good && !failing:
			spans, failing = append(spans, Span{From: good}), true
		case c.Good && failing:
			spans[len(spans)-1].To, failing = c.At, false
		}
		if c.Good {
			good = c.At
		}
	}
	return spans
}

// In reports whether a reading at a moment lies in one of the spans. One at the
// very minute of a good check does not; one of the same day does, where the
// order within the day is not known.
func In(spans []Span, at model.Moment) bool {
	return slices.ContainsFunc(spans, func(s Span) bool {
		return (s.From.IsZero() || after(at, s.From)) && (s.To.IsZero() || after(s.To, at))
	})
}

// after reports whether a may lie after b: not at the same minute, and not where
// b certainly lies later.
func after(a, b model.Moment) bool {
	return !Before(a, b) && !(exact(a) && exact(b) && a.UTC == b.UTC)
}
