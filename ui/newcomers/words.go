package newcomers

import (
	"cmp"
	"slices"
	"strings"

	"coilward/model"
	"coilward/model/chart"
	"coilward/model/knowledge"
	"coilward/model/newcomers"
	"coilward/model/positives"
	"coilward/model/quarantine"
	"coilward/model/wording"
	"coilward/ui/place"
)

// words say how newcomers stand, as of a day.
type words struct {
	*wording.Text
	t     *knowledge.Tables
	today model.Day
}

type gaps = wording.Gaps

// agents are the things of a line, any one of which will do.
func (w words) agents(of []knowledge.AgentID) string {
	var names []string
	for _, a := range of {
		names = append(names, w.Say("agent."+string(a)))
	}
	return strings.Join(names, " / ")
}

// line is what is asked, with how much of it there is.
func (w words) line(l quarantine.Line) string {
	if l.Item == quarantine.Weighed && l.Have == 0 {
		return w.Say("quarantine.item.weight")
	}
	return w.Say("newcomers.line."+string(l.Item), gaps{"Agent": w.agents(l.Agents), "Have": l.Have, "Want": l.Want})
}

// held is what holds a release, by the line that is not met: that something was found,
// where the line asks for nothing.
func (w words) held(l quarantine.Line) string {
	switch {
	case l.Item == quarantine.NoneFound:
		return w.Say("newcomers.held-detected")
	case l.Item == quarantine.NothingUp && l.State == quarantine.NotMet:
		return w.Say("newcomers.held-open")
	case l.Item == quarantine.NoneAway:
		return w.Say("newcomers.held-pending")
	}
	return w.line(l)
}

// mark is a line in a word or two.
func (w words) mark(l quarantine.Line) string {
	if l.Item == quarantine.NothingUp && l.State == quarantine.CannotTell { // nobody has looked yet
		return w.Say("newcomers.not-looked")
	}
	return w.Say("newcomers.mark."+string(l.Item), gaps{"Agent": w.agents(l.Agents), "Want": l.Want})
}

// when says since when a line is met, or the earliest day on which it can be.
func (w words) when(g quarantine.Gate, l quarantine.Line) string {
	switch {
	case g.Stale(l):
		return w.Say("newcomers.until", gaps{"Day": w.DayShort(l.Until)})
	case l.State.Met():
		return w.Say("newcomers.since", gaps{"Day": w.DayShort(l.Since)})
	case l.Undated():
		return w.Say("newcomers.no-day")
	case l.Earliest <= w.today:
		return w.Say("newcomers.any-day")
	}
	return w.Say("newcomers.earliest", gaps{"Day": w.DayShort(l.Earliest)})
}

// detected is what was detected and is not settled, and where that is shown.
func (w words) detected(t positives.Trace) (said string, to place.Route) {
	to, key, day := place.Route{To: place.Positive, Subject: t.ID.ID}, "detected.open", t.Opened.Day()
	if t.ID.IsZero() {
		to, key, day = place.Route{To: place.Tray, Subject: t.Sample.ID}, "detected.unopened", t.Reported.Day()
	}
	return w.Say(key, gaps{"Agent": w.Say("agent." + string(t.Agent)), "Day": w.DayShort(day)}), to
}

// answer is what is to be done next about what was detected, and where.
func (w words) answer(t positives.Trace) (said string, to place.Route) {
	_, to = w.detected(t)
	if t.ID.IsZero() {
		return w.Say("newcomers.to-detected", gaps{"Agent": w.Say("agent." + string(t.Agent))}), to
	}
	for _, act := range t.Acts {
		if !act.Done {
			return w.Say("positive.act." + string(act.ID)), to
		}
	}
	return w.Say("newcomers.to-positive"), to
}

// reasons are why, in one text.
func (w words) reasons(l quarantine.Line) string {
	var all []string
	for _, r := range l.Reasons {
		all = append(all, w.Label(r))
	}
	return strings.Join(all, " ")
}

