package husbandry_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/husbandry"
	"coilward/model/storetest"
)

func length(tenths int64) model.Length { return model.Length{Tenths: tenths} }
func temperature(hundredths int64) model.Temperature {
	return model.Temperature{Hundredths: hundredths, Typed: fmt.Sprint(hundredths)}
}

func TestPlacesThatCannotStand(t *testing.T) {
	w := begin(t)
	room := w.place(model.PlaceID{}, "Loft", husbandry.Room)
	closed := w.add(model.PlaceID{}, husbandry.Place{Name: "Barn", Kind: husbandry.Room, Closed: onDay(3)})
	tub := w.add(room, husbandry.Place{Name: "Box", Kind: husbandry.Tub, Code: "B1"})
	type p = husbandry.Place
	for i, c := range []struct {
		name  string
		in    model.PlaceID
		place p
		field string
		want  string
	}{
		{"no name", room, p{Kind: husbandry.Tub}, "place-name", "text.empty"},
		{"blanks for a name", room, p{Name: "  ", Kind: husbandry.Tub}, "place-name", "text.empty"},
		{"a name of 80 signs", room, p{Name: strings.Repeat("ß", 80), Kind: husbandry.Tub}, "", ""},
		{"a name of 81 signs", room, p{Name: strings.Repeat("ß", 81), Kind: husbandry.Tub}, "place-name", "text.long"},
		{"a code of 81 signs", room, p{Name: "c", Kind: husbandry.Tub, Code: strings.Repeat("ß", 81)}, "place-code", "text.long"},
		{"a name with a NUL", room, p{Name: "a\x00", Kind: husbandry.Tub}, "place-name", "text.control"},
		{"a name that is no text", room, p{Name: "a\xff", Kind: husbandry.Tub}, "place-name", "text.control"},
		{"a note with lines", room, p{Name: "lines", Kind: husbandry.Tub, Note: "a\n\tb"}, "", ""},
		{"a note with a bell", room, p{Name: "bell", Kind: husbandry.Tub, Note: "a\ab"}, "note", "text.control"},
		{"no kind", room, p{Name: "x"}, "place-kind", "choice.unknown"},
		{"a kind that is none", room, p{Name: "x", Kind: "cave"}, "place-kind", "choice.unknown"},
		{"the same name beside it", room, p{Name: " bOX ", Kind: husbandry.Tub}, "place-name", "house.twice"},
		{"the same name elsewhere", model.PlaceID{}, p{Name: "Box", Kind: husbandry.Tub}, "", ""},
		{"a name of dots", model.PlaceID{}, p{Name: "..", Kind: husbandry.Tub}, "place-name", "house.dots"},
		{"the same code", model.PlaceID{}, p{Name: "Other", Kind: husbandry.Tub, Code: "b1 "}, "place-code", "house.code-twice"},
		{"a closed one of that name and code", room, p{Name: "Box", Code: "B1", Kind: husbandry.Tub, Closed: onDay(0)}, "", ""},
		{"closed tomorrow", room, p{Name: "x", Kind: husbandry.Tub, Closed: onDay(-1)}, "closed", "day.future"},
		{"in a closed one", closed, p{Name: "x", Kind: husbandry.Tub}, "place-in", "house.in-closed"},
		{"closed in a closed one", closed, p{Name: "x", Kind: husbandry.Tub, Closed: onDay(1)}, "", ""},
		{"a room in a room", room, p{Name: "x", Kind: husbandry.Room}, "place-in", "house.nesting"},
		{"a tub in a tub", tub, p{Name: "x", Kind: husbandry.Tub}, "place-in", "house.nesting"},
		{"a vivarium in a tub", tub, p{Name: "x", Kind: husbandry.Vivarium}, "place-in", "house.nesting"},
		{"a shelf in a room", room, p{Name: "Sill", Kind: husbandry.Shelf}, "", ""},
		{"in nothing", model.PlaceID{ID: model.ID{99}}, p{Name: "x", Kind: husbandry.Tub}, "place-in", "house.gone"},
		{"20 m wide", room, p{Name: "wide", Kind: husbandry.Tub, Size: husbandry.Size{Width: length(200_000), Depth: length(200_000), Height: length(200_000)}}, "", ""},
		{"wider", room, p{Name: "x", Kind: husbandry.Tub, Size: husbandry.Size{Width: length(200_001)}}, "width", "length.range"},
		{"deeper", room, p{Name: "x", Kind: husbandry.Tub, Size: husbandry.Size{Depth: length(200_001)}}, "depth", "length.range"},
		{"less high than nothing", room, p{Name: "x", Kind: husbandry.Tub, Size: husbandry.Size{Height: length(-1)}}, "height", "length.range"},
		{"5 and 60 °C", room, p{Name: "zones", Kind: husbandry.Tub, Zones: husbandry.Zones{Warm: temperature(6000), Cool: temperature(500)}}, "", ""},
		{"too warm", room, p{Name: "x", Kind: husbandry.Tub, Zones: husbandry.Zones{Warm: temperature(6001)}}, "warm-end", "zone.range"},
		{"too cold", room, p{Name: "x", Kind: husbandry.Tub, Zones: husbandry.Zones{Cool: temperature(499)}}, "cool-end", "zone.range"},
		{"one temperature at both ends", room, p{Name: "even", Kind: husbandry.Tub, Zones: husbandry.Zones{Warm: temperature(2800), Cool: temperature(2800)}}, "", ""},
		{"the cool end the warmer", room, p{Name: "x", Kind: husbandry.Tub, Zones: husbandry.Zones{Warm: temperature(2800), Cool: temperature(2801)}}, "cool-end", "zone.turned"},
		{"only a cool end", room, p{Name: "cool", Kind: husbandry.Tub, Zones: husbandry.Zones{Cool: temperature(2500)}}, "", ""},
		{"every ten years", room, p{Name: "seldom", Kind: husbandry.Tub, CleanEvery: 3650}, "", ""},
		{"less often", room, p{Name: "x", Kind: husbandry.Tub, CleanEvery: 3651}, "clean-every", "every.range"},
		{"every minus one day", room, p{Name: "x", Kind: husbandry.Tub, CleanEvery: -1}, "clean-every", "every.range"},
	} {
		if r := w.refuses(c.name, husbandry.AddPlaces{Parent: c.in, Branches: []husbandry.Branch{{Place: c.place}}}, c.want); r != nil && r.Field != c.field {
			t.Errorf("%d %s: at field %q, want %q", i, c.name, r.Field, c.field)
		}
	}
}

