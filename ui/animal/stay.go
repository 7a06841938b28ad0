package animal

import (
	"coilward/model"
	"coilward/model/husbandry"
	"coilward/model/wording"
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
