package signing_test

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"coilward/export/handover"
	"coilward/model"
	"coilward/model/collection"
	"coilward/model/storetest"
	"coilward/ui/look"
	"coilward/ui/place"
	"coilward/ui/settings"
	"coilward/ui/uitest"
)

// kept is a collection whose backups lie at two places.
type kept struct {
	uitest.Unkept
	here, there string
	away        error // why nothing comes to the second place
	fails       error // why nothing comes to either
	unseen      error // why copies cannot be listed, but for those of the first place
}

func (k *kept) Folder() string                { return k.here }
func (k *kept) Second() (place.Second, error) { return place.Second{Folder: k.there}, nil }
func (k *kept) KeyCopies() (all []place.KeyCopy, err error) {
	folders := []string{k.here, k.there}
	if k.unseen != nil {
		folders = folders[:1]
	}
	for i, folder := range folders {
		paths, err := filepath.Glob(filepath.Join(folder, "*.age"))
		if err != nil {
			return nil, err
		}
		for _, path := range paths {
			all = append(all, place.KeyCopy{Path: path, Written: model.MomentOf(storetest.Start()), Second: i == 1, Good: true})
		}
	}
	return all, k.unseen
}
func (k *kept) KeepKeyCopy(name string, raw []byte) error {
	if k.fails != nil {
		return k.fails
	}
	if err := os.WriteFile(filepath.Join(k.here, name), raw, 0o600); err != nil || k.away != nil {
		return errors.Join(err, k.away)
	}
	return os.WriteFile(filepath.Join(k.there, name), raw, 0o600)
}

type bench struct {
	*uitest.Opened
	kept *kept
	path string // of the key
}

// opened is the page of settings; before may lay a key.
func opened(t *testing.T, language string, before func(b *bench)) *bench {
	t.Helper()
	b := &bench{kept: &kept{here: t.TempDir(), there: t.TempDir()}, path: filepath.Join(t.TempDir(), "settings", "signing-key")}
	if before != nil {
		before(b)
	}
	b.Opened = uitest.Open(t, uitest.Setting{Look: uitest.Look{Shine: look.ByDay, Width: 1280, Height: 800, Scale: 1}, Language: language, Keeping: b.kept,
		Fill: func(*collection.Collection) {}, Place: place.Settings, Make: func(w place.Window) place.Place { return settings.New(w).SignWith(b.path) }})
	b.Go(place.Route{To: place.Settings})
	return b
}

func (b *bench) say(key string, gaps ...map[string]any) string { return b.Text().Say(key, gaps...) }

// tap presses a button of the page, and answer one of the sheet over it.
func (b *bench) tap(key string)    { b.T.Helper(); uitest.Tap(b.T, b.Content(), b.say(key)) }
func (b *bench) answer(key string) { b.T.Helper(); uitest.Tap(b.T, uitest.Top(b.Canvas()), b.say(key)) }

func (b *bench) typed(text string) { uitest.Type(b.Canvas(), text) }
func (b *bench) enter()            { uitest.Key(b.Canvas(), fyne.KeyReturn) }
func (b *bench) escape()           { uitest.Key(b.Canvas(), fyne.KeyEscape) }

func (b *bench) asks(key string, gaps ...map[string]any) bool {
	return b.Canvas().Overlays().Top() != nil && uitest.Shows(uitest.Top(b.Canvas()), b.say(key, gaps...))
}

func (b *bench) key() handover.Key {
	b.T.Helper()
	k, err := handover.ReadKey(b.path)
	if err != nil {
		b.T.Fatal(err)
	}
	return k
}

func lay(t *testing.T, path string) handover.Key {
	t.Helper()
	k, _, err := handover.KeyIn(path, model.NewDay(2027, 3, 3))
	if err != nil {
		t.Fatal(err)
	}
	return k
}

func lock(t *testing.T, folder string, k handover.Key, passphrase string) {
	t.Helper()
	raw, err := handover.Lock(k, passphrase)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(folder, handover.CopyName(k.Public())), raw, 0o600); err != nil {
		t.Fatal(err)
	}
}

