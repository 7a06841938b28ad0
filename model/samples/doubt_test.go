package samples_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/holidays"
	"coilward/model/knowledge"
	"coilward/model/samples"
	"coilward/model/storetest"
)

// What may be so is asked once, and stands when it is confirmed. Sources: 48 hours in a
// fridge, from memory; faeces under 24 hours old, common practice, no source; the weekend and three days on the way, common practice, no source.
func TestDoubts(t *testing.T) {
	b := begin(t)
	serial := 0
	sample := func(change func(*samples.Sample)) samples.Sample {
		s := plain()
		serial++
		s.Kit.Number = strings.Repeat("i", serial)
		change(&s)
		return s
	}
	prepare := func(change func(*samples.Sample)) func(model.Confirmed) model.Command {
		s := sample(change)
		return func(c model.Confirmed) model.Command {
			return samples.Prepare{Tables: b.tables, Each: []samples.New{{Animals: []model.AnimalID{b.juno}, Sample: s}}, Confirmed: c}
		}
	}
	post := func(taken, posted int, of ...knowledge.AgentID) func(model.Confirmed) model.Command {
		id := b.prepared(sample(func(s *samples.Sample) { s.Taken, s.For = ago(taken), of }), b.juno)
		return func(c model.Confirmed) model.Command {
			return samples.Post{Tables: b.tables, Of: []samples.On{{ID: id, Base: 1}}, At: ago(posted), Confirmed: c}
		}
	}
	faeces := func(taken, posted int) func(model.Confirmed) model.Command {
		id := b.prepared(sample(func(s *samples.Sample) {
			s.Taken, s.Material, s.For = ago(taken), "faeces", []knowledge.AgentID{"worms-and-protozoa"}
		}), b.juno)
		return func(c model.Confirmed) model.Command {
			return samples.Post{Tables: b.tables, Of: []samples.On{{ID: id, Base: 1}}, At: ago(posted), Confirmed: c}
		}
	}
	arrive := func(posted, arrived int) func(model.Confirmed) model.Command {
		id := b.prepared(sample(func(s *samples.Sample) { s.Taken, s.Posted = ago(posted), ago(posted) }), b.juno)
		return func(c model.Confirmed) model.Command {
			return samples.Arrive{Tables: b.tables, Of: []samples.On{{ID: id, Base: 1}}, At: ago(arrived), Confirmed: c}
		}
	}
	for name, c := range map[string]struct {
		command func(model.Confirmed) model.Command
		want    string
	}{
		"a kit that is good for two weeks":  {prepare(func(s *samples.Sample) { s.Kit.Expires = on(-14) }), ""},
		"a kit that is good for less":       {prepare(func(s *samples.Sample) { s.Kit.Expires = on(-13) }), "sample.kit-expires"},
		"a kit of an unknown day":           {prepare(func(s *samples.Sample) { s.Kit.Expires = model.Date{} }), ""},
		"a kit that was good when used":     {prepare(func(s *samples.Sample) { s.Taken, s.Kit.Expires = ago(5), on(5) }), ""},
		"a kit that was past it":            {prepare(func(s *samples.Sample) { s.Taken, s.Kit.Expires = ago(4), on(5) }), "sample.kit-expired"},
		"two days in a fridge":              {post(7, 5, serpento), ""},
		"three days in a fridge":            {post(8, 5, crypto, serpento), "sample.kept-long"},
		"three days, and no virus":          {post(8, 5, crypto), ""},
		"faeces of the day before":          {faeces(6, 5), ""},
		"faeces of two days":                {faeces(7, 5), "sample.material-long"},
		"three days on its way":             {arrive(9, 6), ""},
		"four days on its way":              {arrive(9, 5), "sample.long-way"},
		"sent a while ago, before a sunday": {post(5, 4, serpento), ""},
	} {
		if got := b.refused(c.command(nil)); got != c.want {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		} else if got != "" && b.refused(c.command(model.Confirmed{got})) != "" {
			t.Errorf("%s: it is asked again", name)
		}
	}
}

// Each day of a week, as it is sent. 2027-06-07 is a Monday. Source: common practice, no source.
func TestOverWeekend(t *testing.T) {
	for i, want := range []bool{false, false, false, true, true, true, true} {
		b := begin(t)
		b.clock.Set(time.Date(2027, time.June, 14+i, 9, 0, 0, 0, time.UTC))
		now := model.MomentOf(b.clock.Now())
		s := plain()
		s.Taken = now
		id := b.prepared(s, b.juno)
		got := b.refused(samples.Post{Tables: b.tables, Of: []samples.On{{ID: id, Base: 1}}, At: now})
		if (got == "sample.over-weekend") != want || !want && got != "" || samples.OverWeekend(now.Day()) != want {
			t.Errorf("%s: %q", now.Day().Weekday(), got)
		}
	}
}

