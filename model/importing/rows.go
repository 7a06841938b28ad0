package importing

import (
	"cmp"
	"errors"
	"fmt"
	"slices"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/knowledge"
)

// Source is the line of a file that something was read from.
type Source struct {
	Sheet string
	Line  int // 1 is the first
}

// Animal is an animal to be made.
type Animal struct {
	Source
	animals.Animal
	// Named is one that only other rows name: it is made where one of them can stand.
	Named bool
}

// Entry is an entry to be made, of an animal of the collection or, where Of is
// zero, of the animal Rows.Animals[New]. Heaviest is as in care.Weigh.
type Entry struct {
	Source
	Of       model.AnimalID
	New      int
	At       model.Moment
	Body     care.Body
	Heaviest model.Mass
	// NoBatch is the batch of feeders that a meal names and the stock does not know; empty:
	// none. It is asked whether the meal comes in without it.
	NoBatch string
}

// Rows brings animals, entries, places, stays and samples in. What stands in the collection already, the
// same about the same animal at the same moment, is not made twice.
type Rows struct {
	File    string
	Animals []Animal
	Entries []Entry
	Places  []Place
	Stays   []Stay
	People  []Person
	Samples []Sample
	Tables  *knowledge.Tables // where there are samples
	By      model.PersonID
	// Confirmed are the questions that were answered with yes for all rows that
	// raise them.
	Confirmed model.Confirmed
}

// Name is "import.rows".
func (Rows) Name() string { return "import.rows" }

// Plan writes all of them. It is refused where one of them cannot
// stand, or raises a question that is not confirmed; Judge tells which.
func (c Rows) Plan(v model.View) (model.Writes, error) {
	j, err := c.Judge(v, nil)
	if err != nil {
		return model.Writes{}, err
	}
	if len(j.Refused) > 0 {
		return model.Writes{}, fmt.Errorf("bring in line %d of %s: %w", j.Refused[0].Line, j.Refused[0].Sheet, j.Refused[0].Refusal)
	}
	return model.Writes{Put: j.documents, Label: model.Label{Key: "movein.done", Gaps: map[string]model.Gap{
		"Count": model.CountGap(len(j.documents)), "File": model.TextGap(c.File),
	}}}, nil
}

// Commands are the commands of this package, one of each, empty.
func Commands() []model.Command { return []model.Command{Rows{}} }

// Judgement is what would come of rows.
type Judgement struct {
	Animals int // that would be made
	Entries int
	Places  int
	Stays   int
	People  int
	Samples int
	// ByKind are the entries that would be made, by their kind.
	ByKind map[string]int
	// There are the entries, stays and samples that stand in the collection already.
	There int
	// Unread are the samples of the collection that cannot be read, where samples are
	// brought in: it is not known whether one of those stands there already.
	Unread int
	// Refused are the rows that cannot stand, or that raise a question.
	Refused []Refused

	documents []model.Document
	good      Rows
}

// Refused is a row that cannot stand, or where Refusal.Answer is another than
// model.Mend, one that raises a question.
type Refused struct {
	Source
	Part    Part
	Refusal *model.Refusal
	Also    []*model.Refusal // what else of it cannot stand
}

// Part is what of a row is meant: a row may tell an animal, and a weight beside it.
type Part struct {
	Type model.DocumentType
	Kind string // of an entry
}

// Made is how many documents would be made.
func (j Judgement) Made() int { return len(j.documents) }

// Good are the rows that can stand, with the places that those need.
func (j Judgement) Good() Rows { return j.good }

// Judge tells what would come of the rows. Each is compared with the collection
// and with those before it that can stand; of entries the earlier ones come
// first. step, which may be nil, is told how much is done, and its error ends
// the judging.
func (c Rows) Judge(v model.View, step func(share float64) error) (Judgement, error) {
	w := &walk{rows: c, view: v, care: care.NewMany(v), there: map[model.AnimalID]map[string]int{}, made: make([]model.AnimalID, len(c.Animals)), step: step}
	w.ByKind = map[string]int{}
	w.good = c
	w.good.Animals, w.good.Entries, w.good.Places, w.good.Stays = nil, nil, nil, nil
	w.good.People, w.good.Samples = nil, nil
	err := w.animals()
	if err == nil {
		err = w.entries()
	}
	if err == nil {
		err = w.stays(w.places())
	}
	if err == nil {
		err = w.samples(w.places())
	}
	if err == nil {
		w.keepSpokenOf()
	}
	return w.Judgement, err
}

