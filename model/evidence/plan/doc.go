// Package plan finds how to test some animals so that, if nothing is detected, each of
// them carries a thing with no more than a wanted chance; and says of any such plan what
// it costs, when its answers are known, how likely it is that nothing is detected, and
// how likely that somebody is alarmed for nothing.
//
// The picture is that of package evidence. What a plan promises is what evidence will
// say when its answers have come: there the others of a pool shed at any level, anew in each
// sample. What it costs and how often nothing is detected takes all carriers of a pool at one
// level. The same animals stay in the same pools in all rounds.
//
// What is done when something is detected: of a pool, each animal is sampled singly; of
// an animal, one more sample confirms it. A pool or animal of which that confirms one
// leaves the plan, since all is then asked anew; one of which it confirms none stays in it.
package plan
