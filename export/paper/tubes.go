package paper

import (
	"fmt"
	"strings"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/label"
	"coilward/model/samples"
)

// Tube is what the label of a sample's tube says: two things by which it is told, and
// the day and the minute when it was taken.
type Tube struct {
	ID     model.SampleID
	Names  []string // of the animals
	Code   string   // of a single animal; empty: none
	Number string   // of the kit; empty: none
	Sample samples.Sample
	Short  string // the last signs of its id, by which it is told without a number
}

// shortID is how many of the last signs of an id stand on a tube without a number.
const shortID = 6

// GatherTubes reads the labels of the samples, in the order given.
func GatherTubes(v model.View, of []model.SampleID) ([]Tube, error) {
	var tubes []Tube
	for _, id := range of {
		s, err := readSample(v, id)
		if err != nil {
			return nil, err
		}
		text := id.String()
		t := Tube{ID: id, Number: s.Kit.Number, Sample: s.Sample, Short: text[len(text)-shortID:]}
		for _, animal := range s.Animals {
			a, err := readAnimal(v, animal)
			if err != nil {
				return nil, err
			}
			t.Names = append(t.Names, a.Name)
			if len(s.Animals) == 1 {
				t.Code = a.Code
			}
		}
		tubes = append(tubes, t)
	}
	return tubes, nil
}

func readSample(v model.View, id model.SampleID) (samples.Stored, error) {
	d, err := v.Document(id.ID)
	if err != nil {
		return samples.Stored{}, fmt.Errorf("gather the sample %s: %w", id, err)
	}
	return samples.Read(d)
}

func readAnimal(v model.View, id model.AnimalID) (animals.Stored, error) {
	d, err := v.Document(id.ID)
	if err != nil {
		return animals.Stored{}, fmt.Errorf("gather the animal of a sample: %w", err)
	}
	return animals.Decode(d)
}

// TubesPaper lays labels for tubes on sheets, in their order. The error is that of
// Laying.Check, or names the tube whose code cannot be made.
func TubesPaper(tubes []Tube, on Laying, text Text, issued model.Moment) (Document, error) {
	if r := on.Check(); r != nil {
		return Document{}, r
	}
	d := Document{Title: text.Say("paper.tubes.kicker"), Subject: text.Say("paper.record.issued", gaps{"Day": issued.Day()}),
		Language: text.Language(), Size: sheetSize(on.Sheet), Footless: true}
	var drawn []drawnTube
	for _, t := range tubes {
		code, err := codeOf(label.TubeText(t.ID))
		if err != nil {
			return Document{}, fmt.Errorf("the label of tube %s: %w", t.ID, err)
		}
		drawn = append(drawn, drawnTube{t, text, code})
	}
	for from := on.First - 1; len(drawn) > 0; from = 0 {
		n := min(on.Sheet.Count()-from, len(drawn))
		figure := tubesOn(on.Sheet, from, drawn[:n])
		if marginBelow(on.Sheet) >= leastMargin {
			note := text.Say("paper.tubes.stick")
			if strings.ContainsRune(figure.Words, missing) {
				note = text.Say("paper.record.unprintable", gaps{"Box": string(missing)})
			}
			figure = below(on.Sheet, figure, note)
		}
		d.Sections = append(d.Sections, Section{Name: firstToLast(drawn[0].title(), drawn[n-1].title()), Blocks: []Block{figure}})
		drawn = drawn[n:]
	}
	return d, nil
}

// drawnTube is a tube's label with its code.
type drawnTube struct {
	Tube
	text Text
	code square
}

// title is whom the tube is of: the animal, or how many and the first.
func (t drawnTube) title() string {
	if len(t.Names) == 1 {
		return Clean(t.Names[0])
	}
	return t.text.Count("paper.tubes.pool", len(t.Names), gaps{"Names": Clean(strings.Join(t.Names, ", "))})
}

// told is the tube's own sign: its kit's number, else the last signs of its id.
func (t drawnTube) told() string {
	if t.Number != "" {
		return Clean(t.Number)
	}
	return "…" + t.Short
}

// lines are the lines of the label from the top: whom, which tube, what, and when.
func (t drawnTube) lines() []cardLine {
	which := t.told()
	if t.Code != "" {
		which = Clean(t.Code) + " · " + which
	}
	day := t.text.Say("paper.tubes.to-take")
	if !t.Sample.Taken.IsZero() {
		day = t.text.Say("paper.tubes.taken", gaps{"Day": strings.Join(filled(t.Sample.Taken.Day().String(), minuteOf(t.Sample.Taken)), " ")})
	}
	return []cardLine{{text: t.title(), style: cardName}, {text: which, style: cardText}, {text: t.text.Say("material." + string(t.Sample.Material)), style: cardSmall.In(Ink)}, {text: day, style: cardSmall.In(Ink)}}
}

func (t drawnTube) words() string {
	var all []string
	for _, l := range t.lines() {
		all = append(all, bare(l.text))
	}
	return strings.Join(all, ", ")
}

// mostTubeCode is the widest code of a tube in millimetres: a wider one bends around
// the tube.
const mostTubeCode = 12

// draw sets the label into its box: the code with its quiet zone at the right, the
// lines beside it, as large as they fit in height.
func (t drawnTube) draw(canvas Canvas, b Box) {
	whole := min(b.H()-.4, t.code.withQuiet(mostTubeCode))
	centre := b.Centre().Y
	square := Box{b.X1 - .2 - whole, centre - whole/2, b.X1 - .2, centre + whole/2}
	t.code.draw(canvas, square)
	margin := min(1.2, b.H()*.08)
	lines, height := t.lines(), 0.0
	for _, l := range lines {
		height += l.style.Lead
	}
	scale := min(1, (b.H()-2*margin)/height)
	y := centre - height*scale/2
	for _, l := range lines {
		st, said := narrowed(l.style.scaled(scale), l.text, square.X0-b.X0-margin)
		put(canvas, b.X0+margin, y+l.style.scaled(scale).baseline(), AlignLeft, st, said)
		y += l.style.Lead * scale
	}
}

// tubesOn is one page of labels, from label number from on.
func tubesOn(s label.Sheet, from int, tubes []drawnTube) Figure {
	var words []string
	for _, t := range tubes {
		words = append(words, t.words())
	}
	draw := func(canvas Canvas, page Box) {
		for i, t := range tubes {
			box := labelBox(s, page, from+i)
			if s.Cut {
				cutMarks(canvas, box)
			}
			t.draw(canvas, box)
		}
	}
	return Figure{H: sheetSize(s).H, Draw: draw, Words: strings.Join(words, "; ")}
}
