package table

import (
	"slices"
	"strings"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/husbandry"
	"coilward/model/importing"
)

// NewPlaces is what becomes of stays in places that the collection does not know.
type NewPlaces string

// The answers. While it is open, the rows of such stays wait.
const (
	PlacesOpen NewPlaces = ""
	PlacesMade NewPlaces = "make"
	PlacesLeft NewPlaces = "leave"
)

// NewPlace is a place that stays name and the collection does not know.
type NewPlace struct {
	Path string // with what it stands in
	Kind husbandry.PlaceKind
}

// spot is a place that a row can name: of the collection, or new.
type spot struct {
	id     model.PlaceID // zero: new
	new    int           // of Rows.Places
	in     *spot
	name   string // as it is written
	kind   husbandry.PlaceKind
	closed bool
	below  map[string][]*spot // by their folded names
}

// house are all places that rows can name.
type house struct {
	words  *Words
	root   *spot
	names  map[string][]*spot // folded
	codes  map[string][]*spot // folded
	titles map[string][]*spot // folded, parted by commas as the program says them
	read   map[string]located // what was read already
}

type located struct {
	spot    *spot
	several bool
}

func newHouse(h *husbandry.House, w *Words) *house {
	all := &house{words: w, root: &spot{new: -1, below: map[string][]*spot{}}, names: map[string][]*spot{}, codes: map[string][]*spot{}, titles: map[string][]*spot{}, read: map[string]located{}}
	if h == nil {
		return all
	}
	known := map[model.PlaceID]*spot{{}: all.root}
	for _, p := range h.Places() {
		_, closed := h.Closed(p.ID)
		s := &spot{id: p.ID, new: -1, in: known[p.Parent], name: p.Name, kind: p.Kind, closed: closed, below: map[string][]*spot{}}
		if s.in == nil {
			s.in = all.root // what it stood in is not there any more
		}
		known[p.ID] = s
		all.put(s)
		if p.Code != "" {
			all.codes[animals.Fold(p.Code)] = append(all.codes[animals.Fold(p.Code)], s)
		}
		all.titles[animals.Fold(h.Title(p.ID))] = append(all.titles[animals.Fold(h.Title(p.ID))], s)
	}
	return all
}

func (h *house) put(s *spot) {
	name := animals.Fold(s.name)
	s.in.below[name] = append(s.in.below[name], s)
	h.names[name] = append(h.names[name], s)
}

// partMark stands between the places of a path; one within a name is doubled.
const partMark = "/"

// pathOf is a place with what it stands in, so that parts reads it.
func pathOf(names []string) string {
	var all []string
	for _, name := range names {
		all = append(all, strings.ReplaceAll(name, partMark, partMark+partMark))
	}
	return strings.Join(all, " "+partMark+" ")
}

func (s *spot) path() string {
	var names []string
	for ; s.in != nil; s = s.in {
		names = append(names, s.name)
	}
	slices.Reverse(names)
	return pathOf(names)
}

// parts are the names of a path, outermost first.
func parts(path string) (names []string) {
	const doubled = "\x00"
	for _, part := range strings.Split(strings.ReplaceAll(path, partMark+partMark, doubled), partMark) {
		if name := strings.Join(strings.Fields(strings.ReplaceAll(part, doubled, partMark)), " "); name != "" {
			names = append(names, name)
		}
	}
	return names
}

// find is the place that a text names: a path from outside in, the end of one,
// or a name, a code or a title, where only one place goes by it. Of several the
// one that is in use counts.
func (h *house) find(text string) (found *spot, several bool) {
	if known, ok := h.read[text]; ok {
		return known.spot, known.several
	}
	found, several = h.search(text)
	if found != nil || several {
		h.read[text] = located{found, several}
	}
	return found, several
}

func (h *house) search(text string) (*spot, bool) {
	names := parts(text)
	if len(names) == 0 {
		return nil, false
	}
	whole := animals.Fold(text)
	ways := [][]*spot{h.from(h.root, names), h.ending(names), h.codes[whole], h.titles[whole]}
	if len(names) == 1 {
		// the name of a box before that of the rack that it may stand in
		ways = [][]*spot{housing(h.names[animals.Fold(names[0])]), h.names[animals.Fold(names[0])], h.codes[whole], h.titles[whole]}
	}
	for _, found := range ways {
		open := slices.DeleteFunc(slices.Clone(found), func(s *spot) bool { return s.closed })
		switch {
		case len(open) == 1:
			return open[0], false
		case len(found) == 1:
			return found[0], false
		case len(found) > 1:
			return nil, true
		}
	}
	return nil, false
}

