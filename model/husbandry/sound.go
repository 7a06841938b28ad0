package husbandry

import "coilward/model"

// Sound reads a document of this package and looks for values that no command
// would have taken; known is false for a document of another package. The error
// is a *model.Refusal where a value is at fault.
func Sound(d model.Document, today model.Day) (known bool, err error) {
	switch {
	case d.Type == model.TypePlace:
		p, err := DecodePlace(d)
		return true, sound(err, func() *model.Refusal { return p.Check(today) })
	case d.Type == model.TypeStay:
		s, err := DecodeStay(d)
		return true, sound(err, func() *model.Refusal { return s.check() })
	case d.Type == model.TypeTool:
		t, err := DecodeTool(d)
		return true, sound(err, func() *model.Refusal { return t.Check(today) })
	case d.Type == model.TypeInstrument:
		i, err := DecodeInstrument(d)
		return true, sound(err, func() *model.Refusal { return i.Check(today) })
	case d.Kind == KindCleaning:
		c, err := DecodeCleaning(d)
		return true, sound(err, c.Check)
	case d.Kind == KindInstrumentCheck:
		c, err := DecodeCheck(d)
		return true, sound(err, c.Check)
	}
	return false, nil
}

func sound(err error, check func() *model.Refusal) error {
	if err != nil {
		return err
	}
	return first(check())
}

// check wants a stay to be of an animal in a place, with its end after its
// beginning.
func (s Stay) check() *model.Refusal {
	if s.Animal.IsZero() || s.Place.IsZero() {
		return mend("stay-place", "", "house.gone", nil)
	}
	return lasts(s)
}
