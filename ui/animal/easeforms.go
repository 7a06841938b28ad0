package animal

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"
	"time"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/knowledge"
	"coilward/model/welfare"
	"coilward/model/wording"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// open puts a form beside the page. Its keys are those that no field has a use for; close
// ends what it has going on.
func (v *easeView) show(f *particulars.SideForm, keys func(rune) bool, close func()) {
	v.form, v.keys, v.close = f, keys, close
	v.page.build()
	v.page.window.Focus(f.First())
}

// begin reports whether another form may be opened: one with something that is not kept
// stays, and says so.
func (v *easeView) begin() bool {
	if v.page.window.ReadOnly() || v.form != nil && v.form.Holds() || v.page.holds() {
		return false
	}
	v.leave(false)
	v.page.leave()
	v.page.form, v.page.who, v.page.reading = nil, nil, nil
	return true
}

// leave takes the form away.
func (v *easeView) leave(build bool) {
	if v.close != nil {
		v.close()
	}
	v.form, v.keys, v.close = nil, nil, nil
	if build {
		v.page.build()
		v.page.window.Focus(nil)
	}
}

func (v *easeView) left() {
	v.page.returns = false
	v.leave(true)
}

func (v *easeView) kept() {
	v.leave(false)
	if v.page.returns {
		v.page.returns = false
		v.page.window.Back()
		return
	}
	v.page.load()
	v.page.window.Focus(nil)
}

// correct opens an entry to be put right.
func (v *easeView) correct(e welfare.Entry) {
	switch e.Body.(type) {
	case welfare.Observation:
		v.tally(&e)
	case welfare.Handling:
		v.handling(&e)
	case welfare.Change:
		v.change(&e)
	case welfare.PersonContact:
		v.contact(&e)
	}
}

// about is the head of an entry's command as it stands in a form.
func (v *easeView) about(f *particulars.SideForm, e *welfare.Entry, a place.Answer) (about care.About, id model.EntryID, base uint32, err error) {
	before, by := model.Moment{}, v.page.window.By()
	if e != nil {
		before, by, id, base = e.At, e.By, e.ID, e.Revision
	}
	at, err := f.Moment("day", before)
	return care.About{Animal: v.page.id, At: at, By: by, Confirmed: a.Confirmed}, id, base, err
}

// day is the field of the day.
func (v *easeView) day(f *particulars.SideForm, e *welfare.Entry) fyne.CanvasObject {
	day := v.page.today
	if e != nil {
		day = e.At.Day()
	}
	return f.Day("day", "", day)
}

// build makes a form of its parts, with a way to take out an entry that is put right.
func (v *easeView) build(f *particulars.SideForm, title string, e *welfare.Entry, parts ...fyne.CanvasObject) {
	if e != nil {
		id := e.ID
		parts = append(parts, widgets.Row(0, widgets.Button(widgets.Quiet, widgets.Act{Label: v.say("animal.form.remove"), Icon: "bin", Do: func() {
			f.Do(welfare.Remove{Entry: id}, v.kept)
		}}), widgets.Fill()))
	}
	f.Done = v.kept
	f.Build(v.say(title), v.say("particulars.keep"), v.left, parts...)
}

// mostCount is what is read of a count of breaths or its seconds; the command has their bounds.
const mostCount = 900

// firstSetting is the figure that chooses the first of the settings in the tally; those before it
// are signs.
const firstSetting = 5

// numbered puts before each setting the figure that chooses it.
func numbered(i int, words string) string { return strconv.Itoa(firstSetting+i) + "  " + words }

// settings chooses what was done meanwhile, under a caption; called words them, where they are not said
// bare.
func (v *easeView) settings(caption string, chosen knowledge.Setting, called func(int, string) string, pick func(knowledge.Setting)) *particulars.Few {
	var words []string
	for i, s := range knowledge.Settings() {
		said := v.say("setting." + string(s))
		if called != nil {
			said = called(i, said)
		}
		words = append(words, said)
	}
	return particulars.NewFew(v.say(caption), texts(knowledge.Settings()), words, string(chosen), func(s string) { pick(knowledge.Setting(s)) })
}

