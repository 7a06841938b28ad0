package quarantine

import (
	"cmp"
	"slices"

	"coilward/model"
	"coilward/model/knowledge"
)

// why is a reason by its key.
func why(key string, gaps map[string]model.Gap) model.Label {
	return model.Label{Key: "quarantine.why." + key, Gaps: gaps}
}

// has tells of a line whether it is met.
func (l Line) has(met bool) Line {
	if l.State = NotMet; met {
		l.State = Met
	}
	return l
}

// during are the days from the arrival to a day.
func (f Facts) during(on model.Day) func(model.Day) bool {
	return func(day model.Day) bool { return day >= f.Arrived && day <= on }
}

// restart is the last one by a day; the zero Restart: there was none.
func (f Facts) restart(on model.Day) (last Restart) {
	within := f.during(on)
	for _, r := range f.Restarts {
		if !r.Confined && within(r.Day) && (r.Day > last.Day || r.Day == last.Day && slices.Compare(r.Stay.ID[:], last.Stay.ID[:]) < 0) {
			last = r
		}
	}
	return last
}

// on is the document that it rests on.
func (r Restart) on() model.ID {
	if !r.Positive.IsZero() {
		return r.Positive
	}
	return r.Stay.ID
}

// after is the first sampling day that answers all restarts of a line's things by a
// day, the restart that asks for it, and the last one that no figure is known for; 0:
// there was no restart.
func (f Facts) after(of []knowledge.AgentID, on model.Day) (first model.Day, because, unknown Restart) {
	within := f.during(on)
	for _, r := range f.Restarts {
		if r.Confined || !within(r.Day) || r.Day == f.Arrived {
			continue
		}
		day, same := r.Day+1, func(of Restart) bool { id, other := r.on(), of.on(); return slices.Compare(id[:], other[:]) < 0 }
		if slices.Contains(of, r.Agent) {
			if day = max(day, r.Speaks); r.Speaks == 0 && (r.Day > unknown.Day || r.Day == unknown.Day && same(unknown)) {
				unknown = r
			}
		}
		if day > first || day == first && same(because) {
			first, because = day, r
		}
	}
	return first, because, unknown
}

// why says who it was.
func (r Restart) why() model.Label {
	if !r.Positive.IsZero() {
		return why("near-positive", map[string]model.Gap{"Day": model.DayGap(r.Day), "Name": model.TextGap(r.NearTo)})
	}
	if r.Name == "" {
		return why("moved-to-others", map[string]model.Gap{"Day": model.DayGap(r.Day)})
	}
	return why("came-in", map[string]model.Gap{"Day": model.DayGap(r.Day), "Name": model.TextGap(r.Name)})
}

// beside makes a line be watched for what was detected in others in its room and does not
// go through one: no day begins again by it, and whether one more sample is wanted is the
// vet's to say. Source: common practice, no source.
func (l Line) beside(f Facts, on model.Day, of func(knowledge.AgentID) bool) Line {
	within := f.during(on)
	var told []Restart
	for _, r := range f.Restarts {
		if r.Confined && within(r.Day) && of(r.Agent) {
			told = append(told, r)
		}
	}
	slices.SortFunc(told, func(a, b Restart) int {
		return cmp.Or(cmp.Compare(a.Day, b.Day), slices.Compare(a.Positive[:], b.Positive[:]))
	})
	for _, r := range told {
		l.On = append(l.On, r.on())
		l.Reasons = append(l.Reasons, why("beside", map[string]model.Gap{"Day": model.DayGap(r.Day), "Name": model.TextGap(r.NearTo), "Agent": model.KeyGap("agent." + string(r.Agent))}))
	}
	if len(told) > 0 && l.State == Met {
		l.State = Watch
	}
	return l
}

// asks reports whether a line of the protocol asks for a thing.
func asks(p Protocol, of knowledge.AgentID) bool {
	return p.Faecal > 0 && of == knowledge.FaecalAgent ||
		slices.ContainsFunc(p.For, func(a knowledge.Asked) bool { return a.NotDetected > 0 && slices.Contains(a.Agents, of) })
}

