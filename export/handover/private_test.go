package handover_test

import (
	"bytes"
	"compress/zlib"
	"context"
	"encoding/binary"
	"io"
	"os"
	"os/user"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode/utf16"

	"coilward/assets"
	"coilward/export/handover"
	"coilward/export/paper"
	"coilward/export/papertest"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/collection"
	"coilward/model/demo"
	"coilward/model/exam"
	record "coilward/model/handover"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/memory"
	"coilward/model/people"
	"coilward/model/samples"
)

// house is the sample collection with secrets wherever somebody may type one.
type house struct {
	t          testing.TB
	tables     *knowledge.Tables
	collection *collection.Collection
	animal     animals.Stored
	photo      []byte
}

// secrets are what must not go out, and told what must.
func secrets() []string {
	all := []string{"QNOTEQ", "QORIGINQ", "QFROMQ", "QCODEQ", "QADDRESSQ", "QPRIVATEPERSONQ", "555-0199", "QCAPTIONQ", "QROOMQ", "QBOXQ", "Europe/Berlin", "UTC+1", "private camera", "52.5N", "Exif", "/home/", "/root/", "/tmp/", "/Users/"}
	if folder, err := os.Getwd(); err == nil && len(folder) > 4 {
		all = append(all, folder)
	}
	if u, err := user.Current(); err == nil && len(u.Username) > 4 {
		all = append(all, u.Username)
	}
	if host, err := os.Hostname(); err == nil && len(host) > 4 {
		all = append(all, host)
	}
	return all
}

func furnished(t testing.TB) *house {
	t.Helper()
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	berlin := time.FixedZone("Europe/Berlin", 3600)
	c, err := collection.New(memory.Open(), collection.Options{Now: func() time.Time { return time.Date(2027, 1, 15, 9, 30, 0, 0, berlin) }})
	if err != nil {
		t.Fatal(err)
	}
	if err := demo.Fill(c, tables, papertest.Text(t, "en")); err != nil {
		t.Fatal(err)
	}
	h := &house{t: t, tables: tables, collection: c, photo: photograph(t, 64, 48)}
	h.view(func(v model.View) error {
		all, err := animals.All(v)
		most := -1
		for _, a := range all {
			n := 0
			if err := v.Timeline(a.ID.Subject(), model.Beginning, model.EndOfTime, func(model.Document) bool { n++; return true }); err != nil {
				return err
			}
			if n > most && a.Status.Here() {
				most, h.animal = n, a
			}
		}
		return err
	})
	changed := h.animal.Animal
	changed.Note, changed.Origin, changed.From, changed.Code = "QNOTEQ", "QORIGINQ", "QFROMQ", "QCODEQ"
	h.do(animals.Change{ID: h.animal.ID, Base: h.animal.Revision, Animal: changed})
	h.do(people.Add{Person: people.Person{Name: "Openly", Roles: []people.Role{people.Hand}, Address: "QADDRESSQ", Phones: []string{"555-0199"}, Note: "QNOTEQ"}})
	hidden := h.do(people.Add{Person: people.Person{Name: "QPRIVATEPERSONQ", Roles: []people.Role{people.Hand}, Private: true}})
	room := model.PlaceID{ID: h.do(husbandry.AddPlaces{Branches: []husbandry.Branch{{Place: husbandry.Place{Name: "QROOMQ", Kind: husbandry.Room}}}})}
	box := model.PlaceID{ID: h.do(husbandry.AddPlaces{Parent: room, Branches: []husbandry.Branch{{Place: husbandry.Place{Name: "QBOXQ", Kind: husbandry.Tub}}}})}
	h.do(husbandry.Move{Animal: h.animal.ID, Place: box, At: h.now(), Confirmed: model.Confirmed{"day.before-arrival"}})
	about := care.About{Animal: h.animal.ID, At: h.now(), By: model.PersonID{ID: hidden}}
	beside := care.Beside{Note: "QNOTEQ"}
	h.do(care.Feed{About: about, Meal: care.Meal{Prey: care.Rat, Outcome: care.Took, Beside: beside}})
	h.do(care.RecordShed{About: about, Shed: care.Shed{Skin: care.Whole, Beside: beside}})
	h.do(care.WriteNote{About: about, Note: care.Note{Text: "QNOTEQ"}})
	h.do(care.AddPhoto{About: about, Photo: care.Photo{Photos: []model.PhotoID{model.PhotoID(strings.Repeat("ab", 32))}, Caption: "QCAPTIONQ"}})
	return h
}

func (h *house) do(c model.Command) model.ID {
	h.t.Helper()
	change, err := h.collection.Do(c)
	if err != nil {
		h.t.Fatalf("%s: %v", c.Name(), err)
	}
	return change.Documents[0]
}

