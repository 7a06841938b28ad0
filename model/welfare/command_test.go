package welfare_test

import (
	"errors"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/collection"
	"coilward/model/knowledge"
	"coilward/model/people"
	"coilward/model/storetest"
	"coilward/model/welfare"
)

// room is a collection with one animal and one person.
type room struct {
	*collection.Collection
	t      *testing.T
	tables *knowledge.Tables
	animal model.AnimalID
	person model.PersonID
	now    model.Moment
}

func newRoom(t *testing.T) room {
	c, err := collection.New(storetest.Memory(), collection.Options{Now: storetest.NewClock().Now})
	if err != nil {
		t.Fatal(err)
	}
	r := room{Collection: c, t: t, tables: tables(t)}
	r.do(animals.Add{Animal: animals.Animal{Name: "Juniper", Status: animals.Kept}})
	r.do(people.Add{Person: people.Person{Name: "Ada"}})
	if err := c.View(func(v model.View) error {
		r.now = v.Now()
		return errors.Join(v.All(model.TypeAnimal, func(d model.Document) bool { r.animal.ID = d.ID; return true }),
			v.All(model.TypePerson, func(d model.Document) bool { r.person.ID = d.ID; return true }))
	}); err != nil {
		t.Fatal(err)
	}
	return r
}

func (r room) do(c model.Command) model.Document {
	r.t.Helper()
	done, err := r.Do(c)
	if err != nil {
		r.t.Fatalf("%s: %v", c.Name(), err)
	}
	var d model.Document
	if err := r.View(func(v model.View) (err error) {
		d, err = v.Document(done.Documents[0])
		if errors.Is(err, model.ErrNotFound) {
			return nil
		}
		return err
	}); err != nil {
		r.t.Fatal(err)
	}
	return d
}

func (r room) about() care.About { return care.About{Animal: r.animal, At: r.now, By: r.person} }

func TestCommands_WriteWhatTheyRead(t *testing.T) {
	r := newRoom(t)
	for _, c := range []struct {
		command model.Command
		body    welfare.Body
	}{
		{welfare.Observe{Tables: r.tables, About: r.about(), Observation: welfare.Observation{Setting: knowledge.Untouched, Signs: []knowledge.SignID{"exploring"}, Breaths: &welfare.Breaths{Count: 8, Seconds: 120}, Scans: []welfare.Scan{{After: 0, Sign: "still"}, {After: 60}}, Note: "by the water"}}, nil},
		{welfare.Observe{Tables: r.tables, About: r.about(), Observation: welfare.Observation{Setting: knowledge.Feeding, None: true}}, nil},
		{welfare.Handle{Tables: r.tables, About: r.about(), Handling: welfare.Handling{Lifts: 1, Hand: 5, Container: 3, Restraint: 2, Why: "medicine", Came: true, DrewBack: 1, Note: "calm"}}, nil},
		{welfare.Try{About: r.about(), Change: welfare.Change{What: "a second hide", Setting: knowledge.Untouched, Hoped: welfare.MoreEase, AfterBad: true, Note: "cork"}}, nil},
		{welfare.NoteContact{Person: r.person, At: r.now, PersonContact: welfare.PersonContact{What: welfare.Bite, Animal: r.animal, Washed: true, Doctor: true, Note: "a finger"}}, nil},
	} {
		want := map[string]func() welfare.Body{
			"welfare.observe": func() welfare.Body { return c.command.(welfare.Observe).Observation }, "welfare.handle": func() welfare.Body { return c.command.(welfare.Handle).Handling },
			"welfare.try": func() welfare.Body { return c.command.(welfare.Try).Change }, "welfare.person": func() welfare.Body { return c.command.(welfare.NoteContact).PersonContact },
		}[c.command.Name()]()
		d := r.do(c.command)
		e, known, err := welfare.Decode(d)
		if err != nil || !known {
			t.Fatalf("%s: %v, %v", c.command.Name(), known, err)
		}
		if diff := cmp.Diff(want, e.Body); diff != "" {
			t.Errorf("%s: %s", c.command.Name(), diff)
		}
		if e.At != r.now || e.Revision != 1 || e.ID.ID != d.ID || d.Kind != want.Kind() || d.Version != 1 {
			t.Errorf("%s: header %+v", c.command.Name(), e)
		}
		person := d.Kind == welfare.KindPerson
		if _, of := d.Animal(); of == person || len(d.Subjects) != 1 || person != (e.Person == r.person) || person == (e.Animal == r.animal) {
			t.Errorf("%s is about %v", c.command.Name(), d.Subjects)
		}
		if known, err := welfare.Sound(d); !known || err != nil {
			t.Errorf("%s is not sound: %v", c.command.Name(), err)
		}
		r.do(welfare.Remove{Entry: e.ID})
		if err := r.View(func(v model.View) error { _, err := v.Document(d.ID); return err }); !errors.Is(err, model.ErrNotFound) {
			t.Errorf("%s is still there: %v", c.command.Name(), err)
		}
	}
}