// inRoom asks for the days in the room, which begin anew with everybody who comes in; of
// one that lives nowhere they cannot be told.
// Source: seen, zoo-association quarantine page and its 2007 standards.
func inRoom(p Protocol, f Facts, on model.Day) Line {
	from, l := f.Arrived, Line{Item: InRoom, Want: p.Days}
	if r := f.restart(on); r.Day > from {
		from, l.Again, l.On = r.Day, r.Day, []model.ID{r.on()}
		l.Reasons = []model.Label{r.why()}
	}
	l.Have, l.Earliest = max(0, int(on-from)), from+model.Day(p.Days)
	if i := slices.IndexFunc(f.Restarts, func(r Restart) bool { return r.Still && !r.Confined && r.Day == on }); i >= 0 && on == f.Today {
		l.NoDay, l.On = true, []model.ID{f.Restarts[i].on()}
		l.Reasons = []model.Label{f.Restarts[i].why(), why("still-near", map[string]model.Gap{"Name": model.TextGap(f.Restarts[i].NearTo)})}
	}
	if f.Nowhere {
		l.State, l.Have, l.Earliest, l.NoDay = CannotTell, 0, max(on, l.Earliest), true
		l.Reasons = append(l.Reasons, why("no-place", nil))
		return l
	}
	return l.has(on >= l.Earliest)
}

// miteFree asks for the watch for mites to be over.
func miteFree(t *knowledge.Tables, f Facts) Line {
	m := f.Mites
	l := Line{Item: MiteFree, Want: m.Days}
	for _, e := range m.On {
		l.On = append(l.On, e.ID)
	}
	if m.From == 0 {
		l.Earliest = f.Today + model.Day(m.Days)
		l.Reasons = []model.Label{why("mites-no-look", nil)}
		if m.Glances > 0 {
			l.Reasons = []model.Label{m.glances(), why("mites-begins", nil)}
		}
		if m.Cool {
			l.Reasons = append(l.Reasons, m.cool())
		}
		return l.has(false)
	}
	l.Have = int(max(0, min(f.Today-m.From, model.Day(m.Days))))
	if m.Why != FromLook {
		l.Again = m.From
	}
	l.Reasons = []model.Label{{Key: "quarantine.mites." + string(m.Why), Gaps: map[string]model.Gap{"Day": model.DayGap(m.From)}}}
	if m.Cool {
		l.Reasons = append(l.Reasons, m.cool())
	}
	if m.Glances > 0 && m.Over == 0 {
		l.Reasons = append(l.Reasons, m.glances())
	}
	switch {
	case m.Speck > 0:
		next := m.Speck + model.Day(t.Value(knowledge.ValueLookSpeck))
		l.Earliest = max(f.Today, next)
		if m.Over == 0 {
			l.Earliest = max(l.Earliest, m.Ends)
		}
		l.Reasons = append(l.Reasons, why("mites-speck", map[string]model.Gap{"Day": model.DayGap(m.Speck), "Next": model.DayGap(next)}))
		return l.has(false)
	case m.Over == 0:
		l.Earliest = max(f.Today, m.Ends)
		l.Reasons = append(l.Reasons, why("mites-ends", map[string]model.Gap{"Day": model.DayGap(m.Ends), "Days": model.CountGap(t.Value(knowledge.ValueMiteGap))}))
		return l.has(false)
	}
	l.Since = max(f.Arrived, m.Over)
	return l.has(true)
}

// cool says why it is watched for longer.
func (m Mites) cool() model.Label {
	return why("mites-cool", map[string]model.Gap{"Days": model.CountGap(m.Days)})
}

// glances says that there were looks that do not count.
func (m Mites) glances() model.Label {
	return why("mites-glances", map[string]model.Gap{"Count": model.CountGap(m.Glances)})
}

// answers are what samples say of some things by a day.
type answers struct {
	clear    []Result // not detected, in samples that speak, oldest first, since the last detected
	hoped    []Result // those and what is still at the lab
	detected Result   // the last one
	silent   int      // not detected, in samples that do not speak
	pooled   int      // not detected, in samples of several animals
	nothing  int      // inconclusive, inhibited or not done
	stands   bool     // what was detected was not settled
}

