package settings

import (
	"context"

	"fyne.io/fyne/v2"

	"coilward/model/wording"
	"coilward/ui/look"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// backupsShown is how many backups the page lists.
const backupsShown = 8

// keeping is the group about where the collection lies and its backups.
func (p *Page) keeping() fyne.CanvasObject {
	text, keeping := p.w.Text(), p.w.Keeping()
	if keeping.Folder() == "" {
		return widgets.Card(look.S24, widgets.Group(text.Say("window.settings.collection"), text.Say("window.settings.sample")))
	}
	folder := widgets.Col(look.S4, widgets.Line(text.Say("window.settings.folder"), look.NoteBold, look.Soft),
		widgets.Line(keeping.Folder(), look.Body, look.Ink).Cuts())
	acts := widgets.Wrap(look.S8,
		widgets.Button(widgets.Plain, widgets.Act{Label: text.Say("window.settings.show"), Icon: "open", Do: func() { p.w.Open(keeping.Folder()) }}),
		widgets.Button(widgets.Plain, widgets.Act{Label: text.Say("window.settings.other"), Icon: "folder", Do: p.w.ChooseCollection}),
		widgets.Button(widgets.Plain, widgets.Act{Label: text.Say("window.settings.backup"), Icon: "plus", Do: p.backUp}))
	parts := append([]fyne.CanvasObject{folder, acts}, p.backups()...)
	return widgets.Card(look.S24, widgets.Group(text.Say("window.settings.collection"), "", parts...))
}

// backups lists the newest backups, each with whether it was read back whole.
func (p *Page) backups() []fyne.CanvasObject {
	text := p.w.Text()
	all, err := p.w.Keeping().Backups()
	if err != nil {
		p.w.Fault("window.fault.read", err)
	}
	if len(all) == 0 {
		return []fyne.CanvasObject{widgets.Para(text.Say("window.settings.nobackup"), look.Body, look.Soft)}
	}
	rows := []fyne.CanvasObject{widgets.Line(text.Say("window.settings.backups"), look.NoteBold, look.Soft)}
	for _, b := range all[:min(len(all), backupsShown)] {
		rows = append(rows, p.backup(b))
	}
	if more := len(all) - backupsShown; more > 0 {
		rows = append(rows, widgets.Line(text.Count("window.settings.more", more), look.Note, look.Soft))
	}
	return []fyne.CanvasObject{widgets.Col(look.S4, rows...)}
}

func (p *Page) backup(b place.Backup) fyne.CanvasObject {
	text := p.w.Text()
	icon, tone, word := "tick", look.Often, text.Say("window.settings.verified")
	if !b.Verified {
		icon, tone, word = "caution", look.Days, text.Say("window.settings.unverified")
	}
	size := text.Say("window.settings.size", wording.Gaps{"Size": text.Decimal((b.Bytes+50_000)/100_000, 1)})
	return widgets.Row(look.S8, widgets.NewIcon(icon, 16, tone), widgets.Grow(widgets.Col(0, widgets.Line(text.Moment(b.At), look.Body, look.Ink).Cuts(), widgets.Line(word, look.Note, tone))),
		widgets.Line(size, look.Note, look.Soft), p.restore(b))
}

// restore is the way back to a backup; one that was never read back is not
// offered.
func (p *Page) restore(b place.Backup) fyne.CanvasObject {
	press := widgets.Button(widgets.Quiet, widgets.Act{Label: p.w.Text().Say("window.settings.restore"), Do: func() { p.w.Restore(b) }})
	if !b.Verified || p.w.ReadOnly() {
		press.Disable()
	}
	return widgets.Fix(0, 32, press)
}

func (p *Page) backUp() {
	text := p.w.Text()
	p.w.Task(text.Say("window.backup.doing"), func(context.Context, func(float64)) error { return p.w.Keeping().Backup() }, func(err error) {
		if err != nil {
			p.w.Fault("window.fault.backup", err)
		}
		p.build()
	})
}
