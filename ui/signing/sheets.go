package signing

import (
	"context"
	"errors"
	"fmt"
	"io/fs"

	"fyne.io/fyne/v2"

	"coilward/export/handover"
	"coilward/model"
	"coilward/model/wording"
	"coilward/ui/look"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// Need hands on the key. Where there is none it is brought back from a copy, or made. The
// sample leaves no trace: its key goes with it.
func (k *Key) Need(then func(handover.Key)) {
	if k.w.Keeping().Folder() == "" {
		key, err := handover.NewKey()
		if err != nil {
			k.w.Fault("signing.failed", err)
			return
		}
		then(key)
		return
	}
	s := k.state()
	switch {
	case s.fault != nil:
		k.w.Fault("signing.failed", s.fault)
	case !s.key.IsZero():
		then(s.key)
	case len(s.copies) > 0:
		k.askBack(then)
	default:
		k.askNew(then)
	}
}

// why is an error in words.
func (k *Key) why(err error) string {
	var refusal *model.Refusal
	var told interface{ Refusal() *model.Refusal }
	switch {
	case errors.As(err, &refusal):
		return k.w.Text().Refusal(refusal)
	case errors.As(err, &told):
		return k.w.Text().Refusal(told.Refusal())
	}
	return k.w.Text().Say("window.fault.reason", wording.Gaps{"Reason": err.Error()})
}

// task does work once at a time.
func (k *Key) task(name string, work func(ctx context.Context) error, done func(error)) {
	if k.busy {
		return
	}
	k.busy = true
	k.w.Task(k.w.Text().Say(name), func(ctx context.Context, _ func(float64)) error { return work(ctx) }, func(err error) {
		k.busy = false
		done(err)
	})
}

// passphrase is the field in which a new one is typed, and whether what stands in it will
// do; otherwise it is said there.
func (k *Key) passphrase() (*widgets.Field, func() bool) {
	text := k.w.Text()
	field := k.typing()
	return field, func() bool {
		if fault := handover.PassphraseFault(field.Text()); fault != "" {
			field.Refuse(text.Say("signing.passphrase."+fault, wording.Gaps{"Least": handover.LeastPassphrase}))
			return false
		}
		return true
	}
}

// typing is a field for a passphrase. What was said of one goes once another is typed.
func (k *Key) typing() *widgets.Field {
	field := widgets.NewField("", widgets.FieldOptions{Label: k.w.Text().Say("signing.passphrase")})
	field.OnTyped = func(string) { field.Accept() }
	return field
}

// paras are texts one below the other; Least is how long a new passphrase is at least.
func (k *Key) paras(keys ...string) (parts []fyne.CanvasObject) {
	for _, key := range keys {
		parts = append(parts, widgets.Para(k.w.Text().Say(key, wording.Gaps{"Least": handover.LeastPassphrase}), look.Body, look.Ink))
	}
	return parts
}

// askNew asks once for the passphrase of the copy, and makes the first key, or the one
// after a damaged one. then may be nil.
func (k *Key) askNew(then func(handover.Key)) {
	what := []string{"signing.make.what", "signing.passphrase.what"}
	if len(k.state().copies) > 0 {
		what = append([]string{"signing.make.despite"}, what...)
	}
	k.askMake("signing.make.title", "signing.make.copy", handover.Key{}, then, k.paras(what...)...)
}

// askOther asks whether another key is to follow the present one.
func (k *Key) askOther() {
	s := k.state()
	if s.key.IsZero() {
		k.changed()
		return
	}
	was := widgets.Para(k.w.Text().Say("signing.new.was", wording.Gaps{"Key": s.fingerprint()}), look.Body, look.Ink)
	k.askMake("signing.new.title", "signing.new.copy", s.key, nil, append([]fyne.CanvasObject{was}, k.paras("signing.new.what", "signing.new.stays", "signing.passphrase.what")...)...)
}

func (k *Key) askMake(title, do string, was handover.Key, then func(handover.Key), what ...fyne.CanvasObject) {
	text := k.w.Text()
	phrase, sound := k.passphrase()
	var leave func()
	with := func() {
		if sound() {
			leave()
			k.make(was, phrase.Text(), then)
		}
	}
	phrase.OnEnter = with
	leave = k.w.ShowSheet(widgets.Sheet{
		Title: text.Say(title), Width: 560,
		Content: widgets.Col(look.S16, append(what, phrase.Container)...),
		Acts: []widgets.Act{{Label: text.Say(do), Key: "Enter", Do: with},
			{Label: text.Say("signing.make.without"), Do: func() { leave(); k.make(was, "", then) }}},
		Cancel: text.Say("window.cancel"), First: phrase.Focusable(),
	})
}

// make makes a key in the place of was, and, with a passphrase, its copy.
func (k *Key) make(was handover.Key, passphrase string, then func(handover.Key)) {
	var made handover.Key
	var copied error
	keeping, day := k.w.Keeping(), k.w.Now().Day()
	k.task("signing.make.making", func(ctx context.Context) error {
		key, err := handover.NewKey()
		if err != nil {
			return err
		}
		if _, err = handover.ReplaceKey(k.path, key.On(day), was); err != nil {
			return err
		}
		made = key.On(day)
		if passphrase != "" {
			copied = keep(ctx, keeping, made, passphrase)
		}
		return nil
	}, func(err error) {
		switch {
		case err != nil:
			k.failed(err)
		case copied != nil: // the key is kept all the same
			k.uncopied(copied)
		}
		k.changed()
		if !made.IsZero() && then != nil {
			then(made)
		}
	})
}

// failed says why the key is not another.
func (k *Key) failed(err error) {
	if errors.Is(err, handover.ErrAnother) || errors.Is(err, fs.ErrExist) {
		k.w.Tell(k.w.Text().Say("signing.failed"), k.w.Text().Say("signing.another"))
		return
	}
	k.w.Fault("signing.failed", err)
}

// keep makes the encrypted copy of a key.
func keep(ctx context.Context, keeping place.Keeping, key handover.Key, passphrase string) error {
	raw, err := handover.Lock(key, passphrase)
	if err == nil {
		err = ctx.Err() // it was stopped meanwhile
	}
	if err != nil {
		return err
	}
	if err := keeping.KeepKeyCopy(handover.CopyName(key.Public()), raw); err != nil {
		return fmt.Errorf("keep a copy of the key: %w", err)
	}
	return nil
}

// uncopied says why the copy lies not at both places.
func (k *Key) uncopied(err error) {
	if errors.Is(err, context.Canceled) { // the person stopped it; the card says that there is none
		return
	}
	tried := "signing.copy.failed"
	if atSecond(err) {
		tried = "signing.copy.here-alone"
	}
	k.w.Fault(tried, err)
}

// askCopy asks for the passphrase of a new copy, which takes the place of an older one.
func (k *Key) askCopy() {
	text := k.w.Text()
	s := k.state()
	if s.key.IsZero() {
		k.changed()
		return
	}
	what := k.paras("signing.copy.what", "signing.passphrase.what")
	if own, _ := s.own(); len(own) > 0 {
		what = append(what, k.paras("signing.copy.replaces")...)
	}
	phrase, sound := k.passphrase()
	var leave func()
	do := func() {
		if !sound() {
			return
		}
		leave()
		keeping, typed := k.w.Keeping(), phrase.Text()
		k.task("signing.copy.making", func(ctx context.Context) error { return keep(ctx, keeping, s.key, typed) }, func(err error) {
			if err != nil {
				k.uncopied(err)
			}
			k.changed()
		})
	}
	phrase.OnEnter = do
	leave = k.w.ShowSheet(widgets.Sheet{
		Title: text.Say("signing.copy.title"), Width: 560, Content: widgets.Col(look.S16, append(what, phrase.Container)...),
		Acts:   []widgets.Act{{Label: text.Say("signing.copy.make"), Key: "Enter", Do: do}},
		Cancel: text.Say("window.cancel"), First: phrase.Focusable(),
	})
}

// askBack asks from which copy a key is brought back, where there are several. then is for
// who needs a key now, and is offered a new one too; it may be nil.
func (k *Key) askBack(then func(handover.Key)) {
	text := k.w.Text()
	all := named(k.state().copies)
	switch len(all) {
	case 0:
		k.elsewhere(then)
		return
	case 1:
		k.askOpen(all[0], then)
		return
	}
	choices := make([]widgets.Choice, 0, len(all)+1)
	for _, h := range all {
		choices = append(choices, widgets.Choice{Label: k.called(h), Detail: text.Say("signing.copy.written", wording.Gaps{"When": h.newest.Written})})
	}
	choices = append(choices, widgets.Choice{Label: text.Say("signing.back.elsewhere")})
	list := widgets.NewChoiceList(text.Say("window.search"), text.Say("window.search.none"), choices)
	var leave func()
	list.OnChosen = func(i int) {
		leave()
		if i == len(all) {
			k.elsewhere(then)
			return
		}
		k.askOpen(all[i], then)
	}
	sheet := widgets.Sheet{Title: text.Say("signing.back.which"), Width: 560, Content: list.Container, Cancel: text.Say("window.cancel"), First: list.Search().Focusable()}
	leave = k.w.ShowSheet(sheet)
}

// called is a copy by the key in it.
func (k *Key) called(h held) string {
	if h.fingerprint == "" {
		return k.w.Text().Say("signing.copy.unnamed")
	}
	return h.fingerprint
}

// elsewhere opens a copy that lies among no backups.
func (k *Key) elsewhere(then func(handover.Key)) {
	k.w.ChooseFile([]string{handover.CopyEnd}, func(path string) {
		k.askOpen(held{fingerprint: handover.CopyOf(path), paths: []string{path}}, then)
	})
}

// askOpen asks for the passphrase of a copy and puts its key in place.
func (k *Key) askOpen(h held, then func(handover.Key)) {
	text := k.w.Text()
	phrase := k.typing()
	var leave func()
	left := false
	open := func() {
		if phrase.Text() == "" {
			phrase.Refuse(text.Say("signing.passphrase.none"))
			return
		}
		typed := phrase.Text()
		var key handover.Key
		k.task("signing.back.opening", func(ctx context.Context) (err error) {
			if key, err = unlock(h.paths, typed); err == nil {
				err = ctx.Err() // it was stopped meanwhile
			}
			return err
		}, func(err error) {
			switch {
			case left, errors.Is(err, context.Canceled): // the person wants it no more
			case errors.Is(err, handover.ErrPassphrase):
				phrase.Refuse(text.Say("signing.passphrase.wrong"))
			case err != nil:
				phrase.Refuse(k.why(err))
			default:
				leave()
				k.put(key, then)
			}
		})
	}
	phrase.OnEnter = open
	what := []fyne.CanvasObject{}
	if then != nil {
		what = append(what, k.paras("signing.back.first")...)
	} else {
		what = append(what, k.paras("signing.back.what")...)
	}
	for _, path := range h.paths {
		what = append(what, widgets.Line(path, look.Note, look.Soft).CutsFront())
	}
	if h.fingerprint != "" {
		what = append(what, widgets.Para(text.Say("signing.back.key", wording.Gaps{"Key": h.fingerprint}), look.Body, look.Ink))
	}
	acts := []widgets.Act{{Label: text.Say("signing.back"), Key: "Enter", Do: open},
		{Label: text.Say("signing.back.elsewhere"), Do: func() { left = true; leave(); k.elsewhere(then) }}}
	if then != nil { // who has lost the passphrase can go on
		acts = append(acts, widgets.Act{Label: text.Say("signing.back.rather-new"), Do: func() { left = true; leave(); k.askNew(then) }})
	}
	leave = k.w.ShowSheet(widgets.Sheet{
		Title: text.Say("signing.back"), Width: 640, Content: widgets.Col(look.S16, append(what, phrase.Container)...),
		Acts: acts, Cancel: text.Say("window.cancel"), First: phrase.Focusable(), OnLeave: func() { left = true },
	})
}

// put makes a key the present one. Where another is, it asks before.
func (k *Key) put(key handover.Key, then func(handover.Key)) {
	text := k.w.Text()
	s := k.state()
	now := func(was handover.Key) {
		_, err := handover.ReplaceKey(k.path, key, was)
		if err != nil {
			k.failed(err)
			k.changed()
			return
		}
		k.changed()
		if then != nil {
			then(key)
			return
		}
		k.w.Tell(text.Say("signing.back.done"), text.Say("signing.back.is", wording.Gaps{"Key": key.Public().Fingerprint()}))
	}
	switch {
	case !s.makable():
		k.w.Fault("signing.failed", s.fault)
	case s.key.IsZero():
		now(handover.Key{})
	case s.key.Same(key):
		k.w.Tell(text.Say("signing.back.same"), text.Say("signing.back.is", wording.Gaps{"Key": s.fingerprint()}))
		if then != nil {
			then(key)
		}
	default:
		var leave func()
		leave = k.w.ShowSheet(widgets.Sheet{
			Title: text.Say("signing.put.title"), Width: 560,
			Content: widgets.Col(look.S12, widgets.Para(text.Say("signing.put.what", wording.Gaps{"Key": key.Public().Fingerprint(), "Was": s.fingerprint()}), look.Body, look.Ink)),
			Acts:    []widgets.Act{{Label: text.Say("signing.put.do"), Do: func() { leave(); now(s.key) }}},
			Cancel:  text.Say("window.cancel"),
		})
	}
}
