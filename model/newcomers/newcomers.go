package newcomers

import (
	"cmp"
	"fmt"
	"slices"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/contact"
	"coilward/model/exam"
	"coilward/model/history"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/positives"
	"coilward/model/quarantine"
	"coilward/model/samples"
	"coilward/model/weight"
)

// Newcomer is an animal in quarantine, or one that was released from it.
type Newcomer struct {
	Animal     animals.Stored
	Quarantine quarantine.Stored
	Protocol   quarantine.Own // that it goes by; of one that was released as it was then
	Room       model.PlaceID  // zero: it lives nowhere
	RoomTitle  string
	Day        int // since its arrival; 0 is the day itself
	Facts      quarantine.Facts
	Gate       quarantine.Gate   // as of now; of one that was released as it was said then
	Plan       []quarantine.Step // of an open quarantine
	Arrival    []ArrivalStep
	Looks      []Look // for mites, oldest first
	// Err is why it cannot be told how it stands: its quarantine (*quarantine.Illegible),
	// something else of it, or a look for mites in its room, cannot be read. Then it is known who it is, as far as that can be read.
	Err error
}

// Look is a look for mites: its own, or one of the room in which mites were seen.
type Look struct {
	Entry  model.EntryID
	Animal model.AnimalID
	Day    model.Day
	Grade  care.MiteGrade
	Mate   bool // of another in its room
	Glance bool // none were seen, and the animal itself was not looked at: it does not count
}

// All are the animals in quarantine, the earliest arrival first. Those that are here
// no more are left out. One that cannot be read has its Err and hides no other; those
// whose quarantine itself cannot be, which may be open, stand last.
func All(v model.View, t *knowledge.Tables) ([]Newcomer, error) {
	return NewReader(t).All(v, nil)
}

// Of is an animal's open quarantine, or else its last; ok is false where it has none.
// Where none that can be read is open and one cannot be read, which may be open, the
// error is that one's *quarantine.Illegible.
func Of(v model.View, t *knowledge.Tables, animal model.AnimalID) (n Newcomer, ok bool, err error) {
	all, unread, err := quarantine.LegibleOf(v, animal)
	if err != nil {
		return Newcomer{}, false, err
	}
	i := slices.IndexFunc(all, quarantine.Stored.Open)
	switch {
	case i >= 0:
	case len(unread) > 0:
		return Newcomer{}, false, unread[0]
	case len(all) == 0:
		return Newcomer{}, false, nil
	default:
		i = len(all) - 1
	}
	q := all[i]
	r := reader{v: v, t: t}
	n, err = r.read(q)
	return n, err == nil, err
}

// Reader reads newcomers again and again in the course of a day, and keeps what it read
// of each animal until it is told that it was touched.
type Reader struct{ kept reader }

// NewReader is a reader that has read nothing.
func NewReader(t *knowledge.Tables) *Reader { return &Reader{reader{t: t}} }

// All is All in a house as it is now; nil: it is read.
func (r *Reader) All(v model.View, h *husbandry.House) ([]Newcomer, error) {
	all, unread, err := quarantine.Legible(v)
	if err != nil {
		return nil, err
	}
	r.kept.v, r.kept.house, r.kept.scales = v, h, nil
	defer func() { r.kept.v = nil }()
	if err := r.kept.prepare(); err != nil {
		return nil, fmt.Errorf("find out how the newcomers stand: %w", err)
	}
	var newcomers []Newcomer
	for _, q := range all {
		if !q.Open() {
			continue
		}
		n, err := r.kept.read(q)
		if n.Err = err; err != nil || n.Animal.Status.Here() {
			newcomers = append(newcomers, n)
		}
	}
	for _, i := range unread {
		if slices.ContainsFunc(all, func(q quarantine.Stored) bool { return q.Animal == i.Animal && q.Open() }) {
			continue // only one is ever open: it is an earlier one
		}
		n := Newcomer{Quarantine: quarantine.Stored{ID: i.ID, Animal: i.Animal, Arrived: i.Arrived}, Err: i}
		if n.Animal, err = r.kept.animal(i.Animal); err != nil || n.Animal.Status.Here() {
			newcomers = append(newcomers, n)
		}
	}
	return newcomers, nil
}

// Forget makes an animal be read anew, of which something was changed. It reports
// whether a newcomer rests on it.
func (r *Reader) Forget(id model.AnimalID) (concerned bool) {
	_, known := r.kept.known[id]
	_, looked := r.kept.mites[id]
	_, own := r.kept.own[id]
	delete(r.kept.known, id)
	delete(r.kept.mites, id)
	delete(r.kept.own, id)
	return known || looked || own
}

