// Package papers is the place where papers are made: choose a paper and an
// animal, see the pages, save them as a file, open them to print. The pages on
// the screen are drawn by the same layout as the file.
package papers
