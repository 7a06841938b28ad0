package animal

import (
	"slices"
	"strconv"
	"time"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/chart"
	"coilward/model/knowledge"
	"coilward/model/samples"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/widgets"
	"coilward/ui/widgets/raster"
	"coilward/ui/widgets/yearstrip"
)

// The kinds of cell in the list of days.
const (
	entryCell = iota
	monthCell
)

// daysView is the list of days with the year strip over it.
type daysView struct {
	page  *Page
	list  *widgets.Roll
	strip *yearstrip.Strip
	only  []string
	chips *fyne.Container
	told  map[int]told // what was put into words already, by entry
}

func newDaysView(p *Page) *daysView {
	v := &daysView{page: p, chips: widgets.Stack()}
	v.list = widgets.NewRoll(0, 0, widgets.RollKind{Height: 52}, widgets.RollKind{Height: 44, Still: true})
	v.list.Make = v.make
	v.list.FillCell = v.fill
	v.list.Name = v.name
	v.list.OnOpen = func(i int) { p.edit(model.EntryID{ID: p.life.Days.Entries[p.life.Days.Lines[i].Entry].ID}) }
	v.list.OnScrolled = v.follow
	v.strip = yearstrip.New(chart.YearsData{}, raster.Style{Palette: look.Palette})
	v.strip.OnMonth = v.toMonth
	v.strip.Describe = v.describe
	return v
}

// forget drops what belongs to another animal.
func (v *daysView) forget() { v.only = nil }

func (v *daysView) load() {
	v.told = map[int]told{}
	v.page.life.Days.Only(v.only...)
	v.show()
}

// show puts the chosen lines into the list.
func (v *daysView) show() {
	lines := v.page.life.Days.Lines
	kinds := make([]int, len(lines))
	for i, l := range lines {
		if l.Heading {
			kinds[i] = monthCell
		}
	}
	v.list.SetItems(kinds)
	v.years()
	v.chips.Objects = []fyne.CanvasObject{v.kindChips()}
	v.chips.Refresh()
}

func (v *daysView) content() fyne.CanvasObject {
	life := v.page.life
	if len(life.Days.Entries) == 0 {
		return widgets.EmptyPage(nil, v.page.say("animal.days.empty"), v.page.say("animal.days.empty-what", map[string]any{"Animal": life.Name}),
			widgets.Act{Label: v.page.say("animal.act.check"), Icon: "check", Do: v.page.check},
			widgets.Act{Label: v.page.say("animal.act.weigh"), Icon: "weight", Do: func() { v.page.note("weight") }})
	}
	return widgets.Pad(widgets.Col(look.S8, widgets.Pad(widgets.Fix(0, 76, v.strip), 0, look.S12), widgets.Pad(v.chips, 0, look.S12), widgets.Grow(v.list)), look.S16, look.S12, 0, look.S12)
}

// kindChips keep the list to some kinds of entry; only kinds that occur are
// offered.
func (v *daysView) kindChips() fyne.CanvasObject {
	t := v.page.window.Text()
	row := widgets.Wrap(look.S8, widgets.Chip("", v.page.say("animal.days.all"), len(v.only) == 0, func() { v.keepTo() }))
	for _, kind := range v.page.life.Days.Kinds(kinds()) {
		on := slices.Contains(v.only, kind)
		row.Add(widgets.Chip(iconOf(kind), kindName(t, kind), on, func() {
			if on {
				v.keepTo(slices.DeleteFunc(slices.Clone(v.only), func(k string) bool { return k == kind })...)
			} else {
				v.keepTo(append(slices.Clone(v.only), kind)...)
			}
		}))
	}
	return row
}

func (v *daysView) keepTo(kinds ...string) {
	v.only = kinds
	v.page.life.Days.Only(kinds...)
	v.show()
	v.list.ScrollTo(0)
}

