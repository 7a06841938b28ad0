package powercut_test

import (
	"errors"
	"slices"
	"sync"
	"testing"
	"time"

	"pgregory.net/rapid"

	"coilward/assets"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/collection"
	"coilward/model/exam"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/powercut"
	"coilward/model/storetest"
)

var loaded = sync.OnceValues(func() (*knowledge.Tables, error) { return knowledge.Load(assets.Knowledge()) })

func tables(t testing.TB) *knowledge.Tables {
	t.Helper()
	all, err := loaded()
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// Looks on days 1, 3, 7 and 14: common practice, no source.
func TestWatchAfter(t *testing.T) {
	const ended = model.Day(20_000)
	for _, c := range []struct {
		name         string
		looks        []model.Day
		next, looks4 int
	}{
		{"no look yet", nil, 1, 0},
		{"one on the day of the cut", []model.Day{0}, 1, 0},
		{"one before it", []model.Day{-4}, 1, 0},
		{"the first", []model.Day{1}, 3, 1},
		{"the first missed", []model.Day{2}, 3, 1},
		{"a late one stands for those before", []model.Day{8}, 14, 3},
		{"three", []model.Day{7, 1, 3}, 14, 3},
		{"the last one missed", []model.Day{1, 3, 7, 13}, 14, 3},
		{"all", []model.Day{1, 3, 7, 14}, 0, 4},
		{"the last alone", []model.Day{14}, 0, 4},
		{"long after", []model.Day{90}, 0, 4},
	} {
		t.Run(c.name, func(t *testing.T) {
			var looks []model.Day
			for _, day := range c.looks {
				looks = append(looks, ended+day)
			}
			w := powercut.WatchAfter(tables(t), ended, looks)
			want := model.Day(0)
			if c.next > 0 {
				want = ended + model.Day(c.next)
			}
			if w.Next != want || w.Looks != c.looks4 || w.Of != 4 || w.Ends != ended+14 || w.Over() != (c.next == 0) {
				t.Errorf("got %+v, want the next on day %d after %d looks", w, c.next, c.looks4)
			}
		})
	}
}

// Whatever the looks and their order: the watch ends by a look on its last day or after, and
// by nothing else; one look more never takes it back.
func TestWatchAfter_EndsByLooks(t *testing.T) {
	all := tables(t)
	rapid.Check(t, func(t *rapid.T) {
		ended := model.Day(rapid.IntRange(10_000, 30_000).Draw(t, "ended"))
		looks := rapid.SliceOf(rapid.Custom(func(t *rapid.T) model.Day { return ended + model.Day(rapid.IntRange(-20, 40).Draw(t, "day")) })).Draw(t, "looks")
		w := powercut.WatchAfter(all, ended, looks)
		late := slices.ContainsFunc(looks, func(d model.Day) bool { return d >= w.Ends })
		if w.Over() != late {
			t.Fatalf("over %v, a look on its last day or after %v", w.Over(), late)
		}
		if shuffled := rapid.Permutation(looks).Draw(t, "shuffled"); powercut.WatchAfter(all, ended, shuffled) != w {
			t.Fatal("another order of the looks tells another watch")
		}
		more := powercut.WatchAfter(all, ended, append(slices.Clone(looks), ended+model.Day(rapid.IntRange(-20, 40).Draw(t, "more"))))
		if more.Looks < w.Looks || w.Over() && !more.Over() {
			t.Fatalf("one look more: %+v after %+v", more, w)
		}
		if !w.Over() && (w.Next <= w.Last || w.Next <= ended) {
			t.Fatalf("the next look is not ahead of the last: %+v", w)
		}
	})
}

// house is a collection with two rooms of one box each, one animal in either, and one that
// lives in no place.
type house struct {
	t            testing.TB
	c            *collection.Collection
	clock        *storetest.Clock
	rooms, boxes [2]model.PlaceID
	in           [2]model.AnimalID
	loose        model.AnimalID
	from, until  model.Moment
}

func newHouse(t testing.TB) *house {
	t.Helper()
	c, clock := storetest.New(t)
	h := &house{t: t, c: c, clock: clock}
	clock.Set(storetest.Start().AddDate(0, 0, -30))
	for i, name := range []string{"Loft", "Cellar"} {
		change := h.do(husbandry.AddPlaces{Branches: []husbandry.Branch{{Place: husbandry.Place{Name: name, Kind: husbandry.Room}, Below: []husbandry.Branch{{Place: husbandry.Place{Name: "1", Kind: husbandry.Tub}}}}}})
		for _, id := range change.Documents {
			h.view(func(v model.View) error {
				d, err := v.Document(id)
				if err != nil {
					return err
				}
				p, err := husbandry.DecodePlace(d)
				if p.Kind == husbandry.Room {
					h.rooms[i] = p.ID
				} else {
					h.boxes[i] = p.ID
				}
				return err
			})
		}
		h.in[i] = h.add(name + " snake")
		h.do(husbandry.Move{Animal: h.in[i], Place: h.boxes[i], At: model.MomentOf(clock.Now())})
	}
	h.loose = h.add("Loose")
	clock.Set(storetest.Start())
	h.until = model.MomentOf(clock.Now())
	h.until.UTC -= 2 * 86400
	h.from = h.until
	h.from.UTC -= 9 * 3600
	return h
}

func (h *house) add(name string) model.AnimalID {
	h.t.Helper()
	return model.AnimalID{ID: h.do(animals.Add{Animal: animals.Animal{Name: name, Species: "python-regius"}}).Documents[0]}
}

func (h *house) do(c model.Command) collection.Change {
	h.t.Helper()
	change, err := h.c.Do(c)
	if err != nil {
		h.t.Fatal(err)
	}
	return change
}

func (h *house) view(read func(model.View) error) {
	h.t.Helper()
	if err := h.c.View(read); err != nil {
		h.t.Fatal(err)
	}
}

func (h *house) refused(c model.Command, field, reason string) {
	h.t.Helper()
	_, err := h.c.Do(c)
	if r := (*model.Refusal)(nil); !errors.As(err, &r) || r.Reason != reason || r.Field != field {
		h.t.Errorf("got %v, want the refusal %s at %s", err, reason, field)
	}
}

func (h *house) cuts() (all []powercut.Stored) {
	h.t.Helper()
	h.view(func(v model.View) (err error) { all, _, err = powercut.All(v); return err })
	return all
}

func (h *house) note(places ...model.PlaceID) powercut.Note {
	return powercut.Note{Places: places, From: h.from, Cut: powercut.Cut{Until: h.until, Whole: len(places) == 0}}
}

// One that was sold or died is looked at by nobody here; it is named, and no look is noted.
func TestLookedQuiet_NotHere(t *testing.T) {
	h := newHouse(t)
	h.do(h.note())
	var gone animals.Stored
	h.view(func(v model.View) (err error) { gone, err = animals.Find(v, h.in[1]); return err })
	sold := gone.Animal
	sold.Status = animals.Sold
	h.do(animals.Change{ID: gone.ID, Base: gone.Revision, Animal: sold})
	h.refused(powercut.LookedQuiet{Tables: tables(t), Animals: []model.AnimalID{h.in[0], h.in[1]}}, "animals", "power-cut.not-here")
	h.do(powercut.LookedQuiet{Tables: tables(t), Animals: []model.AnimalID{h.in[0]}})
}

func TestNote_IsOfThoseWhoLivedThere(t *testing.T) {
	h := newHouse(t)
	h.do(h.note(h.rooms[0]))
	if all := h.cuts(); len(all) != 1 || !slices.Equal(all[0].Animals, []model.AnimalID{h.in[0]}) || !slices.Equal(all[0].Places, []model.PlaceID{h.rooms[0]}) {
		t.Fatalf("got %+v, want the loft with the one who lives there", all)
	}
	one := h.cuts()[0]
	whole := h.note()
	whole.Confirmed = model.Confirmed{powercut.AskTwice}
	h.do(powercut.Change{Entry: one.ID, Base: one.Revision, Note: whole})
	if all := h.cuts(); len(all) != 1 || len(all[0].Animals) != 3 || len(all[0].Places) != 2 || !all[0].Whole {
		t.Fatalf("got %+v, want both rooms and all three", all)
	}
	h.do(powercut.Remove{Entry: one.ID})
	if all := h.cuts(); len(all) != 0 {
		t.Errorf("%+v is still there", all)
	}
	if _, err := h.c.Undo(); err != nil || len(h.cuts()) != 1 {
		t.Errorf("taken back: %v, %+v", err, h.cuts())
	}
}

// One that moved out before it, or died before it, did not live there then; one that moved
// out in the middle did.
func TestNote_GoesByTheStaysOfThen(t *testing.T) {
	h := newHouse(t)
	before, during := h.from, h.from
	before.UTC -= 3 * 86400
	during.UTC += 3600
	h.do(husbandry.MoveOut{Animal: h.in[0], At: before})
	h.do(husbandry.Move{Animal: h.in[1], Place: h.boxes[0], At: during})
	h.refused(powercut.Note{Places: []model.PlaceID{h.rooms[0]}, From: moved(before, 3600), Cut: powercut.Cut{Until: moved(before, 7200)}}, "rooms", "power-cut.nobody")
	for _, room := range h.rooms {
		h.do(h.note(room))
	}
	for _, cut := range h.cuts() {
		if !slices.Equal(cut.Animals, []model.AnimalID{h.in[1]}) {
			t.Errorf("%+v, want the one that moved in the middle of it in both rooms", cut)
		}
	}
}

func moved(m model.Moment, seconds int64) model.Moment {
	m.UTC += seconds
	return m
}

func TestNote_Refuses(t *testing.T) {
	h := newHouse(t)
	change := func(f func(*powercut.Note)) powercut.Note {
		c := h.note(h.rooms[0])
		f(&c)
		return c
	}
	for _, c := range []struct {
		name, field, reason string
		note                powercut.Note
	}{
		{"until before from", "cut-until", "power-cut.backwards", change(func(c *powercut.Note) { c.Cut.Until = moved(c.From, -60) })},
		{"no time at all", "cut-until", "power-cut.backwards", change(func(c *powercut.Note) { c.Cut.Until = c.From })},
		{"no beginning", "cut-from", "day.empty", change(func(c *powercut.Note) { c.From = model.Moment{} })},
		{"no end", "cut-until", "day.empty", change(func(c *powercut.Note) { c.Cut.Until = model.Moment{} })},
		{"in the future", "cut-from", "day.future", change(func(c *powercut.Note) {
			c.From, c.Cut.Until = moved(c.From, 5*86400), moved(c.From, 6*86400)
		})},
		{"its end in the future", "cut-until", "day.future", change(func(c *powercut.Note) { c.Cut.Until = moved(c.From, 3*86400) })},
		{"a room that nobody knows", "rooms", "house.gone", change(func(c *powercut.Note) { c.Places = []model.PlaceID{{ID: h.loose.ID}} })},
		{"no room", "rooms", "power-cut.nowhere", change(func(c *powercut.Note) { c.Places = nil })},
		{"colder than the pole", "coldest", "power-cut.temperature", change(func(c *powercut.Note) { c.Cut.Coldest = &model.Temperature{Hundredths: -9000} })},
		{"a week", "cut-until", powercut.AskLong, change(func(c *powercut.Note) { c.From = moved(c.Cut.Until, -8*86400) })},
	} {
		t.Run(c.name, func(t *testing.T) { h.t = t; h.refused(c.note, c.field, c.reason) })
	}
	h.t = t
	soon := moved(model.MomentOf(h.clock.Now()), 3600)
	_, err := h.c.Do(change(func(c *powercut.Note) { c.Cut.Until = soon }))
	if r := (*model.Refusal)(nil); !errors.As(err, &r) || r.Field != "cut-until-hour" || r.Value != soon.Time().Format("15:04") || r.Gaps["Hour"].Text != r.Value {
		t.Errorf("an hour that is still to come: %v", err)
	}
	h.do(h.note(h.rooms[0]))
	h.refused(h.note(h.rooms[0]), "cut-from", powercut.AskTwice)
	h.refused(h.note(h.boxes[0]), "cut-from", powercut.AskTwice)
	h.do(h.note(h.rooms[1])) // at the same time elsewhere is no second one
}

// A quiet look is a check of the one stop: nothing is said of any other, and one that is
// gravid is so after it.
func TestLookedQuiet(t *testing.T) {
	h := newHouse(t)
	all := tables(t)
	check := func(of model.AnimalID, gravid bool, found ...knowledge.FindingID) {
		t.Helper()
		var id model.EntryID
		h.view(func(v model.View) error { id.ID = v.NewID(); return nil })
		at := model.MomentOf(h.clock.Now())
		d := exam.Begin(all, exam.Beginning{Check: id, Animal: of, At: at, Context: exam.Context{Gravid: gravid}})
		for i := range d.Stops {
			d.Stops[i].Look, d.Stops[i].At = exam.Seen, at
		}
		for _, what := range found {
			d.Findings = append(d.Findings, exam.Finding{Standing: exam.New, Stop: knowledge.Rest, What: what, Grade: exam.Slight, At: at})
		}
		h.do(exam.Finish{Tables: all, Draft: d})
	}
	check(h.in[0], true)
	check(h.in[1], false, "sound")
	h.clock.Pass(time.Hour)
	h.do(powercut.LookedQuiet{Tables: all, Animals: []model.AnimalID{h.in[0], h.loose}})
	for id, gravid := range map[model.AnimalID]bool{h.in[0]: true, h.loose: false} {
		h.view(func(v model.View) error {
			last, found, err := exam.Latest(v, id, moved(v.Now(), 1))
			if !found || !powercut.Looked(last.Check) || last.LookedAt() != 1 || last.Context.Gravid != gravid || last.Whole(all) {
				t.Errorf("got %+v %v, want a look at rest alone, gravid %v", last, found, gravid)
			}
			return err
		})
	}
	h.refused(powercut.LookedQuiet{Tables: all, Animals: []model.AnimalID{h.loose, h.in[1]}}, "animals", "power-cut.open")
	h.refused(powercut.LookedQuiet{Tables: all}, "animals", "power-cut.no-look")
}

// What the look has to judge is open at rest or of the airways, wherever it was found; the
// animal's own and what is gone are not.
func TestOpenAtRest(t *testing.T) {
	all := tables(t)
	found := func(stop knowledge.StopID, what knowledge.FindingID, last exam.Standing, own bool) exam.StoredProblem {
		return exam.StoredProblem{Problem: exam.Problem{Stop: stop, What: what, Baseline: own, Glimpses: []exam.Glimpse{{Standing: last}}}}
	}
	for name, c := range map[string]struct {
		of   exam.StoredProblem
		open bool
	}{
		"a sound at rest":     {found(knowledge.Rest, "sound", exam.New, false), true},
		"weak at rest":        {found(knowledge.Rest, "cannot-right", exam.Same, false), true},
		"froth in the airway": {found("airway", "froth", exam.New, false), true},
		"froth that is gone":  {found("airway", "froth", exam.Gone, false), false},
		"its own sound":       {found(knowledge.Rest, "sound", exam.Same, true), false},
		"a scar on the skin":  {found("skin", "scar", exam.Same, false), false},
	} {
		if got := powercut.OpenAtRest(all, []exam.StoredProblem{c.of}); got != c.open {
			t.Errorf("%s: %v", name, got)
		}
	}
}

func TestSound(t *testing.T) {
	h := newHouse(t)
	h.do(h.note(h.rooms[0]))
	var d model.Document
	h.view(func(v model.View) (err error) { d, err = v.Document(h.cuts()[0].ID.ID); return err })
	now := model.MomentOf(h.clock.Now())
	if known, err := powercut.Sound(d, now); !known || err != nil {
		t.Errorf("a sound one: %v %v", known, err)
	}
	if _, err := powercut.Sound(d, moved(now, -30*86400)); err == nil {
		t.Error("one in the future is sound")
	}
	backwards := d
	backwards.At = moved(now, -3600)
	if _, err := powercut.Sound(backwards, now); err == nil {
		t.Error("one that ends before it begins is sound")
	}
	if known, _ := powercut.Sound(model.Document{Type: model.TypeEntry, Kind: "weight"}, now); known {
		t.Error("a weight is none")
	}
}
