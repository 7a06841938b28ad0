package label

import (
	"encoding/hex"
	"fmt"
	"strconv"
	"strings"
	"unicode"

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

// Number is what people read on a sheet, to tell it from another or to type it in where its
// code cannot be scanned: the last signs of its id, such as "3F4A5B", and before them, on
// sheets that list boxes, the letter of its kind and their order, such as "R-1A2B-3F4A5B".
func (w Written) Number() string {
	id := strings.ToUpper(w.ID.String())
	number := id[len(id)-2*endBytes:]
	if letter, lists := letters[w.Kind]; lists {
		number = fmt.Sprintf("%s-%04X-%s", letter, w.Order, number)
	}
	return number
}

// endBytes is how many bytes of an id people are asked to read.
const endBytes = 3

// letters begin the numbers of sheets that list boxes. They are frozen.
var letters = map[WrittenKind]string{WeighSheet: "W", RoundSheet: "R"}

// Number is the number of a sheet that was typed in.
type Number struct {
	Kind  WrittenKind // of a sheet for a check: CheckSheet
	Order uint16      // of the boxes listed; 0 of a sheet for a check
	End   [endBytes]byte
}

// ParseNumber reads the number of a sheet; the case of its letters, and what stands between
// its parts, white space or lines, do not matter. ok is false for every text that is none.
func ParseNumber(text string) (n Number, ok bool) {
	parts := strings.FieldsFunc(strings.ToUpper(text), func(r rune) bool { return r == '-' || r == '–' || unicode.IsSpace(r) })
	n.Kind = CheckSheet
	if len(parts) == 3 {
		for kind, letter := range letters {
			if parts[0] == letter {
				n.Kind = kind
			}
		}
		order, err := hex.DecodeString(parts[1])
		if err != nil || len(order) != 2 || n.Kind == CheckSheet {
			return Number{}, false
		}
		n.Order, parts = uint16(order[0])<<8|uint16(order[1]), parts[2:]
	}
	if len(parts) != 1 {
		return Number{}, false
	}
	end, err := hex.DecodeString(parts[0])
	if err != nil || len(end) != endBytes {
		return Number{}, false
	}
	copy(n.End[:], end)
	return n, true
}

// EndOf is the number of a sheet of that id, as far as its id tells.
func EndOf(id model.ID) (n Number) {
	copy(n.End[:], id[len(id)-endBytes:])
	return n
}

// Ends reports whether an id is one of a sheet of that number.
func (n Number) Ends(id model.ID) bool { return EndOf(id).End == n.End }

// ID is an id that ends as the number says, and is like another one else.
func (n Number) ID(like model.ID) model.ID {
	copy(like[len(like)-endBytes:], n.End[:])
	return like
}

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
