package label

import (
	"strings"

	"coilward/model"
)

// tube marks the code of a sample's tube, which is no Label: who sorts photos by
// the cards in them passes over it. It is frozen: stuck tubes carry it.
const tube = scheme + "sample:"

// TubeText is what the code on a sample's tube carries, such as
// "COILWARD:SAMPLE:0190A1B2-C3D4-7E5F-8A9B-0C1D2E3F4A5B". Capitals, digits, colon
// and hyphen take the least room in a code (the alphanumeric mode of ISO/IEC 18004).
func TubeText(id model.SampleID) string { return strings.ToUpper(tube + id.String()) }

// ParseTube reads the text of a tube's code: white space around it and the case of
// its letters do not matter. ok is false for every text that is none, cards' codes
// among them.
func ParseTube(text string) (id model.SampleID, ok bool) {
	rest, ours := strings.CutPrefix(strings.ToLower(strings.TrimSpace(text)), tube)
	if !ours {
		return id, false
	}
	parsed, err := model.ParseID(rest)
	if err != nil || parsed.IsZero() {
		return id, false
	}
	return model.SampleID{ID: parsed}, true
}
