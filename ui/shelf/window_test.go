package shelf_test

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/collection"
	"coilward/model/husbandry"
	"coilward/ui/place"
	"coilward/ui/shelf"
	"coilward/ui/uitest"
	"coilward/ui/widgets/shelfview"
)

// hand is the window with the shelf in it.
type hand struct {
	*uitest.Opened
	page *shelf.Page
	keys int
}

// open is the shelf over a collection that fill has filled; nil: the sample.
func open(t testing.TB, l uitest.Look, language string, fill func(*collection.Collection)) *hand {
	t.Helper()
	h := &hand{}
	h.Opened = uitest.Open(t, uitest.Setting{Look: l, Language: language, Fill: fill, Place: place.Shelf,
		Make: func(w place.Window) place.Place { h.page = shelf.New(w); return h.page }})
	h.Go(place.Route{To: place.Shelf})
	return h
}

func do(t testing.TB, c *collection.Collection, command model.Command) collection.Change {
	t.Helper()
	change, err := c.Do(command)
	if err != nil {
		t.Fatalf("%s: %v", command.Name(), err)
	}
	return change
}

// room sets up a room with so many shelves of so many boxes, and puts animals of
// these names into the first boxes.
func room(t testing.TB, c *collection.Collection, name string, shelves, boxes int, names ...string) {
	t.Helper()
	rack, refusal := husbandry.RackOf(husbandry.RackPlan{Rack: husbandry.Place{Name: name, Kind: husbandry.Room},
		Shelf: husbandry.Place{Name: "Shelf {shelf}", Kind: husbandry.Shelf}, Box: husbandry.Place{Name: "{letter}{box}", Kind: husbandry.Tub}, Shelves: shelves, Boxes: boxes})
	if refusal != nil {
		t.Fatal(refusal)
	}
	do(t, c, husbandry.AddPlaces{Branches: []husbandry.Branch{rack}})
	var ids []model.PlaceID
	now := model.Moment{}
	if err := c.View(func(v model.View) error {
		now = v.Now()
		house, err := husbandry.ReadHouse(v)
		if err == nil {
			for _, p := range house.Places() {
				if path := house.Path(p.ID); p.Kind.Houses() && path[0].Name == name {
					ids = append(ids, p.ID)
				}
			}
		}
		return err
	}); err != nil {
		t.Fatal(err)
	}
	for i, n := range names {
		change := do(t, c, animals.Add{Animal: animals.Animal{Name: n, Status: animals.Kept, Species: "python-regius"}})
		do(t, c, husbandry.Move{Animal: model.AnimalID{ID: change.Documents[0]}, Place: ids[i], At: now})
	}
}

// many are that many names.
func many(n int) (names []string) {
	for i := range n {
		names = append(names, fmt.Sprintf("Animal %02d", i+1))
	}
	return names
}

// press types letters and figures; Enter is '\n'. Each counts as a key.
func (h *hand) press(keys string) {
	for _, k := range keys {
		h.keys++
		h.Clock.Pass(2 * time.Second)
		if k == '\n' {
			uitest.Key(h.Canvas(), fyne.KeyReturn)
		} else {
			uitest.Type(h.Canvas(), string(k))
		}
	}
}

func (h *hand) key(k fyne.KeyName) { h.keys++; uitest.Key(h.Canvas(), k) }

func (h *hand) top() fyne.CanvasObject { return uitest.Top(h.Canvas()) }

// entries are the bodies of an animal's everyday entries, newest first.
func (h *hand) entries(name string) (bodies []care.Body) {
	h.T.Helper()
	id := h.Animal(name).ID
	if err := h.Collection().View(func(v model.View) error {
		var failed error
		err := v.Timeline(id.Subject(), model.Beginning, model.EndOfTime, func(d model.Document) bool {
			e, ok, err := care.Decode(d)
			if failed = err; ok {
				bodies = append(bodies, e.Body)
			}
			return failed == nil
		})
		if err == nil {
			err = failed
		}
		return err
	}); err != nil {
		h.T.Fatal(err)
	}
	return bodies
}

