package store_test

import (
	"bytes"
	"cmp"
	"context"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"path/filepath"
	"slices"
	"testing"
	"time"

	bolt "go.etcd.io/bbolt"

	"coilward/assets"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/collection"
	"coilward/model/contact"
	"coilward/model/due"
	"coilward/model/exam"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/positives"
	"coilward/model/quarantine"
	"coilward/model/samples"
	"coilward/model/store"
	"coilward/model/storetest"
)

// The collection of the benchmarks: 2,000 animals over one year, each with 36
// meals, 24 weights, 8 sheds and 4 checks.
const dueAnimals = 2000

// dueYear are the documents of one animal, oldest first.
func dueYear(b *testing.B, tables *knowledge.Tables, n int) []model.Document {
	id := model.ID{0: 1, 6: byte(n >> 8), 7: byte(n)}
	animal := model.Document{Type: model.TypeAnimal, ID: id, At: dueAgo(365)}
	dueEncode(b, &animal, animals.Version, animals.Animal{Name: fmt.Sprintf("Animal %d", n), Species: "python-regius", Status: animals.Kept})
	all := []model.Document{animal}
	entry := func(ago int, kind string, version int, body any) {
		d := model.Document{Type: model.TypeEntry, Kind: kind, ID: id, At: dueAgo(ago), Subjects: []model.Subject{{Kind: model.SubjectAnimal, ID: id}}}
		d.ID[0], d.ID[8], d.ID[9], d.ID[10] = 2, byte(ago>>8), byte(ago), kind[0]
		dueEncode(b, &d, version, body)
		all = append(all, d)
	}
	for i := range 36 {
		entry(362-10*i+n%9, care.KindMeal, care.Version, care.Meal{Prey: care.Rat, Size: care.Weaner, Each: model.Grams(60), Outcome: care.Took})
	}
	for i := range 24 {
		entry(360-15*i, care.KindWeight, care.Version, care.Weight{Mass: model.Mass{Milligrams: int64(1_200_000 + 1000*i), Typed: "1200 g"}, Gut: care.GutEmpty})
	}
	for i := range 8 {
		entry(350-45*i, care.KindShed, care.Version, care.Shed{Skin: care.Whole, StuckEyeCaps: care.No, StuckTailTip: care.No})
	}
	for i := range 4 {
		d := exam.Begin(tables, exam.Beginning{At: dueAgo(355 - 90*i)})
		for k := range d.Stops {
			d.Stops[k].Look, d.Stops[k].At = exam.Seen, d.Begun
		}
		end := d.Begun
		end.UTC += 600
		entry(355-90*i, exam.KindCheck, exam.CheckVersion, exam.Check{Walk: d.Walk, Finished: end, Verdict: exam.Urgency(tables, d.Facts(end))})
	}
	return all
}

func dueAgo(ago int) model.Moment { return model.MomentOf(storetest.Start().AddDate(0, 0, -ago)) }

func dueEncode(b *testing.B, d *model.Document, version int, body any) {
	b.Helper()
	if err := d.Encode(version, body); err != nil {
		b.Fatal(err)
	}
}

func dueTables(b *testing.B) *knowledge.Tables {
	b.Helper()
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		b.Fatal(err)
	}
	return tables
}

func dueCollection(b *testing.B, tables *knowledge.Tables) *collection.Collection {
	b.Helper()
	clock := storetest.NewClock()
	s, err := store.Open(b.TempDir(), store.Options{Now: clock.Now, Machine: "workshop", Verifier: store.VerifyHere})
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() {
		if err := s.Close(); err != nil {
			b.Error(err)
		}
	})
	c, err := collection.New(s, collection.Options{Now: clock.Now})
	if err != nil {
		b.Fatal(err)
	}
	for n := 0; n < dueAnimals; n += 100 {
		var some []model.Document
		for i := range 100 {
			some = append(some, dueYear(b, tables, n+i)...)
		}
		if _, err := c.Do(storetest.Put{Documents: some}); err != nil {
			b.Fatal(err)
		}
	}
	return c
}

func bringDue(b *testing.B, c *collection.Collection, book *due.Book) due.List {
	b.Helper()
	l, err := book.Bring(context.Background(), c, nil)
	if err != nil {
		b.Fatal(err)
	}
	if len(l.Owners) != dueAnimals || len(l.Unread) > 0 || len(l.Items) < 2*dueAnimals {
		b.Fatalf("%d owners, %d unread, %d items", len(l.Owners), len(l.Unread), len(l.Items))
	}
	return l
}

