package demo

import (
	"context"
	"errors"
	"fmt"
	"image"
	"math"
	"slices"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/body"
	"coilward/model/care"
	"coilward/model/collection"
	"coilward/model/drawing"
	"coilward/model/exam"
	"coilward/model/knowledge"
	"coilward/model/people"
)

// Keep takes a photo in and tells its id.
type Keep func(picture *image.YCbCr) (model.PhotoID, error)

// Photograph draws the photos of the sample collection, which Fill has laid out,
// gives each to keep, and notes them: the portraits first, which lists show, then all
// others. Nobody is asked and undo passes it by. It takes some seconds; progress is
// told how far it is, from 0 to 1. Where it is stopped or keep fails, none of those
// that were not noted yet is.
func Photograph(ctx context.Context, c *collection.Collection, w Words, keep Keep, progress func(float64)) error {
	var shots []shot
	err := c.View(func(v model.View) (err error) {
		shots, err = album(v, w)
		return err
	})
	if err != nil {
		return fmt.Errorf("choose what is photographed: %w", err)
	}
	slices.SortStableFunc(shots, func(a, b shot) int { return rank(a) - rank(b) })
	portraits, _ := slices.BinarySearchFunc(shots, 1, func(s shot, r int) int { return rank(s) - r })
	taken := 0
	for _, roll := range [][]shot{shots[:portraits], shots[portraits:]} {
		for i, s := range roll {
			if err := ctx.Err(); err != nil {
				return err
			}
			if taken%stride == 0 { // a window draws itself anew each time
				progress(float64(taken) / float64(len(shots)))
			}
			b := newBrush(fmt.Sprintf("%s %d", s.of.Name, taken))
			taken++
			s.draw(b)
			if roll[i].photo, err = keep(b.finished()); err != nil {
				return fmt.Errorf("photograph %s: %w", s.of.Name, err)
			}
		}
		if _, err := c.Settle(hang{roll}); err != nil {
			return fmt.Errorf("note the photos of the sample collection: %w", err)
		}
	}
	return nil
}

// stride is of how many photos one tells how far it is.
const stride = 8

// rank is 0 of portraits and 1 of other photos.
func rank(s shot) int {
	if s.portrait {
		return 0
	}
	return 1
}

// shot is one photo of the story.
type shot struct {
	of       animals.Stored
	at       model.Moment
	by       model.PersonID
	pose     knowledge.PoseID
	problem  model.ProblemID
	caption  string
	portrait bool // it stands for the animal in lists
	draw     func(*brush)
	photo    model.PhotoID
}

// hang notes photos at once.
type hang struct{ shots []shot }

// Name is "demo.photos".
func (hang) Name() string { return "demo.photos" }

// Plan makes an entry of each photo, and portraits of those that are.
func (h hang) Plan(v model.View) (model.Writes, error) {
	w, many := model.Writes{}, care.NewMany(v)
	for _, s := range h.shots {
		of, err := animals.Find(v, s.of.ID)
		if errors.Is(err, model.ErrNotFound) {
			continue // its keeper removed it meanwhile
		}
		if err != nil {
			return model.Writes{}, err
		}
		d, err := many.Make(care.New{About: care.About{Animal: of.ID, At: s.at, By: s.by},
			Body: care.Photo{Photos: []model.PhotoID{s.photo}, Caption: s.caption, Pose: s.pose, Problem: s.problem}})
		if err != nil {
			return model.Writes{}, err
		}
		w.Put = append(w.Put, d)
		if s.portrait {
			a := of.Animal
			a.Photos, a.Portrait = append(slices.Clip(a.Photos), s.photo), s.photo
			changed, err := animals.Change{ID: of.ID, Base: of.Revision, Animal: a}.Plan(v)
			if err != nil {
				return model.Writes{}, err
			}
			w.Put = append(w.Put, changed.Put...)
		}
	}
	w.Label = model.Label{Key: "demo.photographed", Gaps: map[string]model.Gap{"Count": model.CountGap(len(h.shots))}}
	return w, nil
}

// The days between two photos of an animal on paper, and how many months back the
// box of the grower is photographed.
const (
	growthEach = 300
	boxMonths  = 12
	grower     = "Linnet"
	// scale and boxScale are how many pixels a millimetre has, on paper and in a box.
	scale    = .82
	boxScale = 1.05
)

// album is what is photographed: every animal as it grew, each head, every finding
// each time that it was seen, and one box once a month.
func album(v model.View, w Words) ([]shot, error) {
	all, err := animals.All(v)
	if err != nil {
		return nil, err
	}
	known, err := people.All(v)
	if err != nil {
		return nil, err
	}
	var shots []shot
	for _, a := range all {
		sitting := sitting{view: v, words: w, of: a, by: known[0].ID, skin: skinOf(a.Animal, a.Name == grower)}
		if sitting.weights, err = care.Series(v, a.ID); err != nil {
			return nil, err
		}
		found, err := sitting.findings()
		if err != nil {
			return nil, err
		}
		shots = append(append(append(shots, sitting.growth()...), sitting.portrait(), sitting.head()), found...)
		if a.Name == grower {
			shots = append(shots, sitting.boxes()...)
		}
	}
	return shots, nil
}

