package climate

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"

	"coilward/assets"
	"coilward/export/logger"
	"coilward/model"
	"coilward/model/climate"
	"coilward/model/knowledge"
	"coilward/model/wording"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// listed is how many bad lines are shown, and how many readings for a look.
const (
	listed  = 100
	preview = 6
)

// bring is a file of a logger that is being taken in.
type bring struct {
	page    *Page
	path    string
	layout  logger.Layout
	rec     *logger.Recording // nil: its columns are not known yet
	why     *model.Refusal    // why it is nil
	answers logger.Answers
	settled logger.Settled
	zone    climate.Zone // empty: not chosen
	with    *particulars.Pick
	// fresh are the readings that the instrument has not brought yet, and how many of the
	// others are there alike or otherwise.
	fresh           int
	same, differing int
	problem         string
	at              part               // what the problem is of
	unkept          particulars.Unkept // from when it came in sight
}

// part is what has to be said of a file, and where it is refused.
type part uint8

const (
	atFoot part = iota // the file as a whole
	atZone
	atWith
	atAnswers
)

// endings are those of files that loggers write.
func endings() []string { return []string{".csv", ".txt", ".tsv", ".log"} }

func (p *Page) choose() {
	if p.of.IsZero() || p.window.ReadOnly() || p.form != nil && p.form.Holds() { // Holds says why
		return
	}
	if p.bring != nil && p.bring.unkept.Touched() {
		p.bring.refuse(atFoot, p.bring.first())
		return
	}
	p.window.ChooseFile(endings(), p.open)
}

// DropsTables implements place.TableDropper: a spreadsheet that is dropped here is what a
// logger wrote.
func (p *Page) DropsTables() bool { return true }

// Dropped implements place.Dropper: what is not taken is said.
func (p *Page) Dropped(paths []string) {
	why := ""
	switch {
	case len(paths) == 0:
		return
	case p.window.ReadOnly():
		why = p.say("climate.drop-read-only")
	case p.of.IsZero():
		why = p.say("climate.no-place-what")
	case p.form != nil && p.form.Holds():
		why = p.say("climate.drop-form")
	case p.bring != nil && p.bring.unkept.Touched():
		why = p.bring.first()
	}
	if why != "" {
		p.window.Tell(p.say("climate.file-not"), why)
		return
	}
	if len(paths) > 1 {
		p.window.Tell(p.say("climate.file"), p.window.Text().Count("climate.drop-more", len(paths)-1, wording.Gaps{"File": filepath.Base(paths[0])}))
	}
	p.open(paths[0])
}

// reader is a file that is read, in parts, off Fyne's goroutine.
func (b *bring) read(ctx context.Context, progress func(float64), look bool) error {
	name := filepath.Base(b.path)
	file, err := os.Open(b.path)
	if err != nil {
		return fmt.Errorf("open %s: %w", name, err)
	}
	defer func() { _ = file.Close() }()
	info, err := file.Stat()
	if err != nil {
		return fmt.Errorf("open %s: %w", name, err)
	}
	if !info.Mode().IsRegular() {
		return &model.Refusal{Field: "file", Value: name, Reason: "table.no-file", Answer: model.Mend}
	}
	if look {
		languages, err := wording.Load(assets.Text())
		if err != nil {
			return err
		}
		var texts []*wording.Text
		for _, code := range languages.Codes() {
			texts = append(texts, languages.In(code, wording.Units{}))
		}
		if b.layout, err = logger.Look(file, name, logger.NewWords(texts...)); err != nil {
			if r := (*model.Refusal)(nil); errors.As(err, &r) && len(b.layout.Roles) > 0 && r.Reason == "logger.columns" {
				b.why = r
				return nil
			}
			return err
		}
		if _, err := file.Seek(0, 0); err != nil {
			return fmt.Errorf("read %s: %w", name, err)
		}
	}
	b.rec, b.why = nil, nil
	rec, err := logger.Read(file, name, b.layout, func(read int64) error {
		progress(float64(read) / float64(max(1, info.Size())))
		return ctx.Err()
	})
	if r := (*model.Refusal)(nil); errors.As(err, &r) && (r.Reason == "logger.columns" || r.Reason == "logger.mostly-bad") {
		b.why = r // other columns may be right
		return nil
	}
	b.rec = rec
	return err
}

