package particulars

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/knowledge"
	"coilward/model/photo"
	"coilward/ui/look"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// Form is the one form for who an animal is: a new one, or one that is known.
// Only the name is asked for; the rest is folded away until it is wanted. What
// was typed stays, whatever is refused.
type Form struct {
	window place.Window
	before *animals.Stored // nil: a new animal
	kept   func(model.AnimalID)
	leave  func()

	fields   map[string]*widgets.Field // by the field's name in refusals
	picks    map[string]*Pick
	sex      animals.Sex
	how      *fyne.Container
	coats    *Coats
	photos   []model.PhotoID
	portrait model.PhotoID
	face     *fyne.Container // the portrait and how to change it
	thumbs   Thumbs
	more     *fyne.Container
	unfold   *fyne.Container
	warned   *fyne.Container // what is odd about the chip and may stand
	problem  *fyne.Container // what is refused and belongs to no field in sight
	content  fyne.CanvasObject
	unfolded bool
	unkept   Unkept
}

// NewForm makes the form; before is the animal as it is known, or nil. kept is
// called once it is stored, leave when the form is to go.
func NewForm(w place.Window, before *animals.Stored, kept func(model.AnimalID), leave func()) *Form {
	f := &Form{window: w, before: before, kept: kept, leave: leave,
		fields: map[string]*widgets.Field{}, picks: map[string]*Pick{}, unfolded: before != nil}
	a := animals.Animal{Status: animals.Kept}
	if before != nil {
		a = before.Animal
	}
	f.build(a)
	f.unkept = NewUnkept(f.state)
	return f
}

// state is all that stands in the form.
func (f *Form) state() string {
	var typed []string
	for _, name := range slices.Sorted(maps.Keys(f.fields)) {
		typed = append(typed, f.fields[name].Text())
	}
	a, _ := f.read() // what cannot be read stands in the fields
	return fmt.Sprintf("%q %+v", typed, a)
}

// Touched reports whether something else stands in the form than at first.
func (f *Form) Touched() bool { return f.unkept.Touched() }

// Holds reports whether the form holds what was typed or chosen and not kept, which no other
// act throws away; that is said then, and the keys go back to it.
func (f *Form) Holds() bool {
	if !f.Touched() {
		return false
	}
	f.warnOf(f.say("particulars.holds"))
	f.window.Focus(f.First())
	return true
}

// Leave leaves the form, and the first time says instead what in it is not kept.
func (f *Form) Leave() {
	if f.unkept.Leaves(func() { f.warnOf(f.say("particulars.leave")) }) {
		f.leave()
	}
}

// Content is the form as it stands in its column.
func (f *Form) Content() fyne.CanvasObject { return f.content }

// First is what takes the keys first.
func (f *Form) First() fyne.Focusable { return f.fields["name"].Focusable() }

// Field is the field of that name, for whoever fills the form in a test.
func (f *Form) Field(name string) *widgets.Field { return f.fields[name] }

func (f *Form) say(key string, gaps ...map[string]any) string {
	return f.window.Text().Say(key, gaps...)
}

func (f *Form) build(a animals.Animal) {
	title := f.say("particulars.new")
	if f.before != nil {
		title = f.say("particulars.change", map[string]any{"Animal": a.Name})
	}
	f.problem = widgets.Stack()
	f.problem.Hide()
	f.sex, f.photos, f.portrait, f.thumbs, f.face = a.Sex, slices.Clone(a.Photos), a.Portrait, Thumbs{}, widgets.Stack()
	name := f.field("name", a.Name, widgets.FieldOptions{Hint: f.say("particulars.hint.name")}) // the coat is drawn by it
	f.buildMore(a)
	body := widgets.Col(look.S16, f.problem,
		name,
		f.field("code", a.Code, widgets.FieldOptions{Hint: f.say("particulars.hint.code")}),
		f.buildSex(a),
		f.field("hatched", Typed(f.window, a.Hatched), widgets.FieldOptions{Hint: f.say("particulars.hint.date")}),
		f.field("morph", a.Morph, widgets.FieldOptions{}),
		f.unfold, f.more)
	f.content = Column(title, f.Leave, body,
		widgets.Big(widgets.Button(widgets.Primary, widgets.Act{Label: f.say("particulars.keep"), Key: "Enter", Do: f.Keep})))
}

