package knowledge_test

import (
	"errors"
	"strings"
	"testing"

	"coilward/model/knowledge"
)

func TestTables_Sight(t *testing.T) {
	tables := loadShipped(t)
	for _, c := range []struct {
		of   knowledge.AgentID
		in   knowledge.MaterialID
		by   knowledge.Method
		want string
	}{
		{"serpentovirus", "oral-swab", "", "serpentovirus-swab"},
		{"serpentovirus", "oral-swab", knowledge.PCR, "serpentovirus-swab"},
		{"serpentovirus", "oral-swab", knowledge.Antibodies, ""},
		{"serpentovirus", "blood", "", ""},
		{"reptarenavirus", "blood", "", ""},
		{"ferlavirus", "tracheal-wash", "", "ferlavirus-wash"},
		{"cryptosporidium-serpentis", "faeces", "", "serpentis-cloacal"},
	} {
		got, ok := tables.Sight(c.of, "python-regius", c.in, c.by)
		if ok != (c.want != "") || got.ID != c.want {
			t.Errorf("%s in %s by %q: %q, %v", c.of, c.in, c.by, got.ID, ok)
		}
	}
	swab, _ := tables.Sight("serpentovirus", "", "oral-swab", "")
	if swab.Sensitivity != (knowledge.Span{Low: 600, Assumed: 850, High: 950}) || swab.Right != 995 || swab.Share != (knowledge.Span{Low: 100, Assumed: 300, High: 600}) || swab.Spread != 30 || swab.Usable != 950 || !swab.Assumed() {
		t.Errorf("a swab for serpentovirus: %+v", swab)
	}
	if wash, _ := tables.Sight("cryptosporidium-serpentis", "", "stomach-lavage", ""); !wash.Assumed() || wash.Sensitivity.Assumed != 950 {
		t.Errorf("a lavage: %+v", wash)
	}
}

// The row of a species goes before that of any, in what it speaks of; the usual way stays that of
// any.
func TestTables_SightOfASpecies(t *testing.T) {
	tb := small()
	tb["materials.txt"] += "wash | mouth | 2 | assumed\n"
	tb["agents.txt"] = strings.Replace(tb["agents.txt"], "| swab |", "| swab wash |", 1)
	row := func(id, species, materials, by string) string {
		return id + " | flu | " + species + " | " + materials + " | " + by + " | 600 | 850 | 900 | 995 | 100 | 300 | 600 | 30 | 950 | assumed\n"
	}
	head, _, _ := strings.Cut(tb["sight.txt"], "\n")
	tb["sight.txt"] = head + "\n" + row("smear", "other-snake", "swab", "acid-fast") + row("all", "any", "swab wash", "pcr") + row("own", "other-snake", "swab", "pcr")
	tables, err := knowledge.Load(files(tb))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		species knowledge.SpeciesID
		in      knowledge.MaterialID
		by      knowledge.Method
		want    string
	}{
		{"other-snake", "swab", "", "own"},
		{"other-snake", "swab", knowledge.PCR, "own"},
		{"other-snake", "swab", knowledge.AcidFast, "smear"},
		{"other-snake", "wash", "", "all"},
		{"", "swab", "", "all"},
		{"newt", "swab", "", "all"},
		{"", "swab", knowledge.AcidFast, ""},
	} {
		if got, ok := tables.Sight("flu", c.species, c.in, c.by); got.ID != c.want || ok != (c.want != "") {
			t.Errorf("of %q in %s by %q: %q", c.species, c.in, c.by, got.ID)
		}
	}
	var ids []string
	for _, s := range tables.SightsOf("flu", "other-snake") {
		ids = append(ids, s.ID)
	}
	if strings.Join(ids, " ") != "smear own all" || len(tables.SightsOf("flu", "")) != 1 {
		t.Errorf("of a species: %v", ids)
	}
}

