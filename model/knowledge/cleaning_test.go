package knowledge_test

import (
	"strings"
	"testing"

	"coilward/model/knowledge"
)

func TestLoad_RefusesABadTableOfCleaning(t *testing.T) {
	for _, c := range []struct {
		name, file, old, new string
		line                 int
		row, column, reason  string
	}{
		{"no such class", "means.txt", "chlorine", "bleach", 2, "bleach", "class", "want chlorine, ammonia, acid, other or plain"},
		{"a means twice", "means.txt", "soap |", "vinegar |", 5, "vinegar", "means", "earlier row"},
		{"a means without a source", "means.txt", "acid | assumed", "acid |", 4, "vinegar", "source", "names its source"},
		{"a means of capitals", "means.txt", "soap |", "Soap |", 5, "Soap", "means", "want an id"},
		{"a target twice", "targets.txt", "virus", "mites", 3, "mites", "target", "earlier row"},
		{"a target without a source", "targets.txt", "virus | assumed", "virus |", 3, "virus", "source", "names its source"},
		{"an effect of no means", "effects.txt", "bleach |", "steam |", 2, "steam", "means", "no row of means.txt"},
		{"an effect on no target", "effects.txt", "soap | mites", "soap | worms", 4, "soap", "target", "no row of targets.txt"},
		{"an effect twice", "effects.txt", "soap | mites", "soap | virus", 4, "soap", "target", "tells of this means"},
		{"neither yes nor no", "effects.txt", "partly", "maybe", 3, "soap", "works", "want yes, partly or no"},
		{"no time", "effects.txt", "| 10 |", "| 0 |", 2, "bleach", "minutes", "from 1 to 2880"},
		{"more than two days", "effects.txt", "| 10 |", "| 2881 |", 2, "bleach", "minutes", "from 1 to 2880"},
		{"an effect without a source", "effects.txt", "33 | assumed", "33 |", 4, "soap", "source", "names its source"},
	} {
		t.Run(c.name, func(t *testing.T) {
			bad := small()
			if bad[c.file] = strings.Replace(bad[c.file], c.old, c.new, 1); bad[c.file] == small()[c.file] {
				t.Fatalf("%q is not in %s", c.old, c.file)
			}
			_, err := knowledge.Load(files(bad))
			for _, f := range faults(err) {
				if f.File == c.file && f.Line == c.line && f.Row == c.row && f.Column == c.column && strings.Contains(f.Reason, c.reason) {
					return
				}
			}
			t.Errorf("got %v", err)
		})
	}
	good := small()
	good["effects.txt"] = strings.Replace(good["effects.txt"], "| 10 |", "| 2880 |", 1)
	if _, err := knowledge.Load(files(good)); err != nil {
		t.Errorf("two days: %v", err)
	}
}

func TestTables_OfCleaningAreReadCellByCell(t *testing.T) {
	tables, err := knowledge.Load(files(small()))
	if err != nil {
		t.Fatal(err)
	}
	if m, ok := tables.MeansOf("vinegar"); !ok || m != (knowledge.Means{ID: "vinegar", Class: knowledge.Acid, Source: "assumed"}) || len(tables.Means()) != 4 {
		t.Errorf("means %+v", m)
	}
	if g, ok := tables.Target("virus"); !ok || g != (knowledge.Target{ID: "virus", Source: "assumed"}) || len(tables.Targets()) != 2 {
		t.Errorf("target %+v", g)
	}
	for _, want := range []knowledge.Effect{
		{Means: "bleach", Target: "virus", Works: knowledge.FullyWorks, Minutes: 10, Source: "assumed"},
		{Means: "soap", Target: "virus", Works: knowledge.PartlyWorks, Source: "assumed"},
		{Means: "soap", Target: "mites", Works: knowledge.NotWorks, Minutes: 33, Source: "assumed"},
	} {
		if e, ok := tables.Effect(want.Means, want.Target); !ok || e != want {
			t.Errorf("effect %+v, want %+v", e, want)
		}
	}
	for name, found := range map[string]bool{"means": has(tables.MeansOf("x")), "target": has(tables.Target("x")),
		"effect": has(tables.Effect("bleach", "mites")), "effect of another": has(tables.Effect("vinegar", "virus"))} {
		if found {
			t.Errorf("found %s that is not there", name)
		}
	}
}

