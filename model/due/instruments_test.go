package due_test

import (
	"testing"

	"coilward/model"
	"coilward/model/due"
	"coilward/model/husbandry"
)

func (w *world) instrument(i husbandry.Instrument) model.InstrumentID {
	w.t.Helper()
	return model.InstrumentID{ID: w.do(husbandry.AddInstrument{Instrument: i}).Documents[0]}
}

func (w *world) proves(id model.InstrumentID, ago int, good bool) {
	w.t.Helper()
	w.do(husbandry.CheckInstrument{Instrument: id, At: w.about(ago).At, Check: husbandry.InstrumentCheck{Good: good}})
}

func (w *world) since(ago int) model.Date {
	return model.Date{Day: w.today() - model.Day(ago), Precision: model.ToDay}
}

// A scale is checked with a known mass once a month; source: common practice, no
// source. A check that failed is due again at once.
func TestInstrumentsAreChecked(t *testing.T) {
	w := newWorld(t, ball())
	w.list() // what comes after is told by the changes alone
	scale := w.instrument(husbandry.Instrument{Name: "Kitchen scale", Kind: husbandry.Scale, InUse: w.since(31)})
	o := w.one(due.CheckInstrument)
	if o.Of.Name != "Kitchen scale" || o.State != due.Late || o.By != w.today()-1 || o.Reasons[0].Key != "due.why.instrument-never" || o.Act != due.ActInstrument || o.Cause != "none" {
		t.Errorf("never checked: %+v", o)
	}
	w.proves(scale, 30, true)
	if o = w.one(due.CheckInstrument); o.State != due.Today || o.Reasons[0].Key != "due.why.instrument-checked" {
		t.Errorf("30 days ago: %+v", o)
	}
	w.do(w.answer(o, due.PutOff, 3, ""))
	if o = w.one(due.CheckInstrument); o.State != due.Later {
		t.Errorf("put off: %+v", o)
	}
	w.proves(scale, 2, false)
	if o = w.one(due.CheckInstrument); o.State != due.Late || o.By != w.today()-2 || o.Reasons[0].Key != "due.why.instrument-failed" ||
		o.Reasons[0].Gaps["Good"].Number != int64(w.today()-30) || o.Answer != nil {
		t.Errorf("failed: %+v", o)
	}
	w.proves(scale, 0, true)
	if o = w.one(due.CheckInstrument); o.State != due.Later || o.Day(w.today()) != w.today()+30 {
		t.Errorf("mended: %+v", o)
	}
	w.do(husbandry.RemoveInstrument{ID: scale})
	if all := w.of(due.CheckInstrument); len(all) > 0 {
		t.Errorf("no longer used: %+v", all)
	}
	if _, err := w.c.Undo(); err != nil {
		t.Fatal(err)
	}
	w.one(due.CheckInstrument)
	w.refused(w.answer(o, due.PutOff, 400, ""), "due.until-far")
	for name, i := range map[string]husbandry.Instrument{"one that failed at first": {Name: "Probe", Kind: husbandry.Thermometer}} {
		id := w.instrument(i)
		w.proves(id, 0, false)
		for _, o := range w.of(due.CheckInstrument) {
			if o.Of.Name == i.Name && (len(o.Reasons) != 2 || o.Reasons[0].Key != "due.why.measure" || o.Reasons[1].Key != "due.why.instrument-failed-ever") {
				t.Errorf("%s: %+v", name, o.Reasons)
			}
		}
	}
}

// A UV lamp is asked after at twelve months; source: common practice, no source. A
// new one begins anew.
func TestALampIsChanged(t *testing.T) {
	w := newWorld(t, ball())
	id := w.instrument(husbandry.Instrument{Name: "Lamp", Kind: husbandry.UVLamp, InUse: w.since(365)})
	o := w.one(due.ChangeLamp)
	if o.State != due.Today || o.Since != w.today()-365 || o.Reasons[0].Key != "due.why.lamp" {
		t.Errorf("%+v", o)
	}
	w.do(w.answer(o, due.DoneElsewhere, 0, ""))
	if o = w.one(due.ChangeLamp); o.State != due.Later || o.Day(w.today()) != w.today()+365 {
		t.Errorf("done: %+v", o)
	}
	w.do(husbandry.ChangeInstrument{ID: id, Base: 1, Instrument: husbandry.Instrument{Name: "Lamp", Kind: husbandry.UVLamp, InUse: w.since(10)}})
	if o = w.one(due.ChangeLamp); o.State != due.Later || o.By != w.today()+355 || o.Answer != nil {
		t.Errorf("a new one: %+v", o)
	}
	if all := w.of(due.CheckInstrument); len(all) > 0 {
		t.Errorf("a lamp without an interval is checked: %+v", all)
	}
	w.instrument(husbandry.Instrument{Name: "Of unknown age", Kind: husbandry.UVLamp})
	if len(w.of(due.ChangeLamp)) != 1 {
		t.Error("due, though it is not known since when it is in use")
	}
}

