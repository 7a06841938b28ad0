package animal

import (
	"testing"
	"time"

	"pgregory.net/rapid"

	"coilward/model"
)

func entryOn(day model.Day, kind string, n byte) model.Document {
	return model.Document{Type: model.TypeEntry, Kind: kind, ID: model.ID{n}, At: model.Moment{UTC: int64(day) * 86400, Precision: model.ToDay}}
}

func TestDays_StandUnderTheirMonths(t *testing.T) {
	d := &Days{Entries: []model.Document{
		entryOn(model.NewDay(2027, time.March, 14), "check", 5),
		entryOn(model.NewDay(2027, time.March, 1), "meal", 4),
		entryOn(model.NewDay(2027, time.January, 30), "weight", 3),
		entryOn(model.NewDay(2026, time.December, 31), "weight", 2),
	}}
	d.Only()
	var got []int
	for _, l := range d.Lines {
		if l.Heading {
			got = append(got, -l.Count)
		} else {
			got = append(got, l.Entry)
		}
	}
	want := []int{-2, 0, 1, -1, 2, -1, 3}
	if len(got) != len(want) {
		t.Fatalf("lines %v, want %v", got, want)
	}
	for i := range want {
		if got[i] != want[i] {
			t.Fatalf("lines %v, want %v", got, want)
		}
	}
	if line := d.FindMonth(2027, time.February); line != 3 {
		t.Errorf("February is found at line %d, want January's heading, 3", line)
	}
	if line := d.FindMonth(2026, time.November); line != -1 {
		t.Errorf("a month before all is found at line %d", line)
	}
	if line := d.Find(model.EntryID{ID: model.ID{2}}); line != 6 {
		t.Errorf("the oldest entry is found at line %d, want 6", line)
	}
	first, counts := d.Months()
	if first.Month() != time.December || len(counts) != 4 || counts[0] != 1 || counts[2] != 0 || counts[3] != 2 {
		t.Errorf("months from %v: %v", first, counts)
	}
}

func TestDays_FilterKeepsOnlyTheChosen(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		kinds := []string{"weight", "meal", "check", "of-a-newer-version"}
		day := model.NewDay(2027, time.June, 1)
		d := &Days{}
		for i := range rapid.IntRange(0, 40).Draw(t, "entries") {
			day -= model.Day(rapid.IntRange(0, 40).Draw(t, "gap"))
			d.Entries = append(d.Entries, entryOn(day, rapid.SampledFrom(kinds).Draw(t, "kind"), byte(i)))
		}
		only := rapid.SliceOfDistinct(rapid.SampledFrom(kinds), rapid.ID[string]).Draw(t, "only")
		d.Only(only...)
		shown, headed := 0, 0
		for _, l := range d.Lines {
			if l.Heading {
				headed += l.Count
			} else {
				shown++
			}
		}
		want := 0
		for _, e := range d.Entries {
			for _, kind := range only {
				if e.Kind == kind {
					want++
				}
			}
		}
		if len(only) == 0 {
			want = len(d.Entries)
		}
		_, counts := d.Months()
		sum := 0
		for _, n := range counts {
			sum += n
		}
		if shown != want || headed != want || sum != want {
			t.Fatalf("%d lines, headings say %d, strip says %d, want %d", shown, headed, sum, want)
		}
	})
}
