package photos_test

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/jpeg"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"github.com/skip2/go-qrcode"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/exam"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/label"
	"coilward/ui/look"
	ui "coilward/ui/photos"
	"coilward/ui/place"
	"coilward/ui/uitest"
)

// phone is the folder that a phone fills; each picture is a minute after the one
// before it.
type phone struct {
	t    testing.TB
	path string
	at   time.Time
	n    int
}

func (p *phone) put(picture image.Image) string {
	p.t.Helper()
	p.n++
	name := fmt.Sprintf("IMG_%04d.jpg", p.n)
	var b bytes.Buffer
	if err := jpeg.Encode(&b, picture, nil); err != nil {
		p.t.Fatal(err)
	}
	path := filepath.Join(p.path, name)
	if err := os.WriteFile(path, b.Bytes(), 0o600); err != nil {
		p.t.Fatal(err)
	}
	p.at = p.at.Add(time.Minute)
	if err := os.Chtimes(path, p.at, p.at); err != nil {
		p.t.Fatal(err)
	}
	return name
}

// snake is a picture of its own: a band over a ground.
func (p *phone) snake() string {
	m := image.NewRGBA(image.Rect(0, 0, 320, 240))
	draw.Draw(m, m.Bounds(), image.NewUniform(color.RGBA{196, 180, 150, 255}), image.Point{}, draw.Src)
	draw.Draw(m, image.Rect(30, 90+p.n, 290, 130+p.n), image.NewUniform(color.RGBA{80, 60, 30, 255}), image.Point{}, draw.Src)
	return p.put(m)
}

func (p *phone) card(l label.Label) string {
	p.t.Helper()
	code, err := qrcode.New(l.Text(), qrcode.Medium)
	if err != nil {
		p.t.Fatal(err)
	}
	m := image.NewRGBA(image.Rect(0, 0, 800, 600))
	draw.Draw(m, m.Bounds(), image.NewUniform(color.RGBA{90, 80, 66, 255}), image.Point{}, draw.Src)
	draw.Draw(m, image.Rect(220, 120, 520, 420), code.Image(300), image.Point{}, draw.Src)
	return p.put(m)
}

func plain() uitest.Look {
	return uitest.Look{Shine: look.ByDay, Width: 1280, Height: 800, Scale: 1}
}

// open is a window with the photos in it, and the folder that its phone fills from
// three hours ago on.
func open(t testing.TB, l uitest.Look, language string) (*uitest.Opened, *phone) {
	t.Helper()
	w := uitest.Open(t, uitest.Setting{Look: l, Language: language, Place: place.Photos, Make: func(w place.Window) place.Place { return ui.New(w) }})
	return w, &phone{t: t, path: t.TempDir(), at: w.Clock.Now().Add(-3 * time.Hour)}
}

func visit(w *uitest.Opened, p *phone) {
	w.Change(func(s *place.Preferences) { s.Phone = p.path })
	w.Go(place.Route{To: place.Photos})
}

func photosOf(w *uitest.Opened, id model.AnimalID) (all []care.Posed) {
	w.T.Helper()
	if err := w.Collection().View(func(v model.View) (err error) { all, err = care.Photos(v, id); return err }); err != nil {
		w.T.Fatal(err)
	}
	return all
}

// agree says that the pictures are of the days of their files.
func agree(w *uitest.Opened) {
	w.T.Helper()
	uitest.Tap(w.T, uitest.Top(w.Canvas()), w.Text().Say("particulars.keep"))
}

// housed is an animal that lives alone in a box, with the box.
func housed(w *uitest.Opened) (found animals.Stored, box model.PlaceID) {
	w.T.Helper()
	err := w.Collection().View(func(v model.View) error {
		house, err := husbandry.ReadHouse(v)
		if err != nil {
			return err
		}
		all, err := animals.All(v)
		for _, a := range all {
			if s, lives := house.Where(a.ID, v.Now()); lives && len(house.Living(s.Place, v.Now())) == 1 {
				if problems, _ := exam.Problems(v, a.ID); slices.ContainsFunc(problems, func(p exam.StoredProblem) bool { return p.Open() }) {
					found, box = a, s.Place
				}
			}
		}
		return err
	})
	if err != nil || found.ID.IsZero() {
		w.T.Fatalf("nobody with an open finding lives alone: %v", err)
	}
	return found, box
}

