// Package survey tells what testing a group of animals can find: the sensitivity of a
// sample, the smallest sample that is enough, cut-offs, pools, repeated rounds, the
// chance of freedom over time, and what an apparent prevalence stands for. Functions of
// numbers alone: no result of theirs says that a group is free of anything.
//
// All of them take it that animals are drawn at random, that results do not depend on
// each other but where a function says otherwise, and that sensitivity and specificity
// are those of the test as it is used. Chances and shares are from 0 to 1. The number of
// infected animals that a survey is to find is a whole number: how a share of a small
// group is rounded decides the answer (of 30 animals, one or two infected are 29 or 23
// to be tested), so that it is left to whoever asks. Two figures that differ by no more
// than 1e-12 are the same.
//
// Sources: Cannon & Roe 1982, Livestock disease surveys; MacDiarmid 1988, Preventive
// Veterinary Medicine 6:153; Cameron & Baldock 1998, Preventive Veterinary Medicine 34:1;
// Martin, Cameron & Greiner 2007, Preventive Veterinary Medicine 79:71; Rogan & Gladen
// 1978, American Journal of Epidemiology 107:71; all from memory. The values that
// they are checked against stand in the tests, each with where it was read.
package survey