// BenchmarkDue2000 has the first fill, as at the beginning of a day, and the
// answer after one animal was touched.
func BenchmarkDue2000(b *testing.B) {
	tables := dueTables(b)
	c := dueCollection(b, tables)
	b.Run("fill", func(b *testing.B) {
		for b.Loop() {
			bringDue(b, c, due.NewBook(tables))
		}
	})
	b.Run("touched", func(b *testing.B) {
		book := due.NewBook(tables)
		first := bringDue(b, c, book)
		for b.Loop() {
			book.Touch(0, []model.Subject{first.Items[0].Subject})
			bringDue(b, c, book)
		}
	})
}

// dueRooms has the animals live in 20 rooms of 100, thirty of them, all of the first
// room, in quarantine for 80 days, and one of the second with a sample on its way.
func dueRooms(b *testing.B, c *collection.Collection, tables *knowledge.Tables) (sample model.SampleID) {
	b.Helper()
	do := func(command model.Command) []model.ID {
		b.Helper()
		change, err := c.Do(command)
		if err != nil {
			b.Fatal(command.Name(), err)
		}
		return change.Documents
	}
	var stays []model.Document
	for r := range dueAnimals / 100 {
		room := husbandry.Branch{Place: husbandry.Place{Name: fmt.Sprintf("Room %d", r), Kind: husbandry.Room}}
		for i := range 100 {
			room.Below = append(room.Below, husbandry.Branch{Place: husbandry.Place{Name: fmt.Sprint(i), Kind: husbandry.Tub}})
		}
		for i, place := range do(husbandry.AddPlaces{Branches: []husbandry.Branch{room}})[1:] {
			n := 100*r + i
			d := model.Document{Type: model.TypeStay, ID: model.ID{0: 9, 6: byte(n >> 8), 7: byte(n)}, At: dueAgo(360), Subjects: []model.Subject{dueAnimal(n), {Kind: model.SubjectPlace, ID: place}}}
			dueEncode(b, &d, 1, map[string]any{})
			stays = append(stays, d)
		}
	}
	do(storetest.Put{Documents: stays})
	yes := model.Confirmed{"day.before-arrival", "sample.kept-long", "sample.over-weekend"}
	for n := range 30 {
		do(quarantine.Begin{Tables: tables, Animal: model.AnimalID{ID: dueAnimal(n).ID}, Arrived: dueAgo(80), Protocol: "long", Confirmed: yes})
	}
	one := samples.Sample{Material: "choanal-swab", For: []knowledge.AgentID{"serpentovirus"}, Taken: dueAgo(5)}
	sample.ID = do(samples.Prepare{Tables: tables, Each: []samples.New{{Animals: []model.AnimalID{{ID: dueAnimal(140).ID}}, Sample: one}}, Confirmed: yes})[0]
	return sample
}

func dueAnimal(n int) model.Subject {
	return model.Subject{Kind: model.SubjectAnimal, ID: model.ID{0: 1, 6: byte(n >> 8), 7: byte(n)}}
}

// BenchmarkDueRooms has the answers after one change where animals owe something
// because of each other, and again where a positive is open.
func BenchmarkDueRooms(b *testing.B) {
	tables := dueTables(b)
	c := dueCollection(b, tables)
	sample := dueRooms(b, c, tables)
	measure := func(when string) {
		book := due.NewBook(tables)
		bringDue(b, c, book)
		for _, m := range []struct {
			name string
			n    int
			of   model.DocumentType
		}{{"resident", 1500, model.TypeEntry}, {"newcomer", 3, model.TypeEntry}, {"mate", 50, model.TypeEntry}, {"sample", 140, model.TypeSample}, {"stay", 1500, model.TypeStay}} {
			b.Run(when+"/"+m.name, func(b *testing.B) {
				for b.Loop() {
					book.Touch(0, []model.Subject{dueAnimal(m.n)}, m.of)
					bringDue(b, c, book)
				}
			})
		}
	}
	measure("quarantine")
	for _, command := range []model.Command{
		samples.Enter{Tables: tables, At: dueAgo(1), Number: "R", Rows: []samples.Row{{On: samples.On{ID: sample, Base: 1}, Found: []samples.Found{{Of: "serpentovirus", Outcome: samples.Detected}}}}},
		contact.Open{Tables: tables, Sample: sample, Agent: "serpentovirus"},
	} {
		if _, err := c.Do(command); err != nil {
			b.Fatal(command.Name(), err)
		}
	}
	measure("positive")
	b.Run("positive/unsettled", func(b *testing.B) { // what the page of an animal reads
		for b.Loop() {
			if err := c.View(func(v model.View) error {
				all, err := positives.Unsettled(v, tables)
				if err == nil && len(all) != 1 {
					b.Fatalf("%d are unsettled", len(all))
				}
				return err
			}); err != nil {
				b.Fatal(err)
			}
		}
	})
}

