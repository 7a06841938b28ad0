package care

import "coilward/model"

// KindClutch is the kind of entry for a clutch that was laid. Its value is frozen.
const KindClutch = "clutch"

// AskMale is the reason of the question whether a male has laid.
const AskMale = "clutch.male"

// Clutch is that an animal has laid: from then on it is gravid no more, and what it weighed
// before says nothing of a loss after it.
type Clutch struct {
	Eggs int `json:"eggs,omitempty"` // laid, good or not; 0: not counted
	Beside
}

// Kind is KindClutch.
func (Clutch) Kind() string { return KindClutch }

// MostEggs is more than any python lays (from memory: a little over a hundred of the
// largest species).
const MostEggs = 150

func (c Clutch) check() *model.Refusal {
	if c.Eggs < 0 || c.Eggs > MostEggs {
		return mend("eggs", "", "number.range", map[string]model.Gap{"Least": model.CountGap(0), "Most": model.CountGap(MostEggs)})
	}
	return nil
}

// RecordClutch notes that an animal has laid. It asks about one that stands as male.
type RecordClutch struct {
	About
	Clutch
}

// Name is "care.clutch".
func (RecordClutch) Name() string { return "care.clutch" }

// Plan writes it.
func (c RecordClutch) Plan(v model.View) (model.Writes, error) {
	return entry{about: c.About, body: c.Clutch}.plan(v)
}

// checkSex asks whether one that stands as male has laid.
func (s subject) checkSex(a About, kind string) *model.Refusal {
	if kind != KindClutch || s.Sex != "male" || a.Confirmed.Has(AskMale) {
		return nil
	}
	return &model.Refusal{Field: "eggs", Reason: AskMale, Answer: model.Confirm, Gaps: map[string]model.Gap{"Animal": model.TextGap(s.Name)}}
}
