package importing_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/collection"
	"coilward/model/importing"
	"coilward/model/storetest"
)

// at is a moment some days before the clock of the tests.
func at(days int) model.Moment {
	return model.MomentOf(storetest.Start().Add(-time.Duration(days) * 24 * time.Hour))
}

func line(n int) importing.Source { return importing.Source{Sheet: "sheet", Line: n} }

func animal(n int, name string) importing.Animal {
	return importing.Animal{Source: line(n), Animal: animals.Animal{Name: name, Status: animals.Kept}}
}

func coded(n int, name, code string) importing.Animal {
	a := animal(n, name)
	a.Code = code
	return a
}

// named is an animal that only other rows name.
func named(n int, name string) importing.Animal {
	a := animal(n, name)
	a.Named = true
	return a
}

func gone(a importing.Animal) importing.Animal {
	a.Status = animals.Sold
	return a
}

func weight(n, of, days int, grams int64) importing.Entry {
	return importing.Entry{Source: line(n), New: of, At: at(days), Body: care.Weight{Mass: model.Grams(grams)}}
}

func judged(t *testing.T, c *collection.Collection, rows importing.Rows) (j importing.Judgement) {
	t.Helper()
	if err := c.View(func(v model.View) (err error) { j, err = rows.Judge(v, nil); return err }); err != nil {
		t.Fatal(err)
	}
	return j
}

// said is what was refused: the line and the reason of each.
func said(j importing.Judgement) string {
	var all []string
	for _, r := range j.Refused {
		all = append(all, fmt.Sprint(r.Line, " ", r.Refusal.Reason))
	}
	return strings.Join(all, ", ")
}

func TestJudge(t *testing.T) {
	for name, c := range map[string]struct {
		rows             importing.Rows
		animals, entries int
		refused          string
	}{
		"nothing":   {importing.Rows{}, 0, 0, ""},
		"an animal": {importing.Rows{Animals: []importing.Animal{animal(2, "Juno")}}, 1, 0, ""},
		"two of a name": {importing.Rows{Animals: []importing.Animal{animal(2, "Juno"), animal(3, "JUNO ")}},
			1, 0, "3 name.twice"},
		"two of a code": {importing.Rows{Animals: []importing.Animal{coded(2, "Juno", "P-1"), coded(3, "Brook", " p-1")}},
			1, 0, "3 movein.code-twice"},
		"two of a code, confirmed": {importing.Rows{Animals: []importing.Animal{coded(2, "Juno", "P-1"), coded(3, "Brook", " p-1")}, Confirmed: model.Confirmed{"movein.code-twice"}},
			2, 0, ""},
		"a code of one that is gone": {importing.Rows{Animals: []importing.Animal{gone(coded(2, "Juno", "P-1")), coded(3, "Brook", "P-1"), coded(4, "Kestrel", "")}},
			3, 0, ""},
		"one that only rows name, none of which can stand": {importing.Rows{Animals: []importing.Animal{named(2, "Juno"), named(3, "Brook"), animal(9, "Kestrel")},
			Entries: []importing.Entry{weight(2, 0, -1, 140), weight(3, 1, 9, 140), weight(4, 1, -1, 140)}}, 2, 1, "2 day.future, 4 day.future"},
		"entries of one that cannot stand": {importing.Rows{Animals: []importing.Animal{animal(2, ""), animal(3, "Brook")}, Entries: []importing.Entry{weight(4, 0, 9, 140), weight(5, 1, 9, 140)}},
			1, 1, "2 name.empty, 4 movein.animal-refused"},
		"the earlier comes first, wherever it stands": {importing.Rows{Animals: []importing.Animal{animal(2, "Juno")}, Entries: []importing.Entry{weight(3, 0, 1, 190), weight(4, 0, 20, 140)}},
			1, 1, "3 mass.unlike"},
		"a third more asks": {importing.Rows{Animals: []importing.Animal{animal(2, "Juno")}, Entries: []importing.Entry{weight(3, 0, 20, 140), weight(4, 0, 10, 190)}},
			1, 1, "4 mass.unlike"},
		"and is confirmed": {importing.Rows{Animals: []importing.Animal{animal(2, "Juno")}, Entries: []importing.Entry{weight(3, 0, 20, 140), weight(4, 0, 10, 190)}, Confirmed: model.Confirmed{"mass.unlike"}},
			1, 2, ""},
		"a slip of the hand asks otherwise": {importing.Rows{Animals: []importing.Animal{animal(2, "Juno")}, Entries: []importing.Entry{weight(3, 0, 20, 140), weight(4, 0, 10, 1400)}, Confirmed: model.Confirmed{"mass.unlike"}},
			1, 1, "4 mass.far"},
		"two in a minute": {importing.Rows{Animals: []importing.Animal{animal(2, "Juno")}, Entries: []importing.Entry{weight(3, 0, 20, 140), weight(4, 0, 20, 141)}},
			1, 1, "4 mass.twice"},
		"tomorrow": {importing.Rows{Animals: []importing.Animal{animal(2, "Juno")}, Entries: []importing.Entry{weight(3, 0, -1, 140)}},
			1, 0, "3 day.future"},
	} {
		t.Run(name, func(t *testing.T) {
			room, _ := storetest.New(t)
			j := judged(t, room, c.rows)
			if j.Animals != c.animals || j.Entries != c.entries || j.ByKind[care.KindWeight] != c.entries || said(j) != c.refused {
				t.Errorf("%d animals, %d entries, refused %q; want %d, %d, %q", j.Animals, j.Entries, said(j), c.animals, c.entries, c.refused)
			}
			if _, err := room.Do(c.rows); (err != nil) != (c.refused != "") {
				t.Errorf("all of them: %v", err)
			}
			if c.refused == "" {
				return
			}
			// the good ones go alone, and their entries stay with their own animals
			if good := judged(t, room, j.Good()); said(good) != "" || good.Entries != c.entries {
				t.Errorf("of the good ones %q is refused, %d entries", said(good), good.Entries)
			}
			if _, err := room.Do(j.Good()); err != nil {
				t.Error(err)
			}
		})
	}
}

