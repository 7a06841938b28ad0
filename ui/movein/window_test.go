package movein_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/collection"
	"coilward/ui/look"
	"coilward/ui/movein"
	"coilward/ui/place"
	"coilward/ui/uitest"
	"coilward/ui/widgets"
)

var small = fyne.NewSize(1280, 800)

func open(t *testing.T, language string, l uitest.Look) *uitest.Opened {
	t.Helper()
	return uitest.Open(t, uitest.Setting{Look: l, Language: language, Fill: func(*collection.Collection) {},
		Place: place.MoveIn, Make: func(w place.Window) place.Place { return movein.New(w) }})
}

// sixty is a spreadsheet as a keeper in Germany has it: sixty animals with their
// last weight, one of which weighs nothing and one lies on no day.
func sixty(t *testing.T) string {
	t.Helper()
	var b strings.Builder
	b.WriteString("Name;Geschlecht;Morphe;Gewicht (g);Datum\r\n")
	for i := range 60 {
		mass, day := fmt.Sprintf("%d,5", 300+10*i), fmt.Sprintf("%02d.10.2026", i%28+1)
		switch i {
		case 7:
			mass = "0"
		case 9:
			day = "31.02.2026"
		}
		fmt.Fprintf(&b, "Tier %02d;%s;Wildtyp;%s;%s\r\n", i+1, []string{"w", "m"}[i%2], mass, day)
	}
	path := filepath.Join(t.TempDir(), "bestand.csv")
	if err := os.WriteFile(path, []byte(b.String()), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// counted are the animals and weights of the collection.
func counted(t *testing.T, w *uitest.Opened) (names, weights int) {
	t.Helper()
	err := w.Collection().View(func(v model.View) error {
		all, err := animals.All(v)
		names = len(all)
		if err != nil {
			return err
		}
		return v.All(model.TypeEntry, func(d model.Document) bool {
			if d.Kind == care.KindWeight {
				weights++
			}
			return true
		})
	})
	if err != nil {
		t.Fatal(err)
	}
	return names, weights
}

func TestSpreadsheet_IsBroughtInAtOnceAndUndoneAtOnce(t *testing.T) {
	w := open(t, "en", uitest.Look{Shine: look.ByDay, Width: small.Width, Height: small.Height, Scale: 1})
	w.Go(place.Route{To: place.MoveIn, Page: sixty(t)})
	if names, weights := counted(t, w); names+weights != 0 {
		t.Fatalf("written before it was confirmed: %d animals, %d weights", names, weights)
	}
	for _, said := range []string{"58 weights", "2 rows"} {
		if !w.Shows(said) {
			t.Errorf("the page does not say %q: %q", said, uitest.Texts(w.Content()))
		}
	}
	if dir := os.Getenv("COILWARD_PICTURES"); dir != "" {
		uitest.Keep(t, w.Window(), filepath.Join(dir, "movein.png"))
	}
	uitest.Tap(t, w.Content(), "Bring in 116 records")
	names, weights := counted(t, w)
	if names != 58 || weights != 58 {
		t.Errorf("brought in: %d animals, %d weights", names, weights)
	}
	w.Undo()
	if names, weights := counted(t, w); names+weights != 0 {
		t.Errorf("after one undo: %d animals, %d weights", names, weights)
	}
}

// Of two columns with one heading the keeper says which is taken.
func TestTwoColumnsWithOneHeadingAreAskedAbout(t *testing.T) {
	w := open(t, "en", uitest.Look{Shine: look.ByDay, Width: small.Width, Height: small.Height, Scale: 1})
	w.Go(place.Route{To: place.MoveIn, Page: written(t, "two.csv", "Name;Weight g;Weight g;Date\nJuno;140;150;2027-01-02\n")})
	if !w.Shows("may both be “Weight”") && !w.Shows("may both be “Mass”") {
		t.Fatalf("the page says %q", uitest.Texts(w.Content()))
	}
	uitest.Tap(t, w.Content(), "Column 3: 150")
	if w.Shows("may both be") {
		t.Error("it is asked again")
	}
}

// Enter does what stands there to be done first: a file is chosen on the empty page,
// and the rows are brought in once they are looked at and nothing is left to answer.
func TestEnter_DoesTheFirstAct(t *testing.T) {
	w := open(t, "en", uitest.Look{Shine: look.ByDay, Width: small.Width, Height: small.Height, Scale: 1})
	w.Go(place.Route{To: place.MoveIn})
	uitest.Key(w.Canvas(), fyne.KeyReturn)
	if w.Canvas().Overlays().Top() == nil {
		t.Fatal("no file is asked for")
	}
	w.Canvas().Overlays().Remove(w.Canvas().Overlays().Top())
	asked := written(t, "moves.csv", "Name;Box;From\nJuno;Loft / Rack 1 / Box 1;2026-01-05\n")
	w.Go(place.Route{To: place.MoveIn, Page: asked})
	uitest.Key(w.Canvas(), fyne.KeyReturn)
	if names, _ := counted(t, w); names != 0 {
		t.Fatal("brought in before the question was answered")
	}
	uitest.Tap(t, w.Content(), "Make these 3 places")
	w.Canvas().Unfocus()
	uitest.Key(w.Canvas(), fyne.KeyReturn)
	if names, _ := counted(t, w); names != 1 {
		t.Errorf("%d animals are there; shown %q", names, uitest.Texts(w.Content()))
	}
}

// A second file that cannot be read takes nothing away from the first.
func TestSpreadsheet_StaysWhenAnotherCannotBeRead(t *testing.T) {
	w := open(t, "en", uitest.Look{Shine: look.ByDay, Width: small.Width, Height: small.Height, Scale: 1})
	w.Go(place.Route{To: place.MoveIn, Page: sixty(t)})
	w.Go(place.Route{To: place.MoveIn, Page: filepath.Join(t.TempDir(), "none.csv")})
	if !w.Shows("bestand.csv") || !w.Shows("58 weights") {
		t.Errorf("the page shows %q", uitest.Texts(w.Content()))
	}
}

func TestSpreadsheet_NothingIsClipped(t *testing.T) {
	path := sixty(t)
	for _, language := range uitest.Languages() {
		for _, shine := range []look.Shine{look.ByDay, look.ByNight} {
			w := open(t, language, uitest.Look{Shine: shine, Width: small.Width, Height: small.Height, Scale: 1})
			for _, page := range []string{"", path} {
				w.Go(place.Route{To: place.MoveIn, Page: page})
				for _, fault := range uitest.Clipped(w.Content(), small) {
					t.Errorf("%s, %v, %q: %s", language, shine, filepath.Base(page), fault)
				}
			}
		}
	}
}

func written(t *testing.T, name, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// Stays ask for the places that are not there; they are made by the same change.
func TestStays_MakeTheirPlacesWhenAsked(t *testing.T) {
	path := written(t, "moves.csv", "Name;Box;From;Until\nJuno;Loft / Rack 1 / Box 1;2026-01-05;2026-03-01\nJuno;Loft / Rack 1 / Box 2;2026-03-01;\nBrook;Loft / Rack 1 / Box 1;2026-02-01;\n")
	houses := func(w *uitest.Opened) (places int) {
		t.Helper()
		if err := w.Collection().View(func(v model.View) error {
			return v.All(model.TypePlace, func(model.Document) bool { places++; return true })
		}); err != nil {
			t.Fatal(err)
		}
		return places
	}
	for _, language := range []string{"en", "de"} {
		w := open(t, language, uitest.Look{Shine: look.ByDay, Width: small.Width, Height: small.Height, Scale: 1})
		w.Go(place.Route{To: place.MoveIn, Page: path})
		for _, fault := range uitest.Clipped(w.Content(), small) {
			t.Errorf("%s, asked: %s", language, fault)
		}
		make, yes, confirm := "Make these 4 places", "Bring them in", "Bring in 9 records"
		if language == "de" {
			make, yes, confirm = "Diese 4 Plätze anlegen", "Übernehmen", "9 Einträge übernehmen"
		}
		uitest.Tap(t, w.Content(), make)
		for _, fault := range uitest.Clipped(w.Content(), small) {
			t.Errorf("%s, answered: %s", language, fault)
		}
		uitest.Tap(t, w.Content(), yes) // two in one box
		uitest.Tap(t, w.Content(), confirm)
		if n := houses(w); n != 4 {
			t.Errorf("%s: %d places", language, n)
		}
		w.Undo()
		if n := houses(w); n != 0 {
			t.Errorf("%s: %d places after one undo", language, n)
		}
	}
}

// A list of animals that names where each lives makes the places and the stays by the
// same change, which one undo takes back.
func TestAnimalsWithTheirBoxes_LiveThere(t *testing.T) {
	count := func(w *uitest.Opened) (all [3]int) {
		t.Helper()
		for i, kind := range []model.DocumentType{model.TypeAnimal, model.TypePlace, model.TypeStay} {
			if err := w.Collection().View(func(v model.View) error {
				return v.All(kind, func(model.Document) bool { all[i]++; return true })
			}); err != nil {
				t.Fatal(err)
			}
		}
		return all
	}
	for _, c := range []struct{ language, text, asks, day, make, confirm string }{
		{"en", "Name,Sex,Room,Rack,Box\nJuno,f,Loft,1,3\nBrook,m,Loft,1,4\n", "Since which day", "All on this day", "Make these 4 places", "Bring in 8 records"},
		{"de", "Name;Geschlecht;Raum;Regal;Box\nJuno;w;Loft;1;3\nBrook;m;Loft;1;4\n", "Seit welchem Tag", "Alle an diesem Tag", "Diese 4 Plätze anlegen", "8 Einträge übernehmen"},
	} {
		w := open(t, c.language, uitest.Look{Shine: look.ByDay, Width: small.Width, Height: small.Height, Scale: 1})
		w.Go(place.Route{To: place.MoveIn, Page: written(t, "list.csv", c.text)})
		if !w.Shows(c.asks) {
			t.Fatalf("%s: the page says %q", c.language, uitest.Texts(w.Content()))
		}
		for _, fault := range uitest.Clipped(w.Content(), small) {
			t.Errorf("%s, asked: %s", c.language, fault)
		}
		uitest.Entries(w.Content())[0].(interface{ SetText(string) }).SetText("2026-01-05")
		uitest.Tap(t, w.Content(), c.day)
		uitest.Tap(t, w.Content(), c.make)
		uitest.Tap(t, w.Content(), c.confirm)
		if got := count(w); got != [3]int{2, 4, 2} {
			t.Errorf("%s: %d animals, places, stays", c.language, got)
		}
		w.Undo()
		if got := count(w); got != [3]int{} {
			t.Errorf("%s: %d animals, places, stays after one undo", c.language, got)
		}
	}
}

// A list of weights makes no stays, and says so of its columns of places before
// anything is brought in.
func TestWeightsWithTheirBoxes_SayThatTheyMakeNoStays(t *testing.T) {
	for _, c := range []struct{ language, text, want string }{
		{"en", "Name,Date,Weight (g),Room,Box\nJuno,2026-01-05,1432,Loft,3\n", "Places: Room, Box. They make no stays here."},
		{"de", "Name;Datum;Gewicht (g);Raum;Box\nJuno;05.01.2026;1432;Loft;3\n", "Plätze: Raum, Box. Daraus werden hier keine Aufenthalte."},
	} {
		w := open(t, c.language, uitest.Look{Shine: look.ByDay, Width: small.Width, Height: small.Height, Scale: 1})
		w.Go(place.Route{To: place.MoveIn, Page: written(t, "weights.csv", c.text)})
		if !w.Shows(c.want) {
			t.Errorf("%s: the page says %q", c.language, uitest.Texts(w.Content()))
		}
		for _, fault := range uitest.Clipped(w.Content(), small) {
			t.Errorf("%s: %s", c.language, fault)
		}
	}
}

// What was matched by hand is proposed the next time, said so, and can be left.
func TestMatching_IsProposedTheNextTime(t *testing.T) {
	w := open(t, "en", uitest.Look{Shine: look.ByDay, Width: small.Width, Height: small.Height, Scale: 1})
	w.Go(place.Route{To: place.MoveIn, Page: written(t, "a.csv", "Name;Thing\nJuno;Pied\n")})
	if w.Shows("As last time") {
		t.Error("it was never matched before")
	}
	uitest.Tap(t, w.Content(), "Thing")
	uitest.Type(w.Canvas(), "Morph")
	uitest.Key(w.Canvas(), fyne.KeyReturn)
	uitest.Tap(t, w.Content(), "Bring in 1 record")
	w.Go(place.Route{To: place.MoveIn, Page: written(t, "b.csv", "Name;Thing\nBrook;Clown\n")})
	if !w.Shows("As last time") || !w.Shows("Morph") {
		t.Errorf("not proposed: %q", uitest.Texts(w.Content()))
	}
	for _, fault := range uitest.Clipped(w.Content(), small) {
		t.Error(fault)
	}
	uitest.Tap(t, w.Content(), "Match them by their names")
	if w.Shows("As last time") {
		t.Error("it is still taken as the last time")
	}
}

// Weights without a column of days raise one question, in which the day is typed; one
// that is none, or lies ahead, is said at its field.
func TestTheDayOfWeightsIsAskedOnce(t *testing.T) {
	path := written(t, "list.csv", "Name;Sex;Weight\nJuno;f;140\nBrook;m;150\n;m;160\n")
	for _, c := range []struct {
		act      string
		weights  int
		confirms string
	}{{"All on this day", 2, "Bring in 4 records"}, {"Leave the weights out", 0, "Bring in 2 records"}} {
		w := open(t, "en", uitest.Look{Shine: look.ByDay, Width: small.Width, Height: small.Height, Scale: 1})
		w.Go(place.Route{To: place.MoveIn, Page: path})
		if !w.Shows("Weighed on which day?") || w.Shows("A day is needed") {
			t.Fatalf("the page says %q", uitest.Texts(w.Content()))
		}
		for _, fault := range uitest.Clipped(w.Content(), small) {
			t.Error(fault)
		}
		field := uitest.Entries(w.Content())[0].(interface{ SetText(string) })
		field.SetText("31.02.2026")
		uitest.Tap(t, w.Content(), "All on this day")
		if !w.Shows("no such day") {
			t.Errorf("a day that is none: %q", uitest.Texts(w.Content()))
		}
		field.SetText("2150-01-01")
		uitest.Tap(t, w.Content(), "All on this day")
		if !w.Shows("This lies ahead") {
			t.Errorf("a day ahead: %q", uitest.Texts(w.Content()))
		}
		field.SetText("2026-01-05")
		uitest.Tap(t, w.Content(), c.act)
		uitest.Tap(t, w.Content(), "Not brought in")
		if !w.Shows("Name – A name is needed") {
			t.Errorf("the row without a name: %q", uitest.Texts(w.Content()))
		}
		uitest.Tap(t, w.Content(), c.confirms)
		if names, weights := counted(t, w); names != 2 || weights != c.weights {
			t.Errorf("%s: %d animals, %d weights", c.act, names, weights)
		}
	}
}

// A question keeps its place with the answer that was given, which can be changed.
func TestAnAnswerCanBeChanged(t *testing.T) {
	w := open(t, "en", uitest.Look{Shine: look.ByDay, Width: small.Width, Height: small.Height, Scale: 1})
	w.Go(place.Route{To: place.MoveIn, Page: written(t, "a.csv", "Name;Weight;Date\nJuno;1,432 kg;2026-01-02\n")})
	wide := func(text string) string { return strings.ReplaceAll(text, " ", "\u00a0") }
	light, heavy := wide("1.432 kg")+" ("+wide("1432 g")+")", wide("1432 kg")
	if !w.Shows(light) || !w.Shows(heavy) {
		t.Fatalf("the page says %q", uitest.Texts(w.Content()))
	}
	uitest.Tap(t, w.Content(), light)
	if w.Shows("To be answered first") || !w.Shows("what is 1,432?") || !w.Shows("1 weight") {
		t.Errorf("answered: %q", uitest.Texts(w.Content()))
	}
	for _, fault := range uitest.Clipped(w.Content(), small) {
		t.Error(fault)
	}
	for _, said := range uitest.Texts(w.Content()) {
		if strings.HasPrefix(said, heavy) {
			uitest.Tap(t, w.Content(), said)
			break
		}
	}
	if !w.Shows("what is 1,432?") || w.Shows("1 weight") {
		t.Errorf("the answer was not changed: %q", uitest.Texts(w.Content()))
	}
	uitest.Tap(t, w.Content(), light)
	if !w.Shows("1 weight") {
		t.Errorf("the answer was not changed back: %q", uitest.Texts(w.Content()))
	}
}

// From what was brought in it goes on to the animals, and to the shelf with its places.
func TestWhatWasBroughtInLeadsToTheShelf(t *testing.T) {
	w := open(t, "en", uitest.Look{Shine: look.ByDay, Width: small.Width, Height: small.Height, Scale: 1})
	w.Go(place.Route{To: place.MoveIn, Page: written(t, "a.csv", "Name;Sex\nJuno;f\n")})
	uitest.Tap(t, w.Content(), "Bring in 1 record")
	for _, fault := range uitest.Clipped(w.Content(), small) {
		t.Error(fault)
	}
	uitest.Tap(t, w.Content(), "To the shelf")
	if len(w.Went) == 0 || w.Went[len(w.Went)-1].To != place.Shelf {
		t.Errorf("went to %+v", w.Went)
	}
}

// The page fits a window of 1280 in every language however many columns a sheet has;
// the preview keeps them readable and scrolls sideways.
func TestManyColumnsWidenNothing(t *testing.T) {
	var headings, cells []string
	for i := range 12 {
		headings, cells = append(headings, fmt.Sprintf("Bemerkung des Halters %d", i)), append(cells, fmt.Sprintf("Königspython aus Nachzucht %d", i))
	}
	path := written(t, "wide.csv", "Name;Geschlecht;Art;Gewicht;Datum;"+strings.Join(headings, ";")+";Box\nJuno;w;Königspython;1.432;2026-01-02;"+strings.Join(cells, ";")+";Keller\n")
	for _, language := range uitest.Languages() {
		w := open(t, language, uitest.Look{Shine: look.ByDay, Width: small.Width, Height: small.Height, Scale: 1})
		w.Go(place.Route{To: place.MoveIn, Page: path})
		if least := w.Content().MinSize(); least.Width > small.Width {
			t.Errorf("%s: the page wants %.0f", language, least.Width)
		}
		if !w.Shows("Keller") {
			t.Errorf("%s: the last column is not drawn", language)
		}
		uitest.Walk(w.Content(), func(s uitest.Seen) bool {
			if line, ok := s.Object.(*widgets.Text); ok && line.Text() == "Königspython" && line.Size().Width < 100 {
				t.Errorf("%s: a column of words is %.0f wide", language, line.Size().Width)
			}
			return true
		})
		for _, fault := range uitest.Clipped(w.Content(), small) {
			t.Errorf("%s: %s", language, fault)
		}
	}
}

// Of a long sheet the first rows are shown, and how many more are read.
func TestALongSheetSaysWhatIsNotShown(t *testing.T) {
	w := open(t, "en", uitest.Look{Shine: look.ByDay, Width: small.Width, Height: small.Height, Scale: 1})
	w.Go(place.Route{To: place.MoveIn, Page: written(t, "long.csv", "Name;Sex\n"+strings.Repeat("Juno;f\n", 103))})
	if !w.Shows("3 more rows are read and not shown here") {
		t.Errorf("the page says %q", uitest.Texts(w.Content()))
	}
}
