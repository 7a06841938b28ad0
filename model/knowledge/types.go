package knowledge

import (
	"fmt"
	"strconv"
	"strings"

	"coilward/model"
	"coilward/model/body"
)

// StopID names a stop of the check, such as "mouth". Its text is "stop." + id.
type StopID string

// FindingID names what may be found at a stop. Its text is "finding." + id.
type FindingID string

// RuleID names a row of the urgency table. Its text is "reason." + id.
type RuleID string

// ClusterID names findings that count together, such as those of the airway.
type ClusterID string

// Breathing is the cluster of what tells of the airways.
const Breathing ClusterID = "breathing"

// SpeciesID names a species profile. Its text is "species." + id.
type SpeciesID string

// ValueID names a number behind a rule.
type ValueID string

// Other is the finding "something else", which every stop has.
const Other FindingID = "other"

// Regurgitated is prey that came back up; the rules count how often.
const Regurgitated FindingID = "regurgitated"

// StuckEyeCap is an eye cap that stayed on after a shed; the rules count sheds.
const StuckEyeCap FindingID = "stuck-eye-cap"

// Thin is that the spine stands out; a fast of such an animal is judged more strictly.
const Thin FindingID = "thin"

// Rest is the stop before the animal is touched; Waste is no stop of the walk
// but what is noted of faeces and urates.
const (
	Rest  StopID = "rest"
	Waste StopID = "waste"
)

// Way is how a stop is looked at when nothing is found there. Values are frozen.
type Way string

// The ways.
const (
	Seen Way = "seen"
	Felt Way = "felt"
	// Opened is the mouth: clear only when said so, since passing on means that
	// it was not opened.
	Opened Way = "opened"
	// Noted is no stop of the walk: its findings are noted in an entry.
	Noted Way = "noted"
)

// Stop is one station of the check from snout to tail tip.
type Stop struct {
	ID      StopID
	Way     Way
	Regions []body.RegionID // where it looks; none: the whole animal
	Choices []FindingID     // the first is key 1; at most nine, the last is Other
	Source  string
}

// Finding is one thing that may be found.
type Finding struct {
	ID       FindingID
	Measured bool // a size is worth having
	Pictured bool // a photo is worth having
	Baseline bool // may be this animal's own from the start, and is then quiet until worse
	Source   string
}

// Level is how urgent something is; a higher one is more urgent.
type Level uint8

// The levels, lowest first. Nothing is the level of a check without a finding.
const (
	Nothing Level = iota
	NoAction
	LookAgain
	VetWithinDays
	EmergencyToday
)

func levelNames() [5]string {
	return [5]string{"", "no-action", "look-again", "vet-within-days", "emergency-today"}
}

// String is the level's frozen id, whose text is "urgency." + id; empty for Nothing.
func (l Level) String() string {
	if names := levelNames(); int(l) < len(names) {
		return names[l]
	}
	return strconv.Itoa(int(l))
}

// MarshalText writes the level's id.
func (l Level) MarshalText() ([]byte, error) { return []byte(l.String()), nil }

// UnmarshalText reads a level's id.
func (l *Level) UnmarshalText(text []byte) error {
	for i, name := range levelNames() {
		if name == string(text) {
			*l = Level(i)
			return nil
		}
	}
	return fmt.Errorf("read level %q: want no-action, look-again, vet-within-days or emergency-today", text)
}

// Condition is a circumstance that a rule asks for. Values are frozen. In the
// table a condition may stand with "not-" before it.
type Condition string

// The conditions. Those of the finding itself ask how it stands; the others ask
// for the circumstances that are given with the check. What is not known does
// not hold, but for Small and Young.
const (
	InShed             Condition = "in-shed"
	AfterMeal          Condition = "after-meal" // within ValueAfterMeal of the last meal
	Fed                Condition = "fed"        // within ValueFed of the last meal
	Gravid             Condition = "gravid"
	Cold               Condition = "cold"                // body measured under ValueCold
	Young              Condition = "young"               // hatchling or juvenile; of unknown age: under ValueYoungMass, or of unknown mass
	Small              Condition = "small"               // under ValueSmall, or of unknown mass
	LosingWeight       Condition = "losing-weight"       //
	RegurgitatedLately Condition = "regurgitated-lately" // once already within ValueRegurgitation

	Baseline         Condition = "baseline"           // this animal's own since it is known
	Worse            Condition = "worse"              // than at the last look
	KeptTwoSheds     Condition = "kept-two-sheds"     // still there, or there again, after a second shed
	DiffersFromPhoto Condition = "differs-from-photo" // from this animal's own earlier photo
	SeenBefore       Condition = "seen-before"        // not new
	KnownOld         Condition = "known-old"          // known not to be fresh
)

