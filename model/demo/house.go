package demo

import (
	"fmt"
	"slices"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
)

// house is the lock house as it is laid out, by the names of its places.
type house struct {
	rooms map[string]model.PlaceID // by key of the name
	boxes []model.PlaceID          // of the rack, in order
	hooks map[string]model.ToolID  // by key of the room's name
	scale map[bool]model.InstrumentID
}

// The keys of the places that stand alone.
const (
	lockRoom  = "demo.place.lock-room"
	netStore  = "demo.place.net-store"
	boathouse = "demo.place.boathouse"
	rack      = "demo.place.rack"
	tall      = "demo.place.tall"
	corner    = "demo.place.corner"
	arrivals  = "demo.place.arrivals"
	sill      = "demo.place.sill"
	long      = "demo.place.long"
	guests    = "demo.place.guests"
	light     = 700 // grams: below it the small scale is used
	cleanEach = 28  // days between two full cleanings
	wipeEach  = 7   // days between two spot cleanings
)

// home is where an animal lived from a day on.
type home struct {
	ago   int
	place string // key of a place; empty: a box
	box   int    // from 1
}

// homes are where everyone lived, oldest first.
func homes() map[string][]home {
	return map[string][]home{
		"Bramble": {{1020, "", 1}, {610, tall, 0}},
		"Kestrel": {{1010, "", 2}},
		"Juniper": {{980, "", 3}, {212, "", 8}},
		"Mallow":  {{900, "", 4}},
		"Teasel":  {{860, "", 5}},
		"Thistle": {{880, "", 6}},
		"Heron":   {{700, arrivals, 0}, {639, "", 7}},
		"Sorrel":  {{620, corner, 0}},
		"Linnet":  {{540, arrivals, 0}, {424, "", 1}},
		"Plover":  {{23, arrivals, 0}},
		"Yarrow":  {{75, long, 0}},
		"Wigeon":  {{33, guests, 0}},
	}
}

func millimetres(n int64) model.Length {
	return model.Length{Tenths: n * 10, Typed: fmt.Sprintf("%d mm", n)}
}

func size(width, depth, height int64) husbandry.Size {
	return husbandry.Size{Width: millimetres(width), Depth: millimetres(depth), Height: millimetres(height)}
}

func degrees(n int64) model.Temperature {
	return model.Temperature{Hundredths: n * 100, Typed: fmt.Sprintf("%d °C", n)}
}

func zones(warm, cool int64) husbandry.Zones {
	return husbandry.Zones{Warm: degrees(warm), Cool: degrees(cool)}
}

// build lays the house out: three rooms, a rack that stood in the net store at
// first, and what is used in them.
func (s *scenario) build() error {
	s.house = house{rooms: map[string]model.PlaceID{}, hooks: map[string]model.ToolID{}, scale: map[bool]model.InstrumentID{}}
	place := func(key string, kind husbandry.PlaceKind, below ...husbandry.Branch) husbandry.Branch {
		return husbandry.Branch{Place: husbandry.Place{Name: s.say(key), Kind: kind}, Below: below}
	}
	enclosure := func(key, code string, kind husbandry.PlaceKind, inner husbandry.Size, ends husbandry.Zones) husbandry.Branch {
		return husbandry.Branch{Place: husbandry.Place{Name: s.say(key), Kind: kind, Code: code, Size: inner, Zones: ends}}
	}
	boxes, refused := husbandry.RackOf(husbandry.RackPlan{
		Rack:  husbandry.Place{Name: s.say(rack), Kind: husbandry.Rack, Zones: zones(32, 26)},
		Shelf: husbandry.Place{Name: s.say("demo.place.shelf"), Kind: husbandry.Shelf}, Shelves: 2,
		Box: husbandry.Place{Name: s.say("demo.place.box"), Kind: husbandry.Tub, Code: "B{count}", Size: size(800, 550, 300)}, Boxes: 4,
	})
	if refused != nil {
		return refused
	}
	err := s.do(husbandry.AddPlaces{Branches: []husbandry.Branch{
		place(lockRoom, husbandry.Room, enclosure(tall, "V1", husbandry.Vivarium, size(1200, 600, 600), zones(33, 25)),
			place(sill, husbandry.Shelf, enclosure(corner, "V2", husbandry.Vivarium, size(900, 450, 450), zones(32, 25)))),
		place(netStore, husbandry.Room, boxes, enclosure(arrivals, "A1", husbandry.Tub, size(600, 400, 250), zones(31, 26))),
		place(boathouse, husbandry.Room, enclosure(long, "V3", husbandry.Vivarium, size(1200, 600, 600), zones(32, 25)),
			enclosure(guests, "A2", husbandry.Tub, size(600, 400, 250), zones(31, 26))),
	}})
	if err != nil {
		return err
	}
	h, err := husbandry.ReadHouse(s.bench)
	if err != nil {
		return err
	}
	for _, p := range h.Places() {
		for _, key := range []string{lockRoom, netStore, boathouse, rack, tall, corner, arrivals, long, guests} {
			if p.Name == s.say(key) {
				s.house.rooms[key] = p.ID
			}
		}
		if p.Kind == husbandry.Tub && h.Room(p.ID) == s.house.rooms[netStore] && p.Name != s.say(arrivals) {
			s.house.boxes = append(s.house.boxes, p.ID)
		}
	}
	if err := s.do(husbandry.MovePlace{ID: s.house.rooms[rack], Parent: s.house.rooms[lockRoom], Before: s.house.rooms[tall]}); err != nil {
		return err
	}
	return s.equip()
}

