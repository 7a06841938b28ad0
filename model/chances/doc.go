// Package chances joins animals, samples, quarantines and positives for what samples
// prove of each animal: the chance that it carries a thing, how each sample moved it, what
// it rests on, and what follows.
package chances
