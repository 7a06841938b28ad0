package demo

import (
	"fmt"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/body"
	"coilward/model/care"
	"coilward/model/exam"
	"coilward/model/history"
	"coilward/model/knowledge"
)

// walk is one check of the story.
type walk struct {
	ago   int
	finds []find
	// earlier says how open findings stand; what it does not name is the same.
	earlier map[knowledge.FindingID]exam.Standing
	mouth   exam.Look // of mouth and airway; the zero value: not opened
	skips   []knowledge.StopID
	quick   bool // a brief look
	gravid  bool // she carries eggs
	standIn bool // done by who stands in
	vet     []vetWord
}

// vetWord is what a vet said after a walk, with which a finding is done with.
type vetWord struct {
	ago  int
	what knowledge.FindingID
	word string
}

// find is one finding of a walk.
type find struct {
	stop     knowledge.StopID
	what     knowledge.FindingID
	place    body.Place
	grade    exam.Grade
	tenths   int64 // of a millimetre across
	note     string
	baseline bool
}

func trunk(percent, angle int) body.Place { return body.OnTrunk(percent*100, angle) }

// in is the place in the middle of a region.
func in(region body.RegionID) body.Place {
	place, _ := body.In(region)
	return place
}

func (s *scenario) brambleChecks() []walk {
	return []walk{
		{ago: 1000}, {ago: 880, mouth: exam.LeftToVet}, {ago: 760}, {ago: 640, finds: []find{{stop: "belly", what: "sore", place: trunk(66, 165), grade: exam.Slight, tenths: 60, note: s.say("demo.note.warm-end")}}},
		{ago: 626, earlier: standing("sore", exam.Better)}, {ago: 610, earlier: standing("sore", exam.Gone), vet: []vetWord{{604, "sore", s.say("demo.vet.sore")}}},
		{ago: 500}, {ago: clutch + 25, gravid: true}, {ago: 380}, {ago: 260, standIn: true}, {ago: 150},
		{ago: 64, finds: []find{{stop: "skin", what: "scar", place: trunk(58, -20), grade: exam.Slight, tenths: 140, note: s.say("demo.note.scar")}}},
		{ago: 8},
	}
}

func (s *scenario) kestrelChecks() []walk {
	return []walk{{ago: 990}, {ago: 810}, {ago: 600}, {ago: 420, quick: true}, {ago: 240}, {ago: 110, standIn: true}, {ago: 41, quick: true}}
}

// juniperChecks: shed that stays on in one place, and now a lump and a sore.
func (s *scenario) juniperChecks() []walk {
	shed := func(grade exam.Grade, tenths int64) find {
		return find{stop: "skin", what: "stuck-shed", place: trunk(37, 62), grade: grade, tenths: tenths}
	}
	return []walk{
		{ago: 960}, {ago: 700}, {ago: 420, finds: []find{shed(exam.Slight, 220)}}, {ago: 400, earlier: standing("stuck-shed", exam.Gone)},
		{ago: 250}, {ago: 120, finds: []find{shed(exam.Marked, 180)}}, {ago: 90, earlier: standing("stuck-shed", exam.Better)},
		{ago: 62, earlier: standing("stuck-shed", exam.Gone)}, {ago: 34},
		{ago: 2, finds: []find{{stop: "third-hind", what: "lump", place: trunk(74, 172), grade: exam.Slight, tenths: 120, note: s.say("demo.note.lump")}}},
		{ago: 1, finds: []find{{stop: "skin", what: "sore", place: trunk(31, -70), grade: exam.Marked, tenths: 80, note: s.say("demo.note.scab")}}},
	}
}

func (s *scenario) mallowChecks() []walk {
	return []walk{{ago: 860}, {ago: 640, mouth: exam.LeftToVet}, {ago: 470}, {ago: 300}, {ago: 180, mouth: exam.Seen}, {ago: 75}, {ago: 16, mouth: exam.LeftToVet}}
}

// teaselChecks: an eye cap stayed on at the last shed.
func (s *scenario) teaselChecks() []walk {
	cap := find{stop: "eye-left", what: "stuck-eye-cap", place: in(body.EyeLeft), grade: exam.Slight, note: s.say("demo.note.eye-cap")}
	return []walk{{ago: 820}, {ago: 600}, {ago: 420}, {ago: 260}, {ago: 130}, {ago: 52}, {ago: stuckCap, finds: []find{cap}}}
}

