package store

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"testing"
)

// FuzzDump feeds the reader of dumps. Whatever it accepts must be a dump to the
// last byte, and every record it gives must be one that a dump may hold.
func FuzzDump(f *testing.F) {
	body := `{"format":"coilward dump","version":1,"schema":1}` + "\n" + `{"b":"control","k":"666f726d","v":{"schema":1,"name":"x"}}` + "\n"
	sum := sha256.Sum256([]byte(body))
	f.Add([]byte(body + fmt.Sprintf(`{"lines":1,"sha256":"%s"}`, hex.EncodeToString(sum[:])) + "\n"))
	f.Add([]byte(body))
	f.Add([]byte("{}\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		var given []record
		if readDump(bytes.NewReader(data), func(r record) error { given = append(given, r); return nil }) != nil {
			return
		}
		lines := bytes.Split(bytes.TrimSuffix(data, []byte("\n")), []byte("\n"))
		if len(lines) != len(given)+2 {
			t.Fatalf("%d lines gave %d records", len(lines), len(given))
		}
		end := len(data) - len(lines[len(lines)-1]) - 1
		sum := sha256.Sum256(data[:end])
		if !bytes.Contains(data[end:], []byte(hex.EncodeToString(sum[:]))) {
			t.Fatal("the sum does not fit")
		}
		for _, r := range given {
			if !dumped(r.bucket) || len(r.key) == 0 || !json.Valid(r.value) {
				t.Fatalf("record %+v", r)
			}
		}
	})
}
