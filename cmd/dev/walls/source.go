package walls

import (
	"bytes"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
)

// SourceBreaches reads every file of a checkout and lists what must not stand
// where it stands, one line each.
func SourceBreaches(root string) ([]string, error) {
	var found []string
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
		found = append(found, fileBreaches(filepath.ToSlash(relative), text)...)
		return nil
	})
	return found, err
}

// fileBreaches lists what must not stand in one file.
func fileBreaches(name string, text []byte) []string {
	if bytes.IndexByte(text, 0) >= 0 || strings.HasSuffix(name, ".sum") {
		return nil // a picture, a font; sums are not ours
	}
	found := machinePaths(name, text)
	if !strings.HasSuffix(name, ".go") {
		return found
	}
	files := token.NewFileSet()
	parsed, err := parser.ParseFile(files, name, text, parser.SkipObjectResolution)
	if err != nil {
		return append(found, err.Error())
	}
	found = append(found, packageName(name, parsed)...)
	if strings.HasSuffix(name, "_test.go") {
		return found
	}
	for _, declaration := range parsed.Decls {
		found = append(found, declarationBreaches(name, files, declaration)...)
	}
	return found
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

// declarationBreaches finds bare go statements in ui, and clocks read in parts
// that are given the time.
func declarationBreaches(name string, files *token.FileSet, declaration ast.Decl) []string {
	tree, _, _ := strings.Cut(name, "/")
	var found []string
	ast.Inspect(declaration, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.GoStmt:
			if tree == "ui" && !isTask(name, declaration) {
				found = append(found, fmt.Sprintf("%s: a bare go statement: only the task function of the shell starts work beside the window", files.Position(n.Pos())))
			}
		case *ast.SelectorExpr:
			if readsClock(n) && slices.Contains([]string{"model", "export", "ui"}, tree) {
				found = append(found, fmt.Sprintf("%s: time.%s: the time is handed in", files.Position(n.Pos()), n.Sel.Name))
			}
		}
		return true
	})
	return found
}

// isTask reports whether a declaration is the one function that may start work
// beside the window.
func isTask(name string, declaration ast.Decl) bool {
	function, is := declaration.(*ast.FuncDecl)
	return is && strings.HasPrefix(name, "ui/shell/") && strings.EqualFold(function.Name.Name, "task")
}

func readsClock(n *ast.SelectorExpr) bool {
	of, is := n.X.(*ast.Ident)
	return is && of.Name == "time" && slices.Contains([]string{"Now", "Since", "Until"}, n.Sel.Name)
}
