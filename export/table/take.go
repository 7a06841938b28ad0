package table

import (
	"slices"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/feeders"
	"coilward/model/husbandry"
	"coilward/model/importing"
	"coilward/model/knowledge"
	"coilward/model/people"
)

// Given is what rows are read with.
type Given struct {
	Words  *Words
	Tables *knowledge.Tables
	Known  []animals.Stored // the animals of the collection
	House  *husbandry.House // its places; nil: none
	People []people.Stored  // its people
	// Batches are its batches of feeders.
	Batches []feeders.Stored
	Now     model.Moment
	// Strangers are what becomes of entries of an animal that neither the
	// collection nor the file knows: true makes it, by its name alone.
	Strangers bool
	// NewPlaces are what becomes of stays in places that the collection does not
	// know.
	NewPlaces NewPlaces
	By        model.PersonID
	// Step is told how much is read, and its error ends the reading; nil: nobody.
	Step func(share float64) error
}

// Taken is what rows say.
type Taken struct {
	Rows importing.Rows
	// Bad are the rows that cannot be read.
	Bad []Bad
	// Known are the rows of animals that the collection has already; they stay as
	// they are. Named are the new animals of which only a name is known, because
	// an entry names them.
	Known, Named int
	// Places are those that stays name and the collection does not know, each with
	// what it stands in.
	Places []NewPlace
	// Read are all rows below headings, Waiting those that wait for an answer.
	Read, Waiting int
}

// Bad is a row, or a part of one, that is not brought in, and why.
type Bad struct {
	importing.Source
	Part importing.Part
	Fault
	Also []Fault // what else is wrong with it
}

// Fault is one thing that is wrong with a row.
type Fault struct {
	Column  string // the heading, empty where it is about the row
	Refusal *model.Refusal
}

// Faults are all that is wrong with it.
func (b Bad) Faults() []Fault { return append([]Fault{b.Fault}, b.Also...) }

// BadOf is a row that was read, but cannot stand; heading is the column of a refusal.
func BadOf(r importing.Refused, heading func(*model.Refusal) string) Bad {
	b := Bad{Source: r.Source, Part: r.Part, Fault: Fault{heading(r.Refusal), r.Refusal}}
	for _, also := range r.Also {
		b.Also = append(b.Also, Fault{heading(also), also})
	}
	return b
}

// Take reads the rows of a book. The takings are those of its sheets, as Settle
// gives them. Lists of animals are read first, wherever they stand.
func Take(b Book, takings []Taking, g Given) (Taken, error) {
	t := &taker{Given: g, herd: newHerd(g.Known), house: newHouse(g.House, g.Words), tubes: map[string]*tube{}, spoilt: map[int]bool{}, heaviest: map[knowledge.SpeciesID]model.Mass{}}
	t.Rows.File, t.Rows.By = b.Name, g.By
	for _, s := range g.Tables.SpeciesList() {
		t.heaviest[s.ID] = s.Heaviest
	}
	for i, s := range b.Sheets {
		t.all += len(takings[i].rows(s))
	}
	for _, lists := range append([]Listing{Animals}, Listings()[1:]...) {
		for i, s := range b.Sheets {
			if takings[i].Lists != lists {
				continue
			}
			if err := t.sheet(s, takings[i]); err != nil {
				return t.Taken, err
			}
		}
	}
	t.whole()
	return t.Taken, nil
}

// taker reads rows one after the other.
type taker struct {
	Given
	Taken
	herd     *herd
	house    *house
	tubes    map[string]*tube
	spoilt   map[int]bool // of Rows.Samples
	heaviest map[knowledge.SpeciesID]model.Mass
	cells    *cellReader
	source   importing.Source
	all      int
	also     []*model.Refusal // all that is wrong with the row that is read
	part     importing.Part   // what of it is read
}

// beat is how many rows are read between two words of progress.
const beat = 512

func (t *taker) sheet(s Sheet, how Taking) error {
	t.cells = newCells(t.Words, how, t.Now)
	for _, row := range how.rows(s) {
		if t.Taken.Read++; t.Step != nil && t.Taken.Read%beat == 0 {
			if err := t.Step(float64(t.Taken.Read) / float64(t.all)); err != nil {
				return err
			}
		}
		t.source = importing.Source{Sheet: s.Name, Line: row.Line}
		read, part := t.entry, importing.Part{Type: model.TypeEntry, Kind: how.Lists.kind()}
		switch how.Lists {
		case Animals:
			read, part = t.animal, importing.Part{Type: model.TypeAnimal}
		case Stays:
			read, part = t.stay, importing.Part{Type: model.TypeStay}
		case Samples:
			read, part = t.sample, importing.Part{Type: model.TypeSample}
		}
		t.also, t.part = nil, part
		if refusal := read(row); refusal == errWaits {
			t.Waiting++
		} else if refusal != nil {
			t.refused(refusal)
		}
	}
	if how.Lists == Stays && !how.has(StayTo) {
		moves(t.Rows.Stays, s.Name)
	}
	return nil
}

