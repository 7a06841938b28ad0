package shell_test

import (
	"context"
	"errors"
	"fmt"
	"testing"
	"time"

	"fyne.io/fyne/v2"

	"coilward/assets"
	"coilward/model"
	"coilward/model/collection"
	"coilward/model/comparing"
	"coilward/model/knowledge"
	"coilward/model/people"
	"coilward/model/storetest"
	"coilward/model/wording"
	"coilward/ui/first"
	"coilward/ui/place"
	"coilward/ui/settings"
	"coilward/ui/shell"
	"coilward/ui/uitest"
)

// kept is a collection in memory that says it lies in a folder.
type kept struct {
	uitest.Unkept
	made    int
	differs comparing.Summary
	second  place.Second
	chosen  []string // folders as second places
	brought int
	fails   error // of bringing
	holds   func(place.Backup) (comparing.Side, error)

	examined place.Examined
}

func (*kept) Folder() string { return "/collections/Old Mill" }
func (*kept) Backups() ([]place.Backup, error) {
	at := model.MomentOf(time.Date(2027, 6, 8, 21, 30, 0, 0, time.UTC))
	return []place.Backup{{Path: "/backups/1.db", At: at, Bytes: 3_400_000, Verified: true, Here: true, Second: true}, {Path: "/backups/2.db", At: at, Bytes: 3_300_000, Here: true},
		{Path: "/stick/3.db", At: at, Bytes: 3_200_000, Verified: true, Second: true}, {Path: "/backups/replaced.db", At: at, Bytes: 3_100_000, Here: true, Aside: true}}, nil
}
func (k *kept) Backup() error                 { k.made++; return nil }
func (k *kept) Second() (place.Second, error) { return k.second, nil }
func (k *kept) ChooseSecond(folder string) error {
	k.chosen = append(k.chosen, folder)
	k.second = place.Second{Folder: folder}
	return nil
}
func (k *kept) Holds(b place.Backup) (comparing.Side, error) {
	if k.holds != nil {
		return k.holds(b)
	}
	return comparing.Side{Animals: 12, Entries: 3400}, nil
}
func (k *kept) BringSecond(context.Context) error { k.brought++; return k.fails }
func (k *kept) Examine(_ context.Context, progress func(float64)) (place.Examined, error) {
	progress(1)
	return k.examined, k.fails
}
func (k *kept) Compare(context.Context, place.Backup) (comparing.Summary, error) {
	return k.differs, nil
}

type bench struct {
	*shell.Shell
	c     *collection.Collection
	kept  *kept
	clock *storetest.Clock
}

// open shows a window over an empty collection; everything runs at once.
func open(t *testing.T, l uitest.Look, language string, change func(*shell.Options)) bench {
	t.Helper()
	app := uitest.App(t, l)
	languages, err := wording.Load(assets.Text())
	if err != nil {
		t.Fatal(err)
	}
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	c, clock := storetest.New(t)
	b := bench{c: c, kept: &kept{}, clock: clock}
	o := shell.Options{
		App: app, Languages: languages, Tables: tables, Now: clock.Now, Forced: language,
		Places: []shell.Room{{Name: place.Settings, Icon: "settings", Key: "window.settings", Foot: true, Make: func(w place.Window) place.Place { return settings.New(w) }}},
		First: func(w place.Window, begin shell.Beginning) fyne.CanvasObject {
			return first.Page(w, first.Choices{Suggested: begin.Suggested, Empty: begin.Empty, Sample: begin.Sample})
		},
		Suggested: "/collections/Old Mill",
		Open: func(context.Context, string, bool, func(shell.Session)) (shell.Session, error) {
			return shell.Session{Collection: c, Keeping: b.kept, Name: "Old Mill"}, nil
		},
		Sample: func(context.Context, *wording.Text) (shell.Session, error) {
			return shell.Session{}, errors.New("no sample in this test")
		},
		Begin: func(work func()) { work() }, Post: func(say func()) { say() },
	}
	if change != nil {
		change(&o)
	}
	app.Preferences().SetString("shine", string(l.Shine))
	b.Shell = shell.New(o)
	uitest.Dress(b.Window(), l)
	return b
}

