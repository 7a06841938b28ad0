package jot_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"coilward/assets"
	"coilward/model"
	"coilward/model/care"
	"coilward/model/jot"
	"coilward/model/wording"
)

// bench is what lines are read with.
type bench struct {
	lexicon   *jot.Lexicon
	languages *wording.Languages
	animals   []jot.Animal
	names     jot.Names
	now       model.Moment
}

// residents are names that could be taken for something else.
func residents() []string {
	return []string{"Juniper", "Kestrel", "Brook", "Bach", "Jupiter", "Old Mill", "Old", "Moss", "Rat", "May", "All", "Sun", "Jörð", "Bär", "Baer", "L-08", "Nr. 12", `Quo"te`, "12", "Note", "Comma, the"}
}

func begin(t testing.TB) bench {
	t.Helper()
	b := bench{now: model.MomentOf(time.Date(2027, 6, 9, 20, 15, 3, 0, vienna(t)))}
	var err error
	if b.lexicon, err = jot.Load(assets.Jot()); err != nil {
		t.Fatal(err)
	}
	if b.languages, err = wording.Load(assets.Text()); err != nil {
		t.Fatal(err)
	}
	for i, name := range residents() {
		b.animals = append(b.animals, jot.Animal{ID: model.AnimalID{ID: model.ID{byte(i + 1)}}, Name: name, Code: fmt.Sprintf("P-%d", i)})
	}
	b.names = jot.Known(b.animals, []jot.Place{{Name: "Shelf 2", Animals: []model.AnimalID{b.animals[0].ID, b.animals[2].ID}}, {Name: "Empty room"}})
	return b
}

func vienna(t testing.TB) *time.Location {
	t.Helper()
	zone, err := time.LoadLocation("Europe/Vienna")
	if err != nil {
		t.Fatal(err)
	}
	return zone
}

func (b bench) read(line, language string) jot.Answer {
	return b.lexicon.Read(line, b.names, b.languages.In(language, wording.Units{}), b.now)
}

// lines are what was read, in the canonical form, or the reasons of what was not.
func (b bench) lines(a jot.Answer, language string) []string {
	var lines []string
	for _, r := range a.Readings {
		lines = append(lines, b.lexicon.Say(r, b.names, language, b.now))
	}
	for _, p := range a.Problems {
		lines = append(lines, "! "+p.Refusal.Reason)
	}
	return lines
}

