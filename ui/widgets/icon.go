package widgets

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"coilward/ui/look"
)

// Icon is a drawn sign in a tone. Signs whose name ends in "!" are solid and
// have a second tone.
type Icon struct {
	widget.BaseWidget
	name     string
	tone, on look.Tone
	side     float32
}

// NewIcon makes an icon of that many pixels a side. The names are those of
// icons.go; an unknown one is a mistake of the program.
func NewIcon(name string, side float32, tone look.Tone) *Icon {
	return NewSign(name, side, tone, look.Sheet)
}

// NewSign makes a solid sign with its second tone.
func NewSign(name string, side float32, tone, on look.Tone) *Icon {
	i := &Icon{name: name, tone: tone, on: on, side: side}
	i.ExtendBaseWidget(i)
	return i
}

// SetTone changes the tone.
func (i *Icon) SetTone(tone look.Tone) {
	if i.tone != tone {
		i.tone = tone
		i.Refresh()
	}
}

// SetName changes the sign.
func (i *Icon) SetName(name string) {
	if i.name != name {
		i.name = name
		i.Refresh()
	}
}

// resource is the sign as SVG with its colours in it: a themed resource would
// recolour fills and leave strokes black. Pictures are cached by name.
func (i *Icon) resource() fyne.Resource {
	body, ok := solidIcon(i.name)
	if !ok {
		lines, known := lineIcon(i.name)
		if !known {
			panic("widgets: no icon " + i.name)
		}
		body = `<g fill="none" stroke="{c}" stroke-width="1.6" stroke-linecap="round" stroke-linejoin="round">` + lines + `</g>`
	}
	tone, on := hexOf(i.tone), hexOf(i.on)
	body = strings.NewReplacer("{c}", tone, "{o}", on).Replace(body)
	svg := `<svg xmlns="http://www.w3.org/2000/svg" width="24" height="24" viewBox="0 0 24 24">` + body + `</svg>`
	return fyne.NewStaticResource(i.name+tone+on+".svg", []byte(svg))
}

func hexOf(t look.Tone) string {
	c := look.Of(t)
	return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B)
}

// CreateRenderer implements fyne.Widget.
func (i *Icon) CreateRenderer() fyne.WidgetRenderer {
	r := &iconRenderer{i: i, picture: canvas.NewImageFromResource(i.resource())}
	r.picture.FillMode = canvas.ImageFillContain
	return r
}

type iconRenderer struct {
	i       *Icon
	picture *canvas.Image
}

func (r *iconRenderer) Destroy()                     {}
func (r *iconRenderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{r.picture} }
func (r *iconRenderer) MinSize() fyne.Size           { return fyne.NewSquareSize(r.i.side) }

func (r *iconRenderer) Layout(size fyne.Size) {
	r.picture.Resize(fyne.NewSquareSize(r.i.side))
	r.picture.Move(fyne.NewPos(whole((size.Width-r.i.side)/2), whole((size.Height-r.i.side)/2)))
}

func (r *iconRenderer) Refresh() {
	if now := r.i.resource(); now.Name() != r.picture.Resource.Name() {
		r.picture.Resource = now
		r.picture.Refresh()
	}
}

// Disc is an icon on a round ground.
func Disc(name string, side float32, tone, ground look.Tone) *fyne.Container {
	return Fix(side, side, Filled(ground, side/2), Middle(NewIcon(name, whole(side*.56), tone)))
}
