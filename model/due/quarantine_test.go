package due_test

import (
	"strings"
	"testing"
	"time"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/due"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/newcomers"
	"coilward/model/quarantine"
	"coilward/model/samples"
)

// begin begins the quarantine of 90 days of the world's animal, so many days ago.
func (w *world) begin(ago int) model.QuarantineID {
	w.t.Helper()
	return model.QuarantineID{ID: w.do(quarantine.Begin{Tables: w.tables, Animal: w.animal, Arrived: w.about(ago).At, Protocol: "python"}).Documents[0]}
}

// planned are the items that the plan of a quarantine makes due.
func (w *world) planned(j due.Job) (all []due.Item) {
	w.t.Helper()
	for _, i := range w.of(j) {
		if strings.HasPrefix(i.Cause, "quarantine/") {
			all = append(all, i)
		}
	}
	return all
}

// A newcomer is weighed and looked at for mites each week, a first sample is taken on
// day 3 to 7, faeces from day 14, and it is checked on arrival; source: common
// practice, no source.
func TestThePlanOfAQuarantineIsDue(t *testing.T) {
	w := newWorld(t, ball())
	w.weigh(20, 1400)
	w.check(20, false, nil)
	w.list()
	w.begin(1)
	if all := w.planned(due.Weigh); len(all) != 1 || all[0].By != w.today()-1 || all[0].State != due.Late || all[0].Act != due.ActWeigh || len(w.of(due.Weigh)) != 1 {
		t.Fatalf("weighing: %+v", all)
	}
	if all := w.planned(due.MiteLook); len(all) != 1 || all[0].By != w.today()-1 || all[0].Every != 7 {
		t.Fatalf("looks for mites: %+v", all)
	}
	if all := w.planned(due.Check); len(all) != 1 || all[0].By != w.today()+2 || all[0].Reasons[0].Key != "due.why.arrival-check" {
		t.Errorf("the check on arrival: %+v", all)
	}
	taken := w.planned(due.TakeSample)
	if len(taken) != 3 {
		t.Fatalf("samples: %+v", taken)
	}
	for _, i := range taken {
		from, by := 3, 7
		if strings.Contains(i.Cause, string(knowledge.FaecalAgent)) {
			from, by = 14, 14
		}
		if i.From != w.today()-1+model.Day(from) || i.By != w.today()-1+model.Day(by) || i.State != due.Later || i.Act != due.ActTray {
			t.Errorf("a sample: %+v", i)
		}
	}
	w.weigh(0, 1400)
	w.look(0, care.NoMites)
	w.check(0, false, nil)
	if all := w.planned(due.Weigh); len(all) != 1 || all[0].By != w.today()+7 {
		t.Errorf("weighed: %+v", all)
	}
	if all := w.planned(due.MiteLook); len(all) != 1 || all[0].By != w.today()+7 {
		t.Errorf("looked: %+v", all)
	}
	w.do(samples.Prepare{Tables: w.tables, Each: []samples.New{{Animals: []model.AnimalID{w.animal}, Sample: samples.Sample{Material: "choanal-swab", For: []knowledge.AgentID{"serpentovirus"}, Taken: w.now()}}}})
	for _, i := range w.planned(due.TakeSample) {
		if strings.Contains(i.Cause, "serpentovirus") && (!strings.Contains(i.Cause, "serpentovirus/2/") || i.From != w.today()-1+60) {
			t.Errorf("the second swab is taken from day 60: %+v", i)
		}
	}
	one := w.planned(due.MiteLook)[0]
	w.do(w.answer(one, due.PutOff, 9, ""))
	if all := w.planned(due.MiteLook); len(all) != 1 || all[0].Day(w.today()) != w.today()+9 {
		t.Errorf("put off: %+v", all)
	}
	w.look(0, care.OneMite)
	if all := w.of(due.MiteLook); len(all) != 1 || all[0].Level != knowledge.LookAgain {
		t.Errorf("mites, looked for once: %+v", all)
	}
	w.do(animals.SetStatus{ID: w.animal, Base: 1, Status: animals.Sold, Day: model.Date{Day: w.today(), Precision: model.ToDay}})
	if all := w.planned(due.Weigh); len(all) > 0 {
		t.Errorf("sold: %+v", all)
	}
}

