package demo

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"image"
	"reflect"
	"slices"
	"testing"
	"time"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/body"
	"coilward/model/care"
	"coilward/model/exam"
	"coilward/model/knowledge"
)

// taken are the shots of a sample collection, which can be seen and changed.
func taken(t *testing.T, now time.Time) ([]shot, func(func(model.View) error), func(model.Command) error) {
	t.Helper()
	c, _ := filled(t, now)
	var shots []shot
	view := func(see func(model.View) error) {
		t.Helper()
		if err := c.View(see); err != nil {
			t.Fatal(err)
		}
	}
	view(func(v model.View) (err error) {
		shots, err = album(v, words(t))
		return err
	})
	return shots, view, func(command model.Command) error {
		_, err := c.Do(command)
		return err
	}
}

// Everyone has a portrait and grew over years; each finding that is open and can be
// seen is photographed; a box is once a month; nothing lies in the future.
func TestWhatIsPhotographed(t *testing.T) {
	ofBox := words(t).Say("demo.photo.box")
	for _, now := range []time.Time{time.Date(2027, 3, 3, 9, 0, 0, 0, time.UTC), time.Date(2026, 11, 28, 0, 10, 0, 0, time.UTC)} {
		shots, view, do := taken(t, now)
		for i := range shots {
			sum := sha256.Sum256([]byte{byte(i), 1})
			shots[i].photo = model.PhotoID(hex.EncodeToString(sum[:]))
		}
		if err := do(hang{shots}); err != nil {
			t.Fatal(err)
		}
		view(func(v model.View) error {
			all, err := animals.All(v)
			if err != nil {
				return err
			}
			boxes := 0
			for _, a := range all {
				if a.Portrait == "" || !slices.Contains(a.Photos, a.Portrait) {
					t.Errorf("%s has no portrait", a.Name)
				}
				poses, shown := map[knowledge.PoseID]int{}, map[model.ProblemID]bool{}
				err := v.Timeline(a.ID.Subject(), model.Beginning, model.EndOfTime, func(d model.Document) bool {
					p, err := care.DecodePhoto(d)
					if err != nil {
						return true
					}
					if d.At.UTC > now.Unix() {
						t.Errorf("%s: a photo of %s", a.Name, d.At.Day())
					}
					poses[p.Pose]++
					shown[p.Problem] = true
					if p.Caption == ofBox {
						boxes++
					}
					return true
				})
				if err != nil {
					return err
				}
				if years := int(now.Unix()/86400-int64(a.Since.Day)) / 365; poses["above"] < years || poses["head-above"] != 1 {
					t.Errorf("%s, here for %d years: poses %v", a.Name, years, poses)
				}
				problems, err := exam.Problems(v, a.ID)
				if err != nil {
					return err
				}
				for _, p := range problems {
					seen := p.Open() && p.Last().Place != (body.Place{}) && p.Last().Place.Part != body.Tail
					if seen && !shown[p.ID] {
						t.Errorf("%s: %s is open and was not photographed", a.Name, p.What)
					}
				}
			}
			if boxes != boxMonths {
				t.Errorf("%d photos of a box", boxes)
			}
			return nil
		})
	}
}

func drawn(t *testing.T, name string, draw func(*brush)) *image.YCbCr {
	t.Helper()
	b := newBrush(name)
	draw(b)
	picture := b.finished()
	if picture.Bounds() != image.Rect(0, 0, wide, high) {
		t.Errorf("%s is %v large", name, picture.Bounds())
	}
	return picture
}

// The same picture is the same each time, and another animal's or day's has others.
func TestAPhotoIsTheSameEachTime(t *testing.T) {
	shots, _, _ := taken(t, time.Date(2027, 3, 3, 9, 0, 0, 0, time.UTC))
	again, _, _ := taken(t, time.Date(2027, 3, 3, 9, 0, 0, 0, time.UTC))
	files := map[string]bool{}
	for i := 0; i < len(shots); i += 9 {
		first, second := drawn(t, "one", shots[i].draw), drawn(t, "one", again[i].draw)
		if !reflect.DeepEqual(first, second) {
			t.Errorf("photo %d of %s differs", i, shots[i].of.Name)
		}
		files[string(first.Y)] = true
	}
	if want := (len(shots) + 8) / 9; len(files) != want {
		t.Errorf("%d different photos of %d", len(files), want)
	}
}

