package main

import (
	"bytes"
	"context"
	"image"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"coilward/assets"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/body"
	"coilward/model/collection"
	"coilward/model/drawing"
	"coilward/model/exam"
	"coilward/model/knowledge"
	dots "coilward/model/pixel"
	"coilward/model/store"
	"coilward/model/wording"
)

// The animal of the journey, and where on it the finding lies: half way along the
// back.
const (
	animalName = "Bramble"
	markAlong  = 5000
)

// TestEndToEnd takes the real program from its first window to a printed record:
// a new collection, a new animal, a check with a finding clicked onto the
// drawing, and the record as PDF. Then it reads the store and the PDF.
func TestEndToEnd(t *testing.T) {
	j := begin(t)
	stop, what := j.stopToMark()
	j.makeAnimal()
	at := j.walkTo(stop)
	j.mark(at)
	j.finish()
	j.undoAndRedo()
	paper := j.print()
	j.quit()
	j.checkStore(stop, what)
	j.checkPaper(paper, what)
	j.checkToolPrintsTheSame(what)
}

// journey is one run of the real program on a screen of its own.
type journey struct {
	*testing.T
	ctx        context.Context
	screen     *screen
	program    *exec.Cmd
	log        bytes.Buffer
	home       string // of the person; papers land among its documents
	collection string
	tables     *knowledge.Tables
	text       *wording.Text
	looked     chan []string // the sockets that should not be
	ended      chan error    // how the program ended
}

// begin starts the program with a collection that does not exist yet.
func begin(t *testing.T) *journey {
	t.Helper()
	program := os.Getenv("COILWARD_PROGRAM")
	if program == "" {
		t.Skip("COILWARD_PROGRAM names no program; `go run ./cmd/dev test e2e` builds it and runs this")
	}
	ctx, cancel := context.WithTimeout(context.Background(), 10*time.Minute)
	t.Cleanup(cancel)
	screen, err := openScreen(ctx, 1280, 800)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(screen.close)
	home := t.TempDir()
	for _, folder := range []string{"Desktop", "Documents", "Downloads", "Music", "Pictures", "Videos"} { // as every desktop has them: Fyne complains where one is missing
		if err := os.Mkdir(filepath.Join(home, folder), 0o700); err != nil {
			t.Fatal(err)
		}
	}
	j := &journey{T: t, ctx: ctx, screen: screen, home: home, collection: filepath.Join(home, "animals"), looked: make(chan []string, 1), ended: make(chan error, 1)}
	j.learn()
	j.program = exec.CommandContext(ctx, program, "--collection", j.collection, "--lang", "en")
	j.program.Dir = home // no settings of the project lie there
	j.program.Env = append(os.Environ(), screen.settings("HOME="+home, "XDG_CONFIG_HOME="+filepath.Join(home, "settings"), "FYNE_THEME=light", "FYNE_SCALE=1")...)
	j.program.Stdout, j.program.Stderr = &j.log, &j.log
	if err := j.program.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(j.end)
	go j.watchSockets()
	go func() { j.ended <- j.program.Wait() }()
	window, err := screen.window(ctx, "Coilward", 2*time.Minute)
	if err != nil {
		t.Fatal(err)
	}
	if err := screen.fill(ctx, window, 1280, 800); err != nil {
		t.Fatal(err)
	}
	j.settle("begun")
	return j
}

// end stops the program if it still runs, and shows what it printed.
func (j *journey) end() {
	j.program.Process.Kill() // has ended already when all went well
	select {
	case <-j.ended:
	case <-time.After(5 * time.Second):
	}
	j.Logf("the program printed:\n%s", j.log.String())
}

// learn reads the texts and tables that the program shows.
func (j *journey) learn() {
	j.Helper()
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		j.Fatal(err)
	}
	languages, err := wording.Load(assets.Text())
	if err != nil {
		j.Fatal(err)
	}
	j.tables, j.text = tables, languages.In("en", wording.Units{})
}

