package paper_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"coilward/export/paper"
	"coilward/export/papertest"
	"coilward/export/pdf"
	"coilward/model"
	"coilward/model/care"
	"coilward/model/newcomers"
	"coilward/model/quarantine"
)

// quarantined is the quarantine of the kept animal as papers gather it.
func (k *kept) quarantined() (q paper.Quarantine) {
	k.t.Helper()
	k.view(func(v model.View) error {
		var ok bool
		var err error
		if q, ok, err = paper.GatherQuarantine(v, k.tables, k.animal); err == nil && !ok {
			k.t.Fatal("no quarantine")
		}
		return err
	})
	return q
}

// inQuarantine is an animal that came 30 days ago: looked at for mites each week but
// for one gap, and weighed twice.
func inQuarantine(t *testing.T) (k *kept, id model.QuarantineID) {
	k = keep(t)
	id.ID = k.do(quarantine.Begin{Tables: k.tables, Animal: k.animal, Arrived: k.now(), Protocol: newcomers.Usual})
	for _, days := range []time.Duration{0, 7, 7, 14} {
		k.clock.Pass(days * 24 * time.Hour)
		k.do(care.LookForMites{About: k.about(), MiteLook: care.MiteLook{Where: []care.MiteWhere{care.WhitePaper}}})
	}
	k.do(care.Weigh{About: k.about(), Weight: care.Weight{Mass: model.Grams(900), Gut: care.GutEmpty}})
	return k, id
}

// never is what no paper about a quarantine may say of an animal.
func never() []string {
	return []string{"free of", "healthy", "mite-free", "clear of", "frei von", "gesund", "milbenfrei"}
}

func TestAQuarantineReportSaysWhatIsMetAndWhatNot(t *testing.T) {
	k, _ := inQuarantine(t)
	for language, wants := range map[string][]string{
		"en": {"Quarantine report", "Kestrel", "In quarantine, day 28 of 90", "28 of 90 days in the room", "not met", "Serpentovirus: 0 of 2 not detected", "No result pending", "Mite look", "none seen", "No check since the arrival"},
		"de": {"Quarantänebericht", "In Quarantäne, Tag 28 von 90", "28 von 90 Tagen im Raum", "nicht erfüllt", "keine gesehen"},
	} {
		for _, size := range []paper.Size{paper.A4, paper.Letter} {
			d := paper.QuarantineReport(k.quarantined(), papertest.Text(t, language), size)
			plain := paper.Plain(d)
			for _, want := range wants {
				if !strings.Contains(plain, want) {
					t.Errorf("%s: %q is not said:\n%s", language, want, plain)
				}
			}
			for _, said := range never() {
				if strings.Contains(strings.ToLower(plain), said) {
					t.Errorf("%s: it says %q", language, said)
				}
			}
			if pages := paper.Layout(d); len(pages) != 1 {
				t.Errorf("%s: %d pages", language, len(pages))
			}
			if folder := os.Getenv("COILWARD_PICTURES"); folder != "" && size == paper.A4 {
				if err := pdf.WriteFile(filepath.Join(folder, "quarantine-"+language+".pdf"), d, time.Unix(0, 0)); err != nil {
					t.Fatal(err)
				}
			}
		}
	}
}

func TestAReleaseStandsAsItWasSaid(t *testing.T) {
	k, id := inQuarantine(t)
	k.do(newcomers.Release{Tables: k.tables, ID: id, Base: 1, At: k.now(), By: k.by, Why: "the vet released her", Confirmed: model.Confirmed{"quarantine.unmet"}})
	k.clock.Pass(100 * 24 * time.Hour)
	plain := paper.Plain(paper.QuarantineReport(k.quarantined(), papertest.Text(t, "en"), paper.A4))
	for _, want := range []string{"Released from quarantine on", "day 28 of 90", "the vet released her", "Mira", "28 of 90 days in the room"} {
		if !strings.Contains(plain, want) {
			t.Errorf("%q is not said:\n%s", want, plain)
		}
	}
}

func TestAQuarantineIsAPartOfAnotherPaper(t *testing.T) {
	k, _ := inQuarantine(t)
	d := paper.Document{Sections: []paper.Section{{Blocks: paper.QuarantineBlocks(k.quarantined(), papertest.Keys{})}}, Size: paper.A4, PageOf: func(int, int) string { return "" }}
	plain := paper.Plain(d)
	for _, want := range []string{"paper.quarantine.kicker", "newcomers.line.in-room", "quarantine.state.not-met", "paper.quarantine.mites"} {
		if !strings.Contains(plain, want) {
			t.Errorf("%q is not said:\n%s", want, plain)
		}
	}
}

func TestAnAnimalThatNeverWasInQuarantineHasNoReport(t *testing.T) {
	k := keep(t)
	k.view(func(v model.View) error {
		if _, ok, err := paper.GatherQuarantine(v, k.tables, k.animal); ok || err != nil {
			t.Errorf("%v, %v", ok, err)
		}
		return nil
	})
}
