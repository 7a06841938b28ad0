package newcomers_test

import (
	"errors"
	"slices"
	"testing"
	"time"

	"coilward/assets"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/collection"
	"coilward/model/exam"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/newcomers"
	"coilward/model/quarantine"
	"coilward/model/samples"
	"coilward/model/storetest"
)

const day = 24 * time.Hour

// world is a house with two rooms, and a newcomer in one of them.
type world struct {
	t       testing.TB
	c       *collection.Collection
	clock   *storetest.Clock
	tables  *knowledge.Tables
	arrived model.Day
	rooms   [2]model.PlaceID
	tubs    [2][4]model.PlaceID
	animal  model.AnimalID
	kept    model.QuarantineID
}

func begin(t testing.TB) *world {
	t.Helper()
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	c, clock := storetest.New(t)
	w := &world{t: t, c: c, clock: clock, tables: tables}
	w.arrived = w.now().Day()
	for i, name := range []string{"Arrivals", "Loft"} {
		room := husbandry.Branch{Place: husbandry.Place{Name: name, Kind: husbandry.Room}}
		for _, tub := range []string{"1", "2", "3", "4"} {
			room.Below = append(room.Below, husbandry.Branch{Place: husbandry.Place{Name: tub, Kind: husbandry.Tub, Zones: husbandry.Zones{Cool: model.Temperature{Hundredths: 2600, Typed: "26"}}}})
		}
		made := w.do(husbandry.AddPlaces{Branches: []husbandry.Branch{room}})
		w.rooms[i] = model.PlaceID{ID: made[0]}
		for j := range w.tubs[i] {
			w.tubs[i][j] = model.PlaceID{ID: made[j+1]}
		}
	}
	w.animal = w.came("Juniper", w.tubs[0][0])
	w.kept = model.QuarantineID{ID: w.do(quarantine.Begin{Tables: tables, Animal: w.animal, Arrived: w.now(), Protocol: "python"})[0]}
	return w
}

func (w *world) now() model.Moment { return model.MomentOf(w.clock.Now()) }

func (w *world) do(c model.Command) []model.ID {
	w.t.Helper()
	change, err := w.c.Do(c)
	if err != nil {
		w.t.Fatalf("%s: %v", c.Name(), err)
	}
	return change.Documents
}

// came is an animal that came today and lives in a place.
func (w *world) came(name string, in model.PlaceID) model.AnimalID {
	w.t.Helper()
	id := model.AnimalID{ID: w.do(animals.Add{Animal: animals.Animal{Name: name, Species: "python-regius", Since: model.Date{Day: w.now().Day(), Precision: model.ToDay}}})[0]}
	w.do(husbandry.Move{Animal: id, Place: in, At: w.now()})
	return id
}

func (w *world) of(id model.AnimalID) newcomers.Newcomer {
	w.t.Helper()
	var n newcomers.Newcomer
	var known bool
	if err := w.c.View(func(v model.View) (err error) { n, known, err = newcomers.Of(v, w.tables, id); return err }); err != nil || !known {
		w.t.Fatalf("known %v: %v", known, err)
	}
	return n
}

func (w *world) line(item quarantine.ItemID) quarantine.Line {
	w.t.Helper()
	for _, l := range w.of(w.animal).Gate.Lines {
		if l.Item == item {
			return l
		}
	}
	w.t.Fatalf("no line of %s", item)
	return quarantine.Line{}
}

func (w *world) about(id model.AnimalID) care.About { return care.About{Animal: id, At: w.now()} }

func (w *world) look(id model.AnimalID, g care.MiteGrade) model.ID {
	w.t.Helper()
	return w.do(care.LookForMites{About: w.about(id), MiteLook: care.MiteLook{Grade: g, Where: []care.MiteWhere{care.OnAnimal}}})[0]
}

// on waits until a day after the arrival.
func (w *world) on(n int) {
	w.t.Helper()
	if ahead := int(w.arrived) + n - int(w.now().Day()); ahead > 0 {
		w.clock.Pass(time.Duration(ahead) * day)
	}
}

func (w *world) check(look exam.Look, found ...exam.Finding) {
	w.t.Helper()
	var id model.EntryID
	var problems []exam.StoredProblem
	if err := w.c.View(func(v model.View) (err error) {
		id.ID = v.NewID()
		problems, err = exam.Problems(v, w.animal)
		return err
	}); err != nil {
		w.t.Fatal(err)
	}
	at := w.now()
	at.UTC -= 900
	d := exam.Begin(w.tables, exam.Beginning{Check: id, Animal: w.animal, At: at, Problems: problems})
	for i := range d.Stops {
		if d.Stops[i].Look, d.Stops[i].At = exam.Seen, at; d.Stops[i].Stop == "mouth" {
			d.Stops[i].Look = look
		}
	}
	for _, f := range found {
		f.At = at
		d.Findings = append(d.Findings, f)
	}
	for i := range d.Earlier {
		d.Earlier[i].Now.Standing, d.Earlier[i].Now.At = exam.Gone, at
	}
	w.do(exam.Finish{Tables: w.tables, Draft: d, At: w.now()})
}

