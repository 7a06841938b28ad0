package husbandry_test

import (
	"encoding/json"
	"errors"
	"testing"

	"coilward/model"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
)

func TestTools(t *testing.T) {
	w := begin(t)
	loft := w.place(model.PlaceID{}, "Loft", husbandry.Room)
	add := func(tool husbandry.Tool) husbandry.AddTool { return husbandry.AddTool{Tool: tool} }
	hook := model.ToolID{ID: w.do(add(husbandry.Tool{Name: " Long  hook", Kind: husbandry.Hook, Place: loft, Code: " H1 "})).Documents[0]}
	w.refuses("nameless", add(husbandry.Tool{Kind: husbandry.Hook}), "text.empty")
	w.refuses("of no kind", add(husbandry.Tool{Name: "x"}), "choice.unknown")
	w.refuses("with a bell in its code", add(husbandry.Tool{Name: "x", Kind: husbandry.Bag, Code: "\a"}), "text.control")
	w.refuses("with a bell in its note", add(husbandry.Tool{Name: "x", Kind: husbandry.Bag, Note: "\a"}), "text.control")
	w.refuses("closed tomorrow", add(husbandry.Tool{Name: "x", Kind: husbandry.Bag, Closed: onDay(-1)}), "day.future")
	w.refuses("of a place that is gone", add(husbandry.Tool{Name: "x", Kind: husbandry.Bag, Place: model.PlaceID{ID: model.ID{99}}}), "house.gone")
	w.refuses("of a place that is a tool", add(husbandry.Tool{Name: "x", Kind: husbandry.Bag, Place: model.PlaceID(hook)}), "house.gone")
	w.refuses("of a name that is taken", add(husbandry.Tool{Name: "long HOOK", Kind: husbandry.Bag}), "tool.twice")
	w.refuses("closed, of a name that is taken", add(husbandry.Tool{Name: "Long hook", Kind: husbandry.Bag, Closed: onDay(2)}), "")
	tools := func() (all []husbandry.StoredTool) {
		t.Helper()
		if err := w.View(func(v model.View) (err error) { all, err = husbandry.Tools(v); return err }); err != nil {
			t.Fatal(err)
		}
		return all
	}
	if all := tools(); len(all) != 2 || all[0].ID != hook || all[0].Name != "Long hook" || all[0].Code != "H1" || all[0].Revision != 1 {
		t.Errorf("%+v", all)
	}
	w.refuses("with its own name", husbandry.ChangeTool{ID: hook, Base: 1, Tool: husbandry.Tool{Name: "Long hook", Kind: husbandry.Tongs}}, "")
	w.missing("not there", husbandry.ChangeTool{ID: model.ToolID{ID: model.ID{99}}})
	if _, err := w.Do(husbandry.ChangeTool{ID: model.ToolID(loft), Base: 1, Tool: husbandry.Tool{Name: "x", Kind: husbandry.Bag}}); err == nil {
		t.Error("a room became a tool")
	}
	w.do(husbandry.Clean{Tables: w.tables, Tools: []model.ToolID{hook}, At: ago(1), Cleaning: husbandry.Cleaning{Extent: husbandry.Full}})
	w.do(husbandry.RemoveTool{ID: hook})
	w.do(husbandry.RemoveTool{ID: tools()[1].ID})
	if all := tools(); len(all) != 1 || all[0].ID != hook || all[0].Closed.Day != ago(0).Day() {
		t.Errorf("left: %+v", all)
	}
	w.missing("not there", husbandry.RemoveTool{ID: model.ToolID{ID: model.ID{99}}})
}