// stopToMark is a stop of the back and its first finding.
func (j *journey) stopToMark() (knowledge.Stop, knowledge.FindingID) {
	j.Helper()
	stop, found := j.tables.Stop("skin")
	if !found || len(stop.Choices) == 0 {
		j.Fatal("the tables know no stop for the skin with findings")
	}
	return stop, stop.Choices[0]
}

// settle waits until the window has drawn, and keeps a picture under a name.
func (j *journey) settle(name string) image.Image {
	j.Helper()
	return j.keep(name)(j.screen.settled(j.ctx, time.Minute))
}

// shows presses keys, or clicks, waits until the window shows something else for
// it, and keeps a picture of that under a name.
func (j *journey) shows(name string, do func() error) image.Image {
	j.Helper()
	return j.keep(name)(j.screen.shows(j.ctx, do))
}

// keep takes a picture into the folder for pictures, if one is named, and fails
// where there is none to take.
func (j *journey) keep(name string) func(image.Image, error) image.Image {
	j.Helper()
	return func(picture image.Image, err error) image.Image {
		j.Helper()
		select {
		case ended := <-j.ended:
			j.ended <- ended
			j.Fatalf("the program has ended by itself at %q: %v", name, ended)
		default:
		}
		if err != nil {
			j.Fatalf("at %q: %v", name, err)
		}
		if folder := os.Getenv("COILWARD_PICTURES"); folder != "" {
			if err := savePicture(filepath.Join(folder, name+".png"), picture); err != nil {
				j.Error(err)
			}
		}
		return picture
	}
}

// pressing and clicking are what a person does, for shows.
func (j *journey) pressing(keys ...string) func() error {
	return func() error { return j.screen.keys(j.ctx, keys...) }
}

func (j *journey) clicking(at image.Point) func() error {
	return func() error { return j.screen.click(j.ctx, at.X, at.Y) }
}

func (j *journey) keys(keys ...string) {
	j.Helper()
	if err := j.screen.keys(j.ctx, keys...); err != nil {
		j.Fatal(err)
	}
}

// wait asks until something holds, and fails with its name when it never does.
func (j *journey) wait(what string, holds func() bool) {
	j.Helper()
	for range 150 {
		if holds() {
			return
		}
		pause(j.ctx, 100*time.Millisecond)
	}
	j.settle("stuck")
	j.Fatalf("waited for %s in vain", what)
}

// makeAnimal enters a new animal and opens its page.
func (j *journey) makeAnimal() {
	j.Helper()
	j.shows("new-animal", j.pressing("ctrl+n"))
	if err := j.screen.types(j.ctx, animalName); err != nil {
		j.Fatal(err)
	}
	j.shows("animal-in-list", j.pressing("Return"))
	j.shows("animal", j.pressing("Return"))
}

// walkTo begins a check and answers every stop before the one to mark as clear.
// It returns the pixel to click, found at the first stop, where no part of the
// animal is dimmed.
func (j *journey) walkTo(stop knowledge.Stop) image.Point {
	j.Helper()
	check := j.shows("check", j.pressing("ctrl+k"))
	at := j.onScreen(check, body.Place{Part: body.Trunk, Along: markAlong})
	for _, s := range j.tables.Stops() {
		if s.ID == stop.ID {
			break
		}
		j.keys("Return")
	}
	j.settle("before-marking")
	return at
}

// drafts are the files of begun checks.
func (j *journey) drafts() []string {
	files, _ := filepath.Glob(filepath.Join(j.collection, store.DraftsFolder, "*")) // the pattern is well formed
	return files
}

// mark clicks the place on the drawing and chooses the first finding.
func (j *journey) mark(at image.Point) {
	j.Helper()
	j.shows("pointed", j.clicking(at))
	j.shows("marked", j.pressing("1"))
}