// A rack is laid out whole or not at all.
func TestBranchesThatCannotStand(t *testing.T) {
	w := begin(t)
	type b = husbandry.Branch
	type p = husbandry.Place
	room := func(below ...b) husbandry.AddPlaces {
		return husbandry.AddPlaces{Branches: []b{{Place: p{Name: "Loft", Kind: husbandry.Room}, Below: below}}}
	}
	tub := func(name, code string) b { return b{Place: p{Name: name, Code: code, Kind: husbandry.Tub}} }
	w.refuses("nothing", husbandry.AddPlaces{}, "text.empty")
	w.refuses("a name twice", room(tub("a", ""), tub("A", "")), "house.twice")
	w.refuses("a code twice", room(tub("a", "1"), b{Place: p{Name: "s", Kind: husbandry.Shelf}, Below: []b{tub("a", "1")}}), "house.code-twice")
	w.refuses("a room below", room(b{Place: p{Name: "r", Kind: husbandry.Room}}), "house.nesting")
	w.refuses("a tub below a tub", room(b{Place: p{Name: "r", Kind: husbandry.Tub}, Below: []b{tub("a", "")}}), "house.nesting")
	w.refuses("one below without a name", room(tub("", "")), "text.empty")
	w.refuses("two outer ones of one name", husbandry.AddPlaces{Branches: []b{tub("a", ""), tub("a", "")}}, "house.twice")
	if got := walk(w.house()); got != "" {
		t.Fatalf("left behind: %s", got)
	}
	many := make([]b, husbandry.MaxPlaces)
	for i := range many {
		many[i] = tub(fmt.Sprint(i), "")
	}
	w.refuses("too many", husbandry.AddPlaces{Branches: append(many, tub("one more", ""))}, "house.many")
	w.refuses("as many as may be", husbandry.AddPlaces{Branches: many}, "")
	w.do(room(tub("a", "1"), tub("b", "")))
	w.refuses("the code of one that is there", husbandry.AddPlaces{Branches: []b{{Place: p{Name: "Barn", Kind: husbandry.Room}, Below: []b{tub("a", "1")}}}}, "house.code-twice")
}