// settle makes readings of what was read, and holds them against those that are there.
func (b *bring) settle(with model.InstrumentID) error {
	p := b.page
	now := p.window.Now()
	b.settled = b.rec.Settle(b.answers, now.Location(), now.UTC, p.window.Tables().Value(knowledge.ValueLoggerHottest))
	b.fresh, b.same, b.differing = len(b.settled.Readings), 0, 0
	if with.IsZero() || len(b.settled.Readings) == 0 {
		return nil
	}
	return p.window.Collection().View(func(v model.View) error {
		fresh, same, differing, err := climate.Fresh(v, with, b.settled.Readings)
		b.fresh, b.same, b.differing = len(fresh), same, differing
		return err
	})
}

// open reads a file and shows what is in it; nothing is written.
func (p *Page) open(path string) {
	b := &bring{page: p, path: path}
	var only model.InstrumentID
	if all := p.sensors(); len(all) == 1 {
		only = all[0].ID
	}
	b.with = p.with("", only).Hint(p.say("climate.choose-with"))
	b.with.OnPicked = func() { b.work(false, false) }
	if where, _ := p.kit.House.Place(p.of); !where.Kind.Houses() {
		b.zone = climate.RoomAir
	}
	b.work(true, true)
}

// work reads the file where that is asked for, settles it and shows it. What is worked on
// is a copy, so that what is in sight stays as it is until it is done.
func (b *bring) work(read, look bool) {
	p := b.page
	p.asked++
	asked, next, with := p.asked, *b, p.picked(b.with)
	p.window.Task(p.say("climate.reading-file", wording.Gaps{"File": filepath.Base(b.path)}), func(ctx context.Context, progress func(float64)) error {
		if read {
			if err := next.read(ctx, progress, look); err != nil {
				return err
			}
		}
		if next.rec == nil {
			return nil
		}
		return next.settle(with)
	}, func(err error) {
		r := (*model.Refusal)(nil)
		switch {
		case asked != p.asked || errors.Is(err, context.Canceled):
		case errors.As(err, &r):
			p.window.Tell(p.say("climate.file-not"), p.window.Text().Refusal(r))
		case err != nil:
			p.window.Fault("climate.fault-file", err)
		default:
			*b = next
			p.bring, p.form, b.problem, b.at = b, nil, "", atFoot
			if look {
				b.unkept = particulars.NewUnkept(b.chosen)
			}
			p.build()
		}
	})
}

// chosen is what was said of the file.
func (b *bring) chosen() string {
	return fmt.Sprint(b.zone, b.with.Value(), b.answers, b.layout.Roles)
}

// leave leaves the file, and the first time says instead that what was said of it is not
// kept.
func (b *bring) leave() {
	p := b.page
	if !b.unkept.Leaves(func() { b.refuse(atFoot, p.say("particulars.leave")) }) {
		return
	}
	p.bring = nil
	p.asked++
	p.build()
	p.window.Focus(nil)
}

// first says that it is taken in or left before another file is.
func (b *bring) first() string {
	return b.page.say("climate.file-first", wording.Gaps{"File": filepath.Base(b.path)})
}

// refuse says why it cannot go on, at the part that this is of.
func (b *bring) refuse(at part, why string) {
	b.problem, b.at = why, at
	b.page.build()
	if at == atWith {
		b.with.Refuse(why)
	}
}

// missing is the first question or choice that is missing, from the top; why is empty where
// it can be taken in.
func (b *bring) missing() (at part, why string) {
	p := b.page
	switch {
	case b.rec == nil:
		return atFoot, p.say("refusal.logger.columns")
	case b.zone == "":
		return atZone, p.say("climate.missing-zone")
	case len(p.sensors()) == 0:
		return atFoot, p.say("climate.no-sensor")
	case p.picked(b.with).IsZero():
		return atWith, p.say("climate.missing-with")
	case b.settled.Open.Any():
		return atAnswers, p.say("climate.missing-answers")
	case b.fresh == 0:
		return atFoot, p.say("climate.nothing-new")
	}
	return atFoot, ""
}

