package shelf

import (
	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/meals"
	"coilward/model/wording"
	"coilward/ui/look"
	"coilward/ui/widgets"
)

// preyBand says how much prey one meal of an animal is and from when on it is due for
// food, to be read from afar: with a sign where the prey of the walk is less or more, and
// where it is not due yet.
func (p *Page) preyBand(a *Animal, line func(string, look.Tone) fyne.CanvasObject) (lines []fyne.CanvasObject) {
	var o meals.Offering
	err := p.window.Collection().View(func(v model.View) (err error) {
		o, err = meals.Read(p.window.Tables(), v, a.ID, p.window.Now(), model.EntryID{})
		return err
	})
	if err != nil {
		p.window.Fault("shelf.fault", err)
	}
	signed := func(said string) fyne.CanvasObject {
		return widgets.Row(look.S8, widgets.NewSign("days!", 20, look.Days, look.Sheet), widgets.Grow(line(said, look.Days)))
	}
	prey := p.job.meal.Total()
	gaps := wording.Gaps{"Least": o.Band.Least, "Most": o.Band.Most, "Prey": prey}
	switch {
	case o.Band.IsZero():
	case !prey.IsZero() && prey.Milligrams < o.Band.Least.Milligrams:
		lines = append(lines, signed(p.say("meals.band-below", gaps)))
	case prey.Milligrams > o.Band.Most.Milligrams:
		lines = append(lines, signed(p.say("meals.band-above", gaps)))
	case o.Band.After:
		lines = append(lines, line(p.say("meals.band-short-after", gaps), look.Soft))
	default:
		lines = append(lines, line(p.say("meals.band-short", gaps), look.Soft))
	}
	if o.Next > p.today && o.From <= p.today { // the wait after prey came up is said already
		lines = append(lines, signed(p.say("meals.not-before", wording.Gaps{"Day": p.window.Text().DayOfYear(o.Next)})))
	}
	return lines
}
