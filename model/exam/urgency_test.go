package exam_test

import (
	"reflect"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/exam"
	"coilward/model/knowledge"
)

const (
	emergency = knowledge.EmergencyToday
	vet       = knowledge.VetWithinDays
	look      = knowledge.LookAgain
	often     = knowledge.NoAction
)

// Where the levels of the station list come from.
const (
	practice = "common practice, no source; guided by a veterinary emergency-triage page (seen)"
	triage   = "seen: veterinary emergency-triage page"
	house    = "the program's own rule, where it differs from the list or is finer"
)

var (
	inShed     = exam.Context{Shed: exam.ShedBefore}
	outOfShed  = exam.Context{Shed: exam.ShedNone}
	fedNow     = exam.Context{LastMeal: later(morning, -40*time.Minute)}
	fedThisDay = exam.Context{LastMeal: later(morning, -3*24*time.Hour)}
	fedLong    = exam.Context{LastMeal: later(morning, -30*24*time.Hour)}
	grown      = exam.Context{Mass: model.Grams(1432)}
	small      = exam.Context{Mass: model.Grams(140)}
)

// TestUrgency_StationList has a case for every row of the published and house
// station list: what is seen, under which circumstances, and how urgent it is.
func TestUrgency_StationList(t *testing.T) {
	tb := tables(t)
	differs := sign("mouth", "white-lining")
	differs.Differs = true
	twice := sign("eye-left", "stuck-eye-cap")
	twice.Sheds = 2
	again := sign(knowledge.Waste, "no-urates")
	again.Standing = exam.CameBack
	before := exam.Context{Mass: model.Grams(1432), Regurgitations: []model.Moment{later(morning, -20*24*time.Hour)}}
	longBefore := exam.Context{Mass: model.Grams(1432), Regurgitations: []model.Moment{later(morning, -31*24*time.Hour)}}
	limp, weak := sign("rest", "limp"), sign("rest", "weak")
	cases := []struct {
		row     string
		context exam.Context
		signs   []exam.Sign
		want    knowledge.Level
		tag     string
	}{
		{"0 gaping at rest", fedLong, []exam.Sign{sign("rest", "gaping")}, emergency, practice},
		{"0 gaping, meal unknown", exam.Context{}, []exam.Sign{sign("rest", "gaping")}, emergency, practice},
		{"0 gaping within an hour of feeding", fedNow, []exam.Sign{sign("rest", "gaping")}, look, house},
		{"0 gaping within an hour of feeding, severe", fedNow, []exam.Sign{graded(sign("rest", "gaping"), exam.Severe)}, emergency, house},
		{"0 limp and cold", exam.Context{Temperature: model.Temperature{Hundredths: 1900}}, []exam.Sign{limp}, emergency, triage},
		{"0 one yawn after a meal", fedNow, []exam.Sign{sign("rest", "yawn")}, often, practice},
		{"0 one yawn without a meal", fedLong, []exam.Sign{sign("rest", "yawn")}, look, house},
		{"0 limp, cannot right itself", exam.Context{}, []exam.Sign{limp}, emergency, practice},
		{"0 weak", exam.Context{}, []exam.Sign{weak}, vet, house},
		{"0 weak and cold", exam.Context{Temperature: model.Temperature{Hundredths: 1900}}, []exam.Sign{weak}, emergency, triage},
		{"0 star-gazing, new", exam.Context{}, []exam.Sign{sign("rest", "nerves")}, emergency, practice},
		{"0 wobble known and stable", exam.Context{}, []exam.Sign{own(sign("rest", "nerves"), exam.Same)}, often, practice},
		{"0 wobble known, worse", exam.Context{}, []exam.Sign{own(sign("rest", "nerves"), exam.Worse)}, vet, practice},
		{"0 click in shed", inShed, []exam.Sign{sign("rest", "sound")}, look, practice},
		{"0 click out of shed", outOfShed, []exam.Sign{sign("rest", "sound")}, vet, practice},
		{"0 click, shed unknown", exam.Context{}, []exam.Sign{sign("rest", "sound")}, vet, practice},
		{"1 blocked nostril", exam.Context{}, []exam.Sign{sign("snout", "nostril-blocked")}, look, practice},
		{"1 discharge", exam.Context{}, []exam.Sign{sign("snout", "nostril-discharge")}, vet, practice},
		{"2 pit debris", exam.Context{}, []exam.Sign{sign("lips", "pit-debris")}, look, practice},
		{"2 rostral abrasion", exam.Context{}, []exam.Sign{sign("snout", "nose-rub")}, look, practice},
		{"2 lip swelling", exam.Context{}, []exam.Sign{sign("lips", "swelling")}, vet, practice},
		{"2 cheesy plug", exam.Context{}, []exam.Sign{sign("lips", "plug")}, vet, practice},
		{"3 opaque in shed", inShed, []exam.Sign{sign("eye-left", "cloudy-eye")}, often, practice},
		{"3 opaque in shed, severe", inShed, []exam.Sign{graded(sign("eye-left", "cloudy-eye"), exam.Severe)}, look, house},
		{"3 opaque out of shed", outOfShed, []exam.Sign{sign("eye-left", "cloudy-eye")}, look, house},
		{"3 stuck eye cap, one shed", exam.Context{}, []exam.Sign{sign("eye-left", "stuck-eye-cap")}, look, practice},
		{"3 stuck eye cap, two sheds", exam.Context{}, []exam.Sign{twice}, vet, practice},
		{"3 stuck eye cap, swollen", exam.Context{}, []exam.Sign{sign("eye-left", "stuck-eye-cap"), sign("eye-left", "bulging-eye")}, vet, practice},
		{"3 dented spectacle", exam.Context{}, []exam.Sign{sign("eye-right", "dented-eye-cap")}, look, practice},
		{"3 bulging, fluid or pus", exam.Context{}, []exam.Sign{sign("eye-right", "bulging-eye")}, vet, practice},
		{"3 mites in the groove", exam.Context{}, []exam.Sign{sign("eye-right", "mites")}, vet, practice},
		{"4 uneven jaw", exam.Context{}, []exam.Sign{sign("chin", "uneven-jaw")}, vet, practice},
		{"4 swelling", exam.Context{}, []exam.Sign{sign("chin", "swelling")}, vet, practice},
		{"5 red gums, tiny bleeds", exam.Context{}, []exam.Sign{sign("mouth", "red-gums")}, vet, practice},
		{"5 ropy mucus", exam.Context{}, []exam.Sign{sign("mouth", "mucus")}, vet, practice},
		{"5 ropy mucus with gaping", exam.Context{}, []exam.Sign{sign("mouth", "mucus"), sign("rest", "gaping")}, emergency, practice},
		{"5 mucus with gaping after a meal", fedNow, []exam.Sign{sign("mouth", "mucus"), sign("rest", "gaping")}, emergency, practice},
		{"5 excess saliva", exam.Context{}, []exam.Sign{graded(sign("mouth", "mucus"), exam.Severe)}, emergency, triage},
		{"5 cheesy plaques", exam.Context{}, []exam.Sign{sign("mouth", "plaque")}, vet, practice},
		{"5 loose teeth", exam.Context{}, []exam.Sign{sign("mouth", "loose-teeth")}, vet, practice},
		{"5 a shed tooth", exam.Context{}, []exam.Sign{sign("mouth", "shed-tooth")}, often, practice},
		{"5 a tooth in the faeces", exam.Context{}, []exam.Sign{sign(knowledge.Waste, "shed-tooth")}, often, practice},
		{"5 blue-grey mucosa", exam.Context{}, []exam.Sign{sign("mouth", "blue-lining")}, emergency, practice},
		{"5 white mucosa alone", exam.Context{}, []exam.Sign{sign("mouth", "white-lining")}, often, practice},
		{"5 white mucosa, severe", exam.Context{}, []exam.Sign{graded(sign("mouth", "white-lining"), exam.Severe)}, vet, house},
		{"5 white mucosa with weakness", exam.Context{}, []exam.Sign{sign("mouth", "white-lining"), weak}, emergency, practice},
		{"5 white mucosa against the photo", exam.Context{}, []exam.Sign{differs}, emergency, practice},
		{"6 tongue stuck", exam.Context{}, []exam.Sign{sign("airway", "tongue")}, vet, practice},
		{"7 discharge from the glottis", exam.Context{}, []exam.Sign{sign("airway", "airway-discharge")}, vet, practice},
		{"7 uneven glottis", exam.Context{}, []exam.Sign{sign("airway", "uneven-airway")}, vet, practice},
		{"7 red rim", exam.Context{}, []exam.Sign{sign("airway", "red-airway")}, vet, practice},
		{"7 froth", exam.Context{}, []exam.Sign{sign("airway", "froth")}, emergency, practice},
		{"7 blood", exam.Context{}, []exam.Sign{sign("airway", "airway-blood")}, emergency, practice},
		{"8 neck swelling", exam.Context{}, []exam.Sign{sign("neck", "swelling")}, vet, practice},
		{"8 mucus", exam.Context{}, []exam.Sign{sign("neck", "mucus")}, vet, practice},
		{"8 regurgitated, first, 200 g or more", grown, []exam.Sign{sign("neck", "regurgitated")}, look, house},
		{"8 regurgitated, at 200 g", exam.Context{Mass: model.Grams(200)}, []exam.Sign{sign("neck", "regurgitated")}, look, house},
		{"8 regurgitated, first, under 200 g", small, []exam.Sign{sign("neck", "regurgitated")}, vet, house},
		{"8 regurgitated, mass unknown", exam.Context{}, []exam.Sign{sign("neck", "regurgitated")}, vet, house},
		{"8 regurgitated, second within 30 days", before, []exam.Sign{sign("neck", "regurgitated")}, vet, house},
		{"8 regurgitated, the other one longer ago", longBefore, []exam.Sign{sign("neck", "regurgitated")}, look, house},
		{"8 choking", exam.Context{}, []exam.Sign{sign("neck", "choking")}, emergency, practice},
		{"9 swelling over the heart", exam.Context{}, []exam.Sign{sign("third-front", "swelling")}, vet, practice},
		{"9 odd beat", exam.Context{}, []exam.Sign{sign("third-front", "heart")}, vet, practice},
		{"9 odd beat, collapsed", exam.Context{}, []exam.Sign{sign("third-front", "heart"), weak}, emergency, practice},
		{"9 swelling over the heart, weak", exam.Context{}, []exam.Sign{sign("third-front", "swelling"), weak}, emergency, practice},
		{"10 bulge of a meal", fedThisDay, []exam.Sign{sign("third-middle", "bulge")}, often, practice},
		{"10 bulge not due to a meal", fedLong, []exam.Sign{sign("third-middle", "bulge")}, vet, practice},
		{"10 firm lump, fed or not", fedThisDay, []exam.Sign{sign("third-middle", "lump")}, vet, practice},
		{"11 lumps that move", exam.Context{}, []exam.Sign{sign("third-hind", "movable-lumps")}, often, practice},
		{"11 firm fixed lump", exam.Context{}, []exam.Sign{sign("third-hind", "lump")}, vet, practice},
		{"11 straining without result", exam.Context{}, []exam.Sign{sign("third-hind", "straining")}, emergency, practice},
		{"11 even lumps, gravid", exam.Context{Gravid: true}, []exam.Sign{sign("third-hind", "even-lumps")}, often, house},
		{"11 even lumps, not noted as gravid", exam.Context{}, []exam.Sign{sign("third-hind", "even-lumps")}, look, house},
		{"12 kink since hatching", exam.Context{}, []exam.Sign{own(sign("spine", "kink"), exam.Same)}, often, practice},
		{"12 kink since hatching, worse", exam.Context{}, []exam.Sign{own(sign("spine", "kink"), exam.Worse)}, vet, practice},
		{"12 kink, new", exam.Context{}, []exam.Sign{sign("spine", "kink")}, vet, practice},
		{"12 step, new with weakness", exam.Context{}, []exam.Sign{sign("spine", "step"), weak}, emergency, practice},
		{"12 crackling, new with weakness", exam.Context{}, []exam.Sign{sign("spine", "crackle"), weak}, emergency, practice},
		{"12 kink since hatching, with weakness", exam.Context{}, []exam.Sign{own(sign("spine", "kink"), exam.Same), weak}, vet, practice},
		{"12 spine stands out", exam.Context{Age: exam.Adult}, []exam.Sign{sign("spine", "thin")}, look, house},
		{"12 spine stands out in a young one", exam.Context{Age: exam.Hatchling}, []exam.Sign{sign("spine", "thin")}, vet, house},
		{"12 spine stands out in a juvenile", exam.Context{Age: exam.Juvenile}, []exam.Sign{sign("spine", "thin")}, vet, house},
		{"12 spine stands out, age unknown, 299.999 g", exam.Context{Mass: model.Mass{Milligrams: 299_999}}, []exam.Sign{sign("spine", "thin")}, vet, house},
		{"12 spine stands out, age unknown, 300 g", exam.Context{Mass: model.Grams(300)}, []exam.Sign{sign("spine", "thin")}, look, house},
		{"12 spine stands out, age and mass unknown", exam.Context{}, []exam.Sign{sign("spine", "thin")}, vet, house},
		{"12 spine stands out, a light adult", exam.Context{Age: exam.Adult, Mass: model.Grams(250)}, []exam.Sign{sign("spine", "thin")}, look, house},
		{"12 spine stands out, losing weight", exam.Context{Age: exam.Adult, LosingWeight: true}, []exam.Sign{sign("spine", "thin")}, vet, house},
		{"12 spine stands out clearly", exam.Context{}, []exam.Sign{graded(sign("spine", "thin"), exam.Marked)}, vet, house},
		{"13 retained shed", exam.Context{}, []exam.Sign{sign("skin", "stuck-shed")}, look, practice},
		{"13 skin folds", exam.Context{}, []exam.Sign{sign("skin", "folds")}, look, practice},
		{"13 skin folds with weight loss", exam.Context{LosingWeight: true}, []exam.Sign{sign("skin", "folds")}, vet, practice},
		{"13 blister, ulcer", exam.Context{}, []exam.Sign{sign("skin", "sore")}, vet, practice},
		{"13 burn, fresh or of unknown age", exam.Context{}, []exam.Sign{sign("skin", "burn")}, emergency, triage},
		{"13 small burn, known to be older", exam.Context{}, []exam.Sign{older(sign("skin", "burn"))}, vet, practice},
		{"13 large burn, known to be older", exam.Context{}, []exam.Sign{graded(older(sign("skin", "burn")), exam.Marked)}, emergency, practice},
		{"13 burn of the lip", exam.Context{}, []exam.Sign{sign("lips", "burn")}, emergency, triage},
		{"13 blister, ulcer, severe", exam.Context{}, []exam.Sign{graded(sign("skin", "sore"), exam.Severe)}, emergency, house},
		{"13 mites", exam.Context{}, []exam.Sign{sign("skin", "mites")}, vet, practice},
		{"13 tick", exam.Context{}, []exam.Sign{sign("skin", "tick")}, vet, practice},
		{"13 healed scar", exam.Context{}, []exam.Sign{sign("skin", "scar")}, often, practice},
		{"14 red belly", exam.Context{}, []exam.Sign{graded(sign("belly", "red-belly"), exam.Severe)}, vet, practice},
		{"14 widespread red and dull", exam.Context{}, []exam.Sign{graded(sign("belly", "red-belly"), exam.Severe), weak}, emergency, practice},
		{"14 some red and weak", exam.Context{}, []exam.Sign{graded(sign("belly", "red-belly"), exam.Marked), weak}, vet, practice},
		{"14 pink belly in shed", inShed, []exam.Sign{sign("belly", "pink-belly")}, often, practice},
		{"14 pink belly out of shed", outOfShed, []exam.Sign{sign("belly", "pink-belly")}, look, house},
		{"15 prolapse", exam.Context{}, []exam.Sign{sign("vent", "prolapse")}, emergency, practice},
		{"15 swelling", exam.Context{}, []exam.Sign{sign("vent", "swelling")}, vet, practice},
		{"15 discharge, adhered faeces", exam.Context{}, []exam.Sign{sign("vent", "dirty-vent")}, vet, practice},
		{"16 torn spur", exam.Context{}, []exam.Sign{sign("spurs", "torn-spur")}, look, practice},
		{"17 ring at the tip", exam.Context{}, []exam.Sign{sign("tail-tip", "shed-ring")}, look, practice},
		{"17 dark tip", exam.Context{}, []exam.Sign{sign("tail-tip", "dark-tip")}, vet, practice},
		{"17 swelling at the base", exam.Context{}, []exam.Sign{sign("tail", "tail-swelling")}, look, practice},
		{"17 marked swelling at the base", exam.Context{}, []exam.Sign{graded(sign("tail", "tail-swelling"), exam.Marked)}, vet, house},
		{"18 blood", exam.Context{}, []exam.Sign{sign(knowledge.Waste, "waste-blood")}, vet, practice},
		{"18 mucus", exam.Context{}, []exam.Sign{sign(knowledge.Waste, "waste-mucus")}, vet, practice},
		{"18 green, foul", exam.Context{}, []exam.Sign{sign(knowledge.Waste, "waste-foul")}, vet, practice},
		{"18 watery", exam.Context{}, []exam.Sign{sign(knowledge.Waste, "waste-watery")}, vet, house},
		{"18 hard urates", exam.Context{}, []exam.Sign{sign(knowledge.Waste, "hard-urates")}, look, house},
		{"18 yellow urates", exam.Context{}, []exam.Sign{sign(knowledge.Waste, "yellow-urates")}, look, house},
		{"18 undigested prey", exam.Context{}, []exam.Sign{sign(knowledge.Waste, "waste-prey")}, vet, practice},
		{"18 worms", exam.Context{}, []exam.Sign{sign(knowledge.Waste, "worms")}, vet, practice},
		{"18 gritty urates", exam.Context{}, []exam.Sign{sign(knowledge.Waste, "gritty-urates")}, look, practice},
		{"18 absent urates, repeated", exam.Context{}, []exam.Sign{again}, vet, practice},
		{"emergency list: bleeding", exam.Context{}, []exam.Sign{sign("mouth", "bleeding")}, emergency, triage},
		{"emergency list: bleeding at the cloaca", exam.Context{}, []exam.Sign{sign("vent", "wound")}, emergency, triage},
		{"emergency list: straining", exam.Context{}, []exam.Sign{sign("vent", "straining")}, emergency, triage},
		{"emergency list: heat stroke, chilling, fall, poison", exam.Context{}, []exam.Sign{sign("rest", "accident")}, emergency, triage},
		{"emergency list: bite, puncture, crush", exam.Context{}, []exam.Sign{sign("neck", "wound")}, emergency, triage},
		{"emergency list: eye injury", exam.Context{}, []exam.Sign{sign("eye-left", "eye-injury")}, emergency, triage},
		{"emergency list: severe lethargy", exam.Context{}, []exam.Sign{graded(weak, exam.Severe)}, emergency, triage},
		{"emergency list: excess saliva", exam.Context{}, []exam.Sign{sign("rest", "drooling")}, emergency, triage},
		{"emergency list: choking", exam.Context{}, []exam.Sign{sign("airway", "choking")}, emergency, triage},
		{"airway: two on one day", inShed, []exam.Sign{sign("rest", "sound"), sign("snout", "nostril-discharge")}, vet, practice},
		{"something else, slight", exam.Context{}, []exam.Sign{sign("skin", "other")}, look, house},
		{"something else, marked", exam.Context{}, []exam.Sign{graded(sign("skin", "other"), exam.Marked)}, vet, house},
		{"nothing found", exam.Context{}, nil, knowledge.Nothing, house},
	}
	for _, c := range cases {
		t.Run(c.row, func(t *testing.T) {
			v := judge(tb, c.context, c.signs...)
			if v.Level != c.want {
				t.Errorf("%s (%s): got %q, want %q; reasons %v", c.row, c.tag, v.Level, c.want, rules(v))
			}
		})
	}
}

