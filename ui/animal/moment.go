package animal

import (
	"time"

	"coilward/model"
)

// noon is the minute at which a day's entry stands whose time is not known.
const noon = 12 * 60

// momentOn is a moment on a day, minutes after its midnight, by the clock of the
// place where it is now: the zone's own summer time where the zone is known.
func momentOn(now model.Moment, day model.Day, minutes int, p model.Precision) model.Moment {
	zone := now.Time().Location()
	if known, err := time.LoadLocation(now.Zone); err == nil && now.Zone != "" {
		zone = known
	}
	year, month, d := day.Date()
	m := model.MomentOf(time.Date(year, month, d, 0, minutes, 0, 0, zone))
	m.Zone, m.Precision = now.Zone, p
	return m
}
