package animal

import (
	"slices"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/knowledge"
	"coilward/model/meals"
	"coilward/model/wording"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/widgets"
)

// few is a choice of few under a caption.
func few[V ~string](f *entryForm, caption string, values []V, words func(V) string, chosen V, pick func(V)) fyne.CanvasObject {
	names := make([]string, len(values))
	for i, v := range values {
		names[i] = particulars.Capital(words(v))
	}
	return particulars.NewFew(f.say(caption), texts(values), names, string(chosen), func(v string) { pick(V(v)) }).Container
}

// orUnknown is the key of a value in a family, whose zero value is "unknown".
func orUnknown(family, value string) string {
	if value == "" {
		return family + "unknown"
	}
	return family + value
}

// weightPart asks for a mass, and says how it stands against the last one.
type weightPart struct {
	form *entryForm
	mass fyne.CanvasObject
	back *widgets.Text
	loss *fyne.Container // says that a vet should hear of the mass
	gut  care.Gut
	open bool               // what its gut held is to be said, be it that nobody knows
	with model.InstrumentID // the scale
}

// unsaid is what a choice holds where none was made yet.
const unsaid = "unsaid"

func newWeightPart(f *entryForm, w care.Weight) part {
	p := &weightPart{form: f, gut: w.Gut, with: w.With, back: widgets.Para("", look.Body, look.Ink), loss: widgets.Stack()}
	typed := w.Mass.Typed
	if typed == "" && !w.Mass.IsZero() {
		typed = f.window.Text().Mass(w.Mass)
	}
	if f.before == nil {
		p.with = f.page.life.usualScale()
		p.open = f.page.life.arrivesUnweighed()
	}
	p.mass = f.field("mass", typed, widgets.FieldOptions{Big: true, Unit: massUnit(f)})
	field := f.fields["mass"]
	field.OnTyped = func(string) { field.Accept(); p.readBack() }
	p.readBack()
	return p
}

func massUnit(f *entryForm) string {
	if f.window.Text().Units().Imperial {
		return f.say("animal.unit.ounces")
	}
	return f.say("animal.unit.grams")
}

// readBack says the mass as it was understood, large, with what it changed.
func (p *weightPart) readBack() {
	t := p.form.window.Text()
	typed := p.form.fields["mass"].Text()
	mass, err := t.ParseMass(typed)
	p.warn(mass, err == nil && strings.TrimSpace(typed) != "")
	last, known := p.last()
	switch {
	case strings.TrimSpace(typed) == "" && known:
		p.back.SetText(t.Say("animal.weight.last", map[string]any{"Mass": last.Mass, "Day": p.form.since(last.At)}))
	case err != nil || strings.TrimSpace(typed) == "":
		p.back.SetText("")
	case known:
		p.back.SetText(t.Say("animal.weight.back", map[string]any{"Mass": mass, "Change": particulars.Change(t, mass, last.Mass),
			"Share": share(t, mass, last.Mass), "Day": p.form.since(last.At)}))
	default:
		p.back.SetText(t.Mass(mass))
	}
}

// warn says where the mass tells of a loss that a vet should hear of.
func (p *weightPart) warn(mass model.Mass, typed bool) {
	p.loss.Objects = nil
	if page := p.form.page; typed && p.gut != care.GutFed {
		tables, now := p.form.window.Tables(), p.form.window.Now()
		more := care.Weighed{At: now, Weight: care.Weight{Mass: mass, Gut: p.gut}}
		if at, err := p.form.at(); err == nil {
			more.At = at
		}
		more.Doubtful = page.life.scales.AreDoubtful(p.with, more.At)
		if loss := page.life.Records(tables, now).LossWith(tables, more); loss.ForVet() {
			p.loss.Objects = []fyne.CanvasObject{widgets.Caution(particulars.Loss(page.window.Text(), tables, loss))}
		}
	}
	setVisible(p.loss, len(p.loss.Objects) > 0)
	p.loss.Refresh()
	if p.form.content != nil {
		p.form.content.Refresh()
	}
}

