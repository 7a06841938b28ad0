package medicine

import (
	"github.com/shopspring/decimal"

	"coilward/model"
	"coilward/model/knowledge"
)

// Draw is the volume of one dose, and how it was worked out.
type Draw struct {
	Mass    model.Mass
	Weighed model.Day
	// Exact is in millilitres, to six places; Drawn in microlitres, to the mark of a
	// syringe.
	Exact decimal.Decimal
	Drawn int64
	Mark  int64 // in microlitres; 0: nothing was rounded
	// Implied is what Drawn comes to per kilogram, in millionths of the measure, and Off
	// how far that is from what the vet wrote, in tenths of a percent.
	Implied int64
	Off     int64
	Small   bool // too little to be measured
}

func millionths(n int64) decimal.Decimal { return decimal.New(n, -6) }

// Draw works out the volume of a step by a mass: dose per kilogram × kilograms ÷
// concentration. A fixed volume is the vet's and stays as it is.
func (p Prescription) Draw(t *knowledge.Tables, step int, mass model.Mass, weighed model.Day) Draw {
	s := p.Steps[step]
	d := Draw{Mass: mass, Weighed: weighed, Exact: millionths(s.Dose.Millionths)}
	smallest := int64(t.Value(knowledge.ValueDoseSmallest))
	if p.Form != PerKilogram {
		d.Drawn = s.Dose.Millionths / 1000
		d.Small = d.Drawn < smallest
		return d
	}
	kilograms, concentration := millionths(mass.Milligrams), decimal.New(1, 0)
	if p.Measure == Milligrams {
		concentration = millionths(p.Concentration.Millionths)
	}
	volume := d.Exact.Mul(kilograms)
	d.Exact = volume.DivRound(concentration, 6)
	mark := int64(t.Value(knowledge.ValueDoseMark))
	if d.Exact.GreaterThan(decimal.New(int64(t.Value(knowledge.ValueDoseSyringe)), -3)) {
		mark = int64(t.Value(knowledge.ValueDoseMarkLarge))
	}
	d.Drawn = mark * nearest(volume.Mul(decimal.New(1000, 0)), concentration.Mul(decimal.New(mark, 0)))
	if drawn := decimal.New(d.Drawn, -3); !drawn.Mul(concentration).Equal(volume) {
		d.Mark = mark
	}
	d.Small = d.Exact.LessThan(decimal.New(smallest, -3))
	if drawn := decimal.New(d.Drawn, -3).Mul(concentration); mass.Milligrams > 0 {
		d.Implied = nearest(drawn.Mul(decimal.New(1_000_000, 0)), kilograms)
		d.Off = nearest(decimal.New(d.Implied-s.Dose.Millionths, 0).Mul(decimal.New(1000, 0)), decimal.New(s.Dose.Millionths, 0))
	}
	return d
}

// nearest is n ÷ by to the nearest whole number, of two alike the one further from zero.
// by is above zero.
func nearest(n, by decimal.Decimal) int64 {
	whole, rest := n.QuoRem(by, 0)
	if double := rest.Abs().Mul(decimal.New(2, 0)); double.GreaterThanOrEqual(by) {
		whole = whole.Add(decimal.New(int64(n.Sign()), 0))
	}
	return whole.IntPart()
}

// Large reports whether a dose is more than the tables let pass unasked for a mass. What
// counts per kilogram needs none. A fluid is never asked about.
func (p Prescription) Large(t *knowledge.Tables, step int, mass model.Mass) bool {
	most := decimal.New(int64(t.Value(knowledge.ValueDoseMost)), 0)
	dose := millionths(p.Steps[step].Dose.Millionths)
	switch {
	case p.Fluid || p.Form == InWords:
		return false
	case p.Form == Volume:
		return !mass.IsZero() && dose.GreaterThan(most.Mul(millionths(mass.Milligrams)))
	case p.Measure == Milligrams:
		return dose.GreaterThan(most.Mul(millionths(p.Concentration.Millionths)))
	}
	return dose.GreaterThan(most)
}

// Old reports whether a weight is to be taken again before a dose goes by it.
func Old(t *knowledge.Tables, weighed, on model.Day) bool {
	return int(on-weighed) > t.Value(knowledge.ValueDoseWeightOld)
}

// Apart reports whether the weight has changed so far since a fixed volume was written
// that the vet should hear of it.
func (p Prescription) Apart(t *knowledge.Tables, mass model.Mass) bool {
	if p.Form != Volume || p.Mass.IsZero() || mass.IsZero() {
		return false
	}
	change := decimal.New(mass.Milligrams-p.Mass.Milligrams, 0).Abs()
	return change.Mul(decimal.New(100, 0)).GreaterThan(decimal.New(int64(t.Value(knowledge.ValueDoseWeightApart)), 0).Mul(decimal.New(p.Mass.Milligrams, 0)))
}
