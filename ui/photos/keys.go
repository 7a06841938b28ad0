package photos

import (
	"slices"
	"strconv"

	"fyne.io/fyne/v2"

	"coilward/model/photo"
	"coilward/ui/look"
	"coilward/ui/widgets"
)

// TypedKey implements place.Keys: up and down go through the series, left and right
// through the pictures of one.
func (p *Page) TypedKey(k *fyne.KeyEvent) {
	if p.album != nil {
		if p.album.two != nil {
			p.album.two.typed(k)
		}
		return
	}
	if p.sorted == nil || len(p.items) == 0 {
		return
	}
	switch k.Name {
	case fyne.KeyUp, fyne.KeyDown, fyne.KeyPageUp, fyne.KeyPageDown:
		p.window.Focus(p.list)
		p.list.TypedKey(k)
	case fyne.KeyLeft:
		p.step(-1)
	case fyne.KeyRight:
		p.step(1)
	case fyne.KeyReturn, fyne.KeyEnter:
		p.enter()
	case fyne.KeyDelete:
		p.putOff()
	}
}

// TypedRune implements place.Keys: a figure is a pose.
func (p *Page) TypedRune(r rune) {
	if n := int(r - '1'); p.album == nil && p.few != nil && n >= 0 && n < 9 {
		p.few.Choose(n)
	}
}

// step goes to the picture before or after the one in sight; the list keeps the keys,
// so that up and down go on through the series.
func (p *Page) step(by int) {
	shots := p.shots()
	at := slices.IndexFunc(shots, func(s photo.Shot) bool { return s.ID == p.shot.ID }) + by
	if at < 0 || at >= len(shots) {
		return
	}
	p.pick(shots[at])
	p.grid.SetCurrent(at)
}

// enter does what the series in sight waits for: whose it is, or to be kept; what
// was left out waits again.
func (p *Page) enter() {
	g, series := p.group()
	switch {
	case p.window.ReadOnly() || p.busy:
	case series && g.animal.ID.IsZero():
		p.chooseAnimal()
	case series:
		p.keepSeries()
	case p.chosen == leftOut && p.shot.ID != "":
		p.bringBack(p.shot)
	}
}

// putOff leaves out the picture in sight, or the files that cannot be read.
func (p *Page) putOff() {
	_, series := p.group()
	switch {
	case p.window.ReadOnly() || p.busy:
	case series && p.shot.ID != "":
		p.leave(p.shot)
	case p.chosen == badOnes:
		p.putAway()
	}
}

// keySaid are keys and what they do.
func (p *Page) keySaid(words string, caps ...string) fyne.CanvasObject {
	var all []fyne.CanvasObject
	for _, c := range caps {
		all = append(all, widgets.KeyCap(c))
	}
	return widgets.Row(look.S4, append(all, widgets.Line(p.say(words), look.Note, look.Soft))...)
}

// keysSaid are the keys of the series in sight.
func (p *Page) keysSaid() fyne.CanvasObject {
	enter := "photos.key.keep"
	if g, _ := p.group(); g.animal.ID.IsZero() {
		enter = "photos.choose-animal"
	}
	return widgets.Wrap(look.S12, p.keySaid("photos.key.series", "↑", "↓"), p.keySaid("photos.key.pictures", "←", "→"),
		p.keySaid("photos.key.pose", "1–"+strconv.Itoa(len(p.window.Tables().Poses()))), p.keySaid(enter, "Enter"), p.keySaid("photos.key.leave", p.say("photos.cap.delete")))
}
