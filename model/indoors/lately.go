package indoors

import (
	"cmp"
	"slices"

	"coilward/model"
	"coilward/model/climate"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
)

// Lately is what was read in one zone where an animal lived, in few numbers.
type Lately struct {
	Zone        climate.Zone
	Measure     climate.Measure
	N           int
	First, Last int64 // the seconds of the first and the last reading
	// Mean, Min and Max are in hundredths; the mean is of the readings.
	Mean, Min, Max int
	// Day and Night are how long it was in each band.
	Day, Night climate.Share
	Lack       Lack // why there is no target; empty: there may be one, the keeper's own or the table's
	Own        bool // the keeper's own stands
	UnreadOwn  bool // some of the keeper's own of the place cannot be read
	Doubtful   int  // of the readings: since an instrument's last good check before a failed one
}

// Of is what was read in a time where an animal lived then, by zone and measure. unread
// counts the days that cannot be read.
func Of(v model.View, t *knowledge.Tables, animal model.AnimalID, s climate.Span) (all []Lately, unread int, err error) {
	h, err := husbandry.ReadHouseOf(v, animal)
	if err != nil {
		return nil, 0, err
	}
	b := &before{view: v, tables: t, house: h, animal: animal, spoilt: map[model.InstrumentID][]climate.Span{}}
	rules, light, day := climate.RulesOf(t), climate.LightOf(t), clock(v.Now().Location())
	at := map[climate.Zone]map[climate.Measure]int{}
	sums := map[int]int{}
	for _, stay := range h.Stays(animal) {
		lived := climate.Span{From: max(s.From, stay.From.UTC), Until: s.Until}
		if !stay.Until.IsZero() {
			lived.Until = min(lived.Until, stay.Until.UTC)
		}
		if lived.From >= lived.Until {
			continue
		}
		series, bad, err := climate.InPlace(v, stay.Place, lived)
		if err != nil {
			return nil, 0, err
		}
		unread += bad
		aims, err := aimsFor(v, t, stay.Place, []model.AnimalID{animal}, lived)
		if err != nil {
			return nil, 0, err
		}
		taken := map[climate.Measure][][]climate.Span{}
		for _, m := range climate.Measures() {
			taken[m] = rules.Taken(series, m)
		}
		for n, one := range series {
			if _, err := b.good(one, climate.Temperature); err != nil { // reads when the instrument is doubtful
				return nil, 0, err
			}
			for _, m := range climate.Measures() {
				mean, readings := climate.Mean(one.Readings, m)
				if readings == 0 {
					continue
				}
				if at[one.Zone] == nil {
					at[one.Zone] = map[climate.Measure]int{}
				}
				i, known := at[one.Zone][m]
				if !known {
					i = len(all)
					at[one.Zone][m] = i
					all = append(all, Lately{Zone: one.Zone, Measure: m, First: one.Readings[0].At, Min: 1 << 30, Max: -1 << 30})
				}
				l := &all[i]
				l.N, sums[i] = l.N+readings, sums[i]+mean*readings
				for _, r := range one.Readings {
					if value, ok := r.Value(m); ok {
						l.First, l.Last = min(l.First, r.At), max(l.Last, r.At)
						l.Min, l.Max = min(l.Min, value), max(l.Max, value)
						if slices.ContainsFunc(b.spoilt[one.With], func(s climate.Span) bool { return r.At >= s.From && r.At < s.Until }) {
							l.Doubtful++
						}
					}
				}
				l.Lack, l.UnreadOwn = aims.Lack, l.UnreadOwn || aims.UnreadOwn > 0
				if _, own := aims.OwnOf(one.Zone, m); own {
					l.Lack, l.Own = "", true
				}
				byDay, byNight, _ := rules.Shares(one.Readings, m, taken[m][n], light, day, aims.Of(one.Zone, m))
				for band := range byDay {
					l.Day[band] += byDay[band]
					l.Night[band] += byNight[band]
				}
			}
		}
	}
	for i := range all {
		all[i].Mean = sums[i] / all[i].N
	}
	slices.SortStableFunc(all, func(a, b Lately) int {
		return cmp.Or(cmp.Compare(slices.Index(climate.Zones(), a.Zone), slices.Index(climate.Zones(), b.Zone)), cmp.Compare(slices.Index(climate.Measures(), a.Measure), slices.Index(climate.Measures(), b.Measure)))
	})
	return all, unread, nil
}
