package paper

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/exam"
	"coilward/model/knowledge"
	"coilward/model/people"
	"coilward/model/samples"
)

// Lab is what the form that goes with samples to a lab states. What a form asks for
// is common practice, no source.
type Lab struct {
	Issued  model.Moment
	Samples []LabSample
	Lab     people.Person // without a name: lines to write on, as of the others
	Keeper  people.Person
	Vet     people.Person
	Urgent  bool
	// Signs and Treatments are told only where the keeper wants it.
	Signs, Treatments bool
}

// LabSample is one tube.
type LabSample struct {
	samples.Stored
	TakenBy string // empty: not known
	Animals []LabAnimal
}

// LabAnimal is one animal of a tube.
type LabAnimal struct {
	animals.Animal
	ID    model.AnimalID
	Found []exam.StoredProblem // what is open
}

// GatherLab reads the form for the samples, in the order given. Its lab is the one
// that they name, if all name the same; a private one only where it is among those
// that were asked for.
func GatherLab(v model.View, of []model.SampleID, asked ...model.PersonID) (Lab, error) {
	form := Lab{Issued: v.Now()}
	labs := map[model.PersonID]bool{}
	for _, id := range of {
		s, err := readSample(v, id)
		if err != nil {
			return form, err
		}
		one := LabSample{Stored: s}
		labs[s.Lab] = true
		taker, err := person(v, s.TakenBy)
		if err != nil {
			return form, err
		}
		if !taker.Private {
			one.TakenBy = taker.Name
		}
		for _, animal := range s.Animals {
			a, err := readAnimal(v, animal)
			if err != nil {
				return form, err
			}
			problems, err := exam.Problems(v, animal)
			if err != nil {
				return form, fmt.Errorf("gather what is open of %s: %w", a.Name, err)
			}
			problems = slices.DeleteFunc(problems, func(p exam.StoredProblem) bool { return !p.Open() })
			one.Animals = append(one.Animals, LabAnimal{a.Animal, animal, problems})
		}
		form.Samples = append(form.Samples, one)
	}
	if len(labs) != 1 || len(form.Samples) == 0 {
		return form, nil
	}
	named := form.Samples[0].Lab
	lab, err := person(v, named)
	if err == nil && (!lab.Private || slices.Contains(asked, named)) {
		form.Lab = lab
	}
	return form, err
}

// person is who has that id; nobody where it is zero or was taken out.
func person(v model.View, id model.PersonID) (people.Person, error) {
	if id.IsZero() {
		return people.Person{}, nil
	}
	d, err := v.Document(id.ID)
	if errors.Is(err, model.ErrNotFound) {
		return people.Person{}, nil
	}
	if err != nil {
		return people.Person{}, fmt.Errorf("gather who has to do with a sample: %w", err)
	}
	p, err := people.Decode(d)
	return p.Person, err
}

// LabForm is the form that goes with samples to a lab: from whom, to whom, each tube
// with its animal, what it is looked through for, and how it is packed.
func LabForm(f Lab, tables *knowledge.Tables, text Text, size Size) Document {
	r := labForm{f, record{Facts: Facts{Tables: tables, Issued: f.Issued}, text: text, long: &[][2]string{}}}
	blocks := []Block{
		Paragraph{r.say("paper.lab.kicker"), smallBold.In(Accent)},
		Paragraph{text.Count("paper.lab.head", len(f.Samples)), titleStyle},
		Paragraph{r.say("paper.record.issued", gaps{"Day": f.Issued.Day()}) + " · " + r.urgency(), textStyle.In(Ink2)},
		Columns{Shares: []float64{1, 1, 1}, Gap: 6, Parts: [][]Block{r.who("paper.lab.to", f.Lab), r.who("paper.lab.from", f.Keeper), r.who("paper.lab.vet", f.Vet)}},
		Heading{Level: 2, Text: r.say("paper.lab.tubes")},
		r.tubes(),
		Paragraph{r.say("paper.lab.label"), smallStyle},
	}
	if f.Signs {
		blocks = append(blocks, Keep{Heading{Level: 2, Text: r.say("paper.lab.signs")}, List{Dot, r.signs(), textStyle}})
	}
	if f.Treatments {
		blocks = append(blocks, Keep{Heading{Level: 2, Text: r.say("paper.lab.treatments")}, Signatures{r.say("paper.lab.treatments-what")}, Signatures{""}})
	}
	blocks = append(blocks,
		Keep{Heading{Level: 2, Text: r.say("paper.lab.sending")}, Grid{Pairs: r.sending(), Columns: 2, Style: textStyle}},
		Keep{ // the signatures never stand on a page of their own
			Heading{Level: 2, Text: r.say("paper.lab.packing")},
			List{Ring, strings.Split(r.say("paper.lab.packing-text"), "\n"), textStyle},
			Paragraph{r.say("paper.lab.packing-law") + " " + r.say("paper.lab.packing-source"), smallStyle},
			Signatures{r.say("paper.lab.sign"), r.say("paper.lab.received")},
		})
	if len(*r.long) > 0 {
		blocks = append(blocks, Heading{Level: 2, Text: r.say("paper.lab.in-full")}, Grid{Pairs: *r.long, Style: smallInk})
	}
	return Document{
		Title: r.say("paper.lab.kicker"), Subject: r.say("paper.record.issued", gaps{"Day": f.Issued.Day()}), Language: text.Language(), Size: size,
		FootLeft: r.say("paper.lab.kicker"), FootMiddle: r.say("paper.card.foot", gaps{"Day": f.Issued.Day()}), PageOf: r.pageOf,
		Sections: []Section{{Name: r.say("paper.lab.kicker"), Fit: true, Blocks: blocks}},
	}.tellingMissing(text)
}

