package particulars_test

import (
	"slices"
	"testing"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/assumed"
	"coilward/model/collection"
	"coilward/model/knowledge"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/place"
	"coilward/ui/uitest"
	"coilward/ui/widgets"
)

// figuring is a page that shows the figures of a thing.
type figuring struct {
	window  place.Window
	beside  *fyne.Container
	form    *particulars.SideForm
	changed int
	left    bool
}

func (p *figuring) Content() fyne.CanvasObject {
	p.beside = widgets.Stack()
	particulars.NewAssumed(p.window, "serpentovirus", func(content *fyne.Container, form *particulars.SideForm) {
		p.form = form
		p.beside.Objects = []fyne.CanvasObject{widgets.RowFill(0, widgets.Grow(widgets.Space(0, 0)), widgets.Fix(460, 0, content))}
		p.beside.Refresh()
	}, func() { p.left = true }, func() { p.changed++ })
	return p.beside
}
func (p *figuring) Show(place.Route)          {}
func (p *figuring) Hide()                     {}
func (p *figuring) Changed(collection.Change) {}

func figured(t *testing.T, language string, l uitest.Look) (*uitest.Opened, *figuring) {
	t.Helper()
	var page *figuring
	w := uitest.Open(t, uitest.Setting{Look: l, Language: language, Place: place.Feeders, Make: func(w place.Window) place.Place {
		page = &figuring{window: w}
		return page
	}})
	w.Go(place.Route{To: place.Feeders})
	return w, page
}

func figuresOf(w *uitest.Opened) (f *assumed.Figures) {
	w.T.Helper()
	if err := w.Collection().View(func(v model.View) (err error) { f, err = assumed.ReadFigures(v, w.Tables()); return err }); err != nil {
		w.T.Fatal(err)
	}
	return f
}

// changeOf opens the form of a row.
func changeOf(w *uitest.Opened, p *figuring, row assumed.Row) {
	w.T.Helper()
	var acts []fyne.Tappable
	label, rows := w.Shell.Text().Say("assumed.change"), assumed.RowsOf(w.Tables(), "serpentovirus")
	uitest.Walk(p.beside, func(s uitest.Seen) bool {
		if press, is := s.Object.(*widgets.Press); is && slices.Contains(uitest.Texts(press), label) {
			acts = append(acts, press)
		}
		return true
	})
	if len(acts) != len(rows) {
		w.T.Fatalf("%d rows can be changed", len(acts))
	}
	acts[slices.Index(rows, row)].Tapped(nil)
}

// The spread is typed in cycles, the usable samples in a hundred.
func TestAssumed_TheSpreadIsInCycles(t *testing.T) {
	for language, typed := range map[string]string{"en": "2.5", "de": "2,5"} {
		w, page := figured(t, language, uitest.Look{Shine: look.ByDay, Width: 1280, Height: 800, Scale: 1})
		row := assumed.Row{Table: assumed.Sights, ID: "serpentovirus-swab"}
		changeOf(w, page, row)
		if page.form.Text("spread") != "3" || page.form.Text("usable") != "95" {
			t.Errorf("%s: spread %q, usable %q", language, page.form.Text("spread"), page.form.Text("usable"))
		}
		put(page, "why", "her lab says so")
		for _, wrong := range []string{"much", "0", "20.1", "101"} {
			put(page, "spread", wrong)
			page.form.Keep()
			if said := w.Shell.Text().Say("refusal.assumed.spread"); !w.Shows(said) || page.form.Text("spread") != wrong {
				t.Errorf("%s: %s: %q is not said", language, wrong, said)
			}
		}
		put(page, "spread", typed)
		put(page, "usable", "98")
		page.form.Keep()
		if own, there := figuresOf(w).Own(row); !there || own.Values[assumed.Spread].Assumed != 25 || own.Values[assumed.Usable].Assumed != 980 || !w.Shows(typed) {
			t.Errorf("%s: %+v", language, own.Values)
		}
	}
}

func put(p *figuring, name, text string) {
	p.form.Named(name).Focusable().(interface{ SetText(string) }).SetText(text)
}

