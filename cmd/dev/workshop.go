package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
)

// workshop is one checkout and where its messages go.
type workshop struct {
	root string // the folder of go.mod
	out  io.Writer
}

// say prints one line.
func (w *workshop) say(format string, values ...any) {
	fmt.Fprintf(w.out, format+"\n", values...)
}

// command is a program to run in the checkout, with settings added to the
// environment of this process.
func (w *workshop) command(ctx context.Context, settings []string, name string, args ...string) *exec.Cmd {
	cmd := exec.CommandContext(ctx, name, args...)
	cmd.Dir = w.root
	cmd.Env = append(os.Environ(), settings...)
	return cmd
}

// do runs a program to its end and shows what it prints.
func (w *workshop) do(ctx context.Context, settings []string, name string, args ...string) error {
	cmd := w.command(ctx, settings, name, args...)
	cmd.Stdout, cmd.Stderr = w.out, w.out
	if err := cmd.Run(); err != nil {
		return fmt.Errorf("%s %s: %w", name, strings.Join(args, " "), err)
	}
	return nil
}

// read runs a program to its end and returns what it prints; its errors become
// part of the error.
func (w *workshop) read(ctx context.Context, settings []string, name string, args ...string) (string, error) {
	cmd := w.command(ctx, settings, name, args...)
	var complaint strings.Builder
	cmd.Stderr = &complaint
	text, err := cmd.Output()
	if err != nil {
		return string(text), fmt.Errorf("%s %s: %w\n%s", name, strings.Join(args, " "), err, complaint.String())
	}
	return string(text), nil
}

// made is the path of something that a build leaves behind, out of sight of git.
func (w *workshop) made(name string) string { return filepath.Join(w.root, "build", name) }

// buildWindow builds the program for this system and returns its path. It is
// built without Fyne's release tag, so that Fyne reports calls from a wrong
// thread.
func (w *workshop) buildWindow(ctx context.Context) (string, error) {
	program := w.made("coilward")
	args := []string{"build", "-buildvcs=false"}
	switch runtime.GOOS {
	case "linux":
		args = append(args, "-tags", "gles") // the first build takes a tenth of the time
	case "windows":
		program += ".exe"
	}
	w.say("building %s (the first time takes a minute or more) …", filepath.Base(program))
	err := w.do(ctx, []string{"CGO_ENABLED=1"}, "go", append(args, "-o", program, "./cmd/coilward")...)
	return program, err
}

// buildTool builds the program without a window and returns its path.
func (w *workshop) buildTool(ctx context.Context) (string, error) {
	tool := w.made("coilctl")
	err := w.do(ctx, []string{"CGO_ENABLED=0"}, "go", "build", "-buildvcs=false", "-o", tool, "./cmd/coilctl")
	return tool, err
}

// files are all files of the checkout, relative to it, but for hidden folders and
// what builds leave behind.
func (w *workshop) files() ([]string, error) {
	var files []string
	err := filepath.WalkDir(w.root, func(path string, entry os.DirEntry, err error) error {
		if err != nil {
			return err
		}
		name := entry.Name()
		if entry.IsDir() && path != w.root && (strings.HasPrefix(name, ".") || name == "build" || name == "dist") {
			return filepath.SkipDir
		}
		if !entry.IsDir() {
			relative, err := filepath.Rel(w.root, path)
			files = append(files, relative)
			return err
		}
		return nil
	})
	return files, err
}
