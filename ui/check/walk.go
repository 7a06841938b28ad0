package check

import (
	"strconv"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"coilward/model"
	"coilward/model/body"
	"coilward/model/knowledge"
	"coilward/ui/look"
	"coilward/ui/place"
	"coilward/ui/widgets"
	"coilward/ui/widgets/bodychart"
	"coilward/ui/widgets/raster"
)

// What texts of sheets are set in.
var (
	bodyText = look.Body
	inkTone  = look.Ink
)

// walkPage shows the stop one is at: the stops at the left, the drawing in the
// middle, what to look for and what to answer at the right.
type walkPage struct {
	page    *Page
	content *fyne.Container
	head    *fyne.Container
	stops   *fyne.Container // by name
	brief   *fyne.Container // the same without their names, where room is short
	above   *fyne.Container // over the drawing: the views
	below   *fyne.Container // under it: close-up and typed places
	right   *fyne.Container
	foot    *fyne.Container
	chart   *bodychart.Chart
	closeUp *bodychart.CloseUp
	typed   *widgets.Field
	typing  bool              // a place is typed at a stop of the head, where none is offered
	choices fyne.CanvasObject // the findings of the stop
	shown   int               // the stop that is shown
	notice  string            // what was last refused
}

func style() raster.Style { return raster.Style{Palette: look.Palette} }

func newWalkPage(p *Page) *walkPage {
	w := &walkPage{
		page: p, head: widgets.Stack(), stops: widgets.Stack(), brief: widgets.Stack(), above: widgets.Stack(), below: widgets.Stack(),
		right: widgets.Stack(), foot: widgets.Stack(),
	}
	w.chart = bodychart.New(body.Above, style())
	w.chart.Describe, w.chart.OnPlace, w.chart.OnPin = w.describe, w.point, w.pick
	w.chart.OrganName = func(id string) string { return p.window.Text().Say("organ." + id) }
	w.closeUp = bodychart.NewCloseUp(body.HeadShare, body.Full, style())
	w.closeUp.Describe, w.closeUp.OnPlace = w.describe, w.point
	w.typed = widgets.NewField("", widgets.FieldOptions{Hint: p.window.Text().Say("check.typed.hint"), Apart: true})
	w.typed.OnEnter = w.typePlace
	middle := widgets.Stack(widgets.Filled(look.Sheet, 0),
		widgets.Pad(widgets.Col(look.S8, w.above, widgets.Grow(w.chart), w.below), look.S12, look.S16))
	w.content = widgets.Col(0,
		widgets.Fix(0, 72, w.head), widgets.HLine(),
		widgets.Grow(container.New(columns{}, w.stops, w.brief, middle, widgets.VLine(),
			widgets.Col(0, widgets.Grow(w.right), widgets.HLine(), w.foot), widgets.VLine())),
	)
	return w
}

// show draws everything as the session has it now.
func (w *walkPage) show() {
	if at := w.page.session.draft.Index; at != w.shown { // what was typed was for the stop before
		w.clearTyped()
		w.shown, w.typing = at, false
	}
	fill(w.head, w.headRow())
	fill(w.stops, w.stopList(true))
	fill(w.brief, w.stopList(false))
	w.showDrawing()
	fill(w.right, w.rightColumn())
	fill(w.foot, w.footRows())
	if w.page.session.chosen >= 0 { // the details leave the choices less room
		widgets.Reveal(w.right, w.choices)
	}
	w.notice = ""
}

// fill puts one object into a container that stands in the page for good.
func fill(c *fyne.Container, o fyne.CanvasObject) {
	c.Objects = []fyne.CanvasObject{o}
	c.Refresh()
}

func (w *walkPage) say(key string, gaps ...map[string]any) string {
	return w.page.window.Text().Say(key, gaps...)
}

// refuse shows why the last key was refused, above the answers.
func (w *walkPage) refuse(reason string) {
	w.notice = reason
	fill(w.foot, w.footRows())
}

func (w *walkPage) describe(p body.Place) string { return placeWords(w.page.window.Text(), p) }

// point takes a place from the drawing.
func (w *walkPage) point(p body.Place) {
	if w.page.session.misses(p) {
		w.refuse(w.say("refusal.place.head"))
		return
	}
	w.page.session.point(p)
	w.page.changed()
	w.page.window.Focus(nil)
}

// pick chooses the finding of a pin.
func (w *walkPage) pick(pin bodychart.Pin) {
	for _, known := range w.page.session.pins() {
		if known.Finding >= 0 && known.Number == pin.Number {
			w.choose(known.Finding)
			return
		}
	}
	w.point(pin.Place)
}

