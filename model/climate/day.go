package climate

import (
	"cmp"
	"fmt"
	"slices"

	"coilward/model"
)

// Version is the newest form of a body of this package.
const Version = 1

// Key is what readings belong together by: the same sensor in the same zone.
type Key struct {
	Place model.PlaceID      `json:"place"`
	Zone  Zone               `json:"zone"`
	With  model.InstrumentID `json:"with,omitzero"` // zero: it was not said with what
}

// UVReading is a UV index that was measured.
type UVReading struct {
	At       int64        `json:"at"`    // seconds since 1970-01-01 00:00 UTC
	Index    int          `json:"index"` // hundredths
	Distance model.Length `json:"distance,omitzero"`
}

// The highest UV index that is taken, in hundredths, and the farthest from a lamp in
// tenths of a millimetre (assumed).
const (
	HighestUV = 3000
	Farthest  = 30_000
)

// dayBody is the body of a document: the readings of one day in UTC.
type dayBody struct {
	Key
	Packed []byte      `json:"packed"`
	UV     []UVReading `json:"uv,omitempty"`
}

// StoredDay are the readings of one sensor in one zone on one day in UTC.
type StoredDay struct {
	ID       model.ID
	Revision uint32
	Day      int64 // days since 1970-01-01, in UTC
	Key
	Readings []Reading
	UV       []UVReading
}

// Decode reads a document of readings.
func Decode(d model.Document) (StoredDay, error) {
	s := StoredDay{ID: d.ID, Revision: d.Revision, Day: dayOf(d.At.UTC)}
	if d.Type != model.TypeReadings {
		return s, fmt.Errorf("read document %s as readings: it is of type %s", d.ID, d.Type)
	}
	var b dayBody
	if err := d.Decode(Version, &b); err != nil {
		return s, err
	}
	s.Key, s.UV = b.Key, b.UV
	var err error
	s.Readings, err = Unpack(make([]Reading, 0, len(b.Packed)/packedSize), s.Day, b.Packed)
	return s, err
}

func (s StoredDay) document(by model.PersonID) (model.Document, error) {
	d := model.Document{Type: model.TypeReadings, ID: s.ID, Revision: s.Revision, By: by, Subjects: []model.Subject{of(s.Place.ID)},
		At: model.Moment{UTC: s.Day * secondsDay, Zone: "UTC", Precision: model.ToDay}}
	if !s.With.IsZero() {
		d.Subjects = append(d.Subjects, of(s.With.ID))
	}
	packed, err := Pack(s.Day, s.Readings)
	if err != nil {
		return d, err
	}
	return d, d.Encode(Version, dayBody{s.Key, packed, s.UV})
}

// of is what readings of a place, or with an instrument, are found by.
func of(id model.ID) model.Subject { return model.Subject{Kind: model.SubjectReadings, ID: id} }

// Sound reads a document of this package and looks for values that no command would
// have taken; known is false for a document of another.
func Sound(d model.Document, now model.Moment) (known bool, err error) {
	if d.Type == model.TypeEntry && d.Kind == KindTarget {
		o, err := DecodeTarget(d)
		if err != nil {
			return true, err
		}
		if refusal := o.check(); refusal != nil {
			return true, refusal
		}
		return true, nil
	}
	if d.Type != model.TypeReadings {
		return false, nil
	}
	s, err := Decode(d)
	if err != nil {
		return true, err
	}
	if s.Place.IsZero() {
		return true, mend("climate-place", "", "house.gone", nil)
	}
	if !slices.Contains(Zones(), s.Zone) {
		return true, mend("climate-zone", string(s.Zone), "choice.unknown", nil)
	}
	if len(s.Readings) == 0 && len(s.UV) == 0 {
		return true, mend("reading-temperature", "", "climate.nothing", nil)
	}
	for _, r := range s.Readings {
		if refusal := r.check(now.UTC); refusal != nil {
			return true, refusal
		}
	}
	for _, u := range s.UV {
		if refusal := u.check(now.UTC); refusal != nil || dayOf(u.At) != s.Day {
			return true, cmp.Or(refusal, mend("reading-at", "", "choice.unknown", nil))
		}
	}
	return true, nil
}

// check tells what of a reading cannot stand.
func (r Reading) check(now int64) *model.Refusal {
	switch {
	case r.At > now+60:
		return mend("reading-at", model.Moment{UTC: r.At}.Day().String(), "day.future", map[string]model.Gap{"Today": model.DayGap(model.Moment{UTC: now}.Day())})
	case r.Empty():
		return mend("reading-temperature", "", "climate.nothing", nil)
	}
	switch r.Plausible() {
	case Temperature:
		return mend("reading-temperature", decimal(int(r.Temperature)), "climate.temperature", map[string]model.Gap{"Least": model.TemperatureGap(Coldest), "Most": model.TemperatureGap(Hottest)})
	case Humidity:
		return mend("reading-humidity", decimal(int(r.Humidity)), "climate.humidity", nil)
	}
	return nil
}

// NoUV stands for an index that was not read. A distance from the lamp alone says nothing,
// and is refused.
const NoUV = -1 << 31

