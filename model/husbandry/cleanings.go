package husbandry

import (
	"fmt"
	"slices"
	"strconv"

	"coilward/model"
	"coilward/model/knowledge"
)

// Clean notes a cleaning of places and tools. What the tables say of the means
// is stored with it.
type Clean struct {
	Tables    *knowledge.Tables
	Places    []model.PlaceID
	Tools     []model.ToolID
	At        model.Moment
	By        model.PersonID
	Cleaning  Cleaning
	Confirmed model.Confirmed
}

// Name is "husbandry.clean".
func (Clean) Name() string { return "husbandry.clean" }

// Plan writes the cleaning. It is refused where means were used together that
// give off poisonous gas, and asks whether the one was rinsed off before the other
// where two disinfectants were used ("clean.mixed"), and where none of the means works on what it was
// used against ("clean.does-not", "clean.partly"), was left long enough
// ("clean.too-short"), or where it is not said how long ("clean.time").
func (c Clean) Plan(v model.View) (model.Writes, error) {
	d := model.Document{Type: model.TypeEntry, ID: v.NewID(), Kind: KindCleaning}
	return c.write(v, d, "husbandry.done.clean", "husbandry.done.clean-many")
}

func (c Clean) write(v model.View, d model.Document, done, doneMany string) (model.Writes, error) {
	subjects, name, err := c.about(v)
	if err != nil {
		return model.Writes{}, err
	}
	body := c.Cleaning
	if err := first(checkMoment("day", c.At, v.Now()), body.Check(), body.known(c.Tables)); err != nil {
		return model.Writes{}, err
	}
	body.Said, body.Tables = Judge(c.Tables, body), c.Tables.Hash()
	if err := first(poisonous(c.Tables, body.Uses), mixed(c.Tables, body.Uses, c.Confirmed), body.asks(c.Confirmed)); err != nil {
		return model.Writes{}, err
	}
	d.At, d.By, d.Subjects = c.At, c.By, subjects
	label := named(done, "What", name)
	if n := len(subjects); n > 1 {
		label = model.Label{Key: doneMany, Gaps: map[string]model.Gap{"Count": model.CountGap(n)}}
	}
	return put(d, body, label)
}

// about are the subjects of the cleaning, and the name of the first.
func (c Clean) about(v model.View) (subjects []model.Subject, name string, err error) {
	t, err := readTree(v)
	if err != nil {
		return nil, "", err
	}
	for _, id := range c.Places {
		if _, ok := t.place(id); !ok {
			return nil, "", mend("cleaned", "", "house.gone", nil)
		}
		subjects = append(subjects, id.Subject())
	}
	for _, id := range c.Tools {
		_, tool, err := findTool(v, id)
		if err != nil {
			return nil, "", err
		}
		subjects = append(subjects, id.Subject())
		name = tool.Name
	}
	switch {
	case len(subjects) == 0:
		return nil, "", mend("cleaned", "", "clean.nothing", nil)
	case len(c.Places) > 0:
		name = t.title(c.Places[0])
	}
	slices.SortFunc(subjects, func(a, b model.Subject) int { return slices.Compare(a.ID[:], b.ID[:]) })
	return slices.Compact(subjects), name, nil
}

// The most means of one cleaning, and the longest that one is left to act, in
// minutes: two days.
const (
	MaxUses    = 10
	MaxMinutes = 2 * 24 * 60
)

// Check tells what of the cleaning cannot stand, whatever the tables say; nil if
// nothing.
func (c Cleaning) Check() *model.Refusal {
	for _, r := range []*model.Refusal{checkChoice("extent", c.Extent, CleanExtents()), model.CheckText("note", c.Note, MaxNote)} {
		if r != nil {
			return r
		}
	}
	if r := checkUses(c.Uses); r != nil {
		return r
	}
	if len(c.Photos) > MaxPhotos {
		return mend("photo", "", "photo.many", map[string]model.Gap{"Most": model.CountGap(MaxPhotos)})
	}
	return nil
}

func checkUses(uses []Use) *model.Refusal {
	if len(uses) > MaxUses {
		return mend("means", "", "clean.many", map[string]model.Gap{"Most": model.CountGap(MaxUses)})
	}
	for i, u := range uses {
		if slices.ContainsFunc(uses[:i], func(o Use) bool { return o.Means == u.Means }) {
			return mend("means", string(u.Means), "clean.twice", nil)
		}
		if r := within("minutes", u.Minutes, 0, MaxMinutes); r != nil {
			return r
		}
	}
	return nil
}

// Together tells why means cannot be noted as one cleaning: they are too many, one
// stands there twice, or two of them give off poisonous gas; nil if they can.
func Together(t *knowledge.Tables, uses []Use) *model.Refusal {
	if r := checkUses(uses); r != nil {
		return r
	}
	return poisonous(t, uses)
}

// known wants every means and target to be of the tables.
func (c Cleaning) known(t *knowledge.Tables) *model.Refusal {
	for _, u := range c.Uses {
		if _, ok := t.MeansOf(u.Means); !ok {
			return mend("means", string(u.Means), "choice.unknown", nil)
		}
	}
	for i, target := range c.Against {
		if _, ok := t.Target(target); !ok || slices.Contains(c.Against[:i], target) {
			return mend("against", string(target), "choice.unknown", nil)
		}
	}
	return nil
}

