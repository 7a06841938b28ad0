package demo

import (
	"fmt"
	"time"

	"coilward/model"
	"coilward/model/knowledge"
	"coilward/model/samples"
)

// tube is one sample of the story. Its days are days ago; 0: not yet.
type tube struct {
	of       []string
	kit      string
	material knowledge.MaterialID
	byVet    bool
	found    []finding
	prepared int // only where it is still to be taken
	taken    int
	posted   int // or later, where it would lie in the post over a weekend
	arrived  int // so much after it was posted
	reported int
	lost     int
}

// finding is what a tube was looked through for, and what the lab said of it;
// nothing: it has not answered.
type finding struct {
	of      knowledge.AgentID
	outcome samples.Outcome
}

// What samples of the story are looked through for.
const (
	serpento knowledge.AgentID = "serpentovirus"
	ferla    knowledge.AgentID = "ferlavirus"
	crypto   knowledge.AgentID = "cryptosporidium-serpentis"
	worms    knowledge.AgentID = "worms-and-protozoa"
)

// tubes are the samples of the lock house: each newcomer's, a yearly pool of the
// residents, one that the post lost, one in which something was detected, and those
// that are on their way.
func tubes() []tube {
	mouth, glottis, faeces := knowledge.MaterialID("choanal-swab"), knowledge.MaterialID("oral-swab"), knowledge.MaterialID("faeces")
	none := func(of ...knowledge.AgentID) (all []finding) {
		for _, a := range of {
			all = append(all, finding{a, samples.NotDetected})
		}
		return all
	}
	asked := func(of ...knowledge.AgentID) (all []finding) {
		for _, a := range of {
			all = append(all, finding{of: a})
		}
		return all
	}
	return []tube{
		{of: []string{"Heron"}, kit: "W-04", material: mouth, byVet: true, found: []finding{{serpento, samples.Inconclusive}}, taken: 694, posted: 693, arrived: 691, reported: 683},
		{of: []string{"Heron"}, kit: "W-05", material: faeces, found: none(worms, crypto), taken: 688, posted: 687, arrived: 685, reported: 676},
		{of: []string{"Heron"}, kit: "W-06", material: glottis, byVet: true, found: none(serpento, ferla), taken: 676, posted: 675, arrived: 672, reported: 664},
		{of: []string{"Heron"}, kit: "W-07", material: mouth, byVet: true, found: none(serpento), taken: 632, posted: 631, arrived: 629, reported: 620},
		{of: []string{"Linnet"}, kit: "W-11", material: glottis, byVet: true, found: none(serpento, ferla), taken: 534, posted: 533, arrived: 530, reported: 521},
		{of: []string{"Linnet"}, kit: "W-12", material: faeces, found: none(worms, crypto), taken: 528, posted: 527, arrived: 524, reported: 515},
		{of: []string{"Linnet"}, kit: "W-13", material: faeces, found: none(worms, crypto), taken: 488, posted: 487, arrived: 484, reported: 475},
		{of: []string{"Linnet"}, kit: "W-14", material: glottis, byVet: true, found: none(serpento, ferla), taken: 447, posted: 446, arrived: 443, reported: 434},
		{of: []string{"Linnet"}, kit: "W-15", material: faeces, found: none(worms, crypto), taken: 446, posted: 445, arrived: 442, reported: 433},
		{of: []string{"Kestrel", "Juniper", "Mallow"}, kit: "W-21", material: mouth, byVet: true, found: none(serpento), taken: 318, posted: 317, arrived: 314, reported: 306},
		{of: []string{"Bramble", "Teasel", "Thistle"}, kit: "W-22", material: mouth, byVet: true, found: none(serpento), taken: 318, posted: 317, arrived: 314, reported: 306},
		{of: []string{"Thistle"}, kit: "W-27", material: mouth, byVet: true, found: none(serpento), taken: 128, posted: 127, arrived: 124, reported: 116},
		{of: []string{"Sorrel"}, kit: "W-31", material: faeces, found: []finding{{worms, samples.NotDetected}, {crypto, samples.Inhibited}}, taken: 62, posted: 61, arrived: 58, reported: 49},
		{of: []string{"Sorrel"}, kit: "W-32", material: faeces, found: none(crypto), taken: 41, posted: 40, arrived: 37, reported: 28},
		{of: []string{"Plover"}, kit: "W-35", material: glottis, byVet: true, found: []finding{{serpento, samples.NotDetected}, {ferla, samples.Inconclusive}}, taken: 19, posted: 18, arrived: 16, reported: 8},
		{of: []string{"Plover"}, kit: "W-36", material: faeces, found: asked(worms, crypto), taken: 18, posted: 17, lost: 9},
		{of: []string{"Juniper"}, kit: "W-37", material: mouth, byVet: true, found: asked(serpento), taken: 34, posted: 33, arrived: 30},
		{of: []string{"Yarrow"}, kit: "V-01", material: glottis, byVet: true, found: none(serpento, ferla), taken: 68, posted: 67, arrived: 65, reported: 57},
		{of: []string{"Yarrow"}, kit: "V-02", material: faeces, found: none(worms), taken: 60, posted: 59, arrived: 56, reported: 48},
		{of: []string{"Yarrow"}, kit: "V-03", material: faeces, found: none(worms), taken: 44, posted: 43, arrived: 40, reported: 32},
		{of: []string{"Wigeon"}, kit: "V-04", material: glottis, byVet: true, found: none(serpento, ferla), taken: 28, posted: 27, arrived: 24, reported: 15},
		{of: []string{"Wigeon"}, kit: "V-05", material: faeces, found: none(worms), taken: 26, posted: 25, arrived: 22, reported: 13},
		{of: []string{"Yarrow"}, kit: "V-06", material: faeces, found: none(worms), taken: 26, posted: 25, arrived: 22, reported: 13},
		{of: []string{"Yarrow"}, kit: detectedIn, material: glottis, byVet: true, found: []finding{{serpento, samples.NotDetected}, {ferla, samples.Detected}}, taken: 24, posted: 23, arrived: 20, reported: detectedOn},
		{of: []string{"Wigeon"}, kit: "V-08", material: faeces, found: asked(worms), taken: 10, posted: 9, arrived: 6},
		{of: []string{"Plover"}, kit: "W-38", material: faeces, found: asked(worms, crypto), taken: 9, posted: 8, arrived: 5},
		{of: []string{"Teasel"}, kit: "W-39", material: faeces, found: asked(worms, crypto), taken: 1},
		{of: []string{"Bramble"}, kit: "W-40", material: mouth, found: asked(serpento), prepared: 2},
		{of: []string{"Heron"}, kit: "W-41", material: mouth, found: asked(serpento), prepared: 2},
	}
}

