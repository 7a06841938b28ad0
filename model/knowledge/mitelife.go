package knowledge

import "slices"

// MiteStageID names a stage of a snake mite's life. Values are frozen; the text is
// "mites.life." + id.
type MiteStageID string

// The stages that the longest time without a snake is reckoned from.
const (
	MiteEgg        MiteStageID = "egg"
	MiteLarva      MiteStageID = "larva"
	MiteUnfedNymph MiteStageID = "unfed-nymph"
	MiteAdult      MiteStageID = "adult"
)

// MiteStage is one stage with what each source says of how long it lasts.
type MiteStage struct {
	ID    MiteStageID
	Unfed bool // it is how long one lives that finds no snake
	Said  []MiteSaid
}

// MiteSaid is what one source says, in hours.
type MiteSaid struct {
	From   int // 0: it tells only the longest
	To     int
	Source string
}

// Hours are the shortest and the longest time that any source tells.
func (s MiteStage) Hours() (least, most int) {
	for _, said := range s.Said {
		if said.From > 0 && (least == 0 || said.From < least) {
			least = said.From
		}
		most = max(most, said.To)
	}
	return least, most
}

// MiteLife are the stages in their order.
func (t *Tables) MiteLife() []MiteStage { return t.miteLife }

// LongestMites are how many hours mites can outlive their last snake at the most, by
// the longest times of all sources: from an egg that was just laid to a nymph that
// starves, and as an adult. A female that lays at the end of her life adds both up.
func (t *Tables) LongestMites() (chain, adult int) {
	for _, s := range t.miteLife {
		_, most := s.Hours()
		switch s.ID {
		case MiteEgg, MiteLarva, MiteUnfedNymph:
			chain += most
		case MiteAdult:
			adult = most
		}
	}
	return chain, adult
}

// mostMiteHours bounds a stage: a year.
const mostMiteHours = 366 * 24

func (l *loading) miteStage(r row) {
	id := MiteStageID(l.id(r, false))
	said := MiteSaid{From: l.number(r, "from", 0, mostMiteHours), To: l.number(r, "to", 1, mostMiteHours), Source: r.cell("source")}
	if said.From > said.To {
		l.fault(r, "from", "want no more than to")
	}
	unfed := l.yes(r, "unfed")
	if i := slices.IndexFunc(l.t.miteLife, func(s MiteStage) bool { return s.ID == id }); i >= 0 {
		if l.t.miteLife[i].Unfed != unfed {
			l.fault(r, "unfed", "want what the stage's earlier row says")
		}
		l.t.miteLife[i].Said = append(l.t.miteLife[i].Said, said)
		return
	}
	l.t.miteLife = append(l.t.miteLife, MiteStage{ID: id, Unfed: unfed, Said: []MiteSaid{said}})
}
