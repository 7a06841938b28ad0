package care

import (
	"strings"

	"coilward/model"
	"coilward/model/knowledge"
)

// The kinds of entry for dull skin before a shed, a bath, and fluids. Values are
// frozen.
const (
	KindBlue   = "blue"
	KindBath   = "bath"
	KindFluids = "fluids"
)

// BathCaution and FluidsCaution are the keys of what stands beside the forms. Source:
// common practice, no source.
const (
	BathCaution   = "care.caution.bath"
	FluidsCaution = "care.caution.fluids"
)

// Blue is that skin and eyes are dull, as they are before a shed: the animal is in blue.
type Blue struct {
	Beside
}

// Kind is KindBlue.
func (Blue) Kind() string { return KindBlue }

func (Blue) check() *model.Refusal { return nil }

// Bath is a bath as it was given.
type Bath struct {
	Warm    model.Temperature `json:"warm,omitzero"`     // of the water; zero: not measured
	Minutes int               `json:"minutes,omitempty"` // 0: not said
	Beside
}

// Kind is KindBath.
func (Bath) Kind() string { return KindBath }

// maxBath is the most minutes that a bath may be said to have lasted: a day.
const maxBath = 24 * 60

func (b Bath) check() *model.Refusal {
	if b.Minutes < 0 || b.Minutes > maxBath {
		return mend("bath-minutes", "", "number.range", map[string]model.Gap{"Least": model.CountGap(0), "Most": model.CountGap(maxBath)})
	}
	return checkWater(b.Warm)
}

// Fluids are fluids as a vet has said that they are given: what, how much and how stand
// in the vet's words. Nothing is proposed.
type Fluids struct {
	What    string            `json:"what"`    // and how much and how; never empty
	Advised string            `json:"advised"` // by which vet; never empty
	Warm    model.Temperature `json:"warm,omitzero"`
	Beside
}

// Kind is KindFluids.
func (Fluids) Kind() string { return KindFluids }

func (f Fluids) check() *model.Refusal {
	switch {
	case strings.TrimSpace(f.What) == "":
		return mend("fluids", "", "text.empty", nil)
	case strings.TrimSpace(f.Advised) == "":
		return mend("advised", "", "fluids.advised", nil)
	}
	return first(model.CheckLine("fluids", f.What, maxTreatmentLine), model.CheckLine("advised", f.Advised, maxTreatmentLine), checkWater(f.Warm))
}

// waterMost is the hottest that water can be.
const waterMost = 10_000

func checkWater(c model.Temperature) *model.Refusal {
	if c.Hundredths < 0 || c.Hundredths > waterMost {
		return mend("water-warm", c.Typed, "water.cannot", nil)
	}
	return nil
}

// RecordBlue notes that an animal is in blue.
type RecordBlue struct {
	About
	Blue
}

// Name is "care.blue".
func (RecordBlue) Name() string { return "care.blue" }

// Plan writes it.
func (c RecordBlue) Plan(v model.View) (model.Writes, error) {
	return entry{about: c.About, body: c.Blue}.plan(v)
}

// The questions that a bath and fluids can raise, by the reasons of their refusals.
const (
	AskWarm = "water.warm"
	AskCold = "water.cold"
	AskLong = "bath.long"
)

// Bathe notes a bath. With an entry, it changes that one; Base is the revision that the
// change was made on.
type Bathe struct {
	Tables *knowledge.Tables
	About
	Bath
	Entry model.EntryID
	Base  uint32
}

// Name is "care.bath".
func (Bathe) Name() string { return "care.bath" }

// Plan writes the bath. It asks where the water was warmer or colder, or the bath longer
// than the tables say, and the entry that is changed does not say the same.
func (c Bathe) Plan(v model.View) (model.Writes, error) {
	body, err := bodyOf(v, c.Entry)
	if err != nil {
		return model.Writes{}, err
	}
	before, _ := body.(Bath)
	if r := askWater(c.Tables, c.Warm, before.Warm, knowledge.ValueBathColdest, knowledge.ValueBathWarmest, c.Confirmed); r != nil {
		return model.Writes{}, r
	}
	if most := c.Tables.Value(knowledge.ValueBathLongest); c.Minutes > most && c.Minutes != before.Minutes && !c.Confirmed.Has(AskLong) {
		return model.Writes{}, &model.Refusal{Field: "bath-minutes", Reason: AskLong, Answer: model.Confirm,
			Gaps: map[string]model.Gap{"Minutes": model.CountGap(c.Minutes), "Most": model.CountGap(most)}}
	}
	return writeBody(v, c.About, c.Bath, c.Entry, c.Base)
}

// bodyOf is what an entry says that is changed; nil of a new one.
func bodyOf(v model.View, id model.EntryID) (Body, error) {
	if id.IsZero() {
		return nil, nil
	}
	_, e, err := present(v, id)
	return e.Body, err
}

func writeBody(v model.View, about About, b Body, id model.EntryID, base uint32) (model.Writes, error) {
	if id.IsZero() {
		return entry{about: about, body: b}.plan(v)
	}
	return Change{Entry: id, Base: base, About: about, Body: b}.Plan(v)
}

// GiveFluids notes fluids that a vet has said. With an entry, it changes that one; Base is
// the revision that the change was made on.
type GiveFluids struct {
	Tables *knowledge.Tables
	About
	Fluids
	Entry model.EntryID
	Base  uint32
}

// Name is "care.fluids".
func (GiveFluids) Name() string { return "care.fluids" }

// Plan writes the fluids. It asks where they were warmer or colder than the tables say, and
// the entry that is changed does not say the same.
func (c GiveFluids) Plan(v model.View) (model.Writes, error) {
	body, err := bodyOf(v, c.Entry)
	if err != nil {
		return model.Writes{}, err
	}
	before, _ := body.(Fluids)
	if r := askWater(c.Tables, c.Warm, before.Warm, knowledge.ValueFluidColdest, knowledge.ValueFluidWarmest, c.Confirmed); r != nil {
		return model.Writes{}, r
	}
	return writeBody(v, c.About, c.Fluids, c.Entry, c.Base)
}

// askWater asks about a temperature outside two values of the tables, other than the one
// that was noted before.
func askWater(t *knowledge.Tables, c, before model.Temperature, coldest, warmest knowledge.ValueID, yes model.Confirmed) *model.Refusal {
	least, most := int64(t.Value(coldest)), int64(t.Value(warmest))
	reason := ""
	switch {
	case c.Hundredths == 0 || c.Hundredths == before.Hundredths:
	case c.Hundredths > most:
		reason = AskWarm
	case c.Hundredths < least:
		reason = AskCold
	}
	if reason == "" || yes.Has(reason) {
		return nil
	}
	return &model.Refusal{Field: "water-warm", Value: c.Typed, Reason: reason, Answer: model.Confirm, Gaps: map[string]model.Gap{
		"Least": model.TemperatureGap(least), "Most": model.TemperatureGap(most)}}
}