// What is assumed is told with its source; it is changed with a reason, told as one's own, and goes back.
func TestAssumed_IsChangedAndGoesBack(t *testing.T) {
	w, page := figured(t, "en", uitest.Look{Shine: look.ByDay, Width: 1280, Height: 800, Scale: 1})
	for _, said := range []string{"These figures are assumed. Change one only", "How likely it is before any sample, animals of any origin", "5 to 40, assumed 20", "60 to 95, assumed 85", "99.5", "7 to 42, assumed 14", "0.1 to 2, assumed 0.5", "38 in 100 pythons of twelve collections"} {
		if !w.Shows(said) {
			t.Errorf("%q is not said: %q", said, uitest.Texts(w.Content()))
		}
	}
	uitest.Tap(t, w.Content(), "Change what is assumed")
	if page.form == nil || page.form.Text("prior-low") != "5" || page.form.Text("prior-assumed") != "20" || page.form.Text("prior-high") != "40" {
		t.Fatalf("%q", uitest.Texts(w.Content()))
	}
	for _, c := range []struct{ name, text, said string }{
		{"prior-low", "0", "Before any sample nothing is certain"},
		{"prior-low", "many", "Enter a number from 0 to 100"},
		{"prior-low", "101", "Enter a number from 0 to 100"},
		{"prior-low", "1.25", "at most: 1"},
		{"prior-low", "1.2555", "at most: 1"},
		{"prior-low", "", "Enter something"},
		{"prior-low", "5 in 100", "Enter a number from 0 to 100"},
		{"prior-low", "30", "The three are not in order"},
		{"prior-low", "0.5", "Say why"},
	} {
		put(page, c.name, c.text)
		page.form.Keep()
		if !w.Shows(c.said) || page.form.Text(c.name) != c.text || page.form.Text("prior-high") != "40" {
			t.Errorf("%s: %q is not said, or what was typed is gone: %q", c.text, c.said, uitest.Texts(w.Content()))
		}
	}
	put(page, "prior-low", "0,5 %")
	put(page, "why", "a survey of the club")
	uitest.Tap(t, w.Content(), "My vet’s")
	page.form.Keep()
	if page.changed != 1 || !w.Shows("Your vet’s figures, since") || !w.Shows("a survey of the club") || !w.Shows("0.5 to 40, assumed 20") {
		t.Fatalf("%d: %q", page.changed, uitest.Texts(w.Content()))
	}
	row := assumed.Row{Table: assumed.Priors, ID: "serpentovirus-any"}
	own, there := figuresOf(w).Own(row)
	if !there || own.By != assumed.Vet || own.Why != "a survey of the club" || own.Values[assumed.Prior] != (knowledge.Span{Low: 5, Assumed: 200, High: 400}) {
		t.Errorf("%+v", own)
	}
	uitest.Tap(t, w.Content(), "Change what is assumed")
	if page.form.Text("why") != "a survey of the club" || page.form.Text("prior-low") != "0.5" {
		t.Errorf("what was put is not offered: %q", uitest.Texts(w.Content()))
	}
	put(page, "prior-high", "50")
	page.form.Keep()
	if own, _ = figuresOf(w).Own(row); own.Revision != 2 || own.Values[assumed.Prior].High != 500 {
		t.Errorf("%+v", own)
	}
	uitest.Tap(t, w.Content(), "Back to the table")
	if _, there := figuresOf(w).Own(row); there || !w.Shows("5 to 40, assumed 20") || page.changed != 3 {
		t.Errorf("%d: %q", page.changed, uitest.Texts(w.Content()))
	}
	uitest.Tap(t, w.Content(), "Close")
	if !page.left {
		t.Error("it does not close")
	}
}

// Each row has a form in which each of its figures is asked for, at whose fields it is said what cannot stand.
func TestAssumed_OfEachTable(t *testing.T) {
	for _, language := range []string{"en", "de", "qps"} {
		w, page := figured(t, language, uitest.Look{Shine: look.ByNight, Width: 1280, Height: 800, Scale: 1})
		for _, row := range assumed.RowsOf(w.Tables(), "serpentovirus") {
			changeOf(w, page, row)
			for _, asked := range row.Table.Figures() {
				for _, name := range asked.Fields {
					field := page.form.Named(name)
					if field == nil || field.Text() == "" {
						t.Fatalf("%s: %v has no field %s", language, row, name)
					}
					before := field.Text()
					put(page, name, "-3")
					page.form.Keep()
					if r := page.form.Text(name); r != "-3" {
						t.Errorf("%s: what was typed is gone: %q", name, r)
					}
					if _, there := figuresOf(w).Own(row); there {
						t.Errorf("%s: %s was taken below nothing", language, name)
					}
					put(page, name, before)
				}
			}
			put(page, "why", "so it was")
			page.form.Keep()
			if own, there := figuresOf(w).Own(row); !there || own.By != assumed.Keeper {
				t.Fatalf("%s: %v is not kept: %q", language, row, uitest.Texts(page.beside))
			}
			values, _, _ := row.Of(w.Tables())
			if own, _ := figuresOf(w).Own(row); own.Values[row.Table.Figures()[0].Figure] != values[row.Table.Figures()[0].Figure] {
				t.Errorf("%s: untouched figures became %+v", language, own.Values)
			}
		}
	}
}

