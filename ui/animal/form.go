package animal

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/meals"
	"coilward/model/photo"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// entryForm notes one entry, or changes one. It stands in a column beside the
// page. What was typed stays in it until it is kept.
type entryForm struct {
	page   *Page
	window place.Window
	kind   string
	before *care.Entry // nil: a new entry

	fields  map[string]*widgets.Field
	part    part
	photos  []model.PhotoID
	taken   map[model.PhotoID]photo.Taken // of those that were added here
	camera  model.Moment                  // whose day was taken; zero: none was
	strip   *fyne.Container               // of the photos
	asks    *fyne.Container               // whether the camera's day is the right one
	by      *particulars.Pick
	problem *fyne.Container
	content fyne.CanvasObject
	stamp   string // what day and time said when the form was opened
	unkept  particulars.Unkept
}

// part is what a form asks of one kind of entry.
type part interface {
	// content are the fields.
	content() fyne.CanvasObject
	// first is what takes the keys first; nil: the day.
	first() fyne.Focusable
	// body is what stands in the fields.
	body(beside care.Beside) (care.Body, error)
}

// figured is a part whose first question is answered by a figure, while no field
// has the keys.
type figured interface{ figure(n int) }

func newEntryForm(p *Page, kind string, before *care.Entry) *entryForm {
	f := &entryForm{page: p, window: p.window, kind: kind, before: before, fields: map[string]*widgets.Field{}, taken: map[model.PhotoID]photo.Taken{}}
	f.problem, f.strip, f.asks = widgets.Stack(), widgets.Stack(), widgets.Stack()
	f.problem.Hide()
	beside, body := care.Beside{}, care.Body(nil)
	if before != nil {
		body = before.Body
		beside = besideOf(body)
	}
	f.photos = slices.Clone(beside.Photos)
	f.part = f.partOf(body)
	f.build(beside)
	f.unkept = particulars.NewUnkept(f.state)
	return f
}

// state is all that stands in the form.
func (f *entryForm) state() string {
	var typed []string
	for _, name := range slices.Sorted(maps.Keys(f.fields)) {
		typed = append(typed, f.fields[name].Text())
	}
	by := ""
	if f.by != nil {
		by = f.by.Value()
	}
	body, _ := f.part.body(care.Beside{Photos: f.photos}) // what cannot be read stands in the fields
	return fmt.Sprintf("%q %s %+v", typed, by, body)
}

// leave closes the form. A new entry stays as it was typed, for when the form is opened again;
// of one that is changed it is said first that it is not kept.
func (f *entryForm) leave() {
	if f.before == nil || f.unkept.Leaves(func() { f.warn(f.say("particulars.leave")) }) {
		f.page.closeForm()
	}
}

// besideOf is the note and the photos of any entry.
func besideOf(b care.Body) care.Beside {
	switch b := b.(type) {
	case care.Weight:
		return b.Beside
	case care.Meal:
		return b.Beside
	case care.Shed:
		return b.Beside
	case care.Waste:
		return b.Beside
	case care.MiteLook:
		return b.Beside
	case care.MiteTreatment:
		return b.Beside
	case care.Blue:
		return b.Beside
	case care.Clutch:
		return b.Beside
	case care.Bath:
		return b.Beside
	case care.Fluids:
		return b.Beside
	case care.Note:
		return care.Beside{Note: b.Text, Photos: b.Photos}
	case care.Photo:
		return care.Beside{Note: b.Caption, Photos: b.Photos}
	}
	return care.Beside{}
}

