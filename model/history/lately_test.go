package history

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/exam"
	"coilward/model/knowledge"
)

// timeline is a view of nothing but one animal's days, newest first.
type timeline struct {
	model.View
	days []model.Document
	read *int
}

func (l timeline) Timeline(_ model.Subject, from, to int64, visit func(model.Document) bool) error {
	for _, d := range l.days {
		*l.read++
		if d.At.UTC >= from && d.At.UTC < to && !visit(d) {
			break
		}
	}
	return nil
}

// bodies draws what an everyday entry may say.
func bodies() *rapid.Generator[care.Body] {
	told := rapid.SampledFrom([]care.Told{care.NotLooked, care.Yes, care.No})
	return rapid.Custom(func(t *rapid.T) care.Body {
		switch rapid.IntRange(0, 3).Draw(t, "kind") {
		case 0:
			least := rapid.SampledFrom([]int64{100, 1200}).Draw(t, "least")
			return care.Weight{Mass: model.Grams(rapid.Int64Range(least, least+300).Draw(t, "grams"))}
		case 1:
			return care.Meal{Outcome: rapid.SampledFrom(care.Outcomes()).Draw(t, "outcome")}
		case 2:
			return care.Shed{StuckEyeCaps: told.Draw(t, "caps"), StuckTailTip: told.Draw(t, "tip")}
		}
		if rapid.Bool().Draw(t, "mites") {
			return mitesAt(rapid.SampledFrom(care.MiteGrades()).Draw(t, "grade"))
		}
		return care.Waste{Faeces: rapid.SliceOfNDistinct(rapid.SampledFrom(care.FaecesTraits()), 0, 2, rapid.ID[care.Trait]).Draw(t, "faeces"),
			Urates: rapid.SliceOfNDistinct(rapid.SampledFrom(care.UratesTraits()), 0, 2, rapid.ID[care.Trait]).Draw(t, "urates")}
	})
}

// Reading back only as far as it is needed judges as reading everything does.
func TestLatelyJudgesAsAll(t *testing.T) {
	tables := tables(t)
	rapid.Check(t, func(t *rapid.T) {
		var l timeline
		l.read = new(int)
		at := 2000
		for i, body := range rapid.SliceOfN(bodies(), 0, 120).Draw(t, "entries") {
			at -= rapid.IntRange(0, 16).Draw(t, "days")
			d := model.Document{Type: model.TypeEntry, Kind: body.Kind(), ID: model.ID{1, byte(i)}, At: day(at)}
			if err := d.Encode(care.Version, body); err != nil {
				t.Fatal(err)
			}
			l.days = append(l.days, d)
		}
		check := froths(t, &l, at)
		judge := func(r Records, err error) Standing {
			if err != nil {
				t.Fatal(err)
			}
			return r.Stand(tables, check, day(2000))
		}
		all := judge(Read(tables, l, animals.Stored{}, day(2000)))
		lately := judge(Lately(tables, l, animals.Stored{}, check, day(2000)))
		if diff := cmp.Diff(all, lately, cmp.AllowUnexported(model.Moment{})); diff != "" {
			t.Errorf("all (-), lately (+):\n%s", diff)
		}
	})
}

// froths puts checks that saw froth among the days, and gives the problem.
func froths(t *rapid.T, l *timeline, oldest int) []exam.StoredProblem {
	p, check := froth(exam.New)
	p.Glimpses = nil
	n := rapid.IntRange(0, 4).Draw(t, "checks")
	for i := range n {
		at := day(rapid.IntRange(oldest, 2000).Draw(t, "check"))
		d := model.Document{Type: model.TypeEntry, Kind: exam.KindCheck, ID: model.ID{2, byte(i)}, At: at}
		check.Begun, check.Verdict.Day, check.Verdict.Signs[0].Seen = at, at.Day(), at.Day()
		check.Context.Gravid, check.Stops = rapid.Bool().Draw(t, "gravid"), nil
		if rapid.Bool().Draw(t, "felt") {
			check.Stops = []exam.Answered{{Stop: "spine", Look: exam.Felt}}
		}
		if err := d.Encode(exam.CheckVersion, check.Check); err != nil {
			t.Fatal(err)
		}
		l.days = append(l.days, d)
		p.Glimpses = append(p.Glimpses, exam.Glimpse{Check: model.EntryID{ID: d.ID}, At: at,
			Standing: rapid.SampledFrom([]exam.Standing{exam.New, exam.Same, exam.Gone}).Draw(t, "standing")})
	}
	slices.SortStableFunc(l.days, func(a, b model.Document) int { return int(b.At.UTC - a.At.UTC) })
	slices.SortStableFunc(p.Glimpses, func(a, b exam.Glimpse) int { return int(a.At.UTC - b.At.UTC) })
	if n == 0 {
		return nil
	}
	return []exam.StoredProblem{p}
}