// walk goes through rows one after the other.
type walk struct {
	Judgement
	rows  Rows
	view  model.View
	care  *care.Many
	made  []model.AnimalID // of rows.Animals; zero: refused
	there map[model.AnimalID]map[string]int
	step  func(float64) error
	done  int
}

// beat is how many rows are judged between two words of progress.
const beat = 256

func (w *walk) tick() error {
	w.done++
	if w.step == nil || w.done%beat != 0 {
		return nil
	}
	return w.step(float64(w.done) / float64(len(w.rows.Animals)+len(w.rows.Entries)+len(w.rows.Stays)+len(w.rows.Samples)))
}

func (w *walk) animals() error {
	many, err := animals.NewMany(w.view)
	if err != nil {
		return err
	}
	codes, err := codesHere(w.view)
	if err != nil {
		return err
	}
	for i, a := range w.rows.Animals {
		if r := codes.check(a.Animal, w.rows.Confirmed); r != nil {
			w.Refused = append(w.Refused, Refused{Source: a.Source, Part: Part{Type: model.TypeAnimal}, Refusal: r})
			continue
		}
		d, err := many.Make(a.Animal)
		if refused, failed := w.refuse(a.Source, Part{Type: model.TypeAnimal}, err); failed != nil {
			return failed
		} else if refused {
			continue
		}
		if err := w.care.Beside(d); err != nil {
			return err
		}
		codes.put(a.Animal)
		w.made[i] = model.AnimalID{ID: d.ID}
		w.documents = append(w.documents, d)
		w.Animals++
		w.good.Animals = append(w.good.Animals, a)
		if err := w.tick(); err != nil {
			return err
		}
	}
	return nil
}

// keepSpokenOf leaves out the animals that only rows name of which none can stand.
func (w *walk) keepSpokenOf() {
	used := make([]bool, len(w.good.Animals))
	for _, e := range w.good.Entries {
		if e.Of.IsZero() {
			used[e.New] = true
		}
	}
	for _, s := range w.good.Stays {
		if s.Of.IsZero() {
			used[s.New] = true
		}
	}
	for _, s := range w.good.Samples {
		for _, who := range s.Animals {
			if who.Of.IsZero() {
				used[who.New] = true
			}
		}
	}
	at := make([]int, len(used))
	var animals []Animal
	var documents []model.Document
	for i, a := range w.good.Animals { // whose documents come before all others
		at[i] = len(animals)
		if used[i] || !a.Named {
			animals, documents = append(animals, a), append(documents, w.documents[i])
		}
	}
	if len(animals) == len(used) {
		return
	}
	w.documents = append(documents, w.documents[len(used):]...)
	w.good.Animals, w.Animals = animals, len(animals)
	for i, e := range w.good.Entries {
		if e.Of.IsZero() {
			w.good.Entries[i].New = at[e.New]
		}
	}
	for i, s := range w.good.Stays {
		if s.Of.IsZero() {
			w.good.Stays[i].New = at[s.New]
		}
	}
	for _, s := range w.good.Samples {
		for i, who := range s.Animals {
			if who.Of.IsZero() {
				s.Animals[i].New = at[who.New]
			}
		}
	}
}

// codes are the codes of the animals that are here, folded, each with the name of
// its animal.
type codes map[string]string

func codesHere(v model.View) (codes, error) {
	all, err := animals.All(v)
	if err != nil {
		return nil, err
	}
	c := codes{}
	for _, a := range all {
		c.put(a.Animal)
	}
	return c, nil
}

func (c codes) put(a animals.Animal) {
	if code := animals.Fold(a.Code); code != "" && a.Status.Here() {
		c[code] = a.Name
	}
}

// check asks about an animal whose code leads to another one: the two may be one
// animal under two names, which only its keeper knows.
func (c codes) check(a animals.Animal, confirmed model.Confirmed) *model.Refusal {
	other, taken := c[animals.Fold(a.Code)]
	if !taken || !a.Status.Here() || confirmed.Has("movein.code-twice") {
		return nil
	}
	return &model.Refusal{Field: "code", Value: a.Code, Reason: "movein.code-twice", Answer: model.Confirm,
		Gaps: map[string]model.Gap{"Animal": model.TextGap(a.Name), "Other": model.TextGap(other)}}
}