func (f *entryForm) partOf(b care.Body) part {
	switch f.kind {
	case care.KindWeight:
		w, _ := b.(care.Weight)
		return newWeightPart(f, w)
	case care.KindMeal:
		m, _ := b.(care.Meal)
		return newMealPart(f, m, b == nil)
	case care.KindShed:
		s, _ := b.(care.Shed)
		return newShedPart(f, s)
	case care.KindWaste:
		w, _ := b.(care.Waste)
		return newWastePart(f, w)
	case care.KindMiteLook:
		m, _ := b.(care.MiteLook)
		return newMitePart(f, m, b == nil)
	case care.KindMiteTreatment:
		m, _ := b.(care.MiteTreatment)
		return newTreatmentPart(f, m)
	case care.KindBlue:
		return bluePart{}
	case care.KindClutch:
		c, _ := b.(care.Clutch)
		return newClutchPart(f, c)
	case care.KindBath:
		w, _ := b.(care.Bath)
		return newBathPart(f, w)
	case care.KindFluids:
		w, _ := b.(care.Fluids)
		return newFluidsPart(f, w)
	case care.KindPhoto:
		p, _ := b.(care.Photo)
		return newPhotoPart(f, p)
	}
	return notePart{f}
}

func (f *entryForm) say(key string, gaps ...map[string]any) string {
	return f.window.Text().Say(key, gaps...)
}

func (f *entryForm) build(beside care.Beside) {
	at := f.window.Now()
	if f.before != nil {
		at = f.before.At
	}
	when := widgets.Col(look.S4, widgets.RowTop(look.S8,
		widgets.Grow(f.field("day", f.window.Text().DayShort(at.Day()), widgets.FieldOptions{Apart: true})),
		widgets.Fix(104, 0, f.field("time", f.clock(at), widgets.FieldOptions{Apart: true}))),
		f.fields["day"].Said(), f.fields["time"].Said(), f.asks)
	for _, name := range []string{"day", "time"} {
		field := f.fields[name]
		field.OnTyped = func(string) { field.Accept(); f.judge(); f.showPhotos() }
	}
	f.stamp = f.fields["day"].Text() + f.fields["time"].Text()
	parts := []fyne.CanvasObject{f.problem}
	if f.before == nil {
		parts = append(parts, f.kindTiles())
	}
	parts = append(parts, f.part.content(), when, f.noteField(beside.Note), f.photoRow())
	if by := f.byPick(); by != nil {
		parts = append(parts, by)
	}
	if f.before != nil {
		said := f.page.life.Said(f.window.Tables(), f.window.Now())[f.before.ID]
		parts = append(parts, f.page.verdictParts(said)...)
		parts = append(parts, widgets.Row(0, widgets.Button(widgets.Quiet, widgets.Act{Label: f.say("animal.form.remove"), Icon: "bin", Do: f.remove}), widgets.Fill()))
	}
	f.content = particulars.Column(f.title(), f.leave, widgets.Col(look.S16, parts...),
		widgets.Big(widgets.Button(widgets.Primary, widgets.Act{Label: f.say("particulars.keep"), Key: "Enter", Do: f.keep})))
	f.showPhotos()
}

// judge says again what the part warns of, where that hangs on the day.
func (f *entryForm) judge() {
	if w, is := f.part.(*weightPart); is {
		w.readBack()
	}
}

func (f *entryForm) title() string {
	if f.before != nil {
		return f.say("kind." + f.kind)
	}
	return f.say("animal.form.new")
}

func (f *entryForm) clock(at model.Moment) string {
	if at.Precision != model.ToMinute {
		return ""
	}
	return f.window.Text().Time(at)
}

// first is what takes the keys first; nil: the form, for its figures.
func (f *entryForm) first() fyne.Focusable {
	if o := f.part.first(); o != nil {
		return o
	}
	if _, figures := f.part.(figured); figures {
		return nil
	}
	return f.fields["day"].Focusable()
}

// field makes a field that is known by its name in refusals.
func (f *entryForm) field(name, value string, o widgets.FieldOptions) fyne.CanvasObject {
	o.Label = f.say("field." + name)
	if name == "note" && f.kind == care.KindPhoto {
		o.Label = f.say("field.caption")
	}
	field := widgets.NewField(value, o)
	field.OnTyped = func(string) { field.Accept() }
	field.OnEnter = f.keep
	f.fields[name] = field
	return field.Container
}

