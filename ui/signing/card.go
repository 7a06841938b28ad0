package signing

import (
	"fyne.io/fyne/v2"

	"coilward/export/handover"
	"coilward/model/wording"
	"coilward/ui/look"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// Card tells of the key: which it is, since when, where it and its copies lie, and what
// can be done. A sample's is not kept.
func (k *Key) Card() fyne.CanvasObject {
	text := k.w.Text()
	if k.w.Keeping().Folder() == "" {
		return widgets.Card(look.S24, widgets.Group(text.Say("signing.title"), text.Say("signing.sample")))
	}
	s := k.state()
	parts := []fyne.CanvasObject{k.present(s)}
	for _, err := range s.unlisted {
		parts = append(parts, widgets.Caution(text.Say("signing.unlisted", wording.Gaps{"Reason": k.why(err)})))
	}
	parts = append(parts, k.copies(s), k.acts(s))
	if len(s.earlier) > 0 {
		parts = append(parts, k.earlier(s))
	}
	return widgets.Card(look.S24, widgets.Group(text.Say("signing.title"), text.Say("signing.what"), append(parts, k.lost(s))...))
}

// present is the key itself.
func (k *Key) present(s state) fyne.CanvasObject {
	text := k.w.Text()
	switch {
	case s.fault != nil:
		return widgets.Caution(k.why(s.fault))
	case s.key.IsZero():
		return widgets.Para(text.Say("signing.none"), look.Body, look.Ink)
	}
	made := text.Say("signing.undated")
	if s.key.Made() != 0 {
		made = text.Say("signing.made", wording.Gaps{"Day": s.key.Made()})
	}
	return widgets.Col(look.S12,
		widgets.Col(look.S4, widgets.Line(text.Say("signing.fingerprint"), look.NoteBold, look.Soft),
			widgets.Line(s.fingerprint(), look.BodyBold, look.Ink), widgets.Para(made, look.Note, look.Soft)),
		widgets.Col(look.S4, widgets.Line(text.Say("signing.file"), look.NoteBold, look.Soft), widgets.Line(k.path, look.Body, look.Ink).CutsFront()))
}

// copies are those among the backups, each with where it lies.
func (k *Key) copies(s state) fyne.CanvasObject {
	text := k.w.Text()
	own, others := s.own()
	parts := []fyne.CanvasObject{widgets.Line(text.Say("signing.copies"), look.NoteBold, look.Soft)}
	for _, c := range own {
		parts = append(parts, k.copy(c, ""))
	}
	second, err := k.w.Keeping().Second()
	switch {
	case s.unseen && !s.key.IsZero() && len(own) == 0:
		parts = append(parts, widgets.Caution(text.Say("signing.copy.unseen-none", wording.Gaps{"Folder": second.Folder})))
	case s.unseen:
		if len(own)+len(others) == 0 {
			parts = append(parts, widgets.Para(text.Say("signing.copy.nowhere"), look.Body, look.Soft))
		}
		parts = append(parts, widgets.Para(text.Say("signing.copy.unseen", wording.Gaps{"Folder": second.Folder}), look.Note, look.Days))
	case s.key.IsZero() && len(others) == 0:
		parts = append(parts, widgets.Para(text.Say("signing.copy.nowhere"), look.Body, look.Soft))
	case !s.key.IsZero() && len(own) == 0:
		parts = append(parts, widgets.Caution(text.Say("signing.copy.none")))
	case len(own) > 0 && !own[len(own)-1].Second && err == nil && second.Folder != "":
		parts = append(parts, widgets.Para(text.Say("signing.copy.not-there"), look.Note, look.Days))
	}
	for _, c := range others {
		of := text.Say("signing.copy.unnamed")
		if print := handover.CopyOf(c.Path); print != "" {
			of = text.Say("signing.copy.of", wording.Gaps{"Key": print})
		}
		parts = append(parts, k.copy(c, of))
	}
	return widgets.Col(look.S8, parts...)
}

func (k *Key) copy(c place.KeyCopy, of string) fyne.CanvasObject {
	text := k.w.Text()
	icon, tone, word := "tick", look.Soft, text.Say("signing.copy.written", wording.Gaps{"When": c.Written})
	if !c.Good {
		icon, tone, word = "caution", look.Days, text.Say("signing.copy.spoilt")
	}
	if of != "" {
		word = of + " " + word
	}
	return widgets.RowTop(look.S8, widgets.NewIcon(icon, 16, tone),
		widgets.Grow(widgets.Col(0, widgets.Line(c.Path, look.Body, look.Ink).CutsFront(), widgets.Para(word, look.Note, tone))))
}

// acts are what can be done, the likeliest first.
func (k *Key) acts(s state) fyne.CanvasObject {
	text := k.w.Text()
	own, _ := s.own()
	act := func(label, icon string, off bool, do func()) fyne.CanvasObject {
		press := widgets.Button(widgets.Plain, widgets.Act{Label: text.Say(label), Icon: icon, Do: do})
		if off || k.busy {
			press.Disable()
		}
		return press
	}
	var acts []fyne.CanvasObject
	add := func(a fyne.CanvasObject) { acts = append(acts, a) }
	back := func() { add(act("signing.back", "undo", false, func() { k.askBack(nil) })) }
	made := func() { add(act("signing.make", "plus", false, func() { k.askNew(nil) })) }
	switch {
	case !s.makable():
		add(act("signing.look-again", "undo", false, k.changed))
	case s.key.IsZero() && len(s.copies) > 0: // which is likelier wanted
		back()
		made()
	case s.key.IsZero():
		made()
		back()
	case len(own) == 0:
		add(act("signing.copy.make", "plus", k.w.ReadOnly(), k.askCopy))
		back()
	default:
		add(act("signing.copy.anew", "plus", k.w.ReadOnly(), k.askCopy))
		back()
	}
	if !s.key.IsZero() {
		acts = append(acts, act("signing.new", "caution", false, k.askOther))
	}
	return widgets.Wrap(look.S8, acts...)
}

// earlier are the keys in whose place others came.
func (k *Key) earlier(s state) fyne.CanvasObject {
	text := k.w.Text()
	parts := []fyne.CanvasObject{widgets.Line(text.Say("signing.earlier"), look.NoteBold, look.Soft), widgets.Para(text.Say("signing.earlier.what"), look.Note, look.Soft)}
	for _, e := range s.earlier {
		made := text.Say("signing.undated")
		if e.Made() != 0 {
			made = text.Say("signing.made", wording.Gaps{"Day": e.Made()})
		}
		press := widgets.Button(widgets.Quiet, widgets.Act{Label: text.Say("signing.again"), Do: func() { k.put(e, nil) }})
		if !s.makable() || k.busy {
			press.Disable()
		}
		parts = append(parts, widgets.Row(look.S8, widgets.Grow(widgets.Col(0, widgets.Line(e.Public().Fingerprint(), look.Body, look.Ink), widgets.Para(made, look.Note, look.Soft))), widgets.Fix(0, 32, press)))
	}
	return widgets.Col(look.S8, parts...)
}

// lost says what to do when passphrase or key is lost.
func (k *Key) lost(s state) fyne.CanvasObject {
	text := k.w.Text()
	key := "signing.lost.key"
	if s.key.IsZero() {
		key = "signing.lost.no-key"
	}
	return widgets.Col(look.S4, widgets.Line(text.Say("signing.lost"), look.NoteBold, look.Soft), widgets.Para(text.Say(key), look.Note, look.Soft),
		widgets.Para(text.Say("signing.lost.before"), look.Note, look.Soft))
}
