package climate

import (
	"cmp"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"math"
	"slices"
)

// Reading is what a sensor showed at a second.
type Reading struct {
	At          int64 // seconds since 1970-01-01 00:00 UTC
	Temperature int16 // hundredths of a degree Celsius, or NoTemperature
	Humidity    int16 // hundredths of a percent, or NoHumidity
}

// What a reading has where its sensor does not measure it.
const (
	NoTemperature int16 = math.MinInt16
	NoHumidity    int16 = -1
)

// What a reading may be: wider than where any snake is kept, and than what loggers are
// made for (assumed). Hundredths of a degree Celsius and of a percent.
const (
	Coldest    = -4000
	Hottest    = 8500
	MostHumid  = 10000
	secondsDay = 86400
)

// Value is what was measured; ok is false where it was not.
func (r Reading) Value(m Measure) (value int, ok bool) {
	if m == Humidity {
		return int(r.Humidity), r.Humidity != NoHumidity
	}
	return int(r.Temperature), r.Temperature != NoTemperature
}

// Plausible tells which measure of the reading cannot be; empty: none.
func (r Reading) Plausible() Measure {
	switch {
	case r.Temperature != NoTemperature && (r.Temperature < Coldest || r.Temperature > Hottest):
		return Temperature
	case r.Humidity != NoHumidity && (r.Humidity < 0 || r.Humidity > MostHumid):
		return Humidity
	}
	return ""
}

// Empty reports whether nothing was measured.
func (r Reading) Empty() bool { return r.Temperature == NoTemperature && r.Humidity == NoHumidity }

// dayOf is the day in UTC on which a second lies.
func dayOf(at int64) int64 { return floorDiv(at, secondsDay) }

func floorDiv(a, b int64) int64 {
	q := a / b
	if a%b < 0 {
		q--
	}
	return q
}

// Sort orders readings by their second; of one second the first stays the first.
func Sort(all []Reading) {
	slices.SortStableFunc(all, func(a, b Reading) int { return cmp.Compare(a.At, b.At) })
}

// Merge joins two sorted lists, each second once: where both have one, had's stays.
// same counts those of more that were there, differing those that were there
// otherwise.
func Merge(had, more []Reading) (all []Reading, same, differing int) {
	all = make([]Reading, 0, len(had)+len(more))
	i := 0
	for _, r := range more {
		for i < len(had) && had[i].At <= r.At {
			all = append(all, had[i])
			i++
		}
		if n := len(all); n > 0 && all[n-1].At == r.At {
			if all[n-1] == r {
				same++
			} else {
				differing++
			}
			continue
		}
		all = append(all, r)
	}
	return append(all, had[i:]...), same, differing
}

// packing stands before the packed readings, and names their form.
const packing = "C1"

// packedSize is the size of a reading: its second of the day, temperature, humidity.
const packedSize = 8

// ErrPacked is wrapped where packed readings are damaged or of a form that is not known.
var ErrPacked = errors.New("packed readings cannot be read")

var castagnoli = crc32.MakeTable(crc32.Castagnoli)

// Pack packs the sorted readings of one day in UTC: "C1", the CRC-32C of what follows,
// and eight bytes for each. A reading of another day is an error.
func Pack(day int64, all []Reading) ([]byte, error) {
	packed := make([]byte, len(packing)+4, len(packing)+4+len(all)*packedSize)
	copy(packed, packing)
	for i, r := range all {
		if dayOf(r.At) != day || i > 0 && all[i-1].At >= r.At {
			return nil, fmt.Errorf("pack the readings of day %d: the one at %d stands out of its order", day, r.At)
		}
		packed = binary.BigEndian.AppendUint32(packed, uint32(r.At-day*secondsDay))
		packed = binary.BigEndian.AppendUint16(packed, uint16(r.Temperature))
		packed = binary.BigEndian.AppendUint16(packed, uint16(r.Humidity))
	}
	binary.BigEndian.PutUint32(packed[len(packing):], crc32.Checksum(packed[len(packing)+4:], castagnoli))
	return packed, nil
}

// Unpack appends the readings of a day to all.
func Unpack(all []Reading, day int64, packed []byte) ([]Reading, error) {
	const head = len(packing) + 4
	if len(packed) < head || string(packed[:len(packing)]) != packing || (len(packed)-head)%packedSize != 0 {
		return all, fmt.Errorf("read the readings of day %d: %w", day, ErrPacked)
	}
	if crc32.Checksum(packed[head:], castagnoli) != binary.BigEndian.Uint32(packed[len(packing):]) {
		return all, fmt.Errorf("read the readings of day %d: their checksum does not fit: %w", day, ErrPacked)
	}
	last := int64(-1)
	for p := packed[head:]; len(p) > 0; p = p[packedSize:] {
		second := int64(binary.BigEndian.Uint32(p))
		if second <= last || second >= secondsDay {
			return all, fmt.Errorf("read the readings of day %d: second %d stands out of its order: %w", day, second, ErrPacked)
		}
		last = second
		all = append(all, Reading{At: day*secondsDay + second, Temperature: int16(binary.BigEndian.Uint16(p[4:])), Humidity: int16(binary.BigEndian.Uint16(p[6:]))})
	}
	return all, nil
}
