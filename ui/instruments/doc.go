// Package instruments is the place of what is read with and worked with: scales,
// thermometers and lamps with their checks and age, hooks, tongs and tubs with
// where they belong and when they were cleaned.
package instruments
