package written

import (
	"errors"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/husbandry"
	"coilward/model/label"
	"coilward/model/written"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// weighing is a sheet for weighing that is typed in. Each weight is noted on Enter, as in a
// walk along the shelf.
type weighing struct {
	page   *Page
	sheet  label.Written
	coded  bool
	day    model.Day
	rows   []written.Row
	fields map[model.AnimalID]*widgets.Field
	lines  *fyne.Container
	dayIn  *widgets.Field
	who    *particulars.Pick
	scale  *particulars.Pick // nil: there is none
	scales []husbandry.Weigher
	gut    care.Gut // where a line says nothing
	asked  bool     // its day is not known: by its number alone, a sheet does not say it
}

func newWeighing(p *Page, sheet label.Written, coded bool) *weighing {
	day := sheet.Day
	if day == 0 { // the lines stand as they do today until it is said
		day = p.window.Now().Day()
	}
	return &weighing{page: p, sheet: sheet, coded: coded, day: day, asked: sheet.Day == 0, fields: map[model.AnimalID]*widgets.Field{}, lines: widgets.Stack()}
}

// at is the moment at which the weights stand.
func (w *weighing) at() model.Moment { return written.On(w.page.window.Now(), w.day) }

// load reads the lines; a day ahead is a *model.Refusal.
func (w *weighing) load() error {
	now := w.page.window.Now().Day()
	if w.day > now {
		return &model.Refusal{Field: "day", Value: w.day.String(), Reason: "day.future", Gaps: map[string]model.Gap{"Today": model.DayGap(now)}, Answer: model.Mend}
	}
	return w.page.window.Collection().View(func(v model.View) (err error) {
		w.rows, err = written.Rows(v, model.PlaceID{ID: w.sheet.Of}, w.at())
		return err
	})
}

// bring reads the lines anew, after something was noted.
func (w *weighing) bring() {
	if err := w.load(); err != nil {
		w.page.window.Fault("written.failed", err)
		return
	}
	w.show()
}

func (w *weighing) say(key string, g ...map[string]any) string { return w.page.say(key, g...) }

func (w *weighing) build() {
	window := w.page.window
	text := window.Text()
	day := text.DayShort(w.day)
	if w.asked {
		day = ""
	}
	w.dayIn = widgets.NewField(day, widgets.FieldOptions{Label: w.say("field.day")})
	w.dayIn.OnCommit = func(string) { w.setDay() }
	w.who = particulars.NewHandPick(window, window.By())
	fields := []fyne.CanvasObject{widgets.GrowBy(1, w.dayIn.Container), widgets.GrowBy(1, w.who.Container)}
	err := window.Collection().View(func(v model.View) error {
		scales, err := husbandry.ReadScales(v)
		if err != nil {
			return err
		}
		w.scales = scales.InUse()
		if len(w.scales) > 0 {
			w.scale = particulars.NewScalePick(window, w.scales, scales.Usual(model.InstrumentID{}))
		}
		return nil
	})
	if err != nil {
		window.Fault("written.failed", err)
	}
	if w.scale != nil {
		fields = append(fields, widgets.GrowBy(1, w.scale.Container))
	}
	var values, names []string
	for _, g := range care.Guts() {
		values, names = append(values, string(g)), append(names, particulars.Capital(w.say("care.gut."+string(g))))
	}
	gut := particulars.NewFew(w.say("field.gut"), values, names, string(w.gut), func(v string) { w.gut = care.Gut(v) }).Optional()
	below := fyne.CanvasObject(gut.Container)
	if w.scale != nil {
		below = widgets.Row(look.S16, widgets.Grow(gut.Container), w.scaleAct())
	}
	number := ""
	if w.coded {
		number = w.say("paper.written.number", map[string]any{"Number": w.sheet.Number()})
	}
	top := []fyne.CanvasObject{
		widgets.Row(look.S16, widgets.Grow(widgets.Header(w.say("written.weigh.title"), number)),
			widgets.Button(widgets.Quiet, widgets.Act{Label: w.say("written.weigh.leave"), Icon: "left", Do: w.page.leave})),
		widgets.RowTop(look.S12, fields...), below,
		widgets.Para(w.say("written.weigh.how", written.GutLetters(text.Say)), look.Body, look.Soft),
	}
	if w.coded && written.OrderOf(w.rows) != w.sheet.Order {
		top = append(top, widgets.Caution(w.say("written.weigh.other-order")))
	}
	w.page.content.Objects = []fyne.CanvasObject{widgets.Pad(widgets.Col(look.S16, append(top, widgets.Grow(widgets.Scroll(w.lines)))...), look.S24)}
	w.show()
	w.page.content.Refresh()
	w.next(-1)
}

// setDay takes another day, with what was typed.
func (w *weighing) setDay() {
	window := w.page.window
	day, err := window.Text().ParseDay(w.dayIn.Text(), window.Now().Day())
	was := w.day
	if err == nil {
		w.day = day
		err = w.load()
	}
	var r *model.Refusal
	switch {
	case errors.As(err, &r):
		w.day = was
		w.dayIn.Refuse(window.Text().Why(r))
	case err != nil:
		w.day = was
		window.Fault("written.failed", err)
	default:
		w.asked = false
		w.dayIn.Accept()
		w.show()
	}
}

// show brings the lines to what is noted.
func (w *weighing) show() {
	if len(w.rows) == 0 {
		w.lines.Objects = []fyne.CanvasObject{widgets.Para(w.say("paper.weigh-sheet.nobody"), look.Body, look.Soft)}
		w.lines.Refresh()
		return
	}
	list := widgets.Col(0)
	for i, r := range w.rows {
		list.Add(w.line(i, r))
		list.Add(widgets.HLine())
	}
	w.lines.Objects = []fyne.CanvasObject{list}
	w.lines.Refresh()
}

func (w *weighing) line(i int, r written.Row) fyne.CanvasObject {
	text := w.page.window.Text()
	last := w.say("paper.weigh-sheet.never")
	if !r.Last.Mass.IsZero() {
		last = w.say("paper.check-sheet.last", map[string]any{"Mass": r.Last.Mass, "Day": text.DayShort(r.Last.At.Day())})
	}
	var now fyne.CanvasObject
	if r.Noted.Mass.IsZero() {
		now = w.field(i, r).Container
	} else {
		words := w.say("written.weigh.noted", map[string]any{"Mass": r.Noted.Mass})
		if r.Noted.Gut != care.GutUnknown {
			words += " · " + w.say("care.gut."+string(r.Noted.Gut))
		}
		now = widgets.Row(look.S8, widgets.NewIcon("tick", 16, look.Accent), widgets.Grow(widgets.Line(words, look.BodyBold, look.Ink).Cuts()))
	}
	return widgets.Pad(widgets.Row(look.S12,
		widgets.Fix(28, 0, widgets.Line(strconv.Itoa(i+1), look.NoteBold, look.Soft)),
		widgets.GrowBy(3, widgets.Col(0, widgets.Line(r.Animal.Name, look.BodyBold, look.Ink).Cuts(), widgets.Line(r.Box, look.Note, look.Soft).Cuts())),
		widgets.GrowBy(2, widgets.Line(last, look.Note, look.Soft).Cuts()),
		widgets.GrowBy(2, now)), look.S8, look.S16, look.S8, 0) // the bar stands beside it
}

// field is the field of a line; it stays while something else is noted.
func (w *weighing) field(i int, r written.Row) *widgets.Field {
	f := w.fields[r.Animal.ID]
	if f == nil {
		f = widgets.NewField("", widgets.FieldOptions{Unit: particulars.MassUnit(w.page.window.Text())})
		f.OnTyped = func(string) { f.Accept() }
		w.fields[r.Animal.ID] = f
	}
	f.OnEnter = func() { w.note(i) }
	return f
}

// next gives the keys to the first line behind i that has no weight yet; from the last on
// they stay.
func (w *weighing) next(i int) {
	for n := i + 1; n < len(w.rows); n++ {
		if w.rows[n].Noted.Mass.IsZero() {
			w.page.window.Focus(w.fields[w.rows[n].Animal.ID].Focusable())
			widgets.Reveal(w.lines, w.fields[w.rows[n].Animal.ID].Container)
			return
		}
	}
}

// note notes the weight of a line and goes on; an empty line is passed by.
func (w *weighing) note(i int) {
	window, r := w.page.window, w.rows[i]
	field := w.fields[r.Animal.ID]
	typed := strings.TrimSpace(field.Text())
	if typed == "" {
		w.next(i)
		return
	}
	weight, err := written.ReadWeight(window.Text(), typed)
	var refusal *model.Refusal
	if errors.As(err, &refusal) {
		field.Refuse(window.Text().Why(refusal))
		return
	}
	if w.asked {
		w.dayIn.Refuse(window.Text().Why(&model.Refusal{Field: "day", Reason: "day.empty", Answer: model.Mend}))
		window.Focus(w.dayIn.Focusable())
		return
	}
	at, by := w.at(), particulars.PickedHand(w.who)
	if weight.Gut == care.GutUnknown {
		weight.Gut = w.gut
	}
	if w.scale != nil {
		weight.With = particulars.PickedScale(w.scale, w.scales)
	}
	window.Do(func(a place.Answer) model.Command {
		c := care.Weigh{About: care.About{Animal: r.Animal.ID, At: at, By: by, Confirmed: a.Confirmed}, Weight: weight,
			Heaviest: window.Tables().Heaviest(r.Animal.Species)}
		if a.Again != "" {
			c.Again, _ = window.Text().ParseMass(a.Again) // what is no mass is asked for again
		}
		return c
	}, func(err error) {
		var refusal *model.Refusal
		switch {
		case errors.As(err, &refusal):
			field.Refuse(window.Text().Why(refusal))
			window.Focus(field.Focusable())
		case err == nil:
			field.SetText("")
			w.bring()
			w.next(i)
		}
	})
}
