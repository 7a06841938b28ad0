package history

import (
	"errors"
	"fmt"
	"slices"
	"sort"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/exam"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/welfare"
)

// Lately gathers of an animal's records as much as Stand needs, reading back from
// a moment until nothing older can change its answer.
func Lately(t *knowledge.Tables, v model.View, animal animals.Stored, problems []exam.StoredProblem, at model.Moment) (Records, error) {
	r := Records{doubts: husbandry.Doubting(v)}
	need := needOf(t, problems, at)
	var failed error
	err := v.Timeline(animal.ID.Subject(), model.Beginning, at.UTC+1, func(d model.Document) bool {
		met := need.met(d.At.Day())
		if met && need.watched() {
			return false
		}
		if mites(d) || !met && need.wants(d) {
			entries := len(r.Entries)
			failed = r.take(d)
			need.checked = len(r.Checks) > 0
			for _, e := range r.Entries[entries:] {
				need.learn(e)
			}
			need.weights = r.Weights
			need.learnVisits(r.visits)
		}
		return failed == nil
	})
	if err := errors.Join(err, failed); err != nil {
		return Records{}, fmt.Errorf("read the last records of %s: %w", animal.Name, err)
	}
	r.settle(t, WhoseOf(animal), at)
	return r, nil
}

// need is what reading back still looks for.
type need struct {
	t        *knowledge.Tables
	since    model.Day // as far back as the tables look
	far      model.Day // and for a weight that compares with others
	checks   map[model.ID]bool
	checked  bool // the newest check was read
	told     contrary
	looks    care.MiteDays
	meal     bool // one that stayed down
	keeping  care.Keeping
	kept     model.Day      // of the oldest meal kept; meaningless without one
	taken    []model.Moment // meals, newest first
	weights  []care.Weighed
	weighed  bool      // the newest weight that compares with others was found
	searched search    // where it was looked for
	mass     bool      // of the time before the oldest entry that tells a finding
	sheds    int       // that told of eye caps
	caps     bool      // no older shed can speak of eye caps any more
	waste    bool      // nor anything older of faeces and urates
	looked   bool      // the looks for mites say the same as when they were held against the rule
	decided  bool      // they decide what is watched for
	lately   model.Day // from which on what was seen of its breathing speaks
	counted  bool      // breaths were, lately: every count before is its measure
}

// needOf is what must be read: the newest check, those that saw what is open or
// went without a vet's word, and the entries of so many days.
func needOf(t *knowledge.Tables, problems []exam.StoredProblem, at model.Moment) *need {
	n := &need{t: t, told: contrary{t: t}, looks: care.MiteDays{}, checks: map[model.ID]bool{}}
	n.since, n.far = at.Day()-lookedBack(t), at.Day()-model.Day(t.Value(knowledge.ValueLosingFar))
	n.lately = at.Day() - model.Day(t.Value(knowledge.ValueEaseLately))
	for _, p := range problems {
		switch {
		case p.Open() && !p.Last().Check.IsZero():
			n.checks[p.Last().Check.ID] = true
		case WithoutWord(t, p, at):
			for _, check := range present(p) {
				n.checks[check.ID] = true
			}
		}
	}
	return n
}

// lookedBack is how many days back the rules look, whatever was noted.
func lookedBack(t *knowledge.Tables) model.Day {
	return model.Day(max(2*t.Value(knowledge.ValueRegurgitation), t.Value(knowledge.ValueLosingLast)+t.Value(knowledge.ValueLosingTo), t.Value(knowledge.ValueLosingFar), t.Value(knowledge.ValueEaseLately)))
}

// wants reports whether the document is one to be decoded.
func (n *need) wants(d model.Document) bool {
	if d.Type == model.TypeStay {
		return true
	}
	if d.Type != model.TypeEntry {
		return false
	}
	if d.Kind != exam.KindCheck {
		return d.Kind != care.KindNote && d.Kind != care.KindPhoto
	}
	wanted := !n.checked || n.checks[d.ID] || d.At.Day() >= n.since
	delete(n.checks, d.ID)
	return wanted
}