// labForm is a form with what is needed to word it.
type labForm struct {
	Lab
	record
}

func (r labForm) urgency() string {
	if r.Urgent {
		return Strong(r.say("paper.lab.urgent"))
	}
	return r.say("paper.lab.routine")
}

// who is a person with number and address, or lines to write on.
func (r labForm) who(key string, p people.Person) []Block {
	blocks := []Block{Paragraph{r.say(key), smallBold.In(Accent)}}
	if p.Name == "" {
		return append(blocks, Signatures{r.say("paper.lab.name")}, Signatures{r.say("paper.lab.address")})
	}
	blocks = append(blocks, Paragraph{Strong(r.brief("paper.long.name", p.Name, longestFact)), textStyle})
	if p.Address != "" {
		blocks = append(blocks, Paragraph{r.address(p.Address), smallInk})
	}
	for _, phone := range p.Phones {
		blocks = append(blocks, Paragraph{r.brief("paper.lab.address", phone, longestSite), smallInk})
	}
	return blocks
}

// address is an address in its lines; one that is too long for the head of the form
// stands there in one line and cut.
func (r labForm) address(typed string) string {
	clean := Clean(typed)
	if len([]rune(clean)) <= longestAddress && strings.Count(clean, "\n") < mostAddressLines {
		return clean
	}
	return r.brief("paper.lab.address", typed, longestAddress)
}

// The longest that a tube's lines get before they stand in full behind.
const (
	longestTube = 40
	longestSite = 60
)

// The longest address in the head of the form.
const (
	longestAddress   = 240
	mostAddressLines = 8
)

// tubes is a row for each tube.
func (r labForm) tubes() Table {
	t := Table{Columns: []Column{
		{Title: r.say("paper.lab.tube"), Share: 1.25, Style: smallInk}, {Title: r.say("paper.lab.animal"), Share: 2.1, Style: smallInk},
		{Title: r.say("paper.lab.sample"), Share: 1.7, Style: smallInk}, {Title: r.say("paper.lab.taken"), Share: 1.3, Style: smallInk}, {Title: r.say("paper.lab.for"), Share: 1.6, Style: smallInk}}}
	for _, s := range r.Samples {
		t.Rows = append(t.Rows, []Cell{{Text: r.tube(s)}, {Text: r.whom(s)}, {Text: r.sampled(s)}, {Text: r.when(s)}, {Text: r.lookedFor(s)}})
	}
	return t
}

func (r labForm) tube(s LabSample) string {
	id := s.ID.String()
	lines := []string{Strong(cmp.Or(r.brief("field.kit-number", s.Kit.Number, longestTube), "…"+id[len(id)-shortID:]))}
	if s.Kit.Lot != "" {
		lines = append(lines, r.headed("paper.lab.lot", "Lot", r.brief("field.kit-lot", s.Kit.Lot, longestTube)))
	}
	if !s.Kit.Expires.IsZero() {
		lines = append(lines, r.say("paper.lab.expires", gaps{"Day": s.Kit.Expires}))
	}
	return strings.Join(lines, "\n")
}

