package shelf

import (
	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/round"
	"coilward/ui/look"
	"coilward/ui/place"
	"coilward/ui/widgets"
	"coilward/ui/widgets/coil"
	"coilward/ui/widgets/shelfview"
)

// buildRest shows the shelf as it stands.
func (p *Page) buildRest() {
	p.lit = nil
	p.view.Rest()
	if len(p.house.Rooms) == 0 {
		p.head.Objects = []fyne.CanvasObject{p.above(widgets.Space(0, 0))}
		p.foot.Objects = nil
		p.view.Set(p.words().rows(p.rows, false))
		switch {
		case p.house.Len() == 0:
			p.body.Objects = []fyne.CanvasObject{p.empty()}
			return
		case p.form != nil:
			p.body.Objects = []fyne.CanvasObject{p.view}
			return
		}
		p.body.Objects = []fyne.CanvasObject{widgets.Col(look.S32, p.empty(), widgets.Grow(p.view))}
		return
	}
	p.head.Objects = []fyne.CanvasObject{p.above(p.jobs())}
	p.foot.Objects = []fyne.CanvasObject{p.legend()}
	p.view.Set(p.words().rows(p.rows, true))
	p.body.Objects = []fyne.CanvasObject{p.view}
}

// above is what stands above the picture: the rooms, the line to jot in where there
// is somebody to note something of and nobody moves, the jobs.
func (p *Page) above(jobs fyne.CanvasObject) fyne.CanvasObject {
	if p.house.Len() == 0 || p.moving != nil {
		return widgets.Col(look.S12, p.title(), jobs)
	}
	p.jots, p.choices = true, widgets.Stack(jobs)
	p.said = widgets.Stack(widgets.Space(0, jobHeight), p.jot.Below)
	p.jotSaid()
	return widgets.Col(look.S12, p.title(), p.jot.Field, p.said, p.choices)
}

// jotSaid shows what the line says. While it has the keys that stands in the place of
// the jobs, whose keys it has, so that the picture does not move at every letter.
func (p *Page) jotSaid() {
	if !p.jots {
		return
	}
	says := p.jot.Below.Visible()
	visible(p.said, says)
	visible(p.choices, !says || !p.jot.HasKeys())
	p.column.Layout.Layout(p.column.Objects, p.column.Size())
	p.head.Refresh()
}

func visible(o fyne.CanvasObject, yes bool) {
	if yes {
		o.Show()
	} else {
		o.Hide()
	}
}

// empty says what to do where no room is set up.
func (p *Page) empty() fyne.CanvasObject {
	if p.form != nil {
		return widgets.Space(0, 0)
	}
	pair := widgets.Row(look.S16, coil.New(coil.Coat{Ground: 1, Markings: 1}, "Brook", 72), coil.New(coil.Coat{}, "Juniper", 96), coil.New(coil.Coat{Ground: 4, Markings: 4}, "Ash", 72))
	return widgets.EmptyPage(pair, p.say("shelf.empty.title"), p.say("shelf.empty.what"),
		widgets.Act{Label: p.say("shelf.empty.do"), Icon: "plus", Do: func() { p.show(newRoomForm(p)) }})
}

// title is the row of rooms; the one in sight speaks in the title's face.
func (p *Page) title() fyne.CanvasObject {
	t := p.window.Text()
	day := widgets.Line(t.Weekday(p.today)+", "+t.DayOfYear(p.today), look.Body, look.Soft)
	tabs := p.tabs()
	if len(tabs) == 0 {
		return widgets.Row(look.S16, widgets.Grow(widgets.Line(p.say("shelf.title"), look.Display, look.Ink)), day)
	}
	add := func() fyne.CanvasObject {
		return widgets.Button(widgets.Quiet, widgets.Act{Label: p.say("shelf.add-room"), Icon: "plus", Do: func() { p.show(newRoomForm(p)) }})
	}
	to := func(label, icon string, name place.Name) fyne.CanvasObject {
		return widgets.Button(widgets.Quiet, widgets.Act{Label: p.say(label), Icon: icon, Do: func() { p.window.Go(place.Route{To: name}) }})
	}
	row := func(end ...fyne.CanvasObject) fyne.CanvasObject {
		return widgets.Row(look.S16, append(append(tabParts(p, tabs), widgets.Fill()), end...)...)
	}
	stock := func() fyne.CanvasObject { return to("feeders.title", "feed", place.Feeders) }
	kit := func() fyne.CanvasObject { return to("window.place.instruments", "gauge", place.Instruments) }
	line := func() fyne.CanvasObject {
		return widgets.Line(t.Weekday(p.today)+", "+t.DayOfYear(p.today), look.Body, look.Soft)
	}
	return widgets.FirstFit(row(stock(), kit(), add(), line()), row(stock(), kit(), add()), row(stock(), add()),
		widgets.Col(look.S4, widgets.Wrap(look.S16, tabParts(p, tabs)...), widgets.Row(look.S8, stock(), kit(), add(), widgets.Fill())))
}

func tabParts(p *Page, tabs []Room) (parts []fyne.CanvasObject) {
	for _, r := range tabs {
		parts = append(parts, p.tab(r, r.ID == p.room || len(tabs) == 1))
	}
	return parts
}