// An instrument that cannot be read is told, and hides nothing else.
func TestUnreadInstrumentsAreTold(t *testing.T) {
	w := newWorld(t, ball())
	w.instrument(husbandry.Instrument{Name: "Scale", Kind: husbandry.Scale})
	n := len(w.list().Items)
	w.do(put{model.Document{Type: model.TypeInstrument, ID: model.ID{9}, At: w.now(), Version: 1, Body: []byte(`[]`)}})
	if l := w.list(); len(l.Unread) != 1 || l.Unread[0].Of.Subject.Kind != model.SubjectInstrument || len(l.Items) != n-1 {
		t.Errorf("unread %+v, %d items of %d", l.Unread, len(l.Items), n)
	}
	if _, err := w.c.Undo(); err != nil {
		t.Fatal(err)
	}
	if l := w.list(); len(l.Unread) != 0 || len(l.Items) != n {
		t.Errorf("mended: unread %+v, %d items of %d", l.Unread, len(l.Items), n)
	}
}

// An answer that was given while the clock was ahead silences nothing for as long
// as the clock was wrong.
func TestAnAnswerFromTheFutureDoesNotSpeak(t *testing.T) {
	w := newWorld(t, ball())
	w.move(w.tub("Tub 1", 14))
	for name, answer := range map[string]func(){
		"put off": func() { w.answered(due.PutOff, 3) }, "done": func() { w.answered(due.DoneElsewhere, 0) },
	} {
		w.pass(3650 * day)
		answer()
		if o := w.one(due.Clean); o.State != due.Later {
			t.Errorf("%s, on the day itself: %+v", name, o)
		}
		w.pass(-3630 * day)
		if o := w.one(due.Clean); o.State == due.Later || o.Answer != nil {
			t.Errorf("%s, the clock put right: %+v", name, o)
		}
	}
	w.answered(due.PutOff, 365)
	w.pass(-day) // west of where it was given
	if o := w.one(due.Clean); o.State != due.Later {
		t.Errorf("the longest that it can be put off: %+v", o)
	}
}

// A thermometer or thermostat that failed its check asks that the warmth be measured
// now, and no answer silences it for longer than answer-warmth, 2 days, assumed; a
// scale can wait.
func TestWarmthThatNobodyKnowsCannotWait(t *testing.T) {
	for kind, urgent := range map[husbandry.InstrumentKind]bool{husbandry.Thermometer: true, husbandry.Thermostat: true, husbandry.Scale: false} {
		w := newWorld(t, ball())
		w.proves(w.instrument(husbandry.Instrument{Name: "One", Kind: kind, InUse: w.since(20)}), 1, false)
		o := w.one(due.CheckInstrument)
		if (o.Reasons[0].Key == "due.why.measure") != urgent {
			t.Errorf("%s: %+v", kind, o.Reasons)
		}
		if !urgent {
			w.do(w.answer(o, due.PutOff, 300, ""))
			continue
		}
		w.refused(w.answer(o, due.PutOff, 3, ""), "due.until-far")
		for _, what := range due.Whats() {
			w.do(w.answer(o, what, 2, "another one is there"))
			if o := w.one(due.CheckInstrument); o.State != due.Later || o.Day(w.today()) != w.today()+2 {
				t.Errorf("%s, %s: %+v", kind, what, o)
			}
		}
		w.pass(2 * day)
		if o := w.one(due.CheckInstrument); !o.State.Presses() {
			t.Errorf("%s, two days on: %+v", kind, o)
		}
	}
}
