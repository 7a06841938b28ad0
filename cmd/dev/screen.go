package main

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"fmt"
	"image"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"time"
)

// screen is an X screen in memory, with a hand (xdotool) and an eye (import).
type screen struct {
	display string // such as ":7"
	server  *exec.Cmd
}

// openScreen starts a screen of that many pixels on a free display; more are
// arguments of the X server.
func openScreen(ctx context.Context, width, height int, more ...string) (*screen, error) {
	read, write, err := os.Pipe()
	if err != nil {
		return nil, fmt.Errorf("open a screen: %w", err)
	}
	defer read.Close()
	// -r: a key is pressed once, however late a busy computer lets it go.
	server := exec.CommandContext(ctx, "Xvfb", append([]string{"-r", "-displayfd", "3", "-screen", "0", fmt.Sprintf("%dx%dx24", width, height)}, more...)...)
	server.ExtraFiles = []*os.File{write}
	err = server.Start()
	write.Close() // the server holds its own; reading ends when that closes
	if err != nil {
		return nil, fmt.Errorf("open a screen: %w", err)
	}
	number, err := bufio.NewReader(read).ReadString('\n')
	if err != nil {
		return nil, errors.Join(fmt.Errorf("open a screen: the server gave no display: %w", err), server.Process.Kill())
	}
	return &screen{display: ":" + strings.TrimSpace(number), server: server}, nil
}

// close ends the screen and with it whatever still shows on it.
func (s *screen) close() {
	s.server.Process.Signal(os.Interrupt)
	s.server.Wait()
}

// settings are the environment of a program that shows on the screen: a fixed
// language of the system, software drawing, no desktop bus.
func (s *screen) settings(more ...string) []string {
	return append([]string{
		"DISPLAY=" + s.display, "LANG=en_GB.UTF-8", "LC_ALL=", "LC_CTYPE=C.UTF-8", "LIBGL_ALWAYS_SOFTWARE=1",
		"DBUS_SESSION_BUS_ADDRESS=disabled:",
	}, more...)
}

// hand runs one xdotool command and returns what it prints.
func (s *screen) hand(ctx context.Context, args ...string) (string, error) {
	cmd := exec.CommandContext(ctx, "xdotool", args...)
	cmd.Env = append(os.Environ(), s.settings()...)
	text, err := cmd.Output()
	if err != nil {
		return "", fmt.Errorf("xdotool %s: %w", strings.Join(args, " "), err)
	}
	return strings.TrimSpace(string(text)), nil
}

// window waits until a window whose title matches shows, and returns its id.
func (s *screen) window(ctx context.Context, title string, wait time.Duration) (string, error) {
	ctx, cancel := context.WithTimeout(ctx, wait)
	defer cancel()
	for {
		if ids, err := s.hand(ctx, "search", "--onlyvisible", "--name", title); err == nil && ids != "" {
			return strings.Fields(ids)[0], nil
		}
		select {
		case <-ctx.Done():
			return "", fmt.Errorf("no window named %q after %v", title, wait)
		case <-time.After(100 * time.Millisecond):
		}
	}
}

// fill gives a window that size in pixels, at the upper left corner.
func (s *screen) fill(ctx context.Context, window string, width, height int) error {
	_, err := s.hand(ctx, "windowmove", window, "0", "0", "windowsize", "--sync", window, strconv.Itoa(width), strconv.Itoa(height))
	return err
}

// click moves the pointer there, waits for the hover to be drawn, and clicks.
func (s *screen) click(ctx context.Context, x, y int) error {
	if _, err := s.hand(ctx, "mousemove", strconv.Itoa(x), strconv.Itoa(y)); err != nil {
		return err
	}
	pause(ctx, 150*time.Millisecond)
	_, err := s.hand(ctx, "click", "1")
	return err
}

// keys presses keys one after the other, named as X names them ("Return", "ctrl+n").
func (s *screen) keys(ctx context.Context, keys ...string) error {
	_, err := s.hand(ctx, append([]string{"key", "--delay", "80"}, keys...)...)
	return err
}

// types writes plain ASCII text.
func (s *screen) types(ctx context.Context, text string) error {
	_, err := s.hand(ctx, "type", "--delay", "60", text)
	return err
}

// picture is what the whole screen shows.
func (s *screen) picture(ctx context.Context) (image.Image, error) {
	cmd := exec.CommandContext(ctx, "import", "-window", "root", "png:-")
	cmd.Env = append(os.Environ(), s.settings()...)
	data, err := cmd.Output()
	if err != nil {
		return nil, fmt.Errorf("take a picture of the screen: %w", err)
	}
	picture, err := png.Decode(bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("take a picture of the screen: %w", err)
	}
	return picture, nil
}

// settled takes pictures until two in a row are alike, which says that the
// window has drawn what it had to, and returns the last.
func (s *screen) settled(ctx context.Context, wait time.Duration) (image.Image, error) {
	ctx, cancel := context.WithTimeout(ctx, wait)
	defer cancel()
	last, err := s.picture(ctx)
	for err == nil {
		pause(ctx, 400*time.Millisecond)
		var next image.Image
		if next, err = s.picture(ctx); err != nil {
			break
		}
		share, differ := changed(last, next)
		if differ != nil || share == 0 {
			return next, differ
		}
		last = next
	}
	return nil, fmt.Errorf("wait for the screen to settle: %w", err)
}

// shows does something and waits until the screen shows something else for it
// and has settled; it returns what the screen shows then.
func (s *screen) shows(ctx context.Context, do func() error) (image.Image, error) {
	before, err := s.settled(ctx, time.Minute)
	if err != nil {
		return nil, err
	}
	if err := do(); err != nil {
		return nil, err
	}
	for range 40 {
		after, err := s.settled(ctx, time.Minute)
		if err != nil {
			return nil, err
		}
		if share, err := changed(before, after); err != nil || share > 0 {
			return after, err
		}
	}
	return nil, errors.New("nothing changes on the screen")
}

// pause waits, or less when the context ends.
func pause(ctx context.Context, wait time.Duration) {
	select {
	case <-ctx.Done():
	case <-time.After(wait):
	}
}

// savePicture writes a picture as PNG.
func savePicture(path string, picture image.Image) error {
	var data bytes.Buffer
	encoder := png.Encoder{CompressionLevel: png.BestCompression}
	if err := encoder.Encode(&data, picture); err != nil {
		return fmt.Errorf("save the picture %s: %w", filepath.Base(path), err)
	}
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		return fmt.Errorf("save the picture %s: %w", filepath.Base(path), err)
	}
	return os.WriteFile(path, data.Bytes(), 0o644)
}