func TestRackOf(t *testing.T) {
	plan := husbandry.RackPlan{
		Rack: husbandry.Place{Name: "Rack", Kind: husbandry.Rack}, Shelf: husbandry.Place{Name: "Shelf {shelf}{letter}", Code: "S{shelf}", Kind: husbandry.Shelf},
		Box: husbandry.Place{Name: "{letter}{box} of {shelf}", Code: "#{count}", Kind: husbandry.Tub}, Shelves: 2, Boxes: 3}
	w := begin(t)
	branch, r := husbandry.RackOf(plan)
	if r != nil {
		t.Fatal(r)
	}
	room := w.place(model.PlaceID{}, "Loft", husbandry.Room)
	done := w.do(husbandry.AddPlaces{Parent: room, Branches: []husbandry.Branch{branch}})
	if got, want := walk(w.house()), "Loft .Rack ..Shelf 1A ...A1 of 1 ...A2 of 1 ...A3 of 1 ..Shelf 2B ...B1 of 2 ...B2 of 2 ...B3 of 2"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
	if done.Label.Gaps["Count"].Number != 8 || done.Label.Gaps["Place"].Text != "Loft, Rack" {
		t.Errorf("%+v", done.Label)
	}
	last := w.stored(model.PlaceID{ID: done.Documents[8]})
	if last.Code != "#6" || w.house().Title(last.ID) != "Loft, Rack, Shelf 2B, B3 of 2" {
		t.Errorf("%+v", last)
	}
	for _, c := range []struct {
		name   string
		change func(*husbandry.RackPlan)
		field  string
		reason string
	}{
		{"no shelf", func(p *husbandry.RackPlan) { p.Shelves = 0 }, "shelves", "number.range"},
		{"50 by 50", func(p *husbandry.RackPlan) { p.Shelves, p.Boxes = 50, 50 }, "", ""},
		{"51 shelves", func(p *husbandry.RackPlan) { p.Shelves = 51 }, "shelves", "number.range"},
		{"shelves without boxes", func(p *husbandry.RackPlan) { p.Boxes = 0 }, "", ""},
		{"minus one box", func(p *husbandry.RackPlan) { p.Boxes = -1 }, "boxes", "number.range"},
		{"51 boxes", func(p *husbandry.RackPlan) { p.Boxes = 51 }, "boxes", "number.range"},
		{"a gap that is none", func(p *husbandry.RackPlan) { p.Box.Name = "{row}" }, "box-name", "pattern.gap"},
		{"a box's number on a shelf", func(p *husbandry.RackPlan) { p.Shelf.Name = "{box}" }, "shelf-name", "pattern.gap"},
		{"a brace alone", func(p *husbandry.RackPlan) { p.Shelf.Code = "}" }, "shelf-code", "pattern.gap"},
		{"a brace in a code", func(p *husbandry.RackPlan) { p.Box.Code = "{" }, "box-code", "pattern.gap"},
	} {
		changed := plan
		c.change(&changed)
		_, r := husbandry.RackOf(changed)
		if r == nil && c.reason != "" || r != nil && (r.Reason != c.reason || r.Field != c.field) {
			t.Errorf("%s: %v, want %s at %s", c.name, r, c.reason, c.field)
		}
	}
	plan.Shelves, plan.Boxes, plan.Shelf.Name, plan.Shelf.Code = 30, 0, "{letter}", ""
	branch, _ = husbandry.RackOf(plan)
	for n, want := range map[int]string{0: "A", 25: "Z", 26: "AA", 27: "AB", 29: "AD"} {
		if got := branch.Below[n].Place.Name; got != want {
			t.Errorf("shelf %d is %s, want %s", n, got, want)
		}
	}
}