func TestCommands_Correct(t *testing.T) {
	r := newRoom(t)
	d := r.do(welfare.Handle{Tables: r.tables, About: r.about(), Handling: welfare.Handling{Lifts: 1}})
	id := model.EntryID{ID: d.ID}
	d = r.do(welfare.Handle{Tables: r.tables, About: r.about(), Handling: welfare.Handling{Lifts: 2}, Entry: id, Base: 1})
	if e, _, err := welfare.Decode(d); err != nil || e.Revision != 2 || e.Body.(welfare.Handling).Lifts != 2 {
		t.Errorf("%+v, %v", e, err)
	}
	for name, c := range map[string]model.Command{
		"an older revision": welfare.Handle{Tables: r.tables, About: r.about(), Handling: welfare.Handling{Lifts: 3}, Entry: id, Base: 1},
		"another kind":      welfare.Try{About: r.about(), Change: welfare.Change{What: "x", Setting: knowledge.Handled, Hoped: welfare.LessUnease}, Entry: id, Base: 2},
		"no entry":          welfare.Handle{Tables: r.tables, About: r.about(), Handling: welfare.Handling{Lifts: 3}, Entry: model.EntryID{ID: r.animal.ID}, Base: 2},
		"no animal":         welfare.Handle{Tables: r.tables, About: care.About{At: r.now, Animal: model.AnimalID{ID: r.person.ID}}, Handling: welfare.Handling{Lifts: 3}},
		"what is none":      welfare.Remove{Entry: model.EntryID{ID: r.animal.ID}},
	} {
		if _, err := r.Do(c); err == nil {
			t.Errorf("%s was taken", name)
		}
	}
	r.do(animals.Add{Animal: animals.Animal{Name: "Kestrel", Status: animals.Kept}})
	var other model.AnimalID
	if err := r.View(func(v model.View) error {
		return v.All(model.TypeAnimal, func(d model.Document) bool { other.ID = d.ID; return d.ID == r.animal.ID })
	}); err != nil {
		t.Fatal(err)
	}
	if _, err := r.Do(welfare.Handle{Tables: r.tables, About: care.About{Animal: other, At: r.now}, Handling: welfare.Handling{Lifts: 1}, Entry: id, Base: 2}); err == nil || !strings.Contains(err.Error(), "keeps its kind") {
		t.Errorf("moved to another animal: %v", err)
	}
}

