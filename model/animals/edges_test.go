package animals_test

import (
	"errors"
	"strings"
	"testing"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/storetest"
)

// The last value that is taken stands, the next one is refused.
func TestLimitsOfWhatIsKnownOfAnAnimal(t *testing.T) {
	today := model.DayOf(storetest.Start())
	for name, c := range map[string]struct {
		change func(*animals.Animal)
		want   string
	}{
		"a name of 80 signs":          {func(a *animals.Animal) { a.Name = strings.Repeat("ü", 80) }, ""},
		"a morph of 200 signs":        {func(a *animals.Animal) { a.Morph = strings.Repeat("ü", 200) }, ""},
		"a morph of 201 signs":        {func(a *animals.Animal) { a.Morph = strings.Repeat("ü", 201) }, "text.long"},
		"a note of 10,000 signs":      {func(a *animals.Animal) { a.Note = strings.Repeat("ü", 10_000) }, ""},
		"a note of 10,001 signs":      {func(a *animals.Animal) { a.Note = strings.Repeat("ü", 10_001) }, "text.long"},
		"a control sign at the front": {func(a *animals.Animal) { a.Code = "\x07P-7" }, "text.control"},
		"no text at all":              {func(a *animals.Animal) { a.Origin = "north \xff" }, "text.control"},
		"lines and tabs in a note":    {func(a *animals.Animal) { a.Note = "\tshy\nlate feeder" }, ""},

		"a female":                {func(a *animals.Animal) { a.Sex = animals.Female }, ""},
		"a male":                  {func(a *animals.Animal) { a.Sex = animals.Male }, ""},
		"a sex that is none":      {func(a *animals.Animal) { a.Sex = "both" }, "choice.unknown"},
		"a female that has laid":  {func(a *animals.Animal) { a.Sex, a.SexHow = animals.Female, animals.HowLaid }, ""},
		"a male that has sired":   {func(a *animals.Animal) { a.Sex, a.SexHow = animals.Male, animals.HowSired }, ""},
		"a female that has sired": {func(a *animals.Animal) { a.Sex, a.SexHow = animals.Female, animals.HowSired }, "sex-how.other-sex"},
		"a chip of another kind":  {func(a *animals.Animal) { a.Chip = animals.Chip{Digits: "A 417 0981", Standard: animals.ChipOther} }, ""},
		"a chip of no kind":       {func(a *animals.Animal) { a.Chip = animals.Chip{Digits: "276098102204417", Standard: "new"} }, "choice.unknown"},
		"a chip of 40 signs": {func(a *animals.Animal) {
			a.Chip = animals.Chip{Digits: strings.Repeat("1", 40), Standard: animals.ChipOther}
		}, ""},
		"a chip with a bell": {func(a *animals.Animal) {
			a.Chip = animals.Chip{Digits: "1\a", Standard: animals.ChipOther}
		}, "chip.not-readable"},

		"hatched today":              {func(a *animals.Animal) { a.Hatched = dated(model.ToDay, today) }, ""},
		"come on the day it hatched": {func(a *animals.Animal) { a.Hatched, a.Since = on(2024, 1, 9), on(2024, 1, 9) }, ""},
		"come the day before":        {func(a *animals.Animal) { a.Hatched, a.Since = on(2024, 1, 9), on(2024, 1, 8) }, "day.before-hatching"},
		"come in the year it hatched": {func(a *animals.Animal) {
			a.Hatched, a.Since = on(2024, 1, 9), dated(model.ToYear, model.NewDay(2024, 1, 1))
		}, ""},
		"come in the year before": {func(a *animals.Animal) {
			a.Hatched, a.Since = on(2024, 1, 9), dated(model.ToYear, model.NewDay(2023, 1, 1))
		}, "day.before-hatching"},
		"come in the month before": {func(a *animals.Animal) {
			a.Hatched, a.Since = on(2024, 1, 9), dated(model.ToMonth, model.NewDay(2023, 12, 1))
		}, "day.before-hatching"},
		"come in 1965, hatched who knows when": {func(a *animals.Animal) { a.Since = dated(model.ToYear, model.NewDay(1965, 1, 1)) }, ""},
		"measured before it hatched": {func(a *animals.Animal) {
			a.Hatched, a.Length.On = on(2024, 1, 9), on(2024, 1, 8)
		}, "day.before-hatching"},

		"10 m":               {func(a *animals.Animal) { a.Length.SnoutVent.Tenths = animals.MaxSnoutVent }, ""},
		"a hair more":        {func(a *animals.Animal) { a.Length.SnoutVent.Tenths = animals.MaxSnoutVent + 1 }, "length.range"},
		"less than nothing":  {func(a *animals.Animal) { a.Length.SnoutVent.Tenths = -1 }, "length.range"},
		"its own photo":      {func(a *animals.Animal) { a.Photos, a.Portrait = []model.PhotoID{"0a", "0b"}, "0b" }, ""},
		"another's portrait": {func(a *animals.Animal) { a.Photos, a.Portrait = []model.PhotoID{"0a"}, "0b" }, "portrait.not-hers"},
	} {
		collection, _ := storetest.New(t)
		animal := animals.Animal{Name: "Juno"}
		c.change(&animal)
		if _, err := collection.Do(animals.Add{Animal: animal}); reason(err) != c.want {
			t.Errorf("%s: %v, want %q", name, err, c.want)
		}
	}
}

