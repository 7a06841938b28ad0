// Package samples follows each sample from its kit to its results: what it is of,
// what it is looked through for, where it went, and what the lab said of each
// thing. A sample is a document of its own, of type model.TypeSample, about the
// animals that it was taken from; who is looked up by name stands among people.
//
// A result is what one lab found in one sample. "Not detected" is never "free
// of"; and a thing without a result, or with one that is inconclusive, inhibited
// or not done, was not looked through.
package samples
