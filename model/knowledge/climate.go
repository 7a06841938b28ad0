package knowledge

import "slices"

// The numbers by which readings of heat and humidity are judged.
const (
	ValueLightFrom      ValueID = "light-from"      // minutes after midnight
	ValueLightUntil     ValueID = "light-until"     // minutes after midnight
	ValueClimateGap     ValueID = "climate-gap"     // hundredths of the sensor's own median step
	ValueStands         ValueID = "reading-stands"  // minutes
	ValueSensorFlat     ValueID = "sensor-flat"     // hours
	ValueSensorDamp     ValueID = "sensor-damp"     // hundredths of a degree Celsius
	ValueSensorJump     ValueID = "sensor-jump"     // hundredths of a degree Celsius
	ValueSensorJumpIn   ValueID = "sensor-jump-in"  // seconds
	ValueShedHumidity   ValueID = "shed-humidity"   // days before a shed
	ValueCoolingTo      ValueID = "cooling-to"      // hundredths of a degree Celsius
	ValueSurfaceHottest ValueID = "surface-hottest" // hundredths of a degree Celsius
	ValueAirHottest     ValueID = "air-hottest"     // hundredths of a degree Celsius
	ValueColdLongest    ValueID = "cold-longest"    // hours
	ValueHarmLately     ValueID = "harm-lately"     // days
	ValueLoggerHottest  ValueID = "logger-hottest"  // hundredths of a degree Celsius
)

func climateValues() []ValueID {
	return []ValueID{ValueLightFrom, ValueLightUntil, ValueClimateGap, ValueStands, ValueSensorFlat, ValueSensorDamp, ValueSensorJump, ValueSensorJumpIn, ValueShedHumidity, ValueCoolingTo,
		ValueSurfaceHottest, ValueAirHottest, ValueColdLongest, ValueHarmLately, ValueLoggerHottest}
}

// ClimateTarget is what a zone should be like for a species by day or by night, in
// hundredths of a degree Celsius or of a percent; Shed: before a shed.
type ClimateTarget struct {
	ID                                   string
	Species                              SpeciesID
	Zone, Measure                        string
	Day, Shed                            bool
	HardLow, SoftLow, SoftHigh, HardHigh int
	Source                               string
}

// Climate are the targets of the zones.
func (t *Tables) Climate() []ClimateTarget { return t.climate }

func (l *loading) climateRow(r row) {
	taken := func(same func(ClimateTarget) bool) bool { return slices.ContainsFunc(l.t.climate, same) }
	c := ClimateTarget{Species: SpeciesID(r.cell("species")), Zone: r.cell("zone"), Measure: r.cell("of"), Day: r.cell("by") == "day", Shed: r.cell("when") == "shed", Source: r.cell("source")}
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
	if !c.Shed && r.cell("when") != "always" {
		l.fault(r, "when", "want always or shed")
	}
	if taken(func(o ClimateTarget) bool {
		return o.Species == c.Species && o.Shed == c.Shed && o.Zone == c.Zone && o.Measure == c.Measure && o.Day == c.Day
	}) {
		l.fault(r, "zone", "this zone has such a target of this species in an earlier row already")
	}
	c.HardLow = l.number(r, "hard low", 0, most)
	c.SoftLow = l.number(r, "soft low", c.HardLow, most)
	c.SoftHigh = l.number(r, "soft high", c.SoftLow, most)
	c.HardHigh = l.number(r, "hard high", c.SoftHigh, most)
	l.t.climate = append(l.t.climate, c)
}

// wholeClimate wants the species of targets to be known, and the light part of a day to
// lie within one.
func (l *loading) wholeClimate() {
	for _, c := range l.t.climate {
		if _, known := l.t.Species(c.Species); !known {
			l.faults = append(l.faults, &Fault{File: "climate.txt", Row: c.ID, Column: "species", Reason: "this species is not in the table of species"})
		}
	}
	for _, id := range []ValueID{ValueLightFrom, ValueLightUntil} {
		if n := l.t.Value(id); n < 0 || n > 1440 {
			l.faults = append(l.faults, &Fault{File: "values.txt", Row: string(id), Column: "number", Reason: "want minutes after midnight, at most 1440"})
		}
	}
}