// A kit that is confirmed and a weekend are two questions.
func TestTwoDoubts(t *testing.T) {
	b := begin(t)
	b.clock.Set(time.Date(2027, time.June, 18, 9, 0, 0, 0, time.UTC)) // a Friday
	now := model.MomentOf(b.clock.Now())
	s := plain()
	s.Taken = ago(0)
	id := b.prepared(s, b.juno)
	post := samples.Post{Tables: b.tables, Of: []samples.On{{ID: id, Base: 1}}, At: now}
	for _, want := range []string{"sample.kept-long", "sample.over-weekend", ""} {
		if got := b.refused(post); got != want {
			t.Errorf("%q, want %q", got, want)
		}
		post.Confirmed = append(post.Confirmed, want)
	}
}

// The most of everything stands, one more does not.
func TestBounds(t *testing.T) {
	b := begin(t)
	b.lab = model.PersonID{}
	taken := func(change func(*samples.Sample)) samples.Sample {
		s := samples.Sample{Material: swab, For: []knowledge.AgentID{serpento, crypto}, Taken: ago(5)}
		change(&s)
		return s
	}
	results := func(n int) func(*samples.Sample) {
		return func(s *samples.Sample) {
			for range n {
				s.Results = append(s.Results, samples.Result{Of: serpento, Outcome: samples.NotDone, At: ago(1), Why: "again"})
			}
		}
	}
	photos := func(n int) func(*samples.Sample) {
		return func(s *samples.Sample) {
			s.Results = []samples.Result{{Of: serpento, Outcome: samples.NotDone, At: ago(1), Photos: make([]model.PhotoID, n)}}
		}
	}
	asked := func(n int) func(*samples.Sample) {
		return func(s *samples.Sample) {
			s.Posted = ago(4)
			for range n {
				s.Asked = append(s.Asked, samples.Asked{At: ago(1)})
			}
		}
	}
	for name, c := range map[string]struct {
		s    samples.Sample
		want string
	}{
		"as many results as can be": {taken(results(samples.MaxResults)), ""},
		"a result more":             {taken(results(samples.MaxResults + 1)), "sample.results-many"},
		"as many photos as can be":  {taken(photos(samples.MaxPhotos)), ""},
		"a photo more":              {taken(photos(samples.MaxPhotos + 1)), "photo.many"},
		"as often asked as can be":  {taken(asked(samples.MaxAsked)), ""},
		"asked once more":           {taken(asked(samples.MaxAsked + 1)), "sample.asked-many"},
		"a minute ahead":            {taken(func(s *samples.Sample) { s.Taken = ago(0); s.Taken.UTC += 60 }), ""},
		"two minutes ahead":         {taken(func(s *samples.Sample) { s.Taken = ago(0); s.Taken.UTC += 120 }), "day.future"},
		"of the same day, known to the day, and a result of an hour before": {taken(func(s *samples.Sample) {
			early := ago(5)
			early.UTC -= 3600
			s.Taken.Precision = model.ToDay
			s.Results = []samples.Result{{Of: serpento, Outcome: samples.NotDone, At: early}}
		}), ""},
		"a result of an hour before it was taken": {taken(func(s *samples.Sample) {
			early := ago(5)
			early.UTC -= 3600
			s.Results = []samples.Result{{Of: serpento, Outcome: samples.NotDone, At: early}}
		}), "sample.result-first"},
		"a result of an hour before it, both of a precision that nobody noted": {taken(func(s *samples.Sample) {
			early := ago(5)
			early.UTC -= 3600
			early.Precision, s.Taken.Precision = "", ""
			s.Results = []samples.Result{{Of: serpento, Outcome: samples.NotDone, At: early}}
		}), "sample.result-first"},
		"given up on the day it was taken": {taken(func(s *samples.Sample) { s.Void = &samples.Void{At: ago(5), Why: samples.Lost} }), ""},
		"given up the day before":          {taken(func(s *samples.Sample) { s.Void = &samples.Void{At: ago(6), Why: samples.Lost} }), "sample.order"},
		"given up before there was a day": {taken(func(s *samples.Sample) {
			s.Taken, s.Void = model.Moment{}, &samples.Void{At: ago(6), Why: samples.Lost}
		}), ""},
		"given up without a reason":         {taken(func(s *samples.Sample) { s.Void = &samples.Void{At: ago(1)} }), "choice.unknown"},
		"given up without a day":            {taken(func(s *samples.Sample) { s.Void = &samples.Void{Why: samples.Lost} }), "day.empty"},
		"arrived on the day of its posting": {taken(func(s *samples.Sample) { s.Posted, s.Arrived = ago(4), ago(4) }), ""},
	} {
		got := ""
		if r := c.s.Check(ago(0)); r != nil {
			got = r.Reason
		}
		if got != c.want {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
	}
	var pool []model.AnimalID
	for i := range samples.MaxPool + 1 {
		pool = append(pool, model.AnimalID{ID: b.do(animals.Add{Animal: animals.Animal{Name: fmt.Sprint("Animal ", i), Status: animals.Kept}})})
	}
	for n, want := range map[int]string{samples.MaxPool: "", samples.MaxPool + 1: "sample.pool"} {
		if got := b.refused(samples.Prepare{Tables: b.tables, Each: []samples.New{{Animals: pool[:n], Sample: taken(func(*samples.Sample) {})}}}); got != want {
			t.Errorf("%d in a pool: %q, want %q", n, got, want)
		}
	}
}

// Names of a pool are told up to three; a day that an animal left still counts as here.
func TestNamesAndDays(t *testing.T) {
	b := begin(t)
	var pool []model.AnimalID
	for _, name := range []string{"A", "B", "C", "D"} {
		pool = append(pool, model.AnimalID{ID: b.do(animals.Add{Animal: animals.Animal{Name: name, Status: animals.Kept}})})
	}
	for n, want := range map[int]string{3: "A, B, C", 4: "A, B, C, …"} {
		done, err := b.Do(samples.Prepare{Tables: b.tables, Each: []samples.New{{Animals: pool[:n], Sample: samples.Sample{Material: swab, For: []knowledge.AgentID{crypto}}}}})
		if err != nil {
			t.Fatal(err)
		}
		if got := done.Label.Gaps["Animals"].Text; got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	wrens := 0
	left := func(status animals.Status, day model.Date) model.AnimalID {
		wrens++
		return model.AnimalID{ID: b.do(animals.Add{Animal: animals.Animal{Name: fmt.Sprint("Wren ", wrens), Status: status, StatusDay: day}})}
	}
	month := model.Date{Day: model.NewDay(2027, time.May, 1), Precision: model.ToMonth}
	year := model.Date{Day: model.NewDay(2026, time.January, 1), Precision: model.ToYear}
	at := func(y int, m time.Month, d int) model.Moment {
		return model.MomentOf(time.Date(y, m, d, 9, 0, 0, 0, storetest.Start().Location()))
	}
	for name, c := range map[string]struct {
		of   model.AnimalID
		at   model.Moment
		want string
	}{
		"on the day it was sold":             {left(animals.Sold, on(10)), ago(10), ""},
		"the day after":                      {left(animals.Sold, on(10)), ago(9), "animal.gone"},
		"on the last day of that month":      {left(animals.Sold, month), at(2027, time.May, 31), ""},
		"on the first day of the next":       {left(animals.Sold, month), at(2027, time.June, 1), "animal.gone"},
		"on the last day of that year":       {left(animals.Sold, year), at(2026, time.December, 31), ""},
		"on the first day of the next year":  {left(animals.Sold, year), at(2027, time.January, 1), "animal.gone"},
		"sold on a day that nobody knows":    {left(animals.Sold, model.Date{}), ago(3), "animal.gone-asks"},
		"on the day it hatched":              {b.juno, ago(500), "day.before-arrival"},
		"on the day it came":                 {b.juno, ago(300), ""},
		"the day before it came":             {b.juno, ago(301), "day.before-arrival"},
		"the day before it hatched":          {b.juno, ago(501), "day.before-hatching"},
		"died on the day the sample was had": {b.dead, ago(10), ""},
	} {
		s := samples.Sample{Material: swab, For: []knowledge.AgentID{crypto}, Taken: c.at}
		if got := b.refused(samples.Prepare{Tables: b.tables, Each: []samples.New{{Animals: []model.AnimalID{c.of}, Sample: s}}}); got != c.want {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
	}
}

// Nothing more happens to a sample that was given up, and what is not said of a step
// stays as it was.
func TestVoidAndUnsaid(t *testing.T) {
	b := begin(t)
	s := plain()
	s.Taken, s.Posted = ago(9), ago(8)
	void := b.prepared(s, b.juno)
	b.do(samples.GiveUp{Tables: b.tables, ID: void, Base: 1, Void: samples.Void{At: ago(4), Why: samples.Lost}})
	of := []samples.On{{ID: void, Base: 2}}
	for _, c := range []model.Command{
		samples.Take{Tables: b.tables, Of: of, At: ago(1)}, samples.Post{Tables: b.tables, Of: of, At: ago(1)}, samples.Arrive{Tables: b.tables, Of: of, At: ago(1)},
		samples.Ask{Tables: b.tables, Of: of, Asked: samples.Asked{At: ago(1)}}, samples.Enter{Tables: b.tables, At: ago(1), Rows: row(void, 2, samples.Found{Of: serpento, Outcome: samples.Detected})},
		samples.GiveUp{Tables: b.tables, ID: void, Base: 2, Void: samples.Void{At: ago(1), Why: samples.Lost}},
	} {
		if got := b.refused(c); got != "sample.void" {
			t.Errorf("%s: %q", c.Name(), got)
		}
	}
	s = plain()
	s.Kit.Number, s.Site, s.Storage, s.Lab = "n", "left", "cold", b.lab
	id := b.prepared(s, b.juno)
	b.do(samples.Take{Tables: b.tables, Of: []samples.On{{ID: id, Base: 1}}, At: ago(3)})
	b.do(samples.Post{Tables: b.tables, Of: []samples.On{{ID: id, Base: 2}}, At: ago(3)})
	if got := b.read(id); got.Site != "left" || got.Storage != "cold" || got.Lab != b.lab {
		t.Errorf("what was not said is gone: %+v", got)
	}
	if got := b.refused(samples.Take{Tables: b.tables, Of: []samples.On{{ID: id, Base: 3}}, At: ago(2)}); got != "sample.already" {
		t.Errorf("taken twice: %q", got)
	}
}

// A stored sample that no command would have written is found out.
func TestSound(t *testing.T) {
	about := []model.Subject{{Kind: model.SubjectAnimal, ID: model.ID{1}}}
	for want, change := range map[string]func(*samples.Sample, *model.Document){
		"":                   func(*samples.Sample, *model.Document) {},
		"sample.nobody":      func(_ *samples.Sample, d *model.Document) { d.Subjects = nil },
		"sample.for-nothing": func(s *samples.Sample, _ *model.Document) { s.For = nil },
		"sample.not-gone":    func(s *samples.Sample, _ *model.Document) { s.Asked = []samples.Asked{{At: ago(1)}} },
	} {
		s := samples.Sample{Material: swab, For: []knowledge.AgentID{crypto}, Taken: ago(5)}
		d := model.Document{Type: model.TypeSample, ID: model.ID{9}, Subjects: about}
		change(&s, &d)
		if err := d.Encode(samples.Version, s); err != nil {
			t.Fatal(err)
		}
		err := samples.Sound(d, ago(0))
		var r *model.Refusal
		if got := ""; errors.As(err, &r) {
			if got = r.Reason; got != want {
				t.Errorf("%q, want %q", got, want)
			}
		} else if want != "" || err != nil {
			t.Errorf("%v, want %q", err, want)
		}
	}
}

// A parcel that leaves on a holiday or the day before is asked about, where the country is
// known; of an earlier day it is too late to ask. Monday, 5 July 2027 stands in for Independence
// Day in the United States (5 U.S.C. 6103).
func TestOverHoliday(t *testing.T) {
	for _, c := range []struct {
		month   time.Month
		day     int
		country holidays.Country
		ago     int
		want    string
	}{
		{time.July, 5, "us", 0, "sample.over-holiday"}, {time.July, 6, "us", 0, ""}, {time.July, 5, "", 0, ""}, {time.July, 5, "de", 0, ""}, {time.July, 6, "us", 1, ""},
		{time.October, 25, "at", 0, "sample.over-holiday"}, {time.October, 26, "at", 0, "sample.over-holiday"}, {time.October, 27, "at", 0, ""},
	} {
		b := begin(t)
		b.clock.Set(time.Date(2027, c.month, c.day, 9, 0, 0, 0, time.UTC))
		at := b.clock.Now().AddDate(0, 0, -c.ago)
		s := plain()
		s.Taken, s.Kit.Expires = model.MomentOf(at), model.Date{}
		post := samples.Post{Tables: b.tables, Of: []samples.On{{ID: b.prepared(s, b.juno), Base: 1}}, At: model.MomentOf(at), Country: c.country}
		if got := b.refused(post); got != c.want {
			t.Errorf("%+v: %q", c, got)
		}
		if post.Confirmed = (model.Confirmed{c.want}); c.want != "" && b.refused(post) != "" {
			t.Errorf("%+v: asked again", c)
		}
	}
}
