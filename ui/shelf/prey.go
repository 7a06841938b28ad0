package shelf

import (
	"coilward/model"
	"coilward/model/meals"
	"coilward/model/wording"
)

// preyBand says how much prey one meal of an animal is, to be read from afar; empty
// where it is not known.
func (p *Page) preyBand(a *Animal) string {
	var o meals.Offering
	err := p.window.Collection().View(func(v model.View) (err error) {
		o, err = meals.Read(p.window.Tables(), v, a.ID, p.window.Now(), model.EntryID{})
		return err
	})
	if err != nil {
		p.window.Fault("shelf.fault", err)
	}
	gaps := wording.Gaps{"Least": o.Band.Least, "Most": o.Band.Most}
	switch {
	case o.Band.IsZero():
		return ""
	case o.Band.After:
		return p.say("meals.band-short-after", gaps)
	}
	return p.say("meals.band-short", gaps)
}
