package demo

import (
	"fmt"
	"hash/fnv"
	"math"
	"math/rand/v2"
	"time"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/people"
)

// tell lays everything out, animal by animal.
func (s *scenario) tell() error {
	for _, p := range s.around() {
		if err := s.do(people.Add{Person: p}); err != nil {
			return err
		}
	}
	all, err := people.All(s.bench)
	if err != nil {
		return err
	}
	for _, p := range all {
		s.people = append(s.people, p.ID)
	}
	if err := s.build(); err != nil {
		return fmt.Errorf("the house: %w", err)
	}
	for _, r := range s.residents() {
		if err := s.animal(r); err != nil {
			return fmt.Errorf("%s: %w", r.animal.Name, err)
		}
	}
	if err := s.keepClean(); err != nil {
		return fmt.Errorf("cleaning: %w", err)
	}
	if err := s.cleanInVain(); err != nil {
		return fmt.Errorf("a cleaning in vain: %w", err)
	}
	if err := s.test(); err != nil {
		return fmt.Errorf("samples: %w", err)
	}
	if err := s.lookForMites(); err != nil {
		return fmt.Errorf("looks for mites: %w", err)
	}
	if err := s.keepApart(); err != nil {
		return fmt.Errorf("quarantine: %w", err)
	}
	if err := s.detect(); err != nil {
		return fmt.Errorf("a positive: %w", err)
	}
	if err := s.goRound(); err != nil {
		return fmt.Errorf("a round: %w", err)
	}
	if err := s.lightsOut(); err != nil {
		return fmt.Errorf("a power cut: %w", err)
	}
	if err := s.logClimate(); err != nil {
		return fmt.Errorf("the climate: %w", err)
	}
	if err := s.observe(); err != nil {
		return fmt.Errorf("how they are: %w", err)
	}
	if err := s.stock(); err != nil {
		return fmt.Errorf("the freezer: %w", err)
	}
	if err := s.prescribe(); err != nil {
		return fmt.Errorf("a prescription: %w", err)
	}
	return nil
}

// The people of the story that its days name, by their place in around.
const (
	keeper = iota
	standIn
	vet
	night
	lab
)

// around are the people round the animals: who keeps them and who stands in, then
// whom the keeper calls.
func (s *scenario) around() []people.Person {
	person := func(key, phone string, private bool, roles ...people.Role) people.Person {
		p := people.Person{Name: s.say(key), Roles: roles, Private: private}
		if phone != "" {
			p.Phones = []string{phone}
		}
		return p
	}
	practice := person("demo.person.vet", s.phone("114")+" ("+s.say("demo.person.vet.hours")+")", false, people.Vet)
	practice.Address = s.say("demo.person.vet.address")
	return []people.Person{
		person("demo.person.keeper", s.phone("102"), false, people.Hand),
		person("demo.person.stand-in", s.phone("377"), true, people.Sitter, people.Hand),
		practice,
		person("demo.person.night", s.phone("911")+" ("+s.say("demo.person.night.hours")+")", false, people.OutOfHours),
		person("demo.person.lab", s.phone("248"), false, people.Lab),
		person("demo.person.breeder", s.phone("530"), true, people.Breeder),
	}
}

// animal brings one animal in and tells its days.
func (s *scenario) animal(r resident) error {
	a := r.animal
	a.Hatched = model.Date{Day: s.day(r.hatched), Precision: model.ToDay}
	switch {
	case r.hatched > 3000:
		a.Hatched.Precision = model.ToYear
	case r.hatched > 2000:
		a.Hatched.Precision = model.ToMonth
	}
	a.Since = model.Date{Day: s.day(r.came), Precision: model.ToDay}
	a.Length = animals.Measured{SnoutVent: model.Length{Tenths: r.length * 10, Typed: fmt.Sprintf("%d mm", r.length)},
		On: model.Date{Day: s.day(r.gone + 30), Precision: model.ToDay}}
	if r.came < 30 {
		a.Length.On.Day = s.day(r.came)
	}
	if err := s.do(animals.Add{Animal: a}); err != nil {
		return err
	}
	id, err := s.find(a.Name)
	if err != nil {
		return err
	}
	if err := s.settle(id, a.Name); err != nil {
		return err
	}
	if err := s.days(id, r); err != nil {
		return err
	}
	for _, k := range r.checks {
		if err := s.check(id, k); err != nil {
			return err
		}
	}
	for _, n := range r.notes {
		if err := s.do(care.WriteNote{About: s.about(id, n.ago, 19, 30), Note: care.Note{Text: n.text}}); err != nil {
			return err
		}
	}
	if r.gone > 0 {
		return s.do(animals.SetStatus{ID: id, Base: 1, Status: animals.Sold, Day: r.sold(s)})
	}
	return nil
}

func (s *scenario) find(name string) (model.AnimalID, error) {
	all, err := animals.All(s.bench)
	for _, a := range all {
		if a.Name == name {
			return a.ID, nil
		}
	}
	if err == nil {
		err = fmt.Errorf("animal %s: %w", name, model.ErrNotFound)
	}
	return model.AnimalID{}, err
}

func (s *scenario) about(id model.AnimalID, ago, hour, minute int) care.About {
	return care.About{Animal: id, At: s.at(ago, hour, minute), By: s.by(ago)}
}

// by is who was there on a day: the keeper, but for two holidays.
func (s *scenario) by(ago int) model.PersonID {
	if ago > 250 && ago < 270 || ago > 105 && ago < 118 {
		return s.people[standIn]
	}
	return s.people[keeper]
}