func everyLook(t *testing.T, check func(t *testing.T, l uitest.Look, language string)) {
	for _, language := range uitest.Languages() {
		for _, l := range uitest.LooksIn(language) {
			t.Run(fmt.Sprintf("%s %s %.0f at %.0f", language, l.Shine, l.Width, l.Scale), func(t *testing.T) { check(t, l, language) })
		}
	}
}

func assertFits(t *testing.T, b bench, l uitest.Look) {
	t.Helper()
	for _, fault := range uitest.Clipped(b.Window().Canvas().Content(), fyne.NewSize(l.Width, l.Height)) {
		t.Error(fault)
	}
}

func TestFirstPageFits(t *testing.T) {
	everyLook(t, func(t *testing.T, l uitest.Look, language string) {
		b := open(t, l, language, nil)
		b.Start("", false)
		assertFits(t, b, l)
	})
}

func TestSettingsFit(t *testing.T) {
	everyLook(t, func(t *testing.T, l uitest.Look, language string) {
		b := open(t, l, language, nil)
		b.Start("/collections/Old Mill", false)
		assertFits(t, b, l)
	})
}

func TestStartEmptyOpensTheFolderAndRemembersIt(t *testing.T) {
	var opened string
	b := open(t, uitest.Looks()[0], "en", func(o *shell.Options) {
		inner := o.Open
		o.Open = func(ctx context.Context, folder string, over bool, early func(shell.Session)) (shell.Session, error) {
			opened = folder
			return inner(ctx, folder, over, early)
		}
	})
	b.Start("", false)
	uitest.Tap(t, b.Window().Canvas().Content(), "Start")
	if opened != "/collections/Old Mill" || b.Settings().Folder != opened || b.Collection() != b.c {
		t.Errorf("opened %q, remembered %q", opened, b.Settings().Folder)
	}
}

func TestWhatWasNotedCanBeUndoneFromTheBar(t *testing.T) {
	b := open(t, uitest.Looks()[0], "en", nil)
	b.Start("/collections/Old Mill", false)
	b.Do(func(place.Answer) model.Command { return people.Add{Person: people.Person{Name: "Wren Alder"}} }, func(err error) {
		if err != nil {
			t.Fatal(err)
		}
	})
	content := b.Window().Canvas().Content()
	if !uitest.Shows(content, "Wren Alder") {
		t.Fatalf("the bar does not name what was noted: %q", uitest.Texts(content))
	}
	uitest.Tap(t, content, "Undo")
	if _, ok := b.c.CanUndo(); ok || !uitest.Shows(content, "Undone: ") || !uitest.Shows(content, "Wren Alder") {
		t.Errorf("undone, but the bar says %q", uitest.Texts(content))
	}
}

// asks is a command that asks until it has heard yes.
type asks struct {
	answer    model.Answer
	confirmed model.Confirmed
	again     string
}

func (asks) Name() string { return "test.asks" }

func (a asks) Plan(v model.View) (model.Writes, error) {
	if a.answer != "" && !a.confirmed.Has("mass.apart") && a.again != "4200" {
		return model.Writes{}, &model.Refusal{Field: "mass", Value: "4200", Reason: "mass.apart", Answer: a.answer}
	}
	return people.Add{Person: people.Person{Name: "Wren Alder"}}.Plan(v)
}

