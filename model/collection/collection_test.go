package collection_test

import (
	"errors"
	"fmt"
	"slices"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"coilward/model"
	"coilward/model/collection"
	"coilward/model/storetest"
)

var (
	animal = model.ID{1}
	other  = model.ID{2}
	first  = model.ID{11}
	second = model.ID{12}
)

func put(all ...model.Document) model.Command { return storetest.Put{Documents: all} }

func do(t *testing.T, c *collection.Collection, command model.Command) collection.Change {
	t.Helper()
	change, err := c.Do(command)
	if err != nil {
		t.Fatal(err)
	}
	return change
}

func document(t *testing.T, c *collection.Collection, id model.ID) (d model.Document, err error) {
	t.Helper()
	viewError := c.View(func(v model.View) error {
		d, err = v.Document(id)
		return nil
	})
	if viewError != nil {
		t.Fatal(viewError)
	}
	return d, err
}

// body is the present body, "-" of a document that is not present.
func body(t *testing.T, c *collection.Collection, id model.ID) string {
	t.Helper()
	d, err := document(t, c, id)
	if errors.Is(err, model.ErrNotFound) {
		return "-"
	}
	if err != nil {
		t.Fatal(err)
	}
	return string(d.Body)
}

func changed(t *testing.T, c *collection.Collection, id model.ID, to any) model.Document {
	t.Helper()
	d, err := document(t, c, id)
	if err != nil {
		t.Fatal(err)
	}
	if err := d.Encode(1, to); err != nil {
		t.Fatal(err)
	}
	return d
}

func TestNewNeedsStoreAndClock(t *testing.T) {
	for _, o := range []collection.Options{{}, {NewID: func() model.ID { return first }}} {
		if _, err := collection.New(storetest.Memory(), o); err == nil {
			t.Error("a collection without a clock was made")
		}
	}
	if _, err := collection.New(nil, collection.Options{Now: time.Now}); err == nil {
		t.Error("a collection without a store was made")
	}
}

func TestDoSetsRevisionAndTime(t *testing.T) {
	c, clock := storetest.New(t)
	do(t, c, put(storetest.Entry(first, animal, 5, "a")))
	clock.Pass(time.Hour)
	do(t, c, put(changed(t, c, first, "b")))
	d, err := document(t, c, first)
	if err != nil || d.Revision != 2 || d.Written != model.MomentOf(clock.Now()) || string(d.Body) != `"b"` {
		t.Errorf("present: %+v, %v", d, err)
	}
	history, err := c.History(first)
	if err != nil || len(history) != 2 || history[0].Present || !history[1].Present || string(history[0].Document.Body) != `"a"` {
		t.Errorf("history %+v, %v", history, err)
	}
	if history[0].Document.Written != model.MomentOf(storetest.Start()) {
		t.Errorf("first written %+v", history[0].Document.Written)
	}
}

func TestStaleChangesConflict(t *testing.T) {
	c, _ := storetest.New(t)
	do(t, c, put(storetest.Entry(first, animal, 5, "a")))
	stale := changed(t, c, first, "stale")
	do(t, c, put(changed(t, c, first, "b")))
	for what, command := range map[string]model.Command{
		"an old revision":          put(stale),
		"a new one of the same id": put(storetest.Entry(first, animal, 5, "again")),
		"one never written":        put(func() model.Document { d := stale; d.Revision = 9; return d }()),
		"one of two":               put(storetest.Entry(second, animal, 5, "x"), stale),
	} {
		if _, err := c.Do(command); !errors.Is(err, model.ErrConflict) {
			t.Errorf("%s: %v, want ErrConflict", what, err)
		}
	}
	if body(t, c, first) != `"b"` || body(t, c, second) != "-" {
		t.Errorf("a refused command changed something: %s %s", body(t, c, first), body(t, c, second))
	}
}

func TestRemovedDocuments(t *testing.T) {
	c, _ := storetest.New(t)
	do(t, c, put(storetest.Entry(first, animal, 5, "a")))
	do(t, c, storetest.Remove{IDs: []model.ID{first}})
	if body(t, c, first) != "-" {
		t.Error("removed, but present")
	}
	if err := c.View(func(v model.View) error {
		all, err := v.Revisions(first)
		if len(all) != 1 {
			t.Errorf("%d revisions are left, want 1", len(all))
		}
		return err
	}); err != nil {
		t.Error(err)
	}
	if _, err := c.Do(storetest.Remove{IDs: []model.ID{first}}); !errors.Is(err, model.ErrNotFound) {
		t.Errorf("removed twice: %v, want ErrNotFound", err)
	}
	do(t, c, put(storetest.Entry(first, animal, 5, "new life")))
	if d, err := document(t, c, first); err != nil || d.Revision != 2 {
		t.Errorf("written again: %+v, %v, want revision 2", d, err)
	}
}

