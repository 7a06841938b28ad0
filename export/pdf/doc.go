// Package pdf writes papers as PDF files. It is the only package that knows
// gofpdf; everything it draws comes from export/paper.
package pdf
