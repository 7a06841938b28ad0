package husbandry

import (
	"fmt"

	"coilward/model"
)

// AddTool brings a tool into the collection.
type AddTool struct{ Tool Tool }

// Name is "husbandry.tool.add".
func (AddTool) Name() string { return "husbandry.tool.add" }

// Plan writes the tool.
func (c AddTool) Plan(v model.View) (model.Writes, error) {
	return c.Tool.write(v, model.Document{Type: model.TypeTool, ID: v.NewID(), At: v.Now()}, "husbandry.done.tool-add")
}

// ChangeTool replaces what is known of a tool; Base is the revision that the
// change was made on.
type ChangeTool struct {
	ID   model.ToolID
	Base uint32
	Tool Tool
}

// Name is "husbandry.tool.change".
func (ChangeTool) Name() string { return "husbandry.tool.change" }

// Plan writes the tool anew. Where nothing would change it writes nothing.
func (c ChangeTool) Plan(v model.View) (model.Writes, error) {
	d, before, err := findTool(v, c.ID)
	if err != nil {
		return model.Writes{}, err
	}
	if c.Base == d.Revision && c.Tool == before.Tool {
		return model.Writes{}, nil
	}
	d.Revision = c.Base
	return c.Tool.write(v, d, "husbandry.done.tool-change")
}

// RemoveTool takes a tool out; one with cleanings is kept as closed from today on.
type RemoveTool struct{ ID model.ToolID }

// Name is "husbandry.tool.remove".
func (RemoveTool) Name() string { return "husbandry.tool.remove" }

// Plan removes or closes the tool.
func (c RemoveTool) Plan(v model.View) (model.Writes, error) {
	d, t, err := findTool(v, c.ID)
	if err != nil {
		return model.Writes{}, err
	}
	t.Closed = today(v)
	return removed(v, d, t.ID.Subject(), t.Tool, named("husbandry.done.tool-remove", "Tool", t.Name))
}

// Check tells what of the tool cannot stand on the given day; nil if nothing.
func (t Tool) Check(today model.Day) *model.Refusal {
	for _, r := range []*model.Refusal{checkName("tool-name", t.Name), checkChoice("tool-kind", t.Kind, ToolKinds()),
		model.CheckLine("place-code", t.Code, MaxName), model.CheckText("note", t.Note, MaxNote), checkPast("closed", t.Closed, today)} {
		if r != nil {
			return r
		}
	}
	return nil
}

func (t Tool) write(v model.View, d model.Document, done string) (model.Writes, error) {
	t.Name, t.Code = tidy(t.Name), tidy(t.Code)
	if err := first(t.Check(v.Now().Day())); err != nil {
		return model.Writes{}, err
	}
	if err := stands(v, t.Place); err != nil {
		return model.Writes{}, err
	}
	all, err := Tools(v)
	if err != nil {
		return model.Writes{}, err
	}
	for _, o := range all {
		if o.ID.ID != d.ID && t.Closed.IsZero() && o.Closed.IsZero() && fold(o.Name) == fold(t.Name) {
			return model.Writes{}, mend("tool-name", t.Name, "tool.twice", map[string]model.Gap{"Other": model.TextGap(o.Name)})
		}
	}
	return put(d, t, named(done, "Tool", t.Name))
}

// stands wants a place to be there; zero is none.
func stands(v model.View, id model.PlaceID) error {
	if id.IsZero() {
		return nil
	}
	d, err := v.Document(id.ID)
	if err != nil || d.Type != model.TypePlace {
		return mend("place-in", "", "house.gone", nil)
	}
	return nil
}

func findTool(v model.View, id model.ToolID) (model.Document, StoredTool, error) {
	d, err := v.Document(id.ID)
	if err != nil {
		return d, StoredTool{}, fmt.Errorf("read tool %s: %w", id, err)
	}
	t, err := DecodeTool(d)
	return d, t, err
}

// Tools are the tools of the collection, in the order in which they were added.
func Tools(v model.View) ([]StoredTool, error) { return all(v, model.TypeTool, DecodeTool) }

// Instruments are the instruments of the collection, in the order in which they
// were added.
func Instruments(v model.View) ([]StoredInstrument, error) {
	return all(v, model.TypeInstrument, DecodeInstrument)
}

func all[T any](v model.View, of model.DocumentType, decode func(model.Document) (T, error)) ([]T, error) {
	var found []T
	var failed error
	err := v.All(of, func(d model.Document) bool {
		var one T
		if one, failed = decode(d); failed == nil {
			found = append(found, one)
		}
		return failed == nil
	})
	if err == nil {
		err = failed
	}
	if err != nil {
		return nil, fmt.Errorf("read each %s: %w", of, err)
	}
	return found, nil
}

func today(v model.View) model.Date { return model.Date{Day: v.Now().Day(), Precision: model.ToDay} }

func named(key, gap, name string) model.Label {
	return model.Label{Key: key, Gaps: map[string]model.Gap{gap: model.TextGap(name)}}
}

func put(d model.Document, body any, label model.Label) (model.Writes, error) {
	if err := d.Encode(Version, body); err != nil {
		return model.Writes{}, err
	}
	return model.Writes{Put: []model.Document{d}, Label: label}, nil
}

// removed takes a document out; one that something is noted about is kept, with
// the body that says that it is closed.
func removed(v model.View, d model.Document, about model.Subject, closed any, label model.Label) (model.Writes, error) {
	past, err := hasPast(v, about)
	switch {
	case err != nil:
		return model.Writes{}, err
	case past:
		return put(d, closed, label)
	}
	return model.Writes{Remove: []model.ID{d.ID}, Label: label}, nil
}
