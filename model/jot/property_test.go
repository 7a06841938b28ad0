package jot_test

import (
	"fmt"
	"io"
	"io/fs"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/jot"
	"coilward/model/wording"
)

func readAll(t testing.TB, file fs.File) string {
	t.Helper()
	raw, err := io.ReadAll(file)
	if err != nil {
		t.Fatal(err)
	}
	return string(raw)
}

func drawMass(t *rapid.T, label string) model.Mass {
	return model.Mass{Milligrams: rapid.OneOf(rapid.Int64Range(1, 2_000_000), rapid.Map(rapid.Int64Range(1, 30_000), func(g int64) int64 { return g * 1000 })).Draw(t, label)}
}

func drawNote(t *rapid.T, must bool) string {
	if !must && rapid.Bool().Draw(t, "no note") {
		return ""
	}
	text := rapid.StringMatching(`[a-zA-Zäöü0-9.,:!?"“ ]{1,30}`).Draw(t, "note")
	text = strings.TrimSpace(strings.TrimLeft(text, ": ,;"))
	if text == "" {
		return "x"
	}
	return text
}

func drawTraits(t *rapid.T, label string, known []care.Trait, must bool) []care.Trait {
	if !must && rapid.Bool().Draw(t, "no "+label) {
		return nil
	}
	if rapid.IntRange(0, 3).Draw(t, label+" none") == 0 {
		return []care.Trait{care.NoneSeen}
	}
	var traits []care.Trait
	for _, trait := range known {
		if trait != care.NoneSeen && rapid.IntRange(0, 2).Draw(t, string(trait)) == 0 {
			traits = append(traits, trait)
		}
	}
	if len(traits) == 0 {
		return known[:1]
	}
	return traits
}

func drawBody(t *rapid.T, kinds ...string) jot.Body {
	beside := func() care.Beside { return care.Beside{Note: drawNote(t, false)} }
	told := func(label string) care.Told {
		return rapid.SampledFrom([]care.Told{care.NotLooked, care.Yes, care.No}).Draw(t, label)
	}
	switch rapid.SampledFrom(kinds).Draw(t, "kind") {
	case care.KindWeight:
		return care.Weight{Mass: drawMass(t, "mass"), Gut: rapid.SampledFrom(append(care.Guts(), "")).Draw(t, "gut"), Beside: beside()}
	case care.KindMeal:
		m := care.Meal{Prey: rapid.SampledFrom(append(care.Preys(), "")).Draw(t, "prey"), Size: rapid.SampledFrom(append(care.PreySizes(), "")).Draw(t, "size"),
			Count: rapid.SampledFrom([]int{0, 1, 2, 9, 10, 100}).Draw(t, "count"), State: rapid.SampledFrom(append(care.PreyStates(), "")).Draw(t, "state"),
			Outcome: rapid.SampledFrom(care.Outcomes()).Draw(t, "outcome"), Beside: beside()}
		if rapid.Bool().Draw(t, "weighed") {
			m.Each = drawMass(t, "each")
		}
		return m
	case care.KindShed:
		return care.Shed{Skin: rapid.SampledFrom([]care.Skin{care.SkinNotLooked, care.Whole, care.InPieces}).Draw(t, "skin"),
			StuckEyeCaps: told("caps"), StuckTailTip: told("tip"), Beside: beside()}
	case care.KindBlue:
		return care.Blue{Beside: beside()}
	case care.KindWaste:
		w := care.Waste{Faeces: drawTraits(t, "faeces", care.FaecesTraits(), false), Beside: beside()}
		w.Urates = drawTraits(t, "urates", care.UratesTraits(), len(w.Faeces) == 0)
		return w
	case care.KindMiteLook:
		m := care.MiteLook{Grade: rapid.SampledFrom(care.MiteGrades()).Draw(t, "grade"), Beside: beside()}
		for i, where := range care.MiteWheres() {
			if rapid.Bool().Draw(t, string(where)) || i == 3 && len(m.Where) == 0 {
				m.Where = append(m.Where, where)
			}
		}
		return m
	}
	return care.Note{Text: drawNote(t, true)}
}

func everyKind() []string {
	return []string{care.KindWeight, care.KindMeal, care.KindShed, care.KindBlue, care.KindWaste, care.KindMiteLook, care.KindNote}
}

func (b bench) drawMoment(t *rapid.T) model.Moment {
	back := rapid.IntRange(0, 4000).Draw(t, "days back")
	year, month, day := (b.now.Day() - model.Day(back)).Date()
	zone, err := time.LoadLocation(b.now.Zone)
	if err != nil {
		t.Fatal(err)
	}
	moment := func(hour, minute int, p model.Precision) model.Moment {
		m := model.MomentOf(time.Date(year, month, day, hour, minute, 0, 0, zone))
		m.Precision = p
		return m
	}
	switch rapid.IntRange(0, 2).Draw(t, "moment") {
	case 0:
		return b.now
	case 1:
		return moment(12, 0, model.ToDay)
	}
	return moment(rapid.IntRange(0, 20).Draw(t, "hour"), rapid.IntRange(0, 14).Draw(t, "minute"), model.ToMinute)
}

