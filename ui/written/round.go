package written

import (
	"errors"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"

	"coilward/export/paper"
	"coilward/model"
	"coilward/model/label"
	"coilward/model/round"
	"coilward/model/written"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// going is the sheet of a round that is typed in: all boxes were looked at as printed, but
// for what is said otherwise.
type going struct {
	page       *Page
	code       label.Written
	sheet      round.Sheet
	day        model.Day
	exceptions []round.Exception
	line       *widgets.Field
	dayIn      *widgets.Field
	who        *particulars.Pick
	boxes      *fyne.Container
}

// toRound types in a sheet of a round.
func (p *Page) toRound(code label.Written) {
	g := &going{page: p, code: code, day: code.Day, boxes: widgets.Stack()}
	now := p.window.Now()
	err := p.window.Collection().View(func(v model.View) error {
		kept, typed, err := written.KeptRound(v, code)
		if err != nil {
			return err
		}
		if typed {
			return &model.Refusal{Field: "code", Reason: "round.recorded", Gaps: map[string]model.Gap{"Day": model.DayGap(kept.At.Day())}, Answer: model.Mend}
		}
		if g.day > now.Day() {
			return &model.Refusal{Field: "day", Reason: "day.future", Gaps: map[string]model.Gap{"Today": model.DayGap(now.Day())}, Answer: model.Mend}
		}
		g.sheet, err = round.ReadSheet(v, p.window.Tables(), func(stops []round.Stop) bool {
			return written.OrderOfStops(stops) == code.Order
		})
		return err
	})
	var r *model.Refusal
	switch {
	case errors.As(err, &r):
		p.refuse(r.Reason, r.Gaps)
	case err != nil:
		p.window.Fault("written.failed", err)
	default:
		p.weigh, p.going = nil, g
		g.build()
	}
}

func (g *going) say(key string, gaps ...map[string]any) string { return g.page.say(key, gaps...) }

func (g *going) build() {
	window := g.page.window
	day := ""
	if g.day != 0 { // by its number alone, a sheet does not say its day
		day = window.Text().DayShort(g.day)
	}
	g.dayIn = widgets.NewField(day, widgets.FieldOptions{Label: g.say("field.day")})
	g.dayIn.OnCommit = func(string) { g.setDay() }
	g.who = particulars.NewHandPick(window, window.By())
	g.line = widgets.NewField("", widgets.FieldOptions{Label: g.say("written.round.line"), Hint: g.say("written.round.hint")})
	g.line.OnTyped = func(string) { g.line.Accept() }
	g.line.OnEnter = g.enter
	top := []fyne.CanvasObject{
		widgets.Row(look.S16, widgets.Grow(widgets.Header(g.say("written.round.title"), g.say("paper.written.number", map[string]any{"Number": g.code.Number()}))),
			widgets.Button(widgets.Quiet, widgets.Act{Label: g.say("written.weigh.leave"), Icon: "left", Do: g.page.leave})),
		widgets.RowTop(look.S12, widgets.GrowBy(1, g.dayIn.Container), widgets.GrowBy(1, g.who.Container)),
		widgets.Line(g.say("round.order."+string(g.sheet.Order.ID)), look.BodyBold, look.Ink),
		widgets.Para(g.say("written.round.how"), look.Body, look.Soft),
	}
	if !g.sheet.Alike {
		top = append(top, widgets.Caution(g.say("written.weigh.other-order")))
	}
	top = append(top, widgets.RowTop(look.S12, widgets.Grow(g.line.Container), widgets.Button(widgets.Primary, widgets.Act{Label: g.say("written.round.keep"), Key: "Enter", Do: g.keep})))
	g.page.content.Objects = []fyne.CanvasObject{widgets.Pad(widgets.Col(look.S16, append(top, widgets.Grow(widgets.Scroll(g.boxes)))...), look.S24)}
	g.show()
	g.page.content.Refresh()
	window.Focus(g.line.Focusable())
}

// show lists the boxes as they will be kept.
func (g *going) show() {
	text := g.page.window.Text()
	looks := g.sheet.Looks(g.exceptions)
	list := widgets.Col(0)
	for i, stop := range g.sheet.Part.Stops {
		icon, tone, words := "tick", look.Accent, g.say("round.seen")
		switch {
		case i >= len(looks):
			icon, tone, words = "", look.Soft, g.say("written.round.not-reached")
		case looks[i].Passed:
			icon, tone, words = "close", look.Days, g.say("shelf.walk.skipped")
		case looks[i].Note != "":
			words += " · " + looks[i].Note
		}
		var names []string
		for _, a := range stop.Animals {
			names = append(names, g.sheet.House.Names[a])
		}
		box, housed := g.sheet.House.Boxes[stop.Place]
		if !housed {
			box = g.say("shelf.loose")
		}
		rules := round.Rules(g.sheet.Order, stop.Classes)
		class := particulars.Capital(g.say("round.class." + rules.String()))
		if why := paper.RoundReasons(text, stop, rules, func(id model.AnimalID) string { return g.sheet.House.Names[id] }); why != "" {
			class += ": " + why
		}
		mark := fyne.CanvasObject(widgets.Space(16, 16))
		if icon != "" {
			mark = widgets.NewIcon(icon, 16, tone)
		}
		list.Add(widgets.Pad(widgets.Row(look.S12,
			widgets.Fix(28, 0, widgets.Line(strconv.Itoa(i+1), look.NoteBold, look.Soft)),
			widgets.GrowBy(2, widgets.Col(0, widgets.Line(strings.Join(names, ", "), look.BodyBold, look.Ink).Cuts(), widgets.Line(box, look.Note, look.Soft).Cuts())),
			widgets.GrowBy(2, widgets.Para(class, look.Note, look.Soft)), mark,
			widgets.GrowBy(2, widgets.Line(words, look.Body, tone).Cuts())), look.S8, look.S16, look.S8, 0))
		list.Add(widgets.HLine())
	}
	g.boxes.Objects = []fyne.CanvasObject{list}
	g.boxes.Refresh()
}

// setDay takes another day.
func (g *going) setDay() bool {
	text, now := g.page.window.Text(), g.page.window.Now().Day()
	day, err := text.ParseDay(g.dayIn.Text(), now)
	if err == nil && day > now {
		err = &model.Refusal{Field: "day", Value: g.dayIn.Text(), Reason: "day.future", Gaps: map[string]model.Gap{"Today": model.DayGap(now)}, Answer: model.Mend}
	}
	var r *model.Refusal
	if errors.As(err, &r) {
		g.dayIn.Refuse(text.Why(r))
		return false
	}
	g.dayIn.Accept()
	g.day = day
	return err == nil
}

// enter takes an exception; an empty line keeps the sheet. The same exception once more
// takes it back.
func (g *going) enter() {
	if strings.TrimSpace(g.line.Text()) == "" {
		g.keep()
		return
	}
	e, err := round.ReadException(g.line.Text(), len(g.sheet.Part.Stops))
	exceptions := g.exceptions
	if err == nil {
		exceptions, err = round.With(g.exceptions, e, g.line.Text())
	}
	var r *model.Refusal
	if errors.As(err, &r) {
		g.line.Refuse(g.page.window.Text().Why(r))
		return
	}
	g.exceptions = exceptions
	g.line.SetText("")
	g.show()
}

// keep keeps the round as it stands on the sheet.
func (g *going) keep() {
	if strings.TrimSpace(g.line.Text()) != "" {
		g.enter()
		return
	}
	if !g.setDay() {
		g.page.window.Focus(g.dayIn.Focusable())
		return
	}
	window := g.page.window
	c := round.Record{Begin: round.Begin{Tables: window.Tables(), Order: g.sheet.Order.ID, Apart: g.sheet.Part.Apart, Stops: g.sheet.Planned(),
		At: written.On(window.Now(), g.day), By: particulars.PickedHand(g.who)}, ID: model.RoundID{ID: g.code.ID}, Looks: g.sheet.Looks(g.exceptions)}
	window.Do(func(a place.Answer) model.Command {
		c.Confirmed = a.Confirmed
		return c
	}, func(err error) {
		var r *model.Refusal
		switch {
		case errors.As(err, &r):
			g.line.Refuse(window.Text().Why(r))
			window.Focus(g.line.Focusable())
		case err == nil:
			g.page.leave()
		}
	})
}