func TestLinesAsTheyAreWritten(t *testing.T) {
	b := begin(t)
	for _, c := range []struct {
		language, line string
		want           []string
	}{
		{"en", "juni 1432", []string{"Juniper 1432 g"}},
		{"en", "ju 1432", []string{"Juniper 1432 g", "Jupiter 1432 g"}},
		{"en", "JUNIPER weighs 1432 grams", []string{"Juniper 1432 g"}},
		{"en", "kestrel ate rat 60 frozen", []string{"Kestrel took rat 60 g thawed"}},
		{"en", "brook refused", []string{"Brook refused"}},
		{"en", "all paper 0", []string{"all mites paper 0", `"All" mites paper 0`}},
		{"en", "all but brook, moss paper 1 yesterday", nil},
		{"en", "juniper shed whole yesterday 19:30", []string{"Juniper shed whole 2027-06-08 19:30"}},
		{"de", "juniper gehäutet ganz gestern 19:30", []string{"Juniper gehäutet ganz 2027-06-08 19:30"}},
		{"en", "juniper gehaeutet ganz gestern um 19.30 Uhr", []string{"Juniper shed whole 2027-06-08 19:30"}},
		{"de", "juni 1,432 kg", []string{"Juniper 1432 g"}},
		{"en", "juni 1,432 kg", []string{"Juniper 1432 g"}},
		{"en", "juni 1,432", []string{"Juniper 1432 g", "Juniper 0.001432 kg"}},
		{"de", "juni 1.432 g", []string{"Juniper 1432 g"}},
		{"en", "juni 1.432 g", []string{"Juniper 1432 g", "Juniper 0.001432 kg"}},
		{"de", "bach verweigert", []string{"Bach verweigert"}},
		{"en", "kestrel ate 2 rats 60 g", []string{"Kestrel took 2x rat 60 g"}},
		{"en", "kestrel ate 2x rat 60", []string{"Kestrel took 2x rat 60 g"}},
		{"en", "kestrel ate rats 2", []string{"Kestrel took rat 2 g", "Kestrel took 2x rat"}},
		{"en", "kestrel ate 2 rat", []string{"Kestrel took rat 2 g", "Kestrel took 2x rat"}},
		{"en", "kestrel ate 1 rat 60", []string{"Kestrel took 1x rat 60 g"}},
		{"de", "kestrel 3 Mäuse gefressen 12 lebend", []string{"Kestrel angenommen 3x maus 12 g lebend"}},
		{"en", "kestrel ate 2 small rats", []string{"Kestrel took 2x small rat"}},
		{"en", "brook note: in the water bowl, all night", []string{"Brook note: in the water bowl, all night"}},
		{"en", "question brook is it the light", []string{"question Brook: is it the light"}},
		{"en", "Question: brook, is it the light?", []string{"question Brook: is it the light?"}},
		{"de", "frage bach: liegt es am Licht?", []string{"frage Bach: liegt es am Licht?"}},
		{"de", "Frage an den Tierarzt Bach liegt es am Licht", []string{"frage Bach: liegt es am Licht"}},
		{"en", "yesterday question brook 1432 g or 2 rats, Moss?", []string{"2027-06-08 question Brook: 1432 g or 2 rats, Moss?"}},
		{"en", "question ju is it the light", []string{"question Juniper: is it the light", "question Jupiter: is it the light"}},
		{"en", "question brook", []string{"! jot.question-empty"}},
		{"en", "question brook : ", []string{"! jot.question-empty"}},
		{"en", "question shelf 2 may they bathe", []string{"! jot.one-question"}},
		{"en", "question zorro is it zzz light", []string{"! jot.unknown-name"}},
		{"en", "brook question: is it", []string{"question Brook: is it"}},
		{"de", "bach gestern frage ob es am licht liegt", []string{"2027-06-08 frage Bach: ob es am licht liegt"}},
		{"de", "frage an den tierarzt zorro liegt es am licht", []string{"! jot.unknown-name"}},
		{"en", "brook refused question is it", []string{"! jot.mixed"}},
		{"en", "zorro question is it zzz light", []string{"! jot.unknown-name"}},
		{"en", "tomorrow question brook is it", []string{"! jot.future"}},
		{"en", "brook refused note in shed", []string{"Brook refused note: in shed"}},
		{"en", "kestrel and brook refused monday", []string{"Kestrel, Brook refused 2027-06-07"}},
		{"en", "brook refused wednesday", []string{"Brook refused 2027-06-09", "Brook refused 2027-06-02"}},
		{"en", "old mill 12.3", []string{`"Old Mill" 12.3 g`}},
		{"en", "old 3.3.", []string{"! jot.nothing"}},
		{"en", "rat ate rat 60", []string{`"Rat" took rat 60 g`}},
		{"en", "mo 1432", []string{"Moss 1432 g"}},
		{"en", "shelf 2 refused", []string{`"Shelf 2" refused`}},
		{"en", "empty room refused", []string{"! jot.nobody"}},
		{"en", "p-1 140 g 2027-03-03", []string{"Kestrel 140 g 2027-03-03"}},
		{"en", "brook faeces soft blood urates white", []string{"Brook faeces soft, urates white blood", "Brook faeces soft blood, urates white"}},
		{"en", "brook faeces soft, urates white blood", []string{"Brook faeces soft, urates white blood"}},
		{"en", "brook soft faeces white urates", []string{"Brook faeces soft, urates white"}},
		{"en", "brook faeces", []string{"! jot.traits"}},
		{"en", "brook soft", []string{"! jot.waste-which"}},
		{"en", "brook 1 432", []string{"! jot.number"}},
		{"en", "brook 0", []string{"! mass.zero"}},
		{"en", "brook 1432 tomorrow", []string{"! jot.future"}},
		{"en", "brook 1432 23:00", []string{"! jot.future"}},
		{"en", "brook 1432 2027-06-10", []string{"! jot.future"}},
		{"de", "bach 1432 29.2.2026", []string{"! day.none"}},
		{"de", "bach 29.2.2026", []string{"! day.none"}},
		{"de", "bach 1432 29.2.2024", []string{"Bach 1432 g 2024-02-29"}},
		{"en", "brook rat 60", []string{"! jot.outcome"}},
		{"en", "brook 2 rats", []string{"! jot.outcome"}},
		{"de", "bach 2 Ratten", []string{"! jot.outcome"}},
		{"en", "brook ate 0x rat", []string{"! jot.number"}},
		{"en", "frodo 1432", []string{"! jot.unknown-name"}},
		{"en", "brook jumped 60", []string{"! jot.unknown"}},
		{"en", "ate rat", []string{"! jot.no-name"}},
		{"en", "brook 1432 shed", []string{"! jot.mixed"}},
		{"en", "brook, kestrel 60", []string{"! jot.one-weight"}},
		{"en", "brook kestrel refused", []string{"! jot.name-late"}},
		{"en", "brook, kestrel and refused", []string{"! jot.no-name"}},
		{"en", "brook, kestrel but moss refused", []string{"! jot.not-among"}},
		{"en", "brook", []string{"! jot.nothing"}},
		{"en", "brook note:", []string{"! note.empty"}},
		{"en", "brook mites 0", []string{"! jot.where"}},
		{"en", "brook paper", []string{"! jot.grade"}},
		{"en", "brook caps left", []string{"! jot.shed"}},
		{"en", "brook empty gut", []string{"! jot.no-weight"}},
		{"en", "brook ate ate rat", []string{"! jot.twice"}},
		{"en", "brook 2000 kg", []string{"! mass.range"}},
		{"en", "brook 24:70 60", []string{"! time.none"}},
		{"en", "brook 60 31.2.", []string{"! day.none"}},
		{"en", "brook shed pieces caps left tip off 3 days ago", []string{"Brook shed in pieces caps left tip off 2027-06-06"}},
		{"de", "bach Häutung in Stücken Augenkappen fest vor 3 Tagen", []string{"Bach gehäutet in stücken augenkappen fest 2027-06-06"}},
		{"en", "brook regurgitated 7 pm", []string{"Brook regurgitated 2027-06-09 19:00"}},
		{"en", "brook 3 lb 2 oz", []string{"Brook 1.417476 kg"}},
		{"en", "brook 3lb 2oz", []string{"Brook 1.417476 kg"}},
		{"en", "brook 5/6 1432", []string{"Brook 1432 g 2027-06-05", "Brook 1432 g 2027-05-06"}},
		{"en", "brook mites 2 on the animal, enclosure", []string{"Brook mites on the animal enclosure 2"}},
		{"en", "brook march 3 1432", []string{"Brook 1432 g 2027-03-03"}},
		{"de", "brook 1432 3. März 2027", []string{"Brook 1432 g 2027-03-03"}},
		{"en", "brook fed rat 60", []string{"Brook took rat 60 g"}},
		{"en", "brook 140 fed", []string{"Brook weighs 140 g fed", "Brook took 140 g"}},
		{"en", "brook, moss paper none seen", []string{"Brook, Moss mites paper 0"}},
	} {
		got := b.lines(b.read(c.line, c.language), c.language)
		if c.want == nil {
			if len(got) != 1 || !strings.HasPrefix(got[0], "Juniper, Kestrel, Bach") || !strings.HasSuffix(got[0], "mites paper 1 2027-06-08") {
				t.Errorf("%q: %q", c.line, got)
			}
			continue
		}
		slices.Sort(got)
		slices.Sort(c.want)
		if !slices.Equal(got, c.want) {
			t.Errorf("%s %q: %q, want %q", c.language, c.line, got, c.want)
		}
	}
}

