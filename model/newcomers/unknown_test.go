package newcomers_test

import (
	"slices"
	"testing"

	"coilward/model"
	"coilward/model/knowledge"
	"coilward/model/newcomers"
	"coilward/model/quarantine"
	"coilward/model/storetest"
)

// rewrites puts a quarantine as another version of the program may have written it.
func (w *world) rewrites(change func(*quarantine.Stored)) {
	w.t.Helper()
	var q quarantine.Stored
	if err := w.c.View(func(v model.View) (err error) { q, err = quarantine.Find(v, w.kept); return err }); err != nil {
		w.t.Fatal(err)
	}
	change(&q)
	d, err := q.Document()
	if err != nil {
		w.t.Fatal(err)
	}
	w.do(storetest.Put{Documents: []model.Document{d}})
}

// One that goes by a protocol that is not known here is judged by the longest, and the
// list says so; so it does of a change that cannot stand.
func TestAProtocolThatIsNotKnownIsSaid(t *testing.T) {
	w := begin(t)
	if l := w.line(quarantine.InRoom); len(l.Reasons) != 0 {
		t.Errorf("known: %+v", l.Reasons)
	}
	w.rewrites(func(q *quarantine.Stored) { q.Protocol = "of-next-year" })
	l := w.line(quarantine.InRoom)
	if len(l.Reasons) != 1 || l.Reasons[0].Key != "quarantine.why.protocol-unknown" || l.Reasons[0].Gaps["Protocol"] != model.KeyGap("protocol.long") || l.Want != 180 {
		t.Errorf("not known: %+v", l)
	}
	w.rewrites(func(q *quarantine.Stored) { q.Protocol = "python" })
	python, _ := w.tables.Protocol("python")
	python.Days = -1
	d := model.Document{Type: model.TypeProtocol, ID: model.ID{9}, At: w.now()}
	if err := d.Encode(quarantine.Version, quarantine.Own{Protocol: python}); err != nil {
		t.Fatal(err)
	}
	w.do(storetest.Put{Documents: []model.Document{d}})
	if l := w.line(quarantine.InRoom); len(l.Reasons) != 1 || l.Reasons[0].Key != "quarantine.why.protocol-spoilt" || l.Reasons[0].Gaps["Protocol"] != model.KeyGap("protocol.python") || l.Want != 90 {
		t.Errorf("spoilt: %+v", l)
	}
}

// What another version kept of a release is told in words: items, states and protocols
// that this one does not know are called so, and none of them is met.
func TestAReleaseOfAnotherVersionIsTold(t *testing.T) {
	w := begin(t)
	w.do(newcomers.Release{Tables: w.tables, ID: w.kept, Base: 1, At: w.now(), Why: "goes back", Confirmed: model.Confirmed{"quarantine.unmet"}})
	lines := w.of(w.animal).Gate.Lines
	for i, l := range quarantine.Told(lines) {
		if l.Item != lines[i].Item || l.State != lines[i].State {
			t.Errorf("%s, %s: told as %s, %s", lines[i].Item, lines[i].State, l.Item, l.State)
		}
	}
	w.rewrites(func(q *quarantine.Stored) {
		q.Released.Lines[0].Item, q.Released.Lines[1].State, q.Protocol = "moonlight", "by-halves", "of-next-year"
	})
	n := w.of(w.animal)
	if n.Gate.Lines[0].Item != quarantine.UnknownItem || n.Gate.Lines[1].State != quarantine.UnknownState || n.Gate.Lines[1].State.Met() {
		t.Errorf("told: %+v", n.Gate.Lines[:2])
	}
	if n.Quarantine.Released.Lines[0].Item != "moonlight" {
		t.Error("what was kept is changed")
	}
	if title := n.Protocol.Title(); title.Gaps["Protocol"] != model.KeyGap("protocol.unknown") || n.Protocol.Days != 90 {
		t.Errorf("the protocol: %+v", n.Protocol)
	}
	if slices.Contains(quarantine.Items(), quarantine.UnknownItem) || slices.Contains(quarantine.States(), quarantine.UnknownState) || n.Gate.Protocol.ID != knowledge.ProtocolID("python") {
		t.Error("the unknown is one of what can be asked")
	}
}
