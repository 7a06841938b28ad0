package animals

import (
	"slices"
	"strings"

	"golang.org/x/text/cases"
	"golang.org/x/text/unicode/norm"

	"coilward/model"
)

// The most signs that a name, a line and a note may have.
const (
	MaxName = 80
	MaxLine = 200
	MaxNote = 10_000
)

// MaxSnoutVent is the longest length from snout to vent that is taken, in tenths
// of a millimetre: 10 m, longer than any snake measured (assumed).
const MaxSnoutVent = 100_000

func mend(field, value, reason string, gaps map[string]model.Gap) *model.Refusal {
	return &model.Refusal{Field: field, Value: value, Reason: reason, Gaps: gaps, Answer: model.Mend}
}

// Fold is a name as names are compared: without case, outer and double spaces,
// and with its accents composed one way.
func Fold(name string) string {
	return cases.Fold().String(norm.NFKC.String(strings.Join(strings.Fields(name), " ")))
}

// Check tells what of the animal cannot stand on the given day, whatever else is
// in the collection; nil if nothing.
func (a Animal) Check(today model.Day) *model.Refusal {
	if strings.TrimSpace(a.Name) == "" {
		return mend("name", a.Name, "name.empty", nil)
	}
	for _, check := range []func() *model.Refusal{a.checkTexts, a.checkChoices, a.Chip.Check, func() *model.Refusal { return a.checkDays(today) }, a.checkLength, a.checkPhotos, a.checkOffers} {
		if r := check(); r != nil {
			return r
		}
	}
	return nil
}

func (a Animal) checkTexts() *model.Refusal {
	for _, text := range []struct {
		field, value string
		most         int
	}{
		{"name", a.Name, MaxName}, {"code", a.Code, MaxName}, {"morph", a.Morph, MaxLine}, {"origin", a.Origin, MaxLine}, {"permits", a.Permits, MaxLine}, {"from", a.From, MaxLine},
	} {
		if r := model.CheckLine(text.field, text.value, text.most); r != nil {
			return r
		}
	}
	return model.CheckText("note", a.Note, MaxNote)
}

func (a Animal) checkChoices() *model.Refusal {
	for _, choice := range []struct {
		field, value string
		known        bool
	}{
		{"sex", string(a.Sex), a.Sex == SexUnknown || a.Sex == Female || a.Sex == Male},
		{"sex-how", string(a.SexHow), a.SexHow == HowUnknown || slices.Contains(SexHows(), a.SexHow)},
		{"source", string(a.Source), a.Source == SourceNone || slices.Contains(SourceCodes(), a.Source)},
		{"status", string(a.Status), slices.Contains(Statuses(), a.Status)},
		{"chip", string(a.Chip.Standard), a.Chip.IsZero() || a.Chip.Standard == ChipISO || a.Chip.Standard == ChipOther},
		{"chip-site", string(a.Chip.Site), a.Chip.Site == SiteUnknown || slices.Contains(ChipSites(), a.Chip.Site)},
	} {
		if !choice.known {
			return mend(choice.field, choice.value, "choice.unknown", nil)
		}
	}
	if a.SexHow == HowLaid && a.Sex != Female || a.SexHow == HowSired && a.Sex != Male {
		return mend("sex-how", string(a.SexHow), "sex-how.other-sex", nil)
	}
	return nil
}

func (a Animal) checkDays(today model.Day) *model.Refusal {
	for _, on := range []struct {
		field string
		date  model.Date
	}{
		{"hatched", a.Hatched}, {"since", a.Since}, {"status-day", a.StatusDay}, {"measured", a.Length.On}, {"chip-read", a.Chip.LastRead},
	} {
		if on.date.IsZero() {
			continue
		}
		if on.date.Day > today {
			return mend(on.field, on.date.Day.String(), "day.future", map[string]model.Gap{"Today": model.DayGap(today)})
		}
		if !a.Hatched.IsZero() && on.field != "hatched" && last(on.date) < a.Hatched.Day {
			return mend(on.field, on.date.Day.String(), "day.before-hatching", map[string]model.Gap{"Hatched": model.DayGap(a.Hatched.Day)})
		}
	}
	return nil
}

// last is the last day that the date can be.
func last(d model.Date) model.Day {
	year, month, _ := d.Day.Date()
	switch d.Precision {
	case model.ToMonth:
		return model.NewDay(year, month+1, 0)
	case model.ToYear:
		return model.NewDay(year, 12, 31)
	}
	return d.Day
}

func (a Animal) checkLength() *model.Refusal {
	if l := a.Length.SnoutVent; l.Tenths < 0 || l.Tenths > MaxSnoutVent {
		return mend("snout-vent", l.Typed, "length.range", map[string]model.Gap{"Most": model.LengthGap(model.Length{Tenths: MaxSnoutVent})})
	}
	return nil
}

func (a Animal) checkOffers() *model.Refusal {
	if a.OfferEvery < 0 || a.OfferEvery > MaxOfferEvery {
		return mend("offer-every", "", "number.range", map[string]model.Gap{"Least": model.CountGap(1), "Most": model.CountGap(MaxOfferEvery)})
	}
	return nil
}

func (a Animal) checkPhotos() *model.Refusal {
	if a.Portrait != "" && !slices.Contains(a.Photos, a.Portrait) {
		return mend("portrait", string(a.Portrait), "portrait.not-hers", nil)
	}
	return nil
}
