package papers

import (
	"strings"
	"testing"

	"coilward/export/paper"
	"coilward/model"
	"coilward/model/collection"
	"coilward/ui/place"
	"coilward/ui/uitest"
)

// Sheets for checks are printed of the chosen animal, of each in a place, or of none, each
// with a code of its own and with or without the list; a weighing list names who is there.
func TestSheetsToWriteOn(t *testing.T) {
	p, w, _ := opened(t, uitest.Looks()[0], "en", "Kestrel")
	housed(t, w, 2)
	p.Changed(collection.Change{})
	says := func(part string) bool {
		return p.paper != nil && strings.Contains(paper.Plain(p.paper.document), part)
	}
	w.choose(p, "Sheet for a check")
	if !says("Kestrel") || !says("What is looked for, by number") || len(p.paper.pages) != 2 {
		t.Fatalf("a sheet of one animal; faults %v", w.faults)
	}
	uitest.Tap(t, p.Content(), "With the list of what is looked for")
	if says("What is looked for, by number") || len(p.paper.pages) != 1 {
		t.Error("the list is printed although it was left out")
	}
	uitest.Tap(t, p.Content(), "Each in a place")
	if !says("Kestrel") || len(p.paper.pages) != len(p.animals) {
		t.Errorf("sheets of all: %d pages of %d animals", len(p.paper.pages), len(p.animals))
	}
	p.wanted.write.in = p.boxes()[0].ID
	p.again()
	if p.paper != nil || !uitest.Shows(p.Content(), "Nobody lives there.") {
		t.Error("an empty box has a sheet, or nothing is said of it")
	}
	p.wanted.write.in = model.PlaceID{}
	uitest.Tap(t, p.Content(), "Without an animal")
	if says("Kestrel") || !says("which animal: name or code") {
		t.Error("the sheet of no animal")
	}
	w.choose(p, "Weighing list")
	if !says("Kestrel") || !says("All boxes") {
		t.Error("the weighing list")
	}
	if len(w.faults) > 0 {
		t.Errorf("faults %v", w.faults)
	}
}

// A route asks for the sheet of its animal.
func TestARouteAsksForASheet(t *testing.T) {
	p, w, _ := opened(t, uitest.Looks()[0], "en", "Kestrel")
	p.Show(place.Route{To: place.Papers, Subject: p.animals[0].ID.ID, Page: place.CheckSheet})
	if p.paper == nil || p.wanted.kind != checkSheets || !strings.Contains(paper.Plain(p.paper.document), "Kestrel") {
		t.Fatalf("no sheet; faults %v", w.faults)
	}
}
