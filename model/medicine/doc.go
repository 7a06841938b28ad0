// Package medicine keeps what a vet has prescribed and what was given of it. It
// proposes no medicine and no dose: every figure is one that the vet wrote. It works
// out the volume of a dose by the weight of the day, says on which days doses are
// planned, and asks where one was missed; it never makes up for one by itself.
package medicine
