package positives_test

import (
	"errors"
	"testing"

	"github.com/google/go-cmp/cmp"

	"coilward/assets"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/collection"
	"coilward/model/contact"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/positives"
	"coilward/model/samples"
	"coilward/model/storetest"
)

// world is a house of two rooms with four animals, in which things are done by name.
type world struct {
	*testing.T
	*collection.Collection
	tables               *knowledge.Tables
	loft, cellar         model.PlaceID
	boxes                []model.PlaceID // three of the loft, one of the cellar
	ash, birch, elm, fir model.AnimalID
}

var yes = model.Confirmed{"day.before-arrival", "house.shared", "animal.gone-asks", "sample.kept-long", "sample.over-weekend"}

func (w *world) do(c model.Command) model.ID {
	w.Helper()
	done, err := w.Do(c)
	if err != nil {
		w.Fatalf("%s: %v", c.Name(), err)
	}
	return done.Documents[0]
}

// on is a day so many days ago.
func (w *world) on(ago int) model.Moment {
	w.Helper()
	var m model.Moment
	if err := w.View(func(v model.View) error {
		m = model.MomentOn(v.Now(), v.Now().Day()-model.Day(ago), model.Noon, model.ToDay)
		return nil
	}); err != nil {
		w.Fatal(err)
	}
	return m
}

func begin(t *testing.T) *world {
	t.Helper()
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	c, _ := storetest.New(t)
	w := &world{T: t, Collection: c, tables: tables}
	place := func(in model.PlaceID, name string, kind husbandry.PlaceKind) model.PlaceID {
		return model.PlaceID{ID: w.do(husbandry.AddPlaces{Parent: in, Branches: []husbandry.Branch{{Place: husbandry.Place{Name: name, Kind: kind}}}})}
	}
	w.loft, w.cellar = place(model.PlaceID{}, "Loft", husbandry.Room), place(model.PlaceID{}, "Cellar", husbandry.Room)
	for _, name := range []string{"Box 1", "Box 2", "Box 3"} {
		w.boxes = append(w.boxes, place(w.loft, name, husbandry.Tub))
	}
	w.boxes = append(w.boxes, place(w.cellar, "Box 4", husbandry.Tub))
	for i, name := range []string{"Ash", "Birch", "Elm", "Fir"} {
		id := model.AnimalID{ID: w.do(animals.Add{Animal: animals.Animal{Name: name, Status: animals.Kept, Since: model.Date{Day: w.on(400).Day(), Precision: model.ToDay}}})}
		*[]*model.AnimalID{&w.ash, &w.birch, &w.elm, &w.fir}[i] = id
		w.do(husbandry.Move{Animal: id, Place: w.boxes[i], At: w.on(300), Confirmed: yes})
	}
	return w
}

// sample is a choanal swab of some animals, taken so many days ago, with what was found.
func (w *world) sample(ago int, of knowledge.AgentID, found samples.Outcome, who ...model.AnimalID) model.SampleID {
	w.Helper()
	return w.sampleOf("choanal-swab", ago, of, found, who...)
}

func (w *world) sampleOf(material knowledge.MaterialID, ago int, of knowledge.AgentID, found samples.Outcome, who ...model.AnimalID) model.SampleID {
	w.Helper()
	id := model.SampleID{ID: w.do(samples.Prepare{Tables: w.tables, Each: []samples.New{{Animals: who, Sample: samples.Sample{Material: material, For: []knowledge.AgentID{of}, Taken: w.on(ago)}}}, Confirmed: yes})}
	if found != samples.Pending {
		w.do(samples.Enter{Tables: w.tables, At: w.on(max(ago-5, 0)), Rows: []samples.Row{{On: samples.On{ID: id, Base: 1}, Found: []samples.Found{{Of: of, Outcome: found}}}}, Confirmed: yes})
	}
	return id
}

func (w *world) open(s model.SampleID, of knowledge.AgentID) contact.PositiveID {
	w.Helper()
	return contact.PositiveID{ID: w.do(contact.Open{Tables: w.tables, Sample: s, Agent: of})}
}

