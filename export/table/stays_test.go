package table_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"coilward/export/table"
	"coilward/model"
	"coilward/model/collection"
	"coilward/model/husbandry"
	"coilward/model/storetest"
)

// housed takes a list of stays beside the places of a collection.
func (d desk) housed(t testing.TB, c *collection.Collection, name, text string, answer table.NewPlaces) table.Taken {
	t.Helper()
	b, err := table.Read(name, []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	given := d.given()
	given.NewPlaces = answer
	if c != nil {
		given.Known = known(t, c)
		if err := c.View(func(v model.View) (err error) { given.House, err = husbandry.ReadHouse(v); return err }); err != nil {
			t.Fatal(err)
		}
	}
	takings, open := d.settled(b)
	if len(open) > 0 || takings[0].Lists != table.Stays {
		t.Fatalf("asks %+v, lists %q", open, takings[0].Lists)
	}
	taken, err := table.Take(b, takings, given)
	if err != nil {
		t.Fatal(err)
	}
	return taken
}

func paths(taken table.Taken) string {
	var all []string
	for _, p := range taken.Places {
		all = append(all, fmt.Sprintf("%s (%s)", p.Path, p.Kind))
	}
	return strings.Join(all, ", ")
}

// Lists of stays are matched by their headings in both languages, with days of
// either style, and places that are not there are told with what they would be.
func TestListsOfStays(t *testing.T) {
	d := newDesk(t)
	for name, c := range map[string]struct {
		file, text       string
		stays            int
		places, bad      string
		from, until      string // of the first stay
		precision        model.Precision
		answer           table.NewPlaces
		animals, waiting int
	}{
		"English": {"stays.csv", "Animal,Box,From,Until\nJuno,Loft / Rack 2 / Box 3,2026-05-01,2026-06-01\nJuno,Loft / Rack 2 / Box 4,2026-06-01,\n", 2,
			"Loft (room), Loft / Rack 2 (rack), Loft / Rack 2 / Box 3 (tub), Loft / Rack 2 / Box 4 (tub)", "", "2026-05-01", "2026-06-01", model.ToDay, table.PlacesMade, 1, 0},
		"German": {"Umzüge.csv", "Tier;Terrarium;Seit;Bis\nJuno;Keller / Terrarium 1;03.05.2026 14:30;31.12.2026\n", 1,
			"Keller (room), Keller / Terrarium 1 (vivarium)", "", "2026-05-03", "2026-12-31", model.ToMinute, table.PlacesMade, 1, 0},
		"without ends": {"a.csv", "Name;Box;Seit\nJuno;B2;01.06.2026\nBrook;B9;1.1.2026\nJuno;B1;01.05.2026\n", 3,
			"B2 (enclosure), B9 (enclosure), B1 (enclosure)", "", "2026-06-01", "", model.ToDay, table.PlacesMade, 2, 0},
		"asked":    {"a.csv", "Name;Box;Seit\nJuno;B2;01.06.2026\n", 0, "B2 (enclosure)", "", "", "", "", table.PlacesOpen, 0, 1},
		"left out": {"a.csv", "Name;Box;Seit\nJuno;B2;01.06.2026\n", 0, "B2 (enclosure)", "table.place-unknown", "", "", "", table.PlacesLeft, 0, 0},
		"too deep": {"a.csv", "Name;Box;Seit\nJuno;A/B/C/D/E;01.06.2026\n", 0, "", "table.place-deep", "", "", "", table.PlacesMade, 0, 0},
		"in a box": {"a.csv", "Name;Box;Seit\nJuno;Box 1;01.06.2026\nBrook;Box 1/Box 2;01.06.2026\n", 1, "Box 1 (tub)", "table.place-deep", "2026-06-01", "", model.ToDay, table.PlacesMade, 1, 0},
		"no place": {"a.csv", "Name;Box;Seit\nJuno; / ;01.06.2026\nJuno;;01.06.2026\n", 0, "", "text.empty text.empty", "", "", "", table.PlacesMade, 0, 0},
		"bad days": {"a.csv", "Name;Box;Seit;Bis\nJuno;B;29.02.2025;\nJuno;B;29.02.2024;30.02.2025\nJuno;B;;1.1.2026\nJuno;B;1.2.;\nJuno;B;29.02.2024 11:30 PM;\n", 1, "B (enclosure)",
			"day.none day.none day.empty table.day-year", "2024-02-29", "", model.ToMinute, table.PlacesMade, 1, 0},
		"dots":          {"a.csv", "Name;Box;Seit\nJuno;Loft/..;01.06.2026\nJuno;...;01.06.2026\n", 0, "", "house.dots house.dots", "", "", "", table.PlacesMade, 0, 0},
		"control signs": {"a.csv", "Name;Box;Seit\nJuno;B\x001;01.06.2026\n", 0, "", "text.control", "", "", "", table.PlacesMade, 0, 0},
		"a long name":   {"a.csv", "Name;Box;Seit\nJuno;" + strings.Repeat("x", 81) + ";01.06.2026\n", 0, "", "text.long", "", "", "", table.PlacesMade, 0, 0},
	} {
		t.Run(name, func(t *testing.T) {
			taken := d.housed(t, nil, c.file, c.text, c.answer)
			if len(taken.Rows.Stays) != c.stays || paths(taken) != c.places || reasons(taken.Bad) != c.bad || len(taken.Rows.Animals) != c.animals || taken.Waiting != c.waiting {
				t.Fatalf("%d stays, %d animals, %d waiting, places %q, bad %q", len(taken.Rows.Stays), len(taken.Rows.Animals), taken.Waiting, paths(taken), reasons(taken.Bad))
			}
			if c.stays == 0 {
				return
			}
			s := taken.Rows.Stays[0]
			until := ""
			if !s.To.IsZero() {
				until = s.To.Day().String()
			}
			if s.From.Day().String() != c.from || until != c.until || s.From.Precision != c.precision {
				t.Errorf("from %s (%s) to %s", s.From.Day(), s.From.Precision, until)
			}
		})
	}
}

// Without ends, each stay lasts until the animal's next one.
func TestMovesEndEachOther(t *testing.T) {
	taken := newDesk(t).housed(t, nil, "a.csv", "Name;Box;Seit\nJuno;B2;01.06.2026\nBrook;B9;1.1.2026\nJuno;B1;01.05.2026\n", table.PlacesMade)
	if s := taken.Rows.Stays; s[2].To != s[0].From || !s[0].To.IsZero() || !s[1].To.IsZero() {
		t.Errorf("%+v", s)
	}
}

// A place is found by its path, the end of it, its name, its code and its title,
// where only one goes by it.
func TestPlacesAreFound(t *testing.T) {
	d := newDesk(t)
	c, _ := storetest.New(t)
	tub := func(name, code string) husbandry.Branch {
		return husbandry.Branch{Place: husbandry.Place{Name: name, Kind: husbandry.Tub, Code: code}}
	}
	rack := func(name string, below ...husbandry.Branch) husbandry.Branch {
		return husbandry.Branch{Place: husbandry.Place{Name: name, Kind: husbandry.Rack}, Below: below}
	}
	if _, err := c.Do(husbandry.AddPlaces{Branches: []husbandry.Branch{{Place: husbandry.Place{Name: "Loft", Kind: husbandry.Room},
		Below: []husbandry.Branch{rack("Rack 1", tub("Box 1", "L-11"), tub("Box 2", ""), tub("Rack 2", "")), rack("Rack 2", tub("Box 1", ""), tub("A/B", ""))}}}}); err != nil {
		t.Fatal(err)
	}
	for text, want := range map[string]string{
		"Loft / Rack 1 / Box 1": "Loft / Rack 1 / Box 1", " loft/RACK 1 /box  1 ": "Loft / Rack 1 / Box 1", "Rack 2 / Box 1": "Loft / Rack 2 / Box 1",
		"Loft, Rack 1, Box 2": "Loft / Rack 1 / Box 2", "Box 2": "Loft / Rack 1 / Box 2", "l-11": "Loft / Rack 1 / Box 1", "Box 1": "table.places-several",
		"Rack 2": "Loft / Rack 1 / Rack 2", "Rack 1 / A//B": "table.place-unknown", "A//B": "Loft / Rack 2 / A//B", "Box 7": "table.place-unknown", "Rack 1 / Box 9": "table.place-unknown",
	} {
		taken := d.housed(t, c, "a.csv", "Name;Box;Seit\nJuno;\""+text+"\";01.06.2026\n", table.PlacesLeft)
		got := reasons(taken.Bad)
		if len(taken.Rows.Stays) == 1 {
			if err := c.View(func(v model.View) error {
				h, err := husbandry.ReadHouse(v)
				var names []string
				for _, p := range h.Path(taken.Rows.Stays[0].Place) {
					names = append(names, strings.ReplaceAll(p.Name, "/", "//"))
				}
				got = strings.Join(names, " / ")
				return err
			}); err != nil {
				t.Fatal(err)
			}
		}
		if got != want {
			t.Errorf("%q: %s, want %s", text, got, want)
		}
	}
	// what is missing of a path stands in what is there
	taken := d.housed(t, c, "a.csv", "Name;Box;Seit\nJuno;Rack 1 / Box 9;01.06.2026\nBrook;Loft / Rack 3 / Box 1;1.6.2026\n", table.PlacesMade)
	if paths(taken) != "Loft / Rack 1 / Box 9 (tub), Loft / Rack 3 (rack), Loft / Rack 3 / Box 1 (tub)" {
		t.Error(paths(taken))
	}
}

// A hostile list names more places than anyone has: the rest is refused.
func TestTooManyPlaces(t *testing.T) {
	var b strings.Builder
	b.WriteString("Name;Box;Seit\n")
	for i := range husbandry.MaxPlaces + 10 {
		fmt.Fprintf(&b, "Juno;X%d;1.6.2026\n", i)
	}
	taken := newDesk(t).housed(t, nil, "a.csv", b.String(), table.PlacesMade)
	if len(taken.Rows.Places) != husbandry.MaxPlaces || len(taken.Bad) != 10 || taken.Bad[0].Refusal.Reason != "house.many" {
		t.Errorf("%d places, %d bad", len(taken.Rows.Places), len(taken.Bad))
	}
	// and those that may be are compared with their neighbours by name, not each told in full
	c, _ := storetest.New(t)
	made := 0
	allocated := testing.AllocsPerRun(1, func() {
		if err := c.View(func(v model.View) error {
			rows := taken.Rows
			rows.Stays = rows.Stays[:1]
			j, err := rows.Judge(v, nil)
			made = len(taken.Rows.Places) - len(j.Refused)
			return err
		}); err != nil {
			t.Fatal(err)
		}
	})
	if each := allocated / float64(made); made != husbandry.MaxPlaces || each > 100 {
		t.Errorf("%d places stand, %.0f pieces of memory for each", made, each)
	}
}

// many are 50,000 stays of 500 animals in 500 boxes, one after the other.
func many(rows int) string {
	var b strings.Builder
	b.WriteString("Name;Box;From;Until\n")
	start := time.Date(2020, 1, 1, 0, 0, 0, 0, time.UTC)
	for i := range rows {
		animal, turn := i%500, i/500
		from := start.AddDate(0, 0, turn*20)
		fmt.Fprintf(&b, "Animal %d;Loft / Rack %d / Box %d;%s;%s\n", animal, animal/50, animal%50, from.Format(time.DateOnly), from.AddDate(0, 0, 20).Format(time.DateOnly))
	}
	return b.String()
}

// Target: 50,000 rows read and judged in under 3 s.
func BenchmarkStays(b *testing.B) {
	d := newDesk(b)
	text := many(50_000)
	c, _ := storetest.New(b)
	for b.Loop() {
		taken := d.housed(b, c, "a.csv", text, table.PlacesMade)
		if err := c.View(func(v model.View) error {
			j, err := taken.Rows.Judge(v, nil)
			if j.Stays != 50_000 || j.Places != 511 || len(j.Refused) > 0 {
				b.Fatalf("%d stays, %d places, %d refused", j.Stays, j.Places, len(j.Refused))
			}
			return err
		}); err != nil {
			b.Fatal(err)
		}
	}
}

// A heading of stays is read as it in no other list, and the other way round.
func TestBoxesOfOtherLists(t *testing.T) {
	d := newDesk(t)
	for heading, want := range map[string]table.Listing{
		"Name;Box;Seit": table.Stays, "Name;Box;Geschlecht;Geschlüpft;Seit": table.Animals, "Name;Box;Datum;Gewicht": table.Weights,
		"Tier;Box;Datum;Futter;Ergebnis": table.Meals, "Name;Lives in;Since;Until;Notes": table.Stays,
	} {
		b, err := table.Read("a.csv", []byte(heading+"\n"))
		if err != nil {
			t.Fatal(err)
		}
		if got := d.words.Guess(b.Sheets[0]); got.Lists != want {
			t.Errorf("%s: %q, want %q", heading, got.Lists, want)
		}
	}
	if !slices.Contains(table.Listings(), table.Stays) {
		t.Error("stays are not offered")
	}
}

// A box is where an animal lives and never what it is called; outside a list of stays
// or animals its column is left out, and named as one of places, as is a room without
// a box.
func TestABoxIsNoCode(t *testing.T) {
	d := newDesk(t)
	for heading, want := range map[string]string{"Name;Gewicht;Datum;Raum;Box": "Raum, Box", "Name;Weight;Date;Room;Box": "Room, Box", "Name;Art;Geschlecht;Raum": "Raum",
		"Name;Art;Geschlecht;Raum;Box": "", "Name;Species;Sex;Room;Box": "", "Name;Box;Seit": "", "Name;Geschlecht;Art": ""} {
		b, err := table.Read("a.csv", []byte(heading+"\nJuno;a;b;c;d\n"))
		if err != nil {
			t.Fatal(err)
		}
		guessed := d.words.Guess(b.Sheets[0])
		for _, c := range guessed.Columns {
			if c.Field == table.Code {
				t.Errorf("%s: %q is taken for the code", heading, c.Heading)
			}
		}
		if got := strings.Join(d.words.Placed(guessed), ", "); got != want {
			t.Errorf("%s: places in %q, want %q", heading, got, want)
		}
	}
}

// A list of animals with their room, rack and box makes the places and the stays: the
// columns are joined, what each is called says what it is, and the day is asked once
// where no column tells it. What is wrong with a place keeps no animal out.
func TestAListOfAnimalsWithTheirBoxes(t *testing.T) {
	d := newDesk(t)
	const whole = "Keller (room), Keller / 2 (rack), Keller / 2 / 1 (enclosure), Keller / 2 / 2 (enclosure)"
	for name, c := range map[string]struct {
		text, places, bad     string
		animals, stays, asked int
	}{
		"German":         {"Name;Geschlecht;Raum;Regal;Box\nJuno;w;Keller;2;1\nBrook;m;Keller;2;2\n", whole, "", 2, 2, 1},
		"English":        {"Name,Sex,Room,Rack,Box,Moved in\nJuno,f,Keller,2,1,2026-05-04\nBrook,m,Keller,2,2,2026-05-04\n", whole, "", 2, 2, 0},
		"room and box":   {"Name;Raum;Box\nJuno;Keller;Box 1\nBrook;Loft;Box 1\n", "Keller (room), Keller / Box 1 (tub), Loft (room), Loft / Box 1 (tub)", "", 2, 2, 1},
		"rack and box":   {"Name;Rack;Box\nJuno;R1;3\n", "R1 (rack), R1 / 3 (enclosure)", "", 1, 1, 1},
		"box alone":      {"Name;Art;Box\nJuno;;B7\n", "B7 (enclosure)", "", 1, 1, 1},
		"a slash":        {"Name;Raum;Box\nJuno;Ost/West;B7\n", "Ost (room), Ost / West (rack), Ost / West / B7 (enclosure)", "", 1, 1, 1},
		"no box":         {"Name;Raum;Box\nJuno;Keller;\nBrook;;\nKestrel;;B1\n", "B1 (enclosure)", "text.empty", 3, 1, 1},
		"a day of none":  {"Name;Geschlecht;Raum;Box;eingezogen am\nJuno;w;Keller;B1;31.02.2026\n", "Keller (room), Keller / B1 (enclosure)", "day.none", 1, 0, 0},
		"list of stays":  {"Tier;Raum;Rack;Box;umgesetzt am\nJuno;Keller;2;1;04.05.2026\nBrook;Keller;2;2;04.05.2026\n", whole, "", 2, 2, 0},
		"two boxes deep": {"Name;Raum;Rack;Box\nJuno;Keller;R/S/T;1\n", "", "table.place-deep", 1, 0, 1},
	} {
		t.Run(name, func(t *testing.T) {
			b, err := table.Read("a.csv", []byte(c.text))
			if err != nil {
				t.Fatal(err)
			}
			taking, open := table.Settle(b, 0, d.words.Guess(b.Sheets[0]), d.now.Day())
			if len(open) != c.asked {
				t.Fatalf("asks %+v", open)
			}
			for _, q := range open {
				if q.Asks != table.AsksHoused {
					t.Fatalf("asks %+v", q)
				}
				taking = taking.Answer(q, "2026-05-04")
			}
			given := d.given()
			given.NewPlaces = table.PlacesMade
			taken, err := table.Take(b, []table.Taking{taking}, given)
			if err != nil {
				t.Fatal(err)
			}
			if paths(taken) != c.places || reasons(taken.Bad) != c.bad || len(taken.Rows.Animals) != c.animals || len(taken.Rows.Stays) != c.stays {
				t.Fatalf("%d animals, %d stays, places %q, bad %q", len(taken.Rows.Animals), len(taken.Rows.Stays), paths(taken), reasons(taken.Bad))
			}
			for _, s := range taken.Rows.Stays {
				if s.From.Day() != model.NewDay(2026, 5, 4) || !s.To.IsZero() {
					t.Errorf("stays from %s to %s", s.From.Day(), s.To.Day())
				}
			}
		})
	}
}
