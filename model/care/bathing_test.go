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

// A correction asks as a new entry does, but not again about what was noted already.
func TestACorrectedBathAsks(t *testing.T) {
	h, tables := begin(t), shipped(t)
	warm := func(hundredths int64) model.Temperature { return model.Temperature{Hundredths: hundredths} }
	about := h.about(0)
	about.Confirmed = model.Confirmed{care.AskWarm, care.AskLong}
	bath := care.Bathe{Tables: tables, About: about, Bath: care.Bath{Warm: warm(3100), Minutes: 40}}
	kept := func(c model.Command) model.EntryID {
		done, err := h.Do(c)
		if err != nil {
			t.Fatal(err)
		}
		return model.EntryID{ID: done.Documents[0]}
	}
	revision := func(id model.EntryID) (n uint32) {
		if err := h.View(func(v model.View) error {
			d, err := v.Document(id.ID)
			n = d.Revision
			return err
		}); err != nil {
			t.Fatal(err)
		}
		return n
	}
	bath.Entry = kept(bath)
	fluids := care.GiveFluids{Tables: tables, About: about, Fluids: care.Fluids{What: "as written", Advised: "Dr Heron", Warm: warm(2800)}}
	fluids.Entry = kept(fluids)
	bath.Confirmed, fluids.Confirmed = nil, nil
	bathed := func(w int64, minutes int) func() model.Command {
		return func() model.Command {
			c := bath
			c.Base, c.Warm, c.Minutes = revision(c.Entry), warm(w), minutes
			return c
		}
	}
	given := func(w int64) func() model.Command {
		return func() model.Command {
			c := fluids
			c.Base, c.Warm = revision(c.Entry), warm(w)
			return c
		}
	}
	for _, c := range []struct {
		name    string
		command func() model.Command
		reason  string
	}{
		{"the same bath", bathed(3100, 40), ""},
		{"a hotter one", bathed(3400, 40), care.AskWarm},
		{"a longer one", bathed(3100, 41), care.AskLong},
		{"one as it should be", bathed(2800, 20), ""},
		{"the same fluids", given(2800), ""},
		{"fluids that are too warm", given(3001), care.AskWarm},
	} {
		if _, err := h.Do(c.command()); reason(err) != c.reason || c.reason == "" && err != nil {
			t.Errorf("%s: %v, want %q", c.name, err, c.reason)
		}
	}
}