func TestCommandsThatCannotBe(t *testing.T) {
	c, _ := storetest.New(t)
	whole := storetest.Entry(first, animal, 5, "a")
	bad := func(change func(*model.Document)) model.Command {
		d := whole
		d.Subjects = slices.Clone(d.Subjects)
		change(&d)
		return put(d)
	}
	for what, command := range map[string]model.Command{
		"no id":                bad(func(d *model.Document) { d.ID = model.ID{} }),
		"no type":              bad(func(d *model.Document) { d.Type = "" }),
		"a zero in the type":   bad(func(d *model.Document) { d.Type = "a\x00b" }),
		"no body":              bad(func(d *model.Document) { d.Body = nil }),
		"a body not JSON":      bad(func(d *model.Document) { d.Body = []byte("{") }),
		"a subject of nothing": bad(func(d *model.Document) { d.Subjects[0].ID = model.ID{} }),
		"a subject of no kind": bad(func(d *model.Document) { d.Subjects[0].Kind = "" }),
		"a zero in the kind":   bad(func(d *model.Document) { d.Subjects[0].Kind = "a\x00" }),
		"written twice":        put(whole, whole),
		"written and removed":  storetest.Mixed{Put: storetest.Put{Documents: []model.Document{whole}}, Remove: []model.ID{first}},
		"nothing to remove":    storetest.Remove{IDs: []model.ID{second}},
	} {
		if _, err := c.Do(command); err == nil {
			t.Errorf("%s: accepted", what)
		}
	}
	if body(t, c, first) != "-" {
		t.Error("a command that failed changed something")
	}
}

func TestRefusalComesThrough(t *testing.T) {
	c, _ := storetest.New(t)
	want := &model.Refusal{Field: "mass", Value: "0", Reason: "mass.zero", Answer: model.Mend}
	_, err := c.Do(refused{want})
	var got *model.Refusal
	if !errors.As(err, &got) || got != want {
		t.Errorf("do: %v, want the refusal", err)
	}
}

type refused struct{ err error }

func (refused) Name() string                            { return "test.refused" }
func (r refused) Plan(model.View) (model.Writes, error) { return model.Writes{}, r.err }

func TestCommandWithoutWrites(t *testing.T) {
	c, _ := storetest.New(t)
	do(t, c, put(storetest.Entry(first, animal, 5, "a")))
	if _, err := c.Undo(); err != nil {
		t.Fatal(err)
	}
	c.Subscribe(func(collection.Change) { t.Error("told of nothing") })
	if change := do(t, c, put()); !change.Empty() || change.Sequence != 2 {
		t.Errorf("change %+v", change)
	}
	if _, ok := c.CanRedo(); !ok {
		t.Error("a command without writes took the redo away")
	}
}