// last is the weighing that this one is held against.
func (p *weightPart) last() (care.Weighed, bool) {
	life := p.form.page.life
	if before := p.form.before; before != nil {
		for i := range life.Days.Entries {
			if life.Days.Entries[i].ID == before.ID.ID {
				return life.weightBefore(i)
			}
		}
	}
	return life.weightBefore(-1)
}

func (p *weightPart) content() fyne.CanvasObject {
	t := p.form.window.Text()
	words := func(g care.Gut) string { return t.Say(orUnknown("care.gut.", string(g))) }
	pick := particulars.NewPick(p.form.window, p.form.say("field.gut"), particulars.Capital(words(care.GutUnknown)), texts(care.Guts()), choices(care.Guts(), words), string(p.gut))
	pick.OnPicked = func() { p.gut, p.open = care.Gut(pick.Value()), false; p.readBack() }
	gut := widgets.Col(look.S4, pick.Container)
	if p.open {
		pick.Set(unsaid)
		gut.Add(widgets.Para(p.form.say("newcomers.weigh-gut"), look.Note, look.Soft))
	}
	return widgets.Col(look.S12, widgets.Col(look.S4, p.mass, p.back), p.loss, gut, p.scale())
}

func (p *weightPart) first() fyne.Focusable { return p.form.fields["mass"].Focusable() }

func (p *weightPart) body(beside care.Beside) (care.Body, error) {
	mass, err := p.form.window.Text().ParseMass(p.form.fields["mass"].Text())
	if err == nil && p.open {
		err = &model.Refusal{Field: "gut", Reason: "text.empty", Answer: model.Mend}
	}
	return care.Weight{Mass: mass, Gut: p.gut, With: p.with, Beside: beside}, err
}

func texts[V ~string](values []V) []string {
	out := make([]string, len(values))
	for i, v := range values {
		out[i] = string(v)
	}
	return out
}

func choices[V ~string](values []V, words func(V) string) []widgets.Choice {
	out := make([]widgets.Choice, len(values))
	for i, v := range values {
		out[i] = widgets.Choice{Label: particulars.Capital(words(v))}
	}
	return out
}

// mealPart asks what was offered and what became of it.
type mealPart struct {
	form    *entryForm
	meal    care.Meal
	outcome *particulars.Few
	prey    *particulars.Pick
	size    *particulars.Pick
	batch   *particulars.BatchPick // nil: there is no stock
	up      fyne.CanvasObject
	caution fyne.CanvasObject
	wash    fyne.CanvasObject // where prey was brought up
	offer   meals.Offering
	band    *fyne.Container // what one meal may be, and what speaks against food now
	inside  *fyne.Container
}

func newMealPart(f *entryForm, m care.Meal, fresh bool) part {
	if fresh {
		m = care.Meal{Prey: f.page.life.usualPrey()} // what became of it is said each time
	}
	p := &mealPart{form: f, meal: m, band: widgets.Stack()}
	p.read()
	t := f.window.Text()
	prey := func(v care.Prey) string { return t.Say("care.prey." + string(v)) }
	size := func(v care.PreySize) string { return t.Say("care.prey-size." + string(v)) }
	unsaid := particulars.Capital(f.say("particulars.unsaid"))
	p.prey = particulars.NewPick(f.window, f.say("field.prey"), unsaid, texts(care.Preys()), choices(care.Preys(), prey), string(m.Prey))
	p.size = particulars.NewPick(f.window, f.say("field.prey-size"), unsaid, texts(care.PreySizes()), choices(care.PreySizes(), size), string(m.Size))
	p.batch = particulars.NewBatchPick(f.window, m.Batch)
	if p.batch != nil {
		p.batch.OnPicked = p.ofBatch
	}
	p.up = f.field("brought-up", particulars.Typed(f.window, m.BroughtUp), widgets.FieldOptions{Hint: f.say("particulars.hint.date")})
	p.caution = widgets.Caution(f.say("care.meal.live.caution"))
	p.wash = widgets.Col(look.S8, append(p.regurgitated(), f.cautionOf(knowledge.Waste))...)
	p.build()
	return p
}

