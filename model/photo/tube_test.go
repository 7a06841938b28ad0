package photo_test

import (
	"testing"

	"coilward/model"
	"coilward/model/label"
)

// The label of a tube is no card: a photo of it waits without one, and those that follow
// it are not sorted by it.
func TestTheLabelOfATubeIsNoCard(t *testing.T) {
	f, _ := open(t)
	phone := t.TempDir()
	id := placed(4).ID
	if _, tube := label.ParseTube(label.Label{Kind: "sample", ID: id}.Text()); !tube {
		t.Fatal("the picture would show no tube")
	}
	put(t, phone, "card.jpg", carded(t, label.Label{Kind: model.SubjectPlace, ID: id}, 260))
	put(t, phone, "tube.jpg", carded(t, label.Label{Kind: "sample", ID: id}, 260))
	l := look(t, inbox(t, f, phone), nil)
	if len(l.Waiting) != 2 {
		t.Fatalf("%q waits", names(l.Waiting))
	}
	for _, s := range l.Waiting {
		if carded := s.Card != (label.Label{}); carded != (s.Name == "card.jpg") {
			t.Errorf("%s: %+v", s.Name, s.Card)
		}
	}
}
