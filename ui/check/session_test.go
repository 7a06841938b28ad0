package check

import (
	"slices"
	"testing"

	"coilward/assets"
	"coilward/model"
	"coilward/model/body"
	"coilward/model/exam"
	"coilward/model/knowledge"
)

type plain struct{}

func (plain) Say(key string, _ ...map[string]any) string { return key }
func (plain) Length(l model.Length) string               { return l.Typed }
func (plain) DayShort(d model.Day) string                { return d.String() }

func tables(t *testing.T) *knowledge.Tables {
	t.Helper()
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	return tables
}

func idOf(n byte) model.ID { return model.ID{15: n} }

func begun(t *testing.T, problems ...exam.StoredProblem) *session {
	t.Helper()
	tb := tables(t)
	d := exam.Begin(tb, exam.Beginning{
		Check: model.EntryID{ID: idOf(1)}, Animal: model.AnimalID{ID: idOf(2)}, At: model.Moment{UTC: 1000}, Problems: problems,
	})
	return newSession(tb, plain{}, d, problems)
}

func (s *session) walkTo(t *testing.T, stop knowledge.StopID) {
	t.Helper()
	for {
		id, ok := s.draft.Stop()
		if !ok {
			t.Fatalf("no stop %q", stop)
		}
		if id == stop {
			return
		}
		s.take(s.draft.Go(s.draft.Index + 1))
	}
}

// A clear animal takes at most 25 keys, and every stop then has an answer with
// its time.
func TestClearAnimalByKeysAlone(t *testing.T) {
	s := begun(t)
	keys := 0
	for !s.draft.AtEnd() {
		if err := s.press(exam.KeyEnter, model.Moment{UTC: int64(1001 + 5*keys)}); err != nil {
			t.Fatal(err)
		}
		keys++
	}
	if keys > 25 {
		t.Errorf("%d keys, want at most 25", keys)
	}
	for _, r := range s.rows() {
		if r.Sign == notYet {
			t.Errorf("stop %s has no answer", r.Name)
		}
	}
	for _, a := range s.draft.Stops {
		if a.At.IsZero() {
			t.Errorf("stop %s has no time", a.Stop)
		}
	}
	if got := s.draft.At("mouth").Look; got != exam.NotLooked {
		t.Errorf("Enter on the mouth stored %q, want that it was not opened", got)
	}
}

func TestViewOfAStop(t *testing.T) {
	tb := tables(t)
	for stop, want := range map[knowledge.StopID]body.ViewID{
		"rest": body.Above, "eye-left": body.HeadLeft, "eye-right": body.HeadRight, "crown": body.HeadAbove,
		"mouth": body.OpenMouth, "airway": body.OpenMouth, "spine": body.Above, "belly": body.Underside,
		"vent": body.Underside, "spurs": body.Underside, "skin": body.Above,
	} {
		row, ok := tb.Stop(stop)
		if !ok {
			t.Fatalf("no stop %q", stop)
		}
		if got := viewFor(row); got != want {
			t.Errorf("stop %s is shown %s, want %s", stop, got, want)
		}
	}
}

// A place pointed to before the digit is the finding's; one pointed to after it
// is that of the finding just noted, as long as nobody had pointed for it.
func TestPointingBeforeAndAfterTheDigit(t *testing.T) {
	s := begun(t)
	s.walkTo(t, "belly")
	spot := body.Place{Part: body.Trunk, Along: 6200, Angle: 180, Region: "lower-mid.belly"}
	s.point(spot)
	s.mark("sore", model.Moment{UTC: 1010})
	if got := s.draft.Findings[0]; got.Place != spot || got.Rough {
		t.Errorf("pointed before: %+v", got)
	}
	s.mark("burn", model.Moment{UTC: 1011})
	if !s.draft.Findings[1].Rough {
		t.Fatal("a finding that nobody pointed for must say so")
	}
	other := spot
	other.Along = 4000
	s.point(other)
	if got := s.draft.Findings[1]; got.Place != other || got.Rough {
		t.Errorf("pointed after: %+v", got)
	}
}

