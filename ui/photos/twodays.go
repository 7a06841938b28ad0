package photos

import (
	"bytes"
	"context"
	"image"
	"image/draw"
	"image/jpeg"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/knowledge"
	"coilward/model/photo"
	"coilward/model/wording"
	"coilward/ui/look"
	"coilward/ui/widgets"
)

// twoDays are two photos of one pose side by side, each to be chosen, whole or both
// enlarged at the same spot.
type twoDays struct {
	album *album
	pose  knowledge.PoseID
	at    [2]int // indexes into the photos of the pose
	seen  [2]seen
	near  *spot // where both are enlarged, nil: they are whole
}

// seen is a photo that was read and decoded.
type seen struct {
	id      model.PhotoID
	picture image.Image
}

// spot is a place in a picture, in parts of its width and height.
type spot struct{ x, y float64 }

// enlargement is how many times as large a picture is shown near a spot: at it, a
// picture of a page has about as many pixels as half a window.
const enlargement = 2.5

// newTwoDays lays the newest and the oldest photo of a pose side by side.
func newTwoDays(a *album, pose knowledge.PoseID) *twoDays {
	a.two = &twoDays{album: a, pose: pose, at: [2]int{len(care.InPose(a.photos, pose)) - 1, 0}}
	return a.two
}

func (t *twoDays) leave() {
	t.album.two = nil
	t.album.build()
}

func (t *twoDays) build() {
	p, of := t.album.page, care.InPose(t.album.photos, t.pose)
	if len(of) < 2 {
		t.leave()
		return
	}
	back := widgets.Button(widgets.Plain, widgets.Act{Label: p.say("photos.album", map[string]any{"Animal": t.album.name}), Icon: "left", Do: t.leave})
	var columns []fyne.CanvasObject
	for side := range t.at {
		t.at[side] = min(t.at[side], len(of)-1)
		columns = append(columns, widgets.Grow(t.side(of, side)))
	}
	keys := []fyne.CanvasObject{p.keySaid("photos.key.enlarge", "Enter"), p.keySaid("photos.key.days", "←", "→"), p.keySaid("photos.key.album", "Esc")}
	said := "photos.enlarge-there"
	if t.near != nil {
		keys = []fyne.CanvasObject{p.keySaid("photos.key.days", "←", "→"), p.keySaid("photos.key.whole", "Esc")}
		said = "photos.enlarged"
	}
	p.put(widgets.Pad(widgets.Col(look.S12, widgets.Header(p.say("pose."+string(t.pose)), t.album.name, back), widgets.Grow(widgets.RowFill(look.S32, columns...)),
		widgets.Line(apart(p.window.Text(), of[t.at[0]].At.Day(), of[t.at[1]].At.Day()), look.Note, look.Soft).Centred(),
		widgets.Wrap(look.S12, append(keys, widgets.Fix(0, 20, widgets.MiddleUpright(widgets.Line(p.say(said), look.Note, look.Soft))))...)), look.S24, look.S24, look.S16, look.S24))
}

// manyDays are so many that nobody counts in days any more.
const manyDays = 90

// apart is how much time lies between two days, whichever is the earlier.
func apart(text *wording.Text, a, b model.Day) string {
	from, to := min(a, b), max(a, b)
	if to-from < manyDays {
		return text.Count("photos.apart", int(to-from))
	}
	return text.Say("photos.apart-long", wording.Gaps{"Span": text.Age(model.Date{Day: from, Precision: model.ToDay}, to)})
}

func (t *twoDays) side(of []care.Posed, side int) fyne.CanvasObject {
	p, w := t.album.page, t.album.page.window
	one := of[t.at[side]]
	step := func(icon, key string, by int) fyne.CanvasObject {
		b := widgets.Button(widgets.Plain, widgets.Act{Label: p.say(key), Icon: icon, Do: func() { t.at[side] += by; t.build() }})
		if to := t.at[side] + by; to < 0 || to >= len(of) {
			b.Disable()
		}
		return b
	}
	dated := p.say("photos.dated.by-keeper")
	if one.Body.Dated != care.ByKeeper {
		dated = p.say("photos.dated." + string(one.Body.Dated))
	}
	return widgets.Col(look.S12, widgets.Row(look.S8, step("left", "photos.earlier", 1), widgets.Grow(widgets.Col(0, widgets.Line(w.Text().Day(one.At.Day()), look.BodyBold, look.Ink).Centred().Cuts(),
		widgets.Line(dated, look.Note, look.Soft).Centred().Cuts())), step("right", "photos.later", -1)), widgets.Grow(t.picture(one, side)))
}