func TestCommands_Refuse(t *testing.T) {
	r := newRoom(t)
	observe := func(o welfare.Observation) model.Command {
		return welfare.Observe{Tables: r.tables, About: r.about(), Observation: o}
	}
	handle := func(h welfare.Handling) model.Command {
		return welfare.Handle{Tables: r.tables, About: r.about(), Handling: h}
	}
	try := func(c welfare.Change) model.Command { return welfare.Try{About: r.about(), Change: c} }
	contact := func(c welfare.PersonContact) model.Command {
		return welfare.NoteContact{Person: r.person, At: r.now, PersonContact: c}
	}
	late := r.about()
	late.At.UTC += 2 * 86400
	scans := func(n int) (all []welfare.Scan) {
		for i := range n {
			all = append(all, welfare.Scan{After: 60 * i})
		}
		return all
	}
	good := welfare.Change{What: "x", Setting: knowledge.Handled, Hoped: welfare.LessUnease}
	with := func(change func(*welfare.Change)) welfare.Change { c := good; change(&c); return c }
	for _, c := range []struct {
		name          string
		command       model.Command
		field, reason string // empty: taken
	}{
		{"no setting", observe(welfare.Observation{None: true}), "setting", "choice.unknown"},
		{"nothing said", observe(welfare.Observation{Setting: knowledge.Untouched}), "signs", "signs.empty"},
		{"breaths alone", observe(welfare.Observation{Setting: knowledge.Untouched, Breaths: &welfare.Breaths{Count: 3, Seconds: 60}}), "", ""},
		{"a scan alone", observe(welfare.Observation{Setting: knowledge.Untouched, Scans: scans(1)}), "", ""},
		{"none and one", observe(welfare.Observation{Setting: knowledge.Untouched, None: true, Signs: []knowledge.SignID{"exploring"}}), "signs", "signs.none-alone"},
		{"none and one of a scan", observe(welfare.Observation{Setting: knowledge.Untouched, None: true, Scans: []welfare.Scan{{Sign: "exploring"}}}), "signs", "signs.none-alone"},
		{"a sign twice", observe(welfare.Observation{Setting: knowledge.Untouched, Signs: []knowledge.SignID{"exploring", "exploring"}}), "signs", "choice.unknown"},
		{"an empty sign", observe(welfare.Observation{Setting: knowledge.Untouched, Signs: []knowledge.SignID{""}}), "signs", "choice.unknown"},
		{"a sign that is none", observe(welfare.Observation{Setting: knowledge.Untouched, Signs: []knowledge.SignID{"hat"}}), "signs", "choice.unknown"},
		{"a sign that is not offered", observe(welfare.Observation{Setting: knowledge.Untouched, Signs: []knowledge.SignID{"flinching"}}), "setting", "signs.not-offered"},
		{"a scan of what is not offered", observe(welfare.Observation{Setting: knowledge.Untouched, Scans: []welfare.Scan{{Sign: "flinching"}}}), "setting", "signs.not-offered"},
		{"a scan of what is none", observe(welfare.Observation{Setting: knowledge.Untouched, Scans: []welfare.Scan{{Sign: "hat"}}}), "signs", "choice.unknown"},
		{"sixty scans", observe(welfare.Observation{Setting: knowledge.Untouched, Scans: scans(60)}), "", ""},
		{"sixty-one scans", observe(welfare.Observation{Setting: knowledge.Untouched, Scans: scans(61)}), "scans", "scans.many"},
		{"scans backwards", observe(welfare.Observation{Setting: knowledge.Untouched, Scans: []welfare.Scan{{After: 60}, {After: 0}}}), "scans", "scans.order"},
		{"two scans at once", observe(welfare.Observation{Setting: knowledge.Untouched, Scans: []welfare.Scan{{After: 60}, {After: 60}}}), "", ""},
		{"a scan before the beginning", observe(welfare.Observation{Setting: knowledge.Untouched, Scans: []welfare.Scan{{After: -1}}}), "scans", "scans.order"},
		{"a scan of the next day", observe(welfare.Observation{Setting: knowledge.Untouched, Scans: []welfare.Scan{{After: 86401}}}), "scans", "scans.order"},
		{"a scan after a day", observe(welfare.Observation{Setting: knowledge.Untouched, Scans: []welfare.Scan{{After: 86400}}}), "", ""},
		{"no breath", observe(welfare.Observation{Setting: knowledge.Untouched, Breaths: &welfare.Breaths{Seconds: 10}}), "", ""},
		{"most breaths", observe(welfare.Observation{Setting: knowledge.Untouched, Breaths: &welfare.Breaths{Count: 600, Seconds: 900}}), "", ""},
		{"breaths below none", observe(welfare.Observation{Setting: knowledge.Untouched, Breaths: &welfare.Breaths{Count: -1, Seconds: 60}}), "breaths", "number.range"},
		{"too many breaths", observe(welfare.Observation{Setting: knowledge.Untouched, Breaths: &welfare.Breaths{Count: 601, Seconds: 60}}), "breaths", "number.range"},
		{"too short a count", observe(welfare.Observation{Setting: knowledge.Untouched, Breaths: &welfare.Breaths{Count: 1, Seconds: 9}}), "breath-seconds", "number.range"},
		{"too long a count", observe(welfare.Observation{Setting: knowledge.Untouched, Breaths: &welfare.Breaths{Count: 1, Seconds: 901}}), "breath-seconds", "number.range"},
		{"too long a note", observe(welfare.Observation{Setting: knowledge.Untouched, None: true, Note: strings.Repeat("a", 10_001)}), "note", "text.long"},
		{"tomorrow", welfare.Observe{Tables: r.tables, About: late, Observation: welfare.Observation{Setting: knowledge.Untouched, None: true}}, "day", "day.future"},

		{"nothing done", handle(welfare.Handling{Note: "only words"}), "lifts", "handling.empty"},
		{"held for no reason", handle(welfare.Handling{Restraint: 1}), "restraint-why", "restraint.why"},
		{"a reason and not held", handle(welfare.Handling{Lifts: 1, Why: "medicine"}), "restraint-minutes", "restraint.minutes"},
		{"a reason that is none", handle(welfare.Handling{Restraint: 1, Why: "hat"}), "restraint-why", "choice.unknown"},
		{"lifts below none", handle(welfare.Handling{Lifts: -1}), "lifts", "number.range"},
		{"most of all", handle(welfare.Handling{Lifts: 100, Hand: 1440, Container: 1440, Restraint: 1440, Why: "transport", DrewBack: 100}), "", ""},
		{"too many lifts", handle(welfare.Handling{Lifts: 101}), "lifts", "number.range"},
		{"too long in the hand", handle(welfare.Handling{Hand: 1441}), "hand-minutes", "number.range"},
		{"too long in a tub", handle(welfare.Handling{Container: 1441}), "container-minutes", "number.range"},
		{"held too long", handle(welfare.Handling{Restraint: 1441, Why: "transport"}), "restraint-minutes", "number.range"},
		{"drew back too often", handle(welfare.Handling{DrewBack: 101}), "drew-back", "number.range"},
		{"she only came", handle(welfare.Handling{Came: true}), "", ""},
		{"words of a handling", handle(welfare.Handling{Came: true, Note: strings.Repeat("a", 10_001)}), "note", "text.long"},

		{"a change of nothing", try(with(func(c *welfare.Change) { c.What = " " })), "change-what", "text.empty"},
		{"a change in no setting", try(with(func(c *welfare.Change) { c.Setting = "" })), "setting", "choice.unknown"},
		{"a change for nothing", try(with(func(c *welfare.Change) { c.Hoped = "" })), "hoped", "choice.unknown"},
		{"a change of too many words", try(with(func(c *welfare.Change) { c.What = strings.Repeat("a", 201) })), "change-what", "text.long"},
		{"a change of many words", try(with(func(c *welfare.Change) { c.What = strings.Repeat("a", 200) })), "", ""},
		{"words of a change", try(with(func(c *welfare.Change) { c.Note = strings.Repeat("a", 10_001) })), "note", "text.long"},

		{"nothing befell", contact(welfare.PersonContact{Animal: r.animal}), "contacted", "choice.unknown"},
		{"with no animal", contact(welfare.PersonContact{What: welfare.Bite}), "animal", "text.empty"},
		{"words of a contact", contact(welfare.PersonContact{What: welfare.Bite, Animal: r.animal, Note: strings.Repeat("a", 10_001)}), "note", "text.long"},
		{"of nobody", welfare.NoteContact{At: r.now, PersonContact: welfare.PersonContact{What: welfare.Bite, Animal: r.animal}}, "person", "contact.nobody"},
		{"of an animal as a person", welfare.NoteContact{Person: model.PersonID{ID: r.animal.ID}, At: r.now, PersonContact: welfare.PersonContact{What: welfare.Bite, Animal: r.animal}}, "person", "contact.nobody"},
		{"at no time", welfare.NoteContact{Person: r.person, PersonContact: welfare.PersonContact{What: welfare.Bite, Animal: r.animal}}, "day", "day.empty"},
	} {
		_, err := r.Do(c.command)
		var refusal *model.Refusal
		switch {
		case c.field == "" && err != nil:
			t.Errorf("%s: %v", c.name, err)
		case c.field != "" && (!errors.As(err, &refusal) || refusal.Field != c.field || refusal.Reason != c.reason):
			t.Errorf("%s: %v, want %s at %s", c.name, err, c.reason, c.field)
		}
	}
}

