package assumed

import (
	"fmt"
	"maps"

	"coilward/model"
	"coilward/model/knowledge"
)

// Version is the newest form of a body of this package.
const Version = 1

// MaxWhy is the most signs that a reason may have.
const MaxWhy = 1000

// Table is a table of which rows can be put otherwise. Values are frozen; the text is
// "assumed.table." + value.
type Table string

// The tables.
const (
	Priors   Table = "prior"   // how likely a thing is before any sample
	Sights   Table = "sight"   // how well it is found
	Carriers Table = "carrier" // how it is carried
)

// Figure is what a row tells of. Values are frozen; the text is "assumed.figure." + value.
type Figure string

// The figures.
const (
	Prior       Figure = "prior"
	Sensitivity Figure = "sensitivity"
	Specificity Figure = "specificity"
	Share       Figure = "share"
	Latent      Figure = "latent"
	Daily       Figure = "daily"
	Spread      Figure = "spread"
	Usable      Figure = "usable"
)

// Asked is a figure of a row with how it is asked for.
type Asked struct {
	Figure Figure
	// Fields are the names of its low, assumed and high value in refusals; of a figure
	// without a range all three are one.
	Fields [3]string
	// In is how many the figure is of: 1,000 samples or animals, or 10,000; 0: it is in days; Tenths:
	// in tenths of a cycle.
	In int
	// Since is that the figure was first asked for when others had been kept already: where it is
	// missing, that of the table holds.
	Since bool
}

// Tenths is what a figure is in that is told in cycles, not in a hundred.
const Tenths = 10

// One reports whether the figure has no range.
func (a Asked) One() bool { return a.Fields[0] == a.Fields[2] }

// Places are the places behind the point that its values have as they are told.
func (a Asked) Places() int {
	switch a.In {
	case Tenths, 1000:
		return 1
	case 10_000:
		return 2
	}
	return 0
}

// Figures are those of a table's rows, in the order in which they are asked for.
func (t Table) Figures() []Asked {
	switch t {
	case Priors:
		return []Asked{{Prior, [3]string{"prior-low", "prior-assumed", "prior-high"}, 1000, false}}
	case Sights:
		return []Asked{
			{Sensitivity, [3]string{"sensitivity-low", "sensitivity-assumed", "sensitivity-high"}, 1000, false},
			{Specificity, [3]string{"specificity", "specificity", "specificity"}, 1000, false},
			{Share, [3]string{"share-low", "share-assumed", "share-high"}, 1000, false},
			{Spread, [3]string{"spread", "spread", "spread"}, Tenths, true},
			{Usable, [3]string{"usable", "usable", "usable"}, 1000, true},
		}
	case Carriers:
		return []Asked{
			{Latent, [3]string{"latent-low", "latent-assumed", "latent-high"}, 0, false},
			{Daily, [3]string{"daily-low", "daily-assumed", "daily-high"}, 10_000, false},
		}
	}
	return nil
}

// Teller is whose word a figure is. Values are frozen; the text is "assumed.by." + value.
type Teller string

// Whose.
const (
	Keeper Teller = "keeper"
	Vet    Teller = "vet"
)

// Tellers are all of them, in the order in which they are offered.
func Tellers() []Teller { return []Teller{Keeper, Vet} }

// Row names a row of a table.
type Row struct {
	Table Table  `json:"table"`
	ID    string `json:"row"`
}

// Own is the body: what stands in place of a row.
type Own struct {
	Row
	Values map[Figure]knowledge.Span `json:"values"` // all of the table's figures
	By     Teller                    `json:"by"`
	Why    string                    `json:"why"` // the reason, or the source
}

// Stored is that with what its document's header says.
type Stored struct {
	Document model.ID
	Revision uint32
	At       model.Moment // when it was last put so
	Own
}

// Read reads a document of figures.
func Read(d model.Document) (Stored, error) {
	s := Stored{Document: d.ID, Revision: d.Revision, At: d.At}
	if d.Type != model.TypeFigures {
		return s, fmt.Errorf("read figures %s: the document is of type %s", d.ID, d.Type)
	}
	return s, d.Decode(Version, &s.Own)
}

// Agent is the thing that a row is of; ok is false where the tables have no such row.
func (r Row) Agent(t *knowledge.Tables) (of knowledge.AgentID, ok bool) {
	_, of, ok = r.Of(t)
	return of, ok
}

// Of is what a row of the tables says, and of which thing; ok is false where they have no
// such row.
func (r Row) Of(t *knowledge.Tables) (values map[Figure]knowledge.Span, of knowledge.AgentID, ok bool) {
	switch r.Table {
	case Priors:
		for _, p := range t.Priors() {
			if p.ID == r.ID {
				return map[Figure]knowledge.Span{Prior: p.Chance}, p.Agent, true
			}
		}
	case Sights:
		for _, s := range t.Sights() {
			if s.ID == r.ID {
				return map[Figure]knowledge.Span{Sensitivity: s.Sensitivity, Specificity: exactly(s.Right), Share: s.Share, Spread: exactly(s.Spread), Usable: exactly(s.Usable)}, s.Agent, true
			}
		}
	case Carriers:
		if c, known := t.Carrier(knowledge.AgentID(r.ID)); known {
			return map[Figure]knowledge.Span{Latent: c.Latent, Daily: c.Daily}, c.Agent, true
		}
	}
	return nil, "", false
}

func exactly(v int) knowledge.Span { return knowledge.Span{Low: v, Assumed: v, High: v} }

// whole is that with the table's own in place of figures that were not asked for yet when
// it was kept.
func (o Own) whole(t *knowledge.Tables) Own {
	values, _, _ := o.Of(t)
	for _, a := range o.Table.Figures() {
		of, known := values[a.Figure]
		if _, there := o.Values[a.Figure]; known && a.Since && !there && o.Values != nil {
			o.Values = maps.Clone(o.Values)
			o.Values[a.Figure] = of
		}
	}
	return o
}

// RowsOf are the rows of a thing, in the order of the tables.
func RowsOf(t *knowledge.Tables, of knowledge.AgentID) (all []Row) {
	for _, p := range t.Priors() {
		if p.Agent == of {
			all = append(all, Row{Priors, p.ID})
		}
	}
	for _, s := range t.Sights() {
		if s.Agent == of {
			all = append(all, Row{Sights, s.ID})
		}
	}
	if c, known := t.Carrier(of); known {
		all = append(all, Row{Carriers, string(c.Agent)})
	}
	return all
}
