package husbandry

import (
	"strconv"
	"strings"

	"coilward/model"
)

// RackPlan lays a rack out: so many shelves, each with so many boxes. Names and
// codes of Shelf and Box are patterns, in which {shelf} is the number of the
// shelf, {letter} its letter, {box} the number of the box on its shelf and
// {count} its number in the rack; everything else of them is taken as it is.
type RackPlan struct {
	Rack       Place
	Shelf, Box Place
	Shelves    int // 1 to MaxShelves
	Boxes      int // on each shelf, 0 to MaxBoxes
}

// The most that one rack may have.
const (
	MaxShelves = 50
	MaxBoxes   = 50
)

// RackOf is the rack with all that stands in it, to be added by AddPlaces.
func RackOf(plan RackPlan) (Branch, *model.Refusal) {
	if r := within("shelves", plan.Shelves, 1, MaxShelves); r != nil {
		return Branch{}, r
	}
	if r := within("boxes", plan.Boxes, 0, MaxBoxes); r != nil {
		return Branch{}, r
	}
	rack := Branch{Place: plan.Rack}
	for shelf := range plan.Shelves {
		row, r := numbered("shelf-name", "shelf-code", plan.Shelf, shelf, -1, 0)
		if r != nil {
			return Branch{}, r
		}
		for box := range plan.Boxes {
			one, r := numbered("box-name", "box-code", plan.Box, shelf, box, shelf*plan.Boxes+box)
			if r != nil {
				return Branch{}, r
			}
			row.Below = append(row.Below, one)
		}
		rack.Below = append(rack.Below, row)
	}
	return rack, nil
}

func within(field string, n, least, most int) *model.Refusal {
	if n >= least && n <= most {
		return nil
	}
	return mend(field, strconv.Itoa(n), "number.range", map[string]model.Gap{"Least": model.CountGap(least), "Most": model.CountGap(most)})
}

// numbered fills the patterns of a place, whose fields are called as said; box is
// −1 for a shelf.
func numbered(name, code string, p Place, shelf, box, count int) (Branch, *model.Refusal) {
	pairs := []string{"{shelf}", strconv.Itoa(shelf + 1), "{letter}", letter(shelf)}
	if box >= 0 {
		pairs = append(pairs, "{box}", strconv.Itoa(box+1), "{count}", strconv.Itoa(count+1))
	}
	fill := strings.NewReplacer(pairs...)
	for _, text := range []struct {
		field   string
		pattern *string
	}{{name, &p.Name}, {code, &p.Code}} {
		filled := fill.Replace(*text.pattern)
		if strings.ContainsAny(filled, "{}") {
			return Branch{}, mend(text.field, *text.pattern, "pattern.gap", nil)
		}
		*text.pattern = filled
	}
	return Branch{Place: p}, nil
}

// letter is the letter of a shelf: A to Z, then AA to AZ and so on.
func letter(n int) string {
	last := string(rune('A' + n%26))
	if n < 26 {
		return last
	}
	return letter(n/26-1) + last
}
