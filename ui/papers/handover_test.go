package papers

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"coilward/export/handover"
	"coilward/model"
	"coilward/model/storetest"
	"coilward/ui/place"
	"coilward/ui/uitest"
)

// backups are where a collection lies and its copies of keys.
type backups struct {
	uitest.Unkept
	folder string // empty: that of the sample
}

func (b backups) Folder() string { return b.folder }

func (b backups) KeyCopies() (all []place.KeyCopy, err error) {
	if b.folder == "" {
		return nil, errors.New("the sample has no backups")
	}
	paths, err := filepath.Glob(filepath.Join(b.folder, "*"+handover.CopyEnd))
	for _, path := range paths {
		all = append(all, place.KeyCopy{Path: path, Written: model.MomentOf(storetest.Start()), Good: true})
	}
	return all, err
}

func (b backups) KeepKeyCopy(name string, raw []byte) error {
	return os.WriteFile(filepath.Join(b.folder, name), raw, 0o600)
}

// seller is the window of one who hands an animal on.
type seller struct {
	*window
	backups backups
	key     string // where the key lies
	saved   []string
}

func (s *seller) Keeping() place.Keeping { return s.backups }
func (s *seller) ReadOnly() bool         { return false }
func (s *seller) SaveAs(suggested string, done func(string)) {
	path := filepath.Join(s.saveTo, suggested)
	s.saved = append(s.saved, path)
	done(path)
}

// selling is the place with two animals, and where it says so over a sample.
func selling(t *testing.T, sample bool) (*Page, *seller) {
	t.Helper()
	p, w, _ := opened(t, uitest.Looks()[0], "en", "Brook", "Kestrel")
	s := &seller{window: w, key: filepath.Join(t.TempDir(), "settings", "signing-key")}
	if !sample {
		s.backups.folder = t.TempDir()
	}
	s.saveTo, p.w = t.TempDir(), s
	p.SignWith(s.key)
	p.again()
	return p, s
}

const (
	herPapers  = "Papers for the next keeper"
	passphrase = "seven warm stones by night"
)

// make taps the button; asked tells whether a sheet came then.
func (s *seller) make(p *Page) (asked bool) {
	s.t.Helper()
	uitest.Tap(s.t, p.Content(), herPapers)
	return s.canvas.Overlays().Top() != nil
}

func (s *seller) answer(typed string) {
	s.t.Helper()
	uitest.Type(s.canvas, typed)
	uitest.Key(s.canvas, fyne.KeyReturn)
}

func (s *seller) cancel() {
	s.t.Helper()
	uitest.Tap(s.t, uitest.Top(s.canvas), "Cancel")
	if s.canvas.Overlays().Top() != nil {
		s.t.Fatal("the sheet stays")
	}
}

// last opens the file that was saved last.
func (s *seller) last(number int) (name, fingerprint string) {
	s.t.Helper()
	if len(s.saved) != number || len(s.told) != number || len(s.faults) != 0 {
		s.t.Fatalf("saved %v, told %v, faults %v, want %d", s.saved, s.told, s.faults, number)
	}
	papers, shut, err := handover.OpenFile(s.saved[number-1])
	if err != nil {
		s.t.Fatal(err)
	}
	if err := shut(); err != nil {
		s.t.Fatal(err)
	}
	name, fingerprint = papers.Record.Animal.Name, papers.Key.Fingerprint()
	if !strings.Contains(s.told[number-1], fingerprint) || !strings.Contains(s.told[number-1], s.saved[number-1]) {
		s.t.Errorf("told %q of the key %s", s.told[number-1], fingerprint)
	}
	return name, fingerprint
}

// Beside the button stands what goes along and what stays, and once the file is there why the
// key is to be told and how the file is opened.
func TestWhatGoesAlongIsSaid(t *testing.T) {
	p, s := selling(t, true)
	if !uitest.Shows(p.Content(), s.text.Say("handover.make.what")) {
		t.Errorf("what goes along is not shown: %q", uitest.Texts(p.Content()))
	}
	s.make(p)
	_, fingerprint := s.last(1)
	if want := s.text.Say("handover.made", map[string]any{"Path": s.saved[0], "Key": fingerprint}); !strings.HasSuffix(s.told[0], want) {
		t.Errorf("told %q, want %q", s.told[0], want)
	}
	for _, words := range []string{s.text.Say("handover.open"), "nobody else made or changed"} {
		if !strings.Contains(s.told[0], words) {
			t.Errorf("%q is not in %q", words, s.told[0])
		}
	}
}

