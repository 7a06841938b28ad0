package papers

import (
	"cmp"
	"context"
	"errors"
	"image"
	"slices"
	"strconv"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"

	"coilward/assets"
	"coilward/export/paper"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/collection"
	"coilward/model/husbandry"
	"coilward/model/label"
	"coilward/model/people"
	"coilward/model/quarantine"
	"coilward/model/wording"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/place"
	"coilward/ui/signing"
	"coilward/ui/widgets"
)

// Page is the place. It is used on Fyne's goroutine only.
type Page struct {
	w       place.Window
	version string
	signing *signing.Key // nil: no papers are signed
	content *fyne.Container
	preview *fyne.Container
	acts    *fyne.Container
	// scrolled are the choices below the kind of paper; nil until there are any
	scrolled *fyne.Container

	languages *wording.Languages
	animals   []animals.Stored
	people    []people.Stored
	house     *husbandry.House
	sheets    []label.Sheet
	day       *widgets.Field          // of the stock
	first     *widgets.Field          // for the first free label of a used sheet
	newcomers map[model.AnimalID]int  // those that are in quarantine, and those that were
	ticked    map[model.PersonID]bool // who is to be called, where that was said; else those who are not private
	wanted    wanted
	paper     *made // nil until it is made
	asked     int   // counts what was asked for, so that only the last answer is shown
	shown     bool
}

var (
	_ place.Place = (*Page)(nil)
	_ place.Actor = (*Page)(nil)
)

// New makes the place; version is the program's, which stands on every paper.
func New(w place.Window, version string) *Page {
	return &Page{w: w, ticked: map[model.PersonID]bool{}, wanted: wanted{days: 14, write: toWrite{of: ofOne}}, version: version, content: widgets.Stack(), preview: widgets.Stack(), acts: widgets.Stack()}
}

// Content implements place.Place.
func (p *Page) Content() fyne.CanvasObject { return p.content }

// Show implements place.Place; a route's subject is the animal to begin with, its page the
// paper: without one that animal's health record.
func (p *Page) Show(r place.Route) {
	p.shown = true
	if p.languages == nil {
		var err error
		if p.languages, err = wording.Load(assets.Text()); err != nil {
			p.w.Fault("papers.failed", err)
			return
		}
	}
	if !p.lay() {
		return
	}
	if !r.Subject.IsZero() {
		p.wanted.animal = model.AnimalID{ID: r.Subject}
		p.wanted.write.of = ofOne
		p.wanted.kind = healthRecord // whatever paper was looked at last
	}
	if kind(r.Page) == powerCut || slices.Contains(kinds(), kind(r.Page)) {
		p.wanted.kind = kind(r.Page)
	}
	if p.wanted.language == "" {
		p.wanted.language = p.w.Text().Language()
	}
	if p.wanted.size == (paper.Size{}) {
		p.wanted.size = paper.A4
		if p.w.Settings().Paper == place.Letter {
			p.wanted.size = paper.Letter
		}
	}
	p.read()
}

// Hide implements place.Place.
func (p *Page) Hide() {
	p.shown = false
	p.asked++ // what is being made is no longer wanted
}

// Changed implements place.Place.
func (p *Page) Changed(collection.Change) {
	if p.shown {
		p.read()
	}
}

// Actions implements place.Actor.
func (p *Page) Actions() []place.Action {
	text := p.w.Text()
	return []place.Action{
		{Label: text.Say("papers.save"), Menu: place.MenuEntry, Key: fyne.KeyS, Off: p.paper == nil, Do: p.save},
		{Label: text.Say("papers.print"), Menu: place.MenuEntry, Key: fyne.KeyP, Off: p.paper == nil, Do: p.print},
	}
}

// read reads the animals, and asks for the paper of the one that is chosen.
func (p *Page) read() {
	err := p.w.Collection().View(func(v model.View) (err error) {
		if p.animals, err = animals.All(v); err != nil {
			return err
		}
		if p.people, err = people.All(v); err != nil {
			return err
		}
		if p.house, err = husbandry.ReadHouse(v); err != nil {
			return err
		}
		p.newcomers = map[model.AnimalID]int{}
		return v.All(model.TypeQuarantine, func(d model.Document) bool {
			if s, err := quarantine.Read(d); err == nil { // one that cannot be read moves nobody up
				stands := released
				if s.Open() {
					stands = newcomer
				}
				p.newcomers[s.Animal] = max(p.newcomers[s.Animal], stands)
			}
			return true
		})
	})
	slices.SortStableFunc(p.animals, func(a, b animals.Stored) int { return model.Natural(animals.Fold(a.Name), animals.Fold(b.Name)) })
	if err != nil {
		p.w.Fault("papers.failed", err)
		return
	}
	if _, ok := p.animal(); !ok && len(p.animals) > 0 {
		p.wanted.animal = p.animals[0].ID
	}
	if len(p.animals) == 0 { // empty boxes have cards all the same
		p.wanted.kind = boxCards
	}
	p.again()
}

