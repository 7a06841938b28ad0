package body

// The regions of the head's outside.
const (
	Snout           RegionID = "snout" // tip of the snout, from all sides
	NostrilLeft     RegionID = "nostril.left"
	NostrilRight    RegionID = "nostril.right"
	FaceLeft        RegionID = "face.left" // between nostril and eye
	FaceRight       RegionID = "face.right"
	EyeLeft         RegionID = "eye.left" // eye and spectacle
	EyeRight        RegionID = "eye.right"
	Crown           RegionID = "crown"
	TempleLeft      RegionID = "temple.left" // behind the eye, over the jaw muscle
	TempleRight     RegionID = "temple.right"
	Nape            RegionID = "nape"
	PitsLeft        RegionID = "pits.left" // front upper lip with its heat pits
	PitsRight       RegionID = "pits.right"
	UpperLipLeft    RegionID = "lip-upper.left" // upper lip behind the pits
	UpperLipRight   RegionID = "lip-upper.right"
	LowerLipLeft    RegionID = "lip-lower.left"
	LowerLipRight   RegionID = "lip-lower.right"
	JawLeft         RegionID = "jaw.left"
	JawRight        RegionID = "jaw.right"
	Chin            RegionID = "chin"
	ThroatUnderside RegionID = "throat" // the throat's outside
)

// The regions of the open mouth. Its lips are those of the head.
const (
	UpperGumLeft  RegionID = "gum-upper.left" // gum and teeth
	UpperGumRight RegionID = "gum-upper.right"
	LowerGumLeft  RegionID = "gum-lower.left"
	LowerGumRight RegionID = "gum-lower.right"
	Palate        RegionID = "palate"
	Choana        RegionID = "choana" // the inner nostrils
	CornerLeft    RegionID = "mouth-corner.left"
	CornerRight   RegionID = "mouth-corner.right"
	Gullet        RegionID = "gullet"
	MouthFloor    RegionID = "mouth-floor"
	Glottis       RegionID = "glottis" // the opening of the windpipe
	TongueSheath  RegionID = "tongue"  // tongue and sheath
)

// The regions of the trunk, zone by zone, and of the tail. Where a zone has four
// sides they are .left, .back, .right and .belly.
const (
	NeckLeft        RegionID = "neck.left"
	NeckBack        RegionID = "neck.back"
	NeckRight       RegionID = "neck.right"
	NeckBelly       RegionID = "neck.belly"
	ForeLeft        RegionID = "fore.left"
	ForeBack        RegionID = "fore.back"
	ForeRight       RegionID = "fore.right"
	ForeBelly       RegionID = "fore.belly"
	UpperMidLeft    RegionID = "upper-mid.left"
	UpperMidBack    RegionID = "upper-mid.back"
	UpperMidRight   RegionID = "upper-mid.right"
	UpperMidBelly   RegionID = "upper-mid.belly"
	LowerMidLeft    RegionID = "lower-mid.left"
	LowerMidBack    RegionID = "lower-mid.back"
	LowerMidRight   RegionID = "lower-mid.right"
	LowerMidBelly   RegionID = "lower-mid.belly"
	HindLeft        RegionID = "hind.left"
	HindBack        RegionID = "hind.back"
	HindRight       RegionID = "hind.right"
	HindBelly       RegionID = "hind.belly"
	BeforeVentLeft  RegionID = "before-vent.left"
	BeforeVentBack  RegionID = "before-vent.back"
	BeforeVentRight RegionID = "before-vent.right"
	BeforeVentBelly RegionID = "before-vent.belly"
	Vent            RegionID = "vent"
	SpurLeft        RegionID = "spur.left" // beside the vent
	SpurRight       RegionID = "spur.right"
	TailBaseLeft    RegionID = "tail-base.left"
	TailBaseBack    RegionID = "tail-base.back"
	TailBaseRight   RegionID = "tail-base.right"
	TailBaseBelly   RegionID = "tail-base.belly"
	TailLeft        RegionID = "tail.left"
	TailBack        RegionID = "tail.back"
	TailRight       RegionID = "tail.right"
	TailBelly       RegionID = "tail.belly"
	TailTip         RegionID = "tail-tip"
)

// Regions are the ids of all regions, from snout to tail tip, the mouth's after
// the head's.
func Regions() []RegionID {
	return []RegionID{
		Snout, NostrilLeft, NostrilRight, FaceLeft, FaceRight, EyeLeft, EyeRight, Crown,
		TempleLeft, TempleRight, Nape, PitsLeft, PitsRight, UpperLipLeft, UpperLipRight,
		LowerLipLeft, LowerLipRight, JawLeft, JawRight, Chin, ThroatUnderside,
		UpperGumLeft, UpperGumRight, LowerGumLeft, LowerGumRight, Palate, Choana,
		CornerLeft, CornerRight, Gullet, MouthFloor, Glottis, TongueSheath,
		NeckLeft, NeckBack, NeckRight, NeckBelly, ForeLeft, ForeBack, ForeRight, ForeBelly,
		UpperMidLeft, UpperMidBack, UpperMidRight, UpperMidBelly,
		LowerMidLeft, LowerMidBack, LowerMidRight, LowerMidBelly,
		HindLeft, HindBack, HindRight, HindBelly,
		BeforeVentLeft, BeforeVentBack, BeforeVentRight, BeforeVentBelly,
		Vent, SpurLeft, SpurRight,
		TailBaseLeft, TailBaseBack, TailBaseRight, TailBaseBelly,
		TailLeft, TailBack, TailRight, TailBelly, TailTip,
	}
}

// Views are the six drawings.
func Views() []ViewID {
	return []ViewID{Above, Underside, HeadAbove, HeadLeft, HeadRight, OpenMouth}
}