func fresh(t *testing.T) handover.Key {
	t.Helper()
	k, err := handover.NewKey()
	if err != nil {
		t.Fatal(err)
	}
	return k
}

const phrase, other = "seven warm stones by night", "nine cool stones by day"

// The key is made in the settings with its copy at both places; the card tells both. What
// is too short, or soon guessed, is said at the field and stays there.
func TestTheKeyIsMadeWithItsCopy(t *testing.T) {
	b := opened(t, "en", nil)
	if !b.Shows(b.say("signing.none")) || !b.Shows(b.say("signing.copy.nowhere")) || !b.Shows(b.say("signing.lost.no-key")) {
		t.Fatalf("%q", uitest.Texts(b.Content()))
	}
	least := map[string]any{"Least": handover.LeastPassphrase}
	b.tap("signing.make")
	if !b.asks("signing.passphrase.what", least) {
		t.Errorf("how long it has to be is not said before: %q", uitest.Texts(uitest.Top(b.Canvas())))
	}
	b.typed("too short")
	b.enter()
	if !b.asks("signing.passphrase.short", least) {
		t.Fatalf("%q", uitest.Texts(uitest.Top(b.Canvas())))
	}
	b.typed(", and soon long enough")
	if b.asks("signing.passphrase.short", least) {
		t.Error("what stands there now is long enough, and is still refused")
	}
	b.enter()
	k := b.key()
	if b.Canvas().Overlays().Top() != nil || k.Made() != b.Now().Day() {
		t.Errorf("made on %v", k.Made())
	}
	for _, said := range []string{k.Public().Fingerprint(), b.say("signing.made", map[string]any{"Day": k.Made()}), b.path, b.say("signing.copy.anew")} {
		if !b.Shows(said) {
			t.Errorf("%q is not shown: %q", said, uitest.Texts(b.Content()))
		}
	}
	path := func(folder string) string { return filepath.Join(folder, handover.CopyName(k.Public())) }
	if back, err := handover.ReadCopy(path(b.kept.here), "too short, and soon long enough"); err != nil || !back.Same(k) {
		t.Errorf("the copy: %v", err)
	}
	here, err := os.ReadFile(path(b.kept.here))
	if there, unread := os.ReadFile(path(b.kept.there)); err != nil || unread != nil || !bytes.Equal(here, there) {
		t.Errorf("the second place has another: %v, %v", err, unread)
	}
	if !b.Shows(path(b.kept.here)) || !b.Shows(path(b.kept.there)) {
		t.Errorf("where they lie is not shown: %q", uitest.Texts(b.Content()))
	}
}

// Without a copy the card warns; Escape makes nothing.
func TestAKeyWithoutACopyIsWarnedOf(t *testing.T) {
	b := opened(t, "en", nil)
	b.tap("signing.make")
	b.typed(phrase)
	b.escape()
	if _, err := handover.ReadKey(b.path); !errors.Is(err, fs.ErrNotExist) {
		t.Fatalf("left: %v", err)
	}
	b.tap("signing.make")
	b.answer("signing.make.without")
	if !b.Shows(b.key().Public().Fingerprint()) || !b.Shows(b.say("signing.copy.none")) {
		t.Errorf("%q", uitest.Texts(b.Content()))
	}
}

