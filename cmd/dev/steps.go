package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"os"
	"runtime"
	"slices"
	"strings"
	"time"
)

// step is one thing that is checked.
type step struct {
	name  string
	about string
	slow  bool   // left out by -quick
	only  string // the system that it can run on, as GOOS names it; empty for all
	needs func() []need
	run   func(context.Context, *workshop) (tally, error)
}

// errNotRun says that a step could not be carried out, which is neither passed
// nor failed; test with errors.Is.
var errNotRun = errors.New("not run")

// steps are all checks in the order they run in: the quickest to fail first.
func steps() []step {
	drive := func() []need { return slices.Concat(screenNeeds(), paperNeeds()) }
	cross := func() []need { return slices.Concat(screenNeeds(), windowsNeeds()) }
	return []step{
		{"format", "every file as gofmt writes it", false, "", moduleNeeds, once(checkFormat)},
		{"walls", "who may import whom", false, "", moduleNeeds, testsOf("./cmd/dev/walls")},
		{"vet", "go vet", false, "", moduleNeeds, once(vet)},
		{"darwin", "the program type-checks for macOS", false, "", moduleNeeds, once(checkMac)},
		{"tests", "all tests, twice, in a random order", false, "", paperNeeds, allTests},
		{"staticcheck", "staticcheck " + staticcheckVersion, true, "", moduleNeeds, once(staticcheck)},
		{"race", "the tests of the model under the race detector", true, "", buildNeeds, race},
		{"fuzz", "every fuzz target for " + fuzzTime, true, "", moduleNeeds, fuzz},
		{"e2e", "the real window from first click to printed record", true, "linux", drive, endToEnd},
		{"wine", "the Windows build, started and clicked", true, "linux", cross, once(checkWindows)},
	}
}

// stepNames are the names of all steps.
func stepNames() []string {
	var names []string
	for _, s := range steps() {
		names = append(names, s.name)
	}
	return names
}

// once makes a step of a check that passes or fails as one.
func once(check func(context.Context, *workshop) error) func(context.Context, *workshop) (tally, error) {
	return func(ctx context.Context, w *workshop) (tally, error) {
		if err := check(ctx, w); err != nil {
			return tally{}, err
		}
		return tally{passed: 1}, nil
	}
}

// testsOf makes a step of the tests of some packages.
func testsOf(packages ...string) func(context.Context, *workshop) (tally, error) {
	return func(ctx context.Context, w *workshop) (tally, error) {
		return w.goTest(ctx, []string{"CGO_ENABLED=0"}, append([]string{"-count=1"}, packages...)...)
	}
}

// chosen are the steps asked for: those named, else all, else the quick ones.
func chosen(names []string, quick bool) ([]step, error) {
	all := steps()
	if len(names) == 0 {
		return slices.DeleteFunc(all, func(s step) bool { return quick && s.slow }), nil
	}
	for _, name := range names {
		if !slices.Contains(stepNames(), name) {
			return nil, fmt.Errorf("no step is named %q; there are: %s", name, strings.Join(stepNames(), " "))
		}
	}
	return slices.DeleteFunc(all, func(s step) bool { return !slices.Contains(names, s.name) }), nil
}

// report is how a run of steps went.
type report struct {
	counts tally
	failed []string // the steps that failed
	notRun []string // the steps that could not run
}

// runTests is the verb test.
func runTests(ctx context.Context, w *workshop, args []string) error {
	flags := flag.NewFlagSet("test", flag.ContinueOnError)
	quick := flags.Bool("quick", false, "leave out what takes minutes")
	if err := flags.Parse(args); err != nil {
		return err
	}
	list, err := chosen(flags.Args(), *quick)
	if err != nil {
		return err
	}
	if err := w.setUp(ctx, needsOf(list)); err != nil {
		return err
	}
	began := time.Now()
	var r report
	for _, s := range list {
		if ctx.Err() != nil {
			return ctx.Err()
		}
		r.take(ctx, w, s)
	}
	return r.close(w, time.Since(began), os.Getenv("CI") != "")
}

// needsOf is what the steps need on this system.
func needsOf(list []step) []need {
	var needs []need
	for _, s := range list {
		if s.runsHere() {
			needs = append(needs, s.needs()...)
		}
	}
	return needs
}

func (s step) runsHere() bool { return s.only == "" || s.only == runtime.GOOS }

// take runs one step and notes how it went.
func (r *report) take(ctx context.Context, w *workshop, s step) {
	w.say("\n== %s: %s", s.name, s.about)
	if !s.runsHere() {
		w.say("-- %s is checked on %s alone", s.name, s.only)
		return
	}
	began := time.Now()
	counts, err := s.run(ctx, w)
	r.counts.add(counts)
	outcome := "passed"
	switch {
	case errors.Is(err, errNotRun):
		outcome = "not run"
		r.notRun = append(r.notRun, s.name)
	case err != nil:
		outcome = "FAILED"
		r.failed = append(r.failed, s.name)
		if counts.failed == 0 {
			r.counts.failed++
		}
	}
	if err != nil {
		w.say("%v", err)
	}
	w.say("-- %s: %s in %.1f s", s.name, outcome, time.Since(began).Seconds())
}

// close prints the closing line. Where everything must have run, as on the
// server that checks each change, a step that could not run fails too.
func (r *report) close(w *workshop, took time.Duration, strict bool) error {
	if strict && len(r.notRun) > 0 {
		r.counts.failed += len(r.notRun)
		r.failed = append(r.failed, r.notRun...)
	}
	w.say("\n%.0f s", took.Seconds())
	if len(r.notRun) > 0 {
		w.say("not run: %s", strings.Join(r.notRun, ", "))
	}
	w.say("%d passed, %d failed", r.counts.passed, r.counts.failed)
	if len(r.failed) > 0 {
		return fmt.Errorf("failed: %s", strings.Join(r.failed, ", "))
	}
	return nil
}
