package papers

import (
	"context"
	"image"

	"coilward/export/paper"
	"coilward/model"
	"coilward/model/collection"
	"coilward/model/due"
	"coilward/model/knowledge"
	"coilward/model/people"
	"coilward/model/photo"
	"coilward/model/wording"
	"coilward/ui/particulars"
	"coilward/ui/place"
)

// kind is one of the papers.
type kind string

// The papers.
const (
	healthRecord  kind = ""
	emergencyCard kind = "card"
	vetPage       kind = "vet"
	quarantined   kind = "quarantine"
	sitterPaper   kind = "sitter"
	boxCards      kind = "cards"
	roundSheet    kind = "round"
	powerCut      kind = place.PowerCutPaper
	checkSheets   kind = place.CheckSheet
	weighSheet    kind = "weigh-sheet"
)

// wanted is which paper is asked for.
type wanted struct {
	kind     kind
	called   []people.Stored // who is named as to be called
	days     int             // that the paper for the sitter is for
	stockDay model.Day       // of which the stock is asked for; 0: today
	animal   model.AnimalID
	size     paper.Size
	language string
	organs   bool // the layer of organs on the drawings
	notes    bool // what was noted of samples
	told     bool // from whom animals came, and why a newcomer was released
	cards    cards
	write    toWrite
}

// desk is what papers are made with. Its methods may be called off Fyne's
// goroutine, but not two at once on the same sheets.
type desk struct {
	collection *collection.Collection
	photos     *photo.Folder
	tables     *knowledge.Tables
	languages  *wording.Languages
	units      wording.Units
	version    string
	book       *due.Book
}

// made is one paper with its pages.
type made struct {
	document paper.Document
	issued   model.Moment
	name     string // of its file, as suggested
	pages    []image.Image
}

// gathered is what a paper is made of, once it was read.
type gathered struct {
	issued model.Moment
	kicker string   // the key of what the paper is called; empty: by its title
	named  []string // what the name of its file says behind that
	// lay makes it; nil where there is nothing that it would be about.
	lay func(text *wording.Text) (paper.Document, error)
}

// about is what a paper is made of whose file is called by its kind and its day.
func about(issued model.Moment, kicker string, lay func(text *wording.Text) (paper.Document, error)) gathered {
	return gathered{issued, kicker, []string{issued.Day().String()}, lay}
}

// surely lays a paper that cannot fail.
func surely(lay func(text *wording.Text) paper.Document) func(*wording.Text) (paper.Document, error) {
	return func(text *wording.Text) (paper.Document, error) { return lay(text), nil }
}

// make makes the paper and draws its pages, width pixels wide. Where there is nothing that
// it would be about it has no pages.
func (d desk) make(ctx context.Context, w wanted, width int, progress func(float64)) (*made, error) {
	var list due.List
	if w.kind == sitterPaper {
		var err error
		if list, err = d.book.Bring(ctx, d.collection, nil); err != nil {
			return nil, err
		}
	}
	var g gathered
	if err := d.collection.View(func(v model.View) (err error) { g, err = d.gather(v, w, list); return err }); err != nil {
		return nil, err
	}
	m := &made{issued: g.issued}
	if g.lay == nil {
		return m, nil
	}
	text := d.languages.In(w.language, d.units)
	var err error
	if m.document, err = g.lay(text); err != nil {
		return nil, err
	}
	called := m.document.Title
	if g.kicker != "" {
		called = text.Say(g.kicker)
	}
	m.name = paper.FileName(".pdf", append([]string{called}, g.named...)...)
	return m, d.draw(ctx, m, width, progress)
}