// read reads what one meal may be, at the moment of the entry.
func (p *mealPart) read() {
	f := p.form
	at, except := f.window.Now(), model.EntryID{}
	if f.before != nil {
		at, except = f.before.At, f.before.ID
	}
	err := f.window.Collection().View(func(v model.View) (err error) {
		p.offer, err = meals.Read(f.window.Tables(), v, f.page.life.ID, at, except)
		return err
	})
	if err != nil {
		f.window.Fault("meals.fault", err)
	}
}

// ofBatch takes over what is known of the batch that was picked.
func (p *mealPart) ofBatch() {
	b, picked := p.batch.Batch()
	if !picked {
		return
	}
	p.prey.Set(string(b.Prey))
	if b.Size != "" {
		p.size.Set(string(b.Size))
	}
	if !b.Each.IsZero() {
		p.form.fields["prey-mass"].SetText(p.form.window.Text().Mass(b.Each))
	}
	p.judge()
}

// regurgitated is what the tables say of prey brought up now. A meal that is kept
// already says it below its own form.
func (p *mealPart) regurgitated() []fyne.CanvasObject {
	f, tables := p.form, p.form.window.Tables()
	if f.before != nil {
		return nil
	}
	now := f.window.Now()
	said := f.page.life.Records(tables, now).Says(tables, care.Entry{At: now, Body: care.Meal{Outcome: care.Regurgitated}})
	return f.page.verdictParts(said)
}

func (p *mealPart) build() {
	f, t := p.form, p.form.window.Text()
	each, count := p.meal.Each.Typed, ""
	if each == "" && !p.meal.Each.IsZero() {
		each = t.Mass(p.meal.Each)
	}
	if p.meal.Count > 0 {
		count = strconv.Itoa(p.meal.Count)
	}
	outcomes := make([]string, len(care.Outcomes()))
	for i, o := range care.Outcomes() {
		outcomes[i] = particulars.Capital(t.Say("care.outcome." + string(o)))
	}
	p.outcome = particulars.NewFew(f.say("field.outcome"), texts(care.Outcomes()), outcomes, string(p.meal.Outcome), func(o string) { p.meal.Outcome = care.Outcome(o); p.show() }).Numbered()
	stock := fyne.CanvasObject(widgets.Space(0, 0))
	if p.batch != nil {
		stock = p.batch.Container
	}
	p.inside = widgets.Col(look.S12, p.outcome.Container,
		p.up, p.wash, stock,
		widgets.RowTop(look.S8, widgets.GrowBy(1, p.prey.Container), widgets.GrowBy(1, p.size.Container)),
		widgets.RowTop(look.S8, widgets.GrowBy(1, f.field("count", count, widgets.FieldOptions{})),
			widgets.GrowBy(1, f.field("prey-mass", each, widgets.FieldOptions{Unit: massUnit(f)}))),
		p.band,
		particulars.NewFew(f.say("field.prey-state"), texts(care.PreyStates()), preyStates(t), string(p.meal.State),
			func(s string) { p.meal.State = care.PreyState(s); p.show() }).Optional().Container,
		p.caution)
	for _, name := range []string{"count", "prey-mass"} {
		field := f.fields[name]
		field.OnTyped = func(string) { field.Accept(); p.judge() }
	}
	p.show()
	p.judge()
}

// judge says how much prey one meal of this animal is, louder where more is typed,
// and from when on food is offered again.
func (p *mealPart) judge() {
	t, m := p.form.window.Text(), p.meal
	m.Each, _ = t.ParseMass(p.form.fields["prey-mass"].Text()) // what is none is said when it is kept
	m.Count, _ = t.ParseCount(p.form.fields["count"].Text(), mostPrey)
	said := widgets.Col(look.S8)
	if o := p.offer; p.form.before == nil && o.From > p.form.window.Now().Day() {
		said.Add(widgets.Caution(p.form.say("meals.waits", wording.Gaps{"Up": t.DayShort(o.BroughtUp), "From": t.DayShort(o.From)})))
	}
	if band := particulars.PreyBand(t, p.offer); band != "" {
		if m.Total().Milligrams > p.offer.Band.Most.Milligrams {
			said.Add(widgets.Caution(band))
		} else {
			said.Add(widgets.Para(band, look.Note, look.Soft))
		}
	}
	p.band.Objects = []fyne.CanvasObject{said}
	setVisible(p.band, len(said.Objects) > 0)
	if p.form.content != nil {
		p.form.content.Refresh()
	}
}

