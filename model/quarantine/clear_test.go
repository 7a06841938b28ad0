package quarantine_test

import (
	"testing"

	"coilward/model"
	"coilward/model/quarantine"
)

func TestClear_CountsSamplesAndNotWhatTheyWereLookedThroughFor(t *testing.T) {
	first, second, detected := model.ID{1}, model.ID{2}, model.ID{3}
	for name, c := range map[string]struct {
		lines []quarantine.Line
		want  int
	}{
		"nothing asked":              {nil, 0},
		"one sample, two things":     {[]quarantine.Line{{Item: quarantine.LookedFor, Have: 1, On: []model.ID{first}}, {Item: quarantine.LookedFor, Have: 1, On: []model.ID{first}}}, 1},
		"two samples, two things":    {[]quarantine.Line{{Item: quarantine.LookedFor, Have: 2, On: []model.ID{first, second}}, {Item: quarantine.LookedFor, Have: 1, On: []model.ID{first}}}, 2},
		"detected before":            {[]quarantine.Line{{Item: quarantine.LookedFor, Have: 1, On: []model.ID{first, detected}}}, 1},
		"detected, and it stands":    {[]quarantine.Line{{Item: quarantine.LookedFor, Have: 0, On: []model.ID{detected}}}, 0},
		"another thing than samples": {[]quarantine.Line{{Item: quarantine.Faecal, Have: 1, On: []model.ID{first}}}, 0},
	} {
		if got := (quarantine.Gate{Lines: c.lines}).Clear(); got != c.want {
			t.Errorf("%s: %d, want %d", name, got, c.want)
		}
	}
}
