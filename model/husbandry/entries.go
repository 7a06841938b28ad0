package husbandry

import (
	"fmt"

	"coilward/model"
	"coilward/model/knowledge"
)

// ChangeEntry replaces an entry of this package: a cleaning or a check of an
// instrument. Exactly one of Cleaning and Check is given, as the entry's kind is.
type ChangeEntry struct {
	Tables    *knowledge.Tables
	Entry     model.EntryID
	Base      uint32
	At        model.Moment
	By        model.PersonID
	Places    []model.PlaceID // of a cleaning
	Tools     []model.ToolID  // of a cleaning
	Cleaning  *Cleaning
	Check     *InstrumentCheck
	Confirmed model.Confirmed
}

// Name is "husbandry.entry.change".
func (ChangeEntry) Name() string { return "husbandry.entry.change" }

// Plan writes the entry anew, by the rules of a new one.
func (c ChangeEntry) Plan(v model.View) (model.Writes, error) {
	d, err := v.Document(c.Entry.ID)
	if err != nil {
		return model.Writes{}, fmt.Errorf("read entry %s: %w", c.Entry, err)
	}
	switch {
	case d.Kind == KindCleaning && c.Cleaning != nil && c.Check == nil:
		d.Revision = c.Base
		return Clean{Tables: c.Tables, Places: c.Places, Tools: c.Tools, At: c.At, By: c.By, Cleaning: *c.Cleaning, Confirmed: c.Confirmed}.
			write(v, d, "husbandry.done.clean-change", "husbandry.done.clean-change-many")
	case d.Kind == KindInstrumentCheck && c.Check != nil && c.Cleaning == nil:
		name, err := checkedName(v, d)
		if err != nil {
			return model.Writes{}, err
		}
		d.Revision = c.Base
		return c.Check.write(v, d, c.At, c.By, name, "husbandry.done.instrument-check-change")
	}
	return model.Writes{}, fmt.Errorf("change entry %s: it keeps its kind, %s", c.Entry, d.Kind)
}

func checkedName(v model.View, d model.Document) (string, error) {
	checked, err := DecodeCheck(d)
	if err != nil {
		return "", err
	}
	_, i, err := findInstrument(v, checked.Instrument)
	return i.Name, err
}

// RemoveEntry takes an entry of this package out.
type RemoveEntry struct{ Entry model.EntryID }

// Name is "husbandry.entry.remove".
func (RemoveEntry) Name() string { return "husbandry.entry.remove" }

// Plan removes the entry.
func (c RemoveEntry) Plan(v model.View) (model.Writes, error) {
	d, err := v.Document(c.Entry.ID)
	if err != nil {
		return model.Writes{}, fmt.Errorf("read entry %s: %w", c.Entry, err)
	}
	switch d.Kind {
	case KindCleaning:
		return model.Writes{Remove: []model.ID{d.ID}, Label: model.Label{Key: "husbandry.done.clean-remove", Gaps: map[string]model.Gap{"Day": model.DayGap(d.At.Day())}}}, nil
	case KindInstrumentCheck:
		name, err := checkedName(v, d)
		return model.Writes{Remove: []model.ID{d.ID}, Label: named("husbandry.done.instrument-check-remove", "Instrument", name)}, err
	}
	return model.Writes{}, fmt.Errorf("remove entry %s: kind %q is not one of this package", c.Entry, d.Kind)
}
