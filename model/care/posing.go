package care

import (
	"slices"

	"coilward/model"
	"coilward/model/knowledge"
)

// SetPose says in which pose one photo of an entry was taken, or with no pose that
// it is in none. Base is the revision that the change was made on.
type SetPose struct {
	Tables *knowledge.Tables
	Entry  model.EntryID
	Base   uint32
	Photo  model.PhotoID
	Pose   knowledge.PoseID
}

// Name is "care.pose".
func (SetPose) Name() string { return "care.pose" }

// Plan changes the entry of a single photo. One of several is taken out into an entry
// of its own, of the same moment and with the same words: an entry is of one pose.
// It is refused for a pose that there is none of.
func (c SetPose) Plan(v model.View) (model.Writes, error) {
	if _, known := c.Tables.Pose(c.Pose); c.Pose != "" && !known {
		return model.Writes{}, mend("pose", string(c.Pose), "choice.unknown", nil)
	}
	d, e, err := present(v, c.Entry)
	if err != nil {
		return model.Writes{}, err
	}
	p, is := e.Body.(Photo)
	if !is || !slices.Contains(p.Photos, c.Photo) {
		return model.Writes{}, mend("entry", "", "entry.missing", nil)
	}
	of, err := subjectOf(v, e.Animal)
	if err != nil {
		return model.Writes{}, err
	}
	own, rest := p, p
	own.Pose, own.Photos = c.Pose, []model.PhotoID{c.Photo}
	rest.Photos = slices.DeleteFunc(slices.Clone(p.Photos), func(id model.PhotoID) bool { return id == c.Photo })
	w := model.Writes{Label: label("care.changed", of.Name, d.Kind, own)}
	d.Revision = c.Base
	if len(rest.Photos) == 0 {
		rest = own
	} else {
		apart, err := entry{about: About{Animal: e.Animal, At: e.At, By: e.By}, body: own}.document(v)
		if err != nil {
			return model.Writes{}, err
		}
		w.Put = append(w.Put, apart)
	}
	err = d.Encode(version(rest), rest)
	w.Put = append(w.Put, d)
	return w, err
}
