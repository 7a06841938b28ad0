package shell_test

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	"coilward/model"
	"coilward/model/collection"
	"coilward/model/comparing"
	"coilward/model/people"
	"coilward/ui/place"
	"coilward/ui/shell"
	"coilward/ui/uitest"
)

// apart is a difference of some kinds, with more lines than are in sight.
func apart() comparing.Summary {
	at := model.MomentOf(time.Date(2027, 6, 8, 21, 30, 0, 0, time.UTC))
	s := comparing.Summary{Now: comparing.Side{Animals: 3, Entries: 120}, Then: comparing.Side{Animals: 2, Entries: 61}, Missing: []model.PhotoID{"aa"},
		Counts: []comparing.Count{{Type: model.TypeAnimal, Gone: 1}, {Type: model.TypeEntry, Kind: "meal", Gone: 58, Back: 1, Changed: 1}},
		Lines:  []comparing.Line{{Type: model.TypeAnimal, Names: []string{"Brook"}, At: at}}}
	for i := range 60 {
		way := comparing.Gone
		if i > 57 {
			way = comparing.Way(i - 57)
		}
		s.Lines = append(s.Lines, comparing.Line{Way: way, Type: model.TypeEntry, Kind: "meal", Names: []string{"Kestrel"}, At: at})
	}
	return s
}

func TestRestoreShowsFirstWhatDiffers(t *testing.T) {
	restored := 0
	b := open(t, uitest.Looks()[0], "en", func(o *shell.Options) {
		o.Restore = func(folder, backup string) (string, error) { restored++; return "", nil }
	})
	b.kept.differs = apart()
	b.Start(room, false)
	uitest.Tap(t, b.Window().Canvas().Content(), "Restore")
	said := b.said()
	for _, want := range []string{"animals 2, entries 61", "animals 3, entries 120", "Animal: 1 no longer there", "no longer there: Brook", "Meal: 58 no longer there · 1 back again · 1 as before", "1 photo that is named there", "kept among the backups first"} {
		if !strings.Contains(said, want) {
			t.Errorf("says %q, want %q in it", said, want)
		}
	}
	if restored != 0 {
		t.Fatal("restored before anything was answered")
	}
	uitest.Tap(t, b.top(), "Restore it")
	if restored != 1 {
		t.Errorf("restored %d times", restored)
	}
}

func TestTheSheetOfARestoringFits(t *testing.T) {
	everyLook(t, func(t *testing.T, l uitest.Look, language string) {
		b := open(t, l, language, func(o *shell.Options) {
			o.Restore = func(folder, backup string) (string, error) { return "", nil }
		})
		b.kept.differs = apart()
		b.Start(room, false)
		uitest.Tap(t, b.Window().Canvas().Content(), b.Text().Say("window.settings.restore"))
		for _, fault := range uitest.Clipped(b.top(), b.Window().Canvas().Size()) {
			t.Error(fault)
		}
	})
}

// away is what a second place that is not there comes back as.
func away(reason string) error {
	return fmt.Errorf("bring: %w", &model.Refusal{Field: "second", Value: "/media/stick", Reason: reason})
}

func TestASecondPlaceIsChosenAndBroughtToAtOnce(t *testing.T) {
	b := open(t, uitest.Looks()[0], "en", nil)
	b.Start(room, false)
	if content := b.Window().Canvas().Content(); !uitest.Shows(content, "another disk") {
		t.Errorf("says %q", uitest.Texts(content))
	}
	b.kept.second = place.Second{Folder: "/media/stick"}
	b.BackUp(nil)
	if said := b.said(); b.kept.made != 1 || b.kept.brought != 1 || !strings.Contains(said, "/media/stick") {
		t.Errorf("made %d, brought %d, says %q", b.kept.made, b.kept.brought, said)
	}
}

// A stick that is not in is no reason to stop a person who has just opened the
// collection; a full one is told, and so is one that is away when a backup was asked
// for.
func TestWhatIsWrongWithTheSecondPlaceIsToldInItsTime(t *testing.T) {
	for reason, told := range map[string]bool{"second.away": false, "second.full": true} {
		b := opened(t, away(reason))
		b.Start(room, false)
		if said := b.said(); b.kept.brought != 1 || strings.Contains(said, "not at the second place") != told {
			t.Errorf("%s at opening: brought %d, says %q", reason, b.kept.brought, said)
		}
	}
	b := open(t, uitest.Looks()[0], "en", nil)
	b.kept.second, b.kept.fails = place.Second{Folder: "/media/stick"}, away("second.away")
	b.Start(room, false)
	b.BackUp(nil)
	if said := b.said(); !strings.Contains(said, "not at the second place") || !strings.Contains(said, "/media/stick") {
		t.Errorf("asked for: says %q", said)
	}
}

