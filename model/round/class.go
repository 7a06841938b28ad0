// Package round knows in which order the animals of a house are gone through,
// so that what one may carry does not reach the next.
package round

import (
	"coilward/model"
	"coilward/model/knowledge"
)

// Class is what an animal counts as on a round. Its text is "round.class." +
// String.
type Class uint8

// The classes, in the order in which the shelf shows them; in which order they are
// served is chosen (knowledge.RoundOrder).
const (
	Resident     Class = iota // nothing of the others is known
	LookAgain                 // something that stands at look again: an open problem, or a loss of weight; or it was chilled
	NearPositive              // in an open trace of a positive, or watched for mites, or in a room that one of them lives in or left
	Newcomer                  // came from elsewhere not long ago
	Ill                       // a matter for the vet, such as mites that stand, or an open detected
)

// Classes are all of them, in their order.
func Classes() []Class { return []Class{Resident, LookAgain, NearPositive, Newcomer, Ill} }

// String is the class's frozen name.
func (c Class) String() string {
	return [...]string{"resident", "look-again", "near-positive", "newcomer", "ill"}[c]
}

// Facts are what the class of one animal follows from.
type Facts struct {
	Level        knowledge.Level // of the most urgent that stands
	ForVet       bool            // something that raises no level is a matter for the vet
	Lighter      bool            // a loss of weight, which raises no level either, is at look again
	Chilled      model.Day       // on which a power cut ended that chilled it, and no answer speaks for that; 0: none
	MiteWatch    bool            // the watch for mites that were seen on it is not over
	Detected     bool            // an open result
	Newcomer     bool            // came from elsewhere not long ago
	NearPositive bool            // in an open trace
	NearMites    model.Day       // on which the mites were last seen that are watched for in its room; 0: none are
}

// All are the classes that apply, in their order; never none.
func (f Facts) All() (all []Class) {
	for _, c := range []struct {
		class   Class
		applies bool
	}{
		{LookAgain, f.Level == knowledge.LookAgain || f.Lighter || f.Chilled != 0}, {NearPositive, f.NearPositive || f.MiteWatch || f.NearMites != 0}, {Newcomer, f.Newcomer},
		{Ill, f.Level >= knowledge.VetWithinDays || f.ForVet || f.Detected},
	} {
		if c.applies {
			all = append(all, c.class)
		}
	}
	if len(all) == 0 {
		return []Class{Resident}
	}
	return all
}

// Class is the one that rules: of all that apply the last in their order.
func (f Facts) Class() Class {
	all := f.All()
	return all[len(all)-1]
}