// kindTiles is the choice of what to note.
func (f *entryForm) kindTiles() fyne.CanvasObject {
	var tiles []fyne.CanvasObject
	for _, kind := range care.Kinds() {
		tone, words := look.Soft, look.Note
		if kind == f.kind {
			tone, words = look.Ink, look.NoteBold
		}
		name := f.say("kind." + kind)
		tile := widgets.NewPress(name, widgets.MiddleUpright(widgets.Pad(widgets.Col(2,
			widgets.Middle(widgets.NewIcon(iconOf(kind), 22, tone)), widgets.Para(name, words, tone).Centred()), 6, 0)), tileGround,
			func() { f.page.note(kind) })
		tile.SetOn(kind == f.kind)
		tiles = append(tiles, tile)
	}
	return widgets.Cells(4, look.S4, 64, tiles...)
}

func tileGround(s widgets.State) widgets.Ground {
	g := widgets.Ground{Fill: look.Sheet, Line: look.Edge, Width: 1, Radius: look.RBase}
	switch {
	case s.On:
		g.Fill, g.Line, g.Width = look.Wash, look.Accent, 2
	case s.Pointed:
		g.Fill = look.Wash
	}
	return g
}

func (f *entryForm) noteField(note string) fyne.CanvasObject {
	if f.kind == care.KindNote {
		return widgets.Space(0, 0)
	}
	hint := "animal.form.note-hint"
	if f.kind == care.KindPhoto {
		hint = "animal.form.caption-hint"
	}
	return f.field("note", note, widgets.FieldOptions{Rows: 2, Hint: f.say(hint)})
}

// byPick is who did it, where the collection has people.
func (f *entryForm) byPick() fyne.CanvasObject {
	var ids []string
	var choices []widgets.Choice
	by := f.window.By()
	if f.before != nil {
		by = f.before.By
	}
	for _, p := range f.page.life.workers {
		ids, choices = append(ids, p.ID.String()), append(choices, widgets.Choice{Label: p.Name})
	}
	if name, known := f.page.life.People[by]; known && !slices.Contains(ids, by.String()) { // whose it is already
		ids, choices = append(ids, by.String()), append(choices, widgets.Choice{Label: name})
	}
	if len(ids) == 0 {
		return nil
	}
	f.by = particulars.NewPick(f.window, f.say("field.person"), f.say("particulars.unsaid"), ids, choices, by.String())
	if by.IsZero() {
		f.by.Set("")
	}
	return f.by.Container
}

// photoRow shows the photos, and the way to more of them.
func (f *entryForm) photoRow() fyne.CanvasObject {
	add := widgets.Button(widgets.Plain, widgets.Act{Label: f.say("animal.form.add-photo"), Icon: "camera", Do: f.choosePhoto})
	return widgets.Col(look.S8, f.strip, widgets.Fix(0, 36, add))
}

func (f *entryForm) choosePhoto() {
	f.window.ChooseFile(particulars.PhotoEndings(), func(path string) { f.addPhotos([]string{path}) })
}

func (f *entryForm) addPhotos(paths []string) {
	particulars.KeepPhotos(f.window, paths, func(all []photo.Kept, err error) {
		for _, kept := range all {
			if !slices.Contains(f.photos, kept.ID) {
				f.photos = append(f.photos, kept.ID)
			}
			f.taken[kept.ID] = kept.Taken
		}
		f.showPhotos()
		if err != nil {
			f.refuse(err)
		}
	})
}