// answers are those of the samples taken since the arrival.
func (f Facts) answers(of []knowledge.AgentID, on model.Day, fits func(Result) bool) (a answers) {
	within := f.during(on)
	var all []Result
	for _, r := range f.Results {
		if slices.Contains(of, r.Of) && within(r.Taken) && r.given(on) && fits(r) {
			if !r.answered(on) {
				r.Outcome = Waiting
			}
			all = append(all, r)
		}
	}
	slices.SortFunc(all, func(a, b Result) int {
		if a.Taken != b.Taken {
			return int(a.Taken - b.Taken)
		}
		return slices.Compare(a.Sample.ID[:], b.Sample.ID[:])
	})
	for _, r := range all {
		if r.Outcome == Detected {
			a.detected, a.stands = r, a.stands || !r.settled(on)
		}
	}
	for _, r := range all {
		switch after := a.detected.Taken == 0 || r.Taken > a.detected.Taken; {
		case !after:
		case r.Outcome == Nothing:
			a.nothing++
		case r.Outcome == NotDetected && !r.Speaks:
			a.silent++
		case r.Outcome == NotDetected && r.Pool:
			a.pooled++
		case r.Outcome == NotDetected:
			a.clear, a.hoped = append(a.clear, r), append(a.hoped, r)
		case r.Outcome == Waiting && r.Speaks && !r.Pool:
			a.hoped = append(a.hoped, r)
		}
	}
	return a
}

// settled reports whether what was detected stands no more on a day.
func (r Result) settled(on model.Day) bool { return r.Settled != 0 && r.Settled <= on }

// chain are the most of some results, oldest first, that lie so many days apart: each
// as early as can be. At most most are taken; those of one day count once.
func chain(all []Result, apart, most int) (links []Result) {
	for _, r := range all {
		if len(links) == most {
			break
		}
		if n := len(links); n == 0 || r.Taken >= links[n-1].Taken+model.Day(max(apart, 1)) {
			links = append(links, r)
		}
	}
	return links
}

// results asks for so many samples in which a thing was not detected, so far apart.
func (l Line) results(a answers, want, apart int, on model.Day) Line {
	links, hoped := chain(a.clear, apart, want), chain(a.hoped, apart, want)
	l.Want, l.Have = want, len(links)
	for _, r := range links {
		l.On = append(l.On, r.Sample.ID)
	}
	step := model.Day(max(apart, 1))
	l.Earliest = on
	if d := a.detected.Taken; d > 0 {
		l.On = append(l.On, a.detected.Sample.ID)
		l.Again, l.Earliest = d, max(on, d+1)
		l.Reasons = append(l.Reasons, why("detected", map[string]model.Gap{"Day": model.DayGap(d), "Agent": model.KeyGap("agent." + string(a.detected.Of))}))
	}
	if a.stands { // how often it is looked for then is the vet's to say
		l.Have, l.On, l.NoDay = 0, []model.ID{a.detected.Sample.ID}, true
		return l.has(false)
	}
	if n := len(hoped); n < want {
		if n > 0 {
			l.Earliest = max(l.Earliest, hoped[n-1].Taken+step)
		}
		l.Earliest += step * model.Day(want-n-1)
	}
	if l.Have < want {
		l.Reasons = append(l.Reasons, why("more-results", map[string]model.Gap{"Count": model.CountGap(want - l.Have), "Apart": model.CountGap(apart)}))
		if len(hoped) > len(links) {
			l.Reasons = append(l.Reasons, why("at-the-lab", map[string]model.Gap{"Count": model.CountGap(len(hoped) - len(links))}))
		}
		if a.silent > 0 {
			l.Reasons = append(l.Reasons, why("silent", map[string]model.Gap{"Count": model.CountGap(a.silent)}))
		}
		if a.nothing > 0 {
			l.Reasons = append(l.Reasons, why("nothing", map[string]model.Gap{"Count": model.CountGap(a.nothing)}))
		}
		if a.pooled > 0 {
			l.Reasons = append(l.Reasons, why("pooled", map[string]model.Gap{"Count": model.CountGap(a.pooled)}))
		}
	}
	return l.has(l.Have >= want)
}

// looked asks of one thing for results that speak: so many, so far apart, the last of
// them lately, and one since somebody came in. Earlier ones stay as history. A thing
// that was detected holds the line until that is settled, and then begins anew behind
// it.
func looked(t *knowledge.Tables, p Protocol, of knowledge.Asked, f Facts, on model.Day) Line {
	l := lately(p, of, f, on)
	l.Reasons = append(l.Reasons, weak(t, of, f, on)...)
	return l.beside(f, on, func(one knowledge.AgentID) bool { return slices.Contains(of.Agents, one) })
}

