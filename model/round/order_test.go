package round_test

import (
	"encoding/binary"
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"coilward/assets"
	"coilward/model"
	"coilward/model/knowledge"
	"coilward/model/round"
)

func loaded(t testing.TB) *knowledge.Tables {
	t.Helper()
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	return tables
}

func animal(n int) (id model.AnimalID) {
	binary.BigEndian.PutUint32(id.ID[:], uint32(n+1))
	return id
}

func place(n int) model.PlaceID { return model.PlaceID{ID: animal(n).ID} }

var (
	resident = round.Facts{}
	again    = round.Facts{Level: knowledge.LookAgain}
	near     = round.Facts{NearPositive: true}
	newcomer = round.Facts{Newcomer: true}
	ill      = round.Facts{Level: knowledge.VetWithinDays}
)

// The three orders: the ill before the newcomers is published (seen: zoo-association
// quarantine page and its 2007 standards); the newcomers before the ill, and the
// newcomers on a round of their own, which is offered first, are common practice.
func TestParts(t *testing.T) {
	tables := loaded(t)
	if first := tables.Rounds()[0]; first.ID != "newcomers-apart" {
		t.Errorf("offered first: %s", first.ID)
	}
	both := round.Facts{Newcomer: true, Level: knowledge.EmergencyToday}
	var dwellers []round.Dweller
	for i, f := range []round.Facts{ill, newcomer, resident, both, near, again, resident, newcomer} {
		dwellers = append(dwellers, round.Dweller{Animal: animal(i), Place: place(i), Room: place(100), Facts: f, Young: i == 6})
	}
	for id, want := range map[knowledge.RoundID][][]int{
		"newcomers-apart": {{6, 2, 5, 4, 0}, {1, 7, 3}},
		"ill-newcomers":   {{6, 2, 5, 4, 0, 1, 3, 7}},
		"newcomers-ill":   {{6, 2, 5, 4, 1, 7, 0, 3}},
	} {
		o, _ := tables.Round(id)
		parts := round.Parts(o, round.Stops(tables, dwellers))
		var got [][]int
		for _, p := range parts {
			var served []int
			for _, s := range p.Stops {
				served = append(served, int(binary.BigEndian.Uint32(s.Animals[0].ID[:]))-1)
			}
			got = append(got, served)
		}
		if !slices.EqualFunc(got, want, slices.Equal[[]int]) {
			t.Errorf("%s: %v, want %v", id, got, want)
		}
		if shared := len(parts[0].Shared) > 0; shared != (id == "newcomers-apart") {
			t.Errorf("%s: newcomers and others share a room: %v", id, shared)
		}
	}
}

// Who shares a box shares its class (assumed), and all classes of it are kept.
func TestStops_OneBox(t *testing.T) {
	tables := loaded(t)
	stops := round.Stops(tables, []round.Dweller{
		{Animal: animal(0), Place: place(0), Facts: resident, Young: true}, {Animal: animal(1), Facts: again}, {Animal: animal(2), Place: place(0), Facts: ill, Reasons: []round.Reason{{Why: round.WhyVet, Finding: "sound"}}}, {Animal: animal(3), Facts: resident},
	})
	if len(stops) != 3 || !slices.Equal(stops[0].Classes, []round.Class{round.Ill}) || len(stops[0].Animals) != 2 || !slices.Equal(stops[2].Classes, []round.Class{round.Resident}) {
		t.Errorf("%+v", stops)
	}
	if !slices.Equal(stops[0].Reasons, []round.Told{{animal(2), round.Reason{Why: round.WhyVet, Finding: "sound"}}}) || !stops[0].Young {
		t.Errorf("%+v", stops[0])
	}
}