// What befell a person is put right like any other entry, and taken back; it keeps the person and
// the animal.
func TestNoteContact_Corrects(t *testing.T) {
	r := newRoom(t)
	bite := welfare.NoteContact{Person: r.person, At: r.now, PersonContact: welfare.PersonContact{What: welfare.Bite, Animal: r.animal}}
	d := r.do(bite)
	bite.Entry, bite.Base = model.EntryID{ID: d.ID}, d.Revision
	bite.What, bite.Washed, bite.At.UTC = welfare.Child, true, bite.At.UTC-86400
	d = r.do(bite)
	if e, _, err := welfare.Decode(d); err != nil || e.ID != bite.Entry || e.Revision != 2 || e.Person != r.person || e.At != bite.At || e.Body != welfare.Body(bite.PersonContact) {
		t.Errorf("%+v, %v", e, err)
	}
	if _, err := r.Undo(); err != nil {
		t.Fatal(err)
	}
	if err := r.View(func(v model.View) (err error) { d, err = v.Document(d.ID); return err }); err != nil {
		t.Fatal(err)
	}
	if e, _, err := welfare.Decode(d); err != nil || e.Body.(welfare.PersonContact).What != welfare.Bite || e.At != r.now {
		t.Errorf("taken back: %+v, %v", e, err)
	}
	r.do(people.Add{Person: people.Person{Name: "Grace"}})
	r.do(animals.Add{Animal: animals.Animal{Name: "Kestrel", Status: animals.Kept}})
	lifted := r.do(welfare.Handle{Tables: r.tables, About: r.about(), Handling: welfare.Handling{Lifts: 1}})
	another := func(as model.DocumentType, than model.ID) (id model.ID) {
		if err := r.View(func(v model.View) error {
			return v.All(as, func(d model.Document) bool {
				if d.ID != than {
					id = d.ID
				}
				return true
			})
		}); err != nil {
			t.Fatal(err)
		}
		return id
	}
	bite.Base = d.Revision
	for name, change := range map[string]func(*welfare.NoteContact){
		"an older revision": func(c *welfare.NoteContact) { c.Base++ },
		"another person":    func(c *welfare.NoteContact) { c.Person.ID = another(model.TypePerson, r.person.ID) },
		"another animal":    func(c *welfare.NoteContact) { c.Animal.ID = another(model.TypeAnimal, r.animal.ID) },
		"another kind":      func(c *welfare.NoteContact) { c.Entry.ID, c.Base = lifted.ID, lifted.Revision },
	} {
		c := bite
		change(&c)
		if _, err := r.Do(c); err == nil {
			t.Errorf("%s was taken", name)
		}
	}
	if _, err := r.Do(bite); err != nil {
		t.Errorf("put right: %v", err)
	}
}