// signs are the buttons of the signs that a setting offers: unease, ease, neither.
type signs struct {
	view    *easeView
	setting knowledge.Setting
	chosen  []knowledge.SignID
	none    bool
	counts  bool // several are chosen
	sheet   bool // they stand beside the looks of a sheet, which say whether there was none
	box     *fyne.Container
	pressed func(knowledge.SignID) // what a press does
}

// kept are the chosen signs that the setting offers, and apart those that it does not: they come
// back with a setting that does.
func (s *signs) kept() (all []knowledge.SignID) { return s.parted(true) }

func (s *signs) apart() (all []knowledge.SignID) { return s.parted(false) }

func (s *signs) parted(offered bool) (all []knowledge.SignID) {
	for _, id := range s.chosen {
		if sign, _ := s.view.page.window.Tables().Sign(id); (sign.Says[s.setting] != knowledge.NotOffered) == offered {
			all = append(all, id)
		}
	}
	return all
}

func (s *signs) has(id knowledge.SignID) bool { return slices.Contains(s.chosen, id) }

// toggle takes a sign in, or out again.
func (s *signs) toggle(id knowledge.SignID) {
	s.none = false
	if i := slices.Index(s.chosen, id); i >= 0 {
		s.chosen = slices.Delete(s.chosen, i, i+1)
	} else {
		s.chosen = append(s.chosen, id)
	}
	s.show()
}

func (s *signs) nothing() {
	if s.sheet {
		return
	}
	s.none, s.chosen = !s.none, nil
	s.show()
}

// said names what is chosen, so that it is in sight wherever its button is.
func (s *signs) said() string {
	switch kept := s.kept(); {
	case s.none:
		return s.view.say("ease.none")
	case len(kept) == 0 && s.counts && !s.sheet:
		return s.view.say("ease.nothing-chosen")
	default:
		return s.names(kept)
	}
}

func (s *signs) names(of []knowledge.SignID) string {
	var names []string
	for _, id := range of {
		names = append(names, s.view.say("sign."+string(id)))
	}
	return joined(names...)
}

// offered are the signs of the setting that say so.
func (s *signs) offered(says knowledge.Valence) (all []knowledge.Sign) {
	for _, sign := range s.view.page.window.Tables().Signs() {
		if sign.Says[s.setting] == says {
			all = append(all, sign)
		}
	}
	return all
}

// key takes a letter or figure of a sign; 0 is none of them, 5 to 9 are the settings.
func (s *signs) key(r rune) bool {
	for _, sign := range s.view.page.window.Tables().Signs() {
		if sign.Key == r && sign.Says[s.setting] != knowledge.NotOffered {
			s.pressed(sign.ID)
			return true
		}
	}
	return false
}

func (s *signs) show() {
	column := func(title string, says knowledge.Valence) fyne.CanvasObject {
		col := widgets.Col(look.S4, widgets.Para(s.view.say(title), look.NoteBold, look.Soft))
		for _, sign := range s.offered(says) {
			grade := 0
			if s.has(sign.ID) {
				grade = -1
			}
			col.Add(widgets.Finding(strings.ToUpper(string(sign.Key)), s.view.say("sign."+string(sign.ID)), grade, func() { s.pressed(sign.ID) }))
		}
		return col
	}
	none := 0
	if s.none {
		none = -1
	}
	parts := []fyne.CanvasObject{}
	if said := s.said(); said != "" {
		parts = append(parts, widgets.Para(said, look.BodyBold, look.Ink))
	}
	if apart := s.apart(); len(apart) > 0 {
		parts = append(parts, widgets.Caution(s.view.say("ease.apart", map[string]any{"Signs": s.names(apart), "Setting": s.view.say("setting." + string(s.setting))})))
	}
	if s.counts && !s.sheet {
		parts = append(parts, widgets.Finding("0", s.view.say("ease.none"), none, s.nothing))
	}
	s.box.Objects = []fyne.CanvasObject{widgets.Col(look.S12, append(parts,
		widgets.RowTop(look.S8, widgets.GrowBy(1, column("ease.unease", knowledge.Unease)), widgets.GrowBy(1, column("ease.ease", knowledge.Ease))),
		column("ease.neither", knowledge.Neither), s.means())...)}
	s.box.Refresh()
}

