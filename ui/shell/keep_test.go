package shell_test

import (
	"context"
	"errors"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/people"
	"coilward/ui/place"
	"coilward/ui/shell"
	"coilward/ui/uitest"
)

func add(t *testing.T, b bench, name string) {
	t.Helper()
	b.Do(func(place.Answer) model.Command { return people.Add{Person: people.Person{Name: name}} }, func(err error) {
		if err != nil {
			t.Fatal(err)
		}
	})
}

func menuItem(t *testing.T, b bench, shortcut string) *fyne.MenuItem {
	t.Helper()
	for _, menu := range b.Window().MainMenu().Items {
		for _, item := range menu.Items {
			if item.Shortcut != nil && item.Shortcut.ShortcutName() == shortcut {
				return item
			}
		}
	}
	t.Fatalf("no menu item has the shortcut %q", shortcut)
	return nil
}

func TestTheKeysOfUndoAreThoseThatFyneMakes(t *testing.T) {
	b := open(t, uitest.Looks()[0], "en", nil)
	b.Start("/collections/Old Mill", false)
	add(t, b, "Wren Alder")
	menuItem(t, b, (&fyne.ShortcutUndo{}).ShortcutName()).Action()
	if _, can := b.c.CanUndo(); can {
		t.Error("the key of undo undid nothing")
	}
	menuItem(t, b, (&fyne.ShortcutRedo{}).ShortcutName()).Action()
	if _, can := b.c.CanUndo(); !can {
		t.Error("the key of redo did nothing again")
	}
}

func TestAFieldKeepsItsOwnUndo(t *testing.T) {
	b := open(t, uitest.Looks()[0], "en", nil)
	b.Start("/collections/Old Mill", false)
	add(t, b, "Wren Alder")
	uitest.Tap(t, b.Window().Canvas().Content(), "Add a person")
	uitest.Type(b.Window().Canvas(), "Ash")
	menuItem(t, b, (&fyne.ShortcutUndo{}).ShortcutName()).Action()
	if _, can := b.c.CanUndo(); !can {
		t.Error("undo in a field took back what was noted before")
	}
}

func TestUndoLeavesTheSampleStanding(t *testing.T) {
	b := open(t, uitest.Looks()[0], "en", nil)
	b.Start("/collections/Old Mill", false)
	add(t, b, "Wren Alder") // stands for what the sample begins with
	s := open(t, uitest.Looks()[0], "en", func(o *shell.Options) {
		o.Open = func(context.Context, string, bool, func(shell.Session)) (shell.Session, error) {
			return shell.Session{Collection: b.c, Keeping: b.kept, Sample: true}, nil
		}
	})
	s.Start("/collections/Old Mill", false)
	if content := s.Window().Canvas().Content(); uitest.Shows(content, "Undo") || !uitest.Shows(content, "Nothing noted yet") {
		t.Errorf("a sample just opened offers %q", uitest.Texts(content))
	}
	s.Undo()
	if _, can := b.c.CanUndo(); !can {
		t.Error("undo took the sample itself back")
	}
	if _, err := b.c.Settle(people.Add{Person: people.Person{Name: "Moss Fen"}}); err != nil { // as its photos are
		t.Fatal(err)
	}
	if uitest.Shows(s.Window().Canvas().Content(), "Undo") {
		t.Error("what no person did can be undone")
	}
	add(t, bench{Shell: s.Shell, c: b.c}, "Ash Reed")
	if !uitest.Shows(s.Window().Canvas().Content(), "Undo") {
		t.Error("what was noted in the sample cannot be undone")
	}
}

func TestRestoreAsksClosesRestoresAndOpensAgain(t *testing.T) {
	for _, c := range []struct {
		name, key string
		err       error
		steps     string
		says      string
	}{
		{"yes", "Restore it", nil, "open close restore open", "/collections/Old Mill/set-aside.db"},
		{"no", "Cancel", nil, "open", ""},
		{"fails", "Restore it", errors.New("the disk is gone"), "open close restore open", "the disk is gone"},
	} {
		t.Run(c.name, func(t *testing.T) {
			var steps []string
			b := open(t, uitest.Looks()[0], "en", func(o *shell.Options) {
				inner := o.Open
				o.Open = func(ctx context.Context, folder string, over bool, early func(shell.Session)) (shell.Session, error) {
					steps = append(steps, "open")
					s, err := inner(ctx, folder, over, early)
					s.Close = func() error { steps = append(steps, "close"); return nil }
					return s, err
				}
				o.Restore = func(folder, backup string) (string, error) {
					steps = append(steps, "restore")
					return folder + "/set-aside.db", c.err
				}
			})
			b.Start("/collections/Old Mill", false)
			uitest.Tap(t, b.Window().Canvas().Content(), "Restore")
			uitest.Tap(t, uitest.Top(b.Window().Canvas()), c.key)
			if got := strings.Join(steps, " "); got != c.steps {
				t.Errorf("went %q, want %q", got, c.steps)
			}
			if !uitest.Shows(uitest.Top(b.Window().Canvas()), c.says) {
				t.Errorf("says %q", uitest.Texts(uitest.Top(b.Window().Canvas())))
			}
		})
	}
}

// Where a key's copy lies among the backups, and this computer has no key, the way to it is
// offered.
func TestRestoringOffersTheCopyOfTheKey(t *testing.T) {
	for _, away := range []bool{true, false} {
		b := open(t, uitest.Looks()[0], "en", func(o *shell.Options) {
			o.Restore = func(folder, backup string) (string, error) { return folder + "/set-aside.db", nil }
			o.KeyAway = func(folder string) bool { return away && folder == "/collections/Old Mill" }
		})
		b.Start("/collections/Old Mill", false)
		uitest.Tap(t, b.Window().Canvas().Content(), "Restore")
		uitest.Tap(t, uitest.Top(b.Window().Canvas()), "Restore it")
		top := uitest.Top(b.Window().Canvas())
		if got := uitest.Shows(top, "this computer has no key"); got != away || !uitest.Shows(top, "set-aside.db") {
			t.Fatalf("away %t: %q", away, uitest.Texts(top))
		}
		if away {
			uitest.Tap(t, top, "Settings")
			if b.Window().Canvas().Overlays().Top() != nil || !uitest.Shows(b.Window().Canvas().Content(), "Who writes") {
				t.Errorf("it leads to %q", uitest.Texts(b.Window().Canvas().Content()))
			}
		}
	}
}

func TestSizesOfBackupsHaveTheLanguagesDecimalSign(t *testing.T) {
	b := open(t, uitest.Looks()[0], "de", nil)
	b.Start("/collections/Old Mill", false)
	if !uitest.Shows(b.Window().Canvas().Content(), "3,4\u00a0MB") {
		t.Errorf("the backups say %q", uitest.Texts(b.Window().Canvas().Content()))
	}
}