// days tells weighings, meals, sheds and droppings from arrival to today.
func (s *scenario) days(id model.AnimalID, r resident) error {
	chance := rand.New(rand.NewPCG(seed(r.animal.Name), 7))
	shed := 30 + chance.IntN(25)
	for ago := r.came - 1; ago > r.gone; ago-- {
		day := r.came - ago
		var acts []model.Command
		if day%r.weighing == 1 {
			acts = append(acts, s.weighing(id, r, ago, chance))
		}
		if day%r.rhythm == 4%r.rhythm {
			acts = append(acts, s.meal(id, r, ago, chance))
		}
		if day%r.rhythm == 9%r.rhythm && day%(3*r.rhythm) > r.rhythm {
			acts = append(acts, care.RecordWaste{About: s.about(id, ago, 8, 20), Waste: care.Waste{Faeces: []care.Trait{care.Formed}, Urates: []care.Trait{care.White}}})
		}
		if shed--; shed == 0 {
			if r.stuckCap == 0 || ago > r.stuckCap+longestShed || ago < r.stuckCap {
				acts = append(acts, s.shedding(id, ago, chance))
			}
			shed = 38 + chance.IntN(longestShed-38)
		}
		if ago == r.stuckCap {
			acts = append(acts, care.RecordShed{About: s.about(id, ago, 7, 45), Shed: care.Shed{Skin: care.InPieces, StuckEyeCaps: care.Yes, StuckTailTip: care.No}})
		}
		for _, act := range acts {
			if err := s.do(act); err != nil {
				return fmt.Errorf("%d days ago: %w", ago, err)
			}
		}
	}
	return nil
}

func seed(name string) uint64 {
	h := fnv.New64a()
	h.Write([]byte(name))
	return h.Sum64()
}

// winter is how deep in its winter fast an animal is on a day, 0 to 1.
func (s *scenario) winter(r resident, ago int) float64 {
	if !r.fasts {
		return 0
	}
	switch _, month, day := s.day(ago).Date(); month {
	case time.November:
		return float64(day) / 120
	case time.December:
		return float64(30+day) / 120
	case time.January:
		return float64(61+day) / 120
	case time.February:
		return float64(92+day) / 120
	}
	return 0
}

// The mass after a clutch, and how many days it takes to come back. Source of the share:
// Ellis and Chappell 1987, J Comp Physiol B (seen: the abstract): a clutch of about 32 % of
// the mass before; of the days: assumed.
const (
	afterClutch = .68
	comesBack   = 200
)

// wanesDaily is what a slow loss costs each day: 0.9 % in 30 days.
const wanesDaily = .0003

// changed is the share of its mass that a clutch or a slow loss has left on a day.
func (r resident) changed(ago int) float64 {
	share := 1.0
	if since := r.laid - ago; since >= 0 && r.laid > 0 {
		share *= 1 - (1-afterClutch)*max(0, 1-float64(since)/comesBack)
	}
	if since := r.wanes - ago; since > 0 && r.wanes > 0 {
		share *= math.Exp(-wanesDaily * float64(since))
	}
	return share
}

// weighing is the mass of a day: grown evenly since it came or until it lost a little all
// the time, less what a winter, a clutch or that costs, and the scale's and the gut's noise.
func (s *scenario) weighing(id model.AnimalID, r resident, ago int, chance *rand.Rand) model.Command {
	grown := float64(r.came-max(ago, r.wanes)) / float64(max(r.came-r.gone, 1))
	grams := r.then + (r.grams-r.then)*math.Pow(grown, .8)
	grams *= r.changed(ago) * (1 - .06*s.winter(r, ago)) * (1 + .008*chance.NormFloat64())
	about := s.about(id, ago, 19, 5)
	about.Confirmed = model.Confirmed{"mass.unlike"} // the clutch
	return care.Weigh{About: about, Heaviest: s.tables.Heaviest(r.animal.Species),
		Weight: care.Weight{Mass: model.Grams(int64(grams + .5)), Gut: care.GutBeforeMeal, With: s.scale(ago, grams)}}
}

// scale is what a mass is weighed on: the small scale as long as it carries it,
// and since it is there.
func (s *scenario) scale(ago int, grams float64) model.InstrumentID {
	return s.house.scale[grams < light && ago < 870]
}

// meal is one offer. Everyone refuses now and then, and some all winter long.
func (s *scenario) meal(id model.AnimalID, r resident, ago int, chance *rand.Rand) model.Command {
	outcome, refuses := care.Took, .06
	if s.winter(r, ago) > 0 {
		refuses = .85
	}
	switch first := r.ateFirst; {
	case ago > first && first > 0:
		refuses = 1
	case ago > first-2*r.rhythm:
		refuses = 0
	}
	if chance.Float64() < refuses {
		outcome = care.Refused
	}
	return care.Feed{About: s.about(id, ago, 20, 10), Meal: care.Meal{
		Prey: r.prey, Size: r.size, Each: model.Grams(r.each), Count: 1, State: care.Thawed, Outcome: outcome,
	}}
}

// shedding is one shed; one in eight comes off in pieces.
func (s *scenario) shedding(id model.AnimalID, ago int, chance *rand.Rand) model.Command {
	shed := care.Shed{Skin: care.Whole, StuckEyeCaps: care.No, StuckTailTip: care.No}
	if chance.IntN(8) == 0 {
		shed = care.Shed{Skin: care.InPieces, StuckEyeCaps: care.No, StuckTailTip: care.NotLooked}
	}
	return care.RecordShed{About: s.about(id, ago, 7, 45), Shed: shed}
}

// phone is a number of a range that is kept free for stories where the language is
// spoken: 01632 960000 to 960999 (Ofcom, telephone numbers for drama use), and
// 030 23125000 to 23125999 (Bundesnetzagentur, numbers for media; from memory).
func (s *scenario) phone(end string) string {
	return s.say("demo.phone") + end
}
