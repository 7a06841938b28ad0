package calendar_test

import (
	"bytes"
	"errors"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"github.com/apognu/gocal"
	"pgregory.net/rapid"

	"coilward/assets"
	"coilward/export/calendar"
	"coilward/model"
	"coilward/model/due"
	"coilward/model/knowledge"
	"coilward/model/wording"
)

func texts(t testing.TB, language string) *wording.Text {
	t.Helper()
	all, err := wording.Load(assets.Text())
	if err != nil {
		t.Fatal(err)
	}
	return all.In(language, wording.Units{})
}

var (
	today = model.NewDay(2027, time.June, 9)
	now   = model.MomentOf(time.Date(2027, time.June, 9, 23, 30, 0, 0, time.FixedZone("", 2*3600)))
)

func item(n byte, job due.Job, by model.Day, name string) due.Item {
	o := due.Obligation{Key: due.Key{Subject: model.AnimalID{ID: model.ID{n}}.Subject(), Job: job, Cause: "a check"}, From: by, By: by}
	return due.Item{Obligation: o, Of: &due.Owner{Subject: o.Subject, Name: name}, State: o.State(today)}
}

// read reads a calendar with a parser that shares nothing with what wrote it.
func read(t rapid.TB, data []byte) []gocal.Event {
	t.Helper()
	start, end := time.Date(2027, 1, 1, 0, 0, 0, 0, time.UTC), time.Date(2028, 1, 1, 0, 0, 0, 0, time.UTC)
	c := gocal.NewParser(bytes.NewReader(data))
	c.Start, c.End = &start, &end
	if err := c.Parse(); err != nil {
		t.Fatal(err)
	}
	return c.Events
}

// What stands in it: what is late today, what comes on its day, nothing behind the last
// week, nothing that was answered; and of what tells of an illness not what it is.
func TestEntries(t *testing.T) {
	text := texts(t, "en")
	answered := item(6, due.Check, today, "Wren")
	answered.State = due.Answered
	vet := item(7, due.SeeVet, today, "Sorrel")
	vet.Level, vet.For = knowledge.VetWithinDays, []knowledge.FindingID{"swelling"}
	list := due.List{Day: today, Items: []due.Item{item(1, due.Offer, today-9, "Juniper"), item(2, due.Weigh, today+27, "Ash"), item(3, due.Weigh, today+28, "Brook"), answered, vet, item(8, due.Positive, today+1, "Heron")}}
	var got []string
	for _, e := range calendar.Entries(list, 4, text) {
		got = append(got, e.Day.String()+" "+e.Title)
	}
	want := []string{"2027-06-09 Offer food: Juniper", "2027-07-06 Weigh: Ash", "2027-06-09 Something to see to: Sorrel", "2027-06-10 Something to see to: Heron"}
	if !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}

// Read by another program: all day, at its day whatever the zone, no alarm, and the same
// id each time, in either language.
func TestWrite_ReadBack(t *testing.T) {
	list := due.List{Day: today, Items: []due.Item{item(1, due.Offer, today+2, "Élodie; the elder, of \\ the loft"), item(2, due.Clean, today, "Box 3")}}
	var ids [2][]string
	for i, language := range []string{"en", "de"} {
		text := texts(t, language)
		data, err := calendar.Write(calendar.Entries(list, 4, text), now, text)
		if err != nil {
			t.Fatal(err)
		}
		events := read(t, data)
		if len(events) != 2 {
			t.Fatalf("%d events of\n%s", len(events), data)
		}
		slices.SortFunc(events, func(a, b gocal.Event) int { return b.Start.Compare(*a.Start) })
		e := events[0]
		if want := text.Say("due.job.offer") + ": Élodie; the elder, of \\ the loft"; e.Summary != want {
			t.Errorf("%q, want %q", e.Summary, want)
		}
		if e.Start.Format("2006-01-02 15:04") != "2027-06-11 00:00" || e.RawEnd.Value != "20270612" || e.RawStart.Params["VALUE"] != "DATE" {
			t.Errorf("from %v to %v", e.RawStart, e.RawEnd)
		}
		if e.Stamp.UTC().Format("20060102T150405Z") != "20270609T213000Z" {
			t.Errorf("stamped %v", e.Stamp)
		}
		if strings.Contains(string(data), "VALARM") || strings.Contains(string(data), "01000000") {
			t.Errorf("an alarm, or an id of the collection, in\n%s", data)
		}
		for _, e := range events {
			ids[i] = append(ids[i], e.Uid)
		}
	}
	if !slices.Equal(ids[0], ids[1]) || ids[0][0] == ids[0][1] {
		t.Errorf("ids %v", ids)
	}
}

// Nothing due is said, and no empty file is written.
func TestWrite_Nothing(t *testing.T) {
	_, err := calendar.Write(nil, now, texts(t, "en"))
	var r *model.Refusal
	if !errors.As(err, &r) || r.Reason != "calendar.nothing" {
		t.Errorf("%v", err)
	}
}

// RFC 5545, section 3.1: a line has at most 75 octets and ends in CR LF; one that goes on
// begins with a blank. Section 3.3.11: backslash, semicolon and comma are escaped. Unfolded
// by hand, each name comes back whole.
func TestWrite_IsRFC5545(t *testing.T) {
	text := texts(t, "de")
	rapid.Check(t, func(t *rapid.T) {
		name := rapid.StringMatching(`[ -~ÄÖÜäöüß€蛇🐍]{1,120}`).Draw(t, "name")
		list := due.List{Day: today, Items: []due.Item{item(1, due.Weigh, today, name)}}
		data, err := calendar.Write(calendar.Entries(list, 1, text), now, text)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.HasSuffix(data, []byte("END:VCALENDAR\r\n")) || bytes.Count(data, []byte("\n")) != bytes.Count(data, []byte("\r\n")) {
			t.Fatalf("%q", data)
		}
		for line := range strings.SplitSeq(string(data), "\r\n") {
			if len(line) > 75 || !utf8.ValidString(line) {
				t.Fatalf("%d octets: %q", len(line), line)
			}
		}
		var summary string
		for line := range strings.SplitSeq(strings.ReplaceAll(string(data), "\r\n ", ""), "\r\n") {
			if rest, is := strings.CutPrefix(line, "SUMMARY:"); is {
				summary = strings.NewReplacer(`\\`, `\`, `\;`, ";", `\,`, ",", `\n`, "\n").Replace(rest)
			}
		}
		if want := text.Say("due.job.weigh") + ": " + name; summary != want {
			t.Fatalf("%q, want %q", summary, want)
		}
	})
}
