package main

import (
	"context"
	"fmt"
	"io"
	"log/slog"
	"time"

	"fyne.io/fyne/v2"

	"coilward/ui/widgets/bodychart"
)

// timing listens to what the drawing notes and writes how long it took. One line
// "answer N µs" is the time from when the window hands a pointer move to the drawing
// until the region is lit and region, percent and side are named; one line
// "hover N µs" until the frame with this answer has been given to the screen; one
// line "redraw N µs" that of painting the drawing anew with its lamp.
//
// The window system hands on moves, runs animations and paints in one go, and does
// work that was asked for by others only between two goes: work asked for within a
// move is done right after the frame.
type timing struct {
	slog.Handler
	out     io.Writer
	begun   time.Time // when the last redraw began
	moved   time.Time // when the move came that is answered in the next frame
	waiting bool      // for that frame
}

// Enabled lets the notes of the drawing through.
func (t *timing) Enabled(context.Context, slog.Level) bool { return true }

// Handle takes the drawing's notes, which are made in the window's own thread, and
// passes on what is no note.
func (t *timing) Handle(ctx context.Context, r slog.Record) error {
	switch r.Message {
	case bodychart.NoteMoved:
		if !t.waiting {
			t.moved = r.Time
		}
	case bodychart.NoteAnswered:
		if !t.waiting {
			t.waiting = true
			fmt.Fprintln(t.out, "answer", r.Time.Sub(t.moved).Microseconds(), "µs")
			fyne.Do(t.painted)
		}
	case bodychart.NoteBegun:
		t.begun = r.Time
	case bodychart.NoteDone:
		fmt.Fprintln(t.out, "redraw", r.Time.Sub(t.begun).Microseconds(), "µs")
	default:
		if t.Handler.Enabled(ctx, r.Level) {
			return t.Handler.Handle(ctx, r)
		}
	}
	return nil
}

func (t *timing) painted() {
	fmt.Fprintln(t.out, "hover", time.Since(t.moved).Microseconds(), "µs")
	t.waiting = false
}