// A new animal with the code of one that is here may be that one: it is not made,
// and both are named.
func TestACodeLeadsToOneAnimal(t *testing.T) {
	c, _ := storetest.New(t)
	if _, err := c.Do(animals.Add{Animal: animals.Animal{Name: "Caro", Code: "PR-003"}}); err != nil {
		t.Fatal(err)
	}
	j := judged(t, c, importing.Rows{Animals: []importing.Animal{coded(2, "Nimbus", "PR-003")}})
	if said(j) != "2 movein.code-twice" {
		t.Fatalf("refused %q", said(j))
	}
	if r := j.Refused[0].Refusal; r.Field != "code" || r.Value != "PR-003" || r.Gaps["Other"].Text != "Caro" || r.Gaps["Animal"].Text != "Nimbus" {
		t.Errorf("%+v", r)
	}
}

// What stands there once is found once: the second of two alike is made.
func TestWhatIsThereIsFoundOnce(t *testing.T) {
	c, _ := storetest.New(t)
	done, err := c.Do(animals.Add{Animal: animals.Animal{Name: "Juno"}})
	if err != nil {
		t.Fatal(err)
	}
	juno := model.AnimalID{ID: done.Documents[0]}
	if _, err := c.Do(care.WriteNote{About: care.About{Animal: juno, At: at(3)}, Note: care.Note{Text: " moved "}}); err != nil {
		t.Fatal(err)
	}
	note := importing.Entry{Of: juno, At: at(3), Body: care.Note{Text: "moved"}}
	if j := judged(t, c, importing.Rows{Entries: []importing.Entry{note, note}}); j.There != 1 || j.Entries != 1 {
		t.Errorf("%d there, %d made", j.There, j.Entries)
	}
}

// An error of the one who is told ends the judging.
func TestJudgingEndsWhenItIsNoLongerWanted(t *testing.T) {
	c, _ := storetest.New(t)
	rows := importing.Rows{Animals: []importing.Animal{animal(1, "Juno")}}
	for i := range 1000 {
		rows.Entries = append(rows.Entries, weight(2+i, 0, 1+i, 140))
	}
	stop, told := errors.New("no longer wanted"), 0
	err := c.View(func(v model.View) error {
		_, err := rows.Judge(v, func(share float64) error {
			if told++; share <= 0 || share > 1 {
				t.Errorf("a share of %f", share)
			}
			return stop
		})
		return err
	})
	if !errors.Is(err, stop) || told != 1 {
		t.Errorf("%v after %d words", err, told)
	}
}

