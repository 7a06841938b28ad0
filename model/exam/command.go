package exam

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"

	"coilward/model"
	"coilward/model/knowledge"
)

// Commands lists the commands of this package.
func Commands() []model.Command {
	return []model.Command{Finish{}, Change{}, Remove{}, SetBaseline{}, Close{}}
}

// Finish keeps a draft as a check, and what it found as problems.
type Finish struct {
	Tables *knowledge.Tables
	Draft  Draft
	By     model.PersonID
	At     model.Moment // when it ended; zero: now
}

// Name is "exam.finish".
func (Finish) Name() string { return "exam.finish" }

// Plan refuses a check without an answer, one that ends before it began or in
// the future, and one that is kept already.
func (f Finish) Plan(v model.View) (model.Writes, error) {
	at := f.At
	if at.IsZero() {
		at = v.Now()
	}
	if _, err := v.Document(f.Draft.Check.ID); err == nil {
		return model.Writes{}, refuse("check", "", "exam.kept-already", nil)
	} else if !errors.Is(err, model.ErrNotFound) {
		return model.Writes{}, fmt.Errorf("finish a check: %w", err)
	}
	if err := f.Draft.stands(f.Tables, at, v.Now()); err != nil {
		return model.Writes{}, err
	}
	d := model.Document{
		Type: model.TypeEntry, ID: f.Draft.Check.ID, Kind: KindCheck, At: f.Draft.Begun, By: f.By,
		Subjects: []model.Subject{f.Draft.Animal.Subject()},
	}
	now := f.Draft.named(v).judged(f.Tables, at)
	return keep(v, d, now, Check{}, model.Label{Key: "exam.done.finish", Gaps: map[string]model.Gap{
		"Stops": model.CountGap(now.Answers()), "Findings": model.CountGap(len(now.Findings)),
	}})
}

// named is the walk in which every new finding has the id of the problem that it
// becomes.
func (w Walk) named(v model.View) Walk {
	w.Findings = slices.Clone(w.Findings)
	for i := range w.Findings {
		if f := &w.Findings[i]; f.Problem.IsZero() {
			f.Problem = model.ProblemID{ID: v.NewID()}
		}
	}
	return w
}

// answered is the walk in which each stop was looked at whose earlier finding was
// judged.
func (w Walk) answered(t *knowledge.Tables) Walk {
	w.Stops = slices.Clone(w.Stops)
	for _, e := range w.Earlier {
		stop, known := t.Stop(e.Stop)
		i := slices.IndexFunc(w.Stops, func(a Answered) bool { return a.Stop == e.Stop && a.Look == NotYet })
		if known && i >= 0 && e.Now.Standing != Unasked {
			w.Stops[i] = Answered{Stop: e.Stop, Look: w.usual(stop), At: e.Now.At}
		}
	}
	return w
}

// timed is the walk in which what was noted or judged without a moment is of the moment at
// which the check began: a look is told from those before it by when it was.
func (w Walk) timed() Walk {
	w.Findings, w.Earlier = slices.Clone(w.Findings), slices.Clone(w.Earlier)
	for i := range w.Findings {
		if f := &w.Findings[i]; f.At.IsZero() {
			f.At = w.Begun
		}
	}
	for i := range w.Earlier {
		if now := &w.Earlier[i].Now; now.Standing != Unasked && now.At.IsZero() {
			now.At = w.Begun
		}
	}
	return w
}

// judged is the walk as a check that ended at that moment.
func (w Walk) judged(t *knowledge.Tables, at model.Moment) Check {
	w = w.timed().answered(t)
	return Check{Walk: w, Finished: at, Verdict: Urgency(t, w.Facts(at))}
}

// stands is a *model.Refusal where a walk that ended at that moment cannot be
// kept.
func (w Walk) stands(t *knowledge.Tables, at, now model.Moment) error {
	switch {
	case w.Answers() == 0:
		return refuse("stop", "", "exam.nothing-answered", nil)
	case at.Before(w.Begun):
		return refuse("day", w.Begun.Day().String(), "exam.time-backwards", map[string]model.Gap{
			"Begun": model.DayGap(w.Begun.Day()), "Finished": model.DayGap(at.Day())})
	case now.Before(at):
		return refuse("day", at.Day().String(), "exam.future", map[string]model.Gap{"Day": model.DayGap(at.Day())})
	}
	notes := []string{w.Note}
	for _, f := range w.Findings {
		if err := f.stands(t); err != nil {
			return err
		}
		notes = append(notes, f.Note)
	}
	for _, e := range w.Earlier {
		notes = append(notes, e.Now.Note)
	}
	return noted(notes...)
}

// The most signs that a note may have.
const longestNote = 10_000

// noted is a *model.Refusal where a note is not text or is a book.
func noted(notes ...string) error {
	for _, n := range notes {
		if r := model.CheckText("note", n, longestNote); r != nil {
			return r
		}
	}
	return nil
}

