package chances_test

import (
	"slices"
	"strings"
	"testing"

	"coilward/assets"
	"coilward/model"
	"coilward/model/chances"
	"coilward/model/contact"
	"coilward/model/knowledge"
	"coilward/model/samples"
	"coilward/model/wording"
)

// keys are those of some lines, without what all of them begin with.
func keys(lines []chances.Line) (all []string) {
	for _, l := range lines {
		all = append(all, strings.TrimPrefix(strings.TrimPrefix(l.Key, "chance."), "assumes."))
	}
	return all
}

func (w *world) names() chances.Named {
	return chances.Named{Name: "Ash", Others: func(id model.AnimalID) string {
		return map[model.AnimalID]string{w.birch: "Birch", w.elm: "Elm", w.fir: "Fir"}[id]
	}, Rooms: w.read().Room}
}

// lines are all that is said of a chance.
func (w *world) lines(c chances.Chance) []chances.Line {
	n := w.names()
	all := append([]chances.Line{c.Says(n)}, c.Assumes(n)...)
	for _, s := range c.Steps {
		all = append(all, s.Says()...)
	}
	return append(all, c.Follows(n))
}

func TestChance_IsSaidWithWhatItRestsOn(t *testing.T) {
	for name, c := range map[string]struct {
		set     func(w *world)
		assumes []string
		follows string
	}{
		"no sample":    {func(*world) {}, []string{"arrival", "unpublished"}, "act.take-now"},
		"one swab":     {func(w *world) { w.sample("oral-swab", 100, virus, samples.NotDetected, w.ash) }, []string{"arrival", "sight", "latent", "unpublished"}, "act.take-now"},
		"lately":       {func(w *world) { w.sample("oral-swab", 10, virus, samples.NotDetected, w.ash) }, []string{"arrival", "sight", "latent", "unpublished"}, "act.take"},
		"one is mute":  {func(w *world) { w.sample("blood", 100, virus, samples.NotDetected, w.ash) }, []string{"arrival", "unpublished"}, "act.take-now"},
		"its way":      {func(w *world) { w.sample("oral-swab", 3, virus, samples.Pending, w.ash) }, []string{"arrival", "unpublished"}, "act.await"},
		"was detected": {func(w *world) { w.sample("oral-swab", 3, virus, samples.Detected, w.ash) }, []string{"arrival", "sight", "latent", "unpublished"}, "act.vet-sample"},
		"was detected, and a positive is open": {func(w *world) {
			s := w.sample("oral-swab", 3, virus, samples.Detected, w.ash)
			w.do(contact.Open{Tables: w.tables, Sample: s, Agent: virus})
		}, []string{"arrival", "sight", "latent", "unpublished"}, "act.vet"},
		"as low as is wanted if all is as assumed": {func(w *world) {
			for days := range 4 {
				w.sample("oral-swab", 60+50*days, virus, samples.NotDetected, w.ash)
			}
		}, []string{"arrival", "sight", "latent", "share", "unpublished"}, "act.assumed"},
		"the same, and one is laid out": {func(w *world) {
			for days := range 4 {
				w.sample("oral-swab", 60+50*days, virus, samples.NotDetected, w.ash)
			}
			w.do(samples.Prepare{Tables: w.tables, Each: []samples.New{{Animals: []model.AnimalID{w.ash}, Sample: samples.Sample{Material: "oral-swab", For: []knowledge.AgentID{virus}}}}, Confirmed: yes})
		}, []string{"arrival", "sight", "latent", "share", "unpublished"}, "act.laid"},
		"near one": {func(w *world) { w.sample("oral-swab", 3, virus, samples.Detected, w.birch) }, []string{"arrival", "still-positive", "unpublished"}, "act.apart-positive"},
		"two, one a pool": {func(w *world) {
			w.sample("oral-swab", 100, virus, samples.NotDetected, w.ash)
			w.sample("choanal-swab", 100, virus, samples.NotDetected, w.ash, w.fir)
		}, []string{"arrival", "sight", "latent", "share", "pool", "unpublished"}, "act.take-now"},
		"a pool with it": {func(w *world) { w.sample("choanal-swab", 100, virus, samples.Detected, w.ash, w.fir) }, []string{"arrival", "sight", "latent", "pool", "unpublished"}, "act.vet-pool"},
		"a pool with it, and the other was missed before": {func(w *world) {
			w.sample("oral-swab", 150, virus, samples.NotDetected, w.fir)
			w.sample("choanal-swab", 100, virus, samples.Detected, w.ash, w.fir)
		}, []string{"arrival", "sight", "latent", "pool", "pool-detected", "unpublished"}, "act.vet-pool"},
		"a pool with the one that was in it": {func(w *world) {
			w.sample("choanal-swab", 150, virus, samples.Detected, w.birch, w.fir)
			w.sample("choanal-swab", 100, virus, samples.NotDetected, w.ash, w.fir)
		}, []string{"arrival", "sight", "latent", "pool", "pool-detected", "still-pool-positive", "unpublished"}, "act.apart-positive"},
		"a newcomer": {func(w *world) { w.quarantined(w.elm, 30) }, []string{"arrival", "still-newcomer", "unpublished"}, "act.apart-newcomer"},
	} {
		w := begin(t)
		c.set(w)
		of := w.of(w.ash, virus)
		if got := keys(of.Assumes(w.names())); !slices.Equal(got, c.assumes) {
			t.Errorf("%s: it assumes %v, want %v", name, got, c.assumes)
		}
		if got := keys([]chances.Line{of.Follows(w.names())}); got[0] != c.follows {
			t.Errorf("%s: then %v, want %s", name, got, c.follows)
		}
		for _, language := range []string{"en", "de"} {
			w.sound(language, of)
		}
	}
}

