package assumed_test

import (
	"encoding/json"
	"errors"
	"maps"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"coilward/assets"
	"coilward/model"
	"coilward/model/assumed"
	"coilward/model/collection"
	"coilward/model/knowledge"
	"coilward/model/storetest"
)

var (
	prior   = assumed.Row{Table: assumed.Priors, ID: "serpentovirus-any"}
	sight   = assumed.Row{Table: assumed.Sights, ID: "serpentovirus-swab"}
	carrier = assumed.Row{Table: assumed.Carriers, ID: "serpentovirus"}
)

func tablesOf(t testing.TB) *knowledge.Tables {
	t.Helper()
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	return tables
}

func span(low, mid, high int) knowledge.Span {
	return knowledge.Span{Low: low, Assumed: mid, High: high}
}

// values are figures of a row that stand.
func values(of assumed.Row) map[assumed.Figure]knowledge.Span {
	switch of.Table {
	case assumed.Priors:
		return map[assumed.Figure]knowledge.Span{assumed.Prior: span(10, 20, 40)}
	case assumed.Sights:
		return map[assumed.Figure]knowledge.Span{assumed.Sensitivity: span(700, 800, 900), assumed.Specificity: span(990, 990, 990), assumed.Share: span(0, 100, 200),
			assumed.Spread: span(25, 25, 25), assumed.Usable: span(960, 960, 960)}
	}
	return map[assumed.Figure]knowledge.Span{assumed.Latent: span(5, 10, 20), assumed.Daily: span(0, 25, 100)}
}

func own(of assumed.Row) assumed.Own {
	return assumed.Own{Row: of, Values: values(of), By: assumed.Vet, Why: "a survey nearby"}
}

func figures(t testing.TB, c *collection.Collection, tables *knowledge.Tables) (f *assumed.Figures) {
	t.Helper()
	if err := c.View(func(v model.View) (err error) { f, err = assumed.ReadFigures(v, tables); return err }); err != nil {
		t.Fatal(err)
	}
	return f
}

func do(t testing.TB, c *collection.Collection, command model.Command) model.ID {
	t.Helper()
	done, err := c.Do(command)
	if err != nil {
		t.Fatalf("%s: %v", command.Name(), err)
	}
	return done.Documents[0]
}

func TestEveryRowStandsAsItsTableHasIt(t *testing.T) {
	tables := tablesOf(t)
	for _, c := range tables.Carriers() {
		rows := assumed.RowsOf(tables, c.Agent)
		if len(rows) < 3 {
			t.Errorf("%s has the rows %v", c.Agent, rows)
		}
		for _, r := range rows {
			v, of, ok := r.Of(tables)
			if !ok || of != c.Agent || len(v) != len(r.Table.Figures()) {
				t.Errorf("%v: %v of %s", r, v, of)
			}
			if refused := (assumed.Own{Row: r, Values: v, By: assumed.Keeper, Why: "as it was"}).Check(tables); refused != nil {
				t.Errorf("%v: %+v", r, refused)
			}
		}
	}
}