// weak says of which things the samples that count miss many, and how many.
func weak(t *knowledge.Tables, of knowledge.Asked, f Facts, on model.Day) (all []model.Label) {
	clear := f.answers(of.Agents, on, func(Result) bool { return true }).clear
	for _, id := range of.Agents {
		if a, _ := t.Agent(id); a.Of > 0 && slices.ContainsFunc(clear, func(r Result) bool { return r.Of == id && r.Weak }) {
			all = append(all, why("weak", map[string]model.Gap{"Agent": model.KeyGap("agent." + string(id)), "Found": model.CountGap(a.Found), "Of": model.CountGap(a.Of)}))
		}
	}
	return all
}

// lately is looked without what was detected in others, and what its samples may miss.
func lately(p Protocol, of knowledge.Asked, f Facts, on model.Day) Line {
	a := f.answers(of.Agents, on, func(Result) bool { return true })
	l := Line{Item: LookedFor, Agents: of.Agents}.results(a, of.NotDetected, of.Apart, on)
	first, r, unknown := f.after(of.Agents, on)
	if !l.State.Met() {
		if answers := func(r Result) bool { return r.Taken >= first }; !a.stands && !slices.ContainsFunc(a.hoped, answers) {
			l.Earliest = max(l.Earliest, first)
		}
		return l
	}
	last := a.clear[len(a.clear)-1]
	if id := last.Sample.ID; !slices.Contains(l.On, id) {
		l.On = append(l.On, id)
	}
	if first > last.Taken {
		l.Again, l.State, l.Earliest = r.Day, NotMet, max(l.Earliest, first)
		l.Reasons = append([]model.Label{r.why()}, append(l.Reasons, why("one-after", map[string]model.Gap{"Day": model.DayGap(first)}))...)
	}
	if unknown.Day > 0 {
		l.Reasons = append(l.Reasons, why("no-figure", map[string]model.Gap{"Agent": model.KeyGap("agent." + string(unknown.Agent)), "Day": model.DayGap(unknown.Day)}))
	}
	if l.Until = last.Taken + model.Day(p.Within); on > l.Until {
		l.Until, l.State = 0, NotMet
		l.Reasons = append(l.Reasons, why("too-old", map[string]model.Gap{"Day": model.DayGap(last.Taken), "Days": model.CountGap(p.Within)}))
	}
	return l
}

// faecal asks for faecal samples in which worms and protozoa were not detected.
func faecal(p Protocol, f Facts, on model.Day) Line {
	of := []knowledge.AgentID{knowledge.FaecalAgent}
	a := f.answers(of, on, func(r Result) bool { return r.Faeces })
	return Line{Item: Faecal, Agents: of}.results(a, p.Faecal, p.FaecalApart, on).beside(f, on, func(of knowledge.AgentID) bool { return of == knowledge.FaecalAgent })
}

// noneFound asks that nothing that was ever detected in it stands, whether the
// protocol asks for it or not: a later "not detected" settles nothing. Source: no
// clearance of a serpentovirus was seen over 28 months (Hoon-Hanks et al. 2019);
// for other things common practice, no source. Where samples are asked for, nothing can be
// told before one of them has said something.
func noneFound(p Protocol, f Facts, on model.Day) Line {
	l := Line{Item: NoneFound, Earliest: on}
	var stand []Result
	for _, r := range f.Results {
		if r.Outcome == Detected && r.answered(on) && r.Taken <= on && !r.settled(on) {
			stand = append(stand, r)
		}
	}
	slices.SortFunc(stand, func(a, b Result) int {
		return cmp.Or(cmp.Compare(a.Taken, b.Taken), slices.Compare(a.Sample.ID[:], b.Sample.ID[:]), cmp.Compare(a.Of, b.Of))
	})
	for _, r := range stand {
		if !slices.Contains(l.On, r.Sample.ID) {
			l.On = append(l.On, r.Sample.ID)
		}
		gaps := map[string]model.Gap{"Day": model.DayGap(r.Taken), "Agent": model.KeyGap("agent." + string(r.Of))}
		if r.Pool {
			l.Reasons = append(l.Reasons, why("detected-pool", gaps))
		} else {
			l.Reasons = append(l.Reasons, why("detected-stands", gaps))
		}
	}
	l = l.has(len(stand) == 0)
	if within := f.during(on); len(stand) == 0 && asksSamples(p) && !slices.ContainsFunc(f.Results, func(r Result) bool { return within(r.Taken) && r.says(on) }) {
		l.State, l.Reasons = CannotTell, []model.Label{why("no-result", nil)}
	}
	return l.beside(f, on, func(of knowledge.AgentID) bool { return !asks(p, of) })
}

