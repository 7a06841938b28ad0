package uitest

import (
	"image"
	"image/png"
	"os"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"

	"coilward/ui/look"
	"coilward/ui/widgets"
)

// Look is how a window is shown in a test.
type Look struct {
	Shine  look.Shine
	Width  float32
	Height float32
	Scale  float32
}

// Looks are all in which the program is looked over: light and dark, both sizes,
// plain and at twice the scale. Each of the six stands in the first four.
func Looks() []Look {
	return []Look{
		{look.ByDay, 1280, 800, 1}, {look.ByNight, 1280, 800, 1},
		{look.ByDay, 1600, 900, 1}, {look.ByNight, 1600, 900, 2},
		{look.ByDay, 1280, 800, 2}, {look.ByNight, 1280, 800, 2},
		{look.ByDay, 1600, 900, 2}, {look.ByNight, 1600, 900, 1},
	}
}

// LooksIn are those that a screen is tested in with the texts of a language: all
// in English. The other languages take two, with both of each: longer words show
// in the small window, and day and scale change no width for one language alone.
func LooksIn(language string) []Look {
	all := Looks()
	if language == "en" {
		return all
	}
	return []Look{all[0], all[3]}
}

// Languages are those that every screen is tested in: ours, and the made-up one
// whose texts are longer.
func Languages() []string { return []string{"en", "de", "qps"} }

// App is a test application in that look.
func App(t testing.TB, l Look) fyne.App {
	t.Helper()
	app := test.NewTempApp(t)
	app.Settings().SetTheme(look.NewTheme(l.Shine))
	return app
}

// Dress gives a window the size and scale of a look.
func Dress(w fyne.Window, l Look) {
	if c, ok := w.Canvas().(test.WindowlessCanvas); ok && l.Scale > 0 {
		c.SetScale(l.Scale)
	}
	w.Resize(fyne.NewSize(l.Width, l.Height))
}

// Texts are all texts that are shown, in the order of the tree.
func Texts(o fyne.CanvasObject) []string {
	var found []string
	Walk(o, func(s Seen) bool {
		switch t := s.Object.(type) {
		case *widgets.Text:
			found = append(found, t.Text())
			return true
		case *canvas.Text:
			found = append(found, t.Text)
		}
		return true
	})
	return found
}

// Shows tells whether a text with that in it is shown.
func Shows(o fyne.CanvasObject, part string) bool {
	for _, t := range Texts(o) {
		if strings.Contains(t, part) {
			return true
		}
	}
	return false
}

// Press finds what can be pressed and is called so, or has that text on it.
func Press(t testing.TB, o fyne.CanvasObject, name string) fyne.Tappable {
	t.Helper()
	var found fyne.Tappable
	Walk(o, func(s Seen) bool {
		if p, ok := s.Object.(*widgets.Press); ok && (p.Name() == name || shows(p, name)) {
			found = p
		}
		if row, ok := s.Object.(interface {
			fyne.Tappable
			Name() string
		}); ok && row.Name() == name {
			found = row
		}
		return found == nil
	})
	if found == nil {
		t.Fatalf("nothing to press is called %q; shown are %q", name, Texts(o))
	}
	return found
}

func shows(p *widgets.Press, text string) bool {
	for _, own := range Texts(p) {
		if own == text {
			return true
		}
	}
	return false
}

// Tap presses what is called so.
func Tap(t testing.TB, o fyne.CanvasObject, name string) {
	t.Helper()
	Press(t, o, name).Tapped(&fyne.PointEvent{})
}

// Entries are the things to type in that are shown, in the order of the tree.
func Entries(o fyne.CanvasObject) []fyne.Focusable {
	var found []fyne.Focusable
	Walk(o, func(s Seen) bool {
		if e, ok := s.Object.(interface {
			fyne.Focusable
			SetText(string)
		}); ok {
			found = append(found, e)
		}
		return true
	})
	return found
}

// Key types a key without a letter on a canvas, to what has the keys.
func Key(c fyne.Canvas, name fyne.KeyName) {
	event := &fyne.KeyEvent{Name: name}
	if f := c.Focused(); f != nil {
		f.TypedKey(event)
		return
	}
	if typed := c.OnTypedKey(); typed != nil {
		typed(event)
	}
}

// Type types letters on a canvas, to what has the keys.
func Type(c fyne.Canvas, text string) {
	for _, r := range text {
		if f := c.Focused(); f != nil {
			f.TypedRune(r)
		} else if typed := c.OnTypedRune(); typed != nil {
			typed(r)
		}
	}
}

// Top is what lies on top of a canvas: the uppermost sheet, or the page.
func Top(c fyne.Canvas) fyne.CanvasObject {
	if top := c.Overlays().Top(); top != nil {
		return top
	}
	return c.Content()
}

// Picture is the window as it is shown.
func Picture(w fyne.Window) image.Image { return w.Canvas().Capture() }

// Keep writes a picture of the window to a file, for a person to look at.
func Keep(t testing.TB, w fyne.Window, path string) {
	t.Helper()
	file, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := png.Encode(file, Picture(w)); err != nil {
		t.Fatal(err)
	}
	if err := file.Close(); err != nil {
		t.Fatal(err)
	}
}