// stays is where an animal lives now; empty: nowhere.
func (h *hand) lives(name string) string {
	h.T.Helper()
	id, where := h.Animal(name).ID, ""
	if err := h.Collection().View(func(v model.View) error {
		house, err := husbandry.ReadHouse(v)
		if err != nil {
			return err
		}
		now := v.Now()
		now.UTC++
		if s, ok := house.Where(id, now); ok {
			where = house.Title(s.Place)
		}
		return nil
	}); err != nil {
		h.T.Fatal(err)
	}
	return where
}

func (h *hand) view() *shelfview.View {
	var found *shelfview.View
	uitest.Walk(h.Content(), func(s uitest.Seen) bool {
		if v, ok := s.Object.(*shelfview.View); ok {
			found = v
		}
		return found == nil
	})
	if found == nil {
		h.T.Fatalf("no shelf is shown: %q", uitest.Texts(h.Content()))
	}
	return found
}

func twenty(t testing.TB) func(*collection.Collection) {
	return func(c *collection.Collection) { room(t, c, "Grain loft", 4, 6, many(20)...) }
}

// Twenty animals are fed with the same prey with at most 25 keys from the start
// of the job.
func TestFeedTwentyWithFewKeys(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en", func(c *collection.Collection) {
		twenty(t)(c)
		do(t, c, animals.Add{Animal: animals.Animal{Name: "Guest", Status: animals.Kept}})
	})
	guest := h.Animal("Guest").ID
	h.Clock.Pass(time.Minute)
	do(t, h.Collection(), care.Feed{About: care.About{Animal: guest, At: model.MomentOf(h.Clock.Now())},
		Meal: care.Meal{Prey: care.Rat, Each: model.Grams(60), Count: 1, State: care.Thawed, Outcome: care.Took}})
	h.keys = 0
	h.press("1\n")
	if !h.Shows("Rat, 60\u00a0g, frozen, thawed") {
		t.Fatalf("what was set once is not said: %q", uitest.Texts(h.Content()))
	}
	h.press(strings.Repeat("1", 9) + "2" + strings.Repeat("1", 10))
	if h.keys > 25 {
		t.Errorf("%d keys", h.keys)
	}
	for i, name := range many(20) {
		meals := h.entries(name)
		if len(meals) != 1 {
			t.Fatalf("%s has %d entries", name, len(meals))
		}
		want := care.Took
		if i == 9 {
			want = care.Refused
		}
		if m := meals[0].(care.Meal); m.Outcome != want || m.Prey != care.Rat || m.Each.Milligrams != 60_000 || m.State != care.Thawed {
			t.Errorf("%s: %+v", name, m)
		}
	}
}

// Sixty animals are weighed with five keys each, and one to begin.
func TestWeighSixtyWithFiveKeysEach(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en", func(c *collection.Collection) { room(t, c, "Loft", 4, 15, many(60)...) })
	h.press("2")
	h.keys = 0
	for i := range 60 {
		h.press(fmt.Sprintf("%d\n", 1001+i))
	}
	if h.keys > 300 {
		t.Errorf("%d keys for 60 animals", h.keys)
	}
	for i, name := range many(60) {
		e := h.entries(name)
		if len(e) != 1 || e[0].(care.Weight).Mass.Milligrams != int64(1001+i)*1000 {
			t.Fatalf("%s: %+v", name, e)
		}
	}
	if !h.Shows("60 noted") {
		t.Errorf("at the end: %q", uitest.Texts(h.Content()))
	}
}