// learn takes one entry.
func (n *need) learn(e care.Entry) {
	switch body := e.Body.(type) {
	case care.Meal:
		if body.Outcome == care.Took {
			n.taken = append(n.taken, e.At)
		}
		if n.keeping.Keeps(n.t, e) {
			if n.kept = e.At.Day(); !n.meal { // a fast is held against the time before it
				n.meal, n.since = true, min(n.since, n.kept-model.Day(n.t.Value(knowledge.ValueLosingTo)))
			}
		}
		n.mass = n.mass && body.Outcome != care.Regurgitated
	case care.Weight:
		n.mass = true
	case care.Shed:
		if body.StuckEyeCaps != care.NotLooked {
			n.sheds++
		}
		n.caps = n.caps || body.StuckEyeCaps == care.No || n.sheds > 1
		n.mass = n.mass && body.StuckEyeCaps != care.Yes && body.StuckTailTip != care.Yes
	case care.Waste:
		n.waste = n.wasteSettled() // before this one, which says what stood before the others
		n.mass = n.mass && len(wasteFindings(n.t, body)) == 0
	case care.MiteLook:
		n.mass = n.mass && !body.Grade.Positive()
		grade, there := n.looks[e.At.Day()]
		n.looks.Add(e.At.Day(), body)
		now, is := n.looks[e.At.Day()]
		n.looked = n.looked && grade == now && there == is
	}
	n.told.learn(e)
}

// learnVisits takes the visits that were read: the newest of them last.
func (n *need) learnVisits(all []welfare.Entry) {
	if len(all) == 0 || n.counted {
		return
	}
	e := all[len(all)-1]
	o, _ := e.Body.(welfare.Observation)
	n.counted = o.Breaths != nil && e.At.Day() > n.lately
}

// findWeight looks for the newest weight that compares with others, once the meals are
// read that tell which do: it is judged with what lies before it, however old it is.
func (n *need) findWeight() {
	s := n.searched
	if n.weighed || s.weights == len(n.weights) && s.meals == len(n.taken) {
		return
	}
	from := s.weights
	if s.meals != len(n.taken) {
		from = s.decided
		if !s.half {
			s.enough = n.t.Value(knowledge.ValueFed)
			if usual, known := medianGap(n.t, slices.Values(n.taken)); known {
				s.enough = Records{}.daysAfterMeal(n.t, usual)
			}
		}
		if s.enough != n.searched.enough {
			from = 0
		}
		until := n.taken[0].Day() - model.Day(n.t.Value(knowledge.ValueLosingTo))
		s.half = s.half || n.taken[len(n.taken)-1].Day() < until
	}
	s.weights, s.meals = len(n.weights), len(n.taken)
	for i, w := range n.weights[from:] {
		var meal model.Moment
		if before := sort.Search(len(n.taken), func(i int) bool { return n.taken[i].Before(w.At) }); before < len(n.taken) {
			meal = n.taken[before]
		}
		decided := w.Gut != care.GutUnknown || !meal.IsZero()
		if decided && !w.Doubtful && compares(w, meal, s.enough) {
			n.weighed, n.since = true, min(n.since, w.At.Day()-model.Day(n.t.Value(knowledge.ValueLosingFar)))
			return
		}
		if decided && s.decided == from+i {
			s.decided++
		}
	}
	n.searched = s
}

// search is how far the newest weight that compares with others was looked for.
type search struct {
	weights, meals int  // among so many
	decided        int  // so many weights, the newest, that no older meal says more of
	enough         int  // days after a meal
	half           bool // the meals of half a year were read, which tell how many days that are
}

// fedBefore reports whether a meal kept of before all that was looked for is read, which
// tells whether the animal fasted then, or so many days without one.
func (n *need) fedBefore(day model.Day) bool {
	return day < n.since-model.Day(n.t.Value(knowledge.ValueLosingTo)) || n.meal && n.kept < n.since
}

// wasteSettled reports whether newer entries have told of every finding, or
// ended it.
func (n *need) wasteSettled() bool {
	for _, f := range traceable(n.t) {
		if !n.told.ended(f) {
			return false
		}
	}
	return true
}

// met reports whether nothing older than that day is needed.
func (n *need) met(day model.Day) bool {
	if day < n.since && n.meal {
		n.findWeight()
	}
	return day < n.since && !n.counted && n.fedBefore(day) && n.checked && len(n.checks) == 0 && n.meal && n.mass && len(n.weights) > 1 && (n.weighed || day < n.far) && n.caps && n.told.tip && n.waste
}

// watched reports whether no older look for mites changes what is watched for, nor what
// their signs say: one that nobody answered speaks, however old it is.
func (n *need) watched() bool {
	if !n.looked {
		n.looked, n.decided = true, n.looks.Decided(n.t)
	}
	return n.decided
}

// mites reports whether the document is a look for mites or a treatment against them,
// which are read beyond all else.
func mites(d model.Document) bool {
	return d.Type == model.TypeEntry && (d.Kind == care.KindMiteLook || d.Kind == care.KindMiteTreatment)
}
