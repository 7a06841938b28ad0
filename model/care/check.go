package care

import (
	"slices"
	"strings"

	"coilward/model"
)

// MaxNote is the most signs that a note may have, and MaxPhotos the most photos
// that one entry may have.
const (
	MaxNote   = 10_000
	MaxPhotos = 50
	MaxCount  = 100 // prey items of one meal
)

func mend(field, value, reason string, gaps map[string]model.Gap) *model.Refusal {
	return &model.Refusal{Field: field, Value: value, Reason: reason, Gaps: gaps, Answer: model.Mend}
}

func checkBeside(b Body) *model.Refusal {
	text := b.note()
	if r := model.CheckText("note", text, MaxNote); r != nil {
		return r
	}
	if len(b.photos()) > MaxPhotos {
		return mend("photo", "", "photo.many", map[string]model.Gap{"Most": model.CountGap(MaxPhotos)})
	}
	return nil
}

// Check refuses a stored entry with a value that no command would have taken.
func (e Entry) Check() *model.Refusal {
	if w, ok := e.Body.(Weight); ok && (w.Mass.Milligrams <= 0 || w.Mass.Milligrams > HeaviestMass) {
		return mend("mass", typed(w.Mass), "mass.none", nil)
	}
	return first(checkBeside(e.Body), e.Body.check())
}

func one[T ~string](field string, value T, known ...T) *model.Refusal {
	if value == "" || slices.Contains(known, value) {
		return nil
	}
	return mend(field, string(value), "choice.unknown", nil)
}

func first(refusals ...*model.Refusal) *model.Refusal {
	for _, r := range refusals {
		if r != nil {
			return r
		}
	}
	return nil
}

func (w Weight) check() *model.Refusal { return one("gut", w.Gut, Guts()...) }

func (m Meal) check() *model.Refusal {
	r := first(one("prey", m.Prey, Preys()...), one("prey-size", m.Size, PreySizes()...),
		one("prey-state", m.State, PreyStates()...), one("outcome", m.Outcome, Outcomes()...))
	switch {
	case r != nil:
		return r
	case m.Outcome == "":
		return mend("outcome", "", "outcome.empty", nil)
	case m.Each.Milligrams < 0:
		return mend("prey-mass", m.Each.Typed, "mass.none", nil)
	case m.Each.Milligrams > HeaviestPrey:
		return mend("prey-mass", m.Each.Typed, "prey.heavy", map[string]model.Gap{"Most": model.MassGap(model.Mass{Milligrams: HeaviestPrey})})
	case m.Count < 0 || m.Count > MaxCount:
		return mend("count", "", "count.range", map[string]model.Gap{"Given": model.CountGap(m.Count), "Most": model.CountGap(MaxCount)})
	case m.Outcome != Regurgitated && !m.BroughtUp.IsZero():
		return mend("brought-up", m.BroughtUp.Day.String(), "brought-up.not", nil)
	}
	return nil
}

func (s Shed) check() *model.Refusal {
	return first(one("skin", s.Skin, Whole, InPieces), one("stuck-eye-caps", s.StuckEyeCaps, Yes, No), one("stuck-tail-tip", s.StuckTailTip, Yes, No))
}

func (w Waste) check() *model.Refusal {
	if len(w.Faeces) == 0 && len(w.Urates) == 0 {
		return mend("waste", "", "waste.empty", nil)
	}
	return first(traits("faeces", w.Faeces, FaecesTraits()), traits("urates", w.Urates, UratesTraits()))
}

func traits(field string, seen, known []Trait) *model.Refusal {
	for i, t := range seen {
		switch {
		case !slices.Contains(known, t) || slices.Contains(seen[:i], t):
			return mend(field, string(t), "choice.unknown", nil)
		case t == NoneSeen && len(seen) > 1:
			return mend(field, string(t), "waste.none-alone", nil)
		}
	}
	return nil
}

func (n Note) check() *model.Refusal {
	if strings.TrimSpace(n.Text) == "" && len(n.Photos) == 0 {
		return mend("note", "", "note.empty", nil)
	}
	return nil
}

func (p Photo) check() *model.Refusal {
	if len(p.Photos) == 0 {
		return mend("photo", "", "photo.empty", nil)
	}
	return one("day", p.Dated, ByCamera, ByFile)
}