// Column is a form as it stands beside what it is about: title and a way out
// above, the fields, which scroll, and the act below.
func Column(title string, leave func(), body, act fyne.CanvasObject) *fyne.Container {
	out := widgets.Button(widgets.Quiet, widgets.Act{Icon: "close", Key: "Esc", Do: leave})
	head := widgets.Row(look.S8, widgets.Grow(widgets.Line(title, look.Heading, look.Ink).Cuts()), out)
	return widgets.Stack(widgets.Filled(look.Sheet, 0), widgets.Col(0,
		widgets.Pad(head, look.S16, look.S12, look.S8, look.S24),
		widgets.Grow(widgets.Scroll(widgets.Pad(body, look.S4, look.S24, look.S16, look.S24))),
		widgets.HLine(), widgets.Pad(act, look.S12, look.S24)))
}

// field makes a field that is known by its name in refusals.
func (f *Form) field(name, value string, o widgets.FieldOptions) fyne.CanvasObject {
	o.Label = f.say("field." + name)
	field := widgets.NewField(value, o)
	field.OnTyped = func(string) { field.Accept() }
	field.OnEnter = f.Keep
	f.fields[name] = field
	return field.Container
}

// pick makes a choice that is known by its name in refusals.
func (f *Form) pick(name, none string, values []string, family, value string) *Pick {
	choices := make([]widgets.Choice, len(values))
	for i, v := range values {
		choices[i] = widgets.Choice{Label: Capital(f.say(family + v))}
	}
	p := NewPick(f.window, f.pickName(name), Capital(none), values, choices, value)
	f.picks[name] = p
	return p
}

// pickName is what a choice is called; the kind of chip is no field of its own in
// refusals.
func (f *Form) pickName(name string) string {
	if name == "chip-standard" {
		return f.say("particulars.chip-standard")
	}
	return f.say("field." + name)
}

func (f *Form) buildSex(a animals.Animal) fyne.CanvasObject {
	order := []animals.Sex{animals.Female, animals.Male, animals.SexUnknown}
	var words []string
	for _, s := range order {
		words = append(words, strings.TrimSpace(SexSign(s)+" "+SexWord(f.window.Text(), s)))
	}
	how := f.pick("sex-how", f.say("particulars.unsaid"), texts(animals.SexHows()), "animals.sex-how.", string(a.SexHow))
	f.how = widgets.Stack(how.Container)
	f.setSex(a.Sex)
	sex := NewFew(f.say("field.sex"), texts(order), words, string(a.Sex), func(v string) { f.setSex(animals.Sex(v)) })
	return widgets.Col(look.S12, sex.Container, f.how)
}

// setSex shows how the sex is known only where it is.
func (f *Form) setSex(s animals.Sex) {
	f.sex = s
	if s == animals.SexUnknown {
		f.how.Hide()
	} else {
		f.how.Show()
	}
	f.refresh()
}

func (f *Form) refresh() {
	if f.content != nil {
		f.content.Refresh()
	}
}

func texts[S ~string](values []S) []string {
	out := make([]string, len(values))
	for i, v := range values {
		out[i] = string(v)
	}
	return out
}

