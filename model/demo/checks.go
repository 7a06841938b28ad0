package demo

import (
	"fmt"

	"coilward/model"
	"coilward/model/body"
	"coilward/model/exam"
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
	standIn bool // done by who stands in
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

func (s *scenario) brambleChecks() []walk {
	return []walk{
		{ago: 1000}, {ago: 880, mouth: exam.LeftToVet}, {ago: 760}, {ago: 640, finds: []find{{stop: "belly", what: "sore", place: trunk(66, 165), grade: exam.Slight, tenths: 60, note: s.say("demo.note.warm-end")}}},
		{ago: 626, earlier: standing("sore", exam.Better)}, {ago: 610, earlier: standing("sore", exam.Gone)},
		{ago: 500}, {ago: 380}, {ago: 260, standIn: true}, {ago: 150},
		{ago: 64, finds: []find{{stop: "skin", what: "scar", place: trunk(58, -20), grade: exam.Slight, tenths: 140, note: s.say("demo.note.scar")}}},
		{ago: 8},
	}
}

func (s *scenario) kestrelChecks() []walk {
	return []walk{{ago: 990}, {ago: 810}, {ago: 600}, {ago: 420, quick: true}, {ago: 240}, {ago: 110, standIn: true}, {ago: 41, quick: true}}
}

func (s *scenario) juniperChecks() []walk {
	shed := func(grade exam.Grade, tenths int64) find {
		return find{stop: "skin", what: "stuck-shed", place: trunk(37, 62), grade: grade, tenths: tenths}
	}
	return []walk{
		{ago: 960}, {ago: 700}, {ago: 420, finds: []find{shed(exam.Slight, 220)}}, {ago: 400, earlier: standing("stuck-shed", exam.Gone)},
		{ago: 250}, {ago: 120, finds: []find{shed(exam.Marked, 180)}},
		{ago: 90, earlier: standing("stuck-shed", exam.Better), finds: []find{{stop: "third-hind", what: "lump", place: trunk(74, 172), grade: exam.Slight, tenths: 120, note: s.say("demo.note.lump")}}},
		{ago: 62, earlier: standing("stuck-shed", exam.Gone)},
		{ago: 34},
		{ago: 5, finds: []find{{stop: "skin", what: "sore", place: trunk(31, -70), grade: exam.Marked, tenths: 80, note: s.say("demo.note.scab")}}},
	}
}

func (s *scenario) mallowChecks() []walk {
	return []walk{{ago: 860}, {ago: 640, mouth: exam.LeftToVet}, {ago: 470}, {ago: 300}, {ago: 180, mouth: exam.Seen}, {ago: 75}, {ago: 16, mouth: exam.LeftToVet}}
}

func (s *scenario) teaselChecks() []walk {
	cap := find{stop: "eye-left", what: "stuck-eye-cap", grade: exam.Slight, note: s.say("demo.note.eye-cap")}
	return []walk{{ago: 820}, {ago: 600}, {ago: 420}, {ago: 260}, {ago: 130}, {ago: 74, finds: []find{cap}}, {ago: 52}, {ago: 12}}
}

func (s *scenario) heronChecks() []walk {
	return []walk{{ago: 690, finds: []find{{stop: "tail", what: "kink", place: body.OnTail(4200, 0), grade: exam.Slight, note: s.say("demo.note.kink"), baseline: true}}}, {ago: 510}, {ago: 330}, {ago: 190}, {ago: 58, skips: []knowledge.StopID{"spurs"}}}
}

func (s *scenario) linnetChecks() []walk {
	return []walk{{ago: 530}, {ago: 430}, {ago: 320}, {ago: 200}, {ago: 90, finds: []find{{stop: "snout", what: "nose-rub", grade: exam.Slight, tenths: 30}}}, {ago: 69, earlier: standing("nose-rub", exam.Better)}, {ago: 20, earlier: standing("nose-rub", exam.Gone)}}
}

func (s *scenario) sorrelChecks() []walk {
	return []walk{{ago: 600}, {ago: 380}, {ago: 160}, {ago: 3, finds: []find{
		{stop: "rest", what: "sound", grade: exam.Slight, note: s.say("demo.note.click")},
		{stop: "snout", what: "nostril-discharge", grade: exam.Marked, note: s.say("demo.note.bubble")},
	}}}
}

func (s *scenario) ploverChecks() []walk {
	return []walk{
		{ago: 22, finds: []find{{stop: "chin", what: "mites", grade: exam.Slight, note: s.say("demo.note.mites")}, {stop: "tail-tip", what: "shed-ring", grade: exam.Slight}}},
		{ago: 15, earlier: map[knowledge.FindingID]exam.Standing{"mites": exam.Better, "shed-ring": exam.Same}},
		{ago: 7, earlier: map[knowledge.FindingID]exam.Standing{"mites": exam.Gone, "shed-ring": exam.Gone}, skips: []knowledge.StopID{"third-middle"}},
	}
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
	problems, err := exam.Problems(s.bench, id)
	if err != nil {
		return err
	}
	draft := exam.Begin(s.tables, exam.Beginning{Check: model.EntryID{ID: s.bench.NewID()}, Animal: id, At: begun, Problems: problems})
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
	by := s.people[0]
	if k.standIn {
		by = s.people[1]
	}
	at.UTC += 5
	return s.do(exam.Finish{Tables: s.tables, Draft: draft, By: by, At: at})
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
		noted.Size = model.Length{Tenths: f.tenths, Typed: fmt.Sprintf("%g mm", float64(f.tenths)/10)}
	}
	noted.Rough = false
	return d.ChangeFinding(i, noted)
}
