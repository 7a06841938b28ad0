package tray

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/chances"
	"coilward/model/knowledge"
	"coilward/model/samples"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// reportForm enters one report of a lab: its number and day once, a key per cell.
type reportForm struct {
	*form
	sheet  *samples.Sheet
	grid   *grid
	keys   []*fyne.Container // the figures of the outcomes, in sight while the sheet has the keys
	back   *fyne.Container   // what stands in the sheet, read back in words
	files  *fyne.Container
	by     *methods
	would  *effects
	photos []model.PhotoID
}

func newReportForm(p *Page, some []Sample) *reportForm {
	f := &reportForm{form: newForm(p).about(some), back: widgets.Stack(), files: widgets.Stack()}
	f.sheet = samples.NewSheet(some)
	f.grid = newGrid(p, f)
	f.by = newMethods(p, some, f.sheet.Columns, map[knowledge.AgentID]knowledge.Method{})
	f.would = newEffects(p, f.supposed, func() {
		if f.Content != nil {
			f.Content.Refresh()
		}
	})
	number := f.form.Field("report", "", widgets.FieldOptions{})
	f.Named("report").OnEnter = func() { p.window.Focus(f.grid) }
	day := f.dayField("reported", p.tray.Today)
	sum := f.form.Field("detected-count", "", widgets.FieldOptions{Label: p.say("tray.sum"), Hint: p.say("tray.sum-hint")})
	parts := []fyne.CanvasObject{widgets.Para(p.words().labsOf(some), look.Body, look.Soft),
		widgets.RowTop(look.S12, widgets.Grow(number), widgets.Grow(day)), f.grid, f.back, sum, f.would.Container, f.by.Container, f.files}
	f.Beside = f.legend()
	f.Chosen = func() string {
		said := fmt.Sprint(f.photos, f.by.chosen)
		f.sheet.Each(func(_ samples.Cell, o samples.Outcome) { said += " " + string(o) })
		return said
	}
	f.Command = f.make
	f.Done = func() {
		var found []model.SampleID
		f.sheet.Detected(func(row Sample, _ []knowledge.AgentID) { found = append(found, row.ID) })
		p.kept(idsOf(f.entered())...)
		p.open(found) // what was detected is in sight, with what to do now
	}
	f.by.changed = func() {
		f.would.ask()
		if f.Content != nil {
			f.Content.Refresh()
		}
	}
	f.changed()
	f.showFiles()
	f.settle(p.say("tray.do.enter"), p.say("tray.keep.enter"), parts...)
	return f
}

// labsOf are the labs of samples, each once.
func (w words) labsOf(some []Sample) string {
	var said []string
	seen := map[model.PersonID]bool{}
	for _, s := range some {
		if !s.Lab.IsZero() && !seen[s.Lab] {
			seen[s.Lab] = true
			said = append(said, w.person(s.Lab))
		}
	}
	return strings.Join(said, ", ")
}

// toSum brings the keys to the sum, and it into sight.
func (f *reportForm) toSum() {
	sum := f.Named("detected-count")
	f.page.window.Focus(sum.Focusable())
	widgets.Reveal(f.Content, sum.Container)
}

// legend are the outcomes, each with the key that enters it, to be pressed as well. The
// keys show while they are the sheet's: in a field a figure is part of what is typed.
func (f *reportForm) legend() fyne.CanvasObject {
	outcomes := widgets.Wrap(look.S8)
	for i, o := range samples.Outcomes() {
		word, key := f.page.words().outcome(o), widgets.KeyCap(strconv.Itoa(i+1))
		key.Hide()
		f.keys = append(f.keys, key)
		content := widgets.Fix(0, 32, widgets.Middle(widgets.Pad(widgets.Row(look.S8, widgets.Line(word, look.Body, look.Ink), widgets.Fix(20, 20, key)), 0, look.S8, 0, look.S12)))
		outcomes.Add(widgets.NewPress(word, content, func(s widgets.State) widgets.Ground {
			ground := widgets.Ground{Fill: look.Sheet, Line: look.Edge, Width: 1, Radius: look.RBase}
			if s.Pointed {
				ground.Fill = look.Wash
			}
			return ground
		}, func() { f.grid.put(o) }))
	}
	return outcomes
}

// showKeys shows which key enters which outcome, or no longer.
func (f *reportForm) showKeys(on bool) {
	for _, key := range f.keys {
		key.Hidden = !on
		key.Refresh()
	}
}

