package walls_test

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"coilward/cmd/dev/walls"
)

// root is the checkout that the tests read.
const root = "../../.."

func TestCheckoutKeepsItsWalls(t *testing.T) {
	graph, err := walls.List(root)
	if err != nil {
		t.Fatal(err)
	}
	for _, mustKnow := range []string{"coilward/model", "coilward/cmd/dev/walls", "fmt"} {
		if _, known := graph[mustKnow]; !known {
			t.Fatalf("go list does not tell of %s: the graph is not that of the program", mustKnow)
		}
	}
	for _, breach := range walls.Breaches(graph) {
		t.Error(breach)
	}
}

// What a survey of a group can find, if a share of it carries something, is no chance that one of
// them does, and would be taken for it beside one: no such figure comes to a screen or a paper.
func TestNoScreenAndNoPaperRestsOnASurvey(t *testing.T) {
	graph, err := walls.List(root)
	if err != nil {
		t.Fatal(err)
	}
	const survey = walls.Module + "/model/survey"
	if _, known := graph[survey]; !known {
		t.Fatalf("there is no %s", survey)
	}
	for path, p := range graph {
		if slices.Contains(p.Imports, survey) {
			t.Errorf("%s imports %s", path, survey)
		}
	}
}

func TestCheckoutKeepsItsSourcesClean(t *testing.T) {
	breaches, err := walls.SourceBreaches(root)
	if err != nil {
		t.Fatal(err)
	}
	for _, breach := range breaches {
		t.Error(breach)
	}
}

// plan is a graph in which every package keeps to its room.
func plan() walls.Graph {
	standard := walls.Package{Standard: true}
	return walls.Graph{
		"fmt": standard, "net": standard, "net/http": standard, "net/url": standard,
		"fyne.io/fyne/v2": {Imports: []string{"net/http"}}, "fyne.io/fyne/v2/app": {},
		"github.com/asdine/storm/v3": {}, "go.etcd.io/bbolt": {}, "github.com/jung-kurt/gofpdf": {},
		"golang.org/x/text/language": {},
		"coilward/assets":            {},
		"coilward/model":             {Imports: []string{"fmt"}},
		"coilward/model/drawing":     {},
		"coilward/model/body":        {Imports: []string{"coilward/model/drawing"}},
		"coilward/model/exam":        {Imports: []string{"coilward/model", "coilward/model/body"}},
		"coilward/model/care":        {Imports: []string{"coilward/model"}},
		"coilward/model/wording":     {Imports: []string{"coilward/model", "golang.org/x/text/language"}},
		"coilward/model/collection":  {Imports: []string{"coilward/model"}, TestImports: []string{"coilward/model/care"}},
		"coilward/model/store":       {Imports: []string{"coilward/model", "github.com/asdine/storm/v3", "go.etcd.io/bbolt"}},
		"coilward/export/paper":      {Imports: []string{"coilward/model/exam"}},
		"coilward/export/pdf":        {Imports: []string{"coilward/export/paper", "github.com/jung-kurt/gofpdf"}},
		"coilward/ui/look":           {Imports: []string{"fyne.io/fyne/v2"}},
		"coilward/ui/widgets":        {Imports: []string{"fyne.io/fyne/v2", "coilward/ui/look", "coilward/model/body"}},
		"coilward/ui/check":          {Imports: []string{"coilward/ui/widgets", "coilward/model/exam", "net/url"}},
		"coilward/ui/animals":        {Imports: []string{"coilward/ui/widgets"}},
		"coilward/ui/shell":          {Imports: []string{"coilward/ui/look"}},
		"coilward/cmd/coilward":      {Imports: []string{"coilward/ui/shell", "coilward/ui/check", "coilward/model/store", "fyne.io/fyne/v2/app"}},
	}
}

func TestBreaches_NoneInAPlanThatKeepsTheWalls(t *testing.T) {
	for _, breach := range walls.Breaches(plan()) {
		t.Error(breach)
	}
}

