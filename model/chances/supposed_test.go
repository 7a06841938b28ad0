package chances_test

import (
	"slices"
	"testing"

	"coilward/model"
	"coilward/model/chances"
	"coilward/model/evidence"
	"coilward/model/knowledge"
	"coilward/model/samples"
)

func (w *world) suppose(all ...chances.Supposed) (effects []chances.Effect) {
	w.Helper()
	if err := w.View(func(v model.View) error {
		r, err := chances.NewReader(v, w.tables)
		if err != nil {
			return err
		}
		effects, err = r.If(v, all)
		return err
	}); err != nil {
		w.Fatal(err)
	}
	return effects
}

// What an answer would make of a chance is what it makes of it once it is kept.
func TestIf_IsWhatComesOfIt(t *testing.T) {
	for _, outcome := range []samples.Outcome{samples.NotDetected, samples.Detected} {
		w := begin(t)
		w.sample("oral-swab", 200, virus, samples.NotDetected, w.ash)
		before := w.of(w.ash, virus)
		id := w.sample("choanal-swab", 100, virus, samples.Pending, w.ash, w.birch)
		effects := w.suppose(chances.Supposed{Sample: id, Of: virus, Outcome: outcome})
		if len(effects) != 2 || effects[0].Animal != w.ash || effects[1].Animal != w.birch || effects[0].Before.Now != before.Now {
			t.Fatalf("%s: %+v", outcome, effects)
		}
		if now := w.of(w.ash, virus); now.Now != before.Now || len(now.Steps) != 1 {
			t.Errorf("%s is kept", outcome)
		}
		w.do(samples.Enter{Tables: w.tables, At: w.on(0), Rows: []samples.Row{{On: samples.On{ID: id, Base: 1}, Found: []samples.Found{{Of: virus, Outcome: outcome}}}}, Confirmed: yes})
		for _, e := range effects {
			kept := w.of(e.Animal, virus)
			if e.After.Now != kept.Now || e.After.Act != kept.Act || e.After.From != kept.From || e.Mute != "" || e.Detected != (outcome == samples.Detected) {
				t.Errorf("%s: it would be %v, then %s; it is %v, then %s", outcome, e.After.Now, e.After.Act, kept.Now, kept.Act)
			}
		}
		if want := (outcome == samples.Detected); (effects[0].After.Act == evidence.Vet) != want {
			t.Errorf("%s: then %s", outcome, effects[0].After.Act)
		}
	}
}

// By hand: .2 before, and .2 × .15 against .8 × .995 after.
func TestIf_OneSwab(t *testing.T) {
	w := begin(t)
	id := w.sample("oral-swab", 100, virus, samples.Pending, w.ash)
	e := w.suppose(chances.Supposed{Sample: id, Of: virus, Outcome: samples.NotDetected})[0]
	near(t, "before", e.Before.Now.Mid, .2)
	near(t, "after", e.After.Now.Mid, .2*.15/(.2*.15+.8*.995))
	if got := keys(e.Says(w.names())); !slices.Equal(got, []string{"step", "act.take-now"}) {
		t.Errorf("it says %v", got)
	}
}

func TestIf_WhatSaysNothing(t *testing.T) {
	w := begin(t)
	swab := w.sample("oral-swab", 100, virus, samples.Pending, w.ash)
	for _, o := range []samples.Outcome{samples.Inconclusive, samples.Inhibited, samples.NotDone, samples.Pending} {
		if e := w.suppose(chances.Supposed{Sample: swab, Of: virus, Outcome: o}); len(e) != 0 {
			t.Errorf("%s has an effect: %+v", o, e)
		}
	}
	blood := w.sample("blood", 90, virus, samples.Pending, w.ash)
	none := w.sample("blood", 80, "reptarenavirus", samples.Pending, w.ash)
	met := w.sample("oral-swab", 70, virus, samples.Pending, w.ash)
	for _, c := range []struct {
		chances.Supposed
		want []string
	}{
		{chances.Supposed{Sample: blood, Of: virus, Outcome: samples.NotDetected}, []string{"mute.unfit", "act.await"}},
		{chances.Supposed{Sample: none, Of: "reptarenavirus", Outcome: samples.NotDetected}, []string{"none", "none-why"}},
		{chances.Supposed{Sample: none, Of: "reptarenavirus", Outcome: samples.Detected}, []string{"none", "none-why", "act.vet-sample"}},
		{chances.Supposed{Sample: met, Of: virus, Outcome: samples.NotDetected, Method: knowledge.Antibodies}, []string{"mute.met", "act.await"}},
	} {
		e := w.suppose(c.Supposed)
		if len(e) != 1 || e[0].Before.Now != e[0].After.Now {
			t.Fatalf("%+v: %+v", c.Supposed, e)
		}
		if got := keys(e[0].Says(w.names())); !slices.Equal(got, c.want) {
			t.Errorf("%+v says %v, want %v", c.Supposed, got, c.want)
		}
	}
	kit := model.SampleID{ID: w.do(samples.Prepare{Tables: w.tables, Each: []samples.New{{Animals: []model.AnimalID{w.ash}, Sample: samples.Sample{Material: "oral-swab", For: []knowledge.AgentID{virus}}}}, Confirmed: yes})}
	if got := keys(w.suppose(chances.Supposed{Sample: kit, Of: virus, Outcome: samples.NotDetected})[0].Says(w.names())); !slices.Equal(got, []string{"would.untaken"}) {
		t.Errorf("of one of which nobody noted when it was taken: %v", got)
	}
}