func (b *bring) typed(k *fyne.KeyEvent) {
	switch k.Name {
	case fyne.KeyEscape:
		b.leave()
	case fyne.KeyReturn, fyne.KeyEnter:
		b.take()
	}
}

// take takes the readings in.
func (b *bring) take() {
	p := b.page
	if at, why := b.missing(); why != "" {
		b.refuse(at, why)
		return
	}
	c := climate.TakeIn{Key: climate.Key{Place: p.of, Zone: b.zone, With: p.picked(b.with)}, By: p.window.By(), Readings: b.settled.Readings}
	p.window.Do(func(place.Answer) model.Command { return c }, func(err error) {
		r := (*model.Refusal)(nil)
		switch {
		case errors.As(err, &r):
			b.refuse(atFoot, p.window.Text().Refusal(r))
		case err == nil:
			p.bring, p.last = nil, 0
			p.read()
			p.window.Focus(nil)
		}
	})
}

// found is what is in the file.
func (b *bring) found() fyne.CanvasObject {
	p, t := b.page, b.page.window.Text()
	column := widgets.Col(look.S12, widgets.Line(filepath.Base(b.path), look.Section, look.Ink))
	if b.rec == nil {
		why := p.say("refusal.logger.columns")
		if b.why != nil {
			why = t.Refusal(b.why)
		}
		column.Add(widgets.Para(why, look.Body, look.Today))
		column.Add(b.columns())
		return column
	}
	s := b.settled
	if n := len(s.Readings); n > 0 {
		column.Add(widgets.Para(t.Count("climate.found", n, wording.Gaps{"From": p.moment(s.Readings[0].At), "Until": p.moment(s.Readings[n-1].At)}), look.Body, look.Ink))
	} else {
		column.Add(widgets.Para(p.say("climate.found-none"), look.Body, look.Today))
	}
	for _, told := range []struct {
		key string
		n   int
	}{{"climate.found-bad", s.Bad}, {"climate.found-back", s.Back}, {"climate.found-twice", s.Twice}, {"climate.found-same", b.same}, {"climate.found-differing", b.differing}} {
		if told.n > 0 {
			column.Add(widgets.Para(t.Count(told.key, told.n), look.Body, look.Ink))
		}
	}
	if s.Open.Any() {
		column.Add(widgets.Para(p.say("climate.found-open"), look.Body, look.Days))
	}
	rows := widgets.Col(0)
	for i, r := range s.Readings {
		if i == preview {
			break
		}
		said := []string{p.moment(r.At)}
		for _, m := range climate.Measures() {
			if value, ok := r.Value(m); ok {
				said = append(said, p.amount(m, value))
			}
		}
		rows.Add(widgets.Pad(widgets.Line(strings.Join(said, " · "), look.Body, look.Ink), look.S4, 0))
		rows.Add(widgets.HLine())
	}
	if len(s.Readings) > 0 {
		column.Add(widgets.Col(look.S4, widgets.Line(p.say("climate.first-readings"), look.NoteBold, look.Soft), rows))
	}
	column.Add(b.columns())
	if len(s.Faults) > 0 {
		column.Add(widgets.Line(p.say("climate.bad-lines"), look.Section, look.Ink))
		for i, f := range s.Faults {
			if i == listed {
				column.Add(widgets.Para(t.Count("climate.bad-more", max(s.Bad+s.Back-listed, 1)), look.Note, look.Soft))
				break
			}
			column.Add(widgets.Para(p.say("climate.bad-line", wording.Gaps{"Line": f.Line, "Why": t.Refusal(f.Refusal)}), look.Note, look.Ink))
		}
	}
	return column
}

// columns are what each column is taken for.
func (b *bring) columns() fyne.CanvasObject {
	p := b.page
	wrap := widgets.Wrap(look.S12)
	for i, role := range b.layout.Roles {
		name := strings.TrimSpace(b.layout.Names[i])
		if name == "" {
			name = p.say("climate.column", wording.Gaps{"Number": i + 1})
		}
		wrap.Add(widgets.Fix(220, 0, widgets.ChoiceField(name, p.say("logger.role."+string(role)), func() { b.chooseRole(i, name) })))
	}
	return widgets.Col(look.S8, widgets.Line(p.say("climate.columns"), look.NoteBold, look.Soft), wrap)
}

