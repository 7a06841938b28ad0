package photo

import (
	"bytes"
	"encoding/binary"
	"strconv"
	"strings"
	"time"

	"coilward/model"
)

// Note is what a photo's file says of its taking, in EXIF (CIPA DC-008). Where
// it was taken, and with what, is not read.
type Note struct {
	Turned int // how the picture lies, 1 to 8 as in EXIF; 1: upright; 0: not said
	Taken  Taken
}

// Taken is when a photo was taken, by the camera's own clock. The zero value is
// "not said".
type Taken struct {
	Day    model.Day `json:"day"`
	Second int       `json:"second"` // of the day
	Said   bool      `json:"said"`
	// Offset is how far that clock was from UTC, in seconds east, where Zoned.
	Offset int32 `json:"offset,omitempty"`
	Zoned  bool  `json:"zoned,omitempty"`
}

// Moment is when the photo was taken. Where the camera does not say how its clock
// stood to UTC, it is read as the clock of the place where it is now; the zero
// Moment where nothing is said.
func (t Taken) Moment(now model.Moment) model.Moment {
	if !t.Said {
		return model.Moment{}
	}
	if t.Zoned {
		return model.Moment{UTC: int64(t.Day)*86400 + int64(t.Second) - int64(t.Offset), Offset: t.Offset, Precision: model.ToMinute}
	}
	m := model.MomentOn(now, t.Day, t.Second/60, model.ToMinute)
	m.UTC += int64(t.Second % 60)
	return m
}

// OtherDay is when the first of photos was taken, by its camera, where no camera of
// theirs says the day on; ok is false where one does, or none says a day. A clock that
// is ahead of now says nothing.
func OtherDay(photos []Taken, on model.Day, now model.Moment) (at model.Moment, ok bool) {
	for _, t := range photos {
		taken := t.Moment(now)
		if !t.Said || now.Before(taken) {
			continue
		}
		if taken.Day() == on {
			return model.Moment{}, false
		}
		if !ok {
			at, ok = taken, true
		}
	}
	return at, ok
}

// ReadNote reads what a photo's file says of its taking. What is damaged or not
// there is left out: a photo is one without it too.
func ReadNote(raw []byte) Note {
	tiff := exifOf(raw)
	order := orderOf(tiff)
	if order == nil {
		return Note{}
	}
	var n Note
	var detail uint32
	eachTag(tiff, order, order.Uint32(tiff[4:]), func(tag uint16, value []byte) {
		switch tag {
		case tagOrientation:
			if v := short(order, value); v >= 1 && v <= 8 {
				n.Turned = v
			}
		case tagExif:
			if len(value) >= 4 {
				detail = order.Uint32(value)
			}
		}
	})
	if detail == 0 {
		return n
	}
	var at, zone string
	eachTag(tiff, order, detail, func(tag uint16, value []byte) {
		switch tag {
		case tagTaken:
			at = ascii(value)
		case tagZone:
			zone = ascii(value)
		}
	})
	n.Taken = taken(at, zone)
	return n
}

// The tags that are read.
const (
	tagOrientation = 0x0112
	tagExif        = 0x8769 // where the details lie
	tagTaken       = 0x9003 // DateTimeOriginal
	tagZone        = 0x9011 // OffsetTimeOriginal
)

func orderOf(tiff []byte) binary.ByteOrder {
	if len(tiff) < 8 {
		return nil
	}
	switch string(tiff[:4]) {
	case "II*\x00":
		return binary.LittleEndian
	case "MM\x00*":
		return binary.BigEndian
	}
	return nil
}

// eachTag visits the entries of one list of tags, with the bytes of their values.
// It follows no link to another list, so that none can lead back.
func eachTag(tiff []byte, order binary.ByteOrder, at uint32, visit func(tag uint16, value []byte)) {
	if uint64(at)+2 > uint64(len(tiff)) {
		return
	}
	list := tiff[at+2:]
	for range min(int(order.Uint16(tiff[at:])), len(list)/12) {
		one := list[:12]
		list = list[12:]
		value := one[8:]
		size := uint64(order.Uint32(one[4:])) * sizeOf(order.Uint16(one[2:]))
		if size > 4 {
			from := uint64(order.Uint32(value))
			if size > 64 || from+size > uint64(len(tiff)) {
				continue // longer than anything that is read here, or outside
			}
			value = tiff[from:]
		}
		visit(order.Uint16(one), value[:size])
	}
}

// sizeOf is how many bytes a value of that kind has.
func sizeOf(kind uint16) uint64 {
	switch kind {
	case 1, 2, 6, 7:
		return 1
	case 3, 8:
		return 2
	case 4, 9, 11, 13:
		return 4
	case 5, 10, 12:
		return 8
	}
	return 0
}

func short(order binary.ByteOrder, value []byte) int {
	if len(value) < 2 {
		return 0
	}
	return int(order.Uint16(value))
}

func ascii(value []byte) string {
	text, _, _ := strings.Cut(string(value), "\x00")
	return strings.TrimSpace(text)
}

// taken reads "2026:11:28 09:53:33" and "+01:00". What no clock shows, such as
// the zeros of a camera that was never set, is not said.
func taken(at, zone string) Taken {
	t, err := time.Parse("2006:01:02 15:04:05", at)
	if err != nil || t.Year() < firstYear {
		return Taken{}
	}
	found := Taken{Day: model.DayOf(t), Second: t.Hour()*3600 + t.Minute()*60 + t.Second(), Said: true}
	if len(zone) == 6 && zone[3] == ':' && (zone[0] == '+' || zone[0] == '-') {
		hours, wrong := strconv.ParseUint(zone[1:3], 10, 8)
		minutes, bad := strconv.ParseUint(zone[4:], 10, 8)
		if wrong == nil && bad == nil && hours <= 14 && minutes < 60 {
			found.Zoned, found.Offset = true, int32(hours*3600+minutes*60)
			if zone[0] == '-' {
				found.Offset = -found.Offset
			}
		}
	}
	return found
}

