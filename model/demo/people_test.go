package demo

import (
	"strings"
	"testing"
	"time"

	"coilward/assets"
	"coilward/model"
	"coilward/model/collection"
	"coilward/model/knowledge"
	"coilward/model/people"
	"coilward/model/storetest"
	"coilward/model/wording"
)

// Whoever has a number has one of a range that is kept free for stories: 01632 960000 to
// 960999 (Ofcom, telephone numbers for drama use), 030 23125000 to 23125999
// (Bundesnetzagentur, numbers for media; from memory). The keeper has one, so that a
// sitter's paper names whom to call.
func TestNumbersAreKeptFreeForStories(t *testing.T) {
	languages, err := wording.Load(assets.Text())
	if err != nil {
		t.Fatal(err)
	}
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	for language, free := range map[string]string{"en": "01632960", "de": "03023125"} {
		c, clock := storetest.New(t)
		clock.Set(time.Date(2027, 3, 3, 9, 0, 0, 0, time.UTC))
		if err := Fill(c, tables, languages.In(language, wording.Units{})); err != nil {
			t.Fatal(err)
		}
		reached := numbers(t, c)
		for name, number := range reached {
			digits := strings.Map(func(r rune) rune {
				if r < '0' || r > '9' {
					return -1
				}
				return r
			}, number)
			if !strings.HasPrefix(digits, free) || len(digits) != len(free)+3 {
				t.Errorf("%s: %s has %s", language, name, number)
			}
		}
		if len(reached) != 6 {
			t.Errorf("%s: numbers of %v, want those of all six", language, reached)
		}
	}
}

// numbers are those by name, without the hours that stand behind them.
func numbers(t *testing.T, c *collection.Collection) map[string]string {
	t.Helper()
	reached := map[string]string{}
	err := c.View(func(v model.View) error {
		all, err := people.All(v)
		for _, p := range all {
			for _, phone := range p.Phones {
				reached[p.Name], _, _ = strings.Cut(phone, " (")
			}
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return reached
}