// A mass far from the last one asks, one very far wants to be typed again, one
// above the species' maximum is refused; nothing is noted until it is answered.
func TestOutlierAsks(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en", func(c *collection.Collection) { room(t, c, "Loft", 1, 2, "Juniper", "Brook") })
	h.press("21432\n")
	h.Clock.Pass(time.Hour)
	h.key(fyne.KeyEscape)
	h.press("22000")
	if !h.Shows("Far from 1432\u00a0g") {
		t.Errorf("while it is typed nothing warns: %q", uitest.Texts(h.Content()))
	}
	h.press("\n")
	if h.Alerts != 1 {
		t.Errorf("it sounded %d times", h.Alerts)
	}
	if n := len(h.entries("Juniper")); n != 1 || h.Canvas().Overlays().Top() == nil {
		t.Fatalf("%d weights, and it is not asked", n)
	}
	h.key(fyne.KeyEscape) // no: it was a slip
	h.key(fyne.KeyDelete)
	h.press("1450\n")
	if h.Alerts != 1 {
		t.Errorf("a plausible mass sounded: %d times", h.Alerts)
	}
	h.Change(func(p *place.Preferences) { p.Silent = true })
	if e := h.entries("Juniper"); len(e) != 2 || e[0].(care.Weight).Mass.Milligrams != 1_450_000 {
		t.Errorf("after the slip: %+v", e)
	}
	h.press("9000\n") // the first of Brook: more than the species weighs
	if h.Alerts != 1 {
		t.Errorf("it sounded though it was switched off: %d times", h.Alerts)
	}
	if e := h.entries("Brook"); len(e) != 0 || !h.Shows("“9000”") {
		t.Errorf("a mass above the maximum: %+v; shown %q", e, uitest.Texts(h.Content()))
	}
}

// One step back and another answer puts the entry right: there is no second one.
// Undo opens the stop again.
func TestBackPutsRightAndUndoOpens(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en", func(c *collection.Collection) { room(t, c, "Loft", 1, 3, "Ash", "Brook", "Clover") })
	h.press("1\n1") // Ash took
	h.press("-2")   // no, refused
	if e := h.entries("Ash"); len(e) != 1 || e[0].(care.Meal).Outcome != care.Refused {
		t.Fatalf("put right: %+v", e)
	}
	if !h.Shows("Brook") || !h.Shows("Ash: refused") {
		t.Errorf("shown: %q", uitest.Texts(h.Content()))
	}
	h.Undo() // the change alone
	if e := h.entries("Ash"); len(e) != 1 || e[0].(care.Meal).Outcome != care.Took || !h.Shows("took") || h.Shows("Ash: refused") {
		t.Errorf("the change taken back: %+v; shown %q", e, uitest.Texts(h.Content()))
	}
	h.Redo()
	h.press("13") // Brook took, Clover skipped
	h.Undo()
	if e := h.entries("Brook"); len(e) != 0 {
		t.Fatalf("not taken back: %+v", e)
	}
	if pos, size, ok := h.view().PlaceOf(h.view().Current()); !ok || size.Width < 300 || pos.X < 0 {
		t.Errorf("after undo no box is lit: %v %v", pos, size)
	}
	h.press("2")
	if e := h.entries("Brook"); len(e) != 1 || e[0].(care.Meal).Outcome != care.Refused {
		t.Errorf("answered anew: %+v", e)
	}
}

// Esc leaves the job; what was noted stays.
func TestEscapeKeepsWhatWasNoted(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en", twenty(t))
	h.press("1\n1")
	h.key(fyne.KeyEscape)
	if e := h.entries("Animal 01"); len(e) != 1 || h.Shows("20 left") {
		t.Errorf("%+v; shown %q", e, uitest.Texts(h.Content()))
	}
}

// "None seen" for all lists the names first; one who is struck off gets nothing.
func TestNoneSeenForAllButOne(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en", func(c *collection.Collection) { room(t, c, "Loft", 1, 4, "Ash", "Brook", "Clover", "Dill") })
	h.press("3")
	uitest.Tap(t, h.Content(), "White paper")
	h.press("\n2") // Ash has one
	h.press("9")
	if !uitest.Shows(h.top(), "Brook") || uitest.Shows(h.top(), "Ash") {
		t.Errorf("the list: %q", uitest.Texts(h.top()))
	}
	uitest.Tap(t, h.top(), "Clover")
	h.press("\n")
	for name, want := range map[string]int{"Ash": 1, "Brook": 1, "Clover": 0, "Dill": 1} {
		if e := h.entries(name); len(e) != want {
			t.Errorf("%s has %d looks, want %d", name, len(e), want)
		}
	}
	if g := h.entries("Ash")[0].(care.MiteLook); g.Grade != care.OneMite || len(g.Where) != 1 || g.Where[0] != care.WhitePaper {
		t.Errorf("Ash: %+v", g)
	}
}