func TestChange_StandsInPlaceOfTheTableAndGoesBack(t *testing.T) {
	tables := tablesOf(t)
	c, _ := storetest.New(t)
	document := map[assumed.Row]model.ID{}
	for _, r := range []assumed.Row{prior, sight, carrier} {
		document[r] = do(t, c, assumed.Change{Tables: tables, Own: own(r)})
	}
	f := figures(t, c, tables)
	p := f.Prior("serpentovirus", knowledge.FromAny)
	if p.Chance != span(10, 20, 40) || p.Source != "" || p.Assumed() {
		t.Errorf("the prior is %+v", p)
	}
	if wild := f.Prior("serpentovirus", knowledge.FromWild); wild != tables.Prior("serpentovirus", knowledge.FromWild) {
		t.Errorf("that of wild ones is %+v", wild)
	}
	s, ok := f.Sight("serpentovirus", "", "oral-swab", "")
	if !ok || s.Sensitivity != span(700, 800, 900) || s.Right != 990 || s.Share != span(0, 100, 200) || s.Spread != 25 || s.Usable != 960 {
		t.Errorf("the sight is %+v", s)
	}
	if all := f.Sights(); len(all) != len(tables.Sights()) || all[0].Sensitivity != s.Sensitivity || all[1].Sensitivity != tables.Sights()[1].Sensitivity {
		t.Errorf("the sights are %+v", all)
	}
	if carried, ok := f.Carrier("serpentovirus"); !ok || carried.Latent != span(5, 10, 20) || carried.Daily != span(0, 25, 100) || carried.Clears {
		t.Errorf("it is carried as %+v", carried)
	}
	if got, ok := f.Values(prior); !ok || got[assumed.Prior] != span(10, 20, 40) {
		t.Errorf("the values are %v, %v", got, ok)
	}
	if got, ok := f.Own(prior); !ok || got.Why != "a survey nearby" || got.By != assumed.Vet || got.Revision != 1 {
		t.Errorf("%+v", got)
	}
	again := own(prior)
	again.Values[assumed.Prior], again.By, again.Why = span(1, 2, 3), assumed.Keeper, "  seen since  "
	if id := do(t, c, assumed.Change{Tables: tables, Own: again, Base: 1}); id != document[prior] {
		t.Error("a second document stands for one row")
	}
	if got, _ := figures(t, c, tables).Own(prior); got.Why != "seen since" || got.Values[assumed.Prior] != span(1, 2, 3) {
		t.Errorf("%+v", got)
	}
	if _, err := c.Do(assumed.Change{Tables: tables, Own: own(prior), Base: 1}); !errors.Is(err, model.ErrConflict) {
		t.Errorf("on an old revision: %v", err)
	}
	for _, r := range []assumed.Row{prior, sight, carrier} {
		do(t, c, assumed.Reset{Tables: tables, Document: document[r]})
		want, _, _ := r.Of(tables)
		if got, ok := figures(t, c, tables).Values(r); !ok || !maps.Equal(got, want) {
			t.Errorf("%v is %v after it went back", r, got)
		}
	}
}

func TestChange_IsRefusedAtTheFieldWithWhy(t *testing.T) {
	tables := tablesOf(t)
	c, _ := storetest.New(t)
	with := func(r assumed.Row, figure assumed.Figure, s knowledge.Span) assumed.Own {
		o := own(r)
		o.Values[figure] = s
		return o
	}
	nobody, silent, unknown, more := own(prior), own(prior), own(assumed.Row{Table: assumed.Priors, ID: "nothing"}), own(prior)
	nobody.By, silent.Why, more.Values[assumed.Daily] = "", " \n", span(1, 2, 3)
	for name, c2 := range map[string]struct {
		own                  assumed.Own
		field, reason, value string
	}{
		"a prior of 0":                         {with(prior, assumed.Prior, span(0, 20, 40)), "prior-low", "assumed.prior", "0"},
		"a prior of 1":                         {with(prior, assumed.Prior, span(10, 20, 1000)), "prior-high", "assumed.prior", "100"},
		"below 0":                              {with(prior, assumed.Prior, span(-5, 20, 40)), "prior-low", "assumed.prior", "-0.5"},
		"a prior above 1":                      {with(prior, assumed.Prior, span(10, 1100, 1200)), "prior-assumed", "assumed.prior", "110"},
		"the low one too high":                 {with(prior, assumed.Prior, span(30, 20, 40)), "prior-low", "assumed.order", "3"},
		"the high one too low":                 {with(prior, assumed.Prior, span(10, 20, 15)), "prior-high", "assumed.order", "1.5"},
		"a sensitivity of 1":                   {with(sight, assumed.Sensitivity, span(700, 800, 1000)), "sensitivity-high", "assumed.sensitivity", "100"},
		"a sensitivity of 0":                   {with(sight, assumed.Sensitivity, span(0, 800, 900)), "sensitivity-low", "assumed.sensitivity", "0"},
		"more than is usable":                  {with(sight, assumed.Sensitivity, span(700, 800, 999)), "sensitivity-high", "assumed.unusable", "99.9"},
		"a hair more than is usable":           {with(sight, assumed.Sensitivity, span(700, 800, 961)), "sensitivity-high", "assumed.unusable", "96.1"},
		"no better than chance":                {with(sight, assumed.Sensitivity, span(10, 800, 900)), "sensitivity-low", "assumed.blind", "1"},
		"a specificity of 1":                   {with(sight, assumed.Specificity, span(1000, 1000, 1000)), "specificity", "assumed.specificity", "100"},
		"a specificity of 0":                   {with(sight, assumed.Specificity, span(0, 0, 0)), "specificity", "assumed.specificity", "0"},
		"who is missed once is always missed":  {with(sight, assumed.Share, span(0, 100, 990)), "share-high", "assumed.share", "99"},
		"no spread":                            {with(sight, assumed.Spread, span(0, 0, 0)), "spread", "assumed.spread", "0"},
		"a spread of half of all cycles":       {with(sight, assumed.Spread, span(201, 201, 201)), "spread", "assumed.spread", "20.1"},
		"every sample usable":                  {with(sight, assumed.Usable, span(991, 991, 991)), "usable", "assumed.usable", "99.1"},
		"no sample usable":                     {with(sight, assumed.Usable, span(0, 0, 0)), "usable", "assumed.usable", "0"},
		"fewer usable than are found":          {with(sight, assumed.Usable, span(890, 890, 890)), "sensitivity-high", "assumed.unusable", "90"},
		"days before it was caught":            {with(carrier, assumed.Latent, span(-1, 10, 20)), "latent-low", "assumed.latent", "-1"},
		"more than three years":                {with(carrier, assumed.Latent, span(5, 10, 2000)), "latent-high", "assumed.latent", "2000"},
		"caught for certain in a day":          {with(carrier, assumed.Daily, span(0, 25, 10_000)), "daily-high", "assumed.daily", "100"},
		"nobody's word":                        {nobody, "assumed-by", "choice.unknown", ""},
		"without a reason":                     {silent, "why", "assumed.why", ""},
		"of no row":                            {unknown, "row", "choice.unknown", "nothing"},
		"of a figure that the row has nothing": {more, "row", "choice.unknown", "daily"},
		"of no table":                          {own(assumed.Row{ID: "x"}), "row", "choice.unknown", "x"},
	} {
		_, err := c.Do(assumed.Change{Tables: tables, Own: c2.own})
		var r *model.Refusal
		if !errors.As(err, &r) || r.Field != c2.field || r.Reason != c2.reason || r.Value != c2.value && r.Reason != "assumed.why" {
			t.Errorf("%s: %v", name, err)
		}
	}
	missing := own(prior)
	missing.Values = nil
	if r := missing.Check(tables); r == nil || r.Field != "prior-low" {
		t.Errorf("without its figures: %+v", r)
	}
}

