package photo_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/label"
	"coilward/model/photo"
)

func animal(n byte) model.AnimalID { return model.AnimalID{ID: model.ID{15: n}} }
func placed(n byte) model.PlaceID  { return model.PlaceID{ID: model.ID{14: 1, 15: n}} }

// shots are written as "name@minute" or "name@minute=A1" for a card of animal 1,
// P2 for one of place 2.
func shots(t *testing.T, text string) (all []photo.Shot) {
	t.Helper()
	for word := range strings.FieldsSeq(text) {
		var s photo.Shot
		head, card, carded := strings.Cut(word, "=")
		name, minute, _ := strings.Cut(head, "@")
		var n int64
		if _, err := fmt.Sscan(minute, &n); err != nil {
			t.Fatal(err)
		}
		s.Name, s.ID, s.At.UTC = name, model.PhotoID(name), n*60
		if carded && card[0] == 'A' {
			s.Card = label.OfAnimal(animal(card[1] - '0'))
		} else if carded {
			s.Card = label.OfPlace(placed(card[1] - '0'))
		}
		all = append(all, s)
	}
	return all
}

func said(all []photo.Series) string {
	var parts []string
	for _, s := range all {
		card := "-"
		if a, ok := s.Card.Animal(); ok {
			card = fmt.Sprintf("A%d", a.ID[15])
		} else if p, ok := s.Card.Place(); ok {
			card = fmt.Sprintf("P%d", p.ID[15])
		}
		part := card + ":"
		for _, c := range s.Cards {
			part += " (" + c.Name + ")"
		}
		for _, c := range s.Shots {
			part += " " + c.Name
		}
		parts = append(parts, part)
	}
	return strings.Join(parts, " | ")
}

func TestSeries(t *testing.T) {
	for _, c := range []struct{ shots, want string }{
		{"", ""},
		{"a@1 b@2", "-: a b"},
		{"c@3 k@1=A1 b@2", "A1: (k) b c"},
		{"a@0 k@1=A1 b@2 l@3=P2 c@4", "-: a | A1: (k) b | P2: (l) c"},
		{"k@1=A1 l@2=A1 b@3", "A1: (k) (l) b"},
		{"k@1=A1 a@2 l@3=A1 b@4", "A1: (k) (l) a b"},
		{"k@1=A1 l@2=A2 b@3", "A1: (k) | A2: (l) b"},
		{"k@1=A1 a@121 b@242", "A1: (k) a | -: b"}, // 120 minutes hold, 121 do not
		{"b@1 a@1 k@0=A1", "A1: (k) a b"},
	} {
		if got := said(photo.Sort(shots(t, c.shots))); got != c.want {
			t.Errorf("%s: %s, want %s", c.shots, got, c.want)
		}
	}
}