// buildMore makes the part that is folded away at first.
func (f *Form) buildMore(a animals.Animal) {
	unsaid := f.say("particulars.unsaid")
	var species []string
	for _, s := range f.window.Tables().SpeciesList() {
		species = append(species, string(s.ID))
	}
	status := f.pick("status", "", texts(animals.Statuses()), "animals.status.", string(a.Status))
	since := f.field("status-day", Typed(f.window, a.StatusDay), widgets.FieldOptions{Hint: f.say("particulars.hint.date")})
	status.OnPicked = func() { f.showSince(since) }
	chip := f.field("chip", a.Chip.Digits, widgets.FieldOptions{Hint: f.say("particulars.hint.chip")})
	f.warned = widgets.Stack()
	f.fields["chip"].OnCommit = func(string) { f.warn() }
	standard := f.pick("chip-standard", "", []string{string(animals.ChipISO), string(animals.ChipOther)}, "animals.chip.", string(standardOf(a.Chip)))
	f.coats = NewCoats(f.say("particulars.coat.ground"), f.say("particulars.coat.markings"), a.Coat, func() string { return f.fields["name"].Text() })
	f.more = widgets.Col(look.S16,
		f.pick("species", unsaid, species, "species.", string(a.Species)).Container,
		chip, standard.Container,
		f.pick("chip-site", unsaid, texts(animals.ChipSites()), "animals.chip-site.", string(a.Chip.Site)).Container,
		f.field("chip-read", Typed(f.window, a.Chip.LastRead), widgets.FieldOptions{Hint: f.say("particulars.hint.date")}), f.warned,
		widgets.RowTop(look.S8,
			widgets.Grow(f.field("snout-vent", f.typedLength(a.Length.SnoutVent), widgets.FieldOptions{Hint: f.say("particulars.hint.length")})),
			widgets.Grow(f.field("measured", Typed(f.window, a.Length.On), widgets.FieldOptions{Hint: f.say("particulars.hint.date")}))),
		f.field("from", a.From, widgets.FieldOptions{}),
		f.field("since", Typed(f.window, a.Since), widgets.FieldOptions{Hint: f.say("particulars.hint.date")}),
		f.field("origin", a.Origin, widgets.FieldOptions{}),
		f.field("permits", a.Permits, widgets.FieldOptions{Hint: f.say("particulars.hint.permits")}),
		f.pick("source", unsaid, texts(animals.SourceCodes()), "animals.source.", string(a.Source)).Container,
		status.Container, since,
		widgets.Col(look.S4, widgets.Line(f.say("field.portrait"), look.NoteBold, look.Soft), f.face),
		widgets.Col(look.S4, widgets.Line(f.say("particulars.coat"), look.NoteBold, look.Soft), f.coats.Container),
		f.field("offer-every", daysOf(a.OfferEvery), widgets.FieldOptions{Hint: f.say("particulars.hint.offer-every")}),
		f.field("note", a.Note, widgets.FieldOptions{Rows: 3, Hint: f.say("particulars.hint.note")}))
	standard.OnPicked = f.warn
	f.showSince(since)
	f.showFace()
	f.warn()
	f.unfold = widgets.Stack(widgets.Button(widgets.Quiet, widgets.Act{Label: f.say("particulars.more"), Icon: "down", Do: f.Unfold}))
	if !f.unfolded {
		f.more.Hide()
	} else {
		f.unfold.Hide()
	}
}

// warn says what is odd about the chip that stands in the form, or else what a
// chip is. Its place is as high as the longest of that, so that no field moves.
func (f *Form) warn() {
	f.warned.Objects = []fyne.CanvasObject{widgets.Fix(0, f.warningHeight(), f.chipNote(f.readChip().Warnings()))}
	f.warned.Refresh()
}

func (f *Form) chipNote(odd []string) *fyne.Container {
	if len(odd) == 0 {
		return widgets.Col(0, widgets.Para(f.say("particulars.chip.what"), look.Note, look.Soft))
	}
	var sentences []string
	for _, key := range odd {
		sentences = append(sentences, f.say(key))
	}
	return widgets.RowTop(look.S4, widgets.NewIcon("caution", 16, look.Days), widgets.Grow(widgets.Para(strings.Join(sentences, " "), look.Note, look.Ink)))
}

// narrowest is the least width of what stands in a form's column, in pixels.
const narrowest float32 = 300

