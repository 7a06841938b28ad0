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
	"coilward/model/wording"
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
	for _, want := range []string{"animals 2, entries 61", "animals 3, entries 120", "Animal: 1 no longer there", "no longer there: Brook", "Meal: 58 no longer there · 1 comes in · 1 reads otherwise", "1 photo that is named there", "kept among the backups first"} {
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
			s.After = []shell.Job{{Doing: "window.backup.doing", Failed: "window.fault.backup", Do: func(context.Context, func(float64)) error { return nil }}}
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
	b.BackUp(nil)
	if said := b.said(); b.kept.made != 0 || !strings.Contains(said, "Nothing can be noted here") {
		t.Errorf("a backup was made into what cannot be written: %d, %q", b.kept.made, said)
	}
}

// two is a folder in which another state of the collection lies.
type two struct {
	others []shell.Other
	did    []string
	fails  error
}

func (a *two) Others() ([]shell.Other, error) { return a.others, nil }
func (a *two) KeepThis() error                { a.did = append(a.did, "keep"); return a.fails }
func (a *two) SetThisAside() error            { a.did = append(a.did, "aside"); return a.fails }
func (a *two) Take(shell.Other) error         { a.did = append(a.did, "take"); return nil }

// stops is a command that the store stops for a reason.
type stops struct{ reason string }

func (stops) Name() string { return "test.stops" }

func (c stops) Plan(model.View) (model.Writes, error) {
	return model.Writes{}, stopped{&model.Refusal{Field: "collection", Value: room + "/collection 2.db", Reason: c.reason}}
}

// stopped is an error of the store that words itself.
type stopped struct{ refusal *model.Refusal }

func (s stopped) Error() string           { return s.refusal.Error() }
func (s stopped) Refusal() *model.Refusal { return s.refusal }

// Damage at either place is named with what to do, and mended where the other place has
// a good copy.
func TestEveryFileIsCheckedAndMended(t *testing.T) {
	at := model.MomentOf(time.Date(2027, 6, 8, 21, 30, 0, 0, time.UTC))
	everyLook(t, func(t *testing.T, l uitest.Look, language string) {
		b := open(t, l, language, nil)
		b.kept.second = place.Second{Folder: "/media/stick"}
		mended := 0
		all := place.Examined{At: at, Photos: 400, Backups: 12, Second: "/media/stick", Away: true, Mend: func(context.Context) (int, error) {
			mended++
			b.kept.examined = place.Examined{At: at, Photos: 402, Backups: 12, Second: "/media/stick"}
			return 1, nil
		}}
		for _, keys := range [][]string{{"keeping.wrong.photo", "keeping.good.at", "keeping.twin"}, {"keeping.wrong.gone", "keeping.twin.none"},
			{"keeping.wrong.backup", "keeping.good.put", "keeping.twin.others"}, {"keeping.wrong.no-sum"}, {"keeping.wrong.kind"}, {"keeping.wrong.unread"}} {
			all.Found = append(all.Found, place.Finding{Path: "/media/stick/Old Mill/photos/0123456789abcdef", Keys: keys, Good: at, Twin: "/collections/Old Mill/photos/0123456789abcdef.jpg"})
		}
		for range 20 {
			all.Found = append(all.Found, all.Found[0])
		}
		b.kept.examined = all
		b.Start(room, false)
		uitest.Tap(t, b.Page(), b.Text().Say("keeping.examine"))
		said := strings.Join(uitest.Texts(b.Page()), " ")
		for _, f := range all.Found {
			for _, key := range f.Keys {
				if want := b.Text().Say(key, wording.Gaps{"When": at, "Twin": f.Twin}); !strings.Contains(said, want) {
					t.Errorf("says %q, want %q", said, want)
				}
			}
		}
		if strings.Contains(said, "⟦keeping") || !strings.Contains(said, b.Text().Count("keeping.examine.more", 14)) || !strings.Contains(said, b.Text().Say("keeping.examine.away")) {
			t.Errorf("says %q", said)
		}
		assertFits(t, b, l)
		uitest.Tap(t, b.Page(), b.Text().Say("keeping.examine.mend"))
		said = strings.Join(uitest.Texts(b.Page()), " ")
		if mended != 1 || !strings.Contains(said, b.Text().Say("keeping.examine.good", wording.Gaps{"When": at, "Photos": 402, "Backups": 12})) {
			t.Errorf("mended %d, says %q", mended, said)
		}
	})
}

