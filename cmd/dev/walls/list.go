package walls

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"slices"
)

// List asks go list for the graph of the module in a folder, with cgo, for
// each system that the program is built for and each way it is built there, and
// joins the answers.
func List(folder string) (Graph, error) {
	g := Graph{}
	for _, b := range []struct{ system, tags string }{{"linux", ""}, {"linux", "gles"}, {"windows", ""}, {"darwin", ""}} {
		if err := g.join(folder, b.system, b.tags); err != nil {
			return nil, fmt.Errorf("list the packages for %s %s: %w", b.system, b.tags, err)
		}
	}
	return g, nil
}

func (g Graph) join(folder, system, tags string) error {
	cmd := exec.Command("go", "list", "-e", "-deps", "-tags="+tags, "-json=ImportPath,Imports,TestImports,XTestImports,Standard", "./...")
	cmd.Dir = folder
	cmd.Env = append(os.Environ(), "GOOS="+system, "GOARCH=amd64", "CGO_ENABLED=1")
	cmd.Stderr = os.Stderr
	stream, err := cmd.StdoutPipe()
	if err != nil {
		return err
	}
	if err := cmd.Start(); err != nil {
		return err
	}
	return errors.Join(g.decode(stream), cmd.Wait())
}

func (g Graph) decode(stream io.Reader) error {
	decoder := json.NewDecoder(stream)
	for {
		var p struct {
			ImportPath                         string
			Imports, TestImports, XTestImports []string
			Standard                           bool
		}
		err := decoder.Decode(&p)
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return err
		}
		g.add(p.ImportPath, Package{p.Imports, slices.Concat(p.TestImports, p.XTestImports), p.Standard})
	}
}

// add joins what is known of a package with what was known before.
func (g Graph) add(importPath string, p Package) {
	known := g[importPath]
	known.Imports = union(known.Imports, p.Imports)
	known.TestImports = union(known.TestImports, p.TestImports)
	known.Standard = known.Standard || p.Standard
	g[importPath] = known
}

func union(a, b []string) []string {
	all := slices.Sorted(slices.Values(slices.Concat(a, b)))
	return slices.Compact(all)
}