// sitting is one animal before the camera.
type sitting struct {
	view    model.View
	words   Words
	of      animals.Stored
	by      model.PersonID
	skin    skin
	weights []care.Weighed // oldest first
}

// last is the last day on which the animal was here.
func (s sitting) last() model.Day {
	if !s.of.Status.Here() {
		return s.of.StatusDay.Day
	}
	return s.view.Now().Day()
}

// at is a moment of a day, at that hour by the keeper's clock.
func (s sitting) at(day model.Day, hour int) model.Moment {
	m := s.view.Now()
	m.UTC = int64(day)*86400 + int64(hour)*3600 - int64(m.Offset)
	m.Precision = model.ToMinute
	return m
}

func (s sitting) shot(at model.Moment, draw func(*brush)) shot {
	return shot{of: s.of, at: at, by: s.by, draw: draw}
}

// length is how long the animal was on a day, in millimetres with its tail: its
// mass grows as the cube of its length.
func (s sitting) length(day model.Day) float64 {
	mass := func(day model.Day) float64 {
		found := 0.0
		for _, w := range s.weights {
			if found == 0 || w.At.Day() <= day {
				found = float64(w.Mass.Milligrams)
			}
		}
		return found
	}
	measured := float64(s.of.Length.SnoutVent.Tenths) / 10 * 1.1
	return measured * math.Cbrt(mass(day)/mass(s.of.Length.On.Day))
}

// stout is half the greatest thickness against the length.
func (s sitting) stout() float64 {
	if s.of.Species == "antaresia-childreni" {
		return .018
	}
	return .027
}

// growth are photos on paper, from above, with a ruler: the same animal over years.
func (s sitting) growth() []shot {
	var shots []shot
	for day := s.last() - 6; day > s.of.Since.Day+1; day -= growthEach {
		one := s.shot(s.at(day, 11), func(b *brush) {
			b.paper(scale)
			long := s.length(day) * scale
			b.snake(laid{stretched(long), long * s.stout()}, s.skin)
		})
		one.pose = "above"
		shots = append(shots, one)
	}
	return shots
}

// head is the head from above.
func (s sitting) head() shot {
	one := s.shot(s.at(s.last()-6, 12), func(b *brush) { b.face(s.skin, "", body.Place{}) })
	one.pose = "head-above"
	return one
}

// portrait is the animal as it lies, from near: lists show the middle of it, small.
func (s sitting) portrait() shot {
	one := s.shot(s.at(s.last()-6, 13), func(b *brush) {
		b.cloth(s.skin)
		b.snake(laid{coiled(drawing.Point{X: wide / 2, Y: high / 2}, 318, b.between(0, 2*math.Pi)), 2100 * s.stout() * 1.15}, s.skin)
	})
	one.portrait, one.caption = true, s.words.Say("demo.photo.portrait")
	return one
}

// findings are photos of what was found, at each look at which it was there; of an
// animal's own the first alone. What has no place that can be seen has none.
func (s sitting) findings() ([]shot, error) {
	problems, err := exam.Problems(s.view, s.of.ID)
	if err != nil {
		return nil, err
	}
	var shots []shot
	for _, p := range problems {
		for i, g := range p.Glimpses {
			if !g.Standing.Present() || g.Place == (body.Place{}) || g.Place.Part == body.Tail || i > 0 && (p.Baseline || p.What == "scar") {
				continue
			}
			at := g.At
			at.UTC += 120
			one := s.shot(at, func(b *brush) {
				if g.Place.Part == body.Head {
					b.face(s.skin, p.What, g.Place)
				} else {
					b.flank(s.skin, g, p.What)
				}
			})
			one.problem = p.ID
			shots = append(shots, one)
		}
	}
	return shots, nil
}

// boxes are photos of the animal's box, one a month.
func (s sitting) boxes() []shot {
	var shots []shot
	for month := range boxMonths {
		day := s.last() - model.Day(3+30*month)
		if day <= s.of.Since.Day {
			break
		}
		one := s.shot(s.at(day, 19), func(b *brush) {
			b.enclosure(month%4 < 2)
			long := s.length(day) * boxScale
			turned := b.between(0, 2*math.Pi)
			at := drawing.Point{X: b.between(430, 620), Y: b.between(420, 500)}
			b.snake(laid{coiled(at, long*.155, turned), long * s.stout() * 1.25}, s.skin)
		})
		one.caption = s.words.Say("demo.photo.box")
		shots = append(shots, one)
	}
	return shots
}
