package table

import (
	"slices"
	"strconv"
	"strings"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/importing"
	"coilward/model/knowledge"
	"coilward/model/people"
	"coilward/model/samples"
)

// listMark parts what stands beside each other in one cell, such as the animals
// of a pool; one within a name is doubled.
const listMark = ";"

// listed are several texts as one cell.
func listed(all []string) string {
	escaped := make([]string, len(all))
	for i, text := range all {
		escaped[i] = strings.ReplaceAll(text, listMark, listMark+listMark)
	}
	return strings.Trim(strings.Join(escaped, listMark+" "), " ")
}

// unlisted are the texts of one cell; empty ones keep their place.
func unlisted(cell string) (all []string) {
	const doubled = "\x00"
	for _, part := range strings.Split(strings.ReplaceAll(cell, listMark+listMark, doubled), listMark) {
		all = append(all, strings.TrimSpace(strings.ReplaceAll(part, doubled, listMark)))
	}
	return all
}

// pool are what a row says of the animals of a sample, one after the other.
func (t *taker) pool(r Row) []sought {
	var all []sought
	whole := t.sought(r)
	if len(t.herd.find(whole)) == 1 { // a name may hold the mark itself
		return []sought{whole}
	}
	for _, field := range []struct {
		of  Field
		set func(*sought, string)
	}{{Name, func(s *sought, v string) { s.name = v }}, {Code, func(s *sought, v string) { s.code = v }},
		{Chip, func(s *sought, v string) { s.chip = readChip(v).Digits }}, {Mark, func(s *sought, v string) { s.mark = v }}} {
		cell := t.cells.text(r, field.of)
		if cell == "" {
			continue
		}
		for i, text := range unlisted(cell) {
			if i == len(all) {
				all = append(all, sought{})
			}
			field.set(&all[i], text)
		}
	}
	return all
}

// shared are the fields in which all rows of one sample say the same.
func shared() []Field {
	return append(who(), Material, SampleSite, KitNumber, KitLot, KitExpires, PlannedOn, PlannedRound, PlannedOf, TakenOn, TakenBy, Storage, Posted, Courier, Tracking, Lab, Arrived, Void, Voided, VoidNote, Remark)
}

// tube is a sample whose rows are being read.
type tube struct {
	at    int // of Rows.Samples; −1: a row of it cannot be read
	line  int // of its first row
	first Row
	rows  []importing.Source
}

// sample reads a row of a list of samples: one of its things, with a result.
func (t *taker) sample(r Row) *model.Refusal {
	key := t.cells.text(r, SampleMark)
	if key == "" {
		key = t.cells.text(r, KitNumber)
	}
	if key == "" {
		for _, f := range shared() {
			key += "\x00" + t.cells.text(r, f)
		}
	}
	key = t.source.Sheet + "\x00" + key
	of := t.tubes[key]
	var refusal *model.Refusal
	if of == nil {
		of = &tube{at: -1, line: r.Line, first: r}
		t.tubes[key] = of
		if refusal = t.begin(of, r); refusal == nil {
			refusal = t.thing(of, r)
		}
	} else if of.at < 0 {
		refusal = mend(SampleMark, "", "table.sample-row")
		refusal.Gaps = map[string]model.Gap{"Line": model.CountGap(of.line)}
	} else if refusal = t.alike(of, r); refusal == nil {
		refusal = t.thing(of, r)
	}
	if refusal != nil {
		t.spoil(of)
	} else {
		of.rows = append(of.rows, t.source)
	}
	return refusal
}

// spoil leaves a sample out, and says so of its rows that were read already.
func (t *taker) spoil(of *tube) {
	if of.at >= 0 {
		t.spoilt[of.at] = true
	}
	for _, source := range of.rows {
		refusal := mend(SampleMark, "", "table.sample-row")
		refusal.Gaps = map[string]model.Gap{"Line": model.CountGap(t.source.Line)}
		t.Taken.Bad = append(t.Taken.Bad, Bad{Source: source, Part: t.part, Fault: Fault{Refusal: refusal}})
	}
	of.at, of.line, of.rows = -1, t.source.Line, nil
}

// alike wants a row to say the same of its sample as the first one.
func (t *taker) alike(of *tube, r Row) *model.Refusal {
	for _, f := range shared() {
		if text := t.cells.text(r, f); text != t.cells.text(of.first, f) {
			refusal := mend(f, text, "table.sample-unlike")
			refusal.Gaps = map[string]model.Gap{"Line": model.CountGap(of.first.Line), "First": model.TextGap(t.cells.text(of.first, f))}
			return refusal
		}
	}
	return nil
}

