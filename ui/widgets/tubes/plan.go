package tubes

import (
	"cmp"
	"slices"
	"strings"

	"coilward/ui/look"
)

// Measures in pixels of the window.
const (
	axisHeight = 26 // above the first band
	markHeight = 18 // above each band, for what its mark stands for
	tubeHeight = 44
	laneHeight = tubeHeight + 8
	bandPad    = 8
	thin       = 30 // a band without tubes
	capWidth   = 20
	between    = 8 // tubes of one lane
	lanesMost  = 3 // of a band, before tubes are folded
	lanesFull  = 5 // of a band, before tubes are folded that came days apart
	near       = 2 // tubes that came within so many days are one parcel, one report
)

// The days that the line shows at least and at most; a tube that is longer in its
// stage stands at its end.
const (
	leastDays = 14
	mostDays  = 42
)

// strip is where one band stands.
type strip struct {
	y, height float32
	lanes     int
}

// plan is where everything stands.
type plan struct {
	width, height float32
	gutter        float32 // of the names at the left
	from          float32 // where day 0 is
	perDay        float32
	days          int
	step          int // days from one figure to the next
	strips        []strip
	slots         []slot
}

// at is where a tube begins that has been so many days in its stage.
func (p plan) at(days int) float32 {
	return round(p.from + float32(max(0, min(days, p.days)))*p.perDay)
}

func round(v float32) float32 { return float32(int(v + .5)) }

// tubeWidth is how wide a tube is in a tray of that width.
func tubeWidth(width float32) float32 {
	if width >= 1000 {
		return 268
	}
	return 236
}

// arrange lays the bands out in a width.
func arrange(bands []Band, words Words, width float32) plan {
	p := plan{width: width, days: leastDays}
	for _, b := range bands {
		p.gutter = max(p.gutter, look.Section.Width(b.Title), look.Note.Width(b.Below))
		p.days = max(p.days, b.Mark+2)
		for _, t := range b.Tubes {
			p.days = max(p.days, t.Days, t.Mark+2)
		}
	}
	p.days = min(p.days, mostDays)
	p.gutter = round(max(96, min(p.gutter+16, 190)))
	p.from = p.gutter + 24
	w := tubeWidth(width)
	p.perDay = max(1, width-12-w-p.from) / float32(p.days)
	p.step = 1
	room := look.Note.Width(words.Days(p.days)) + 20
	for _, step := range []int{1, 2, 3, 7, 14} {
		if p.step = step; float32(step)*p.perDay >= room*1.25 { // the first one stands a little to the right
			break
		}
	}
	y := float32(axisHeight)
	for i, b := range bands {
		slots := p.place(i, fold(b.Tubes, 0, words), w)
		for coarse := 1; lanes(slots) > lanesMost && (coarse <= near || lanes(slots) > lanesFull) && coarse <= 2*mostDays; coarse *= 2 {
			slots = p.place(i, fold(b.Tubes, coarse, words), w)
		}
		s := strip{y: y + markHeight, lanes: lanes(slots), height: thin}
		if s.lanes > 0 {
			s.height = float32(s.lanes)*laneHeight - (laneHeight - tubeHeight) + 2*bandPad
		}
		for j := range slots {
			slots[j].y = s.y + bandPad + float32(slots[j].lane)*laneHeight
		}
		p.strips, p.slots = append(p.strips, s), append(p.slots, slots...)
		y = s.y + s.height
	}
	p.height = y + 8
	return p
}

func lanes(slots []slot) (n int) {
	for _, s := range slots {
		n = max(n, s.lane+1)
	}
	return n
}

// place puts slots into lanes, each into the first one with room for it.
func (p plan) place(band int, slots []slot, w float32) []slot {
	var ends []float32
	for i := range slots {
		s := &slots[i]
		s.band, s.x, s.w = band, p.at(s.Days), w
		s.lane = slices.IndexFunc(ends, func(end float32) bool { return end+between <= s.x })
		if s.lane < 0 {
			s.lane, ends = len(ends), append(ends, 0)
		}
		ends[s.lane] = s.x + w
		if act := round(look.NoteBold.Width(s.Act) + 22); s.Act != "" && w-act >= 112 {
			s.actW = act
			s.actX = s.x + w - act - 8
		}
	}
	return slots
}

// fold makes slots of tubes, the shortest in their stage first. Coarse 0 folds
// nothing; else tubes become one that stand within so many days of each other,
// and are alike in sign and act, and of results and of what is ahead in what is told: what is late or was
// found is never hidden among others.
func fold(tubes []Tube, coarse int, words Words) []slot {
	sorted := slices.Clone(tubes)
	slices.SortStableFunc(sorted, func(a, b Tube) int { return cmp.Compare(a.Days, b.Days) })
	type like struct {
		part  int
		sign  Sign
		act   string
		told  string
		whole int // one that is not folded stands alone
	}
	var order []like
	members := map[like][]Tube{}
	for i, t := range sorted {
		k := like{sign: t.Sign, act: t.Act}
		if t.Sign == Found || t.Sign == NotFound || t.Sign == NoAnswer || t.Sign == Ahead {
			k.told = t.Line
		}
		if k.whole = i; coarse > 0 {
			k.part, k.whole = t.Days/coarse, 0
		}
		if len(members[k]) == 0 {
			order = append(order, k)
		}
		members[k] = append(members[k], t)
	}
	var slots []slot
	for _, k := range order {
		slots = append(slots, together(members[k], words))
	}
	slices.SortStableFunc(slots, func(a, b slot) int { return cmp.Compare(a.Days, b.Days) })
	return slots
}

// together is one slot of several tubes: it stands where the longest one does.
func together(tubes []Tube, words Words) slot {
	s := slot{Tube: tubes[len(tubes)-1]}
	var names []string
	chosen, alike := true, true
	for _, t := range tubes {
		alike = alike && t.Line == s.Line && t.Sign != OnWay
		s.keys, names, chosen = append(s.keys, t.Key), append(names, t.Name), chosen && t.Chosen
	}
	s.Chosen = chosen
	if len(tubes) > 1 {
		if s.Name = words.Many(len(tubes)); !alike {
			s.Line = strings.Join(names, ", ")
		}
		s.Tip = s.Name + ": " + strings.Join(names[:min(len(names), 12)], ", ")
		if len(names) > 12 {
			s.Tip += " …"
		}
	}
	return s
}

// under is the slot at a position.
func (p plan) under(x, y float32) (int, bool) {
	for i, s := range p.slots {
		if x >= s.x && x < s.x+s.w && y >= s.y && y < s.y+tubeHeight {
			return i, true
		}
	}
	return 0, false
}

// next is the slot that a key leads to: to the side through all of them, up and
// down to the nearest one of another lane.
func (p plan) next(from, dx, dy int) int {
	if len(p.slots) == 0 {
		return 0
	}
	if dx != 0 {
		return max(0, min(from+dx, len(p.slots)-1))
	}
	here, best, far := p.slots[from], from, float32(0)
	for i, s := range p.slots {
		down := (s.y - here.y) * float32(dy)
		if down <= 0 {
			continue
		}
		if aside := abs(s.x - here.x); best == from || down*1000+aside < far {
			best, far = i, down*1000+aside
		}
	}
	return best
}

func abs(v float32) float32 { return max(v, -v) }