func (f *entryForm) showPhotos() {
	row := widgets.Wrap(look.S8)
	for _, id := range f.photos {
		row.Add(widgets.PhotoPress(f.say("animal.form.photo-off"), 72, 54, f.page.thumbs.Of(f.window, id, particulars.Small), func() {
			f.photos = slices.DeleteFunc(f.photos, func(p model.PhotoID) bool { return p == id })
			f.showPhotos()
		}))
	}
	f.strip.Objects = nil
	if len(f.photos) > 0 {
		f.strip.Objects = []fyne.CanvasObject{widgets.Col(look.S4, row, widgets.Para(f.say("animal.form.photos-off"), look.Note, look.Faint))}
	}
	f.asks.Objects = nil
	if at, other := f.cameraDay(); other {
		f.asks.Objects = []fyne.CanvasObject{f.cameraAsks(at)}
	}
	if f.content != nil {
		f.content.Refresh()
	}
}

// cameraDay is when the photos were taken, where their cameras say another day than
// the one that stands in the form.
func (f *entryForm) cameraDay() (at model.Moment, other bool) {
	var taken []photo.Taken
	for _, id := range f.photos {
		taken = append(taken, f.taken[id])
	}
	on, err := f.at()
	if err != nil { // what stands there is said when it is kept
		on = model.Moment{}
	}
	return photo.OtherDay(taken, on.Day(), f.window.Now())
}

// cameraAsks proposes the day and the time of the camera; nothing is taken unasked.
func (f *entryForm) cameraAsks(at model.Moment) fyne.CanvasObject {
	return widgets.Col(look.S4, widgets.Para(f.say("animal.form.camera-says", map[string]any{"When": at}), look.Body, look.Ink),
		widgets.Row(0, widgets.Button(widgets.Plain, widgets.Act{Label: f.say("animal.form.camera-day"), Icon: "calendar", Do: func() {
			f.camera = at
			f.fields["day"].SetText(f.window.Text().DayShort(at.Day()))
			f.fields["time"].SetText(f.clock(at))
			f.judge()
			f.showPhotos()
		}}), widgets.Fill()))
}

// at is the moment that stands in the form. Untouched it is now, to the minute.
func (f *entryForm) at() (model.Moment, error) {
	day, clock := "", ""
	if built := f.fields["time"]; built != nil {
		day, clock = f.fields["day"].Text(), built.Text()
	}
	if day+clock == f.stamp {
		if f.before != nil {
			return f.before.At, nil
		}
		return f.window.Now(), nil
	}
	on, err := f.window.Text().ParseDay(day, f.window.Now().Day())
	if err != nil {
		return model.Moment{}, particulars.At("day", err)
	}
	if strings.TrimSpace(clock) == "" {
		return model.MomentOn(f.window.Now(), on, model.Noon, model.ToDay), nil
	}
	minutes, err := f.window.Text().ParseTime(clock)
	if err != nil {
		return model.Moment{}, particulars.At("time", err)
	}
	return model.MomentOn(f.window.Now(), on, minutes, model.ToMinute), nil
}

func (f *entryForm) about(at model.Moment, a place.Answer) care.About {
	about := care.About{Animal: f.page.life.ID, At: at, By: f.window.By(), Confirmed: a.Confirmed}
	if f.by != nil {
		id, err := model.ParseID(f.by.Value())
		if err == nil {
			about.By = model.PersonID{ID: id}
		}
	}
	return about
}

// keep stores what stands in the form, or says at the field what cannot stand.
func (f *entryForm) keep() {
	f.problem.Hide()
	for _, field := range f.fields {
		field.Settle()
	}
	at, err := f.at()
	var body care.Body
	if err == nil {
		beside := care.Beside{Photos: f.photos}
		if note, there := f.fields["note"]; there {
			beside.Note = strings.TrimSpace(note.Text())
		}
		body, err = f.part.body(beside)
	}
	if err != nil {
		f.refuse(err)
		return
	}
	f.window.Do(func(a place.Answer) model.Command { return f.command(f.about(at, a), body, a) }, func(err error) {
		if err != nil {
			f.refuse(err)
			return
		}
		f.page.kept(f)
	})
}

