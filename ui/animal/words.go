package animal

import (
	"errors"
	"slices"
	"strconv"
	"strings"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/exam"
	"coilward/model/knowledge"
	"coilward/model/powercut"
	"coilward/model/welfare"
	"coilward/model/wording"
	"coilward/ui/particulars"
)

// told is an entry in words, as one line of the days.
type told struct {
	icon, title, detail, side string
	level                     knowledge.Level
	detected                  bool // something was, in this sample
	photo                     model.PhotoID
}

// iconOf is the sign of a kind of entry.
func iconOf(kind string) string {
	icons := map[string]string{
		care.KindWeight: "weight", care.KindMeal: "meal", care.KindShed: "shed", care.KindWaste: "waste",
		care.KindMiteLook: "mite", care.KindNote: "note", care.KindPhoto: "camera", exam.KindCheck: "check", powercut.Kind: "caution", kindStay: "shelf", kindSample: "tube", kindCourse: "dose", kindDose: "dose", kindVisit: "vet", care.KindMiteTreatment: "mite",
		care.KindBlue: "shed", care.KindClutch: "clutch", care.KindBath: "clean", care.KindFluids: "vet", welfare.KindObservation: "eye", welfare.KindHandling: "person", welfare.KindChange: "note",
	}
	if icon, known := icons[kind]; known {
		return icon
	}
	return "more"
}

// kinds are all kinds of entry that this version knows, in the order in which
// they are offered.
func kinds() []string { return append([]string{exam.KindCheck}, care.Kinds()...) }

// kindName is what a kind of entry is called.
func kindName(t *wording.Text, kind string) string {
	if slices.Contains([]string{kindStay, kindSample, kindCourse, kindDose, kindVisit, powercut.Kind}, kind) || isEase(kind) || slices.Contains(kinds(), kind) {
		return t.Say("kind." + kind)
	}
	return t.Say("animal.day.unknown-kind", wording.Gaps{"Kind": kind})
}

// tell puts an entry into words.
func (l *Life) tell(t *wording.Text, entry int) told {
	d := &l.Days.Entries[entry]
	line, err := l.tellBody(t, entry)
	switch {
	case errors.Is(err, model.ErrNewer):
		line = told{title: kindName(t, d.Kind), detail: t.Say("animal.day.newer")}
	case err != nil:
		line = told{title: kindName(t, d.Kind), detail: t.Say("animal.day.unreadable")}
	}
	line.icon = iconOf(d.Kind)
	if on, corrected := l.corrected[model.EntryID{ID: d.ID}]; corrected {
		line.detail = joined(line.detail, t.Say("animal.day.corrected", wording.Gaps{"Day": t.DayShort(on.Day())}))
	}
	if by := l.By(t, d.By); by != "" {
		line.detail = joined(line.detail, by)
	}
	return line
}

// joined puts pieces of a line side by side, the empty ones left out.
func joined(pieces ...string) string {
	return strings.Join(slices.DeleteFunc(pieces, func(s string) bool { return s == "" }), " · ")
}

