package walls

import (
	"bytes"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// SourceBreaches reads every file of a checkout and lists what must not stand
// where it stands, one line each.
func SourceBreaches(root string) ([]string, error) {
	var found, started []string
	err := filepath.WalkDir(root, func(path string, entry os.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if entry.IsDir() {
			if path != root && slices.Contains([]string{".git", "build", "dist"}, entry.Name()) {
				return filepath.SkipDir
			}
			return nil
		}
		relative, err := filepath.Rel(root, path)
		if err != nil {
			return err
		}
		text, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		breaches, starts := fileBreaches(filepath.ToSlash(relative), text)
		found, started = append(found, breaches...), append(started, starts...)
		return nil
	})
	return append(found, startedAstray(started)...), err
}

// fileBreaches lists what must not stand in one file, and where it starts work
// beside the window.
func fileBreaches(name string, text []byte) (found, started []string) {
	if bytes.IndexByte(text, 0) >= 0 || strings.HasSuffix(name, ".sum") {
		return nil, nil // a picture, a font; sums are not ours
	}
	found = machinePaths(name, text)
	if !strings.HasSuffix(name, ".go") {
		return found, nil
	}
	files := token.NewFileSet()
	parsed, err := parser.ParseFile(files, name, text, parser.SkipObjectResolution)
	if err != nil {
		return append(found, err.Error()), nil
	}
	found = append(found, packageName(name, parsed)...)
	if strings.HasSuffix(name, "_test.go") {
		return found, nil
	}
	return append(found, clocksRead(name, files, parsed)...), workStarted(name, files, parsed)
}

// machinePaths finds paths that only exist on one computer.
func machinePaths(name string, text []byte) []string {
	absolute := regexp.MustCompile(`/(w[o]rk|t[m]p|ro[o]t|h[o]me|U[s]ers)/[A-Za-z.]`)
	var found []string
	for i, line := range bytes.Split(text, []byte("\n")) {
		if path := absolute.Find(line); path != nil {
			found = append(found, fmt.Sprintf("%s:%d: %s…: a path of one computer", name, i+1, path))
		}
	}
	return found
}

// packageName refuses names that say nothing of what a package is for.
func packageName(name string, f *ast.File) []string {
	if slices.Contains([]string{"util", "utils", "common", "helper", "helpers", "manager", "misc"}, f.Name.Name) {
		return []string{fmt.Sprintf("%s: a package named %s says nothing of what it is for", name, f.Name.Name)}
	}
	return nil
}

// clocksRead finds clocks read in parts that are given the time, by whatever name
// the package time is imported.
func clocksRead(name string, files *token.FileSet, f *ast.File) []string {
	clock := importedAs(f, "time")
	if !inTree(name, "model", "export", "ui") || clock == "" {
		return nil
	}
	if clock == "." {
		return []string{name + ": time is imported without a name: no one sees where a clock is read"}
	}
	var found []string
	ast.Inspect(f, func(n ast.Node) bool {
		if selector, is := n.(*ast.SelectorExpr); is && readsClock(selector, clock) {
			found = append(found, fmt.Sprintf("%s: time.%s: the time is handed in", files.Position(n.Pos()), selector.Sel.Name))
		}
		return true
	})
	return found
}

// importedAs is the name that a file gives to a package of the standard library;
// empty if it does not import it.
func importedAs(f *ast.File, standard string) string {
	for _, i := range f.Imports {
		if i.Path.Value != strconv.Quote(standard) {
			continue
		}
		if i.Name != nil {
			return i.Name.Name
		}
		return path.Base(standard)
	}
	return ""
}

// workStarted finds the go statements of the window's parts.
func workStarted(name string, files *token.FileSet, f *ast.File) []string {
	if !inTree(name, "ui") {
		return nil
	}
	var found []string
	ast.Inspect(f, func(n ast.Node) bool {
		if _, is := n.(*ast.GoStmt); is {
			found = append(found, files.Position(n.Pos()).String())
		}
		return true
	})
	return found
}

// startedAstray lists the go statements that must not be: all but one, which is
// the shell's.
func startedAstray(started []string) []string {
	allowed := slices.IndexFunc(started, func(at string) bool { return strings.HasPrefix(at, "ui/shell/") })
	var found []string
	for i, at := range started {
		if i != allowed {
			found = append(found, at+": a bare go statement: only the shell's task function starts work beside the window, at one place")
		}
	}
	return found
}

func inTree(name string, trees ...string) bool {
	tree, _, _ := strings.Cut(name, "/")
	return slices.Contains(trees, tree)
}

func readsClock(n *ast.SelectorExpr, clock string) bool {
	of, is := n.X.(*ast.Ident)
	return is && of.Name == clock && slices.Contains([]string{"Now", "Since", "Until"}, n.Sel.Name)
}
