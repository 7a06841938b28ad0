package shell_test

import (
	"context"
	"fmt"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/animals"
	"coilward/ui/place"
	"coilward/ui/shell"
	"coilward/ui/uitest"
)

// broken is a bench whose collection does not open with that reason until
// it was mended; what was done to mend it is appended to done.
func broken(t *testing.T, l uitest.Look, language string, reason string, done *[]string) bench {
	t.Helper()
	return open(t, l, language, func(o *shell.Options) {
		inner := o.Open
		o.Open = func(ctx context.Context, folder string, over bool, early func(shell.Session)) (shell.Session, error) {
			if len(*done) == 0 {
				return shell.Session{}, fmt.Errorf("open: %w", &model.Refusal{Field: "collection", Value: folder, Reason: reason})
			}
			return inner(ctx, folder, over, early)
		}
		o.Newest = func(string) (place.Backup, bool) {
			return place.Backup{Path: "/backups/a.db", At: model.MomentOf(o.Now()), Verified: true}, true
		}
		o.Restore = func(folder, backup string) (string, error) {
			*done = append(*done, "restored "+folder+" from "+backup)
			return folder + "/replaced.db", nil
		}
		o.Salvage = func(folder string) (shell.Salvaged, error) {
			*done = append(*done, "salvaged "+folder)
			return shell.Salvaged{Records: 12, Lost: 3, Uncertain: 1, Erased: 2, SetAside: folder + "/replaced.db"}, nil
		}
	})
}

// top is what lies uppermost, and said is all that stands there.
func (b bench) top() fyne.CanvasObject { return uitest.Top(b.Window().Canvas()) }

func (b bench) said() string { return strings.Join(uitest.Texts(b.top()), " ") }

const room = "/collections/Old Mill"

func TestADamagedCollectionCanBeRestored(t *testing.T) {
	for _, kind := range []string{"collection.damaged", "collection.missing"} {
		var done []string
		b := broken(t, uitest.Looks()[0], "en", kind, &done)
		b.Start(room, false)
		uitest.Tap(t, b.Window().Canvas().Content(), "Restore the newest backup")
		if len(done) != 0 {
			t.Fatal("restored without asking")
		}
		uitest.Tap(t, b.top(), "Restore it")
		if len(done) != 1 || done[0] != "restored "+room+" from /backups/a.db" || b.Collection() != b.c {
			t.Errorf("%s: done %q", kind, done)
		}
		if said := b.said(); !strings.Contains(said, "replaced.db") {
			t.Errorf("%s: says %q", kind, said)
		}
	}
}

func TestADamagedCollectionCanBeSalvaged(t *testing.T) {
	var done []string
	b := broken(t, uitest.Looks()[0], "en", "collection.damaged", &done)
	b.Start(room, false)
	uitest.Tap(t, b.Window().Canvas().Content(), "Save what can be read")
	uitest.Tap(t, b.top(), "Save what can be read")
	if len(done) != 1 || done[0] != "salvaged "+room || b.Collection() != b.c {
		t.Errorf("done %q", done)
	}
	for _, want := range []string{"12", "3", "replaced.db", "1 record may", "2 records had been erased for good"} {
		if said := b.said(); !strings.Contains(said, want) {
			t.Errorf("says %q, want %q in it", said, want)
		}
	}
}

// Where restoring is no help, it is not offered.
func TestNoWayBackWhereNoneIsNeeded(t *testing.T) {
	for _, kind := range []string{"collection.full", "collection.newer", "collection.forbidden"} {
		var done []string
		b := broken(t, uitest.Looks()[0], "en", kind, &done)
		b.Start(room, false)
		if said := strings.Join(uitest.Texts(b.Window().Canvas().Content()), " "); strings.Contains(said, "Restore the newest") || strings.Contains(said, "Save what can") {
			t.Errorf("%s: says %q", kind, said)
		}
	}
}

func TestWaysBackFit(t *testing.T) {
	everyLook(t, func(t *testing.T, l uitest.Look, language string) {
		var done []string
		b := broken(t, l, language, "collection.damaged", &done)
		b.Start(room, false)
		assertFits(t, b, l)
	})
}

// A clock that was set back is said once at opening, and a collection that nothing was
// noted in, or a few minutes, say nothing.
func TestAClockSetBackIsToldAtOpening(t *testing.T) {
	for name, c := range map[string]struct {
		noted bool
		back  time.Duration
		told  bool
	}{"a year": {true, 365 * 24 * time.Hour, true}, "minutes": {true, 10 * time.Minute, false}, "nothing noted": {false, 365 * 24 * time.Hour, false}, "as it was": {true, 0, false}} {
		b := open(t, uitest.Looks()[0], "en", nil)
		if c.noted {
			if _, err := b.c.Do(animals.Add{Animal: animals.Animal{Name: "Juno", Status: animals.Kept}}); err != nil {
				t.Fatal(err)
			}
		}
		b.clock.Pass(-c.back)
		b.Start(room, false)
		if said := b.said(); strings.Contains(said, "clock") != c.told {
			t.Errorf("%s: says %q", name, said)
		}
	}
}

func TestCopiesAreToldAtOpening(t *testing.T) {
	b := open(t, uitest.Looks()[0], "en", func(o *shell.Options) {
		inner := o.Open
		o.Open = func(ctx context.Context, folder string, over bool, early func(shell.Session)) (shell.Session, error) {
			s, err := inner(ctx, folder, over, early)
			s.Copies = []string{folder + "/collection 2.db"}
			return s, err
		}
	})
	b.Start(room, false)
	if said := b.said(); !strings.Contains(said, "collection 2.db") {
		t.Errorf("says %q", said)
	}
}
