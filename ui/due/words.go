package due

import (
	"strings"

	"coilward/model"
	"coilward/model/due"
	"coilward/model/knowledge"
	"coilward/model/wording"
	"coilward/ui/look"
)

// words say what is due, as of a day.
type words struct {
	*wording.Text
	today model.Day
}

// job is what is to be done, with what it is for.
func (w words) job(i due.Item) string {
	said := w.Say("due.job." + string(i.Job))
	if len(i.For) > 0 {
		said += ": " + w.findings(i)
	}
	return said
}

// findings are what an item is for.
func (w words) findings(i due.Item) string {
	var names []string
	for _, what := range i.For {
		names = append(names, w.Say("finding."+string(what)))
	}
	return strings.Join(names, ", ")
}

// when is by when an item is due, and the tone that it is said in.
func (w words) when(i due.Item) (string, look.Tone) {
	day := i.Day(w.today)
	switch {
	case i.State == due.Answered:
		if i.Answer.Until == 0 {
			return w.Say("due.page.answered"), look.Soft
		}
		return w.Say("due.page.again", wording.Gaps{"Day": w.DayShort(i.Answer.Until)}), look.Soft
	case i.Level >= knowledge.EmergencyToday:
		return w.By(w.today, w.today), look.Today
	case i.Once && day < w.today:
		return w.Say("due.page.once", wording.Gaps{"Day": w.DayShort(day)}), look.Soft
	case day < w.today:
		return w.By(day, w.today), look.Days
	case day == w.today:
		return w.By(day, w.today), look.Ink
	case i.From <= w.today && i.Answer == nil && i.From < day:
		return w.By(day, w.today), look.Soft
	}
	return w.Say("due.page.on", wording.Gaps{"Day": w.DayShort(day)}), look.Soft
}

// reasons say why, one sentence or two to each.
func (w words) reasons(i due.Item) []string {
	var all []string
	for _, r := range i.Reasons {
		all = append(all, w.Label(r))
	}
	return all
}

// answered is what was answered, when and why; empty: nothing.
func (w words) answered(i due.Item) string {
	if i.Answer == nil {
		return ""
	}
	said := w.Say("due.page.said", wording.Gaps{"Answer": w.Say("due.answer." + string(i.Answer.What)), "Day": w.DayShort(i.Answer.At.Day())})
	if i.Answer.Why != "" {
		said += ": " + i.Answer.Why
	}
	return said
}
