package care

import (
	"errors"
	"slices"

	"coilward/model"
	"coilward/model/knowledge"
)

// AddPhotos notes many photos at once, those of an animal, a day, a pose and a
// finding together.
type AddPhotos struct {
	Tables    *knowledge.Tables
	Shots     []Shot
	By        model.PersonID
	Confirmed model.Confirmed
}

// Shot is one photo and what it shows. Pose and Problem may be none.
type Shot struct {
	Animal  model.AnimalID
	At      model.Moment
	Photo   model.PhotoID
	Pose    knowledge.PoseID
	Problem model.ProblemID
	Dated   Dated
}

// FileDay and FileDays are the reasons of the question whether photos were taken
// when their files were written: on one day, or on several. Yes to either is yes.
const (
	FileDay  = "photo.file-day"
	FileDays = "photo.file-days"
)

// Name is "care.photos".
func (AddPhotos) Name() string { return "care.photos" }

// Plan writes one entry for those that belong together. It is refused without a
// photo, for a pose that there is none of and for another animal's finding, and
// asks where only the files say when.
func (c AddPhotos) Plan(v model.View) (model.Writes, error) {
	if len(c.Shots) == 0 {
		return model.Writes{}, mend("photo", "", "photo.empty", nil)
	}
	if err := c.stands(v); err != nil {
		return model.Writes{}, err
	}
	w, many := model.Writes{}, NewMany(v)
	animals := map[model.AnimalID]bool{}
	for _, n := range c.entries() {
		d, err := many.Make(n)
		if err != nil {
			return model.Writes{}, err
		}
		w.Put = append(w.Put, d)
		animals[n.Animal] = true
	}
	w.Label = model.Label{Key: "photos.done.many", Gaps: map[string]model.Gap{"Count": model.CountGap(len(c.Shots))}}
	if len(animals) == 1 {
		of, err := subjectOf(v, c.Shots[0].Animal)
		if err != nil {
			return model.Writes{}, err
		}
		w.Label.Key = "photos.done.one"
		w.Label.Gaps["Animal"] = model.TextGap(of.Name)
	}
	return w, nil
}

func (c AddPhotos) stands(v model.View) error {
	var byFile []model.Day // of those of whom only the file says when
	for _, s := range c.Shots {
		if _, known := c.Tables.Pose(s.Pose); s.Pose != "" && !known {
			return mend("pose", string(s.Pose), "choice.unknown", nil)
		}
		if !s.Problem.IsZero() {
			d, err := v.Document(s.Problem.ID)
			if of, _ := d.Animal(); errors.Is(err, model.ErrNotFound) || err == nil && (d.Type != model.TypeProblem || of != s.Animal) {
				return mend("finding", "", "photo.no-such-finding", nil)
			}
			if err != nil {
				return err
			}
		}
		if s.Dated == ByFile {
			byFile = append(byFile, s.At.Day())
		}
	}
	if len(byFile) == 0 || c.Confirmed.Has(FileDay) || c.Confirmed.Has(FileDays) {
		return nil
	}
	from, to := slices.Min(byFile), slices.Max(byFile)
	asks := &model.Refusal{Field: "day", Reason: FileDays, Answer: model.Confirm,
		Gaps: map[string]model.Gap{"Count": model.CountGap(len(byFile)), "From": model.DayGap(from), "To": model.DayGap(to)}}
	if from == to {
		asks.Reason, asks.Gaps = FileDay, map[string]model.Gap{"Count": model.CountGap(len(byFile)), "Day": model.DayGap(from)}
	}
	return asks
}

// entries are the shots put together, in their order; no entry has more than
// MaxPhotos.
func (c AddPhotos) entries() []New {
	var all []New
	for _, s := range c.Shots {
		at := slices.IndexFunc(all, func(n New) bool {
			p := n.Body.(Photo)
			return n.Animal == s.Animal && n.At.Day() == s.At.Day() && p.Pose == s.Pose && p.Problem == s.Problem && p.Dated == s.Dated && len(p.Photos) < MaxPhotos
		})
		if at < 0 {
			at = len(all)
			all = append(all, New{About: About{Animal: s.Animal, At: s.At, By: c.By, Confirmed: c.Confirmed}, Body: Photo{Pose: s.Pose, Problem: s.Problem, Dated: s.Dated}})
		}
		p := all[at].Body.(Photo)
		if !slices.Contains(p.Photos, s.Photo) {
			p.Photos = append(p.Photos, s.Photo)
		}
		all[at].Body = p
	}
	return all
}

// Posed is one photo of an animal with the day that it is of.
type Posed struct {
	Entry    model.EntryID
	Revision uint32 // of the entry
	At       model.Moment
	Photo    model.PhotoID
	Body     Photo
}

// Photos are all photos of an animal's entries of photos, newest first.
func Photos(v model.View, animal model.AnimalID) (all []Posed, err error) {
	var failed error
	err = v.Timeline(animal.Subject(), model.Beginning, model.EndOfTime, func(d model.Document) bool {
		if d.Type != model.TypeEntry || d.Kind != KindPhoto {
			return true
		}
		var p Photo
		if p, failed = DecodePhoto(d); failed != nil {
			return false
		}
		for _, id := range p.Photos {
			all = append(all, Posed{Entry: model.EntryID{ID: d.ID}, Revision: d.Revision, At: d.At, Photo: id, Body: p})
		}
		return true
	})
	return all, errors.Join(err, failed)
}

// InPose are the photos of one pose, in the order they come in.
func InPose(all []Posed, pose knowledge.PoseID) []Posed {
	return slices.DeleteFunc(slices.Clone(all), func(p Posed) bool { return p.Body.Pose != pose })
}

// PoseState is how it stands with the photo of a pose.
type PoseState uint8

// The states of a pose.
const (
	PoseMissing PoseState = iota
	PoseOld               // the newest is older than the pose is asked for
	PoseThere
)

// StateOf tells how it stands with a pose today, of photos newest first.
func StateOf(all []Posed, pose knowledge.Pose, today model.Day) PoseState {
	of := InPose(all, pose.ID)
	switch {
	case len(of) == 0:
		return PoseMissing
	case int(today-of[0].At.Day()) > pose.Every:
		return PoseOld
	}
	return PoseThere
}