func (h *house) view(read func(model.View) error) {
	h.t.Helper()
	if err := h.collection.View(read); err != nil {
		h.t.Fatal(err)
	}
}

func (h *house) now() (m model.Moment) {
	h.view(func(v model.View) error { m = v.Now(); return nil })
	return m
}

// made are the papers of the animal.
func (h *house) made(k handover.Key) []byte {
	h.t.Helper()
	var file bytes.Buffer
	pictures := func(model.PhotoID, int) ([]byte, error) { return h.photo, nil }
	_, err := handover.Make(context.Background(), &file, h.collection, handover.Making{Animal: h.animal.ID, Tables: h.tables, Pictures: pictures,
		Text: papertest.Text(h.t, "en"), Size: paper.A4, Program: "0.8.0", Key: k}, func(float64) {})
	if err != nil {
		h.t.Fatal(err)
	}
	return file.Bytes()
}

// A photo that cannot be read does not keep the papers from being made; that it is not in them is
// told to the seller, and to who reads them.
func TestMake_APhotoThatCannotBeRead(t *testing.T) {
	h := furnished(t)
	for _, lost := range []bool{false, true} {
		var file bytes.Buffer
		all := 0
		pictures := func(_ model.PhotoID, longest int) ([]byte, error) {
			if lost {
				return nil, io.ErrUnexpectedEOF
			}
			return h.photo, nil
		}
		made, err := handover.Make(context.Background(), &file, h.collection, handover.Making{Animal: h.animal.ID, Tables: h.tables, Pictures: pictures,
			Text: papertest.Text(t, "en"), Size: paper.A4, Program: "0.8.0", Key: key(t)}, func(float64) { all++ })
		if err != nil {
			t.Fatal(err)
		}
		p, err := handover.Open(bytes.NewReader(file.Bytes()), int64(file.Len()))
		if err != nil {
			t.Fatal(err)
		}
		if lost != (made.Unread > 0) || lost != (len(p.Record.Photos) == 0) || lost && p.Record.Unread < made.Unread || !lost && p.Record.Unread != 0 {
			t.Errorf("lost %v: told of %d to the seller, %d in the papers, %d photos", lost, made.Unread, p.Record.Unread, len(p.Record.Photos))
		}
		if !lost && all != len(p.Record.Photos)+1 { // each photo, and that all is done
			t.Errorf("told %d times how far it is", all)
		}
	}
}

// inflated are the bytes of a file, and those of whatever was deflated in it.
func inflated(t *testing.T, file []byte) []byte {
	t.Helper()
	all, streams := bytes.Clone(file), 0
	for rest := file; ; {
		at := bytes.Index(rest, []byte("stream\n"))
		if at < 0 {
			break
		}
		rest = rest[at+len("stream\n"):]
		if r, err := zlib.NewReader(bytes.NewReader(rest)); err == nil {
			if raw, err := io.ReadAll(r); err == nil {
				all, streams = append(append(all, '\n'), raw...), streams+1
			}
		}
	}
	if streams == 0 {
		t.Fatal("nothing was deflated in it")
	}
	return all
}

// holds tells whether a text stands in bytes, as UTF-8 or UTF-16.
func holds(all []byte, text string) bool {
	var wide []byte
	for _, unit := range utf16.Encode([]rune(text)) {
		wide = binary.BigEndian.AppendUint16(wide, unit)
	}
	return bytes.Contains(all, []byte(text)) || bytes.Contains(all, wide)
}

// Nothing private goes out, neither as it is nor inside what is deflated.
func TestNothingPrivateGoesOut(t *testing.T) {
	h := furnished(t)
	file := h.made(key(t))
	all := inflated(t, file)
	for _, secret := range secrets() {
		if holds(all, secret) {
			t.Errorf("%q stands in it", secret)
		}
	}
	p, err := open(file)
	if err != nil {
		t.Fatal(err)
	}
	paper, err := p.Paper()
	if err != nil {
		t.Fatal(err)
	}
	if !holds(inflated(t, paper), h.animal.Name) {
		t.Errorf("the name %q is not found in the paper: the search finds nothing", h.animal.Name)
	}
	r := p.Record
	if len(r.Entries) == 0 || len(r.Checks) == 0 || len(r.Samples) == 0 || len(r.Photos) == 0 || len(r.Hands) == 0 {
		t.Errorf("it tells of %d entries, %d checks, %d samples, %d photos, %d hands", len(r.Entries), len(r.Checks), len(r.Samples), len(r.Photos), len(r.Hands))
	}
}

