package tubes_test

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"coilward/ui/look"
	"coilward/ui/uitest"
	"coilward/ui/widgets"
	. "coilward/ui/widgets/tubes"
)

func words() Words {
	return Words{Days: func(n int) string { return fmt.Sprintf("%d days", n) }, Many: func(n int) string { return fmt.Sprintf("%d samples", n) }, Choose: "Choose"}
}

// way is a tray as it stands on a usual day.
func way() []Band {
	return []Band{
		{Title: "To take", Below: "3 samples", Mark: 4, MarkSaid: "take within 4 days", Tubes: []Tube{
			{Key: "a", Name: "Siskin", Line: "Serpentovirus", Act: "take", Days: 0, Mark: 4, Tip: "Siskin: choanal swab"},
			{Key: "b", Name: "Heron", Line: "2 days late", Act: "take", Days: 6, Mark: 4, Sign: Late},
			{Key: "c", Name: "Yarrow", Line: "Serpentovirus", Act: "take", Days: 1, Mark: 4}}},
		{Title: "Taken", Below: "1 sample", Mark: 2, MarkSaid: "post within 2 days", Tubes: []Tube{{Key: "d", Name: "Plover", Line: "2 things looked for", Act: "post", Days: 2, Mark: 2, Chosen: true}}},
		{Title: "Sent", Mark: 3, MarkSaid: "the post takes 3 days"},
		{Title: "At the lab", Below: "3 samples", Mark: 9, MarkSaid: "the lab takes 9 days", Tubes: []Tube{
			{Key: "e", Name: "Rowan", Line: "Cryptosporidium serpentis", Act: "enter", Days: 3, Mark: 9},
			{Key: "f", Name: "Kestrel, Teasel", Line: "Serpentovirus", Act: "enter", Days: 9, Mark: 14},
			{Key: "g", Name: "Wren, Linnet, Sedge", Line: "7 days late", Act: "ask the lab", Days: 16, Mark: 9, Sign: Late}}},
		{Title: "Result in", Below: "4 samples", Tubes: []Tube{
			{Key: "h", Name: "Tansy", Line: "not detected", Days: 0, Sign: NotFound}, {Key: "i", Name: "Sorrel", Line: "detected", Days: 2, Sign: Found},
			{Key: "j", Name: "Juniper", Line: "not detected", Days: 8, Sign: NotFound}, {Key: "k", Name: "Mallow", Line: "inconclusive", Days: 14, Sign: NoAnswer}}},
	}
}

// many is a tray of n samples, spread over all stages.
func many(n int) []Band {
	bands := way()
	for i := range bands {
		bands[i].Tubes = nil
	}
	for i := range n {
		b := &bands[i%5]
		t := Tube{Key: fmt.Sprint("s", i), Name: fmt.Sprint("Animal ", i), Line: "Serpentovirus", Days: i * 7 % 29, Mark: b.Mark}
		if i%5 < 4 {
			t.Act = "act"
		}
		if b.Mark > 0 && t.Days > b.Mark {
			t.Sign = Late
		}
		if i == 104 {
			t.Sign = Found
		}
		b.Tubes = append(b.Tubes, t)
	}
	return bands
}

func show(t testing.TB, l uitest.Look, bands []Band) (*Tray, fyne.Window) {
	t.Helper()
	uitest.App(t, l)
	tray := New(words())
	w := test.NewTempWindow(t, widgets.Stack(widgets.Filled(look.Paper, 0), widgets.Pad(tray, 24)))
	w.SetPadded(false)
	uitest.Dress(w, l)
	tray.Set(bands)
	return tray, w
}

func plain() uitest.Look {
	return uitest.Look{Shine: look.ByDay, Width: 1180, Height: 700, Scale: 1}
}

func TestDistanceIsTime(t *testing.T) {
	tray, _ := show(t, plain(), way())
	x := func(key string) float32 {
		at, _, ok := tray.PlaceOf(key)
		if !ok {
			t.Fatalf("no tube %s", key)
		}
		return at.X
	}
	day := (x("b") - x("a")) / 6
	for key, days := range map[string]float32{"c": 1, "d": 2, "e": 3, "f": 9, "g": 16, "k": 14} {
		if off := x(key) - x("a") - days*day; off > 1 || off < -1 {
			t.Errorf("%s stands %.1f px from day %.0f", key, off, days)
		}
	}
	if x("g") <= x("f") {
		t.Error("what is late stands before its mark")
	}
}

