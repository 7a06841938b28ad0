// Dev sets a computer up for Coilward from source, starts the program, and runs
// everything that checks it. It needs Go and nothing else: what is missing it
// installs where it may, and otherwise it prints the command for this system.
//
//	go run ./cmd/dev run [arguments of the program]
//	go run ./cmd/dev test [-quick] [step …]
//	go run ./cmd/dev shoot [-out folder] [-lang en] [-guide]
//	go run ./cmd/dev bench [hover | start | package …]
//	go run ./cmd/dev package [-out folder] [system …]
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"strings"
)

const usage = `usage: go run ./cmd/dev VERB

  run [arguments]            set up what is missing and start the program
  test [-quick] [step ...]   set up what is missing and check everything, or the steps named
  shoot [-out folder]        take the pictures of the guide from the real window
  bench [package ...]        run the benchmarks
  bench hover | start        measure the real window: pointer to paint, start to first frame
  package [-out folder]      build what is given to keepers: Windows and Linux

steps: `

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	err := start(ctx, os.Args[1:], os.Stdout)
	if err == nil {
		return
	}
	var ended *exec.ExitError
	if errors.As(err, &ended) && ended.ExitCode() > 0 && len(os.Args) > 1 && os.Args[1] == "run" {
		os.Exit(ended.ExitCode())
	}
	fmt.Fprintln(os.Stderr, "dev:", err)
	os.Exit(1)
}

// start does what the arguments ask for, in the module that the folder of the
// process lies in.
func start(ctx context.Context, args []string, out io.Writer) error {
	verbs := map[string]func(context.Context, *workshop, []string) error{
		"run": runProgram, "test": runTests, "shoot": runShoot, "bench": runBench, "package": runPackage,
	}
	if len(args) == 0 || verbs[args[0]] == nil {
		return errors.New(usage + strings.Join(stepNames(), " "))
	}
	root, err := moduleRoot()
	if err != nil {
		return err
	}
	return verbs[args[0]](ctx, &workshop{root: root, out: out}, args[1:])
}

// moduleRoot finds the folder of go.mod at or above the working folder.
func moduleRoot() (string, error) {
	folder, err := os.Getwd()
	if err != nil {
		return "", fmt.Errorf("find the module: %w", err)
	}
	for {
		if _, err := os.Stat(filepath.Join(folder, "go.mod")); err == nil {
			return folder, nil
		}
		parent := filepath.Dir(folder)
		if parent == folder {
			return "", errors.New("find the module: no go.mod here or above; start it inside the checkout")
		}
		folder = parent
	}
}

// runProgram builds the program and starts it; its own exit code is passed on.
func runProgram(ctx context.Context, w *workshop, args []string) error {
	if err := w.setUp(ctx, runNeeds()); err != nil {
		return err
	}
	program, err := w.buildWindow(ctx)
	if err != nil {
		return err
	}
	cmd := exec.CommandContext(ctx, program, args...)
	cmd.Stdin, cmd.Stdout, cmd.Stderr = os.Stdin, os.Stdout, os.Stderr
	return cmd.Run()
}
