package knowledge

// SignID names a sign of ease or unease. Values are frozen; the texts are "sign." + id, and
// "sign." + id + ".means" for what it can mean.
type SignID string

// Freezing is the sign that is mistaken for calm, OpenMouth the one that is an emergency.
// Source of the latter: urgency.txt, "gaping".
const (
	Freezing  SignID = "freezing"
	OpenMouth SignID = "open-mouth"
)

// Setting is what is done while an animal is watched. Values are frozen; the text is
// "setting." + value.
type Setting string

// The settings.
const (
	Untouched Setting = "untouched"
	Feeding   Setting = "feeding"
	Handled   Setting = "handled"
	Moved     Setting = "moved"
	Cleaned   Setting = "cleaned"
)

// Settings are all settings, in the order in which they are shown.
func Settings() []Setting { return []Setting{Untouched, Feeding, Handled, Moved, Cleaned} }

// Valence is what a sign says in a setting. Values are frozen.
type Valence string

// The valences.
const (
	NotOffered Valence = "-"
	Neither    Valence = "neither"
	Unease     Valence = "unease"
	Ease       Valence = "ease"
)

// Domain is one of the first four of the Five Domains, which feed the fifth, the mind.
// Source: Mellor et al. 2020 Animals 10:1870. Values are frozen; the text is "domain." + value.
type Domain string

// The domains.
const (
	Nutrition    Domain = "nutrition"
	Environment  Domain = "environment"
	Health       Domain = "health"
	Interactions Domain = "interactions"
)

// Domains are the four, in their order.
func Domains() []Domain { return []Domain{Nutrition, Environment, Health, Interactions} }

// Sign is one thing that can be seen of how an animal feels.
type Sign struct {
	ID     SignID
	Key    rune // of the tally
	Domain Domain
	Says   map[Setting]Valence // of each setting
	Source string
}

// RestraintID names why an animal is held against its will. Values are frozen; the text is
// "restraint." + id.
type RestraintID string

// Restraint is why an animal is held.
type Restraint struct {
	ID     RestraintID
	Care   bool // it is health care
	Source string
}

// Signs are all signs, in the order of their table.
func (t *Tables) Signs() []Sign { return t.signs }

// Sign is the sign of that id.
func (t *Tables) Sign(id SignID) (Sign, bool) {
	for _, s := range t.signs {
		if s.ID == id {
			return s, true
		}
	}
	return Sign{}, false
}

// Restraints are all reasons for holding an animal, in the order of their table.
func (t *Tables) Restraints() []Restraint { return t.restraints }

// Restraint is the reason of that id.
func (t *Tables) Restraint(id RestraintID) (Restraint, bool) {
	for _, r := range t.restraints {
		if r.ID == id {
			return r, true
		}
	}
	return Restraint{}, false
}

func (l *loading) sign(r row) {
	_, taken := l.t.Sign(SignID(r.cells[0].text))
	s := Sign{ID: SignID(l.id(r, taken)), Domain: Domain(r.cell("domain")), Says: map[Setting]Valence{}, Source: r.cell("source")}
	if key := []rune(r.cell("key")); len(key) != 1 || !(key[0] >= 'a' && key[0] <= 'x' || key[0] >= '1' && key[0] <= '9') {
		l.fault(r, "key", "want one letter from a to x, which all keyboards have in one place, or a figure from 1 to 9")
	} else {
		s.Key = key[0]
	}
	for _, other := range l.t.signs {
		if other.Key == s.Key && s.Key != 0 {
			l.fault(r, "key", "this key is that of an earlier row already")
		}
	}
	switch s.Domain {
	case Nutrition, Environment, Health, Interactions:
	default:
		l.fault(r, "domain", "want nutrition, environment, health or interactions")
	}
	for _, in := range Settings() {
		says := Valence(r.cell(string(in)))
		switch says {
		case NotOffered, Neither, Unease, Ease:
		default:
			l.fault(r, string(in), "want unease, ease, neither or -")
		}
		if s.ID == Freezing && says == Ease {
			l.fault(r, string(in), "freezing is never ease")
		}
		s.Says[in] = says
	}
	l.t.signs = append(l.t.signs, s)
}

func (l *loading) restraint(r row) {
	_, taken := l.t.Restraint(RestraintID(r.cells[0].text))
	l.t.restraints = append(l.t.restraints, Restraint{ID: RestraintID(l.id(r, taken)), Care: l.yes(r, "care"), Source: r.cell("source")})
}

// wholeSigns makes sure that there are signs to see, reasons to hold, and that freezing is
// among the signs, which else could be taken for calm.
func (l *loading) wholeSigns() {
	if _, ok := l.t.Sign(Freezing); !ok {
		l.faults = append(l.faults, &Fault{File: "signs.txt", Row: string(Freezing), Reason: "this sign is missing"})
	}
	if len(l.t.restraints) == 0 {
		l.faults = append(l.faults, &Fault{File: "restraints.txt", Reason: "want at least one reason"})
	}
}

// The numbers of how an animal feels and is handled.
const (
	ValueEaseLately   ValueID = "ease-lately"    // days up to today that are "this month"
	ValueEaseBefore   ValueID = "ease-before"    // days before those that they are held against
	ValueHelpWeeks    ValueID = "help-weeks"     // weeks with a visit, before and after each, for a change to be judged
	ValueHelpMost     ValueID = "help-most"      // weeks of each that are compared at the most
	ValueHelpChance   ValueID = "help-chance"    // in a thousand: the chance at which a change is said to have helped
	ValueHelpAlike    ValueID = "help-alike"     // hundredths: how alike two days running are supposed to be where the power is told
	ValueGoesVisits   ValueID = "goes-visits"    // visits of each half, for a chance to be told
	ValueGoesDays     ValueID = "goes-days"      // days before a visit on which what it goes with may have been
	ValueBreathsOwn   ValueID = "breaths-own"    // quiet counts that make an animal's own baseline
	ValueBreathsFar   ValueID = "breaths-far"    // percent of it, above which is a matter for the vet
	ValueBreathsCount ValueID = "breaths-count"  // seconds that a count lasts
	ValueHandMost     ValueID = "hand-most"      // minutes in the hand in one session
	ValueDrewBack     ValueID = "drew-back-stop" // times that an animal draws back, at which one stops
	ValueSettle       ValueID = "settle"         // days after an arrival in which an animal is left alone
	ValueLiftsWeek    ValueID = "lifts-week"     // lifts in seven days, at which it is left alone
)

func easeValues() []ValueID {
	return []ValueID{ValueEaseLately, ValueEaseBefore, ValueHelpWeeks, ValueHelpMost, ValueHelpChance, ValueHelpAlike, ValueGoesVisits, ValueGoesDays,
		ValueBreathsOwn, ValueBreathsFar, ValueBreathsCount, ValueHandMost, ValueDrewBack, ValueSettle, ValueLiftsWeek}
}
