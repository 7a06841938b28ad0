package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"coilward/assets"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/collection"
	"coilward/model/knowledge"
	"coilward/model/newcomers"
	"coilward/model/quarantine"
	"coilward/model/samples"
)

// watched is a collection with an animal from somebody, in quarantine, and a sample of it
// with a note.
func watched(t *testing.T) (folder string) {
	t.Helper()
	folder = kept(t, "Brook")
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	within(t, folder, func(c *collection.Collection) {
		do := func(command model.Command) model.ID {
			t.Helper()
			change, err := c.Do(command)
			if err != nil {
				t.Fatal(err)
			}
			return change.Documents[0]
		}
		animal := model.AnimalID{ID: do(animals.Add{Animal: animals.Animal{Name: "Kestrel", From: "Fenwick of Otterby", Status: animals.Kept}})}
		at := model.MomentOf(now())
		do(quarantine.Begin{Tables: tables, Animal: animal, Arrived: at, Protocol: newcomers.Usual})
		do(samples.Prepare{Tables: tables, Each: []samples.New{{Animals: []model.AnimalID{animal},
			Sample: samples.Sample{Kit: samples.Kit{Number: "K-1"}, Material: "choanal-swab", For: []knowledge.AgentID{"serpentovirus"}, Taken: at, Note: "the neighbour held her"}}}})
	})
	return folder
}

// What a switch puts on a paper is not there without it, and is with it.
func TestWhatIsPrintedOnlyWhereItIsAskedFor(t *testing.T) {
	folder := watched(t)
	for what, asked := range map[string]string{quarantined: "--from-whom", healthRecord: "--sample-notes"} {
		printed := func(rest ...string) []byte {
			t.Helper()
			file := filepath.Join(t.TempDir(), "paper.pdf")
			mustDo(t, append([]string{"print", what, "--collection", folder, "--animal", "kestrel", "--out", file}, rest...)...)
			written, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			return written
		}
		without := printed()
		if !bytes.Equal(without, printed()) {
			t.Fatalf("%s: the same paper is another file, so that this test tells nothing", what)
		}
		if bytes.Equal(without, printed(asked)) {
			t.Errorf("%s: %s changes nothing", what, asked)
		}
	}
}

// A sample that cannot be read keeps no form and no label of another from being printed;
// that it may be missing is said where the samples were not named.
func TestAnUnreadableSampleStopsNoPaper(t *testing.T) {
	folder := watched(t)
	within(t, folder, func(c *collection.Collection) {
		if _, err := c.Do(spoilt{model.TypeSample}); err != nil {
			t.Fatal(err)
		}
	})
	file := filepath.Join(t.TempDir(), "paper.pdf")
	for _, what := range [][]string{{labForm}, {tubeLabels, "--sheet", "a4-cut-33x13"}} {
		arguments := append([]string{"print"}, append(what, "--collection", folder, "--out", file)...)
		if out := mustDo(t, arguments...); !strings.Contains(out, "1 sample cannot be read") {
			t.Errorf("%s: it is not said: %q", what[0], out)
		}
		if out := mustDo(t, append(arguments, "--tube", "K-1")...); strings.Contains(out, "cannot be read") {
			t.Errorf("%s: of a named one it is said: %q", what[0], out)
		}
	}
}