func (b *bring) chooseRole(column int, name string) {
	p := b.page
	roles := logger.Roles()
	options := make([]widgets.Choice, len(roles))
	for i, r := range roles {
		options[i] = widgets.Choice{Label: p.say("logger.role." + string(r))}
	}
	list := widgets.NewChoiceList(p.say("climate.search-role"), p.say("climate.search-none"), options)
	var leave func()
	list.OnChosen = func(i int) {
		leave()
		b.layout = b.layout.Choose(column, roles[i])
		b.work(true, false)
	}
	leave = p.window.ShowSheet(widgets.Sheet{Title: name, Content: list.Container, Height: 420, Cancel: p.say("climate.cancel"), First: list.Search().Focusable()})
}

// asked is what has to be said before it is taken in.
func (b *bring) asked() fyne.CanvasObject {
	p := b.page
	var column *fyne.Container
	said := widgets.Para(b.problem, look.Body, look.Today)
	refused := func(at part) {
		if b.problem != "" && b.at == at {
			column.Add(said)
		}
	}
	column = widgets.Col(look.S16, widgets.Para(p.say("climate.file-where", wording.Gaps{"Place": p.kit.Air.Title}), look.Body, look.Ink), p.zones(b.zone, func(z climate.Zone) {
		if b.zone = z; b.at == atZone {
			b.problem, b.at = "", atFoot
			said.Hide()
			column.Refresh()
		}
	}).Container)
	refused(atZone)
	if len(p.sensors()) == 0 {
		column.Add(widgets.Para(p.say("climate.no-sensor"), look.Body, look.Today))
		column.Add(widgets.Button(widgets.Plain, widgets.Act{Label: p.say("climate.to-instruments"), Icon: "gauge", Do: func() { p.window.Go(place.Route{To: place.Instruments}) }}))
	} else {
		column.Add(widgets.Col(look.S4, b.with.Container, widgets.Para(p.say("climate.with-what"), look.Note, look.Soft)))
	}
	if b.rec != nil {
		s := b.settled
		if s.Open.Unit || b.answers.Unit != "" {
			column.Add(few(p, "climate.ask-unit", "logger.unit.", []logger.Unit{logger.Celsius, logger.Fahrenheit}, b.answers.Unit, func(u logger.Unit) { b.answers.Unit = u; b.work(false, false) }))
		}
		if s.Open.Order || b.answers.Order != "" {
			column.Add(few(p, "climate.ask-order", "logger.order.", []logger.Order{logger.DayFirst, logger.MonthFirst}, b.answers.Order, func(o logger.Order) { b.answers.Order = o; b.work(false, false) }))
		}
		if s.Open.Clock || b.answers.Clock != "" {
			column.Add(few(p, "climate.ask-clock", "logger.clock.", []logger.Clock{logger.Follows, logger.Standard, logger.Summer, logger.UTC}, b.answers.Clock, func(c logger.Clock) { b.answers.Clock = c; b.work(false, false) }))
		}
	}
	refused(atAnswers)
	act := p.say("climate.take-in")
	if b.rec != nil && b.fresh > 0 {
		act = p.window.Text().Count("climate.take-in-count", b.fresh)
	}
	foot := widgets.Col(look.S8)
	if b.problem != "" && b.at == atFoot {
		foot.Add(said)
	}
	foot.Add(widgets.Big(widgets.Button(widgets.Primary, widgets.Act{Label: act, Key: "Enter", Do: b.take})))
	return particulars.Column(p.say("climate.file"), b.leave, column, foot)
}

// few is a question with few answers.
func few[T ~string](p *Page, caption, family string, values []T, chosen T, picked func(T)) fyne.CanvasObject {
	var all, words []string
	for _, v := range values {
		all, words = append(all, string(v)), append(words, p.say(family+string(v)))
	}
	return particulars.NewFew(p.say(caption), all, words, string(chosen), func(v string) { picked(T(v)) }).Container
}