// Conditions lists every condition that a rule may ask for.
func Conditions() []Condition {
	return []Condition{InShed, AfterMeal, Fed, Gravid, Cold, Young, Small, LosingWeight, RegurgitatedLately,
		Baseline, Worse, KeptTwoSheds, DiffersFromPhoto, SeenBefore, KnownOld}
}

// Clause is one condition of a rule, or that it does not hold.
type Clause struct {
	Condition Condition
	Not       bool
}

// Rule is one row of the urgency table: it speaks when at least Count findings
// of one day match it, each at one of Stops (none: any stop), one of Findings (none: any),
// at least that grade and under every clause of When, and when With is
// empty or one of With is found too.
type Rule struct {
	ID       RuleID
	Stops    []StopID
	Findings []FindingID
	Grade    int // 1 slight, 2 marked, 3 severe
	Count    int
	With     []FindingID
	When     []Clause
	Level    Level
	Again    int   // days until to look again; 0 for no such day
	Today    bool  // look again on the very day
	IfWorse  Level // what it becomes if it gets worse; Nothing where that is not said
	Isolate  bool  // keep the animal apart from the others
	Source   string
}

// Value is one number behind a rule.
type Value struct {
	ID     ValueID
	Number int
	Unit   string
	Source string
}

// Assumed reports whether the number is a choice of this program, and neither
// published nor common practice.
func (v Value) Assumed() bool { return assumed(v.Source) }

// rests is the number that a condition asks, if it asks one.
func (c Condition) rests() (ValueID, bool) {
	id, ok := map[Condition]ValueID{
		AfterMeal: ValueAfterMeal, Fed: ValueFed, Cold: ValueCold, Young: ValueYoungMass, Small: ValueSmall,
		LosingWeight: ValueLosing, RegurgitatedLately: ValueRegurgitation,
	}[c]
	return id, ok
}

