// Package widgets is the kit that every screen is made of: values in, On… out.
// It knows no collection and no text of its own.
//
// An object whose height depends on the width it gets (a paragraph, a column
// with one in it) says so by HeightFor; the layouts of this package ask it. All
// calls belong on Fyne's goroutine.
package widgets
