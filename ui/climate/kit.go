package climate

import (
	"slices"
	"time"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/chart"
	"coilward/model/climate"
	"coilward/model/husbandry"
	"coilward/model/indoors"
	"coilward/model/knowledge"
	"coilward/model/welfare"
)

// Scale is how much time is in sight.
type Scale uint8

// The scales.
const (
	ByDay Scale = iota
	ByWeek
	ByYear
)

// days is how long it is.
func (s Scale) days() int { return [...]int{1, 7, 365}[s] }

// bucket is how many seconds a point of the chart stands for.
func (s Scale) bucket() int64 { return [...]int64{600, 3600, 86400}[s] }

// Kit is what the page shows.
type Kit struct {
	House       *husbandry.House
	Instruments []husbandry.StoredInstrument
	Places      []husbandry.StoredPlace // that have readings
	Air         indoors.Air
	Any         bool // the place has readings at all
	Sheds       []chart.AirMark
	Refused     []chart.AirMark
	Observed    []chart.AirMark
	Lives       []Living
	loc         *time.Location
	now         int64
}

// Living is an animal that lives there, with what goes together of it.
type Living struct {
	ID   model.AnimalID
	Name string
	Goes []indoors.Together
}

// spanOf is the time of a scale that ends with a local day.
func spanOf(s Scale, last model.Day, loc *time.Location) climate.Span {
	midnight := func(d model.Day) int64 {
		year, month, day := d.Date()
		return time.Date(year, month, day, 0, 0, 0, 0, loc).Unix()
	}
	return climate.Span{From: midnight(last + 1 - model.Day(s.days())), Until: midnight(last + 1)}
}

// Load reads the climate of a place on the days of a scale up to the last one; last 0 is
// the day of its newest reading. Without a place it is the first that has readings.
func Load(v model.View, t *knowledge.Tables, place model.PlaceID, s Scale, last model.Day) (k Kit, shown model.Day, err error) {
	k.loc, k.now = v.Now().Location(), v.Now().UTC
	if k.House, err = husbandry.ReadHouse(v); err != nil {
		return k, last, err
	}
	if k.Instruments, err = husbandry.Instruments(v); err != nil {
		return k, last, err
	}
	if k.Places, err = indoors.Placed(v); err != nil {
		return k, last, err
	}
	if _, known := k.House.Place(place); !known {
		place = model.PlaceID{}
	}
	switch {
	case !place.IsZero():
	case len(k.Places) > 0:
		place = k.Places[0].ID
	default:
		for _, p := range k.House.Places() {
			if _, closed := k.House.Closed(p.ID); p.Kind.Houses() && !closed {
				place = p.ID
				break
			}
		}
	}
	if place.IsZero() {
		return k, last, nil
	}
	until, any, err := climate.Newest(v, place)
	if err != nil {
		return k, last, err
	}
	if k.Any = any; last == 0 {
		last = v.Now().Day()
		if any {
			last = model.MomentOf(time.Unix(until-1, 0).In(k.loc)).Day()
		}
	}
	span := spanOf(s, last, k.loc)
	if k.Air, err = indoors.Read(v, t, place, span); err != nil {
		return k, last, err
	}
	return k, last, k.beside(v, t, span)
}

// beside reads what was noted of those who lived there.
func (k *Kit) beside(v model.View, t *knowledge.Tables, span climate.Span) error {
	seen := map[model.AnimalID]bool{}
	for _, stay := range k.House.Lived(k.Air.Place, model.Moment{UTC: span.From}, model.Moment{UTC: span.Until}) {
		if seen[stay.Animal] {
			continue
		}
		seen[stay.Animal] = true
		if err := v.Timeline(stay.Animal.Subject(), span.From, span.Until, func(d model.Document) bool {
			mark := chart.AirMark{At: d.At.UTC, Shape: chart.Diamond}
			switch d.Kind {
			case care.KindShed:
				if s, err := care.DecodeShed(d); err == nil {
					if s.Skin == care.InPieces || s.StuckEyeCaps == care.Yes || s.StuckTailTip == care.Yes {
						mark.Shape = chart.Ring
					}
					k.Sheds = append(k.Sheds, mark)
				}
			case care.KindMeal:
				if m, err := care.DecodeMeal(d); err == nil && m.Outcome == care.Refused {
					mark.Shape = chart.Ring
					k.Refused = append(k.Refused, mark)
				}
			case welfare.KindObservation:
				mark.Shape = chart.Dot
				k.Observed = append(k.Observed, mark)
			}
			return true
		}); err != nil {
			return err
		}
	}
	if p, _ := k.House.Place(k.Air.Place); !p.Kind.Houses() {
		return nil // of a room it is asked at each enclosure
	}
	for _, id := range k.House.Living(k.Air.Place, v.Now()) {
		one := Living{ID: id}
		a, err := animals.Find(v, id)
		if err != nil {
			return err
		}
		one.Name = a.Name
		var entries []care.Entry
		if err := v.Timeline(id.Subject(), model.Beginning, model.EndOfTime, func(d model.Document) bool {
			if d.Kind == care.KindShed || d.Kind == care.KindMeal {
				if e, known, err := care.Decode(d); known && err == nil {
					entries = append(entries, e)
				}
			}
			return true
		}); err != nil {
			return err
		}
		if one.Goes, err = indoors.GoTogether(v, t, id, entries); err != nil {
			return err
		}
		k.Lives = append(k.Lives, one)
	}
	return nil
}

