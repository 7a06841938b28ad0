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
		got, ok := tables.Sight(c.of, c.in, c.by)
		if ok != (c.want != "") || got.ID != c.want {
			t.Errorf("%s in %s by %q: %q, %v", c.of, c.in, c.by, got.ID, ok)
		}
	}
	swab, _ := tables.Sight("serpentovirus", "oral-swab", "")
	if swab.Sensitivity != (knowledge.Span{Low: 600, Assumed: 850, High: 950}) || swab.Right != 995 || swab.Share != (knowledge.Span{Low: 100, Assumed: 300, High: 600}) || swab.Spread != 30 || swab.Usable != 950 || !swab.Assumed() {
		t.Errorf("a swab for serpentovirus: %+v", swab)
	}
	if wash, _ := tables.Sight("cryptosporidium-serpentis", "stomach-lavage", ""); wash.Assumed() || wash.Sensitivity.Assumed != 950 {
		t.Errorf("a lavage: %+v", wash)
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
		"a sight twice in the same sample": {"sight.txt", "assumed\n", "assumed\nflu-again | flu | swab | pcr | 600 | 850 | 900 | 995 | 100 | 300 | 600 | 30 | 950 | assumed\n", "materials", "each once"},
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
