// Package animal is one animal's page: its days, its body and its weight, and
// the forms by which a day's entries are noted.
package animal