// A backup of another collection is named as that before it can take the place of this
// one.
func TestABackupOfAnotherCollectionIsNamedAsThat(t *testing.T) {
	newest := model.MomentOf(time.Date(2026, 3, 4, 10, 0, 0, 0, time.UTC))
	b := open(t, uitest.Looks()[0], "en", func(o *shell.Options) {
		o.Restore = func(folder, backup string) (string, error) { return "", nil }
	})
	b.kept.differs = apart()
	b.kept.differs.Another, b.kept.differs.Newest, b.kept.differs.Then.Animals = true, newest, 7
	b.Start(room, false)
	b.Restore(place.Backup{Path: "/media/stick/Barn/backups/1.db", Of: "Barn", At: newest})
	said := b.said()
	for _, want := range []string{"This is another collection", "“Barn”", "animals 7", "4 March 2026", "Restore the other one"} {
		if !strings.Contains(said, want) {
			t.Errorf("says %q, want %q in it", said, want)
		}
	}
	if strings.Contains(said, "Restore it") {
		t.Errorf("offers it as its own: %q", said)
	}
	uitest.Tap(t, b.top(), "Cancel")
}

// twice is a bench in whose folder another state came to lie while it was open.
func twice(t *testing.T, l uitest.Look, language string, o shell.Other, a *two) bench {
	t.Helper()
	b := open(t, l, language, func(options *shell.Options) {
		inner := options.Open
		options.Open = func(ctx context.Context, folder string, over bool, early func(shell.Session)) (shell.Session, error) {
			s, err := inner(ctx, folder, over, early)
			s.Apart = a
			s.Close = func() error { a.did = append(a.did, "close"); return nil }
			return s, err
		}
	})
	b.kept.differs = apart()
	b.Start(room, false)
	if b.Window().Canvas().Overlays().Top() != nil {
		t.Fatalf("asked where nothing else lies there: %q", b.said())
	}
	a.others = []shell.Other{o}
	return b
}

func TestAnotherStateStopsAnEntryAndIsAskedAbout(t *testing.T) {
	at := model.MomentOf(time.Date(2027, 6, 8, 21, 30, 0, 0, time.UTC))
	beside := shell.Other{Path: room + "/collection 2.db", At: at, Changes: 6}
	for _, c := range []struct {
		name, reason string
		other        shell.Other
		fails        error
		press, did   string
		says         []string
	}{
		{"keep", "collection.conflicted", beside, nil, "Go on with this one", "keep", []string{"collection 2.db", "8 June 2027", "no longer there: Brook", "kept among the backups"}},
		{"take", "collection.conflicted", beside, nil, "Take the other", "aside close take", []string{"collection 2.db"}},
		{"not now", "collection.conflicted", beside, nil, "Not now", "", []string{"Nothing is written until you choose"}},
		{"fails", "collection.conflicted", beside, errors.New("the disk is gone"), "Go on with this one", "keep", nil},
		{"replaced", "collection.replaced", shell.Other{Path: room + "/collection.db", At: at, Replaced: true}, nil, "Go on with this one", "keep", []string{"in the place of the open collection"}},
		{"overwritten", "collection.replaced", shell.Other{Path: room + "/collection.db", At: at, Replaced: true, Overwritten: true}, nil, "Take the other", "aside close take", []string{"cannot be read any more"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			a := &two{fails: c.fails}
			b := twice(t, uitest.Looks()[0], "en", c.other, a)
			var answer error
			b.Do(func(place.Answer) model.Command { return stops{c.reason} }, func(err error) { answer = err })
			if answer == nil {
				t.Error("the entry was taken as noted")
			}
			said := b.said()
			for _, want := range c.says {
				if !strings.Contains(said, want) {
					t.Errorf("says %q, want %q in it", said, want)
				}
			}
			if c.other.Overwritten && strings.Contains(said, "Go on with this one") {
				t.Error("offers to keep what is not there any more")
			}
			uitest.Tap(t, b.top(), c.press)
			if got := strings.Join(a.did, " "); got != c.did {
				t.Errorf("did %q, want %q", got, c.did)
			}
			if c.fails != nil && !strings.Contains(b.said(), "both are still there") {
				t.Errorf("says %q", b.said())
			}
		})
	}
}

