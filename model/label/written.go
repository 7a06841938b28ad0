package label

import (
	"strconv"
	"strings"

	"coilward/model"
)

// Written is what the code of a sheet says that is written on in the room and typed in
// later.
type Written struct {
	Kind WrittenKind
	// ID is the sheet's own; of a sheet for a check it is the id that the check gets, so
	// that a sheet is not typed in twice without being asked about.
	ID model.ID
	// Of is the animal of a check, the place whose boxes are weighed, or the round; zero is
	// any animal, the whole house.
	Of  model.ID
	Day model.Day // that the sheet is for
	// Order tells the order of the lines on the sheet from another one, as Order gives it; of a sheet
	// for a check it is 0.
	Order uint16
}

// WrittenKind is what is written on a sheet. Values are frozen: printed sheets carry them.
type WrittenKind string

// The kinds of sheets.
const (
	CheckSheet WrittenKind = "check"
	WeighSheet WrittenKind = "weigh"
	RoundSheet WrittenKind = "round"
)

// written begins the code of a sheet, which is no Label and no tube's. It is frozen.
const written = scheme + "sheet:"

// Text is what the code carries, such as
// "COILWARD:SHEET:CHECK:0190A1B2-C3D4-7E5F-8A9B-0C1D2E3F4A5B::2026-11-28:0000": kind, id,
// of what, day, order. Its signs are those that take the least room in a code.
func (w Written) Text() string {
	of := ""
	if !w.Of.IsZero() {
		of = w.Of.String()
	}
	order := strconv.FormatUint(uint64(w.Order)+1<<16, 16)[1:]
	return strings.ToUpper(written + strings.Join([]string{string(w.Kind), w.ID.String(), of, w.Day.String(), order}, ":"))
}

// ParseWritten reads the text of a sheet's code: white space around it and the case of its
// letters do not matter. ok is false for every text that is none, cards' and tubes' codes
// among them.
func ParseWritten(text string) (w Written, ok bool) {
	rest, ours := strings.CutPrefix(strings.ToLower(strings.TrimSpace(text)), written)
	parts := strings.Split(rest, ":")
	if !ours || len(parts) != 5 {
		return Written{}, false
	}
	w.Kind = WrittenKind(parts[0])
	if w.Kind != CheckSheet && w.Kind != WeighSheet && w.Kind != RoundSheet {
		return Written{}, false
	}
	var err error
	if w.ID, err = model.ParseID(parts[1]); err != nil || w.ID.IsZero() {
		return Written{}, false
	}
	if w.Of, err = model.ParseID(parts[2]); err != nil {
		return Written{}, false
	}
	if w.Day.UnmarshalText([]byte(parts[3])) != nil || w.Day.String() != parts[3] {
		return Written{}, false
	}
	order, err := strconv.ParseUint(parts[4], 16, 16)
	if err != nil || len(parts[4]) != 4 {
		return Written{}, false
	}
	w.Order = uint16(order)
	return w, true
}

// Short are the last signs of the sheet's id, by which people tell it from another.
func (w Written) Short() string {
	id := strings.ToUpper(w.ID.String())
	return id[len(id)-shortSigns:]
}

// shortSigns is how many signs of an id people are asked to read.
const shortSigns = 6

// Order tells the order of some animals or boxes from another one: the checksum
// CRC-16/CCITT (polynomial 0x1021, from 0xFFFF) of their ids.
func Order(ids []model.ID) uint16 {
	sum := uint16(0xFFFF)
	for _, id := range ids {
		for _, b := range id {
			sum ^= uint16(b) << 8
			for range 8 {
				carry := sum&0x8000 != 0
				sum <<= 1
				if carry {
					sum ^= 0x1021
				}
			}
		}
	}
	return sum
}