func rules(v exam.Verdict) []knowledge.RuleID {
	var ids []knowledge.RuleID
	for _, r := range v.Reasons {
		ids = append(ids, r.Rule)
	}
	return ids
}

func TestUrgency_AirwayCluster(t *testing.T) {
	tb := tables(t)
	discharge, red, mucus := sign("snout", "nostril-discharge"), sign("airway", "red-airway"), sign("mouth", "mucus")
	yesterday := discharge
	yesterday.Seen--
	tests := []struct {
		name    string
		signs   []exam.Sign
		want    knowledge.Level
		rules   []knowledge.RuleID
		isolate bool
	}{
		{"one alone does not make it", []exam.Sign{discharge}, vet, []knowledge.RuleID{"nostril-discharge"}, false},
		{"the same one on both sides is one", []exam.Sign{discharge, discharge}, vet, []knowledge.RuleID{"nostril-discharge"}, false},
		{"two kinds make it", []exam.Sign{discharge, mucus}, vet, []knowledge.RuleID{"nostril-discharge", "mucus", "airway"}, true},
		{"on two days they do not", []exam.Sign{yesterday, mucus}, vet, []knowledge.RuleID{"nostril-discharge", "mucus"}, false},
		{"with froth it is today", []exam.Sign{red, sign("airway", "froth")}, emergency, []knowledge.RuleID{"froth", "airway-emergency", "red-airway", "airway"}, true},
		{"with blood it is today", []exam.Sign{red, sign("airway", "airway-blood")}, emergency, []knowledge.RuleID{"airway-blood", "airway-emergency", "red-airway", "airway"}, true},
	}
	for _, c := range tests {
		t.Run(c.name, func(t *testing.T) {
			v := judge(tb, exam.Context{}, c.signs...)
			if v.Level != c.want || !reflect.DeepEqual(rules(v), c.rules) || v.Isolate() != c.isolate {
				t.Errorf("got %q, %v, isolate %v", v.Level, rules(v), v.Isolate())
			}
		})
	}
}