// Cleaning walks the boxes, those nobody lives in too.
func TestCleanWalksTheBoxes(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en", func(c *collection.Collection) { room(t, c, "Loft", 1, 3, "Ash") })
	h.press("5")
	uitest.Tap(t, h.Content(), "Spot clean")
	uitest.Tap(t, h.Content(), "Begin")
	h.press("\n\n\n")
	if !h.Shows("3 noted") {
		t.Fatalf("shown: %q", uitest.Texts(h.Content()))
	}
}

// A walk of cleaning takes several means, each with its minutes; what gives off
// poisonous gas together is said before the walk begins, and it does not begin.
func TestCleanWithSeveralMeans(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en", func(c *collection.Collection) { room(t, c, "Loft", 1, 1, "Ash") })
	h.press("5")
	choose := func(act, value string) {
		uitest.Tap(t, h.Content(), act)
		h.Focus(uitest.Entries(h.top())[0])
		h.press(value + "\n")
	}
	minutes := func(n int, text string) {
		h.Focus(uitest.Entries(h.Content())[n+1]) // the first is that of the page
		h.press(text)
	}
	choose("With what", "soap")
	minutes(0, "5")
	choose("And another means", "vinegar")
	choose("And another means", "bleach, about")
	uitest.Tap(t, h.Content(), "Begin")
	if !h.Shows("poisonous gas together") || !h.Shows("Begin") {
		t.Fatalf("begun, or not said: %q", uitest.Texts(h.Content()))
	}
	uitest.Tap(t, h.Content(), "Leave out") // the soap
	uitest.Tap(t, h.Content(), "Leave out") // the vinegar
	choose("And another means", "soap")
	minutes(0, "10")
	minutes(1, "5")
	uitest.Tap(t, h.Content(), "Begin")
	h.press("\n")
	var noted []husbandry.Use
	if err := h.Collection().View(func(v model.View) error {
		return v.All(model.TypeEntry, func(d model.Document) bool {
			if c, err := husbandry.DecodeCleaning(d); err == nil {
				noted = append(noted, c.Uses...)
			}
			return true
		})
	}); err != nil {
		t.Fatal(err)
	}
	if want := []husbandry.Use{{Means: "hypochlorite-half", Minutes: 10}, {Means: "detergent", Minutes: 5}}; !slices.Equal(noted, want) {
		t.Errorf("noted %+v, want %+v", noted, want)
	}
}

// The check opens from the picture; coming back without one, one stands where one
// stood.
func TestCheckOpensTheAnimal(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en", func(c *collection.Collection) { room(t, c, "Loft", 1, 2, "Ash", "Brook") })
	h.press("4\n")
	if last := h.Went[len(h.Went)-1]; last.To != place.Check || last.Subject != h.Animal("Ash").ID.ID {
		t.Fatalf("went to %+v", last)
	}
	h.Back()
	if !h.Shows("2 left") {
		t.Errorf("shown: %q", uitest.Texts(h.Content()))
	}
}

// Nobody is forgotten: who lives nowhere stands in a row of its own, and is
// housed from there; a drag moves, and asks from when.
func TestHousingAndDragging(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en", func(c *collection.Collection) {
		room(t, c, "Loft", 1, 3, "Ash")
		do(t, c, animals.Add{Animal: animals.Animal{Name: "Brook", Status: animals.Kept}})
	})
	if !h.Shows("Not housed yet") || !h.Shows("Brook") {
		t.Fatalf("shown: %q", uitest.Texts(h.Content()))
	}
	h.view().OnMove(shelfview.At{Row: 0, Box: 0}, shelfview.At{Row: 1, Box: 1})
	if !uitest.Shows(h.top(), "From when") {
		t.Fatalf("not asked: %q", uitest.Texts(h.top()))
	}
	h.press("\n")
	if where := h.lives("Brook"); !strings.HasSuffix(where, "A2") {
		t.Errorf("Brook lives in %q", where)
	}
	if h.Shows("Not housed yet") {
		t.Error("she is still said to live nowhere")
	}
}

