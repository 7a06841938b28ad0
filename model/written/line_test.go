package written_test

import (
	"errors"
	"slices"
	"sync"
	"testing"

	"coilward/assets"
	"coilward/model"
	"coilward/model/body"
	"coilward/model/exam"
	"coilward/model/knowledge"
	"coilward/model/wording"
	"coilward/model/written"
)

var load = sync.OnceValues(func() (*knowledge.Tables, error) { return knowledge.Load(assets.Knowledge()) })

func tables(t testing.TB) *knowledge.Tables {
	t.Helper()
	tables, err := load()
	if err != nil {
		t.Fatal(err)
	}
	return tables
}

var catalogue = sync.OnceValues(func() (*wording.Languages, error) { return wording.Load(assets.Text()) })

func words(t testing.TB, language string) *wording.Text {
	t.Helper()
	all, err := catalogue()
	if err != nil {
		t.Fatal(err)
	}
	return all.In(language, wording.Units{})
}

var noon = model.Moment{UTC: 1_900_000_000, Precision: model.ToDay}

// begun is a draft with a sore at the skin, a lump at the belly and another there that
// were open before.
func begun(t testing.TB, tb *knowledge.Tables) exam.Draft {
	t.Helper()
	problem := func(id byte, stop knowledge.StopID, what knowledge.FindingID, along int) exam.StoredProblem {
		return exam.StoredProblem{ID: model.ProblemID{ID: model.ID{id}}, Problem: exam.Problem{Stop: stop, What: what, Glimpses: []exam.Glimpse{
			{Check: model.EntryID{ID: model.ID{9}}, At: model.Moment{UTC: noon.UTC - 14*86400}, Standing: exam.New, Grade: exam.Marked, Place: body.OnTrunk(along, 180)}}}}
	}
	return exam.Begin(tb, exam.Beginning{Check: model.EntryID{ID: model.ID{2}}, Animal: model.AnimalID{ID: model.ID{1}}, At: noon,
		Problems: []exam.StoredProblem{problem(3, "skin", "sore", 6000), problem(4, "belly", "lump", 4000), problem(5, "belly", "lump", 7000)}})
}

func number(d exam.Draft, stop knowledge.StopID) int {
	return 1 + slices.IndexFunc(d.Stops, func(a exam.Answered) bool { return a.Stop == stop })
}

// The stops have the numbers that are printed on the sheet.
func TestStopNumbers(t *testing.T) {
	d := begun(t, tables(t))
	for stop, want := range map[knowledge.StopID]int{"rest": 1, "mouth": 8, "third-front": 11, "skin": 15, "belly": 16, "tail-tip": 20} {
		if got := number(d, stop); got != want {
			t.Errorf("%s is %d, want %d", stop, got, want)
		}
	}
}

func TestReadALine(t *testing.T) {
	tb := tables(t)
	d := begun(t, tb)
	skin, _ := tb.Stop("skin")
	first := skin.Choices[0]
	for _, c := range []struct {
		language, typed string
		want            written.Line
	}{
		{"en", "15 1", written.Line{Stop: 14, What: first, Earlier: -1}},
		{"en", "15 bleeding 62 left", written.Line{Stop: 14, What: "wound", Place: body.OnTrunk(6200, 90), Earlier: -1}},
		{"en", "15 bleeding 62 l", written.Line{Stop: 14, What: "wound", Place: body.OnTrunk(6200, 90), Earlier: -1}},
		{"en", "15 punc 62l ++ 12mm: since the move", written.Line{Stop: 14, What: "wound", Place: body.OnTrunk(6200, 90), Grade: exam.Severe, Size: model.Length{Tenths: 120}, Note: "since the move", Earlier: -1}},
		{"en", "15 bleeding 12 mm 40 mark", written.Line{Stop: 14, What: "wound", Place: body.OnTrunk(4000, 0), Grade: exam.Marked, Size: model.Length{Tenths: 120}, Earlier: -1}},
		{"en", "15 same", written.Line{Stop: 14, Earlier: 0, Standing: exam.Same}},
		{"en", "16 worse: opens", written.Line{Stop: 15, Earlier: 1, Standing: exam.Worse, Note: "opens"}},
		{"de", "15 bess", written.Line{Stop: 14, Earlier: 0, Standing: exam.Better}},
		{"de", "15 weg", written.Line{Stop: 14, Earlier: 0, Standing: exam.Gone}},
		{"en", "8 =", written.Line{Stop: 7, Look: exam.Seen, Earlier: -1}},
		{"en", "8 fine", written.Line{Stop: 7, Look: exam.Seen, Earlier: -1}},
		{"en", "11 =", written.Line{Stop: 10, Look: exam.Felt, Earlier: -1}},
		{"de", "8 .", written.Line{Stop: 7, Look: exam.LeftToVet, Earlier: -1}},
		{"en", "11 0", written.Line{Stop: 10, Look: exam.NotLooked, Earlier: -1}},
		{"de", "11 nicht", written.Line{Stop: 10, Look: exam.NotLooked, Earlier: -1}},
		// left and right of the belly are its own
		{"en", "16 1 40 left", written.Line{Stop: 15, What: mustStop(t, tb, "belly").Choices[0], Place: body.OnTrunk(4000, 155), Earlier: -1}},
	} {
		got, err := written.Read(tb, d, words(t, c.language), c.typed)
		if c.want.Size.Tenths > 0 {
			c.want.Size.Typed = got.Size.Typed
		}
		if err != nil || got != c.want {
			t.Errorf("%q is read as %+v, %v, want %+v", c.typed, got, err, c.want)
		}
	}
}

