package assumed

import (
	"fmt"

	"coilward/model"
	"coilward/model/knowledge"
)

// Figures are the tables of chances as the keeper has changed them.
type Figures struct {
	tables *knowledge.Tables
	own    map[Row]Stored
	spoilt map[Row]Stored
	unread []error
}

// ReadFigures reads what the keeper has changed. What cannot stand beside the tables of
// today, or cannot be read, changes nothing: the row of the table holds.
func ReadFigures(v model.View, t *knowledge.Tables) (*Figures, error) {
	f := &Figures{tables: t, own: map[Row]Stored{}, spoilt: map[Row]Stored{}}
	err := v.All(model.TypeFigures, func(d model.Document) bool {
		s, err := Read(d)
		s.Own = s.whole(t)
		switch {
		case err != nil:
			f.unread = append(f.unread, err)
		case s.Check(t) != nil:
			f.spoilt[s.Row] = s
		default:
			f.own[s.Row] = s
		}
		return true
	})
	if err != nil {
		return nil, fmt.Errorf("read what is assumed otherwise than the tables do: %w", err)
	}
	return f, nil
}

// Own is what stands in place of a row; ok is false where the table's own holds.
func (f *Figures) Own(r Row) (s Stored, ok bool) {
	s, ok = f.own[r]
	return s, ok
}

// Spoilt is what was put in place of a row and cannot stand there today.
func (f *Figures) Spoilt(r Row) (s Stored, ok bool) {
	s, ok = f.spoilt[r]
	return s, ok
}

// Unread are the documents of figures that cannot be read.
func (f *Figures) Unread() []error { return f.unread }

// Values are those of a row as they hold; ok is false where the tables have no such row.
func (f *Figures) Values(r Row) (values map[Figure]knowledge.Span, ok bool) {
	if s, changed := f.own[r]; changed {
		return s.Values, true
	}
	values, _, ok = r.Of(f.tables)
	return values, ok
}

// Sights are those of the tables as they hold, in their order. One that was changed names
// no source of the tables.
func (f *Figures) Sights() (all []knowledge.Sight) {
	for _, s := range f.tables.Sights() {
		all = append(all, f.sight(s))
	}
	return all
}

func (f *Figures) sight(s knowledge.Sight) knowledge.Sight {
	if o, changed := f.own[Row{Sights, s.ID}]; changed {
		s.Sensitivity, s.Right, s.Share, s.Source = o.Values[Sensitivity], o.Values[Specificity].Assumed, o.Values[Share], ""
		s.Spread, s.Usable = o.Values[Spread].Assumed, o.Values[Usable].Assumed
	}
	return s
}

// Sight is as of the tables.
func (f *Figures) Sight(of knowledge.AgentID, species knowledge.SpeciesID, in knowledge.MaterialID, by knowledge.Method) (knowledge.Sight, bool) {
	s, ok := f.tables.Sight(of, species, in, by)
	return f.sight(s), ok
}

// SightsOf are as of the tables.
func (f *Figures) SightsOf(of knowledge.AgentID, species knowledge.SpeciesID) (all []knowledge.Sight) {
	for _, s := range f.tables.SightsOf(of, species) {
		all = append(all, f.sight(s))
	}
	return all
}

// Carrier is as of the tables.
func (f *Figures) Carrier(of knowledge.AgentID) (knowledge.Carrier, bool) {
	c, ok := f.tables.Carrier(of)
	if o, changed := f.own[Row{Carriers, string(c.Agent)}]; changed && ok {
		c.Latent, c.Daily, c.Source = o.Values[Latent], o.Values[Daily], ""
	}
	return c, ok
}

// Prior is as of the tables.
func (f *Figures) Prior(of knowledge.AgentID, from knowledge.Origin) knowledge.Prior {
	p := f.tables.Prior(of, from)
	if o, changed := f.own[Row{Priors, p.ID}]; changed {
		p.Chance, p.Source = o.Values[Prior], ""
	}
	return p
}