// By key: m, then the target by its name.
func TestMoveByKey(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en", func(c *collection.Collection) { room(t, c, "Loft", 2, 3, "Ash", "Brook") })
	h.Clock.Pass(24 * time.Hour)
	h.Go(place.Route{To: place.Shelf})
	h.view().SetCurrent(shelfview.At{})
	h.press("mb2\n")
	uitest.Tap(t, h.top(), "Today")
	h.press("\n")
	if where := h.lives("Ash"); !strings.HasSuffix(where, "B2") {
		t.Errorf("Ash lives in %q; shown %q", where, uitest.Texts(h.top()))
	}
	h.press("m")
	h.key(fyne.KeyEscape)
	if h.Shows("moves. Choose") {
		t.Error("Esc does not leave the move")
	}
}

// A whole shelf moves to another one, each to its own box; where there are too
// few it is said.
func TestPair(t *testing.T) {
	from, to := shelf.Row{Boxes: make([]shelf.Box, 3)}, shelf.Row{Boxes: make([]shelf.Box, 2)}
	for i := range from.Boxes {
		if i != 1 {
			a := &shelf.Animal{}
			a.ID.ID[0] = byte(i + 1)
			from.Boxes[i].Animals = []*shelf.Animal{a}
		}
	}
	to.Boxes[1].Place.ID.ID[0] = 9
	moves, fits := shelf.Pair(from, to)
	if !fits || len(moves) != 2 || moves[1].Place.ID[0] != 9 || moves[1].Animal.ID[0] != 3 {
		t.Errorf("%v %+v", fits, moves)
	}
	from.Boxes[1].Animals = from.Boxes[0].Animals
	if _, fits := shelf.Pair(from, to); fits {
		t.Error("three boxes of animals fit into two")
	}
}

// Everyone of a room moves into another one, each into its own box, in one change.
func TestWholeRoomMoves(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en", func(c *collection.Collection) {
		room(t, c, "Loft", 2, 2, "Ash", "Brook", "Clover")
		room(t, c, "Mill", 1, 3)
	})
	h.Clock.Pass(time.Hour)
	h.view().Open(shelfview.At{})
	uitest.Tap(t, h.Content(), "Move everyone of this room")
	uitest.Type(h.Canvas(), "Mill")
	h.press("\n")
	if !uitest.Shows(h.top(), "From when") {
		t.Fatalf("not asked: %q", uitest.Texts(h.top()))
	}
	h.press("\n")
	for i, name := range []string{"Ash", "Brook", "Clover"} {
		if where := h.lives(name); where != fmt.Sprintf("Mill, Shelf 1, A%d", i+1) {
			t.Errorf("%s lives in %q; shown %q", name, where, uitest.Texts(h.top()))
		}
	}
	h.Undo()
	if where := h.lives("Clover"); where != "Loft, Shelf 2, B1" {
		t.Errorf("taken back, Clover lives in %q", where)
	}
}

// The empty page says what to do, and sets a room up.
func TestEmptyPageSetsUpARoom(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en", func(*collection.Collection) {})
	uitest.Tap(t, h.Content(), "Set up a room")
	uitest.Type(h.Canvas(), "Grain loft")
	h.press("\n")
	if !h.Shows("Grain loft") || !h.Shows("A4") {
		t.Fatalf("shown: %q", uitest.Texts(h.Content()))
	}
	h.view().Open(shelfview.At{Row: 0, Box: 4})
	h.press("\n")
	if !h.Shows("A5") {
		t.Errorf("the box is not added: %q", uitest.Texts(h.Content()))
	}
}

// A number that cannot stand is said at its field, and stays.
func TestBadNumberIsSaidAtItsField(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en", func(*collection.Collection) {})
	uitest.Tap(t, h.Content(), "Set up a room")
	for i, entry := range uitest.Entries(h.Content()) {
		entry.(interface{ SetText(string) }).SetText([]string{"Loft", "900", "4", ""}[i])
	}
	h.press("\n")
	if !h.Shows("900") || !h.Shows("A whole number from 1 to 50") {
		t.Errorf("shown: %q", uitest.Texts(h.Content()))
	}
}