func (f *entryForm) command(about care.About, body care.Body, a place.Answer) model.Command {
	heaviest := f.window.Tables().Heaviest(f.page.life.Species)
	var again model.Mass
	if a.Again != "" {
		again, _ = f.window.Text().ParseMass(a.Again) // what is no mass is asked for again
	}
	if f.before != nil {
		switch b := body.(type) {
		case care.Meal:
			return meals.Offer{Tables: f.window.Tables(), About: about, Meal: b, Entry: f.before.ID, Base: f.before.Revision}
		case care.Bath:
			return care.Bathe{Tables: f.window.Tables(), About: about, Bath: b, Entry: f.before.ID, Base: f.before.Revision}
		case care.Fluids:
			return care.GiveFluids{Tables: f.window.Tables(), About: about, Fluids: b, Entry: f.before.ID, Base: f.before.Revision}
		}
		return care.Change{Entry: f.before.ID, Base: f.before.Revision, About: about, Body: body, Heaviest: heaviest, Again: again}
	}
	switch b := body.(type) {
	case care.Weight:
		return care.Weigh{About: about, Weight: b, Heaviest: heaviest, Again: again}
	case care.Meal:
		return meals.Offer{Tables: f.window.Tables(), About: about, Meal: b}
	case care.Shed:
		return care.RecordShed{About: about, Shed: b}
	case care.Waste:
		return care.RecordWaste{About: about, Waste: b}
	case care.MiteLook:
		return care.LookForMites{About: about, MiteLook: b}
	case care.MiteTreatment:
		return care.TreatMites{About: about, MiteTreatment: b}
	case care.Blue:
		return care.RecordBlue{About: about, Blue: b}
	case care.Clutch:
		return care.RecordClutch{About: about, Clutch: b}
	case care.Bath:
		return care.Bathe{Tables: f.window.Tables(), About: about, Bath: b}
	case care.Fluids:
		return care.GiveFluids{Tables: f.window.Tables(), About: about, Fluids: b}
	case care.Photo:
		return care.AddPhoto{About: about, Photo: b}
	case care.Note:
		return care.WriteNote{About: about, Note: b}
	}
	return nil
}

func (f *entryForm) remove() {
	f.window.Do(func(place.Answer) model.Command { return care.Remove{Entry: f.before.ID} }, func(err error) {
		if err != nil {
			f.refuse(err)
			return
		}
		f.page.kept(f)
	})
}

// refuse says what cannot stand, at its field.
func (f *entryForm) refuse(err error) {
	var r *model.Refusal
	if !errors.As(err, &r) {
		return // left without an answer, or shown by the window
	}
	field, there := f.fields[r.Field]
	if !there {
		f.warn(f.window.Text().Refusal(r))
		return
	}
	field.Refuse(f.window.Text().Why(r))
	f.window.Focus(field.Focusable())
	f.content.Refresh()
	widgets.Reveal(f.content, field.Container)
}

// warn says something above all else in the form.
func (f *entryForm) warn(said string) {
	f.problem.Objects = []fyne.CanvasObject{widgets.Caution(said)}
	f.problem.Show()
	f.content.Refresh()
	widgets.Reveal(f.content, f.problem)
}

// since names an earlier moment: by its time where it was on the day of the
// entry, by its day otherwise.
func (f *entryForm) since(at model.Moment) string {
	on := f.window.Now().Day()
	if f.before != nil {
		on = f.before.At.Day()
	}
	if at.Day() == on && at.Precision == model.ToMinute {
		return f.window.Text().Time(at)
	}
	return f.window.Text().DayShort(at.Day())
}

// freshen puts the present time into a form that is opened again, unless another
// was typed.
func (f *entryForm) freshen() {
	day, clock := f.fields["day"], f.fields["time"]
	if f.before != nil || day.Text()+clock.Text() != f.stamp {
		return
	}
	at := f.window.Now()
	day.SetText(f.window.Text().DayShort(at.Day()))
	clock.SetText(f.clock(at))
	f.stamp = day.Text() + clock.Text()
}