func TestUndoAndRedo(t *testing.T) {
	c, _ := storetest.New(t)
	state := func() string { return body(t, c, first) + body(t, c, second) }
	do(t, c, put(storetest.Entry(first, animal, 5, 1)))
	do(t, c, put(changed(t, c, first, 2), storetest.Entry(second, other, 6, 2)))
	do(t, c, storetest.Remove{IDs: []model.ID{first}})
	for _, step := range []struct {
		name string
		do   func() (collection.Change, error)
		want string
	}{
		{"undo", c.Undo, "22"}, {"undo", c.Undo, "1-"}, {"redo", c.Redo, "22"}, {"undo", c.Undo, "1-"}, {"undo", c.Undo, "--"},
		{"redo", c.Redo, "1-"}, {"redo", c.Redo, "22"}, {"redo", c.Redo, "-2"},
	} {
		if _, err := step.do(); err != nil || state() != step.want {
			t.Fatalf("%s gave %s, %v, want %s", step.name, state(), err, step.want)
		}
	}
	if _, err := c.Redo(); !errors.Is(err, collection.ErrNothing) {
		t.Errorf("redo of nothing: %v", err)
	}
	for range 3 {
		if _, err := c.Undo(); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := c.Undo(); !errors.Is(err, collection.ErrNothing) {
		t.Errorf("undo of nothing: %v", err)
	}
	do(t, c, put(storetest.Entry(second, animal, 5, 9)))
	if _, ok := c.CanRedo(); ok {
		t.Error("what was undone before a new command can be redone")
	}
	if state() != "-9" {
		t.Errorf("state %s", state())
	}
}

// What was settled stays whatever is undone and redone around it, and can neither be
// taken back nor end what could be redone.
func TestUndoAndRedoPassByWhatWasSettled(t *testing.T) {
	c, _ := storetest.New(t)
	settle := func(command model.Command) {
		t.Helper()
		change, err := c.Settle(command)
		if err != nil || !change.Settled {
			t.Fatalf("settle: %+v, %v", change, err)
		}
	}
	settle(put(storetest.Entry(model.ID{13}, other, 5, 7)))
	if _, ok := c.CanUndo(); ok {
		t.Error("what was settled first can be undone")
	}
	do(t, c, put(storetest.Entry(first, animal, 5, 1)))
	settle(put(storetest.Entry(second, other, 6, 2)))
	state := func() string { return body(t, c, first) + body(t, c, second) }
	if change, err := c.Undo(); err != nil || state() != "-2" || change.Settled {
		t.Errorf("undo gave %s, %v", state(), err)
	}
	settle(put(changed(t, c, second, 3)))
	if _, err := c.Redo(); err != nil || state() != "13" {
		t.Errorf("redo gave %s, %v", state(), err)
	}
	if _, err := c.Undo(); err != nil || state() != "-3" {
		t.Errorf("undo gave %s, %v", state(), err)
	}
	if _, err := c.Undo(); !errors.Is(err, collection.ErrNothing) {
		t.Errorf("undo of what was settled: %v", err)
	}
}

func TestCanUndoSaysWhat(t *testing.T) {
	c, _ := storetest.New(t)
	if _, ok := c.CanUndo(); ok {
		t.Error("an empty collection can be undone")
	}
	do(t, c, put(storetest.Entry(first, animal, 5, 1), storetest.Entry(second, animal, 5, 1)))
	do(t, c, storetest.Remove{IDs: []model.ID{first}})
	if label, ok := c.CanUndo(); !ok || label.Key != "test.remove" {
		t.Errorf("undo %+v, %t", label, ok)
	}
	if _, err := c.Undo(); err != nil {
		t.Fatal(err)
	}
	label, ok := c.CanUndo()
	want := model.Label{Key: "test.put", Gaps: map[string]model.Gap{"Count": model.CountGap(2)}}
	if diff := cmp.Diff(want, label); !ok || diff != "" {
		t.Error(diff)
	}
	if label, ok := c.CanRedo(); !ok || label.Key != "test.remove" {
		t.Errorf("redo %+v, %t", label, ok)
	}
}

// A number is never given twice, also after an undo.
func TestRevisionsAfterUndoGoOn(t *testing.T) {
	c, _ := storetest.New(t)
	do(t, c, put(storetest.Entry(first, animal, 5, 1)))
	do(t, c, put(changed(t, c, first, 2)))
	if _, err := c.Undo(); err != nil {
		t.Fatal(err)
	}
	do(t, c, put(changed(t, c, first, 3)))
	d, err := document(t, c, first)
	if err != nil || d.Revision != 3 {
		t.Errorf("%+v, %v, want revision 3", d, err)
	}
	if _, err := c.Undo(); err != nil || body(t, c, first) != "1" {
		t.Errorf("undo gave %s, %v", body(t, c, first), err)
	}
}

func TestChangeSaysWhatIsOutOfDate(t *testing.T) {
	c, _ := storetest.New(t)
	do(t, c, put(storetest.Entry(first, animal, 5, 1)))
	d := changed(t, c, first, 2)
	d.Subjects = []model.Subject{{Kind: model.SubjectAnimal, ID: other}, {Kind: model.SubjectPerson, ID: second}}
	beast := model.Document{Type: model.TypeAnimal, ID: animal, Body: []byte(`{}`)}
	change := do(t, c, put(d, beast))
	want := collection.Change{
		Sequence: 2, Documents: []model.ID{first, animal}, Types: []model.DocumentType{model.TypeEntry, model.TypeAnimal},
		Subjects: []model.Subject{
			{Kind: model.SubjectAnimal, ID: animal}, {Kind: model.SubjectAnimal, ID: other}, {Kind: model.SubjectPerson, ID: second},
		},
		Label: change.Label,
	}
	if diff := cmp.Diff(want, change); diff != "" {
		t.Error(diff)
	}
	undone, err := c.Undo()
	if err != nil || !undone.Undone || undone.Redone || len(undone.Subjects) != 3 || undone.Sequence != 3 || undone.Label.Key != "test.put" {
		t.Errorf("undo: %+v, %v", undone, err)
	}
	if redone, err := c.Redo(); err != nil || !redone.Redone || redone.Undone || len(redone.Documents) != 2 {
		t.Errorf("redo: %+v, %v", redone, err)
	}
}

func TestTimeline(t *testing.T) {
	c, _ := storetest.New(t)
	entries := []model.Document{
		storetest.Entry(model.ID{3}, animal, -1000, "before 1970"), storetest.Entry(model.ID{4}, animal, 0, 0), storetest.Entry(model.ID{5}, animal, 10, 0),
		storetest.Entry(model.ID{6}, animal, 10, 0), storetest.Entry(model.ID{7}, animal, 20, 0), storetest.Entry(model.ID{8}, other, 10, 0),
		{Type: model.TypeAnimal, ID: model.ID{9}, Subjects: []model.Subject{{Kind: model.SubjectAnimal, ID: animal}}, Body: []byte(`{}`)},
	}
	do(t, c, put(entries...))
	for _, test := range []struct {
		from, to int64
		want     string
	}{
		{model.Beginning, model.EndOfTime, "7 6 5 4 3"}, {0, 20, "6 5 4"}, {10, 11, "6 5"}, {-1000, 0, "3"}, {21, model.EndOfTime, ""}, {10, 10, ""}, {20, 0, ""},
	} {
		var got []byte
		if err := c.View(func(v model.View) error {
			return v.Timeline(model.Subject{Kind: model.SubjectAnimal, ID: animal}, test.from, test.to, func(d model.Document) bool {
				got = append(got, ' ', '0'+d.ID[0])
				return true
			})
		}); err != nil || len(got) > 0 && string(got[1:]) != test.want || len(got) == 0 && test.want != "" {
			t.Errorf("from %d to %d: %q, %v, want %q", test.from, test.to, got, err, test.want)
		}
	}
}

func TestTimelineAndAllStop(t *testing.T) {
	c, _ := storetest.New(t)
	do(t, c, put(storetest.Entry(first, animal, 1, 0), storetest.Entry(second, animal, 2, 0)))
	n := 0
	visit := func(model.Document) bool { n++; return false }
	if err := c.View(func(v model.View) error {
		return errors.Join(v.All(model.TypeEntry, visit), v.Timeline(model.Subject{Kind: model.SubjectAnimal, ID: animal}, 0, 9, visit))
	}); err != nil || n != 2 {
		t.Errorf("%d visited, want one each: %v", n, err)
	}
}

func TestAllIsByTypeAndID(t *testing.T) {
	c, _ := storetest.New(t)
	for _, id := range []byte{5, 3, 4} {
		do(t, c, put(model.Document{Type: "animals", ID: model.ID{id + 10}, Body: []byte(`{}`)}, model.Document{Type: model.TypeAnimal, ID: model.ID{id}, Body: []byte(`{}`)}))
	}
	var got []byte
	if err := c.View(func(v model.View) error {
		return v.All(model.TypeAnimal, func(d model.Document) bool { got = append(got, d.ID[0]); return true })
	}); err != nil || !slices.Equal(got, []byte{3, 4, 5}) {
		t.Errorf("%v, %v, want 3 4 5", got, err)
	}
}

func TestJournal(t *testing.T) {
	c, clock := storetest.New(t)
	do(t, c, put(storetest.Entry(first, animal, 5, 1)))
	clock.Pass(time.Minute)
	if _, err := c.Undo(); err != nil {
		t.Fatal(err)
	}
	if _, err := c.Redo(); err != nil {
		t.Fatal(err)
	}
	var all []collection.Entry
	collect := func(e collection.Entry) bool { all = append(all, e); return len(all) < 3 }
	if err := c.Journal(0, collect); err != nil || len(all) != 3 {
		t.Fatalf("%d entries, %v", len(all), err)
	}
	redo, undo, done := all[0], all[1], all[2]
	if redo.Redoes != 2 || undo.Undoes != 1 || done.Command != "test.put" || undo.Command != "test.put" {
		t.Errorf("journal %+v", all)
	}
	if done.At != model.MomentOf(storetest.Start()) || undo.At != model.MomentOf(clock.Now()) {
		t.Errorf("times %v %v", done.At, undo.At)
	}
	if diff := cmp.Diff([]collection.Step{{ID: first, Old: 0, New: 1}}, done.Steps); diff != "" {
		t.Error(diff)
	}
	all = nil
	if err := c.Journal(2, collect); err != nil || len(all) != 1 || all[0].Sequence != 1 {
		t.Errorf("before 2: %+v, %v", all, err)
	}
}

func TestViewOfAPlan(t *testing.T) {
	c, clock := storetest.New(t)
	do(t, c, put(storetest.Entry(first, animal, 5, 1)))
	do(t, c, watching(func(v model.View) {
		one, other := v.NewID(), v.NewID()
		if v.Sequence() != 1 || v.Now() != model.MomentOf(clock.Now()) || one == other {
			t.Errorf("sequence %d, now %v", v.Sequence(), v.Now())
		}
		if d, err := v.Document(first); err != nil || d.Revision != 1 {
			t.Errorf("document %+v, %v", d, err)
		}
	}))
}

type watching func(model.View)

func (watching) Name() string { return "test.watching" }
func (w watching) Plan(v model.View) (model.Writes, error) {
	w(v)
	return model.Writes{}, nil
}

func TestListeners(t *testing.T) {
	c, _ := storetest.New(t)
	var heard []string
	note := func(name string) func(collection.Change) {
		return func(change collection.Change) { heard = append(heard, fmt.Sprint(name, change.Sequence)) }
	}
	cancel := c.Subscribe(note("a"))
	c.Subscribe(note("b"))
	do(t, c, put(storetest.Entry(first, animal, 5, 1)))
	cancel()
	cancel()
	if _, err := c.Undo(); err != nil {
		t.Fatal(err)
	}
	if _, err := c.Do(refused{errors.New("no")}); err == nil {
		t.Fatal("not refused")
	}
	if want := []string{"a1", "b1", "b2"}; !slices.Equal(heard, want) {
		t.Errorf("heard %v, want %v", heard, want)
	}
}

// A listener may change the collection; the others hear both in order.
func TestListenerThatChanges(t *testing.T) {
	c, _ := storetest.New(t)
	var heard []uint64
	c.Subscribe(func(change collection.Change) {
		if change.Sequence == 1 {
			do(t, c, put(storetest.Entry(second, animal, 5, 1)))
		}
	})
	c.Subscribe(func(change collection.Change) { heard = append(heard, change.Sequence) })
	do(t, c, put(storetest.Entry(first, animal, 5, 1)))
	if !slices.Equal(heard, []uint64{1, 2}) {
		t.Errorf("heard %v, want 1 2", heard)
	}
}

func TestListenerThatPanics(t *testing.T) {
	c, _ := storetest.New(t)
	var heard []uint64
	cancel := c.Subscribe(func(collection.Change) { panic("no") })
	c.Subscribe(func(change collection.Change) { heard = append(heard, change.Sequence) })
	func() {
		defer func() {
			if recover() == nil {
				t.Error("the panic was swallowed")
			}
		}()
		do(t, c, put(storetest.Entry(first, animal, 5, 1)))
	}()
	cancel()
	do(t, c, put(storetest.Entry(second, animal, 5, 1)))
	if !slices.Equal(heard, []uint64{2}) {
		t.Errorf("heard %v, want the change after the panic", heard)
	}
}

func TestManyGoroutinesInOrder(t *testing.T) {
	c, _ := storetest.New(t)
	var heard []uint64
	c.Subscribe(func(change collection.Change) { heard = append(heard, change.Sequence) })
	var group sync.WaitGroup
	for g := range 8 {
		group.Go(func() {
			for i := range 20 {
				id := model.ID{byte(g + 1), byte(i + 1)}
				if _, err := c.Do(put(storetest.Entry(id, animal, int64(i), g))); err != nil {
					t.Error(err)
				}
			}
		})
	}
	group.Wait()
	do(t, c, put(storetest.Entry(first, animal, 5, 1))) // after it, none is waiting
	if len(heard) != 161 || !slices.IsSorted(heard) {
		t.Errorf("heard %d changes, in order %t, want 161", len(heard), slices.IsSorted(heard))
	}
}

func TestIDsGrowAndAreOfVersion7(t *testing.T) {
	clock := storetest.NewClock()
	c, err := collection.New(storetest.Memory(), collection.Options{Now: clock.Now})
	if err != nil {
		t.Fatal(err)
	}
	var last model.ID
	next := func(v model.View) {
		t.Helper()
		id := v.NewID()
		if id.String() <= last.String() || id[6]>>4 != 7 || id[8]>>6 != 2 {
			t.Errorf("after %s comes %s", last, id)
		}
		last = id
	}
	if err := c.View(func(v model.View) error {
		for range 10_000 { // more than a millisecond has place for
			next(v)
		}
		clock.Pass(-time.Hour)
		next(v)
		clock.Pass(2 * time.Hour)
		next(v)
		millis := clock.Now().UnixMilli()
		for i := 5; i >= 0; i-- {
			if last[i] != byte(millis) {
				t.Errorf("id %s does not hold the time %x", last, clock.Now().UnixMilli())
				break
			}
			millis >>= 8
		}
		return nil
	}); err != nil {
		t.Fatal(err)
	}
}