// onScreen finds the pixel at which a place of the animal, seen from above, is
// drawn in a picture of the window: the drawing is the largest thing of its
// shape, and the same drawing made here tells where in it the place lies.
func (j *journey) onScreen(picture image.Image, place body.Place) image.Point {
	j.Helper()
	own := image.NewRGBA(image.Rect(0, 0, 800, 600))
	fit := drawing.Fit(body.Bounds(body.Above), 800, 600, 20)
	body.Draw(drawing.Through(dots.NewPen(own, drawing.LightPalette()), fit), body.Above, body.Options{})
	inBody, shown := body.Point(body.Above, place)
	if !shown {
		j.Fatalf("%+v is not seen from above", place)
	}
	at, drawn := fit.Apply(inBody), largest(things(own, own.Bounds()))
	seen := largest(shapedLike(drawn, things(picture, picture.Bounds())))
	if seen.Dx() < 200 {
		j.Fatalf("the drawing, %v, is not in the window; the largest thing of its shape is %v", drawn, seen)
	}
	return image.Pt(
		seen.Min.X+int((at.X-float64(drawn.Min.X))*float64(seen.Dx())/float64(drawn.Dx())),
		seen.Min.Y+int((at.Y-float64(drawn.Min.Y))*float64(seen.Dy())/float64(drawn.Dy())))
}

// finish answers the remaining stops and keeps the check.
func (j *journey) finish() {
	j.Helper()
	stops := j.tables.Stops()
	at := slices.IndexFunc(stops, func(s knowledge.Stop) bool { return s.ID == "skin" })
	for range len(stops) - at {
		j.keys("Return")
	}
	j.settle("end-page")
	j.keys("Return")
	j.wait("the draft to go, as the check is kept", func() bool { return len(j.drafts()) == 0 })
	j.settle("animal-with-check")
}

// undoAndRedo takes the check back by the keys of the system, and brings it back.
func (j *journey) undoAndRedo() {
	j.Helper()
	j.shows("undone", j.pressing("ctrl+z"))
	j.shows("redone", j.pressing("ctrl+y"))
}

// checkJournal finds that the check was taken back and brought back.
func (j *journey) checkJournal(all *collection.Collection) {
	j.Helper()
	undone, redone := false, false
	err := all.Journal(0, func(e collection.Entry) bool {
		undone, redone = undone || e.Undoes > 0, redone || e.Redoes > 0
		return true
	})
	if err != nil || !undone || !redone {
		j.Errorf("the journal tells of an undo: %v, of a redo: %v (%v)", undone, redone, err)
	}
}

// print opens the papers with the animal, saves the record and returns its path.
func (j *journey) print() string {
	j.Helper()
	j.shows("papers", j.pressing("ctrl+p"))
	j.shows("saving", j.pressing("ctrl+s"))
	j.keys("Return")
	var files []string
	j.wait("the record among the documents", func() bool {
		files, _ = filepath.Glob(filepath.Join(j.home, "Documents", "*.pdf")) // the pattern is well formed
		return len(files) == 1
	})
	j.settle("saved")
	j.keys("Return")
	j.settle("told")
	return files[0]
}

// watchSockets looks at the program's sockets again and again until it ends.
func (j *journey) watchSockets() {
	var strange []string
	for {
		peers, err := localSockets()
		if err != nil {
			j.looked <- []string{err.Error()}
			return
		}
		now, err := strangeSockets(j.program.Process.Pid, peers)
		if err != nil {
			break // it has ended
		}
		strange = append(strange, now...)
		time.Sleep(30 * time.Millisecond)
	}
	j.looked <- strange
}

// quit ends the program as a person does, and reads what it printed.
func (j *journey) quit() {
	j.Helper()
	j.keys("ctrl+q")
	select {
	case err := <-j.ended:
		j.ended <- err
		if err != nil {
			j.Errorf("the program ended with %v", err)
		}
	case <-j.ctx.Done():
		j.Fatal("the program does not end when asked to")
	}
	if strange := <-j.looked; len(strange) > 0 {
		j.Errorf("the program reached out: %s", strings.Join(slices.Compact(strange), "\n"))
	}
	for _, complaint := range []string{"Error in Fyne call thread", "Fyne error"} {
		if strings.Contains(j.log.String(), complaint) {
			j.Errorf("the program printed %q", complaint)
		}
	}
}

