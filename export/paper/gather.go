package paper

import (
	"fmt"
	"slices"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/contact"
	"coilward/model/due"
	"coilward/model/exam"
	"coilward/model/history"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/people"
	"coilward/model/powercut"
	"coilward/model/quarantine"
	"coilward/model/samples"
	"coilward/model/welfare"
)

// Gathering says whose record is gathered, and with what.
type Gathering struct {
	Animal   model.AnimalID
	Tables   *knowledge.Tables
	Pictures Pictures
	Version  string // of the program
	// WithoutNotes leaves out notes, with their photos.
	WithoutNotes bool
}

// Gathered is what a view holds of an animal, before its photos are read: those
// take longer than a view may be kept.
type Gathered struct {
	facts  Facts
	photos []Photo // only what they are
	with   Gathering
}

// Gather reads what a health record states of an animal. Entries of kinds that
// this version does not know are counted, not left out.
func Gather(v model.View, g Gathering) (Gathered, error) {
	animal, err := animals.Find(v, g.Animal)
	if err != nil {
		return Gathered{}, err
	}
	out := Gathered{with: g, facts: Facts{Animal: animal.Animal, Begun: history.WhoseOf(animal).Begun, Issued: v.Now(), Version: g.Version, Tables: g.Tables, Unknown: map[string]int{}}}
	persons, err := people.All(v)
	if err != nil {
		return Gathered{}, err
	}
	names := map[model.PersonID]string{}
	for _, p := range persons {
		if !p.Private {
			names[p.ID] = p.Name
		}
	}
	if out.facts.Scales, err = husbandry.ReadScales(v); err != nil {
		return Gathered{}, err
	}
	var unread []error
	if out.facts.Problems, unread, err = exam.LegibleProblems(v, g.Animal); err != nil {
		return Gathered{}, err
	}
	if len(unread) > 0 {
		out.facts.Unknown[string(model.TypeProblem)] = len(unread)
	}
	err = v.Timeline(g.Animal.Subject(), model.Beginning, model.EndOfTime, func(d model.Document) bool {
		switch d.Type {
		case model.TypeEntry:
			out.add(d, names[d.By])
		case model.TypeStay:
			out.facts.Moves = append(out.facts.Moves, d.At.Day())
		case model.TypeSample:
			out.addSample(d, names)
		case model.TypePrescription:
			out.addCourse(d, names)
		case model.TypeVisit:
			out.addVisit(d, names)
		case model.TypeQuestion:
			out.addQuestion(d)
		case model.TypePositive:
			if _, err := contact.Read(d); err != nil {
				out.facts.Unknown[string(d.Type)]++
			}
		case model.TypeQuarantine:
			if _, err := quarantine.Read(d); err != nil {
				out.facts.Unknown[string(d.Type)]++
			}
		}
		return true
	})
	if err != nil {
		return Gathered{}, fmt.Errorf("gather the records of %s: %w", animal.Name, err)
	}
	if out.facts.Chilled, err = due.UnansweredChilling(v, g.Tables, g.Animal, out.facts.PowerCuts); err != nil {
		return Gathered{}, fmt.Errorf("gather the records of %s: %w", animal.Name, err)
	}
	if err := out.addAir(v, g); err != nil {
		return Gathered{}, err
	}
	out.turn()
	out.addChances(v, g)
	out.addBehaviour(v, g, animal)
	if err := out.addQuarantine(v, g); err != nil {
		return Gathered{}, err
	}
	return out, nil
}

// addQuarantine takes the quarantine, and the positives that concern the animal. A
// quarantine that cannot be read, or that rests on something that cannot, is named as
// such: it does not keep the rest from being printed.
func (g *Gathered) addQuarantine(v model.View, with Gathering) error {
	q, ever, err := GatherQuarantine(v, with.Tables, with.Animal)
	switch {
	case err != nil: // one that cannot be read itself is counted already
		g.facts.Unknown[string(model.TypeQuarantine)] = max(1, g.facts.Unknown[string(model.TypeQuarantine)])
	case ever:
		g.facts.Quarantine, g.facts.Positives = &q, q.Positives
		return nil
	}
	g.facts.Positives, err = openPositives(v, with.Tables, with.Animal)
	return err
}

// add takes one entry; they come newest first. One that cannot be read, or that
// holds a weight that no animal has or a look that says nothing, is counted and named as such: it does not
// keep the rest from being printed.
func (g *Gathered) add(d model.Document, by string) {
	f := &g.facts
	g.count(d.At.Day())
	if d.Kind == exam.KindCheck {
		check, err := exam.ReadCheck(d)
		if err != nil {
			f.Unknown[d.Kind]++
			return
		}
		f.Checks = append(f.Checks, Checked{ID: model.EntryID{ID: d.ID}, At: d.At, By: by, Check: check})
		return
	}
	if d.Kind == powercut.Kind {
		g.addPowerCut(d)
		return
	}
	if _, of, err := welfare.Decode(d); of { // what it tells is gathered as a whole
		if err != nil {
			f.Unknown[d.Kind]++
		}
		return
	}
	entry, ok, err := care.Decode(d)
	if !ok || err != nil || (d.Kind == care.KindWeight || d.Kind == care.KindMiteLook) && entry.Check() != nil {
		f.Unknown[d.Kind]++
		return
	}
	g.addCare(entry, by)
}

