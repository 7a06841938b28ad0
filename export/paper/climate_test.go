package paper_test

import (
	"strings"
	"testing"

	"coilward/export/paper"
	"coilward/export/papertest"
	"coilward/model/climate"
	"coilward/model/indoors"
)

// What was read of the climate stands on the record and on the page for the vet, with how
// many readings and from when to when; what is doubtful is said to be.
func TestClimateOnPapers(t *testing.T) {
	f := papertest.Bramble(t)
	at := f.Issued.UTC
	f.Air = paper.Air{Lately: []indoors.Lately{
		{Zone: climate.Warm, Measure: climate.Temperature, N: 1440, First: at - 29*86400, Last: at - 3600, Mean: 2640, Min: 2070, Max: 2870, Doubtful: 12, Day: climate.Share{climate.Good: 90, climate.Low: 10}},
		{Zone: climate.Warm, Measure: climate.Humidity, N: 1440, First: at - 29*86400, Last: at - 3600, Mean: 5490, Min: 4540, Max: 7550, Lack: indoors.NoRow},
		{Zone: climate.Cool, Measure: climate.Temperature, N: 1440, First: at - 29*86400, Last: at - 3600, Mean: 2440, Min: 2070, Max: 2670, Own: true, Night: climate.Share{climate.Good: 80, climate.High: 20}},
		{Zone: climate.RoomAir, Measure: climate.Temperature, N: 7, First: at - 86400, Last: at - 3600, Mean: 2200, Min: 2100, Max: 2300},
	}}
	text := papertest.Text(t, "en")
	plain := func(d paper.Document) string { return strings.ReplaceAll(paper.Plain(d), "\u00a0", " ") }
	record := plain(paper.HealthRecord(f, text, paper.A4))
	for _, want := range []string{"Climate of the last 30 days", "26.4 °C", "20.7 °C – 28.7 °C", "90 % by day (care pages)", "80 % by night (own numbers)", "not judged: no numbers", "12 doubtful", "Air of the room"} {
		if !strings.Contains(record, want) {
			t.Errorf("the record does not say %q", want)
		}
	}
	f.Air.Lately[0].UnreadOwn, f.Air.Lately[1].UnreadOwn, f.Air.Lately[2].UnreadOwn, f.Air.Lately[3].UnreadOwn = true, true, true, true
	unread := plain(paper.HealthRecord(f, text, paper.A4))
	for _, want := range []string{"90 % by day (care pages; own numbers cannot be read)", "80 % by night (own numbers)", "not judged: own numbers cannot be read"} {
		if strings.Count(unread, want) != 1 {
			t.Errorf("with own numbers that cannot be read the record does not say %q once", want)
		}
	}
	vet := plain(paper.VetPage(f, text, paper.A4))
	for _, want := range []string{"Warm end 26.4 °C (20.7 °C to 28.7 °C) (12 doubtful)", "2880 readings"} {
		if !strings.Contains(vet, want) {
			t.Errorf("the page for the vet does not say %q", want)
		}
	}
	if strings.Count(record, "not judged") != 1 { // the room is judged by nothing, and none is missed
		t.Error("of the room it is said that numbers lack")
	}
	if strings.Contains(vet, "Air of the room") {
		t.Error("the page for the vet tells of the room")
	}
	f.Air = paper.Air{}
	if strings.Contains(plain(paper.VetPage(f, text, paper.A4)), "Climate of") {
		t.Error("without a reading something is said")
	}
}