// asksSamples reports whether the protocol asks for any.
func asksSamples(p Protocol) bool {
	return p.Faecal > 0 || slices.ContainsFunc(p.For, func(a knowledge.Asked) bool { return a.NotDetected > 0 })
}

// given reports whether the sample was not given up by a day.
func (r Result) given(on model.Day) bool { return r.Void == 0 || r.Void > on }

// answered reports whether the lab has answered by a day.
func (r Result) answered(on model.Day) bool { return r.Reported != 0 && r.Reported <= on }

// says reports whether the answer of a day is one that says something.
func (r Result) says(on model.Day) bool {
	return r.given(on) && r.answered(on) && (r.Outcome == Detected || r.Outcome == NotDetected && r.Speaks)
}

// checked asks for a full check that was made lately.
func checked(p Protocol, f Facts, on model.Day) Line {
	l := Line{Item: FullCheck, Want: 1, Earliest: on}
	within := f.during(on)
	var full, part Check
	for _, c := range f.Checks {
		switch {
		case !within(c.Day):
		case c.Full && (c.Day > full.Day || c.Day == full.Day && slices.Compare(c.Entry.ID[:], full.Entry.ID[:]) > 0):
			full = c
		case !c.Full && (c.Day > part.Day || c.Day == part.Day && cmp.Or(cmp.Compare(c.Left, part.Left), slices.Compare(c.Entry.ID[:], part.Entry.ID[:])) < 0):
			part = c
		}
	}
	switch {
	case full.Day == 0 && part.Day == 0:
		l.Reasons = []model.Label{why("no-check", nil)}
		return l.has(false)
	case full.Day == 0:
		l.On = []model.ID{part.Entry.ID}
		l.Reasons = []model.Label{why("check-part", map[string]model.Gap{"Day": model.DayGap(part.Day), "Count": model.CountGap(part.Left)})}
		return l.has(false)
	}
	l.On = []model.ID{full.Entry.ID}
	if until := full.Day + model.Day(p.CheckWithin); on <= until {
		l.Have, l.Until = 1, until
		return l.has(true)
	}
	l.Reasons = []model.Label{why("check-old", map[string]model.Gap{"Day": model.DayGap(full.Day), "Days": model.CountGap(p.CheckWithin)})}
	if part.Day > full.Day {
		l.Reasons = append(l.Reasons, why("check-part", map[string]model.Gap{"Day": model.DayGap(part.Day), "Count": model.CountGap(part.Left)}))
	}
	return l.has(false)
}

// nothingUp asks that nothing stands above "look again".
func nothingUp(f Facts) Line {
	l := Line{Item: NothingUp, Earliest: f.Today, On: f.Open.On}
	switch {
	case f.Open.Grave:
		l.Reasons = []model.Label{why("open", nil)}
		return l.has(false)
	case !f.Open.Known:
		l.State, l.Reasons = CannotTell, []model.Label{why("no-check", nil)}
		return l
	}
	l.Since = min(f.Today, max(f.Arrived, f.Open.Since))
	within := f.during(f.Today)
	var last Check
	for _, c := range f.Checks {
		if within(c.Day) && (c.Day > last.Day || c.Day == last.Day && slices.Compare(c.Entry.ID[:], last.Entry.ID[:]) > 0) {
			last = c
		}
	}
	if last.Day > 0 {
		l.On = append(slices.Clone(l.On), last.Entry.ID)
		l.Reasons = []model.Label{why("last-check", map[string]model.Gap{"Day": model.DayGap(last.Day)})}
	}
	return l.has(true)
}

