package round

import (
	"slices"
	"strconv"
	"strings"

	"coilward/model"
	"coilward/model/knowledge"
)

// Sheet is a printed sheet for a round, as it is typed in: its boxes in their order.
type Sheet struct {
	Order knowledge.RoundOrder
	Part  Part
	House House
	// Alike is that the boxes stand in the order in which they were printed; else the house
	// has changed since, and it is gone by the names.
	Alike bool
}

// ReadSheet finds the sheet among those of all orders: that whose boxes are in the printed
// order, as matches tells. Where there is none it is the first one of the order that was
// chosen last. A house without an animal is refused ("round.nobody").
func ReadSheet(v model.View, t *knowledge.Tables, matches func([]Stop) bool) (Sheet, error) {
	last, err := Last(v, 1)
	if err != nil {
		return Sheet{}, err
	}
	house, err := ReadHouse(v, t)
	if err != nil {
		return Sheet{}, err
	}
	stops := Stops(t, house.Dwellers)
	chosen := Chosen(t, last)
	for _, o := range append([]knowledge.RoundOrder{chosen}, t.Rounds()...) {
		for _, part := range Parts(o, stops) {
			if matches(part.Stops) {
				return Sheet{Order: o, Part: part, House: house, Alike: true}, nil
			}
		}
	}
	parts := Parts(chosen, stops)
	if len(parts) == 0 {
		return Sheet{}, mend("round", "", "round.nobody", nil)
	}
	return Sheet{Order: chosen, Part: parts[0], House: house}, nil
}

// Exception is what a sheet says of one box that was not just looked at.
type Exception struct {
	Box        int    // from 0
	Passed     bool   // left out
	NotReached bool   // the round ended before this box
	Note       string // it was looked at, and this was written beside it
}

// ReadException reads a line such as "3", box 3 was left out; "3 shed lies there", a note;
// "8-", the round ended before box 8. The error is a *model.Refusal of the field "line".
func ReadException(typed string, boxes int) (Exception, error) {
	typed = strings.TrimSpace(typed)
	number, note, _ := strings.Cut(typed, " ")
	number, ends := strings.CutSuffix(number, "-")
	n, err := strconv.Atoi(number)
	if err != nil || n < 1 || n > boxes {
		return Exception{}, mend("line", typed, "round.line", map[string]model.Gap{"Last": model.CountGap(boxes)})
	}
	e := Exception{Box: n - 1, Note: strings.TrimSpace(note), NotReached: ends}
	if ends && e.Note != "" {
		return Exception{}, mend("line", typed, "round.line-more", nil)
	}
	if r := model.CheckText("line", e.Note, MaxNote); r != nil {
		return Exception{}, r
	}
	e.Passed = !ends && e.Note == ""
	return e, nil
}

// With is a list of exceptions with one more. The same once more takes it back; another of
// the same box, or another end, takes the place of the first. What stands behind the end is
// refused, and an end before what was said of a later box. The error is a *model.Refusal of
// the field "line".
func With(all []Exception, e Exception, typed string) ([]Exception, error) {
	same := slices.Contains(all, e)
	all = slices.DeleteFunc(slices.Clone(all), func(was Exception) bool { return was.Box == e.Box || was.NotReached && e.NotReached })
	if same {
		return all, nil
	}
	for _, was := range all {
		end, later := was, e
		if e.NotReached {
			end, later = e, was
		}
		if end.NotReached && later.Box > end.Box {
			return nil, mend("line", typed, "round.line-after", map[string]model.Gap{"End": model.CountGap(end.Box + 1), "Box": model.CountGap(later.Box + 1)})
		}
	}
	return append(all, e), nil
}

// Looks are what is kept of the sheet: every box as printed, but for the exceptions. Of
// several of one box the last one counts.
func (s Sheet) Looks(exceptions []Exception) (looks []Look) {
	for i, stop := range s.Part.Stops {
		l := Look{Place: stop.Place, Animals: stop.Animals, Class: Rules(s.Order, stop.Classes).String()}
		for _, e := range exceptions {
			if e.NotReached && e.Box <= i {
				return looks
			}
			if e.Box == i {
				l.Passed, l.Note = e.Passed, e.Note
			}
		}
		looks = append(looks, l)
	}
	return looks
}

// Planned are the boxes as the round is kept with.
func (s Sheet) Planned() (all []Planned) {
	for _, stop := range s.Part.Stops {
		all = append(all, Planned{Place: stop.Place, Animals: stop.Animals})
	}
	return all
}