// refused keeps a row that was read in vain, with all that is wrong with it.
func (t *taker) refused(first *model.Refusal) {
	b := Bad{Source: t.source, Part: t.part, Fault: Fault{t.heading(first.Field), first}}
	for _, r := range t.also {
		if r != first {
			b.Also = append(b.Also, Fault{t.heading(r.Field), r})
		}
	}
	t.Taken.Bad = append(t.Taken.Bad, b)
}

// faults are those of the row that is read.
func (t *taker) faults() faults { return faults{all: &t.also} }

// heading is what the column is called that holds a field.
func (t *taker) heading(field string) string {
	if i, ok := t.cells.at[Field(field)]; ok {
		return t.cells.t.Columns[i].Heading
	}
	return ""
}

func (t *taker) sought(r Row) sought {
	return sought{t.cells.text(r, Name), t.cells.text(r, Code), readChip(t.cells.text(r, Chip)).Digits, t.cells.text(r, Mark)}
}

// animal reads a row of a list of animals, with the weight that it may tell.
func (t *taker) animal(r Row) *model.Refusal {
	wanted := t.sought(r)
	found := t.herd.find(wanted)
	found = slices.DeleteFunc(slices.Clone(found), func(o *one) bool { return o.id.IsZero() })
	if len(found) > 1 {
		return several(wanted)
	}
	var animal *one
	made := false
	if len(found) == 1 {
		animal = found[0]
	} else {
		err := t.faults()
		if wanted == (sought{}) {
			err.keep(mend(Name, "", "name.empty"))
		}
		a, refusal := t.readAnimal(r)
		err.keep(refusal)
		animal, made = &one{new: len(t.Rows.Animals)}, true
		animal.name, animal.species = a.Name, a.Species
		body, refusal := t.firstWeight(r, animal)
		err.keep(refusal)
		if err.first != nil {
			return err.first
		}
		t.Rows.Animals = append(t.Rows.Animals, importing.Animal{Source: t.source, Animal: a})
		t.herd.put(animal, a, wanted.mark)
		t.add(body)
		return t.livesIn(r, animal)
	}
	if !made {
		t.Taken.Known++
	}
	t.part = importing.Part{Type: model.TypeEntry, Kind: care.KindWeight} // the animal is there
	body, refusal := t.firstWeight(r, animal)
	t.add(body)
	if refusal == errWaits {
		t.Waiting++
	} else if refusal != nil {
		t.refused(refusal)
	}
	return t.livesIn(r, animal)
}

// livesIn is the stay that stands beside an animal: in the place that its row
// names, and there still. What is wrong with it keeps nothing else of the row out.
func (t *taker) livesIn(r Row, o *one) *model.Refusal {
	told := t.cells.text(r, StayPlace) != "" || slices.ContainsFunc(within(), func(f Field) bool { return t.cells.text(r, f) != "" })
	if !told || t.cells.t.Housed == LeaveOut && !t.cells.t.has(StayFrom) {
		return nil
	}
	t.also, t.part = nil, importing.Part{Type: model.TypeStay}
	err := t.faults()
	from, refusal := t.cells.readWhen(r, whenColumns{day: StayFrom})
	if err.keep(refusal); refusal == nil && from.IsZero() {
		err.keep(mend(StayFrom, "", "day.empty"))
	}
	at, refusal := t.place(r)
	if err.keep(refusal); err.first != nil {
		return err.first
	}
	if t.livesThere(o, at) {
		return nil
	}
	t.Rows.Stays = append(t.Rows.Stays, importing.Stay{Source: t.source, Of: o.id, New: o.new, Place: at.id, NewPlace: at.new, From: from})
	return nil
}

// livesThere reports whether an animal of the collection lives in a place of it now:
// a list of animals that is read once more says nothing new of that.
func (t *taker) livesThere(o *one, at *spot) bool {
	if t.House == nil || o.id.IsZero() || at.id.IsZero() {
		return false
	}
	s, lives := t.House.Where(o.id, t.Now)
	return lives && s.Place == at.id
}

func several(s sought) *model.Refusal {
	return mend(Name, cmpOr(s.name, cmpOr(s.code, s.chip)), "table.several")
}