func TestSameness(t *testing.T) {
	noon := at(3)
	day := noon
	day.Precision = model.ToDay
	later := noon
	later.UTC += 3 * 3600
	laterDay := day
	laterDay.UTC += 3600
	second := noon
	second.UTC += 59
	typed := care.Weight{Mass: model.Mass{Milligrams: 140_000, Typed: "140"}}
	for name, c := range map[string]struct {
		a, b         model.Moment
		first, other care.Body
		alike        bool
	}{
		"the same":                 {noon, noon, typed, typed, true},
		"typed otherwise":          {noon, noon, typed, care.Weight{Mass: model.Mass{Milligrams: 140_000, Typed: "0.14 kg"}}, true},
		"within the minute":        {noon, second, typed, typed, true},
		"another minute":           {noon, later, typed, typed, false},
		"another hour of the day":  {day, laterDay, typed, typed, true},
		"known less exactly":       {noon, day, typed, typed, false},
		"another mass":             {noon, noon, typed, care.Weight{Mass: model.Grams(141)}, false},
		"another gut":              {noon, noon, typed, care.Weight{Mass: model.Grams(140), Gut: care.GutFed}, false},
		"spaces around words":      {noon, noon, care.Note{Text: "moved"}, care.Note{Text: " moved\n"}, true},
		"other words":              {noon, noon, care.Note{Text: "moved"}, care.Note{Text: "Moved"}, false},
		"another kind":             {noon, noon, care.Shed{}, care.Waste{}, false},
		"prey typed otherwise":     {noon, noon, care.Meal{Each: model.Mass{Milligrams: 5, Typed: "x"}, Outcome: care.Took}, care.Meal{Each: model.Mass{Milligrams: 5}, Outcome: care.Took}, true},
		"a scale is in no table":   {noon, noon, typed, care.Weight{Mass: model.Grams(140), With: model.InstrumentID{ID: model.ID{1}}}, true},
		"a batch is no other meal": {noon, noon, care.Meal{Outcome: care.Took}, care.Meal{Outcome: care.Took, Batch: model.BatchID{ID: model.ID{1}}}, true},
		"nor is a photo":           {noon, noon, typed, care.Weight{Mass: model.Grams(140), Beside: care.Beside{Photos: []model.PhotoID{"0a"}}}, true},
		"nor one of a note":        {noon, noon, care.Note{Text: "moved"}, care.Note{Text: "moved", Photos: []model.PhotoID{"0a"}}, true},
		"another outcome":          {noon, noon, care.Meal{Outcome: care.Took}, care.Meal{Outcome: care.Refused}, false},
	} {
		if got := importing.Sameness(c.a, c.first) == importing.Sameness(c.b, c.other); got != c.alike {
			t.Errorf("%s: alike is %t", name, got)
		}
	}
}

// Whatever rows hold, each is made, there or refused; the good ones are taken
// whole, and one undo takes them back.
func TestEveryRowIsAccountedFor(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		c, _ := storetest.New(t)
		var rows importing.Rows
		for i := range rapid.IntRange(1, 4).Draw(r, "animals") {
			rows.Animals = append(rows.Animals, animal(i, rapid.SampledFrom([]string{"", "Juno", "Brook", "Kestrel"}).Draw(r, "name")))
		}
		for i := range rapid.IntRange(0, 12).Draw(r, "entries") {
			rows.Entries = append(rows.Entries, weight(10+i, rapid.IntRange(0, len(rows.Animals)-1).Draw(r, "of"), rapid.IntRange(-1, 5).Draw(r, "days"), rapid.Int64Range(0, 400).Draw(r, "grams")))
		}
		j := judged(t, c, rows)
		if j.Animals+j.Entries+j.There+len(j.Refused) != len(rows.Animals)+len(rows.Entries) {
			r.Fatalf("%d animals, %d entries, %d there, %d refused of %d rows", j.Animals, j.Entries, j.There, len(j.Refused), len(rows.Animals)+len(rows.Entries))
		}
		if j.Animals == 0 {
			return
		}
		done, err := c.Do(j.Good())
		if err != nil || len(done.Documents) != j.Animals+j.Entries {
			r.Fatalf("%v, %d documents", err, len(done.Documents))
		}
		if _, err := c.Undo(); err != nil {
			r.Fatal(err)
		}
		if again := judged(t, c, j.Good()); again.Animals != j.Animals || again.Entries != j.Entries || again.There != 0 {
			r.Fatalf("after undo: %d animals, %d entries, %d there", again.Animals, again.Entries, again.There)
		}
	})
}
