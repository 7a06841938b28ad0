package main

import (
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

func TestStart_NamesTheVerbsAndStepsWhereNoneIsAsked(t *testing.T) {
	for _, args := range [][]string{nil, {"tset"}} {
		err := start(t.Context(), args, io.Discard)
		if err == nil {
			t.Fatalf("%q is done", args)
		}
		for _, want := range append(stepNames(), "run", "test", "shoot", "bench", "package") {
			if !strings.Contains(err.Error(), want) {
				t.Errorf("the answer to %q does not name %s: %v", args, want, err)
			}
		}
	}
}

func TestModuleRoot(t *testing.T) {
	root, err := moduleRoot()
	if err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(filepath.Join(root, "FyneApp.toml")); err != nil {
		t.Errorf("%s is not the top of the checkout: %v", root, err)
	}
	t.Chdir(t.TempDir())
	if root, err := moduleRoot(); err == nil {
		t.Errorf("outside of any checkout it finds %s", root)
	}
}

func TestGuide_ShowsScenesThereAre(t *testing.T) {
	for _, name := range guide() {
		if !slices.ContainsFunc(scenes(), func(s scene) bool { return s.name == name }) {
			t.Errorf("no scene is named %s", name)
		}
	}
	names := map[string]bool{}
	for _, s := range stages() {
		names[s.String()] = true
	}
	if len(names) != 8 {
		t.Errorf("%d stages have a name of their own, want 8: %v", len(names), names)
	}
}

func TestFiles_LeavesOutWhatIsHiddenOrBuilt(t *testing.T) {
	w := &workshop{root: t.TempDir()}
	for _, name := range []string{"a.go", "sub/b.txt", ".git/c.go", "build/d.go", "dist/e.go", "sub/.hidden/f.go"} {
		path := filepath.Join(w.root, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, nil, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	files, err := w.files()
	if err != nil || !slices.Equal(files, []string{"a.go", filepath.Join("sub", "b.txt")}) {
		t.Errorf("files %v, %v; want a.go and sub/b.txt", files, err)
	}
	copied := filepath.Join(w.root, "copy", "b.txt")
	if err := copyFile(filepath.Join(w.root, "sub", "b.txt"), copied); err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(copied); err != nil {
		t.Error(err)
	}
}
