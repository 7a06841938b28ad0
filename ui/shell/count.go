package shell

import (
	"context"
	"log/slog"

	"coilward/model/chances"
	"coilward/model/due"
	"coilward/ui/place"
)

// count is how many things press, as the rail shows it beside the place of what
// is due. It is counted beside Fyne's goroutine.
type count struct {
	cancel  context.CancelFunc // of the counting that goes on; nil: none does
	again   bool               // something has changed since it began
	pressed int
}

func (c *count) leave() {
	if c.cancel != nil {
		c.cancel()
	}
	*c = count{}
}

// Due implements place.Window.
func (s *Shell) Due() *due.Book { return s.book }

// Chances implements place.Window.
func (s *Shell) Chances() *chances.Book { return s.chances }

// countDue counts anew what presses, and once more where something changes
// meanwhile. A window without that place counts nothing.
func (s *Shell) countDue() {
	if s.session == nil || s.rail.items[place.Due] == nil {
		return
	}
	if s.count.cancel != nil {
		s.count.again = true
		return
	}
	ctx, cancel := context.WithCancel(context.Background())
	s.count.cancel, s.count.again = cancel, false
	book, c := s.book, s.session.Collection
	s.o.Begin(func() {
		list, err := book.Bring(ctx, c, nil)
		s.post(func() {
			if ctx.Err() != nil {
				return // another collection is open by now
			}
			cancel()
			s.count.cancel = nil
			if err != nil {
				slog.Error("count what is due", "error", err) // the place itself says it
			} else {
				s.count.pressed = list.Pressing()
				s.rail.badge(place.Due, s.count.pressed)
			}
			if s.count.again {
				s.countDue()
			}
		})
	})
}
