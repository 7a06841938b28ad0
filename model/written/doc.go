// Package written is what was written on paper in the room and is typed in later: the line
// by which an exception of a check's sheet is named, the commands that keep a sheet, and
// whether it was kept already. It knows no paper and no screen.
package written