// mark names a line's mark on the bar.
type mark struct {
	chart.Milestone
	Line quarantine.Line
}

// marks are the lines as marks: where they are met since when, else the earliest day.
// What is met only because nothing is amiss has none; what was detected and stands is on
// the days of its samples.
func (w words) marks(n newcomers.Newcomer) (all []mark) {
	g := n.Gate
	holds := map[string]bool{}
	for _, l := range g.Holds() {
		holds[w.mark(l)] = true
	}
	for _, l := range g.Lines {
		if l.State.Met() && (l.Item == quarantine.NothingUp || l.Item == quarantine.NoneFound || l.Item == quarantine.NoneAway) {
			continue
		}
		if l.Item == quarantine.NoneFound && l.State == quarantine.NotMet {
			for _, day := range n.Facts.Sampled(l.On) {
				all = append(all, mark{chart.Milestone{Day: day, Said: w.mark(l), Standing: chart.Holds, Happened: true}, l})
			}
			continue
		}
		m := mark{chart.Milestone{Day: max(l.Earliest, w.today), Said: w.mark(l), Standing: chart.ToCome, Undated: l.Undated()}, l}
		switch {
		case l.State.Met():
			m.Day, m.Standing = l.Since, chart.IsMet
		case l.State == quarantine.CannotTell:
			m.Standing = chart.NotKnown
		case holds[w.mark(l)] || l.Undated():
			m.Standing = chart.Holds
		}
		all = append(all, m)
	}
	slices.SortStableFunc(all, func(a, b mark) int {
		if a.Undated != b.Undated { // as they stand from left to right
			if a.Undated {
				return 1
			}
			return -1
		}
		return cmp.Compare(a.Day, b.Day)
	})
	return all
}

// bar is the bar of a newcomer among those that show the same days.
func (w words) bar(b Board, n newcomers.Newcomer) (chart.StayData, []mark) {
	from, to := b.Span()
	d := chart.StayData{From: from, To: to, Begun: n.Quarantine.Arrived.Day(), Today: b.Today, Earliest: max(n.Gate.Earliest, n.Quarantine.Arrived.Day()), Undated: n.Gate.Undated(),
		End: w.DayOfYear(n.Gate.Earliest), EndBelow: w.away(n.Gate), Open: w.Say("newcomers.no-date"), Words: chart.Words{Calendar: w.Text}}
	if n.Gate.Met {
		d.End = w.Say("newcomers.may-leave")
	}
	for _, r := range n.Facts.Restarts {
		said := w.Say("newcomers.again.moved")
		if !r.Positive.IsZero() {
			said = w.Say("newcomers.again.near", gaps{"Name": r.NearTo})
		} else if r.Name != "" {
			said = w.Say("newcomers.again.came", gaps{"Name": r.Name})
		}
		d.Breaks = append(d.Breaks, chart.Break{Day: r.Day, Said: said})
	}
	marks := w.marks(n)
	for _, m := range marks {
		d.Milestones = append(d.Milestones, m.Milestone)
	}
	return d, marks
}

// away is how far off the earliest release is.
func (w words) away(g quarantine.Gate) string {
	switch days := int(g.Earliest - w.today); {
	case g.Met:
		return w.Say("newcomers.since", gaps{"Day": w.DayOfYear(g.Earliest)})
	case days <= 0:
		return w.Say("newcomers.when-done")
	default:
		return w.Count("newcomers.in-days", days)
	}
}

// hold is what holds the release, and why, in plain words.
func (w words) hold(n newcomers.Newcomer) (title, why string) {
	if n.Gate.Met {
		return w.Say("newcomers.met"), w.Say("newcomers.met-what")
	}
	holds := n.Gate.Holds()
	for _, l := range n.Gate.Unmet() { // what must be mended goes before what only takes days
		if l.Undated() {
			holds = append([]quarantine.Line{l}, holds...)
			break
		}
	}
	title = w.held(holds[0])
	if more := len(n.Gate.Unmet()) - 1; more > 0 {
		title = w.Count("newcomers.hold-more", more, gaps{"First": title})
	}
	why = w.reasons(holds[0])
	if left := int(holds[0].Earliest - w.today); holds[0].Item == quarantine.InRoom && left > 0 {
		why = strings.TrimSpace(w.Count("newcomers.days-left", left, gaps{"Day": w.DayShort(holds[0].Earliest)}) + " " + why)
	}
	return title, why
}