// Whatever was put in place of a row, the tables hold where it cannot be read or stand today.
func TestReadFigures_OfWhatCannotStand(t *testing.T) {
	tables := tablesOf(t)
	c, _ := storetest.New(t)
	put := func(version int, body string) model.ID {
		id := model.ID{9, byte(version), byte(len(body)), byte(len(body) >> 8)}
		if _, err := c.Do(storetest.Put{Documents: []model.Document{{Type: model.TypeFigures, ID: id, At: model.MomentOf(storetest.Start()), Version: version, Body: json.RawMessage(body)}}}); err != nil {
			t.Fatal(err)
		}
		return id
	}
	unread := put(1, `[]`)
	newer := put(2, `{}`)
	blind := own(sight)
	blind.Values[assumed.Sensitivity] = span(5, 6, 7)
	raw, err := json.Marshal(blind)
	if err != nil {
		t.Fatal(err)
	}
	put(1, string(raw))
	f := figures(t, c, tables)
	if len(f.Unread()) != 2 {
		t.Errorf("unread: %v", f.Unread())
	}
	if _, spoilt := f.Spoilt(sight); !spoilt {
		t.Error("what cannot stand is not told")
	}
	if s, _ := f.Sight("serpentovirus", "", "oral-swab", ""); s.ID != "serpentovirus-swab" || s.Sensitivity != tables.Sights()[0].Sensitivity || s.Source == "" {
		t.Errorf("the sight is %+v", s)
	}
	spoilt, _ := f.Spoilt(sight)
	do(t, c, assumed.Change{Tables: tables, Own: own(sight), Base: spoilt.Revision})
	f = figures(t, c, tables)
	if _, still := f.Spoilt(sight); still {
		t.Error("what was put right stands beside what was not")
	}
	if got, ok := f.Own(sight); !ok || got.Document != spoilt.Document {
		t.Errorf("%+v", got)
	}
	do(t, c, assumed.Reset{Tables: tables, Document: unread})
	if _, err := c.Do(assumed.Reset{Tables: tables, Document: newer}); !errors.Is(err, model.ErrNewer) {
		t.Errorf("what a newer program wrote is taken out: %v", err)
	}
}