// What no chance can be worked out of is refused at the field that it was typed in, with why and
// what to do; what was typed stays, and nothing is kept.
func TestAssumed_WhatCannotStandIsSaidAtItsField(t *testing.T) {
	prior, sight, carrier := assumed.Row{Table: assumed.Priors, ID: "serpentovirus-any"}, assumed.Row{Table: assumed.Sights, ID: "serpentovirus-swab"}, assumed.Row{Table: assumed.Carriers, ID: "serpentovirus"}
	for _, language := range []string{"en", "de"} {
		w, page := figured(t, language, uitest.Look{Shine: look.ByDay, Width: 1280, Height: 800, Scale: 1})
		for _, c := range []struct {
			name  string
			row   assumed.Row
			typed map[string]string
			at    string
			why   string
		}{
			{"a prior of nothing", prior, map[string]string{"prior-low": "0"}, "prior-low", "refusal.assumed.prior"},
			{"a prior of certainty", prior, map[string]string{"prior-high": "100"}, "prior-high", "refusal.assumed.prior"},
			{"a prior above all", prior, map[string]string{"prior-assumed": "100.1"}, "prior-assumed", "refusal.percent.range"},
			{"a prior below nothing", prior, map[string]string{"prior-low": "-1"}, "prior-low", "refusal.percent.range"},
			{"as good as chance", sight, map[string]string{"sensitivity-low": "40", "specificity": "60"}, "sensitivity-low", "refusal.assumed.blind"},
			{"worse than chance", sight, map[string]string{"sensitivity-low": "0.4"}, "sensitivity-low", "refusal.assumed.blind"},
			{"it finds every carrier", sight, map[string]string{"sensitivity-high": "100"}, "sensitivity-high", "refusal.assumed.sensitivity"},
			{"it never errs", sight, map[string]string{"specificity": "100"}, "specificity", "refusal.assumed.specificity"},
			{"who was missed is always missed", sight, map[string]string{"share-high": "96"}, "share-high", "refusal.assumed.share"},
			{"every sample usable", sight, map[string]string{"usable": "100"}, "usable", "refusal.assumed.usable"},
			{"fewer usable than are found", sight, map[string]string{"usable": "90"}, "sensitivity-high", "refusal.assumed.unusable"},
			{"found before it was caught", carrier, map[string]string{"latent-high": "1099"}, "latent-high", "refusal.assumed.latent"},
			{"caught for certain in a day", carrier, map[string]string{"daily-high": "100"}, "daily-high", "refusal.assumed.daily"},
		} {
			changeOf(w, page, c.row)
			before := map[string]string{"why": ""}
			put(page, "why", "so it was")
			for name, text := range c.typed {
				before[name] = page.form.Text(name)
				put(page, name, text)
			}
			page.form.Keep()
			field, said := page.form.Named(c.at), w.Shell.Text().Say(c.why)
			if field.Refusal() != said || !w.Shows(said) {
				t.Errorf("%s, %s: at the field it says %q, not %q", language, c.name, field.Refusal(), said)
			}
			for name, text := range c.typed {
				if page.form.Text(name) != text {
					t.Errorf("%s, %s: of what was typed %q stays", language, c.name, page.form.Text(name))
				}
			}
			if _, there := figuresOf(w).Own(c.row); there || page.changed != 0 {
				t.Errorf("%s, %s: it was taken", language, c.name)
			}
			for name, text := range before {
				put(page, name, text)
			}
			page.form.Leave() // for the list of all rows: nothing is left of what was typed
		}
	}
}