// step is what is to be done, and by when.
func (w words) step(s quarantine.Step) (what, when string) {
	what = w.Say("quarantine.step." + string(s.Kind))
	if len(s.Agents) > 0 && s.Kind == quarantine.StepSwab {
		what += ": " + w.agents(s.Agents)
	}
	switch {
	case s.TooOld > 0:
		what = w.Say("newcomers.once-more", gaps{"What": what})
	case s.Of > 1:
		what = w.Say("newcomers.nth", gaps{"What": what, "N": s.N, "Of": s.Of})
	}
	switch {
	case s.From > w.today:
		return what, w.Say("newcomers.from", gaps{"Day": w.DayShort(s.From)})
	case s.By <= w.today:
		return what, w.By(s.By, w.today)
	}
	return what, w.Say("newcomers.until-day", gaps{"Day": w.DayShort(s.By)})
}

// below is the sentence under the title of the page.
func (w words) below(b Board) string {
	said := w.Count("newcomers.count", len(b.Open))
	found := 0
	for _, n := range b.Open {
		if len(b.Detected[n.Animal.ID]) > 0 {
			found++
		}
	}
	if found > 0 {
		said += " · " + w.Count("newcomers.detected-in", found)
	}
	first := b.First()
	if first < 0 {
		return said
	}
	n := b.Open[first]
	switch {
	case n.Gate.Met:
		said += " · " + w.Say("newcomers.first-now", gaps{"Animal": n.Animal.Name})
	case n.Gate.Earliest > w.today && len(b.Open) == 1:
		said += " · " + w.Say("newcomers.leaves", gaps{"Animal": n.Animal.Name, "Day": w.DayShort(n.Gate.Earliest)})
	case n.Gate.Earliest > w.today:
		said += " · " + w.Say("newcomers.first", gaps{"Animal": n.Animal.Name, "Day": w.DayShort(n.Gate.Earliest)})
	}
	return said
}

// watch is the chart of the looks for mites at a newcomer.
func (w words) watch(n newcomers.Newcomer) chart.WatchData {
	m := n.Facts.Mites
	d := chart.WatchData{Today: w.today, From: m.From, Ends: m.Ends, Over: m.Over, TodaySaid: w.Say("newcomers.today"), GapSaid: w.Say("newcomers.gap"), Words: chart.Words{Calendar: w.Text}}
	for g := range d.Grades {
		d.Grades[g] = w.Say("newcomers.grade." + w.Number(int64(g)))
	}
	last := model.Day(0) // of its own looks
	for _, l := range n.Looks {
		d.Looks = append(d.Looks, chart.Look{Day: l.Day, Grade: int(l.Grade), Other: l.Mate, Passing: l.Glance})
		if l.Mate || l.Glance {
			continue
		}
		if last > 0 && int(l.Day-last) > w.t.Value(knowledge.ValueMiteGap) {
			d.Gaps = append(d.Gaps, chart.Gap{From: last, To: l.Day})
		}
		last = l.Day
	}
	if m.From > 0 {
		d.FromSaid = w.Say("newcomers.mites-from." + string(m.Why))
		d.EndsSaid = w.Say("newcomers.mites-ends", gaps{"Days": m.Days, "Day": w.DayOfYear(m.Ends)})
	}
	if m.Over > 0 {
		d.EndsSaid = w.Say("newcomers.mites-over", gaps{"Day": w.DayOfYear(m.Over)})
	}
	return d
}