// preyStates are the states of prey in words.
func preyStates(t *wording.Text) []string {
	var words []string
	for _, s := range care.PreyStates() {
		words = append(words, particulars.Capital(t.Say("care.prey-state."+string(s))))
	}
	return words
}

// show asks for the day of a regurgitation only where there was one, and warns
// of live prey.
func (p *mealPart) show() {
	setVisible(p.up, p.meal.Outcome == care.Regurgitated)
	setVisible(p.wash, p.meal.Outcome == care.Regurgitated)
	setVisible(p.caution, p.meal.State == care.Live)
	if p.inside != nil {
		p.inside.Refresh()
	}
	if p.form.content != nil {
		p.form.content.Refresh()
	}
}

func (p *mealPart) content() fyne.CanvasObject { return p.inside }

// first is nothing: the figures choose what became of the prey.
func (p *mealPart) first() fyne.Focusable { return nil }

// figure implements figured.
func (p *mealPart) figure(n int) { p.outcome.Choose(n - 1) }

func (p *mealPart) body(beside care.Beside) (care.Body, error) {
	t, m := p.form.window.Text(), p.meal
	if p.batch != nil {
		m.Batch = p.batch.ID()
	}
	m.Prey, m.Size, m.Beside = care.Prey(p.prey.Value()), care.PreySize(p.size.Value()), beside
	m.Each, m.Count, m.BroughtUp = model.Mass{}, 0, model.Date{}
	var err error
	if typed := strings.TrimSpace(p.form.fields["prey-mass"].Text()); typed != "" {
		if m.Each, err = t.ParseMass(typed); err != nil {
			return m, particulars.At("prey-mass", err)
		}
	}
	if typed := strings.TrimSpace(p.form.fields["count"].Text()); typed != "" {
		if m.Count, err = t.ParseCount(typed, mostPrey); err != nil {
			return m, err
		}
	}
	if m.Outcome == care.Regurgitated {
		m.BroughtUp, err = particulars.ReadDate(p.form.window, "brought-up", p.form.fields["brought-up"].Text())
	}
	return m, err
}

// mostPrey is the most prey items that one meal takes.
const mostPrey = 100

// shedPart asks how a skin came off. Of eye caps and tail tip it takes nothing for
// granted: that nobody looked is chosen too.
type shedPart struct {
	form *entryForm
	shed care.Shed
	said map[string]bool // the fields of which something was chosen
}

func newShedPart(f *entryForm, s care.Shed) part {
	was := f.before != nil
	return &shedPart{f, s, map[string]bool{eyeCaps: was, tailTip: was}}
}

// The fields that every shed asks of.
const (
	eyeCaps = "stuck-eye-caps"
	tailTip = "stuck-tail-tip"
)

func (p *shedPart) content() fyne.CanvasObject {
	t := p.form.window.Text()
	told := func(name string, of *care.Told) fyne.CanvasObject {
		chosen := care.Told("unsaid") // none of the answers
		if p.said[name] {
			chosen = *of
		}
		return few(p.form, "field."+name, []care.Told{care.No, care.Yes, care.NotLooked},
			func(v care.Told) string { return t.Say(orUnknown("care.told.", string(v))) }, chosen, func(v care.Told) { *of, p.said[name] = v, true })
	}
	return widgets.Col(look.S12,
		few(p.form, "field.skin", []care.Skin{care.Whole, care.InPieces, care.SkinNotLooked},
			func(v care.Skin) string { return t.Say(orUnknown("care.skin.", string(v))) }, p.shed.Skin, func(v care.Skin) { p.shed.Skin = v }),
		told(eyeCaps, &p.shed.StuckEyeCaps), told(tailTip, &p.shed.StuckTailTip))
}

func (p *shedPart) first() fyne.Focusable { return nil }

func (p *shedPart) body(beside care.Beside) (care.Body, error) {
	s := p.shed
	s.Beside = beside
	for _, name := range []string{eyeCaps, tailTip} {
		if !p.said[name] {
			return s, &model.Refusal{Field: name, Reason: "choice.empty", Answer: model.Mend}
		}
	}
	return s, nil
}

