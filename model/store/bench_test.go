package store_test

import (
	"encoding/binary"
	"encoding/json"
	"path/filepath"
	"testing"
	"time"

	bolt "go.etcd.io/bbolt"

	"coilward/model"
	"coilward/model/collection"
	"coilward/model/storetest"
)

// The raw peer of the benchmarks is bbolt alone with one bucket: subject, time
// and id as key, the whole document as JSON, no checksum, no journal, no
// revisions, no index.

const (
	benchEntries = 5000
	benchAnimals = 20
)

func benchEntry(n int) model.Document {
	id := model.ID{0: 1, 6: byte(n >> 16), 7: byte(n >> 8), 8: byte(n)}
	d := storetest.Entry(id, model.ID{1, byte(n % benchAnimals)}, int64(n)*3600, map[string]any{
		"mass": map[string]any{"mg": 1_412_000 + n, "typed": "1412 g"}, "note": "calm, tongue flicks, after shed",
	})
	d.By = model.PersonID{ID: model.ID{7}}
	return d
}

func rawKey(d model.Document) []byte {
	key := append([]byte(nil), d.Subjects[0].ID[:]...)
	key = binary.BigEndian.AppendUint64(key, uint64(d.At.UTC)^1<<63)
	return append(key, d.ID[:]...)
}

var rawBucket = []byte("entry")

func rawOpen(b *testing.B) *bolt.DB {
	b.Helper()
	db, err := bolt.Open(filepath.Join(b.TempDir(), "raw.db"), 0o600, &bolt.Options{Timeout: time.Second, FreelistType: bolt.FreelistMapType})
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() { db.Close() })
	return db
}

func rawPut(b *testing.B, db *bolt.DB, all ...model.Document) {
	err := db.Update(func(tx *bolt.Tx) error {
		bucket, err := tx.CreateBucketIfNotExists(rawBucket)
		for _, d := range all {
			value, jsonError := json.Marshal(d)
			if jsonError != nil {
				return jsonError
			}
			if err == nil {
				err = bucket.Put(rawKey(d), value)
			}
		}
		return err
	})
	if err != nil {
		b.Fatal(err)
	}
}

func benchDocuments() []model.Document {
	all := make([]model.Document, benchEntries)
	for n := range all {
		all[n] = benchEntry(n)
	}
	return all
}

func benchCollection(b *testing.B, all []model.Document) *collection.Collection {
	b.Helper()
	s := open(b, b.TempDir())
	b.Cleanup(func() { closeStore(b, s) })
	c := over(b, s)
	if _, err := c.Do(storetest.Put{Documents: all}); err != nil {
		b.Fatal(err)
	}
	return c
}

func BenchmarkTimeline5000(b *testing.B) {
	all := benchDocuments()
	for n := range all {
		all[n].Subjects[0].ID = animal
	}
	b.Run("raw", func(b *testing.B) {
		db := rawOpen(b)
		rawPut(b, db, all...)
		for b.Loop() {
			n := 0
			if err := db.View(func(tx *bolt.Tx) error {
				c := tx.Bucket(rawBucket).Cursor()
				for k, v := c.Last(); k != nil; k, v = c.Prev() {
					var d model.Document
					if err := json.Unmarshal(v, &d); err != nil {
						return err
					}
					n++
				}
				return nil
			}); err != nil || n != benchEntries {
				b.Fatal(n, err)
			}
		}
	})
	b.Run("collection", func(b *testing.B) {
		c := benchCollection(b, all)
		for b.Loop() {
			n := 0
			if err := c.View(func(v model.View) error {
				return v.Timeline(model.AnimalID{ID: animal}.Subject(), model.Beginning, model.EndOfTime, func(model.Document) bool { n++; return true })
			}); err != nil || n != benchEntries {
				b.Fatal(n, err)
			}
		}
	})
}

func BenchmarkSaveBeside5000(b *testing.B) {
	all := benchDocuments()
	b.Run("raw", func(b *testing.B) {
		db := rawOpen(b)
		rawPut(b, db, all...)
		n := benchEntries
		for b.Loop() {
			rawPut(b, db, benchEntry(n))
			n++
		}
	})
	b.Run("collection", func(b *testing.B) {
		c := benchCollection(b, all)
		n := benchEntries
		for b.Loop() {
			if _, err := c.Do(storetest.Put{Documents: []model.Document{benchEntry(n)}}); err != nil {
				b.Fatal(err)
			}
			n++
		}
	})
}

func BenchmarkSave5000AtOnce(b *testing.B) {
	all := benchDocuments()
	b.Run("raw", func(b *testing.B) {
		for b.Loop() {
			rawPut(b, rawOpen(b), all...)
		}
	})
	b.Run("collection", func(b *testing.B) {
		for b.Loop() {
			benchCollection(b, all)
		}
	})
}

func BenchmarkOpen(b *testing.B) {
	folder := b.TempDir()
	s := open(b, folder)
	if _, err := over(b, s).Do(storetest.Put{Documents: benchDocuments()}); err != nil {
		b.Fatal(err)
	}
	closeStore(b, s)
	for b.Loop() {
		closeStore(b, open(b, folder))
	}
}

func BenchmarkVerify(b *testing.B) {
	folder := b.TempDir()
	s := open(b, folder)
	if _, err := over(b, s).Do(storetest.Put{Documents: benchDocuments()}); err != nil {
		b.Fatal(err)
	}
	closeStore(b, s)
	for b.Loop() {
		good(b, file(folder))
	}
}
