package papers

import (
	"context"
	"errors"

	"fyne.io/fyne/v2"

	"coilward/export/handover"
	"coilward/export/paper"
	"coilward/model"
	"coilward/ui/look"
	"coilward/ui/signing"
	"coilward/ui/widgets"
)

// SignWith says in which file the key lies that her papers are signed with; without it no
// papers are offered.
func (p *Page) SignWith(key string) *Page {
	p.signing = signing.New(p.w, key)
	return p
}

// herPapers is the way to the signed file for the next keeper, with what goes along in it and
// what stays; nil where it is not offered.
func (p *Page) herPapers() fyne.CanvasObject {
	if p.signing == nil || p.wanted.kind != healthRecord {
		return nil
	}
	text := p.w.Text()
	return widgets.Col(look.S8, widgets.Button(widgets.Plain, widgets.Act{Label: text.Say("handover.make"), Icon: "newcomer", Do: p.hand}),
		widgets.Para(text.Say("handover.make.what"), look.Note, look.Soft))
}

// hand makes the papers of the chosen animal.
func (p *Page) hand() { p.signing.Need(p.saveHers) }

// saveHers asks where to, and writes the file.
func (p *Page) saveHers(k handover.Key) {
	animal, ok := p.animal()
	if !ok {
		return
	}
	text := p.w.Text()
	from, m := p.w.Collection(), handover.Making{Animal: animal.ID, Tables: p.w.Tables(), Pictures: p.w.Photos().JPEG,
		Text: p.languages.In(p.wanted.language, p.w.Settings().Units), Size: p.wanted.size, Program: p.version, Key: k}
	p.w.SaveAs(paper.FileName(handover.Extension, animal.Name, p.w.Now().Day().String()), func(path string) {
		var made handover.Made
		p.w.Task(text.Say("handover.making"), func(ctx context.Context, progress func(float64)) (err error) {
			made, err = handover.MakeFile(ctx, path, from, m, progress)
			return err
		}, func(err error) {
			var refusal *model.Refusal
			switch {
			case errors.As(err, &refusal):
				p.w.Tell(text.Say("handover.failed"), text.Refusal(refusal))
				return
			case err != nil:
				p.w.Fault("handover.failed", err)
				return
			}
			said := text.Say("handover.made", map[string]any{"Path": path, "Key": k.Public().Fingerprint()})
			if made.Unread > 0 {
				said += " " + text.Say("ctl.papers.unread", map[string]any{"Number": made.Unread})
			}
			p.w.Tell(text.Say("handover.made.title"), said)
		})
	})
}
