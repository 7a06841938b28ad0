package animals

import (
	"context"
	"slices"
	"strings"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/collection"
	"coilward/model/exam"
	"coilward/model/knowledge"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/place"
	"coilward/ui/widgets"
	"coilward/ui/widgets/coil"
)

// formWidth is the column that the form of a new animal opens in.
const formWidth float32 = 360

// The height and least width of a picture's tile.
const (
	tileWidth  float32 = 176
	tileHeight float32 = 196
)

// Roster is the place where all animals stand.
type Roster struct {
	window   place.Window
	rows     []Row
	shown    []int
	choice   Choice
	pictures bool
	today    model.Day
	loaded   bool
	returns  bool             // one goes back to it: what is searched for stays
	stale    []model.AnimalID // changed since the place was last in sight
	unmarked bool             // what was detected, or who was near, may have changed since
	columns  []column

	root, head, filters, body, side *fyne.Container
	search                          *widgets.Field
	table, tiles                    *widgets.Roll
	form                            *particulars.Form
	thumbs                          particulars.Thumbs
}

// shifted is Ctrl or Cmd with Shift: the figures alone belong to the rail.
const shifted = fyne.KeyModifierShortcutDefault | fyne.KeyModifierShift

var (
	_ place.Place = (*Roster)(nil)
	_ place.Actor = (*Roster)(nil)
	_ place.Keys  = (*Roster)(nil)

	_ place.Misser   = (*Roster)(nil)
	_ place.Returner = (*Roster)(nil)
)

// New makes the place.
func New(w place.Window) *Roster {
	r := &Roster{window: w, thumbs: particulars.Thumbs{}}
	r.search = widgets.NewField("", widgets.FieldOptions{Hint: r.say("roster.search"), Icon: "search"})
	r.search.OnTyped = func(text string) { r.choice.Search = text; r.choose() }
	r.search.OnEnter = r.openFirst
	r.columns = tableColumns(w.Text())
	r.table = r.makeTable()
	r.tiles = r.makeTiles()
	r.head, r.filters, r.body, r.side = widgets.Stack(), widgets.Stack(), widgets.Stack(), widgets.Stack()
	page := widgets.Pad(widgets.Col(look.S12, r.head, r.filters, widgets.Grow(r.body)), look.S24, look.S24, look.S8, look.S24)
	r.side.Hide()
	r.root = widgets.RowFill(0, widgets.Grow(page), r.side)
	return r
}

func (r *Roster) say(key string, gaps ...map[string]any) string {
	return r.window.Text().Say(key, gaps...)
}

// Content implements place.Place.
func (r *Roster) Content() fyne.CanvasObject { return r.root }

// Returns implements place.Returner.
func (r *Roster) Returns() { r.returns = true }

// Show implements place.Place. The page "new" opens the form of a new animal. Who
// comes anew searches for nothing yet; who goes back finds the search as it was.
func (r *Roster) Show(to place.Route) {
	if !r.returns {
		r.choice.Search = ""
		r.search.SetText("")
	}
	r.returns = false
	today := r.window.Now().Day()
	anew := !r.loaded || len(r.stale) > mostRead || !sameMonth(today, r.today)
	r.today = today
	if anew {
		r.load()
	} else {
		r.refresh(r.stale, r.unmarked)
		r.window.Focus(r.list())
	}
	r.stale, r.unmarked = nil, false
	if to.Page == "new" {
		r.add()
	}
}

// Hide implements place.Place.
func (r *Roster) Hide() {}

// Changed implements place.Place: only the animals that the change touched are
// read again.
func (r *Roster) Changed(c collection.Change) { r.refresh(touched(c), remarks(c)) }

// Missed implements place.Misser: the animals are read again when they are next
// in sight.
func (r *Roster) Missed(c collection.Change) {
	r.unmarked = r.unmarked || remarks(c)
	for _, id := range touched(c) {
		if !slices.Contains(r.stale, id) {
			r.stale = append(r.stale, id)
		}
	}
}

// mostRead is how many changed animals are read one by one before the list is
// shown; more are read beside the window, all anew.
const mostRead = 40

// touched are the animals that a change is about.
func touched(c collection.Change) (ids []model.AnimalID) {
	for _, s := range c.Subjects {
		if s.Kind == model.SubjectAnimal {
			ids = append(ids, model.AnimalID{ID: s.ID})
		}
	}
	if slices.Contains(c.Types, model.TypeAnimal) {
		for _, id := range c.Documents {
			ids = append(ids, model.AnimalID{ID: id})
		}
	}
	return ids
}