// means are what the chosen signs can mean, with their sources.
func (s *signs) means() fyne.CanvasObject {
	col := widgets.Col(look.S4)
	t := s.view.page.window.Text()
	for _, id := range s.kept() {
		if sign, known := s.view.page.window.Tables().Sign(id); known {
			col.Add(widgets.Para(t.Say("ease.means", wording.Gaps{"Sign": t.Say("sign." + string(id)), "Means": t.Say("sign." + string(id) + ".means"), "Source": t.Source(sign.Source)}), look.Note, look.Soft))
		}
	}
	return col
}

// tally notes what was seen on a visit, by keys; with an entry it puts that one right.
func (v *easeView) tally(e *welfare.Entry) {
	if !v.begin() {
		return
	}
	f := particulars.NewSideForm(v.page.window)
	o := welfare.Observation{Setting: knowledge.Untouched}
	if e != nil {
		o = e.Body.(welfare.Observation)
	}
	s := &signs{view: v, setting: o.Setting, chosen: slices.Clone(o.Signs), none: o.None, counts: true, sheet: len(o.Scans) > 0, box: widgets.Stack()}
	s.pressed = s.toggle
	few := v.settings("field.setting", o.Setting, numbered, func(in knowledge.Setting) {
		s.setting = in
		s.show()
		f.Refresh()
	})
	s.show()
	parts := []fyne.CanvasObject{widgets.Para(v.say("ease.tally-how"), look.Note, look.Soft), few.Container}
	if s.sheet {
		parts = append(parts, widgets.Col(look.S4, widgets.Para(v.say("field.scans"), look.NoteBold, look.Soft), v.looks(o.Scans)))
	}
	parts = append(parts, s.box)
	t := v.page.window.Text()
	if o.Breaths != nil {
		parts = append(parts, f.Field("breaths", t.Number(int64(o.Breaths.Count)), widgets.FieldOptions{}), f.Field("breath-seconds", t.Number(int64(o.Breaths.Seconds)), widgets.FieldOptions{}))
	}
	f.Command = func(a place.Answer) (model.Command, error) {
		about, id, base, later := v.about(f, e, a) // its day stands below the numbers
		var err error
		seen := welfare.Observation{Setting: s.setting, Signs: s.kept(), None: s.none, Scans: o.Scans, Note: f.Text("note")}
		if s.sheet {
			seen.None = len(seen.Seen()) == 0
		}
		if o.Breaths != nil {
			seen.Breaths = &welfare.Breaths{}
			for _, n := range []struct {
				name string
				into *int
			}{{"breaths", &seen.Breaths.Count}, {"breath-seconds", &seen.Breaths.Seconds}} {
				if *n.into, err = t.ParseCount(f.Text(n.name), mostCount); err != nil {
					return nil, particulars.At(n.name, err)
				}
			}
		}
		return welfare.Observe{Tables: v.page.window.Tables(), About: about, Observation: seen, Entry: id, Base: base}, later
	}
	f.Chosen = func() string { return fmt.Sprint(s.setting, s.chosen, s.none) }
	f.Keys = func() fyne.Focusable { return nil }
	v.build(f, "ease.act.tally", e, append(parts, v.day(f, e), f.Field("note", o.Note, widgets.FieldOptions{Rows: 2}))...)
	v.show(f, func(r rune) bool {
		switch {
		case r == '0':
			s.nothing()
		case r >= '0'+firstSetting && r <= '9':
			few.Choose(int(r - '0' - firstSetting))
		default:
			return s.key(r)
		}
		return true
	}, nil)
}