// An arrival that is set to an earlier or a later day moves all that its plan asks with it.
func TestThePlanGoesByTheDayOfTheArrival(t *testing.T) {
	w := newWorld(t, ball())
	id := w.begin(10)
	days := func() map[string]model.Day {
		all := map[string]model.Day{}
		for _, i := range w.list().Items {
			if strings.HasPrefix(i.Cause, "quarantine/") {
				all[string(i.Job)+strings.Split(i.Cause, "/")[2]] = i.From
			}
		}
		return all
	}
	before := days()
	if len(before) < 5 {
		t.Fatalf("asked: %v", before)
	}
	for base, ago := range []int{14, 2} {
		w.do(quarantine.Change{Tables: w.tables, ID: id, Base: uint32(base + 1), Arrived: w.about(ago).At, Protocol: "python", Confirmed: model.Confirmed{"day.before-arrival"}})
		after := days()
		if len(after) != len(before) {
			t.Errorf("%d days ago: %v, was %v", ago, after, before)
		}
		for what, day := range before {
			if after[what] != day+model.Day(10-ago) {
				t.Errorf("%d days ago: %s on %v, was %v", ago, what, after[what], day)
			}
		}
	}
}

// One more sample, because the last grows too old, is due with that reason.
func TestOneMoreSampleIsDue(t *testing.T) {
	w := newWorld(t, ball())
	id := w.begin(80)
	w.do(samples.Prepare{Tables: w.tables, Confirmed: model.Confirmed{"sample.kept-long", "sample.over-weekend"}, Each: []samples.New{
		{Animals: []model.AnimalID{w.animal}, Sample: samples.Sample{Material: "choanal-swab", For: []knowledge.AgentID{"serpentovirus"}, Taken: w.about(76).At}},
		{Animals: []model.AnimalID{w.animal}, Sample: samples.Sample{Material: "choanal-swab", For: []knowledge.AgentID{"serpentovirus"}, Taken: w.about(30).At}}}})
	w.do(quarantine.Change{Tables: w.tables, ID: id, Base: 1, Arrived: w.about(80).At, Protocol: "python"})
	for _, i := range w.planned(due.TakeSample) {
		if strings.Contains(i.Cause, "serpentovirus") {
			if i.Reasons[0].Key != "due.why.quarantine-again" || i.Reasons[0].Gaps["Day"] != model.DayGap(w.today()-30) {
				t.Errorf("%+v", i)
			}
			return
		}
	}
	t.Errorf("nothing is due: %+v", w.of(due.TakeSample))
}

// The standard photos of an arrival are due in the first days, until each pose is there;
// source of the days: common practice, no source.
func TestThePhotosOfAnArrivalAreDue(t *testing.T) {
	w := newWorld(t, ball())
	w.photo(5, w.tables.Poses()[0].ID) // before it came: it counts nothing
	w.begin(1)
	poses := w.tables.Poses()
	for n, pose := range poses {
		o := w.one(due.TakePhotos)
		if o.From != w.today()-1 || o.By != w.today()+2 || o.Act != due.ActPhotos || !strings.HasPrefix(o.Cause, "quarantine/") || o.Reasons[0].Key != "due.why.arrival-photos" ||
			o.Reasons[0].Gaps["Have"] != model.CountGap(n) || o.Reasons[0].Gaps["Want"] != model.CountGap(len(poses)) {
			t.Fatalf("%d of %d are there: %+v", n, len(poses), o)
		}
		w.photo(0, pose.ID)
	}
	if all := w.of(due.TakePhotos); len(all) > 0 {
		t.Errorf("all are there: %+v", all)
	}
}

// photo notes a photo of the world's animal in a pose, so many days ago.
func (w *world) photo(ago int, pose knowledge.PoseID) {
	w.t.Helper()
	w.do(care.AddPhoto{About: w.about(ago), Photo: care.Photo{Photos: []model.PhotoID{"0a"}, Pose: pose}})
}

