package animal

import (
	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/wording"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/widgets"
)

// doubt says that a weight was taken on a scale that failed its check; empty: it
// was not.
func (l *Life) doubt(t *wording.Text, w care.Weight, at model.Moment) string {
	name, doubtful := l.scales.Doubts(w.With, at)
	if !doubtful {
		return ""
	}
	return t.Say("instruments.doubtful-weight", wording.Gaps{"Scale": name})
}

func (v *weightView) doubt(w care.Weighed) string {
	return v.page.life.doubt(v.page.window.Text(), w.Weight, w.At)
}

// usualScale is the scale that is offered for the next weight.
func (l *Life) usualScale() model.InstrumentID {
	return l.scales.Usual(care.LastScale(l.lastWeights(1)...))
}

// scale asks on which scale the animal was weighed, where there is one, and warns
// of one whose last check failed. One that is no longer used is offered only where
// it is the one that was noted.
func (p *weightPart) scale() fyne.CanvasObject {
	scales, t := p.form.page.life.scales, p.form.window.Text()
	offered := scales.InUse()
	if noted, known := scales[p.with]; known && !noted.Closed.IsZero() {
		offered = append(offered, noted)
	}
	if len(offered) == 0 {
		return widgets.Space(0, 0)
	}
	warned := widgets.Stack()
	warn := func() {
		if warned.Objects = nil; scales[p.with].Failed {
			warned.Objects = []fyne.CanvasObject{widgets.Caution(t.Say("instruments.scale-failed", wording.Gaps{"Scale": scales[p.with].Name}))}
		}
		setVisible(warned, len(warned.Objects) > 0)
		warned.Refresh()
	}
	pick := particulars.NewScalePick(p.form.window, offered, p.with)
	pick.OnPicked = func() {
		p.with = particulars.PickedScale(pick, offered)
		warn()
		if p.form.content != nil {
			p.form.content.Refresh()
		}
	}
	warn()
	return widgets.Col(look.S8, pick.Container, warned)
}
