package welfare_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"coilward/assets"
	"coilward/model"
	"coilward/model/knowledge"
	"coilward/model/welfare"
)

func tables(t interface{ Fatal(...any) }) *knowledge.Tables {
	all, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// noon is midday of a day.
func noon(d model.Day) model.Moment {
	return model.Moment{UTC: int64(d)*86400 + 12*3600, Precision: model.ToMinute}
}

const today = model.Day(20_000)

func seen(d model.Day, in knowledge.Setting, signs ...knowledge.SignID) welfare.Entry {
	return welfare.Entry{At: noon(d), Body: welfare.Observation{Setting: in, Signs: signs, None: len(signs) == 0}}
}

func handled(d model.Day, h welfare.Handling) welfare.Entry {
	return welfare.Entry{At: noon(d), Body: h}
}

// What a sign says hangs on what is done meanwhile; a scan sheet is one visit.
func TestVisits_BySetting(t *testing.T) {
	all := tables(t)
	entries := []welfare.Entry{
		seen(today, knowledge.Feeding, "striking", "hissing"), seen(today, knowledge.Handled, "striking", "exploring"),
		handled(today, welfare.Handling{Lifts: 1}),
		{At: noon(today), Body: welfare.Observation{Setting: knowledge.Untouched, Signs: []knowledge.SignID{"exploring"}, Scans: []welfare.Scan{{Sign: "exploring"}, {After: 60}, {After: 120, Sign: "at-the-glass"}, {After: 180, Sign: "balled"}}}},
		seen(today, knowledge.Handled, "of-a-newer-table"),
	}
	got := welfare.Visits(all, entries)
	want := []welfare.Visit{
		{At: noon(today), Setting: knowledge.Feeding, Unease: []knowledge.SignID{"hissing"}, Other: []knowledge.SignID{"striking"}},
		{At: noon(today), Setting: knowledge.Handled, Unease: []knowledge.SignID{"striking"}, Ease: []knowledge.SignID{"exploring"}},
		{At: noon(today), Setting: knowledge.Untouched, Unease: []knowledge.SignID{"at-the-glass"}, Ease: []knowledge.SignID{"exploring"}, Other: []knowledge.SignID{"balled"}},
		{At: noon(today), Setting: knowledge.Handled, Other: []knowledge.SignID{"of-a-newer-table"}},
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}

// Freezing is unease in every setting (a page of a practitioner, on contact; untouched: common
// practice, no source), and a visit with it counts no ease.
func TestFreezing_IsNeverCalm(t *testing.T) {
	all := tables(t)
	for _, in := range knowledge.Settings() {
		v := welfare.Visits(all, []welfare.Entry{seen(today, in, "loose-coil", knowledge.Freezing)})[0]
		if len(v.Ease) > 0 || !slices.Equal(v.Unease, []knowledge.SignID{knowledge.Freezing}) || !slices.Equal(v.Other, []knowledge.SignID{"loose-coil"}) {
			t.Errorf("%s: %+v", in, v)
		}
	}
}

func TestSides_ThisMonthAndBefore(t *testing.T) {
	all := tables(t)
	visits := welfare.Visits(all, []welfare.Entry{
		seen(today, knowledge.Handled, "hissing", "striking"), seen(today-29, knowledge.Handled, "hissing", "exploring"), seen(today-1, knowledge.Handled), seen(today-2, knowledge.Handled, "exploring"),
		seen(today-30, knowledge.Handled, "exploring"), seen(today-209, knowledge.Handled), seen(today-210, knowledge.Handled, "hissing"), seen(today+1, knowledge.Handled, "hissing"),
		seen(today, knowledge.Untouched, "loose-coil"),
	})
	got := welfare.Sides(all, visits, today)
	if len(got) != 5 || got[0].Setting != knowledge.Untouched || got[0].Lately != (welfare.Tally{Visits: 1, Ease: 1}) || got[0].Before != (welfare.Tally{}) {
		t.Errorf("untouched: %+v", got[0])
	}
	if hand := got[2]; hand.Lately != (welfare.Tally{Visits: 4, Unease: 2, Ease: 2}) || hand.Before != (welfare.Tally{Visits: 2, Ease: 1}) {
		t.Errorf("in the hand: %+v", hand)
	}
}

func counted(d model.Day, in knowledge.Setting, count, seconds int, signs ...knowledge.SignID) welfare.Entry {
	return welfare.Entry{At: noon(d), Body: welfare.Observation{Setting: in, Signs: signs, Breaths: &welfare.Breaths{Count: count, Seconds: seconds}}}
}

// Each animal is held against its own quiet counts, three of them; the median of 2, 3 and
// 4.5 a minute is 3, and twice that is not over it.
func TestBreathings_AgainstItsOwn(t *testing.T) {
	all := tables(t)
	entries := []welfare.Entry{
		counted(9, knowledge.Untouched, 61, 600), counted(8, knowledge.Untouched, 6, 60), counted(7, knowledge.Untouched, 6, 60, "hissing"), counted(6, knowledge.Handled, 20, 60),
		counted(5, knowledge.Untouched, 9, 120), counted(3, knowledge.Untouched, 4, 120), counted(4, knowledge.Untouched, 6, 120), seen(2, knowledge.Untouched, "heavy-breathing"), seen(1, knowledge.Untouched, "hissing"),
		seen(10, knowledge.Feeding, "open-mouth"),
	}
	want := []welfare.Breathing{
		{At: noon(2), Signs: []knowledge.SignID{"heavy-breathing"}},
		{At: noon(3), Tenths: 20, Seconds: 120}, {At: noon(4), Tenths: 30, Seconds: 120, Counts: 1}, {At: noon(5), Tenths: 45, Seconds: 120, Counts: 2},
		{At: noon(6), Tenths: 200, Seconds: 60, Own: 30, Counts: 3, Far: true},
		{At: noon(7), Tenths: 60, Seconds: 60, Own: 30, Counts: 3},
		{At: noon(8), Tenths: 60, Seconds: 60, Own: 30, Counts: 3},
		{At: noon(9), Tenths: 61, Seconds: 600, Own: 30, Counts: 3, Far: true},
		{At: noon(10), Own: 30, Counts: 3, Signs: []knowledge.SignID{"open-mouth"}},
	}
	got := welfare.Breathings(all, welfare.Visits(all, entries))
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
	for i, b := range got {
		if b.ForVet() != (i == 0 || i == 4 || i == 7 || i == 8) {
			t.Errorf("%d is for the vet: %v", i, b.ForVet())
		}
	}
}

// High counts never make themselves the animal's own: every one of them is far.
func TestBreathings_TheAlarmStays(t *testing.T) {
	all := tables(t)
	var entries []welfare.Entry
	for d := range model.Day(23) {
		count := 6
		if d >= 3 {
			count = 24
		}
		entries = append(entries, counted(d+1, knowledge.Untouched, count, 120))
	}
	for i, b := range welfare.Breathings(all, welfare.Visits(all, entries)) {
		if b.Far != (i >= 3) || i >= 3 && (b.Own != 30 || b.Counts != 3) {
			t.Errorf("count %d: %+v", i, b)
		}
	}
}

// One breath is a breath, however long the count.
func TestBreathings_OneBreathIsAMeasure(t *testing.T) {
	all := tables(t)
	var entries []welfare.Entry
	for d := range model.Day(4) {
		entries = append(entries, counted(d+1, knowledge.Untouched, 1, 900))
	}
	if got := welfare.Breathings(all, welfare.Visits(all, entries)); got[3].Counts != 3 || got[3].Own != 1 || got[3].Far {
		t.Errorf("%+v", got[3])
	}
}

// A count shorter than the tables want, or one with no breath, is no measure for the next.
func TestBreathings_OnlyWholeCountsAreItsOwn(t *testing.T) {
	all := tables(t)
	for name, c := range map[string]struct{ count, seconds int }{"short": {6, 119}, "short, of no breath": {0, 10}, "of no breath": {0, 120}} {
		var entries []welfare.Entry
		for d := range model.Day(3) {
			entries = append(entries, counted(d+1, knowledge.Untouched, c.count, c.seconds))
		}
		for d := range model.Day(3) {
			entries = append(entries, counted(d+4, knowledge.Untouched, 6, 120))
		}
		entries = append(entries, counted(7, knowledge.Untouched, 24, 120))
		got := welfare.Breathings(all, welfare.Visits(all, entries))
		if b := got[5]; b.Counts != 2 || b.Own != 0 {
			t.Errorf("%s: before the third whole count: %+v", name, b)
		}
		if b := got[6]; b.Counts != 3 || b.Own != 30 || !b.Far {
			t.Errorf("%s: the count after three whole ones: %+v", name, b)
		}
	}
}

// What a vet should hear of is told for a month, however calm the counts after it: open mouth
// first. Source: urgency.txt, "gaping".
func TestTold_OpenMouthIsNotLostBehindACalmCount(t *testing.T) {
	all := tables(t)
	if s, known := all.Sign(knowledge.OpenMouth); !known || s.Domain != knowledge.Health || s.Says[knowledge.Untouched] != knowledge.Unease {
		t.Errorf("open mouth: %+v, %v", s, known)
	}
	told := func(entries ...welfare.Entry) (days []model.Day, gravest model.Day) {
		of := welfare.Told(all, welfare.Breathings(all, welfare.Visits(all, entries)), today)
		for _, b := range of {
			days = append(days, today-b.At.Day())
		}
		b, found := welfare.Gravest(of)
		if !found {
			return days, -1
		}
		return days, today - b.At.Day()
	}
	for name, c := range map[string]struct {
		entries []welfare.Entry
		days    []model.Day // ago
		gravest model.Day   // ago
	}{
		"calm since":           {[]welfare.Entry{seen(today-1, knowledge.Untouched, knowledge.OpenMouth), counted(today, knowledge.Untouched, 8, 120)}, []model.Day{0, 1}, 1},
		"the last of the days": {[]welfare.Entry{seen(today-30, knowledge.Untouched, knowledge.OpenMouth), seen(today-29, knowledge.Untouched, "heavy-breathing"), counted(today, knowledge.Untouched, 8, 120)}, []model.Day{0, 29}, 29},
		"open mouth first":     {[]welfare.Entry{seen(today-3, knowledge.Untouched, knowledge.OpenMouth), seen(today-2, knowledge.Untouched, "heavy-breathing"), counted(today-1, knowledge.Untouched, 8, 120)}, []model.Day{1, 2, 3}, 3},
		"calm alone":           {[]welfare.Entry{counted(today-1, knowledge.Untouched, 8, 120), counted(today, knowledge.Untouched, 8, 120)}, []model.Day{0}, -1},
		"none":                 {nil, nil, -1},
	} {
		if days, gravest := told(c.entries...); !slices.Equal(days, c.days) || gravest != c.gravest {
			t.Errorf("%s: told of %v days ago, the gravest %d ago", name, days, gravest)
		}
	}
}

// What a vet should hear of stands for a month; open mouth is an emergency until the animal was
// watched untouched after it and breathed calmly. Source: urgency.txt, "gaping".
func TestForVet(t *testing.T) {
	all := tables(t)
	open := seen(today-1, knowledge.Untouched, knowledge.OpenMouth)
	later := func(e welfare.Entry) welfare.Entry { e.At.UTC += 60; return e }
	quiet := func(n int, from model.Day) (entries []welfare.Entry) {
		for i := range n {
			entries = append(entries, counted(from-model.Day(i), knowledge.Untouched, 4, 120))
		}
		return entries
	}
	for name, c := range map[string]struct {
		entries []welfare.Entry
		ago     model.Day
		level   knowledge.Level
	}{
		"nothing":                    {nil, 0, knowledge.Nothing},
		"calm":                       {quiet(4, today), 0, knowledge.Nothing},
		"open mouth":                 {[]welfare.Entry{open}, 1, knowledge.EmergencyToday},
		"in the hand":                {[]welfare.Entry{seen(today, knowledge.Handled, knowledge.OpenMouth)}, 0, knowledge.EmergencyToday},
		"calm before":                {append(quiet(1, today-2), open), 1, knowledge.EmergencyToday},
		"calm at the same moment":    {[]welfare.Entry{open, seen(today-1, knowledge.Untouched, "exploring")}, 1, knowledge.EmergencyToday},
		"calm a minute later":        {[]welfare.Entry{open, later(seen(today-1, knowledge.Untouched, "exploring"))}, 1, knowledge.VetWithinDays},
		"calm by a count":            {append(quiet(1, today), open), 1, knowledge.VetWithinDays},
		"calm in the hand":           {[]welfare.Entry{open, seen(today, knowledge.Handled, "exploring")}, 1, knowledge.EmergencyToday},
		"again":                      {[]welfare.Entry{open, seen(today, knowledge.Untouched, knowledge.OpenMouth)}, 0, knowledge.EmergencyToday},
		"heavy after it":             {[]welfare.Entry{open, seen(today, knowledge.Untouched, "heavy-breathing")}, 1, knowledge.EmergencyToday},
		"heavy":                      {[]welfare.Entry{seen(today-2, knowledge.Untouched, "heavy-breathing"), seen(today, knowledge.Untouched, "exploring")}, 2, knowledge.VetWithinDays},
		"twice its own":              {append(quiet(3, today-90), counted(today-3, knowledge.Untouched, 9, 120)), 3, knowledge.VetWithinDays},
		"open mouth, then far above": {append(quiet(3, today-90), open, counted(today, knowledge.Untouched, 9, 120)), 1, knowledge.EmergencyToday},
		"the last of the days":       {[]welfare.Entry{seen(today-29, knowledge.Untouched, "heavy-breathing")}, 29, knowledge.VetWithinDays},
		"too long ago":               {[]welfare.Entry{seen(today-30, knowledge.Untouched, knowledge.OpenMouth)}, 0, knowledge.Nothing},
	} {
		b := welfare.ForVet(all, welfare.Visits(all, c.entries), today)
		if b.Level != c.level || b.IsZero() != (c.level == knowledge.Nothing) || !b.IsZero() && today-b.At.Day() != c.ago {
			t.Errorf("%s: %+v", name, b)
		}
	}
}

// Whether a visit of the last days of the blue cycle was before a shed is not known yet: it is in
// neither half.
func TestGoesWith_AShedMayStillCome(t *testing.T) {
	all := tables(t)
	for ago, without := range map[model.Day]int{0: 0, 13: 0, 14: 1, 15: 1} {
		visit := welfare.Visits(all, []welfare.Entry{seen(today-ago, knowledge.Untouched)})
		if h, err := welfare.GoesWith(all, welfare.BeforeShed, visit, nil, today); err != nil || h.With.Visits != 0 || h.Without.Visits != without {
			t.Errorf("%d days ago: %+v, %v", ago, h, err)
		}
	}
	visit := welfare.Visits(all, []welfare.Entry{seen(today-5, knowledge.Untouched)})
	if h, err := welfare.GoesWith(all, welfare.BeforeShed, visit, []model.Moment{noon(today)}, today); err != nil || h.With.Visits != 1 {
		t.Errorf("it shed since: %+v, %v", h, err)
	}
}

// weekly draws one visit a day, of which the named days of each week show signs of unease.
func daily(from, to model.Day, in knowledge.Setting, unease func(d model.Day) int) (all []welfare.Entry) {
	signs := []knowledge.SignID{"hissing", "striking", "inflating", "musking", "flinching", "drawing-back"}
	for d := from; d <= to; d++ {
		all = append(all, seen(d, in, signs[:unease(d)]...))
	}
	return all
}

// She is lifted every day and is uneasy; then one stops, and she eases: that is told, with n
// and p. The same weeks with no change in her are not called help.
func TestDidItHelp_Story(t *testing.T) {
	all := tables(t)
	since := today - 7*8
	change := welfare.Change{What: "not lifted any more", Setting: knowledge.Untouched, Hoped: welfare.LessUnease}
	eased := daily(since-56, today-1, knowledge.Untouched, func(d model.Day) int {
		if d < since {
			return 1 + int(d*7)%3
		}
		return int(d*5) % 2
	})
	h, err := welfare.DidItHelp(all, change, since, welfare.Visits(all, eased), nil, today)
	if err != nil {
		t.Fatal(err)
	}
	if h.Verdict != welfare.Helped || len(h.Before) != 8 || len(h.After) != 8 || !(h.P > 0 && h.P < 0.001) || !(h.Difference < -1) || h.Least <= 0 {
		t.Errorf("eased: %+v", h)
	}
	// by the formula, computed apart: two weeks running are alike by .2579 where two days are by .7
	if math.Abs(h.Least-0.167055) > 1e-6 {
		t.Errorf("a difference of %v would have been seen eight times in ten, want .167055", h.Least)
	}
	for _, w := range append(h.Before, h.After...) {
		if w.Visits != 7 || (w.First-since)%7 != 0 {
			t.Errorf("week %+v", w)
		}
	}
	same := daily(since-56, today-1, knowledge.Untouched, func(d model.Day) int { return int(d*7)%3 + int(d*5)%2 })
	if h, err = welfare.DidItHelp(all, change, since, welfare.Visits(all, same), nil, today); err != nil || h.Verdict != welfare.NotShown {
		t.Errorf("no change: %+v, %v", h, err)
	}
	worse := daily(since-56, today-1, knowledge.Untouched, func(d model.Day) int {
		if d < since {
			return int(d*5) % 2
		}
		return 1 + int(d*7)%3
	})
	if h, err = welfare.DidItHelp(all, change, since, welfare.Visits(all, worse), nil, today); err != nil || h.Verdict != welfare.Worse || h.Difference <= 1 {
		t.Errorf("worse: %+v, %v", h, err)
	}
	other := change
	other.Setting = knowledge.Handled
	if h, err = welfare.DidItHelp(all, other, since, welfare.Visits(all, eased), nil, today); err != nil || h.Verdict != welfare.TooFewBefore || h.WantBefore != 6 || h.WantAfter != 6 {
		t.Errorf("visits of another setting: %+v, %v", h, err)
	}
}

// Who freezes shows no other sign: that is not called help.
func TestDidItHelp_FreezingIsNoHelp(t *testing.T) {
	all := tables(t)
	since := today - 7*6
	change := welfare.Change{What: "held every day", Setting: knowledge.Handled, Hoped: welfare.LessUnease}
	for frozen, want := range map[bool]welfare.Verdict{true: welfare.Freezes, false: welfare.Helped} {
		var entries []welfare.Entry
		for d := since - 42; d < today; d++ {
			switch {
			case d < since:
				entries = append(entries, seen(d, knowledge.Handled, "hissing", "striking"))
			case frozen:
				entries = append(entries, seen(d, knowledge.Handled, knowledge.Freezing))
			default:
				entries = append(entries, seen(d, knowledge.Handled, "hissing"))
			}
		}
		if h, err := welfare.DidItHelp(all, change, since, welfare.Visits(all, entries), nil, today); err != nil || h.Verdict != want {
			t.Errorf("frozen %v: %+v, %v", frozen, h, err)
		}
	}
}

// Where another change was tried in these weeks, on the same day too, it is not said which one
// it was; one of before or after them does not matter.
func TestDidItHelp_NotWhichOfTwo(t *testing.T) {
	all := tables(t)
	since := today - 7*6
	var entries []welfare.Entry
	for d := since - 42; d < today; d++ {
		if d < since {
			entries = append(entries, seen(d, knowledge.Untouched, "hissing", "restless"))
		} else {
			entries = append(entries, seen(d, knowledge.Untouched, "exploring"))
		}
	}
	visits := welfare.Visits(all, entries)
	for other, want := range map[model.Day]welfare.Verdict{since: welfare.BetterSince, since - 41: welfare.BetterSince, since + 41: welfare.BetterSince, since - 42: welfare.Helped, since + 42: welfare.Helped} {
		for _, hoped := range welfare.Hopes() {
			h, err := welfare.DidItHelp(all, welfare.Change{What: "x", Setting: knowledge.Untouched, Hoped: hoped}, since, visits, []model.Day{other}, today)
			if err != nil || h.Verdict != want {
				t.Errorf("%s, another on day %d of it: %+v, %v", hoped, other-since, h, err)
			}
		}
	}
}

// A little worse is worse; one that freezes on as many of its visits as before is not said to freeze
// more often, also where there are more visits; a week that lacks on one side alone is asked for.
func TestDidItHelp_ByTheSharesAndTheSign(t *testing.T) {
	all := tables(t)
	since := today - 7*6
	change := welfare.Change{What: "x", Setting: knowledge.Untouched, Hoped: welfare.LessUnease}
	var little, frozen, lacks []welfare.Entry
	for week := range 6 {
		before, after := since-7*model.Day(week+1), since+7*model.Day(week)
		little = append(little, seen(before, knowledge.Untouched), seen(before+1, knowledge.Untouched), seen(after, knowledge.Untouched), seen(after+1, knowledge.Untouched, "hissing"))
		frozen = append(frozen, seen(before, knowledge.Untouched, knowledge.Freezing, "hissing", "restless"), seen(before+1, knowledge.Untouched, "hissing", "restless"),
			seen(after, knowledge.Untouched, knowledge.Freezing), seen(after+1, knowledge.Untouched), seen(after+2, knowledge.Untouched, knowledge.Freezing), seen(after+3, knowledge.Untouched))
		if week < 5 {
			lacks = append(lacks, seen(before, knowledge.Untouched))
		}
		lacks = append(lacks, seen(after, knowledge.Untouched))
	}
	for _, c := range []struct {
		name    string
		entries []welfare.Entry
		want    welfare.Verdict
	}{{"half a sign worse", little, welfare.Worse}, {"freezes on as many", frozen, welfare.Helped}, {"five weeks before", lacks, welfare.TooFewBefore}} {
		if h, err := welfare.DidItHelp(all, change, since, welfare.Visits(all, c.entries), nil, today); err != nil || h.Verdict != c.want {
			t.Errorf("%s: %+v, %v", c.name, h, err)
		}
	}
}

// Breaths that were counted and nothing else are no visit without a sign.
func TestVisits_BreathsOnly(t *testing.T) {
	all := tables(t)
	counted := welfare.Entry{At: noon(today), Body: welfare.Observation{Setting: knowledge.Untouched, Breaths: &welfare.Breaths{Count: 8, Seconds: 60}}}
	visits := welfare.Visits(all, []welfare.Entry{counted, seen(today, knowledge.Untouched)})
	if !visits[0].BreathsOnly || visits[1].BreathsOnly || len(welfare.In(knowledge.Untouched, visits)) != 1 {
		t.Errorf("visits %+v", visits)
	}
	if got := welfare.Sides(all, visits, today)[0].Lately.Visits; got != 1 {
		t.Errorf("%d visits count", got)
	}
	if got := welfare.Strip(visits, nil, today, today)[0].Tally.Visits; got != 1 {
		t.Errorf("%d visits on the strip", got)
	}
	if got := welfare.Breathings(all, visits); len(got) != 1 {
		t.Errorf("%d counts of breaths", len(got))
	}
}

// More signs of ease are better where that was hoped for.
func TestDidItHelp_MoreEase(t *testing.T) {
	all := tables(t)
	since := today - 7*6
	change := welfare.Change{What: "a second hide", Setting: knowledge.Untouched, Hoped: welfare.MoreEase}
	var entries []welfare.Entry
	for d := since - 42; d < today; d++ {
		if d < since {
			entries = append(entries, seen(d, knowledge.Untouched, "hissing"))
		} else {
			entries = append(entries, seen(d, knowledge.Untouched, "hissing", "exploring"))
		}
	}
	h, err := welfare.DidItHelp(all, change, since, welfare.Visits(all, entries), nil, today)
	if err != nil || h.Verdict != welfare.Helped || h.Difference != 1 || math.Abs(h.P-2.0/924) > 1e-9 || h.Least != 0 {
		t.Errorf("%+v, %v", h, err)
	}
	change.Hoped = welfare.LessUnease
	if h, err = welfare.DidItHelp(all, change, since, welfare.Visits(all, entries), nil, today); err != nil || h.Verdict != welfare.NotShown || h.P != 1 {
		t.Errorf("by what was not hoped for: %+v, %v", h, err)
	}
}

// Six weeks with a visit are needed on each side; five are not enough, nor is a visit of
// tomorrow. Weeks are counted from the day of the change.
func TestDidItHelp_CannotBeToldYet(t *testing.T) {
	all := tables(t)
	change := welfare.Change{What: "x", Setting: knowledge.Feeding, Hoped: welfare.LessUnease}
	since := today - 35
	var entries []welfare.Entry
	for w := range 6 {
		entries = append(entries, seen(since-1-model.Day(7*w), knowledge.Feeding, "hissing"), seen(since+model.Day(7*w), knowledge.Feeding))
	}
	h, err := welfare.DidItHelp(all, change, since, welfare.Visits(all, entries), nil, today)
	if err != nil || h.Verdict != welfare.Helped || h.WantAfter != 0 {
		t.Errorf("six and six: %+v, %v", h, err)
	}
	if h, err = welfare.DidItHelp(all, change, since, welfare.Visits(all, entries), nil, today-1); err != nil || h.Verdict != welfare.NotYet || h.WantAfter != 1 || h.WantBefore != 0 || h.P != 0 {
		t.Errorf("the last visit is of tomorrow: %+v, %v", h, err)
	}
	if h, err = welfare.DidItHelp(all, change, since, welfare.Visits(all, entries[2:]), nil, today); err != nil || h.Verdict != welfare.TooFewBefore || h.WantAfter != 1 || h.WantBefore != 1 {
		t.Errorf("five and five: %+v, %v", h, err)
	}
	if h, err = welfare.DidItHelp(all, change, since, nil, nil, today); err != nil || h.WantAfter != 6 || h.WantBefore != 6 {
		t.Errorf("no visit: %+v, %v", h, err)
	}
}

// Of longer records the twelve nearest weeks of each side are taken; other changes within
// them are counted, one of the same day too.
func TestDidItHelp_TheNearestWeeks(t *testing.T) {
	all := tables(t)
	since := today - 7*20
	change := welfare.Change{What: "x", Setting: knowledge.Handled, Hoped: welfare.LessUnease}
	entries := daily(since-7*20, today, knowledge.Handled, func(d model.Day) int { return int(d*11) % 4 })
	others := []model.Day{since, since - 84, since - 83, since + 83, since + 84, since - 300}
	h, err := welfare.DidItHelp(all, change, since, welfare.Visits(all, entries), others, today)
	if err != nil || len(h.Before) != 12 || len(h.After) != 12 || h.Before[0].First != since-84 || h.Before[11].First != since-7 || h.After[0].First != since || h.After[11].First != since+77 {
		t.Errorf("%+v, %v", h, err)
	}
	if h.Others != 3 {
		t.Errorf("%d other changes, want 3", h.Others)
	}
}

// series are days that are alike: each is so much of the day before, with noise of one.
func series(r *rand.Rand, days int, alike float64) []float64 {
	all := make([]float64, days)
	last := r.NormFloat64() / math.Sqrt(1-alike*alike)
	for i := range all {
		last = alike*last + r.NormFloat64()
		all[i] = last
	}
	return all
}

// told judges a series of days as visits with as many signs as it has, from one that is far
// above nothing, with so much less from the change on.
func told(t *testing.T, all *knowledge.Tables, days []float64, effect float64) welfare.Help {
	t.Helper()
	half := model.Day(len(days) / 2)
	visits := make([]welfare.Visit, len(days))
	for i, v := range days {
		if model.Day(i) >= half {
			v -= effect
		}
		visits[i] = welfare.Visit{At: noon(today + model.Day(i)), Setting: knowledge.Untouched, Unease: make([]knowledge.SignID, max(0, int(math.Round(100+10*v))))}
	}
	h, err := welfare.DidItHelp(all, welfare.Change{Setting: knowledge.Untouched, Hoped: welfare.LessUnease}, today+half, visits, nil, today+model.Day(len(days)))
	if err != nil {
		t.Fatal(err)
	}
	return h
}

// Of a thousand series of days that are alike by seven tenths, without any effect, at most
// seven in a hundred are called help.
func TestDidItHelp_OfNothingSeldomHelp(t *testing.T) {
	all := tables(t)
	for _, weeks := range []int{6, 8, 12} {
		r := rand.New(rand.NewPCG(uint64(weeks), 1))
		helped, worse := 0, 0
		for range 1000 {
			switch told(t, all, series(r, 14*weeks, 0.7), 0).Verdict {
			case welfare.Helped:
				helped++
			case welfare.Worse:
				worse++
			}
		}
		t.Logf("%d weeks against %d, days alike by .7, no effect: %.1f %% helped, %.1f %% worse", weeks, weeks, float64(helped)/10, float64(worse)/10)
		if helped > 70 {
			t.Errorf("%d weeks: %d of 1,000 were called help", weeks, helped)
		}
		if helped == 0 {
			t.Errorf("%d weeks: nothing was ever called help, so that the test says nothing", weeks)
		}
	}
}

// A difference as large as the one that is said to be seen eight times in ten is seen about
// so often.
func TestDidItHelp_Power(t *testing.T) {
	all := tables(t)
	for _, weeks := range []int{6, 8, 12} {
		r := rand.New(rand.NewPCG(uint64(weeks), 2))
		sum := 0.0
		for range 300 {
			sum += told(t, all, series(r, 14*weeks, 0.7), 0).Least / 10
		}
		effect, found := sum/300, 0
		for range 300 {
			if told(t, all, series(r, 14*weeks, 0.7), effect).Verdict == welfare.Helped {
				found++
			}
		}
		t.Logf("%d weeks: a difference of %.2f noises was found %d times in 300", weeks, effect, found)
		if found < 210 || found > 270 {
			t.Errorf("%d weeks: found %d times in 300, want about 240", weeks, found)
		}
	}
}

func TestGoesWith(t *testing.T) {
	all := tables(t)
	var entries []welfare.Entry
	var days []model.Moment
	for i := range 6 {
		d := today - model.Day(20*i)
		days = append(days, noon(d))
		entries = append(entries, seen(d+3, knowledge.Untouched, "hissing"), seen(d+4, knowledge.Untouched, "loose-coil"))
	}
	visits := welfare.Visits(all, entries)
	h, err := welfare.GoesWith(all, welfare.AfterHandling, visits, days, today)
	if err != nil || h.With != (welfare.Tally{Visits: 6, Unease: 6}) || h.Without != (welfare.Tally{Visits: 6, Ease: 6}) || h.Want != 0 || math.Abs(h.P-2.0/924) > 1e-9 {
		t.Errorf("%+v, %v; want 2 of 924", h, err)
	}
	if !h.Seldom {
		t.Errorf("2 of 924 may well be chance: %+v", h)
	}
	if h, err = welfare.GoesWith(all, welfare.AfterHandling, visits[1:], days, today); err != nil || h.Want != 1 || h.P != 0 || h.Seldom {
		t.Errorf("five with: %+v, %v", h, err)
	}
	// unease on so many of six visits with, and on none of six without: the chance of five is
	// 2*C(6,5) of C(12,5), or 12 of 792; of four 2*C(6,4) of C(12,4), or 30 of 495
	for uneasy, want := range map[int]struct {
		p      float64
		seldom bool
	}{5: {12.0 / 792, true}, 4: {30.0 / 495, false}} {
		var entries []welfare.Entry
		for i := range 6 {
			sign := knowledge.SignID("loose-coil")
			if i < uneasy {
				sign = "hissing"
			}
			d := today - model.Day(20*i)
			entries = append(entries, seen(d+3, knowledge.Untouched, sign), seen(d+4, knowledge.Untouched, "loose-coil"))
		}
		if h, err := welfare.GoesWith(all, welfare.AfterHandling, welfare.Visits(all, entries), days, today); err != nil || math.Abs(h.P-want.p) > 1e-9 || h.Seldom != want.seldom {
			t.Errorf("%d of 6 against none: %+v, %v; want %+v", uneasy, h, err, want)
		}
	}
	// a shed comes after the visit, and on its day
	sheds := []model.Moment{noon(today - 1)}
	for _, c := range []struct {
		on   model.Day
		with int
	}{{today, 0}, {today - 1, 1}, {today - 1 - model.Day(all.Value(knowledge.ValueBlueCycle)), 1}, {today - 2 - model.Day(all.Value(knowledge.ValueBlueCycle)), 0}} {
		h, err := welfare.GoesWith(all, welfare.BeforeShed, welfare.Visits(all, []welfare.Entry{seen(c.on, knowledge.Untouched)}), sheds, today+30)
		if err != nil || h.With.Visits != c.with || h.Without.Visits != 1-c.with || h.Want != 6 {
			t.Errorf("%d: %+v, %v", c.on, h, err)
		}
	}
	for day, with := range map[model.Day]int{today: 1, today - 1: 0, today + 3: 1, today + 4: 0} {
		h, err := welfare.GoesWith(all, welfare.AfterMove, welfare.Visits(all, []welfare.Entry{seen(day, knowledge.Untouched)}), []model.Moment{noon(today)}, today)
		if err != nil || h.With.Visits != with {
			t.Errorf("moved on %d, seen on %d: %+v, %v", today, day, h, err)
		}
	}
	// what came later on the visit's day came not before it; where it is not known when, it did
	visit := welfare.Visits(all, []welfare.Entry{seen(today, knowledge.Untouched)})
	for _, c := range []struct {
		minutes   int64
		precision model.Precision
		with      int
	}{{60, model.ToMinute, 0}, {0, model.ToMinute, 1}, {-60, model.ToMinute, 1}, {60, model.ToDay, 1}} {
		m := noon(today)
		m.UTC, m.Precision = m.UTC+60*c.minutes, c.precision
		if h, err := welfare.GoesWith(all, welfare.AfterHandling, visit, []model.Moment{m}, today); err != nil || h.With.Visits != c.with {
			t.Errorf("handled %d minutes after: %+v, %v", c.minutes, h, err)
		}
	}
}

func TestHandled_AddsUp(t *testing.T) {
	all := tables(t)
	entries := []welfare.Entry{
		handled(today+2, welfare.Handling{Lifts: 7}), seen(today, knowledge.Handled), handled(today, welfare.Handling{Lifts: 2, Hand: 10, Came: true}), handled(today-3, welfare.Handling{Lifts: 1, Hand: 11, Container: 20, DrewBack: 1}),
		handled(today-4, welfare.Handling{Restraint: 3, Why: "vet-visit", DrewBack: 2}), handled(today-4, welfare.Handling{Restraint: 5, Why: "transport"}),
		handled(today-5, welfare.Handling{Lifts: 9}), handled(today+1, welfare.Handling{Lifts: 9}), seen(today, knowledge.Handled),
	}
	want := welfare.Ledger{Times: 4, Lifts: 3, Hand: 21, Container: 20, Care: 3, Held: 5, Came: 1, DrewBack: 2, Stopped: 1, Long: 1}
	if got := welfare.Handled(all, entries, today-4, today); got != want {
		t.Errorf("%+v, want %+v", got, want)
	}
}

func TestBetter_EachReason(t *testing.T) {
	all := tables(t)
	now := noon(today)
	later := model.Moment{UTC: now.UTC + 60, Precision: model.ToMinute}
	for _, c := range []struct {
		name    string
		rest    welfare.Rest
		entries []welfare.Entry
		want    []welfare.Against
	}{
		{"nothing", welfare.Rest{FedUntil: now, BroughtUp: today, Blue: today - model.Day(all.Value(knowledge.ValueBlueCycle)), Came: today - 14}, []welfare.Entry{handled(today-2, welfare.Handling{DrewBack: 2}), handled(today, welfare.Handling{Lifts: 3, DrewBack: 1}), handled(today-7, welfare.Handling{Lifts: 3})}, nil},
		{"vet", welfare.Rest{ForVet: true}, nil, []welfare.Against{welfare.AgainstVet}},
		{"positive", welfare.Rest{Positive: true}, nil, []welfare.Against{welfare.AgainstPositive}},
		{"brought up", welfare.Rest{BroughtUp: today + 1}, nil, []welfare.Against{welfare.AgainstBroughtUp}},
		{"fed", welfare.Rest{FedUntil: later}, nil, []welfare.Against{welfare.AgainstFed}},
		{"blue", welfare.Rest{Blue: today - model.Day(all.Value(knowledge.ValueBlueCycle)) + 1}, nil, []welfare.Against{welfare.AgainstBlue}},
		{"blue today", welfare.Rest{Blue: today}, nil, []welfare.Against{welfare.AgainstBlue}},
		{"blue tomorrow", welfare.Rest{Blue: today + 1}, nil, nil},
		{"new", welfare.Rest{Came: today - 13}, nil, []welfare.Against{welfare.AgainstNew}},
		{"came today", welfare.Rest{Came: today}, nil, []welfare.Against{welfare.AgainstNew}},
		{"comes tomorrow", welfare.Rest{Came: today + 1}, nil, nil},
		{"apart", welfare.Rest{Apart: true}, nil, []welfare.Against{welfare.AgainstApart}},
		{"treated", welfare.Rest{Treated: true}, nil, []welfare.Against{welfare.AgainstTreated}},
		{"gravid", welfare.Rest{Gravid: true}, nil, []welfare.Against{welfare.AgainstGravid}},
		{"drew back", welfare.Rest{}, []welfare.Entry{handled(today-1, welfare.Handling{DrewBack: 2})}, []welfare.Against{welfare.AgainstDrewBack}},
		{"often", welfare.Rest{}, []welfare.Entry{handled(today-6, welfare.Handling{Lifts: 3}), handled(today, welfare.Handling{Lifts: 1})}, []welfare.Against{welfare.AgainstOften}},
		{"two", welfare.Rest{ForVet: true, Gravid: true}, nil, []welfare.Against{welfare.AgainstVet, welfare.AgainstGravid}},
	} {
		if got := welfare.Better(all, c.rest, c.entries, now); !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

func TestLists_FourDomains(t *testing.T) {
	all := tables(t)
	visits := welfare.Visits(all, []welfare.Entry{
		seen(today, knowledge.Untouched, "at-the-glass", "exploring", "still"), seen(today-29, knowledge.Untouched, "exploring", "stretched"), seen(today-30, knowledge.Untouched, "rearing"),
		counted(today-2, knowledge.Handled, 5, 60, "hissing"), seen(today+1, knowledge.Untouched, "rearing"),
	})
	looked := map[welfare.Looked][]model.Day{welfare.LookedMeal: {today - 3, today - 9, today - 40}, welfare.LookedWeight: {today - 30}, welfare.LookedCheck: {today - 29}}
	want := []welfare.List{
		{Domain: knowledge.Nutrition, Looked: []welfare.SeenLook{{What: welfare.LookedMeal, Seen: welfare.Seen{Times: 2, Last: today - 3}}}, NotLooked: []welfare.Looked{welfare.LookedWeight, welfare.LookedWaste}},
		{Domain: knowledge.Environment, Unease: []welfare.SeenSign{{Sign: "at-the-glass", Seen: welfare.Seen{Times: 1, Last: today}}},
			Ease:      []welfare.SeenSign{{Sign: "exploring", Seen: welfare.Seen{Times: 2, Last: today}}, {Sign: "stretched", Seen: welfare.Seen{Times: 1, Last: today - 29}}},
			NotLooked: []welfare.Looked{welfare.LookedCleaning, welfare.LookedClimate}},
		{Domain: knowledge.Health, Looked: []welfare.SeenLook{{What: welfare.LookedCheck, Seen: welfare.Seen{Times: 1, Last: today - 29}}, {What: welfare.LookedBreaths, Seen: welfare.Seen{Times: 1, Last: today - 2}}},
			Neither: []welfare.SeenSign{{Sign: "still", Seen: welfare.Seen{Times: 1, Last: today}}}, NotLooked: []welfare.Looked{welfare.LookedMites}},
		{Domain: knowledge.Interactions, Looked: []welfare.SeenLook{{What: welfare.LookedUntouched, Seen: welfare.Seen{Times: 2, Last: today}}, {What: welfare.LookedHandled, Seen: welfare.Seen{Times: 1, Last: today - 2}}},
			Unease: []welfare.SeenSign{{Sign: "hissing", Seen: welfare.Seen{Times: 1, Last: today - 2}}}},
	}
	if diff := cmp.Diff(want, welfare.Lists(all, looked, visits, today)); diff != "" {
		t.Error(diff)
	}
	if len(looked[welfare.LookedUntouched]) > 0 {
		t.Error("what was handed over was changed")
	}
}

// A handling and what was seen in the hand meanwhile are one handling; each more of a day, of either
// kind, is one more.
func TestLists_AHandlingWithItsTallyIsOne(t *testing.T) {
	all := tables(t)
	for name, c := range map[string]struct {
		noted, seen []model.Day
		want        welfare.Seen
	}{
		"with its tally":          {[]model.Day{today}, []model.Day{today}, welfare.Seen{Times: 1, Last: today}},
		"without":                 {[]model.Day{today}, nil, welfare.Seen{Times: 1, Last: today}},
		"a tally alone":           {nil, []model.Day{today}, welfare.Seen{Times: 1, Last: today}},
		"on two days":             {[]model.Day{today}, []model.Day{today - 1}, welfare.Seen{Times: 2, Last: today}},
		"two, a tally of one":     {[]model.Day{today, today}, []model.Day{today}, welfare.Seen{Times: 2, Last: today}},
		"one, and two tallies":    {[]model.Day{today}, []model.Day{today, today}, welfare.Seen{Times: 2, Last: today}},
		"two with theirs, a week": {[]model.Day{today, today - 7}, []model.Day{today, today - 7}, welfare.Seen{Times: 2, Last: today}},
	} {
		var entries []welfare.Entry
		for _, day := range c.seen {
			entries = append(entries, seen(day, knowledge.Handled, "exploring"))
		}
		was := slices.Clone(c.noted)
		looked := map[welfare.Looked][]model.Day{welfare.LookedHandled: c.noted}
		lists := welfare.Lists(all, looked, welfare.Visits(all, entries), today)
		got := lists[slices.IndexFunc(lists, func(l welfare.List) bool { return l.Domain == knowledge.Interactions })].Looked
		if diff := cmp.Diff([]welfare.SeenLook{{What: welfare.LookedHandled, Seen: c.want}}, got); diff != "" {
			t.Errorf("%s: %s", name, diff)
		}
		if !slices.Equal(was, c.noted) {
			t.Errorf("%s: what was handed over was changed", name)
		}
	}
}

func TestStrip(t *testing.T) {
	all := tables(t)
	entries := []welfare.Entry{
		seen(today, knowledge.Handled, "hissing"), seen(today, knowledge.Untouched, "exploring"), seen(today-2, knowledge.Untouched), seen(today-3, knowledge.Untouched), seen(today+1, knowledge.Untouched),
		handled(today-1, welfare.Handling{Lifts: 2}), handled(today-1, welfare.Handling{Lifts: 1}), {At: noon(today - 2), Body: welfare.Change{}}, {At: noon(today - 3), Body: welfare.Change{}},
	}
	want := []welfare.StripDay{{Day: today - 2, Tally: welfare.Tally{Visits: 1}, Changed: true}, {Day: today - 1, Lifts: 3}, {Day: today, Tally: welfare.Tally{Visits: 2, Unease: 1, Ease: 1}}}
	if diff := cmp.Diff(want, welfare.Strip(welfare.Visits(all, entries), entries, today-2, today)); diff != "" {
		t.Error(diff)
	}
	if got := welfare.Strip(nil, nil, today, today-1); got != nil {
		t.Errorf("days that are none: %v", got)
	}
}

// Nobody is counted more often than there are visits, whatever was seen.
func TestSides_NeverMoreThanVisits(t *testing.T) {
	all := tables(t)
	var ids []knowledge.SignID
	for _, s := range all.Signs() {
		ids = append(ids, s.ID)
	}
	rapid.Check(t, func(t *rapid.T) {
		var entries []welfare.Entry
		for range rapid.IntRange(0, 20).Draw(t, "visits") {
			entries = append(entries, seen(today-model.Day(rapid.IntRange(0, 250).Draw(t, "days")), rapid.SampledFrom(knowledge.Settings()).Draw(t, "setting"),
				rapid.SliceOfNDistinct(rapid.SampledFrom(ids), 0, 5, rapid.ID).Draw(t, "signs")...))
		}
		for _, s := range welfare.Sides(all, welfare.Visits(all, entries), today) {
			for _, n := range []welfare.Tally{s.Lately, s.Before} {
				if n.Unease > n.Visits || n.Ease > n.Visits {
					t.Fatalf("%+v", s)
				}
			}
		}
	})
}
