package due

import (
	"cmp"
	"iter"
	"slices"
	"strings"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/infested"
	"coilward/model/knowledge"
	"coilward/model/positives"
)

// Item is one obligation with whom it is about.
type Item struct {
	Obligation
	Of    *Owner
	State State
}

// Owner is an animal, a place or an instrument that owes something, as far as lists show it.
type Owner struct {
	Subject model.Subject
	Name    string
	Animal  animals.Stored // of an animal
	folded  string         // the name as names are compared
	rank    int            // by name, among all that are here
}

// List is what is due on a day.
type List struct {
	Day    model.Day
	Items  []Item   // in the order of their states, then the most urgent first
	Owners []*Owner // the animals that are here, by name, also those that owe nothing
	// Unread are those whose records cannot be read, and why: nobody knows what
	// they owe.
	Unread []Unread
	// Undone is what was not done in this month and in the last.
	Undone [2][]Undone
	// Positives are whom the open positives are about, and who is near one.
	Positives positives.Marks
	// Mites are the rooms in which mites are watched for.
	Mites infested.Rooms
}

// Unread is an animal whose records cannot be read; a place or an instrument
// without a name stands for all of them, and an owner without a subject for samples
// and newcomers of whom nobody knows whose they are.
type Unread struct {
	Of  *Owner
	Err error
}

// Undone are those with whom a job was not done in a month.
type Undone struct {
	Doing Doing
	With  []*Owner // by name
	Of    int      // how many were here
}

// Doing is a job as the months count it. The text is "due.undone." + value.
type Doing string

// The jobs of a month.
const (
	Looked  Doing = "looked" // a check or any other entry
	Checked Doing = "checked"
	Weighed Doing = "weighed"
	Offered Doing = "offered"
	Cleaned Doing = "cleaned" // places in which somebody lives
)

// Doings are all of them.
func Doings() []Doing { return []Doing{Looked, Checked, Weighed, Offered, Cleaned} }

func (d Done) has(doing Doing) bool {
	switch doing {
	case Looked:
		return d.Looked
	case Checked:
		return d.Checked
	case Weighed:
		return d.Weighed
	}
	return d.Offered
}

// In are the items of a state.
func (l List) In(s State) []Item {
	var in []Item
	for _, i := range l.Items {
		if i.State == s {
			in = append(in, i)
		}
	}
	return in
}

// Due are the items whose day has come: the late ones, then those of today.
func (l List) Due() []Item { return append(l.In(Late), l.In(Today)...) }

// Pressing is how many alerts there are and how many things are late.
func (l List) Pressing() int {
	n := 0
	for _, i := range l.Items {
		if i.State == Alert || i.State == Late {
			n++
		}
	}
	return n
}

// BySubject are the items of each that owes something, in the order of the list.
func (l List) BySubject() map[model.Subject][]Item {
	all := map[model.Subject][]Item{}
	for _, i := range l.Items {
		all[i.Subject] = append(all[i.Subject], i)
	}
	return all
}

// list tells what the leaves owe.
func (b *Book) list(now model.Moment) List {
	l := List{Day: now.Day()}
	for id, leaf := range b.leaves {
		if err := cmp.Or(leaf.err, b.together.unread[id], b.tubes.unread[id], b.courses.unread[id]); err != nil {
			l.Unread = append(l.Unread, Unread{Of: leaf.owner, Err: err})
		}
		if animal := leaf.facts.Animal; !animal.ID.IsZero() && animal.Status.Here() {
			l.Owners = append(l.Owners, leaf.owner)
		}
	}
	slices.SortFunc(l.Owners, byName)
	if b.rooms.err != nil {
		l.Unread = append(l.Unread, Unread{Of: &Owner{Subject: model.Subject{Kind: model.SubjectPlace}}, Err: b.rooms.err})
	}
	if b.kit.err != nil {
		l.Unread = append(l.Unread, Unread{Of: &Owner{Subject: model.Subject{Kind: model.SubjectInstrument}}, Err: b.kit.err})
	}
	if b.together.err != nil && b.rooms.err == nil && b.tubes.err == nil { // else it is told already
		l.Unread = append(l.Unread, Unread{Of: &Owner{}, Err: b.together.err})
	}
	if err := cmp.Or(b.tubes.err, b.courses.err, b.stray()); err != nil {
		l.Unread = append(l.Unread, Unread{Of: &Owner{}, Err: err})
	}
	slices.SortFunc(l.Unread, func(a, b Unread) int { return byName(a.Of, b.Of) })
	done := make([][2]Done, len(l.Owners))
	for i, owner := range l.Owners {
		done[i] = b.leaves[model.AnimalID{ID: owner.Subject.ID}].facts.Done
	}
	for i := range l.Undone {
		l.Undone[i] = b.undone(l.Owners, done, i)
	}
	l.Items = make([]Item, 0, b.many+few) // they are large, and nearly as many as last time
	for rank, owner := range l.Owners {
		owner.rank = rank
		for _, o := range b.items(model.AnimalID{ID: owner.Subject.ID}) {
			l.Items = append(l.Items, Item{Obligation: o, Of: owner, State: o.State(l.Day)})
		}
	}
	for _, leaf := range append(slices.Clone(b.rooms.leaves), b.together.places...) {
		leaf.owner.rank = len(l.Owners) // behind the animals
		for _, o := range leaf.due {
			l.Items = append(l.Items, Item{Obligation: o, Of: leaf.owner, State: o.State(l.Day)})
		}
	}
	l.Positives, l.Mites = b.tubes.marks, b.together.mites
	for id, due := range b.besides() {
		leaf, there := b.leaves[id]
		if !there || leaf.owner == nil {
			continue
		}
		for _, o := range due {
			l.Items = append(l.Items, Item{Obligation: o, Of: leaf.owner, State: o.State(l.Day)})
		}
	}
	alikes := b.alikes(l.Day)
	for _, leaf := range b.kit.leaves {
		leaf.owner.rank = len(l.Owners) + 1 // behind the places
		for _, o := range leaf.due {
			o = alikes[model.InstrumentID{ID: leaf.owner.Subject.ID}].suspected(o)
			l.Items = append(l.Items, Item{Obligation: o, Of: leaf.owner, State: o.State(l.Day)})
		}
	}
	b.many = len(l.Items)
	l.Items = sorted(l.Items, l.Day)
	return l
}