// What is told names a day for what was checked and says what was not.
func TestToldInBothLanguages(t *testing.T) {
	h := furnished(t)
	p, err := open(h.made(key(t)))
	if err != nil {
		t.Fatal(err)
	}
	for _, language := range []string{"en", "de"} {
		told := handover.Tell(p, h.tables, papertest.Text(t, language))
		all := strings.Join(told.Lines(), "\n")
		if told.Name != h.animal.Name || !strings.Contains(told.Seal, told.Fingerprint) || len(told.Checked.Lines) < 5 || len(told.Not.Lines) < 1 {
			t.Errorf("told %s", all)
		}
		if strings.Contains(all, "{{") || strings.Contains(all, "<no value>") || strings.Contains(all, "[handover.") {
			t.Errorf("a gap is open: %s", all)
		}
	}
}

// Nor do the names of other animals and of instruments, which its quarantine tells of.
func TestNoOtherAnimalIsNamed(t *testing.T) {
	h := furnished(t)
	var all []animals.Stored
	h.view(func(v model.View) (err error) { all, err = animals.All(v); return err })
	var scales []string
	h.view(func(v model.View) error {
		known, err := husbandry.ReadScales(v)
		for _, s := range known {
			scales = append(scales, s.Name)
		}
		return err
	})
	if len(scales) == 0 {
		t.Fatal("there are no scales: the test shows nothing")
	}
	told := 0
	for _, a := range all {
		if !a.Status.Here() {
			continue
		}
		h.animal = a
		p, err := open(h.made(key(t)))
		if err != nil {
			t.Fatal(err)
		}
		raw, err := p.Paper()
		if err != nil {
			t.Fatal(err)
		}
		record, err := p.Record.Bytes()
		if err != nil {
			t.Fatal(err)
		}
		said := append(inflated(t, raw), record...)
		for _, o := range all {
			if o.ID != a.ID && holds(said, o.Name) {
				t.Errorf("the papers of %s name %s", a.Name, o.Name)
			}
		}
		for _, name := range scales {
			if holds(said, name) {
				t.Errorf("the papers of %s name the instrument %s", a.Name, name)
			}
		}
		if holds(said, "detected in "+papertest.Text(t, "en").Say("paper.quarantine.another")) {
			told++
		}
	}
	if told == 0 {
		t.Error("no quarantine tells of another animal: the test shows nothing")
	}
}

// Who looked for it is told, unless that lab is private.
func TestTold_Labs(t *testing.T) {
	h := furnished(t)
	told := func() (lines int, all string) {
		p, err := open(h.made(key(t)))
		if err != nil {
			t.Fatal(err)
		}
		said := strings.Join(handover.Tell(p, h.tables, papertest.Text(t, "en")).Lines(), "\n")
		return strings.Count(said, "Lab: "), said
	}
	if n, all := told(); n == 0 {
		t.Errorf("no lab is named: %s", all)
	}
	var persons []people.Stored
	h.view(func(v model.View) (err error) { persons, err = people.All(v); return err })
	for _, p := range persons {
		if slices.Contains(p.Roles, people.Lab) {
			p.Private = true
			h.do(people.Change{ID: p.ID, Base: p.Revision, Person: p.Person})
		}
	}
	if n, all := told(); n != 0 {
		t.Errorf("a private lab is named: %s", all)
	}
}

// What stands of results is told, what was detected before all else; a sample of which nothing
// comes and a result that was put right say nothing.
func TestTold_Results(t *testing.T) {
	h := furnished(t)
	p, err := open(h.made(key(t)))
	if err != nil {
		t.Fatal(err)
	}
	taken := record.When{Day: p.Record.Issued.Day - 30, Precision: model.ToDay}
	result := func(of knowledge.AgentID, o samples.Outcome, by knowledge.Method) record.Result {
		return record.Result{Of: of, Outcome: o, Method: by, When: taken}
	}
	sample := func(of knowledge.MaterialID, void samples.Why, results ...record.Result) record.Sample {
		return record.Sample{Taken: &taken, Material: of, Void: void, Results: results}
	}
	say := func(all ...record.Sample) (checked, not string) {
		p.Record.Samples = all
		told := handover.Tell(p, h.tables, papertest.Text(t, "en"))
		return strings.Join(told.Checked.Lines, "\n"), strings.Join(told.Not.Lines, "\n")
	}
	const virus, untested = "Serpentovirus", "Not tested for"
	for name, c := range map[string]struct {
		sample  record.Sample
		checked string // what is told of it; empty: nothing
		tested  bool
	}{
		"detected":     {sample("oral-swab", "", result("serpentovirus", samples.Detected, "")), "Serpentovirus: detected", true},
		"not detected": {sample("oral-swab", "", result("serpentovirus", samples.NotDetected, "")), "Serpentovirus: not detected", true},
		"put right":    {sample("oral-swab", "", result("serpentovirus", samples.NotDetected, ""), result("serpentovirus", samples.Inhibited, "")), "Serpentovirus: inhibited", false},
		"void":         {sample("oral-swab", samples.Lost, result("serpentovirus", samples.NotDetected, "")), "", false},
		"antibodies":   {sample("blood", "", result("serpentovirus", samples.NotDetected, knowledge.Antibodies)), "Antibodies say that it was met", false},
	} {
		checked, not := say(c.sample)
		if c.checked != "" && !strings.Contains(checked, c.checked) || c.checked == "" && strings.Contains(checked, virus) {
			t.Errorf("%s: told %s", name, checked)
		}
		_, missing, _ := strings.Cut(not, untested)
		missing, _, _ = strings.Cut(missing, "\n")
		if strings.Contains(missing, virus) == c.tested {
			t.Errorf("%s: not tested for %s", name, missing)
		}
		agents := len(h.tables.Agents())
		if c.tested {
			agents--
		}
		if got := strings.Count(missing, "; ") + 1; got != agents {
			t.Errorf("%s: told are %d names, not %d: %s", name, got, agents, missing)
		}
		if (name == "not detected" || name == "antibodies") != strings.Contains(checked, "does not exclude") {
			t.Errorf("%s: told %s", name, checked)
		}
		if name == "detected" && !strings.HasPrefix(checked, "Test: Serpentovirus: detected") {
			t.Errorf("it is not the first: %s", checked)
		}
	}
	p.Record.Checks[len(p.Record.Checks)-1].Level, p.Record.Checks[len(p.Record.Checks)-1].VetBy = knowledge.EmergencyToday, taken.Day
	if checked, _ := say(); !strings.Contains(checked, "Emergency today. A vet by") {
		t.Errorf("what was urgent is not told: %s", checked)
	}
}

