package care

import (
	"errors"
	"fmt"
	"strconv"

	"coilward/model"
)

// About is what every entry's command says: of whom, when, by whom, and to which
// questions the person has already said yes.
type About struct {
	Animal    model.AnimalID
	At        model.Moment
	By        model.PersonID
	Confirmed model.Confirmed
}

// Weigh notes a weight. Heaviest is the heaviest known of the animal's species,
// zero if not known; Again is the mass as typed a second time, where that was
// asked for.
type Weigh struct {
	About
	Weight
	Heaviest model.Mass
	Again    model.Mass
}

// Name is "care.weigh".
func (Weigh) Name() string { return "care.weigh" }

// Plan writes the weight. It is refused for zero, a second weight in the same
// minute, a mass above the heaviest, and asks by the rule of JudgeMass.
func (c Weigh) Plan(v model.View) (model.Writes, error) {
	return entry{about: c.About, body: c.Weight, heaviest: c.Heaviest, again: c.Again}.plan(v)
}

// Feed notes a meal and what became of it.
type Feed struct {
	About
	Meal
}

// Name is "care.feed".
func (Feed) Name() string { return "care.feed" }

// Plan writes the meal.
func (c Feed) Plan(v model.View) (model.Writes, error) {
	return entry{about: c.About, body: c.Meal}.plan(v)
}

// RecordShed notes a shed.
type RecordShed struct {
	About
	Shed
}

// Name is "care.shed".
func (RecordShed) Name() string { return "care.shed" }

// Plan writes the shed.
func (c RecordShed) Plan(v model.View) (model.Writes, error) {
	return entry{about: c.About, body: c.Shed}.plan(v)
}

// RecordWaste notes faeces and urates.
type RecordWaste struct {
	About
	Waste
}

// Name is "care.waste".
func (RecordWaste) Name() string { return "care.waste" }

// Plan writes what was seen of faeces and urates.
func (c RecordWaste) Plan(v model.View) (model.Writes, error) {
	return entry{about: c.About, body: c.Waste}.plan(v)
}

// WriteNote notes words.
type WriteNote struct {
	About
	Note
}

// Name is "care.note".
func (WriteNote) Name() string { return "care.note" }

// Plan writes the note.
func (c WriteNote) Plan(v model.View) (model.Writes, error) {
	return entry{about: c.About, body: c.Note}.plan(v)
}

// AddPhoto notes photos.
type AddPhoto struct {
	About
	Photo
}

// Name is "care.photo".
func (AddPhoto) Name() string { return "care.photo" }

// Plan writes the photos.
func (c AddPhoto) Plan(v model.View) (model.Writes, error) {
	return entry{about: c.About, body: c.Photo}.plan(v)
}

// Change replaces an entry of this package; Base is the revision that the change
// was made on. An entry keeps its animal and its kind.
type Change struct {
	Entry model.EntryID
	Base  uint32
	About
	Body     Body
	Heaviest model.Mass
	Again    model.Mass
}

// Name is "care.change".
func (Change) Name() string { return "care.change" }

// Plan writes the entry anew, by the rules of a new one.
func (c Change) Plan(v model.View) (model.Writes, error) {
	d, before, err := present(v, c.Entry)
	if err != nil {
		return model.Writes{}, err
	}
	if c.Body == nil || c.Body.Kind() != d.Kind || c.Animal != before.Animal {
		return model.Writes{}, fmt.Errorf("change entry %s: it keeps its kind, %s, and its animal, %s", c.Entry, d.Kind, before.Animal)
	}
	d.Revision = c.Base
	return entry{about: c.About, body: c.Body, heaviest: c.Heaviest, again: c.Again, changed: &d, before: before}.plan(v)
}

// Remove takes an entry of this package out.
type Remove struct{ Entry model.EntryID }

// Name is "care.remove".
func (Remove) Name() string { return "care.remove" }

// Plan removes the entry.
func (c Remove) Plan(v model.View) (model.Writes, error) {
	d, e, err := present(v, c.Entry)
	if err != nil {
		return model.Writes{}, err
	}
	of, err := readSubject(v, e.Animal)
	if err != nil && !errors.Is(err, model.ErrNotFound) {
		return model.Writes{}, err
	}
	return model.Writes{Remove: []model.ID{d.ID}, Label: label("care.removed", of.Name, d.Kind, e.Body)}, nil
}

// Commands are the commands of this package, one of each, empty.
func Commands() []model.Command {
	return []model.Command{Weigh{}, Feed{}, RecordShed{}, RecordWaste{}, WriteNote{}, AddPhoto{}, AddPhotos{}, LookForMites{}, NoMitesSeen{}, TreatMites{}, RecordBlue{}, RecordClutch{}, Bathe{}, GiveFluids{}, SetPose{}, Change{}, Remove{}}
}

func present(v model.View, id model.EntryID) (model.Document, Entry, error) {
	d, err := v.Document(id.ID)
	if errors.Is(err, model.ErrNotFound) {
		return d, Entry{}, mend("entry", "", "entry.missing", nil)
	}
	if err != nil {
		return d, Entry{}, fmt.Errorf("read entry %s: %w", id, err)
	}
	e, ok, err := Decode(d)
	if err == nil && !ok {
		err = fmt.Errorf("read entry %s: kind %q is not one of everyday care", id, d.Kind)
	}
	return d, e, err
}

