// Package droppings tells when faeces and urates were seen last, and when they are
// missed. What it says is no diagnosis: it asks for a look, and for the vet's word.
package droppings

import (
	"slices"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/knowledge"
)

// Last is when faeces and urates were seen last.
type Last struct {
	Entry          model.EntryID // of the faeces
	Faeces, Urates model.Day     // 0: none are known
	Kept           int           // meals kept since the faeces
	First          model.Day     // of the first of those meals
}

// Of tells it from entries that come newest first. A look that saw none is no dropping.
func Of(t *knowledge.Tables, newestFirst []care.Entry) (l Last) {
	seen := func(traits []care.Trait) bool { return len(traits) > 0 && !slices.Contains(traits, care.NoneSeen) }
	for _, e := range newestFirst {
		w, is := e.Body.(care.Waste)
		if is && l.Faeces == 0 && seen(w.Faeces) {
			l.Faeces, l.Entry = e.At.Day(), e.ID
		}
		if is && l.Urates == 0 && seen(w.Urates) {
			l.Urates = e.At.Day()
		}
	}
	for _, e := range care.Kept(t, newestFirst) {
		if e.At.Day() > l.Faeces {
			l.Kept, l.First = l.Kept+1, e.At.Day()
		}
	}
	return l
}

// Missed is the first day on which faeces are missed: so long after the first meal kept
// since the last ones as the tables say, and with no fewer meals kept since. Where none
// were ever noted none are missed. Source: common practice, no source.
func (l Last) Missed(t *knowledge.Tables) (from model.Day, missed bool) {
	if l.Faeces == 0 || l.Kept < t.Value(knowledge.ValueStoolMeals) {
		return 0, false
	}
	return l.First + model.Day(t.Value(knowledge.ValueStoolBy)), true
}
