package climate

import (
	"fmt"
	"slices"

	"coilward/model"
)

// KindTarget is the kind of the entry of what the keeper wants a zone of a place to be
// like; its subject is the place. The value is frozen.
const KindTarget = "climate-target"

// Own are the keeper's own numbers for a measure of a zone. They stand in place of those
// of the table, also before a shed; where both are nil those of the table stand again.
type Own struct {
	Zone    Zone    `json:"zone"`
	Measure Measure `json:"measure"`
	Day     *Target `json:"day,omitempty"`   // nil: none by day
	Night   *Target `json:"night,omitempty"` // nil: none by night
	Why     string  `json:"why,omitempty"`   // who says so
}

// HottestTarget is the hottest that a target may be, in hundredths of a degree, as in the
// table (assumed).
const HottestTarget = 6000

// LongestWhy is how many characters it may have.
const LongestWhy = 300

// Empty reports whether it names no number.
func (o Own) Empty() bool { return o.Day == nil && o.Night == nil }

// At is its target by day or by night.
func (o Own) At(day bool) (target Target, ok bool) {
	of := o.Night
	if day {
		of = o.Day
	}
	if of == nil {
		return target, false
	}
	return *of, true
}

// mostOf is the highest that a target may be, in hundredths, as in the table; the least is 0.
func mostOf(m Measure) int {
	if m == Humidity {
		return MostHumid
	}
	return HottestTarget
}

// check wants a zone where an animal can be, a measure, and numbers that do not fall.
func (o Own) check() *model.Refusal {
	switch {
	case !o.Zone.Inside() || !slices.Contains(Zones(), o.Zone):
		return mend("climate-zone", string(o.Zone), "choice.unknown", nil)
	case !slices.Contains(Measures(), o.Measure):
		return mend("target-measure", string(o.Measure), "choice.unknown", nil)
	}
	reason := "climate.target-range.temperature"
	if o.Measure == Humidity {
		reason = "climate.target-range.humidity"
	}
	for i, of := range []*Target{o.Day, o.Night} {
		if of == nil {
			continue
		}
		least, fields := 0, TargetFields(i == 0)
		for n, value := range of.Four() {
			if value < 0 || value > mostOf(o.Measure) {
				return mend(fields[n], decimal(value), reason, map[string]model.Gap{"Least": model.TemperatureGap(0), "Most": model.TemperatureGap(HottestTarget)})
			}
			if value < least {
				return mend(fields[n], decimal(value), "climate.target-order", nil)
			}
			least = value
		}
	}
	return model.CheckText("target-why", o.Why, LongestWhy)
}

// TargetFields are the fields that ask for the four numbers by day or by night, from the
// lowest to the highest.
func TargetFields(day bool) [4]string {
	if day {
		return [4]string{"target-day-hard-low", "target-day-soft-low", "target-day-soft-high", "target-day-hard-high"}
	}
	return [4]string{"target-night-hard-low", "target-night-soft-low", "target-night-soft-high", "target-night-hard-high"}
}

// Four are the numbers, from the lowest to the highest.
func (t Target) Four() [4]int { return [4]int{t.HardLow, t.SoftLow, t.SoftHigh, t.HardHigh} }

// TargetFrom is the target of four numbers by day or by night, nil where all are nil. Some
// of them alone are refused at the first that is missing.
func TargetFrom(day bool, four [4]*int) (*Target, error) {
	missing := slices.Index(four[:], nil)
	switch {
	case four == [4]*int{}:
		return nil, nil
	case missing >= 0:
		return nil, mend(TargetFields(day)[missing], "", "climate.target-missing", nil)
	}
	return &Target{*four[0], *four[1], *four[2], *four[3]}, nil
}

// SetTarget sets the keeper's own numbers for a measure of a zone of a place; without any
// those of the table stand again.
type SetTarget struct {
	Place model.PlaceID
	By    model.PersonID
	Own   Own
}

// Name is "climate.set-target".
func (SetTarget) Name() string { return "climate.set-target" }

// Plan writes them as an entry; what was set before stays in the records. What stands so
// already is not written again.
func (c SetTarget) Plan(v model.View) (model.Writes, error) {
	if c.Place.IsZero() {
		return model.Writes{}, mend("climate-place", "", "choice.empty", nil)
	}
	if refusal := c.Own.check(); refusal != nil {
		return model.Writes{}, refusal
	}
	name, err := nameOf(v, c.Place.ID, model.TypePlace, "climate-place")
	if err != nil {
		return model.Writes{}, err
	}
	had, unread, err := OwnTargets(v, c.Place)
	if err != nil {
		return model.Writes{}, err
	}
	i := slices.IndexFunc(had, func(o Own) bool { return o.Zone == c.Own.Zone && o.Measure == c.Own.Measure })
	switch {
	case unread > 0: // what cannot be read may be newer than what can: it is written
	case i < 0 && c.Own.Empty():
		return model.Writes{}, mend("target-day-soft-low", "", "climate.target-none", nil)
	case i >= 0 && same(had[i], c.Own):
		return model.Writes{}, nil
	}
	d := model.Document{Type: model.TypeEntry, ID: v.NewID(), Kind: KindTarget, At: v.Now(), By: c.By, Subjects: []model.Subject{c.Place.Subject()}}
	if err := d.Encode(Version, c.Own); err != nil {
		return model.Writes{}, err
	}
	done := "climate.done.target"
	if c.Own.Empty() {
		done = "climate.done.target-table"
	}
	return model.Writes{Put: []model.Document{d}, Label: model.Label{Key: done, Gaps: map[string]model.Gap{"Place": model.TextGap(name),
		"Zone": model.KeyGap("climate.zone." + string(c.Own.Zone)), "Measure": model.KeyGap("climate.measure." + string(c.Own.Measure))}}}, nil
}

func same(a, b Own) bool {
	alike := func(a, b *Target) bool { return a == nil && b == nil || a != nil && b != nil && *a == *b }
	return alike(a.Day, b.Day) && alike(a.Night, b.Night) && a.Why == b.Why
}

// DecodeTarget reads the body of an entry of this kind.
func DecodeTarget(d model.Document) (o Own, err error) {
	if d.Type != model.TypeEntry || d.Kind != KindTarget {
		return o, fmt.Errorf("read entry %s as a target: it is of kind %q", d.ID, d.Kind)
	}
	return o, d.Decode(Version, &o)
}

// OwnTargets are the keeper's numbers that stand for a place, in the order of zones and
// measures. unread counts the entries that cannot be read.
func OwnTargets(v model.View, place model.PlaceID) (all []Own, unread int, err error) {
	type of struct {
		Zone
		Measure
	}
	latest := map[of]Own{}
	err = v.Timeline(place.Subject(), model.Beginning, model.EndOfTime, func(d model.Document) bool {
		if d.Type != model.TypeEntry || d.Kind != KindTarget {
			return true
		}
		o, failed := DecodeTarget(d)
		if failed != nil {
			unread++
			return true
		}
		if _, later := latest[of{o.Zone, o.Measure}]; !later {
			latest[of{o.Zone, o.Measure}] = o
		}
		return true
	})
	if err != nil {
		return nil, 0, fmt.Errorf("read the targets of place %s: %w", place, err)
	}
	for _, zone := range Zones() {
		for _, measure := range Measures() {
			if o, known := latest[of{zone, measure}]; known && !o.Empty() {
				all = append(all, o)
			}
		}
	}
	return all, unread, nil
}
