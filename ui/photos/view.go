package photos

import (
	"bytes"
	"context"
	"image"
	"image/jpeg"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/exam"
	"coilward/model/knowledge"
	"coilward/model/photo"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

func addPhotos(w place.Window, shots []care.Shot, confirmed model.Confirmed) model.Command {
	return care.AddPhotos{Tables: w.Tables(), Shots: shots, By: w.By(), Confirmed: confirmed}
}

// The widths of the columns beside the pictures.
const (
	listWidth   float32 = 232
	detailWidth float32 = 320
)

// build shows the inbox.
func (p *Page) build() {
	text, l := p.window.Text(), p.sorted.listing
	below := p.path
	shots, cards := l.Waits()
	if shots > 0 {
		below = text.Count("photos.waiting", shots, map[string]any{"Folder": p.path})
	}
	if cards > 0 {
		below += " · " + text.Count("photos.cards", cards)
	}
	choices := make([]widgets.Choice, len(days()))
	for i, n := range days() {
		choices[i].Label = p.say("photos.back-all")
		if n > 0 {
			choices[i].Label = text.Count("photos.back-days", n)
		}
	}
	back := widgets.Row(look.S8, widgets.Line(p.say("photos.back"), look.Note, look.Soft),
		widgets.Fix(270, 0, widgets.NewSegments(36, slices.Index(days(), p.back()), func(i int) { p.lookBack(days()[i]) }, choices...).Container))
	parts := []fyne.CanvasObject{widgets.Header(p.say("photos.title"), below), widgets.Wrap(look.S8, back,
		widgets.Button(widgets.Plain, widgets.Act{Label: p.say("photos.look-again"), Icon: "search", Do: p.look}),
		widgets.Button(widgets.Quiet, p.chooseAct()))}
	if l.Lost {
		parts = append(parts, widgets.Caution(p.say("photos.lost")))
	}
	if len(p.items) == 0 {
		what := p.say("photos.nothing-what")
		if l.Older > 0 {
			what = text.Count("photos.older", l.Older)
		}
		parts = append(parts, widgets.Grow(widgets.EmptyPage(nil, p.say("photos.nothing"), what, widgets.Act{Label: p.say("photos.look-again"), Do: p.look})))
	} else {
		p.list.SetCount(len(p.items))
		p.list.SetCurrent(slices.Index(p.items, p.chosen))
		left := []fyne.CanvasObject{widgets.Grow(p.list)}
		if l.Older > 0 {
			left = append(left, widgets.Para(text.Count("photos.older", l.Older), look.Note, look.Soft))
		}
		columns := beside{list: widgets.Col(look.S8, left...), middle: p.middle()}
		all := []fyne.CanvasObject{columns.list, columns.middle}
		if p.shot.ID != "" {
			columns.detail = p.detail
			all = append(all, p.detail)
		}
		parts = append(parts, widgets.Grow(container.New(columns, all...)))
		if _, series := p.group(); series {
			parts = append(parts, p.keysSaid())
		}
		p.showDetail()
	}
	p.put(widgets.Pad(widgets.Col(look.S16, parts...), look.S24, look.S24, look.S8, look.S24))
}

// seriesRow is one line of the list.
type seriesRow struct {
	*fyne.Container
	ground       *widgets.Box
	icon         *widgets.Icon
	title, below *widgets.Text
}

func newSeriesRow() *seriesRow {
	r := &seriesRow{ground: widgets.NewBox(widgets.Ground{}), icon: widgets.NewIcon("camera", 20, look.Soft), title: widgets.Line("", look.BodyBold, look.Ink).Cuts(), below: widgets.Line("", look.Note, look.Soft).Cuts()}
	r.Container = widgets.Stack(widgets.Pad(r.ground, 3), widgets.MiddleUpright(widgets.Pad(widgets.Row(look.S8, r.icon, widgets.Grow(widgets.Col(0, r.title, r.below))), 0, look.S8)))
	return r
}

// Object implements widgets.RollRow.
func (r *seriesRow) Object() fyne.CanvasObject { return r.Container }

func (p *Page) fillSeries(item int, r *seriesRow) {
	title, below := p.seriesWords(item)
	icon, tone := "camera", look.Soft
	switch {
	case item == leftOut:
		icon = "bin"
	case item == badOnes:
		icon, tone = "caution", look.Days
	case p.sorted.groups[item].animal.ID.IsZero():
		icon, tone = "caution", look.Days
	}
	ground := widgets.Ground{}
	if item == p.chosen {
		ground = widgets.Ground{Fill: look.Well, Radius: look.RBase}
	}
	r.ground.SetGround(ground)
	r.icon.SetName(icon)
	r.icon.SetTone(tone)
	r.title.SetText(title)
	r.below.SetText(below)
}

// seriesWords are whose a series is, and when it was taken.
func (p *Page) seriesWords(item int) (title, below string) {
	text := p.window.Text()
	switch item {
	case leftOut:
		if l := p.sorted.listing; len(l.LeftOut) == 0 {
			return p.say("photos.left-out"), text.Count("photos.files", len(l.PutAway))
		}
		return p.say("photos.left-out"), text.Count("photos.pictures", len(p.sorted.listing.LeftOut))
	case badOnes:
		return p.say("photos.bad"), text.Count("photos.files", len(p.sorted.listing.Bad))
	}
	g := p.sorted.groups[item]
	title = p.sorted.names[g.animal]
	if g.animal.ID.IsZero() {
		title = p.say("photos.whose")
	}
	return title, text.DayShort(g.Shots[0].At.Day()) + ", " + text.Time(g.Shots[0].At) + " · " + text.Count("photos.pictures", len(g.Shots))
}

// middle is the series in sight: whose it is, what can be done with all of it, and
// its pictures.
func (p *Page) middle() fyne.CanvasObject {
	text := p.window.Text()
	switch p.chosen {
	case badOnes:
		var lines []fyne.CanvasObject
		for i, r := range p.sorted.listing.Bad {
			if i == 100 {
				lines = append(lines, widgets.Para(text.Count("photos.refused-more", len(p.sorted.listing.Bad)-i), look.Body, look.Soft))
				break
			}
			lines = append(lines, widgets.Col(0, widgets.Line(r.Value, look.BodyBold, look.Ink).Cuts(), widgets.Para(text.Why(r), look.Body, look.Soft)))
		}
		away := p.button(widgets.Plain, widgets.Act{Label: text.Count("photos.put-away", len(p.sorted.listing.Bad)), Icon: "bin", Do: p.putAway})
		return widgets.Col(look.S12, widgets.Line(p.say("photos.bad"), look.Section, look.Ink).Cuts(), widgets.Wrap(look.S8, away), widgets.Grow(widgets.Scroll(widgets.Col(look.S12, lines...))))
	case leftOut:
		p.grid.SetCount(len(p.shots()))
		all := p.button(widgets.Plain, widgets.Act{Label: p.say("photos.bring-all"), Icon: "undo", Do: p.bringAll})
		parts := []fyne.CanvasObject{widgets.Row(look.S12, widgets.Grow(widgets.Line(p.say("photos.left-out"), look.Section, look.Ink).Cuts()), all)}
		if n := len(p.sorted.listing.PutAway); n > 0 {
			parts = append(parts, widgets.Para(text.Count("photos.put-away-too", n), look.Body, look.Soft))
		}
		return widgets.Col(look.S12, append(parts, widgets.Grow(p.grid))...)
	}
	g, _ := p.group()
	p.grid.SetCount(len(g.Shots))
	p.grid.SetCurrent(slices.IndexFunc(g.Shots, func(s photo.Shot) bool { return s.ID == p.shot.ID }))
	title, why := p.sorted.names[g.animal], ""
	keep := p.button(widgets.Primary, widgets.Act{Label: text.Count("photos.keep-all", len(g.Shots)), Icon: "tick", Do: p.keepSeries})
	whose := widgets.Plain
	if g.animal.ID.IsZero() {
		title, why, whose = p.say("photos.whose"), p.say("photos.why."+whyOf(g.whose)), widgets.Primary
		keep.Disable()
	}
	acts := widgets.Wrap(look.S8, p.button(whose, widgets.Act{Label: p.say("photos.choose-animal"), Icon: "animals", Do: p.chooseAnimal}), keep,
		p.button(widgets.Quiet, widgets.Act{Label: text.Count("photos.leave-all", len(g.Shots)), Icon: "bin", Do: func() { p.leave(g.Shots...) }}))
	parts := []fyne.CanvasObject{widgets.Line(title, look.Section, look.Ink).Cuts()}
	if why != "" {
		parts = append(parts, widgets.Para(why, look.Body, look.Soft))
	}
	if card := p.cardOf(g); card != nil {
		parts = append(parts, card)
	}
	return widgets.Col(look.S12, append(parts, acts, widgets.Grow(p.grid))...)
}

// cardOf shows the picture of the card that a series follows, so that a wrong card is
// seen; nil where there was none.
func (p *Page) cardOf(g group) fyne.CanvasObject {
	if len(g.Cards) == 0 {
		return nil
	}
	text, card := p.window.Text(), g.Cards[0]
	of := p.say("photos.card-stranger")
	if id, is := g.Card.Animal(); is && p.sorted.Known(id) {
		of = p.say("photos.card", map[string]any{"Of": p.sorted.names[id]})
	} else if id, is := g.Card.Place(); is {
		if _, there := p.sorted.house.Place(id); there {
			of = p.say("photos.card", map[string]any{"Of": p.sorted.house.Title(id)})
		}
	}
	return widgets.Row(look.S12, widgets.PhotoPress(of, 72, 54, p.small(card.ID), func() { p.showCard(of, card) }),
		widgets.Grow(widgets.Col(0, widgets.Para(of, look.Body, look.Ink), widgets.Line(text.Moment(card.At), look.Note, look.Soft).Cuts())))
}

// showCard lays the picture of a card over the page.
func (p *Page) showCard(of string, card photo.Shot) {
	frame, open := widgets.Stack(widgets.Filled(look.Well, look.RBase)), true
	fill(p.window, p.say("photos.opening"), frame, func() ([]byte, bool) { return p.inbox.Picture(card.ID, photo.Page) }, func() bool { return open })
	p.window.ShowSheet(widgets.Sheet{Title: of, Width: 640, Content: widgets.Fix(0, 430, frame), Cancel: p.say("photos.close"), OnLeave: func() { open = false }})
}

// button is one that cannot be pressed while nothing can be noted.
func (p *Page) button(rank widgets.Rank, act widgets.Act) *widgets.Press {
	b := widgets.Button(rank, act)
	if p.window.ReadOnly() {
		b.Disable()
	}
	return b
}

// whyOf is why it has to be asked whose a series is.
func whyOf(w photo.Whose) string {
	return map[photo.Whose]string{photo.NoCard: "no-card", photo.Stranger: "stranger", photo.Nobody: "nobody", photo.Several: "several"}[w]
}

// chooseAnimal asks whose the series is; those who lived in the card's box stand first.
func (p *Page) chooseAnimal() {
	g, ok := p.group()
	if !ok {
		return
	}
	var ids []model.AnimalID
	for _, id := range g.among {
		if p.sorted.Known(id) {
			ids = append(ids, id)
		}
	}
	for _, a := range p.sorted.all {
		if !slices.Contains(ids, a.ID) {
			ids = append(ids, a.ID)
		}
	}
	choices := make([]widgets.Choice, len(ids))
	for i, id := range ids {
		choices[i].Label = p.sorted.names[id]
		if s, lived := p.sorted.house.Where(id, g.At); lived {
			choices[i].Detail = p.sorted.house.Title(s.Place)
		}
	}
	list := widgets.NewChoiceList(p.say("photos.animal-search"), p.say("photos.animal-none"), choices)
	var leave func()
	list.OnChosen = func(i int) { leave(); p.setAnimal(ids[i]) }
	leave = p.window.ShowSheet(widgets.Sheet{Title: p.say("photos.choose-animal"), Content: list.Container, Width: 440, Height: 420,
		Cancel: p.say("window.cancel"), First: list.Search().Focusable()})
}

// tile is one picture of the grid.
type tile struct {
	*fyne.Container
	ring    *widgets.Box
	picture *fyne.Container
	below   *widgets.Text
}

func newTile() *tile {
	t := &tile{ring: widgets.NewBox(widgets.Ground{}), picture: widgets.Stack(), below: widgets.Line("", look.Note, look.Soft).Cuts()}
	t.Container = widgets.Stack(t.ring, widgets.Pad(widgets.Col(2, widgets.Fix(0, 104, t.picture), t.below), look.S4))
	return t
}

// Object implements widgets.RollRow.
func (t *tile) Object() fyne.CanvasObject { return t.Container }

func (p *Page) fillTile(s photo.Shot, t *tile) {
	t.picture.Objects = []fyne.CanvasObject{widgets.PhotoTile(0, 104, p.small(s.ID))}
	t.picture.Refresh()
	words, tone, ring := p.window.Text().Time(s.At), look.Soft, widgets.Ground{}
	if pose := p.poses[s.ID]; pose != "" {
		words = p.say("pose." + string(pose))
	} else if at, ok := p.said(s); ok {
		words = p.window.Text().DayShort(at.Day())
	} else if s.Dated == photo.ByFile {
		words = p.say("photos.day-unsure")
	}
	if s.ID == p.shot.ID {
		tone, ring = look.Accent, widgets.Ground{Fill: look.Paper, Line: look.Accent, Width: 2, Radius: look.RBase}
	}
	t.ring.SetGround(ring)
	t.below.SetText(words)
	t.below.SetTone(tone)
}

// small is the little picture of a shot, which was made when it was looked at.
func (p *Page) small(id model.PhotoID) fyne.Resource {
	if r, there := p.thumbs[id]; there {
		return r
	}
	raw, ok := p.inbox.Picture(id, photo.Thumbnail)
	if !ok {
		return nil
	}
	p.thumbs[id] = fyne.NewStaticResource(string(id)+"-small.jpg", raw)
	return p.thumbs[id]
}

// showDetail shows the chosen picture large, and what can be done with it.
func (p *Page) showDetail() {
	text, s := p.window.Text(), p.shot
	p.few, p.day = nil, nil
	if s.ID == "" {
		p.detail.Objects = nil
		return
	}
	picture := widgets.Stack(widgets.Filled(look.Well, look.RBase))
	fill(p.window, p.say("photos.opening"), picture, func() ([]byte, bool) { return p.inbox.Picture(s.ID, photo.Page) }, func() bool { return p.shot.ID == s.ID })
	when, source := text.Moment(s.At), p.say("photos.dated.camera")
	if s.Dated == photo.ByFile {
		source = p.say("photos.file-proposes")
	}
	parts := []fyne.CanvasObject{widgets.Col(0, widgets.Line(when, look.BodyBold, look.Ink).Cuts(), widgets.Para(source, look.Note, look.Soft), widgets.Line(s.Name, look.Note, look.Faint).Cuts())}
	if g, ok := p.group(); ok {
		parts = append(parts, p.acts(g, s)...)
	} else {
		parts = append(parts, widgets.Row(0, p.button(widgets.Plain, widgets.Act{Label: p.say("photos.bring-one"), Icon: "undo", Do: func() { p.bringBack(s) }}), widgets.Fill()))
	}
	p.detail.Objects = []fyne.CanvasObject{widgets.Col(look.S12, widgets.Fix(0, 224, picture), widgets.Grow(widgets.Scroll(widgets.Pad(widgets.Col(look.S16, parts...), 0, look.S8, look.S12, 0))))}
	p.detail.Refresh()
}

// acts are what can be done with one picture of a series.
func (p *Page) acts(g group, s photo.Shot) []fyne.CanvasObject {
	p.few = particulars.PoseOf(p.window, p.poses[s.ID], func(pose knowledge.PoseID) {
		p.poses[s.ID] = pose
		p.grid.SetCount(len(p.shots()))
	}).Numbered()
	one := p.button(widgets.Plain, widgets.Act{Label: p.say("photos.keep-one"), Icon: "tick", Do: func() { p.keep([]photo.Shot{s}, model.ProblemID{}) }})
	parts := []fyne.CanvasObject{p.few.Container}
	if s.Dated == photo.ByFile {
		parts = []fyne.CanvasObject{p.dayField(g, s), p.few.Container}
	}
	if g.animal.ID.IsZero() {
		one.Disable()
	} else {
		parts = append(parts, p.findings(g, s))
	}
	return append(parts, widgets.Wrap(look.S8, one, p.button(widgets.Quiet, widgets.Act{Label: p.say("photos.leave-one"), Icon: "bin", Do: func() { p.leave(s) }})))
}

// findings are the open findings that the picture may show: pressing one keeps it there.
func (p *Page) findings(g group, s photo.Shot) fyne.CanvasObject {
	open, err := openFindings(p.window, g.animal)
	lines := []fyne.CanvasObject{widgets.Line(p.say("photos.to-finding"), look.NoteBold, look.Soft)}
	switch {
	case err != nil:
		lines = append(lines, widgets.Para(p.say("photos.findings-unread"), look.Note, look.Soft))
	case len(open) == 0:
		lines = append(lines, widgets.Para(p.say("photos.no-findings"), look.Note, look.Soft))
	}
	for _, problem := range open {
		name := findingName(p.window, problem)
		row := widgets.RowPress(name, widgets.Fix(0, 40, widgets.MiddleUpright(widgets.Pad(widgets.Row(look.S8, widgets.NewIcon("plus", 16, look.Accent),
			widgets.Grow(widgets.Line(name, look.Body, look.Ink).Cuts())), 0, look.S8))), func() { p.keep([]photo.Shot{s}, problem.ID) })
		if p.window.ReadOnly() {
			row.Disable()
		}
		lines = append(lines, row)
	}
	return widgets.Col(look.S4, lines...)
}

func findingName(w place.Window, problem exam.StoredProblem) string {
	return w.Text().Say("finding."+string(problem.What)) + " · " + w.Text().Say("stop."+string(problem.Stop))
}

// fill reads and decodes a picture off Fyne's goroutine and puts it into a frame,
// if it is wanted still.
func fill(w place.Window, name string, frame *fyne.Container, read func() ([]byte, bool), wanted func() bool) {
	var picture image.Image
	w.Task(name, func(context.Context, func(float64)) (err error) {
		raw, ok := read()
		if ok {
			picture, err = jpeg.Decode(bytes.NewReader(raw))
		}
		return err
	}, func(err error) {
		if !wanted() {
			return
		}
		if err != nil || picture == nil {
			frame.Objects = append(frame.Objects[:1:1], widgets.Middle(widgets.NewIcon("camera", 24, look.Faint)))
		} else {
			shown := canvas.NewImageFromImage(picture)
			shown.FillMode = canvas.ImageFillContain
			frame.Objects = append(frame.Objects[:1:1], shown)
		}
		frame.Refresh()
	})
}
