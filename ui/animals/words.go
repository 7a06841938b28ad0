package animals

import (
	"slices"
	"strings"

	"coilward/model"
	"coilward/model/exam"
	"coilward/model/history"
	"coilward/model/knowledge"
	"coilward/model/wording"
	"coilward/ui/look"
	"coilward/ui/particulars"
)

// said is a row in words.
type said struct {
	name, under, code string
	sign, sex         string
	age, months       string
	weight, change    string
	meal, mealDay     string
	check, checkDay   string
	open, count       string
}

// say puts a row into words, as of today.
func say(t *wording.Text, r *Row, today model.Day) said {
	s := said{
		name: r.Name, under: r.Morph, code: r.Code,
		sign: particulars.SexSign(r.Sex), sex: particulars.SexWord(t, r.Sex),
		open: t.Say("roster.nothing-open"),
	}
	s.age, s.months = t.AgeInTwo(r.Hatched, today)
	if r.Checked.IsZero() {
		s.open = t.Say("roster.never-looked")
	}
	s.meal, s.mealDay = ago(t, r.Meal, today)
	s.check, s.checkDay = ago(t, r.Checked, today)
	if r.Brief {
		s.checkDay = t.Say(exam.BriefLook.Key())
	}
	if d := r.Begun; !d.Begun.IsZero() {
		s.check = t.Say("roster.begun", wording.Gaps{"When": particulars.When(t, d.Begun, today)})
		s.checkDay = t.Say("roster.begun-of", wording.Gaps{"Done": d.Answers(), "All": len(d.Stops)})
	}
	if !r.Weight.IsZero() {
		s.weight = t.Mass(r.Weight)
		s.change = t.Ago(r.WeighedOn, today)
	}
	if !r.Weight.IsZero() && !r.Before.IsZero() {
		s.change = particulars.Change(t, r.Weight, r.Before)
	}
	if r.Open > 0 {
		s.open = t.Count("roster.open-count", r.Open)
	}
	if r.Level > knowledge.Nothing {
		s.open, s.count = t.Say("urgency."+r.Level.String()), s.open
		s.count = because(t, r, s.count, today)
	}
	s.mark(t, r)
	if r.Unread {
		s.count = t.Say("roster.unread")
		if r.Level == knowledge.Nothing {
			s.open, s.count = s.count, ""
		}
	}
	return s
}

// mark says what was detected in the animal above all but what is for today, and
// after it that it was near another in which something was; that it is in quarantine, or
// watched for mites, where there is room for it.
func (s *said) mark(t *wording.Text, r *Row) {
	switch {
	case len(r.Detected) > 0 && r.Level < knowledge.EmergencyToday:
		s.open, s.count = t.Say("roster.detected"), agents(t, r.Detected)
	case len(r.Detected) > 0:
		s.count = t.Say("roster.detected") + ": " + agents(t, r.Detected)
	case len(r.Near) > 0 && r.Level == knowledge.Nothing && r.Open == 0:
		s.open, s.count = t.Say("roster.near-positive"), agents(t, r.Near)
	case len(r.Near) > 0:
		s.count = t.Say("roster.near-positive")
	}
	switch {
	case !r.Waits || !r.Kept:
	case r.Level == knowledge.Nothing && r.Open == 0 && len(r.Detected) == 0 && len(r.Near) == 0:
		s.open, s.count = t.Say("roster.in-quarantine"), ""
	case s.count == "":
		s.count = t.Say("roster.in-quarantine")
	}
	switch {
	case r.Mites == 0 || !r.Kept:
	case r.Level == knowledge.Nothing && r.Open == 0 && len(r.Detected) == 0 && len(r.Near) == 0 && !r.Waits:
		s.open, s.count = t.Say("roster.mites-watched"), ""
	case s.count == "" || r.Level == knowledge.Nothing && r.Waits:
		s.count = t.Say("roster.mites-watched")
	}
}

// agents names what was detected, each once.
func agents(t *wording.Text, all []knowledge.AgentID) string {
	var names []string
	for _, agent := range all {
		if name := t.Say("agent." + string(agent)); !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	return strings.Join(names, ", ")
}

// sign is the mark before what is open, and its tone; empty where nothing is.
func (r *Row) sign() (name string, tone look.Tone) {
	switch {
	case len(r.Detected) > 0 && r.Level < knowledge.EmergencyToday:
		return "tube", look.Today
	case r.Open > 0 || r.Level > 0:
		u := particulars.Urgency(r.Level)
		return u.Sign(), u.Tone()
	case len(r.Near) > 0:
		return "tube", look.Days
	case r.Waits && r.Kept:
		return "newcomer", look.Soft
	case r.Mites > 0 && r.Kept:
		return "mite", look.Again
	}
	return "", look.Faint
}

// because says what an animal's level rests on, where that is not the number of its
// open findings.
func because(t *wording.Text, r *Row, open string, today model.Day) string {
	switch {
	case r.Breathing > 0:
		return t.Say("roster.breathing")
	case !r.Unfed.IsZero():
		return t.Count("roster.unfed", int(today-r.Unfed.Since))
	case r.Loss.Level > knowledge.Nothing:
		return t.Say("roster.loss", wording.Gaps{"Share": t.Percent(r.Loss.Share)})
	case r.Open == 0:
		return stands(t, r.Stands)
	}
	return open
}

// stands says what an animal's level rests on where none of its problems is open.
func stands(t *wording.Text, p history.Part) string {
	if p.From == history.FromGone {
		return t.Say("roster.no-word")
	}
	return t.Say("roster.noted-on", wording.Gaps{"Day": t.DayShort(p.Day)})
}

// ago is how long ago something was, and its day; "not yet" where it never was.
func ago(t *wording.Text, m model.Moment, today model.Day) (when, day string) {
	if m.IsZero() {
		return t.Say("roster.never"), ""
	}
	return t.Ago(m.Day(), today), t.DayShort(m.Day())
}