// handling notes how the animal was handled.
func (v *easeView) handling(e *welfare.Entry) {
	if !v.begin() {
		return
	}
	f := particulars.NewSideForm(v.page.window)
	t, tables := v.page.window.Text(), v.page.window.Tables()
	var h welfare.Handling
	if e != nil {
		h = e.Body.(welfare.Handling)
	}
	number := func(name string, n int) fyne.CanvasObject {
		typed := ""
		if n > 0 {
			typed = t.Number(int64(n))
		}
		return f.Field(name, typed, widgets.FieldOptions{})
	}
	var why []string
	var words []widgets.Choice
	for _, r := range tables.Restraints() {
		why, words = append(why, string(r.ID)), append(words, widgets.Choice{Label: t.Say("restraint." + string(r.ID))})
	}
	held := particulars.NewPick(v.page.window, v.say("field.restraint-why"), v.say("ease.not-held"), why, words, string(h.Why))
	came := h.Came
	tick := widgets.NewTick(came, v.say("ease.came-tick"), "", func(on bool) { came = on })
	parts := []fyne.CanvasObject{}
	if e == nil && len(v.against) > 0 {
		var reasons []string
		for _, a := range v.against {
			reasons = append(reasons, v.say("welfare.against."+string(a)))
		}
		parts = append(parts, widgets.Caution(v.say("ease.better-not")+" "+strings.Join(reasons, "; ")))
	}
	stop := v.say("ease.stop", map[string]any{"Times": tables.Value(knowledge.ValueDrewBack), "Minutes": tables.Value(knowledge.ValueHandMost)})
	parts = append(parts, number("lifts", h.Lifts), number("hand-minutes", h.Hand), number("container-minutes", h.Container), number("restraint-minutes", h.Restraint),
		f.Picks("restraint-why", held), tick.Row, number("drew-back", h.DrewBack), widgets.Para(stop, look.Note, look.Soft), v.day(f, e), f.Field("note", h.Note, widgets.FieldOptions{Rows: 2}),
		widgets.Caution(v.say("ease.hygiene")))
	f.Command = func(a place.Answer) (model.Command, error) {
		about, id, base, later := v.about(f, e, a) // its day stands below the numbers
		var err error
		got := welfare.Handling{Why: knowledge.RestraintID(held.Value()), Came: came, Note: f.Text("note")}
		for _, n := range []struct {
			name string
			into *int
			most int
		}{{"lifts", &got.Lifts, 100}, {"hand-minutes", &got.Hand, mostMinutes}, {"container-minutes", &got.Container, mostMinutes}, {"restraint-minutes", &got.Restraint, mostMinutes}, {"drew-back", &got.DrewBack, 100}} {
			if typed := f.Text(n.name); typed != "" {
				if *n.into, err = t.ParseCount(typed, n.most); err != nil {
					return nil, particulars.At(n.name, err)
				}
			}
		}
		return welfare.Handle{Tables: tables, About: about, Handling: got, Entry: id, Base: base}, later
	}
	f.Chosen = func() string { return fmt.Sprint(held.Value(), came) }
	v.build(f, "ease.act.handling", e, parts...)
	v.show(f, nil, nil)
}

// change notes a change that is tried from a day on.
func (v *easeView) change(e *welfare.Entry) {
	if !v.begin() {
		return
	}
	f := particulars.NewSideForm(v.page.window)
	c := welfare.Change{Setting: knowledge.Untouched, Hoped: welfare.LessUnease}
	if e != nil {
		c = e.Body.(welfare.Change)
	}
	settings := v.settings("ease.judged-by", c.Setting, nil, func(s knowledge.Setting) { c.Setting = s })
	var words []string
	for _, h := range welfare.Hopes() {
		words = append(words, v.say("welfare.hoped."+string(h)))
	}
	hopes := particulars.NewFew(v.say("field.hoped"), texts(welfare.Hopes()), words, string(c.Hoped), func(h string) { c.Hoped = welfare.Hoped(h) })
	tick := widgets.NewTick(c.AfterBad, v.say("ease.after-bad-tick"), "", func(on bool) { c.AfterBad = on })
	weeks := v.page.window.Tables().Value(knowledge.ValueHelpWeeks)
	f.Command = func(a place.Answer) (model.Command, error) {
		about, id, base, err := v.about(f, e, a)
		c.What, c.Note = f.Text("change-what"), f.Text("note")
		return welfare.Try{About: about, Change: c, Entry: id, Base: base}, err
	}
	f.Chosen = func() string { return fmt.Sprint(c.Setting, c.Hoped, c.AfterBad) }
	v.build(f, "ease.act.change", e, f.Field("change-what", c.What, widgets.FieldOptions{}), v.day(f, e), settings.Container, hopes.Container, tick.Row,
		widgets.Para(v.say("ease.change-how", map[string]any{"Weeks": weeks}), look.Note, look.Soft), f.Field("note", c.Note, widgets.FieldOptions{Rows: 2}))
	v.show(f, nil, nil)
}