// whom is each animal with code, chip, species, sex and age; of a pool its members.
func (r labForm) whom(s LabSample) string {
	var lines []string
	if n := len(s.Animals); n > 1 {
		lines = append(lines, r.text.Count("paper.lab.pooled", n))
	}
	for _, a := range s.Animals {
		one := r.record
		one.Animal = a.Animal
		line := Strong(one.brief("paper.long.name", a.Name, longestTube))
		if a.Code != "" {
			line += " · " + one.brief("paper.long.code", a.Code, longestCode)
		}
		if !a.Chip.IsZero() {
			line += "\n" + r.say("paper.chip", gaps{"Digits": grouped(one.brief("paper.long.chip", a.Chip.Digits, 2*longestCode))})
		}
		lines = append(lines, line+"\n"+one.identity())
	}
	return strings.Join(lines, "\n")
}

func (r labForm) sampled(s LabSample) string {
	lines := []string{r.say("material." + string(s.Material))}
	if s.Site != "" {
		lines = append(lines, r.brief("field.sample-site", s.Site, longestSite))
	}
	if s.Storage != "" {
		lines = append(lines, r.say("paper.lab.kept", gaps{"How": r.brief("field.storage", s.Storage, longestSite)}))
	}
	return strings.Join(lines, "\n")
}

// when is the day and the minute of the taking; what is not known is left to be
// written.
func (r labForm) when(s LabSample) string {
	if s.Taken.IsZero() {
		return r.say("paper.lab.to-write")
	}
	lines := []string{r.text.Day(s.Taken.Day()), cmp.Or(minuteOf(s.Taken), r.say("paper.lab.no-time"))}
	if s.TakenBy != "" {
		lines = append(lines, r.say("paper.lab.by", gaps{"Name": r.brief("paper.long.name", s.TakenBy, longestTube)}))
	}
	return strings.Join(lines, "\n")
}

// minuteOf is the time of day of a moment; empty where it is not known to the minute.
func minuteOf(at model.Moment) string {
	if at.Precision == model.ToMinute || at.Precision == "" {
		return at.Time().Format("15:04")
	}
	return ""
}

func (r labForm) lookedFor(s LabSample) string {
	var lines []string
	for _, of := range s.For {
		lines = append(lines, r.agent(of))
	}
	return strings.Join(lines, "\n")
}

// signs is what is open of each animal, each animal once.
func (r labForm) signs() []string {
	var lines []string
	told := map[model.AnimalID]bool{}
	for _, s := range r.Samples {
		for _, a := range s.Animals {
			name := r.brief("paper.long.name", a.Name, longestTube)
			if told[a.ID] {
				continue
			}
			told[a.ID] = true
			var found []string
			for _, p := range a.Found {
				found = append(found, r.say("paper.lab.sign-since", gaps{"Finding": r.what(p), "Day": p.First().At.Day()}))
			}
			lines = append(lines, Strong(name)+": "+cmp.Or(strings.Join(found, "; "), r.say("paper.lab.no-signs")))
		}
	}
	return lines
}

// sending is the courier, its number and the day, as far as all tubes agree; what
// is not known is left to be written.
func (r labForm) sending() [][2]string {
	agreed := func(of func(LabSample) string) string {
		one := ""
		for i, s := range r.Samples {
			if i > 0 && of(s) != one {
				return ""
			}
			one = of(s)
		}
		return one
	}
	blank := r.say("paper.lab.to-write")
	posted := agreed(func(s LabSample) string {
		if s.Posted.IsZero() {
			return ""
		}
		return r.text.Day(s.Posted.Day())
	})
	return [][2]string{
		{r.say("field.courier"), cmp.Or(r.brief("field.courier", agreed(func(s LabSample) string { return s.Courier }), longestSite), blank)},
		{r.say("field.tracking"), cmp.Or(r.brief("field.tracking", agreed(func(s LabSample) string { return s.Tracking }), longestSite), blank)},
		{r.say("field.posted"), cmp.Or(posted, blank)},
		{r.say("paper.lab.medium"), blank}, // dry, or in which: the tube says it
	}
}