// firstYear is the first in which a camera wrote EXIF.
const firstYear = 1995

// exifOf finds the EXIF in a file, from its TIFF header on; nil: there is none.
func exifOf(raw []byte) []byte {
	switch sniff(raw) {
	case JPEG:
		return exifOfJPEG(raw)
	case PNG:
		return exifOfPNG(raw)
	case HEIC:
		return exifOfHEIC(raw)
	}
	return nil
}

func exifOfJPEG(raw []byte) []byte {
	for rest := raw[2:]; len(rest) >= 4 && rest[0] == 0xff; {
		marker, length := rest[1], int(binary.BigEndian.Uint16(rest[2:]))
		if marker == 0xff { // padding
			rest = rest[1:]
			continue
		}
		if marker == 0xda || length < 2 || length+2 > len(rest) {
			return nil // the picture's own data begin
		}
		if tiff, ok := bytes.CutPrefix(rest[4:length+2], []byte("Exif\x00\x00")); ok && marker == 0xe1 {
			return tiff
		}
		rest = rest[length+2:]
	}
	return nil
}

func exifOfPNG(raw []byte) []byte {
	for rest := raw[8:]; len(rest) >= 12; {
		length := uint64(binary.BigEndian.Uint32(rest))
		if length+12 > uint64(len(rest)) {
			return nil
		}
		if string(rest[4:8]) == "eXIf" {
			return rest[8 : 8+length]
		}
		rest = rest[length+12:]
	}
	return nil
}

// exifOfHEIC follows ISO/IEC 14496-12 and 23008-12: the box "meta" names its items
// in "iinf" and says in "iloc" where they lie; before the TIFF header stands
// how far on it begins.
func exifOfHEIC(raw []byte) []byte {
	meta := skip(box(raw, "meta"), 4)
	id, ok := exifItem(box(meta, "iinf"))
	if !ok {
		return nil
	}
	item := located(box(meta, "iloc"), id, raw, box(meta, "idat"))
	if len(item) < 4 {
		return nil
	}
	return skip(item[4:], uint64(binary.BigEndian.Uint32(item)))
}

// box is the content of the first box of that kind.
func box(raw []byte, kind string) []byte {
	var found []byte
	eachBox(raw, func(k string, content []byte) bool {
		if k == kind {
			found = content
		}
		return k != kind
	})
	return found
}

func eachBox(raw []byte, visit func(kind string, content []byte) bool) {
	for len(raw) >= 8 {
		size, head := uint64(binary.BigEndian.Uint32(raw)), uint64(8)
		switch {
		case size == 0:
			size = uint64(len(raw)) // up to the end
		case size == 1 && len(raw) >= 16:
			size, head = binary.BigEndian.Uint64(raw[8:]), 16
		}
		if size < head || size > uint64(len(raw)) || !visit(string(raw[4:8]), raw[head:size]) {
			return
		}
		raw = raw[size:]
	}
}

func skip(raw []byte, n uint64) []byte {
	if n > uint64(len(raw)) {
		return nil
	}
	return raw[n:]
}

// exifItem is the number of the item that holds EXIF.
func exifItem(iinf []byte) (id uint32, ok bool) {
	if len(iinf) < 1 {
		return 0, false
	}
	head := uint64(6)
	if iinf[0] > 0 {
		head = 8
	}
	eachBox(skip(iinf, head), func(_ string, infe []byte) bool {
		if len(infe) < 1 {
			return true
		}
		r := reader{rest: infe}
		version := r.number(1)
		r.number(3)
		wide := 2
		if version >= 3 {
			wide = 4
		}
		found := uint32(r.number(wide))
		r.number(2)
		if version >= 2 && r.number(4) == 0x45786966 && !r.short { // "Exif"
			id, ok = found, true
		}
		return !ok
	})
	return id, ok
}

// located are the bytes of an item, which lies in the file or in idat.
func located(iloc []byte, id uint32, raw, idat []byte) []byte {
	r := reader{rest: iloc}
	version := r.number(1)
	r.number(3)
	sizes := r.number(2)
	offsetSize, lengthSize, baseSize, indexSize := int(sizes>>12), int(sizes>>8&15), int(sizes>>4&15), int(sizes&15)
	wide := 2
	if version == 2 {
		wide = 4
	}
	if version == 0 {
		indexSize = 0
	}
	for items := r.number(wide); items > 0 && !r.short; items-- {
		item, method := uint32(r.number(wide)), uint64(0)
		if version > 0 {
			method = r.number(2) & 15
		}
		r.number(2)
		base := r.number(baseSize)
		for i := r.number(2); i > 0 && !r.short; i-- {
			r.number(indexSize)
			from, length := base+r.number(offsetSize), r.number(lengthSize)
			if item != id || r.short {
				continue
			}
			in := raw
			if method == 1 {
				in = idat
			}
			if method > 1 || from > uint64(len(in)) || length > uint64(len(in))-from {
				return nil
			}
			return in[from : from+length] // the first piece: EXIF is not cut up
		}
	}
	return nil
}

// reader takes numbers off the front; short once there were too few bytes.
type reader struct {
	rest  []byte
	short bool
}

func (r *reader) number(size int) uint64 {
	if size > 8 || size > len(r.rest) {
		r.short, r.rest = true, nil
		return 0
	}
	var n uint64
	for _, b := range r.rest[:size] {
		n = n<<8 | uint64(b)
	}
	r.rest = r.rest[size:]
	return n
}
