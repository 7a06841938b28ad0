package knowledge

import (
	"errors"
	"io/fs"
	"path"
	"slices"
	"strconv"
	"strings"

	"coilward/model"
	"coilward/model/body"
)

// form is one file of a set of tables: its columns, and how a row is taken in.
type form struct {
	file    string
	columns []string
	take    func(row)
}

// forms lists the files so that each only names ids of those before it.
func (l *loading) forms() []form {
	return []form{
		{"values.txt", []string{"value", "number", "unit", "source"}, l.value},
		{"species.txt", []string{"species", "latin name", "heaviest g", "source"}, l.speciesRow},
		{"rhythm.txt", []string{"class", "lightest g", "prey least", "prey most", "offer from", "offer by", "weigh by", "source"}, l.rhythm},
		{"poses.txt", []string{"pose", "every days", "source"}, l.pose},
		{"materials.txt", []string{"material", "takes", "keeps", "source"}, l.material},
		{"agents.txt", []string{"agent", "family", "speaks", "room", "weak", "found", "source"}, l.agent},
		{"ways.txt", []string{"stage", "days", "source"}, l.way},
		{"protocols.txt", []string{"protocol", "days", "mites", "looked for", "not detected", "apart", "within", "faecal", "faecal apart", "check within", "meals", "weight", "watch", "sheds", "source"}, l.protocol},
		{"answers.txt", []string{"agent", "false alarm", "speaks after", "source"}, l.answer},
		{"sight.txt", []string{"sight", "agent", "species", "materials", "by", "low", "assumed", "high", "right", "share low", "share", "share high", "spread", "usable", "source"}, l.sight},
		{"carriers.txt", []string{"agent", "latent low", "latent", "latent high", "daily low", "daily", "daily high", "clears", "source"}, l.carrier},
		{"priors.txt", []string{"prior", "agent", "origin", "low", "assumed", "high", "source"}, l.prior},
		{"positive.txt", []string{"act", "for", "source"}, l.positiveAct},
		{"mitelife.txt", []string{"stage", "from", "to", "unfed", "source"}, l.miteStage},
		{"means.txt", []string{"means", "class", "source"}, l.meansRow},
		{"targets.txt", []string{"target", "source"}, l.targetRow},
		{"effects.txt", []string{"means", "target", "works", "minutes", "source"}, l.effectRow},
		{"rounds.txt", []string{"round", "classes", "apart", "source"}, l.roundRow},
		{"between.txt", []string{"measure", "at", "source"}, l.measureRow},
		{"suspects.txt", []string{"class", "target", "source"}, l.suspectRow},
		{"rescue.txt", []string{"criterion", "source"}, l.criterionRow},
		{"coldlooks.txt", []string{"look", "day", "source"}, l.coldLookRow},
		{"climate.txt", []string{"target", "species", "zone", "of", "by", "when", "hard low", "soft low", "soft high", "hard high", "source"}, l.climateRow},
		{"coldacts.txt", []string{"act", "kind", "first", "source"}, l.coldActRow},
		{"findings.txt", []string{"finding", "size", "photo", "baseline", "source"}, l.finding},
		{"stops.txt", []string{"stop", "way", "regions", "source"}, l.stop},
		{"choices.txt", []string{"stop", "key", "finding", "source"}, l.choice},
		{"tells.txt", []string{"entry", "noted", "finding", "stop", "grade", "ends", "source"}, l.tell},
		{"signs.txt", []string{"sign", "key", "domain", "untouched", "feeding", "handled", "moved", "cleaned", "source"}, l.sign},
		{"restraints.txt", []string{"restraint", "care", "source"}, l.restraint},
		{"clusters.txt", []string{"cluster", "findings", "source"}, l.cluster},
		{"urgency.txt", []string{"rule", "stops", "findings", "grade", "count", "with", "when", "level", "again", "if worse", "act", "source"}, l.rule},
	}
}