func (w *world) trace(id contact.PositiveID) (t positives.Trace) {
	w.Helper()
	if err := w.View(func(v model.View) (err error) { t, err = positives.Of(v, w.tables, id); return err }); err != nil {
		w.Fatal(err)
	}
	return t
}

func (w *world) near(id contact.PositiveID) (all []string) {
	t := w.trace(id)
	for _, n := range t.Near {
		all = append(all, t.Name(n.Animal))
	}
	return all
}

func (w *world) asks(name string, c model.Command, want string) {
	w.Helper()
	for _, confirmed := range []model.Confirmed{nil, {positives.AsksMove, positives.AsksLeave}} {
		_, err := w.Do(positives.Asking{Tables: w.tables, Command: c, Confirmed: confirmed})
		var r *model.Refusal
		got := ""
		if errors.As(err, &r) {
			got = r.Reason
		} else if err != nil {
			w.Errorf("%s: %v", name, err)
		}
		if confirmed != nil {
			want = ""
		}
		if got != want {
			w.Errorf("%s, answered %v: %q, want %q", name, confirmed, got, want)
		}
		if got == "" {
			return
		}
	}
}

// Who shared a room since her last "not detected" was near; whoever moved out before
// was not, and one whose place is not known may have been.
func TestNear(t *testing.T) {
	w := begin(t)
	w.do(husbandry.Move{Animal: w.elm, Place: w.boxes[3], At: w.on(100), Confirmed: yes})
	w.do(animals.Add{Animal: animals.Animal{Name: "Yew", Status: animals.Kept}})
	w.sample(60, "serpentovirus", samples.NotDetected, w.ash)
	s := w.sample(10, "serpentovirus", samples.Detected, w.ash)
	id := w.open(s, "serpentovirus")
	trace := w.trace(id)
	if diff := cmp.Diff([]string{"Birch"}, w.near(id)); diff != "" {
		t.Error(diff)
	}
	if src := trace.Sources[0]; src.Since != w.on(60).Day() || src.Why != contact.SinceNotDetected || !src.Lived {
		t.Errorf("%+v", src)
	}
	if len(trace.Unplaced) != 1 || trace.Name(trace.Unplaced[0]) != "Yew" {
		t.Errorf("without a place: %v", trace.Unplaced)
	}
	if trace.Doubt || !trace.Stands || len(trace.Rooms) != 1 || trace.Room(trace.Rooms[0]) != "Loft" {
		t.Errorf("%+v", trace)
	}
	w.do(husbandry.Move{Animal: w.elm, Place: w.boxes[2], At: w.on(30), Confirmed: yes})
	if diff := cmp.Diff([]string{"Birch", "Elm"}, w.near(id)); diff != "" {
		t.Error(diff)
	}
}

// A "not detected" of a reptarenavirus in a swab says nothing of a python (seen:
// Simard et al. 2020 PLoS One 15:e0229667, abstract): she counts from her arrival.
func TestNear_ASampleThatCannotSpeak(t *testing.T) {
	w := begin(t)
	w.sample(60, "reptarenavirus", samples.NotDetected, w.ash)
	trace := w.trace(w.open(w.sample(10, "reptarenavirus", samples.Detected, w.ash), "reptarenavirus"))
	if src := trace.Sources[0]; src.Since != w.on(400).Day() || src.Why != contact.SinceArrival {
		t.Errorf("%+v", src)
	}
	if !trace.Doubt || trace.Acts[0].ID != contact.StopMoves || trace.Acts[1].ID != contact.CallVet || trace.Acts[2].ID != contact.Confirm {
		t.Errorf("doubt %v, acts %+v", trace.Doubt, trace.Acts)
	}
}

// A trace goes back by the days for which the thing may not be found, to the last "not
// detected" in a sample of her own. The 28 days, seen: Pees et al. 2016 Vet Microbiol
// 182:213 (abstract).
func TestNear_DaysForWhichItMayNotBeFound(t *testing.T) {
	w := begin(t)
	w.do(husbandry.Move{Animal: w.elm, Place: w.boxes[3], At: w.on(80), Confirmed: yes})
	w.sampleOf("cloacal-swab", 60, "ferlavirus", samples.NotDetected, w.ash)
	w.sampleOf("cloacal-swab", 40, "ferlavirus", samples.NotDetected, w.ash, w.fir)
	id := w.open(w.sample(10, "ferlavirus", samples.Detected, w.ash), "ferlavirus")
	trace := w.trace(id)
	src := trace.Sources[0]
	if src.Since != w.on(88).Day() || src.Taken != w.on(60).Day() || trace.Since(src).Key != "positive.since.before-not-detected" {
		t.Errorf("%+v, %s", src, trace.Since(src).Key)
	}
	if diff := cmp.Diff([]string{"Birch", "Elm"}, w.near(id)); diff != "" {
		t.Error(diff)
	}
}

