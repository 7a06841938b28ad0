package demo

import (
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
)

// resident is one animal of the story, with what its days are like.
type resident struct {
	animal   animals.Animal
	hatched  int     // days ago; 0: not known
	came     int     // days ago
	grams    float64 // now, between two meals
	then     float64 // when its records here begin
	prey     care.Prey
	size     care.PreySize
	each     int64 // grams of prey
	rhythm   int   // days between two offers
	fasts    bool  // refuses from November to February
	ateFirst int   // days ago: refused everything until then, and took the next ones; 0: ate from the first
	gone     int   // days ago; 0: still here
	laid     int   // days ago: laid a clutch, and lost about a third of its mass; 0: none
	wanes    int   // days ago since when it loses a little all the time; 0: it does not
	weighing int   // days between two weighings
	length   int64 // millimetres from snout to vent
	checks   []walk
	notes    []remark
	stuckCap int // days ago of a shed that left an eye cap; 0: none did
}

// clutch is how many days ago Bramble laid hers.
const clutch = 405

// stuckCap is how many days ago Teasel's last shed was, longestShed how many days
// lie between two sheds at the most.
const (
	stuckCap    = 7
	longestShed = 66
)

// remark is a note of a day.
type remark struct {
	ago  int
	text string
}

// chip is an ISO 11784 number: 900 stands for a maker that is not named here.
func chip(digits string) animals.Chip {
	return animals.Chip{Digits: digits, Standard: animals.ChipISO, Site: animals.SiteNeck}
}

