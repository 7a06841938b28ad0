package contact_test

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"coilward/assets"
	"coilward/model"
	"coilward/model/contact"
	"coilward/model/knowledge"
)

func load(t *testing.T) *knowledge.Tables {
	t.Helper()
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	return tables
}

// What is to be done, in its order: apart and the vet first, whatever else; of the
// samples a second one first where it may be a false alarm, single ones after a pool.
// Sources: positive.txt.
func TestStored_Acts(t *testing.T) {
	tables := load(t)
	const first, apart, nearOnes, newcomers = "stop-moves call-vet ", "stop-sales serve-last own-tools disinfect", "sample-near", "restart-newcomers"
	one, two := []model.AnimalID{animal(1)}, []model.AnimalID{animal(1), animal(2)}
	for name, c := range map[string]struct {
		positive contact.Stored
		owes     contact.Owes
		want     string
	}{
		"one animal, alone":       {contact.Stored{Animals: one}, contact.Owes{}, first + apart + " repeat"},
		"it may be a false alarm": {contact.Stored{Animals: one, Positive: contact.Positive{Doubt: true}}, contact.Owes{}, first + "confirm " + apart},
		"a pool":                  {contact.Stored{Animals: two, Positive: contact.Positive{Doubt: true}}, contact.Owes{}, first + "single-samples " + apart},
		"somebody was near":       {contact.Stored{Animals: one}, contact.Owes{Near: 1}, first + apart + " repeat " + nearOnes},
		"a newcomer was near":     {contact.Stored{Animals: one}, contact.Owes{Near: 2, Newcomers: 1}, first + apart + " repeat " + nearOnes + " " + newcomers},
		"what goes by droppings":  {contact.Stored{Animals: one, Positive: contact.Positive{Agent: knowledge.FaecalAgent}}, contact.Owes{Near: 2}, "own-box call-vet stop-sales serve-after own-tools disinfect repeat"},
	} {
		got := ""
		for i, s := range c.positive.Acts(tables, c.owes) {
			if i > 0 {
				got += " "
			}
			got += string(s.ID)
		}
		if diff := cmp.Diff(c.want, got); diff != "" {
			t.Errorf("%s: %s", name, diff)
		}
	}
}

// What works on what was detected, by the table of effects: half a percent of
// hypochlorite on enveloped viruses (common practice, no source), and on oocysts 6 % of
// hydrogen peroxide, but no chlorine (seen: disinfectants on C. parvum oocysts). What has
// to act for 18 hours (memory: Campbell et al. 1982) is not named.
func TestMeans(t *testing.T) {
	tables := load(t)
	has := func(of knowledge.AgentID, means knowledge.MeansID) bool {
		for _, e := range contact.Means(tables, of) {
			if e.Means == means {
				return true
			}
		}
		return false
	}
	for _, c := range []struct {
		of    knowledge.AgentID
		means knowledge.MeansID
		works bool
	}{
		{"serpentovirus", "hypochlorite-half", true}, {"serpentovirus", "chlorhexidine", false},
		{"cryptosporidium-serpentis", "hydrogen-peroxide-6", true}, {"cryptosporidium-serpentis", "hypochlorite-half", false},
		{"cryptosporidium-serpentis", "ammonia-5", false}, {"cryptosporidium-serpentis", "formol-saline-10", false},
		{"cryptosporidium-serpentis", "chlorine-80ppm", false}, {"worms-and-protozoa", "hypochlorite-half", false},
	} {
		if got := has(c.of, c.means); got != c.works {
			t.Errorf("%s on %s: %v", c.means, c.of, got)
		}
	}
}

// What has no effect on oocysts, by the abstract of "Efficacy of common laboratory
// disinfectants on the infectivity of C. parvum oocysts in cell culture", fails; what
// works, works in part or is told of another target does not stand there.
func TestFails(t *testing.T) {
	tables := load(t)
	for _, c := range []struct {
		of   knowledge.AgentID
		want []knowledge.MeansID
	}{
		{"cryptosporidium-serpentis", []knowledge.MeansID{"ethanol-70", "isopropanol-70", "methanol-37", "hypochlorite-6", "hypochlorite-half", "chlorhexidine"}},
		{"serpentovirus", nil}, {"worms-and-protozoa", nil},
	} {
		var got []knowledge.MeansID
		for _, e := range contact.Fails(tables, c.of) {
			got = append(got, e.Means)
		}
		slices.Sort(got)
		slices.Sort(c.want)
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", c.of, got, c.want)
		}
	}
}
