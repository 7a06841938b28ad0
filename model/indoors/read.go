package indoors

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"time"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/climate"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/powercut"
)

// Zone is what one sensor tells of one zone in a time.
type Zone struct {
	climate.Series
	Instrument string // its name; empty: none was named
	Step       int64  // median seconds between readings
	Gaps       []climate.Span
	Faults     climate.Faults
	Harm       climate.Harm
	// Doubtful are the times since the last good check of the instrument before one that
	// failed, within the time asked for.
	Doubtful []climate.Span
	// Single says that its readings lie so far apart that each tells of its own time alone.
	Single bool
	// Coarse says that they lie too far apart to see a sensor jump.
	Coarse bool
	// How long each measure was in its bands, without the time that a sensor beside it in
	// the same zone stands for; what is doubtful or of a stuck sensor counts too, and is said.
	Temperature, Humidity Share
}

// Share is how long a measure was in each band by day and by night.
type Share struct {
	Mean, Min, Max, N int // of the readings, in hundredths
	Day, Night        climate.Share
	Left              int64
}

// Air is the climate of a place in a time.
type Air struct {
	Place    model.PlaceID
	Title    string
	Span     climate.Span
	Zones    []Zone // those of the room it stands in behind its own
	Aims     Aims   // what the zones should be like
	Unread   int    // days that cannot be read
	Length   model.Length
	Animals  []Fit    // who lives there now
	Cooling  *Cooling // nil: no fall was logged
	Lamps    []husbandry.StoredInstrument
	PowerCut int // power cuts that were looked through
	Ends     Ends
	// Lately is what may have hurt an animal in the last days before now, of which it is said
	// what to do; it is looked for whatever the time asked for. LatelyFrom is its first second.
	Lately     []Harmed
	LatelyFrom int64
}

// Ends compares the water in the air of the warm and of the cool end in the time asked for.
type Ends struct {
	Warm, Cool int // the mean dew points in hundredths
	Hours      int // in which both were read; 0: they cannot be compared
}

// Harmed is what may have hurt an animal in a zone, by one sensor.
type Harmed struct {
	climate.Harm
	Zone climate.Zone
}

// Fit is an animal with how the enclosure compares with its length from snout to vent; the
// tail comes on top, so that one that is not enough is not, and one that is may not be.
type Fit struct {
	ID      model.AnimalID
	Name    string
	Percent int
	Enough  bool
	Known   bool // both lengths are
}

// Cooling is how long the place stays above a temperature without heat.
type Cooling struct {
	climate.Cooling
	Zone climate.Zone
	From int // hundredths of a degree, the coldest of the last day and night
}

// clock is the minute of the local day. It keeps the offset between two changes of the
// clocks, and is of one goroutine.
func clock(loc *time.Location) climate.Clock {
	var from, until, offset int64
	return func(at int64) int {
		if at < from || at >= until {
			t := time.Unix(at, 0).In(loc)
			_, seconds := t.Zone()
			start, end := t.ZoneBounds()
			from, until, offset = model.Beginning, model.EndOfTime, int64(seconds)
			if !start.IsZero() {
				from = start.Unix()
			}
			if !end.IsZero() {
				until = end.Unix()
			}
		}
		second := (at + offset) % 86400
		if second < 0 {
			second += 86400
		}
		return int(second / 60)
	}
}

// Read reads the climate of a place in a time.
func Read(v model.View, t *knowledge.Tables, place model.PlaceID, span climate.Span) (a Air, err error) {
	h, err := husbandry.ReadHouse(v)
	if err != nil {
		return a, err
	}
	p, known := h.Place(place)
	if !known {
		return a, fmt.Errorf("read the climate of place %s: %w", place, model.ErrNotFound)
	}
	a = Air{Place: place, Title: h.Title(place), Span: span, Length: longer(p.Size.Width, p.Size.Depth)}
	instruments, err := husbandry.Instruments(v)
	if err != nil {
		return a, err
	}
	for _, i := range instruments {
		if i.Kind == husbandry.UVLamp && i.Place == place && i.Closed.IsZero() {
			a.Lamps = append(a.Lamps, i)
		}
	}
	where := []model.PlaceID{place}
	if room := h.Room(place); !room.IsZero() && room != place {
		where = append(where, room)
	}
	loc := v.Now().Location()
	who := h.Living(place, v.Now())
	for _, stay := range h.Lived(place, model.Moment{UTC: span.From}, model.Moment{UTC: span.Until}) {
		if !slices.Contains(who, stay.Animal) {
			who = append(who, stay.Animal)
		}
	}
	if a.Aims, err = aimsFor(v, t, place, who, span); err != nil {
		return a, err
	}
	for i, of := range where {
		series, unread, err := climate.InPlace(v, of, span)
		if err != nil {
			return a, err
		}
		a.Unread += unread
		rules := climate.RulesOf(t)
		taken := map[climate.Measure][][]climate.Span{}
		for _, m := range climate.Measures() {
			taken[m] = rules.Taken(series, m)
		}
		for n, s := range series {
			if i > 0 && s.Zone.Inside() {
				continue
			}
			z, err := zoneOf(v, t, s, instruments, span)
			if err != nil {
				return a, err
			}
			for _, m := range climate.Measures() {
				to := z.of(m)
				to.Day, to.Night, to.Left = rules.Shares(s.Readings, m, taken[m][n], climate.LightOf(t), clock(loc), a.Aims.Of(s.Zone, m))
			}
			a.Zones = append(a.Zones, z)
		}
	}
	if err := a.fits(v, h); err != nil {
		return a, err
	}
	if err := a.lately(v, t); err != nil {
		return a, err
	}
	if err := a.compareEnds(newBefore(v, t)); err != nil {
		return a, err
	}
	return a, a.cool(v, t, h, where)
}