func (b bench) drawReading(t *rapid.T) jot.Reading {
	if rapid.IntRange(0, 7).Draw(t, "asks") == 0 {
		return jot.Reading{Question: drawNote(t, true), At: b.drawMoment(t), Animals: []model.AnimalID{rapid.SampledFrom(b.animals).Draw(t, "animal").ID}}
	}
	r := jot.Reading{Body: drawBody(t, everyKind()...), At: b.drawMoment(t)}
	if _, weight := r.Body.(care.Weight); !weight {
		switch rapid.IntRange(0, 4).Draw(t, "whom") {
		case 0:
			r.All = true
			for _, a := range b.animals {
				r.Animals = append(r.Animals, a.ID)
			}
			return r
		case 1:
			r.Group, r.Animals = "Shelf 2", []model.AnimalID{b.animals[0].ID, b.animals[2].ID}
			return r
		}
		for _, a := range b.animals {
			if rapid.IntRange(0, 5).Draw(t, a.Name) == 0 {
				r.Animals = append(r.Animals, a.ID)
			}
		}
	}
	if len(r.Animals) == 0 {
		r.Animals = []model.AnimalID{rapid.SampledFrom(b.animals).Draw(t, "animal").ID}
	}
	return r
}

// plain is a reading without what was typed and where.
func plain(r jot.Reading) string {
	switch body := r.Body.(type) {
	case care.Weight:
		body.Mass.Typed = ""
		r.Body = body
	case care.Meal:
		body.Each.Typed = ""
		r.Body = body
	}
	r.Words = nil
	return fmt.Sprintf("%+v", r)
}

func TestWhatIsSaidIsReadAgain(t *testing.T) {
	b := begin(t)
	for _, language := range b.lexicon.Languages() {
		rapid.Check(t, func(t *rapid.T) {
			r := b.drawReading(t)
			line := b.lexicon.Say(r, b.names, language, b.now)
			if r.All {
				line = strings.Replace(line, "all ", "everyone ", 1) // one of the animals is called All
			}
			a := b.read(line, language)
			if len(a.Readings) != 1 || len(a.Problems) != 0 {
				t.Fatalf("%q: %q", line, b.lines(a, language))
			}
			if got, want := plain(a.Readings[0]), plain(r); got != want {
				t.Fatalf("%q:\n%s\nwant\n%s", line, got, want)
			}
		})
	}
}

// accounted fails unless every byte of the line belongs to a word of the reading,
// or parts two.
func accounted(t interface {
	Fatalf(format string, values ...any)
}, line string, r jot.Reading) {
	at := 0
	for _, w := range append(slices.Clone(r.Words), jot.Word{From: len(line), To: len(line)}) {
		if w.From < at || w.To < w.From {
			t.Fatalf("%q: words over each other: %+v", line, r.Words)
		}
		if rest := strings.Trim(line[at:w.From], ",;:"); strings.TrimFunc(strings.Join(strings.Fields(rest), ""), func(r rune) bool { return strings.ContainsRune(",;:", r) }) != "" {
			t.Fatalf("%q: %q was left out", line, rest)
		}
		at = w.To
	}
}

func TestAnUnknownWordIsNeverDropped(t *testing.T) {
	b := begin(t)
	rapid.Check(t, func(t *rapid.T) {
		language := rapid.SampledFrom(b.lexicon.Languages()).Draw(t, "language")
		a := b.read(b.lexicon.Say(b.drawReading(t), b.names, language, b.now), language)
		if len(a.Readings) == 0 {
			t.Skip("one of the animals is called All")
		}
		r := a.Readings[0]
		line := b.lexicon.Say(r, b.names, language, b.now)
		r = b.read(line, language).Readings[0]
		accounted(t, line, r)
		word := rapid.StringMatching(`zq[a-z]{1,6}|zq[0-9]{1,3}|!\?|zq[äöß]`).Draw(t, "word")
		words := slices.DeleteFunc(slices.Clone(r.Words), func(w jot.Word) bool { return w.As == jot.AsAsked }) // those are free
		at := rapid.SampledFrom(words).Draw(t, "before").From
		odd := line[:at] + word + " " + line[at:]
		got := b.read(odd, language)
		if len(got.Readings) != 0 || len(got.Problems) == 0 {
			t.Fatalf("%q: %q", odd, b.lines(got, language))
		}
	})
}