// choose shows the details of a finding, at its stop.
func (w *walkPage) choose(i int) {
	s := w.page.session
	stop := s.draft.Findings[i].Stop
	for at, a := range s.draft.Stops {
		if a.Stop == stop && at != s.draft.Index {
			s.take(s.draft.Go(at))
		}
	}
	s.chosen = i
	s.reveal(s.draft.Findings[i].Place)
	w.page.changed()
	w.page.window.Focus(nil)
}

func (w *walkPage) headRow() fyne.CanvasObject {
	s := w.page.session
	answered, of := s.progress()
	noted := len(s.draft.Findings)
	words := w.say("check.progress", map[string]any{"Answered": answered, "Of": of})
	if noted > 0 {
		words = w.page.window.Text().Count("check.progress.noted", noted, map[string]any{"Answered": answered, "Of": of})
	}
	bar := widgets.Fix(180, 6, widgets.Filled(look.Well, 3), widgets.RowFill(0,
		widgets.GrowBy(float32(answered)+.001, widgets.Filled(look.Accent, 3)), widgets.GrowBy(float32(of-answered)+.001)))
	row := widgets.Row(look.S16,
		widgets.Grow(w.page.who()),
		widgets.ColStart(look.S4, widgets.Line(words, look.Note, look.Soft), bar),
		widgets.Button(widgets.Quiet, widgets.Act{Label: w.say("check.act.pause"), Key: "Esc", Do: w.page.pause}),
		widgets.Button(widgets.Plain, widgets.Act{Label: w.say("check.act.end"), Do: func() { w.page.goTo(len(s.draft.Stops)) }}),
	)
	return widgets.MiddleUpright(widgets.Pad(row, 0, look.S16))
}

// stopList are the stops, each by its mark and, where it is named, its name and
// what is open there.
func (w *walkPage) stopList(named bool) fyne.CanvasObject {
	var list []fyne.CanvasObject
	for i, r := range w.page.session.rows() {
		if r.First && i > 0 {
			list = append(list, widgets.Space(0, look.S8))
		}
		if !named {
			r.Name, r.Detail = "", ""
		}
		list = append(list, widgets.Fix(0, 29, widgets.Stop(r.Name, r.Detail, numberText(r.Number), stopState(r), r.Here, func() { w.page.goTo(r.Index) })))
	}
	sides := look.S12
	if !named {
		sides = look.S4
	}
	return widgets.Scroll(widgets.Pad(widgets.Col(0, list...), look.S12, sides))
}

func numberText(n int) string {
	if n == 0 {
		return ""
	}
	return strconv.Itoa(n)
}

func stopState(r row) widgets.StopState {
	return [...]widgets.StopState{
		notYet: widgets.StopAhead, clear: widgets.StopClear, found: widgets.StopFinding,
		notLooked: widgets.StopLeft, leftToVet: widgets.StopLeft,
	}[r.Sign]
}

// showDrawing brings the drawing, its views and the close-up to the session.
func (w *walkPage) showDrawing() {
	s := w.page.session
	c := w.chart
	c.Pins, c.Lit, c.Organs = chartPins(s), s.lit(), w.page.layers.organs
	if stop, ok := s.stop(); ok && stop.Way == knowledge.Opened {
		c.Lit = nil // the colour of the lining is the evidence: nothing is dimmed
	}
	c.Names = w.names()
	if c.View != s.view {
		c.SetView(s.view)
	} else {
		c.Refresh()
	}
	fill(w.above, w.viewRow())
	fill(w.below, w.underDrawing())
}

// names stand beside the open mouth, where its parts are small.
func (w *walkPage) names() []bodychart.Name {
	if w.page.session.view != body.OpenMouth {
		return nil
	}
	var names []bodychart.Name
	for _, r := range w.page.session.lit() {
		names = append(names, bodychart.Name{Region: r, Text: w.say("region." + string(r))})
	}
	return names
}

func chartPins(s *session) []bodychart.Pin {
	var pins []bodychart.Pin
	for _, p := range s.pins() {
		pins = append(pins, bodychart.Pin{Number: p.Number, Place: p.Place, Kind: [...]bodychart.Kind{
			pinNow: bodychart.Now, pinEarlier: bodychart.Earlier, pinGone: bodychart.Gone, pinRough: bodychart.Rough, pinNext: bodychart.Next}[p.Kind]})
	}
	return pins
}

func (w *walkPage) viewRow() fyne.CanvasObject {
	views := body.Views()
	chosen := -1
	var choices []widgets.Choice
	for i, v := range views {
		if v == w.page.session.view {
			chosen = i
		}
		choices = append(choices, widgets.Choice{Label: w.say("check.view." + string(v))})
	}
	segments := widgets.NewSegments(32, chosen, func(i int) {
		w.page.session.view = views[i]
		w.showDrawing()
	}, choices...)
	return segments.Container
}

