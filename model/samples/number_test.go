package samples_test

import (
	"testing"

	"coilward/model/samples"
)

func TestNumbersOfABatch(t *testing.T) {
	for number, want := range map[string]string{"W-41": "W-42", "0099": "0100", "A9": "A10", "K-007x": "", "": "", "12": "13", "99999999999999999999999": ""} {
		if got := samples.Following(number); got != want {
			t.Errorf("after %q comes %q, want %q", number, got, want)
		}
	}
	for _, of := range []struct{ number, typed, want string }{{"W-041", "7", "W-007"}, {"W-041", "1234", "W-1234"}, {"", "7", "7"}, {"Kx", "12", "Kx12"}, {"0099", "150", "0150"}} {
		if got := samples.Numbered(of.number, of.typed); got != of.want {
			t.Errorf("%q with %q at its end is %q, want %q", of.number, of.typed, got, of.want)
		}
	}
}
