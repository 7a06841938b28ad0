package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
)

const (
	staticcheckVersion = "v0.8.2"
	fuzzTime           = "5s"
	fuzzRuns           = 3     // at most, where Go fails at the end of the time
	fuzzShorten        = "20x" // tries to shorten an input; without a bound, all of the time goes there
)

// checkFormat fails on files that gofmt would change.
func checkFormat(ctx context.Context, w *workshop) error {
	files, err := w.sources()
	if err != nil {
		return err
	}
	text, err := w.read(ctx, nil, "gofmt", append([]string{"-l"}, files...)...)
	if err != nil {
		return err
	}
	if text != "" {
		return fmt.Errorf("gofmt would change:\n%s", text)
	}
	return nil
}

// sources are all Go files of the checkout, relative to it.
func (w *workshop) sources() ([]string, error) {
	files, err := w.files()
	if err != nil {
		return nil, err
	}
	files = slices.DeleteFunc(files, func(name string) bool { return filepath.Ext(name) != ".go" })
	if len(files) == 0 {
		return nil, errors.New("no Go file found")
	}
	return files, nil
}

// vet needs no C compiler: with the tag ci, Fyne leaves its window out.
func vet(ctx context.Context, w *workshop) error {
	return w.do(ctx, []string{"CGO_ENABLED=0"}, "go", "vet", "-tags", "ci", "./...")
}

// staticcheck fetches and builds that program first: without a way to fetch it,
// the step is not run.
func staticcheck(ctx context.Context, w *workshop) error {
	checker := "honnef.co/go/tools/cmd/staticcheck@" + staticcheckVersion
	pure := []string{"CGO_ENABLED=0"}
	if _, err := w.read(ctx, pure, "go", "run", checker, "-version"); err != nil {
		return fmt.Errorf("%w: staticcheck cannot be fetched: %w", errNotRun, err)
	}
	return w.do(ctx, pure, "go", "run", checker, "-tags", "ci", "./...")
}

// allTests runs every test that needs no window, as a computer without a C
// compiler would.
func allTests(ctx context.Context, w *workshop) (tally, error) {
	packages, err := w.testedPackages(ctx)
	if err != nil {
		return tally{}, err
	}
	return w.goTest(ctx, []string{"CGO_ENABLED=0"}, append([]string{"-shuffle=on", "-count=2"}, packages...)...)
}

// testedPackages are all of ours but the one that opens a window.
func (w *workshop) testedPackages(ctx context.Context) ([]string, error) {
	text, err := w.read(ctx, []string{"CGO_ENABLED=0"}, "go", "list", "-e", "./...")
	if err != nil {
		return nil, err
	}
	return slices.DeleteFunc(strings.Fields(text), func(path string) bool { return strings.HasSuffix(path, "/cmd/coilward") }), nil
}

// race runs the tests of the model once under the race detector, without those
// that start hundreds of processes: it sees into one process alone.
func race(ctx context.Context, w *workshop) (tally, error) {
	return w.goTest(ctx, []string{"CGO_ENABLED=1"}, "-race", "-short", "-count=1", "./model/...")
}

// fuzz runs each fuzz target for a moment, from its seeds on.
func fuzz(ctx context.Context, w *workshop) (tally, error) {
	targets, err := w.fuzzTargets()
	if err != nil {
		return tally{}, err
	}
	var counts tally
	for _, t := range targets {
		if err := w.fuzzOne(ctx, t); err != nil {
			counts.failed++
			w.say("%v", err)
			continue
		}
		counts.passed++
	}
	if counts.failed > 0 {
		return counts, fmt.Errorf("%d fuzz targets failed", counts.failed)
	}
	return counts, nil
}

// fuzzOne runs one fuzz target. Where Go's own end of the time went wrong, the
// target has to pass a whole run all the same.
func (w *workshop) fuzzOne(ctx context.Context, t fuzzTarget) error {
	for run := 1; ; run++ {
		printed, err := w.read(ctx, []string{"CGO_ENABLED=0"}, "go", "test", "-run=^$", "-fuzz=^"+t.name+"$", "-fuzztime="+fuzzTime, "-fuzzminimizetime="+fuzzShorten, t.folder)
		fmt.Fprint(w.out, printed)
		if err == nil || !endedLate(printed) || run == fuzzRuns {
			return err
		}
		w.say("%s found nothing, but Go failed at the end of its time (golang/go#75804): once more", t.name)
	}
}

// endedLate reports whether a fuzz run failed by nothing but its own deadline. Go
// before 1.27 at times takes the end of -fuzztime for a failure of the target:
// golang/go#75804. A run that has found something writes the input that failed.
func endedLate(printed string) bool {
	return regexp.MustCompile(`(?m)^--- FAIL: Fuzz\w+ \([0-9.]+s\)\n    context deadline exceeded\nFAIL$`).MatchString(printed) &&
		!strings.Contains(printed, "Failing input written")
}

// fuzzTarget is one fuzz function and the folder of its package.
type fuzzTarget struct{ folder, name string }

// fuzzTargets finds all fuzz functions of the checkout.
func (w *workshop) fuzzTargets() ([]fuzzTarget, error) {
	files, err := w.sources()
	if err != nil {
		return nil, err
	}
	declared := regexp.MustCompile(`(?m)^func (Fuzz\w+)\(`)
	var targets []fuzzTarget
	for _, file := range files {
		if !strings.HasSuffix(file, "_test.go") {
			continue
		}
		text, err := os.ReadFile(filepath.Join(w.root, file))
		if err != nil {
			return nil, err
		}
		for _, match := range declared.FindAllStringSubmatch(string(text), -1) {
			targets = append(targets, fuzzTarget{"./" + filepath.ToSlash(filepath.Dir(file)), match[1]})
		}
	}
	return targets, nil
}

// endToEnd builds the real program and runs the tests that drive its window.
func endToEnd(ctx context.Context, w *workshop) (tally, error) {
	program, err := w.buildWindow(ctx)
	if err != nil {
		return tally{}, err
	}
	tool, err := w.buildTool(ctx)
	if err != nil {
		return tally{}, err
	}
	return w.goTest(ctx, []string{"CGO_ENABLED=0", "COILWARD_PROGRAM=" + program, "COILWARD_TOOL=" + tool},
		"-count=1", "-run=^(TestEndToEnd|TestMoveIn)$", "./cmd/dev")
}
