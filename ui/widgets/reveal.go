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