// Any animal of a pool may have been it, and each is sampled alone first.
func TestNear_Pool(t *testing.T) {
	w := begin(t)
	id := w.open(w.sample(10, "ferlavirus", samples.Detected, w.ash, w.fir), "ferlavirus")
	trace := w.trace(id)
	if !trace.Pool() || trace.Acts[2].ID != contact.Singles || len(trace.Sources) != 2 || trace.Names() != "Ash, Fir" {
		t.Errorf("%v %v %v", trace.Pool(), trace.Acts[2].ID, trace.Sources)
	}
	if diff := cmp.Diff([]string{"Birch", "Elm"}, w.near(id)); diff != "" {
		t.Error(diff)
	}
}

// One positive is open for a result, as long as it says "detected"; what was not done is
// kept with a note.
func TestOpenActClose(t *testing.T) {
	w := begin(t)
	refused := func(name string, c model.Command, want string) {
		t.Helper()
		_, err := w.Do(c)
		var r *model.Refusal
		if !errors.As(err, &r) || r.Reason != want {
			t.Errorf("%s: %v, want %s", name, err, want)
		}
	}
	agent := knowledge.AgentID("serpentovirus")
	refused("not detected", contact.Open{Tables: w.tables, Sample: w.sample(20, agent, samples.NotDetected, w.ash), Agent: agent}, "positive.not-detected")
	refused("no result yet", contact.Open{Tables: w.tables, Sample: w.sample(20, agent, samples.Pending, w.ash), Agent: agent}, "positive.not-detected")
	s := w.sample(10, agent, samples.Detected, w.ash)
	refused("another thing", contact.Open{Tables: w.tables, Sample: s, Agent: "ferlavirus"}, "positive.not-detected")
	unopened := func() (n int) {
		if err := w.View(func(v model.View) error {
			all, err := positives.Unopened(v, w.ash)
			n = len(all)
			return err
		}); err != nil {
			t.Fatal(err)
		}
		return n
	}
	if unopened() != 1 {
		t.Errorf("%d are not opened", unopened())
	}
	id := w.open(s, agent)
	if unopened() != 0 {
		t.Errorf("%d are not opened after it was", unopened())
	}
	refused("twice", contact.Open{Tables: w.tables, Sample: s, Agent: agent}, "positive.is-open")
	act := contact.Act{Tables: w.tables, ID: id, Base: 1, Act: contact.CallVet, At: w.on(0)}
	ahead := act
	ahead.At = w.on(-1)
	refused("done tomorrow", ahead, "day.future")
	early := act
	early.At = w.on(8)
	refused("done before it was reported", early, "positive.before")
	unknown := act
	unknown.Act = "dance"
	refused("done what nobody asks", unknown, "choice.unknown")
	w.do(act)
	act.Base = 2
	refused("done twice", act, "positive.done-already")
	act.Not = true
	w.do(act)
	act.Base = 3
	refused("not done twice", act, "positive.not-done")
	act.Not = false
	w.do(act)
	end := contact.Close{ID: id, Base: 4, Why: contact.Corrected, At: w.on(0), Note: "second sample", Owed: contact.Unmet(w.trace(id).Acts)}
	refused("corrected though it stands", end, "positive.stands")
	w.do(samples.Correct{Tables: w.tables, ID: s, Base: 2, Result: samples.Result{Of: agent, Outcome: samples.NotDetected, At: w.on(0), Why: "mixed up at the lab"}})
	if w.trace(id).Stands {
		t.Error("it stands though it was corrected")
	}
	bare := end
	bare.Note = " "
	refused("closed without a word on what was not done", bare, "positive.note")
	w.do(end)
	trace := w.trace(id)
	if trace.Open() || len(trace.Closed.Unmet) == 0 || len(trace.Closed.Unmet) != len(trace.Acts)-1 {
		t.Errorf("%+v of %d", trace.Closed, len(trace.Acts))
	}
	act.Base, act.Act = 5, contact.Repeat
	refused("done after it was closed", act, "positive.closed")
}