func (l *Life) tellBody(t *wording.Text, entry int) (told, error) {
	d := &l.Days.Entries[entry]
	if d.Kind == exam.KindCheck {
		c, err := exam.ReadCheck(*d)
		return tellCheck(t, c, c.Extent(l.tables)), err
	}
	if d.Kind == kindStay {
		return l.tellStay(t, *d)
	}
	switch d.Kind {
	case powercut.Kind:
		return tellPowerCut(t, *d)
	case kindCourse:
		return l.tellCourse(t, *d)
	case kindDose:
		return tellDose(t, *d)
	case kindVisit:
		return l.tellVisit(t, *d)
	}
	if d.Kind == kindSample {
		return tellSample(t, l.tables, *d)
	}
	if isEase(d.Kind) {
		return tellEase(t, *d)
	}
	e, known, err := care.Decode(*d)
	if err != nil {
		return told{}, err
	}
	if !known {
		return told{title: kindName(t, d.Kind), detail: t.Say("animal.day.unknown")}, nil
	}
	switch b := e.Body.(type) {
	case care.Weight:
		return l.tellWeight(t, entry, b), nil
	case care.Meal:
		return tellMeal(t, b), nil
	case care.Shed:
		line := tellShed(t, b)
		line.detail = joined(l.shedSince(t, entry), line.detail)
		return line, nil
	case care.Waste:
		return tellWaste(t, b), nil
	case care.MiteLook:
		return tellMiteLook(t, b), nil
	case care.MiteTreatment:
		return told{title: kindName(t, d.Kind), detail: joined(b.What, b.Advised)}, nil
	case care.Blue:
		return told{title: kindName(t, d.Kind), detail: firstLine(b.Note), photo: first(b.Photos)}, nil
	case care.Clutch:
		return tellClutch(t, b), nil
	case care.Bath:
		return tellBath(t, b), nil
	case care.Fluids:
		return told{title: kindName(t, d.Kind), detail: joined(b.What, b.Advised, firstLine(b.Note)), photo: first(b.Photos)}, nil
	case care.Note:
		return told{title: firstLine(b.Text), photo: first(b.Photos)}, nil
	case care.Photo:
		return told{title: t.Count("animal.day.photos", len(b.Photos)), detail: joined(l.shows(t, b), firstLine(b.Caption)), photo: first(b.Photos)}, nil
	}
	return told{title: kindName(t, d.Kind)}, nil
}

func firstLine(s string) string {
	line, _, _ := strings.Cut(strings.TrimSpace(s), "\n")
	return line
}

// shows is what photos show, the standard pose or a finding, and who said when they
// were taken; what is not known is left out.
func (l *Life) shows(t *wording.Text, p care.Photo) string {
	var pose, finding, dated string
	if p.Pose != "" {
		pose = t.Say("pose." + string(p.Pose))
	}
	for _, problem := range l.Problems {
		if problem.ID == p.Problem {
			finding = t.Say("finding." + string(problem.What))
		}
	}
	if p.Dated != care.ByKeeper {
		dated = t.Say("photos.dated." + string(p.Dated))
	}
	return joined(pose, finding, dated)
}

func first(photos []model.PhotoID) model.PhotoID {
	if len(photos) == 0 {
		return ""
	}
	return photos[0]
}

func (l *Life) tellWeight(t *wording.Text, entry int, w care.Weight) told {
	d := &l.Days.Entries[entry]
	change := ""
	if before, found := l.weightBefore(entry); found {
		change = since(t, particulars.Change(t, w.Mass, before.Mass), before.At, d.At, t.DayShort)
	}
	gut := ""
	if w.Gut != care.GutUnknown {
		gut = t.Say("care.gut." + string(w.Gut))
	}
	return told{title: t.Say("animal.day.weighed"), detail: joined(l.doubt(t, w, d.At), change, gut, firstLine(w.Note)), side: t.Mass(w.Mass), photo: first(w.Photos)}
}

// since says what changed from one weighing to another: by its day, and by its
// time where both are of one day.
func since(t *wording.Text, change string, before, at model.Moment, day func(model.Day) string) string {
	switch {
	case before.Day() != at.Day():
		return t.Say("animal.weight.than", wording.Gaps{"Change": change, "Day": day(before.Day())})
	case before.Precision == model.ToMinute:
		return t.Say("animal.weight.than-time", wording.Gaps{"Change": change, "Time": t.Time(before)})
	}
	return t.Say("animal.weight.than-earlier", wording.Gaps{"Change": change})
}

// share is how much of the mass before the change is, such as "−2.5 %".
func share(t *wording.Text, now, before model.Mass) string {
	if before.IsZero() {
		return ""
	}
	hundredths := int((now.Milligrams - before.Milligrams) * 10_000 / before.Milligrams)
	switch {
	case hundredths < 0:
		return "−" + t.Percent(-hundredths)
	case hundredths > 0:
		return "+" + t.Percent(hundredths)
	}
	return t.Percent(0)
}