// swab is a sample of today with its answer three days on.
func (w *world) swab(material knowledge.MaterialID, of ...knowledge.AgentID) {
	w.t.Helper()
	w.do(samples.Prepare{Tables: w.tables, Each: []samples.New{{Animals: []model.AnimalID{w.animal}, Sample: samples.Sample{Material: material, For: of, Taken: w.now()}}}})
}

// Who else comes into the room makes the days of all in it begin again; who moves
// about in it, comes into another room or came before does not. Source: seen,
// zoo-association quarantine page and its 2007 standards.
func TestWhoComesIntoTheRoom(t *testing.T) {
	w := begin(t)
	old := w.came("Elm", w.tubs[0][1]) // on the same day
	resident := w.came("Ash", w.tubs[1][0])
	if l := w.line(quarantine.InRoom); l.Again != 0 || l.Earliest != w.arrived+90 {
		t.Fatalf("together: %+v", l)
	}
	w.on(20)
	w.do(husbandry.Move{Animal: old, Place: w.tubs[0][2], At: w.now()})
	w.came("Oak", w.tubs[1][1])
	if l := w.line(quarantine.InRoom); l.Again != 0 {
		t.Errorf("within the room, and into another: %+v", l)
	}
	w.on(30)
	w.came("Nettle", w.tubs[0][1])
	l := w.line(quarantine.InRoom)
	if l.Again != w.arrived+30 || l.Earliest != w.arrived+120 || len(l.Reasons) != 1 || l.Reasons[0].Gaps["Name"].Text != "Nettle" {
		t.Errorf("a newcomer: %+v", l)
	}
	w.on(40)
	w.do(husbandry.Move{Animal: resident, Place: w.tubs[0][3], At: w.now()})
	if l := w.line(quarantine.InRoom); l.Again != w.arrived+40 {
		t.Errorf("one of the house: %+v", l)
	}
	w.on(45)
	w.do(animals.Add{Animal: animals.Animal{Name: "Bred", Hatched: model.Date{Day: w.now().Day(), Precision: model.ToDay}, Since: model.Date{Day: w.now().Day(), Precision: model.ToDay}}})
	w.on(50)
	w.do(husbandry.Move{Animal: w.animal, Place: w.tubs[1][3], At: w.now()})
	if l := w.line(quarantine.InRoom); l.Again != w.arrived+50 || l.Reasons[0].Key != "quarantine.why.moved-to-others" {
		t.Errorf("it came to others: %+v", l)
	}
	if n := w.of(w.animal); n.Room != w.rooms[1] || n.RoomTitle != "Loft" || n.Day != 50 {
		t.Errorf("it lives in %q on day %d", n.RoomTitle, n.Day)
	}
}

// The watch counts from the later of the first look, the last live mite in the room and
// the last day on which a treatment acts; 42 days from mites on: computed from values
// of Wozniak and DeNardo 2000 (memory).
func TestTheWatchForMites(t *testing.T) {
	w := begin(t)
	mate, far := w.came("Elm", w.tubs[0][1]), w.came("Ash", w.tubs[1][0])
	if l := w.line(quarantine.MiteFree); l.State.Met() || l.Earliest != w.arrived+42 || l.Reasons[0].Key != "quarantine.why.mites-no-look" {
		t.Fatalf("nobody has looked: %+v", l)
	}
	w.on(2)
	w.look(w.animal, care.NoMites)
	if m := w.of(w.animal).Facts.Mites; m.From != w.arrived+2 || m.Ends != w.arrived+44 || m.Days != 42 || m.Cool || m.Why != quarantine.FromLook || m.Next != w.arrived+9 {
		t.Errorf("the first look: %+v", m)
	}
	w.on(9)
	w.look(w.animal, care.NoMites)
	w.look(far, care.OneMite)
	if m := w.of(w.animal).Facts.Mites; m.From != w.arrived+2 {
		t.Errorf("mites in another room: %+v", m)
	}
	seen := w.look(mate, care.SeveralMites)
	n := w.of(w.animal)
	if m := n.Facts.Mites; m.From != w.arrived+9 || m.Why != quarantine.FromMites || m.Ends != w.arrived+51 || m.On[0].ID != seen {
		t.Errorf("mites in the room: %+v", m)
	}
	if len(n.Looks) != 3 || !n.Looks[2].Mate && !n.Looks[1].Mate {
		t.Errorf("the looks: %+v", n.Looks)
	}
	w.do(care.TreatMites{About: w.about(mate), MiteTreatment: care.MiteTreatment{What: "as the practice said", Until: model.Date{Day: w.now().Day() + 21, Precision: model.ToDay}}})
	if m := w.of(w.animal).Facts.Mites; m.From != w.arrived+30 || m.Why != quarantine.FromTreatment || m.Ends != w.arrived+72 {
		t.Errorf("a treatment that acts: %+v", m)
	}
	for d := 15; d < 72; d += 8 {
		w.on(d)
		w.look(w.animal, care.NoMites)
	}
	if l := w.line(quarantine.MiteFree); l.State.Met() {
		t.Errorf("a day too soon: %+v", l)
	}
	w.on(75)
	w.look(w.animal, care.MiteSpeck)
	if l := w.line(quarantine.MiteFree); l.State.Met() || l.Earliest != w.arrived+78 {
		t.Errorf("a speck: %+v", l)
	}
	w.on(78)
	end := w.look(w.animal, care.NoMites)
	if l := w.line(quarantine.MiteFree); !l.State.Met() || l.Since != w.arrived+78 || !slices.Contains(l.On, end) {
		t.Errorf("the end: %+v", l)
	}
	w.on(100)
	if l := w.line(quarantine.MiteFree); !l.State.Met() || l.Since != w.arrived+78 {
		t.Errorf("later on: %+v", l)
	}
}