// A copy is made when it is wanted, and once more with another passphrase; the older opens
// nothing then.
func TestACopyIsMadeAnew(t *testing.T) {
	b := opened(t, "en", func(b *bench) { lay(t, b.path) })
	path := filepath.Join(b.kept.there, handover.CopyName(b.key().Public()))
	b.tap("signing.copy.make")
	if b.asks("signing.copy.replaces") {
		t.Error("it replaces none")
	}
	b.typed(strings.Repeat("ab", 20))
	b.enter()
	if !b.asks("signing.passphrase.same") {
		t.Fatalf("%q", uitest.Texts(uitest.Top(b.Canvas())))
	}
	b.typed(phrase)
	b.enter()
	if back, err := handover.ReadCopy(path, strings.Repeat("ab", 20)+phrase); err != nil || !back.Same(b.key()) {
		t.Fatal(err)
	}
	b.tap("signing.copy.anew")
	if !b.asks("signing.copy.replaces") {
		t.Error("that it replaces the other is not said")
	}
	b.typed(other)
	b.answer("signing.copy.make")
	if _, err := handover.ReadCopy(path, phrase); !errors.Is(err, handover.ErrPassphrase) {
		t.Errorf("the older: %v", err)
	}
	if back, err := handover.ReadCopy(path, other); err != nil || !back.Same(b.key()) {
		t.Error(err)
	}
}

// A copy that did not come to the second place, or nowhere, is told as what it is.
func TestACopyThatIsNotMade(t *testing.T) {
	b := opened(t, "en", func(b *bench) { lay(t, b.path) })
	b.kept.fails = errors.New("the disk is gone")
	b.tap("signing.copy.make")
	b.typed(phrase)
	b.enter()
	if !b.asks("signing.copy.failed") {
		t.Fatalf("%q", uitest.Texts(uitest.Top(b.Canvas())))
	}
	b.escape()
	b.kept.fails, b.kept.away = nil, &model.Refusal{Field: "second", Value: "/stick", Reason: "second.away", Answer: model.Mend}
	b.tap("signing.copy.make")
	b.typed(phrase)
	b.enter()
	if !b.asks("signing.copy.here-alone") {
		t.Fatalf("%q", uitest.Texts(uitest.Top(b.Canvas())))
	}
	b.escape()
	if !b.Shows(b.say("signing.copy.not-there")) {
		t.Errorf("%q", uitest.Texts(b.Content()))
	}
}

// Of a second place that cannot be looked at it is not said that it has no copy.
func TestTheSecondPlaceIsUnseen(t *testing.T) {
	away := &model.Refusal{Field: "second", Value: "/stick", Reason: "second.away", Answer: model.Mend}
	for name, c := range map[string]struct {
		key, copied bool
		said        []string
	}{
		"no key":    {false, false, []string{"signing.copy.nowhere", "signing.copy.unseen"}},
		"no copy":   {true, false, []string{"signing.copy.unseen-none"}},
		"copy here": {true, true, []string{"signing.copy.unseen"}},
	} {
		b := opened(t, "de", func(b *bench) {
			b.kept.unseen = errors.Join(away, errors.New("no such folder"))
			if !c.key {
				return
			}
			k := lay(t, b.path)
			if c.copied {
				lock(t, b.kept.here, k, phrase)
			}
		})
		for _, said := range c.said {
			if !b.Shows(b.say(said, map[string]any{"Folder": b.kept.there})) {
				t.Errorf("%s: %s is not said: %q", name, said, uitest.Texts(b.Content()))
			}
		}
		for _, not := range []string{"signing.copy.none", "signing.copy.not-there"} {
			if b.Shows(b.say(not)) {
				t.Errorf("%s: %s is said", name, not)
			}
		}
	}
}

// Why copies or earlier keys cannot be listed is said in the words of the window.
func TestWhatCannotBeListed(t *testing.T) {
	b := opened(t, "de", func(b *bench) {
		lay(t, b.path)
		if err := os.Mkdir(b.path+"-before-0000", 0o700); err != nil {
			t.Fatal(err)
		}
		b.kept.unseen = &model.Refusal{Field: "collection", Value: "/backups", Reason: "collection.forbidden", Answer: model.Mend}
	})
	for _, reason := range []string{
		b.Text().Refusal((&handover.KeyFault{Path: b.path + "-before-0000", Why: handover.KeyKind}).Refusal()),
		b.Text().Refusal(b.kept.unseen.(*model.Refusal)),
	} {
		if said := b.say("signing.unlisted", map[string]any{"Reason": reason}); !b.Shows(said) || strings.Contains(said, "..") || strings.Contains(said, ".:") {
			t.Errorf("%q is not shown: %q", said, uitest.Texts(b.Content()))
		}
	}
}

