package due

import (
	"cmp"
	"slices"
	"strings"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/knowledge"
)

// Item is one obligation with whom it is about.
type Item struct {
	Obligation
	Of    Owner
	State State
}

// Owner is an animal that owes something, as far as lists show it.
type Owner struct {
	Subject model.Subject
	Name    string
	Animal  animals.Stored // of an animal
}

// List is what is due on a day.
type List struct {
	Day    model.Day
	Items  []Item  // in the order of their states, then the most urgent first
	Owners []Owner // that are here, by name: all of them, also those that owe nothing
	// Unread are those whose records cannot be read, and why: nobody knows what
	// they owe.
	Unread []Unread
	// Undone is what was not done in this month and in the last.
	Undone [2][]Undone
}

// Unread is an animal whose records cannot be read.
type Unread struct {
	Of  Owner
	Err error
}

// Undone are those with whom a job was not done in a month.
type Undone struct {
	Doing Doing
	With  []Owner // by name
	Of    int     // how many were here
}

// Doing is a job as the months count it. The text is "due.undone." + value.
type Doing string

// The jobs of a month.
const (
	Looked  Doing = "looked" // a check or any other entry
	Checked Doing = "checked"
	Weighed Doing = "weighed"
	Offered Doing = "offered"
)

// Doings are all of them.
func Doings() []Doing { return []Doing{Looked, Checked, Weighed, Offered} }

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
	missing := [2]map[Doing][]Owner{{}, {}}
	here := [2]int{}
	for id, leaf := range b.leaves {
		owner := Owner{Subject: id.Subject(), Name: leaf.facts.Animal.Name, Animal: leaf.facts.Animal}
		if leaf.err != nil {
			l.Unread = append(l.Unread, Unread{Of: owner, Err: leaf.err})
			continue
		}
		if !leaf.facts.Animal.Status.Here() {
			continue
		}
		l.Owners = append(l.Owners, owner)
		for _, o := range leaf.due {
			l.Items = append(l.Items, Item{Obligation: o, Of: owner, State: o.State(l.Day)})
		}
		for i, done := range leaf.facts.Done {
			if !done.Here || leaf.facts.Animal.Status == animals.OnLoan {
				continue
			}
			here[i]++
			for _, doing := range Doings() {
				if !done.has(doing) {
					missing[i][doing] = append(missing[i][doing], owner)
				}
			}
		}
	}
	l.sort()
	for i := range l.Undone {
		for _, doing := range Doings() {
			with := missing[i][doing]
			slices.SortFunc(with, byName)
			l.Undone[i] = append(l.Undone[i], Undone{Doing: doing, With: with, Of: here[i]})
		}
	}
	return l
}

func (l *List) sort() {
	slices.SortFunc(l.Owners, byName)
	slices.SortFunc(l.Unread, func(a, b Unread) int { return byName(a.Of, b.Of) })
	slices.SortFunc(l.Items, func(a, b Item) int {
		return cmp.Or(cmp.Compare(a.State, b.State), cmp.Compare(b.Level, a.Level), cmp.Compare(a.Day(l.Day), b.Day(l.Day)),
			byName(a.Of, b.Of), compare(a.Obligation, b.Obligation))
	})
}

// byName gives every two different owners an order.
func byName(a, b Owner) int {
	return cmp.Or(strings.Compare(animals.Fold(a.Name), animals.Fold(b.Name)), slices.Compare(a.Subject.ID[:], b.Subject.ID[:]))
}

// Worst is the most urgent level of the items.
func Worst(items []Item) knowledge.Level {
	var level knowledge.Level
	for _, i := range items {
		level = max(level, i.Level)
	}
	return level
}