// firstWeight is the weight that stands beside an animal, nil where none does.
func (t *taker) firstWeight(r Row, o *one) (*importing.Entry, *model.Refusal) {
	if t.cells.text(r, MassOf) == "" || t.cells.t.On == LeaveOut && !t.cells.t.has(OnDay) {
		return nil, nil
	}
	err := t.faults()
	mass, refusal := t.cells.readMass(r, MassOf)
	err.keep(refusal)
	at, refusal := t.cells.readMoment(r)
	err.keep(refusal)
	if err.first != nil || mass.IsZero() {
		return nil, err.first
	}
	return t.made(o, at, care.Weight{Mass: mass}), nil
}

func (t *taker) made(o *one, at model.Moment, body care.Body) *importing.Entry {
	return &importing.Entry{Source: t.source, Of: o.id, New: o.new, At: at, Body: body, Heaviest: t.heaviest[o.species]}
}

func (t *taker) add(e *importing.Entry) {
	if e != nil {
		t.Rows.Entries = append(t.Rows.Entries, *e)
	}
}

// readAnimal reads what a row says of a new animal.
func (t *taker) readAnimal(r Row) (animals.Animal, *model.Refusal) {
	c := t.cells
	a := animals.Animal{Name: c.text(r, Name), Code: c.text(r, Code), Morph: c.text(r, Morph), Origin: c.text(r, Origin), Permits: c.text(r, Permits), From: c.text(r, From), Note: c.text(r, Remark)}
	if a.Name == "" {
		a.Name = a.Code // one that goes by its code alone
	}
	a.Chip = readChip(c.text(r, Chip))
	err := t.faults()
	if text := c.text(r, Chip); roundedChip.MatchString(text) {
		err.keep(mend(Chip, text, "table.chip-rounded"))
	}
	a.Species = choose[knowledge.SpeciesID](&err, c, r, Species)
	a.Sex = choose[animals.Sex](&err, c, r, Sex)
	a.SexHow = choose[animals.SexHow](&err, c, r, SexHow)
	a.Source = choose[animals.SourceCode](&err, c, r, SourceOf)
	a.Status = choose[animals.Status](&err, c, r, Status)
	if standard := choose[animals.ChipStandard](&err, c, r, ChipKind); standard != "" && !a.Chip.IsZero() {
		a.Chip.Standard = standard
	}
	a.Chip.Site = choose[animals.ChipSite](&err, c, r, ChipSite)
	if a.Status == "" {
		a.Status = animals.Kept
	}
	for _, on := range []struct {
		field Field
		to    *model.Date
	}{{Hatched, &a.Hatched}, {Since, &a.Since}, {StatusDay, &a.StatusDay}, {Measured, &a.Length.On}, {ChipRead, &a.Chip.LastRead}} {
		d, refusal := c.readDate(r, on.field)
		*on.to = d.date
		err.keep(refusal)
	}
	length, refusal := c.readLength(r, SnoutVent)
	a.Length.SnoutVent = length
	err.keep(refusal)
	if err.first == nil {
		err.keep(a.Check(t.Now.Day()))
	}
	return a, err.first
}

// faults keeps every refusal, the first for itself, and one that waits before all
// others.
type faults struct {
	first *model.Refusal
	all   *[]*model.Refusal
}

func (e *faults) keep(r *model.Refusal) {
	told := func(o *model.Refusal) bool { return o.Field == r.Field } // one fault of a cell is enough
	if r != nil && r != errWaits && !slices.ContainsFunc(*e.all, told) {
		*e.all = append(*e.all, r)
	}
	if e.first == nil || r == errWaits {
		e.first = cmpRefusal(r, e.first)
	}
}

func cmpRefusal(a, b *model.Refusal) *model.Refusal {
	if a != nil {
		return a
	}
	return b
}

func choose[T ~string](e *faults, c *cellReader, r Row, f Field) T {
	value, refusal := c.readChoice(r, f)
	e.keep(refusal)
	return T(value)
}

// entry reads a row of a list of entries.
func (t *taker) entry(r Row) *model.Refusal {
	wanted := t.sought(r)
	found := t.herd.find(wanted)
	if len(found) > 1 {
		return several(wanted)
	}
	err := t.faults()
	if wanted == (sought{}) {
		err.keep(mend(Name, "", "name.empty"))
	}
	at, refusal := t.cells.readMoment(r)
	err.keep(refusal)
	body, refusal := t.readBody(r)
	err.keep(refusal)
	unknown := ""
	if m, is := body.(care.Meal); is {
		m.Batch, unknown, refusal = t.batch(t.cells.text(r, BatchOf))
		body = m
		err.keep(refusal)
	}
	if err.first != nil {
		return err.first
	}
	if len(found) == 0 {
		stranger, refusal := t.stranger(wanted)
		if refusal != nil {
			return refusal
		}
		found = []*one{stranger}
	}
	made := t.made(found[0], at, body)
	made.NoBatch = unknown
	t.add(made)
	return nil
}

