package particulars

import (
	"coilward/model/meals"
	"coilward/model/wording"
)

// PreyBand says how much prey one meal of an animal is; empty where it is not known.
func PreyBand(t *wording.Text, o meals.Offering) string {
	if o.Band.IsZero() {
		return ""
	}
	gaps := wording.Gaps{"Least": o.Band.Least, "Most": o.Band.Most, "Mass": o.Mass, "Class": t.Say("age." + string(o.Class.Class)), "From": o.Class.PreyLeast, "To": o.Class.PreyMost}
	if o.Band.After {
		return t.Say("meals.band-after", gaps)
	}
	return t.Say("meals.band", gaps)
}
