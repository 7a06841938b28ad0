package demo

import (
	"testing"
	"time"

	"coilward/model"
	"coilward/model/round"
)

// The round of yesterday is open, half done, with one box left out, and nobody was gone
// back to.
func TestARoundIsHalfDone(t *testing.T) {
	c, _ := filled(t, time.Date(2026, 11, 27, 7, 30, 0, 0, time.UTC))
	var all []round.Stored
	if err := c.View(func(v model.View) (err error) { all, err = round.Last(v, 2); return err }); err != nil {
		t.Fatal(err)
	}
	if len(all) != 1 || !all[0].Open() {
		t.Fatalf("%+v", all)
	}
	if looked, passed, left := all[0].Count(); looked < 2 || passed != 1 || left < 2 {
		t.Errorf("%d looked at, %d left out, %d left", looked, passed, left)
	}
}