// count takes one more entry, or sample, of that day.
func (g *Gathered) count(day model.Day) {
	f := &g.facts
	f.Entries++
	if f.Entries == 1 {
		f.First, f.Last = day, day
	}
	f.First, f.Last = min(f.First, day), max(f.Last, day)
}

// addSample takes one sample; its lab is named where it stands among the names.
func (g *Gathered) addSample(d model.Document, names map[model.PersonID]string) {
	f := &g.facts
	g.count(d.At.Day())
	s, err := samples.Read(d)
	if err != nil {
		f.Unknown[string(d.Type)]++
		return
	}
	f.Samples = append(f.Samples, Sampled{Sample: s.Sample, At: s.At, Others: len(s.Animals) - 1, Lab: names[s.Lab]})
}

func (g *Gathered) addCare(e care.Entry, by string) {
	f := &g.facts
	switch b := e.Body.(type) {
	case care.Weight:
		f.Weights = append(f.Weights, Dated[care.Weight]{e.At, by, b})
		g.addPhotos(e.At, b.Note, b.Photos)
	case care.Meal:
		f.Meals = append(f.Meals, Dated[care.Meal]{e.At, by, b})
		g.addPhotos(e.At, b.Note, b.Photos)
	case care.Shed:
		f.Sheds = append(f.Sheds, Dated[care.Shed]{e.At, by, b})
		g.addPhotos(e.At, b.Note, b.Photos)
	case care.Waste:
		f.Waste = append(f.Waste, Dated[care.Waste]{e.At, by, b})
		g.addPhotos(e.At, b.Note, b.Photos)
	case care.MiteLook:
		f.MiteLooks = append(f.MiteLooks, Dated[care.MiteLook]{e.At, by, b})
		g.addPhotos(e.At, b.Note, b.Photos)
	case care.Clutch:
		g.addBeside(e, by, b.Beside)
	case care.Blue:
		g.addBeside(e, by, b.Beside)
	case care.Bath:
		g.addBeside(e, by, b.Beside)
	case care.Fluids:
		g.addBeside(e, by, b.Beside)
	case care.MiteTreatment:
		g.addBeside(e, by, b.Beside)
	case care.Note:
		if g.with.WithoutNotes {
			return
		}
		f.Notes = append(f.Notes, Dated[care.Note]{e.At, by, b})
		g.addPhotos(e.At, "", b.Photos)
	case care.Photo:
		g.addPhotos(e.At, b.Caption, b.Photos)
		for i := range b.Photos {
			p := &g.photos[len(g.photos)-1-i]
			p.Problem, p.Pose = b.Problem, b.Pose
		}
	}
}

func (g *Gathered) addBeside(e care.Entry, by string, b care.Beside) {
	g.facts.Beside = append(g.facts.Beside, Dated[care.Body]{e.At, by, e.Body})
	g.addPhotos(e.At, b.Note, b.Photos)
}

func (g *Gathered) addPhotos(at model.Moment, caption string, ids []model.PhotoID) {
	for _, id := range ids {
		g.photos = append(g.photos, Photo{ID: id, Day: at.Day(), Caption: caption})
	}
}

// turn puts the oldest first, and the photos of findings among the others.
func (g *Gathered) turn() {
	f := &g.facts
	slices.Reverse(f.Checks)
	slices.Reverse(f.Weights)
	slices.Reverse(f.Meals)
	slices.Reverse(f.Sheds)
	slices.Reverse(f.Waste)
	slices.Reverse(f.MiteLooks)
	slices.Reverse(f.Beside)
	slices.Reverse(f.Notes)
	slices.Reverse(f.Samples)
	slices.Reverse(g.photos)
	for _, p := range f.Problems {
		for _, look := range p.Glimpses {
			for _, id := range look.Photos {
				g.photos = append(g.photos, Photo{ID: id, Day: look.At.Day(), Problem: p.ID})
			}
		}
	}
	sortBy(g.photos, func(p Photo) float64 { return float64(p.Day) })
}

// Animal is whom it is of.
func (g Gathered) Animal() animals.Animal { return g.facts.Animal }

// Facts reads the photos that the paper prints and returns the whole. A photo
// that cannot be read is counted among what is not known.
func (g Gathered) Facts() Facts {
	f := g.facts
	room := darkroom{g.with.Pictures, map[int]bool{}}
	if id := f.Animal.Portrait; id != "" {
		portrait, err := room.print(id, portraitSide)
		if err != nil {
			f.Unread++
		}
		f.Portrait = portrait
	}
	f.AllPhotos = len(g.photos)
	for _, wanted := range g.chosen() {
		p, err := room.print(wanted.ID, photoSide)
		if err != nil {
			f.Unread++
			continue
		}
		p.Day, p.Caption, p.Problem, p.Pose = wanted.Day, wanted.Caption, wanted.Problem, wanted.Pose
		f.Photos = append(f.Photos, p)
	}
	return f
}

// chosen are the photos to print: the newest of each standard pose, in the order of the
// table, then the newest of those that show none.
func (g Gathered) chosen() (all []Photo) {
	for _, pose := range g.with.Tables.Poses() {
		of := slices.DeleteFunc(slices.Clone(g.photos), func(p Photo) bool { return p.Pose != pose.ID })
		all = append(all, newest(of, 1)...)
	}
	others := slices.DeleteFunc(slices.Clone(g.photos), func(p Photo) bool { return p.Pose != "" })
	return append(all, newest(others, printedPhotos)...)
}