// years fills the strip: a column for each month, a dot where a finding was
// noted.
func (v *daysView) years() {
	first, counts := v.page.life.Days.Months()
	pad := int(first.Month()) - 1
	if len(counts) == 0 {
		first, pad = time.Date(v.year(), time.January, 1, 0, 0, 0, 0, time.UTC), 0
	}
	counts = append(make([]int, pad), counts...)
	marked := make([]bool, len(counts))
	for _, p := range v.page.life.Problems {
		for _, g := range p.Glimpses {
			year, month, _ := g.At.Day().Date()
			if i := (year-first.Year())*12 + int(month) - 1; g.Standing.Present() && i >= 0 && i < len(marked) {
				marked[i] = true
			}
		}
	}
	t := v.page.window.Text()
	v.strip.Data = chart.YearsData{FirstYear: first.Year(), Counts: counts, Marked: marked, From: 0, To: -1, Words: chart.Words{Calendar: t}}
	v.follow()
}

func (v *daysView) year() int {
	year, _, _ := v.page.today.Date()
	return year
}

// follow marks on the strip the months that are in sight.
func (v *daysView) follow() {
	lines := v.page.life.Days.Lines
	newest, oldest := v.list.First(), v.list.Last()
	if newest < 0 || oldest < newest || oldest >= len(lines) {
		v.strip.Refresh()
		return
	}
	index := func(l Line) int { return (l.Year-v.strip.Data.FirstYear)*12 + int(l.Month) - 1 }
	from, to := index(lines[oldest]), index(lines[newest])
	if from != v.strip.Data.From || to != v.strip.Data.To {
		v.strip.Data.From, v.strip.Data.To = from, to
		v.strip.Refresh()
	}
}

func (v *daysView) month(index int) (int, time.Month) {
	return v.strip.Data.FirstYear + index/12, time.Month(index%12 + 1)
}

func (v *daysView) toMonth(index int) {
	if line := v.page.life.Days.FindMonth(v.month(index)); line >= 0 {
		v.list.ScrollTo(line)
	}
}

func (v *daysView) describe(index int) string {
	year, month := v.month(index)
	return joined(v.page.window.Text().MonthYear(model.NewDay(year, month, 1)), v.page.window.Text().Count("animal.days.entries", v.strip.Data.Counts[index]))
}

// name is what a line is called.
func (v *daysView) name(i int) string {
	l := v.page.life.Days.Lines[i]
	if l.Heading {
		return v.page.window.Text().MonthYear(model.NewDay(l.Year, l.Month, 1))
	}
	return v.tell(l.Entry).title
}

// tell puts an entry into words once.
func (v *daysView) tell(entry int) told {
	line, there := v.told[entry]
	if !there {
		line = v.page.life.tell(v.page.window.Text(), entry)
		said := v.page.life.Said(v.page.window.Tables(), v.page.window.Now())
		line.level = max(line.level, said[model.EntryID{ID: v.page.life.Days.Entries[entry].ID}].Level)
		v.told[entry] = line
	}
	return line
}

func (v *daysView) make(kind int) widgets.RollRow {
	if kind == monthCell {
		return newMonthLine()
	}
	return newEntryLine()
}

func (v *daysView) fill(i int, cell widgets.RollRow) {
	t, l := v.page.window.Text(), v.page.life.Days.Lines[i]
	if l.Heading {
		cell.(*monthLine).show(t.MonthYear(model.NewDay(l.Year, l.Month, 1)), t.Count("animal.days.entries", l.Count))
		return
	}
	line, day := v.tell(l.Entry), v.page.life.Days.Entries[l.Entry].At.Day()
	_, _, date := day.Date()
	urgent := ""
	if line.level > knowledge.Nothing {
		urgent = t.Say("urgency." + line.level.String())
	}
	if line.detected {
		urgent = t.Say("samples.outcome." + string(samples.Detected))
	}
	clock := ""
	if at := v.page.life.Days.Entries[l.Entry].At; at.Precision == model.ToMinute {
		clock = t.Time(at)
	}
	cell.(*entryLine).show(strconv.Itoa(date), t.Say("animal.weekday."+strconv.Itoa(int(day.Weekday()))), clock, line, urgent,
		v.page.thumbs.Of(v.page.window, line.photo, particulars.Small))
}

// monthLine is the heading of a month.
type monthLine struct {
	*fyne.Container
	month, count *widgets.Text
}

