// Package tray is the place of the samples: tubes along a line of days from the
// kit to the result, each with its next act as a verb; one sheet for the results
// of many.
package tray