func TestNoTubeLiesOnAnother(t *testing.T) {
	for _, l := range []uitest.Look{plain(), {Shine: look.ByNight, Width: 760, Height: 700, Scale: 2}} {
		tray, _ := show(t, l, many(60))
		type lies struct {
			at   fyne.Position
			size fyne.Size
		}
		seen := map[fyne.Position]bool{}
		var all []lies
		for i := range 60 {
			at, size, ok := tray.PlaceOf(fmt.Sprint("s", i))
			if !ok {
				t.Fatalf("sample %d is nowhere", i)
			}
			if !seen[at] {
				seen[at], all = true, append(all, lies{at, size})
			}
		}
		for i, a := range all {
			for _, b := range all[:i] {
				if a.at.X < b.at.X+b.size.Width && b.at.X < a.at.X+a.size.Width && a.at.Y < b.at.Y+b.size.Height && b.at.Y < a.at.Y+a.size.Height {
					t.Errorf("tubes at %v and %v lie on each other", a.at, b.at)
				}
			}
		}
	}
}

func TestManyAreFoldedAndNoneHidden(t *testing.T) {
	tray, w := show(t, plain(), many(200))
	found, folded := 0, map[string]bool{}
	for i := range 200 {
		key := fmt.Sprint("s", i)
		tray.SetCurrent(key)
		keys := tray.Together()
		if !slices.Contains(keys, key) {
			t.Fatalf("sample %d is in no tube", i)
		}
		folded[strings.Join(keys, " ")] = true
		if i == 104 && len(keys) == 1 {
			found++
		}
	}
	if len(folded) > 60 {
		t.Errorf("200 samples lie in %d tubes", len(folded))
	}
	if found != 1 {
		t.Error("what was found is folded among others")
	}
	if !uitest.Shows(w.Content(), "samples") {
		t.Error("no tube says how many it holds")
	}
}

func TestTheKeysReachEveryTube(t *testing.T) {
	tray, w := show(t, plain(), way())
	w.Canvas().Focus(tray)
	uitest.Key(w.Canvas(), fyne.KeyHome)
	seen := map[string]bool{tray.Current(): true}
	for range 20 {
		uitest.Key(w.Canvas(), fyne.KeyRight)
		seen[tray.Current()] = true
	}
	if len(seen) != 11 {
		t.Errorf("the right arrow reaches %d of 11 tubes", len(seen))
	}
	uitest.Key(w.Canvas(), fyne.KeyHome)
	stages := 0
	for last := ""; tray.Current() != last; stages++ {
		last = tray.Current()
		uitest.Key(w.Canvas(), fyne.KeyDown)
	}
	if stages < 4 {
		t.Errorf("the down arrow stops after %d tubes", stages)
	}
}

func TestWhatKeysAndTapsDo(t *testing.T) {
	tray, w := show(t, plain(), way())
	var did []string
	tray.OnAct = func(keys []string) { did = append(did, "act "+strings.Join(keys, "")) }
	tray.OnOpen = func(keys []string) { did = append(did, "open "+strings.Join(keys, "")) }
	tray.OnChoose = func(keys []string, on bool) {
		did = append(did, fmt.Sprint("choose ", strings.Join(keys, ""), " ", on))
	}
	w.Canvas().Focus(tray)
	tray.SetCurrent("c")
	uitest.Key(w.Canvas(), fyne.KeyReturn)
	uitest.Key(w.Canvas(), fyne.KeySpace)
	tray.SetCurrent("d")
	uitest.Key(w.Canvas(), fyne.KeySpace)
	tray.SetCurrent("h") // nothing is next of it: it opens
	uitest.Key(w.Canvas(), fyne.KeyReturn)
	tap := func(key string, from func(at fyne.Position, size fyne.Size) fyne.Position) {
		at, size, _ := tray.PlaceOf(key)
		test.TapCanvas(w.Canvas(), from(at, size).AddXY(24, 24))
	}
	tap("a", func(at fyne.Position, _ fyne.Size) fyne.Position { return at.AddXY(8, 20) })
	tap("a", func(at fyne.Position, _ fyne.Size) fyne.Position { return at.AddXY(60, 20) })
	tap("a", func(at fyne.Position, size fyne.Size) fyne.Position { return at.AddXY(size.Width-24, 20) })
	want := []string{"act c", "choose c true", "choose d false", "open h", "choose a true", "open a", "act a"}
	if !slices.Equal(did, want) {
		t.Errorf("did %q, want %q", did, want)
	}
}

