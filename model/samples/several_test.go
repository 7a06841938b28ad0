package samples_test

import (
	"encoding/json"
	"errors"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/knowledge"
	"coilward/model/samples"
)

// count is how many samples there are.
func (b *bench) count() (n int) {
	b.Helper()
	if err := b.View(func(v model.View) error {
		all, err := samples.All(v)
		n = len(all)
		return err
	}); err != nil {
		b.Fatal(err)
	}
	return n
}

// kits are samples with a number each, of these animals.
func (b *bench) kits(of ...model.AnimalID) (all []samples.On) {
	b.Helper()
	c := samples.Prepare{Tables: b.tables}
	for i, a := range of {
		s := plain()
		s.Kit.Number = string(rune('a' + i))
		c.Each = append(c.Each, samples.New{Animals: []model.AnimalID{a}, Sample: s})
	}
	done, err := b.Do(c)
	if err != nil {
		b.Fatal(err)
	}
	for _, id := range done.Documents {
		all = append(all, samples.On{ID: model.SampleID{ID: id}, Base: 1})
	}
	return all
}

// now are the samples with their present revisions.
func (b *bench) now(of []samples.On) []samples.On {
	b.Helper()
	of = slices.Clone(of)
	for i := range of {
		of[i].Base = b.read(of[i].ID).Revision
	}
	return of
}

func next(of []samples.On) []samples.On {
	later := slices.Clone(of)
	for i := range later {
		later[i].Base++
	}
	return later
}

// Many go one way by one command each, and one undo takes a whole step back.
func TestSeveral(t *testing.T) {
	b := begin(t)
	of := b.kits(b.juno, b.brook, b.juno)
	if of[0].ID == of[1].ID || b.count() != 3 {
		t.Fatalf("%d samples", b.count())
	}
	stage := func(want samples.Stage) {
		t.Helper()
		for _, o := range of {
			b.stage(o.ID, want)
		}
	}
	b.do(samples.Take{Tables: b.tables, Of: of, At: ago(12)})
	stage(samples.Taken)
	b.do(samples.Post{Tables: b.tables, Of: next(of), At: ago(11), Lab: b.lab, Courier: "by bicycle", Tracking: "12"})
	stage(samples.Sent)
	if _, err := b.Undo(); err != nil {
		t.Fatal(err)
	}
	stage(samples.Taken)
	of = b.now(of)
	b.do(samples.Post{Tables: b.tables, Of: of, At: ago(11), Lab: b.lab})
	of = b.now(of)
	b.do(samples.Arrive{Tables: b.tables, Of: of, At: ago(10)})
	stage(samples.AtLab)
	of = next(of)
	b.do(samples.Ask{Tables: b.tables, Of: of, Asked: samples.Asked{At: ago(3), Note: "next week"}})
	of = next(of)
	c := samples.Enter{Tables: b.tables, At: ago(2), Number: "R-7", Photos: []model.PhotoID{"0a"}}
	for _, o := range of {
		c.Rows = append(c.Rows, samples.Row{On: o, Found: []samples.Found{{Of: serpento, Outcome: samples.NotDetected}, {Of: crypto, Outcome: samples.Inhibited, Note: "brown"}}})
	}
	b.do(c)
	stage(samples.Reported)
	for _, o := range of {
		s := b.read(o.ID)
		if s.Results[0].Report != "R-7" || s.Results[1].Note != "brown" || s.Results[1].At != ago(2) || len(s.Results[0].Photos) != 1 || len(s.Asked) != 1 || s.Asked[0].Note != "next week" {
			t.Errorf("%+v", s)
		}
	}
	if _, err := b.Undo(); err != nil {
		t.Fatal(err)
	}
	stage(samples.AtLab)
}