// HighestUV is the highest UV index that was measured in the time asked for, in hundredths.
func (a Air) HighestUV() (index int, measured bool) {
	for _, z := range a.Zones {
		for _, u := range z.UV {
			index, measured = max(index, u.Index), true
		}
	}
	return index, measured
}

// compareEnds compares the ends in the hours in which both have good readings of both
// measures: the water in the air changes with the day, so that other hours tell nothing.
func (a *Air) compareEnds(b *before) error {
	type mean struct {
		sum float64
		n   int
	}
	hours := map[climate.Zone]map[int64]mean{climate.Warm: {}, climate.Cool: {}}
	for _, z := range a.Zones {
		by, end := hours[z.Zone]
		if !end {
			continue
		}
		for _, m := range climate.Measures() {
			var err error
			if z.Readings, err = b.good(z.Series, m); err != nil {
				return err
			}
		}
		for _, r := range z.Readings {
			if r.Temperature != climate.NoTemperature && r.Humidity > 0 {
				of := by[r.At/3600]
				by[r.At/3600] = mean{of.sum + climate.DewPoint(float64(r.Temperature)/100, float64(r.Humidity)/100), of.n + 1}
			}
		}
	}
	warm, cool := 0.0, 0.0
	for hour, one := range hours[climate.Warm] {
		if other, both := hours[climate.Cool][hour]; both {
			warm += one.sum / float64(one.n)
			cool += other.sum / float64(other.n)
			a.Ends.Hours++
		}
	}
	if n := float64(a.Ends.Hours); n > 0 {
		a.Ends.Warm, a.Ends.Cool = int(math.Round(warm/n*100)), int(math.Round(cool/n*100))
	}
	return nil
}

// lately looks for what may have hurt an animal in the last days.
func (a *Air) lately(v model.View, t *knowledge.Tables) error {
	now := v.Now().UTC
	a.LatelyFrom = now - int64(t.Value(knowledge.ValueHarmLately))*86400
	all, _, err := climate.InPlace(v, a.Place, climate.Span{From: a.LatelyFrom, Until: now + 61})
	for _, s := range all {
		if h := climate.RulesOf(t).Harm(climate.LimitsOf(t), s.Zone, s.Readings); !h.None() {
			a.Lately = append(a.Lately, Harmed{h, s.Zone})
		}
	}
	return err
}

// longer is the longer of two lengths.
func longer(a, b model.Length) model.Length {
	if a.Tenths >= b.Tenths {
		return a
	}
	return b
}

// of is what it tells of a measure.
func (z *Zone) of(m climate.Measure) *Share {
	if m == climate.Humidity {
		return &z.Humidity
	}
	return &z.Temperature
}

func zoneOf(v model.View, t *knowledge.Tables, s climate.Series, instruments []husbandry.StoredInstrument, span climate.Span) (Zone, error) {
	rules, step := climate.RulesOf(t), climate.MedianStep(s.Readings)
	z := Zone{Series: s, Step: step, Single: step == 0 || rules.Single(step), Coarse: step > rules.JumpWithin, Gaps: rules.Gaps(s.Readings), Faults: rules.Faults(s.Readings), Harm: rules.Harm(climate.LimitsOf(t), s.Zone, s.Readings)}
	if i := slices.IndexFunc(instruments, func(i husbandry.StoredInstrument) bool { return i.ID == s.With }); i >= 0 {
		z.Instrument = instruments[i].Name
		checks, err := husbandry.Checks(v, s.With)
		if err != nil {
			return z, err
		}
		for _, d := range husbandry.Doubtful(checks) {
			one := climate.Span{From: span.From, Until: span.Until}
			if !d.From.IsZero() {
				one.From = max(one.From, d.From.UTC)
			}
			if !d.To.IsZero() {
				one.Until = min(one.Until, d.To.UTC)
			}
			if one.From < one.Until && len(climate.Within(s.Readings, one)) > 0 {
				z.Doubtful = append(z.Doubtful, one)
			}
		}
	}
	for _, m := range climate.Measures() {
		to := z.of(m)
		to.Mean, to.N = climate.Mean(s.Readings, m)
		first := true
		for _, r := range s.Readings {
			value, ok := r.Value(m)
			if !ok {
				continue
			}
			if first {
				to.Min, to.Max, first = value, value, false
			}
			to.Min, to.Max = min(to.Min, value), max(to.Max, value)
		}
	}
	return z, nil
}

