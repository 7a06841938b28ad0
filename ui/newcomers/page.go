package newcomers

import (
	"cmp"
	"errors"
	"slices"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/chances"
	"coilward/model/chart"
	"coilward/model/collection"
	"coilward/model/drawing"
	"coilward/model/newcomers"
	"coilward/model/quarantine"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/place"
	"coilward/ui/widgets"
	"coilward/ui/widgets/quarantinebars"
)

// Widths of the columns.
const (
	formWidth float32 = 372
	whoWidth  float32 = 176
	holdWidth float32 = 244
)

// Page is the place. It is used on Fyne's goroutine only.
type Page struct {
	window place.Window
	board  Board
	unread bool
	chosen model.QuarantineID
	folded bool // who were released is folded away
	thumbs particulars.Thumbs
	rooms  *rooms // what is worked out of the rooms that newcomers live in
	// returns tells that one goes back to the page, which is then as it was left.
	returns bool
	// settling waits for the room that is made elsewhere; zero: nobody does.
	settling model.QuarantineID

	root, head, body, side *fyne.Container
	scroll, column         *fyne.Container
	bars                   []*quarantinebars.Bar // of the open ones, in order
	chosenHead             fyne.CanvasObject     // of the chosen one
	form                   *form
	again                  func() // shows the side column anew from the board; nil: it holds what was typed
}

var (
	_ place.Place    = (*Page)(nil)
	_ place.Actor    = (*Page)(nil)
	_ place.Keys     = (*Page)(nil)
	_ place.Returner = (*Page)(nil)
)

// New makes the place.
func New(w place.Window) *Page {
	p := &Page{window: w, folded: true, thumbs: particulars.Thumbs{}}
	p.rooms = newRooms(p)
	p.head, p.body, p.side = widgets.Stack(), widgets.Stack(), widgets.Stack()
	p.side.Hide()
	p.root = widgets.RowFill(0, widgets.Grow(widgets.Col(look.S12, widgets.Pad(p.head, look.S24, look.S24, 0, look.S24), widgets.Grow(p.body))), p.side)
	return p
}

func (p *Page) say(key string, gaps ...map[string]any) string {
	return p.window.Text().Say(key, gaps...)
}

func (p *Page) words() words { return words{p.window.Text(), p.window.Tables(), p.board.Today} }

// Content implements place.Place.
func (p *Page) Content() fyne.CanvasObject { return p.root }

// Returns implements place.Returner.
func (p *Page) Returns() { p.returns = true }

// Show implements place.Place. A route about an animal chooses it; with the page "new"
// its arrival is asked for.
func (p *Page) Show(to place.Route) {
	p.read()
	if p.returns {
		p.returns = false
		if n, there := p.board.Of(p.settling); there && len(p.board.Places) > 0 {
			p.settling = model.QuarantineID{}
			p.settle(n)
			return
		}
		p.focus()
		return
	}
	if i := slices.IndexFunc(p.board.Open, func(n newcomers.Newcomer) bool { return n.Animal.ID.ID == to.Subject }); i >= 0 && !to.Subject.IsZero() {
		p.choose(p.board.Open[i].Quarantine.ID)
		return
	}
	if to.Page == "new" {
		p.arrive(model.AnimalID{ID: to.Subject})
		return
	}
	p.focus()
}

// focus gives the keys to the form, or the chosen bar.
func (p *Page) focus() {
	if p.form != nil {
		p.window.Focus(p.form.First())
		return
	}
	if i := p.at(); i < len(p.bars) {
		p.window.Focus(p.bars[i])
	}
}

// holds reports whether the side column holds what was typed and not kept, which no other
// act throws away; the keys go back to it.
func (p *Page) holds() bool {
	return p.form != nil && p.form.Holds()
}

// at is the index of the chosen newcomer.
func (p *Page) at() int {
	return max(0, slices.IndexFunc(p.board.Open, func(n newcomers.Newcomer) bool { return n.Quarantine.ID == p.chosen }))
}

// Hide implements place.Place.
func (p *Page) Hide() {}

// Changed implements place.Place: what no newcomer rests on is left alone.
func (p *Page) Changed(c collection.Change) {
	has := func(types []model.DocumentType) bool {
		return slices.ContainsFunc(c.Types, func(t model.DocumentType) bool { return slices.Contains(types, t) })
	}
	switch {
	case has(rested) && has(chances.Rested()):
		p.read()
	case has(rested):
		p.readBoard(func() {}) // what the rooms rest on is as it was
	case has(chances.Rested()):
		p.rooms.read()
	}
}

