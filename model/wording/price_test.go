package wording_test

import (
	"errors"
	"testing"

	"coilward/model"
	"coilward/model/wording"
)

func TestPrices(t *testing.T) {
	l := languages(t)
	for _, c := range []struct {
		typed, reason string
		cents         int64
	}{
		{"32", "", 3200}, {" 32.50 ", "", 3250}, {"32,5", "", 3250}, {"0", "", 0}, {"100000", "", 10_000_000}, {"0.01", "", 1},
		{"100000.01", "price.range", 0}, {"", "text.empty", 0}, {"-3", "price.unreadable", 0}, {"3,505", "price.unreadable", 0}, {"32 €", "price.unreadable", 0}, {"1e3", "price.unreadable", 0},
	} {
		for _, language := range []string{"en", "de"} {
			got, err := l.In(language, wording.Units{}).ParsePrice(c.typed)
			var refused *model.Refusal
			if errors.As(err, &refused); err != nil && (refused == nil || refused.Reason != c.reason) || err == nil && (c.reason != "" || got != c.cents) {
				t.Errorf("%s: %q gives %d, %v", language, c.typed, got, err)
			}
		}
	}
	for cents, want := range map[int64]string{3250: "32,50", 3200: "32", 5: "0,05", 0: "0"} {
		if got := l.In("de", wording.Units{}).Price(cents); got != want {
			t.Errorf("%d cents are %q, want %q", cents, got, want)
		}
	}
}