// remarks reports whether a change may touch what was detected, who was near, or who is
// in quarantine.
func remarks(c collection.Change) bool {
	return slices.ContainsFunc(c.Types, func(t model.DocumentType) bool {
		return slices.Contains([]model.DocumentType{model.TypeSample, model.TypePositive, model.TypeStay, model.TypePlace, model.TypeAnimal, model.TypeQuarantine}, t)
	})
}

// refresh reads those animals again, and with marks what was detected in any, and
// shows the list.
func (r *Roster) refresh(ids []model.AnimalID, marks bool) {
	if err := r.window.Collection().View(func(v model.View) error {
		if err := r.reload(v, ids); err != nil || !marks {
			return err
		}
		return mark(v, r.window.Tables(), r.rows)
	}); err != nil {
		r.window.Fault("roster.fault", err)
	}
	r.markBegun()
	r.build()
}

// markBegun puts to each animal the check that was begun and not kept yet, as its
// draft says. A draft that cannot be read is said where the check is opened.
func (r *Roster) markBegun() {
	drafts, err := r.window.Drafts().List()
	if err != nil {
		r.window.Fault("roster.fault", err)
	}
	for i := range r.rows {
		r.rows[i].Begun = exam.Draft{}
		if !slices.Contains(drafts, r.rows[i].ID.ID) {
			continue
		}
		if raw, err := r.window.Drafts().Read(r.rows[i].ID.ID); err == nil {
			if d, err := exam.ReadDraft(raw); err == nil {
				r.rows[i].Begun = d
			}
		}
	}
}

// load reads all animals, off the window's thread.
func (r *Roster) load() {
	var rows []Row
	tables, now := r.window.Tables(), r.window.Now()
	r.window.Task(r.say("roster.reading"), func(_ context.Context, progress func(float64)) error {
		return r.window.Collection().View(func(v model.View) (err error) {
			rows, err = Load(v, tables, now, progress)
			return err
		})
	}, func(err error) {
		if err != nil {
			return
		}
		r.rows, r.loaded = rows, true
		r.markBegun()
		r.build()
		if r.form == nil && len(r.rows) > 0 {
			r.window.Focus(r.list())
		}
	})
}

func (r *Roster) reload(v model.View, ids []model.AnimalID) error {
	for _, id := range ids {
		row, there, err := LoadOne(v, r.window.Tables(), id, r.window.Now())
		if err != nil {
			return err
		}
		i := slices.IndexFunc(r.rows, func(x Row) bool { return x.ID == id })
		switch {
		case there && i >= 0:
			row.Detected, row.Near, row.Waits = r.rows[i].Detected, r.rows[i].Near, r.rows[i].Waits
			r.rows[i] = row
		case there:
			r.rows = append(r.rows, row)
		case i >= 0:
			r.rows = slices.Delete(r.rows, i, i+1)
		}
	}
	return nil
}

// build shows everything anew.
func (r *Roster) build() {
	r.head.Objects = []fyne.CanvasObject{r.title()}
	r.filters.Objects = []fyne.CanvasObject{r.filterRow()}
	setVisible(r.filters, len(r.rows) > 0)
	r.choose()
	r.root.Refresh()
}

func (r *Roster) title() fyne.CanvasObject {
	here := 0
	for i := range r.rows {
		if r.rows[i].Kept {
			here++
		}
	}
	var acts []fyne.CanvasObject
	if len(r.rows) > 0 {
		chosen := 0
		if r.pictures {
			chosen = 1
		}
		views := widgets.NewSegments(36, chosen, func(i int) { r.setPictures(i == 1) },
			widgets.Choice{Icon: "rows", Label: r.say("roster.table")}, widgets.Choice{Icon: "grid", Label: r.say("roster.pictures")})
		rank := widgets.Primary
		if r.form != nil {
			rank = widgets.Plain
		}
		acts = append(acts, views.Container, widgets.Button(rank, widgets.Act{Label: r.say("roster.add"), Icon: "plus", Do: r.add}))
	}
	below := ""
	if len(r.rows) > 0 {
		below = r.window.Text().Count("roster.kept", here)
	}
	return widgets.Header(r.say("roster.title"), below, acts...)
}

func (r *Roster) setPictures(on bool) {
	r.pictures = on
	r.choose()
	r.window.Focus(r.list())
}