// begin reads what a row says of its sample.
func (t *taker) begin(of *tube, r Row) *model.Refusal {
	c := t.cells
	s := importing.Sample{Source: t.source, NewLab: -1, NewBy: -1, Sample: samples.Sample{
		Kit: samples.Kit{Number: c.text(r, KitNumber), Lot: c.text(r, KitLot)}, Site: c.text(r, SampleSite), Storage: c.text(r, Storage),
		Courier: c.text(r, Courier), Tracking: c.text(r, Tracking), Note: c.text(r, Remark)}}
	err := t.faults()
	s.Material = choose[knowledge.MaterialID](&err, c, r, Material)
	if s.Material == "" {
		err.keep(mend(Material, "", "text.empty"))
	}
	expires, refusal := c.readDate(r, KitExpires)
	s.Kit.Expires = expires.date
	err.keep(refusal)
	s.Planned, refusal = c.planned(r)
	err.keep(refusal)
	void := samples.Void{Why: choose[samples.Why](&err, c, r, Void), Note: c.text(r, VoidNote)}
	for _, on := range []struct {
		field Field
		to    *model.Moment
	}{{TakenOn, &s.Taken}, {Posted, &s.Posted}, {Arrived, &s.Arrived}, {Voided, &void.At}} {
		*on.to, refusal = c.readWhole(r, on.field)
		err.keep(refusal)
	}
	if void.Why != "" {
		s.Void = &void
	}
	wanted := t.pool(r)
	if len(wanted) == 0 {
		err.keep(mend(Name, "", "sample.nobody"))
	}
	if err.first != nil {
		return err.first
	}
	for _, one := range wanted {
		found := t.herd.find(one)
		switch {
		case len(found) > 1:
			return several(one)
		case len(found) == 0:
			return mend(Name, cmpOr(cmpOr(one.name, one.code), one.chip), "table.sampled-stranger")
		}
		s.Animals = append(s.Animals, importing.Who{Of: found[0].id, New: found[0].new})
	}
	s.Lab, s.NewLab = t.person(c.text(r, Lab), people.Lab)
	s.TakenBy, s.NewBy = t.person(c.text(r, TakenBy), people.Hand)
	of.at = len(t.Rows.Samples)
	t.Rows.Samples = append(t.Rows.Samples, s)
	return nil
}

// planned is for which day and round of a plan a sample is laid out; nil: for none. Where no
// round is told it is the only one.
func (c *cellReader) planned(r Row) (*samples.Planned, *model.Refusal) {
	day, refusal := c.readDate(r, PlannedOn)
	if refusal != nil {
		return nil, refusal
	}
	p := samples.Planned{Day: day.date.Day, Round: 1, Of: 1}
	for _, told := range []struct {
		field Field
		to    *int
	}{{PlannedOf, &p.Of}, {PlannedRound, &p.Round}} {
		text := c.text(r, told.field)
		if text == "" {
			continue
		}
		n, failed := c.w.text.ParseCount(text, samples.MaxRounds)
		if failed != nil {
			return nil, named(told.field, failed)
		}
		if *told.to = n; day.date.IsZero() {
			return nil, mend(PlannedOn, "", "text.empty")
		}
	}
	if day.date.IsZero() {
		return nil, nil
	}
	return &p, nil
}

// person is the person of a name, to be made with a role where there is none.
func (t *taker) person(name string, role people.Role) (id model.PersonID, new int) {
	name = strings.Join(strings.Fields(name), " ")
	if name == "" {
		return id, -1
	}
	folded := strings.ToLower(name)
	for _, p := range t.People {
		if strings.ToLower(p.Name) == folded {
			return p.ID, -1
		}
	}
	for i, p := range t.Rows.People {
		if strings.ToLower(p.Name) == folded {
			if !p.Is(role) {
				t.Rows.People[i].Roles = append(t.Rows.People[i].Roles, role)
			}
			return id, i
		}
	}
	t.Rows.People = append(t.Rows.People, importing.Person{Source: t.source, Person: people.Person{Name: name, Roles: []people.Role{role}}})
	return id, len(t.Rows.People) - 1
}

// thing reads what a row says of one thing that its sample is looked through for.
func (t *taker) thing(of *tube, r Row) *model.Refusal {
	c, err := t.cells, t.faults()
	agent := choose[knowledge.AgentID](&err, c, r, LookedFor)
	if agent == "" {
		err.keep(mend(LookedFor, "", "text.empty"))
	}
	result := samples.Result{Of: agent, Outcome: choose[samples.Outcome](&err, c, r, SampleOutcome), Method: choose[knowledge.Method](&err, c, r, Method), Report: c.text(r, Report), Note: c.text(r, ResultNote), Why: c.text(r, Corrected)}
	if said := c.text(r, LookedFor); c.w.another(LookedFor, said) { // a lab's word may say more, or less
		result.Note = strings.TrimSpace(said + "\n" + result.Note)
	}
	at, refusal := c.readWhole(r, Reported)
	result.At = at
	err.keep(refusal)
	if err.first != nil {
		return err.first
	}
	s := &t.Rows.Samples[of.at]
	there := slices.Contains(s.For, agent)
	if !there {
		s.For = append(s.For, agent)
	}
	switch {
	case result.Outcome != samples.Pending:
		s.Results = append(s.Results, result)
	case there:
		return mend(LookedFor, c.text(r, LookedFor), "table.sample-thing")
	}
	return nil
}