// The numbers that the tables must hold.
const (
	ValueBriefLook     ValueID = "brief-look"    // seconds
	ValueVetWithin     ValueID = "vet-within"    // days
	ValueAfterMeal     ValueID = "after-meal"    // minutes
	ValueFed           ValueID = "fed"           // days
	ValueCold          ValueID = "cold"          // hundredths of a degree Celsius
	ValueSmall         ValueID = "small-snake"   // grams
	ValueRegurgitation ValueID = "regurgitation" // days

	ValueYoungMass ValueID = "young-mass" // grams: of unknown age and lighter is young
	ValueHatchling ValueID = "hatchling"  // days: the oldest hatchling
	ValueJuvenile  ValueID = "juvenile"   // days: the oldest juvenile
	ValueSubadult  ValueID = "subadult"   // days: the oldest subadult

	ValueLosing        ValueID = "losing"         // percent below the median of earlier weights: losing weight
	ValueLosingSingle  ValueID = "losing-single"  // percent below the heaviest of few: a matter for the vet; of a single weight below many: weigh again
	ValueLosingVet     ValueID = "losing-vet"     // percent below it: a matter for the vet
	ValueLosingLast    ValueID = "losing-last"    // days of which the newest weights are
	ValueLosingFrom    ValueID = "losing-from"    // days before the last weight: the newest compared with
	ValueLosingTo      ValueID = "losing-to"      // days before the last weight: the oldest compared with
	ValueLosingWeights ValueID = "losing-weights" // weights: the fewest to compare with

	ValueLosingFar     ValueID = "losing-far"      // days before the last weight: the oldest of few
	ValueLosingFast    ValueID = "losing-fast"     // percent lost in a fast of an adult: look again
	ValueLosingFastVet ValueID = "losing-fast-vet" // percent lost in such a fast: a matter for the vet
	ValueFastLost      ValueID = "fast-lost"       // tenths of a percent that were lost in a measured fast
	ValueFastLostIn    ValueID = "fast-lost-in"    // days of it
	ValueStarvingFrom  ValueID = "starving-from"   // days after the last meal from which on it is counted
	ValueFastMargin    ValueID = "fast-margin"     // percent of the measured rate that a fast is judged by
	ValueWeighLosing   ValueID = "weigh-losing"    // days to the next weighing of one that loses weight
	ValueYoungFall     ValueID = "young-fall"      // percent lost in two falls running: a matter for the vet
	ValueYoungFalling  ValueID = "young-falling"   // days within which the weights of such falls lie

	ValueTrendWeights ValueID = "trend-weights" // weights: the fewest, of different days, that make a trend
	ValueTrendDays    ValueID = "trend-days"    // days that they span at least
	ValueSlowChance   ValueID = "slow-chance"   // in ten thousand: the chance of so clear a fall at which a slow one is told
	ValueSlowLost     ValueID = "slow-lost"     // percent that it has cost at least

	ValueOxygen       ValueID = "oxygen"        // thousandths of a millilitre of oxygen that a gram takes up in an hour at 0 degrees
	ValueOxygenMass   ValueID = "oxygen-mass"   // hundredths: the power of the mass
	ValueOxygenWarmth ValueID = "oxygen-warmth" // thousandths: the power of ten by degree
	ValueOxygenEnergy ValueID = "oxygen-energy" // tenths of a joule of a millilitre of oxygen
	ValueGramLeast    ValueID = "gram-least"    // kilojoules that a lost gram gave at the least
	ValueGramMost     ValueID = "gram-most"     // kilojoules that a lost gram gave at the most
	ValueFastRate     ValueID = "fast-rate"     // percent of the metabolic rate to which it falls in a fast
	ValueFastWarmth   ValueID = "fast-warmth"   // hundredths of a degree: of a fasting animal

	ValueAlikeDays    ValueID = "alike-days"    // days between two weights that tell whether the scale changed
	ValueAlikeAnimals ValueID = "alike-animals" // animals weighed on one day at least
	ValueAlikeNear    ValueID = "alike-near"    // percent around the middle of the changes
	ValueAlikeFrom    ValueID = "alike-from"    // percent that the middle changed at least
	ValueAlikeMost    ValueID = "alike-most"    // percent of the animals that changed alike

	ValueVetWord        ValueID = "vet-word"         // days that what is gone goes on asking for the vet
	ValueRestAfterMeal  ValueID = "rest-after-meal"  // hours
	ValueRestAfterLarge ValueID = "rest-after-large" // hours
	ValueLargeMeal      ValueID = "large-meal"       // percent of the body mass; more is large
	ValueSecondPerson   ValueID = "second-person"    // grams: of this mass or more is handled by two people

	ValueCheckBy       ValueID = "check-by"        // days from one check to the next
	ValueShedLook      ValueID = "shed-look"       // days after a shed
	ValueWaitBroughtUp ValueID = "wait-brought-up" // days without an offer
	ValueFastFrom      ValueID = "fast-from"       // days without a meal kept
	ValueWeighFasting  ValueID = "weigh-fasting"   // days
	ValueYoungUnfed    ValueID = "young-unfed"     // days without a meal kept
	ValueAnswerVet     ValueID = "answer-vet"      // days that an answer about a matter for the vet stands
	ValueAnswerLook    ValueID = "answer-look"     // days that one about a look stands
	ValueAnswerLater   ValueID = "answer-later"    // days: the longest that anything else can be put off

	ValueAnswerWarmth ValueID = "answer-warmth" // days that an answer about a failed thermometer or thermostat stands

	ValueCleanTub         ValueID = "clean-tub"         // days from one full clean to the next
	ValueCleanVivarium    ValueID = "clean-vivarium"    // days
	ValueCleanEnclosure   ValueID = "clean-enclosure"   // days
	ValueCheckScale       ValueID = "check-scale"       // days from one check to the next
	ValueCheckThermometer ValueID = "check-thermometer" // days
	ValueCheckThermostat  ValueID = "check-thermostat"  // days
	ValueCheckHygrometer  ValueID = "check-hygrometer"  // days
	ValueReplaceUVLamp    ValueID = "replace-uv-lamp"   // days of use

	ValueLookSpeck ValueID = "look-speck" // days from a speck that may be a mite to the next look
	ValueLookMites ValueID = "look-mites" // days from mites to the next look
	ValueMiteWatch ValueID = "mite-watch" // days from the last mites that they are watched for

	ValueMiteWatchCool ValueID = "mite-watch-cool" // days, where it is cool or not known how warm it is
	ValueMiteCool      ValueID = "mite-cool"       // hundredths of a degree Celsius: below it is cool
	ValueMiteGap       ValueID = "mite-gap"        // days from one look without mites to the next, at the most
	ValueMiteApart     ValueID = "mite-apart"      // days between looks without mites, at the least

	ValueNewcomer ValueID = "newcomer" // days that an animal that came from elsewhere counts as one

	ValueArrivalBy      ValueID = "arrival-by"      // days within which what is done on arrival is done
	ValueWeighNewcomer  ValueID = "weigh-newcomer"  // days from one weighing to the next
	ValueSwabFrom       ValueID = "swab-from"       // days after the arrival: the first swab is no sooner
	ValueSwabBy         ValueID = "swab-by"         // days after the arrival: the first swab is no later
	ValueFaecalFrom     ValueID = "faecal-from"     // days after the arrival: the first faecal sample
	ValueQuarantineLeft ValueID = "quarantine-left" // days: so soon before its end, the end is told

	ValueDoseWeightOld   ValueID = "dose-weight-old"   // days: older weights are taken again before a dose
	ValueDoseWeightApart ValueID = "dose-weight-apart" // percent of change that makes a fixed volume a question
	ValueDoseMost        ValueID = "dose-most"         // millilitres per kilogram: more is asked about
	ValueDoseSmallest    ValueID = "dose-smallest"     // microlitres that can be measured
	ValueDoseMark        ValueID = "dose-mark"         // microlitres from mark to mark of the small syringe
	ValueDoseMarkLarge   ValueID = "dose-mark-large"   // microlitres from mark to mark of larger ones
	ValueDoseSyringe     ValueID = "dose-syringe"      // microlitres that the small syringe holds
	ValueDoseSite        ValueID = "dose-site"         // percent of the body: an injection behind it is asked about
)

