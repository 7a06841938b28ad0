package main

import (
	"context"
	"errors"
	"fmt"
	"runtime"
	"strings"
	"testing"
	"time"
)

func TestChosen(t *testing.T) {
	all := len(steps())
	if list, err := chosen(nil, false); err != nil || len(list) != all {
		t.Errorf("all: %d steps, %v; want %d", len(list), err, all)
	}
	quick, err := chosen(nil, true)
	if err != nil || len(quick) == 0 || len(quick) >= all {
		t.Errorf("quick: %d steps, %v; want some of %d", len(quick), err, all)
	}
	named, err := chosen([]string{"wine", "walls"}, false)
	if err != nil || len(named) != 2 || named[0].name != "walls" || named[1].name != "wine" {
		t.Errorf("named: %v, %v; want walls and wine", named, err)
	}
	if _, err := chosen([]string{"wals"}, false); err == nil || !strings.Contains(err.Error(), `"wals"`) || !strings.Contains(err.Error(), "walls") {
		t.Errorf("a step that does not exist: %v; want its name and the names there are", err)
	}
}

func TestReport(t *testing.T) {
	ending := func(counts tally, err error) step {
		return step{name: "it", run: func(context.Context, *workshop) (tally, error) { return counts, err }}
	}
	elsewhere := step{name: "elsewhere", only: "no " + runtime.GOOS}
	broken := errors.New("broken")
	cases := []struct {
		name   string
		s      step
		strict bool
		line   string
		fails  bool
	}{
		{"passed", ending(tally{passed: 3}, nil), true, "3 passed, 0 failed", false},
		{"some tests failed", ending(tally{2, 1}, broken), false, "2 passed, 1 failed", true},
		{"failed before any test", ending(tally{}, broken), false, "0 passed, 1 failed", true},
		{"not run", ending(tally{}, fmt.Errorf("%w: no way there", errNotRun)), false, "not run: it", false},
		{"not run where all must", ending(tally{}, errNotRun), true, "0 passed, 1 failed", true},
		{"for another system", elsewhere, true, "0 passed, 0 failed", false},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			var out strings.Builder
			w := &workshop{out: &out}
			var r report
			r.take(t.Context(), w, c.s)
			err := r.close(w, time.Second, c.strict)
			if (err != nil) != c.fails {
				t.Errorf("error %v, want one: %v", err, c.fails)
			}
			if !strings.Contains(out.String(), c.line) {
				t.Errorf("no line %q in:\n%s", c.line, out.String())
			}
		})
	}
}

func TestTestReader(t *testing.T) {
	stream := `{"Action":"output","Package":"p","Test":"TestA","Output":"fine\n"}
{"Action":"pass","Package":"p","Test":"TestA"}
{"Action":"output","Package":"p","Test":"TestB","Output":"b_test.go:7: wrong\n"}
{"Action":"fail","Package":"p","Test":"TestB"}
{"Action":"output","Package":"p","Test":"TestC","Output":"no display\n"}
{"Action":"skip","Package":"p","Test":"TestC"}
{"Action":"output","Package":"p","Output":"FAIL\n"}
{"Action":"fail","Package":"p","Elapsed":1}
{"Action":"pass","Package":"q","Elapsed":2.5}
{"ImportPath":"r","Action":"build-output","Output":"r.go:1: does not compile\n"}
not JSON`
	var out strings.Builder
	r := testReader{out: &out, kept: map[string]*strings.Builder{}}
	r.read(strings.NewReader(stream))
	if r.counts != (tally{passed: 1, failed: 1}) {
		t.Errorf("counted %+v, want one passed and one failed", r.counts)
	}
	for _, want := range []string{"b_test.go:7: wrong", "skipped p TestC: no display", "FAILED p\nFAIL", "ok q", "does not compile", "not JSON"} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("no %q in the report:\n%s", want, out.String())
		}
	}
	if strings.Contains(out.String(), "fine") {
		t.Errorf("the output of a test that passed is shown:\n%s", out.String())
	}
}

func TestFuzzTargets_FindsThoseOfThisPackage(t *testing.T) {
	w := &workshop{root: "."}
	targets, err := w.fuzzTargets()
	if err != nil || len(targets) != 1 || targets[0].name != "FuzzReleaseFields" {
		t.Errorf("found %v, %v; want FuzzReleaseFields", targets, err)
	}
}

func TestDecodeList(t *testing.T) {
	list, err := decodeList(`{"ImportPath":"a","Standard":true}{"ImportPath":"b","GoFiles":["b.go"],"Error":{"Err":"gone"}}`)
	if err != nil || len(list) != 2 || !list[0].Standard || list[1].GoFiles[0] != "b.go" || list[1].Error.Err != "gone" {
		t.Errorf("decoded %+v, %v", list, err)
	}
	if _, err := decodeList(`{"ImportPath":`); err == nil {
		t.Error("a list that breaks off is taken for whole")
	}
}
