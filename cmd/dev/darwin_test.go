package main

import (
	"go/token"
	"go/types"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestMacTypeChecker(t *testing.T) {
	cases := []struct{ name, text, want string }{
		{"sound", "package p\nfunc F() int { return 1 }\n", ""},
		{"an error", "package p\nfunc F() int { return \"one\" }\n", "cannot use"},
		{"not Go", "package\n", "expected 'IDENT'"},
		{"cgo, taken on trust", "package p\nimport \"C\"\nfunc F() { C.call_something() }\n", ""},
		{"an import that is not there", "package p\nimport \"nowhere\"\nvar _ = nowhere.X\n", "no package nowhere"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			folder := t.TempDir()
			if err := os.WriteFile(filepath.Join(folder, "p.go"), []byte(c.text), 0o644); err != nil {
				t.Fatal(err)
			}
			checker := macTypeChecker{files: token.NewFileSet(), done: map[string]*types.Package{"unsafe": types.Unsafe}}
			checker.check(listed{Dir: folder, ImportPath: "p", GoFiles: []string{"p.go"}})
			err := checker.result()
			if (err != nil) != (c.want != "") || err != nil && !strings.Contains(err.Error(), c.want) {
				t.Errorf("result %v, want %q", err, c.want)
			}
		})
	}
}

func TestOnlyCgoKnows_IsOneLineOfOnePackage(t *testing.T) {
	const line = "window.go:194:24: cannot convert w.data (variable with invalid type) to type unsafe.Pointer"
	if !onlyCgoKnows("github.com/go-gl/glfw/v3.3/glfw", line) {
		t.Error("the known line is not known")
	}
	if onlyCgoKnows("coilward/ui/shell", line) || onlyCgoKnows("github.com/go-gl/glfw/v3.3/glfw", "window.go:1:1: undefined: x") {
		t.Error("an error of another kind is let through")
	}
}
