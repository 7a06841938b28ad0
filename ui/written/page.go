package written

import (
	"errors"
	"slices"
	"strings"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/collection"
	"coilward/model/label"
	"coilward/model/written"
	"coilward/ui/look"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// Page is the place. It is used on Fyne's goroutine only.
type Page struct {
	window  place.Window
	content *fyne.Container
	code    *widgets.Field
	animals []animals.Stored // that a sheet may be of, by name
	sheet   label.Written    // for which an animal is wanted; zero: none was read
	weigh   *weighing        // the sheet for weighing that is typed in; nil: none is
	going   *going           // the sheet of a round that is typed in; nil: none is
}

var _ place.Place = (*Page)(nil)

// New makes the place; it reads nothing before it is shown.
func New(w place.Window) *Page { return &Page{window: w, content: widgets.Stack()} }

// Content implements place.Place.
func (p *Page) Content() fyne.CanvasObject { return p.content }

// Show implements place.Place. A route's page is the code of a sheet; without one it is asked
// for.
func (p *Page) Show(r place.Route) {
	if r.Page != "" || p.weigh == nil && p.going == nil {
		p.weigh, p.going, p.sheet = nil, nil, label.Written{}
		p.choose()
	}
	if r.Page != "" {
		p.code.Type(r.Page)
		p.read()
	}
}

// Hide implements place.Place.
func (p *Page) Hide() {}

// Changed implements place.Place.
func (p *Page) Changed(collection.Change) {
	if p.weigh != nil {
		p.weigh.bring()
	}
}

func (p *Page) say(key string, g ...map[string]any) string { return p.window.Text().Say(key, g...) }

// choose asks which sheet it is.
func (p *Page) choose() {
	err := p.window.Collection().View(func(v model.View) (err error) {
		p.animals, err = animals.All(v)
		return err
	})
	if err != nil {
		p.window.Fault("written.failed", err)
		return
	}
	slices.SortStableFunc(p.animals, func(a, b animals.Stored) int { return model.Natural(animals.Fold(a.Name), animals.Fold(b.Name)) })
	p.code = widgets.NewField("", widgets.FieldOptions{Label: p.say("written.code"), Hint: p.say("written.code.hint")})
	p.code.OnTyped = func(string) { p.code.Accept() }
	p.code.OnEnter = p.read
	var says []widgets.Choice
	for _, a := range p.animals {
		says = append(says, widgets.Choice{Label: a.Name, Detail: a.Code})
	}
	list := widgets.NewChoiceList(p.say("papers.search"), p.say("papers.search.none"), says)
	list.OnChosen = func(i int) { p.ofAnimal(p.animals[i]) }
	list.Least(200)
	left := widgets.Col(look.S16,
		widgets.Header(p.say("written.title"), ""),
		widgets.Para(p.say("written.how"), look.Body, look.Soft),
		p.code.Container,
		widgets.HLine(),
		widgets.Para(p.say("written.weigh.no-code"), look.Body, look.Soft),
		widgets.Row(look.S8, widgets.Button(widgets.Plain, widgets.Act{Label: p.say("paper.weigh-sheet.kicker"), Icon: "gauge", Do: func() {
			p.toWeigh(label.Written{Kind: label.WeighSheet, Day: p.window.Now().Day()}, false)
		}}), widgets.Fill()),
		widgets.HLine(),
		widgets.Para(p.say("written.none-yet"), look.Body, look.Soft),
		widgets.Row(look.S8, widgets.Button(widgets.Plain, widgets.Act{Label: p.say("written.print"), Icon: "print", Do: func() { p.window.Go(place.Route{To: place.Papers}) }}), widgets.Fill()),
	)
	right := widgets.Col(look.S8, widgets.Line(p.say("written.of"), look.NoteBold, look.Soft), widgets.Grow(list.Container))
	p.content.Objects = []fyne.CanvasObject{widgets.RowFill(0,
		widgets.GrowBy(3, widgets.Scroll(widgets.Pad(left, look.S24))), widgets.VLine(), widgets.GrowBy(2, widgets.Pad(right, look.S24)))}
	p.content.Refresh()
	p.window.Focus(p.code.Focusable())
}

// refuse says at the code why it leads nowhere.
func (p *Page) refuse(reason string, gaps map[string]model.Gap) {
	p.code.Refuse(p.window.Text().Why(&model.Refusal{Field: "code", Value: strings.TrimSpace(p.code.Text()), Reason: reason, Gaps: gaps, Answer: model.Mend}))
	p.window.Focus(p.code.Focusable())
}

// read takes what was typed: the code of a sheet, the card of an animal, or an animal's name
// or code.
func (p *Page) read() {
	typed := strings.TrimSpace(p.code.Text())
	if sheet, ok := label.ParseWritten(typed); ok {
		p.readSheet(sheet)
		return
	}
	number, numbered := label.ParseNumber(typed)
	if numbered && p.readNumber(number) {
		return
	}
	card, isCard := label.Parse(typed)
	var found []animals.Stored
	for _, a := range p.animals {
		id, ofAnimal := card.Animal()
		named := typed != "" && (animals.Fold(a.Name) == animals.Fold(typed) || a.Code != "" && animals.Fold(a.Code) == animals.Fold(typed))
		if isCard && ofAnimal && a.ID == id || named {
			found = append(found, a)
		}
	}
	switch len(found) {
	case 0:
		if numbered {
			p.refuse("written.number", nil)
			return
		}
		p.refuse("written.code", nil)
	case 1:
		p.ofAnimal(found[0])
	default:
		p.refuse("written.code-several", nil)
	}
}

// readSheet goes on with a sheet whose code was read.
func (p *Page) readSheet(sheet label.Written) {
	switch sheet.Kind {
	case label.WeighSheet:
		p.toWeigh(sheet, true)
	case label.CheckSheet:
		if sheet.Of.IsZero() {
			p.sheet = sheet
			p.code.SetText("") // the animal's name or code comes next
			p.refuse("written.code-any", nil)
			return
		}
		for _, a := range p.animals {
			if a.ID.ID == sheet.Of {
				p.toCheck(a, sheet)
				return
			}
		}
		p.refuse("written.code-gone", nil)
	default:
		p.toRound(sheet)
	}
}

// readNumber goes on with a sheet whose number was typed; it reports false where that of a
// check was, which does not tell of whom it is.
func (p *Page) readNumber(number label.Number) bool {
	switch number.Kind {
	case label.RoundSheet:
		var sheet label.Written
		err := p.window.Collection().View(func(v model.View) error {
			sheet = label.Written{Kind: label.RoundSheet, ID: number.ID(v.NewID()), Order: number.Order}
			return nil
		})
		if err != nil {
			p.window.Fault("written.failed", err)
			return true
		}
		p.toRound(sheet)
		return true
	case label.WeighSheet:
		sheet := label.Written{Kind: label.WeighSheet, Order: number.Order}
		err := p.window.Collection().View(func(v model.View) error {
			in, err := written.Listed(v, number.Order, v.Now())
			sheet.Of, sheet.ID = in.ID, number.ID(v.NewID())
			return err
		})
		if err != nil {
			p.window.Fault("written.failed", err)
			return true
		}
		p.toWeigh(sheet, true)
		return true
	}
	return false
}

// ofAnimal types in a sheet of an animal: that whose code was read, or one without a code.
func (p *Page) ofAnimal(a animals.Stored) {
	if p.sheet.ID.IsZero() {
		p.window.Go(place.Route{To: place.Check, Subject: a.ID.ID, Page: place.FromPaper})
		return
	}
	sheet := p.sheet
	sheet.Of = a.ID.ID
	p.toCheck(a, sheet)
}

// toCheck types in the sheet of an animal; where it was typed in already it asks.
func (p *Page) toCheck(a animals.Stored, sheet label.Written) {
	var kept bool
	var at model.Moment
	err := p.window.Collection().View(func(v model.View) (err error) {
		at, kept, err = written.Kept(v, sheet.ID)
		return err
	})
	if err != nil {
		p.window.Fault("written.failed", err)
		return
	}
	if !kept {
		p.window.Go(place.Route{To: place.Check, Subject: a.ID.ID, Page: sheet.Text()})
		return
	}
	var leave func()
	to := func(page string) func() {
		return func() {
			leave()
			p.window.Go(place.Route{To: place.Check, Subject: a.ID.ID, Page: page})
		}
	}
	leave = p.window.ShowSheet(widgets.Sheet{
		Title: p.say("written.twice.title"), Width: 480, Cancel: p.say("window.cancel"),
		Content: widgets.Para(p.say("written.twice", map[string]any{"Name": a.Name, "Number": sheet.Number(), "Day": at.Day()}), look.Body, look.Ink),
		Acts:    []widgets.Act{{Label: p.say("written.twice.open"), Do: to(sheet.ID.String())}, {Label: p.say("written.twice.other"), Do: to(place.FromPaper)}},
	})
}

// toWeigh types in a sheet for weighing; one without a code has the order of today.
func (p *Page) toWeigh(sheet label.Written, coded bool) {
	w := newWeighing(p, sheet, coded)
	var r *model.Refusal
	if err := w.load(); errors.As(err, &r) {
		p.refuse(r.Reason, r.Gaps)
		return
	} else if err != nil {
		p.window.Fault("written.failed", err)
		return
	}
	p.weigh, p.going = w, nil
	w.build()
}

// leave goes back to the choice of a sheet.
func (p *Page) leave() {
	p.weigh, p.going, p.sheet = nil, nil, label.Written{}
	p.choose()
}
