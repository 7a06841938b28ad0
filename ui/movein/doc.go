// Package movein is the place where a spreadsheet is brought in: what each column
// was taken for, the questions that it leaves open, every row, every one that
// cannot be brought in and why, and what would be made. Nothing is written before
// the person says so, and then by one command.
package movein
