package chart_test

import (
	"fmt"
	"testing"

	"coilward/model/chart"
	"coilward/model/drawing"
)

func TestCosts(t *testing.T) {
	c := chart.NewCosts(chart.CostsData{Today: 100, Amount: func(v float64) string { return fmt.Sprint(v) }, Offers: []chart.Offer{
		{Done: 130, Cost: 400, Enough: true, Best: true}, {Done: 172, Cost: 300, Enough: true, Best: true, Chosen: true}, {Done: 172, Cost: 500, Enough: true}, {Done: 120, Cost: 100},
	}}, 600, 240, 12)
	if !(c.Points[0].X < c.Points[1].X && c.Points[0].Y < c.Points[1].Y && c.Points[2].Y < c.Points[0].Y && c.Points[3].Y > c.Points[1].Y) {
		t.Errorf("what costs more stands higher, what is later further right: %v", c.Points)
	}
	if near := c.Nearest(c.Points[2].Add(drawing.Point{X: 2, Y: 2})); near != 2 {
		t.Errorf("nearest is %d", near)
	}
	for i, p := range c.Places() {
		if p.X < c.Plot.Min.X || p.X > c.Plot.Max.X || p.Y < c.Plot.Min.Y || p.Y > c.Plot.Max.Y {
			t.Errorf("offer %d stands at %v, outside %v", i, p, c.Plot)
		}
	}
	r, _ := written(c.Draw)
	grounds := 0
	for _, s := range r.Steps {
		if s.Kind == drawing.Filled && s.Opacity < .5 {
			grounds++
		}
	}
	if grounds != 1 {
		t.Errorf("%d grounds behind what nothing beats", grounds)
	}
	empty := chart.NewCosts(chart.CostsData{Today: 100, Amount: func(float64) string { return "" }}, 300, 120, 12)
	if empty.Nearest(drawing.Point{}) != -1 {
		t.Error("something is nearest where there is nothing")
	}
	written(empty.Draw)
}
