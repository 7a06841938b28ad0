package animal

import (
	"strings"

	"coilward/model"
	"coilward/model/husbandry"
	"coilward/model/wording"
	"coilward/ui/particulars"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// kindStay is what the days call a stay, which is a document of its own and no
// entry.
const kindStay = "stay"

// tellStay says where the animal moved, and where it lived before.
func (l *Life) tellStay(t *wording.Text, d model.Document) (told, error) {
	s, err := husbandry.DecodeStay(d)
	if err != nil {
		return told{}, err
	}
	title := "animal.day.moved"
	before, after := "", ""
	stays := l.house.Stays(l.ID)
	for i, o := range stays {
		switch {
		case o.ID != s.ID:
			continue
		case i == 0 || stays[i-1].Until.Day() != o.From.Day():
			title = "animal.day.moved-in"
		default:
			before = t.Say("animal.day.moved-from", wording.Gaps{"Place": l.house.Title(stays[i-1].Place)})
		}
		if !o.Until.IsZero() && (i == len(stays)-1 || stays[i+1].From.Day() != o.Until.Day()) {
			after = t.Say("animal.day.lived-until", wording.Gaps{"Day": t.DayShort(o.Until.Day())})
		}
	}
	return told{title: t.Say(title, wording.Gaps{"Place": l.house.Title(s.Place)}), detail: joined(before, after, firstLine(s.Note))}, nil
}

// changeStay puts right from when to when the animal lived in a place, or takes
// the stay out.
func (p *Page) changeStay(d model.Document) {
	stay, err := husbandry.DecodeStay(d)
	if err != nil || p.window.ReadOnly() {
		p.window.Tell(kindName(p.window.Text(), kindStay), p.say("animal.day.newer"))
		return
	}
	s, t := newWordSheet(p), p.window.Text()
	until := ""
	if !stay.To.IsZero() {
		until = t.DayShort(stay.To.Day())
	}
	from, to, note := s.field("from", t.DayShort(stay.From.Day()), p.say("animal.stay.from"), 1), s.field("to", until, p.say("animal.stay.to"), 1), s.field("note", stay.Note, p.say("field.note"), 2)
	remove := widgets.Button(widgets.Quiet, widgets.Act{Label: p.say("animal.stay.remove"), Icon: "bin", Do: func() {
		s.keep(func(place.Answer) (model.Command, error) { return husbandry.RemoveStay{ID: stay.ID}, nil })
	}})
	s.show(p.say("animal.stay.title", map[string]any{"Place": p.life.house.Title(stay.Place)}), p.say("animal.stay.how"), p.say("particulars.keep"), "from", func(a place.Answer) (model.Command, error) {
		c := husbandry.ChangeStay{ID: stay.ID, Base: stay.Revision, Place: stay.Place, Note: strings.TrimSpace(s.fields["note"].Text()), By: p.window.By(), Confirmed: a.Confirmed}
		var err error
		if c.From, err = p.momentTyped("from", s.fields["from"].Text(), stay.From); err != nil {
			return nil, err
		}
		if typed := s.fields["to"].Text(); strings.TrimSpace(typed) != "" {
			c.To, err = p.momentTyped("to", typed, stay.To)
		}
		return c, err
	}, from, to, note, remove)
}

// momentTyped is the day that was typed as a moment: the one before where its day
// is the same, else some time on that day.
func (p *Page) momentTyped(field, typed string, before model.Moment) (model.Moment, error) {
	day, err := p.window.Text().ParseDay(typed, p.today)
	if err != nil {
		return model.Moment{}, particulars.At(field, err)
	}
	if !before.IsZero() && before.Day() == day {
		return before, nil
	}
	return model.MomentOn(p.window.Now(), day, model.Noon, model.ToDay), nil
}