// residents are the animals of the lock house.
func (s *scenario) residents() []resident {
	female, male := animals.Female, animals.Male
	regius := func(name, code string, sex animals.Sex, how animals.SexHow, morph string, ground, markings uint8) animals.Animal {
		return animals.Animal{Name: name, Code: code, Species: "python-regius", Sex: sex, SexHow: how, Morph: morph,
			Source: animals.SourceBred, Origin: s.say("demo.origin"), Coat: animals.Coat{Ground: ground, Markings: markings}, Status: animals.Kept}
	}
	bramble := regius("Bramble", "L-01", female, animals.HowLaid, s.say("demo.morph.wild"), 0, 0)
	bramble.Chip, bramble.From = chip("900032001774205"), s.say("demo.from")
	bramble.Permits = s.say("demo.permits.bred")
	heron := regius("Heron", "L-06", male, animals.HowProbed, s.say("demo.morph.wild"), 5, 0)
	heron.Source, heron.Origin, heron.From = animals.SourceNone, "", s.say("demo.from.cellar")
	linnet := regius("Linnet", "L-07", female, animals.HowProbed, s.say("demo.morph.piebald"), 6, 1)
	linnet.Origin, linnet.From = "", s.say("demo.from")
	yarrow := regius("Yarrow", "L-11", female, animals.HowProbed, "", 5, 2)
	yarrow.Species, yarrow.Origin, yarrow.From = "morelia-spilota", "", s.say("demo.from.show")
	yarrow.Permits = s.say("demo.permits.show")
	wigeon := regius("Wigeon", "L-12", male, animals.HowBreeder, s.say("demo.morph.wild"), 2, 0)
	wigeon.Origin, wigeon.From = "", s.say("demo.from.show")
	plover := regius("Plover", "L-09", animals.SexUnknown, animals.HowUnknown, s.say("demo.morph.fire"), 1, 5)
	plover.Origin, plover.From = "", s.say("demo.from")
	return []resident{
		{animal: bramble, hatched: 2410, came: 1020, grams: 1610, then: 1480, prey: care.Rat, size: care.Medium, each: 110, rhythm: 14, laid: clutch, weighing: 14, length: 1215, checks: s.brambleChecks()},
		{animal: regius("Kestrel", "L-02", male, animals.HowProbed, s.say("demo.morph.pastel"), 1, 1), hatched: 1870, came: 1010, grams: 1090, then: 690, prey: care.Rat, size: care.SmallAdult, each: 70, rhythm: 12, fasts: true, weighing: 14, length: 1040, checks: s.kestrelChecks()},
		{animal: regius("Juniper", "L-03", female, animals.HowProbed, s.say("demo.morph.wild"), 2, 2), notes: []remark{{1, s.say("demo.note.lump-vet")}}, hatched: 1720, came: 980, grams: 1420, then: 760, prey: care.Rat, size: care.SmallAdult, each: 80, rhythm: 12, weighing: 14, length: 1150, checks: s.juniperChecks()},
		{animal: regius("Mallow", "L-04", female, animals.HowBreeder, s.say("demo.morph.albino"), 3, 3), hatched: 1400, came: 900, grams: 1240, then: 430, prey: care.Rat, size: care.SmallAdult, each: 75, rhythm: 11, wanes: 190, weighing: 14, length: 1080, checks: s.mallowChecks()},
		{animal: regius("Teasel", "L-05", male, animals.HowPopped, s.say("demo.morph.clown"), 4, 4), hatched: 1130, came: 860, grams: 840, then: 210, prey: care.Mouse, size: care.Large, each: 35, rhythm: 10, fasts: true, weighing: 14, length: 930, checks: s.teaselChecks(), stuckCap: stuckCap},
		{animal: heron, hatched: 4300, came: 700, grams: 1350, then: 870, notes: []remark{{699, s.say("demo.note.rescue")}, {664, s.say("demo.note.first-meal")}}, ateFirst: 664, prey: care.Rat, size: care.Medium, each: 95, rhythm: 16, fasts: true, weighing: 28, length: 1130, checks: s.heronChecks()},
		{animal: linnet, hatched: 640, came: 540, grams: 560, then: 120, prey: care.Mouse, size: care.Medium, each: 25, rhythm: 8, weighing: 7, length: 760, checks: s.linnetChecks()},
		{animal: animals.Animal{Name: "Sorrel", Code: "L-08", Species: "antaresia-childreni", Sex: male, SexHow: animals.HowProbed, Source: animals.SourceBred, Coat: animals.Coat{Ground: 4, Markings: 0}, Status: animals.Kept},
			hatched: 1500, came: 620, grams: 385, then: 330, prey: care.Mouse, size: care.SmallAdult, each: 18, rhythm: 10, weighing: 14, length: 720, checks: s.sorrelChecks(), notes: []remark{{1, s.say("demo.note.vet")}}},
		{animal: plover, hatched: 330, came: 23, grams: 265, then: 255, prey: care.Mouse, size: care.Weaner, each: 14, rhythm: 7, weighing: 7, length: 590, checks: s.ploverChecks(), notes: []remark{{23, s.say("demo.note.arrival")}, {21, s.say("demo.note.mites-vet")}}},
		{animal: yarrow, hatched: 690, came: 75, grams: 705, then: 640, prey: care.Rat, size: care.Weaner, each: 40, rhythm: 10, weighing: 7, length: 1120, checks: s.yarrowChecks()},
		{animal: wigeon, hatched: 410, came: 33, grams: 330, then: 318, prey: care.Mouse, size: care.Medium, each: 20, rhythm: 7, weighing: 7, length: 640, checks: s.wigeonChecks()},
		{animal: func() animals.Animal {
			a := regius("Thistle", "L-10", male, animals.HowProbed, s.say("demo.morph.spider"), 2, 6)
			return a
		}(), hatched: 1300, came: 880, grams: 910, then: 350, prey: care.Rat, size: care.SmallAdult, each: 55, rhythm: 12, weighing: 14, length: 980, gone: 95, checks: s.thistleChecks()},
	}
}

// sold is when and how the animal that is no longer here left.
func (r resident) sold(s *scenario) model.Date {
	return model.Date{Day: s.day(r.gone), Precision: model.ToDay}
}