func TestWithoutAFolderThePageSaysWhatToDo(t *testing.T) {
	w, _ := open(t, plain(), "en")
	w.Go(place.Route{To: place.Photos})
	if !w.Shows("Which folder does the phone fill?") || !w.Shows("Nothing in that folder is changed or deleted") {
		t.Errorf("%q", uitest.Texts(w.Content()))
	}
	uitest.Press(t, w.Content(), "Choose the folder")
}

func TestASeriesGoesToTheAnimalOfItsBox(t *testing.T) {
	w, p := open(t, plain(), "en")
	juno, box := housed(w)
	before := len(photosOf(w, juno.ID))
	p.card(label.OfPlace(box))
	for range 3 {
		p.snake()
	}
	visit(w, p)
	if !w.Shows(juno.Name) || !w.Shows("3 pictures") {
		t.Fatalf("%q", uitest.Texts(w.Content()))
	}
	uitest.Tap(t, w.Content(), "Keep all 3 pictures")
	// the files alone say the day, so it is asked
	if !uitest.Shows(uitest.Top(w.Canvas()), "Pictures without a day of their own: 3") {
		t.Fatalf("%q", uitest.Texts(uitest.Top(w.Canvas())))
	}
	agree(w)
	all := photosOf(w, juno.ID)
	if len(all) != before+3 || all[0].Body.Dated != care.ByFile {
		t.Fatalf("%d photos, %+v", len(all)-before, all)
	}
	if !w.Shows("No picture waits") {
		t.Errorf("%q", uitest.Texts(w.Content()))
	}
	for _, one := range all[:3] {
		if sound, err := w.Photos().Sound(one.Photo); err != nil || !sound {
			t.Errorf("the original of %s: %v, %v", one.Photo, sound, err)
		}
	}
	if names, err := os.ReadDir(p.path); err != nil || len(names) != 4 {
		t.Errorf("the phone's folder holds %d files, %v", len(names), err)
	}
	// one undo, and they wait again in their series
	w.Undo()
	if got := len(photosOf(w, juno.ID)); got != before {
		t.Errorf("after one undo there are %d more", got-before)
	}
	if !w.Shows("Keep all 3 pictures") || !w.Shows(juno.Name) {
		t.Errorf("after undo: %q", uitest.Texts(w.Content()))
	}
}

// The picture of a card is counted apart, and shown beside its series.
func TestTheCardIsShownBesideItsSeries(t *testing.T) {
	w, p := open(t, plain(), "en")
	juno, _ := housed(w)
	p.card(label.OfAnimal(juno.ID))
	p.snake()
	p.snake()
	visit(w, p)
	if !w.Shows("2 pictures wait in") || !w.Shows("1 card read") || !w.Shows("Card of "+juno.Name) {
		t.Errorf("%q", uitest.Texts(w.Content()))
	}
	uitest.Press(t, w.Content(), "Card of "+juno.Name)
	uitest.Key(w.Canvas(), fyne.KeyEscape)
	uitest.Tap(t, w.Content(), "Keep all 2 pictures")
	agree(w)
	if w.Shows("wait in") || !w.Shows("No picture waits") || !w.Shows("1 card read") {
		t.Errorf("after all were kept: %q", uitest.Texts(w.Content()))
	}
}

