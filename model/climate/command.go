package climate

import (
	"cmp"
	"errors"
	"fmt"
	"slices"

	"coilward/model"
)

// MostReadings is how many readings are taken in at once: ten years of one every two
// minutes.
const MostReadings = 2_700_000

// TakeIn takes in what a logger recorded in one zone. Readings that are there already,
// wherever the logger hung, are not taken twice; of one second the reading stays that
// was there first.
type TakeIn struct {
	Key
	By       model.PersonID
	Readings []Reading
}

// Name is "climate.take-in".
func (TakeIn) Name() string { return "climate.take-in" }

// Plan writes the days that have something new; without any it writes nothing.
func (c TakeIn) Plan(v model.View) (model.Writes, error) {
	switch {
	case c.With.IsZero():
		return model.Writes{}, mend("climate-with", "", "choice.empty", nil)
	case len(c.Readings) == 0:
		return model.Writes{}, mend("reading-temperature", "", "climate.nothing", nil)
	case len(c.Readings) > MostReadings:
		return model.Writes{}, mend("reading-temperature", "", "climate.many", map[string]model.Gap{"Most": model.CountGap(MostReadings)})
	}
	name, err := c.Key.check(v)
	if err != nil {
		return model.Writes{}, err
	}
	now := v.Now().UTC
	for _, r := range c.Readings {
		if refusal := r.check(now); refusal != nil {
			return model.Writes{}, refusal
		}
	}
	fresh, _, _, err := Fresh(v, c.With, c.Readings)
	if err != nil || len(fresh) == 0 {
		return model.Writes{}, err
	}
	w, err := add(v, c.Key, c.By, fresh, nil)
	w.Label = model.Label{Key: "climate.done.take-in", Gaps: map[string]model.Gap{"Count": model.CountGap(len(fresh)), "Place": model.TextGap(name)}}
	return w, err
}

// Fresh are those of some readings that an instrument has not brought yet, in order and
// each second once; same and differing count the others.
func Fresh(v model.View, with model.InstrumentID, readings []Reading) (fresh []Reading, same, differing int, err error) {
	sorted := slices.Clone(readings)
	Sort(sorted)
	sorted, same, differing = Merge(nil, sorted)
	if len(sorted) == 0 {
		return nil, same, differing, nil
	}
	stored, unread, err := days(v, of(with.ID), Span{sorted[0].At, sorted[len(sorted)-1].At + 1})
	if err == nil && unread > 0 {
		err = fmt.Errorf("hold new readings against those that are there: %d days cannot be read", unread)
	}
	if err != nil {
		return nil, 0, 0, err
	}
	var had []Reading
	for _, d := range stored {
		had = append(had, d.Readings...)
	}
	Sort(had) // an instrument that was moved has two documents of that day
	i := 0
	for _, r := range sorted {
		for i < len(had) && had[i].At < r.At {
			i++
		}
		switch {
		case i == len(had) || had[i].At != r.At:
			fresh = append(fresh, r)
		case had[i] == r:
			same++
		default:
			differing++
		}
	}
	return fresh, same, differing, nil
}

// spanOf is the time from the first of some readings to just after the last.
func spanOf(readings []Reading, uv []UVReading) Span {
	span := Span{model.EndOfTime, model.Beginning}
	for _, r := range readings {
		span = Span{min(span.From, r.At), max(span.Until, r.At+1)}
	}
	for _, u := range uv {
		span = Span{min(span.From, u.At), max(span.Until, u.At+1)}
	}
	return span
}