// eaten asks for meals that were kept down. One counts when as many hours have gone
// by as an animal rests after a meal.
func eaten(t *knowledge.Tables, p Protocol, f Facts, on model.Day) Line {
	l := Line{Item: Meals, Want: p.Meals, Earliest: on}
	rest := model.Day((t.Value(knowledge.ValueRestAfterMeal) + 23) / 24)
	within := f.during(on)
	byDay := map[model.Day]model.EntryID{}
	for _, m := range f.Meals {
		if first, twice := byDay[m.Day]; within(m.Day) && (!twice || slices.Compare(m.Entry.ID[:], first.ID[:]) < 0) {
			byDay[m.Day] = m.Entry
		}
	}
	taken := 0
	var last, counted model.Day
	for _, day := range sortedDays(byDay) {
		if last = day; taken < p.Meals {
			taken, counted = taken+1, day+rest
			if counted <= on {
				l.Have, l.On = l.Have+1, append(l.On, byDay[day].ID)
			}
		}
	}
	l.Reasons = f.unmeasured(t, on)
	if l.Have >= p.Meals {
		return l.has(true)
	}
	l.Earliest = max(on, counted)
	if missing := p.Meals - taken; missing > 0 {
		next := on
		if last > 0 {
			next = max(on, last+model.Day(f.OfferEvery))
		}
		l.Earliest = next + model.Day(f.OfferEvery*(missing-1)) + rest
	}
	l.Reasons = append(l.Reasons, why("more-meals", map[string]model.Gap{"Count": model.CountGap(p.Meals - l.Have)}))
	return l.has(false)
}

// unmeasured tells of a fast that is longer than any that was measured, by the days of the
// tables, counted as they count them; none where it is not. Of one that has kept no meal
// as far as is known it counts from the arrival. What so long a fast costs is not known:
// it is a matter for the vet.
func (f Facts) unmeasured(t *knowledge.Tables, on model.Day) []model.Label {
	measured := t.Value(knowledge.ValueFastLostIn)
	since := f.Arrived
	if f.Kept > 0 && f.Kept <= on {
		since = f.Kept
	}
	days := int(on - since)
	if days <= measured+t.Value(knowledge.ValueStarvingFrom) {
		return nil
	}
	return []model.Label{why("long-fast", map[string]model.Gap{"Day": model.DayGap(since), "Days": model.CountGap(days), "Measured": model.CountGap(measured)})}
}

// weighed asks that the last comparable weight is not far below the first. Doubtful ones
// are left out; where the newest is one, it cannot be told.
func weighed(t *knowledge.Tables, p Protocol, f Facts, on model.Day) Line {
	l := Line{Item: Weighed, Want: p.Weight, Earliest: on}
	within := f.during(on)
	order := func(a, b Weight) int {
		return cmp.Or(cmp.Compare(a.Day, b.Day), slices.Compare(a.Entry.ID[:], b.Entry.ID[:]))
	}
	var all, doubtful []Weight
	for _, w := range f.Weights {
		switch {
		case !within(w.Day) || w.Mass.Milligrams <= 0:
		case w.Doubtful:
			doubtful = append(doubtful, w)
		default:
			all = append(all, w)
		}
	}
	slices.SortFunc(all, order)
	if len(doubtful) > 0 { // a newest one that is doubtful leaves open how it is now
		w := slices.MaxFunc(doubtful, order)
		if len(all) < 2 || order(w, all[len(all)-1]) > 0 {
			l.State, l.On = CannotTell, []model.ID{w.Entry.ID}
			l.Reasons = []model.Label{why("weight-doubtful", map[string]model.Gap{"Day": model.DayGap(w.Day), "Scale": model.TextGap(w.Scale)})}
			return l
		}
	}
	if len(all) == 0 {
		l.State, l.Reasons = CannotTell, []model.Label{why("no-weight", nil)}
		return l
	}
	first, last := all[0], all[len(all)-1]
	l.On = []model.ID{first.Entry.ID}
	if first.Day == last.Day {
		l.State, l.Reasons = CannotTell, []model.Label{why("one-weight", map[string]model.Gap{"Day": model.DayGap(first.Day)})}
		return l
	}
	l.On = append(l.On, last.Entry.ID)
	l.Have = int(last.Mass.Milligrams * 100 / first.Mass.Milligrams)
	until := last.Day + model.Day(t.Value(knowledge.ValueLosingLast))
	gaps := map[string]model.Gap{"First": model.MassGap(first.Mass), "Last": model.MassGap(last.Mass), "Day": model.DayGap(last.Day)}
	switch {
	case on > until:
		l.Reasons = []model.Label{why("weight-old", map[string]model.Gap{"Day": model.DayGap(last.Day)})}
		return l.has(false)
	case last.Mass.Milligrams*100 >= first.Mass.Milligrams*int64(p.Weight):
		l.Until = until
		return l.has(true)
	case f.FastsSince > 0 && on >= f.FastsSince && !f.Losing && last.Mass.Milligrams*100 > first.Mass.Milligrams*int64(p.Watch):
		lost, line := last.lost(first), last.costs(first)
		gaps["Since"], gaps["Share"], gaps["Line"] = model.DayGap(f.FastsSince), model.ShareGap(lost), model.ShareGap(line)
		if long := f.unmeasured(t, on); long != nil { // the line does not reach so far
			l.Reasons = append([]model.Label{why("weight-low", gaps)}, long...)
			return l.has(false)
		}
		if lost > line {
			l.Reasons = []model.Label{why("weight-above-line", gaps)}
			return l.has(false)
		}
		l.Until, l.State, l.Reasons = until, Watch, []model.Label{why("weight-fasts", gaps)}
		return l
	}
	l.Reasons = []model.Label{why("weight-low", gaps)}
	return l.has(false)
}

