package movein

import (
	"context"
	"errors"
	"strings"

	"coilward/export/table"
	"coilward/model"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// out is the page from which the collection goes out as a spreadsheet.
func (p *Page) out() {
	p.asked++ // what is being read is no longer wanted
	text := p.w.Text()
	acts := []widgets.Act{{Label: text.Say("tables.out.save"), Icon: "folder", Do: p.saveTables}}
	if p.bring != nil {
		acts = append(acts, widgets.Act{Label: text.Say("tables.out.back"), Do: func() { p.w.Go(place.Route{To: place.MoveIn}) }})
	}
	p.say(text.Say("tables.out.title"), text.Say("tables.out.what"), acts[0], acts[1:]...)
}

// saveTables asks for a file and writes the collection into it, off Fyne's
// goroutine.
func (p *Page) saveTables() {
	text, c := p.w.Text(), p.w.Collection()
	p.w.SaveAs(text.Say("tables.out.name")+".xlsx", func(path string) {
		left, unread := 0, 0
		p.w.Task(text.Say("tables.out.saving"), func(ctx context.Context, progress func(float64)) error {
			var laid table.Laid
			err := c.View(func(v model.View) (err error) {
				laid, err = table.Lay(v, p.words, text, func(share float64) error {
					progress(share / 2)
					return ctx.Err()
				})
				return err
			})
			if err != nil {
				return err
			}
			unread = laid.Unread
			for _, n := range laid.Left {
				left += n
			}
			return table.WriteFile(path, laid.Book)
		}, func(err error) {
			switch {
			case errors.Is(err, context.Canceled):
			case err != nil:
				p.w.Fault("tables.out.fault", err)
			default:
				said := []string{path}
				if unread > 0 {
					said = append(said, text.Count("tables.unread", unread))
				}
				if left > 0 {
					said = append(said, text.Count("tables.out.left", left))
				}
				p.w.Tell(text.Say("tables.out.saved"), strings.Join(said, "\n\n"))
			}
		})
	})
}