// stands is a *model.Refusal where the tables have no such finding.
func (f Finding) stands(t *knowledge.Tables) error {
	stop, known := t.Stop(f.Stop)
	row, _ := t.Finding(f.What)
	switch {
	case !known || !slices.Contains(stop.Choices, f.What):
		return refuse("finding", "", "exam.unknown-finding", nil)
	case f.Grade < Slight || f.Grade > Severe:
		return refuse("grade", "", "exam.no-grade", map[string]model.Gap{"Finding": findingGap(f.What)})
	case f.Baseline && !row.Baseline:
		return neverBaseline(f.What)
	case f.Baseline && f.Grade > Slight:
		return ownOnlySlight(f.What)
	case f.Baseline && !f.worded():
		return ownWithoutWord(f.What)
	case f.Size.Tenths < 0:
		return refuse("size", f.Size.Typed, "exam.negative-size", nil)
	}
	return nil
}

// Change puts another walk in the place of a kept check: a size or a photo that
// was still missing, or a finding put right. It is judged anew by the tables.
type Change struct {
	Tables *knowledge.Tables
	Entry  model.EntryID
	Based  uint32 // the revision that the change was made from
	Walk   Walk
	By     model.PersonID
	At     model.Moment // when the check ended
}

// Name is "exam.change".
func (Change) Name() string { return "exam.change" }

// Plan refuses what Finish refuses, and a check that is not there.
func (c Change) Plan(v model.View) (model.Writes, error) {
	d, before, err := checkIn(v, c.Entry)
	if err != nil {
		return model.Writes{}, err
	}
	if err := c.Walk.stands(c.Tables, c.At, v.Now()); err != nil {
		return model.Writes{}, err
	}
	d.At, d.By, d.Revision = c.Walk.Begun, c.By, c.Based
	return keep(v, d, c.Walk.named(v).judged(c.Tables, c.At), before, model.Label{Key: "exam.done.change"})
}

// Remove takes a check out of the days, and its looks out of the problems.
type Remove struct {
	Entry model.EntryID
}

// Name is "exam.remove".
func (Remove) Name() string { return "exam.remove" }

// Plan refuses a check that is not there.
func (r Remove) Plan(v model.View) (model.Writes, error) {
	d, before, err := checkIn(v, r.Entry)
	if err != nil {
		return model.Writes{}, err
	}
	w := model.Writes{Remove: []model.ID{d.ID}, Label: model.Label{Key: "exam.done.remove"}}
	return w, relink(v, &w, d, Check{}, before)
}

func checkIn(v model.View, id model.EntryID) (model.Document, Check, error) {
	d, err := v.Document(id.ID)
	if errors.Is(err, model.ErrNotFound) || err == nil && d.Kind != KindCheck {
		return d, Check{}, refuse("check", "", "exam.no-such-check", nil)
	}
	if err != nil {
		return d, Check{}, fmt.Errorf("read a check: %w", err)
	}
	c, err := ReadCheck(d)
	return d, c, err
}

// keep writes a check in the place of what it was before, and brings its
// problems in step.
func keep(v model.View, d model.Document, now, before Check, label model.Label) (model.Writes, error) {
	w := model.Writes{Label: label}
	if err := d.Encode(CheckVersion, now); err != nil {
		return w, err
	}
	w.Put = append(w.Put, d)
	return w, relink(v, &w, d, now, before)
}

// link is what a check says about one problem.
type link struct {
	kind    Problem // its stop and finding, and whether it is the animal's own
	founded bool    // noted in this check and not only answered there
	looks   []Glimpse
}

// links are the problems that a check speaks about.
func (w Walk) links() map[model.ProblemID]link {
	links := map[model.ProblemID]link{}
	for _, e := range w.Earlier {
		if e.Now.Standing != Unasked {
			links[e.Problem] = link{kind: Problem{Stop: e.Stop, What: e.What, Baseline: e.Baseline}, looks: []Glimpse{e.Now}}
		}
	}
	for _, f := range w.Findings {
		l := links[f.Problem]
		links[f.Problem] = link{kind: Problem{Stop: f.Stop, What: f.What, Baseline: f.Baseline}, founded: true, looks: append(l.looks, f.glimpse())}
	}
	return links
}

// relink brings the problem documents from what the check said before to what
// it says now.
func relink(v model.View, w *model.Writes, check model.Document, now, before Check) error {
	links := now.links()
	for id, l := range before.links() {
		if _, still := links[id]; !still {
			links[id] = link{kind: l.kind}
		}
	}
	byID := func(a, b model.ProblemID) int { return slices.Compare(a.ID[:], b.ID[:]) }
	for _, id := range slices.SortedFunc(maps.Keys(links), byID) {
		if err := links[id].write(v, w, check, id); err != nil {
			return fmt.Errorf("keep the problems of a check in step: %w", err)
		}
	}
	return nil
}

// write puts, changes or removes the document of one problem.
func (l link) write(v model.View, w *model.Writes, check model.Document, id model.ProblemID) error {
	d, err := v.Document(id.ID)
	p := StoredProblem{ID: id, Problem: l.kind}
	switch {
	case errors.Is(err, model.ErrNotFound):
		d = model.Document{Type: model.TypeProblem, ID: id.ID, By: check.By, Subjects: check.Subjects}
	case err != nil:
		return err
	default:
		if p, err = ReadProblem(d); err != nil {
			return err
		}
	}
	if l.founded {
		p.Baseline = l.kind.Baseline
	}
	p.Problem = p.with(model.EntryID{ID: check.ID}, l.looks...)
	if len(p.Glimpses) == 0 {
		if d.Revision > 0 {
			w.Remove = append(w.Remove, d.ID)
		}
		return nil
	}
	return put(w, d, p.Problem)
}

