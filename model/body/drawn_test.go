package body_test

import (
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"coilward/model/body"
	"coilward/model/drawing"
)

var renew = flag.Bool("renew", false, "write the measures of the drawings anew, after they were looked at")

// measure is what the steps of one kind and role come to in a drawing: enough
// to notice when any of their points, widths or opacities is another.
type measure struct {
	steps, points         int
	x, y, xx, yy          float64 // sums over the points, and over their squares
	width, opacity, turns float64 // turns: sum over the points of x × y
}

func (m *measure) add(s drawing.Step) {
	m.steps++
	m.width += s.Width
	m.opacity += s.Opacity
	for _, segment := range s.Path {
		for _, p := range segment.P {
			m.points++
			m.x, m.y = m.x+p.X, m.y+p.Y
			m.xx, m.yy, m.turns = m.xx+p.X*p.X, m.yy+p.Y*p.Y, m.turns+p.X*p.Y
		}
	}
}

func (m measure) String() string {
	return fmt.Sprintf("%d %d %.4f %.4f %.4f %.4f %.4f %.4f %.4f", m.steps, m.points, m.x, m.y, m.xx, m.yy, m.turns, m.width, m.opacity)
}

// near compares two measures as written: floating point differs a little from
// one processor to the next.
func near(a, b string) bool {
	one, two := strings.Fields(a), strings.Fields(b)
	for i := range one {
		var x, y float64
		if _, err := fmt.Sscan(one[i]+" "+two[i], &x, &y); err != nil || math.Abs(x-y) > 1e-3+1e-10*math.Abs(x) {
			return false
		}
	}
	return len(one) == len(two)
}

// drawn are the measures of every drawing of the body, one line for each kind
// of step and role.
func drawn() map[string]string {
	out := map[string]string{}
	note := func(name string, draw func(drawing.Pen)) {
		var pen drawing.Recorder
		draw(&pen)
		all := map[string]*measure{}
		for _, s := range pen.Steps {
			key := fmt.Sprintf("%s, kind %d, role %d", name, s.Kind, s.Role)
			if all[key] == nil {
				all[key] = &measure{}
			}
			all[key].add(s)
		}
		for key, m := range all {
			out[key] = m.String()
		}
	}
	for name, o := range map[string]body.Options{"fine": {}, "coarse and flat": {Net: body.CoarseNet, Flat: true}, "organs without a net": {Net: body.NoNet, Organs: true}} {
		for _, id := range body.Views() {
			note(string(id)+", "+name, func(pen drawing.Pen) { body.Draw(pen, id, o) })
		}
	}
	for _, id := range body.Views() {
		note(string(id)+", regions and their anchors", func(pen drawing.Pen) {
			for i, r := range body.RegionsOf(id) {
				anchor, _ := body.Anchor(id, r)
				pen.Fill(drawing.Polyline(anchor), drawing.Ink, 1)
				pen.Stroke(body.Outline(id, r), float64(i), drawing.Ink, 1)
			}
		})
	}
	for name, strip := range map[string]*body.Strip{
		"strip upright": body.Straight(900, 20, true, false), "strip from below": body.Straight(900, 20, false, true),
		"thin strip": body.Straight(300, 5, false, false), "close-up": body.StraightBetween(3000, 4000, 900, 60, false),
	} {
		note(name, func(pen drawing.Pen) { strip.Draw(pen, body.Options{}) })
	}
	return out
}

// TestDrawingsAreThoseThatWereLookedAt: what people have looked at stays as it
// is. Who changes a drawing looks at it and then writes its measures anew:
//
//	go test ./model/body -run LookedAt -renew
func TestDrawingsAreThoseThatWereLookedAt(t *testing.T) {
	file := filepath.Join("testdata", "drawings.txt")
	got := drawn()
	if *renew {
		var lines []string
		for key, m := range got {
			lines = append(lines, key+": "+m)
		}
		slices.Sort(lines)
		if err := os.WriteFile(file, []byte(strings.Join(lines, "\n")+"\n"), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	raw, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSpace(strings.ReplaceAll(string(raw), "\r", "")), "\n")
	if len(lines) != len(got) {
		t.Errorf("%d measures, want %d", len(got), len(lines))
	}
	for _, line := range lines {
		key, want, _ := strings.Cut(line, ": ")
		if m, ok := got[key]; !ok || !near(want, m) {
			t.Errorf("%s\n got %s\nwant %s", key, m, want)
		}
	}
}
