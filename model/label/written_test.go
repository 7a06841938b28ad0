package label_test

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/label"
)

func someID(r *rapid.T, name string) (id model.ID) {
	copy(id[:], rapid.SliceOfN(rapid.Byte(), 16, 16).Draw(r, name))
	id[0] |= 1
	return id
}

// A sheet's code is read back whole, however its letters are cased; it is never taken for
// a card or a tube, nor one of these for a sheet.
func TestSheetsFromTheRoom(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		w := label.Written{
			Kind: rapid.SampledFrom([]label.WrittenKind{label.CheckSheet, label.WeighSheet, label.RoundSheet}).Draw(r, "kind"),
			ID:   someID(r, "id"), Day: model.Day(rapid.IntRange(0, 60_000).Draw(r, "day")), Order: rapid.Uint16().Draw(r, "order"),
		}
		if rapid.Bool().Draw(r, "of one") {
			w.Of = someID(r, "of")
		}
		text := w.Text()
		for _, said := range []string{text, strings.ToLower(text), " " + text + "\n"} {
			if got, ok := label.ParseWritten(said); !ok || got != w {
				r.Errorf("%q is read as %v", said, got)
			}
		}
		if _, card := label.Parse(text); card {
			r.Errorf("%q is taken for a card", text)
		}
		if _, tube := label.ParseTube(text); tube {
			r.Errorf("%q is taken for a tube", text)
		}
		if strings.Trim(text, "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789:-") != "" {
			r.Errorf("%q has signs that take more room in a code", text)
		}
		for _, other := range []string{label.OfAnimal(model.AnimalID{ID: w.ID}).Text(), label.TubeText(model.SampleID{ID: w.ID})} {
			if _, ok := label.ParseWritten(other); ok {
				r.Errorf("%q is taken for a sheet", other)
			}
		}
	})
}

// What people read on a sheet leads back to it: kind, order and the end of its id, however it
// is typed; no number is a code, a card or a tube.
func TestNumbers(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		w := label.Written{
			Kind: rapid.SampledFrom([]label.WrittenKind{label.CheckSheet, label.WeighSheet, label.RoundSheet}).Draw(r, "kind"),
			ID:   someID(r, "id"), Order: rapid.Uint16().Draw(r, "order"),
		}
		if w.Kind == label.CheckSheet {
			w.Order = 0
		}
		number := w.Number()
		for _, said := range []string{number, strings.ToLower(number), " " + strings.ReplaceAll(number, "-", " ") + "\n", strings.ReplaceAll(number, "-", " – ")} {
			n, ok := label.ParseNumber(said)
			if !ok || n.Kind != w.Kind || n.Order != w.Order || !n.Ends(w.ID) {
				r.Fatalf("%q is read as %v, %v", said, n, ok)
			}
			other := someID(r, "other")
			made := n.ID(other)
			if !n.Ends(made) || !slices.Equal(made[:len(made)-3], other[:len(other)-3]) {
				r.Errorf("%v of %v", made, other)
			}
		}
		if _, code := label.ParseWritten(number); code {
			r.Errorf("%q is taken for a code", number)
		}
		if again := (label.Written{Kind: w.Kind, ID: w.ID, Order: w.Order + 1}).Number(); again == number && w.Kind != label.CheckSheet {
			r.Errorf("another order has the number %s too", number)
		}
	})
}

func TestWhatIsNoNumber(t *testing.T) {
	for _, none := range []string{"", "R", "R-1A2B", "R-1A2-B54B05", "R-1A2B-B54B0", "X-1A2B-B54B05", "R-1A2B-B54B05-1", "1A2B-B54B05", "B54B0", "B54B0G", "Juniper", "R-1A2G-B54B05"} {
		if n, ok := label.ParseNumber(none); ok || n != (label.Number{}) {
			t.Errorf("%q is read as %v", none, n)
		}
	}
}

func FuzzParseNumber(f *testing.F) {
	for _, seed := range []string{"", "R-1A2B-B54B05", "b54b05", "W 1a2b b54b05"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		n, ok := label.ParseNumber(text)
		if !ok {
			return
		}
		said := label.Written{Kind: n.Kind, ID: n.ID(model.ID{}), Order: n.Order}.Number()
		if again, ok := label.ParseNumber(said); !ok || again != n {
			t.Fatalf("%q is read as %v, that as %v, %v", text, n, again, ok)
		}
	})
}

func TestWhatIsNoSheet(t *testing.T) {
	const id = "0190a1b2-c3d4-7e5f-8a9b-0c1d2e3f4a5b"
	if _, ok := label.ParseWritten("coilward:sheet:check:" + id + "::2026-11-28:0000"); !ok {
		t.Fatal("a sheet for any animal is not read")
	}
	for _, none := range []string{
		"", "coilward:sheet:", "coilward:sheet:feed:" + id + "::2026-11-28:0000", "coilward:sheet:check:::2026-11-28:0000",
		"coilward:sheet:check:" + id + ":x:2026-11-28:0000", "coilward:sheet:check:" + id + "::2026-02-30:0000",
		"coilward:sheet:check:" + id + "::2026-11-28:000", "coilward:sheet:check:" + id + "::2026-11-28:00000", "coilward:sheet:check:" + id + "::2026-11-28:+000",
		"coilward:sheet:check:" + id + "::2026-11-28", "coilward:sheet:check:" + id + "::2026-11-28:0000:", "sheet:check:" + id + "::2026-11-28:0000",
	} {
		if w, ok := label.ParseWritten(none); ok || w != (label.Written{}) {
			t.Errorf("%q is read as %v, %v", none, w, ok)
		}
	}
}

// Orders of the same animals, and of more or fewer, are told apart.
func TestAnOrderIsToldFromAnother(t *testing.T) {
	a, b := model.ID{1}, model.ID{2}
	orders := map[uint16]string{}
	for name, ids := range map[string][]model.ID{"none": nil, "a": {a}, "b": {b}, "a b": {a, b}, "b a": {b, a}} {
		sum := label.Order(ids)
		if other, taken := orders[sum]; taken {
			t.Errorf("%s and %s have the same sum", name, other)
		}
		orders[sum] = name
	}
	if label.Order(nil) != 0xFFFF {
		t.Errorf("nothing: %x", label.Order(nil))
	}
}

func FuzzParseWritten(f *testing.F) {
	for _, seed := range []string{"", "coilward:sheet:check:0190a1b2-c3d4-7e5f-8a9b-0c1d2e3f4a5b::2026-11-28:0000", "COILWARD:SHEET:::::"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		w, ok := label.ParseWritten(text)
		if !ok {
			return
		}
		if again, ok := label.ParseWritten(w.Text()); !ok || again != w {
			t.Fatalf("%q is read as %v, that as %v, %v", text, w, again, ok)
		}
	})
}