// Several answers are supposed together, and a pool of which the animal's own swab had
// said most moves it less.
func TestIf_APoolAfterItsOwnSwab(t *testing.T) {
	w := begin(t)
	own := w.sample("choanal-swab", 120, virus, samples.Pending, w.ash)
	pool := w.sample("choanal-swab", 100, virus, samples.Pending, w.ash, w.birch, w.elm)
	both := []chances.Supposed{{Sample: own, Of: virus, Outcome: samples.NotDetected}, {Sample: pool, Of: virus, Outcome: samples.NotDetected}}
	together := w.suppose(both...)
	if len(together) != 3 || together[0].Said || together[1].Said {
		t.Fatalf("together: %+v", together)
	}
	w.do(samples.Enter{Tables: w.tables, At: w.on(0), Rows: []samples.Row{{On: samples.On{ID: own, Base: 1}, Found: []samples.Found{{Of: virus, Outcome: samples.NotDetected}}}}, Confirmed: yes})
	after := w.suppose(both[1])
	if !after[0].Said || after[1].Said || after[2].Said {
		t.Errorf("its own had said most of it: %v, of the others %v, %v", after[0].Said, after[1].Said, after[2].Said)
	}
	if after[0].After.Now != together[0].After.Now {
		t.Errorf("one after the other %v, together %v", after[0].After.Now, together[0].After.Now)
	}
	if got := keys(after[0].Says(w.names())); len(got) != 3 || got[1] != "would.said" {
		t.Errorf("it says %v", got)
	}
}

// A sample of the latent days is called early, unless another says more.
func TestIf_TooEarly(t *testing.T) {
	w := begin(t)
	late := w.animal("Gorse", 60, w.boxes[4])
	early, later := w.sample("oral-swab", 55, virus, samples.Pending, late), w.sample("oral-swab", 30, virus, samples.Pending, late)
	all := []chances.Supposed{{Sample: early, Of: virus, Outcome: samples.NotDetected}, {Sample: later, Of: virus, Outcome: samples.NotDetected}}
	for n, want := range map[int]bool{1: true, 2: false} {
		e := w.suppose(all[:n]...)
		if len(e) != 1 || (e[0].Soon == chances.Early) != want || (keys(e[0].Says(w.names()))[1] == "soon.early") != want {
			t.Errorf("%d: %+v", n, e)
		}
	}
	all[0].Outcome = samples.Detected
	if got := keys(w.suppose(all[0])[0].Says(w.names())); !slices.Equal(got, []string{"step", "soon.detected", "act.vet-sample"}) {
		t.Errorf("of what would be detected it says %v", got)
	}
}

// Detected in a pool, it is in one of its animals; whose own sample says so too knows it.
func TestIf_DetectedInAPool(t *testing.T) {
	w := begin(t)
	pool := chances.Supposed{Sample: w.sample("choanal-swab", 100, virus, samples.Pending, w.ash, w.birch), Of: virus, Outcome: samples.Detected}
	own := chances.Supposed{Sample: w.sample("choanal-swab", 100, virus, samples.Pending, w.ash), Of: virus, Outcome: samples.Detected}
	last := func(e chances.Effect) string {
		said := keys(e.Says(w.names()))
		return said[len(said)-1]
	}
	for _, e := range w.suppose(pool) {
		if last(e) != "act.vet-pool" {
			t.Errorf("in a pool: %s", last(e))
		}
	}
	for _, order := range [][]chances.Supposed{{pool, own}, {own, pool}} {
		for _, e := range w.suppose(order...) {
			if want := map[bool]string{true: "act.vet-sample", false: "act.vet-pool"}[e.Animal == w.ash]; last(e) != want {
				t.Errorf("in a pool and in its own: %s, want %s", last(e), want)
			}
		}
	}
}