// Looks that are more than ten days apart make the watch begin again; where it is cool
// it lasts 77 days, computed from an unfed female of 40 days.
func TestAGapAndTheCool(t *testing.T) {
	w := begin(t)
	w.look(w.animal, care.NoMites)
	w.on(11)
	w.look(w.animal, care.NoMites)
	if m := w.of(w.animal).Facts.Mites; m.From != w.arrived+11 || m.Why != quarantine.FromGap {
		t.Errorf("after eleven days: %+v", m)
	}
	var places []husbandry.StoredPlace
	if err := w.c.View(func(v model.View) error {
		h, err := husbandry.ReadHouse(v)
		places = h.Places()
		return err
	}); err != nil {
		t.Fatal(err)
	}
	for _, p := range places {
		if p.ID == w.tubs[0][0] {
			p.Zones.Cool = model.Temperature{Hundredths: 2200, Typed: "22"}
			w.do(husbandry.ChangePlace{ID: p.ID, Base: p.Revision, Place: p.Place})
		}
	}
	if m := w.of(w.animal).Facts.Mites; m.Days != 77 || !m.Cool || m.Ends != w.arrived+88 {
		t.Errorf("where it is cool: %+v", m)
	}
}

// The whole way: what was done on arrival, samples with one of them lost, a check that
// left the mouth closed, a regurgitated meal, and the release with a reason.
func TestTheWholeWay(t *testing.T) {
	w := begin(t)
	for _, a := range w.of(w.animal).Arrival {
		if a.Done || a.By < a.From {
			t.Errorf("%s is done before anything is", a.Kind)
		}
	}
	weigh := func(grams int64, gut care.Gut) {
		w.do(care.Weigh{About: w.about(w.animal), Weight: care.Weight{Mass: model.Grams(grams), Gut: gut}, Again: model.Grams(grams)})
	}
	weigh(1200, care.GutEmpty)
	w.check(exam.NotLooked)
	if l := w.line(quarantine.FullCheck); l.State.Met() || l.Reasons[0].Key != "quarantine.why.check-part" || l.Reasons[0].Gaps["Count"].Number != 1 {
		t.Errorf("the mouth was not opened: %+v", l)
	}
	w.check(exam.LeftToVet)
	if l := w.line(quarantine.FullCheck); !l.State.Met() {
		t.Errorf("the mouth was left to the vet: %+v", l)
	}
	for _, pose := range w.tables.Poses() {
		w.do(care.AddPhoto{About: w.about(w.animal), Photo: care.Photo{Photos: []model.PhotoID{"0a"}, Pose: pose.ID}})
	}
	w.look(w.animal, care.NoMites)
	w.on(4)
	w.swab("choanal-swab", "serpentovirus", "ferlavirus")
	for _, a := range w.of(w.animal).Arrival {
		if !a.Done || a.Have != a.Want || len(a.On) == 0 || len(a.Poses) > 0 {
			t.Errorf("%s: %+v", a.Kind, a)
		}
	}
	if l := w.line(quarantine.NoneAway); l.State.Met() {
		t.Errorf("a sample is at the lab: %+v", l)
	}
	var sent samples.Stored
	if err := w.c.View(func(v model.View) error {
		all, err := samples.All(v)
		sent = all[0]
		return err
	}); err != nil {
		t.Fatal(err)
	}
	w.on(8)
	w.do(samples.Enter{Tables: w.tables, At: w.now(), Number: "R 1", Rows: []samples.Row{{On: samples.On{ID: sent.ID, Base: sent.Revision},
		Found: []samples.Found{{Of: "serpentovirus", Outcome: samples.NotDetected}, {Of: "ferlavirus", Outcome: samples.Inhibited}}}}})
	for _, l := range w.of(w.animal).Gate.Lines {
		if l.Item == quarantine.LookedFor && l.Have != map[knowledge.AgentID]int{"serpentovirus": 1}[l.Agents[0]] {
			t.Errorf("%v: %d of %d", l.Agents, l.Have, l.Want)
		}
	}
	w.on(12)
	w.do(care.Feed{About: w.about(w.animal), Meal: care.Meal{Prey: care.Rat, Outcome: care.Took}})
	w.do(care.RecordShed{About: w.about(w.animal), Shed: care.Shed{Skin: care.Whole}})
	w.on(15)
	if l := w.line(quarantine.Meals); l.Have != 1 || l.State.Met() {
		t.Errorf("a meal: %+v", l)
	}
	if l := w.line(quarantine.WholeShed); !l.State.Met() || l.Since != w.arrived+12 {
		t.Errorf("a shed: %+v", l)
	}
	w.check(exam.Seen, exam.Finding{Standing: exam.New, Stop: "skin", What: "sore", Grade: exam.Slight, Rough: true})
	if l := w.line(quarantine.NothingUp); l.State.Met() || len(l.On) == 0 {
		t.Errorf("a sore: %+v", l)
	}
	release := newcomers.Release{Tables: w.tables, ID: w.kept, Base: 1, At: w.now()}
	refused := func(reason string) {
		t.Helper()
		_, err := w.c.Do(release)
		if r := (*model.Refusal)(nil); !errors.As(err, &r) || r.Reason != reason {
			t.Errorf("%v, want %s", err, reason)
		}
	}
	refused("quarantine.unmet")
	release.Confirmed = model.Confirmed{"quarantine.unmet"}
	refused("quarantine.why")
	release.Why = "goes back to the seller"
	release.At.UTC += 86400
	refused("day.future")
	release.At = w.now()
	w.do(release)
	n := w.of(w.animal)
	if n.Quarantine.Open() || n.Gate.Met || len(n.Gate.Unmet()) == 0 || n.Plan != nil || n.Quarantine.Released.Why != "goes back to the seller" || n.Quarantine.Released.Tables != w.tables.Hash() {
		t.Errorf("released: %+v", n.Quarantine)
	}
	said := n.Gate
	w.on(40)
	w.do(care.RecordShed{About: w.about(w.animal), Shed: care.Shed{Skin: care.InPieces}})
	if again := w.of(w.animal); again.Gate.Earliest != said.Earliest || len(again.Gate.Lines) != len(said.Lines) || again.Day != 15 {
		t.Error("what was said then is told otherwise later")
	}
	refused("quarantine.ended")
	if err := w.c.View(func(v model.View) error {
		all, err := newcomers.All(v, w.tables)
		if len(all) != 0 {
			t.Errorf("%d are in quarantine", len(all))
		}
		return err
	}); err != nil {
		t.Fatal(err)
	}
	w.do(quarantine.Begin{Tables: w.tables, Animal: w.animal, Arrived: w.now(), Protocol: "short"})
	if n := w.of(w.animal); !n.Quarantine.Open() || n.Day != 0 || n.Gate.Protocol.Days != 30 {
		t.Errorf("it came again: %+v", n.Quarantine)
	}
}