func housing(all []*spot) []*spot {
	return slices.DeleteFunc(slices.Clone(all), func(s *spot) bool { return !s.kind.Houses() })
}

// from are the places at the end of a path that begins in a place.
func (h *house) from(in *spot, names []string) []*spot {
	at := []*spot{in}
	for _, name := range names {
		var next []*spot
		for _, s := range at {
			next = append(next, s.below[animals.Fold(name)]...)
		}
		at = next
	}
	return at
}

// ending are the places whose path ends so.
func (h *house) ending(names []string) []*spot {
	return slices.DeleteFunc(slices.Clone(h.names[animals.Fold(names[len(names)-1])]), func(s *spot) bool {
		for i := len(names) - 1; i >= 0; i, s = i-1, s.in {
			if s.in == nil || animals.Fold(s.name) != animals.Fold(names[i]) {
				return true
			}
		}
		return false
	})
}

// begin is the place that the rest of a path is to be made in.
func (h *house) begin(names []string) (in *spot, rest []string) {
	in, rest = h.root, names
	if len(h.root.below[animals.Fold(names[0])]) == 0 {
		if known := h.names[animals.Fold(names[0])]; len(known) == 1 && !known[0].kind.Houses() {
			in, rest = known[0], names[1:]
		}
	}
	for len(rest) > 0 {
		open := slices.DeleteFunc(slices.Clone(in.below[animals.Fold(rest[0])]), func(s *spot) bool { return s.closed })
		if len(open) == 0 {
			break
		}
		in, rest = open[0], rest[1:]
	}
	return in, rest
}

// inner are the kinds of what enclosures stand in, outermost first.
func inner() []husbandry.PlaceKind {
	return []husbandry.PlaceKind{husbandry.Room, husbandry.Rack, husbandry.Shelf}
}

// kinds tells what the places of the rest of a path are: what is told of them, else
// what their names say, else by where they stand; ok is false where so many cannot
// stand in each other.
func (h *house) kinds(in *spot, rest []string, told []husbandry.PlaceKind) (all []husbandry.PlaceKind, ok bool) {
	left := inner()
	if in.in != nil {
		at := slices.Index(left, in.kind)
		if at < 0 {
			return nil, false // nothing stands in an enclosure
		}
		left = left[at+1:]
	}
	for i, name := range rest {
		said := h.said(name)
		if i < len(told) && told[i] != "" {
			said = told[i]
		}
		if i == len(rest)-1 {
			if !said.Houses() {
				said = husbandry.Enclosure
			}
			return append(all, said), true
		}
		more := len(rest) - 2 - i // that stand between this one and the enclosure
		if len(left) <= more {
			return nil, false
		}
		at := slices.Index(left[:len(left)-more], said)
		if at < 0 {
			at = 0
			if in.in == nil && len(rest) == 2 && h.said(rest[1]) == husbandry.Tub {
				at = slices.Index(left, husbandry.Rack) // the one place that a tub stands in is its rack
			}
		}
		all, left = append(all, left[at]), left[at+1:]
	}
	return all, true
}

// said is the kind that a word of a name says, "" where none does.
func (h *house) said(name string) husbandry.PlaceKind {
	for _, word := range strings.Fields(folded(name)) {
		if kind, ok := h.words.value(placeKind, word); ok {
			return husbandry.PlaceKind(kind)
		}
	}
	return ""
}

// stay reads a row of a list of stays.
func (t *taker) stay(r Row) *model.Refusal {
	wanted := t.sought(r)
	found := t.herd.find(wanted)
	if len(found) > 1 {
		return several(wanted)
	}
	s := importing.Stay{Source: t.source, Note: t.cells.text(r, Remark), NewPlace: -1}
	err := t.faults()
	if wanted == (sought{}) {
		err.keep(mend(Name, "", "name.empty"))
	}
	var refusal *model.Refusal
	s.From, refusal = t.cells.readWhen(r, whenColumns{StayFrom, StayFromTime, Zone})
	if err.keep(refusal); refusal == nil && s.From.IsZero() {
		err.keep(mend(StayFrom, "", "day.empty"))
	}
	s.To, refusal = t.cells.readWhen(r, whenColumns{StayTo, StayToTime, StayToZone})
	err.keep(refusal)
	if err.first != nil {
		return err.first
	}
	if len(found) == 0 && (!t.Strangers || cmpOr(wanted.name, wanted.code) == "") {
		return mend(Name, cmpOr(cmpOr(wanted.name, wanted.code), wanted.chip), "table.stranger")
	}
	at, refusal := t.place(r)
	if refusal != nil {
		return refusal
	}
	if len(found) == 0 {
		stranger, refusal := t.stranger(wanted)
		if refusal != nil {
			return refusal
		}
		found = []*one{stranger}
	}
	s.Of, s.New, s.Place, s.NewPlace = found[0].id, found[0].new, at.id, at.new
	t.Rows.Stays = append(t.Rows.Stays, s)
	return nil
}

