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

// make makes the paper and draws its pages, width pixels wide.
func (d desk) make(ctx context.Context, w wanted, width int, progress func(float64)) (*made, error) {
	switch w.kind {
	case sitterPaper:
		return d.makeSitter(ctx, w, width, progress)
	case boxCards:
		return d.makeCards(ctx, w, width, progress)
	case powerCut:
		return d.makePowerCut(ctx, w, width, progress)
	case roundSheet:
		return d.makeRound(ctx, w, width, progress)
	case checkSheets:
		return d.makeCheckSheets(ctx, w, width, progress)
	case weighSheet:
		return d.makeWeighSheet(ctx, w, width, progress)
	case quarantined:
		return d.makeQuarantine(ctx, w, width, progress)
	case collectionOf:
		return d.makeCollection(ctx, w, width, progress)
	case stockOn:
		return d.makeStock(ctx, w, width, progress)
	case doorSheet:
		return d.makeDoorSheet(ctx, w, width, progress)
	}
	var gathered paper.Gathered
	err := d.collection.View(func(v model.View) (err error) {
		gathered, err = paper.Gather(v, paper.Gathering{Animal: w.animal, Tables: d.tables, Pictures: d.photos.JPEG, Version: d.version})
		return err
	})
	if err != nil {
		return nil, err
	}
	facts := gathered.Facts()
	facts.Organs, facts.SampleNotes = w.organs, w.notes
	text := d.languages.In(w.language, d.units)
	m := &made{issued: facts.Issued}
	kicker := text.Say("paper.record.kicker")
	switch w.kind {
	case emergencyCard:
		m.document, kicker = paper.EmergencyCard(facts, w.called, text), text.Say("paper.card.kicker")
	case vetPage:
		m.document, kicker = paper.VetPage(facts, text, w.size), text.Say("paper.vet.kicker")
	default:
		m.document = paper.HealthRecord(facts, text, w.size)
	}
	m.name = paper.FileName(".pdf", kicker, facts.Animal.Name, facts.Issued.Day().String())
	return m, d.draw(ctx, m, width, progress)
}

// makeSitter makes the paper for the sitter, which is about all animals.
func (d desk) makeSitter(ctx context.Context, w wanted, width int, progress func(float64)) (*made, error) {
	list, err := d.book.Bring(ctx, d.collection, nil)
	if err != nil {
		return nil, err
	}
	var sitting paper.Sitting
	err = d.collection.View(func(v model.View) (err error) {
		sitting, err = paper.GatherSitting(v, d.tables, list, w.days)
		return err
	})
	if err != nil {
		return nil, err
	}
	text := d.languages.In(w.language, d.units)
	m := &made{issued: sitting.Issued, document: paper.SitterPaper(sitting, w.called, d.tables, text, w.size)}
	m.name = paper.FileName(".pdf", text.Say("paper.sitter.kicker"), sitting.From.String())
	return m, d.draw(ctx, m, width, progress)
}

// makeRound makes the sheet for today's round, which is about all animals.
func (d desk) makeRound(ctx context.Context, w wanted, width int, progress func(float64)) (*made, error) {
	var s paper.RoundSheet
	if err := d.collection.View(func(v model.View) (err error) { s, err = paper.GatherRoundSheet(v, d.tables, ""); return err }); err != nil {
		return nil, err
	}
	text := d.languages.In(w.language, d.units)
	m := &made{issued: s.Issued, name: paper.FileName(".pdf", text.Say("paper.round.kicker"), s.Issued.Day().String())}
	var err error
	if m.document, err = paper.RoundSheetPaper(s, text, w.size); err != nil {
		return nil, err
	}
	return m, d.draw(ctx, m, width, progress)
}

// makePowerCut makes the paper for a power cut, which is about all animals.
func (d desk) makePowerCut(ctx context.Context, w wanted, width int, progress func(float64)) (*made, error) {
	var plan paper.PowerCutPlan
	if err := d.collection.View(func(v model.View) (err error) { plan, err = paper.GatherPowerCut(v, d.tables); return err }); err != nil {
		return nil, err
	}
	text := d.languages.In(w.language, d.units)
	m := &made{issued: plan.Issued, document: paper.PowerCutPaper(plan, w.called, text, w.size)}
	m.name = paper.FileName(".pdf", text.Say("paper.power-cut.kicker"), plan.Issued.Day().String())
	return m, d.draw(ctx, m, width, progress)
}

// makeQuarantine makes the report of an animal's quarantine; where it has none it has no
// pages.
func (d desk) makeQuarantine(ctx context.Context, w wanted, width int, progress func(float64)) (*made, error) {
	var q paper.Quarantine
	var there bool
	err := d.collection.View(func(v model.View) (err error) {
		q, there, err = paper.GatherQuarantine(v, d.tables, w.animal)
		return err
	})
	if err != nil || !there {
		return &made{}, err
	}
	q.Version, q.Told = d.version, w.told
	text := d.languages.In(w.language, d.units)
	m := &made{issued: q.Issued, document: paper.QuarantineReport(q, text, w.size)}
	m.name = paper.FileName(".pdf", text.Say("paper.quarantine.kicker"), q.Animal.Name, q.Issued.Day().String())
	return m, d.draw(ctx, m, width, progress)
}

// makeCards makes the cards of boxes or animals; where there is none it has no pages.
func (d desk) makeCards(ctx context.Context, w wanted, width int, progress func(float64)) (*made, error) {
	text := d.languages.In(w.language, d.units)
	gather := paper.GatherCards
	if w.cards.ofAnimals {
		gather = paper.GatherAnimalCards
	}
	m, in := &made{}, []model.PlaceID{}
	if w.cards.some {
		if in = w.cards.boxes; len(in) == 0 {
			return m, nil
		}
	}
	err := d.collection.View(func(v model.View) error {
		gathered, err := gather(v, in...)
		if err != nil {
			return err
		}
		m.issued = v.Now()
		m.document, err = paper.CardsPaper(gathered, w.cards.laying, d.tables, text, m.issued)
		return err
	})
	if err != nil {
		return nil, err
	}
	m.name = paper.FileName(".pdf", m.document.Title, m.issued.Day().String())
	return m, d.draw(ctx, m, width, progress)
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