// Between classes, and between the boxes of the last two, lie hands, gloves and tools
// (common practice; gloves and tools seen: zoo-association quarantine page and its 2007
// standards); between those of another class lies nothing.
func TestBarriers(t *testing.T) {
	tables := loaded(t)
	o, _ := tables.Round("ill-newcomers")
	var dwellers []round.Dweller
	for i, f := range []round.Facts{resident, resident, again, again, near, near, ill, ill, newcomer, newcomer} {
		d := round.Dweller{Animal: animal(i), Place: place(i), Facts: f}
		if f.NearPositive {
			d.Agents = []knowledge.AgentID{"cryptosporidium"}
		}
		dwellers = append(dwellers, d)
	}
	if _, known := tables.Agent("cryptosporidium"); !known {
		t.Fatalf("agents: %v", tables.Agents())
	}
	barriers := round.Barriers(tables, o, round.Parts(o, round.Stops(tables, dwellers))[0].Stops)
	for i, b := range barriers {
		want := []knowledge.MeasureID{"hands", "gloves", "tools"}
		if i == 0 || i == 1 || i == 3 || i == 5 {
			want = nil
		}
		if !slices.Equal(b.Measures, want) {
			t.Errorf("before %d: %v", i, b.Measures)
		}
	}
	if len(barriers[2].Uses) != 0 {
		t.Errorf("after residents, of whom nothing is suspected: %+v", barriers[2])
	}
	// 6 % hydrogen peroxide, 4 minutes: seen: Efficacy of common laboratory disinfectants on the infectivity of C. parvum oocysts in cell culture (abstract).
	if got := barriers[6].Uses; len(got) != 1 || got[0].Means != "hydrogen-peroxide-6" || got[0].Minutes != 4 {
		t.Errorf("after those near cryptosporidia: %+v", got)
	}
	// bleach 1 to 10, 10 minutes on a clean surface: common practice, no source.
	if got := barriers[7].Uses; len(got) != 1 || got[0].Means != "hypochlorite-half" || got[0].Minutes != 10 {
		t.Errorf("after one that is ill: %+v", got)
	}
	// of mites no contact time is known
	if got := barriers[9]; !slices.Equal(got.Untimed, []knowledge.TargetID{"mites"}) || len(got.Uses) != 2 {
		t.Errorf("after a newcomer: %+v", got)
	}
	if got := round.BetweenRounds(tables, round.Stored{}, nil).Measures; !slices.Contains(got, "clothes") {
		t.Errorf("between rounds: %v", got)
	}
}

// Where Cryptosporidium is suspected, the bleach that is used against others is told to do
// nothing, and nothing that no other target is disinfected with; where it is not, the bleach
// gives off gas with others. What is used is rinsed off and never mixed: with what it gives off
// gas is as the table of means has it, whichever of the two it is. Sources: the tables of means
// and effects; common practice, no source.
func TestBarrier_BleachIsNotTrusted(t *testing.T) {
	tables := loaded(t)
	order, _ := tables.Round("ill-newcomers")
	between := func(targets ...knowledge.TargetID) round.Barrier {
		stop := round.Stop{Classes: []round.Class{round.Ill}, Against: targets}
		return round.Barriers(tables, order, []round.Stop{stop, stop})[1]
	}
	gases := func(b round.Barrier) string { return fmt.Sprint(b.Gases) }
	if b := between("enveloped-virus", "bacteria"); gases(b) != "[{hypochlorite-half [acid ammonia]}]" || len(b.Vain) > 0 {
		t.Errorf("without Cryptosporidium: gas %v, in vain %+v", b.Gases, b.Vain)
	}
	b := between("bacteria", "cryptosporidium")
	if gases(b) != "[{peroxymonosulfate-1 [chlorine]}]" {
		t.Errorf("with Cryptosporidium: gas %v", b.Gases)
	}
	if len(b.Vain) != 1 || b.Vain[0].Means != "hypochlorite-half" || b.Vain[0].Target != "cryptosporidium" || b.Vain[0].Source == "" {
		t.Errorf("with Cryptosporidium: in vain %+v", b.Vain)
	}
	for _, u := range b.Uses {
		if m, _ := tables.MeansOf(u.Means); m.Class == knowledge.Chlorine {
			t.Errorf("%s is used against Cryptosporidium", u.Means)
		}
	}
}

// Whatever is suspected: no means is named that fails on it, each is given the time that
// the table asks, nothing is left out that something works on alone, and no two give off
// gas together.
func TestDisinfect(t *testing.T) {
	tables := loaded(t)
	rapid.Check(t, func(t *rapid.T) {
		var targets []knowledge.TargetID
		for _, target := range tables.Targets() {
			if rapid.Bool().Draw(t, string(target.ID)) {
				targets = append(targets, target.ID)
			}
		}
		uses, untimed := round.Disinfect(tables, targets)
		covered := slices.Clone(untimed)
		for i, u := range uses {
			m, _ := tables.MeansOf(u.Means)
			for _, target := range targets {
				if e, told := tables.Effect(u.Means, target); told && e.Works == knowledge.NotWorks {
					t.Fatalf("%s is named, which fails on %s", u.Means, target)
				}
			}
			for _, target := range u.Targets {
				if e, told := tables.Effect(u.Means, target); !told || e.Works != knowledge.FullyWorks || e.Minutes == 0 || e.Minutes > u.Minutes || u.Minutes > 60 {
					t.Fatalf("%+v on %s: %+v", u, target, e)
				}
			}
			for _, o := range uses[:i] {
				if other, _ := tables.MeansOf(o.Means); m.Class.Poisonous(other.Class) {
					t.Fatalf("%s with %s", m.ID, other.ID)
				}
			}
			covered = append(covered, u.Targets...)
		}
		slices.Sort(covered)
		if !slices.Equal(covered, slices.Sorted(slices.Values(targets))) {
			t.Fatalf("%v of %v", covered, targets)
		}
	})
}