// sound fails where a line has no text, a gap stays open, or a chance is said as a promise.
func (w *world) sound(language string, c chances.Chance) {
	w.Helper()
	languages, err := wording.Load(assets.Text())
	if err != nil {
		w.Fatal(err)
	}
	text := languages.In(language, wording.Units{})
	for _, l := range w.lines(c) {
		said := text.Say(l.Key, l.Gaps)
		if !text.Has(l.Key) || strings.Contains(said, "<no value>") || strings.Contains(said, "{") {
			w.Errorf("%s: %s is said %q", language, l.Key, said)
		}
		for _, promise := range []string{"free", "healthy", "frei ", "gesund"} {
			if strings.Contains(said, promise) {
				w.Errorf("%s: %q promises", language, said)
			}
		}
	}
}

// By hand, of what TestOf_OneSwab works out: from .05 to .4 before, from .0025 of .94775
// to .16 of .757 after; the others as they stand in the tables.
func TestChance_FiguresInWords(t *testing.T) {
	w := begin(t)
	w.sample("oral-swab", 100, virus, samples.NotDetected, w.ash)
	c := w.of(w.ash, virus)
	languages, err := wording.Load(assets.Text())
	if err != nil {
		t.Fatal(err)
	}
	text := languages.In("en", wording.Units{})
	var said []string
	for _, l := range w.lines(c) {
		said = append(said, text.Say(l.Key, l.Gaps))
	}
	all := strings.Join(said, "\n")
	for _, want := range []string{"carries serpentovirus: under 1 to 22 in 100", "5 to 40 in 100 of such animals", "finds 60 to 95 in 100 of those that carry it; of those that do not, 5 in 1000", "For 7 to 42 days", "taken to be 14", "5 to 40 in 100 → under 1 to 22 in 100"} {
		if !strings.Contains(strings.ToLower(all), strings.ToLower(want)) {
			t.Errorf("it does not say %q:\n%s", want, all)
		}
	}
}

func TestChance_WithoutFiguresSaysSo(t *testing.T) {
	w := begin(t)
	w.sample("blood", 100, "reptarenavirus", samples.NotDetected, w.ash)
	c, _ := w.read().Of(w.ash, "reptarenavirus")
	if got := keys([]chances.Line{c.Says(w.names())}); got[0] != "none" || c.Assumes(w.names()) != nil {
		t.Errorf("it says %v, and assumes %v", got, keys(c.Assumes(w.names())))
	}
	if len(c.Steps) != 1 || keys(c.Steps[0].Says())[0] != "mute.unfit" {
		t.Errorf("its step says %v", c.Steps)
	}
}
