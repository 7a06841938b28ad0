package care

import (
	"cmp"
	"slices"
	"strings"

	"coilward/model"
)

// KindMiteTreatment is a treatment against mites. The value is frozen.
const KindMiteTreatment = "mite-treatment"

// MiteTreatmentCaution is the key of what stands beside the form of a treatment: no
// product and no dose is ever proposed.
const MiteTreatmentCaution = "care.caution.mite-treatment"

// MiteTreatment is a treatment against mites as it was done, in the keeper's words.
type MiteTreatment struct {
	What    string `json:"what"`              // was done and with what; never empty
	Advised string `json:"advised,omitempty"` // by whom
	// Until is the last day on which it acts, as the vet or the label says: so long it
	// may hide mites. Unknown: it counts for its own day.
	Until model.Date `json:"until,omitzero"`
	Beside
}

// Kind is KindMiteTreatment.
func (MiteTreatment) Kind() string { return KindMiteTreatment }

// The most signs of a line, and the most days that a treatment can be said to act.
const (
	maxTreatmentLine = 200
	maxActs          = 366
)

func (m MiteTreatment) check() *model.Refusal {
	if strings.TrimSpace(m.What) == "" {
		return mend("treatment", "", "text.empty", nil)
	}
	if r := model.CheckLine("treatment", m.What, maxTreatmentLine); r != nil {
		return r
	}
	if r := model.CheckLine("advised", m.Advised, maxTreatmentLine); r != nil {
		return r
	}
	if !m.Until.IsZero() && m.Until.Precision != model.ToDay {
		return mend("acts-until", m.Until.Day.String(), "day.vague", nil)
	}
	return nil
}

// Acts is the last day on which a treatment of a day acts.
func (m MiteTreatment) Acts(on model.Day) model.Day {
	if m.Until.IsZero() {
		return on
	}
	return max(on, m.Until.Day)
}

// Treated is a treatment against mites by its days: the one on which it was done, and
// the last on which it acts.
type Treated struct{ On, Acts model.Day }

// TreatedOf are the treatments among some entries, oldest first.
func TreatedOf(entries []Entry) (all []Treated) {
	for _, e := range entries {
		if m, is := e.Body.(MiteTreatment); is {
			all = append(all, Treated{e.At.Day(), m.Acts(e.At.Day())})
		}
	}
	slices.SortFunc(all, func(a, b Treated) int { return cmp.Or(cmp.Compare(a.On, b.On), cmp.Compare(a.Acts, b.Acts)) })
	return all
}

// TreatMites notes a treatment against mites.
type TreatMites struct {
	About
	MiteTreatment
}

// Name is "care.mite-treatment".
func (TreatMites) Name() string { return "care.mite-treatment" }

// Plan writes the treatment.
func (c TreatMites) Plan(v model.View) (model.Writes, error) {
	return entry{about: c.About, body: c.MiteTreatment}.plan(v)
}

// checkActs refuses a treatment that would have ended before it was done, or acts for
// longer than a year.
func (e entry) checkActs() *model.Refusal {
	m, is := e.body.(MiteTreatment)
	on, until := e.about.At.Day(), m.Until.Day
	switch {
	case !is || m.Until.IsZero():
	case until < on:
		return mend("acts-until", until.String(), "mites.acts-before", map[string]model.Gap{"Day": model.DayGap(on)})
	case until > on+maxActs:
		return mend("acts-until", until.String(), "mites.acts-long", map[string]model.Gap{"Most": model.DayGap(on + maxActs)})
	}
	return nil
}
