package particulars

import (
	"errors"
	"fmt"
	"strings"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/photo"
	"coilward/ui/place"
)

// Typed is a date as it may be typed again; empty where it is not known.
func Typed(w place.Window, d model.Date) string {
	if d.IsZero() {
		return ""
	}
	return w.Text().Date(d)
}

// ReadDate reads a typed date, which may be a day, a month or a year; empty is
// not known. A refusal names the field.
func ReadDate(w place.Window, field, typed string) (model.Date, error) {
	return readDate(w, field, typed, w.Text().ParseDate)
}

// ReadDateInFull reads one as ReadDate does, that may lie behind or ahead, such as a
// best-before day: without its year it is asked for.
func ReadDateInFull(w place.Window, field, typed string) (model.Date, error) {
	return readDate(w, field, typed, w.Text().ParseDateInFull)
}

func readDate(w place.Window, field, typed string, parse func(string, model.Day) (model.Date, error)) (model.Date, error) {
	if strings.TrimSpace(typed) == "" {
		return model.Date{}, nil
	}
	d, err := parse(typed, w.Now().Day())
	return d, At(field, err)
}

// At is the error with a refusal put at a field of another name.
func At(field string, err error) error {
	var r *model.Refusal
	if errors.As(err, &r) {
		moved := *r
		moved.Field = field
		return &moved
	}
	return err
}

// Thumbs keeps small pictures that were read once.
type Thumbs map[model.PhotoID]fyne.Resource

// Of is the small picture of a photo; nil where there is none, or it cannot be
// read: a lost picture must not hide the animal.
func (t Thumbs) Of(w place.Window, id model.PhotoID, longest int) fyne.Resource {
	if id == "" || w.Photos() == nil {
		return nil
	}
	if r, there := t[id]; there {
		return r
	}
	var r fyne.Resource
	if jpeg, err := w.Photos().JPEG(id, longest); err == nil {
		r = fyne.NewStaticResource(fmt.Sprintf("%s-%d.jpg", id, longest), jpeg)
	}
	t[id] = r
	return r
}

// Small is the longest side of a picture in a list, in pixels.
const Small = photo.Thumbnail