func (u UVReading) check(now int64) *model.Refusal {
	switch {
	case u.At > now+60:
		return Reading{At: u.At}.check(now)
	case u.Index == NoUV:
		return mend("reading-distance", u.Distance.Typed, "climate.distance-alone", nil)
	case u.Index < 0 || u.Index > HighestUV:
		return mend("reading-uv", decimal(u.Index), "climate.uv", nil)
	case u.Distance.Tenths < 0 || u.Distance.Tenths > Farthest:
		return mend("reading-distance", u.Distance.Typed, "length.range", map[string]model.Gap{"Most": model.LengthGap(model.Length{Tenths: Farthest})})
	}
	return nil
}

// decimal writes hundredths as a number with a point, for what a refusal names.
func decimal(n int) string {
	sign := ""
	if n < 0 {
		sign = "-"
	}
	return fmt.Sprintf("%s%d.%02d", sign, abs(n)/100, abs(n)%100)
}

func mend(field, value, reason string, gaps map[string]model.Gap) *model.Refusal {
	return &model.Refusal{Field: field, Value: value, Reason: reason, Gaps: gaps, Answer: model.Mend}
}

// Series are all readings of one sensor in one zone, in order.
type Series struct {
	Key
	Readings []Reading
	UV       []UVReading
}

// Span is the time from the first of its readings to just after the last, the end of time
// to its beginning without any.
func (s Series) Span() Span { return spanOf(s.Readings, s.UV) }

// Moments is of how many seconds it has something, whatever was measured.
func (s Series) Moments() int {
	n, alone := len(s.Readings), map[int64]bool{}
	for _, u := range s.UV {
		if !alone[u.At] && len(Within(s.Readings, Span{u.At, u.At + 1})) == 0 {
			alone[u.At] = true
			n++
		}
	}
	return n
}

// days are the documents of readings about a subject that have some of a span, oldest
// first. unread counts those that cannot be read.
func days(v model.View, about model.Subject, s Span) (all []StoredDay, unread int, err error) {
	err = v.Timeline(about, dayOf(s.From)*secondsDay, s.Until, func(d model.Document) bool {
		one, failed := Decode(d)
		if failed != nil {
			unread++
			return true
		}
		all = append(all, one)
		return true
	})
	if err != nil {
		return nil, 0, fmt.Errorf("read the readings of %s: %w", about.ID, err)
	}
	slices.Reverse(all)
	return all, unread, nil
}

// InPlace are the readings of a place within a span, by zone as they are offered and
// then by instrument. unread counts the days that cannot be read; the error is that of
// the store.
func InPlace(v model.View, place model.PlaceID, s Span) (all []Series, unread int, err error) {
	stored, unread, err := days(v, of(place.ID), s)
	if err != nil {
		return nil, 0, err
	}
	at := map[Key]int{}
	for _, d := range stored {
		i, known := at[d.Key]
		if !known {
			i = len(all)
			at[d.Key] = i
			all = append(all, Series{Key: d.Key})
		}
		all[i].Readings = append(all[i].Readings, d.Readings...)
		all[i].UV = append(all[i].UV, d.UV...)
	}
	for i := range all {
		all[i].Readings = Within(all[i].Readings, s)
		all[i].UV = slices.DeleteFunc(all[i].UV, func(u UVReading) bool { return u.At < s.From || u.At >= s.Until })
	}
	all = slices.DeleteFunc(all, func(one Series) bool { return len(one.Readings) == 0 && len(one.UV) == 0 })
	slices.SortFunc(all, func(a, b Series) int {
		return cmp.Or(cmp.Compare(slices.Index(Zones(), a.Zone), slices.Index(Zones(), b.Zone)), slices.Compare(a.With.ID[:], b.With.ID[:]))
	})
	return all, unread, nil
}

// Newest is the second after the newest reading of a place; ok is false where there is
// none.
func Newest(v model.View, place model.PlaceID) (until int64, ok bool, err error) {
	err = v.Timeline(of(place.ID), model.Beginning, model.EndOfTime, func(d model.Document) bool {
		s, failed := Decode(d)
		if failed != nil || ok && s.Day != dayOf(until-1) {
			return failed != nil
		}
		if n := len(s.Readings); n > 0 {
			until, ok = max(until, s.Readings[n-1].At+1), true
		}
		for _, u := range s.UV {
			until, ok = max(until, u.At+1), true
		}
		return true
	})
	return until, ok, err
}

// Hanging is a time in which an instrument took readings in one zone.
type Hanging struct {
	Key
	Span     // from its first to after its last reading there
	Readings int
}

// Hangings are where an instrument took readings, one after the other.
func Hangings(v model.View, with model.InstrumentID) (all []Hanging, unread int, err error) {
	stored, unread, err := days(v, of(with.ID), Span{model.Beginning, model.EndOfTime})
	if err != nil {
		return nil, 0, err
	}
	type one struct {
		Key
		Reading
	}
	var each []one
	for _, d := range stored {
		for _, r := range d.Readings {
			each = append(each, one{d.Key, r})
		}
	}
	slices.SortStableFunc(each, func(a, b one) int { return cmp.Compare(a.At, b.At) })
	for _, o := range each {
		if n := len(all); n == 0 || all[n-1].Key != o.Key {
			all = append(all, Hanging{Key: o.Key, Span: Span{From: o.At}})
		}
		h := &all[len(all)-1]
		h.Until, h.Readings = o.At+1, h.Readings+1
	}
	return all, unread, nil
}