// test brings in the samples, each with all that is known of it by now.
func (s *scenario) test() error {
	for _, t := range tubes() {
		if err := s.sample(t); err != nil {
			return fmt.Errorf("sample %s: %w", t.kit, err)
		}
	}
	return nil
}

func (s *scenario) sample(t tube) error {
	expires := s.day(max(t.prepared, t.taken) - 300)
	one := samples.Sample{Material: t.material, Kit: samples.Kit{Number: t.kit, Lot: "7A", Expires: model.Date{Day: expires, Precision: model.ToDay}}}
	var of []model.AnimalID
	for _, name := range t.of {
		id, err := s.find(name)
		if err != nil {
			return err
		}
		of = append(of, id)
	}
	for _, f := range t.found {
		one.For = append(one.For, f.of)
	}
	if t.taken > 0 {
		one.Taken, one.TakenBy = s.at(t.taken, 18, 20), s.people[keeper]
		one.Storage = s.say("demo.kit.fridge")
		if t.byVet {
			one.TakenBy = s.people[vet]
		}
	}
	arrived := 0
	if t.posted > 0 {
		posted := s.parcelDay(t.posted)
		arrived = posted - (t.posted - t.arrived)
		one.Posted, one.Courier, one.Tracking = s.at(posted, 9, 10), s.say("demo.kit.courier"), fmt.Sprintf("%s-%04d", t.kit, 7*t.posted%10_000)
		one.Lab = s.people[lab]
	}
	if t.arrived > 0 {
		one.Arrived = s.at(arrived, 0, 0)
		one.Arrived.Precision = model.ToDay
	}
	if err := s.do(samples.Prepare{Tables: s.tables, Each: []samples.New{{Animals: of, Sample: one}}, By: s.people[keeper]}); err != nil {
		return err
	}
	return s.answer(t)
}

// answer enters what the lab said, or that the sample was lost.
func (s *scenario) answer(t tube) error {
	id, err := s.tubeOf(t.kit)
	if err != nil {
		return err
	}
	if t.lost > 0 {
		lost := s.at(t.lost, 0, 0)
		lost.Precision = model.ToDay
		return s.do(samples.GiveUp{Tables: s.tables, ID: id, Base: 1, Void: samples.Void{At: lost, Why: samples.Lost, Note: s.say("demo.kit.lost")}})
	}
	if t.reported == 0 {
		return nil
	}
	on := s.at(t.reported, 0, 0)
	on.Precision = model.ToDay
	row := samples.Row{On: samples.On{ID: id, Base: 1}}
	for _, f := range t.found {
		row.Found = append(row.Found, samples.Found{Of: f.of, Outcome: f.outcome})
	}
	return s.do(samples.Enter{Tables: s.tables, At: on, Number: fmt.Sprintf("WS-%d", 4000-t.reported), Rows: []samples.Row{row}})
}

func (s *scenario) tubeOf(kit string) (model.SampleID, error) {
	all, err := samples.All(s.bench)
	for _, one := range all {
		if one.Kit.Number == kit {
			return one.ID, err
		}
	}
	return model.SampleID{}, fmt.Errorf("no sample has the kit %s: %w", kit, model.ErrNotFound)
}

// parcelDay is the first day from that one on from which a parcel is with the lab
// before a weekend.
func (s *scenario) parcelDay(daysAgo int) int {
	for {
		switch s.at(daysAgo, 9, 10).Time().Weekday() {
		case time.Monday, time.Tuesday, time.Wednesday:
			return daysAgo
		}
		daysAgo--
	}
}
