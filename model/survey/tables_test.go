package survey_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"coilward/model/survey"
)

// Where the values of the tests were read, or had.
const (
	cannonRoe     = "Cannon & Roe 1982, Livestock disease surveys, table 1; from memory"
	computed      = "computed from the formula"
	rsurveillance = "the R package RSurveillance, its source and test file; read"
	epir          = "the R package epiR, manual and vignette on surveillance; read"
	beef          = "a textbook page on beef practice; read"
)

// near holds two figures to be no further apart than that.
func near(t *testing.T, of string, got, want, apart float64, source string) {
	t.Helper()
	if !(math.Abs(got-want) <= apart) {
		t.Errorf("%s: %.12g, want %.12g (%s)", of, got, want, source)
	}
}

// same holds two whole numbers to be the same.
func same(t *testing.T, of string, got, want int, source string) {
	t.Helper()
	if got != want {
		t.Errorf("%s: %d, want %d (%s)", of, got, want, source)
	}
}

// of takes what a function answers, and ends the test where it refuses.
func of[T any](v T, err error) func(*testing.T) T {
	return func(t *testing.T) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

// The table for a perfect test at 95 %, in its layout: animals, share infected, how many to
// test. The formula and the exact number are computed.
func TestPerfectTest_ThePublishedTable(t *testing.T) {
	for _, c := range []struct {
		animals        int
		share          float64
		infected       float64
		table          int
		formula, exact int // exact 0: no whole number of infected animals
	}{
		{10, .50, 5, 4, 4, 4},
		{10, .20, 2, 8, 8, 8},
		{10, .10, 1, 10, 10, 10},
		{20, .50, 10, 4, 5, 4},
		{20, .15, 3, 12, 13, 12},
		{20, .10, 2, 16, 16, 16},
		{20, .05, 1, 19, 19, 19},
		{30, .50, 15, 4, 5, 4},
		{30, .10, 3, 19, 19, 19},
		{30, .05, 1.5, 26, 26, 0},
		{40, .10, 4, 21, 21, 21},
		{40, .05, 2, 31, 31, 31},
		{50, .20, 10, 12, 12, 12},
		{50, .10, 5, 22, 22, 22},
		{50, .02, 1, 48, 48, 48},
		{60, .20, 12, 12, 13, 12},
		{60, .10, 6, 23, 23, 23},
		{60, .05, 3, 38, 38, 38},
		{80, .30, 24, 8, 9, 8},
		{80, .05, 4, 42, 42, 42},
		{100, .10, 10, 25, 25, 25},
		{100, .05, 5, 45, 45, 45},
		{100, .02, 2, 78, 78, 78},
		{100, .01, 1, 96, 95, 95}, // a tie: at 95 the chance is .95 to the digit; the table wants more
		{120, .25, 30, 10, 11, 10},
		{200, .20, 40, 13, 14, 13},
		{200, .10, 20, 27, 27, 27},
		{200, .05, 10, 51, 51, 51},
		{200, .01, 2, 155, 155, 155},
		{300, .01, 3, 189, 189, 189},
		{500, .05, 25, 56, 56, 56},
		{500, .02, 10, 129, 129, 129},
		{1000, .01, 10, 258, 258, 258},
		{1000, .001, 1, 950, 950, 950},
	} {
		near(t, "infected of the share", float64(c.animals)*c.share, c.infected, 1e-9, cannonRoe)
		formula, before, err := survey.CannonRoe(c.animals, c.infected, .95)
		if err != nil {
			t.Fatal(err)
		}
		same(t, "formula", formula, c.formula, computed)
		if before > float64(formula)+1e-9 || before <= float64(formula)-1 {
			t.Errorf("%v is rounded up to %d", before, formula)
		}
		if c.exact == 0 {
			same(t, "table by the formula", formula, c.table, cannonRoe)
			continue
		}
		group := survey.Group{Animals: c.animals, Infected: int(c.infected)}
		exact := of(group.Smallest(1, .95))(t)
		same(t, "exact", exact, c.exact, computed)
		table := c.table
		if group == (survey.Group{Animals: 100, Infected: 1}) {
			near(t, "the tie", of(group.Sensitivity(95, 1))(t), .95, 1e-15, computed)
			same(t, "with more than .95", of(group.Smallest(1, .95+1e-9))(t), c.table, cannonRoe)
			table--
		}
		same(t, "exact against the table", exact, table, cannonRoe)
	}
}

// One and a half infected animals of 30 are 26 to be tested by the table, and two or one
// are 23 or 29: how the share is rounded decides.
func TestPerfectTest_TheRoundingOfTheShare(t *testing.T) {
	same(t, "one infected", of(survey.Group{Animals: 30, Infected: 1}.Smallest(1, .95))(t), 29, computed)
	same(t, "two infected", of(survey.Group{Animals: 30, Infected: 2}.Smallest(1, .95))(t), 23, computed)
	tested, before, err := survey.CannonRoe(20, 3, .95)
	if err != nil {
		t.Fatal(err)
	}
	same(t, "three of 20", tested, 13, computed)
	near(t, "three of 20 before rounding", before, 12.00034, 5e-6, computed)
}

func TestPerfectTest_LargeGroups(t *testing.T) {
	for _, c := range []struct {
		wanted float64
		share  float64
		want   int
		source string
	}{
		{.95, .50, 5, cannonRoe}, {.95, .40, 6, cannonRoe}, {.95, .30, 9, cannonRoe}, {.95, .25, 11, cannonRoe},
		{.95, .20, 14, cannonRoe}, {.95, .15, 19, cannonRoe}, {.95, .10, 29, cannonRoe}, {.95, .05, 59, cannonRoe},
		{.95, .02, 149, cannonRoe}, {.95, .01, 299, cannonRoe}, {.95, .005, 598, cannonRoe}, {.95, .001, 2995, cannonRoe},
		{.90, .10, 22, beef},
		{.99, .50, 7, computed}, {.99, .20, 21, computed}, {.99, .10, 44, computed},
		{.99, .05, 90, computed}, {.99, .02, 228, computed}, {.99, .01, 459, computed},
	} {
		same(t, "large group", of(survey.LargeSmallest(c.share, 1, c.wanted))(t), c.want, c.source)
	}
}

// How many of a small collection a perfect test must see for 95 %, by how many are
// infected.
func TestPerfectTest_SmallCollections(t *testing.T) {
	animals := []int{8, 12, 20, 25, 40, 60}
	for infected, want := range map[int][]int{
		1: {8, 12, 19, 24, 38, 57},
		2: {6, 9, 16, 19, 31, 47},
		3: {5, 7, 12, 16, 25, 38},
		5: {3, 5, 9, 11, 18, 27},
	} {
		for i, n := range animals {
			same(t, "small collection", of(survey.Group{Animals: n, Infected: infected}.Smallest(1, .95))(t), want[i], computed)
		}
	}
}

func TestImperfectTest_Smallest(t *testing.T) {
	for _, c := range []struct {
		animals, infected  int
		sensitivity        float64
		approximate, exact int
		source             string // of the approximation; the exact number is computed
	}{
		{200, 2, .8, 195, 195, rsurveillance},
		{500, 5, .8, 282, 281, rsurveillance},
		{1000, 10, .8, 324, 323, rsurveillance},
		{10000, 100, .8, 369, 368, rsurveillance},
		{1000, 50, .9, 65, 64, epir},
		{500, 25, .9, 63, 62, epir},
		{200, 40, 1, 15, 13, epir},
		{200, 2, .9, 173, 173, rsurveillance},
		{1000, 10, .9, 288, 287, rsurveillance},
		{5000, 50, .9, 324, 322, rsurveillance},
		{40, 2, .9, 35, 35, computed},
		{40, 2, .8, 39, 39, computed},
		{40, 4, .7, 31, 30, computed},
		{60, 3, .8, 48, 48, computed},
		{60, 6, .57, 42, 41, computed},
		{25, 2, .8, 25, 25, computed},
		{12, 2, .8, 12, 12, computed},
	} {
		group := survey.Group{Animals: c.animals, Infected: c.infected}
		approximate, before, err := group.MacDiarmidSmallest(c.sensitivity, .95)
		if err != nil {
			t.Fatal(err)
		}
		same(t, "MacDiarmid", approximate, c.approximate, c.source)
		if before > float64(approximate) || before <= float64(approximate-1) {
			t.Errorf("%v is rounded up to %d", before, approximate)
		}
		same(t, "exact", of(group.Smallest(c.sensitivity, .95))(t), c.exact, computed)
	}
	_, before, _ := survey.Group{Animals: 40, Infected: 2}.MacDiarmidSmallest(.8, .95)
	near(t, "40 animals before rounding", before, 38.8, .05, computed)
	for _, animals := range []int{25, 12} {
		near(t, "all of them", of(survey.Group{Animals: animals, Infected: 2}.Sensitivity(animals, .8))(t), .96, 1e-12, computed)
	}
}

func TestImperfectTest_LargeGroups(t *testing.T) {
	for _, c := range []struct {
		share, sensitivity float64
		want               int
		source             string
	}{
		{.01, .91, 328, rsurveillance}, {.02, .91, 164, rsurveillance}, {.05, .91, 65, rsurveillance},
		{.10, .91, 32, rsurveillance}, {.20, .91, 15, rsurveillance}, {.05, .9, 66, epir}, {.01, .9, 332, rsurveillance},
	} {
		same(t, "large group", of(survey.LargeSmallest(c.share, c.sensitivity, .95))(t), c.want, c.source)
	}
}

// A single infected animal that the test can miss is missed as often in every size of
// group; a second round makes up for it. Computed.
func TestUnreachable_TellsTheRounds(t *testing.T) {
	for _, c := range []struct {
		animals             int
		sensitivity, wanted float64
		best, reached       float64
		rounds              int
		reads               string
	}{
		{animals: 12, sensitivity: .9, wanted: .95, best: .9, rounds: 2, reached: .99,
			reads: "a chance of 0.95 cannot be reached in one round: at best it is 0.9; 2 rounds of every animal give 0.99"},
		{animals: 300, sensitivity: .8, wanted: .95, best: .8, rounds: 2, reached: .96,
			reads: "a chance of 0.95 cannot be reached in one round: at best it is 0.8; 2 rounds of every animal give 0.96"},
		{animals: 40, sensitivity: .57, wanted: .95, best: .57, rounds: 4, reached: .96581199,
			reads: "a chance of 0.95 cannot be reached in one round: at best it is 0.57; 4 rounds of every animal give 0.9658"},
	} {
		group := survey.Group{Animals: c.animals, Infected: 1}
		for _, err := range []error{second(group.Smallest(c.sensitivity, c.wanted)), third(group.MacDiarmidSmallest(c.sensitivity, c.wanted))} {
			var none *survey.UnreachableError
			if !errors.As(err, &none) {
				t.Fatalf("%d animals: %v, want that it cannot be reached", c.animals, err)
			}
			near(t, "wanted", none.Wanted, c.wanted, 0, computed)
			near(t, "best", none.Best, c.best, 1e-12, computed)
			same(t, "rounds", none.Rounds, c.rounds, computed)
			near(t, "reached", none.Reached, c.reached, 1e-8, computed)
			if err.Error() != c.reads {
				t.Errorf("reads %q, want %q", err, c.reads)
			}
		}
		near(t, "all of them", of(group.Sensitivity(c.animals, c.sensitivity))(t), c.best, 1e-12, computed)
	}
	_, err := survey.Group{Animals: 12, Infected: 1}.Smallest(1e-12, .95)
	var none *survey.UnreachableError
	if !errors.As(err, &none) || none.Rounds != 0 || none.Error() != "a chance of 0.95 cannot be reached in one round: at best it is 1e-12" {
		t.Errorf("a test that sees next to nothing: %v", err)
	}
	if err == nil || !strings.Contains(err.Error(), "more than 1000000000 would be needed") {
		t.Errorf("a test that sees next to nothing does not say how many rounds are too many: %v", err)
	}
}