// By the keys alone: the second series, its second picture in a pose, one left out,
// and the series kept; what was in sight beside it comes next.
func TestPhotosByKeys(t *testing.T) {
	w, p := open(t, plain(), "en")
	juno, box := housed(w)
	p.card(label.OfAnimal(model.AnimalID{ID: model.ID{1, 2, 3}}))
	p.snake()
	p.card(label.OfPlace(box))
	for range 3 {
		p.snake()
	}
	visit(w, p)
	before := len(photosOf(w, juno.ID))
	keys := func(names ...fyne.KeyName) {
		for _, k := range names {
			uitest.Key(w.Canvas(), k)
		}
	}
	keys(fyne.KeyDown, fyne.KeyRight)
	uitest.Type(w.Canvas(), "6")
	keys(fyne.KeyRight, fyne.KeyDelete)
	if !w.Shows("Keep all 2 pictures") || !w.Shows("Left out") {
		t.Fatalf("%q", uitest.Texts(w.Content()))
	}
	keys(fyne.KeyReturn)
	agree(w)
	all := photosOf(w, juno.ID)
	if len(all) != before+2 {
		t.Fatalf("%d were kept, want 2", len(all)-before)
	}
	posed := slices.IndexFunc(all[:2], func(one care.Posed) bool { return one.Body.Pose == w.Tables().Poses()[5].ID })
	if posed < 0 {
		t.Errorf("no pose: %+v", all[:2])
	}
	if !w.Shows("Whose are these?") {
		t.Errorf("the other series is not in sight: %q", uitest.Texts(w.Content()))
	}
	keys(fyne.KeyReturn)
	uitest.Type(w.Canvas(), juno.Name)
	keys(fyne.KeyReturn)
	keys(fyne.KeyReturn)
	agree(w)
	if got := len(photosOf(w, juno.ID)); got != before+3 {
		t.Errorf("%d were kept, want all 3", got-before)
	}
}

// A picture of which the camera says no day is given one; it is not asked about then,
// and is noted as of that day.
func TestADayIsGiven(t *testing.T) {
	w, p := open(t, plain(), "en")
	juno, box := housed(w)
	p.card(label.OfPlace(box))
	p.snake()
	p.snake()
	visit(w, p)
	before := len(photosOf(w, juno.ID))
	today := w.Now().Day()
	typed := func(text string) {
		t.Helper()
		entries := uitest.Entries(w.Content())
		if len(entries) != 1 || !w.Shows("Taken on") {
			t.Fatalf("%d fields: %q", len(entries), uitest.Texts(w.Content()))
		}
		entries[0].(interface{ SetText(string) }).SetText(text)
	}
	typed("31 Feb 2026")
	uitest.Tap(t, w.Content(), "Keep all 2 pictures")
	if w.Canvas().Focused() != uitest.Entries(w.Content())[0] || len(photosOf(w, juno.ID)) != before {
		t.Fatalf("what is no day was kept: %q", uitest.Texts(w.Content()))
	}
	typed((today - 3).String())
	uitest.Tap(t, w.Content(), "This day for all 2")
	uitest.Tap(t, w.Content(), "Keep all 2 pictures")
	for _, one := range photosOf(w, juno.ID)[:2] {
		if one.At.Day() != today-3 || one.Body.Dated != care.ByKeeper || one.At.Precision != model.ToDay {
			t.Errorf("noted as of %s, %q", one.At.Day(), one.Body.Dated)
		}
	}
	if got := len(photosOf(w, juno.ID)); got != before+2 {
		t.Errorf("%d were kept, want 2 without a question", got-before)
	}
}

