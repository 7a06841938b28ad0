package due_test

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"

	"coilward/assets"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/demo"
	"coilward/model/droppings"
	"coilward/model/due"
	"coilward/model/exam"
	"coilward/model/history"
	"coilward/model/knowledge"
	"coilward/model/storetest"
	"coilward/model/wording"
)

// What is due for findings is what the animal's page and papers say of its
// standing: the same jobs, days, levels and findings. What follows from looks for mites
// and from a positive has pages and lines of its own.
func TestFindingsAreThoseOfTheStanding(t *testing.T) {
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	languages, err := wording.Load(assets.Text())
	if err != nil {
		t.Fatal(err)
	}
	c, _ := storetest.New(t)
	if err := demo.Fill(c, tables, languages.In("en", wording.Units{})); err != nil {
		t.Fatal(err)
	}
	list, err := due.NewBook(tables).Bring(context.Background(), c, nil)
	if err != nil {
		t.Fatal(err)
	}
	said := func(job string, by model.Day, level knowledge.Level, what []knowledge.FindingID) string {
		return fmt.Sprintf("%s by %s, %s, for %v", job, by, level, what)
	}
	// a weight that is asked for sooner follows from the loss, a look for faeces from
	// what was left and eaten: by no finding, and on a day that the feeder chooses
	beside := func(job due.Job, level knowledge.Level, why string) string {
		return fmt.Sprintf("%s, %s, for %s", job, level, why)
	}
	told := map[string][]string{}
	for _, i := range list.Items {
		switch {
		case i.Job == due.Weigh && i.Level > knowledge.Nothing:
			told[i.Of.Name] = append(told[i.Of.Name], beside(i.Job, i.Level, "a loss"))
			continue
		case strings.HasPrefix(i.Cause, "stool/"):
			told[i.Of.Name] = append(told[i.Of.Name], beside(i.Job, i.Level, "faeces"))
			continue
		}
		if i.Level > knowledge.Nothing && i.Job != due.MiteLook && i.Job != due.Positive && !strings.HasPrefix(i.Cause, "loss/") && !strings.HasPrefix(i.Cause, "unfed/") {
			told[i.Of.Name] = append(told[i.Of.Name], said(string(i.Job), i.By, i.Level, i.For))
		}
	}
	owed := map[string][]string{}
	if err := c.View(func(v model.View) error {
		all, err := animals.All(v)
		for _, a := range all {
			problems, err := exam.Problems(v, a.ID)
			if err != nil {
				return err
			}
			records, err := history.Read(tables, v, a, v.Now())
			if err != nil {
				return err
			}
			if !a.Status.Here() {
				continue
			}
			stand := records.Stand(tables, problems, v.Now())
			if l := stand.Loss; l.Level == knowledge.LookAgain {
				owed[a.Name] = append(owed[a.Name], beside(due.Weigh, l.Level, "a loss"))
			}
			if _, missed := droppings.Of(tables, records.Entries).Missed(tables); missed {
				owed[a.Name] = append(owed[a.Name], beside(due.LookAgain, knowledge.LookAgain, "faeces"))
			}
			for _, o := range stand.Due() {
				owed[a.Name] = append(owed[a.Name], said(string(o.Kind), o.By, o.Level, o.For))
			}
		}
		return err
	}); err != nil {
		t.Fatal(err)
	}
	if len(owed) < 4 {
		t.Fatalf("only %d animals owe something", len(owed))
	}
	for _, owner := range list.Owners {
		got, want := told[owner.Name], owed[owner.Name]
		slices.Sort(got)
		slices.Sort(want)
		if !slices.Equal(got, want) {
			t.Errorf("%s: %q, want %q", owner.Name, got, want)
		}
	}
}
