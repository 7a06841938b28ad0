package photos

import (
	"context"
	"errors"
	"io/fs"
	"slices"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/collection"
	"coilward/model/knowledge"
	"coilward/model/photo"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// What is in sight of the list beside the series.
const (
	leftOut = -1 // what was left out
	badOnes = -2 // the files that are no photo
)

// Page is the place. It is used on Fyne's goroutine only.
type Page struct {
	window place.Window
	root   *fyne.Container
	thumbs particulars.Thumbs

	inbox  *photo.Inbox
	path   string // of the inbox
	sorted *sorted
	own    map[model.PhotoID]model.AnimalID
	poses  map[model.PhotoID]knowledge.PoseID
	days   map[model.PhotoID]model.Day // that the keeper said, of which the camera says none
	items  []int                       // of the list: a series, leftOut or badOnes
	chosen int                         // one of items
	shot   photo.Shot
	then   model.PhotoID // comes into sight where the shot in sight is gone
	asked  int           // counts the looks, so that only the last is shown
	shown  bool
	enters bool // the list is to have the keys once it is there
	busy   bool // pictures are being kept

	list   *widgets.Roll
	grid   *widgets.Roll
	detail *fyne.Container
	few    *particulars.Few // the pose of the shot in sight; nil: it is not asked
	day    *widgets.Field   // its day; nil: it is not asked
	album  *album           // of one animal; nil: the inbox is in sight
}

var (
	_ place.Place = (*Page)(nil)
	_ place.Actor = (*Page)(nil)
	_ place.Keys  = (*Page)(nil)
)

// New makes the place.
func New(w place.Window) *Page {
	p := &Page{window: w, root: widgets.Stack(), thumbs: particulars.Thumbs{}, own: map[model.PhotoID]model.AnimalID{}, poses: map[model.PhotoID]knowledge.PoseID{}, days: map[model.PhotoID]model.Day{}, detail: widgets.Stack()}
	p.list = widgets.NewRoll(0, 0, widgets.RollKind{Height: 56})
	p.list.Make = func(int) widgets.RollRow { return newSeriesRow() }
	p.list.FillCell = func(i int, cell widgets.RollRow) { p.fillSeries(p.items[i], cell.(*seriesRow)) }
	p.list.Name = func(i int) string { title, _ := p.seriesWords(p.items[i]); return title }
	p.list.OnOpen = func(i int) { p.choose(p.items[i]) }
	p.list.OnMoved, p.list.OnEnter = p.list.OnOpen, func(int) { p.enter() }
	p.grid = widgets.NewRoll(132, look.S8, widgets.RollKind{Height: 136})
	p.grid.Make = func(int) widgets.RollRow { return newTile() }
	p.grid.FillCell = func(i int, cell widgets.RollRow) { p.fillTile(p.shots()[i], cell.(*tile)) }
	p.grid.Name = func(i int) string { return p.shots()[i].Name }
	p.grid.OnOpen = func(i int) { p.pick(p.shots()[i]) }
	p.grid.OnMoved, p.grid.OnEnter = p.grid.OnOpen, func(int) { p.enter() }
	return p
}

func (p *Page) say(key string, gaps ...map[string]any) string {
	return p.window.Text().Say(key, gaps...)
}

// Content implements place.Place.
func (p *Page) Content() fyne.CanvasObject { return p.root }

// Show implements place.Place. A route about an animal shows that animal's photos.
func (p *Page) Show(r place.Route) {
	p.shown = true
	if !r.Subject.IsZero() {
		p.album = newAlbum(p, model.AnimalID{ID: r.Subject})
		p.album.read()
		return
	}
	p.album, p.enters = nil, true
	p.look()
}

// Hide implements place.Place.
func (p *Page) Hide() {
	p.shown = false
	p.asked++ // what is being read is no longer wanted
}

// Changed implements place.Place.
func (p *Page) Changed(c collection.Change) {
	switch {
	case p.album != nil:
		p.album.read()
	case !p.busy && slices.ContainsFunc(c.Types, func(t model.DocumentType) bool {
		return t == model.TypeEntry || t == model.TypeAnimal || t == model.TypeStay || t == model.TypePlace || t == model.TypeProblem
	}):
		p.look()
	}
}

// Actions implements place.Actor.
func (p *Page) Actions() []place.Action {
	inbox := p.album == nil && p.sorted != nil
	g, series := p.group()
	writes := inbox && series && !p.window.ReadOnly() && !p.busy
	return []place.Action{
		{Label: p.say("photos.keep-series"), Menu: place.MenuEntry, Key: fyne.KeyK, Off: !writes || g.animal.ID.IsZero(), Do: p.keepSeries},
		{Label: p.say("photos.keep-one"), Menu: place.MenuEntry, Key: fyne.KeyK, Modifier: fyne.KeyModifierShortcutDefault | fyne.KeyModifierShift, Off: !writes || g.animal.ID.IsZero() || p.shot.ID == "", Do: func() { p.keep([]photo.Shot{p.shot}, model.ProblemID{}) }},
		{Label: p.say("photos.leave-one"), Menu: place.MenuEntry, Key: fyne.KeyBackspace, Modifier: fyne.KeyModifierShortcutDefault | fyne.KeyModifierShift, Off: !writes || p.shot.ID == "", Do: func() { p.leave(p.shot) }},
		{Label: p.say("photos.look-again"), Menu: place.MenuView, Key: fyne.KeyR, Off: p.album != nil || p.inbox == nil || p.busy, Do: p.look},
		{Label: p.say("photos.choose-folder"), Menu: place.MenuView, Off: p.album != nil || p.busy, Do: p.chooseFolder},
	}
}

// put shows something in the place of everything.
func (p *Page) put(o fyne.CanvasObject) {
	p.root.Objects = []fyne.CanvasObject{o}
	p.root.Refresh()
	p.window.ActionsChanged()
}

func (p *Page) empty(title, detail string, act widgets.Act, more ...widgets.Act) {
	p.put(widgets.EmptyPage(widgets.NewIcon("camera", 48, look.Accent), title, detail, act, more...))
}

func (p *Page) chooseAct() widgets.Act {
	return widgets.Act{Label: p.say("photos.choose-folder"), Icon: "folder", Do: p.chooseFolder}
}

func (p *Page) chooseFolder() {
	p.window.ChooseFolder(func(path string) {
		if p.ours(path) {
			p.window.Tell(p.say("photos.not-chosen"), p.window.Text().Refusal(&model.Refusal{Field: "folder", Value: path, Reason: "photo.own-folder", Answer: model.Mend}))
			return
		}
		p.window.Change(func(s *place.Preferences) { s.Phone = path })
		p.sorted = nil
		p.look()
	})
}

// ours tells whether a folder holds what the program itself keeps: the collection, or
// its backups at the second place; their pictures must not come in as new ones.
func (p *Page) ours(path string) bool {
	keeping := p.window.Keeping()
	if own := keeping.Folder(); own != "" && (photo.Within(path, own) || photo.Within(own, path)) {
		return true
	}
	second, err := keeping.Second()
	return err == nil && second.Folder != "" && photo.Within(second.Folder, path)
}

// days are how many days back the inbox looks; 0: all.
func days() []int { return []int{14, 90, 0} }

// back is how many days the inbox looks back.
func (p *Page) back() int {
	if n := p.window.Settings().PhoneDays; n != 0 {
		return max(n, 0) // below 0: all
	}
	return 90
}

func (p *Page) lookBack(n int) {
	if n == 0 {
		n = -1
	}
	p.window.Change(func(s *place.Preferences) { s.PhoneDays = n })
	p.look()
}

// look looks into the folder off Fyne's goroutine; the answer to an older question is
// dropped.
func (p *Page) look() {
	p.asked++
	asked, path := p.asked, p.window.Settings().Phone
	if path == "" {
		p.sorted = nil
		p.empty(p.say("photos.none"), p.say("photos.none-what"), p.chooseAct())
		return
	}
	if p.inbox == nil || p.path != path {
		inbox, err := p.window.Photos().OpenInbox(path)
		if err != nil {
			p.empty(p.say("photos.fault"), "", widgets.Act{Label: p.say("photos.look-again"), Do: p.look})
			p.window.Fault("photos.fault", err)
			return
		}
		p.inbox, p.path, p.sorted = inbox, path, nil
	}
	if p.sorted == nil {
		p.empty(p.say("photos.looking"), path, widgets.Act{})
	}
	now := p.window.Now()
	var from model.Moment
	if n := p.back(); n > 0 {
		from = now
		from.UTC -= int64(n) * 86400
	}
	inbox := p.inbox
	var found *sorted
	p.window.Task(p.say("photos.looking"), func(ctx context.Context, progress func(float64)) (err error) {
		found, err = lookInto(ctx, p.window, inbox, from, now, progress)
		return err
	}, func(err error) {
		switch {
		case asked != p.asked || p.album != nil:
		case errors.Is(err, context.Canceled):
			p.empty(p.say("photos.stopped"), p.say("photos.stopped-what"), widgets.Act{Label: p.say("photos.look-again"), Do: p.look}, p.chooseAct())
		case errors.Is(err, fs.ErrNotExist):
			p.empty(p.say("photos.folder-gone"), p.say("photos.folder-gone-what", map[string]any{"Folder": path}), widgets.Act{Label: p.say("photos.look-again"), Do: p.look}, p.chooseAct())
		case err != nil:
			p.empty(p.say("photos.fault"), path, widgets.Act{Label: p.say("photos.look-again"), Do: p.look}, p.chooseAct())
			p.window.Fault("photos.fault", err)
		default:
			p.take(found)
		}
	})
}

// take shows what was found; what was chosen stays chosen where it is still there.
func (p *Page) take(found *sorted) {
	p.sorted = found
	found.part(p.own, p.said)
	p.items = nil
	for i := range found.groups {
		p.items = append(p.items, i)
	}
	if len(found.listing.LeftOut)+len(found.listing.PutAway) > 0 {
		p.items = append(p.items, leftOut)
	}
	if len(found.listing.Bad) > 0 {
		p.items = append(p.items, badOnes)
	}
	p.keepInSight()
	p.build()
	if p.enters && len(p.items) > 0 {
		p.enters = false
		p.window.Focus(p.list)
	}
}

// keepInSight finds the shot in sight again, or the one that was to come after it;
// else the first of all comes into sight.
func (p *Page) keepInSight() {
	for _, id := range []model.PhotoID{p.shot.ID, p.then} {
		for _, item := range p.items {
			if (item == leftOut) != (p.chosen == leftOut) { // one left out just now is not followed there
				continue
			}
			shots := p.shotsOf(item)
			if i := slices.IndexFunc(shots, func(s photo.Shot) bool { return s.ID == id }); i >= 0 {
				p.chosen, p.shot = item, shots[i]
				return
			}
		}
	}
	if p.chosen >= 0 || !slices.Contains(p.items, p.chosen) {
		p.chosen = 0
		if len(p.items) > 0 {
			p.chosen = p.items[0]
		}
	}
	p.shot = photo.Shot{}
	if shots := p.shots(); len(shots) > 0 {
		p.shot = shots[0]
	}
}

// after is what comes into sight where these are gone: the next that stays, else
// the one before.
func (p *Page) after(gone []photo.Shot) model.PhotoID {
	all := p.shots()
	if p.chosen >= 0 {
		all = nil
		for _, g := range p.sorted.groups {
			all = append(all, g.Shots...)
		}
	}
	at := slices.IndexFunc(all, func(s photo.Shot) bool { return s.ID == p.shot.ID })
	stays := func(s photo.Shot) bool {
		return !slices.ContainsFunc(gone, func(g photo.Shot) bool { return g.ID == s.ID })
	}
	if i := slices.IndexFunc(all[max(at, 0):], stays); i >= 0 {
		return all[max(at, 0)+i].ID
	}
	for _, s := range slices.Backward(all[:max(at, 0)]) {
		if stays(s) {
			return s.ID
		}
	}
	return ""
}

// group is the series in sight; ok is false where none is.
func (p *Page) group() (g group, ok bool) {
	if p.sorted == nil || p.chosen < 0 || p.chosen >= len(p.sorted.groups) {
		return group{}, false
	}
	return p.sorted.groups[p.chosen], true
}

func (p *Page) shots() []photo.Shot { return p.shotsOf(p.chosen) }

func (p *Page) shotsOf(item int) []photo.Shot {
	switch {
	case p.sorted == nil || item == badOnes:
		return nil
	case item == leftOut:
		return p.sorted.listing.LeftOut
	case item < len(p.sorted.groups):
		return p.sorted.groups[item].Shots
	}
	return nil
}

// choose shows a series, what was left out, or what is no photo.
func (p *Page) choose(item int) {
	p.chosen, p.shot = item, photo.Shot{}
	if shots := p.shots(); len(shots) > 0 {
		p.shot = shots[0]
	}
	p.build()
	p.window.Focus(p.list)
}

// pick shows one picture large, with what can be done with it.
func (p *Page) pick(s photo.Shot) {
	p.shot = s
	p.grid.SetCount(len(p.shots()))
	p.showDetail()
	p.window.ActionsChanged()
}

// setAnimal says whose the series in sight is.
func (p *Page) setAnimal(id model.AnimalID) {
	for _, s := range p.shots() {
		p.own[s.ID] = id
	}
	p.sorted.part(p.own, p.said)
	p.build()
	p.window.Focus(p.list)
}

func (p *Page) keepSeries() {
	if g, ok := p.group(); ok {
		p.keep(g.Shots, model.ProblemID{})
	}
}

// keep takes pictures into the collection, as one step.
func (p *Page) keep(shots []photo.Shot, problem model.ProblemID) {
	g, ok := p.group()
	if !ok || g.animal.ID.IsZero() || p.window.ReadOnly() || p.busy {
		return
	}
	if !p.dayStands() {
		return
	}
	p.busy, p.then = true, p.after(shots)
	p.window.ActionsChanged()
	inbox := p.inbox
	var taken []photo.Shot
	var refused []*model.Refusal
	p.window.Task(p.say("photos.keeping"), func(ctx context.Context, progress func(float64)) (err error) {
		taken, refused, err = keep(ctx, inbox, shots, progress)
		return err
	}, func(err error) {
		p.busy = false
		switch {
		case errors.Is(err, context.Canceled): // nothing was noted; what was copied is found again
		case err != nil:
			p.window.Fault("photos.keep-fault", err)
		default:
			p.tellRefused(refused)
			p.note(g, taken, problem)
		}
		p.look()
	})
}

// note notes pictures that were taken in; of those of which only the file says a day,
// the day is asked first.
func (p *Page) note(g group, taken []photo.Shot, problem model.ProblemID) {
	if len(taken) == 0 {
		return
	}
	shots := g.entries(taken, p.poses, p.said, problem)
	if asks := unsure(p.window, shots); asks != nil {
		p.askDay(asks, shots)
		return
	}
	p.window.Do(func(a place.Answer) model.Command { return addPhotos(p.window, shots, a.Confirmed) }, func(err error) {
		var r *model.Refusal
		switch {
		case !errors.As(err, &r):
		case r.Field == "day" && p.day != nil:
			p.day.Refuse(p.window.Text().Why(r))
			p.window.Focus(p.day.Focusable())
		default:
			p.window.Tell(p.say("photos.keep-refused"), p.window.Text().Refusal(r))
		}
	})
}

// tellRefused names the pictures that could not be taken in, and why.
func (p *Page) tellRefused(refused []*model.Refusal) {
	if len(refused) == 0 {
		return
	}
	var words string
	for i, r := range refused {
		if i == 5 {
			words += "\n\n" + p.window.Text().Count("photos.refused-more", len(refused)-i)
			break
		}
		if i > 0 {
			words += "\n\n"
		}
		words += p.window.Text().Refusal(r)
	}
	p.window.Tell(p.window.Text().Count("photos.refused", len(refused)), words)
}

// leave leaves pictures out, for good until they are brought back.
func (p *Page) leave(shots ...photo.Shot) {
	inbox := p.inbox
	p.then = p.after(shots)
	p.remember(func() error { return inbox.LeaveOut(idsOf(shots)...) })
}

func (p *Page) bringBack(shots ...photo.Shot) {
	inbox := p.inbox
	p.then = p.after(shots)
	p.remember(func() error { return inbox.BringBack(idsOf(shots)...) })
}

// putAway is leave for the files that are no photo.
func (p *Page) putAway() {
	inbox, names := p.inbox, namesOf(p.sorted.listing.Bad)
	p.remember(func() error { return inbox.PutAway(names...) })
}

// bringAll lets everything that was left out wait again.
func (p *Page) bringAll() {
	inbox, shots, names := p.inbox, p.sorted.listing.LeftOut, namesOf(p.sorted.listing.PutAway)
	p.remember(func() error { return errors.Join(inbox.BringBack(idsOf(shots)...), inbox.TakeUp(names...)) })
}

func idsOf(shots []photo.Shot) (ids []model.PhotoID) {
	for _, s := range shots {
		ids = append(ids, s.ID)
	}
	return ids
}

func namesOf(files []*model.Refusal) (names []string) {
	for _, r := range files {
		names = append(names, r.Value)
	}
	return names
}

func (p *Page) remember(how func() error) {
	if p.busy || p.window.ReadOnly() {
		return
	}
	p.busy = true
	p.window.Task(p.say("photos.remembering"), func(context.Context, func(float64)) error { return how() }, func(err error) {
		p.busy = false
		if err != nil {
			p.window.Fault("photos.remember-fault", err)
		}
		p.look()
	})
}