// Load reads the tables in files. An error joins every *Fault that was found, so
// that one reading shows all there is to mend.
func Load(files fs.FS) (*Tables, error) {
	l := loading{t: &Tables{values: map[ValueID]Value{}, clusters: map[ClusterID][]FindingID{}}}
	digest := newDigest()
	for _, f := range l.forms() {
		rows, err := readTable(files, f.file, f.columns)
		if err != nil {
			l.faults = append(l.faults, err)
			continue
		}
		for _, r := range rows {
			f.take(r)
		}
		digest.add(f.file, f.columns, rows)
	}
	if len(l.faults) == 0 {
		l.whole()
	}
	if len(l.faults) > 0 {
		return nil, errors.Join(l.faults...)
	}
	l.t.hash = digest.sum()
	return l.t, nil
}

// loading is a set of tables as far as it has been read.
type loading struct {
	t      *Tables
	faults []error
	// telling are the rows of what entries tell, to be checked when all is read.
	telling []row
}

func (l *loading) fault(r row, column, reason string) {
	l.faults = append(l.faults, &Fault{File: r.file, Line: r.line, Row: r.cells[0].text, Column: column, Value: r.cell(column), Reason: reason})
}

// id reads the row's id, which is its first cell.
func (l *loading) id(r row, taken bool) string {
	id, column := r.cells[0].text, r.cells[0].column
	if !isID(id) {
		l.fault(r, column, "want an id of small letters, digits and hyphens that begins with a letter")
	}
	if taken {
		l.fault(r, column, "this id stands in an earlier row already")
	}
	if r.cell("source") == "" {
		l.fault(r, "source", "every row names its source")
	}
	return id
}

func isID(s string) bool {
	if s == "" || s[0] < 'a' || s[0] > 'z' || strings.HasSuffix(s, "-") {
		return false
	}
	return strings.Trim(s, "abcdefghijklmnopqrstuvwxyz0123456789-") == ""
}

func (l *loading) number(r row, column string, least, most int) int {
	n, err := strconv.Atoi(r.cell(column))
	if err != nil || n < least || n > most {
		l.fault(r, column, "want a whole number from "+strconv.Itoa(least)+" to "+strconv.Itoa(most))
		return least
	}
	return n
}

func (l *loading) yes(r row, column string) bool {
	switch r.cell(column) {
	case "yes":
		return true
	case "no":
		return false
	}
	l.fault(r, column, "want yes or no")
	return false
}

func (l *loading) value(r row) {
	id := ValueID(r.cells[0].text)
	_, taken := l.t.values[id]
	l.id(r, taken)
	if r.cell("unit") == "" {
		l.fault(r, "unit", "every number has a unit")
	}
	l.t.values[id] = Value{ID: id, Number: l.number(r, "number", 0, 1_000_000), Unit: r.cell("unit"), Source: r.cell("source")}
}

func (l *loading) speciesRow(r row) {
	_, taken := l.t.Species(SpeciesID(r.cells[0].text))
	l.t.species = append(l.t.species, Species{
		ID: SpeciesID(l.id(r, taken)), Latin: dash(r.cell("latin name")),
		Heaviest: model.Grams(int64(l.number(r, "heaviest g", 1, 1_000_000))), Source: r.cell("source"),
	})
}

func (l *loading) finding(r row) {
	_, taken := l.t.Finding(FindingID(r.cells[0].text))
	l.t.findings = append(l.t.findings, Finding{
		ID: FindingID(l.id(r, taken)), Measured: l.yes(r, "size"), Pictured: l.yes(r, "photo"),
		Baseline: l.yes(r, "baseline"), Source: r.cell("source"),
	})
}

func (l *loading) stop(r row) {
	_, taken := l.t.Stop(StopID(r.cells[0].text))
	s := Stop{ID: StopID(l.id(r, taken)), Way: Way(r.cell("way")), Regions: l.regions(r), Source: r.cell("source")}
	switch s.Way {
	case Seen, Felt, Opened:
		l.t.stops = append(l.t.stops, s)
	case Noted:
		l.t.noted = append(l.t.noted, s)
	default:
		l.fault(r, "way", "want seen, felt, opened or noted")
	}
}

