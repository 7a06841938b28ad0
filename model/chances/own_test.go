package chances_test

import (
	"encoding/json"
	"slices"
	"testing"

	"coilward/model"
	"coilward/model/assumed"
	"coilward/model/chances"
	"coilward/model/knowledge"
	"coilward/model/samples"
	"coilward/model/storetest"
)

// What the keeper or the vet assumes stands in place of the table, in the chance, in the group and in what
// newcomers bring along, and is told with its reason.
func TestOf_RestsOnTheKeepersOwnFigures(t *testing.T) {
	w := begin(t)
	w.sample("oral-swab", 100, virus, samples.NotDetected, w.ash)
	before := w.of(w.ash, virus)
	if len(before.Own) != 0 || before.Spoilt {
		t.Fatalf("%+v", before.Own)
	}
	change := func(row assumed.Row, by assumed.Teller, why string, values map[assumed.Figure]knowledge.Span) model.ID {
		return w.do(assumed.Change{Tables: w.tables, Own: assumed.Own{Row: row, By: by, Why: why, Values: values}})
	}
	change(assumed.Row{Table: assumed.Priors, ID: "serpentovirus-any"}, assumed.Keeper, "none here in ten years", map[assumed.Figure]knowledge.Span{assumed.Prior: {Low: 10, Assumed: 100, High: 200}})
	document := change(assumed.Row{Table: assumed.Sights, ID: "serpentovirus-swab"}, assumed.Vet, "her lab's own figure", map[assumed.Figure]knowledge.Span{
		assumed.Sensitivity: {Low: 500, Assumed: 500, High: 500}, assumed.Specificity: {Low: 990, Assumed: 990, High: 990}, assumed.Share: {}})
	c := w.of(w.ash, virus)
	// Bayes: .1 × .5 / (.1 × .5 + .9 × .99), 2 of 10 and 1 of 100 likewise.
	near(t, "assumed", c.Now.Mid, .1*.5/(.1*.5+.9*.99))
	near(t, "low", c.Now.Low, .01*.5/(.01*.5+.99*.99))
	near(t, "high", c.Now.High, .2*.5/(.2*.5+.8*.99))
	var told []string
	for _, l := range c.Assumes(chances.Named{Name: "Ash", Others: func(model.AnimalID) string { return "" }}) {
		told = append(told, l.Key)
	}
	if !slices.Contains(told, "chance.assumes.own-prior") || !slices.Contains(told, "chance.assumes.own-sight-vet") || slices.Contains(told, "chance.assumes.own-carrier") || !slices.Contains(told, "chance.assumes.unpublished") {
		t.Errorf("told: %v", told)
	}
	if len(c.Own) != 2 || c.Own[0].Why != "none here in ten years" || c.Own[1].By != assumed.Vet {
		t.Errorf("%+v", c.Own)
	}
	other := w.of(w.birch, "ferlavirus")
	if len(other.Own) != 0 {
		t.Errorf("another thing rests on %+v", other.Own)
	}
	one, _ := w.read().AtLeastOne([]model.AnimalID{w.birch}, virus)
	near(t, "one alone", one.Chance.Mid, .1)
	w.do(assumed.Reset{Tables: w.tables, Document: document})
	if c = w.of(w.ash, virus); len(c.Own) != 1 || !c.Assumed() {
		t.Errorf("after it went back: %+v", c.Own)
	}
}

// An own figure that cannot stand is not used, and that is told.
func TestOf_TellsOfFiguresThatCannotBeUsed(t *testing.T) {
	w := begin(t)
	before := w.of(w.ash, virus).Now
	w.do(storePut(`{"table":"sight","row":"serpentovirus-swab","values":{"sensitivity":{"low":1,"assumed":2,"high":3},"specificity":{"low":900,"assumed":900,"high":900},"share":{"low":0,"assumed":0,"high":0}},"by":"vet","why":"x"}`))
	c := w.of(w.ash, virus)
	if !c.Spoilt || c.Now != before || len(c.Own) != 0 {
		t.Errorf("spoilt %v, %v, %+v", c.Spoilt, c.Now, c.Own)
	}
	if other := w.of(w.ash, "ferlavirus"); other.Spoilt {
		t.Error("it is told of another thing")
	}
	lines := c.Assumes(chances.Named{Name: "Ash", Others: func(model.AnimalID) string { return "" }})
	if !slices.ContainsFunc(lines, func(l chances.Line) bool { return l.Key == "chance.assumes.own-spoilt" }) {
		t.Errorf("told: %+v", lines)
	}
}

func storePut(body string) model.Command {
	return storetest.Put{Documents: []model.Document{{Type: model.TypeFigures, ID: model.ID{9, 9}, At: model.MomentOf(storetest.Start()), Version: assumed.Version, Body: json.RawMessage(body)}}}
}