// warningHeight is how high the longest note about a chip is.
func (f *Form) warningHeight() float32 {
	oddest := animals.Chip{Standard: animals.ChipOther, Digits: "0000"}
	return max(widgets.HeightFor(f.chipNote(nil), narrowest), widgets.HeightFor(f.chipNote(oddest.Warnings()), narrowest))
}

// typedLength is a length as it may be typed again; empty where it is not known.
func (f *Form) typedLength(l model.Length) string {
	switch {
	case l.IsZero():
		return ""
	case l.Typed != "":
		return l.Typed
	}
	return f.window.Text().Length(l)
}

// readLength is the length from snout to vent with its day, which is today where
// none was given.
func (f *Form) readLength() (animals.Measured, error) {
	typed := strings.TrimSpace(f.fields["snout-vent"].Text())
	if typed == "" {
		return animals.Measured{}, nil
	}
	length, err := f.window.Text().ParseLength(typed)
	if err != nil {
		return animals.Measured{}, At("snout-vent", err)
	}
	on, err := ReadDate(f.window, "measured", f.fields["measured"].Text())
	if on.IsZero() && err == nil {
		on = model.Date{Day: f.window.Now().Day(), Precision: model.ToDay}
	}
	return animals.Measured{SnoutVent: length, On: on}, err
}

func standardOf(c animals.Chip) animals.ChipStandard {
	if c.Standard == "" {
		return animals.ChipISO
	}
	return c.Standard
}

// showFace shows the portrait, and the ways to another.
func (f *Form) showFace() {
	choose := widgets.Fix(0, 32, widgets.Button(widgets.Plain, widgets.Act{Label: f.say("particulars.portrait.choose"), Icon: "camera", Do: f.choosePortrait}))
	row := widgets.Wrap(look.S8)
	if f.portrait != "" {
		row.Add(widgets.PhotoTile(72, 72, f.thumbs.Of(f.window, f.portrait, Small)))
	}
	row.Add(choose)
	if f.portrait != "" {
		row.Add(widgets.Fix(0, 32, widgets.Button(widgets.Quiet, widgets.Act{Label: f.say("particulars.portrait.none"), Do: func() { f.portrait = ""; f.showFace() }})))
	}
	f.face.Objects = []fyne.CanvasObject{row}
	f.refresh()
}

func (f *Form) choosePortrait() {
	f.window.ChooseFile(PhotoEndings(), func(path string) { f.TakePortrait(path) })
}

// TakePortrait takes a file as the animal's portrait.
func (f *Form) TakePortrait(path string) {
	KeepPhotos(f.window, []string{path}, func(all []photo.Kept, err error) {
		for _, kept := range all {
			f.portrait = kept.ID
			if !slices.Contains(f.photos, kept.ID) {
				f.photos = append(f.photos, kept.ID)
			}
		}
		f.showFace()
		if err != nil {
			f.refuse(err)
		}
	})
}

// showSince asks for the day of a status only where it has one.
func (f *Form) showSince(field fyne.CanvasObject) {
	if s := animals.Status(f.picks["status"].Value()); s == animals.Kept || s == "" {
		field.Hide()
	} else {
		field.Show()
	}
	f.refresh()
}

// Unfold shows what was folded away.
func (f *Form) Unfold() {
	f.unfolded = true
	f.unfold.Hide()
	f.more.Show()
	f.coats.Show()
	f.refresh()
}

// Keep stores what stands in the form, or says at the field what cannot stand.
func (f *Form) Keep() {
	f.accept()
	a, err := f.read()
	if err != nil {
		f.refuse(err)
		return
	}
	var base uint32
	id := model.AnimalID{}
	if f.before != nil {
		base, id = f.before.Revision, f.before.ID
	}
	f.window.Do(func(place.Answer) model.Command {
		if f.before == nil {
			return animals.Add{Animal: a}
		}
		return animals.Change{ID: id, Base: base, Animal: a}
	}, func(err error) {
		if err != nil {
			f.refuse(err)
			return
		}
		f.done(a.Name, id)
	})
}

