package samples_test

import (
	"slices"
	"testing"

	"coilward/model"
	"coilward/model/knowledge"
	"coilward/model/samples"
)

// followed are samples as they stand today, each under its number.
func followed(t *testing.T, changes ...func(*samples.Stored)) (tray samples.Tray) {
	t.Helper()
	tables := begin(t).tables
	for i, change := range changes {
		s := stored(func(*samples.Sample) {})
		s.ID, s.Animals = model.SampleID{ID: model.ID{byte(i + 1)}}, []model.AnimalID{{ID: model.ID{9}}}
		change(&s)
		tray = append(tray, samples.Followed{Stored: s, Way: s.Way(tables, nil, ago(0).Day())})
	}
	return tray
}

// numbers are the places of samples in the tray that they are of.
func numbers(all []samples.Followed) (n []int) {
	for _, s := range all {
		n = append(n, int(s.ID.ID[0]))
	}
	return n
}

func reports(at int, o samples.Outcome) func(*samples.Stored) {
	return func(s *samples.Stored) {
		s.Taken = ago(at + 5)
		for _, of := range s.For {
			s.Results = append(s.Results, samples.Result{Of: of, Outcome: o, At: ago(at)})
		}
	}
}

// What lies in the tray, and what goes one way with what. A result is shown for thirty
// days. Source: common practice, no source.
func TestTray(t *testing.T) {
	lab, other := model.PersonID{ID: model.ID{1}}, model.PersonID{ID: model.ID{2}}
	sent := func(days int, to model.PersonID) func(*samples.Stored) {
		return func(s *samples.Stored) {
			s.Taken, s.Posted, s.Lab, s.Courier = ago(days), ago(days), to, "by "+to.String()[:2]
		}
	}
	void := func(days int) func(*samples.Stored) {
		return func(s *samples.Stored) {
			s.Taken, s.Void = ago(days), &samples.Void{At: ago(days - 1), Why: samples.Lost}
		}
	}
	mine := model.AnimalID{ID: model.ID{7}}
	tray := followed(t,
		func(s *samples.Stored) { s.At, s.Kit.Number = ago(1), "K 2" }, // 1 to take
		func(s *samples.Stored) {
			s.Animals = append(s.Animals, mine)
			s.Material, s.Kit.Number = "faeces", "K 1"
		}, // 2 to take, late
		func(s *samples.Stored) { s.Taken = ago(1) }, // 3 taken
		sent(1, lab), sent(2, other), // 4, 5
		func(s *samples.Stored) { sent(9, lab)(s); s.Arrived = ago(3); s.Animals = []model.AnimalID{mine} }, // 6 at the lab
		reports(30, samples.NotDetected), reports(31, samples.NotDetected), // 7, 8
		void(40), void(2), // 9, 10
		func(s *samples.Stored) { sent(3, lab)(s); s.Arrived = ago(2) }, // 11 at the lab
	)
	for name, c := range map[string]struct{ got, want []int }{
		"lies":                              {numbers(slices.DeleteFunc(slices.Clone([]samples.Followed(tray)), func(s samples.Followed) bool { return !s.Lies(ago(0).Day()) })), []int{1, 2, 3, 4, 5, 6, 7, 11}},
		"with one to take":                  {numbers(tray.Together(tray[0])), []int{1, 2}},
		"with one that was sent":            {numbers(tray.Together(tray[3])), []int{4}},
		"with one at the lab":               {numbers(tray.Together(tray[5])), []int{6, 11}},
		"with one that is reported":         {numbers(tray.Together(tray[6])), []int{7}},
		"what the first lab owes":           {numbers(tray.Waiting(model.SampleID{})), []int{4, 6, 11}},
		"what the lab of one owes":          {numbers(tray.Waiting(tray[4].ID)), []int{5}},
		"of one that nobody waits for":      {numbers(tray.Waiting(tray[0].ID)), []int{4, 6, 11}},
		"before they are sent":              {numbers(tray.Before(samples.Sent)), []int{1, 2, 3}},
		"what an animal owes, the late one": {numbers(tray.Owed(mine)), []int{2}},
		"what another owes":                 {numbers(tray.Owed(model.AnimalID{ID: model.ID{9}})), []int{2, 1}},
		"laid out, of any material":         {numbers(tray.LaidOut(mine, "", []knowledge.AgentID{"ferlavirus", serpento})), []int{2}},
		"laid out, of that material":        {numbers(tray.LaidOut(mine, "faeces", []knowledge.AgentID{crypto})), []int{2}},
		"laid out, of another":              {numbers(tray.LaidOut(mine, swab, []knowledge.AgentID{crypto})), nil},
		"laid out for something else":       {numbers(tray.LaidOut(mine, "", []knowledge.AgentID{"ferlavirus"})), nil},
		"without a result":                  {numbers(tray.Voided(2027)), []int{10, 9}},
		"of those ids":                      {numbers(tray.Some([]model.SampleID{tray[4].ID, tray[1].ID, {ID: model.ID{99}}})), []int{2, 5}},
	} {
		if !slices.Equal(c.got, c.want) {
			t.Errorf("%s: %v, want %v", name, c.got, c.want)
		}
	}
	if all, late := tray.OnWay(); all != 7 || late != 1 {
		t.Errorf("%d on their way, %d late", all, late)
	}
	if last, ok := tray.Last(); !ok || last.Kit.Number != "K 2" {
		t.Errorf("the last is %q, %t", last.Kit.Number, ok)
	}
	if got, want := tray.LastCourier(), "by "+lab.String()[:2]; got != want {
		t.Errorf("the last parcel went %q, want %q", got, want)
	}
	if one, ok := tray.Of(tray[2].ID); !ok || one.ID != tray[2].ID {
		t.Errorf("%v, %t", one.ID, ok)
	}
	if _, ok := tray.Of(model.SampleID{ID: model.ID{99}}); ok {
		t.Error("one that is not there is found")
	}
	var none samples.Tray
	if _, ok := none.Last(); ok || none.LastCourier() != "" || none.Waiting(model.SampleID{}) != nil {
		t.Error("an empty tray has a last one")
	}
}

