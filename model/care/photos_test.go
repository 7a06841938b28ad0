package care_test

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"testing"

	"coilward/assets"
	"coilward/model"
	"coilward/model/care"
	"coilward/model/knowledge"
	"coilward/model/storetest"
)

func photoTables(t *testing.T) *knowledge.Tables {
	t.Helper()
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	return tables
}

func (h home) shot(days int, photo model.PhotoID) care.Shot {
	at := model.MomentOf(storetest.Start().AddDate(0, 0, -days))
	return care.Shot{Animal: h.juno, At: at, Photo: photo, Dated: care.ByCamera}
}

func (h home) photos(t *testing.T) (all []care.Posed) {
	t.Helper()
	err := h.View(func(v model.View) (err error) {
		all, err = care.Photos(v, h.juno)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// A series is one step: those of a day and pose stand in one entry, and one undo
// takes all of them back.
func TestPhotosOfASeries(t *testing.T) {
	h, tables := begin(t), photoTables(t)
	above, vent := h.shot(1, "0c"), h.shot(1, "0d")
	above.Pose, vent.Pose = "above", "vent"
	done, err := h.Do(care.AddPhotos{Tables: tables, Shots: []care.Shot{h.shot(1, "0a"), h.shot(1, "0b"), above, vent, h.shot(2, "0e"), h.shot(1, "0a")}})
	if err != nil {
		t.Fatal(err)
	}
	if len(done.Documents) != 4 {
		t.Errorf("%d entries, want one of two photos, two of a pose and one of another day", len(done.Documents))
	}
	all := h.photos(t)
	if len(all) != 5 || all[len(all)-1].Photo != "0e" || all[0].Body.Dated != care.ByCamera {
		t.Errorf("%+v", all)
	}
	if of := care.InPose(all, "above"); len(of) != 1 || of[0].Photo != "0c" {
		t.Errorf("from above: %+v", of)
	}
	if _, err := h.Undo(); err != nil {
		t.Fatal(err)
	}
	if all := h.photos(t); len(all) != 0 {
		t.Errorf("after one undo there are %d", len(all))
	}
}

func TestPhotosThatCannotStand(t *testing.T) {
	h, tables := begin(t), photoTables(t)
	with := func(change func(*care.Shot)) []care.Shot {
		s := h.shot(1, "0a")
		change(&s)
		return []care.Shot{s}
	}
	for name, c := range map[string]struct {
		shots     []care.Shot
		confirmed model.Confirmed
		want      string
	}{
		"none":             {nil, nil, "photo.empty"},
		"an unknown pose":  {with(func(s *care.Shot) { s.Pose = "asleep" }), nil, "choice.unknown"},
		"no such finding":  {with(func(s *care.Shot) { s.Problem = model.ProblemID{ID: model.ID{1}} }), nil, "photo.no-such-finding"},
		"an animal as one": {with(func(s *care.Shot) { s.Problem = model.ProblemID{ID: h.juno.ID} }), nil, "photo.no-such-finding"},
		"tomorrow":         {with(func(s *care.Shot) { s.At.UTC += 3 * 86400 }), nil, "day.future"},
		"by the file":      {with(func(s *care.Shot) { s.Dated = care.ByFile }), nil, care.FileDay},
		"agreed to":        {with(func(s *care.Shot) { s.Dated = care.ByFile }), model.Confirmed{care.FileDay}, ""},
		"said by nobody":   {with(func(s *care.Shot) { s.Dated = "moon" }), nil, "choice.unknown"},
	} {
		if _, err := h.Do(care.AddPhotos{Tables: tables, Shots: c.shots, Confirmed: c.confirmed}); reason(err) != c.want {
			t.Errorf("%s: %v, want %s", name, err, c.want)
		}
	}
}

// The question names the days of all files that it is about, from the first to the
// last, in whatever order they come; yes to it is yes.
func TestTheDaysOfFiles(t *testing.T) {
	h, tables := begin(t), photoTables(t)
	byFile := func(days int, photo model.PhotoID) care.Shot {
		s := h.shot(days, photo)
		s.Dated = care.ByFile
		return s
	}
	day := func(days int) model.Gap { return model.DayGap(h.shot(days, "").At.Day()) }
	for name, c := range map[string]struct {
		shots  []care.Shot
		reason string
		gaps   map[string]model.Gap
	}{
		"of one day":      {[]care.Shot{byFile(4, "0a"), byFile(4, "0b"), h.shot(9, "0c")}, care.FileDay, map[string]model.Gap{"Count": model.CountGap(2), "Day": day(4)}},
		"of several days": {[]care.Shot{byFile(4, "0a"), byFile(7, "0b"), h.shot(9, "0c"), byFile(2, "0d"), byFile(3, "0e")}, care.FileDays, map[string]model.Gap{"Count": model.CountGap(4), "From": day(7), "To": day(2)}},
	} {
		command := care.AddPhotos{Tables: tables, Shots: c.shots}
		_, err := h.Do(command)
		var r *model.Refusal
		if !errors.As(err, &r) || r.Reason != c.reason || !maps.Equal(r.Gaps, c.gaps) || r.Answer != model.Confirm {
			t.Fatalf("%s: %+v", name, r)
		}
		command.Confirmed = model.Confirmed{r.Reason}
		if _, err := h.Do(command); err != nil {
			t.Errorf("%s, confirmed: %v", name, err)
		}
	}
}

// The pose of one photo is said after it was kept: a photo alone keeps its entry, one
// of several goes into an entry of its own, and what it shows stays.
func TestAPoseIsSaidAfterwards(t *testing.T) {
	h, tables := begin(t), photoTables(t)
	first, second, third := h.shot(3, "0a"), h.shot(3, "0b"), h.shot(9, "0c")
	third.Pose = "above"
	if _, err := h.Do(care.AddPhotos{Tables: tables, Shots: []care.Shot{first, second, third}}); err != nil {
		t.Fatal(err)
	}
	all := func() []care.Posed { return h.photos(t) }
	said := func() (words []string) {
		for _, p := range all() {
			words = append(words, fmt.Sprintf("%s %s %s %s", p.Photo[:2], p.At.Day(), p.Body.Pose, p.Body.Dated))
		}
		slices.Sort(words)
		return words
	}
	set := func(photo model.PhotoID, pose knowledge.PoseID) error {
		p := all()[slices.IndexFunc(all(), func(p care.Posed) bool { return p.Photo == photo })]
		_, err := h.Do(care.SetPose{Tables: tables, Entry: p.Entry, Base: p.Revision, Photo: p.Photo, Pose: pose})
		return err
	}
	before := said()
	if err := errors.Join(set(first.Photo, "vent"), set(third.Photo, "")); err != nil {
		t.Fatal(err)
	}
	day, camera := first.At.Day(), care.ByCamera
	want := []string{fmt.Sprintf("0a %s vent %s", day, camera), fmt.Sprintf("0b %s  %s", day, camera), fmt.Sprintf("0c %s  %s", third.At.Day(), camera)}
	if got := said(); !slices.Equal(got, want) {
		t.Errorf("%q, want %q; before %q", got, want, before)
	}
	var r *model.Refusal
	if err := set(second.Photo, "upside-down"); !errors.As(err, &r) || r.Field != "pose" {
		t.Errorf("a pose that there is none of: %v", err)
	}
	p := all()[0]
	if _, err := h.Do(care.SetPose{Tables: tables, Entry: p.Entry, Base: p.Revision, Photo: "ff", Pose: "vent"}); reason(err) != "entry.missing" {
		t.Errorf("a photo that is not in the entry: %v", err)
	}
}

// An entry holds no more photos than one by hand may.
func TestManyPhotosOfADay(t *testing.T) {
	h := begin(t)
	var shots []care.Shot
	for i := range 2*care.MaxPhotos + 1 {
		shots = append(shots, h.shot(1, model.PhotoID(fmt.Sprintf("%064x", i))))
	}
	done, err := h.Do(care.AddPhotos{Tables: photoTables(t), Shots: shots})
	if err != nil || len(done.Documents) != 3 || len(h.photos(t)) != len(shots) {
		t.Errorf("%d entries, %d photos, %v", len(done.Documents), len(h.photos(t)), err)
	}
}

func TestStateOfAPose(t *testing.T) {
	h := begin(t)
	pose := knowledge.Pose{ID: "vent", Every: 10}
	today := model.MomentOf(storetest.Start()).Day()
	of := func(days int) []care.Posed {
		return []care.Posed{{At: h.shot(days, "0a").At, Body: care.Photo{Pose: "vent"}}, {At: h.shot(40, "0b").At, Body: care.Photo{Pose: "vent"}}}
	}
	for name, c := range map[string]struct {
		all  []care.Posed
		want care.PoseState
	}{
		"none":        {nil, care.PoseMissing},
		"another":     {[]care.Posed{{At: h.shot(1, "0a").At, Body: care.Photo{Pose: "above"}}}, care.PoseMissing},
		"ten days":    {of(10), care.PoseThere},
		"eleven days": {of(11), care.PoseOld},
	} {
		if got := care.StateOf(c.all, pose, today); got != c.want {
			t.Errorf("%s: %d, want %d", name, got, c.want)
		}
	}
}
