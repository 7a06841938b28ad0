package assumed

import (
	"slices"
	"strconv"
	"strings"

	"coilward/model"
	"coilward/model/evidence"
	"coilward/model/knowledge"
)

func mend(field, value, reason string) *model.Refusal {
	return &model.Refusal{Field: field, Value: value, Reason: reason, Answer: model.Mend}
}

// Check refuses figures of which no chance can be worked out, at the field of the value
// that is at fault.
func (o Own) Check(t *knowledge.Tables) *model.Refusal {
	if r := o.sound(); r != nil {
		return r
	}
	if _, _, known := o.Of(t); !known {
		return mend("row", o.ID, "choice.unknown")
	}
	if o.Table == Sights {
		return o.whole(t).way()
	}
	return nil
}

// sound tells what cannot stand whatever the tables say.
func (o Own) sound() *model.Refusal {
	asked := o.Table.Figures()
	if len(asked) == 0 || o.ID == "" {
		return mend("row", o.ID, "choice.unknown")
	}
	for figure := range o.Values {
		if !slices.ContainsFunc(asked, func(a Asked) bool { return a.Figure == figure }) {
			return mend("row", string(figure), "choice.unknown")
		}
	}
	for _, a := range asked {
		value, there := o.Values[a.Figure]
		if !there && a.Since {
			continue
		}
		if r := a.check(value); r != nil {
			return r
		}
		if !there {
			return mend("row", string(a.Figure), "choice.unknown")
		}
	}
	switch {
	case !slices.Contains(Tellers(), o.By):
		return mend("assumed-by", string(o.By), "choice.unknown")
	case strings.TrimSpace(o.Why) == "":
		return mend("why", "", "assumed.why")
	}
	return model.CheckText("why", o.Why, MaxWhy)
}

// check refuses values out of their range or out of order.
func (a Asked) check(s knowledge.Span) *model.Refusal {
	values := [3]int{s.Low, s.Assumed, s.High}
	for i, v := range values {
		if r := a.alone(v); r != nil {
			return a.at(i, v, r.Reason)
		}
	}
	switch {
	case s.Low > s.Assumed:
		return a.at(0, s.Low, "chance.order")
	case s.Assumed > s.High:
		return a.at(2, s.High, "chance.order")
	}
	return nil
}

// alone is what the engine says of one value of a figure, whatever the others are.
func (a Asked) alone(v int) *model.Refusal {
	c := evidence.Case{Animals: []evidence.Animal{{Prior: evidence.Exactly(.5)}}}
	x := evidence.Exactly(float64(v) / float64(max(a.In, 1)))
	// Of a way each is judged beside such values of the others as go with all that are.
	way := evidence.Figures{Sensitivity: .5, Specificity: .999, Spread: 1, Usable: evidence.MostUsable}
	switch a.Figure {
	case Prior:
		c.Animals[0].Prior = x
	case Latent:
		c.Latent.Low, c.Latent.Mid, c.Latent.High = v, v, v
	case Daily:
		c.Animals[0].Exposed = []evidence.Exposure{{Daily: x}}
	case Specificity:
		if way.Sensitivity, way.Specificity = .98, x.Mid; !(x.Mid > 0 && x.Mid < 1) {
			return way.Check()
		}
		return nil // with which sensitivities it goes is judged of the row
	case Share:
		way.Share = x.Mid
		return way.Check()
	case Spread:
		way.Spread = float64(v) / Tenths
		return way.Check()
	case Usable:
		if way.Usable = x.Mid; !(x.Mid > 0 && x.Mid <= evidence.MostUsable) {
			return way.Check()
		}
		return nil // with which sensitivities it goes is judged of the row
	case Sensitivity:
		if !(x.Mid > 0 && x.Mid < 1) {
			way.Sensitivity = x.Mid
			return way.Check()
		}
		return nil
	}
	return c.Check()
}

// inHundred are the refusals of the engine, which counts chances from 0 to 1, as they are
// said where so many in a hundred are typed.
var inHundred = map[string]string{
	"chance.prior": "assumed.prior", "chance.sensitivity": "assumed.sensitivity", "chance.specificity": "assumed.specificity", "chance.share": "assumed.share",
	"chance.latent": "assumed.latent", "chance.daily": "assumed.daily", "chance.order": "assumed.order", "chance.blind": "assumed.blind", "chance.unusable": "assumed.unusable",
	"chance.spread": "assumed.spread", "chance.usable": "assumed.usable",
}

// at is a refusal of one of a figure's values, told as it is typed.
func (a Asked) at(i, v int, reason string) *model.Refusal {
	if said, known := inHundred[reason]; known {
		reason = said
	}
	return mend(a.Fields[i], a.Typed(v), reason)
}

// Typed is a value as it is typed: days, cycles, or so many in a hundred.
func (a Asked) Typed(v int) string {
	switch a.In {
	case 0:
		return strconv.Itoa(v)
	case Tenths:
		return strconv.FormatFloat(float64(v)/Tenths, 'f', -1, 64)
	}
	return strconv.FormatFloat(float64(v)*100/float64(a.In), 'f', -1, 64)
}

// way judges the values of a way of looking together.
func (o Own) way() *model.Refusal {
	asked := o.Table.Figures()
	sensitivity, share, specificity, spread, usable := o.Values[Sensitivity], o.Values[Share], o.Values[Specificity], o.Values[Spread], o.Values[Usable]
	for i, s := range []int{sensitivity.Low, sensitivity.Assumed, sensitivity.High} {
		for _, of := range []int{share.Low, share.Assumed, share.High} {
			figures := evidence.Figures{Sensitivity: float64(s) / 1000, Share: float64(of) / 1000, Specificity: float64(specificity.Assumed) / 1000,
				Spread: float64(spread.Assumed) / Tenths, Usable: float64(usable.Assumed) / 1000}
			if r := figures.Check(); r != nil {
				return asked[0].at(i, s, r.Reason)
			}
		}
	}
	return nil
}

// Sound reads a document of this package and looks for values that no command would
// have taken; known is false where it is of another.
func Sound(d model.Document) (known bool, err error) {
	if d.Type != model.TypeFigures {
		return false, nil
	}
	s, err := Read(d)
	if err != nil {
		return true, err
	}
	if r := s.sound(); r != nil {
		return true, r
	}
	return true, nil
}