// regions spells out the region patterns of a stop; "-" is the whole animal.
func (l *loading) regions(r row) []body.RegionID {
	var found []body.RegionID
	for _, pattern := range words(r.cell("regions")) {
		matched := false
		for _, region := range body.Regions() {
			if ok, err := path.Match(pattern, string(region)); ok && err == nil {
				matched = true
				if !slices.Contains(found, region) {
					found = append(found, region)
				}
			}
		}
		if !matched {
			l.fault(r, "regions", "the body has no region "+pattern)
		}
	}
	return found
}

func (l *loading) choice(r row) {
	if r.cell("source") == "" {
		l.fault(r, "source", "every row names its source")
	}
	id, finding := StopID(r.cell("stop")), FindingID(r.cell("finding"))
	if _, known := l.t.Finding(finding); !known {
		l.fault(r, "finding", "no row of findings.txt has this id")
	}
	s := l.stopOf(id)
	if s == nil {
		l.fault(r, "stop", "no row of stops.txt has this id")
		return
	}
	most := 9
	if s.Way == Noted {
		most = 30 // no key is pressed for them
	}
	if l.number(r, "key", 1, most) != len(s.Choices)+1 {
		l.fault(r, "key", "the keys of a stop run from 1 to 9 without a gap, in order")
	}
	if slices.Contains(s.Choices, finding) {
		l.fault(r, "finding", "this stop has it already")
	}
	s.Choices = append(s.Choices, finding)
}

func (l *loading) stopOf(id StopID) *Stop {
	for _, list := range [][]Stop{l.t.stops, l.t.noted} {
		for i := range list {
			if list[i].ID == id {
				return &list[i]
			}
		}
	}
	return nil
}

func (l *loading) cluster(r row) {
	id := ClusterID(r.cells[0].text)
	_, taken := l.t.clusters[id]
	l.id(r, taken)
	l.t.clusters[id] = l.findings(r, "findings")
	if len(l.t.clusters[id]) == 0 {
		l.fault(r, "findings", "a cluster without findings")
	}
}

// findings reads ids of findings; @id stands for those of a cluster.
func (l *loading) findings(r row, column string) []FindingID {
	var found []FindingID
	for _, word := range words(r.cell(column)) {
		if name, cluster := strings.CutPrefix(word, "@"); cluster {
			members, known := l.t.clusters[ClusterID(name)]
			if !known {
				l.fault(r, column, "no earlier row of clusters.txt has the id "+name)
			}
			found = append(found, members...)
			continue
		}
		if _, known := l.t.Finding(FindingID(word)); !known {
			l.fault(r, column, "no row of findings.txt has the id "+word)
		}
		found = append(found, FindingID(word))
	}
	return found
}

func (l *loading) rule(r row) {
	_, taken := l.t.Rule(RuleID(r.cells[0].text))
	rule := Rule{
		ID: RuleID(l.id(r, taken)), Stops: l.stops(r), Findings: l.findings(r, "findings"),
		Grade: l.grade(r), Count: l.number(r, "count", 1, 9), With: l.findings(r, "with"), When: l.clauses(r),
		Level: l.level(r, "level"), IfWorse: l.level(r, "if worse"), Source: r.cell("source"),
	}
	switch r.cell("again") {
	case "-":
	case "today":
		rule.Today = true
	default:
		rule.Again = l.number(r, "again", 1, 365)
	}
	l.consistent(r, &rule)
	l.t.rules = append(l.t.rules, rule)
}

func (l *loading) consistent(r row, rule *Rule) {
	if rule.Level == Nothing {
		l.fault(r, "level", "a rule without a level says nothing")
	}
	if (rule.Level == LookAgain || rule.IfWorse == LookAgain) && rule.Again == 0 && !rule.Today {
		l.fault(r, "again", "a rule that says look again names the days")
	}
	if rule.IfWorse != Nothing && rule.IfWorse < rule.Level {
		l.fault(r, "if worse", "worse cannot be less urgent")
	}
	switch r.cell("act") {
	case "-":
	case "isolate":
		rule.Isolate = true
	default:
		l.fault(r, "act", "want isolate or -")
	}
}

