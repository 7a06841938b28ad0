package care_test

import (
	"testing"

	"coilward/model"
	"coilward/model/care"
)

// A bath of 26 to 30 degrees and at most half an hour (assumed), and fluids of 25 to 30
// degrees (common practice, no source) are taken as they are; beyond it is asked.
func TestBathsAndFluids(t *testing.T) {
	h, tables := begin(t), shipped(t)
	warm := func(hundredths int64) model.Temperature { return model.Temperature{Hundredths: hundredths} }
	bath := func(w int64, minutes int, yes ...string) model.Command {
		c := care.Bathe{Tables: tables, About: h.about(0), Bath: care.Bath{Warm: warm(w), Minutes: minutes}}
		c.Confirmed = yes
		return c
	}
	fluids := func(what, vet string, w int64) model.Command {
		return care.GiveFluids{Tables: tables, About: h.about(0), Fluids: care.Fluids{What: what, Advised: vet, Warm: warm(w)}}
	}
	for name, c := range map[string]struct {
		command model.Command
		reason  string
	}{
		"as warm as it may be":     {bath(3000, 30), ""},
		"as cold as it may be":     {bath(2600, 0), ""},
		"not measured":             {bath(0, 10), ""},
		"too warm":                 {bath(3001, 10), care.AskWarm},
		"too warm, and it was so":  {bath(3001, 10, care.AskWarm), ""},
		"too cold":                 {bath(2599, 10), care.AskCold},
		"too long":                 {bath(2800, 31), care.AskLong},
		"no time":                  {bath(2800, -1), "number.range"},
		"longer than a day":        {bath(2800, 1441, care.AskLong), "number.range"},
		"boiling over":             {bath(10_001, 5, care.AskWarm), "water.cannot"},
		"fluids by a vet":          {fluids("as written", "Dr Heron", 2500), ""},
		"fluids by nobody":         {fluids("as written", " ", 0), "fluids.advised"},
		"fluids, but not which":    {fluids("", "Dr Heron", 0), "text.empty"},
		"fluids that are too cold": {fluids("as written", "Dr Heron", 2499), care.AskCold},
		"in blue":                  {care.RecordBlue{About: h.about(0)}, ""},
	} {
		if _, err := h.Do(c.command); reason(err) != c.reason || c.reason == "" && err != nil {
			t.Errorf("%s: %v, want %q", name, err, c.reason)
		}
	}
}