// animal is the one that is chosen.
func (p *Page) animal() (animals.Stored, bool) {
	for _, a := range p.animals {
		if a.ID == p.wanted.animal {
			return a, true
		}
	}
	return animals.Stored{}, false
}

// The measures of the choices: how wide their column is, and how high the list of
// those to be called may grow before it scrolls.
const (
	sideWidth   float32 = 320
	callsHeight float32 = 92
)

func (p *Page) build() {
	text := p.w.Text()
	if len(p.animals) == 0 && len(p.boxes()) == 0 {
		p.content.Objects = []fyne.CanvasObject{widgets.EmptyPage(nil, text.Say("papers.none"), text.Say("papers.none.detail"),
			widgets.Act{Label: text.Say("papers.none.act"), Do: func() { p.w.Go(place.Route{To: place.Animals}) }})}
		p.content.Refresh()
		return
	}
	before := p.scrolled
	p.offer() // first: the layout asks how high the acts are
	side := widgets.Fix(sideWidth, 0, widgets.Col(0,
		widgets.Grow(widgets.Pad(p.choices(), look.S24, look.S8, 0, look.S24)),
		widgets.Pad(p.acts, look.S16, look.S24)))
	p.content.Objects = []fyne.CanvasObject{widgets.RowFill(0, side, widgets.Grow(widgets.Stack(widgets.Filled(look.Well, 0), p.preview)))}
	p.content.Refresh()
	widgets.Resume(before, p.scrolled)
}

// choices are which paper, of which animal, on which sheet, in which language.
func (p *Page) choices() fyne.CanvasObject {
	text := p.w.Text()
	head := []fyne.CanvasObject{widgets.Header(text.Say("papers.title"), ""), p.kinds()}
	animal := p.whose()
	spoken := widgets.Col(look.S4, widgets.Line(text.Say("papers.language"), look.NoteBold, look.Soft), p.spoken())
	below := widgets.Col(look.S16, animal, p.beside(), spoken)
	switch {
	case p.wanted.ofAll():
		below = widgets.Col(look.S16, p.beside(), spoken)
	case p.wanted.kind == checkSheets: // of whom it is comes before whose
		below = widgets.Col(look.S16, p.beside(), animal, spoken)
	}
	inset := func(o fyne.CanvasObject) fyne.CanvasObject { return widgets.Pad(o, 0, look.S16, 0, 0) } // the bar stands beside them
	p.scrolled = widgets.Scroll(inset(below))
	return widgets.Col(look.S16, inset(widgets.Col(look.S16, head...)), widgets.Grow(p.scrolled))
}

// whose is the choice of the animal.
func (p *Page) whose() fyne.CanvasObject {
	order := p.inOrder()
	var ids []string
	var choices []widgets.Choice
	for _, a := range order {
		ids, choices = append(ids, a.ID.String()), append(choices, widgets.Choice{Label: a.Name, Detail: a.Code})
	}
	pick := particulars.NewPick(p.w, p.w.Text().Say("papers.animal"), "", ids, choices, p.wanted.animal.String())
	pick.OnPicked = func() {
		p.wanted.animal = order[slices.Index(ids, pick.Value())].ID
		p.again()
	}
	return pick.Container
}

// inOrder are the animals by name; for the report of a quarantine first those that are
// in one, then those that were.
func (p *Page) inOrder() []animals.Stored {
	order := slices.Clone(p.animals)
	if p.wanted.kind == quarantined {
		slices.SortStableFunc(order, func(a, b animals.Stored) int { return cmp.Compare(p.newcomers[b.ID], p.newcomers[a.ID]) })
	}
	return order
}

// How an animal stands to quarantine; the zero value is that it never was in one.
const (
	released = 1
	newcomer = 2
)