// Moves in and out of her room, and leaving, are asked about and never forbidden; what
// has nothing to do with it is not asked about.
func TestAsking(t *testing.T) {
	w := begin(t)
	found := w.sample(10, "serpentovirus", samples.Detected, w.ash)
	base := func(id model.AnimalID) (n uint32) {
		if err := w.View(func(v model.View) error {
			d, err := v.Document(id.ID)
			n = d.Revision
			return err
		}); err != nil {
			t.Fatal(err)
		}
		return n
	}
	status := func(a model.AnimalID, s animals.Status) model.Command {
		return animals.SetStatus{ID: a, Base: base(a), Status: s, Day: model.Date{Day: w.on(0).Day(), Precision: model.ToDay}}
	}
	move := func(a model.AnimalID, box int, ago int) model.Command {
		return husbandry.Move{Animal: a, Place: w.boxes[box], At: w.on(ago), Confirmed: yes}
	}
	// It counts from the day of the result, not from that on which a positive is opened.
	w.asks("one that was near is sold before it is opened", status(w.birch, animals.Sold), "positive.leave")
	w.do(animals.SetStatus{ID: w.birch, Base: base(w.birch), Status: animals.Kept, Day: model.Date{Day: w.on(0).Day(), Precision: model.ToDay}})
	w.asks("somebody comes into the room before it is opened", move(w.fir, 2, 6), "positive.move")
	w.do(move(w.fir, 3, 5))
	id := w.open(found, "serpentovirus")
	w.asks("from box to box of her room", move(w.birch, 2, 4), "")
	w.asks("one that was near leaves the room", move(w.elm, 3, 3), "positive.move")
	w.asks("somebody comes into the room", move(w.fir, 1, 2), "positive.move")
	w.asks("she is moved out", husbandry.MoveOut{Animal: w.ash, At: w.on(1)}, "positive.move")
	w.asks("she is lent", status(w.ash, animals.OnLoan), "positive.leave")
	w.asks("one that was near is sold", status(w.birch, animals.Sold), "positive.leave")
	w.asks("she died", status(w.ash, animals.Died), "")
	other := model.AnimalID{ID: w.do(animals.Add{Animal: animals.Animal{Name: "Oak", Status: animals.Kept}})}
	w.asks("one that was not near is sold", status(other, animals.Sold), "")
	w.do(contact.Close{ID: id, Base: 1, Why: contact.Gone, At: w.on(0), Note: "she died", Owed: nil})
	w.asks("once it is closed", status(w.elm, animals.Sold), "")
}

// Who was detected is ill, and who was near is near, also before anybody has opened a
// positive (rules: ill is an open "detected"); once it was opened and closed, it is not.
func TestMarked(t *testing.T) {
	w := begin(t)
	marked := func() (m positives.Marks) {
		t.Helper()
		if err := w.View(func(v model.View) (err error) { m, err = positives.Marked(v, w.tables); return err }); err != nil {
			t.Fatal(err)
		}
		return m
	}
	w.sample(12, "serpentovirus", samples.NotDetected, w.elm)
	if m := marked(); len(m.Detected) != 0 || len(m.Near) != 0 {
		t.Errorf("nothing was detected: %+v", m)
	}
	s := w.sample(10, "serpentovirus", samples.Detected, w.ash)
	want := positives.Marks{Detected: map[model.AnimalID]bool{w.ash: true}, Near: map[model.AnimalID]bool{w.birch: true, w.elm: true},
		Agents: map[model.AnimalID][]knowledge.AgentID{w.ash: {"serpentovirus"}, w.birch: {"serpentovirus"}, w.elm: {"serpentovirus"}},
		Of: map[model.AnimalID][]positives.Mark{w.ash: {{Agent: "serpentovirus", Sampled: w.on(10).Day()}},
			w.birch: {{Agent: "serpentovirus", Sampled: w.on(10).Day(), Near: true}}, w.elm: {{Agent: "serpentovirus", Sampled: w.on(10).Day(), Near: true}}}}
	if diff := cmp.Diff(want, marked()); diff != "" {
		t.Error("not opened: ", diff)
	}
	id := w.open(s, "serpentovirus")
	if diff := cmp.Diff(want, marked()); diff != "" {
		t.Error("opened: ", diff)
	}
	w.do(contact.Close{ID: id, Base: 1, Why: contact.VetsWord, At: w.on(0)})
	if m := marked(); len(m.Detected) != 0 || len(m.Near) != 0 {
		t.Errorf("closed: %+v", m)
	}
}

