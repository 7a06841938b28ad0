package shelf

import (
	"slices"
	"strings"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/knowledge"
	"coilward/model/round"
	"coilward/model/samples"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// swab asks of what samples are, what is looked for in them, and with which kits.
func (s *setup) swab() []fyne.CanvasObject {
	p := s.page
	of, last := &s.set.sample, p.house.tubes.last
	if of.Material == "" {
		of.Material, of.For, of.Kit = last.Material, slices.Clone(last.For), last.Kit
	}
	of.For = slices.Clone(of.For)
	of.Kit.Number = samples.Following(last.Kit.Number)
	if p.walk != nil {
		of.Kit.Number = p.unused()
	}
	var values, names []string
	for _, m := range p.window.Tables().Materials() {
		values, names = append(values, string(m.ID)), append(names, p.say("material."+string(m.ID)))
	}
	looked := widgets.Stack()
	show := func() { s.lookedFor(looked) }
	material := particulars.NewFew(p.say("field.material"), values, names, string(of.Material), func(v string) {
		of.Material = knowledge.MaterialID(v)
		show()
	})
	show()
	parts := []fyne.CanvasObject{}
	if n := len(p.house.tubes.waiting); n > 0 {
		parts = append(parts, widgets.Para(p.window.Text().Count("shelf.swab.waiting", n), look.Note, look.Soft))
	}
	return append(parts, s.field("kit-number", of.Kit.Number, widgets.FieldOptions{}).Container, material.Container, s.caution, looked,
		widgets.RowTop(look.S12, widgets.Grow(s.field("kit-lot", of.Kit.Lot, widgets.FieldOptions{}).Container),
			widgets.Grow(s.field("kit-expires", particulars.Typed(p.window, of.Kit.Expires), widgets.FieldOptions{}).Container)))
}

// lookedFor shows what is looked for, what says nothing of a python in that material or is
// missed often there, and what is to be heeded when it is taken.
func (s *setup) lookedFor(looked *fyne.Container) {
	p, of, tables := s.page, &s.set.sample, s.page.window.Tables()
	s.caution.Objects = nil
	switch m, _ := tables.Material(of.Material); m.Takes {
	case knowledge.InMouth:
		s.caution.Objects = []fyne.CanvasObject{widgets.Col(look.S8, widgets.Caution(p.say("stop.mouth.caution")), widgets.Para(p.say("shelf.swab.or-vet"), look.Note, look.Soft))}
	case knowledge.ByVet:
		s.caution.Objects = []fyne.CanvasObject{widgets.Caution(p.say("tray.by-vet"))}
	}
	s.caution.Hidden = len(s.caution.Objects) == 0
	chips := widgets.Wrap(look.S8)
	parts := []fyne.CanvasObject{widgets.Line(p.say("field.looked-for"), look.NoteBold, look.Soft), chips}
	var chosen []knowledge.AgentID // in the order of their table
	for _, a := range tables.Agents() {
		on := slices.Contains(of.For, a.ID)
		if on {
			chosen = append(chosen, a.ID)
		}
		if open, leaves := samples.Reach(tables, a.ID, of.Material); leaves && on && of.Material != "" {
			parts = append(parts, widgets.Caution(p.say("agent."+string(a.ID))+": "+p.window.Text().Label(open)))
		}
		chips.Add(widgets.Chip("", p.say("agent."+string(a.ID)), on, func() {
			if i := slices.Index(of.For, a.ID); i >= 0 {
				of.For = slices.Delete(of.For, i, i+1)
			} else {
				of.For = append(of.For, a.ID)
			}
			s.lookedFor(looked)
		}))
	}
	of.For = chosen
	looked.Objects = []fyne.CanvasObject{widgets.Col(look.S8, parts...)}
	if s.contents != nil {
		s.contents.Refresh()
	}
}

// readKits reads with which kits samples are taken. What is taken is asked for only
// where somebody is walked to for whom no kit waits.
func (s *setup) readKits() (err error) {
	p, of := s.page, &s.set.sample
	of.Kit.Number, of.Kit.Lot = s.fields["kit-number"].Text(), s.fields["kit-lot"].Text()
	if of.Kit.Expires, err = particulars.ReadDateInFull(p.window, "kit-expires", s.fields["kit-expires"].Text()); err != nil {
		return err
	}
	stops := Stops(p.rows, round.Swab, s.set.all)
	if p.walk != nil {
		stops = p.walk.Stops
	}
	if !slices.ContainsFunc(stops, func(s Stop) bool { return s.Kit.IsZero() }) {
		return nil
	}
	if r := of.Check(p.window.Now()); r != nil {
		return r
	}
	return nil
}

// sample is the sample of a stop: what was noted there, or the kit that waits; found
// is false where there is neither.
func (p *Page) sample(i int) (s samples.Stored, found bool) {
	id := p.walk.Of(i).Entry.ID
	if id.IsZero() {
		id = p.walk.Stops[i].Kit.ID
	}
	if id.IsZero() {
		return s, false
	}
	err := p.window.Collection().View(func(v model.View) error {
		d, err := v.Document(id)
		if err == nil {
			s, err = samples.Read(d)
		}
		return err
	})
	return s, err == nil
}

// sampleHere is the sample that is to be noted where one is: what it was, or what was
// chosen once, with the number that is typed.
func (p *Page) sampleHere() (s samples.Stored, noted bool) {
	if s, noted = p.sample(p.walk.At()); !noted {
		stop, _ := p.walk.Here()
		s = samples.Stored{Animals: []model.AnimalID{stop.Animal}, Sample: p.job.sample}
		s.Kit.Number = p.unused()
	}
	if p.typed != "" {
		s.Kit.Number = samples.Numbered(s.Kit.Number, p.typed)
	}
	return s, noted
}

// unused is the number of the next kit that was used for nobody in this walk, and
// waits for nobody.
func (p *Page) unused() string {
	used := map[string]bool{}
	for i := range p.walk.Stops {
		used[strings.ToLower(p.walk.Of(i).Number)] = true
	}
	for _, k := range p.house.tubes.waiting {
		used[strings.ToLower(k.Kit.Number)] = true
	}
	number := p.job.sample.Kit.Number
	for number != "" && used[strings.ToLower(number)] {
		number = samples.Following(number)
	}
	return number
}

// takes is who takes the sample where one is.
func (p *Page) takes() knowledge.Takes {
	s, _ := p.sampleHere()
	m, _ := p.window.Tables().Material(s.Material)
	return m.Takes
}

// swabbed notes that the sample was taken, or leaves it to the vet: then its kit waits
// in the tray.
func (p *Page) swabbed(taken bool) {
	stop, here := p.walk.Here()
	if !here {
		return
	}
	vets := p.house.tubes.vets
	switch {
	case taken && p.takes() == knowledge.ByVet:
		p.tell(notice{words: p.say("tray.by-vet"), refused: true})
		return
	case !taken && len(vets) == 0:
		p.tell(notice{words: p.say("tray.no-vet"), refused: true})
		return
	}
	was, known := p.sample(p.walk.At())
	s, _ := p.sampleHere()
	answer := Answer{Mark: Done, Number: s.Kit.Number}
	at := p.window.Now()
	switch {
	case !taken:
		s.Taken, s.TakenBy, answer.Mark = model.Moment{}, vets[0], Against
	case s.Taken.IsZero():
		s.Taken, s.TakenBy = at, p.window.By()
	}
	if p.note != "" {
		s.Note = strings.TrimSpace(s.Note + "\n" + p.note)
	}
	chosen := s.Kit.Expires == p.job.sample.Kit.Expires // of which it was asked before
	noted := p.noted(p.walk, p.walk.At(), func(model.View) (model.ID, error) {
		if known {
			return was.ID.ID, nil
		}
		newest, _ := p.newest()
		return newest.Steps[0].ID, nil
	}, answer)
	counted, walk := !known && p.typed != "", p.walk
	var confirmed model.Confirmed
	p.window.Do(func(a place.Answer) model.Command {
		if confirmed = a.Confirmed; chosen {
			confirmed = slices.Concat(p.job.confirmed, a.Confirmed)
		}
		t := p.window.Tables()
		switch {
		case !known:
			return samples.Prepare{Tables: t, Each: []samples.New{{Animals: []model.AnimalID{stop.Animal}, Sample: s.Sample}}, By: p.window.By(), Confirmed: confirmed}
		case taken && was.Kit == s.Kit && was.Note == s.Note && p.walk == walk && walk.Of(walk.At()).Entry.IsZero():
			return samples.Take{Tables: t, Of: []samples.On{{ID: was.ID, Base: was.Revision}}, At: at, By: p.window.By(), Confirmed: confirmed}
		}
		return samples.Change{Tables: t, ID: was.ID, Base: was.Revision, Animals: was.Animals, Sample: s.Sample, Confirmed: confirmed}
	}, func(err error) {
		if err == nil && counted { // the next one follows the one that was typed
			p.job.sample.Kit.Number = s.Kit.Number
		}
		if err == nil && chosen {
			p.job.confirmed = slices.DeleteFunc(confirmed, func(reason string) bool { return reason != "sample.kit-expired" && reason != "sample.kit-expires" })
		}
		noted(err)
	})
}

// recalledSample is what an answer's sample says now; false where it waits again.
func recalledSample(d model.Document, a Answer, tubes *Tubes) (Answer, bool) {
	s, err := samples.Read(d)
	switch {
	case err != nil:
		return a, true
	case !s.Taken.IsZero():
		return Answer{Mark: Done, Entry: a.Entry, Number: s.Kit.Number}, true
	case slices.Contains(tubes.vets, s.TakenBy):
		return Answer{Mark: Against, Entry: a.Entry, Number: s.Kit.Number}, true
	}
	return a, false
}

// toTray ends the walk where the samples are posted.
func (p *Page) toTray() {
	p.end()
	p.window.Go(place.Route{To: place.Tray})
}

// sampleWords are a sample's material and what is looked for in it.
func (p *Page) sampleWords(s samples.Sample) string {
	if s.Material == "" {
		return ""
	}
	parts := []string{p.say("material." + string(s.Material))}
	for _, of := range s.For {
		parts = append(parts, p.say("agent."+string(of)))
	}
	return particulars.Capital(strings.Join(parts, ", "))
}

// kitsOnce are the kits of a walk in words.
func (p *Page) kitsOnce() (parts []string) {
	s := p.job.sample
	if words := p.sampleWords(s); words != "" {
		parts = append(parts, words)
	}
	if s.Kit.Lot != "" {
		parts = append(parts, p.say("shelf.swab.lot", map[string]any{"Lot": s.Kit.Lot}))
	}
	return parts
}

// swabbing is the panel of a sample: the number of its tube stands large, with what
// it is of.
func (l *lit) swabbing(p *Page, stop Stop, width, far float32) {
	s, _ := p.sampleHere()
	var names []string
	for _, id := range s.Animals {
		if a := p.house.Animal(id); a != nil {
			names = append(names, a.Name)
		}
	}
	who, what := strings.Join(names, ", "), p.sampleWords(s.Sample)
	name := widgets.Line(who, big(who, width, nameSteps[1:]...), look.Ink).Cuts()
	of := widgets.Line(what, big(what, width, by(far, look.FarSmall), look.FarSmall, look.Lead, look.Body), look.Soft).Cuts()
	side := min(110*far, width*.2)
	word := widgets.Line(p.say("shelf.swab.tube"), look.FarSmall, look.Soft)
	l.steps = []look.Type{{Size: 76, Line: 84, Face: look.SansBold}, {Size: 56, Line: 64, Face: look.SansBold}, look.FarCount, look.FarBold, look.FarSmall.Bold(), look.BodyBold}
	if p.notice.words != "" { // which takes the room of the large figures
		l.steps = l.steps[slices.Index(l.steps, look.FarCount):]
		side = look.FarCount.Line
	}
	l.room = width - side - look.FarSmall.Width(p.say("shelf.swab.tube")) - 60
	l.digits = widgets.Line("", l.steps[0], look.Ink).Right().Cuts()
	caret := widgets.Fix(3, min(56*far, l.steps[0].Line), widgets.Filled(look.Accent, 1.5))
	var middle fyne.CanvasObject = widgets.Row(look.S12, widgets.Space(0, side), word, widgets.Grow(l.digits), caret)
	if a := p.house.Animal(stop.Animal); a != nil {
		middle = widgets.Row(look.S12, snake(a, side), word, widgets.Grow(l.digits), caret)
	}
	said := p.swabSaid()
	tone := look.Soft
	if p.takes() == knowledge.InMouth && p.walk.Of(p.walk.At()).Mark == Open {
		tone = look.Days
	}
	foot := []fyne.CanvasObject{widgets.Grow(widgets.Line(said, big(said, width*.7, look.FarSmall.Bold(), look.LeadBold, look.BodyBold, look.NoteBold), tone).Cuts())}
	if p.note != "" {
		foot = append(foot, widgets.Fix(width*.28, 0, widgets.Line(p.note, look.Lead, look.Accent).Right().Cuts()))
	}
	if p.notice.words != "" {
		l.panel = widgets.Pad(widgets.Col(look.S4, name, middle, p.noticed()), look.S8, pad, look.S8, pad)
	} else {
		l.panel = widgets.Pad(widgets.Col(0, name, of, widgets.Grow(widgets.MiddleUpright(middle)), widgets.Fix(0, 28, widgets.Row(look.S12, foot...))), look.S8, pad, look.S8, pad)
	}
	l.numbered(p)
}

// swabSaid is what has to be known at the sample one is at, or how it stands.
func (p *Page) swabSaid() string {
	s, _ := p.sampleHere()
	switch answer := p.walk.Of(p.walk.At()); {
	case answer.Mark == Done:
		return p.say("shelf.swab.taken")
	case answer.Mark == Against, p.house.tubes.forVet(p.window.Tables(), s.Sample):
		return p.say("shelf.swab.for-vet")
	case p.takes() == knowledge.InMouth:
		return p.say("shelf.swab.mouth")
	}
	return ""
}

// numbered shows the number that the tube has.
func (l *lit) numbered(p *Page) {
	s, _ := p.sampleHere()
	number, tone := s.Kit.Number, look.Ink
	if number == "" {
		number, tone = p.say("shelf.swab.no-number"), look.Faint
	}
	if p.notice.refused {
		tone = look.Today
	}
	l.digits.SetKind(big(number, l.room, l.steps...))
	l.digits.SetText(number)
	l.digits.SetTone(tone)
}
