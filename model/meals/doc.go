// Package meals tells what one meal of an animal may be like by the tables, asks
// about what lies beyond that, and notes it. It forbids nothing: what the vet says
// goes before every table.
package meals