// add puts sorted readings into the documents of a key.
func add(v model.View, k Key, by model.PersonID, readings []Reading, uv []UVReading) (w model.Writes, err error) {
	stored, unread, err := days(v, of(k.Place.ID), spanOf(readings, uv))
	if err == nil && unread > 0 {
		err = fmt.Errorf("put readings beside those that are there: %d days cannot be read", unread)
	}
	if err != nil {
		return w, err
	}
	there := map[int64]StoredDay{}
	for _, d := range stored {
		if d.Key == k {
			there[d.Day] = d
		}
	}
	touched := map[int64]*StoredDay{}
	day := func(at int64) *StoredDay {
		n := dayOf(at)
		d, known := touched[n]
		if !known {
			before, had := there[n]
			if !had {
				before = StoredDay{ID: v.NewID(), Day: n, Key: k}
			}
			d = &before
			touched[n] = d
		}
		return d
	}
	for len(readings) > 0 {
		d := day(readings[0].At)
		end := slices.IndexFunc(readings, func(r Reading) bool { return dayOf(r.At) != d.Day })
		if end < 0 {
			end = len(readings)
		}
		d.Readings, _, _ = Merge(d.Readings, readings[:end])
		readings = readings[end:]
	}
	for _, u := range uv {
		d := day(u.At)
		d.UV = append(slices.Clone(d.UV), u)
		slices.SortStableFunc(d.UV, func(a, b UVReading) int { return cmp.Compare(a.At, b.At) })
	}
	var order []int64
	for n := range touched {
		order = append(order, n)
	}
	slices.Sort(order)
	for _, n := range order {
		d, err := touched[n].document(by)
		if err != nil {
			return w, err
		}
		w.Put = append(w.Put, d)
	}
	return w, nil
}

// check wants a place, a zone and, where one is named, an instrument; it gives the name
// of the place.
func (k Key) check(v model.View) (name string, err error) {
	if !slices.Contains(Zones(), k.Zone) {
		return "", mend("climate-zone", string(k.Zone), "choice.unknown", nil)
	}
	if k.Place.IsZero() {
		return "", mend("climate-place", "", "choice.empty", nil)
	}
	if name, err = nameOf(v, k.Place.ID, model.TypePlace, "climate-place"); err != nil || k.With.IsZero() {
		return name, err
	}
	_, err = nameOf(v, k.With.ID, model.TypeInstrument, "climate-with")
	return name, err
}

// nameOf is the name of a place or an instrument, which is all that is read of it.
func nameOf(v model.View, id model.ID, want model.DocumentType, field string) (string, error) {
	d, err := v.Document(id)
	if errors.Is(err, model.ErrNotFound) || err == nil && d.Type != want {
		return "", mend(field, "", "choice.unknown", nil)
	}
	if err != nil {
		return "", fmt.Errorf("read where readings were taken, and with what: %w", err)
	}
	var body struct {
		Name string `json:"name"`
	}
	return body.Name, d.Decode(1<<30, &body)
}

// Note notes a reading that was taken by hand: a temperature, a humidity, a UV index, or
// all of them at once.
type Note struct {
	Key
	At      model.Moment
	By      model.PersonID
	Reading Reading    // without its moment; empty: neither of the two
	UV      *UVReading // without its moment
}

// Name is "climate.note".
func (Note) Name() string { return "climate.note" }

// Plan writes the reading. Of a second that has one already it is refused.
func (c Note) Plan(v model.View) (model.Writes, error) {
	switch {
	case c.At.IsZero():
		return model.Writes{}, mend("reading-at", "", "day.empty", nil)
	case c.At.Precision != model.ToMinute:
		return model.Writes{}, mend("reading-at", c.At.Day().String(), "climate.hour", nil)
	}
	name, err := c.Key.check(v)
	if err != nil {
		return model.Writes{}, err
	}
	now := v.Now().UTC
	var readings []Reading
	if r := c.Reading; !r.Empty() {
		r.At = c.At.UTC
		readings = []Reading{r}
		if refusal := r.check(now); refusal != nil {
			return model.Writes{}, refusal
		}
	} else if c.UV == nil {
		return model.Writes{}, mend("reading-temperature", "", "climate.nothing", nil)
	}
	var uv []UVReading
	if c.UV != nil {
		u := *c.UV
		u.At = c.At.UTC
		uv = []UVReading{u}
		if refusal := u.check(now); refusal != nil {
			return model.Writes{}, refusal
		}
	}
	stored, _, err := days(v, of(c.Place.ID), Span{c.At.UTC, c.At.UTC + 1})
	if err != nil {
		return model.Writes{}, err
	}
	for _, d := range stored {
		if d.Key == c.Key && len(Within(d.Readings, Span{c.At.UTC, c.At.UTC + 1})) > 0 && len(readings) > 0 {
			return model.Writes{}, mend("reading-at", c.At.Time().Format("15:04"), "climate.twice", nil)
		}
	}
	w, err := add(v, c.Key, c.By, readings, uv)
	w.Label = model.Label{Key: "climate.done.note", Gaps: map[string]model.Gap{"Place": model.TextGap(name), "Zone": model.KeyGap("climate.zone." + string(c.Zone))}}
	return w, err
}

