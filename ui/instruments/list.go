package instruments

import (
	"strings"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/wording"
	"coilward/ui/look"
	"coilward/ui/particulars"
)

// Kit is all that the page shows.
type Kit struct {
	husbandry.Kit
	names map[model.AnimalID]string
}

// Load reads the instruments and tools, and what the animals are called.
func Load(v model.View, t *knowledge.Tables) (k Kit, err error) {
	if k.Kit, err = husbandry.ReadKit(v, t); err != nil {
		return k, err
	}
	k.names = map[model.AnimalID]string{}
	all, err := animals.All(v)
	for _, a := range all {
		k.names[a.ID] = a.Name
	}
	return k, err
}

// namesOf are the first names of some animals, and how many there are beside.
func (k Kit) namesOf(t *wording.Text, ids []model.AnimalID) string {
	const most = 3
	var names []string
	for _, id := range ids[:min(most, len(ids))] {
		names = append(names, k.names[id])
	}
	said := strings.Join(names, ", ")
	if rest := len(ids) - most; rest > 0 {
		said += " " + t.Count("instruments.and-more", rest)
	}
	return said
}

// line is one instrument or tool in words.
type line struct {
	icon, name, kind, where, age string
	check, reading, checkMore    string // of a tool: when it was cleaned, and with what
	next, change                 string // the next check, and the next lamp
	checkTone                    look.Tone
	nextTone, changeTone         look.Tone
}

// words put the kit into lines, as of a day.
type words struct {
	*wording.Text
	kit   Kit
	today model.Day
}

func (w words) where(id model.PlaceID) string {
	if id.IsZero() {
		return ""
	}
	return w.kit.House.Title(id)
}

func iconOf(k husbandry.InstrumentKind) string {
	switch k {
	case husbandry.Scale:
		return "weight"
	case husbandry.UVLamp:
		return "lamp"
	}
	return "gauge"
}

// instrument is an instrument in words.
func (w words) instrument(s husbandry.Standing) line {
	l := line{icon: iconOf(s.Kind), name: s.Name, kind: particulars.Capital(w.Say("husbandry.instrument-kind." + string(s.Kind))), where: w.where(s.Place), checkTone: look.Ink, nextTone: look.Soft, changeTone: look.Soft}
	if s.Kind == husbandry.UVLamp && !s.InUse.IsZero() {
		l.age = w.Say("instruments.in-use", wording.Gaps{"Age": w.Age(s.InUse, w.today)})
	}
	if c, ok := s.Last(); ok {
		l.check, l.reading, l.checkMore = w.outcome(c), w.reading(c), w.Ago(c.At.Day(), w.today)
		if !c.Good {
			l.checkTone = look.Days
		}
	} else {
		l.check, l.checkTone = w.Say("instruments.never-checked"), look.Soft
	}
	if !s.Closed.IsZero() {
		l.next = w.Say("instruments.closed", wording.Gaps{"Day": w.DayShort(s.Closed.Day)})
		return l
	}
	if l.next, l.change = w.nextCheck(s), w.nextLamp(s); s.Check.Failed {
		l.next = w.Say("instruments.check-short")
	}
	if s.Check.Failed || s.Check.Late(w.today) {
		l.nextTone = look.Days
	}
	if s.Lamp.Late(w.today) {
		l.changeTone = look.Days
	}
	return l
}

// nextCheck is when an instrument is to be checked; empty: never.
func (w words) nextCheck(s husbandry.Standing) string {
	switch {
	case s.Check.Failed:
		return w.Say("instruments.check-now")
	case s.Check.Late(w.today):
		return w.Say("instruments.check-late", wording.Gaps{"Day": w.DayShort(s.Check.Next)})
	case s.Check.Every > 0:
		return w.Say("instruments.check-on", wording.Gaps{"Day": w.DayShort(s.Check.Next)})
	}
	return ""
}

