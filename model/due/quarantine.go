package due

import (
	"strconv"
	"strings"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/husbandry"
	"coilward/model/infested"
	"coilward/model/knowledge"
	"coilward/model/newcomers"
	"coilward/model/quarantine"
)

// quarantined is the plan of a newcomer's days: weighing and looks for mites each
// week, the samples that its protocol asks for, a full check on arrival and before the
// end, photos of the standard poses on arrival, and its release when all is met. Its end is told some days before.
func quarantined(t *knowledge.Tables, n newcomers.Newcomer, today model.Day) []Obligation {
	if n.Animal.Status == animals.OnLoan {
		return nil
	}
	q := plan{t: t, n: n, today: today, arrived: n.Quarantine.Arrived.Day()}
	asked := map[string]bool{} // one of each thing that samples are looked through for
	for _, s := range n.Plan {
		if s.Done {
			continue
		}
		switch s.Kind {
		case quarantine.StepWeigh:
			q.add(Weigh, ActWeigh, s, "", "due.why.quarantine-weigh", map[string]model.Gap{"Count": model.CountGap(t.Value(knowledge.ValueWeighNewcomer))})
		case quarantine.StepMites:
			q.add(MiteLook, ActMites, s, "", "due.why.quarantine-mites", map[string]model.Gap{"Count": model.CountGap(t.Value(knowledge.ValueLookMites))})
		case quarantine.StepSwab, quarantine.StepFaecal:
			if of := joined(s.Agents); !asked[of] {
				asked[of] = true
				reason, gaps := "due.why.quarantine-sample", map[string]model.Gap{"Agent": model.KeyGap("agent." + string(s.Agents[0])), "Number": model.CountGap(s.N), "Of": model.CountGap(s.Of)}
				if s.TooOld > 0 {
					reason, gaps["Day"], gaps["Count"] = "due.why.quarantine-again", model.DayGap(s.TooOld), model.CountGap(n.Gate.Protocol.Within)
				}
				q.add(TakeSample, ActTray, s, of+"/"+strconv.Itoa(s.N), reason, gaps)
			}
		case quarantine.StepCheck:
			q.add(Check, ActCheck, s, "end", "due.why.quarantine-check", map[string]model.Gap{"Day": model.DayGap(n.Gate.Earliest), "Count": model.CountGap(n.Gate.Protocol.CheckWithin)})
		}
	}
	for _, a := range n.Arrival {
		s := quarantine.Step{From: a.From, By: a.By}
		switch {
		case a.Done:
		case a.Kind == newcomers.ArriveCheck:
			q.add(Check, ActCheck, s, "arrival", "due.why.arrival-check", map[string]model.Gap{"Day": model.DayGap(q.arrived)})
		case a.Kind == newcomers.ArrivePhotos:
			q.add(TakePhotos, ActPhotos, s, "arrival", "due.why.arrival-photos", map[string]model.Gap{"Day": model.DayGap(q.arrived), "Have": model.CountGap(a.Have), "Want": model.CountGap(a.Want)})
		}
	}
	q.end()
	return q.all
}

// plan makes obligations of the steps of a plan.
type plan struct {
	t       *knowledge.Tables
	n       newcomers.Newcomer
	today   model.Day
	arrived model.Day
	all     []Obligation
}

// planned begins the cause of what a plan asks.
const planned = "quarantine/"

func (q *plan) add(job Job, act Act, s quarantine.Step, cause, reason string, gaps map[string]model.Gap) {
	cause = planned + q.n.Quarantine.ID.String() + "/" + cause + "/" + s.From.String()
	o := Obligation{Key: Key{Subject: q.n.Animal.ID.Subject(), Job: job, Cause: cause}, From: s.From, By: max(s.From, s.By), Since: q.arrived, Act: act, Reasons: why(reason, gaps)}
	switch job {
	case Weigh:
		o.Every = q.t.Value(knowledge.ValueWeighNewcomer)
	case MiteLook:
		o.Every = q.t.Value(knowledge.ValueLookMites)
	}
	q.all = append(q.all, o)
}

// end tells of the release, or of what is still missing shortly before it.
func (q *plan) end() {
	g := q.n.Gate
	s := quarantine.Step{From: g.Earliest, By: q.today}
	switch {
	case g.Met:
		q.add(Release, ActNewcomers, s, "release", "due.why.release", map[string]model.Gap{"Day": model.DayGap(g.Earliest)})
	case g.Earliest > q.today && g.Earliest <= q.today+model.Day(q.t.Value(knowledge.ValueQuarantineLeft)):
		s.By = g.Earliest
		q.add(Release, ActNewcomers, s, "ends", "due.why.quarantine-ends", map[string]model.Gap{"Day": model.DayGap(g.Earliest), "Count": model.CountGap(len(g.Unmet()))})
		last := &q.all[len(q.all)-1]
		for _, l := range g.Unmet() {
			last.Reasons = append(last.Reasons, model.Label{Key: "due.why.quarantine-unmet", Gaps: map[string]model.Gap{"Item": model.KeyGap("quarantine.item." + string(l.Item))}})
		}
	}
}

func joined(agents []knowledge.AgentID) string {
	var all []string
	for _, a := range agents {
		all = append(all, string(a))
	}
	return strings.Join(all, "+")
}