func TestChangePlace(t *testing.T) {
	w := begin(t)
	room := w.place(model.PlaceID{}, "Loft", husbandry.Room)
	tub, other := w.place(room, "Box", husbandry.Tub), w.place(room, "Other", husbandry.Tub)
	change := func(id model.PlaceID, p husbandry.Place) husbandry.ChangePlace {
		return husbandry.ChangePlace{ID: id, Base: w.stored(id).Revision, Place: p}
	}
	done := w.do(change(tub, husbandry.Place{Name: "  Big  box ", Kind: husbandry.Vivarium, Parent: other, Order: 9}))
	if p := w.stored(tub); p.Name != "Big box" || p.Parent != room || p.Order != 0 || p.Kind != husbandry.Vivarium || done.Label.Gaps["Place"].Text != "Loft, Big box" {
		t.Errorf("%+v, %+v", p, done.Label)
	}
	w.refuses("the name of its neighbour", change(tub, husbandry.Place{Name: "other", Kind: husbandry.Tub}), "house.twice")
	w.refuses("its own name", change(tub, husbandry.Place{Name: "BIG BOX", Kind: husbandry.Tub}), "")
	w.refuses("a room that stands in a room", change(tub, husbandry.Place{Name: "x", Kind: husbandry.Room}), "house.nesting")
	w.refuses("a tub that others stand in", change(room, husbandry.Place{Name: "Loft", Kind: husbandry.Tub}), "house.nesting")
	w.refuses("nameless", change(tub, husbandry.Place{Kind: husbandry.Tub}), "text.empty")
	w.missing("one that is not there", husbandry.ChangePlace{ID: model.PlaceID{ID: model.ID{99}}, Place: husbandry.Place{Name: "x", Kind: husbandry.Tub}})
	asp := w.animal("Asp")
	w.do(husbandry.Move{Animal: asp, Place: tub, At: ago(20)})
	w.refuses("a shelf where somebody lives", change(tub, husbandry.Place{Name: "x", Kind: husbandry.Shelf}), "house.lived")
	w.refuses("closed where somebody lives", change(tub, husbandry.Place{Name: "x", Kind: husbandry.Tub, Closed: onDay(0)}), "house.lived-in")
	w.refuses("a room closed in which somebody lives", change(room, husbandry.Place{Name: "Loft", Kind: husbandry.Room, Closed: onDay(0)}), "house.lived-in")
	w.do(husbandry.Move{Animal: asp, Place: other, At: ago(5)})
	w.refuses("closed the day before it moved out", change(tub, husbandry.Place{Name: "x", Kind: husbandry.Tub, Closed: onDay(6)}), "house.lived-in")
	w.refuses("closed on the day it moved out", change(tub, husbandry.Place{Name: "x", Kind: husbandry.Tub, Closed: onDay(5)}), "")
	w.refuses("a move into a closed one", husbandry.Move{Animal: asp, Place: tub, At: ago(0)}, "house.closed")
	if day, closed := w.house().Closed(tub); !closed || day != ago(5).Day() {
		t.Errorf("closed %v since %v", closed, day)
	}
	if _, closed := w.house().Closed(other); closed {
		t.Error("its neighbour is closed too")
	}
	w.refuses("used again", change(tub, husbandry.Place{Name: "x", Kind: husbandry.Tub}), "")
	w.refuses("a move into it", husbandry.Move{Animal: asp, Place: tub, At: ago(0)}, "")
}

func TestMovePlace(t *testing.T) {
	w := begin(t)
	loft, barn := w.place(model.PlaceID{}, "Loft", husbandry.Room), w.place(model.PlaceID{}, "Barn", husbandry.Room)
	rack := w.place(loft, "Rack", husbandry.Rack)
	shelf := w.place(rack, "Shelf", husbandry.Shelf)
	a, b, c := w.place(shelf, "a", husbandry.Tub), w.place(shelf, "b", husbandry.Tub), w.place(shelf, "c", husbandry.Tub)
	none := model.PlaceID{}
	for _, step := range []struct {
		id, parent, before model.PlaceID
		want, label        string
	}{
		{rack, barn, none, "Loft Barn .Rack ..Shelf ...a ...b ...c", "husbandry.done.place-move"},
		{c, shelf, a, "Loft Barn .Rack ..Shelf ...c ...a ...b", "husbandry.done.place-order"},
		{c, shelf, none, "Loft Barn .Rack ..Shelf ...a ...b ...c", "husbandry.done.place-order"},
		{barn, none, loft, "Barn .Rack ..Shelf ...a ...b ...c Loft", "husbandry.done.place-order"},
		{b, none, loft, "Barn .Rack ..Shelf ...a ...c b Loft", "husbandry.done.place-out"},
		{shelf, loft, none, "Barn .Rack b Loft .Shelf ..a ..c", "husbandry.done.place-move"},
		{b, shelf, c, "Barn .Rack Loft .Shelf ..a ..b ..c", "husbandry.done.place-move"},
	} {
		done := w.do(husbandry.MovePlace{ID: step.id, Parent: step.parent, Before: step.before})
		if got := walk(w.house()); got != step.want || done.Label.Key != step.label {
			t.Errorf("%s by %s, want %s by %s", got, done.Label.Key, step.want, step.label)
		}
	}
	w.refuses("a room into its own shelf", husbandry.MovePlace{ID: loft, Parent: shelf}, "house.loop")
	w.refuses("a shelf into a box", husbandry.MovePlace{ID: shelf, Parent: a}, "house.loop")
	w.refuses("a room into a room", husbandry.MovePlace{ID: barn, Parent: loft}, "house.nesting")
	w.refuses("into nothing", husbandry.MovePlace{ID: a, Parent: model.PlaceID{ID: model.ID{99}}}, "house.gone")
	w.missing("one that is not there", husbandry.MovePlace{ID: model.PlaceID{ID: model.ID{99}}})
	w.missing("before one that stands elsewhere", husbandry.MovePlace{ID: a, Parent: shelf, Before: rack})
	other := w.place(barn, "A", husbandry.Tub)
	w.refuses("to one of its name", husbandry.MovePlace{ID: other, Parent: shelf}, "house.twice")
	w.do(husbandry.ChangePlace{ID: rack, Base: w.stored(rack).Revision, Place: husbandry.Place{Name: "Rack", Kind: husbandry.Rack, Closed: onDay(0)}})
	w.refuses("into a closed one", husbandry.MovePlace{ID: shelf, Parent: rack}, "house.in-closed")
	before, err := w.Do(husbandry.MovePlace{ID: a, Parent: shelf, Before: b})
	if err != nil || len(before.Documents) != 0 {
		t.Errorf("where it stands already: %v, %v", before.Documents, err)
	}
}

