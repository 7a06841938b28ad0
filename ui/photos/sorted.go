package photos

import (
	"context"
	"errors"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/exam"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/photo"
	"coilward/ui/place"
)

// sorted is what waits in the inbox, and whose it is.
type sorted struct {
	listing photo.Listing
	groups  []group
	names   map[model.AnimalID]string
	all     []animals.Stored
	house   *husbandry.House
}

// group is one series with whose it is.
type group struct {
	photo.Series
	whose  photo.Whose
	among  []model.AnimalID
	animal model.AnimalID // zero: nobody knows yet
}

// Known implements photo.Household.
func (s *sorted) Known(id model.AnimalID) bool { return s.names[id] != "" }

// Living implements photo.Household.
func (s *sorted) Living(id model.PlaceID, at model.Moment) ([]model.AnimalID, bool) {
	_, there := s.house.Place(id)
	return s.house.Living(id, at), there
}

// lookInto reads the collection and the inbox. It runs off Fyne's goroutine.
func lookInto(ctx context.Context, w place.Window, b *photo.Inbox, from, now model.Moment, progress func(float64)) (*sorted, error) {
	s := &sorted{names: map[model.AnimalID]string{}}
	var kept map[model.PhotoID]bool
	err := w.Collection().View(func(v model.View) (err error) {
		if kept, err = photo.In(v); err != nil {
			return err
		}
		if s.all, err = animals.All(v); err != nil {
			return err
		}
		s.house, err = husbandry.ReadHouse(v)
		return err
	})
	if err != nil {
		return nil, err
	}
	for _, a := range s.all {
		s.names[a.ID] = a.Name
	}
	s.listing, err = b.Look(ctx, from, now, kept, progress)
	return s, err
}

// part puts what waits into series; own is whose the keeper said that a shot is, said
// when it was taken.
func (s *sorted) part(own map[model.PhotoID]model.AnimalID, said func(photo.Shot) (model.Moment, bool)) {
	s.groups = nil
	for _, series := range s.listing.Series() {
		if at, ok := said(series.Shots[0]); ok { // who lived in the box then
			series.At = at
		}
		g := group{Series: series}
		g.whose, g.among = series.Of(s)
		if g.whose == photo.One {
			g.animal = g.among[0]
		}
		if said, ok := own[series.Shots[0].ID]; ok && s.Known(said) {
			g.animal = said
		}
		s.groups = append(s.groups, g)
	}
}

// entries are shots as they are to be noted.
func (g group) entries(shots []photo.Shot, poses map[model.PhotoID]knowledge.PoseID, said func(photo.Shot) (model.Moment, bool), problem model.ProblemID) []care.Shot {
	var all []care.Shot
	for _, s := range shots {
		at, dated := s.At, care.ByCamera
		if day, ok := said(s); ok {
			at, dated = day, care.ByKeeper
		} else if s.Dated == photo.ByFile {
			dated = care.ByFile
		}
		all = append(all, care.Shot{Animal: g.animal, At: at, Photo: s.ID, Pose: poses[s.ID], Problem: problem, Dated: dated})
	}
	return all
}

// keep takes the originals of shots into the collection's photos; those that could
// not be taken are told apart. It runs off Fyne's goroutine.
func keep(ctx context.Context, b *photo.Inbox, shots []photo.Shot, progress func(float64)) (taken []photo.Shot, refused []*model.Refusal, err error) {
	for i, s := range shots {
		if ctx.Err() != nil {
			return taken, refused, ctx.Err()
		}
		var r *model.Refusal
		switch err := b.Keep(s); {
		case errors.As(err, &r):
			refused = append(refused, r)
		case err != nil:
			return taken, refused, err
		default:
			taken = append(taken, s)
		}
		progress(float64(i+1) / float64(len(shots)))
	}
	return taken, refused, nil
}

// openFindings are the findings of an animal that are there still.
func openFindings(w place.Window, id model.AnimalID) (open []exam.StoredProblem, err error) {
	err = w.Collection().View(func(v model.View) error {
		all, err := exam.Problems(v, id)
		for _, p := range all {
			if p.Open() {
				open = append(open, p)
			}
		}
		return err
	})
	return open, err
}
