package coil

import (
	"image"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"coilward/model/drawing"
	"coilward/model/pixel"
	"coilward/ui/look"
)

// Coil is an animal's emblem as a square widget.
type Coil struct {
	widget.BaseWidget
	coat    Coat
	name    string
	side    float32
	picture *canvas.Raster
	painted painted
	image   image.Image
}

// painted is what the kept picture shows; it is drawn anew only for another.
type painted struct {
	coat   Coat
	name   string
	pixels int
	dark   bool
}

// New is the emblem of the animal of that name, side pixels wide and high.
func New(coat Coat, name string, side float32) *Coil {
	c := &Coil{coat: coat, name: name, side: side}
	c.ExtendBaseWidget(c)
	return c
}

// Set shows another animal.
func (c *Coil) Set(coat Coat, name string) {
	if c.coat == coat && c.name == name {
		return
	}
	c.coat, c.name = coat, name
	c.Refresh()
}

// CreateRenderer implements fyne.Widget.
func (c *Coil) CreateRenderer() fyne.WidgetRenderer {
	c.picture = canvas.NewRaster(c.paint)
	return widget.NewSimpleRenderer(c.picture)
}

// MinSize implements fyne.CanvasObject.
func (c *Coil) MinSize() fyne.Size { return fyne.NewSquareSize(c.side) }

// Refresh implements fyne.CanvasObject.
func (c *Coil) Refresh() {
	if c.picture != nil {
		c.picture.Refresh()
	}
}

func (c *Coil) paint(width, height int) image.Image {
	wanted := painted{c.coat, c.name, min(width, height), look.Dark()}
	if c.image == nil || wanted != c.painted {
		c.painted, c.image = wanted, Picture(c.coat, c.name, wanted.pixels, wanted.dark)
	}
	return c.image
}

// Picture is the emblem as pixels, transparent round its disc.
func Picture(coat Coat, name string, pixels int, dark bool) image.Image {
	base := drawing.LightPalette()
	if dark {
		base = drawing.DarkPalette()
	}
	picture := image.NewRGBA(image.Rect(0, 0, pixels, pixels))
	half := float64(pixels) / 2
	Draw(pixel.NewPen(picture, coat.colours(base, dark)), drawing.Point{X: half, Y: half}, half, name)
	return picture
}

// Bare is the emblem without its disc, as the animal lies in its box.
func Bare(coat Coat, name string, pixels int, dark bool) image.Image {
	base := drawing.LightPalette()
	if dark {
		base = drawing.DarkPalette()
	}
	picture := image.NewRGBA(image.Rect(0, 0, pixels, pixels))
	half := float64(pixels) / 2
	pen := pixel.NewPen(picture, coat.colours(base, dark))
	s := shape(drawing.Point{X: half, Y: half}, half*.98, name)
	s.trunk(pen)
	s.head(pen)
	return picture
}