func TestUrgency_ReasonsPointAtTheirSignsAndCarryTheirSource(t *testing.T) {
	tb := tables(t)
	v := judge(tb, exam.Context{}, sign("skin", "stuck-shed"), sign("rest", "gaping"), sign("snout", "nostril-discharge"), graded(sign("skin", "stuck-shed"), exam.Severe))
	for _, r := range v.Reasons {
		row, ok := tb.Rule(r.Rule)
		if !ok || r.Source == "" || r.Source != row.Source || r.Level != row.Level || r.IfWorse != row.IfWorse || r.Again != row.Again {
			t.Errorf("reason %+v is not what its row says", r)
		}
		for _, i := range r.Signs {
			if s := v.Signs[i]; !row.At(s.Stop, s.What) {
				t.Errorf("reason %s points at %s at %s", r.Rule, s.What, s.Stop)
			}
		}
	}
	want := []knowledge.RuleID{"gaping", "airway-emergency", "nostril-discharge", "airway", "stuck-shed"}
	if !reflect.DeepEqual(rules(v), want) {
		t.Errorf("got %v, want the most urgent first and then as in the table: %v", rules(v), want)
	}
	if last := v.Reasons[len(v.Reasons)-1]; len(last.Signs) != 2 {
		t.Errorf("stuck shed at two places is one reason with %d signs, want 2", len(last.Signs))
	}
	if v.Tables != tb.Hash() || v.VetWithin != tb.Value(knowledge.ValueVetWithin) || v.Day != morning.Day() {
		t.Errorf("the verdict is stamped %q, %d, %s", v.Tables, v.VetWithin, v.Day)
	}
}

