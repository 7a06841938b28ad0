package assets_test

import (
	"os"
	"strings"
	"testing"

	"coilward/assets"
)

func TestThePackagesAreOfTheProgramsVersion(t *testing.T) {
	raw, err := os.ReadFile("../FyneApp.toml")
	if err != nil {
		t.Fatal(err)
	}
	for line := range strings.Lines(string(raw)) {
		key, value, found := strings.Cut(line, "=")
		if found && strings.TrimSpace(key) == "Version" {
			if got := strings.Trim(strings.TrimSpace(value), `"`); got != assets.Version {
				t.Errorf("FyneApp.toml says version %q, the program %q", got, assets.Version)
			}
			return
		}
	}
	t.Error("FyneApp.toml names no version")
}