// underDrawing is the close-up of a stop on the trunk, and the other ways to
// give a place.
func (w *walkPage) underDrawing() fyne.CanvasObject {
	s := w.page.session
	var parts []fyne.CanvasObject
	if from, to, ok := s.stretch(); ok {
		u := w.closeUp
		margin := max((to-from)/8, 200)
		u.LitFrom, u.LitTo = from, to
		u.From, u.To = max(body.HeadShare, from-margin), min(body.Full, to+margin)
		u.SnoutVent, u.Below, u.Pins = w.page.animal.Length.SnoutVent.Tenths, s.view == body.Underside, w.chart.Pins
		u.Refresh()
		parts = append(parts, widgets.Fix(0, 132, u))
	}
	typed := s.onTrunk() || w.typing
	pointed := w.say("check.point.none")
	if !typed {
		pointed = w.say("check.point.head")
	}
	if p := s.draft.Pointed; p != (body.Place{}) {
		pointed = w.say("check.point.at", map[string]any{"Place": w.describe(p)})
	}
	ways := widgets.Row(look.S8, widgets.Grow(widgets.Para(pointed, look.Note, look.Soft)))
	if typed {
		ways = widgets.Row(look.S8,
			widgets.Fix(110, 0, w.typed.Container),
			widgets.Button(widgets.Plain, widgets.Act{Label: w.say("check.count"), Icon: "rows", Do: w.countPlace}),
			widgets.Grow(widgets.Para(pointed, look.Note, look.Soft)))
	}
	parts = append(parts, ways, w.typed.Said(),
		widgets.Row(look.S8,
			widgets.Grow(widgets.Wrap(look.S12, w.legend()...)),
			widgets.Chip("eye", w.say("check.organs"), w.page.layers.organs, w.toggleOrgans)),
	)
	return widgets.Col(look.S8, parts...)
}

func (w *walkPage) legend() []fyne.CanvasObject {
	entry := func(kind widgets.PinKind, number, key string) fyne.CanvasObject {
		return widgets.Row(6, widgets.Pin(number, kind), widgets.Line(w.say(key), look.Note, look.Soft))
	}
	return []fyne.CanvasObject{
		entry(widgets.PinNow, "", "check.legend.now"), entry(widgets.PinEarlier, "", "check.legend.earlier"), entry(widgets.PinGone, "", "check.legend.gone"),
	}
}

func (w *walkPage) toggleOrgans() {
	w.page.layers.organs = !w.page.layers.organs
	w.showDrawing()
}

// typePlace reads a typed place, such as "62 left".
func (w *walkPage) typePlace() {
	p, err := body.ParsePlace(w.typed.Text())
	if refusal, ok := err.(*model.Refusal); ok {
		w.typed.Refuse(w.page.window.Text().Refusal(refusal))
		return
	}
	if w.page.session.misses(p) {
		w.typed.Refuse(w.page.window.Text().Refusal(&model.Refusal{Field: "place", Value: w.typed.Text(), Reason: "place.head", Answer: model.Mend}))
		return
	}
	w.typed.SetText("")
	w.page.session.typed(p)
	w.page.changed()
	w.page.window.Focus(nil)
}

// clearTyped empties the field of the typed place, and tells whether there was
// anything in it.
func (w *walkPage) clearTyped() bool {
	if w.typed.Text() == "" {
		return false
	}
	w.typed.SetText("")
	w.typed.Accept()
	return true
}

// letter does what the letters of the details do.
func (w *walkPage) letter(r rune) {
	switch r {
	case 't', 'T':
		if w.typing = !w.page.session.onTrunk(); w.typing {
			w.showDrawing()
		}
		w.page.window.Focus(w.typed.Focusable())
	case 'o', 'O':
		w.toggleOrgans()
	case 'p', 'P':
		if w.page.session.chosen >= 0 {
			w.choosePhoto()
		}
	}
}

func (w *walkPage) choosePhoto() {
	w.page.window.ChooseFile([]string{".jpg", ".jpeg", ".png", ".heic"}, w.page.addPhoto)
}

// actions are the acts of the walk in the menus.
func (w *walkPage) actions() []place.Action {
	list := []place.Action{{Label: w.say("check.organs"), Menu: place.MenuView, Key: fyne.KeyL, Do: w.toggleOrgans}}
	for i, v := range body.Views() {
		list = append(list, place.Action{
			Label: w.say("view." + string(v)), Menu: place.MenuView, Key: fyne.KeyName(strconv.Itoa(i + 1)), Modifier: fyne.KeyModifierAlt,
			Do: func() { w.page.session.view = v; w.showDrawing() },
		})
	}
	return list
}