// put writes a problem into its document.
func put(w *model.Writes, d model.Document, p Problem) error {
	d.At = p.First().At
	if err := d.Encode(ProblemVersion, p); err != nil {
		return err
	}
	w.Put = append(w.Put, d)
	return nil
}

// SetBaseline says that a problem is, or is not, this animal's own since it is
// known.
type SetBaseline struct {
	Tables   *knowledge.Tables
	Problem  model.ProblemID
	Baseline bool
	Word     string // since when, or which vet said so; may be empty where a later check has seen it the same
}

// Name is "exam.baseline".
func (SetBaseline) Name() string { return "exam.baseline" }

// Plan refuses it for a finding that cannot be an animal's own, for one that is
// more than slight or has become worse, and for one of which nobody says since
// when and no later check has seen it the same.
func (s SetBaseline) Plan(v model.View) (model.Writes, error) {
	d, p, err := problemIn(v, s.Problem)
	if err != nil {
		return model.Writes{}, err
	}
	if err := s.stands(p); err != nil {
		return model.Writes{}, err
	}
	p.Baseline, p.Word = s.Baseline, s.Word
	w := model.Writes{Label: model.Label{Key: "exam.done.baseline", Gaps: map[string]model.Gap{"Finding": findingGap(p.What)}}}
	return w, put(&w, d, p.Problem)
}

// stands is a *model.Refusal where the problem cannot be called the animal's own.
func (s SetBaseline) stands(p StoredProblem) error {
	row, _ := s.Tables.Finding(p.What)
	switch {
	case !s.Baseline:
	case !row.Baseline:
		return neverBaseline(p.What)
	case p.Last().Grade > Slight || p.Worsened():
		return ownOnlySlight(p.What)
	case !p.Steady() && strings.TrimSpace(s.Word) == "":
		return ownWithoutWord(p.What)
	}
	return noted(s.Word)
}

// Close says that a vet has said that a problem is done with.
type Close struct {
	Problem model.ProblemID
	At      model.Moment
	Note    string // what the vet said
}

// Name is "exam.close".
func (Close) Name() string { return "exam.close" }

// Plan takes an open problem, and one that was gone before a vet had said a word
// of it. It refuses one that is closed already, a day in the future, one before the
// last look, and a closing without a word of what the vet said.
func (c Close) Plan(v model.View) (model.Writes, error) {
	d, p, err := problemIn(v, c.Problem)
	if err != nil {
		return model.Writes{}, err
	}
	switch last := p.Last(); {
	case last.Standing == Closed:
		err = refuse("problem", "", "exam.not-open", map[string]model.Gap{"Finding": findingGap(p.What)})
	case v.Now().Before(c.At):
		err = refuse("day", c.At.Day().String(), "exam.future", map[string]model.Gap{"Day": model.DayGap(c.At.Day())})
	case c.At.Before(last.At):
		err = refuse("day", c.At.Day().String(), "exam.before-last-look", map[string]model.Gap{"Day": model.DayGap(last.At.Day())})
	case strings.TrimSpace(c.Note) == "":
		err = refuse("note", c.Note, "exam.no-word", nil)
	default:
		err = noted(c.Note)
	}
	if err != nil {
		return model.Writes{}, err
	}
	p.Glimpses = append(p.Glimpses, Glimpse{At: c.At, Standing: Closed, Grade: p.Last().Grade, Place: p.Last().Place, Note: c.Note})
	w := model.Writes{Label: model.Label{Key: "exam.done.close", Gaps: map[string]model.Gap{"Finding": findingGap(p.What)}}}
	return w, put(&w, d, p.Problem)
}

func problemIn(v model.View, id model.ProblemID) (model.Document, StoredProblem, error) {
	d, err := v.Document(id.ID)
	if errors.Is(err, model.ErrNotFound) || err == nil && d.Type != model.TypeProblem {
		return d, StoredProblem{}, refuse("problem", "", "exam.no-such-problem", nil)
	}
	if err != nil {
		return d, StoredProblem{}, fmt.Errorf("read a problem: %w", err)
	}
	p, err := ReadProblem(d)
	return d, p, err
}

func findingGap(what knowledge.FindingID) model.Gap { return model.KeyGap("finding." + string(what)) }

func neverBaseline(what knowledge.FindingID) error {
	return refuse("baseline", "", "exam.never-baseline", map[string]model.Gap{"Finding": findingGap(what)})
}

func ownOnlySlight(what knowledge.FindingID) error {
	return refuse("baseline", "", "exam.own-only-slight", map[string]model.Gap{"Finding": findingGap(what)})
}

func ownWithoutWord(what knowledge.FindingID) error {
	return refuse("note", "", "exam.own-without-word", map[string]model.Gap{"Finding": findingGap(what)})
}