func TestBreaches_NamesWhatCrossesAWall(t *testing.T) {
	cases := []struct {
		name, from, imports string
		inTest              bool
		want                string
	}{
		{"the model shows something", "model/exam", "fyne.io/fyne/v2", false, "model and export know no screen"},
		{"a test of the model shows something", "model/exam", "fyne.io/fyne/v2", true, "model and export know no screen"},
		{"a paper asks a place", "export/paper", "coilward/ui/check", false, "model and export know no screen"},
		{"the model prints", "model/exam", "coilward/export/paper", false, "the model knows no paper"},
		{"a rule asks another rule", "model/exam", "coilward/model/care", false, "rules know the vocabulary"},
		{"a rule asks the kernel", "model/care", "coilward/model/collection", false, "rules know the vocabulary"},
		{"the vocabulary takes a library", "model", "golang.org/x/text/language", false, "the standard library alone"},
		{"a place reads the database", "ui/check", "go.etcd.io/bbolt", false, "only model/store may"},
		{"a test reads the database", "model/collection", "github.com/asdine/storm/v3", true, "only model/store may"},
		{"a paper draws PDF itself", "export/paper", "github.com/jung-kurt/gofpdf", false, "only export/pdf may"},
		{"a place opens its own window", "ui/check", "fyne.io/fyne/v2/app", true, "only cmd/coilward may"},
		{"a place knows the store", "ui/check", "coilward/model/store", false, "places do not know each other"},
		{"a place knows another", "ui/check", "coilward/ui/animals", false, "places do not know each other"},
		{"a widget knows a check", "ui/widgets", "coilward/model/exam", false, "widgets know values alone"},
		{"something calls out", "ui/check", "net/http", false, "there is no network code"},
		{"a test calls out", "model/care", "net", true, "there is no network code"},
		{"the setting up takes a library", "cmd/dev", "golang.org/x/text/language", false, "needs Go alone"},
		{"a package without a room", "model/weather", "fmt", false, "has no room yet"},
		{"a library that brings the window", "model/wording", "golang.org/x/text/language", false, "needs fyne.io/fyne/v2 by way of golang.org/x/text/language"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			g := plan()
			if c.name == "a library that brings the window" {
				g["golang.org/x/text/language"] = walls.Package{Imports: []string{"fyne.io/fyne/v2"}}
			}
			p := g["coilward/"+c.from]
			if c.inTest {
				p.TestImports = append(p.TestImports, c.imports)
			} else {
				p.Imports = append(p.Imports, c.imports)
			}
			g["coilward/"+c.from] = p
			if all := strings.Join(walls.Breaches(g), "\n"); !strings.Contains(all, c.from) || !strings.Contains(all, c.want) {
				t.Errorf("the breach is not told of; want %q of %s, got:\n%s", c.want, c.from, all)
			}
		})
	}
}

func TestSourceBreaches(t *testing.T) {
	machine := "/ro" + "ot/somewhere"
	cases := []struct{ name, file, text, want string }{
		{"work beside the window", "ui/check/a.go", "package check\nfunc f() { go g() }\nfunc g() {}\n", "ui/check/a.go:2:12: a bare go statement"},
		{"the one place that starts work", "ui/shell/a.go", "package shell\nfunc f() { _ = func() { go f() } }\n", ""},
		{"a second one", "ui/shell/a.go", "package shell\nfunc f() { go f() }\nfunc g() { go f() }\n", "ui/shell/a.go:3:12: a bare go statement"},
		{"work in a test", "ui/check/a_test.go", "package check\nfunc f() { go f() }\n", ""},
		{"work in the store", "model/store/a.go", "package store\nfunc f() { go f() }\n", ""},
		{"a clock in the model", "model/care/a.go", "package care\nimport \"time\"\nvar now = time.Now\n", "time.Now: the time is handed in"},
		{"a clock in a paper", "export/paper/a.go", "package paper\nimport \"time\"\nfunc f(t time.Time) { _ = time.Since(t) }\n", "time.Since: the time is handed in"},
		{"a clock by another name", "ui/check/a.go", "package check\nimport hours \"time\"\nvar now = hours.Now\n", "time.Now: the time is handed in"},
		{"a clock without a name", "ui/check/a.go", "package check\nimport . \"time\"\nvar now = Now\n", "imported without a name"},
		{"another thing named time", "ui/check/a.go", "package check\nvar time struct{ Now int }\nvar now = time.Now\n", ""},
		{"a clock in the program", "cmd/coilward/main.go", "package main\nimport \"time\"\nvar now = time.Now\n", ""},
		{"a name that says nothing", "model/util/a.go", "package util\n", "says nothing of what it is for"},
		{"a path of one computer", "README.md", "look\ninto " + machine + "\n", "README.md:2:"},
		{"a path on the web", "README.md", "https://example.org/home\n", ""},
		{"a picture", "assets/a.png", "\x00 " + machine, ""},
		{"a file that is no Go", "model/a.go", "pakage model\n", "expected 'package'"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			folder := t.TempDir()
			path := filepath.Join(folder, filepath.FromSlash(c.file))
			if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(path, []byte(c.text), 0o644); err != nil {
				t.Fatal(err)
			}
			found, err := walls.SourceBreaches(folder)
			if err != nil {
				t.Fatal(err)
			}
			all := strings.Join(found, "\n")
			if (c.want == "") != (all == "") || !strings.Contains(all, c.want) {
				t.Errorf("want %q, got %q", c.want, all)
			}
		})
	}
}