// Figures that were kept before the spread and the usable samples were asked for are read whole:
// of those that were not asked for the table's own hold.
func TestReadFigures_OfThoseKeptBeforeAllWereAskedFor(t *testing.T) {
	tables := tablesOf(t)
	c, _ := storetest.New(t)
	kept := own(sight)
	delete(kept.Values, assumed.Spread)
	delete(kept.Values, assumed.Usable)
	raw, err := json.Marshal(kept)
	if err != nil {
		t.Fatal(err)
	}
	d := model.Document{Type: model.TypeFigures, ID: model.ID{8}, At: model.MomentOf(storetest.Start()), Version: 1, Body: raw}
	if known, err := assumed.Sound(d); !known || err != nil {
		t.Errorf("known %v, %v", known, err)
	}
	if _, err := c.Do(storetest.Put{Documents: []model.Document{d}}); err != nil {
		t.Fatal(err)
	}
	f := figures(t, c, tables)
	got, ok := f.Own(sight)
	if !ok || len(got.Values) != len(assumed.Sights.Figures()) || got.Values[assumed.Sensitivity] != span(700, 800, 900) || got.Values[assumed.Spread] != span(30, 30, 30) || got.Values[assumed.Usable] != span(950, 950, 950) {
		t.Errorf("%v: %+v", ok, got)
	}
	if s, _ := f.Sight("serpentovirus", "", "oral-swab", ""); s.Sensitivity != span(700, 800, 900) || s.Spread != 30 || s.Usable != 950 {
		t.Errorf("the sight is %+v", s)
	}
	for _, row := range []assumed.Row{prior, sight, carrier} {
		for _, a := range row.Table.Figures() {
			less := own(row)
			delete(less.Values, a.Figure)
			later := a.Figure == assumed.Spread || a.Figure == assumed.Usable
			if r := less.Check(tables); (r == nil) != later {
				t.Errorf("without %s: %+v", a.Figure, r)
			}
			if later {
				continue
			}
			raw, err := json.Marshal(less)
			if err != nil {
				t.Fatal(err)
			}
			c, _ := storetest.New(t)
			if _, err := c.Do(storetest.Put{Documents: []model.Document{{Type: model.TypeFigures, ID: model.ID{8}, At: model.MomentOf(storetest.Start()), Version: 1, Body: raw}}}); err != nil {
				t.Fatal(err)
			}
			f := figures(t, c, tables)
			if _, there := f.Own(row); there {
				t.Errorf("kept without %s it stands", a.Figure)
			}
			if _, spoilt := f.Spoilt(row); !spoilt {
				t.Errorf("kept without %s it is not told of", a.Figure)
			}
		}
	}
}

// Each figure is told with as many places as it is kept with, and those without a range have one
// field.
func TestAsked(t *testing.T) {
	for _, c := range []struct {
		table  assumed.Table
		figure assumed.Figure
		one    bool
		places int
	}{
		{assumed.Priors, assumed.Prior, false, 1}, {assumed.Sights, assumed.Sensitivity, false, 1}, {assumed.Sights, assumed.Specificity, true, 1}, {assumed.Sights, assumed.Share, false, 1},
		{assumed.Sights, assumed.Spread, true, 1}, {assumed.Sights, assumed.Usable, true, 1}, {assumed.Carriers, assumed.Latent, false, 0}, {assumed.Carriers, assumed.Daily, false, 2},
	} {
		for _, a := range c.table.Figures() {
			if a.Figure == c.figure && (a.One() != c.one || a.Places() != c.places) {
				t.Errorf("%s: one field %v, %d places", a.Figure, a.One(), a.Places())
			}
		}
	}
	if n := len(assumed.Table("nothing").Figures()); n != 0 {
		t.Errorf("of no table %d figures are asked for", n)
	}
}

// Fewer usable samples than half stand beside a test that finds fewer still.
func TestCheck_FewUsableSamples(t *testing.T) {
	few := own(sight)
	few.Values[assumed.Sensitivity], few.Values[assumed.Usable] = span(300, 350, 380), span(400, 400, 400)
	if r := few.Check(tablesOf(t)); r != nil {
		t.Errorf("%+v", r)
	}
	few.Values[assumed.Usable] = span(370, 370, 370)
	if r := few.Check(tablesOf(t)); r == nil || r.Field != "sensitivity-high" {
		t.Errorf("more is found than is usable: %+v", r)
	}
}

