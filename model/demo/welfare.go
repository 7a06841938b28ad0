package demo

import (
	"math/rand/v2"

	"coilward/model"
	"coilward/model/knowledge"
	"coilward/model/welfare"
)

const (
	leftAlone = 63 // days since Linnet is not lifted every day any more
	secondHut = 19 // days since Kestrel has a second hide
)

// observe tells how two of the animals are. Linnet was lifted nearly every day and was uneasy
// when looked at; since she is left alone she eases. Kestrel has a second hide for too short a
// time to say.
func (s *scenario) observe() error {
	linnet, err := s.find("Linnet")
	if err != nil {
		return err
	}
	kestrel, err := s.find("Kestrel")
	if err != nil {
		return err
	}
	for _, act := range []func(model.AnimalID) error{s.uneasy, s.lifted, s.breathing} {
		if err := act(linnet); err != nil {
			return err
		}
	}
	if err := s.do(welfare.Try{About: s.about(linnet, leftAlone, 20, 0), Change: welfare.Change{What: s.say("demo.ease.left-alone"), Setting: knowledge.Untouched, Hoped: welfare.LessUnease, AfterBad: true}}); err != nil {
		return err
	}
	return s.hiding(kestrel)
}

// uneasy are looks into the box without touching it, every other day or so.
func (s *scenario) uneasy(of model.AnimalID) error {
	chance := rand.New(rand.NewPCG(seed("Linnet"), 31))
	unease := []knowledge.SignID{"hissing", "s-neck", "restless"}
	for ago := leftAlone + 70; ago > 0; ago -= 1 + chance.IntN(3) {
		seen := welfare.Observation{Setting: knowledge.Untouched}
		if before := ago > leftAlone; before {
			seen.Signs = unease[:1+chance.IntN(len(unease))]
		} else if chance.IntN(4) == 0 {
			seen.Signs = unease[:1]
		}
		if ago < leftAlone && chance.IntN(2) == 0 {
			seen.Signs = append([]knowledge.SignID{"exploring", "calm-tongue"}[:1+chance.IntN(2)], seen.Signs...)
		}
		seen.None = len(seen.Signs) == 0
		if err := s.do(welfare.Observe{Tables: s.tables, About: s.about(of, ago, 21, 10), Observation: seen}); err != nil {
			return err
		}
	}
	return nil
}

// lifted are the times in the hand: nearly every day at first, then once a week.
func (s *scenario) lifted(of model.AnimalID) error {
	chance := rand.New(rand.NewPCG(seed("Linnet"), 32))
	for ago := leftAlone + 60; ago > 0; ago-- {
		if ago > leftAlone && chance.IntN(4) == 0 || ago <= leftAlone && ago%7 != 3 {
			continue
		}
		held := welfare.Handling{Lifts: 1, Hand: 4 + chance.IntN(8)}
		if ago > leftAlone {
			held.DrewBack = chance.IntN(3)
		} else {
			held.Came = chance.IntN(3) == 0
		}
		if err := s.do(welfare.Handle{Tables: s.tables, About: s.about(of, ago, 19, 40), Handling: held}); err != nil {
			return err
		}
	}
	return nil
}

// breathing are quiet counts of breaths.
func (s *scenario) breathing(of model.AnimalID) error {
	for i, ago := range []int{44, 30, 16, 2} {
		seen := welfare.Observation{Setting: knowledge.Untouched, Signs: []knowledge.SignID{"loose-coil"}, Breaths: &welfare.Breaths{Count: 6 + i%2, Seconds: 120}}
		if err := s.do(welfare.Observe{Tables: s.tables, About: s.about(of, ago, 22, 15), Observation: seen}); err != nil {
			return err
		}
	}
	return nil
}

// hiding is a change of which it cannot be told yet whether it helped.
func (s *scenario) hiding(of model.AnimalID) error {
	if err := s.do(welfare.Try{About: s.about(of, secondHut, 18, 30), Change: welfare.Change{What: s.say("demo.ease.second-hide"), Setting: knowledge.Untouched, Hoped: welfare.MoreEase}}); err != nil {
		return err
	}
	for i, ago := range []int{33, 28, 25, 17, 12, 9, 5, 1} {
		seen := welfare.Observation{Setting: knowledge.Untouched, Signs: []knowledge.SignID{"at-the-glass"}}
		if ago < secondHut && i%2 == 0 {
			seen.Signs = []knowledge.SignID{"using-place", "resting-open"}
		}
		if err := s.do(welfare.Observe{Tables: s.tables, About: s.about(of, ago, 21, 20), Observation: seen}); err != nil {
			return err
		}
	}
	return nil
}