// besides are what animals owe for samples, positives and prescriptions.
func (b *Book) besides() iter.Seq2[model.AnimalID, []Obligation] {
	return func(yield func(model.AnimalID, []Obligation) bool) {
		for _, of := range []map[model.AnimalID][]Obligation{b.tubes.of, b.courses.of} {
			for id, due := range of {
				if !yield(id, due) {
					return
				}
			}
		}
	}
}

// stray is why something cannot be read that is about no animal of the collection.
func (b *Book) stray() error {
	for _, unread := range []map[model.AnimalID]error{b.together.unread, b.tubes.unread, b.courses.unread} {
		for id, err := range unread {
			if _, there := b.leaves[id]; !there {
				return err
			}
		}
	}
	return nil
}

// sorted are the items in the order of their states, then the most urgent first.
// They are large: their places in the order are found by what weighs most of each,
// then each is moved once.
func sorted(items []Item, today model.Day) []Item {
	type place struct {
		state State
		level knowledge.Level
		day   model.Day
		rank  int
		at    int
	}
	order := make([]place, len(items))
	for i := range items {
		order[i] = place{items[i].State, items[i].Level, items[i].Day(today), items[i].Of.rank, i}
	}
	slices.SortFunc(order, func(a, b place) int {
		switch {
		case a.state != b.state:
			return cmp.Compare(a.state, b.state)
		case a.level != b.level:
			return cmp.Compare(b.level, a.level)
		case a.day != b.day:
			return cmp.Compare(a.day, b.day)
		case a.rank != b.rank:
			return cmp.Compare(a.rank, b.rank)
		}
		x, y := &items[a.at], &items[b.at]
		return cmp.Or(byName(x.Of, y.Of), compare(x.Obligation, y.Obligation))
	})
	in := make([]Item, len(items))
	for to, from := range order {
		in[to] = items[from.at]
	}
	return in
}

// copied is the list with slices of its own, for whoever sorts or cuts them.
func (l List) copied() List {
	l.Items, l.Owners, l.Unread = slices.Clone(l.Items), slices.Clone(l.Owners), slices.Clone(l.Unread)
	return l
}

// undone is what was not done in a month, 0 this one, with those of the owners
// that were here; an animal on loan is somebody else's to look after.
func (b *Book) undone(owners []*Owner, done [][2]Done, month int) []Undone {
	all := make([]Undone, len(Doings()))
	for i, doing := range Doings() {
		all[i].Doing = doing
		if doing == Cleaned {
			b.uncleaned(&all[i], month)
			continue
		}
		for n, owner := range owners {
			done := &done[n][month]
			if !done.Here || owner.Animal.Status == animals.OnLoan {
				continue
			}
			all[i].Of++
			if !done.has(doing) {
				all[i].With = append(all[i].With, owner)
			}
		}
	}
	return all
}

// uncleaned are the places that were not cleaned in a month.
func (b *Book) uncleaned(u *Undone, month int) {
	for _, leaf := range b.rooms.leaves {
		if !leaf.here[month] {
			continue
		}
		u.Of++
		if !leaf.done[month] {
			u.With = append(u.With, leaf.owner)
		}
	}
	slices.SortFunc(u.With, byName)
}

// byName gives every two different owners an order.
func byName(a, b *Owner) int {
	return cmp.Or(strings.Compare(a.folded, b.folded), slices.Compare(a.Subject.ID[:], b.Subject.ID[:]))
}

// Worst is the most urgent level of the items.
func Worst(items []Item) knowledge.Level {
	var level knowledge.Level
	for _, i := range items {
		level = max(level, i.Level)
	}
	return level
}