// equip brings in a hook for each room, and the instruments with their checks:
// the last of the small scale has failed.
func (s *scenario) equip() error {
	for _, key := range []string{lockRoom, netStore, boathouse} {
		if err := s.do(husbandry.AddTool{Tool: husbandry.Tool{Name: s.say(key + ".hook"), Kind: husbandry.Hook, Place: s.house.rooms[key]}}); err != nil {
			return err
		}
		tools, err := husbandry.Tools(s.bench)
		if err != nil {
			return err
		}
		s.house.hooks[key] = tools[len(tools)-1].ID
	}
	for _, i := range []struct {
		key    string
		kind   husbandry.InstrumentKind
		inUse  int
		known  string
		checks map[int]string // reading by day ago; one that is off has failed
		failed int            // day of the check that failed
	}{
		{"demo.instrument.scale", husbandry.Scale, 1030, "1000 g", map[int]string{840: "1000 g", 480: "1001 g", 160: "1001 g", 24: "1000 g"}, 0},
		{"demo.instrument.small-scale", husbandry.Scale, 870, "200 g", map[int]string{600: "200 g", 300: "200 g", 38: "200 g", 2: "193 g"}, 2},
		{"demo.instrument.thermometer", husbandry.Thermometer, 700, "25 °C", map[int]string{400: s.words.Decimal(252, 1) + " °C", 60: s.words.Decimal(251, 1) + " °C"}, 0},
	} {
		in := model.Date{Day: s.day(i.inUse), Precision: model.ToDay}
		if err := s.do(husbandry.AddInstrument{Instrument: husbandry.Instrument{Name: s.say(i.key), Kind: i.kind, Place: s.house.rooms[lockRoom], InUse: in}}); err != nil {
			return err
		}
		all, err := husbandry.Instruments(s.bench)
		if err != nil {
			return err
		}
		id := all[len(all)-1].ID
		if i.kind == husbandry.Scale {
			s.house.scale[i.key == "demo.instrument.small-scale"] = id
		}
		var days []int
		for ago := range i.checks {
			days = append(days, ago)
		}
		slices.Sort(days)
		for _, ago := range slices.Backward(days) {
			check := husbandry.InstrumentCheck{Good: ago != i.failed, Reading: i.checks[ago], Reference: i.known}
			if err := s.do(husbandry.CheckInstrument{Instrument: id, At: s.at(ago, 18, 10), By: s.people[keeper], Check: check}); err != nil {
				return err
			}
		}
	}
	return nil
}

// place is where a home is.
func (s *scenario) place(h home) model.PlaceID {
	if h.place != "" {
		return s.house.rooms[h.place]
	}
	return s.house.boxes[h.box-1]
}

// settle lets an animal live where it lived.
func (s *scenario) settle(id model.AnimalID, name string) error {
	for _, h := range homes()[name] {
		if err := s.do(husbandry.Move{Animal: id, Place: s.place(h), At: s.at(h.ago, 11, 0), By: s.people[keeper]}); err != nil {
			return fmt.Errorf("%d days ago: %w", h.ago, err)
		}
	}
	return nil
}

// keepClean tells the cleanings of the last year, place by place: a full one every
// four weeks, staggered, and in the last two months a spot cleaning each week. One
// box was left for longer.
func (s *scenario) keepClean() error {
	h, err := husbandry.ReadHouse(s.bench)
	if err != nil {
		return err
	}
	n := 0
	for _, p := range h.Places() {
		if !p.Kind.Houses() || len(h.Living(p.ID, s.now)) == 0 {
			continue
		}
		n++
		skipped := 0
		if p.ID == s.house.boxes[3] {
			skipped = 2 * cleanEach
		}
		for ago := 364 - n; ago > 0; ago-- {
			if _, housed := s.livedIn(h, p.ID, ago); !housed {
				continue
			}
			switch {
			case ago%cleanEach == 2*n%cleanEach && ago > skipped:
				err = s.cleanFully(h, p.ID, ago)
			case ago < 60 && ago%wipeEach == n%wipeEach:
				err = s.do(husbandry.Clean{Tables: s.tables, Places: []model.PlaceID{p.ID}, At: s.at(ago, 8, 30), By: s.by(ago),
					Cleaning: husbandry.Cleaning{Extent: husbandry.Spot}})
			}
			if err != nil {
				return fmt.Errorf("%d days ago: %w", ago, err)
			}
		}
	}
	return nil
}

