package handover

import (
	"bytes"
	"crypto/ed25519"
	"encoding/hex"
	"errors"
	"strings"
	"testing"
)

// The signature and the list stand in the one way that they can: also what is signed as it
// should be is refused where it is written otherwise.
func TestWrittenInOneWay(t *testing.T) {
	k, err := NewKey()
	if err != nil {
		t.Fatal(err)
	}
	record, paper := recordOf(t, 0), []byte("%PDF-1.3")
	good := sealed(t, k, Version, []string{recordName, paperName}, record, paper)
	list, signed := partOf(t, good, manifestName), partOf(t, good, signatureName)
	file := func(signed, list []byte) []byte {
		var out bytes.Buffer
		if err := frame(&out, []string{signatureName, manifestName, recordName, paperName}, [][]byte{signed, list, record, paper}); err != nil {
			t.Fatal(err)
		}
		return out.Bytes()
	}
	resigned := func(list []byte) []byte {
		s, err := canonical(signature{hex.EncodeToString(k.Public()), hex.EncodeToString(ed25519.Sign(k.private, append([]byte(domain), list...)))})
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	if _, err := Open(bytes.NewReader(good), int64(len(good))); err != nil {
		t.Fatal(err)
	}
	// the end of the list at the end, by APPNOTE 4.3.16: first disk, four members, no comment
	if end := good[len(good)-endSize:]; !bytes.HasPrefix(end, []byte("PK\x05\x06\x00\x00\x00\x00\x04\x00\x04\x00")) || !bytes.HasSuffix(end, []byte{0, 0}) {
		t.Errorf("it ends with %x", end)
	}
	capitals := func(field string) func(string) string {
		return func(s string) string {
			before, value, found := strings.Cut(s, `"`+field+`":"`)
			value, after, ended := strings.Cut(value, `"`)
			if other := strings.ToUpper(value); found && ended && other != value {
				return before + `"` + field + `":"` + other + `"` + after
			}
			t.Errorf("no %s with a letter among its digits in %s", field, s)
			return s
		}
	}
	for name, c := range map[string]struct {
		change func(string) string
		list   bool
	}{
		"a name in capitals":            {func(s string) string { return strings.ToUpper(s[:9]) + s[9:] }, false},
		"the key's digits in capitals":  {capitals("key"), false},
		"the digits in capitals":        {capitals("signature"), false},
		"a signature with a space":      {func(s string) string { return strings.Replace(s, ":", ": ", 1) }, false},
		"a signature with more":         {func(s string) string { return strings.Replace(s, "{", `{"more":1,`, 1) }, false},
		"a signature of no JSON":        {func(s string) string { return s[1:] }, false},
		"a signature without its break": {func(s string) string { return strings.TrimSpace(s) }, false},
		"a list with a space":           {func(s string) string { return strings.Replace(s, ":", ": ", 1) }, true},
		"a list with more":              {func(s string) string { return strings.Replace(s, `"members"`, `"more":1,"members"`, 1) }, true},
		"a list without its break":      {func(s string) string { return strings.TrimSpace(s) }, true},
	} {
		bad, want, part := file([]byte(c.change(string(signed))), list), Forged, signatureName
		if c.list {
			other := []byte(c.change(string(list)))
			bad, want, part = file(resigned(other), other), Unreadable, manifestName
		}
		_, err := Open(bytes.NewReader(bad), int64(len(bad)))
		var why *Fault
		if !errors.As(err, &why) || why.Why != want || why.Part != part {
			t.Errorf("%s: %v, want %q %s", name, err, part, want)
		}
	}
}