func (p *Page) tab(r Room, on bool) fyne.CanvasObject {
	kind, tone, bar := look.Section, look.Soft, look.Clear
	if on {
		kind, tone, bar = look.Display, look.Ink, look.Accent
	}
	words := []fyne.CanvasObject{widgets.Line(r.Name, kind, tone).Cuts(), widgets.Line(p.window.Text().Number(int64(r.Count)), look.Note, look.Faint)}
	if r.Class > round.LookAgain {
		words = append(words, widgets.Fix(14, 14, shelfview.NewMark(shelfview.Class(r.Class))))
	}
	name := words[0].(*widgets.Text)
	words[0] = widgets.Fix(min(kind.Width(r.Name)+1, 240), 0, name)
	content := widgets.Fix(0, 44, widgets.Col(0, widgets.Grow(widgets.MiddleUpright(widgets.Row(look.S8, words...))), widgets.Fix(0, 3, widgets.Filled(bar, 1.5))))
	return widgets.NewPress(r.Name, content, func(s widgets.State) widgets.Ground {
		if s.Pointed && !on {
			return widgets.Ground{Fill: look.Well, Radius: look.RBase}
		}
		return widgets.Ground{Radius: look.RBase}
	}, func() { p.toRoom(r.ID) })
}

func (p *Page) toRoom(id model.PlaceID) {
	p.room = id
	p.view.SetCurrent(shelfview.At{})
	p.build()
	p.keys()
}

// jobHeight is that of the row of jobs where it is one row.
const jobHeight float32 = 40

// jobs is the row of what can be done box by box; while somebody moves it says
// how.
func (p *Page) jobs() fyne.CanvasObject {
	if p.moving != nil {
		return p.movingBar()
	}
	row := func(room jobRoom) (presses []fyne.CanvasObject) {
		for i, job := range jobs() {
			presses = append(presses, p.jobPress(job, i+1, room))
		}
		return presses
	}
	return widgets.FirstFit(widgets.Row(look.S8, append(row(roomy), widgets.Fill())...), widgets.Row(look.S4, append(row(tight), widgets.Fill())...),
		widgets.Wrap(look.S4, row(twofold)...))
}

// jobRoom is how much room the press of a job has. Its name, count and key stand in each.
type jobRoom uint8

const (
	roomy   jobRoom = iota
	tight           // nothing but a hair between them
	twofold         // the name stands below
)

// jobs are those of the row, in the order of their keys.
func jobs() []round.Job { return append(round.Jobs(), round.Through) }

func iconOf(j round.Job) string {
	return map[round.Job]string{round.Feed: "feed", round.Weigh: "weight", round.Mites: "mite", round.Check: "check", round.Clean: "clean", round.Swab: "swab", round.Through: "rows"}[j]
}

func (p *Page) jobPress(job round.Job, key int, room jobRoom) fyne.CanvasObject {
	t := p.window.Text()
	name := p.say("shelf.job." + string(job))
	count := widgets.Line(t.Number(int64(len(Stops(p.rows, job, false)))), look.Body, look.Soft)
	icon, cap := widgets.NewIcon(iconOf(job), 20, look.Accent), widgets.KeyCap(t.Number(int64(key)))
	var content fyne.CanvasObject
	height := jobHeight
	switch room {
	case roomy:
		content = widgets.Pad(widgets.Row(look.S8, icon, widgets.Line(name, look.BodyBold, look.Ink), count, widgets.Space(look.S4, 0), cap), 0, look.S8)
	case tight:
		content = widgets.Pad(widgets.Row(look.S4, icon, widgets.Line(name, look.NoteBold, look.Ink), count, cap), 0, look.S4)
	default:
		height = 52
		content = widgets.Pad(widgets.Col(0, widgets.Row(look.S4, icon, count, widgets.Fill(), cap), widgets.Line(name, look.NoteBold, look.Ink)), 0, look.S4)
	}
	return widgets.NewPress(name, widgets.Fix(0, height, widgets.MiddleUpright(content)), pressGround, func() { p.choose(job) })
}

func pressGround(s widgets.State) widgets.Ground {
	g := widgets.Ground{Fill: look.Sheet, Line: look.Edge, Width: 1, Radius: look.RBase}
	switch {
	case s.Off:
		g.Fill = look.Well
	case s.On:
		g.Fill, g.Line, g.Width = look.Wash, look.Accent, 2
	case s.Pointed:
		g.Fill = look.Wash
	}
	return g
}

// legend counts those in sight to whom each class applies; one may count in several.
func (p *Page) legend() fyne.CanvasObject {
	t := p.window.Text()
	var count [5]int
	for _, row := range p.rows {
		for _, box := range row.Boxes {
			for _, a := range box.Animals {
				for _, c := range a.Classes {
					count[c]++
				}
			}
		}
	}
	counts := func() (parts []fyne.CanvasObject) {
		for i, c := range round.Classes() {
			if count[i] == 0 && c != round.Resident {
				continue
			}
			parts = append(parts, widgets.Row(look.S8, widgets.Fix(14, 14, shelfview.NewMark(shelfview.Class(c))),
				widgets.Line(t.Number(int64(count[i])), look.NoteBold, look.Ink), widgets.Line(className(t, c), look.Note, look.Soft)))
		}
		return parts
	}
	air := func() fyne.CanvasObject {
		return widgets.Button(widgets.Quiet, widgets.Act{Label: t.Say("climate.title"), Icon: "gauge", Do: func() { p.window.Go(place.Route{To: place.Climate}) }})
	}
	cut := func() fyne.CanvasObject {
		return widgets.Button(widgets.Quiet, widgets.Act{Label: t.Say("power-cut.title"), Icon: "caution", Do: func() { p.window.Go(place.Route{To: place.PowerCut}) }})
	}
	keys := func() fyne.CanvasObject { return widgets.Line(t.Say("shelf.keys"), look.Note, look.Faint) }
	return widgets.FirstFit(widgets.Row(look.S24, append(counts(), widgets.Fill(), keys(), air(), cut())...),
		widgets.Row(look.S16, append(counts(), widgets.Fill(), air(), cut())...), widgets.Col(look.S4, widgets.Wrap(look.S16, counts()...), widgets.Row(look.S16, widgets.Fill(), air(), cut())))
}