// kinds is the choice of the paper, with what it is for.
func (p *Page) kinds() fyne.CanvasObject {
	text := p.w.Text()
	values := []string{string(healthRecord), string(emergencyCard), string(vetPage), string(quarantined), string(sitterPaper), string(roundSheet), string(powerCut), string(doorSheet), string(checkSheets), string(weighSheet), string(collectionOf), string(stockOn), string(boxCards)}
	words := []string{text.Say("paper.record.kicker"), text.Say("paper.card.kicker"), text.Say("paper.vet.kicker"), text.Say("paper.quarantine.kicker"), text.Say("paper.sitter.kicker"), text.Say("paper.round.kicker"), text.Say("paper.power-cut.kicker"), text.Say("paper.door.kicker"), text.Say("paper.check-sheet.kicker"), text.Say("paper.weigh-sheet.kicker"), text.Say("paper.collection.kicker"), text.Say("paper.stock.kicker"), text.Say("paper.cards.kicker")}
	what := text.Say("papers.record.what")
	switch p.wanted.kind {
	case emergencyCard:
		what = text.Say("papers.card.what")
	case vetPage:
		what = text.Say("papers.vet.what")
	case sitterPaper:
		what = text.Say("papers.sitter.what")
	case powerCut:
		what = text.Say("papers.power-cut.what")
	case roundSheet:
		what = text.Say("papers.round.what")
	case checkSheets:
		what = text.Say("papers.check-sheet.what")
	case weighSheet:
		what = text.Say("papers.weigh-sheet.what")
	case boxCards:
		what = text.Say("papers.cards.what")
	case collectionOf:
		what = text.Say("papers.collection.what")
	case stockOn:
		what = text.Say("papers.stock.what")
	case doorSheet:
		what = text.Say("papers.door.what")
	case quarantined:
		what = text.Say("papers.quarantine.what")
	}
	if len(p.animals) == 0 {
		values, words = values[len(values)-1:], words[len(words)-1:]
	}
	var choices []widgets.Choice
	for _, word := range words {
		choices = append(choices, widgets.Choice{Label: word})
	}
	pick := particulars.NewPick(p.w, text.Say("papers.paper"), "", values, choices, string(p.wanted.kind))
	pick.OnPicked = func() {
		p.wanted.kind = kind(pick.Value())
		p.again()
	}
	next := widgets.Act{Label: text.Say("papers.samples"), Icon: "tube", Do: func() { p.w.Go(place.Route{To: place.Tray}) }}
	if slices.Contains(kinds(), p.wanted.kind) { // what is written on them comes back
		next = widgets.Act{Label: text.Say("written.title"), Icon: "note", Do: func() { p.w.Go(place.Route{To: place.Written}) }}
	}
	return widgets.Col(look.S8, pick.Container, widgets.Para(what, look.Note, look.Soft), widgets.Row(0, widgets.Button(widgets.Quiet, next), widgets.Fill()))
}

// beside are the choices that the paper has of its own.
func (p *Page) beside() fyne.CanvasObject {
	text := p.w.Text()
	sheet := widgets.Col(look.S4, widgets.Line(text.Say("papers.sheet"), look.NoteBold, look.Soft), p.sizes())
	switch p.wanted.kind {
	case emergencyCard:
		return p.calls()
	case sitterPaper:
		return widgets.Col(look.S16, widgets.Col(look.S4, widgets.Line(text.Say("papers.days"), look.NoteBold, look.Soft), p.spans()), p.calls(), sheet)
	case checkSheets, weighSheet:
		return widgets.Col(look.S16, append(p.writeChoices(), sheet)...)
	case boxCards:
		return p.cardChoices()
	case powerCut:
		return widgets.Col(look.S16, p.calls(), sheet)
	case doorSheet:
		return widgets.Col(look.S16, p.writePlace(), p.calls(), sheet)
	case stockOn:
		return widgets.Col(look.S16, p.stockChoices(), sheet)
	case roundSheet, collectionOf:
		return sheet
	case quarantined:
		return widgets.Col(look.S16, sheet, p.tick(&p.wanted.told, "papers.quarantine.told"))
	}
	return widgets.Col(look.S16, sheet, widgets.Col(0, p.tick(&p.wanted.organs, "papers.organs"), p.tick(&p.wanted.notes, "papers.sample-notes")))
}

