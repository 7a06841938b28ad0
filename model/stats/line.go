package stats

import (
	"math"

	"gonum.org/v1/gonum/stat"
)

// Line is the straight line of least squares.
type Line struct {
	Intercept, Slope           float64
	InterceptError, SlopeError float64 // standard errors
	Residual                   float64 // standard deviation about the line
	RSquared                   float64
}

// LeastSquares is the line whose squared distances are least; x is taken as known.
// Three values at least, of different x. Source: any textbook; checked against NIST
// StRD.
func LeastSquares(x, y []float64) (Line, error) {
	if err := paired(x, y, 3); err != nil {
		return Line{}, err
	}
	mean, spread := stat.Mean(x, nil), 0.0
	for _, v := range x {
		spread += (v - mean) * (v - mean)
	}
	if spread == 0 {
		return Line{}, &TooFewError{Got: 1, Want: 2}
	}
	var l Line
	l.Intercept, l.Slope = stat.LinearRegression(x, y, nil, false)
	l.RSquared = stat.RSquared(x, y, nil, l.Intercept, l.Slope)
	squares := 0.0
	for i := range x {
		off := y[i] - l.Intercept - l.Slope*x[i]
		squares += off * off
	}
	n := float64(len(x))
	l.Residual = math.Sqrt(squares / (n - 2))
	l.SlopeError = l.Residual / math.Sqrt(spread)
	l.InterceptError = l.Residual * math.Sqrt(1/n+mean*mean/spread)
	return l, nil
}