func TestUrgency_WhatIsGoneOrClosedDoesNotCount(t *testing.T) {
	for _, s := range []exam.Standing{exam.Gone, exam.Closed} {
		gone := sign("vent", "prolapse")
		gone.Standing = s
		if v := judge(tables(t), exam.Context{}, gone); v.Level != knowledge.Nothing || len(v.Signs) != 0 {
			t.Errorf("%s: %+v", s, v)
		}
	}
	passedOver := sign("vent", "prolapse")
	passedOver.Standing = exam.Unasked
	if v := judge(tables(t), exam.Context{}, passedOver); v.Level != emergency {
		t.Errorf("one that was not asked about: got %q, want an emergency still", v.Level)
	}
}

func TestUrgency_OwnOnlyWhereTheTablesAllowIt(t *testing.T) {
	if v := judge(tables(t), exam.Context{}, own(sign("vent", "prolapse"), exam.Same)); v.Level != emergency {
		t.Errorf("a prolapse marked as the animal's own: %q", v.Level)
	}
	worsened := own(sign("spine", "kink"), exam.Same)
	worsened.Worsened = true
	if v := judge(tables(t), exam.Context{}, worsened); v.Level != vet {
		t.Errorf("own, worse before and the same since: %q, want it not quiet", v.Level)
	}
	for _, never := range []exam.Sign{sign("airway", "uneven-airway"), sign("spine", "swelling"), sign("third-hind", "lump"), sign("spine", "crackle"), graded(sign("skin", "other"), exam.Marked)} {
		if v := judge(tables(t), exam.Context{}, own(never, exam.Same)); v.Level != vet {
			t.Errorf("%s marked as the animal's own: %q", never.What, v.Level)
		}
	}
	if v := judge(tables(t), exam.Context{}, graded(own(sign("rest", "nerves"), exam.Same), exam.Marked)); v.Level != emergency {
		t.Errorf("a known wobble that is more than slight: %q", v.Level)
	}
}

