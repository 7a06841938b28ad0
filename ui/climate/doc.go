// Package climate is the place of heat, humidity and light: what the readings of one place
// say, by day, week and year, what they are held against, and the files of loggers that
// are taken in.
package climate