// However many there are of one thing, the newest are told, and how many more there are; what
// was detected is never behind what was not.
func TestTold_NotByTheThousand(t *testing.T) {
	h := furnished(t)
	p, err := open(h.made(key(t)))
	if err != nil {
		t.Fatal(err)
	}
	const many, most = record.MaxList, 200
	first := p.Record.Issued.Day - 10
	on := func(day model.Day) record.When { return record.When{Day: day, Precision: model.ToDay} }
	p.Record.Problems, p.Record.Samples, p.Record.Quarantines = nil, nil, nil
	none := len(handover.Tell(p, h.tables, papertest.Text(t, "en")).Checked.Lines)
	for i := range many {
		day := on(first + model.Day(i))
		p.Record.Problems = append(p.Record.Problems, record.Problem{Found: record.Found{What: "bubbles", Stop: "mouth", Standing: exam.New}, Since: day, Last: day})
		p.Record.Quarantines = append(p.Record.Quarantines, record.Quarantine{Arrived: day, Protocol: "python"})
		s := record.Sample{Taken: &day, Material: "oral-swab", For: []knowledge.AgentID{"serpentovirus"}}
		switch i % 3 {
		case 0:
			s.Results = []record.Result{{Of: "serpentovirus", Outcome: samples.Detected, When: day}}
		case 1:
			s.Results = []record.Result{{Of: "serpentovirus", Outcome: samples.NotDetected, When: day}}
		}
		p.Record.Samples = append(p.Record.Samples, s)
	}
	for language, more := range map[string]string{"en": "more stand in the printed record.", "de": "weitere Angaben stehen im gedruckten Bericht."} {
		text := papertest.Text(t, language)
		told := handover.Tell(p, h.tables, text)
		// findings, quarantines, results of both kinds, each with how many more; and the two sentences about results
		if got, want := len(told.Checked.Lines), none+4*(most+1)+2; got != want {
			t.Errorf("%s: %d lines of what was checked, want %d", language, got, want)
		}
		if n := len(told.Not.Lines); n < most+1 || n > most+30 {
			t.Errorf("%s: %d lines of what was not", language, n)
		}
		all := strings.Join(slices.Concat(told.Checked.Lines, told.Not.Lines), "\n")
		for _, n := range []int{many - most, (many+2)/3 - most, many/3 - most} {
			if line := text.Number(int64(n)) + " " + more; !strings.Contains(all, line) {
				t.Errorf("%s: it does not say %q", language, line)
			}
		}
		if got := strings.Count(all, more); got != 5 {
			t.Errorf("%s: it says %d times that there is more", language, got)
		}
		newest, oldest := text.Say("handover.quarantine.open", map[string]any{"Protocol": text.Say("protocol.python"), "From": first + many - 1}), text.Say("handover.quarantine.open", map[string]any{"Protocol": text.Say("protocol.python"), "From": first})
		if !strings.Contains(all, newest) || strings.Contains(all, oldest) {
			t.Errorf("%s: not the newest are told", language)
		}
		detected := text.Say("samples.outcome.detected")
		for i, line := range told.Checked.Lines[:most] {
			if !strings.Contains(line, detected) {
				t.Errorf("%s: line %d is %q", language, i, line)
				break
			}
		}
	}
}