func TestUrgency_UngradedCountsAsSlight(t *testing.T) {
	if v := judge(tables(t), exam.Context{}, graded(sign("vent", "prolapse"), exam.Ungraded)); v.Level != emergency {
		t.Errorf("got %q", v.Level)
	}
}

func TestUrgency_EdgesOfTime(t *testing.T) {
	tb := tables(t)
	dayOnly := later(morning, -20*time.Minute)
	dayOnly.Precision = model.ToDay
	regurgitated := func(ago time.Duration) exam.Context {
		return exam.Context{Mass: model.Grams(900), Regurgitations: []model.Moment{later(morning, -ago)}}
	}
	const day = 24 * time.Hour
	tests := []struct {
		name    string
		context exam.Context
		sign    exam.Sign
		want    knowledge.Level
	}{
		{"60 minutes after a meal", exam.Context{LastMeal: later(morning, -60*time.Minute)}, sign("rest", "yawn"), often},
		{"61 minutes after a meal", exam.Context{LastMeal: later(morning, -61*time.Minute)}, sign("rest", "yawn"), look},
		{"at the moment of the meal", exam.Context{LastMeal: morning}, sign("rest", "yawn"), often},
		{"a meal yet to come", exam.Context{LastMeal: later(morning, time.Minute)}, sign("rest", "yawn"), look},
		{"a meal of which only the day is known", exam.Context{LastMeal: dayOnly}, sign("rest", "gaping"), emergency},
		{"8 days after a meal", exam.Context{LastMeal: later(morning, -8*day)}, sign("third-middle", "bulge"), often},
		{"9 days after a meal", exam.Context{LastMeal: later(morning, -9*day)}, sign("third-middle", "bulge"), vet},
		{"a meal of today of which only the day is known", exam.Context{LastMeal: dayOnly}, sign("third-middle", "bulge"), often},
		{"a meal of tomorrow", exam.Context{LastMeal: later(morning, day)}, sign("third-middle", "bulge"), vet},
		{"30 days after the first", regurgitated(30 * day), sign("neck", "regurgitated"), vet},
		{"31 days after the first", regurgitated(31 * day), sign("neck", "regurgitated"), look},
		{"22.00 °C", exam.Context{Temperature: model.Temperature{Hundredths: 2200}}, sign("rest", "weak"), vet},
		{"21.99 °C", exam.Context{Temperature: model.Temperature{Hundredths: 2199}}, sign("rest", "weak"), emergency},
		{"199.999 g", exam.Context{Mass: model.Mass{Milligrams: 199_999}}, sign("neck", "regurgitated"), vet},
	}
	for _, c := range tests {
		t.Run(c.name, func(t *testing.T) {
			if v := judge(tb, c.context, c.sign); v.Level != c.want {
				t.Errorf("got %q, want %q", v.Level, c.want)
			}
		})
	}
}