// fits compares the enclosure with those who live in it.
func (a *Air) fits(v model.View, h *husbandry.House) error {
	for _, id := range h.Living(a.Place, v.Now()) {
		one, err := animals.Find(v, id)
		if err != nil {
			return err
		}
		f := Fit{ID: id, Name: one.Name}
		f.Percent, f.Enough, f.Known = climate.Stretches(a.Length, one.Length.SnoutVent)
		a.Animals = append(a.Animals, f)
	}
	return nil
}

// cool finds how long the place stays warm, by the power cuts that were logged. What is
// doubtful tells nothing.
func (a *Air) cool(v model.View, t *knowledge.Tables, h *husbandry.House, where []model.PlaceID) error {
	cuts, _, err := powercut.All(v)
	if err != nil {
		return err
	}
	b := newBefore(v, t)
	falls := map[climate.Zone][]climate.Fall{}
	for _, cut := range cuts {
		if !cut.Whole && !slices.ContainsFunc(cut.Places, func(p model.PlaceID) bool { return within(h, a.Place, p) }) {
			continue
		}
		a.PowerCut++
		s := climate.Span{From: cut.From.UTC, Until: cut.Until.UTC}
		all, err := a.series(b, where, s)
		if err != nil {
			return err
		}
		var outside []climate.Reading
		for _, one := range all {
			if one.Zone == climate.Outside {
				outside = append(outside, one.Readings...)
			}
		}
		climate.Sort(outside)
		for _, one := range all {
			if f, ok := climate.FallWithin(one.Readings, s, outside); ok && one.Zone != climate.Outside {
				falls[one.Zone] = append(falls[one.Zone], f)
			}
		}
	}
	coldest, now := map[climate.Zone]int{}, v.Now().UTC
	all, err := a.series(b, where, climate.Span{From: now - 86400, Until: now + 61})
	if err != nil {
		return err
	}
	for _, s := range all {
		for _, r := range s.Readings {
			if r.Temperature == climate.NoTemperature {
				continue
			}
			if least, known := coldest[s.Zone]; !known || int(r.Temperature) < least {
				coldest[s.Zone] = int(r.Temperature)
			}
		}
	}
	outside, known := coldest[climate.Outside]
	place, _ := h.Place(a.Place)
	for _, zone := range climate.Zones() {
		from, there := coldest[zone]
		if !there || !zone.Inside() && (zone != climate.RoomAir || place.Kind.Houses()) { // the animal is in the enclosure; a room has its air alone
			continue
		}
		c, ok := climate.HoursUntil(falls[zone], from, t.Value(knowledge.ValueCoolingTo), outside, known)
		if ok && (a.Cooling == nil || sooner(c, a.Cooling.Cooling)) {
			a.Cooling = &Cooling{Cooling: c, Zone: zone, From: from}
		}
	}
	return nil
}

// sooner reports whether a tells more than b of how long it stays warm: hours before
// none, the fewer before the more, and what was as cold already before what never is.
func sooner(a, b climate.Cooling) bool {
	hours := func(c climate.Cooling) bool { return !c.Already && !c.Never }
	if hours(a) && hours(b) {
		return a.Hours < b.Hours
	}
	return hours(a) || !hours(b) && a.Already && b.Never
}

// series are the readings of places in a time that are not doubtful; of
// those but the first only what is of no animal's zone.
func (a *Air) series(b *before, where []model.PlaceID, s climate.Span) (all []climate.Series, err error) {
	for i, of := range where {
		some, _, err := climate.InPlace(b.view, of, s)
		if err != nil {
			return nil, err
		}
		for _, one := range some {
			if i > 0 && one.Zone.Inside() {
				continue
			}
			if one.Readings, err = b.sound(one); err != nil {
				return nil, err
			}
			all = append(all, one)
		}
	}
	return all, nil
}

// within reports whether a place is another, or stands in it.
func within(h *husbandry.House, place, in model.PlaceID) bool {
	return place == in || slices.ContainsFunc(h.Path(place), func(p husbandry.StoredPlace) bool { return p.ID == in })
}

// Placed are the places that have readings, by their title.
func Placed(v model.View) (all []husbandry.StoredPlace, err error) {
	h, err := husbandry.ReadHouse(v)
	if err != nil {
		return nil, err
	}
	for _, p := range h.Places() {
		_, ok, err := climate.Newest(v, p.ID)
		if err != nil {
			return nil, err
		}
		if ok {
			all = append(all, p)
		}
	}
	slices.SortStableFunc(all, func(a, b husbandry.StoredPlace) int { return cmp.Compare(h.Title(a.ID), h.Title(b.ID)) })
	return all, nil
}
