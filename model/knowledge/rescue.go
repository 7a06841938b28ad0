package knowledge

import (
	"slices"
	"strconv"
	"strings"
)

// RescueID names why an animal is brought to the warm before others. Values are frozen;
// the text is "rescue.why." + id.
type RescueID string

// The criteria, in no order: that is the table's.
const (
	RescueEmergency RescueID = "emergency" // something stands for which a vet should see it today
	RescueAirway    RescueID = "airway"    // signs of the airways stand
	RescueChilled   RescueID = "chilled"   // it was chilled in a power cut not long ago
	RescueVet       RescueID = "vet"       // something else is a matter for the vet, or it is under treatment
	RescueUnread    RescueID = "unread"    // its records cannot be read
	RescueHatchling RescueID = "hatchling" // by its age
	RescueSmall     RescueID = "small"     // by its mass
	RescueUnweighed RescueID = "unweighed" // of unknown mass
	RescueGravid    RescueID = "gravid"
	RescueFed       RescueID = "fed"  // digests a meal
	RescueRest      RescueID = "rest" // none of the others
)

var rescueIDs = []RescueID{RescueEmergency, RescueAirway, RescueChilled, RescueVet, RescueUnread, RescueHatchling, RescueSmall, RescueUnweighed, RescueGravid, RescueFed, RescueRest}

// Criterion is one reason with its source.
type Criterion struct {
	ID     RescueID
	Source string
}

// ColdLook is one day of the watch after a power cut, counted from the day of its end.
type ColdLook struct {
	ID     string
	Day    int
	Source string
}

// ColdAct is what is done in a power cut, or never done. The text is "rescue.act." + ID.
type ColdAct struct {
	ID     string
	Never  bool
	First  bool // it stands before everything else, as a caution
	Source string
}

// ValueColdRoom is in hundredths of a degree Celsius: nobody is left in a colder room in a
// power cut.
const ValueColdRoom ValueID = "cold-room"

// The warmth that is usual at the cool end of an enclosure, in hundredths of a degree Celsius.
const (
	ValueCoolLeast ValueID = "cool-end-least"
	ValueCoolMost  ValueID = "cool-end-most"
)

// cold are the tables of power cuts.
type cold struct {
	criteria []Criterion
	looks    []ColdLook
	acts     []ColdAct
}

// Rescue are the criteria in the order in which animals are brought to the warm.
func (t *Tables) Rescue() []Criterion { return t.cold.criteria }

// ColdLooks are the days of the watch after a power cut, soonest first.
func (t *Tables) ColdLooks() []ColdLook { return t.cold.looks }

// ColdActs are what is done and never done in a power cut.
func (t *Tables) ColdActs() []ColdAct { return t.cold.acts }

func (l *loading) criterionRow(r row) {
	taken := slices.ContainsFunc(l.t.cold.criteria, func(c Criterion) bool { return string(c.ID) == r.cells[0].text })
	c := Criterion{ID: RescueID(l.id(r, taken)), Source: r.cell("source")}
	if !slices.Contains(rescueIDs, c.ID) {
		names := make([]string, len(rescueIDs))
		for i, id := range rescueIDs {
			names[i] = string(id)
		}
		l.fault(r, "criterion", "want one of "+strings.Join(names, ", "))
	}
	if len(l.t.cold.criteria) > 0 && l.t.cold.criteria[len(l.t.cold.criteria)-1].ID == RescueRest {
		l.fault(r, "criterion", "the row of the rest is the last one")
	}
	l.t.cold.criteria = append(l.t.cold.criteria, c)
}

func (l *loading) coldLookRow(r row) {
	taken := slices.ContainsFunc(l.t.cold.looks, func(c ColdLook) bool { return c.ID == r.cells[0].text })
	look := ColdLook{ID: l.id(r, taken), Source: r.cell("source")}
	day, err := strconv.Atoi(r.cell("day"))
	if look.Day = day; err != nil || day < 1 || len(l.t.cold.looks) > 0 && day <= l.t.cold.looks[len(l.t.cold.looks)-1].Day {
		l.fault(r, "day", "want a whole number of days, above that of the row before")
	}
	l.t.cold.looks = append(l.t.cold.looks, look)
}

func (l *loading) coldActRow(r row) {
	taken := slices.ContainsFunc(l.t.cold.acts, func(c ColdAct) bool { return c.ID == r.cells[0].text })
	a := ColdAct{ID: l.id(r, taken), Never: r.cell("kind") == "never", Source: r.cell("source")}
	if !a.Never && r.cell("kind") != "do" {
		l.fault(r, "kind", "want do or never")
	}
	a.First = l.yes(r, "first")
	l.t.cold.acts = append(l.t.cold.acts, a)
}

// wholeCold wants every criterion to have its place in the order, and a watch to have a day.
func (l *loading) wholeCold() {
	for _, id := range rescueIDs {
		if !slices.ContainsFunc(l.t.cold.criteria, func(c Criterion) bool { return c.ID == id }) {
			l.faults = append(l.faults, &Fault{File: "rescue.txt", Row: string(id), Column: "criterion", Reason: "this criterion has no row"})
		}
	}
	if len(l.t.cold.looks) == 0 {
		l.faults = append(l.faults, &Fault{File: "coldlooks.txt", Reason: "want at least one day"})
	}
}
