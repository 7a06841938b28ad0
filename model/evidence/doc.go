// Package evidence says what the answers of labs make of the chance that an animal
// carries a thing: as a range, because what it rests on is known as ranges.
//
// One picture of shedding holds for all of it. The cycle at which a sample is found
// differs from animal to animal and from sample to sample of one animal; what is found
// too late is missed. So the second "not detected" of an animal says less than the
// first, and a pool, in which one that has it is diluted, says less than its own sample.
//
// In a pool the animal asked about is at its level, as in its own samples; the others are alike,
// at any level, anew in each pool; and either may be the reason that it is found. So a "not
// detected" of its pool never makes its chance greater than it was from own samples. How the
// others shed is not carried from sample to sample: where they were missed in some and something was
// detected in a pool, a chance may be too low, by some 8 in 100 where they were missed once or twice,
// and by some 20 where they were missed more often or samples of one animal are much alike.
//
// The picture is of this program. It is held against published results where they
// overlap: predictive values for one test (Altman & Bland 1994 BMJ 309:102), discounting
// over time (Martin, Cameron & Greiner 2007 Prev Vet Med 79:71), a beta-binomial, and a
// simulation that shares no code with it.
package evidence