// rested are the types of document that newcomers rest on.
var rested = []model.DocumentType{model.TypeAnimal, model.TypeEntry, model.TypeProblem, model.TypePlace, model.TypeStay, model.TypeSample, model.TypeQuarantine, model.TypeProtocol, model.TypePositive, model.TypeInstrument}

// read reads the board anew, and of its rooms what they carry; what was typed stays.
func (p *Page) read() { p.readBoard(p.rooms.read) }

// readBoard reads the board; then does what comes once it is known.
func (p *Page) readBoard(then func()) {
	err := p.window.Collection().View(func(v model.View) (err error) {
		p.board, err = Load(v, p.window.Tables())
		return err
	})
	if p.unread = err != nil; p.unread {
		p.board = Board{Today: p.window.Now().Day()}
		p.window.Fault("newcomers.fault", err)
	}
	if _, there := p.board.Of(p.chosen); !there && len(p.board.Open) > 0 {
		p.chosen = p.board.Open[max(0, p.board.First())].Quarantine.ID
	}
	then()
	if p.again != nil {
		p.again()
	}
	if p.form != nil && !p.form.of.IsZero() && !p.unread {
		if _, there := p.board.Of(p.form.of); !there { // it was taken back, or has ended
			p.close()
			return
		}
	}
	p.build()
}

func (p *Page) build() {
	p.bars, p.chosenHead = nil, nil
	switch {
	case p.unread:
		p.head.Objects = []fyne.CanvasObject{widgets.Header(p.say("newcomers.title"), "")}
		p.body.Objects = []fyne.CanvasObject{widgets.EmptyPage(nil, p.say("newcomers.unread"), p.say("newcomers.unread-what"), widgets.Act{})}
	case len(p.board.Open) == 0 && len(p.board.Unread) == 0 && len(p.board.Released) == 0 && p.form == nil:
		p.head.Objects = []fyne.CanvasObject{widgets.Header(p.say("newcomers.title"), "")}
		p.body.Objects = []fyne.CanvasObject{widgets.EmptyPage(widgets.NewIcon("newcomer", 48, look.Accent), p.say("newcomers.empty"), p.say("newcomers.empty-what"),
			widgets.Act{Label: p.say("newcomers.arrive"), Icon: "plus", Do: p.arriveNew}, widgets.Act{Label: p.say("newcomers.protocols"), Icon: "papers", Do: p.protocols})}
	default:
		p.head.Objects = []fyne.CanvasObject{widgets.Header(p.say("newcomers.title"), p.words().below(p.board), p.acts()...)}
		before := p.scroll
		p.column = widgets.Col(look.S24, p.parts()...)
		p.scroll = widgets.Scroll(widgets.Pad(p.column, 0, look.S24, look.S24, look.S24))
		p.body.Objects = []fyne.CanvasObject{p.scroll}
		p.body.Refresh()
		widgets.Resume(before, p.scroll)
	}
	p.head.Refresh()
	p.body.Refresh()
	p.root.Refresh()
}

func (p *Page) acts() []fyne.CanvasObject {
	rank := widgets.Primary
	if p.form != nil {
		rank = widgets.Plain
	}
	arrive := widgets.Button(rank, widgets.Act{Label: p.say("newcomers.arrive"), Icon: "plus", Do: p.arriveNew})
	if p.window.ReadOnly() {
		arrive.Disable()
	}
	return []fyne.CanvasObject{widgets.Button(widgets.Plain, widgets.Act{Label: p.say("newcomers.protocols"), Icon: "papers", Do: p.protocols}), arrive}
}

func (p *Page) parts() []fyne.CanvasObject {
	var parts []fyne.CanvasObject
	for _, n := range p.board.Unread {
		parts = append(parts, widgets.Caution(p.say("newcomers.unread-one", map[string]any{"Name": cmp.Or(n.Animal.Name, "?"), "Day": p.window.Text().DayShort(n.Quarantine.Arrived.Day())})))
	}
	if len(p.board.Open) > 0 {
		parts = append(parts, p.table(), p.rooms.Container)
	} else {
		parts = append(parts, widgets.Para(p.say("newcomers.nobody"), look.Body, look.Soft))
	}
	if n, there := p.board.Of(p.chosen); there {
		parts = append(parts, p.detail(n)...)
	}
	if len(p.board.Released) > 0 {
		parts = append(parts, p.released())
	}
	return parts
}

