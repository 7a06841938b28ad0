// Package lines tells what a collection written as lines of JSON holds, as a JSON
// schema to be given along with it, so that any other program can read it. The
// lines themselves are written and read by model/store.
package lines
