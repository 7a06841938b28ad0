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
)

func TestPrintTheQuarantineReport(t *testing.T) {
	folder := kept(t, "Kestrel", "Brook")
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	within(t, folder, func(c *collection.Collection) {
		var begin quarantine.Begin
		if err := c.View(func(v model.View) error {
			all, err := animals.All(v)
			for _, a := range all {
				if a.Name == "Kestrel" {
					begin = quarantine.Begin{Tables: tables, Animal: a.ID, Arrived: v.Now(), Protocol: newcomers.Usual}
				}
			}
			return err
		}); err != nil {
			t.Fatal(err)
		}
		if _, err := c.Do(begin); err != nil {
			t.Fatal(err)
		}
	})
	for _, language := range []string{"en", "de"} {
		file := filepath.Join(t.TempDir(), "report.pdf")
		if out := mustDo(t, "print", "quarantine", "--collection", folder, "--animal", "kestrel", "--out", file, "--lang", language, "--paper", "Letter", "--from-whom"); !strings.Contains(out, "quarantine report of Kestrel") {
			t.Errorf("print says %q", out)
		}
		if written, err := os.ReadFile(file); err != nil || !bytes.HasPrefix(written, []byte("%PDF-")) {
			t.Errorf("%s: %v, begins with %.8q", language, err, written)
		}
	}
	file := filepath.Join(t.TempDir(), "none.pdf")
	if code, _, said := ctl("en", "print", "quarantine", "--collection", folder, "--animal", "Brook", "--out", file); code != exitFailed || !strings.Contains(said, "Brook") || !strings.Contains(said, "has had no quarantine") {
		t.Errorf("code %d: %s", code, said)
	}
	if _, err := os.Stat(file); err == nil {
		t.Error("a paper about nothing was written")
	}
}