// heronChecks: what he came with is written down as his own.
func (s *scenario) heronChecks() []walk {
	return []walk{{ago: 690, finds: []find{{stop: "tail", what: "kink", place: body.OnTail(4200, 0), grade: exam.Slight, note: s.say("demo.note.kink"), baseline: true},
		{stop: "skin", what: "scar", place: trunk(44, 35), grade: exam.Slight, tenths: 310, note: s.say("demo.note.burn")}}},
		{ago: 643, mouth: exam.LeftToVet}, {ago: 510}, {ago: 330}, {ago: 190}, {ago: 58, skips: []knowledge.StopID{"spurs"}}}
}

// linnetChecks: a rubbed nose heals, and comes back in its place.
func (s *scenario) linnetChecks() []walk {
	return []walk{{ago: 537, mouth: exam.LeftToVet}, {ago: 430, mouth: exam.LeftToVet}, {ago: 320}, {ago: 200}, {ago: 90, finds: []find{{stop: "snout", what: "nose-rub", place: in(body.Snout), grade: exam.Slight, tenths: 30, note: s.say("demo.note.hide-edge")}}}, {ago: 83, earlier: standing("nose-rub", exam.Better)}, {ago: 69, earlier: standing("nose-rub", exam.Gone)}, {ago: 20},
		{ago: 4, finds: []find{{stop: "snout", what: "nose-rub", place: in(body.Snout), grade: exam.Slight, tenths: 20, note: s.say("demo.note.again")}}}}
}

// sorrelChecks: a sound and a bubble, two days ago.
func (s *scenario) sorrelChecks() []walk {
	return []walk{{ago: 600}, {ago: 380}, {ago: 160}, {ago: 2, finds: []find{
		{stop: "rest", what: "sound", grade: exam.Slight, note: s.say("demo.note.click")},
		{stop: "snout", what: "nostril-discharge", place: in(body.NostrilRight), grade: exam.Marked, note: s.say("demo.note.bubble")},
	}}}
}

// ploverChecks: mites came in with the newest, went, and a vet has said a word of it.
func (s *scenario) ploverChecks() []walk {
	return []walk{
		{ago: 22, mouth: exam.LeftToVet, finds: []find{{stop: "chin", what: "mites", place: in(body.Chin), grade: exam.Slight, note: s.say("demo.note.mites")}, {stop: "tail-tip", what: "shed-ring", place: in("tail-tip"), grade: exam.Slight}}},
		{ago: 15, earlier: map[knowledge.FindingID]exam.Standing{"mites": exam.Better, "shed-ring": exam.Same}},
		{ago: 7, earlier: map[knowledge.FindingID]exam.Standing{"mites": exam.Gone, "shed-ring": exam.Gone}, vet: []vetWord{{5, "mites", s.say("demo.vet.mites")}}},
	}
}

// yarrowChecks and wigeonChecks: nothing was found on the two in the boathouse.
func (s *scenario) yarrowChecks() []walk {
	return []walk{{ago: 73, mouth: exam.LeftToVet}, {ago: 40}, {ago: 8, mouth: exam.LeftToVet}}
}

func (s *scenario) wigeonChecks() []walk {
	return []walk{{ago: 31, mouth: exam.LeftToVet}, {ago: 6}}
}

func (s *scenario) thistleChecks() []walk {
	return []walk{{ago: 840, finds: []find{{stop: "rest", what: "nerves", grade: exam.Slight, note: s.say("demo.note.wobble"), baseline: true}}}, {ago: 560}, {ago: 330}, {ago: 120}, {ago: 96, mouth: exam.LeftToVet}}
}

func standing(what knowledge.FindingID, s exam.Standing) map[knowledge.FindingID]exam.Standing {
	return map[knowledge.FindingID]exam.Standing{what: s}
}

// check walks an animal from snout to tail tip, key by key.
func (s *scenario) check(id model.AnimalID, k walk) error {
	begun := s.at(k.ago, 18, 40)
	beginning, err := s.beginning(id, begun)
	if err != nil {
		return err
	}
	beginning.Context.Gravid = k.gravid
	draft := exam.Begin(s.tables, beginning)
	pace := int64(9)
	if k.quick {
		pace = 0
	}
	at := begun
	for !draft.AtEnd() {
		at.UTC += pace
		if draft, err = s.stop(draft, k, at); err != nil {
			return fmt.Errorf("check %d days ago: %w", k.ago, err)
		}
	}
	by := s.people[keeper]
	if k.standIn {
		by = s.people[standIn]
	}
	at.UTC += 5
	if err := s.do(exam.Finish{Tables: s.tables, Draft: draft, By: by, At: at}); err != nil {
		return err
	}
	for _, w := range k.vet {
		if err := s.close(id, w); err != nil {
			return err
		}
	}
	return nil
}