// filterRow is the search and what the list may be kept to.
func (r *Roster) filterRow() fyne.CanvasObject {
	standing := 0
	if r.choice.Gone {
		standing = 1
	}
	here := widgets.NewSegments(28, standing, func(i int) { r.filter(func(c *Choice) { c.Gone = i == 1 }) },
		widgets.Choice{Label: r.say("roster.filter.here")}, widgets.Choice{Label: r.say("roster.filter.gone")})
	chip := func(key string, on bool, set func(*Choice, bool)) fyne.CanvasObject {
		return widgets.Chip("", r.say(key), on, func() { r.filter(func(c *Choice) { set(c, !on) }) })
	}
	sex := func(s animals.Sex) func(*Choice, bool) {
		return func(c *Choice, on bool) {
			c.Sex = ""
			if on {
				c.Sex = s
			}
		}
	}
	level := func(l knowledge.Level) func(*Choice, bool) {
		return func(c *Choice, on bool) {
			c.Level = 0
			if on {
				c.Level = l
			}
		}
	}
	chips := widgets.Wrap(look.S8, here.Container,
		chip("roster.filter.female", r.choice.Sex == animals.Female, sex(animals.Female)),
		chip("roster.filter.male", r.choice.Sex == animals.Male, sex(animals.Male)),
		chip("roster.filter.open", r.choice.Level == knowledge.NoAction, level(knowledge.NoAction)),
		chip("roster.filter.vet", r.choice.Level == knowledge.VetWithinDays, level(knowledge.VetWithinDays)),
		chip("roster.filter.unlooked", r.choice.Unlooked, func(c *Choice, on bool) { c.Unlooked = on }))
	if r.choice.Detected || slices.ContainsFunc(r.rows, func(x Row) bool { return len(x.Detected)+len(x.Near) > 0 }) {
		chips.Add(chip("roster.filter.detected", r.choice.Detected, func(c *Choice, on bool) { c.Detected = on }))
	}
	if r.form != nil { // beside the form there is no room for both in a line
		return widgets.Col(look.S8, r.search.Container, chips)
	}
	return widgets.Row(look.S16, widgets.Fix(248, 0, r.search.Container), widgets.Grow(chips))
}

func (r *Roster) filter(change func(*Choice)) {
	change(&r.choice)
	r.filters.Objects = []fyne.CanvasObject{r.filterRow()}
	r.choose()
}

func (r *Roster) sort(by Column) {
	r.choice.Back = r.sorted() == by && !r.choice.Back
	r.choice.Sort = by
	r.choose()
}

func (r *Roster) sorted() Column {
	if r.choice.Sort == "" {
		return ByName
	}
	return r.choice.Sort
}

// choose shows what the search and the filters leave.
func (r *Roster) choose() {
	r.shown = Choose(r.rows, r.choice)
	switch {
	case !r.loaded:
		r.body.Objects = nil
	case len(r.rows) == 0:
		r.body.Objects = []fyne.CanvasObject{r.empty()}
	case len(r.shown) == 0:
		r.body.Objects = []fyne.CanvasObject{r.none()}
	case r.pictures:
		r.body.Objects = []fyne.CanvasObject{r.tiles}
		r.tiles.SetCount(len(r.shown))
	default:
		head := tableHead(r.window.Text(), r.columns, r.choice, r.sort)
		r.body.Objects = []fyne.CanvasObject{widgets.Col(0, head, widgets.HLine(), widgets.Grow(r.table))}
		r.table.SetCount(len(r.shown))
	}
	r.body.Refresh()
}

// empty stands where there is no animal yet.
func (r *Roster) empty() fyne.CanvasObject {
	if r.form != nil {
		return widgets.Space(0, 0)
	}
	pair := widgets.Row(look.S16, coil.New(coil.Coat{Ground: 1, Markings: 1}, "Brook", 72), coil.New(coil.Coat{}, "Juniper", 96), coil.New(coil.Coat{Ground: 4, Markings: 4}, "Ash", 72))
	return widgets.EmptyPage(pair, r.say("roster.empty.title"), r.say("roster.empty.what"), widgets.Act{Label: r.say("roster.add"), Icon: "plus", Do: r.add})
}

// none stands where the filters leave nothing.
func (r *Roster) none() fyne.CanvasObject {
	what := r.say("roster.none.filters")
	switch {
	case r.choice.Search != "":
		what = r.say("roster.none.search", map[string]any{"Search": r.choice.Search})
	case r.choice.Gone && !r.choice.Filtered():
		what = r.say("roster.none.gone")
	}
	return widgets.EmptyPage(nil, r.say("roster.none.title"), what, widgets.Act{Label: r.say("roster.none.all"), Do: r.showAll})
}

func (r *Roster) showAll() {
	r.choice = Choice{Sort: r.choice.Sort, Back: r.choice.Back}
	r.search.SetText("")
	r.filter(func(*Choice) {})
	if r.form == nil && len(r.shown) > 0 {
		r.window.Focus(r.list())
	}
}

func (r *Roster) list() *widgets.Roll {
	if r.pictures {
		return r.tiles
	}
	return r.table
}

