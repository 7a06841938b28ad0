// Package settings is the place where a person says how the window should be
// (language, units, colours, size), who writes, which sheet papers are laid out
// for, where the collection lies and is kept safe, and which key papers are signed
// with.
package settings

import (
	"fyne.io/fyne/v2"
	"slices"
	"strings"

	"coilward/model/animals"
	"coilward/model/collection"
	"coilward/model/comparing"
	"coilward/model/holidays"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/place"
	"coilward/ui/signing"
	"coilward/ui/widgets"
)

// Page is the place.
type Page struct {
	w        place.Window
	content  *fyne.Container
	shown    bool
	scrolled *fyne.Container // the page as it stands in sight
	listed   []place.Backup

	holds    map[string]comparing.Side // what backups hold, by their paths, as far as they were counted
	counting bool                      // backups are being counted
	asked    map[string]bool           // paths that were counted, or tried, since the page came in sight
	examined *place.Examined           // what the last check of every file found; nil: there was none
	busy     bool                      // every file is being checked, or mended

	signing *signing.Key // nil: the page tells of no key
}

var _ place.Place = (*Page)(nil)

// New makes the place.
func New(w place.Window) *Page {
	return &Page{w: w, content: widgets.Stack(), holds: map[string]comparing.Side{}}
}

// SignWith says in which file the key lies that papers are signed with.
func (p *Page) SignWith(key string) *Page {
	p.signing = signing.New(p.w, key)
	p.signing.OnChange = p.build
	return p
}

// Content implements place.Place.
func (p *Page) Content() fyne.CanvasObject { return p.content }

// Show implements place.Place.
func (p *Page) Show(place.Route) {
	p.shown, p.scrolled = true, nil
	if !p.counting {
		p.asked = map[string]bool{}
	}
	p.build()
}

// Hide implements place.Place.
func (p *Page) Hide() { p.shown = false }

// Changed implements place.Place: people may have been added.
func (p *Page) Changed(collection.Change) { p.build() }

func (p *Page) build() {
	if !p.shown {
		return
	}
	text := p.w.Text()
	left := widgets.Col(look.S24, p.words(), p.colours(), p.paper())
	if p.signing != nil {
		left.Add(p.signing.Card())
	}
	right := widgets.Col(look.S24, p.who(), p.keeping())
	page := widgets.Col(look.S24, widgets.Header(text.Say("window.settings"), ""),
		widgets.RowTop(look.S24, widgets.Grow(left), widgets.Grow(right)))
	before := p.scrolled
	p.scrolled = widgets.Scroll(widgets.Pad(page, look.S24, look.S24))
	p.content.Objects = []fyne.CanvasObject{p.scrolled}
	p.content.Refresh()
	widgets.Resume(before, p.scrolled)
	p.lookInto()
}

// again builds the page anew after a change that the window does not.
func (p *Page) again(change func(*place.Preferences)) {
	p.w.Change(change)
	p.build()
}

func (p *Page) card(title string, parts ...fyne.CanvasObject) fyne.CanvasObject {
	return widgets.Card(look.S24, widgets.Group(title, "", widgets.Col(look.S16, parts...)))
}

// choice is a setting of few values; chosen is the index of the present one.
func choice[T comparable](present T, values []T, labels []string, pick func(T)) fyne.CanvasObject {
	chosen, choices := -1, make([]widgets.Choice, len(values))
	for i, v := range values {
		if v == present {
			chosen = i
		}
		choices[i] = widgets.Choice{Label: labels[i]}
	}
	return widgets.NewSegments(36, chosen, func(i int) { pick(values[i]) }, choices...).Container
}

func (p *Page) words() fyne.CanvasObject {
	text, now := p.w.Text(), p.w.Settings()
	language := choice(now.Language, []string{"", "en", "de"}, []string{text.Say("window.settings.system"), "English", "Deutsch"},
		func(v string) { p.w.Change(func(s *place.Preferences) { s.Language = v }) })
	mass := choice(now.Units.Imperial, []bool{false, true}, []string{text.Say("window.settings.grams"), text.Say("window.settings.ounces")},
		func(v bool) { p.w.Change(func(s *place.Preferences) { s.Units.Imperial = v }) })
	heat := choice(now.Units.Fahrenheit, []bool{false, true}, []string{"°C", "°F"},
		func(v bool) { p.w.Change(func(s *place.Preferences) { s.Units.Fahrenheit = v }) })
	sound := choice(now.Silent, []bool{false, true}, []string{text.Say("window.settings.sound.on"), text.Say("window.settings.sound.off")},
		func(v bool) { p.again(func(s *place.Preferences) { s.Silent = v }) })
	return p.card(text.Say("window.settings.words"),
		widgets.Setting(text.Say("window.settings.language"), "", language),
		widgets.Setting(text.Say("window.settings.units"), "", mass),
		widgets.Setting(text.Say("window.settings.heat"), "", heat),
		widgets.Setting(text.Say("window.settings.sound"), text.Say("window.settings.sound.when"), sound))
}

func (p *Page) colours() fyne.CanvasObject {
	text, now := p.w.Text(), p.w.Settings()
	shine := choice(now.Shine, []look.Shine{look.System, look.ByDay, look.ByNight},
		[]string{text.Say("window.settings.system"), text.Say("window.shine.light"), text.Say("window.shine.dark")},
		func(v look.Shine) { p.w.Change(func(s *place.Preferences) { s.Shine = v }) })
	scale := choice(now.Scale, []int{0, 90, 100, 110, 125, 150}, []string{text.Say("window.settings.system"), "90 %", "100 %", "110 %", "125 %", "150 %"},
		func(v int) { p.again(func(s *place.Preferences) { s.Scale = v }) })
	return p.card(text.Say("window.settings.look"),
		widgets.Setting(text.Say("window.settings.shine"), "", shine),
		widgets.Setting(text.Say("window.settings.scale"), text.Say("window.settings.scale.when"), widgets.Space(0, 0)), scale)
}

func (p *Page) paper() fyne.CanvasObject {
	text := p.w.Text()
	size := choice(p.w.Settings().Paper, []place.PaperSize{place.A4, place.Letter}, []string{"A4", "Letter"},
		func(v place.PaperSize) { p.again(func(s *place.Preferences) { s.Paper = v }) })
	return p.card(text.Say("window.settings.paper"), widgets.Setting(text.Say("window.settings.sheet"), "", size), p.country())
}

// country is where parcels are sent, for its public holidays.
func (p *Page) country() fyne.CanvasObject {
	text := p.w.Text()
	all := holidays.Countries()
	word := func(c holidays.Country) string { return text.Say("country." + string(c)) }
	slices.SortFunc(all, func(a, b holidays.Country) int { return strings.Compare(animals.Fold(word(a)), animals.Fold(word(b))) })
	var values []string
	var words []widgets.Choice
	for _, c := range all {
		values, words = append(values, string(c)), append(words, widgets.Choice{Label: word(c)})
	}
	pick := particulars.NewPick(p.w, text.Say("window.settings.country"), text.Say("window.settings.no-country"), values, words, string(p.w.Settings().Country))
	pick.OnPicked = func() {
		p.w.Change(func(s *place.Preferences) { s.Country = holidays.Country(pick.Value()) })
	}
	return widgets.Col(look.S4, pick.Container, widgets.Para(text.Say("window.settings.country.when"), look.Note, look.Soft))
}