// Where the day is asked at the end, another can be typed there: what is none stays,
// with why, and the right one is noted as the keeper's.
func TestTheDayIsCorrectedWhereItIsAsked(t *testing.T) {
	w, p := open(t, plain(), "en")
	juno, box := housed(w)
	p.card(label.OfPlace(box))
	p.snake()
	p.snake()
	visit(w, p)
	before, today := len(photosOf(w, juno.ID)), w.Now().Day()
	uitest.Tap(t, w.Content(), "Keep all 2 pictures")
	uitest.Key(w.Canvas(), fyne.KeyReturn) // who presses Enter twice has not read the question
	if got := len(photosOf(w, juno.ID)); got != before {
		t.Fatalf("%d were kept before the question was in sight", got-before)
	}
	asked := uitest.Entries(uitest.Top(w.Canvas()))
	if len(asked) != 1 || w.Canvas().Focused() != asked[0] {
		t.Fatalf("%d fields", len(asked))
	}
	field := asked[0].(interface{ SetText(string) })
	for _, wrong := range []string{"31 Feb 2026", (today + 9).String()} {
		field.SetText(wrong)
		agree(w)
		if got := len(photosOf(w, juno.ID)); got != before || len(uitest.Entries(uitest.Top(w.Canvas()))) != 1 {
			t.Fatalf("%s: %d were kept: %q", wrong, got-before, uitest.Texts(uitest.Top(w.Canvas())))
		}
	}
	field.SetText((today - 3).String())
	w.Clock.Pass(2 * time.Second)
	uitest.Key(w.Canvas(), fyne.KeyReturn)
	all := photosOf(w, juno.ID)
	if len(all) != before+2 {
		t.Fatalf("%d were kept: %q", len(all)-before, uitest.Texts(uitest.Top(w.Canvas())))
	}
	for _, one := range all[:2] {
		if one.At.Day() != today-3 || one.Body.Dated != care.ByKeeper {
			t.Errorf("noted as of %s, %q", one.At.Day(), one.Body.Dated)
		}
	}
	if !w.Shows("No picture waits") {
		t.Errorf("%q", uitest.Texts(w.Content()))
	}
}

func TestAPictureGoesToAFindingInTwoClicks(t *testing.T) {
	w, p := open(t, plain(), "en")
	juno, _ := housed(w)
	p.card(label.OfAnimal(juno.ID))
	p.snake()
	second := p.snake()
	visit(w, p)
	var problem exam.StoredProblem
	if err := w.Collection().View(func(v model.View) error {
		all, err := exam.Problems(v, juno.ID)
		problem = all[slices.IndexFunc(all, func(p exam.StoredProblem) bool { return p.Open() })]
		return err
	}); err != nil {
		t.Fatal(err)
	}
	uitest.Tap(t, w.Content(), second)
	text := w.Text()
	uitest.Tap(t, w.Content(), text.Say("finding."+string(problem.What))+" · "+text.Say("stop."+string(problem.Stop)))
	agree(w)
	all := photosOf(w, juno.ID)
	if len(all) == 0 || all[0].Body.Problem != problem.ID {
		t.Fatalf("%+v", all)
	}
	if !w.Shows("Keep 1 picture") {
		t.Errorf("the other one does not wait: %q", uitest.Texts(w.Content()))
	}
}

func TestWhatIsNotKnownIsAsked(t *testing.T) {
	w, p := open(t, plain(), "en")
	juno, _ := housed(w)
	p.card(label.OfAnimal(model.AnimalID{ID: model.ID{1, 2, 3}}))
	p.snake()
	visit(w, p)
	if !w.Shows("Whose are these?") || !w.Shows("not in this collection") {
		t.Fatalf("%q", uitest.Texts(w.Content()))
	}
	before := len(photosOf(w, juno.ID))
	uitest.Tap(t, w.Content(), "Keep 1 picture") // cannot be pressed
	if len(photosOf(w, juno.ID)) != before {
		t.Fatal("it was kept without an answer")
	}
	uitest.Tap(t, w.Content(), "Choose the animal")
	uitest.Type(w.Canvas(), juno.Name)
	uitest.Key(w.Canvas(), fyne.KeyReturn)
	uitest.Tap(t, w.Content(), "6 Vent")
	uitest.Tap(t, w.Content(), "Keep 1 picture")
	agree(w)
	all := photosOf(w, juno.ID)
	if len(all) != before+1 || all[0].Body.Pose != "vent" {
		t.Errorf("%+v", all)
	}
}