// checkStore finds the animal, its check and the finding where it was clicked.
func (j *journey) checkStore(stop knowledge.Stop, what knowledge.FindingID) {
	j.Helper()
	kept, err := store.Open(j.collection, store.Options{Now: time.Now, Verifier: store.VerifyHere})
	if err != nil {
		j.Fatal(err)
	}
	defer kept.Close()
	all, err := collection.New(kept, collection.Options{Now: time.Now})
	if err != nil {
		j.Fatal(err)
	}
	j.checkJournal(all)
	err = all.View(func(v model.View) error {
		stored, err := animals.All(v)
		if err != nil {
			return err
		}
		if len(stored) != 1 || stored[0].Name != animalName {
			j.Fatalf("the store holds %d animals, want %s alone", len(stored), animalName)
		}
		check, found, err := exam.Latest(v, stored[0].ID, v.Now())
		if err != nil || !found {
			j.Fatalf("no check of the animal in the store: %v", err)
		}
		j.checkFinding(check.Check, stop, what)
		return nil
	})
	if err != nil {
		j.Fatal(err)
	}
}

func (j *journey) checkFinding(check exam.Check, stop knowledge.Stop, what knowledge.FindingID) {
	j.Helper()
	if len(check.Stops) != len(j.tables.Stops()) {
		j.Errorf("%d stops are stored, want %d", len(check.Stops), len(j.tables.Stops()))
	}
	for _, s := range check.Stops {
		if s.Look == exam.NotYet {
			j.Errorf("stop %s is stored without an answer", s.Stop)
		}
	}
	if len(check.Findings) != 1 {
		j.Fatalf("%d findings are stored, want one: %+v", len(check.Findings), check.Findings)
	}
	f := check.Findings[0]
	if f.What != what || f.Stop != stop.ID || f.Rough {
		j.Errorf("stored is %s at stop %s (rough: %v), want %s at %s, pointed to", f.What, f.Stop, f.Rough, what, stop.ID)
	}
	if off := f.Place.Along - markAlong; f.Place.Part != body.Trunk || off < -100 || off > 100 || f.Place.Angle < -30 || f.Place.Angle > 30 {
		j.Errorf("stored at %+v, clicked on the back at %d", f.Place, markAlong)
	}
}

// checkPaper reads the PDF that the window saved.
func (j *journey) checkPaper(path string, what knowledge.FindingID) {
	j.Helper()
	if out, err := exec.CommandContext(j.ctx, "qpdf", "--check", path).CombinedOutput(); err != nil {
		j.Errorf("qpdf --check: %v\n%s", err, out)
	}
	j.checkWords(path, what)
}

func (j *journey) checkWords(path string, what knowledge.FindingID) {
	j.Helper()
	text, err := exec.CommandContext(j.ctx, "pdftotext", "-layout", path, "-").Output()
	if err != nil {
		j.Fatalf("pdftotext %s: %v", path, err)
	}
	words := strings.Join(strings.Fields(string(text)), " ")
	for _, want := range []string{animalName, j.text.Say("finding." + string(what))} {
		if !strings.Contains(words, want) {
			j.Errorf("%q is not in the text of the record:\n%s", want, text)
		}
	}
}

// checkToolPrintsTheSame prints the record once more without a window.
func (j *journey) checkToolPrintsTheSame(what knowledge.FindingID) {
	j.Helper()
	out := filepath.Join(j.home, "tool.pdf")
	tool := exec.CommandContext(j.ctx, os.Getenv("COILWARD_TOOL"), "print", "health-record", "--collection", j.collection, "--animal", animalName, "--out", out)
	tool.Env = append(os.Environ(), "LC_ALL=C.UTF-8")
	if said, err := tool.CombinedOutput(); err != nil {
		j.Fatalf("coilctl print: %v\n%s", err, said)
	}
	j.checkWords(out, what)
}