// rawDays is the name of the bucket of the peers.
var rawDays = []byte("entry")

// rawYear has the year of all animals in bbolt alone, one bucket by animal and time.
func rawYear(b *testing.B) *bolt.DB {
	b.Helper()
	tables := dueTables(b)
	db, err := bolt.Open(filepath.Join(b.TempDir(), "raw.db"), 0o600, &bolt.Options{Timeout: time.Second, NoSync: true})
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() { db.Close() })
	if err := db.Update(func(tx *bolt.Tx) error {
		bucket, err := tx.CreateBucket(rawDays)
		for n := range dueAnimals {
			for _, d := range dueYear(b, tables, n) {
				value, jsonError := json.Marshal(d)
				if err != nil || jsonError != nil {
					return fmt.Errorf("%w, %w", err, jsonError)
				}
				err = bucket.Put(append(rawDay(n, d.At.UTC), d.ID[:]...), value)
			}
		}
		return err
	}); err != nil {
		b.Fatal(err)
	}
	return db
}

func rawDay(animal int, at int64) []byte {
	return binary.BigEndian.AppendUint64([]byte{byte(animal >> 8), byte(animal)}, uint64(at))
}

// rawRead decodes a document of the days, and derives nothing from it.
func rawRead(value []byte) error {
	var d model.Document
	if err := json.Unmarshal(value, &d); err != nil {
		return err
	}
	_, _, err := care.Decode(d)
	return err
}

// rawLine is one of as many lines as are due.
type rawLine struct {
	day  model.Day
	name string
}

func rawLines() (lines []rawLine) {
	for n := range 4 * dueAnimals {
		lines = append(lines, rawLine{model.Day(n * 7919 % 60), fmt.Sprintf("Animal %d", n/4)})
	}
	return lines
}

func rawSort(lines []rawLine) {
	slices.SortFunc(slices.Clone(lines), func(x, y rawLine) int {
		return cmp.Or(cmp.Compare(x.day, y.day), cmp.Compare(x.name, y.name))
	})
}

// BenchmarkDue2000Raw is the peer: bbolt alone, every document of the days read and
// decoded, and nothing derived from it; and the sorting of as many lines as are due.
func BenchmarkDue2000Raw(b *testing.B) {
	db := rawYear(b)
	b.Run("fill", func(b *testing.B) {
		for b.Loop() {
			read := 0
			if err := db.View(func(tx *bolt.Tx) error {
				return tx.Bucket(rawDays).ForEach(func(_, value []byte) error {
					read++
					return rawRead(value)
				})
			}); err != nil || read == 0 {
				b.Fatal(read, err)
			}
		}
	})
	b.Run("touched", func(b *testing.B) {
		lines := rawLines()
		for b.Loop() {
			rawSort(lines)
		}
	})
}

// BenchmarkDueRoomsRaw is the peer: bbolt alone, the days of the last eighty of the
// hundred animals of one room read and decoded, which is how long its newcomers have been
// in quarantine, and as many lines sorted as are due.
func BenchmarkDueRoomsRaw(b *testing.B) {
	db, lines, from := rawYear(b), rawLines(), dueAgo(80).UTC
	for b.Loop() {
		read := 0
		if err := db.View(func(tx *bolt.Tx) error {
			days := tx.Bucket(rawDays).Cursor()
			for n := range 100 {
				for key, value := days.Seek(rawDay(n, from)); bytes.HasPrefix(key, rawDay(n, from)[:2]); key, value = days.Next() {
					if err := rawRead(value); err != nil {
						return err
					}
					read++
				}
			}
			return nil
		}); err != nil || read == 0 {
			b.Fatal(read, err)
		}
		rawSort(lines)
	}
}
