package husbandry_test

import (
	"slices"
	"testing"

	"coilward/model"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
)

type (
	use    = husbandry.Use
	target = knowledge.TargetID
)

// What the tables say, with their own sources: 6 % peroxide works on oocysts in
// 4 minutes (seen: Efficacy of common laboratory disinfectants on the infectivity
// of C. parvum oocysts in cell culture), 80 ppm of chlorine leaves 1 in 10 after
// 90 (Korich et al. 1990), alcohol does nothing in 33.
func TestJudge(t *testing.T) {
	w := begin(t)
	for _, c := range []struct {
		use    use
		target target
		does   husbandry.Does
		needs  int
	}{
		{use{Means: "hydrogen-peroxide-6", Minutes: 4}, "cryptosporidium", husbandry.DoesWork, 4},
		{use{Means: "hydrogen-peroxide-6", Minutes: 3}, "cryptosporidium", husbandry.TooShort, 4},
		{use{Means: "hydrogen-peroxide-6"}, "cryptosporidium", husbandry.TimeUnsaid, 4},
		{use{Means: "chlorine-80ppm", Minutes: 90}, "cryptosporidium", husbandry.DoesPartly, 90},
		{use{Means: "chlorine-80ppm", Minutes: 89}, "cryptosporidium", husbandry.TooShort, 90},
		{use{Means: "chlorine-80ppm"}, "cryptosporidium", husbandry.TimeUnsaid, 90},
		{use{Means: "ethanol-70", Minutes: 60}, "cryptosporidium", husbandry.DoesNot, 0},
		{use{Means: "ethanol-70"}, "cryptosporidium", husbandry.DoesNot, 0},
		{use{Means: "under-water"}, "mites", husbandry.DoesWork, 0},
		{use{Means: "detergent", Minutes: 60}, "mites", husbandry.NothingSaid, 0},
	} {
		said := husbandry.Judge(w.tables, husbandry.Cleaning{Uses: []use{c.use}, Against: []target{c.target}})
		if len(said) != 1 || said[0].Does != c.does || said[0].Needs != c.needs || said[0].Means != c.use.Means || said[0].Target != c.target || (said[0].Source == "") != (c.does == husbandry.NothingSaid) {
			t.Errorf("%+v against %s: %+v, want %s", c.use, c.target, said, c.does)
		}
	}
	order := []husbandry.Does{husbandry.DoesWork, husbandry.TimeUnsaid, husbandry.TooShort, husbandry.DoesPartly, husbandry.NothingSaid, husbandry.DoesNot}
	for i := range order {
		var said []husbandry.Worked
		for _, does := range slices.Backward(order[i:]) {
			said = append(said, husbandry.Worked{Means: "x", Target: "mites", Does: does})
		}
		said = append(said, husbandry.Worked{Target: "bacteria", Does: husbandry.DoesWork})
		if found, ok := husbandry.Best(said, "mites"); !ok || found.Does != order[i] {
			t.Errorf("the best of %v is %s", order[i:], found.Does)
		}
	}
	alike := []husbandry.Worked{{Means: "first", Target: "mites", Does: husbandry.TooShort}, {Means: "second", Target: "mites", Does: husbandry.TooShort}}
	if found, _ := husbandry.Best(alike, "mites"); found.Means != "first" {
		t.Errorf("of two alike %s is the best", found.Means)
	}
	if _, ok := husbandry.Best(nil, "mites"); ok {
		t.Error("something was used")
	}
}

// harmless are so many means that may be used together.
func harmless(t *knowledge.Tables, n int) (uses []use) {
	for _, m := range t.Means() {
		if m.Class == knowledge.OtherClass && len(uses) < n {
			uses = append(uses, use{Means: m.ID})
		}
	}
	return uses
}