func contexts(t *rapid.T) exam.Context {
	moment := rapid.Custom(func(t *rapid.T) model.Moment {
		return later(morning, -time.Duration(rapid.IntRange(-100, 80_000).Draw(t, "minutes"))*time.Minute)
	})
	return exam.Context{
		Shed:           rapid.SampledFrom([]exam.ShedPhase{exam.ShedUnknown, exam.ShedNone, exam.ShedBefore}).Draw(t, "shed"),
		LastMeal:       rapid.OneOf(rapid.Just(model.Moment{}), moment).Draw(t, "meal"),
		Gravid:         rapid.Bool().Draw(t, "gravid"),
		Temperature:    model.Temperature{Hundredths: rapid.SampledFrom([]int64{0, 1500, 2199, 2200, 3000}).Draw(t, "temperature")},
		Age:            rapid.SampledFrom([]exam.Age{exam.AgeUnknown, exam.Hatchling, exam.Juvenile, exam.Subadult, exam.Adult}).Draw(t, "age"),
		Mass:           model.Mass{Milligrams: rapid.Int64Range(0, 2_000_000).Draw(t, "mass")},
		LosingWeight:   rapid.Bool().Draw(t, "losing"),
		Regurgitations: rapid.SliceOfN(moment, 0, 2).Draw(t, "regurgitations"),
	}
}

func signs(all []exam.Sign) *rapid.Generator[exam.Sign] {
	return rapid.Custom(func(t *rapid.T) exam.Sign {
		s := rapid.SampledFrom(all).Draw(t, "sign")
		s.Grade = exam.Grade(rapid.IntRange(1, 3).Draw(t, "grade"))
		s.Standing = rapid.SampledFrom([]exam.Standing{exam.Unasked, exam.New, exam.Same, exam.Better, exam.Worse, exam.CameBack}).Draw(t, "standing")
		s.Baseline = rapid.Bool().Draw(t, "baseline")
		s.Differs = rapid.Bool().Draw(t, "differs")
		s.Sheds = rapid.IntRange(0, 3).Draw(t, "sheds")
		s.Worsened = rapid.Bool().Draw(t, "worsened")
		s.WorseAgain = rapid.Bool().Draw(t, "worse again")
		s.Old = rapid.Bool().Draw(t, "old")
		s.Seen -= model.Day(rapid.IntRange(0, 1).Draw(t, "days ago"))
		return s
	})
}

func TestUrgency_OneMoreOrAWorseOneNeverLowers(t *testing.T) {
	tb := tables(t)
	one := signs(choices(tb))
	rapid.Check(t, func(rt *rapid.T) {
		c, some := contexts(rt), rapid.SliceOfN(one, 0, 6).Draw(rt, "signs")
		before := judge(tb, c, some...).Level
		if more := judge(tb, c, append(slices.Clone(some), one.Draw(rt, "one more"))...).Level; more < before {
			rt.Fatalf("one more lowered %q to %q", before, more)
		}
		if len(some) == 0 {
			return
		}
		i := rapid.IntRange(0, len(some)-1).Draw(rt, "which")
		worse := slices.Clone(some)
		worse[i].Grade = min(worse[i].Grade+1, exam.Severe)
		if after := judge(tb, c, worse...).Level; after < before {
			rt.Fatalf("a higher grade lowered %q to %q", before, after)
		}
		worse[i].Standing = exam.Worse
		if after := judge(tb, c, worse...).Level; after < before {
			rt.Fatalf("standing worse lowered %q to %q", before, after)
		}
	})
}