// The values are those of the sources that the rows name.
func TestTables_OfCleaningAsPublished(t *testing.T) {
	tables := loadShipped(t)
	for _, want := range []struct {
		means   knowledge.MeansID
		target  knowledge.TargetID
		works   knowledge.Works
		minutes int
		source  string
	}{
		{"hydrogen-peroxide-6", "cryptosporidium", knowledge.FullyWorks, 4, "C. parvum oocysts in cell culture"},
		{"ammonium-hydroxide", "cryptosporidium", knowledge.FullyWorks, 13, "C. parvum oocysts in cell culture"},
		{"ethanol-70", "cryptosporidium", knowledge.NotWorks, 33, "C. parvum oocysts in cell culture"},
		{"isopropanol-70", "cryptosporidium", knowledge.NotWorks, 33, "C. parvum oocysts in cell culture"},
		{"methanol-37", "cryptosporidium", knowledge.NotWorks, 33, "C. parvum oocysts in cell culture"},
		{"hypochlorite-6", "cryptosporidium", knowledge.NotWorks, 33, "C. parvum oocysts in cell culture"},
		{"chlorine-80ppm", "cryptosporidium", knowledge.PartlyWorks, 90, "Korich et al. 1990"},
		{"ozone-1ppm", "cryptosporidium", knowledge.PartlyWorks, 5, "Korich et al. 1990"},
		{"heat-71", "cryptosporidium", knowledge.FullyWorks, 1, "USDA-ARS summary 1994"},
		{"heat-60", "cryptosporidium", knowledge.FullyWorks, 5, "USDA-ARS summary 1994"},
		{"ammonia-5", "cryptosporidium", knowledge.FullyWorks, 18 * 60, "memory: Campbell et al. 1982"},
		{"formol-saline-10", "cryptosporidium", knowledge.FullyWorks, 18 * 60, "memory: Campbell et al. 1982"},
		{"chlorhexidine", "cryptosporidium", knowledge.NotWorks, 0, "common practice, no source"},
		{"hypochlorite-half", "enveloped-virus", knowledge.FullyWorks, 10, "PMC4783637"},
		{"peroxymonosulfate-1", "enveloped-virus", knowledge.FullyWorks, 10, "PMC4783637"},
		{"quaternary-ammonium", "enveloped-virus", knowledge.FullyWorks, 10, "common practice, no source"},
	} {
		e, ok := tables.Effect(want.means, want.target)
		if !ok || e.Works != want.works || e.Minutes != want.minutes || !strings.Contains(e.Source, want.source) {
			t.Errorf("%s against %s: %+v", want.means, want.target, e)
		}
	}
	for id, class := range map[knowledge.MeansID]knowledge.MeansClass{"hypochlorite-half": knowledge.Chlorine, "hypochlorite-6": knowledge.Chlorine,
		"chlorine-80ppm": knowledge.Chlorine, "ammonia-5": knowledge.Ammonia, "ammonium-hydroxide": knowledge.Ammonia, "vinegar": knowledge.Acid,
		"quaternary-ammonium": knowledge.OtherClass} {
		if m, _ := tables.MeansOf(id); m.Class != class {
			t.Errorf("%s is of class %s", id, m.Class)
		}
	}
}

// Never bleach with ammonia or an acid. Source: common practice, no source.
func TestMeansClass_Poisonous(t *testing.T) {
	classes := []knowledge.MeansClass{knowledge.Chlorine, knowledge.Ammonia, knowledge.Acid, knowledge.OtherClass}
	for _, a := range classes {
		for _, b := range classes {
			want := a == knowledge.Chlorine && (b == knowledge.Ammonia || b == knowledge.Acid) || b == knowledge.Chlorine && (a == knowledge.Ammonia || a == knowledge.Acid)
			if a.Poisonous(b) != want {
				t.Errorf("%s with %s: %v", a, b, !want)
			}
		}
	}
}