// Numbers go on from the animal's known problems, and an earlier one keeps its own.
func TestNumbersOfFindings(t *testing.T) {
	place, _ := body.In("fore.back")
	earlier := exam.StoredProblem{ID: model.ProblemID{ID: idOf(9)}, Problem: exam.Problem{
		Stop: "skin", What: "stuck-shed", Glimpses: []exam.Glimpse{{At: model.Moment{UTC: 10}, Standing: exam.New, Grade: exam.Slight, Place: place}},
	}}
	s := begun(t, earlier)
	s.walkTo(t, "belly")
	s.mark("sore", model.Moment{UTC: 1010})
	pins := s.pins()
	if len(pins) != 2 || pins[0].Number != 2 || pins[0].Kind != pinRough || pins[1].Number != 1 || pins[1].Kind != pinEarlier {
		t.Errorf("pins %+v", pins)
	}
	s.restart(t, "skin")
	if err := s.press('4', model.Moment{UTC: 1020}); err != nil {
		t.Fatal(err)
	}
	if got := s.pins()[1].Kind; got != pinGone {
		t.Errorf("answered gone, drawn as %d", got)
	}
}

// restart goes to the first stop and walks from there.
func (s *session) restart(t *testing.T, stop knowledge.StopID) {
	t.Helper()
	s.take(s.draft.Go(0))
	s.walkTo(t, stop)
}

// The same digit again raises the finding and shows its details; a key that is
// refused changes nothing.
func TestDigitAgainAndRefusal(t *testing.T) {
	place, _ := body.In("fore.back")
	earlier := exam.StoredProblem{ID: model.ProblemID{ID: idOf(9)}, Problem: exam.Problem{
		Stop: "skin", What: "stuck-shed", Glimpses: []exam.Glimpse{{At: model.Moment{UTC: 10}, Standing: exam.New, Grade: exam.Slight, Place: place}},
	}}
	s := begun(t, earlier)
	s.walkTo(t, "skin")
	if err := s.press(exam.KeyEnter, model.Moment{UTC: 1001}); err == nil {
		t.Error("Enter passed over an earlier finding")
	}
	if err := s.press('1', model.Moment{UTC: 1002}); err != nil {
		t.Fatal(err)
	}
	for _, want := range []exam.Grade{exam.Slight, exam.Marked, exam.Severe, exam.Severe} {
		if err := s.press('1', model.Moment{UTC: 1003}); err != nil {
			t.Fatal(err)
		}
		if got := s.draft.Findings[0].Grade; got != want {
			t.Errorf("grade %s, want %s", got, want)
		}
		if s.chosen != 0 {
			t.Errorf("details of finding %d shown, want 0", s.chosen)
		}
		if s.choices()[0].Grade != want {
			t.Errorf("button shows %s", s.choices()[0].Grade)
		}
	}
}

// At the belly, typed left and right are the belly's own; elsewhere the flank's.
func TestTypedSideAtTheBelly(t *testing.T) {
	left, err := body.ParsePlace("66 left")
	if err != nil {
		t.Fatal(err)
	}
	s := begun(t)
	s.walkTo(t, "skin")
	s.typed(left)
	if got := s.draft.Pointed.Side(); got != body.LeftSide {
		t.Errorf("at back and flanks: %s", got)
	}
	s.walkTo(t, "belly")
	s.typed(left)
	if p := s.draft.Pointed; p.Side() != body.BellySide || p.Angle <= 130 || p.Along != 6600 {
		t.Errorf("at the belly: %+v", p)
	}
	right, _ := body.ParsePlace("66 right")
	s.typed(right)
	if p := s.draft.Pointed; p.Side() != body.BellySide || p.Angle >= -130 {
		t.Errorf("right at the belly: %+v", p)
	}
}