func TestCleaningsThatCannotStandOrAsk(t *testing.T) {
	w := begin(t)
	tub := w.place(model.PlaceID{}, "Box", husbandry.Tub)
	clean := func(uses []use, against ...target) husbandry.Clean {
		return husbandry.Clean{Tables: w.tables, Places: []model.PlaceID{tub}, At: ago(1), Cleaning: husbandry.Cleaning{Extent: husbandry.Full, Uses: uses, Against: against}}
	}
	changed := func(change func(*husbandry.Clean)) husbandry.Clean {
		c := clean(nil)
		change(&c)
		return c
	}
	all := make([]use, husbandry.MaxUses+1)
	for i, m := range w.tables.Means()[:len(all)] {
		all[i].Means = m.ID
	}
	for _, c := range []struct {
		name    string
		command husbandry.Clean
		field   string
		want    string
	}{
		{"water alone", clean(nil), "", ""},
		{"nothing was cleaned", changed(func(c *husbandry.Clean) { c.Places = nil }), "cleaned", "clean.nothing"},
		{"a place that is gone", changed(func(c *husbandry.Clean) { c.Places = []model.PlaceID{{ID: model.ID{99}}} }), "cleaned", "house.gone"},
		{"tomorrow", changed(func(c *husbandry.Clean) { c.At = ago(-1) }), "day", "day.future"},
		{"no extent", changed(func(c *husbandry.Clean) { c.Cleaning.Extent = "" }), "extent", "choice.unknown"},
		{"a bell in the note", changed(func(c *husbandry.Clean) { c.Cleaning.Note = "\a" }), "note", "text.control"},
		{"50 photos", changed(func(c *husbandry.Clean) { c.Cleaning.Photos = make([]model.PhotoID, 50) }), "", ""},
		{"51 photos", changed(func(c *husbandry.Clean) { c.Cleaning.Photos = make([]model.PhotoID, 51) }), "photo", "photo.many"},
		{"ten means", clean(harmless(w.tables, husbandry.MaxUses)), "means", "clean.mixed"},
		{"too many means", clean(all), "means", "clean.many"},
		{"one means twice", clean([]use{{Means: "detergent"}, {Means: "detergent"}}), "means", "clean.twice"},
		{"a means that is none", clean([]use{{Means: "soap"}}), "means", "choice.unknown"},
		{"two days", clean([]use{{Means: "detergent", Minutes: 2880}}), "", ""},
		{"longer", clean([]use{{Means: "detergent", Minutes: 2881}}), "minutes", "number.range"},
		{"less than no time", clean([]use{{Means: "detergent", Minutes: -1}}), "minutes", "number.range"},
		{"a target that is none", clean(nil, "dust"), "against", "choice.unknown"},
		{"a target twice", clean(nil, "mites", "mites"), "against", "choice.unknown"},
		{"chlorine with ammonia", clean([]use{{Means: "hypochlorite-half", Minutes: 10}, {Means: "ammonia-5", Minutes: 10}}), "means", "clean.poisonous"},
		{"ammonia with chlorine", clean([]use{{Means: "ammonium-hydroxide"}, {Means: "detergent"}, {Means: "chlorine-80ppm"}}), "means", "clean.poisonous"},
		{"chlorine with an acid", clean([]use{{Means: "vinegar"}, {Means: "hypochlorite-6"}}), "means", "clean.poisonous"},
		{"an acid with ammonia", clean([]use{{Means: "vinegar"}, {Means: "ammonia-5"}}), "means", "clean.mixed"},
		{"two that are no poison together", clean([]use{{Means: "ethanol-70"}, {Means: "detergent"}, {Means: "hydrogen-peroxide-6"}}), "means", "clean.mixed"},
		{"a detergent before", clean([]use{{Means: "detergent"}, {Means: "hydrogen-peroxide-6"}, {Means: "heat-60"}}), "", ""},
		{"chlorine with chlorine", clean([]use{{Means: "hypochlorite-6"}, {Means: "chlorine-80ppm"}}), "means", "clean.mixed"},
		{"long enough", clean([]use{{Means: "hydrogen-peroxide-6", Minutes: 4}}, "cryptosporidium"), "", ""},
		{"too short", clean([]use{{Means: "hydrogen-peroxide-6", Minutes: 3}}, "cryptosporidium"), "minutes", "clean.too-short"},
		{"how long is not said", clean([]use{{Means: "hydrogen-peroxide-6"}}, "cryptosporidium"), "minutes", "clean.time"},
		{"some are left", clean([]use{{Means: "chlorine-80ppm", Minutes: 90}}, "cryptosporidium"), "means", "clean.partly"},
		{"does nothing", clean([]use{{Means: "ethanol-70", Minutes: 33}}, "cryptosporidium"), "means", "clean.does-not"},
		{"one of two works", clean([]use{{Means: "ethanol-70", Minutes: 33}, {Means: "heat-71", Minutes: 1}}, "cryptosporidium"), "", ""},
		{"the second target is left", clean([]use{{Means: "hypochlorite-half", Minutes: 10}}, "bacteria", "cryptosporidium"), "means", "clean.does-not"},
		{"nothing is known", clean([]use{{Means: "detergent"}}, "mites"), "", ""},
		{"nothing was used against it", clean(nil, "mites"), "", ""},
	} {
		r := w.refuses(c.name, c.command, c.want)
		if r == nil {
			continue
		}
		if r.Field != c.field {
			t.Errorf("%s: at field %q, want %q", c.name, r.Field, c.field)
		}
		if r.Answer == model.Confirm {
			c.command.Confirmed = model.Confirmed{r.Reason}
			w.refuses(c.name+", confirmed", c.command, "")
		}
		if c.want == "clean.too-short" && (r.Value != "3" || r.Gaps["Needs"].Number != 4) {
			t.Errorf("%+v", r)
		}
		if c.want == "clean.time" && r.Value != "" {
			t.Errorf("%+v", r)
		}
		if c.want == "clean.poisonous" {
			c.command.Confirmed = model.Confirmed{"clean.poisonous"}
			w.refuses(c.name+", confirmed", c.command, "clean.poisonous")
		}
	}
}

