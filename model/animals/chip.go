package animals

import (
	"strconv"
	"strings"

	"coilward/model"
)

// Chip is a microchip as it is read. The zero Chip is none known.
type Chip struct {
	// Digits are as read, without spaces; leading zeros count.
	Digits   string       `json:"digits"`
	Standard ChipStandard `json:"standard"`
	Site     ChipSite     `json:"site,omitempty"`
	LastRead model.Date   `json:"lastRead,omitzero"`
}

// IsZero reports whether no chip is known.
func (c Chip) IsZero() bool { return c.Digits == "" }

// ChipStandard tells what the digits follow. Values are frozen; the text is
// "animals.chip." + value.
type ChipStandard string

// The standards of chips.
const (
	ChipISO   ChipStandard = "iso"   // ISO 11784: 15 digits
	ChipOther ChipStandard = "other" // an older one, kept as it was read
)

// ChipSite is where on the body the chip sits. Values are frozen; the text is
// "animals.chip-site." + value.
type ChipSite string

// The sites. A guide to implantation puts it at the left of the neck, twice the
// head's length behind the nose.
const (
	SiteUnknown ChipSite = ""
	SiteNeck    ChipSite = "neck" // left side of the neck
	SiteRight   ChipSite = "neck-right"
	SiteTail    ChipSite = "tail" // left, at the base of the tail
	SiteOther   ChipSite = "other"
)

// ChipSites are the sites in the order in which they are offered.
func ChipSites() []ChipSite { return []ChipSite{SiteNeck, SiteRight, SiteTail, SiteOther} }

// ReadDigits is the typed number of a chip without the spaces, hyphens and dots
// that are often printed between its groups.
func ReadDigits(typed string) string {
	return strings.Map(func(r rune) rune {
		switch r {
		case ' ', '\u00a0', '\u202f', '\u2009', '-', '.', '\t':
			return -1
		}
		return r
	}, typed)
}

// largestNumber is the largest number in the 38 bits that ISO 11784 has for it.
// Source: slide "ISO 11784 coding of the transponder"; the bound is computed.
const largestNumber = 1<<38 - 1

// Check tells why the digits cannot be a chip of the standard they are said to
// follow: ISO 11784 wants 15 digits, three for the country or the maker (not
// 000, and not 999, which is for trials) and twelve for the number, at most
// 274877906943. Sources: explanatory pages on the standard; 999 from memory.
func (c Chip) Check() *model.Refusal {
	refuse := func(reason string) *model.Refusal {
		return &model.Refusal{Field: "chip", Value: c.Digits, Reason: reason, Answer: model.Mend,
			Gaps: map[string]model.Gap{"Digits": model.CountGap(len(c.Digits))}}
	}
	if c.IsZero() {
		return nil
	}
	if strings.Trim(c.Digits, "0123456789") != "" && c.Standard == ChipISO {
		return refuse("chip.not-digits")
	}
	if c.Standard != ChipISO {
		if model.CheckLine("chip", c.Digits, 40) != nil {
			return refuse("chip.not-readable")
		}
		return nil
	}
	if len(c.Digits) != 15 {
		return refuse("chip.count")
	}
	switch c.Digits[:3] {
	case "000":
		return refuse("chip.no-country")
	case "999":
		return refuse("chip.trial")
	}
	if number, err := strconv.ParseInt(c.Digits[3:], 10, 64); err != nil || number > largestNumber {
		return refuse("chip.too-large")
	}
	return nil
}

// Warnings are keys of what is odd about the chip and still may stand.
func (c Chip) Warnings() []string {
	var keys []string
	if c.Standard == ChipOther && !c.IsZero() {
		keys = append(keys, "animals.chip.warn.other")
	}
	if len(c.Digits) > 3 && strings.Count(c.Digits[3:], c.Digits[3:4]) == len(c.Digits)-3 {
		keys = append(keys, "animals.chip.warn.alike")
	}
	return keys
}