func TestDoAsksWhereTheCommandAsks(t *testing.T) {
	for _, c := range []struct {
		name   string
		answer model.Answer
		act    func(t *testing.T, canvas fyne.Canvas)
		noted  bool
		err    error
	}{
		{"yes", model.Confirm, func(t *testing.T, c fyne.Canvas) { uitest.Tap(t, uitest.Top(c), "Yes, it is so") }, true, nil},
		{"Enter", model.Confirm, func(_ *testing.T, c fyne.Canvas) { uitest.Key(c, fyne.KeyReturn) }, true, nil},
		{"Escape", model.Confirm, func(_ *testing.T, c fyne.Canvas) { uitest.Key(c, fyne.KeyEscape) }, false, place.ErrLeft},
		{"typed again", model.TypeAgain, func(_ *testing.T, c fyne.Canvas) { uitest.Type(c, "4200"); uitest.Key(c, fyne.KeyReturn) }, true, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			b := open(t, uitest.Looks()[0], "en", nil)
			b.Start("/collections/Old Mill", false)
			called, got := 0, error(nil)
			b.Do(func(a place.Answer) model.Command { return asks{c.answer, a.Confirmed, a.Again} }, func(err error) { called, got = called+1, err })
			if called != 0 {
				t.Fatalf("done before it was answered: %v", got)
			}
			b.clock.Pass(time.Second) // it was read
			c.act(t, b.Window().Canvas())
			if _, noted := b.c.CanUndo(); noted != c.noted || called != 1 || !errors.Is(got, c.err) {
				t.Errorf("noted %v, called %d times with %v", noted, called, got)
			}
		})
	}
}

func TestAnotherValueTheSecondTimeAsksAgain(t *testing.T) {
	b := open(t, uitest.Looks()[0], "en", nil)
	b.Start("/collections/Old Mill", false)
	b.Do(func(a place.Answer) model.Command { return asks{model.TypeAgain, a.Confirmed, a.Again} }, nil)
	canvas := b.Window().Canvas()
	uitest.Type(canvas, "420")
	uitest.Key(canvas, fyne.KeyReturn)
	if !uitest.Shows(uitest.Top(canvas), "420") {
		t.Errorf("it does not say what was typed: %q", uitest.Texts(uitest.Top(canvas)))
	}
	if _, noted := b.c.CanUndo(); noted {
		t.Error("noted although the values differ")
	}
}

// open elsewhere, as the store says it.
type elsewhere struct{ reason string }

func (e elsewhere) Error() string { return "open elsewhere" }
func (e elsewhere) Refusal() *model.Refusal {
	return &model.Refusal{Field: "collection", Value: "/collections/Old Mill", Reason: e.reason, Gaps: map[string]model.Gap{"Machine": model.TextGap("millstone")}}
}

func TestACollectionThatCannotBeOpenedSaysWhatToDo(t *testing.T) {
	for _, reason := range []string{"open", "elsewhere", "newer", "readonly", "full", "forbidden", "replaced", "damaged", "missing", "unverified", "unknown"} {
		t.Run(reason, func(t *testing.T) {
			asked := ""
			b := open(t, uitest.Looks()[0], "en", func(o *shell.Options) {
				o.Open = func(context.Context, string, bool, func(shell.Session)) (shell.Session, error) {
					return shell.Session{}, fmt.Errorf("open: %w", elsewhere{"collection." + reason})
				}
				o.Forward = func(folder string) error { asked = folder; return nil }
			})
			b.Start("/collections/Old Mill", false)
			content := b.Window().Canvas().Content()
			assertFits(t, b, uitest.Looks()[0])
			if uitest.Shows(content, "⟦") || !uitest.Shows(content, "Another folder") {
				t.Errorf("the page says %q", uitest.Texts(content))
			}
			if reason == "open" {
				uitest.Tap(t, content, "Bring it forward")
				if asked != "/collections/Old Mill" {
					t.Errorf("asked %q to come forward", asked)
				}
			}
		})
	}
}

func TestWhileItIsCheckedNothingIsNoted(t *testing.T) {
	b := open(t, uitest.Looks()[0], "de", nil)
	b.Start("/collections/Old Mill", false)
	b2 := open(t, uitest.Looks()[0], "de", func(o *shell.Options) {
		o.Open = func(_ context.Context, _ string, _ bool, early func(shell.Session)) (shell.Session, error) {
			return shell.Session{Collection: b.c, Keeping: b.kept, Name: "Old Mill", Checking: true}, nil
		}
	})
	b2.Start("/collections/Old Mill", false)
	var got error
	b2.Do(func(place.Answer) model.Command { return people.Add{Person: people.Person{Name: "Wren Alder"}} }, func(err error) { got = err })
	if _, noted := b.c.CanUndo(); noted || !errors.Is(got, place.ErrLeft) || !b2.ReadOnly() {
		t.Errorf("noted %v, error %v", noted, got)
	}
}
