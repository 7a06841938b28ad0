// Package table brings spreadsheets in and out. In: CSV in the usual encodings
// and XLSX, whose columns are matched by their names in any of the languages or by
// hand, and whose numbers and days are read in the style that the whole column
// shows; what comes of it is a command of model/importing. Out: a collection as
// CSV, XLSX, or lines of JSON that can be read back whole.
package table