func TestRemovePlace(t *testing.T) {
	w := begin(t)
	loft := w.place(model.PlaceID{}, "Loft", husbandry.Room)
	shelf := w.place(loft, "Shelf", husbandry.Shelf)
	lived, never, tooled := w.place(shelf, "lived", husbandry.Tub), w.place(shelf, "never", husbandry.Tub), w.place(loft, "tooled", husbandry.Tub)
	asp := w.animal("Asp")
	w.do(husbandry.Move{Animal: asp, Place: lived, At: ago(9)})
	w.do(husbandry.AddTool{Tool: husbandry.Tool{Name: "Hook", Kind: husbandry.Hook, Place: tooled}})
	w.refuses("while somebody lives there", husbandry.RemovePlace{ID: loft}, "house.lived-in")
	w.do(husbandry.MoveOut{Animal: asp, At: ago(1)})
	w.missing("one that is not there", husbandry.RemovePlace{ID: model.PlaceID{ID: model.ID{99}}})
	w.do(husbandry.RemovePlace{ID: loft})
	if got := walk(w.house()); got != "Loft .Shelf ..lived .tooled" {
		t.Errorf("left are %s", got)
	}
	for _, id := range []model.PlaceID{loft, shelf, lived, tooled} {
		if day := w.stored(id).Closed.Day; day != ago(0).Day() {
			t.Errorf("closed on %v", day)
		}
	}
	if _, err := w.Undo(); err != nil {
		t.Fatal(err)
	}
	if got := walk(w.house()); got != "Loft .Shelf ..lived ..never .tooled" || !w.stored(loft).Closed.IsZero() {
		t.Errorf("after undo: %s", got)
	}
	w.do(husbandry.RemovePlace{ID: never})
	if _, there := w.house().Place(never); there {
		t.Error("one that nobody ever lived in is kept")
	}
}

// A tree is read whole though an old change that was taken back left a ring or a
// parent that is gone.
func TestRingsAndLostParents(t *testing.T) {
	w := begin(t)
	put := func(n, parent byte, name string, kind husbandry.PlaceKind) {
		d := model.Document{Type: model.TypePlace, ID: model.ID{15: n}}
		p := husbandry.Place{Name: name, Kind: kind, Order: int(n)}
		if parent > 0 {
			p.Parent = model.PlaceID{ID: model.ID{15: parent}}
		}
		if err := d.Encode(1, p); err != nil {
			t.Fatal(err)
		}
		w.do(storetest.Put{Documents: []model.Document{d}})
	}
	put(1, 2, "a", husbandry.Rack)
	put(2, 3, "b", husbandry.Rack)
	put(3, 1, "c", husbandry.Rack)
	put(4, 99, "lost", husbandry.Room)
	put(5, 2, "box", husbandry.Tub)
	if got := walk(w.house()); got != "lost a .c ..b ...box" {
		t.Errorf("%s", got)
	}
	put(6, 6, "itself", husbandry.Rack)
	if got := walk(w.house()); got != "lost a .c ..b ...box itself" {
		t.Errorf("%s", got)
	}
}