// What other means have put into a document is found.
func TestSound_FindsWhatNoCommandWouldTake(t *testing.T) {
	for kind, body := range map[string]string{
		welfare.KindObservation: `{"setting":"asleep","none":true}`, welfare.KindHandling: `{"lifts":-3}`, welfare.KindChange: `{"what":"","setting":"handled","hoped":"less-unease"}`, welfare.KindPerson: `{"what":"hug"}`,
	} {
		d := model.Document{Type: model.TypeEntry, Kind: kind, Version: 1, Body: []byte(body)}
		var refusal *model.Refusal
		if known, err := welfare.Sound(d); !known || !errors.As(err, &refusal) {
			t.Errorf("%s: %v, %v", kind, known, err)
		}
		d.Body = []byte("[")
		if known, err := welfare.Sound(d); !known || err == nil {
			t.Errorf("%s, broken: %v, %v", kind, known, err)
		}
		d.Version = 2
		if known, err := welfare.Sound(d); !known || !errors.Is(err, model.ErrNewer) {
			t.Errorf("%s of a newer version: %v, %v", kind, known, err)
		}
		d.Type = model.TypeAnswer
		if known, err := welfare.Sound(d); known || err != nil {
			t.Errorf("%s of another type: %v, %v", kind, known, err)
		}
	}
	if known, err := welfare.Sound(model.Document{Type: model.TypeEntry, Kind: "weight"}); known || err != nil {
		t.Errorf("an entry of another package: %v, %v", known, err)
	}
}