// cleanInVain is a cleaning with a means that does not work on what it was used
// against, and the next day one that does.
func (s *scenario) cleanInVain() error {
	for _, c := range []struct {
		ago     int
		means   knowledge.MeansID
		minutes int
		note    string
		sure    model.Confirmed
	}{{47, "ethanol-70", 10, s.say("demo.note.cleaning"), model.Confirmed{"clean.does-not"}}, {46, "hydrogen-peroxide-6", 15, "", nil}} {
		err := s.do(husbandry.Clean{Tables: s.tables, Places: []model.PlaceID{s.house.rooms[arrivals]}, Tools: []model.ToolID{s.house.hooks[netStore]}, At: s.at(c.ago, 17, 40), By: s.people[keeper], Confirmed: c.sure,
			Cleaning: husbandry.Cleaning{Extent: husbandry.Full, Uses: []husbandry.Use{{Means: "detergent", Minutes: 5}, {Means: c.means, Minutes: c.minutes}}, Against: []knowledge.TargetID{"cryptosporidium"}, Note: c.note}})
		if err != nil {
			return fmt.Errorf("%d days ago: %w", c.ago, err)
		}
	}
	return nil
}

func (s *scenario) livedIn(h *husbandry.House, place model.PlaceID, ago int) (model.AnimalID, bool) {
	living := h.Living(place, s.at(ago, 12, 0))
	if len(living) == 0 {
		return model.AnimalID{}, false
	}
	return living[0], true
}

// cleanFully is one full cleaning, with the hook of the room.
func (s *scenario) cleanFully(h *husbandry.House, place model.PlaceID, ago int) error {
	hook := s.house.hooks[lockRoom]
	for _, key := range []string{netStore, boathouse} {
		if h.Room(place) == s.house.rooms[key] {
			hook = s.house.hooks[key]
		}
	}
	return s.do(husbandry.Clean{Tables: s.tables, Places: []model.PlaceID{place}, Tools: []model.ToolID{hook}, At: s.at(ago, 10, 15), By: s.by(ago),
		Cleaning: husbandry.Cleaning{Extent: husbandry.Full, Uses: []husbandry.Use{{Means: "detergent", Minutes: 5}, {Means: "peroxymonosulfate-1", Minutes: 15}},
			Against: []knowledge.TargetID{"bacteria"}}})
}

// lookForMites tells the looks: everyone each month, those in quarantine each week,
// and the lock room each week since mites came in with the newest.
func (s *scenario) lookForMites() error {
	h, err := husbandry.ReadHouse(s.bench)
	if err != nil {
		return err
	}
	newest, err := s.find("Plover")
	if err != nil {
		return err
	}
	everywhere := []care.MiteWhere{care.WhitePaper, care.WaterBowl, care.OnAnimal}
	none := func(place string, where []care.MiteWhere, days ...int) error {
		for _, ago := range days {
			listed := h.Living(s.house.rooms[place], s.at(ago, 19, 45))
			if err := s.do(care.NoMitesSeen{Animals: listed, Where: where, At: s.at(ago, 19, 45), By: s.by(ago)}); err != nil {
				return fmt.Errorf("%s, %d days ago: %w", place, ago, err)
			}
		}
		return nil
	}
	if err := none(lockRoom, []care.MiteWhere{care.WaterBowl, care.OnAnimal}, 330, 300, 270, 240, 210, 180, 150, 121, 91, 61, 31, 21, 14, 8, 1); err != nil {
		return err
	}
	for _, w := range []struct {
		place       string
		first, last int
	}{{arrivals, 699, 643}, {arrivals, 538, 426}, {boathouse, 74, 4}} {
		for ago := w.first; ago >= w.last; ago -= 7 {
			if err := none(w.place, everywhere, ago); err != nil {
				return err
			}
		}
	}
	for _, look := range []struct {
		ago   int
		grade care.MiteGrade
		note  string
	}{{22, care.SeveralMites, s.say("demo.note.mites")}, {18, care.OneMite, ""}, {15, care.MiteSpeck, ""}, {11, care.NoMites, ""}, {7, care.NoMites, ""}, {1, care.NoMites, ""}} {
		seen := care.MiteLook{Grade: look.grade, Where: everywhere, Beside: care.Beside{Note: look.note}}
		if err := s.do(care.LookForMites{About: s.about(newest, look.ago, 19, 50), MiteLook: seen}); err != nil {
			return err
		}
	}
	return nil
}