func TestInstruments(t *testing.T) {
	w := begin(t)
	loft := w.place(model.PlaceID{}, "Loft", husbandry.Room)
	add := func(i husbandry.Instrument) husbandry.AddInstrument { return husbandry.AddInstrument{Instrument: i} }
	scale := model.InstrumentID{ID: w.do(add(husbandry.Instrument{Name: " Bench  scale ", Kind: husbandry.Scale, Place: loft, CheckEvery: 3650})).Documents[0]}
	for _, c := range []struct {
		name       string
		instrument husbandry.Instrument
		want       string
	}{
		{"nameless", husbandry.Instrument{Kind: husbandry.Scale}, "text.empty"},
		{"of no kind", husbandry.Instrument{Name: "x"}, "choice.unknown"},
		{"with a bell in its code", husbandry.Instrument{Name: "x", Kind: husbandry.Scale, Code: "\a"}, "text.control"},
		{"with a bell in its note", husbandry.Instrument{Name: "x", Kind: husbandry.Scale, Note: "\a"}, "text.control"},
		{"in use from tomorrow", husbandry.Instrument{Name: "x", Kind: husbandry.Scale, InUse: onDay(-1)}, "day.future"},
		{"closed tomorrow", husbandry.Instrument{Name: "x", Kind: husbandry.Scale, Closed: onDay(-1)}, "day.future"},
		{"closed before it was in use", husbandry.Instrument{Name: "x", Kind: husbandry.Scale, InUse: onDay(3), Closed: onDay(4)}, "stay.end-first"},
		{"closed on its first day", husbandry.Instrument{Name: "a", Kind: husbandry.Scale, InUse: onDay(3), Closed: onDay(3)}, ""},
		{"checked more seldom than ten years", husbandry.Instrument{Name: "x", Kind: husbandry.Scale, CheckEvery: 3651}, "every.range"},
		{"of a place that is gone", husbandry.Instrument{Name: "x", Kind: husbandry.Scale, Place: model.PlaceID{ID: model.ID{99}}}, "house.gone"},
		{"of a name that is taken", husbandry.Instrument{Name: "bench scale", Kind: husbandry.UVLamp}, "instrument.twice"},
		{"closed, of a name that is taken", husbandry.Instrument{Name: "bench scale", Kind: husbandry.UVLamp, Closed: onDay(0)}, ""},
	} {
		w.refuses(c.name, add(c.instrument), c.want)
	}
	w.refuses("of another kind", husbandry.ChangeInstrument{ID: scale, Base: 1, Instrument: husbandry.Instrument{Name: "Bench scale", Kind: husbandry.Hygrometer}}, "instrument.kind")
	w.refuses("of its own name", husbandry.ChangeInstrument{ID: scale, Base: 1, Instrument: husbandry.Instrument{Name: "Bench scale", Kind: husbandry.Scale}}, "")
	same := husbandry.ChangeInstrument{ID: scale, Base: 2, Instrument: husbandry.Instrument{Name: "Bench scale", Kind: husbandry.Scale}}
	if change := w.do(same); !change.Empty() {
		t.Errorf("what is known already is written anew: %+v", change)
	}
	same.Instrument.Note = "lent"
	if change := w.do(same); change.Empty() {
		t.Error("a note is no change")
	}
	w.missing("not there", husbandry.ChangeInstrument{ID: model.InstrumentID{ID: model.ID{99}}})
	check := husbandry.CheckInstrument{Instrument: scale, At: ago(9), Check: husbandry.InstrumentCheck{Reading: "193 g", Reference: "200 g"}}
	w.missing("a check of nothing", husbandry.CheckInstrument{Instrument: model.InstrumentID{ID: model.ID{99}}, At: ago(1)})
	for field, change := range map[string]func(*husbandry.InstrumentCheck){
		"reading": func(c *husbandry.InstrumentCheck) { c.Reading = "\a" }, "reference": func(c *husbandry.InstrumentCheck) { c.Reference = "\a" }, "note": func(c *husbandry.InstrumentCheck) { c.Note = "\a" },
	} {
		bad := check
		change(&bad.Check)
		if r := w.refuses("a bell in "+field, bad, "text.control"); r != nil && r.Field != field {
			t.Errorf("%s: at %s", field, r.Field)
		}
	}
	future := check
	future.At = ago(-1)
	w.refuses("a check of tomorrow", future, "day.future")
	done := w.do(check)
	if done.Label.Gaps["Result"].Text != "husbandry.check.failed" || done.Label.Gaps["Instrument"].Text != "Bench scale" {
		t.Errorf("%+v", done.Label)
	}
	failed := model.EntryID{ID: done.Documents[0]}
	check.At, check.Check = ago(20), husbandry.InstrumentCheck{Good: true}
	if done := w.do(check); done.Label.Gaps["Result"].Text != "husbandry.check.good" {
		t.Errorf("%+v", done.Label)
	}
	checks := func() (all []husbandry.Checked) {
		t.Helper()
		if err := w.View(func(v model.View) (err error) { all, err = husbandry.Checks(v, scale); return err }); err != nil {
			t.Fatal(err)
		}
		return all
	}
	if all := checks(); len(all) != 2 || all[0].At != ago(20) || !all[0].Good || all[1].Reading != "193 g" || all[1].Instrument != scale {
		t.Errorf("%+v", all)
	}
	if spans := husbandry.Doubtful(checks()); len(spans) != 1 || spans[0].From != ago(20) || !spans[0].To.IsZero() {
		t.Errorf("doubtful %+v", spans)
	}
	w.do(husbandry.ChangeEntry{Entry: failed, Base: 1, At: ago(8), Check: &husbandry.InstrumentCheck{Good: true}})
	if all := checks(); len(all) != 2 || all[1].At != ago(8) || !all[1].Good || len(husbandry.Doubtful(all)) != 0 {
		t.Errorf("%+v", all)
	}
	if done := w.do(husbandry.RemoveEntry{Entry: failed}); done.Label.Gaps["Instrument"].Text != "Bench scale" || len(checks()) != 1 {
		t.Errorf("%+v", done.Label)
	}
	w.do(husbandry.RemoveInstrument{ID: scale})
	var left []husbandry.StoredInstrument
	if err := w.View(func(v model.View) (err error) { left, err = husbandry.Instruments(v); return err }); err != nil {
		t.Fatal(err)
	}
	if len(left) != 3 || left[0].ID != scale || left[0].Closed.Day != ago(0).Day() {
		t.Errorf("%+v", left)
	}
	w.do(husbandry.RemoveInstrument{ID: left[1].ID})
	w.missing("removed twice", husbandry.RemoveInstrument{ID: left[1].ID})
}

