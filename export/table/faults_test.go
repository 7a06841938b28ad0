package table_test

import (
	"fmt"
	"slices"
	"testing"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/importing"
)

// All that is wrong with a row is told at once, each with its column, and what of the
// row it keeps from coming in.
func TestEveryFaultOfARowIsTold(t *testing.T) {
	d := newDesk(t)
	animal, weight, stay := importing.Part{Type: model.TypeAnimal}, importing.Part{Type: model.TypeEntry, Kind: care.KindWeight}, importing.Part{Type: model.TypeStay}
	for name, c := range map[string]struct {
		rows string
		part importing.Part
		want []string
	}{
		"an animal":            {"Name;Species;Sex;Hatched\nJuno;dragon;sideways;31.02.2024\n", animal, []string{"Species dragon", "Sex sideways", "Hatched 31.02.2024"}},
		"and its weight":       {"Name;Species;Weight g;Date\nJuno;dragon;heavy;2027-01-02\n", animal, []string{"Species dragon", "Weight g heavy"}},
		"a weight":             {"Name;Weight g;Date\nJuno;heavy;31.02.2027\n", weight, []string{"Date 31.02.2027", "Weight g heavy"}},
		"a stay":               {"Name;Box;From;To\nJuno;Loft;31.02.2027;32.03.2027\n", stay, []string{"From 31.02.2027", "To 32.03.2027"}},
		"with one fault alone": {"Name;Weight g;Date\nJuno;heavy;2027-01-02\n", weight, []string{"Weight g heavy"}},
	} {
		taken, _ := d.take(t, "a.csv", c.rows)
		if len(taken.Bad) != 1 || taken.Bad[0].Part != c.part {
			t.Errorf("%s: %+v", name, taken.Bad)
			continue
		}
		var got []string
		for _, f := range taken.Bad[0].Faults() {
			got = append(got, fmt.Sprintf("%s %s", f.Column, f.Refusal.Value))
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
	}
}
