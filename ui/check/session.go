package check

import (
	"slices"

	"coilward/model"
	"coilward/model/body"
	"coilward/model/exam"
	"coilward/model/knowledge"
)

// words is what a session needs of the catalogue in force.
type words interface {
	Say(key string, gaps ...map[string]any) string
	Length(model.Length) string
	DayShort(model.Day) string
}

// session is one check in progress, as values that a page shows.
type session struct {
	tables *knowledge.Tables
	text   words
	draft  exam.Draft
	// numbers names each known problem by its place in the order in which the
	// animal's problems were first seen; findings of this walk follow on.
	numbers map[model.ProblemID]int
	known   int
	view    body.ViewID
	chosen  int // index of the finding whose details are shown, or -1
}

func newSession(t *knowledge.Tables, w words, d exam.Draft, problems []exam.StoredProblem) *session {
	s := &session{tables: t, text: w, draft: d, numbers: exam.Numbers(problems), known: len(problems), chosen: -1}
	s.arrive()
	return s
}

// arrive shows the view that suits the stop one has come to.
func (s *session) arrive() {
	s.chosen = -1
	if stop, ok := s.stop(); ok {
		s.view = viewFor(stop)
		for _, e := range s.draft.Earlier {
			if e.Stop == stop.ID && e.Now.Standing == exam.Unasked {
				s.reveal(e.Before.Place)
				return
			}
		}
	}
}

// reveal turns to a view in which a place can be seen, where the present one
// hides it.
func (s *session) reveal(p body.Place) {
	if p.Whole() {
		return
	}
	for _, v := range append([]body.ViewID{s.view}, body.Views()...) {
		if _, seen := body.Point(v, p); seen {
			s.view = v
			return
		}
	}
}

// stop is the stop one is at; none on the end page.
func (s *session) stop() (knowledge.Stop, bool) {
	id, ok := s.draft.Stop()
	if !ok {
		return knowledge.Stop{}, false
	}
	return s.tables.Stop(id)
}

// take puts a new draft in the place of the old one; a new stop brings its view,
// a new finding its details.
func (s *session) take(d exam.Draft) {
	moved, more := d.Index != s.draft.Index, len(d.Findings) > len(s.draft.Findings)
	s.draft = d
	switch {
	case moved:
		s.arrive()
	case more:
		s.chosen = len(d.Findings) - 1
	case s.chosen >= len(d.Findings):
		s.chosen = -1
	}
}

// press forwards a key of the numpad.
func (s *session) press(key exam.Key, at model.Moment) error {
	before := s.draft
	next, err := s.draft.Press(s.tables, key, at)
	if err != nil {
		return err
	}
	s.take(next)
	if next.Index == before.Index {
		s.choose(before)
	}
	return nil
}

// choose shows the details of the finding that a key has just raised.
func (s *session) choose(before exam.Draft) {
	for i, f := range s.draft.Findings {
		if i < len(before.Findings) && f.Grade != before.Findings[i].Grade {
			s.chosen = i
		}
	}
}

// mark notes a finding at the stop one is at.
func (s *session) mark(what knowledge.FindingID, at model.Moment) {
	before := s.draft
	s.take(s.draft.Mark(s.tables, what, at))
	s.choose(before)
}

// point takes a place from the drawing or as typed: the place of the finding
// chosen where nobody had pointed for it, and otherwise of the next one.
func (s *session) point(p body.Place) {
	if s.chosen >= 0 && s.draft.Findings[s.chosen].Rough {
		f := s.draft.Findings[s.chosen]
		f.Place, f.Rough = p, false
		s.draft = s.draft.ChangeFinding(s.chosen, f)
		return
	}
	s.draft = s.draft.Point(p)
}

// misses reports whether a place lies on the body while the stop one is at looks
// at the head or into the mouth alone.
func (s *session) misses(p body.Place) bool {
	stop, _ := s.stop()
	_, ok := exam.Typed(stop, p)
	return !ok
}

// typed takes a typed place, as it is meant at the stop one is at.
func (s *session) typed(p body.Place) {
	stop, _ := s.stop()
	p, _ = exam.Typed(stop, p)
	s.point(p)
	s.reveal(p)
}

