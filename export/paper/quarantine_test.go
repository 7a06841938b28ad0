package paper_test

import (
	"fmt"
	"image/color"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"coilward/export/paper"
	"coilward/export/papertest"
	"coilward/export/pdf"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/drawing"
	"coilward/model/exam"
	"coilward/model/husbandry"
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
	tub := k.do(husbandry.AddPlaces{Branches: []husbandry.Branch{{Place: husbandry.Place{Name: "Tub", Kind: husbandry.Tub}}}})
	k.do(husbandry.Move{Animal: k.animal, Place: model.PlaceID{ID: tub}, At: k.now()})
	id.ID = k.do(quarantine.Begin{Tables: k.tables, Animal: k.animal, Arrived: k.now(), Protocol: newcomers.Usual})
	for _, days := range []time.Duration{0, 7, 7, 14} {
		k.clock.Pass(days * 24 * time.Hour)
		k.do(care.LookForMites{About: k.about(), MiteLook: care.MiteLook{Where: []care.MiteWhere{care.OnAnimal}}})
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
		"en": {"Quarantine report", "Kestrel", "In quarantine, day 28 of 90", "28 of 90 days in the room", "not met", "Serpentovirus", "No result pending", "Mite look", "none seen", "No check since the arrival"},
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
	q := k.quarantined()
	q.Told = true
	plain := paper.Plain(paper.QuarantineReport(q, papertest.Text(t, "en"), paper.A4))
	for _, want := range []string{"Released from quarantine on", "day 28 of 90", "the vet released her", "Mira", "28 of 90 days in the room"} {
		if !strings.Contains(plain, want) {
			t.Errorf("%q is not said:\n%s", want, plain)
		}
	}
	k.view(func(v model.View) error {
		g, err := paper.Gather(v, paper.Gathering{Animal: k.animal, Tables: k.tables})
		if err != nil {
			return err
		}
		first, _, _ := strings.Cut(paper.Plain(paper.HealthRecord(g.Facts(), papertest.Text(t, "en"), paper.A4)), "\n== What this rests on")
		if want := "day 28 of 90; met then: 0 of 12 things"; !strings.Contains(first, want) {
			t.Errorf("the first page does not say %q of the quarantine:\n%s", want, first)
		}
		return nil
	})
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

// From whom it came and why it was released are told only where that was asked for:
// both may speak of people.
func TestWhoItCameFromIsToldWhereItIsAskedFor(t *testing.T) {
	k, id := inQuarantine(t)
	k.do(newcomers.Release{Tables: k.tables, ID: id, Base: 1, At: k.now(), By: k.by, Why: "the neighbour wants her", Confirmed: model.Confirmed{"quarantine.unmet"}})
	for _, told := range []bool{false, true} {
		q := k.quarantined()
		q.Animal.From, q.Told = "Fenwick of Otterby", told
		plain := paper.Plain(paper.QuarantineReport(q, papertest.Text(t, "en"), paper.A4))
		for _, private := range []string{"Fenwick of Otterby", "the neighbour wants her"} {
			if strings.Contains(plain, private) != told {
				t.Errorf("asked for %v: %q", told, private)
			}
		}
		if !strings.Contains(plain, "Why, with things not met") {
			t.Errorf("asked for %v: that there is a reason is not said:\n%s", told, plain)
		}
		f := k.facts()
		f.Quarantine.Animal.From = q.Animal.From
		if record := paper.Plain(paper.HealthRecord(f, papertest.Text(t, "en"), paper.A4)); strings.Contains(record, "the neighbour wants her") || strings.Contains(record, "Fenwick") {
			t.Error("the record's part about the quarantine tells it")
		}
	}
}

// The report says by which version and tables it was made, and the source of what is asked.
func TestAQuarantineReportSaysWhatItRestsOn(t *testing.T) {
	k, _ := inQuarantine(t)
	q := k.quarantined()
	q.Version = "9.8.7"
	for language, want := range map[string]string{"en": "Source of the protocol: ", "de": "Quelle des Protokolls: "} {
		plain := paper.Plain(paper.QuarantineReport(q, papertest.Text(t, language), paper.A4))
		for _, want := range []string{"9.8.7", k.tables.Hash()[:4], want + papertest.Text(t, language).Source(q.Protocol.Source)} {
			if !strings.Contains(plain, want) {
				t.Errorf("%s: %q is not said:\n%s", language, want, plain)
			}
		}
		if strings.Contains(plain, "[hollow]") || !strings.Contains(plain, "[cross]") {
			t.Errorf("%s: what is not met bears the sign of a speck", language)
		}
	}
}

// While a quarantine is open neither record nor card reads as if nothing were open.
func TestRecordAndCardSayThatAQuarantineIsOpen(t *testing.T) {
	k, id := inQuarantine(t)
	const watch = "In quarantine, day 28 of 90; watch for mites until "
	record := func() string {
		d := paper.HealthRecord(k.facts(), papertest.Text(t, "en"), paper.A4)
		d.Sections = d.Sections[:1]
		return paper.Plain(d)
	}
	card := func() string { return paper.Plain(paper.EmergencyCard(k.facts(), nil, papertest.Text(t, "en"))) }
	for name, plain := range map[string]string{"record": record(), "card": card()} {
		if !strings.Contains(plain, watch) || strings.Contains(plain, "nothing that is open") || strings.Contains(plain, "No finding stands open") {
			t.Errorf("the %s does not say it:\n%s", name, plain)
		}
	}
	if strings.Contains(record(), "tests, quarantine") || strings.Contains(record(), "Not in these records: quarantine") {
		t.Error("the quarantine is said to be not in the records")
	}
	k.do(newcomers.Release{Tables: k.tables, ID: id, Base: 1, At: k.now(), By: k.by, Why: "asked", Confirmed: model.Confirmed{"quarantine.unmet"}})
	if strings.Contains(record(), "In quarantine") || strings.Contains(card(), "In quarantine") {
		t.Error("a quarantine that ended is said to be open")
	}
}

// Mites that are gone are not told as gone without the watch that goes on.
func TestMitesGoneDuringTheWatchAreToldWithIt(t *testing.T) {
	k, _ := inQuarantine(t)
	f := k.facts()
	at := f.Issued
	f.Problems = []exam.StoredProblem{{Problem: exam.Problem{Stop: "skin", What: "mites", Glimpses: []exam.Glimpse{{Standing: exam.New, At: at}, {Standing: exam.Gone, At: at}}}}}
	want := "paper.gone.watched{Day=" + f.Quarantine.Facts.Mites.Ends.String() + "}"
	if plain := said(f, paper.A4); !strings.Contains(plain, want) {
		t.Errorf("%q is not said:\n%s", want, plain)
	}
	f.Problems[0].What = "red-gums"
	if plain := said(f, paper.A4); strings.Contains(plain, "paper.gone.watched") {
		t.Error("what is no mites is told with the watch for them")
	}
}

// A positive that is open stands above the list, and is called a positive where a line
// rests on it.
func TestAnOpenPositiveStandsAboveTheList(t *testing.T) {
	k, _ := inQuarantine(t)
	room := model.PlaceID{ID: k.do(husbandry.AddPlaces{Branches: []husbandry.Branch{{Place: husbandry.Place{Name: "Room", Kind: husbandry.Vivarium}}}})}
	mate := model.AnimalID{ID: k.do(animals.Add{Animal: animals.Animal{Name: "Alder"}})}
	k.do(husbandry.Move{Animal: k.animal, Place: room, At: k.now()})
	k.do(husbandry.Move{Animal: mate, Place: room, At: k.now(), Confirmed: model.Confirmed{"house.shared"}})
	k.clock.Pass(72 * time.Hour)
	k.detected(mate)
	plain := paper.Plain(paper.QuarantineReport(k.quarantined(), papertest.Keys{}, paper.A4))
	at, list := strings.Index(plain, "paper.positive.near"), strings.Index(plain, "paper.quarantine.asked")
	if at < 0 || at > list {
		t.Errorf("it stands at %d, the list at %d", at, list)
	}
	if !strings.Contains(plain, "Kind=kind.positive") || strings.Contains(plain, "Kind=kind.check") {
		t.Errorf("the positive is not called one:\n%s", plain)
	}
	for language, want := range map[string][2]string{"en": {"Something was detected in another animal", "Serpentovirus was detected in another animal near it"}, "de": {"Bei N. N. (anderes Tier) wurde etwas nachgewiesen", "Serpentovirus wurde bei einem anderen Tier in der Nähe nachgewiesen"}} {
		text := papertest.Text(t, language)
		own, record := paper.Plain(paper.QuarantineReport(k.quarantined(), text, paper.A4)), paper.Plain(paper.HealthRecord(k.facts(), text, paper.A4))
		if !strings.Contains(own, "Alder") || strings.Contains(record, "Alder") || !strings.Contains(record, want[0]) {
			t.Errorf("%s: who the other is\nin the keeper's own paper:\n%s\nin the record:\n%s", language, own, record)
		}
		if vet := paper.Plain(paper.VetPage(k.facts(), text, paper.A4)); !strings.Contains(vet, want[1]) {
			t.Errorf("%s: the vet is not asked of it:\n%s", language, vet)
		}
	}
}

// What cannot be told yet bears another sign than what is not met, and than a speck, and
// what is met and to be watched another than a look that saw none in the chart; a line
// rests on entries of days told in short.
func TestWhatCannotBeToldYetHasASignOfItsOwn(t *testing.T) {
	k, _ := inQuarantine(t)
	q := k.quarantined()
	signs := map[quarantine.State]string{quarantine.Met: "[tick] met", quarantine.Watch: "[tick on a line] met, to be watched", quarantine.NotMet: "[cross] not met", quarantine.CannotTell: "[question] cannot be told yet"}
	for _, state := range quarantine.States() {
		for i := range q.Gate.Lines {
			q.Gate.Lines[i].State = state
		}
		plain := paper.Plain(paper.QuarantineReport(q, papertest.Text(t, "en"), paper.A4))
		for _, sign := range []string{"[tick]", "[tick on a line]", "[ring]", "[cross]", "[question]", "[hollow]", "[diamond]"} {
			if said := strings.Contains(plain, sign); said != strings.HasPrefix(signs[state], sign) {
				t.Errorf("%s: %s is said: %v", state, sign, said)
			}
		}
		if !strings.Contains(plain, signs[state]) {
			t.Errorf("%s: %q is not said:\n%s", state, signs[state], plain)
		}
	}
}

// Where nobody looked for mites that is said instead of an empty drawing.
func TestNoLookForMitesIsSaid(t *testing.T) {
	k := keep(t)
	k.do(quarantine.Begin{Tables: k.tables, Animal: k.animal, Arrived: k.now(), Protocol: newcomers.Usual})
	d := paper.QuarantineReport(k.quarantined(), papertest.Keys{}, paper.A4)
	if plain := paper.Plain(d); strings.Contains(plain, "paper.quarantine.mites-caption") || !strings.Contains(plain, "quarantine.why.mites-no-look") {
		t.Errorf("an empty drawing is printed:\n%s", plain)
	}
}

// While something holds a release that days alone do not settle, no day of it is told; and
// days that began again, or are over, are told as the list counts them.
func TestNoDayOfReleaseIsToldBeforeWhatHoldsItIsSettled(t *testing.T) {
	k, _ := inQuarantine(t)
	q := k.quarantined()
	said := func() string { return paper.Plain(paper.QuarantineReport(q, papertest.Text(t, "en"), paper.A4)) }
	if plain := said(); !strings.Contains(plain, "Release: not before ") || !strings.Contains(plain, "day 28 of 90. ") {
		t.Errorf("the day is not told:\n%s", plain)
	}
	q.Day = 115
	if plain := said(); !strings.Contains(plain, "day 115; 90 days are asked. ") {
		t.Errorf("days that are over are told amiss:\n%s", plain)
	}
	for i, l := range q.Gate.Lines {
		switch l.Item {
		case quarantine.InRoom:
			q.Gate.Lines[i].Have, q.Gate.Lines[i].Again = 3, q.Gate.Day-3
		case quarantine.NoneFound:
			q.Gate.Lines[i].State = quarantine.NotMet
		}
	}
	if plain := said(); strings.Contains(plain, "not before") || !strings.Contains(plain, "Release: no date") || !strings.Contains(plain, "day 115; the days began again, 3 of 90 so far. ") {
		t.Errorf("a day is told that days alone do not bring:\n%s", plain)
	}
}

// strokes is a canvas that keeps the paths that are drawn on it.
type strokes struct{ all []string }

func (*strokes) Text(float64, float64, paper.Face, float64, color.NRGBA, string) {}
func (s *strokes) Path(p drawing.Path, _ paper.Paint)                            { s.all = append(s.all, fmt.Sprint(p)) }
func (*strokes) Clip(drawing.Path)                                               {}
func (*strokes) Unclip()                                                         {}
func (*strokes) Picture(string, []byte, paper.Box)                               {}
func (*strokes) Mark(int, string, float64)                                       {}

// A look that saw none and not the animal itself does not count: it is said, and drawn apart.
func TestALookThatDoesNotCountIsToldApart(t *testing.T) {
	k, _ := inQuarantine(t)
	q := k.quarantined()
	report := func() (string, []string) {
		d := paper.QuarantineReport(q, papertest.Text(t, "en"), paper.A4)
		s := &strokes{}
		for i, p := range paper.Layout(d) {
			paper.DrawPage(s, d, p, i+1, 1)
		}
		return paper.Plain(d), s.all
	}
	counts, drawn := report()
	q.Looks[1].Glance = true
	passing, apart := report()
	const said = "none seen, does not count, the animal itself was not looked at"
	if strings.Contains(counts, said) || !strings.Contains(passing, said) {
		t.Errorf("it is not said:\n%s", passing)
	}
	if slices.Equal(drawn, apart) {
		t.Error("it is drawn as one that counts")
	}
}