// What a problem points at is what a person has to mend.
func TestProblemsPointAtTheirWord(t *testing.T) {
	b := begin(t)
	for line, want := range map[string]string{
		"frodo 1432": "frodo", "brook jumped 60": "jumped", "brook ate ate rat": "ate", "brook 60 31.2.": "31.2.",
		"brook kestrel refused": "kestrel", "brook 1432 tomorrow": "brook 1432 tomorrow",
	} {
		p := b.read(line, "en").Problems
		if len(p) != 1 || line[p[0].From:p[0].To] != want {
			t.Errorf("%q: %+v, want it at %q", line, p, want)
		}
	}
}

func TestABeginningThatTooManyHave(t *testing.T) {
	b := begin(t)
	var many []jot.Animal
	for i := range jot.MostReadings + 1 {
		many = append(many, jot.Animal{ID: model.AnimalID{ID: model.ID{9, byte(i)}}, Name: fmt.Sprintf("Wren %c", 'a'+i)})
	}
	q := b.languages.In("en", wording.Units{})
	a := b.lexicon.Read("wren 140", jot.Known(many, nil), q, b.now)
	if len(a.Readings) != 0 || len(a.Problems) != 1 || a.Problems[0].Refusal.Reason != "jot.name-open" || len(a.Problems[0].Candidates) != len(many) {
		t.Errorf("%+v", a)
	}
	a = b.lexicon.Read("wren 140", jot.Known(many[1:], nil), q, b.now)
	if len(a.Readings) != jot.MostReadings || len(a.Problems) != 0 {
		t.Errorf("%d readings, %+v", len(a.Readings), a.Problems)
	}
}