func dated(precision model.Precision, day model.Day) model.Date {
	return model.Date{Day: day, Precision: precision}
}

func TestWarningsOfChips(t *testing.T) {
	for digits, want := range map[string]int{
		"": 0, "276": 0, "2761": 1, "276098102204417": 0, "276000000000000": 1, "276000000000001": 0, "276100000000000": 0,
	} {
		if got := iso(digits).Warnings(); len(got) != want {
			t.Errorf("%s: warns %v, want %d", digits, got, want)
		}
	}
}

func TestTheDayOfAStatus(t *testing.T) {
	c, _ := storetest.New(t)
	done, err := c.Do(animals.Add{Animal: animals.Animal{Name: "Juno"}})
	if err != nil {
		t.Fatal(err)
	}
	juno := model.AnimalID{ID: done.Documents[0]}
	find := func(id model.AnimalID) (s animals.Stored, err error) {
		err = c.View(func(v model.View) (failed error) { s, failed = animals.Find(v, id); return failed })
		return s, err
	}
	for revision, status := range animals.Statuses() {
		done, err := c.Do(animals.SetStatus{ID: juno, Base: uint32(revision + 1), Status: status, Day: on(2027, 1, 5)})
		if err != nil {
			t.Fatal(err)
		}
		want := on(2027, 1, 5)
		if status == animals.Kept {
			want = model.Date{} // it always was
		}
		s, err := find(juno)
		if err != nil || s.ID != juno || s.Status != status || s.StatusDay != want {
			t.Errorf("%s: %+v, %v", status, s, err)
		}
		if done.Label.Gaps["Status"].Text != "animals.status."+string(status) {
			t.Errorf("label %+v", done.Label)
		}
	}
	if _, err := find(model.AnimalID{ID: model.ID{99}}); !errors.Is(err, model.ErrNotFound) {
		t.Errorf("one that is not there: %v", err)
	}
}

// An animal that only a newer version of the program can read keeps the list from
// passing for whole, and no name is given away beside it.
func TestAnAnimalOfANewerVersion(t *testing.T) {
	c, _ := storetest.New(t)
	later := model.Document{ID: model.ID{7}, Type: model.TypeAnimal}
	if err := later.Encode(animals.Version+1, animals.Animal{Name: "Juno"}); err != nil {
		t.Fatal(err)
	}
	if _, err := c.Do(storetest.Put{Documents: []model.Document{later}}); err != nil {
		t.Fatal(err)
	}
	err := c.View(func(v model.View) error {
		all, err := animals.All(v)
		if all != nil {
			t.Errorf("listed %+v", all)
		}
		return err
	})
	if !errors.Is(err, model.ErrNewer) {
		t.Errorf("listing: %v", err)
	}
	if _, err := c.Do(animals.Add{Animal: animals.Animal{Name: "Juno"}}); !errors.Is(err, model.ErrNewer) {
		t.Errorf("adding beside it: %v", err)
	}
}

func TestOnlyAnAnimalIsChanged(t *testing.T) {
	c, _ := storetest.New(t)
	entry := storetest.Entry(model.ID{7}, model.ID{1}, 0, "x")
	if _, err := c.Do(storetest.Put{Documents: []model.Document{entry}}); err != nil {
		t.Fatal(err)
	}
	id := model.AnimalID{ID: entry.ID}
	for _, command := range []model.Command{
		animals.Change{ID: id, Base: 1, Animal: animals.Animal{Name: "Juno"}}, animals.SetStatus{ID: id, Base: 1, Status: animals.Sold}, animals.Remove{ID: id},
	} {
		if _, err := c.Do(command); !errors.Is(err, model.ErrNotFound) {
			t.Errorf("%s of an entry: %v", command.Name(), err)
		}
	}
	if _, err := animals.Decode(entry); err == nil {
		t.Error("an entry was read as an animal")
	}
}

// planted puts a document of another type under an id of its own.
type planted struct{}

func (planted) Name() string { return "animals.planted" }

func (planted) Plan(v model.View) (model.Writes, error) {
	d := model.Document{Type: model.TypePerson, ID: v.NewID(), Version: 1, Body: []byte(`{}`)}
	return model.Writes{Put: []model.Document{d}, Label: model.Label{Key: "people.done.add"}}, nil
}

// What is asked for by the id of something else is not there: a change names all
// documents that it touched, and one who lists animals asks for each.
func TestFind_AnotherDocumentIsNoAnimal(t *testing.T) {
	c, _ := storetest.New(t)
	done, err := c.Do(planted{})
	if err != nil {
		t.Fatal(err)
	}
	err = c.View(func(v model.View) error {
		_, err := animals.Find(v, model.AnimalID{ID: done.Documents[0]})
		return err
	})
	if !errors.Is(err, model.ErrNotFound) {
		t.Errorf("a person asked for as an animal: %v", err)
	}
}
