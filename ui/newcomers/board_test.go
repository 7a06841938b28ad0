package newcomers_test

import (
	"testing"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/newcomers"
	"coilward/model/quarantine"
	ui "coilward/ui/newcomers"
	"coilward/ui/place"
)

func gate(earliest model.Day, lines ...quarantine.Line) quarantine.Gate {
	return quarantine.Gate{Earliest: earliest, Lines: lines}
}

func TestWhoMayLeaveFirst(t *testing.T) {
	lost := gate(10, quarantine.Line{Item: quarantine.Weighed, State: quarantine.NotMet})
	for name, c := range map[string]struct {
		gates []quarantine.Gate
		want  int
	}{
		"nobody":                          {nil, -1},
		"the earliest":                    {[]quarantine.Gate{gate(30), gate(20), gate(40)}, 1},
		"not one whose weight holds it":   {[]quarantine.Gate{gate(30), lost}, 0},
		"nobody has a day":                {[]quarantine.Gate{lost}, -1},
		"the first of two on the one day": {[]quarantine.Gate{gate(20), gate(20)}, 0},
	} {
		b := ui.Board{}
		for _, g := range c.gates {
			b.Open = append(b.Open, newcomers.Newcomer{Gate: g})
		}
		if got := b.First(); got != c.want {
			t.Errorf("%s: %d, want %d", name, got, c.want)
		}
	}
}

// Every step has a place where it is done; looks for mites and the release are done
// here.
func TestEveryStepIsDoneSomewhere(t *testing.T) {
	animal := model.AnimalID{ID: model.ID{1}}
	here := map[quarantine.StepKind]bool{quarantine.StepMites: true, quarantine.StepRelease: true}
	for _, k := range quarantine.StepKinds() {
		to, elsewhere := ui.Way(quarantine.Step{Kind: k}, animal)
		if elsewhere == here[k] || elsewhere && to.Subject != animal.ID {
			t.Errorf("%s leads to %+v", k, to)
		}
	}
	for _, k := range newcomers.ArrivalKinds() {
		to, elsewhere := ui.ArriveWay(k, newcomers.Newcomer{Animal: animals.Stored{ID: animal}}, 20)
		if elsewhere == (k == newcomers.ArriveMites) || elsewhere && to.Subject != animal.ID {
			t.Errorf("%s leads to %+v", k, to)
		}
	}
	if to, _ := ui.Way(quarantine.Step{Kind: quarantine.StepFaecal}, animal); to.To != place.Tray {
		t.Errorf("faeces are prepared in %s", to.To)
	}
}

func TestTheSpanHoldsEveryBar(t *testing.T) {
	b := ui.Board{Today: 100}
	for _, earliest := range []model.Day{110, 400} {
		n := newcomers.Newcomer{Gate: gate(earliest)}
		n.Quarantine.Arrived = model.MomentOn(model.Moment{}, 60, model.Noon, model.ToDay)
		b.Open = append(b.Open, n)
	}
	from, to := b.Span()
	if from > 60 || to < 404 {
		t.Errorf("%d to %d", from, to)
	}
}
