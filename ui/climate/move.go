package climate

import (
	"time"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/climate"
	"coilward/model/indoors"
	"coilward/model/wording"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// nowhere is what is chosen for readings that are taken out.
const nowhere = "nowhere"

// moveForm asks where readings of a zone belong that were put there by mistake.
type moveForm struct {
	*particulars.SideForm
	page  *Page
	of    indoors.Zone
	span  climate.Span // from the first of them to the last
	to    *particulars.Pick
	where string // a zone, or nowhere
}

// elsewhere opens it.
func (p *Page) elsewhere(z indoors.Zone) {
	if p.holds() {
		return
	}
	f := &moveForm{SideForm: particulars.NewSideForm(p.window), page: p, of: z, span: z.Span(), where: string(z.Zone)}
	f.to = f.places()
	f.Picks("climate-place", f.to)
	f.Chosen = func() string { return f.where + f.to.Value() }
	f.Command = func(place.Answer) (model.Command, error) { return f.command() }
	f.Done = func() {
		p.form = nil
		p.read()
		p.window.Focus(nil)
	}
	what := p.say("climate.elsewhere-what", wording.Gaps{"Zone": p.say("climate.zone." + string(z.Zone)), "Instrument": z.Instrument})
	if z.Instrument == "" {
		what = p.say("climate.elsewhere-what-unsaid", wording.Gaps{"Zone": p.say("climate.zone." + string(z.Zone))})
	}
	f.Build(p.say("climate.elsewhere"), p.say("climate.elsewhere-do"), p.leave,
		widgets.Para(what, look.Note, look.Soft),
		f.end("move-from", "move-from-hour", f.span.From), f.end("move-until", "move-until-hour", f.span.Until-1), f.to.Container, f.zones())
	p.form = f.SideForm
	p.build()
	p.window.Focus(f.First())
}

// places is a choice among those in use, and the one where the readings are.
func (f *moveForm) places() *particulars.Pick {
	p := f.page
	var values []string
	var choices []widgets.Choice
	for _, one := range p.kit.House.Places() {
		if _, closed := p.kit.House.Closed(one.ID); !closed || one.ID == p.of {
			values, choices = append(values, one.ID.String()), append(choices, widgets.Choice{Label: p.kit.House.Title(one.ID)})
		}
	}
	return particulars.NewPick(p.window, p.say("field.climate-place"), "", values, choices, p.of.String())
}

func (f *moveForm) zones() fyne.CanvasObject {
	p := f.page
	var values, words []string
	for _, one := range climate.Zones() {
		values, words = append(values, string(one)), append(words, p.say("climate.zone."+string(one)))
	}
	return particulars.NewFew(p.say("field.climate-zone"), append(values, nowhere), append(words, p.say("climate.nowhere")), f.where, func(v string) { f.where = v }).Container
}

// end asks for the day and the hour of an end.
func (f *moveForm) end(name, hourName string, at int64) fyne.CanvasObject {
	p := f.page
	when := f.Day(name, "", p.at(at).Day()) // the first of the two for the keys
	hour := f.Field(hourName, p.window.Text().Time(p.at(at)), widgets.FieldOptions{Label: p.say("field.reading-hour"), Hint: p.say("power-cut.hour-hint")})
	return widgets.RowFill(look.S8, widgets.Grow(when), widgets.Fix(112, 0, hour))
}

// minute is the first second of what was typed for an end.
func (f *moveForm) minute(name, hourName string) (int64, error) {
	t, now := f.page.window.Text(), f.page.window.Now()
	day, err := t.ParseDay(f.Text(name), now.Day())
	if err != nil {
		return 0, particulars.At(name, err)
	}
	minutes, err := t.ParseTime(f.Text(hourName))
	if err != nil {
		return 0, particulars.At(hourName, err)
	}
	return model.MomentOn(now, day, minutes, model.ToMinute).UTC, nil
}

func (f *moveForm) command() (model.Command, error) {
	from, err := f.minute("move-from", "move-from-hour")
	if err != nil {
		return nil, err
	}
	until, err := f.minute("move-until", "move-until-hour")
	if err != nil {
		return nil, err
	}
	c := climate.Move{Key: f.of.Key, Span: f.span.Minutes(from, until), By: f.page.window.By()}
	if f.where == nowhere {
		return c, nil
	}
	for _, one := range f.page.kit.House.Places() {
		if one.ID.String() == f.to.Value() {
			c.To = climate.Key{Place: one.ID, Zone: climate.Zone(f.where), With: f.of.With}
		}
	}
	return c, nil
}

// at is a second on the clock of the place.
func (p *Page) at(second int64) model.Moment {
	return model.MomentOf(time.Unix(second, 0).In(p.kit.loc))
}