// An enclosure is due by the row of the table for its kind; what the keeper set
// goes before it, the nearest first.
func TestCleaningDue(t *testing.T) {
	w := begin(t)
	room := w.place(model.PlaceID{}, "Loft", husbandry.Room)
	own := w.add(model.PlaceID{}, husbandry.Place{Name: "Barn", Kind: husbandry.Room, CleanEvery: 40})
	rack := w.add(own, husbandry.Place{Name: "Rack", Kind: husbandry.Rack, CleanEvery: 20})
	tub, vivarium, other := w.place(room, "tub", husbandry.Tub), w.place(room, "vivarium", husbandry.Vivarium), w.place(room, "other", husbandry.Enclosure)
	ofRoom, ofRack, self := w.place(own, "a", husbandry.Tub), w.place(rack, "b", husbandry.Tub), w.add(rack, husbandry.Place{Name: "c", Kind: husbandry.Tub, CleanEvery: 7})
	full := func(days int, extent husbandry.CleanExtent) husbandry.Cleaned {
		return husbandry.Cleaned{At: ago(days), Cleaning: husbandry.Cleaning{Extent: extent}}
	}
	h, today := w.house(), ago(0).Day()
	value := func(id knowledge.ValueID) int { return w.tables.Value(id) }
	for _, c := range []struct {
		name      string
		place     model.PlaceID
		cleanings []husbandry.Cleaned
		want      husbandry.Due
	}{
		{"a tub, never", tub, nil, husbandry.Due{Every: value("clean-tub"), Next: today + model.Day(value("clean-tub")), Value: "clean-tub"}},
		{"a vivarium", vivarium, []husbandry.Cleaned{full(9, husbandry.Full)}, husbandry.Due{Last: ago(9), Every: value("clean-vivarium"), Next: ago(9).Day() + model.Day(value("clean-vivarium")), Value: "clean-vivarium"}},
		{"an enclosure", other, []husbandry.Cleaned{full(2, husbandry.Spot), full(3, husbandry.BowlOnly), full(4, husbandry.Substrate)}, husbandry.Due{Every: value("clean-enclosure"), Next: today + model.Day(value("clean-enclosure")), Value: "clean-enclosure"}},
		{"by its room", ofRoom, []husbandry.Cleaned{full(9, husbandry.Full), full(5, husbandry.Full), full(7, husbandry.Full)}, husbandry.Due{Last: ago(5), Every: 40, Next: today + 35}},
		{"by its rack", ofRack, []husbandry.Cleaned{full(30, husbandry.Full)}, husbandry.Due{Last: ago(30), Every: 20, Next: today - 10}},
		{"by itself", self, nil, husbandry.Due{Every: 7, Next: today + 7}},
		{"a room without an interval", room, []husbandry.Cleaned{full(3, husbandry.Full)}, husbandry.Due{Last: ago(3)}},
		{"what is not there", model.PlaceID{ID: model.ID{99}}, []husbandry.Cleaned{full(3, husbandry.Full)}, husbandry.Due{}},
	} {
		if got := husbandry.CleaningDue(w.tables, h, c.place, c.cleanings); got != c.want {
			t.Errorf("%s: %+v, want %+v", c.name, got, c.want)
		}
	}
}

