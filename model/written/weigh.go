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
	w, err := walkAt(v, at)
	if err != nil {
		return nil, err
	}
	return w.rows(in), nil
}

// walk is who lived where at a moment, in the order of a walk through the house.
type walk struct {
	house     *husbandry.House
	all       []animals.Stored // by name
	residents map[model.PlaceID][]model.AnimalID
}

func walkAt(v model.View, at model.Moment) (w walk, err error) {
	if w.house, err = husbandry.ReadHouse(v); err != nil {
		return w, fmt.Errorf("read whose sheets there are: %w", err)
	}
	if w.all, err = animals.All(v); err != nil {
		return w, fmt.Errorf("read whose sheets there are: %w", err)
	}
	slices.SortStableFunc(w.all, func(a, b animals.Stored) int { return model.Natural(animals.Fold(a.Name), animals.Fold(b.Name)) })
	w.residents = w.house.Residents(at)
	return w, nil
}

// rows are those of a place, as Residents tells.
func (w walk) rows(in model.PlaceID) (rows []Row) {
	here := map[model.AnimalID]animals.Stored{}
	for _, a := range w.all {
		if a.Status.Here() {
			here[a.ID] = a
		}
	}
	for _, p := range w.house.Places() {
		inside := in.IsZero() || slices.ContainsFunc(w.house.Path(p.ID), func(outer husbandry.StoredPlace) bool { return outer.ID == in })
		if !inside {
			continue
		}
		for _, id := range w.residents[p.ID] {
			if a, there := here[id]; there {
				rows = append(rows, Row{Animal: a, Box: w.house.Title(p.ID)})
				delete(here, id)
			}
		}
	}
	if in.IsZero() {
		for _, a := range w.all {
			if _, left := here[a.ID]; left {
				rows = append(rows, Row{Animal: a})
			}
		}
	}
	return rows
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
	w, err := walkAt(v, at)
	if err != nil {
		return model.PlaceID{}, err
	}
	if rows := w.rows(model.PlaceID{}); len(rows) > 0 && OrderOf(rows) == order {
		return model.PlaceID{}, nil
	}
	for _, p := range w.house.Places() {
		if rows := w.rows(p.ID); len(rows) > 0 && OrderOf(rows) == order {
			return p.ID, nil
		}
	}
	return model.PlaceID{}, nil
}