// viewFor is the view that shows most of a stop. The open mouth is shown only
// where the mouth is what is looked at.
func viewFor(stop knowledge.Stop) body.ViewID {
	if stop.Way == knowledge.Opened {
		return body.OpenMouth
	}
	best, most := body.Above, 0
	for _, v := range []body.ViewID{body.HeadLeft, body.HeadRight, body.HeadAbove, body.Above, body.Underside} {
		shown := body.RegionsOf(v)
		n := 0
		for _, r := range stop.Regions {
			if slices.Contains(shown, r) {
				n++
			}
		}
		if n > most {
			best, most = v, n
		}
	}
	return best
}

// row is one stop in the list at the left.
type row struct {
	Index  int
	Part   body.Part // of the first stop of a part; the zero Part: none begins here
	First  bool      // a part begins here
	Name   string
	Sign   sign
	Number int    // of the finding that stands there, where Sign is found
	Detail string // a word at the right
	Here   bool
}

// sign is how a stop's answer is drawn.
type sign uint8

const (
	notYet sign = iota
	clear
	found
	notLooked
	leftToVet
)

// rows are the stops from snout to tail tip with their answers.
func (s *session) rows() []row {
	var rows []row
	last := body.Part("none")
	for i, a := range s.draft.Stops {
		stop, _ := s.tables.Stop(a.Stop)
		r := row{Index: i, Part: partOf(stop), Name: s.text.Say("stop." + string(a.Stop)), Here: i == s.draft.Index}
		r.First, last = r.Part != last, r.Part
		r.Sign, r.Number = s.signOf(a)
		r.Detail = s.detailOf(a, r.Sign)
		rows = append(rows, r)
	}
	return rows
}

// partOf is the part of the animal that a stop begins on; the zero Part is the
// whole animal.
func partOf(stop knowledge.Stop) body.Part {
	if len(stop.Regions) == 0 {
		return ""
	}
	place, _ := body.In(stop.Regions[0])
	if place.Part == body.Mouth {
		return body.Head
	}
	return place.Part
}

func (s *session) signOf(a exam.Answered) (sign, int) {
	if n := s.numberAt(a.Stop); n > 0 {
		return found, n
	}
	switch a.Look {
	case exam.Seen, exam.Felt:
		return clear, 0
	case exam.NotLooked:
		return notLooked, 0
	case exam.LeftToVet:
		return leftToVet, 0
	}
	return notYet, 0
}

// numberAt is the number of the first thing that stands at a stop by this walk.
func (s *session) numberAt(stop knowledge.StopID) int {
	for i, f := range s.draft.Findings {
		if f.Stop == stop {
			return s.number(i)
		}
	}
	for _, e := range s.draft.Earlier {
		if e.Stop == stop && e.Now.Standing != exam.Unasked && e.Now.Standing.Present() {
			return s.numbers[e.Problem]
		}
	}
	return 0
}

// number is the number of the finding at that index.
func (s *session) number(i int) int {
	if n, ok := s.numbers[s.draft.Findings[i].Problem]; ok {
		return n
	}
	n := s.known
	for j := 0; j <= i; j++ {
		if _, ok := s.numbers[s.draft.Findings[j].Problem]; !ok {
			n++
		}
	}
	return n
}

func (s *session) detailOf(a exam.Answered, sg sign) string {
	switch sg {
	case found:
		return s.text.Say("check.row.found")
	case leftToVet:
		return s.text.Say("check.row.left-to-vet")
	case notLooked:
		return s.text.Say("check.row.not-looked")
	case clear:
		return s.text.Say(a.Look.Key())
	}
	if n := s.openAt(a.Stop); n > 0 {
		return s.text.Say("check.row.open", map[string]any{"Count": n})
	}
	return ""
}

// openAt counts the earlier findings at a stop that still want an answer.
func (s *session) openAt(stop knowledge.StopID) int {
	n := 0
	for _, e := range s.draft.Earlier {
		if e.Stop == stop && e.Now.Standing == exam.Unasked {
			n++
		}
	}
	return n
}

// choice is one finding button of the stop.
type choice struct {
	Key   string // the digit
	What  knowledge.FindingID
	Name  string
	Grade exam.Grade // of the last one noted here; Ungraded: none
}

func (s *session) choices() []choice {
	stop, ok := s.stop()
	if !ok {
		return nil
	}
	var list []choice
	for i, what := range stop.Choices {
		c := choice{Key: string(rune('1' + i)), What: what, Name: s.text.Say("finding." + string(what))}
		for _, f := range s.draft.Findings {
			if f.Stop == stop.ID && f.What == what {
				c.Grade = f.Grade
			}
		}
		list = append(list, c)
	}
	return list
}

