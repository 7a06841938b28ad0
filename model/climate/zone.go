package climate

import (
	"slices"

	"coilward/model"
	"coilward/model/knowledge"
)

// Zone is where in or at a place readings are taken. Values are frozen; the text is
// "climate.zone." + value.
type Zone string

// The zones.
const (
	Basking Zone = "basking" // the surface under the heat
	Warm    Zone = "warm"    // the air of the warm end
	Cool    Zone = "cool"    // the air of the cool end
	Hide    Zone = "hide"    // in the hide
	RoomAir Zone = "room"    // the air of the room
	Outside Zone = "outside" // out of doors
)

// Zones are all of them, in the order in which they are offered.
func Zones() []Zone { return []Zone{Basking, Warm, Cool, Hide, RoomAir, Outside} }

// Inside reports whether an animal can be there.
func (z Zone) Inside() bool { return z == Basking || z == Warm || z == Cool || z == Hide }

// Measure is what is read. Values are frozen; the text is "climate.measure." + value.
type Measure string

// The measures: hundredths of a degree Celsius, and hundredths of a percent.
const (
	Temperature Measure = "temperature"
	Humidity    Measure = "humidity"
)

// Measures are all of them.
func Measures() []Measure { return []Measure{Temperature, Humidity} }

// Band is where a value lies by the four numbers of a target.
type Band uint8

// The bands, from below. Values on a soft number are Good, values on a hard one are
// not beyond it.
const (
	FarLow Band = iota
	Low
	Good
	High
	FarHigh
	bands
)

// Target is what a zone should be like, as four numbers in hundredths. The source
// stands in the table, or the keeper has set it.
type Target struct {
	HardLow  int `json:"hardLow"`
	SoftLow  int `json:"softLow"`
	SoftHigh int `json:"softHigh"`
	HardHigh int `json:"hardHigh"`
}

// Band is where a value lies.
func (t Target) Band(value int) Band {
	switch {
	case value < t.HardLow:
		return FarLow
	case value < t.SoftLow:
		return Low
	case value <= t.SoftHigh:
		return Good
	case value <= t.HardHigh:
		return High
	}
	return FarHigh
}

// TargetOf is the table's target of a zone for a species, by day or by night; with shed
// that of the days before a shed, where the table has one. ok is false where it has none.
func TargetOf(t *knowledge.Tables, of knowledge.SpeciesID, z Zone, m Measure, day, shed bool) (target Target, source string, ok bool) {
	for _, c := range t.Climate() {
		if c.Species == of && c.Zone == string(z) && c.Measure == string(m) && c.Day == day && (!c.Shed || shed) {
			target, source, ok = Target{c.HardLow, c.SoftLow, c.SoftHigh, c.HardHigh}, c.Source, true
			if c.Shed {
				break
			}
		}
	}
	return target, source, ok
}

// BeforeShed is the table's humidity of a zone by day before a shed; other is false where it
// is none, or that of every day.
func BeforeShed(t *knowledge.Tables, of knowledge.SpeciesID, z Zone) (target Target, other bool) {
	target, _, ok := TargetOf(t, of, z, Humidity, true, true)
	always, _, _ := TargetOf(t, of, z, Humidity, true, false)
	return target, ok && target != always
}

// HasTargets reports whether the table has any for a species.
func HasTargets(t *knowledge.Tables, of knowledge.SpeciesID) bool {
	return slices.ContainsFunc(t.Climate(), func(c knowledge.ClimateTarget) bool { return c.Species == of })
}

// Light is the light part of a day: minutes after midnight, from one to before another.
type Light struct{ From, Until int }

// LightOf is the table's.
func LightOf(t *knowledge.Tables) Light {
	return Light{From: t.Value(knowledge.ValueLightFrom), Until: t.Value(knowledge.ValueLightUntil)}
}

// Day reports whether a minute of the day is in the light part.
func (l Light) Day(minute int) bool {
	if l.From <= l.Until {
		return minute >= l.From && minute < l.Until
	}
	return minute >= l.From || minute < l.Until
}

// Stretches is how an enclosure of a length compares with an animal's: long enough to
// lie stretched out is at least the animal's own. Source: Warwick et al. 2021
// Animals 11:1459 (abstract), who find snakes stretched out where they have the room; known is false where one of the
// two is not.
func Stretches(enclosure, animal model.Length) (percent int, enough, known bool) {
	if enclosure.Tenths <= 0 || animal.Tenths <= 0 {
		return 0, false, false
	}
	return int(enclosure.Tenths * 100 / animal.Tenths), enclosure.Tenths >= animal.Tenths, true
}

// Ferguson names the zone of UV in which an index lies as a usual highest where an
// animal basks, 1 to 4; 0: above all of them. index is in hundredths. Source:
// secondary pages on Ferguson and others 2010; they disagree at the edges, so that a
// value between two zones counts to the higher.
func Ferguson(index int) int {
	for zone, most := range []int{140, 300, 740, 950} {
		if index <= most {
			return zone + 1
		}
	}
	return 0
}
