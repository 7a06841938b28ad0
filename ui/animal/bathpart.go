package animal

import (
	"strconv"
	"strings"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/droppings"
	"coilward/model/knowledge"
	"coilward/model/shedding"
	"coilward/model/wording"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/widgets"
)

// bathPart asks how a bath was, beside its caution.
type bathPart struct {
	form *entryForm
	in   fyne.CanvasObject
}

func newBathPart(f *entryForm, b care.Bath) part {
	minutes := ""
	if b.Minutes > 0 {
		minutes = strconv.Itoa(b.Minutes)
	}
	return &bathPart{f, widgets.Col(look.S16, f.waterCaution(care.BathCaution, knowledge.ValueBathColdest, knowledge.ValueBathWarmest),
		f.waterField(b.Warm), f.field("bath-minutes", minutes, widgets.FieldOptions{}))}
}

// waterCaution is a caution with the temperatures of the tables in it.
func (f *entryForm) waterCaution(key string, coldest, warmest knowledge.ValueID) fyne.CanvasObject {
	t, tables := f.window.Text(), f.window.Tables()
	warm := func(v knowledge.ValueID) string {
		return t.Temperature(model.Temperature{Hundredths: int64(tables.Value(v))})
	}
	return widgets.Caution(f.say(key, wording.Gaps{"Least": warm(coldest), "Most": warm(warmest), "Minutes": tables.Value(knowledge.ValueBathLongest)}))
}

func (f *entryForm) waterField(warm model.Temperature) fyne.CanvasObject {
	typed := warm.Typed
	if typed == "" && warm.Hundredths != 0 {
		typed = f.window.Text().Temperature(warm)
	}
	return f.field("water-warm", typed, widgets.FieldOptions{Hint: f.say("animal.form.warm-hint")})
}

// water is the temperature that was typed; none where nothing was.
func (f *entryForm) water() (model.Temperature, error) {
	typed := strings.TrimSpace(f.fields["water-warm"].Text())
	if typed == "" {
		return model.Temperature{}, nil
	}
	warm, err := f.window.Text().ParseTemperature(typed)
	return warm, particulars.At("water-warm", err)
}

func (p *bathPart) content() fyne.CanvasObject { return p.in }

func (p *bathPart) first() fyne.Focusable { return p.form.fields["water-warm"].Focusable() }

func (p *bathPart) body(beside care.Beside) (care.Body, error) {
	b := care.Bath{Beside: beside}
	var err error
	if b.Warm, err = p.form.water(); err != nil {
		return b, err
	}
	if typed := strings.TrimSpace(p.form.fields["bath-minutes"].Text()); typed != "" {
		b.Minutes, err = p.form.window.Text().ParseCount(typed, mostMinutes)
	}
	return b, particulars.At("bath-minutes", err)
}

// mostMinutes are those of a day.
const mostMinutes = 24 * 60

// fluidsPart asks what fluids were given as which vet has said. It proposes nothing.
type fluidsPart struct {
	form *entryForm
	in   fyne.CanvasObject
}

func newFluidsPart(f *entryForm, b care.Fluids) part {
	return &fluidsPart{f, widgets.Col(look.S16, f.waterCaution(care.FluidsCaution, knowledge.ValueFluidColdest, knowledge.ValueFluidWarmest),
		f.field("fluids", b.What, widgets.FieldOptions{Hint: f.say("animal.form.fluids-hint")}), f.field("advised", b.Advised, widgets.FieldOptions{}), f.waterField(b.Warm))}
}

func (p *fluidsPart) content() fyne.CanvasObject { return p.in }

func (p *fluidsPart) first() fyne.Focusable { return p.form.fields["fluids"].Focusable() }

func (p *fluidsPart) body(beside care.Beside) (care.Body, error) {
	typed := func(name string) string { return strings.TrimSpace(p.form.fields[name].Text()) }
	warm, err := p.form.water()
	return care.Fluids{What: typed("fluids"), Advised: typed("advised"), Warm: warm, Beside: beside}, err
}

// bluePart asks nothing: that the animal is in blue is all there is to say.
type bluePart struct{}

func (bluePart) content() fyne.CanvasObject { return widgets.Space(0, 0) }
func (bluePart) first() fyne.Focusable      { return nil }

func (bluePart) body(beside care.Beside) (care.Body, error) { return care.Blue{Beside: beside}, nil }

// shedSince says how many days after the one before a shed came; empty where none is
// known.
func (l *Life) shedSince(t *wording.Text, entry int) string {
	at := model.EntryID{ID: l.Days.Entries[entry].ID}
	var all []care.Entry
	for _, d := range l.Days.Entries[entry:] {
		if d.Kind != care.KindShed {
			continue
		}
		if e, _, err := care.Decode(d); err == nil {
			all = append(all, e)
		}
	}
	if len(all) == 0 || all[0].ID != at {
		return ""
	}
	days, known := shedding.Since(all, 0)
	if !known {
		return ""
	}
	return t.Say("animal.day.shed-since", wording.Gaps{"Days": days})
}

// lastDroppings says when faeces and urates were seen last, and how many meals were
// kept since.
func (f *entryForm) lastDroppings() string {
	t, tables := f.window.Text(), f.window.Tables()
	last := droppings.Of(tables, f.page.life.Records(tables, f.window.Now()).Entries)
	day := func(d model.Day) string {
		if d == 0 {
			return f.say("animal.waste.never")
		}
		return t.DayShort(d)
	}
	return f.say("animal.waste.last", wording.Gaps{"Faeces": day(last.Faeces), "Urates": day(last.Urates), "Kept": last.Kept})
}

// tellBath names how warm and how long a bath was.
func tellBath(t *wording.Text, b care.Bath) told {
	minutes, warm := "", ""
	if b.Minutes > 0 {
		minutes = t.Count("animal.day.bath", b.Minutes)
	}
	if b.Warm.Hundredths != 0 {
		warm = t.Temperature(b.Warm)
	}
	return told{title: t.Say("kind.bath"), detail: joined(warm, minutes, firstLine(b.Note)), photo: first(b.Photos)}
}

// clutchPart asks how many eggs were laid.
type clutchPart struct{ form *entryForm }

func newClutchPart(f *entryForm, c care.Clutch) part {
	eggs := ""
	if c.Eggs > 0 {
		eggs = strconv.Itoa(c.Eggs)
	}
	f.field("eggs", eggs, widgets.FieldOptions{Hint: f.say("animal.form.eggs-hint")})
	return &clutchPart{f}
}

func (p *clutchPart) content() fyne.CanvasObject { return p.form.fields["eggs"].Container }
func (p *clutchPart) first() fyne.Focusable      { return p.form.fields["eggs"].Focusable() }

func (p *clutchPart) body(beside care.Beside) (care.Body, error) {
	c := care.Clutch{Beside: beside}
	var err error
	if typed := strings.TrimSpace(p.form.fields["eggs"].Text()); typed != "" {
		c.Eggs, err = p.form.window.Text().ParseCount(typed, care.MostEggs)
	}
	return c, particulars.At("eggs", err)
}

// tellClutch names how many eggs a clutch had.
func tellClutch(t *wording.Text, c care.Clutch) told {
	eggs := ""
	if c.Eggs > 0 {
		eggs = t.Count("animal.day.clutch", c.Eggs)
	}
	return told{title: t.Say("kind.clutch"), detail: joined(eggs, firstLine(c.Note)), photo: first(c.Photos)}
}
