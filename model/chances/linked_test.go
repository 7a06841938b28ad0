package chances_test

import (
	"fmt"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"coilward/model"
	"coilward/model/evidence"
	"coilward/model/samples"
)

// Where more animals hang together by pools than can be worked out together, those of an
// animal's own pools are, and it is said: of the animal and of the room.
func TestOf_MoreThanCanBeWorkedOutTogether(t *testing.T) {
	w := begin(t)
	var all []model.AnimalID
	for n := range 70 {
		all = append(all, w.animal(fmt.Sprint("Animal ", n), 400, w.boxes[3]))
	}
	w.sample("choanal-swab", 100, virus, samples.NotDetected, all[:4]...)
	w.sample("oral-swab", 90, virus, samples.NotDetected, all[1])
	alone := w.of(all[0], virus)
	if alone.Linkage != evidence.Whole || slices.Contains(keys(alone.Assumes(w.names())), "own-pools") {
		t.Errorf("one pool: linkage %d", alone.Linkage)
	}
	for n := 3; n+3 < len(all); n += 3 {
		w.sample("choanal-swab", 100, virus, samples.NotDetected, all[n:n+4]...)
	}
	c := w.of(all[0], virus)
	if c.Linkage != evidence.Own || !slices.Contains(keys(c.Assumes(w.names())), "own-pools") {
		t.Errorf("a chain of pools: linkage %d, it assumes %v", c.Linkage, keys(c.Assumes(w.names())))
	}
	if c.Now != alone.Now || len(c.Steps) != 1 {
		t.Errorf("with its own pool alone %v, in the chain %v", alone.Now, c.Now)
	}
	for _, language := range []string{"en", "de"} {
		w.sound(language, c)
	}
	joint, ok := w.read().AtLeastOne(all, virus)
	if !ok || joint.Linkage != evidence.Own || joint.Chance.Mid < c.Now.Mid || joint.Chance.Mid >= 1 {
		t.Errorf("at least one of them: %+v", joint)
	}
	// Each counts by its own pools, as if it had nothing to do with the other.
	two, _ := w.read().AtLeastOne(all[:2], virus)
	near(t, "at least one of two", two.Chance.Mid, 1-(1-c.Now.Mid)*(1-w.of(all[1], virus).Now.Mid))
	// Those in the middle of the chain are in two pools.
	if c := w.of(all[3], virus); c.Linkage != evidence.Own || len(c.Steps) != 2 {
		t.Errorf("one in two pools: linkage %d, %d steps", c.Linkage, len(c.Steps))
	}
}

// What was not detected in the others' other pools speaks for them, and so against the animal
// in a pool with which something was detected.
func TestOf_MoreThanCanBeWorkedOutTogetherAndOneDetected(t *testing.T) {
	w := begin(t)
	var all []model.AnimalID
	for n := range 70 {
		all = append(all, w.animal(fmt.Sprint("Animal ", n), 400, w.boxes[3]))
	}
	w.sample("choanal-swab", 100, virus, samples.Detected, all[:2]...)
	alone := w.of(all[0], virus)
	for n := 1; n+3 < len(all); n += 3 {
		w.sample("choanal-swab", 100, virus, samples.NotDetected, all[n:n+4]...)
	}
	if c := w.of(all[0], virus); c.Linkage != evidence.Own || c.Now.Mid <= alone.Now.Mid || c.Now.High >= 1 {
		t.Errorf("with its own pool alone %v, with the others' %v, linkage %d", alone.Now, c.Now, c.Linkage)
	}
	// At least one of several is no less than any of them, nor than one of the pool in which it was
	// detected, in whichever order they are asked about.
	r := w.read()
	pool, _ := r.AtLeastOne(all[:2], virus)
	asked := slices.Clone(all[:6])
	joint, _ := r.AtLeastOne(asked, virus)
	slices.Reverse(asked)
	back, _ := r.AtLeastOne(asked, virus)
	if pool.Chance.Low < .9 || joint.Chance.Low < pool.Chance.Low || joint.Linkage != evidence.Own {
		t.Errorf("of the pool in which it was detected %v, of more of them %v, linkage %d", pool.Chance, joint.Chance, joint.Linkage)
	}
	for _, a := range asked {
		if c := w.of(a, virus); joint.Chance.Low < c.Now.Low || joint.Chance.Mid < c.Now.Mid || joint.Chance.High < c.Now.High {
			t.Errorf("at least one of them %v, and one of them %v", joint.Chance, c.Now)
		}
	}
	if diff := cmp.Diff(joint.Chance, back.Chance, cmpopts.EquateApprox(0, 1e-9)); diff != "" {
		t.Errorf("the other way round: %s", diff)
	}
}

// What was detected in another pool of a companion, beyond what can be worked out together, makes
// the pool with it say less: the chance is not below that of all together.
func TestOf_MoreThanCanBeWorkedOutTogetherAndACompanionDetected(t *testing.T) {
	w := begin(t)
	var all []model.AnimalID
	for n := range 70 {
		all = append(all, w.animal(fmt.Sprint("Animal ", n), 400, w.boxes[3]))
	}
	w.sample("choanal-swab", 100, virus, samples.NotDetected, all[:2]...)
	w.sample("choanal-swab", 95, virus, samples.Detected, all[1], all[2])
	together := w.of(all[0], virus)
	for n := 2; n+3 < len(all); n += 3 {
		w.sample("choanal-swab", 90, virus, samples.NotDetected, all[n:n+4]...)
	}
	c := w.of(all[0], virus)
	if together.Linkage != evidence.Whole || c.Linkage != evidence.Own || !slices.Contains(keys(c.Assumes(w.names())), "own-pools") {
		t.Errorf("linkage %d, then %d; it assumes %v", together.Linkage, c.Linkage, keys(c.Assumes(w.names())))
	}
	if c.Now.Low < together.Now.Low || c.Now.Mid < together.Now.Mid || c.Now.High < together.Now.High {
		t.Errorf("with its own pool %v, together %v", c.Now, together.Now)
	}
}