// whole leaves out the samples that a row of is bad.
func (t *taker) whole() {
	var all []importing.Sample
	for i, s := range t.Rows.Samples {
		if !t.spoilt[i] {
			all = append(all, s)
		}
	}
	t.Rows.Samples, t.Rows.Tables = all, t.Tables
}

// samples lays out the samples of a collection: a row for each thing of each, and
// one more for each result that was corrected since.
func (l *layer) samples(v model.View, known []animals.Stored) error {
	all, unread, err := samples.Legible(v)
	if l.unread = len(unread); err != nil || len(all) == 0 {
		return err
	}
	persons, err := people.All(v)
	if err != nil {
		return err
	}
	names := map[model.PersonID]string{}
	for _, p := range persons {
		names[p.ID] = p.Name
	}
	herd := map[model.AnimalID]animals.Stored{}
	for _, a := range known {
		herd[a.ID] = a
	}
	for _, s := range all {
		o := outSample{layer: l, Stored: s, people: names}
		for _, id := range s.Animals {
			if a, there := herd[id]; there { // else taken out by undoing an old change
				o.animals = append(o.animals, a)
			}
		}
		if len(o.animals) == 0 {
			continue
		}
		for _, agent := range s.For {
			o.rows(agent)
		}
	}
	return nil
}

// outSample is a sample on its way out.
type outSample struct {
	*layer
	samples.Stored
	animals []animals.Stored
	people  map[model.PersonID]string
}

func (o outSample) rows(agent knowledge.AgentID) {
	any := false
	for _, r := range o.Results {
		if r.Of == agent {
			any = true
			o.row(Samples, func(f Field) (string, bool) { return o.cell(f, agent, r), false })
		}
	}
	if !any {
		o.row(Samples, func(f Field) (string, bool) { return o.cell(f, agent, samples.Result{}), false })
	}
}

func (o outSample) cell(f Field, agent knowledge.AgentID, r samples.Result) string {
	switch f {
	case Name, Code, Chip, Mark:
		var all []string
		for _, a := range o.animals {
			text, _ := o.ofAnimal(a, f)
			all = append(all, text)
		}
		if strings.Join(all, "") == "" {
			return ""
		}
		return listed(all)
	case SampleMark:
		return o.ID.String()
	case LookedFor:
		return o.word(f, string(agent))
	case SampleOutcome:
		return o.word(f, string(r.Outcome))
	case Method:
		return o.word(f, string(r.Method))
	case Reported:
		return o.whole(r.At)
	case Report:
		return r.Report
	case ResultNote:
		return r.Note
	case Corrected:
		return r.Why
	case Material:
		return o.word(f, string(o.Stored.Material))
	case SampleSite:
		return o.Site
	case KitNumber:
		return o.Kit.Number
	case KitLot:
		return o.Kit.Lot
	case KitExpires:
		return date(o.Kit.Expires)
	case PlannedOn, PlannedRound, PlannedOf:
		p := o.Stored.Planned
		switch {
		case p == nil:
			return ""
		case f == PlannedOn:
			return p.Day.String()
		case f == PlannedRound:
			return strconv.Itoa(p.Round)
		}
		return strconv.Itoa(p.Of)
	case TakenOn:
		return o.whole(o.Stored.Taken)
	case TakenBy:
		return o.people[o.Stored.TakenBy]
	case Storage:
		return o.Stored.Storage
	case Posted:
		return o.whole(o.Stored.Posted)
	case Courier:
		return o.Stored.Courier
	case Tracking:
		return o.Stored.Tracking
	case Lab:
		return o.people[o.Stored.Lab]
	case Arrived:
		return o.whole(o.Stored.Arrived)
	case Remark:
		return o.Note
	}
	if v := o.Stored.Void; v != nil {
		switch f {
		case Void:
			return o.word(f, string(v.Why))
		case Voided:
			return o.whole(v.At)
		case VoidNote:
			return v.Note
		}
	}
	return ""
}

// whole is a moment as one cell: its day, its time where that is known, and its
// clock.
func (l *layer) whole(m model.Moment) string {
	in := whenColumns{TakenOn, AtTime, Zone}
	return strings.Join(strings.Fields(l.ofMoment(m, in, TakenOn)+" "+l.ofMoment(m, in, AtTime)+" "+l.ofMoment(m, in, Zone)), " ")
}