// picture shows a photo, and enlarges both where it is pressed; pressed once more,
// both are whole. What was decoded for this side is not decoded again.
func (t *twoDays) picture(one care.Posed, side int) fyne.CanvasObject {
	p, w := t.album.page, t.album.page.window
	frame := newFrame(w.Text().DayShort(one.At.Day()))
	frame.pressed = func(at spot) {
		if t.near = nil; frame.near == nil {
			t.near = &at
		}
		t.build()
	}
	if t.seen[side].id == one.Photo {
		frame.show(t.seen[side].picture, t.near)
		return frame
	}
	var picture image.Image
	w.Task(p.say("photos.opening"), func(context.Context, func(float64)) error {
		raw, err := w.Photos().JPEG(one.Photo, photo.Page)
		if err == nil {
			picture, err = jpeg.Decode(bytes.NewReader(raw))
		}
		return err
	}, func(err error) {
		if p.album != t.album || t.album.two != t {
			return
		}
		if err != nil {
			picture = nil
		}
		t.seen[side] = seen{one.Photo, picture}
		frame.show(picture, t.near)
	})
	return frame
}

// step shows both days earlier or later, each as far as there is a photo; never the
// same photo twice.
func (t *twoDays) step(by int) {
	of, to := care.InPose(t.album.photos, t.pose), t.at
	for side := range to {
		to[side] = min(max(to[side]+by, 0), len(of)-1)
	}
	if to != t.at && to[0] != to[1] {
		t.at = to
		t.build()
	}
}

// typed: Enter enlarges both in their middle, left and right step both, Escape leads
// back by one step.
func (t *twoDays) typed(k *fyne.KeyEvent) {
	switch k.Name {
	case fyne.KeyReturn, fyne.KeyEnter:
		if t.near == nil {
			t.near = &spot{.5, .5}
			t.build()
		}
	case fyne.KeyLeft:
		t.step(1)
	case fyne.KeyRight:
		t.step(-1)
	case fyne.KeyEscape:
		if t.near == nil {
			t.leave()
			return
		}
		t.near = nil
		t.build()
	}
}

// frame is a picture that tells where in it it was pressed.
type frame struct {
	widget.BaseWidget
	name    string
	content *fyne.Container
	picture image.Image // nil: none yet, or it is lost
	near    *spot
	pressed func(spot)
}

var _ fyne.Tappable = (*frame)(nil)

func newFrame(name string) *frame {
	f := &frame{name: name, content: widgets.Stack(widgets.Filled(look.Well, look.RBase))}
	f.ExtendBaseWidget(f)
	return f
}

// Name is what the picture is called, as a person reads it.
func (f *frame) Name() string { return f.name }

// CreateRenderer implements fyne.Widget.
func (f *frame) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(f.content) }

// show puts a picture into the frame, near a spot or whole; nil: it is lost.
func (f *frame) show(picture image.Image, near *spot) {
	f.picture, f.near = picture, near
	if picture == nil {
		f.content.Objects = append(f.content.Objects[:1:1], widgets.Middle(widgets.NewIcon("camera", 24, look.Faint)))
	} else {
		if near != nil {
			picture = around(picture, *near)
		}
		shown := canvas.NewImageFromImage(picture)
		shown.FillMode = canvas.ImageFillContain
		f.content.Objects = append(f.content.Objects[:1:1], shown)
	}
	f.content.Refresh()
}

// Tapped implements fyne.Tappable.
func (f *frame) Tapped(e *fyne.PointEvent) {
	if f.picture == nil {
		return
	}
	size, frame := f.picture.Bounds().Size(), f.Size()
	scale := min(float64(frame.Width)/float64(size.X), float64(frame.Height)/float64(size.Y))
	if scale <= 0 {
		return
	}
	part := func(at, frame float32, side int) float64 {
		shown := float64(side) * scale
		return min(max((float64(at)-(float64(frame)-shown)/2)/shown, 0), 1)
	}
	f.pressed(spot{part(e.Position.X, frame.Width, size.X), part(e.Position.Y, frame.Height, size.Y)})
}

// around is the part of a picture around a spot that is shown enlarged; at the edges
// the spot stands beside its middle.
func around(picture image.Image, at spot) image.Image {
	b := picture.Bounds()
	side := func(whole int, part float64) (from, length int) {
		length = max(int(float64(whole)/enlargement), 1)
		return min(max(int(part*float64(whole))-length/2, 0), whole-length), length
	}
	x, width := side(b.Dx(), at.x)
	y, height := side(b.Dy(), at.y)
	out := image.NewRGBA(image.Rect(0, 0, width, height))
	draw.Draw(out, out.Rect, picture, b.Min.Add(image.Pt(x, y)), draw.Src)
	return out
}