// together is what the book keeps of what animals owe because of each other: those in
// quarantine, and those that share a room with mites.
type together struct {
	of     map[model.AnimalID][]Obligation
	places []placeLeaf // rooms that owe something because of those in them
	mites  infested.Rooms
	near   map[model.AnimalID]bool // those that share a room with one that tells the others something
	unread map[model.AnimalID]error
	err    error // why it cannot be read
}

// checkTogether derives it anew, where a change may have touched it. What cannot be read
// hides nothing of what others owe, and is tried again. It reports whether anything
// was derived.
func (b *Book) checkTogether(c Source) (anew bool) {
	b.marks.Lock()
	read, renew := b.mates, b.renew
	b.mates, b.renew = false, false
	b.marks.Unlock()
	if renew && b.tubes.err == nil {
		b.newcomers.Renew(b.tubes.stood)
	}
	for id := range b.again {
		concerned := b.newcomers.Forget(id)
		read = read || concerned || b.together.near[id]
	}
	clear(b.again)
	if !read {
		return false
	}
	if err := c.View(b.readTogether); err != nil {
		b.together, b.newcomers = together{err: err}, newcomers.NewReader(b.tables)
	}
	if b.together.err != nil || len(b.together.unread) > 0 {
		b.marks.Lock()
		defer b.marks.Unlock()
		b.mates = true
	}
	return true
}

func (b *Book) readTogether(v model.View) (err error) {
	house := b.rooms.house
	if house == nil {
		if house, err = husbandry.ReadHouse(v); err != nil {
			return err
		}
	}
	if b.tubes.err != nil { // who was near a positive is not known
		return b.tubes.err
	}
	all, err := b.newcomers.All(v, house)
	if err != nil {
		return err
	}
	today := v.Now().Day()
	found := together{of: map[model.AnimalID][]Obligation{}, near: map[model.AnimalID]bool{}, unread: map[model.AnimalID]error{}}
	for _, n := range all {
		id := n.Quarantine.Animal
		if n.Err != nil {
			found.unread[id] = n.Err
			continue
		}
		for _, feeder := range Feeders() {
			if feeder.Newcomer != nil {
				found.of[id] = append(found.of[id], feeder.Newcomer(b.tables, n, today)...)
			}
		}
	}
	seen := map[model.AnimalID]mited{}
	for id, l := range b.leaves {
		if l.owner != nil && l.err == nil {
			seen[id] = mitedOf(l)
		}
	}
	found.mites = infestedRooms(b.tables, house, seen, v.Now())
	for place, r := range roomsTold(house, found.mites, seen, v.Now()) {
		leaf := placeLeaf{owner: &Owner{Subject: place.Subject(), Name: r.title, folded: animals.Fold(r.title)}}
		for _, o := range feedRoom(b.tables, r) {
			if o.Subject == place.Subject() {
				leaf.due = append(leaf.due, o)
				continue
			}
			id := model.AnimalID{ID: o.Subject.ID}
			found.of[id] = append(found.of[id], o)
		}
		if len(leaf.due) > 0 {
			found.places = append(found.places, leaf)
		}
		for _, id := range r.living {
			found.near[id] = true
		}
	}
	for _, due := range found.of {
		if err := answered(v, b.tables, due, today); err != nil {
			return err
		}
	}
	for _, p := range found.places {
		if err := answered(v, b.tables, p.due, today); err != nil {
			return err
		}
	}
	b.together = found
	return nil
}

// feedRoom is what is due for all in a room.
func feedRoom(t *knowledge.Tables, r room) (all []Obligation) {
	for _, feeder := range Feeders() {
		if feeder.Room != nil {
			all = append(all, feeder.Room(t, r)...)
		}
	}
	return all
}

// items are what an animal owes, its own and together with others: of two that ask the
// same of it every day, the one that is sooner.
func (b *Book) items(id model.AnimalID) []Obligation {
	return merged(b.leaves[id].due, b.together.of[id])
}

// merged leaves out of two obligations of one job of every day the later one.
// None of what is handed in is changed.
func merged(own, more []Obligation) []Obligation {
	if len(more) == 0 {
		return own
	}
	all := append([]Obligation{}, own...)
	for _, o := range more {
		same := -1
		for i, other := range all {
			if other.Job == o.Job && (o.Job == Weigh || o.Job == Check || o.Job == MiteLook) {
				same = i
			}
		}
		switch {
		case same < 0:
			all = append(all, o)
		case all[same].By > o.By && all[same].Level <= o.Level:
			all[same] = o
		}
	}
	return all
}

// findTogether is what an animal or a place owes because of others: only what begins
// with the causes of these.
func findTogether(v model.View, t *knowledge.Tables, k Key) ([]Obligation, string, error) {
	switch {
	case strings.HasPrefix(k.Cause, planned) && k.Subject.Kind == model.SubjectAnimal:
		n, known, err := newcomers.Of(v, t, model.AnimalID{ID: k.Subject.ID})
		if err != nil || !known || !n.Quarantine.Open() || !n.Animal.Status.Here() {
			return nil, "", err
		}
		return quarantined(t, n, v.Now().Day()), n.Animal.Name, nil
	case strings.HasPrefix(k.Cause, nearby), strings.HasPrefix(k.Cause, inRoom):
		return findNear(v, t, k)
	}
	return nil, "", nil
}
