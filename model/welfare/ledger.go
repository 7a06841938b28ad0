package welfare

import (
	"coilward/model"
	"coilward/model/knowledge"
)

// Ledger is what handling came to in some days.
type Ledger struct {
	Times, Lifts    int
	Hand, Container int // minutes; a bag or tub is harder on a snake than the hand
	Care, Held      int // minutes of restraint: for health care, and for all else
	Came            int // times that it came by itself
	DrewBack        int // times on which it drew back
	Stopped         int // of those, on which it did so often enough to stop
	Long            int // times longer in the hand than the tables say
}

// Handled adds up the handlings of entries, from a day to another, both with. Source of
// keeping bag and tub apart: Kreger and Mench 1993, Appl Anim Behav Sci 38:323 (abstract).
func Handled(t *knowledge.Tables, entries []Entry, from, to model.Day) (l Ledger) {
	for _, e := range entries {
		h, is := e.Body.(Handling)
		if day := e.At.Day(); !is || day < from || day > to {
			continue
		}
		l.Times++
		l.Lifts += h.Lifts
		l.Hand += h.Hand
		l.Container += h.Container
		if why, _ := t.Restraint(h.Why); why.Care {
			l.Care += h.Restraint
		} else {
			l.Held += h.Restraint
		}
		if h.Came {
			l.Came++
		}
		if h.DrewBack > 0 {
			l.DrewBack++
		}
		if Stops(t, h) {
			l.Stopped++
		}
		if h.Hand > t.Value(knowledge.ValueHandMost) {
			l.Long++
		}
	}
	return l
}

// Stops reports whether an animal has drawn back so often that it is put back.
func Stops(t *knowledge.Tables, h Handling) bool {
	return h.DrewBack >= t.Value(knowledge.ValueDrewBack)
}

// Against is what speaks against lifting an animal today. Values are frozen; the text is
// "welfare.against." + value. Health care goes first all the same.
type Against string

// What speaks against it, in the order in which it is said.
const (
	AgainstVet       Against = "vet"        // something stands that is for the vet
	AgainstPositive  Against = "positive"   // something was detected in it, or near it, and is open
	AgainstBroughtUp Against = "brought-up" // prey was brought up not long ago
	AgainstFed       Against = "fed"        // it was fed not long ago
	AgainstBlue      Against = "blue"       // it is in blue
	AgainstNew       Against = "new"        // it has just come
	AgainstApart     Against = "quarantine" // it is in quarantine: hands and tools of its own
	AgainstTreated   Against = "treated"    // it is being treated
	AgainstGravid    Against = "gravid"
	AgainstDrewBack  Against = "drew-back" // it drew back today, or the last time yesterday
	AgainstOften     Against = "often"     // it was lifted so often in seven days
)

// Rest is what of the records an answer rests on, whether an animal is better left alone.
type Rest struct {
	ForVet, Positive, Apart, Treated, Gravid bool
	// FedUntil is the moment until which it rests after a meal; BroughtUp the day until which
	// it does after prey that came up; zero where it does not.
	FedUntil  model.Moment
	BroughtUp model.Day
	Blue      model.Day // on which it was last seen in blue, without a shed since; 0: it was not
	Came      model.Day // of its arrival; 0: not known
}

// Better tells what speaks against lifting the animal today. None is that nothing in the
// records does: the animal itself has the last word.
func Better(t *knowledge.Tables, r Rest, entries []Entry, now model.Moment) (all []Against) {
	today := now.Day()
	settle, blue := model.Day(t.Value(knowledge.ValueSettle)), model.Day(t.Value(knowledge.ValueBlueCycle))
	week := Handled(t, entries, today-6, today)
	drew := Handled(t, entries, today-1, today)
	for _, c := range []struct {
		holds bool
		is    Against
	}{
		{r.ForVet, AgainstVet}, {r.Positive, AgainstPositive}, {r.BroughtUp > today, AgainstBroughtUp}, {now.Before(r.FedUntil), AgainstFed},
		{r.Blue > 0 && r.Blue <= today && today-r.Blue < blue, AgainstBlue}, {r.Came > 0 && r.Came <= today && today-r.Came < settle, AgainstNew},
		{r.Apart, AgainstApart}, {r.Treated, AgainstTreated}, {r.Gravid, AgainstGravid},
		{drew.Stopped > 0, AgainstDrewBack}, {week.Lifts >= t.Value(knowledge.ValueLiftsWeek), AgainstOften},
	} {
		if c.holds {
			all = append(all, c.is)
		}
	}
	return all
}
