package paper

import (
	"fmt"
	"strings"
	"time"

	"coilward/model"
	"coilward/model/climate"
	"coilward/model/indoors"
)

// airDays is for how many days up to the paper the readings are told.
const airDays = 30

// Air is what was read where the animal lived in the days before the paper.
type Air struct {
	Lately []indoors.Lately
	Unread int // days that cannot be read
}

// addAir takes the readings of the last days.
func (g *Gathered) addAir(v model.View, what Gathering) error {
	now := v.Now().UTC
	all, unread, err := indoors.Of(v, what.Tables, what.Animal, climate.Span{From: now - airDays*86400, Until: now + 61})
	if err != nil {
		return fmt.Errorf("gather the climate: %w", err)
	}
	g.facts.Air = Air{all, unread}
	return nil
}

// airAmount writes hundredths of a measure.
func (r record) airAmount(m climate.Measure, hundredths int) string {
	if m == climate.Humidity {
		return r.text.Percent(hundredths)
	}
	return r.text.Temperature(model.Temperature{Hundredths: int64(hundredths)})
}

// airDay is the local day of a second.
func (r record) airDay(at int64) model.Day {
	return model.MomentOf(time.Unix(at, 0).In(r.Issued.Location())).Day()
}

// airTable is what was read in each zone, with how many readings and from when to when.
func (r record) airTable() Table {
	t := Table{Columns: []Column{r.column("field.climate-zone", 34), r.column("paper.air.mean", 20), r.column("paper.air.range", 34), {Title: r.say("paper.air.good"), Share: 1, Style: smallInk},
		r.column("paper.air.count", 18), {Title: r.say("paper.air.days"), Share: 1, Style: smallStyle}}}
	for _, l := range r.Air.Lately {
		var good []string
		if l.Day.Total() > 0 {
			good = append(good, r.say("paper.air.by-day", gaps{"Percent": l.Day.Percent(climate.Good)}))
		}
		if l.Night.Total() > 0 {
			good = append(good, r.say("paper.air.by-night", gaps{"Percent": l.Night.Percent(climate.Good)}))
		}
		said := strings.Join(good, ", ")
		switch {
		case l.Own && said != "":
			said = r.say("paper.air.by-own", gaps{"Said": said})
		case l.UnreadOwn && said != "":
			said = r.say("paper.air.by-table-unread", gaps{"Said": said})
		case l.UnreadOwn && l.Zone.Inside():
			said = r.say("paper.air.lack-unread")
		case said != "":
			said = r.say("paper.air.by-table", gaps{"Said": said})
		case l.Lack != "" && l.Zone.Inside():
			said = r.say("paper.air.lack")
		}
		when := r.text.Day(r.airDay(l.First)) + " – " + r.text.Day(r.airDay(l.Last))
		if l.Doubtful > 0 {
			when += "; " + r.text.Count("paper.air.doubtful", l.Doubtful)
		}
		t.Rows = append(t.Rows, []Cell{{Text: r.say("climate.zone." + string(l.Zone))}, {Text: r.airAmount(l.Measure, l.Mean)},
			{Text: r.airAmount(l.Measure, l.Min) + " – " + r.airAmount(l.Measure, l.Max)}, {Text: said}, {Text: r.text.Decimal(int64(l.N), 0)}, {Text: when}})
	}
	return t
}

// vetAir is the climate of the last days in one sentence; empty without a reading.
func (r record) vetAir() []Block {
	var said []string
	counts := map[climate.Zone]int{} // a reading of both measures is one
	first, last := model.EndOfTime, model.Beginning
	for _, l := range r.Air.Lately {
		if !l.Zone.Inside() {
			continue
		}
		counts[l.Zone], first, last = max(counts[l.Zone], l.N), min(first, l.First), max(last, l.Last)
		one := r.say("paper.air.brief", gaps{"Zone": r.say("climate.zone." + string(l.Zone)), "Mean": r.airAmount(l.Measure, l.Mean), "Least": r.airAmount(l.Measure, l.Min), "Most": r.airAmount(l.Measure, l.Max)})
		if l.Doubtful > 0 {
			one += " (" + r.text.Count("paper.air.doubtful", l.Doubtful) + ")"
		}
		said = append(said, one)
	}
	if len(said) == 0 {
		return nil
	}
	n := 0
	for _, of := range counts {
		n += of
	}
	return []Block{Paragraph{Strong(r.say("paper.table.air")+":") + " " + strings.Join(said, "; ") + ". " + r.text.Count("paper.air.rests-on", n, gaps{"From": r.airDay(first), "Until": r.airDay(last)}), smallStyle}}
}
