package knowledge

import "slices"

// The numbers by which readings of heat and humidity are judged.
const (
	ValueLightFrom    ValueID = "light-from"     // minutes after midnight
	ValueLightUntil   ValueID = "light-until"    // minutes after midnight
	ValueClimateGap   ValueID = "climate-gap"    // hundredths of the sensor's own median step
	ValueSensorFlat   ValueID = "sensor-flat"    // hours
	ValueSensorJump   ValueID = "sensor-jump"    // hundredths of a degree Celsius
	ValueSensorJumpIn ValueID = "sensor-jump-in" // seconds
	ValueShedHumidity ValueID = "shed-humidity"  // days before a shed
	ValueCoolingTo    ValueID = "cooling-to"     // hundredths of a degree Celsius
)

func climateValues() []ValueID {
	return []ValueID{ValueLightFrom, ValueLightUntil, ValueClimateGap, ValueSensorFlat, ValueSensorJump, ValueSensorJumpIn, ValueShedHumidity, ValueCoolingTo}
}

// ClimateTarget is what a zone should be like by day or by night, in hundredths of a
// degree Celsius or of a percent.
type ClimateTarget struct {
	ID, Zone, Measure                    string
	Day                                  bool
	HardLow, SoftLow, SoftHigh, HardHigh int
	Source                               string
}

// Climate are the targets of the zones.
func (t *Tables) Climate() []ClimateTarget { return t.climate }

func (l *loading) climateRow(r row) {
	taken := func(same func(ClimateTarget) bool) bool { return slices.ContainsFunc(l.t.climate, same) }
	c := ClimateTarget{Zone: r.cell("zone"), Measure: r.cell("of"), Day: r.cell("by") == "day", Source: r.cell("source")}
	c.ID = l.id(r, taken(func(o ClimateTarget) bool { return o.ID == r.cells[0].text }))
	most := 6000
	switch c.Measure {
	case "humidity":
		most = 10000
	case "temperature":
	default:
		l.fault(r, "of", "want temperature or humidity")
	}
	if !slices.Contains([]string{"basking", "warm", "cool", "hide"}, c.Zone) {
		l.fault(r, "zone", "want basking, warm, cool or hide")
	}
	if !c.Day && r.cell("by") != "night" {
		l.fault(r, "by", "want day or night")
	}
	if taken(func(o ClimateTarget) bool { return o.Zone == c.Zone && o.Measure == c.Measure && o.Day == c.Day }) {
		l.fault(r, "zone", "this zone has such a target in an earlier row already")
	}
	c.HardLow = l.number(r, "hard low", 0, most)
	c.SoftLow = l.number(r, "soft low", c.HardLow, most)
	c.SoftHigh = l.number(r, "soft high", c.SoftLow, most)
	c.HardHigh = l.number(r, "hard high", c.SoftHigh, most)
	l.t.climate = append(l.t.climate, c)
}

// wholeClimate wants the light part of a day to lie within one.
func (l *loading) wholeClimate() {
	for _, id := range []ValueID{ValueLightFrom, ValueLightUntil} {
		if n := l.t.Value(id); n < 0 || n > 1440 {
			l.faults = append(l.faults, &Fault{File: "values.txt", Row: string(id), Column: "number", Reason: "want minutes after midnight, at most 1440"})
		}
	}
}