// Values lists the numbers that the tables must hold.
func Values() []ValueID {
	return []ValueID{ValueBriefLook, ValueVetWithin, ValueAfterMeal, ValueFed, ValueCold, ValueSmall, ValueRegurgitation,
		ValueYoungMass, ValueHatchling, ValueJuvenile, ValueSubadult,
		ValueLosing, ValueLosingSingle, ValueLosingVet, ValueLosingLast, ValueLosingFrom, ValueLosingTo, ValueLosingWeights,
		ValueLosingFar, ValueLosingFast, ValueLosingFastVet, ValueFastLost, ValueFastLostIn, ValueStarvingFrom, ValueFastMargin, ValueWeighLosing, ValueYoungFall, ValueYoungFalling,
		ValueTrendWeights, ValueTrendDays, ValueSlowChance, ValueSlowLost,
		ValueOxygen, ValueOxygenMass, ValueOxygenWarmth, ValueOxygenEnergy, ValueGramLeast, ValueGramMost, ValueFastRate, ValueFastWarmth,
		ValueAlikeDays, ValueAlikeAnimals, ValueAlikeNear, ValueAlikeFrom, ValueAlikeMost,
		ValueVetWord, ValueRestAfterMeal, ValueRestAfterLarge, ValueLargeMeal, ValueSecondPerson,
		ValueCheckBy, ValueShedLook, ValueWaitBroughtUp, ValueFastFrom, ValueWeighFasting, ValueYoungUnfed,
		ValueAnswerVet, ValueAnswerLook, ValueAnswerLater, ValueAnswerWarmth,
		ValueCleanTub, ValueCleanVivarium, ValueCleanEnclosure, ValueCheckScale, ValueCheckThermometer, ValueCheckThermostat, ValueCheckHygrometer,
		ValueReplaceUVLamp, ValueLookSpeck, ValueLookMites, ValueNewcomer,
		ValueArrivalBy, ValueWeighNewcomer, ValueSwabFrom, ValueSwabBy, ValueFaecalFrom, ValueQuarantineLeft,
		ValueMiteWatch, ValueMiteWatchCool, ValueMiteCool, ValueMiteGap, ValueMiteApart,
		ValueDoseWeightOld, ValueDoseWeightApart, ValueDoseMost, ValueDoseSmallest, ValueDoseMark, ValueDoseMarkLarge, ValueDoseSyringe, ValueDoseSite}
}

// Species is the profile of a species or of a group of them.
type Species struct {
	ID       SpeciesID
	Latin    string     // empty for a group
	Heaviest model.Mass // above it a typed mass is refused
	Source   string
}

// Assumed reports whether the heaviest mass is a choice of this program.
func (s Species) Assumed() bool { return assumed(s.Source) }

func assumed(source string) bool { return strings.HasPrefix(source, "assumed") }