func TestLeftOutAndBroughtBack(t *testing.T) {
	w, p := open(t, plain(), "en")
	p.snake()
	p.snake()
	broken := filepath.Join(p.path, "broken.jpg")
	if err := errors.Join(os.WriteFile(broken, []byte("\xff\xd8\xff no"), 0o600), os.Chtimes(broken, p.at, p.at)); err != nil {
		t.Fatal(err)
	}
	visit(w, p)
	uitest.Tap(t, w.Content(), "Leave all out")
	if w.Shows("Whose are these?") {
		t.Error("they wait still")
	}
	uitest.Tap(t, w.Content(), "Cannot be read")
	if !w.Shows("broken.jpg") || !w.Shows("damaged") {
		t.Errorf("%q", uitest.Texts(w.Content()))
	}
	uitest.Tap(t, w.Content(), "Do not name it any more")
	if w.Shows("Cannot be read") || !w.Shows("1 file that cannot be read is no longer named") {
		t.Errorf("put away: %q", uitest.Texts(w.Content()))
	}
	uitest.Tap(t, w.Content(), "Bring all back")
	if !w.Shows("Whose are these?") || !w.Shows("Cannot be read") {
		t.Errorf("%q", uitest.Texts(w.Content()))
	}
}

// A picture that goes between the look and the keeping is named, and the others are
// kept.
func TestAPictureThatVanishes(t *testing.T) {
	w, p := open(t, plain(), "en")
	juno, box := housed(w)
	p.card(label.OfPlace(box))
	gone := p.snake()
	p.snake()
	visit(w, p)
	before := len(photosOf(w, juno.ID))
	if err := os.Remove(filepath.Join(p.path, gone)); err != nil {
		t.Fatal(err)
	}
	uitest.Tap(t, w.Content(), "Keep all 2 pictures")
	agree(w) // the day of its file holds
	if top := uitest.Top(w.Canvas()); !uitest.Shows(top, gone) || !uitest.Shows(top, "no longer in the folder") {
		t.Errorf("%q", uitest.Texts(top))
	}
	if len(photosOf(w, juno.ID)) != before+1 {
		t.Errorf("%d were kept, want the other one", len(photosOf(w, juno.ID))-before)
	}
}

func TestAFolderThatVanishes(t *testing.T) {
	w, p := open(t, plain(), "en")
	p.snake()
	visit(w, p)
	if err := os.RemoveAll(p.path); err != nil {
		t.Fatal(err)
	}
	w.Go(place.Route{To: place.Shelf})
	w.Go(place.Route{To: place.Photos})
	if !w.Shows("The folder is not there") || !w.Shows(p.path) {
		t.Errorf("%q", uitest.Texts(w.Content()))
	}
	uitest.Press(t, w.Content(), "Look again")
}

// photographed notes a photo of an animal in a pose, days ago.
func photographed(w *uitest.Opened, p *phone, id model.AnimalID, pose string, days int) {
	w.T.Helper()
	name := p.snake()
	kept, err := w.Photos().KeepFile(filepath.Join(p.path, name))
	if err != nil {
		w.T.Fatal(err)
	}
	at := model.MomentOf(w.Clock.Now().AddDate(0, 0, -days))
	poseID := w.Tables().Poses()[slices.IndexFunc(w.Tables().Poses(), func(k knowledge.Pose) bool { return string(k.ID) == pose })].ID
	if _, err := w.Collection().Do(care.AddPhotos{Tables: w.Tables(), Shots: []care.Shot{{Animal: id, At: at, Photo: kept.ID, Pose: poseID, Dated: care.ByCamera}},
		Confirmed: model.Confirmed{"day.before-hatched", "day.before-arrival"}}); err != nil {
		w.T.Fatal(err)
	}
}

