package main

import (
	"context"
	"errors"
	"fmt"
	"image"
	"os"
	"os/exec"
	"path/filepath"
	"time"
)

const windowsCompiler = "x86_64-w64-mingw32-gcc"

// randomness is a library that Go programs load on Windows for random numbers
// and that older Wine lacks: one function, by way of another that Wine has.
const randomness = `#include <windows.h>
BOOLEAN NTAPI SystemFunction036(PVOID, ULONG);
__declspec(dllexport) BOOL WINAPI ProcessPrng(PBYTE p, SIZE_T n) { return SystemFunction036(p, (ULONG)n) ? TRUE : FALSE; }
`

// checkWindows builds the program for Windows, starts it under Wine on a screen
// of its own, clicks, and looks at what it shows.
func checkWindows(ctx context.Context, w *workshop) error {
	program, err := w.buildForWindows(ctx)
	if err != nil {
		return err
	}
	s, err := openScreen(ctx, 1440, 900) // the window and the frame around it
	if err != nil {
		return err
	}
	defer s.close()
	settings, err := w.prepareWine(ctx, s)
	if err != nil {
		return err
	}
	return w.driveWindows(ctx, s, settings, program)
}

// buildForWindows builds the program as a single file and returns its path.
func (w *workshop) buildForWindows(ctx context.Context) (string, error) {
	program := w.made("coilward.exe")
	w.say("building for Windows (the first time takes some minutes) …")
	err := w.do(ctx, []string{"GOOS=windows", "GOARCH=amd64", "CGO_ENABLED=1", "CC=" + windowsCompiler},
		"go", "build", "-buildvcs=false", "-ldflags", "-H=windowsgui -s -w", "-o", program, "./cmd/coilward")
	return program, err
}

// prepareWine makes a Windows of its own below the build folder, once, and
// returns the settings to start programs in it.
func (w *workshop) prepareWine(ctx context.Context, s *screen) ([]string, error) {
	home := w.made("wine")
	settings := s.settings("WINEPREFIX="+home, "WINEDEBUG=-all", "WINEDLLOVERRIDES=mscoree,mshtml=")
	library := filepath.Join(home, "drive_c", "windows", "system32", "bcryptprimitives.dll")
	if _, err := os.Stat(library); err == nil {
		return settings, nil
	}
	if err := w.startWine(ctx, settings); err != nil {
		return nil, err
	}
	source := w.made("bcryptprimitives.c")
	if err := os.WriteFile(source, []byte(randomness), 0o644); err != nil {
		return nil, fmt.Errorf("prepare Wine: %w", err)
	}
	return settings, w.do(ctx, nil, windowsCompiler, "-shared", "-O1", "-o", library, source, "-ladvapi32")
}

func (w *workshop) startWine(ctx context.Context, settings []string) error {
	if err := os.MkdirAll(w.made(""), 0o755); err != nil {
		return fmt.Errorf("prepare Wine: %w", err)
	}
	if _, err := w.read(ctx, settings, "wine", "wineboot", "-i"); err != nil {
		return fmt.Errorf("prepare Wine: %w", err)
	}
	_, err := w.read(ctx, settings, "wineserver", "-w")
	return err
}

// driveWindows starts the program, waits for its window, clicks into it
// and fails unless the pictures show a window that answered.
func (w *workshop) driveWindows(ctx context.Context, s *screen, settings []string, program string) error {
	ctx, cancel := context.WithTimeout(ctx, 8*time.Minute)
	defer cancel()
	log, err := os.Create(w.made("wine.log"))
	if err != nil {
		return fmt.Errorf("start the program under Wine: %w", err)
	}
	defer log.Close()
	collection, err := os.MkdirTemp("", "coilward")
	if err != nil {
		return fmt.Errorf("start the program under Wine: %w", err)
	}
	defer os.RemoveAll(collection)
	cmd := w.command(ctx, settings, "wine", program, "--collection", filepath.Join(collection, "animals"))
	cmd.Stdout, cmd.Stderr = log, log
	if err := cmd.Start(); err != nil {
		return fmt.Errorf("start the program under Wine: %w", err)
	}
	defer endWine(settings, cmd)
	if err := w.clickWindows(ctx, s); err != nil {
		text, _ := os.ReadFile(log.Name()) // shown if there is any
		return fmt.Errorf("%w\n%s", err, text)
	}
	return nil
}

// clickWindows opens the first menu of the window with a click; the pictures
// before and after stay in the build folder.
func (w *workshop) clickWindows(ctx context.Context, s *screen) error {
	window, err := s.window(ctx, "Coilward", 3*time.Minute)
	if err != nil {
		return err
	}
	before, err := s.settled(ctx, 2*time.Minute)
	if err != nil {
		return err
	}
	if _, err := s.hand(ctx, "mousemove", "--window", window, "24", "14", "click", "1"); err != nil {
		return err
	}
	after, err := s.settled(ctx, 2*time.Minute)
	if err != nil {
		return err
	}
	if err := errors.Join(savePicture(w.made("wine-before.png"), before), savePicture(w.made("wine-after.png"), after)); err != nil {
		return err
	}
	return w.answered(before, after)
}

// answered fails unless the pictures show a drawn window that changed by a click.
func (w *workshop) answered(before, after image.Image) error {
	share, err := changed(before, after)
	if err != nil {
		return err
	}
	w.say("pictures in %s: %d colours before, %.2f %% of the pixels changed by the click", w.made(""), colours(before), 100*share)
	if colours(before) < 20 {
		return errors.New("the window is blank")
	}
	if share < 0.002 {
		return errors.New("the click changed nothing in the window")
	}
	return nil
}

// endWine ends the program and the Windows it runs in.
func endWine(settings []string, program *exec.Cmd) {
	end := exec.Command("wineserver", "-k")
	end.Env = append(os.Environ(), settings...)
	end.Run() // fails when all has ended already
	program.Wait()
}
