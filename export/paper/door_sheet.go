package paper

import (
	"fmt"
	"slices"
	"strings"

	"coilward/model"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/people"
	"coilward/model/round"
)

// doorNights is for how many evenings a door sheet has a line.
const doorNights = 7

// DoorSheet is what hangs on the doors of the rooms for the night.
type DoorSheet struct {
	Issued model.Moment
	Rooms  []DoorRoom // in the order of a walk through the house
	house  round.House
	tables *knowledge.Tables
}

// DoorRoom is one room: its name, empty for boxes that stand in none, and its boxes in the
// order of a round.
type DoorRoom struct {
	Name    string
	Stops   []round.Stop
	Animals int
}

// GatherDoorSheet reads who is behind each door; in is the place whose rooms are asked for,
// zero for the whole house.
func GatherDoorSheet(v model.View, t *knowledge.Tables, in model.PlaceID) (DoorSheet, error) {
	s := DoorSheet{Issued: v.Now(), tables: t}
	places, err := husbandry.ReadHouse(v)
	if err != nil {
		return s, fmt.Errorf("gather the sheets for the doors: %w", err)
	}
	if s.house, err = round.ReadHouse(v, t); err != nil {
		return s, fmt.Errorf("gather the sheets for the doors: %w", err)
	}
	at := map[model.PlaceID]int{}
	for _, stop := range round.Stops(t, s.house.Dwellers) {
		if !in.IsZero() && !slices.ContainsFunc(places.Path(stop.Place), func(outer husbandry.StoredPlace) bool { return outer.ID == in }) {
			continue
		}
		i, known := at[stop.Room]
		if !known {
			i = len(s.Rooms)
			at[stop.Room] = i
			name := ""
			if !stop.Room.IsZero() {
				name = places.Title(stop.Room)
			}
			s.Rooms = append(s.Rooms, DoorRoom{Name: name})
		}
		s.Rooms[i].Stops = append(s.Rooms[i].Stops, stop)
		s.Rooms[i].Animals += len(stop.Animals)
	}
	return s, nil
}

// DoorSheetPaper is the paper that hangs outside on the door of each room for the night:
// whom to call, who is behind the door, what is done and never done when something is
// wrong, and a line for each evening on which all was seen and shut.
func DoorSheetPaper(s DoorSheet, called []people.Stored, text Text, size Size) Document {
	say := text.Say
	d := Document{Title: say("paper.door.kicker"), Subject: say("paper.record.issued", gaps{"Day": s.Issued.Day()}), Language: text.Language(), Size: size,
		FootLeft: say("paper.door.kicker"), FootMiddle: say("paper.power-cut.foot", gaps{"Day": s.Issued.Day()}),
		PageOf: func(page, total int) string { return say("paper.page-of", gaps{"Page": page, "Total": total}) }}
	for _, room := range s.Rooms {
		name := say("paper.door.no-room")
		if room.Name != "" {
			name = cut(Clean(room.Name), longestTitle)
		}
		blocks := []Block{
			Paragraph{say("paper.door.kicker"), smallBold.In(Accent)}, Paragraph{name, nameStyle},
			Paragraph{text.Count("paper.door.animals", room.Animals, gaps{"Boxes": text.Count("paper.door.boxes", len(room.Stops))}), sayStyle},
		}
		for _, unread := range s.house.Unread {
			blocks = append(blocks, Paragraph{say("due.page.unread", gaps{"Name": cut(Clean(unread), longestTitle)}), textStyle})
		}
		blocks = append(blocks,
			Heading{Level: 2, Text: say("paper.sitter.call")},
			Columns{Shares: []float64{1, 1}, Gap: 8, Parts: halves(calls(text, called))},
			Columns{Shares: []float64{1, 1}, Gap: 8, Parts: [][]Block{
				{Heading{Level: 2, Text: say("paper.door.wrong")}, List{Ring, strings.Split(say("paper.door.wrong-text"), "\n"), textStyle}},
				{Heading{Level: 2, Text: say("paper.sitter.not")}, List{Triangle, strings.Split(say("paper.door.not-text"), "\n"), textStyle}},
			}},
			Paragraph{say("paper.door.caution") + " " + text.Source("common practice, no source"), smallStyle},
			Heading{Level: 2, Text: say("paper.door.behind")}, s.behind(room, text),
			Keep{Heading{Level: 2, Text: say("paper.door.evenings"), Aside: say("paper.door.evenings-aside")}, s.evenings(room, text)})
		d.Sections = append(d.Sections, Section{Name: name, Fit: true, Blocks: blocks})
	}
	if len(d.Sections) == 0 {
		d.Sections = []Section{{Name: say("paper.door.kicker"), Blocks: []Block{Paragraph{say("paper.door.kicker"), titleStyle}, Paragraph{say("paper.power-cut.nobody"), textStyle}}}}
	}
	return d.tellingMissing(text)
}

// behind are the boxes of a room with who lives in them and as what they count.
func (s DoorSheet) behind(room DoorRoom, text Text) Table {
	say := text.Say
	t := Table{Columns: []Column{{Title: say("paper.weigh-sheet.box"), Share: 2.4, Style: smallInk}, {Title: say("paper.sitter.whom"), Share: 3, Style: smallInk}, {Title: say("paper.sitter.heed"), Share: 3, Style: smallInk}}}
	for _, stop := range room.Stops {
		box := say("shelf.loose")
		if title, known := s.house.Boxes[stop.Place]; known {
			box = strings.TrimPrefix(cut(Clean(title), longestFact), Clean(room.Name)+", ")
		}
		var names []string
		for _, a := range stop.Animals {
			names = append(names, Strong(cut(Clean(s.house.Names[a]), longestTitle)))
		}
		heed := ""
		if slices.ContainsFunc(stop.Classes, func(c round.Class) bool { return c >= round.NearPositive }) {
			heed = say("paper.door.shut")
		}
		t.Rows = append(t.Rows, []Cell{{Text: box}, {Text: strings.Join(names, ", ")}, {Text: heed}})
	}
	return t
}

// evenings are the lines that are ticked before the light goes out.
func (s DoorSheet) evenings(room DoorRoom, text Text) Table {
	say := text.Say
	tick := func(key string, width float64) Column {
		return Column{Title: say(key), Fixed: width, Align: AlignCentre, Style: smallInk}
	}
	t := Table{Columns: []Column{{Title: say("paper.table.day"), Share: 1.5, Style: eveningStyle}, tick("paper.door.seen", 22), tick("paper.door.locked", 22), tick("paper.door.heat", 22), tick("paper.door.water", 18), {Title: say("paper.door.who"), Share: 2}}}
	for i := range doorNights {
		box := Cell{Draw: toTick, Words: "[ ]"}
		t.Rows = append(t.Rows, []Cell{{Text: text.DayOfYear(s.Issued.Day() + model.Day(i))}, {Draw: counted(say("paper.door.of", gaps{"Count": room.Animals})), Words: "[ ] " + say("paper.door.of", gaps{"Count": room.Animals})}, box, box, box, {Draw: toWrite, Words: "____"}})
	}
	return t
}

// eveningStyle has room to write beside it.
var eveningStyle = Style{Sans, 7.4, 5.4, Ink}

// counted is a line for a number, with of how many.
func counted(of string) Draw {
	return func(c Canvas, b Box) {
		toWrite(c, Box{b.X0 + 2, b.Y0, b.X0 + 10, b.Y1})
		put(c, b.X0+11, b.Y1-1.4, AlignLeft, smallStyle, of)
	}
}