// narrow tells whether the side column leaves no room for what holds each.
func (p *Page) narrow() bool { return p.form != nil || p.side.Visible() }

// table is a bar for each newcomer, under one scale of days.
func (p *Page) table() fyne.CanvasObject {
	w := p.words()
	style := widgets.Drawn()
	scaleData, _ := w.bar(p.board, p.board.Open[0])
	scaleData.Words.Measure = style.Measure
	scale := widgets.NewSketch(0, quarantinebars.ScaleHeight, func(pen drawing.Pen, size fyne.Size) {
		chart.DrawStayScale(pen, scaleData, w.Say("newcomers.today"), float64(size.Width), float64(size.Height), 12)
	})
	head := []fyne.CanvasObject{widgets.Space(whoWidth, 0), widgets.Grow(scale)}
	if !p.narrow() {
		head = append(head, widgets.Fix(holdWidth, 0, widgets.Pad(widgets.Line(p.say("newcomers.holds"), look.Note, look.Faint), 0, 0, 0, look.S16)))
	}
	rows := []fyne.CanvasObject{widgets.Row(0, head...)}
	for i := range p.board.Open {
		rows = append(rows, p.row(i, style))
	}
	return widgets.Card(look.S12, widgets.Col(0, rows...))
}

func (p *Page) row(i int, style rasterStyle) fyne.CanvasObject {
	n, w := p.board.Open[i], p.words()
	portrait := particulars.NewPortrait(40, 20)
	portrait.Set(n.Animal.Name, n.Animal.Coat, p.thumbs.Of(p.window, n.Animal.Portrait, particulars.Small))
	room := n.RoomTitle
	if room == "" {
		room = p.say("newcomers.nowhere")
	}
	who := widgets.NewPress(n.Animal.Name, widgets.Fix(whoWidth, 0, widgets.Pad(widgets.Row(look.S8, portrait, widgets.Grow(widgets.Col(0, widgets.Line(n.Animal.Name, look.Name, look.Ink).Cuts(),
		widgets.Line(particulars.QuarantineDay(w.Text, n), look.Note, look.Soft), widgets.Line(room, look.Note, look.Faint).Cuts()))), look.S4)), func(s widgets.State) widgets.Ground {
		g := widgets.Ground{Radius: look.RBase}
		switch {
		case s.On:
			g.Fill = look.Wash
		case s.Pointed:
			g.Fill = look.Well
		}
		return g
	}, func() { p.choose(n.Quarantine.ID) })
	who.SetOn(n.Quarantine.ID == p.chosen)
	data, marks := w.bar(p.board, n)
	bar := quarantinebars.New(data, style)
	bar.Describe = func(m int) string { return w.line(marks[m].Line) + " · " + w.when(n.Gate, marks[m].Line) }
	bar.OnMark = func(m int) { p.openLine(n.Quarantine.ID, marks[m].Line) }
	bar.OnChoose = func() { p.choose(n.Quarantine.ID) }
	bar.OnKey = func(k *fyne.KeyEvent) { p.barKey(i, k) }
	p.bars = append(p.bars, bar)
	row := []fyne.CanvasObject{widgets.MiddleUpright(who), widgets.Grow(bar)}
	if !p.narrow() {
		row = append(row, widgets.Fix(holdWidth, 0, widgets.MiddleUpright(widgets.Pad(p.hold(n), look.S8, 0, look.S8, look.S16))))
	}
	rows := widgets.Col(0, widgets.HLine(), widgets.Row(0, row...))
	if found := p.detected(n); found != nil {
		rows.Add(widgets.Pad(found, 0, 0, look.S12, whoWidth))
	}
	return rows
}