// One that cannot stand keeps all of them as they were, and is named.
func TestSeveralRefused(t *testing.T) {
	b := begin(t)
	of := b.kits(b.juno, b.brook)
	b.do(samples.Take{Tables: b.tables, Of: of[1:], At: ago(5)})
	_, err := b.Do(samples.Take{Tables: b.tables, Of: []samples.On{of[0], next(of)[1]}, At: ago(4)})
	var at *samples.Of
	var r *model.Refusal
	if !errors.As(err, &at) || !errors.As(err, &r) || r.Reason != "sample.already" || !slices.Equal(at.Animals, []model.AnimalID{b.brook}) {
		t.Errorf("%v", err)
	}
	b.stage(of[0].ID, samples.ToTake)
	same := plain()
	same.Kit.Number = "z"
	two := samples.New{Animals: []model.AnimalID{b.juno}, Sample: same}
	for want, c := range map[string]model.Command{
		"sample.none":     samples.Post{Tables: b.tables, At: ago(1)},
		"sample.many":     samples.Prepare{Tables: b.tables, Each: make([]samples.New, samples.MaxMany+1)},
		"sample.twice":    samples.Take{Tables: b.tables, Of: []samples.On{of[0], of[0]}, At: ago(1)},
		"sample.kit-used": samples.Prepare{Tables: b.tables, Each: []samples.New{two, two}},
		"sample.not-gone": samples.Ask{Tables: b.tables, Of: next(of)[1:], Asked: samples.Asked{At: ago(1)}},
		"sample.nobody":   samples.Prepare{Tables: b.tables, Each: []samples.New{{Sample: plain()}}},
		"text.empty":      samples.Enter{Tables: b.tables, At: ago(1), Rows: row(of[1].ID, 2)},
	} {
		if got := b.refused(c); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	if b.count() != 2 {
		t.Error("a refused command left a sample behind")
	}
}

// The lab is asked only for what went to it and is not answered. Source: common practice, no source.
func TestAsk(t *testing.T) {
	b := begin(t)
	s := plain()
	s.Taken, s.Posted, s.Arrived = ago(20), ago(19), ago(15)
	id := b.prepared(s, b.juno)
	ask := func(base uint32, at model.Moment) model.Command {
		return samples.Ask{Tables: b.tables, Of: []samples.On{{ID: id, Base: base}}, Asked: samples.Asked{At: at}}
	}
	for want, c := range map[string]model.Command{"day.empty": ask(1, model.Moment{}), "day.future": ask(1, ago(-2)), "sample.order": ask(1, ago(20))} {
		if got := b.refused(c); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	b.do(ask(1, ago(17))) // on its way already
	b.do(ask(2, ago(1)))
	b.do(samples.Change{Tables: b.tables, ID: id, Base: 3, Animals: []model.AnimalID{b.juno}, Sample: s})
	if got := b.read(id); len(got.Asked) != 2 {
		t.Errorf("%d times asked after a change, want 2", len(got.Asked))
	}
	b.do(samples.Enter{Tables: b.tables, At: ago(1), Rows: row(id, 4, samples.Found{Of: serpento, Outcome: samples.NotDone}, samples.Found{Of: crypto, Outcome: samples.NotDone})})
	if got := b.refused(ask(5, ago(1))); got != "sample.has-all" {
		t.Errorf("asked for what is in: %q", got)
	}
}

// Nothing but a result that can speak speaks. Sources: reptarenavirus in pythons may be
// in the brain only, Stenglein et al. 2017 J Virol; serpentovirus, swabs of the mouth,
// Hoon-Hanks et al. 2018 Virology 517:77; C. serpentis, Graczyk, Owens & Cranfield 1996
// Vet Parasitol 67:143; ferlavirus, BMC Vet Res 2019 and Animals 2023;13:2714; worms,
// faeces, Vet Rec 2011 vr.d4398. Where no source found a thing, nothing is said of it.
func TestSpeaks(t *testing.T) {
	tables := begin(t).tables
	const reptarena knowledge.AgentID = "reptarenavirus"
	for _, c := range []struct {
		of      knowledge.AgentID
		in      knowledge.MaterialID
		outcome samples.Outcome
		want    bool
	}{
		{serpento, swab, samples.NotDetected, true}, {serpento, swab, samples.Detected, true}, {serpento, swab, samples.Pending, false},
		{serpento, swab, samples.Inconclusive, false}, {serpento, swab, samples.Inhibited, false}, {serpento, swab, samples.NotDone, false},
		{reptarena, swab, samples.NotDetected, false}, {reptarena, "blood", samples.NotDetected, false}, {reptarena, "tissue", samples.NotDetected, true}, {reptarena, "blood", samples.Detected, true},
		{serpento, "shed-skin", samples.NotDetected, false}, {serpento, "faeces", samples.NotDetected, false}, {serpento, "blood", samples.NotDetected, false},
		{serpento, "stomach-lavage", samples.NotDetected, false}, {serpento, "tissue", samples.NotDetected, false}, {serpento, "shed-skin", samples.Detected, true},
		{serpento, "oral-swab", samples.NotDetected, true}, {serpento, "oesophageal-swab", samples.NotDetected, true},
		{"ferlavirus", "tracheal-wash", samples.NotDetected, true}, {"ferlavirus", "cloacal-swab", samples.NotDetected, true}, {"ferlavirus", "faeces", samples.NotDetected, false},
		{"cryptosporidium-serpentis", "stomach-lavage", samples.NotDetected, true}, {"cryptosporidium-serpentis", "cloacal-swab", samples.NotDetected, true},
		{"cryptosporidium-serpentis", "oral-swab", samples.NotDetected, false}, {"cryptosporidium-serpentis", "blood", samples.NotDetected, false},
		{"worms-and-protozoa", "faeces", samples.NotDetected, true}, {"worms-and-protozoa", "oral-swab", samples.NotDetected, false},
	} {
		s := samples.Sample{Material: c.in, For: []knowledge.AgentID{c.of}}
		if c.outcome != samples.Pending {
			s.Results = []samples.Result{{Of: c.of, Outcome: c.outcome}}
		}
		if got := samples.Speaks(tables, s, c.of); got != c.want {
			t.Errorf("%s in %s, %q: %t", c.of, c.in, c.outcome, got)
		}
		if c.of != crypto && samples.Speaks(tables, s, crypto) {
			t.Error("it speaks of what was not looked for")
		}
		s.Void = &samples.Void{Why: samples.Lost}
		if samples.Speaks(tables, s, c.of) {
			t.Error("a void sample speaks")
		}
	}
}

// A result that was put right to one that says nothing speaks no more, and another
// that does not speak never makes a sample speak.
func TestSpeaksProperty(t *testing.T) {
	tables := begin(t).tables
	rapid.Check(t, func(r *rapid.T) {
		s := samples.Sample{Material: rapid.SampledFrom(tables.Materials()).Draw(r, "material").ID}
		of := rapid.SampledFrom(tables.Agents()).Draw(r, "agent").ID
		for range rapid.IntRange(0, 4).Draw(r, "results") {
			s.Results = append(s.Results, samples.Result{Of: of, Outcome: rapid.SampledFrom(samples.Outcomes()).Draw(r, "outcome")})
		}
		if samples.Speaks(tables, s, of) && !s.LookedThrough(of) {
			r.Error("it speaks without having been looked through")
		}
		s.Results = append(s.Results, samples.Result{Of: of, Outcome: rapid.SampledFrom([]samples.Outcome{samples.Inconclusive, samples.Inhibited, samples.NotDone}).Draw(r, "last")})
		if samples.Speaks(tables, s, of) {
			r.Errorf("%q speaks", s.Outcome(of))
		}
	})
}

// A question names all that it is about, and one answer is for all; what cannot stand comes
// before any question.
func TestSeveralAsked(t *testing.T) {
	b := begin(t)
	kit := func(number string, of model.AnimalID, days int) samples.New {
		s := plain()
		s.Kit = samples.Kit{Number: number, Expires: on(days)}
		return samples.New{Animals: []model.AnimalID{of}, Sample: s}
	}
	c := samples.Prepare{Tables: b.tables, Each: []samples.New{kit("a", b.juno, -100), kit("b", b.brook, 1), kit("c", b.juno, 2)}}
	_, err := b.Do(c)
	var at *samples.Of
	var r *model.Refusal
	if !errors.As(err, &at) || !errors.As(err, &r) || r.Reason != "sample.kit-expires" || !slices.Equal(at.Animals, []model.AnimalID{b.brook, b.juno}) {
		t.Errorf("%v", err)
	}
	c.Each = append(c.Each, samples.New{Sample: plain()})
	if got := b.refused(c); got != "sample.nobody" {
		t.Errorf("%q comes before what cannot stand", got)
	}
	c.Each, c.Confirmed = c.Each[:3], model.Confirmed{"sample.kit-expires"}
	b.do(c)
	if b.count() != 3 {
		t.Errorf("%d samples after the answer", b.count())
	}
}

// raw puts a document as it stands.
type raw struct{ document model.Document }

func (r raw) Name() string { return "test.raw" }

func (r raw) Plan(model.View) (model.Writes, error) {
	return model.Writes{Put: []model.Document{r.document}, Label: model.Label{Key: "care.done.note"}}, nil
}

// One sample that cannot be read takes none of the others away, and is named; one of
// more results than are read counts among them.
func TestWhatCannotBeReadIsNamedAndTheOthersStay(t *testing.T) {
	b := begin(t)
	whole := b.kits(b.juno, b.brook)
	many := samples.Sample{Material: swab, For: []knowledge.AgentID{serpento}, Results: make([]samples.Result, samples.MaxResults+1)}
	body, err := json.Marshal(many)
	if err != nil {
		t.Fatal(err)
	}
	for i, body := range []string{`[]`, `{"lab":"xyz"}`, string(body)} {
		b.do(raw{model.Document{Type: model.TypeSample, ID: model.ID{9, byte(i)}, At: ago(1), Version: samples.Version, Body: json.RawMessage(body), Subjects: []model.Subject{b.juno.Subject()}}})
	}
	if err := b.View(func(v model.View) error {
		all, unread, err := samples.Legible(v)
		if err != nil || len(all) != 2 || len(unread) != 3 {
			t.Errorf("%d read, %v unread, %v", len(all), unread, err)
		}
		for i, err := range unread {
			var one *samples.Illegible
			if !errors.As(err, &one) || one.ID.ID != (model.ID{9, byte(i)}) || !slices.Equal(one.Animals, []model.AnimalID{b.juno}) || one.At.Day() != ago(1).Day() {
				t.Errorf("of whom and when is not told: %+v", one)
			}
			if !strings.Contains(err.Error(), (model.ID{9, byte(i)}).String()) {
				t.Errorf("it is not named: %v", err)
			}
		}
		if _, err := samples.All(v); err == nil {
			t.Error("all of them are read")
		}
		return nil
	}); err != nil {
		t.Fatal(err)
	}
	if why := b.refused(samples.Take{Tables: b.tables, Of: whole, At: ago(0)}); why != "" {
		t.Errorf("those that can be read are not taken: %s", why)
	}
	if why := b.refused(samples.Enter{Tables: b.tables, At: ago(0), Rows: row(model.SampleID{ID: model.ID{9, 2}}, 1, samples.Found{Of: serpento, Outcome: samples.Detected})}); !strings.Contains(why, "201 results, at most 200") {
		t.Errorf("one of more results than are read is read: %q", why)
	}
}

// Several samples are left to somebody at once; what was taken, or is to be left to
// nobody, is refused.
func TestLeave(t *testing.T) {
	b := begin(t)
	of := b.kits(b.juno, b.brook)
	if why := b.refused(samples.Leave{Tables: b.tables, Of: of}); why != "sample.no-taker" {
		t.Errorf("left to nobody: %q", why)
	}
	b.do(samples.Leave{Tables: b.tables, Of: of, To: b.friend})
	for _, on := range of {
		if s := b.read(on.ID); s.TakenBy != b.friend || s.Stage() != samples.ToTake {
			t.Errorf("%s, taken by %v", s.Stage(), s.TakenBy)
		}
	}
	b.do(samples.Take{Tables: b.tables, Of: b.now(of[:1]), At: ago(0), By: b.friend})
	if why := b.refused(samples.Leave{Tables: b.tables, Of: b.now(of), To: b.lab}); why != "sample.already" {
		t.Errorf("one that was taken: %q", why)
	}
	b.do(samples.GiveUp{Tables: b.tables, ID: of[1].ID, Base: b.read(of[1].ID).Revision, Void: samples.Void{At: ago(0), Why: samples.Lost}})
	if why := b.refused(samples.Leave{Tables: b.tables, Of: b.now(of[1:]), To: b.lab}); why != "sample.void" {
		t.Errorf("one without a result: %q", why)
	}
}