// Renew tells what all rest on: what stands of the positives; the protocols and what was
// opened are read anew.
func (r *Reader) Renew(stood []positives.Trace) {
	r.kept.offers, r.kept.stood, r.kept.told = nil, stood, true
}

// reader reads newcomers, and keeps what several of them ask for.
type reader struct {
	v      model.View
	t      *knowledge.Tables
	house  *husbandry.House
	scales husbandry.Scales
	offers []quarantine.Offered
	known  map[model.AnimalID]animals.Stored
	mites  map[model.AnimalID][]care.Entry // looks and treatments, newest first, also those to come
	own    map[model.AnimalID]own          // of those in quarantine now
	stood  []positives.Trace
	told   bool             // what stood was given
	opened []contact.Stored // positives, open or closed
}

// prepare reads the house and the protocols, where they are not there yet.
func (r *reader) prepare() (err error) {
	if r.house == nil {
		if r.house, err = husbandry.ReadHouse(r.v); err != nil {
			return err
		}
	}
	if r.scales == nil {
		if r.scales, err = husbandry.ReadScales(r.v); err != nil {
			return err
		}
	}
	if r.known == nil {
		r.known, r.mites, r.own = map[model.AnimalID]animals.Stored{}, map[model.AnimalID][]care.Entry{}, map[model.AnimalID]own{}
	}
	if r.offers == nil {
		if !r.told {
			if r.stood, err = positives.Stood(r.v, r.t); err != nil {
				return err
			}
		}
		if r.opened, err = contact.All(r.v); err != nil {
			return err
		}
		r.offers, err = quarantine.Offers(r.v, r.t)
	}
	return err
}

// animal reads an animal once.
func (r *reader) animal(id model.AnimalID) (a animals.Stored, err error) {
	if a, known := r.known[id]; known {
		return a, nil
	}
	if a, err = animals.Find(r.v, id); err == nil {
		r.known[id] = a
	}
	return a, err
}

// read joins the facts of one quarantine and judges them.
func (r *reader) read(q quarantine.Stored) (Newcomer, error) {
	n, err := r.join(q)
	if err != nil {
		return Newcomer{Animal: n.Animal, Quarantine: q}, fmt.Errorf("find out how a newcomer stands: %w", err)
	}
	return n, nil
}

func (r *reader) join(q quarantine.Stored) (n Newcomer, err error) {
	if err = r.prepare(); err != nil {
		return n, err
	}
	n.Quarantine = q
	if n.Animal, err = r.animal(q.Animal); err != nil {
		return n, err
	}
	var unsure []model.Label
	n.Protocol, unsure = r.protocol(q)
	now := r.v.Now()
	if !q.Open() {
		now = q.Released.At
	}
	n.Day = max(0, int(now.Day()-q.Arrived.Day()))
	if stay, lives := r.house.Where(q.Animal, now); lives {
		n.Room = r.house.Room(stay.Place)
		n.RoomTitle = r.house.Title(n.Room)
	}
	if err = r.facts(&n, now); err != nil {
		return n, err
	}
	if !q.Open() {
		n.Gate = quarantine.Gate{Protocol: q.Released.Asked, Day: now.Day(), Lines: quarantine.Told(q.Released.Lines), Earliest: q.Released.Earliest, Met: len(q.Released.Unmet()) == 0}
		return n, nil
	}
	n.Gate = quarantine.Judge(r.t, n.Protocol.Protocol, n.Facts)
	n.Gate.Lines[0].Reasons = append(n.Gate.Lines[0].Reasons, unsure...)
	n.Plan = quarantine.Plan(r.t, n.Facts, n.Gate)
	n.Gate = n.Gate.Planned(n.Plan)
	return n, nil
}

// protocol is what a quarantine goes by, one that was released by what was asked then,
// and why that may not be what was chosen: of one that is not known here, as of a newer
// version of the tables, no less is asked than by the longest that is; of a change that
// cannot stand the table's own holds.
func (r *reader) protocol(q quarantine.Stored) (own quarantine.Own, unsure []model.Label) {
	offered, known := quarantine.Offer(r.offers, q.Protocol)
	if !q.Open() {
		if own = (quarantine.Own{Name: offered.Name, Protocol: q.Released.Asked}); !known {
			own.Protocol.ID = quarantine.UnknownProtocol
		}
		return own, nil
	}
	switch {
	case !known:
		offered = slices.MaxFunc(r.offers, func(a, b quarantine.Offered) int { return a.Days - b.Days })
		unsure = []model.Label{{Key: "quarantine.why.protocol-unknown", Gaps: offered.Title().Gaps}}
	case offered.Spoilt:
		unsure = []model.Label{{Key: "quarantine.why.protocol-spoilt", Gaps: offered.Title().Gaps}}
	}
	return offered.Own, unsure
}