// offset is how far the clock of the place is from UTC at a second.
func (k *Kit) offset(at int64) int64 {
	_, offset := time.Unix(at, 0).In(k.loc).Zone()
	return int64(offset)
}

// data is the chart of a measure of a zone.
func (k *Kit) data(t *knowledge.Tables, z indoors.Zone, m climate.Measure, s Scale) chart.AirData {
	span := k.Air.Span
	d := chart.AirData{AirSpan: chart.AirSpan{From: span.From, Until: span.Until}, Seconds: max(s.bucket(), z.Step), Offset: k.offset}
	for _, b := range climate.Buckets(z.Readings, m, span.From, d.Seconds) {
		d.Points = append(d.Points, chart.AirPoint{From: b.From, Low: float64(b.Min) / 100, Mean: float64(b.Mean) / 100, High: float64(b.Max) / 100})
	}
	d.Gaps = k.missing(z, d.Seconds)
	for _, g := range z.Doubtful {
		d.Doubtful = append(d.Doubtful, chart.AirSpan(g))
	}
	if z.Place == k.Air.Place {
		d.Targets = k.targets(t, z.Zone, m, s)
	}
	return d
}

// missing are the times in sight in which a sensor has no readings, as far as they can be seen
// where a point stands for so many seconds: between its readings, before the first, and after
// the last until now.
func (k *Kit) missing(z indoors.Zone, point int64) (all []chart.AirSpan) {
	if z.Single || len(z.Readings) == 0 {
		return nil
	}
	add := func(from, until, least int64) {
		if until-from > least {
			all = append(all, chart.AirSpan{From: from, Until: until})
		}
	}
	edge := point * 5 / 2 // so long the chart draws its line on
	add(k.Air.Span.From, z.Readings[0].At, edge)
	for _, g := range z.Gaps {
		add(g.From, g.Until, point)
	}
	add(z.Readings[len(z.Readings)-1].At, min(k.Air.Span.Until, k.now), edge)
	return all
}

// targets are the good bands: of the day and the night in turn, with those of the days
// before a shed, but over a year those of the day alone, which could not be told apart there.
func (k *Kit) targets(t *knowledge.Tables, z climate.Zone, m climate.Measure, s Scale) (all []chart.AirTarget) {
	span, light, aim := k.Air.Span, climate.LightOf(t), k.Air.Aims.Of(z, m)
	add := func(from, until int64, day bool) {
		if from, until = max(from, span.From), min(until, span.Until); from >= until {
			return
		}
		if target, ok := aim(from, day); ok {
			all = append(all, chart.AirTarget{AirSpan: chart.AirSpan{From: from, Until: until}, HardLow: float64(target.HardLow) / 100, SoftLow: float64(target.SoftLow) / 100,
				SoftHigh: float64(target.SoftHigh) / 100, HardHigh: float64(target.HardHigh) / 100})
		}
	}
	cut := func(from, until int64, day bool) { // where a time before a shed begins or ends
		edges := []int64{from}
		for _, blue := range k.Air.Aims.Blue {
			for _, at := range []int64{blue.From, blue.Until} {
				if at > from && at < until {
					edges = append(edges, at)
				}
			}
		}
		slices.Sort(edges)
		for i, at := range edges {
			end := until
			if i+1 < len(edges) {
				end = edges[i+1]
			}
			add(at, end, day)
		}
	}
	if s == ByYear {
		cut(span.From, span.Until, true)
		return all
	}
	first := model.Day((span.From + k.offset(span.From)) / 86400)
	for day := first; ; day++ {
		midnight := spanOf(ByDay, day, k.loc)
		if midnight.From >= span.Until {
			return all
		}
		from, until := midnight.From+int64(light.From)*60, midnight.From+int64(light.Until)*60
		cut(midnight.From, from, false)
		cut(from, until, true)
		cut(until, midnight.Until, false)
	}
}