// From the page of an animal its papers are one button away, whatever paper was looked at
// before.
func TestTheButtonIsThereWhateverWasLookedAt(t *testing.T) {
	p, s := selling(t, false)
	for _, before := range []string{"paper.stock.kicker", "paper.card.kicker", "paper.cards.kicker", "paper.check-sheet.kicker", "paper.record.kicker"} {
		s.choose(p, s.text.Say(before))
		if shows := uitest.Shows(p.Content(), herPapers); shows != (before == "paper.record.kicker") {
			t.Fatalf("%s: the button is there: %v", before, shows)
		}
		p.Show(place.Route{To: place.Papers, Subject: p.animals[1].ID.ID})
		if !uitest.Shows(p.Content(), herPapers) || p.wanted.animal != p.animals[1].ID {
			t.Errorf("after %s the button is not there: %q", before, uitest.Texts(p.Content()))
		}
		p.Show(place.Route{To: place.Papers})
		if !uitest.Shows(p.Content(), herPapers) {
			t.Errorf("after %s a way back to the papers chose another", before)
		}
	}
	p.Show(place.Route{To: place.Papers, Subject: p.animals[0].ID.ID, Page: place.CheckSheet})
	if p.wanted.kind != checkSheets {
		t.Errorf("asked for a check sheet, got %q", p.wanted.kind)
	}
}

// The passphrase is asked once; the file opens, is the chosen animal's, and the next one is
// signed with the same key unasked.
func TestHerPapersAreSigned(t *testing.T) {
	p, s := selling(t, false)
	s.chooseAnimal(p, "Kestrel")
	if !s.make(p) || len(s.saved) != 0 {
		t.Fatalf("no passphrase is asked; saved %v", s.saved)
	}
	s.answer("short")
	if len(s.saved) != 0 || s.canvas.Overlays().Top() == nil {
		t.Fatal("a short passphrase makes a key")
	}
	s.cancel()
	if _, err := os.Stat(s.key); !errors.Is(err, fs.ErrNotExist) || len(s.saved) != 0 {
		t.Fatalf("left, and a key is there: %v", err)
	}
	s.make(p)
	s.answer(passphrase)
	name, first := s.last(1)
	if name != "Kestrel" {
		t.Errorf("the papers are of %s", name)
	}
	if key, err := handover.ReadKey(s.key); err != nil || key.Public().Fingerprint() != first {
		t.Errorf("signed with %s, kept is %v, %v", first, key.Public().Fingerprint(), err)
	}
	s.chooseAnimal(p, "Brook")
	if s.make(p) {
		t.Fatalf("asked again: %q", uitest.Texts(uitest.Top(s.canvas)))
	}
	if name, second := s.last(2); name != "Brook" || second != first {
		t.Errorf("the papers of %s are signed with %s, not %s", name, second, first)
	}
}

// Where the key is lost and a copy lies among the backups, the same one is brought back
// while signing; a wrong passphrase makes nothing.
func TestTheKeyIsBroughtBackWhileSigning(t *testing.T) {
	p, s := selling(t, false)
	s.make(p)
	s.answer(passphrase)
	_, before := s.last(1)
	if err := os.Remove(s.key); err != nil {
		t.Fatal(err)
	}
	if !s.make(p) {
		t.Fatal("nothing is asked")
	}
	s.answer("nine cool stones by day")
	if _, err := os.Stat(s.key); !errors.Is(err, fs.ErrNotExist) || len(s.saved) != 1 || s.canvas.Overlays().Top() == nil {
		t.Fatalf("a wrong passphrase: saved %v, %v", s.saved, err)
	}
	s.cancel()
	s.make(p)
	s.answer(passphrase)
	if _, after := s.last(2); after != before {
		t.Errorf("signed with %s, then with %s", before, after)
	}
}

// The sample signs with a key of its own each time and keeps none, whatever key is kept.
func TestTheSampleKeepsNoKey(t *testing.T) {
	p, s := selling(t, true)
	if s.make(p) {
		t.Fatalf("asked: %q", uitest.Texts(uitest.Top(s.canvas)))
	}
	_, first := s.last(1)
	if _, err := os.Stat(s.key); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("a key is kept: %v", err)
	}
	own, _, err := handover.KeyIn(s.key, s.Now().Day())
	if err != nil {
		t.Fatal(err)
	}
	s.make(p)
	if _, second := s.last(2); second == first || second == own.Public().Fingerprint() {
		t.Errorf("signed with %s, then with %s; the keeper's is %s", first, second, own.Public().Fingerprint())
	}
}

// Where the file cannot be written the page says so, and no file is left.
func TestNowhereForHerPapers(t *testing.T) {
	p, s := selling(t, true)
	s.saveTo = filepath.Join(t.TempDir(), "not", "there")
	s.make(p)
	if len(s.told)+len(s.faults) != 1 {
		t.Errorf("told %v, faults %v", s.told, s.faults)
	}
}

// Where no key is named no papers are offered.
func TestWithoutAKeyNoPapersAreOffered(t *testing.T) {
	p, _, _ := opened(t, uitest.Looks()[0], "en", "Brook")
	if uitest.Shows(p.Content(), herPapers) {
		t.Error("they are offered")
	}
}