// A quarantine is offered to one that came from elsewhere of late and was in none.
func TestWhoIsOfferedAQuarantine(t *testing.T) {
	w := begin(t)
	add := func(name string, hatched, since int, status animals.Status) model.AnimalID {
		date := func(ago int) (d model.Date) {
			if ago >= 0 {
				d = model.Date{Day: w.now().Day() - model.Day(ago), Precision: model.ToDay}
			}
			return d
		}
		return model.AnimalID{ID: w.do(animals.Add{Animal: animals.Animal{Name: name, Hatched: date(hatched), Since: date(since), Status: status}})[0]}
	}
	for id, want := range map[model.AnimalID]bool{w.animal: false, add("Of late", -1, 3, animals.Kept): true, add("Of ninety days", -1, 90, animals.Kept): true, add("Long here", -1, 91, animals.Kept): false,
		add("Bred", 3, 3, animals.Kept): false, add("Nobody knows", -1, -1, animals.Kept): false} {
		if err := w.c.View(func(v model.View) error {
			b, offered, err := newcomers.Propose(v, w.tables, id)
			a, _ := animals.Find(v, id)
			if offered != want || offered && (b.Protocol != "python" || b.Arrived.Day() != a.Since.Day) {
				t.Errorf("%s: offered %v: %+v", a.Name, offered, b)
			}
			return err
		}); err != nil {
			t.Error(err)
		}
	}
}