// days are the documents of the days of an animal.
type days struct {
	documents []model.Document // newest first
	problems  []exam.StoredProblem
	samples   []samples.Stored
}

func (r *reader) days(animal model.AnimalID, now model.Moment) (d days, err error) {
	var failed error
	err = r.v.Timeline(animal.Subject(), model.Beginning, model.EndOfTime, func(doc model.Document) bool {
		switch {
		case doc.Type == model.TypeProblem:
			var p exam.StoredProblem
			if p, failed = exam.ReadProblem(doc); failed == nil {
				d.problems = append(d.problems, p)
			}
		case doc.At.UTC > now.UTC:
		case doc.Type == model.TypeSample:
			var s samples.Stored
			if s, failed = samples.Read(doc); failed == nil {
				d.samples = append(d.samples, s)
			}
		case doc.Type == model.TypeEntry:
			d.documents = append(d.documents, doc)
		}
		return failed == nil
	})
	exam.InOrder(d.problems)
	return d, cmp.Or(err, failed)
}

// own is what its own days say of a newcomer at a moment.
type own struct {
	facts   quarantine.Facts // without its results, its room, and who is in it
	records history.Records
	samples []samples.Stored
}

// ownOf reads the days of a newcomer; those of an open quarantine once, as long as nothing
// is noted of it.
func (r *reader) ownOf(n Newcomer, now model.Moment) (o own, err error) {
	if o, known := r.own[n.Animal.ID]; known && n.Quarantine.Open() {
		return o, nil
	}
	d, err := r.days(n.Animal.ID, now)
	if err != nil {
		return o, err
	}
	if o.records, err = history.Of(r.t, d.documents, n.Animal, r.scales, now); err != nil {
		return o, err
	}
	o.samples, d.problems = d.samples, exam.KnownOn(d.problems, now.Day())
	o.facts = quarantine.Facts{Today: now.Day(), Arrived: n.Quarantine.Arrived.Day()}
	for _, c := range o.records.Checks {
		o.facts.Checks = append(o.facts.Checks, r.check(c))
	}
	r.entries(&o.facts, o.records)
	standing := o.records.Stand(r.t, d.problems, now)
	o.facts.Losing = standing.Loss.ForVet()
	if !standing.Loss.Fast { // what a fast costs was measured of animals in good condition
		o.facts.FastsSince = 0
	}
	o.facts.Open = r.open(n.Animal, d, o.records, standing, o.facts.Arrived, now)
	if n.Quarantine.Open() {
		r.own[n.Animal.ID] = o
	}
	return o, nil
}

// facts joins what is known of a newcomer at a moment.
func (r *reader) facts(n *Newcomer, now model.Moment) error {
	o, err := r.ownOf(*n, now)
	if err != nil {
		return err
	}
	f := o.facts
	f.Results, f.Weights = r.results(o.samples), r.weights(o.records)
	if err := r.room(n, &f, now); err != nil {
		return err
	}
	n.Facts = f
	n.Arrival = r.arrival(*n, o.records, o.samples)
	return nil
}

// results are what samples are looked through for.
func (r *reader) results(all []samples.Stored) (results []quarantine.Result) {
	for _, s := range all {
		if s.Taken.IsZero() {
			continue
		}
		for _, of := range s.For {
			one := quarantine.Result{Sample: s.ID, Of: of, Taken: s.Taken.Day(), Speaks: !r.t.Silent(of, s.Material) && s.Method(of) != knowledge.Antibodies, Weak: r.t.Weak(of, s.Material), Faeces: s.Material == knowledge.Faeces, Pool: len(s.Animals) > 1}
			if s.Void != nil {
				one.Void = s.Void.At.Day()
			}
			if result, there := s.Result(of); there {
				one.Reported, one.Outcome = result.At.Day(), quarantine.Nothing
				switch result.Outcome {
				case samples.Detected:
					one.Outcome, one.Settled = quarantine.Detected, r.settled(s.ID, of)
				case samples.NotDetected:
					one.Outcome = quarantine.NotDetected
				}
			}
			results = append(results, one)
		}
	}
	return results
}