// tick is the choice of one thing more on the paper.
func (p *Page) tick(on *bool, key string) fyne.CanvasObject {
	return widgets.CheckRow(*on, p.w.Text().Say(key), "", "", func(now bool) {
		*on = now
		p.again()
	})
}

// spans is the choice of how many days the sitter stays.
func (p *Page) spans() fyne.CanvasObject {
	days := []int{7, 14, 21, 28}
	var list []widgets.Choice
	for _, n := range days {
		list = append(list, widgets.Choice{Label: strconv.Itoa(n)})
	}
	return widgets.NewSegments(36, slices.Index(days, p.wanted.days), func(i int) {
		p.wanted.days = days[i]
		p.again()
	}, list...).Container
}

// roles are whom the paper names.
func (p *Page) roles() []people.Role {
	if p.wanted.kind == sitterPaper || p.wanted.kind == powerCut || p.wanted.kind == doorSheet {
		return paper.SitterRoles()
	}
	return paper.CardRoles()
}

// isCalled tells whether a person stands on the paper: as ticked, else whoever is
// not private.
func (p *Page) isCalled(one people.Stored) bool {
	if said, there := p.ticked[one.ID]; there {
		return said
	}
	return !one.Private
}

// called are those who stand on the paper.
func (p *Page) called() []people.Stored {
	return slices.DeleteFunc(paper.Callable(p.people, p.roles()), func(one people.Stored) bool { return !p.isCalled(one) })
}

// calls is the choice of who is named as to be called.
func (p *Page) calls() fyne.CanvasObject {
	text := p.w.Text()
	all := paper.Callable(p.people, p.roles())
	rows := widgets.Col(0)
	for _, one := range all {
		detail := ""
		if one.Private {
			detail = text.Say("people.page.private")
		}
		rows.Add(widgets.CheckRow(p.isCalled(one), one.Name, detail, "", func(on bool) {
			p.ticked[one.ID] = on
			p.again()
		}))
	}
	parts := []fyne.CanvasObject{widgets.Line(text.Say("papers.called"), look.NoteBold, look.Soft)}
	if len(all) > 0 {
		parts = append(parts, widgets.Fix(0, min(widgets.HeightFor(rows, sideWidth-2*look.S24), callsHeight), widgets.Scroll(rows)))
	}
	if !slices.ContainsFunc(all, func(one people.Stored) bool { return one.Is(people.Vet) }) {
		parts = append(parts, widgets.Para(text.Say("papers.called.no-vet"), look.Note, look.Ink),
			widgets.Row(0, widgets.Button(widgets.Plain, widgets.Act{Label: text.Say("people.page.add"), Icon: "plus", Do: func() { p.w.Go(place.Route{To: place.People, Page: "new"}) }}), widgets.Fill()))
	}
	return widgets.Col(look.S8, parts...)
}

func (p *Page) sizes() fyne.CanvasObject {
	sizes := []paper.Size{paper.A4, paper.Letter}
	chosen := 0
	if p.wanted.size == paper.Letter {
		chosen = 1
	}
	return widgets.NewSegments(36, chosen, func(i int) {
		p.wanted.size = sizes[i]
		p.again()
	}, widgets.Choice{Label: "A4"}, widgets.Choice{Label: "Letter"}).Container
}

func (p *Page) spoken() fyne.CanvasObject {
	names, chosen := p.languages.Names(), -1
	codes := p.languages.Codes()
	var list []widgets.Choice
	for i, code := range codes {
		if code == p.wanted.language {
			chosen = i
		}
		list = append(list, widgets.Choice{Label: names[code]})
	}
	return widgets.NewSegments(36, chosen, func(i int) {
		p.wanted.language = codes[i]
		p.again()
	}, list...).Container
}

// again shows the new choice and asks for its paper.
func (p *Page) again() {
	p.paper = nil
	p.build()
	p.ask()
}

// sheetWidth is how wide a page is shown.
const sheetWidth = 620