func TestBreaths_OfAMinute(t *testing.T) {
	for b, want := range map[welfare.Breaths]int{{Count: 8, Seconds: 120}: 40, {Count: 1, Seconds: 60}: 10, {Count: 1, Seconds: 90}: 7, {Count: 5, Seconds: 90}: 33, {Count: 0, Seconds: 10}: 0} {
		if got := b.Tenths(); got != want {
			t.Errorf("%+v: %d, want %d", b, got, want)
		}
	}
}

// What was removed in the meantime is refused in words: an animal that a contact alone names can be
// removed, for the contact is about the person.
func TestCommands_RefuseWhatIsNoMoreInTheRecords(t *testing.T) {
	r := newRoom(t)
	bite := welfare.NoteContact{Person: r.person, At: r.now, PersonContact: welfare.PersonContact{What: welfare.Bite, Animal: r.animal}}
	lifted := welfare.Handle{Tables: r.tables, About: r.about(), Handling: welfare.Handling{Lifts: 1}}
	d, gone := r.do(bite), r.do(lifted)
	r.do(welfare.Remove{Entry: model.EntryID{ID: gone.ID}})
	refused := func(name string, c model.Command, field, reason string) {
		t.Helper()
		_, err := r.Do(c)
		var refusal *model.Refusal
		if !errors.As(err, &refusal) || refusal.Field != field || refusal.Reason != reason || refusal.Answer != model.Mend {
			t.Errorf("%s: %v, want %s at %s", name, err, reason, field)
		}
	}
	corrected := lifted
	corrected.Entry, corrected.Base = model.EntryID{ID: gone.ID}, gone.Revision
	refused("an entry that was removed", corrected, "entry", "entry.missing")
	refused("an entry removed twice", welfare.Remove{Entry: corrected.Entry}, "entry", "entry.missing")

	r.do(animals.Remove{ID: r.animal})
	for name, c := range map[string]model.Command{
		"a visit":    welfare.Observe{Tables: r.tables, About: r.about(), Observation: welfare.Observation{Setting: knowledge.Untouched, None: true}},
		"a handling": lifted, "a new contact": bite,
		"a change": welfare.Try{About: r.about(), Change: welfare.Change{What: "x", Setting: knowledge.Handled, Hoped: welfare.LessUnease}},
	} {
		refused(name, c, "animal", "animal.missing")
	}
	bite.Entry, bite.Base, bite.Washed = model.EntryID{ID: d.ID}, d.Revision, true
	refused("a contact put right", bite, "animal", "contact.animal-missing")
	r.do(welfare.Remove{Entry: bite.Entry})
}

// A person who is taken out takes along what befell that person; undone, both are back.
func TestNoteContact_GoesWithThePerson(t *testing.T) {
	r := newRoom(t)
	bite := r.do(welfare.NoteContact{Person: r.person, At: r.now, PersonContact: welfare.PersonContact{What: welfare.Bite, Animal: r.animal, Note: "a finger"}})
	lifted := r.do(welfare.Handle{Tables: r.tables, About: r.about(), Handling: welfare.Handling{Lifts: 1}})
	there := func(d model.Document) bool {
		return r.View(func(v model.View) error { _, err := v.Document(d.ID); return err }) == nil
	}
	r.do(people.Remove{ID: r.person})
	if there(bite) || !there(lifted) {
		t.Errorf("the bite is there: %v; what the person did: %v", there(bite), there(lifted))
	}
	if _, err := r.Undo(); err != nil || !there(bite) {
		t.Errorf("undone: %v, %v", err, there(bite))
	}
}