// place is the place that a row names, with the columns of what it stands in; it is
// made where it is to be.
func (t *taker) place(r Row) (*spot, *model.Refusal) {
	const longest = 5 * (husbandry.MaxName + 2) // of a path
	text := t.cells.text(r, StayPlace)
	if refusal := model.CheckLine(string(StayPlace), text, longest); refusal != nil {
		return nil, refusal
	}
	if strings.Trim(text, partMark+" ") == "" {
		return nil, mend(StayPlace, text, "text.empty")
	}
	var told []husbandry.PlaceKind // of the path's parts; "": not told
	var outer []string
	for i, f := range within() {
		around := t.cells.text(r, f)
		if refusal := model.CheckLine(string(f), around, longest); refusal != nil {
			return nil, refusal
		}
		for range parts(around) {
			told = append(told, "")
		}
		if names := parts(around); len(names) > 0 {
			outer, told[len(told)-1] = append(outer, names...), inner()[i]
		}
	}
	if len(outer) > 0 {
		text = pathOf(append(outer, parts(text)...))
	}
	found, several := t.house.find(text)
	switch {
	case several:
		return nil, mend(StayPlace, text, "table.places-several")
	case found == nil:
		var refusal *model.Refusal
		if found, refusal = t.newPlace(text, told); refusal != nil {
			return nil, refusal
		}
	}
	if found.id.IsZero() {
		switch t.NewPlaces {
		case PlacesOpen:
			return nil, errWaits
		case PlacesLeft:
			return nil, mend(StayPlace, text, "table.place-unknown")
		}
	}
	return found, nil
}

// newPlace makes what is missing of a path; told are the kinds of its outer parts, as
// far as they are told.
func (t *taker) newPlace(text string, told []husbandry.PlaceKind) (*spot, *model.Refusal) {
	names := parts(text)
	in, rest := t.house.begin(names)
	kinds, ok := t.house.kinds(in, rest, told[min(len(names)-len(rest), len(told)):])
	if !ok {
		return nil, mend(StayPlace, text, "table.place-deep")
	}
	if most := husbandry.MaxPlaces; len(t.Rows.Places)+len(rest) > most {
		refusal := mend(StayPlace, text, "house.many")
		refusal.Gaps = map[string]model.Gap{"Given": model.CountGap(len(t.Rows.Places) + len(rest)), "Most": model.CountGap(most)}
		return nil, refusal
	}
	for i, name := range rest {
		p := husbandry.Place{Name: name, Kind: kinds[i], Parent: in.id}
		if refusal := p.Check(t.Now.Day()); refusal != nil {
			return nil, named(StayPlace, refusal)
		}
	}
	for i, name := range rest {
		s := &spot{new: len(t.Rows.Places), in: in, name: name, kind: kinds[i], below: map[string][]*spot{}}
		t.Rows.Places = append(t.Rows.Places, importing.Place{Source: t.source, Place: husbandry.Place{Name: name, Kind: kinds[i], Parent: in.id}, New: in.new})
		t.house.put(s)
		t.Taken.Places = append(t.Taken.Places, NewPlace{s.path(), s.kind})
		in = s
	}
	clear(t.house.read) // a name that one place went by may be that of two now
	return in, nil
}

// moves gives the stays of a sheet that tells no ends theirs: each lasts until
// the animal's next one of that sheet begins.
func moves(all []importing.Stay, sheet string) {
	type whose struct {
		id  model.AnimalID
		new int
	}
	last := map[whose]int{}
	order := make([]int, 0, len(all))
	for i, s := range all {
		if s.Sheet == sheet {
			order = append(order, i)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int { return int(max(-1, min(1, all[a].From.UTC-all[b].From.UTC))) })
	for _, i := range order {
		of := whose{all[i].Of, all[i].New}
		if !of.id.IsZero() {
			of.new = 0
		}
		if before, ok := last[of]; ok {
			all[before].To = all[i].From
		}
		last[of] = i
	}
}
