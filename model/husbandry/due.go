package husbandry

import (
	"coilward/model"
	"coilward/model/knowledge"
)

// Due is when something is to be done again.
type Due struct {
	Last  model.Moment // zero: never done
	Every int          // days; 0: no interval is set, and nothing is due
	Next  model.Day    // only where Every is set, or Failed
	// Failed: the last check failed, so that the next is due at once.
	Failed bool
	// Entry is the last check, where one was noted.
	Entry model.EntryID
	// Value is the table's row where the interval is the table's; empty where the
	// keeper set it.
	Value knowledge.ValueID
}

// Late reports whether it should have been done on an earlier day.
func (d Due) Late(today model.Day) bool {
	return (d.Every > 0 || d.Failed) && d.Next < today
}

// CleaningDue is when a place is to be cleaned fully again: by its own interval,
// else by that of what it stands in, nearest first, else by the table's for its
// kind. One that was never cleaned counts from when it was added.
func CleaningDue(t *knowledge.Tables, h *House, place model.PlaceID, cleanings []Cleaned) Due {
	path := h.Path(place)
	if len(path) == 0 {
		return Due{}
	}
	p := path[len(path)-1]
	due := Due{Value: map[PlaceKind]knowledge.ValueID{Tub: knowledge.ValueCleanTub, Vivarium: knowledge.ValueCleanVivarium, Enclosure: knowledge.ValueCleanEnclosure}[p.Kind]}
	for _, outer := range path {
		if outer.CleanEvery > 0 {
			due.Every, due.Value = outer.CleanEvery, ""
		}
	}
	for _, c := range cleanings {
		if c.Extent == Full && (due.Last.IsZero() || due.Last.Before(c.At)) {
			due.Last = c.At
		}
	}
	return due.from(t, p.Since.Day())
}

// from fills the interval of the table in and counts from the last time, or from
// a day where there was none.
func (d Due) from(t *knowledge.Tables, begun model.Day) Due {
	if d.Value != "" {
		d.Every = t.Value(d.Value)
	}
	if d.Every == 0 {
		return d
	}
	if !d.Last.IsZero() {
		begun = d.Last.Day()
	}
	d.Next = begun + model.Day(d.Every)
	return d
}

// CheckDue is when an instrument is to be checked again: at once where its last
// check failed. One that was never checked counts from when it came into use, or
// from when it was added where that is not known.
func CheckDue(t *knowledge.Tables, i StoredInstrument, checks []Checked) Due {
	due := Due{Every: i.CheckEvery}
	if due.Every == 0 {
		due.Value = map[InstrumentKind]knowledge.ValueID{Scale: knowledge.ValueCheckScale, Thermometer: knowledge.ValueCheckThermometer,
			Thermostat: knowledge.ValueCheckThermostat, Hygrometer: knowledge.ValueCheckHygrometer}[i.Kind]
	}
	if last, checked := LastCheck(checks); checked {
		due.Last, due.Failed, due.Entry = last.At, !last.Good, last.Entry
	}
	due = due.from(t, i.Begun())
	if due.Failed {
		due.Next = due.Last.Day()
	}
	return due
}

// Begun is when the instrument came into use, as far as it is known.
func (i StoredInstrument) Begun() model.Day {
	if i.InUse.IsZero() {
		return i.Since.Day()
	}
	return i.InUse.Day
}

// LampDue is when a UV lamp has been in use as long as the table says: the light
// is there still, its share of UV is not known any more. Nothing is due of any
// other instrument, nor where it is not known since when the lamp is in use.
func LampDue(t *knowledge.Tables, i StoredInstrument) Due {
	if i.Kind != UVLamp || i.InUse.IsZero() {
		return Due{}
	}
	return Due{Value: knowledge.ValueReplaceUVLamp}.from(t, i.InUse.Day)
}
