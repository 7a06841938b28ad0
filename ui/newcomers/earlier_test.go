package newcomers_test

import (
	"testing"
	"time"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/collection"
	"coilward/model/exam"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/quarantine"
	"coilward/ui/uitest"
)

// A newcomer that has met all today, by a check of today, is released as of two days
// ago: not all was met then, and the form has a place for the reason.
func TestReleaseOnAnEarlierDayCanSayWhy(t *testing.T) {
	w := open(t, plain(), "en", func(c *collection.Collection) {
		one(t, 40)(c)
		allMetToday(t, c)
	})
	uitest.Tap(t, w.Content(), "Release")
	fields := uitest.Entries(w.Content())
	fields[len(fields)-1].(interface{ SetText(string) }).SetText(w.Text().DayShort(w.Now().Day() - 2))
	press(t, w)
	if !quarantines(w)[0].Open() {
		t.Fatal("released as of a day on which not all was met, without a word")
	}
	fields[len(fields)-2].(interface{ SetText(string) }).SetText("the vet released it")
	press(t, w)
	w.Clock.Pass(time.Second) // the question was read: not all that was unmet then stands in the form
	uitest.Tap(t, uitest.Top(w.Canvas()), "Yes, it is so")
	if q := quarantines(w)[0]; q.Open() || q.Released.Why != "the vet released it" || q.Released.At.Day() != w.Now().Day()-2 {
		t.Errorf("%+v: %q", q.Released, uitest.Texts(uitest.Top(w.Canvas())))
	}
}

// allMetToday has the only newcomer meet a protocol that asks for days, a check and a
// weight.
func allMetToday(t *testing.T, c *collection.Collection) {
	tb := tables(t)
	asked, _ := tb.Protocol("python")
	asked.ID, asked.Days, asked.Mites, asked.For, asked.Faecal, asked.Sheds, asked.Meals, asked.Weight, asked.Watch = "", 30, false, nil, 0, 0, 0, 95, 90
	own := made(t, c, quarantine.ChangeProtocol{Tables: tb, Own: quarantine.Own{Name: "Short", Protocol: asked}})
	do(t, c, husbandry.AddPlaces{Branches: []husbandry.Branch{{Place: husbandry.Place{Name: "Loft", Kind: husbandry.Room}, Below: []husbandry.Branch{{Place: husbandry.Place{Name: "A", Kind: husbandry.Tub}}}}}})
	var q quarantine.Stored
	var a animals.Stored
	var tub husbandry.StoredPlace
	var now model.Moment
	var check model.EntryID
	var protocol knowledge.ProtocolID
	err := c.View(func(v model.View) error {
		now, check.ID = v.Now(), v.NewID()
		all, err := quarantine.All(v)
		if err != nil {
			return err
		}
		here, err := animals.All(v)
		if err != nil {
			return err
		}
		house, err := husbandry.ReadHouse(v)
		if err != nil {
			return err
		}
		for _, p := range house.Places() {
			if p.Kind == husbandry.Tub {
				tub = p
			}
		}
		d, err := v.Document(own)
		if err != nil {
			return err
		}
		s, err := quarantine.ReadOwn(d)
		q, a, protocol = all[0], here[0], s.Protocol.ID
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	ago := func(days int) model.Moment {
		return model.MomentOn(now, now.Day()-model.Day(days), model.Noon, model.ToDay)
	}
	do(t, c, quarantine.Change{Tables: tb, ID: q.ID, Base: q.Revision, Arrived: q.Arrived, Protocol: protocol})
	do(t, c, husbandry.Move{Animal: a.ID, Place: tub.ID, At: ago(40)})
	for _, days := range []int{30, 3} {
		do(t, c, care.Weigh{About: care.About{Animal: a.ID, At: ago(days)}, Weight: care.Weight{Mass: model.Grams(900), Gut: care.GutEmpty}})
	}
	begun := now
	begun.UTC -= 900
	d := exam.Begin(tb, exam.Beginning{Check: check, Animal: a.ID, At: begun})
	for i := range d.Stops {
		if d.Stops[i].Look, d.Stops[i].At = exam.Seen, begun; d.Stops[i].Stop == "mouth" {
			d.Stops[i].Look = exam.LeftToVet
		}
	}
	do(t, c, exam.Finish{Tables: tb, Draft: d, At: now})
}

// made does a command and gives the first document that it wrote.
func made(t *testing.T, c *collection.Collection, command model.Command) model.ID {
	t.Helper()
	change, err := c.Do(command)
	if err != nil {
		t.Fatal(err)
	}
	return change.Documents[0]
}
