package paper

import (
	"image/color"

	"coilward/model/drawing"
)

// Sign is a small mark that works without colour.
type Sign uint8

// The signs.
const (
	NoSign    Sign = iota
	Seen           // half-filled square: seen
	Felt           // filled square: felt
	NotLooked      // empty square, crossed through
	LeftToVet      // empty square with an upright cross: left to the vet
	Tick           //
	Ring           // open circle
	Dot            // filled circle
	Diamond        // filled diamond: a finding since gone
	HollowDia      // hollow diamond: not known
	Triangle       // filled triangle: today
	Unmet          // cross: not met
	Untold         // question mark: cannot be told yet
	Watched        // tick on a line: met, and to be watched
)

// words is the sign in the text form of a tree.
func (s Sign) words() string {
	return [...]string{"", "[half] ", "[full] ", "[crossed] ", "[vet] ", "[tick] ", "[ring] ", "[dot] ", "[diamond] ", "[hollow] ", "[triangle] ", "[cross] ", "[question] ", "[tick on a line] "}[s]
}

// drawSign draws a sign of half-size r around x, y.
func drawSign(c Canvas, s Sign, x, y, r float64, tone color.NRGBA) {
	w := max(.22, r*.2)
	q := r * .86
	line, fill := Paint{Stroke: tone, Width: w}, Paint{Fill: tone}
	square := Box{x - q, y - q, x + q, y + q}.Path()
	diamond := polygon(x, y-r, x+r, y, x, y+r, x-r, y)
	draw := func(p drawing.Path, paint Paint) { c.Path(p, paint) }
	switch s {
	case Seen:
		draw(Box{x - q, y, x + q, y + q}.Path(), fill)
		draw(square, line)
	case Felt:
		draw(square, Paint{Fill: tone, Stroke: tone, Width: w})
	case NotLooked:
		draw(segment(x-q, y+q, x+q, y-q), line)
		draw(square, line)
	case LeftToVet:
		draw(segment(x-q*.6, y, x+q*.6, y), line)
		draw(segment(x, y-q*.6, x, y+q*.6), line)
		draw(square, line)
	case Tick:
		draw(polyline(x-r*.8, y, x-r*.2, y+r*.65, x+r*.9, y-r*.7), Paint{Stroke: tone, Width: r * .36})
	case Unmet:
		for _, arm := range []drawing.Path{segment(x-r*.75, y-r*.75, x+r*.75, y+r*.75), segment(x-r*.75, y+r*.75, x+r*.75, y-r*.75)} {
			draw(arm, Paint{Stroke: tone, Width: r * .3})
		}
	case Watched:
		draw(polyline(x-r*.8, y-r*.3, x-r*.2, y+r*.3, x+r*.9, y-r), Paint{Stroke: tone, Width: r * .36})
		draw(segment(x-r*.95, y+r*.9, x+r*.95, y+r*.9), Paint{Stroke: tone, Width: r * .3})
	case Untold:
		draw(polyline(x-r*.55, y-r*.5, x-r*.3, y-r*.92, x+r*.3, y-r*.92, x+r*.55, y-r*.5, x+r*.42, y-r*.12, x, y+r*.16, x, y+r*.42), Paint{Stroke: tone, Width: r * .3})
		draw(circle(x, y+r*.82, r*.2), fill)
	case Ring:
		draw(circle(x, y, q), Paint{Fill: White, Stroke: tone, Width: w * 1.2})
	case Dot:
		draw(circle(x, y, q), fill)
	case Diamond:
		draw(diamond, fill)
	case HollowDia:
		draw(diamond, Paint{Fill: White, Stroke: tone, Width: w * 1.2})
	case Triangle:
		draw(polygon(x, y-r, x+r, y+r*.8, x-r, y+r*.8), fill)
	}
}
