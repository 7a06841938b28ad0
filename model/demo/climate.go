package demo

import (
	"fmt"
	"math"
	"time"

	"coilward/model"
	"coilward/model/climate"
	"coilward/model/husbandry"
)

// logDays is for how many days the two loggers of the boathouse have been there.
const logDays = 60

// logClimate tells of two loggers in the long vivarium, one at each end, which were read
// in every half an hour: the power cut is in it, and an afternoon when one lay in a drawer.
func (s *scenario) logClimate() error {
	for _, end := range []struct {
		key        string
		zone       climate.Zone
		day, night float64
	}{{"demo.instrument.logger-warm", climate.Warm, 28.2, 24.6}, {"demo.instrument.logger-cool", climate.Cool, 25.6, 23.4}} {
		if err := s.do(husbandry.AddInstrument{Instrument: husbandry.Instrument{Name: s.say(end.key), Kind: husbandry.Hygrometer, Place: s.house.rooms[long], InUse: model.Date{Day: s.day(logDays), Precision: model.ToDay}}}); err != nil {
			return err
		}
		all, err := husbandry.Instruments(s.bench)
		if err != nil {
			return err
		}
		with := all[len(all)-1].ID
		if err := s.do(husbandry.CheckInstrument{Instrument: with, At: s.at(logDays-1, 18, 20), By: s.people[keeper], Check: husbandry.InstrumentCheck{Good: true, Reading: "75 %", Reference: "75 %"}}); err != nil {
			return err
		}
		k := climate.Key{Place: s.house.rooms[long], Zone: end.zone, With: with}
		if err := s.do(climate.TakeIn{Key: k, By: s.people[keeper], Readings: s.logged(end.zone, end.day, end.night)}); err != nil {
			return fmt.Errorf("the readings of the %s end: %w", end.zone, err)
		}
	}
	// a carpet python, of which the tables say nothing: the numbers are invented, as all here
	for _, own := range []climate.Own{
		{Zone: climate.Warm, Measure: climate.Temperature, Day: &climate.Target{HardLow: 2000, SoftLow: 2700, SoftHigh: 3000, HardHigh: 3500}, Night: &climate.Target{HardLow: 1800, SoftLow: 2200, SoftHigh: 2500, HardHigh: 3500}},
		{Zone: climate.Cool, Measure: climate.Temperature, Day: &climate.Target{HardLow: 2000, SoftLow: 2400, SoftHigh: 2700, HardHigh: 3500}, Night: &climate.Target{HardLow: 1800, SoftLow: 2100, SoftHigh: 2400, HardHigh: 3500}},
	} {
		own.Why = s.say("demo.climate.why")
		if err := s.do(climate.SetTarget{Place: s.house.rooms[long], By: s.people[keeper], Own: own}); err != nil {
			return fmt.Errorf("what is good at the %s end: %w", own.Zone, err)
		}
	}
	return nil
}

// logged are the readings of one end: warm by day, cooler by night, with the power cut in
// which it cools by Newton's law.
func (s *scenario) logged(zone climate.Zone, day, night float64) (all []climate.Reading) {
	const out = 14 // degrees out of doors in the night of the cut
	cutFrom, cutUntil := s.at(cutAgo+1, 23, 40).UTC, s.at(cutAgo, 6, 10).UTC
	drawer := s.at(12, 13, 0).UTC
	location := s.now.Location()
	for at := s.at(logDays-1, 19, 0).UTC; at < s.now.UTC; at += 1800 {
		if zone == climate.Cool && at >= drawer && at < drawer+7*3600 {
			continue
		}
		local := time.Unix(at, 0).In(location)
		hour := float64(local.Hour()) + float64(local.Minute())/60
		light := (1 + math.Tanh(hour-8.5)) / 2 * (1 + math.Tanh(20.5-hour)) / 2
		t := night + (day-night)*light + .35*math.Sin(float64(at)/52_000) + .15*math.Sin(float64(at)/3_100)
		switch {
		case at >= cutFrom && at < cutUntil:
			t = out + (t-out)*math.Exp(-.075*float64(at-cutFrom)/3600)
		case at >= cutUntil && at < cutUntil+3*3600:
			t -= (t - 20) * math.Exp(-float64(at-cutUntil)/3600)
		}
		// as much water in the air at both ends: by the dew point
		dew := 16.6 + .9*math.Sin(float64(at)/310_000)
		humidity := 100 * climate.SaturationMagnus(dew) / climate.SaturationMagnus(t)
		all = append(all, climate.Reading{At: at, Temperature: int16(math.Round(t * 100)), Humidity: int16(math.Round(min(humidity, 99)*10) * 10)})
	}
	return all
}
