package shelf

import (
	"errors"
	"slices"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/collection"
	"coilward/model/husbandry"
	"coilward/model/meals"
	"coilward/model/round"
	"coilward/model/samples"
	"coilward/model/wording"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// setting is what is chosen once for a whole walk.
type setting struct {
	all   bool // every box, not only those that it is due on
	meal  care.Meal
	gut   care.Gut
	scale model.InstrumentID
	where []care.MiteWhere
	clean husbandry.Cleaning
	// sample is of what samples are and what is looked for in them; the number of its
	// kit is the one from which those of the walk are counted on.
	sample samples.Sample
	// confirmed are the questions about the cleaning, or the kits, that were answered with yes at
	// an earlier box of the walk.
	confirmed model.Confirmed
}

// passing reports whether mites are looked for at places, and the animal itself is not
// among them: a look that sees none counts for no watch then.
func (s setting) passing() bool {
	return len(s.where) > 0 && !care.MiteLook{Where: s.where}.Counts()
}

// choose begins a job: what it asks once first, the boxes then.
func (p *Page) choose(job round.Job) {
	if p.house == nil || len(Stops(p.rows, job, true)) == 0 {
		p.window.Tell(p.say("shelf.job."+string(job)), p.say("shelf.job.nobody"))
		return
	}
	if job == round.Through {
		p.show(newSetOut(p))
		return
	}
	p.job.all = job != round.Feed && len(Stops(p.rows, job, false)) == 0 // nobody is fed who is not due, unless it is said
	if job == round.Feed && p.job.meal.Prey == "" {
		p.job.meal, _ = round.UsualMeal(mealsOf(p.rows))
	}
	if job == round.Weigh {
		p.job.scale = p.house.UsualScale()
	}
	if job == round.Weigh || job == round.Check {
		p.begin(job)
		return
	}
	p.show(newSetup(p, job))
}

// begin walks through the boxes. A walk that goes on already keeps its answers.
func (p *Page) begin(job round.Job) {
	p.form = nil
	if p.walk == nil || p.walk.Job != job || p.atEnd() {
		p.walk = NewWalk(job, Stops(p.rows, job, p.job.all))
		p.last = ""
	}
	p.began()
}

func (p *Page) atEnd() bool {
	_, here := p.walk.Here()
	return !here
}

// began shows the stop one is at now, with nothing typed yet.
func (p *Page) began() {
	p.typed, p.note, p.anew, p.notice = "", "", false, notice{}
	p.build()
	p.keys()
}

// notice is what has to be known at a stop, and is said in the lamp.
type notice struct {
	words   string
	refused bool           // what was to be noted cannot stand
	seen    model.AnimalID // mites, or a speck, was noted at this one: the words follow from it
	grade   care.MiteGrade
}

// tell says something in the lamp until the next act.
func (p *Page) tell(n notice) {
	p.notice = n
	p.build()
	p.keys()
}

// newest is the change that undo would take back; found is false where there is
// none, or it could not be read.
func (p *Page) newest() (e collection.Entry, found bool) {
	e, found, err := p.window.Collection().Newest()
	if err != nil {
		p.window.Fault("shelf.fault", err)
	}
	return e, found && err == nil
}

// Undoes implements place.Undoer: in a walk a mass that is being typed is cleared
// first, and then only what the walk noted is taken back.
func (p *Page) Undoes() bool {
	switch {
	case p.walk == nil:
		return false
	case p.typed != "":
		p.retype("")
		return true
	}
	newest, found := p.newest()
	switch {
	case found && p.walk.Made(newest.Sequence):
		return false
	case found:
		p.tell(notice{words: p.say("shelf.walk.undo-other", wording.Gaps{"What": p.window.Text().Label(newest.Label)})})
	default:
		p.tell(notice{words: p.say("shelf.walk.undo-none")})
	}
	return true
}

// end leaves the walk; what was noted stays.
func (p *Page) end() {
	p.walk, p.through, p.form, p.typed, p.anew, p.notice = nil, nil, nil, "", false, notice{}
	p.build()
	p.keys()
}

// setup asks what is the same for all boxes of a walk.
type setup struct {
	page     *Page
	job      round.Job
	set      setting
	fields   map[string]*widgets.Field
	prey     *particulars.Pick
	size     *particulars.Pick
	batch    *particulars.BatchPick // nil: there is no stock
	means    *particulars.Means
	scale    *particulars.Pick // nil: there is none
	caution  *fyne.Container
	problem  *fyne.Container
	nobody   *fyne.Container // says that nobody is due
	warned   bool            // that nobody is due
	contents fyne.CanvasObject
	figures  []func() // what 1, 2 and so on stand for; empty: they choose another job
}

func newSetup(p *Page, job round.Job) *setup {
	s := &setup{page: p, job: job, set: p.job, fields: map[string]*widgets.Field{}, problem: widgets.Stack(), caution: widgets.Stack(), nobody: widgets.Stack()}
	s.problem.Hide()
	s.nobody.Hide()
	parts := []fyne.CanvasObject{s.problem}
	switch job {
	case round.Feed:
		parts = append(parts, s.meal()...)
	case round.Weigh:
		parts = append(parts, s.gut())
		if all := p.house.scales.InUse(); len(all) > 0 {
			s.scale = particulars.NewScalePick(p.window, all, s.set.scale)
			parts = append(parts, s.scale.Container)
		}
	case round.Mites:
		parts = append(parts, s.where())
	case round.Clean:
		parts = append(parts, s.cleaning()...)
	case round.Swab:
		parts = append(parts, s.swab()...)
	}
	if p.walk == nil {
		parts = append(parts, s.which())
		if n := neverOffered(p.rows); job == round.Feed && n > 0 {
			parts = append(parts, widgets.Para(p.window.Text().Count("shelf.feed.never", n), look.Note, look.Soft))
		}
		parts = append(parts, s.nobody) // at the end, so that nothing is pushed away by it
	}
	s.contents = particulars.Column(p.say("shelf.job."+string(job)), p.leave, widgets.Col(look.S16, parts...),
		widgets.Big(widgets.Button(widgets.Primary, widgets.Act{Label: p.say("shelf.job.begin"), Key: "Enter", Do: s.enter})))
	return s
}

func (s *setup) content() fyne.CanvasObject { return s.contents }

func (s *setup) field(name, value string, o widgets.FieldOptions) *widgets.Field {
	o.Label = s.page.say("field." + name)
	f := widgets.NewField(value, o)
	f.OnTyped = func(string) { f.Accept() }
	f.OnEnter = s.enter
	s.fields[name] = f
	return f
}

// which says whether only those are walked that it is due on.
func (s *setup) which() fyne.CanvasObject {
	t, p := s.page.window.Text(), s.page
	due, all := len(Stops(p.rows, s.job, false)), len(Stops(p.rows, s.job, true))
	chosen := 0
	if s.set.all {
		chosen = 1
	}
	return widgets.NewSegments(36, chosen, func(i int) {
		s.set.all = i == 1 && all > 0 || due == 0 && s.job != round.Feed
		s.unwarn()
	},
		widgets.Choice{Label: t.Count("shelf.walk.due", due)}, widgets.Choice{Label: t.Count("shelf.walk.all", all)}).Container
}

func (s *setup) meal() []fyne.CanvasObject {
	p, t, m := s.page, s.page.window.Text(), s.set.meal
	unsaid := particulars.Capital(p.say("particulars.unsaid"))
	s.prey = pick(p, "prey", unsaid, care.Preys(), "care.prey.", m.Prey)
	s.size = pick(p, "prey-size", unsaid, care.PreySizes(), "care.prey-size.", m.Size)
	each, count := m.Each.Typed, ""
	if each == "" && !m.Each.IsZero() {
		each = t.Mass(m.Each)
	}
	if m.Count > 0 {
		count = strconv.Itoa(m.Count)
	}
	state := particulars.NewFew(p.say("field.prey-state"), texts(care.PreyStates()), wordsOf(p, care.PreyStates(), "care.prey-state."), string(m.State),
		func(v string) { s.set.meal.State = care.PreyState(v); s.live() }).Optional()
	s.live()
	s.batch = particulars.NewBatchPick(p.window, m.Batch)
	stock := fyne.CanvasObject(widgets.Space(0, 0))
	if s.batch != nil {
		stock, s.batch.OnPicked = s.batch.Container, s.ofBatch
	}
	return []fyne.CanvasObject{
		widgets.Button(widgets.Quiet, widgets.Act{Label: p.say("feeders.title"), Icon: "feed", Do: func() { p.window.Go(place.Route{To: place.Feeders}) }}), stock,
		widgets.RowTop(look.S8, widgets.GrowBy(1, s.prey.Container), widgets.GrowBy(1, s.size.Container)),
		widgets.RowTop(look.S8, widgets.GrowBy(1, s.field("prey-mass", each, widgets.FieldOptions{Unit: p.massUnit()}).Container),
			widgets.GrowBy(1, s.field("count", count, widgets.FieldOptions{}).Container)),
		state.Container, s.caution,
	}
}

func (p *Page) massUnit() string {
	if p.window.Text().Units().Imperial {
		return p.say("shelf.unit.ounces")
	}
	return p.say("shelf.unit.grams")
}

// ofBatch takes over what is known of the batch that was picked.
func (s *setup) ofBatch() {
	b, picked := s.batch.Batch()
	if !picked {
		return
	}
	s.prey.Set(string(b.Prey))
	s.size.Set(string(b.Size))
	if !b.Each.IsZero() {
		s.fields["prey-mass"].SetText(s.page.window.Text().Mass(b.Each))
	}
}

// live warns of live prey.
func (s *setup) live() {
	s.caution.Objects = nil
	s.caution.Hide()
	if s.set.meal.State == care.Live {
		s.caution.Objects = []fyne.CanvasObject{widgets.Caution(s.page.say("care.meal.live.caution"))}
		s.caution.Show()
	}
	if s.contents != nil {
		s.contents.Refresh()
	}
}

func (s *setup) gut() fyne.CanvasObject {
	var values, names []string
	for _, g := range care.Guts() {
		if g != care.GutUnknown {
			values = append(values, string(g))
			names = append(names, particulars.Capital(s.page.say("care.gut."+string(g))))
		}
	}
	return particulars.NewFew(s.page.say("field.gut"), values, names, string(s.set.gut), func(v string) { s.set.gut = care.Gut(v) }).Optional().Container
}

// where asks where mites are looked for: at every animal of the walk alike.
func (s *setup) where() fyne.CanvasObject {
	p := s.page
	s.figures = make([]func(), len(care.MiteWheres()))
	rows := widgets.Col(0)
	var fill func()
	fill = func() {
		rows.Objects = []fyne.CanvasObject{widgets.Line(p.say("shelf.mites.where"), look.Note, look.Soft)}
		for i, w := range care.MiteWheres() {
			chosen := slices.Contains(s.set.where, w)
			toggle := func() {
				if s.set.where = slices.DeleteFunc(slices.Clone(s.set.where), func(is care.MiteWhere) bool { return is == w }); !chosen {
					s.set.where = append(s.set.where, w)
				}
				fill()
			}
			s.figures[i] = toggle
			rows.Add(widgets.CheckRow(chosen, particulars.Capital(p.say("care.mites.where."+string(w))), "", strconv.Itoa(i+1), func(bool) { toggle() }))
			if w == care.InBath && chosen {
				rows.Add(widgets.Para(p.say(care.MiteBathCaution), look.Note, look.Ink))
			}
		}
		if s.set.passing() {
			rows.Add(widgets.Para(p.say("mites.not-on-animal"), look.Note, look.Ink))
		}
		rows.Refresh()
	}
	fill()
	return rows
}

func (s *setup) cleaning() []fyne.CanvasObject {
	p := s.page
	if s.set.clean.Extent == "" {
		s.set.clean.Extent = husbandry.Full
	}
	extent := particulars.NewFew(p.say("field.extent"), texts(husbandry.CleanExtents()), wordsOf(p, husbandry.CleanExtents(), "husbandry.extent."), string(s.set.clean.Extent),
		func(v string) { s.set.clean.Extent = husbandry.CleanExtent(v) })
	s.means = particulars.NewMeans(p.window, s.set.clean, s.enter)
	return []fyne.CanvasObject{widgets.Caution(p.say("husbandry.clean.caution")), extent.Container, s.means.Container}
}

// first is what takes the keys first; nil: the picture.
func (s *setup) first() fyne.Focusable {
	if f, there := s.fields["prey-mass"]; there {
		return f.Focusable()
	}
	if s.means != nil {
		return s.means.First()
	}
	if f, there := s.fields["kit-number"]; there {
		return f.Focusable()
	}
	return nil
}

// enter begins the walk, or says what cannot stand.
func (s *setup) enter() {
	s.problem.Hide()
	if err := s.read(); err != nil {
		s.refuse(err)
		return
	}
	if s.page.walk == nil && s.job == round.Feed && !s.set.all && len(Stops(s.page.rows, round.Feed, false)) == 0 && !s.warned {
		s.warned = true // Enter again goes through all
		s.nobody.Objects = []fyne.CanvasObject{widgets.Caution(s.page.window.Text().Count("shelf.feed.nobody-due", len(Stops(s.page.rows, round.Feed, true))))}
		s.nobody.Show()
		s.contents.Refresh()
		widgets.Reveal(s.contents, s.nobody)
		return
	}
	s.set.all = s.set.all || s.warned
	s.set.confirmed = nil
	s.page.job = s.set
	s.page.begin(s.job)
}

// unwarn takes away what was said of nobody being due: it is chosen anew who is walked
// to.
func (s *setup) unwarn() {
	if s.warned {
		s.warned = false
		s.nobody.Hide()
		s.contents.Refresh()
	}
}

// neverOffered is how many in some rows were never offered food, as far as is noted.
func neverOffered(rows []Row) (n int) {
	for _, meals := range mealsOf(rows) {
		if round.NeverOffered(meals) {
			n++
		}
	}
	return n
}

func (s *setup) read() (err error) {
	t := s.page.window.Text()
	number := func(name string, most int) (n int) {
		if typed := strings.TrimSpace(s.fields[name].Text()); typed != "" && err == nil {
			if n, err = t.ParseCount(typed, most); err != nil {
				err = particulars.At(name, err)
			}
		}
		return n
	}
	switch s.job {
	case round.Feed:
		m := &s.set.meal
		if m.Batch = (model.BatchID{}); s.batch != nil {
			m.Batch = s.batch.ID()
		}
		m.Prey, m.Size, m.Each = care.Prey(s.prey.Value()), care.PreySize(s.size.Value()), model.Mass{}
		if typed := strings.TrimSpace(s.fields["prey-mass"].Text()); typed != "" {
			if m.Each, err = t.ParseMass(typed); err != nil {
				return particulars.At("prey-mass", err)
			}
		}
		m.Count = number("count", care.MaxCount)
	case round.Weigh:
		if s.scale != nil {
			s.set.scale = particulars.PickedScale(s.scale, s.page.house.scales.InUse())
		}
	case round.Mites:
		if len(s.set.where) == 0 {
			return &model.Refusal{Field: "mite-where", Reason: "mites.where"}
		}
	case round.Clean:
		return s.means.Put(&s.set.clean)
	case round.Swab:
		return s.readKits()
	}
	return err
}

// refuse says what cannot stand, at its field.
func (s *setup) refuse(err error) {
	var r *model.Refusal
	if !errors.As(err, &r) {
		return // left, or shown by the window
	}
	f := s.fields[r.Field]
	if r.Field == "minutes" && s.means != nil {
		f = s.means.Refused()
	}
	if f != nil {
		f.Refuse(s.page.window.Text().Why(r))
		s.page.window.Focus(f.Focusable())
	} else {
		s.problem.Objects = []fyne.CanvasObject{widgets.Caution(s.page.window.Text().Refusal(r))}
		s.problem.Show()
	}
	s.contents.Refresh()
}

// pick is a choice of many, by the texts of a family.
func pick[V ~string](p *Page, field, none string, values []V, family string, chosen V) *particulars.Pick {
	var kept []V
	var choices []widgets.Choice
	for _, v := range values {
		if v != "" {
			kept, choices = append(kept, v), append(choices, widgets.Choice{Label: particulars.Capital(p.say(family + string(v)))})
		}
	}
	return particulars.NewPick(p.window, p.say("field."+field), none, texts(kept), choices, string(chosen))
}

func texts[V ~string](values []V) (out []string) {
	for _, v := range values {
		if v != "" {
			out = append(out, string(v))
		}
	}
	return out
}

func wordsOf[V ~string](p *Page, values []V, family string) (out []string) {
	for _, v := range values {
		if v != "" {
			out = append(out, particulars.Capital(p.say(family+string(v))))
		}
	}
	return out
}

// noted takes down what a command wrote at a stop: its entry, so that it can be
// put right or is seen to be taken back.
func (p *Page) noted(walk *Walk, stop int, find func(model.View) (model.ID, error), a Answer) func(error) {
	before, _ := p.newest()
	return func(err error) {
		if !p.stands(walk, before, err) {
			return
		}
		err = p.window.Collection().View(func(v model.View) error {
			id, err := find(v)
			a.Entry = model.EntryID{ID: id}
			return err
		})
		if err != nil {
			p.window.Fault("shelf.fault", err)
			return
		}
		walk.Answer(stop, a)
		if p.walk == walk {
			p.last = p.readBack(stop)
			p.began()
			if a.Grade != care.NoMites {
				p.tell(notice{seen: walk.Stops[stop].Animal, grade: a.Grade})
			}
		}
	}
}

// entryOf finds the entry of a kind about a subject, noted for that moment.
func entryOf(subject model.Subject, kind string, at model.Moment) func(model.View) (model.ID, error) {
	return func(v model.View) (model.ID, error) {
		d, err := Entry(v, subject, kind, at)
		return d.ID, err
	}
}

// stands reports whether what a walk was to note stands, and takes down which change
// it was. What is refused is said in the lamp; a mass is typed anew then.
func (p *Page) stands(walk *Walk, before collection.Entry, err error) bool {
	var r *model.Refusal
	p.anew = err != nil
	switch {
	case errors.As(err, &r):
		p.tell(notice{words: p.say("shelf.walk.refused", wording.Gaps{"Why": p.window.Text().Refusal(r)}), refused: true})
	case err == nil:
		if newest, found := p.newest(); found && newest.Sequence != before.Sequence {
			walk.Noted(newest.Sequence)
		}
	}
	return err == nil // else refused, left, or shown by the window
}

// before is what was noted at the stop already; found is false where nothing was.
func (p *Page) before() (d model.Document, found bool) {
	id := p.walk.Of(p.walk.At()).Entry
	if id.IsZero() {
		return d, false
	}
	err := p.window.Collection().View(func(v model.View) (err error) {
		d, err = v.Document(id.ID)
		return err
	})
	return d, err == nil
}

// noteCare notes something of the animal one is at, or puts right what was noted
// at this stop before.
func (p *Page) noteCare(body care.Body, fresh func(care.About, place.Answer) model.Command) {
	stop, here := p.walk.Here()
	if !here {
		return
	}
	at, earlier, changes := p.window.Now(), model.Document{}, false
	if earlier, changes = p.before(); changes {
		at = earlier.At
	}
	heaviest := p.heaviest(stop.Animal)
	p.window.Do(func(answer place.Answer) model.Command {
		about := p.about(stop.Animal, at, answer)
		if m, is := body.(care.Meal); is {
			return meals.Offer{Tables: p.window.Tables(), About: about, Meal: m, Entry: model.EntryID{ID: earlier.ID}, Base: earlier.Revision}
		}
		if changes {
			return care.Change{Entry: model.EntryID{ID: earlier.ID}, Base: earlier.Revision, About: about, Body: body, Heaviest: heaviest, Again: p.again(answer)}
		}
		return fresh(about, answer)
	}, p.noted(p.walk, p.walk.At(), entryOf(stop.Animal.Subject(), body.Kind(), at), answerOf(body)))
}

func (p *Page) heaviest(id model.AnimalID) model.Mass {
	if a := p.house.Animal(id); a != nil {
		return p.window.Tables().Heaviest(a.Species)
	}
	return model.Mass{}
}

// again is the mass as typed a second time; what is no mass is asked for again.
func (p *Page) again(a place.Answer) (m model.Mass) {
	if a.Again != "" {
		m, _ = p.window.Text().ParseMass(a.Again)
	}
	return m
}

func (p *Page) fed(o care.Outcome) {
	m := p.job.meal
	m.Outcome, m.Note = o, p.note
	p.noteCare(m, nil) // a meal is noted and changed by one command
}

func (p *Page) weighed() {
	mass, err := p.window.Text().ParseMass(p.typed)
	if err != nil || p.typed == "" {
		p.anew = err != nil // it is said already
		return
	}
	w := care.Weight{Mass: mass, Gut: p.job.gut, With: p.job.scale, Beside: care.Beside{Note: p.note}}
	stop, _ := p.walk.Here()
	if a := p.house.Animal(stop.Animal); a != nil {
		if _, _, asks := p.judged(a, mass); asks {
			p.window.Alert() // eyes are on the scale
		}
	}
	p.noteCare(w, func(about care.About, a place.Answer) model.Command {
		return care.Weigh{About: about, Weight: w, Heaviest: p.heaviest(stop.Animal), Again: p.again(a)}
	})
}

func (p *Page) looked(g care.MiteGrade) {
	l := care.MiteLook{Grade: g, Where: p.job.where, Beside: care.Beside{Note: p.note}}
	p.noteCare(l, func(about care.About, _ place.Answer) model.Command {
		return care.LookForMites{About: about, MiteLook: l}
	})
}

// noneSeen lists all that are still open by name, lets some be struck off, and
// notes none seen for the rest, in one.
func (p *Page) noneSeen() {
	open, struck := p.walk.open(), map[int]bool{}
	if len(open) == 0 {
		return
	}
	list := widgets.Col(0)
	var fill func()
	fill = func() {
		list.Objects = nil
		for _, i := range open {
			a := p.house.Animal(p.walk.Stops[i].Animal)
			if a == nil {
				continue
			}
			list.Add(widgets.CheckRow(!struck[i], a.Name, "", "", func(on bool) {
				struck[i] = !on
				fill()
			}))
		}
		list.Refresh()
	}
	fill()
	var leave func()
	walk, at := p.walk, p.window.Now()
	note := func() {
		leave()
		var all, off []model.AnimalID
		for _, i := range open {
			id := walk.Stops[i].Animal
			all = append(all, id)
			if struck[i] {
				off = append(off, id)
			}
		}
		if len(off) == len(all) {
			return
		}
		before, _ := p.newest()
		p.window.Do(func(a place.Answer) model.Command {
			return care.NoMitesSeen{Animals: all, StruckOff: off, Where: p.job.where, At: at, By: p.window.By(), Confirmed: a.Confirmed}
		}, func(err error) {
			if p.stands(walk, before, err) {
				p.notedAll(walk, open, struck, at)
			}
		})
	}
	how := widgets.Col(look.S8, widgets.Para(p.say("shelf.mites.all-how"), look.Body, look.Soft))
	if p.job.passing() {
		how.Add(widgets.Para(p.say("mites.not-on-animal"), look.Note, look.Ink))
	}
	leave = p.window.ShowSheet(widgets.Sheet{Title: particulars.Capital(p.say("shelf.mites.all")), Width: 440, Height: 520,
		Content: widgets.Col(look.S12, how, widgets.Grow(widgets.Scroll(list))),
		Acts:    []widgets.Act{{Label: p.say("shelf.mites.all-note"), Key: "Enter", Do: note}}, Cancel: p.say("window.cancel")})
}

// notedAll takes down what was noted for many at once.
func (p *Page) notedAll(walk *Walk, open []int, struck map[int]bool, at model.Moment) {
	err := p.window.Collection().View(func(v model.View) error {
		for _, i := range open {
			if struck[i] {
				continue
			}
			d, err := Entry(v, walk.Stops[i].Animal.Subject(), care.KindMiteLook, at)
			if err != nil {
				return err
			}
			walk.Answer(i, Answer{Mark: Done, Entry: model.EntryID{ID: d.ID}})
		}
		return nil
	})
	if err != nil {
		p.window.Fault("shelf.fault", err)
	}
	p.began()
}

func (p *Page) cleaned() {
	stop, here := p.walk.Here()
	if !here {
		return
	}
	c, at := p.job.clean, p.window.Now()
	c.Note = p.note
	earlier, changes := p.before()
	if changes {
		at = earlier.At
	}
	places := []model.PlaceID{stop.Place}
	noted := p.noted(p.walk, p.walk.At(), entryOf(stop.Place.Subject(), husbandry.KindCleaning, at), Answer{Mark: Done})
	var confirmed model.Confirmed
	p.window.Do(func(a place.Answer) model.Command {
		confirmed = slices.Concat(p.job.confirmed, a.Confirmed)
		if changes {
			return husbandry.ChangeEntry{Tables: p.window.Tables(), Entry: model.EntryID{ID: earlier.ID}, Base: earlier.Revision, At: at, By: p.window.By(), Places: places, Cleaning: &c, Confirmed: confirmed}
		}
		return husbandry.Clean{Tables: p.window.Tables(), Places: places, At: at, By: p.window.By(), Cleaning: c, Confirmed: confirmed}
	}, func(err error) {
		if err == nil {
			p.job.confirmed = confirmed
		}
		noted(err)
	})
}

// check opens the check of the animal one is at.
func (p *Page) check() {
	if stop, here := p.walk.Here(); here {
		p.asked = p.window.Now()
		p.window.Go(place.Route{To: place.Check, Subject: stop.Animal.ID})
	}
}

// walkKey is a key without a letter in a walk.
func (p *Page) walkKey(k fyne.KeyName, enter bool) {
	switch {
	case k == fyne.KeyEscape && p.notice.refused:
		p.retype("")
	case k == fyne.KeyEscape && p.typed != "":
		p.leaveTyped()
	case k == fyne.KeyEscape:
		p.end()
	case p.atEnd():
		switch {
		case enter && p.walk.Job == round.Swab:
			p.toTray()
		case enter && p.walk.Job == round.Through:
			p.endThrough()
		case enter:
			p.end()
		}
	case enter && p.walk.Job == round.Weigh:
		p.weighed()
	case enter && p.walk.Job == round.Check:
		p.check()
	case enter && p.walk.Job == round.Through:
		p.lookedInto(false)
	case enter && p.walk.Job == round.Clean:
		p.cleaned()
	case enter && p.walk.Job == round.Swab:
		p.swabbed(true)
	case k == fyne.KeyDelete:
		p.retype("")
	case k == fyne.KeyBackspace && p.typed != "":
		signs := []rune(p.typed)
		p.retype(string(signs[:len(signs)-1]))
	}
}

// leaveTyped asks before a mass or number that was typed and not noted is left.
func (p *Page) leaveTyped() {
	t := p.window.Text()
	said, back := t.Say("shelf.weigh.left", wording.Gaps{"Typed": p.typed, "Unit": p.massUnit()}), t.Say("shelf.weigh.left.no")
	if p.walk.Job == round.Swab {
		said, back = t.Say("shelf.swab.left", wording.Gaps{"Typed": p.typed}), t.Say("shelf.swab.left.no")
	}
	var close func()
	close = p.window.ShowSheet(widgets.Sheet{
		Title: t.Say("shelf.weigh.left.title"), Width: 440, Cancel: back,
		Content: widgets.Para(said, look.Body, look.Ink),
		Acts: []widgets.Act{{Label: t.Say("shelf.weigh.left.yes"), Do: func() {
			close()
			p.typed = ""
			p.end()
		}}},
	})
}

// retype shows another mass as the one typed so far; what was said of the one before
// goes.
func (p *Page) retype(typed string) {
	p.typed, p.anew = typed, false
	switch {
	case p.notice != notice{}:
		p.tell(notice{})
	case p.lit != nil:
		p.lit.typed(p)
	}
}

// mostDigits is how long a typed mass or number may be.
const mostDigits = 9

// types reports whether a sign is one of what is typed in a walk: a mass, or the
// number of a tube.
func (p *Page) types(r rune) bool {
	digit := r >= '0' && r <= '9'
	return p.walk.Job == round.Swab && digit || p.walk.Job == round.Weigh && (digit || r == ',' || r == '.')
}

// walkRune is a letter or figure in a walk; all of them are on the numpad.
func (p *Page) walkRune(r rune) {
	switch r {
	case '-', '−':
		p.walk.Back()
		p.began()
		return
	case '*':
		if p.walk.Job != round.Check && p.walk.Job != round.Through {
			p.show(newSetup(p, p.walk.Job))
		}
		return
	}
	if p.atEnd() {
		return
	}
	switch {
	case p.walk.Job == round.Through && (r == '/' || r == 's' || r == 'S'):
		p.lookedInto(true)
	case p.walk.Job == round.Through && (r == ',' || r == '.'):
		p.checkHere()
	case r == '/' || r == 's' || r == 'S':
		p.skip()
	case r == '+' && p.walk.Job != round.Check:
		p.askNote()
	case p.walk.Job == round.Swab && (r == ',' || r == '.' || r == 'v' || r == 'V'):
		p.swabbed(false)
	case p.types(r):
		if p.anew {
			p.retype("")
		}
		if len(p.typed) < mostDigits {
			p.retype(p.typed + string(r))
		}
	case p.walk.Job == round.Feed:
		switch r {
		case '1', 't', 'T':
			p.fed(care.Took)
		case '2', 'r', 'R':
			p.fed(care.Refused)
		case '3':
			p.skip()
		}
	case p.walk.Job == round.Mites && r >= '0' && r <= '4':
		p.looked(care.MiteGrade(r - '0'))
	case p.walk.Job == round.Mites && (r == '9' || r == 'a' || r == 'A'):
		p.noneSeen()
	}
}

func (p *Page) skip() {
	p.walk.Skip()
	p.began()
}

// askNote asks for a few words that go with what is noted next.
func (p *Page) askNote() {
	field := widgets.NewField(p.note, widgets.FieldOptions{Label: p.say("field.note")})
	var leave func()
	keep := func() {
		p.note, p.notice = strings.TrimSpace(field.Text()), notice{}
		leave()
		p.build()
		p.keys()
	}
	field.OnEnter = keep
	leave = p.window.ShowSheet(widgets.Sheet{Title: p.say("shelf.walk.note"), Content: field.Container, First: field.Focusable(),
		Acts: []widgets.Act{{Label: p.say("shelf.walk.note-keep"), Key: "Enter", Do: keep}}, Cancel: p.say("window.cancel")})
}