func TestHouseQueries(t *testing.T) {
	w := begin(t)
	loft := w.add(model.PlaceID{}, husbandry.Place{Name: "Loft", Kind: husbandry.Room, Zones: husbandry.Zones{Warm: temperature(2600)}})
	shelf := w.add(loft, husbandry.Place{Name: "Shelf", Kind: husbandry.Shelf, Zones: husbandry.Zones{Warm: temperature(3100), Cool: temperature(2500)}})
	own := w.add(shelf, husbandry.Place{Name: "own", Kind: husbandry.Tub, Zones: husbandry.Zones{Cool: temperature(2400)}})
	plain, bare := w.place(shelf, "plain", husbandry.Tub), w.place(loft, "bare", husbandry.Tub)
	asp, brook, cress := w.animal("Asp"), w.animal("Brook"), w.animal("Cress")
	w.do(husbandry.Move{Animal: asp, Place: own, At: ago(30)})
	w.do(husbandry.Move{Animal: brook, Place: plain, At: ago(29)})
	w.do(husbandry.Move{Animal: asp, Place: bare, At: ago(10)})
	w.do(husbandry.Move{Animal: cress, Place: own, At: ago(8)})
	w.do(husbandry.MoveOut{Animal: brook, At: ago(4)})
	h := w.house()
	for id, want := range map[model.PlaceID]husbandry.Zones{loft: {Warm: temperature(2600)}, shelf: {Warm: temperature(3100), Cool: temperature(2500)},
		own: {Cool: temperature(2400)}, plain: {Warm: temperature(3100), Cool: temperature(2500)}, bare: {}} {
		if got := h.Zones(id); got != want {
			t.Errorf("zones of %s: %+v", h.Title(id), got)
		}
	}
	if h.Title(plain) != "Loft, Shelf, plain" || h.Title(model.PlaceID{}) != "" || len(h.Path(plain)) != 3 || len(h.In(loft)) != 2 || len(h.In(model.PlaceID{})) != 1 {
		t.Errorf("%s, %v", h.Title(plain), h.In(loft))
	}
	ids := func(all ...model.AnimalID) []model.AnimalID { return all }
	for _, c := range []struct {
		place model.PlaceID
		days  int
		want  []model.AnimalID
	}{
		{loft, 31, nil}, {loft, 30, ids(asp)}, {loft, 29, ids(asp, brook)}, {loft, 10, ids(brook, asp)}, {shelf, 10, ids(brook)}, {loft, 8, ids(cress, brook, asp)},
		{loft, 4, ids(cress, asp)}, {own, 0, ids(cress)}, {bare, 0, ids(asp)}, {plain, 0, nil}, {model.PlaceID{ID: model.ID{99}}, 0, nil},
	} {
		if got := h.Living(c.place, ago(c.days)); !slices.Equal(got, c.want) {
			t.Errorf("in %s %d days ago: %v, want %v", h.Title(c.place), c.days, got, c.want)
		}
	}
	if r := h.Residents(ago(9)); len(r) != 2 || !slices.Equal(r[plain], ids(brook)) || !slices.Equal(r[bare], ids(asp)) {
		t.Errorf("%v", r)
	}
	if s, ok := h.Where(asp, ago(10)); !ok || s.Place != bare {
		t.Errorf("%+v, %v", s, ok)
	}
	if _, ok := h.Where(brook, ago(4)); ok {
		t.Error("still there at the minute of moving out")
	}
	if s := h.Stays(asp); len(s) != 2 || s[0].Place != own || s[1].Place != bare || s[0].Until != ago(10) {
		t.Errorf("%+v", s)
	}
	for _, c := range []struct {
		from, to model.Moment
		want     string
	}{
		{model.Moment{}, model.Moment{}, "30 29 10 8"}, {ago(10), ago(9), "30 29 10"}, {ago(9), ago(9), "29 10"}, {ago(3), model.Moment{}, "10 8"},
		{model.Moment{}, ago(29), "30 29"}, {model.Moment{}, ago(31), ""}, {dayAgo(4), dayAgo(4), "29 10 8"},
	} {
		var begins []string
		for _, s := range h.Lived(loft, c.from, c.to) {
			begins = append(begins, fmt.Sprint(int(ago(0).Day()-s.From.Day())))
		}
		if got := strings.Join(begins, " "); got != c.want {
			t.Errorf("lived from %v to %v: %s, want %s", c.from.Day(), c.to.Day(), got, c.want)
		}
	}
	err := w.View(func(v model.View) error {
		alone, err := husbandry.ReadHouseOf(v, asp)
		if err != nil {
			return err
		}
		if s, ok := alone.Where(asp, ago(0)); !ok || s.Place != bare || len(alone.Stays(cress)) != 0 || alone.Title(bare) != "Loft, bare" {
			t.Errorf("%+v, %v", s, ok)
		}
		_, err = husbandry.ReadHouseOf(v, model.AnimalID(loft))
		if err == nil {
			t.Error("a room has a house of its own")
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

// Whoever left the collection lives nowhere any more, on the day after at the
// latest, whatever the stay says.
func TestStaysEndWithTheAnimal(t *testing.T) {
	for _, c := range []struct {
		status animals.Status
		on     model.Date
		until  model.Day
		here   bool
	}{
		{animals.Sold, onDay(5), ago(5).Day(), false}, {animals.Died, onDay(40), ago(30).Day(), false}, {animals.OnLoan, onDay(5), 0, true},
		{animals.Sold, model.Date{}, ago(0).Day(), false}, {animals.Sold, model.Date{Day: model.NewDay(2027, 5, 1), Precision: model.ToMonth}, model.NewDay(2027, 5, 31), false},
	} {
		w := begin(t)
		tub, asp := w.place(model.PlaceID{}, "Box", husbandry.Tub), w.animal("Asp")
		w.do(husbandry.Move{Animal: asp, Place: tub, At: ago(30)})
		w.do(animals.SetStatus{ID: asp, Base: 1, Status: c.status, Day: c.on})
		h := w.house()
		s := h.Stays(asp)[0]
		day := model.Day(0)
		if !s.Until.IsZero() {
			day = s.Until.Day()
		}
		_, there := h.Where(asp, ago(-1))
		if day != c.until || there != c.here || !s.To.IsZero() {
			t.Errorf("%s on %v: until %v, there %v", c.status, c.on, day, there)
		}
	}
}

// Places that are added stand after those that are there, in the order given.
func TestAddedPlacesStandInTheirOrder(t *testing.T) {
	w := begin(t)
	tub := func(name string) husbandry.Branch {
		return husbandry.Branch{Place: husbandry.Place{Name: name, Kind: husbandry.Tub, Order: 7}}
	}
	w.do(husbandry.AddPlaces{Branches: []husbandry.Branch{tub("a"), tub("b")}})
	done := w.do(husbandry.AddPlaces{Branches: []husbandry.Branch{tub("z"), tub("y"), tub("x")}})
	if got := walk(w.house()); got != "a b z y x" || done.Label.Key != "husbandry.done.places-add" || done.Label.Gaps["Count"].Number != 2 {
		t.Errorf("%s, %+v", got, done.Label)
	}
	if done := w.do(husbandry.AddPlaces{Branches: []husbandry.Branch{tub("last")}}); done.Label.Key != "husbandry.done.place-add" || done.Label.Gaps["Place"].Text != "last" || walk(w.house()) != "a b z y x last" {
		t.Errorf("%+v", done.Label)
	}
}

// A place is out of use since the first of itself and what it stands in was.
func TestClosedSinceTheFirstOfThem(t *testing.T) {
	for _, c := range []struct{ room, tub, want int }{{10, 5, 10}, {5, 10, 10}, {7, 7, 7}} {
		w := begin(t)
		room := w.place(model.PlaceID{}, "Loft", husbandry.Room)
		tub := w.add(room, husbandry.Place{Name: "Box", Kind: husbandry.Tub, Closed: onDay(c.tub)})
		w.do(husbandry.ChangePlace{ID: room, Base: 1, Place: husbandry.Place{Name: "Loft", Kind: husbandry.Room, Closed: onDay(c.room)}})
		if day, closed := w.house().Closed(tub); !closed || day != ago(c.want).Day() {
			t.Errorf("%+v: %v since %v", c, closed, day)
		}
	}
}
