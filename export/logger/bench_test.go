package logger_test

import (
	"encoding/csv"
	"errors"
	"io"
	"strconv"
	"strings"
	"testing"
	"time"

	"coilward/export/logger"
	"coilward/model/climate"
)

func hundredThousand() string {
	return strings.ReplaceAll(file(time.Date(2025, 1, 1, 0, 0, 0, 0, time.UTC), 10*time.Minute, 100_000, time.UTC), "time;temp c\n", "time;temp c\n")
}

// A hundred thousand lines, read and settled.
func BenchmarkRead(b *testing.B) {
	content, w, loc := hundredThousand(), words(b), berlin(b)
	b.SetBytes(int64(len(content)))
	for b.Loop() {
		layout, err := logger.Look(strings.NewReader(content), "log.csv", w)
		if err != nil {
			b.Fatal(err)
		}
		rec, err := logger.Read(strings.NewReader(content), "log.csv", layout, nil)
		if err != nil {
			b.Fatal(err)
		}
		if s := rec.Settle(logger.Answers{Clock: logger.UTC}, loc, later, hottest); len(s.Readings) != 100_000 {
			b.Fatal(len(s.Readings), s.Faults)
		}
	}
}

// The peer: the standard library's readers, which know what stands where.
func BenchmarkReadByTheLibrary(b *testing.B) {
	content := hundredThousand()
	b.SetBytes(int64(len(content)))
	for b.Loop() {
		r := csv.NewReader(strings.NewReader(content))
		r.Comma, r.ReuseRecord = ';', true
		_, _ = r.Read()
		var all []climate.Reading
		for {
			cells, err := r.Read()
			if errors.Is(err, io.EOF) {
				break
			}
			at, err1 := time.ParseInLocation("2006-01-02 15:04:05", cells[0], time.UTC)
			t, err2 := strconv.ParseFloat(cells[1], 64)
			if err := errors.Join(err, err1, err2); err != nil {
				b.Fatal(err)
			}
			all = append(all, climate.Reading{At: at.Unix(), Temperature: int16(t * 100), Humidity: climate.NoHumidity})
		}
		if len(all) != 100_000 {
			b.Fatal(len(all))
		}
	}
}