// wastePart asks what was seen of faeces and urates.
type wastePart struct {
	form   *entryForm
	waste  care.Waste
	inside *fyne.Container
}

func newWastePart(f *entryForm, w care.Waste) part {
	w.Faeces, w.Urates = slices.Clone(w.Faeces), slices.Clone(w.Urates)
	p := &wastePart{form: f, waste: w, inside: widgets.Stack()}
	p.show()
	return p
}

// show draws the chips anew; "none seen" stands alone.
func (p *wastePart) show() {
	group := func(caption, family string, offered []care.Trait, chosen *[]care.Trait) fyne.CanvasObject {
		chips := widgets.Wrap(look.S8)
		for _, trait := range offered {
			on := slices.Contains(*chosen, trait)
			chips.Add(widgets.Chip("", particulars.Capital(p.form.say(family+string(trait))), on, func() {
				*chosen = toggled(*chosen, trait)
				p.show()
			}))
		}
		return widgets.Col(look.S8, widgets.Line(p.form.say(caption), look.NoteBold, look.Soft), chips)
	}
	p.inside.Objects = []fyne.CanvasObject{widgets.Col(look.S16,
		group("field.faeces", "care.faeces.", care.FaecesTraits(), &p.waste.Faeces),
		group("field.urates", "care.urates.", care.UratesTraits(), &p.waste.Urates), widgets.Para(p.form.lastDroppings(), look.Note, look.Soft), p.form.cautionOf(knowledge.Waste))}
	p.inside.Refresh()
}

// toggled puts a trait in or takes it out; "none seen" drives out the others,
// and they it.
func toggled(traits []care.Trait, trait care.Trait) []care.Trait {
	if i := slices.Index(traits, trait); i >= 0 {
		return slices.Delete(slices.Clone(traits), i, i+1)
	}
	if trait == care.NoneSeen {
		return []care.Trait{trait}
	}
	return append(slices.DeleteFunc(slices.Clone(traits), func(t care.Trait) bool { return t == care.NoneSeen }), trait)
}

func (p *wastePart) content() fyne.CanvasObject { return p.inside }
func (p *wastePart) first() fyne.Focusable      { return nil }

func (p *wastePart) body(beside care.Beside) (care.Body, error) {
	w := p.waste
	w.Beside = beside
	return w, nil
}

// notePart is words alone.
type notePart struct{ form *entryForm }

func (p notePart) content() fyne.CanvasObject {
	text := ""
	if p.form.before != nil {
		text = besideOf(p.form.before.Body).Note
	}
	return p.form.field("note", text, widgets.FieldOptions{Rows: 6})
}

func (p notePart) first() fyne.Focusable { return p.form.fields["note"].Focusable() }

func (p notePart) body(beside care.Beside) (care.Body, error) {
	return care.Note{Text: strings.TrimSpace(p.form.fields["note"].Text()), Photos: beside.Photos}, nil
}

// photoPart is pictures in a pose, with a caption.
type photoPart struct {
	form *entryForm
	said care.Photo // with what the form does not ask
	pose *particulars.Few
}

func newPhotoPart(f *entryForm, b care.Photo) *photoPart {
	p := &photoPart{form: f, said: b}
	p.pose = particulars.PoseOf(f.window, b.Pose, func(pose knowledge.PoseID) { p.said.Pose = pose })
	return p
}

func (p *photoPart) content() fyne.CanvasObject {
	return widgets.Col(look.S16, widgets.Para(p.form.say("animal.form.photo-how"), look.Note, look.Soft), p.pose.Container)
}

func (p *photoPart) first() fyne.Focusable { return nil }

func (p *photoPart) body(beside care.Beside) (care.Body, error) {
	b := p.said
	b.Photos, b.Caption = beside.Photos, beside.Note
	if at, err := p.form.at(); err == nil && !p.form.camera.IsZero() && at.Day() == p.form.camera.Day() {
		b.Dated = care.ByCamera
	}
	return b, nil
}

func setVisible(o fyne.CanvasObject, yes bool) {
	if yes {
		o.Show()
	} else {
		o.Hide()
	}
}
