package samples

import (
	"cmp"
	"slices"

	"coilward/model"
	"coilward/model/knowledge"
)

// Shown is for how many days after its result came a sample stays in the tray. Source:
// common practice, no source.
const Shown = 30

// Followed is a sample and where it stands on its way.
type Followed struct {
	Stored
	Way Way
}

// Lies reports whether a sample lies in the tray: it is on its way, or its result came
// lately.
func (f Followed) Lies(today model.Day) bool {
	switch f.Way.Stage {
	case Voided:
		return false
	case Reported:
		return today-f.Way.Since <= Shown
	}
	return true
}

// Others is what can be done with a sample beside what is next.
func (f Followed) Others() (all []Act) {
	switch f.Way.Stage {
	case ToTake:
		if f.Way.Ahead {
			all = []Act{ActTake}
		}
	case Sent:
		all = []Act{ActArrive, ActEnter}
	case AtLab:
		all = []Act{ActEnter, ActAskLab}
	}
	return slices.DeleteFunc(all, func(a Act) bool { return a == f.Way.Next })
}

// With are the things that have an outcome in a sample.
func (s Sample) With(o Outcome) (all []knowledge.AgentID) {
	for _, of := range s.For {
		if s.Outcome(of) == o {
			all = append(all, of)
		}
	}
	return all
}

// Tray are samples that are followed, in the order in which they are shown.
type Tray []Followed

// Of is the sample of that id.
func (t Tray) Of(id model.SampleID) (Followed, bool) {
	i := slices.IndexFunc(t, func(s Followed) bool { return s.ID == id })
	if i < 0 {
		return Followed{}, false
	}
	return t[i], true
}

// Some are the samples of those ids that are still there.
func (t Tray) Some(ids []model.SampleID) (all []Followed) {
	for _, s := range t {
		if slices.Contains(ids, s.ID) {
			all = append(all, s)
		}
	}
	return all
}

// OnWay and late count the samples that are on their way, and those of them past
// their mark. What is laid out for a day ahead is not on its way yet.
func (t Tray) OnWay() (all, late int) {
	for _, s := range t {
		if !s.Way.Ahead && s.Way.Stage != Voided && s.Way.Stage != Reported {
			all++
			if s.Way.Late {
				late++
			}
		}
	}
	return all, late
}

// Voided are the samples without a result of a year, the last first.
func (t Tray) Voided(year int) (all []Followed) {
	for _, s := range t {
		if s.Void != nil {
			if y, _, _ := s.Void.At.Day().Date(); y == year {
				all = append(all, s)
			}
		}
	}
	slices.SortStableFunc(all, func(a, b Followed) int { return cmp.Compare(b.Void.At.UTC, a.Void.At.UTC) })
	return all
}

// Owed are the samples of an animal with which the same is to be done next, the late
// ones first.
func (t Tray) Owed(animal model.AnimalID) (all []Followed) {
	for _, late := range []bool{true, false} {
		for _, s := range t {
			if s.Way.Late == late && s.Way.Next != NoAct && slices.Contains(s.Animals, animal) && (len(all) == 0 || s.Way.Next == all[0].Way.Next) {
				all = append(all, s)
			}
		}
	}
	return all
}

// LaidOut are the samples of an animal that are to be taken now and are what is asked
// for: of that material, where one is named, and looked through for one of the things
// at least.
func (t Tray) LaidOut(of model.AnimalID, material knowledge.MaterialID, things []knowledge.AgentID) (all []Followed) {
	for _, s := range t {
		asked := func(a knowledge.AgentID) bool { return slices.Contains(s.For, a) }
		if s.Way.Stage == ToTake && !s.Way.Ahead && slices.Contains(s.Animals, of) && (material == "" || material == s.Material) && slices.ContainsFunc(things, asked) {
			all = append(all, s)
		}
	}
	return all
}

// Last is the sample that was prepared last, of those of one moment the one whose number
// follows the others'; false: there is none.
func (t Tray) Last() (last Followed, ok bool) {
	if len(t) == 0 {
		return last, false
	}
	last = slices.MaxFunc(t, func(a, b Followed) int { return cmp.Compare(a.At.UTC, b.At.UTC) })
	for i := 0; i >= 0; {
		next := Following(last.Kit.Number)
		i = slices.IndexFunc(t, func(s Followed) bool { return next != "" && s.Kit.Number == next && s.At.UTC == last.At.UTC })
		if i >= 0 {
			last = t[i]
		}
	}
	return last, true
}

// LastCourier is whom the last parcel went with; empty: nobody was named.
func (t Tray) LastCourier() string {
	var last Followed
	for _, s := range t {
		if s.Posted.UTC > last.Posted.UTC && s.Courier != "" {
			last = s
		}
	}
	return last.Courier
}

// Together are the samples with which the same is to be done next as with one, that one
// among them; once they have left, those of the same lab.
func (t Tray) Together(one Followed) (all []Followed) {
	for _, s := range t {
		same := s.Way.Next == one.Way.Next && s.Way.Stage == one.Way.Stage
		if s.ID == one.ID || same && one.Way.Next != NoAct && (s.Posted.IsZero() || s.Lab == one.Lab) {
			all = append(all, s)
		}
	}
	return all
}

// Waiting are the samples whose results a lab owes: that of one of them, where one is
// given, else that of the first. One whose arrival nobody noted is among them.
func (t Tray) Waiting(one model.SampleID) (all []Followed) {
	owes := func(s Followed) bool { return s.Way.Stage == Sent || s.Way.Stage == AtLab }
	first := slices.IndexFunc(t, func(s Followed) bool { return s.ID == one && owes(s) })
	if first < 0 {
		first = slices.IndexFunc(t, owes)
	}
	for _, s := range t {
		if owes(s) && s.Lab == t[first].Lab {
			all = append(all, s)
		}
	}
	return all
}

// Before reports whether a sample of this stage has not come to another one yet; one that
// was given up comes to none.
func (s Stage) Before(other Stage) bool {
	return s != Voided && slices.Index(Stages(), s) < slices.Index(Stages(), other)
}

// Before are the samples that have not come to a stage yet, but for those that are laid out
// for a day ahead.
func (t Tray) Before(stage Stage) (all []Followed) {
	for _, s := range t {
		if !s.Way.Ahead && s.Way.Stage.Before(stage) {
			all = append(all, s)
		}
	}
	return all
}