// opened is a bench whose collection has a backup made when it is opened.
func opened(t *testing.T, fails error) bench {
	t.Helper()
	b := open(t, uitest.Looks()[0], "en", func(o *shell.Options) {
		inner := o.Open
		o.Open = func(ctx context.Context, folder string, over bool, early func(shell.Session)) (shell.Session, error) {
			s, err := inner(ctx, folder, over, early)
			s.After = func() error { return nil }
			return s, err
		}
	})
	b.kept.second, b.kept.fails = place.Second{Folder: "/media/stick"}, fails
	return b
}

func TestTheSettingsSayHowTheSecondPlaceStands(t *testing.T) {
	since := model.MomentOf(time.Date(2027, 6, 1, 8, 0, 0, 0, time.UTC))
	for _, second := range []place.Second{
		{Folder: "/media/stick", Whole: since, Photos: 2},
		{Folder: "/media/stick"},
		{Folder: "/media/stick", Why: "away", Since: since},
		{Folder: "/media/stick", Why: "full", Since: since},
		{Folder: "/media/stick", Why: "readonly", Since: since},
		{Folder: "/media/stick", Why: "forbidden", Since: since},
		{Folder: "/media/stick", Why: "damaged", Since: since},
		{Folder: "/media/stick", Why: "unknown", Since: since},
	} {
		for _, language := range uitest.Languages() {
			b := standing(t, uitest.Looks()[0], language, second)
			content := b.Window().Canvas().Content()
			if !uitest.Shows(content, "/media/stick") || strings.Contains(strings.Join(uitest.Texts(content), " "), "⟦") {
				t.Errorf("%+v: says %q", second, uitest.Texts(content))
			}
			if second.Why != "" && !uitest.Shows(content, b.Text().Say("keeping.second.first-goes-on")) {
				t.Errorf("%+v: does not say that the first place goes on", second)
			}
		}
	}
	everyLook(t, func(t *testing.T, l uitest.Look, language string) {
		assertFits(t, standing(t, l, language, place.Second{Folder: "/media/stick", Why: "forbidden", Since: since, Photos: 2}), l)
	})
	b := open(t, uitest.Looks()[0], "en", nil)
	b.kept.second = place.Second{Folder: "/media/stick"}
	b.Start(room, false)
	uitest.Tap(t, b.Window().Canvas().Content(), "Use none")
	if len(b.kept.chosen) != 1 || b.kept.chosen[0] != "" || uitest.Shows(b.Window().Canvas().Content(), "/media/stick") {
		t.Errorf("chosen %q", b.kept.chosen)
	}
}

// standing is a bench that shows how a second place stands.
func standing(t *testing.T, l uitest.Look, language string, second place.Second) bench {
	t.Helper()
	b := open(t, l, language, nil)
	b.kept.second = second
	b.Start(room, false)
	return b
}

// What cannot be written to can be opened to be read: everything is in sight, and
// what is to be noted is refused with the reason.
func TestAReadOnlyCollectionIsOpenedToRead(t *testing.T) {
	var c *collection.Collection
	b := open(t, uitest.Looks()[0], "en", func(o *shell.Options) {
		inner := o.Open
		o.Open = func(ctx context.Context, folder string, over bool, early func(shell.Session)) (shell.Session, error) {
			return shell.Session{}, fmt.Errorf("open: %w", &model.Refusal{Field: "collection", Value: folder, Reason: "collection.readonly"})
		}
		o.OpenToRead = func(ctx context.Context, folder string) (shell.Session, error) {
			s, err := inner(ctx, folder, false, nil)
			s.Reading = true
			c = s.Collection
			return s, err
		}
	})
	b.Start(room, false)
	uitest.Tap(t, b.Window().Canvas().Content(), "Open to read")
	if !b.ReadOnly() || b.Collection() != c || !uitest.Shows(b.Window().Canvas().Content(), "Opened to read") {
		t.Fatalf("read only %t, says %q", b.ReadOnly(), uitest.Texts(b.Window().Canvas().Content()))
	}
	var answer error
	b.Do(func(place.Answer) model.Command { return people.Add{Person: people.Person{Name: "Wren Alder"}} }, func(err error) { answer = err })
	if said := b.said(); !errors.Is(answer, place.ErrLeft) || !strings.Contains(said, "Nothing can be noted here") || !strings.Contains(said, "make the folder writable") {
		t.Errorf("answered %v, says %q", answer, said)
	}
	if _, can := b.c.CanUndo(); can {
		t.Error("something was noted")
	}
}