// On a computer without a key it is brought back: a wrong passphrase is said at the field.
func TestTheKeyIsBroughtBack(t *testing.T) {
	k := fresh(t)
	b := opened(t, "en", func(b *bench) { lock(t, b.kept.there, k, phrase) })
	if !b.Shows(b.say("signing.copy.of", map[string]any{"Key": k.Public().Fingerprint()})) {
		t.Fatalf("%q", uitest.Texts(b.Content()))
	}
	b.tap("signing.make")
	if !b.asks("signing.make.despite") {
		t.Errorf("that a copy lies there is not said: %q", uitest.Texts(uitest.Top(b.Canvas())))
	}
	b.escape()
	b.tap("signing.back")
	b.enter()
	if !b.asks("signing.passphrase.none") {
		t.Errorf("%q", uitest.Texts(uitest.Top(b.Canvas())))
	}
	b.typed("seven warm stones")
	b.enter()
	if !b.asks("signing.passphrase.wrong") {
		t.Fatalf("%q", uitest.Texts(uitest.Top(b.Canvas())))
	}
	b.typed(" by night")
	b.enter()
	if !b.key().Same(k) || !b.asks("signing.back.done") {
		t.Errorf("%q", uitest.Texts(uitest.Top(b.Canvas())))
	}
	b.escape()
	if !b.Shows(b.say("signing.copy.written", map[string]any{"When": model.MomentOf(storetest.Start())})) {
		t.Errorf("%q", uitest.Texts(b.Content()))
	}
}

// Of copies of two keys one is chosen. Where another key is in use it asks first, and that
// one can be used again.
func TestAnotherKeyIsBroughtBack(t *testing.T) {
	was, k := handover.Key{}, fresh(t)
	b := opened(t, "en", func(b *bench) {
		was = lay(t, b.path)
		lock(t, b.kept.here, k, phrase)
		lock(t, b.kept.here, was, other)
	})
	bring := func() {
		t.Helper()
		b.tap("signing.back")
		b.typed(k.Public().Fingerprint()[:9])
		b.enter()
		b.typed(phrase)
		b.enter()
		if !b.asks("signing.put.what", map[string]any{"Key": k.Public().Fingerprint(), "Was": was.Public().Fingerprint()}) {
			t.Fatalf("%q", uitest.Texts(uitest.Top(b.Canvas())))
		}
	}
	bring()
	b.escape()
	if !b.key().Same(was) {
		t.Fatal("it was not asked")
	}
	bring()
	b.answer("signing.put.do")
	b.escape()
	if !b.key().Same(k) || !b.Shows(was.Public().Fingerprint()) {
		t.Fatalf("%q", uitest.Texts(b.Content()))
	}
	b.tap("signing.again")
	b.answer("signing.put.do")
	b.escape()
	if !b.key().Same(was) || !b.Shows(k.Public().Fingerprint()) {
		t.Errorf("%q", uitest.Texts(b.Content()))
	}
}

// Another key follows one that somebody else may have; the old one stays among the earlier.
func TestAnotherKeyIsMade(t *testing.T) {
	b := opened(t, "en", func(b *bench) { lay(t, b.path) })
	was := b.key()
	b.tap("signing.new")
	if !b.asks("signing.new.was", map[string]any{"Key": was.Public().Fingerprint()}) || !b.asks("signing.new.what") {
		t.Fatalf("%q", uitest.Texts(uitest.Top(b.Canvas())))
	}
	b.escape()
	if !b.key().Same(was) {
		t.Fatal("it was not asked")
	}
	b.tap("signing.new")
	b.typed(phrase)
	b.enter()
	now := b.key()
	if now.Same(was) || !b.Shows(now.Public().Fingerprint()) || !b.Shows(was.Public().Fingerprint()) {
		t.Errorf("%q", uitest.Texts(b.Content()))
	}
	if back, err := handover.ReadCopy(filepath.Join(b.kept.here, handover.CopyName(now.Public())), phrase); err != nil || !back.Same(now) {
		t.Error(err)
	}
}