// One cleaning of many stands on the timeline of each, with what the tables said.
func TestCleaningIsReadChangedAndRemoved(t *testing.T) {
	w := begin(t)
	one, two := w.place(model.PlaceID{}, "one", husbandry.Tub), w.place(model.PlaceID{}, "two", husbandry.Tub)
	hook := model.ToolID{ID: w.do(husbandry.AddTool{Tool: husbandry.Tool{Name: "Hook", Kind: husbandry.Hook}}).Documents[0]}
	body := husbandry.Cleaning{Extent: husbandry.Full, Uses: []use{{Means: "hypochlorite-half", Minutes: 12}}, Against: []target{"bacteria"}}
	done := w.do(husbandry.Clean{Tables: w.tables, Places: []model.PlaceID{one, two, one}, Tools: []model.ToolID{hook}, At: ago(3), Cleaning: body})
	if done.Label.Key != "husbandry.done.clean-many" || done.Label.Gaps["Count"].Number != 3 {
		t.Errorf("%+v", done.Label)
	}
	entry := model.EntryID{ID: done.Documents[0]}
	read := func(s model.Subject) (found []husbandry.Cleaned) {
		t.Helper()
		if err := w.View(func(v model.View) (err error) { found, err = husbandry.Cleanings(v, s); return err }); err != nil {
			t.Fatal(err)
		}
		return found
	}
	for _, s := range []model.Subject{one.Subject(), two.Subject(), hook.Subject()} {
		c := read(s)
		if len(c) != 1 || c[0].Entry != entry || len(c[0].Places) != 2 || !slices.Equal(c[0].Tools, []model.ToolID{hook}) || c[0].Tables != w.tables.Hash() || len(c[0].Said) != 1 || c[0].Said[0].Does != husbandry.DoesWork {
			t.Errorf("%+v", c)
		}
	}
	later := w.do(husbandry.Clean{Tables: w.tables, Tools: []model.ToolID{hook}, At: ago(1), Cleaning: husbandry.Cleaning{Extent: husbandry.Spot}})
	if later.Label.Key != "husbandry.done.clean" || later.Label.Gaps["What"].Text != "Hook" || read(hook.Subject())[0].At != ago(1) {
		t.Errorf("%+v", later.Label)
	}
	w.missing("with a tool that is not there", husbandry.Clean{Tables: w.tables, Tools: []model.ToolID{{ID: model.ID{99}}}, At: ago(1), Cleaning: body})
	change := husbandry.ChangeEntry{Tables: w.tables, Entry: entry, Base: 1, At: ago(2), Places: []model.PlaceID{two}, Cleaning: &body}
	bad := body
	bad.Uses = []use{{Means: "hypochlorite-half", Minutes: 10}, {Means: "vinegar"}}
	mixed := change
	mixed.Cleaning = &bad
	w.refuses("changed to what is poisonous", mixed, "clean.poisonous")
	for name, c := range map[string]husbandry.ChangeEntry{
		"neither": {Tables: w.tables, Entry: entry, Base: 1, At: ago(2)},
		"both":    {Tables: w.tables, Entry: entry, Base: 1, At: ago(2), Cleaning: &body, Check: &husbandry.InstrumentCheck{}},
		"a check": {Tables: w.tables, Entry: entry, Base: 1, At: ago(2), Check: &husbandry.InstrumentCheck{}},
	} {
		if _, err := w.Do(c); err == nil {
			t.Errorf("%s: taken", name)
		}
	}
	if done := w.do(change); done.Label.Key != "husbandry.done.clean-change" || done.Label.Gaps["What"].Text != "two" {
		t.Errorf("%+v", done.Label)
	}
	if c := read(two.Subject()); len(c) != 1 || c[0].At != ago(2) || c[0].Revision != 2 || len(read(one.Subject())) != 0 {
		t.Errorf("%+v", c)
	}
	w.missing("one that is not there", husbandry.ChangeEntry{Entry: model.EntryID{ID: model.ID{99}}, Cleaning: &body})
	if done := w.do(husbandry.RemoveEntry{Entry: entry}); done.Label.Key != "husbandry.done.clean-remove" || len(read(two.Subject())) != 0 {
		t.Errorf("%+v", done.Label)
	}
	w.missing("removed twice", husbandry.RemoveEntry{Entry: entry})
	if _, err := w.Do(husbandry.RemoveEntry{Entry: model.EntryID(one)}); err == nil {
		t.Error("a place was removed as an entry")
	}
}