// done tells which animal was kept; a new one is found by its name, which no
// other animal here has.
func (f *Form) done(name string, id model.AnimalID) {
	if id.IsZero() {
		err := f.window.Collection().View(func(v model.View) error {
			all, err := animals.All(v)
			for _, a := range all {
				if a.Status.Here() && animals.Fold(a.Name) == animals.Fold(name) {
					id = a.ID
				}
			}
			return err
		})
		if err != nil {
			f.window.Fault("particulars.fault", err)
		}
	}
	f.kept(id)
}

// read makes the animal out of what stands in the form.
func (f *Form) read() (animals.Animal, error) {
	var a animals.Animal
	if f.before != nil {
		a = f.before.Animal
	}
	text := func(name string) string { return f.fields[name].Text() }
	a.Name, a.Code, a.Morph, a.Origin, a.Permits, a.From, a.Note = text("name"), text("code"), text("morph"), text("origin"), text("permits"), text("from"), text("note")
	a.Sex, a.SexHow = f.sex, animals.SexHow(f.picks["sex-how"].Value())
	if a.Sex == animals.SexUnknown {
		a.SexHow = animals.HowUnknown
	}
	a.Species = knowledge.SpeciesID(f.picks["species"].Value())
	a.Source, a.Status = animals.SourceCode(f.picks["source"].Value()), animals.Status(f.picks["status"].Value())
	a.Chip = f.readChip()
	a.Coat, a.Photos, a.Portrait = f.coats.Coat(), f.photos, f.portrait
	for name, date := range map[string]*model.Date{"hatched": &a.Hatched, "since": &a.Since, "status-day": &a.StatusDay, "chip-read": &a.Chip.LastRead} {
		read, err := ReadDate(f.window, name, text(name))
		if err != nil {
			return a, err
		}
		*date = read
	}
	if a.Chip.IsZero() {
		a.Chip = animals.Chip{}
	}
	if a.OfferEvery = 0; text("offer-every") != "" {
		days, err := f.window.Text().ParseCount(text("offer-every"), animals.MaxOfferEvery)
		if err != nil {
			return a, At("offer-every", err)
		}
		a.OfferEvery = days
	}
	var err error
	a.Length, err = f.readLength()
	return a, err
}

// daysOf is a number of days as it stands in a field; none where none is set.
func daysOf(days int) string {
	if days == 0 {
		return ""
	}
	return strconv.Itoa(days)
}

func (f *Form) readChip() animals.Chip {
	digits := animals.ReadDigits(f.fields["chip"].Text())
	if digits == "" {
		return animals.Chip{}
	}
	return animals.Chip{Digits: digits, Standard: animals.ChipStandard(f.picks["chip-standard"].Value()), Site: animals.ChipSite(f.picks["chip-site"].Value())}
}

func (f *Form) accept() {
	f.problem.Hide()
	for _, field := range f.fields {
		field.Settle()
	}
}

// refuse says what cannot stand, at its field.
func (f *Form) refuse(err error) {
	var r *model.Refusal
	if !errors.As(err, &r) {
		return // left, or shown by the window
	}
	field, there := f.fields[r.Field]
	if !there {
		f.warnOf(f.window.Text().Refusal(r))
		return
	}
	if !f.unfolded && r.Field != "name" && r.Field != "code" && r.Field != "hatched" && r.Field != "morph" {
		f.Unfold()
	}
	field.Refuse(f.window.Text().Why(r))
	f.refresh()
	f.window.Focus(field.Focusable())
	widgets.Reveal(f.content, field.Container)
}

// warnOf says something above all else in the form.
func (f *Form) warnOf(said string) {
	f.problem.Objects = []fyne.CanvasObject{widgets.Caution(said)}
	f.problem.Show()
	f.refresh()
	widgets.Reveal(f.content, f.problem)
}
