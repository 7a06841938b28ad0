package registry_test

import (
	"slices"

	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/assumed"
	"coilward/model/knowledge"
	"coilward/model/storetest"
)

// drawSpan draws three values of a figure that stand in their order.
func drawSpan(t *rapid.T, least, most int) knowledge.Span {
	all := rapid.SliceOfN(rapid.IntRange(least, most), 3, 3).Draw(t, "span")
	slices.Sort(all)
	return knowledge.Span{Low: all[0], Assumed: all[1], High: all[2]}
}

func assumedGenerators(tables *knowledge.Tables) storetest.Generators {
	return storetest.Generators{
		"assumed.change": func(t *rapid.T, v model.View) model.Command {
			row := rapid.SampledFrom(assumed.RowsOf(tables, rapid.SampledFrom(tables.Carriers()).Draw(t, "of").Agent)).Draw(t, "row")
			right := rapid.IntRange(700, 999).Draw(t, "right")
			own := assumed.Own{Row: row, By: rapid.SampledFrom(assumed.Tellers()).Draw(t, "by"), Why: drawName(t), Values: map[assumed.Figure]knowledge.Span{}}
			switch row.Table {
			case assumed.Priors:
				own.Values[assumed.Prior] = drawSpan(t, 1, 999)
			case assumed.Sights:
				own.Values[assumed.Sensitivity], own.Values[assumed.Share] = drawSpan(t, 400, 900), drawSpan(t, 0, 950)
				own.Values[assumed.Specificity] = knowledge.Span{Low: right, Assumed: right, High: right}
			case assumed.Carriers:
				own.Values[assumed.Latent], own.Values[assumed.Daily] = drawSpan(t, 0, 400), drawSpan(t, 0, 9_999)
			}
			figures, err := assumed.ReadFigures(v, tables)
			c := assumed.Change{Tables: tables, Own: own}
			if before, there := must(t, figures, err).Own(row); there {
				c.Base = before.Revision
			}
			return c
		},
		"assumed.reset": func(t *rapid.T, v model.View) model.Command {
			d, ok := pick(t, v, model.TypeFigures, func(model.Document) bool { return true })
			if !ok {
				return nil
			}
			return assumed.Reset{Tables: tables, Document: d.ID}
		},
	}
}
