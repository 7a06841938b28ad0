// Package newcomers is the place for animals in quarantine: how far each has come,
// what is asked of it and what that rests on, what is to be done next, and its release.
package newcomers
