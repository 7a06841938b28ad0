package main

import (
	"bufio"
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"image"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"time"
)

// Size of the window that is measured, in pixels.
const benchWidth, benchHeight = 1600, 900

// onScreen builds the program and measures it on a screen in memory.
func (w *workshop) onScreen(ctx context.Context, measure func(context.Context, *workshop, string) error) error {
	if runtime.GOOS != "linux" {
		return errors.New("the window is measured on Linux, on a screen in memory")
	}
	if err := w.setUp(ctx, screenNeeds()); err != nil {
		return err
	}
	program, err := w.buildWindow(ctx)
	if err != nil {
		return err
	}
	if load, err := os.ReadFile("/proc/loadavg"); err == nil {
		w.say("%d processors, load %s", runtime.NumCPU(), strings.Join(strings.Fields(string(load))[:3], " "))
	}
	return measure(ctx, w, program)
}

// startOn starts the program with the sample collection on a screen, with a home of
// its own. The returned function ends both.
func startOn(ctx context.Context, screen *screen, program string, args ...string) (cmd *exec.Cmd, lines io.Reader, end func(), err error) {
	home, err := os.MkdirTemp("", "coilward")
	if err != nil {
		return nil, nil, nil, err
	}
	cmd = exec.CommandContext(ctx, program, append([]string{"--sample", "--lang", "en"}, args...)...)
	cmd.Dir, cmd.Stderr = home, os.Stderr
	cmd.Env = append(os.Environ(), screen.settings("HOME="+home, "XDG_CONFIG_HOME="+home, "FYNE_THEME=light", "FYNE_SCALE=1")...)
	if lines, err = cmd.StdoutPipe(); err == nil {
		err = cmd.Start()
	}
	if err != nil {
		return nil, nil, nil, errors.Join(fmt.Errorf("start the program: %w", err), os.RemoveAll(home))
	}
	return cmd, lines, func() {
		cmd.Process.Kill() // nothing is kept of the sample collection
		cmd.Wait()
		os.RemoveAll(home)
	}, nil
}

// told is a line that the program wrote, and when.
type told struct {
	what string
	took time.Duration
	at   time.Time
}

// listen hands on what the program tells of its timing until it ends.
func listen(lines io.Reader) <-chan told {
	all := make(chan told, 10_000)
	go func() {
		defer close(all)
		for scan := bufio.NewScanner(lines); scan.Scan(); {
			fields := strings.Fields(scan.Text())
			if len(fields) < 2 {
				continue
			}
			if n, err := strconv.Atoi(fields[1]); err == nil {
				all <- told{fields[0], time.Duration(n) * time.Microsecond, time.Now()}
			}
		}
	}()
	return all
}

// next is the next that is told of one thing within the wait.
func next(all <-chan told, what string, wait time.Duration) (told, bool) {
	over := time.After(wait)
	for {
		select {
		case t, open := <-all:
			if !open {
				return told{}, false
			}
			if t.what == what {
				return t, true
			}
		case <-over:
			return told{}, false
		}
	}
}

// benchHover moves the pointer over the drawing of an animal's page, then changes
// the window's size.
func benchHover(ctx context.Context, w *workshop, program string) error {
	screen, pixels, closed, err := openSeen(ctx)
	if err != nil {
		return err
	}
	defer closed()
	cmd, lines, end, err := startOn(ctx, screen, program, "--timing")
	if err != nil {
		return err
	}
	defer end()
	all := listen(lines)
	window, err := screen.toBody(ctx)
	if err != nil {
		return err
	}
	before := processorTime(cmd.Process.Pid)
	answers, inside, whole, err := screen.hover(ctx, pixels, all)
	if err != nil {
		return err
	}
	used := processorTime(cmd.Process.Pid) - before
	w.say("%d pointer moves over the animal at %d×%d; the program used %.1f ms of processor time for each", len(inside), benchWidth, benchHeight, milliseconds(used)/float64(len(inside)))
	w.say("  move handed to the drawing → region lit, percent and side named: %s", summary(answers))
	w.say("  move handed to the drawing → frame given to the screen: %s", summary(inside))
	w.say("  move sent → pixels changed on the screen, with the wait for the next 60th of a second: %s", summary(whole))
	redraws, err := screen.resize(ctx, window, all)
	if err != nil {
		return err
	}
	w.say("%d redraws after a change of size, with lamp, without the frame: %s", len(redraws), summary(redraws))
	return nil
}