// What a reason says it becomes if it gets worse, it becomes when it is worse:
// the very step that was announced, and no lower one.
func TestUrgency_WhatWasSaidOfWorseHolds(t *testing.T) {
	tb := tables(t)
	one := signs(choices(tb))
	rapid.Check(t, func(rt *rapid.T) {
		c, some := contexts(rt), rapid.SliceOfN(one, 1, 5).Draw(rt, "signs")
		i := rapid.IntRange(0, len(some)-1).Draw(rt, "which")
		some[i].Standing = rapid.SampledFrom([]exam.Standing{exam.New, exam.Same, exam.Worse}).Draw(rt, "before")
		some[i].Worsened, some[i].WorseAgain = some[i].Standing == exam.Worse, false
		before := judge(tb, c, some...)
		which := slices.IndexFunc(before.Signs, func(s exam.Sign) bool { return reflect.DeepEqual(s, some[i]) })
		announced := before.Level
		for _, r := range before.Reasons {
			if slices.Contains(r.Signs, which) {
				announced = max(announced, r.IfWorse)
			}
		}
		some[i].WorseAgain = some[i].Standing == exam.Worse
		some[i].Standing = exam.Worse
		if after := judge(tb, c, some...); after.Level < announced {
			rt.Fatalf("%+v: announced %q, and worse it is %q by %v", some[i], announced, after.Level, rules(after))
		}
		stays := slices.Clone(some)
		stays[i].Standing, stays[i].Worsened = exam.Same, true
		if a, b := judge(tb, c, some...), judge(tb, c, stays...); b.Level < a.Level {
			rt.Fatalf("worse %q, and the same since only %q", a.Level, b.Level)
		}
	})
}

func TestUrgency_WorseCountsAtOnce(t *testing.T) {
	tb := tables(t)
	adult := exam.Context{Age: exam.Adult, Mass: model.Grams(1432), Shed: exam.ShedNone, LastMeal: fedLong.LastMeal}
	worse := func(stop knowledge.StopID, what knowledge.FindingID) exam.Sign {
		s := sign(stop, what)
		s.Standing = exam.Worse
		return s
	}
	kink := own(sign("spine", "kink"), exam.Worse)
	again := kink
	again.WorseAgain = true
	cases := []struct {
		sign exam.Sign
		want knowledge.Level
	}{
		{worse("eye-left", "stuck-eye-cap"), vet}, {worse("tail-tip", "shed-ring"), vet}, {worse("snout", "nostril-blocked"), vet},
		{worse("skin", "folds"), vet}, {worse("skin", "stuck-shed"), vet}, {worse("snout", "nostril-discharge"), emergency},
		{worse("mouth", "red-gums"), emergency}, {worse("neck", "swelling"), emergency}, {worse("tail-tip", "dark-tip"), emergency},
		{worse("belly", "red-belly"), emergency}, {worse("mouth", "white-lining"), emergency}, {worse("skin", "scar"), vet},
		{kink, vet}, {again, emergency},
	}
	for _, c := range cases {
		v := judge(tb, adult, c.sign)
		if v.Level != c.want || !v.Reasons[0].Worsened && !c.sign.Baseline {
			t.Errorf("%s, worse: %q by %+v, want %q", c.sign.What, v.Level, v.Reasons, c.want)
		}
	}
	v := judge(tb, adult, worse("skin", "stuck-shed"), sign("tail", "stuck-shed"))
	if len(v.Reasons) != 2 || v.Of(0) != vet || v.Of(1) != look || v.Reasons[0].IfWorse != knowledge.Nothing || v.Reasons[0].Again != 0 {
		t.Errorf("one of two worse: %+v", v.Reasons)
	}
	cloudy := judge(tb, inShed, worse("eye-left", "cloudy-eye"))
	if cloudy.Level != look || cloudy.Reasons[0].Again != 7 {
		t.Errorf("a cloudy eye in shed, more so: %+v", cloudy.Reasons)
	}
	pair := judge(tb, adult, sign("rest", "sound"), worse("snout", "nostril-discharge"))
	for _, r := range pair.Reasons {
		if r.Rule == "airway" && (r.Level != emergency || len(r.Signs) != 2) {
			t.Errorf("one of the airway's pair is worse: %+v", r)
		}
	}
}

func TestVerdict_AgainByCountsFromTheLook(t *testing.T) {
	tb := tables(t)
	passed := sign("skin", "stuck-shed")
	passed.Seen -= 10
	v := judge(tb, exam.Context{}, passed, sign("tail", "stuck-shed"))
	if by, wanted := v.AgainBy(v.Reasons[0]); !wanted || by != morning.Day()-3 || by != v.Due()[0].By {
		t.Errorf("look again by %s (%v), due %+v", by, wanted, v.Due())
	}
	v = judge(tb, fedNow, sign("rest", "gaping"))
	if by, wanted := v.AgainBy(v.Reasons[0]); !wanted || by != morning.Day() || v.Due()[0].By != morning.Day() || !v.Reasons[0].Today {
		t.Errorf("gaping after a meal: look again by %s (%v), due %+v", by, wanted, v.Due())
	}
	v = judge(tb, exam.Context{}, sign("vent", "prolapse"))
	if _, wanted := v.AgainBy(v.Reasons[0]); wanted {
		t.Error("an emergency is looked at again")
	}
}

