package particulars

import (
	"strings"

	"coilward/model/husbandry"
	"coilward/model/wording"
)

// MassUnit is the unit that a bare mass is in.
func MassUnit(t *wording.Text) string {
	if t.Units().Imperial {
		return t.Say("shelf.unit.ounces")
	}
	return t.Say("shelf.unit.grams")
}

// ShownUnit is the unit that a bare number of an instrument of a kind is in; "" of a lamp.
func ShownUnit(t *wording.Text, k husbandry.InstrumentKind) string {
	unit, _ := quantity(t, k)
	return unit
}

// quantity is what an instrument of a kind shows: the unit that a bare number is
// in, and how it is read. A lamp shows nothing of itself and has neither: with what
// its light is measured differs.
func quantity(t *wording.Text, k husbandry.InstrumentKind) (unit string, read func(typed string) error) {
	switch k {
	case husbandry.Scale:
		return MassUnit(t), func(typed string) error { _, err := t.ParseMass(typed); return err }
	case husbandry.Thermometer, husbandry.Thermostat:
		if unit = "°C"; t.Units().Fahrenheit {
			unit = "°F"
		}
		return unit, func(typed string) error { _, err := t.ParseTemperature(typed); return err }
	case husbandry.Hygrometer:
		return "%", func(typed string) error { _, err := t.ParseHumidity(typed); return err }
	}
	return "", nil
}

// noBreak stands between a number and its unit.
const noBreak = "\u00a0"

// ReadShown reads what was typed as shown by an instrument and gives it as it is
// kept: as typed, a bare number with its unit. Nothing typed is nothing known. The
// error is a *model.Refusal of the field.
func ReadShown(t *wording.Text, k husbandry.InstrumentKind, field, typed string) (string, error) {
	unit, read := quantity(t, k)
	if read == nil || typed == "" {
		return typed, nil
	}
	if err := read(typed); err != nil {
		return "", At(field, err)
	}
	bare := strings.TrimSpace(strings.TrimSuffix(typed, "°"))
	if strings.TrimRight(bare, "0123456789") != bare {
		return bare + noBreak + unit, nil
	}
	return typed, nil
}

// ShownAgain is what was kept, as it stands in a field that shows the unit.
func ShownAgain(t *wording.Text, k husbandry.InstrumentKind, kept string) string {
	return strings.TrimSuffix(kept, noBreak+ShownUnit(t, k))
}
