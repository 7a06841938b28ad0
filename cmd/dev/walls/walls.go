// Package walls holds the rules on who may import whom, and a few on what may
// stand in which part of the tree. Its tests read the checkout and fail with
// the reason where a rule is broken.
package walls

import (
	"fmt"
	"path"
	"slices"
	"strings"
)

// Module is the path of the module, which our import paths begin with.
const Module = "coilward"

// Package is one package of the import graph.
type Package struct {
	Imports     []string // by the files that are built, on any system
	TestImports []string // by its tests
	Standard    bool     // of the standard library
}

// Graph is the packages by import path, ours and all that they need.
type Graph map[string]Package

// room is what the packages of one pattern may import. Patterns are those of
// path.Match below the module, and "name/..." for a whole tree.
type room struct {
	pattern string
	ours    []string // patterns below the module
	outside []string // module paths, beside the standard library
	why     string
}

// ours reports whether a package belongs to the module, and its path below it.
func ours(importPath string) (below string, is bool) {
	return strings.CutPrefix(importPath, Module+"/")
}

// matches reports whether a path below the module fits a pattern.
func matches(pattern, below string) bool {
	if tree, whole := strings.CutSuffix(pattern, "/..."); whole {
		return below == tree || strings.HasPrefix(below, tree+"/")
	}
	fits, _ := path.Match(pattern, below) // the patterns are our own: none is malformed
	return fits
}

func matchesAny(patterns []string, below string) bool {
	return slices.ContainsFunc(patterns, func(p string) bool { return matches(p, below) })
}

// inside reports whether an import path lies in one of the modules.
func inside(modules []string, importPath string) bool {
	return slices.ContainsFunc(modules, func(m string) bool {
		return importPath == m || strings.HasPrefix(importPath, m+"/")
	})
}

// Breaches are all places where the graph breaks a wall, one line each, sorted.
func Breaches(g Graph) []string {
	var found []string
	for importPath, p := range g {
		below, is := ours(importPath)
		if !is {
			continue
		}
		found = append(found, crossed(g, below, p)...)
		for _, imported := range slices.Concat(p.Imports, p.TestImports) {
			found = append(found, layer(below, imported)...)
			found = append(found, owned(below, imported)...)
		}
		found = append(found, reached(g, importPath)...)
	}
	slices.Sort(found)
	return slices.Compact(found)
}

// crossed lists what a package imports beyond its room. Its tests may import
// more, as long as they keep to the layers and leave the owned modules alone.
func crossed(g Graph, below string, p Package) []string {
	at := slices.IndexFunc(rooms(), func(r room) bool { return matches(r.pattern, below) })
	if at < 0 {
		return []string{fmt.Sprintf("%s has no room yet: say in cmd/dev/walls/rooms.go what it may import", below)}
	}
	r := rooms()[at]
	var found []string
	for _, imported := range p.Imports {
		name, is := ours(imported)
		allowed := g[imported].Standard || imported == "unsafe" || imported == "C" || inside(r.outside, imported)
		if is {
			allowed = matchesAny(r.ours, name)
		}
		if imported == Module {
			allowed = false
		}
		if !allowed {
			found = append(found, fmt.Sprintf("%s imports %s: %s", below, imported, r.why))
		}
	}
	return found
}

// layer checks the walls between the layers, which hold for tests too, and the
// one against the network.
func layer(below, imported string) []string {
	name, own := ours(imported)
	tree, _, _ := strings.Cut(below, "/")
	var found []string
	say := func(why string) { found = append(found, fmt.Sprintf("%s imports %s: %s", below, imported, why)) }
	if (tree == "model" || tree == "export") && (own && matches("ui/...", name) || inside([]string{"fyne.io"}, imported)) {
		say("model and export know no screen")
	}
	if tree == "model" && own && matches("export/...", name) {
		say("the model knows no paper")
	}
	if imported == "net" || strings.HasPrefix(imported, "net/") && imported != "net/url" {
		say("there is no network code")
	}
	return found
}

// owned checks the modules that one package alone may touch.
func owned(below, imported string) []string {
	for _, o := range owners() {
		if inside([]string{o.module}, imported) && below != o.owner {
			return []string{fmt.Sprintf("%s imports %s: only %s may", below, imported, o.owner)}
		}
	}
	return nil
}

// reached lists what a package of the model or of export needs by way of others
// though it must not: a module that brings the window, or another layer.
func reached(g Graph, from string) []string {
	below, _ := ours(from)
	tree, _, _ := strings.Cut(below, "/")
	if tree != "model" && tree != "export" {
		return nil
	}
	var found []string
	for importPath, way := range g.reach(from) {
		if inside([]string{"fyne.io"}, importPath) {
			found = append(found, fmt.Sprintf("%s needs %s by way of %s: model and export know no screen", below, importPath, way))
		}
	}
	return found
}

// reach is everything that a package needs, each with the package that imports it.
func (g Graph) reach(from string) map[string]string {
	way := map[string]string{}
	queue := []string{from}
	for len(queue) > 0 {
		at := queue[0]
		queue = queue[1:]
		for _, next := range g[at].Imports {
			if _, seen := way[next]; !seen {
				way[next] = at
				queue = append(queue, next)
			}
		}
	}
	return way
}