// contact notes what befell a person, as an entry about that person; with an entry it puts that one
// right, which keeps its person.
func (v *easeView) contact(e *welfare.Entry) {
	if !v.begin() {
		return
	}
	f := particulars.NewSideForm(v.page.window)
	c := welfare.PersonContact{What: welfare.Bite, Animal: v.page.id}
	who, asked := v.who(f, e)
	if e != nil {
		c = e.Body.(welfare.PersonContact)
	}
	var words []string
	for _, c := range welfare.Contacts() {
		words = append(words, v.say("welfare.contact."+string(c)))
	}
	few := particulars.NewFew(v.say("field.contacted"), texts(welfare.Contacts()), words, string(c.What), func(what string) { c.What = welfare.Contacted(what) })
	f.Command = func(a place.Answer) (model.Command, error) {
		about, id, base, err := v.about(f, e, a)
		c.Note = f.Text("note")
		return welfare.NoteContact{Person: who(), At: about.At, By: about.By, Confirmed: a.Confirmed, PersonContact: c, Entry: id, Base: base}, err
	}
	f.Chosen = func() string { return fmt.Sprint(who(), c.What, c.Washed, c.Doctor) }
	v.build(f, "ease.act.person", e, widgets.Caution(v.say("ease.person-caution")), asked, few.Container,
		widgets.NewTick(c.Washed, v.say("ease.washed"), "", func(on bool) { c.Washed = on }).Row, widgets.NewTick(c.Doctor, v.say("ease.doctor"), "", func(on bool) { c.Doctor = on }).Row,
		v.day(f, e), f.Field("note", c.Note, widgets.FieldOptions{Rows: 2}), widgets.Para(v.say("ease.people-how"), look.Note, look.Soft))
	v.show(f, nil, nil)
}

// who asks for a person, and tells who is chosen. An entry keeps its person.
func (v *easeView) who(f *particulars.SideForm, e *welfare.Entry) (chosen func() model.PersonID, asked fyne.CanvasObject) {
	all := v.page.life.People
	if e != nil {
		return func() model.PersonID { return e.Person }, widgets.Col(look.S4, widgets.Para(v.say("field.person"), look.NoteBold, look.Soft), widgets.Para(all[e.Person], look.Body, look.Ink))
	}
	var ids []string
	var names []widgets.Choice
	for _, id := range slices.SortedFunc(maps.Keys(all), func(a, b model.PersonID) int {
		return cmp.Or(strings.Compare(all[a], all[b]), strings.Compare(a.String(), b.String()))
	}) {
		ids, names = append(ids, id.String()), append(names, widgets.Choice{Label: all[id]})
	}
	pick := particulars.NewPick(v.page.window, v.say("field.person"), v.say("ease.no-person"), ids, names, "")
	asked = f.Picks("person", pick)
	if len(ids) == 0 {
		asked = widgets.Col(look.S4, asked, widgets.Para(v.say("ease.nobody"), look.Note, look.Soft))
	}
	return func() model.PersonID {
		id, err := model.ParseID(pick.Value())
		if err != nil {
			return model.PersonID{} // nobody is chosen, which the command says at its field
		}
		return model.PersonID{ID: id}
	}, asked
}