// nextLamp is when a UV lamp is to be changed; empty of any other instrument.
func (w words) nextLamp(s husbandry.Standing) string {
	switch {
	case s.Lamp.Late(w.today):
		return w.Say("instruments.lamp-old")
	case s.Lamp.Every > 0:
		return w.Say("instruments.lamp-until", wording.Gaps{"Day": w.DayShort(s.Lamp.Next)})
	case s.Kind == husbandry.UVLamp && s.InUse.IsZero():
		return w.Say("instruments.lamp-unknown")
	}
	return ""
}

// result is what a check came to.
func (w words) result(c husbandry.Checked) string {
	if read := w.reading(c); read != "" {
		return w.outcome(c) + ": " + read
	}
	return w.outcome(c)
}

// outcome is whether a check was good.
func (w words) outcome(c husbandry.Checked) string {
	if c.Good {
		return particulars.Capital(w.Say("husbandry.check.good"))
	}
	return particulars.Capital(w.Say("husbandry.check.failed"))
}

// reading is what was read at a check, and against what.
func (w words) reading(c husbandry.Checked) string {
	if c.Reading != "" && c.Reference != "" {
		return w.Say("instruments.read-against", wording.Gaps{"Reading": c.Reading, "Reference": c.Reference})
	}
	return c.Reading
}

// doubtful says in which spans the readings of an instrument are doubtful.
func (w words) doubtful(spans []husbandry.Span) (all []string) {
	for _, s := range spans {
		switch {
		case s.From.IsZero() && s.To.IsZero():
			all = append(all, w.Say("instruments.doubtful.all"))
		case s.From.IsZero():
			all = append(all, w.Say("instruments.doubtful.until", wording.Gaps{"To": w.DayShort(s.To.Day())}))
		case s.To.IsZero():
			all = append(all, w.Say("instruments.doubtful.since", wording.Gaps{"From": w.DayShort(s.From.Day())}))
		default:
			all = append(all, w.Say("instruments.doubtful.between", wording.Gaps{"From": w.DayShort(s.From.Day()), "To": w.DayShort(s.To.Day())}))
		}
	}
	return all
}

// tool is a tool in words.
func (w words) tool(one husbandry.ToolStanding) line {
	l := line{icon: "clean", name: one.Name, kind: particulars.Capital(w.Say("husbandry.tool-kind." + string(one.Kind))), where: w.where(one.Place), checkTone: look.Ink, nextTone: look.Days}
	if l.where == "" {
		l.where = w.Say("instruments.everywhere")
	}
	l.check, l.checkTone = w.Say("instruments.never-cleaned"), look.Soft
	if !one.Cleaned.At.IsZero() {
		l.check, l.checkTone = w.Say("instruments.cleaned", wording.Gaps{"Ago": w.Ago(one.Cleaned.At.Day(), w.today)}), look.Ink
		var with []string
		for _, u := range one.Cleaned.Uses {
			with = append(with, w.Say("means."+string(u.Means)))
		}
		if len(with) > 1 { // one line is too short for several
			l.reading, with = with[0], with[1:]
		}
		l.checkMore = strings.Join(with, ", ")
		for _, target := range one.Cleaned.Against {
			if worked, _ := husbandry.Best(one.Cleaned.Said, target); worked.Does == husbandry.DoesNot {
				l.reading, l.checkMore, l.checkTone = "", w.Say("instruments.in-vain", wording.Gaps{"Target": w.Say("target." + string(target))}), look.Days
			}
		}
	}
	switch {
	case !one.Closed.IsZero():
		l.next, l.nextTone = w.Say("instruments.closed", wording.Gaps{"Day": w.DayShort(one.Closed.Day)}), look.Soft
	case len(one.Newcomers) > 0:
		l.next = w.Say("instruments.mixed-short")
	}
	return l
}

// mixed says between whom a tool may carry something; empty: between nobody.
func (w words) mixed(one husbandry.ToolStanding) string {
	if len(one.Newcomers) == 0 {
		return ""
	}
	return w.Say("instruments.mixed", wording.Gaps{"Newcomers": w.kit.namesOf(w.Text, one.Newcomers), "Others": w.kit.namesOf(w.Text, one.Others)})
}