func TestTheKeysStayAtTheirSample(t *testing.T) {
	tray, _ := show(t, plain(), way())
	tray.SetCurrent("f")
	bands := way()
	bands[0].Tubes = bands[0].Tubes[:1]
	tray.Set(bands)
	if tray.Current() != "f" {
		t.Errorf("the keys are at %q", tray.Current())
	}
}

func TestWordsFitInTheTray(t *testing.T) {
	for _, l := range uitest.Looks() {
		l.Width -= 100
		_, w := show(t, l, way())
		for _, said := range uitest.Clipped(w.Content(), fyne.NewSize(l.Width, l.Height)) {
			t.Error(said)
		}
		if folder := os.Getenv("COILWARD_PICTURES"); folder != "" {
			uitest.Keep(t, w, filepath.Join(folder, fmt.Sprintf("tubes-%s-%.0f-%.0f.png", l.Shine, l.Width, l.Scale)))
		}
	}
}

// Two hundred samples are laid out anew.
func BenchmarkTwoHundredSamplesLaidOut(b *testing.B) {
	tray, _ := show(b, uitest.Look{Shine: look.ByDay, Width: 1500, Height: 800, Scale: 1}, nil)
	bands := many(200)
	for b.Loop() {
		tray.Set(bands)
	}
}

// Two hundred samples are laid out, and the whole window is painted anew by the
// painter of the tests.
func BenchmarkTwoHundredSamplesPainted(b *testing.B) {
	tray, w := show(b, uitest.Look{Shine: look.ByDay, Width: 1500, Height: 800, Scale: 1}, nil)
	bands := many(200)
	for b.Loop() {
		tray.Set(bands)
		uitest.Picture(w)
	}
}

// Of many that came on different days, those of one tube came within a day of each
// other while there is room.
func TestOnlyWhatCameTogetherIsFolded(t *testing.T) {
	bands := way()[4:]
	bands[0].Tubes = nil
	days := map[string]int{}
	for i := range 24 {
		key := fmt.Sprint("s", i)
		days[key] = []int{1, 2, 9, 20}[i%4]
		bands[0].Tubes = append(bands[0].Tubes, Tube{Key: key, Name: key, Line: "not detected", Sign: NotFound, Days: days[key]})
	}
	tray, _ := show(t, plain(), bands)
	for key, day := range days {
		tray.SetCurrent(key)
		for _, other := range tray.Together() {
			if apart := days[other] - day; apart < -1 || apart > 1 {
				t.Errorf("%s, %d days old, lies in one tube with %s, %d days old", key, day, other, days[other])
			}
		}
	}
}

// However narrow the tray is, the figures of its line stand apart.
func TestTheFiguresOfTheLineStandApart(t *testing.T) {
	for _, width := range []float32{520, 640, 1000} {
		l := plain()
		l.Width = width
		_, w := show(t, l, way())
		var ends [][2]float32
		uitest.Walk(w.Content(), func(s uitest.Seen) bool {
			if said, is := s.Object.(*widgets.Text); is && strings.HasSuffix(said.Text(), " days") && !strings.Contains(said.Text(), "within") && said.Text()[0] >= '0' && said.Text()[0] <= '9' {
				ends = append(ends, [2]float32{s.Object.Position().X, s.Object.Position().X + look.Note.Width(said.Text())})
			}
			return true
		})
		if len(ends) < 2 {
			t.Errorf("%v wide: %d figures", width, len(ends))
		}
		for i := 1; i < len(ends); i++ {
			if ends[i][0] < ends[i-1][1] {
				t.Errorf("%v wide: a figure begins at %v, the one before ends at %v", width, ends[i][0], ends[i-1][1])
			}
		}
	}
}