// Where the next finding goes stands on the drawing, and a finding that nobody
// pointed for is drawn as such.
func TestPinsOfWhatIsPointedTo(t *testing.T) {
	s := begun(t)
	s.walkTo(t, "belly")
	s.point(body.OnTrunk(5000, 170))
	if pins := s.pins(); len(pins) != 1 || pins[0].Kind != pinNext {
		t.Errorf("pointed: %+v", pins)
	}
	s.mark("sore", model.Moment{UTC: 1010})
	s.mark("burn", model.Moment{UTC: 1011})
	if pins := s.pins(); len(pins) != 2 || pins[0].Kind != pinNow || pins[1].Kind != pinRough {
		t.Errorf("noted: %+v", pins)
	}
}

// At a stop whose view hides the place of an earlier finding, the view is one
// that shows it; a typed place turns the view too, and one in sight does not.
func TestTheViewShowsWhatIsAskedAbout(t *testing.T) {
	belly := body.OnTrunk(7400, 172)
	lump := exam.StoredProblem{ID: model.ProblemID{ID: idOf(3)}, Problem: exam.Problem{Stop: "third-hind", What: "lump",
		Glimpses: []exam.Glimpse{{At: model.Moment{UTC: 10}, Standing: exam.New, Grade: exam.Slight, Place: belly}}}}
	for _, c := range []struct {
		name     string
		problems []exam.StoredProblem
		typed    body.Place
		want     body.ViewID
	}{
		{"nothing earlier", nil, body.Place{}, body.Above},
		{"an earlier finding at the belly", []exam.StoredProblem{lump}, body.Place{}, body.Underside},
		{"the belly is typed", nil, belly, body.Underside},
		{"the back is typed", nil, body.OnTrunk(7400, 10), body.Above},
		{"the whole animal", nil, body.Place{}, body.Above},
	} {
		s := begun(t, c.problems...)
		s.walkTo(t, "third-hind")
		if c.typed != (body.Place{}) {
			s.typed(c.typed)
		}
		if s.view != c.want {
			t.Errorf("%s: %s, want %s", c.name, s.view, c.want)
		}
	}
}

// Percent and spans go along trunk and tail: at the stops of the head a place is
// pointed to, and the fields for it would only refuse.
func TestSession_PlacesAreTypedOnTrunkAndTailAlone(t *testing.T) {
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	head := []knowledge.StopID{"snout", "lips", "eye-left", "eye-right", "crown", "chin", "mouth", "airway"}
	for _, stop := range tables.Stops() {
		s := &session{tables: tables, draft: exam.Draft{Walk: exam.Walk{Stops: []exam.Answered{{Stop: stop.ID}}}}}
		if s.onTrunk() == slices.Contains(head, stop.ID) {
			t.Errorf("%s: typed places are offered: %v", stop.ID, s.onTrunk())
		}
	}
}

func TestEnd_ViewsShowEveryPin(t *testing.T) {
	back, belly := body.Place{Part: body.Trunk, Along: 5000}, body.Place{Part: body.Trunk, Along: 5000, Angle: 180}
	gum := body.Place{Part: body.Mouth, View: body.OpenMouth, X: 5000, Y: 5000}
	eye := body.Place{Part: body.Head, View: body.HeadLeft, X: 5000, Y: 5000}
	for name, x := range map[string]struct {
		places []body.Place
		want   []body.ViewID
	}{
		"nothing":          {nil, []body.ViewID{body.Above}},
		"on the back":      {[]body.Place{back, back}, []body.ViewID{body.Above}},
		"on the belly":     {[]body.Place{belly, back, belly}, []body.ViewID{body.Above, body.Underside}},
		"on head and gums": {[]body.Place{eye, gum, eye}, []body.ViewID{body.Above, body.HeadLeft, body.OpenMouth}},
	} {
		var pins []pin
		for _, p := range x.places {
			pins = append(pins, pin{Place: p})
		}
		if got := endViews(pins); !slices.Equal(got, x.want) {
			t.Errorf("%s: %v, want %v", name, got, x.want)
		}
	}
}