// Where all is known, reading stops long before the first day; what tells of mites is
// known once a watch of before would be over.
func TestLatelyStops(t *testing.T) {
	l := timeline{read: new(int)}
	clean := []care.Body{care.Weight{Mass: model.Grams(900)}, meal(care.Took), care.Shed{StuckEyeCaps: care.No, StuckTailTip: care.No}, waste(care.Formed, care.White),
		care.MiteLook{Grade: care.NoMites, Where: []care.MiteWhere{care.OnAnimal}}}
	for i := range 5000 {
		body := clean[i%len(clean)]
		d := model.Document{Type: model.TypeEntry, Kind: body.Kind(), ID: model.ID{1, byte(i), byte(i >> 8)}, At: day(9000 - i)}
		if err := d.Encode(care.Version, body); err != nil {
			t.Fatal(err)
		}
		l.days = append(l.days, d)
	}
	d := model.Document{Type: model.TypeEntry, Kind: exam.KindCheck, ID: model.ID{3}, At: day(9000)}
	if err := d.Encode(exam.CheckVersion, exam.Check{}); err != nil {
		t.Fatal(err)
	}
	l.days = append([]model.Document{d}, l.days...)
	r, err := Lately(tables(t), l, animals.Stored{}, nil, day(9000))
	if err != nil || *l.read > 300 || r.Stand(tables(t), nil, day(9000)).Level() != knowledge.Nothing {
		t.Errorf("read %d documents, %v", *l.read, err)
	}
}

// A fast is held against the time before it, however long it lasts.
func TestLatelyReadsBackBeforeAFast(t *testing.T) {
	const fed, last = 1850, 2000
	tb := tables(t)
	l := timeline{read: new(int)}
	put := func(at int, kind string, version int, body any) {
		d := model.Document{Type: model.TypeEntry, Kind: kind, ID: model.ID{1, byte(len(l.days)), byte(len(l.days) >> 8)}, At: day(at)}
		if err := d.Encode(version, body); err != nil {
			t.Fatal(err)
		}
		l.days = append(l.days, d)
	}
	check := func(at int, stops ...exam.Answered) {
		put(at, exam.KindCheck, exam.CheckVersion, exam.Check{Walk: exam.Walk{Begun: day(at), Stops: stops}, Finished: model.Moment{UTC: day(at).UTC + 600}})
	}
	check(last)
	for at := last; at > 1000; at-- {
		var body care.Body
		switch {
		case at == last-1:
			body = care.Shed{StuckEyeCaps: care.No, StuckTailTip: care.No}
		case at < last-1 && at > last-5:
			body = waste(care.Formed, care.White)
		case at <= fed && (fed-at)%14 == 0:
			body = meal(care.Took)
		case at%10 == 0:
			grams := int64(1500)
			if at > fed {
				grams -= int64(at - fed)
			}
			body = care.Weight{Mass: model.Grams(grams), Gut: care.GutEmpty}
		}
		if body != nil {
			put(at, body.Kind(), care.Version, body)
		}
		if at == fed-150 {
			check(at, exam.Answered{Stop: "spine", Look: exam.Felt})
		}
	}
	all, err := Read(tb, l, animals.Stored{}, day(last))
	if err != nil {
		t.Fatal(err)
	}
	if got := all.Stand(tb, nil, day(last)).Loss; !got.Fast {
		t.Fatalf("%+v is no fast that began in good condition", got)
	}
	lately, err := Lately(tb, l, animals.Stored{}, nil, day(last))
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(all.Stand(tb, nil, day(last)), lately.Stand(tb, nil, day(last)), cmp.AllowUnexported(model.Moment{})); diff != "" {
		t.Errorf("all (-), lately (+):\n%s", diff)
	}
}