// toBody goes to the drawing of an animal's page.
func (s *screen) toBody(ctx context.Context) (window string, err error) {
	if window, err = s.window(ctx, "Coilward", time.Minute); err != nil {
		return "", err
	}
	if err := s.fill(ctx, window, benchWidth, benchHeight); err != nil {
		return "", err
	}
	if _, err := s.settled(ctx, time.Minute); err != nil {
		return "", err
	}
	for _, scene := range scenes() {
		for _, key := range scene.keys {
			if err := s.keys(ctx, key); err != nil {
				return "", err
			}
			pause(ctx, 400*time.Millisecond)
		}
		if scene.name == "animal-body" {
			break
		}
	}
	_, err = s.settled(ctx, time.Minute)
	return window, err
}

// Moves wanted on the animal, and how many may be tried.
const movesWanted, movesTried = 500, 3000

// hand moves the pointer.
type hand struct {
	*exec.Cmd
	io.WriteCloser
}

func (s *screen) openHand(ctx context.Context) (hand, error) {
	cmd := exec.CommandContext(ctx, "xdotool", "-")
	cmd.Env = append(os.Environ(), s.settings()...)
	script, err := cmd.StdinPipe()
	if err == nil {
		err = cmd.Start()
	}
	if err != nil {
		return hand{}, fmt.Errorf("start xdotool: %w", err)
	}
	return hand{cmd, script}, nil
}

func (h hand) move(p image.Point) error {
	_, err := fmt.Fprintf(h, "mousemove %d %d\n", p.X, p.Y)
	return err
}

// animal looks for points of the page that lie on the animal.
func (h hand) animal(all <-chan told) (found []image.Point, err error) {
	for y := 200; y < benchHeight; y += 40 {
		for x := 120; x < benchWidth; x += 45 {
			p := image.Pt(x, y)
			if err := h.move(p); err != nil {
				return nil, err
			}
			if _, ok := next(all, "hover", 120*time.Millisecond); ok {
				found = append(found, p)
			}
		}
	}
	if len(found) < 2 {
		return nil, errors.New("the pointer does not find the animal")
	}
	return found, nil
}

// hover moves the pointer from one point of the animal to the next until enough
// moves were answered.
func (s *screen) hover(ctx context.Context, pixels memory, all <-chan told) (answers, inside, whole []time.Duration, err error) {
	h, err := s.openHand(ctx)
	if err != nil {
		return nil, nil, nil, err
	}
	defer func() { err = errors.Join(err, h.Close(), h.Wait()) }()
	points, err := h.animal(all)
	if err != nil {
		return nil, nil, nil, err
	}
	for i := range movesTried {
		p := points[i%len(points)].Add(image.Pt(i%7-3, i%5-2))
		pause(ctx, 40*time.Millisecond)
		before, err := pixels.sum(p.Y)
		if err != nil {
			return nil, nil, nil, err
		}
		sent := time.Now()
		if err := h.move(p); err != nil {
			return nil, nil, nil, err
		}
		changed, err := pixels.changes(before, p.Y, 250*time.Millisecond)
		if err != nil {
			return nil, nil, nil, err
		}
		answer, answered := next(all, "answer", 50*time.Millisecond)
		frame, framed := next(all, "hover", 50*time.Millisecond)
		if answered && framed && !changed.IsZero() {
			answers, inside, whole = append(answers, answer.took), append(inside, frame.took), append(whole, changed.Sub(sent))
		}
		if len(inside) == movesWanted || ctx.Err() != nil {
			return answers, inside, whole, ctx.Err()
		}
	}
	return nil, nil, nil, fmt.Errorf("only %d of %d moves were answered", len(inside), movesTried)
}

// changes waits until the rows around one have another sum, and tells when that
// was; zero if they never had.
func (m memory) changes(before uint32, around int, wait time.Duration) (time.Time, error) {
	for began := time.Now(); time.Since(began) < wait; time.Sleep(500 * time.Microsecond) {
		now, err := m.sum(around)
		if err != nil {
			return time.Time{}, err
		}
		if now != before {
			return time.Now(), nil
		}
	}
	return time.Time{}, nil
}

// resize changes the window's size back and forth.
func (s *screen) resize(ctx context.Context, window string, all <-chan told) (redraws []time.Duration, err error) {
	for i := range 20 {
		less := (i + 1) % 2 * 40
		if err := s.fill(ctx, window, benchWidth-less, benchHeight-less); err != nil {
			return nil, err
		}
		t, ok := next(all, "redraw", 5*time.Second)
		if !ok {
			return nil, errors.New("a change of size was not followed by a redraw")
		}
		redraws = append(redraws, t.took)
		pause(ctx, 300*time.Millisecond)
	}
	return redraws, nil
}

// benchStart starts the program five times and looks at the screen's own memory
// for the first pixels of the window.
func benchStart(ctx context.Context, w *workshop, program string) error {
	var walls, used []time.Duration
	for range 5 {
		wall, processor, err := firstFrame(ctx, program)
		if err != nil {
			return err
		}
		walls, used = append(walls, wall), append(used, processor)
	}
	w.say("%d starts with the sample collection, process started → first pixels on the screen: %s", len(walls), summary(walls))
	w.say("  processor time of the program until then: %s", summary(used))
	return nil
}

