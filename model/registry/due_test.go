package registry_test

import (
	"context"
	"errors"
	"slices"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"coilward/assets"
	"coilward/model"
	"coilward/model/collection"
	"coilward/model/due"
	"coilward/model/knowledge"
	"coilward/model/storetest"
)

// dueGenerators draw answers to what is due just now.
func dueGenerators(tables *knowledge.Tables) storetest.Generators {
	return storetest.Generators{
		"due.answer": func(t *rapid.T, v model.View) model.Command {
			items := bring(t, due.NewBook(tables), seen{v}).Items
			if len(items) == 0 {
				return nil
			}
			i := rapid.SampledFrom(items).Draw(t, "item")
			return due.Respond{Tables: tables, Key: i.Key, What: rapid.SampledFrom(due.Whats()).Draw(t, "what"),
				Until: v.Now().Day() + model.Day(rapid.IntRange(0, 40).Draw(t, "days")), Why: drawText(t)}
		},
		"due.withdraw": func(t *rapid.T, v model.View) model.Command {
			d, ok := pick(t, v, model.TypeAnswer, present)
			if !ok {
				return nil
			}
			return due.Withdraw{Answer: due.AnswerID{ID: d.ID}}
		},
	}
}

// seen is a view as a source.
type seen struct{ view model.View }

func (s seen) View(read func(model.View) error) error { return read(s.view) }

func bring(t *rapid.T, b *due.Book, c due.Source) due.List {
	t.Helper()
	l, err := b.Bring(context.Background(), c, nil)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// What a book that is told of each change says is what a new one finds, after any
// sequence of commands, undoing and redoing, while minutes and days pass.
func TestWhatIsDueIsDerivedAnewWhereItWasTouched(t *testing.T) {
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	all := generators()
	var names []string
	for name := range all {
		names = append(names, name)
	}
	slices.Sort(names)
	names = append(names, "animals.add", "care.feed", "care.feed", "care.weigh", "exam.finish", "exam.finish", "due.answer", "due.answer")
	rapid.Check(t, func(t *rapid.T) {
		clock := storetest.NewClock()
		c, err := collection.New(storetest.Memory(), collection.Options{Now: clock.Now})
		if err != nil {
			t.Fatal(err)
		}
		book := due.NewBook(tables)
		c.Subscribe(func(change collection.Change) { book.Touch(change.Sequence, change.Subjects, change.Types...) })
		for range rapid.IntRange(1, 12).Draw(t, "steps") {
			change(t, c, all, rapid.SampledFrom(names).Draw(t, "command"))
			clock.Pass(time.Duration(rapid.SampledFrom([]int{0, 0, 1, 59, 60, 24 * 60, 40 * 24 * 60}).Draw(t, "minutes")) * time.Minute)
			if diff := cmp.Diff(bring(t, due.NewBook(tables), c), bring(t, book, c), cmpopts.IgnoreUnexported(due.Owner{})); diff != "" {
				t.Fatalf("found anew (-), by the book (+):\n%s", diff)
			}
		}
	})
}

// change does a command of that name, undoes the last change or redoes it.
func change(t *rapid.T, c *collection.Collection, all storetest.Generators, name string) {
	t.Helper()
	var err error
	switch rapid.IntRange(0, 5).Draw(t, "way") {
	case 0:
		_, err = c.Undo()
	case 1:
		_, err = c.Redo()
	default:
		var command model.Command
		if err := c.View(func(v model.View) error { command = all[name](t, v); return nil }); err != nil {
			t.Fatal(err)
		}
		if command == nil {
			return
		}
		_, err = c.Do(command)
	}
	if refusal := (*model.Refusal)(nil); err != nil && !errors.Is(err, collection.ErrNothing) && !errors.As(err, &refusal) {
		t.Fatalf("%s: %v", name, err)
	}
}
