package papertest

import (
	"testing"

	"coilward/assets"
	"coilward/model/wording"
)

// Text words papers in a language, in metric units.
func Text(t testing.TB, language string) *wording.Text {
	t.Helper()
	languages, err := wording.Load(assets.Text())
	if err != nil {
		t.Fatal(err)
	}
	return languages.In(language, wording.Units{})
}