// Whatever the order in which a folder is listed: every shot is in one series, in
// the order of time; one with a card is in a series of that card; no shot is
// further than a pause from the one before it; and no card reaches past another.
func TestSeriesAtRandom(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var all []photo.Shot
		for i := range rapid.IntRange(0, 30).Draw(t, "count") {
			s := photo.Shot{ID: model.PhotoID(fmt.Sprint(i)), Name: fmt.Sprintf("%02d.jpg", i), At: model.Moment{UTC: rapid.Int64Range(0, 20*60*60).Draw(t, "second")}}
			switch rapid.IntRange(0, 5).Draw(t, "card") {
			case 0:
				s.Card = label.OfAnimal(animal(byte(rapid.IntRange(1, 3).Draw(t, "animal"))))
			case 1:
				s.Card = label.OfPlace(placed(byte(rapid.IntRange(1, 3).Draw(t, "place"))))
			}
			all = append(all, s)
		}
		sorted := photo.Sort(all)
		if diff := cmp.Diff(sorted, photo.Sort(rapid.Permutation(all).Draw(t, "listed"))); diff != "" {
			t.Fatalf("the order of the folder matters: %s", diff)
		}
		count, last, card := 0, int64(-photo.Pause), label.Label{}
		for _, s := range sorted {
			in := append(slices.Clone(s.Cards), s.Shots...)
			slices.SortFunc(in, func(a, b photo.Shot) int {
				if a.At.UTC != b.At.UTC {
					return int(a.At.UTC - b.At.UTC)
				}
				return strings.Compare(a.Name, b.Name)
			})
			for i, shot := range in {
				if shot.At.UTC < last {
					t.Fatalf("%s lies before the one before it", shot.Name)
				}
				if paused := shot.At.UTC-last > photo.Pause; paused {
					card = label.Label{}
					if i > 0 {
						t.Fatalf("%s comes after a pause", shot.Name)
					}
				}
				if shot.Card != (label.Label{}) {
					card = shot.Card
				}
				if card != s.Card {
					t.Fatalf("%s is in the series of another card", shot.Name)
				}
				last, count = shot.At.UTC, count+1
			}
		}
		if count != len(all) {
			t.Fatalf("%d of %d shots", count, len(all))
		}
	})
}

// A card holds for the shots after it although those between were kept, or left
// out, before; and a card alone waits for nothing.
func TestSeriesOfWhatWaits(t *testing.T) {
	l := photo.Listing{Waiting: shots(t, "k@0=A1 b@180 l@400=A2"), Kept: shots(t, "a@90"), LeftOut: shots(t, "c@185")}
	if got := said(l.Series()); got != "A1: (k) b" {
		t.Error(got)
	}
	if got := said(photo.Listing{Waiting: l.Waiting}.Series()); got != "-: b" {
		t.Errorf("without those between: %s", got)
	}
}

// The pictures of cards are read and wait for nothing; a card that was kept or left
// out is not counted at all.
func TestWhatIsCounted(t *testing.T) {
	for _, c := range []struct {
		waiting, leftOut string
		shots, cards     int
	}{
		{"", "", 0, 0},
		{"k@0=A1 l@400=A2", "", 0, 2},
		{"k@0=A1 a@1 b@2 l@400=P2 c@401", "m@500=A3", 3, 2},
	} {
		l := photo.Listing{Waiting: shots(t, c.waiting), LeftOut: shots(t, c.leftOut)}
		if shots, cards := l.Waits(); shots != c.shots || cards != c.cards {
			t.Errorf("%s: %d pictures, %d cards", c.waiting, shots, cards)
		}
	}
}

type household map[model.PlaceID][]model.AnimalID

func (h household) Known(a model.AnimalID) bool { return a.ID[15] < 9 }

func (h household) Living(p model.PlaceID, at model.Moment) ([]model.AnimalID, bool) {
	all, ok := h[p]
	if at.UTC > 600 { // they moved out then
		return nil, ok
	}
	return all, ok
}

func TestWhoseASeriesIs(t *testing.T) {
	h := household{placed(1): {animal(1)}, placed(2): {animal(1), animal(2)}, placed(3): nil}
	for _, c := range []struct {
		shots string
		want  photo.Whose
		among int
	}{
		{"a@1", photo.NoCard, 0},
		{"k@1=A1 a@2", photo.One, 1},
		{"k@1=A9 a@2", photo.Stranger, 0},
		{"k@1=P1 a@2", photo.One, 1},
		{"k@11=P1 a@12", photo.Nobody, 0},
		{"k@1=P2 a@2", photo.Several, 2},
		{"k@1=P3 a@2", photo.Nobody, 0},
		{"k@1=P7 a@2", photo.Stranger, 0},
	} {
		got, among := photo.Sort(shots(t, c.shots))[0].Of(h)
		if got != c.want || len(among) != c.among {
			t.Errorf("%s: %d, %d animals; want %d, %d", c.shots, got, len(among), c.want, c.among)
		}
	}
}