// A document of figures is sound where a command could have written it.
func TestSound(t *testing.T) {
	body := func(row assumed.Row, figure assumed.Figure, s knowledge.Span) string {
		t.Helper()
		o := own(row)
		if figure != "" {
			o.Values[figure] = s
		}
		raw, err := json.Marshal(o)
		if err != nil {
			t.Fatal(err)
		}
		return string(raw)
	}
	for name, c := range map[string]struct {
		of    model.DocumentType
		body  string
		known bool
		sound bool
	}{
		"as it is written":           {model.TypeFigures, body(prior, "", knowledge.Span{}), true, true},
		"of a sight":                 {model.TypeFigures, body(sight, "", knowledge.Span{}), true, true},
		"of a carrier":               {model.TypeFigures, body(carrier, "", knowledge.Span{}), true, true},
		"the most that can be found": {model.TypeFigures, body(sight, assumed.Sensitivity, span(1, 999, 999)), true, true},
		"all are found":              {model.TypeFigures, body(sight, assumed.Sensitivity, span(700, 800, 1000)), true, false},
		"none are found":             {model.TypeFigures, body(sight, assumed.Sensitivity, span(0, 800, 900)), true, false},
		"it is right every time":     {model.TypeFigures, body(sight, assumed.Specificity, span(1000, 1000, 1000)), true, false},
		"it is always wrong":         {model.TypeFigures, body(sight, assumed.Specificity, span(0, 0, 0)), true, false},
		"hardly ever right":          {model.TypeFigures, body(sight, assumed.Specificity, span(1, 1, 1)), true, true},
		"the most that are usable":   {model.TypeFigures, body(sight, assumed.Usable, span(990, 990, 990)), true, true},
		"of another type":            {model.TypeSample, body(prior, "", knowledge.Span{}), false, true},
		"unreadable":                 {model.TypeFigures, "[]", true, false},
		"without a reason":           {model.TypeFigures, `{"table":"prior","row":"x","values":{"prior":{"low":1,"assumed":2,"high":3}},"by":"vet","why":""}`, true, false},
	} {
		known, err := assumed.Sound(model.Document{Type: c.of, ID: model.ID{8}, Version: 1, Body: json.RawMessage(c.body)})
		if known != c.known || (err == nil) != c.sound {
			t.Errorf("%s: known %v, %v", name, known, err)
		}
	}
}

// What is accepted of any values can be worked with: the engine refuses none of it.
func TestCheck_AcceptsWhatTheEngineDoes(t *testing.T) {
	tables := tablesOf(t)
	rapid.Check(t, func(r *rapid.T) {
		v := func(name string) int { return rapid.IntRange(-10, 1010).Draw(r, name) }
		o := own(sight)
		right, spread, usable := v("right"), rapid.IntRange(-10, 250).Draw(r, "spread"), rapid.OneOf(rapid.Just(950), rapid.IntRange(-10, 1010)).Draw(r, "usable")
		o.Values = map[assumed.Figure]knowledge.Span{assumed.Sensitivity: span(v("low"), v("mid"), v("high")), assumed.Share: span(v("share low"), v("share"), v("share high")), assumed.Specificity: span(right, right, right),
			assumed.Spread: span(spread, spread, spread), assumed.Usable: span(usable, usable, usable)}
		if rapid.Bool().Draw(r, "in order") { // else hardly any is accepted
			for figure, s := range o.Values {
				all := []int{s.Low, s.Assumed, s.High}
				slices.Sort(all)
				o.Values[figure] = span(all[0], all[1], all[2])
			}
		}
		s := o.Values[assumed.Sensitivity]
		share := o.Values[assumed.Share]
		sees := func(x int) float64 { return (float64(x) - float64(1000-right)) / float64(right) }
		want := 0 < s.Low && s.Low <= s.Assumed && s.Assumed <= s.High && s.High < 1000 && 0 < right && right < 1000 && s.Low+right > 1000 &&
			0 <= share.Low && share.Low <= share.Assumed && share.Assumed <= share.High && share.High <= 950 && sees(s.High) < float64(usable)/1000 &&
			0 < spread && spread <= 200 && 0 < usable && usable <= 990
		if got := o.Check(tables) == nil; got != want {
			r.Fatalf("%+v accepted: %v (%+v)", o.Values, got, o.Check(tables))
		}
	})
}