// refuse keeps the refusal of a row; what is no refusal is an error.
func (w *walk) refuse(s Source, part Part, err error) (refused bool, failed error) {
	var r *model.Refusal
	switch {
	case err == nil:
		return false, nil
	case errors.As(err, &r):
		w.Refused = append(w.Refused, Refused{Source: s, Part: part, Refusal: r})
		return true, nil
	}
	return true, fmt.Errorf("judge line %d of %s: %w", s.Line, s.Sheet, err)
}

func (w *walk) entries() error {
	ordered := slices.Clone(w.rows.Entries)
	slices.SortStableFunc(ordered, func(a, b Entry) int { return byTime(a.At, b.At) })
	goodAnimal := w.places()
	for _, e := range ordered {
		if err := w.tick(); err != nil {
			return err
		}
		if err := w.entry(e, goodAnimal); err != nil {
			return err
		}
	}
	return nil
}

// places are where the animals that can stand are among the good ones.
func (w *walk) places() []int {
	at, n := make([]int, len(w.made)), 0
	for i, id := range w.made {
		if at[i] = n; !id.IsZero() {
			n++
		}
	}
	return at
}

func (w *walk) entry(e Entry, goodAnimal []int) error {
	animal := e.Of
	if animal.IsZero() {
		if animal = w.made[e.New]; animal.IsZero() {
			w.Refused = append(w.Refused, Refused{Source: e.Source, Part: Part{model.TypeEntry, e.Body.Kind()}, Refusal: w.ofRefused(e.New)})
			return nil
		}
	} else if there, err := w.isThere(e); err != nil || there {
		return err
	}
	if e.NoBatch != "" && !w.rows.Confirmed.Has(askBatch) {
		w.Refused = append(w.Refused, Refused{Source: e.Source, Part: Part{model.TypeEntry, e.Body.Kind()}, Refusal: &model.Refusal{Field: "batch", Value: e.NoBatch, Reason: askBatch, Answer: model.Confirm}})
		return nil
	}
	d, err := w.care.Make(care.New{About: care.About{Animal: animal, At: e.At, By: w.rows.By, Confirmed: w.rows.Confirmed}, Body: e.Body, Heaviest: e.Heaviest})
	if refused, failed := w.refuse(e.Source, Part{model.TypeEntry, e.Body.Kind()}, err); failed != nil || refused {
		return failed
	}
	w.documents = append(w.documents, d)
	w.Entries++
	w.ByKind[d.Kind]++
	if e.Of.IsZero() {
		e.New = goodAnimal[e.New]
	}
	w.good.Entries = append(w.good.Entries, e)
	return nil
}

// askBatch is the question whether a meal comes in without the batch that it names.
const askBatch = "movein.batch-unknown"

// ofRefused says that a row is of an animal that cannot be made.
func (w *walk) ofRefused(animal int) *model.Refusal {
	a := w.rows.Animals[animal]
	return &model.Refusal{Field: "name", Value: a.Name, Reason: "movein.animal-refused", Answer: model.Mend, Gaps: map[string]model.Gap{"Line": model.CountGap(a.Line)}}
}

func byTime(a, b model.Moment) int { return cmp.Compare(a.UTC, b.UTC) }

// isThere reports whether the entry stands in the collection; one that stands
// there once is found once.
func (w *walk) isThere(e Entry) (bool, error) {
	counted := w.there[e.Of]
	if counted == nil {
		counted = map[string]int{}
		err := w.view.Timeline(e.Of.Subject(), model.Beginning, model.EndOfTime, func(d model.Document) bool {
			// what a newer version wrote cannot be the same
			if present, known, err := care.Decode(d); err == nil && known {
				counted[Sameness(d.At, present.Body)]++
			}
			return true
		})
		if err != nil {
			return false, fmt.Errorf("read what is there of animal %s: %w", e.Of, err)
		}
		w.there[e.Of] = counted
	}
	if len(counted) == 0 {
		return false, nil
	}
	key := Sameness(e.At, e.Body)
	if counted[key] == 0 {
		return false, nil
	}
	counted[key]--
	w.There++
	return true, nil
}