// entry is one entry to be written, new or changed.
type entry struct {
	about           About
	body            Body
	heaviest, again model.Mass
	changed         *model.Document
	before          Entry // the one that is changed
}

func (e entry) plan(v model.View) (model.Writes, error) {
	of, err := subjectOf(v, e.about.Animal)
	if err != nil {
		return model.Writes{}, err
	}
	if r := e.checkAlone(of, v.Now()); r != nil {
		return model.Writes{}, r
	}
	if w, ok := e.body.(Weight); ok {
		if err := isScale(v, w.With); err != nil {
			return model.Writes{}, err
		}
		series, err := Series(v, e.about.Animal)
		if err != nil {
			return model.Writes{}, err
		}
		if err := e.checkWeight(series, w); err != nil {
			return model.Writes{}, err
		}
	}
	d, err := e.document(v)
	done := "care.done"
	if e.changed != nil {
		done = "care.changed"
	}
	return model.Writes{Put: []model.Document{d}, Label: label(done, of.Name, d.Kind, e.body)}, err
}

// isScale wants a weight to be taken with an instrument of the collection, or
// with none that is named.
func isScale(v model.View, with model.InstrumentID) error {
	if with.IsZero() {
		return nil
	}
	d, err := v.Document(with.ID)
	if errors.Is(err, model.ErrNotFound) || err == nil && d.Type != model.TypeInstrument {
		return mend("weighed-with", "", "scale.none", nil)
	}
	return err
}

// checkAlone tells why the entry cannot stand, whatever else was weighed.
func (e entry) checkAlone(of subject, now model.Moment) *model.Refusal {
	return first(of.checkDay(e.about, e.body.Kind(), now), of.checkSex(e.about, e.body.Kind()), checkBeside(e.body), e.body.check(), e.checkBroughtUp(now), e.checkActs())
}

// document is the entry's document, the changed one or a new one.
func (e entry) document(v model.View) (model.Document, error) {
	d := model.Document{Type: model.TypeEntry, Kind: e.body.Kind(), Subjects: []model.Subject{e.about.Animal.Subject()}}
	if e.changed != nil {
		d = *e.changed
	} else {
		d.ID = v.NewID()
	}
	d.At, d.By = e.about.At, e.about.By
	if m, is := e.body.(Meal); is {
		d.Subjects = []model.Subject{e.about.Animal.Subject()}
		if !m.Batch.IsZero() {
			d.Subjects = append(d.Subjects, m.Batch.Subject())
		}
	}
	return d, d.Encode(version(e.body), e.body)
}

func (e entry) checkBroughtUp(now model.Moment) *model.Refusal {
	m, ok := e.body.(Meal)
	if !ok || m.BroughtUp.IsZero() {
		return nil
	}
	value := m.BroughtUp.Day.String()
	switch {
	case m.BroughtUp.Day > now.Day():
		return mend("brought-up", value, "day.future", map[string]model.Gap{"Today": model.DayGap(now.Day())})
	case lastDay(m.BroughtUp) < e.about.At.Day():
		return mend("brought-up", value, "brought-up.before-meal", map[string]model.Gap{"Meal": model.DayGap(e.about.At.Day())})
	}
	return nil
}

// checkWeight compares the weight with the others of the animal, oldest first.
func (e entry) checkWeight(series []Weighed, w Weight) error {
	var before []model.Mass
	for _, s := range series {
		if e.changed != nil && s.Entry.ID == e.changed.ID {
			continue
		}
		if s.At.UTC/60 == e.about.At.UTC/60 {
			return mend("mass", typed(w.Mass), "mass.twice", map[string]model.Gap{"Mass": model.MassGap(w.Mass), "Other": model.MassGap(s.Mass), "Day": model.DayGap(s.At.Day())})
		}
		if s.At.UTC < e.about.At.UTC {
			before = append(before, s.Mass)
		}
	}
	return e.judge(w, before)
}

func (e entry) judge(w Weight, before []model.Mass) error {
	if old, ok := e.before.Body.(Weight); ok && old.Mass.Milligrams == w.Mass.Milligrams {
		return nil // the mass stood already; something else is changed
	}
	j, against := JudgeMass(w.Mass, before, e.heaviest)
	switch {
	case j == Plausible,
		j == Asks && e.about.Confirmed.Has("mass.unlike"),
		j == WantsTypingAgain && e.again.Milligrams == w.Mass.Milligrams:
		return nil
	}
	r := massRefusal(j, w.Mass, against)
	r.Value = typed(w.Mass)
	return r
}

func typed(m model.Mass) string {
	if m.Typed != "" {
		return m.Typed
	}
	return fmt.Sprintf("%d mg", m.Milligrams)
}

func label(done, animal, kind string, b Body) model.Label {
	gaps := map[string]model.Gap{"Animal": model.TextGap(animal)}
	switch b := b.(type) {
	case Weight:
		gaps["Mass"] = model.MassGap(b.Mass)
	case Meal:
		gaps["Outcome"] = model.KeyGap("care.outcome." + string(b.Outcome))
	case MiteLook:
		gaps["Grade"] = model.KeyGap("care.mites." + strconv.Itoa(int(b.Grade)))
		if !b.Counts() && done != "care.removed" {
			kind = glance
		}
	}
	return model.Label{Key: done + "." + kind, Gaps: gaps}
}
