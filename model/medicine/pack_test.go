package medicine_test

import (
	"testing"
	"time"

	"coilward/model"
	"coilward/model/medicine"
)

func TestPackExpired(t *testing.T) {
	date := func(y, m, d int, p model.Precision) model.Date {
		return model.Date{Day: model.NewDay(y, time.Month(m), d), Precision: p}
	}
	day := func(y, m, d int) model.Day { return model.NewDay(y, time.Month(m), d) }
	for _, c := range []struct {
		name    string
		expires model.Date
		on      model.Day
		want    bool
	}{
		{"no date", model.Date{}, day(2027, 6, 9), false},
		{"its last day", date(2027, 6, 9, model.ToDay), day(2027, 6, 9), false},
		{"the day after", date(2027, 6, 9, model.ToDay), day(2027, 6, 10), true},
		{"the end of its month", date(2028, 2, 1, model.ToMonth), day(2028, 2, 29), false},
		{"the month after", date(2028, 2, 1, model.ToMonth), day(2028, 3, 1), true},
		{"december", date(2027, 12, 1, model.ToMonth), day(2027, 12, 31), false},
		{"the end of its year", date(2027, 1, 1, model.ToYear), day(2027, 12, 31), false},
		{"the year after", date(2027, 1, 1, model.ToYear), day(2028, 1, 1), true},
	} {
		if got := (medicine.Pack{Expires: c.expires}).Expired(c.on); got != c.want {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}
