package main

import (
	"bufio"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"strings"
)

// tally counts what was checked.
type tally struct{ passed, failed int }

func (t *tally) add(o tally) {
	t.passed += o.passed
	t.failed += o.failed
}

// testEvent is one line of go test -json.
type testEvent struct {
	Action, Package, Test, Output, ImportPath string
	Elapsed                                   float64
}

// testReader turns the events of go test -json into a report for people: a line
// per package, the whole output of what failed, the reason of what was skipped.
type testReader struct {
	out    io.Writer
	kept   map[string]*strings.Builder // output so far, by package and test
	counts tally
}

// goTest runs go test with those arguments and counts its tests.
func (w *workshop) goTest(ctx context.Context, settings []string, args ...string) (tally, error) {
	cmd := w.command(ctx, settings, "go", append([]string{"test", "-json", "-timeout=40m"}, args...)...)
	cmd.Stderr = w.out
	stream, err := cmd.StdoutPipe()
	if err != nil {
		return tally{}, fmt.Errorf("run the tests: %w", err)
	}
	if err := cmd.Start(); err != nil {
		return tally{}, fmt.Errorf("run the tests: %w", err)
	}
	reader := testReader{out: w.out, kept: map[string]*strings.Builder{}}
	reader.read(stream)
	if err := cmd.Wait(); err != nil {
		return reader.counts, fmt.Errorf("go test %s: %w", strings.Join(args, " "), err)
	}
	return reader.counts, nil
}

// read takes events until the stream ends; lines that are none are shown as they are.
func (r *testReader) read(stream io.Reader) {
	lines := bufio.NewReader(stream)
	for {
		line, err := lines.ReadString('\n')
		var event testEvent
		if json.Unmarshal([]byte(line), &event) == nil {
			r.take(event)
		} else {
			io.WriteString(r.out, line)
		}
		if err != nil {
			return
		}
	}
}

func (r *testReader) take(e testEvent) {
	key := e.Package + " " + e.Test
	switch e.Action {
	case "build-output":
		io.WriteString(r.out, e.Output)
	case "output":
		r.keep(key, e.Output)
	case "pass", "fail", "skip":
		r.end(e, key)
		delete(r.kept, key)
	}
}

func (r *testReader) keep(key, output string) {
	if r.kept[key] == nil {
		r.kept[key] = &strings.Builder{}
	}
	r.kept[key].WriteString(output)
}

func (r *testReader) end(e testEvent, key string) {
	var output string
	if kept := r.kept[key]; kept != nil {
		output = kept.String()
	}
	switch {
	case e.Test == "":
		r.endPackage(e, output)
	case e.Action == "pass":
		r.counts.passed++
	case e.Action == "fail":
		r.counts.failed++
		fmt.Fprintf(r.out, "FAILED %s %s\n%s", e.Package, e.Test, output)
	case e.Action == "skip":
		fmt.Fprintf(r.out, "skipped %s %s: %s", e.Package, e.Test, output)
	}
}

func (r *testReader) endPackage(e testEvent, output string) {
	if e.Action == "fail" {
		fmt.Fprintf(r.out, "FAILED %s\n%s", e.Package, output)
		return
	}
	if e.Action == "pass" {
		fmt.Fprintf(r.out, "ok %-40s %6.1f s\n", e.Package, e.Elapsed)
	}
}
