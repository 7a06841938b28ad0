package body

// Part is the part of the animal a place lies on. Values are frozen.
type Part string

// The parts.
const (
	Trunk Part = "trunk" // snout to vent
	Tail  Part = "tail"  // behind the vent
	Head  Part = "head"  // the head's outside, on one of its three views
	Mouth Part = "mouth" // inside the open mouth
)

// ViewID names one of the six drawings. Values are frozen.
type ViewID string

// The six views.
const (
	Above     ViewID = "above"      // whole animal from above
	Underside ViewID = "underside"  // whole animal from below, mirrored as it is seen
	HeadAbove ViewID = "head-above" //
	HeadLeft  ViewID = "head-left"  // the animal's left
	HeadRight ViewID = "head-right" // the animal's right
	OpenMouth ViewID = "mouth"
)

// RegionID names a region of the body, the same in every view that shows it.
// Values are frozen.
type RegionID string

// Place is a place on the animal, independent of any drawing. On the trunk it is
// the share of snout–vent length and the angle round the body; on the tail the
// share of the tail and the angle; on head and mouth the view and a point in it.
type Place struct {
	Part   Part     `json:"part"`
	Along  int      `json:"along,omitempty"` // trunk: hundredths of a percent of snout–vent length, 0–10000; tail: of the tail
	Angle  int      `json:"angle,omitempty"` // degrees: 0 back, +90 left flank, −90 right flank, 180 belly; −179–180
	View   ViewID   `json:"view,omitempty"`  // head and mouth only
	X      int      `json:"x,omitempty"`     // head and mouth: ten-thousandths of the view's width, 0–10000
	Y      int      `json:"y,omitempty"`     // head and mouth: ten-thousandths of the view's height
	Region RegionID `json:"region"`
}