func TestCheckAndLampDue(t *testing.T) {
	w := begin(t)
	today := ago(0).Day()
	stored := func(kind husbandry.InstrumentKind, every int, inUse model.Date) husbandry.StoredInstrument {
		return husbandry.StoredInstrument{Since: ago(100), Instrument: husbandry.Instrument{Kind: kind, CheckEvery: every, InUse: inUse}}
	}
	check := func(days int, good bool) husbandry.Checked {
		return husbandry.Checked{At: ago(days), InstrumentCheck: husbandry.InstrumentCheck{Good: good}}
	}
	none := model.Date{}
	for kind, id := range map[husbandry.InstrumentKind]knowledge.ValueID{husbandry.Scale: "check-scale", husbandry.Thermometer: "check-thermometer", husbandry.Thermostat: "check-thermostat", husbandry.Hygrometer: "check-hygrometer"} {
		every := w.tables.Value(id)
		if got, want := husbandry.CheckDue(w.tables, stored(kind, 0, none), nil), (husbandry.Due{Every: every, Next: ago(100).Day() + model.Day(every), Value: id}); got != want {
			t.Errorf("%s: %+v, want %+v", kind, got, want)
		}
	}
	for _, c := range []struct {
		name   string
		of     husbandry.StoredInstrument
		checks []husbandry.Checked
		want   husbandry.Due
	}{
		{"since it is in use", stored(husbandry.Scale, 10, onDay(4)), nil, husbandry.Due{Every: 10, Next: today + 6}},
		{"since its last check, in any order", stored(husbandry.Scale, 10, onDay(40)), []husbandry.Checked{check(9, true), check(3, true), check(5, false)}, husbandry.Due{Last: ago(3), Every: 10, Next: today + 7}},
		{"at once after a failed one", stored(husbandry.Scale, 10, onDay(40)), []husbandry.Checked{check(9, true), check(3, false), check(5, true)}, husbandry.Due{Last: ago(3), Every: 10, Next: today - 3, Failed: true}},
		{"of one moment the later written", stored(husbandry.Scale, 10, onDay(40)), []husbandry.Checked{check(3, false), check(3, true)}, husbandry.Due{Last: ago(3), Every: 10, Next: today + 7}},
		{"a lamp is not checked", stored(husbandry.UVLamp, 0, onDay(40)), nil, husbandry.Due{}},
		{"a lamp whose check failed", stored(husbandry.UVLamp, 0, onDay(40)), []husbandry.Checked{check(3, false)}, husbandry.Due{Last: ago(3), Next: today - 3, Failed: true}},
	} {
		if got := husbandry.CheckDue(w.tables, c.of, c.checks); got != c.want {
			t.Errorf("%s: %+v, want %+v", c.name, got, c.want)
		}
	}
	every := w.tables.Value("replace-uv-lamp")
	if got, want := husbandry.LampDue(w.tables, stored(husbandry.UVLamp, 0, onDay(40))), (husbandry.Due{Every: every, Next: today - 40 + model.Day(every), Value: "replace-uv-lamp"}); got != want {
		t.Errorf("%+v, want %+v", got, want)
	}
	for name, i := range map[string]husbandry.StoredInstrument{"no day": stored(husbandry.UVLamp, 5, none), "a scale": stored(husbandry.Scale, 5, onDay(40))} {
		if got := husbandry.LampDue(w.tables, i); got != (husbandry.Due{}) {
			t.Errorf("%s: %+v", name, got)
		}
	}
}

// What is due is late from the day after; a failed check is due though no interval
// is set.
func TestDue_Late(t *testing.T) {
	for name, c := range map[string]struct {
		due  husbandry.Due
		want bool
	}{
		"the day before":           {husbandry.Due{Every: 30, Next: 101}, false},
		"on its day":               {husbandry.Due{Every: 30, Next: 100}, false},
		"the day after":            {husbandry.Due{Every: 30, Next: 99}, true},
		"failed, without interval": {husbandry.Due{Failed: true, Next: 99}, true},
		"no interval":              {husbandry.Due{Next: 0}, false},
	} {
		if got := c.due.Late(100); got != c.want {
			t.Errorf("%s: %v, want %v", name, got, c.want)
		}
	}
}

