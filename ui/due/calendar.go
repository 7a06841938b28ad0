package due

import (
	"context"

	"coilward/export/calendar"
	"coilward/export/paper"
	"coilward/model"
	"coilward/model/wording"
)

// saveCalendar asks where to, and writes what is due in the coming weeks as a calendar.
func (p *Page) saveCalendar() {
	text, now := p.window.Text(), p.window.Now()
	entries := calendar.Entries(p.list, calendar.Usual, text)
	if len(entries) == 0 {
		p.window.Tell(p.say("calendar.save"), text.Refusal(&model.Refusal{Field: "calendar", Reason: "calendar.nothing", Answer: model.Mend}))
		return
	}
	p.window.SaveAs(paper.FileName(".ics", p.say("field.calendar"), p.list.Day.String()), func(path string) {
		p.window.Task(p.say("calendar.saving"), func(context.Context, func(float64)) error {
			return calendar.WriteFile(path, entries, now, text)
		}, func(err error) {
			if err != nil {
				p.window.Fault("calendar.not-saved", err)
				return
			}
			p.window.Tell(p.say("calendar.saved"), p.say("calendar.saved-what", wording.Gaps{"File": path, "Weeks": calendar.Usual}))
		})
	})
}
