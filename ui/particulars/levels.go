package particulars

import (
	"slices"

	"coilward/model/history"
	"coilward/model/knowledge"
	"coilward/model/weight"
	"coilward/model/wording"
	"coilward/ui/widgets"
)

// Steps are the steps of urgency, the lightest first.
func Steps() []knowledge.Level {
	return []knowledge.Level{knowledge.NoAction, knowledge.LookAgain, knowledge.VetWithinDays, knowledge.EmergencyToday}
}

// Urgency is the mark of a level; what no rule speaks of has that of "seen
// often".
func Urgency(l knowledge.Level) widgets.Urgency {
	return widgets.Urgency(max(0, slices.Index(Steps(), l)))
}

// Unfed says of a young animal since when it has kept no meal.
func Unfed(t *wording.Text, u history.Unfed) string {
	key := "stands.unfed"
	if u.Meal.IsZero() {
		key = "stands.never-fed"
	}
	return t.Say(key, wording.Gaps{"Day": u.Since})
}

// Loss says what the weights tell of a loss, and what is to be done about it.
func Loss(t *wording.Text, tables *knowledge.Tables, l weight.Loss) string {
	said := Capital(LossBriefly(t, l)) + ". "
	if l.Reason == weight.AboveLine {
		said += t.Say("loss.line-from") + " "
	}
	if l.Doubtful > 0 {
		said += t.Count("loss.doubtful", l.Doubtful) + " "
	}
	if l.ForVet() {
		return said + t.Say("stands.loss-how")
	}
	return said + t.Count("loss.look", tables.Value(knowledge.ValueWeighLosing))
}

// LossBriefly says what the weights tell, without a capital.
func LossBriefly(t *wording.Text, l weight.Loss) string {
	return t.Say("loss."+l.Reason.String(), wording.Gaps{"Share": t.Percent(l.Share), "Median": l.Held.Mass, "Day": l.HeldDay(), "Line": t.Percent(l.Line), "Since": l.HeldDay(), "Month": t.Percent(-l.Trend.Share)})
}
