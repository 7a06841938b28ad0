package due

import (
	"errors"
	"fmt"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/knowledge"
	"coilward/model/positives"
	"coilward/model/samples"
)

// tubes are what the book keeps of samples on their way: what is due, by the animal
// that owes it.
type tubes struct {
	of     map[model.AnimalID][]Obligation
	stood  []positives.Trace
	marks  positives.Marks
	unread map[model.AnimalID]error // those of whom a sample cannot be read
	err    error                    // why no sample can be read
}

// checkTubes reads all samples anew, where a change may have touched one: they are
// few beside the entries, and each counts for the days of its lab. What cannot be
// read hides nothing of what others owe, and is tried again. It reports whether
// anything was read.
func (b *Book) checkTubes(c Source) (anew bool) {
	b.marks.Lock()
	read := b.samples
	b.samples = false
	if read {
		b.mates, b.renew = true, true
	}
	b.marks.Unlock()
	if !read {
		return false
	}
	if err := c.View(b.readTubes); err != nil {
		b.tubes = tubes{err: err}
	}
	b.marks.Lock()
	defer b.marks.Unlock()
	b.detected = b.tubes.marks.Detected
	b.samples = b.samples || b.tubes.err != nil || len(b.tubes.unread) > 0
	return true
}

func (b *Book) readTubes(v model.View) error {
	found, err := samplesDue(v, b.tables, positives.Known{House: b.rooms.house, Animals: b.animals()})
	if err != nil {
		return err
	}
	for _, due := range found.of {
		if err := answered(v, b.tables, due, v.Now().Day()); err != nil {
			return err
		}
	}
	b.tubes = found
	return nil
}

// legibleSamples are the samples that can be read, and of whom the others are: of nobody
// where a sample names none.
func legibleSamples(v model.View) (all []samples.Stored, unread map[model.AnimalID]error, err error) {
	unread = map[model.AnimalID]error{}
	err = v.All(model.TypeSample, func(d model.Document) bool {
		s, illegible := samples.Read(d)
		if illegible == nil {
			all = append(all, s)
			return true
		}
		for _, id := range s.Animals {
			unread[id] = illegible
		}
		if len(s.Animals) == 0 {
			unread[model.AnimalID{}] = illegible
		}
		return true
	})
	return all, unread, err
}

// animals are all animals as they were read last; nil where one of them could not be.
func (b *Book) animals() map[model.AnimalID]animals.Stored {
	all := make(map[model.AnimalID]animals.Stored, len(b.leaves))
	for id, l := range b.leaves {
		if l.facts.Animal.ID.IsZero() {
			return nil
		}
		all[id] = l.facts.Animal
	}
	return all
}

// samplesDue is what is due for all samples, with what is known already but for these.
func samplesDue(v model.View, t *knowledge.Tables, known positives.Known) (found tubes, err error) {
	all, unread, err := legibleSamples(v)
	if err != nil {
		return found, fmt.Errorf("read the samples: %w", err)
	}
	found.unread, known.Samples = unread, all
	if found.stood, err = positives.StoodIn(v, t, known); err != nil {
		return found, err
	}
	due, past := map[model.AnimalID][]Obligation{}, map[model.PersonID][]int{}
	for _, s := range all {
		if stage := s.Stage(); stage == samples.Reported || stage == samples.Voided {
			continue
		}
		of, there, err := owes(v, s)
		if err != nil {
			return found, err
		}
		if !there {
			continue
		}
		if _, known := past[s.Lab]; !known {
			past[s.Lab] = samples.PastOf(all, s.Lab)
		}
		for _, feeder := range Feeders() {
			if feeder.Sample == nil {
				continue
			}
			for _, o := range feeder.Sample(t, s, past[s.Lab], v.Now().Day()) {
				o.Subject = of.Subject()
				for _, thing := range samples.Overtaken(all, s) {
					o.Reasons = append(o.Reasons, model.Label{Key: "due.why.plan-overtaken", Gaps: map[string]model.Gap{"Agent": model.KeyGap("agent." + string(thing))}})
				}
				due[of] = append(due[of], o)
			}
		}
	}
	var unsettled []positives.Trace
	for _, trace := range found.stood {
		if trace.Open() {
			unsettled = append(unsettled, trace)
		}
	}
	found.of, found.marks = due, positives.MarksOf(unsettled)
	return found, positivesDue(v, t, unsettled, due)
}

// owes is the animal by which a sample is told: of a pool the first that is still
// here, else the first that is still in the records. One that was not taken is owed
// by nobody who has left.
func owes(v model.View, s samples.Stored) (first model.AnimalID, there bool, err error) {
	for _, id := range s.Animals {
		d, err := v.Document(id.ID)
		if errors.Is(err, model.ErrNotFound) {
			continue
		}
		if err != nil {
			return first, false, fmt.Errorf("read of whom a sample is: %w", err)
		}
		a, err := animals.Decode(d)
		if err != nil {
			return first, false, err
		}
		switch {
		case a.Status.Here():
			return id, true, nil
		case !there && s.Stage() != samples.ToTake:
			first, there = id, true
		}
	}
	return first, there, nil
}

// onTheWay makes the next step of a sample due: to take it, to post it, and to ask
// the lab where it is late.
func onTheWay(t *knowledge.Tables, s samples.Stored, took []int, today model.Day) []Obligation {
	w := s.Way(t, took, today)
	o := Obligation{Key: Key{Cause: s.ID.String() + " " + string(w.Stage)}, Since: w.Since, From: w.Since, By: w.Mark, Act: ActTray}
	gaps := map[string]model.Gap{"Material": model.KeyGap("material." + string(s.Material)), "Day": model.DayGap(w.Since), "Days": model.CountGap(w.Within)}
	sent := map[string]model.Gap{"Material": gaps["Material"], "Day": gaps["Day"], "Count": gaps["Days"]}
	switch w.Stage {
	case samples.ToTake:
		o.Job, o.Reasons = TakeSample, why("due.why.sample-take", gaps)
		if p := s.Planned; p != nil {
			gaps["Round"], gaps["Of"] = model.CountGap(p.Round), model.CountGap(p.Of)
			o.Reasons = why("due.why.sample-planned", gaps)
		}
		if m, _ := t.Material(s.Material); m.Takes == knowledge.InMouth {
			o.Caution = "stop.mouth.caution"
		}
		if last := s.Kit.Last(); last != 0 && last < o.By {
			o.By = max(last, o.From)
			o.Reasons = append(o.Reasons, model.Label{Key: "due.why.kit-expires", Gaps: map[string]model.Gap{"Day": model.DayGap(last)}})
		}
	case samples.Taken:
		o.Job, o.Reasons, o.Caution = PostSample, why("due.why.sample-post", sent), "due.caution.over-weekend"
	default:
		o.Job, o.From, o.By = AskLab, w.Mark+1, w.Mark+1
		switch {
		case w.Stage == samples.Sent:
			o.Reasons = why("due.why.parcel", gaps)
		case w.Own:
			o.Reasons = why("due.why.lab-own", gaps)
		default:
			o.Reasons = why("due.why.lab-usual", gaps)
		}
		if n := len(s.Asked); n > 0 {
			o.Reasons = append(o.Reasons, model.Label{Key: "due.why.lab-asked", Gaps: map[string]model.Gap{"Day": model.DayGap(s.Asked[n-1].At.Day())}})
		}
	}
	return []Obligation{o}
}