// close tells what a vet said of a finding.
func (s *scenario) close(id model.AnimalID, w vetWord) error {
	problems, err := exam.Problems(s.bench, id)
	if err != nil {
		return err
	}
	for _, p := range problems {
		if p.What == w.what {
			return s.do(exam.Close{Problem: p.ID, At: s.at(w.ago, 16, 20), Note: w.word})
		}
	}
	return fmt.Errorf("close %s: %w", w.what, model.ErrNotFound)
}

// beginning is what is known of the animal when its check begins: the same that
// the window begins a check with.
func (s *scenario) beginning(id model.AnimalID, at model.Moment) (exam.Beginning, error) {
	animal, err := animals.Find(s.bench, id)
	if err != nil {
		return exam.Beginning{}, err
	}
	records, err := s.records(animal, at)
	if err != nil {
		return exam.Beginning{}, err
	}
	problems, err := exam.Problems(s.bench, id)
	if err != nil {
		return exam.Beginning{}, err
	}
	standing := records.Stand(s.tables, problems, at)
	return exam.Beginning{
		Check: model.EntryID{ID: s.bench.NewID()}, Animal: id, At: at, Problems: problems,
		Context: records.Context, Sheds: records.Sheds, StuckCaps: records.StuckCaps(),
		VetBy: standing.VetFor(), Noted: standing.VetNoted(),
	}, nil
}

// records are the records of an animal up to a moment. What lies on the bench does
// not change, so each entry and check is decoded once.
func (s *scenario) records(animal animals.Stored, at model.Moment) (history.Records, error) {
	var entries []care.Entry
	var checks []exam.StoredCheck
	var failed error
	err := s.bench.Timeline(animal.ID.Subject(), model.Beginning, at.UTC+1, func(d model.Document) bool {
		if d.Kind == exam.KindCheck {
			c, known := s.walked[d.ID]
			if !known {
				c = exam.StoredCheck{ID: model.EntryID{ID: d.ID}, By: d.By}
				if c.Check, failed = exam.ReadCheck(d); failed != nil {
					return false
				}
				s.walked[d.ID] = c
			}
			checks = append(checks, c)
			return true
		}
		e, known := s.decoded[d.ID]
		if !known {
			var ours bool
			if e, ours, failed = care.Decode(d); failed != nil {
				return false
			}
			if !ours {
				e = care.Entry{}
			}
			s.decoded[d.ID] = e
		}
		if e.Body != nil {
			entries = append(entries, e)
		}
		return true
	})
	if err == nil {
		err = failed
	}
	if err != nil {
		return history.Records{}, fmt.Errorf("read the records of %s: %w", animal.Name, err)
	}
	return history.Made(s.tables, history.WhoseOf(animal), entries, checks, at), nil
}

// stop answers the stop that the walk stands at.
func (s *scenario) stop(d exam.Draft, k walk, at model.Moment) (exam.Draft, error) {
	id, _ := d.Stop()
	for i, asking := d.Asking(); asking; i, asking = d.Asking() {
		how := k.earlier[d.Earlier[i].What]
		if how == exam.Unasked {
			how = exam.Same
		}
		d = d.AnswerEarlier(i, how, at)
	}
	for _, f := range k.finds {
		if f.stop == id {
			d = s.note(d, f, at)
		}
	}
	for _, skipped := range k.skips {
		if skipped == id {
			return d.Press(s.tables, exam.KeyNotLooked, at)
		}
	}
	if stop, _ := s.tables.Stop(id); stop.Way == knowledge.Opened {
		switch k.mouth {
		case exam.LeftToVet:
			return d.Press(s.tables, exam.KeyVet, at)
		case exam.Seen:
			return d.Press(s.tables, exam.KeyOther, at)
		}
	}
	return d.Press(s.tables, exam.KeyEnter, at)
}

func (s *scenario) note(d exam.Draft, f find, at model.Moment) exam.Draft {
	if f.place != (body.Place{}) {
		d = d.Point(f.place)
	}
	d = d.Mark(s.tables, f.what, at)
	i := len(d.Findings) - 1
	noted := d.Findings[i]
	noted.Grade, noted.Note, noted.Baseline = f.grade, f.note, f.baseline
	if f.tenths > 0 {
		noted.Size = model.Length{Tenths: f.tenths, Typed: s.words.Decimal(f.tenths, 1) + " mm"}
	}
	return d.ChangeFinding(i, noted)
}