// Where the open file was cut or written over, a page that cannot read it offers the
// newest backup.
func TestAnOverwrittenFileOffersTheNewestBackup(t *testing.T) {
	at := model.MomentOf(time.Date(2027, 6, 8, 21, 30, 0, 0, time.UTC))
	restored := ""
	b := open(t, uitest.Looks()[0], "en", func(o *shell.Options) {
		o.Newest = func(string) (place.Backup, bool) { return place.Backup{Path: room + "/backups/good.db", At: at}, true }
		o.Restore = func(_, backup string) (string, error) { restored = backup; return room + "/aside.db", nil }
		inner := o.Open
		o.Open = func(ctx context.Context, folder string, over bool, early func(shell.Session)) (shell.Session, error) {
			s, err := inner(ctx, folder, over, early)
			a := &two{}
			if restored == "" {
				a.others = []shell.Other{{Path: room + "/collection.db", At: at, Replaced: true, Overwritten: true}}
			}
			s.Apart = a
			return s, err
		}
	})
	b.Start(room, false)
	b.Fault("window.fault.read", stopped{&model.Refusal{Field: "collection", Value: room + "/collection.db", Reason: "collection.replaced"}})
	uitest.Tap(t, b.top(), "Restore the newest backup")
	uitest.Tap(t, b.top(), "Restore it")
	if restored != room+"/backups/good.db" {
		t.Errorf("restored %q; says %q", restored, b.said())
	}
}

// Left alone, the page that could not be read is not left empty: it says what is wrong
// and asks again.
func TestAPageThatCannotBeReadIsNotLeftEmpty(t *testing.T) {
	at := model.MomentOf(time.Date(2027, 6, 8, 21, 30, 0, 0, time.UTC))
	everyLook(t, func(t *testing.T, l uitest.Look, language string) {
		a := &two{}
		b := twice(t, l, language, shell.Other{Path: room + "/collection.db", At: at, Replaced: true, Overwritten: true}, a)
		b.Fault("window.fault.read", stopped{&model.Refusal{Field: "collection", Value: room + "/collection.db", Reason: "collection.replaced"}})
		uitest.Tap(t, b.top(), b.Text().Say("keeping.apart.later"))
		if b.Window().Canvas().Overlays().Top() != nil {
			t.Fatal("a sheet still lies there")
		}
		if said := strings.Join(uitest.Texts(b.Page()), " "); !strings.Contains(said, b.Text().Say("keeping.apart.title")) {
			t.Errorf("the page says %q", said)
		}
		for _, fault := range uitest.Clipped(b.Page(), b.Window().Canvas().Size()) {
			t.Error(fault)
		}
		uitest.Tap(t, b.Page(), b.Text().Say("keeping.apart.choose"))
		uitest.Tap(t, b.top(), b.Text().Say("keeping.apart.take"))
		if got := strings.Join(a.did, " "); got != "aside close take" {
			t.Errorf("did %q", got)
		}
	})
}

func TestTheSheetOfTwoStatesFits(t *testing.T) {
	at := model.MomentOf(time.Date(2027, 6, 8, 21, 30, 0, 0, time.UTC))
	everyLook(t, func(t *testing.T, l uitest.Look, language string) {
		b := twice(t, l, language, shell.Other{Path: room + "/collection (in conflict with the workshop 2027-06-08).db", At: at}, &two{})
		b.Do(func(place.Answer) model.Command { return stops{"collection.conflicted"} }, nil)
		for _, fault := range uitest.Clipped(b.top(), b.Window().Canvas().Size()) {
			t.Error(fault)
		}
	})
}

// erasing is a bench whose file is written anew by compact, with a person who was
// removed.
func erasing(t *testing.T, change func(*shell.Session)) (bench, model.ID) {
	t.Helper()
	b := open(t, uitest.Looks()[0], "en", func(o *shell.Options) {
		inner := o.Open
		o.Open = func(ctx context.Context, folder string, over bool, early func(shell.Session)) (shell.Session, error) {
			s, err := inner(ctx, folder, over, early)
			change(&s)
			return s, err
		}
	})
	b.Start(room, false)
	add(t, b, "Wren Alder")
	var id model.ID
	if err := b.c.View(func(v model.View) error {
		return v.All(model.TypePerson, func(d model.Document) bool { id = d.ID; return false })
	}); err != nil {
		t.Fatal(err)
	}
	b.Do(func(place.Answer) model.Command { return people.Remove{ID: model.PersonID{ID: id}} }, nil)
	return b, id
}

