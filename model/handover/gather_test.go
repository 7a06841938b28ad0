package handover_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/handover"
	"coilward/model/husbandry"
)

// The portrait goes first, then the newest photos, each once and no more than may go; of none
// that is not a portrait it is said that it is one.
func TestPhotosThatGo(t *testing.T) {
	now := start()
	k, id, _ := seller(t, now)
	photo := func(n int) model.PhotoID { return model.PhotoID(strings.Repeat("0", 60) + fmt.Sprintf("%04x", n)) }
	a, err := k.find(id)
	if err != nil {
		t.Fatal(err)
	}
	a.Photos, a.Portrait = []model.PhotoID{photo(1)}, photo(1)
	k.do(animals.Change{ID: id, Base: a.Revision, Animal: a.Animal})
	for n := range handover.MostPhotos + 3 {
		k.do(care.AddPhoto{About: care.About{Animal: id, At: k.at()}, Photo: care.Photo{Photos: []model.PhotoID{photo(n), photo(n)}}})
	}
	var g handover.Gathered
	k.view(func(v model.View) (err error) { g, err = handover.Gather(v, k.tables, id, "0.8.0"); return err })
	if len(g.Photos) != handover.MostPhotos || len(g.Record.Photos) != handover.MostPhotos || g.Photos[0] != photo(1) {
		t.Fatalf("%d photos, told of %d, the first is %s", len(g.Photos), len(g.Record.Photos), g.Photos[0])
	}
	seen := map[model.PhotoID]bool{}
	for i, p := range g.Record.Photos {
		if p.Portrait != (i == 0) || p.When.IsZero() != (i == 0) {
			t.Errorf("photo %d is %+v", i, p)
		}
		if seen[g.Photos[i]] {
			t.Errorf("%s goes twice", g.Photos[i])
		}
		seen[g.Photos[i]] = true
	}
}

// The portrait of the papers is the animal's here, unless it has one of its own.
func TestThePortrait(t *testing.T) {
	for _, own := range []model.PhotoID{"", "cc"} {
		now := start()
		from, id, _ := seller(t, now)
		to := newKeeper(t, now)
		animal := animals.Animal{Name: "Juno", Portrait: own}
		if own != "" {
			animal.Photos = []model.PhotoID{own}
		}
		here := model.AnimalID{ID: to.do(animals.Add{Animal: animal})[0]}
		r := from.record(id)
		r.Photos = []handover.Photo{{Portrait: true}, {When: r.Entries[0].When}}
		if _, err := to.c.Do(handover.TakeIn{Tables: to.tables, Record: r, Photos: []model.PhotoID{"aa", "bb"}, Into: here, At: to.at(), Protocol: "python", Key: "A", Sum: "b"}); err != nil {
			t.Fatal(err)
		}
		a, err := to.find(here)
		want := own
		if own == "" {
			want = "aa"
		}
		if err != nil || a.Portrait != want {
			t.Errorf("the portrait is %q, want %q, %v", a.Portrait, want, err)
		}
		if got := to.entries(here); len(got) != 3 {
			t.Errorf("%d entries", len(got))
		}
	}
}

// A weight that was taken on a scale which has failed its check is told as doubtful, and taken in
// once all the same.
func TestDoubtfulWeights(t *testing.T) {
	now := start()
	k, id, _ := seller(t, now)
	scale := model.InstrumentID{ID: k.do(husbandry.AddInstrument{Instrument: husbandry.Instrument{Name: "Scale", Kind: husbandry.Scale}})[0]}
	weigh := func() model.EntryID {
		*now = now.Add(24 * time.Hour)
		return model.EntryID{ID: k.do(care.Weigh{About: care.About{Animal: id, At: k.at()}, Weight: care.Weight{Mass: model.Grams(1430), With: scale}})[0]}
	}
	check := func(good bool) {
		*now = now.Add(24 * time.Hour)
		k.do(husbandry.CheckInstrument{Instrument: scale, At: k.at(), Check: husbandry.InstrumentCheck{Good: good, Reading: "193 g", Reference: "200 g"}})
	}
	check(true)
	sound := weigh()
	check(true)
	doubtful := weigh()
	to := newKeeper(t, now)
	for n, doubted := range []bool{false, true} {
		if doubted {
			check(false)
		}
		r, weights := k.record(id), 0
		for _, e := range r.Entries {
			if want := doubted && e.ID == doubtful; e.Doubtful != want {
				t.Errorf("entry %s of kind %s is doubtful: %t, want %t", e.ID, e.Kind, e.Doubtful, want)
			}
			if e.ID == sound || e.ID == doubtful {
				weights++
			}
		}
		if weights != 2 {
			t.Errorf("%d of 2 weights are told", weights)
		}
		if err := to.takeIn(r, "AAAA"); reason(err) != []string{"", "papers.nothing-new"}[n] {
			t.Errorf("taken in: %v", err)
		}
	}
	r := k.record(id)
	for i, e := range r.Entries {
		r.Entries[i].Doubtful = e.Kind == care.KindMeal
	}
	raw, err := r.Bytes()
	if err != nil {
		t.Fatal(err)
	}
	if _, err := handover.Read(raw); err == nil {
		t.Error("a doubtful meal is read")
	}
}
