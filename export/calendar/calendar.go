package calendar

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/emersion/go-ical"

	"coilward/model"
	"coilward/model/disk"
	"coilward/model/due"
	"coilward/model/wording"
)

// Weeks is the longest and Usual the usual time that a calendar is written for.
const (
	Weeks = 26
	Usual = 4
)

// Entry is one day of a calendar: something to do, all day, without an alarm.
type Entry struct {
	UID   string // the same each time, so that reading it again doubles nothing
	Day   model.Day
	Title string
}

// Entries are what is due from today on for so many weeks, the day of each: what is
// late, and what is to be done today, stand today. What was answered, or put off behind
// that time, is left out. An entry says what is to be done and with whom, and neither
// why nor for which finding, and of what tells of an illness not even what: calendars are
// shared, and read in passing.
func Entries(list due.List, weeks int, text *wording.Text) (all []Entry) {
	last := list.Day + model.Day(7*weeks) - 1
	seen := map[string]bool{}
	for _, item := range list.Items {
		day := max(item.Day(list.Day), list.Day)
		e := Entry{UID: uid(item.Key), Day: day, Title: title(item, text)}
		if item.State == due.Answered || day > last || item.Once && item.Day(list.Day) < list.Day || seen[e.UID] {
			continue
		}
		seen[e.UID] = true
		all = append(all, e)
	}
	return all
}

// told are the everyday jobs, which a calendar names. Of all others, which may tell of an
// illness, a medicine or a detected thing, it says only that there is something to see to.
var told = []due.Job{due.Offer, due.Weigh, due.Check, due.ShedLook, due.Clean, due.CheckInstrument, due.ChangeLamp}

func title(item due.Item, text *wording.Text) string {
	job := text.Say("due.job." + string(item.Job))
	if !slices.Contains(told, item.Job) {
		job = text.Say("calendar.private")
	}
	if item.Of.Name == "" {
		return job
	}
	return text.Say("calendar.entry", wording.Gaps{"Job": job, "Name": item.Of.Name})
}

func date(d model.Day) time.Time {
	year, month, day := d.Date()
	return time.Date(year, month, day, 0, 0, 0, 0, time.UTC)
}

// uid is that of an obligation: it follows from subject, job and cause alone, and tells
// none of them.
func uid(k due.Key) string {
	sum := sha256.Sum256([]byte(string(k.Subject.Kind) + "\x00" + k.Subject.ID.String() + "\x00" + string(k.Job) + "\x00" + k.Cause))
	return hex.EncodeToString(sum[:16]) + "@coilward"
}

// Write writes entries as a calendar, as of a moment. Without an entry there is no
// calendar: it is refused ("calendar.nothing").
func Write(all []Entry, at model.Moment, text *wording.Text) ([]byte, error) {
	if len(all) == 0 {
		return nil, &model.Refusal{Field: "calendar", Reason: "calendar.nothing", Answer: model.Mend}
	}
	c := ical.NewCalendar()
	c.Props.SetText(ical.PropVersion, "2.0")
	c.Props.SetText(ical.PropProductID, "-//Coilward//"+strings.ToUpper(text.Language()))
	c.Props.SetText(ical.PropCalendarScale, "GREGORIAN")
	for _, e := range all {
		event := ical.NewEvent()
		event.Props.SetText(ical.PropUID, e.UID)
		event.Props.SetDateTime(ical.PropDateTimeStamp, time.Unix(at.UTC, 0).UTC())
		event.Props.SetDate(ical.PropDateTimeStart, date(e.Day))
		event.Props.SetDate(ical.PropDateTimeEnd, date(e.Day+1))
		event.Props.SetText(ical.PropSummary, clean(e.Title))
		event.Props.SetText(ical.PropTransparency, "TRANSPARENT") // it keeps nobody busy
		event.Props.SetText(ical.PropClass, "PRIVATE")
		c.Children = append(c.Children, event.Component)
	}
	var out bytes.Buffer
	if err := ical.NewEncoder(&out).Encode(c); err != nil {
		return nil, fmt.Errorf("write a calendar: %w", err)
	}
	return fold(out.Bytes()), nil
}

// WriteFile writes a calendar into a file, whole or not at all.
func WriteFile(path string, all []Entry, at model.Moment, text *wording.Text) error {
	data, err := Write(all, at, text)
	if err != nil {
		return err
	}
	return disk.Write(path, data)
}

// clean is a text without signs that a line cannot hold.
func clean(s string) string {
	return strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7f || r == utf8.RuneError {
			return ' '
		}
		return r
	}, s)
}

// longest is how many octets a line may have without its end (RFC 5545, section 3.1).
const longest = 75

// fold breaks long lines: the rest goes on behind a line end and a blank. No sign is
// broken in two.
func fold(data []byte) []byte {
	var out bytes.Buffer
	for line := range bytes.SplitSeq(data, []byte("\r\n")) {
		if len(line) == 0 {
			continue
		}
		for room := longest; len(line) > room; room = longest - 1 {
			cut := room
			for !utf8.RuneStart(line[cut]) {
				cut--
			}
			out.Write(line[:cut])
			out.WriteString("\r\n ")
			line = line[cut:]
		}
		out.Write(line)
		out.WriteString("\r\n")
	}
	return out.Bytes()
}