// Move gives readings of a span to another place or zone, where the sensor hung
// elsewhere than was said; To with no place takes them out.
type Move struct {
	Key
	Span
	To Key
	By model.PersonID
}

// Name is "climate.move".
func (Move) Name() string { return "climate.move" }

// Plan writes the days of both. A span without readings is refused, one that runs backwards,
// the place and zone where they are already, and a span of which other readings of the same second are there already: nothing is lost. Those that are there
// alike stay as one.
func (c Move) Plan(v model.View) (model.Writes, error) {
	name, err := nameOf(v, c.Place.ID, model.TypePlace, "climate-place")
	if err != nil {
		return model.Writes{}, err
	}
	out := c.To.Place.IsZero()
	if !out {
		if c.To.With != c.With {
			return model.Writes{}, mend("climate-with", "", "choice.unknown", nil)
		}
		if name, err = c.To.check(v); err != nil {
			return model.Writes{}, err
		}
	}
	switch {
	case c.From >= c.Until:
		return model.Writes{}, mend("move-until", model.Moment{UTC: c.Until}.Day().String(), "climate.move-backwards", nil)
	case c.To == c.Key:
		return model.Writes{}, mend("climate-place", name, "climate.move-same", nil)
	}
	stored, unread, err := days(v, of(c.Place.ID), c.Span)
	if err == nil && unread > 0 {
		err = fmt.Errorf("move readings: %d days cannot be read", unread)
	}
	if err != nil {
		return model.Writes{}, err
	}
	var w model.Writes
	var moved []Reading
	var movedUV []UVReading
	within := func(at int64) bool { return at >= c.From && at < c.Until }
	for _, d := range stored {
		if d.Key != c.Key {
			continue
		}
		readings := Within(d.Readings, c.Span)
		uv := slices.DeleteFunc(slices.Clone(d.UV), func(u UVReading) bool { return !within(u.At) })
		if len(readings)+len(uv) == 0 {
			continue
		}
		moved, movedUV = append(moved, readings...), append(movedUV, uv...)
		d.Readings = slices.DeleteFunc(slices.Clone(d.Readings), func(r Reading) bool { return within(r.At) })
		d.UV = slices.DeleteFunc(slices.Clone(d.UV), func(u UVReading) bool { return within(u.At) })
		if len(d.Readings)+len(d.UV) == 0 {
			w.Remove = append(w.Remove, d.ID)
			continue
		}
		document, err := d.document(c.By)
		if err != nil {
			return model.Writes{}, err
		}
		w.Put = append(w.Put, document)
	}
	if len(moved)+len(movedUV) == 0 {
		return model.Writes{}, mend("move-from", model.Moment{UTC: c.From}.Day().String(), "climate.none-there", nil)
	}
	if !out {
		there, _, err := days(v, of(c.To.Place.ID), c.Span)
		if err != nil {
			return model.Writes{}, err
		}
		for _, d := range there {
			if d.Key == c.To {
				if _, _, differing := Merge(d.Readings, moved); differing > 0 { // of a second one value alone can stand: nothing is lost
					return model.Writes{}, mend("climate-zone", string(c.To.Zone), "climate.move-differs", map[string]model.Gap{"Count": model.CountGap(differing)})
				}
			}
		}
	}
	label := model.Label{Key: "climate.done.remove", Gaps: map[string]model.Gap{"Count": model.CountGap(len(moved) + len(movedUV)), "Place": model.TextGap(name)}}
	if !out {
		more, err := add(v, c.To, c.By, moved, movedUV)
		if err != nil {
			return model.Writes{}, err
		}
		w.Put = append(w.Put, more.Put...)
		label.Key = "climate.done.move"
	}
	w.Label = label
	return w, nil
}

// Commands are the commands of this package, one of each, empty.
func Commands() []model.Command { return []model.Command{TakeIn{}, Note{}, Move{}, SetTarget{}} }
