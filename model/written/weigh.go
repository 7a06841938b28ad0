package written

import (
	"fmt"
	"slices"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/husbandry"
	"coilward/model/label"
)

// Row is one animal of a sheet, in a sheet for a day of weighing one line.
type Row struct {
	Animal animals.Stored
	Box    string       // where it lived; empty: in no place that is known
	Last   care.Weighed // the last weight before that day; without a mass there is none
	Noted  care.Weighed // what is noted of that day already; without a mass nothing is
}

// Rows are the lines of a sheet for a place, as Residents gives them, with their weights.
func Rows(v model.View, in model.PlaceID, at model.Moment) ([]Row, error) {
	rows, err := Residents(v, in, at)
	if err != nil {
		return nil, err
	}
	for i := range rows {
		series, err := care.Series(v, rows[i].Animal.ID)
		if err != nil {
			return nil, fmt.Errorf("read the lines of a sheet: %w", err)
		}
		for _, w := range series {
			switch day := w.At.Day(); {
			case day < at.Day():
				rows[i].Last = w
			case day == at.Day():
				rows[i].Noted = w
			}
		}
	}
	return rows, nil
}

// Residents are the animals that lived at a moment in a place or in what stands in it, in the
// order of a walk through the house, without their weights. The zero place is the whole
// house, with the animals that are in no place last, by name.
func Residents(v model.View, in model.PlaceID, at model.Moment) ([]Row, error) {
	house, err := husbandry.ReadHouse(v)
	if err != nil {
		return nil, fmt.Errorf("read whose sheets there are: %w", err)
	}
	all, err := animals.All(v)
	if err != nil {
		return nil, fmt.Errorf("read whose sheets there are: %w", err)
	}
	slices.SortStableFunc(all, func(a, b animals.Stored) int { return model.Natural(animals.Fold(a.Name), animals.Fold(b.Name)) })
	here := map[model.AnimalID]animals.Stored{}
	for _, a := range all {
		if a.Status.Here() {
			here[a.ID] = a
		}
	}
	residents := house.Residents(at)
	var rows []Row
	for _, p := range house.Places() {
		inside := in.IsZero() || slices.ContainsFunc(house.Path(p.ID), func(outer husbandry.StoredPlace) bool { return outer.ID == in })
		if !inside {
			continue
		}
		for _, id := range residents[p.ID] {
			if a, there := here[id]; there {
				rows = append(rows, Row{Animal: a, Box: house.Title(p.ID)})
				delete(here, id)
			}
		}
	}
	if in.IsZero() {
		for _, a := range all {
			if _, left := here[a.ID]; left {
				rows = append(rows, Row{Animal: a})
			}
		}
	}
	return rows, nil
}

// OrderOf tells the order of rows from another one.
func OrderOf(rows []Row) uint16 {
	ids := make([]model.ID, len(rows))
	for i, r := range rows {
		ids[i] = r.Animal.ID.ID
	}
	return label.Order(ids)
}

// Listed is the place whose boxes, as they stood at a moment, are in an order that a sheet
// for weighing gives; zero: the whole house, also where no place has that order any more.
func Listed(v model.View, order uint16, at model.Moment) (model.PlaceID, error) {
	house, err := husbandry.ReadHouse(v)
	if err != nil {
		return model.PlaceID{}, fmt.Errorf("look for the place of a sheet: %w", err)
	}
	places := []model.PlaceID{{}}
	for _, p := range house.Places() {
		places = append(places, p.ID)
	}
	for _, in := range places {
		rows, err := Residents(v, in, at)
		if err != nil {
			return model.PlaceID{}, err
		}
		if len(rows) > 0 && OrderOf(rows) == order {
			return in, nil
		}
	}
	return model.PlaceID{}, nil
}
