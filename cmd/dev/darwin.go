package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"go/types"
	"io"
	"path/filepath"
	"slices"
	"strings"
)

// listed is a package as go list tells of it.
type listed struct {
	Dir, ImportPath   string
	GoFiles, CgoFiles []string
	ImportMap         map[string]string
	Standard, DepOnly bool
	Error             *struct{ Err string }
}

// macTypeChecker type-checks packages for macOS on a system that cannot build
// for it: files that use cgo are read as they stand, and names of C are taken
// on trust. Test files are not read.
type macTypeChecker struct {
	files  *token.FileSet
	done   map[string]*types.Package
	errors []string
}

// checkMac type-checks the whole program for macOS.
func checkMac(ctx context.Context, w *workshop) error {
	settings := []string{"GOOS=darwin", "GOARCH=arm64", "CGO_ENABLED=1"}
	text, err := w.read(ctx, settings, "go", "list", "-e", "-deps",
		"-json=Dir,ImportPath,GoFiles,CgoFiles,ImportMap,Standard,DepOnly,Error", "./...")
	if err != nil {
		return err
	}
	packages, err := decodeList(text)
	if err != nil {
		return err
	}
	checker := macTypeChecker{files: token.NewFileSet(), done: map[string]*types.Package{"unsafe": types.Unsafe}}
	own := 0
	for _, p := range packages {
		checker.check(p)
		if !p.DepOnly {
			own++
		}
	}
	if own == 0 {
		return errors.New("type-check for macOS: go list names no package of ours")
	}
	w.say("%d packages, %d of them ours", len(packages), own)
	return checker.result()
}

// decodeList reads the stream of packages that go list writes as JSON.
func decodeList(text string) ([]listed, error) {
	var packages []listed
	for decoder := json.NewDecoder(strings.NewReader(text)); ; {
		var p listed
		err := decoder.Decode(&p)
		if errors.Is(err, io.EOF) {
			return packages, nil
		}
		if err != nil {
			return nil, fmt.Errorf("read the list of packages: %w", err)
		}
		packages = append(packages, p)
	}
}

// check type-checks one package; those that it imports were checked before it.
func (c *macTypeChecker) check(p listed) {
	if p.ImportPath == "unsafe" {
		return
	}
	if p.Error != nil {
		c.note(p, p.Error.Err)
	}
	settings := types.Config{
		FakeImportC:      true,
		Sizes:            types.SizesFor("gc", "arm64"),
		IgnoreFuncBodies: p.Standard,
		Importer:         importing(func(path string) (*types.Package, error) { return c.imported(p, path) }),
		Error:            func(err error) { c.note(p, err.Error()) },
	}
	// Every error was noted by then; the package is of use to its importers even so.
	c.done[p.ImportPath], _ = settings.Check(p.ImportPath, c.files, c.parse(p), nil)
}

func (c *macTypeChecker) parse(p listed) []*ast.File {
	var parsed []*ast.File
	for _, name := range slices.Concat(p.GoFiles, p.CgoFiles) {
		f, err := parser.ParseFile(c.files, filepath.Join(p.Dir, name), nil, parser.SkipObjectResolution)
		if err != nil {
			c.note(p, err.Error())
			continue
		}
		parsed = append(parsed, f)
	}
	return parsed
}

func (c *macTypeChecker) imported(from listed, path string) (*types.Package, error) {
	if other, ok := from.ImportMap[path]; ok {
		path = other
	}
	if p := c.done[path]; p != nil {
		return p, nil
	}
	return nil, fmt.Errorf("no package %s", path)
}

// importing makes an importer of a function.
type importing func(string) (*types.Package, error)

// Import is the package of that path.
func (f importing) Import(path string) (*types.Package, error) { return f(path) }

// note keeps an error, unless it stands in the standard library (whose C names
// are its own affair) or is one of those that only the real cgo can resolve.
func (c *macTypeChecker) note(p listed, message string) {
	if p.Standard || onlyCgoKnows(p.ImportPath, message) {
		return
	}
	c.errors = append(c.errors, p.ImportPath+": "+message)
}

// onlyCgoKnows reports whether an error is known to be no error: taken on trust,
// a C type is not known to be the Go type that it becomes.
func onlyCgoKnows(path, message string) bool {
	return path == "github.com/go-gl/glfw/v3.3/glfw" &&
		strings.HasSuffix(message, "cannot convert w.data (variable with invalid type) to type unsafe.Pointer")
}

func (c *macTypeChecker) result() error {
	if len(c.errors) == 0 {
		return nil
	}
	shown := c.errors[:min(len(c.errors), 20)]
	return fmt.Errorf("%d errors for macOS:\n%s", len(c.errors), strings.Join(shown, "\n"))
}