func newMonthLine() *monthLine {
	m := &monthLine{month: widgets.Line("", look.Section, look.Ink), count: widgets.Line("", look.Note, look.Soft)}
	m.Container = widgets.Pad(widgets.Row(look.S12, m.month, m.count, widgets.Grow(widgets.MiddleUpright(widgets.HLine()))), look.S12, look.S12, look.S4, look.S12)
	return m
}

// Object implements widgets.RollRow.
func (m *monthLine) Object() fyne.CanvasObject { return m.Container }

func (m *monthLine) show(month, count string) {
	m.month.SetText(month)
	m.count.SetText(count)
	m.Refresh()
}

// entryLine is the line of one entry.
type entryLine struct {
	*fyne.Container
	date, weekday, clock, title, detail, urgent, side *widgets.Text
	icon, mark                                        *widgets.Icon
	step                                              *fyne.Container
	ground                                            *widgets.Box
	photo                                             *fyne.Container
	picture                                           fyne.Resource
}

func newEntryLine() *entryLine {
	e := &entryLine{
		date: widgets.Line("", look.BodyBold, look.Ink), weekday: widgets.Line("", look.Note, look.Faint), clock: widgets.Line("", look.Note, look.Faint),
		title: widgets.Line("", look.Body, look.Ink).Cuts(), detail: widgets.Line("", look.Note, look.Soft).Cuts(),
		urgent: widgets.Line("", look.Note, look.Ink), side: widgets.Line("", look.BodyBold, look.Ink),
		icon: widgets.NewIcon("note", 18, look.Ink), mark: widgets.NewSign("often!", 14, look.Often, look.OftenBg),
		ground: widgets.Filled(look.OftenBg, 14), photo: widgets.Stack(),
	}
	e.step = widgets.Fix(0, 28, e.ground, widgets.Pad(widgets.Row(6, e.mark, e.urgent), 0, look.S12, 0, 10))
	when := widgets.Fix(72, 0, widgets.Col(0, widgets.Row(look.S4, widgets.Fix(20, 0, e.date), e.weekday), e.clock))
	disc := widgets.Fix(32, 32, widgets.Filled(look.Well, 16), widgets.Middle(e.icon))
	e.Container = widgets.Pad(widgets.Row(look.S12, when, disc, widgets.Grow(widgets.Col(0, e.title, e.detail)), e.step, e.photo, e.side), 0, look.S12)
	return e
}

// Object implements widgets.RollRow.
func (e *entryLine) Object() fyne.CanvasObject { return e.Container }

func (e *entryLine) show(date, weekday, clock string, line told, urgent string, picture fyne.Resource) {
	e.date.SetText(date)
	e.weekday.SetText(weekday)
	e.clock.SetText(clock)
	setVisible(e.clock, clock != "")
	e.title.SetText(line.title)
	e.detail.SetText(line.detail)
	e.side.SetText(line.side)
	e.icon.SetName(line.icon)
	setVisible(e.detail, line.detail != "")
	setVisible(e.side, line.side != "")
	setVisible(e.step, urgent != "")
	if line.detected {
		e.urgent.SetText(urgent)
		e.mark.SetName("tube")
		e.mark.SetTone(look.Today)
		e.ground.SetGround(widgets.Ground{Fill: look.TodayBg, Radius: 14})
	} else if urgent != "" {
		u := urgencyOf(line.level)
		e.urgent.SetText(urgent)
		e.mark.SetName(u.Sign())
		e.mark.SetTone(u.Tone())
		e.ground.SetGround(widgets.Ground{Fill: u.Ground(), Radius: 14})
	}
	setVisible(e.photo, line.photo != "")
	if line.photo != "" && (picture != e.picture || len(e.photo.Objects) == 0) {
		e.picture = picture
		e.photo.Objects = []fyne.CanvasObject{widgets.PhotoTile(58, 38, picture)}
	}
	e.Refresh()
}

// urgencyOf is the mark of a level.
func urgencyOf(l knowledge.Level) widgets.Urgency { return particulars.Urgency(l) }
