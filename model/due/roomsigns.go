package due

import (
	"slices"
	"strconv"
	"strings"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/history"
	"coilward/model/knowledge"
)

// told is what an animal tells the others in its room: the days on which it refused
// food, and on which a sign of the airways was seen, of those that count; 0: none. The
// newest offer alone tells whether it refuses.
func (f Facts) told(t *knowledge.Tables) (refused, breathes model.Day) {
	since := f.Now.Day() - model.Day(t.Value(knowledge.ValueRoomDays)) + 1
	if e, meal, offered := f.lastOffer(); offered && meal.Outcome == care.Refused && e.At.Day() >= since {
		refused = e.At.Day()
	}
	for _, p := range f.Standing.Parts {
		for _, s := range p.Verdict.Signs {
			if p.From != history.FromGone && s.Seen >= since && slices.Contains(t.Cluster(knowledge.Breathing), s.What) {
				breathes = max(breathes, s.Seen)
			}
		}
	}
	if b := f.Standing.Breathing; len(b.Signs) > 0 && b.At.Day() >= since {
		breathes = max(breathes, b.At.Day())
	}
	return refused, breathes
}

// inRoom begins the cause of what is due for a room because several in it tell the same.
const inRoom = "room/"

// roomSigns makes a look at the room due, once, where several of those who live in it
// refused food, or show a sign of the airways, within the days that the tables say. It
// names who, and no cause.
func roomSigns(t *knowledge.Tables, r room) (all []Obligation) {
	for _, sign := range []struct {
		name string
		few  knowledge.ValueID
		day  func(mited) model.Day
	}{
		{"refused", knowledge.ValueRoomRefused, func(m mited) model.Day { return m.refused }},
		{"airway", knowledge.ValueRoomAirway, func(m mited) model.Day { return m.breathes }},
	} {
		var who, names []string
		var first, last model.Day
		for _, id := range r.living {
			m := r.seen[id]
			day := sign.day(m)
			if day == 0 || m.loaned() {
				continue
			}
			if first == 0 || day < first {
				first = day
			}
			last = max(last, day)
			who, names = append(who, id.String()), append(names, m.infested.Name)
		}
		if len(who) < t.Value(sign.few) {
			continue
		}
		slices.Sort(who)
		slices.Sort(names)
		o := Obligation{Key: Key{Subject: r.place.Subject(), Job: RoomLook, Cause: inRoom + sign.name + "/" + strings.Join(who, "+")}, Level: knowledge.LookAgain,
			Since: first, From: last, By: last, Act: ActRoom, Caution: "due.caution.room"}
		gaps := map[string]model.Gap{"Who": model.TextGap(strings.Join(names, ", ")), "Count": model.TextGap(strconv.Itoa(len(who))), "Days": model.CountGap(t.Value(knowledge.ValueRoomDays))}
		if sign.name == "airway" {
			o.Reasons = why("due.why.room-airway", gaps)
		} else {
			o.Reasons = why("due.why.room-refused", gaps)
		}
		all = append(all, o)
	}
	return all
}
