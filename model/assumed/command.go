package assumed

import (
	"errors"
	"fmt"
	"maps"
	"strings"

	"coilward/model"
	"coilward/model/knowledge"
)

// Change puts figures in place of a row of the tables.
type Change struct {
	Tables *knowledge.Tables
	Own    Own
	Base   uint32 // the revision that the change was made on; 0: the row stood as the tables have it
}

// Name is "assumed.change".
func (Change) Name() string { return "assumed.change" }

// Plan writes the figures. Those of which no chance can be worked out are refused, and it
// is said why.
func (c Change) Plan(v model.View) (model.Writes, error) {
	own := c.Own
	own.Values, own.Why = maps.Clone(own.Values), strings.TrimSpace(own.Why)
	if r := own.Check(c.Tables); r != nil {
		return model.Writes{}, r
	}
	f, err := ReadFigures(v, c.Tables)
	if err != nil {
		return model.Writes{}, err
	}
	d := model.Document{Type: model.TypeFigures, ID: v.NewID(), Revision: c.Base, At: v.Now()}
	if before, there := f.own[own.Row]; there {
		d.ID = before.Document
	} else if spoilt, there := f.spoilt[own.Row]; there {
		d.ID = spoilt.Document
	}
	if err := d.Encode(Version, own); err != nil {
		return model.Writes{}, err
	}
	return model.Writes{Put: []model.Document{d}, Label: own.label("assumed.done.change", c.Tables)}, nil
}

// label names what was done to a row.
func (o Own) label(key string, t *knowledge.Tables) model.Label {
	gaps := map[string]model.Gap{"Table": model.KeyGap("assumed.table." + string(o.Table)), "Agent": model.TextGap(o.ID)}
	if of, known := o.Agent(t); known {
		gaps["Agent"] = model.KeyGap("agent." + string(of))
	}
	return model.Label{Key: key, Gaps: gaps}
}

// Reset gives a row back to the tables.
type Reset struct {
	Tables   *knowledge.Tables
	Document model.ID
}

// Name is "assumed.reset".
func (Reset) Name() string { return "assumed.reset" }

// Plan removes the figures; one that cannot be read goes as well.
func (c Reset) Plan(v model.View) (model.Writes, error) {
	d, err := v.Document(c.Document)
	if err != nil {
		return model.Writes{}, fmt.Errorf("give figures back to the tables: %w", err)
	}
	s, err := Read(d)
	switch {
	case d.Type != model.TypeFigures, errors.Is(err, model.ErrNewer):
		return model.Writes{}, err
	case err != nil:
		return model.Writes{Remove: []model.ID{d.ID}, Label: model.Label{Key: "assumed.done.reset-unread"}}, nil
	}
	return model.Writes{Remove: []model.ID{d.ID}, Label: s.label("assumed.done.reset", c.Tables)}, nil
}

// Commands are the commands of this package, one of each, empty.
func Commands() []model.Command { return []model.Command{Change{}, Reset{}} }