// What is put right takes the place of what stood there.
func TestIf_PutRight(t *testing.T) {
	w := begin(t)
	id := w.sample("oral-swab", 100, virus, samples.NotDetected, w.ash)
	e := w.suppose(chances.Supposed{Sample: id, Of: virus, Outcome: samples.Detected})[0]
	near(t, "before", e.Before.Now.Mid, .2*.15/(.2*.15+.8*.995))
	near(t, "after", e.After.Now.Mid, .2*.85/(.2*.85+.8*.005))
	if e.After.Act != evidence.Vet || len(e.After.Steps) != 1 {
		t.Errorf("then %s, by %d steps", e.After.Act, len(e.After.Steps))
	}
}

// What stood there and is taken back gives the chance back that was before it, and is told as what
// says nothing any more; an answer by another method likewise.
func TestIf_TakenBack(t *testing.T) {
	for _, c := range []struct {
		stood   samples.Outcome
		outcome samples.Outcome
		method  knowledge.Method
		mute    chances.Mute
		want    []string
	}{
		{samples.Detected, samples.Inconclusive, "", chances.Unfound, []string{"step", "mute.unfound", "act.take-now"}},
		{samples.Detected, samples.Inhibited, "", chances.Unfound, []string{"step", "mute.unfound", "act.take-now"}},
		{samples.NotDetected, samples.NotDone, "", chances.Unfound, []string{"step", "mute.unfound", "act.take-now"}},
		{samples.NotDetected, samples.NotDetected, knowledge.Antibodies, chances.Met, []string{"step", "mute.met", "act.take-now"}},
	} {
		w := begin(t)
		id := w.sample("oral-swab", 100, virus, c.stood, w.ash)
		all := w.suppose(chances.Supposed{Sample: id, Of: virus, Outcome: c.outcome, Method: c.method})
		if len(all) != 1 || all[0].Mute != c.mute || all[0].Detected || all[0].Before.Now == all[0].After.Now {
			t.Fatalf("%s, then %s: %+v", c.stood, c.outcome, all)
		}
		near(t, "after", all[0].After.Now.Mid, .2)
		if got := keys(all[0].Says(w.names())); !slices.Equal(got, c.want) {
			t.Errorf("%s, then %s: it says %v, want %v", c.stood, c.outcome, got, c.want)
		}
	}
}

// Of what was detected in a neighbour and is taken back the others are told nothing: only those
// whose sample it is stand there. What an answer is taken back to and put right again counts.
func TestIf_TakenBackAndPutRight(t *testing.T) {
	w := begin(t)
	id := w.sample("oral-swab", 100, virus, samples.Detected, w.ash)
	back := chances.Supposed{Sample: id, Of: virus, Outcome: samples.Inconclusive}
	right := chances.Supposed{Sample: id, Of: virus, Outcome: samples.NotDetected}
	for _, e := range w.suppose(back, right) {
		if e.Animal != w.ash || e.Mute != "" {
			t.Fatalf("%+v", e)
		}
		near(t, "after", e.After.Now.Mid, .2*.15/(.2*.15+.8*.995))
	}
	if all := w.suppose(chances.Supposed{Sample: id, Of: virus}); len(all) != 0 {
		t.Errorf("what is still to come has an effect: %+v", all)
	}
}

// That its own samples had said most of it is told of a pool, be it of two, and of no sample of its own.
func TestIf_ASecondSwabOfItsOwn(t *testing.T) {
	w := begin(t)
	w.sample("choanal-swab", 120, virus, samples.NotDetected, w.ash)
	second := w.sample("choanal-swab", 100, virus, samples.Pending, w.ash)
	pool := w.sample("choanal-swab", 100, virus, samples.Pending, w.ash, w.birch)
	if e := w.suppose(chances.Supposed{Sample: second, Of: virus, Outcome: samples.NotDetected}); e[0].Said {
		t.Error("it is told of its own second swab")
	}
	if e := w.suppose(chances.Supposed{Sample: pool, Of: virus, Outcome: samples.NotDetected}); !e[0].Said || e[1].Said {
		t.Errorf("of a pool of two: %v, of the other %v", e[0].Said, e[1].Said)
	}
}
