package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"image"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"time"
)

// scene is one page of the program and the keys that lead to it from the one
// before.
type scene struct {
	name string
	keys []string
	wait time.Duration // for what is made beside the window
}

// scenes walk through the sample collection: its shelf, its animals, one of them found by
// its name, a check of it up to the skin, its paper, the settings.
func scenes() []scene {
	toSkin := append([]string{"ctrl+k"}, slices.Repeat([]string{"Down"}, 14)...)
	return []scene{
		{"shelf", nil, 0},
		{"animals", []string{"ctrl+3"}, 0},
		{"animals-pictures", []string{"ctrl+shift+2"}, 0},
		{"animal-days", append([]string{"ctrl+shift+1"}, append(strings.Split("juniper", ""), "Return")...), 0},
		{"animal-body", []string{"ctrl+shift+2"}, 0},
		{"animal-weight", []string{"ctrl+shift+3"}, 0},
		{"check", toSkin, 0},
		{"check-end", []string{"ctrl+e"}, 0},
		{"paper", []string{"Escape", "ctrl+p"}, 4 * time.Second},
		{"settings", []string{"ctrl+comma"}, 0},
	}
}

// guide are the scenes that the README shows.
func guide() []string { return []string{"animals", "animal-body", "check", "paper"} }

// stage is how the window is shown: its size in its own units, day or night,
// and how many pixels a unit has.
type stage struct {
	width, height int
	theme         string
	scale         int
}

func stages() []stage {
	var all []stage
	for _, scale := range []int{1, 2} {
		for _, theme := range []string{"light", "dark"} {
			all = append(all, stage{1280, 800, theme, scale}, stage{1600, 900, theme, scale})
		}
	}
	return all
}

// String names the stage as file names do.
func (s stage) String() string {
	return fmt.Sprintf("%dx%d-%s-%dx", s.width, s.height, s.theme, s.scale)
}

// runShoot is the verb shoot: pictures of every scene on every stage, and those
// of the guide.
func runShoot(ctx context.Context, w *workshop, args []string) error {
	flags := flag.NewFlagSet("shoot", flag.ContinueOnError)
	out := flags.String("out", w.made("pictures"), "the folder for the pictures")
	language := flags.String("lang", "en", "the language of the window")
	first := flags.Bool("guide", false, "only the stage that the guide shows")
	if err := flags.Parse(args); err != nil {
		return err
	}
	if runtime.GOOS != "linux" {
		return errors.New("pictures are taken on Linux, on a screen in memory")
	}
	if err := w.setUp(ctx, screenNeeds()); err != nil {
		return err
	}
	program, err := w.buildWindow(ctx)
	if err != nil {
		return err
	}
	all := stages()
	if *first {
		all = all[:1]
	}
	for i, s := range all {
		w.say("%v", s)
		keep := func(name string, picture image.Image) error {
			path := filepath.Join(*out, name+"-"+s.String()+".png")
			err := savePicture(path, picture)
			if i == 0 && *language == "en" && slices.Contains(guide(), name) {
				err = errors.Join(err, w.reduce(ctx, path, name))
			}
			return err
		}
		if err := w.shootStage(ctx, program, *language, s, keep); err != nil {
			return fmt.Errorf("take the pictures %v: %w", s, err)
		}
	}
	return nil
}

// shootStage starts the program with the sample collection and walks through all
// scenes.
func (w *workshop) shootStage(ctx context.Context, program, language string, s stage, keep func(string, image.Image) error) error {
	screen, err := openScreen(ctx, s.width*s.scale, s.height*s.scale)
	if err != nil {
		return err
	}
	defer screen.close()
	home, err := os.MkdirTemp("", "coilward")
	if err != nil {
		return err
	}
	defer os.RemoveAll(home)
	cmd := exec.CommandContext(ctx, program, "--sample", "--lang", language)
	cmd.Dir = home
	cmd.Env = append(os.Environ(), screen.settings("HOME="+home, "XDG_CONFIG_HOME="+home, "FYNE_THEME="+s.theme, fmt.Sprint("FYNE_SCALE=", s.scale))...)
	var log strings.Builder
	cmd.Stdout, cmd.Stderr = &log, &log
	if err := cmd.Start(); err != nil {
		return err
	}
	defer func() {
		cmd.Process.Kill() // nothing is kept of the sample collection
		cmd.Wait()
	}()
	if err := screen.walk(ctx, s, keep); err != nil {
		return fmt.Errorf("%w\n%s", err, log.String())
	}
	return nil
}

// walk goes through all scenes and hands on a picture of each.
func (s *screen) walk(ctx context.Context, on stage, keep func(string, image.Image) error) error {
	window, err := s.window(ctx, "Coilward", time.Minute)
	if err != nil {
		return err
	}
	if err := s.fill(ctx, window, on.width*on.scale, on.height*on.scale); err != nil {
		return err
	}
	pause(ctx, 15*time.Second) // for the sample collection to be laid out, and for its photos to be drawn
	for _, scene := range scenes() {
		for _, key := range scene.keys {
			if err := s.keys(ctx, key); err != nil {
				return err
			}
			pause(ctx, 300*time.Millisecond)
		}
		pause(ctx, scene.wait)
		picture, err := s.settled(ctx, 30*time.Second)
		if err != nil {
			return fmt.Errorf("%s: %w", scene.name, err)
		}
		if err := keep(scene.name, picture); err != nil {
			return err
		}
	}
	return nil
}

// reduce puts a picture into the guide, smaller and with fewer colours.
func (w *workshop) reduce(ctx context.Context, path, name string) error {
	target := filepath.Join(w.root, "assets", "guide", name+".png")
	if err := os.MkdirAll(filepath.Dir(target), 0o755); err != nil {
		return fmt.Errorf("put a picture into the guide: %w", err)
	}
	return w.do(ctx, nil, "convert", path, "-resize", "960x", "-dither", "None", "-colors", "200", "-strip", "png8:"+target)
}