// pinKind tells how a pin is drawn.
type pinKind uint8

const (
	pinNow pinKind = iota
	pinEarlier
	pinGone
	pinRough // noted now, at no place that anyone pointed to
	pinNext  // where the next finding goes
)

// pin is one thing on the drawing.
type pin struct {
	Number  int
	Kind    pinKind
	Place   body.Place
	Finding int // index into the draft's findings, or -1
}

// pins are what stands on the drawing: noted now, open from earlier, gone by
// this walk. What has no place is on the list alone.
func (s *session) pins() []pin {
	var pins []pin
	add := func(p pin) {
		if p.Place != (body.Place{}) {
			pins = append(pins, p)
		}
	}
	for i, f := range s.draft.Findings {
		kind := pinNow
		if f.Rough {
			kind = pinRough
		}
		add(pin{Number: s.number(i), Kind: kind, Place: f.Place, Finding: i})
	}
	for _, e := range s.draft.Earlier {
		p := pin{Number: s.numbers[e.Problem], Kind: pinEarlier, Place: e.Before.Place, Finding: -1}
		if e.Now.Standing == exam.Gone {
			p.Kind = pinGone
		}
		add(p)
	}
	add(pin{Kind: pinNext, Place: s.draft.Pointed, Finding: -1})
	return pins
}

// progress is how many stops have an answer, of how many.
func (s *session) progress() (answered, of int) {
	return s.draft.Answers(), len(s.draft.Stops)
}

// lit are the regions under the lamp: those of the stop one is at.
func (s *session) lit() []body.RegionID {
	stop, _ := s.stop()
	return stop.Regions
}

// here is whether anything new stands at this stop, so that Enter stores that
// the rest of it is clear.
func (s *session) here() bool {
	id, _ := s.draft.Stop()
	return s.numberAt(id) > 0
}

// addPhoto gives a stored picture to the finding at that index, once, and tells
// whether it did.
func (s *session) addPhoto(i int, id model.PhotoID) bool {
	if i < 0 || i >= len(s.draft.Findings) || slices.Contains(s.draft.Findings[i].Photos, id) {
		return false
	}
	f := s.draft.Findings[i]
	f.Photos = append(slices.Clone(f.Photos), id)
	s.draft = s.draft.ChangeFinding(i, f)
	return true
}

// nudge moves the chosen finding along the trunk or the tail by a millimetre
// for each step, or by a tenth of a percent where the length from snout to vent
// (tenths of a millimetre) is not known. It tells whether anything moved.
func (s *session) nudge(step int, snoutVent int64) bool {
	if s.chosen < 0 {
		return false
	}
	f := s.draft.Findings[s.chosen]
	by := 10
	if snoutVent > 0 {
		by = max(1, int((10*body.Full+snoutVent/2)/snoutVent))
	}
	switch f.Place.Part {
	case body.Trunk:
		f.Place = body.OnTrunk(min(max(f.Place.Along+step*by, body.HeadShare), body.Full), f.Place.Angle)
	case body.Tail:
		f.Place = body.OnTail(min(max(f.Place.Along+step*100, 0), body.Full), f.Place.Angle)
	default:
		return false
	}
	f.Rough = false
	s.draft = s.draft.ChangeFinding(s.chosen, f)
	return true
}

// stretch is the part of the trunk that the stop one is at covers, as shares of
// snout–vent length (0–10000); not ok where it lies elsewhere or is the whole
// trunk.
func (s *session) stretch() (from, to int, ok bool) {
	from, to = body.Full, 0
	for _, r := range s.lit() {
		f, t, on := body.Stretch(r)
		if !on {
			return 0, 0, false
		}
		from, to = min(from, f), max(to, t)
	}
	return from, to, from < to && to-from < 8000
}

// onTrunk reports whether a place of this stop can be typed or counted: percent and
// spans go along trunk and tail, and a stop of the whole animal takes any place.
func (s *session) onTrunk() bool {
	lit := s.lit()
	return len(lit) == 0 || slices.ContainsFunc(lit, func(r body.RegionID) bool {
		p, _ := body.In(r)
		return p.Part == body.Trunk || p.Part == body.Tail
	})
}