func TestTheOrderOfNamesSaysNothing(t *testing.T) {
	b := begin(t)
	rapid.Check(t, func(t *rapid.T) {
		body := drawBody(t, care.KindMeal, care.KindShed, care.KindMiteLook, care.KindNote)
		r := jot.Reading{Body: body, At: b.now, Animals: []model.AnimalID{b.animals[0].ID, b.animals[1].ID, b.animals[5].ID, b.animals[8].ID}}
		want := b.read(b.lexicon.Say(r, b.names, "en", b.now), "en")
		r.Animals = rapid.Permutation(r.Animals).Draw(t, "order")
		line := b.lexicon.Say(r, b.names, "en", b.now)
		got := b.read(line, "en")
		if len(got.Readings) != 1 || len(want.Readings) != 1 || plain(got.Readings[0]) != plain(want.Readings[0]) {
			t.Fatalf("%q: %q, want %q", line, b.lines(got, "en"), b.lines(want, "en"))
		}
	})
}

func FuzzRead(f *testing.F) {
	b := begin(f)
	for _, line := range []string{"ju 1432", "kestrel ate rat 60 frozen", "all but brook paper 0", "brook faeces soft, urates white", `"Old Mill" 3 lb 2 oz 5/6 7pm`,
		"brook note: x", "question brook is it the light", "frage bach: 12, moss?", "brook question: x", "gestern frage \"Old Mill\" : „x“", "bach vor 3 Tagen 1.432 g", "p-1 2x 3. märz 19.30 uhr", "“All” März 3 2027 note", "\x80 12", "x2 ×3 1'432"} {
		f.Add(line)
	}
	f.Fuzz(func(t *testing.T, line string) {
		for _, language := range b.lexicon.Languages() {
			a := b.lexicon.Read(line, b.names, b.languages.In(language, wording.Units{}), b.now)
			blank := strings.Trim(strings.Join(strings.Fields(line), ""), ",;") == "" && utf8.ValidString(line)
			switch {
			case len(a.Readings) > 0 && len(a.Problems) > 0, len(a.Readings) > jot.MostReadings:
				t.Fatalf("%q: %d readings, %d problems", line, len(a.Readings), len(a.Problems))
			case len(a.Readings)+len(a.Problems) == 0 && !blank:
				t.Fatalf("%q: neither reading nor problem", line)
			}
			for _, p := range a.Problems {
				if p.From < 0 || p.To < p.From || p.To > len(line) || p.Refusal == nil {
					t.Fatalf("%q: a problem at %d to %d", line, p.From, p.To)
				}
			}
			for _, r := range a.Readings {
				accounted(t, line, r)
				again := b.lexicon.Say(r, b.names, language, b.now)
				same := b.lexicon.Read(again, b.names, b.languages.In(language, wording.Units{}), b.now)
				if !slices.ContainsFunc(same.Readings, func(s jot.Reading) bool { return plain(s) == plain(r) }) && utf8.RuneCountInString(again) <= jot.Longest {
					t.Fatalf("%q is said as %q, and read as %q: %+v", line, again, b.lines(same, language), r)
				}
			}
		}
	})
}

// benchLines are lines of every kind about 200 animals.
func benchLines(b *testing.B) (bench, jot.Names, []string) {
	w := begin(b)
	var animals []jot.Animal
	for i := range 200 {
		animals = append(animals, jot.Animal{ID: model.AnimalID{ID: model.ID{1, byte(i)}}, Name: fmt.Sprintf("%s%c%c", []string{"Ash", "Bryony", "Sedge", "Teasel"}[i%4], 'a'+i/4%26, 'a'+i/104), Code: fmt.Sprintf("K-%03d", i)})
	}
	forms := []string{"%s 1432", "%s ate rat 60 frozen", "%s refused yesterday", "%s shed whole 19:30", "%s gehäutet ganz gestern 19:30", "%s paper 0", "%s faeces soft, urates white",
		"%s 2 mäuse gefressen 12 g", "%s 1,432 kg 3. März", "%s note: in the water bowl all night"}
	var lines []string
	for i := range 1000 {
		lines = append(lines, fmt.Sprintf(forms[i%len(forms)], animals[i%len(animals)].Name))
	}
	return w, jot.Known(animals, nil), lines
}

func BenchmarkReadThousandLines(b *testing.B) {
	w, names, lines := benchLines(b)
	text := w.languages.In("en", wording.Units{})
	for b.Loop() {
		for _, line := range lines {
			if a := w.lexicon.Read(line, names, text, w.now); len(a.Readings) == 0 {
				b.Fatalf("%q: %q", line, w.lines(a, "en"))
			}
		}
	}
}

// The peer parts the same lines at their spaces and does nothing else.
func BenchmarkReadThousandLinesPeerFields(b *testing.B) {
	_, _, lines := benchLines(b)
	words := 0
	for b.Loop() {
		for _, line := range lines {
			words += len(strings.Fields(line))
		}
	}
	if words == 0 {
		b.Fatal("no words")
	}
}
