package importing

import (
	"cmp"
	"encoding/json"
	"fmt"
	"slices"

	"coilward/model"
	"coilward/model/people"
	"coilward/model/samples"
)

// Person is a person to be made: a lab, or who took a sample.
type Person struct {
	Source
	people.Person
}

// Who is an animal as in Entry.
type Who struct {
	Of  model.AnimalID
	New int
}

// Sample is a sample to be made, of one animal or of several. NewLab and NewBy,
// where at least 0, are Rows.People to stand as its lab and as who took it.
type Sample struct {
	Source
	Animals       []Who
	NewLab, NewBy int
	samples.Sample
}

// samples judges all samples, the earlier ones first, and makes the people that
// one of those that can stand names.
func (w *walk) samples(goodAnimal []int) error {
	if len(w.rows.Samples) == 0 {
		return nil
	}
	s, err := w.sampling()
	if err != nil {
		return err
	}
	ordered := slices.Clone(w.rows.Samples)
	slices.SortStableFunc(ordered, func(a, b Sample) int { return byTime(a.Taken, b.Taken) })
	for _, one := range ordered {
		if err := w.tick(); err != nil {
			return err
		}
		if err := s.sample(one, goodAnimal); err != nil {
			return err
		}
	}
	s.keepNamed()
	return nil
}

// sampling are the samples of rows on their way in.
type sampling struct {
	*walk
	many   *samples.Many
	there  map[string]int
	people []model.Document // of rows.People; without an id: refused
	used   []bool
	docs   []model.Document
}

func (w *walk) sampling() (*sampling, error) {
	many, err := samples.NewMany(w.view, w.rows.Tables)
	if err != nil {
		return nil, err
	}
	s := &sampling{walk: w, many: many, there: map[string]int{}, used: make([]bool, len(w.rows.People))}
	known, unread, err := samples.Legible(w.view)
	if err != nil {
		return nil, err
	}
	w.Unread = len(unread)
	for _, k := range known {
		s.there[sampleKey(k.Animals, k.Sample)]++
	}
	for _, d := range w.documents {
		if d.Type == model.TypeAnimal {
			if err := many.Beside(d); err != nil {
				return nil, err
			}
		}
	}
	for _, p := range w.rows.People {
		writes, err := people.Add{Person: p.Person}.Plan(w.view)
		refused, failed := w.refuse(p.Source, Part{Type: model.TypePerson}, err)
		if failed != nil {
			return nil, failed
		}
		d := model.Document{}
		if !refused {
			d = writes.Put[0]
			if err := many.Beside(d); err != nil {
				return nil, err
			}
		}
		s.people = append(s.people, d)
	}
	return s, nil
}

func (s *sampling) sample(one Sample, goodAnimal []int) error {
	stored := samples.Stored{By: s.rows.By, Sample: one.Sample}
	for i, who := range one.Animals {
		if who.Of.IsZero() {
			if who.Of = s.made[who.New]; who.Of.IsZero() {
				s.Refused = append(s.Refused, Refused{Source: one.Source, Part: Part{Type: model.TypeSample}, Refusal: s.ofRefused(one.Animals[i].New)})
				return nil
			}
		}
		stored.Animals = append(stored.Animals, who.Of)
	}
	for _, p := range []struct {
		new int
		to  *model.PersonID
	}{{one.NewLab, &stored.Lab}, {one.NewBy, &stored.TakenBy}} {
		if p.new >= 0 {
			*p.to = model.PersonID{ID: s.people[p.new].ID}
		}
	}
	if key := sampleKey(stored.Animals, stored.Sample); s.there[key] > 0 {
		s.there[key]--
		s.There++
		return nil
	}
	d, err := s.many.Make(stored, s.rows.Confirmed)
	if refused, failed := s.refuse(one.Source, Part{Type: model.TypeSample}, err); failed != nil || refused {
		if refused {
			s.also(one)
		}
		return failed
	}
	s.docs = append(s.docs, d)
	s.Samples++
	for _, p := range []int{one.NewLab, one.NewBy} {
		if p >= 0 {
			s.used[p] = true
		}
	}
	one.Animals = slices.Clone(one.Animals)
	for i, who := range one.Animals {
		if who.Of.IsZero() {
			one.Animals[i].New = goodAnimal[who.New]
		}
	}
	s.good.Samples = append(s.good.Samples, one)
	return nil
}

// also notes beside the refusal of a day of the sample's way what else is wrong with
// its days.
func (s *sampling) also(one Sample) {
	last := &s.Refused[len(s.Refused)-1]
	if days := one.Days(s.view.Now()); len(days) > 1 && days[0].Field == last.Refusal.Field && days[0].Reason == last.Refusal.Reason {
		last.Also = days[1:]
	}
}

// keepNamed leaves out the people that no sample names.
func (s *sampling) keepNamed() {
	at := make([]int, len(s.people))
	for i, d := range s.people {
		if !s.used[i] {
			continue
		}
		at[i] = s.People
		s.People++
		s.documents = append(s.documents, d)
		s.good.People = append(s.good.People, s.rows.People[i])
	}
	for i := range s.good.Samples {
		for _, p := range []*int{&s.good.Samples[i].NewLab, &s.good.Samples[i].NewBy} {
			if *p >= 0 {
				*p = at[*p]
			}
		}
	}
	s.documents = append(s.documents, s.docs...)
}

// sampleKey is alike of samples that say the same of the same animals, as exactly
// as that is known.
func sampleKey(of []model.AnimalID, s samples.Sample) string {
	for _, m := range []*model.Moment{&s.Taken, &s.Posted, &s.Arrived} {
		*m = rounded(*m)
	}
	if s.Void != nil {
		void := *s.Void
		void.At = rounded(void.At)
		s.Void = &void
	}
	s.Results = slices.Clone(s.Results)
	for i, r := range s.Results {
		s.Results[i].At, s.Results[i].Photos = rounded(r.At), nil
	}
	// in which order the things were entered makes no difference
	slices.SortStableFunc(s.Results, func(a, b samples.Result) int { return cmp.Compare(a.Of, b.Of) })
	raw, err := json.Marshal(s)
	if err != nil {
		// a sample is numbers and texts, which can always be written
		panic(fmt.Sprintf("write a sample: %v", err))
	}
	return fmt.Sprint(of, string(raw))
}

// rounded is a moment as a spreadsheet tells it.
func rounded(m model.Moment) model.Moment {
	switch {
	case m.IsZero():
		return m
	case m.Precision == model.ToMinute || m.Precision == "":
		return model.Moment{UTC: m.UTC / 60}
	}
	return model.Moment{UTC: int64(m.Day()), Precision: m.Precision}
}