// clock runs while a form counts: each frame asks what time it is, and says it when a second
// has gone by. What it shows hangs on the window's clock alone.
type clock struct {
	view  *easeView
	from  int64 // second of its beginning; 0: not begun
	shown int64
	tick  func(seconds int)
	runs  *fyne.Animation
}

// longest is how long a clock runs at the most.
const longest = 2 * time.Hour

func (c *clock) begin() {
	c.from, c.shown = c.view.page.window.Now().UTC, -1
	c.runs = &fyne.Animation{Duration: longest, Curve: fyne.AnimationLinear, Tick: func(float32) {
		if s := int64(c.seconds()); c.from > 0 && s != c.shown {
			c.shown = s
			c.tick(int(s))
		}
	}}
	c.runs.Start()
}

func (c *clock) seconds() int {
	if c.from == 0 {
		return 0
	}
	return int(c.view.page.window.Now().UTC - c.from)
}

// end stops it, and gives the seconds that it ran.
func (c *clock) end() int {
	ran := c.seconds()
	if c.runs != nil {
		c.runs.Stop()
	}
	c.from, c.runs = 0, nil
	return ran
}

func minutes(seconds int) string { return fmt.Sprintf("%d:%02d", seconds/60, seconds%60) }

// breaths counts breaths by tapping: the first tap begins, each further one is a breath. One after the
// end does nothing: it is the hand that goes on.
func (v *easeView) breaths() {
	if !v.begin() {
		return
	}
	f := particulars.NewSideForm(v.page.window)
	whole := v.page.window.Tables().Value(knowledge.ValueBreathsCount)
	in, counted := knowledge.Untouched, welfare.Breaths{}
	said := widgets.Para(v.say("ease.count-begin"), look.Figure, look.Ink)
	c := &clock{view: v}
	show := func(seconds int) {
		said.SetText(v.say("ease.counting", map[string]any{"Count": counted.Count, "Time": minutes(seconds)}))
		f.Refresh()
	}
	stop := func() {
		if c.from == 0 {
			return
		}
		counted.Seconds = c.end()
		said.SetText(v.say("ease.counted", map[string]any{"Count": counted.Count, "Seconds": counted.Seconds}))
		f.Refresh()
	}
	c.tick = func(seconds int) {
		if show(seconds); seconds >= whole {
			stop()
		}
	}
	tap := func() {
		switch {
		case c.from > 0:
			counted.Count++
			show(c.seconds())
		case counted.Seconds == 0:
			counted = welfare.Breaths{}
			c.begin()
		}
	}
	anew := func() {
		c.end()
		counted = welfare.Breaths{}
		said.SetText(v.say("ease.count-begin"))
		f.Refresh()
	}
	few := v.settings("field.setting", in, nil, func(s knowledge.Setting) { in = s })
	f.Command = func(a place.Answer) (model.Command, error) {
		stop()
		about, _, _, err := v.about(f, nil, a)
		if counted.Seconds == 0 {
			return nil, &model.Refusal{Field: "breaths", Reason: "breaths.not-counted", Answer: model.Mend}
		}
		b := counted
		return welfare.Observe{Tables: v.page.window.Tables(), About: about, Observation: welfare.Observation{Setting: in, Breaths: &b, Note: f.Text("note")}}, err
	}
	f.Chosen = func() string { return fmt.Sprint(in, counted) }
	f.Keys = func() fyne.Focusable { return nil }
	button := widgets.NewPress(v.say("ease.tap"), widgets.MiddleUpright(widgets.Para(v.say("ease.tap"), look.Figure, look.Ink).Centred()), tileGround, tap)
	v.build(f, "ease.act.breaths", nil, widgets.Para(v.say("ease.breaths-how", map[string]any{"Seconds": whole}), look.Note, look.Soft), said,
		widgets.Fix(0, 96, button), widgets.Fix(0, 36, widgets.RowFill(look.S8, widgets.GrowBy(1, widgets.Button(widgets.Plain, widgets.Act{Label: v.say("ease.stop-count"), Do: stop})),
			widgets.GrowBy(1, widgets.Button(widgets.Plain, widgets.Act{Label: v.say("ease.count-anew"), Do: anew})))), few.Container, v.day(f, nil), f.Field("note", "", widgets.FieldOptions{Rows: 2}))
	v.show(f, func(r rune) bool {
		switch r {
		case ' ', 'b':
			tap()
		case '0':
			stop()
		default:
			return false
		}
		return true
	}, func() { c.end() })
}