func firstFrame(ctx context.Context, program string) (wall, processor time.Duration, err error) {
	screen, pixels, closed, err := openSeen(ctx)
	if err != nil {
		return 0, 0, err
	}
	defer closed()
	if lit, err := pixels.anyLit(); err != nil || lit {
		return 0, 0, errors.Join(errors.New("the screen is not black before the start"), err)
	}
	began := time.Now()
	cmd, lines, end, err := startOn(ctx, screen, program)
	if err != nil {
		return 0, 0, err
	}
	defer end()
	ended := make(chan error, 1)
	go func() {
		_, err := io.Copy(io.Discard, lines)
		ended <- err
	}()
	for ctx.Err() == nil && time.Since(began) < time.Minute {
		lit, err := pixels.anyLit()
		if err != nil {
			return 0, 0, err
		}
		if lit {
			return time.Since(began), processorTime(cmd.Process.Pid), nil
		}
		select {
		case err := <-ended:
			return 0, 0, errors.Join(errors.New("the program ended before it showed anything"), err)
		case <-time.After(2 * time.Millisecond):
		}
	}
	return 0, 0, errors.New("no pixel was painted within a minute")
}

// memory is what a screen shows, as its server keeps it in a file: a picture as xwd
// writes it, with a header of big-endian numbers, colours, rows.
type memory struct {
	io.ReaderAt
	rows, rowBytes, start int64
}

// openSeen opens a screen whose memory can be looked at.
func openSeen(ctx context.Context) (s *screen, m memory, end func(), err error) {
	folder, err := os.MkdirTemp("", "coilward-screen")
	if err != nil {
		return nil, m, nil, err
	}
	if s, err = openScreen(ctx, benchWidth, benchHeight, "-fbdir", folder, "-nocursor"); err != nil {
		return nil, m, nil, errors.Join(err, os.RemoveAll(folder))
	}
	end = func() {
		s.close()
		os.RemoveAll(folder)
	}
	file, err := os.Open(filepath.Join(folder, "Xvfb_screen0"))
	if err == nil {
		var header [25]uint32
		err = binary.Read(io.NewSectionReader(file, 0, 4*25), binary.BigEndian, &header)
		m = memory{file, int64(header[5]), int64(header[12]), int64(header[0]) + 12*int64(header[19])}
	}
	if err != nil {
		end()
		return nil, m, nil, fmt.Errorf("look at the screen's memory: %w", err)
	}
	closed := end
	return s, m, func() { file.Close(); closed() }, nil
}

func (m memory) row(y int64) ([]byte, error) {
	row := make([]byte, m.rowBytes)
	if _, err := m.ReadAt(row, m.start+y*m.rowBytes); err != nil {
		return nil, fmt.Errorf("look at the screen's memory: %w", err)
	}
	return row, nil
}

// anyLit reports whether any pixel of some rows is not black.
func (m memory) anyLit() (bool, error) {
	for y := int64(10); y < m.rows; y += 50 {
		row, err := m.row(y)
		if err != nil || slices.ContainsFunc(row, func(b byte) bool { return b != 0 }) {
			return err == nil, err
		}
	}
	return false, nil
}

// sum is a sum of the rows around one.
func (m memory) sum(around int) (uint32, error) {
	sum := crc32.NewIEEE()
	for y := max(0, int64(around)-60); y < min(m.rows, int64(around)+60); y += 3 {
		row, err := m.row(y)
		if err != nil {
			return 0, err
		}
		sum.Write(row)
	}
	return sum.Sum32(), nil
}

// processorTime is what a process has used so far, to a hundredth of a second;
// zero where the system does not tell.
func processorTime(pid int) time.Duration {
	stat, err := os.ReadFile(fmt.Sprintf("/proc/%d/stat", pid))
	if err != nil {
		return 0
	}
	_, after, _ := strings.Cut(string(stat), ") ")
	fields := strings.Fields(after)
	if len(fields) < 13 {
		return 0
	}
	own, _ := strconv.Atoi(fields[11])
	system, _ := strconv.Atoi(fields[12])
	return time.Duration(own+system) * 10 * time.Millisecond
}

// summary words the least, the middle, the 95th of a hundred and the greatest.
func summary(all []time.Duration) string {
	sorted := slices.Sorted(slices.Values(all))
	at := func(percent int) float64 { return milliseconds(sorted[(len(sorted)-1)*percent/100]) }
	return fmt.Sprintf("min %.1f, median %.1f, p95 %.1f, max %.1f ms", at(0), at(50), at(95), at(100))
}

func milliseconds(d time.Duration) float64 { return float64(d.Microseconds()) / 1000 }