func (l *loading) stops(r row) []StopID {
	var found []StopID
	for _, word := range words(r.cell("stops")) {
		if l.stopOf(StopID(word)) == nil {
			l.fault(r, "stops", "no row of stops.txt has the id "+word)
		}
		found = append(found, StopID(word))
	}
	return found
}

func (l *loading) grade(r row) int {
	for i, name := range []string{"slight", "marked", "severe"} {
		if r.cell("grade") == name {
			return i + 1
		}
	}
	l.fault(r, "grade", "want slight, marked or severe")
	return 1
}

func (l *loading) clauses(r row) []Clause {
	var found []Clause
	for _, word := range words(r.cell("when")) {
		name, not := strings.CutPrefix(word, "not-")
		if !slices.Contains(Conditions(), Condition(name)) {
			l.fault(r, "when", "no such condition: "+name)
		}
		found = append(found, Clause{Condition(name), not})
	}
	return found
}

func (l *loading) level(r row, column string) Level {
	var level Level
	if text := dash(r.cell(column)); level.UnmarshalText([]byte(text)) != nil {
		l.fault(r, column, "want no-action, look-again, vet-within-days or emergency-today")
	}
	return level
}

// whole checks what only all tables together can show.
func (l *loading) whole() {
	for _, id := range slices.Concat(Values(), mealValues(), climateValues(), easeValues(), []ValueID{ValueColdRoom, ValueCoolLeast, ValueCoolMost, ValueChanceGoal, ValueSampleApart, ValuePlanPool, ValuePlanRounds}) {
		if _, ok := l.t.values[id]; !ok {
			l.faults = append(l.faults, &Fault{File: "values.txt", Row: string(id), Reason: "this number is missing"})
		}
	}
	l.rhythmic()
	l.wholeCold()
	l.wholeClimate()
	l.wholeSigns()
	l.allWays()
	l.allPriors()
	for _, a := range l.t.agents {
		if _, ok := l.t.Answer(a.ID); !ok {
			l.faults = append(l.faults, &Fault{File: "answers.txt", Row: string(a.ID), Reason: "what an answer about this agent is worth is missing"})
		}
	}
	if len(l.t.stops) == 0 || len(l.t.species) == 0 {
		l.faults = append(l.faults, &Fault{File: "stops.txt", Reason: "want at least one stop, and one species in species.txt"})
	}
	for _, list := range [][]Stop{l.t.stops, l.t.noted} {
		for _, s := range list {
			l.complete(s)
		}
	}
	if len(l.faults) == 0 {
		l.told()
	}
}

// complete makes sure that a stop offers "something else" last, and that no
// finding there can go without an answer.
func (l *loading) complete(s Stop) {
	if n := len(s.Choices); n == 0 || s.Choices[n-1] != Other {
		l.faults = append(l.faults, &Fault{File: "choices.txt", Row: string(s.ID), Reason: "a stop has findings, the last of which is other"})
	}
	for _, f := range s.Choices {
		if !l.answered(s.ID, f) {
			l.faults = append(l.faults, &Fault{File: "urgency.txt", Row: string(s.ID), Value: string(f), Reason: "no rule speaks about this finding at this stop"})
		}
	}
}

func (l *loading) answered(s StopID, f FindingID) bool {
	for _, r := range l.t.rules {
		if r.Grade == 1 && r.Count == 1 && len(r.With) == 0 && len(r.Findings) > 0 && r.At(s, f) {
			return true
		}
	}
	return false
}

// Needs reports whether the rule asks for the condition to hold.
func (r Rule) Needs(c Condition) bool { return slices.Contains(r.When, Clause{Condition: c}) }

// At reports whether the rule is about that finding at that stop.
func (r Rule) At(s StopID, f FindingID) bool {
	return (len(r.Stops) == 0 || slices.Contains(r.Stops, s)) && (len(r.Findings) == 0 || slices.Contains(r.Findings, f))
}

// dash is the text of a cell in which - stands for nothing.
func dash(s string) string {
	if s == "-" {
		return ""
	}
	return s
}

func words(cell string) []string { return strings.Fields(dash(cell)) }