// lost is the share of an earlier weight that is gone at a later one, in hundredths of a
// percent, rounded up.
func (w Weight) lost(since Weight) int {
	held := since.Mass.Milligrams
	return int(((held-w.Mass.Milligrams)*10_000 + held - 1) / held)
}

// costs is the share of an earlier weight that the fast is known to cost at the most
// until a later one, in hundredths of a percent: where it fasted then already, only what
// it cost from there on.
func (w Weight) costs(since Weight) int {
	left := 10_000 - since.Cost
	return max(0, (w.Cost-since.Cost)*10_000/left)
}

// shed asks for whole sheds.
func shed(p Protocol, f Facts, on model.Day) Line {
	l := Line{Item: WholeShed, Want: p.Sheds, Earliest: on}
	within := f.during(on)
	byDay := map[model.Day]model.EntryID{}
	for _, s := range f.Sheds {
		if first, twice := byDay[s.Day]; within(s.Day) && s.Whole && (!twice || slices.Compare(s.Entry.ID[:], first.ID[:]) < 0) {
			byDay[s.Day] = s.Entry
		}
	}
	for _, day := range sortedDays(byDay) {
		if l.Have < p.Sheds {
			l.Have, l.On = l.Have+1, append(l.On, byDay[day].ID)
		}
	}
	if l.Have < p.Sheds {
		l.Reasons = []model.Label{why("no-shed", map[string]model.Gap{"Count": model.CountGap(p.Sheds - l.Have)})}
	}
	return l.has(l.Have >= p.Sheds)
}

// noneAway asks that no sample is without its answer. Where samples are asked for, and none
// was taken, it cannot be told.
func noneAway(p Protocol, f Facts, on model.Day) Line {
	l := Line{Item: NoneAway, Earliest: on}
	within, taken := f.during(on), false
	for _, r := range f.Results {
		taken = taken || within(r.Taken) && r.given(on)
		if r.Taken > on || !r.given(on) || r.answered(on) || slices.Contains(l.On, r.Sample.ID) {
			continue
		}
		l.On = append(l.On, r.Sample.ID)
	}
	slices.SortFunc(l.On, func(a, b model.ID) int { return slices.Compare(a[:], b[:]) })
	if n := len(l.On); n > 0 {
		l.Reasons = []model.Label{why("pending", map[string]model.Gap{"Count": model.CountGap(n)})}
	} else if asksSamples(p) && !taken {
		l.State, l.Reasons = CannotTell, []model.Label{why("no-sample", nil)}
		return l
	}
	return l.has(len(l.On) == 0)
}

func sortedDays(of map[model.Day]model.EntryID) []model.Day {
	days := make([]model.Day, 0, len(of))
	for day := range of {
		days = append(days, day)
	}
	slices.Sort(days)
	return days
}
