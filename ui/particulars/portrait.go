package particulars

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"coilward/model/animals"
	"coilward/ui/widgets/coil"
)

// Portrait is an animal's photo, or its coil while there is none.
type Portrait struct {
	widget.BaseWidget
	side   float32
	radius float32 // of a photo's corners
	coil   *coil.Coil
	photo  *canvas.Image
}

// NewPortrait is an empty portrait of side × side pixels; a photo has corners of
// that radius.
func NewPortrait(side, radius float32) *Portrait {
	p := &Portrait{side: side, radius: radius, coil: coil.New(coil.Coat{}, "", side), photo: &canvas.Image{FillMode: canvas.ImageFillCover}}
	p.photo.Hide()
	p.ExtendBaseWidget(p)
	return p
}

// Set shows an animal; photo is nil where there is none.
func (p *Portrait) Set(name string, coat animals.Coat, photo fyne.Resource) {
	if photo == nil {
		p.photo.Hide()
		p.coil.Show()
		p.coil.Set(coil.Coat{Ground: coat.Ground, Markings: coat.Markings}, name)
		return
	}
	p.coil.Hide()
	p.photo.Show()
	if p.photo.Resource == nil || p.photo.Resource.Name() != photo.Name() {
		p.photo.Resource, p.photo.CornerRadius = photo, p.radius
		p.photo.Refresh()
	}
}

// MinSize implements fyne.CanvasObject.
func (p *Portrait) MinSize() fyne.Size { return fyne.NewSquareSize(p.side) }

// CreateRenderer implements fyne.Widget.
func (p *Portrait) CreateRenderer() fyne.WidgetRenderer {
	return widget.NewSimpleRenderer(container.NewStack(p.coil, p.photo))
}