// Judge is what the tables say of each means against each target, targets first.
func Judge(t *knowledge.Tables, c Cleaning) []Worked {
	var said []Worked
	for _, target := range c.Against {
		for _, u := range c.Uses {
			said = append(said, judge(t, u, target))
		}
	}
	return said
}

func judge(t *knowledge.Tables, u Use, target knowledge.TargetID) Worked {
	w := Worked{Means: u.Means, Target: target, Does: NothingSaid}
	e, ok := t.Effect(u.Means, target)
	if !ok {
		return w
	}
	w.Source = e.Source
	if e.Works == knowledge.NotWorks {
		w.Does = DoesNot
		return w
	}
	w.Needs = e.Minutes
	switch {
	case u.Minutes == 0 && e.Minutes > 0:
		w.Does = TimeUnsaid
	case u.Minutes < e.Minutes:
		w.Does = TooShort
	case e.Works == knowledge.PartlyWorks:
		w.Does = DoesPartly
	default:
		w.Does = DoesWork
	}
	return w
}

// best lists what a means can do, the best first.
func best() []Does {
	return []Does{DoesWork, TimeUnsaid, TooShort, DoesPartly, NothingSaid, DoesNot}
}

// Best is the best that any of the means does against a target; ok is false
// where none was used against it.
func Best(said []Worked, target knowledge.TargetID) (found Worked, ok bool) {
	for _, w := range said {
		if w.Target == target && (!ok || slices.Index(best(), w.Does) < slices.Index(best(), found.Does)) {
			found, ok = w, true
		}
	}
	return found, ok
}

// asks asks about the first target on which nothing that was used has worked.
func (c Cleaning) asks(confirmed model.Confirmed) *model.Refusal {
	for _, target := range c.Against {
		w, _ := Best(c.Said, target)
		reason, asked := map[Does]string{DoesNot: "clean.does-not", DoesPartly: "clean.partly", TooShort: "clean.too-short", TimeUnsaid: "clean.time"}[w.Does]
		if !asked {
			continue
		}
		gaps := map[string]model.Gap{"Means": model.KeyGap("means." + string(w.Means)), "Target": model.KeyGap("target." + string(target)),
			"Source": model.TextGap(w.Source), "Needs": model.CountGap(w.Needs)}
		field, value := "means", string(w.Means)
		if w.Does == TooShort || w.Does == TimeUnsaid {
			field, value = "minutes", c.minutes(w.Means)
		}
		if r := ask(confirmed, field, value, reason, gaps); r != nil {
			return r
		}
	}
	return nil
}

func (c Cleaning) minutes(of knowledge.MeansID) string {
	for _, u := range c.Uses {
		if u.Means == of && u.Minutes > 0 {
			return strconv.Itoa(u.Minutes)
		}
	}
	return ""
}

// poisonous refuses means that give off poisonous gas together: they are never
// used, and never noted, as one cleaning.
func poisonous(t *knowledge.Tables, uses []Use) *model.Refusal {
	for i, u := range uses {
		a, _ := t.MeansOf(u.Means)
		for _, o := range uses[:i] {
			if b, _ := t.MeansOf(o.Means); a.Class.Poisonous(b.Class) {
				return mend("means", string(u.Means), "clean.poisonous", map[string]model.Gap{
					"One": model.KeyGap("means." + string(o.Means)), "Other": model.KeyGap("means." + string(u.Means))})
			}
		}
	}
	return nil
}

// mixed asks whether each disinfectant was rinsed off before the next one was put
// on: no two are ever mixed. Source: common practice, no source.
func mixed(t *knowledge.Tables, uses []Use, confirmed model.Confirmed) *model.Refusal {
	var before knowledge.MeansID
	for _, u := range uses {
		if m, _ := t.MeansOf(u.Means); m.Class == knowledge.Plain {
			continue
		}
		if before != "" && before != u.Means {
			return ask(confirmed, "means", string(u.Means), "clean.mixed", map[string]model.Gap{"One": model.KeyGap("means." + string(before)), "Other": model.KeyGap("means." + string(u.Means))})
		}
		before = u.Means
	}
	return nil
}

// Cleaned is one cleaning with its entry and header.
type Cleaned struct {
	Entry    model.EntryID
	Revision uint32
	At       model.Moment
	By       model.PersonID
	Places   []model.PlaceID
	Tools    []model.ToolID
	Cleaning
}

// DecodeCleaning reads an entry of kind "cleaning".
func DecodeCleaning(d model.Document) (Cleaned, error) {
	c := Cleaned{Entry: model.EntryID{ID: d.ID}, Revision: d.Revision, At: d.At, By: d.By}
	if d.Kind != KindCleaning {
		return c, fmt.Errorf("read entry %s as a cleaning: it is of kind %q", d.ID, d.Kind)
	}
	for _, s := range d.Subjects {
		switch s.Kind {
		case model.SubjectPlace:
			c.Places = append(c.Places, model.PlaceID{ID: s.ID})
		case model.SubjectTool:
			c.Tools = append(c.Tools, model.ToolID{ID: s.ID})
		}
	}
	return c, d.Decode(Version, &c.Cleaning)
}

// Cleanings are the cleanings of a place or tool, newest first.
func Cleanings(v model.View, about model.Subject) ([]Cleaned, error) {
	return entries(v, about, KindCleaning, DecodeCleaning)
}
