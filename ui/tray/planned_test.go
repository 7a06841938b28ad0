package tray_test

import (
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/knowledge"
	"coilward/model/samples"
	"coilward/model/storetest"
	"coilward/ui/place"
	"coilward/ui/uitest"
)

// planned is a room in which a plan of two rounds, 42 days apart, is laid out for two animals.
func planned(t *testing.T, language string) *acts {
	t.Helper()
	a := &acts{Opened: open(t, plain(), language, room(t))}
	today := model.MomentOf(storetest.Start()).Day()
	c := samples.LayOut{Tables: a.Tables()}
	for n, day := range []model.Day{today, today + 42} {
		for _, one := range all(a.Opened).Animals[:2] {
			c.Each = append(c.Each, samples.New{Animals: []model.AnimalID{one.ID}, Sample: samples.Sample{Material: "choanal-swab", For: []knowledge.AgentID{"serpentovirus"}, Planned: &samples.Planned{Day: day, Round: n + 1, Of: 2}}})
		}
	}
	if _, err := a.Collection().Do(c); err != nil {
		t.Fatal(err)
	}
	a.Go(place.Route{To: place.Tray})
	return a
}

// ahead is a sample that is laid out for a day ahead.
func (a *acts) ahead() samples.Followed {
	a.T.Helper()
	t := all(a.Opened).Samples
	i := slices.IndexFunc(t, func(s samples.Followed) bool { return s.Way.Ahead })
	if i < 0 {
		a.T.Fatalf("none is ahead: %+v", t)
	}
	return t[i]
}

// What is laid out for a later round lies in a band of its own, asks for nothing and can
// be given up; the first round is to be taken.
func TestRoundsOfAPlanLieAhead(t *testing.T) {
	for _, language := range []string{"en", "de"} {
		a := planned(t, language)
		say := a.Text().Say
		if !a.Shows(say("tray.stage.ahead")) || !a.Shows(a.Text().Count("tray.on-way", 2)) {
			t.Errorf("%s: %q", language, uitest.Texts(a.Content()))
		}
		if cut := uitest.Clipped(a.Content(), a.Canvas().Size()); len(cut) > 0 {
			t.Errorf("%s: %s", language, strings.Join(cut, "; "))
		}
		ahead := a.ahead()
		a.Go(place.Route{To: place.Tray, Subject: ahead.ID.ID})
		day := a.Text().DayShort(ahead.Planned.Day)
		for _, said := range []string{day + ", " + say("tray.round", map[string]any{"Round": 2, "Of": 2}), say("tray.rest"), say("tray.do.take")} {
			if !a.Shows(said) {
				t.Errorf("%s: %q is not said: %q", language, said, uitest.Texts(a.Content()))
			}
		}
		a.tap(a.Text().Count("tray.call-off", 4))
		if n := len(all(a.Opened).Samples); n != 0 {
			t.Errorf("%s: %d are left", language, n)
		}
		a.Undo()
		if n := len(all(a.Opened).Samples); n != 4 {
			t.Errorf("%s: %d after undo", language, n)
		}
	}
}

// Several that lie ahead together give up what is left of their plan as one does.
func TestRoundsThatLieTogetherAreGivenUp(t *testing.T) {
	a := planned(t, "en")
	var keys []string
	for _, s := range all(a.Opened).Samples {
		if s.Way.Ahead {
			keys = append(keys, s.ID.String())
		}
	}
	tubesOf(a.Opened).OnOpen(keys)
	if !a.Shows("This is for a plan") {
		t.Errorf("of two: %q", uitest.Texts(a.Content()))
	}
	a.tap("Give up the 4 samples that are left")
	if n := len(all(a.Opened).Samples); len(keys) != 2 || n != 0 {
		t.Errorf("of %d ahead %d are left", len(keys), n)
	}
}

// The day of a round can be changed; what cannot be read is said at its field.
func TestTheDayOfARoundIsChanged(t *testing.T) {
	a := planned(t, "en")
	ahead := a.ahead()
	a.Go(place.Route{To: place.Tray, Subject: ahead.ID.ID})
	a.tap("Put the sample right")
	at := slices.IndexFunc(uitest.Entries(a.Content()), func(e fyne.Focusable) bool { return typedIn(e) == a.Text().DayShort(ahead.Planned.Day) })
	if at < 0 {
		t.Fatalf("no field of its day: %q", uitest.Texts(a.Content()))
	}
	for typed, said := range map[string]string{"soon": "This cannot be read as a day.", "1 May 2400": "The year must lie between"} {
		a.set(at, typed)
		a.tap("Keep")
		if !a.Shows(said) || !a.stands(typed) {
			t.Errorf("%q: %q", typed, uitest.Texts(a.Content()))
		}
	}
	a.set(at, a.Text().Day(ahead.Planned.Day+7))
	a.tap("Keep")
	after, _ := all(a.Opened).Samples.Of(ahead.ID)
	if after.Planned.Day != ahead.Planned.Day+7 || after.Planned.Round != 2 {
		t.Errorf("after it was changed: %+v", after.Planned)
	}
}

// When something was detected since, the tray says so of what is left of the plan.
func TestAPlanThatIsOvertakenSaysSo(t *testing.T) {
	a := planned(t, "en")
	ahead := a.ahead()
	one := all(a.Opened).Samples[slices.IndexFunc(all(a.Opened).Samples, func(s samples.Followed) bool { return !s.Way.Ahead && s.Animals[0] == ahead.Animals[0] })]
	now := model.MomentOf(a.Clock.Now())
	for _, c := range []model.Command{samples.Take{Tables: a.Tables(), Of: []samples.On{{ID: one.ID, Base: 1}}, At: now},
		samples.Enter{Tables: a.Tables(), At: now, Rows: []samples.Row{{On: samples.On{ID: one.ID, Base: 2}, Found: []samples.Found{{Of: "serpentovirus", Outcome: samples.Detected}}}}}} {
		if _, err := a.Collection().Do(c); err != nil {
			t.Fatal(err)
		}
	}
	a.Go(place.Route{To: place.Tray, Subject: ahead.ID.ID})
	for _, said := range []string{"detected since: plan anew", "Since the plan was made, Serpentovirus was detected in one of these animals"} {
		if !a.Shows(said) {
			t.Errorf("%q is not said: %q", said, uitest.Texts(a.Content()))
		}
	}
}