// changed is how many pixels of a box differ between two pictures by more than what
// grain and JPEG do, and how many outside of it.
func changed(a, b image.Image, within image.Rectangle) (inside, outside int) {
	for y := range high {
		for x := range wide {
			r, g, _, _ := a.At(x, y).RGBA()
			s, h, _, _ := b.At(x, y).RGBA()
			if max(r, s)-min(r, s)+max(g, h)-min(g, h) < 50<<8 {
				continue
			}
			if image.Pt(x, y).In(within) {
				inside++
			} else {
				outside++
			}
		}
	}
	return inside, outside
}

// A finding is seen where it is: what it changes of the picture lies there alone.
func TestAFindingIsSeenWhereItIs(t *testing.T) {
	s := skinOf(animals.Animal{Coat: animals.Coat{Ground: 2, Markings: 2}}, false)
	for _, c := range []struct {
		what   knowledge.FindingID
		place  body.Place
		within image.Rectangle
	}{
		{"sore", body.OnTrunk(3100, -70), image.Rect(400, 150, 560, 340)},
		{"sore", body.OnTrunk(3100, 70), image.Rect(400, 340, 560, 530)},
		{"stuck-shed", body.OnTrunk(3700, 62), image.Rect(340, 340, 620, 560)},
		{"lump", body.OnTrunk(7400, 172), image.Rect(380, 240, 580, 440)},
		{"scar", body.OnTrunk(5800, 0), image.Rect(340, 240, 620, 440)},
	} {
		glimpse := exam.Glimpse{Place: c.place, Grade: exam.Marked, Size: model.Length{Tenths: 90}}
		with := drawn(t, "flank", func(b *brush) { b.flank(s, glimpse, c.what) })
		without := drawn(t, "flank", func(b *brush) { b.flank(s, exam.Glimpse{Place: c.place}, "") })
		if inside, outside := changed(with, without, c.within); inside < 300 || outside > inside/10 {
			t.Errorf("%s at %d°: %d pixels differ there, %d elsewhere", c.what, c.place.Angle, inside, outside)
		}
	}
	for _, c := range []struct {
		what   knowledge.FindingID
		region body.RegionID
		within image.Rectangle
	}{
		{"stuck-eye-cap", body.EyeLeft, image.Rect(400, 170, 560, 300)},
		{"stuck-eye-cap", body.EyeRight, image.Rect(400, 380, 560, 510)},
		{"nose-rub", body.Snout, image.Rect(540, 280, 660, 400)},
		{"nostril-discharge", body.NostrilRight, image.Rect(530, 330, 650, 420)},
	} {
		with := drawn(t, "face", func(b *brush) { b.face(s, c.what, in(c.region)) })
		without := drawn(t, "face", func(b *brush) { b.face(s, "", body.Place{}) })
		if inside, outside := changed(with, without, c.within); inside < 100 || outside > inside/10 {
			t.Errorf("%s at %s: %d pixels differ there, %d elsewhere", c.what, c.region, inside, outside)
		}
	}
}

// Where a photo cannot be kept, nothing is noted.
func TestNoPhotoIsNotedThatIsNotKept(t *testing.T) {
	c, _ := filled(t, time.Date(2027, 3, 3, 9, 0, 0, 0, time.UTC))
	full := errors.New("the disk is full")
	kept := 0
	err := Photograph(t.Context(), c, words(t), func(*image.YCbCr) (model.PhotoID, error) {
		if kept++; kept > 2 {
			return "", full
		}
		return "00", nil
	}, func(float64) {})
	if !errors.Is(err, full) {
		t.Errorf("photographing says %v", err)
	}
	err = c.View(func(v model.View) error {
		all, err := animals.All(v)
		for _, a := range all {
			if a.Portrait != "" {
				t.Errorf("%s has a portrait", a.Name)
			}
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}