func (r *Roster) makeTable() *widgets.Roll {
	list := widgets.NewRoll(0, 0, widgets.RollKind{Height: rowHeight})
	list.Make = func(int) widgets.RollRow { return newTableRow(r.columns) }
	list.FillCell = func(i int, cell widgets.RollRow) {
		row := &r.rows[r.shown[i]]
		cell.(*tableRow).show(row, say(r.window.Text(), row, r.today), r.thumb(row.Photo))
	}
	return r.wire(list)
}

func (r *Roster) makeTiles() *widgets.Roll {
	list := widgets.NewRoll(tileWidth, look.S12, widgets.RollKind{Height: tileHeight, Sheet: true})
	list.Make = func(int) widgets.RollRow { return newTile() }
	list.FillCell = func(i int, cell widgets.RollRow) {
		row := &r.rows[r.shown[i]]
		cell.(*tile).show(row, say(r.window.Text(), row, r.today), r.thumb(row.Photo))
	}
	return r.wire(list)
}

func (r *Roster) wire(list *widgets.Roll) *widgets.Roll {
	list.Name = func(i int) string { return r.rows[r.shown[i]].Name }
	list.OnOpen = r.open
	list.OnRune = r.TypedRune
	return list
}

// thumb is the small picture of a photo, or nil.
func (r *Roster) thumb(id model.PhotoID) fyne.Resource {
	return r.thumbs.Of(r.window, id, particulars.Small)
}

func (r *Roster) open(i int) {
	if i >= 0 && i < len(r.shown) {
		r.window.Go(place.Route{To: place.Animal, Subject: r.rows[r.shown[i]].ID.ID})
	}
}

// openFirst opens the first animal that the search has left.
func (r *Roster) openFirst() {
	if strings.TrimSpace(r.choice.Search) != "" {
		r.open(0)
	}
}

// TypedRune implements place.Keys: letters go to the search.
func (r *Roster) TypedRune(sign rune) {
	if len(r.rows) == 0 || r.form != nil {
		return
	}
	r.window.Focus(r.search.Focusable())
	r.search.Type(r.search.Text() + string(sign))
	r.search.Focusable().TypedKey(&fyne.KeyEvent{Name: fyne.KeyEnd})
}

// TypedKey implements place.Keys: the arrows go to the list, Escape closes the
// form, or shows all again.
func (r *Roster) TypedKey(k *fyne.KeyEvent) {
	switch k.Name {
	case fyne.KeyEscape:
		if r.form != nil {
			r.form.Leave()
			return
		}
		r.showAll()
	case fyne.KeyDown, fyne.KeyUp:
		if len(r.shown) > 0 {
			r.window.Focus(r.list())
		}
	}
}

// Actions implements place.Actor.
func (r *Roster) Actions() []place.Action {
	return []place.Action{
		{Label: r.say("roster.add"), Menu: place.MenuEntry, Key: fyne.KeyN, Do: r.add, Off: r.window.ReadOnly()},
		{Label: r.say("roster.menu.search"), Menu: place.MenuView, Key: fyne.KeyF, Do: func() { r.window.Focus(r.search.Focusable()) }},
		{Label: r.say("roster.menu.table"), Menu: place.MenuView, Key: fyne.Key1, Modifier: shifted, Do: func() { r.setPictures(false); r.build() }},
		{Label: r.say("roster.menu.pictures"), Menu: place.MenuView, Key: fyne.Key2, Modifier: shifted, Do: func() { r.setPictures(true); r.build() }},
	}
}

// add opens the form of a new animal beside the list.
func (r *Roster) add() {
	if r.form == nil {
		r.form = particulars.NewForm(r.window, nil, r.added, r.closeForm)
		r.side.Objects = []fyne.CanvasObject{widgets.RowFill(0, widgets.VLine(), widgets.Fix(formWidth, 0, r.form.Content()))}
		r.side.Show()
		r.build()
	}
	r.window.Focus(r.form.First())
}

// added is called when a new animal is kept: the form goes, and the list stands
// at the animal, which is read here because the change is told of only later.
func (r *Roster) added(id model.AnimalID) {
	if err := r.window.Collection().View(func(v model.View) error { return r.reload(v, []model.AnimalID{id}) }); err != nil {
		r.window.Fault("roster.fault", err)
	}
	r.closeForm()
	if !slices.ContainsFunc(r.shown, func(at int) bool { return r.rows[at].ID == id }) {
		r.showAll()
	}
	for i, at := range r.shown {
		if r.rows[at].ID == id {
			r.list().SetCurrent(i)
		}
	}
	r.window.Focus(r.list())
}

func (r *Roster) closeForm() {
	r.form = nil
	r.side.Objects = nil
	r.side.Hide()
	r.build()
}
