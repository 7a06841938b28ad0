package husbandry

import (
	"coilward/model"
	"coilward/model/knowledge"
)

// KindCleaning is the kind of the entry of a cleaning; its subjects are the
// places and tools that were cleaned. The value is frozen.
const KindCleaning = "cleaning"

// Cleaning is the body of an entry: how far it went, with what and against what.
type Cleaning struct {
	Extent CleanExtent `json:"extent"`
	// Uses are the means in the order in which they were used; none: not said.
	Uses []Use `json:"uses,omitempty"`
	// Against is what it was to work on; none: nothing in particular.
	Against []knowledge.TargetID `json:"against,omitempty"`
	// Said is what the tables of that day said of each, and Tables is their hash.
	Said   []Worked        `json:"said,omitempty"`
	Tables string          `json:"tables,omitempty"`
	Note   string          `json:"note,omitempty"`
	Photos []model.PhotoID `json:"photos,omitempty"`
}

// CleanExtent is how far a cleaning went. Values are frozen; the text is
// "husbandry.extent." + value.
type CleanExtent string

// The extents, smallest first.
const (
	Spot      CleanExtent = "spot"      // droppings, wet substrate
	BowlOnly  CleanExtent = "bowl"      // the water bowl
	Full      CleanExtent = "full"      // emptied, all of it cleaned
	Substrate CleanExtent = "substrate" // the substrate changed, nothing disinfected
)

// CleanExtents are the extents in the order in which they are offered.
func CleanExtents() []CleanExtent { return []CleanExtent{Spot, BowlOnly, Substrate, Full} }

// Use is one means and how long it was left to act on a wet surface.
type Use struct {
	Means   knowledge.MeansID `json:"means"`
	Minutes int               `json:"minutes,omitempty"` // 0: not said
}

// Worked is what the tables say of a use against a target.
type Worked struct {
	Means  knowledge.MeansID  `json:"means"`
	Target knowledge.TargetID `json:"target"`
	Does   Does               `json:"does"`
	// Needs is the contact time that is asked for, in minutes; 0: none is known.
	Needs int `json:"needs,omitempty"`
	// Source is the row's own.
	Source string `json:"source,omitempty"`
}

// Does is what a means does against a target. Values are frozen; the text is
// "husbandry.does." + value.
type Does string

// What a means can do.
const (
	DoesWork    Does = "works"
	DoesPartly  Does = "partly"    // some of it is left; the source says how much
	TooShort    Does = "too-short" // it would work, but was left for less than the table asks
	TimeUnsaid  Does = "time"      // it would work; how long it was left is not said
	DoesNot     Does = "does-not"
	NothingSaid Does = "unknown" // the tables say nothing of it
)
