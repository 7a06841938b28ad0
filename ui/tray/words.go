package tray

import (
	"errors"
	"slices"
	"strings"

	"coilward/model"
	"coilward/model/knowledge"
	"coilward/model/people"
	"coilward/model/samples"
	"coilward/model/wording"
	"coilward/ui/widgets/tubes"
)

// words put the tray into words.
type words struct {
	*wording.Text
	tables *knowledge.Tables
	tray   *Tray
}

// names are the names of a sample's animals; those that are no longer known are
// said to be so.
func (w words) names(of []model.AnimalID) string {
	var all []string
	for _, id := range of {
		name, known := w.tray.names[id]
		if !known {
			name = w.Say("tray.animal-gone")
		}
		all = append(all, name)
	}
	return strings.Join(all, ", ")
}

// unread says which samples are left out: those that a newer version of the program
// wrote, and those that cannot be read.
func (w words) unread() (said []string) {
	const most = 3
	for _, key := range []string{"tray.unread-newer", "tray.unread-some"} {
		var which []string
		count := 0
		for _, err := range w.tray.Unread {
			var one *samples.Illegible
			if errors.Is(err, model.ErrNewer) != (key == "tray.unread-newer") || !errors.As(err, &one) {
				continue
			}
			if count++; count > most {
				continue
			}
			named := []string{w.DayShort(one.At.Day())}
			if len(one.Animals) > 0 {
				named = append([]string{w.names(one.Animals)}, named...)
			}
			which = append(which, strings.Join(named, ", "))
		}
		if count > most {
			which = append(which, "…")
		}
		if count > 0 {
			said = append(said, w.Count(key, count, map[string]any{"Which": strings.Join(which, "; ")}))
		}
	}
	return said
}

func (w words) called(s Sample) string {
	if s.Kit.Number == "" {
		return w.names(s.Animals)
	}
	return w.names(s.Animals) + " · " + s.Kit.Number
}

func (w words) agent(id knowledge.AgentID) string { return w.Say("agent." + string(id)) }

func (w words) material(id knowledge.MaterialID) string { return w.Say("material." + string(id)) }

// reach says what "not detected" of a thing in the material that was chosen would leave
// open; where it would say nothing, also which materials would speak.
func (w words) reach(of knowledge.AgentID, in knowledge.MaterialID) string {
	open, leaves := samples.Reach(w.tables, of, in)
	switch {
	case in == "" || !leaves:
		return ""
	case !w.tables.Silent(of, in):
		return w.agent(of) + ": " + w.Label(open)
	}
	var speak []string
	for _, m := range w.tables.SpeakOf(of) {
		speak = append(speak, w.material(m))
	}
	if len(speak) == 0 {
		return w.agent(of) + ": " + w.Label(open)
	}
	return w.Say("tray.silent", map[string]any{"Agent": w.agent(of), "Materials": strings.Join(speak, ", ")})
}

func (w words) agents(all []knowledge.AgentID) string {
	var said []string
	for _, a := range all {
		said = append(said, w.agent(a))
	}
	return strings.Join(said, ", ")
}

// outcome is an outcome in words.
func (w words) outcome(o samples.Outcome) string {
	if o == samples.Pending {
		return w.Say("samples.outcome.pending")
	}
	return w.Say("samples.outcome." + string(o))
}

func (w words) person(id model.PersonID) string {
	if id.IsZero() {
		return ""
	}
	if p, known := w.tray.person[id]; known {
		return p.Name
	}
	return w.Say("people.removed")
}

