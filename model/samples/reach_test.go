package samples_test

import (
	"testing"

	"coilward/assets"
	"coilward/model"
	"coilward/model/knowledge"
	"coilward/model/samples"
)

// What "not detected" leaves open. Sources: reptarenavirus may be in the brain and spinal
// cord only, Stenglein et al. 2017 J Virol; swabs of glottis and cloaca together found
// ferlavirus in 2 of 5 snakes that had it, Flach et al. 2018 J Zoo Wildl Med 49(4); it is
// found in a tracheal wash, Pees et al. 2016 Vet Microbiol 182:213 (abstracts).
func TestWhatNotDetectedLeavesOpen(t *testing.T) {
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		of   knowledge.AgentID
		in   knowledge.MaterialID
		want string
	}{
		{"reptarenavirus", "blood", "samples.silent"},
		{"ferlavirus", "faeces", "samples.silent"},
		{"ferlavirus", "oral-swab", "samples.weak"},
		{"ferlavirus", "cloacal-swab", "samples.weak"},
		{"ferlavirus", "tracheal-wash", ""},
		{"serpentovirus", "oral-swab", ""},
	} {
		l, ok := samples.Reach(tables, c.of, c.in)
		if l.Key != c.want || ok != (c.want != "") {
			t.Errorf("%s in %s: %q, %v", c.of, c.in, l.Key, ok)
		}
		if c.want == "samples.weak" && (l.Gaps["Found"] != model.CountGap(2) || l.Gaps["Of"] != model.CountGap(5)) {
			t.Errorf("%s in %s: %+v", c.of, c.in, l.Gaps)
		}
	}
}