// settled is the day on which the newest positive of a result was closed so that it
// stands no more; 0: it stands.
func (r *reader) settled(sample model.SampleID, of knowledge.AgentID) model.Day {
	var last contact.Stored
	for _, p := range r.opened {
		if p.Sample == sample && p.Agent == of && (last.ID.IsZero() || last.Opened.Before(p.Opened)) {
			last = p
		}
	}
	if c := last.Closed; c != nil && (c.Why == contact.Corrected || c.Why == contact.NotConfirmed || c.Why == contact.VetsWord) {
		return c.At.Day()
	}
	return 0
}

func (r *reader) check(c exam.StoredCheck) quarantine.Check {
	one := quarantine.Check{Entry: c.ID, Day: c.Begun.Day(), Full: c.Extent(r.t) == exam.FullCheck}
	for _, s := range r.t.Stops() {
		if look := c.At(s.ID).Look; !look.Looked() && look != exam.LeftToVet {
			one.Left++
		}
	}
	return one
}

// entries joins what entries of everyday care say.
func (r *reader) entries(f *quarantine.Facts, records history.Records) {
	for _, e := range care.Kept(r.t, records.Entries) {
		f.Meals = append(f.Meals, quarantine.Meal{Entry: e.ID, Day: e.At.Day()})
	}
	for _, e := range records.Entries {
		switch body := e.Body.(type) {
		case care.Weight:
			f.Weighings = append(f.Weighings, e.At.Day())
		case care.Shed:
			whole := body.Skin == care.Whole && body.StuckEyeCaps != care.Yes && body.StuckTailTip != care.Yes
			f.Sheds = append(f.Sheds, quarantine.Shed{Entry: e.ID, Day: e.At.Day(), Whole: whole})
		}
	}
	if fast, known := records.Fast(r.t); known {
		if f.Kept = fast.Kept; fast.From <= f.Today {
			f.FastsSince = fast.From
		}
	}
	rhythm, _ := records.Class(r.t)
	f.OfferEvery = rhythm.OfferFrom
}

// weights are those that can be compared, with what a check of their scale said later and
// what the fast of now is known to cost by then.
func (r *reader) weights(records history.Records) (all []quarantine.Weight) {
	fast, fasts := records.Fast(r.t)
	for _, e := range records.Entries {
		if body, is := e.Body.(care.Weight); is && body.Comparable() {
			one := quarantine.Weight{Entry: e.ID, Day: e.At.Day(), Mass: body.Mass}
			if fasts && one.Day > fast.Kept {
				one.Cost = weight.Line(r.t, int(one.Day-fast.Kept))
			}
			if name, doubtful := r.scales.Doubts(body.With, e.At); doubtful {
				one.Doubtful, one.Scale = true, name
			}
			all = append(all, one)
		}
	}
	return all
}

// open is what stands above "look again", or since when nothing does.
func (r *reader) open(animal animals.Stored, d days, records history.Records, standing history.Standing, arrived model.Day, now model.Moment) quarantine.Open {
	o := quarantine.Open{Since: arrived, Grave: standing.ForVet()}
	first := model.Day(0) // of the first check since the arrival
	for _, c := range records.Checks {
		if day := c.Begun.Day(); day >= arrived {
			first = day
		}
	}
	o.Known = first > 0
	if o.Grave {
		for _, part := range standing.Parts {
			if part.Level() >= knowledge.VetWithinDays && !part.Entry.IsZero() {
				o.On = append(o.On, part.Entry.ID)
			}
		}
		return o
	}
	o.Since = max(arrived, first)
	from := r.firstGrave(records, d.problems)
	for day := now.Day() - 1; from > 0 && day >= max(from, o.Since); day-- {
		at := model.MomentOn(now, day, 24*60-1, model.ToMinute)
		if records.StandOn(r.t, history.WhoseOf(animal), d.problems, at).ForVet() {
			o.Since = day + 1
			break
		}
	}
	return o
}

// firstGrave is the first day on which something may have stood that was a matter for
// the vet; 0: nothing ever was.
func (r *reader) firstGrave(records history.Records, problems []exam.StoredProblem) (first model.Day) {
	take := func(day model.Day) {
		if first == 0 || day < first {
			first = day
		}
	}
	for _, c := range records.Checks {
		if c.Verdict.Level >= knowledge.VetWithinDays {
			take(c.Verdict.Day)
		}
	}
	for _, p := range problems {
		take(p.First().At.Day())
	}
	if day := records.BreathingSince(r.t); day > 0 {
		take(day)
	}
	for _, said := range records.Judge(r.t) {
		if said.Verdict.Level >= knowledge.VetWithinDays {
			take(said.Verdict.Day)
		}
	}
	return first
}