func TestForgettingWritesTheFileAnew(t *testing.T) {
	compacted := 0
	b, id := erasing(t, func(s *shell.Session) { s.Compact = func(context.Context) error { compacted++; return nil } })
	called := 0
	b.Forget(model.Label{Key: "people.done.erase"}, func(err error) {
		if called++; err != nil {
			t.Error(err)
		}
	}, id)
	if compacted != 1 || called != 1 || b.Window().Canvas().Overlays().Top() != nil {
		t.Errorf("compacted %d times, called %d times", compacted, called)
	}
}

// A full disk keeps the bytes in the file: that is said, with a way to try again,
// which does what is left alone. Left, the error is what comes of it.
func TestAFileThatCouldNotBeWrittenAnewIsTriedAgain(t *testing.T) {
	full := fmt.Errorf("compact: %w", &model.Refusal{Field: "collection", Value: room, Reason: "collection.full", Answer: model.Mend})
	for press, want := range map[string]error{"Try again": nil, "Not now": full} {
		compacted, called := 0, 0
		b, id := erasing(t, func(s *shell.Session) {
			s.Compact = func(context.Context) error {
				if compacted++; compacted < 3 {
					return full
				}
				return nil
			}
		})
		b.Forget(model.Label{Key: "people.done.erase"}, func(err error) {
			if called++; !errors.Is(err, want) || want == nil && err != nil {
				t.Errorf("%s: answered %v", press, err)
			}
		}, id)
		for range 2 {
			said := b.said()
			for _, part := range []string{"could not be written anew", "full", "may still lie in the collection’s file", "each time the collection is opened"} {
				if !strings.Contains(said, part) {
					t.Errorf("says %q, want %q in it", said, part)
				}
			}
			if called != 0 {
				t.Fatalf("%s: taken as done before it was answered", press)
			}
			uitest.Tap(t, b.top(), press)
			if press == "Not now" {
				break
			}
		}
		if called != 1 || b.Window().Canvas().Overlays().Top() != nil {
			t.Errorf("%s: called %d times", press, called)
		}
		forgotten := 0
		if err := b.c.Journal(0, func(e collection.Entry) bool {
			if e.Command == collection.Forgotten {
				forgotten++
			}
			return true
		}); err != nil || forgotten != 1 {
			t.Errorf("%s: forgotten %d times (%v)", press, forgotten, err)
		}
	}
}

// What could not be forgotten is said to stand in the file still, and the removal
// can be undone.
func TestWhatCouldNotBeForgottenIsSaid(t *testing.T) {
	b, id := erasing(t, func(s *shell.Session) { s.Compact = func(context.Context) error { return nil } })
	if _, err := b.c.Undo(); err != nil { // a person who is there again cannot be forgotten
		t.Fatal(err)
	}
	called := 0
	b.Forget(model.Label{Key: "people.done.erase"}, func(error) { called++ }, id)
	if said := b.said(); called != 0 || !strings.Contains(said, "could not be wiped out") || !strings.Contains(said, "still stand whole") {
		t.Errorf("called %d times, says %q", called, said)
	}
	b.Do(func(place.Answer) model.Command { return people.Remove{ID: model.PersonID{ID: id}} }, nil)
	uitest.Tap(t, b.top(), "Try again")
	if called != 1 || b.Window().Canvas().Overlays().Top() != nil {
		t.Errorf("tried again: called %d times, says %q", called, b.said())
	}
}

// What was left of an erasing is done when the collection is opened, before the
// backup; where it fails again, the backup is made all the same.
func TestAtOpeningTheFileIsWrittenAnewWhereItIsStillToBeDone(t *testing.T) {
	var did []string
	fails := errors.New("the disk is gone")
	b := open(t, uitest.Looks()[0], "en", func(o *shell.Options) {
		inner := o.Open
		o.Open = func(ctx context.Context, folder string, over bool, early func(shell.Session)) (shell.Session, error) {
			s, err := inner(ctx, folder, over, early)
			s.ToCompact = true
			s.Compact = func(context.Context) error { did = append(did, "compact"); return fails }
			s.After = []shell.Job{{Doing: "window.backup.doing", Failed: "window.fault.backup", Do: func(context.Context, func(float64)) error { did = append(did, "backup"); return nil }}}
			return s, err
		}
	})
	b.Start(room, false)
	if got := strings.Join(did, " "); got != "compact backup" || !strings.Contains(b.said(), "could not be written anew") {
		t.Errorf("did %q, says %q", got, b.said())
	}
	fails = nil
	uitest.Tap(t, b.top(), "Try again")
	if got := strings.Join(did, " "); got != "compact backup compact" || b.Window().Canvas().Overlays().Top() != nil {
		t.Errorf("tried again: did %q, says %q", got, b.said())
	}
}

