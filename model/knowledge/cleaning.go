package knowledge

import "slices"

// MeansID names a means of cleaning or disinfection by its chemical class and
// strength. Its text is "means." + id.
type MeansID string

// TargetID names what a means is to work on, such as mites. Its text is
// "target." + id.
type TargetID string

// Means is one means of cleaning.
type Means struct {
	ID     MeansID
	Class  MeansClass
	Source string
}

// MeansClass is what a means is chemically, as far as it matters for what it
// must never be used together with. Values are frozen.
type MeansClass string

// The classes.
const (
	Chlorine   MeansClass = "chlorine" // gives off poisonous gas with ammonia and with acids
	Ammonia    MeansClass = "ammonia"
	Acid       MeansClass = "acid"
	OtherClass MeansClass = "other"
	Plain      MeansClass = "plain" // no disinfectant: it washes off, or works by heat, cold or water
)

// Poisonous reports whether means of the two classes give off poisonous gas
// together. Source: common practice, no source.
func (c MeansClass) Poisonous(with MeansClass) bool {
	bad := func(a, b MeansClass) bool { return a == Chlorine && (b == Ammonia || b == Acid) }
	return bad(c, with) || bad(with, c)
}

// Target is one thing that a means may be used against.
type Target struct {
	ID     TargetID
	Source string
}

// Effect is one row of what a means does against a target.
type Effect struct {
	Means  MeansID
	Target TargetID
	Works  Works
	// Minutes is the contact time of the source: at least so long where it
	// works; where it does not, how long was tried. 0: not given.
	Minutes int
	Source  string
}

// Works is whether a means works. Values are frozen.
type Works string

// The answers.
const (
	FullyWorks  Works = "yes"
	PartlyWorks Works = "partly" // some of it is left; the source says how much
	NotWorks    Works = "no"
)

// longestContact is the longest contact time of a table, in minutes: two days.
const longestContact = 2 * 24 * 60

// means are the tables about cleaning.
type means struct {
	means   []Means
	targets []Target
	effects []Effect
}

// Means are all means of cleaning, in the order of their table.
func (t *Tables) Means() []Means { return t.cleaning.means }

// MeansOf is the means of that id.
func (t *Tables) MeansOf(id MeansID) (Means, bool) {
	return one(t.cleaning.means, func(m Means) bool { return m.ID == id })
}

// Targets are all targets of cleaning, in the order of their table.
func (t *Tables) Targets() []Target { return t.cleaning.targets }

// Target is the target of that id.
func (t *Tables) Target(id TargetID) (Target, bool) {
	return one(t.cleaning.targets, func(g Target) bool { return g.ID == id })
}

// Effect is what the tables say of a means against a target; ok is false where
// they say nothing.
func (t *Tables) Effect(means MeansID, target TargetID) (e Effect, ok bool) {
	return one(t.cleaning.effects, func(e Effect) bool { return e.Means == means && e.Target == target })
}

func one[T any](all []T, is func(T) bool) (found T, ok bool) {
	if i := slices.IndexFunc(all, is); i >= 0 {
		return all[i], true
	}
	return found, false
}

func (l *loading) meansRow(r row) {
	c := &l.t.cleaning
	_, taken := l.t.MeansOf(MeansID(r.cells[0].text))
	m := Means{ID: MeansID(l.id(r, taken)), Class: MeansClass(r.cell("class")), Source: r.cell("source")}
	if !slices.Contains([]MeansClass{Chlorine, Ammonia, Acid, OtherClass, Plain}, m.Class) {
		l.fault(r, "class", "want chlorine, ammonia, acid, other or plain")
	}
	c.means = append(c.means, m)
}

func (l *loading) targetRow(r row) {
	c := &l.t.cleaning
	_, taken := l.t.Target(TargetID(r.cells[0].text))
	c.targets = append(c.targets, Target{ID: TargetID(l.id(r, taken)), Source: r.cell("source")})
}

func (l *loading) effectRow(r row) {
	e := Effect{Means: MeansID(r.cell("means")), Target: TargetID(r.cell("target")), Works: Works(r.cell("works")), Source: r.cell("source")}
	if _, known := l.t.MeansOf(e.Means); !known {
		l.fault(r, "means", "no row of means.txt has this id")
	}
	if _, known := l.t.Target(e.Target); !known {
		l.fault(r, "target", "no row of targets.txt has this id")
	}
	if _, taken := l.t.Effect(e.Means, e.Target); taken {
		l.fault(r, "target", "an earlier row tells of this means against this target already")
	}
	if !slices.Contains([]Works{FullyWorks, PartlyWorks, NotWorks}, e.Works) {
		l.fault(r, "works", "want yes, partly or no")
	}
	if r.cell("minutes") != "-" {
		e.Minutes = l.number(r, "minutes", 1, longestContact)
	}
	if e.Source == "" {
		l.fault(r, "source", "every row names its source")
	}
	l.t.cleaning.effects = append(l.t.cleaning.effects, e)
}
