// Package plan is the place in which tests are planned: three answers that need no search,
// then the search, cost against days.
package plan
