package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
)

// revealRoom is how much is shown above and below what is brought into sight.
const revealRoom float32 = 12

// Reveal scrolls within an object so that o, which lies in a scroller inside it,
// is in sight whole, or from its top where it is higher than the room.
func Reveal(within, o fyne.CanvasObject) {
	scroll, top, found := scrollerOf(within, o)
	if !found {
		return
	}
	room := scroll.Size().Height
	bottom := top + o.Size().Height + revealRoom
	top -= revealRoom
	y := scroll.Offset.Y
	if bottom > y+room {
		y = bottom - room
	}
	if top < y {
		y = top
	}
	scroll.Offset.Y = max(0, min(y, scroll.Content.MinSize().Height-room))
	scroll.Refresh()
}

// Resume scrolls what was built anew to where it stood before; both are made by
// Scroll, and before may be nil.
func Resume(before, now *fyne.Container) {
	if before == nil || now == nil {
		return
	}
	from, to := before.Objects[0].(*container.Scroll), now.Objects[0].(*container.Scroll)
	to.Offset.Y = max(0, min(from.Offset.Y, to.Content.MinSize().Height-to.Size().Height))
	to.Refresh()
}

// Turn scrolls what Scroll made by a page, down or up, of which the last lines stay in sight.
func Turn(scroller *fyne.Container, down bool) {
	if scroller == nil {
		return
	}
	scroll := scroller.Objects[0].(*container.Scroll)
	by := max(scroll.Size().Height-4*revealRoom, revealRoom)
	if !down {
		by = -by
	}
	scroll.ScrollToOffset(fyne.NewPos(scroll.Offset.X, max(0, min(scroll.Offset.Y+by, scroll.Content.MinSize().Height-scroll.Size().Height))))
}

// reached brings what the keys came to into sight in every scroller around it, where its
// middle is out of sight.
func reached(o fyne.CanvasObject) {
	if app := fyne.CurrentApp(); app != nil {
		if c := app.Driver().CanvasForObject(o); c != nil && c.Content() != nil {
			bring(c.Content(), o)
		}
	}
}

// bring is how reached does it within an object; it tells where o lies in that, and
// whether it lies in it at all.
func bring(within, o fyne.CanvasObject) (fyne.Position, bool) {
	if within == o {
		return fyne.Position{}, true
	}
	switch c := within.(type) {
	case *fyne.Container:
		for _, child := range c.Objects {
			if at, found := bring(child, o); found {
				return at.Add(child.Position()), true
			}
		}
	case *container.Scroll:
		at, found := bring(c.Content, o)
		if !found {
			return at, false
		}
		room, size := c.Size(), o.Size()
		to := fyne.NewPos(broughtTo(at.X, size.Width, c.Offset.X, room.Width, c.Content.Size().Width),
			broughtTo(at.Y, size.Height, c.Offset.Y, room.Height, c.Content.Size().Height))
		c.ScrollToOffset(to)
		return at.Subtract(c.Offset), true
	}
	return fyne.Position{}, false
}

// broughtTo is the offset of a scroller with that room for what lies at, in one direction:
// the one that it has where the middle of that is in sight.
func broughtTo(at, length, offset, room, content float32) float32 {
	if middle := at + length/2; middle >= offset && middle <= offset+room {
		return offset
	}
	to := offset
	if end := at + length + revealRoom; end > to+room {
		to = end - room
	}
	return max(0, min(to, at-revealRoom, content-room))
}

// scrollerOf is the innermost scroller around o and how far below the top of its
// content o lies.
func scrollerOf(within, o fyne.CanvasObject) (*container.Scroll, float32, bool) {
	if scroll, is := within.(*container.Scroll); is {
		if inner, top, found := scrollerOf(scroll.Content, o); found {
			return inner, top, true
		}
		top, found := below(scroll.Content, o)
		return scroll, top, found
	}
	if c, is := within.(*fyne.Container); is {
		for _, child := range c.Objects {
			if scroll, top, found := scrollerOf(child, o); found {
				return scroll, top, true
			}
		}
	}
	return nil, 0, false
}

// below is how far o lies below the top of within.
func below(within, o fyne.CanvasObject) (float32, bool) {
	if within == o {
		return 0, true
	}
	if c, is := within.(*fyne.Container); is {
		for _, child := range c.Objects {
			if y, found := below(child, o); found {
				return y + child.Position().Y, true
			}
		}
	}
	return 0, false
}