func picture(t testing.TB, h *hand, name string) {
	if folder := os.Getenv("COILWARD_PICTURES"); folder != "" {
		uitest.Keep(t, h.Window(), filepath.Join(folder, name+".png"))
	}
}

// Nothing is cut, in any look and language: at rest, in every job, with every
// form.
func TestNothingIsCut(t *testing.T) {
	for i, l := range []uitest.Look{uitest.Looks()[0], uitest.Looks()[3]} {
		for _, language := range uitest.Languages() {
			h := open(t, l, language, func(c *collection.Collection) {
				room(t, c, "Grain loft", 3, 5, many(11)...)
				room(t, c, "Wheel room", 1, 4, "Juniper", "Kestrel", "Élodie the elder")
				do(t, c, animals.Add{Animal: animals.Animal{Name: "Plover", Status: animals.Kept}})
			})
			look := func(what string) {
				for _, cut := range uitest.Clipped(h.top(), h.Canvas().Size()) {
					t.Errorf("%s %v, %s: %.200s", language, l, what, cut)
				}
				picture(t, h, fmt.Sprintf("%s-%s-%d", what, language, i))
			}
			look("rest")
			for _, at := range []shelfview.At{{Row: 0, Box: 0}, {Row: 1, Box: 0}, {Row: 3, Box: 3}, {Row: 1, Box: 5}} {
				h.view().Open(at)
				look(fmt.Sprintf("card-%d-%d", at.Row, at.Box))
				h.key(fyne.KeyEscape)
			}
			for key, name := range map[string]string{"1": "feed", "2": "weigh", "3": "mites", "4": "check", "5": "clean", "6": "swab"} {
				h.press(key)
				if key != "2" && key != "4" {
					look("setup-" + name)
					if key == "3" {
						uitest.Tap(t, h.Content(), particularsCapital(h.Text().Say("care.mites.where.animal")))
					}
					if key == "6" {
						uitest.Type(h.Canvas(), "WHEEL-2026-0041")
						uitest.Tap(t, h.Content(), h.Text().Say("material.choanal-swab"))
						uitest.Tap(t, h.Content(), h.Text().Say("agent.reptarenavirus"))
						uitest.Tap(t, h.Content(), h.Text().Say("agent.serpentovirus"))
						look("setup-chosen-" + name)
					}
					h.press("\n")
				}
				look("walk-" + name)
				switch key {
				case "1":
					h.press("12")
				case "2":
					h.press("1432\n950")
				case "3":
					h.press("0")
					h.press("9")
					look("none-seen")
					h.key(fyne.KeyEscape)
				case "6":
					h.press("\n.")
					look("refused-" + name)
					h.press("77")
				}
				look("walk-on-" + name)
				if key == "2" || key == "6" { // what is typed is asked about before it is left
					h.key(fyne.KeyEscape)
					look("left-typed")
					h.key(fyne.KeyEscape)
					h.key(fyne.KeyDelete)
				}
				h.key(fyne.KeyEscape)
			}
			h.press("7")
			look("setup-round")
			h.press("\n")
			look("walk-round")
			h.press("\n/\n\n\n\n\n\n\n\n\n\n\n\n")
			look("walk-on-round")
			h.key(fyne.KeyEscape)
			h.press("7")
			look("setup-round-open")
			h.key(fyne.KeyEscape)
			h.view().SetCurrent(shelfview.At{Row: 1})
			h.press("m")
			look("move")
			h.press("\n")
			h.key(fyne.KeyEscape)
			h.key(fyne.KeyEscape)
		}
	}
}

func particularsCapital(s string) string {
	r := []rune(s)
	return strings.ToUpper(string(r[0])) + string(r[1:])
}

