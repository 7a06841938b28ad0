package demo

import (
	"bytes"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode"

	"coilward/assets"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/collection"
	"coilward/model/exam"
	"coilward/model/knowledge"
	"coilward/model/medicine"
	"coilward/model/storetest"
	"coilward/model/wording"
)

func words(t *testing.T) Words {
	t.Helper()
	languages, err := wording.Load(assets.Text())
	if err != nil {
		t.Fatal(err)
	}
	return languages.In("de", wording.Units{})
}

func filled(t *testing.T, now time.Time) (*collection.Collection, *knowledge.Tables) {
	t.Helper()
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	c, clock := storetest.New(t)
	clock.Set(now)
	if err := Fill(c, tables, words(t)); err != nil {
		t.Fatal(err)
	}
	return c, tables
}

// The story can be told on any day of the year, 29 February among them.
func TestFillsOnAnyDay(t *testing.T) {
	for _, now := range []time.Time{
		time.Date(2028, 2, 29, 0, 5, 0, 0, time.UTC), time.Date(2027, 1, 1, 23, 59, 0, 0, time.FixedZone("", 3600)),
		time.Date(2027, 7, 31, 12, 0, 0, 0, time.FixedZone("", -5*3600)), time.Date(2026, 11, 25, 6, 0, 0, 0, time.UTC),
	} {
		filled(t, now)
	}
}

// At least nine animals over three years, one of them sold, some with something
// open of each urgency, and nobody's days in the future.
func TestWhatIsInIt(t *testing.T) {
	now := time.Date(2027, 3, 3, 9, 0, 0, 0, time.UTC)
	c, tables := filled(t, now)
	seen := map[knowledge.Level]bool{}
	err := c.View(func(v model.View) error {
		all, err := animals.All(v)
		if err != nil {
			return err
		}
		if len(all) < 9 {
			t.Errorf("%d animals", len(all))
		}
		if !slices.ContainsFunc(all, func(a animals.Stored) bool { return a.Status == animals.Sold }) {
			t.Error("nobody was sold")
		}
		oldest, visits := int64(0), map[bool]int{}
		for _, a := range all {
			problems, err := exam.Problems(v, a.ID)
			if err != nil {
				return err
			}
			seen[exam.Stand(tables, problems, exam.Context{}, v.Now()).Level] = true
			err = v.Timeline(a.ID.Subject(), model.Beginning, model.EndOfTime, func(d model.Document) bool {
				if d.Type == model.TypeVisit {
					visit, err := medicine.ReadVisit(d)
					if err != nil || (visit.Held == nil) != (d.At.UTC > now.Unix()) {
						t.Errorf("%s: a visit of %s, held %v, %v", a.Name, d.At.Day(), visit.Held, err)
					}
					if visits[visit.Held != nil]++; visit.Held == nil {
						return true // it lies ahead
					}
				}
				if d.At.UTC > now.Unix() {
					t.Errorf("%s: an entry of %s", a.Name, d.At.Day())
				}
				oldest = min(oldest, d.At.UTC-now.Unix())
				return true
			})
			if err != nil {
				return err
			}
		}
		if years := -float64(oldest) / (365 * 86400); years < 2.7 {
			t.Errorf("%.1f years of days", years)
		}
		if visits[true] != 1 || visits[false] != 2 {
			t.Errorf("visits held and planned: %v", visits)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, level := range []knowledge.Level{knowledge.Nothing, knowledge.LookAgain, knowledge.VetWithinDays} {
		if !seen[level] {
			t.Errorf("nobody stands at %q", level)
		}
	}
}

// The same day tells the same story to the byte.
func TestTheSameEveryTime(t *testing.T) {
	now := time.Date(2027, 3, 3, 9, 0, 0, 0, time.UTC)
	dump := func() []byte {
		c, _ := filled(t, now)
		var all bytes.Buffer
		err := c.View(func(v model.View) error {
			for _, kind := range model.DocumentTypes() {
				err := v.All(kind, func(d model.Document) bool {
					all.WriteString(d.ID.String())
					all.Write(d.Body)
					return true
				})
				if err != nil {
					return err
				}
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
		return all.Bytes()
	}
	if a, b := dump(), dump(); len(a) == 0 || !bytes.Equal(a, b) {
		t.Errorf("two tellings differ (%d and %d bytes)", len(a), len(b))
	}
}

// One undo takes it all back.
func TestUndoneInOneGo(t *testing.T) {
	c, _ := filled(t, time.Date(2027, 3, 3, 9, 0, 0, 0, time.UTC))
	if _, err := c.Undo(); err != nil {
		t.Fatal(err)
	}
	err := c.View(func(v model.View) error {
		all, err := animals.All(v)
		if len(all) > 0 {
			t.Errorf("%d animals are left", len(all))
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}

// A male animal is called he, and of the appointment that a note of yesterday tells a visit
// of tomorrow stands.
func TestTheStoryOfTheVetHolds(t *testing.T) {
	languages, err := wording.Load(assets.Text())
	if err != nil {
		t.Fatal(err)
	}
	for language, others := range map[string]string{"en": "she her hers", "de": "sie ihr ihre ihrem"} {
		text := languages.In(language, wording.Units{})
		for _, key := range []string{"ask.bath", "ask.lift", "ask.shed", "ask.water", "answer.bath", "answer.lift", "said", "breath"} {
			said := text.Say("demo.visit." + key)
			for _, word := range strings.FieldsFunc(strings.ToLower(said), func(r rune) bool { return !unicode.IsLetter(r) }) {
				if slices.Contains(strings.Fields(others), word) {
					t.Errorf("%s: %q is said of a male", language, said)
				}
			}
		}
	}
	now := time.Date(2027, 3, 3, 9, 0, 0, 0, time.UTC)
	c, _ := filled(t, now)
	err = c.View(func(v model.View) error {
		all, err := animals.All(v)
		for _, a := range all {
			if a.Name != courseOf {
				continue
			}
			visits, err := medicine.VisitsOf(v, a.ID)
			if err != nil {
				return err
			}
			tomorrow := func(s medicine.StoredVisit) bool {
				return s.Held == nil && s.At.Day() == model.MomentOf(now).Day()+1 && s.At.Precision == model.ToMinute
			}
			if a.Sex != animals.Male || !slices.ContainsFunc(visits, tomorrow) {
				t.Errorf("%s, %+v", a.Sex, visits)
			}
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}