func mustStop(t testing.TB, tb *knowledge.Tables, id knowledge.StopID) knowledge.Stop {
	t.Helper()
	s, known := tb.Stop(id)
	if !known {
		t.Fatalf("no stop %s", id)
	}
	return s
}

func TestALineThatCannotBeRead(t *testing.T) {
	tb := tables(t)
	d := begun(t, tb)
	for typed, reason := range map[string]string{
		"":                    "written.no-stop",
		"x 1":                 "written.stop",
		"0 1":                 "written.stop",
		"21 1":                "written.stop",
		"15":                  "written.no-what",
		"15 99":               "written.finding-number",
		"15 wings":            "written.word",
		"15 b":                "written.several",
		"15 = 62 left":        "written.more",
		"15 same 40":          "written.more",
		"15 =: lovely":        "written.note-of-nothing",
		"15 bite 62 62":       "place.twice",
		"15 bleeding nowhere": "place.word",
		"2 1 62 left":         "place.head",
		"14 same":             "written.word", // nothing was open there before
	} {
		_, err := written.Read(tb, d, words(t, "en"), typed)
		var r *model.Refusal
		if !errors.As(err, &r) || r.Reason != reason || r.Field != "line" || r.Answer != model.Mend {
			t.Errorf("%q: %v, want %s", typed, err, reason)
		}
	}
}

// The draft after a line says what the line says, and nothing of any other stop.
func TestPutALine(t *testing.T) {
	tb := tables(t)
	d, w := begun(t, tb), words(t, "en")
	for _, typed := range []string{"15 bleeding 62 left + 12mm: since the move", "16 worse: opens", "8 ."} {
		line, err := written.Read(tb, d, w, typed)
		if err != nil {
			t.Fatal(err)
		}
		if d, err = line.Put(tb, d, noon); err != nil {
			t.Fatal(err)
		}
	}
	if len(d.Findings) != 1 {
		t.Fatalf("findings: %+v", d.Findings)
	}
	f := d.Findings[0]
	if f.Stop != "skin" || f.What != "wound" || f.Grade != exam.Marked || f.Place != body.OnTrunk(6200, 90) || f.Rough || f.Size.Tenths != 120 || f.Note != "since the move" {
		t.Errorf("finding: %+v", f)
	}
	if now := d.Earlier[1].Now; now.Standing != exam.Worse || now.Note != "opens" || d.Earlier[0].Now.Standing != exam.Unasked || d.Earlier[2].Now.Standing != exam.Unasked {
		t.Errorf("earlier: %+v", d.Earlier)
	}
	for _, a := range d.Stops {
		want := exam.NotYet
		switch a.Stop {
		case "mouth":
			want = exam.LeftToVet
		case "skin": // something was noted there
			want = exam.Seen
		}
		if a.Look != want {
			t.Errorf("%s: %q, want %q", a.Stop, a.Look, want)
		}
	}
	// a stop at which something was noted was looked at
	line, err := written.Read(tb, d, w, "15 0")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := line.Put(tb, d, noon); err == nil {
		t.Error("not looked at is taken where something is noted")
	}
}

// Of two words that begin alike the one that is written out is meant.
func TestAWordInFullIsMeant(t *testing.T) {
	tb := tables(t)
	d := begun(t, tb)
	for i, a := range d.Stops {
		stop := mustStop(t, tb, a.Stop)
		for _, language := range []string{"en", "de"} {
			w := words(t, language)
			for _, what := range stop.Choices {
				typed := w.Decimal(int64(i+1), 0) + " " + w.Say("finding."+string(what))
				line, err := written.Read(tb, d, w, typed)
				if err != nil || line.What != what {
					t.Errorf("%s: %q is read as %+v, %v", language, typed, line, err)
				}
			}
		}
	}
}

func FuzzRead(f *testing.F) {
	tb := tables(f)
	for _, seed := range []string{"15 bleeding 62 left", "8 =", "16 worse: opens", "15 1 ++ 12mm", "1 :", "::", "15 ½ cm", "15 1 mm mm"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, typed string) {
		d := begun(t, tb)
		line, err := written.Read(tb, d, words(t, "en"), typed)
		if err != nil {
			var r *model.Refusal
			if !errors.As(err, &r) {
				t.Fatalf("%q: %v", typed, err)
			}
			return
		}
		if _, err := line.Put(tb, d, noon); err != nil {
			var r *model.Refusal
			if !errors.As(err, &r) {
				t.Fatalf("%q: %v", typed, err)
			}
		}
	})
}