func TestOuncesWhereThoseAreTheUnits(t *testing.T) {
	b := begin(t)
	a := b.lexicon.Read("brook 50", b.names, b.languages.In("en", wording.Units{Imperial: true}), b.now)
	if len(a.Readings) != 1 || a.Readings[0].Body.(care.Weight).Mass != (model.Mass{Milligrams: 1_417_476, Typed: "50"}) {
		t.Errorf("%+v", a)
	}
}

func TestAReadingWithoutADayIsOfNow(t *testing.T) {
	b := begin(t)
	if a := b.read("brook 140", "en"); len(a.Readings) != 1 || a.Readings[0].At != b.now {
		t.Errorf("%+v", a)
	}
	if a := b.read("brook 140 today", "en"); len(a.Readings) != 1 || a.Readings[0].At.Precision != model.ToDay || a.Readings[0].At.Day() != b.now.Day() {
		t.Errorf("%+v", a)
	}
}

func TestLexiconsThatCannotStand(t *testing.T) {
	raw := map[string]string{}
	for _, code := range []string{"en", "de"} {
		text, err := assets.Jot().Open(code + ".txt")
		if err != nil {
			t.Fatal(err)
		}
		raw[code] = readAll(t, text)
	}
	for _, c := range []struct{ from, to, want string }{
		{"weighs; weight; weighed", "weighs; rat", "it means"},
		{"outcome.took         | took; ate; eaten; eats; taken; ~fed", "outcome.took         | took; fed", "it means"},
		{"times                | x;", "times                | ~x;", "not in both"},
		{"skin.pieces          | in pieces;", "skin.pieces          | ~in pieces;", "one meaning alone"},
		{"note                 | note", "", "has no row"},
		{"note                 | note", "memo                 | note", "no such meaning"},
		{"note                 | note", "note                 | note\nnote | nota", "earlier row"},
		{"note                 | note", "note                 | note 7", "words of letters"},
		{"note                 | note", "note                 | ;", "words of letters"},
		{"meaning              | words", "word | meaning", "name the columns"},
	} {
		en := strings.Replace(raw["en"], c.from, c.to, 1)
		if en == raw["en"] {
			t.Errorf("%q does not stand in the words", c.from)
		}
		_, err := jot.Load(fstest.MapFS{"en.txt": {Data: []byte(en)}, "de.txt": {Data: []byte(raw["de"])}})
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%q: %v, want %q", c.to, err, c.want)
		}
	}
	if _, err := jot.Load(fstest.MapFS{}); err == nil {
		t.Error("no language at all was taken")
	}
	if l, err := jot.Load(fstest.MapFS{"en.txt": {Data: []byte(raw["en"])}}); err == nil || l != nil {
		t.Errorf("without German am has one meaning alone, and is marked: %v", err)
	}
}