// looked is the sentence over the looks.
func (w words) looked(n newcomers.Newcomer) string {
	m := n.Facts.Mites
	switch {
	case m.From == 0:
		return w.Say("quarantine.why.mites-no-look")
	case m.Over > 0:
		return w.Say("newcomers.none-since", gaps{"Day": w.DayShort(m.From), "Over": w.DayShort(m.Over)})
	case m.Next > 0:
		return w.Say("newcomers.next-look", gaps{"By": w.By(m.Next, w.today)})
	}
	return ""
}

// lives is the chart of a mite's life beside the watch.
func (w words) lives(n newcomers.Newcomer) chart.LivesData {
	m := n.Facts.Mites
	d := chart.LivesData{Days: float64(m.Days), Now: -1, Words: chart.Words{Calendar: w.Text}}
	if m.From > 0 {
		d.Now = float64(w.today - m.From)
		d.NowSaid = w.Say("newcomers.life.now", gaps{"Day": int(w.today - m.From)})
	}
	chain, adult := w.t.LongestMites()
	d.DaysSaid = w.Say("newcomers.life.watch", gaps{"Days": m.Days})
	for _, s := range w.t.MiteLife() {
		least, most := s.Hours()
		d.Lives = append(d.Lives, chart.Life{Name: w.Say("mites.life." + string(s.ID)), Least: float64(least) / 24, Most: float64(most) / 24, Said: w.span(least, most)})
	}
	d.Lives = append(d.Lives, chart.Life{Name: w.Say("newcomers.life.chain"), Most: float64(chain) / 24, Said: w.Say("newcomers.life.to", gaps{"Days": w.days(chain)}), Sum: true})
	if m.Days*24 > chain+adult-24 {
		d.Lives = append(d.Lives, chart.Life{Name: w.Say("newcomers.life.both"), Most: float64(chain+adult) / 24, Said: w.Say("newcomers.life.to", gaps{"Days": w.days(chain + adult)}), Sum: true})
	}
	return d
}

// margin is how much longer is watched than mites can live without a snake.
func (w words) margin(n newcomers.Newcomer) string {
	chain, adult := w.t.LongestMites()
	longest := max(chain, adult)
	if cool := n.Facts.Mites.Cool; cool {
		return w.Say("newcomers.life.margin-cool", gaps{"Days": n.Facts.Mites.Days, "Longest": w.days(chain + adult)})
	}
	return w.Count("newcomers.life.margin", n.Facts.Mites.Days-(longest+23)/24, gaps{"Days": n.Facts.Mites.Days, "Longest": w.days(longest)})
}

// days are hours as days, with a tenth where they are few.
func (w words) days(hours int) string {
	if hours%24 == 0 || hours >= 20*24 {
		return w.Number(int64((hours + 12) / 24))
	}
	return w.Decimal(int64((hours*10+12)/24), 1)
}

func (w words) span(least, most int) string {
	switch {
	case least == 0:
		return w.Say("newcomers.life.to", gaps{"Days": w.days(most)})
	case w.days(least) == w.days(most):
		return w.Say("newcomers.life.days", gaps{"Days": w.days(most)})
	}
	return w.Say("newcomers.life.span", gaps{"From": w.days(least), "To": w.days(most)})
}

// said is what each source says of a stage, as a sentence.
func (w words) said(s knowledge.MiteStage) string {
	var all []string
	for _, one := range s.Said {
		all = append(all, w.span(one.From, one.To)+" ("+w.Source(one.Source)+")")
	}
	return w.Say("mites.life."+string(s.ID)) + ": " + strings.Join(all, "; ")
}

// lookSaid is one look as words.
func (w words) lookSaid(n newcomers.Newcomer, i int) string {
	l := n.Looks[i]
	said := w.Say("newcomers.looked", gaps{"Day": w.DayShort(l.Day), "Seen": w.Say("care.mites." + w.Number(int64(l.Grade)))})
	if l.Mate {
		said += " · " + w.Say("newcomers.looked-mate")
	}
	if l.Glance {
		said += " · " + w.Say("newcomers.looked-glance")
	}
	return said
}