// What goes by droppings, and not through a room, makes nobody near and holds back nobody
// but its own animal: common practice, no source.
func TestWhatGoesByDroppings(t *testing.T) {
	w := begin(t)
	s := w.sampleOf(knowledge.Faeces, 10, knowledge.FaecalAgent, samples.Detected, w.ash)
	if err := w.View(func(v model.View) error {
		m, err := positives.Marked(v, w.tables)
		if !m.Detected[w.ash] || len(m.Near) > 0 || len(m.Agents) != 1 {
			t.Errorf("marks: %+v", m)
		}
		return err
	}); err != nil {
		t.Fatal(err)
	}
	w.open(s, knowledge.FaecalAgent)
	base := func(id model.AnimalID) (n uint32) {
		if err := w.View(func(v model.View) error {
			d, err := v.Document(id.ID)
			n = d.Revision
			return err
		}); err != nil {
			t.Fatal(err)
		}
		return n
	}
	sold := func(a model.AnimalID) model.Command {
		return animals.SetStatus{ID: a, Base: base(a), Status: animals.Sold, Day: model.Date{Day: w.on(0).Day(), Precision: model.ToDay}}
	}
	move := func(a model.AnimalID, box, ago int) model.Command {
		return husbandry.Move{Animal: a, Place: w.boxes[box], At: w.on(ago), Confirmed: yes}
	}
	plan := func(c model.Command, confirmed model.Confirmed) (reason string) {
		var r *model.Refusal
		if err := w.View(func(v model.View) error {
			_, err := positives.Asking{Tables: w.tables, Command: c, Confirmed: confirmed}.Plan(v)
			return err
		}); errors.As(err, &r) {
			reason = r.Reason
		} else if err != nil {
			t.Fatal(err)
		}
		return reason
	}
	for name, c := range map[string]struct {
		command model.Command
		want    string
	}{
		"another of the room goes to another room": {move(w.birch, 3, 3), ""},
		"somebody comes into the room":             {move(w.fir, 2, 2), ""},
		"another of the room is sold":              {sold(w.birch), ""},
		"it goes to another room itself":           {move(w.ash, 3, 2), "positive.carry"},
		"it is sold":                               {sold(w.ash), "positive.leave"},
	} {
		if got := plan(c.command, nil); got != c.want {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
		if got := plan(c.command, model.Confirmed{c.want}); got != "" {
			t.Errorf("%s, confirmed: %q", name, got)
		}
	}
}

// Who was near something detected stays in what stood, opened or not; what is shown of
// it is the positive, or else the sample.
func TestStood(t *testing.T) {
	w := begin(t)
	s := w.sample(10, "serpentovirus", samples.Detected, w.ash)
	stood := func() (id model.ID) {
		t.Helper()
		if err := w.View(func(v model.View) error {
			all, err := positives.Stood(v, w.tables)
			if err == nil && len(all) == 1 {
				id = all[0].Document()
			}
			return err
		}); err != nil {
			t.Fatal(err)
		}
		return id
	}
	if got := stood(); got != s.ID {
		t.Errorf("not opened: %v", got)
	}
	id := w.open(s, "serpentovirus")
	if got := stood(); got != id.ID {
		t.Errorf("opened: %v", got)
	}
	w.do(contact.Close{ID: id, Base: 1, Why: contact.NotConfirmed, At: w.on(0)})
	if got := stood(); !got.IsZero() {
		t.Errorf("called off: %v", got)
	}
}
