package store

import (
	"bytes"
	"errors"
	"syscall"
	"testing"

	bolterrors "go.etcd.io/bbolt/errors"
	"pgregory.net/rapid"

	"coilward/model/collection"
)

func drawRecord(t *rapid.T) *record {
	return &record{
		bucket: collection.Bucket(rapid.StringN(0, 20, 60).Draw(t, "bucket")),
		key:    rapid.SliceOfN(rapid.Byte(), 0, 255).Draw(t, "key"),
		value:  rapid.SliceOfN(rapid.Byte(), 0, 500).Draw(t, "value"),
	}
}

func TestRecordRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := drawRecord(t)
		data, err := codec{}.Marshal(r)
		if err != nil {
			t.Fatal(err)
		}
		var got record
		if err := (codec{}).Unmarshal(data, &got); err != nil {
			t.Fatal(err)
		}
		if got.bucket != r.bucket || !bytes.Equal(got.key, r.key) || !bytes.Equal(got.value, r.value) {
			t.Fatalf("%+v became %+v", r, got)
		}
	})
}

// A changed bit anywhere, a cut or added bytes are noticed.
func TestRecordDamageIsNoticed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		data, err := drawRecord(t).encode()
		if err != nil {
			t.Fatal(err)
		}
		at := rapid.IntRange(0, len(data)*8-1).Draw(t, "bit")
		data[at/8] ^= 1 << (at % 8)
		if err := (codec{}).Unmarshal(data, &record{}); !errors.Is(err, errRecord) {
			t.Fatalf("bit %d turned: %v", at, err)
		}
		data[at/8] ^= 1 << (at % 8)
		if err := (codec{}).Unmarshal(append(data, 0), &record{}); !errors.Is(err, errRecord) {
			t.Fatalf("a byte added: %v", err)
		}
		if err := (codec{}).Unmarshal(data[:at/8], &record{}); !errors.Is(err, errRecord) {
			t.Fatalf("cut to %d bytes: %v", at/8, err)
		}
	})
}

func TestRecordIsACopy(t *testing.T) {
	data, err := (&record{bucket: "b", key: []byte("k"), value: []byte("v")}).encode()
	if err != nil {
		t.Fatal(err)
	}
	var r record
	if _, err := r.decode(data); err != nil {
		t.Fatal(err)
	}
	for i := range data {
		data[i] = 0
	}
	if r.bucket != "b" || string(r.key) != "k" || string(r.value) != "v" {
		t.Errorf("the record points into the data: %+v", r)
	}
}

func TestRecordNameIsChecked(t *testing.T) {
	r := &record{bucket: "b", key: []byte("k")}
	if r.named("b", []byte("k")) != nil || r.named("c", []byte("k")) == nil || r.named("b", []byte("l")) == nil {
		t.Error("a record in a wrong place is accepted, or one in its own place is not")
	}
}

func TestRecordNameTooLong(t *testing.T) {
	if _, err := (&record{bucket: "b", key: make([]byte, 256)}).encode(); err == nil {
		t.Error("a key of 256 bytes was accepted")
	}
}

// The form is frozen: this is a record as the first version wrote it.
func TestRecordForm(t *testing.T) {
	data, err := (&record{bucket: "head", key: []byte{1, 2}, value: []byte("7")}).encode()
	want := "cwr1A\x1a\xdb\xae\x00\x00\x00\x09\x04head\x02\x01\x027"
	if err != nil || string(data) != want {
		t.Errorf("encoded %q, %v, want %q", data, err, want)
	}
}

func FuzzRecord(f *testing.F) {
	data, err := (&record{bucket: "head", key: []byte{1}, value: []byte("7")}).encode()
	if err != nil {
		f.Fatal(err)
	}
	f.Add(data)
	f.Add([]byte("cwr1"))
	f.Add([]byte("cwr1\x00\x00\x00\x00\xff\xff\xff\xff"))
	f.Fuzz(func(t *testing.T, data []byte) {
		var r record
		length, err := r.decode(data)
		if err != nil {
			return
		}
		again, err := r.encode()
		if err != nil || !bytes.Equal(again, data[:length]) {
			t.Errorf("%q was read as %+v, which is written as %q, %v", data, r, again, err)
		}
	})
}

func TestKindsOfFault(t *testing.T) {
	for cause, want := range map[error]error{
		syscall.ENOSPC: ErrFull, syscall.EROFS: ErrReadOnly, syscall.EACCES: ErrForbidden, syscall.EPERM: ErrForbidden,
		bolterrors.ErrDatabaseReadOnly: ErrReadOnly, bolterrors.ErrInvalid: ErrDamaged, bolterrors.ErrChecksum: ErrDamaged,
		bolterrors.ErrVersionMismatch: ErrDamaged, errRecord: ErrDamaged, errPanic: ErrDamaged, syscall.EIO: ErrUnknown,
	} {
		if err := fault("p", "write", cause); !errors.Is(err, want) || !errors.Is(err, cause) {
			t.Errorf("%v became %v, want %v", cause, err, want)
		}
	}
	if fault("p", "write", nil) != nil {
		t.Error("no error became a fault")
	}
	first := &Fault{Kind: ErrReplaced, Path: "q"}
	if err := fault("p", "write", first); err != first {
		t.Errorf("a fault lost its kind: %v", err)
	}
}

func TestGuard(t *testing.T) {
	if err := guard(func() error { panic("page 7 has a bad type") }); !errors.Is(err, errPanic) {
		t.Errorf("a panic became %v", err)
	}
	if err := guard(func() error { return errRecord }); err != errRecord {
		t.Errorf("an error became %v", err)
	}
}
