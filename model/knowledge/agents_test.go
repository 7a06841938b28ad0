package knowledge_test

import (
	"testing"

	"coilward/assets"
	"coilward/model/knowledge"
)

// How things go about, and what misses them. Source of the one figure: Flach et al. 2018,
// J Zoo Wildl Med 49(4) (abstract); how they go about is common practice, no source.
func TestHowAgentsGoAboutAndWhatMissesThem(t *testing.T) {
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	for _, a := range tables.Agents() {
		if want := a.ID == knowledge.FaecalAgent; tables.Confined(a.ID) != want {
			t.Errorf("%s goes through the room: %v", a.ID, !tables.Confined(a.ID))
		}
		if figure := a.ID == "ferlavirus"; figure != (a.Of > 0) || figure && (a.Found != 2 || a.Of != 5) {
			t.Errorf("%s: found in %d of %d", a.ID, a.Found, a.Of)
		}
	}
	if tables.Confined("of a newer version") {
		t.Error("one that is not known is held for one that stays")
	}
	for material, weak := range map[knowledge.MaterialID]bool{"oral-swab": true, "cloacal-swab": true, "tracheal-wash": false} {
		if tables.Weak("ferlavirus", material) != weak {
			t.Errorf("ferlaviruses in %s: %v", material, !weak)
		}
	}
	if tables.Weak("serpentovirus", "oral-swab") {
		t.Error("of serpentoviruses no figure was found")
	}
}