// looksOfSheet is how many looks a sheet has, one each minute. Source: common practice, no source.
const looksOfSheet = 10

// scans is a sheet with a running clock: one look each minute, one sign for each.
func (v *easeView) scans() {
	if !v.begin() {
		return
	}
	f := particulars.NewSideForm(v.page.window)
	var all []welfare.Scan
	t := v.page.window.Text()
	said, list := widgets.Para(v.say("ease.scan-begin"), look.BodyBold, look.Ink), widgets.Stack()
	s := &signs{view: v, setting: knowledge.Untouched, box: widgets.Stack()}
	c := &clock{view: v}
	show := func(seconds int) {
		next := len(all) * 60
		key := "ease.scan-wait"
		switch {
		case len(all) == looksOfSheet:
			key = "ease.scan-done"
		case seconds >= next:
			key = "ease.scan-now"
		}
		said.SetText(v.say(key, map[string]any{"Time": minutes(seconds), "Look": len(all) + 1, "Of": looksOfSheet, "At": minutes(next)}))
		list.Objects = []fyne.CanvasObject{v.looks(all)}
		list.Refresh()
		f.Refresh()
	}
	c.tick = show
	take := func(id knowledge.SignID) {
		if c.from == 0 && len(all) == 0 {
			c.begin()
		}
		seconds := c.seconds()
		if len(all) == looksOfSheet || seconds < len(all)*60 {
			return // its minute has not come
		}
		all = append(all, welfare.Scan{After: seconds, Sign: id})
		if show(seconds); len(all) == looksOfSheet {
			c.end()
		}
	}
	s.pressed = take
	s.show()
	none := widgets.Finding("0", v.say("ease.none"), 0, func() { take("") })
	few := v.settings("field.setting", s.setting, nil, func(in knowledge.Setting) {
		s.setting = in
		s.show()
		f.Refresh()
	})
	f.Command = func(a place.Answer) (model.Command, error) {
		about, _, _, err := v.about(f, nil, a)
		o := welfare.Observation{Setting: s.setting, Scans: all, Note: f.Text("note")}
		o.None = len(all) > 0 && len(o.Seen()) == 0
		return welfare.Observe{Tables: v.page.window.Tables(), About: about, Observation: o}, err
	}
	f.Chosen = func() string { return fmt.Sprint(s.setting, all) }
	f.Keys = func() fyne.Focusable { return nil }
	v.build(f, "ease.act.scans", nil, widgets.Para(t.Say("ease.scans-how", wording.Gaps{"Of": looksOfSheet}), look.Note, look.Soft), said, list, few.Container, none, s.box, v.day(f, nil), f.Field("note", "", widgets.FieldOptions{Rows: 2}))
	v.show(f, func(r rune) bool {
		if r == '0' {
			take("")
			return true
		}
		return s.key(r)
	}, func() { c.end() })
}

// looks are the looks of a sheet, one below the other.
func (v *easeView) looks(all []welfare.Scan) fyne.CanvasObject {
	lines := widgets.Col(0)
	for _, scan := range all {
		word := v.say("ease.none")
		if scan.Sign != "" {
			word = v.say("sign." + string(scan.Sign))
		}
		lines.Add(widgets.Para(minutes(scan.After)+"  "+word, look.Note, look.Soft))
	}
	return lines
}

// editEase opens an entry of how the animal is on its own page.
func (p *Page) editEase(d model.Document) {
	e, known, err := welfare.Decode(d)
	if err != nil || !known || p.window.ReadOnly() {
		p.window.Tell(kindName(p.window.Text(), d.Kind), p.say("animal.day.newer"))
		return
	}
	p.turn(PageEase)
	p.ease.correct(e)
}
