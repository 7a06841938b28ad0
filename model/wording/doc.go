// Package wording says things in a language: texts by key from the catalogues,
// days, ages and quantities as that language writes them, and the other way
// round, what people type. Window and paper may speak different languages at
// the same time.
package wording