// prey names what was offered, such as "2 × rat · weaner · thawed".
func prey(t *wording.Text, m care.Meal) string {
	what := ""
	if m.Prey != "" {
		what = t.Say("care.prey." + string(m.Prey))
	}
	if m.Count > 1 {
		what = strings.TrimSpace(strconv.Itoa(m.Count) + " × " + what)
	}
	size, state := "", ""
	if m.Size != "" {
		size = t.Say("care.prey-size." + string(m.Size))
	}
	if m.State != "" {
		state = t.Say("care.prey-state." + string(m.State))
	}
	return joined(what, size, state)
}

func tellMeal(t *wording.Text, m care.Meal) told {
	side := ""
	if !m.Each.IsZero() {
		side = t.Mass(m.Total())
	}
	up := ""
	if !m.BroughtUp.IsZero() {
		up = t.Say("animal.day.brought-up", wording.Gaps{"Day": t.Date(m.BroughtUp)})
	}
	return told{title: t.Say("animal.day.meal-" + string(m.Outcome)), detail: joined(particulars.Capital(prey(t, m)), up, firstLine(m.Note)), side: side, photo: first(m.Photos)}
}

func tellShed(t *wording.Text, s care.Shed) told {
	var stuck []string
	if s.StuckEyeCaps == care.Yes {
		stuck = append(stuck, t.Say("animal.day.stuck-eye-caps"))
	}
	if s.StuckTailTip == care.Yes {
		stuck = append(stuck, t.Say("animal.day.stuck-tail-tip"))
	}
	skin := ""
	if s.Skin != care.SkinNotLooked {
		skin = t.Say("care.skin." + string(s.Skin))
	}
	return told{title: t.Say("kind.shed"), detail: joined(append(append([]string{skin}, stuck...), firstLine(s.Note))...), photo: first(s.Photos)}
}

func tellWaste(t *wording.Text, w care.Waste) told {
	name := func(family string, traits []care.Trait) string {
		var words []string
		for _, trait := range traits {
			words = append(words, t.Say(family+string(trait)))
		}
		return strings.Join(words, ", ")
	}
	return told{title: t.Say("kind.waste"), detail: joined(name("care.faeces.", w.Faeces), name("care.urates.", w.Urates), firstLine(w.Note)), photo: first(w.Photos)}
}

// tellMiteLook names how many mites were seen, and where was looked: none seen
// is not none there.
func tellMiteLook(t *wording.Text, m care.MiteLook) told {
	where := make([]string, len(m.Where))
	for i, w := range m.Where {
		where[i] = t.Say("care.mites.where." + string(w))
	}
	return told{title: t.Say("animal.day.mites", wording.Gaps{"Seen": t.Say("care.mites." + strconv.Itoa(int(m.Grade)))}),
		detail: joined(particulars.Capital(strings.Join(where, ", ")), firstLine(m.Note)), photo: first(m.Photos)}
}

// tellCheck names how much was looked at, what was found, and how urgent it was.
func tellCheck(t *wording.Text, c exam.Check, extent exam.Extent) told {
	line := told{title: t.Say("kind.check"), level: c.Verdict.Level}
	fresh := 0
	var names []string
	for _, change := range c.Changes() {
		name := t.Say("finding." + string(change.What))
		switch change.Standing {
		case exam.New, exam.CameBack:
			fresh++
		case exam.Unasked:
			continue
		}
		if change.Standing != exam.New {
			name += ": " + particulars.Lower(t.Say("standing."+string(change.Standing)))
		}
		names = append(names, name)
	}
	if fresh > 0 {
		line.title = t.Count("animal.day.check-findings", fresh)
	} else if len(names) == 0 {
		line.title = t.Say("animal.day.check-nothing")
	}
	if extent == exam.BriefLook {
		line.title = t.Say(extent.Key())
	}
	line.detail = strings.Join(names, "; ")
	for _, f := range c.Findings {
		if line.photo == "" {
			line.photo = first(f.Photos)
		}
	}
	return line
}