func TestPosesAndTwoDaysSideBySide(t *testing.T) {
	w, p := open(t, plain(), "en")
	juno, _ := housed(w)
	photographed(w, p, juno.ID, "above", 200)
	photographed(w, p, juno.ID, "vent", 40)
	photographed(w, p, juno.ID, "vent", 10)
	w.Go(place.Route{To: place.Photos, Subject: juno.ID.ID})
	for _, words := range []string{"Photos of " + juno.Name, "None yet", "older than 180 days", "10 days ago"} {
		if !w.Shows(words) {
			t.Errorf("%q is missing: %q", words, uitest.Texts(w.Content()))
		}
	}
	uitest.Tap(t, w.Content(), "Two days")
	text, today := w.Text(), w.Now().Day()
	for _, words := range []string{text.Day(today - 40), text.Day(today - 10), "30 days apart", "Vent"} {
		if !w.Shows(words) {
			t.Errorf("%q is missing: %q", words, uitest.Texts(w.Content()))
		}
	}
	uitest.Tap(t, w.Content(), "Later")
	if !w.Shows("0 days apart") {
		t.Errorf("the left day did not move: %q", uitest.Texts(w.Content()))
	}
	uitest.Key(w.Canvas(), fyne.KeyEscape)
	if !w.Shows("Photos of " + juno.Name) {
		t.Fatalf("Escape does not go back: %q", uitest.Texts(w.Content()))
	}
	uitest.Tap(t, w.Content(), juno.Name)
	if len(w.Went) == 0 || w.Went[len(w.Went)-1] != (place.Route{To: place.Animal, Subject: juno.ID.ID}) {
		t.Errorf("went %v", w.Went)
	}
}

// pictured are the pictures in sight.
func pictured(w *uitest.Opened) (all []image.Image) {
	uitest.Walk(w.Content(), func(s uitest.Seen) bool {
		if shown, ok := s.Object.(*canvas.Image); ok && shown.Image != nil && shown.Resource == nil {
			all = append(all, shown.Image)
		}
		return true
	})
	return all
}

func grey(p image.Image, x, y int) uint8 { return color.GrayModel.Convert(p.At(x, y)).(color.Gray).Y }

// One press enlarges both days at the same spot, arrows step both, and Escape leads
// back by one step.
func TestBothDaysAreEnlargedTogether(t *testing.T) {
	w, p := open(t, plain(), "en")
	juno, _ := housed(w)
	for _, days := range []int{40, 30, 20, 10} {
		photographed(w, p, juno.ID, "vent", days)
	}
	text, today := w.Text(), w.Now().Day()
	days := func(left, right int) {
		t.Helper()
		for _, ago := range []int{40, 30, 20, 10} {
			if want := ago == left || ago == right; w.Shows(text.Day(today-model.Day(ago))) != want {
				t.Errorf("%d days ago: in sight is %v; want %d and %d", ago, !want, left, right)
			}
		}
	}
	w.Go(place.Route{To: place.Photos, Subject: juno.ID.ID})
	uitest.Tap(t, w.Content(), "Two days")
	days(40, 10)
	whole := pictured(w)
	if len(whole) != 2 {
		t.Fatalf("%d pictures", len(whole))
	}
	left := uitest.Press(t, w.Content(), text.DayShort(today-40))
	size := left.(fyne.CanvasObject).Size()
	left.Tapped(&fyne.PointEvent{Position: fyne.NewPos(0, size.Height/2)}) // halfway down its left edge
	near := pictured(w)
	if len(near) != 2 {
		t.Fatalf("%d pictures", len(near))
	}
	for side := range near {
		was, now := whole[side].Bounds().Size(), near[side].Bounds().Size()
		if now.X != was.X*2/5 || now.Y != was.Y*2/5 {
			t.Errorf("side %d shows %v of %v", side, now, was)
		}
		for _, x := range []int{0, 60} { // beside the animal, and on it
			got, want := grey(near[side], x, now.Y/2), grey(whole[side], x, was.Y/2)
			if max(got, want)-min(got, want) > 2 || (got > 120) != (x == 0) { // colours are rounded
				t.Errorf("side %d: %d from its left it is %v, the whole picture %v", side, x, got, want)
			}
		}
	}
	uitest.Key(w.Canvas(), fyne.KeyLeft)
	days(40, 20)
	uitest.Key(w.Canvas(), fyne.KeyRight)
	days(30, 10)
	uitest.Key(w.Canvas(), fyne.KeyRight)
	days(20, 10)
	uitest.Key(w.Canvas(), fyne.KeyRight) // both would be one
	days(20, 10)
	if now := pictured(w); len(now) != 2 || now[0].Bounds().Size() != near[0].Bounds().Size() {
		t.Errorf("after steps both are no longer enlarged: %v", now)
	}
	uitest.Key(w.Canvas(), fyne.KeyEscape)
	if now := pictured(w); len(now) != 2 || now[0].Bounds().Size() != whole[0].Bounds().Size() {
		t.Errorf("Escape does not show whole pictures")
	}
	uitest.Tap(t, w.Content(), text.DayShort(today-10))
	if !w.Shows("Both are enlarged") {
		t.Errorf("the right picture does not enlarge: %q", uitest.Texts(w.Content()))
	}
	uitest.Tap(t, w.Content(), text.DayShort(today-10))
	if w.Shows("Both are enlarged") {
		t.Error("a second press does not show whole pictures")
	}
	uitest.Key(w.Canvas(), fyne.KeyEscape)
	if !w.Shows("Photos of " + juno.Name) {
		t.Errorf("Escape does not go back: %q", uitest.Texts(w.Content()))
	}
}