// Beside what is next, a sample that left can be noted to have arrived, its results can
// be entered, and of one that lies long the lab can be asked.
func TestOthers(t *testing.T) {
	for name, c := range map[string]struct {
		change func(*samples.Stored)
		want   []samples.Act
	}{
		"to take":      {func(*samples.Stored) {}, nil},
		"sent":         {func(s *samples.Stored) { s.Taken, s.Posted = ago(1), ago(1) }, []samples.Act{samples.ActEnter}},
		"sent, late":   {func(s *samples.Stored) { s.Taken, s.Posted = ago(9), ago(9) }, []samples.Act{samples.ActArrive, samples.ActEnter}},
		"at the lab":   {func(s *samples.Stored) { s.Taken, s.Arrived = ago(1), ago(1) }, []samples.Act{samples.ActAskLab}},
		"at lab, late": {func(s *samples.Stored) { s.Taken, s.Arrived = ago(29), ago(29) }, []samples.Act{samples.ActEnter}},
		"reported":     {reports(1, samples.Detected), nil},
	} {
		if got := followed(t, c.change)[0].Others(); !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", name, got, c.want)
		}
	}
	s := samples.Sample{For: []knowledge.AgentID{serpento, crypto}, Results: []samples.Result{{Of: crypto, Outcome: samples.Detected}}}
	if got := s.With(samples.Detected); !slices.Equal(got, []knowledge.AgentID{crypto}) {
		t.Errorf("detected: %v", got)
	}
}

// The number that is proposed next follows that of what was prepared last: by the time of
// preparing, and of one moment by how numbers follow each other, not by their letters.
func TestTheLastOfATray(t *testing.T) {
	numbered := func(number string, at int) func(*samples.Stored) {
		return func(s *samples.Stored) { s.Kit.Number, s.At = number, ago(at) }
	}
	for name, c := range map[string]struct {
		all  []func(*samples.Stored)
		want string
	}{
		"over a ten":        {[]func(*samples.Stored){numbered("K 9", 3), numbered("K 10", 3)}, "K 10"},
		"the other way":     {[]func(*samples.Stored){numbered("K 10", 3), numbered("K 9", 3)}, "K 10"},
		"one after another": {[]func(*samples.Stored){numbered("K 9", 3), numbered("K 10", 2)}, "K 10"},
		"a lower one later": {[]func(*samples.Stored){numbered("K 9", 3), numbered("A 1", 2)}, "A 1"},
		"in the middle":     {[]func(*samples.Stored){numbered("K 99", 3), numbered("K 98", 3), numbered("K 100", 3), numbered("K 101", 9)}, "K 100"},
		"none has a number": {[]func(*samples.Stored){numbered("", 3), numbered("", 3)}, ""},
		"later, no number":  {[]func(*samples.Stored){numbered("K 9", 3), numbered("", 2)}, ""},
		"ends in no digit":  {[]func(*samples.Stored){numbered("K", 3), numbered("K", 3)}, "K"},
	} {
		if last, ok := followed(t, c.all...).Last(); !ok || last.Kit.Number != c.want {
			t.Errorf("%s: %q, %t, want %q", name, last.Kit.Number, ok, c.want)
		}
	}
}
