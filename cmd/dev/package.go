package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"slices"
)

// fyneTools is the program that puts an icon, a manifest and the version into
// what is given to keepers.
const fyneTools = "fyne.io/tools/cmd/fyne@v1.7.4"

// runPackage is the verb package: it builds the program as keepers get it, for
// Windows and for Linux, into a folder.
func runPackage(ctx context.Context, w *workshop, args []string) error {
	flags := flag.NewFlagSet("package", flag.ContinueOnError)
	out := flags.String("out", filepath.Join(w.root, "dist"), "the folder for the packages")
	if err := flags.Parse(args); err != nil {
		return err
	}
	if runtime.GOOS != "linux" {
		return errors.New("packages are made on Linux, where the compiler for Windows is at hand")
	}
	if err := w.setUp(ctx, slices.Concat(buildNeeds(), windowsNeeds()[:1])); err != nil {
		return err
	}
	if err := os.MkdirAll(*out, 0o755); err != nil {
		return fmt.Errorf("make the folder for the packages: %w", err)
	}
	source, err := w.packageSource()
	if err != nil {
		return err
	}
	if err := w.do(ctx, []string{"GOBIN=" + w.made("tools")}, "go", "install", fyneTools); err != nil {
		return err
	}
	windows := []string{"GOOS=windows", "GOARCH=amd64", "CGO_ENABLED=1", "CC=" + windowsCompiler}
	return errors.Join(
		w.packageFor(ctx, source, *out, windows, "windows", "*.exe"),
		w.packageFor(ctx, source, *out, []string{"CGO_ENABLED=1"}, "linux", "*.tar.*"))
}

// packageSource copies the checkout, because the tools count the build number up
// in the file they read, and puts that file and the icon where the tools look:
// beside the main package.
func (w *workshop) packageSource() (string, error) {
	copied := w.made("package")
	if err := os.RemoveAll(copied); err != nil {
		return "", fmt.Errorf("copy the checkout: %w", err)
	}
	files, err := w.files()
	if err != nil {
		return "", err
	}
	for _, name := range files {
		if err := copyFile(filepath.Join(w.root, name), filepath.Join(copied, name)); err != nil {
			return "", err
		}
	}
	main := filepath.Join(copied, "cmd", "coilward")
	return main, errors.Join(
		copyFile(filepath.Join(w.root, "FyneApp.toml"), filepath.Join(main, "FyneApp.toml")),
		copyFile(filepath.Join(w.root, "assets", "icons", "coilward.png"), filepath.Join(main, "assets", "icons", "coilward.png")))
}

// packageFor runs the tools for one system and moves what they made.
func (w *workshop) packageFor(ctx context.Context, source, out string, settings []string, system, made string) error {
	w.say("packaging for %s …", system)
	cmd := w.command(ctx, append(settings, "GOFLAGS=-buildvcs=false"), w.made(filepath.Join("tools", "fyne")), "package", "--target", system, "--release")
	if system == "linux" {
		cmd.Args = append(cmd.Args, "--tags", "gles")
	}
	cmd.Dir, cmd.Stdout, cmd.Stderr = source, w.out, w.out
	if err := cmd.Run(); err != nil {
		return fmt.Errorf("package for %s: %w", system, err)
	}
	found, err := filepath.Glob(filepath.Join(source, made))
	if err != nil || len(found) != 1 {
		return fmt.Errorf("package for %s: found %d files named %s, want one", system, len(found), made)
	}
	target := filepath.Join(out, filepath.Base(found[0]))
	w.say("%s", target)
	return copyFile(found[0], target)
}

// copyFile copies one file with its permissions, and makes the folders above it.
func copyFile(from, to string) error {
	source, err := os.Open(from)
	if err != nil {
		return fmt.Errorf("copy a file: %w", err)
	}
	defer source.Close()
	about, err := source.Stat()
	if err != nil {
		return fmt.Errorf("copy a file: %w", err)
	}
	if err := os.MkdirAll(filepath.Dir(to), 0o755); err != nil {
		return fmt.Errorf("copy a file: %w", err)
	}
	target, err := os.OpenFile(to, os.O_CREATE|os.O_TRUNC|os.O_WRONLY, about.Mode().Perm())
	if err != nil {
		return fmt.Errorf("copy a file: %w", err)
	}
	_, err = io.Copy(target, source)
	return errors.Join(err, target.Close())
}