// The pose of a kept photo is said where it is seen large.
func TestAPoseIsSaidInTheViewer(t *testing.T) {
	w, p := open(t, plain(), "en")
	juno, _ := housed(w)
	photographed(w, p, juno.ID, "above", 3)
	w.Go(place.Route{To: place.Photos, Subject: juno.ID.ID})
	uitest.Tap(t, w.Content(), w.Text().Say("pose.above"))
	uitest.Tap(t, uitest.Top(w.Canvas()), "Vent")
	uitest.Tap(t, uitest.Top(w.Canvas()), "Underside") // of the entry as it is by now
	uitest.Key(w.Canvas(), fyne.KeyEscape)
	if all := photosOf(w, juno.ID); all[0].Body.Pose != "underside" {
		t.Errorf("noted is %q", all[0].Body.Pose)
	}
	w.Undo()
	if all := photosOf(w, juno.ID); all[0].Body.Pose != "vent" {
		t.Errorf("after undo it is %q", all[0].Body.Pose)
	}
}

func TestNothingIsCutOff(t *testing.T) {
	for _, language := range uitest.Languages() {
		for _, l := range uitest.LooksIn(language) {
			w, p := open(t, l, language)
			w.Go(place.Route{To: place.Photos})
			whole := func(name string) {
				t.Helper()
				if cut := uitest.Clipped(w.Content(), w.Canvas().Size()); len(cut) > 0 {
					t.Errorf("%+v %s, %s: %s", l, language, name, strings.Join(cut, "; "))
				}
			}
			whole("no folder")
			juno, box := housed(w)
			for range 2 {
				p.snake()
			}
			p.card(label.OfPlace(box))
			for range 5 {
				p.snake()
			}
			visit(w, p)
			whole("asked")
			if m := w.Content().MinSize(); language != "qps" && m.Width > 704 {
				t.Errorf("%s: the page needs a window %.0f wide", language, m.Width)
			}
			uitest.Tap(t, w.Content(), juno.Name)
			whole("a series")
			uitest.Tap(t, w.Content(), w.Text().Count("photos.keep-all", 5))
			if cut := uitest.Clipped(uitest.Top(w.Canvas()), w.Canvas().Size()); len(cut) > 0 {
				t.Errorf("%+v %s, the day is asked: %s", l, language, strings.Join(cut, "; "))
			}
			uitest.Key(w.Canvas(), fyne.KeyEscape)
			photographed(w, p, juno.ID, "above", 200)
			photographed(w, p, juno.ID, "head-right", 40)
			photographed(w, p, juno.ID, "head-right", 10)
			w.Go(place.Route{To: place.Photos, Subject: juno.ID.ID})
			whole("an animal")
			uitest.Tap(t, w.Content(), w.Text().Say("photos.two-days"))
			whole("two days")
			uitest.Key(w.Canvas(), fyne.KeyReturn)
			if !w.Shows(w.Text().Say("photos.enlarged")) {
				t.Errorf("%s: not enlarged: %q", language, uitest.Texts(w.Content()))
			}
			whole("two days enlarged")
			if m := w.Content().MinSize(); language != "qps" && m.Width > 704 {
				t.Errorf("%s: two days need a window %.0f wide", language, m.Width)
			}
		}
	}
}
