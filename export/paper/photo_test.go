package paper

import (
	"bytes"
	"errors"
	"image"
	"image/jpeg"
	"slices"
	"testing"

	"coilward/assets"
	"coilward/model"
	"coilward/model/knowledge"
)

// picturesOf are photos of w × h pixels, made smaller where asked for.
func picturesOf(t testing.TB, w, h int) Pictures {
	t.Helper()
	return func(id model.PhotoID, longest int) ([]byte, error) {
		switch id {
		case "gone":
			return nil, errors.New("no such photo")
		case "fake":
			return []byte("not a photo"), nil
		}
		k := min(float64(longest)/float64(max(w, h)), 1)
		var b bytes.Buffer
		err := jpeg.Encode(&b, image.NewGray(image.Rect(0, 0, int(k*float64(w)), int(k*float64(h)))), nil)
		return b.Bytes(), err
	}
}

func TestNoTwoPhotosHaveTheSameWidth(t *testing.T) {
	for _, size := range [][2]int{{1400, 900}, {300, 1400}, {40, 30}} {
		room := darkroom{picturesOf(t, size[0], size[1]), map[int]bool{}}
		widths := map[int]bool{}
		for range 6 {
			p, err := room.print("photo", photoSide)
			if err != nil {
				t.Fatal(err)
			}
			shown, err := jpeg.DecodeConfig(bytes.NewReader(p.JPEG))
			if err != nil || shown.Width != p.Width || shown.Height != p.Height || p.Width > photoSide {
				t.Errorf("photo of %d × %d says %d × %d (%v)", shown.Width, shown.Height, p.Width, p.Height, err)
			}
			if widths[p.Width] {
				t.Errorf("two photos are %d pixels wide", p.Width)
			}
			widths[p.Width] = true
		}
	}
}

func TestPhotosThatCannotBeReadAreCounted(t *testing.T) {
	g := Gathered{with: Gathering{Pictures: picturesOf(t, 30, 20), Tables: &knowledge.Tables{}}, photos: []Photo{{ID: "gone"}, {ID: "fake"}, {ID: "photo"}}}
	g.facts.Animal.Portrait = "fake"
	f := g.Facts()
	if f.Unread != 3 || len(f.Photos) != 1 || f.AllPhotos != 3 {
		t.Errorf("%d unread, %d printed of %d; want 3, 1 of 3", f.Unread, len(f.Photos), f.AllPhotos)
	}
}

// Of each standard pose the newest is printed, in the order of the table, and behind them
// the newest others.
func TestThePhotosThatArePrinted(t *testing.T) {
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	g := Gathered{with: Gathering{Tables: tables}}
	for day, pose := range []knowledge.PoseID{"", "vent", "above", "vent", "", "above", "", "", "", "head-left"} {
		g.photos = append(g.photos, Photo{Pose: pose, Day: model.Day(day)})
	}
	var days []model.Day
	for _, p := range g.chosen() {
		days = append(days, p.Day)
	}
	if want := []model.Day{5, 9, 3, 4, 6, 7, 8}; !slices.Equal(days, want) {
		t.Errorf("those of the days %v are printed, want %v", days, want)
	}
}
