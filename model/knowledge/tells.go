package knowledge

import "slices"

// Tell is what one thing noted in an entry of everyday care stands for.
type Tell struct {
	Entry   TellEntry
	Noted   string // as the entry keeps it
	Finding FindingID
	Stop    StopID // where the finding is looked for
	Grade   int    // how bad it counts, 1 to 3
	// Ends is how many later entries that saw the same without it end the finding;
	// 0: only what another entry of its kind can say.
	Ends   int
	Source string
}

// TellEntry is the kind of entry, or the part of it, that tells. Values are
// frozen.
type TellEntry string

// What tells.
const (
	TellMeal   TellEntry = "meal"
	TellShed   TellEntry = "shed"
	TellFaeces TellEntry = "faeces"
	TellUrates TellEntry = "urates"
	TellMites  TellEntry = "mites"
)

// Tells are all rows, in the order of their table.
func (t *Tables) Tells() []Tell { return t.tells }

// Tell is what a thing noted stands for, where it stands for anything.
func (t *Tables) Tell(entry TellEntry, noted string) (Tell, bool) {
	for _, tell := range t.tells {
		if tell.Entry == entry && tell.Noted == noted {
			return tell, true
		}
	}
	return Tell{}, false
}

func (l *loading) tell(r row) {
	tell := Tell{Entry: TellEntry(r.cell("entry")), Noted: r.cell("noted"), Finding: FindingID(r.cell("finding")), Stop: StopID(r.cell("stop")),
		Grade: l.grade(r), Source: r.cell("source")}
	if tell.Source == "" {
		l.fault(r, "source", "every row names its source")
	}
	switch tell.Entry {
	case TellMeal, TellShed, TellFaeces, TellUrates, TellMites:
	default:
		l.fault(r, "entry", "want meal, shed, faeces, urates or mites")
	}
	if _, taken := l.t.Tell(tell.Entry, tell.Noted); taken || tell.Noted == "" {
		l.fault(r, "noted", "want what an entry notes, each once")
	}
	if r.cell("ends") != "-" {
		tell.Ends = l.number(r, "ends", 1, 9)
	}
	l.t.tells = append(l.t.tells, tell)
	l.telling = append(l.telling, r)
}

// told makes sure that what entries tell can be found at its stop.
func (l *loading) told() {
	for i, tell := range l.t.tells {
		if s := l.stopOf(tell.Stop); s == nil {
			l.fault(l.telling[i], "stop", "no row of stops.txt has this id")
		} else if !slices.Contains(s.Choices, tell.Finding) {
			l.fault(l.telling[i], "finding", "this stop has no such choice")
		}
	}
}
