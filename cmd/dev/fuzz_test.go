package main

import "testing"

// Only a run that found nothing is run again.
func TestEndedLate(t *testing.T) {
	const progress = "fuzz: elapsed: 5s, execs: 40826 (9036/sec), new interesting: 0 (total: 7)\n"
	for name, c := range map[string]struct {
		printed string
		late    bool
	}{
		"passed":               {progress + "PASS\nok  \tcoilward/model/store\t5.2s\n", false},
		"failed by its end":    {progress + "--- FAIL: FuzzRecord (5.14s)\n    context deadline exceeded\nFAIL\nexit status 1\nFAIL\tcoilward/model/store\t5.164s\n", true},
		"found something":      {progress + "--- FAIL: FuzzRecord (0.14s)\n    --- FAIL: FuzzRecord (0.00s)\n        record_test.go:9: lost\n\n    Failing input written to testdata/fuzz/FuzzRecord/1\nFAIL\n", false},
		"a target's deadline":  {progress + "--- FAIL: FuzzRecord (0.14s)\n    --- FAIL: FuzzRecord (0.00s)\n        record_test.go:9: context deadline exceeded\nFAIL\n", false},
		"found, and ended so":  {progress + "Failing input written to testdata/fuzz/FuzzRecord/1\n--- FAIL: FuzzRecord (5.14s)\n    context deadline exceeded\nFAIL\n", false},
		"nothing was printed":  {"", false},
		"could not be started": {"FAIL\tcoilward/model/store [build failed]\n", false},
	} {
		if got := endedLate(c.printed); got != c.late {
			t.Errorf("%s: %v", name, got)
		}
	}
}
