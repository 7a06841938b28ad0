package photos

import (
	"context"
	"errors"
	"slices"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/exam"
	"coilward/model/knowledge"
	"coilward/model/photo"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// album are the photos of one animal: the standard poses, and all by day; or two
// days of one pose side by side.
type album struct {
	page     *Page
	animal   model.AnimalID
	name     string
	photos   []care.Posed // newest first
	problems map[model.ProblemID]exam.StoredProblem
	two      *twoDays // in the place of all photos; nil: they are in sight
}

func newAlbum(p *Page, animal model.AnimalID) *album {
	return &album{page: p, animal: animal, problems: map[model.ProblemID]exam.StoredProblem{}}
}

// mostShown is how many photos of an animal stand on its page at once.
const mostShown = 120

// read reads the animal's photos, and makes those little pictures that are not made
// yet, off Fyne's goroutine.
func (a *album) read() {
	p, w := a.page, a.page.window
	p.asked++
	asked := p.asked
	name, all, problems := "", []care.Posed(nil), map[model.ProblemID]exam.StoredProblem{}
	made := particulars.Thumbs{}
	w.Task(p.say("photos.reading"), func(ctx context.Context, progress func(float64)) error {
		err := w.Collection().View(func(v model.View) error {
			of, err := animals.Find(v, a.animal)
			if err != nil {
				return err
			}
			name = of.Name
			found, err := exam.Problems(v, a.animal)
			if err != nil {
				return err
			}
			for _, one := range found {
				problems[one.ID] = one
			}
			all, err = care.Photos(v, a.animal)
			return err
		})
		if err != nil {
			return err
		}
		for i, one := range a.shownOf(all) {
			if ctx.Err() != nil {
				return ctx.Err()
			}
			if raw, err := w.Photos().JPEG(one.Photo, photo.Thumbnail); err == nil { // a lost one is shown as a frame
				made[one.Photo] = fyne.NewStaticResource(string(one.Photo)+"-small.jpg", raw)
			}
			progress(float64(i+1) / float64(len(all)))
		}
		return nil
	}, func(err error) {
		switch {
		case asked != p.asked || p.album != a:
		case errors.Is(err, model.ErrNotFound):
			p.empty(p.say("photos.animal-gone"), "", widgets.Act{Label: p.say("photos.to-inbox"), Icon: "camera", Do: func() { w.Go(place.Route{To: place.Photos}) }})
		case err != nil && !errors.Is(err, context.Canceled):
			p.empty(p.say("photos.fault"), "", widgets.Act{Label: p.say("photos.read-again"), Do: a.read})
			w.Fault("photos.fault", err)
		default:
			a.name, a.photos, a.problems = name, all, problems
			for id, r := range made {
				p.thumbs[id] = r
			}
			a.build()
		}
	})
}

// shownOf are those that stand on the page: the newest, and two of each pose.
func (a *album) shownOf(all []care.Posed) []care.Posed {
	shown := slices.Clone(all[:min(len(all), mostShown)])
	for _, pose := range a.page.window.Tables().Poses() {
		of := care.InPose(all, pose.ID)
		shown = append(shown, of[:min(len(of), 2)]...)
	}
	return shown
}

func (a *album) build() {
	if a.two != nil {
		a.two.build()
		return
	}
	p, w := a.page, a.page.window
	text := w.Text()
	back := widgets.Button(widgets.Plain, widgets.Act{Label: a.name, Icon: "left", Do: func() { w.Go(place.Route{To: place.Animal, Subject: a.animal.ID}) }})
	inbox := widgets.Button(widgets.Quiet, widgets.Act{Label: p.say("photos.to-inbox"), Icon: "camera", Do: func() { w.Go(place.Route{To: place.Photos}) }})
	head := widgets.Header(p.say("photos.album", map[string]any{"Animal": a.name}), text.Count("photos.pictures", len(a.photos)), inbox, back)
	var poses []fyne.CanvasObject
	for _, pose := range w.Tables().Poses() {
		poses = append(poses, a.poseCard(pose))
	}
	parts := []fyne.CanvasObject{widgets.Group(p.say("photos.poses"), p.say("photos.poses-what"), widgets.Cells(3, look.S12, 0, poses...))}
	var days []fyne.CanvasObject
	tiles := widgets.Wrap(look.S12)
	for _, one := range a.photos[:min(len(a.photos), mostShown)] {
		tiles.Add(widgets.Fix(120, 0, widgets.Col(look.S4, widgets.PhotoPress(a.told(one), 120, 90, p.thumbs[one.Photo], func() { a.showLarge(one) }),
			widgets.Line(text.DayShort(one.At.Day()), look.Note, look.Soft).Cuts())))
	}
	if days = append(days, tiles); len(a.photos) == 0 {
		days = []fyne.CanvasObject{widgets.Para(p.say("photos.album-empty"), look.Body, look.Soft)}
	}
	if rest := len(a.photos) - mostShown; rest > 0 {
		days = append(days, widgets.Para(text.Count("photos.album-more", rest), look.Note, look.Soft))
	}
	parts = append(parts, widgets.Group(p.say("photos.by-day"), "", days...))
	p.put(widgets.Pad(widgets.Col(look.S16, head, widgets.Grow(widgets.Scroll(widgets.Pad(widgets.Col(look.S24, parts...), 0, look.S8, look.S16, 0)))), look.S24, look.S24, look.S8, look.S24))
}

// told is what a photo shows, in words.
func (a *album) told(one care.Posed) string {
	w := a.page.window
	words := w.Text().DayShort(one.At.Day())
	if one.Body.Pose != "" {
		words += ", " + w.Text().Say("pose."+string(one.Body.Pose))
	}
	if problem, there := a.problems[one.Body.Problem]; there {
		words += ", " + findingName(w, problem)
	}
	return words
}

// poseCard is one standard pose: its newest photo, how old it is, and the way to
// two days side by side.
func (a *album) poseCard(pose knowledge.Pose) fyne.CanvasObject {
	p, text := a.page, a.page.window.Text()
	today := a.page.window.Now().Day()
	of := care.InPose(a.photos, pose.ID)
	name := p.say("pose." + string(pose.ID))
	state, tone := p.say("photos.pose-missing"), look.Days
	var picture fyne.CanvasObject = widgets.PhotoTile(96, 72, nil)
	if len(of) > 0 {
		picture = widgets.PhotoPress(name, 96, 72, p.thumbs[of[0].Photo], func() { a.showLarge(of[0]) })
		state, tone = text.DayShort(of[0].At.Day())+" · "+text.Ago(of[0].At.Day(), today), look.Soft
		if care.StateOf(a.photos, pose, today) == care.PoseOld {
			state, tone = text.Count("photos.pose-old", pose.Every, map[string]any{"Day": text.DayShort(of[0].At.Day())}), look.Days
		}
	}
	words := []fyne.CanvasObject{widgets.Line(name, look.BodyBold, look.Ink).Cuts(), widgets.Para(state, look.Note, tone)}
	if len(of) > 1 {
		words = append(words, widgets.Row(0, widgets.Button(widgets.Quiet, widgets.Act{Label: p.say("photos.two-days"), Icon: "same", Do: func() { newTwoDays(a, pose.ID).build() }}), widgets.Fill()))
	}
	return widgets.Card(look.S12, widgets.RowTop(look.S12, picture, widgets.Grow(widgets.Col(look.S4, words...))))
}

// showLarge lays one photo over the page, with a way to give it away without what
// the file tells of place and camera.
func (a *album) showLarge(one care.Posed) {
	p, w := a.page, a.page.window
	frame := widgets.Stack(widgets.Filled(look.Well, look.RBase))
	open := true
	fill(w, p.say("photos.opening"), frame, func() ([]byte, bool) {
		raw, err := w.Photos().JPEG(one.Photo, photo.Page)
		return raw, err == nil
	}, func() bool { return open })
	caption := one.Body.Caption
	if caption == "" {
		caption = p.say("photos.copy-what")
	}
	title := w.Text().Day(one.At.Day())
	if problem, there := a.problems[one.Body.Problem]; there {
		title += ", " + findingName(w, problem)
	}
	w.ShowSheet(widgets.Sheet{Title: title, Width: 860,
		Content: widgets.Col(look.S12, widgets.Fix(0, 400, frame), a.poseOf(one), widgets.Para(caption, look.Note, look.Soft)),
		Acts:    []widgets.Act{{Label: p.say("photos.copy"), Icon: "open", Do: func() { a.copyOut(one) }}},
		Cancel:  p.say("photos.close"), OnLeave: func() { open = false }})
}

// poseOf are the poses, the photo's marked; another one is noted at once.
func (a *album) poseOf(one care.Posed) fyne.CanvasObject {
	w := a.page.window
	if w.ReadOnly() {
		return widgets.Space(0, 0)
	}
	return particulars.PoseOf(w, one.Body.Pose, func(pose knowledge.PoseID) {
		at := slices.IndexFunc(a.photos, func(now care.Posed) bool { return now.Photo == one.Photo && now.At == one.At })
		if at < 0 {
			return
		}
		now := a.photos[at] // it stands in another entry once its pose was said
		w.Do(func(place.Answer) model.Command {
			return care.SetPose{Tables: w.Tables(), Entry: now.Entry, Base: now.Revision, Photo: now.Photo, Pose: pose}
		}, func(err error) {
			var r *model.Refusal
			if errors.As(err, &r) {
				w.Tell(a.page.say("photos.pose-refused"), w.Text().Refusal(r))
			}
		})
	}).Container
}

// copyOut writes a copy that holds nothing but the picture.
func (a *album) copyOut(one care.Posed) {
	p, w := a.page, a.page.window
	w.SaveAs(a.name+" "+one.At.Day().String()+".jpg", func(path string) {
		w.Task(p.say("photos.copying"), func(context.Context, func(float64)) error { return w.Photos().CopyBare(one.Photo, path) }, func(err error) {
			if err != nil {
				w.Fault("photos.copy-fault", err)
				return
			}
			w.Tell(p.say("photos.copied"), p.say("photos.copied-what", map[string]any{"Path": path}))
		})
	})
}