// stranger is an animal that only entries name, to be made.
func (t *taker) stranger(s sought) (*one, *model.Refusal) {
	a := animals.Animal{Name: cmpOr(s.name, s.code), Code: s.code, Chip: readChip(s.chip), Status: animals.Kept}
	if !t.Strangers || a.Name == "" {
		return nil, mend(Name, cmpOr(a.Name, s.chip), "table.stranger")
	}
	if refusal := a.Check(t.Now.Day()); refusal != nil {
		return nil, refusal
	}
	o := &one{new: len(t.Rows.Animals)}
	t.Rows.Animals = append(t.Rows.Animals, importing.Animal{Source: t.source, Animal: a, Named: true})
	t.herd.put(o, a, s.mark)
	t.Named++
	return o, nil
}

func (t *taker) readBody(r Row) (care.Body, *model.Refusal) {
	c := t.cells
	err := t.faults()
	beside := care.Beside{Note: c.text(r, Remark)}
	switch c.t.Lists {
	case Weights:
		w := care.Weight{Gut: choose[care.Gut](&err, c, r, Gut), Beside: beside}
		mass, refusal := c.readMass(r, MassOf)
		w.Mass = mass
		err.keep(refusal)
		if mass.IsZero() {
			err.keep(mend(MassOf, "", "text.empty"))
		}
		return w, err.first
	case Meals:
		return t.readMeal(r, beside)
	case Sheds:
		s := care.Shed{Skin: choose[care.Skin](&err, c, r, Skin), StuckEyeCaps: choose[care.Told](&err, c, r, EyeCaps),
			StuckTailTip: choose[care.Told](&err, c, r, TailTip), Beside: beside}
		return s, err.first
	case Wastes:
		w := care.Waste{Beside: beside}
		var refusal *model.Refusal
		w.Faeces, refusal = c.readTraits(r, Faeces)
		err.keep(refusal)
		w.Urates, refusal = c.readTraits(r, Urates)
		err.keep(refusal)
		return w, err.first
	}
	return care.Note{Text: beside.Note}, nil
}

func (t *taker) readMeal(r Row, beside care.Beside) (care.Body, *model.Refusal) {
	c := t.cells
	err := t.faults()
	m := care.Meal{
		Prey: choose[care.Prey](&err, c, r, Prey), Size: choose[care.PreySize](&err, c, r, PreySize), State: choose[care.PreyState](&err, c, r, PreyState),
		Outcome: choose[care.Outcome](&err, c, r, Outcome), Beside: beside,
	}
	if !c.t.has(Outcome) {
		if m.Outcome = care.Outcome(c.t.Said); m.Outcome == "" {
			return m, errWaits
		}
	}
	mass, refusal := c.readMass(r, PreyMass)
	m.Each = mass
	err.keep(refusal)
	if text := c.text(r, Count); text != "" {
		n, failed := c.w.text.ParseCount(text, care.MaxCount)
		m.Count = n
		if failed != nil {
			err.keep(named(Count, failed))
		}
	}
	up, refusal := c.readDate(r, BroughtUp)
	m.BroughtUp = up.date
	err.keep(refusal)
	return m, err.first
}

// batch is the batch of feeders of that name or id; unknown is the name where there is none.
func (t *taker) batch(text string) (id model.BatchID, unknown string, refusal *model.Refusal) {
	name := animals.Fold(text)
	for _, b := range t.Batches {
		switch {
		case text == b.ID.String():
			return b.ID, "", nil
		case name == "" || animals.Fold(b.Name) != name:
		case !id.IsZero():
			return model.BatchID{}, "", mend(BatchOf, text, "table.batches-several")
		default:
			id = b.ID
		}
	}
	if id.IsZero() {
		unknown = text
	}
	return id, unknown, nil
}

// Doubts are the questions that the rows raise by their reason, and the rows that
// raise them.
func Doubts(j importing.Judgement) map[string][]importing.Refused {
	asked := map[string][]importing.Refused{}
	for _, r := range j.Refused {
		if r.Refusal.Answer != model.Mend {
			asked[r.Refusal.Reason] = append(asked[r.Refusal.Reason], r)
		}
	}
	return asked
}
