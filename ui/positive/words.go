package positive

import (
	"slices"
	"strings"

	"coilward/model"
	"coilward/model/chart"
	"coilward/model/contact"
	"coilward/model/knowledge"
	"coilward/model/positives"
	"coilward/model/wording"
	"coilward/ui/particulars"
)

type words struct {
	*wording.Text
	tables *knowledge.Tables
}

type gaps = wording.Gaps

func (w words) agent(t positives.Trace) string { return w.Say("agent." + string(t.Agent)) }

func (w words) title(t positives.Trace) string {
	return w.Say("positive.page.of", gaps{"Agent": particulars.Capital(w.agent(t)), "Animals": t.Names()})
}

// below is when it was sampled, reported and opened.
func (w words) below(t positives.Trace) string {
	return w.Say("positive.page.below", gaps{"Taken": w.DayShort(t.Sampled), "Reported": w.DayShort(t.Reported.Day()), "Opened": w.DayShort(t.Opened.Day())})
}

func (w words) closed(t positives.Trace) string {
	said := w.Say("positive.page.closed", gaps{"Day": w.DayShort(t.Closed.At.Day()), "Why": w.Say("positive.why." + string(t.Closed.Why))})
	if t.Closed.Note != "" {
		said += " " + w.Say("positive.page.closed-note", gaps{"Note": t.Closed.Note})
	}
	if len(t.Closed.Unmet) > 0 {
		var all []string
		for _, act := range t.Closed.Unmet {
			all = append(all, w.Say("positive.act."+string(act)))
		}
		said += " " + w.Say("positive.page.closed-unmet", gaps{"Acts": strings.Join(all, "; ")})
	}
	return said
}

// span are the days that the chart shows: from a while before the first that counts, no
// longer than three years, to the last flag.
func span(t positives.Trace) (from, to model.Day) {
	from = max(t.From(), t.Day-3*365)
	shown := slices.Clone(t.Animals)
	for _, n := range t.Near {
		shown = append(shown, n.Animal)
	}
	for _, id := range shown {
		for _, r := range t.Results[id] {
			from = min(from, max(r.Taken, t.Day-3*365))
		}
	}
	to = t.Day
	for _, n := range t.Near {
		if day, known := n.Speaks(t.Worth); known {
			to = max(to, day)
		}
	}
	margin := max(7, (to-from)/20)
	return from - margin, to + margin
}

// row is what the chart shows of one animal; source is set for one of the sample.
func (w words) row(t positives.Trace, id model.AnimalID, source *contact.Source, near *contact.Near) chart.TraceData {
	from, to := span(t)
	d := chart.TraceData{From: from, To: to, Today: t.Day, Since: t.From(), Words: chart.Words{Calendar: w.Text}}
	if source != nil {
		d.Since = source.Since
	}
	for _, s := range t.Stays[id] {
		until := t.Day
		if s.Until != 0 {
			until = min(s.Until, t.Day)
		}
		d.Bands = append(d.Bands, chart.TraceBand{From: s.From, To: until})
		if source != nil && until >= source.Since {
			d.Bands = append(d.Bands, chart.TraceBand{From: max(s.From, source.Since), To: until, Stretch: chart.Carrying})
		}
	}
	for _, r := range t.Results[id] {
		tested := chart.WasNotDetected
		switch {
		case r.Detected:
			tested = chart.WasDetected
		case !r.Speaks:
			tested = chart.SaysNothing
		}
		d.Marks = append(d.Marks, chart.TraceMark{Day: r.Taken, Tested: tested})
	}
	if source != nil {
		d.Said = []chart.TraceWord{{Day: t.Sampled, Said: w.Say("positive.chart.detected", gaps{"Day": w.near(t, t.Sampled)}), Strong: true, Loud: true}}
		if source.Why != contact.SinceEver {
			d.Said = append(d.Said, chart.TraceWord{Day: source.Since, Said: w.Say("positive.chart.since", gaps{"Day": w.near(t, source.Since)}), Below: true, Loud: true})
		}
	}
	if near != nil {
		for _, s := range near.Stretches {
			d.Bands = append(d.Bands, chart.TraceBand{From: s.First, To: s.Last, Stretch: chart.Together})
		}
		last := near.Last()
		said := w.Say("positive.chart.last", gaps{"Day": w.near(t, last.Last)})
		if last.Still {
			said = w.Say("positive.chart.still")
		}
		d.Said = []chart.TraceWord{{Day: last.Last, Said: said, Below: true, Loud: true}}
		if last.Still {
			d.Said[0].Day, d.Said[0].Strong = near.First(), true
		}
		if day, known := near.Speaks(t.Worth); known {
			d.Flag = day
			d.Said = append(d.Said, chart.TraceWord{Day: day, Said: w.Say("positive.chart.speaks", gaps{"Day": w.near(t, day)})})
		}
	}
	return d
}

// near is a day of the chart, with its year where that is not the last one.
func (w words) near(t positives.Trace, day model.Day) string {
	if year, _, _ := day.Date(); year == lastYear(t) {
		return w.DayOfYear(day)
	}
	return w.DayShort(day)
}

func lastYear(t positives.Trace) int {
	year, _, _ := t.Day.Date()
	return year
}

// disinfect says what works on the thing, and for how long it must act.
func (w words) disinfect(t positives.Trace) string {
	var all []string
	ammonia := false
	for _, e := range t.Means() {
		m, _ := w.tables.MeansOf(e.Means)
		ammonia = ammonia || m.Class == knowledge.Ammonia
		means := w.Say("means." + string(e.Means))
		if e.Minutes > 0 {
			means = w.Count("positive.page.means", e.Minutes, gaps{"Means": means})
		}
		all = append(all, means)
	}
	fails := w.fails(t)
	if len(all) == 0 {
		return w.Say("positive.page.means-unknown") + fails
	}
	said := w.Say("positive.page.works", gaps{"Agent": w.agent(t), "Means": strings.Join(all, "; ")})
	if target, _ := contact.Target(w.tables, t.Agent); target == "cryptosporidium" {
		said = w.Say("positive.page.works-parvum", gaps{"Agent": w.agent(t), "Means": strings.Join(all, "; ")})
	}
	if ammonia {
		said += " " + w.Say("positive.page.ammonia")
	}
	return said + fails
}

// fails says what does not work on the thing; "" where the tables know of nothing.
func (w words) fails(t positives.Trace) string {
	var all []string
	for _, e := range contact.Fails(w.tables, t.Agent) {
		all = append(all, w.Say("means."+string(e.Means)))
	}
	if len(all) == 0 {
		return ""
	}
	return " " + w.Say("positive.page.fails", gaps{"Means": strings.Join(all, "; ")})
}