// told is how a sample stands, in few words, and by which sign.
func (w words) told(s Sample) (line string, sign tubes.Sign) {
	said := func(o samples.Outcome, of []knowledge.AgentID) string {
		if len(s.For) == 1 {
			return w.outcome(o)
		}
		return w.outcome(o) + ": " + w.agents(of)
	}
	if found := s.With(samples.Detected); len(found) > 0 {
		return said(samples.Detected, found), tubes.Found
	}
	if s.Way.Stage == samples.Reported {
		for _, o := range []samples.Outcome{samples.Inconclusive, samples.Inhibited, samples.NotDone} {
			if of := s.With(o); len(of) > 0 {
				return said(o, of), tubes.NoAnswer
			}
		}
		speaks := slices.DeleteFunc(s.With(samples.NotDetected), func(of knowledge.AgentID) bool { return !samples.Speaks(w.tables, s.Sample, of) })
		switch len(speaks) {
		case 0:
			return w.Say("tray.says-nothing"), tubes.NoAnswer
		case len(s.For):
			return w.outcome(samples.NotDetected), tubes.NotFound
		}
		return said(samples.NotDetected, speaks), tubes.NotFound
	}
	if len(w.tray.overtaken[s.ID]) > 0 {
		return w.Say("tray.overtaken"), tubes.Late
	}
	if s.Way.Ahead {
		return w.round(s) + ", " + w.DayShort(s.Way.Since), tubes.Ahead
	}
	if s.Way.Late {
		return w.Count("tray.late-by", int(w.tray.Today-s.Way.Mark)), tubes.Late
	}
	if taker, known := w.tray.person[s.TakenBy]; known && s.Way.Stage == samples.ToTake && taker.Is(people.Vet) {
		return w.Say("tray.vet-takes"), tubes.OnWay
	}
	return w.agents(s.For), tubes.OnWay
}

// round is the round of a plan that a sample is laid out for.
func (w words) round(s Sample) string {
	return w.Say("tray.round", map[string]any{"Round": s.Planned.Round, "Of": s.Planned.Of})
}

// tube is a sample in the tray.
func (w words) tube(s Sample, chosen bool) tubes.Tube {
	t := tubes.Tube{Key: s.ID.String(), Name: w.names(s.Animals), Days: int(w.tray.Today - s.Way.Since), Chosen: chosen}
	if s.Way.Mark > 0 {
		t.Mark = int(s.Way.Mark - s.Way.Since)
	}
	if s.Way.Next != "" {
		t.Act = w.Say("samples.act." + string(s.Way.Next))
	}
	t.Line, t.Sign = w.told(s)
	if s.Way.Ahead {
		t.Days, t.Mark = int(s.Way.Since-w.tray.Today), 0
	}
	t.Tip = w.called(s) + ": " + w.material(s.Material) + ", " + w.agents(s.For) + "; " + w.Say("samples.stage."+string(s.Way.Stage)) + ", " + w.Ago(s.Way.Since, w.tray.Today) + " (" + w.DayShort(s.Way.Since) + ")"
	return t
}

// stages are the bands of the tray, in their order.
func stages() []samples.Stage {
	return []samples.Stage{samples.ToTake, samples.Taken, samples.Sent, samples.AtLab, samples.Reported}
}

// ahead is the band of what is laid out for days ahead; ok is false where there is none.
func (w words) ahead(chosen map[model.SampleID]bool) (b tubes.Band, ok bool) {
	b.Title, b.Note = w.Say("tray.stage.ahead"), w.Say("tray.ahead")
	for _, s := range w.tray.Samples {
		if s.Way.Ahead {
			b.Tubes = append(b.Tubes, w.tube(s, chosen[s.ID]))
		}
	}
	b.Below = w.Count("tray.count", len(b.Tubes))
	return b, len(b.Tubes) > 0
}

// Bands are the stages with their tubes; before them what is laid out ahead.
func (w words) bands(chosen map[model.SampleID]bool) (bands []tubes.Band) {
	if b, any := w.ahead(chosen); any {
		bands = append(bands, b)
	}
	for _, stage := range stages() {
		b := tubes.Band{Title: w.Say("tray.stage." + string(stage))}
		marks := map[int]int{}
		for _, s := range w.tray.Samples {
			if s.Way.Stage != stage || s.Way.Ahead || !s.Lies(w.tray.Today) {
				continue
			}
			t := w.tube(s, chosen[s.ID])
			marks[t.Mark]++
			b.Tubes = append(b.Tubes, t)
		}
		for mark, n := range marks {
			if mark > 0 && (n > marks[b.Mark] || b.Mark == 0 || n == marks[b.Mark] && mark < b.Mark) {
				b.Mark = mark
			}
		}
		if b.Mark > 0 {
			b.MarkSaid = w.Count("tray.mark."+string(stage), b.Mark)
		}
		if slices.ContainsFunc(b.Tubes, func(t tubes.Tube) bool { return t.Sign == tubes.NotFound }) {
			b.Note = w.Say("tray.not-proof")
		}
		if len(b.Tubes) > 0 {
			b.Below = w.Count("tray.count", len(b.Tubes))
		}
		bands = append(bands, b)
	}
	return bands
}