func drawFacts(t *rapid.T) round.Facts {
	flag := func(name string) bool { return rapid.IntRange(0, 4).Draw(t, name) == 0 }
	return round.Facts{Level: knowledge.Level(rapid.IntRange(0, 4).Draw(t, "level")), ForVet: flag("vet"), MiteWatch: flag("mites"), Detected: flag("detected"), Newcomer: flag("new"), NearPositive: flag("near")}
}

// Whatever house and order: everyone is gone through once, never back to a cleaner class,
// and nobody changes class without something between.
func TestParts_NeverBack(t *testing.T) {
	tables := loaded(t)
	rapid.Check(t, func(t *rapid.T) {
		var dwellers []round.Dweller
		for i := range rapid.IntRange(1, 30).Draw(t, "animals") {
			d := round.Dweller{Animal: animal(i), Facts: drawFacts(t), Young: rapid.Bool().Draw(t, "young")}
			if n := rapid.IntRange(-1, 12).Draw(t, "box"); n >= 0 {
				d.Place = place(n)
			}
			dwellers = append(dwellers, d)
		}
		o := rapid.SampledFrom(tables.Rounds()).Draw(t, "order")
		met := map[model.AnimalID]bool{}
		for _, part := range round.Parts(o, round.Stops(tables, dwellers)) {
			barriers := round.Barriers(tables, o, part.Stops)
			for i, s := range part.Stops {
				is := round.Rules(o, s.Classes)
				for _, a := range s.Animals {
					if met[a] {
						t.Fatalf("%v twice", a)
					}
					met[a] = true
				}
				if part.Apart != (o.Apart == is.String()) {
					t.Fatalf("%v is in the part apart: %v", is, part.Apart)
				}
				if i == 0 {
					continue
				}
				was := round.Rules(o, part.Stops[i-1].Classes)
				if round.Rank(o, is) < round.Rank(o, was) {
					t.Fatalf("from %v back to %v", was, is)
				}
				if barriers[i].IsZero() && (is != was || round.LastTwo(o, is)) {
					t.Fatalf("nothing between %v and %v", was, is)
				}
			}
		}
		if len(met) != len(dwellers) {
			t.Fatalf("%d of %d met", len(met), len(dwellers))
		}
	})
}

// Young by age, and of unknown age by mass: common practice, no source (values.txt).
func TestYoung(t *testing.T) {
	tables, today := loaded(t), model.NewDay(2027, 6, 9)
	born := func(ago model.Day) model.Date { return model.Date{Day: today - ago, Precision: model.ToDay} }
	for name, c := range map[string]struct {
		hatched model.Date
		grams   int64
		young   bool
	}{
		"364 days": {born(364), 0, true}, "365 days": {born(365), 200, false}, "nothing known": {model.Date{}, 0, false},
		"299 g": {model.Date{}, 299, true}, "300 g": {model.Date{}, 300, false},
	} {
		if got := round.Young(tables, c.hatched, model.Grams(c.grams), today); got != c.young {
			t.Errorf("%s: %v", name, got)
		}
	}
}

func BenchmarkParts(b *testing.B) {
	tables := loaded(b)
	o := tables.Rounds()[0]
	var dwellers []round.Dweller
	for i := range 2000 {
		dwellers = append(dwellers, round.Dweller{Animal: animal(i), Place: place(i), Room: place(5000 + i%20), Facts: []round.Facts{resident, resident, again, near, ill, newcomer}[i%6]})
	}
	for b.Loop() {
		n := 0
		for _, p := range round.Parts(o, round.Stops(tables, dwellers)) {
			n += len(round.Barriers(tables, o, p.Stops))
		}
		if n != 2000 {
			b.Fatal(n)
		}
	}
}

// The raw peer of BenchmarkParts: as many numbers put into the order of six classes, and
// nothing else.
func BenchmarkPartsPeer(b *testing.B) {
	classes := make([]int, 2000)
	for i := range classes {
		classes[i] = i % 6
	}
	for b.Loop() {
		all := slices.Clone(classes)
		slices.SortStableFunc(all, func(a, b int) int { return a - b })
		if !slices.IsSorted(all) {
			b.Fatal("not in order")
		}
	}
}
