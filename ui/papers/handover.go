package papers

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"unicode/utf8"

	"fyne.io/fyne/v2"

	"coilward/export/handover"
	"coilward/export/paper"
	"coilward/ui/look"
	"coilward/ui/widgets"
)

// Signing is where the key lies that her papers are signed with.
type Signing struct {
	Key string // path of its file
	// Copies is the folder of backups of a collection's folder.
	Copies func(folder string) string
}

// SignWith says where the key lies; without it no papers are offered.
func (p *Page) SignWith(s Signing) *Page {
	p.signing = s
	return p
}

// herPapers is the way to the signed file for the next keeper; nil where it is not
// offered.
func (p *Page) herPapers() fyne.CanvasObject {
	if p.signing.Key == "" || p.wanted.kind != healthRecord {
		return nil
	}
	return widgets.Button(widgets.Plain, widgets.Act{Label: p.w.Text().Say("handover.make"), Icon: "newcomer", Do: p.hand})
}

// hand makes the papers of the chosen animal. The first time the key is made, or brought
// back from its copy. The sample leaves no trace: its key goes with it.
func (p *Page) hand() {
	folder := p.w.Keeping().Folder()
	if folder == "" {
		k, err := handover.NewKey()
		if err != nil {
			p.w.Fault("handover.failed", err)
			return
		}
		p.saveHers(k)
		return
	}
	k, err := handover.ReadKey(p.signing.Key)
	switch {
	case err == nil:
		p.saveHers(k)
	case !errors.Is(err, fs.ErrNotExist):
		p.w.Fault("handover.failed", err)
	default:
		copies := p.signing.Copies(folder)
		if _, err := os.Stat(filepath.Join(copies, handover.CopyName)); err == nil {
			p.askBack(copies)
			return
		}
		p.askNew(copies)
	}
}

// askNew asks once for the passphrase of the copy, and makes the key.
func (p *Page) askNew(copies string) {
	text := p.w.Text()
	phrase := widgets.NewField("", widgets.FieldOptions{Label: text.Say("handover.passphrase")})
	var leave func()
	make := func(with string) {
		leave()
		var k handover.Key
		p.w.Task(text.Say("handover.key.making"), func(context.Context, func(float64)) (err error) {
			if k, _, err = handover.KeyIn(p.signing.Key); err == nil && with != "" {
				err = handover.WriteCopy(copies, k, with)
			}
			return err
		}, func(err error) {
			if err != nil { // the key may be kept all the same, its copy not
				p.w.Fault("handover.failed", err)
			}
			if !k.IsZero() {
				p.saveHers(k)
			}
		})
	}
	copied := func() {
		if utf8.RuneCountInString(phrase.Text()) < handover.LeastPassphrase {
			phrase.Refuse(text.Say("handover.passphrase.short", map[string]any{"Least": handover.LeastPassphrase}))
			return
		}
		make(phrase.Text())
	}
	phrase.OnEnter = copied
	leave = p.w.ShowSheet(widgets.Sheet{
		Title: text.Say("handover.key.new"), Width: 560,
		Content: widgets.Col(look.S16, widgets.Para(text.Say("handover.key.new.what"), look.Body, look.Ink), phrase.Container),
		Acts:    []widgets.Act{{Label: text.Say("handover.key.copy"), Key: "Enter", Do: copied}, {Label: text.Say("handover.key.without"), Do: func() { make("") }}},
		Cancel:  text.Say("window.cancel"), First: phrase.Focusable(),
	})
}

// askBack asks for the passphrase of the copy that lies among the backups.
func (p *Page) askBack(copies string) {
	text := p.w.Text()
	phrase := widgets.NewField("", widgets.FieldOptions{Label: text.Say("handover.passphrase")})
	var leave func()
	back := func() {
		typed := phrase.Text()
		var k handover.Key
		p.w.Task(text.Say("handover.key.opening"), func(context.Context, func(float64)) (err error) {
			if k, err = handover.ReadCopy(copies, typed); err == nil {
				err = handover.WriteKey(p.signing.Key, k)
			}
			return err
		}, func(err error) {
			switch {
			case errors.Is(err, handover.ErrPassphrase):
				phrase.Refuse(text.Say("handover.passphrase.wrong"))
			case err != nil:
				leave()
				p.w.Fault("handover.failed", err)
			default:
				leave()
				p.saveHers(k)
			}
		})
	}
	phrase.OnEnter = back
	leave = p.w.ShowSheet(widgets.Sheet{
		Title: text.Say("handover.key.back"), Width: 560,
		Content: widgets.Col(look.S16, widgets.Para(text.Say("handover.key.back.what"), look.Body, look.Ink), phrase.Container),
		Acts:    []widgets.Act{{Label: text.Say("handover.key.back.do"), Key: "Enter", Do: back}},
		Cancel:  text.Say("window.cancel"), First: phrase.Focusable(),
	})
}

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
			if err != nil {
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