// ask has the paper made off Fyne's goroutine; an answer to an older question
// is dropped.
func (p *Page) ask() {
	if _, ok := p.animal(); !ok && (p.wanted.kind != boxCards || len(p.boxes()) == 0) {
		return
	}
	p.asked++
	asked, w, text := p.asked, p.wanted, p.w.Text()
	w.called = p.called()
	d := desk{p.w.Collection(), p.w.Photos(), p.w.Tables(), p.languages, p.w.Settings().Units, p.version, p.w.Due()}
	var result *made
	width := int(sheetWidth * p.scale())
	p.say(text.Say("papers.making"))
	p.w.Task(text.Say("papers.make"), func(ctx context.Context, progress func(float64)) (err error) {
		result, err = d.make(ctx, w, width, progress)
		return err
	}, func(err error) {
		switch {
		case asked != p.asked:
		case errors.Is(err, context.Canceled):
			p.say(text.Say("papers.stopped"))
		case err != nil:
			p.say(text.Say("papers.failed"))
			p.w.Fault("papers.failed", err)
		case len(result.pages) == 0:
			p.tellNothing()
		default:
			p.paper = result
			p.offer()
			p.show()
		}
	})
}

// scale is how many pixels the screen has to a unit of the window.
func (p *Page) scale() float32 {
	if c := fyne.CurrentApp().Driver().CanvasForObject(p.content); c != nil {
		return max(c.Scale(), 1)
	}
	return 1
}

func (p *Page) say(sentence string) {
	p.preview.Objects = []fyne.CanvasObject{widgets.Middle(widgets.Line(sentence, look.Body, look.Soft))}
	p.preview.Refresh()
}

// tellNothing says why the paper has no page; of an animal that was in no quarantine
// also where its first one is begun.
func (p *Page) tellNothing() {
	switch p.wanted.kind {
	case quarantined:
	case checkSheets, weighSheet, doorSheet:
		p.say(p.w.Text().Say("paper.weigh-sheet.nobody"))
		return
	default:
		p.say(p.nothing())
		return
	}
	text, begin := p.w.Text(), widgets.Act{}
	if chosen, ok := p.animal(); ok && chosen.Status.Here() {
		begin = widgets.Act{Label: text.Say("papers.quarantine.begin"), Do: func() {
			p.w.Go(place.Route{To: place.Newcomers, Subject: chosen.ID.ID, Page: "new"})
		}}
	}
	p.preview.Objects = []fyne.CanvasObject{widgets.EmptyPage(nil, text.Say("papers.quarantine.none"), text.Say("papers.quarantine.none-what"), begin)}
	p.preview.Refresh()
}

// offer puts the acts under the choices; they are off until there is a paper.
func (p *Page) offer() {
	text := p.w.Text()
	save := widgets.Button(widgets.Primary, widgets.Act{Label: text.Say("papers.save"), Do: p.save})
	print := widgets.Button(widgets.Plain, widgets.Act{Label: text.Say("papers.print"), Icon: "print", Do: p.print})
	if p.paper == nil {
		save.Disable()
		print.Disable()
	}
	acts := widgets.Col(look.S8, save, print)
	if hers := p.herPapers(); hers != nil {
		acts.Add(hers)
	}
	p.acts.Objects = []fyne.CanvasObject{acts}
	p.acts.Refresh()
	p.w.ActionsChanged()
}

// show lays the pages under each other.
func (p *Page) show() {
	text := p.w.Text()
	parts := []fyne.CanvasObject{}
	for n, page := range p.paper.pages {
		number := text.Say("papers.page", wording.Gaps{"Page": n + 1, "Total": len(p.paper.pages)})
		parts = append(parts, widgets.Middle(widgets.Line(number, look.Note, look.Soft)), widgets.Middle(sheet(page)))
	}
	p.preview.Objects = []fyne.CanvasObject{widgets.Scroll(widgets.Pad(widgets.Col(look.S12, parts...), look.S24))}
	p.preview.Refresh()
}

// sheet is one page as it is shown.
func sheet(page image.Image) fyne.CanvasObject {
	picture := canvas.NewImageFromImage(page)
	picture.FillMode = canvas.ImageFillContain
	picture.ScaleMode = canvas.ImageScaleSmooth
	b := page.Bounds()
	return widgets.Fix(sheetWidth, sheetWidth*float32(b.Dy())/float32(b.Dx()), widgets.Stack(widgets.NewBox(widgets.Ground{Fill: look.Sheet, Line: look.Hair, Width: 1}), picture))
}

// save asks where to, and writes the file.
func (p *Page) save() {
	if p.paper != nil {
		p.paper.printed().Save(p.w)
	}
}

// print opens the paper with the system's program, which prints it.
func (p *Page) print() {
	if p.paper != nil {
		p.paper.printed().Print(p.w)
	}
}