func TestUrgency_NamesAssumedNumbers(t *testing.T) {
	tb := tables(t)
	v := judge(tb, exam.Context{Temperature: model.Temperature{Hundredths: 1900}}, sign("rest", "weak"))
	for _, r := range v.Reasons {
		if want := r.Rule == "limp-cold"; want != reflect.DeepEqual(r.Assumed, []knowledge.ValueID{knowledge.ValueCold}) {
			t.Errorf("%s rests on assumed %v", r.Rule, r.Assumed)
		}
	}
}

func TestUrgency_TheOrderDoesNotMatter(t *testing.T) {
	tb := tables(t)
	one := signs(choices(tb))
	rapid.Check(t, func(rt *rapid.T) {
		c, some := contexts(rt), rapid.SliceOfN(one, 1, 7).Draw(rt, "signs")
		shuffled := rapid.Permutation(some).Draw(rt, "shuffled")
		kept := slices.Clone(shuffled)
		if a, b := judge(tb, c, some...), judge(tb, c, shuffled...); !reflect.DeepEqual(a, b) {
			rt.Fatalf("in another order:\n%+v\n%+v", a, b)
		}
		if !reflect.DeepEqual(kept, shuffled) {
			rt.Fatal("judging changed what it was given")
		}
	})
}

func TestUrgency_NothingFoundGoesWithoutAnAnswer(t *testing.T) {
	tb := tables(t)
	one := signs(choices(tb))
	rapid.Check(t, func(rt *rapid.T) {
		v := judge(tb, contexts(rt), one.Draw(rt, "sign"))
		if v.Level == knowledge.Nothing || v.Of(0) != v.Level {
			rt.Fatalf("no rule speaks about %+v", v.Signs[0])
		}
	})
}

func TestUrgency_TheHighestCountsAndAnEmergencyIsNeverLess(t *testing.T) {
	tb := tables(t)
	one := signs(choices(tb))
	rapid.Check(t, func(rt *rapid.T) {
		c, some := contexts(rt), rapid.SliceOfN(one, 1, 6).Draw(rt, "signs")
		v := judge(tb, c, some...)
		highest := knowledge.Nothing
		for _, s := range some {
			highest = max(highest, judge(tb, c, s).Level)
		}
		if v.Level < highest {
			rt.Fatalf("together %q, one alone %q", v.Level, highest)
		}
		if !slices.IsSortedFunc(v.Reasons, func(a, b exam.Reason) int { return int(b.Level) - int(a.Level) }) || v.Reasons[0].Level != v.Level {
			rt.Fatalf("the reasons are not most urgent first: %v of %q", rules(v), v.Level)
		}
	})
}

func TestVerdict_Due(t *testing.T) {
	tb := tables(t)
	ago := func(s exam.Sign, days model.Day) exam.Sign {
		s.Seen, s.Standing = s.Seen-days, exam.Unasked
		return s
	}
	day := morning.Day()
	tests := []struct {
		name  string
		signs []exam.Sign
		want  []exam.Obligation
	}{
		{"nothing", nil, nil},
		{"seen often", []exam.Sign{sign("skin", "scar")}, nil},
		{"look again in 7 days", []exam.Sign{sign("skin", "stuck-shed")}, []exam.Obligation{{Kind: exam.LookThere, By: day + 7, Signs: []int{0}}}},
		{"an emergency is due today", []exam.Sign{sign("vent", "prolapse")}, []exam.Obligation{{Kind: exam.SeeVet, By: day, Signs: []int{0}}}},
		{"within days", []exam.Sign{sign("skin", "sore")}, []exam.Obligation{{Kind: exam.SeeVet, By: day + 3, Signs: []int{0}}}},
		{"the soonest first, one vet for all", []exam.Sign{sign("skin", "sore"), sign("skin", "tick"), sign("rest", "yawn"), sign("skin", "stuck-shed")},
			[]exam.Obligation{{Kind: exam.LookThere, By: day + 1, Signs: []int{0}}, {Kind: exam.SeeVet, By: day + 3, Signs: []int{1, 3}}, {Kind: exam.LookThere, By: day + 7, Signs: []int{2}}}},
		{"passing over puts off nothing", []exam.Sign{ago(sign("skin", "stuck-shed"), 10)}, []exam.Obligation{{Kind: exam.LookThere, By: day - 3, Signs: []int{0}}}},
		{"passing over a vet's matter neither", []exam.Sign{ago(sign("skin", "sore"), 10), sign("skin", "tick")}, []exam.Obligation{{Kind: exam.SeeVet, By: day - 7, Signs: []int{0, 1}}}},
		{"and an emergency stands since its day", []exam.Sign{ago(sign("vent", "prolapse"), 2), sign("skin", "tick")}, []exam.Obligation{{Kind: exam.SeeVet, By: day - 2, Signs: []int{0, 1}}}},
	}
	for _, c := range tests {
		t.Run(c.name, func(t *testing.T) {
			if got := judge(tb, exam.Context{}, c.signs...).Due(); !reflect.DeepEqual(got, c.want) {
				t.Errorf("got %+v, want %+v", got, c.want)
			}
		})
	}
	if by, wanted := judge(tb, exam.Context{}, sign("skin", "scar")).VetBy(); wanted || by != 0 {
		t.Errorf("a scar wants a vet by %s", by)
	}
}
