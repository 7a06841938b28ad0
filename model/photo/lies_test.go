package photo_test

import (
	"os"
	"path/filepath"
	"testing"

	"coilward/model/photo"
)

func TestWhatLiesWithinAFolder(t *testing.T) {
	home := t.TempDir()
	in := func(parts ...string) string { return filepath.Join(append([]string{home}, parts...)...) }
	for _, folder := range []string{in("phone", "trip"), in("phone-old")} {
		if err := os.MkdirAll(folder, 0o700); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Symlink(in("phone", "trip"), in("link")); err != nil {
		t.Skipf("no links here: %v", err)
	}
	for _, c := range []struct {
		folder, other string
		want          bool
	}{
		{in("phone"), in("phone"), true},
		{in("phone", "trip"), in("phone"), true},
		{in("phone", "trip", "..", "trip"), in("phone"), true},
		{in("link"), in("phone"), true},
		{in("phone"), in("phone", "trip"), false},
		{in("phone-old"), in("phone"), false},
		{home, in("phone"), false},
		{in("phone"), in("gone"), false},
		{in("gone"), home, false},
	} {
		if got := photo.Within(c.folder, c.other); got != c.want {
			t.Errorf("%s within %s: %v", c.folder, c.other, got)
		}
	}
}