// Two programs at once: the key that the other has made meanwhile stays.
func TestAnotherProgramWasFaster(t *testing.T) {
	b := opened(t, "en", nil)
	b.tap("signing.make")
	k := lay(t, b.path)
	b.typed(phrase)
	b.enter()
	if !b.key().Same(k) || !b.asks("signing.another") {
		t.Errorf("%q", uitest.Texts(uitest.Top(b.Canvas())))
	}
	b.escape()
	if !b.Shows(k.Public().Fingerprint()) {
		t.Errorf("%q", uitest.Texts(b.Content()))
	}
}

// A damaged file is named, with what to do, and both ways out of it stand there.
func TestADamagedKey(t *testing.T) {
	k := fresh(t)
	b := opened(t, "en", func(b *bench) {
		if err := os.MkdirAll(filepath.Dir(b.path), 0o700); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(b.path, []byte("spoilt"), 0o600); err != nil {
			t.Fatal(err)
		}
		lock(t, b.kept.here, k, phrase)
	})
	if !b.Shows(b.say("refusal.key.damaged", map[string]any{"Path": b.path})) {
		t.Fatalf("%q", uitest.Texts(b.Content()))
	}
	b.tap("signing.back")
	b.typed(phrase)
	b.enter()
	if !b.key().Same(k) {
		t.Errorf("%q", uitest.Texts(uitest.Top(b.Canvas())))
	}
	if raw, err := os.ReadFile(b.path + "-before-damaged"); err != nil || string(raw) != "spoilt" {
		t.Errorf("the damaged file: %q, %v", raw, err)
	}
}

// What is no file is not replaced; it is looked at again when it was moved away.
func TestAKeyThatIsNoFile(t *testing.T) {
	b := opened(t, "en", func(b *bench) {
		if err := os.MkdirAll(b.path, 0o700); err != nil {
			t.Fatal(err)
		}
	})
	if !b.Shows(b.say("refusal.key.kind", map[string]any{"Path": b.path})) || b.Shows(b.say("signing.make")) {
		t.Fatalf("%q", uitest.Texts(b.Content()))
	}
	if err := os.Remove(b.path); err != nil {
		t.Fatal(err)
	}
	b.tap("signing.look-again")
	if !b.Shows(b.say("signing.make")) {
		t.Errorf("%q", uitest.Texts(b.Content()))
	}
}

// The sample has no key of its own to keep.
func TestTheSampleKeepsNoKey(t *testing.T) {
	b := opened(t, "en", func(b *bench) { b.kept.here = "" })
	if !b.Shows(b.say("signing.sample")) || b.Shows(b.say("signing.make")) {
		t.Errorf("%q", uitest.Texts(b.Content()))
	}
}

// The card is whole in the smallest usual window, in both languages, with all that it may
// tell.
func TestTheCardFits(t *testing.T) {
	for _, language := range []string{"en", "de"} {
		b := opened(t, language, func(b *bench) {
			k := lay(t, b.path)
			if _, err := handover.ReplaceKey(b.path, fresh(t), k); err != nil {
				t.Fatal(err)
			}
			lock(t, b.kept.here, k, phrase)
		})
		for _, said := range uitest.Clipped(b.Content(), fyne.NewSize(1280, 800)) {
			t.Errorf("%s: %s", language, said)
		}
		for _, press := range []string{"signing.copy.make", "signing.back", "signing.new"} {
			b.tap(press)
			for _, said := range uitest.Clipped(uitest.Top(b.Canvas()), fyne.NewSize(1280, 800)) {
				t.Errorf("%s, %s: %s", language, press, said)
			}
			b.escape()
		}
	}
}