func TestTables_PriorOfItsOriginOrAny(t *testing.T) {
	tables := loadShipped(t)
	for _, c := range []struct {
		of     knowledge.AgentID
		origin knowledge.Origin
		want   string
	}{
		{"serpentovirus", knowledge.FromAny, "serpentovirus-any"},
		{"serpentovirus", knowledge.FromWild, "serpentovirus-wild"},
		{"serpentovirus", knowledge.Cleared, "serpentovirus-any"},
		{"worms-and-protozoa", knowledge.Cleared, "worms-cleared"},
		{"reptarenavirus", knowledge.FromAny, ""},
	} {
		if got := tables.Prior(c.of, c.origin).ID; got != c.want {
			t.Errorf("%s from %s: %q, want %q", c.of, c.origin, got, c.want)
		}
	}
}

func TestLoad_RefusesFiguresOfWhichNoChanceCanBeWorkedOut(t *testing.T) {
	for name, c := range map[string]struct{ file, old, new, column, reason string }{
		"found no oftener than by chance":  {"sight.txt", "600 | 850 | 900 | 995", "400 | 850 | 900 | 600", "low", "more than 1,000"},
		"more found than usable":           {"sight.txt", "| 30 | 950 |", "| 30 | 890 |", "high", "usable"},
		"sensitivity out of order":         {"sight.txt", "600 | 850", "860 | 850", "assumed", "between"},
		"share of all":                     {"sight.txt", "| 600 | 30", "| 960 | 30", "share high", "whole number from 0 to 950"},
		"a test that never errs":           {"sight.txt", "995", "1000", "right", "whole number from 1 to 999"},
		"in what does not speak":           {"sight.txt", "| swab | pcr", "| hair | pcr", "materials", "speaks"},
		"of what is no agent":              {"sight.txt", "flu-swab | flu", "flu-swab | rot", "agent", "agents.txt"},
		"of no species":                    {"sight.txt", "flu | any", "flu | newt", "species", "species.txt"},
		"a sight of one species alone":     {"sight.txt", "flu | any", "flu | other-snake", "agent", "of any species"},
		"by no method":                     {"sight.txt", "pcr", "guess", "by", "want pcr"},
		"latent out of order":              {"carriers.txt", "7 | 14", "15 | 14", "latent", "between"},
		"carried, and never found":         {"carriers.txt", "flu | 7", "pox | 7", "agent", "sight.txt"},
		"a daily chance beyond all":        {"carriers.txt", "200 | yes", "6000 | yes", "daily high", "whole number"},
		"clears perhaps":                   {"carriers.txt", "| yes |", "| perhaps |", "clears", "yes or no"},
		"a prior of nothing":               {"priors.txt", "| 50 | 200", "| 0 | 200", "low", "whole number from 1"},
		"a prior from nowhere":             {"priors.txt", "| cleared |", "| moon |", "origin", "want any"},
		"a prior of any twice":             {"priors.txt", "| cleared |", "| any |", "origin", "each once"},
		"a prior of what is not carried":   {"priors.txt", "flu-cleared | flu", "flu-cleared | pox", "agent", "carriers.txt"},
		"a prior after what never clears":  {"carriers.txt", "| yes |", "| no |", "agent", "stays"},
		"none of any":                      {"priors.txt", "flu-any | flu | any | 50 | 200 | 400 | assumed\n", "", "", "missing"},
		"clears, and no prior after it":    {"priors.txt", "flu-cleared | flu | cleared | 10 | 20 | 40 | assumed\n", "", "", "missing"},
		"no number for what is wanted":     {"values.txt", "chance-goal | 10 | in a thousand | assumed\n", "", "", "missing"},
		"no number for the time between":   {"values.txt", "sample-apart | 42 | days | assumed\n", "", "", "missing"},
		"no number for a plan's pools":     {"values.txt", "plan-pool | 5 | animals | assumed\n", "", "", "missing"},
		"no number for a plan's rounds":    {"values.txt", "plan-rounds | 4 | rounds | assumed\n", "", "", "missing"},
		"a sight twice in the same sample": {"sight.txt", "assumed\n", "assumed\nflu-again | flu | any | swab | pcr | 600 | 850 | 900 | 995 | 100 | 300 | 600 | 30 | 950 | assumed\n", "materials", "each once"},
	} {
		t.Run(name, func(t *testing.T) {
			tb := small()
			before := tb[c.file]
			if tb[c.file] = strings.Replace(before, c.old, c.new, 1); tb[c.file] == before {
				t.Fatalf("%q stands nowhere in %s", c.old, c.file)
			}
			_, err := knowledge.Load(files(tb))
			if err == nil {
				t.Fatal("accepted")
			}
			var first *knowledge.Fault
			if !errors.As(err, &first) || !strings.Contains(err.Error(), c.reason) || !strings.Contains(err.Error(), c.column) || !strings.Contains(err.Error(), c.file) {
				t.Errorf("got %v", err)
			}
		})
	}
}

