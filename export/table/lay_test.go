package table_test

import (
	"bytes"
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"coilward/assets"
	"coilward/export/table"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/collection"
	"coilward/model/demo"
	"coilward/model/feeders"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/people"
	"coilward/model/samples"
	"coilward/model/storetest"
	"coilward/model/wording"
)

// laid are the tables of a collection in a language.
func (d desk) laid(t testing.TB, c *collection.Collection, language string) (laid table.Laid) {
	t.Helper()
	err := c.View(func(v model.View) (err error) {
		laid, err = table.Lay(v, d.words, d.languages.In(language, wording.Units{}), nil)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return laid
}

// ways are how tables travel: written and read again.
func (d desk) ways(t testing.TB) map[string]func(table.Book) (table.Book, error) {
	way := func(language string) func(table.Book) (table.Book, error) {
		return func(b table.Book) (table.Book, error) {
			var all []table.Book
			for _, s := range b.Sheets {
				var file bytes.Buffer
				if err := table.WriteCSV(&file, s, d.languages.In(language, wording.Units{})); err != nil {
					return table.Book{}, err
				}
				read, err := table.Read(s.Name+".csv", file.Bytes())
				if err != nil {
					return table.Book{}, fmt.Errorf("%s: %w", s.Name, err)
				}
				all = append(all, read)
			}
			return table.Beside("room", all...), nil
		}
	}
	return map[string]func(table.Book) (table.Book, error){
		"CSV with commas": way("en"), "CSV with semicolons": way("de"),
		"XLSX": func(b table.Book) (table.Book, error) {
			var file bytes.Buffer
			if err := table.WriteXLSX(&file, b); err != nil {
				return table.Book{}, err
			}
			return table.Read("room.xlsx", file.Bytes())
		},
	}
}

// bring brings a book into an empty collection, with every question confirmed.
func (d desk) bring(t testing.TB, b table.Book) *collection.Collection {
	t.Helper()
	takings, open := d.settled(b)
	for i, s := range b.Sheets {
		if takings[i].Lists == table.NotListed {
			t.Errorf("the sheet %s is not known", s.Name)
		}
	}
	given := d.given()
	given.Strangers, given.NewPlaces = false, table.PlacesMade
	c, _ := storetest.New(t)
	given.Batches = d.stock(t, b, c)
	taken, err := table.Take(b, takings, given)
	if err != nil || len(open) > 0 {
		t.Fatalf("%v, asks %+v", err, open)
	}
	for _, bad := range taken.Bad {
		t.Errorf("%s, line %d, %s: %s %q", bad.Sheet, bad.Line, bad.Column, bad.Refusal.Reason, bad.Refusal.Value)
	}
	taken.Rows.Confirmed = model.Confirmed{"mass.unlike", care.MassFar, "day.before-hatched", "day.before-arrival", "animal.gone-asks", "house.shared", "sample.kit-expired", "movein.code-twice"}
	if _, err := c.Do(taken.Rows); err != nil {
		t.Fatal(err)
	}
	return c
}

// stock brings the batches of feeders that meals name into a collection, since no table
// tells what they are.
func (d desk) stock(t testing.TB, b table.Book, c *collection.Collection) (all []feeders.Stored) {
	t.Helper()
	names := map[string]bool{"": true}
	for _, s := range b.Sheets {
		taking := d.words.Guess(s)
		at := slices.IndexFunc(taking.Columns, func(c table.Column) bool { return c.Field == table.BatchOf })
		if at < 0 {
			continue
		}
		for _, r := range s.Rows[1:] {
			if at < len(r.Cells) && !names[r.Cells[at]] {
				names[r.Cells[at]] = true
				if _, err := c.Do(feeders.Add{Batch: feeders.Batch{Name: r.Cells[at], Prey: care.Rat, Count: 500}}); err != nil {
					t.Fatal(err)
				}
			}
		}
	}
	err := c.View(func(v model.View) (err error) {
		all, err = feeders.Batches(v)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// told is what a collection says that tables tell too, one line for each animal
// and entry, read from the stored JSON and not by this module's own types.
func told(t testing.TB, c *collection.Collection) (all []string) {
	t.Helper()
	line := func(d model.Document, more string) {
		var body map[string]any
		if err := json.Unmarshal(d.Body, &body); err != nil {
			t.Fatal(err)
		}
		raw, err := json.Marshal(bare(body))
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, fmt.Sprintf("%s %s %s %s", d.Type, d.Kind, more, raw))
	}
	err := c.View(func(v model.View) error {
		names, batches := map[model.ID]string{}, map[string]string{}
		if err := v.All(model.TypeBatch, func(d model.Document) bool {
			var named struct{ Name string }
			if err := json.Unmarshal(d.Body, &named); err != nil {
				t.Fatal(err)
			}
			batches[d.ID.String()] = named.Name
			return true
		}); err != nil {
			return err
		}
		if err := v.All(model.TypeAnimal, func(d model.Document) bool {
			var named struct{ Name, Code, Status string }
			if err := json.Unmarshal(d.Body, &named); err != nil {
				t.Fatal(err)
			}
			names[d.ID] = fmt.Sprintf("%q %q %s", named.Name, named.Code, named.Status)
			line(d, "")
			return true
		}); err != nil {
			return err
		}
		if err := tellStays(v, names, func(said string) { all = append(all, said) }); err != nil {
			return err
		}
		if err := tellSamples(v, names, func(said string) { all = append(all, said) }); err != nil {
			return err
		}
		return v.All(model.TypeEntry, func(d model.Document) bool {
			if slices.Contains([]string{"weight", "meal", "shed", "waste", "note"}, d.Kind) {
				minute := d.At.UTC / 60
				if d.At.Precision != model.ToMinute {
					minute = int64(d.At.Day())
				}
				var of struct{ Batch string }
				if err := json.Unmarshal(d.Body, &of); err != nil {
					t.Fatal(err)
				}
				d.Body = bytes.ReplaceAll(d.Body, []byte(cmp.Or(of.Batch, "-")), []byte(cmp.Or(batches[of.Batch], "-")))
				line(d, fmt.Sprintf("%s %s %d %d %s", names[d.Subjects[0].ID], d.At.Precision, minute, d.At.Offset, d.At.Zone))
			}
			return true
		})
	})
	if err != nil {
		t.Fatal(err)
	}
	slices.Sort(all)
	return all
}

// tellStays says each stay by the names of its animal and of its places, as the
// stored JSON has them.
func tellStays(v model.View, animals map[model.ID]string, say func(string)) error {
	type place struct{ Name, In string }
	places := map[string]place{}
	var failed error
	if err := v.All(model.TypePlace, func(d model.Document) bool {
		var p place
		failed = json.Unmarshal(d.Body, &p)
		places[d.ID.String()] = p
		return failed == nil
	}); err != nil || failed != nil {
		return errors.Join(err, failed)
	}
	when := func(m model.Moment) string {
		if m.Precision == model.ToDay {
			return fmt.Sprint(m.Day(), m.Offset, m.Zone)
		}
		return fmt.Sprint(m.UTC/60, m.Offset, m.Zone)
	}
	return errors.Join(failed, v.All(model.TypeStay, func(d model.Document) bool {
		var body struct {
			To   model.Moment
			Note string
		}
		failed = errors.Join(failed, json.Unmarshal(d.Body, &body))
		var path []string
		for p, ok := places[d.Subjects[1].ID.String()]; ok; p, ok = places[p.In] {
			path = append(path, p.Name)
		}
		say(fmt.Sprintf("stay %s %q %s %s %q", animals[d.Subjects[0].ID], path, when(d.At), when(body.To), strings.TrimSpace(body.Note)))
		return true
	}))
}

// tellSamples says each sample by the names of its animals and people, as the
// stored JSON has them.
func tellSamples(v model.View, animals map[model.ID]string, say func(string)) error {
	names := map[string]any{}
	if err := v.All(model.TypePerson, func(d model.Document) bool {
		var p struct{ Name string }
		if json.Unmarshal(d.Body, &p) == nil {
			names[d.ID.String()] = p.Name
		}
		return true
	}); err != nil {
		return err
	}
	var failed error
	return errors.Join(failed, v.All(model.TypeSample, func(d model.Document) bool {
		var body map[string]any
		failed = errors.Join(failed, json.Unmarshal(d.Body, &body))
		for _, key := range []string{"takenBy", "lab"} {
			if id, there := body[key].(string); there {
				body[key] = names[id]
			}
		}
		if results, there := body["results"].([]any); there {
			slices.SortStableFunc(results, func(a, b any) int { // in which order the things were entered is not told
				return strings.Compare(a.(map[string]any)["of"].(string), b.(map[string]any)["of"].(string))
			})
		}
		raw, err := json.Marshal(bare(toMinutes(body)))
		failed = errors.Join(failed, err)
		of := "sample"
		for _, s := range d.Subjects {
			of += " " + animals[s.ID]
		}
		say(of + " " + string(raw))
		return true
	}))
}

// toMinutes are the moments within a body to their minute, or to their day.
func toMinutes(v any) any {
	switch v := v.(type) {
	case map[string]any:
		if utc, moment := v["utc"].(float64); moment {
			offset, _ := v["offset"].(float64)
			switch v["precision"] {
			case "day":
				v["utc"] = math.Floor((utc + offset) / 86400)
			default:
				v["utc"] = math.Floor(utc / 60)
			}
		}
		for key, inner := range v {
			v[key] = toMinutes(inner)
		}
	case []any:
		for i := range v {
			v[i] = toMinutes(v[i])
		}
	}
	return v
}

// bare is a body without what tables do not tell, and without spaces around its
// texts.
func bare(v any) any {
	switch v := v.(type) {
	case map[string]any:
		maps.DeleteFunc(v, func(key string, _ any) bool {
			return slices.Contains([]string{"typed", "photos", "portrait", "coat", "with"}, key)
		})
		for key, inner := range v {
			if v[key] = bare(inner); v[key] == "" {
				delete(v, key)
			}
		}
		day, _ := v["day"].(string)
		switch v["precision"] { // what lies below it is not known
		case "month":
			v["day"] = day[:len("2027-03")]
		case "year":
			v["day"] = day[:len("2027")]
		}
	case []any:
		for i := range v {
			v[i] = bare(v[i])
		}
	case string:
		return strings.TrimSpace(v)
	}
	return v
}

// same checks that a collection goes out and comes in as it was, each way and in
// each language.
func (d desk) same(t testing.TB, c *collection.Collection, languages ...string) {
	t.Helper()
	want := told(t, c)
	for _, language := range languages {
		laid := d.laid(t, c, language)
		for name, way := range d.ways(t) {
			b, err := way(laid.Book)
			if err != nil {
				t.Fatalf("%s in %s: %v", name, language, err)
			}
			got := told(t, d.bring(t, b))
			if slices.Equal(got, want) {
				continue
			}
			t.Errorf("%s in %s: %d lines, were %d", name, language, len(got), len(want))
			missing(t, "lost", want, got)
			missing(t, "made", got, want)
		}
	}
}

// missing names the first lines that one lacks.
func missing(t testing.TB, what string, all, from []string) {
	t.Helper()
	const shown = 3
	n := 0
	for _, line := range all {
		if _, there := slices.BinarySearch(from, line); !there && n < shown {
			t.Errorf("%s  %s", what, line)
			n++
		}
	}
}

func TestOutIsInOfTheSampleCollection(t *testing.T) {
	d := newDesk(t)
	c, _ := storetest.New(t)
	if err := demo.Fill(c, d.tables, d.languages.In("en", wording.Units{})); err != nil {
		t.Fatal(err)
	}
	if lines := told(t, c); len(lines) < 500 {
		t.Fatalf("%d lines", len(lines))
	}
	d.same(t, c, "en", "de")
}

// room is a collection with values that are hard to carry.
func room(t testing.TB) *collection.Collection {
	t.Helper()
	c, _ := storetest.New(t)
	do := func(command model.Command) model.ID {
		t.Helper()
		change, err := c.Do(command)
		if err != nil {
			t.Fatalf("%s: %v", command.Name(), err)
		}
		return change.Documents[0]
	}
	on := func(p model.Precision, year int, month time.Month, day int) model.Date {
		return model.Date{Day: model.NewDay(year, month, day), Precision: p}
	}
	formula := do(animals.Add{Animal: animals.Animal{Name: "=SUM(A1:A9)", Code: "-7", Species: "python-regius", Sex: animals.Female, SexHow: animals.HowLaid,
		Hatched: on(model.ToMonth, 2019, 6, 1), Since: on(model.ToYear, 2020, 1, 1), Morph: "+pastel, \"het\" clown; 66 %", Origin: "@ the lock house", Permits: "=1+1; no. 7", Source: animals.SourceBred,
		From: "'=quoted", Chip: animals.Chip{Digits: "276098106000001", Standard: animals.ChipISO, Site: animals.SiteNeck, LastRead: on(model.ToDay, 2026, 2, 28)},
		Length: animals.Measured{SnoutVent: model.Length{Tenths: 12_345, Typed: "123.45"}, On: on(model.ToDay, 2027, 1, 31)}, Note: "=1+1\n\n\"two\";\tthree, '"}})
	sold := do(animals.Add{Animal: animals.Animal{Name: "Brook", Code: "00012", Status: animals.Sold, StatusDay: on(model.ToMonth, 2026, 12, 1),
		Chip: animals.Chip{Digits: "999098106000001", Standard: animals.ChipOther}}})
	do(animals.Add{Animal: animals.Animal{Name: "Brook", Code: "B-2", Sex: animals.Male, SexHow: animals.HowSired}})
	do(animals.Add{Animal: animals.Animal{Name: "12.4.2027"}})
	about := func(of model.ID, at model.Moment) care.About {
		return care.About{Animal: model.AnimalID{ID: of}, At: at, Confirmed: model.Confirmed{"mass.unlike", "day.before-hatched", "day.before-arrival", "animal.gone-asks"}}
	}
	minute := func(year int, month time.Month, day, hour, minute, offset int, zone string) model.Moment {
		m := model.MomentOf(time.Date(year, month, day, hour, minute, 41, 0, time.FixedZone(zone, offset)))
		m.Zone = zone
		return m
	}
	for i, milligrams := range []int64{1, 999, 1000, 1001, 99_999, 100_000, 417_476, 1_432_001, 1_432_500, 3_400_000} {
		at := minute(2025, 3, 1+i, 23, 59, 3600, "Europe/Berlin")
		do(care.Weigh{About: about(formula, at), Weight: care.Weight{Mass: model.Mass{Milligrams: milligrams, Typed: "1,432"}, Gut: append(care.Guts(), "")[i%4],
			Beside: care.Beside{Note: []string{"", " =1", "-", "5\" tub", "a\nb", "\n=x"}[i%6]}}, Again: model.Mass{Milligrams: milligrams}})
	}
	// the same wall clock twice in the night in which summer time ends
	do(care.Weigh{About: about(sold, minute(2026, 10, 25, 2, 30, 7200, "Europe/Berlin")), Weight: care.Weight{Mass: model.Grams(900)}})
	do(care.Weigh{About: about(sold, minute(2026, 10, 25, 2, 30, 3600, "Europe/Berlin")), Weight: care.Weight{Mass: model.Grams(901)}})
	do(care.WriteNote{About: about(sold, minute(2026, 7, 1, 5, 0, -12_600, "")), Note: care.Note{Text: "from another clock: _x0041_ & <b>"}})
	do(care.WriteNote{About: about(sold, minute(2026, 7, 1, 5, 0, 20_700, "Asia/Kathmandu")), Note: care.Note{Text: strings.Repeat("𝄞", 10_000)}})
	day := model.MomentOn(model.MomentOf(storetest.Start()), model.NewDay(2027, 2, 28), model.Noon, model.ToDay)
	for _, prey := range care.Preys() {
		do(care.Feed{About: about(formula, day), Meal: care.Meal{Prey: prey, Size: care.PreySizes()[len(prey)%7], Each: model.Mass{Milligrams: 12_345}, Count: 100, State: care.PreyStates()[len(prey)%3], Outcome: care.Took}})
	}
	do(care.Feed{About: about(formula, day), Meal: care.Meal{Outcome: care.Regurgitated, BroughtUp: on(model.ToMonth, 2027, 3, 1)}})
	do(care.Feed{About: about(formula, day), Meal: care.Meal{Outcome: care.Refused, Beside: care.Beside{Note: "@home"}}})
	for _, skin := range []care.Skin{care.SkinNotLooked, care.Whole, care.InPieces} {
		do(care.RecordShed{About: about(formula, day), Shed: care.Shed{Skin: skin, StuckEyeCaps: care.Yes, StuckTailTip: care.No}})
	}
	do(care.RecordWaste{About: about(formula, day), Waste: care.Waste{Faeces: care.FaecesTraits()[:7], Urates: care.UratesTraits()[:7]}})
	do(care.RecordWaste{About: about(formula, day), Waste: care.Waste{Faeces: []care.Trait{care.NoneSeen}}})
	// places with names that a path is parted by, and one name twice
	loft := do(husbandry.AddPlaces{Branches: []husbandry.Branch{{Place: husbandry.Place{Name: "Loft / left", Kind: husbandry.Room}, Below: []husbandry.Branch{
		{Place: husbandry.Place{Name: "/R1", Kind: husbandry.Rack}, Below: []husbandry.Branch{{Place: husbandry.Place{Name: "Box // 1", Kind: husbandry.Tub, Code: "12"}}, {Place: husbandry.Place{Name: "=2", Kind: husbandry.Tub}}}}}}}})
	box := placesOf(t, c)
	do(husbandry.AddPlaces{Parent: model.PlaceID{ID: loft}, Branches: []husbandry.Branch{{Place: husbandry.Place{Name: "Box // 1", Kind: husbandry.Vivarium}}}})
	do(husbandry.Move{Animal: model.AnimalID{ID: formula}, Place: box["Box // 1"], At: minute(2026, 10, 25, 2, 30, 7200, "Europe/Berlin"), Note: "=1;\n\"two\"", Confirmed: model.Confirmed{"house.shared"}})
	do(husbandry.Move{Animal: model.AnimalID{ID: formula}, Place: box["=2"], At: minute(2026, 10, 25, 2, 30, 3600, "Europe/Berlin")})
	do(husbandry.Move{Animal: model.AnimalID{ID: sold}, Place: box["Box // 1"], At: model.MomentOn(model.MomentOf(storetest.Start()), model.NewDay(2026, 11, 1), model.Noon, model.ToDay)})
	do(husbandry.MoveOut{Animal: model.AnimalID{ID: formula}, At: minute(2027, 1, 31, 0, 0, 20_700, "Asia/Kathmandu")})
	laboratory := model.PersonID{ID: do(people.Add{Person: people.Person{Name: "=Lab; and \"sons\"", Roles: []people.Role{people.Lab}}})}
	friend := model.PersonID{ID: do(people.Add{Person: people.Person{Name: "A friend"}})}
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	sampled := func(s samples.Sample, of ...model.ID) model.SampleID {
		var pool []model.AnimalID
		for _, id := range of {
			pool = append(pool, model.AnimalID{ID: id})
		}
		return model.SampleID{ID: do(samples.Prepare{Tables: tables, Each: []samples.New{{Animals: pool, Sample: s}}, Confirmed: model.Confirmed{"sample.kit-expired", "day.before-arrival"}})}
	}
	pooled := sampled(samples.Sample{Kit: samples.Kit{Number: "=0012", Lot: "-3", Expires: on(model.ToMonth, 2026, 9, 1)}, Material: "choanal-swab", Site: "left; right", Storage: "4 °C",
		For: []knowledge.AgentID{"serpentovirus", "reptarenavirus", "ferlavirus"}, Taken: minute(2026, 10, 25, 2, 30, 7200, "Europe/Berlin"), TakenBy: friend,
		Posted: day, Lab: laboratory, Courier: "@bicycle", Tracking: "1E5", Arrived: minute(2027, 3, 3, 0, 0, 20_700, "Asia/Kathmandu"), Note: "=1;\n\"two\""}, formula, sold)
	at := minute(2027, 3, 5, 11, 0, -12_600, "")
	for base, found := range []samples.Found{{Of: "reptarenavirus", Outcome: samples.NotDetected, Method: knowledge.Antibodies}, {Of: "serpentovirus", Outcome: samples.Inconclusive}} {
		do(samples.Enter{Tables: tables, At: at, Number: []string{"+1", ""}[base], Rows: []samples.Row{{On: samples.On{ID: pooled, Base: uint32(base) + 1}, Found: []samples.Found{found}}}})
	}
	do(samples.Correct{Tables: tables, ID: pooled, Base: 3, Result: samples.Result{Of: "serpentovirus", Outcome: samples.Detected, At: at, Report: "2", Note: "a\nb", Why: "run again"}})
	lost := sampled(samples.Sample{Material: "faeces", For: []knowledge.AgentID{"worms-and-protozoa"}, Taken: day}, formula)
	do(samples.GiveUp{Tables: tables, ID: lost, Base: 1, Void: samples.Void{At: day, Why: samples.Spoiled, Note: "warm"}})
	sampled(samples.Sample{Material: "blood", For: []knowledge.AgentID{"ferlavirus", "serpentovirus"}}, formula)
	sampled(samples.Sample{Material: "faeces", For: []knowledge.AgentID{"worms-and-protozoa"}, Planned: &samples.Planned{Day: day.Day() + 40, Round: 2, Of: 3}}, formula, sold)
	do(care.AddPhoto{About: about(formula, day), Photo: care.Photo{Photos: []model.PhotoID{"0a"}}})
	return c
}

func persons(t testing.TB, c *collection.Collection) (all []people.Stored) {
	t.Helper()
	if err := c.View(func(v model.View) (err error) { all, err = people.All(v); return err }); err != nil {
		t.Fatal(err)
	}
	return all
}

// placesOf are the places of a collection by their names.
func placesOf(t testing.TB, c *collection.Collection) map[string]model.PlaceID {
	t.Helper()
	all := map[string]model.PlaceID{}
	if err := c.View(func(v model.View) error {
		h, err := husbandry.ReadHouse(v)
		if err != nil {
			return err
		}
		for _, p := range h.Places() {
			all[p.Name] = p.ID
		}
		return nil
	}); err != nil {
		t.Fatal(err)
	}
	return all
}

func TestOutIsInOfValuesThatAreHardToCarry(t *testing.T) {
	d := newDesk(t)
	c := room(t)
	d.same(t, c, "en", "de")
	laid := d.laid(t, c, "en")
	if len(laid.Left) != 1 || laid.Left[care.KindPhoto] != 1 {
		t.Errorf("left: %v", laid.Left)
	}
	if day := laid.Book.Sheets[1].Rows[1].Cells[3]; day != "2025-03-01" {
		t.Errorf("the first weight is of %s", day)
	}
	for _, s := range laid.Book.Sheets {
		for _, r := range s.Rows {
			for _, cell := range r.Cells {
				if strings.ContainsAny(strings.TrimLeft(cell, " ")[:min(1, len(strings.TrimLeft(cell, " ")))], "=+-@\t\r\n") {
					t.Errorf("%s, line %d: %q is a formula", s.Name, r.Line, cell)
				}
			}
		}
	}
}

// What was drawn at random goes out and comes in as it was.
func TestOutIsIn(t *testing.T) {
	d := newDesk(t)
	text := rapid.Custom(func(r *rapid.T) string {
		return rapid.SampledFrom([]string{"", "=", "'", "'=", "-", "+", "@", "\n", "\t", " ", ";", ",", `"`, "1,432", "0x", "_x000D_", "#", "sep=;"}).Draw(r, "begin") +
			strings.Map(func(c rune) rune {
				if c < ' ' || c >= 0x7f && c < 0xa0 || c >= 0xfff0 && c <= 0xffff {
					return 'x' // refused by the rules of a text
				}
				return c
			}, rapid.StringN(0, 20, 60).Draw(r, "text"))
	})
	line := rapid.Map(text, func(s string) string {
		return strings.Map(func(c rune) rune {
			if c == '\n' || c == '\t' || c == '\u2028' || c == '\u2029' {
				return '='
			}
			return c
		}, s)
	})
	rapid.Check(t, func(r *rapid.T) {
		c, _ := storetest.New(t)
		for i := range rapid.IntRange(1, 3).Draw(r, "animals") {
			a := animals.Animal{Name: fmt.Sprint(line.Draw(r, "name"), i), Code: line.Draw(r, "code"), Morph: line.Draw(r, "morph"), Note: text.Draw(r, "note"),
				Status: rapid.SampledFrom([]animals.Status{animals.Kept, animals.OnLoan}).Draw(r, "status"), Sex: rapid.SampledFrom([]animals.Sex{"", animals.Female, animals.Male}).Draw(r, "sex"),
				Species: rapid.SampledFrom(ids(d.tables)).Draw(r, "species")}
			change, err := c.Do(animals.Add{Animal: a})
			if err != nil {
				r.Skip(err)
			}
			for range rapid.IntRange(0, 4).Draw(r, "entries") {
				m := model.Moment{UTC: rapid.Int64Range(0, 1_800_000_000).Draw(r, "utc"), Offset: 60 * rapid.Int32Range(-900, 900).Draw(r, "offset"), Precision: model.ToMinute}
				about := care.About{Animal: model.AnimalID{ID: change.Documents[0]}, At: m}
				note := care.Beside{Note: text.Draw(r, "words")}
				mass := model.Mass{Milligrams: rapid.Int64Range(1, 200_000_000).Draw(r, "mass")}
				light := model.Mass{Milligrams: rapid.Int64Range(1, 300_000).Draw(r, "light")} // of the smallest species too
				command := rapid.SampledFrom([]model.Command{
					care.Weigh{About: about, Weight: care.Weight{Mass: light, Beside: note}, Again: light},
					care.Feed{About: about, Meal: care.Meal{Each: mass, Count: rapid.IntRange(0, 100).Draw(r, "count"), Outcome: care.Took, Beside: note}},
					care.RecordShed{About: about, Shed: care.Shed{Beside: note}},
					care.WriteNote{About: about, Note: care.Note{Text: "x" + note.Note}},
				}).Draw(r, "command")
				if _, err := c.Do(command); err != nil {
					continue // a weight unlike the one before asks
				}
			}
		}
		want := told(t, c)
		b := d.laid(t, c, "en").Book
		way := rapid.SampledFrom(slices.Sorted(maps.Keys(d.ways(t)))).Draw(r, "way")
		b, err := d.ways(t)[way](b)
		if err != nil {
			r.Fatal(err)
		}
		if got := told(t, d.bring(t, b)); !slices.Equal(got, want) {
			r.Fatalf("%s:\n%s\nwas\n%s", way, strings.Join(got, "\n"), strings.Join(want, "\n"))
		}
	})
}

func ids(tables *knowledge.Tables) (all []knowledge.SpeciesID) {
	for _, s := range tables.SpeciesList() {
		all = append(all, s.ID)
	}
	return append(all, "")
}

// A collection that is brought what it gave out is left as it is.
func TestOutIntoItself(t *testing.T) {
	d := newDesk(t)
	c := room(t)
	b, err := d.ways(t)["XLSX"](d.laid(t, c, "de").Book)
	if err != nil {
		t.Fatal(err)
	}
	takings, _ := d.settled(b)
	given := d.given()
	given.Known = known(t, c)
	given.People = persons(t, c)
	if err := c.View(func(v model.View) (err error) { given.House, err = husbandry.ReadHouse(v); return err }); err != nil {
		t.Fatal(err)
	}
	taken, err := table.Take(b, takings, given)
	if err != nil || len(taken.Bad) > 0 || taken.Known != len(given.Known) {
		t.Fatalf("%v, bad %+v, %d known", err, taken.Bad, taken.Known)
	}
	if err := c.View(func(v model.View) error {
		j, err := taken.Rows.Judge(v, nil)
		if j.Animals != 0 || j.Entries != 0 || j.Stays+j.Places+j.Samples+j.People != 0 || j.There != len(taken.Rows.Entries)+len(taken.Rows.Stays)+len(taken.Rows.Samples) || len(j.Refused) != 0 {
			t.Errorf("%d animals, %d entries, %d there of %d, refused %v", j.Animals, j.Entries, j.There, len(taken.Rows.Entries), j.Refused)
		}
		return err
	}); err != nil {
		t.Fatal(err)
	}
}

// Every heading and every word that goes out is read back as what it stands for,
// in either language.
func TestHeadingsAreReadBack(t *testing.T) {
	d := newDesk(t)
	c := room(t)
	for _, language := range []string{"en", "de"} {
		sheets := d.laid(t, c, language).Book.Sheets
		if len(sheets) != len(table.Listings()) {
			t.Fatalf("%s: %d sheets", language, len(sheets))
		}
		for i, lists := range table.Listings() {
			taking := d.words.Guess(sheets[i])
			if taking.Lists != lists || taking.Heading != 0 {
				t.Errorf("%s: %s is read as %q from row %d", language, sheets[i].Name, taking.Lists, taking.Heading)
			}
			var fields []table.Field
			for _, column := range taking.Columns {
				if column.Field == table.NotTaken {
					t.Errorf("%s, %s: nothing is read from %q", language, sheets[i].Name, column.Heading)
				}
				fields = append(fields, column.Field)
			}
			for _, f := range lists.Fields() {
				if lists == table.Animals && slices.Contains([]table.Field{table.MassOf, table.OnDay, table.StayPlace, table.StayFrom}, f) {
					continue // weights and stays have tables of their own
				}
				if slices.Contains([]table.Field{table.StayRoom, table.StayRack, table.StayShelf}, f) {
					continue // the path of the place says them
				}
				if !slices.Contains(fields, f) {
					t.Errorf("%s, %s: %s goes out nowhere", language, sheets[i].Name, f)
				}
			}
		}
	}
}

// An empty collection gives a table of animals with headings alone.
func TestNothingGoesOutAsHeadings(t *testing.T) {
	d := newDesk(t)
	c, _ := storetest.New(t)
	laid := d.laid(t, c, "en")
	if len(laid.Book.Sheets) != 1 || len(laid.Book.Sheets[0].Rows) != 1 {
		t.Errorf("%+v", laid.Book)
	}
}