// gather reads what the paper is made of; list is what is due, for the sitter.
func (d desk) gather(v model.View, w wanted, list due.List) (gathered, error) {
	switch w.kind {
	case sitterPaper:
		s, err := paper.GatherSitting(v, d.tables, list, w.days)
		return gathered{s.Issued, "paper.sitter.kicker", []string{s.From.String()}, surely(func(text *wording.Text) paper.Document {
			return paper.SitterPaper(s, w.called, d.tables, text, w.size)
		})}, err
	case boxCards:
		return d.gatherCards(v, w)
	case powerCut:
		plan, err := paper.GatherPowerCut(v, d.tables)
		return about(plan.Issued, "paper.power-cut.kicker", surely(func(text *wording.Text) paper.Document {
			return paper.PowerCutPaper(plan, w.called, text, w.size)
		})), err
	case roundSheet:
		s, err := paper.GatherRoundSheet(v, d.tables, "")
		return about(s.Issued, "paper.round.kicker", func(text *wording.Text) (paper.Document, error) {
			return paper.RoundSheetPaper(s, text, w.size)
		}), err
	case checkSheets:
		return d.gatherCheckSheets(v, w)
	case weighSheet:
		return d.gatherWeighSheet(v, w)
	case quarantined:
		return d.gatherQuarantine(v, w)
	case collectionOf:
		c, err := paper.GatherCollection(v, d.tables)
		c.Version = d.version
		return about(c.Issued, "paper.collection.kicker", surely(func(text *wording.Text) paper.Document {
			return paper.CollectionList(c, text, w.size)
		})), err
	case stockOn:
		return d.gatherStock(v, w)
	case doorSheet:
		return d.gatherDoorSheet(v, w)
	}
	return d.gatherAnimal(v, w)
}

// gatherAnimal reads what the record, the card and the page for a vet of an animal say.
func (d desk) gatherAnimal(v model.View, w wanted) (gathered, error) {
	g, err := paper.Gather(v, paper.Gathering{Animal: w.animal, Tables: d.tables, Pictures: d.photos.JPEG, Version: d.version})
	if err != nil {
		return gathered{}, err
	}
	kicker := "paper.record.kicker"
	switch w.kind {
	case emergencyCard:
		kicker = "paper.card.kicker"
	case vetPage:
		kicker = "paper.vet.kicker"
	}
	return gathered{v.Now(), kicker, []string{g.Animal().Name, v.Now().Day().String()}, surely(func(text *wording.Text) paper.Document {
		facts := g.Facts()
		facts.Organs, facts.SampleNotes = w.organs, w.notes
		switch w.kind {
		case emergencyCard:
			return paper.EmergencyCard(facts, w.called, text)
		case vetPage:
			return paper.VetPage(facts, text, w.size)
		}
		return paper.HealthRecord(facts, text, w.size)
	})}, nil
}

// gatherQuarantine reads the report of an animal's quarantine, where it has one.
func (d desk) gatherQuarantine(v model.View, w wanted) (gathered, error) {
	q, there, err := paper.GatherQuarantine(v, d.tables, w.animal)
	if err != nil || !there {
		return gathered{}, err
	}
	q.Version, q.Told = d.version, w.told
	return gathered{q.Issued, "paper.quarantine.kicker", []string{q.Animal.Name, q.Issued.Day().String()}, surely(func(text *wording.Text) paper.Document {
		return paper.QuarantineReport(q, text, w.size)
	})}, nil
}

// gatherCards reads the cards of boxes or animals.
func (d desk) gatherCards(v model.View, w wanted) (gathered, error) {
	var in []model.PlaceID
	if w.cards.some {
		if in = w.cards.boxes; len(in) == 0 { // none would be all
			return gathered{}, nil
		}
	}
	gather := paper.GatherCards
	if w.cards.ofAnimals {
		gather = paper.GatherAnimalCards
	}
	cards, err := gather(v, in...)
	issued := v.Now()
	return about(issued, "", func(text *wording.Text) (paper.Document, error) {
		return paper.CardsPaper(cards, w.cards.laying, d.tables, text, issued)
	}), err
}

// draw draws the pages of a paper.
func (d desk) draw(ctx context.Context, m *made, width int, progress func(float64)) error {
	m.document = m.document.By(d.version)
	pages, sheets := paper.Layout(m.document), newSheets()
	for n := range pages {
		if err := ctx.Err(); err != nil {
			return err
		}
		m.pages = append(m.pages, sheets.draw(m.document, pages, n+1, width))
		progress(float64(n+1) / float64(len(pages)))
	}
	return nil
}

// printed is the paper as it is saved and printed.
func (m *made) printed() particulars.Printed {
	return particulars.Printed{Document: m.document, Issued: m.issued, Name: m.name}
}