// hold is what holds a release, in words.
func (p *Page) hold(n newcomers.Newcomer) fyne.CanvasObject {
	title, why := p.words().hold(n)
	icon, tone := "again!", look.Again
	switch {
	case n.Gate.Met:
		icon, tone = "often!", look.Often
	case n.Gate.Undated():
		icon, tone = "today!", look.Today
	case len(n.Facts.Restarts) > 0:
		icon, tone = "days!", look.Days
	}
	return widgets.RowTop(look.S8, widgets.Pad(widgets.NewSign(icon, 16, tone, look.Sheet), 1, 0), widgets.Grow(widgets.Col(0, widgets.Para(title, look.NoteBold, tone), widgets.Para(why, look.Note, look.Soft))))
}

// barKey takes what a bar has no use for: up and down go to the next newcomer.
func (p *Page) barKey(i int, k *fyne.KeyEvent) {
	to := i
	switch k.Name {
	case fyne.KeyUp:
		to--
	case fyne.KeyDown:
		to++
	default:
		p.TypedKey(k)
		return
	}
	if to >= 0 && to < len(p.board.Open) {
		p.choose(p.board.Open[to].Quarantine.ID)
	}
}

// choose shows what is asked of a newcomer.
func (p *Page) choose(id model.QuarantineID) {
	if id != p.chosen && p.form != nil { // a form is of the animal that it was opened for
		if p.holds() {
			return
		}
		p.close()
	}
	p.chosen = id
	p.build()
	if p.form == nil && p.at() < len(p.bars) {
		p.window.Focus(p.bars[p.at()])
	}
	p.toChosen()
	p.window.ActionsChanged()
}

// toChosen brings who is chosen into sight, with its next act.
func (p *Page) toChosen() {
	if p.chosenHead != nil && p.scroll != nil {
		widgets.Reveal(p.scroll, p.chosenHead)
	}
}

// openLine chooses a newcomer and opens what one of its lines rests on, where that is
// one thing; else the list shows them.
func (p *Page) openLine(id model.QuarantineID, l quarantine.Line) {
	if p.holds() {
		return
	}
	p.choose(id)
	if on := p.board.On(l.On); len(on) == 1 {
		p.window.Go(on[0].To)
		return
	}
	p.showLine(l)
}

// Actions implements place.Actor.
func (p *Page) Actions() []place.Action {
	n, there := p.board.Of(p.chosen)
	off := !there || p.window.ReadOnly()
	return []place.Action{
		{Label: p.say("newcomers.arrive"), Menu: place.MenuEntry, Key: fyne.KeyN, Off: p.window.ReadOnly(), Do: p.arriveNew},
		{Label: p.say("newcomers.note-look"), Menu: place.MenuEntry, Key: fyne.KeyM, Off: off, Do: func() { p.lookForMites(n) }},
		{Label: p.say("newcomers.release"), Menu: place.MenuEntry, Key: fyne.KeyR, Off: off, Do: func() { p.release(n) }},
	}
}

// TypedRune implements place.Keys: a figure says what a look for mites has seen.
func (p *Page) TypedRune(sign rune) {
	if p.form != nil && p.form.figures != nil && sign >= '0' && sign <= '9' {
		p.form.figures(int(sign - '0'))
	}
}

// TypedKey implements place.Keys: the arrows go to the bars, Escape closes the side.
func (p *Page) TypedKey(k *fyne.KeyEvent) {
	switch k.Name {
	case fyne.KeyEscape:
		if p.form != nil {
			p.form.Leave()
			return
		}
		p.close()
	case fyne.KeyReturn, fyne.KeyEnter:
		if p.form != nil {
			p.form.Keep()
		}
	case fyne.KeyDown, fyne.KeyUp:
		if p.form == nil {
			p.focus()
		}
	case fyne.KeyPageDown, fyne.KeyPageUp:
		widgets.Turn(p.scroll, k.Name == fyne.KeyPageDown)
	}
}

// refusal is what an error says to a person.
func (p *Page) refusal(err error) string {
	var r *model.Refusal
	if errors.As(err, &r) {
		return p.window.Text().Refusal(r)
	}
	return ""
}

// show lays something in the side column.
func (p *Page) show(content fyne.CanvasObject) {
	p.side.Objects = []fyne.CanvasObject{widgets.RowFill(0, widgets.VLine(), widgets.Fix(formWidth, 0, content))}
	p.side.Show()
	p.build()
	p.window.ActionsChanged()
}

// close takes the side column away.
func (p *Page) close() {
	p.form, p.again = nil, nil
	p.side.Objects = nil
	p.side.Hide()
	p.build()
	p.window.ActionsChanged()
	p.focus()
}