func TestSound(t *testing.T) {
	today := ago(0).Day()
	animal, place := model.AnimalID{ID: model.ID{1}}.Subject(), model.PlaceID{ID: model.ID{2}}.Subject()
	for _, c := range []struct {
		of     model.DocumentType
		kind   string
		body   string
		about  []model.Subject
		known  bool
		reason string // "unreadable": not a refusal
	}{
		{model.TypePlace, "", `{"name":"Box","kind":"tub"}`, nil, true, ""},
		{model.TypePlace, "", `{"kind":"tub"}`, nil, true, "text.empty"},
		{model.TypePlace, "", `[]`, nil, true, "unreadable"},
		{model.TypeStay, "", `{}`, []model.Subject{animal, place}, true, ""},
		{model.TypeStay, "", `{}`, []model.Subject{place}, true, "house.gone"},
		{model.TypeStay, "", `{}`, []model.Subject{animal}, true, "house.gone"},
		{model.TypeStay, "", `{"to":{"utc":1}}`, []model.Subject{animal, place}, true, "stay.end-first"},
		{model.TypeStay, "", `[]`, nil, true, "unreadable"},
		{model.TypeTool, "", `{"name":"Hook","kind":"hook"}`, nil, true, ""},
		{model.TypeTool, "", `{"name":"Hook"}`, nil, true, "choice.unknown"},
		{model.TypeTool, "", `7`, nil, true, "unreadable"},
		{model.TypeInstrument, "", `{"name":"Scale","kind":"scale"}`, nil, true, ""},
		{model.TypeInstrument, "", `{"name":"Scale","kind":"scale","checkEvery":-1}`, nil, true, "every.range"},
		{model.TypeInstrument, "", `7`, nil, true, "unreadable"},
		{model.TypeEntry, husbandry.KindCleaning, `{"extent":"full"}`, nil, true, ""},
		{model.TypeEntry, husbandry.KindCleaning, `{}`, nil, true, "choice.unknown"},
		{model.TypeEntry, husbandry.KindCleaning, `7`, nil, true, "unreadable"},
		{model.TypeEntry, husbandry.KindInstrumentCheck, `{"good":true}`, nil, true, ""},
		{model.TypeEntry, husbandry.KindInstrumentCheck, `{"note":"\u0007"}`, nil, true, "text.control"},
		{model.TypeEntry, husbandry.KindInstrumentCheck, `7`, nil, true, "unreadable"},
		{model.TypeEntry, "weight", `7`, nil, false, ""},
		{model.TypeAnimal, "", `7`, nil, false, ""},
	} {
		d := model.Document{Type: c.of, Kind: c.kind, Version: 1, At: ago(3), Subjects: c.about, Body: json.RawMessage(c.body)}
		known, err := husbandry.Sound(d, today)
		reason := ""
		var r *model.Refusal
		switch {
		case errors.As(err, &r):
			reason = r.Reason
		case err != nil:
			reason = "unreadable"
		}
		if known != c.known || reason != c.reason {
			t.Errorf("%s %s %s: %v, %v, want %v, %q", c.of, c.kind, c.body, known, err, c.known, c.reason)
		}
	}
	d := model.Document{Type: model.TypeEntry, Kind: "weight", Body: json.RawMessage(`{}`)}
	for name, read := range map[string]func() error{
		"a place": func() error { _, err := husbandry.DecodePlace(d); return err }, "a stay": func() error { _, err := husbandry.DecodeStay(d); return err },
		"a tool": func() error { _, err := husbandry.DecodeTool(d); return err }, "an instrument": func() error { _, err := husbandry.DecodeInstrument(d); return err },
		"a cleaning": func() error { _, err := husbandry.DecodeCleaning(d); return err }, "a check": func() error { _, err := husbandry.DecodeCheck(d); return err },
	} {
		if read() == nil {
			t.Errorf("a weight was read as %s", name)
		}
	}
	for _, c := range []struct {
		zones   husbandry.Zones
		coolest int64
		known   bool
	}{{husbandry.Zones{}, 0, false}, {husbandry.Zones{Warm: temperature(3100)}, 0, false}, {husbandry.Zones{Cool: temperature(2400)}, 2400, true},
		{husbandry.Zones{Warm: temperature(3100), Cool: temperature(2400)}, 2400, true}, {husbandry.Zones{Warm: temperature(2300), Cool: temperature(2400)}, 2300, true}} {
		if got, known := c.zones.Coolest(); known != c.known || got.Hundredths != c.coolest {
			t.Errorf("%+v: %v, %v", c.zones, got, known)
		}
	}
}