// The work after opening is told in its own words, whatever the collection is.
func TestWorkAfterOpeningHasItsOwnWords(t *testing.T) {
	b := open(t, uitest.Looks()[0], "en", func(o *shell.Options) {
		inner := o.Open
		o.Open = func(ctx context.Context, folder string, over bool, early func(shell.Session)) (shell.Session, error) {
			s, err := inner(ctx, folder, over, early)
			s.After = []shell.Job{{Doing: "demo.photos.doing", Failed: "demo.photos.failed", Do: func(context.Context, func(float64)) error { return errors.New("no room") }}}
			return s, err
		}
	})
	b.Start(room, false)
	if said := b.said(); !strings.Contains(said, b.Text().Say("demo.photos.failed")) || strings.Contains(said, b.Text().Say("window.fault.backup")) {
		t.Errorf("says %q", said)
	}
}

func TestTheListOfBackupsSaysWhereWhenAndHowMuch(t *testing.T) {
	b := open(t, uitest.Looks()[0], "en", nil)
	b.Start(room, false)
	content := b.Window().Canvas().Content()
	for _, want := range []string{"read back whole, at both places · animals 12, entries 3400", "not read back", "read back whole, at the second place", "the collection before a backup took its place"} {
		if !uitest.Shows(content, want) {
			t.Errorf("says %q, want %q in it", uitest.Texts(content), want)
		}
	}
}

// A backup that holds nothing says so; one that could not be counted says nothing
// and is counted when the page is gone to again.
func TestABackupThatCouldNotBeCountedIsCountedLater(t *testing.T) {
	b := open(t, uitest.Looks()[0], "en", nil)
	broken, tried := true, 0
	b.kept.holds = func(one place.Backup) (comparing.Side, error) {
		switch {
		case one.Path != "/backups/1.db":
			return comparing.Side{}, nil
		case broken:
			tried++
			return comparing.Side{}, errors.New("the disk is gone")
		}
		return comparing.Side{Animals: 7, Entries: 70}, nil
	}
	b.Start(room, false)
	content := b.Window().Canvas().Content()
	if tried != 1 || uitest.Shows(content, "at both places · animals") || !uitest.Shows(content, "not read back · animals 0, entries 0") {
		t.Errorf("tried %d times, says %q", tried, uitest.Texts(content))
	}
	broken = false
	b.Go(place.Route{To: place.Settings})
	if !uitest.Shows(b.Window().Canvas().Content(), "at both places · animals 7, entries 70") {
		t.Errorf("gone to again, says %q", uitest.Texts(b.Window().Canvas().Content()))
	}
}

// Counting that was stopped begins again when the page is gone to again, and never
// twice at once.
func TestCountingThatWasStoppedBeginsAgain(t *testing.T) {
	var waiting []func()
	b := open(t, uitest.Looks()[0], "en", func(o *shell.Options) {
		o.Begin = func(work func()) { waiting = append(waiting, work) }
	})
	next := func() {
		t.Helper()
		if len(waiting) != 1 {
			t.Fatalf("%d things are to be done", len(waiting))
		}
		work := waiting[0]
		waiting = nil
		work()
	}
	b.Start(room, false)
	next() // it is opened
	b.Go(place.Route{To: place.Settings})
	uitest.Tap(t, b.Window().Canvas().Content(), "Stop")
	next()
	if len(waiting) != 0 || uitest.Shows(b.Window().Canvas().Content(), "entries 3400") {
		t.Errorf("stopped: %d are to be done, says %q", len(waiting), uitest.Texts(b.Window().Canvas().Content()))
	}
	b.Go(place.Route{To: place.Settings})
	next()
	if !uitest.Shows(b.Window().Canvas().Content(), "entries 3400") {
		t.Errorf("gone to again, says %q", uitest.Texts(b.Window().Canvas().Content()))
	}
}

func TestEveryTypeOfDocumentHasItsWord(t *testing.T) {
	for _, language := range uitest.Languages() {
		text := open(t, uitest.Looks()[0], language, nil).Text()
		for _, kind := range model.DocumentTypes() {
			if key := "keeping.type." + string(kind); !text.Has(key) {
				t.Errorf("%s: %s has no text", language, key)
			}
		}
	}
}