// Shortly before its earliest end the end is told with what is missing, and once all
// is met the release is due; source of the days: assumed.
func TestTheEndOfAQuarantineIsDue(t *testing.T) {
	w := newWorld(t, ball())
	w.do(quarantine.ChangeProtocol{Tables: w.tables, Own: quarantine.Own{Protocol: knowledge.Protocol{ID: "short", Days: 30, Within: 30, CheckWithin: 7, Weight: 95, Watch: 90}}})
	id := model.QuarantineID{ID: w.do(quarantine.Begin{Tables: w.tables, Animal: w.animal, Arrived: w.about(15).At, Protocol: "short"}).Documents[0]}
	if all := w.of(due.Release); len(all) > 0 {
		t.Errorf("without a place no day counts: %+v", all)
	}
	w.do(husbandry.Move{Animal: w.animal, Place: w.tub("Tub 1", 30), At: w.about(15).At})
	if all := w.of(due.Release); len(all) > 0 {
		t.Errorf("15 days before: %+v", all)
	}
	w.pass(day)
	if o := w.one(due.Release); o.By != w.today()+14 || o.State != due.Later || o.Act != due.ActNewcomers || len(o.Reasons) != 5 || o.Reasons[0].Key != "due.why.quarantine-ends" || o.Reasons[1].Key != "due.why.quarantine-unmet" {
		t.Errorf("14 days before: %+v", o)
	}
	weigh := func(grams int64) {
		w.do(care.Weigh{About: w.about(0), Weight: care.Weight{Mass: model.Grams(grams), Gut: care.GutEmpty}, Again: model.Grams(grams)})
	}
	weigh(1400)
	w.pass(14 * day)
	if all := w.of(due.Release); len(all) > 0 {
		t.Errorf("its day is there, and something is missing: %+v", all)
	}
	weigh(1400)
	w.check(0, false, nil)
	o := w.one(due.Release)
	if o.State != due.Today || o.Reasons[0].Key != "due.why.release" {
		t.Fatalf("all is met: %+v", o)
	}
	w.do(w.answer(o, due.PutOff, 3, ""))
	if o := w.one(due.Release); o.State != due.Later {
		t.Errorf("put off: %+v", o)
	}
	w.do(newcomers.Release{Tables: w.tables, ID: id, Base: 1, At: w.now()})
	if all := w.of(due.Release); len(all) > 0 || len(w.planned(due.Weigh)) > 0 {
		t.Errorf("released: %+v", all)
	}
}

// One animal with mites opens looks for everyone in its room, and the keeper's
// clothes; source: common practice, no source.
func TestOneWithMitesOpensLooksForItsRoom(t *testing.T) {
	w := newWorld(t, ball())
	place := func(name string, kind husbandry.PlaceKind, in model.PlaceID) model.PlaceID {
		return model.PlaceID{ID: w.do(husbandry.AddPlaces{Parent: in, Branches: []husbandry.Branch{{Place: husbandry.Place{Name: name, Kind: kind}}}}).Documents[0]}
	}
	loft, cellar := place("Loft", husbandry.Room, model.PlaceID{}), place("Cellar", husbandry.Room, model.PlaceID{})
	mate, other := w.add(animals.Animal{Name: "Nettle", Species: "python-regius"}), w.add(animals.Animal{Name: "Moss", Species: "python-regius"})
	for id, in := range map[model.AnimalID]model.PlaceID{w.animal: loft, mate: loft, other: cellar} {
		w.do(husbandry.Move{Animal: id, Place: place("Tub of "+id.String()[30:], husbandry.Tub, in), At: w.now()})
	}
	if len(w.of(due.MiteLook)) > 0 {
		t.Fatal("looks are due without mites")
	}
	w.look(0, care.SeveralMites)
	near := func() (all []due.Item) {
		for _, i := range w.of(due.MiteLook) {
			if i.Reasons[0].Key == "due.why.mites-near" {
				all = append(all, i)
			}
		}
		return all
	}
	all := near()
	if len(all) != 1 || all[0].Subject != mate.Subject() || all[0].State != due.Today || all[0].Level != knowledge.LookAgain || all[0].Reasons[0].Gaps["Name"].Text != "Juniper" {
		t.Fatalf("in the room: %+v", all)
	}
	clothes := w.one(due.Clothes)
	if clothes.Subject != loft.Subject() || clothes.Of.Name != "Loft" || clothes.State != due.Today || clothes.Act != due.ActClean {
		t.Errorf("the clothes: %+v", clothes)
	}
	w.do(w.answer(clothes, due.DoneElsewhere, 0, ""))
	if o := w.one(due.Clothes); o.State != due.Answered {
		t.Errorf("washed: %+v", o)
	}
	w.do(w.answer(all[0], due.PutOff, 2, "away"))
	if all := near(); len(all) != 1 || all[0].State != due.Later {
		t.Errorf("put off: %+v", all)
	}
	about := w.about(0)
	about.Animal = mate
	w.do(care.LookForMites{About: about, MiteLook: care.MiteLook{Grade: care.NoMites, Where: []care.MiteWhere{care.OnAnimal}}})
	if all := near(); len(all) != 1 || all[0].By != w.today()+7 || all[0].Answer != nil {
		t.Errorf("looked at: %+v", all)
	}
	w.pass(time.Hour)
	w.do(husbandry.Move{Animal: mate, Place: place("Tub 9", husbandry.Tub, cellar), At: w.now()})
	if all := near(); len(all) > 0 {
		t.Errorf("moved away: %+v", all)
	}
	if _, err := w.c.Undo(); err != nil {
		t.Fatal(err)
	}
	for range 12 {
		w.pass(7 * day)
		w.look(0, care.NoMites)
	}
	if all := near(); len(all) > 0 || len(w.of(due.Clothes)) > 0 {
		t.Errorf("the watch is over: %+v", all)
	}
}