// On the shelf a line takes the keys: its figures begin no job, what is typed stays
// when the page is built anew, and what it says stands where the jobs stand.
func TestJotOnTheShelf(t *testing.T) {
	for _, language := range []string{"en", "de"} {
		h := open(t, uitest.Looks()[0], language, func(c *collection.Collection) { room(t, c, "Loft", 1, 3, "Ash", "Brook", "Clover") })
		job := h.Text().Say("shelf.job.weigh")
		if !h.Shows(job) || !h.page.Jot() {
			t.Fatalf("%s: no line, or no jobs: %q", language, uitest.Texts(h.Content()))
		}
		h.press("ash 132")
		if h.Shows(job) || !h.Shows("Ash – 132\u00a0g") || h.view().Current() != (shelfview.At{}) {
			t.Errorf("%s: while it is typed: %q", language, uitest.Texts(h.Content()))
		}
		do(t, h.Collection(), animals.Add{Animal: animals.Animal{Name: "Wren"}}) // the page is built anew
		if !h.Shows("Ash – 132\u00a0g") {
			t.Errorf("%s: built anew: %q", language, uitest.Texts(h.Content()))
		}
		h.press("0\n")
		if e := h.entries("Ash"); len(e) != 1 || e[0].(care.Weight).Mass.Milligrams != 1_320_000 || !h.Shows(job) {
			t.Errorf("%s: %+v, %q", language, e, uitest.Texts(h.Content()))
		}
		h.press("ash 99")
		uitest.Tap(t, h.Content(), h.Text().Say("window.undo"))
		if e := h.entries("Ash"); len(e) != 0 || !h.Shows("Ash – 99\u00a0g") {
			t.Errorf("%s: after undo %+v, %q", language, e, uitest.Texts(h.Content()))
		}
	}
}

// Escape gives the keys of the line back to the picture, where figures begin jobs;
// what was typed stays, and in a walk there is no line.
func TestJotGivesTheKeysBack(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en", func(c *collection.Collection) { room(t, c, "Loft", 1, 3, "Ash", "Brook", "Clover") })
	h.page.Jot()
	h.press("ash")
	h.key(fyne.KeyEscape)
	if job := h.Text().Say("shelf.job.weigh"); !h.Shows(job) || !h.Shows("ash") {
		t.Fatalf("the jobs are not shown, or what was typed is not: %q", uitest.Texts(h.Content()))
	}
	h.press("2")
	if h.page.Jot() {
		t.Fatalf("no walk has begun: %q", uitest.Texts(h.Content()))
	}
	h.press("140\n")
	if e := h.entries("Ash"); len(e) != 1 {
		t.Errorf("weighed in the walk: %+v", e)
	}
	h.key(fyne.KeyEscape)
	if !h.page.Jot() {
		t.Fatal("after the walk there is no line")
	}
	h.press(" 150")
	if !h.Shows("Ash – 150\u00a0g") {
		t.Errorf("what was typed is gone: %q", uitest.Texts(h.Content()))
	}
}

// Beside an opened box too the shelf fits into 1024 pixels.
func TestABoxBesideTheShelfFitsInANarrowWindow(t *testing.T) {
	for _, language := range uitest.Languages() {
		l := uitest.Looks()[0]
		l.Width = 1024
		h := open(t, l, language, func(c *collection.Collection) { room(t, c, "Loft", 3, 5, "Juniper", "Jupiter", "Brook", "Clover") })
		h.key(fyne.KeyReturn)
		for _, found := range uitest.Clipped(h.Content(), fyne.NewSize(l.Width, l.Height)) {
			t.Errorf("%s: %s", language, found)
		}
	}
}

// The line and what it says fit in every look, and in a window of 1024 pixels.
func TestJotFits(t *testing.T) {
	for _, language := range uitest.Languages() {
		looks := uitest.LooksIn(language)
		narrow := looks[0]
		narrow.Width = 1024
		for _, l := range append(looks, narrow) {
			h := open(t, l, language, func(c *collection.Collection) { room(t, c, "Loft", 3, 5, "Juniper", "Jupiter", "Brook", "Clover") })
			for _, line := range []string{"", "brook refused", "ju 1432", "brook hops", "frodo", "all note: a rather long remark about how the night was, with more words than one row holds"} {
				uitest.Entries(h.Content())[0].(interface{ SetText(string) }).SetText(line)
				for _, found := range uitest.Clipped(h.Content(), fyne.NewSize(l.Width, l.Height)) {
					t.Errorf("%s %v %q: %s", language, l, line, found)
				}
			}
		}
	}
}