// Every figure that chances are worked out from, once more: whoever changes one changes it
// here too, and says where it is from. Where nothing was published they are assumed.
func TestTables_TheFiguresOfChances(t *testing.T) {
	tables := loadShipped(t)
	span := func(low, assumed, high int) knowledge.Span {
		return knowledge.Span{Low: low, Assumed: assumed, High: high}
	}
	sensitivity := map[string]knowledge.Span{
		"serpentovirus-swab": span(600, 850, 950), "ferlavirus-swab": span(200, 400, 800), "ferlavirus-wash": span(200, 600, 900), "ferlavirus-tissue": span(500, 720, 900),
		"serpentis-lavage": span(800, 950, 950), "serpentis-cloacal": span(400, 570, 750), "cryptosporidium-faeces": span(400, 570, 750), "worms-faeces": span(400, 600, 800),
	}
	right := map[string]int{"serpentovirus-swab": 995, "worms-faeces": 980} // of the others 990
	if len(tables.Sights()) != len(sensitivity) {
		t.Errorf("%d rows of how well things are found, want %d", len(tables.Sights()), len(sensitivity))
	}
	for _, s := range tables.Sights() {
		wrong := 990
		if r, own := right[s.ID]; own {
			wrong = r
		}
		if s.Sensitivity != sensitivity[s.ID] || s.Right != wrong || s.Share != span(100, 300, 600) || s.Spread != 30 || s.Usable != 950 {
			t.Errorf("%+v", s)
		}
	}
	type carried struct {
		latent, daily knowledge.Span
		clears        bool
	}
	carriers := map[knowledge.AgentID]carried{
		"serpentovirus": {span(7, 14, 42), span(10, 50, 200), false}, "ferlavirus": {span(4, 28, 42), span(10, 50, 200), false}, "cryptosporidium-serpentis": {span(14, 28, 90), span(5, 20, 100), false},
		"cryptosporidium": {span(14, 28, 90), span(5, 20, 100), false}, "worms-and-protozoa": {span(14, 30, 60), span(0, 5, 50), true},
	}
	if len(tables.Carriers()) != len(carriers) {
		t.Errorf("%d rows of how things are carried, want %d", len(tables.Carriers()), len(carriers))
	}
	for _, c := range tables.Carriers() {
		if want := carriers[c.Agent]; c.Latent != want.latent || c.Daily != want.daily || c.Clears != want.clears {
			t.Errorf("%+v", c)
		}
	}
	priors := map[string]knowledge.Span{
		"serpentovirus-any": span(50, 200, 400), "serpentovirus-wild": span(50, 200, 600), "ferlavirus-any": span(20, 40, 80), "ferlavirus-wild": span(20, 40, 200), "serpentis-any": span(30, 80, 150), "serpentis-wild": span(30, 80, 250),
		"cryptosporidium-any": span(30, 80, 150), "cryptosporidium-wild": span(30, 80, 250), "worms-any": span(200, 500, 700), "worms-wild": span(400, 700, 900), "worms-cleared": span(50, 200, 500),
	}
	if len(tables.Priors()) != len(priors) {
		t.Errorf("%d priors, want %d", len(tables.Priors()), len(priors))
	}
	for _, p := range tables.Priors() {
		if p.Chance != priors[p.ID] {
			t.Errorf("%+v", p)
		}
	}
	if pool, rounds := tables.Value(knowledge.ValuePlanPool), tables.Value(knowledge.ValuePlanRounds); pool != 5 || rounds != 4 {
		t.Errorf("plans begin with pools of %d and %d rounds", pool, rounds)
	}
	if goal, apart := tables.Value(knowledge.ValueChanceGoal), tables.Value(knowledge.ValueSampleApart); goal != 10 || apart != 42 {
		t.Errorf("wanted is %d in 1,000, and %d days between samples", goal, apart)
	}
}