// changed reads back what stands in the sheet.
func (f *reportForm) changed() {
	w := f.page.words()
	var counts []string
	for _, o := range samples.Outcomes() {
		if n := f.sheet.Count(o); n > 0 {
			counts = append(counts, w.Number(int64(n))+" "+w.outcome(o))
		}
	}
	if n := f.sheet.Count(samples.Pending); n > 0 {
		counts = append(counts, w.Count("tray.cells-empty", n))
	}
	lines := []fyne.CanvasObject{widgets.Para(strings.Join(counts, ", "), look.Body, look.Ink)}
	f.sheet.Detected(func(row Sample, of []knowledge.AgentID) {
		said := w.called(row) + ": " + w.outcome(samples.Detected) + ", " + w.agents(of)
		lines = append(lines, widgets.RowTop(look.S8, widgets.NewSign("today!", 16, look.Today, look.Sheet), widgets.Grow(widgets.Para(said, look.BodyBold, look.Today))))
	})
	if f.sheet.Count(samples.NotDetected) > 0 {
		lines = append(lines, widgets.Para(w.Say("tray.not-proof"), look.Note, look.Soft))
	}
	if n := f.sheet.Count(samples.Inconclusive) + f.sheet.Count(samples.Inhibited) + f.sheet.Count(samples.NotDone); n > 0 {
		lines = append(lines, widgets.Para(w.Count("tray.say-nothing", n), look.Note, look.Soft))
	}
	f.back.Objects = []fyne.CanvasObject{widgets.Col(look.S4, lines...)}
	f.would.ask()
	if f.Content != nil {
		f.Content.Refresh()
	}
}

// showFiles shows the files of the report, each with a way to take it off again.
func (f *reportForm) showFiles() {
	p := f.page
	parts := []fyne.CanvasObject{widgets.Row(0, widgets.Button(widgets.Quiet, widgets.Act{Label: p.say("tray.attach"), Icon: "papers", Do: func() {
		p.window.ChooseFile(particulars.ReportEndings(), func(path string) { f.attach(path) })
	}}), widgets.Fill())}
	if len(f.photos) > 0 {
		parts = append(parts, particulars.ReportStrip(p.window, p.thumbs, f.photos, func(id model.PhotoID) {
			f.photos = slices.DeleteFunc(f.photos, func(one model.PhotoID) bool { return one == id })
			f.showFiles()
		}))
	}
	f.files.Objects = []fyne.CanvasObject{widgets.Col(look.S8, parts...)}
	f.files.Refresh()
	if f.Content != nil {
		f.Content.Refresh()
	}
}

// attach keeps files of the report.
func (f *reportForm) attach(paths ...string) {
	particulars.KeepReports(f.page.window, paths, func(ids []model.PhotoID, err error) {
		for _, id := range ids {
			if !slices.Contains(f.photos, id) {
				f.photos = append(f.photos, id)
			}
		}
		f.showFiles()
		if err != nil {
			f.Refuse(err)
		}
	})
}

// supposed are the answers that stand in the sheet.
func (f *reportForm) supposed() (all []chances.Supposed) {
	for i, row := range f.sheet.Rows {
		for _, found := range f.sheet.Found(i) {
			all = append(all, chances.Supposed{Sample: row.ID, Of: found.Of, Outcome: found.Outcome, Method: f.by.chosen[found.Of]})
		}
	}
	return all
}

// entered are the samples of which something was entered.
func (f *reportForm) entered() (all []Sample) {
	for i, row := range f.sheet.Rows {
		if len(f.sheet.Found(i)) > 0 {
			all = append(all, row)
		}
	}
	return all
}

// make makes the command, when the sum is right.
func (f *reportForm) make(a place.Answer) (model.Command, error) {
	p := f.page
	at, err := f.moment("reported", model.Moment{})
	if err != nil {
		return nil, err
	}
	c := samples.Enter{Tables: p.window.Tables(), At: at, Number: f.Text("report"), Photos: f.photos, Confirmed: a.Confirmed}
	for i, row := range f.sheet.Rows {
		if found := f.sheet.Found(i); len(found) > 0 {
			for n := range found {
				found[n].Method = f.by.chosen[found[n].Of]
			}
			c.Rows = append(c.Rows, samples.Row{On: samples.On{ID: row.ID, Base: row.Revision}, Found: found})
		}
	}
	if len(c.Rows) == 0 {
		return nil, &model.Refusal{Field: "outcome", Reason: "tray.sheet-empty", Answer: model.Mend}
	}
	if err := f.sum(); err != nil {
		return nil, err
	}
	return c, nil
}

// sum holds what was entered against what the sheet itself counts.
func (f *reportForm) sum() error {
	typed, entered := f.Text("detected-count"), f.sheet.Count(samples.Detected)
	if typed == "" {
		return &model.Refusal{Field: "detected-count", Reason: "tray.sum-missing", Answer: model.Mend}
	}
	n := 0
	if typed != "0" {
		var err error
		if n, err = f.page.window.Text().ParseCount(typed, samples.MaxMany*samples.MaxResults); err != nil {
			return particulars.At("detected-count", err)
		}
	}
	if n != entered {
		return &model.Refusal{Field: "detected-count", Value: typed, Reason: "tray.sum", Gaps: map[string]model.Gap{"Sheet": model.CountGap(n), "Entered": model.CountGap(entered)}, Answer: model.Mend}
	}
	return nil
}
